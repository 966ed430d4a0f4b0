/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Static pressure of the water: rho g V up at the centre of the immersed volume. Under a sloping surface pressure goes with the
   vertical depth, n = sqrt(1 + slope^2) times that across the water plane: rho g n stands for rho g, up is the plane's normal.

   Energy: rho g integral of (level - up . X) over the immersed volume = rho g (level V - up . M), M the volume moment.
   Its change is rho g (V dlevel - dup . M), since the integrand vanishes at the water plane; with dlevel = -up . dr and
   dup = up x dphi, the force is minus its gradient: -rho g dlevel V and rho g M x up.
   Stiffness: the volume changes by the water plane's shift d = dlevel - dup . X over its area A:
     dV = A dlevel - m . dup,  dM = m dlevel - S dup,  m and S the plane's first and second moments.
   Where the surface is curved its tangent plane tilts as the hull moves along x. A surface that rises or tilts does work on the
   hull: what the energy gains by it is given as heat, below zero where the water feeds it: rho g times the integral of the rate of
   vertical depth, z_t + s' (x - x_m). */
#include "lib/base/error.h"
#include "lib/force/water.h"
#include <stdlib.h>
#include <string.h>

typedef struct buoyancy {
    const dd_strips *strips;
    double weight_density; /* rho g */
} buoyancy;

/* Change of the wrench, per rho g, as the plane's level and normal change. */
static void add_change(const dd_waterplane *plane, const dd_hydrostatics *wet, double level, dd_vec3 up, double moved[6])
{
    double volume = wet->waterplane_area * level - dd_dot(wet->waterplane_moment, up);
    dd_mat3 second;
    for (int i = 0; i < 9; i++)
        second.m[i / 3][i % 3] = wet->waterplane_second[i / 3][i % 3];
    dd_vec3 moment = dd_sub(dd_scale(level, wet->waterplane_moment), dd_apply(&second, up));
    dd_vec3 force = dd_add(dd_scale(volume, plane->up), dd_scale(wet->volume, up));
    dd_vec3 turn = dd_add(dd_cross(moment, plane->up), dd_cross(wet->volume_moment, up));
    const double all[6] = {force.x, force.y, force.z, turn.x, turn.y, turn.z};
    memcpy(moved, all, sizeof all);
}

/* The tangent plane tilts along: n (level, up) change by curvature (-x_m, -(world x in boat axes)) per shift of the middle. Level
   and up here are n times the plane's, so that the plane itself shifts by 1/n of their change. */
static void add_tilt(const buoyancy *b, const dd_kinematics *k, const dd_hydrostatics *wet, dd_gradient *gradient)
{
    const dd_moving_water *m = &k->moving;
    const double *row = k->to_world.m[0];
    const dd_vec3 tilt = dd_vec(-row[0] * m->curvature, -row[1] * m->curvature, -row[2] * m->curvature);
    const double level = -m->curvature * m->middle_x;
    /* Wrench per rho g: (V N, M x N), N = n up; V and M change with the plane's shift (level - tilt . X) / n. */
    dd_hydrostatics unit = *wet;
    double by_plane[6];
    unit.volume = 0;
    unit.volume_moment = dd_vec(0, 0, 0);
    add_change(&k->waterplane, &unit, level, tilt, by_plane); /* n cancels: N = n up, shift over n */
    const dd_vec3 turn = dd_cross(wet->volume_moment, tilt);
    const double by_normal[6] = {wet->volume * tilt.x, wet->volume * tilt.y, wet->volume * tilt.z, turn.x, turn.y, turn.z};
    for (int i = 0; i < 6; i++)
        for (int j = 0; j < 6; j++)
            gradient->K[i][j] -= b->weight_density * (by_plane[i] + by_normal[i]) * m->middle_by[j];
}

static void differentiate(const buoyancy *b, const dd_kinematics *k, const dd_hydrostatics *wet, dd_gradient *gradient)
{
    const dd_waterplane *plane = &k->waterplane;
    const double weight_density = b->weight_density * k->moving.steepness;
    for (int j = 0; j < 6; j++) {
        dd_vec3 e = dd_vec(j % 3 == 0, j % 3 == 1, j % 3 == 2);
        double level = j < 3 ? -dd_dot(plane->up, e) : 0, moved[6];
        dd_vec3 up = j < 3 ? dd_vec(0, 0, 0) : dd_cross(plane->up, e);
        add_change(plane, wet, level, up, moved);
        for (int i = 0; i < 6; i++)
            gradient->K[i][j] = -weight_density * moved[i];
    }
    if (k->moving.present)
        add_tilt(b, k, wet, gradient);
}

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)commands, (void)memory;
    const buoyancy *b = instance;
    dd_hydrostatics wet;
    if (gradient != NULL)
        dd_strips_hydrostatics(b->strips, k->waterplane, &wet);
    else
        dd_strips_immersed(b->strips, k->waterplane, &wet);
    dd_vec3 turn = dd_cross(wet.volume_moment, k->waterplane.up);
    const double unit[6] = {wet.volume * k->waterplane.up.x, wet.volume * k->waterplane.up.y, wet.volume * k->waterplane.up.z,
                            turn.x, turn.y, turn.z};
    const double weight_density = b->weight_density * k->moving.steepness;
    for (int i = 0; i < 6; i++)
        load->hull[i] = weight_density * unit[i];
    load->energy = weight_density * (k->waterplane.level * wet.volume - dd_dot(k->waterplane.up, wet.volume_moment));
    if (k->moving.present) {
        const dd_moving_water *m = &k->moving;
        const double *row = k->to_world.m[0];
        const double along = dd_dot(dd_vec(row[0], row[1], row[2]), wet.volume_moment) - m->middle_x * wet.volume;
        load->heat = -b->weight_density * (m->level_rate * wet.volume + m->slope_rate * along);
    }
    if (gradient != NULL)
        differentiate(b, k, &wet, gradient);
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
    .formula = "rho g V up at the centre of the immersed volume V, moment about the boat's origin from the volume's moment; under a sloping surface rho g sqrt(1 + slope^2) along its normal",
    .valid = "any pose and any flooded depth of a watertight hull; pressure of still water under the surface as it stands, no slamming",
    .covered_by = "tests/unit/hull/test_cuts.c",
    .acts_on = DD_ACTS_ON_HULL,
    .passive = 1,
    .sources = sources,
    .channels = buoyancy_channels,
    .prepare = prepare,
    .free = free,
    .evaluate = evaluate,
    .regimes = dd_water_regimes,
};
