/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/force/water.h"
#include "lib/force/draw.h"

void dd_gradient_add_current(const dd_kinematics *k, dd_gradient *gradient)
{
    /* current in boat axes c; d(twist in water) = -c x dphi */
    dd_vec3 current = dd_vec(k->motion.twist[0] - k->twist_in_water[0], k->motion.twist[1] - k->twist_in_water[1],
                             k->motion.twist[2] - k->twist_in_water[2]);
    dd_mat3 turned = dd_cross_matrix(current);
    for (int i = 0; i < 6; i++)
        for (int j = 0; j < 3; j++)
            for (int l = 0; l < 3; l++)
                gradient->K[i][3 + j] -= gradient->D[i][l] * turned.m[l][j];
    if (!k->moving.present)
        return;
    /* and the water's velocity changes with the place: d(twist in water) = -to_boat d(velocity) */
    for (int j = 0; j < 6; j++) {
        dd_vec3 by = dd_apply_transposed(&k->to_world, dd_vec(k->moving.velocity_by[0][j], k->moving.velocity_by[1][j],
                                                              k->moving.velocity_by[2][j]));
        for (int i = 0; i < 6; i++)
            gradient->K[i][j] -= gradient->D[i][0] * by.x + gradient->D[i][1] * by.y + gradient->D[i][2] * by.z;
    }
}

void dd_keel_sum_stiffness(const dd_kinematics *k, const dd_keel_sum *sum, double gradient[6])
{
    dd_keel_sum_gradient(&k->waterplane, sum, gradient);
    if (!k->moving.present)
        return;
    const double *t = k->moving.tilt, tilt = sum->one * t[0] + sum->x * t[1] + sum->z * t[2];
    for (int j = 0; j < 6; j++)
        gradient[j] += tilt * k->moving.middle_by[j];
}

void dd_water_depth_stiffness(const dd_ramp *ramp, const dd_kinematics *k, double gradient[6])
{
    dd_water_depth_gradient(ramp, k, gradient);
    for (int j = 0; j < 6 && k->moving.present; j++)
        gradient[j] += k->moving.depth_tilt * k->moving.middle_by[j];
}

void dd_water_depth_gradient(const dd_ramp *ramp, const dd_kinematics *k, double gradient[6])
{
    double slope = ramp != NULL ? dd_ramp_at(ramp, k->origin.x).slope - k->moving.depth_slope : 0;
    for (int j = 0; j < 3; j++) {
        gradient[j] = -slope * k->to_world.m[0][j];
        gradient[3 + j] = 0;
    }
}

void dd_draw_afloat(const dd_model *model, double heel, double trim, double heading, double (*uniform)(void *), void *random,
                    dd_pose *pose, dd_motion *motion)
{
    *pose = (dd_pose){.rig = {dd_draw(uniform, random, -1, 3), 0, 0}};
    *motion = (dd_motion){{0}, {0}};
    /* About the boat's own axes, from lying straight (half a turn about Z). */
    double roll = dd_draw(uniform, random, -heel, heel), pitch = dd_draw(uniform, random, -trim, trim),
           yaw = dd_draw(uniform, random, -heading, heading);
    dd_quaternion q = {0, 0, 0, 1};
    q = dd_quaternion_multiply(q, (dd_quaternion){cos(yaw / 2), 0, 0, sin(yaw / 2)});
    q = dd_quaternion_multiply(q, (dd_quaternion){cos(pitch / 2), 0, sin(pitch / 2), 0});
    pose->attitude = dd_quaternion_multiply(q, (dd_quaternion){cos(roll / 2), sin(roll / 2), 0, 0});
    dd_strip middle = dd_strips_at(model->strips, dd_strips_count(model->strips) / 2);
    pose->position = dd_vec(dd_draw(uniform, random, 2, 8), dd_draw(uniform, random, -1, 1), 0);
    double depth = dd_draw(uniform, random, 0.1, 0.9) * (middle.sheer_height - middle.keel_height);
    dd_kinematics k;
    dd_kinematics_of(model, 0, pose, motion, &k);
    double lift = dd_keel_depth(&k.waterplane, middle.x, middle.keel_height) - depth;
    pose->position = dd_add(pose->position, dd_apply_transposed(&k.trailer_to_world, dd_vec(0, 0, lift)));
    for (int i = 0; i < 6; i++)
        motion->twist[i] = dd_draw(uniform, random, -0.5, 0.5);
}

static void draw_floating(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                          dd_motion *motion, double *memory, dd_commands *commands)
{
    (void)instance, (void)memory;
    *commands = (dd_commands){.push_force = dd_draw(uniform, random, 10, 200)};
    dd_draw_afloat(model, 0.35, 0.05, 3, uniform, random, pose, motion);
}

static void draw_ends_dry(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                          dd_motion *motion, double *memory, dd_commands *commands)
{
    (void)instance, (void)memory;
    *commands = (dd_commands){.push_force = dd_draw(uniform, random, 10, 200)};
    dd_draw_afloat(model, 0.8, 0.3, 3, uniform, random, pose, motion);
}

const dd_regime dd_water_regimes[] = {{"floating", draw_floating}, {"ends dry", draw_ends_dry}, {NULL, NULL}};
