/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What `settle` asks beside the curve where the rig stands: would the boat hold unhooked, and how hard is it to wind home there. */
#ifndef DD_STUDY_ASIDES_H
#define DD_STUDY_ASIDES_H
#include "lib/study/settle.h"

/* The boat held lengthwise by friction alone, strap and bow stop without load. */
typedef struct dd_unhooked {
    double drive;    /* of weight and water along the keel, seaward positive, N */
    double friction; /* that supports can hold along the keel, N */
    double aft;      /* deceleration of a rig going seaward, or acceleration inshore, from which on the boat moves aft, m/s2; 0: it
                        runs by itself */
    double forward;  /* deceleration of a rig going inshore from which on it moves forward, m/s2 */
    dd_equilibrium at, beside; /* where it lies, and where the branch beside it did */
} dd_unhooked;

/* Of weight, water and engine along the keel at the workspace's evaluation, seaward, N; what the bow stop pushes is left out: a boat held
   where it lies may lean on it, and that drives nothing. */
double dd_drive_along(const dd_settle *settle);
/* Beside the branch, which stays where it is; the workspace does not. held: memory of a branch under friction let out, at about the same place;
   before: the answer for a place before, whose way it goes; both may be NULL. */
dd_status dd_unhook(const dd_settle *settle, const double *held, const dd_unhooked *before, dd_unhooked *result, dd_error *error);

enum { DD_WINDING_STEPS = 40 };

/* One place on the way home: strap in N, angles in degrees. */
typedef struct dd_winding_step {
    double short_of_stop; /* gap left between stem and bow stop, m */
    double pull, angle /* of the strap against the bed, eye above the drum > 0 */, handle /* N; NaN: a motor winds */, carried;
} dd_winding_step;

typedef struct dd_winding {
    int count;
    dd_winding_step step[DD_WINDING_STEPS]; /* from home outward */
    double greatest, greatest_short, greatest_handle;    /* pull, where, and the handle's force there */
    double gap_after;                       /* at the bow stop on level ground, the strap as it was wound here, m; NaN: nothing holds it on the way */
    double least_transom, least_skeg;       /* clearance over the ground on the way, m */
    char ends[240];                         /* where the way out ends before the rearmost support: what is short; else empty */
} dd_winding;

/* The way of a winding, for the next one at a place close by to go alongside. */
typedef struct dd_winding_way dd_winding_way;
void dd_winding_way_free(dd_winding_way *way); /* NULL is allowed */

/* Wound in where the branch stands: home, and from home the strap let out in steps as far as the rearmost support, each place held as
   by somebody who winds. Then pulled out to level_x with the strap left as it is at home; where a balance ends on the way the boat slides on to the next. *way: of
   the winding before (NULL: none), becomes the way of this one, to be freed; way NULL: none is led and none is kept. */
dd_status dd_wind_here(const dd_settle *settle, double level_x, dd_winding_way **way, dd_winding *result, dd_error *error);
#endif
