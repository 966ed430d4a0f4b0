/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numerical differentiation formulas of order 1 to 5 with backward differences at a step that is changed as a whole: Shampine and
   Reichelt, The MATLAB ODE Suite, SIAM Journal on Scientific Computing 18 (1997), section 2. Of order k, with y0 the prediction by
   the differences of the last steps and g_k = 1 + 1/2 + ... + 1/k,
     sum over m of (1/m) difference_m(y) = h f(t, y) + kappa_k g_k (y - y0).
   Newton's method stops by its rate: Hairer and Wanner, Solving Ordinary Differential Equations II, section IV.8. */
#include "lib/ode/newton.h"
#include "lib/ode/ode.h"

#include "lib/base/error.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_ORDER = 5, ROWS = MOST_ORDER + 3, MOST_ITERATIONS = 4 };

/* Shampine and Reichelt, table 1; kappa 0 is the backward differentiation formula. */
static const double kappa[MOST_ORDER + 1] = {0, -0.1850, -1.0 / 9.0, -0.0823, -0.0415, 0};
static const double sum_of[MOST_ORDER + 1] = {0, 1, 3.0 / 2.0, 11.0 / 6.0, 25.0 / 12.0, 137.0 / 60.0};

/* The error in hand is so many times the components' root mean square, in tolerances: four times that of 72 is half of one that stands
   alone. Newton's method ends when what is left of its own error is below `newton_share` of a tolerance by that measure. A step that
   could grow by less than `least_growth` or has to shrink by less than `least_shrinking` stays as it is; estimates are met to `safety`.
   Measured on whole runs: tests/bench/results.md. */
static const double mean_square = 4.0, newton_share = 0.3, safety = 0.75, least_growth = 1.2, least_shrinking = 0.9;
enum { OLDEST_JACOBIAN = 50 }; /* steps */

typedef struct bdf {
    dd_ode_problem problem;
    dd_newton *newton;
    double *difference[ROWS]; /* of the state, backward; [0] the state itself */
    double *psi, *correction, *trial, *rate, *move, *weight, *dfdt; /* weight: 1 / error weight */
    double step, factored, contraction;      /* factored: c of the factors in hand, 0: none; contraction: what of an error Newton's next leaves */
    int order, equal_steps, age;
    bool fresh, jacobian_known, jacobian_new;
    long failed_steps;
} bdf;

static double leading(int order) { return (1.0 - kappa[order]) * sum_of[order]; }

static double error_constant(int order) { return kappa[order] * sum_of[order] + 1.0 / (order + 1.0); }

static void bdf_free(void *state)
{
    bdf *self = state;
    if (self == NULL) return;
    dd_newton_free(self->newton);
    free(self->difference[0]);
    free(self);
}

static dd_status bdf_create(const dd_ode_problem *problem, void **state, dd_error *error)
{
    const size_t n = problem->size;
    bdf *self = calloc(1, sizeof *self);
    *state = NULL;
    double *all = self != NULL ? calloc((ROWS + 7) * n, sizeof *all) : NULL;
    if (all == NULL) {
        free(self);
        return dd_fail(error, DD_ERROR_MEMORY, "dd_ode_create", "no memory for an integrator of %zu components", n);
    }
    double **const parts[] = {&self->psi, &self->correction, &self->trial, &self->rate, &self->move, &self->weight, &self->dfdt};
    for (int i = 0; i < ROWS; i++) self->difference[i] = all + (size_t)i * n;
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) *parts[i] = all + (ROWS + i) * n;
    self->problem = *problem;
    self->fresh = true;
    const dd_status status = dd_newton_create(n, problem->inner_first, problem->inner_count, &self->newton, error);
    if (status != DD_OK) {
        bdf_free(self);
        return status;
    }
    *state = self;
    return DD_OK;
}

/* Values at the old spacing become values at `factor` times it: the interpolating polynomial stays as it is (their section 2.2, R U). */
static void rescale(bdf *self, double factor)
{
    const int k = self->order;
    double by[2][MOST_ORDER + 1][MOST_ORDER + 1], map[MOST_ORDER + 1][MOST_ORDER + 1] = {{0}};
    for (int w = 0; w < 2; w++)
        for (int j = 1; j <= k; j++) {
            const double times = w == 0 ? factor : 1.0;
            double product = 1.0;
            for (int i = 1; i <= k; i++) by[w][i][j] = product *= (i - 1 - times * j) / i;
        }
    for (int i = 1; i <= k; i++)
        for (int j = 1; j <= k; j++)
            for (int l = 1; l <= k; l++) map[i][j] += by[0][i][l] * by[1][l][j];
    for (size_t c = 0; c < self->problem.size; c++) {
        double old[MOST_ORDER + 1];
        for (int i = 1; i <= k; i++) old[i] = self->difference[i][c];
        for (int j = 1; j <= k; j++) {
            double sum = 0;
            for (int i = 1; i <= k; i++) sum += map[i][j] * old[i];
            self->difference[j][c] = sum;
        }
    }
    self->step *= factor;
    self->equal_steps = 0;
}

