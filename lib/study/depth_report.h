/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What `depth` found, put into a report. */
#ifndef DD_STUDY_DEPTH_REPORT_H
#define DD_STUDY_DEPTH_REPORT_H
#include "lib/study/depth.h"
#include <drawdock/clock.h>

typedef struct dd_depth_answer {
    const dd_case *scenario;
    dd_reporter *report;
    const dd_clock *clock; /* NULL: UTC */
    int levels;          /* of the table of bands by level, and whether one of slopes is wanted; 0: neither */
    dd_depth depth;      /* at the scenario's level */
    dd_depth_band band;
    dd_depth_level least;
    double roll;         /* stiffness of the boat at home at the best place, N m/rad */
} dd_depth_answer;

/* What every level told is above. */
const char *dd_depth_datum(const dd_depth_answer *answer);

/* A limit as a figure at a place, in SI. */
typedef struct dd_depth_figure {
    double value, limit; /* NaN: not known */
    const char *unit, *source, *missing; /* metric unit of the reporter; what is not given then */
    bool at_least;
} dd_depth_figure;
/* false: the end is none that a figure tells. */
bool dd_depth_figure_of(const dd_depth *depth, dd_depth_end end, const dd_depth_place *place, dd_depth_figure *figure);
/* How much longer a drawbar or rope keeps the vehicle's rear tyres, or its exhaust, dry with the trailer where it stands at rig x; 0: they are. */
double dd_depth_longer_for_tyres(const dd_depth *depth, double x);
double dd_depth_longer_for_exhaust(const dd_depth *depth, double x);

dd_status dd_depth_tell_band(dd_depth_answer *answer, dd_error *error);   /* places, marks, the level that it takes */
dd_status dd_depth_tell_limits(dd_depth_answer *answer, dd_error *error); /* each limit at the best place */
dd_status dd_depth_tell_ramp(dd_depth_answer *answer, dd_error *error);   /* vehicle, drawbar, driven wheels, crest */
dd_status dd_depth_tell_levels(dd_depth_answer *answer, dd_error *error); /* bands against level and slope */
dd_status dd_depth_tell_tide(dd_depth_answer *answer, dd_error *error);   /* the tide of the day, datums, set-up */
dd_status dd_depth_picture(dd_depth_answer *answer, dd_error *error);     /* lines of the cross-sections */
#endif
