/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines that only pull: the safety chain from the winch post to the bow eye, and the two transom ties.

   Tension by taut.h from the free length of each; k = rating / (stretch at rating x free length), damping time c / k with
   c = 2 zeta sqrt(k m), m the hull's mass. The free lengths are their memory, which stands still: who makes ties fast pulls them to their
   pretension where the boat lies, who hooks a chain on takes the next link where it would be too short (dd_lines_fasten);
   until then 0, for the boat lying level at home. */
#include "lib/force/line.h"
#include "lib/base/error.h"
#include "lib/force/bow_stop.h"
#include "lib/force/draw.h"
#include "lib/force/taut.h"
#include "lib/rig/lines.h"
#include <stdlib.h>
#include <string.h>

enum { MOST_LINES = 2 };

typedef struct line {
    dd_vec3 trailer, hull;
    double length;
} line;

typedef struct lines {
    int count, is_chain;
    line each[MOST_LINES];
    double pretension, rigidity, damping_ratio, mass; /* pretension: of each tie, N; N per unit stretch; -; of the hull, kg */
} lines;

static int hooked(const lines *l, const dd_commands *commands)
{
    return l->is_chain ? commands->chain_hooked : commands->ties_hooked;
}

enum { TENSION, SLACK, CHANNELS };
static const dd_channel chain_channels[CHANNELS + 1] = {
    [TENSION] = {"chain_tension_N", "N", "tension of the safety chain"},
    [SLACK] = {"chain_slack_m", "m", "length of the safety chain beyond the way to the bow eye; negative: stretch"},
};
static const dd_channel tie_channels[CHANNELS + 1] = {
    [TENSION] = {"tie_tension_N", "N", "tension of this transom tie"},
    [SLACK] = {"tie_slack_m", "m", "length of this tie beyond the way to the transom; negative: stretch"},
};

static void evaluate(const void *instance, const dd_kinematics *kinematics, const dd_commands *commands,
                     const dd_memory *memory, dd_load *load, dd_gradient *gradient, double *channels)
{
    const lines *l = instance;
    for (int i = 0; i < l->count; i++) {
        const line *one = &l->each[i];
        const double length = memory->value[i] > 0 ? memory->value[i] : one->length;
        dd_span span = dd_span_of(kinematics, one->hull, one->trailer);
        const double stiffness = l->rigidity / length, time = 2 * l->damping_ratio * sqrt(l->mass / stiffness);
        dd_taut t = {0};
        memory->rate[i] = 0; /* the length stays as it is */
        if (hooked(l, commands)) t = dd_taut_at(stiffness, time, span.distance - length, span.rate);
        if (channels) {
            channels[CHANNELS * i + TENSION] = t.tension;
            channels[CHANNELS * i + SLACK] = length - span.distance;
        }
        if (t.elastic <= 0) continue;
        dd_span_pull(&span, t.tension, load->hull);
        load->energy += t.energy;
        load->heat += (t.tension - t.elastic) * span.rate;
        if (gradient) dd_span_gradient(&span, t.tension, t.by_stretch, t.by_rate, gradient);
        if (gradient && memory->load_by_value && memory->value[i] > 0)
            dd_span_pull(&span, -t.by_stretch - stiffness / length * t.stretch * t.factor + t.by_time * 0.5 * time / length,
                         memory->load_by_value[i]);
    }
}

static lines *make(const dd_model *model, int count, int is_chain, dd_error *error)
{
    lines *made = calloc(1, sizeof *made);
    if (!made) (void)dd_fail(error, DD_ERROR_MEMORY, is_chain ? "chain force" : "ties force", "no memory");
    else made->count = count, made->is_chain = is_chain, made->mass = dd_hull_mass(model->hull)->mass;
    return made;
}

