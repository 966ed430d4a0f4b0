/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/motion/equilibrium.h"
#include "lib/base/error.h"
#include "lib/force/roller.h"
#include "lib/ode/gsl.h"
#include "lib/ode/ode.h"
#include <gsl/gsl_blas.h>
#include <gsl/gsl_eigen.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_ITERATIONS = 200, MOST_SLIDES = 40, MOST_STEPS = 30, MOST_HALVINGS = 12, MOST_DESCENTS = 60 };
#define NEARLY 1e-6                      /* of the weight */
#define IN_REACH 0.05                    /* of the weight: further off nothing is gained by descending */
#define BALANCED 1e-9                    /* of the weight, or what the rounding of positions makes of stiff supports */
static const double slide_length = 0.01; /* m */

typedef struct search {
    dd_workspace *workspace;
    double time, weight;
    dd_pose base;
    const double *memory;
    double *y;
    int free[DD_COORDINATES], count;
    bool no_memory;  /* a solver could not be made */
    double balanced; /* imbalance that counts as none */
} search;

/* Unbalanced loads. The rig's coordinates carry the hull along, so world forces on the hull load them too. */
static void unbalanced(const dd_workspace *w, double load[DD_COORDINATES])
{
    double world[6] = {0};
    memset(load, 0, DD_COORDINATES * sizeof(double));
    for (int f = 0; f < w->system->force_count; f++) {
        const dd_load *l = &w->loads[f];
        for (int i = 0; i < 6; i++) {
            load[DD_HULL_COORDINATE + i] += l->hull[i];
            if (w->system->forces[f].kind->acts_on == DD_ACTS_ON_HULL) world[i] += l->hull[i];
        }
        for (int c = 0; c < DD_RIG_COORDINATES; c++) load[c] += l->rig[c];
    }
    for (int c = 0; c < DD_RIG_COORDINATES; c++)
        for (int i = 0; i < 6; i++) load[c] += w->kinematics.carry[i][c] * world[i];
}

/* What the rig's coordinates make of the world's load on the hull changes with where the hull lies: a coordinate carries it by
   (v, omega), boat axes, which a displacement (dr, dphi) against the trailer makes (v + omega x dr - dphi x v, omega - dphi x omega).
   x, heave and reach are shifts in world axes, which turn in boat axes as the trailer turns; along x they follow the profile.
   A tilting bed moves the hull about the hinge and so the arm of pitch. */
static void add_carrying(const dd_workspace *w, double K[DD_COORDINATES][DD_COORDINATES])
{
    const dd_kinematics *k = &w->kinematics;
    dd_vec3 force = {0, 0, 0}, moment = {0, 0, 0}, v[DD_RIG_COORDINATES], omega[DD_RIG_COORDINATES];
    for (int f = 0; f < w->system->force_count; f++)
        if (w->system->forces[f].kind->acts_on == DD_ACTS_ON_HULL) {
            const double *l = w->loads[f].hull;
            force = dd_add(force, dd_vec(l[0], l[1], l[2]));
            moment = dd_add(moment, dd_vec(l[3], l[4], l[5]));
        }
    for (int c = 0; c < DD_RIG_COORDINATES; c++) {
        v[c] = dd_vec(k->carry[0][c], k->carry[1][c], k->carry[2][c]);
        omega[c] = dd_vec(k->carry[3][c], k->carry[4][c], k->carry[5][c]);
    }
    for (int c = 0; c < DD_RIG_COORDINATES; c++) {
        for (int j = 0; j < 3; j++) {
            dd_vec3 e = dd_vec(j == 0, j == 1, j == 2);
            K[c][DD_HULL_COORDINATE + j] -= dd_dot(force, dd_cross(omega[c], e));
            K[c][DD_HULL_COORDINATE + 3 + j] += dd_dot(force, dd_cross(e, v[c])) + dd_dot(moment, dd_cross(e, omega[c]));
        }
        for (int d = 0; d < DD_RIG_COORDINATES && c != DD_RIG_PITCH && c != DD_RIG_TILT; d++)
            K[c][d] += dd_dot(force, dd_cross(omega[d], v[c]));
    }
    K[DD_RIG_X][DD_RIG_X] -= dd_dot(force, dd_apply_transposed(&k->to_world, k->vehicle.ball_xx));
    K[DD_RIG_PITCH][DD_RIG_TILT] -= dd_dot(force, dd_apply_transposed(&k->to_world, dd_sub(k->hinge, k->coupling)));
}

