/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strap and winch: tension's law, gradients, power, reference rows. */
#include "lib/force/strap.h"
#include "tests/unit/force/contact_fixture.h"
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>
#include <stdio.h>
#include <string.h>

typedef struct bench {
    dd_hull *hull;
    dd_rig rig;
    fixture_force strap;
} bench;

static int set_up(void **state)
{
    static bench b;
    b.hull = fixture_wedge(0.35);
    fixture_rig(&b.rig);
    if (!b.hull) return 1;
    b.strap = fixture_prepare(&dd_force_strap, b.hull, &b.rig);
    *state = &b;
    return 0;
}

static int tear_down(void **state)
{
    bench *b = *state;
    b->strap.kind->free(b->strap.instance);
    dd_hull_free(b->hull);
    return 0;
}

/* Hull lying straight with its eye `distance` aft of the drum at the drum's height: the strap is level. */
static fixture_state level(double distance, double length)
{
    fixture_state s;
    memset(&s, 0, sizeof s);
    s.pose = (dd_pose){.position = dd_vec(0.9 + distance + 5.5, 0, 1.15 - 0.45 - 0.7), .attitude = {0, 0, 0, 1}};
    s.memory[0] = length;
    s.commands.strap_hooked = 1;
    return s;
}

/* --- reference rows --------------------------------------------------------------------------------------------- */

/* Reads the next row of figures (name, then up to n numbers; an empty field is NaN). */
static int next_row(FILE *file, char name[16], double *value, int n)
{
    char line[512];
    while (fgets(line, sizeof line, file)) {
        if (line[0] == '#' || strncmp(line, "id,", 3) == 0) continue;
        char *at = strchr(line, ',');
        assert_non_null(at);
        snprintf(name, 16, "%.*s", (int)(at - line < 15 ? at - line : 15), line);
        for (int i = 0; i < n; i++) {
            value[i] = NAN;
            if (at) {
                sscanf(at + 1, "%lf", &value[i]);
                at = strchr(at + 1, ',');
            }
        }
        return 1;
    }
    return 0;
}

/* Handle force and length on the drum: 1e-9 relative and 1e-6 m (the rows are printed with 10 and 6 digits); closed form. */
static void handle_force_follows_the_layers(void **state)
{
    bench *b = *state;
    FILE *file = fopen(SOURCE_DIR "/tests/reference/hydro/winch_checks.csv", "r");
    assert_non_null(file);
    char name[16];
    double v[9], first = NAN, last = NAN;
    int rows = 0;
    for (; next_row(file, name, v, 9); rows++) {
        dd_winch_parameters w = b->rig.trailer.winch;
        w.drum_radius = v[1], w.strap_thickness = v[3], w.gear_ratio = v[4], w.handle_length = v[5], w.efficiency = v[6];
        double found = dd_winch_handle_force(&w, v[0], v[8]);
        assert_near(found, v[7], 2e-5 * v[7]); /* by the length on the drum, given to 1e-6 m */
        double exact = acos(-1.0) * (pow(v[1] + v[2] * v[3], 2) - v[1] * v[1]) / v[3];
        assert_near(exact, v[8], 1e-6);
        found = dd_winch_handle_force(&w, v[0], exact);
        assert_near(found, v[7], 1e-9 * v[7]);
        if (rows == 0) first = found;
        last = found;
    }
    fclose(file);
    assert_int_equal(rows, 2);
    assert_near(last / first, 1.524271845, 1e-9); /* row WIN3 */
    /* nothing wound on: the first layer is the one that pulls */
    assert_near(dd_winch_lever(&b->rig.trailer.winch, 0), 0.025 + 0.00075, 1e-15);
}

/* Stiffness and stretch rows: 1e-9 relative; closed form. */
static void stiffness_is_working_load_over_stretch(void **state)
{
    bench *b = *state;
    FILE *file = fopen(SOURCE_DIR "/tests/reference/hydro/strap_checks.csv", "r");
    assert_non_null(file);
    char name[16];
    double v[6];
    int rows = 0;
    for (; next_row(file, name, v, 6); rows++) {
        dd_rig rig = b->rig;
        rig.trailer.winch.strap_rating = v[0], rig.trailer.winch.strap_stretch_at_rating = v[1];
        rig.trailer.winch.strap_length_at_home = 0;
        fixture_force f = fixture_prepare(&dd_force_strap, b->hull, &rig);
        double stretch = isnan(v[5]) ? 0.01 : v[5], tension = isnan(v[4]) ? 0.01 * v[3] : v[4];
        fixture_state s = level(v[2] + stretch, v[2]);
        assert_near(fixture_evaluate(&f, &s).load.hull[0], tension, 1e-9 * tension); /* inshore is the boat's +X */
        f.kind->free(f.instance);
    }
    fclose(file);
    assert_int_equal(rows, 3);
}

/* --- law -------------------------------------------------------------------------------------------------------- */

