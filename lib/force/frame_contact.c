/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The trailer's frame on the ground: at an edge when its wheels stand in a hole, at a crest, at the rear end in a hollow.

   The underside is a straight line from the drawbar to the rear end. It bears where the ground between lies highest against it:
   at the place G of the profile, convex there, that is parallel to it,
       depth d = (G - coupling) . n - b,   n its normal, b its height over the coupling;
   d changes with the pose as if G stood still. Where no such place lies under it, its ends bear: depth of each below the
   profile. Load
       N = k g(d) P(1 + beta d'),   g = w (u^3 - u^4/2) up to u = d/w = 1, d - w/2 beyond,   P: max(0, .), rounded,
   never a pull, and (N - k g) d' >= 0. Along the ground a bristle (bristle.h) with the friction of metal on it. */
#include "lib/force/axles.h"
#include "lib/force/bristle.h"
#include "lib/force/draw.h"
#include "lib/force/smooth.h"
#include "lib/base/error.h"
#include <stdlib.h>

enum { UNDER, FRONT, REAR, PLACES, SAMPLES = 24 }; /* where it can bear; where it is looked at first */
#define SETS_IN 0.002    /* w, m */
#define FIRST_SHARE 0.3  /* of the first axle's distance: where the underside begins */
#define STRAIGHT 1e-4    /* 1/m: ground less convex than that is no edge */

typedef struct frame_parameters {
    dd_bristle_law law;
    double stiffness, rebound, friction;
} frame_parameters;

typedef struct frame_instance {
    const dd_ramp *ramp;
    double first, last, above; /* underside behind the coupling, and over it, chassis frame, m */
    frame_parameters parameters;
} frame_instance;

/* clang-format off */
static const dd_key keys[] = {
    DD_BRISTLE_KEYS(frame_parameters, law),
    {.name = "stiffness", .type = DD_KEY_QUANTITY, .dimension = DD_STIFFNESS, .offset = offsetof(frame_parameters, stiffness),
     .least = 1e4, .most = 1e8, .fallback = 2e6, .source = "design memory", .help = "of frame and ground at one place"},
    {.name = "damping", .type = DD_KEY_QUANTITY, .dimension = DD_NUMBER, .offset = offsetof(frame_parameters, rebound),
     .least = 0, .most = 100, .fallback = 3, .source = "contact damping figure",
     .help = "beta of the contact force k d (1 + beta d'), in s/m"},
    {.name = "friction", .type = DD_KEY_QUANTITY, .dimension = DD_RATIO, .offset = offsetof(frame_parameters, friction),
     .least = 0, .most = 2, .fallback = 0.5, .source = "metal on concrete", .help = "of the frame on the ground"},
    {0}};
/* clang-format on */

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    *instance = NULL;
    if (model->rig == NULL || model->ramp == NULL || isnan(model->rig->trailer.frame_clearance)) return DD_OK;
    const dd_trailer_parameters *t = &model->rig->trailer;
    frame_instance *made = malloc(sizeof *made);
    if (made == NULL) return dd_fail(error, DD_ERROR_MEMORY, "frame contact", "no memory for the frame's contact");
    made->ramp = model->ramp;
    if (parameters != NULL) {
        made->parameters = *(const frame_parameters *)parameters;
    } else {
        dd_key_clear(keys, &made->parameters);
        dd_key_defaults(keys, &made->parameters);
    }
    made->first = FIRST_SHARE * t->axles[0].behind_coupling;
    made->last = t->rear_end_behind_coupling;
    made->above = t->frame_clearance - t->coupling_height;
    *instance = made;
    return DD_OK;
}

static int memory_count(const void *instance)
{
    (void)instance;
    return PLACES;
}

/* A place that bears: where, displacement of the frame there across and along the ground by each coordinate. */
typedef struct place {
    int index;
    dd_jet lift[DD_RIG_COORDINATES], along[DD_RIG_COORDINATES];
    dd_jet depth, depth_rate, load, slide;
    double elastic, energy;
} place;

