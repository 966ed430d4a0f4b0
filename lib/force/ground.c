/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The hull on the ground: places along the keel, at the chines, and the skeg while the engine is down.

   Each place is a point h of the hull. With d its depth below the profile along the normal n at the closest point of it, the
   load is that of contact.h along n, the stored energy 2/5 k d^2.5. A displacement (dr, dphi) of the hull moves the place by
   dr + dphi x h, so the depth by -n.(dr + dphi x h) and the normal by the profile's curvature; n turns by -dphi in boat axes.
   Friction: one pair of bristles for the places of the after half and one for those of the fore half (rub.h), so that a hull
   aground holds against sliding and against turning. The skeg fades in over the middle of its way down. */
#include "lib/force/contact.h"
#include "lib/base/error.h"
#include "lib/force/draw.h"
#include "lib/force/rub.h"
#include "lib/force/smooth.h"
#include <stdlib.h>
#include <string.h>

enum { KEEL = 12, CHINES = 4, SKEG = KEEL + CHINES, PLACES };
enum { AFTER, FORE, HALVES, MEMORY = HALVES * DD_RUB_WAYS };
static const double touching = 2e-4; /* depth from which bristles are held, m */
static const double near_by = 0.1;   /* height over the profile from which the closest point is not looked for, m */

typedef struct coefficients {
    dd_bristle_law law;
    double squash, damping, friction;
} coefficients;

typedef struct ground {
    const dd_ramp *ramp;
    dd_vec3 place[PLACES];
    int half[PLACES], count; /* without an engine there is no skeg */
    double stiffness, transom;
    coefficients by;
} ground;

typedef struct place {
    int index;
    double share, depth;
    dd_mat3 turning; /* d(normal)/d(position), boat axes at fixed attitude */
    dd_squash squash;
    dd_rub rub;
    int half;
    const struct touch *all;
} place;

typedef struct touch {
    int count;
    place places[PLACES];
    dd_vec3 linear, angular;
    double least, elastic[HALVES];
} touch;

static double skeg_share(const dd_commands *commands) { return 1 - dd_smooth_step((commands->engine_tilt - 0.4) / 0.2).value; }

static int press(const ground *g, const dd_kinematics *k, int index, double share, const touch *all, place *p)
{
    dd_vec3 at = dd_hull_point(k, g->place[index]);
    dd_ramp_point below = dd_ramp_at(g->ramp, at.x);
    if (!(share > 0) || at.z - below.z > near_by) return 0;
    double foot = dd_ramp_foot(g->ramp, at.x, at.z, &below), w = sqrt(1 + below.slope * below.slope);
    dd_vec3 n = dd_vec(-below.slope / w, 0, 1 / w), t = dd_vec(1 / w, 0, below.slope / w);
    double over = n.x * (at.x - foot) + n.z * (at.z - below.z), bend = below.curvature / (w * w * w);
    if (over >= 0) return 0;
    *p = (place){.index = index, .share = share, .depth = -over};
    p->rub.point = g->place[index];
    p->rub.normal = dd_apply_transposed(&k->to_world, n);
    p->rub.velocity = dd_add(all->linear, dd_cross(all->angular, g->place[index]));
    dd_vec3 tangent = dd_apply_transposed(&k->to_world, t);
    const double tv[3] = {tangent.x, tangent.y, tangent.z}, turn = -bend / fmax(1 - bend * over, 0.2);
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++) p->turning.m[i][j] = turn * tv[i] * tv[j];
    p->squash = dd_squash_at(share * g->stiffness, g->by.damping, p->depth, -dd_dot(p->rub.normal, p->rub.velocity));
    p->rub.load = p->squash.elastic * p->squash.factor;
    return 1;
}

static void meet(const ground *g, const dd_kinematics *k, const dd_commands *commands, const double *value, touch *all)
{
    const double *twist = k->motion.twist;
    all->linear = dd_vec(twist[0], twist[1], twist[2]);
    all->angular = dd_vec(twist[3], twist[4], twist[5]);
    all->count = 0;
    all->elastic[AFTER] = all->elastic[FORE] = 0;
    for (int i = 0; i < g->count; i++) {
        place *p = &all->places[all->count];
        if (!press(g, k, i, i == SKEG ? skeg_share(commands) : 1, all, p)) continue;
        all->elastic[g->half[i]] += p->squash.elastic;
        all->count++;
    }
    all->least = g->stiffness * touching * sqrt(touching);
    for (int i = 0; i < all->count; i++) {
        place *p = &all->places[i];
        const int half = g->half[p->index];
        p->half = half;
        p->all = all;
        double sum = all->elastic[half], contact = dd_smooth_step(sum / all->least).value * p->squash.elastic / sum;
        dd_rub_at(&p->rub, &g->by.law, g->by.friction, value + DD_RUB_WAYS * half, contact);
    }
}

