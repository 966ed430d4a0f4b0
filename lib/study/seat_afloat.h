/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The boat afloat over its trailer on a ramp, as deep as lets its supports go: where post and guides have to serve it. */
#ifndef DD_STUDY_SEAT_AFLOAT_H
#define DD_STUDY_SEAT_AFLOAT_H
#include "lib/study/seat.h"

enum { DD_SEAT_SLOPES = 3 };
extern const double dd_seat_slopes[DD_SEAT_SLOPES]; /* rise over run: a flat, a usual and a steep ramp */

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

/* Errors: DD_ERROR_NO_EQUILIBRIUM: it does not float upright; DD_ERROR_MEMORY. */
dd_status dd_seat_float(const dd_seat *seat, double slope, dd_seat_afloat *afloat, dd_error *error);
/* A point of the trailer frame in boat axes. */
dd_vec3 dd_seat_in_boat(const dd_placement *placement, dd_vec3 in_trailer);

/* Where an eye stands that the hull has swung down with its bow by `pitch` (rad) about a fulcrum; trailer frame. */
dd_vec3 dd_seat_swung(dd_vec3 eye, dd_vec3 fulcrum, double pitch);
/* How much further the eye is from the drum at home than afloat: so far the strap is stretched if nobody lets it off, m. */
double dd_seat_tightens(dd_vec3 drum, dd_vec3 home, dd_vec3 afloat);
/* Height of the drum, straight over or under where it stands, at which the greatest and the least of `count` changes from afloat[] to
   home are opposite: no other height has a smaller greatest change while all changes fall as the drum rises. NaN: none within 2 m. */
double dd_seat_least_change(dd_vec3 drum, dd_vec3 home, const dd_vec3 *afloat, int count);
/* Tension at home of a strap that had `pretension` with the eye `afloat` m from the drum, N: rigidity over its whole length, `spare` of
   it on the drum. 0: slack. */
double dd_seat_tension(double rigidity, double spare, double pretension, double afloat, double home);
/* Strap that `turns` of it on the bare drum take, m. */
double dd_seat_turns(const dd_winch_parameters *winch, int turns);
#endif
