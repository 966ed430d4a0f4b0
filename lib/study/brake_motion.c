/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Equations of a rig that stops.

   Axes along the ground: t seaward (aft), n up; v the speed ahead. A wheel of speed w (rad/s, ahead) slips by s = (v - R w)/sqrt(v^2 +
   v0^2) and is held back by F = N mu(s):
       J dw/dt = F R - T sgn(w) - c N R,    T its brake's torque, c the rolling resistance; heat F (v - R w) + T |w| + c N R w.
   F acts at the trailer's hub and T turns its chassis nose down. The vehicle's axle loads follow from its balance, inertia and the turning
   of its wheels included, in its own axes about the rear contact (a the acceleration aft, d and h the centre ahead and up, b and h_b the
   ball aft and up, B the ball's force on it, D the air's at the centre's height):
       L N_front = -h (W_t + D - m a) - d W_n - h_b B_t + b B_n - sum J dw/dt,   N_front + N_rear = -W_n - B_n.
   Accelerations are linear in the forces and these in the two loads, so that three evaluations give the loads exactly. */
#include "lib/study/brake_motion.h"
#include "lib/base/error.h"
#include "lib/force/axles.h"
#include "lib/force/coupling.h"
#include "lib/force/force.h"
#include "lib/motion/system.h"
#include "lib/ode/gsl.h"
#include <gsl/gsl_linalg.h>
#include <stdlib.h>
#include <string.h>

#define SLOW 0.3         /* m/s: slip is by at least this speed */
#define TURNING 0.3      /* rad/s over which a brake's torque sets in with the turning */
#define AIR_DENSITY 1.225 /* kg/m3, ICAO standard atmosphere at sea level */
enum { FREE = 4 };

double dd_slip_friction(const dd_brake_road *road, double slip)
{
    const double x = fabs(slip) / road->peak_slip;
    const double share = x < 1 ? 2 * x / (1 + x * x)
                               : 1 - (1 - road->slide) * dd_brake_smooth((fabs(slip) - road->peak_slip) / (1 - road->peak_slip));
    return copysign(road->friction * share, slip);
}

dd_status dd_brake_motion_begin(dd_brake_motion *m, const dd_brake_rig *rig, const dd_stop_asked *asked, dd_error *error)
{
    *m = (dd_brake_motion){.rig = rig, .asked = asked};
    dd_gsl_quiet();
    dd_status status = dd_force_rig_weight.prepare(&rig->model, NULL, &m->weight, error);
    if (status == DD_OK) status = dd_force_coupling.prepare(&rig->model, NULL, &m->coupling, error);
    if (status == DD_OK) status = dd_force_axles.prepare(&rig->model, NULL, &m->axles, error);
    if (status != DD_OK) dd_brake_motion_end(m);
    return status;
}

void dd_brake_motion_end(dd_brake_motion *m)
{
    if (m->weight != NULL) dd_force_rig_weight.free(m->weight);
    if (m->coupling != NULL) dd_force_coupling.free(m->coupling);
    if (m->axles != NULL) dd_force_axles.free(m->axles);
    m->weight = m->coupling = m->axles = NULL;
}

void dd_brake_motion_start(const dd_brake_motion *m, double *y)
{
    const dd_brake_rig *r = m->rig;
    memset(y, 0, DD_BRAKE_SIZE * sizeof *y);
    for (int i = 0; i < FREE; i++) y[i] = r->rest.rig[i];
    y[DD_BRAKE_RATES] = -m->asked->speed / r->steepness;
    for (int a = 0; a < 2 + r->rig->trailer.axle_count; a++)
        y[DD_BRAKE_SPINS + a] = m->asked->speed / (a < 2 ? r->rig->vehicle.tyre_radius : r->rig->trailer.tyre_radius);
}

/* One axle at this state. */
typedef struct axle {
    double speed, spin, radius, inertia, load, grip, torque, spin_rate;
    double column[FREE]; /* displacement of its hub along t by each coordinate */
} axle;

typedef struct look {
    dd_kinematics k;
    int axle_count;
    axle at[DD_BRAKE_AXLES];
    double load[DD_RIG_COORDINATES], mass[DD_RIG_COORDINATES][DD_RIG_COORDINATES];
    double reach_load;    /* of all but the ball, on the reach */
    double ball_up;       /* of the ball on the trailer, N */
    double push;          /* the same along the world's x, aft > 0, once known */
    double tx, tz, air[2]; /* drag of vehicle and trailer, aft > 0 */
    double acceleration[FREE];
    dd_brake_output system;
    double command;       /* to brakes that are controlled */
    bool slides;
} look;

/* ABS: eases the pedal's torque where the wheel slips more than the peak. */
static double eased(const dd_brake_motion *m, double slip)
{
    if (m->rig->rig->vehicle.braking.anti_lock != 1) return 1;
    const double peak = m->asked->road.peak_slip;
    return 1 - dd_brake_smooth((slip - 0.9 * peak) / (0.6 * peak));
}

static double slip_of(const axle *a) { return (a->speed - a->radius * a->spin) / sqrt(a->speed * a->speed + SLOW * SLOW); }

static void look_at_vehicle(const dd_brake_motion *m, const double *y, look *l)
{
    const dd_vehicle_parameters *v = &m->rig->rig->vehicle;
    const double force = v->mass * v->braking.deceleration * m->asked->pedal * m->asked->vehicle_share * y[DD_BRAKE_BUILT];
    for (int i = 0; i < 2; i++) {
        axle *a = &l->at[i];
        *a = (axle){.speed = -y[DD_BRAKE_RATES] * m->rig->steepness, .spin = y[DD_BRAKE_SPINS + i], .radius = v->tyre_radius,
                    .inertia = 2 * v->braking.wheel_inertia, .column = {m->rig->steepness}};
        const double share = i == 0 ? v->braking.front_share : 1 - v->braking.front_share, slip = slip_of(a);
        a->grip = dd_slip_friction(&m->asked->road, slip);
        a->torque = force * share * a->radius * eased(m, slip);
    }
}

static void look_at_trailer(const dd_brake_motion *m, const double *y, look *l)
{
    const dd_brake_rig *r = m->rig;
    double braked = 0;
    for (int i = 0; i < r->rig->trailer.axle_count; i++) {
        dd_axle_contact c;
        dd_axle_contact_plain(r->rig, r->ramp, &l->k, i, &c);
        axle *a = &l->at[2 + i];
        *a = (axle){.speed = -(l->tx * c.velocity_x.v + l->tz * c.velocity_z.v), .spin = y[DD_BRAKE_SPINS + 2 + i],
                    .radius = r->rig->trailer.tyre_radius, .inertia = 2 * r->rig->trailer.braking.wheel_inertia, .load = c.load.v};
        for (int q = 0; q < FREE; q++) a->column[q] = l->tx * c.column_x[q].v + l->tz * c.column_z[q].v;
        a->grip = dd_slip_friction(&m->asked->road, slip_of(a));
        if (i < r->braked_axles) braked += r->axle_rest[2 + i];
    }
    for (int i = 0; i < r->braked_axles; i++) /* each axle's brakes are sized by what it carries at rest */
        l->at[2 + i].torque = m->asked->trailer_share * l->system.torque * (braked > 0 ? r->axle_rest[2 + i] / braked : 0);
}

static void look_at_system(const dd_brake_motion *m, double t, const double *y, look *l)
{
    const dd_brake_rig *r = m->rig;
    const dd_brake_kind *kind = m->asked->system;
    dd_brake_input in = {.time = t, .deceleration = y[DD_BRAKE_FELT], .braked_axles = r->braked_axles, .reversing = l->at[0].speed < -0.01};
    l->slides = kind->slides;
    in.squeeze = -y[DD_BRAKE_REACH];
    in.squeeze_rate = -y[DD_BRAKE_RATES + DD_BRAKE_REACH];
    if (kind->controlled)
        in.command = isnan(m->asked->lever) ? dd_controller_command(&r->brakes.controller, t, y[DD_BRAKE_FELT], r->model.gravity) : m->asked->lever;
    l->command = in.command;
    kind->evaluate(&r->brakes, &in, y + DD_BRAKE_SYSTEM, &l->system);
}

static void add_force(const dd_force_kind *kind, void *instance, look *l, dd_brake_motion *m, double *heave)
{
    const dd_commands commands = {0};
    const dd_memory none = {0};
    dd_load load = {{0}, {0}, 0, 0};
    kind->evaluate(instance, &l->k, &commands, &none, &load, NULL, NULL);
    for (int c = 0; c < DD_RIG_COORDINATES; c++) l->load[c] += load.rig[c];
    m->stored += load.energy;
    m->power[DD_HEAT_DAMPERS] += load.heat;
    if (heave != NULL) *heave = load.rig[DD_RIG_HEAVE];
}

/* Force along the world's x with which the ball and its load together push by what the coupling's springs and damper give along t. */
static double level_push(const look *l) { return (l->system.push - l->ball_up * l->tz) / l->tx; }

static double drag(double area, double speed) { return 0.5 * AIR_DENSITY * area * speed * fabs(speed); }

/* Everything but the tyres' forces. */
static void look_around(dd_brake_motion *m, double t, const double *y, look *l)
{
    const dd_brake_rig *r = m->rig;
    dd_pose pose = {.attitude = {0, 0, 0, 1}};
    dd_motion motion = {{0}, {0}};
    memset(l, 0, sizeof *l);
    for (int q = 0; q < FREE; q++) {
        pose.rig[q] = y[q];
        motion.rig[q] = y[DD_BRAKE_RATES + q];
    }
    dd_kinematics_of(&r->model, t, &pose, &motion, &l->k);
    l->axle_count = 2 + r->rig->trailer.axle_count;
    l->tx = 1 / r->steepness;
    l->tz = r->slope / r->steepness;
    m->stored = 0;
    memset(m->power, 0, sizeof m->power);
    add_force(&dd_force_rig_weight, m->weight, l, m, NULL);
    add_force(&dd_force_coupling, m->coupling, l, m, &l->ball_up);
    add_force(&dd_force_axles, m->axles, l, m, NULL);
    look_at_vehicle(m, y, l);
    look_at_system(m, t, y, l);
    look_at_trailer(m, y, l);
    const double v = l->at[0].speed;
    l->air[0] = drag(r->rig->vehicle.braking.drag_area, v);
    l->air[1] = drag(r->rig->trailer.braking.drag_area, v);
    m->power[DD_HEAT_AIR] = (l->air[0] + l->air[1]) * v - l->air[1] * l->tx * y[DD_BRAKE_RATES + DD_BRAKE_REACH];
    m->power[DD_HEAT_DAMPERS] += l->system.damped;
    m->stored += l->system.stored;
    /* The coupling slides level, its force is along t: the rest of the work, on a grade, is told with the dampers'. */
    if (l->slides) m->power[DD_HEAT_DAMPERS] -= (level_push(l) - l->system.push) * y[DD_BRAKE_RATES + DD_BRAKE_REACH];
    /* The air's force acts on the vehicle and, on the trailer, along t at its centre's height: it does no work there but along the path. */
    l->load[DD_RIG_X] += (l->air[0] + l->air[1]) * r->steepness;
    l->load[DD_RIG_REACH] += l->air[1] * l->tx;
}

/* What its brake holds a turning wheel by, and rolling resistance, N m. */
static double holding_of(const axle *a) { return a->torque * a->spin / sqrt(a->spin * a->spin + TURNING * TURNING); }
static double rolling_of(const dd_brake_motion *m, const axle *a)
{
    return m->asked->road.rolling_resistance * a->load * a->radius * tanh(a->spin / TURNING);
}

/* Accelerations and spins with these loads on the vehicle's axles; returns what the loads then are. */
static int respond(const dd_brake_motion *m, look *l, const double loads[2], double found[2])
{
    const dd_brake_rig *r = m->rig;
    const dd_vehicle_parameters *v = &r->rig->vehicle;
    double q[DD_RIG_COORDINATES], turning = 0;
    memcpy(q, l->load, sizeof q);
    for (int i = 0; i < l->axle_count; i++) {
        axle *a = &l->at[i];
        if (i < 2) a->load = loads[i];
        const double force = a->load * a->grip, holding = holding_of(a);
        a->spin_rate = (force * a->radius - holding - rolling_of(m, a)) / a->inertia;
        for (int c = 0; c < FREE; c++) q[c] += force * a->column[c];
        if (i >= 2) q[DD_RIG_PITCH] -= holding;
        if (i < 2) turning += a->inertia * a->spin_rate;
    }
    dd_rig_inertia(r->rig, &l->k, l->mass, q);
    l->reach_load = q[DD_RIG_REACH];
    const int n = l->slides ? FREE : FREE - 1;
    if (l->slides) q[DD_RIG_REACH] += level_push(l);
    double matrix[FREE * FREE];
    for (int i = 0; i < n; i++)
        for (int j = 0; j < n; j++) matrix[i * n + j] = l->mass[i][j];
    gsl_matrix_view a = gsl_matrix_view_array(matrix, (size_t)n, (size_t)n);
    gsl_vector_view x = gsl_vector_view_array(q, (size_t)n);
    if (gsl_linalg_cholesky_decomp1(&a.matrix) != GSL_SUCCESS || gsl_linalg_cholesky_svx(&a.matrix, &x.vector) != GSL_SUCCESS) return 1;
    l->push = -l->reach_load;
    for (int c = 0; c < FREE; c++) {
        l->acceleration[c] = c < n ? q[c] : 0;
        l->push += l->mass[DD_RIG_REACH][c] * l->acceleration[c];
    }
    const double ball_x = -l->push, ball_z = -l->ball_up, weight = v->mass * r->model.gravity;
    const double along = ball_x * l->tx + ball_z * l->tz, up = -ball_x * l->tz + ball_z * l->tx;
    const double aft = l->acceleration[DD_RIG_X] * r->steepness, ahead = v->wheelbase - v->centre_behind_front_axle;
    found[0] = (-v->centre_height * (-weight * l->tz + l->air[0] - v->mass * aft) + ahead * weight * l->tx - v->coupling_height * along +
                v->coupling_behind_rear_axle * up - turning) / v->wheelbase;
    found[1] = weight * l->tx - up - found[0];
    return 0;
}

/* found = base + A loads; loads such that both are the same, none below zero. */
static int find_loads(dd_brake_motion *m, look *l)
{
    double loads[2] = {0, 0}, base[2], by[2][2], found[2];
    if (respond(m, l, loads, base) != 0) return 1;
    const double unit = m->rig->rig->vehicle.mass * m->rig->model.gravity;
    for (int i = 0; i < 2; i++) {
        loads[i] = unit;
        loads[1 - i] = 0;
        if (respond(m, l, loads, found) != 0) return 1;
        for (int j = 0; j < 2; j++) by[j][i] = (found[j] - base[j]) / unit;
    }
    const double a = 1 - by[0][0], b = -by[0][1], c = -by[1][0], d = 1 - by[1][1], determinant = a * d - b * c;
    loads[0] = (d * base[0] - b * base[1]) / determinant;
    loads[1] = (a * base[1] - c * base[0]) / determinant;
    m->lifted = !(loads[0] > 0) || !(loads[1] > 0);
    for (int i = 0; i < 2; i++)
        if (!(loads[i] > 0)) {
            loads[i] = 0;
            loads[1 - i] = fmax(0, base[1 - i] / (1 - by[1 - i][1 - i]));
        }
    return respond(m, l, loads, found);
}

static void remember(dd_brake_motion *m, double t, const double *y, const look *l)
{
    const dd_brake_rig *r = m->rig;
    dd_stop_sample *s = &m->seen;
    *s = (dd_stop_sample){.time = t,
                          .distance = -(y[DD_BRAKE_X] - r->rest.rig[DD_RIG_X]) * r->steepness,
                          .speed = l->at[0].speed,
                          .deceleration = l->acceleration[DD_RIG_X] * r->steepness,
                          .push = l->push * l->tx + l->ball_up * l->tz,
                          .coupling_load = -l->push * l->tz + l->ball_up * l->tx,
                          .squeeze = -y[DD_BRAKE_REACH],
                          .command = l->command};
    m->kinetic = 0;
    for (int i = 0; i < FREE; i++)
        for (int j = 0; j < FREE; j++) m->kinetic += 0.5 * l->mass[i][j] * y[DD_BRAKE_RATES + i] * y[DD_BRAKE_RATES + j];
    for (int i = 0; i < l->axle_count; i++) {
        const axle *a = &l->at[i];
        const double force = a->load * a->grip, holding = holding_of(a);
        const int brake = i == 0 ? DD_HEAT_FRONT : i == 1 ? DD_HEAT_REAR : DD_HEAT_TRAILER;
        s->slip[i] = slip_of(a);
        s->load[i] = a->load;
        s->force[i] = force;
        s->torque[i] = a->torque;
        m->kinetic += 0.5 * a->inertia * a->spin * a->spin;
        m->power[brake] += holding * (a->spin + (i >= 2 ? y[DD_BRAKE_RATES + DD_BRAKE_PITCH] : 0)); /* against a chassis that turns */
        m->power[DD_HEAT_SLIP] += force * (a->speed - a->radius * a->spin);
        m->power[DD_HEAT_ROLLING] += rolling_of(m, a) * a->spin;
    }
}

int dd_brake_motion_derivative(double t, const double *y, double *dydt, void *context)
{
    dd_brake_motion *m = context;
    look l;
    memset(dydt, 0, DD_BRAKE_SIZE * sizeof *dydt);
    look_around(m, t, y, &l);
    if (find_loads(m, &l) != 0) return 1;
    remember(m, t, y, &l);
    for (int c = 0; c < FREE; c++) {
        dydt[c] = y[DD_BRAKE_RATES + c];
        dydt[DD_BRAKE_RATES + c] = l.acceleration[c];
    }
    for (int i = 0; i < l.axle_count; i++) dydt[DD_BRAKE_SPINS + i] = l.at[i].spin_rate;
    dydt[DD_BRAKE_BUILT] = (1 - y[DD_BRAKE_BUILT]) / m->rig->rig->vehicle.braking.rise_time;
    dydt[DD_BRAKE_FELT] = (m->seen.deceleration - y[DD_BRAKE_FELT]) / m->rig->brakes.controller.sensor_lag;
    for (int i = 0; i < m->asked->system->state_count; i++) dydt[DD_BRAKE_SYSTEM + i] = l.system.rate[i];
    for (int i = 0; i < DD_HEATS; i++) dydt[DD_BRAKE_SUMS + i] = m->power[i];
    return 0;
}

int dd_brake_motion_jacobian(double t, const double *y, double *dfdy, double *dfdt, void *context)
{
    double at[DD_BRAKE_SIZE], up[DD_BRAKE_SIZE], down[DD_BRAKE_SIZE];
    memcpy(at, y, sizeof at);
    memset(dfdy, 0, DD_BRAKE_SIZE * DD_BRAKE_SIZE * sizeof *dfdy);
    memset(dfdt, 0, DD_BRAKE_SIZE * sizeof *dfdt); /* commands change over tenths of a second: left to the corrector */
    for (int j = 1; j < DD_BRAKE_FED; j++) { /* the place along an even slope changes nothing */
        const double h = 1e-6 * fmax(j < DD_BRAKE_RATES ? 1e-2 : 1, fabs(y[j]));
        at[j] = y[j] + h;
        if (dd_brake_motion_derivative(t, at, up, context) != 0) return 1;
        at[j] = y[j] - h;
        if (dd_brake_motion_derivative(t, at, down, context) != 0) return 1;
        at[j] = y[j];
        for (int i = 0; i < DD_BRAKE_SIZE; i++) dfdy[i * DD_BRAKE_SIZE + j] = (up[i] - down[i]) / (2 * h);
    }
    return 0;
}
