/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Equations of motion.

   Hull (boat axes, about the boat's origin), M rigid-body and A added-mass matrix, w twist in the water, u the current in
   boat axes, W the sum of the forces:
     (M + A) dv/dt = W + bias(A) - (omega x P, omega x L + v x P) - A (omega x u - a, 0)
   a the water's acceleration at the hull's middle, following the hull (lib/state/moving_water.c).
   Rig: kinetic energy of vehicle and trailer by Lagrange in those coordinates that are free. */
#include "lib/motion/system.h"
#include <gsl/gsl_linalg.h>
#include <string.h>

static void rigid_body(const dd_mass_properties *body, double m[6][6])
{
    dd_mat3 c = dd_cross_matrix(body->centre), cc = dd_multiply(&c, &c);
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++) {
            m[i][j] = i == j ? body->mass : 0.0;
            m[i][3 + j] = -body->mass * c.m[i][j];
            m[3 + i][j] = body->mass * c.m[i][j];
            m[3 + i][3 + j] = body->inertia[i][j] - body->mass * cc.m[i][j];
        }
}

static void multiply6(const double a[6][6], const double x[6], double y[6])
{
    for (int i = 0; i < 6; i++) {
        y[i] = 0;
        for (int j = 0; j < 6; j++) y[i] += a[i][j] * x[j];
    }
}

static int solve(const double *matrix, int n, double *x)
{
    double copy[36];
    memcpy(copy, matrix, (size_t)(n * n) * sizeof(double));
    gsl_matrix_view m = gsl_matrix_view_array(copy, (size_t)n, (size_t)n);
    gsl_vector_view v = gsl_vector_view_array(x, (size_t)n);
    if (gsl_linalg_cholesky_decomp1(&m.matrix) != GSL_SUCCESS) return 1;
    return gsl_linalg_cholesky_svx(&m.matrix, &v.vector) != GSL_SUCCESS;
}

static int accelerate_hull(dd_workspace *w)
{
    const dd_kinematics *k = &w->kinematics;
    const double *twist = k->motion.twist;
    double momentum[6], stream[6] = {0}, dragged[6];
    rigid_body(dd_hull_mass(w->system->model.hull), w->hull_inertia);
    multiply6((const double(*)[6])w->hull_inertia, twist, momentum);
    dd_vec3 v = dd_vec(twist[0], twist[1], twist[2]), omega = dd_vec(twist[3], twist[4], twist[5]);
    dd_vec3 p = dd_vec(momentum[0], momentum[1], momentum[2]), l = dd_vec(momentum[3], momentum[4], momentum[5]);
    dd_vec3 linear = dd_cross(omega, p), angular = dd_add(dd_cross(omega, l), dd_cross(v, p));
    const double turning[6] = {linear.x, linear.y, linear.z, angular.x, angular.y, angular.z};
    dd_vec3 u = dd_vec(twist[0] - k->twist_in_water[0], twist[1] - k->twist_in_water[1], twist[2] - k->twist_in_water[2]);
    dd_vec3 turned = dd_cross(omega, u);
    const dd_vec3 quicker = k->moving.acceleration; /* of the water; zero where it does not move */
    stream[0] = turned.x - quicker.x, stream[1] = turned.y - quicker.y, stream[2] = turned.z - quicker.z;
    multiply6((const double(*)[6])w->added.A, stream, dragged);
    for (int i = 0; i < 6; i++) {
        w->hull_acceleration[i] = w->hull_load[i] + w->added.bias[i] - turning[i] - dragged[i];
        for (int j = 0; j < 6; j++) w->hull_mass[i][j] = w->hull_inertia[i][j] + w->added.A[i][j];
    }
    return solve(&w->hull_mass[0][0], 6, w->hull_acceleration);
}

/* Mass matrix of the free coordinates only; the others stand still. */
static int solve_free(dd_workspace *w)
{
    double mass[DD_RIG_COORDINATES * DD_RIG_COORDINATES], load[DD_RIG_COORDINATES];
    const int n = w->free_rig_count;
    for (int i = 0; i < n; i++) {
        load[i] = w->rig_acceleration[w->free_rig[i]];
        for (int j = 0; j < n; j++) mass[i * n + j] = w->rig_mass[w->free_rig[i]][w->free_rig[j]];
    }
    memset(w->rig_acceleration, 0, sizeof w->rig_acceleration);
    if (solve(mass, n, load) != 0) return 1;
    for (int i = 0; i < n; i++) w->rig_acceleration[w->free_rig[i]] = load[i];
    return 0;
}

