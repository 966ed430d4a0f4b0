/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/state/kinematics.h"
#include "lib/shore/shore.h"

/* vehicle: where it is known that it stands; NULL: to be found. */
static void place_rig(const dd_model *model, const dd_vehicle_pose *vehicle, dd_kinematics *k)
{
    k->coupling = k->hinge = k->bed = dd_vec(0, 0, 0);
    k->chassis_to_world = k->trailer_to_world = dd_rotation_y(0);
    if (model->rig == NULL) return;
    k->vehicle = vehicle != NULL ? *vehicle : dd_vehicle_on_profile(&model->rig->vehicle, model->ramp, k->pose.rig[DD_RIG_X]);
    k->on_profile = true;
    k->coupling = dd_add(k->vehicle.ball, dd_vec(k->pose.rig[DD_RIG_REACH], 0, k->pose.rig[DD_RIG_HEAVE]));
    k->chassis_to_world = k->trailer_to_world = dd_rotation_y(k->pose.rig[DD_RIG_PITCH]);
    dd_vec3 arm = dd_apply(&k->chassis_to_world, model->rig->hinge);
    k->hinge = dd_add(k->coupling, arm);
    k->bed = k->coupling;
    if (k->pose.rig[DD_RIG_TILT] == 0) return;
    k->trailer_to_world = dd_rotation_y(k->pose.rig[DD_RIG_PITCH] + k->pose.rig[DD_RIG_TILT]);
    k->bed = dd_sub(k->hinge, dd_apply(&k->trailer_to_world, model->rig->hinge));
}

static void set_column(double carry[6][DD_RIG_COORDINATES], int column, dd_vec3 linear, dd_vec3 angular)
{
    const double v[6] = {linear.x, linear.y, linear.z, angular.x, angular.y, angular.z};
    for (int i = 0; i < 6; i++) carry[i][column] = v[i];
}

/* Twist of a hull that stands fast on the trailer, by each rig rate. */
static void set_carry(const dd_model *model, dd_kinematics *k)
{
    const dd_vec3 none = dd_vec(0, 0, 0);
    if (model->rig == NULL) {
        for (int c = 0; c < DD_RIG_COORDINATES; c++) set_column(k->carry, c, none, none);
        return;
    }
    const dd_vec3 axis = dd_vec(0, 1, 0);
    dd_vec3 arm = dd_add(dd_sub(k->bed, k->coupling), dd_apply(&k->trailer_to_world, k->pose.position));
    dd_vec3 turning = dd_apply_transposed(&k->to_world, axis);
    set_column(k->carry, DD_RIG_X, dd_apply_transposed(&k->to_world, k->vehicle.ball_x), none);
    set_column(k->carry, DD_RIG_HEAVE, dd_apply_transposed(&k->to_world, dd_vec(0, 0, 1)), none);
    set_column(k->carry, DD_RIG_PITCH, dd_apply_transposed(&k->to_world, dd_cross(axis, arm)), turning);
    set_column(k->carry, DD_RIG_REACH, dd_apply_transposed(&k->to_world, dd_vec(1, 0, 0)), none);
    set_column(k->carry, DD_RIG_TILT, dd_apply_transposed(&k->to_world, dd_cross(axis, dd_sub(k->origin, k->hinge))), turning);
}

static void fill(const dd_model *model, double time, const dd_pose *pose, const dd_motion *motion, const dd_vehicle_pose *vehicle, dd_kinematics *k)
{
    *k = (dd_kinematics){.time = time, .pose = *pose, .motion = *motion};
    place_rig(model, vehicle, k);
    k->to_trailer = dd_rotation_of(pose->attitude);
    k->to_world = dd_multiply(&k->trailer_to_world, &k->to_trailer);
    k->origin = dd_add(k->bed, dd_apply(&k->trailer_to_world, pose->position));
    k->up = dd_apply_transposed(&k->to_world, dd_vec(0, 0, 1));
    k->moving.steepness = 1;
    k->waterplane.up = k->up;
    k->waterplane.level = model->water.level - k->origin.z;
    k->water_depth = model->ramp != NULL ? model->water.level - dd_ramp_at(model->ramp, k->origin.x).z : INFINITY;
    set_carry(model, k);
    dd_vec3 flow = dd_vec(0, model->water.current, 0);
    if (dd_water_moves(&model->water) || dd_current_varies(&model->water)) dd_meet_moving_water(model, k, &flow);
    dd_vec3 stream = dd_apply_transposed(&k->to_world, flow);
    const double current[6] = {stream.x, stream.y, stream.z, 0, 0, 0};
    for (int i = 0; i < 6; i++) {
        double carried = 0;
        for (int c = 0; c < DD_RIG_COORDINATES; c++) carried += k->carry[i][c] * motion->rig[c];
        k->relative_twist[i] = motion->twist[i] - carried;
        k->twist_in_water[i] = motion->twist[i] - current[i];
    }
}

void dd_kinematics_of(const dd_model *model, double time, const dd_pose *pose, const dd_motion *motion, dd_kinematics *k)
{
    fill(model, time, pose, motion, NULL, k);
}

void dd_kinematics_again(const dd_model *model, double time, const dd_pose *pose, const dd_motion *motion, dd_kinematics *k)
{
    const dd_vehicle_pose vehicle = k->vehicle;
    const bool stands = k->on_profile && k->pose.rig[DD_RIG_X] == pose->rig[DD_RIG_X];
    fill(model, time, pose, motion, stands ? &vehicle : NULL, k);
}

dd_vec3 dd_trailer_point(const dd_kinematics *k, dd_vec3 in_trailer)
{
    return dd_add(k->bed, dd_apply(&k->trailer_to_world, in_trailer));
}

dd_vec3 dd_chassis_point(const dd_kinematics *k, dd_vec3 in_chassis)
{
    return dd_add(k->coupling, dd_apply(&k->chassis_to_world, in_chassis));
}

dd_vec3 dd_hull_point(const dd_kinematics *k, dd_vec3 in_boat) { return dd_add(k->origin, dd_apply(&k->to_world, in_boat)); }

void dd_attitude(const dd_kinematics *k, double *heel, double *trim, double *heading)
{
    /* up = (-sin trim, -cos trim sin heel, cos trim cos heel) in boat axes */
    const dd_vec3 up = k->up;
    *trim = asin(fmax(-1.0, fmin(1.0, -up.x)));
    *heel = atan2(-up.y, up.z);
    /* The boat's X lies along the trailer's -X; its port is the trailer's -Y. */
    *heading = atan2(-k->to_trailer.m[1][0], -k->to_trailer.m[0][0]);
}