void dd_stiffness(const dd_workspace *w, double K[DD_COORDINATES][DD_COORDINATES])
{
    const double(*kh)[6] = (const double(*)[6])w->hull_gradient.K, (*kb)[6] = (const double(*)[6])w->between_gradient.K;
    const double(*carry)[DD_RIG_COORDINATES] = (const double(*)[DD_RIG_COORDINATES])w->kinematics.carry;
    double carried[6][DD_RIG_COORDINATES]; /* kh carry */
    memset(K, 0, DD_COORDINATES * sizeof *K);
    for (int i = 0; i < 6; i++)
        for (int c = 0; c < DD_RIG_COORDINATES; c++) {
            carried[i][c] = 0;
            for (int j = 0; j < 6; j++) carried[i][c] += kh[i][j] * carry[j][c];
            K[DD_HULL_COORDINATE + i][c] = carried[i][c];
        }
    for (int i = 0; i < 6; i++)
        for (int j = 0; j < 6; j++) K[DD_HULL_COORDINATE + i][DD_HULL_COORDINATE + j] = kh[i][j] + kb[i][j];
    for (int c = 0; c < DD_RIG_COORDINATES; c++) {
        for (int j = 0; j < 6; j++)
            for (int i = 0; i < 6; i++) K[c][DD_HULL_COORDINATE + j] += carry[i][c] * kh[i][j];
        for (int d = 0; d < DD_RIG_COORDINATES; d++) {
            K[c][d] = w->rig_gradient.rig_K[c][d];
            for (int i = 0; i < 6; i++) K[c][d] += carry[i][c] * carried[i][d];
        }
    }
    if (w->system->model.rig != NULL) add_carrying(w, K);
}

static int evaluate_at(search *s, const gsl_vector *x, int want, dd_pose *pose)
{
    const dd_motion rest = {{0}, {0}};
    double rig[DD_RIG_COORDINATES] = {0}, hull[6] = {0};
    for (int i = 0; i < s->count; i++) {
        int c = s->free[i];
        *(c < DD_HULL_COORDINATE ? &rig[c] : &hull[c - DD_HULL_COORDINATE]) = gsl_vector_get(x, (size_t)i);
    }
    *pose = s->base;
    dd_pose_displace(pose, hull, rig);
    dd_system_pack(s->workspace->system, pose, &rest, s->memory, s->y);
    return dd_system_evaluate(s->workspace, s->time, s->y, want);
}

static int residual(const gsl_vector *x, void *context, gsl_vector *f)
{
    search *s = context;
    dd_pose pose;
    double load[DD_COORDINATES];
    if (evaluate_at(s, x, 0, &pose) != 0) return GSL_EBADFUNC;
    unbalanced(s->workspace, load);
    for (int i = 0; i < s->count; i++) gsl_vector_set(f, (size_t)i, load[s->free[i]] / s->weight);
    return GSL_SUCCESS;
}

/* d(displacement in the present boat axes)/d(x): the base's axes turned by the rotation vector phi. */
static void present_axes(const gsl_vector *x, const search *s, double by[6][6])
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
    search *s = context;
    dd_pose pose;
    double K[DD_COORDINATES][DD_COORDINATES], by[6][6];
    if (evaluate_at(s, x, DD_WANT_GRADIENT, &pose) != 0) return GSL_EBADFUNC;
    dd_stiffness(s->workspace, K);
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
static double minimise(search *s, gsl_vector *x)
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

/* Newton's step from x, where the loads are f, by the forces' own stiffness; directions softer than a share of the stiffest
   one are left alone. Returns the largest singular value; NaN: no step. */
