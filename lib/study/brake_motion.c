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

/* What follows from the coordinates and their rates alone: kept, since most columns of a Jacobian change none of them. */
struct dd_brake_geometry {
    double at[2 * FREE]; /* coordinates and rates */
    bool known;
    double load[DD_RIG_COORDINATES], mass[DD_RIG_COORDINATES][DD_RIG_COORDINATES]; /* of weight, ball, springs and inertia */
    double factor[FREE * FREE], drive[FREE]; /* Cholesky's, of the coordinates that are free; accelerations by a unit of force on x */
    int free;
    double ball_up, stored, dampers; /* of the ball on the trailer, N; J, W */
    struct {
        double speed, load, column[FREE]; /* displacement of its hub along t by each coordinate */
    } hub[DD_AXLES];
};

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
    if (status == DD_OK) m->geometry = calloc(1, sizeof *m->geometry);
    if (status == DD_OK && m->geometry == NULL) status = dd_fail(error, DD_ERROR_MEMORY, "dd_brake_motion_begin", "no memory for the equations of motion");
    if (status != DD_OK) dd_brake_motion_end(m);
    return status;
}

void dd_brake_motion_end(dd_brake_motion *m)
{
    if (m->weight != NULL) dd_force_rig_weight.free(m->weight);
    if (m->coupling != NULL) dd_force_coupling.free(m->coupling);
    if (m->axles != NULL) dd_force_axles.free(m->axles);
    free(m->geometry);
    m->weight = m->coupling = m->axles = NULL;
    m->geometry = NULL;
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
    const struct dd_brake_geometry *g;
    int axle_count;
    axle at[DD_BRAKE_AXLES];
    double load[DD_RIG_COORDINATES]; /* of all but the vehicle's tyres, and but the ball on the reach */
    double base[FREE];    /* accelerations by that and the ball */
    double push;          /* of the ball on the trailer along the world's x, aft > 0, once known */
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
        axle *a = &l->at[2 + i];
        *a = (axle){.speed = l->g->hub[i].speed, .spin = y[DD_BRAKE_SPINS + 2 + i], .radius = r->rig->trailer.tyre_radius,
                    .inertia = 2 * r->rig->trailer.braking.wheel_inertia, .load = l->g->hub[i].load};
        memcpy(a->column, l->g->hub[i].column, sizeof a->column);
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

static void add_force(const dd_force_kind *kind, void *instance, const dd_kinematics *k, struct dd_brake_geometry *g)
{
    const dd_commands commands = {0};
    const dd_memory none = {0};
    dd_load load = {{0}, {0}, 0, 0};
    kind->evaluate(instance, k, &commands, &none, &load, NULL, NULL);
    for (int c = 0; c < DD_RIG_COORDINATES; c++) g->load[c] += load.rig[c];
    g->stored += load.energy;
    g->dampers += load.heat;
    if (kind == &dd_force_coupling) g->ball_up = load.rig[DD_RIG_HEAVE];
}

static int find_geometry(const dd_brake_motion *m, const double *y)
{
    const dd_brake_rig *r = m->rig;
    struct dd_brake_geometry *g = m->geometry;
    if (g->known && memcmp(g->at, y, sizeof g->at) == 0) return 0;
    dd_pose pose = {.attitude = {0, 0, 0, 1}};
    dd_motion motion = {{0}, {0}};
    dd_kinematics k;
    memset(g, 0, sizeof *g);
    memcpy(g->at, y, sizeof g->at);
    for (int q = 0; q < FREE; q++) {
        pose.rig[q] = y[q];
        motion.rig[q] = y[DD_BRAKE_RATES + q];
    }
    dd_kinematics_of(&r->model, 0, &pose, &motion, &k);
    add_force(&dd_force_rig_weight, m->weight, &k, g);
    add_force(&dd_force_coupling, m->coupling, &k, g);
    add_force(&dd_force_axles, m->axles, &k, g);
    dd_rig_inertia(r->rig, &k, g->mass, g->load);
    const double tx = 1 / r->steepness, tz = r->slope / r->steepness;
    for (int i = 0; i < r->rig->trailer.axle_count; i++) {
        dd_axle_contact c;
        dd_axle_contact_plain(r->rig, r->ramp, &k, i, &c);
        g->hub[i].speed = -(tx * c.velocity_x.v + tz * c.velocity_z.v);
        g->hub[i].load = c.load.v;
        for (int q = 0; q < FREE; q++) g->hub[i].column[q] = tx * c.column_x[q].v + tz * c.column_z[q].v;
    }
    g->free = m->asked->system->slides ? FREE : FREE - 1;
    for (int i = 0; i < g->free; i++)
        for (int j = 0; j < g->free; j++) g->factor[i * g->free + j] = g->mass[i][j];
    gsl_matrix_view a = gsl_matrix_view_array(g->factor, (size_t)g->free, (size_t)g->free);
    gsl_vector_view x = gsl_vector_view_array(g->drive, (size_t)g->free);
    g->drive[DD_RIG_X] = 1;
    if (gsl_linalg_cholesky_decomp1(&a.matrix) != GSL_SUCCESS || gsl_linalg_cholesky_svx(&a.matrix, &x.vector) != GSL_SUCCESS) return 1;
    g->known = true;
    return 0;
}

/* Force along the world's x with which the ball and its load together push by what the coupling's springs and damper give along t. */
static double level_push(const look *l) { return (l->system.push - l->g->ball_up * l->tz) / l->tx; }

static double drag(double area, double speed) { return 0.5 * AIR_DENSITY * area * speed * fabs(speed); }

/* Everything but the tyres' forces. */
static void look_around(dd_brake_motion *m, double t, const double *y, look *l)
{
    const dd_brake_rig *r = m->rig;
    memset(l, 0, sizeof *l);
    l->g = m->geometry;
    memcpy(l->load, l->g->load, sizeof l->load);
    l->axle_count = 2 + r->rig->trailer.axle_count;
    l->tx = 1 / r->steepness;
    l->tz = r->slope / r->steepness;
    m->stored = l->g->stored;
    memset(m->power, 0, sizeof m->power);
    m->power[DD_HEAT_DAMPERS] = l->g->dampers;
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

static double spin_rate_of(const dd_brake_motion *m, const axle *a)
{
    return (a->load * a->grip * a->radius - holding_of(a) - rolling_of(m, a)) / a->inertia;
}

/* Accelerations with no load on the vehicle's axles. */
static int find_base(const dd_brake_motion *m, look *l)
{
    double q[DD_RIG_COORDINATES];
    for (int i = 2; i < l->axle_count; i++) {
        axle *a = &l->at[i];
        const double force = a->load * a->grip;
        a->spin_rate = spin_rate_of(m, a);
        for (int c = 0; c < FREE; c++) l->load[c] += force * a->column[c];
        l->load[DD_RIG_PITCH] -= holding_of(a);
    }
    memcpy(q, l->load, sizeof q);
    if (l->slides) q[DD_RIG_REACH] += level_push(l);
    double factor[FREE * FREE];
    memcpy(factor, l->g->factor, sizeof factor);
    gsl_matrix_view a = gsl_matrix_view_array(factor, (size_t)l->g->free, (size_t)l->g->free);
    gsl_vector_view x = gsl_vector_view_array(q, (size_t)l->g->free);
    if (gsl_linalg_cholesky_svx(&a.matrix, &x.vector) != GSL_SUCCESS) return 1;
    memcpy(l->base, q, (size_t)l->g->free * sizeof *q);
    return 0;
}

/* Accelerations and spins with these loads on the vehicle's axles; found: what the loads then are. */
static void respond(const dd_brake_motion *m, look *l, const double loads[2], double found[2])
{
    const dd_brake_rig *r = m->rig;
    const dd_vehicle_parameters *v = &r->rig->vehicle;
    double turning = 0, drive = 0;
    for (int i = 0; i < 2; i++) {
        axle *a = &l->at[i];
        a->load = loads[i];
        a->spin_rate = spin_rate_of(m, a);
        drive += a->load * a->grip * a->column[DD_RIG_X];
        turning += a->inertia * a->spin_rate;
    }
    l->push = -l->load[DD_RIG_REACH];
    for (int c = 0; c < FREE; c++) {
        l->acceleration[c] = l->base[c] + drive * l->g->drive[c];
        l->push += l->g->mass[DD_RIG_REACH][c] * l->acceleration[c];
    }
    const double ball_x = -l->push, ball_z = -l->g->ball_up, weight = v->mass * r->model.gravity;
    const double along = ball_x * l->tx + ball_z * l->tz, up = -ball_x * l->tz + ball_z * l->tx;
    const double aft = l->acceleration[DD_RIG_X] * r->steepness, ahead = v->wheelbase - v->centre_behind_front_axle;
    found[0] = (-v->centre_height * (-weight * l->tz + l->air[0] - v->mass * aft) + ahead * weight * l->tx - v->coupling_height * along +
                v->coupling_behind_rear_axle * up - turning) / v->wheelbase;
    found[1] = weight * l->tx - up - found[0];
}

/* found = base + A loads; loads such that both are the same, none below zero. */
static int find_loads(dd_brake_motion *m, look *l)
{
    double loads[2] = {0, 0}, base[2], by[2][2], found[2];
    if (find_base(m, l) != 0) return 1;
    respond(m, l, loads, base);
    const double unit = m->rig->rig->vehicle.mass * m->rig->model.gravity;
    for (int i = 0; i < 2; i++) {
        loads[i] = unit;
        loads[1 - i] = 0;
        respond(m, l, loads, found);
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
    respond(m, l, loads, found);
    return 0;
}

static void remember(dd_brake_motion *m, double t, const double *y, const look *l)
{
    const dd_brake_rig *r = m->rig;
    dd_stop_sample *s = &m->seen;
    *s = (dd_stop_sample){.time = t,
                          .distance = -(y[DD_BRAKE_X] - r->rest.rig[DD_RIG_X]) * r->steepness,
                          .speed = l->at[0].speed,
                          .deceleration = l->acceleration[DD_RIG_X] * r->steepness,
                          .push = l->push * l->tx + l->g->ball_up * l->tz,
                          .coupling_load = -l->push * l->tz + l->g->ball_up * l->tx,
                          .squeeze = -y[DD_BRAKE_REACH],
                          .command = l->command};
    m->kinetic = 0;
    for (int i = 0; i < FREE; i++)
        for (int j = 0; j < FREE; j++) m->kinetic += 0.5 * l->g->mass[i][j] * y[DD_BRAKE_RATES + i] * y[DD_BRAKE_RATES + j];
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
    if (find_geometry(m, y) != 0) return 1;
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

/* Whether a state is one of this rig's and of this system's; the place along an even slope changes nothing. */
static bool is_felt(const dd_brake_motion *m, int state)
{
    const dd_brake_kind *kind = m->asked->system;
    if (state == DD_BRAKE_X) return false;
    if (state == DD_BRAKE_REACH || state == DD_BRAKE_RATES + DD_BRAKE_REACH) return kind->slides;
    if (state >= DD_BRAKE_SPINS && state < DD_BRAKE_BUILT) return state - DD_BRAKE_SPINS < 2 + m->rig->rig->trailer.axle_count;
    return state < DD_BRAKE_SYSTEM || state - DD_BRAKE_SYSTEM < kind->state_count;
}

int dd_brake_motion_jacobian(double t, const double *y, double *dfdy, double *dfdt, void *context)
{
    dd_brake_motion *m = context;
    double at[DD_BRAKE_SIZE], here[DD_BRAKE_SIZE], there[DD_BRAKE_SIZE];
    memcpy(at, y, sizeof at);
    memset(dfdy, 0, DD_BRAKE_SIZE * DD_BRAKE_SIZE * sizeof *dfdy);
    memset(dfdt, 0, DD_BRAKE_SIZE * sizeof *dfdt); /* commands change over tenths of a second: left to the corrector */
    if (dd_brake_motion_derivative(t, y, here, m) != 0) return 1;
    for (int j = 0; j < DD_BRAKE_FED; j++) {
        if (!is_felt(m, j)) continue;
        const double h = 1e-7 * fmax(j < DD_BRAKE_RATES ? 1e-2 : 1, fabs(y[j]));
        at[j] = y[j] + h;
        if (dd_brake_motion_derivative(t, at, there, m) != 0) return 1;
        at[j] = y[j];
        for (int i = 0; i < DD_BRAKE_SIZE; i++) dfdy[i * DD_BRAKE_SIZE + j] = (there[i] - here[i]) / h;
    }
    return 0;
}