/* The tilting bed turns at pitch + tilt about the hinge, which turns at pitch about the coupling. */
static void add_bed(const dd_rig *rig, const dd_kinematics *k, double x_rate, double pitch_rate,
                    double mass[DD_RIG_COORDINATES][DD_RIG_COORDINATES], double load[DD_RIG_COORDINATES])
{
    const dd_rig_body *bed = &rig->bed;
    const dd_vec3 axis = dd_vec(0, 1, 0), hinge = dd_sub(k->hinge, k->coupling);
    const dd_vec3 turned = dd_apply(&k->trailer_to_world, dd_sub(bed->centre, rig->hinge));
    const dd_vec3 column[DD_RIG_COORDINATES] = {k->vehicle.ball_x, dd_vec(0, 0, 1), dd_cross(axis, dd_add(hinge, turned)),
                                                dd_vec(1, 0, 0), dd_cross(axis, turned)};
    const double rate = pitch_rate + k->motion.rig[DD_RIG_TILT];
    dd_vec3 bias = dd_sub(dd_scale(x_rate * x_rate, k->vehicle.ball_xx), dd_scale(pitch_rate * pitch_rate, hinge));
    bias = dd_sub(bias, dd_scale(rate * rate, turned));
    for (int i = 0; i < DD_RIG_COORDINATES; i++) {
        load[i] -= bed->mass * dd_dot(column[i], bias);
        for (int j = 0; j < DD_RIG_COORDINATES; j++) mass[i][j] += bed->mass * dd_dot(column[i], column[j]);
    }
    mass[DD_RIG_PITCH][DD_RIG_PITCH] += bed->inertia;
    mass[DD_RIG_PITCH][DD_RIG_TILT] += bed->inertia;
    mass[DD_RIG_TILT][DD_RIG_PITCH] += bed->inertia;
    mass[DD_RIG_TILT][DD_RIG_TILT] += bed->inertia;
}

void dd_rig_inertia(const dd_rig *rig, const dd_kinematics *k, double mass[DD_RIG_COORDINATES][DD_RIG_COORDINATES],
                    double load[DD_RIG_COORDINATES])
{
    const dd_vehicle_parameters *vehicle = &rig->vehicle;
    const dd_rig_body *chassis = &rig->chassis;
    const dd_vec3 axis = dd_vec(0, 1, 0);
    dd_vec3 arm = dd_apply(&k->chassis_to_world, chassis->centre);
    dd_vec3 column[DD_RIG_COORDINATES] = {k->vehicle.ball_x, dd_vec(0, 0, 1), dd_cross(axis, arm), dd_vec(1, 0, 0),
                                          dd_vec(0, 0, 0)};
    double x_rate = k->motion.rig[DD_RIG_X], pitch_rate = k->motion.rig[DD_RIG_PITCH];
    dd_vec3 bias = dd_sub(dd_scale(x_rate * x_rate, k->vehicle.ball_xx),
                          dd_scale(pitch_rate * pitch_rate, arm)); /* centripetal: the arm lies in the plane of turning */
    double vehicle_inertia = vehicle->mass * vehicle->pitch_radius * vehicle->pitch_radius;
    for (int i = 0; i < DD_RIG_COORDINATES; i++) {
        load[i] -= chassis->mass * dd_dot(column[i], bias);
        for (int j = 0; j < DD_RIG_COORDINATES; j++) mass[i][j] = chassis->mass * dd_dot(column[i], column[j]);
    }
    mass[DD_RIG_PITCH][DD_RIG_PITCH] += chassis->inertia;
    if (rig->bed.mass > 0) add_bed(rig, k, x_rate, pitch_rate, mass, load);
    mass[DD_RIG_X][DD_RIG_X] += vehicle->mass * dd_dot(k->vehicle.centre_x, k->vehicle.centre_x) +
                                vehicle_inertia * k->vehicle.pitch_x * k->vehicle.pitch_x;
    load[DD_RIG_X] -= (vehicle->mass * dd_dot(k->vehicle.centre_x, k->vehicle.centre_xx) +
                       vehicle_inertia * k->vehicle.pitch_x * k->vehicle.pitch_xx) *
                      x_rate * x_rate;
}

