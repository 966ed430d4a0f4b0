/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The stop on the winch post that the stem comes home to: a roller, or a block with rounded edges and a hollow.

   It is a stack of bars across the trailer, over its height, whose aft faces lie in the plane X = behind_coupling of the trailer.
   Each bar is a body of revolution that the line of keel and stem meets (contact.h, lib/hull/stem.c), with its share of the stop's
   stiffness; half height no more than the radius: one roller. Energy of a bar share(p) 2/5 k d^2.5, d the true depth, p its middle;
   the force is the energy's gradient, with the damping on its part by d. It pushes at right angles to the stem: a slanted stem is
   lifted, a bow that has come over the stop lies on it by its keel. `share` fades beyond the stop's half width, over the stem head
   and behind the transom. No friction: a roller turns, and a stem that rides up on a block is held by less than that. */
#include "lib/ode/ode.h"
#include "lib/force/bow_stop.h"
#include "lib/base/error.h"
#include "lib/force/contact.h"
#include "lib/force/draw.h"
#include "lib/force/smooth.h"
#include <stdlib.h>

enum { BARS = 6 };
static const double fade = 0.03; /* beyond the stop's width and the stem head, m */

typedef struct coefficients {
    double damping;
} coefficients;

typedef struct bow_stop {
    const dd_hull *hull;
    dd_stem_line stem;
    dd_vec3 forefoot; /* where the stem begins to rise, boat axes */
    dd_profile profile;
    int count;
    dd_vec3 bar[BARS]; /* from the top, trailer frame */
    double face, stiffness, damping, half_width;
} bow_stop;

typedef struct meeting {
    dd_vec3 p, share_by_p;
    double share;
    dd_smooth across, up, along; /* by y, z, x of p */
    dd_keel_contact edge;
    dd_squash squash;
    bool met;    /* edge is known, also of a bar that does not touch */
    double push; /* along edge.w, whose length is 1 but in a hollow */
} meeting;

typedef struct surroundings {
    dd_vec3 axle, linear, angular; /* boat axes */
} surroundings;

/* --- contact ---------------------------------------------------------------------------------------------------- */

static dd_smooth falling(double over, double sign)
{
    dd_smooth s = dd_smooth_step(1 - over / fade);
    s.slope *= -sign / fade;
    s.curvature /= fade * fade;
    return s;
}

static void set_share(const bow_stop *stop, meeting *m)
{
    m->across = falling(fabs(m->p.y) - stop->half_width, m->p.y < 0 ? -1 : 1);
    m->up = falling(m->p.z - stop->stem.head, 1);
    m->along = falling(stop->stem.first + fade - m->p.x, -1);
    m->share = m->across.value * m->up.value * m->along.value;
    m->share_by_p = dd_vec(m->across.value * m->up.value * m->along.slope, m->across.slope * m->up.value * m->along.value,
                           m->across.value * m->up.slope * m->along.value);
}

static dd_vec3 share_turning(const meeting *m, dd_vec3 d)
{
    const dd_smooth *x = &m->along, *y = &m->across, *z = &m->up;
    const double xy = x->slope * y->slope * z->value, xz = x->slope * y->value * z->slope, yz = x->value * y->slope * z->slope;
    return dd_vec(x->curvature * y->value * z->value * d.x + xy * d.y + xz * d.z,
                  xy * d.x + x->value * y->curvature * z->value * d.y + yz * d.z,
                  xz * d.x + yz * d.y + x->value * y->value * z->curvature * d.z);
}

static surroundings around(const dd_kinematics *k)
{
    const double *twist = k->relative_twist;
    /* the boat lies end for end: its port is the trailer's -Y */
    return (surroundings){dd_vec(-k->to_trailer.m[1][0], -k->to_trailer.m[1][1], -k->to_trailer.m[1][2]),
                          dd_vec(twist[0], twist[1], twist[2]), dd_vec(twist[3], twist[4], twist[5])};
}

/* Clear for sure: ahead of the stem, or further under the keel's slope than it is thick. A convex line lies over its tangents. */
static int is_clear(const bow_stop *stop, dd_vec3 p)
{
    const double thick = stop->profile.radius + stop->profile.height;
    if (p.x > stop->stem.end + thick) return 1;
    if (p.x >= stop->stem.turn) return 0;
    const dd_bottom_point keel = dd_hull_keel_shape(stop->hull, p.x);
    return (keel.z - p.z) / sqrt(1 + keel.zx * keel.zx) > 1.25 * thick;
}

