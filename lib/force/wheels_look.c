/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Along the path: drive, brake and rolling resistance of the vehicle's axles, rolling resistance of the trailer's.

   Loads of the vehicle's axles by statics, in its own axes (aft, up) about the rear contact, with W its weight, theta its
   pitch, (b, h_b) the ball, a the centre behind the front axle, h its height, L the wheelbase:
       L N_front = W ((L - a) cos theta - h sin theta) - h_b B_aft + b B_up - M,   N_front + N_rear = W cos theta - B_up - F_up,
   F and M (tail down) the water's lift on body and tyres (rig_water.c). The ball carries the coupling load downward and,
   seaward, what the trailer's axles push with: its level balance, sum of the axles' loads and of their forces along the path,
   each times its level part. Inertia and the water's push along the ramp are left out of that. Off the ball it carries nothing.

   Resistance of each axle: one bristle (bristle.h) with a fixed reference limit, F = -N m coefficient / reference, where m =
   rolling resistance + hold x friction of the ground there at that time. The limit scales the force and not the deflection, so
   that a brake let go lets go at once; at full brake on ordinary concrete the stiffness is the law's own. A braked rig stands
   on its bristles' elastic part without creep. hold = 1 - (1 - pedal)(1 - lock) on the axles that the pedal and the park lock
   reach. A chock stands seaward of its wheel: it takes chock share x friction of what the brake leaves, once the wheel bears
   against it (its bristle deflected seaward), and nothing the other way.

   Soft ground: what sinking does to resistance, and what of it is remembered: sinking.h; out of what was sunk, resistance lifts the
   wheel. What the ground takes when it is pressed down is counted as heat here: loads times what the rut, and what was sunk by standing,
   grow by.

   Drive: the driver asks for the thrust T = (1 - brake)(1 - lock) m_all / response (wanted - speed + correction), the correction
   growing by (wanted - speed) / correction time. The driven axles can give G = sum of friction x load and turn as one, so each
   gives its own share, phi(T / G) of it: phi is straight up to 1 - KNEE and flat from 1 + KNEE; wheels spin rather than give
   more, and give the spinning share once twice as much is asked. What holds the rig back, thrust against the way that is driven, is
   the foot brake's, on all wheels of the vehicle: nobody lets a rig down a ramp on the engine alone. */
#include "lib/force/wheels_look.h"
#include "lib/force/coupling.h"
#include "lib/force/rig_water.h"
#include "lib/force/sinking.h"
#include <string.h>

#define LOAD_FADE 0.02         /* of the vehicle's weight: over which an axle's load goes to zero */
#define LARGEST_CORRECTION 2.0 /* of the driver, m/s */
#define KNEE 0.1               /* of the grip, about it */
#define CHOCK_TAKES 0.1        /* of the bristle's limit: over which a wheel comes to bear on its chock */

/* A wheel's path: column of x alone. by: derivative of the contact's abscissa by x, and again. */
static void ride(const dd_kinematics *k, dd_ramp_point ground, double by_x, double by_xx, dd_wheeled *at)
{
    double w = sqrt(1 + ground.slope * ground.slope);
    dd_jet rate = {k->motion.rig[DD_RIG_X], {0}};
    rate.d[DD_JET_RATE + DD_RIG_X] = 1;
    for (int i = 0; i < DD_RIG_COORDINATES; i++) at->column[i] = dd_jet_of(0);
    at->column[DD_RIG_X].v = w * by_x;
    at->column[DD_RIG_X].d[DD_RIG_X] = ground.slope * ground.curvature / w * by_x * by_x + w * by_xx;
    at->speed = dd_jet_mul(at->column[DD_RIG_X], rate);
}

