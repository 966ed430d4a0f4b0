/* SPDX-License-Identifier: GPL-3.0-or-later */
/* seat --adjust: what to shift on a trailer, and the scenario with it shifted. */
#include "tools/drawdock/command.h"
#include "tools/drawdock/output.h"
#include <drawdock/study.h>
#include <stdlib.h>
#include <string.h>

/* The given scenario read again with the changes, one a line, after its other overrides. */
static char *adjusted_text(const options *given, const char *changes, int *status)
{
    options with = *given;
    char *lines = strdup(changes), *text = NULL, *rest = NULL;
    *status = STATUS_NOT_DONE;
    if (!lines) return NULL;
    for (char *line = strtok_r(lines, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest)) {
        if (with.with_count == LIST_ROOM) {
            fputs("drawdock: too many --with\n", stderr);
            *status = STATUS_INPUT;
            free(lines);
            return NULL;
        }
        with.with[with.with_count++] = line;
    }
    with.with[with.with_count] = NULL;
    dd_case_file *file = read_scenario(&with, given->operands[0], status);
    if (file) {
        text = dd_case_show(file, 0);
        *status = text ? STATUS_WITHIN : STATUS_NOT_DONE;
    }
    dd_case_free(file);
    free(lines);
    return text;
}

int adjust_rig(const options *given)
{
    int status;
    dd_report *report;
    char *changes, *text = NULL;
    dd_error error = {0};
    progress bar;
    if (given->operand_count != 1 || (given->output && strcmp(given->operands[0], "-") == 0)) {
        fputs("drawdock: seat --adjust takes one scenario, and with --output one that is a file\n", stderr);
        return STATUS_INPUT;
    }
    dd_case_file *file = read_scenario(given, given->operands[0], &status);
    if (!file) return status;
    progress_begin(&bar, !given->quiet);
    const dd_status found = dd_study_adjust(dd_case_of(file), progress_step, &bar, &report, &changes, &error);
    progress_end(&bar);
    dd_case_free(file);
    if (found != DD_OK) return output_give_up(&error);
    status = STATUS_WITHIN;
    if (given->output) text = adjusted_text(given, changes, &status);
    if (status == STATUS_WITHIN) status = report_command(given, report, "adjusted.yaml", text);
    free(text);
    free(changes);
    dd_report_free(report);
    return status;
}
