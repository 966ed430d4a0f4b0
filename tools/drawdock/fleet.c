/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fleet: the rigs that use a ramp. */
#include "tools/drawdock/command.h"
#include "tools/drawdock/output.h"
#include <drawdock/study.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* A rig's file: from the folder of the scenario, else from the shipped ones. */
static void path_of(const char *scenario, const char *name, char path[PATH_MAX])
{
    char shipped[PATH_MAX];
    const char *slash = strrchr(scenario, '/');
    if (name[0] == '/')
        snprintf(path, PATH_MAX, "%s", name);
    else
        snprintf(path, PATH_MAX, "%.*s%s", slash ? (int)(slash - scenario) + 1 : 0, scenario, name);
    if (access(path, F_OK) == 0) return;
    snprintf(shipped, sizeof shipped, "scenarios/%s", name);
    char found[PATH_MAX];
    if (data_find(shipped, found, sizeof found)) snprintf(path, PATH_MAX, "%s", found);
}

/* The overrides are the ramp owner's: a rig's own file stands as it is. NULL without a status: none is named. */
static dd_case_file *read_rig(const options *given, const char *name, int *status)
{
    char path[PATH_MAX];
    options plain = *given;
    if (name[0] == '\0') return NULL;
    plain.with_count = 0;
    plain.with[0] = NULL;
    path_of(given->operands[0], name, path);
    return read_scenario(&plain, path, status);
}

int command_fleet(const options *given)
{
    enum { FILES = 2 * DD_FLEET_RIGS };
    dd_case_file *files[FILES] = {NULL};
    dd_fleet_member rigs[DD_FLEET_RIGS] = {{NULL, NULL}};
    dd_report *report = NULL;
    dd_error error = {0};
    progress bar;
    int status;
    dd_case_file *file = read_scenario(given, given->operands[0], &status);
    if (!file) return status;
    const dd_case *scenario = dd_case_of(file);
    const dd_fleet *fleet = &scenario->fleet;
    for (int i = 0; i < fleet->rig_count && status == STATUS_WITHIN; i++) {
        files[2 * i] = read_rig(given, fleet->rigs[i].launch, &status);
        if (status == STATUS_WITHIN) files[2 * i + 1] = read_rig(given, fleet->rigs[i].retrieve, &status);
        rigs[i] = (dd_fleet_member){files[2 * i] ? dd_case_of(files[2 * i]) : NULL, files[2 * i + 1] ? dd_case_of(files[2 * i + 1]) : NULL};
        if (status != STATUS_WITHIN) fprintf(stderr, "drawdock: the file above belongs to fleet.rigs[%s] of %s\n", fleet->rigs[i].name, given->operands[0]);
    }
    if (status == STATUS_WITHIN) {
        progress_begin(&bar, !given->quiet);
        const dd_status found = dd_study_fleet(scenario, rigs, 0, progress_step, &bar, &report, &error);
        progress_end(&bar);
        status = found == DD_OK ? report_command(given, report, NULL, NULL) : output_give_up(&error);
    }
    dd_report_free(report);
    for (int i = 0; i < FILES; i++) dd_case_free(files[i]);
    dd_case_free(file);
    return status;
}
