/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The jockey wheel of an uncoupled trailer: a sprung wheel on the ground, as an axle's (lib/force/axles_contact.c), and its
   rolling resistance by one bristle: F = -N m coefficient / reference, m the rolling resistance there, as of the other wheels.

   Its leg is wound by hand: what it stands out of its stowed place is its memory e, and
       de/dt = v x / sqrt(1 + x^2), x = (wanted - e) / 20 mm,
   wanted what gives the coupling its height off the ball and 0 on it, so that the nose comes up to its height, and down onto the ball,
   without a blow. Winding a loaded leg out is work of a hand: negative heat.

   Soft ground: it sinks as the other wheels do (soil.h, sinking.h), by its load over its width times its radius, with the trailer's tyres
   as the measure; what it sank by standing and its rut are memory. */
#include "lib/force/jockey.h"
#include "lib/force/axles.h"
#include "lib/force/bristle.h"
#include "lib/force/coupling.h"
#include "lib/force/draw.h"
#include "lib/force/sinking.h"
#include "lib/force/wheels_look.h"
#include "lib/base/error.h"
#include <stdlib.h>
#include <string.h>

static const double softly = 0.02;     /* m */
static const double winding = 0.02, lifting = 0.1; /* m/s: of the loaded leg, and up from the ground */
static const double step = 1e-6;       /* m, of the differences by what is remembered */

typedef struct jockey_instance {
    const dd_rig *rig;
    const dd_ramp *ramp;
    const dd_water *water;
    dd_bristle_law law;
    bool soft;
} jockey_instance;

/* clang-format off */
static const dd_key jockey_keys[] = {
    DD_BRISTLE_KEYS(jockey_instance, law),
    {0}};
/* clang-format on */

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    *instance = NULL;
    if (model->rig == NULL || model->ramp == NULL || !model->rig->uncouples) return DD_OK;
    jockey_instance *made = calloc(1, sizeof *made);
    if (made == NULL) return dd_fail(error, DD_ERROR_MEMORY, "jockey wheel", "no memory for the jockey wheel");
    dd_key_clear(jockey_keys, made);
    dd_key_defaults(jockey_keys, made);
    if (parameters != NULL) made->law = ((const jockey_instance *)parameters)->law;
    made->rig = model->rig;
    made->ramp = model->ramp;
    made->water = &model->water;
    made->soft = dd_ramp_soft(model->ramp);
    *instance = made;
    return DD_OK;
}

static int memory_count(const void *instance) { return ((const jockey_instance *)instance)->soft ? DD_JOCKEY_MEMORY : DD_JOCKEY_STOOD; }

static double memory_scale(const void *instance, int index)
{
    static const double scales[DD_JOCKEY_MEMORY] = {0.5, 1.0, 0.1, 0.1};
    (void)instance;
    return scales[index];
}

enum { LOAD, SQUASH, ROLLING, REACH, HEIGHT, SINKAGE, CHANNELS };
static const dd_channel channels_of[] = {
    {"jockey_load_N", "N", "load of the jockey wheel on the ground"},
    {"jockey_squash_mm", "mm", "squash of the jockey wheel; < 0: clear of the ground"},
    {"jockey_rolling_N", "N", "rolling resistance of the jockey wheel, along the ground, > 0 seaward"},
    {"coupling_reach_m", "m", "coupling seaward of the ball"},
    {"coupling_height_m", "m", "coupling above where the unloaded ball stands"},
    {"jockey_sinkage_m", "m", "how deep the jockey wheel stands in the ground"},
    {0}};

typedef struct rolling {
    dd_jet column[DD_RIG_COORDINATES], force, speed;
    dd_bristle bristle;
    dd_sinking sinking;
    double limit;
} rolling;

