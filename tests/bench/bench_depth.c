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

/* bench_depth [root [scenario...]]: those named, without .yaml, or the usual ones. */
int main(int argc, char **argv)
{
    static const char *const usual[] = {"scenarios/launch", "scenarios/retrieve", "scenarios/rigs/five-skid-launch", "scenarios/rigs/five-rocker-launch", "scenarios/rigs/six-rocker-launch",
                                        "scenarios/rigs/six-skid-retrieve", "scenarios/rigs/five-skid-drive-on-retrieve", "scenarios/rigs/four-skid-tilt-retrieve",
                                        "scenarios/rigs/five-keel-roller-retrieve", "scenarios/rigs/five-rocker-stream-retrieve"};
    const char *root = argc > 1 ? argv[1] : SOURCE_DIR;
    for (size_t i = 0; argc <= 2 && i < sizeof usual / sizeof usual[0]; i++) time_scenario(root, usual[i]);
    for (int i = 2; i < argc; i++) time_scenario(root, argv[i]);
    return EXIT_SUCCESS;
}
