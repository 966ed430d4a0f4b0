/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Jacobian of the equations of motion from the forces' own K and D. Left out, since Newton's iteration only needs to be
   near: the turning of the mass matrix, the gyroscopic terms, and what the rig's pose does to the hull's relative twist. */
#include "lib/motion/system.h"
#include <gsl/gsl_linalg.h>
#include <string.h>

typedef struct dd_maps {
    double displacement[6][7];   /* hull displacement (boat axes) by position (3) and attitude (4) */
    double relative_twist[6][7]; /* the hull's own twist held: what it would be carried along with turns in boat axes */
} dd_maps;

/* Where the rig's free coordinates and their rates stand in the state; held ones have neither row nor column. */
typedef struct dd_places {
    int rig[DD_RIG_COORDINATES], rate[DD_RIG_COORDINATES];
} dd_places;

static dd_places find_places(const dd_workspace *w)
{
    dd_places at;
    for (int f = 0; f < w->free_rig_count; f++) {
        at.rig[f] = dd_state_rig(w->system, w->free_rig[f]);
        at.rate[f] = dd_state_rig_rate(w->system, w->free_rig[f]);
    }
    return at;
}

static dd_maps map_states(const dd_kinematics *k)
{
    dd_maps maps = {.displacement = {{0}}};
    dd_quaternion q = k->pose.attitude;
    double s = 2.0 / (q.w * q.w + q.x * q.x + q.y * q.y + q.z * q.z);
    const double rows[3][4] = {{-q.x, q.w, q.z, -q.y}, {-q.y, -q.z, q.w, q.x}, {-q.z, q.y, -q.x, q.w}};
    for (int i = 0; i < 3; i++) {
        for (int j = 0; j < 3; j++) maps.displacement[i][j] = k->to_trailer.m[j][i];
        for (int j = 0; j < 4; j++) maps.displacement[3 + i][3 + j] = s * rows[i][j];
    }
    const double *twist = k->motion.twist, *r = k->relative_twist;
    dd_vec3 linear = dd_vec(twist[0] - r[0], twist[1] - r[1], twist[2] - r[2]),
            angular = dd_vec(twist[3] - r[3], twist[4] - r[4], twist[5] - r[5]);
    for (int c = 0; c < 7; c++) {
        dd_vec3 moved = dd_vec(maps.displacement[0][c], maps.displacement[1][c], maps.displacement[2][c]);
        dd_vec3 turned = dd_vec(maps.displacement[3][c], maps.displacement[4][c], maps.displacement[5][c]);
        dd_vec3 v = dd_sub(dd_cross(turned, linear), dd_cross(angular, moved)), omega = dd_cross(turned, angular);
        const double all[6] = {v.x, v.y, v.z, omega.x, omega.y, omega.z};
        for (int a = 0; a < 6; a++) maps.relative_twist[a][c] = all[a];
    }
    return maps;
}

/* Rows of position and attitude: they follow the relative twist. */
static void kinematic_rows(const dd_workspace *w, const dd_maps *maps, const dd_places *at, double *j, int n)
{
    const dd_kinematics *k = &w->kinematics;
    dd_quaternion q = k->pose.attitude;
    const double half[4][3] = {{-0.5 * q.x, -0.5 * q.y, -0.5 * q.z},
                               {0.5 * q.w, -0.5 * q.z, 0.5 * q.y},
                               {0.5 * q.z, 0.5 * q.w, -0.5 * q.x},
                               {-0.5 * q.y, 0.5 * q.x, 0.5 * q.w}};
    for (int f = 0; f < w->free_rig_count; f++) j[at->rig[f] * n + at->rate[f]] = 1.0;
    for (int i = 0; i < 7; i++) {
        double *row = j + (DD_STATE_POSITION + i) * n;
        for (int a = 0; a < 3; a++) {
            double by_twist = i < 3 ? k->to_trailer.m[i][a] : half[i - 3][a];
            int column = i < 3 ? a : 3 + a;
            row[DD_STATE_TWIST + column] = by_twist;
            for (int f = 0; f < w->free_rig_count; f++) row[at->rate[f]] -= by_twist * k->carry[column][w->free_rig[f]];
        }
    }
    const double *r = k->relative_twist;
    const double turn[4][4] = {
        {0, -r[3], -r[4], -r[5]}, {r[3], 0, r[5], -r[4]}, {r[4], -r[5], 0, r[3]}, {r[5], r[4], -r[3], 0}};
    for (int i = 0; i < 4; i++)
        for (int a = 0; a < 4; a++) j[(DD_STATE_ATTITUDE + i) * n + DD_STATE_ATTITUDE + a] = 0.5 * turn[i][a];
    for (int c = 0; c < 7; c++) {
        dd_vec3 turned = dd_vec(maps->displacement[3][c], maps->displacement[4][c], maps->displacement[5][c]);
        dd_vec3 velocity = dd_cross(turned, dd_vec(r[0], r[1], r[2])); /* the boat's axes turn under it */
        const double by_pose[3] = {velocity.x + maps->relative_twist[0][c], velocity.y + maps->relative_twist[1][c],
                                   velocity.z + maps->relative_twist[2][c]};
        for (int i = 0; i < 7; i++)
            for (int a = 0; a < 3; a++)
                j[(DD_STATE_POSITION + i) * n + DD_STATE_POSITION + c] +=
                    i < 3 ? k->to_trailer.m[i][a] * by_pose[a] : half[i - 3][a] * maps->relative_twist[3 + a][c];
    }
}

