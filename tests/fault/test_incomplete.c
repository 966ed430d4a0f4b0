/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A computation that cannot go on ends with what was computed, says when, where and why, and is marked incomplete; a cancelled
   one says so. Grade: closed form (yes or no). */
#include "tests/fault/spoiled.h"
#include <drawdock/study.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

static const double spoiled_at = 1.0; /* s */

static dd_case *read_case(const char *path, const char *const *overrides)
{
    dd_case_file *file;
    dd_error_list list;
    if (dd_case_read(path, overrides, NULL, &file, &list) != DD_OK)
        fail_msg("%s: %s", list.errors[0].place, list.errors[0].message);
    dd_case *scenario = malloc(sizeof *scenario);
    assert_non_null(scenario);
    *scenario = *dd_case_of(file);
    dd_case_free(file);
    return scenario;
}

static const char *const short_run[] = {"time limit=2 s", "record interval=100 ms", NULL};

/* Runs with a spoiled force; the status, and that what came before it is there. */
static void run_spoiled(const char *force, spoil how, dd_status expected, const char *named)
{
    dd_case *scenario = read_case(SOURCE_DIR "/scenarios/launch.yaml", short_run);
    dd_result *result = NULL;
    dd_error error = {.status = DD_OK};
    spoil_force(force, how, spoiled_at);
    assert_int_equal(dd_study_run(scenario, NULL, NULL, &result, &error), expected);
    spoil_force(force, SPOIL_NOTHING, INFINITY);
    print_message("%s: %s [%s]\n", error.place, error.message, error.remedy);
    assert_int_equal(error.status, expected);
    assert_true(error.place[0] != '\0' && error.remedy[0] != '\0');
    assert_non_null(strstr(error.message, named));
    assert_non_null(result);
    assert_int_equal(result->verdict, DD_VERDICT_INCOMPLETE);
    assert_string_equal(result->word, "could not be computed");
    assert_int_equal(result->failure.status, expected);
    assert_string_equal(result->failure.message, error.message);
    /* Rows up to the fault, none after it, all of them numbers; the time in the message is that of the fault (a step is at
       most 0.05 s long). */
    assert_true(result->row_count >= 10 && result->row_count <= 12);
    assert_true(result->rows[(result->row_count - 1) * result->column_count] <= spoiled_at + 0.05);
    double told = NAN;
    for (const char *at = error.message; *at != '\0' && isnan(told); at++)
        if (sscanf(at, "at %lf s", &told) != 1 && sscanf(at, "at t = %lf s", &told) != 1)
            told = NAN;
    assert_true(told > spoiled_at - 0.06 && told < spoiled_at + 0.06);
    char *json = dd_result_json(result);
    assert_non_null(json);
    assert_non_null(strstr(json, "\"verdict\": \"incomplete\""));
    assert_non_null(strstr(json, "\"complete\": false"));
    free(json);
    dd_result_free(result);
    free(scenario);
}

static void a_force_that_is_not_a_number(void **state)
{
    (void)state;
    run_spoiled("buoyancy", SPOIL_NOT_A_NUMBER, DD_ERROR_NOT_FINITE, "buoyancy");
    run_spoiled("roller", SPOIL_NOT_A_NUMBER, DD_ERROR_NOT_FINITE, "roller");
    run_spoiled("push", SPOIL_INFINITE, DD_ERROR_NOT_FINITE, "push");
}

static void a_force_too_stiff_to_follow(void **state)
{
    (void)state;
    run_spoiled("hull weight", SPOIL_TOO_STIFF, DD_ERROR_STEP, "changes fastest");
}

static void a_ledger_that_does_not_close(void **state)
{
    (void)state;
    run_spoiled("buoyancy", SPOIL_UNTRUE, DD_ERROR_LEDGER, "ledger");
}

/* Mends the force when the time falls: a second run has begun. */
static int mend_at_the_second_run(double share, double time, void *context)
{
    double *last = context;
    (void)share;
    if (time < *last) spoil_force("buoyancy", SPOIL_NOTHING, INFINITY);
    *last = time;
    return 0;
}

