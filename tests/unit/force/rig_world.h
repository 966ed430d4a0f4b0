/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A rig alone on a ramp, and one force of it looked at in one state. */
#ifndef DD_TESTS_RIG_WORLD_H
#define DD_TESTS_RIG_WORLD_H
#include "tests/unit/ode/checks.h"
#include "tests/unit/rig/rigs.h"
#include "lib/force/wheels.h"
#include "lib/state/kinematics.h"
#include <stdlib.h>

typedef struct world {
    dd_model model;
    dd_ramp *ramp;
    dd_rig *rig;
} world;
/* Gravity 9.81, fresh water of 1000 kg/m3 with its level at -100 m. */
world world_of(const dd_ramp_parameters *ramp, const dd_vehicle_parameters *vehicle, const dd_trailer_parameters *trailer);
void free_world(world *w);
/* reference_rig() on an even grade. */
world reference_world(double grade);

enum { MEMORY = 16, UNITS = 8, CHANNELS = 12 };
typedef struct look {
    dd_load load;
    dd_gradient gradient;
    double rate[MEMORY], load_by_value[MEMORY][6], rig_by_value[MEMORY][DD_RIG_COORDINATES], rate_by_twist[MEMORY][6],
        rate_by_rig[MEMORY][DD_RIG_COORDINATES], rate_by_value[MEMORY];
    double channels[UNITS * CHANNELS];
} look;
void *prepare(const dd_force_kind *kind, const dd_model *model);
look look_at(const dd_force_kind *kind, const void *instance, const dd_model *model, const dd_pose *pose,
             const dd_motion *motion, const dd_commands *commands, const double *memory);
/* A channel of a look by its unit and name. */
double channel_of(const dd_force_kind *kind, const look *l, int unit, const char *name);

enum { STATICS = 4 };
extern const dd_force_kind *const statics[STATICS]; /* weight, coupling, axles, buoyancy of the rig */
/* Heave and pitch in balance at x, by Newton's method on the forces' own K; instance: of the statics, NULL where absent. */
dd_pose settle(const world *w, void *const instance[STATICS], double x);
void prepare_statics(const world *w, void *instance[STATICS]);
void free_statics(void *instance[STATICS]);
/* The wheels of a settled rig, wound up so that they hold it with these commands; *missing: what they had to hold along x, N. */
look held_at(const world *w, void *const instance[STATICS], const void *wheels, const dd_pose *pose, const dd_commands *commands,
             double memory[MEMORY], double *missing);

extern const double no_memory[MEMORY];
extern const dd_motion rest;
extern const dd_commands no_commands;
/* 0..1; context: a 64-bit seed. */
double uniform(void *context);
#endif