/* One row of d(load)/dy for a load of the hull (i < 6) or of the rig's coordinate i - 6, before the mass matrix. */
static void load_row(const dd_workspace *w, const dd_maps *maps, const dd_places *at, int i, double *row)
{
    const dd_kinematics *k = &w->kinematics;
    double kb[6], db[6], kh[6], dh[6]; /* d(load)/d(relative displacement, relative twist, world displacement, twist) */
    for (int a = 0; a < 6; a++) {
        kb[a] = db[a] = kh[a] = dh[a] = 0;
        if (i < 6) {
            kb[a] = -w->between_gradient.K[i][a];
            db[a] = -w->between_gradient.D[i][a];
            kh[a] = -w->hull_gradient.K[i][a];
            dh[a] = -w->hull_gradient.D[i][a];
        } else {
            for (int b = 0; b < 6; b++) {
                kb[a] += k->carry[b][i - 6] * w->between_gradient.K[b][a];
                db[a] += k->carry[b][i - 6] * w->between_gradient.D[b][a];
            }
        }
    }
    for (int s = 0; s < 7; s++)
        for (int a = 0; a < 6; a++)
            row[DD_STATE_POSITION + s] += (kb[a] + kh[a]) * maps->displacement[a][s] + db[a] * maps->relative_twist[a][s];
    for (int a = 0; a < 6; a++) row[DD_STATE_TWIST + a] += db[a] + dh[a];
    for (int f = 0; f < w->free_rig_count; f++) {
        const int c = w->free_rig[f];
        for (int a = 0; a < 6; a++) {
            row[at->rig[f]] += kh[a] * k->carry[a][c];
            row[at->rate[f]] -= db[a] * k->carry[a][c];
        }
        if (i >= 6) {
            row[at->rig[f]] -= w->rig_gradient.rig_K[i - 6][c];
            row[at->rate[f]] -= w->rig_gradient.rig_D[i - 6][c];
        }
    }
    for (int m = 0; m < w->system->memory_count; m++) {
        double by_value = i < 6 ? w->load_by_value[m][i] : w->rig_by_value[m][i - 6];
        for (int b = 0; i >= 6 && b < 6; b++) by_value -= k->carry[b][i - 6] * w->load_by_value[m][b];
        row[DD_STATE_MEMORY + m] += by_value;
    }
}

/* Rows of accelerations: mass matrix^-1 d(load)/dy. rows: of the state; loads: as load_row counts them. mass is overwritten. */
static int dynamic_rows(const dd_workspace *w, const dd_maps *maps, const dd_places *at, double *j, int n, int count,
                        const int *rows, const int *loads, double *mass)
{
    double column[6];
    gsl_matrix_view m = gsl_matrix_view_array(mass, (size_t)count, (size_t)count);
    gsl_vector_view v = gsl_vector_view_array(column, (size_t)count);
    if (gsl_linalg_cholesky_decomp1(&m.matrix) != GSL_SUCCESS) return 1;
    for (int i = 0; i < count; i++) load_row(w, maps, at, loads[i], j + rows[i] * n);
    for (int s = 0; s < n; s++) {
        for (int i = 0; i < count; i++) column[i] = j[rows[i] * n + s];
        if (gsl_linalg_cholesky_svx(&m.matrix, &v.vector) != GSL_SUCCESS) return 1;
        for (int i = 0; i < count; i++) j[rows[i] * n + s] = column[i];
    }
    return 0;
}

