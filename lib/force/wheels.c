/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The force of the wheels along the path; its formulas: wheels_look.c. */
#include "lib/force/wheels_look.h"
#include "lib/force/draw.h"
#include "lib/base/error.h"
#include <stdlib.h>

/* clang-format off */
static const dd_key wheels_keys[] = {
    DD_BRISTLE_KEYS(dd_wheels_parameters, law),
    {.name = "response time", .type = DD_KEY_QUANTITY, .dimension = DD_TIME, .offset = offsetof(dd_wheels_parameters, response_time),
     .least = 0.01, .most = 10, .fallback = 0.3, .source = "the program",
     .help = "driver: error of speed over the acceleration asked for"},
    {.name = "correction time", .type = DD_KEY_QUANTITY, .dimension = DD_TIME,
     .offset = offsetof(dd_wheels_parameters, correction_time), .least = 0.01, .most = 100, .fallback = 1.2,
     .source = "the program", .help = "driver: time over which what error is left is taken out (four response times: no overshoot)"},
    {0}};
/* clang-format on */

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    *instance = NULL;
    if (model->rig == NULL || model->ramp == NULL) return DD_OK;
    dd_wheels_instance *made = calloc(1, sizeof *made);
    if (made == NULL) return dd_fail(error, DD_ERROR_MEMORY, "wheels", "no memory for the wheels");
    made->rig = model->rig;
    made->ramp = model->ramp;
    if (parameters != NULL) {
        made->parameters = *(const dd_wheels_parameters *)parameters;
    } else {
        dd_key_clear(wheels_keys, &made->parameters);
        dd_key_defaults(wheels_keys, &made->parameters);
    }
    made->gravity = model->gravity;
    made->mass = model->rig->vehicle.mass + model->rig->trailer.mass;
    if (model->hull != NULL) made->mass += dd_hull_mass(model->hull)->mass;
    *instance = made;
    return DD_OK;
}

static int memory_count(const void *instance)
{
    return DD_WHEELS_TRAILER + ((const dd_wheels_instance *)instance)->rig->trailer.axle_count;
}

static double memory_scale(const void *instance, int index)
{
    (void)instance;
    return index == DD_WHEELS_DRIVER ? 1.0 : 0.5;
}

static void remember(const dd_wheels_state *s, const dd_memory *memory)
{
    memory->rate[DD_WHEELS_DRIVER] = s->correction_rate;
    for (int a = 0; a < s->count; a++) memory->rate[DD_WHEELS_FRONT + a] = s->at[a].bristle.rate;
    if (memory->rate_by_value == NULL) return;
    memory->rate_by_value[DD_WHEELS_DRIVER] = s->correction_rate_by_value;
    for (int c = 0; c < DD_RIG_COORDINATES; c++) {
        memory->rate_by_rig[DD_WHEELS_DRIVER][c] = s->correction_rate_by_speed * s->at[1].speed.d[DD_JET_RATE + c];
        for (int a = 0; a < DD_VEHICLE_AXLES; a++)
            memory->rig_by_value[DD_WHEELS_DRIVER][c] += s->thrust_by_correction[a] * s->at[a].column[c].v;
    }
    for (int a = 0; a < s->count; a++) {
        const dd_wheeled *at = &s->at[a];
        double by_value = -at->load.v * at->limit.v * at->bristle.coefficient_by_value / DD_WHEELS_REFERENCE_LIMIT;
        memory->rate_by_value[DD_WHEELS_FRONT + a] = at->bristle.rate_by_value;
        for (int c = 0; c < DD_RIG_COORDINATES; c++) {
            memory->rig_by_value[DD_WHEELS_FRONT + a][c] = by_value * at->column[c].v;
            memory->rate_by_rig[DD_WHEELS_FRONT + a][c] = at->bristle.rate_by_speed * at->speed.d[DD_JET_RATE + c];
        }
    }
}