/* In tolerances: 1 is just met. */
static double norm(const bdf *self, const double *values)
{
    double sum = 0;
    for (size_t i = 0; i < self->problem.size; i++) {
        const double ratio = values[i] * self->weight[i];
        sum += ratio * ratio;
    }
    return mean_square * sqrt(sum / (double)self->problem.size);
}

static void set_weights(bdf *self, const double *y)
{
    for (size_t i = 0; i < self->problem.size; i++) self->weight[i] = 1.0 / dd_ode_error_weight(&self->problem, i, y[i]);
}

static void begin(bdf *self, double h, const double *y, const double *dydt)
{
    const size_t n = self->problem.size;
    memcpy(self->difference[0], y, n * sizeof *y);
    for (size_t i = 0; i < n; i++) self->difference[1][i] = h * dydt[i];
    self->step = h;
    self->order = 1;
    self->equal_steps = 0;
    self->fresh = false;
    self->factored = 0;
    self->contraction = 1.0;
    self->jacobian_known = false;
}

/* Prediction into trial, and what the formula takes from the past into psi. */
static void predict(bdf *self)
{
    const size_t n = self->problem.size;
    const double inverse = 1.0 / leading(self->order);
    for (size_t i = 0; i < n; i++) {
        double y = self->difference[0][i], past = 0;
        for (int m = 1; m <= self->order; m++) {
            y += self->difference[m][i];
            past += sum_of[m] * self->difference[m][i];
        }
        self->trial[i] = y;
        self->psi[i] = past * inverse;
    }
    memset(self->correction, 0, n * sizeof(double));
}

typedef enum outcome { CONVERGED, DIVERGED, REFUSED } outcome;

static outcome iterate(bdf *self, double t, double c)
{
    const size_t n = self->problem.size;
    double last = 0, contraction = self->contraction;
    for (int i = 0; i < MOST_ITERATIONS; i++) {
        if (self->problem.derivative(t, self->trial, self->rate, self->problem.context) != 0) return REFUSED;
        for (size_t j = 0; j < n; j++) self->move[j] = c * self->rate[j] - self->psi[j] - self->correction[j];
        dd_newton_solve(self->newton, self->move);
        const double moved = norm(self, self->move);
        if (!isfinite(moved)) return REFUSED;
        if (i > 0) {
            const double theta = moved / last;
            if (theta >= 1.0) return DIVERGED;
            contraction = theta / (1.0 - theta);
            if (contraction * pow(theta, MOST_ITERATIONS - 1 - i) * moved > newton_share) return DIVERGED; /* foreseeably */
        }
        for (size_t j = 0; j < n; j++) {
            self->correction[j] += self->move[j];
            self->trial[j] += self->move[j];
        }
        if (contraction * moved <= newton_share || moved <= 0) {
            self->contraction = fmax(i > 0 ? contraction : pow(contraction, 0.8), 1e-3);
            return CONVERGED;
        }
        last = moved;
    }
    return DIVERGED;
}

/* Newton's method with the matrix in hand where it will do, else with a new one. */
static outcome solve(bdf *self, double t_new)
{
    const double c = self->step / leading(self->order);
    predict(self);
    for (;;) {
        if (!self->jacobian_known || self->age > OLDEST_JACOBIAN) {
            if (self->problem.jacobian(t_new, self->trial, dd_newton_jacobian(self->newton), self->dfdt, self->problem.context) != 0)
                return REFUSED;
            dd_newton_look(self->newton);
            self->jacobian_known = self->jacobian_new = true;
            self->factored = 0;
            self->age = 0;
        }
        if (!(self->factored > 0) || fabs(c / self->factored - 1) > 1e-12) {
            if (!dd_newton_factor(self->newton, c)) return REFUSED;
            self->factored = c;
            self->contraction = 1.0;
        }
        set_weights(self, self->trial);
        const outcome out = iterate(self, t_new, c);
        if (out == CONVERGED || self->jacobian_new) return out;
        self->jacobian_known = false;
        predict(self);
    }
}

