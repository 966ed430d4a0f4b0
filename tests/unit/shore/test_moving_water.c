/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The water's surface and flow in place and time. */
#include "tests/unit/ode/checks.h"
#include <stdio.h>
#include <string.h>
#include "lib/shore/shore.h"

static const double gravity = 9.80665;

static dd_water still(void)
{
    dd_water water;
    dd_water_defaults(&water);
    water.level = 1.2;
    return water;
}

static void meet(dd_water *water)
{
    dd_error error;
    assert_int_equal(dd_water_complete(water, &error), DD_OK);
    assert_int_equal(dd_water_meet(water, NULL, gravity, &error), DD_OK);
}

static dd_water stirred(void)
{
    dd_water water = still();
    water.level_count = 2;
    water.levels[0].at = 20, water.levels[0].level = 1.5;
    water.levels[1].at = 45, water.levels[1].level = 0.9;
    water.surge = (dd_surge){0.3, 9};
    water.wave = (dd_wave){0.2, 4, 1.5, 0.6};
    water.current = 0.7;
    water.current_exponent = 1.0 / 7;
    water.current_full_beyond = 12;
    water.wall_to = 3;
    water.wall_mixing = 6;
    meet(&water);
    return water;
}

static double difference(double after, double before) { return (after - before) / 2e-5; }

/* Closed form: derivatives against central differences over 1e-5 s and m; 1e-6 of sizes near 1: rounding and h^2. */
static void derivatives_are_those_of_the_level(void **state)
{
    (void)state;
    const dd_water w = stirred();
    const double h = 1e-5;
    for (double t = 0.05; t < 60; t += 0.7313)
        for (double x = -2; x < 30; x += 1.717) {
            dd_water_surface s = dd_water_surface_at(&w, x, t), a = dd_water_surface_at(&w, x + h, t),
                             b = dd_water_surface_at(&w, x - h, t), later = dd_water_surface_at(&w, x, t + h),
                             earlier = dd_water_surface_at(&w, x, t - h);
            CHECK_NEAR(s.slope, difference(a.level, b.level), 1e-6);
            CHECK_NEAR(s.curvature, difference(a.slope, b.slope), 1e-6);
            CHECK_NEAR(s.rate, difference(later.level, earlier.level), 1e-6);
            CHECK_NEAR(s.acceleration, difference(later.rate, earlier.rate), 1e-6);
            CHECK_NEAR(s.slope_rate, difference(a.rate, b.rate), 1e-6);
            CHECK_NEAR(s.slope_rate, difference(later.slope, earlier.slope), 1e-6);
            dd_water_flow f = dd_water_flow_at(&w, x, t, 0.4, 1.1), fa = dd_water_flow_at(&w, x + h, t, 0.4, 1.1),
                          fb = dd_water_flow_at(&w, x - h, t, 0.4, 1.1), fl = dd_water_flow_at(&w, x, t + h, 0.4, 1.1),
                          fe = dd_water_flow_at(&w, x, t - h, 0.4, 1.1);
            CHECK_NEAR(f.along_x_by_x, difference(fa.along_x, fb.along_x), 1e-6);
            CHECK_NEAR(f.along_x_rate, difference(fl.along_x, fe.along_x), 1e-6);
            CHECK_NEAR(f.along_y_by_x, difference(fa.along_y, fb.along_y), 1e-6);
            CHECK_NEAR(f.along_y_by_immersed,
                       difference(dd_water_flow_at(&w, x, t, 0.4 + h, 1.1).along_y, dd_water_flow_at(&w, x, t, 0.4 - h, 1.1).along_y), 1e-6);
            CHECK_NEAR(f.along_y_by_depth,
                       difference(dd_water_flow_at(&w, x, t, 0.4, 1.1 + h).along_y, dd_water_flow_at(&w, x, t, 0.4, 1.1 - h).along_y), 1e-6);
            if (t > 9) CHECK_NEAR(f.along_x_rate, -gravity * s.slope, 1e-12); /* grown waves: the water is moved by the slope */
        }
}

