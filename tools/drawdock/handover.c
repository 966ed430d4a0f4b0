/* SPDX-License-Identifier: GPL-3.0-or-later */
/* handover: every study of a rig on one page. */
#include "tools/drawdock/handover.h"
#include "lib/base/error.h"
#include "tools/drawdock/output.h"
#include <stdlib.h>
#include <string.h>

enum { MOST_RUNS = 8 };

/* Names of the studies' commands, for their pictures. */
static const unsigned commands[HANDOVER_STUDIES] = {ON(depth), ON(weigh), ON(seat), ON(brake)};

/* Each distinct report of a study, for the runs that it holds for; why there is none. */
static dd_status add_study(page *p, result_folder *folder, const options *given, const handover_run *runs, int count, int study,
                           bool *missing, dd_error *error)
{
    dd_status status = DD_OK;
    xmlNodePtr part = page_add(p, p->root, "part");
    page_put(p, part, "study", "%s", handover_studies[study]);
    for (int i = 0; i < count && status == DD_OK; i++) {
        if (runs[i].same_as[study] >= 0) continue;
        xmlNodePtr entry = page_add(p, part, "entry");
        for (int k = i; k < count; k++)
            if (k == i || runs[k].same_as[study] == i) page_put(p, page_text(p, entry, "for", runs[k].name), "run", "%d", k + 1);
        const dd_report *report = runs[i].reports[study];
        if (!report) {
            page_text(p, entry, "missing", runs[i].why[study]);
            continue;
        }
        page_report(p, entry, report);
        if (!given->no_plots) status = handover_draw_report(p, entry, folder, commands[study], report, missing, error);
    }
    return status;
}

/* When the ramp can be used, where a day or a year is asked for. */
static int add_windows(page *p, result_folder *folder, const options *given, handover_run *runs, int count, bool *missing)
{
    const dd_case *scenarios[MOST_RUNS];
    dd_error error = {0};
    dd_report *report = NULL;
    xmlNodePtr part = page_add(p, p->root, "windows");
    for (int i = 0; i < count; i++) scenarios[i] = dd_case_of(runs[i].file);
    const bool tide = scenarios[0]->water.tide.kind >= 0; /* the first one's is that of all */
    if (!tide || (!given->date && !given->year)) {
        page_text(p, part, "missing", tide ? "No day was asked for: handover with --date DAY or --year YEAR tells the hours."
                                           : "The scenario states no tide (water: tide), so there are no hours to tell.");
        return STATUS_WITHIN;
    }
    int exit_status = windows_compute(given, scenarios, count, &report, NULL);
    if (!report) return exit_status;
    page_report(p, part, report);
    exit_status = report->verdict == DD_VERDICT_BROKEN ? STATUS_LIMIT : STATUS_WITHIN;
    if (!given->no_plots && handover_draw_report(p, part, folder, ON(depth), report, missing, &error) != DD_OK)
        exit_status = output_give_up(&error);
    dd_report_free(report);
    return exit_status;
}

static dd_status add_runs(page *p, result_folder *folder, const options *given, const handover_run *runs, int count, bool *missing,
                          dd_error *error)
{
    dd_status status = DD_OK;
    for (int i = 0; i < count && status == DD_OK; i++) {
        xmlNodePtr run = handover_add_run(p, &runs[i], i + 1, error);
        status = error->status;
        if (status == DD_OK && runs[i].result && !given->no_plots)
            status = handover_draw_run(p, run, folder, runs[i].result, missing, error);
    }
    for (int study = 0; study < HANDOVER_STUDIES && status == DD_OK; study++)
        status = add_study(p, folder, given, runs, count, study, missing, error);
    return status;
}

/* From what was computed to what stands in the folder; an exit status. */
static int make_page(const options *given, page *p, result_folder *folder, handover_run *runs, int count, int exit_status)
{
    dd_error error = {0};
    bool missing = false, complete = true;
    for (int i = 0; i < count; i++) complete = complete && (!runs[i].result || runs[i].result->verdict != DD_VERDICT_INCOMPLETE);
    dd_status status = add_runs(p, folder, given, runs, count, &missing, &error);
    if (status == DD_OK) {
        const int found = add_windows(p, folder, given, runs, count, &missing);
        if (found > STATUS_LIMIT) return found;
        exit_status = found > exit_status ? found : exit_status;
        page_put(p, p->root, "status", "%d", exit_status);
        if (missing) page_put(p, p->root, "pictures", "no");
        status = handover_write(given, p, handover_json(runs, count, complete), folder, &error);
    }
    if (status != DD_OK) return output_give_up(&error);
    if (!given->quiet) printf("Written: %s: handover.html result.json%s\n", folder->target, given->pdf ? " handover.pdf" : "");
    return exit_status;
}

static int compute_all(const options *given, handover_run *runs, int *count)
{
    handover_work work = {.own = 1.0 / given->operand_count};
    int exit_status = STATUS_WITHIN;
    progress_begin(&work.bar, !given->quiet);
    for (*count = 0; *count < given->operand_count; work.done += work.own) {
        const int found = handover_compute(given, given->operands[*count], false, &work, &runs[*count]);
        if (found > exit_status) exit_status = found;
        if (!runs[(*count)++].file || found == STATUS_INTERRUPTED) break;
    }
    progress_end(&work.bar);
    return exit_status;
}

int command_handover(const options *given)
{
    if (!given->output) {
        fputs("drawdock: handover writes a page: name a folder for it with -o DIR; see drawdock handover --help\n", stderr);
        return STATUS_INPUT;
    }
    if (given->teach && given->operand_count > 0) {
        fputs("drawdock: handover --teach FOLDER takes no further files; see drawdock handover --help\n", stderr);
        return STATUS_INPUT;
    }
    if (given->teach) return handover_teach(given);
    if (given->operand_count == 0) {
        fputs("drawdock: found 0 file names, expected: drawdock handover FILE... -o DIR; see drawdock handover --help\n", stderr);
        return STATUS_INPUT;
    }
    dd_error error = {0};
    result_folder folder = {0};
    handover_run *runs = calloc(MOST_RUNS, sizeof *runs);
    int count = 0, exit_status;
    if (!runs) {
        dd_fail(&error, DD_ERROR_MEMORY, "handover", "no memory for the runs");
        return output_give_up(&error);
    }
    page p = {0};
    if (folder_open(&folder, given->output, &error) != DD_OK || handover_begin(&p, "handover", given, &error) != DD_OK)
        exit_status = output_give_up(&error);
    else {
        exit_status = compute_all(given, runs, &count);
        bool read = true;
        for (int i = 0; i < count; i++) read = read && runs[i].file;
        handover_find_same(runs, count);
        if (read && exit_status != STATUS_INTERRUPTED && exit_status != STATUS_INPUT)
            exit_status = make_page(given, &p, &folder, runs, count, exit_status);
    }
    page_end(&p);
    folder_discard(&folder);
    for (int i = 0; i < count; i++) handover_free(&runs[i]);
    free(runs);
    return exit_status;
}
