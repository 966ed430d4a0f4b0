/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Weight of hull and all aboard, at their centre of mass c: force -m g up, moment c x force, energy m g z.
   As the hull turns by dphi the vertical in boat axes changes by up x dphi; shifting the hull changes nothing. */
#include "lib/base/error.h"
#include "lib/force/water.h"
#include <stdlib.h>

typedef struct hull_weight {
    double weight;
    dd_vec3 centre;
} hull_weight;

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)commands, (void)memory;
    const hull_weight *w = instance;
    dd_wrench_add(load->hull, dd_scale(-w->weight, k->up), w->centre);
    load->energy = w->weight * (k->origin.z + dd_dot(k->up, w->centre));
    if (channels != NULL)
        channels[0] = k->origin.z + dd_dot(k->up, w->centre);
    for (int j = 0; gradient != NULL && j < 3; j++) {
        double moved[6] = {0};
        dd_vec3 turned = dd_cross(k->up, dd_vec(j == 0, j == 1, j == 2));
        dd_wrench_add(moved, dd_scale(-w->weight, turned), w->centre);
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
    hull_weight *made = malloc(sizeof *made);
    if (made == NULL)
        return dd_fail(error, DD_ERROR_MEMORY, "hull weight force", "no memory for %zu bytes", sizeof *made);
    const dd_mass_properties *mass = dd_hull_mass(model->hull);
    *made = (hull_weight){mass->mass * model->gravity, mass->centre};
    *instance = made;
    return DD_OK;
}

static const char *const sources[] = {"elementary mechanics", "standard gravity", NULL};
static const dd_channel weight_channels[] = {{"hull_centre_height_m", "m", "centre of mass of hull and all aboard, above the ramp's datum"},
                                             {NULL, NULL, NULL}};

const dd_force_kind dd_force_hull_weight = {
    .name = "hull weight",
    .help = "weight of the hull and all aboard",
    .formula = "F = -m g up at the centre of mass c, moment c x F; energy m g z",
    .valid = "any pose; what is aboard does not shift (free surface of tanks is a note of weigh)",
    .covered_by = "tests/unit/force/test_force_gradients.c",
    .acts_on = DD_ACTS_ON_HULL,
    .passive = 1,
    .sources = sources,
    .channels = weight_channels,
    .prepare = prepare,
    .free = free,
    .evaluate = evaluate,
    .regimes = dd_water_regimes,
};
