/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where supports meet a hull, and what of it comes in their way: bands under a V of constant deadrise, whose strake and chine run in
   toward the bow. All expected values are closed forms, worked out beside each check; 1e-9 m, where a place is found by halving 1e-7. */
#include "lib/study/seat_meet.h"
#include "tests/unit/hull/hulls.h"

static const double deadrise = 20 * DEGREE, tight = 1e-9, halved = 1e-7;

/* 5 m, keel level to 3 m and then rising by `rise` to the bow; chine 1 m out to 3 m, then running in to 0.2 m. */
static dd_hull *vee(double rise)
{
    static const double at[] = {0, 3, 5}, chine[] = {1, 1, 0.2};
    dd_hull_parameters *p = malloc(sizeof *p);
    assert_non_null(p);
    dd_hull_defaults(p);
    set_mass(p, 1000, dd_vec(2, 0, 0.4));
    p->lines = DD_LINES_STRAIGHT;
    p->station_count = 3;
    for (int i = 0; i < 3; i++) {
        dd_station *s = &p->stations[i];
        *s = (dd_station){.at = at[i], .keel_height = i == 2 ? rise : 0, .chine_half_breadth = chine[i], .sheer_half_breadth = 1.2, .sheer_height = 1.5};
        s->chine_height = s->keel_height + chine[i] * tan(deadrise);
    }
    dd_hull *hull = create(p);
    free(p);
    return hull;
}

/* A roller 70 mm wide, 0.5 m out, that touches the panel all along its width. */
static dd_seat_band lying(int side)
{
    return (dd_seat_band){.side = side, .middle = {1, side * 0.5, 0.5 * tan(deadrise)}, .across = {0, side * cos(deadrise), sin(deadrise)},
                          .half = 0.035, .front = 1, .rear = 1};
}

/* One 100 mm wide whose axle is level: it touches with its inner edge, 0.45 m out. */
static dd_seat_band level(void)
{
    return (dd_seat_band){.side = 1, .middle = {1, 0.5, 0.45 * tan(deadrise)}, .across = {0, 1, 0}, .half = 0.05, .front = 1, .rear = 1};
}

/* A strake 40 mm wide and as high as given, 0.6 m out to 2 m and then running in to 0.3 m at the bow: 0.1 m a metre. */
static dd_rail running_in(double height)
{
    return (dd_rail){.name = "strake", .at_count = 3, .half_breadth_count = 3, .at = {0, 2, 5}, .half_breadth = {0.6, 0.6, 0.3}, .width = 0.04, .height = height};
}

static void a_band_under_a_panel(void **state)
{
    (void)state;
    dd_hull *hull = vee(0.4);
    for (int side = -1; side <= 1; side += 2) {
        const dd_seat_band b = lying(side);
        double inner, outer;
        dd_seat_reach(&b, &inner, &outer);
        CHECK_NEAR(inner, 0.5 - 0.035 * cos(deadrise), tight, "inner edge");
        CHECK_NEAR(outer, 0.5 + 0.035 * cos(deadrise), tight, "outer edge");
        CHECK_NEAR(dd_seat_band_height(&b, outer), 0.5 * tan(deadrise) + 0.035 * sin(deadrise), tight, "height of the outer edge");
        CHECK_NEAR(dd_seat_chine(hull, 4), 0.6, tight, "chine, half way in");
        CHECK_NEAR(dd_seat_rise(hull, &b, 2), 0, tight, "it touches");
        CHECK_NEAR(dd_seat_rise(hull, &b, 4), 0.2, tight, "where the keel has risen by half");
        assert_true(isnan(dd_seat_rise(hull, &b, 4.5))); /* the chine is 0.4 m out there */
    }
    dd_seat_band keel = lying(1);
    keel.side = 0;
    keel.middle = dd_vec(1, 0, -0.01);
    keel.across = dd_vec(0, 1, 0);
    CHECK_NEAR(dd_seat_rise(hull, &keel, 2), 0.01, tight, "a keel roller 10 mm low");
    const dd_seat_band flat = level();
    CHECK_NEAR(dd_seat_rise(hull, &flat, 2), 0, tight, "a level axle touches with its inner edge");
    dd_hull_free(hull);
}

