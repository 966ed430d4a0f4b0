/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/bench/cost.h"
#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>

static int evaluations, with_K;
int __real_dd_system_evaluate(dd_workspace *w, double t, const double *y, int want);
int __wrap_dd_system_evaluate(dd_workspace *w, double t, const double *y, int want);
int __wrap_dd_system_evaluate(dd_workspace *w, double t, const double *y, int want)
{
    evaluations++;
    with_K += (want & (DD_WANT_STIFFNESS | DD_WANT_GRADIENT)) != 0;
    return __real_dd_system_evaluate(w, t, y, want);
}

double cost_user_seconds(void)
{
    struct rusage usage;
    getrusage(RUSAGE_SELF, &usage);
    return (double)usage.ru_utime.tv_sec + 1e-6 * (double)usage.ru_utime.tv_usec;
}

void cost_begin(cost *began)
{
    began->seconds = cost_user_seconds();
    evaluations = with_K = 0;
}

void cost_end(const cost *began, cost *least)
{
    const double taken = cost_user_seconds() - began->seconds;
    if (least->seconds == 0 || taken < least->seconds) least->seconds = taken;
    least->evaluations = evaluations;
    least->with_K = with_K;
}

void cost_must(dd_status status, const char *what, const dd_error *error)
{
    if (status == DD_OK) return;
    fprintf(stderr, "%s: %s: %s\n", what, error->place, error->message);
    exit(EXIT_FAILURE);
}

dd_case_file *cost_read(const char *root, const char *name)
{
    char path[4096], parts[4096];
    dd_case_file *file;
    dd_error_list errors;
    snprintf(path, sizeof path, "%s/%s.yaml", root, name);
    snprintf(parts, sizeof parts, "%s/scenarios", root);
    const char *const search[] = {parts, NULL};
    cost_must(dd_case_read(path, NULL, search, &file, &errors), path, &errors.errors[0]);
    return file;
}
