/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/record/text.h"
#include "tools/drawdock/handover.h"
#include "tools/drawdock/output.h"
#include "tools/drawdock/zone.h"
#include <drawdock/study.h>
#include <stdlib.h>
#include <string.h>

enum { LEVELS = 7 };

const char *const handover_studies[HANDOVER_STUDIES] = {"depth", "weigh", "seat", "brake"};

static dd_status ask(int study, const dd_case *scenario, dd_report **report, dd_error *error)
{
    switch (study) {
    case HANDOVER_DEPTH: {
        local_zone place;
        const dd_status status = zone_of(scenario, &place, error);
        return status == DD_OK ? dd_study_ramp_depth(scenario, LEVELS, &place.clock, report, error) : status;
    }
    case HANDOVER_WEIGH:
        return dd_study_weigh(scenario, report, error);
    case HANDOVER_SEAT:
        return dd_study_seat(scenario, report, error);
    default:
        return dd_study_brake(scenario, report, error);
    }
}

static void keep_reason(char why[400], const dd_error *error)
{
    dd_text(why, 400, "%s: %s", error->place, *error->message ? error->message : dd_status_text(error->status));
    dd_text_end(why);
}

static int step_of_all(double share, double time, void *context)
{
    handover_work *work = context;
    return progress_step(work->done + work->own * share, time, &work->bar);
}

/* A study that the scenario does not allow is a sentence of the page; one that failed is that, a line on stderr and its status. */
static int add_reports(handover_run *run, dd_case *scenario)
{
    int exit_status = STATUS_WITHIN;
    for (int study = 0; study < HANDOVER_STUDIES && !interrupted(); study++) {
        dd_error error = {0};
        if (ask(study, scenario, &run->reports[study], &error) != DD_OK) {
            keep_reason(run->why[study], &error);
            if (error.status == DD_ERROR_UNSET) continue;
            fprintf(stderr, "drawdock: %s: %s of this page is not computed: %s\n", run->path, handover_studies[study], run->why[study]);
            exit_status = STATUS_NOT_DONE;
            continue;
        }
        if (run->reports[study]->verdict == DD_VERDICT_BROKEN && exit_status < STATUS_LIMIT) exit_status = STATUS_LIMIT;
    }
    return exit_status;
}

static int add_result(handover_run *run, const dd_case *scenario, handover_work *work)
{
    dd_error error = {0};
    if (!scenario->on_ramp) {
        snprintf(run->why_no_run, sizeof run->why_no_run, "The scenario gives no action, ramp, water and procedure: it is a rig on the road, so nothing is launched or retrieved.");
        return STATUS_WITHIN;
    }
    const dd_status status = dd_study_run(scenario, step_of_all, work, &run->result, &error);
    if (status == DD_ERROR_CANCELLED || interrupted()) return STATUS_INTERRUPTED;
    if (!run->result) {
        progress_end(&work->bar);
        if (error.status == DD_OK) error.status = status;
        return output_give_up(&error);
    }
    return output_status(run->result);
}

/* Name of a run among others: its file's, without folders and ending, in words. */
static void name_of(const char *path, char *name, size_t size)
{
    const char *slash = strrchr(path, '/');
    snprintf(name, size, "%s", slash ? slash + 1 : path);
    dd_text_end(name);
    char *dot = strrchr(name, '.');
    if (dot && dot != name) *dot = '\0';
    for (char *c = name; *c; c++)
        if (*c == '-' || *c == '_') *c = ' ';
}

int handover_compute(const options *given, const char *path, bool run_only, handover_work *work, handover_run *run)
{
    int exit_status;
    dd_error error = {0};
    run->path = path;
    for (int study = 0; study < HANDOVER_STUDIES; study++) run->same_as[study] = -1;
    name_of(path, run->name, sizeof run->name);
    run->file = read_scenario(given, path, &exit_status);
    if (!run->file) return exit_status;
    dd_case *scenario = malloc(sizeof *scenario);
    if (!scenario) {
        dd_fail(&error, DD_ERROR_MEMORY, path, "no memory for the scenario");
        return output_give_up(&error);
    }
    *scenario = *dd_case_of(run->file);
    scenario->rules.units = DD_REPORT_METRIC; /* the page turns it into US units beside */
    exit_status = add_result(run, scenario, work);
    if (!run_only && (run->result || exit_status == STATUS_WITHIN)) {
        const int found = add_reports(run, scenario);
        exit_status = found > exit_status ? found : exit_status;
    }
    free(scenario);
    if (!interrupted()) return exit_status;
    fputs("drawdock: interrupted; nothing was written\n", stderr);
    return STATUS_INTERRUPTED;
}

void handover_free(handover_run *run)
{
    dd_result_free(run->result);
    for (int study = 0; study < HANDOVER_STUDIES; study++) dd_report_free(run->reports[study]);
    dd_case_free(run->file);
}

static char *without_title(dd_report *report)
{
    char title[sizeof report->title];
    memcpy(title, report->title, sizeof title);
    report->title[0] = '\0';
    char *json = dd_report_json(report);
    memcpy(report->title, title, sizeof title);
    return json;
}

void handover_find_same(handover_run *runs, int count)
{
    for (int study = 0; study < HANDOVER_STUDIES; study++)
        for (int i = 1; i < count; i++)
            for (int k = 0; k < i && runs[i].same_as[study] < 0; k++) {
                dd_report *one = runs[i].reports[study], *other = runs[k].reports[study];
                if (!one || !other || runs[k].same_as[study] >= 0) continue;
                char *text = without_title(one), *other_text = without_title(other);
                if (text && other_text && strcmp(text, other_text) == 0) runs[i].same_as[study] = k;
                free(text);
                free(other_text);
            }
}
