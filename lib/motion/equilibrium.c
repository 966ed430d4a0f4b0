/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/base/error.h"
#include "lib/motion/search.h"
#include "lib/ode/gsl.h"
#include <gsl/gsl_eigen.h>
#include <gsl/gsl_linalg.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_STEPS = 30, MOST_HALVINGS = 12, MOST_SLIDES = 40 };
#define NEARLY 1e-6                       /* of the weight */
#define SETTLED 1e-11                     /* of the weight: nothing is gained by another step */
#define SOFT 1e-9                         /* of the largest pivot: singular values then tell which way nothing holds */
static const double slide_length = 0.01;  /* m */
static const double longest_step = 0.5;   /* of the hull or an angle in one step of Newton's, m and rad */
static const double least_stiffness = 1e-6; /* below 0 by no more than this counts as stable, of the weight per metre */

/* Where moving parts will rest, as what is known of them where they rested last leads on; a start for who looks for it. */
static void expect_rests(dd_search *s, const dd_pose *pose)
{
    static const double furthest = 0.3; /* m, rad */
    const dd_workspace *w = s->workspace;
    if (!w->rested_there) return;
    const dd_mat3 r = dd_rotation_of(w->rested_at.attitude);
    const dd_quaternion was = {w->rested_at.attitude.w, -w->rested_at.attitude.x, -w->rested_at.attitude.y, -w->rested_at.attitude.z};
    const dd_quaternion q = dd_quaternion_multiply(was, pose->attitude);
    const dd_vec3 moved = dd_apply_transposed(&r, dd_sub(pose->position, w->rested_at.position)), turned = dd_scale(2 / q.w, dd_vec(q.x, q.y, q.z));
    const double by[6] = {moved.x, moved.y, moved.z, turned.x, turned.y, turned.z};
    if (!(dd_norm(moved) < furthest && dd_norm(turned) < furthest)) return;
    for (int f = 0; f < w->system->force_count; f++) {
        const dd_system_force *force = &w->system->forces[f];
        if (force->parts == 0 || !force->kind->rests_as_evaluated) continue;
        for (int i = 0; i < force->memory_count; i++) {
            const int m = force->memory_first + i;
            if (!force->kind->follows(force->instance, i) || s->memory[m] != w->rested[m]) continue;
            for (int c = 0; c < 6; c++) s->memory[m] += w->rest_by_pose[m][c] * by[c];
        }
    }
}

/* Of what is brought to rest, what does not follow the pose is as it was when the search began. */
static void begin_rests(dd_search *s, const dd_pose *pose)
{
    const dd_motion rest = {{0}, {0}};
    dd_workspace *w = s->workspace;
    const dd_commands commands = dd_plan_at(&w->plan, s->time);
    for (int f = 0; f < w->system->force_count; f++) {
        const dd_system_force *force = &w->system->forces[f];
        const int first = force->memory_first;
        if (force->kind->rest == NULL) continue;
        for (int m = 0; m < force->memory_count; m++)
            if (!force->kind->follows(force->instance, m)) s->memory[first + m] = s->began[first + m];
        if (force->kind->rests_as_evaluated) continue;
        dd_kinematics_again(&w->system->model, s->time, pose, &rest, &w->kinematics);
        force->kind->rest(force->instance, &w->kinematics, &commands, s->memory + first);
    }
}

int dd_search_evaluate(dd_search *s, const dd_pose *pose, int want)
{
    const dd_motion rest = {{0}, {0}};
    dd_workspace *w = s->workspace;
    if (s->parts) {
        expect_rests(s, pose);
        begin_rests(s, pose);
    }
    dd_system_pack(w->system, pose, &rest, s->memory, s->y);
    const int failed = dd_system_evaluate(w, s->time, s->y, s->parts ? want | DD_WANT_REST : want);
    if (s->parts) {
        memcpy(s->memory, w->rested, (size_t)w->system->memory_count * sizeof(double));
        w->rested_at = *pose, w->rested_there = true;
    }
    return failed;
}

double dd_search_left(const dd_search *s, double load[DD_COORDINATES])
{
    double left = 0;
    dd_unbalanced(s->workspace, load);
    for (int i = 0; i < s->count; i++) left = fmax(left, fabs(load[s->free[i]]) / s->weight);
    return left;
}

