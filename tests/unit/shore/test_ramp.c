/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The ramp's profile: continuity, closed forms of the vertical curves, toe, surfaces, errors. */
#include "tests/unit/ode/checks.h"
#include <string.h>
#include "lib/shore/shore.h"

static dd_ramp_parameters usual(void)
{
    dd_ramp_parameters p;
    dd_ramp_defaults(&p);
    p.slope = atan(1.0 / 8);
    p.crest_level = 2;
    p.toe_level = -1;
    p.approach_slope = atan(0.01);
    p.bed_slope = atan(0.03);
    p.crest_curve = 4;
    p.toe_curve = 2;
    return p;
}

static dd_ramp_parameters surveyed(void)
{
    const double points[][2] = {{-20, 2.3}, {-4, 2.1}, {0, 1.9}, {3, 1.5}, {3.5, 1.42}, {12, 0.3}, {30, -2.0}, {40, -2.1}};
    dd_ramp_parameters p;
    dd_ramp_defaults(&p);
    p.point_count = 8;
    for (int i = 0; i < 8; i++) {
        p.points[i].x = points[i][0];
        p.points[i].z = points[i][1];
    }
    p.point_curve = 3;
    p.toe_level = -1.5;
    return p;
}

static dd_ramp *create(const dd_ramp_parameters *p)
{
    dd_ramp *ramp;
    dd_error error = {0};
    assert_int_equal(dd_ramp_create(p, &ramp, &error), DD_OK);
    return ramp;
}

/* Closed form: slope by central difference of z, curvature by that of the slope; h^2 z''' / 6 and rounding < 1e-7; across a joint the third derivative jumps, 2e-5 of curvature;
   no jump of z, z' or z'' between neighbours 1e-7 m apart. */
static void check_smooth(const dd_ramp *ramp)
{
    const double h = 1e-5;
    for (double x = -25; x < 50; x += 0.01734) {
        dd_ramp_point p = dd_ramp_at(ramp, x), a = dd_ramp_at(ramp, x - h), b = dd_ramp_at(ramp, x + h);
        CHECK_NEAR((b.z - a.z) / (2 * h), p.slope, 1e-7);
        CHECK_NEAR((b.slope - a.slope) / (2 * h), p.curvature, 2e-5);
        dd_ramp_point next = dd_ramp_at(ramp, x + 1e-7);
        CHECK_NEAR(next.z, p.z, 1e-6);
        CHECK_NEAR(next.slope, p.slope, 1e-5);
        CHECK_NEAR(next.curvature, p.curvature, 1e-4);
    }
}

static void test_profile_is_smooth(void **state)
{
    (void)state;
    dd_ramp_parameters p = usual();
    dd_ramp *ramp = create(&p);
    check_smooth(ramp);
    dd_ramp_free(ramp);
    p.toe_step = 0.15;
    ramp = create(&p);
    check_smooth(ramp);
    dd_ramp_free(ramp);
    p = surveyed();
    ramp = create(&p);
    check_smooth(ramp);
    dd_ramp_free(ramp);
}

/* Continuity exactly at the joints: from both sides, 1e-12. */
static void test_joints(void **state)
{
    (void)state;
    dd_ramp_parameters p = usual();
    p.toe_step = 0.1;
    dd_ramp *ramp = create(&p);
    const double toe = dd_ramp_toe(ramp);
    const double joint_x[] = {-2, 2, toe - 1, toe + 1, toe, toe + sqrt(0.35)};
    for (int i = 0; i < 6; i++) {
        dd_ramp_point a = dd_ramp_at(ramp, joint_x[i] - 1e-13), b = dd_ramp_at(ramp, joint_x[i] + 1e-13);
        CHECK_NEAR(a.z, b.z, 1e-12);
        CHECK_NEAR(a.slope, b.slope, 1e-11);
        CHECK_NEAR(a.curvature, b.curvature, 1e-10);
    }
    dd_ramp_free(ramp);
}

/* Closed form: lines outside the curves; at a curve's middle the profile lies 3/32 (change of slope) (length) beside the
   break; toe at (crest - toe) / tan(slope). 1e-12 m. */
