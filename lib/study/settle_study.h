/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of `settle` share: study_settle.c walks down the ramp, settle_verdict.c says what came of it. */
#ifndef DD_STUDY_SETTLE_STUDY_H
#define DD_STUDY_SETTLE_STUDY_H
#include "lib/study/asides.h"
#include "lib/study/settle.h"
#include "lib/study/verdict.h"

enum { BANDED = 5 }; /* columns that a band is given for */
enum { DRIVE, FRICTION, AFT, FORWARD, PULL, PULL_SHORT, HANDLE, GAP, ASIDES };
/* What is watched for between rows. */
enum { STERN_LIFTS, AFLOAT, WHEELS_OFF, CROSSINGS };

typedef struct dd_settle_study {
    dd_study_model *m;
    dd_recorder *recorder;
    dd_settle branch[DD_FRICTION_STATES];
    int alive[DD_FRICTION_STATES];
    dd_settle row_before; /* of the branch without friction */
    dd_unhooked unhooked; /* at the last row */
    double arm; /* half of the hull, m */
    double weight, slope, step, x, first_x; /* step: to the next row, by the hub's depth */
    double before[CROSSINGS]; /* event values at the last row */
    bool tied;                /* the transom ties stay on */
    double first_axle_load, least_axle_load, least_axle_depth; /* of the trailer's wheels, N; hub's depth, m */
    double last[BANDED], last_x, slopes[BANDED]; /* of the banded at the last row, and towards it */
    int rows;
    double lean;      /* of the branch without friction at the last row */
    const char *ends; /* what ends the branch, NULL: nothing did */
    double end_depth; /* of the hub, m */
    double next_depth; /* where it is wound home next */
    dd_winding_way *way; /* of the last time */
    double aside[ASIDES];
    bool swung;
    double crossed_at[CROSSINGS]; /* rig x, NaN: not yet */
    dd_seen crossed[CROSSINGS];
} dd_settle_study;

void dd_settle_figure(dd_settle_study *study, const char *group, const char *name, double value, const char *unit, const char *words);
/* failure: what ended the walk, or its status is DD_OK. */
void dd_settle_conclude(dd_settle_study *study, const dd_extremes *extremes, const dd_water *water, const dd_error *failure);
#endif
