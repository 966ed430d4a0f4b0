/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The stop on the winch post that the stem comes home to: a roller, or a block with rounded edges and a hollow.

   It is a stack of bars across the trailer (bar.h), over its height, whose aft faces lie in the plane X = behind_coupling of the
   trailer. Each has its share of the stop's stiffness; half height no more than the radius: one roller. A slanted stem is lifted, a
   bow that has come over the stop lies on it by its keel. No friction: a roller turns, and a stem that rides up on a block is held
   by less than that. */
#include "lib/ode/ode.h"
#include "lib/force/bow_stop.h"
#include "lib/force/bar.h"
#include "lib/base/error.h"
#include "lib/force/draw.h"
#include <stdlib.h>

enum { BARS = 6 };

typedef struct coefficients {
    double damping;
} coefficients;

typedef struct bow_stop {
    dd_bars bars;
    dd_vec3 forefoot; /* where the stem begins to rise, boat axes */
    int count;
    dd_vec3 bar[BARS]; /* from the top, trailer frame */
    double face, half_width;
} bow_stop;

static void differentiate(const dd_bar *bar, const dd_bar_frame *frame, const dd_kinematics *k, dd_gradient *gradient)
{
    for (int j = 0; j < 6; j++) {
        double moved[6] = {0}, faster[6] = {0};
        if ((k->leave_out & (1 << j)) != 0) continue;
        (void)dd_bar_vary(bar, frame, j, true, moved);
        if (!k->at_rest) (void)dd_bar_vary(bar, frame, j, false, faster);
        for (int i = 0; i < 6; i++) gradient->K[i][j] -= moved[i], gradient->D[i][j] -= faster[i];
    }
}

/* --- what is seen ------------------------------------------------------------------------------------------------ */

/* From the bar to the stem, the stem ending at its head; of a boat that lies across the trailer, from the bar's middle to the upright stem. */
static double gap_of(const bow_stop *stop, const dd_bar_frame *a, const dd_bar *m)
{
    const dd_vec3 p = m->p;
    dd_keel_contact c;
    if (m->met)
        c = m->edge;
    else if (!dd_stem_on_axle(stop->bars.hull, &stop->bars.stem, &stop->bars.profile, p, a->axle, &c)) {
        const dd_vec3 stem = dd_vec(stop->bars.stem.end, 0, fmin(stop->bars.stem.head, fmax(stop->bars.stem.foot_of_stem, p.z)));
        return dd_norm(dd_sub(stem, p)) - stop->bars.profile.radius;
    }
    if (c.at.z <= stop->bars.stem.head) return -c.depth;
    return hypot(c.at.x - p.x, stop->bars.stem.head - p.z) - stop->bars.profile.radius;
}

/* How far the bow has come past the stop: over it with the forefoot, the stem head under it, or the stem beside it. */
static double past(const bow_stop *stop, const dd_kinematics *k)
{
    const dd_vec3 middle = dd_vec(stop->bars.stem.end, 0, stop->bars.stem.foot_of_stem), top = dd_vec(stop->bars.stem.end, 0, stop->bars.stem.head);
    const dd_vec3 foot = dd_add(k->pose.position, dd_apply(&k->to_trailer, stop->forefoot));
    const dd_vec3 stem = dd_add(k->pose.position, dd_apply(&k->to_trailer, middle));
    const dd_vec3 head = dd_add(k->pose.position, dd_apply(&k->to_trailer, top));
    const double over = stop->face - foot.x, under = fmin(stop->bar[stop->count - 1].z - head.z - dd_bar_fade, stop->face - head.x);
    const double beside = fmin(fabs(stem.y) - stop->half_width - dd_bar_fade, stop->face - stem.x);
    return fmax(over, fmax(under, beside));
}

enum { LOAD, GAP, LIFT, PAST, CHANNELS };
static const dd_channel stop_channels[CHANNELS + 1] = {
    [LOAD] = {"stop_load_N", "N", "force of the bow stop on the stem, at right angles to it"},
    [GAP] = {"stop_gap_m", "m", "from the nearest place of the stem to the bow stop, negative: squash"},
    [LIFT] = {"stop_lift_N", "N", "part of that force that lifts the bow, at right angles to the trailer's bed"},
    [PAST] = {"stop_past_m", "m", "how far the bow is past its stop: over it, under it or beside it; negative: it stands in its way"},
};

