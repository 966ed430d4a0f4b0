/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the water's forces share. */
#ifndef DD_FORCE_WATER_H
#define DD_FORCE_WATER_H
#include "lib/force/force.h"

/* Stiffness of a wrench that depends on the twist in the water, from its damping: as the hull turns with its twist over
   the ground held, the current turns against it. Call when D is complete. */
void dd_gradient_add_current(const dd_kinematics *kinematics, dd_gradient *gradient);
/* Change of the water's depth (kinematics->water_depth) by the hull's displacement. */
void dd_water_depth_gradient(const dd_ramp *ramp, const dd_kinematics *kinematics, double gradient[6]);

/* Depth of a strip's keel below the water, and its gradient by the hull's displacement. */
static inline double dd_keel_depth(const dd_waterplane *plane, double x, double keel_height)
{
    return plane->level - plane->up.x * x - plane->up.z * keel_height;
}
static inline void dd_keel_depth_gradient(const dd_waterplane *plane, double x, double keel_height, double gradient[6])
{
    dd_vec3 turn = dd_cross(dd_vec(x, 0, keel_height), plane->up);
    gradient[0] = -plane->up.x, gradient[1] = -plane->up.y, gradient[2] = -plane->up.z;
    gradient[3] = -turn.x, gradient[4] = -turn.y, gradient[5] = -turn.z;
}

/* Random states in water: keel at midships from a tenth to nine tenths of the sheer's height deep, heel and trim up to
   the bounds, turned by up to `heading` from the trailer's line, twist up to 0.5 m/s and rad/s; the rig at rest. */
void dd_draw_afloat(const dd_model *model, double heel, double trim, double heading, double (*uniform)(void *), void *random,
                    dd_pose *pose, dd_motion *motion);
/* Regimes for forces that act in water: "floating", "ends dry". */
extern const dd_regime dd_water_regimes[];
#endif
