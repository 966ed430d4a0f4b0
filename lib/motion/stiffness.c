/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Loads and stiffness by the coordinates of statics. Moving parts that a force keeps in its memory follow the pose: at rest their
   rates are zero, rate(q, theta) = 0, so d(theta)/dq = -A^-1 P with A = d(rate)/d(theta), P = d(rate)/dq; with L = d(load)/d(theta)
   the stiffness of the whole is K + L A^-1 P. */
#include "lib/motion/equilibrium.h"
#include "lib/force/roller.h"
#include <gsl/gsl_linalg.h>
#include <string.h>

void dd_unbalanced(const dd_workspace *w, double load[DD_COORDINATES])
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

enum { MOST_PARTS = 64 }; /* moving parts of one force */

/* d(rate)/dq of one value by the coordinates of statics; what acts on the hull against the world moves with the rig's too. */
static void rate_by_coordinates(const dd_workspace *w, const dd_system_force *force, int value, double by[DD_COORDINATES])
{
    const double *pose = w->rate_by_pose[force->memory_first + value];
    memset(by, 0, DD_COORDINATES * sizeof(double));
    memcpy(by + DD_HULL_COORDINATE, pose, 6 * sizeof(double));
    if (force->kind->acts_on != DD_ACTS_ON_HULL) return;
    for (int c = 0; c < DD_RIG_COORDINATES; c++)
        for (int i = 0; i < 6; i++) by[c] += pose[i] * w->kinematics.carry[i][c];
}

static void load_by_part(const dd_workspace *w, const dd_system_force *force, int value, double by[DD_COORDINATES])
{
    const int m = force->memory_first + value;
    memcpy(by, w->rig_by_value[m], DD_RIG_COORDINATES * sizeof(double));
    memcpy(by + DD_HULL_COORDINATE, w->load_by_value[m], 6 * sizeof(double));
    if (force->kind->acts_on != DD_ACTS_ON_HULL) return;
    for (int c = 0; c < DD_RIG_COORDINATES; c++)
        for (int i = 0; i < 6; i++) by[c] += w->kinematics.carry[i][c] * w->load_by_value[m][i];
}

/* Of the parts' rates by their values: none but each by its own is other than 0. */
static bool each_by_itself(const double *a, int n)
{
    for (int i = 0; i < n; i++)
        for (int j = 0; j < n; j++)
            if (i != j && a[i * n + j] != 0) return false;
    return true;
}

/* a x = by, by every coordinate; by becomes x. false: it cannot be solved for. */
static bool solve_parts(double *a_, int n, double by[][DD_COORDINATES])
{
    int sign;
    double column[MOST_PARTS];
    size_t order[MOST_PARTS];
    gsl_matrix_view a = gsl_matrix_view_array(a_, (size_t)n, (size_t)n);
    gsl_vector_view x = gsl_vector_view_array(column, (size_t)n);
    gsl_permutation p = {.size = (size_t)n, .data = order};
    if (gsl_linalg_LU_decomp(&a.matrix, &p, &sign) != GSL_SUCCESS) return false;
    for (int c = 0; c < DD_COORDINATES; c++) {
        for (int i = 0; i < n; i++) column[i] = by[i][c];
        if (gsl_linalg_LU_svx(&a.matrix, &p, &x.vector) != GSL_SUCCESS) return false;
        for (int i = 0; i < n; i++) by[i][c] = column[i];
    }
    return true;
}