static void look(const bow_stop *stop, const dd_kinematics *k, const dd_bar_frame *a, const dd_bar *bars, const dd_load *load, double *channels)
{
    const dd_vec3 force = dd_vec(load->hull[0], load->hull[1], load->hull[2]);
    channels[LOAD] = dd_norm(force);
    channels[LIFT] = dd_apply(&k->to_trailer, force).z;
    channels[GAP] = INFINITY;
    for (int i = 0; i < stop->count; i++) channels[GAP] = fmin(channels[GAP], gap_of(stop, a, &bars[i]));
    channels[PAST] = past(stop, k);
}

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory, dd_load *load,
                     dd_gradient *gradient, double *channels)
{
    (void)commands, (void)memory;
    const bow_stop *stop = instance;
    const dd_bar_frame a = dd_bar_frame_of(k);
    dd_bar bars[BARS];
    for (int i = 0; i < stop->count; i++) {
        const dd_vec3 p = dd_apply_transposed(&k->to_trailer, dd_sub(stop->bar[i], k->pose.position));
        if (!dd_bar_press(&stop->bars, &a, stop->half_width, p, &bars[i])) continue;
        dd_bar_add(&bars[i], &a, load);
        if (gradient) differentiate(&bars[i], &a, k, gradient);
    }
    if (channels) look(stop, k, &a, bars, load, channels);
}

/* --- made from the trailer --------------------------------------------------------------------------------------- */

static int has_stop(const dd_model *model)
{
    return model->hull && model->rig && !isnan(model->rig->trailer.bow_stop.behind_coupling) &&
           !isnan(model->rig->trailer.bow_stop.above_ground);
}

static bow_stop stop_of(const dd_model *model, double damping)
{
    enum { PLACES = 200 };
    const dd_trailer_parameters *trailer = &model->rig->trailer;
    const dd_bow_stop_parameters *given = &trailer->bow_stop;
    const double radius = fmin(given->radius, given->half_height), reach = given->half_height - radius, steep = tan(asin(DD_BOW_STOP_HOLDS));
    const double height = given->above_ground - trailer->coupling_height;
    bow_stop s = {.bars = {model->hull, dd_hull_stem_line(model->hull), {radius, 0, given->half_width, given->hollow}, 0, damping},
                  .face = given->behind_coupling,
                  .half_width = given->half_width};
    s.count = reach > 0.01 * radius ? (int)fmin(BARS, 2 + floor(2 * reach / radius - 1e-6)) : 1;
    for (int i = 0; i < s.count; i++)
        s.bar[i] = dd_vec(s.face - radius, 0, s.count > 1 ? height + reach - 2 * reach * i / (s.count - 1) : height);
    s.bars.stiffness = dd_squash_stiffness(given->rated_load, given->squash_at_rated_load) / s.count;
    double x = s.bars.stem.turn;
    for (int i = 1; i <= PLACES && dd_hull_keel(model->hull, x).zx > steep; i++)
        x = s.bars.stem.turn + (s.bars.stem.first - s.bars.stem.turn) * i / PLACES;
    s.forefoot = dd_vec(x, 0, dd_hull_keel(model->hull, x).z);
    return s;
}

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    *instance = NULL;
    if (!has_stop(model)) return DD_OK;
    const dd_bow_stop_parameters *given = &model->rig->trailer.bow_stop;
    if (!(given->rated_load > 0 && given->squash_at_rated_load > 0 && given->half_height > 0 && given->radius > 0 && given->half_width > 0))
        return dd_fail(error, DD_ERROR_ARGUMENT, "bow stop force",
                       "rated load %g N, squash %g m, half height %g m, radius %g m and half width %g m must be above 0",
                       given->rated_load, given->squash_at_rated_load, given->half_height, given->radius, given->half_width);
    bow_stop *made = malloc(sizeof *made);
    if (!made) return dd_fail(error, DD_ERROR_MEMORY, "bow stop force", "no memory for %zu bytes", sizeof *made);
    *made = stop_of(model, ((const coefficients *)parameters)->damping);
    *instance = made;
    return DD_OK;
}

