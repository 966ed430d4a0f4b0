/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where supports meet a hull that lies at home and runs along the trailer, and what of the hull comes in their way: strakes, the
   chine, the keel. Geometry alone, in boat axes: a run of s metres from home puts X = (X at home) + s over a support that stands
   there, since the hull goes aft; it is taken to run straight, parallel to its place at home.

   A support is a band: a straight line across the boat of some width, the line along which a roller or the face of a skid bears. */
#ifndef DD_STUDY_SEAT_MEET_H
#define DD_STUDY_SEAT_MEET_H
#include "lib/study/seat.h"

typedef struct dd_seat_band {
    char name[64];
    int support, side;   /* side: +1 port, -1 starboard, 0: on the keel line */
    int roller;          /* index of the rig's roller; of a skid the first of its places */
    dd_vec3 middle;      /* of the band, at home */
    dd_vec3 across;      /* unit, along the axle, outward from the keel (to port of a keel roller) */
    double half;         /* half its width, m; of a keel roller between its flanges, INFINITY: not limited */
    double flange;       /* height of a keel roller's flanges over its middle, m */
    double front, rear;  /* X of its ends along the boat; of a roller both are that of its middle */
} dd_seat_band;
enum { DD_SEAT_BANDS = DD_ROLLERS };

/* A hull that lies on a rig: boat axes to trailer axes, each arm of the rig at its angle (rad; NULL: it has none). */
typedef struct dd_seat_laid {
    const dd_rig *rig;
    const double *angles;
    dd_placement placement;
} dd_seat_laid;

/* The bands of one support (-1: of all) with both sides out (> 0) or in by `out`, m; returns their number. Guides have none. */
int dd_seat_bands_of(const dd_seat_laid *laid, int support, double out, dd_seat_band bands[DD_SEAT_BANDS]);
/* The same of the boat at home. */
int dd_seat_bands(const dd_seat *seat, int support, double out, dd_seat_band bands[DD_SEAT_BANDS]);

/* Half breadths of the ends of a band, from the keel outward: inner < outer; of a keel band -half and half. */
void dd_seat_reach(const dd_seat_band *band, double *inner, double *outer);
/* The hull's section: half breadth of its chine. */
double dd_seat_chine(const dd_hull *hull, double x);
/* How far the bottom stands above the band at X where it comes nearest, boat and band as at home, m; NaN: the band lies outside the
   chine there. */
double dd_seat_rise(const dd_hull *hull, const dd_seat_band *band, double x);

/* The stretch of the hull that passes over a band, X: from home (or from the transom, where that lies ahead of the support at home)
   to the bow; and as far as the bottom bears on it: until it has risen by 50 mm more than at the beginning, or the band has left it
   over the chine. */
typedef struct dd_seat_run {
    double from, to, bears_to;
} dd_seat_run;
dd_seat_run dd_seat_run_of(const dd_hull *hull, const dd_seat_band *band);

/* Least distance across the boat from the edge of the band to the nearest edge of a strake, from X `from` to `to`, m; < 0: it lies
   on it, by so much. *x: where. INFINITY: the strake is not beside it, or passes over it without touching it. Exact for strakes
   straight between their points. */
double dd_seat_strake_clearance(const dd_hull *hull, const dd_seat_band *band, const dd_rail *rail, double from, double to, double *x);
/* The same of the band's outer edge from the chine (looked at every 10 mm); INFINITY: of a keel band. */
double dd_seat_chine_clearance(const dd_hull *hull, const dd_seat_band *band, double from, double to, double *x);

/* A stretch of the run, X, over which band and strake lie over each other, and how far the strake stands out of what room there is
   between bottom and band at its two ends, m (NaN: its height is not given). */
typedef struct dd_seat_crossing {
    double from, to, step_from, step_to;
} dd_seat_crossing;
enum { DD_SEAT_CROSSINGS = DD_RAIL_POINTS };
/* Those with a step, from aft forward; returns their number. */
int dd_seat_crossings(const dd_hull *hull, const dd_seat_band *band, const dd_rail *rail, double from, double to,
                      dd_seat_crossing crossings[DD_SEAT_CROSSINGS]);
/* Height of the band at a half breadth, as at home. */
double dd_seat_band_height(const dd_seat_band *band, double half_breadth);

/* A guide beside the hull that has run aft by `run` m from home. */
typedef struct dd_seat_guide {
    bool beside;       /* the hull lies beside its middle */
    dd_vec3 at;        /* of the hull's side, nearest to its face; where its top lies under the chine: of its top */
    double gap;        /* across to the side, least over its face, m; NaN: it all lies under the chine */
    double over_chine; /* its top over the chine beside it, m */
    double angle;      /* of its upright to the side there, > 0: its upper end comes nearer, rad */
} dd_seat_guide;
dd_seat_guide dd_seat_guide_at(const dd_seat *seat, const dd_guide *guide, double run);

/* Table of what comes in the way over the run (lib/study/seat_travel.c). */
void dd_seat_put_travel(const dd_seat *seat);

/* A point of the boat as a fitter measures: X behind the coupling, Z above flat ground, trailer level; Y to port, m. */
dd_vec3 dd_seat_fitters(const dd_seat *seat, dd_vec3 in_boat);
/* Tables of sections, parts and distances in them, faces of the supports and strakes, for the pictures (lib/study/seat_sections.c). */
void dd_seat_put_sections(const dd_seat *seat);

/* Least clearance of one support to strakes and chine at home and over the travel while it bears, m, with both its sides moved out
   by `out` (in < 0); up and down do not change it. strake: NaN where the boat has no strakes given, or a keel roller no width;
   INFINITY where none comes beside it. chine: INFINITY of a keel roller. Both NaN of a guide. Costs about as much as a hundred
   sections of the hull for each of its rollers. */
void dd_seat_clearance(const dd_seat *seat, int support, double out, double *strake, double *chine);
#endif
