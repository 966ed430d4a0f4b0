/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of arms share (roller_arm.c, roller_arm_rest.c). */
#ifndef DD_FORCE_ROLLER_ARM_H
#define DD_FORCE_ROLLER_ARM_H
#include "lib/force/roller_patch.h"

static const double dd_arm_rests_at = 1e-10; /* rad/s: slower is at rest */

/* A turn about an axis. */
typedef struct dd_turn {
    dd_vec3 axis;
    double cosine, sine;
} dd_turn;

static inline dd_turn dd_turn_by(dd_vec3 axis, double angle) { return (dd_turn){axis, cos(angle), sin(angle)}; }

static inline dd_vec3 dd_turned(dd_vec3 a, const dd_turn *t)
{
    return dd_add(dd_add(dd_scale(t->cosine, a), dd_scale(t->sine, dd_cross(t->axis, a))),
                  dd_scale((1 - t->cosine) * dd_dot(t->axis, a), t->axis));
}

/* Moment of an arm's own weight and stops, N m and N m/rad; energy, J; the weight's part beside. */
typedef struct dd_own_moment {
    double value, by_angle, energy, weight, weight_by_angle;
} dd_own_moment;
dd_own_moment dd_arm_own_moment(const dd_arm *arm, const dd_turn *by, double angle, double gravity);
/* Adds a stop's moment and its slope at an angle, rad. */
void dd_arm_add_stops(const dd_arm *arm, double angle, dd_own_moment *moment);
/* Its angle at rest, as dd_arm_at_rest; states: of its rollers there, forces not yet. nearly: a ten-millionth of the
   loads may be left. */
double dd_arm_settle(const dd_roller_instance *instance, int arm, const dd_kinematics *k, const double *memory, bool nearly, dd_roller_state *states);
#endif