/* Resistance by sinking in; adds to the limit. */
static void sink(const dd_wheels_instance *w, dd_jet foot, double stood, double rut, dd_wheeled *at)
{
    at->soil = dd_soil_of(w->ramp, foot.v, DD_SINKS_AXLE, stood, rut);
    const dd_jet rate = dd_jet_apply(foot, DD_SINKS_AXLE * at->grip.sinkage_rate, DD_SINKS_AXLE * at->grip.sinkage_rate_x);
    const dd_sinking s = dd_sinking_of(&at->soil, at->load, foot, at->speed, rate, at->radius, stood, rut);
    at->limit = dd_jet_add(at->limit, s.resistance);
    at->limit_by_load = s.resistance_by_load;
    at->limit_by_stood = s.resistance_by_stood;
    at->limit_by_rut = s.resistance_by_rut;
    at->sinkage = s.depth;
    at->stood_rate = s.stood_rate;
    at->rut_rate = s.rut_rate;
    at->stood_rate_by_stood = s.stood_rate_by_stood;
    at->rut_rate_by_rut = s.rut_rate_by_rut;
}

/* Grip and resistance of an axle, at->load known. value: its bristle. */
static void resist(const dd_wheels_instance *w, const dd_kinematics *k, int axle, dd_jet foot, double rolling_resistance,
                   const double *values, dd_wheeled *at)
{
    const dd_wheels_parameters *p = &w->parameters;
    const int count = DD_VEHICLE_AXLES + w->rig->trailer.axle_count;
    const double *stood = values + DD_WHEELS_FRONT + count, *rut = stood + count, value = values[DD_WHEELS_FRONT + axle];
    const dd_grip g = dd_shore_grip(w->ramp, w->water, foot.v, k->time);
    at->grip = g;
    at->foot = foot.v;
    at->friction = dd_jet_apply(foot, g.friction, g.friction_x);
    at->limit = isnan(rolling_resistance) ? dd_jet_apply(foot, g.rolling_resistance, g.rolling_resistance_x)
                                          : dd_jet_of(rolling_resistance);
    double chock = at->chocked ? (1 - at->hold) * p->chock_share : 0, width = CHOCK_TAKES * DD_WHEELS_REFERENCE_LIMIT / p->law.stiffness;
    dd_smooth bears = dd_smooth_step(value / width);
    at->limit = dd_jet_add(at->limit, dd_jet_scale(at->hold + chock * bears.value, at->friction));
    at->limit_by_value = chock * bears.slope / width * g.friction;
    at->limit_by_load = at->limit_by_stood = at->limit_by_rut = at->sinkage = at->sink_heat = 0;
    at->stood_rate = at->rut_rate = dd_jet_of(0);
    if (w->soft) sink(w, foot, stood[axle], rut[axle], at);
    at->limit_chocked = at->limit.v + chock * (1 - bears.value) * g.friction;
    at->bristle = dd_bristle_at(&p->law, DD_WHEELS_REFERENCE_LIMIT, value, at->speed.v, 0, 1);
    dd_jet coefficient = dd_jet_apply(at->speed, -at->bristle.coefficient / DD_WHEELS_REFERENCE_LIMIT,
                                      -at->bristle.coefficient_by_speed / DD_WHEELS_REFERENCE_LIMIT);
    at->force = dd_jet_mul(dd_jet_mul(at->load, at->limit), coefficient);
    at->force_by_value = at->load.v * (at->limit_by_value * coefficient.v -
                                       at->limit.v * at->bristle.coefficient_by_value / DD_WHEELS_REFERENCE_LIMIT);
    at->force_by_load = (at->limit.v + at->load.v * at->limit_by_load) * coefficient.v;
    at->force_by_stood = at->load.v * at->limit_by_stood * coefficient.v;
    at->force_by_rut = at->load.v * at->limit_by_rut * coefficient.v;
}

/* What the ground under a trailer's axle takes, and how its load depends on what is remembered. */
static void press_trailer(const dd_kinematics *k, const dd_axle_contact *c, int n, dd_wheels_state *s)
{
    double along = 0; /* the foot's speed along x */
    for (int i = 0; i < DD_RIG_COORDINATES; i++) along += c->foot_x.d[i] * k->motion.rig[i];
    s->at[n].sink_heat = dd_axle_sinking_heat(c, s->at[n].stood_rate.v, s->at[n].rut_rate.v, along);
    for (int j = 0; j < DD_AXLES; j++) {
        s->load_by_stood[n][DD_VEHICLE_AXLES + j] = c->by_stood[j];
        s->load_by_rut[n][DD_VEHICLE_AXLES + j] = c->by_rut[j];
    }
}

