/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/unit/force/rig_world.h"
#include "lib/force/axles.h"
#include <string.h>

const double no_memory[MEMORY];
const dd_motion rest;
const dd_commands no_commands;
const dd_force_kind *const statics[STATICS] = {&dd_force_rig_weight, &dd_force_coupling, &dd_force_axles, &dd_force_rig_buoyancy};

world world_of(const dd_ramp_parameters *ramp, const dd_vehicle_parameters *vehicle, const dd_trailer_parameters *trailer)
{
    world w = {.ramp = test_ramp_of(ramp), .rig = test_rig_of(vehicle, trailer)};
    dd_error error = {0};
    w.model = (dd_model){.rig = w.rig, .ramp = w.ramp, .gravity = 9.81};
    dd_water_defaults(&w.model.water);
    w.model.water.level = -100;
    w.model.water.density = 1000;
    CHECK_OK(dd_water_complete(&w.model.water, &error), &error);
    return w;
}

void free_world(world *w)
{
    dd_rig_free(w->rig);
    dd_ramp_free(w->ramp);
}

world reference_world(double grade)
{
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    reference_rig(&v, &t);
    dd_ramp_parameters p = test_straight_ramp_parameters(grade);
    return world_of(&p, &v, &t);
}

void *prepare(const dd_force_kind *kind, const dd_model *model)
{
    void *instance;
    dd_error error = {0};
    CHECK_OK(kind->prepare(model, NULL, &instance, &error), &error);
    assert_non_null(instance);
    return instance;
}

look look_at(const dd_force_kind *kind, const void *instance, const dd_model *model, const dd_pose *pose,
             const dd_motion *motion, const dd_commands *commands, const double *memory)
{
    look l;
    memset(&l, 0, sizeof l);
    dd_kinematics k;
    dd_kinematics_of(model, 0, pose, motion, &k);
    dd_memory m = {.value = memory,
                   .rate = l.rate,
                   .load_by_value = l.load_by_value,
                   .rig_by_value = l.rig_by_value,
                   .rate_by_twist = l.rate_by_twist,
                   .rate_by_rig = l.rate_by_rig,
                   .rate_by_value = l.rate_by_value};
    kind->evaluate(instance, &k, commands, &m, &l.load, &l.gradient, l.channels);
    return l;
}

double channel_of(const dd_force_kind *kind, const look *l, int unit, const char *name)
{
    int count = 0, found = -1;
    for (; kind->channels[count].name != NULL; count++)
        if (strcmp(kind->channels[count].name, name) == 0) found = count;
    assert_true(found >= 0 && (unit + 1) * count <= UNITS * CHANNELS);
    return l->channels[unit * count + found];
}

dd_pose settle(const world *w, void *const instance[STATICS], double x)
{
    dd_pose pose = {.rig = {x, 0, dd_axles_standing_pitch(w->rig, w->ramp, x, 0)}, .attitude = {0, 0, 0, 1}};
    for (int i = 0; i < 1000; i++) { /* small steps at the end: a thin member at the surface turns stiff at once */
        double q[3] = {0}, k[3][3] = {{0}};
        for (int f = 0; f < STATICS; f++) {
            if (instance[f] == NULL) continue;
            look l = look_at(statics[f], instance[f], &w->model, &pose, &rest, &no_commands, no_memory);
            for (int a = 1; a < 3; a++) {
                q[a] += l.load.rig[a];
                for (int b = 1; b < 3; b++) k[a][b] += l.gradient.rig_K[a][b];
            }
        }
        double determinant = k[1][1] * k[2][2] - k[1][2] * k[2][1];
        double heave = (q[1] * k[2][2] - q[2] * k[1][2]) / determinant, pitch = (q[2] * k[1][1] - q[1] * k[2][1]) / determinant;
        if (!(determinant > 0)) heave = 0, pitch = copysign(1, q[2]); /* downhill, where the energy is not a hollow */
        double most = fmax(fabs(heave) / 0.02, fabs(pitch) / (i < 300 ? 0.005 : 0.0005)), part = most > 1 ? 1 / most : 1;
        pose.rig[DD_RIG_HEAVE] += part * heave;
        pose.rig[DD_RIG_PITCH] += part * pitch;
    }
    return pose;
}

void prepare_statics(const world *w, void *instance[STATICS])
{
    for (int f = 0; f < STATICS; f++) instance[f] = prepare(statics[f], &w->model);
}

void free_statics(void *instance[STATICS])
{
    for (int f = 0; f < STATICS; f++) statics[f]->free(instance[f]);
}

look held_at(const world *w, void *const instance[STATICS], const void *wheels, const dd_pose *pose, const dd_commands *commands,
             double memory[MEMORY], double *missing)
{
    *missing = 0;
    for (int f = 0; f < STATICS; f++)
        *missing -= look_at(statics[f], instance[f], &w->model, pose, &rest, commands, no_memory).load.rig[DD_RIG_X];
    dd_kinematics k;
    dd_kinematics_of(&w->model, 0, pose, &rest, &k);
    look l = look_at(&dd_force_wheels, wheels, &w->model, pose, &rest, commands, memory);
    for (int i = 0; i < 3; i++) {
        dd_wheels_hold(wheels, &k, commands, *missing - l.load.rig[DD_RIG_X], memory);
        l = look_at(&dd_force_wheels, wheels, &w->model, pose, &rest, commands, memory);
    }
    return l;
}

double uniform(void *context)
{
    unsigned long long *s = context;
    *s = *s * 6364136223846793005ULL + 1442695040888963407ULL;
    return (double)(*s >> 11) / 9007199254740992.0;
}