/* Height over the bar's middle of a ball of its radius laid on the line at s, outside; and where the hull stands when that is 0. */
static double laid_at(const bow_stop *stop, const dd_mat3 *turn, const dd_pose *pose, dd_vec3 bar, double s, dd_at_stop *t)
{
    const dd_line_place place = dd_hull_on_stem_line(stop->bars.hull, &stop->bars.stem, s);
    const dd_vec3 tangent = dd_apply(turn, place.tangent), k = dd_add(pose->position, dd_apply(turn, place.at));
    const double aft = tangent.z / hypot(tangent.x, tangent.z), down = -tangent.x / hypot(tangent.x, tangent.z), radius = stop->bars.profile.radius;
    *t = (dd_at_stop){.x = pose->position.x + bar.x - k.x + radius * aft, .aft = aft, .height = k.z};
    return k.z - radius * down - bar.z;
}

typedef struct laid {
    const bow_stop *stop;
    const dd_mat3 *turn;
    const dd_pose *pose;
    dd_vec3 bar;
    dd_at_stop at;
} laid;

static double laid_height(double s, void *context)
{
    laid *l = context;
    return laid_at(l->stop, l->turn, l->pose, l->bar, s, &l->at);
}

/* The ball rises along the line, from the transom to the stem head. */
static dd_at_stop touch_bar(const bow_stop *stop, const dd_mat3 *turn, const dd_pose *pose, dd_vec3 bar)
{
    laid l = {.stop = stop, .turn = turn, .pose = pose, .bar = bar};
    const double low = stop->bars.stem.first, high = dd_hull_stem_line_at_height(&stop->bars.stem, stop->bars.stem.head);
    if (laid_height(low, &l) > 0) return (dd_at_stop){.x = NAN, .aft = NAN, .height = NAN, .past = 1};
    if (laid_height(high, &l) < 0) return (dd_at_stop){.x = NAN, .aft = NAN, .height = NAN, .past = -1};
    const double s = dd_ode_root(laid_height, &l, low, high, 0);
    if (isnan(s)) return (dd_at_stop){.x = NAN, .aft = NAN, .height = NAN};
    (void)laid_height(s, &l);
    return l.at;
}

dd_at_stop dd_bow_stop_touch(const dd_model *model, const dd_pose *pose)
{
    dd_at_stop aftmost = {.x = NAN, .aft = NAN, .height = NAN};
    if (!has_stop(model)) return aftmost;
    const bow_stop stop = stop_of(model, 0);
    const dd_mat3 turn = dd_rotation_of(pose->attitude);
    for (int i = 0; i < stop.count; i++) {
        const dd_at_stop t = touch_bar(&stop, &turn, pose, stop.bar[i]);
        if (isnan(aftmost.x) || t.x > aftmost.x) aftmost = t;
    }
    return aftmost;
}

dd_vec3 dd_bow_stop_eye(const dd_model *model)
{
    if (!has_stop(model)) return dd_vec(NAN, NAN, NAN);
    const dd_trailer_parameters *trailer = &model->rig->trailer;
    const dd_vec3 eye = dd_hull_bow_eye(model->hull);
    const double height = trailer->bow_stop.above_ground - trailer->coupling_height;
    const dd_pose level_hull = {.position = dd_vec(0, 0, height - eye.z), .attitude = {0, 0, 0, 1}};
    const dd_at_stop t = dd_bow_stop_touch(model, &level_hull);
    return dd_vec(isnan(t.x) ? trailer->bow_stop.behind_coupling : t.x - eye.x, 0, height);
}

/* --- regimes ---------------------------------------------------------------------------------------------------- */