/* Speeds from the displacements, and the load. */
static void press(const frame_instance *f, const dd_kinematics *k, place *p)
{
    p->depth_rate = p->slide = dd_jet_of(0);
    for (int i = 0; i < DD_RIG_COORDINATES; i++) {
        dd_jet rate = {k->motion.rig[i], {0}};
        rate.d[DD_JET_RATE + i] = 1;
        p->depth_rate = dd_jet_sub(p->depth_rate, dd_jet_mul(p->lift[i], rate));
        p->slide = dd_jet_add(p->slide, dd_jet_mul(p->along[i], rate));
    }
    const double stiffness = f->parameters.stiffness, beta = f->parameters.rebound, depth = p->depth.v;
    const bool in = depth >= SETS_IN;
    const double u = depth / SETS_IN, w2 = SETS_IN * SETS_IN;
    double g = in ? depth - SETS_IN / 2 : SETS_IN * u * u * u * (1 - u / 2), slope = in ? 1 : u * u * (3 - 2 * u);
    dd_smooth damped = dd_smooth_positive(1 + beta * p->depth_rate.v, 0.1);
    p->elastic = stiffness * g;
    p->energy = stiffness * (in ? (depth * depth - SETS_IN * depth + 0.3 * w2) / 2 : w2 * u * u * u * u * (0.25 - u / 10));
    p->load = dd_jet_apply2(p->depth, p->depth_rate, p->elastic * damped.value, stiffness * slope * damped.value,
                            p->elastic * damped.slope * beta);
}

/* Displacements of a point of the frame, `behind` and f->above from the coupling, across (normal) and along (tangent). */
static void set_columns(const dd_kinematics *k, dd_jet tangent_x, dd_jet tangent_z, dd_jet pitch_x, dd_jet pitch_z, place *p)
{
    const dd_vehicle_pose *v = &k->vehicle;
    dd_jet x[DD_RIG_COORDINATES], z[DD_RIG_COORDINATES];
    for (int i = 0; i < DD_RIG_COORDINATES; i++) x[i] = z[i] = dd_jet_of(0);
    x[DD_RIG_X] = (dd_jet){v->ball_x.x, {v->ball_xx.x}};
    z[DD_RIG_X] = (dd_jet){v->ball_x.z, {v->ball_xx.z}};
    z[DD_RIG_HEAVE].v = x[DD_RIG_REACH].v = 1;
    x[DD_RIG_PITCH] = pitch_x;
    z[DD_RIG_PITCH] = pitch_z;
    for (int i = 0; i < DD_RIG_COORDINATES; i++) {
        p->lift[i] = dd_jet_sub(dd_jet_mul(tangent_x, z[i]), dd_jet_mul(tangent_z, x[i]));
        p->along[i] = dd_jet_dot(tangent_x, x[i], tangent_z, z[i]);
    }
}

/* x of the profile where it is parallel to the underside between two places, its slope above the line's at the first and below
   it at the second: Newton's method, halving where that leaves the bracket. */
static double parallel(const dd_ramp *ramp, double slope, double before, double beyond, dd_ramp_point *at)
{
    double x = 0.5 * (before + beyond);
    for (int i = 0; i < 60; i++) {
        *at = dd_ramp_at(ramp, x);
        const double over = at->slope - slope;
        *(over > 0 ? &before : &beyond) = x;
        double next = at->curvature < 0 ? x - over / at->curvature : before - 1;
        if (!(next > before && next < beyond)) next = 0.5 * (before + beyond);
        if (fabs(next - x) <= 1e-14 * (1 + fabs(x))) break;
        x = next;
    }
    return x;
}

