/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tyres and springs of the trailer's axles against the ground.

   Squash: wheel_radius less the hub's distance d from the profile, along the normal n at the closest point. grad d = n, and
   n turns by -t kappa / (1 - kappa d) for each metre along t, kappa the profile's curvature: exact on vertical curves.
   Load N = S(k squash + chi c squash'), chi a smooth step over the first fifth of the rated squash, S(F) = F (2 u - u^2) with
   u = F / F0 for 0 < F < F0 = 0.02 rated loads, F above, 0 below: once differentiable, and never a pull. S rises
   everywhere, so the damping's power (N - S(k squash)) squash' is never negative. Tyre and spring are one spring here: the
   axle's own mass is in the trailer's. */
#include "lib/force/axles.h"
#include "lib/force/draw.h"
#include "lib/force/smooth.h"
#include "lib/base/error.h"
#include <stdlib.h>

#define SOFT_SHARE 0.02  /* of the rated load, over which the load sets in */
#define DAMPED_SHARE 0.2 /* of the rated squash, over which the damping sets in */

typedef struct axles_instance {
    const dd_rig *rig;
    const dd_ramp *ramp;
} axles_instance;

/* S and S'. */
static double set_in(double force, double soft, double *slope)
{
    *slope = 0;
    if (force <= 0)
        return 0;
    *slope = 1;
    if (force >= soft)
        return force;
    double u = force / soft;
    *slope = u * (4 - 3 * u);
    return force * u * (2 - u);
}

/* Integral of S over the squash. */
static double stored(double force, double soft, double stiffness)
{
    if (force <= 0)
        return 0;
    double u = force / soft;
    if (u < 1)
        return soft * soft / stiffness * u * u * u * (2.0 / 3 - u / 4);
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
    c->velocity_x = c->velocity_z = dd_jet_of(0);
    for (int i = 0; i < DD_RIG_COORDINATES; i++) {
        dd_jet rate = {k->motion.rig[i], {0}};
        rate.d[DD_JET_RATE + i] = 1;
        c->velocity_x = dd_jet_add(c->velocity_x, dd_jet_mul(c->column_x[i], rate));
        c->velocity_z = dd_jet_add(c->velocity_z, dd_jet_mul(c->column_z[i], rate));
    }
}

void dd_axle_contact_at(const dd_rig *rig, const dd_ramp *ramp, const dd_kinematics *k, int axle, dd_axle_contact *c)
{
    dd_vec3 arm = dd_apply(&k->trailer_to_world, rig->axle[axle]), hub = dd_add(k->coupling, arm);
    set_hub(k, arm, c);
    dd_ramp_point ground;
    c->foot = dd_ramp_foot(ramp, hub.x, hub.z, &ground);
    double w = sqrt(1 + ground.slope * ground.slope), tx = 1 / w, tz = ground.slope / w;
    double distance = (hub.x - c->foot) * -tz + (hub.z - ground.z) * tx, curvature = ground.curvature / (w * w * w);
    c->foot_x = dd_jet_of(c->foot);
    c->squash = dd_jet_of(rig->wheel_radius - distance);
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
    double stiffness = rig->axle_stiffness[axle], rated = rig->axle_rated_load[axle], soft = SOFT_SHARE * rated, slope;
    dd_smooth fade = dd_smooth_step(c->squash.v / (DAMPED_SHARE * rated / stiffness));
    fade.slope /= DAMPED_SHARE * rated / stiffness;
    double damping = rig->axle_damping[axle];
    double force = stiffness * c->squash.v + damping * fade.value * c->squash_rate.v;
    double load = set_in(force, soft, &slope);
    c->load = dd_jet_apply2(c->squash, c->squash_rate, load, slope * (stiffness + damping * fade.slope * c->squash_rate.v),
                            slope * damping * fade.value);
    c->elastic_load = set_in(stiffness * c->squash.v, soft, &slope);
    c->energy = stored(stiffness * c->squash.v, soft, stiffness);
}

double dd_axles_standing_pitch(const dd_rig *rig, const dd_ramp *ramp, double x, double lift)
{
    dd_vehicle_pose vehicle = dd_vehicle_on_profile(&rig->vehicle, ramp, x);
    dd_vec3 last = rig->axle[rig->trailer.axle_count - 1];
    double pitch = vehicle.pitch;
    for (int i = 0; i < 30; i++) {
        dd_mat3 turn = dd_rotation_y(pitch);
        dd_vec3 hub = dd_add(vehicle.ball, dd_apply(&turn, last));
        dd_ramp_point ground;
        double foot = dd_ramp_foot(ramp, hub.x, hub.z, &ground);
        double over = copysign(hypot(hub.x - foot, hub.z - ground.z), hub.z - ground.z) - rig->trailer.tyre_radius - lift;
        pitch += over / last.x;
        if (fabs(over) < 1e-12)
            break;
    }
    return pitch;
}

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    (void)parameters;
    *instance = NULL;
    if (model->rig == NULL || model->ramp == NULL)
        return DD_OK;
    axles_instance *made = malloc(sizeof *made);
    if (made == NULL)
        return dd_fail(error, DD_ERROR_MEMORY, "axles", "no memory for the axles");
    *made = (axles_instance){model->rig, model->ramp};
    *instance = made;
    return DD_OK;
}

