/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drag of the water on the rig that moves along its path: F = -rho/2 Cd A u |u| on the rig's x, with u the level speed of each
   part's reference point and A the wetted area that it shows along the path (rig_water.c). Heave and pitch are left out. */
#include "lib/force/axles.h"
#include "lib/force/draw.h"
#include "lib/force/rig_water.h"
#include "lib/base/error.h"
#include <stdlib.h>

typedef struct drag_parameters {
    double coefficient;
} drag_parameters;

typedef struct drag_instance {
    const dd_rig *rig;
    const dd_water *water;
    double gravity, coefficient;
} drag_instance;

/* clang-format off */
static const dd_key keys[] = {
    {.name = "coefficient", .type = DD_KEY_QUANTITY, .dimension = DD_NUMBER, .offset = offsetof(drag_parameters, coefficient),
     .least = 0, .most = 5, .fallback = 1.1, .source = "rig drag",
     .help = "drag on the wetted area of tyres, body and trailer's members that faces along the path"},
    {0}};
/* clang-format on */

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    *instance = NULL;
    if (model->rig == NULL || model->ramp == NULL || !(model->water.density > 0)) return DD_OK;
    drag_instance *made = malloc(sizeof *made);
    if (made == NULL) return dd_fail(error, DD_ERROR_MEMORY, "rig drag", "no memory for the rig's drag");
    const drag_parameters *p = parameters;
    *made = (drag_instance){model->rig, &model->water, model->gravity, p != NULL ? p->coefficient : keys[0].fallback};
    *instance = made;
    return DD_OK;
}

static const dd_channel channels_of[] = {{"rig_drag_N", "N", "drag of the water on the rig along x, > 0 seaward"}, {0}};

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)commands;
    (void)memory;
    const drag_instance *drag = instance;
    const double rate = k->motion.rig[DD_RIG_X];
    for (int part = 0; part < DD_WET_PARTS; part++) {
        dd_wet wet = {0};
        if (!dd_rig_wet_add(drag->rig, drag->water, drag->gravity, k, part, gradient != NULL, &wet)) continue;
        double column[DD_RIG_COORDINATES][DD_WET_COORDINATES], second[DD_WET_COORDINATES];
        dd_wet_columns(k, dd_wet_part_of_vehicle(part), column, second);
        const double f = 0.5 * drag->water->density * drag->coefficient, b = column[DD_RIG_X][DD_WET_X], u = b * rate;
        const double force = -f * wet.area * u * fabs(u);
        load->rig[DD_RIG_X] += force * b;
        load->heat -= force * u;
        if (channels != NULL) channels[0] += force;
        if (gradient == NULL) continue;
        gradient->rig_D[DD_RIG_X][DD_RIG_X] += 2 * f * wet.area * fabs(u) * b * b;
        gradient->rig_K[DD_RIG_X][DD_RIG_X] += 3 * f * wet.area * u * fabs(u) * second[DD_WET_X];
        for (int c = 0; c < DD_RIG_COORDINATES; c++)
            for (int i = 0; i < DD_WET_COORDINATES; i++)
                gradient->rig_K[DD_RIG_X][c] += f * wet.area_gradient[i] * column[c][i] * u * fabs(u) * b;
    }
}

static void draw_wading(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                        dd_motion *motion, double *memory, dd_commands *commands)
{
    (void)instance;
    (void)memory;
    double x = -20, depth = dd_draw(uniform, random, -0.1, 1.0);
    for (int i = 0; i < 400; i++, x += 0.15)
        if (dd_water_surface_at(&model->water, x, 0).level - dd_ramp_at(model->ramp, x).z >= depth) break;
    *pose = (dd_pose){.rig = {x, dd_draw(uniform, random, -0.05, 0.05),
                              dd_axles_standing_pitch(model->rig, model->ramp, x, 0) + dd_draw(uniform, random, -0.03, 0.03)},
                      .attitude = {0, 0, 0, 1}};
    *motion = (dd_motion){{dd_draw(uniform, random, -1.5, 1.5)}, {0}};
    *commands = (dd_commands){0};
}

static const dd_regime regimes[] = {{"wading", draw_wading}, {0}};
static const char *const sources[] = {"rig drag", NULL};

const dd_force_kind dd_force_rig_drag = {.name = "rig drag",
                                         .help = "drag of the water on the rig that moves along its path",
                                         .formula = "-rho/2 Cd A u |u| along the path, A the wetted area shown along it",
                                         .valid = "slow wading; heave and pitch left out",
                                         .covered_by = "tests/unit/force/test_rig_water.c",
                                         .acts_on = DD_ACTS_ON_RIG,
                                         .passive = 1,
                                         .parameters_size = sizeof(drag_parameters),
                                         .keys = keys,
                                         .sources = sources,
                                         .channels = channels_of,
                                         .prepare = prepare,
                                         .free = free,
                                         .evaluate = evaluate,
                                         .regimes = regimes};
