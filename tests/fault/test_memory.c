/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation fails in turn: those of the library, of the numerical library's objects that it asks for, and of the JSON
   library. Each time: an error, or the very texts of a run without a failure; nothing left behind. The linker redirects the
   calls here (local.mk); allocators.sh holds that list against the sources. */
#include "lib/base/calendar.h"
#include "lib/study/begin.h"
#include "lib/study/fleet.h"
#include "lib/study/windows.h"
#include <drawdock/study.h>
#include <gsl/gsl_eigen.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_interp.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <gsl/gsl_odeiv2.h>
#include <gsl/gsl_permutation.h>
#include <gsl/gsl_qrng.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_roots.h>
#include <jansson.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

enum { MOST_CALLS = 200000 };

static struct {
    bool counting, all_after; /* all_after: memory stays exhausted */
    long calls, fail_at;      /* fail_at -1: none */
    long live;                /* taken and not given back */
    const void *site[MOST_CALLS];
} memory = {.fail_at = -1};

/* Counts one request from a place in the code; true: it shall fail. */
static bool refuse(const void *site)
{
    if (!memory.counting) return false;
    long call = memory.calls++;
    if (call < MOST_CALLS && memory.fail_at < 0) memory.site[call] = site;
    return memory.fail_at >= 0 && (call == memory.fail_at || (memory.all_after && call > memory.fail_at));
}

static void *taken(void *block)
{
    memory.live += block != NULL;
    return block;
}

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *block, size_t size);
void __real_free(void *block);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *block, size_t size);
void __wrap_free(void *block);

void *__wrap_malloc(size_t size) { return refuse(__builtin_return_address(0)) ? NULL : taken(__real_malloc(size)); }
void *__wrap_calloc(size_t count, size_t size)
{
    return refuse(__builtin_return_address(0)) ? NULL : taken(__real_calloc(count, size));
}
void *__wrap_realloc(void *block, size_t size)
{
    if (refuse(__builtin_return_address(0))) return NULL;
    void *moved = __real_realloc(block, size);
    memory.live += block == NULL && moved != NULL;
    return moved;
}
void __wrap_free(void *block)
{
    memory.live -= block != NULL;
    __real_free(block);
}

/* What the numerical library makes for ours: result NULL, as without memory. */
#define GSL_MAKER(type, name, parameters, arguments) \
    type *__real_##name parameters; \
    type *__wrap_##name parameters; \
    type *__wrap_##name parameters { return refuse(__builtin_return_address(0)) ? NULL : __real_##name arguments; }
GSL_MAKER(gsl_eigen_nonsymm_workspace, gsl_eigen_nonsymm_alloc, (size_t n), (n))
GSL_MAKER(gsl_eigen_symmv_workspace, gsl_eigen_symmv_alloc, (size_t n), (n))
GSL_MAKER(gsl_integration_glfixed_table, gsl_integration_glfixed_table_alloc, (size_t n), (n))
GSL_MAKER(gsl_interp, gsl_interp_alloc, (const gsl_interp_type *t, size_t n), (t, n))
GSL_MAKER(gsl_matrix, gsl_matrix_alloc, (size_t n, size_t m), (n, m))
GSL_MAKER(gsl_multifit_nlinear_workspace, gsl_multifit_nlinear_alloc,
          (const gsl_multifit_nlinear_type *t, const gsl_multifit_nlinear_parameters *p, size_t n, size_t m), (t, p, n, m))
GSL_MAKER(gsl_odeiv2_evolve, gsl_odeiv2_evolve_alloc, (size_t n), (n))
GSL_MAKER(gsl_odeiv2_step, gsl_odeiv2_step_alloc, (const gsl_odeiv2_step_type *t, size_t n), (t, n))
GSL_MAKER(gsl_permutation, gsl_permutation_alloc, (size_t n), (n))
GSL_MAKER(gsl_qrng, gsl_qrng_alloc, (const gsl_qrng_type *t, unsigned int n), (t, n))
GSL_MAKER(gsl_rng, gsl_rng_alloc, (const gsl_rng_type *t), (t))
GSL_MAKER(gsl_root_fsolver, gsl_root_fsolver_alloc, (const gsl_root_fsolver_type *t), (t))
GSL_MAKER(gsl_vector, gsl_vector_alloc, (size_t n), (n))
GSL_MAKER(gsl_vector, gsl_vector_calloc, (size_t n), (n))
GSL_MAKER(gsl_vector_complex, gsl_vector_complex_alloc, (size_t n), (n))

/* The texts of one run of a stage, kept aside from the counted memory. */
typedef struct text {
    size_t length, room;
    char *bytes;
} text;

