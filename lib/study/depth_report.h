/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What `depth` found, put into a report. */
#ifndef DD_STUDY_DEPTH_REPORT_H
#define DD_STUDY_DEPTH_REPORT_H
#include "lib/study/depth.h"

typedef struct dd_depth_answer {
    dd_reporter *report;
    dd_depth depth;      /* at the scenario's level */
    dd_depth_band band;
    dd_depth_level least;
} dd_depth_answer;

void dd_depth_tell_band(dd_depth_answer *answer); /* least, best and greatest depth, and the level that it takes */
#endif