void dd_search_rounding(dd_search *s, double K[DD_COORDINATES][DD_COORDINATES])
{
    const double place = 1 + dd_norm(s->base.position) + fabs(s->base.rig[DD_RIG_X]);
    double most = 0;
    for (int i = 0; i < s->count; i++) {
        double sum = 0;
        for (int j = 0; j < s->count; j++) {
            const int c = s->free[j];
            const bool turns = c == DD_RIG_PITCH || c == DD_RIG_TILT || c >= DD_HULL_COORDINATE + 3;
            sum += fabs(K[s->free[i]][c]) * (turns ? 1 : place);
        }
        most = fmax(most, sum);
    }
    s->balanced = fmax(DD_BALANCED, 4 * GSL_DBL_EPSILON * most / s->weight);
}

/* --- linear equations over the free coordinates ------------------------------------------------------------------ */

bool dd_search_factorise(const dd_search *s, double K[DD_COORDINATES][DD_COORDINATES], dd_factor *f)
{
    const int n = s->count;
    const size_t m = (size_t)n;
    int sign;
    double work_[DD_COORDINATES], least = INFINITY, most = 0;
    gsl_matrix_view u = gsl_matrix_view_array(f->u, m, m), v = gsl_matrix_view_array(f->v, m, m);
    gsl_vector_view sigma = gsl_vector_view_array(f->sigma, m), work = gsl_vector_view_array(work_, m);
    gsl_permutation p = {.size = m, .data = f->order};
    f->count = n;
    for (int r = 0; r < n; r++)
        for (int c = 0; c < n; c++) f->u[r * n + c] = K[s->free[r]][s->free[c]];
    if (gsl_linalg_LU_decomp(&u.matrix, &p, &sign) == GSL_SUCCESS)
        for (int i = 0; i < n; i++) {
            least = fmin(least, fabs(f->u[i * n + i]));
            most = fmax(most, fabs(f->u[i * n + i]));
        }
    f->soft = !(least > SOFT * most && most > 0 && isfinite(most));
    if (!f->soft) return true;
    for (int r = 0; r < n; r++)
        for (int c = 0; c < n; c++) f->u[r * n + c] = K[s->free[r]][s->free[c]];
    if (gsl_linalg_SV_decomp(&u.matrix, &v.matrix, &sigma.vector, &work.vector) != GSL_SUCCESS) return false;
    for (int i = 0; i < n; i++)
        if (f->sigma[i] < DD_NOTHING_HOLDS * f->sigma[0]) f->sigma[i] = 0; /* gsl_linalg_SV_solve takes no step along it */
    return true;
}

bool dd_search_solve(dd_factor *f, double *b)
{
    const size_t m = (size_t)f->count;
    double x_[DD_COORDINATES];
    gsl_matrix_view u = gsl_matrix_view_array(f->u, m, m), v = gsl_matrix_view_array(f->v, m, m);
    gsl_vector_view sigma = gsl_vector_view_array(f->sigma, m), right = gsl_vector_view_array(b, m), x = gsl_vector_view_array(x_, m);
    gsl_permutation p = {.size = m, .data = f->order};
    if (!f->soft) return gsl_linalg_LU_svx(&u.matrix, &p, &right.vector) == GSL_SUCCESS;
    if (gsl_linalg_SV_solve(&u.matrix, &v.matrix, &sigma.vector, &right.vector, &x.vector) != GSL_SUCCESS) return false;
    memcpy(b, x_, m * sizeof(double));
    return true;
}

static bool solve_free(const dd_search *s, double K[DD_COORDINATES][DD_COORDINATES], double *b)
{
    dd_factor f;
    return dd_search_factorise(s, K, &f) && dd_search_solve(&f, b);
}

/* --- Newton's method --------------------------------------------------------------------------------------------- */

bool dd_search_displace(const dd_search *s, const double *step, dd_pose *pose)
{
    double q[DD_COORDINATES] = {0};
    for (int i = 0; i < s->count; i++) {
        if (!(fabs(step[i]) < longest_step)) return false;
        q[s->free[i]] = step[i];
    }
    dd_pose_displace(pose, q + DD_HULL_COORDINATE, q);
    return true;
}