static dd_status prepare_chain(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    (void)parameters;
    *instance = NULL;
    if (!model->hull || !model->rig || isnan(model->rig->trailer.chain.slack_at_home)) return DD_OK;
    const dd_trailer_parameters *t = &model->rig->trailer;
    lines *made = make(model, 1, 1, error);
    if (!made) return DD_ERROR_MEMORY;
    line *one = &made->each[0];
    one->trailer = dd_vec(t->winch.behind_coupling, 0, t->chain.above_ground - t->coupling_height);
    one->hull = dd_hull_bow_eye(model->hull);
    const dd_vec3 eye = dd_bow_stop_eye(model); /* at home */
    one->length = fmax(0.05, dd_norm(dd_sub(eye, one->trailer)) + t->chain.slack_at_home);
    made->rigidity = dd_chain_rigidity(&t->chain);
    made->damping_ratio = t->chain.damping_ratio;
    *instance = made;
    return DD_OK;
}

static double pulled_tight(double distance, double pretension, double rigidity)
{
    return fmax(0.05, distance / (1 + pretension / rigidity));
}

/* The transom's corners at the chine, of a boat lying level at home with its eye at the pad. */
static dd_status prepare_ties(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    (void)parameters;
    *instance = NULL;
    if (!model->hull || !model->rig || isnan(model->rig->trailer.ties.behind_coupling)) return DD_OK;
    const dd_trailer_parameters *t = &model->rig->trailer;
    const dd_ties_parameters *given = &t->ties;
    double first, last, y[DD_STRAKES + 3], z[DD_STRAKES + 3];
    dd_hull_extent(model->hull, &first, &last);
    const int chine = dd_hull_section(model->hull, first, y, z) - 2;
    const dd_vec3 eye = dd_hull_bow_eye(model->hull), at_home = dd_bow_stop_eye(model);
    const double rigidity = dd_tie_rigidity(given);
    lines *made = make(model, 2, 0, error);
    if (!made) return DD_ERROR_MEMORY;
    made->pretension = given->pretension;
    made->rigidity = rigidity;
    made->damping_ratio = given->damping_ratio;
    for (int i = 0; i < 2; i++) {
        line *one = &made->each[i];
        const double side = i == 0 ? 1 : -1; /* the boat's port is the trailer's -y */
        one->trailer = dd_vec(given->behind_coupling, -side * given->half_spacing, given->above_ground - t->coupling_height);
        one->hull = dd_vec(first, side * y[chine], z[chine]);
        const dd_vec3 home = dd_vec(at_home.x + eye.x - first, -side * y[chine], at_home.z - eye.z + z[chine]);
        one->length = pulled_tight(dd_norm(dd_sub(home, one->trailer)), given->pretension, rigidity);
    }
    *instance = made;
    return DD_OK;
}

void dd_lines_fasten(const void *instance, const dd_kinematics *kinematics, double *memory)
{
    const lines *l = instance;
    for (int i = 0; i < l->count; i++) {
        const line *one = &l->each[i];
        const double distance = dd_span_of(kinematics, one->hull, one->trailer).distance;
        memory[i] = l->is_chain ? fmax(one->length, distance) : pulled_tight(distance, l->pretension, l->rigidity);
    }
}

static double memory_scale(const void *instance, int index)
{
    (void)instance, (void)index;
    return 1;
}
static int unit_count(const void *instance) { return ((const lines *)instance)->count; }
static const char *tie_name(const void *instance, int unit)
{
    (void)instance;
    return unit == 0 ? "tie port" : "tie starboard";
}

/* --- regimes ---------------------------------------------------------------------------------------------------- */

