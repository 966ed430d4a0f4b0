/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The slow search for an equilibrium, where Newton's method leads nowhere: Levenberg and Marquardt's (GSL), ended by Newton's method
   by singular values, and descent to where supports only just touch. */
#include "lib/motion/search.h"
#include "lib/ode/ode.h"
#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <string.h>

enum { MOST_ITERATIONS = 200, MOST_STEPS = 30, MOST_HALVINGS = 12, MOST_DESCENTS = 60 };
#define NEARLY 1e-6                      /* of the weight */
#define IN_REACH 0.05                    /* of the weight: further off nothing is gained by descending */
static const double slide_length = 0.01; /* m */

int dd_search_at(dd_search *s, const gsl_vector *x, int want, dd_pose *pose)
{
    double rig[DD_RIG_COORDINATES] = {0}, hull[6] = {0};
    for (int i = 0; i < s->count; i++) {
        int c = s->free[i];
        *(c < DD_HULL_COORDINATE ? &rig[c] : &hull[c - DD_HULL_COORDINATE]) = gsl_vector_get(x, (size_t)i);
    }
    *pose = s->base;
    dd_pose_displace(pose, hull, rig);
    return dd_search_evaluate(s, pose, want);
}

static int residual(const gsl_vector *x, void *context, gsl_vector *f)
{
    dd_search *s = context;
    dd_pose pose;
    double load[DD_COORDINATES];
    if (dd_search_at(s, x, 0, &pose) != 0) return GSL_EBADFUNC;
    dd_unbalanced(s->workspace, load);
    for (int i = 0; i < s->count; i++) gsl_vector_set(f, (size_t)i, load[s->free[i]] / s->weight);
    return GSL_SUCCESS;
}

/* d(displacement in the present boat axes)/d(x): the base's axes turned by the rotation vector phi. */
static void present_axes(const gsl_vector *x, const dd_search *s, double by[6][6])
{
    double phi[3] = {0};
    for (int i = 0; i < s->count; i++)
        if (s->free[i] >= DD_HULL_COORDINATE + 3) phi[s->free[i] - DD_HULL_COORDINATE - 3] = gsl_vector_get(x, (size_t)i);
    double angle = sqrt(phi[0] * phi[0] + phi[1] * phi[1] + phi[2] * phi[2]), a2 = angle * angle;
    double b = angle > 1e-4 ? (1 - cos(angle)) / a2 : 0.5 - a2 / 24,
           c = angle > 1e-4 ? (angle - sin(angle)) / (a2 * angle) : 1.0 / 6,
           sine = angle > 1e-4 ? sin(angle) / angle : 1 - a2 / 6;
    dd_mat3 p = dd_cross_matrix(dd_vec(phi[0], phi[1], phi[2])), pp = dd_multiply(&p, &p);
    memset(by, 0, 36 * sizeof(double));
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++) {
            double one = i == j ? 1 : 0;
            by[i][j] = one - sine * p.m[i][j] + b * pp.m[i][j];      /* transpose of the rotation */
            by[3 + i][3 + j] = one - b * p.m[i][j] + c * pp.m[i][j]; /* right Jacobian of SO(3) */
        }
}

static int jacobian(const gsl_vector *x, void *context, gsl_matrix *j)
{
    dd_search *s = context;
    dd_pose pose;
    double K[DD_COORDINATES][DD_COORDINATES], by[6][6];
    if (dd_search_at(s, x, DD_WANT_STIFFNESS, &pose) != 0) return GSL_EBADFUNC;
    dd_stiffness(s->workspace, K);
    dd_search_rounding(s, K);
    present_axes(x, s, by);
    for (int r = 0; r < s->count; r++)
        for (int c = 0; c < s->count; c++) {
            int row = s->free[r], column = s->free[c];
            double value = 0;
            if (column < DD_HULL_COORDINATE)
                value = K[row][column];
            else
                for (int a = 0; a < 6; a++) value += K[row][DD_HULL_COORDINATE + a] * by[a][column - DD_HULL_COORDINATE];
            gsl_matrix_set(j, (size_t)r, (size_t)c, -value / s->weight);
        }
    return GSL_SUCCESS;
}

static double largest(const gsl_vector *f) { return fmax(gsl_vector_max(f), -gsl_vector_min(f)); }

/* Levenberg-Marquardt to rounding; returns the largest unbalanced share of the weight that is left. */
static double minimise(dd_search *s, gsl_vector *x)
{
    gsl_multifit_nlinear_parameters parameters = gsl_multifit_nlinear_default_parameters();
    parameters.scale = gsl_multifit_nlinear_scale_levenberg;
    gsl_multifit_nlinear_workspace *solver =
        gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &parameters, (size_t)s->count, (size_t)s->count);
    if (solver == NULL) {
        s->no_memory = true;
        return INFINITY;
    }
    gsl_multifit_nlinear_fdf problem = {
        .f = residual, .df = jacobian, .n = (size_t)s->count, .p = (size_t)s->count, .params = s};
    double left = INFINITY;
    int still = 0;
    if (gsl_multifit_nlinear_init(x, &problem, solver) == GSL_SUCCESS) {
        left = largest(gsl_multifit_nlinear_residual(solver));
        for (int i = 0; i < MOST_ITERATIONS && left > 1e-13 && still < 4; i++) {
            if (gsl_multifit_nlinear_iterate(solver) != GSL_SUCCESS) break;
            double now = largest(gsl_multifit_nlinear_residual(solver));
            still = now > 0.999 * left && now < 1e-9 ? still + 1 : 0;
            left = now;
        }
        gsl_vector_memcpy(x, gsl_multifit_nlinear_position(solver));
    }
    gsl_multifit_nlinear_free(solver);
    return left;
}