/* A place of the line laid into a bar, at that height over the keel's lowest and that far aside. */
static void draw(const bow_stop *stop, const dd_model *model, int bar, double low, double high, double aside, double most_depth,
                 double speed, double (*uniform)(void *), void *random, dd_pose *pose, dd_motion *motion, dd_commands *commands)
{
    *commands = (dd_commands){0};
    dd_draw_near_home(model, 0.1, speed, uniform, random, pose, motion);
    const double s = dd_draw(uniform, random, low, high), depth = dd_draw(uniform, random, copysign(0.0005, most_depth), most_depth);
    const dd_line_place place = dd_hull_on_stem_line(stop->bars.hull, &stop->bars.stem, s);
    const double length = dd_norm(place.tangent), off = stop->bars.profile.radius - depth;
    const dd_vec3 p = dd_add(place.at, dd_scale(off / length, dd_vec(place.tangent.z, 0, -place.tangent.x)));
    const dd_mat3 turn = dd_rotation_of(pose->attitude);
    pose->position = dd_sub(stop->bar[bar], dd_apply(&turn, dd_vec(p.x, aside, p.z)));
}

#define REGIME(function, bar, low, high, aside, depth, speed)                                                                  \
    static void function(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,  \
                         dd_motion *motion, double *memory, dd_commands *commands)                                             \
    {                                                                                                                          \
        (void)memory;                                                                                                          \
        const bow_stop *stop = instance;                                                                                       \
        const double head = dd_hull_stem_line_at_height(&stop->bars.stem, stop->bars.stem.head);                                   \
        draw(stop, model, bar, low, high, aside, depth, speed, uniform, random, pose, motion, commands);                       \
        (void)head;                                                                                                            \
    }
REGIME(draw_clear, 0, stop->bars.stem.upright, head, 0, -0.3, 0.3)
REGIME(draw_on_stem, 0, stop->bars.stem.upright + 0.005, head - 0.05, dd_draw(uniform, random, -0.03, 0.03), 0.01, 0.05)
REGIME(draw_on_slant, 0, stop->forefoot.x, stop->bars.stem.turn - 0.02, dd_draw(uniform, random, -0.03, 0.03), 0.01, 0.05)
REGIME(draw_on_keel, 0, stop->bars.stem.first + 0.1, stop->forefoot.x, dd_draw(uniform, random, -0.03, 0.03), 0.01, 0.05)
REGIME(draw_beside, 0, stop->bars.stem.upright + 0.005, head - 0.05,
       (uniform(random) < 0.5 ? -1 : 1) * dd_draw(uniform, random, stop->half_width + 0.01, stop->half_width + dd_bar_fade - 0.01), 0.01, 0.05)
REGIME(draw_under, stop->count - 1, head, head + 0.02, dd_draw(uniform, random, -0.03, 0.03), 0.01, 0.05)
#undef REGIME
static const dd_regime regimes[] = {{"clear", draw_clear},     {"on the stem", draw_on_stem}, {"on the slant", draw_on_slant},
                                    {"on the keel", draw_on_keel}, {"beside", draw_beside},   {"under", draw_under}, {NULL, NULL}};

static const dd_key keys[] = {{.name = "damping",
                               .type = DD_KEY_QUANTITY,
                               .dimension = DD_NUMBER,
                               .offset = offsetof(coefficients, damping),
                               .least = 0,
                               .most = 100,
                               .fallback = 6,
                               .source = "contact damping figure",
                               .help = "c of the stop's force k d^1.5 (1 + c d'), in s/m"},
                              {0}};
static const char *const sources[] = {"contact damping", "contact damping figure", "elementary mechanics", NULL};

const dd_force_kind dd_force_bow_stop = {
    .name = "bow stop",
    .help = "roller or block on the winch post that the stem comes home to",
    .formula = "bars over its height, each share 2/5 k d^2.5 of energy by the true depth d of keel and stem in it; force its gradient, damped by d'; no friction",
    .valid = "the stem's line alone: a bluff bow's sides do not meet it",
    .covered_by = "tests/unit/force/test_bow_stop.c",
    .acts_on = DD_ACTS_BETWEEN,
    .passive = 1,
    .parameters_size = sizeof(coefficients),
    .keys = keys,
    .sources = sources,
    .channels = stop_channels,
    .prepare = prepare,
    .free = free,
    .evaluate = evaluate,
    .regimes = regimes,
};
