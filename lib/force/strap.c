/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strap from the winch to the bow eye.

   Tension T = T_s (1 + r), never negative: T_s = k S(x) with x the stretch, S a parabola over |x| < 0.5 mm and x beyond,
   k = rigidity / (length out + length at home); r = c x' g / T_s with c = 2 zeta sqrt(k m) (m the hull's mass) and g a
   smooth step over the same toe, so the damping acts only on a taut strap and starts with a finite share of T_s.
   The unstretched length let out is the strap's memory; the winch winds it.

   Energy k times the integral of S. What the winch puts in comes out as negative heat, so that the ledger closes: the
   heat is the damping's less the winch's power. */
#include "lib/force/strap.h"
#include "lib/base/error.h"
#include "lib/force/draw.h"
#include "lib/force/smooth.h"
#include <stdlib.h>

static const double toe = 5e-4;            /* half width, m */
static const double clamp_rounding = 0.2;  /* of the tension's clamp at zero, share of T_s */
static const double shortest = 0.05;       /* the knot meets the drum, m */
static const double unrated_strap = 12000; /* N, working load of a strap whose rating is not known */

typedef struct coefficients {
    double strap_length;
} coefficients;

typedef struct strap {
    const dd_hull *hull;
    dd_vec3 drum; /* trailer frame */
    dd_winch_parameters winch;
    double whole_length, mass;
} strap;

typedef struct strap_state {
    dd_vec3 eye, drum, along, linear, angular; /* boat axes; along: unit vector from drum to eye */
    double distance, stretch, stretch_rate, length_rate, length_rate_by_length;
    double stiffness, stiffness_by_length, energy, energy_by_length;
    double elastic, factor;                                                 /* T_s, 1 + r */
    double tension, tension_by_stretch, tension_by_rate, tension_by_length; /* at constant stretch and rate */
} strap_state;

double dd_strap_rigidity(const dd_winch_parameters *winch)
{
    return (isnan(winch->strap_rating) ? unrated_strap : winch->strap_rating) / winch->strap_stretch_at_rating;
}

double dd_strap_distance(const dd_model *model, const dd_pose *pose)
{
    const dd_trailer_parameters *trailer = &model->rig->trailer;
    dd_mat3 turn = dd_rotation_of(pose->attitude);
    dd_vec3 eye = dd_add(pose->position, dd_apply(&turn, dd_hull_bow_eye(model->hull)));
    return dd_norm(
        dd_sub(eye, dd_vec(trailer->winch.behind_coupling, 0, trailer->winch.above_ground - trailer->coupling_height)));
}

double dd_winch_lever(const dd_winch_parameters *winch, double wound)
{
    /* Layers of a spiral: pi (outer^2 - drum^2) = thickness x length. The first layer lies on the drum. */
    double t = winch->strap_thickness, r = winch->drum_radius;
    double outer = sqrt(r * r + t * fmax(wound, 0) / acos(-1.0));
    return fmax(outer, r + t) - 0.5 * t;
}

double dd_winch_handle_force(const dd_winch_parameters *winch, double tension, double wound)
{
    return tension * dd_winch_lever(winch, wound) / (winch->gear_ratio * winch->handle_length * winch->efficiency);
}

/* --- tension ---------------------------------------------------------------------------------------------------- */

/* g / S: share of the damping over the smooth stretch, and its slope. */
static dd_smooth damping_over_stretch(double x)
{
    if (x < toe) return (dd_smooth){(3 - (x + toe) / toe) / toe, -1 / (toe * toe), 0};
    return (dd_smooth){1 / x, -1 / (x * x), 0};
}

static void pull(const strap *s, strap_state *w)
{
    dd_smooth smooth = dd_smooth_positive(w->stretch, toe);
    if (smooth.value <= 0) return;
    double x = w->stretch;
    double integral = x < toe ? (x + toe) * (x + toe) * (x + toe) / (12 * toe) : 0.5 * x * x + toe * toe / 6;
    w->energy = w->stiffness * integral;
    /* length also shortens the stretch: the change at a fixed distance */
    w->energy_by_length = w->stiffness_by_length * integral - w->stiffness * smooth.value;
    w->elastic = w->stiffness * smooth.value;
    /* r = time x' g / S, time = c / k */
    double time = 2 * s->winch.strap_damping_ratio * sqrt(s->mass / w->stiffness);
    double time_by_length = -0.5 * time * w->stiffness_by_length / w->stiffness;
    dd_smooth share = damping_over_stretch(x);
    dd_smooth factor = dd_smooth_positive(1 + time * w->stretch_rate * share.value, clamp_rounding);
    w->factor = factor.value;
    w->tension = w->elastic * factor.value;
    w->tension_by_stretch =
        w->stiffness * smooth.slope * factor.value + w->elastic * factor.slope * time * w->stretch_rate * share.slope;
    w->tension_by_rate = w->elastic * factor.slope * time * share.value;
    w->tension_by_length = w->stiffness_by_length * smooth.value * factor.value +
                           w->elastic * factor.slope * time_by_length * w->stretch_rate * share.value;
}