/* --- gradient --------------------------------------------------------------------------------------------------- */

static dd_vec3 shift_of(dd_vec3 point, int j)
{
    const dd_vec3 e = dd_vec(j % 3 == 0, j % 3 == 1, j % 3 == 2);
    return j < 3 ? e : dd_cross(e, point);
}

static double elastic_change(const place *p, int j)
{
    return -p->squash.elastic_by_depth * dd_dot(p->rub.normal, shift_of(p->rub.point, j));
}

/* Of the bristles' rates by a unit displacement j, by how well this place holds them. */
static void vary_held(const place *p, int j, double rate[DD_RUB_WAYS])
{
    const touch *all = p->all;
    double sum = 0;
    for (int i = 0; i < all->count; i++)
        if (all->places[i].half == p->half) sum += elastic_change(&all->places[i], j);
    const double held = dd_smooth_share_change(all->elastic[p->half], all->least, p->squash.elastic, sum, elastic_change(p, j));
    for (int b = 0; b < DD_RUB_WAYS; b++) rate[b] += p->rub.bristle[b].rate_by_contact * held;
}

/* moved: by a unit displacement j of the hull, else by a unit of twist j. */
static void vary(const void *of, int j, int moved, double wrench[6], double rate[DD_RUB_WAYS])
{
    const place *p = of;
    const dd_vec3 e = dd_vec(j % 3 == 0, j % 3 == 1, j % 3 == 2), n = p->rub.normal, h = p->rub.point;
    const dd_vec3 shift = shift_of(h, j);
    dd_rub_change d = {.load = 0};
    double depth = 0;
    if (moved) {
        d.normal = dd_apply(&p->turning, shift);
        if (j >= 3) d.normal = dd_add(d.normal, dd_cross(n, e));
        depth = -dd_dot(n, shift);
    } else
        d.velocity = shift;
    double faster = -dd_dot(d.normal, p->rub.velocity) - dd_dot(n, d.velocity);
    d.load = p->squash.elastic_by_depth * depth * p->squash.factor + p->squash.elastic * p->squash.factor_by_rate * faster;
    dd_wrench_add(wrench, dd_add(dd_scale(d.load, n), dd_scale(p->rub.load, d.normal)), h);
    dd_rub_vary(&p->rub, &d, wrench, rate);
    if (moved) vary_held(p, j, rate);
}

/* --- the force -------------------------------------------------------------------------------------------------- */

enum { LOAD, FRICTION, TRANSOM_LOAD, SKEG_LOAD, DEPTH, CHANNELS };
static const dd_channel ground_channels[CHANNELS + 1] = {
    [LOAD] = {"ground_load_N", "N", "load of the ground on the hull, across the ground, all places"},
    [FRICTION] = {"ground_friction_N", "N", "friction of the ground on the hull, all places together"},
    [TRANSOM_LOAD] = {"transom_load_N", "N", "load of the ground on keel and chines at the transom"},
    [SKEG_LOAD] = {"skeg_load_N", "N", "load of the ground on the skeg"},
    [DEPTH] = {"ground_squash_mm", "mm", "how far the place pressed most is pressed in"},
};