/* Appends and frees a text of the library's; NULL is an allocation that failed. */
static dd_status keep(text *all, char *one)
{
    if (one == NULL) return DD_ERROR_MEMORY;
    memory.counting = false;
    size_t length = strlen(one);
    if (all->length + length + 1 > all->room) {
        all->room = 2 * (all->length + length + 1);
        all->bytes = __real_realloc(all->bytes, all->room);
        assert_non_null(all->bytes);
    }
    memcpy(all->bytes + all->length, one, length + 1);
    all->length += length;
    memory.counting = true;
    free(one);
    return DD_OK;
}

typedef dd_status (*stage)(text *texts);
static int faults;
#define FAULT(...) (print_error(__VA_ARGS__), faults++)

static const char *const deep_launch[] = {"start.hub depth=430 mm", NULL};
static const char *const short_run[] = {"time limit=1 s", "record interval=200 ms", NULL};

static dd_status read_and_show(text *texts)
{
    static const char *const files[] = {SOURCE_DIR "/scenarios/launch.yaml", SOURCE_DIR "/tests/unit/case/surveyed.yaml",
                                        SOURCE_DIR "/tests/cli/bad/128-errors-in-two-files.yaml"};
    static const char *const overrides[] = {"water.level=1.3 m", NULL};
    dd_status status = DD_OK;
    for (int i = 0; i < 3 && status == DD_OK; i++) {
        dd_case_file *file = NULL;
        dd_error_list list;
        status = dd_case_read(files[i], overrides, NULL, &file, &list);
        assert_true((file == NULL) == (status != DD_OK));
        if (i == 2 && status == DD_ERROR_INPUT) { /* its two files' errors are what it is for */
            status = DD_OK;
            for (int e = 0; e < list.count && status == DD_OK; e++) {
                if (list.errors[e].status == DD_ERROR_MEMORY) status = DD_ERROR_MEMORY;
                memory.counting = false;
                char line[900];
                snprintf(line, sizeof line, "%s: %s\n", list.errors[e].place, list.errors[e].message);
                char *copy = malloc(strlen(line) + 1);
                assert_non_null(copy);
                strcpy(copy, line);
                memory.counting = true;
                dd_status kept = keep(texts, copy);
                if (status == DD_OK) status = kept;
            }
        } else if (status == DD_OK) {
            status = keep(texts, dd_case_show(file, 0));
            if (status == DD_OK) status = keep(texts, dd_case_show(file, 1));
        }
        dd_error_list_free(&list);
        dd_case_free(file);
    }
    if (status == DD_OK) status = keep(texts, dd_case_keys(0));
    return status == DD_OK ? keep(texts, dd_case_keys(1)) : status;
}

typedef dd_status (*study)(const dd_case *, dd_progress, void *, dd_result **, dd_error *);

/* Reads without failures, computes and writes with them. */
static dd_status compute(study run, const char *path, const char *const *overrides, text *texts)
{
    memory.counting = false;
    dd_case_file *file = NULL;
    dd_error_list list;
    if (dd_case_read(path, overrides, NULL, &file, &list) != DD_OK)
        fail_msg("%s: %s", list.errors[0].place, list.errors[0].message);
    memory.counting = true;
    dd_result *result = NULL;
    dd_error error = {.status = DD_OK};
    dd_status status = run(dd_case_of(file), NULL, NULL, &result, &error);
    if (error.status != status) FAULT("request %ld: returned %d, told %d\n", memory.fail_at, (int)status, (int)error.status);
    if (status != DD_OK && (error.message[0] == '\0' || error.place[0] == '\0'))
        FAULT("request %ld: an error without message or place\n", memory.fail_at);
    if (status == DD_OK && result == NULL) FAULT("request %ld: neither error nor result\n", memory.fail_at);
    if (status != DD_OK && result != NULL && (result->verdict != DD_VERDICT_INCOMPLETE || result->failure.status != status))
        FAULT("request %ld: an unfinished result with verdict %d, failure %d instead of %d\n", memory.fail_at, result->verdict,
              (int)result->failure.status, (int)status);
    char *(*const writers[])(const dd_result *) = {dd_result_timeline_csv, dd_result_events_csv, dd_result_limits_csv,
                                                   dd_result_side_csv, dd_result_json};
    for (size_t i = 0; i < sizeof writers / sizeof writers[0] && status == DD_OK; i++) status = keep(texts, writers[i](result));
    dd_result_free(result);
    dd_case_free(file);
    return status;
}