/* A run begins at rest in calm water at its level, and neither rate nor acceleration jumps at an entry of the table: closed form. */
static void water_starts_calm_and_goes_smoothly(void **state)
{
    (void)state;
    dd_water w = stirred();
    dd_water_surface s = dd_water_surface_at(&w, 4, 0);
    assert_true(s.level == 1.2 && s.slope == 0 && s.rate == 0 && s.acceleration == 0);
    assert_true(dd_water_flow_at(&w, 4, 0, 0.1, 1).along_x == 0);
    w.surge.height = w.wave.height = 0;
    CHECK_NEAR(dd_water_surface_at(&w, 0, 10).level, 1.35, 1e-12); /* half way */
    CHECK_NEAR(dd_water_surface_at(&w, 0, 20).level, 1.5, 1e-12);
    CHECK_NEAR(dd_water_surface_at(&w, 0, 45).level, 0.9, 1e-12);
    CHECK_NEAR(dd_water_surface_at(&w, 0, 1000).level, 0.9, 1e-12);
    for (int i = 0; i < 2; i++) {
        double at = w.levels[i].at;
        dd_water_surface a = dd_water_surface_at(&w, 0, at + 1e-7), b = dd_water_surface_at(&w, 0, at - 1e-7);
        CHECK_NEAR(a.rate, b.rate, 1e-9);
        CHECK_NEAR(a.acceleration, b.acceleration, 1e-7);
    }
    w.level_count = 0;
    w.rise = 0.002;
    CHECK_NEAR(dd_water_surface_at(&w, 0, 100).level, 1.4, 1e-12);
    assert_true(dd_water_moves(&w));
    w.rise = 0;
    assert_false(dd_water_moves(&w));
}

/* Linear theory: w^2 = g k tanh(k h) to 1e-13, limits of deep and of shallow water (0.1 %), and a standing wave of twice the
   height at the water's edge with no flow through it. Grade formula. */
static void waves_obey_linear_theory(void **state)
{
    (void)state;
    dd_water w = still();
    w.wave = (dd_wave){0.2, 4, 1.5, 1};
    meet(&w);
    const double frequency = 2 * 3.14159265358979323846 / 4;
    CHECK_NEAR(gravity * w.wave_number * tanh(w.wave_number * 1.5) / (frequency * frequency), 1, 1e-13);
    double highest = 0, lowest = 0;
    for (double t = 8; t < 12; t += 0.001) {
        double z = dd_water_surface_at(&w, 0, t).level - 1.2;
        highest = fmax(highest, z), lowest = fmin(lowest, z);
        CHECK_NEAR(dd_water_flow_at(&w, 0, t, 0.1, 1).along_x, 0, 1e-15);
        CHECK_NEAR(dd_water_surface_at(&w, 0, t).slope, 0, 1e-15);
    }
    CHECK_NEAR(highest - lowest, 0.4, 1e-6);
    w.wave.depth = 50, w.wave.period = 3;
    meet(&w);
    CHECK_NEAR(w.wave_number * gravity * 9 / (4 * 9.8696044010893586), 1, 1e-3);
    w.wave.depth = 0.5, w.wave.period = 60;
    meet(&w);
    CHECK_NEAR(w.wave_number * sqrt(gravity * 0.5) * 60 / (2 * 3.14159265358979323846), 1, 1e-3);
    w.wave.depth = NAN;
    dd_error error;
    assert_int_equal(dd_water_meet(&w, NULL, gravity, &error), DD_ERROR_UNSET);
    assert_non_null(strstr(error.place, "water.wave.depth"));
}

/* On a ramp: the edge lies where the slab meets the level (closed form, 1e-9 m), the waves' depth is the toe's. */
static void water_meets_the_ramp(void **state)
{
    (void)state;
    dd_ramp_parameters p;
    dd_ramp *ramp;
    dd_error error;
    dd_ramp_defaults(&p);
    p.slope = atan(1.0 / 8), p.crest_level = 3, p.toe_level = -0.9;
    assert_int_equal(dd_ramp_create(&p, &ramp, &error), DD_OK);
    dd_water w = still();
    w.wave = (dd_wave){0.1, 4, NAN, 1};
    assert_int_equal(dd_water_complete(&w, &error), DD_OK);
    assert_int_equal(dd_water_meet(&w, ramp, gravity, &error), DD_OK);
    CHECK_NEAR(w.edge, 14.4, 1e-9);
    CHECK_NEAR(w.wave.depth, w.level - dd_ramp_at(ramp, dd_ramp_toe(ramp)).z, 1e-12);
    dd_ramp_free(ramp);
}

