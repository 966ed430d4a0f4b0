/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Explicit Runge-Kutta method of Prince and Dormand, order 8 with an error estimate of order 7. */
#include "lib/ode/evolve.h"

static dd_status explicit_create(const dd_ode_problem *problem, void **state, dd_error *error)
{
    return dd_evolve_create(gsl_odeiv2_step_rk8pd, problem, state, error);
}

const dd_stepper dd_stepper_explicit = {
    .name = "explicit",
    .help = "explicit Runge-Kutta method of order 8 (GSL rk8pd), for problems that are not stiff",
    .needs_jacobian = 0,
    .order = 8,
    .create = explicit_create,
    .step = dd_evolve_step,
    .restart = dd_evolve_restart,
    .failed_steps = dd_evolve_failed_steps,
    .free = dd_evolve_free,
};