/* Rate of the length let out: winding in stops at the shortest length. */
static void wind(double speed, double length, strap_state *w)
{
    dd_smooth room = dd_smooth_step((length - shortest) / shortest);
    int in = speed > 0;
    w->length_rate = in ? -speed * room.value : -speed;
    w->length_rate_by_length = in ? -speed * room.slope / shortest : 0;
}

static void meet(const strap *s, const dd_kinematics *k, const dd_commands *commands, double length, strap_state *w)
{
    const double *twist = k->relative_twist;
    *w = (strap_state){.eye = dd_hull_bow_eye(s->hull)};
    w->linear = dd_vec(twist[0], twist[1], twist[2]);
    w->angular = dd_vec(twist[3], twist[4], twist[5]);
    w->drum = dd_apply_transposed(&k->to_trailer, dd_sub(s->drum, k->pose.position));
    dd_vec3 line = dd_sub(w->eye, w->drum);
    w->distance = fmax(dd_norm(line), 1e-6); /* the eye on the drum: no direction */
    w->along = dd_scale(1 / w->distance, line);
    wind(commands->wind_speed, length, w);
    w->stretch = w->distance - length;
    w->stretch_rate = dd_dot(w->along, dd_add(w->linear, dd_cross(w->angular, w->eye))) - w->length_rate;
    double free_length = length + s->winch.strap_length_at_home;
    w->stiffness = dd_strap_rigidity(&s->winch) / fmax(free_length, shortest);
    w->stiffness_by_length = free_length > shortest ? -w->stiffness / free_length : 0;
    if (commands->strap_hooked) pull(s, w);
}

/* --- gradient --------------------------------------------------------------------------------------------------- */

/* Change of the force on the hull by a change of the drum's place and of the twist. */
static dd_vec3 vary(const strap_state *w, dd_vec3 drum, dd_vec3 linear, dd_vec3 angular)
{
    dd_vec3 line = dd_scale(-1, drum);
    double distance = dd_dot(w->along, line);
    dd_vec3 along = dd_scale(1 / w->distance, dd_sub(line, dd_scale(distance, w->along)));
    dd_vec3 u = dd_add(w->linear, dd_cross(w->angular, w->eye)), du = dd_add(linear, dd_cross(angular, w->eye));
    double rate = dd_dot(along, u) + dd_dot(w->along, du);
    double tension = w->tension_by_stretch * distance + w->tension_by_rate * rate;
    return dd_sub(dd_scale(-tension, w->along), dd_scale(w->tension, along));
}

static void differentiate(const strap_state *w, dd_gradient *gradient, const dd_memory *memory)
{
    const dd_vec3 zero = {0, 0, 0};
    for (int j = 0; j < 6; j++) {
        dd_vec3 e = dd_vec(j % 3 == 0, j % 3 == 1, j % 3 == 2);
        double moved[6] = {0}, faster[6] = {0};
        dd_wrench_add(moved, vary(w, j < 3 ? dd_scale(-1, e) : dd_cross(w->drum, e), zero, zero), w->eye);
        dd_wrench_add(faster, vary(w, zero, j < 3 ? e : zero, j < 3 ? zero : e), w->eye);
        for (int i = 0; i < 6; i++) {
            gradient->K[i][j] = -moved[i];
            gradient->D[i][j] = -faster[i];
        }
    }
    if (memory->load_by_value) {
        double by_length = w->tension_by_length - w->tension_by_stretch - w->tension_by_rate * w->length_rate_by_length;
        dd_wrench_add(memory->load_by_value[0], dd_scale(-by_length, w->along), w->eye);
    }
}

/* --- the force -------------------------------------------------------------------------------------------------- */

enum { TENSION, LENGTH, HANDLE, ANGLE, CHANNELS };
static const dd_channel strap_channels[CHANNELS + 1] = {
    [TENSION] = {"strap_tension_N", "N", "tension of the strap"},
    [LENGTH] = {"strap_length_m", "m", "unstretched length of strap let out"},
    [HANDLE] = {"handle_force_N", "N", "force at the winch's handle that winds this tension in"},
    [ANGLE] = {"strap_angle_deg", "deg", "of the strap against the trailer's level, eye above the drum positive"},
};

static void fill_channels(const strap *s, const strap_state *w, const dd_kinematics *k, double length, double *channels)
{
    dd_vec3 line = dd_apply(&k->to_trailer, w->along);
    channels[TENSION] = w->tension;
    channels[LENGTH] = length;
    channels[HANDLE] = dd_winch_handle_force(&s->winch, w->tension, s->whole_length - length);
    channels[ANGLE] = atan2(line.z, hypot(line.x, line.y)) * (180 / acos(-1.0));
}

