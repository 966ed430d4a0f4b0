/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A hull alone in wide water, moved by the equations of motion with chosen forces. */
#ifndef DD_TESTS_FREE_BODY_H
#define DD_TESTS_FREE_BODY_H
#include "lib/motion/ledger.h"
#include "lib/ode/ode.h"
#include "tests/unit/force/whole.h"

enum { FREE_SIZE = DD_STATE_MEMORY + 8 };

typedef struct free_body {
    whole w;
    dd_system *system;
    dd_workspace *workspace;
    dd_ode_problem problem;
    dd_ode *ode;
    double y[FREE_SIZE], absolute[FREE_SIZE], relative[FREE_SIZE];
} free_body;

/* Forces that take energy out of the water's motion. */
extern const char *const without_damping[];

/* The hull is taken over; density and gravity: NaN keeps the defaults. */
void free_body_create(free_body *b, dd_hull *hull, const char *const *without, double density, double gravity, double current);
void free_body_free(free_body *b);
/* At rest afloat by its own equilibrium. */
dd_pose free_body_afloat(const free_body *b);
void free_body_start(free_body *b, const dd_stepper *stepper, double tolerance, double largest_step, const dd_pose *pose,
                     const dd_motion *motion);
void free_body_step(free_body *b);
/* Kinetic energy, with the water's, and the forces' stored energy at the end of the last step, J. */
double free_body_energy(free_body *b);

/* The prisms of natural_periods.csv. */
typedef struct period_prism {
    const char *name;
    double density, half_breadth, chine_height, sheer_half_breadth, length, mass, centre_height, roll_radius, draught;
} period_prism;
extern const period_prism period_prisms[3];
dd_hull *period_hull(const period_prism *p);
#endif