static void evaluate(const void *instance, const dd_kinematics *kinematics, const dd_commands *commands,
                     const dd_memory *memory, dd_load *load, dd_gradient *gradient, double *channels)
{
    const ground *g = instance;
    touch all;
    dd_vec3 friction = dd_vec(0, 0, 0);
    meet(g, kinematics, commands, memory->value, &all);
    if (channels) memset(channels, 0, CHANNELS * sizeof(double));
    dd_bristles_release(MEMORY, memory->value, memory->rate, memory->rate_by_value);
    for (int i = 0; i < all.count; i++) {
        const place *p = &all.places[i];
        const int first = DD_RUB_WAYS * g->half[p->index];
        dd_wrench_add(load->hull, dd_scale(p->rub.load, p->rub.normal), p->rub.point);
        dd_wrench_add(load->hull, p->rub.force, p->rub.point);
        load->energy += p->squash.energy;
        load->heat -= (p->rub.load - p->squash.elastic) * dd_dot(p->rub.normal, p->rub.velocity) +
                      dd_dot(p->rub.force, p->rub.velocity);
        for (int b = 0; b < DD_RUB_WAYS; b++)
            memory->rate[first + b] += p->rub.bristle[b].rate + DD_BRISTLE_RELEASE * memory->value[first + b];
        if (gradient) dd_rub_differentiate(&p->rub, vary, p, first, gradient, memory);
        friction = dd_add(friction, p->rub.force);
        if (!channels) continue;
        channels[LOAD] += p->rub.load;
        if (p->index == SKEG) channels[SKEG_LOAD] = p->rub.load;
        else if (p->rub.point.x <= g->transom) channels[TRANSOM_LOAD] += p->rub.load;
        channels[DEPTH] = fmax(channels[DEPTH], 1e3 * p->depth);
    }
    if (channels) channels[FRICTION] = dd_norm(friction);
}

static void set_places(const dd_hull *hull, ground *g)
{
    double first, last, y[DD_STRAKES + 3], z[DD_STRAKES + 3];
    dd_hull_extent(hull, &first, &last);
    const double middle = 0.5 * (first + last), skeg = dd_hull_figures(hull)->skeg_depth.likely;
    for (int i = 0; i < KEEL; i++) {
        double x = first + (last - first) * i / (KEEL - 1);
        g->place[i] = dd_vec(x, 0, dd_hull_keel(hull, x).z);
    }
    for (int i = 0; i < CHINES; i++) {
        const double x = i < 2 ? first : middle;
        const int chine = dd_hull_section(hull, x, y, z) - 2;
        g->place[KEEL + i] = dd_vec(x, i % 2 == 0 ? y[chine] : -y[chine], z[chine]);
    }
    g->place[SKEG] = dd_vec(first, 0, dd_hull_keel(hull, first).z - skeg);
    g->count = skeg > 0 ? PLACES : SKEG;
    g->transom = first;
    for (int i = 0; i < PLACES; i++) g->half[i] = g->place[i].x > middle ? FORE : AFTER;
}

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    *instance = NULL;
    if (!model->hull || !model->ramp) return DD_OK;
    const coefficients *by = parameters;
    ground *made = calloc(1, sizeof *made);
    if (!made) return dd_fail(error, DD_ERROR_MEMORY, "ground force", "no memory for %zu bytes", sizeof *made);
    made->ramp = model->ramp;
    made->by = *by;
    if (by->squash > 0)
        made->stiffness = dd_squash_stiffness(dd_hull_mass(model->hull)->mass * DD_STANDARD_GRAVITY, by->squash);
    if (by->law.stiffness <= 0) made->by.friction = 0;
    set_places(model->hull, made);
    *instance = made;
    return DD_OK;
}

static int memory_count(const void *instance)
{
    (void)instance;
    return MEMORY;
}
static double memory_scale(const void *instance, int index)
{
    (void)index;
    const coefficients *by = &((const ground *)instance)->by;
    return fmax(by->friction, 0.01) / fmax(by->law.stiffness, 1);
}

/* --- regimes ---------------------------------------------------------------------------------------------------- */

/* A hull that lies over the profile nearly as it runs, its lowest place `depth` below it. The deflections across are left at
   zero: a mirrored state would have them the other way. */
