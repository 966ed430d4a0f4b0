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
    {.name = "spinning share", .type = DD_KEY_QUANTITY, .dimension = DD_RATIO,
     .offset = offsetof(dd_wheels_parameters, spinning_share), .least = 0.1, .most = 1, .fallback = 0.8, .source = "sliding tyre",
     .help = "friction of driven wheels that spin, share of what they grip with before"},
    {.name = "chock share", .type = DD_KEY_QUANTITY, .dimension = DD_RATIO,
     .offset = offsetof(dd_wheels_parameters, chock_share), .least = 0, .most = 1, .fallback = 0.8, .source = "design memory",
     .help = "grip of a wheel against its chock, share of the friction under it"},
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
    made->water = &model->water;
    made->soft = dd_ramp_soft(model->ramp);
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

static int axle_count(const dd_wheels_instance *w) { return DD_VEHICLE_AXLES + w->rig->trailer.axle_count; }

static int memory_count(const void *instance)
{
    const dd_wheels_instance *w = instance;
    return DD_WHEELS_FRONT + axle_count(w) * (w->soft ? 3 : 1);
}

int dd_wheels_sinking(const void *instance)
{
    const dd_wheels_instance *w = instance;
    return w->soft ? axle_count(w) : 0;
}

static double memory_scale(const void *instance, int index)
{
    if (index >= DD_WHEELS_FRONT + axle_count(instance)) return 0.1;
    return index == DD_WHEELS_DRIVER ? 1.0 : 0.5;
}

/* What axle a sank by standing, and its rut. How their rates depend on the other bristles, by way of the coupling, is left out. */
static void remember_sunk(const dd_wheels_state *s, int a, const dd_memory *memory)
{
    const dd_wheeled *at = &s->at[a];
    const int stood = DD_WHEELS_FRONT + s->count + a, rut = stood + s->count;
    memory->rate[stood] = at->stood_rate.v;
    memory->rate[rut] = at->rut_rate.v;
    if (memory->rate_by_value == NULL) return;
    memory->rate_by_value[stood] = at->stood_rate_by_stood;
    memory->rate_by_value[rut] = at->rut_rate_by_rut;
    for (int c = 0; c < DD_RIG_COORDINATES; c++) {
        memory->rate_by_rig[stood][c] = at->stood_rate.d[DD_JET_RATE + c];
        memory->rate_by_rig[rut][c] = at->rut_rate.d[DD_JET_RATE + c];
        if (memory->rate_by_place == NULL) continue;
        memory->rate_by_place[stood][c] = at->stood_rate.d[c];
        memory->rate_by_place[rut][c] = at->rut_rate.d[c];
    }
}

/* Adds what a change of the axles' loads makes of the forces along the path: of a trailer's axle also by way of the ball. */
static void load_changes(const dd_wheels_state *s, const double load[DD_WHEELED], double rig[DD_RIG_COORDINATES])
{
    double push = 0, own[DD_VEHICLE_AXLES];
    for (int a = DD_VEHICLE_AXLES; a < s->count; a++) {
        const int t = a - DD_VEHICLE_AXLES;
        const double force = s->at[a].force_by_load * load[a];
        push += s->push_by_load[t] * load[a] + s->push_by_force[t] * force;
        for (int c = 0; c < DD_RIG_COORDINATES; c++) rig[c] += force * s->at[a].column[c].v;
    }
    for (int v = 0; v < DD_VEHICLE_AXLES; v++) own[v] = load[v] + s->load_by_push[v] * push;
    for (int v = 0; v < DD_VEHICLE_AXLES; v++) {
        double force = s->at[v].force_by_load * own[v];
        for (int u = 0; u < DD_VEHICLE_AXLES; u++) force += s->thrust_by_load[v][u] * own[u];
        for (int c = 0; c < DD_RIG_COORDINATES; c++) rig[c] += force * s->at[v].column[c].v;
    }
}

static void remember_loads(const dd_wheels_state *s, const dd_memory *memory)
{
    for (int j = 0; memory->rig_by_sunk != NULL && j < s->count; j++) {
        double stood[DD_WHEELED], rut[DD_WHEELED];
        for (int a = 0; a < s->count; a++) stood[a] = s->load_by_stood[a][j], rut[a] = s->load_by_rut[a][j];
        load_changes(s, stood, memory->rig_by_sunk[j]);
        load_changes(s, rut, memory->rig_by_sunk[DD_WHEELED + j]);
    }
}

