/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Jacobian of the equations of motion. What forces do comes from their own K and D; what is left with the loads held, the turning of
   frames and mass matrices, the gyroscopic terms and the motion of the added mass, is cheap to evaluate and is differenced. */
#include "lib/motion/system.h"
#include <gsl/gsl_linalg.h>
#include <string.h>

enum { LOADS = 6 + DD_RIG_COORDINATES };

/* One state of position or rate, and what a unit of it moves. */
typedef struct dd_column {
    int state;
    double relative[6], world[6];             /* displacement of the hull against trailer and world, boat axes */
    double relative_twist[6], twist[6];       /* change of the hull's twist */
    double rig[DD_RIG_COORDINATES], rig_rate[DD_RIG_COORDINATES];
} dd_column;

typedef struct dd_jacobian_work {
    dd_workspace *w;
    double *j;
    int n;
    double between[6], rig_alone[DD_RIG_COORDINATES]; /* loads of the forces between, and on the rig without their reaction */
    double hull_factor[36], rig_factor[DD_RIG_COORDINATES * DD_RIG_COORDINATES];
} dd_jacobian_work;

static bool is_memory(const dd_system *system, int state)
{
    return state >= DD_STATE_MEMORY && state < DD_STATE_MEMORY + system->memory_count;
}

static int factor(double *mass, int n)
{
    gsl_matrix_view m = gsl_matrix_view_array(mass, (size_t)n, (size_t)n);
    return gsl_linalg_cholesky_decomp1(&m.matrix) != GSL_SUCCESS;
}

static int prepare(dd_jacobian_work *work)
{
    const dd_workspace *w = work->w;
    const int count = w->free_rig_count;
    memset(work->between, 0, sizeof work->between);
    memset(work->rig_alone, 0, sizeof work->rig_alone);
    for (int f = 0; f < w->system->force_count; f++) {
        const dd_load *load = &w->loads[f];
        for (int i = 0; i < 6 && w->system->forces[f].kind->acts_on == DD_ACTS_BETWEEN; i++) work->between[i] += load->hull[i];
        for (int c = 0; c < DD_RIG_COORDINATES; c++) work->rig_alone[c] += load->rig[c];
    }
    memcpy(work->hull_factor, w->hull_mass, sizeof work->hull_factor);
    for (int f = 0; f < count; f++)
        for (int g = 0; g < count; g++) work->rig_factor[f * count + g] = w->rig_mass[w->free_rig[f]][w->free_rig[g]];
    if (w->system->model.hull != NULL && factor(work->hull_factor, 6) != 0) return 1;
    return w->system->model.rig != NULL && count > 0 && factor(work->rig_factor, count) != 0;
}

static void solve(const double *mass, double *x, int n)
{
    double copy[36];
    memcpy(copy, mass, (size_t)(n * n) * sizeof(double));
    gsl_matrix_view m = gsl_matrix_view_array(copy, (size_t)n, (size_t)n);
    gsl_vector_view v = gsl_vector_view_array(x, (size_t)n);
    gsl_linalg_cholesky_svx(&m.matrix, &v.vector); /* fails for wrong sizes only */
}

/* Rows of accelerations by a change of the loads. */
static void add_accelerations(const dd_jacobian_work *work, int column, const double load[LOADS])
{
    const dd_workspace *w = work->w;
    const int n = work->n;
    if (w->system->model.hull != NULL) {
        double x[6];
        memcpy(x, load, sizeof x);
        solve(work->hull_factor, x, 6);
        for (int i = 0; i < 6; i++) work->j[(DD_STATE_TWIST + i) * n + column] += x[i];
    }
    if (w->system->model.rig == NULL || w->free_rig_count == 0) return;
    double x[DD_RIG_COORDINATES];
    for (int f = 0; f < w->free_rig_count; f++) x[f] = load[6 + w->free_rig[f]];
    solve(work->rig_factor, x, w->free_rig_count);
    for (int f = 0; f < w->free_rig_count; f++) work->j[dd_state_rig_rate(w->system, w->free_rig[f]) * n + column] += x[f];
}