/* Newton's step from x, where the loads are f, by the forces' own stiffness; directions in which nothing holds
   the boat are left alone. false: no step. */
static bool newton_step(dd_search *s, const gsl_vector *x, const gsl_vector *f, gsl_vector *step)
{
    const size_t n = (size_t)s->count;
    double k_[DD_COORDINATES * DD_COORDINATES], v_[DD_COORDINATES * DD_COORDINATES], sigma_[DD_COORDINATES],
        work_[DD_COORDINATES];
    gsl_matrix_view k = gsl_matrix_view_array(k_, n, n), v = gsl_matrix_view_array(v_, n, n);
    gsl_vector_view sigma = gsl_vector_view_array(sigma_, n), work = gsl_vector_view_array(work_, n);
    if (jacobian(x, s, &k.matrix) != GSL_SUCCESS ||
        gsl_linalg_SV_decomp(&k.matrix, &v.matrix, &sigma.vector, &work.vector) != GSL_SUCCESS)
        return false;
    for (size_t c = 0; c < n; c++)
        if (sigma_[c] < DD_NOTHING_HOLDS * sigma_[0]) sigma_[c] = 0; /* gsl_linalg_SV_solve takes no step along it */
    gsl_linalg_SV_solve(&k.matrix, &v.matrix, &sigma.vector, f, step);
    return true;
}

/* Newton's method, only while each step halves the imbalance at least. Next to an equilibrium it is quick where supports are
   stiff and the trust region creeps; elsewhere it gives up. Where a support only just touches, its stiffness sets in from
   nothing and whole steps jump over the balance: near the end shorter ones are tried. Returns the share of the weight left; x
   is as good as it got. */
static double polish(dd_search *s, gsl_vector *x)
{
    const size_t n = (size_t)s->count;
    double f_[DD_COORDINATES], step_[DD_COORDINATES], next_[DD_COORDINATES];
    gsl_vector_view f = gsl_vector_view_array(f_, n), step = gsl_vector_view_array(step_, n),
                    next = gsl_vector_view_array(next_, n);
    if (residual(x, s, &f.vector) != GSL_SUCCESS) return INFINITY;
    double left = largest(&f.vector);
    for (int i = 0; i < MOST_STEPS; i++) {
        if (!newton_step(s, x, &f.vector, &step.vector)) break;
        double now = INFINITY, part = 1;
        for (int j = 0; j < (left < NEARLY ? MOST_HALVINGS : 1) && !(now < left); j++, part *= 0.5) {
            for (size_t c = 0; c < n; c++) next_[c] = gsl_vector_get(x, c) - part * step_[c];
            now = residual(&next.vector, s, &f.vector) == GSL_SUCCESS ? largest(&f.vector) : INFINITY;
        }
        if (!(now < left)) break;
        const bool stalled = left < NEARLY ? now > 0.9 * left : now > 0.5 * left;
        gsl_vector_memcpy(x, &next.vector);
        left = now;
        if (stalled || left < 1e-14) break;
    }
    return left;
}

typedef struct line_search {
    dd_search *s;
    const gsl_vector *from, *along;
    gsl_vector *at, *load;
} line_search;

/* Unbalanced load along the line: falls through zero where the energy along it is least. */
static double load_along(double part, void *context)
{
    line_search *l = context;
    double sum = 0;
    for (size_t i = 0; i < l->from->size; i++)
        gsl_vector_set(l->at, i, gsl_vector_get(l->from, i) + part * gsl_vector_get(l->along, i));
    if (residual(l->at, l->s, l->load) != GSL_SUCCESS) return NAN;
    for (size_t i = 0; i < l->from->size; i++) sum += gsl_vector_get(l->load, i) * gsl_vector_get(l->along, i);
    return sum;
}

/* Newton's direction, followed to where the energy along it is least: comes down also where whole steps jump back and forth
   over a support that only just touches. */
static void descend(dd_search *s, gsl_vector *x)
{
    const size_t n = (size_t)s->count;
    double f_[DD_COORDINATES], step_[DD_COORDINATES], at_[DD_COORDINATES];
    gsl_vector_view f = gsl_vector_view_array(f_, n), step = gsl_vector_view_array(step_, n),
                    at = gsl_vector_view_array(at_, n);
    line_search line = {.s = s, .from = x, .along = &step.vector, .at = &at.vector, .load = &f.vector};
    for (int i = 0; i < MOST_DESCENTS; i++) {
        if (residual(x, s, &f.vector) != GSL_SUCCESS || largest(&f.vector) < s->balanced ||
            !newton_step(s, x, &f.vector, &step.vector))
            return;
        gsl_vector_scale(&step.vector, -fmin(1.0, slide_length / fmax(largest(&step.vector), 1e-12)));
        double start = load_along(0, &line), end = load_along(1, &line), part = 1;
        if (!(start > 0) || isnan(end)) return;
        if (end < 0 && dd_ode_locate(load_along, &line, 0, 1, start, end, 1e-9, &part, NULL) != DD_OK) return;
        gsl_blas_daxpy(part, &step.vector, x);
    }
}

/* The equilibrium next to x: by Newton's method if it leads there at once, else by the trust region from where x stood. */
double dd_search_slowly(dd_search *s, gsl_vector *x)
{
    double start_[DD_COORDINATES];
    gsl_vector_view start = gsl_vector_view_array(start_, (size_t)s->count);
    gsl_vector_memcpy(&start.vector, x);
    double left = polish(s, x);
    if (left < s->balanced) return left;
    gsl_vector_memcpy(x, &start.vector);
    left = minimise(s, x);
    left = fmin(left, polish(s, x));
    if (left < s->balanced || left > IN_REACH) return left;
    descend(s, x);
    return polish(s, x);
}