static void draw(const void *instance, const dd_model *model, double least, double most, double speed, double (*uniform)(void *),
                 void *random, dd_pose *pose, dd_motion *motion, double *memory, dd_commands *commands)
{
    const ground *g = instance;
    dd_kinematics k;
    *commands = (dd_commands){.engine_tilt = uniform(random) < 0.5 ? 1 : 0};
    for (int trial = 0; trial < 50; trial++) {
        dd_draw_near_home(model, 2, speed, uniform, random, pose, motion);
        pose->rig[DD_RIG_X] = dd_draw(uniform, random, -2, 3);
        dd_kinematics_of(model, 0, pose, motion, &k);
        double lowest = INFINITY;
        int level = 0;
        for (int i = 0; i < g->count; i++) {
            if (i == SKEG && commands->engine_tilt > 0.5) continue;
            dd_vec3 at = dd_hull_point(&k, g->place[i]);
            dd_ramp_point below;
            double foot = dd_ramp_foot(g->ramp, at.x, at.z, &below);
            lowest = fmin(lowest, (at.z - below.z - below.slope * (at.x - foot)) / sqrt(1 + below.slope * below.slope));
        }
        pose->position.z -= (lowest + dd_draw(uniform, random, least, most)) / fmax(0.5, k.trailer_to_world.m[2][2]);
        dd_kinematics_of(model, 0, pose, motion, &k);
        for (int i = 0; i < g->count; i++) { /* differences cannot be taken across a touch */
            dd_vec3 at = dd_hull_point(&k, g->place[i]);
            dd_ramp_point below;
            double foot = dd_ramp_foot(g->ramp, at.x, at.z, &below), w = sqrt(1 + below.slope * below.slope);
            level += fabs((at.z - below.z - below.slope * (at.x - foot)) / w) < 5e-4;
        }
        if (level == 0) break;
    }
    for (int m = 0; m < MEMORY; m += DD_RUB_WAYS) {
        memory[m] = dd_draw(uniform, random, -0.6, 0.6) * g->by.friction / fmax(g->by.law.stiffness, 1);
        memory[m + 1] = 0;
    }
}

#define REGIME(function, least, most, speed)                                                                                   \
    static void function(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,  \
                         dd_motion *motion, double *memory, dd_commands *commands)                                             \
    {                                                                                                                          \
        draw(instance, model, least, most, speed, uniform, random, pose, motion, memory, commands);                            \
    }
REGIME(draw_clear, -0.3, -0.02, 0.3)
REGIME(draw_touching, 0.001, 0.006, 0.02)
REGIME(draw_pressed, 0.006, 0.03, 0.02)
REGIME(draw_slipping, 0.002, 0.02, 0.5)
#undef REGIME
static const dd_regime regimes[] = {
    {"clear", draw_clear}, {"touching", draw_touching}, {"pressed", draw_pressed}, {"slipping", draw_slipping}, {NULL, NULL}};

/* clang-format off */
static const dd_key keys[] = {
    DD_BRISTLE_KEYS(coefficients, law),
    {.name = "squash", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(coefficients, squash), .least = 1e-4,
     .most = 0.2, .fallback = 0.02, .source = "design memory", .unit = "mm",
     .help = "how far one place of the hull is pressed in under the hull's whole weight"},
    {.name = "damping", .type = DD_KEY_QUANTITY, .dimension = DD_NUMBER, .offset = offsetof(coefficients, damping), .least = 0,
     .most = 100, .fallback = 3, .source = "contact damping figure", .help = "c of the contact force k d^1.5 (1 + c d'), in s/m"},
    {.name = "friction", .type = DD_KEY_QUANTITY, .dimension = DD_RATIO, .offset = offsetof(coefficients, friction), .least = 0,
     .most = 2, .fallback = 0.55, .source = "hull on concrete", .help = "friction of the hull on the ground, share of its load"},
    {0}};
/* clang-format on */
static const char *const sources[] = {"hull on concrete", "bristle figures", "elasto-plastic friction", "contact damping",
                                      "elementary mechanics", NULL};

const dd_force_kind dd_force_ground = {
    .name = "ground",
    .help = "the hull on the ground: keel, chines and skeg, with friction",
    .formula = "places along keel and chines and the skeg, each k d^1.5 (1 + c d') along the ground's normal; friction by a pair of bristles for each half of the hull",
    .valid = "firm ground; a hull does not dig in",
    .covered_by = "tests/unit/force/test_hull_contacts.c",
    .acts_on = DD_ACTS_ON_HULL,
    .passive = 0, /* bristles return energy that they took at a lighter load */
    .parameters_size = sizeof(coefficients),
    .keys = keys,
    .sources = sources,
    .channels = ground_channels,
    .prepare = prepare,
    .free = free,
    .memory_count = memory_count,
    .memory_scale = memory_scale,
    .evaluate = evaluate,
    .regimes = regimes,
};
