/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every code of status.def is provoked by a call that a user or a fault can make. The table is made from status.def: a code
   without a function provoke_CODE here does not compile. */
#include "lib/ode/ode.h"
#include "tests/fault/spoiled.h"
#include "tools/drawdock/folder.h"
#include <drawdock/study.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

/* The linker sends these calls here. */
static bool no_memory, no_root;
void *__real_calloc(size_t count, size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_calloc(size_t count, size_t size) { return no_memory ? NULL : __real_calloc(count, size); }
int __real_gsl_root_fsolver_iterate(gsl_root_fsolver *solver);
int __wrap_gsl_root_fsolver_iterate(gsl_root_fsolver *solver);
int __wrap_gsl_root_fsolver_iterate(gsl_root_fsolver *solver)
{
    return no_root ? GSL_EFAILED : __real_gsl_root_fsolver_iterate(solver);
}

static const char scenario_file[] = SOURCE_DIR "/scenarios/launch.yaml";

static dd_status read_only(const char *path, const char *override, dd_error *error)
{
    const char *overrides[] = {override, NULL};
    dd_case_file *file = NULL;
    dd_error_list list;
    dd_status status = dd_case_read(path, overrides, NULL, &file, &list);
    if (list.count > 0) *error = list.errors[0];
    dd_error_list_free(&list);
    dd_case_free(file);
    return status;
}

static int stop_at_once(double share, double time, void *context)
{
    (void)share, (void)time, (void)context;
    return 1;
}

/* A run of two seconds, spoiled after half a second. */
static dd_status run_with(spoil how, dd_progress progress, size_t cookie, dd_error *error)
{
    static const char *const overrides[] = {"time limit=2 s", NULL};
    dd_case_file *file = NULL;
    dd_error_list list;
    dd_result *result = NULL;
    if (dd_case_read(scenario_file, overrides, NULL, &file, &list) != DD_OK) fail_msg("%s", list.errors[0].message);
    dd_case *scenario = malloc(sizeof *scenario);
    assert_non_null(scenario);
    *scenario = *dd_case_of(file);
    dd_case_free(file);
    if (cookie != 0) scenario->cookie = cookie;
    spoil_force("buoyancy", how, 0.5);
    dd_status status = dd_study_run(scenario, progress, NULL, &result, error);
    spoil_force("buoyancy", SPOIL_NOTHING, INFINITY);
    dd_result_free(result);
    free(scenario);
    return status;
}

static double line(double t, void *context)
{
    (void)context;
    return t - 0.3;
}

static dd_status provoke_DD_OK(dd_error *error) { return read_only(scenario_file, NULL, error); }
static dd_status provoke_DD_ERROR_ARGUMENT(dd_error *error) { return run_with(SPOIL_NOTHING, NULL, 1, error); }
static dd_status provoke_DD_ERROR_UNSET(dd_error *error)
{
    static dd_hull_parameters boat;
    dd_hull *hull = NULL;
    dd_hull_defaults(&boat);
    return dd_hull_create(&boat, &hull, error);
}
static dd_status provoke_DD_ERROR_INPUT(dd_error *error) { return read_only(scenario_file, "water.level=blue", error); }
static dd_status provoke_DD_ERROR_NOT_FOUND(dd_error *error) { return read_only(SOURCE_DIR "/no-such.yaml", NULL, error); }
static dd_status provoke_DD_ERROR_MEMORY(dd_error *error)
{
    dd_rig *rig = NULL;
    static dd_vehicle_parameters vehicle;
    static dd_trailer_parameters trailer;
    dd_case_file *file = NULL;
    dd_error_list list;
    if (dd_case_read(scenario_file, NULL, NULL, &file, &list) != DD_OK) fail_msg("%s", list.errors[0].message);
    vehicle = dd_case_of(file)->vehicle;
    trailer = dd_case_of(file)->trailer;
    dd_case_free(file);
    no_memory = true;
    dd_status status = dd_rig_create(&vehicle, &trailer, &rig, error);
    no_memory = false;
    return status;
}
/* A boat heavier than its volume to the sheer displaces. */
static dd_status provoke_DD_ERROR_NO_EQUILIBRIUM(dd_error *error)
{
    dd_case_file *file = NULL;
    dd_error_list list;
    dd_hull *hull = NULL;
    dd_floating floating;
    static const char *const overrides[] = {"aboard[1].mass=15000 kg", NULL};
    if (dd_case_read(scenario_file, overrides, NULL, &file, &list) != DD_OK) fail_msg("%s", list.errors[0].message);
    dd_status status = dd_hull_create(&dd_case_of(file)->boat, &hull, error);
    dd_case_free(file);
    if (status != DD_OK) return status;
    status = dd_hull_float(hull, 1025, 9.80665, 0, 0, &floating, error);
    dd_hull_free(hull);
    return status;
}
static dd_status provoke_DD_ERROR_STEP(dd_error *error) { return run_with(SPOIL_TOO_STIFF, NULL, 0, error); }
static dd_status provoke_DD_ERROR_NOT_FINITE(dd_error *error) { return run_with(SPOIL_NOT_A_NUMBER, NULL, 0, error); }
static dd_status provoke_DD_ERROR_LEDGER(dd_error *error) { return run_with(SPOIL_UNTRUE, NULL, 0, error); }
static dd_status provoke_DD_ERROR_LIBRARY(dd_error *error)
{
    double root;
    no_root = true;
    dd_status status = dd_ode_locate(line, NULL, 0, 1, -0.3, 0.7, 1e-9, &root, error);
    no_root = false;
    return status;
}
static dd_status provoke_DD_ERROR_WRITE(dd_error *error)
{
    result_folder folder = {0};
    dd_status status = folder_open(&folder, scenario_file, error); /* a file stands where the folder should be */
    folder_discard(&folder);
    return status;
}
static dd_status provoke_DD_ERROR_CANCELLED(dd_error *error) { return run_with(SPOIL_NOTHING, stop_at_once, 0, error); }

static const struct {
    const char *name;
    dd_status code;
    dd_status (*provoke)(dd_error *error);
} rows[] = {
#define DD_STATUS(code, text, remedy, exit_status) {#code, code, provoke_##code},
#include <drawdock/status.def>
#undef DD_STATUS
};

static void every_code_can_be_provoked(void **state)
{
    (void)state;
    assert_int_equal(sizeof rows / sizeof rows[0], DD_STATUS_COUNT);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        dd_error error;
        memset(&error, 0, sizeof error);
        dd_status status = rows[i].provoke(&error);
        print_message("%s: %s: %s\n", rows[i].name, error.place, error.message);
        assert_int_equal(status, rows[i].code);
        assert_int_equal(error.status, rows[i].code);
        if (status == DD_OK) continue;
        assert_true(error.place[0] != '\0' && strlen(error.message) > 5);
        if (dd_status_remedy(status)[0] != '\0') assert_true(error.remedy[0] != '\0');
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(every_code_can_be_provoked)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