static int accelerate_rig(dd_workspace *w)
{
    memcpy(w->rig_acceleration, w->rig_load, sizeof w->rig_acceleration);
    dd_rig_inertia(w->system->model.rig, &w->kinematics, w->rig_mass, w->rig_acceleration);
    return solve_free(w);
}

/* At rest only K is asked for, of the hull or of the rig. */
static void clear_stiffness(dd_gradient *g, dd_acts_on acts_on)
{
    if (acts_on == DD_ACTS_ON_RIG)
        memset(g->rig_K, 0, sizeof g->rig_K);
    else
        memset(g->K, 0, sizeof g->K);
}

static void add_stiffness(dd_gradient *sum, const dd_gradient *one, dd_acts_on acts_on)
{
    if (acts_on == DD_ACTS_ON_RIG) {
        for (int i = 0; i < DD_RIG_COORDINATES; i++)
            for (int j = 0; j < DD_RIG_COORDINATES; j++) sum->rig_K[i][j] += one->rig_K[i][j];
        return;
    }
    for (int i = 0; i < 6; i++)
        for (int j = 0; j < 6; j++) sum->K[i][j] += one->K[i][j];
}

static void add_gradient(dd_gradient *sum, const dd_gradient *one)
{
    for (int i = 0; i < 6; i++)
        for (int j = 0; j < 6; j++) {
            sum->K[i][j] += one->K[i][j];
            sum->D[i][j] += one->D[i][j];
        }
    for (int i = 0; i < DD_RIG_COORDINATES; i++)
        for (int j = 0; j < DD_RIG_COORDINATES; j++) {
            sum->rig_K[i][j] += one->rig_K[i][j];
            sum->rig_D[i][j] += one->rig_D[i][j];
        }
}

void dd_system_force_load(const dd_workspace *w, int force, double hull[6], double rig[DD_RIG_COORDINATES])
{
    const dd_load *load = &w->loads[force];
    memcpy(hull, load->hull, 6 * sizeof(double));
    memcpy(rig, load->rig, DD_RIG_COORDINATES * sizeof(double));
    if (w->system->forces[force].kind->acts_on == DD_ACTS_BETWEEN)
        for (int c = 0; c < DD_RIG_COORDINATES; c++)
            for (int i = 0; i < 6; i++) rig[c] -= w->kinematics.carry[i][c] * load->hull[i];
}

/* At rest only what statics read: loads by the memory, rates by the hull's twist, and all of moving parts that follow the pose. */
static void ask_for_memory(dd_workspace *w, const dd_system_force *force, dd_memory *memory)
{
    const int m = force->memory_first;
    const bool at_rest = w->kinematics.at_rest;
    memory->load_by_value = w->load_by_value + m;
    if ((w->kinematics.leave_out & DD_LEAVE_OUT_GRIP) == 0) memory->rate_by_twist = w->rate_by_twist + m;
    if (at_rest && force->parts == 0) return;
    memory->rate_by_twist = w->rate_by_twist + m;
    memory->rig_by_value = w->rig_by_value + m;
    memory->rate_by_value = w->rate_by_value + m;
    memory->rate_by_pose = w->rate_by_pose + m;
    if (!at_rest) memory->rate_by_rig = w->rate_by_rig + m, memory->rate_by_place = w->rate_by_place + m;
    if (force->block_first >= 0) memory->rate_by_values = w->rate_by_values + force->block_first;
    if (w->system->sinking > 0 && !at_rest) memory->rig_by_sunk = w->rig_by_sunk;
}

