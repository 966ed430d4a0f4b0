/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A bar across the trailer, a body of revolution that the line of keel and stem meets (contact.h, lib/hull/stem.c).

   Energy share(p) 2/5 k d^2.5, d the true depth, p the bar's middle; the force is the energy's gradient, with the damping on its
   part by d. It pushes at right angles to the line. `share` fades beyond the bar's ends, over the stem head and behind the transom. */
#ifndef DD_FORCE_BAR_H
#define DD_FORCE_BAR_H
#include "lib/force/contact.h"
#include "lib/force/force.h"
#include "lib/force/smooth.h"

/* What bars of one kind share. */
typedef struct dd_bars {
    const dd_hull *hull;
    dd_stem_line stem;
    dd_profile profile;
    double stiffness, damping;
} dd_bars;

/* Where the trailer is seen from the hull, and how the hull moves on it; boat axes. */
typedef struct dd_bar_frame {
    dd_vec3 axle, linear, angular;
} dd_bar_frame;
dd_bar_frame dd_bar_frame_of(const dd_kinematics *kinematics);

typedef struct dd_bar {
    dd_vec3 p, share_by_p;
    double share;
    dd_smooth across, up, along; /* by y, z, x of p */
    dd_keel_contact edge;
    dd_squash squash;
    bool met;    /* edge is known, also of a bar that does not touch */
    double push; /* along edge.w, whose length is 1 but in a hollow */
} dd_bar;

extern const double dd_bar_fade; /* beyond its ends and the stem head, m */

/* p: its middle, boat axes; false: it does not touch. */
bool dd_bar_press(const dd_bars *bars, const dd_bar_frame *frame, double half_width, dd_vec3 p, dd_bar *bar);
void dd_bar_add(const dd_bar *bar, const dd_bar_frame *frame, dd_load *load);

/* What a unit displacement j of the hull (moved), or a unit of twist j, does: of the line's normal and place of contact, of the push,
   of the elastic load, and of the velocity of the hull there. */
typedef struct dd_bar_change {
    dd_vec3 w, at, velocity;
    double push, elastic;
} dd_bar_change;
dd_bar_change dd_bar_vary(const dd_bar *bar, const dd_bar_frame *frame, int j, bool moved, double wrench[6]);
#endif
