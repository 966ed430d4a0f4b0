/* SPDX-License-Identifier: GPL-3.0-or-later */
/* weigh --trailers: which trailer of a folder carries the scenario's boat. */
#include "lib/base/units.h"
#include "tools/drawdock/command.h"
#include <drawdock/study.h>
#include <dirent.h>
#include <errno.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_TRAILERS = 200 };

/* "10 %" or 0.1; false: neither, or not from 0 to below 1. */
static bool reserve_of(const char *text, double *share)
{
    char message[200];
    *share = 0;
    return !text || (dd_quantity_parse(text, DD_RATIO, share, message, sizeof message) && *share >= 0 && *share < 1);
}

static int is_yaml(const struct dirent *entry)
{
    const size_t length = strlen(entry->d_name);
    return length > 5 && strcmp(entry->d_name + length - 5, ".yaml") == 0;
}

/* Reads the scenario with each file of the folder as its trailer. */
static int read_trailers(const options *given, const char *folder, struct dirent *const *entries, int count, dd_case_file **files)
{
    int status = STATUS_WITHIN;
    for (int i = 0; i < count && status == STATUS_WITHIN; i++) {
        char override[PATH_MAX + 300];
        options with = *given;
        if (with.with_count == LIST_ROOM) {
            fputs("drawdock: too many --with\n", stderr);
            return STATUS_INPUT;
        }
        snprintf(override, sizeof override, "trailer=%s/%s", folder, entries[i]->d_name);
        /* first, so that --with trailer.brakes=... changes each of them */
        memmove(&with.with[1], &with.with[0], (size_t)(with.with_count + 1) * sizeof with.with[0]);
        with.with[0] = override;
        with.with_count++;
        files[i] = read_scenario(&with, given->operands[0], &status);
    }
    return status;
}

static int judge(const options *given, dd_case_file *const *files, int count, double reserve)
{
    const dd_trailer_parameters *trailers[MOST_TRAILERS];
    dd_report *report;
    dd_error error = {0};
    for (int i = 0; i < count; i++) trailers[i] = &dd_case_of(files[i])->trailer;
    options plain = *given;
    plain.no_plots = true; /* the plots of weigh are of one rig */
    dd_case *scenario = copy_scenario(given, files[0]);
    if (!scenario) return STATUS_NOT_DONE;
    const dd_status found = dd_study_which_trailer(scenario, trailers, count, reserve, &report, &error);
    free(scenario);
    if (found != DD_OK) {
        tell_error(&error);
        return dd_status_exit(error.status);
    }
    const int status = report_command(&plain, report, NULL, NULL);
    dd_report_free(report);
    return status;
}

int which_trailer(const options *given)
{
    char folder[PATH_MAX];
    double reserve;
    struct dirent **entries = NULL;
    dd_case_file *files[MOST_TRAILERS] = {NULL};
    if (given->operand_count != 1 || strcmp(given->operands[0], "-") == 0 || !reserve_of(given->reserve, &reserve)) {
        fputs("drawdock: weigh --trailers takes one scenario file, and --reserve a share as '10 %', from 0 to less than 100 %\n", stderr);
        return STATUS_INPUT;
    }
    const int found = realpath(given->trailers, folder) ? scandir(folder, &entries, is_yaml, alphasort) : -1;
    if (found < 1 || found > MOST_TRAILERS) {
        fprintf(stderr, "%s: %s; expected a folder of 1 to %d trailer files (*.yaml)\n", given->trailers,
                found < 0 ? strerror(errno) : found == 0 ? "holds no trailer file" : "holds more trailer files", MOST_TRAILERS);
        free(entries);
        return STATUS_INPUT;
    }
    int status = read_trailers(given, folder, entries, found, files);
    if (status == STATUS_WITHIN) status = judge(given, files, found, reserve);
    for (int i = 0; i < found; i++) {
        dd_case_free(files[i]);
        free(entries[i]);
    }
    free(entries);
    return status;
}