static dd_status launch(text *texts) { return compute(dd_study_run, SOURCE_DIR "/scenarios/launch.yaml", short_run, texts); }
static dd_status settle(text *texts) { return compute(dd_study_settle, SOURCE_DIR "/scenarios/launch.yaml", deep_launch, texts); }
static dd_status by_stations(text *texts)
{
    return compute(dd_study_run, SOURCE_DIR "/tests/unit/case/surveyed.yaml", short_run, texts);
}

typedef dd_status (*reporting)(const dd_case *, dd_report **, dd_error *);
static dd_status report_of(reporting report_on, const char *path, text *texts)
{
    memory.counting = false;
    dd_case_file *file = NULL;
    dd_error_list list;
    if (dd_case_read(path, NULL, NULL, &file, &list) != DD_OK)
        fail_msg("%s: %s", list.errors[0].place, list.errors[0].message);
    memory.counting = true;
    dd_report *report = NULL;
    dd_error error = {.status = DD_OK};
    dd_status status = report_on(dd_case_of(file), &report, &error);
    if (error.status != status) FAULT("request %ld: returned %d, told %d\n", memory.fail_at, (int)status, (int)error.status);
    if ((status == DD_OK) != (report != NULL)) FAULT("request %ld: neither error nor report, or both\n", memory.fail_at);
    if (status == DD_OK) status = keep(texts, dd_report_json(report));
    dd_report_free(report);
    dd_case_free(file);
    return status;
}

/* A report of a rig whose boat's place is given: no statics in it. */
static dd_status weigh(text *texts) { return report_of(dd_study_weigh, SOURCE_DIR "/tests/unit/case/road.yaml", texts); }
/* With statics, a hull by stations, its strakes. */
static dd_status seat(text *texts) { return report_of(dd_study_seat, SOURCE_DIR "/tests/unit/study/vee-on-rollers.yaml", texts); }

/* A rig at the scenario's level and, beside it, twins at the levels between which the least is searched for. */
static dd_status depth_here(const dd_case *scenario, dd_report **report, dd_error *error) { return dd_study_ramp_depth(scenario, 0, NULL, report, error); }
static dd_status depth(text *texts) { return report_of(depth_here, SOURCE_DIR "/scenarios/retrieve.yaml", texts); }

/* Bodies on springs, eigenvalues of the swing. */
static dd_status brake(text *texts) { return report_of(dd_study_brake, SOURCE_DIR "/tests/unit/case/braked.yaml", texts); }

/* Windows of a day at levels that are given, with the calendar file. */
static dd_status windows(text *texts)
{
    static const dd_tide_constant constants[] = {{"M2", 1.2, 1.0}, {"S2", 0.4, 1.8}, {"K1", 0.1, 2}, {"O1", 0.1, 1}};
    memory.counting = false;
    const dd_windows_asked asked = {.date = {2026, 7, 1}, .launch_at = 8 * 3600, .back_at = NAN, .clock = {.name = "UTC"}};
    const double from = (double)dd_calendar_days(2026, 7, 1) * DD_SECONDS_PER_DAY;
    dd_case scenario;
    dd_case_defaults(&scenario);
    memory.counting = true;
    static dd_windows w;
    dd_tide *tide = NULL;
    dd_report *report = NULL;
    char *calendar = NULL;
    dd_error error = {.status = DD_OK};
    w = (dd_windows){.asked = &asked, .datum = "chart datum", .rig_count = 1, .within = 0.1, .sun = true, .latitude = 0.9};
    w.rig[0] = (dd_usable){.scenario = &scenario, .launch = true, .name = "launch", .band_count = 1, .band = {{{.level = 1.2}, {.level = 2.4}}}};
    dd_status status = dd_tide_harmonic(constants, 4, 1.5, DD_TIDE_MID_YEAR, from - 3 * DD_SECONDS_PER_DAY, from + 4 * DD_SECONDS_PER_DAY, &tide, &error);
    w.tide = tide;
    w.report = status == DD_OK ? dd_reporter_create("windows", "windows", DD_REPORT_METRIC) : NULL;
    if (status == DD_OK && w.report == NULL) status = error.status = DD_ERROR_MEMORY;
    if (status == DD_OK) status = dd_windows_span(&w, &error);
    if (status == DD_OK) status = dd_windows_report(&w, &report, &calendar, &error);
    if (error.status != status) FAULT("request %ld: returned %d, told %d\n", memory.fail_at, (int)status, (int)error.status);
    if ((status == DD_OK) != (report != NULL) || (status == DD_OK) != (calendar != NULL)) FAULT("request %ld: neither error nor report, or both\n", memory.fail_at);
    if (status == DD_OK) status = keep(texts, dd_report_json(report));
    if (status == DD_OK) {
        status = keep(texts, calendar);
        calendar = NULL;
    }
    free(calendar);
    dd_report_free(report);
    dd_windows_close(&w);
    dd_tide_free(tide);
    return status;
}

