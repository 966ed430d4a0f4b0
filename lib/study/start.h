/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DD_STUDY_START_H
#define DD_STUDY_START_H
#include "lib/ode/ode.h"
#include "lib/study/model.h"

#define DD_STUDY_APPROACH 60.0 /* m inshore of the start: there the boat is wound home */

/* Which way friction holds in the statics. */
typedef enum dd_friction_state {
    DD_FRICTION_NONE,
    DD_FRICTION_WOUND_IN, /* rolling resistance against a hull that was last wound inshore */
    DD_FRICTION_LET_OUT,  /* against a hull that last ran seaward */
    DD_FRICTION_SINKING,  /* side grip up, against a hull that sinks into its supports */
    DD_FRICTION_RISING,   /* side grip down, against a hull that rises out of them */
    DD_FRICTION_STATES
} dd_friction_state;

/* Memory of the rollers for a friction state at a pose, each friction at its limit; the rest of memory is kept.
   DD_ERROR_MEMORY without words; where the pose cannot be evaluated there is no friction. */
dd_status dd_study_friction(dd_study_model *model, const dd_pose *pose, dd_friction_state state, double *memory);
/* Whether the friction in memory is that of a state at the workspace's evaluation, with channels, where supports carry: what friction those would
   have that carry nothing is all one. */
bool dd_study_friction_holds(const dd_study_model *model, dd_friction_state state, const double *memory);
/* Gives rollers that have no friction of that state in memory, but have in another, their own by that one's sense. */
void dd_study_friction_join(const dd_study_model *model, dd_friction_state state, const double *other, double *memory);
/* Trailer standing on its wheels behind the vehicle whose rear axle is at x. */
dd_pose dd_study_rig_pose(const dd_study_model *model, double x);
/* The pose taken along with the rig to x: the trailer's pitch follows the ground, all else stays: a first guess for statics. */
dd_pose dd_study_driven(const dd_study_model *model, const dd_pose *pose, double x);
/* How far towards x the rig may be driven with all of the ground under it straight and dry, so that all lies as it does here, m. */
double dd_study_straight_way(const dd_study_model *model, const dd_pose *pose, double x);
/* The boat laid straight on the supports, bow at its stop: a first guess for statics. */
dd_pose dd_study_home_pose(const dd_study_model *model, double x);
/* The hull at home, strap wound to its pretension with the rig's rear axle at x; the strap's length goes into memory. */
dd_status dd_study_home(dd_study_model *model, double x, dd_friction_state state, double *memory, dd_equilibrium *home,
                        dd_error *error);
/* Rig x at which the rearmost hub stands `depth` under water (negative: above), tyres and springs unloaded. */
dd_status dd_study_position(const dd_study_model *model, double depth, double *x, dd_error *error);
/* The boat afloat behind the trailer as the start of a retrieve says; rig gives the trailer's pose. */
dd_status dd_study_afloat_pose(const dd_study_model *model, const dd_pose *rig, const dd_start *start, dd_pose *pose,
                               dd_error *error);
#endif