static int unit_count(const void *instance) { return ((const axles_instance *)instance)->rig->trailer.axle_count; }

static const char *unit_name(const void *instance, int unit)
{
    static const char *const names[DD_AXLES] = {"axle 1", "axle 2", "axle 3", "axle 4"};
    (void)instance;
    return names[unit];
}

enum { LOAD, SQUASH, CHANNELS };
static const dd_channel channels_of[] = {{"axle_load_N", "N", "load of the axle's wheels on the ground"},
                                         {"axle_squash_mm", "mm", "squash of its tyres and springs; < 0: clear of the ground"},
                                         {0}};

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)commands;
    (void)memory;
    const axles_instance *axles = instance;
    for (int a = 0; a < axles->rig->trailer.axle_count; a++) {
        dd_axle_contact c;
        dd_axle_contact_at(axles->rig, axles->ramp, k, a, &c);
        for (int i = 0; i < DD_RIG_COORDINATES; i++) {
            dd_jet lift = dd_jet_dot(c.normal_x, c.column_x[i], c.normal_z, c.column_z[i]);
            dd_jet_load(dd_jet_mul(c.load, lift), i, load, gradient);
        }
        load->energy += c.energy;
        load->heat += (c.load.v - c.elastic_load) * c.squash_rate.v;
        if (channels != NULL) {
            channels[a * CHANNELS + LOAD] = c.load.v;
            channels[a * CHANNELS + SQUASH] = 1000 * c.squash.v;
        }
    }
}

/* Random states: the last axle about `lift` above where it stands at its rated load. */
static void draw_state(const dd_model *model, double (*uniform)(void *), void *random, double lift, double speed, dd_pose *pose,
                       dd_motion *motion, dd_commands *commands)
{
    *pose = (dd_pose){.attitude = {0, 0, 0, 1}};
    *motion = (dd_motion){{0}, {0}};
    *commands = (dd_commands){0};
    pose->rig[DD_RIG_X] = dd_draw(uniform, random, -12, 25);
    pose->rig[DD_RIG_HEAVE] = dd_draw(uniform, random, -0.03, 0.01);
    pose->rig[DD_RIG_PITCH] = dd_axles_standing_pitch(model->rig, model->ramp, pose->rig[DD_RIG_X], lift) +
                              dd_draw(uniform, random, -0.005, 0.005);
    motion->rig[DD_RIG_X] = dd_draw(uniform, random, -1.5, 1.5);
    motion->rig[DD_RIG_HEAVE] = dd_draw(uniform, random, -speed, speed);
    motion->rig[DD_RIG_PITCH] = dd_draw(uniform, random, -0.2 * speed, 0.2 * speed);
}

static void draw_standing(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                          dd_motion *motion, double *memory, dd_commands *commands)
{
    (void)instance;
    (void)memory;
    draw_state(model, uniform, random, dd_draw(uniform, random, 0, 0.04), 0.2, pose, motion, commands);
}

static void draw_bouncing(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                          dd_motion *motion, double *memory, dd_commands *commands)
{
    (void)instance;
    (void)memory;
    draw_state(model, uniform, random, dd_draw(uniform, random, 0.0, 0.05), 1.0, pose, motion, commands);
}

static const dd_regime regimes[] = {{"standing", draw_standing}, {"bouncing", draw_bouncing}, {0}};
static const char *const sources[] = {"elementary mechanics", "design memory", NULL};

const dd_force_kind dd_force_axles = {.name = "axles",
                                      .help = "tyres and springs of the trailer on the ground",
                                      .acts_on = DD_ACTS_ON_RIG,
                                      .passive = 1,
                                      .sources = sources,
                                      .channels = channels_of,
                                      .prepare = prepare,
                                      .free = free,
                                      .unit_count = unit_count,
                                      .unit_name = unit_name,
                                      .evaluate = evaluate,
                                      .regimes = regimes};
