/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ordinary differential equations: steppers behind one descriptor, dense output, event location. Knows no boats. */
#ifndef DD_ODE_ODE_H
#define DD_ODE_ODE_H
#include <drawdock/status.h>
#include <stddef.h>

/* dy/dt = f(t, y). */
typedef struct dd_ode_problem {
    size_t size;
    /* Returns 0, or non-zero when f cannot be computed there (the stepper then shortens its step). */
    int (*derivative)(double t, const double *y, double *dydt, void *context);
    /* Row-major size x size df/dy, and df/dt; may be NULL for explicit steppers. */
    int (*jacobian)(double t, const double *y, double *dfdy, double *dfdt, void *context);
    void *context;
    double relative_tolerance;
    /* Absolute tolerance of each component; INFINITY is not allowed (use a large number). The error weight of
       component i is absolute[i] + relative_tolerance * |y[i]| * relative[i]. */
    const double *absolute, *relative; /* relative may be NULL: all 1 */
    double largest_step;               /* s; 0: none */
    /* Components inner_first..inner_first + inner_count - 1 are many that J couples to the others but hardly to one another: an
       implicit stepper may eliminate them ahead (0: none). Where J is zero it finds out itself. */
    size_t inner_first, inner_count;
} dd_ode_problem;

/* The error weight of component i at the value y. */
double dd_ode_error_weight(const dd_ode_problem *problem, size_t i, double y);
/* For steppers: the step size with which to go on over `rest` without leaving a sliver at its end; the smallest step at t; and the error of
   a stepper that went down to h in vain. */
double dd_ode_fit_step(const dd_ode_problem *problem, double h, double rest);
double dd_ode_smallest_step(double t);
dd_status dd_ode_no_step(double t, double h, dd_error *error);

typedef struct dd_ode dd_ode;

/* One integrator, a constant descriptor. */
typedef struct dd_stepper {
    const char *name, *help;
    int needs_jacobian, order;
    dd_status (*create)(const dd_ode_problem *problem, void **state, dd_error *error);
    /* One accepted step from *t, y towards t_end (not beyond it), step size *h in and next proposal out;
       dydt holds f(t, y) on entry and on exit, of an implicit method its formula's rate. */
    dd_status (*step)(void *state, double *t, double t_end, double *h, double *y, double *dydt, dd_error *error);
    void (*restart)(void *state);            /* forget the history */
    long (*failed_steps)(const void *state); /* steps tried and rejected since create */
    void (*free)(void *state);
} dd_stepper;

extern const dd_stepper dd_stepper_bdf;               /* numerical differentiation formulas: stiff, variable order 1-5 */
extern const dd_stepper dd_stepper_explicit;          /* GSL rk8pd: non-stiff, order 8(7) */

typedef struct dd_ode_statistics {
    long derivatives, jacobians, steps, failed_steps;
} dd_ode_statistics;

/* problem's arrays and context must outlive the integration. */
dd_status dd_ode_create(const dd_stepper *stepper, const dd_ode_problem *problem, dd_ode **ode, dd_error *error);
void dd_ode_free(dd_ode *ode);
/* Start (or restart, forgetting the history) at t, y; h: first step, 0: chosen. */
dd_status dd_ode_start(dd_ode *ode, double t, const double *y, double h, dd_error *error);
/* One freely chosen step; the end may pass any output time; never passes `limit` (a time where the problem itself
   changes; INFINITY: none). DD_ERROR_STEP below the smallest step, DD_ERROR_NOT_FINITE for a bad value. */
dd_status dd_ode_step(dd_ode *ode, double limit, dd_error *error);
double dd_ode_time(const dd_ode *ode);          /* end of the last accepted step */
double dd_ode_previous_time(const dd_ode *ode); /* its start */
double dd_ode_step_proposal(const dd_ode *ode);
const double *dd_ode_state(const dd_ode *ode);      /* at the end */
const double *dd_ode_derivative(const dd_ode *ode); /* at the end */
/* Cubic Hermite within the last step: previous_time <= t <= time. */
void dd_ode_interpolate(const dd_ode *ode, double t, double *y);
const dd_ode_statistics *dd_ode_statistics_of(const dd_ode *ode);

/* Root of g on [a, b] by Brent's method (GSL), ga = g(a) and gb = g(b) of opposite sign or zero, to `tolerance` in t. */
dd_status dd_ode_locate(double (*g)(double t, void *context), void *context, double a, double b, double ga, double gb,
                        double tolerance, double *root, dd_error *error);
/* Narrows [a, b] with values of different sense (g >= 0 and g < 0) until it is no longer than `tolerance`; g was evaluated last where each end lies,
   if it was moved. guess: where between the ends as they are the caller takes the root to be, for a g that is the least of several; NULL, or where it
   gives NaN: where a straight line has it. For a g that is dear, or jumps: GSL's solvers close in from one side and leave the other end where it was. */
dd_status dd_ode_enclose(double (*g)(double t, void *context), double (*guess)(void *context), void *context, double *a, double *b, double *ga, double *gb, double tolerance,
                         dd_error *error);
/* The least of g between t[0] and t[2], the value known at t[1] being less than at both: by GSL's minimiser (Brent), until the interval is no longer than
   `tolerance` or the values at its ends are within `enough` of the least. *at, *least: where it lies and what it is, as far as was found also after an
   error: DD_ERROR_NOT_FINITE where g is not finite, DD_ERROR_ARGUMENT for another order of t or values. */
dd_status dd_ode_least(double (*g)(double t, void *context), void *context, const double t[3], const double value[3], double tolerance, double enough,
                       double *at, double *least, dd_error *error);
/* How low that least may be, where g falls on beyond t[1] no more steeply than it fell before, from either side: by the steeper slope over the longer
   span. INFINITY: value[1] is not the least of the three. */
double dd_ode_promised(const double t[3], const double value[3]);
/* As dd_ode_locate() for a g that is cheap and finite: NaN where it is not finite at an end, has one sign at both, or the search fails. */
double dd_ode_root(double (*g)(double t, void *context), void *context, double a, double b, double tolerance);
#endif
