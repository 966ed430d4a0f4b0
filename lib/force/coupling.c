/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The coupling on the vehicle's ball: a vertical spring and damper, the vehicle's rear suspension. A closed coupling holds
   both ways, so the load may take either sign; off the ball it carries nothing. Heave is the coupling's height over where the unloaded ball stands; the
   reaction goes into the vehicle, whose pose the profile gives: no other coordinate is loaded. In soft ground the vehicle's wheels let
   the ball down (soil.h). */
#include "lib/force/coupling.h"
#include "lib/force/draw.h"
#include "lib/base/error.h"
#include <stdlib.h>

typedef struct coupling_instance {
    const dd_rig *rig;
    const dd_ramp *ramp;
    double gravity, stiffness, damping;
} coupling_instance;

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    (void)parameters;
    *instance = NULL;
    if (model->rig == NULL) return DD_OK;
    coupling_instance *made = malloc(sizeof *made);
    if (made == NULL) return dd_fail(error, DD_ERROR_MEMORY, "coupling", "no memory for the coupling");
    *made = (coupling_instance){model->rig, model->ramp, model->gravity, model->rig->ball_stiffness, model->rig->ball_damping};
    *instance = made;
    return DD_OK;
}

static const dd_channel channels_of[] = {
    {"coupling_load_N", "N", "vertical load of the trailer on the ball; < 0: it lifts the vehicle's tail"}, {0}};

static void sink(const coupling_instance *c, const dd_kinematics *k, const dd_memory *memory, dd_load *load, dd_gradient *gradient)
{
    const dd_ball_in_sand b = dd_ball_sinks(c->rig, c->ramp, c->gravity, k, true);
    load->rig[DD_RIG_HEAVE] += b.force + c->stiffness * k->pose.rig[DD_RIG_HEAVE];
    load->energy = b.energy;
    if (gradient == NULL) return;
    gradient->rig_K[DD_RIG_HEAVE][DD_RIG_HEAVE] = -b.by_heave;
    gradient->rig_K[DD_RIG_HEAVE][DD_RIG_X] = -b.by_x;
    for (int a = 0; memory->rig_by_sunk != NULL && a < DD_VEHICLE_AXLES; a++) {
        memory->rig_by_sunk[a][DD_RIG_HEAVE] += b.by_stood[a];
        memory->rig_by_sunk[DD_WHEELED + a][DD_RIG_HEAVE] += b.by_rut[a];
    }
}

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    const coupling_instance *c = instance;
    if (channels != NULL) channels[0] = 0;
    if (dd_off_the_ball(c->rig, commands)) return;
    double heave = k->pose.rig[DD_RIG_HEAVE], rate = k->motion.rig[DD_RIG_HEAVE];
    double force = -c->stiffness * heave - c->damping * rate;
    load->rig[DD_RIG_HEAVE] = force;
    load->energy = 0.5 * c->stiffness * heave * heave;
    load->heat = c->damping * rate * rate;
    if (gradient != NULL) {
        gradient->rig_K[DD_RIG_HEAVE][DD_RIG_HEAVE] = c->stiffness;
        gradient->rig_D[DD_RIG_HEAVE][DD_RIG_HEAVE] = c->damping;
    }
    if (c->ramp != NULL && dd_ramp_soft(c->ramp)) sink(c, k, memory, load, gradient);
    if (channels != NULL) channels[0] = load->rig[DD_RIG_HEAVE];
}

static void draw_any(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                     dd_motion *motion, double *memory, dd_commands *commands)
{
    (void)instance;
    (void)model;
    (void)memory;
    *pose = (dd_pose){.rig = {dd_draw(uniform, random, -10, 20), dd_draw(uniform, random, -0.05, 0.05), 0.05},
                      .attitude = {0, 0, 0, 1}};
    *motion = (dd_motion){{0, dd_draw(uniform, random, -0.5, 0.5), 0}, {0}};
    *commands = (dd_commands){0};
}

static const dd_regime regimes[] = {{"coupled", draw_any}, {0}};
static const char *const sources[] = {"elementary mechanics", "design memory", NULL};

const dd_force_kind dd_force_coupling = {.name = "coupling",
                                         .help = "the coupling on the vehicle's ball and rear suspension",
                                         .formula = "vertical spring and damper of the vehicle's rear suspension, either sign while closed, nothing off the ball",
                                         .valid = "the vehicle follows the ground; its body does not nod on the ramp (it does in a stop, lib/study/brake_motion.c)",
                                         .covered_by = "tests/unit/force/test_rig_forces.c",
                                         .acts_on = DD_ACTS_ON_RIG,
                                         .passive = 1,
                                         .sources = sources,
                                         .channels = channels_of,
                                         .prepare = prepare,
                                         .free = free,
                                         .evaluate = evaluate,
                                         .regimes = regimes};