/* A fleet that is drawn, with levels that are given. */
static dd_status fleet(text *texts)
{
    memory.counting = false;
    static dd_case scenario;
    static dd_fleet_answer answers[6];
    dd_case_defaults(&scenario);
    scenario.action = DD_ACTION_LAUNCH;
    scenario.boat.length = 5;
    scenario.fleet.own = 1;
    scenario.fleet.sampled.rigs = 3;
    for (int i = 0; i < 6; i++) answers[i] = (dd_fleet_answer){.asked = i % 2 == 0, .level = 0.1 * i};
    answers[4].status = DD_ERROR_NO_EQUILIBRIUM;
    memory.counting = true;
    dd_fleet_work w = {.scenario = &scenario, .ramp_count = 1, .answers = answers, .level = 0.3};
    dd_report *report = NULL;
    dd_error error = {.status = DD_OK};
    w.report = dd_reporter_create("fleet", "fleet", DD_REPORT_METRIC);
    dd_status status = w.report != NULL ? dd_fleet_make(&w, NULL, &error) : (error.status = DD_ERROR_MEMORY);
    if (status == DD_OK) dd_fleet_tell(&w);
    if (status == DD_OK) status = dd_reporter_finish(w.report, &report, &error);
    else dd_reporter_free(w.report);
    if (error.status != status) FAULT("request %ld: returned %d, told %d\n", memory.fail_at, (int)status, (int)error.status);
    if (status == DD_OK) status = keep(texts, dd_report_json(report));
    dd_report_free(report);
    free(w.rigs);
    return status;
}

static void answer(dd_begin *answers, const char *kind)
{
    char message[256];
    *answers = (dd_begin){.us = 1};
    for (int i = 0; i < DD_BEGIN_COUNT; i++)
        if (!dd_begin_answer(answers, i, i == DD_BEGIN_KIND ? kind : "", message, sizeof message)) fail_msg("%s", message);
}

/* The files for each kind of trailer. */
static dd_status begin(text *texts)
{
    static const char *const kinds[] = {"1", "2", "3", "4"};
    const dd_begin_found found = {.launch = 0.4, .retrieve = 0.4};
    dd_status status = DD_OK;
    for (int k = 0; k < 4 && status == DD_OK; k++) {
        dd_begin answers;
        dd_begin_file files[DD_BEGIN_FILES];
        dd_error error = {.status = DD_OK};
        memory.counting = false;
        answer(&answers, kinds[k]);
        memory.counting = true;
        status = dd_begin_files(&answers, &found, files, &error);
        if (error.status != status) FAULT("request %ld: returned %d, told %d\n", memory.fail_at, (int)status, (int)error.status);
        for (int i = 0; i < DD_BEGIN_FILES && status == DD_OK; i++) {
            status = keep(texts, files[i].text);
            files[i].text = NULL;
        }
        dd_begin_files_free(files);
    }
    return status;
}

/* Setting up asks `seat` and `weigh`, which have stages of their own. */
static dd_status begin_sets_up(text *texts)
{
    (void)texts;
    dd_begin answers;
    dd_begin_found found = {.launch = 0.4};
    dd_error error = {.status = DD_OK};
    dd_error_list list;
    dd_case_file *file = NULL;
    memory.counting = false;
    answer(&answers, "skids");
    if (dd_case_read(SOURCE_DIR "/scenarios/launch.yaml", NULL, NULL, &file, &list) != DD_OK) fail_msg("%s: %s", list.errors[0].place, list.errors[0].message);
    memory.counting = true;
    const dd_status status = dd_begin_set_up(dd_case_of(file), &answers, &found, &error);
    if (error.status != status) FAULT("request %ld: returned %d, told %d\n", memory.fail_at, (int)status, (int)error.status);
    dd_case_free(file);
    return status;
}

static dd_status run_stage(stage run, long fail_at, bool all_after, text *texts)
{
    long live = memory.live;
    memory.fail_at = fail_at;
    memory.all_after = all_after;
    memory.calls = 0;
    texts->length = 0;
    memory.counting = true;
    dd_status status = run(texts);
    memory.counting = false;
    if (memory.live != live) {
        FAULT("request %ld: %ld blocks were not given back\n", fail_at, memory.live - live);
        memory.live = live;
    }
    return status;
}

