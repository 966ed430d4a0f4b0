/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/motion/system.h"
#include "lib/base/error.h"
#include "lib/force/wheels.h"
#include <stdlib.h>
#include <string.h>

static bool left_out(const char *const *without, const char *name)
{
    for (int i = 0; without != NULL && without[i] != NULL; i++)
        if (strcmp(without[i], name) == 0) return true;
    return false;
}

static int channels_per_unit(const dd_force_kind *kind)
{
    int n = 0;
    while (kind->channels != NULL && kind->channels[n].name != NULL) n++;
    return n;
}

/* Coefficients with their defaults, when the caller gives none. */
static dd_status prepare_force(dd_system *system, const dd_force_kind *kind, const void *parameters, void **instance,
                               dd_error *error)
{
    void *defaults = NULL;
    if (parameters == NULL && kind->parameters_size > 0) {
        defaults = calloc(1, kind->parameters_size);
        if (defaults == NULL)
            return dd_fail(error, DD_ERROR_MEMORY, kind->name, "no memory for the coefficients of force %s", kind->name);
        dd_key_clear(kind->keys, defaults);
        dd_key_defaults(kind->keys, defaults);
        parameters = defaults;
    }
    dd_status status = kind->prepare(&system->model, parameters, instance, error);
    free(defaults);
    return status;
}

static bool applies(const dd_model *model, const dd_force_kind *kind)
{
    switch (kind->acts_on) {
    case DD_ACTS_ON_HULL:
        return model->hull != NULL;
    case DD_ACTS_BETWEEN:
        return model->hull != NULL && model->rig != NULL;
    default:
        return model->rig != NULL;
    }
}

static dd_status add_force(dd_system *system, const dd_force_kind *kind, const void *parameters, dd_error *error)
{
    void *instance = NULL;
    dd_status status = prepare_force(system, kind, parameters, &instance, error);
    if (status != DD_OK || instance == NULL) return status;
    dd_system_force *force = &system->forces[system->force_count++];
    *force = (dd_system_force){.kind = kind, .instance = instance};
    force->memory_first = system->memory_count;
    force->memory_count = kind->memory_count != NULL ? kind->memory_count(instance) : 0;
    for (int m = 0; m < force->memory_count && kind->follows != NULL; m++) {
        if (kind->follows(instance, m) == 0) continue;
        if (force->parts++ == 0) force->parts_first = m;
        force->parts_end = m + 1;
    }
    force->unit_count = kind->unit_count != NULL ? kind->unit_count(instance) : 1;
    force->channel_count = channels_per_unit(kind);
    force->channel_first = system->channel_count;
    const bool coupled = kind->coupled_memory && (kind->couples == NULL || kind->couples(instance)) && force->memory_count > 0;
    force->block_first = coupled ? system->block_size : -1;
    if (force->block_first >= 0) system->block_size += force->memory_count * force->memory_count;
    system->memory_count += force->memory_count;
    system->channel_count += force->unit_count * force->channel_count;
    return DD_OK;
}

dd_status dd_system_create(const dd_model *model, const char *const *without, dd_force_parameters parameters,
                           const void *context, dd_system **system, dd_error *error)
{
    return dd_system_create_beside(model, without, parameters, context, NULL, system, error);
}