/* A ledger that does not close at the standard tolerance: run again at the fine one, which the result tells; asked for fine, it stays failed. */
static void run_again_at_the_fine_tolerance(void **state)
{
    (void)state;
    for (int fine = 0; fine < 2; fine++) {
        dd_case *scenario = read_case(SOURCE_DIR "/scenarios/launch.yaml", short_run);
        dd_result *result = NULL;
        dd_error error = {.status = DD_OK};
        double last = 0;
        if (fine) scenario->tolerance = DD_TOLERANCE_FINE;
        spoil_force("buoyancy", SPOIL_UNTRUE, spoiled_at);
        const dd_status status = dd_study_run(scenario, mend_at_the_second_run, &last, &result, &error);
        spoil_force("buoyancy", SPOIL_NOTHING, INFINITY);
        assert_int_equal(status, fine ? DD_ERROR_LEDGER : DD_OK);
        assert_non_null(result);
        int told = 0;
        for (int i = 0; i < result->assumed_count; i++) told += strncmp(result->assumed[i], "Tolerance: fine", 15) == 0;
        assert_int_equal(told, fine ? 0 : 1);
        if (!fine) assert_true(result->rows[(result->row_count - 1) * result->column_count] > 1.99);
        dd_result_free(result);
        free(scenario);
    }
}

/* A start that has no value is no run at all. */
static void a_start_that_is_not_a_number(void **state)
{
    (void)state;
    dd_case *scenario = read_case(SOURCE_DIR "/scenarios/launch.yaml", short_run);
    dd_result *result = (dd_result *)1;
    dd_error error = {.status = DD_OK};
    spoil_force("buoyancy", SPOIL_NOT_A_NUMBER, -1);
    assert_int_equal(dd_study_run(scenario, NULL, NULL, &result, &error), DD_ERROR_NOT_FINITE);
    assert_null(result);
    assert_non_null(strstr(error.message, "buoyancy"));
    assert_int_equal(dd_study_settle(scenario, NULL, NULL, &result, &error), DD_ERROR_NOT_FINITE);
    assert_null(result);
    assert_non_null(strstr(error.message, "buoyancy"));
    spoil_force("buoyancy", SPOIL_NOTHING, INFINITY);
    free(scenario);
}

/* Cancels at the given call. */
static int cancel(double share, double time, void *context)
{
    int *left = context;
    assert_true(share >= 0 && share <= 1 && time >= 0);
    return (*left)-- == 0;
}

static void cancelling(void **state)
{
    (void)state;
    dd_case *scenario = read_case(SOURCE_DIR "/scenarios/launch.yaml", short_run);
    for (int study = 0; study < 2; study++)
        for (int after = 0; after < 10; after += 9) {
            int left = after;
            dd_result *result = NULL;
            dd_error error = {.status = DD_OK};
            dd_status status = study == 0 ? dd_study_run(scenario, cancel, &left, &result, &error)
                                          : dd_study_settle(scenario, cancel, &left, &result, &error);
            assert_int_equal(status, DD_ERROR_CANCELLED);
            assert_int_equal(error.status, DD_ERROR_CANCELLED);
            assert_int_equal(left, -1); /* not asked again */
            if (result != NULL) {
                assert_int_equal(result->verdict, DD_VERDICT_INCOMPLETE);
                assert_int_equal(result->failure.status, DD_ERROR_CANCELLED);
                assert_string_equal(result->word, "could not be computed");
            }
            dd_result_free(result);
        }
    free(scenario);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_force_that_is_not_a_number), cmocka_unit_test(a_force_too_stiff_to_follow),
        cmocka_unit_test(a_ledger_that_does_not_close), cmocka_unit_test(run_again_at_the_fine_tolerance),
        cmocka_unit_test(a_start_that_is_not_a_number), cmocka_unit_test(cancelling)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
