/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Collects what a study finds into a dd_result. */
#ifndef DD_RECORD_RECORDER_H
#define DD_RECORD_RECORDER_H
#include "lib/record/drawing.h"
#include <drawdock/result.h>

typedef struct dd_recorder dd_recorder;

/* title and study ("run", "settle") are copied. NULL: out of memory. */
dd_recorder *dd_recorder_create(const char *title, const char *study);
void dd_recorder_free(dd_recorder *recorder);

/* The first append that fails makes every later one and dd_recorder_finish return its status, so that a study may look once, at
   the end. Strings too long for their field are cut at a character's end. */

/* Adds a column; all columns come before the first row. name ends with its unit. */
dd_status dd_recorder_column(dd_recorder *recorder, const char *name, const char *unit, const char *help);
/* The column added last is left out of the result when no row has a figure in it. */
void dd_recorder_optional(dd_recorder *recorder);
/* Appends one value per column. */
dd_status dd_recorder_row(dd_recorder *recorder, const double *values);
/* Appends an event; events may come in any order, the result has them by time. Index for dd_recorder_shape in *index (may be NULL). */
dd_status dd_recorder_event(dd_recorder *recorder, const dd_event *event, int *index);
/* Appends a limit that was checked. share is as given; broken is as given. */
dd_status dd_recorder_margin(dd_recorder *recorder, const dd_margin *margin);
/* Appends a figure beside the columns; it is copied. */
dd_status dd_recorder_figure(dd_recorder *recorder, const dd_figure *figure);
/* Appends a line to the list of what was not checked, or of what was assumed; a line already there is not repeated. */
dd_status dd_recorder_unchecked(dd_recorder *recorder, const char *format, ...) DD_PRINTF(2, 3);
dd_status dd_recorder_assumed(dd_recorder *recorder, const char *format, ...) DD_PRINTF(2, 3);
/* Appends a line of a side view: count points, x and z in turn (copied). event: as dd_shape. */
dd_status dd_recorder_shape(dd_recorder *recorder, const char *name, int event, const double *xy, int count);
/* Hands over the drawing that moves; NULL takes none. */
void dd_recorder_drawing(dd_recorder *recorder, dd_drawing *drawing);
/* Tells the recorder that what it should be given could not be made for want of memory; returns DD_ERROR_MEMORY. */
dd_status dd_recorder_no_memory(dd_recorder *recorder);
/* The result so far, for its plain fields (verdict, word, sentence, ledger, failure, statistics) and the last row. */
dd_result *dd_recorder_result(dd_recorder *recorder);
/* Sorts events by time and margins by share, hands the result over (free it with dd_result_free) and frees the recorder.
   On failure *result is NULL and the recorder is freed as well. */
DD_CHECKED dd_status dd_recorder_finish(dd_recorder *recorder, dd_result **result, dd_error *error);
#endif