/* The trailer's axles; returns what they push the coupling with, seaward. */
static dd_jet trailer_axles(const dd_wheels_instance *w, const dd_kinematics *k, const dd_commands *commands,
                            const double *values, dd_wheels_state *s)
{
    dd_jet push = dd_jet_of(0);
    for (int a = 0; a < w->rig->trailer.axle_count; a++) {
        const int n = DD_VEHICLE_AXLES + a;
        dd_wheeled *at = &s->at[n];
        dd_axle_contact c;
        dd_axle_contact_at(w->rig, w->ramp, k, a, &c);
        at->load = c.load;
        at->radius = w->rig->trailer.tyre_radius;
        for (int i = 0; i < DD_RIG_COORDINATES; i++)
            at->column[i] = dd_jet_sub(dd_jet_mul(c.normal_z, c.column_x[i]), dd_jet_mul(c.normal_x, c.column_z[i]));
        at->speed = dd_jet_sub(dd_jet_mul(c.normal_z, c.velocity_x), dd_jet_mul(c.normal_x, c.velocity_z));
        at->hold = 0;
        at->chocked = commands->trailer_chocked != 0;
        resist(w, k, n, c.foot_x, w->rig->trailer.rolling_resistance, values, at);
        push = dd_jet_add(push, dd_jet_dot(c.load, c.normal_x, at->force, c.normal_z));
        s->push_by_force[a] = c.normal_z.v;
        s->push_by_load[a] = c.normal_x.v;
        if (w->soft) press_trailer(k, &c, n, s);
    }
    return push;
}

/* The water's lift on the vehicle by its reference point's coordinates: each a jet by x. */
static void water_lift(const dd_wheels_instance *w, const dd_kinematics *k, dd_jet lift[DD_WET_COORDINATES])
{
    dd_wet wet = {0};
    bool any = dd_rig_wet_add(w->rig, w->water, w->gravity, k, DD_WET_BODY, DD_JET_TAKEN > 0, &wet);
    any |= dd_rig_wet_add(w->rig, w->water, w->gravity, k, DD_WET_VEHICLE_TYRES, DD_JET_TAKEN > 0, &wet);
    for (int i = 0; i < DD_WET_COORDINATES; i++) lift[i] = dd_jet_of(0);
    if (!any) return;
    double column[DD_RIG_COORDINATES][DD_WET_COORDINATES], second[DD_WET_COORDINATES];
    dd_wet_columns(k, true, column, second);
    for (int i = 0; i < DD_WET_COORDINATES; i++) {
        lift[i].v = -wet.gradient[i];
        for (int j = 0; j < DD_WET_COORDINATES; j++) lift[i].d[DD_RIG_X] -= wet.curvature[i][j] * column[DD_RIG_X][j];
    }
}