/* Slack, unhooked, taut; an unrated strap counts as one of 12 kN; 1e-10 of the tension; closed form. */
static void strap_pulls_only(void **state)
{
    bench *b = *state;
    fixture_state slack = level(3, 3.001), taut = level(3.02, 3);
    fixture_result none = fixture_evaluate(&b->strap, &slack);
    for (int i = 0; i < 6; i++) assert_true(none.load.hull[i] == 0);
    double tension = 12000 / 0.06 * 0.02 / 3.3;
    fixture_result pull = fixture_evaluate(&b->strap, &taut);
    assert_near(pull.load.hull[0], tension, 1e-10 * tension);       /* towards the bow, inshore */
    assert_near(pull.load.hull[4], 0.7 * tension, 1e-10 * tension); /* at the eye, 0.7 m up: bow down */
    taut.commands.strap_hooked = 0;
    assert_true(fixture_evaluate(&b->strap, &taut).load.hull[0] == 0);
    dd_rig unrated = b->rig;
    unrated.trailer.winch.strap_rating = NAN;
    taut.commands.strap_hooked = 1;
    fixture_force f = fixture_prepare(&dd_force_strap, b->hull, &unrated);
    assert_near(fixture_evaluate(&f, &taut).load.hull[0], tension, 1e-10 * tension);
    f.kind->free(f.instance);
}

/* At every speed the tension is >= 0, and rises steadily with the rate. No tolerance. */
static void tension_is_never_negative(void **state)
{
    bench *b = *state;
    for (double stretch = -0.0006; stretch < 0.003; stretch += 0.00005) {
        double before = 0;
        for (double speed = -5; speed < 5; speed += 0.01) {
            fixture_state s = level(3 + stretch, 3);
            s.twist[0] = -speed; /* seaward */
            double tension = fixture_evaluate(&b->strap, &s).load.hull[0];
            assert_true(tension >= before);
            before = tension;
        }
    }
}

/* From slack to taut at steady speed: value and slope without a jump. Over steps of 1 um the slope changes by no more than
   the toe's curvature explains: stiffness x step / (2 x 0.5 mm) x 8, the 8 for the damping's share; closed form. */
static void toe_is_smooth(void **state)
{
    bench *b = *state;
    const double h = 1e-6, stiffness = 12000 / 0.06 / 3.3;
    for (int moving = -1; moving <= 1; moving++) {
        double previous = 0, slope = 0, most_change = 0, slope_reached = 0;
        for (int i = 0; i < 4000; i++) {
            fixture_state s = level(3 - 0.001 + h * i, 3);
            s.twist[0] = -0.01 * moving;
            double tension = fixture_evaluate(&b->strap, &s).load.hull[0];
            double now = (tension - previous) / h;
            if (i > 0) most_change = fmax(most_change, fabs(now - slope));
            slope = now, previous = tension;
            slope_reached = fmax(slope_reached, slope);
        }
        assert_true(slope_reached >= stiffness * 0.999);
        assert_true(most_change < 8 * stiffness * h / 0.001);
    }
}

/* Damping of a taut strap: c = 2 zeta sqrt(k m); 1e-9 relative; closed form. */
static void damping_has_its_ratio(void **state)
{
    bench *b = *state;
    fixture_state s = level(3.02, 3);
    s.twist[0] = -0.01;
    double k = 12000 / 0.06 / 3.3, c = 2 * 0.1 * sqrt(k * dd_hull_mass(b->hull)->mass);
    assert_near(fixture_evaluate(&b->strap, &s).load.hull[0], k * 0.02 + c * 0.01, 1e-9 * k * 0.02);
}

/* --- winch ------------------------------------------------------------------------------------------------------ */

static void winch_changes_the_length(void **state)
{
    bench *b = *state;
    fixture_state s = level(3, 3.2);
    s.commands.wind_speed = 0.1;
    assert_near(fixture_evaluate(&b->strap, &s).rate[0], -0.1, 1e-15);
    s.commands.wind_speed = -0.1;
    assert_near(fixture_evaluate(&b->strap, &s).rate[0], 0.1, 1e-15);
    s.commands.wind_speed = 0.1;
    s.memory[0] = 0.05; /* nothing left to wind in */
    assert_true(fixture_evaluate(&b->strap, &s).rate[0] == 0);
    s.commands.wind_speed = -0.1;
    assert_near(fixture_evaluate(&b->strap, &s).rate[0], 0.1, 1e-15);
}

/* The length for a tension, T = rigidity (distance - length) / (length + home) solved for it, gives that tension: 1e-9 relative;
   closed form. */
static void length_for_a_tension(void **state)
{
    bench *b = *state;
    fixture_state s = level(0.8, 0);
    assert_near(dd_strap_distance(&b->strap.model, &s.pose), 0.8, 1e-12);
    double rigidity = dd_strap_rigidity(&b->rig.trailer.winch), home = b->rig.trailer.winch.strap_length_at_home;
    s.memory[0] = (rigidity * 0.8 - 300 * home) / (rigidity + 300);
    assert_near(fixture_evaluate(&b->strap, &s).load.hull[0], 300, 300e-9);
}