dd_status dd_system_create_beside(const dd_model *model, const char *const *without, dd_force_parameters parameters,
                                  const void *context, const dd_system *beside, dd_system **result, dd_error *error)
{
    *result = NULL;
    dd_system *system = calloc(1, sizeof *system);
    if (system != NULL) system->forces = calloc((size_t)dd_force_count(), sizeof *system->forces);
    if (system == NULL || system->forces == NULL) {
        free(system);
        return dd_fail(error, DD_ERROR_MEMORY, "dd_system_create", "no memory for the list of forces");
    }
    system->model.hull = model->hull;
    system->model.rig = model->rig;
    system->model.ramp = model->ramp;
    system->model.strips = model->strips;
    system->model.gravity = model->gravity;
    dd_water_copy(&system->model.water, &model->water);
    dd_status status = DD_OK;
    if (model->hull != NULL && model->strips != NULL && !left_out(without, "added mass"))
        status = dd_added_mass_create(&system->model, &system->added_mass, error);
    for (int i = 0; status == DD_OK && i < dd_force_count(); i++) {
        const dd_force_kind *kind = dd_force_at(i);
        const dd_system_force *twin = beside != NULL ? dd_system_find(beside, kind) : NULL;
        system->model.twin = twin != NULL ? twin->instance : NULL;
        if (applies(model, kind) && !left_out(without, kind->name))
            status = add_force(system, kind, parameters != NULL ? parameters(context, i) : NULL, error);
    }
    system->model.twin = NULL;
    if (status != DD_OK) {
        dd_system_free(system);
        return status;
    }
    const dd_system_force *wheels = dd_system_find(system, &dd_force_wheels);
    system->sinking = wheels != NULL ? dd_wheels_sinking(wheels->instance) : 0;
    system->sunk_first = system->sinking > 0 ? wheels->memory_first + DD_WHEELS_FRONT + system->sinking : 0;
    system->coordinates = model->rig != NULL && (model->rig->uncouples || model->rig->tilts) ? DD_RIG_COORDINATES : DD_RIG_ALWAYS;
    system->size = DD_STATE_MEMORY + system->memory_count + 2 * (system->coordinates - DD_RIG_ALWAYS);
    *result = system;
    return DD_OK;
}

void dd_system_free(dd_system *system)
{
    if (system == NULL) return;
    for (int i = 0; i < system->force_count; i++)
        if (system->forces[i].kind->free != NULL) system->forces[i].kind->free(system->forces[i].instance);
    dd_added_mass_free(system->added_mass);
    free(system->forces);
    free(system);
}

const dd_system_force *dd_system_find(const dd_system *system, const dd_force_kind *kind)
{
    for (int i = 0; i < system->force_count; i++)
        if (system->forces[i].kind == kind) return &system->forces[i];
    return NULL;
}

int dd_system_channel(const dd_system *system, const dd_force_kind *kind, int unit, const char *name)
{
    const dd_system_force *force = dd_system_find(system, kind);
    if (force == NULL || unit < 0 || unit >= force->unit_count) return -1;
    for (int c = 0; c < force->channel_count; c++)
        if (strcmp(kind->channels[c].name, name) == 0) return force->channel_first + unit * force->channel_count + c;
    return -1;
}

int dd_state_rig(const dd_system *system, int coordinate)
{
    if (coordinate < DD_RIG_ALWAYS) return DD_STATE_RIG + coordinate;
    if (coordinate >= system->coordinates) return -1;
    return DD_STATE_MEMORY + system->memory_count + coordinate - DD_RIG_ALWAYS;
}

int dd_state_rig_rate(const dd_system *system, int coordinate)
{
    if (coordinate < DD_RIG_ALWAYS) return DD_STATE_RIG_RATE + coordinate;
    return coordinate >= system->coordinates ? -1 : dd_state_rig(system, coordinate) + DD_RIG_COORDINATES - DD_RIG_ALWAYS;
}

bool dd_rig_coordinate_free(const dd_system *system, const dd_commands *commands, int coordinate)
{
    const dd_rig *rig = system->model.rig;
    if (rig == NULL) return false;
    if (coordinate == DD_RIG_REACH) return rig->uncouples && commands->uncoupled;
    return coordinate != DD_RIG_TILT || (rig->tilts && commands->unlatched);
}

bool dd_system_hold(const dd_system *system, const dd_commands *commands, double *y)
{
    bool struck = false;
    for (int c = DD_RIG_ALWAYS; c < system->coordinates; c++)
        if (!dd_rig_coordinate_free(system, commands, c)) {
            double *rate = &y[dd_state_rig_rate(system, c)];
            struck |= *rate < 0 || *rate > 0;
            *rate = 0;
        }
    return struck;
}

