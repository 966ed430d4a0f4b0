/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From what was seen to margins, what was not checked, and the verdict in one sentence. */
#ifndef DD_STUDY_VERDICT_H
#define DD_STUDY_VERDICT_H
#include "lib/study/watch.h"

/* Extremes of a run and when they were. */
typedef struct dd_extremes {
    dd_seen least, most; /* of each observable */
    double least_time[DD_SEEN_COUNT], most_time[DD_SEEN_COUNT];
    dd_seen first, last;
    int any;
    double grip_use, grip_needed, grip_low, grip_high, grip_time; /* where friction needed over available was largest */
} dd_extremes;

void dd_extremes_add(dd_extremes *extremes, const dd_seen *seen);

/* Fills margins, unchecked and assumed lines, verdict, word and sentence. failure: why the run stopped early, status DD_OK if
   it did not. */
dd_status dd_verdict_of(dd_run *run, const dd_extremes *extremes, const dd_watcher *watcher, const dd_error *failure,
                        dd_recorder *recorder);
/* Loads against their ratings; also for settle. */
void dd_margins_of_loads(const dd_study_model *model, const dd_extremes *extremes, dd_recorder *recorder);
/* Depths, clearances and grip; and how the boat lies in the end. */
void dd_margins_of_ramp(const dd_run *run, const dd_extremes *extremes, dd_recorder *recorder);
void dd_margins_of_capture(const dd_run *run, const dd_extremes *extremes, dd_recorder *recorder);
/* Figures beside the columns: first contact, the boat at home. */
void dd_figures_of(const dd_run *run, const dd_extremes *extremes, const dd_watcher *watcher, dd_recorder *recorder);
/* Assumptions that come from estimates of the boat and from the model; also for settle. */
void dd_assumptions(const dd_study_model *model, dd_recorder *recorder);
#endif
