/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Backward differentiation formulas of order 1 to 5, for stiff problems. */
#include "lib/ode/evolve.h"

/* A multistep method pays for each change of step with a new Newton matrix and a worse error estimate, and for each step with two
   derivatives more than Newton's. Four times the root mean square of 72 components is half of one that stands alone. Measured on whole
   runs, against the largest component with 0.7, 1.5 and 1: tests/bench/results.md. */
static const dd_step_rule rule = {.safety = 0.75, .least_growth = 1.3, .mean_square = 4.0, .newton = 2.0};

static dd_status bdf_create(const dd_ode_problem *problem, void **state, dd_error *error)
{
    return dd_evolve_create(gsl_odeiv2_step_msbdf, rule, problem, state, error);
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