void dd_system_pack(const dd_system *system, const dd_pose *pose, const dd_motion *motion, const double *memory, double *y)
{
    for (int i = 0; i < system->coordinates; i++) {
        y[dd_state_rig(system, i)] = pose->rig[i];
        y[dd_state_rig_rate(system, i)] = motion->rig[i];
    }
    y[DD_STATE_POSITION] = pose->position.x;
    y[DD_STATE_POSITION + 1] = pose->position.y;
    y[DD_STATE_POSITION + 2] = pose->position.z;
    y[DD_STATE_ATTITUDE] = pose->attitude.w;
    y[DD_STATE_ATTITUDE + 1] = pose->attitude.x;
    y[DD_STATE_ATTITUDE + 2] = pose->attitude.y;
    y[DD_STATE_ATTITUDE + 3] = pose->attitude.z;
    for (int i = 0; i < 6; i++) y[DD_STATE_TWIST + i] = motion->twist[i];
    for (int i = 0; i < system->memory_count; i++) y[DD_STATE_MEMORY + i] = memory != NULL ? memory[i] : 0.0;
}

void dd_system_unpack(const dd_system *system, const double *y, dd_pose *pose, dd_motion *motion)
{
    for (int i = 0; i < DD_RIG_COORDINATES; i++) {
        const bool there = i < system->coordinates;
        pose->rig[i] = there ? y[dd_state_rig(system, i)] : 0;
        motion->rig[i] = there ? y[dd_state_rig_rate(system, i)] : 0;
    }
    pose->position = dd_vec(y[DD_STATE_POSITION], y[DD_STATE_POSITION + 1], y[DD_STATE_POSITION + 2]);
    pose->attitude =
        (dd_quaternion){y[DD_STATE_ATTITUDE], y[DD_STATE_ATTITUDE + 1], y[DD_STATE_ATTITUDE + 2], y[DD_STATE_ATTITUDE + 3]};
    for (int i = 0; i < 6; i++) motion->twist[i] = y[DD_STATE_TWIST + i];
}

void dd_system_tolerances(const dd_system *system, double relative_tolerance, double *absolute, double *relative)
{
    const double base = 0.1 * relative_tolerance;
    /* A boat that breaks away creeps at millimetres per second for tenths of a second, with tonnes behind it: steps that lose or
       gain a millionth of a metre per second each time do so on the same side, and the ledger sees it. */
    const double slow = 0.1 * base;
    for (int i = 0; i < DD_STATE_MEMORY; i++) {
        absolute[i] = i >= DD_STATE_RIG_RATE ? slow : base;
        relative[i] = i >= DD_STATE_RIG_RATE ? 1.0 : 0.0;
    }
    const int angles[] = {DD_STATE_RIG + DD_RIG_PITCH, DD_STATE_ATTITUDE,     DD_STATE_ATTITUDE + 1,
                          DD_STATE_ATTITUDE + 2,       DD_STATE_ATTITUDE + 3, DD_STATE_RIG_RATE + DD_RIG_PITCH,
                          DD_STATE_TWIST + 3,          DD_STATE_TWIST + 4,    DD_STATE_TWIST + 5};
    for (size_t i = 0; i < sizeof angles / sizeof angles[0]; i++) absolute[angles[i]] *= 0.3;
    for (int c = DD_RIG_ALWAYS; c < system->coordinates; c++) {
        absolute[dd_state_rig(system, c)] = c == DD_RIG_TILT ? 0.3 * base : base;
        absolute[dd_state_rig_rate(system, c)] = 0.1 * absolute[dd_state_rig(system, c)];
        relative[dd_state_rig(system, c)] = 0;
        relative[dd_state_rig_rate(system, c)] = 1;
    }
    for (int f = 0; f < system->force_count; f++) {
        const dd_system_force *force = &system->forces[f];
        for (int m = 0; m < force->memory_count; m++) {
            double scale = force->kind->memory_scale != NULL ? force->kind->memory_scale(force->instance, m) : 0.5;
            absolute[DD_STATE_MEMORY + force->memory_first + m] = base * scale;
            relative[DD_STATE_MEMORY + force->memory_first + m] = 0.0;
        }
    }
}

