/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The trailer's frame under keel and stem: the drawbar and the cross members.

   The drawbar runs along the middle from the coupling to the foremost support, as wide as it is given, its top in the plane Z = top of
   the trailer. Places of the keel line, closer than the forefoot bends, bear on it: d = top - Z of the place,
       energy share(X, Y) 2/5 k d^2.5,   force its gradient, N = share k d^1.5 (1 + c d') of it across the frame,
   share fading over the drawbar's sides and ends. So a keel slides along it without a step. The drawbar's end, the cross
   members that are given and one under each keel roller are bars that the line of keel and stem meets (bar.h).
   Friction by one pair of bristles for all of them (rub.h): a bow that comes down does so in one place. */
#include "lib/force/bar.h"
#include "lib/base/error.h"
#include "lib/force/draw.h"
#include "lib/force/rub.h"
#include <stdlib.h>

enum { PLACES = 32, PIECES = 4, BARS = DD_SUPPORTS + DD_CROSS_MEMBERS + 1 };
static const double spacing = 0.1;       /* of the places that are pressed in as deep as a bar under one load, m */
static const double edge_radius = 0.02;  /* of the bars, m */
static const double nearest_member = 0.1; /* a roller closer to a member than that stands on it, m */
static const double touching = 1e-4;     /* depth from which bristles are held, m */

typedef struct coefficients {
    dd_bristle_law law;
    double squash, damping, friction;
} coefficients;

typedef struct cross_member {
    double x, z, half_width; /* middle, trailer frame; m */
} cross_member;

typedef struct frame {
    dd_bars bars;
    coefficients by;
    double top, to, half_width, stiffness; /* drawbar: from the coupling to `to`, trailer frame, m, 0: none; of one place, N/m^1.5 */
    dd_vec3 place[PLACES];                 /* of the keel line from its end up to the stem, boat axes */
    double lowest[PIECES], highest;        /* of the keel line's pieces from the transom on, boat axes; of all tops, trailer frame */
    int count;
    cross_member member[BARS];             /* with a drawbar the first is its end */
} frame;

typedef struct contact {
    const struct meeting *all;
    dd_rub rub;
    double elastic; /* its load without damping, N */
    int bar;        /* which, or -1: a place on the drawbar */
    dd_smooth along, across;
    dd_squash squash;
} contact;

typedef struct meeting {
    const frame *f;
    dd_bar_frame around;
    dd_vec3 x, y, z; /* the trailer's axes, boat axes */
    int count;
    contact contacts[PLACES + BARS];
    dd_bar bars[BARS];
    double elastic, least;
} meeting;

static void press_place(const frame *f, const dd_kinematics *k, dd_vec3 h, meeting *m)
{
    const dd_vec3 t = dd_add(k->pose.position, dd_apply(&k->to_trailer, h));
    const double depth = f->top - t.z, half = 0.5 * f->to;
    if (!(depth > 0)) return;
    contact *c = &m->contacts[m->count];
    c->along = dd_smooth_fade(fabs(t.x - half) - half, t.x < half ? -1 : 1, dd_bar_fade);
    c->across = dd_smooth_fade(fabs(t.y) - f->half_width, t.y < 0 ? -1 : 1, dd_bar_fade);
    const double share = c->along.value * c->across.value;
    if (!(share > 0)) return;
    c->bar = -1;
    c->rub = (dd_rub){.point = h, .normal = m->z, .velocity = dd_add(m->around.linear, dd_cross(m->around.angular, h))};
    c->squash = dd_squash_at(f->stiffness, f->by.damping, depth, -dd_dot(m->z, c->rub.velocity));
    c->elastic = share * c->squash.elastic;
    c->rub.load = c->elastic * c->squash.factor;
    m->count++;
}

static void press_bar(const frame *f, const dd_kinematics *k, int index, meeting *m)
{
    const cross_member *member = &f->member[index];
    const dd_vec3 middle = dd_vec(member->x, 0, member->z), p = dd_apply_transposed(&k->to_trailer, dd_sub(middle, k->pose.position));
    const double leans = fabs(m->around.axle.z) * fabs(p.y) / fmax(fabs(m->around.axle.y), 0.3);
    dd_bar *b = &m->bars[index];
    double least = f->lowest[0];
    for (int i = 1; i < PIECES; i++) least = fmin(least, f->lowest[i]);
    if (p.z + leans + edge_radius < least || !dd_bar_press(&f->bars, &m->around, member->half_width, p, b)) return;
    contact *c = &m->contacts[m->count++];
    c->bar = index;
    c->elastic = b->share * b->squash.elastic;
    c->rub = (dd_rub){.point = b->edge.at, .normal = b->edge.w, .load = b->push,
                      .velocity = dd_add(m->around.linear, dd_cross(m->around.angular, b->edge.at))};
}

/* The whole keel line lies over the frame, for sure. */
static bool is_over(const frame *f, const dd_kinematics *k)
{
    const double *up = k->to_trailer.m[2], first = f->bars.stem.first, piece = (f->bars.stem.end - first) / PIECES;
    if (!(up[2] > 0)) return false;
    for (int i = 0; i < PIECES; i++)
        if (k->pose.position.z + up[2] * f->lowest[i] + up[0] * (first + piece * (up[0] < 0 ? i + 1 : i)) <= f->highest) return false;
    return true;
}

static void meet(const frame *f, const dd_kinematics *k, const double value[DD_RUB_WAYS], meeting *m)
{
    m->count = 0;
    if (is_over(f, k)) return;
    const double(*row)[3] = k->to_trailer.m;
    m->f = f;
    m->around = dd_bar_frame_of(k);
    m->x = dd_vec(row[0][0], row[0][1], row[0][2]);
    m->y = dd_vec(row[1][0], row[1][1], row[1][2]);
    m->z = dd_vec(row[2][0], row[2][1], row[2][2]);
    for (int i = 0; i < PLACES && f->to > 0; i++) press_place(f, k, f->place[i], m);
    for (int i = 0; i < f->count; i++) press_bar(f, k, i, m);
    m->elastic = 0;
    m->least = f->bars.stiffness * touching * sqrt(touching);
    for (int i = 0; i < m->count; i++) m->elastic += m->contacts[i].elastic;
    for (int i = 0; i < m->count; i++) {
        contact *c = &m->contacts[i];
        c->all = m;
        dd_rub_at(&c->rub, &f->by.law, f->by.friction, value,
                  m->elastic > 0 ? dd_smooth_step(m->elastic / m->least).value * c->elastic / m->elastic : 0);
    }
}

/* --- gradient ---------------------------------------------------------------------------------------------------- */

/* Where a place of the hull goes in the trailer by a unit displacement j. */
static dd_vec3 shift_of(const meeting *m, dd_vec3 point, int j)
{
    const dd_vec3 e = dd_vec(j % 3 == 0, j % 3 == 1, j % 3 == 2), shift = j < 3 ? e : dd_cross(e, point);
    return dd_vec(dd_dot(m->x, shift), dd_dot(m->y, shift), dd_dot(m->z, shift));
}

static double elastic_change(const contact *c, int j)
{
    double unused[6] = {0};
    if (c->bar >= 0) return dd_bar_vary(&c->all->bars[c->bar], &c->all->around, j, true, unused).elastic;
    const dd_vec3 t = shift_of(c->all, c->rub.point, j);
    return (c->along.slope * t.x * c->across.value + c->along.value * c->across.slope * t.y) * c->squash.elastic -
           c->along.value * c->across.value * c->squash.elastic_by_depth * t.z;
}

/* Of the sides of the drawbar and its ends: -energy d(share)/d(place). */
static dd_vec3 share_force(const contact *c)
{
    const meeting *m = c->all;
    return dd_scale(-c->squash.energy, dd_add(dd_scale(c->along.slope * c->across.value, m->x), dd_scale(c->along.value * c->across.slope, m->y)));
}

static dd_rub_change vary_place(const contact *c, int j, int moved, double wrench[6])
{
    const meeting *m = c->all;
    const dd_squash *s = &c->squash;
    const dd_vec3 e = dd_vec(j % 3 == 0, j % 3 == 1, j % 3 == 2), zero = {0, 0, 0};
    const dd_smooth *a = &c->along, *b = &c->across;
    dd_rub_change d = {.load = 0};
    dd_vec3 t = zero, force = zero;
    if (moved) {
        t = shift_of(m, c->rub.point, j);
        if (j >= 3) d.normal = dd_cross(m->z, e);
    } else
        d.velocity = j < 3 ? e : dd_cross(e, c->rub.point);
    const double shared = a->slope * t.x * b->value + a->value * b->slope * t.y;
    const double faster = -dd_dot(d.normal, c->rub.velocity) - dd_dot(m->z, d.velocity);
    d.load = (shared * s->elastic - a->value * b->value * s->elastic_by_depth * t.z) * s->factor +
             a->value * b->value * s->elastic * s->factor_by_rate * faster;
    force = dd_add(dd_scale(d.load, m->z), dd_scale(c->rub.load, d.normal));
    if (moved) {
        const double by_x = a->slope * b->value, by_y = a->value * b->slope;
        const double dx = a->curvature * t.x * b->value + a->slope * b->slope * t.y, dy = a->slope * t.x * b->slope + a->value * b->curvature * t.y;
        force = dd_add(force, dd_scale(s->elastic * t.z, dd_add(dd_scale(by_x, m->x), dd_scale(by_y, m->y))));
        force = dd_sub(force, dd_scale(s->energy, dd_add(dd_scale(dx, m->x), dd_scale(dy, m->y))));
        if (j >= 3) force = dd_add(force, dd_cross(share_force(c), e));
    }
    dd_wrench_add(wrench, force, c->rub.point);
    return d;
}

static void vary(const void *of, int j, int moved, double wrench[6], double rate[DD_RUB_WAYS])
{
    const contact *c = of;
    const meeting *m = c->all;
    dd_rub_change d = {.load = 0};
    if (c->bar >= 0) {
        const dd_bar_change b = dd_bar_vary(&m->bars[c->bar], &m->around, j, moved, wrench);
        d = (dd_rub_change){.point = b.at, .normal = b.w, .velocity = b.velocity, .load = b.push};
    } else
        d = vary_place(c, j, moved, wrench);
    dd_rub_vary(&c->rub, &d, wrench, rate);
    if (!moved) return;
    double sum = 0;
    for (int i = 0; i < m->count; i++) sum += elastic_change(&m->contacts[i], j);
    const double held = dd_smooth_share_change(m->elastic, m->least, c->elastic, sum, elastic_change(c, j));
    for (int b = 0; b < DD_RUB_WAYS; b++) rate[b] += c->rub.bristle[b].rate_by_contact * held;
}

/* --- the force --------------------------------------------------------------------------------------------------- */

enum { LOAD, FRICTION, GAP, CHANNELS };
static const dd_channel channels_of[CHANNELS + 1] = {
    [LOAD] = {"load_N", "N", "load of drawbar and cross members on keel and stem, all places"},
    [FRICTION] = {"friction_N", "N", "friction of the frame on the hull, all places together"},
    [GAP] = {"gap_m", "m", "keel line over the top of the drawbar where it is lowest, negative: the frame gives way; blank: none of it is over the drawbar"},
};

static double gap_of(const frame *f, const dd_kinematics *k)
{
    double least = INFINITY;
    for (int i = 0; i < PLACES && f->to > 0; i++) {
        const dd_vec3 t = dd_add(k->pose.position, dd_apply(&k->to_trailer, f->place[i]));
        if (t.x > 0 && t.x < f->to && fabs(t.y) < f->half_width) least = fmin(least, t.z - f->top);
    }
    if (!(f->to > 0)) return NAN;
    const dd_vec3 end = dd_apply_transposed(&k->to_trailer, dd_sub(dd_vec(f->member[0].x, 0, f->top), k->pose.position));
    if (end.x > f->bars.stem.first && end.x < f->bars.stem.turn && fabs(end.y) < f->member[0].half_width)
        least = fmin(least, (dd_hull_keel(f->bars.hull, end.x).z - end.z) * k->to_trailer.m[2][2]);
    return isfinite(least) ? least : NAN;
}

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)commands;
    const frame *f = instance;
    meeting m;
    dd_vec3 friction = dd_vec(0, 0, 0);
    double sum = 0;
    dd_bristles_release(DD_RUB_WAYS, memory->value, memory->rate, memory->rate_by_value);
    meet(f, k, memory->value, &m);
    for (int i = 0; i < m.count; i++) {
        const contact *c = &m.contacts[i];
        if (c->bar >= 0)
            dd_bar_add(&m.bars[c->bar], &m.around, load);
        else {
            dd_wrench_add(load->hull, dd_add(dd_scale(c->rub.load, m.z), share_force(c)), c->rub.point);
            load->energy += c->along.value * c->across.value * c->squash.energy;
            load->heat -= (c->rub.load - c->elastic) * dd_dot(m.z, c->rub.velocity);
        }
        dd_wrench_add(load->hull, c->rub.force, c->rub.point);
        load->heat -= dd_dot(c->rub.force, c->rub.velocity);
        for (int b = 0; b < DD_RUB_WAYS; b++) memory->rate[b] += c->rub.bristle[b].rate + DD_BRISTLE_RELEASE * memory->value[b];
        if (gradient) dd_rub_differentiate(&c->rub, vary, c, 0, gradient, memory);
        friction = dd_add(friction, c->rub.force);
        sum += c->rub.load;
    }
    if (channels == NULL) return;
    channels[LOAD] = sum;
    channels[FRICTION] = dd_norm(friction);
    channels[GAP] = gap_of(f, k);
}