/* The hull moved along the mean of its lines until the first of them has that stretch. */
static void draw(const void *instance, const dd_model *model, double least, double most, double speed, double (*uniform)(void *),
                 void *random, dd_pose *pose, dd_motion *motion, double *memory, dd_commands *commands)
{
    const lines *l = instance;
    *commands = (dd_commands){.chain_hooked = 1, .ties_hooked = 1};
    for (int n = 0; n < l->count; n++) memory[n] = l->each[n].length * dd_draw(uniform, random, 0.9, 1.1);
    for (int trial = 0; trial < 50; trial++) {
        int toe = 0;
        dd_draw_near_home(model, 0.5, speed, uniform, random, pose, motion);
        const double wanted = dd_draw(uniform, random, least, most);
        for (int i = 0; i < 20; i++) {
            dd_kinematics k;
            dd_kinematics_of(model, 0, pose, motion, &k);
            double short_of = -INFINITY;
            dd_vec3 away = dd_vec(0, 0, 0);
            for (int n = 0; n < l->count; n++) {
                dd_span s = dd_span_of(&k, l->each[n].hull, l->each[n].trailer);
                short_of = fmax(short_of, s.distance - memory[n]);
                away = dd_add(away, dd_apply(&k.to_trailer, s.along));
            }
            pose->position = dd_add(pose->position, dd_scale((wanted - short_of) / fmax(dd_norm(away), 0.1), away));
        }
        dd_kinematics k;
        dd_kinematics_of(model, 0, pose, motion, &k);
        for (int n = 0; n < l->count; n++) { /* differences cannot be taken across the ends of the toe */
            dd_span s = dd_span_of(&k, l->each[n].hull, l->each[n].trailer);
            toe += fabs(fabs(s.distance - memory[n]) - 5e-4) < 2e-5;
        }
        if (toe == 0) break;
    }
}

#define REGIME(function, least, most, speed)                                                                                   \
    static void function(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,  \
                         dd_motion *motion, double *memory, dd_commands *commands)                                             \
    {                                                                                                                          \
        draw(instance, model, least, most, speed, uniform, random, pose, motion, memory, commands);                            \
    }
REGIME(draw_slack, -0.2, -0.002, 0.3)
REGIME(draw_toe, -0.0004, 0.0004, 0.02)
REGIME(draw_taut, 0.001, 0.02, 0.05)
REGIME(draw_snatch, 0.001, 0.02, 1)
#undef REGIME
static void draw_unhooked(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                          dd_motion *motion, double *memory, dd_commands *commands)
{
    draw_taut(instance, model, uniform, random, pose, motion, memory, commands);
    *commands = (dd_commands){0};
}
static const dd_regime regimes[] = {{"slack", draw_slack},   {"toe", draw_toe},           {"taut", draw_taut},
                                    {"snatch", draw_snatch}, {"unhooked", draw_unhooked}, {NULL, NULL}};
static const char *const sources[] = {"line figures", "elementary mechanics", NULL};

const dd_force_kind dd_force_chain = {
    .name = "chain",
    .help = "safety chain from the winch post to the bow eye: pulls only",
    .formula = "T = S(k s + c s') with s the stretch beyond its free length, k = rating / (stretch at rating x free length)",
    .valid = "a straight line without weight; its sag is part of the slack",
    .covered_by = "tests/unit/force/test_hull_contacts.c",
    .acts_on = DD_ACTS_BETWEEN,
    .passive = 1,
    .sources = sources,
    .channels = chain_channels,
    .prepare = prepare_chain,
    .free = free,
    .memory_count = unit_count,
    .memory_scale = memory_scale,
    .evaluate = evaluate,
    .regimes = regimes,
};

const dd_force_kind dd_force_ties = {
    .name = "ties",
    .help = "ties from the trailer to both corners of the transom: pull only",
    .formula = "as the chain, two of them from the trailer to the transom's corners, made fast under their pretension where the boat lies",
    .valid = "a straight line without weight",
    .covered_by = "tests/unit/force/test_hull_contacts.c",
    .acts_on = DD_ACTS_BETWEEN,
    .passive = 1,
    .sources = sources,
    .channels = tie_channels,
    .prepare = prepare_ties,
    .free = free,
    .memory_count = unit_count,
    .memory_scale = memory_scale,
    .unit_count = unit_count,
    .unit_name = tie_name,
    .evaluate = evaluate,
    .regimes = regimes,
};