/* It bears until the keel has risen by 50 mm, 0.2 m a metre from 3 m on; and no farther than where its inner edge comes out from under
   the chine, which runs in by 0.4 m a metre. */
static void it_bears_until_the_hull_has_risen_or_left(void **state)
{
    (void)state;
    dd_hull *hull = vee(0.4);
    dd_seat_band b = lying(1);
    dd_seat_run run = dd_seat_run_of(hull, &b);
    CHECK_NEAR(run.from, 1, tight, "home");
    CHECK_NEAR(run.to, 5, tight, "bow");
    CHECK_NEAR(run.bears_to, 3.25, halved, "risen by 50 mm");
    b.front = b.rear = b.middle.x = -0.3; /* behind the transom */
    CHECK_NEAR(dd_seat_run_of(hull, &b).from, 0, tight, "the transom");
    dd_hull_free(hull);
    hull = vee(0);
    b = lying(1);
    run = dd_seat_run_of(hull, &b);
    CHECK_NEAR(run.bears_to, 3 + (1 - 0.5 + 0.035 * cos(deadrise)) / 0.4, halved, "over the chine");
    double x = NAN;
    CHECK_NEAR(dd_seat_chine_clearance(hull, &b, 1, 4, &x), 0.6 - 0.5 - 0.035 * cos(deadrise), tight, "to the chine");
    CHECK_NEAR(x, 4, tight, "where it is narrowest");
    dd_hull_free(hull);
}

/* The strake's middle is m(x) = 0.8 - 0.1 x from 2 m on; its edges stand 20 mm either side, the roller's 32.9 mm. */
static void a_strake_runs_in_over_a_roller(void **state)
{
    (void)state;
    dd_hull *hull = vee(0);
    const dd_rail strake = running_in(0.015), unknown = running_in(NAN);
    const double half = 0.035 * cos(deadrise);
    for (int side = -1; side <= 1; side += 2) {
        const dd_seat_band b = lying(side);
        double x = NAN;
        CHECK_NEAR(dd_seat_strake_clearance(hull, &b, &strake, 1, 1, &x), 0.6 - 0.02 - 0.5 - half, tight, "at home");
        CHECK_NEAR(dd_seat_strake_clearance(hull, &b, &strake, 1, 2.5, &x), 0.55 - 0.02 - 0.5 - half, tight, "run by 1.5 m");
        CHECK_NEAR(x, 2.5, tight, "where");
        CHECK_NEAR(dd_seat_strake_clearance(hull, &b, &strake, 1, 4, &x), -0.02 - half, tight, "when it has crossed");
        CHECK_NEAR(x, 3, tight, "middle on middle");
        dd_seat_crossing c[DD_SEAT_CROSSINGS];
        for (int known = 0; known < 2; known++) {
            assert_int_equal(dd_seat_crossings(hull, &b, known ? &strake : &unknown, 1, 5, c), 1);
            CHECK_NEAR(c[0].from, (0.8 - 0.02 - 0.5 - half) / 0.1, tight, "it comes over the outer edge");
            CHECK_NEAR(c[0].to, (0.8 + 0.02 - 0.5 + half) / 0.1, tight, "it leaves the inner edge");
            if (known) CHECK_NEAR(c[0].step_from, 0.015, tight, "as high as it stands out");
            if (known) CHECK_NEAR(c[0].step_to, 0.015, tight, "as high as it stands out");
            if (!known) assert_true(isnan(c[0].step_from) && isnan(c[0].step_to));
        }
        assert_int_equal(dd_seat_crossings(hull, &b, &strake, 1, 2, c), 0);
        assert_true(isinf(dd_seat_strake_clearance(hull, &b, &strake, 5.1, 5.2, NULL))); /* it has ended */
    }
    dd_hull_free(hull);
}

/* Under a level axle there is (y - 0.45 m) tan 20 deg of room at a half breadth y, 36 mm at its outer edge: a strake 20 mm high
   passes over that, and touches when its inner edge has come in to 0.45 m + 20 mm / tan 20 deg. */