double dd_search_look(dd_search *s, const dd_pose *pose, double load[DD_COORDINATES], double K[DD_COORDINATES][DD_COORDINATES])
{
    if (dd_search_evaluate(s, pose, DD_WANT_STIFFNESS | DD_WANT_CHANNELS) != 0) return INFINITY;
    dd_stiffness(s->workspace, K);
    return dd_search_left(s, load);
}

/* From *pose, each step in the hull's present axes, where K is given; only while each step halves the imbalance at least. Where a
   support only just touches, its stiffness sets in from nothing and whole steps jump over the balance: near the end shorter ones
   are tried. Leaves the pose, the evaluation with channels there and its K. Returns the imbalance, infinite where it gave up. */
static double newton(dd_search *s, dd_pose *pose, double K[DD_COORDINATES][DD_COORDINATES])
{
    double load[DD_COORDINATES], step[DD_COORDINATES], part[DD_COORDINATES], left = dd_search_look(s, pose, load, K);
    for (int i = 0; i < MOST_STEPS && left >= SETTLED && isfinite(left); i++) {
        for (int c = 0; c < s->count; c++) step[c] = load[s->free[c]];
        dd_search_rounding(s, K);
        if (!solve_free(s, K, step)) return INFINITY;
        const bool near = left < fmax(NEARLY, s->balanced);
        const int most = near && left > DD_BALANCED ? MOST_HALVINGS : 1;
        const dd_pose from = *pose;
        double now = INFINITY, share = 1;
        for (int j = 0; j < most && !(now < left); j++, share *= 0.5) {
            for (int c = 0; c < s->count; c++) part[c] = share * step[c];
            *pose = from;
            if (!dd_search_displace(s, part, pose)) return INFINITY;
            now = dd_search_look(s, pose, load, K);
        }
        if (!(now < left)) {
            *pose = from;
            left = dd_search_look(s, pose, load, K);
            return left < s->balanced ? left : INFINITY;
        }
        const bool stalled = now > (near ? 0.9 : 0.5) * left;
        left = now;
        if (stalled) return left < s->balanced ? left : INFINITY;
    }
    return left < s->balanced ? left : INFINITY;
}

/* --- what is found ----------------------------------------------------------------------------------------------- */

static bool positive(const dd_search *s, double K[DD_COORDINATES][DD_COORDINATES], double more)
{
    double matrix[DD_COORDINATES * DD_COORDINATES];
    const int n = s->count;
    for (int r = 0; r < n; r++)
        for (int c = 0; c < n; c++)
            matrix[r * n + c] = 0.5 * (K[s->free[r]][s->free[c]] + K[s->free[c]][s->free[r]]) + (r == c ? more : 0);
    gsl_matrix_view m = gsl_matrix_view_array(matrix, (size_t)n, (size_t)n);
    return gsl_linalg_cholesky_decomp1(&m.matrix) == GSL_SUCCESS;
}

/* Of K over the free coordinates; gives_way: its direction, of length 1. */
static double smallest_eigenvalue(dd_search *s, double K[DD_COORDINATES][DD_COORDINATES], double gives_way[DD_COORDINATES])
{
    double matrix[DD_COORDINATES * DD_COORDINATES], values[DD_COORDINATES], vectors[DD_COORDINATES * DD_COORDINATES];
    const int n = s->count;
    for (int r = 0; r < n; r++)
        for (int c = 0; c < n; c++) matrix[r * n + c] = 0.5 * (K[s->free[r]][s->free[c]] + K[s->free[c]][s->free[r]]);
    gsl_matrix_view m = gsl_matrix_view_array(matrix, (size_t)n, (size_t)n), directions = gsl_matrix_view_array(vectors, (size_t)n, (size_t)n);
    gsl_vector_view v = gsl_vector_view_array(values, (size_t)n);
    gsl_eigen_symmv_workspace *work = gsl_eigen_symmv_alloc((size_t)n);
    if (work == NULL) {
        s->no_memory = true;
        return NAN;
    }
    gsl_eigen_symmv(&m.matrix, &v.vector, &directions.matrix, work);
    gsl_eigen_symmv_free(work);
    const int least = (int)gsl_vector_min_index(&v.vector);
    for (int c = 0; c < n; c++) gives_way[s->free[c]] = vectors[c * n + least];
    return values[least];
}