/* At rest, of what is asked for moving parts alone, only their rows are read. */
static void clear_memory(const dd_system_force *force, bool at_rest, const dd_memory *memory)
{
    const size_t m = (size_t)force->memory_count, from = at_rest ? (size_t)force->parts_first : 0, n = at_rest ? (size_t)force->parts_end - from : m;
    memset(memory->load_by_value, 0, m * sizeof *memory->load_by_value);
    if (memory->rate_by_twist != NULL) memset(memory->rate_by_twist, 0, m * sizeof *memory->rate_by_twist);
    if (memory->rate_by_value == NULL) return;
    memset(memory->rig_by_value + from, 0, n * sizeof *memory->rig_by_value);
    memset(memory->rate_by_value + from, 0, n * sizeof(double));
    memset(memory->rate_by_pose + from, 0, n * sizeof *memory->rate_by_pose);
    if (memory->rate_by_rig != NULL) memset(memory->rate_by_rig, 0, m * sizeof *memory->rate_by_rig);
    if (memory->rate_by_place != NULL) memset(memory->rate_by_place, 0, m * sizeof *memory->rate_by_place);
    if (memory->rate_by_values != NULL) memset(memory->rate_by_values + from * m, 0, n * m * sizeof(double));
}

/* rests: memory_values, to be brought to rest; NULL: as they are. */
static void evaluate_force(dd_workspace *w, int index, const double *memory_values, double *rests, int want, dd_gradient *one)
{
    const dd_system_force *force = &w->system->forces[index];
    const int m = force->memory_first;
    const bool gradient = (want & (DD_WANT_GRADIENT | DD_WANT_STIFFNESS)) != 0;
    dd_memory memory = {.value = memory_values + m, .rate = w->memory_rate + m};
    if (rests != NULL && force->kind->rests_as_evaluated) memory.rests = rests + m, memory.rest_by_pose = w->rest_by_pose + m;
    if (gradient) {
        ask_for_memory(w, force, &memory);
        clear_memory(force, w->kinematics.at_rest, &memory);
    }
    const dd_acts_on acts_on = force->kind->acts_on;
    if (gradient && w->kinematics.at_rest)
        clear_stiffness(one, acts_on);
    else if (gradient)
        memset(one, 0, sizeof *one);
    double *channels = (want & DD_WANT_CHANNELS) != 0 ? w->channels + force->channel_first : NULL;
    force->kind->evaluate(force->instance, &w->kinematics, &w->commands, &memory, &w->loads[index], gradient ? one : NULL,
                          channels);
    if (!gradient) return;
    dd_gradient *sum = acts_on == DD_ACTS_ON_HULL ? &w->hull_gradient : acts_on == DD_ACTS_BETWEEN ? &w->between_gradient : &w->rig_gradient;
    if (w->kinematics.at_rest)
        add_stiffness(sum, one, acts_on);
    else
        add_gradient(sum, one);
}

static void clear(dd_workspace *w, int want)
{
    memset(w->loads, 0, (size_t)w->system->force_count * sizeof *w->loads);
    memset(w->memory_rate, 0, (size_t)w->system->memory_count * sizeof(double));
    memset(w->hull_load, 0, sizeof w->hull_load);
    memset(w->rig_load, 0, sizeof w->rig_load);
    w->bad = NULL;
    if ((want & DD_WANT_CHANNELS) != 0) memset(w->channels, 0, (size_t)w->system->channel_count * sizeof(double));
    if ((want & (DD_WANT_GRADIENT | DD_WANT_STIFFNESS)) == 0) return;
    if (w->kinematics.at_rest) {
        clear_stiffness(&w->hull_gradient, DD_ACTS_ON_HULL);
        clear_stiffness(&w->between_gradient, DD_ACTS_BETWEEN);
        clear_stiffness(&w->rig_gradient, DD_ACTS_ON_RIG);
        return;
    }
    memset(&w->hull_gradient, 0, sizeof w->hull_gradient);
    memset(&w->between_gradient, 0, sizeof w->between_gradient);
    memset(&w->rig_gradient, 0, sizeof w->rig_gradient);
    memset(w->rig_by_sunk, 0, sizeof w->rig_by_sunk);
}