/* --- with the loads held ---------------------------------------------------------------------------------------- */

/* Kinematics and accelerations at y, the loads as they are in their own axes: the trailer's part of what acts between follows its carry. */
static int hold_loads(const dd_jacobian_work *work, double t, const double *y, dd_workspace *probe)
{
    dd_system_place(probe, t, y);
    for (int c = 0; c < DD_RIG_COORDINATES; c++) {
        probe->rig_load[c] = work->rig_alone[c];
        for (int i = 0; i < 6; i++) probe->rig_load[c] -= probe->kinematics.carry[i][c] * work->between[i];
    }
    return dd_system_accelerate(probe);
}

static int difference(const dd_jacobian_work *work, double t, const double *y, dd_column *column)
{
    static const double step = 1e-6; /* m, rad, m/s, rad/s */
    dd_workspace probe = *work->w;
    const dd_system *system = probe.system;
    const int n = work->n, s = column->state;
    double *moved = probe.scratch, *rates = moved + n, *moved_rates = rates + n;
    memcpy(moved, y, (size_t)n * sizeof *y);
    moved[s] += step;
    if (hold_loads(work, t, moved, &probe) != 0) return 1;
    const double by = 1 / (moved[s] - y[s]);
    dd_system_rates(&probe, moved_rates);
    for (int i = 0; i < n; i++)
        if (!is_memory(system, i)) work->j[i * n + s] += by * (moved_rates[i] - rates[i]);
    for (int a = 0; a < 6; a++)
        column->relative_twist[a] = by * (probe.kinematics.relative_twist[a] - work->w->kinematics.relative_twist[a]);
    return 0;
}

/* --- by the forces ---------------------------------------------------------------------------------------------- */

static void add_loads(const dd_jacobian_work *work, const dd_column *c)
{
    const dd_workspace *w = work->w;
    double load[LOADS] = {0};
    for (int i = 0; i < 6; i++) {
        double between = 0;
        for (int a = 0; a < 6; a++) {
            between -= w->between_gradient.K[i][a] * c->relative[a] + w->between_gradient.D[i][a] * c->relative_twist[a];
            load[i] -= w->hull_gradient.K[i][a] * c->world[a] + w->hull_gradient.D[i][a] * c->twist[a];
        }
        load[i] += between;
        for (int r = 0; r < DD_RIG_COORDINATES; r++) load[6 + r] -= w->kinematics.carry[i][r] * between;
    }
    for (int r = 0; r < DD_RIG_COORDINATES; r++)
        for (int a = 0; a < DD_RIG_COORDINATES; a++)
            load[6 + r] -= w->rig_gradient.rig_K[r][a] * c->rig[a] + w->rig_gradient.rig_D[r][a] * c->rig_rate[a];
    add_accelerations(work, c->state, load);
}

static void add_memory_rates(const dd_jacobian_work *work, const dd_column *c)
{
    const dd_workspace *w = work->w;
    for (int f = 0; f < w->system->force_count; f++) {
        const dd_system_force *force = &w->system->forces[f];
        const bool hull = force->kind->acts_on == DD_ACTS_ON_HULL;
        const double *moved = hull ? c->world : c->relative, *twist = hull ? c->twist : c->relative_twist;
        for (int m = force->memory_first; m < force->memory_first + force->memory_count; m++) {
            double sum = 0;
            for (int a = 0; a < 6; a++) sum += w->rate_by_pose[m][a] * moved[a] + w->rate_by_twist[m][a] * twist[a];
            for (int r = 0; r < DD_RIG_COORDINATES; r++) sum += w->rate_by_place[m][r] * c->rig[r] + w->rate_by_rig[m][r] * c->rig_rate[r];
            work->j[(DD_STATE_MEMORY + m) * work->n + c->state] = sum;
        }
    }
}

