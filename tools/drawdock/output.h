/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What every command that writes a result folder shares. */
#ifndef DRAWDOCK_OUTPUT_H
#define DRAWDOCK_OUTPUT_H
#include "lib/record/text.h"
#include "tools/drawdock/folder.h"
#include <drawdock/report.h>
#include <drawdock/result.h>

/* Adds a file's name to the list of what was written. */
void output_list(dd_string *list, const char *name, const char *ending);
/* Draws the pictures of a command (1u << COMMAND_...) into the folder, but those for which is_empty(result, name) says that there is
   nothing in them. Without gnuplot it says so, and that is no error. */
dd_status output_plots(result_folder *folder, unsigned command, const char *title, bool (*is_empty)(const void *result, const char *name),
                       const void *result, dd_string *list, dd_error *error);
/* Writes the tables of a command into the folder: those of a run or settle, and of a report, that have something in them. */
dd_status output_result_tables(result_folder *folder, unsigned command, const dd_result *result, dd_string *list, dd_error *error);
dd_status output_report_tables(result_folder *folder, unsigned command, const dd_report *report, dd_string *list, dd_error *error);
/* Whether the report has nothing for this picture. */
bool output_report_is_empty(const void *report, const char *name);
/* What a run's or settle's verdict makes of the exit status. */
int output_status(const dd_result *result);
/* Prints a text of the library's and frees it; NULL: memory ran out. An exit status. */
int output_text(char *text);
/* Tells why nothing was written; an exit status. */
int output_give_up(const dd_error *error);
#endif
