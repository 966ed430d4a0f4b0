/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reports: units, checks, CSV and JSON. Grade: closed form. */
#include "lib/record/reporter.h"
#include "lib/record/us_units.h"
#include <drawdock/result.h>
#include <jansson.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

static dd_report *made(int units)
{
    dd_reporter *r = dd_reporter_create("A rig, \"as is\"", "weigh", units);
    assert_non_null(r);
    dd_reporter_table(r, "loads", "What is aboard", 1);
    dd_reporter_column(r, "item", "", 0, "what it is");
    dd_reporter_column(r, "mass", "kg", 1, "its mass");
    dd_reporter_column(r, "from transom", "mm", 0, "its centre");
    dd_reporter_words(r, "fuel, %d L", 60);
    dd_reporter_value(r, 45.359237);
    dd_reporter_value(r, 2.54);
    dd_reporter_words(r, "left short");
    dd_reporter_table_note(r, "two rows");
    dd_reporter_check(r, &(dd_check){.group = "ratings", .name = "axle", .state = "as given", .value = 900, .limit = 1000, .unit = "kg"});
    dd_reporter_check(r, &(dd_check){.group = "ratings", .name = "axle", .state = "full fuel", .value = 1100, .limit = 1000, .unit = "kg"});
    dd_reporter_check(r, &(dd_check){.group = "ratings", .name = "axle", .state = "bare", .value = 1000, .limit = 1000, .unit = "kg"});
    dd_reporter_check(r, &(dd_check){.group = "ratings", .name = "tyre", .value = 400, .limit = NAN, .unit = "kg"});
    dd_reporter_check(r, &(dd_check){.group = "coupling", .name = "least load", .value = 40, .limit = 50, .unit = "kg", .least = 1, .outcome = DD_CHECK_CAUTION});
    dd_reporter_check(r, &(dd_check){.group = "coupling", .name = "most load", .value = 40, .limit = 80, .unit = "kg", .source = "practice"});
    dd_reporter_note(r, "once");
    dd_reporter_note(r, "once");
    dd_reporter_assumed(r, "assumed %s", "this");
    dd_report *report;
    assert_int_equal(dd_reporter_finish(r, &report, NULL), DD_OK);
    return report;
}

static void units_are_those_of_the_report(void **state)
{
    (void)state;
    dd_report *metric = made(DD_REPORT_METRIC), *us = made(DD_REPORT_US);
    const dd_report_table *m = &metric->tables[0], *u = &us->tables[0];
    assert_string_equal(m->columns[1].unit, "kg");
    assert_string_equal(u->columns[1].unit, "lb");
    assert_string_equal(u->columns[2].unit, "in");
    /* Exact factors of 1959; tolerance 1e-12 of the value; grade published. */
    assert_true(fabs(m->cells[1].value - 45.359237) < 1e-12 && fabs(u->cells[1].value - 100) < 1e-10);
    assert_true(fabs(m->cells[2].value - 2540) < 1e-9 && fabs(u->cells[2].value - 100) < 1e-10);
    assert_int_equal(m->row_count, 2);
    assert_true(m->cells[3].text != NULL && m->cells[4].text == NULL && isnan(m->cells[4].value) && isnan(m->cells[5].value));
    assert_true(fabs(us->checks[0].value - 1100 / 0.45359237) < 1e-9);
    dd_report_free(metric);
    dd_report_free(us);
}

/* What is only advised and missed is no limit that holds: it is not counted with them nor named as the tightest. Grade: closed form. */
static void a_caution_that_is_missed_does_not_hold(void **state)
{
    (void)state;
    static const struct { int good, cautions, broken, unchecked; const char *says; } all[] = {
        {2, 0, 0, 0, "2 limits hold, the tightest is good 2."},
        {1, 0, 0, 1, "1 limit holds, good 1. 1 could not be checked for want of a figure."},
        {2, 1, 0, 0, "2 of 3 limits hold, the tightest is good 2; 1 asks for caution: caution 1."},
        {1, 2, 0, 0, "1 of 3 limits holds, the tightest is good 1; 2 ask for caution, first: caution 2."},
        {0, 1, 0, 0, "No limit is broken; 1 asks for caution: caution 1."},
        {1, 1, 2, 0, "2 of 4 limits are broken, first: broken 2; 1 asks for caution."},
        {0, 0, 0, 2, ""},
    };
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        dd_reporter *r = dd_reporter_create("A rig", "brake", DD_REPORT_METRIC);
        dd_report *report;
        char name[24];
        for (int k = 1; k <= all[i].good + all[i].cautions + all[i].broken + all[i].unchecked; k++) {
            const int caution = k - all[i].good, broken = caution - all[i].cautions, unchecked = broken - all[i].broken;
            dd_check check = {.group = "brakes", .value = caution > 0 ? 100 + k : 90 + k, .limit = unchecked > 0 ? NAN : 100, .unit = "degC"};
            if (caution > 0 && broken <= 0) check.outcome = DD_CHECK_CAUTION;
            snprintf(name, sizeof name, unchecked > 0 ? "not given %d" : broken > 0 ? "broken %d" : caution > 0 ? "caution %d" : "good %d",
                     unchecked > 0 ? unchecked : broken > 0 ? broken : caution > 0 ? caution : k);
            snprintf(check.name, sizeof check.name, "%s", name);
            dd_reporter_check(r, &check);
        }
        assert_int_equal(dd_reporter_finish(r, &report, NULL), DD_OK);
        assert_string_equal(report->sentence, all[i].says);
        dd_report_free(report);
    }
}