static int sum_loads(dd_workspace *w)
{
    for (int f = 0; f < w->system->force_count; f++) {
        double hull[6], rig[DD_RIG_COORDINATES], check = 0;
        dd_system_force_load(w, f, hull, rig);
        for (int i = 0; i < 6; i++) {
            w->hull_load[i] += hull[i];
            check += hull[i];
        }
        for (int c = 0; c < DD_RIG_COORDINATES; c++) {
            w->rig_load[c] += rig[c];
            check += rig[c];
        }
        for (int m = 0; m < w->system->forces[f].memory_count; m++)
            check += w->memory_rate[w->system->forces[f].memory_first + m];
        if (!isfinite(check)) {
            w->bad = w->system->forces[f].kind;
            return 1;
        }
    }
    return 0;
}

static double smooth_step(double from, double to, double start, double duration, double t)
{
    if (t >= start + duration) return to;
    const double s = duration > 0 ? fmax(0.0, (t - start) / duration) : 0.0;
    return from + (to - from) * s * s * (3.0 - 2.0 * s);
}

double dd_ramped_at(const dd_ramped *r, double t)
{
    return t < r->start && r->earlier_duration > 0 ? smooth_step(r->earlier_from, r->earlier_to, r->earlier_start, r->earlier_duration, t)
                                                   : smooth_step(r->from, r->to, r->start, r->duration, t);
}

void dd_ramped_move(dd_ramped *ramped, double to, double start, double duration)
{
    const dd_ramped was = *ramped;
    const bool unbegun = start < was.start && was.earlier_duration > 0;
    *ramped = (dd_ramped){.from = dd_ramped_at(&was, start),
                          .to = to,
                          .start = start,
                          .duration = duration,
                          .earlier_from = unbegun ? was.earlier_from : was.from,
                          .earlier_to = unbegun ? was.earlier_to : was.to,
                          .earlier_start = unbegun ? was.earlier_start : was.start,
                          .earlier_duration = unbegun ? was.earlier_duration : was.duration};
}

dd_commands dd_plan_at(const dd_plan *plan, double t)
{
    dd_commands c = plan->set;
    c.drive_speed = dd_ramped_at(&plan->drive_speed, t);
    c.brake = dd_ramped_at(&plan->brake, t);
    c.park_lock = dd_ramped_at(&plan->park_lock, t);
    c.push_force = dd_ramped_at(&plan->push_force, t);
    c.wind_speed = dd_ramped_at(&plan->wind_speed, t);
    c.throttle = dd_ramped_at(&plan->throttle, t);
    c.helm = dd_ramped_at(&plan->helm, t);
    c.engine_tilt = dd_ramped_at(&plan->engine_tilt, t);
    c.hand_line_force = dd_ramped_at(&plan->hand_line_force, t);
    return c;
}

/* What the wheels' memory has of their sinking, for all forces; and what these make of it, into the memory's rows. */
static void show_sunk(const dd_system *system, const double *memory, dd_kinematics *k)
{
    for (int a = 0; a < system->sinking; a++) {
        k->stood[a] = memory[system->sunk_first + a];
        k->rut[a] = memory[system->sunk_first + system->sinking + a];
    }
}

static void add_sunk(dd_workspace *w)
{
    const dd_system *system = w->system;
    for (int a = 0; a < system->sinking; a++)
        for (int c = 0; c < DD_RIG_COORDINATES; c++) {
            w->rig_by_value[system->sunk_first + a][c] += w->rig_by_sunk[a][c];
            w->rig_by_value[system->sunk_first + system->sinking + a][c] += w->rig_by_sunk[DD_WHEELED + a][c];
        }
}

void dd_system_place(dd_workspace *w, double t, const double *y)
{
    dd_pose pose;
    dd_motion motion;
    const dd_system *system = w->system;
    w->commands = dd_plan_at(&w->plan, t);
    dd_system_unpack(system, y, &pose, &motion);
    w->free_rig_count = 0;
    for (int c = 0; c < DD_RIG_COORDINATES; c++)
        if (dd_rig_coordinate_free(system, &w->commands, c))
            w->free_rig[w->free_rig_count++] = c;
        else
            motion.rig[c] = 0;
    dd_kinematics_again(&system->model, t, &pose, &motion, &w->kinematics);
    show_sunk(system, y + DD_STATE_MEMORY, &w->kinematics);
}

