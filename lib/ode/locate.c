/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/base/error.h"
#include "lib/ode/gsl.h"
#include "lib/ode/ode.h"

#include <float.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_min.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <stdbool.h>

enum { MOST_ITERATIONS = 200 };

typedef struct bracketed {
    double (*g)(double t, void *context);
    void *context;
    double a, b, ga, gb;
} bracketed;

/* The ends keep the values that the caller had for them: their signs are what says that there is a root. */
static double bracketed_value(double t, void *context)
{
    const bracketed *self = context;
    if (t == self->a) return self->ga;
    if (t == self->b) return self->gb;
    return self->g(t, self->context);
}

/* GSL's solver in memory of our own: it needs little, and a search that can fail for want of memory would need an error wherever it is used. */
enum { SOLVER_SIZE = 32 * sizeof(double) };

static int search(bracketed *bracket, double tolerance, double *root)
{
    double memory[SOLVER_SIZE / sizeof(double)];
    gsl_function function = {bracketed_value, bracket};
    gsl_root_fsolver solver = {.type = gsl_root_fsolver_brent, .state = memory};
    if (solver.type->size > sizeof memory) return GSL_ENOMEM;
    dd_gsl_quiet();
    int code = gsl_root_fsolver_set(&solver, &function, bracket->a, bracket->b);
    for (int i = 0; code == GSL_SUCCESS && i < MOST_ITERATIONS; i++) {
        code = gsl_root_fsolver_iterate(&solver);
        /* A tolerance below the spacing of numbers there cannot be met. */
        if (code != GSL_SUCCESS || solver.x_upper - solver.x_lower <= fmax(tolerance, 4.0 * DBL_EPSILON * fmax(fabs(bracket->a), fabs(bracket->b)))) break;
    }
    *root = gsl_root_fsolver_root(&solver);
    return code;
}

dd_status dd_ode_locate(double (*g)(double t, void *context), void *context, double a, double b, double ga, double gb,
                        double tolerance, double *root, dd_error *error)
{
    bracketed bracket = {g, context, a, b, ga, gb};
    if (!isfinite(ga) || !isfinite(gb))
        return dd_fail(error, DD_ERROR_NOT_FINITE, "dd_ode_locate", "the function is %g at %.9g and %g at %.9g", ga, a, gb, b);
    if (!(a <= b) || !isfinite(a) || !isfinite(b) || !(tolerance >= 0.0) || (ga > 0.0 && gb > 0.0) || (ga < 0.0 && gb < 0.0))
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_ode_locate",
                       "expected an interval with a change of sign, found %g at %.9g and %g at %.9g (tolerance %g)", ga, a, gb,
                       b, tolerance);
    if (ga == 0.0 || gb == 0.0) {
        *root = ga == 0.0 ? a : b;
        return DD_OK;
    }
    double found;
    const int code = search(&bracket, tolerance, &found);
    if (code == GSL_EBADFUNC)
        return dd_fail(error, DD_ERROR_NOT_FINITE, "dd_ode_locate", "the function is not finite between %.9g and %.9g", a, b);
    if (code != GSL_SUCCESS)
        return dd_fail(error, DD_ERROR_LIBRARY, "dd_ode_locate", "root search between %.9g and %.9g: %s", a, b,
                       gsl_strerror(code));
    *root = found;
    return DD_OK;
}

double dd_ode_root(double (*g)(double t, void *context), void *context, double a, double b, double tolerance)
{
    const double ga = g(a, context), gb = g(b, context);
    if (!isfinite(ga) || !isfinite(gb) || !(a <= b) || ga * gb > 0) return NAN;
    if (ga == 0.0 || gb == 0.0) return ga == 0.0 ? a : b;
    bracketed bracket = {g, context, a, b, ga, gb};
    double root;
    return search(&bracket, tolerance, &root) == GSL_SUCCESS ? root : NAN;
}