/* --- made from the trailer --------------------------------------------------------------------------------------- */

/* Top of a keel roller, trailer frame. */
static double keel_height(const dd_rig *rig, int support)
{
    for (int i = 0; i < rig->roller_count; i++)
        if (rig->rollers[i].support == support) return rig->rollers[i].centre.z + rig->rollers[i].radius;
    return NAN;
}

static void add_member(frame *f, double x, double top, double half_width)
{
    f->member[f->count++] = (cross_member){x, top - edge_radius, half_width};
    f->highest = fmax(f->highest, top);
}

static void add_under_roller(frame *f, double x, double half_width)
{
    for (int i = 0; i < f->count; i++)
        if (fabs(f->member[i].x - x) < nearest_member) {
            f->member[i].half_width = fmax(f->member[i].half_width, half_width);
            return;
        }
    add_member(f, x, f->top, half_width);
}

static void set_members(const dd_rig *rig, frame *f)
{
    const dd_trailer_parameters *t = &rig->trailer;
    const double between_wheels = 0.5 * fmax(0, t->track - t->tyre_width);
    f->top = t->frame_height - t->coupling_height;
    f->half_width = 0.5 * t->drawbar_width;
    f->highest = -INFINITY;
    if (!isnan(t->frame_height)) {
        f->to = t->axles[0].behind_coupling;
        for (int i = 0; i < rig->roller_count; i++) f->to = i == 0 ? rig->rollers[i].centre.x : fmin(f->to, rig->rollers[i].centre.x);
        f->to = fmax(0, f->to);
        add_member(f, f->to, f->top, f->half_width);
    }
    for (int i = 0; i < t->cross_member_count; i++) {
        const dd_cross_member *m = &t->cross_members[i];
        add_member(f, m->behind_coupling, m->above_ground - t->coupling_height, isnan(m->length) ? between_wheels : 0.5 * m->length);
    }
    for (int i = 0; i < t->support_count && !isnan(t->frame_height); i++)
        if (t->supports[i].kind == DD_SUPPORT_KEEL_ROLLER && keel_height(rig, i) > f->top)
            add_under_roller(f, t->supports[i].behind_coupling, between_wheels);
}

