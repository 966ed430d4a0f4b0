/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What `depth` says of what it found. Words are compared exactly, figures with those beside them. */
#include "lib/study/depth_report.h"
#include "tests/unit/study/reports.h"

/* A figure that is not known is left out of sentences and not checked; the sentence of a limit that holds does not say that it is broken. */
static void what_is_not_known_is_not_told(void **state)
{
    (void)state;
    static dd_depth d;
    static dd_depth_band band;
    dd_depth_figure figure;
    dd_report *report = NULL;
    dd_error error;
    dd_case_file *file = scenario_with("scenarios/launch.yaml", NULL);
    dd_case *unknown = malloc(sizeof *unknown);
    *unknown = *dd_case_of(file);
    unknown->vehicle.exhaust_height = NAN;
    assert_int_equal(dd_study_ramp_depth(unknown, 0, NULL, &report, &error), DD_OK);
    bool dry = false;
    for (int i = 0; i < report->note_count; i++) {
        assert_null(strstr(report->notes[i], "nan"));
        dry |= strstr(report->notes[i], "longer keeps them dry.") != NULL;
    }
    assert_true(dry);
    assert_int_equal(check_needed(report, "exhaust")->outcome, DD_CHECK_NOT_CHECKED);
    for (int i = 0; i < report->check_count; i++)
        if (report->checks[i].outcome == DD_CHECK_GOOD && strcmp(report->checks[i].name, "a place that keeps every limit") != 0)
            assert_int_equal(strncmp(report->checks[i].words, "past it, ", 9), 0);
    assert_int_equal(strncmp(check_needed(report, "a place that keeps every limit")->words, "shallower, ", 11), 0);
    dd_report_free(report);
    free(unknown);
    /* a place where the boat was not followed along its supports */
    assert_int_equal(dd_depth_open(dd_case_of(file), 1.0, NULL, &d, &error), DD_OK);
    assert_int_equal(dd_depth_find(&d, &band, &error), DD_OK);
    assert_true(dd_depth_figure_of(&d, DD_END_SKEG, &band.least, &figure));
    assert_true(isfinite(figure.value));
    band.least.slide.skeg = INFINITY, band.least.slide.push = -INFINITY;
    static const dd_depth_end slid[] = {DD_END_SKEG, DD_END_PUSH, DD_END_RUNS};
    for (size_t i = 0; i < sizeof slid / sizeof slid[0]; i++) {
        assert_true(dd_depth_figure_of(&d, slid[i], &band.least, &figure));
        assert_true(isnan(figure.value) && *figure.missing != '\0');
    }
    dd_depth_close(&d);
    dd_case_free(file);
}

/* Where the rig works at the level is in a table, so that rigs are held against each other by it. */
static void the_least_level_is_a_row(void **state)
{
    (void)state;
    dd_report *report = NULL;
    dd_error error;
    dd_case_file *file = scenario_with("scenarios/launch.yaml", NULL);
    assert_int_equal(dd_study_ramp_depth(dd_case_of(file), 0, NULL, &report, &error), DD_OK);
    const double least = number_at(report, "least_level", "water", "least level"), now = number_at(report, "least_level", "water", "level");
    NEAR(now, dd_case_of(file)->water.level, 1e-12);
    NEAR(number_at(report, "least_level", "water", "to spare"), now - least, 1e-12);
    char binds[120];
    snprintf(binds, sizeof binds, "lower: %s, %s.", cell_at(report, "least_level", "water", "too shallow")->text, cell_at(report, "least_level", "water", "too deep")->text);
    assert_non_null(strstr(report->headline, binds));
    dd_report_free(report);
    dd_case_free(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_not_known_is_not_told),
        cmocka_unit_test(the_least_level_is_a_row),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
