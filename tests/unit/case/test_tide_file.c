/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Constants and tables from CSV files as agencies publish them: the same tide as from the scenario itself, held to published heights; no
   damaged file reads out of bounds. What is refused, with file, line and column: tests/cli/bad/149 to 167. */
#include "lib/shore/tide_given.h"
#include "tests/unit/case/cases.h"
#include <math.h>

#define CASES SOURCE_DIR "/tests/unit/case/"
#define AGENCY SOURCE_DIR "/tests/reference/tide/agency_"
#define CONSTANTS "{kind: harmonic, datum: MLLW, mean level: 2.958 m, read: {file: " AGENCY "constants.csv, header lines: 2, "
#define BY_NAME CONSTANTS "name column: constituent, amplitude column: amplitude_m, phase column: phase_gmt_deg}}"
#define HOURLY "{kind: samples, datum: MLLW, read: {file: " AGENCY "hourly.csv, header lines: 2, time column: Date Time, level column: Prediction}}"
#define HIGH_LOW "{kind: high and low waters, datum: MLLW, read: {file: " AGENCY "high_low.tsv, header lines: 6, separator: tab, date column: Date, " \
                 "time column: Time, date format: \"%Y/%m/%d %I:%M %p\", utc offset: -5 h, "

/* tide-file.yaml with this tide instead of its own. */
static dd_case_file *with_tide(const char *tide)
{
    char override[600];
    snprintf(override, sizeof override, "water.tide=%s", tide);
    const char *overrides[] = {override, "water.datums=[{name: MLLW, height: 0 m}, {name: land datum, height: 0 m}]", NULL};
    return must_read(CASES "tide-file.yaml", overrides);
}