/* value: what is remembered. */
static rolling roll(const jockey_instance *j, const dd_kinematics *k, const dd_axle_contact *c, const double *value)
{
    rolling r = {.limit = 0};
    dd_grip ground = dd_shore_grip(j->ramp, j->water, c->foot, k->time);
    dd_jet limit = isnan(j->rig->trailer.jockey.rolling_resistance)
                       ? dd_jet_apply(c->foot_x, ground.rolling_resistance, ground.rolling_resistance_x)
                       : dd_jet_of(j->rig->trailer.jockey.rolling_resistance);
    for (int i = 0; i < DD_RIG_COORDINATES; i++)
        r.column[i] = dd_jet_sub(dd_jet_mul(c->normal_z, c->column_x[i]), dd_jet_mul(c->normal_x, c->column_z[i]));
    r.speed = dd_jet_sub(dd_jet_mul(c->normal_z, c->velocity_x), dd_jet_mul(c->normal_x, c->velocity_z));
    if (j->soft) {
        const double sinks = j->rig->jockey.sinks;
        const dd_jet rate = dd_jet_apply(c->foot_x, sinks * ground.sinkage_rate, sinks * ground.sinkage_rate_x);
        r.sinking = dd_sinking_of(&c->soil, c->load, c->foot_x, r.speed, rate, j->rig->trailer.jockey.wheel_radius, value[DD_JOCKEY_STOOD],
                                  value[DD_JOCKEY_RUT]);
        limit = dd_jet_add(limit, r.sinking.resistance);
    }
    r.limit = limit.v;
    r.bristle = dd_bristle_at(&j->law, DD_WHEELS_REFERENCE_LIMIT, value[DD_JOCKEY_BRISTLE], r.speed.v, 0, 1);
    dd_jet coefficient = dd_jet_apply(r.speed, -r.bristle.coefficient / DD_WHEELS_REFERENCE_LIMIT,
                                      -r.bristle.coefficient_by_speed / DD_WHEELS_REFERENCE_LIMIT);
    r.force = dd_jet_mul(dd_jet_mul(c->load, limit), coefficient);
    return r;
}

/* --- leg -------------------------------------------------------------------------------------------------------- */

static dd_ground_wheel wheel_at(const jockey_instance *j, double leg)
{
    dd_ground_wheel wheel = j->rig->jockey;
    wheel.hub.z += DD_JOCKEY_STOWED - leg;
    return wheel;
}

static const double *sunk_in(const jockey_instance *j, const double *memory) { return j->soft ? memory + DD_JOCKEY_STOOD : NULL; }

static double wind(const dd_rig *rig, const dd_commands *commands, double leg, double *by_leg)
{
    const bool off = dd_off_the_ball(rig, commands);
    const double x = ((off ? DD_JOCKEY_STOWED : 0) - leg) / softly, root = sqrt(1 + x * x), speed = off ? winding : lifting;
    *by_leg = -speed / (softly * root * root * root);
    return speed * x / root;
}

void dd_jockey_stand(const void *instance, const dd_kinematics *k, double load, double *memory)
{
    const jockey_instance *j = instance;
    for (int i = 0; i < 20; i++) {
        dd_axle_contact c;
        const dd_ground_wheel wheel = wheel_at(j, memory[DD_JOCKEY_LEG]);
        dd_wheel_contact_plain(&wheel, j->ramp, k, sunk_in(j, memory), &c);
        const double lacks = fmax(load, 0) / wheel.stiffness - c.squash.v;
        memory[DD_JOCKEY_LEG] += c.by_stood[0] < 0 ? lacks * wheel.stiffness / -c.by_stood[0] : lacks; /* the ground yields too */
    }
    memory[DD_JOCKEY_BRISTLE] = 0;
}

/* --- the force -------------------------------------------------------------------------------------------------- */

/* Loads on the rig and rates of the memory, without derivatives. */
static void loads_with(const jockey_instance *j, const dd_kinematics *k, const double *memory, double load[DD_RIG_COORDINATES], double rate[DD_JOCKEY_MEMORY])
{
    dd_axle_contact c;
    const dd_ground_wheel wheel = wheel_at(j, memory[DD_JOCKEY_LEG]);
    dd_wheel_contact_at(&wheel, j->ramp, k, sunk_in(j, memory), &c);
    rolling r = roll(j, k, &c, memory);
    for (int i = 0; i < DD_RIG_COORDINATES; i++)
        load[i] = c.load.v * (c.normal_x.v * c.column_x[i].v + c.normal_z.v * c.column_z[i].v) + r.force.v * r.column[i].v;
    rate[DD_JOCKEY_BRISTLE] = r.bristle.rate;
    rate[DD_JOCKEY_LEG] = 0;
    rate[DD_JOCKEY_STOOD] = r.sinking.stood_rate.v;
    rate[DD_JOCKEY_RUT] = r.sinking.rut_rate.v;
}

