/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Regimes of the rollers for the tests that walk the list of forces. */
#include "lib/force/contact.h"
#include "lib/force/draw.h"
#include "lib/force/roller.h"

/* First-order gap of a roller to the surface it would touch (0.1 m where there is none), times the slope's length. */
static double upright_gap(const dd_roller_instance *instance, const dd_pose *pose, const double *memory, int index, double *slope)
{
    const dd_roller *roller = &instance->rig->rollers[index];
    dd_mat3 turn = dd_rotation_of(pose->attitude);
    dd_vec3 centre, axis;
    dd_roller_stands(instance, index, memory, &centre, &axis);
    dd_vec3 p = dd_apply_transposed(&turn, dd_sub(centre, pose->position)), axle = dd_apply_transposed(&turn, axis);
    dd_bottom_point b = dd_surface_at(instance->hull, roller->keel ? 0 : p.y < 0 ? -1 : 1, p.x, p.y);
    double radius = roller->radius, height = p.z;
    if (roller->keel) {
        height -= p.y * axle.z / axle.y;
        if (roller->width > 0 && fabs(p.y) > 0.5 * roller->width + roller->profile_length) radius -= roller->bracket_drop;
    }
    *slope = sqrt(1 + b.zx * b.zx + b.zy * b.zy);
    return b.cover > 0 ? b.z - height - radius * *slope : 0.1;
}

/* Height by which the hull must rise so that the roller it presses most is squashed by `depth`. */
static double rise(const dd_roller_instance *instance, const dd_pose *pose, const double *memory, double depth)
{
    double most = -INFINITY, slope;
    for (int i = 0; i < instance->rig->roller_count; i++) {
        double gap = upright_gap(instance, pose, memory, i, &slope);
        most = fmax(most, -depth * slope - gap);
    }
    return most;
}

/* Differences cannot be taken across the touch of a roller. */
static int some_roller_just_touches(const dd_roller_instance *instance, const dd_pose *pose, const double *memory)
{
    double slope;
    for (int i = 0; i < instance->rig->roller_count; i++)
        if (fabs(upright_gap(instance, pose, memory, i, &slope)) < 5e-5) return 1;
    return 0;
}

typedef struct kind_of_state {
    double depth_least, depth_most; /* of the roller pressed most; negative: clear of all */
    double bend;                    /* of the bristles, share of their limit */
    double speed;
    double aside; /* of the hull, each way, m */
    int at_stop;  /* arms at or beyond a stop, else between them */
} kind_of_state;

static void draw_memory(const dd_roller_instance *instance, kind_of_state kind, double (*uniform)(void *), void *random,
                        double *memory)
{
    const dd_rig *rig = instance->rig;
    for (int i = 0; i < rig->roller_count; i++) {
        const dd_roller *roller = &rig->rollers[i];
        memory[2 * i] = dd_draw(uniform, random, -kind.bend, kind.bend) * roller->side_friction / instance->law.stiffness;
        memory[2 * i + 1] = dd_draw(uniform, random, -kind.bend, kind.bend) * roller->rolling_resistance / instance->law.stiffness;
    }
    for (int i = 0; i < rig->skid_count; i++)
        memory[dd_roller_wet_first(instance) + i] = dd_draw(uniform, random, 0, 1.2) * rig->skids[i].length;
    for (int i = 0; i < rig->arm_count; i++) {
        const dd_arm *arm = &rig->arms[i];
        double angle = dd_draw(uniform, random, 0.9 * arm->least, 0.9 * arm->most), beyond = dd_draw(uniform, random, 1e-4, 8e-4);
        if (kind.at_stop) angle = uniform(random) < 0.5 ? arm->least - beyond : arm->most + beyond;
        memory[dd_roller_arm_first(instance) + i] = angle;
    }
}

/* With depth_most negative the hull stands clear of every roller. */
static void draw(const dd_roller_instance *instance, const dd_model *model, kind_of_state kind, double (*uniform)(void *),
                 void *random, dd_pose *pose, dd_motion *motion, double *memory, dd_commands *commands)
{
    *commands = (dd_commands){0};
    for (int trial = 0; trial < 50; trial++) {
        dd_draw_near_home(model, 2, kind.speed, uniform, random, pose, motion);
        if (instance->rig->arm_count > 0) draw_memory(instance, kind, uniform, random, memory);
        if (kind.aside > 0) pose->position.y += dd_draw(uniform, random, -kind.aside, kind.aside);
        pose->position.z += rise(instance, pose, memory, dd_draw(uniform, random, kind.depth_least, kind.depth_most));
        if (!some_roller_just_touches(instance, pose, memory)) break;
    }
    if (instance->rig->arm_count == 0) draw_memory(instance, kind, uniform, random, memory);
}

