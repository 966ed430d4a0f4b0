/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the water's forces share. */
#ifndef DD_FORCE_WATER_H
#define DD_FORCE_WATER_H
#include "lib/force/force.h"

/* Stiffness of a wrench that depends on the twist in the water, from its damping: as the hull turns with its twist over
   the ground held, the current turns against it. Call when D is complete. */
void dd_gradient_add_current(const dd_kinematics *kinematics, dd_gradient *gradient);
/* Change of the water's depth (kinematics->water_depth) by the hull's displacement, the water plane held; and, for K, with the
   plane tilting along where the surface is curved. */
void dd_water_depth_gradient(const dd_ramp *ramp, const dd_kinematics *kinematics, double gradient[6]);
void dd_water_depth_stiffness(const dd_ramp *ramp, const dd_kinematics *kinematics, double gradient[6]);

/* Depth of a strip's keel below the water. */
static inline double dd_keel_depth(const dd_waterplane *plane, double x, double keel_height)
{
    return plane->level - plane->up.x * x - plane->up.z * keel_height;
}
/* A sum over strips of value times the gradient of the strip's keel depth is linear in three sums: of the value, and of
   the value times X and times the keel's height. */
typedef struct dd_keel_sum {
    double one, x, z;
} dd_keel_sum;
static inline void dd_keel_sum_add(dd_keel_sum *sum, double value, double x, double keel_height)
{
    sum->one += value;
    sum->x += value * x;
    sum->z += value * keel_height;
}
/* The hull's displacement shifts it by dr and turns it by dphi: the depth at r changes by -up . dr - (r x up) . dphi. */
static inline void dd_keel_sum_gradient(const dd_waterplane *plane, const dd_keel_sum *sum, double gradient[6])
{
    const dd_vec3 up = plane->up, turn = dd_cross(dd_vec(sum->x, 0, sum->z), up);
    gradient[0] = -sum->one * up.x, gradient[1] = -sum->one * up.y, gradient[2] = -sum->one * up.z;
    gradient[3] = -turn.x, gradient[4] = -turn.y, gradient[5] = -turn.z;
}
/* The same, with the water plane tilting along where the surface is curved: for K. */
void dd_keel_sum_stiffness(const dd_kinematics *kinematics, const dd_keel_sum *sum, double gradient[6]);

/* Random states in water: keel at midships from a tenth to nine tenths of the sheer's height deep, heel and trim up to
   the bounds, turned by up to `heading` from the trailer's line, twist up to 0.5 m/s and rad/s; the rig at rest. */
void dd_draw_afloat(const dd_model *model, double heel, double trim, double heading, double (*uniform)(void *), void *random,
                    dd_pose *pose, dd_motion *motion);
/* Regimes for forces that act in water: "floating", "ends dry". */
extern const dd_regime dd_water_regimes[];
#endif