/* By the leg's length, and by what it sank, by differences of fourth order: contact and rolling are written in jets by the rig's coordinates alone. */
static void by_memory(const jockey_instance *j, const dd_kinematics *k, int index, const dd_memory *memory)
{
    static const double weights[4] = {8, -8, -1, 1}, at[4] = {1, -1, 2, -2};
    const int count = memory_count(j);
    double value[DD_JOCKEY_MEMORY], load[DD_RIG_COORDINATES], rate[DD_JOCKEY_MEMORY];
    memcpy(value, memory->value, (size_t)count * sizeof *value);
    for (int s = 0; s < 4; s++) {
        value[index] = memory->value[index] + at[s] * step;
        loads_with(j, k, value, load, rate);
        for (int i = 0; i < DD_RIG_COORDINATES; i++) memory->rig_by_value[index][i] += weights[s] / (12 * step) * load[i];
        for (int m = 0; m < count; m++)
            if (m != DD_JOCKEY_LEG && m != index && memory->rate_by_values != NULL) memory->rate_by_values[m * count + index] += weights[s] / (12 * step) * rate[m];
        if (index != DD_JOCKEY_LEG) memory->rate_by_value[index] += weights[s] / (12 * step) * rate[index];
    }
}

static void remember_sunk(const rolling *r, const dd_memory *memory)
{
    const dd_jet *const rates[] = {&r->sinking.stood_rate, &r->sinking.rut_rate};
    for (int n = 0; n < 2; n++) {
        const int m = DD_JOCKEY_STOOD + n;
        for (int i = 0; i < DD_RIG_COORDINATES; i++) {
            memory->rate_by_rig[m][i] = rates[n]->d[DD_JET_RATE + i];
            if (memory->rate_by_place) memory->rate_by_place[m][i] = rates[n]->d[i];
        }
    }
}

static void remember(const jockey_instance *j, const dd_kinematics *k, const rolling *r, const dd_axle_contact *c,
                     const dd_memory *memory)
{
    memory->rate[DD_JOCKEY_BRISTLE] = r->bristle.rate;
    if (j->soft) memory->rate[DD_JOCKEY_STOOD] = r->sinking.stood_rate.v, memory->rate[DD_JOCKEY_RUT] = r->sinking.rut_rate.v;
    if (memory->rate_by_value == NULL) return;
    memory->rate_by_value[DD_JOCKEY_BRISTLE] = r->bristle.rate_by_value;
    const double by_value = -c->load.v * r->limit * r->bristle.coefficient_by_value / DD_WHEELS_REFERENCE_LIMIT;
    for (int i = 0; i < DD_RIG_COORDINATES; i++) {
        memory->rig_by_value[DD_JOCKEY_BRISTLE][i] = by_value * r->column[i].v;
        memory->rate_by_rig[DD_JOCKEY_BRISTLE][i] = r->bristle.rate_by_speed * r->speed.d[DD_JET_RATE + i];
        if (memory->rate_by_place) memory->rate_by_place[DD_JOCKEY_BRISTLE][i] = r->bristle.rate_by_speed * r->speed.d[i];
    }
    if (j->soft) remember_sunk(r, memory);
    for (int m = DD_JOCKEY_LEG; m < memory_count(j); m++) by_memory(j, k, m, memory);
}

static double sinking_heat(const rolling *r, const dd_axle_contact *c, const dd_kinematics *k, dd_vec3 up, double leg_rate)
{
    double along = -leg_rate * (up.x * c->foot_x.d[DD_RIG_REACH] + up.z * c->foot_x.d[DD_RIG_HEAVE]); /* the foot's speed along x */
    for (int i = 0; i < DD_RIG_COORDINATES; i++) along += c->foot_x.d[i] * k->motion.rig[i];
    return dd_axle_sinking_heat(c, r->sinking.stood_rate.v, r->sinking.rut_rate.v, along);
}

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    const jockey_instance *j = instance;
    double leg_by_leg;
    const double leg_rate = wind(j->rig, commands, memory->value[DD_JOCKEY_LEG], &leg_by_leg);
    memory->rate[DD_JOCKEY_LEG] = leg_rate;
    if (memory->rate_by_value != NULL) memory->rate_by_value[DD_JOCKEY_LEG] = leg_by_leg;
    dd_axle_contact c;
    const dd_ground_wheel wheel = wheel_at(j, memory->value[DD_JOCKEY_LEG]);
    dd_wheel_contact_at(&wheel, j->ramp, k, sunk_in(j, memory->value), &c);
    rolling r = roll(j, k, &c, memory->value);
    for (int i = 0; i < DD_RIG_COORDINATES; i++) {
        dd_jet lift = dd_jet_dot(c.normal_x, c.column_x[i], c.normal_z, c.column_z[i]);
        dd_jet_load(dd_jet_mul(c.load, lift), i, load, gradient);
        dd_jet_load(dd_jet_mul(r.force, r.column[i]), i, load, gradient);
    }
    /* The leg winds out along the chassis' -z; the bristle stores next to nothing. */
    const dd_vec3 up = dd_apply(&k->chassis_to_world, dd_vec(0, 0, 1));
    const double outward = dd_dot(dd_vec(c.normal_x.v, 0, c.normal_z.v), up);
    load->energy = c.energy;
    load->heat = (c.load.v - c.elastic_load) * c.squash_rate.v - r.force.v * r.speed.v - c.elastic_load * outward * leg_rate;
    if (j->soft) load->heat += sinking_heat(&r, &c, k, up, leg_rate);
    remember(j, k, &r, &c, memory);
    if (channels == NULL) return;
    channels[LOAD] = c.load.v;
    channels[SQUASH] = 1000 * c.squash.v;
    channels[ROLLING] = r.force.v;
    channels[REACH] = k->pose.rig[DD_RIG_REACH];
    channels[HEIGHT] = k->pose.rig[DD_RIG_HEAVE];
    channels[SINKAGE] = c.sunk.depth;
}

