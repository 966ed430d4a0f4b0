/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Side guides: posts and skids beside the hull.

   A guide is a grid of balls, over its height and its length, each against the topside of either side of the hull (ball.h).
   The balls of its top also meet the bottom, with the hardness of its end: a hull that comes down on a guide whose top lies
   under the chine stands on it. Friction on the hull's side by one pair of bristles for each guide (rub.h). */
#include "lib/force/ball.h"
#include "lib/base/error.h"
#include "lib/force/draw.h"
#include "lib/force/rub.h"
#include "lib/force/smooth.h"
#include <stdlib.h>
#include <string.h>

enum { UP = 8, ALONG = 8, CONTACTS = 32 };
static const double spacing_up = 0.1, spacing_along = 0.25; /* of the balls, at most UP and ALONG of them, m */
static const double end_load = 4000, end_squash = 0.004;    /* hardness of its top: N at m */
static const double touching_squash = 5e-5;                 /* from which bristles are held, m */

typedef struct coefficients {
    dd_bristle_law law;
} coefficients;

typedef struct guides {
    const dd_hull *hull;
    const dd_rig *rig;
    dd_bristle_law law;
} guides;

typedef struct contact {
    dd_ball ball;
    dd_rub rub;
    int on_top;
    const struct meeting *all;
} contact;

typedef struct meeting {
    int count;
    contact contacts[CONTACTS];
    double gap, over_chine;
    double elastic, least; /* load of all without damping; from which bristles are held */
} meeting;

static int places(double extent, double spacing, int most)
{
    int n = 1 + (int)ceil(extent / spacing - 1e-9);
    return n > most ? most : n;
}

static void press(meeting *m, const guides *g, dd_ball ball, dd_face face, int with_gradient)
{
    if (face == DD_FACE_BOTTOM) ball.stiffness = dd_squash_stiffness(end_load, end_squash);
    for (int side = -1; side <= 1 && m->count < CONTACTS; side += 2) {
        contact *c = &m->contacts[m->count];
        c->ball = ball;
        c->on_top = face == DD_FACE_BOTTOM;
        m->count += dd_ball_press(&c->ball, g->hull, face, side, with_gradient);
    }
}

static void look(meeting *m, const guides *g, const dd_guide *guide, dd_vec3 p, int top)
{
    dd_topside_point t = dd_hull_topside(g->hull, p.x, p.z);
    double first, last;
    dd_hull_extent(g->hull, &first, &last);
    if (p.x <= first || p.x >= last) return; /* no hull beside it */
    if (t.cover > 0)
        m->gap = fmin(m->gap, (guide->side * p.y - t.y) / sqrt(1 + t.yx * t.yx + t.yz * t.yz) - guide->radius);
    if (top) m->over_chine = fmin(m->over_chine, p.z + guide->radius - t.chine);
}

static void meet(const guides *g, const dd_guide *guide, const dd_kinematics *k, const double *value, int with_gradient,
                 int with_gaps, meeting *m)
{
    const double *twist = k->relative_twist;
    const int up = places(guide->height, spacing_up, UP), along = places(guide->length, spacing_along, ALONG);
    dd_ball ball = {.linear = dd_vec(twist[0], twist[1], twist[2]), .angular = dd_vec(twist[3], twist[4], twist[5]),
                    .radius = guide->radius, .stiffness = guide->stiffness, .damping = guide->damping};
    m->count = 0;
    m->gap = m->over_chine = INFINITY;
    for (int a = 0; a < along; a++)
        for (int u = 0; u < up; u++) {
            dd_vec3 at = guide->top;
            if (along > 1) at.x += guide->length * ((double)a / (along - 1) - 0.5);
            if (up > 1) at.z -= guide->height * u / (up - 1);
            ball.p = dd_apply_transposed(&k->to_trailer, dd_sub(at, k->pose.position));
            if (with_gaps) look(m, g, guide, ball.p, u == 0);
            press(m, g, ball, DD_FACE_TOPSIDE, with_gradient);
            if (u == 0) press(m, g, ball, DD_FACE_BOTTOM, with_gradient);
        }
    double sum = 0;
    for (int i = 0; i < m->count; i++) sum += m->contacts[i].ball.share * m->contacts[i].ball.squash.elastic;
    const double least = guide->stiffness * touching_squash * sqrt(touching_squash);
    m->elastic = sum;
    m->least = least;
    for (int i = 0; i < m->count; i++) {
        contact *c = &m->contacts[i];
        const double elastic = c->ball.share * c->ball.squash.elastic;
        c->rub.normal = c->ball.nearest.normal;
        c->rub.point = dd_sub(c->ball.p, dd_scale(guide->radius, c->rub.normal));
        c->rub.velocity = dd_add(ball.linear, dd_cross(ball.angular, c->rub.point));
        c->rub.load = c->ball.load;
        c->all = m;
        dd_rub_at(&c->rub, &g->law, guide->friction, value, sum > 0 ? dd_smooth_step(sum / least).value * elastic / sum : 0);
    }
}