/* Parts at their stops have no slope: what cannot be solved for stands still. */
static void condense(const dd_workspace *w, const dd_system_force *force, double K[DD_COORDINATES][DD_COORDINATES])
{
    int part[MOST_PARTS], n = 0;
    for (int m = force->parts_first; m < force->parts_end && n < MOST_PARTS; m++)
        if (force->kind->follows(force->instance, m)) part[n++] = m;
    double a[MOST_PARTS * MOST_PARTS], by[MOST_PARTS][DD_COORDINATES], load[DD_COORDINATES];
    for (int i = 0; i < n; i++) {
        rate_by_coordinates(w, force, part[i], by[i]);
        for (int j = 0; j < n; j++)
            a[i * n + j] = i == j                   ? w->rate_by_value[force->memory_first + part[i]]
                           : force->block_first < 0 ? 0.0
                                                    : w->rate_by_values[force->block_first + part[i] * force->memory_count + part[j]];
    }
    if (each_by_itself(a, n)) {
        for (int i = 0; i < n; i++)
            if (a[i * n + i] == 0) return;
        for (int i = 0; i < n; i++)
            for (int c = 0; c < DD_COORDINATES; c++) by[i][c] /= a[i * n + i];
    } else if (!solve_parts(a, n, by)) {
        return;
    }
    for (int i = 0; i < n; i++) {
        load_by_part(w, force, part[i], load);
        for (int c = 0; c < DD_COORDINATES; c++)
            for (int r = 0; r < DD_COORDINATES && by[i][c] != 0; r++) K[r][c] += load[r] * by[i][c];
    }
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
    for (int f = 0; f < w->system->force_count; f++)
        if (w->system->forces[f].parts > 0) condense(w, &w->system->forces[f], K);
}

static const double alone = 1e-6; /* share of sway's and yaw's stiffness: less is rounding, of a boat held in one place */

/* Where no shape holds the hull sideways (a keel line on keel rollers), their grip does: load and bristle stiffness, as far as
   the bristles go with a shift. Without it the roll about G would carry the keel, and the load on it, to the side. */
static void add_sideways_grip(const dd_workspace *w, double K[DD_COORDINATES][DD_COORDINATES])
{
    const dd_system_force *rollers = dd_system_find(w->system, &dd_force_roller);
    for (int m = 0; rollers != NULL && m < DD_BRISTLES * w->system->model.rig->roller_count; m += DD_BRISTLES) { /* of each roller the first: across it */
        const double *load = w->load_by_value[rollers->memory_first + m], *rate = w->rate_by_twist[rollers->memory_first + m];
        for (int i = 0; i < 6; i++)
            for (int j = 0; j < 6; j++) K[DD_HULL_COORDINATE + i][DD_HULL_COORDINATE + j] -= load[i] * rate[j];
    }
}

/* Roll about the hull's long axis through its centre; sway and yaw follow where something holds them, sinkage and trim do. Yaw is
   about the vertical: about the boat's own axis it would heel a boat that lies trimmed, and one held at its bow alone, which turns
   freely about there, would seem to heel for nothing. */
double dd_roll_stiffness(const dd_workspace *w)
{
    double K[DD_COORDINATES][DD_COORDINATES];
    dd_stiffness(w, K);
    double held = 1e-3 * dd_hull_mass(w->system->model.hull)->mass * w->system->model.gravity;
    if (K[DD_HULL_COORDINATE + 1][DD_HULL_COORDINATE + 1] <= held) add_sideways_grip(w, K);
    dd_vec3 g = dd_hull_mass(w->system->model.hull)->centre;
    /* Columns: roll about G, then sway, yaw. Turning about G by phi moves the origin by -phi x G. */
    const dd_vec3 up = w->kinematics.up;
    const double basis[3][6] = {{0, g.z, -g.y, 1, 0, 0}, {0, 1, 0, 0, 0, 0}, {0, 0, 0, up.x, up.y, up.z}};
    double k[3][3];
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++) {
            k[i][j] = 0;
            for (int a = 0; a < 6; a++)
                for (int b = 0; b < 6; b++)
                    k[i][j] += basis[i][a] * basis[j][b] * K[DD_HULL_COORDINATE + a][DD_HULL_COORDINATE + b];
        }
    /* Schur complement of sway and yaw, each only where it is held. Rows are loads, columns displacements: of supports that slide, heel turns the boat
       by their friction, but its yaw does not heel it, and to take half of each would invent a stiffness. */
    double roll = k[0][0];
    double determinant = k[1][1] * k[2][2] - k[1][2] * k[2][1];
    if (k[1][1] > held && k[2][2] > held && determinant > alone * k[1][1] * k[2][2])
        roll -= (k[0][1] * (k[2][2] * k[1][0] - k[1][2] * k[2][0]) + k[0][2] * (k[1][1] * k[2][0] - k[2][1] * k[1][0])) / determinant;
    else if (k[1][1] > held) /* one place alone holds it: it turns about there, and yaw has no load of its own */
        roll -= k[0][1] * k[1][0] / k[1][1];
    return roll;
}
