/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The jockey wheel of an uncoupled trailer: a sprung wheel on the ground, as an axle's (lib/force/axles_contact.c), and its
   rolling resistance by one bristle: F = -N m coefficient / reference, m the rolling resistance there, as of the other wheels.
   On the ball it is wound up. */
#include "lib/force/axles.h"
#include "lib/force/bristle.h"
#include "lib/force/coupling.h"
#include "lib/force/draw.h"
#include "lib/force/wheels_look.h"
#include "lib/base/error.h"
#include <stdlib.h>

typedef struct jockey_instance {
    const dd_rig *rig;
    const dd_ramp *ramp;
    const dd_water *water;
    dd_bristle_law law;
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
    *instance = made;
    return DD_OK;
}

static int memory_count(const void *instance)
{
    (void)instance;
    return 1;
}

static double memory_scale(const void *instance, int index)
{
    (void)instance;
    (void)index;
    return 0.5;
}

enum { LOAD, SQUASH, ROLLING, REACH, HEIGHT, CHANNELS };
static const dd_channel channels_of[] = {
    {"jockey_load_N", "N", "load of the jockey wheel on the ground"},
    {"jockey_squash_mm", "mm", "squash of the jockey wheel; < 0: clear of the ground"},
    {"jockey_rolling_N", "N", "rolling resistance of the jockey wheel, along the ground, > 0 seaward"},
    {"coupling_reach_m", "m", "coupling seaward of the ball"},
    {"coupling_height_m", "m", "coupling above where the unloaded ball stands"},
    {0}};

typedef struct rolling {
    dd_jet column[DD_RIG_COORDINATES], force, speed;
    dd_bristle bristle;
    double limit;
} rolling;

static rolling roll(const jockey_instance *j, const dd_kinematics *k, const dd_axle_contact *c, double value)
{
    rolling r;
    dd_grip ground = dd_shore_grip(j->ramp, j->water, c->foot, k->time);
    dd_jet limit = isnan(j->rig->trailer.jockey.rolling_resistance)
                       ? dd_jet_apply(c->foot_x, ground.rolling_resistance, ground.rolling_resistance_x)
                       : dd_jet_of(j->rig->trailer.jockey.rolling_resistance);
    for (int i = 0; i < DD_RIG_COORDINATES; i++)
        r.column[i] = dd_jet_sub(dd_jet_mul(c->normal_z, c->column_x[i]), dd_jet_mul(c->normal_x, c->column_z[i]));
    r.speed = dd_jet_sub(dd_jet_mul(c->normal_z, c->velocity_x), dd_jet_mul(c->normal_x, c->velocity_z));
    r.limit = limit.v;
    r.bristle = dd_bristle_at(&j->law, DD_WHEELS_REFERENCE_LIMIT, value, r.speed.v, 0, 1);
    dd_jet coefficient = dd_jet_apply(r.speed, -r.bristle.coefficient / DD_WHEELS_REFERENCE_LIMIT,
                                      -r.bristle.coefficient_by_speed / DD_WHEELS_REFERENCE_LIMIT);
    r.force = dd_jet_mul(dd_jet_mul(c->load, limit), coefficient);
    return r;
}

static void remember(const rolling *r, const dd_axle_contact *c, const dd_memory *memory)
{
    memory->rate[0] = r->bristle.rate;
    if (memory->rate_by_value == NULL) return;
    memory->rate_by_value[0] = r->bristle.rate_by_value;
    const double by_value = -c->load.v * r->limit * r->bristle.coefficient_by_value / DD_WHEELS_REFERENCE_LIMIT;
    for (int i = 0; i < DD_RIG_COORDINATES; i++) {
        memory->rig_by_value[0][i] = by_value * r->column[i].v;
        memory->rate_by_rig[0][i] = r->bristle.rate_by_speed * r->speed.d[DD_JET_RATE + i];
    }
}

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    const jockey_instance *j = instance;
    if (channels != NULL) {
        channels[LOAD] = channels[SQUASH] = channels[ROLLING] = 0;
        channels[REACH] = k->pose.rig[DD_RIG_REACH];
        channels[HEIGHT] = k->pose.rig[DD_RIG_HEAVE];
    }
    if (!dd_off_the_ball(j->rig, commands)) {
        memory->rate[0] = -DD_BRISTLE_RELEASE * memory->value[0];
        if (memory->rate_by_value != NULL) memory->rate_by_value[0] = -DD_BRISTLE_RELEASE;
        return;
    }
    dd_axle_contact c;
    dd_axle_contact_at(j->rig, j->ramp, k, DD_JOCKEY, &c);
    rolling r = roll(j, k, &c, memory->value[0]);
    for (int i = 0; i < DD_RIG_COORDINATES; i++) {
        dd_jet lift = dd_jet_dot(c.normal_x, c.column_x[i], c.normal_z, c.column_z[i]);
        dd_jet_load(dd_jet_mul(c.load, lift), i, load, gradient);
        dd_jet_load(dd_jet_mul(r.force, r.column[i]), i, load, gradient);
    }
    load->energy = c.energy;
    load->heat = (c.load.v - c.elastic_load) * c.squash_rate.v - r.force.v * r.speed.v; /* the bristle stores next to nothing */
    remember(&r, &c, memory);
    if (channels == NULL) return;
    channels[LOAD] = c.load.v;
    channels[SQUASH] = 1000 * c.squash.v;
    channels[ROLLING] = r.force.v;
}

/* The wheel about `lift` above where it carries its rated load, the trailer standing on its last axle. */
static void draw(const jockey_instance *j, const dd_model *model, double lift, double speed, double (*uniform)(void *),
                 void *random, dd_pose *pose, dd_motion *motion, double *memory, dd_commands *commands)
{
    *pose = (dd_pose){.attitude = {0, 0, 0, 1}};
    *motion = (dd_motion){{0}, {0}};
    *commands = (dd_commands){.uncoupled = 1};
    memory[0] = copysign(DD_WHEELS_REFERENCE_LIMIT / j->law.stiffness * dd_draw(uniform, random, 0.75, 0.98), uniform(random) - 0.5);
    pose->rig[DD_RIG_X] = dd_draw(uniform, random, -12, 25);
    pose->rig[DD_RIG_REACH] = dd_draw(uniform, random, 0, 8);
    pose->rig[DD_RIG_PITCH] = dd_draw(uniform, random, 0, 0.12);
    dd_kinematics k;
    for (int i = 0; i < 8; i++) {
        dd_axle_contact c;
        dd_kinematics_of(model, 0, pose, motion, &k);
        dd_axle_contact_plain(j->rig, j->ramp, &k, DD_JOCKEY, &c);
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
                                       .acts_on = DD_ACTS_ON_RIG,
                                       .passive = 1,
                                       .sources = sources,
                                       .parameters_size = sizeof(jockey_instance),
                                       .keys = jockey_keys,
                                       .channels = channels_of,
                                       .prepare = prepare,
                                       .free = free,
                                       .memory_count = memory_count,
                                       .memory_scale = memory_scale,
                                       .evaluate = evaluate,
                                       .regimes = regimes};
