/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The equilibrium followed down the ramp: for `settle`, and for tests that hold it against closed forms. */
#ifndef DD_STUDY_SETTLE_H
#define DD_STUDY_SETTLE_H
#include "lib/study/observe.h"
#include "lib/study/start.h"

/* One branch of equilibria: a friction state and the last pose found on it. */
typedef struct dd_settle {
    dd_study_model *m;
    dd_friction_state state;
    double *memory;
    dd_equilibrium at; /* the last equilibrium */
    int free;          /* DD_FREE_... */
} dd_settle;

/* Starts at rig x with the boat wound home there (or, home_x not NaN, wound home at home_x and then driven). */
dd_status dd_settle_begin(dd_study_model *model, dd_friction_state state, double x, double home_x, dd_settle *settle,
                          dd_error *error);
/* Moves to rig x from the last equilibrium and leaves the workspace evaluated there with channels and gradients. Error
   DD_ERROR_NO_EQUILIBRIUM where the stable branch ends; settle then keeps its last equilibrium. */
dd_status dd_settle_to(dd_settle *settle, double x, dd_error *error);
void dd_settle_end(dd_settle *settle);
#endif