static void vehicle_loads(const dd_wheels_instance *w, const dd_kinematics *k, const dd_commands *commands, dd_jet push,
                          const dd_ball_in_sand *sand, dd_wheels_state *s)
{
    const dd_vehicle_parameters *v = &w->rig->vehicle;
    double weight = v->mass * w->gravity, c = k->vehicle.cosine, sn = k->vehicle.sine;
    dd_jet cosine = {c, {-sn * k->vehicle.pitch_x}}, sine = {sn, {c * k->vehicle.pitch_x}}, lift[DD_WET_COORDINATES];
    dd_jet down;
    dd_ball_load(w->rig, sand, k, commands, push, &push, &down);
    water_lift(w, k, lift);
    dd_jet aft = dd_jet_dot(push, cosine, down, sine); /* (push, -down) along (cos, -sin) and (sin, cos) */
    dd_jet up = dd_jet_sub(dd_jet_mul(push, sine), dd_jet_mul(down, cosine));
    dd_jet own = dd_jet_sub(dd_jet_scale(weight * (v->wheelbase - v->centre_behind_front_axle), cosine),
                            dd_jet_scale(weight * v->centre_height, sine));
    dd_jet ball = dd_jet_sub(dd_jet_scale(v->coupling_behind_rear_axle, up), dd_jet_scale(v->coupling_height, aft));
    dd_jet front = dd_jet_scale(1 / v->wheelbase, dd_jet_sub(dd_jet_add(own, ball), lift[DD_WET_PITCH]));
    up = dd_jet_add(up, dd_jet_dot(lift[DD_WET_Z], cosine, lift[DD_WET_X], sine));
    dd_jet rear = dd_jet_sub(dd_jet_sub(dd_jet_scale(weight, cosine), up), front);
    dd_smooth f = dd_smooth_positive(front.v, LOAD_FADE * weight), r = dd_smooth_positive(rear.v, LOAD_FADE * weight);
    s->at[0].load = dd_jet_apply(front, f.value, f.slope);
    s->at[1].load = dd_jet_apply(rear, r.value, r.slope);
    double by_push = (v->coupling_behind_rear_axle * sn - v->coupling_height * c) / v->wheelbase;
    s->load_by_push[0] = dd_off_the_ball(w->rig, commands) ? 0 : f.slope * by_push;
    s->load_by_push[1] = dd_off_the_ball(w->rig, commands) ? 0 : r.slope * (-sn - by_push);
    const double by_down = -(v->coupling_behind_rear_axle * c + v->coupling_height * sn) / v->wheelbase;
    for (int a = 0; sand != NULL && a < DD_VEHICLE_AXLES; a++) {
        s->load_by_stood[0][a] = f.slope * by_down * sand->by_stood[a];
        s->load_by_stood[1][a] = r.slope * (c - by_down) * sand->by_stood[a];
        s->load_by_rut[0][a] = f.slope * by_down * sand->by_rut[a];
        s->load_by_rut[1][a] = r.slope * (c - by_down) * sand->by_rut[a];
    }
}

static void vehicle_axles(const dd_wheels_instance *w, const dd_kinematics *k, const dd_commands *commands,
                          const double *values, const dd_ball_in_sand *sand, dd_wheels_state *s)
{
    const dd_vehicle_pose *v = &k->vehicle;
    const double x = k->pose.rig[DD_RIG_X];
    const dd_jet feet[DD_VEHICLE_AXLES] = {{v->front_x, {v->front_x_x}}, {x, {1}}};
    ride(k, dd_ramp_at(w->ramp, v->front_x), v->front_x_x, v->front_x_xx, &s->at[0]);
    ride(k, dd_ramp_at(w->ramp, x), 1, 0, &s->at[1]);
    for (int a = 0; a < DD_VEHICLE_AXLES; a++) {
        dd_wheeled *at = &s->at[a];
        const bool locks = dd_wheels_on(w->rig->vehicle.park_lock, a);
        at->radius = w->rig->vehicle.tyre_radius;
        at->hold = 1 - (1 - commands->brake) * (1 - (locks ? commands->park_lock : 0));
        at->chocked = locks && commands->vehicle_chocked;
        resist(w, k, a, feet[a], NAN, values, at);
        if (sand == NULL) continue;
        at->sink_heat = sand->press[a] * at->stood_rate.v + sand->press_rut[a] * at->rut_rate.v;
        if (a == 1) at->sink_heat += sand->press_x * k->motion.rig[DD_RIG_X];
    }
}

