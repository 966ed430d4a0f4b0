/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What every force on the free hull must obey, from the list alone and without a reference number. Grade: closed form. */
#include "lib/base/sources.h"
#include "tests/unit/force/whole.h"
#include <unistd.h>

enum { DRAWS = 60 };

static double size_of(const dd_load *load)
{
    double size = 1;
    for (int i = 0; i < 6; i++)
        size = fmax(size, fabs(load->hull[i]));
    return size;
}

/* Runs check on random states of every regime of every force that acts on the hull from world or water. */
typedef void (*state_check)(const whole_force *force, const whole_state *state, const whole_result *now);
static void over_hull_forces_at(const dd_model *model, int zero, double time, state_check check)
{
    int kinds = 0;
    for (int i = 0; i < dd_force_count(); i++) {
        if (dd_force_at(i)->acts_on != DD_ACTS_ON_HULL)
            continue;
        whole_force force = whole_prepare(dd_force_at(i), model, zero);
        if (force.instance == NULL && force.kind == &dd_force_wind && !(model->water.wind.speed > 0))
            continue;
        if (force.instance == NULL && force.kind == &dd_force_ground && model->ramp == NULL)
            continue;
        assert_non_null(force.instance);
        force.time = time;
        uint64_t random = 7;
        for (const dd_regime *regime = force.kind->regimes; regime->name != NULL; regime++)
            for (int draw = 0; draw < DRAWS; draw++) {
                whole_state state = whole_draw(&force, regime, &random);
                whole_result now = whole_evaluate(&force, &state);
                check(&force, &state, &now);
            }
        whole_release(&force);
        kinds++;
    }
    assert_true(kinds >= 6);
}

static void over_hull_forces(const dd_model *model, int zero, state_check check) { over_hull_forces_at(model, zero, 0, check); }

/* Work done on the hull + stored energy + heat = 0, and heat >= 0: a passive force never adds energy. In still water.
   Tolerance 1e-8 of the largest part: rounding of the five-point difference over 1 us. */
static void balance(const whole_force *force, const whole_state *state, const whole_result *now)
{
    if (!force->kind->passive)
        return;
    const double h = 1e-6, steps[4] = {h, -h, 2 * h, -2 * h};
    double energy[4], power = 0, size = 1e-3;
    for (int i = 0; i < 4; i++) {
        whole_state other = *state;
        whole_displace(&other, state->motion.twist, steps[i]);
        energy[i] = whole_evaluate(force, &other).load.energy;
    }
    for (int i = 0; i < 6; i++) {
        power += now->load.hull[i] * state->motion.twist[i];
        size = fmax(size, fabs(now->load.hull[i] * state->motion.twist[i]));
    }
    const double stored = (8 * (energy[0] - energy[1]) - (energy[2] - energy[3])) / (12 * h);
    CHECK_NEAR(power + stored + now->load.heat, 0, 1e-8 * (size + fabs(now->load.energy)), force->kind->name);
    assert_true(now->load.heat >= -1e-12 * size);
}
/* The same in water that moves: what the water feeds in is heat below zero; the level at the time of the displaced state. */
static void moving_balance(const whole_force *force, const whole_state *state, const whole_result *now)
{
    if (force->kind != &dd_force_buoyancy && force->kind != &dd_force_hull_weight)
        return; /* the others take the water's velocity: their power against the hull holds by lib/motion's books */
    const double h = 1e-6, steps[4] = {h, -h, 2 * h, -2 * h};
    double energy[4], power = 0, size = 1e-3;
    for (int i = 0; i < 4; i++) {
        whole_state other = *state;
        whole_force later = *force;
        later.time += steps[i];
        whole_displace(&other, state->motion.twist, steps[i]);
        energy[i] = whole_evaluate(&later, &other).load.energy;
    }
    for (int i = 0; i < 6; i++) {
        power += now->load.hull[i] * state->motion.twist[i];
        size = fmax(size, fabs(now->load.hull[i] * state->motion.twist[i]));
    }
    const double stored = (8 * (energy[0] - energy[1]) - (energy[2] - energy[3])) / (12 * h);
    CHECK_NEAR(power + stored + now->load.heat, 0, 1e-8 * (size + fabs(now->load.energy)), force->kind->name);
}
static void moving_water_works_by_its_heat(void **state)
{
    (void)state;
    whole w;
    whole_create(&w, whole_hull(), 1, 0.4);
    whole_stir(&w);
    over_hull_forces_at(&w.model, 0, 11.3, moving_balance);
    whole_free(&w);
}