static void set_places(frame *f)
{
    enum { EACH = 10 };
    static const double between_them = 0.02; /* a keel may sag between two places looked at, m */
    const dd_stem_line *stem = &f->bars.stem;
    const double first = fmax(stem->first, stem->upright - f->to - 0.5);
    for (int i = 0; i < PLACES; i++)
        f->place[i] = dd_hull_on_stem_line(f->bars.hull, stem, first + (stem->upright - first) * i / (PLACES - 1)).at;
    for (int i = 0; i < PIECES; i++) f->lowest[i] = INFINITY;
    for (int i = 0; i <= EACH * PIECES; i++) {
        const double x = stem->first + (stem->end - stem->first) * i / (EACH * PIECES), z = dd_hull_keel(f->bars.hull, x).z - between_them;
        if (i < EACH * PIECES) f->lowest[i / EACH] = fmin(f->lowest[i / EACH], z);
        if (i > 0) f->lowest[(i - 1) / EACH] = fmin(f->lowest[(i - 1) / EACH], z);
    }
    f->stiffness = f->bars.stiffness * (stem->upright - first) / (PLACES - 1) / spacing;
}

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    *instance = NULL;
    if (!model->hull || !model->rig) return DD_OK;
    const dd_trailer_parameters *trailer = &model->rig->trailer;
    if (isnan(trailer->frame_height) && trailer->cross_member_count == 0) return DD_OK;
    const coefficients *by = parameters;
    frame *made = calloc(1, sizeof *made);
    if (!made) return dd_fail(error, DD_ERROR_MEMORY, "bow on frame force", "no memory for %zu bytes", sizeof *made);
    const double weight = dd_hull_mass(model->hull)->mass * DD_STANDARD_GRAVITY;
    made->by = *by;
    made->bars = (dd_bars){.hull = model->hull,
                           .stem = dd_hull_stem_line(model->hull),
                           .profile = {.radius = edge_radius},
                           .stiffness = by->squash > 0 ? dd_squash_stiffness(weight, by->squash) : 0,
                           .damping = by->damping};
    if (by->law.stiffness <= 0) made->by.friction = 0;
    set_members(model->rig, made);
    set_places(made);
    *instance = made;
    return DD_OK;
}

