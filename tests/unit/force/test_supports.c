/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Arms, skids and keel rollers of every shape: gradients, energy, symmetry on random states of each. Grade: closed form. */
#include "tests/unit/force/support_rigs.h"
#include "lib/force/roller.h"
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>
#include <string.h>

static const double degree = 0.017453292519943295;
enum { DRAWS = 40 };

/* Differences with steps of 1 um cannot be taken where a place is pressed by less than 20 um. */
static int some_just_touches(const fixture_force *force, const fixture_state *state)
{
    enum { CHANNELS = 8, SQUASH = 3 };
    static double channels[CHANNELS * DD_ROLLERS];
    fixture_channels(force, state, channels);
    for (int i = 0; i < force->model.rig->roller_count; i++)
        if (channels[CHANNELS * i + SQUASH] > 0 && channels[CHANNELS * i + SQUASH] < 0.02) return 1;
    return 0;
}

typedef double check(const fixture_force *force, const fixture_state *state);

/* Of a state and of one 20 um aside, 10 um higher and 5 % slower, since differences across a corner of the law say nothing: the curvature
   of a C1 ramp jumps there. A wrong derivative is wrong in both. */
static double off_corners(check *measure, const fixture_force *force, const fixture_state *state)
{
    double error = measure(force, state);
    if (error < 1e-7) return error;
    fixture_state other = *state;
    other.pose.position.y += 2e-5, other.pose.position.z += 1e-5;
    for (int i = 0; i < 6; i++) other.twist[i] *= 0.95;
    return fmin(error, measure(force, &other));
}

static void over_rigs(check *measure, double tolerance)
{
    int faults = 0;
    dd_hull *hulls[2] = {fixture_wedge(20 * degree), fixture_curved()};
    for (int h = 0; h < 2; h++)
        for (int r = 0; support_rig_names[r]; r++) {
            static dd_rig rig;
            support_rig(&rig, support_rig_names[r], 20 * degree);
            fixture_force f = fixture_prepare(&dd_force_roller, hulls[h], &rig);
            fixture_random random = {4712};
            for (const dd_regime *regime = f.kind->regimes; regime->name; regime++) {
                double worst = 0;
                int loaded = 0, at = -1;
                for (int i = 0; i < DRAWS; i++) {
                    fixture_state s = fixture_draw(&f, regime, &random);
                    double error = some_just_touches(&f, &s) ? 0 : off_corners(measure, &f, &s);
                    if (!(error <= worst)) worst = error, at = i;
                    loaded += fabs(fixture_evaluate(&f, &s).load.hull[2]) > 0;
                }
                if (strcmp(regime->name, "open") == 0 ? loaded > 0 : loaded < DRAWS / 4) faults++, print_error("loaded %d: ", loaded);
                if (!(worst < tolerance)) faults++, print_error("draw %d: ", at);
                print_message("    hull %d, %s, %s: %.2g\n", h, support_rig_names[r], regime->name, worst);
            }
            f.kind->free(f.instance);
        }
    dd_hull_free(hulls[0]);
    dd_hull_free(hulls[1]);
    assert_int_equal(faults, 0);
}

/* K, D, the gradients by memory, and of the memories' rates, against five-point differences, 2e-6 of the largest entry of each:
   the differences' own error at h = 1e-6 m and the curvature jumps of the C1 ramps. */
static void gradients_are_exact(void **state)
{
    (void)state;
    over_rigs(fixture_gradient_error, 2e-6);
}

/* Load = -d(energy)/d(displacement) with arms at rest and bristles straight: 2e-7 of the largest load (differences). */
static double energy_at_rest(const fixture_force *force, const fixture_state *state)
{
    fixture_state s = *state;
    memset(s.twist, 0, sizeof s.twist);
    for (int m = 0; m < dd_roller_wet_first(force->instance); m++) s.memory[m] = 0;
    support_rest(force, &s);
    /* An arm met end-on swings until next to nothing bears: a squash of micrometres, across whose touch no difference can be taken. */
    const dd_load at_rest = fixture_evaluate(force, &s).load;
    const double bears = fabs(at_rest.hull[0]) + fabs(at_rest.hull[1]) + fabs(at_rest.hull[2]);
    return some_just_touches(force, &s) || (bears > 0 && bears < 1) ? 0 : fixture_energy_error(force, &s);
}
static void load_is_the_energys_gradient(void **state)
{
    (void)state;
    over_rigs(energy_at_rest, 2e-7);
}