static void a_strake_passes_over_until_there_is_no_room(void **state)
{
    (void)state;
    dd_hull *hull = vee(0);
    const dd_seat_band b = level();
    const dd_rail strake = running_in(0.02);
    const double touches = 0.45 + 0.02 / tan(deadrise);
    dd_seat_crossing c[DD_SEAT_CROSSINGS];
    assert_int_equal(dd_seat_crossings(hull, &b, &strake, 1, 5, c), 1);
    CHECK_NEAR(c[0].from, (0.8 - 0.02 - touches) / 0.1, halved, "it begins to touch");
    CHECK_NEAR(c[0].step_from, 0, halved, "it comes up slowly");
    CHECK_NEAR(c[0].to, (0.8 + 0.02 - 0.45) / 0.1, tight, "it leaves the inner edge");
    CHECK_NEAR(c[0].step_to, 0.02, tight, "no room at the inner edge");
    assert_true(isinf(dd_seat_strake_clearance(hull, &b, &strake, 1, 2.7, NULL)));
    /* A strake 10 mm wide and 15 mm high that runs out: it touches until its inner edge is 0.45 m + 15 mm / tan 20 deg out, 40 mm
       over the roller's inner edge with its own width, before the two middles meet. */
    const dd_rail narrow = {.at_count = 2, .half_breadth_count = 2, .at = {0, 4}, .half_breadth = {0.4, 0.6}, .width = 0.01, .height = 0.015};
    const double until = 0.45 + 0.015 / tan(deadrise) + 0.005;
    double x = NAN;
    assert_true(until < 0.5);
    CHECK_NEAR(dd_seat_strake_clearance(hull, &b, &narrow, 0, 4, &x), 0.45 - until - 0.005, halved, "as far over as it touches");
    CHECK_NEAR(x, (until - 0.4) / 0.05, halved, "where");
    assert_int_equal(dd_seat_crossings(hull, &b, &narrow, 0, 4, c), 1);
    CHECK_NEAR(c[0].to, (until - 0.4) / 0.05, halved, "until there");
    dd_hull_free(hull);
}

/* A keel roller 200 mm wide: a strake 0.13 m out stands 10 mm clear of its edge; one 0.11 m out 10 mm over it, 20 mm high, where the
   bottom is 0.1 tan 20 deg = 36 mm up: it touches a flange of 30 mm and passes over without. */
static void strakes_beside_a_keel_roller(void **state)
{
    (void)state;
    dd_hull *hull = vee(0);
    dd_seat_band b = {.side = 0, .middle = {1, 0, 0}, .across = {0, 1, 0}, .half = 0.1, .flange = 0.03, .front = 1, .rear = 1};
    dd_rail strake = {.at_count = 2, .half_breadth_count = 2, .at = {0, 4}, .half_breadth = {0.13, 0.13}, .width = 0.04, .height = 0.02};
    dd_seat_crossing c[DD_SEAT_CROSSINGS];
    CHECK_NEAR(dd_seat_strake_clearance(hull, &b, &strake, 1, 3, NULL), 0.01, tight, "beside it");
    strake.half_breadth[0] = strake.half_breadth[1] = 0.11;
    CHECK_NEAR(dd_seat_strake_clearance(hull, &b, &strake, 1, 3, NULL), -0.01, tight, "over its flange");
    assert_int_equal(dd_seat_crossings(hull, &b, &strake, 1, 3, c), 1);
    CHECK_NEAR(c[0].step_from, 0.02 + 0.03 - 0.1 * tan(deadrise), tight, "over its flange");
    b.flange = 0;
    assert_true(isinf(dd_seat_strake_clearance(hull, &b, &strake, 1, 3, NULL)));
    assert_true(isinf(dd_seat_chine_clearance(hull, &b, 1, 3, NULL)));
    b.half = INFINITY; /* no width given */
    assert_true(isnan(dd_seat_strake_clearance(hull, &b, &strake, 1, 3, NULL)));
    assert_int_equal(dd_seat_crossings(hull, &b, &strake, 1, 3, c), 0);
    dd_hull_free(hull);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_band_under_a_panel), cmocka_unit_test(it_bears_until_the_hull_has_risen_or_left),
                                       cmocka_unit_test(a_strake_runs_in_over_a_roller), cmocka_unit_test(a_strake_passes_over_until_there_is_no_room),
                                       cmocka_unit_test(strakes_beside_a_keel_roller)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
