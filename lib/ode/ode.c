/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/ode/ode.h"

#include "lib/base/error.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Why the stepper's last trial could not be computed. */
typedef enum fault { FAULT_NONE, FAULT_REFUSED, FAULT_NOT_FINITE } fault;

struct dd_ode {
    const dd_stepper *stepper;
    dd_ode_problem given;   /* the caller's */
    dd_ode_problem watched; /* the same, counted and checked, for the stepper */
    void *state;
    double *storage;
    double *y, *dydt;                   /* at the end of the last step */
    double *previous_y, *previous_dydt; /* at its start */
    double *next_y, *next_dydt;         /* of a step in hand: a step that fails leaves the last one whole */
    double t, previous_t, h;
    int started;
    dd_ode_statistics statistics;
    fault fault;
    const char *fault_place; /* of what: "derivative" or "Jacobian" */
    size_t fault_component;
    double fault_time, fault_value;
};

/* Index of the first value that is not finite, `count` if all are. The sum finds out fast whether to look. */
static size_t first_not_finite(const double *values, size_t count)
{
    double sum = 0.0;
    for (size_t i = 0; i < count; i++) sum += 0.0 * values[i];
    if (sum == 0.0) return count;
    for (size_t i = 0; i < count; i++)
        if (!isfinite(values[i])) return i;
    return count;
}

static void note_fault(dd_ode *ode, fault kind, const char *place, double t, size_t component, double value)
{
    ode->fault = kind;
    ode->fault_place = place;
    ode->fault_time = t;
    ode->fault_component = component;
    ode->fault_value = value;
}

/* A value that is not finite is answered as a refusal, so that the stepper tries a shorter step first. */
static int watched_derivative(double t, const double *y, double *dydt, void *context)
{
    dd_ode *ode = context;
    size_t bad;
    ode->statistics.derivatives++;
    ode->fault = FAULT_NONE;
    if (ode->given.derivative(t, y, dydt, ode->given.context) != 0) {
        note_fault(ode, FAULT_REFUSED, "derivative", t, 0, 0.0);
        return 1;
    }
    bad = first_not_finite(dydt, ode->given.size);
    if (bad < ode->given.size) {
        note_fault(ode, FAULT_NOT_FINITE, "derivative", t, bad, dydt[bad]);
        return 1;
    }
    return 0;
}

static int watched_jacobian(double t, const double *y, double *dfdy, double *dfdt, void *context)
{
    dd_ode *ode = context;
    const size_t size = ode->given.size;
    size_t bad;
    ode->statistics.jacobians++;
    if (ode->given.jacobian(t, y, dfdy, dfdt, ode->given.context) != 0) {
        note_fault(ode, FAULT_REFUSED, "Jacobian", t, 0, 0.0);
        return 1;
    }
    bad = first_not_finite(dfdy, size * size);
    if (bad < size * size) {
        note_fault(ode, FAULT_NOT_FINITE, "Jacobian", t, bad / size, dfdy[bad]);
        return 1;
    }
    bad = first_not_finite(dfdt, size);
    if (bad < size) {
        note_fault(ode, FAULT_NOT_FINITE, "Jacobian", t, bad, dfdt[bad]);
        return 1;
    }
    return 0;
}

double dd_ode_error_weight(const dd_ode_problem *problem, size_t i, double y)
{
    const double relative = problem->relative != NULL ? problem->relative[i] : 1.0;
    return problem->absolute[i] + problem->relative_tolerance * relative * fabs(y);
}

double dd_ode_fit_step(const dd_ode_problem *problem, double h, double rest)
{
    if (problem->largest_step > 0.0) h = fmin(h, problem->largest_step);
    if (h >= rest * (1.0 - 1e-6)) return rest;
    return h > 0.5 * rest ? 0.5 * rest : h;
}

double dd_ode_smallest_step(double t) { return fmax(16.0 * DBL_EPSILON * fabs(t), 1e-20); }

dd_status dd_ode_no_step(double t, double h, dd_error *error)
{
    return dd_fail(error, DD_ERROR_STEP, "dd_ode_step", "at t = %.9g s no step down to %.3g s meets the tolerance", t, h);
}