static int hull_rows(const dd_workspace *w, const dd_maps *maps, const dd_places *at, double *j, int n)
{
    double mass[36];
    int rows[6], loads[6];
    memcpy(mass, w->hull_mass, sizeof mass);
    for (int i = 0; i < 6; i++) rows[i] = DD_STATE_TWIST + i, loads[i] = i;
    return dynamic_rows(w, maps, at, j, n, 6, rows, loads, mass);
}

static int rig_rows(const dd_workspace *w, const dd_maps *maps, const dd_places *at, double *j, int n)
{
    double mass[DD_RIG_COORDINATES * DD_RIG_COORDINATES];
    int loads[DD_RIG_COORDINATES];
    const int count = w->free_rig_count;
    for (int f = 0; f < count; f++) {
        loads[f] = 6 + w->free_rig[f];
        for (int g = 0; g < count; g++) mass[f * count + g] = w->rig_mass[w->free_rig[f]][w->free_rig[g]];
    }
    return dynamic_rows(w, maps, at, j, n, count, at->rate, loads, mass);
}

/* Memory that stands for moving parts: its rate depends on where the hull is and on the force's other memory. */
static void moving_rows(const dd_workspace *w, const dd_maps *maps, const dd_places *at, const dd_system_force *force, double *j,
                        int n)
{
    const int m = force->memory_count;
    const double *block = force->block_first >= 0 ? w->rate_by_values + force->block_first : NULL;
    for (int i = 0; i < m; i++) {
        const double *by_pose = w->rate_by_pose[force->memory_first + i];
        double *row = j + (DD_STATE_MEMORY + force->memory_first + i) * n;
        for (int a = 0; a < 6; a++) {
            for (int c = 0; c < 7; c++) row[DD_STATE_POSITION + c] += by_pose[a] * maps->displacement[a][c];
            for (int f = 0; f < w->free_rig_count && force->kind->acts_on == DD_ACTS_ON_HULL; f++)
                row[at->rig[f]] += by_pose[a] * w->kinematics.carry[a][w->free_rig[f]];
        }
        for (int l = 0; l < m && block != NULL; l++)
            if (l != i) row[DD_STATE_MEMORY + force->memory_first + l] += block[i * m + l];
    }
}

static void memory_rows(const dd_workspace *w, const dd_maps *maps, const dd_places *at, double *j, int n)
{
    for (int m = 0; m < w->system->memory_count; m++) {
        double *row = j + (DD_STATE_MEMORY + m) * n;
        row[DD_STATE_MEMORY + m] = w->rate_by_value[m];
        for (int a = 0; a < 6; a++) row[DD_STATE_TWIST + a] = w->rate_by_twist[m][a];
        for (int c = 0; c < 7; c++)
            for (int a = 0; a < 6; a++) row[DD_STATE_POSITION + c] += w->rate_by_twist[m][a] * maps->relative_twist[a][c];
        for (int f = 0; f < w->free_rig_count; f++) {
            const int c = w->free_rig[f];
            row[at->rate[f]] = w->rate_by_rig[m][c];
            for (int a = 0; a < 6; a++) row[at->rate[f]] -= w->rate_by_twist[m][a] * w->kinematics.carry[a][c];
        }
    }
    for (int f = 0; f < w->system->force_count; f++) moving_rows(w, maps, at, &w->system->forces[f], j, n);
}

int dd_system_jacobian(double t, const double *y, double *dfdy, double *dfdt, void *context)
{
    dd_workspace *w = context;
    const int n = w->system->size;
    memset(dfdy, 0, (size_t)n * (size_t)n * sizeof(double));
    memset(dfdt, 0, (size_t)n * sizeof(double));
    if (dd_system_evaluate(w, t, y, DD_WANT_GRADIENT) != 0) return 1;
    dd_maps maps = map_states(&w->kinematics);
    const dd_places at = find_places(w);
    kinematic_rows(w, &maps, &at, dfdy, n);
    if (w->system->model.hull != NULL && hull_rows(w, &maps, &at, dfdy, n) != 0) return 1;
    if (w->system->model.rig != NULL && rig_rows(w, &maps, &at, dfdy, n) != 0) return 1;
    memory_rows(w, &maps, &at, dfdy, n);
    return 0;
}