static void test_closed_forms(void **state)
{
    (void)state;
    dd_ramp_parameters p = usual();
    dd_ramp *ramp = create(&p);
    CHECK_NEAR(dd_ramp_toe(ramp), 24, 1e-12);
    CHECK_NEAR(dd_ramp_at(ramp, -10).z, 2.1, 1e-12);
    CHECK_NEAR(dd_ramp_at(ramp, -10).slope, -0.01, 1e-15);
    CHECK_NEAR(dd_ramp_at(ramp, 8).z, 1, 1e-12);
    CHECK_NEAR(dd_ramp_at(ramp, 8).slope, -0.125, 1e-15);
    CHECK_NEAR(dd_ramp_at(ramp, 44).z, -1.6, 1e-12);
    CHECK_NEAR(dd_ramp_at(ramp, 0).z, 2 - 3.0 / 32 * 0.115 * 4, 1e-12);
    CHECK_NEAR(dd_ramp_at(ramp, 24).z, -1 + 3.0 / 32 * 0.095 * 2, 1e-12);
    /* greatest curvature, in the middle: 1.5 change / length */
    CHECK_NEAR(dd_ramp_at(ramp, 0).curvature, -1.5 * 0.115 / 4, 1e-12);
    dd_ramp_free(ramp);
    p.toe_step = 0.2;
    ramp = create(&p);
    CHECK_NEAR(dd_ramp_at(ramp, 44).z, -1.8, 1e-12);
    CHECK_NEAR(dd_ramp_at(ramp, 24).z, -1 + 3.0 / 32 * 0.095 * 2, 1e-12); /* the step begins at the toe */
    dd_ramp_free(ramp);
    p = usual();
    p.toe_level = NAN;
    ramp = create(&p);
    assert_true(isinf(dd_ramp_toe(ramp)));
    CHECK_NEAR(dd_ramp_at(ramp, 100).z, 2 - 12.5, 1e-11);
    dd_ramp_free(ramp);
}

/* Closed form: midway between distant breaks the profile is the surveyed line; straight beyond the ends. 1e-12 m. */
static void test_surveyed_points(void **state)
{
    (void)state;
    dd_ramp_parameters p = surveyed();
    dd_ramp *ramp = create(&p);
    CHECK_NEAR(dd_ramp_at(ramp, -12).z, 2.2, 1e-12);
    CHECK_NEAR(dd_ramp_at(ramp, 7.75).z, (1.42 + 0.3) / 2, 1e-12);
    CHECK_NEAR(dd_ramp_at(ramp, 21).z, (0.3 - 2.0) / 2, 1e-12);
    CHECK_NEAR(dd_ramp_at(ramp, -40).z, 2.3 + 20 * 0.0125, 1e-12);
    CHECK_NEAR(dd_ramp_at(ramp, 50).z, -2.2, 1e-12);
    /* the curve at x = 3 is cut to the short segment of 0.5 m: at 2.74 the line before still holds */
    CHECK_NEAR(dd_ramp_at(ramp, 2.74).z, 1.5 + 0.26 * 0.4 / 3, 1e-12);
    CHECK_NEAR(dd_ramp_at(ramp, 3).z, 1.5 + 3.0 / 32 * (0.4 / 3 - 0.08 / 0.5) * 0.5, 1e-12);
    CHECK_NEAR(dd_ramp_toe(ramp), 12 + 18 * 1.8 / 2.3, 1e-9);
    dd_ramp_free(ramp);
}

/* Closed form: the foot's normal meets the point, to 1e-12 m, on lines and curves, 0.15 to 0.4 m above the ground. */
static void test_foot(void **state)
{
    (void)state;
    dd_ramp_parameters p = usual();
    p.toe_step = 0.1;
    dd_ramp *ramp = create(&p);
    for (double x = -10; x < 40; x += 0.0371)
        for (double up = 0.15; up < 0.42; up += 0.05) {
            dd_ramp_point at;
            double z = dd_ramp_at(ramp, x).z + up, foot = dd_ramp_foot(ramp, x, z, &at);
            double miss = (x - foot) + (z - at.z) * at.slope;
            CHECK_NEAR(miss, 0, 1e-12);
            assert_true(hypot(x - foot, z - at.z) <= up + 1e-12);
        }
    dd_ramp_free(ramp);
}

static void test_surfaces(void **state)
{
    (void)state;
    dd_ramp_parameters p = usual();
    p.surface_count = 2;
    p.surfaces[0] = (dd_surface){.name = "gravel", .from = NAN, .to = -2, .friction_low = 0.35, .friction_high = 0.35, .rolling_resistance = 0.02};
    p.surfaces[1] = (dd_surface){.name = "weed", .from = 12, .to = 24, .friction_low = 0.1, .friction_high = 0.25, .rolling_resistance = NAN};
    dd_ramp *ramp = create(&p);
    assert_string_equal(dd_ramp_surface(ramp, -5)->name, "gravel");
    assert_string_equal(dd_ramp_surface(ramp, 3)->name, "wet concrete");
    assert_string_equal(dd_ramp_surface(ramp, 13)->name, "weed");
    assert_string_equal(dd_ramp_surface(ramp, 30)->name, "wet concrete");
    const dd_water water = {.level = 0};
    /* definition: the band's middle away from the borders, halfway on a border, and its derivative by differences, 1e-6 */
    CHECK_NEAR(dd_shore_grip(ramp, &water, -5, 0).friction, 0.35, 1e-15);
    CHECK_NEAR(dd_shore_grip(ramp, &water, 3, 0).friction, 0.55, 1e-15);
    CHECK_NEAR(dd_shore_grip(ramp, &water, 18, 0).friction, 0.175, 1e-15);
    CHECK_NEAR(dd_shore_grip(ramp, &water, 12, 0).friction, (0.55 + 0.175) / 2, 1e-15);
    CHECK_NEAR(dd_shore_grip(ramp, &water, 18, 0).rolling_resistance, 0.015, 1e-15);
    for (double x = -2.2; x < 25; x += 0.013) {
        double by_difference = (dd_shore_grip(ramp, &water, x + 1e-6, 0).friction - dd_shore_grip(ramp, &water, x - 1e-6, 0).friction) / 2e-6;
        CHECK_NEAR(dd_shore_grip(ramp, &water, x, 0).friction_x, by_difference, 1e-4);
    }
    dd_ramp_free(ramp);
}