/* Power + d(energy)/dt + heat = 0 with arms turning at the rate their moments give: 2e-6 of the largest part (differences over 1 us). */
static void power_balances(void **state)
{
    (void)state;
    over_rigs(fixture_power_error, 2e-6);
}

/* From straight bristles nothing gives energy: heat >= 0. Tolerance: none. */
static double negative_heat(const fixture_force *force, const fixture_state *state)
{
    fixture_state s = *state;
    for (int m = 0; m < dd_roller_wet_first(force->instance); m++) s.memory[m] = 0;
    return fmax(0, -fixture_evaluate(force, &s).load.heat);
}
static void contacts_and_arms_are_passive(void **state)
{
    (void)state;
    over_rigs(negative_heat, 1e-300);
}

/* The place on the other side of each, and the arm. */
static int twin(const dd_rig *rig, int index)
{
    const dd_roller *a = &rig->rollers[index];
    int best = -1;
    double least = 1e-9;
    for (int i = 0; i < rig->roller_count; i++) {
        const dd_roller *b = &rig->rollers[i];
        double apart = fabs(a->centre.x - b->centre.x) + fabs(a->centre.y + b->centre.y) + fabs(a->centre.z - b->centre.z);
        if (apart < least) least = apart, best = i;
    }
    return best;
}

static fixture_state mirrored(const fixture_force *f, const fixture_state *s)
{
    static const double sign[6] = {1, -1, 1, -1, 1, -1};
    const dd_roller_instance *instance = f->instance;
    const dd_rig *rig = instance->rig;
    fixture_state m = *s;
    m.pose.position.y = -s->pose.position.y;
    m.pose.attitude.x = -s->pose.attitude.x, m.pose.attitude.z = -s->pose.attitude.z; /* the axis is an axial vector */
    for (int i = 0; i < 6; i++) m.twist[i] = sign[i] * s->twist[i];
    for (int i = 0; i < rig->roller_count; i++) {
        int other = twin(rig, i);
        assert_true(other >= 0);
        m.memory[2 * other] = -s->memory[2 * i]; /* every axle points to the trailer's +y */
        m.memory[2 * other + 1] = s->memory[2 * i + 1];
        if (rig->rollers[i].arm > 0)
            m.memory[dd_roller_arm_first(instance) + rig->rollers[other].arm - 1] =
                s->memory[dd_roller_arm_first(instance) + rig->rollers[i].arm - 1];
    }
    return m;
}

/* The mirrored state bears the mirrored load: 1e-9 of the largest (rounding, and the arms' rate solved to rounding). */
static double asymmetry(const fixture_force *f, const fixture_state *s)
{
    static const double sign[6] = {1, -1, 1, -1, 1, -1};
    fixture_state m = mirrored(f, s);
    fixture_result a = fixture_evaluate(f, s), c = fixture_evaluate(f, &m);
    double size = 1, error = 0;
    for (int i = 0; i < 6; i++) size = fmax(size, fabs(a.load.hull[i]));
    for (int i = 0; i < 6; i++) error = fmax(error, fabs(c.load.hull[i] - sign[i] * a.load.hull[i]));
    return error / size;
}
static void port_and_starboard_are_alike(void **state)
{
    (void)state;
    over_rigs(asymmetry, 1e-9);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(gradients_are_exact),           cmocka_unit_test(load_is_the_energys_gradient),
        cmocka_unit_test(power_balances),                cmocka_unit_test(contacts_and_arms_are_passive),
        cmocka_unit_test(port_and_starboard_are_alike),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