/* phi and its slope. */
static double pass(double asked, double spinning_share, double *slope)
{
    double size = fabs(asked), given = 1, rate = 0;
    if (size < 1 - KNEE) {
        given = size;
        rate = 1;
    } else if (size < 1 + KNEE) { /* a parabola between the straight lines */
        double over = size - (1 - KNEE);
        given = size - over * over / (4 * KNEE);
        rate = 1 - over / (2 * KNEE);
    }
    dd_smooth spins = dd_smooth_step((size - 1 - KNEE) / (1 - KNEE));
    double share = 1 - (1 - spinning_share) * spins.value;
    *slope = rate * share - given * (1 - spinning_share) * spins.slope / (1 - KNEE);
    return copysign(given * share, asked);
}

static void drive(const dd_wheels_instance *w, const dd_commands *commands, double correction, dd_wheels_state *s)
{
    const dd_wheels_parameters *p = &w->parameters;
    double off = (1 - commands->brake) * (1 - commands->park_lock), gain = off * w->mass / p->response_time;
    dd_jet speed = s->at[1].speed, grip = dd_jet_of(0), most[DD_VEHICLE_AXLES];
    dd_jet thrust = dd_jet_apply(speed, gain * (commands->drive_speed - speed.v + correction), -gain);
    s->by_pedal = thrust.v * commands->drive_speed < 0 || commands->drive_speed == 0;
    for (int a = 0; a < DD_VEHICLE_AXLES; a++) {
        most[a] = s->by_pedal || dd_wheels_driven(&w->rig->vehicle, a) ? dd_jet_mul(s->at[a].friction, s->at[a].load) : dd_jet_of(0);
        grip = dd_jet_add(grip, most[a]);
    }
    s->thrust = thrust.v;
    s->grip = grip.v;
    s->passed = 0;
    if (grip.v > 0) {
        double asked = thrust.v / grip.v, slope, given = pass(asked, p->spinning_share, &slope);
        dd_jet share = dd_jet_apply2(thrust, grip, given, slope / grip.v, -slope * asked / grip.v);
        s->passed = given;
        for (int a = 0; a < DD_VEHICLE_AXLES; a++) {
            s->at[a].force = dd_jet_add(s->at[a].force, dd_jet_mul(most[a], share));
            s->thrust_by_correction[a] = most[a].v * slope / grip.v * gain;
            for (int b = 0; b < DD_VEHICLE_AXLES; b++) {
                double own = s->by_pedal || dd_wheels_driven(&w->rig->vehicle, b) ? s->at[b].friction.v : 0;
                s->thrust_by_load[a][b] = own * ((a == b ? given : 0) - most[a].v * slope * asked / grip.v);
            }
        }
    }
    /* Correction, forgotten under the brake and beyond its largest size. */
    dd_smooth over = dd_smooth_positive(fabs(correction) - LARGEST_CORRECTION, 0.1);
    double forget = 1 / p->response_time, held = 1 - off;
    s->correction_rate = off * (commands->drive_speed - speed.v) / p->correction_time - held * correction * forget -
                         copysign(over.value, correction) * forget;
    s->correction_rate_by_speed = -off / p->correction_time;
    s->correction_rate_by_value = -(held + over.slope) * forget;
}

void dd_wheels_look(const dd_wheels_instance *w, const dd_kinematics *k, const dd_commands *commands, const double *values,
                    dd_wheels_state *s)
{
    s->count = DD_VEHICLE_AXLES + w->rig->trailer.axle_count;
    for (int a = 0; a < DD_VEHICLE_AXLES; a++)
        s->thrust_by_correction[a] = s->thrust_by_load[a][0] = s->thrust_by_load[a][1] = 0;
    dd_ball_in_sand ball, *sand = w->soft ? &ball : NULL;
    if (w->soft) {
        memset(s->load_by_stood, 0, sizeof s->load_by_stood);
        memset(s->load_by_rut, 0, sizeof s->load_by_rut);
        ball = dd_ball_sinks(w->rig, w->ramp, w->gravity, k, !dd_off_the_ball(w->rig, commands));
    }
    dd_jet push = trailer_axles(w, k, commands, values, s);
    vehicle_loads(w, k, commands, push, sand, s);
    vehicle_axles(w, k, commands, values, sand, s);
    drive(w, commands, values[DD_WHEELS_DRIVER], s);
}
