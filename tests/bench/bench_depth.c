/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cost of one answer of `depth` as the command gives it without -o: the band at the scenario's level and the least level. User CPU, the least of several,
   and how many evaluations of the forces that is. */
#include "tests/bench/cost.h"
#include <drawdock/study.h>
#include <stdio.h>
#include <stdlib.h>

enum { REPEATS = 20 };

static void time_scenario(const char *root, const char *name)
{
    dd_case_file *file = cost_read(root, name);
    dd_error error;
    cost began, whole = {0};
    for (int i = 0; i < REPEATS; i++) {
        dd_report *report = NULL;
        cost_begin(&began);
        cost_must(dd_study_ramp_depth(dd_case_of(file), 0, NULL, &report, &error), name, &error);
        cost_end(&began, &whole);
        dd_report_free(report);
    }
    printf("%s: %.1f ms, %d evaluations, %d with K, %.1f us each\n", name, 1e3 * whole.seconds, whole.evaluations, whole.with_K, 1e6 * whole.seconds / whole.evaluations);
    dd_case_free(file);
}

int main(int argc, char **argv)
{
    static const char *const names[] = {"scenarios/launch", "scenarios/retrieve", "scenarios/rigs/five-skid-launch", "scenarios/rigs/five-rocker-launch", "scenarios/rigs/six-rocker-launch"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) time_scenario(argc > 1 ? argv[1] : SOURCE_DIR, names[i]);
    return EXIT_SUCCESS;
}
