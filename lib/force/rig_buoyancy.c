/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lift of the water on the vehicle's body, on the tyres and on the trailer's members: minus the gradient of the energy of what
   they displace (rig_water.c). Moving water does work on a part that stands: it comes out as negative heat. */
#include "lib/force/axles.h"
#include "lib/force/draw.h"
#include "lib/force/rig_water.h"
#include "lib/base/error.h"
#include <stdlib.h>

typedef struct lift_instance {
    const dd_rig *rig;
    const dd_water *water;
    double gravity;
} lift_instance;

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    (void)parameters;
    *instance = NULL;
    if (model->rig == NULL || model->ramp == NULL || !(model->water.density > 0)) return DD_OK;
    lift_instance *made = malloc(sizeof *made);
    if (made == NULL) return dd_fail(error, DD_ERROR_MEMORY, "rig buoyancy", "no memory for the rig's buoyancy");
    *made = (lift_instance){model->rig, &model->water, model->gravity};
    *instance = made;
    return DD_OK;
}

enum { BODY, TYRES, FRAME, CHANNELS };
static const dd_channel channels_of[] = {{"body_buoyancy_N", "N", "lift of the water on the vehicle's body"},
                                         {"tyre_buoyancy_N", "N", "lift of the water on the tyres of vehicle and trailer"},
                                         {"frame_buoyancy_N", "N", "lift of the water on the trailer's members"},
                                         {0}};
static const int channel_of[DD_WET_PARTS] = {BODY, TYRES, TYRES, FRAME};

static void load_part(const dd_wet *wet, const dd_kinematics *k, bool of_vehicle, dd_load *load, dd_gradient *gradient)
{
    double column[DD_RIG_COORDINATES][DD_WET_COORDINATES], second[DD_WET_COORDINATES];
    dd_wet_columns(k, of_vehicle, column, second);
    load->energy += wet->energy;
    load->heat -= wet->energy_rate;
    for (int c = 0; c < DD_RIG_COORDINATES; c++)
        for (int i = 0; i < DD_WET_COORDINATES; i++) load->rig[c] -= wet->gradient[i] * column[c][i];
    if (gradient == NULL) return;
    for (int i = 0; i < DD_WET_COORDINATES; i++) gradient->rig_K[DD_RIG_X][DD_RIG_X] += wet->gradient[i] * second[i];
    for (int c = 0; c < DD_RIG_COORDINATES; c++)
        for (int i = 0; i < DD_WET_COORDINATES; i++) {
            if (column[c][i] == 0) continue; /* most coordinates move a part one way, or not at all */
            for (int d = 0; d < DD_RIG_COORDINATES; d++)
                for (int j = 0; j < DD_WET_COORDINATES; j++)
                    if (column[d][j] != 0) gradient->rig_K[c][d] += column[c][i] * wet->curvature[i][j] * column[d][j];
        }
}

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)commands;
    (void)memory;
    const lift_instance *lift = instance;
    for (int part = 0; part < DD_WET_PARTS; part++) {
        dd_wet wet = {0};
        if (!dd_rig_wet_add(lift->rig, lift->water, lift->gravity, k, part, gradient != NULL, &wet)) continue;
        load_part(&wet, k, dd_wet_part_of_vehicle(part), load, gradient);
        if (channels != NULL) channels[channel_of[part]] -= wet.gradient[DD_WET_Z];
    }
}

/* x where the given depth of water stands over the ground at the vehicle's rear axle. */
static void draw_at_depth(const dd_model *model, double depth, double (*uniform)(void *), void *random, dd_pose *pose,
                          dd_motion *motion, dd_commands *commands)
{
    double x = -20;
    for (int i = 0; i < 400; i++, x += 0.15)
        if (dd_water_surface_at(&model->water, x, 0).level - dd_ramp_at(model->ramp, x).z >= depth) break;
    *pose = (dd_pose){.rig = {x, dd_draw(uniform, random, -0.05, 0.05),
                              dd_axles_standing_pitch(model->rig, model->ramp, x, 0) + dd_draw(uniform, random, -0.03, 0.03)},
                      .attitude = {0, 0, 0, 1}};
    *motion = (dd_motion){{dd_draw(uniform, random, -1, 1)}, {0}};
    *commands = (dd_commands){0};
}

static void draw_trailer_wet(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                             dd_motion *motion, double *memory, dd_commands *commands)
{
    (void)instance;
    (void)memory;
    draw_at_depth(model, dd_draw(uniform, random, -0.3, 0.1), uniform, random, pose, motion, commands);
}

static void draw_vehicle_wet(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                             dd_motion *motion, double *memory, dd_commands *commands)
{
    (void)instance;
    (void)memory;
    draw_at_depth(model, dd_draw(uniform, random, 0.1, 1.5), uniform, random, pose, motion, commands);
}

static const dd_regime regimes[] = {{"trailer wet", draw_trailer_wet}, {"vehicle wet", draw_vehicle_wet}, {0}};
static const char *const sources[] = {"hydrostatics", "design memory", NULL};

const dd_force_kind dd_force_rig_buoyancy = {.name = "rig buoyancy",
                                             .help = "lift of the water on the vehicle's body, tyres and the trailer's members",
                                             .formula = "minus the gradient of the energy of what body, tyres and members displace",
                                             .valid = "a body closed up to its sills' seals, without leaking in; still pressure",
                                             .covered_by = "tests/unit/force/test_rig_water.c",
                                             .acts_on = DD_ACTS_ON_RIG,
                                             .passive = 1,
                                             .sources = sources,
                                             .channels = channels_of,
                                             .prepare = prepare,
                                             .free = free,
                                             .evaluate = evaluate,
                                             .regimes = regimes};
