/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What contacts share: the compliant law, and the nearest point of the hull's surface. */
#ifndef DD_FORCE_CONTACT_H
#define DD_FORCE_CONTACT_H
#include "lib/base/vector.h"
#include "lib/hull/surface.h"

/* N = k d^1.5 (1 + c d'), never pulling. Stored energy 2/5 k d^2.5; the damping's share of the power is never negative. */
typedef struct dd_squash {
    double elastic, elastic_by_depth; /* k d^1.5 */
    double energy;
    double factor, factor_by_rate; /* 1 + c d', smoothly clamped at zero */
} dd_squash;
dd_squash dd_squash_at(double stiffness, double damping, double depth, double rate);

/* k from the squash under a rated load. */
double dd_squash_stiffness(double rated_load, double squash);

/* The surface as a ball outside it sees it. Because the distance is a true one, its gradient is the unit normal and its
   second derivatives need no more than the surface's own: force = -d(energy)/d(position) holds to the last digit. */
typedef struct dd_nearest {
    double distance; /* of p from the surface, > 0 outside (below) */
    dd_vec3 normal;  /* out of the hull, = d(distance)/dp */
    dd_mat3 turning; /* d(normal)/dp, symmetric */
} dd_nearest;

/* Nearest point on one bottom panel (side +1 port, -1 starboard) or on the keel line (side 0); start is the surface at
   (p.x, p.y). The normal's turning is filled only when asked for. */
dd_nearest dd_nearest_at(const dd_hull *hull, int side, dd_vec3 p, dd_bottom_point start, int with_turning);
/* The same of a panel that ends at the keel: where the nearest point of the panel carried on lies across the keel, the keel is.
   The normal's turning is filled for a distance below turning_within. */
dd_nearest dd_nearest_bottom(const dd_hull *hull, int side, dd_vec3 p, const dd_bottom_point *start, double turning_within);
/* The same for what is nearer than `radius`, turning only with_turning: of what is not, no more than a distance from radius on that it
   is beyond. */
dd_nearest dd_nearest_bottom_within(const dd_hull *hull, int side, dd_vec3 p, const dd_bottom_point *start, double radius, int with_turning);
/* Of one side of the stem, a wedge whose edge is the stem line and whose side stands at the half angle. */
dd_nearest dd_nearest_stem(const dd_hull *hull, int side, dd_vec3 p, double half_angle, int with_turning);
/* Nearest point on the topside of that side. */
dd_nearest dd_nearest_topside(const dd_hull *hull, int side, dd_vec3 p, int with_turning);

/* A keel edge on a roller: the hull's keel line against a body of revolution about the axle, of radius R(t) at t along it.

   With a the axle's direction through p, K(s) the keel line, r = K - p, t = r.a, r - t a = rho u (u a unit vector across the
   axle, the way from axle to keel): gap = rho - R(t), least along s. There w = u - R' a is at right angles to the keel, and at the
   least gap a move of the roller changes the gap by -w.dp - (t + R' rho) u.da, with nothing from s. The hull is pushed along w. */
typedef struct dd_profile {
    double radius, start, length, height; /* rises by height between start and start + length off the middle; height 0: plain */
} dd_profile;
typedef struct dd_keel_contact {
    dd_vec3 at, axle, tangent, bend;      /* K, a, dK/ds, d2K/ds2, boat axes */
    dd_vec3 u, turning, w;                /* turning: across axle and u, the way u turns */
    double t, rho, depth;                 /* depth: -gap */
    double slope, curvature;              /* R', R'' */
    double turning_by_s, by_s;            /* of u by s; of the condition of the least gap by s */
} dd_keel_contact;
/* 0: the keel lies along the axle within some 20 degrees and has no one place on it. */
int dd_keel_on_axle(const dd_hull *hull, const dd_profile *profile, dd_vec3 p, dd_vec3 axle, dd_keel_contact *contact);
/* The same of keel and stem as one line, from any side of it. */
int dd_stem_on_axle(const dd_hull *hull, const dd_stem_line *stem, const dd_profile *profile, dd_vec3 p, dd_vec3 axle,
                    dd_keel_contact *contact);
typedef struct dd_keel_change {
    dd_vec3 w, at;
    double depth;
} dd_keel_change;
/* What a move dp and a turn da of the axle do. */
dd_keel_change dd_keel_change_by(const dd_keel_contact *contact, dd_vec3 dp, dd_vec3 da);

/* The surface of that panel or of the keel line at (x, y). */
dd_bottom_point dd_surface_at(const dd_hull *hull, int side, double x, double y);
#endif