static int press(const bow_stop *stop, const surroundings *a, dd_vec3 p, meeting *m)
{
    m->p = p;
    m->met = false;
    set_share(stop, m);
    if (m->share <= 0 || is_clear(stop, p)) return 0;
    m->met = dd_stem_on_axle(stop->hull, &stop->stem, &stop->profile, p, a->axle, &m->edge);
    if (!m->met || m->edge.depth <= 0) return 0;
    const dd_vec3 u = dd_add(a->linear, dd_cross(a->angular, m->edge.at));
    m->squash = dd_squash_at(stop->stiffness, stop->damping, m->edge.depth, -dd_dot(m->edge.w, u));
    m->push = m->share * m->squash.elastic * m->squash.factor;
    return 1;
}

static void add_meeting(const meeting *m, const surroundings *a, dd_load *load)
{
    const dd_vec3 u = dd_add(a->linear, dd_cross(a->angular, m->edge.at));
    dd_wrench_add(load->hull, dd_scale(m->push, m->edge.w), m->edge.at);
    dd_wrench_add(load->hull, dd_scale(m->squash.energy, m->share_by_p), m->p);
    load->energy += m->share * m->squash.energy;
    load->heat -= (m->push - m->share * m->squash.elastic) * dd_dot(m->edge.w, u);
}

/* --- gradient --------------------------------------------------------------------------------------------------- */

static void add_moved(double wrench[6], dd_vec3 by, dd_vec3 force)
{
    dd_vec3 m = dd_cross(by, force);
    wrench[3] += m.x, wrench[4] += m.y, wrench[5] += m.z;
}

/* Change of the wrench by a move of the bar, a turn of its axle and a change of the twist. */
static void vary(const meeting *m, const surroundings *a, dd_vec3 dp, dd_vec3 da, dd_vec3 linear, dd_vec3 angular, double wrench[6])
{
    const dd_squash *e = &m->squash;
    const dd_keel_change c = dd_keel_change_by(&m->edge, dp, da);
    const dd_vec3 u = dd_add(a->linear, dd_cross(a->angular, m->edge.at));
    const dd_vec3 du = dd_add(dd_add(linear, dd_cross(angular, m->edge.at)), dd_cross(a->angular, c.at));
    const double rate = -dd_dot(c.w, u) - dd_dot(m->edge.w, du);
    const double push = dd_dot(m->share_by_p, dp) * e->elastic * e->factor +
                        m->share * (e->elastic_by_depth * c.depth * e->factor + e->elastic * e->factor_by_rate * rate);
    dd_wrench_add(wrench, dd_add(dd_scale(push, m->edge.w), dd_scale(m->push, c.w)), m->edge.at);
    add_moved(wrench, c.at, dd_scale(m->push, m->edge.w));
    dd_wrench_add(wrench, dd_add(dd_scale(e->elastic * c.depth, m->share_by_p), dd_scale(e->energy, share_turning(m, dp))), m->p);
    add_moved(wrench, dp, dd_scale(e->energy, m->share_by_p));
}

static void differentiate(const meeting *m, const surroundings *a, const dd_kinematics *k, dd_gradient *gradient)
{
    const dd_vec3 zero = {0, 0, 0};
    for (int j = 0; j < 6; j++) {
        const dd_vec3 e = dd_vec(j % 3 == 0, j % 3 == 1, j % 3 == 2);
        double moved[6] = {0}, faster[6] = {0};
        if ((k->leave_out & (1 << j)) != 0) continue;
        vary(m, a, j < 3 ? dd_scale(-1, e) : dd_cross(m->p, e), j < 3 ? zero : dd_cross(a->axle, e), zero, zero, moved);
        if (!k->at_rest) vary(m, a, zero, zero, j < 3 ? e : zero, j < 3 ? zero : e, faster);
        for (int i = 0; i < 6; i++) gradient->K[i][j] -= moved[i], gradient->D[i][j] -= faster[i];
    }
}

/* --- what is seen ------------------------------------------------------------------------------------------------ */

/* From the bar to the stem, the stem ending at its head; of a boat that lies across the trailer, from the bar's middle to the upright stem. */
static double gap_of(const bow_stop *stop, const surroundings *a, const meeting *m)
{
    const dd_vec3 p = m->p;
    dd_keel_contact c;
    if (m->met)
        c = m->edge;
    else if (!dd_stem_on_axle(stop->hull, &stop->stem, &stop->profile, p, a->axle, &c)) {
        const dd_vec3 stem = dd_vec(stop->stem.end, 0, fmin(stop->stem.head, fmax(stop->stem.foot_of_stem, p.z)));
        return dd_norm(dd_sub(stem, p)) - stop->profile.radius;
    }
    if (c.at.z <= stop->stem.head) return -c.depth;
    return hypot(c.at.x - p.x, stop->stem.head - p.z) - stop->profile.radius;
}

