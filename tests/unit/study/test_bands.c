/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bands, with studies made up so that what decides is known exactly; and one real run. Tolerance 1e-12 of the value, for sums of
   doubles; words are compared exactly. Grade: closed form. */
#include "lib/record/recorder.h"
#include <drawdock/study.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

static dd_case_file *file;
static const dd_case *scenario;

static int read_scenario(void **state)
{
    (void)state;
    dd_error_list list = {0};
    const char *const search[] = {SOURCE_DIR "/scenarios", NULL};
    if (dd_case_read(SOURCE_DIR "/scenarios/launch.yaml", NULL, search, &file, &list) != DD_OK) return -1;
    scenario = dd_case_of(file);
    return 0;
}

static int free_scenario(void **state)
{
    (void)state;
    dd_case_free(file);
    return 0;
}

/* A result with one limit used to `share`; above 1 it is broken. */
static dd_status made_up(double share, const char *word, int failed, dd_result **result, dd_error *error)
{
    dd_recorder *recorder = dd_recorder_create("made up", "run");
    assert_non_null(recorder);
    dd_margin margin = {.name = "the limit", .value = share, .limit = 1, .share = share, .broken = share > 1};
    assert_int_equal(dd_recorder_margin(recorder, &margin), DD_OK);
    dd_result *r = dd_recorder_result(recorder);
    r->verdict = failed ? DD_VERDICT_FAILED : share > 1 ? DD_VERDICT_BROKEN : DD_VERDICT_WITHIN;
    snprintf(r->word, sizeof r->word, "%s", word);
    return dd_recorder_finish(recorder, result, error);
}

static dd_hull_estimates estimates_of(const dd_case *c)
{
    dd_hull_estimates e;
    assert_int_equal(dd_hull_estimate(&c->boat, &e, NULL), DD_OK);
    return e;
}

static int calls;

/* Hangs on nothing. */
static dd_status flat(const dd_case *c, dd_progress progress, void *context, dd_result **result, dd_error *error)
{
    (void)c, (void)progress, (void)context;
    calls++;
    return made_up(0.5, "works", 0, result, error);
}

/* Half the limit at the likely centre of mass, 0.1 of it more for each 0.01 m aft, and a little by the height of one support. */
static dd_status by_centre(const dd_case *c, dd_progress progress, void *context, dd_result **result, dd_error *error)
{
    (void)progress, (void)context;
    double off = estimates_of(scenario).centre_from_transom.likely - estimates_of(c).centre_from_transom.likely;
    double up = c->trailer.supports[1].above_ground - scenario->trailer.supports[1].above_ground;
    return made_up(0.5 + 10 * off + up, "works", 0, result, error);
}

/* No single band breaks it, only mass and centre together; and it then fails. */
static dd_status together(const dd_case *c, dd_progress progress, void *context, dd_result **result, dd_error *error)
{
    (void)progress, (void)context;
    dd_hull_estimates e = estimates_of(c), likely = estimates_of(scenario);
    double use = 0.8 + 1.5 * fabs(e.centre_from_transom.likely - likely.centre_from_transom.likely) +
                 0.005 * fmax(0, e.total_mass.likely - likely.total_mass.likely);
    return made_up(use, use > 1 ? "dropped" : "works", use > 1, result, error);
}

static dd_result *bands_of(dd_study study)
{
    dd_result *result = NULL;
    dd_error error = {0};
    assert_int_equal(dd_study_bands(scenario, study, NULL, NULL, &result, &error), DD_OK);
    assert_non_null(result);
    return result;
}

static const dd_band *band_named(const dd_result *r, const char *name)
{
    for (int i = 0; i < r->band_count; i++)
        if (strcmp(r->band[i].name, name) == 0) return &r->band[i];
    fail_msg("no band of %s", name);
    return NULL;
}

static void a_flat_study_holds(void **state)
{
    (void)state;
    calls = 0;
    dd_result *r = bands_of(flat);
    assert_int_equal(r->bands, DD_BANDS_HOLD);
    assert_true(r->band_count > 10);
    assert_int_equal(calls, 2 + 2 * r->band_count); /* likely, each end alone, all at their worse ends */
    for (int i = 0; i < r->band_count; i++) {
        assert_true(r->band[i].low < r->band[i].high);
        assert_true(r->band[i].low <= r->band[i].likely && r->band[i].likely <= r->band[i].high);
        assert_true(r->band[i].effect == 0 && r->band[i].decides == 0);
        assert_true(strlen(r->band[i].how) > 10);
    }
    assert_non_null(strstr(r->bands_sentence, "The verdict holds"));
    dd_result_free(r);
}

/* Uses up half at a set-up of 0.1 m, and more as the water stands lower: within 0.2 m it breaks. */
static dd_status by_set_up(const dd_case *c, dd_progress progress, void *context, dd_result **result, dd_error *error)
{
    (void)progress, (void)context;
    const double use = 0.5 + 4 * (0.1 - c->water.set_up.offset);
    return made_up(use, use > 1 ? "dropped" : "works", use > 1, result, error);
}

static void the_set_up_is_a_band(void **state)
{
    (void)state;
    static dd_case water_off;
    const dd_case *whole = scenario;
    dd_result *r = bands_of(flat);
    const int without = r->band_count;
    dd_result_free(r);
    water_off = *scenario;
    water_off.water.set_up = (dd_set_up){.offset = 0.1, .within = 0.2};
    scenario = &water_off;
    r = bands_of(by_set_up);
    scenario = whole;
    assert_int_equal(r->band_count, without + 1);
    assert_string_equal(r->band[0].name, "set-up of the water");
    assert_string_equal(r->band[0].unit, "m");
    assert_true(fabs(r->band[0].low + 0.1) < 1e-12 && r->band[0].likely == 0.1 && fabs(r->band[0].high - 0.3) < 1e-12);
    assert_true(fabs(r->band[0].share_low - 1.3) < 1e-12 && fabs(r->band[0].share_high + 0.3) < 1e-12);
    assert_int_equal(r->bands, DD_BANDS_DECIDE);
    assert_non_null(strstr(r->bands_sentence, "set-up of the water"));
    dd_result_free(r);
}