static dd_tide *tide_of(const dd_case_file *file, double from, double to)
{
    const dd_case *c = dd_case_of(file);
    dd_tide *tide;
    dd_error error;
    if (dd_water_tide(&c->water, c->ramp.datum, from, to, &tide, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
    return tide;
}

/* Published hourly heights, to the millimetre, against the published constants: both from files as they come. 2 mm at most (issue's figure; they
   are printed to 1 mm). */
static void published_constants_give_the_published_heights(void **state)
{
    (void)state;
    dd_case_file *constants = with_tide(BY_NAME), *hourly = with_tide(HOURLY);
    const dd_tide_parameters *points = &dd_case_of(hourly)->water.tide;
    assert_int_equal(dd_case_of(constants)->water.tide.constant_count, 37);
    assert_int_equal(points->point_count, 72);
    assert_true(points->points[0].at == 1786752000.0); /* 2026-08-15 00:00 UTC, `date -u` */
    dd_tide *tide = tide_of(constants, points->points[0].at, points->points[71].at);
    double worst = 0;
    for (int i = 0; i < points->point_count; i++) {
        dd_tide_state at;
        dd_error error;
        assert_int_equal(dd_tide_at(tide, points->points[i].at, &at, &error), DD_OK);
        worst = fmax(worst, fabs(at.level - points->points[i].level));
    }
    print_message("heights differ by %.2f mm at most\n", 1000 * worst);
    assert_true(worst < 2e-3);
    dd_tide_free(tide);
    dd_case_free(constants);
    dd_case_free(hourly);
}

/* A table of high and low waters, its clock five hours behind, parted by tabs, heights in feet (to 0.005) or centimetres (to 0.05): within 2
   minutes and that rounding of what the constants give. */
static void published_high_and_low_waters_are_read(void **state)
{
    (void)state;
    static const struct {
        const char *columns;
        double rounding;
    } heights[] = {{"level column: Pred(cm), unit: cm}}", 0.5e-3}, {"level column: Pred(Ft), unit: ft}}", 0.005 * 0.3048}, {"level column: \"5\", unit: cm}}", 0.5e-3}};
    dd_case_file *constants = with_tide(BY_NAME);
    for (size_t h = 0; h < sizeof heights / sizeof heights[0]; h++) {
        char text[500];
        snprintf(text, sizeof text, "%s%s", HIGH_LOW, heights[h].columns);
        dd_case_file *table = with_tide(text);
        const dd_tide_parameters *t = &dd_case_of(table)->water.tide;
        assert_int_equal(t->point_count, 27);
        assert_true(t->points[0].at == 1786752000.0 + 5 * 3600 + 3 * 60);
        dd_tide *tide = tide_of(constants, t->points[0].at - 3600, t->points[26].at + 3600);
        for (int i = 0; i < t->point_count; i++) {
            dd_tide_state at, before, after;
            dd_error error;
            const double time = t->points[i].at;
            assert_int_equal(dd_tide_at(tide, time, &at, &error), DD_OK);
            assert_int_equal(dd_tide_at(tide, time - 120, &before, &error), DD_OK);
            assert_int_equal(dd_tide_at(tide, time + 120, &after, &error), DD_OK);
            assert_true(fabs(at.level - t->points[i].level) < 2e-3 + heights[h].rounding);
            assert_true(before.rate * after.rate < 0); /* it turns between */
        }
        dd_tide_free(tide);
        dd_case_free(table);
    }
    dd_case_free(constants);
}

static bool same_tide(const dd_case_file *a, const dd_case_file *b)
{
    return memcmp(&dd_case_of(a)->water.tide, &dd_case_of(b)->water.tide, sizeof(dd_tide_parameters)) == 0;
}

/* By number or by name; and what `show` makes of it reads back to the same bits without the file. Closed form: yes or no. */
static void columns_go_by_name_or_number(void **state)
{
    (void)state;
    dd_case_file *by_name = with_tide(BY_NAME), *by_number = with_tide(CONSTANTS "name column: 1, amplitude column: 2, phase column: 3}}");
    dd_case_file *swapped = with_tide(CONSTANTS "name column: 1, amplitude column: 2, phase column: 2}}");
    assert_true(same_tide(by_name, by_number));
    assert_false(same_tide(by_name, swapped));
    char folder[64], path[256], *shown = dd_case_show(by_name, 0);
    make_folder(folder);
    assert_non_null(shown);
    assert_non_null(strstr(shown, "agency_constants.csv:3"));
    assert_null(strstr(shown, "\n    read:"));
    write_file(folder, "shown.yaml", shown, strlen(shown), path);
    dd_case_file *again = must_read(path, NULL);
    assert_true(same_tide(by_name, again));
    remove_folder(folder);
    free(shown);
    dd_case_free(again);
    dd_case_free(by_name);
    dd_case_free(by_number);
    dd_case_free(swapped);
}

/* A decimal comma between semicolons, centimetres, the mean level as a row Z0, and a mark of UTF-8 or line ends of two bytes before it all. */
static void other_habits_are_read(void **state)
{
    (void)state;
    dd_case_file *file = must_read(CASES "tide-file.yaml", NULL);
    const dd_tide_parameters *t = &dd_case_of(file)->water.tide;
    assert_int_equal(t->constant_count, 5);
    assert_string_equal(t->constants[0].name, "Q1");
    assert_true(fabs(t->constants[0].amplitude - 0.025) < 1e-15 && fabs(t->constants[0].phase - 40 * M_PI / 180) < 1e-15);
    assert_true(fabs(t->mean_level - 2.605) < 1e-15);
    static const char rows[] = "\xEF\xBB\xBFname;g;H\r\nM2;250;0,9\r\n\r\n# a remark\r\n\"S2\";280;0.3\r\nK1;10;0,1\r\nO1;350;0,1";
    char folder[64], path[256], tide[500];
    make_folder(folder);
    write_file(folder, "rows.csv", rows, sizeof rows - 1, path);
    snprintf(tide, sizeof tide, "{kind: harmonic, datum: MLLW, mean level: 1 m, read: {file: %s, separator: semicolon, name column: name, amplitude column: H, phase column: g}}", path);
    dd_case_file *other = with_tide(tide);
    t = &dd_case_of(other)->water.tide;
    assert_int_equal(t->constant_count, 4);
    assert_true(t->constants[0].amplitude == 0.9 && t->constants[1].amplitude == 0.3 && strcmp(t->constants[1].name, "S2") == 0);
    remove_folder(folder);
    dd_case_free(file);
    dd_case_free(other);
}

/* Each byte dropped, and each replaced by what matters in CSV: an end with success or with messages that have a place. */
static void damaged_files_end_well(void **state)
{
    (void)state;
    static const char instead[] = "\",;\n\t#9\xff";
    static const char *const names[] = {"tide-constants.csv", "tide-table.csv"}, *const scenarios[] = {"tide-file.yaml", "tide-table-file.yaml"};
    int good = 0, bad = 0;
    for (int f = 0; f < 2; f++) {
        char folder[64], path[256], from[300], override[400];
        size_t size;
        make_folder(folder);
        snprintf(from, sizeof from, CASES "%s", names[f]);
        char *text = file_text(from, &size), *changed = malloc(size);
        assert_non_null(changed);
        for (size_t i = 0; i < size; i++) {
            const bool drop = i % 3 == 0;
            memcpy(changed, text, size);
            if (drop) memmove(changed + i, changed + i + 1, size - i - 1);
            else changed[i] = instead[i % (sizeof instead - 1)];
            write_file(folder, "changed.csv", changed, drop ? size - 1 : size, path);
            snprintf(override, sizeof override, "water.tide.read.file=%s", path);
            const char *overrides[] = {override, NULL};
            snprintf(from, sizeof from, CASES "%s", scenarios[f]);
            char *messages = read_messages(from, overrides, NULL);
            if (messages[0] == '\0') good++;
            else bad++;
            free(messages);
        }
        free(text);
        free(changed);
        remove_folder(folder);
    }
    print_message("%d files read, %d refused\n", good, bad);
    assert_true(good > 50 && bad > 100);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(published_constants_give_the_published_heights), cmocka_unit_test(published_high_and_low_waters_are_read),
                                       cmocka_unit_test(columns_go_by_name_or_number), cmocka_unit_test(other_habits_are_read), cmocka_unit_test(damaged_files_end_well)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
