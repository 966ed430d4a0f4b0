/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where supports meet a hull, and what of it comes in their way: bands under a V of constant deadrise, whose strake and chine run in
   toward the bow. All expected values are closed forms, worked out beside each check; 1e-9 m, where a place is found by halving 1e-7. */
#include "lib/study/seat_meet.h"
#include "tests/unit/hull/hulls.h"
#include "tests/unit/study/reports.h"

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

/* --- in the report -------------------------------------------------------------------------------------------------- */

static const char vee_rig[] = "tests/unit/study/vee-on-rollers.yaml";

static dd_report *seated(const char *override)
{
    const char *overrides[] = {override, NULL};
    return seated_with(vee_rig, overrides);
}

static bool notes_say(const dd_report *report, const char *words)
{
    for (int i = 0; i < report->note_count; i++)
        if (strstr(report->notes[i], words) != NULL) return true;
    return false;
}

/* Axles at 17 deg under panels of 20 deg, 0.5 m out, rollers 70 mm wide and 75 mm thick: the axle's outer end is 3 deg farther off. The
   hull trims by less than 4 mrad, which enters squared. Millimetres within 0.01. */
static void a_pair_of_rollers_in_the_report(void **state)
{
    (void)state;
    const double axle = 17 * DEGREE, half = 35 * cos(axle), radius = 37.5;
    dd_report *report = seated(NULL);
    for (int side = -1; side <= 1; side += 2) {
        const char *row = side > 0 ? "side rollers port" : "side rollers starboard";
        const double gap = number_at(report, "contacts", row, "gap"), y = number_at(report, "contacts", row, "to port");
        assert_true(gap < -1); /* it bears */
        assert_string_equal(cell_at(report, "contacts", row, "panel")->text, "bottom");
        CHECK_NEAR(1e3 * side * y, 500 + radius * sin(axle) - (radius + gap) * sin(deadrise), 0.01, row);
        CHECK_NEAR(number_at(report, "contacts", row, "height"), side * y * tan(deadrise), 1e-6, row);
        CHECK_NEAR(number_at(report, "contacts", row, "angle to panel"), -3, 1e-3, row);
        CHECK_NEAR(number_at(report, "contacts", row, "to keel"), 500 - half, 0.01, row);
        CHECK_NEAR(number_at(report, "contacts", row, "to chine"), 1000 - 500 - half, 0.01, row);
        CHECK_NEAR(number_at(report, "contacts", row, "to panel edge"), 500 - half, 0.01, row);
        CHECK_NEAR(number_at(report, "contacts", row, "to strake 1"), 580 - 500 - half, 0.01, row);
    }
    assert_string_equal(cell_at(report, "contacts", "rear keel roller", "panel")->text, "keel");
    CHECK_NEAR(number_at(report, "contacts", "rear keel roller", "to port"), 0, 1e-6, "on the middle plane");
    const double apart = number_at(report, "contacts", "front keel roller", "from transom") - number_at(report, "contacts", "rear keel roller", "from transom");
    CHECK_NEAR(apart, 2.4, 0.01, "as far apart as the rollers stand, but for the keel's rise ahead of 3 m");
    dd_report_free(report);
}

/* The strake comes over the outer edge, where there is room of 67 mm (tan 20 deg - tan 17 deg), and leaves the inner edge, where there is
   none; in between, middle on middle, it lies over the roller by half its own width and half the roller's. */
static void the_run_in_the_report(void **state)
{
    (void)state;
    const double half = 0.035 * cos(17 * DEGREE), room = 2 * half * (tan(deadrise) - tan(17 * DEGREE));
    dd_report *report = seated(NULL);
    const dd_report_table *t = table_named(report, "travel");
    const double home = number_at(report, "contacts", "side rollers port", "from transom");
    assert_int_equal(t->row_count, 10); /* two of the strake, three of the chine, each side */
    for (int r = 0; r < 10; r += 5) {
        const dd_report_cell *meets = &t->cells[r * t->column_count], *leaves = meets + t->column_count, *out = leaves + t->column_count;
        assert_string_equal(meets[1].text, "only");
        assert_string_equal(meets[2].text, "launching");
        assert_string_equal(leaves[2].text, "retrieving");
        CHECK_NEAR(meets[5].value, (0.8 - 0.02 - 0.5 - half) / 0.1, 1e-4, "it comes over the outer edge");
        CHECK_NEAR(meets[4].value, meets[5].value - home, 1e-3, "from home");
        CHECK_NEAR(meets[6].value, 15 - 1e3 * room, 0.01, "step at the outer edge");
        CHECK_NEAR(leaves[5].value, (0.8 + 0.02 - 0.5 + half) / 0.1, 1e-4, "it leaves the inner edge");
        CHECK_NEAR(leaves[6].value, 15, 1e-6, "step at the inner edge");
        assert_string_equal(meets[9].text, "yes");
        assert_string_equal(leaves[9].text, "no"); /* the keel has risen by 0.2 x 0.535 m */
        CHECK_NEAR(leaves[8].value, 1e3 * 0.2 * (leaves[5].value - 3), 8, "lifted, but for the trim");
        CHECK_NEAR(out[5].value, 3 + (1 - 0.5 - half) / 0.4, 1e-4, "the outer edge leaves the chine");
        CHECK_NEAR(out[1 * t->column_count + 5].value, 3 + (1 - 0.5 + half) / 0.4, 1e-4, "the inner edge leaves it");
        assert_string_equal(out[2 * t->column_count + 3].text, "the chine passes over it");
    }
    const dd_check *check = check_needed(report, "clearance to strakes");
    CHECK_NEAR(check->value, -20 - 1e3 * half, 0.01, "middle on middle");
    assert_int_equal(check->outcome, DD_CHECK_BROKEN);
    assert_non_null(strstr(check->words, "side rollers port beside the strake only"));
    assert_non_null(strstr(check->words, "3.00 m from the transom"));
    dd_report_free(report);
}

