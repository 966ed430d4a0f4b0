/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strap from the winch to the bow eye.

   Its tension is that of lib/force/taut.h, with k = rigidity / (length out + length at home) and the damping time c / k,
   c = 2 zeta sqrt(k m) (m the hull's mass). The unstretched length let out is the strap's memory; the winch winds it.

   What the winch puts in comes out as negative heat, so that the ledger closes: the heat is the damping's less the
   winch's power. */
#include "lib/force/strap.h"
#include "lib/base/error.h"
#include "lib/force/draw.h"
#include "lib/force/taut.h"
#include <stdlib.h>

static const double shortest = 0.05;       /* the knot meets the drum, m */
static const double drag_rounding = 5.0;   /* N: of where the drum begins to run */
static const double stall_rounding = 0.02; /* share of the motor's speed */
static const double unrated_strap = 12000; /* N, working load of a strap whose rating is not known */

typedef struct coefficients {
    double strap_length;
} coefficients;

typedef struct strap {
    const dd_hull *hull;
    dd_vec3 drum; /* trailer frame */
    dd_winch_parameters winch;
    double whole_length, mass, stall; /* stall: pull at which a motor stands, N */
} strap;

typedef struct strap_state {
    dd_span span; /* from drum to eye */
    double stretch, stretch_rate, length_rate, length_rate_by_length, length_rate_by_distance, length_rate_by_tension;
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

double dd_strap_whole_length(const void *instance) { return ((const strap *)instance)->whole_length; }

/* --- tension ---------------------------------------------------------------------------------------------------- */

static void pull(const strap *s, strap_state *w)
{
    /* time = c / k */
    double time = 2 * s->winch.strap_damping_ratio * sqrt(s->mass / w->stiffness);
    double time_by_length = -0.5 * time * w->stiffness_by_length / w->stiffness;
    dd_taut t = dd_taut_at(w->stiffness, time, w->stretch, w->stretch_rate);
    if (t.elastic <= 0) return;
    w->energy = t.energy;
    /* length also shortens the stretch: the change at a fixed distance */
    w->energy_by_length = w->stiffness_by_length * t.integral - w->stiffness * t.stretch;
    w->elastic = t.elastic;
    w->factor = t.factor;
    w->tension = t.tension;
    w->tension_by_stretch = t.by_stretch;
    w->tension_by_rate = t.by_rate;
    w->tension_by_length = w->stiffness_by_length * t.stretch * t.factor + t.by_time * time_by_length;
}

/* Rate of the length let out, as the drum turns under the elastic tension: wound in, by a motor the slower the more it pulls,
   ending at the shortest length; or running free against its drag, ending when all is out. */
static void turn_drum(const strap *s, const dd_commands *commands, double length, strap_state *w)
{
    const dd_winch_parameters *winch = &s->winch;
    const double wound = s->whole_length - length;
    if (commands->free_spool) {
        const double lever = dd_winch_lever(winch, wound), drag = winch->drag_torque / lever,
                     damping = fmax(winch->drag_damping, 1);
        const double drag_by_length = drag / lever * dd_winch_lever_slope(winch, wound);
        const dd_smooth over = dd_smooth_positive(w->elastic - drag, drag_rounding), room = dd_smooth_step(wound / shortest);
        w->length_rate = over.value / damping * room.value;
        w->length_rate_by_tension = over.slope / damping * room.value;
        w->length_rate_by_length = (-over.slope * drag_by_length * room.value - over.value * room.slope / shortest) / damping;
        return;
    }
    const double speed = commands->wind_speed;
    const dd_smooth room = dd_smooth_step((length - shortest) / shortest);
    if (speed <= 0) {
        w->length_rate = -speed;
        return;
    }
    dd_smooth pace = {1, 0, 0};
    if (winch->drive == DD_DRIVE_ELECTRIC) {
        pace = dd_smooth_positive(1 - w->elastic / s->stall, stall_rounding);
        pace.slope /= -s->stall;
    }
    w->length_rate = -speed * pace.value * room.value;
    w->length_rate_by_tension = -speed * pace.slope * room.value;
    w->length_rate_by_length = -speed * pace.value * room.slope / shortest;
}

/* The tension's elastic part, which turns the drum, and its slopes by distance and by length. */
static void stretch_line(strap_state *w, double *by_distance, double *by_length)
{
    const dd_taut t = dd_taut_at(w->stiffness, 0, w->stretch, 0);
    w->elastic = t.elastic;
    *by_distance = t.by_stretch; /* without damping */
    *by_length = w->stiffness_by_length * t.stretch - t.by_stretch;
}

static void meet(const strap *s, const dd_kinematics *k, const dd_commands *commands, double length, strap_state *w)
{
    *w = (strap_state){.span = dd_span_of(k, dd_hull_bow_eye(s->hull), s->drum)};
    w->stretch = w->span.distance - length;
    double free_length = length + s->winch.strap_length_at_home, by_distance = 0, by_length = 0;
    w->stiffness = dd_strap_rigidity(&s->winch) / fmax(free_length, shortest);
    w->stiffness_by_length = free_length > shortest ? -w->stiffness / free_length : 0;
    if (commands->strap_hooked) stretch_line(w, &by_distance, &by_length);
    turn_drum(s, commands, length, w);
    w->length_rate_by_length += w->length_rate_by_tension * by_length;
    w->length_rate_by_distance = w->length_rate_by_tension * by_distance;
    w->stretch_rate = w->span.rate - w->length_rate;
    w->elastic = 0;
    if (commands->strap_hooked) pull(s, w);
}

/* --- gradient --------------------------------------------------------------------------------------------------- */

static void differentiate(const strap_state *w, dd_gradient *gradient, const dd_memory *memory)
{
    const double by_distance = w->tension_by_stretch - w->tension_by_rate * w->length_rate_by_distance;
    dd_span_gradient(&w->span, w->tension, by_distance, w->tension_by_rate, gradient);
    if (memory->load_by_value) {
        double by_length = w->tension_by_length - w->tension_by_stretch - w->tension_by_rate * w->length_rate_by_length;
        dd_span_pull(&w->span, by_length, memory->load_by_value[0]);
    }
}

/* A pull that is given: what it gives away as the eye comes nearer is its energy. */
static void hold_pull(strap_state *w, double pull, dd_load *load, dd_gradient *gradient)
{
    w->tension = pull;
    w->elastic = 0;
    dd_span_pull(&w->span, pull, load->hull);
    load->energy = pull * w->span.distance;
    if (gradient) dd_span_gradient(&w->span, pull, 0, 0, gradient);
}

/* --- the force -------------------------------------------------------------------------------------------------- */

enum { TENSION, LENGTH, HANDLE, ANGLE, WINCH_LOAD, CHANNELS };
static const dd_channel strap_channels[CHANNELS + 1] = {
    [TENSION] = {"strap_tension_N", "N", "tension of the strap"},
    [LENGTH] = {"strap_length_m", "m", "unstretched length of strap let out"},
    [HANDLE] = {"handle_force_N", "N", "force of the hand at the winch's handle while it winds; the ratchet holds otherwise"},
    [ANGLE] = {"strap_angle_deg", "deg", "of the strap against the trailer's level, eye above the drum positive"},
    [WINCH_LOAD] = {"winch_load", "", "share of the most that hand or motor can wind"},
};

static void fill_channels(const strap *s, const strap_state *w, const dd_kinematics *k, bool winding, double length,
                          double *channels)
{
    const double wound = s->whole_length - length;
    const bool hand = winding && s->winch.drive != DD_DRIVE_ELECTRIC;
    dd_vec3 line = dd_apply(&k->to_trailer, w->span.along);
    channels[TENSION] = w->tension;
    channels[LENGTH] = length;
    channels[HANDLE] = hand ? dd_winch_handle_force(&s->winch, w->tension, wound) : 0;
    channels[WINCH_LOAD] = winding ? dd_winch_load_share(&s->winch, w->tension, wound) : 0;
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
        if (memory->rate_by_value) memory->rate_by_value[0] = w.length_rate_by_length;
        if (memory->rate_by_pose) {
            const dd_vec3 turn = dd_cross(w.span.hull, w.span.along);
            const double column[6] = {w.span.along.x, w.span.along.y, w.span.along.z, turn.x, turn.y, turn.z};
            for (int j = 0; j < 6; j++) memory->rate_by_pose[0][j] = w.length_rate_by_distance * column[j];
        }
    }
    if (commands->strap_pull > 0) hold_pull(&w, commands->strap_pull, load, gradient);
    if (channels) fill_channels(s, &w, kinematics, commands->wind_speed > 0, length, channels);
    if (w.elastic <= 0) return;
    dd_span_pull(&w.span, w.tension, load->hull);
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
                    .mass = dd_hull_mass(model->hull)->mass,
                    .stall = winch->drive == DD_DRIVE_ELECTRIC ? dd_winch_stall_pull(winch) : INFINITY};
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
/* The eye runs off about as fast as the drum lets it: the length that gives that tension. */
static void draw_running(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                         dd_motion *motion, double *memory, dd_commands *commands)
{
    const strap *s = instance;
    dd_draw_near_home(model, 3, 0.2, uniform, random, pose, motion);
    for (int i = 0; i < DD_RIG_COORDINATES; i++) motion->rig[i] = 0; /* so that the hull's twist is that over the trailer */
    dd_kinematics k = {.pose = *pose, .to_trailer = dd_rotation_of(pose->attitude)};
    for (int i = 0; i < 6; i++) k.relative_twist[i] = motion->twist[i];
    dd_span span = dd_span_of(&k, dd_hull_bow_eye(s->hull), s->drum);
    /* fast, so that it lies beyond the corners of the drum's start, of the strap's toe and of the damping's clamp */
    const double more = fmax(0, 1.2 - span.rate);
    motion->twist[0] += more * span.along.x, motion->twist[1] += more * span.along.y, motion->twist[2] += more * span.along.z;
    const double rigidity = dd_strap_rigidity(&s->winch);
    const double drag = s->winch.drag_torque / dd_winch_lever(&s->winch, s->whole_length - span.distance);
    const double tension = drag + s->winch.drag_damping * (span.rate + more) * dd_draw(uniform, random, 0.998, 1.002);
    memory[0] = span.distance - tension * (span.distance + s->winch.strap_length_at_home) / (rigidity + tension);
    *commands = (dd_commands){.strap_hooked = 1, .free_spool = 1};
}
static void draw_unhooked(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                          dd_motion *motion, double *memory, dd_commands *commands)
{
    draw_taut(instance, model, uniform, random, pose, motion, memory, commands);
    commands->strap_hooked = 0;
}
static void draw_held(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                      dd_motion *motion, double *memory, dd_commands *commands)
{
    draw_unhooked(instance, model, uniform, random, pose, motion, memory, commands);
    commands->strap_pull = dd_draw(uniform, random, 50, 5000);
}
static const dd_regime regimes[] = {{"slack", draw_slack},   {"toe", draw_toe},           {"taut", draw_taut},
                                    {"snatch", draw_snatch}, {"running free", draw_running}, {"unhooked", draw_unhooked},
                                    {"held", draw_held},     {NULL, NULL}};

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
    .formula = "T = S(k s + c s') with s the stretch beyond the length let out, k = rigidity / (length out + length at home), c = 2 zeta sqrt(k m); it never pushes",
    .valid = "a straight strap without weight, elastic up to its rating",
    .covered_by = "tests/unit/force/test_strap.c",
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
