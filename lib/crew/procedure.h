/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The people at the ramp: the procedure's steps, one after another, each an action that ends when something comes true.
   They see only what an observer could see and act after a delay. */
#ifndef DD_CREW_PROCEDURE_H
#define DD_CREW_PROCEDURE_H
#include "lib/motion/system.h"
#include <drawdock/case.h>

/* What can be seen from the ramp. */
typedef struct dd_observation {
    double time, rig_speed; /* along the ramp, m/s, > 0 seaward */
    double hub_depth, rear_support_depth;
    double distance_clear;                        /* bow eye seaward of the rearmost support, along the trailer, m */
    double stop_gap, strap_tension, handle_force; /* m, N, N */
    int afloat;                                   /* nothing of the trailer has carried the hull for the time given */
} dd_observation;

typedef enum dd_procedure_state {
    DD_PROCEDURE_RUNS,
    DD_PROCEDURE_DONE,
    DD_PROCEDURE_TOO_LONG,
    DD_PROCEDURE_TOO_HEAVY
} dd_procedure_state;

/* Plain data: a run saves and restores it as bytes. */
typedef struct dd_procedure {
    int step, phase; /* phase: 0 acting, 1 letting go after the end condition */
    int slowed;      /* winding: the bow nears its stop */
    double step_start, phase_start;
    dd_procedure_state state;
} dd_procedure;

/* Name of a step's action, as it is written in a file. */
const char *dd_step_name(int kind);
/* Begins the first step; the rig stands braked before it. */
void dd_procedure_begin(dd_procedure *procedure, const dd_step *steps, int count, double time, dd_plan *plan);
/* Whether something is seen at this moment that people wait for: the run then looks for the moment within its step, so that
   what they do does not hang on where the integrator's steps end. */
bool dd_procedure_notices(const dd_procedure *procedure, const dd_step *steps, const dd_limits *limits,
                          const dd_observation *seen, double hand_force_limit);
/* When the next action begins (a time no step may pass); INFINITY: not known yet. */
double dd_procedure_acts_at(const dd_procedure *procedure);
/* With what is seen within or at the end of an accepted step, which is no longer than any reaction; hand_force_limit of the winch, N. Returns 1 when the plan changed so that the forces jump (the integrator must restart), 2 when the
   plan changed smoothly, else 0. */
int dd_procedure_advance(dd_procedure *procedure, const dd_step *steps, int count, const dd_limits *limits,
                         const dd_observation *seen, double hand_force_limit, dd_plan *plan);
#endif
