/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cost of a run: a right-hand side and a Jacobian, evaluations and user CPU of a scenario with our implicit stepper and with CVODE on
   the same right-hand side in the same process, statics, peak memory. Times are user CPU; look at the ratios. */
#include "lib/study/run.h"
#include "lib/study/settle.h"
#include "tests/unit/ode/cvode_stepper.h"
#include <drawdock/study.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>

enum { REPEATS = 3, CALLS = 20000 };

static double user_seconds(void)
{
    struct rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    return (double)usage.ru_utime.tv_sec + 1e-6 * (double)usage.ru_utime.tv_usec;
}

static void complain(const char *what, const dd_error *error)
{
    fprintf(stderr, "%s: %s: %s\n", what, error->place, error->message);
    exit(EXIT_FAILURE);
}

/* Least user CPU of several whole runs, without recording. */
static double time_run(const dd_case *scenario, const dd_stepper *stepper, dd_ode_statistics *statistics, double *simulated,
                       double *open)
{
    double best = 1e9;
    for (int i = 0; i < REPEATS; i++) {
        dd_run *run;
        dd_run_view view;
        dd_error error;
        double before = user_seconds();
        if (dd_run_create_with(scenario, stepper, 1e-5, &run, &error) != DD_OK)
            complain(stepper->name, &error);
        if (stepper == &dd_stepper_cvode) run->ledger_bound = INFINITY; /* the bound is for our own integrator's share of the error */
        *open = 0;
        for (dd_run_state(run, &view); !view.finished; dd_run_state(run, &view)) {
            if (dd_run_step(run, &error) != DD_OK)
                complain(stepper->name, &error);
            *open = fmax(*open, dd_ledger_balance_of(run->ledger).energy_residual);
        }
        *statistics = *dd_ode_statistics_of(run->ode);
        *simulated = view.time;
        dd_run_free(run);
        double taken = user_seconds() - before;
        best = taken < best ? taken : best;
    }
    return best;
}

static void time_parts(const dd_case *scenario)
{
    dd_run *run;
    dd_error error;
    if (dd_run_create(scenario, &run, &error) != DD_OK)
        complain("run", &error);
    for (int i = 0; i < 400; i++)
        if (dd_run_step(run, &error) != DD_OK)
            complain("run", &error);
    const size_t n = (size_t)run->m->system->size;
    double *y = malloc(n * sizeof *y), *dydt = malloc(n * sizeof *dydt), *j = malloc(n * n * sizeof *j);
    if (y == NULL || dydt == NULL || j == NULL)
        exit(EXIT_FAILURE);
    for (size_t i = 0; i < n; i++)
        y[i] = dd_ode_state(run->ode)[i];
    double before = user_seconds();
    for (int i = 0; i < CALLS; i++)
        dd_system_derivative(1.0, y, dydt, run->m->workspace);
    double derivative = (user_seconds() - before) / CALLS;
    before = user_seconds();
    for (int i = 0; i < CALLS / 10; i++)
        dd_system_jacobian(1.0, y, j, dydt, run->m->workspace);
    double jacobian = (user_seconds() - before) / (CALLS / 10);
    printf("states %zu: right-hand side %.2f us, Jacobian %.2f us\n", n, 1e6 * derivative, 1e6 * jacobian);
    free(y);
    free(dydt);
    free(j);
    dd_run_free(run);
}

/* One answer of `depth`, against the run of the same scenario in this process. */
static void time_depth(const dd_case *scenario, double run)
{
    dd_report *report;
    dd_error error;
    const double before = user_seconds();
    for (int i = 0; i < REPEATS; i++) {
        if (dd_study_ramp_depth(scenario, 0, NULL, &report, &error) != DD_OK) complain("depth", &error);
        dd_report_free(report);
    }
    const double taken = (user_seconds() - before) / REPEATS;
    printf("depth: %.1f ms user an answer, %.2f of the run by bdf\n", 1e3 * taken, taken / run);
}

