/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Equations of a rig that stops.

   Axes along the ground: t seaward (aft), n up; v the speed ahead. A wheel of speed w (rad/s, ahead) slips by s = (v - R w)/sqrt(v^2 +
   v0^2) and is held back by F = N mu(s):
       J dw/dt = F R - T sgn(w) - c N R,    T its brake's torque, c the rolling resistance; heat F (v - R w) + T |w| + c N R w.
   F acts at the hub and T turns the body that carries the brake nose down: together the moment of F about the ground.

   Vehicle: its hubs keep the height of their radius and stand fore and aft in its body as they are; that rises by u and turns by p (tail down
   > 0) about its centre, d ahead of the rear axle and h up, on a spring and a damper over each axle (arms l - d ahead, -d; l the
   wheelbase), whose law is that of the trailer's axles (lib/force/axles_contact.c). Tilts are small: what moves is linear in u and p,
       centre (t, n): (p (h - R), u),   ball: (p (h_b - R), u - p (d + b)),   b the ball behind the rear axle and h_b up,
   no anti-dive: the body nods by the whole moment. An overrun coupling slides along t by r. All this is a constant matrix from
   (along, u, p, trailer's pitch, r) to the rig's coordinates: x = tx (along + ball t) - tz ball n, heave = ball n / tx + r tz, reach = r tx.
   Loads of all axles follow from where the bodies are; the ball's force is what the trailer's own motion asks. */
#include "lib/study/brake_motion.h"
#include "lib/base/error.h"
#include "lib/force/axles.h"
#include "lib/force/force.h"
#include "lib/motion/system.h"
#include "lib/ode/gsl.h"
#include <gsl/gsl_linalg.h>
#include <stdlib.h>
#include <string.h>

#define SLOW 0.3         /* m/s: slip is by at least this speed */
#define TURNING 0.05    /* rad/s over which a brake's torque sets in with the turning: a rig on a grade creeps at less than AT_REST */
#define AIR_DENSITY 1.225 /* kg/m3, ICAO standard atmosphere at sea level */
enum { FREE = DD_BRAKE_COORDINATES, RIG = DD_RIG_REACH + 1 }; /* of the rig's coordinates all but the tilt, which is latched */

/* What follows from the coordinates and their rates alone: kept, since most columns of a Jacobian change none of them. */
struct dd_brake_geometry {
    double at[2 * FREE]; /* coordinates and rates */
    bool known;
    double trailer_load[DD_RIG_COORDINATES], trailer_mass[DD_RIG_COORDINATES][DD_RIG_COORDINATES]; /* by the rig's coordinates */
    double half[RIG][FREE];              /* those masses by the rig's coordinates and the stop's */
    double load[FREE], mass[FREE][FREE]; /* of weights, springs, dampers and inertia, by the stop's own */
    double factor[FREE * FREE];          /* Cholesky's, of the coordinates that are free */
    int free;
    double stored, dampers; /* J, W */
    double axle_load[2];    /* of the vehicle */
    double centre[FREE];    /* displacement of the trailer's centre along t by each coordinate */
    struct {
        double speed, load, column[FREE]; /* displacement of its hub along t by each coordinate */
    } hub[DD_AXLES];
};

double dd_brake_ball_up(const dd_brake_rig *r, const double *y)
{
    const dd_vehicle_parameters *v = &r->rig->vehicle;
    return y[DD_BRAKE_LIFT] + (dd_vehicle_ride_arm(v, 1) - v->coupling_behind_rear_axle) * y[DD_BRAKE_VEHICLE_PITCH];
}

double dd_slip_friction(const dd_brake_road *road, double slip)
{
    const double x = fabs(slip) / road->peak_slip;
    const double share = x < 1 ? 2 * x / (1 + x * x)
                               : 1 - (1 - road->slide) * dd_brake_smooth((fabs(slip) - road->peak_slip) / (1 - road->peak_slip));
    return copysign(road->friction * share, slip);
}

dd_status dd_brake_motion_begin(dd_brake_motion *m, const dd_brake_rig *rig, const dd_stop_asked *asked, dd_error *error)
{
    *m = (dd_brake_motion){.rig = rig, .asked = asked, .fed = DD_BRAKE_SPINS + 2 + rig->rig->trailer.axle_count};
    m->size = m->fed + (asked->way_alone ? 0 : DD_HEATS);
    dd_gsl_quiet();
    dd_status status = dd_force_rig_weight.prepare(&rig->model, NULL, &m->weight, error);
    if (status == DD_OK) m->geometry = calloc(1, sizeof *m->geometry);
    if (status == DD_OK && m->geometry == NULL) status = dd_fail(error, DD_ERROR_MEMORY, "dd_brake_motion_begin", "no memory for the equations of motion");
    if (status != DD_OK) dd_brake_motion_end(m);
    return status;
}

void dd_brake_motion_end(dd_brake_motion *m)
{
    if (m->weight != NULL) dd_force_rig_weight.free(m->weight);
    free(m->geometry);
    m->weight = NULL;
    m->geometry = NULL;
}

void dd_brake_motion_start(const dd_brake_motion *m, double *y)
{
    const dd_brake_rig *r = m->rig;
    memset(y, 0, DD_BRAKE_SIZE * sizeof *y);
    for (int i = 0; i < FREE; i++) y[i] = r->rest[i];
    y[DD_BRAKE_RATES + DD_BRAKE_ALONG] = -m->asked->speed;
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
    double load[FREE];     /* of everything */
    double along;          /* force along t on the trailer that its tyres and the air give, aft > 0 */
    double air[2];         /* drag of vehicle and trailer, aft > 0 */
    double acceleration[FREE];
    double push, up;       /* of the ball on the trailer along t and n */
    dd_brake_output system;
    double command;        /* to brakes that are controlled */
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
        *a = (axle){.speed = -y[DD_BRAKE_RATES + DD_BRAKE_ALONG], .spin = y[DD_BRAKE_SPINS + i], .radius = v->tyre_radius,
                    .inertia = 2 * v->braking.wheel_inertia, .load = l->g->axle_load[i], .column = {[DD_BRAKE_ALONG] = 1}};
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
    in.squeeze = -y[DD_BRAKE_SLIDE];
    in.squeeze_rate = -y[DD_BRAKE_RATES + DD_BRAKE_SLIDE];
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
    for (int c = 0; c < DD_RIG_COORDINATES; c++) g->trailer_load[c] += load.rig[c];
    g->stored += load.energy;
    g->dampers += load.heat;
}

/* The vehicle's body on its springs; a run's, that rides on the profile, is taken out of the rig's weight and inertia. */
static void add_vehicle(const dd_brake_rig *r, const double *y, const dd_kinematics *k, struct dd_brake_geometry *g)
{
    const dd_vehicle_parameters *v = &r->rig->vehicle;
    const double weight = v->mass * r->model.gravity, h = v->centre_height - v->tyre_radius;
    g->trailer_mass[DD_RIG_X][DD_RIG_X] -= v->mass * r->steepness * r->steepness;
    g->trailer_load[DD_RIG_X] += weight * k->vehicle.centre_x.z;
    g->stored += weight * (r->tz * (y[DD_BRAKE_ALONG] + h * y[DD_BRAKE_VEHICLE_PITCH]) + r->tx * y[DD_BRAKE_LIFT] - k->vehicle.centre.z);
    g->load[DD_BRAKE_ALONG] -= weight * r->tz;
    g->load[DD_BRAKE_LIFT] -= weight * r->tx;
    g->load[DD_BRAKE_VEHICLE_PITCH] -= weight * r->tz * h;
    for (int i = 0; i < 2; i++) {
        const double arm = dd_vehicle_ride_arm(v, i), *rate = y + DD_BRAKE_RATES;
        dd_axle_contact c;
        c.squash = dd_jet_of(r->ride.standing[i] / r->ride.stiffness[i] - y[DD_BRAKE_LIFT] - arm * y[DD_BRAKE_VEHICLE_PITCH]);
        c.squash_rate = dd_jet_of(-rate[DD_BRAKE_LIFT] - arm * rate[DD_BRAKE_VEHICLE_PITCH]);
        dd_spring_load_plain(r->ride.stiffness[i], r->ride.damping[i], r->ride.standing[i], c.squash, c.squash_rate, &c);
        g->axle_load[i] = c.load.v;
        g->load[DD_BRAKE_LIFT] += c.load.v;
        g->load[DD_BRAKE_VEHICLE_PITCH] += c.load.v * arm;
        g->stored += c.energy;
        g->dampers += (c.load.v - c.elastic_load) * c.squash_rate.v;
    }
    g->mass[DD_BRAKE_ALONG][DD_BRAKE_ALONG] += v->mass;
    g->mass[DD_BRAKE_ALONG][DD_BRAKE_VEHICLE_PITCH] += v->mass * h;
    g->mass[DD_BRAKE_VEHICLE_PITCH][DD_BRAKE_ALONG] += v->mass * h;
    g->mass[DD_BRAKE_VEHICLE_PITCH][DD_BRAKE_VEHICLE_PITCH] += v->mass * (v->pitch_radius * v->pitch_radius + h * h);
    g->mass[DD_BRAKE_LIFT][DD_BRAKE_LIFT] += v->mass;
}

/* From the rig's coordinates to the stop's: loads, and masses on both sides. */
static void add_trailer(const dd_brake_rig *r, struct dd_brake_geometry *g)
{
    for (int c = 0; c < RIG; c++)
        for (int i = 0; i < FREE; i++) {
            const double by = r->map[c][i];
            if (by == 0) continue;
            g->load[i] += by * g->trailer_load[c];
            for (int j = 0; j < FREE; j++) g->mass[i][j] += by * g->half[c][j];
        }
}

/* Masses of the trailer by its coordinates and the stop's. */
static void find_half(const dd_brake_rig *r, struct dd_brake_geometry *g)
{
    for (int e = 0; e < RIG; e++)
        for (int q = 0; q < FREE; q++) {
            const double by = r->map[e][q];
            if (by == 0) continue;
            for (int c = 0; c < RIG; c++) g->half[c][q] += g->trailer_mass[c][e] * by;
        }
}

/* Each axle's contact, once for its load (as the force "axles" has it) and for what its tyres pull along t. */
static void add_axles(const dd_brake_rig *r, const dd_kinematics *k, struct dd_brake_geometry *g)
{
    const dd_vec3 arm = dd_apply(&k->chassis_to_world, r->rig->chassis.centre);
    const double centre[DD_RIG_COORDINATES] = {r->steepness, r->tz, arm.z * r->tx - arm.x * r->tz, r->tx};
    for (int c = 0; c < RIG; c++)
        for (int q = 0; q < FREE; q++) g->centre[q] += centre[c] * r->map[c][q];
    for (int i = 0; i < r->rig->trailer.axle_count; i++) {
        dd_axle_contact c;
        dd_axle_contact_plain(r->rig, r->ramp, k, i, &c);
        g->hub[i].speed = -(r->tx * c.velocity_x.v + r->tz * c.velocity_z.v);
        g->hub[i].load = c.load.v;
        g->stored += c.energy;
        g->dampers += (c.load.v - c.elastic_load) * c.squash_rate.v;
        for (int e = 0; e < RIG; e++) g->trailer_load[e] += c.load.v * (c.normal_x.v * c.column_x[e].v + c.normal_z.v * c.column_z[e].v);
        for (int e = 0; e < RIG; e++) {
            const double along = r->tx * c.column_x[e].v + r->tz * c.column_z[e].v;
            for (int q = 0; q < FREE; q++) g->hub[i].column[q] += along * r->map[e][q];
        }
    }
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
    for (int c = 0; c < RIG; c++)
        for (int q = 0; q < FREE; q++) {
            pose.rig[c] += r->map[c][q] * y[q];
            motion.rig[c] += r->map[c][q] * y[DD_BRAKE_RATES + q];
        }
    dd_kinematics_of(&r->model, 0, &pose, &motion, &k);
    add_force(&dd_force_rig_weight, m->weight, &k, g);
    dd_rig_inertia(r->rig, &k, g->trailer_mass, g->trailer_load);
    add_vehicle(r, y, &k, g);
    add_axles(r, &k, g);
    find_half(r, g);
    add_trailer(r, g);
    g->free = m->asked->system != NULL && m->asked->system->slides ? FREE : FREE - 1;
    for (int i = 0; i < g->free; i++)
        for (int j = 0; j < g->free; j++) g->factor[i * g->free + j] = g->mass[i][j];
    gsl_matrix_view a = gsl_matrix_view_array(g->factor, (size_t)g->free, (size_t)g->free);
    if (gsl_linalg_cholesky_decomp1(&a.matrix) != GSL_SUCCESS) return 1;
    g->known = true;
    return 0;
}

int dd_brake_motion_standing(dd_brake_motion *m, const double *coordinates, dd_brake_stand *stand)
{
    const dd_brake_rig *r = m->rig;
    double y[2 * FREE] = {0};
    memcpy(y, coordinates, FREE * sizeof *y);
    if (find_geometry(m, y) != 0) return 1;
    const struct dd_brake_geometry *g = m->geometry;
    stand->held = -g->load[DD_BRAKE_ALONG];
    memcpy(stand->load, g->load, sizeof stand->load);
    stand->load[DD_BRAKE_ALONG] = 0;
    stand->load[DD_BRAKE_VEHICLE_PITCH] -= stand->held * r->rig->vehicle.tyre_radius;
    memcpy(stand->axle, g->axle_load, sizeof g->axle_load);
    for (int i = 0; i < r->rig->trailer.axle_count; i++) stand->axle[2 + i] = g->hub[i].load;
    stand->coupling = g->trailer_load[DD_RIG_REACH] * r->tz - g->trailer_load[DD_RIG_HEAVE] * r->tx;
    return 0;
}

static double drag(double area, double speed) { return 0.5 * AIR_DENSITY * area * speed * fabs(speed); }

/* Everything but the tyres' forces. */
static void look_around(dd_brake_motion *m, double t, const double *y, look *l)
{
    const dd_brake_rig *r = m->rig;
    const double *rate = y + DD_BRAKE_RATES, h = r->rig->vehicle.centre_height - r->rig->vehicle.tyre_radius;
    memset(l, 0, sizeof *l);
    l->g = m->geometry;
    memcpy(l->load, l->g->load, sizeof l->load);
    l->axle_count = 2 + r->rig->trailer.axle_count;
    look_at_vehicle(m, y, l);
    look_at_system(m, t, y, l);
    look_at_trailer(m, y, l);
    m->stored = l->g->stored + l->system.stored;
    memset(m->power, 0, sizeof m->power);
    m->power[DD_HEAT_DAMPERS] = l->g->dampers + l->system.damped;
    /* The air's force acts along t at the centre of each. */
    const double v = l->at[0].speed;
    l->air[0] = drag(r->rig->vehicle.braking.drag_area, v);
    l->air[1] = drag(r->rig->trailer.braking.drag_area, v);
    l->along = l->air[1];
    l->load[DD_BRAKE_ALONG] += l->air[0];
    l->load[DD_BRAKE_VEHICLE_PITCH] += l->air[0] * h;
    m->power[DD_HEAT_AIR] = -l->air[0] * (rate[DD_BRAKE_ALONG] + h * rate[DD_BRAKE_VEHICLE_PITCH]);
    for (int q = 0; q < FREE; q++) {
        l->load[q] += l->air[1] * l->g->centre[q];
        m->power[DD_HEAT_AIR] -= l->air[1] * l->g->centre[q] * rate[q];
    }
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

/* Accelerations and spins; then what the trailer's own motion asks of the ball. */
static int respond(dd_brake_motion *m, look *l)
{
    const dd_brake_rig *r = m->rig;
    const struct dd_brake_geometry *g = l->g;
    for (int i = 0; i < l->axle_count; i++) {
        axle *a = &l->at[i];
        const double force = a->load * a->grip;
        a->spin_rate = spin_rate_of(m, a);
        for (int q = 0; q < FREE; q++) l->load[q] += force * a->column[q];
        l->load[i < 2 ? DD_BRAKE_VEHICLE_PITCH : DD_BRAKE_TRAILER_PITCH] -= holding_of(a);
        if (i >= 2) l->along += force;
    }
    if (m->asked->system->slides) l->load[DD_BRAKE_SLIDE] += l->system.push;
    double factor[FREE * FREE], q[FREE], ball[2] = {0};
    memcpy(factor, g->factor, sizeof factor);
    memcpy(q, l->load, sizeof q);
    gsl_matrix_view a = gsl_matrix_view_array(factor, (size_t)g->free, (size_t)g->free);
    gsl_vector_view x = gsl_vector_view_array(q, (size_t)g->free);
    if (gsl_linalg_cholesky_svx(&a.matrix, &x.vector) != GSL_SUCCESS) return 1;
    memcpy(l->acceleration, q, (size_t)g->free * sizeof *q);
    static const int rows[2] = {DD_RIG_REACH, DD_RIG_HEAVE};
    for (int i = 0; i < 2; i++) {
        ball[i] = -g->trailer_load[rows[i]];
        for (int e = 0; e < g->free; e++) ball[i] += g->half[rows[i]][e] * l->acceleration[e];
    }
    l->push = ball[0] * r->tx + ball[1] * r->tz - l->along;
    l->up = -ball[0] * r->tz + ball[1] * r->tx;
    m->lifted = !(l->at[0].load > 0) || !(l->at[1].load > 0);
    return 0;
}

static void remember(dd_brake_motion *m, double t, const double *y, const look *l)
{
    const dd_brake_rig *r = m->rig;
    dd_stop_sample *s = &m->seen;
    const double h = r->rig->vehicle.centre_height - r->rig->vehicle.tyre_radius;
    *s = (dd_stop_sample){.time = t,
                          .distance = r->rest[DD_BRAKE_ALONG] - y[DD_BRAKE_ALONG],
                          .speed = l->at[0].speed,
                          .deceleration = l->acceleration[DD_BRAKE_ALONG] + h * l->acceleration[DD_BRAKE_VEHICLE_PITCH],
                          .push = l->push,
                          .coupling_load = l->up,
                          .squeeze = -y[DD_BRAKE_SLIDE],
                          .nose_down = r->rest[DD_BRAKE_VEHICLE_PITCH] - y[DD_BRAKE_VEHICLE_PITCH],
                          .ball_rises = dd_brake_ball_up(r, y) - dd_brake_ball_up(r, r->rest),
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
        m->power[brake] += holding * (a->spin + y[DD_BRAKE_RATES + (i < 2 ? DD_BRAKE_VEHICLE_PITCH : DD_BRAKE_TRAILER_PITCH)]); /* against a body that turns */
        m->power[DD_HEAT_SLIP] += force * (a->speed - a->radius * a->spin);
        m->power[DD_HEAT_ROLLING] += rolling_of(m, a) * a->spin;
    }
}

int dd_brake_motion_derivative(double t, const double *y, double *dydt, void *context)
{
    dd_brake_motion *m = context;
    look l;
    memset(dydt, 0, (size_t)m->size * sizeof *dydt);
    if (find_geometry(m, y) != 0) return 1;
    look_around(m, t, y, &l);
    if (respond(m, &l) != 0) return 1;
    remember(m, t, y, &l);
    for (int c = 0; c < FREE; c++) {
        dydt[c] = y[DD_BRAKE_RATES + c];
        dydt[DD_BRAKE_RATES + c] = l.acceleration[c];
    }
    for (int i = 0; i < l.axle_count; i++) dydt[DD_BRAKE_SPINS + i] = l.at[i].spin_rate;
    dydt[DD_BRAKE_BUILT] = (1 - y[DD_BRAKE_BUILT]) / m->rig->rig->vehicle.braking.rise_time;
    dydt[DD_BRAKE_FELT] = (m->seen.deceleration - y[DD_BRAKE_FELT]) / m->rig->brakes.controller.sensor_lag;
    for (int i = 0; i < m->asked->system->state_count; i++) dydt[DD_BRAKE_SYSTEM + i] = l.system.rate[i];
    for (int i = m->fed; i < m->size; i++) dydt[i] = m->power[i - m->fed];
    return 0;
}

/* Whether a state is one of this rig's and of this system's; the place along an even slope changes nothing. */
static bool is_felt(const dd_brake_motion *m, int state)
{
    const dd_brake_kind *kind = m->asked->system;
    if (state == DD_BRAKE_ALONG) return false;
    if (state == DD_BRAKE_SLIDE || state == DD_BRAKE_RATES + DD_BRAKE_SLIDE) return kind->slides;
    return state < DD_BRAKE_SYSTEM || state >= DD_BRAKE_SPINS || state - DD_BRAKE_SYSTEM < kind->state_count;
}

int dd_brake_motion_jacobian(double t, const double *y, double *dfdy, double *dfdt, void *context)
{
    dd_brake_motion *m = context;
    double at[DD_BRAKE_SIZE], here[DD_BRAKE_SIZE], there[DD_BRAKE_SIZE];
    memcpy(at, y, (size_t)m->size * sizeof *y);
    memset(dfdy, 0, (size_t)(m->size * m->size) * sizeof *dfdy);
    memset(dfdt, 0, (size_t)m->size * sizeof *dfdt); /* commands change over tenths of a second: left to the corrector */
    if (dd_brake_motion_derivative(t, y, here, m) != 0) return 1;
    for (int j = 0; j < m->fed; j++) {
        if (!is_felt(m, j)) continue;
        const double h = 1e-7 * fmax(j < DD_BRAKE_RATES ? 1e-2 : 1, fabs(y[j]));
        at[j] = y[j] + h;
        if (dd_brake_motion_derivative(t, at, there, m) != 0) return 1;
        at[j] = y[j];
        for (int i = 0; i < m->size; i++) dfdy[i * m->size + j] = (there[i] - here[i]) / h;
    }
    return 0;
}
