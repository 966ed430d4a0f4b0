/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pad on the winch post that the stem comes home to.

   The pad's face is the plane X = behind_coupling of the trailer frame, facing aft. The hull's contact point is the
   stem at the bow eye: a small boat's pad stands at its bow eye, and the stem is too blunt there for the eye's own
   length to matter. Squash d = pad X - point's X. Energy share(y, z) 2/5 k d^2.5; the force is its gradient, with the
   damping on its part along X. `share` fades beyond the pad's half height and half width. No friction. */
#include "lib/base/error.h"
#include "lib/force/contact.h"
#include "lib/force/draw.h"
#include "lib/force/smooth.h"
#include <stdlib.h>

static const double half_width = 0.2; /* m; wider than any stem is off centre and still home */
static const double fade = 0.03;      /* m, beyond the pad's edges */

typedef struct coefficients {
    double damping;
} coefficients;

typedef struct bow_stop {
    const dd_hull *hull;
    dd_vec3 pad; /* middle of the face, trailer frame */
    double stiffness, damping, half_height;
} bow_stop;

typedef struct stop_state {
    dd_vec3 eye, axis[3], linear, angular; /* trailer's axes in boat axes */
    double gap, share, over; /* over: height of the eye above the pad's upper edge */
    dd_smooth y, z; /* shares by y and z; slopes by the distance along the trailer's axes */
    dd_squash squash;
    double load;
} stop_state;

static dd_smooth edge(double distance, double half)
{
    dd_smooth s = dd_smooth_step(1 - (fabs(distance) - half) / fade);
    s.slope *= (distance < 0 ? 1 : -1) / fade;
    s.curvature /= fade * fade;
    return s;
}

static dd_vec3 velocity(const stop_state *s) { return dd_add(s->linear, dd_cross(s->angular, s->eye)); }

static void meet(const bow_stop *stop, const dd_kinematics *k, stop_state *s)
{
    const double *twist = k->relative_twist;
    s->eye = dd_hull_bow_eye(stop->hull);
    s->linear = dd_vec(twist[0], twist[1], twist[2]);
    s->angular = dd_vec(twist[3], twist[4], twist[5]);
    for (int i = 0; i < 3; i++) s->axis[i] = dd_vec(k->to_trailer.m[i][0], k->to_trailer.m[i][1], k->to_trailer.m[i][2]);
    dd_vec3 q = dd_sub(dd_add(k->pose.position, dd_apply(&k->to_trailer, s->eye)), stop->pad);
    s->gap = q.x;
    s->over = q.z - stop->half_height;
    s->y = edge(q.y, half_width);
    s->z = edge(q.z, stop->half_height);
    s->share = s->y.value * s->z.value;
    s->squash = dd_squash_at(stop->stiffness, stop->damping, -q.x, -dd_dot(s->axis[0], velocity(s)));
    s->load = s->share * s->squash.elastic * s->squash.factor;
}

static dd_vec3 force_of(const stop_state *s)
{
    const double e = s->squash.energy;
    return dd_add(dd_scale(s->load, s->axis[0]), dd_add(dd_scale(-e * s->y.slope * s->z.value, s->axis[1]),
                                                        dd_scale(-e * s->y.value * s->z.slope, s->axis[2])));
}

/* Change of the force by a turn of the hull, the eye's shift against the trailer (boat axes) and its velocity. A turn
   by dphi turns the trailer's axes by -dphi in boat axes, on top of what the shift says. */
static dd_vec3 vary(const stop_state *s, dd_vec3 turn, dd_vec3 shift, dd_vec3 faster)
{
    const dd_squash *q = &s->squash;
    double dx = dd_dot(s->axis[0], shift), dy = dd_dot(s->axis[1], shift), dz = dd_dot(s->axis[2], shift);
    dd_vec3 turned = dd_cross(s->axis[0], turn);
    double depth = -dx, rate = -dd_dot(turned, velocity(s)) - dd_dot(s->axis[0], faster);
    double share = s->y.slope * s->z.value * dy + s->y.value * s->z.slope * dz;
    double load = share * q->elastic * q->factor +
                  s->share * (q->elastic_by_depth * depth * q->factor + q->elastic * q->factor_by_rate * rate);
    double energy = q->elastic * depth;
    double force_y =
        -energy * s->y.slope * s->z.value - q->energy * (s->y.curvature * dy * s->z.value + s->y.slope * s->z.slope * dz);
    double force_z =
        -energy * s->y.value * s->z.slope - q->energy * (s->y.slope * dy * s->z.slope + s->y.value * s->z.curvature * dz);
    dd_vec3 d = dd_add(dd_scale(load, s->axis[0]), dd_add(dd_scale(force_y, s->axis[1]), dd_scale(force_z, s->axis[2])));
    return dd_add(d, dd_cross(force_of(s), turn));
}

static void differentiate(const stop_state *s, dd_gradient *gradient)
{
    const dd_vec3 zero = {0, 0, 0};
    for (int j = 0; j < 6; j++) {
        dd_vec3 e = dd_vec(j % 3 == 0, j % 3 == 1, j % 3 == 2);
        dd_vec3 shift = j < 3 ? e : dd_cross(e, s->eye);
        double moved[6] = {0}, faster[6] = {0};
        dd_wrench_add(moved, vary(s, j < 3 ? zero : e, shift, zero), s->eye);
        dd_wrench_add(faster, vary(s, zero, zero, shift), s->eye);
        for (int i = 0; i < 6; i++) {
            gradient->K[i][j] = -moved[i];
            gradient->D[i][j] = -faster[i];
        }
    }
}

