/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A person pushing the hull seaward at the bow: a horizontal force in the world's +x at the bow eye. Held in the world,
   its components in boat axes change by force x dphi as the hull turns. It does work: not passive. */
#include "lib/base/error.h"
#include "lib/force/water.h"
#include <stdlib.h>

typedef struct push {
    dd_vec3 eye;
} push;

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)memory;
    const push *p = instance;
    double force = commands != NULL ? commands->push_force : 0;
    if (channels != NULL)
        channels[0] = force;
    dd_vec3 along = dd_apply_transposed(&k->to_world, dd_vec(force, 0, 0));
    dd_wrench_add(load->hull, along, p->eye);
    for (int j = 0; gradient != NULL && j < 3; j++) {
        double moved[6] = {0};
        dd_wrench_add(moved, dd_cross(along, dd_vec(j == 0, j == 1, j == 2)), p->eye);
        for (int i = 0; i < 6; i++)
            gradient->K[i][3 + j] = -moved[i];
    }
}

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    (void)parameters;
    *instance = NULL;
    if (model->hull == NULL)
        return DD_OK;
    push *made = malloc(sizeof *made);
    if (made == NULL)
        return dd_fail(error, DD_ERROR_MEMORY, "push force", "no memory for %zu bytes", sizeof *made);
    *made = (push){dd_hull_bow_eye(model->hull)};
    *instance = made;
    return DD_OK;
}

static const char *const sources[] = {"elementary mechanics", NULL};
static const dd_channel push_channels[] = {{"push_N", "N", "a person's push on the bow, seaward"}, {NULL, NULL, NULL}};

const dd_force_kind dd_force_push = {
    .name = "push",
    .help = "a person pushing the hull seaward at the bow",
    .formula = "the force that is asked, level and seaward, at the bow eye",
    .valid = "a person on firm ground; HSE's guideline figures are the limit that it is held against",
    .covered_by = "tests/unit/force/test_force_gradients.c",
    .acts_on = DD_ACTS_ON_HULL,
    .sources = sources,
    .channels = push_channels,
    .prepare = prepare,
    .free = free,
    .evaluate = evaluate,
    .regimes = dd_water_regimes,
};
