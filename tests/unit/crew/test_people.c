/* SPDX-License-Identifier: GPL-3.0-or-later */
/* People in whole runs: the skipper's course belongs to his seed and not to the integrator, a run is restored to the bit with him at
   the helm, and what cannot be done ends a run with its reason. */
#include "lib/study/run.h"
#include "tests/unit/crew/people.h"
#include <drawdock/result.h>
#include <drawdock/study.h>
#include <stdio.h>
#include <stdlib.h>

static dd_case_file *open_case(const char *name, const char *const *overrides)
{
    char path[300];
    dd_case_file *file = NULL;
    dd_error_list list;
    snprintf(path, sizeof path, "%s/scenarios/%s.yaml", SOURCE_DIR, name);
    if (dd_case_read(path, overrides, NULL, &file, &list) != DD_OK) fail_msg("%s: %s", list.errors[0].place, list.errors[0].message);
    dd_error_list_free(&list);
    return file;
}

static const char *const driven[] = {"start={hub depth: 450 mm, bow distance: 4 m, offset to port: 150 mm, heading: -3 deg, speed: 0.5 m/s}",
                                     "procedure=[{drive on: {speed: 0.8 m/s, throttle: 35 %, time limit: 60 s}}]", NULL};

/* Where the bow is when the run has come to a time, which it is made to step on. */
static double offset_at(const dd_case *scenario, double rtol, double time)
{
    dd_run *run;
    dd_error error;
    if (dd_run_create_with(scenario, NULL, rtol, &run, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
    while (run->seen.time < time)
        if (dd_run_step(run, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
    dd_observation seen;
    assert_int_equal(dd_run_evaluate(run, time, DD_WANT_CHANNELS), 0);
    dd_run_observe(run, &seen);
    dd_run_free(run);
    return seen.bow_offset;
}

/* Two tolerances, so two sequences of steps: the bow within 1 mm after 4 s afloat (the run's own error at the looser one); another
   seed is 10 mm and more away. Grade: library against itself. */
static void course_is_the_seeds_not_the_steps(void **state)
{
    (void)state;
    dd_case_file *file = open_case("retrieve", driven);
    dd_case other = *dd_case_of(file);
    const double coarse = offset_at(&other, 1e-5, 4), fine = offset_at(&other, 1e-7, 4);
    NEAR(coarse, fine, 1e-3);
    other.skipper.preset = DD_SKIPPER_LEARNER;
    const double learner = offset_at(&other, 1e-5, 4);
    other.skipper.seed = 2;
    assert_true(fabs(offset_at(&other, 1e-5, 4) - learner) > 1e-2);
    dd_case_free(file);
}

/* Saved in the middle of driving on, restored into a run at its start: the same state after 60 more steps, to the bit. */
static void restored_with_the_skipper_at_the_helm(void **state)
{
    (void)state;
    dd_case_file *file = open_case("retrieve", driven);
    dd_run *run, *again;
    dd_error error;
    void *bytes = NULL;
    size_t size = 0;
    assert_int_equal(dd_run_create(dd_case_of(file), &run, &error), DD_OK);
    assert_int_equal(dd_run_create(dd_case_of(file), &again, &error), DD_OK);
    while (run->seen.time < 2.13) assert_int_equal(dd_run_step(run, &error), DD_OK);
    assert_int_equal(dd_run_save(run, &bytes, &size, &error), DD_OK);
    assert_int_equal(dd_run_restore(again, bytes, size, &error), DD_OK);
    for (int i = 0; i < 60; i++) {
        assert_int_equal(dd_run_step(run, &error), DD_OK);
        assert_int_equal(dd_run_step(again, &error), DD_OK);
    }
    assert_true(dd_ode_time(run->ode) == dd_ode_time(again->ode));
    assert_memory_equal(dd_ode_state(run->ode), dd_ode_state(again->ode), (size_t)run->m->system->size * sizeof(double));
    assert_memory_equal(&run->procedure.skipper, &again->procedure.skipper, sizeof run->procedure.skipper);
    free(bytes);
    dd_run_free(run);
    dd_run_free(again);
    dd_case_free(file);
}

static void ends_with(const char *name, const char *const *overrides, const char *word, const char *part)
{
    dd_case_file *file = open_case(name, overrides);
    dd_result *result = NULL;
    dd_error error;
    if (dd_study_run(dd_case_of(file), NULL, NULL, &result, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
    if (strcmp(result->word, word) != 0 || strstr(result->sentence, part) == NULL)
        fail_msg("found '%s': %s; expected '%s': ...%s...", result->word, result->sentence, word, part);
    dd_result_free(result);
    dd_case_free(file);
}

static void what_cannot_be_done_ends_a_run(void **state)
{
    (void)state;
    static const char *const far[] = {"start={hub depth: 350 mm, bow distance: 1.5 m}", "forces.strap.strap length=4.5 m",
                                      "procedure=[{wait: {until: {after: 1 s}}}, hook on]", NULL};
    ends_with("retrieve", far, "strap too short", "Step 2, \"hook on\": the strap does not reach the bow eye; it lacks 1.5");
    static const char *const short_time[] = {"start={hub depth: 350 mm, bow distance: 2 m}", "procedure=[{drive on: {throttle: 2 %, time limit: 2 s}}]",
                                             NULL};
    ends_with("retrieve", short_time, "too long", "drive on");
}

static void refuse(const char *name, const char *const *overrides, const char *place, const char *figure)
{
    dd_case_file *file = open_case(name, overrides);
    dd_run *run = NULL;
    dd_error error;
    assert_int_equal(dd_run_create(dd_case_of(file), &run, &error), DD_ERROR_ARGUMENT);
    assert_null(run);
    if (strcmp(error.place, place) != 0 || strstr(error.message, figure) == NULL) fail_msg("%s: %s", error.place, error.message);
    dd_case_free(file);
}

static void what_can_never_come_is_refused(void **state)
{
    (void)state;
    static const char *const deep[] = {"procedure[1].until.hub depth=19 m", NULL}, *const strap[] = {"forces.strap.strap length=0.2 m", NULL};
    refuse("launch", deep, "procedure[1].back down.until.hub depth", "found 19 m");
    refuse("launch", strap, "forces.strap.strap length", "found 0.20 m, expected at least the 0.36 m");
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(course_is_the_seeds_not_the_steps),
                                       cmocka_unit_test(restored_with_the_skipper_at_the_helm),
                                       cmocka_unit_test(what_cannot_be_done_ends_a_run), cmocka_unit_test(what_can_never_come_is_refused)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