void dd_search_tangent(const dd_search *s, double K[DD_COORDINATES][DD_COORDINATES], dd_factor *f, dd_equilibrium *result)
{
    double along[DD_COORDINATES];
    memset(result->tangent, 0, sizeof result->tangent);
    result->tangent[DD_RIG_X] = 1;
    for (int i = 0; i < s->count; i++) along[i] = -K[s->free[i]][DD_RIG_X];
    if (s->workspace->system->model.rig == NULL || !dd_search_solve(f, along)) return;
    for (int i = 0; i < s->count; i++) result->tangent[s->free[i]] = along[i];
}

void dd_search_measure(dd_search *s, double left, double K[DD_COORDINATES][DD_COORDINATES], dd_equilibrium *result)
{
    result->imbalance = left;
    result->stable = positive(s, K, least_stiffness * s->weight);
    result->smallest_stiffness = result->stable ? NAN : smallest_eigenvalue(s, K, result->gives_way);
    result->roll_stiffness = s->workspace->system->model.hull != NULL && s->workspace->leave_out == 0 ? dd_roll_stiffness(s->workspace) : NAN;
    dd_factor f;
    if (dd_search_factorise(s, K, &f)) dd_search_tangent(s, K, &f, result);
}

dd_status dd_search_refuse(const dd_search *s, double left, dd_equilibrium *result, dd_error *error)
{
    static const char *const names[DD_COORDINATES] = {
        "rig along the ramp", "coupling up and down", "trailer pitch", "coupling off the ball", "tilt of the bed", "hull lengthwise",
        "hull sideways",      "hull up and down",     "hull heel",     "hull trim",             "hull heading"};
    double load[DD_COORDINATES];
    dd_unbalanced(s->workspace, load);
    int worst = s->free[0];
    for (int i = 1; i < s->count; i++)
        if (fabs(load[s->free[i]]) > fabs(load[worst])) worst = s->free[i];
    const bool moment = worst == DD_RIG_PITCH || worst == DD_RIG_TILT || worst >= DD_HULL_COORDINATE + 3;
    result->imbalance = left;
    return dd_fail(error, DD_ERROR_NO_EQUILIBRIUM, "dd_equilibrium_find",
                   "nothing holds the boat here: %s, %.4g %s short (rig x %.3f m)", names[worst], fabs(load[worst]),
                   moment ? "N m" : "N", result->pose.rig[DD_RIG_X]);
}

static void free_coordinates(dd_search *s, double time, int free_mask)
{
    const dd_system *system = s->workspace->system;
    const dd_commands commands = dd_plan_at(&s->workspace->plan, time);
    for (int c = 0; c < DD_COORDINATES; c++) {
        bool there = c < DD_HULL_COORDINATE ? dd_rig_coordinate_free(system, &commands, c) : system->model.hull != NULL;
        if ((free_mask & (1 << c)) != 0 && there) s->free[s->count++] = c;
    }
}

bool dd_equilibrium_yield(dd_workspace *w, int free_mask, double q[DD_COORDINATES])
{
    dd_search s = {.workspace = w};
    double K[DD_COORDINATES][DD_COORDINATES], load[DD_COORDINATES];
    free_coordinates(&s, w->kinematics.time, free_mask);
    dd_stiffness(w, K);
    for (int i = 0; i < s.count; i++) load[i] = q[s.free[i]];
    if (s.count == 0 || !solve_free(&s, K, load)) return false;
    memset(q, 0, DD_COORDINATES * sizeof(double));
    for (int i = 0; i < s.count; i++) q[s.free[i]] = load[i];
    return true;
}

