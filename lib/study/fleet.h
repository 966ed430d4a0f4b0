/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The inside of `fleet`: rigs listed and drawn, each with its least level on the ramp as it is and as it could be. */
#ifndef DD_STUDY_FLEET_H
#define DD_STUDY_FLEET_H
#include "lib/study/depth.h"
#include <drawdock/study.h>

enum { DD_FLEET_LAUNCH, DD_FLEET_RETRIEVE, DD_FLEET_ACTIONS, DD_FLEET_RAMPS = DD_FLEET_VARIANTS + 1 };

typedef struct dd_fleet_made {
    char name[64];
    double count;
    const dd_case *base[DD_FLEET_ACTIONS]; /* NULL: not asked */
    double scale, mass;                    /* lengths of boat and trailer, and their masses beside the cube of that; 1: as read */
    double length, track;                  /* of the hull; over the middle of the trailer's outer wheels, m */
} dd_fleet_made;

typedef struct dd_fleet_answer {
    bool asked;
    dd_status status;
    dd_error why;
    double level;                 /* least: -INFINITY at any level, INFINITY at none; NaN: status tells */
    dd_depth_end shallow, deep;   /* what binds at it */
    bool now;                     /* it works at the level that the search began at */
    dd_depth_reach reach;         /* past the slab's end at the least level; reach.level NaN: there is none */
    double tyres;                 /* depth of the vehicle's rear tyres at the shallowest place there, m; NaN: it does not work */
} dd_fleet_answer;

typedef struct dd_fleet_work {
    const dd_case *scenario;
    dd_reporter *report;
    int count, ramp_count;
    dd_fleet_made *rigs;
    dd_fleet_answer *answers;     /* [ramp][rig][action] */
    dd_ramp_parameters ramp[DD_FLEET_RAMPS]; /* as it is, then the variants */
    double toe[DD_FLEET_RAMPS];   /* m; NaN: the ramp has no end */
    double level;                 /* of the water now */
    double *levels;               /* of the tide over a year, growing; NULL: none */
    int level_count;
} dd_fleet_work;

/* What rigs are looked at: every one, or those of lengths from (with) to (without), m. */
typedef struct dd_fleet_class {
    double from, to;
} dd_fleet_class;

/* Rigs, ramps, level and tide; scenario and report stand. End with dd_fleet_end(), also after an error. */
dd_status dd_fleet_prepare(dd_fleet_work *w, const dd_fleet_member *members, dd_error *error);
void dd_fleet_end(dd_fleet_work *w);
/* Fills rigs: the scenario's own and the list, or those drawn from them. */
dd_status dd_fleet_make(dd_fleet_work *w, const dd_fleet_member *members, dd_error *error);
/* The boat and its trailer made larger about the coupling: lengths by scale, masses and forces by its cube times mass. What stands on the ground
   (tyres, the coupling's height, the frame), people and what they can do stay. */
void dd_fleet_scale(dd_case *scenario, double scale, double mass);
/* The ramp changed as a variant asks. DD_ERROR_ARGUMENT: it cannot be. */
dd_status dd_fleet_change(const dd_ramp_parameters *ramp, const dd_fleet_variant *variant, int number, dd_ramp_parameters *changed, double *toe, dd_error *error);
/* Every answer, on so many threads (0: as many as there are). */
dd_status dd_fleet_run(dd_fleet_work *w, int threads, dd_progress progress, void *context, dd_error *error);

/* The ramp's name: as it is, or that of the variant. */
const char *dd_fleet_ramp_name(const dd_fleet_work *w, int ramp);
dd_fleet_answer *dd_fleet_answer_of(const dd_fleet_work *w, int ramp, int rig, int action);
/* The same where it was asked, computed and of that class (NULL: any); else NULL. */
const dd_fleet_answer *dd_fleet_known(const dd_fleet_work *w, int ramp, int rig, int action, const dd_fleet_class *of);
/* Weight of what was asked, and of that what could not be computed. */
double dd_fleet_asked(const dd_fleet_work *w, int ramp, int action, const dd_fleet_class *of, double *failed);
/* Of the rigs computed the share that a level will do for; NaN: none was. */
double dd_fleet_share(const dd_fleet_work *w, int ramp, int action, const dd_fleet_class *of, double level);
/* Least level that will do for a share; INFINITY: none will, -INFINITY: any; NaN: no rig was computed. */
double dd_fleet_level(const dd_fleet_work *w, int ramp, int action, const dd_fleet_class *of, double share);
/* Share of those that work at the level now whose vehicle's tyres stay dry at the shallowest place. */
double dd_fleet_dry(const dd_fleet_work *w, int ramp, int action);
/* Share of time that the tide, the sea risen by so much, stands at a level or above; NaN: no tide. */
double dd_fleet_time(const dd_fleet_work *w, double level, double rise);
/* The tide's levels over the calendar year of the water's time, where it states one. */
dd_status dd_fleet_tide(dd_fleet_work *w, dd_error *error);

/* A table of the report, its levels above the ramp's datum. */
void dd_fleet_table(dd_fleet_work *w, const char *key, const char *title, int brief);
/* P242: how far wheels, skegs and wash reach past the slab's end, and the ground there. */
void dd_fleet_tell_reach(dd_fleet_work *w);
void dd_fleet_tell(dd_fleet_work *w);
#endif
