/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tyres and springs of the trailer's axles, and its jockey wheel, against the ground.

   Squash: wheel_radius less the hub's distance d from the profile, along the normal n at the closest point. grad d = n, and
   n turns by -t kappa / (1 - kappa d) for each metre along t, kappa the profile's curvature: exact on vertical curves.
   Load N = S(k squash + chi c squash'), chi a smooth step over the first fifth of the rated squash, S(F) = F (2 u - u^2) with
   u = F / F0 for 0 < F < F0 = 0.02 rated loads, F above, 0 below: once differentiable, and never a pull. S rises
   everywhere, so the damping's power (N - S(k squash)) squash' is never negative. Tyre and spring are one spring here: the
   axle's own mass is in the trailer's. Rocking beams, or springs with equalisers between, carry shares of one load that are fixed
   by their arms; they turn as far as the ground asks. Soft ground is a second spring in series, without a damper (soil.h). */
#include "lib/force/axles.h"
#include "lib/force/smooth.h"
#include <string.h>

#define SOFT_SHARE 0.02  /* of the rated load, over which the load sets in */
#define DAMPED_SHARE 0.2 /* of the rated squash, over which the damping sets in */

/* S and S'. */
static double set_in(double force, double soft, double *slope)
{
    *slope = 0;
    if (force <= 0) return 0;
    *slope = 1;
    if (force >= soft) return force;
    double u = force / soft;
    *slope = u * (4 - 3 * u);
    return force * u * (2 - u);
}

/* Integral of S over the squash. */
static double stored(double force, double soft, double stiffness)
{
    if (force <= 0) return 0;
    double u = force / soft;
    if (u < 1) return soft * soft / stiffness * u * u * u * (2.0 / 3 - u / 4);
    return (soft * soft * 5.0 / 12 + (force * force - soft * soft) / 2) / stiffness;
}

/* Hub's displacement by each coordinate, and its velocity. arm: hub from the coupling, world. */
static void set_hub(const dd_kinematics *k, dd_vec3 arm, dd_axle_contact *c)
{
    const dd_vehicle_pose *v = &k->vehicle;
    c->column_x[DD_RIG_X] = (dd_jet){v->ball_x.x, {v->ball_xx.x}};
    c->column_z[DD_RIG_X] = (dd_jet){v->ball_x.z, {v->ball_xx.z}};
    c->column_x[DD_RIG_HEAVE] = dd_jet_of(0);
    c->column_z[DD_RIG_HEAVE] = dd_jet_of(1);
    c->column_x[DD_RIG_PITCH] = (dd_jet){arm.z, {0, 0, -arm.x}};
    c->column_z[DD_RIG_PITCH] = (dd_jet){-arm.x, {0, 0, -arm.z}};
    c->column_x[DD_RIG_REACH] = dd_jet_of(1);
    c->column_z[DD_RIG_REACH] = dd_jet_of(0);
    c->column_x[DD_RIG_TILT] = c->column_z[DD_RIG_TILT] = dd_jet_of(0); /* axles stand on the chassis */
    c->velocity_x = c->velocity_z = dd_jet_of(0);
    for (int i = 0; i < DD_RIG_COORDINATES && DD_JET_MOVES; i++) {
        dd_jet rate = {k->motion.rig[i], {0}};
        rate.d[DD_JET_RATE + i] = 1;
        c->velocity_x = dd_jet_add(c->velocity_x, dd_jet_mul(c->column_x[i], rate));
        c->velocity_z = dd_jet_add(c->velocity_z, dd_jet_mul(c->column_z[i], rate));
    }
}

/* Where a wheel meets the ground, and its squash there. */
static void meet_ground(dd_vec3 at, double radius, const dd_ramp *ramp, const dd_kinematics *k, dd_axle_contact *c)
{
    dd_vec3 arm = dd_apply(&k->chassis_to_world, at), hub = dd_add(k->coupling, arm);
    set_hub(k, arm, c);
    dd_ramp_point ground;
    c->foot = dd_ramp_foot(ramp, hub.x, hub.z, &ground);
    double w = sqrt(1 + ground.slope * ground.slope), tx = 1 / w, tz = ground.slope / w;
    double distance = (hub.x - c->foot) * -tz + (hub.z - ground.z) * tx, curvature = ground.curvature / (w * w * w);
    c->foot_x = dd_jet_of(c->foot);
    c->squash = dd_jet_of(radius - distance);
    for (int i = 0; i < DD_RIG_COORDINATES; i++) {
        double along = tx * c->column_x[i].v + tz * c->column_z[i].v;
        c->foot_x.d[i] = along / (w * fmax(1 - curvature * distance, 0.2));
        c->squash.d[i] = tz * c->column_x[i].v - tx * c->column_z[i].v;
    }
    /* angle of the ground = atan(slope); normal (-sin, cos) */
    double turn = ground.curvature / (w * w);
    c->normal_x = dd_jet_apply(c->foot_x, -tz, -tx * turn);
    c->normal_z = dd_jet_apply(c->foot_x, tx, -tz * turn);
    c->squash_rate = dd_jet_scale(-1, dd_jet_dot(c->normal_x, c->velocity_x, c->normal_z, c->velocity_z));
}

/* Load and energy of a spring that is squashed so far. */
void dd_spring_load_at(double stiffness, double damping, double rated, dd_jet squash, dd_jet rate, dd_axle_contact *c)
{
    double soft = SOFT_SHARE * rated, slope;
    dd_smooth fade = dd_smooth_step(squash.v / (DAMPED_SHARE * rated / stiffness));
    fade.slope /= DAMPED_SHARE * rated / stiffness;
    double force = stiffness * squash.v + damping * fade.value * rate.v;
    double load = set_in(force, soft, &slope);
    c->load_by_squash = slope * (stiffness + damping * fade.slope * rate.v);
    c->load = dd_jet_apply2(squash, rate, load, c->load_by_squash, slope * damping * fade.value);
    c->elastic_load = set_in(stiffness * squash.v, soft, &slope);
    c->energy = stored(stiffness * squash.v, soft, stiffness);
}

/* One spring over `count` axles, each with its share of the load, and what it is squashed by on firm ground. */
typedef struct sprung {
    double stiffness, damping, rated;
    int count;
    double share[DD_AXLES];
    dd_soil soil[DD_AXLES];
    dd_jet foot[DD_AXLES];
    dd_jet squash, rate;
} sprung;

/* Elastic load on soft ground: N = S(k (squash - sum of share z(share N))); the left side less the right rises with N. */
static double press(const sprung *s, dd_sunk sunk[DD_AXLES], double *yields)
{
    enum { MOST_STEPS = 100 };
    const double soft = SOFT_SHARE * s->rated;
    double slope, low = 0, high = set_in(s->stiffness * s->squash.v, soft, &slope), load = high;
    for (int i = 0; i < MOST_STEPS; i++) {
        double sink = 0, by_load = 0;
        for (int a = 0; a < s->count; a++) {
            sunk[a] = dd_soil_at(&s->soil[a], s->share[a] * load);
            sink += s->share[a] * sunk[a].depth;
            by_load += s->share[a] * s->share[a] * sunk[a].by_load;
        }
        const double over = load - set_in(s->stiffness * (s->squash.v - sink), soft, &slope);
        *yields = 1 / (1 + slope * s->stiffness * by_load);
        const double next = load - over * *yields;
        if (fabs(next - load) <= 1e-14 * (soft + load)) break;
        if (over > 0)
            high = load;
        else
            low = load;
        load = next > low && next < high ? next : 0.5 * (low + high);
    }
    return load;
}

/* Load of the spring, the whole of it, and what of it each axle has. */
static void bear_on_soft(sprung *s, int own, dd_axle_contact *c)
{
    dd_sunk sunk[DD_AXLES];
    double yields, sink = 0;
    dd_jet squash = s->squash;
    press(s, sunk, &yields);
    for (int a = 0; a < s->count; a++) {
        sink += s->share[a] * sunk[a].depth;
        squash = dd_jet_sub(squash, dd_jet_scale(s->share[a] * sunk[a].by_give * s->soil[a].give_by_x, s->foot[a]));
    }
    squash = dd_jet_apply(squash, s->squash.v - sink, yields);
    dd_spring_load_at(s->stiffness, s->damping, s->rated, squash, s->rate, c);
    c->squash = squash;
    c->soil = s->soil[own];
    c->sunk = sunk[own];
    for (int a = 0; a < s->count; a++) {
        c->by_stood[a] = -c->load_by_squash * yields * s->share[a];
        c->by_rut[a] = c->by_stood[a] * sunk[a].by_rut;
    }
}

static void set_soil(sprung *s, int at, const dd_ramp *ramp, const dd_kinematics *k, int axle, const dd_axle_contact *c)
{
    s->soil[at] = dd_soil_under(ramp, k, c->foot, DD_VEHICLE_AXLES + axle);
    s->foot[at] = c->foot_x;
}

/* Axles under a beam have one spring, squashed by the sum of the shares times their squashes, and each its share of the load. */
static void bear_under_beam(const dd_rig *rig, const dd_ramp *ramp, const dd_kinematics *k, int axle, dd_axle_contact *c)
{
    const double mine = rig->beam_share[axle];
    const bool soft = dd_ramp_soft(ramp);
    sprung s = {.stiffness = rig->beam_stiffness, .damping = rig->beam_damping, .rated = rig->beam_rated_load, .count = rig->trailer.axle_count,
                .squash = dd_jet_of(0), .rate = dd_jet_of(0)};
    for (int i = 0; i < s.count; i++) {
        dd_axle_contact other;
        if (i != axle) meet_ground(rig->axle[i], rig->wheel_radius, ramp, k, &other);
        const dd_axle_contact *each = i == axle ? c : &other;
        s.squash = dd_jet_add(s.squash, dd_jet_scale(rig->beam_share[i], each->squash));
        s.rate = dd_jet_add(s.rate, dd_jet_scale(rig->beam_share[i], each->squash_rate));
        s.share[i] = rig->beam_share[i];
        if (soft) set_soil(&s, i, ramp, k, i, each);
    }
    if (soft)
        bear_on_soft(&s, axle, c);
    else
        dd_spring_load_at(s.stiffness, s.damping, s.rated, s.squash, s.rate, c);
    c->load = dd_jet_scale(mine, c->load);
    c->elastic_load *= mine;
    c->energy *= mine;
    for (int i = 0; soft && i < s.count; i++) c->by_stood[i] *= mine, c->by_rut[i] *= mine;
}

static void bear_alone(const dd_rig *rig, const dd_ramp *ramp, const dd_kinematics *k, int axle, dd_axle_contact *c)
{
    if (!dd_ramp_soft(ramp)) {
        dd_spring_load_at(rig->axle_stiffness[axle], rig->axle_damping[axle], rig->axle_rated_load[axle], c->squash, c->squash_rate, c);
        return;
    }
    sprung s = {.stiffness = rig->axle_stiffness[axle], .damping = rig->axle_damping[axle], .rated = rig->axle_rated_load[axle], .count = 1,
                .share = {1}, .squash = c->squash, .rate = c->squash_rate};
    set_soil(&s, 0, ramp, k, axle, c);
    bear_on_soft(&s, 0, c);
    if (axle == 0) return;
    c->by_stood[axle] = c->by_stood[0], c->by_rut[axle] = c->by_rut[0];
    c->by_stood[0] = c->by_rut[0] = 0;
}

static void firm(dd_axle_contact *c)
{
    memset(&c->soil, 0, sizeof c->soil);
    memset(&c->sunk, 0, sizeof c->sunk);
    memset(c->by_stood, 0, sizeof c->by_stood);
    memset(c->by_rut, 0, sizeof c->by_rut);
}

/* What is stored in the ground. */
static double pressed(const dd_axle_contact *c) { return c->elastic_load * c->sunk.depth - c->sunk.work; }

void dd_wheel_contact_at(const dd_ground_wheel *wheel, const dd_ramp *ramp, const dd_kinematics *k, const double sunk[2], dd_axle_contact *c)
{
    firm(c);
    meet_ground(wheel->hub, wheel->radius, ramp, k, c);
    if (sunk == NULL) {
        dd_spring_load_at(wheel->stiffness, wheel->damping, wheel->rated_load, c->squash, c->squash_rate, c);
        return;
    }
    sprung s = {.stiffness = wheel->stiffness, .damping = wheel->damping, .rated = wheel->rated_load, .count = 1, .share = {1},
                .soil = {dd_soil_of(ramp, c->foot, wheel->sinks, sunk[0], sunk[1])}, .foot = {c->foot_x}, .squash = c->squash, .rate = c->squash_rate};
    bear_on_soft(&s, 0, c);
    c->energy += pressed(c);
}

void dd_axle_contact_at(const dd_rig *rig, const dd_ramp *ramp, const dd_kinematics *k, int axle, dd_axle_contact *c)
{
    firm(c);
    meet_ground(rig->axle[axle], rig->wheel_radius, ramp, k, c);
    if (rig->beamed)
        bear_under_beam(rig, ramp, k, axle, c);
    else
        bear_alone(rig, ramp, k, axle, c);
    c->energy += pressed(c);
}
