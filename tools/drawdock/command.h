/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What main and the commands share. */
#ifndef DRAWDOCK_COMMAND_H
#define DRAWDOCK_COMMAND_H
#include <drawdock/case.h>
#include <drawdock/report.h>
#include <drawdock/result.h>
#include <drawdock/run.h>
#include <stdbool.h>
#include <stdio.h>

/* Exit statuses. */
enum { STATUS_WITHIN = 0, STATUS_LIMIT = 1, STATUS_INPUT = 2, STATUS_NOT_DONE = 3, STATUS_INTERRUPTED = 130 };

enum {
#define DRAWDOCK_COMMAND(name, operands, least, most, help) COMMAND_##name,
#include "tools/drawdock/options.def"
#undef DRAWDOCK_COMMAND
    COMMAND_COUNT
};

/* Sets of commands in the lists. */
#define ON(name) (1u << COMMAND_##name)
#define EVERYWHERE (~0u)

enum { LIST_ROOM = 256 };

typedef struct options {
    int command; /* COMMAND_..., or -1 */
    int operand_count;
    char **operands;
    const char *output, *trailers, *reserve, *date, *year, *launch_at, *back_at, *teach, *units;
    const char *with[LIST_ROOM + 1]; /* ends with NULL */
    const char *answer[LIST_ROOM + 1];
    int with_count, answer_count;
    bool adjust, fine, bands, figures, no_plots, pdf, json, schema, quiet, usual, help, version;
} options;

/* Reads the command line. On an error prints it and returns STATUS_INPUT. */
int options_read(int argc, char **argv, options *given);
/* What --units says: DD_REPORT_...; without it metric. */
int units_of(const options *given);
/* Help of the program (command -1) or of one command, to stdout. */
void options_help(int command);

/* One per command; each returns an exit status. */
#define DRAWDOCK_COMMAND(name, operands, least, most, help) int command_##name(const options *given);
#include "tools/drawdock/options.def"
#undef DRAWDOCK_COMMAND

/* Prints an error to stderr: place: message, then what to do. */
void tell_error(const dd_error *error);
/* Reads a scenario ("-": standard input) with the overrides; prints what is wrong. NULL: *status is the exit status. */
dd_case_file *read_scenario(const options *given, const char *path, int *status);
/* Its scenario, malloc'ed, whose reports are metric where --units is given, whatever its rule set has; NULL: out of memory, which is told. */
dd_case *copy_scenario(const options *given, const dd_case_file *file);
/* The part of run and settle that is the same. */
typedef dd_status study_function(const dd_case *scenario, dd_progress progress, void *context, dd_result **result,
                                 dd_error *error);
int study_command(const options *given, study_function *study);

/* weigh with --trailers: which of a folder; an exit status. */
int which_trailer(const options *given);
/* seat with --adjust: how to set a trailer up; an exit status. */
int adjust_rig(const options *given);
/* depth with --date or --year: when the ramp can be used; an exit status. */
int ramp_windows(const options *given);
/* Its report for scenarios already read; *report NULL: the status says why, which is told. calendar may be NULL. */
int windows_compute(const options *given, const dd_case *const *scenarios, int count, dd_report **report, char **calendar);
/* Writes a report as it is and prints it in the units asked for, in which it then is; an exit status. name, text: of a further file in the folder; NULL: none. */
int report_command(const options *given, dd_report *report, const char *name, const char *text);

/* Folders with the shipped data, most wanted first; each holds plots/ and scenarios/. false past the end. */
bool data_folder(int index, char *path, size_t size);
/* True when `name` ("plots/strap.gnuplot") stands in one of them; its path in path. */
bool data_find(const char *name, char *path, size_t size);

/* Ctrl-C and the like set a flag. */
void interrupt_watch(void);
bool interrupted(void);
bool interrupt_wait(int descriptor); /* until there is something to read; false: interrupted */

/* Progress on a terminal: appears after half a second, erased by progress_end. */
typedef struct progress {
    bool shown, allowed;
    double started, drawn; /* s, monotonic */
} progress;
void progress_begin(progress *bar, bool allowed);
int progress_step(double share, double time, void *context); /* a dd_progress; context: progress * */
void progress_end(progress *bar);

/* The verdict on at most one screen. units: those of the result, DD_REPORT_...; files: names of the files written in folder; NULL: none. */
void screen_print(const dd_result *result, int units, const char *folder, const char *files, FILE *out);
/* The figures beside it, as tables. */
void figures_print(const dd_result *result, FILE *out);

#endif
