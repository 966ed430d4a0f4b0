/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Weight of vehicle and trailer: energy V = g (m_v z_v + m_t z_t), load -dV/dq, K = d2V/dq2. The vehicle's centre and the
   ball follow x; the trailer's centre is coupling + R(pitch) r. Where a bed tilts it has its share: hinge + R(pitch + tilt) r. */
#include "lib/force/draw.h"
#include "lib/base/error.h"
#include <stdlib.h>

typedef struct weight_instance {
    double vehicle, trailer, bed; /* N; trailer: of the chassis where a bed tilts */
    dd_vec3 trailer_centre, bed_from_hinge;
} weight_instance;

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    (void)parameters;
    *instance = NULL;
    if (model->rig == NULL) return DD_OK;
    weight_instance *made = malloc(sizeof *made);
    if (made == NULL) return dd_fail(error, DD_ERROR_MEMORY, "rig weight", "no memory for the rig's weight");
    *made = (weight_instance){model->rig->vehicle.mass * model->gravity, model->rig->chassis.mass * model->gravity,
                              model->rig->bed.mass * model->gravity, model->rig->chassis.centre,
                              dd_sub(model->rig->bed.centre, model->rig->hinge)};
    *instance = made;
    return DD_OK;
}

static void add_bed(const weight_instance *w, const dd_kinematics *k, dd_load *load, dd_gradient *gradient)
{
    const dd_vec3 turned = dd_apply(&k->trailer_to_world, w->bed_from_hinge), from_coupling = dd_sub(k->hinge, k->coupling);
    const dd_vec3 arm = dd_add(from_coupling, turned);
    load->rig[DD_RIG_X] -= w->bed * k->vehicle.ball_x.z;
    load->rig[DD_RIG_HEAVE] -= w->bed;
    load->rig[DD_RIG_PITCH] += w->bed * arm.x;
    load->rig[DD_RIG_TILT] += w->bed * turned.x;
    load->energy += w->bed * (k->coupling.z + arm.z);
    if (gradient == NULL) return;
    gradient->rig_K[DD_RIG_X][DD_RIG_X] += w->bed * k->vehicle.ball_xx.z;
    gradient->rig_K[DD_RIG_PITCH][DD_RIG_PITCH] -= w->bed * arm.z;
    gradient->rig_K[DD_RIG_PITCH][DD_RIG_TILT] -= w->bed * turned.z;
    gradient->rig_K[DD_RIG_TILT][DD_RIG_PITCH] -= w->bed * turned.z;
    gradient->rig_K[DD_RIG_TILT][DD_RIG_TILT] -= w->bed * turned.z;
}

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)commands;
    (void)memory;
    (void)channels;
    const weight_instance *w = instance;
    dd_vec3 arm = dd_apply(&k->chassis_to_world, w->trailer_centre);
    load->rig[DD_RIG_X] = -w->vehicle * k->vehicle.centre_x.z - w->trailer * k->vehicle.ball_x.z;
    load->rig[DD_RIG_HEAVE] = -w->trailer;
    load->rig[DD_RIG_PITCH] = w->trailer * arm.x;
    load->energy = w->vehicle * k->vehicle.centre.z + w->trailer * (k->coupling.z + arm.z);
    if (gradient != NULL) {
        gradient->rig_K[DD_RIG_X][DD_RIG_X] = w->vehicle * k->vehicle.centre_xx.z + w->trailer * k->vehicle.ball_xx.z;
        gradient->rig_K[DD_RIG_PITCH][DD_RIG_PITCH] = -w->trailer * arm.z;
    }
    if (w->bed > 0) add_bed(w, k, load, gradient);
}

static void draw_any(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                     dd_motion *motion, double *memory, dd_commands *commands)
{
    (void)instance;
    (void)model;
    (void)memory;
    *pose = (dd_pose){
        .rig = {dd_draw(uniform, random, -10, 20), dd_draw(uniform, random, -0.05, 0.05), dd_draw(uniform, random, -0.2, 0.3)},
        .attitude = {0, 0, 0, 1}};
    *motion = (dd_motion){{0}, {0}};
    *commands = (dd_commands){0};
}

static const dd_regime regimes[] = {{"anywhere", draw_any}, {0}};
static const char *const sources[] = {"standard gravity", "elementary mechanics", NULL};

const dd_force_kind dd_force_rig_weight = {.name = "rig weight",
                                           .help = "weight of vehicle and trailer",
                                           .formula = "-dV/dq of V = g (m_v z_v + m_t z_t) along the rig's coordinates",
                                           .valid = "any slope; loads in the vehicle do not shift",
                                           .covered_by = "tests/unit/force/test_rig_forces.c",
                                           .acts_on = DD_ACTS_ON_RIG,
                                           .passive = 1,
                                           .sources = sources,
                                           .prepare = prepare,
                                           .free = free,
                                           .evaluate = evaluate,
                                           .regimes = regimes};