/* The wheel about `lift` above where it carries its rated load, the trailer standing on its last axle. */
static void draw(const jockey_instance *j, const dd_model *model, double lift, double speed, double (*uniform)(void *),
                 void *random, dd_pose *pose, dd_motion *motion, double *memory, dd_commands *commands)
{
    *pose = (dd_pose){.attitude = {0, 0, 0, 1}};
    *motion = (dd_motion){{0}, {0}};
    *commands = (dd_commands){.uncoupled = 1};
    memory[DD_JOCKEY_LEG] = DD_JOCKEY_STOWED + dd_draw(uniform, random, -0.05, 0.02);
    memory[DD_JOCKEY_BRISTLE] = copysign(DD_WHEELS_REFERENCE_LIMIT / j->law.stiffness * dd_draw(uniform, random, 0.75, 0.98), uniform(random) - 0.5);
    for (int m = DD_JOCKEY_STOOD; m < memory_count(j); m++) memory[m] = dd_draw(uniform, random, 0.001, 0.02);
    pose->rig[DD_RIG_X] = dd_draw(uniform, random, -12, 25);
    pose->rig[DD_RIG_REACH] = dd_draw(uniform, random, 0, 8);
    pose->rig[DD_RIG_PITCH] = dd_draw(uniform, random, 0, 0.12);
    dd_kinematics k;
    for (int i = 0; i < 8; i++) {
        dd_axle_contact c;
        dd_kinematics_of(model, 0, pose, motion, &k);
        const dd_ground_wheel wheel = wheel_at(j, memory[DD_JOCKEY_LEG]);
        dd_wheel_contact_plain(&wheel, j->ramp, &k, sunk_in(j, memory), &c);
        pose->rig[DD_RIG_HEAVE] += c.squash.v - j->rig->trailer.jockey.squash_at_rated_load + lift;
    }
    for (int i = 0; i < DD_RIG_TILT; i++) motion->rig[i] = dd_draw(uniform, random, -speed, speed) * (i == DD_RIG_PITCH ? 0.2 : 1);
}

static void draw_standing(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                          dd_motion *motion, double *memory, dd_commands *commands)
{
    draw(instance, model, dd_draw(uniform, random, -0.005, 0.005), 0.05, uniform, random, pose, motion, memory, commands);
}

static void draw_clear(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                       dd_motion *motion, double *memory, dd_commands *commands)
{
    draw(instance, model, dd_draw(uniform, random, 0.02, 0.1), 0.2, uniform, random, pose, motion, memory, commands);
}

static const dd_regime regimes[] = {{"standing", draw_standing}, {"clear", draw_clear}, {0}};
static const char *const sources[] = {"elementary mechanics", "elasto-plastic friction", "bristle figures", NULL};

const dd_force_kind dd_force_jockey = {.name = "jockey wheel",
                                       .help = "jockey wheel of the uncoupled trailer on the ground",
                                       .formula = "as an axle, in soft ground too, with rolling resistance by one bristle; its leg is wound at de/dt = v x / sqrt(1 + x^2)",
                                       .valid = "the leg does not bend; soft ground down to the wheel's radius",
                                       .covered_by = "tests/unit/force/test_loose_trailer.c",
                                       .acts_on = DD_ACTS_ON_RIG,
                                       .passive = 0,
                                       .sources = sources,
                                       .parameters_size = sizeof(jockey_instance),
                                       .keys = jockey_keys,
                                       .channels = channels_of,
                                       .prepare = prepare,
                                       .free = free,
                                       .memory_count = memory_count,
                                       .memory_scale = memory_scale,
                                       .coupled_memory = 1,
                                       .evaluate = evaluate,
                                       .regimes = regimes};
