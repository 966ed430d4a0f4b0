/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DRAWDOCK_TOOL_REPORT_H
#define DRAWDOCK_TOOL_REPORT_H
#include <drawdock/report.h>
#include <stdio.h>

/* Verdict, the brief tables and the tightest checks on one screen. files: names of the files written in folder; NULL: none. */
void report_print(const dd_report *report, const char *folder, const char *files, FILE *out);
/* Every table, check, note and source (--figures). */
void report_print_tables(const dd_report *report, FILE *out);
#endif
