/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A whole model - hull, rig, ramp, water with a stream - for the tests that walk the list of forces, and models of a hull
   alone in wide water. */
#ifndef DD_TESTS_WHOLE_H
#define DD_TESTS_WHOLE_H
#include "lib/force/added_mass.h"
#include "lib/force/force.h"
#include "tests/unit/hull/hulls.h"

enum { WHOLE_MEMORY = 256 };

typedef struct whole {
    dd_hull *hull;
    dd_rig *rig;
    dd_ramp *ramp;
    dd_strips *strips;
    dd_model model;
} whole;
/* Takes the hull over. with_rig 0: no rig and no ramp, deep water. current: m/s along the shore. */
void whole_create(whole *w, dd_hull *hull, int with_rig, double current);
/* Waves, a rising level, and a current that varies with depth and place, in a whole model before its forces are made. */
void whole_stir(whole *w);
/* Sand on the ramp that wheels sink into, and sink on in where it is wet, before its forces are made. */
void whole_soften(whole *w);
void whole_free(whole *w);
/* The chine hull of the reference tables, 1200 kg at (2, 0.03, 0.6), curved lines. */
dd_hull *whole_hull(void);

/* One force of a model with its default coefficients, or all of them 0. */
typedef struct whole_force {
    const dd_force_kind *kind;
    const dd_model *model;
    void *instance;
    int memory_count;
    double time; /* of its evaluations, s */
} whole_force;
/* NULL instance: absent from this model. */
whole_force whole_prepare(const dd_force_kind *kind, const dd_model *model, int zero);
void whole_release(whole_force *force);

typedef struct whole_state {
    dd_pose pose;
    dd_motion motion;
    dd_commands commands;
    double memory[WHOLE_MEMORY];
} whole_state;
typedef struct whole_result {
    dd_load load;
    double rate[WHOLE_MEMORY];
} whole_result;
whole_result whole_evaluate(const whole_force *force, const whole_state *state);
/* Moves the hull by a displacement (boat axes): twist components kept. */
void whole_displace(whole_state *state, const double displacement[6], double amount);

/* 0..1; random points to a 64-bit seed. */
double whole_uniform(void *random);
whole_state whole_draw(const whole_force *force, const dd_regime *regime, uint64_t *random);
#endif