static void passive_forces_add_no_energy(void **state)
{
    (void)state;
    whole w;
    whole_create(&w, whole_hull(), 1, 0);
    over_hull_forces(&w.model, 0, balance);
    whole_free(&w);
}

/* At rest a force that stores energy is minus its gradient. Tolerance 1e-7 of the largest component: rounding. */
static void gradient(const whole_force *force, const whole_state *state, const whole_result *now)
{
    (void)now;
    whole_state still = *state;
    memset(&still.motion, 0, sizeof still.motion);
    memset(still.memory, 0, sizeof still.memory); /* a bent bristle is no stored energy */
    whole_result rest = whole_evaluate(force, &still);
    if (rest.load.energy == 0)
        return;
    for (int j = 0; j < 6; j++) {
        const double h = j < 3 ? 1e-5 : 2e-6, steps[4] = {h, -h, 2 * h, -2 * h};
        double energy[4], unit[6] = {0};
        unit[j] = 1;
        for (int i = 0; i < 4; i++) {
            whole_state other = still;
            whole_displace(&other, unit, steps[i]);
            energy[i] = whole_evaluate(force, &other).load.energy;
        }
        CHECK_NEAR(rest.load.hull[j], -(8 * (energy[0] - energy[1]) - (energy[2] - energy[3])) / (12 * h), 1e-7 * size_of(&rest.load),
                   force->kind->name);
    }
}
static void stored_energy_gives_the_force(void **state)
{
    (void)state;
    whole w;
    whole_create(&w, whole_hull(), 1, 0.4);
    over_hull_forces(&w.model, 0, gradient);
    whole_free(&w);
}

/* Port and starboard: the mirrored state in the mirrored stream has the mirrored load. Tolerance 1e-13 of the largest. */
static dd_model mirrored_model;
static const double across[6] = {1, -1, 1, -1, 1, -1};
static void mirror(const whole_force *force, const whole_state *state, const whole_result *now)
{
    whole_force other = whole_prepare(force->kind, &mirrored_model, 0);
    whole_state image = *state;
    image.pose.position.y = -image.pose.position.y;
    image.pose.attitude.x = -image.pose.attitude.x;
    image.pose.attitude.z = -image.pose.attitude.z;
    for (int i = 0; i < 6; i++)
        image.motion.twist[i] *= across[i];
    image.commands.helm = -image.commands.helm;
    image.commands.hand_line_at[1] = -image.commands.hand_line_at[1];
    if (image.commands.hand_line_to != DD_LINE_TO_BOW)
        image.commands.hand_line_to = DD_LINE_TO_PORT_CLEAT + DD_LINE_TO_STARBOARD_CLEAT - image.commands.hand_line_to;
    whole_result seen = whole_evaluate(&other, &image);
    for (int i = 0; i < 6; i++)
        CHECK_NEAR(seen.load.hull[i], across[i] * now->load.hull[i], 1e-12 * size_of(&now->load), force->kind->name);
    whole_release(&other);
}
static void port_and_starboard_are_alike(void **state)
{
    (void)state;
    whole w;
    whole_create(&w, synthetic_chine(DD_LINES_CURVED, 1200, dd_vec(2, 0, 0.6)), 1, 0.4);
    mirrored_model = w.model;
    mirrored_model.water.current = -0.4;
    mirrored_model.water.wind.toward *= -1;
    over_hull_forces(&w.model, 0, mirror);
    whole_free(&w);
}

/* The compass: in still open water the heading does not matter. Who pushes or pulls from the shore does not count. */
static void turn(const whole_force *force, const whole_state *state, const whole_result *now)
{
    if (force->kind == &dd_force_push || force->kind == &dd_force_hand_line)
        return;
    whole_state turned = *state;
    turned.pose.attitude = dd_quaternion_multiply((dd_quaternion){cos(0.6), 0, 0, sin(0.6)}, turned.pose.attitude);
    whole_result seen = whole_evaluate(force, &turned);
    for (int i = 0; i < 6; i++) /* 1e-12 of the largest: rounding */
        CHECK_NEAR(seen.load.hull[i], now->load.hull[i], 1e-12 * size_of(&now->load), force->kind->name);
}
static void heading_does_not_matter(void **state)
{
    (void)state;
    whole w;
    whole_create(&w, whole_hull(), 0, 0);
    over_hull_forces(&w.model, 0, turn);
    whole_free(&w);
}