/* Loads of all axles by a memory that changes the force of axle a by `by` N per unit: a trailer's wheels push at the ball and
   so change the loads of the vehicle's. */
static void remember_force(const dd_wheels_state *s, int a, double by, double rig[DD_RIG_COORDINATES])
{
    for (int c = 0; c < DD_RIG_COORDINATES; c++) rig[c] = by * s->at[a].column[c].v;
    if (a < DD_VEHICLE_AXLES) return;
    const double push = by * s->push_by_force[a - DD_VEHICLE_AXLES];
    for (int v = 0; v < DD_VEHICLE_AXLES; v++) {
        double force = s->at[v].force_by_load * push * s->load_by_push[v];
        for (int u = 0; u < DD_VEHICLE_AXLES; u++) force += s->thrust_by_load[v][u] * push * s->load_by_push[u];
        for (int c = 0; c < DD_RIG_COORDINATES; c++) rig[c] += force * s->at[v].column[c].v;
    }
}

static void remember(const dd_wheels_instance *w, const dd_wheels_state *s, const dd_memory *memory)
{
    memory->rate[DD_WHEELS_DRIVER] = s->correction_rate;
    for (int a = 0; a < s->count; a++) memory->rate[DD_WHEELS_FRONT + a] = s->at[a].bristle.rate;
    for (int a = 0; w->soft && a < s->count; a++) remember_sunk(s, a, memory);
    if (memory->rate_by_value == NULL) return;
    memory->rate_by_value[DD_WHEELS_DRIVER] = s->correction_rate_by_value;
    for (int c = 0; c < DD_RIG_COORDINATES; c++) {
        memory->rate_by_rig[DD_WHEELS_DRIVER][c] = s->correction_rate_by_speed * s->at[1].speed.d[DD_JET_RATE + c];
        if (memory->rate_by_place) memory->rate_by_place[DD_WHEELS_DRIVER][c] = s->correction_rate_by_speed * s->at[1].speed.d[c];
        for (int a = 0; a < DD_VEHICLE_AXLES; a++)
            memory->rig_by_value[DD_WHEELS_DRIVER][c] += s->thrust_by_correction[a] * s->at[a].column[c].v;
    }
    for (int a = 0; a < s->count; a++) {
        const dd_wheeled *at = &s->at[a];
        memory->rate_by_value[DD_WHEELS_FRONT + a] = at->bristle.rate_by_value;
        remember_force(s, a, at->force_by_value, memory->rig_by_value[DD_WHEELS_FRONT + a]);
        if (w->soft) {
            remember_force(s, a, at->force_by_stood, memory->rig_by_value[DD_WHEELS_FRONT + s->count + a]);
            remember_force(s, a, at->force_by_rut, memory->rig_by_value[DD_WHEELS_FRONT + 2 * s->count + a]);
        }
        for (int c = 0; c < DD_RIG_COORDINATES; c++) {
            memory->rate_by_rig[DD_WHEELS_FRONT + a][c] = at->bristle.rate_by_speed * at->speed.d[DD_JET_RATE + c];
            if (memory->rate_by_place) memory->rate_by_place[DD_WHEELS_FRONT + a][c] = at->bristle.rate_by_speed * at->speed.d[c];
        }
    }
    if (w->soft) remember_loads(s, memory);
}

/* --- channels --------------------------------------------------------------------------------------------------- */

enum { NORMAL, ALONG, NEEDED, LOW, HIGH, BY_LOCK, BY_PEDAL, BY_DRIVE, SLIP, SINKAGE, CHANNELS };
static const dd_channel channels_of[] = {
    {"normal_load_N", "N", "load of the wheels on the ground"},
    {"longitudinal_force_N", "N", "force of the ground on the wheels along the path, > 0 seaward"},
    {"friction_needed", "",
     "share of their load that the wheels pass to the ground; of the vehicle: its braked or chocked, else its driven wheels"},
    {"friction_available_low", "", "lower end of the friction band of the ground under these wheels"},
    {"friction_available_high", "", "upper end of that band"},
    {"friction_needed_park_lock", "", "friction that passes the vehicle's force along the path by its park lock's wheels alone"},
    {"friction_needed_pedal", "", "the same by all its wheels"},
    {"friction_needed_drive", "", "the same by its driven wheels"},
    {"wheel_slip", "", "share of the thrust asked for that the driven wheels do not pass to the ground"},
    {"sinkage_m", "m", "how deep the wheels stand in the ground; of the vehicle: the deeper axle"},
    {0}};