dd_status dd_search_begin(dd_search *s, dd_workspace *w, double time, const dd_pose *start, const double *memory, int free_mask,
                          dd_error *error)
{
    const dd_model *model = &w->system->model;
    *s = (dd_search){.workspace = w, .time = time, .base = *start, .balanced = DD_BALANCED};
    dd_gsl_quiet();
    free_coordinates(s, time, free_mask);
    s->tell_lengthwise = (free_mask & DD_TELL_LENGTHWISE) != 0;
    if (s->count == 0) return dd_fail(error, DD_ERROR_ARGUMENT, "dd_equilibrium_find", "no coordinate is free");
    s->weight = model->gravity * (model->hull != NULL ? dd_hull_mass(model->hull)->mass : model->rig->trailer.mass);
    for (int f = 0; f < w->system->force_count; f++) {
        const dd_system_force *force = &w->system->forces[f];
        s->parts |= force->kind->rest != NULL && (force->kind->rests == NULL || force->kind->rests(force->instance));
    }
    const size_t memory_size = (size_t)w->system->memory_count;
    s->y = calloc((size_t)w->system->size + 2 * memory_size, sizeof(double));
    if (s->y == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_equilibrium_find", "no memory for the search");
    s->memory = s->y + w->system->size;
    s->began = s->memory + memory_size;
    if (memory != NULL) memcpy(s->memory, memory, memory_size * sizeof(double));
    memcpy(s->began, s->memory, memory_size * sizeof(double));
    return DD_OK;
}

void dd_search_narrow(dd_search *s)
{
    s->workspace->leave_out = DD_LEAVE_OUT_GRIP | (s->tell_lengthwise ? 62 : 63);
    for (int i = 0; i < s->count; i++)
        if (s->free[i] >= DD_HULL_COORDINATE) s->workspace->leave_out &= ~(1 << (s->free[i] - DD_HULL_COORDINATE));
}

void dd_search_end(dd_search *s)
{
    s->workspace->leave_out = 0;
    free(s->y);
}

/* --- from anywhere near ------------------------------------------------------------------------------------------ */

/* Moves the base to where the search stopped and a little on, if the lengthwise force is what is short. */
static bool slide(dd_search *s, gsl_vector *x)
{
    double load[DD_COORDINATES];
    dd_pose pose;
    bool free_lengthwise = false;
    for (int i = 0; i < s->count; i++) free_lengthwise |= s->free[i] == DD_HULL_COORDINATE;
    if (!free_lengthwise || dd_search_at(s, x, 0, &pose) != 0) return false;
    dd_unbalanced(s->workspace, load);
    double most = 0;
    for (int i = 0; i < s->count; i++) most = fmax(most, fabs(load[s->free[i]]));
    if (!(fabs(load[DD_HULL_COORDINATE]) > fmax(1e-9 * s->weight, 0.1 * most))) return false; /* something else is short: it tips, say */
    const double on[6] = {copysign(slide_length, load[DD_HULL_COORDINATE]), 0, 0, 0, 0, 0};
    dd_pose_displace(&pose, on, NULL);
    s->base = pose;
    gsl_vector_set_zero(x);
    return true;
}

/* Newton's method, or the slow search from the same pose. */
static double lie_still(dd_search *s, dd_pose *pose, double K[DD_COORDINATES][DD_COORDINATES])
{
    double x_[DD_COORDINATES] = {0};
    gsl_vector_view x = gsl_vector_view_array(x_, (size_t)s->count);
    s->base = *pose;
    double left = newton(s, pose, K);
    if (!isinf(left)) return left;
    left = dd_search_slowly(s, &x.vector);
    if (!(left < s->balanced) || dd_search_at(s, &x.vector, DD_WANT_STIFFNESS | DD_WANT_CHANNELS, pose) != 0) return INFINITY;
    dd_stiffness(s->workspace, K);
    return left;
}

/* The same where the hull lies still if held lengthwise: it slides as the force along it goes, by Newton's method alone, and is let go
   where that force turns or a whole step leads no further. From *pose; done: slides made. Returns the imbalance, infinite where
   this leads nowhere or nothing has held it yet; stuck: whether the slow search may find more. */
static double slide_quickly(dd_search *s, int slides, dd_pose *pose, double K[DD_COORDINATES][DD_COORDINATES], bool *stuck)
{
    dd_search held = *s;
    double load[DD_COORDINATES], step[DD_COORDINATES], before = 0;
    int lengthwise = 0;
    held.count = 0;
    for (int i = 0; i < s->count; i++)
        if (s->free[i] == DD_HULL_COORDINATE)
            lengthwise = i;
        else
            held.free[held.count++] = s->free[i];
    *stuck = true;
    if (held.count == s->count || held.count == 0) return INFINITY;
    for (int i = 0; i <= slides; i++) {
        const bool lies = !isinf(lie_still(&held, pose, K));
        s->no_memory |= held.no_memory;
        if (!lies) return INFINITY;
        (void)dd_search_left(s, load);
        const double along = load[DD_HULL_COORDINATE];
        for (int c = 0; c < s->count; c++) step[c] = load[s->free[c]];
        const double way = solve_free(s, K, step) ? step[lengthwise] : INFINITY;
        if (along * before < 0 || (fabs(way) <= slide_length && way * along > 0)) {
            dd_pose at = *pose;
            const double left = newton(s, &at, K);
            if (!isinf(left)) *pose = at;
            if (!isinf(left) || along * before < 0) return left;
        }
        if (!(fabs(along) > DD_BALANCED * s->weight)) return INFINITY;
        before = along;
        const double on[6] = {copysign(slide_length, along), 0, 0, 0, 0, 0};
        if (i < slides) dd_pose_displace(pose, on, NULL);
    }
    *stuck = false;
    return INFINITY;
}

static dd_status find(dd_search *s, gsl_vector *x, int slides, dd_equilibrium *result, dd_error *error)
{
    double K[DD_COORDINATES][DD_COORDINATES];
    bool stuck = true;
    result->pose = s->base;
    double left = newton(s, &result->pose, K);
    if (isinf(left) && slides > 0) {
        result->pose = s->base;
        left = slide_quickly(s, slides, &result->pose, K, &stuck);
        if (isinf(left) && !stuck) return dd_search_refuse(s, left, result, error);
    }
    if (isinf(left)) {
        left = dd_search_slowly(s, x);
        /* Nothing may hold the hull lengthwise yet (a slack strap, a stop not reached): it slides that way until something does. */
        for (int i = 0; i < slides && !(left < s->balanced) && !s->no_memory && slide(s, x); i++) left = dd_search_slowly(s, x);
        if (dd_search_at(s, x, DD_WANT_STIFFNESS | DD_WANT_CHANNELS, &result->pose) != 0)
            return dd_fail(error, DD_ERROR_NOT_FINITE, "dd_equilibrium_find", "force %s gives a value that is not finite",
                           s->workspace->bad != NULL ? s->workspace->bad->name : "of the equations of motion");
        if (!(left < s->balanced)) return dd_search_refuse(s, left, result, error);
        dd_stiffness(s->workspace, K);
    }
    dd_search_measure(s, left, K, result);
    return DD_OK;
}

static dd_status seek(dd_workspace *w, double time, const dd_pose *start, double *memory, int free_mask, int slides,
                      dd_equilibrium *result, dd_error *error)
{
    dd_search s;
    const dd_pose from = *start; /* it may be the result's */
    memset(result, 0, sizeof *result);
    dd_status status = dd_search_begin(&s, w, time, &from, memory, free_mask, error);
    if (status != DD_OK) return status;
    gsl_vector *x = gsl_vector_calloc((size_t)s.count);
    if (x != NULL) status = find(&s, x, slides, result, error);
    if (x == NULL || s.no_memory) /* the search then says nothing about the boat */
        status = dd_fail(error, DD_ERROR_MEMORY, "dd_equilibrium_find", "no memory for the search");
    if (s.parts && memory != NULL && status == DD_OK) memcpy(memory, s.memory, (size_t)w->system->memory_count * sizeof(double));
    dd_search_end(&s);
    gsl_vector_free(x);
    return status;
}

dd_status dd_equilibrium_find(dd_workspace *w, double time, const dd_pose *start, double *memory, int free_mask,
                              dd_equilibrium *result, dd_error *error)
{
    return seek(w, time, start, memory, free_mask, MOST_SLIDES, result, error);
}

dd_status dd_equilibrium_creep(dd_workspace *w, double time, const dd_pose *start, double *memory, int free_mask,
                               dd_equilibrium *result, dd_error *error)
{
    return seek(w, time, start, memory, free_mask, 0, result, error);
}