/* Rigs drawn from five metres on skids, each with a launch and nothing else, one thread: what one of them takes. */
static void time_fleet(const char *root, const char *const *search, double run)
{
    enum { RIGS = 40 };
    const char *const with[] = {"fleet.sampled={rigs: 40, least length: 4.2 m, likely length: 5.2 m, most length: 7 m, mass within: 15 %}", NULL};
    char path[4096];
    dd_case_file *file;
    dd_error_list errors;
    dd_report *report;
    dd_error error;
    snprintf(path, sizeof path, "%s/scenarios/rigs/five-skid-launch.yaml", root);
    if (dd_case_read(path, with, search, &file, &errors) != DD_OK) complain(path, &errors.errors[0]);
    const double before = user_seconds();
    if (dd_study_fleet(dd_case_of(file), NULL, 1, NULL, NULL, &report, &error) != DD_OK) complain("fleet", &error);
    const double taken = (user_seconds() - before) / RIGS;
    printf("fleet of %d: %.1f ms user a rig, %.2f of the launch's run by bdf\n", RIGS, 1e3 * taken, taken / run);
    dd_report_free(report);
    dd_case_free(file);
}

int main(int argc, char **argv)
{
    static const char *const names[] = {"scenarios/launch", "scenarios/retrieve", "tests/property/rocker-stream-launch",
                                         "tests/property/rocker-stream-retrieve"};
    enum { SCENARIOS = sizeof names / sizeof *names, RICH = 2 }; /* from RICH on: every mechanism at once */
    double all_ours = 0, all_theirs = 0;
    for (int s = 0; s < SCENARIOS; s++) {
        char path[4096];
        dd_case_file *file;
        dd_error_list errors;
        const char *root = argc > 1 ? argv[1] : SOURCE_DIR;
        char parts[4096];
        snprintf(path, sizeof path, "%s/%s.yaml", root, names[s]);
        snprintf(parts, sizeof parts, "%s/scenarios", root);
        const char *const search[] = {parts, NULL};
        if (dd_case_read(path, NULL, search, &file, &errors) != DD_OK)
            complain(path, &errors.errors[0]);
        const dd_case *scenario = dd_case_of(file);
        printf("%s\n", names[s]);
        time_parts(scenario);
        dd_ode_statistics bdf, cvode;
        double simulated_bdf, simulated_cvode, open_bdf, open_cvode;
        double ours = time_run(scenario, &dd_stepper_bdf, &bdf, &simulated_bdf, &open_bdf);
        double theirs = time_run(scenario, &dd_stepper_cvode, &cvode, &simulated_cvode, &open_cvode);
        if (s >= RICH) all_ours += ours, all_theirs += theirs;
        printf("bdf:   %6.1f ms user for %5.1f s simulated, %ld derivatives, %ld Jacobians, %ld steps\n", 1e3 * ours, simulated_bdf,
               bdf.derivatives, bdf.jacobians, bdf.steps);
        printf("cvode: %6.1f ms user for %5.1f s simulated, %ld derivatives, %ld Jacobians, %ld steps\n", 1e3 * theirs, simulated_cvode,
               cvode.derivatives, cvode.jacobians, cvode.steps);
        printf("ratio bdf / cvode %.2f; bdf per 120 s simulated %.1f ms\n", ours / theirs, 1e3 * ours * 120.0 / simulated_bdf);
        printf("ledger open at most: bdf %.2e, cvode %.2e\n", open_bdf, open_cvode);
        dd_result *result;
        dd_error error;
        double before = user_seconds();
        if (dd_study_settle(scenario, NULL, NULL, &result, &error) != DD_OK)
            complain("settle", &error);
        printf("settle: %.1f ms user for %d positions\n", 1e3 * (user_seconds() - before), result->row_count);
        dd_result_free(result);
        if (s < RICH) time_depth(scenario, ours);
        if (s == 0) time_fleet(root, search, ours);
        dd_case_free(file);
    }
    printf("every mechanism at once, launch and retrieve: bdf %.0f ms, cvode %.0f ms, ratio %.2f\n", 1e3 * all_ours, 1e3 * all_theirs,
           all_ours / all_theirs);
    struct rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    printf("peak memory %.1f MB\n", (double)usage.ru_maxrss / 1024.0);
    return EXIT_SUCCESS;
}
