/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What each step does to the plan. */
#ifndef DD_CREW_ACTIONS_H
#define DD_CREW_ACTIONS_H
#include "lib/crew/procedure.h"

static const double dd_reaction = 0.5, dd_hand_reaction = 0.2; /* of foot and of hand, s */
static const double dd_handle_movement = 0.2;                  /* to stop turning a handle, s */
static const double dd_brake_movement = 0.5;                   /* to set or release a brake, s */

/* How long a rig takes from one speed to another, and the speed that a step's way allows. */
double dd_speed_change(double acceleration, double from, double to);
double dd_step_speed(const dd_step *step);

/* Begins a step; *state and *figure say when it cannot be done. Returns 1 when the forces jump, 2 for a smooth change, 0. */
int dd_step_begin(const dd_step *step, const dd_crew *crew, const dd_observation *seen, dd_procedure *procedure, dd_plan *plan);
/* What people do once the end condition is seen; returns how long that takes, s. */
double dd_step_end(const dd_step *step, const dd_crew *crew, double time, dd_procedure *procedure, dd_plan *plan);
/* What lies at once with the end of letting go: returns 1 when the forces jump. */
int dd_step_after(const dd_step *step, dd_plan *plan);
/* Whether the step's end has come. */
bool dd_step_reached(const dd_step *step, const dd_crew *crew, const dd_observation *seen, const dd_procedure *procedure);
#endif