/* --- gradient --------------------------------------------------------------------------------------------------- */

static dd_vec3 shift_of(const dd_ball *b, int j)
{
    const dd_vec3 e = dd_vec(j % 3 == 0, j % 3 == 1, j % 3 == 2);
    return j < 3 ? dd_scale(-1, e) : dd_cross(b->p, e);
}

static double elastic_change(const dd_ball *b, dd_vec3 p)
{
    return dd_dot(b->share_by_p, p) * b->squash.elastic - b->share * b->squash.elastic_by_depth * dd_dot(b->nearest.normal, p);
}

/* Of the bristles' rates, by how well this contact holds them. */
static void vary_held(const contact *c, int j, double rate[DD_RUB_WAYS])
{
    double sum = 0;
    for (int i = 0; i < c->all->count; i++) {
        const dd_ball *b = &c->all->contacts[i].ball;
        sum += elastic_change(b, shift_of(b, j));
    }
    const double held = dd_smooth_share_change(c->all->elastic, c->all->least, c->ball.share * c->ball.squash.elastic, sum,
                                               elastic_change(&c->ball, shift_of(&c->ball, j)));
    for (int w = 0; w < DD_RUB_WAYS; w++) rate[w] += c->rub.bristle[w].rate_by_contact * held;
}

static void vary(const void *of, int j, int moved, double wrench[6], double rate[DD_RUB_WAYS])
{
    const contact *c = of;
    const dd_vec3 zero = {0, 0, 0}, e = dd_vec(j % 3 == 0, j % 3 == 1, j % 3 == 2);
    const dd_vec3 p = moved ? shift_of(&c->ball, j) : zero;
    const dd_vec3 linear = !moved && j < 3 ? e : zero, angular = !moved && j >= 3 ? e : zero;
    dd_rub_change d = {.load = 0};
    dd_ball_vary(&c->ball, p, linear, angular, &d.normal, &d.load, wrench);
    d.point = dd_sub(p, dd_scale(c->ball.radius, d.normal));
    d.velocity = dd_add(dd_add(linear, dd_cross(angular, c->rub.point)), dd_cross(c->ball.angular, d.point));
    dd_rub_vary(&c->rub, &d, wrench, rate);
    if (moved) vary_held(c, j, rate);
}

/* --- the force -------------------------------------------------------------------------------------------------- */

enum { LOAD, TIP_LOAD, GAP, TOP_ABOVE_CHINE, PLACE_LOAD, CHANNELS };
static const dd_channel guide_channels[CHANNELS + 1] = {
    [LOAD] = {"load_N", "N", "load of this guide on the hull's side"},
    [TIP_LOAD] = {"tip_load_N", "N", "load of the hull's bottom on the top of this guide"},
    [GAP] = {"gap_m", "m", "least gap between this guide and the side of the hull; negative: it gives way, or the hull is past it"},
    [TOP_ABOVE_CHINE] = {"top_above_chine_m", "m", "top of this guide over the chine beside it; negative: it is useless"},
    [PLACE_LOAD] = {"place_load_N", "N", "load of the hull's side on the place of this guide that bears most: what its rated load is of"},
};

