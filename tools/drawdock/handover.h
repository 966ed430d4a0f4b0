/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What handover computes for each scenario, and what becomes of it. */
#ifndef DRAWDOCK_HANDOVER_H
#define DRAWDOCK_HANDOVER_H
#include "tools/drawdock/command.h"
#include "tools/drawdock/folder.h"
#include "tools/drawdock/page.h"

enum { HANDOVER_DEPTH, HANDOVER_WEIGH, HANDOVER_SEAT, HANDOVER_BRAKE, HANDOVER_STUDIES };

/* One scenario: the run, and its reports in metric units. */
typedef struct handover_run {
    char name[48];       /* its file's, in words */
    const char *path;    /* as given */
    dd_case_file *file;
    dd_result *result;   /* NULL: nothing to run, `why` tells */
    dd_report *reports[HANDOVER_STUDIES]; /* NULL: not computed, `why` tells */
    int same_as[HANDOVER_STUDIES];      /* index of an earlier run whose report is the same; -1: none */
    char why_no_run[400], why[HANDOVER_STUDIES][400];
} handover_run;

extern const char *const handover_studies[HANDOVER_STUDIES]; /* "depth", ... */

/* Reads and computes a scenario. Returns an exit status: STATUS_WITHIN, STATUS_LIMIT (a limit is broken), or why it cannot go on, which is
   told. bar: whole: the share of all the work that begins with this scenario, and its own. */
typedef struct handover_work {
    progress bar;
    double done, own; /* shares */
} handover_work;
int handover_compute(const options *given, const char *path, bool run_only, handover_work *work, handover_run *run);
void handover_free(handover_run *run);
/* Marks reports that are the same but for their title. */
void handover_find_same(handover_run *runs, int count);

/* Pictures of the run and the reports into the document under `parent`; *missing: gnuplot is not there, which has been told. */
dd_status handover_draw_run(page *p, xmlNodePtr parent, result_folder *folder, const dd_result *result, bool *missing, dd_error *error);
dd_status handover_draw_report(page *p, xmlNodePtr parent, result_folder *folder, unsigned command, const dd_report *report, bool *missing,
                               dd_error *error);

/* The document without runs: version, command line, style and script, cautions; and the template NAME.xsl that it will go through. Called
   first of all, since it tells what is not installed. *p is all zero before; page_end() in any case. */
dd_status handover_begin(page *p, const char *template, const options *given, dd_error *error);
/* One run under the root: verdict, views, drawing, drill, marks, margins. */
xmlNodePtr handover_add_run(page *p, const handover_run *run, int number, dd_error *error);
/* result.json of the page: everything computed; malloc'ed, NULL: out of memory. */
char *handover_json(const handover_run *runs, int count, bool complete);
/* Writes the page and result.json, and with --pdf the page on paper; gives the folder its name. */
dd_status handover_write(const options *given, page *p, char *json, result_folder *folder, dd_error *error);
/* handover --teach; an exit status. */
int handover_teach(const options *given);
#endif