static double bounded(double factor) { return fmin(10.0, fmax(0.2, factor)); }

/* Order and step for what follows, once as many equal steps are behind as their estimates need. */
static void choose(bdf *self, double error, double *h)
{
    const int k = self->order;
    double best = pow(error, -1.0 / (k + 1.0)), lower = 0, higher = 0;
    if (k > 1) lower = pow(fmax(DBL_MIN, fabs(error_constant(k - 1)) * norm(self, self->difference[k])), -1.0 / k);
    if (k < MOST_ORDER) higher = pow(fmax(DBL_MIN, fabs(error_constant(k + 1)) * norm(self, self->difference[k + 2])), -1.0 / (k + 2.0));
    int order = k;
    if (lower > best) best = lower, order = k - 1;
    if (higher > best) best = higher, order = k + 1;
    double factor = bounded(safety * best);
    if (self->problem.largest_step > 0) factor = fmin(factor, self->problem.largest_step / self->step);
    if (factor < least_growth && factor > least_shrinking) return;
    self->order = order;
    *h = factor * self->step;
    self->equal_steps = 0;
}

/* The step is done: differences, state and rate at its end. */
static void accept(bdf *self, double *y, double *dydt)
{
    const double c = self->step / leading(self->order);
    const size_t n = self->problem.size;
    const int k = self->order;
    for (size_t i = 0; i < n; i++) {
        double *const *d = self->difference;
        /* The formula's own rate: f itself would have what is left of Newton's error times the largest of J in it. */
        dydt[i] = (self->psi[i] + self->correction[i]) / c;
        d[k + 2][i] = self->correction[i] - d[k + 1][i];
        d[k + 1][i] = self->correction[i];
        for (int m = k; m >= 0; m--) d[m][i] += d[m + 1][i];
        y[i] = d[0][i];
    }
    self->equal_steps++;
    self->age++;
}

/* What is left of a step that was not met; the third in a row begins anew at order 1: the past says nothing of what has been met. */
static void shorten(bdf *self, double factor, int failures, const double *dydt)
{
    if (failures == 3)
        for (size_t i = 0; i < self->problem.size; i++) self->difference[1][i] = self->step * dydt[i];
    if (failures == 3) self->order = 1;
    rescale(self, factor);
}

static dd_status bdf_step(void *state, double *t, double t_end, double *h, double *y, double *dydt, dd_error *error)
{
    bdf *self = state;
    const double proposal = *h, fitted = dd_ode_fit_step(&self->problem, proposal, t_end - *t), smallest = dd_ode_smallest_step(*t);
    if (self->fresh)
        begin(self, fitted, y, dydt);
    else if (fabs(fitted / self->step - 1.0) > 1e-13)
        rescale(self, fitted / self->step);
    for (int failures = 0;;) {
        const double t_new = self->step >= (t_end - *t) * (1.0 - 1e-9) ? t_end : *t + self->step;
        double factor = 0.3;
        if (!(t_new > *t) || (self->step < smallest && t_new < t_end)) break;
        self->jacobian_new = false;
        if (solve(self, t_new) == CONVERGED) {
            set_weights(self, self->trial);
            const double missed = fmax(DBL_MIN, error_constant(self->order) * norm(self, self->correction));
            if (missed <= 1.0) {
                accept(self, y, dydt);
                *t = t_new;
                /* A step that was cut to meet t_end says little about the next one. */
                *h = fitted < proposal && failures == 0 ? proposal : self->step;
                if (self->equal_steps > self->order) choose(self, missed, h);
                return DD_OK;
            }
            factor = fmax(0.2, 0.9 * pow(missed, -1.0 / (self->order + 1.0)));
        } else
            self->jacobian_known = false;
        self->failed_steps++;
        shorten(self, factor, ++failures, dydt);
    }
    self->fresh = true;
    *h = proposal;
    return dd_ode_no_step(*t, self->step, error);
}

static void bdf_restart(void *state) { ((bdf *)state)->fresh = true; }

static long bdf_failed_steps(const void *state) { return ((const bdf *)state)->failed_steps; }

const dd_stepper dd_stepper_bdf = {
    .name = "bdf",
    .help = "implicit multistep method of variable order 1-5 (numerical differentiation formulas), for stiff problems",
    .needs_jacobian = 1,
    .order = 1, /* the order at which it starts */
    .create = bdf_create,
    .step = bdf_step,
    .restart = bdf_restart,
    .failed_steps = bdf_failed_steps,
    .free = bdf_free,
};