int dd_system_accelerate(dd_workspace *w)
{
    const dd_system *system = w->system;
    if (system->added_mass != NULL) dd_added_mass_evaluate(system->added_mass, &w->kinematics, &w->added);
    if (system->model.hull != NULL && accelerate_hull(w) != 0) return 1;
    return system->model.rig != NULL && accelerate_rig(w) != 0;
}

int dd_system_evaluate(dd_workspace *w, double t, const double *y, int want)
{
    const dd_system *system = w->system;
    const double *memory = y + DD_STATE_MEMORY;
    double *rests = (want & DD_WANT_REST) != 0 ? w->rested : NULL;
    if (rests != NULL) memory = memcpy(rests, memory, (size_t)system->memory_count * sizeof(double));
    dd_system_place(w, t, y);
    w->kinematics.at_rest = rests != NULL || ((want & DD_WANT_STIFFNESS) != 0 && (want & DD_WANT_GRADIENT) == 0);
    w->kinematics.leave_out = w->kinematics.at_rest ? w->leave_out : 0;
    clear(w, want);
    dd_gradient one;
    memset(&one, 0, sizeof one);
    for (int f = 0; f < system->force_count; f++) evaluate_force(w, f, memory, rests, want, &one);
    if ((want & DD_WANT_GRADIENT) != 0) add_sunk(w);
    if (sum_loads(w) != 0) return 1;
    memset(&w->added, 0, sizeof w->added);
    memset(w->hull_acceleration, 0, sizeof w->hull_acceleration);
    memset(w->rig_acceleration, 0, sizeof w->rig_acceleration);
    if ((want & (DD_WANT_ACCELERATION | DD_WANT_GRADIENT)) == 0) return 0;
    return dd_system_accelerate(w);
}

double dd_system_heat(dd_workspace *w, double t, const double *y, const dd_force_kind *but)
{
    double heat = 0;
    dd_system_place(w, t, y);
    w->kinematics.at_rest = false;
    w->kinematics.leave_out = 0;
    for (int f = 0; f < w->system->force_count; f++) {
        const dd_system_force *force = &w->system->forces[f];
        if (!force->kind->passive || force->kind == but) continue;
        memset(&w->loads[f], 0, sizeof w->loads[f]);
        memset(w->memory_rate + force->memory_first, 0, (size_t)force->memory_count * sizeof(double));
        evaluate_force(w, f, y + DD_STATE_MEMORY, NULL, 0, NULL);
        heat += w->loads[f].heat;
    }
    return heat;
}

void dd_system_rates(const dd_workspace *w, double *dydt)
{
    const dd_kinematics *k = &w->kinematics;
    const double *r = k->relative_twist;
    for (int i = 0; i < w->system->coordinates; i++) {
        dydt[dd_state_rig(w->system, i)] = k->motion.rig[i];
        dydt[dd_state_rig_rate(w->system, i)] = w->rig_acceleration[i];
    }
    dd_vec3 velocity = dd_apply(&k->to_trailer, dd_vec(r[0], r[1], r[2]));
    dydt[DD_STATE_POSITION] = velocity.x;
    dydt[DD_STATE_POSITION + 1] = velocity.y;
    dydt[DD_STATE_POSITION + 2] = velocity.z;
    dd_quaternion q = dd_quaternion_multiply(k->pose.attitude, (dd_quaternion){0, 0.5 * r[3], 0.5 * r[4], 0.5 * r[5]});
    dydt[DD_STATE_ATTITUDE] = q.w;
    dydt[DD_STATE_ATTITUDE + 1] = q.x;
    dydt[DD_STATE_ATTITUDE + 2] = q.y;
    dydt[DD_STATE_ATTITUDE + 3] = q.z;
    for (int i = 0; i < 6; i++) dydt[DD_STATE_TWIST + i] = w->hull_acceleration[i];
}

int dd_system_derivative(double t, const double *y, double *dydt, void *context)
{
    dd_workspace *w = context;
    if (dd_system_evaluate(w, t, y, DD_WANT_ACCELERATION) != 0) return 1;
    dd_system_rates(w, dydt);
    for (int i = 0; i < w->system->memory_count; i++) dydt[DD_STATE_MEMORY + i] = w->memory_rate[i];
    return 0;
}