/* --- channels --------------------------------------------------------------------------------------------------- */

enum { NORMAL, ALONG, NEEDED, AVAILABLE, CHANNELS };
static const dd_channel channels_of[] = {
    {"normal_load_N", "N", "load of the wheels on the ground"},
    {"longitudinal_force_N", "N", "force of the ground on the wheels along the path, > 0 seaward"},
    {"friction_needed", "",
     "share of their load that the wheels pass to the ground; of the vehicle: its braked, else its driven wheels"},
    {"friction_available_low", "", "lower end of the friction band of the surface under these wheels"},
    {0}};

static int unit_count(const void *instance)
{
    return 1 + DD_VEHICLE_AXLES + ((const dd_wheels_instance *)instance)->rig->trailer.axle_count;
}

static const char *unit_name(const void *instance, int unit)
{
    static const char *const names[1 + DD_WHEELED] = {"vehicle",        "front axle",     "rear axle",     "trailer axle 1",
                                                      "trailer axle 2", "trailer axle 3", "trailer axle 4"};
    (void)instance;
    return names[unit];
}

static double needed(double force, double load) { return load > 1 ? fabs(force) / load : 0; }

static void report(const dd_wheels_instance *w, const dd_commands *commands, const dd_wheels_state *s, double *channels)
{
    double load = 0, force = 0, low = 0;
    for (int a = 0; a < s->count; a++) {
        double *row = channels + (1 + a) * CHANNELS;
        const dd_wheeled *at = &s->at[a];
        row[NORMAL] = at->load.v;
        row[ALONG] = at->force.v;
        row[NEEDED] = needed(at->force.v, at->load.v);
        row[AVAILABLE] = dd_ramp_surface(w->ramp, at->foot)->friction_low;
        bool counts = a < DD_VEHICLE_AXLES && (commands->brake > 0.5 || dd_wheels_driven(&w->rig->vehicle, a));
        load += counts ? at->load.v : 0;
        force += counts ? at->force.v : 0;
        low += counts ? at->load.v * row[AVAILABLE] : 0;
    }
    channels[NORMAL] = s->at[0].load.v + s->at[1].load.v;
    channels[ALONG] = s->at[0].force.v + s->at[1].force.v;
    channels[NEEDED] = needed(force, load);
    channels[AVAILABLE] = load > 1 ? low / load : dd_ramp_surface(w->ramp, s->at[1].foot)->friction_low;
}

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    const dd_wheels_instance *w = instance;
    dd_wheels_state s;
    if (gradient != NULL || memory->rate_by_value != NULL)
        dd_wheels_look(w, k, commands, memory->value, &s);
    else
        dd_wheels_look_plain(w, k, commands, memory->value, &s);
    double power = 0;
    for (int a = 0; a < s.count; a++) {
        for (int c = 0; c < DD_RIG_COORDINATES; c++)
            dd_jet_load(dd_jet_mul(s.at[a].force, s.at[a].column[c]), c, load, gradient);
        power += s.at[a].force.v * s.at[a].speed.v;
    }
    load->heat = -power; /* the engine's work comes out as negative heat; the bristles store next to nothing */
    remember(&s, memory);
    if (channels != NULL) report(w, commands, &s, channels);
}

void dd_wheels_hold(const void *instance, const dd_kinematics *k, const dd_commands *commands, double missing, double *memory)
{
    const dd_wheels_instance *w = instance;
    dd_wheels_state s;
    dd_wheels_look_plain(w, k, commands, memory, &s);
    double by_deflection = 0, stiffness = w->parameters.law.stiffness;
    for (int a = 0; a < s.count; a++)
        by_deflection -= s.at[a].load.v * s.at[a].limit.v * stiffness / DD_WHEELS_REFERENCE_LIMIT * s.at[a].column[DD_RIG_X].v;
    if (by_deflection >= 0) return;
    double most = 0.95 * DD_WHEELS_REFERENCE_LIMIT / stiffness;
    for (int a = 0; a < s.count; a++) {
        double *value = &memory[DD_WHEELS_FRONT + a];
        *value = fmax(-most, fmin(most, *value + missing / by_deflection));
    }
}

