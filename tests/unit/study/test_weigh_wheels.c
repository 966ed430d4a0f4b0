/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Other wheels: track, gaps, lever and fit by hand, 1e-9 mm and N m (closed form; the track's row is common practice). */
#include "tests/unit/study/reports.h"

static double change(const dd_report *r, const char *column) { return number_at(r, "wheels", "change", column); }

/* Offset 85 - 139.7 / 2 = 15.15 mm before, 5 after; width 190 and 205; diameter 640 and 680. */
static void what_they_change(void **state)
{
    (void)state;
    const char *const plain[] = {"measured=[]", NULL};
    dd_report *r = weighed_with(RATED, plain);
    const double offset = 5 - 15.15, load = check_needed(r, "trailer's most loaded tyre")->value * 9.80665;
    NEAR(number_at(r, "wheels", "on it now", "offset"), 15.15, 1e-9);
    NEAR(change(r, "track"), -2 * offset, 1e-9);
    NEAR(change(r, "gap to guard"), -7.5 + offset, 1e-9);
    NEAR(change(r, "gap to frame"), -7.5 - offset, 1e-9);
    NEAR(change(r, "gap over tyre"), -20, 1e-9);
    NEAR(change(r, "loaded radius"), 20, 1e-9);
    NEAR(change(r, "hub moment"), -load * offset / 1000, 1e-9 * load);
    NEAR(number_at(r, "wheels", "others", "brake force"), 100 * (640.0 / 680 - 1), 1e-9);
    NEAR(number_at(r, "wheels", "others", "tyre rating"), 850, 1e-9);
    NEAR(number_at(r, "wheels", "others", "pressure"), 350 * pow(load / 9.80665 / 850, 1.25), 1e-6);
    /* gaps and the outer side together: the room between guard and frame is as wide as before */
    NEAR(change(r, "gap to guard") + change(r, "gap to frame") + 15, 0, 1e-9);
    dd_report_free(r);
}

static void fit_is(const char *override, const char *check, int outcome)
{
    const char *const overrides[] = {"measured=[]", override, NULL};
    dd_report *r = weighed_with(RATED, overrides);
    if (check_needed(r, check)->outcome != outcome) fail_msg("%s with %s: outcome %d, expected %d", check, override, check_needed(r, check)->outcome, outcome);
    dd_report_free(r);
}

static void whether_they_fit(void **state)
{
    (void)state;
    fit_is("trailer.other wheels.nut seat=cone", "other wheels: nut seats amiss", DD_CHECK_GOOD);
    fit_is("trailer.other wheels.nut seat=flat", "other wheels: nut seats amiss", DD_CHECK_BROKEN);
    fit_is("trailer.other wheels.stud count=6", "other wheels: studs amiss", DD_CHECK_BROKEN);
    fit_is("trailer.other wheels.stud count=5", "other wheels: studs amiss", DD_CHECK_GOOD);
    fit_is("trailer.other wheels.pitch circle=114 mm", "other wheels: pitch circle amiss", DD_CHECK_GOOD); /* 4 1/2 in */
    fit_is("trailer.other wheels.pitch circle=112 mm", "other wheels: pitch circle amiss", DD_CHECK_BROKEN);
    fit_is("trailer.other wheels.centre bore=66.6 mm", "other wheels: centre bore less the hub's collar", DD_CHECK_BROKEN);
    fit_is("trailer.other wheels.centre bore=73 mm", "other wheels: play on the hub's collar", DD_CHECK_CAUTION);
    fit_is("trailer.other wheels.brake room=270 mm", "other wheels: room less the brake", DD_CHECK_BROKEN);
    fit_is("trailer.other wheels.offset=-50 mm", "other wheels: gap to the guard", DD_CHECK_BROKEN);
    fit_is("trailer.other wheels.offset=60 mm", "other wheels: gap to the frame", DD_CHECK_BROKEN);
    fit_is("trailer.other wheels.offset=-20 mm", "other wheels: usual gap to the guard", DD_CHECK_CAUTION);
    fit_is("trailer.other wheels.tyre diameter=800 mm", "other wheels: gap over the tyre", DD_CHECK_BROKEN);
    fit_is("trailer.other wheels.load rating=400 kg", "other wheels: most loaded tyre", DD_CHECK_BROKEN);
    fit_is("vehicle.road speed=150 km/h", "other wheels: speed of the tyres", DD_CHECK_BROKEN);
}

/* Larger wheels under the trailer are a lower ball: the coupling load is that of the ball lowered, 1e-6 kg; the same the other way
   round with other tyres under the vehicle. */
static void ride_height(void **state)
{
    (void)state;
    const char *const others[] = {"trailer.other wheels.tyre diameter=704 mm", NULL},
                *const lowered[] = {"vehicle.coupling height=390 mm", "vehicle.centre height=620 mm", NULL};
    const char *const place = "placed={transom behind coupling: 6.4 m, keel above ground: 600 mm}";
    const char *const a_with[] = {others[0], place, NULL}, *const b_with[] = {lowered[0], place, NULL};
    dd_case_file *file = scenario_with(BARE, NULL);
    const dd_trailer_parameters *t = &dd_case_of(file)->trailer;
    const double now = 2 * (t->tyre_radius + t->tyre_squash), height = dd_case_of(file)->vehicle.coupling_height;
    dd_case_free(file);
    dd_report *a = weighed_with(BARE, a_with), *b = weighed_with(BARE, b_with);
    NEAR(number_at(a, "wheels", "on it now", "coupling load"), number_at(a, "road", "as given", "coupling"), 1e-9);
    NEAR(change(a, "loaded radius"), 500 * (0.704 - now), 1e-9);
    char ball[64];
    snprintf(ball, sizeof ball, "vehicle.coupling height=%.9f m", height - 0.5 * (0.704 - now));
    const char *const c_with[] = {ball, place, NULL};
    dd_report *c = weighed_with(BARE, c_with);
    NEAR(number_at(a, "wheels", "others", "coupling load"), number_at(c, "road", "as given", "coupling"), 1e-6);
    assert_true(number_at(b, "road", "as given", "coupling") != number_at(a, "road", "as given", "coupling"));
    dd_report_free(a);
    dd_report_free(b);
    dd_report_free(c);
}

/* An offset that is not known of the wheels that are on leaves track and gaps unknown, not unchanged. */
static void unknown_offset(void **state)
{
    (void)state;
    const char *const with[] = {"trailer.other wheels={offset: 20 mm}", "trailer.hubs={gap to guard: 50 mm}", NULL};
    dd_report *r = weighed_with(BARE, with);
    assert_true(isnan(change(r, "track")) && isnan(change(r, "gap to guard")));
    assert_int_equal(check_needed(r, "other wheels: gap to the guard")->outcome, DD_CHECK_NOT_CHECKED);
    assert_non_null(strstr(table_named(r, "wheels")->note, "Give the offset"));
    dd_report_free(r);
}

/* The rows of `other wheels` and `other tyres` are those of the present ones: each must do something there as well. */
static void every_key_of_the_others(void **state)
{
    (void)state;
    static const char *const keys[] = {
        "trailer.other wheels.load index=95", "trailer.other wheels.load rating=700 kg", "trailer.other wheels.speed symbol=J",
        "trailer.other wheels.pressure=200 kPa", "trailer.other wheels.full pressure=500 kPa", "trailer.other wheels.tyre diameter=700 mm",
        "trailer.other wheels.car tyre=yes", "trailer.other wheels.tyres each side=2", "trailer.other wheels.tyre width=230 mm",
        "trailer.other wheels.rim rating=500 kg", "trailer.other wheels.rim width=165 mm", "trailer.other wheels.offset=12 mm",
        "trailer.other wheels.backspace=90 mm", "trailer.other wheels.stud count=6", "trailer.other wheels.pitch circle=120 mm",
        "trailer.other wheels.centre bore=80 mm", "trailer.other wheels.nut seat=flat", "trailer.other wheels.brake room=250 mm",
        "vehicle.other tyres.load index=95", "vehicle.other tyres.load rating=700 kg", "vehicle.other tyres.speed symbol=J",
        "vehicle.other tyres.pressure=200 kPa", "vehicle.other tyres.full pressure=500 kPa", "vehicle.other tyres.tyre diameter=700 mm"};
    const char *with[] = {"measured=[]", "trailer.other wheels={load index: 104, backspace: 80 mm, rim width: 152 mm, tyre width: 200 mm, stud count: 5, "
                          "pitch circle: 114.3 mm, centre bore: 71 mm, nut seat: cone, brake room: 290 mm, pressure: 300 kPa, full pressure: 400 kPa, "
                          "speed symbol: N, rim rating: 700 kg}",
                          "vehicle.other tyres={load index: 104, pressure: 300 kPa, full pressure: 400 kPa, speed symbol: N}", NULL, NULL};
    dd_report *r = weighed_with(RATED, with);
    char *before = dd_report_json(r);
    dd_report_free(r);
    for (size_t i = 0; i < sizeof keys / sizeof keys[0]; i++) {
        with[3] = keys[i];
        r = weighed_with(RATED, with);
        char *after = dd_report_json(r);
        if (strcmp(before, after) == 0) fail_msg("%s changed nothing", keys[i]);
        free(after);
        dd_report_free(r);
    }
    free(before);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(what_they_change), cmocka_unit_test(whether_they_fit), cmocka_unit_test(ride_height),
                                       cmocka_unit_test(unknown_offset),
                                       cmocka_unit_test(every_key_of_the_others)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