dd_status dd_ode_least(double (*g)(double t, void *context), void *context, const double t[3], const double value[3], double tolerance, double enough,
                       double *at, double *least, dd_error *error)
{
    double memory[SOLVER_SIZE / sizeof(double)];
    gsl_function function = {g, context};
    gsl_min_fminimizer search = {.type = gsl_min_fminimizer_brent, .state = memory};
    if (!(t[0] < t[1] && t[1] < t[2] && value[1] < value[0] && value[1] < value[2] && tolerance > 0))
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_ode_least", "expected a least value between two others, found %g, %g, %g at %.9g, %.9g, %.9g", value[0], value[1], value[2],
                       t[0], t[1], t[2]);
    if (search.type->size > sizeof memory) return dd_fail(error, DD_ERROR_LIBRARY, "dd_ode_least", "%s", gsl_strerror(GSL_ENOMEM));
    dd_gsl_quiet();
    int code = gsl_min_fminimizer_set_with_values(&search, &function, t[1], value[1], t[0], value[0], t[2], value[2]);
    for (int i = 0; code == GSL_SUCCESS && i < MOST_ITERATIONS; i++) {
        if (search.x_upper - search.x_lower <= tolerance || fmax(search.f_lower, search.f_upper) - search.f_minimum <= enough) break;
        code = gsl_min_fminimizer_iterate(&search);
    }
    *at = search.x_minimum;
    *least = search.f_minimum;
    if (code == GSL_EBADFUNC) return dd_fail(error, DD_ERROR_NOT_FINITE, "dd_ode_least", "the function is not finite between %.9g and %.9g", t[0], t[2]);
    /* GSL_FAILURE: it comes no nearer. */
    return code == GSL_SUCCESS || code == GSL_FAILURE ? DD_OK : dd_fail(error, DD_ERROR_LIBRARY, "dd_ode_least", "least between %.9g and %.9g: %s", t[0], t[2], gsl_strerror(code));
}

double dd_ode_promised(const double t[3], const double value[3])
{
    if (!(value[1] < value[0] && value[1] < value[2])) return INFINITY;
    const double before = t[1] - t[0], after = t[2] - t[1];
    return value[1] - fmax((value[0] - value[1]) / before, (value[2] - value[1]) / after) * fmax(before, after);
}

dd_status dd_ode_enclose(double (*g)(double t, void *context), double (*guess)(void *context), void *context, double *a, double *b, double *ga, double *gb,
                         double tolerance, dd_error *error)
{
    static const double across = 0.45, least = 0.1, wide = 5; /* of the tolerance */
    if (!isfinite(*ga) || !isfinite(*gb) || !(*a <= *b) || !isfinite(*a) || !isfinite(*b) || !(tolerance > 0) || (*ga >= 0) == (*gb >= 0))
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_ode_enclose", "expected an interval with a change of sign, found %g at %.9g and %g at %.9g (tolerance %g)", *ga, *a,
                       *gb, *b, tolerance);
    double fa = *ga, fb = *gb; /* what the line goes by: the value of an end that stays is halved each time (the Illinois rule), lest the other creep */
    int moved = 0;             /* the end that moved last: -1 a, 1 b */
    bool straight = true; /* the value falls as a straight line, or the ends close in as the caller guesses; else it is halved: it jumps, or is level and then steep */
    for (int i = 0; i < MOST_ITERATIONS && *b - *a > tolerance; i++) {
        const double guessed = guess != NULL ? guess(context) : NAN, long_before = *b - *a;
        /* By the straight line, and a little to the far side of it, so that the root lies between there and the near end. */
        const double root = guessed > *a && guessed < *b ? guessed : *a - (*b - *a) * fa / (fb - fa);
        double t = root + (root - *a < *b - root ? across : -across) * tolerance;
        t = straight ? fmax(*a + least * tolerance, fmin(*b - least * tolerance, t)) : 0.5 * (*a + *b);
        const double value = g(t, context);
        if (!isfinite(value)) return dd_fail(error, DD_ERROR_NOT_FINITE, "dd_ode_enclose", "the function is %g at %.9g", value, t);
        const bool low = (value >= 0) == (*ga >= 0);
        straight = fabs(value) < 0.5 * fabs(low ? *ga : *gb);
        if (moved == (low ? -1 : 1) && long_before > wide * tolerance) *(low ? &fb : &fa) *= 0.5;
        moved = low ? -1 : 1;
        if (low) *a = t, *ga = fa = value;
        else *b = t, *gb = fb = value;
        straight |= !isnan(guessed) && *b - *a < 0.5 * long_before;
    }
    return DD_OK;
}