static int unit_count(const void *instance) { return 1 + axle_count(instance); }

static const char *unit_name(const void *instance, int unit)
{
    static const char *const names[1 + DD_WHEELED] = {"vehicle",        "front axle",     "rear axle",     "trailer axle 1",
                                                      "trailer axle 2", "trailer axle 3", "trailer axle 4"};
    (void)instance;
    return names[unit];
}

static double needed(double force, double load) { return load > 1 ? fabs(force) / load : 0; }

/* Sums over the vehicle's axles that count. */
typedef struct counted {
    double load, force, low, high;
} counted;
static counted count(const dd_wheels_state *s, const bool counts[DD_VEHICLE_AXLES])
{
    counted sum = {0, 0, 0, 0};
    for (int a = 0; a < DD_VEHICLE_AXLES; a++) {
        if (!counts[a]) continue;
        sum.load += s->at[a].load.v;
        sum.force += s->at[a].force.v;
        sum.low += s->at[a].load.v * s->at[a].grip.friction_low;
        sum.high += s->at[a].load.v * s->at[a].grip.friction_high;
    }
    return sum;
}

static void report_vehicle(const dd_wheels_instance *w, const dd_wheels_state *s, double *row)
{
    const dd_vehicle_parameters *v = &w->rig->vehicle;
    bool holds[2], locks[2], drives[2], all[2] = {true, true};
    for (int a = 0; a < DD_VEHICLE_AXLES; a++) {
        holds[a] = s->at[a].hold > 0.5 || s->at[a].chocked;
        locks[a] = dd_wheels_on(v->park_lock, a);
        drives[a] = dd_wheels_driven(v, a);
    }
    const counted whole = count(s, all), by = count(s, holds[0] || holds[1] ? holds : s->by_pedal ? all : drives);
    row[NORMAL] = whole.load;
    row[ALONG] = whole.force;
    row[NEEDED] = needed(by.force, by.load);
    row[LOW] = by.load > 1 ? by.low / by.load : s->at[1].grip.friction_low;
    row[HIGH] = by.load > 1 ? by.high / by.load : s->at[1].grip.friction_high;
    row[BY_LOCK] = needed(whole.force, count(s, locks).load);
    row[BY_PEDAL] = needed(whole.force, whole.load);
    row[BY_DRIVE] = needed(whole.force, count(s, drives).load);
    row[SLIP] = fabs(s->thrust) > s->grip ? 1 - fabs(s->passed * s->grip / s->thrust) : 0;
    row[SINKAGE] = fmax(s->at[0].sinkage, s->at[1].sinkage);
}

static void report(const dd_wheels_instance *w, const dd_wheels_state *s, double *channels)
{
    report_vehicle(w, s, channels);
    for (int a = 0; a < s->count; a++) {
        double *row = channels + (1 + a) * CHANNELS;
        const dd_wheeled *at = &s->at[a];
        const bool own = a < DD_VEHICLE_AXLES;
        row[NORMAL] = at->load.v;
        row[ALONG] = at->force.v;
        row[NEEDED] = needed(at->force.v, at->load.v);
        row[LOW] = at->grip.friction_low;
        row[HIGH] = at->grip.friction_high;
        row[BY_LOCK] = own && dd_wheels_on(w->rig->vehicle.park_lock, a) ? channels[BY_LOCK] : 0;
        row[BY_PEDAL] = own ? channels[BY_PEDAL] : 0;
        row[BY_DRIVE] = own && dd_wheels_driven(&w->rig->vehicle, a) ? channels[BY_DRIVE] : 0;
        row[SLIP] = own && dd_wheels_driven(&w->rig->vehicle, a) ? channels[SLIP] : 0;
        row[SINKAGE] = at->sinkage;
    }
}