dd_status dd_workspace_create(const dd_system *system, dd_workspace **result, dd_error *error)
{
    *result = NULL;
    size_t m = (size_t)system->memory_count + 1, c = (size_t)system->channel_count + 1;
    dd_workspace *w = calloc(1, sizeof *w);
    if (w == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_workspace_create", "no memory for the workspace of a run");
    w->system = system;
    w->loads = calloc((size_t)system->force_count + 1, sizeof *w->loads);
    w->memory_rate = calloc(m, sizeof(double));
    w->channels = calloc(c, sizeof(double));
    w->load_by_value = calloc(m, sizeof *w->load_by_value);
    w->rig_by_value = calloc(m, sizeof *w->rig_by_value);
    w->rate_by_twist = calloc(m, sizeof *w->rate_by_twist);
    w->rate_by_rig = calloc(m, sizeof *w->rate_by_rig);
    w->rate_by_value = calloc(m, sizeof(double));
    w->rate_by_pose = calloc(m, sizeof *w->rate_by_pose);
    w->rate_by_place = calloc(m, sizeof *w->rate_by_place);
    w->rest_by_pose = calloc(m, sizeof *w->rest_by_pose);
    w->rested = calloc(m, sizeof *w->rested);
    w->scratch = calloc(3 * (size_t)system->size, sizeof(double));
    w->rate_by_values = calloc((size_t)system->block_size + 1, sizeof(double));
    if (w->rate_by_place == NULL || w->rest_by_pose == NULL || w->rested == NULL || w->scratch == NULL || w->rate_by_pose == NULL || w->rate_by_values == NULL || w->loads == NULL || w->memory_rate == NULL || w->channels == NULL || w->load_by_value == NULL ||
        w->rig_by_value == NULL || w->rate_by_twist == NULL || w->rate_by_rig == NULL || w->rate_by_value == NULL) {
        dd_workspace_free(w);
        return dd_fail(error, DD_ERROR_MEMORY, "dd_workspace_create", "no memory for the workspace of a run");
    }
    *result = w;
    return DD_OK;
}

void dd_workspace_free(dd_workspace *w)
{
    if (w == NULL) return;
    free(w->loads);
    free(w->memory_rate);
    free(w->channels);
    free(w->load_by_value);
    free(w->rig_by_value);
    free(w->rate_by_twist);
    free(w->rate_by_rig);
    free(w->rate_by_value);
    free(w->rate_by_pose);
    free(w->rate_by_place);
    free(w->rest_by_pose);
    free(w->rested);
    free(w->scratch);
    free(w->rate_by_values);
    free(w);
}

void dd_pose_displace(dd_pose *pose, const double hull[6], const double rig[DD_RIG_COORDINATES])
{
    for (int i = 0; rig != NULL && i < DD_RIG_COORDINATES; i++) pose->rig[i] += rig[i];
    if (hull == NULL) return;
    dd_mat3 r = dd_rotation_of(pose->attitude);
    pose->position = dd_add(pose->position, dd_apply(&r, dd_vec(hull[0], hull[1], hull[2])));
    double angle = sqrt(hull[3] * hull[3] + hull[4] * hull[4] + hull[5] * hull[5]);
    double s = angle > 1e-8 ? sin(0.5 * angle) / angle : 0.5 - angle * angle / 48.0;
    pose->attitude =
        dd_quaternion_multiply(pose->attitude, (dd_quaternion){cos(0.5 * angle), s * hull[3], s * hull[4], s * hull[5]});
}