/* The ground under the line between its ends. *edge: there is such a place; false also where it does not reach the line. */
static bool touch_under(const frame_instance *f, const dd_kinematics *k, bool *edge, place *p)
{
    const double pitch = k->pose.rig[DD_RIG_PITCH], c = cos(pitch), s = sin(pitch), m = -s / c;
    const double origin_x = k->coupling.x + f->above * s, origin_z = k->coupling.z + f->above * c;
    double step = (f->last - f->first) * c / (SAMPLES - 1), start = origin_x + f->first * c, least = INFINITY;
    int lowest = 0;
    for (int i = 0; i < SAMPLES; i++) {
        const double x = start + step * i, gap = origin_z + m * (x - origin_x) - dd_ramp_at(f->ramp, x).z;
        if (gap < least) least = gap, lowest = i;
    }
    *edge = false;
    if (least > 0.5 || lowest == 0 || lowest == SAMPLES - 1) return false;
    dd_ramp_point ground;
    const double x = parallel(f->ramp, m, start + step * (lowest - 1), start + step * (lowest + 1), &ground);
    if (ground.curvature > -STRAIGHT || fabs(ground.slope - m) > 1e-9) return false;
    *edge = true;
    const double gx = x - k->coupling.x, gz = ground.z - k->coupling.z, depth = gx * s + gz * c - f->above, behind = gx * c - gz * s;
    if (depth <= 0) return false;
    p->index = UNDER;
    dd_jet tangent_x = {c, {0}}, tangent_z = {-s, {0}}, arm = {behind, {0}}, pitch_x, pitch_z;
    tangent_x.d[DD_RIG_PITCH] = -s;
    tangent_z.d[DD_RIG_PITCH] = -c;
    const dd_vehicle_pose *v = &k->vehicle;
    const double column_x[DD_RIG_COORDINATES] = {[DD_RIG_X] = v->ball_x.x, [DD_RIG_REACH] = 1},
                 column_z[DD_RIG_COORDINATES] = {[DD_RIG_X] = v->ball_x.z, [DD_RIG_HEAVE] = 1};
    p->depth = dd_jet_of(depth);
    for (int i = 0; i < DD_RIG_COORDINATES; i++) {
        p->depth.d[i] = -s * column_x[i] - c * column_z[i];
        arm.d[i] = -c * column_x[i] + s * column_z[i];
    }
    p->depth.d[DD_RIG_PITCH] = behind;
    arm.d[DD_RIG_PITCH] = -(depth + f->above) - 1 / (c * c * c * ground.curvature); /* G runs along as the line turns */
    /* turning moves the place by -arm n + above u, u the tangent and n = (-tangent_z, tangent_x) */
    pitch_x = dd_jet_add(dd_jet_mul(arm, tangent_z), dd_jet_scale(f->above, tangent_x));
    pitch_z = dd_jet_sub(dd_jet_scale(f->above, tangent_z), dd_jet_mul(arm, tangent_x));
    set_columns(k, tangent_x, tangent_z, pitch_x, pitch_z, p);
    press(f, k, p);
    return true;
}

/* An end below the profile. */
static bool touch_end(const frame_instance *f, const dd_kinematics *k, int index, place *p)
{
    dd_vec3 arm = dd_apply(&k->chassis_to_world, dd_vec(index == REAR ? f->last : f->first, 0, f->above)), at = dd_add(k->coupling, arm);
    dd_ramp_point ground = dd_ramp_at(f->ramp, at.x);
    if (at.z - ground.z > 0.05) return false; /* the closest point is nearer, but not so much */
    double foot = dd_ramp_foot(f->ramp, at.x, at.z, &ground), w = sqrt(1 + ground.slope * ground.slope);
    double tx = 1 / w, tz = ground.slope / w, depth = (at.x - foot) * tz - (at.z - ground.z) * tx;
    if (depth <= 0) return false;
    p->index = index;
    const dd_vehicle_pose *v = &k->vehicle;
    const double column_x[DD_RIG_COORDINATES] = {[DD_RIG_X] = v->ball_x.x, [DD_RIG_PITCH] = arm.z, [DD_RIG_REACH] = 1},
                 column_z[DD_RIG_COORDINATES] = {[DD_RIG_X] = v->ball_x.z, [DD_RIG_HEAVE] = 1, [DD_RIG_PITCH] = -arm.x};
    dd_jet foot_x = dd_jet_of(foot), pitch_x = {arm.z, {0}}, pitch_z = {-arm.x, {0}};
    pitch_x.d[DD_RIG_PITCH] = -arm.x;
    pitch_z.d[DD_RIG_PITCH] = -arm.z;
    p->depth = dd_jet_of(depth);
    for (int i = 0; i < DD_RIG_COORDINATES; i++) {
        foot_x.d[i] = (tx * column_x[i] + tz * column_z[i]) / (w * fmax(1 + ground.curvature / (w * w * w) * depth, 0.2));
        p->depth.d[i] = tz * column_x[i] - tx * column_z[i];
    }
    const double turn = ground.curvature / (w * w);
    set_columns(k, dd_jet_apply(foot_x, tx, -tz * turn), dd_jet_apply(foot_x, tz, tx * turn), pitch_x, pitch_z, p);
    press(f, k, p);
    return true;
}