static void memory_columns(const dd_jacobian_work *work)
{
    const dd_workspace *w = work->w;
    const int n = work->n;
    for (int f = 0; f < w->system->force_count; f++) {
        const dd_system_force *force = &w->system->forces[f];
        const int count = force->memory_count;
        const double *block = force->block_first >= 0 ? w->rate_by_values + force->block_first : NULL;
        for (int i = 0; i < count; i++) {
            const int m = force->memory_first + i;
            double load[LOADS];
            memcpy(load, w->load_by_value[m], 6 * sizeof(double));
            for (int r = 0; r < DD_RIG_COORDINATES; r++) {
                load[6 + r] = w->rig_by_value[m][r];
                for (int b = 0; b < 6 && force->kind->acts_on == DD_ACTS_BETWEEN; b++)
                    load[6 + r] -= w->kinematics.carry[b][r] * w->load_by_value[m][b];
            }
            add_accelerations(work, DD_STATE_MEMORY + m, load);
            for (int k = 0; k < count && block != NULL; k++)
                if (k != i) work->j[(DD_STATE_MEMORY + force->memory_first + k) * n + DD_STATE_MEMORY + m] = block[k * count + i];
            work->j[(DD_STATE_MEMORY + m) * n + DD_STATE_MEMORY + m] = w->rate_by_value[m];
        }
    }
}

/* --- columns ---------------------------------------------------------------------------------------------------- */

static dd_column column_of(const dd_workspace *w, int state)
{
    const dd_kinematics *k = &w->kinematics;
    dd_column c = {.state = state};
    const dd_quaternion q = k->pose.attitude;
    const double s = 2.0 / (q.w * q.w + q.x * q.x + q.y * q.y + q.z * q.z);
    const double turn[3][4] = {{-q.x, q.w, q.z, -q.y}, {-q.y, -q.z, q.w, q.x}, {-q.z, q.y, -q.x, q.w}};
    for (int f = 0; f < w->free_rig_count; f++) {
        const int r = w->free_rig[f];
        if (state == dd_state_rig(w->system, r)) {
            c.rig[r] = 1;
            for (int a = 0; a < 6; a++) c.world[a] = k->carry[a][r];
        }
        if (state == dd_state_rig_rate(w->system, r)) c.rig_rate[r] = 1;
    }
    for (int i = 0; i < 3; i++) {
        if (state >= DD_STATE_POSITION && state < DD_STATE_ATTITUDE)
            c.relative[i] = c.world[i] = k->to_trailer.m[state - DD_STATE_POSITION][i];
        if (state >= DD_STATE_ATTITUDE && state < DD_STATE_RIG_RATE)
            c.relative[3 + i] = c.world[3 + i] = s * turn[i][state - DD_STATE_ATTITUDE];
    }
    if (state >= DD_STATE_TWIST && state < DD_STATE_MEMORY) c.twist[state - DD_STATE_TWIST] = 1;
    return c;
}

/* A coordinate of the rig that the commands hold has neither row nor column. */
static bool is_held(const dd_workspace *w, int state)
{
    for (int c = 0; c < w->system->coordinates; c++)
        if (state == dd_state_rig(w->system, c) || state == dd_state_rig_rate(w->system, c))
            return !dd_rig_coordinate_free(w->system, &w->commands, c);
    return false;
}

int dd_system_jacobian(double t, const double *y, double *dfdy, double *dfdt, void *context)
{
    dd_workspace *w = context;
    const int n = w->system->size;
    memset(dfdy, 0, (size_t)n * (size_t)n * sizeof(double));
    memset(dfdt, 0, (size_t)n * sizeof(double));
    if (dd_system_evaluate(w, t, y, DD_WANT_GRADIENT) != 0) return 1;
    dd_jacobian_work work = {.w = w, .j = dfdy, .n = n};
    if (prepare(&work) != 0) return 1;
    dd_system_rates(w, w->scratch + n);
    for (int state = 0; state < n; state++) {
        if (is_memory(w->system, state) || is_held(w, state)) continue;
        dd_column c = column_of(w, state);
        if (difference(&work, t, y, &c) != 0) return 1;
        add_loads(&work, &c);
        add_memory_rates(&work, &c);
    }
    memory_columns(&work);
    return 0;
}
