/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Along the path: drive, brake and rolling resistance of the vehicle's axles, rolling resistance of the trailer's.

   Loads of the vehicle's axles by statics, in its own axes (aft, up) about the rear contact, with W its weight, theta its
   pitch, (b, h_b) the ball, a the centre behind the front axle, h its height, L the wheelbase:
       L N_front = W ((L - a) cos theta - h sin theta) - h_b B_aft + b B_up,   N_front + N_rear = W cos theta - B_up.
   The ball carries the coupling load downward and, seaward, what the trailer's axles push with: its level balance, sum of
   the axles' loads times their normals' level part. Inertia and the water's push along the ramp are left out of that.

   Resistance of each axle: one bristle (bristle.h) with a fixed reference limit, F = -N m coefficient / reference, where m =
   rolling resistance + brake x friction of the surface there. The limit scales the force and not the deflection, so that a
   brake let go lets go at once; at full brake on ordinary concrete the stiffness is the law's own. A braked rig stands on
   its bristles' elastic part without creep.

   Drive: the driver asks for the thrust T = (1 - brake) m_all / response (wanted - speed + correction), the correction
   growing by (wanted - speed) / correction time; the driven axles give G tanh(T / G), G = friction x load: wheels spin
   rather than give more. */
#include "lib/force/wheels_look.h"
#include "lib/force/smooth.h"

#define LOAD_FADE 0.02         /* of the vehicle's weight: over which an axle's load goes to zero */
#define LARGEST_CORRECTION 2.0 /* of the driver, m/s */

/* A wheel's path: column of x alone. slope_by: derivative of the contact's abscissa by x, and again. */
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

static void grip(const dd_wheels_instance *w, dd_jet foot, double rolling_resistance, double brake, dd_wheeled *at)
{
    dd_grip g = dd_ramp_grip(w->ramp, foot.v);
    at->foot = foot.v;
    at->friction = dd_jet_apply(foot, g.friction, g.friction_x);
    dd_jet rolling = isnan(rolling_resistance) ? dd_jet_apply(foot, g.rolling_resistance, g.rolling_resistance_x)
                                               : dd_jet_of(rolling_resistance);
    at->limit = dd_jet_add(rolling, dd_jet_scale(brake, at->friction));
}

/* The trailer's axles; returns what they push the coupling with, seaward. */
static dd_jet trailer_axles(const dd_wheels_instance *w, const dd_kinematics *k, dd_wheels_state *s)
{
    dd_jet push = dd_jet_of(0);
    for (int a = 0; a < w->rig->trailer.axle_count; a++) {
        dd_wheeled *at = &s->at[DD_VEHICLE_AXLES + a];
        dd_axle_contact c;
        dd_axle_contact_at(w->rig, w->ramp, k, a, &c);
        at->load = c.load;
        for (int i = 0; i < DD_RIG_COORDINATES; i++)
            at->column[i] = dd_jet_sub(dd_jet_mul(c.normal_z, c.column_x[i]), dd_jet_mul(c.normal_x, c.column_z[i]));
        at->speed = dd_jet_sub(dd_jet_mul(c.normal_z, c.velocity_x), dd_jet_mul(c.normal_x, c.velocity_z));
        grip(w, c.foot_x, w->rig->trailer.rolling_resistance, 0, at);
        push = dd_jet_add(push, dd_jet_mul(c.load, c.normal_x));
    }
    return push;
}

static dd_jet coupling_load(const dd_wheels_instance *w, const dd_kinematics *k)
{
    dd_jet load = {-w->rig->ball_stiffness * k->pose.rig[DD_RIG_HEAVE] - w->rig->ball_damping * k->motion.rig[DD_RIG_HEAVE],
                   {0}};
    load.d[DD_RIG_HEAVE] = -w->rig->ball_stiffness;
    load.d[DD_JET_RATE + DD_RIG_HEAVE] = -w->rig->ball_damping;
    return load;
}

static void vehicle_loads(const dd_wheels_instance *w, const dd_kinematics *k, dd_jet push, dd_wheels_state *s)
{
    const dd_vehicle_parameters *v = &w->rig->vehicle;
    double weight = v->mass * w->gravity, c = cos(k->vehicle.pitch), sn = sin(k->vehicle.pitch);
    dd_jet cosine = {c, {-sn * k->vehicle.pitch_x}}, sine = {sn, {c * k->vehicle.pitch_x}};
    dd_jet down = coupling_load(w, k);
    dd_jet aft = dd_jet_dot(push, cosine, down, sine); /* (push, -down) along (cos, -sin) and (sin, cos) */
    dd_jet up = dd_jet_sub(dd_jet_mul(push, sine), dd_jet_mul(down, cosine));
    dd_jet own = dd_jet_sub(dd_jet_scale(weight * (v->wheelbase - v->centre_behind_front_axle), cosine),
                            dd_jet_scale(weight * v->centre_height, sine));
    dd_jet ball = dd_jet_sub(dd_jet_scale(v->coupling_behind_rear_axle, up), dd_jet_scale(v->coupling_height, aft));
    dd_jet front = dd_jet_scale(1 / v->wheelbase, dd_jet_add(own, ball));
    dd_jet rear = dd_jet_sub(dd_jet_sub(dd_jet_scale(weight, cosine), up), front);
    dd_smooth f = dd_smooth_positive(front.v, LOAD_FADE * weight), r = dd_smooth_positive(rear.v, LOAD_FADE * weight);
    s->at[0].load = dd_jet_apply(front, f.value, f.slope);
    s->at[1].load = dd_jet_apply(rear, r.value, r.slope);
}