static int memory_count(const void *instance)
{
    (void)instance;
    return DD_RUB_WAYS;
}
static double memory_scale(const void *instance, int index)
{
    (void)index;
    const coefficients *by = &((const frame *)instance)->by;
    return fmax(by->friction, 0.01) / fmax(by->law.stiffness, 1);
}

/* --- regimes ----------------------------------------------------------------------------------------------------- */

/* Differences cannot be taken across a touch. */
static bool just_touches(const frame *f, const dd_pose *pose)
{
    static const double near[2] = {-4e-5, 4e-5}, none[DD_RUB_WAYS] = {0, 0};
    const dd_kinematics k = {.pose = *pose, .to_trailer = dd_rotation_of(pose->attitude)};
    int count[2];
    for (int n = 0; n < 2; n++) {
        frame other = *f;
        meeting m;
        other.top += near[n], other.highest += near[n];
        for (int i = 0; i < other.count; i++) other.member[i].z += near[n];
        meet(&other, &k, none, &m);
        count[n] = m.count;
    }
    return count[0] != count[1];
}

/* Lifts or lowers the hull until what is pressed in deepest is `depth` deep, by halving. */
static void lay_down(const frame *f, double depth, dd_pose *pose)
{
    static const double none[DD_RUB_WAYS] = {0, 0};
    const dd_mat3 turn = dd_rotation_of(pose->attitude);
    const double from = pose->position.z;
    double high = 0.7, low = -0.7;
    for (int i = 0; i < 50; i++) {
        const double rise = 0.5 * (high + low);
        meeting m;
        double deepest = -1;
        pose->position.z = from + rise;
        const dd_kinematics k = {.pose = *pose, .to_trailer = turn};
        meet(f, &k, none, &m);
        for (const contact *c = m.contacts; c < m.contacts + m.count; c++)
            deepest = fmax(deepest, c->bar >= 0 ? m.bars[c->bar].edge.depth : f->top - dd_add(pose->position, dd_apply(&turn, c->rub.point)).z);
        *(deepest > depth ? &low : &high) = rise;
    }
}