/* What is not given is told, and what cannot be told apart. */
static void not_given_is_not_checked(void **state)
{
    (void)state;
    dd_report *report = seated("boat.strakes=[]");
    assert_int_equal(check_needed(report, "clearance to strakes")->outcome, DD_CHECK_NOT_CHECKED);
    assert_non_null(strstr(check_needed(report, "clearance to strakes")->words, "boat.strakes"));
    dd_report_free(report);
    report = seated("trailer.supports[front keel roller].width=0 mm");
    assert_true(notes_say(report, "Not checked: strakes beside 1 keel roller without a width."));
    dd_report_free(report);
    report = seated("boat.strakes[only].half breadths=[850 mm, 850 mm, 370 mm]"); /* 0.61 m at 3.25 m, where it bears last */
    CHECK_NEAR(check_needed(report, "clearance to strakes")->value, 590 - 500 - 35 * cos(17 * DEGREE), 2, "still beside it");
    assert_int_equal(check_needed(report, "clearance to strakes")->outcome, DD_CHECK_GOOD);
    dd_report_free(report);
    report = seated("boat.strakes[only].height=3 mm"); /* below the room at the outer edge; at the inner edge it still catches */
    CHECK_NEAR(check_needed(report, "clearance to strakes")->value, -20 - 35 * cos(17 * DEGREE), 0.01, "it is caught all the same");
    dd_report_free(report);
    report = seated("boat.strakes=[{name: aft, at: [0 m, 0.5 m], half breadths: [500 mm, 500 mm], width: 40 mm}]");
    assert_null(check_named(report, "clearance to strakes"));
    assert_true(notes_say(report, "No strake comes beside a support while it bears."));
    dd_report_free(report);
}

/* The section at the side rollers: what stands in it, and the distances that the picture shows. */
static void a_section_for_the_picture(void **state)
{
    (void)state;
    const double half = 0.035 * cos(17 * DEGREE);
    dd_report *report = seated(NULL);
    const dd_report_table *t = table_named(report, "distances");
    int found = 0;
    for (int r = 0; r < t->row_count; r++) {
        const dd_report_cell *row = &t->cells[r * t->column_count];
        if (strcmp(row[8].text, "side rollers port to keel") == 0) {
            found++;
            CHECK_NEAR(row[2].value, 0, 1e-9, "from the keel");
            CHECK_NEAR(row[6].value, 500 - 1e3 * half, 0.01, "to the inner edge");
            assert_true(isnan(row[7].value)); /* nothing is asked of it */
        }
        if (strcmp(row[8].text, "side rollers port to only") == 0) {
            found++;
            CHECK_NEAR(row[3].value, 0.58, 1e-6, "to the strake's inner edge");
            CHECK_NEAR(row[6].value, 580 - 500 - 1e3 * half, 0.01, "from the outer edge");
            CHECK_NEAR(row[7].value, 20, 1e-9, "asked");
        }
    }
    assert_int_equal(found, 2);
    double row = number_at(report, "faces", "side rollers port", "row");
    CHECK_NEAR(row, number_at(report, "faces", "side rollers port", "load") + number_at(report, "faces", "side rollers starboard", "load"), 1e-9, "a row");
    assert_true(isnan(number_at(report, "faces", "side rollers starboard", "row")));
    dd_report_free(report);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_band_under_a_panel), cmocka_unit_test(it_bears_until_the_hull_has_risen_or_left),
                                       cmocka_unit_test(a_strake_runs_in_over_a_roller), cmocka_unit_test(a_strake_passes_over_until_there_is_no_room),
                                       cmocka_unit_test(strakes_beside_a_keel_roller), cmocka_unit_test(a_pair_of_rollers_in_the_report),
                                       cmocka_unit_test(the_run_in_the_report), cmocka_unit_test(not_given_is_not_checked),
                                       cmocka_unit_test(a_section_for_the_picture)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