static void vehicle_axles(const dd_wheels_instance *w, const dd_kinematics *k, double brake, dd_wheels_state *s)
{
    const dd_vehicle_pose *v = &k->vehicle;
    double x = k->pose.rig[DD_RIG_X];
    ride(k, dd_ramp_at(w->ramp, v->front_x), v->front_x_x, v->front_x_xx, &s->at[0]);
    ride(k, dd_ramp_at(w->ramp, x), 1, 0, &s->at[1]);
    grip(w, (dd_jet){v->front_x, {v->front_x_x}}, NAN, brake, &s->at[0]);
    grip(w, (dd_jet){x, {1}}, NAN, brake, &s->at[1]);
}

static void resist(const dd_wheels_instance *w, const double *values, dd_wheels_state *s)
{
    for (int a = 0; a < s->count; a++) {
        dd_wheeled *at = &s->at[a];
        at->bristle =
            dd_bristle_at(&w->parameters.law, DD_WHEELS_REFERENCE_LIMIT, values[DD_WHEELS_FRONT + a], at->speed.v, 0, 1);
        dd_jet coefficient = dd_jet_apply(at->speed, -at->bristle.coefficient / DD_WHEELS_REFERENCE_LIMIT,
                                          -at->bristle.coefficient_by_speed / DD_WHEELS_REFERENCE_LIMIT);
        at->force = dd_jet_mul(dd_jet_mul(at->load, at->limit), coefficient);
    }
}

/* G tanh(T / G). */
static dd_jet saturate(dd_jet thrust, dd_jet most, double *by_thrust)
{
    if (!(most.v > 0)) {
        *by_thrust = 0;
        return dd_jet_of(0);
    }
    double ratio = thrust.v / most.v, t = tanh(ratio), rate = 1 - t * t;
    *by_thrust = rate;
    return dd_jet_apply2(thrust, most, most.v * t, rate, t - ratio * rate);
}

static void drive(const dd_wheels_instance *w, const dd_commands *commands, double correction, dd_wheels_state *s)
{
    const dd_wheels_parameters *p = &w->parameters;
    double off = 1 - commands->brake, gain = off * w->mass / p->response_time;
    dd_jet speed = s->at[1].speed;
    dd_jet thrust = dd_jet_apply(speed, gain * (commands->drive_speed - speed.v + correction), -gain);
    double share = w->rig->vehicle.drive == 2 ? 0.5 : 1.0;
    for (int a = 0; a < DD_VEHICLE_AXLES; a++) {
        if (!dd_wheels_driven(&w->rig->vehicle, a)) continue;
        double by_thrust;
        dd_jet most = dd_jet_mul(s->at[a].friction, s->at[a].load);
        s->at[a].force = dd_jet_add(s->at[a].force, saturate(dd_jet_scale(share, thrust), most, &by_thrust));
        s->thrust_by_correction[a] = by_thrust * share * gain;
    }
    /* Correction, forgotten under the brake and beyond its largest size. */
    dd_smooth over = dd_smooth_positive(fabs(correction) - LARGEST_CORRECTION, 0.1);
    double forget = 1 / p->response_time;
    s->correction_rate = off * (commands->drive_speed - speed.v) / p->correction_time - commands->brake * correction * forget -
                         copysign(over.value, correction) * forget;
    s->correction_rate_by_speed = -off / p->correction_time;
    s->correction_rate_by_value = -(commands->brake + over.slope) * forget;
}

void dd_wheels_look(const dd_wheels_instance *w, const dd_kinematics *k, const dd_commands *commands, const double *values,
                    dd_wheels_state *s)
{
    s->count = DD_VEHICLE_AXLES + w->rig->trailer.axle_count;
    s->thrust_by_correction[0] = s->thrust_by_correction[1] = 0;
    dd_jet push = trailer_axles(w, k, s);
    vehicle_axles(w, k, commands->brake, s);
    vehicle_loads(w, k, push, s);
    resist(w, values, s);
    drive(w, commands, values[DD_WHEELS_DRIVER], s);
}
