/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where to stand and the least water level, for several slopes of the slab: a scenario is read once and changed in memory.
   ./a.out scenarios/launch.yaml */
#include <drawdock/drawdock.h>
#include <math.h>
#include <stdio.h>

int main(int argc, char **argv)
{
    if (argc < 2) return 2;
    dd_case_file *file = NULL;
    dd_error_list wrong = {0};
    if (dd_case_read(argv[1], NULL, NULL, &file, &wrong) != DD_OK) {
        fprintf(stderr, "%s\n", wrong.count > 0 ? wrong.errors[0].message : "not read");
        dd_error_list_free(&wrong);
        return 2;
    }
    dd_error_list_free(&wrong);
    dd_case scenario = *dd_case_of(file); /* a copy of our own; what it points to lives as long as the file */
    const double slopes[] = {0.12, 0.125, 0.14};
    int failed = 0;
    for (int i = 0; i < 3 && !failed; i++) {
        scenario.ramp.slope = atan(slopes[i]);
        dd_report *report = NULL;
        dd_error error;
        if (dd_study_ramp_depth(&scenario, 0, NULL, &report, &error) != DD_OK) {
            fprintf(stderr, "%s: %s\n", error.place, error.message);
            failed = 1;
        } else {
            printf("slope %.1f %%: %s. %s\n", 100 * slopes[i], report->word, report->headline);
            dd_report_free(report);
        }
    }
    dd_case_free(file);
    return failed ? 3 : 0;
}