/* A limit that holds answers another question: what is asked first is open until a check of its group is judged. */
static void what_is_asked_stays_open(void **state)
{
    (void)state;
    static const struct {
        const char *group;
        double value;
        int verdict;
        const char *word, *sentence;
    } of[] = {{"", NAN, DD_VERDICT_UNCHECKED, "nothing was checked", NULL},
              {"holding", 1, DD_VERDICT_UNCHECKED, "stopping was not checked", "1 limit holds, load. None of them is about stopping."},
              {"holding", 3, DD_VERDICT_BROKEN, "a limit is broken", "1 of 1 limits is broken, first: load. None of them is about stopping."},
              {"stopping", 1, DD_VERDICT_WITHIN, "within the limits given", "1 limit holds, load."}};
    for (size_t i = 0; i < sizeof of / sizeof of[0]; i++) {
        dd_report *report;
        dd_error error;
        dd_reporter *r = dd_reporter_create("A rig", "brake", DD_REPORT_METRIC);
        const dd_check check = dd_check_of(of[i].group, NULL, of[i].value, 2, "N", "", "load");
        dd_reporter_asked(r, "stopping");
        dd_reporter_check(r, &check);
        assert_int_equal(dd_reporter_finish(r, &report, &error), DD_OK);
        assert_int_equal(report->verdict, of[i].verdict);
        assert_string_equal(report->word, of[i].word);
        if (of[i].sentence != NULL) assert_string_equal(report->sentence, of[i].sentence);
        dd_report_free(report);
    }
}

static void checks_are_judged_and_sorted(void **state)
{
    (void)state;
    dd_report *report = made(DD_REPORT_METRIC);
    assert_int_equal(report->check_count, 4); /* of the three states of the axle the tightest */
    assert_int_equal(report->checks[0].outcome, DD_CHECK_BROKEN);
    assert_string_equal(report->checks[0].state, "full fuel");
    assert_true(fabs(report->checks[0].share - 1.1) < 1e-12);
    assert_int_equal(report->checks[1].outcome, DD_CHECK_CAUTION);
    assert_true(fabs(report->checks[1].share - 1.25) < 1e-12);
    assert_int_equal(report->checks[2].outcome, DD_CHECK_GOOD);
    assert_int_equal(report->checks[3].outcome, DD_CHECK_NOT_CHECKED);
    assert_int_equal(report->verdict, DD_VERDICT_BROKEN);
    assert_int_equal(report->note_count, 1);
    assert_int_equal(report->source_count, 1);
    assert_non_null(strstr(report->sentence, "1 of 3 limits is broken, first: axle (full fuel)"));
    dd_report_free(report);
}

static void it_reads_back(void **state)
{
    (void)state;
    dd_report *report = made(DD_REPORT_METRIC);
    char *csv = dd_report_csv(report, "loads"), *checks = dd_report_csv(report, "checks"), *text = dd_report_json(report);
    assert_string_equal(csv, "item,mass_kg,from_transom_mm\n\"fuel, 60 L\",45.359237,2540\nleft short,,\n");
    assert_non_null(strstr(checks, "ratings,axle,full fuel,1100,most,1000,kg,1.1,broken,,\n"));
    assert_non_null(strstr(checks, "ratings,tyre,,400,most,,kg,,not checked,,\n"));
    assert_null(dd_report_csv(report, "nothing"));
    json_t *root = json_loads(text, 0, NULL);
    assert_non_null(root);
    json_t *table = json_array_get(json_object_get(root, "tables"), 0);
    json_t *row = json_array_get(json_object_get(table, "rows"), 0);
    assert_true(json_real_value(json_array_get(row, 1)) == 45.359237);
    assert_true(json_is_null(json_array_get(json_array_get(json_object_get(table, "rows"), 1), 1)));
    assert_true(json_array_size(json_object_get(root, "cautions")) >= 4);
    json_decref(root);
    free(csv);
    free(checks);
    free(text);
    dd_report_free(report);
}

/* Exact factors of 1959; grade published. */
static void sentences_are_turned(void **state)
{
    (void)state;
    static const struct { const char *metric, *us; } all[] = {
        {"hub 456 mm under water (342 to 592), 7 times", "hub 17.95 in under water (13.46 to 23.31), 7 times"},
        {"from 11.0 to 16.3 m", "from 36.1 to 53.5 ft"},
        {"a level of -0.01 m (now 1.20 m)", "a level of -0.03 ft (now 3.94 ft)"},
        {"lengths of 4.20, 5.00, 6.00 m; axle 2, 5.00 m", "lengths of 13.78, 16.40, 19.69 ft; axle 2, 16.40 ft"},
        {"+0.50 m; 8.21e+04 N m/rad", "+19.7 in; 6.06e+04 lbf ft/rad"},
        {"7 kN, 350 MPa, 2 t, 80 km/h, 5.0 km", "1570 lbf, 50800 psi, 4410 lb, 50 mph, 16400 ft"},
        {"20 %, 3 s, 12 V, 0.8 g, 12 lb", "20 %, 3 s, 12 V, 0.8 g, 12 lb"},
        {"rule \"to 750 kg\": 750 kg", "rule \"to 750 kg\": 1654 lb"},
    };
    char quoted[1][200] = {"to 750 kg"};
    dd_told told = {.value = 750.2, .unit = "kg"};
    const dd_report report = {.quoted_count = 1, .quoted = quoted, .told_count = 1, .told = &told};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        char *us = dd_us_sentence(all[i].metric, &report);
        assert_string_equal(us, all[i].us);
        free(us);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(units_are_those_of_the_report), cmocka_unit_test(checks_are_judged_and_sorted), cmocka_unit_test(a_caution_that_is_missed_does_not_hold),
                                       cmocka_unit_test(it_reads_back), cmocka_unit_test(sentences_are_turned), cmocka_unit_test(what_is_asked_stays_open)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
