/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A scenario made into a model: hull, rig, ramp, strips, system of forces, workspace. Every study begins here. */
#ifndef DD_STUDY_MODEL_H
#define DD_STUDY_MODEL_H
#include "lib/motion/equilibrium.h"
#include <drawdock/case.h>

typedef struct dd_study_model {
    dd_case scenario;
    dd_hull *hull;
    dd_rig *rig;
    dd_ramp *ramp;
    dd_strips *strips;
    dd_model model;
    dd_system *system;
    dd_workspace *workspace;
    double *memory; /* system->memory_count, scratch of the statics */
    struct dd_seen_map *map; /* where the observables find their channels (lib/study/observe.c) */
} dd_study_model;

/* Takes out of a scenario what a boat at rest does not feel: stream, rise and further levels, surge, waves, wind, and the forces of motion,
   some of them costly to prepare. moves: what waves and drag take from a boat that moves stays. also: names of further forces left out, ends
   with NULL; may be NULL. */
void dd_study_make_still(dd_case *scenario, const char *const *also, bool moves);
dd_status dd_study_model_create(const dd_case *scenario, dd_study_model **model, dd_error *error);
/* beside: a model of the same boat and water at another level or on another ramp, whose tables serve here too; must outlive this one. */
dd_status dd_study_model_create_beside(const dd_case *scenario, const dd_study_model *beside, dd_study_model **model, dd_error *error);
void dd_study_model_free(dd_study_model *model);

/* What an observer sees, from the workspace's evaluation. */
double dd_study_depth(const dd_study_model *model, const dd_kinematics *kinematics, dd_vec3 point); /* of a place in the world, under the water's surface */
double dd_study_hub_depth(const dd_study_model *model, const dd_kinematics *kinematics);
double dd_study_rear_support_depth(const dd_study_model *model, const dd_kinematics *kinematics);
double dd_study_distance_clear(const dd_study_model *model,
                               const dd_kinematics *kinematics); /* bow eye, trailer X less the rearmost support's */
double dd_study_keel_clearance(const dd_study_model *model,
                               const dd_kinematics *kinematics); /* least height of the keel line over the ground */
/* Trailer X of the rearmost support, and index of its first roller; -1 without rollers. */
int dd_study_rearmost_roller(const dd_rig *rig);
int dd_study_rearmost_axle(const dd_rig *rig);
/* Middle of the rearmost axle's hubs, trailer frame, where they are under rated load. */
dd_vec3 dd_study_rearmost_hub(const dd_rig *rig);
#endif
