/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Static pressure of still water: rho g V up at the centre of the immersed volume.

   Energy: rho g integral of (level - up . X) over the immersed volume = rho g (level V - up . M), M the volume moment.
   Its change is rho g (V dlevel - dup . M), since the integrand vanishes at the water plane; with dlevel = -up . dr and
   dup = up x dphi, the force is minus its gradient: -rho g dlevel V and rho g M x up.
   Stiffness: the volume changes by the water plane's shift d = dlevel - dup . X over its area A:
     dV = A dlevel - m . dup,  dM = m dlevel - S dup,  m and S the plane's first and second moments. */
#include "lib/base/error.h"
#include "lib/force/water.h"
#include <stdlib.h>

typedef struct buoyancy {
    const dd_strips *strips;
    double weight_density; /* rho g */
} buoyancy;

static void differentiate(const buoyancy *b, const dd_waterplane *plane, const dd_hydrostatics *wet, dd_gradient *gradient)
{
    for (int j = 0; j < 6; j++) {
        dd_vec3 e = dd_vec(j % 3 == 0, j % 3 == 1, j % 3 == 2);
        double level = j < 3 ? -dd_dot(plane->up, e) : 0;
        dd_vec3 up = j < 3 ? dd_vec(0, 0, 0) : dd_cross(plane->up, e);
        double volume = wet->waterplane_area * level - dd_dot(wet->waterplane_moment, up);
        dd_mat3 second;
        for (int i = 0; i < 9; i++)
            second.m[i / 3][i % 3] = wet->waterplane_second[i / 3][i % 3];
        dd_vec3 moment = dd_sub(dd_scale(level, wet->waterplane_moment), dd_apply(&second, up));
        dd_vec3 force = dd_add(dd_scale(volume, plane->up), dd_scale(wet->volume, up));
        dd_vec3 turn = dd_add(dd_cross(moment, plane->up), dd_cross(wet->volume_moment, up));
        const double moved[6] = {force.x, force.y, force.z, turn.x, turn.y, turn.z};
        for (int i = 0; i < 6; i++)
            gradient->K[i][j] = -b->weight_density * moved[i];
    }
}

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)commands, (void)memory;
    const buoyancy *b = instance;
    dd_hydrostatics wet;
    dd_strips_hydrostatics(b->strips, k->waterplane, &wet);
    dd_vec3 turn = dd_cross(wet.volume_moment, k->waterplane.up);
    const double unit[6] = {wet.volume * k->waterplane.up.x, wet.volume * k->waterplane.up.y, wet.volume * k->waterplane.up.z,
                            turn.x, turn.y, turn.z};
    for (int i = 0; i < 6; i++)
        load->hull[i] = b->weight_density * unit[i];
    load->energy = b->weight_density * (k->waterplane.level * wet.volume - dd_dot(k->waterplane.up, wet.volume_moment));
    if (gradient != NULL)
        differentiate(b, &k->waterplane, &wet, gradient);
    if (channels != NULL) {
        channels[0] = b->weight_density * wet.volume;
        channels[1] = wet.volume;
        channels[2] = wet.volume > 0 ? wet.volume_moment.x / wet.volume : 0;
        channels[3] = wet.waterplane_area;
    }
}

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    (void)parameters;
    *instance = NULL;
    if (model->hull == NULL || model->strips == NULL)
        return DD_OK;
    buoyancy *made = malloc(sizeof *made);
    if (made == NULL)
        return dd_fail(error, DD_ERROR_MEMORY, "buoyancy force", "no memory for %zu bytes", sizeof *made);
    *made = (buoyancy){model->strips, model->water.density * model->gravity};
    *instance = made;
    return DD_OK;
}

static const char *const sources[] = {"hydrostatics", "standard gravity", "water density", NULL};
static const dd_channel buoyancy_channels[] = {
    {"buoyancy_N", "N", "weight of the water displaced"},
    {"immersed_volume_m3", "m3", "volume under water"},
    {"centre_of_buoyancy_from_transom_m", "m", "X of the centre of the immersed volume, boat frame; 0 when dry"},
    {"waterplane_area_m2", "m2", "area of the hull in the water's surface"},
    {NULL, NULL, NULL}};

const dd_force_kind dd_force_buoyancy = {
    .name = "buoyancy",
    .help = "static pressure of the water on the immersed hull",
    .acts_on = DD_ACTS_ON_HULL,
    .passive = 1,
    .sources = sources,
    .channels = buoyancy_channels,
    .prepare = prepare,
    .free = free,
    .evaluate = evaluate,
    .regimes = dd_water_regimes,
};