/* bow: of the stem behind the coupling; aside: of the bow from the middle. */
static void draw(const frame *f, const dd_model *model, double bow, double aside, double trim, double depth, double speed,
                 double (*uniform)(void *), void *random, dd_pose *pose, dd_motion *motion, double *memory, dd_commands *commands)
{
    *commands = (dd_commands){0};
    for (int trial = 0; trial < 50; trial++) {
        dd_draw_near_home(model, 0.1, speed, uniform, random, pose, motion);
        pose->attitude = dd_quaternion_multiply((dd_quaternion){1, 0, 0.5 * (trim + dd_draw(uniform, random, -0.02, 0.02)), 0}, pose->attitude);
        const dd_mat3 turn = dd_rotation_of(pose->attitude);
        const dd_vec3 stem = dd_apply(&turn, f->place[PLACES - 1]);
        pose->position.x = bow + dd_draw(uniform, random, -0.1, 0.1) - stem.x;
        pose->position.y = aside * (uniform(random) < 0.5 ? -1 : 1) + dd_draw(uniform, random, -0.02, 0.02) - stem.y;
        lay_down(f, depth * dd_draw(uniform, random, 0.3, 1), pose);
        if (!just_touches(f, pose)) break;
    }
    const double limit = f->by.friction / fmax(f->by.law.stiffness, 1);
    for (int i = 0; i < DD_RUB_WAYS; i++) memory[i] = limit * dd_draw(uniform, random, -0.6, 0.6);
}