/* The rearmost roller that is not under the keel, of a side drawn; -1: none. */
static int draw_roller(const dd_roller_instance *instance, double (*uniform)(void *), void *random)
{
    const int side = uniform(random) < 0.5 ? 1 : -1;
    int found = -1;
    for (int i = 0; i < instance->rig->roller_count; i++) {
        const dd_roller *roller = &instance->rig->rollers[i];
        if (roller->keel || (roller->side != 0 && roller->side != side)) continue;
        if (found < 0 || roller->centre.x > instance->rig->rollers[found].centre.x) found = i;
    }
    return found;
}

/* That roller met end-on: squashed by a few millimetres against the edge or one side of the stem. */
static void draw_end_on(const void *instance_, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                        dd_motion *motion, double *memory, dd_commands *commands)
{
    const dd_roller_instance *instance = instance_;
    double first, last;
    dd_hull_extent(instance->hull, &first, &last);
    const int index = draw_roller(instance, uniform, random);
    if (index < 0 || instance->stem.from >= last) { /* no such roller, or a bow as blunt as a transom */
        draw(instance, model, (kind_of_state){1e-3, 5e-3, 0.7, 0.05, 0, 0}, uniform, random, pose, motion, memory, commands);
        return;
    }
    *commands = (dd_commands){0};
    dd_draw_near_home(model, 2, 0.02, uniform, random, pose, motion);
    draw_memory(instance, (kind_of_state){.bend = 0.7}, uniform, random, memory);
    const double radius = instance->rig->rollers[index].radius, distance = radius - dd_draw(uniform, random, 5e-4, 6e-3);
    const double aside = dd_draw(uniform, random, -0.9, 0.9) * distance, s = sin(instance->stem.half_angle), c = cos(instance->stem.half_angle);
    const double x = dd_draw(uniform, random, fmax(first, instance->stem.from) + 0.02, last + 0.05);
    const dd_bottom_point keel = dd_hull_stem(instance->hull, x);
    double ahead = sqrt(distance * distance - aside * aside);
    if (fabs(aside) * s > ahead * c) ahead = (distance - fabs(aside) * c) / s; /* against its side */
    ahead /= sqrt(1 + keel.zx * keel.zx);
    dd_vec3 centre, axis, target = dd_vec(x + ahead * keel.zx, aside, keel.z - ahead);
    dd_roller_stands(instance, index, memory, &centre, &axis);
    dd_mat3 turn = dd_rotation_of(pose->attitude);
    pose->position = dd_sub(centre, dd_apply(&turn, target));
}

#define REGIME(function, ...)                                                                                                  \
    static void function(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,  \
                         dd_motion *motion, double *memory, dd_commands *commands)                                             \
    {                                                                                                                          \
        draw(instance, model, (kind_of_state){__VA_ARGS__}, uniform, random, pose, motion, memory, commands);                  \
    }
/* The rise of a clear hull is taken from the roller that comes nearest, so -50 mm is clear of all. */
REGIME(draw_open, -0.2, -0.05, 1, 0.3, 0, 0)
REGIME(draw_touching, 3e-4, 2e-3, 0.5, 0.005, 0, 0)
REGIME(draw_pressed, 2e-3, 6e-3, 0.7, 0.02, 0, 0)
REGIME(draw_slipping, 1e-3, 5e-3, 1, 0.5, 0, 0)
REGIME(draw_aside, 1e-3, 5e-3, 0.7, 0.05, 0.2, 0)
REGIME(draw_at_stop, 1e-3, 5e-3, 0.7, 0.05, 0, 1)
#undef REGIME

const dd_regime dd_roller_regimes[] = {{"open", draw_open},         {"touching", draw_touching},  {"pressed", draw_pressed},
                                       {"slipping", draw_slipping}, {"far aside", draw_aside},    {"at its stop", draw_at_stop},
                                       {"end-on", draw_end_on},     {NULL, NULL}};
