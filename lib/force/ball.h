/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A ball that stands on the trailer against a face of the hull: bottom or topside, one side. Stored energy share(p) 2/5 k d^2.5
   with d the squash along the true distance; the normal force is its gradient and passes through the ball's centre p. share is
   the face's cover at p, times this side's part where the two sides take over from one another in the middle. */
#ifndef DD_FORCE_BALL_H
#define DD_FORCE_BALL_H
#include "lib/force/contact.h"
#include "lib/force/force.h"

typedef enum dd_face { DD_FACE_BOTTOM, DD_FACE_TOPSIDE } dd_face;

typedef struct dd_ball {
    dd_vec3 p, linear, angular; /* boat axes; of the hull against the trailer */
    double radius, stiffness, damping;
    /* out */
    double share, load;         /* load: N, along the normal */
    dd_vec3 share_by_p, force;  /* force on the hull, at p */
    dd_mat3 share_turning;      /* second derivatives of share */
    dd_squash squash;
    dd_nearest nearest;
} dd_ball;

/* Fills the rest; 0: clear. */
int dd_ball_press(dd_ball *ball, const dd_hull *hull, dd_face face, int side, int with_gradient);
/* Change by a move of p and by the twist: of the normal, of the load, and (added) of the wrench on the hull. */
void dd_ball_vary(const dd_ball *ball, dd_vec3 p, dd_vec3 linear, dd_vec3 angular, dd_vec3 *normal, double *load, double wrench[6]);
#endif
