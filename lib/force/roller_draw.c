/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Regimes of the rollers for the tests that walk the list of forces. */
#include "lib/force/contact.h"
#include "lib/force/draw.h"
#include "lib/force/roller.h"

/* First-order gap of a roller to the surface it would touch (0.1 m where there is none), times the slope's length. */
static double upright_gap(const dd_roller_instance *instance, const dd_pose *pose, int index, double *slope)
{
    const dd_roller *roller = &instance->rig->rollers[index];
    dd_mat3 turn = dd_rotation_of(pose->attitude);
    dd_vec3 p = dd_apply_transposed(&turn, dd_sub(roller->centre, pose->position));
    dd_bottom_point b = dd_surface_at(instance->hull, roller->keel ? 0 : p.y < 0 ? -1 : 1, p.x, p.y);
    *slope = sqrt(1 + b.zx * b.zx + b.zy * b.zy);
    return b.cover > 0 ? b.z - p.z - roller->radius * *slope : 0.1;
}

/* Height by which the hull must rise so that the roller it presses most is squashed by `depth`. */
static double rise(const dd_roller_instance *instance, const dd_pose *pose, double depth)
{
    double most = -INFINITY, slope;
    for (int i = 0; i < instance->rig->roller_count; i++) {
        double gap = upright_gap(instance, pose, i, &slope);
        most = fmax(most, -depth * slope - gap);
    }
    return most;
}

/* Differences cannot be taken across the touch of a roller. */
static int some_roller_just_touches(const dd_roller_instance *instance, const dd_pose *pose)
{
    double slope;
    for (int i = 0; i < instance->rig->roller_count; i++)
        if (fabs(upright_gap(instance, pose, i, &slope)) < 5e-5) return 1;
    return 0;
}

/* With depth_most negative the hull stands clear of every roller. */
static void draw(const dd_roller_instance *instance, const dd_model *model, double depth_least, double depth_most, double bend,
                 double speed, double (*uniform)(void *), void *random, dd_pose *pose, dd_motion *motion, double *memory,
                 dd_commands *commands)
{
    *commands = (dd_commands){0};
    for (int trial = 0; trial < 50; trial++) {
        dd_draw_near_home(model, 2, speed, uniform, random, pose, motion);
        pose->position.z += rise(instance, pose, dd_draw(uniform, random, depth_least, depth_most));
        if (!some_roller_just_touches(instance, pose)) break;
    }
    for (int i = 0; i < instance->rig->roller_count; i++) {
        const dd_roller *roller = &instance->rig->rollers[i];
        memory[2 * i] = dd_draw(uniform, random, -bend, bend) * roller->side_friction / instance->law.stiffness;
        memory[2 * i + 1] = dd_draw(uniform, random, -bend, bend) * roller->rolling_resistance / instance->law.stiffness;
    }
}

#define REGIME(function, depth_least, depth_most, bend, speed)                                                                 \
    static void function(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,  \
                         dd_motion *motion, double *memory, dd_commands *commands)                                             \
    {                                                                                                                          \
        draw(instance, model, depth_least, depth_most, bend, speed, uniform, random, pose, motion, memory, commands);          \
    }
/* The rise of a clear hull is taken from the roller that comes nearest, so -50 mm is clear of all. */
REGIME(draw_open, -0.2, -0.05, 1, 0.3)
REGIME(draw_touching, 3e-4, 2e-3, 0.5, 0.005)
REGIME(draw_pressed, 2e-3, 6e-3, 0.7, 0.02)
REGIME(draw_slipping, 1e-3, 5e-3, 1, 0.5)
#undef REGIME

const dd_regime dd_roller_regimes[] = {
    {"open", draw_open}, {"touching", draw_touching}, {"pressed", draw_pressed}, {"slipping", draw_slipping}, {NULL, NULL}};
