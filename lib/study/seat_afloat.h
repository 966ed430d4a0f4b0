/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The boat afloat over its trailer on a ramp, as deep as lets its supports go: where post and guides have to serve it. */
#ifndef DD_STUDY_SEAT_AFLOAT_H
#define DD_STUDY_SEAT_AFLOAT_H
#include "lib/study/seat.h"

extern const double dd_seat_slopes[DD_SEAT_SLOPES]; /* rise over run: a flat, a usual and a steep ramp */

/* Errors: DD_ERROR_NO_EQUILIBRIUM: it does not float upright; DD_ERROR_MEMORY. */
dd_status dd_seat_float(const dd_seat *seat, double slope, dd_seat_afloat *afloat, dd_error *error);
/* On each of the slopes, once: fills seat->afloat and seat->floats. Errors: DD_ERROR_MEMORY. */
dd_status dd_seat_float_on_slopes(dd_seat *seat, dd_error *error);

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