/* At rest on bristles that are not bent and with no thrust asked for: no force along the path, wherever the rig stands. */
static bool idle(const dd_wheels_instance *w, const dd_kinematics *k, const dd_commands *commands, const double *value)
{
    if (!k->at_rest || ((commands->drive_speed != 0 || value[DD_WHEELS_DRIVER] != 0) && commands->brake != 1 && commands->park_lock != 1)) return false;
    for (int a = 0; a < axle_count(w); a++)
        if (value[DD_WHEELS_FRONT + a] != 0) return false;
    return true;
}

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    const dd_wheels_instance *w = instance;
    dd_wheels_state s;
    if (idle(w, k, commands, memory->value)) {
        gradient = NULL;
        dd_wheels_look_plain(w, k, commands, memory->value, &s);
    } else if (gradient != NULL && k->at_rest)
        dd_wheels_look_still(w, k, commands, memory->value, &s);
    else if (gradient != NULL || memory->rate_by_value != NULL)
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
    for (int a = 0; a < s.count; a++) load->heat += s.at[a].sink_heat;
    remember(w, &s, memory);
    if (channels != NULL) report(w, &s, channels);
}

void dd_wheels_hold(const void *instance, const dd_kinematics *k, const dd_commands *commands, double missing, double *memory)
{
    const dd_wheels_instance *w = instance;
    dd_wheels_state s;
    dd_wheels_look_plain(w, k, commands, memory, &s);
    double by_deflection = 0, stiffness = w->parameters.law.stiffness;
    for (int a = 0; a < s.count; a++) {
        /* a chock bears only on a wheel that wants to go seaward */
        double limit = missing < 0 ? s.at[a].limit_chocked : s.at[a].limit.v;
        by_deflection -= s.at[a].load.v * limit * stiffness / DD_WHEELS_REFERENCE_LIMIT * s.at[a].column[DD_RIG_X].v;
    }
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
    for (int i = DD_WHEELS_FRONT; i < DD_WHEELS_FRONT + axle_count(w); i++)
        memory[i] = copysign(limit * dd_draw(uniform, random, least, most), uniform(random) - 0.5);
    for (int i = DD_WHEELS_FRONT + axle_count(w); i < memory_count(w); i++) memory[i] = dd_draw(uniform, random, 0, 0.06);
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

static void draw_spinning(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                          dd_motion *motion, double *memory, dd_commands *commands)
{
    draw_state(model, uniform, random, 0.5, pose, motion, commands);
    draw_memory(instance, uniform, random, 0.75, 0.98, memory);
    commands->drive_speed = dd_draw(uniform, random, -3, -1);
}

static void draw_parked(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                        dd_motion *motion, double *memory, dd_commands *commands)
{
    draw_state(model, uniform, random, 0.02, pose, motion, commands);
    draw_memory(instance, uniform, random, 0.01, 0.9, memory);
    commands->park_lock = dd_draw(uniform, random, 0.2, 1.0);
    commands->vehicle_chocked = uniform(random) < 0.5;
    commands->trailer_chocked = uniform(random) < 0.5;
    commands->uncoupled = uniform(random) < 0.3;
}

static void draw_held(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                      dd_motion *motion, double *memory, dd_commands *commands)
{
    draw_state(model, uniform, random, 0.005, pose, motion, commands);
    draw_memory(instance, uniform, random, 0.05, 0.65, memory);
    commands->brake = 1;
    commands->drive_speed = 0;
}

static const dd_regime regimes[] = {{"driving", draw_driving}, {"braking", draw_braking}, {"spinning", draw_spinning},
                                    {"parked", draw_parked},   {"held", draw_held},       {0}};
static const char *const sources[] = {"elementary mechanics", "elasto-plastic friction", "bristle figures",
                                      "tyre friction",        "tyre rolling resistance", "sliding tyre",
                                      "hydrostatics",         NULL};

const dd_force_kind dd_force_wheels = {.name = "wheels",
                                       .help = "drive, brakes and rolling resistance of vehicle and trailer",
                                       .formula = "at each wheel the friction of its surface times its load at most, by one bristle; drive and brakes share what is asked; rolling resistance; sliding at a share of the peak",
                                       .valid = "surfaces as given (dry, wet, weed); no steering on the ramp",
                                       .covered_by = "tests/unit/force/test_rig_run.c",
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