/* The datum: water and hull 3 m higher change no load; only the weight's energy grows, by its weight times 3 m. */
static dd_model raised_model;
static void shift(const whole_force *force, const whole_state *state, const whole_result *now)
{
    whole_force other = whole_prepare(force->kind, &raised_model, 0);
    whole_state higher = *state;
    higher.pose.position.z += 3;
    higher.commands.hand_line_at[2] += 3;
    whole_result seen = whole_evaluate(&other, &higher);
    for (int i = 0; i < 6; i++) /* 1e-12 of the largest: rounding of 3 m + level */
        CHECK_NEAR(seen.load.hull[i], now->load.hull[i], 1e-12 * size_of(&now->load), force->kind->name);
    const double grown = force->kind == &dd_force_hull_weight ? 3 * dd_hull_mass(force->model->hull)->mass * DD_STANDARD_GRAVITY : 0;
    CHECK_NEAR(seen.load.energy - now->load.energy, grown, 1e-10 * (1 + fabs(now->load.energy) + grown), force->kind->name);
    whole_release(&other);
}
static void datum_does_not_matter(void **state)
{
    (void)state;
    whole w;
    whole_create(&w, whole_hull(), 0, 0.4);
    raised_model = w.model;
    raised_model.water.level += 3;
    over_hull_forces(&w.model, 0, shift);
    whole_free(&w);
}

/* Coefficients of 0 take the force away: exactly. */
static void nothing(const whole_force *force, const whole_state *state, const whole_result *now)
{
    (void)state;
    for (int i = 0; i < 6 && force->kind->keys != NULL; i++)
        assert_true(now->load.hull[i] == 0);
}
static void zero_coefficients_mean_no_force(void **state)
{
    (void)state;
    whole w;
    whole_create(&w, whole_hull(), 1, 0.4);
    over_hull_forces(&w.model, 1, nothing);
    whole_free(&w);
}

/* What the reader, the reference pages and the result files make of each kind. */
static void described(const dd_force_kind *kind)
{
    assert_non_null(kind->name);
    assert_non_null(kind->help);
    assert_non_null(kind->formula);
    assert_non_null(kind->valid);
    assert_non_null(kind->covered_by);
    char path[512];
    snprintf(path, sizeof path, "%s/%s", SOURCE_DIR, kind->covered_by);
    assert_int_equal(access(path, R_OK), 0);
    assert_non_null(kind->sources);
    assert_non_null(kind->sources[0]);
    for (int i = 0; kind->sources[i] != NULL; i++)
        assert_non_null(dd_source_find(kind->sources[i]));
    assert_non_null(kind->regimes);
    assert_true((kind->parameters_size > 0) == (kind->keys != NULL));
    for (const dd_key *key = kind->keys; key != NULL && key->name != NULL; key++) {
        assert_non_null(key->help);
        assert_non_null(key->source);
    }
    for (const dd_channel *channel = kind->channels; channel != NULL && channel->name != NULL; channel++) {
        assert_non_null(channel->help);
        if (channel->unit[0] == 0)
            continue; /* a bare number */
        const char *unit = strrchr(channel->name, '_');
        assert_non_null(unit);
        assert_string_equal(unit + 1, channel->unit);
    }
}
static void every_kind_is_described(void **state)
{
    (void)state;
    for (int i = 0; i < dd_force_count(); i++)
        described(dd_force_at(i));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(passive_forces_add_no_energy), cmocka_unit_test(moving_water_works_by_its_heat), cmocka_unit_test(stored_energy_gives_the_force),
        cmocka_unit_test(port_and_starboard_are_alike), cmocka_unit_test(heading_does_not_matter),
        cmocka_unit_test(datum_does_not_matter),        cmocka_unit_test(zero_coefficients_mean_no_force),
        cmocka_unit_test(every_kind_is_described),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