/* The first requests, and of each place in the code the first, the last and some between. */
static long choose(long calls, long first, long samples, bool *chosen)
{
    enum { MOST_SITES = 2000 };
    static struct {
        const void *site;
        long calls, before;
    } sites[MOST_SITES];
    long known = 0, count = 0;
    for (int pass = 0; pass < 2; pass++)
        for (long i = 0; i < calls; i++) {
            long s = 0;
            while (s < known && sites[s].site != memory.site[i]) s++;
            assert_true(s < MOST_SITES);
            if (s == known) known++, sites[s].site = memory.site[i], sites[s].calls = sites[s].before = 0;
            if (pass == 0) {
                sites[s].calls++;
                continue;
            }
            const long before = sites[s].before++;
            chosen[i] = i < first || sites[s].calls <= samples || before % (sites[s].calls / (samples - 1) + 1) == 0 || before == sites[s].calls - 1;
            count += chosen[i];
        }
    return count;
}

static void every_request_fails(stage run, long first, long samples)
{
    text good = {0}, now = {0};
    faults = 0;
    assert_int_equal(run_stage(run, -1, false, &good), DD_OK);
    long calls = memory.calls, refused = 0;
    assert_true(calls > 50 && calls < MOST_CALLS);
    bool *chosen = __real_calloc((size_t)calls, sizeof *chosen);
    assert_non_null(chosen);
    long count = choose(calls, first, samples, chosen);
    for (long i = 0; i < calls; i++)
        for (int after = 0; after < 2 && chosen[i]; after++) {
            if (after == 1 && i % 16 != 0) continue;
            dd_status status = run_stage(run, i, after, &now);
            if (status == DD_OK && (now.length != good.length || memcmp(now.bytes, good.bytes, good.length) != 0))
                FAULT("request %ld (%p): no error, but another result\n", i, memory.site[i]);
            if (status != DD_OK && status != DD_ERROR_MEMORY && status != DD_ERROR_LIBRARY)
                FAULT("request %ld (%p): status %d, '%s'\n", i, memory.site[i], (int)status, dd_status_text(status));
            refused += status != DD_OK;
        }
    print_message("%ld requests, %ld of them refused in turn\n", calls, count);
    if (refused < count - 5) FAULT("%ld of %ld refusals gave an error\n", refused, count); /* a few may not matter */
    __real_free(chosen);
    __real_free(good.bytes);
    __real_free(now.bytes);
    assert_int_equal(faults, 0);
}

static void reading(void **state) { (void)state, every_request_fails(read_and_show, 300, 8); }
static void launching(void **state) { (void)state, every_request_fails(launch, 60, 4); }
static void settling(void **state) { (void)state, every_request_fails(settle, 10, 2); }
static void weighing(void **state) { (void)state, every_request_fails(weigh, 60, 2); }
static void seating(void **state) { (void)state, every_request_fails(seat, 40, 2); }
static void depths(void **state) { (void)state, every_request_fails(depth, 20, 2); }
static void braking(void **state) { (void)state, every_request_fails(brake, 0, 2); }
static void a_fleet(void **state) { (void)state, every_request_fails(fleet, 60, 3); }
static void windows_of_a_day(void **state) { (void)state, every_request_fails(windows, 60, 3); }
static void beginning(void **state) { (void)state, every_request_fails(begin, 60, 3); }
static void a_hull_by_stations(void **state) { (void)state, every_request_fails(by_stations, 60, 3); }

/* A handful of requests from the first to the last: what they are in are the same few places, again for each place tried. */
static void setting_up(void **state)
{
    (void)state;
    enum { REFUSED = 12 };
    text none = {0};
    faults = 0;
    assert_int_equal(run_stage(begin_sets_up, -1, false, &none), DD_OK);
    const long calls = memory.calls;
    for (int i = 0; i < REFUSED; i++) {
        const long at = i < 4 ? i : calls * (i - 3) / (REFUSED - 3) - 1;
        const dd_status status = run_stage(begin_sets_up, at, false, &none);
        if (status != DD_ERROR_MEMORY) FAULT("request %ld of %ld: %d\n", at, calls, (int)status);
    }
    assert_int_equal(faults, 0);
}

int main(void)
{
    json_set_alloc_funcs(__wrap_malloc, __wrap_free);
    const struct CMUnitTest tests[] = {cmocka_unit_test(reading), cmocka_unit_test(launching),
                                       cmocka_unit_test(a_hull_by_stations), cmocka_unit_test(settling), cmocka_unit_test(weighing), cmocka_unit_test(seating), cmocka_unit_test(braking), cmocka_unit_test(windows_of_a_day),
                                       cmocka_unit_test(depths), cmocka_unit_test(a_fleet), cmocka_unit_test(beginning), cmocka_unit_test(setting_up)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