static void evaluate(const void *instance, const dd_kinematics *kinematics, const dd_commands *commands,
                     const dd_memory *memory, dd_load *load, dd_gradient *gradient, double *channels)
{
    const strap *s = instance;
    strap_state w;
    double length = memory->value[0];
    meet(s, kinematics, commands, length, &w);
    memory->rate[0] = w.length_rate;
    if (gradient) {
        for (int j = 0; j < 6; j++) {
            if (memory->load_by_value) memory->load_by_value[0][j] = 0;
            if (memory->rate_by_twist) memory->rate_by_twist[0][j] = 0;
        }
        for (int c = 0; c < DD_RIG_COORDINATES; c++) {
            if (memory->rig_by_value) memory->rig_by_value[0][c] = 0;
            if (memory->rate_by_rig) memory->rate_by_rig[0][c] = 0;
        }
        if (memory->rate_by_value) memory->rate_by_value[0] = w.length_rate_by_length;
    }
    if (channels) fill_channels(s, &w, kinematics, length, channels);
    if (w.elastic <= 0) return;
    dd_wrench_add(load->hull, dd_scale(-w.tension, w.along), w.eye);
    load->energy = w.energy;
    /* power on hull and rig is -T distance'; with the stored energy's own change the rest is damping less the winch's work */
    double distance_rate = w.stretch_rate + w.length_rate;
    load->heat = (w.tension - w.elastic) * distance_rate - w.energy_by_length * w.length_rate;
    if (gradient) differentiate(&w, gradient, memory);
}

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    *instance = NULL;
    if (!model->hull || !model->rig) return DD_OK;
    const dd_trailer_parameters *trailer = &model->rig->trailer;
    const dd_winch_parameters *winch = &trailer->winch;
    if (isnan(winch->behind_coupling) || isnan(winch->above_ground)) return DD_OK; /* a trailer without a winch */
    if (!(winch->strap_stretch_at_rating > 0 && winch->strap_length_at_home >= 0 && winch->strap_damping_ratio >= 0))
        return dd_fail(error, DD_ERROR_ARGUMENT, "strap force",
                       "stretch at rating %g must be above 0, length at home %g m and damping ratio %g at least 0",
                       winch->strap_stretch_at_rating, winch->strap_length_at_home, winch->strap_damping_ratio);
    strap *made = malloc(sizeof *made);
    if (!made) return dd_fail(error, DD_ERROR_MEMORY, "strap force", "no memory for %zu bytes", sizeof *made);
    *made = (strap){.hull = model->hull,
                    .drum = dd_vec(winch->behind_coupling, 0, winch->above_ground - trailer->coupling_height),
                    .winch = *winch,
                    .whole_length = ((const coefficients *)parameters)->strap_length,
                    .mass = dd_hull_mass(model->hull)->mass};
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
    (void)instance, (void)index;
    return 1;
}

/* --- regimes ---------------------------------------------------------------------------------------------------- */

static void draw(const dd_model *model, double least, double most, double speed, double (*uniform)(void *), void *random,
                 dd_pose *pose, dd_motion *motion, double *memory, dd_commands *commands)
{
    dd_draw_near_home(model, 3, speed, uniform, random, pose, motion);
    memory[0] = dd_strap_distance(model, pose) - dd_draw(uniform, random, least, most);
    *commands = (dd_commands){.strap_hooked = 1, .wind_speed = dd_draw(uniform, random, -0.1, 0.1)};
}

#define REGIME(function, least, most, speed)                                                                                   \
    static void function(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,  \
                         dd_motion *motion, double *memory, dd_commands *commands)                                             \
    {                                                                                                                          \
        (void)instance;                                                                                                        \
        draw(model, least, most, speed, uniform, random, pose, motion, memory, commands);                                      \
    }
REGIME(draw_slack, -0.2, -0.002, 0.3)
REGIME(draw_toe, -0.0004, 0.0004, 0.02)
REGIME(draw_taut, 0.001, 0.05, 0.05)
REGIME(draw_snatch, 0.001, 0.05, 1)
#undef REGIME
static void draw_unhooked(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                          dd_motion *motion, double *memory, dd_commands *commands)
{
    draw_taut(instance, model, uniform, random, pose, motion, memory, commands);
    commands->strap_hooked = 0;
}
static const dd_regime regimes[] = {{"slack", draw_slack},   {"toe", draw_toe},           {"taut", draw_taut},
                                    {"snatch", draw_snatch}, {"unhooked", draw_unhooked}, {NULL, NULL}};

static const dd_key keys[] = {{.name = "strap length",
                               .type = DD_KEY_QUANTITY,
                               .dimension = DD_LENGTH,
                               .offset = offsetof(coefficients, strap_length),
                               .least = 0,
                               .most = 100,
                               .fallback = 7.5,
                               .source = "strap figures",
                               .help = "whole length of the winch's strap; what is not let out lies on the drum"},
                              {0}};
static const char *const sources[] = {"strap figures", "elementary mechanics", NULL};

const dd_force_kind dd_force_strap = {
    .name = "strap",
    .help = "strap from the winch to the bow eye: pulls only, stretches, is wound",
    .acts_on = DD_ACTS_BETWEEN,
    .passive = 0, /* the winch works */
    .parameters_size = sizeof(coefficients),
    .keys = keys,
    .sources = sources,
    .channels = strap_channels,
    .prepare = prepare,
    .free = free,
    .memory_count = memory_count,
    .memory_scale = memory_scale,
    .evaluate = evaluate,
    .regimes = regimes,
};