static int guide_count(const void *instance) { return ((const guides *)instance)->rig->guide_count; }
static int memory_count(const void *instance) { return DD_RUB_WAYS * guide_count(instance); }

static void add_contact(const contact *c, const double *value, dd_load *load, double *rate, double *channels)
{
    const dd_ball *b = &c->ball;
    dd_wrench_add(load->hull, b->force, b->p);
    dd_wrench_add(load->hull, c->rub.force, c->rub.point);
    load->energy += b->share * b->squash.energy;
    dd_vec3 u = dd_add(b->linear, dd_cross(b->angular, b->p));
    load->heat += (b->load - b->share * b->squash.elastic) * dd_dot(b->nearest.normal, u) - dd_dot(c->rub.force, c->rub.velocity);
    for (int w = 0; w < DD_RUB_WAYS; w++) rate[w] += c->rub.bristle[w].rate + DD_BRISTLE_RELEASE * value[w];
    if (channels == NULL) return;
    channels[c->on_top ? TIP_LOAD : LOAD] += b->load;
    if (!c->on_top) channels[PLACE_LOAD] = fmax(channels[PLACE_LOAD], b->load);
}

static void evaluate(const void *instance, const dd_kinematics *kinematics, const dd_commands *commands,
                     const dd_memory *memory, dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)commands;
    const guides *g = instance;
    dd_bristles_release(memory_count(instance), memory->value, memory->rate, memory->rate_by_value);
    for (int i = 0; i < g->rig->guide_count; i++) {
        const int first = DD_RUB_WAYS * i;
        const double *value = memory->value + first;
        double *own = channels ? channels + CHANNELS * i : NULL;
        meeting m;
        meet(g, &g->rig->guides[i], kinematics, value, gradient != NULL, own != NULL, &m);
        if (own) {
            own[LOAD] = own[TIP_LOAD] = own[PLACE_LOAD] = 0;
            own[GAP] = isfinite(m.gap) ? m.gap : NAN;
            own[TOP_ABOVE_CHINE] = isfinite(m.over_chine) ? m.over_chine : NAN;
        }
        for (int c = 0; c < m.count; c++) add_contact(&m.contacts[c], value, load, memory->rate + first, own);
        for (int c = 0; c < m.count && gradient; c++) dd_rub_differentiate(&m.contacts[c].rub, vary, &m.contacts[c], first, gradient, memory);
    }
}

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    *instance = NULL;
    if (!model->hull || !model->rig || model->rig->guide_count == 0) return DD_OK;
    guides *made = malloc(sizeof *made);
    if (!made) return dd_fail(error, DD_ERROR_MEMORY, "guide force", "no memory for %zu bytes", sizeof *made);
    *made = (guides){.hull = model->hull, .rig = model->rig, .law = ((const coefficients *)parameters)->law};
    *instance = made;
    return DD_OK;
}

static double memory_scale(const void *instance, int index)
{
    const guides *g = instance;
    return fmax(g->rig->guides[index / DD_RUB_WAYS].friction, 0.01) / g->law.stiffness;
}
static const char *unit_name(const void *instance, int unit) { return ((const guides *)instance)->rig->guides[unit].name; }

/* --- regimes ---------------------------------------------------------------------------------------------------- */

/* Differences cannot be taken across the touch of a ball. */
static int just_touches(const guides *g, const dd_model *model, const dd_pose *pose)
{
    static const double near[2] = {-4e-5, 4e-5};
    const dd_motion rest = {{0}, {0}};
    const double none[DD_RUB_WAYS] = {0};
    dd_kinematics k;
    dd_kinematics_of(model, 0, pose, &rest, &k);
    for (int i = 0; i < g->rig->guide_count; i++) {
        int count[2];
        for (int n = 0; n < 2; n++) {
            dd_guide other = g->rig->guides[i];
            meeting m;
            other.radius += near[n];
            meet(g, &other, &k, none, 0, 0, &m);
            count[n] = m.count;
        }
        if (count[0] != count[1]) return 1;
    }
    return 0;
}