/* Hunt's run-up against the rows (grade formula, ten digits), and the limit of waves that surge. */
static void run_up_meets_the_rows(void **state)
{
    (void)state;
    FILE *file = fopen(SOURCE_DIR "/tests/reference/hydro/run_up.csv", "r");
    char line[256];
    double height, period, ratio, expected;
    int rows = 0;
    assert_non_null(file);
    assert_true(fgets(line, sizeof line, file) != NULL && fgets(line, sizeof line, file) != NULL);
    for (; fscanf(file, "%lf,%lf,%lf,%lf", &height, &period, &ratio, &expected) == 4; rows++)
        CHECK_NEAR(dd_wave_run_up(height, period, atan(1 / ratio), gravity), expected, 1e-9);
    fclose(file);
    assert_int_equal(rows, 3);
    CHECK_NEAR(dd_wave_run_up(0.1, 60, atan(0.125), gravity), 0.23, 1e-12);
    assert_true(dd_wave_run_up(0, 5, 0.1, gravity) == 0);
}

/* The mean of the power law over the upper part of the depth against the sum of 20000 slices (definition; 1e-7), growth from the
   edge and from the wall's end at their middles (closed form: half), and the uniform current untouched. */
static void current_varies_as_given(void **state)
{
    (void)state;
    dd_water w = still();
    w.current = 0.8;
    assert_false(dd_current_varies(&w));
    assert_true(dd_water_flow_at(&w, 5, 3, 0.4, 1).along_y == 0.8);
    w.current_exponent = 1.0 / 7;
    assert_true(dd_current_varies(&w));
    for (double immersed = 0.1; immersed < 1.05; immersed += 0.3) {
        double sum = 0;
        for (int i = 0; i < 20000; i++) sum += pow((1.1 - immersed * (i + 0.5) / 20000) / 1.1, 1.0 / 7) / 20000;
        CHECK_NEAR(dd_water_flow_at(&w, 0, 0, immersed, 1.1).along_y, 0.8 * sum, 1e-7);
    }
    CHECK_NEAR(dd_water_flow_at(&w, 0, 0, 1.1, 1.1).along_y, 0.8 * 7 / 8, 1e-12); /* to the ground: 1/(1 + m) */
    CHECK_NEAR(dd_water_flow_at(&w, 0, 0, 1e-9, 1.1).along_y, 0.8, 1e-9);
    w.current_exponent = 0;
    w.current_full_beyond = 10;
    w.edge = 4;
    assert_true(dd_water_flow_at(&w, 4, 0, 0.1, 1).along_y == 0 && dd_water_flow_at(&w, 14, 0, 0.1, 1).along_y == 0.8);
    CHECK_NEAR(dd_water_flow_at(&w, 9, 0, 0.1, 1).along_y, 0.4, 1e-15);
    w.current_full_beyond = 0;
    w.wall_to = 6;
    assert_true(dd_water_flow_at(&w, 6, 0, 0.1, 1).along_y == 0);
    CHECK_NEAR(dd_water_flow_at(&w, 8, 0, 0.1, 1).along_y, 0.4, 1e-15);
    assert_true(dd_water_flow_at(&w, 10.1, 0, 0.1, 1).along_y == 0.8);
}

static void levels_out_of_order_are_refused(void **state)
{
    (void)state;
    dd_error error;
    dd_water w = stirred();
    w.levels[1].at = 20;
    assert_int_equal(dd_water_complete(&w, &error), DD_ERROR_ARGUMENT);
    assert_non_null(strstr(error.place, "levels"));
    w = stirred();
    w.rise = 0.001;
    assert_int_equal(dd_water_complete(&w, &error), DD_ERROR_ARGUMENT);
    assert_non_null(strstr(error.place, "rise"));
    w = stirred();
    w.wave.height = 0.6;
    assert_int_equal(dd_water_complete(&w, &error), DD_ERROR_ARGUMENT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(derivatives_are_those_of_the_level),
        cmocka_unit_test(water_starts_calm_and_goes_smoothly),
        cmocka_unit_test(waves_obey_linear_theory),
        cmocka_unit_test(water_meets_the_ramp),
        cmocka_unit_test(run_up_meets_the_rows),
        cmocka_unit_test(current_varies_as_given),
        cmocka_unit_test(levels_out_of_order_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
