/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a trailer carries a hull. lib/study/seat.c places the boat and makes the model of its supports; each part, a file of its own,
   adds its tables and checks to the report. */
#ifndef DD_STUDY_SEAT_H
#define DD_STUDY_SEAT_H
#include "lib/record/reporter.h"
#include "lib/study/restraint.h"
#include "lib/study/seat_model.h"
#include "lib/study/yard.h"
#include <drawdock/case.h>

enum { DD_SEAT_SLOPES = 3 };

/* Floating free, at rest, its stem just touching the bow stop and the hull just touching the support that it touches last; the rig on an
   even slope as it stands on level ground. Where the stop does not hold it there, or none is given, the bow eye is as far behind the
   coupling as at home. Trailer frame (of the bed, latched). */
typedef struct dd_seat_afloat {
    double slope;           /* of the ramp, rise over run */
    double pitch;           /* of the hull in its trailer against home, bow down > 0, rad */
    dd_placement placement; /* of the boat */
    int support;            /* that it touches last; -1: none stands under it */
    int passed;             /* as dd_bow_stop_passed(): 1: over the stop, -1: under it, 0: held, or no stop */
    dd_waterplane water;    /* boat axes */
    dd_vec3 up, seaward;    /* upright, and level down the ramp; unit */
    double hub_depth;       /* of the rearmost hub under water, m; < 0: above it */
} dd_seat_afloat;

typedef struct dd_seat {
    const dd_case *scenario;
    dd_study_model *m;        /* the rig in the yard, level; its workspace stands at home */
    dd_equilibrium home;
    dd_placement placement;   /* of the boat, home on level ground */
    dd_seat_model model;      /* of its supports */
    dd_seat_solution level;   /* its solution on level ground */
    double gravity;           /* m/s2 */
    dd_held_loads road[DD_ROAD_CASES]; /* made by dd_seat_road() */
    double worst[DD_SUPPORTS]; /* made by dd_seat_loads(): of one roller at the worst of the heights, N */
    struct {
        double roller[DD_SUPPORTS], stop, strap;
    } on_ramp;                /* the same: of the most loaded roller, the stop and the strap on a ramp of 12.5 %, N */
    int floats;               /* made by dd_seat_float_on_slopes(): 1: on all slopes, -1: not upright; 0: not yet asked */
    dd_seat_afloat afloat[DD_SEAT_SLOPES];
    dd_reporter *report;
} dd_seat;

/* The boat at home on level ground, and the model of what carries it; s otherwise empty, s->m to be freed also on an error. Errors: those
   of dd_yard_create() and DD_ERROR_NO_EQUILIBRIUM. */
dd_status dd_seat_begin(const dd_case *scenario, dd_seat *seat, dd_error *error);
/* Every part, into seat->report. */
dd_status dd_seat_parts(dd_seat *seat, dd_error *error);

/* Specific force on a hull that stands on a ramp of that slope (rise over run; 0: level), bow inshore. Boat axes, N/kg. */
dd_vec3 dd_seat_standing(const dd_seat *seat, double slope);
/* Sums the loads of a solution by support of the trailer (support_count values) and gives the bow stop's; *strap: of the winch
   strap, N. Any may be NULL. */
void dd_seat_by_support(const dd_seat *seat, const dd_seat_solution *solution, double *loads, double *bow_stop, double *strap);
/* The greatest load of one roller of each support, and which contact that is (-1: none). */
void dd_seat_greatest(const dd_seat *seat, const dd_seat_solution *solution, double *loads, int *contact);
/* Share of the weight that the keel carries: keel rollers, and what lies under the keel. */
double dd_seat_keel_share(const dd_seat *seat, const dd_seat_solution *solution);

/* Who asks something: its own source, or the one of all. */
const char *dd_seat_asker(const dd_seating *asked, const char *own);

/* The parts, in the order of the report; listed in seat.c. */
dd_status dd_seat_loads(dd_seat *seat, dd_error *error);     /* likely and worst loads, level and on the ramp; bending; ratings */
dd_status dd_seat_asked(dd_seat *seat, dd_error *error);     /* what is asked of the load on the coupling */
dd_status dd_seat_required(dd_seat *seat, dd_error *error);  /* what else is asked: zones, transom, bulkheads, overhang, pressure */
dd_status dd_seat_road(dd_seat *seat, dd_error *error);      /* on the road: lines, bow stop and supports; does it hold */
dd_status dd_seat_strength(dd_seat *seat, dd_error *error);  /* posts, clamps, arms and cross-members whose sections are given */
dd_status dd_seat_contacts(dd_seat *seat, dd_error *error);  /* where supports meet the hull; clearances at home and over the run */
dd_status dd_seat_what_if(dd_seat *seat, dd_error *error);   /* one support gone, high or low */
dd_status dd_seat_bow(dd_seat *seat, dd_error *error);       /* winch post and bow stop: where they belong; the strap from afloat to home */
dd_status dd_seat_guides(dd_seat *seat, dd_error *error);    /* side guides: height and gap where the boat floats off */
dd_status dd_seat_picture(dd_seat *seat, dd_error *error);   /* what the pictures are drawn from */
#endif