/* --- regimes ---------------------------------------------------------------------------------------------------- */

static void draw_state(const dd_model *model, double (*uniform)(void *), void *random, double speed, dd_pose *pose,
                       dd_motion *motion, dd_commands *commands)
{
    *pose = (dd_pose){.attitude = {0, 0, 0, 1}};
    *motion = (dd_motion){{0}, {0}};
    *commands = (dd_commands){.drive_speed = dd_draw(uniform, random, -1, 1)};
    const double x = dd_draw(uniform, random, -12, 20);
    pose->rig[DD_RIG_X] = x;
    pose->rig[DD_RIG_HEAVE] = dd_draw(uniform, random, -0.04, 0.01);
    pose->rig[DD_RIG_PITCH] =
        dd_axles_standing_pitch(model->rig, model->ramp, x, 0.01) + dd_draw(uniform, random, -0.004, 0.004);
    motion->rig[DD_RIG_X] = dd_draw(uniform, random, -speed, speed);
    motion->rig[DD_RIG_HEAVE] = dd_draw(uniform, random, -0.05, 0.05);
    motion->rig[DD_RIG_PITCH] = dd_draw(uniform, random, -0.02, 0.02);
}

/* share: bristle deflections between these shares of their limit, of either sign. */
static void draw_memory(const dd_wheels_instance *w, double (*uniform)(void *), void *random, double least, double most,
                        double *memory)
{
    double limit = DD_WHEELS_REFERENCE_LIMIT / w->parameters.law.stiffness;
    memory[DD_WHEELS_DRIVER] = dd_draw(uniform, random, -0.5, 0.5);
    for (int i = DD_WHEELS_FRONT; i < memory_count(w); i++)
        memory[i] = copysign(limit * dd_draw(uniform, random, least, most), uniform(random) - 0.5);
}

static void draw_driving(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                         dd_motion *motion, double *memory, dd_commands *commands)
{
    draw_state(model, uniform, random, 1.5, pose, motion, commands);
    draw_memory(instance, uniform, random, 0.75, 0.98, memory);
}

static void draw_braking(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                         dd_motion *motion, double *memory, dd_commands *commands)
{
    draw_state(model, uniform, random, 1.5, pose, motion, commands);
    draw_memory(instance, uniform, random, 0.75, 0.98, memory);
    commands->brake = dd_draw(uniform, random, 0.2, 1.0);
}

static void draw_held(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                      dd_motion *motion, double *memory, dd_commands *commands)
{
    draw_state(model, uniform, random, 0.005, pose, motion, commands);
    draw_memory(instance, uniform, random, 0.05, 0.65, memory);
    commands->brake = 1;
    commands->drive_speed = 0;
}

static const dd_regime regimes[] = {{"driving", draw_driving}, {"braking", draw_braking}, {"held", draw_held}, {0}};
static const char *const sources[] = {"elementary mechanics", "elasto-plastic friction", "bristle figures",
                                      "tyre friction",        "tyre rolling resistance", NULL};

const dd_force_kind dd_force_wheels = {.name = "wheels",
                                       .help = "drive, brakes and rolling resistance of vehicle and trailer",
                                       .acts_on = DD_ACTS_ON_RIG,
                                       .passive = 0,
                                       .parameters_size = sizeof(dd_wheels_parameters),
                                       .keys = wheels_keys,
                                       .sources = sources,
                                       .channels = channels_of,
                                       .prepare = prepare,
                                       .free = free,
                                       .memory_count = memory_count,
                                       .memory_scale = memory_scale,
                                       .unit_count = unit_count,
                                       .unit_name = unit_name,
                                       .evaluate = evaluate,
                                       .regimes = regimes};
