/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the steppers made from GSL share: error control by component and the free step. */
#ifndef DD_ODE_EVOLVE_H
#define DD_ODE_EVOLVE_H
#include "lib/ode/ode.h"

#include <gsl/gsl_odeiv2.h>

dd_status dd_evolve_create(const gsl_odeiv2_step_type *type, const dd_ode_problem *problem, void **state,
                           dd_error *error);
dd_status dd_evolve_step(void *state, double *t, double t_end, double *h, double *y, double *dydt, dd_error *error);
void dd_evolve_restart(void *state);
long dd_evolve_failed_steps(const void *state);
void dd_evolve_free(void *state);
#endif