static void evaluate(const void *instance, const dd_kinematics *kinematics, const dd_commands *commands,
                     const dd_memory *memory, dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)commands, (void)memory;
    stop_state s;
    meet(instance, kinematics, &s);
    if (channels) {
        channels[0] = s.load;
        channels[1] = s.gap;
        channels[2] = s.over;
    }
    if (s.gap >= 0 || s.share <= 0) return;
    dd_wrench_add(load->hull, force_of(&s), s.eye);
    load->energy = s.share * s.squash.energy;
    load->heat = -(s.load - s.share * s.squash.elastic) * dd_dot(s.axis[0], velocity(&s));
    if (gradient) differentiate(&s, gradient);
}

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    *instance = NULL;
    if (!model->hull || !model->rig) return DD_OK;
    const dd_trailer_parameters *trailer = &model->rig->trailer;
    const dd_bow_stop_parameters *given = &trailer->bow_stop;
    if (isnan(given->behind_coupling) || isnan(given->above_ground)) return DD_OK; /* a trailer without a bow stop */
    if (!(given->rated_load > 0 && given->squash_at_rated_load > 0 && given->half_height > 0))
        return dd_fail(error, DD_ERROR_ARGUMENT, "bow stop force",
                       "rated load %g N, squash %g m and half height %g m must be above 0", given->rated_load,
                       given->squash_at_rated_load, given->half_height);
    bow_stop *made = malloc(sizeof *made);
    if (!made) return dd_fail(error, DD_ERROR_MEMORY, "bow stop force", "no memory for %zu bytes", sizeof *made);
    *made = (bow_stop){.hull = model->hull,
                       .pad = dd_vec(given->behind_coupling, 0, given->above_ground - trailer->coupling_height),
                       .stiffness = dd_squash_stiffness(given->rated_load, given->squash_at_rated_load),
                       .damping = ((const coefficients *)parameters)->damping,
                       .half_height = given->half_height};
    *instance = made;
    return DD_OK;
}

/* --- regimes ---------------------------------------------------------------------------------------------------- */

static void draw(const dd_model *model, dd_vec3 least, dd_vec3 most, double speed, double (*uniform)(void *), void *random,
                 dd_pose *pose, dd_motion *motion, dd_commands *commands)
{
    const dd_trailer_parameters *trailer = &model->rig->trailer;
    *commands = (dd_commands){0};
    dd_draw_near_home(model, 0.1, speed, uniform, random, pose, motion);
    dd_vec3 off = dd_vec(dd_draw(uniform, random, least.x, most.x), dd_draw(uniform, random, least.y, most.y),
                         dd_draw(uniform, random, least.z, most.z));
    dd_vec3 pad = dd_vec(trailer->bow_stop.behind_coupling, 0, trailer->bow_stop.above_ground - trailer->coupling_height);
    dd_draw_eye_at(model, dd_add(pad, off), pose);
}

#define REGIME(function, least, most, speed)                                                                                   \
    static void function(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,  \
                         dd_motion *motion, double *memory, dd_commands *commands)                                             \
    {                                                                                                                          \
        (void)memory;                                                                                                          \
        const double half = ((const bow_stop *)instance)->half_height;                                                         \
        (void)half;                                                                                                            \
        draw(model, least, most, speed, uniform, random, pose, motion, commands);                                              \
    }
REGIME(draw_clear, dd_vec(0.01, -0.1, -0.1), dd_vec(0.5, 0.1, 0.1), 0.3)
REGIME(draw_pressed, dd_vec(-0.01, -0.1, -0.8 * half), dd_vec(-0.0005, 0.1, 0.8 * half), 0.05)
REGIME(draw_edge, dd_vec(-0.01, -half_width, half + 0.002), dd_vec(-0.0005, half_width, half + fade - 0.002), 0.05)
#undef REGIME
static const dd_regime regimes[] = {{"clear", draw_clear}, {"pressed", draw_pressed}, {"edge", draw_edge}, {NULL, NULL}};

static const dd_key keys[] = {{.name = "damping",
                               .type = DD_KEY_QUANTITY,
                               .dimension = DD_NUMBER,
                               .offset = offsetof(coefficients, damping),
                               .least = 0,
                               .most = 100,
                               .fallback = 6,
                               .source = "contact damping figure",
                               .help = "c of the pad's force k d^1.5 (1 + c d'), in s/m"},
                              {0}};
static const char *const sources[] = {"contact damping", "contact damping figure", "elementary mechanics", NULL};
static const dd_channel stop_channels[] = {
    {"stop_load_N", "N", "force of the bow stop on the stem, aft along the trailer"},
    {"stop_gap_m", "m", "from the stem at the bow eye to the pad's face, negative: squash"},
    {"stop_eye_above_pad_m", "m", "bow eye above the pad's upper edge; positive with the gap negative: the bow has ridden over its stop"},
    {NULL, NULL, NULL}};

const dd_force_kind dd_force_bow_stop = {
    .name = "bow stop",
    .help = "pad on the winch post that the stem comes home to",
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