static void channels_read_as_they_say(void **state)
{
    bench *b = *state;
    fixture_state s = level(3.02, 3);
    s.pose.position.z += 3.02; /* 45 degrees up */
    s.memory[0] = 3.02 * sqrt(2.0) - 0.02;
    s.commands.wind_speed = 1e-12; /* the hand feels only what it winds */
    double channels[5], tension = 12000 / 0.06 * 0.02 / (s.memory[0] + 0.3);
    fixture_channels(&b->strap, &s, channels);
    assert_near(channels[0], tension, 1e-9 * tension);
    assert_near(channels[1], s.memory[0], 1e-15);
    assert_near(channels[2], dd_winch_handle_force(&b->rig.trailer.winch, tension, 7.5 - s.memory[0]), 1e-9 * tension);
    assert_near(channels[3], 45, 1e-9);
    assert_near(channels[4], channels[2] / (2.5 * b->rig.trailer.winch.hand_force_limit), 1e-12);
    s.commands.wind_speed = 0;
    fixture_channels(&b->strap, &s, channels);
    assert_true(channels[2] == 0 && channels[4] == 0);
}

/* Rates of the length let out, at an elastic tension of 150 N: by hand the speed asked for, whatever the pull; by motor
   v (1 - T / stall); running free (T - drag) / damping; never below the knot nor beyond the end. 1e-12 m/s; closed form. */
static void drum_turns_as_it_is_driven(void **state)
{
    bench *b = *state;
    const double tension = 150, stretch = tension * 3.3 / (200e3);
    fixture_state s = level(3 + stretch, 3);
    s.commands.wind_speed = 0.08;
    assert_near(fixture_evaluate(&b->strap, &s).rate[0], -0.08, 1e-15);
    dd_rig rig = b->rig;
    rig.trailer.winch.drive = DD_DRIVE_ELECTRIC;
    rig.trailer.winch.speed = 0.08, rig.trailer.winch.speed_at_rating = 0.04, rig.trailer.winch.rating = 200;
    fixture_force motor = fixture_prepare(&dd_force_strap, b->hull, &rig);
    assert_near(fixture_evaluate(&motor, &s).rate[0], -0.08 * (1 - tension / 400), 1e-12);
    s.commands.wind_speed = 0;
    s.commands.free_spool = 1;
    const double drag = 1.5 / dd_winch_lever(&rig.trailer.winch, 4.5);
    assert_near(fixture_evaluate(&b->strap, &s).rate[0], (tension - drag) / 150, 1e-12);
    s = level(7.5 + 0.02, 7.5); /* all is out */
    s.commands.free_spool = 1;
    assert_true(fixture_evaluate(&b->strap, &s).rate[0] == 0);
    motor.kind->free(motor.instance);
}

/* --- over the regimes ------------------------------------------------------------------------------------------- */

/* Gradients 1e-6 of the largest entry (five-point differences; h 1e-6 m against the toe's 5e-4 m), power 1e-6 of its largest
   part, energy's gradient 1e-6 (its differences lose digits to a stored energy of kJ); closed form. */
static void gradients_and_energy_agree(void **state)
{
    bench *b = *state;
    fixture_random random = {4711};
    for (const dd_regime *regime = dd_force_strap.regimes; regime->name; regime++) {
        double gradient = 0, power = 0, energy = 0, pull = 0;
        for (int i = 0; i < 60; i++) {
            fixture_state s = fixture_draw(&b->strap, regime, &random);
            gradient = fmax(gradient, fixture_gradient_error(&b->strap, &s));
            power = fmax(power, fixture_power_error(&b->strap, &s));
            s.commands.wind_speed = 0;
            s.commands.free_spool = 0;
            energy = fmax(energy, fixture_energy_error(&b->strap, &s));
            fixture_result r = fixture_evaluate(&b->strap, &s);
            pull = fmax(pull, r.load.energy);
            assert_true(r.load.heat >= 0); /* with the winch still the strap is passive */
        }
        print_message("    %s: gradient %.2g, power %.2g, energy %.2g\n", regime->name, gradient, power, energy);
        assert_true(gradient < 1e-6);
        assert_true(power < 1e-6);
        assert_true(energy < 1e-6);
        int idle = strcmp(regime->name, "slack") == 0 || strcmp(regime->name, "unhooked") == 0;
        assert_true(idle == (pull == 0));
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(handle_force_follows_the_layers),
        cmocka_unit_test(stiffness_is_working_load_over_stretch),
        cmocka_unit_test(strap_pulls_only),
        cmocka_unit_test(tension_is_never_negative),
        cmocka_unit_test(toe_is_smooth),
        cmocka_unit_test(damping_has_its_ratio),
        cmocka_unit_test(winch_changes_the_length),
        cmocka_unit_test(length_for_a_tension),
        cmocka_unit_test(channels_read_as_they_say),
        cmocka_unit_test(drum_turns_as_it_is_driven),
        cmocka_unit_test(gradients_and_energy_agree),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