static void refuse(const dd_ramp_parameters *p, dd_status status, const char *place)
{
    dd_ramp *ramp;
    dd_error error = {0};
    assert_int_equal(dd_ramp_create(p, &ramp, &error), status);
    assert_null(ramp);
    assert_non_null(strstr(error.place, place));
    assert_true(error.message[0] != '\0');
}

static void test_errors(void **state)
{
    (void)state;
    dd_ramp_parameters p = usual();
    p.cookie = 0;
    refuse(&p, DD_ERROR_ARGUMENT, "dd_ramp_create");
    p = usual();
    p.slope = NAN;
    refuse(&p, DD_ERROR_UNSET, "slope");
    p = usual();
    p.crest_level = NAN;
    refuse(&p, DD_ERROR_UNSET, "crest level");
    p = usual();
    p.slope = 1.5;
    refuse(&p, DD_ERROR_ARGUMENT, "slope");
    p = usual();
    p.toe_level = 3;
    refuse(&p, DD_ERROR_ARGUMENT, "toe level");
    p = usual();
    p.crest_curve = 60;
    refuse(&p, DD_ERROR_ARGUMENT, "crest curve");
    p = surveyed();
    p.slope = 0.1;
    refuse(&p, DD_ERROR_ARGUMENT, "slope");
    p = surveyed();
    p.point_count = 1;
    refuse(&p, DD_ERROR_ARGUMENT, "points");
    p = surveyed();
    p.points[3].x = -1;
    refuse(&p, DD_ERROR_ARGUMENT, "points");
    p = surveyed();
    p.points[2].z = NAN;
    refuse(&p, DD_ERROR_UNSET, "points[3]");
    p = surveyed();
    p.toe_level = -5;
    refuse(&p, DD_ERROR_ARGUMENT, "toe level");
    p = usual();
    p.surface_count = 2;
    p.surfaces[0] = (dd_surface){.name = "a", .from = NAN, .to = 5, .friction_low = 0.5, .friction_high = 0.6, .rolling_resistance = 0.015};
    p.surfaces[1] = (dd_surface){.name = "b", .from = 4, .to = NAN, .friction_low = 0.5, .friction_high = 0.6, .rolling_resistance = 0.015};
    refuse(&p, DD_ERROR_ARGUMENT, "surfaces");
    p.surfaces[1] = (dd_surface){.name = "b", .from = 5, .to = NAN, .friction_low = 0.7, .friction_high = 0.6, .rolling_resistance = 0.015};
    refuse(&p, DD_ERROR_ARGUMENT, "surfaces");
}

/* P17, grade closed form (depth over slope), to the digit that its rows print: along a slab from the water's edge to where the water is so deep. */
static void test_wet_length(void **state)
{
    (void)state;
    static const double slopes[] = {0.10, 0.12, 0.125, 0.14, 0.15}, rows[3][6] = {
        {0.6, 6.0, 5.0, 4.8, 4.3, 4.0}, {0.9, 9.0, 7.5, 7.2, 6.4, 6.0}, {1.2, 12.0, 10.0, 9.6, 8.6, 8.0}};
    for (int s = 0; s < 5; s++)
        for (int r = 0; r < 3; r++) {
            dd_ramp_parameters p = usual();
            double x[2];
            p.slope = atan(slopes[s]), p.crest_level = 2, p.toe_level = -2;
            dd_ramp *ramp = create(&p);
            for (int i = 0; i < 2; i++) { /* where the ground stands at the level, and so far below it */
                const double z = i == 0 ? 0 : -rows[r][0];
                double high = 4, low = dd_ramp_toe(ramp) - 1;
                for (int k = 0; k < 60; k++) *(dd_ramp_at(ramp, 0.5 * (low + high)).z > z ? &high : &low) = 0.5 * (low + high);
                x[i] = high;
            }
            CHECK_NEAR(x[1] - x[0], rows[r][s + 1], 0.05);
            CHECK_NEAR(x[1] - x[0], rows[r][0] / slopes[s], 1e-9);
            dd_ramp_free(ramp);
        }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_profile_is_smooth),
        cmocka_unit_test(test_joints),
        cmocka_unit_test(test_closed_forms),
        cmocka_unit_test(test_surveyed_points),
        cmocka_unit_test(test_wet_length),
        cmocka_unit_test(test_foot),
        cmocka_unit_test(test_surfaces),
        cmocka_unit_test(test_errors),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