static dd_status check_problem(const dd_stepper *stepper, const dd_ode_problem *problem, dd_error *error)
{
    const char *place = "dd_ode_create";
    if (problem->size == 0 || problem->derivative == NULL || problem->absolute == NULL)
        return dd_fail(error, DD_ERROR_UNSET, place, "size, derivative and absolute must be set");
    if (stepper->needs_jacobian && problem->jacobian == NULL)
        return dd_fail(error, DD_ERROR_UNSET, place, "the stepper '%s' needs a Jacobian", stepper->name);
    if (!(problem->relative_tolerance >= 0.0) || !isfinite(problem->relative_tolerance))
        return dd_fail(error, DD_ERROR_ARGUMENT, place, "relative_tolerance is %g, expected a number >= 0",
                       problem->relative_tolerance);
    if (!(problem->largest_step >= 0.0))
        return dd_fail(error, DD_ERROR_ARGUMENT, place, "largest_step is %g s, expected >= 0", problem->largest_step);
    for (size_t i = 0; i < problem->size; i++) {
        const double relative = problem->relative != NULL ? problem->relative[i] : 1.0;
        if (!(problem->absolute[i] > 0.0) || !isfinite(problem->absolute[i]))
            return dd_fail(error, DD_ERROR_ARGUMENT, place, "absolute[%zu] is %g, expected a finite number > 0", i,
                           problem->absolute[i]);
        if (!(relative >= 0.0) || !isfinite(relative))
            return dd_fail(error, DD_ERROR_ARGUMENT, place, "relative[%zu] is %g, expected a finite number >= 0", i, relative);
    }
    return DD_OK;
}

dd_status dd_ode_create(const dd_stepper *stepper, const dd_ode_problem *problem, dd_ode **ode, dd_error *error)
{
    const size_t size = problem->size;
    dd_ode *self;
    dd_status status = check_problem(stepper, problem, error);
    *ode = NULL;
    if (status != DD_OK) return status;
    self = calloc(1, sizeof *self);
    if (self != NULL) self->storage = calloc(6 * size, sizeof *self->storage);
    if (self == NULL || self->storage == NULL) {
        free(self);
        return dd_fail(error, DD_ERROR_MEMORY, "dd_ode_create", "no memory for an integration of %zu components", size);
    }
    self->stepper = stepper;
    self->y = self->storage;
    self->dydt = self->storage + size;
    self->previous_y = self->storage + 2 * size;
    self->previous_dydt = self->storage + 3 * size;
    self->next_y = self->storage + 4 * size;
    self->next_dydt = self->storage + 5 * size;
    self->given = *problem;
    self->watched = *problem;
    self->watched.derivative = watched_derivative;
    self->watched.jacobian = problem->jacobian != NULL ? watched_jacobian : NULL;
    self->watched.context = self;
    status = stepper->create(&self->watched, &self->state, error);
    if (status != DD_OK) {
        dd_ode_free(self);
        return status;
    }
    *ode = self;
    return DD_OK;
}

void dd_ode_free(dd_ode *ode)
{
    if (ode == NULL) return;
    if (ode->state != NULL) ode->stepper->free(ode->state);
    free(ode->storage);
    free(ode);
}

static double weighted_norm(const dd_ode *ode, const double *values, size_t *largest)
{
    double norm = 0.0;
    *largest = 0;
    for (size_t i = 0; i < ode->given.size; i++) {
        const double value = fabs(values[i]) / dd_ode_error_weight(&ode->given, i, ode->y[i]);
        if (value > norm) {
            norm = value;
            *largest = i;
        }
    }
    return norm;
}

/* First step for a start at order p (Hairer, Norsett and Wanner, Solving Ordinary Differential Equations I,
   section II.4): the local error h^(p+1) |y^(p+1)|, taken from an estimate of y'', is a hundredth of the tolerance. */
static double first_step(dd_ode *ode)
{
    const size_t size = ode->given.size;
    const double order = ode->stepper->order;
    double trial_dydt_norm, h, slope, bend;
    size_t index;
    double *const trial_y = ode->next_y, *const trial_dydt = ode->next_dydt;
    slope = weighted_norm(ode, ode->dydt, &index);
    h = slope > 1e-5 ? 0.01 * fmax(1.0, weighted_norm(ode, ode->y, &index)) / slope : 1e-6;
    if (ode->given.largest_step > 0.0) h = fmin(h, ode->given.largest_step);
    for (int tries = 0; tries < 20; tries++) {
        for (size_t i = 0; i < size; i++) trial_y[i] = ode->y[i] + h * ode->dydt[i];
        if (ode->watched.derivative(ode->t + h, trial_y, trial_dydt, ode) == 0) break;
        h *= 0.1;
        if (tries == 19) return h;
    }
    for (size_t i = 0; i < size; i++) trial_dydt[i] -= ode->dydt[i];
    trial_dydt_norm = weighted_norm(ode, trial_dydt, &index);
    bend = trial_dydt_norm / h;
    slope = fmax(slope, bend);
    if (slope <= 1e-15) return fmax(1e-6, 1e-3 * h);
    h = fmin(100.0 * h, pow(0.01 / slope, 1.0 / (order + 1.0)));
    return ode->given.largest_step > 0.0 ? fmin(h, ode->given.largest_step) : h;
}

