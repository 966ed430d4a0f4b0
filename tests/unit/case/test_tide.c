/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A scenario's tide: each kind reaches the level and its course in a run, on the ramp's datum; other units and time zones say the same. */
#include "tests/unit/case/cases.h"
#include <math.h>
#include "lib/base/calendar.h"
#include "lib/shore/shore.h"
#include "lib/shore/tide_given.h"
#include <drawdock/report.h>
#include <drawdock/study.h>

#define SCENARIO SOURCE_DIR "/scenarios/launch-on-the-tide.yaml"
#define TABLE SOURCE_DIR "/tests/unit/case/tide-table.yaml"
#define HOUR 3600.0
#define NOW 1784014200.0 /* 2026-07-14 07:30 UTC: 20648 days and 7.5 h, from `date -u` */

static dd_case_file *read_with(const char *path, const char *const *overrides)
{
    static const char *const search[] = {SOURCE_DIR "/scenarios", NULL};
    dd_case_file *file = NULL;
    dd_error_list list;
    if (dd_case_read(path, overrides, search, &file, &list) != DD_OK) fail_msg("%s: %s", list.errors[0].place, list.errors[0].message);
    dd_error_list_free(&list);
    return file;
}

static double level_of(const dd_case *c)
{
    double level;
    dd_error error;
    if (dd_water_level_now(&c->water, c->ramp.datum, &level, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
    return level;
}

static double level_with(const char *path, const char *one, const char *two)
{
    const char *overrides[] = {one, two, NULL};
    dd_case_file *file = read_with(path, overrides);
    const double level = level_of(dd_case_of(file));
    dd_case_free(file);
    return level;
}

/* Library: dd_tide_harmonic, which other tests hold to published heights; set-up 0.05 m; land datum 1.38 m above LAT (P287, P289: water
   on the tide's datum less the offset). */
static void constants_reach_the_level(void **state)
{
    (void)state;
    const double degree = M_PI / 180;
    const dd_tide_constant constants[] = {{"M2", 0.71, 284 * degree}, {"S2", 0.20, 310 * degree}, {"N2", 0.14, 271 * degree}, {"K2", 0.05, 305 * degree},
                                          {"K1", 0.21, 172 * degree}, {"O1", 0.12, 139 * degree}, {"P1", 0.06, 170 * degree}, {"SA", 0.07, 61 * degree}};
    dd_tide *tide;
    dd_tide_state at;
    dd_error error;
    assert_int_equal(dd_tide_harmonic(constants, 8, 1.42, DD_TIDE_MID_YEAR, NOW - HOUR, NOW + HOUR, &tide, &error), DD_OK);
    assert_int_equal(dd_tide_at(tide, NOW, &at, &error), DD_OK);
    dd_case_file *file = read_with(SCENARIO, NULL);
    const dd_case *c = dd_case_of(file);
    assert_true(c->water.time == NOW);
    assert_true(fabs(level_of(c) - (at.level + 0.05 - 1.38)) < 1e-12);
    /* the course of the run: cubics between 25 knots of 10 min stand within (h^4/384) sum A w^4 < 1e-9 m */
    dd_water water = c->water;
    assert_int_equal(dd_water_take_tide(&water, c->ramp.datum, c->time_limit, &error), DD_OK);
    assert_true(dd_water_moves(&water));
    for (double t = 0; t <= c->time_limit; t += c->time_limit / 97) {
        const dd_water_surface s = dd_water_surface_at(&water, 0, t);
        assert_int_equal(dd_tide_at(tide, NOW + t, &at, &error), DD_OK);
        if (fabs(s.level - (at.level - 1.33)) > 1e-9 || (t < c->time_limit - 1 && fabs(s.rate - at.rate) > 1e-9)) fail_msg("at %g s: %.12g, %.12g", t, s.level, s.rate);
    }
    /* a study at rest keeps the level of the start */
    water = c->water;
    assert_int_equal(dd_water_take_tide(&water, c->ramp.datum, 0, &error), DD_OK);
    assert_false(dd_water_moves(&water));
    dd_tide_free(tide);
    dd_case_free(file);
}

/* The same in feet and radians, and in another time zone: rounding alone between them (1e-12 m). */
static void other_units_say_the_same(void **state)
{
    (void)state;
    const double level = level_with(SCENARIO, NULL, NULL);
    assert_true(level_with(SCENARIO, "water.time=2026-07-14T03:30-04:00", NULL) == level);
    assert_true(level_with(SCENARIO, "water.time=2026-07-14 07:30:00 UTC", NULL) == level);
    assert_true(fabs(level_with(SCENARIO, "water.time=2026-07-14 07:31 Z", NULL) - level) > 1e-4);
    char metres[96], feet[96];
    snprintf(metres, sizeof metres, "water.tide.constants[M2].amplitude=%.17g ft", 0.71 / 0.3048);
    snprintf(feet, sizeof feet, "water.tide.constants[M2].phase=%.17g rad", 284 * M_PI / 180);
    assert_true(fabs(level_with(SCENARIO, metres, feet) - level) < 1e-12);
    snprintf(feet, sizeof feet, "water.datums[land datum].height=%.17g in", 1.38 / 0.0254);
    assert_true(fabs(level_with(SCENARIO, feet, NULL) - level) < 1e-12);
}

/* tide-table.yaml at 07:30 lies between 1.6 m at 05:00 and 2.4 m at 13:00: 2.5 h of 8 h. Closed forms; LAT stands 1.1 m below the
   ramp's datum (the figures of P287), set-up 0.05 m. */
static void tables_reach_the_level(void **state)
{
    (void)state;
    const double off = 0.05 - 1.1, share = 2.5 / 8;
    assert_true(fabs(level_with(TABLE, NULL, NULL) - (1.6 + 0.8 * (1 - cos(M_PI * share)) / 2 + off)) < 1e-12);
    /* twelfths: of 6 parts 1.875: one twelfth, and 0.875 of the next two */
    assert_true(fabs(level_with(TABLE, "water.tide.kind=twelfths", NULL) - (1.6 + 0.8 * (1 + 0.875 * 2) / 12 + off)) < 1e-12);
    /* samples pass through their points */
    assert_true(fabs(level_with(TABLE, "water.tide.kind=samples", "water.time=2026-07-14 05:00 Z") - (1.6 + off)) < 1e-12);
    assert_true(fabs(level_with(TABLE, "water.tide.kind=samples", "water.time=2026-07-14 13:00 Z") - (2.4 + off)) < 1e-12);
    /* P287: a toe at -2.0 m on land datum is 0.9 m under water at LAT */
    assert_true(fabs(level_with(TABLE, "water.tide.points[3].level=0 m", "water.time=2026-07-14 05:00 Z") - 0.05 - -2.0 - 0.9) < 1e-12);
    /* a station an hour later, high waters 1.1 of the reference's and low ones 0.2 m higher: its low of 06:00 */
    assert_true(fabs(level_with(TABLE, "water.tide.subordinate={station: creek, datum: LAT, high water later: 1 h, low water later: 1 h, high water ratio: 1.1, low water higher: 0.2 m}",
                                "water.time=2026-07-14 06:00 Z") - (1.8 + off)) < 1e-9);
}

/* P286: water lower than the datum is a level like any other; P290: levels on two datums are never mixed without a stated height, and one that says
   none is asked above what. Outside its table a tide is unknown. */
static void what_is_not_stated_is_not_assumed(void **state)
{
    (void)state;
    assert_true(fabs(level_with(TABLE, "water.tide.points[3].level=-0.2 m", "water.time=2026-07-14 05:00 Z") - (0.05 - 1.3)) < 1e-12);
    const char *late[] = {"water.time=2026-07-15 11:55 Z", NULL};
    dd_case_file *file = read_with(TABLE, late);
    const dd_case *c = dd_case_of(file);
    dd_water water = c->water;
    dd_error error;
    assert_int_equal(dd_water_take_tide(&water, c->ramp.datum, 600, &error), DD_ERROR_ARGUMENT);
    assert_string_equal(error.place, "water.time");
    water = c->water;
    assert_int_equal(dd_water_take_tide(&water, "another datum", 60, &error), DD_ERROR_ARGUMENT);
    assert_string_equal(error.place, "water.datums");
    assert_non_null(strstr(error.message, "never assumed"));
    assert_int_equal(dd_water_take_tide(&water, "", 60, &error), DD_ERROR_ARGUMENT);
    assert_non_null(strstr(error.message, "above what?"));
    water.time = NAN;
    assert_int_equal(dd_water_take_tide(&water, c->ramp.datum, 60, &error), DD_ERROR_UNSET);
    dd_case_free(file);
}

static const dd_report_table *table_of(const dd_report *r, const char *key)
{
    for (int i = 0; i < r->table_count; i++)
        if (strcmp(r->tables[i].key, key) == 0) return &r->tables[i];
    return NULL;
}

/* P285, practice (its half hour; its foot under the slab's end is of a retrieve): on a short slab the ebb ends the day. What still goes
   0.84 m over the slab's end, within reckoning of the least level, does not half an hour later. */
static bool works_at(const char *time)
{
    const char *overrides[] = {time, "ramp.toe level=-0.49 m", NULL};
    dd_case_file *file = read_with(SCENARIO, overrides);
    dd_report *report;
    dd_error error;
    if (dd_study_ramp_depth(dd_case_of(file), 0, NULL, &report, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
    assert_non_null(table_of(report, "tide"));
    assert_non_null(table_of(report, "tide_curve"));
    bool works = true;
    for (int i = 0; i < report->note_count; i++) works = works && strncmp(report->notes[i], "At this level no place works", 28) != 0;
    dd_report_free(report);
    dd_case_free(file);
    return works;
}

/* Times by a place's clock, put forward between two turns of the tide: each says which it is; hours go on evenly. */
static void the_tide_by_the_clock(void **state)
{
    (void)state;
    const dd_clock_change changes[] = {{-1e12, 10 * HOUR, "AEST"}, {NOW + 3 * HOUR, 11 * HOUR, "AEDT"}};
    const dd_clock clock = {"a zone of our own", 2, changes};
    dd_case_file *file = read_with(SCENARIO, NULL);
    dd_report *by_clock, *utc;
    dd_error error;
    if (dd_study_ramp_depth(dd_case_of(file), 0, &clock, &by_clock, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
    if (dd_study_ramp_depth(dd_case_of(file), 0, NULL, &utc, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
    const dd_report_table *local = table_of(by_clock, "tide"), *plain = table_of(utc, "tide");
    assert_non_null(strstr(local->title, "by the clock of a zone of our own"));
    int summer = 0;
    for (int row = 0; row < local->row_count; row++) {
        char expected[64], zone[16], *rest;
        double at;
        const double after = local->cells[row * local->column_count + 2].value;
        const char *text = local->cells[row * local->column_count + 1].text;
        assert_true(dd_calendar_parse(plain->cells[row * plain->column_count + 1].text, &at));
        const bool late = at >= NOW + 3 * HOUR;
        summer += late;
        assert_true(fabs(after - (at - NOW) / HOUR) < 0.5 / 60 + 1e-9);
        (void)dd_calendar_text(at + (late ? 11 : 10) * HOUR, expected, sizeof expected);
        rest = strrchr(expected, 'Z');
        assert_non_null(rest);
        snprintf(zone, sizeof zone, "%s", late ? "AEDT" : "AEST");
        snprintf(rest, (size_t)(expected + sizeof expected - rest), "%s", zone);
        assert_string_equal(text, expected);
    }
    assert_true(summer > 0 && summer < local->row_count);
    dd_report_free(by_clock);
    dd_report_free(utc);
    dd_case_free(file);
}

static void the_ebb_ends_a_short_slab(void **state)
{
    (void)state;
    assert_true(works_at("water.time=2026-07-14 10:30 Z"));
    assert_true(works_at("water.time=2026-07-14 11:15 Z"));
    assert_false(works_at("water.time=2026-07-14 11:45 Z"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(constants_reach_the_level), cmocka_unit_test(other_units_say_the_same),
                                       cmocka_unit_test(tables_reach_the_level), cmocka_unit_test(what_is_not_stated_is_not_assumed),
                                       cmocka_unit_test(the_tide_by_the_clock), cmocka_unit_test(the_ebb_ends_a_short_slab)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