/* How far the bow has come past the stop: over it with the forefoot, the stem head under it, or the stem beside it. */
static double past(const bow_stop *stop, const dd_kinematics *k)
{
    const dd_vec3 middle = dd_vec(stop->stem.end, 0, stop->stem.foot_of_stem), top = dd_vec(stop->stem.end, 0, stop->stem.head);
    const dd_vec3 foot = dd_add(k->pose.position, dd_apply(&k->to_trailer, stop->forefoot));
    const dd_vec3 stem = dd_add(k->pose.position, dd_apply(&k->to_trailer, middle));
    const dd_vec3 head = dd_add(k->pose.position, dd_apply(&k->to_trailer, top));
    const double over = stop->face - foot.x, under = fmin(stop->bar[stop->count - 1].z - head.z - fade, stop->face - head.x);
    const double beside = fmin(fabs(stem.y) - stop->half_width - fade, stop->face - stem.x);
    return fmax(over, fmax(under, beside));
}

enum { LOAD, GAP, LIFT, PAST, CHANNELS };
static const dd_channel stop_channels[CHANNELS + 1] = {
    [LOAD] = {"stop_load_N", "N", "force of the bow stop on the stem, at right angles to it"},
    [GAP] = {"stop_gap_m", "m", "from the nearest place of the stem to the bow stop, negative: squash"},
    [LIFT] = {"stop_lift_N", "N", "part of that force that lifts the bow, at right angles to the trailer's bed"},
    [PAST] = {"stop_past_m", "m", "how far the bow is past its stop: over it, under it or beside it; negative: it stands in its way"},
};

static void look(const bow_stop *stop, const dd_kinematics *k, const surroundings *a, const meeting *bars, const dd_load *load, double *channels)
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
    const surroundings a = around(k);
    meeting bars[BARS];
    for (int i = 0; i < stop->count; i++) {
        meeting *m = &bars[i];
        if (!press(stop, &a, dd_apply_transposed(&k->to_trailer, dd_sub(stop->bar[i], k->pose.position)), m)) continue;
        add_meeting(m, &a, load);
        if (gradient) differentiate(m, &a, k, gradient);
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
    bow_stop s = {.hull = model->hull,
                  .stem = dd_hull_stem_line(model->hull),
                  .profile = {radius, 0, given->half_width, given->hollow},
                  .face = given->behind_coupling,
                  .damping = damping,
                  .half_width = given->half_width};
    s.count = reach > 0.01 * radius ? (int)fmin(BARS, 2 + floor(2 * reach / radius - 1e-6)) : 1;
    for (int i = 0; i < s.count; i++)
        s.bar[i] = dd_vec(s.face - radius, 0, s.count > 1 ? height + reach - 2 * reach * i / (s.count - 1) : height);
    s.stiffness = dd_squash_stiffness(given->rated_load, given->squash_at_rated_load) / s.count;
    double x = s.stem.turn;
    for (int i = 1; i <= PLACES && dd_hull_keel(model->hull, x).zx > steep; i++)
        x = s.stem.turn + (s.stem.first - s.stem.turn) * i / PLACES;
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
    const dd_line_place place = dd_hull_on_stem_line(stop->hull, &stop->stem, s);
    const dd_vec3 tangent = dd_apply(turn, place.tangent), k = dd_add(pose->position, dd_apply(turn, place.at));
    const double aft = tangent.z / hypot(tangent.x, tangent.z), down = -tangent.x / hypot(tangent.x, tangent.z), radius = stop->profile.radius;
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
    const double low = stop->stem.first, high = dd_hull_stem_line_at_height(&stop->stem, stop->stem.head);
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
    const dd_line_place place = dd_hull_on_stem_line(stop->hull, &stop->stem, s);
    const double length = dd_norm(place.tangent), off = stop->profile.radius - depth;
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
        const double head = dd_hull_stem_line_at_height(&stop->stem, stop->stem.head);                                         \
        draw(stop, model, bar, low, high, aside, depth, speed, uniform, random, pose, motion, commands);                       \
        (void)head;                                                                                                            \
    }
REGIME(draw_clear, 0, stop->stem.upright, head, 0, -0.3, 0.3)
REGIME(draw_on_stem, 0, stop->stem.upright + 0.005, head - 0.05, dd_draw(uniform, random, -0.03, 0.03), 0.01, 0.05)
REGIME(draw_on_slant, 0, stop->forefoot.x, stop->stem.turn - 0.02, dd_draw(uniform, random, -0.03, 0.03), 0.01, 0.05)
REGIME(draw_on_keel, 0, stop->stem.first + 0.1, stop->forefoot.x, dd_draw(uniform, random, -0.03, 0.03), 0.01, 0.05)
REGIME(draw_beside, 0, stop->stem.upright + 0.005, head - 0.05,
       (uniform(random) < 0.5 ? -1 : 1) * dd_draw(uniform, random, stop->half_width + 0.01, stop->half_width + fade - 0.01), 0.01, 0.05)
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
