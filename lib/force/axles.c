/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The force of the trailer's axles; the contact itself: axles_contact.c. */
#include "lib/force/axles.h"
#include "lib/force/draw.h"
#include "lib/base/error.h"
#include <stdlib.h>

typedef struct axles_instance {
    const dd_rig *rig;
    const dd_ramp *ramp;
} axles_instance;

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
        if (fabs(over) < 1e-12) break;
    }
    return pitch;
}

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    (void)parameters;
    *instance = NULL;
    if (model->rig == NULL || model->ramp == NULL) return DD_OK;
    axles_instance *made = malloc(sizeof *made);
    if (made == NULL) return dd_fail(error, DD_ERROR_MEMORY, "axles", "no memory for the axles");
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
    const axles_instance *axles = instance;
    for (int a = 0; a < axles->rig->trailer.axle_count; a++) {
        dd_axle_contact c;
        if (gradient != NULL && k->at_rest)
            dd_axle_contact_still(axles->rig, axles->ramp, k, a, &c);
        else if (gradient != NULL)
            dd_axle_contact_at(axles->rig, axles->ramp, k, a, &c);
        else
            dd_axle_contact_plain(axles->rig, axles->ramp, k, a, &c);
        for (int i = 0; i < DD_RIG_COORDINATES; i++) {
            dd_jet lift = dd_jet_dot(c.normal_x, c.column_x[i], c.normal_z, c.column_z[i]);
            dd_jet_load(dd_jet_mul(c.load, lift), i, load, gradient);
            for (int j = 0; memory->rig_by_sunk != NULL && j < axles->rig->trailer.axle_count; j++) {
                memory->rig_by_sunk[DD_VEHICLE_AXLES + j][i] += c.by_stood[j] * lift.v;
                memory->rig_by_sunk[DD_WHEELED + DD_VEHICLE_AXLES + j][i] += c.by_rut[j] * lift.v;
            }
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
    pose->rig[DD_RIG_PITCH] =
        dd_axles_standing_pitch(model->rig, model->ramp, pose->rig[DD_RIG_X], lift) + dd_draw(uniform, random, -0.005, 0.005);
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
                                      .formula = "each axle N = S(k u + chi c u') by its squash u on the profile; beams that share by their suspension",
                                      .valid = "wheels follow the ground's profile; the tyre's squash is small against its radius",
                                      .covered_by = "tests/unit/force/test_rig_forces.c",
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

dd_standing_wheel dd_axle_stands(const dd_rig *rig, const dd_ramp *ramp, const dd_kinematics *k, int axle)
{
    const dd_trailer_parameters *t = &rig->trailer;
    const dd_vec3 on_frame = dd_chassis_point(k, rig->axle[axle]);
    dd_axle_contact c;
    dd_axle_contact_plain(rig, ramp, k, axle, &c);
    const dd_vec3 normal = dd_vec(c.normal_x.v, 0, c.normal_z.v), foot = dd_vec(c.foot, 0, dd_ramp_at(ramp, c.foot).z);
    const double reach = dd_dot(normal, dd_sub(on_frame, foot)), loaded = c.elastic_load / rig->axle_rated_load[axle];
    double above = t->tyre_radius + t->tyre_squash * (1 - loaded) - c.sunk.depth;
    if (!(c.elastic_load > 0)) above = fmax(above, reach - t->spring_squash);
    return (dd_standing_wheel){.hub = dd_add(on_frame, dd_scale(above - reach, normal)), .foot = dd_sub(foot, dd_scale(c.sunk.depth, normal))};
}