static void the_figure_that_decides_comes_first(void **state)
{
    (void)state;
    dd_result *r = bands_of(by_centre);
    const dd_estimate e = estimates_of(scenario).centre_from_transom;
    assert_int_equal(r->bands, DD_BANDS_DECIDE);
    assert_string_equal(r->band[0].name, "centre of mass from the transom");
    assert_int_equal(r->band[0].decides, 1);
    /* aft by 0.1 m it is 1.5 times the limit: broken; forward -0.5 */
    assert_true(fabs(r->band[0].share_low - (0.5 + 10 * (e.likely - e.low))) < 1e-12);
    assert_int_equal(r->band[0].verdict_low, DD_VERDICT_BROKEN);
    assert_int_equal(r->band[0].verdict_high, DD_VERDICT_WITHIN);
    assert_true(fabs(r->band[0].effect - (10 + 10 * (e.high - e.low))) < 1e-9);
    char name[96];
    snprintf(name, sizeof name, "height of %s", scenario->trailer.supports[1].name);
    assert_string_equal(r->band[1].name, name);
    assert_true(fabs(r->band[1].high - r->band[1].low - 2 * scenario->limits.height_tolerance) < 1e-12);
    assert_true(fabs(r->band[1].effect - 2 * scenario->limits.height_tolerance) < 1e-12);
    assert_int_equal(r->band[2].decides, 0); /* nothing else has any effect */
    assert_non_null(strstr(r->bands_sentence, "centre of mass from the transom at 1.9 m it is \"a limit is broken\""));
    assert_non_null(strstr(r->bands_sentence, "weigh coupling and axles"));
    dd_result_free(r);
}

static void bands_that_only_together_decide(void **state)
{
    (void)state;
    dd_result *r = bands_of(together);
    assert_int_equal(r->bands, DD_BANDS_DECIDE);
    assert_non_null(strstr(r->bands_sentence, "with all at their worse ends it is \"dropped\""));
    const dd_band *mass = band_named(r, "total mass");
    assert_int_equal(mass->verdict_high, DD_VERDICT_WITHIN);
    assert_true(mass->decides > 0);
    dd_result_free(r);
}

static int progress_calls;
static double last_share;
static int cancel(double share, double time, void *context)
{
    (void)time, (void)context;
    assert_true(share >= last_share && share <= 1.0);
    last_share = share;
    return ++progress_calls >= 5;
}

static dd_status tells(const dd_case *c, dd_progress progress, void *context, dd_result **result, dd_error *error)
{
    (void)c;
    *result = NULL;
    if (progress(0.5, 1.0, context) != 0) {
        error->status = DD_ERROR_CANCELLED;
        return DD_ERROR_CANCELLED;
    }
    return made_up(0.5, "works", 0, result, error);
}

static void it_can_be_cancelled(void **state)
{
    (void)state;
    dd_result *r = NULL;
    dd_error error = {0};
    progress_calls = 0;
    last_share = 0;
    assert_int_equal(dd_study_bands(scenario, tells, cancel, NULL, &r, &error), DD_ERROR_CANCELLED);
    assert_null(r);
    assert_int_equal(progress_calls, 5);
}

static dd_status cannot(const dd_case *c, dd_progress progress, void *context, dd_result **result, dd_error *error)
{
    if (calls++ == 0) return flat(c, progress, context, result, error);
    *result = NULL;
    error->status = DD_ERROR_NO_EQUILIBRIUM;
    return DD_ERROR_NO_EQUILIBRIUM;
}

static void ends_that_cannot_be_computed_decide_nothing(void **state)
{
    (void)state;
    calls = 0;
    dd_result *r = bands_of(cannot);
    assert_int_equal(r->bands, DD_BANDS_HOLD);
    assert_string_equal(r->band[0].word_low, "could not be computed");
    assert_true(isnan(r->band[0].share_low));
    dd_result_free(r);
}

/* The real thing, short: what cannot move a verdict in half a second. */
static dd_status short_run(const dd_case *c, dd_progress progress, void *context, dd_result **result, dd_error *error)
{
    dd_case *brief = malloc(sizeof *brief);
    assert_non_null(brief);
    *brief = *c;
    brief->time_limit = 0.1;
    dd_status status = dd_study_run(brief, progress, context, result, error);
    free(brief);
    return status;
}

static void a_mass_is_the_whole_mass(void **state)
{
    (void)state;
    dd_result *r = bands_of(short_run);
    const dd_band *mass = band_named(r, "total mass");
    assert_true(fabs(mass->likely - estimates_of(scenario).total_mass.likely) < 1e-9);
    assert_true(mass->share_high > mass->share_low); /* a heavier boat loads its rollers more */
    dd_result_free(r);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_flat_study_holds),
        cmocka_unit_test(the_figure_that_decides_comes_first),
        cmocka_unit_test(bands_that_only_together_decide), cmocka_unit_test(the_set_up_is_a_band),
        cmocka_unit_test(it_can_be_cancelled),
        cmocka_unit_test(ends_that_cannot_be_computed_decide_nothing),
        cmocka_unit_test(a_mass_is_the_whole_mass),
    };
    return cmocka_run_group_tests(tests, read_scenario, free_scenario);
}
