/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Backward differentiation formulas of order 1 to 5, for stiff problems. */
#include "lib/ode/evolve.h"

/* A multistep method pays for each change of step with a new Newton matrix and a worse error estimate. The two
   numbers are those by which msbdf itself chooses its order (its bias of 6 on the error is 0.7 on the step at order 4).
   Against GSL's standard control (0.9, any growth), on nine blocks bouncing on d^1.5 contacts with bristle friction
   (45 components, relative tolerance 1e-6): time 0.85, matrices 138 for 178, error 1.5e-6 for 6.6e-6; an undamped
   oscillator at 1e-5 is after ten periods 3e-4 off for 8e-3. */
static const dd_step_rule rule = {.safety = 0.7, .least_growth = 1.5};

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