static double newton_step(search *s, const gsl_vector *x, const gsl_vector *f, double softest_share, gsl_vector *step)
{
    const size_t n = (size_t)s->count;
    double k_[DD_COORDINATES * DD_COORDINATES], v_[DD_COORDINATES * DD_COORDINATES], sigma_[DD_COORDINATES],
        work_[DD_COORDINATES];
    gsl_matrix_view k = gsl_matrix_view_array(k_, n, n), v = gsl_matrix_view_array(v_, n, n);
    gsl_vector_view sigma = gsl_vector_view_array(sigma_, n), work = gsl_vector_view_array(work_, n);
    if (jacobian(x, s, &k.matrix) != GSL_SUCCESS ||
        gsl_linalg_SV_decomp(&k.matrix, &v.matrix, &sigma.vector, &work.vector) != GSL_SUCCESS)
        return NAN;
    for (size_t c = 0; c < n; c++)
        if (sigma_[c] < softest_share * sigma_[0]) sigma_[c] = 0; /* gsl_linalg_SV_solve takes no step along it */
    gsl_linalg_SV_solve(&k.matrix, &v.matrix, &sigma.vector, f, step);
    return sigma_[0];
}

/* Newton's method, only while each step halves the imbalance at least. Next to an equilibrium it is quick where supports are
   stiff and the trust region creeps; elsewhere it gives up. Where a support only just touches, its stiffness sets in from
   nothing and whole steps jump over the balance: near the end shorter ones are tried. Returns the share of the weight left; x
   is as good as it got. */