static dd_status derivative_failure(const dd_ode *ode, dd_error *error)
{
    if (ode->fault == FAULT_NOT_FINITE)
        return dd_fail(error, DD_ERROR_NOT_FINITE, "dd_ode", "the %s of component %zu is %g at t = %.9g s", ode->fault_place,
                       ode->fault_component, ode->fault_value, ode->fault_time);
    return dd_fail(error, DD_ERROR_STEP, "dd_ode", "the %s cannot be computed at t = %.9g s", ode->fault_place,
                   ode->fault_time);
}

dd_status dd_ode_start(dd_ode *ode, double t, const double *y, double h, dd_error *error)
{
    const size_t size = ode->given.size;
    const size_t bad = first_not_finite(y, size);
    if (bad < size)
        return dd_fail(error, DD_ERROR_NOT_FINITE, "dd_ode_start", "component %zu of the state is %g at t = %.9g s", bad,
                       y[bad], t);
    if (!isfinite(t) || !(h >= 0.0) || !isfinite(h))
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_ode_start", "t is %g s and the first step %g s", t, h);
    ode->started = 0;
    ode->t = ode->previous_t = t;
    memmove(ode->y, y, size * sizeof *y);
    ode->stepper->restart(ode->state);
    if (watched_derivative(t, ode->y, ode->dydt, ode) != 0) return derivative_failure(ode, error);
    ode->h = h > 0.0 ? h : first_step(ode);
    memcpy(ode->previous_y, ode->y, size * sizeof *y);
    memcpy(ode->previous_dydt, ode->dydt, size * sizeof *y);
    ode->started = 1;
    return DD_OK;
}

/* The stepper found no step: say why, as far as can be seen. */
static dd_status step_failure(const dd_ode *ode, dd_error *error)
{
    dd_error stepper_error = {0};
    size_t component;
    double rate;
    if (ode->fault != FAULT_NONE) return derivative_failure(ode, error);
    if (error != NULL) stepper_error = *error;
    rate = weighted_norm(ode, ode->dydt, &component);
    return dd_fail(error, DD_ERROR_STEP, "dd_ode_step", "%s; component %zu changes fastest: %g, by %g tolerances per second",
                   stepper_error.message, component, ode->y[component], rate);
}

dd_status dd_ode_step(dd_ode *ode, double limit, dd_error *error)
{
    const size_t size = ode->given.size, bytes = size * sizeof(double);
    double *const new_y = ode->next_y, *const new_dydt = ode->next_dydt;
    double t = ode->t, h = ode->h;
    size_t bad;
    dd_status status;
    if (!ode->started || !(limit > ode->t))
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_ode_step",
                       "expected a start and a limit after t = %.9g s, found limit %.9g s", ode->t, limit);
    memcpy(new_y, ode->y, bytes);
    memcpy(new_dydt, ode->dydt, bytes);
    ode->fault = FAULT_NONE;
    status = ode->stepper->step(ode->state, &t, limit, &h, new_y, new_dydt, error);
    ode->statistics.failed_steps = ode->stepper->failed_steps(ode->state);
    if (status == DD_ERROR_STEP) return step_failure(ode, error);
    if (status != DD_OK) return status;
    bad = first_not_finite(new_y, size);
    if (bad < size)
        return dd_fail(error, DD_ERROR_NOT_FINITE, "dd_ode_step", "component %zu of the state is %g at t = %.9g s", bad,
                       new_y[bad], t);
    ode->next_y = ode->previous_y;
    ode->next_dydt = ode->previous_dydt;
    ode->previous_y = ode->y;
    ode->previous_dydt = ode->dydt;
    ode->y = new_y;
    ode->dydt = new_dydt;
    ode->previous_t = ode->t;
    ode->t = t;
    ode->h = h;
    ode->statistics.steps++;
    return DD_OK;
}

double dd_ode_time(const dd_ode *ode) { return ode->t; }

double dd_ode_previous_time(const dd_ode *ode) { return ode->previous_t; }

double dd_ode_step_proposal(const dd_ode *ode) { return ode->h; }

const double *dd_ode_state(const dd_ode *ode) { return ode->y; }

const double *dd_ode_derivative(const dd_ode *ode) { return ode->dydt; }

const dd_ode_statistics *dd_ode_statistics_of(const dd_ode *ode) { return &ode->statistics; }

void dd_ode_interpolate(const dd_ode *ode, double t, double *y)
{
    const double step = ode->t - ode->previous_t;
    const double s = step > 0.0 ? (t - ode->previous_t) / step : 1.0;
    /* Both ends come out exact: r is 0 at the end, s at the start. */
    const double r = 1.0 - s;
    const double from = r * r * (1.0 + 2.0 * s), to = s * s * (1.0 + 2.0 * r);
    const double from_slope = step * s * r * r, to_slope = -step * s * s * r;
    for (size_t i = 0; i < ode->given.size; i++)
        y[i] = from * ode->previous_y[i] + to * ode->y[i] + from_slope * ode->previous_dydt[i] + to_slope * ode->dydt[i];
}
