/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/force/draw.h"

double dd_draw(double (*uniform)(void *), void *random, double least, double most)
{
    return least + (most - least) * uniform(random);
}

void dd_draw_eye_at(const dd_model *model, dd_vec3 in_trailer, dd_pose *pose)
{
    dd_mat3 turn = dd_rotation_of(pose->attitude);
    pose->position = dd_sub(in_trailer, dd_apply(&turn, dd_hull_bow_eye(model->hull)));
}

void dd_draw_near_home(const dd_model *model, double reach, double speed, double (*uniform)(void *), void *random,
                       dd_pose *pose, dd_motion *motion)
{
    *pose = (dd_pose){
        .rig = {dd_draw(uniform, random, -3, 3), dd_draw(uniform, random, -0.02, 0.02), dd_draw(uniform, random, 0, 0.15)}};
    *motion = (dd_motion){{0}, {0}};
    /* (0, 0, 0, 1) is a hull lying straight; each component is half a small angle */
    pose->attitude = (dd_quaternion){dd_draw(uniform, random, -0.02, 0.02), dd_draw(uniform, random, -0.02, 0.02),
                                     dd_draw(uniform, random, -0.02, 0.02), 1};
    const dd_trailer_parameters *trailer = &model->rig->trailer;
    dd_draw_eye_at(model,
                   dd_vec(trailer->bow_stop.behind_coupling + dd_draw(uniform, random, 0, reach),
                          dd_draw(uniform, random, -0.03, 0.03), trailer->bow_stop.above_ground - trailer->coupling_height),
                   pose);
    for (int i = 0; i < 6; i++) motion->twist[i] = dd_draw(uniform, random, -speed, speed);
    for (int i = 0; i < DD_RIG_COORDINATES; i++) motion->rig[i] = dd_draw(uniform, random, -0.3 * speed, 0.3 * speed);
}
