/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scour, weed, wet and soft ground under a tyre. */
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
    return p;
}

static dd_ramp *create(const dd_ramp_parameters *p)
{
    dd_ramp *ramp;
    dd_error error = {0};
    if (dd_ramp_create(p, &ramp, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
    return ramp;
}

static dd_water water_at(double level)
{
    dd_water water;
    dd_error error;
    dd_water_defaults(&water);
    water.level = level;
    assert_int_equal(dd_water_complete(&water, &error), DD_OK);
    return water;
}

/* Closed form: the bottom of the hole and the top of the mound lie as far from the plain profile as given (1e-12 m), nothing
   changes elsewhere; slope and curvature by differences (1e-6, 1e-4), continuous; a wheel of 0.33 m has one foot everywhere. */
static void scour_has_its_shape(void **state)
{
    (void)state;
    dd_ramp_parameters p = usual();
    p.toe_step = 0.1;
    dd_ramp *plain = create(&p);
    p.scour = (dd_scour){0.35, 3, 0.2, 2};
    dd_ramp *ramp = create(&p);
    const double begin = dd_ramp_toe(ramp) + sqrt(0.35);
    CHECK_NEAR(dd_ramp_at(ramp, begin + 1.5).z, dd_ramp_at(plain, begin + 1.5).z - 0.35, 1e-12);
    CHECK_NEAR(dd_ramp_at(ramp, begin + 4).z, dd_ramp_at(plain, begin + 4).z + 0.2, 1e-12);
    const double outside[3] = {begin - 0.01, begin + 3, begin + 5.01};
    for (int i = 0; i < 3; i++) CHECK_NEAR(dd_ramp_at(ramp, outside[i]).z, dd_ramp_at(plain, outside[i]).z, 1e-12);
    for (double x = begin - 2; x < begin + 7; x += 0.00731) {
        const dd_ramp_point at = dd_ramp_at(ramp, x), a = dd_ramp_at(ramp, x + 1e-6), b = dd_ramp_at(ramp, x - 1e-6);
        CHECK_NEAR(at.slope, (a.z - b.z) / 2e-6, 1e-6);
        CHECK_NEAR(at.curvature, (a.slope - b.slope) / 2e-6, 1e-3);
        dd_ramp_point foot;
        const double z = at.z + 0.33, x_foot = dd_ramp_foot(ramp, x, z, &foot);
        CHECK_NEAR((x - x_foot) + (z - foot.z) * foot.slope, 0, 1e-12);
        assert_true(hypot(x - x_foot, z - foot.z) <= 0.33 + 1e-12);
        for (double other = x - 0.6; other < x + 0.6; other += 0.02) /* and no place of the ground is nearer */
            assert_true(hypot(x - other, z - dd_ramp_at(ramp, other).z) >= hypot(x - x_foot, z - foot.z) - 1e-9);
    }
    dd_ramp_free(ramp);
    dd_ramp_free(plain);
}

static void refuse(const dd_ramp_parameters *p, const char *place)
{
    dd_ramp *ramp;
    dd_error error = {0};
    assert_int_equal(dd_ramp_create(p, &ramp, &error), DD_ERROR_ARGUMENT);
    assert_null(ramp);
    assert_non_null(strstr(error.place, place));
}

static void what_cannot_be_is_refused(void **state)
{
    (void)state;
    dd_ramp_parameters p = usual();
    p.scour = (dd_scour){0.35, 1.5, 0, 4}; /* too sharp: 24 h/l^2 = 3.7 */
    refuse(&p, "scour");
    p.scour = (dd_scour){0.2, 4, 0.5, 2};
    refuse(&p, "scour");
    p = usual();
    p.toe_level = NAN;
    p.scour.depth = 0.2;
    refuse(&p, "scour");
    p = usual();
    p.weed.from_level = 1;
    refuse(&p, "weed");
    p.weed.to_level = 0.5;
    refuse(&p, "weed");
    p.weed = (dd_weed){0, 1, 0.4, 0.3};
    refuse(&p, "weed");
    p = usual();
    p.surface_count = 1;
    p.surfaces[0] = (dd_surface){.from = NAN, .to = NAN, .friction_low = 0.5, .friction_high = 0.6, .wet_friction_low = 0.4, .wet_friction_high = 0.3};
    refuse(&p, "surfaces");
}

static double x_at(double z) { return 8 * (2 - z); }

/* Definitions, away from the borders exact to 1e-12; on the way the derivative by x against differences. */
static void weed_and_water_change_the_grip(void **state)
{
    (void)state;
    dd_ramp_parameters p = usual();
    p.surface_count = 1;
    p.surfaces[0] = (dd_surface){.from = NAN, .to = NAN, .friction_low = 0.6, .friction_high = 0.8, .rolling_resistance = 0.015,
                                 .wet_friction_low = 0.4, .wet_friction_high = 0.5, .sinkage = 0.02, .sinkage_rate = 0.001};
    p.weed = (dd_weed){-0.5, 0.2, 0.1, 0.2};
    p.wash_margin = 0.15;
    dd_ramp *ramp = create(&p);
    dd_water water = water_at(0.5);
    const dd_grip dry = dd_shore_grip(ramp, &water, x_at(1.0), 0), wet = dd_shore_grip(ramp, &water, x_at(0.4), 0),
                  weed = dd_shore_grip(ramp, &water, x_at(-0.1), 0), below = dd_shore_grip(ramp, &water, x_at(-0.8), 0);
    CHECK_NEAR(dry.friction, 0.7, 1e-12);
    CHECK_NEAR(wet.friction, 0.45, 1e-12);
    CHECK_NEAR(weed.friction, 0.15, 1e-12);
    CHECK_NEAR(below.friction, 0.45, 1e-12);
    CHECK_NEAR(wet.friction_low, 0.4, 1e-12);
    CHECK_NEAR(weed.friction_high, 0.2, 1e-12);
    assert_true(dry.wet == 0 && wet.wet == 1 && weed.weed == 1 && wet.weed == 0);
    CHECK_NEAR(dry.sinkage, 0.02 / 5000, 1e-18);
    assert_true(dry.sinkage_rate == 0);
    CHECK_NEAR(wet.sinkage_rate, 0.001 / 5000, 1e-18);
    /* in the wash, up to the margin above the water; dry above it */
    assert_true(dd_shore_grip(ramp, &water, x_at(0.56), 0).wet == 1 && dd_shore_grip(ramp, &water, x_at(0.66), 0).wet == 0);
    for (double x = 2; x < 22; x += 0.0137) {
        const dd_grip at = dd_shore_grip(ramp, &water, x, 0);
        const double by_difference =
            (dd_shore_grip(ramp, &water, x + 1e-6, 0).friction - dd_shore_grip(ramp, &water, x - 1e-6, 0).friction) / 2e-6;
        CHECK_NEAR(at.friction_x, by_difference, 1e-5);
    }
    /* the water comes up: what was dry is wet */
    dd_error error;
    water.rise = 0.01;
    assert_int_equal(dd_water_complete(&water, &error), DD_OK);
    CHECK_NEAR(dd_shore_grip(ramp, &water, x_at(1.0), 60).friction, 0.45, 1e-12);
    dd_ramp_free(ramp);
    /* on a plain ramp the water changes no bit */
    p = usual();
    ramp = create(&p);
    const dd_water low = water_at(-20);
    for (double x = -3; x < 30; x += 0.77) {
        const dd_grip a = dd_shore_grip(ramp, &low, x, 0), b = dd_shore_grip(ramp, &water, x, 5);
        assert_true(a.friction == b.friction && a.friction_x == b.friction_x && a.rolling_resistance == b.rolling_resistance);
    }
    dd_ramp_free(ramp);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(scour_has_its_shape),
        cmocka_unit_test(what_cannot_be_is_refused),
        cmocka_unit_test(weed_and_water_change_the_grip),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
