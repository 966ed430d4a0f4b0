/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Backward differentiation formulas of order 1 to 5, for stiff problems. */
#include "lib/base/error.h"
#include "lib/ode/evolve.h"

static dd_status bdf_create(const dd_ode_problem *problem, void **state, dd_error *error)
{
    return dd_evolve_create(gsl_odeiv2_step_msbdf, problem, state, error);
}

const dd_stepper dd_stepper_bdf = {
    .name = "bdf",
    .help = "implicit multistep method of variable order 1-5 (GSL msbdf), for stiff problems",
    .needs_jacobian = 1,
    .order = 1, /* the order at which it starts */
    .create = bdf_create,
    .step = dd_evolve_step,
    .restart = dd_evolve_restart,
    .failed_steps = dd_evolve_failed_steps,
    .free = dd_evolve_free,
};
