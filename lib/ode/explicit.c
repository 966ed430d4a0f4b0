/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Explicit Runge-Kutta method of Prince and Dormand, order 8 with an error estimate of order 7: GSL's, with error control by component. */
#include "lib/base/error.h"
#include "lib/ode/gsl.h"
#include "lib/ode/ode.h"

#include <float.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

typedef struct evolution {
    dd_ode_problem problem;
    gsl_odeiv2_system system;
    gsl_odeiv2_step *step;
    gsl_odeiv2_evolve *evolve;
    gsl_odeiv2_control control;
    double *start_y;          /* copy of the state at the start of the step in hand */
    const double *start_dydt; /* its derivative, handed to GSL instead of a fresh evaluation; NULL when used */
    double start_t, smallest_step;
    long failed_steps;
} evolution;

/* The error in hand, in tolerances: 1 is just met. A NaN counts as too large. */
static double error_of(const evolution *self, const double y[], const double error[])
{
    double largest = DBL_MIN;
    for (size_t i = 0; i < self->problem.size; i++) {
        const double ratio = fabs(error[i]) / dd_ode_error_weight(&self->problem, i, y[i]);
        if (!(ratio <= largest)) largest = isnan(ratio) ? INFINITY : ratio;
    }
    return largest;
}

/* Step control on the weighted error: as GSL's standard control (factors 1/5 to 5, retry above 1.1, room to
   grow below 0.5) but for the largest step. */
static int adjust_step(void *state, size_t size, unsigned int order, const double y[], const double error[],
                       const double dydt[], double *h)
{
    const evolution *self = state;
    const double tried = *h, largest = error_of(self, y, error);
    double factor;
    (void)dydt;
    (void)size;
    if (largest > 1.1) {
        factor = fmax(0.2, 0.9 / pow(largest, 1.0 / order));
        /* An unchanged step tells GSL that there is no way on. */
        *h = factor * tried < self->smallest_step ? tried : factor * tried;
        return GSL_ODEIV_HADJ_DEC;
    }
    if (largest >= 0.5) return GSL_ODEIV_HADJ_NIL;
    factor = fmin(5.0, 0.9 / pow(largest, 1.0 / (order + 1.0)));
    if (factor < 1.0) return GSL_ODEIV_HADJ_NIL;
    *h = factor * tried;
    if (self->problem.largest_step > 0.0) *h = fmax(tried, fmin(*h, self->problem.largest_step));
    return GSL_ODEIV_HADJ_INC;
}

static int error_level(void *state, const double y, const double dydt, const double h, const size_t i, double *level)
{
    const evolution *self = state;
    (void)dydt;
    (void)h;
    *level = dd_ode_error_weight(&self->problem, i, y);
    return GSL_SUCCESS;
}

static const gsl_odeiv2_control_type control_by_component = {
    .name = "by component", .hadjust = adjust_step, .errlevel = error_level};

static int system_derivative(double t, const double y[], double dydt[], void *context)
{
    evolution *self = context;
    if (self->start_dydt != NULL && t == self->start_t) {
        /* GSL opens each step with the derivative at its start, which the last step has already computed. */
        memcpy(dydt, self->start_dydt, self->problem.size * sizeof *dydt);
        self->start_dydt = NULL;
        return GSL_SUCCESS;
    }
    /* GSL halves a step that fails until time stands still; end it at our own limit (the methods' first stage is at
       1/18 of the step). */
    if (t > self->start_t && t - self->start_t < self->smallest_step / 32.0) return GSL_EBADFUNC;
    return self->problem.derivative(t, y, dydt, self->problem.context) == 0 ? GSL_SUCCESS : GSL_EFAILED;
}

static void explicit_free(void *state)
{
    evolution *self = state;
    if (self == NULL) return;
    if (self->step != NULL) gsl_odeiv2_step_free(self->step);
    if (self->evolve != NULL) gsl_odeiv2_evolve_free(self->evolve);
    free(self->start_y);
    free(self);
}

static dd_status explicit_create(const dd_ode_problem *problem, void **state, dd_error *error)
{
    evolution *self = calloc(1, sizeof *self);
    *state = NULL;
    dd_gsl_quiet();
    if (self != NULL) {
        self->problem = *problem;
        self->system.function = system_derivative;
        self->system.dimension = problem->size;
        self->system.params = self;
        self->step = gsl_odeiv2_step_alloc(gsl_odeiv2_step_rk8pd, problem->size);
        self->evolve = gsl_odeiv2_evolve_alloc(problem->size);
        self->start_y = calloc(problem->size, sizeof *self->start_y);
    }
    if (self == NULL || self->step == NULL || self->evolve == NULL || self->start_y == NULL) {
        explicit_free(self);
        return dd_fail(error, DD_ERROR_MEMORY, "dd_ode_create", "no memory for an integrator of %zu components", problem->size);
    }
    self->control.type = &control_by_component;
    self->control.state = self;
    *state = self;
    return DD_OK;
}

static dd_status explicit_step(void *state, double *t, double t_end, double *h, double *y, double *dydt, dd_error *error)
{
    evolution *self = state;
    const size_t bytes = self->problem.size * sizeof *y;
    const unsigned long failed_before = self->evolve->failed_steps;
    const double proposal = *h, start = *t;
    const double fitted = dd_ode_fit_step(&self->problem, proposal, t_end - start);
    int code;
    memcpy(self->start_y, y, bytes);
    self->start_t = start;
    self->start_dydt = dydt;
    self->smallest_step = dd_ode_smallest_step(start);
    *h = fitted;
    code = gsl_odeiv2_evolve_apply(self->evolve, &self->control, self->step, &self->system, t, t_end, h, y);
    self->start_dydt = NULL;
    self->failed_steps += (long)(self->evolve->failed_steps - failed_before);
    if (code != GSL_SUCCESS || !(*t > start)) {
        const double reached = *h;
        memcpy(y, self->start_y, bytes);
        *t = start;
        *h = proposal;
        return dd_ode_no_step(start, reached, error);
    }
    memcpy(dydt, self->evolve->dydt_out, bytes);
    /* A step that was cut to meet t_end says little about the next one. */
    if (fitted < proposal && *h <= fitted && self->evolve->failed_steps == failed_before) *h = proposal;
    return DD_OK;
}

static void explicit_restart(void *state)
{
    evolution *self = state;
    gsl_odeiv2_step_reset(self->step);
    gsl_odeiv2_evolve_reset(self->evolve);
}

static long explicit_failed_steps(const void *state)
{
    const evolution *self = state;
    return self->failed_steps;
}

const dd_stepper dd_stepper_explicit = {
    .name = "explicit",
    .help = "explicit Runge-Kutta method of order 8 (GSL rk8pd), for problems that are not stiff",
    .needs_jacobian = 0,
    .order = 8,
    .create = explicit_create,
    .step = explicit_step,
    .restart = explicit_restart,
    .failed_steps = explicit_failed_steps,
    .free = explicit_free,
};