static double polish(search *s, gsl_vector *x)
{
    static const double nothing_holds = 1e-13; /* share of the largest singular value */
    const size_t n = (size_t)s->count;
    double f_[DD_COORDINATES], step_[DD_COORDINATES], next_[DD_COORDINATES];
    gsl_vector_view f = gsl_vector_view_array(f_, n), step = gsl_vector_view_array(step_, n),
                    next = gsl_vector_view_array(next_, n);
    if (residual(x, s, &f.vector) != GSL_SUCCESS) return INFINITY;
    double left = largest(&f.vector);
    for (int i = 0; i < MOST_STEPS; i++) {
        const double stiffest = newton_step(s, x, &f.vector, nothing_holds, &step.vector);
        if (isnan(stiffest)) break;
        s->balanced =
            fmax(BALANCED, 16 * GSL_DBL_EPSILON * stiffest * (1 + dd_norm(s->base.position) + fabs(s->base.rig[DD_RIG_X])));
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
    search *s;
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
static void descend(search *s, gsl_vector *x)
{
    const size_t n = (size_t)s->count;
    double f_[DD_COORDINATES], step_[DD_COORDINATES], at_[DD_COORDINATES];
    gsl_vector_view f = gsl_vector_view_array(f_, n), step = gsl_vector_view_array(step_, n),
                    at = gsl_vector_view_array(at_, n);
    line_search line = {.s = s, .from = x, .along = &step.vector, .at = &at.vector, .load = &f.vector};
    for (int i = 0; i < MOST_DESCENTS; i++) {
        if (residual(x, s, &f.vector) != GSL_SUCCESS || largest(&f.vector) < s->balanced ||
            isnan(newton_step(s, x, &f.vector, 0, &step.vector)))
            return;
        gsl_vector_scale(&step.vector, -fmin(1.0, slide_length / fmax(largest(&step.vector), 1e-12)));
        double start = load_along(0, &line), end = load_along(1, &line), part = 1;
        if (!(start > 0) || isnan(end)) return;
        if (end < 0 && dd_ode_locate(load_along, &line, 0, 1, start, end, 1e-9, &part, NULL) != DD_OK) return;
        gsl_blas_daxpy(part, &step.vector, x);
    }
}

/* The equilibrium next to x: by Newton's method if it leads there at once, else by the trust region from where x stood. */
static double seek(search *s, gsl_vector *x)
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

static void symmetric_part(const search *s, double K[DD_COORDINATES][DD_COORDINATES], double *out)
{
    for (int r = 0; r < s->count; r++)
        for (int c = 0; c < s->count; c++)
            out[r * s->count + c] = 0.5 * (K[s->free[r]][s->free[c]] + K[s->free[c]][s->free[r]]);
}

static double smallest_eigenvalue(search *s, double K[DD_COORDINATES][DD_COORDINATES])
{
    double matrix[DD_COORDINATES * DD_COORDINATES], values[DD_COORDINATES];
    symmetric_part(s, K, matrix);
    gsl_matrix_view m = gsl_matrix_view_array(matrix, (size_t)s->count, (size_t)s->count);
    gsl_vector_view v = gsl_vector_view_array(values, (size_t)s->count);
    gsl_eigen_symm_workspace *work = gsl_eigen_symm_alloc((size_t)s->count);
    if (work == NULL) {
        s->no_memory = true;
        return NAN;
    }
    gsl_eigen_symm(&m.matrix, &v.vector, work);
    gsl_eigen_symm_free(work);
    return gsl_vector_min(&v.vector);
}

/* Where no shape holds the hull sideways (a keel line on keel rollers), their grip does: load and bristle stiffness, as far as
   the bristles go with a shift. Without it the roll about G would carry the keel, and the load on it, to the side. */
static void add_sideways_grip(const dd_workspace *w, double K[DD_COORDINATES][DD_COORDINATES])
{
    const dd_system_force *rollers = dd_system_find(w->system, &dd_force_roller);
    for (int m = 0; rollers != NULL && m < rollers->memory_count; m += 2) { /* of each roller the first: across it */
        const double *load = w->load_by_value[rollers->memory_first + m], *rate = w->rate_by_twist[rollers->memory_first + m];
        for (int i = 0; i < 6; i++)
            for (int j = 0; j < 6; j++) K[DD_HULL_COORDINATE + i][DD_HULL_COORDINATE + j] -= load[i] * rate[j];
    }
}

/* Roll about the hull's long axis through its centre; sway and yaw follow where something holds them, sinkage and trim do. */
double dd_roll_stiffness(const dd_workspace *w)
{
    double K[DD_COORDINATES][DD_COORDINATES];
    dd_stiffness(w, K);
    double held = 1e-3 * dd_hull_mass(w->system->model.hull)->mass * w->system->model.gravity;
    if (K[DD_HULL_COORDINATE + 1][DD_HULL_COORDINATE + 1] <= held) add_sideways_grip(w, K);
    dd_vec3 g = dd_hull_mass(w->system->model.hull)->centre;
    /* Columns: roll about G, then sway, yaw. Turning about G by phi moves the origin by -phi x G. */
    const double basis[3][6] = {{0, g.z, -g.y, 1, 0, 0}, {0, 1, 0, 0, 0, 0}, {0, 0, 0, 0, 0, 1}};
    double k[3][3];
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++) {
            k[i][j] = 0;
            for (int a = 0; a < 6; a++)
                for (int b = 0; b < 6; b++)
                    k[i][j] +=
                        0.5 * basis[i][a] * basis[j][b] *
                        (K[DD_HULL_COORDINATE + a][DD_HULL_COORDINATE + b] + K[DD_HULL_COORDINATE + b][DD_HULL_COORDINATE + a]);
        }
    /* Schur complement of sway and yaw, each only where it is held. */
    double roll = k[0][0];
    double determinant = k[1][1] * k[2][2] - k[1][2] * k[1][2];
    if (k[1][1] > held && k[2][2] > held && determinant > held * held)
        roll -= (k[0][1] * k[0][1] * k[2][2] - 2 * k[0][1] * k[0][2] * k[1][2] + k[0][2] * k[0][2] * k[1][1]) / determinant;
    else if (k[1][1] > held)
        roll -= k[0][1] * k[0][1] / k[1][1];
    return roll;
}

static dd_status describe(search *s, double left, dd_equilibrium *result, dd_error *error)
{
    static const char *const names[DD_COORDINATES] = {
        "rig along the ramp", "coupling up and down", "trailer pitch",    "coupling off the ball", "tilt of the bed", "hull lengthwise",
        "hull sideways",      "hull up and down",     "hull heel",        "hull trim",             "hull heading"};
    double load[DD_COORDINATES], K[DD_COORDINATES][DD_COORDINATES];
    unbalanced(s->workspace, load);
    int worst = s->free[0];
    for (int i = 1; i < s->count; i++)
        if (fabs(load[s->free[i]]) > fabs(load[worst])) worst = s->free[i];
    result->imbalance = left;
    if (!(left < s->balanced)) {
        bool moment = worst == DD_RIG_PITCH || worst == DD_RIG_TILT || worst >= DD_HULL_COORDINATE + 3;
        return dd_fail(error, DD_ERROR_NO_EQUILIBRIUM, "dd_equilibrium_find",
                       "nothing holds the boat here: %s, %.4g %s short (rig x %.3f m)", names[worst], fabs(load[worst]),
                       moment ? "N m" : "N", result->pose.rig[DD_RIG_X]);
    }
    dd_stiffness(s->workspace, K);
    result->smallest_stiffness = smallest_eigenvalue(s, K);
    result->roll_stiffness = s->workspace->system->model.hull != NULL ? dd_roll_stiffness(s->workspace) : NAN;
    result->stable = result->smallest_stiffness > -1e-6 * s->weight;
    return DD_OK;
}

/* Moves the base to where the search stopped and a little on, if the lengthwise force is what is short. */
static bool slide(search *s, gsl_vector *x)
{
    double load[DD_COORDINATES];
    dd_pose pose;
    bool free_lengthwise = false;
    for (int i = 0; i < s->count; i++) free_lengthwise |= s->free[i] == DD_HULL_COORDINATE;
    if (!free_lengthwise || evaluate_at(s, x, 0, &pose) != 0) return false;
    unbalanced(s->workspace, load);
    if (!(fabs(load[DD_HULL_COORDINATE]) > 1e-9 * s->weight)) return false;
    const double on[6] = {copysign(slide_length, load[DD_HULL_COORDINATE]), 0, 0, 0, 0, 0};
    dd_pose_displace(&pose, on, NULL);
    s->base = pose;
    gsl_vector_set_zero(x);
    return true;
}

dd_status dd_equilibrium_find(dd_workspace *w, double time, const dd_pose *start, const double *memory, int free_mask,
                              dd_equilibrium *result, dd_error *error)
{
    search s = {.workspace = w, .time = time, .base = *start, .memory = memory, .balanced = BALANCED};
    const dd_model *model = &w->system->model;
    const dd_commands commands = dd_plan_at(&w->plan, time);
    dd_gsl_quiet();
    memset(result, 0, sizeof *result);
    for (int c = 0; c < DD_COORDINATES; c++) {
        bool there = c < DD_HULL_COORDINATE ? dd_rig_coordinate_free(w->system, &commands, c) : model->hull != NULL;
        if ((free_mask & (1 << c)) != 0 && there) s.free[s.count++] = c;
    }
    if (s.count == 0) return dd_fail(error, DD_ERROR_ARGUMENT, "dd_equilibrium_find", "no coordinate is free");
    s.weight = model->gravity * (model->hull != NULL ? dd_hull_mass(model->hull)->mass : model->rig->trailer.mass);
    s.y = calloc((size_t)w->system->size, sizeof(double));
    gsl_vector *x = gsl_vector_calloc((size_t)s.count);
    if (s.y == NULL || x == NULL) {
        free(s.y);
        gsl_vector_free(x);
        return dd_fail(error, DD_ERROR_MEMORY, "dd_equilibrium_find", "no memory for the search");
    }
    double left = seek(&s, x);
    /* Nothing may hold the hull lengthwise yet (a slack strap, a stop not reached): it slides that way until something does. */
    for (int i = 0; i < MOST_SLIDES && !(left < s.balanced) && !s.no_memory && slide(&s, x); i++) left = seek(&s, x);
    dd_status status = DD_ERROR_NOT_FINITE;
    if (evaluate_at(&s, x, DD_WANT_GRADIENT | DD_WANT_CHANNELS, &result->pose) == 0)
        status = describe(&s, left, result, error);
    else
        status = dd_fail(error, DD_ERROR_NOT_FINITE, "dd_equilibrium_find", "force %s gives a value that is not finite",
                         w->bad != NULL ? w->bad->name : "of the equations of motion");
    if (s.no_memory) /* the search then says nothing about the boat */
        status = dd_fail(error, DD_ERROR_MEMORY, "dd_equilibrium_find", "no memory for the search");
    free(s.y);
    gsl_vector_free(x);
    return status;
}