#define REGIME(function, bow, aside, trim, depth, speed)                                                                       \
    static void function(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,  \
                         dd_motion *motion, double *memory, dd_commands *commands)                                             \
    {                                                                                                                          \
        const frame *f = instance;                                                                                             \
        draw(f, model, bow, aside, trim, depth, speed, uniform, random, pose, motion, memory, commands);                       \
    }
REGIME(draw_on_drawbar, 0.4 * f->to, 0, 0.1, 0.008, 0.05)
REGIME(draw_on_its_side, 0.4 * f->to, f->half_width + 0.012, 0.1, 0.008, 0.05)
REGIME(draw_on_its_end, f->to - 0.3, 0, -0.1, 0.008, 0.05)
REGIME(draw_on_member, f->to + 0.3, 0.2, 0.05, 0.008, 0.05)
REGIME(draw_slipping, 0.4 * f->to, 0, 0.05, 0.006, 0.15)
#undef REGIME
static void draw_clear(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                       dd_motion *motion, double *memory, dd_commands *commands)
{
    const frame *f = instance;
    draw(f, model, 0.4 * f->to, 0, 0.1, 0.008, 0.3, uniform, random, pose, motion, memory, commands);
    pose->position.z += dd_draw(uniform, random, 0.03, 0.3);
}
static const dd_regime regimes[] = {{"clear", draw_clear},           {"on the drawbar", draw_on_drawbar}, {"on its side", draw_on_its_side},
                                    {"on its end", draw_on_its_end}, {"on a member", draw_on_member},     {"slipping", draw_slipping},
                                    {NULL, NULL}};

/* clang-format off */
static const dd_key keys[] = {
    DD_BRISTLE_KEYS(coefficients, law),
    {.name = "squash", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(coefficients, squash), .least = 1e-4,
     .most = 0.2, .fallback = 0.01, .source = "design memory", .unit = "mm",
     .help = "how far a cross member, or 0.1 m of the drawbar, is pressed in under the hull's whole weight"},
    {.name = "damping", .type = DD_KEY_QUANTITY, .dimension = DD_NUMBER, .offset = offsetof(coefficients, damping), .least = 0,
     .most = 100, .fallback = 6, .source = "contact damping figure", .help = "c of the contact force k d^1.5 (1 + c d'), in s/m"},
    {.name = "friction", .type = DD_KEY_QUANTITY, .dimension = DD_RATIO, .offset = offsetof(coefficients, friction), .least = 0,
     .most = 2, .fallback = 0.4, .source = "design memory", .help = "friction of keel and stem on the frame, share of its load"},
    {0}};
/* clang-format on */
static const char *const sources[] = {"design memory", "bristle figures", "elasto-plastic friction", "contact damping",
                                      "contact damping figure", "elementary mechanics", NULL};

const dd_force_kind dd_force_bow_on_frame = {
    .name = "bow on frame",
    .help = "the trailer's frame under keel and stem: drawbar and cross members, with friction",
    .formula = "places of the keel line on the drawbar, each share k d^1.5 (1 + c d') by the depth d under its top, and the line of keel and stem on a bar for each cross member; friction by a pair of bristles",
    .valid = "keel and stem alone: a bottom that comes down on the drawbar's edge beside the keel is not held; members under rollers as high as the frame",
    .covered_by = "tests/unit/force/test_bow_on_frame.c",
    .acts_on = DD_ACTS_BETWEEN,
    .passive = 0, /* bristles return energy that they took at a lighter load */
    .parameters_size = sizeof(coefficients),
    .keys = keys,
    .sources = sources,
    .channels = channels_of,
    .prepare = prepare,
    .free = free,
    .memory_count = memory_count,
    .memory_scale = memory_scale,
    .evaluate = evaluate,
    .regimes = regimes,
};