enum { LOAD, FRICTION, CHANNELS };
static const dd_channel channels_of[] = {{"frame_load_N", "N", "load of the ground on the frame, all places"},
                                         {"frame_friction_N", "N", "friction of the ground on the frame along the path, > 0 seaward"},
                                         {0}};

/* Load, heat and memory of one place that bears. */
static void bear(const frame_instance *f, const place *p, const dd_memory *memory, dd_load *load, dd_gradient *gradient,
                 double *channels)
{
    const int i = p->index;
    dd_smooth contact = dd_smooth_step(p->depth.v / SETS_IN);
    dd_bristle b = dd_bristle_at(&f->parameters.law, f->parameters.friction, memory->value[i], p->slide.v, 0, contact.value);
    dd_jet drag = dd_jet_mul(p->load, dd_jet_apply(p->slide, -b.coefficient, -b.coefficient_by_speed));
    for (int c = 0; c < DD_RIG_COORDINATES; c++) {
        dd_jet_load(dd_jet_dot(p->load, p->lift[c], drag, p->along[c]), c, load, gradient);
        if (memory->rate_by_value == NULL) continue;
        memory->rig_by_value[i][c] = -p->load.v * b.coefficient_by_value * p->along[c].v;
        memory->rate_by_rig[i][c] = b.rate_by_speed * p->slide.d[DD_JET_RATE + c];
        if (memory->rate_by_place)
            memory->rate_by_place[i][c] = b.rate_by_speed * p->slide.d[c] + b.rate_by_contact * contact.slope / SETS_IN * p->depth.d[c];
    }
    load->energy += p->energy;
    load->heat += (p->load.v - p->elastic) * p->depth_rate.v - drag.v * p->slide.v;
    memory->rate[i] = b.rate;
    if (memory->rate_by_value != NULL) memory->rate_by_value[i] = b.rate_by_value;
    if (channels == NULL) return;
    channels[LOAD] += p->load.v;
    channels[FRICTION] += drag.v;
}

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)commands;
    const frame_instance *f = instance;
    place p;
    bool edge;
    dd_bristles_release(PLACES, memory->value, memory->rate, memory->rate_by_value);
    if (touch_under(f, k, &edge, &p)) bear(f, &p, memory, load, gradient, channels);
    for (int end = FRONT; end <= REAR && !edge; end++)
        if (touch_end(f, k, end, &p)) bear(f, &p, memory, load, gradient, channels);
}

static int touched_how(int index, const place *p) { return (p->depth.v >= SETS_IN ? 2 : 1) << 2 * index; }

/* Differences cannot be taken across the touch of a place, or across where it is set in. */
static bool just_touches(const frame_instance *f, const dd_model *model, const dd_pose *pose)
{
    static const double near[2] = {-4e-5, 4e-5};
    const dd_motion still = {{0}, {0}};
    int touched[2] = {0};
    for (int n = 0; n < 2; n++) {
        dd_pose other = *pose;
        dd_kinematics k;
        place p;
        bool edge;
        other.rig[DD_RIG_HEAVE] += near[n];
        dd_kinematics_of(model, 0, &other, &still, &k);
        if (touch_under(f, &k, &edge, &p)) touched[n] |= touched_how(UNDER, &p);
        for (int end = FRONT; end <= REAR && !edge; end++)
            if (touch_end(f, &k, end, &p)) touched[n] |= touched_how(end, &p);
    }
    return touched[0] != touched[1];
}

