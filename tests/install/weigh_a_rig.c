/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Weighs the rig of a scenario file and prints every figure that is held against a rating, tightest first:
       cc weigh_a_rig.c $(pkg-config --cflags --libs drawdock) && ./a.out scenarios/on-the-road.yaml */
#include <drawdock/drawdock.h>
#include <stdio.h>

int main(int argc, char **argv)
{
    if (argc < 2) return 2;
    dd_case_file *file = NULL;
    dd_error_list wrong = {0};
    /* A scenario names its parts by file; folders to look in beside its own may be given, NULL ends them. */
    if (dd_case_read(argv[1], NULL, NULL, &file, &wrong) != DD_OK) {
        for (int i = 0; i < wrong.count; i++)
            fprintf(stderr, "%s: %s; %s\n", wrong.errors[i].place, wrong.errors[i].message, wrong.errors[i].remedy);
        dd_error_list_free(&wrong);
        return 2;
    }
    dd_error_list_free(&wrong); /* warnings */
    dd_report *report = NULL;
    dd_error error;
    dd_status status = dd_study_weigh(dd_case_of(file), &report, &error);
    if (status != DD_OK)
        fprintf(stderr, "%s: %s\n", error.place, error.message);
    else {
        printf("%s: %s\n", report->word, report->sentence);
        for (int i = 0; i < report->check_count; i++) {
            const dd_check *check = &report->checks[i];
            if (check->outcome == DD_CHECK_GOOD || check->outcome == DD_CHECK_BROKEN)
                printf("%3.0f %%  %s: %.4g of %.4g %s\n", 100 * check->share, check->name, check->value, check->limit, check->unit);
        }
    }
    dd_report_free(report);
    dd_case_free(file);
    return status == DD_OK ? 0 : 3;
}
