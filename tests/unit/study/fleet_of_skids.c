/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/unit/study/fleet_of_skids.h"
#include "lib/study/fleet.h"
#include <stdlib.h>

static dd_status answered(const dd_case *scenario, const dd_fleet_member *rigs, dd_report **report, dd_error *error)
{
    dd_fleet_work w = {.scenario = scenario, .report = dd_reporter_create("fleet", "fleet", DD_REPORT_METRIC)};
    dd_status status = dd_fleet_prepare(&w, rigs, error);
    if (status == DD_OK) w.answers = calloc((size_t)(w.ramp_count * w.count * DD_FLEET_ACTIONS), sizeof *w.answers);
    for (int r = 0; r < w.ramp_count && w.answers != NULL; r++)
        for (int i = 0; i < w.count; i++)
            for (int a = 0; a < DD_FLEET_ACTIONS; a++)
                *dd_fleet_answer_of(&w, r, i, a) = (dd_fleet_answer){.asked = w.rigs[i].base[a] != NULL, .level = w.toe[r] + w.rigs[i].mass * w.rigs[i].length / 4};
    if (w.answers != NULL) {
        dd_fleet_tell(&w);
        status = dd_reporter_finish(w.report, report, error);
    } else
        dd_reporter_free(w.report);
    dd_fleet_end(&w);
    return status;
}

dd_status fleet_of_skids(const dd_case *scenario, dd_report **report, dd_error *error)
{
    static const char *const names[] = {SOURCE_DIR "/scenarios/rigs/five-skid-launch.yaml", SOURCE_DIR "/scenarios/rigs/five-skid-drive-on-retrieve.yaml"};
    static const char *const search[] = {SOURCE_DIR "/scenarios", NULL};
    dd_case_file *files[2] = {NULL, NULL};
    dd_status status = DD_OK;
    for (int i = 0; i < 2 && status == DD_OK; i++) {
        dd_error_list list;
        status = dd_case_read(names[i], NULL, search, &files[i], &list);
        if (status != DD_OK) *error = list.errors[0];
        dd_error_list_free(&list);
    }
    if (status == DD_OK) {
        const dd_fleet_member rigs[DD_FLEET_RIGS] = {{dd_case_of(files[0]), dd_case_of(files[1])}};
        status = answered(scenario, rigs, report, error);
    }
    dd_case_free(files[0]);
    dd_case_free(files[1]);
    return status;
}