/* Turns the trailer down until its frame is `depth` deep in the ground, by halving. */
static void try_pressed(const frame_instance *f, const dd_model *model, double least_x, double most_x,
                        double (*uniform)(void *), void *random, dd_pose *pose, dd_motion *motion, double *memory)
{
    const double x = dd_draw(uniform, random, least_x, most_x), depth = dd_draw(uniform, random, 0.0005, 0.006);
    double heave = dd_draw(uniform, random, -0.03, 0.01), high = -0.3, low = 0.6;
    const dd_motion still = {{0}, {0}};
    for (int i = 0; i < 50; i++) {
        const double pitch = 0.5 * (high + low);
        dd_kinematics k;
        place p = {.depth = {0}};
        bool edge;
        *pose = (dd_pose){.rig = {x, heave, pitch}, .attitude = {0, 0, 0, 1}};
        dd_kinematics_of(model, 0, pose, &still, &k);
        bool deep = (touch_under(f, &k, &edge, &p) || (!edge && touch_end(f, &k, REAR, &p))) && p.depth.v > depth;
        *(deep ? &low : &high) = pitch;
    }
    *motion = (dd_motion){{dd_draw(uniform, random, -0.5, 0.5), dd_draw(uniform, random, -0.05, 0.05),
                           dd_draw(uniform, random, -0.02, 0.02)},
                          {0}};
    const double limit = f->parameters.law.stiffness > 0 ? f->parameters.friction / f->parameters.law.stiffness : 0;
    for (int i = 0; i < PLACES; i++) memory[i] = limit * dd_draw(uniform, random, -0.95, 0.95);
}

static void draw_pressed(const frame_instance *f, const dd_model *model, double least_x, double most_x,
                         double (*uniform)(void *), void *random, dd_pose *pose, dd_motion *motion, double *memory)
{
    for (int trial = 0; trial < 50; trial++) {
        try_pressed(f, model, least_x, most_x, uniform, random, pose, motion, memory);
        if (!just_touches(f, model, pose)) break;
    }
}

static void draw_aground(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                         dd_motion *motion, double *memory, dd_commands *commands)
{
    *commands = (dd_commands){0};
    draw_pressed(instance, model, 4, 10, uniform, random, pose, motion, memory);
}

/* The crest of the ramp, at x = 0, somewhere under the frame. */
static void draw_over_the_crest(const void *instance, const dd_model *model, double (*uniform)(void *), void *random,
                                dd_pose *pose, dd_motion *motion, double *memory, dd_commands *commands)
{
    *commands = (dd_commands){0};
    draw_pressed(instance, model, -4.5, -3.5, uniform, random, pose, motion, memory);
}

static const dd_regime regimes[] = {{"aground", draw_aground}, {"over the crest", draw_over_the_crest}, {0}};
static const char *const sources[] = {"elementary mechanics", "elasto-plastic friction", "metal on concrete", NULL};

const dd_force_kind dd_force_frame_contact = {.name = "frame contact",
                                              .help = "the trailer's frame on the ground",
                                              .formula = "N = k g(d) P(1 + beta d') at the place of the ground that is parallel to the underside or at its ends; friction by a bristle",
                                              .valid = "a straight underside from drawbar to rear end",
                                              .covered_by = "tests/unit/force/test_rig_run.c",
                                              .acts_on = DD_ACTS_ON_RIG,
                                              .passive = 0, /* bristles give back what little they store */
                                              .parameters_size = sizeof(frame_parameters),
                                              .keys = keys,
                                              .sources = sources,
                                              .channels = channels_of,
                                              .prepare = prepare,
                                              .free = free,
                                              .memory_count = memory_count,
                                              .evaluate = evaluate,
                                              .regimes = regimes};