/* The hull set against a guide chosen at random: from beside, or (from_above) down on its top. */
static void draw(const guides *g, const dd_model *model, int from_above, double least, double most, double speed,
                 double (*uniform)(void *), void *random, dd_pose *pose, dd_motion *motion, double *memory, dd_commands *commands)
{
    *commands = (dd_commands){0};
    for (int trial = 0; trial < 50; trial++) {
        dd_draw_near_home(model, 0.5, speed, uniform, random, pose, motion);
        const dd_guide *guide = &g->rig->guides[(int)(uniform(random) * g->rig->guide_count) % g->rig->guide_count];
        dd_mat3 turn = dd_rotation_of(pose->attitude);
        const double wanted = dd_draw(uniform, random, least, most), share = dd_draw(uniform, random, 0.2, 0.8);
        for (int i = 0; i < 12; i++) {
            dd_vec3 p = dd_apply_transposed(&turn, dd_sub(guide->top, pose->position));
            dd_topside_point t = dd_hull_topside(g->hull, p.x, p.z);
            dd_vec3 off;
            if (from_above) {
                dd_bottom_point b = dd_hull_bottom(g->hull, p.x, p.y, 0);
                off = dd_vec(0, p.y - guide->side * share * (t.y - 0.1),
                             p.z - b.z + guide->radius * sqrt(1 + b.zx * b.zx + b.zy * b.zy) - wanted);
            } else
                off = dd_vec(0, p.y - guide->side * (t.y + (guide->radius - wanted) * sqrt(1 + t.yx * t.yx + t.yz * t.yz)),
                             p.z - t.chine - 0.1 - 0.3 * share);
            pose->position = dd_add(pose->position, dd_apply(&turn, off));
        }
        if (!just_touches(g, model, pose)) break;
    }
    for (int m = 0; m < DD_RUB_WAYS * g->rig->guide_count; m++)
        memory[m] = dd_draw(uniform, random, -0.6, 0.6) * g->rig->guides[m / DD_RUB_WAYS].friction / g->law.stiffness;
}

#define REGIME(function, from_above, least, most, speed)                                                                       \
    static void function(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,  \
                         dd_motion *motion, double *memory, dd_commands *commands)                                             \
    {                                                                                                                          \
        draw(instance, model, from_above, least, most, speed, uniform, random, pose, motion, memory, commands);                \
    }
REGIME(draw_clear, 1, -0.4, -0.15, 0.3)
REGIME(draw_touching, 0, 0.0005, 0.004, 0.01)
REGIME(draw_pressed, 0, 0.004, 0.02, 0.02)
REGIME(draw_slipping, 0, 0.002, 0.02, 0.5)
REGIME(draw_on_top, 1, 0.0005, 0.006, 0.02)
#undef REGIME
static const dd_regime regimes[] = {{"clear", draw_clear},       {"touching", draw_touching}, {"pressed", draw_pressed},
                                    {"slipping", draw_slipping}, {"on top", draw_on_top},     {NULL, NULL}};

static const dd_key keys[] = {DD_BRISTLE_KEYS(coefficients, law), {0}};
static const char *const sources[] = {"bristle figures", "elasto-plastic friction", "contact damping", "elementary mechanics",
                                      "guide figures", NULL};

const dd_force_kind dd_force_guide = {
    .name = "guide",
    .help = "side guides: posts and skids beside the hull, and the hull on top of one",
    .formula = "balls over the guide's height and length against the topside, k d^1.5 (1 + c d') each; friction by one pair of bristles; its top meets the bottom",
    .valid = "a section's side is straight from chine to sheer: its flare turns the load, a hollow or a tumblehome within it is not met",
    .covered_by = "tests/unit/force/test_hull_contacts.c",
    .acts_on = DD_ACTS_BETWEEN,
    .passive = 0, /* bristles return energy that they took at a lighter load */
    .parameters_size = sizeof(coefficients),
    .keys = keys,
    .sources = sources,
    .channels = guide_channels,
    .prepare = prepare,
    .free = free,
    .memory_count = memory_count,
    .memory_scale = memory_scale,
    .unit_count = guide_count,
    .unit_name = unit_name,
    .evaluate = evaluate,
    .regimes = regimes,
};
