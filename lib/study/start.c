/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where statics begin: the trailer standing on its wheels, the boat laid on its supports, the strap wound home. */
#include "lib/base/error.h"
#include "lib/force/bow_stop.h"
#include "lib/force/roller.h"
#include "lib/ode/gsl.h"
#include "lib/study/start.h"
#include <gsl/gsl_fit.h>
#include <gsl/gsl_roots.h>
#include <stdlib.h>
#include <string.h>


/* Pitch at which the rearmost wheels just stand on the ground with the coupling on the ball. */
static double standing_pitch(const dd_study_model *m, const dd_vehicle_pose *vehicle)
{
    const dd_rig *rig = m->rig;
    dd_vec3 hub = rig->axle[0];
    double pitch = vehicle->pitch;
    for (int i = 0; i < 50; i++) {
        dd_mat3 r = dd_rotation_y(pitch);
        dd_vec3 at = dd_add(vehicle->ball, dd_apply(&r, hub));
        dd_ramp_point ground = dd_ramp_at(m->ramp, at.x);
        double over = (at.z - ground.z) / sqrt(1 + ground.slope * ground.slope) - rig->trailer.tyre_radius;
        pitch += over / fmax(0.1, hub.x);
        if (fabs(over) < 1e-9) break;
    }
    return pitch;
}

dd_pose dd_study_rig_pose(const dd_study_model *m, double x)
{
    dd_vehicle_pose vehicle = dd_vehicle_on_profile(&m->rig->vehicle, m->ramp, x);
    return (dd_pose){.rig = {x, 0.0, standing_pitch(m, &vehicle)}, .attitude = {0, 0, 0, 1}};
}

dd_pose dd_study_driven(const dd_study_model *m, const dd_pose *pose, double x)
{
    dd_pose here = dd_study_rig_pose(m, pose->rig[DD_RIG_X]), there = dd_study_rig_pose(m, x), driven = *pose;
    driven.rig[DD_RIG_X] = x;
    driven.rig[DD_RIG_PITCH] += there.rig[DD_RIG_PITCH] - here.rig[DD_RIG_PITCH];
    return driven;
}

double dd_study_straight_way(const dd_study_model *m, const dd_pose *pose, double x)
{
    static const double apart = 0.2, beyond = 0.5, dry = 0.01, straight = 1e-9; /* m: of the looks, of what reaches past wheels and transom */
    const double here = pose->rig[DD_RIG_X], way = fabs(x - here), sign = x < here ? -1 : 1;
    const dd_vehicle_pose vehicle = dd_vehicle_on_profile(&m->rig->vehicle, m->ramp, here);
    double first, last;
    dd_hull_extent(m->hull, &first, &last);
    const double inshore = vehicle.front_x - beyond, seaward = vehicle.ball.x + fmax(m->rig->trailer.rear_end_behind_coupling, pose->position.x - first) + beyond;
    const double from = sign < 0 ? seaward : inshore, length = seaward - inshore;
    const dd_ramp_point line = dd_ramp_at(m->ramp, from);
    double to = 0;
    for (; to < length + way; to += apart) {
        const double at = from + sign * (to + apart);
        const dd_ramp_point p = dd_ramp_at(m->ramp, at);
        const bool follows = p.curvature == 0 && fabs(p.z - line.z - line.slope * (at - from)) < straight;
        if (!follows || dd_water_surface_at(&m->model.water, at, 0).level > p.z - dry) break;
    }
    return fmax(0.0, fmin(way, to - length));
}

/* Where each roller under the bottom would just touch a level hull. */
typedef struct touching {
    int count;
    double x[DD_ROLLERS], height[DD_ROLLERS]; /* boat's X; of the origin over the trailer's, m */
} touching;

static void find_touching(const dd_study_model *m, const dd_pose *pose, touching *t)
{
    const dd_rig *rig = m->rig;
    t->count = 0;
    for (int i = 0; i < rig->roller_count; i++) {
        const dd_roller *roller = &rig->rollers[i];
        double boat_x = pose->position.x - roller->centre.x, boat_y = -roller->centre.y;
        dd_bottom_point b =
            roller->keel ? dd_hull_keel(m->hull, boat_x) : dd_hull_bottom(m->hull, boat_x, boat_y, roller->side);
        if (b.cover < 0.5) continue;
        t->x[t->count] = boat_x;
        t->height[t->count++] = roller->centre.z + roller->radius * sqrt(1 + b.zx * b.zx + b.zy * b.zy) - b.z;
    }
}

/* The line on which a weight at `centre` comes to rest: over the two rollers that hold it highest, ahead and behind. */
static bool resting_line(const touching *t, double centre, double *at_transom, double *rise)
{
    double highest = -INFINITY;
    for (int i = 0; i < t->count; i++)
        for (int j = 0; j < t->count; j++) {
            if (!(t->x[i] <= centre && t->x[j] > centre && t->x[j] - t->x[i] > 0.1)) continue;
            double slope = (t->height[j] - t->height[i]) / (t->x[j] - t->x[i]),
                   there = t->height[i] + slope * (centre - t->x[i]);
            if (there > highest) highest = there, *rise = slope, *at_transom = t->height[i] - slope * t->x[i];
        }
    return isfinite(highest);
}

/* Height and trim of the boat at rest on its rollers; a boat that tips over them lies along their mean line. */
static void lay_on_rollers(const dd_study_model *m, dd_pose *pose)
{
    touching t;
    find_touching(m, pose, &t);
    double at_transom = 0.0, rise = 0.0;
    if (!resting_line(&t, dd_hull_mass(m->hull)->centre.x, &at_transom, &rise)) {
        bool spread = false;
        for (int i = 0; i < t.count; i++) {
            at_transom += t.height[i] / t.count;
            spread |= fabs(t.x[i] - t.x[0]) > 0.1;
        }
        double c00, c01, c11, squares;
        if (spread) gsl_fit_linear(t.x, 1, t.height, 1, (size_t)t.count, &at_transom, &rise, &c00, &c01, &c11, &squares);
    }
    double tilt = -atan(rise); /* about the boat's Y, bow down > 0 */
    pose->position.z = at_transom - 0.003;
    pose->attitude =
        dd_quaternion_multiply((dd_quaternion){0, 0, 0, 1}, (dd_quaternion){cos(0.5 * tilt), 0, sin(0.5 * tilt), 0});
}

dd_pose dd_study_home_pose(const dd_study_model *m, double x)
{
    dd_pose pose = dd_study_rig_pose(m, x);
    pose.position = dd_vec(m->rig->trailer.bow_stop.behind_coupling + dd_hull_bow_eye(m->hull).x, 0, 0);
    lay_on_rollers(m, &pose);
    for (int i = 0; i < 4; i++) { /* the stem touches the stop where it stands at its height then */
        const dd_at_stop at = dd_bow_stop_touch(&m->model, &pose);
        if (isnan(at.x)) break;
        pose.position.x = at.x;
        lay_on_rollers(m, &pose);
    }
    return pose;
}

static int axis_of(dd_friction_state state) { return state == DD_FRICTION_SINKING || state == DD_FRICTION_RISING ? DD_ACROSS : DD_ROLLING; }

/* Bristle at friction's limit, m. */
static double limit_of(const dd_roller_instance *instance, int roller, int which, const double *values)
{
    return dd_roller_friction_limit(instance, roller, which, values) / instance->law.stiffness;
}

/* Bristle by its axis, and the component of the hull's load (0 forward, 2 up) that its friction pushes. */
static void hold(const dd_study_model *m, dd_friction_state state, double *values)
{
    const dd_system_force *rollers = dd_system_find(m->system, &dd_force_roller);
    static const double rounding = 1e-9;
    const int which = axis_of(state);
    const double sign = state == DD_FRICTION_WOUND_IN || state == DD_FRICTION_RISING ? -1.0 : 1.0;
    const dd_roller_instance *instance = rollers->instance;
    for (int i = 0; i < m->rig->roller_count; i++) {
        const int bristle = DD_BRISTLES * i + which;
        const double limit = limit_of(instance, i, which, values);
        const double *by = m->workspace->load_by_value[rollers->memory_first + bristle], pushes = by[which == DD_ACROSS ? 2 : 0];
        const bool acts = fabs(pushes) > rounding * (fabs(by[0]) + fabs(by[1]) + fabs(by[2])); /* a keel roller's across it pushes to the side alone */
        values[bristle] = acts ? sign * copysign(limit, pushes) : 0.0;
    }
}

dd_status dd_study_friction(dd_study_model *m, const dd_pose *pose, dd_friction_state state, double *memory)
{
    const dd_system_force *rollers = dd_system_find(m->system, &dd_force_roller);
    const dd_motion rest = {{0}, {0}};
    if (rollers == NULL) return DD_OK;
    double *values = memory + rollers->memory_first;
    memset(values, 0, (size_t)(DD_BRISTLES * m->rig->roller_count) * sizeof(double)); /* skids stay as wet as they are, arms too */
    if (state == DD_FRICTION_NONE) return DD_OK;
    double *y = calloc((size_t)m->system->size, sizeof *y);
    if (y == NULL) return DD_ERROR_MEMORY;
    dd_system_pack(m->system, pose, &rest, memory, y);
    if (dd_system_evaluate(m->workspace, 0, y, DD_WANT_STIFFNESS) == 0) hold(m, state, values);
    free(y);
    return DD_OK;
}

bool dd_study_friction_holds(const dd_study_model *m, dd_friction_state state, const double *memory)
{
    static const double same = 1e-3, straight = 1e-6; /* of the friction; m and rad */
    const dd_pose *pose = &m->workspace->kinematics.pose;
    const bool centred = fabs(pose->position.y) < straight && fabs(dd_rotation_of(pose->attitude).m[2][1]) < straight;
    const dd_system_force *rollers = dd_system_find(m->system, &dd_force_roller);
    if (rollers == NULL) return true;
    const int which = axis_of(state);
    const double *values = memory + rollers->memory_first, *load = m->workspace->channels + dd_system_channel(m->system, &dd_force_roller, 0, "load_N");
    for (int i = 0; i < m->rig->roller_count; i++) {
        const double limit = state == DD_FRICTION_NONE ? 0 : limit_of(rollers->instance, i, which, values);
        const double has = fabs(values[DD_BRISTLES * i + which]);
        if (centred && has == 0 && which == DD_ACROSS && m->rig->rollers[i].keel) continue; /* it pushes neither up nor down */
        if (load[i * rollers->channel_count] > 0 && fabs(has - limit) > same * limit) return false;
    }
    return true;
}

void dd_study_friction_join(const dd_study_model *m, dd_friction_state state, const double *other, double *memory)
{
    const dd_system_force *rollers = dd_system_find(m->system, &dd_force_roller);
    if (rollers == NULL || state == DD_FRICTION_NONE) return;
    const int which = axis_of(state);
    double *values = memory + rollers->memory_first;
    for (int i = 0; i < m->rig->roller_count; i++) {
        const int bristle = DD_BRISTLES * i + which;
        const double has = other[rollers->memory_first + bristle];
        if (values[bristle] == 0 && has != 0) values[bristle] = copysign(limit_of(rollers->instance, i, which, values), has);
    }
}

typedef struct descent {
    const dd_study_model *m;
    double depth;
} descent;

static double depth_over(double x, void *context)
{
    const descent *d = context;
    dd_kinematics k;
    dd_pose pose = dd_study_rig_pose(d->m, x);
    const dd_motion rest = {{0}, {0}};
    dd_kinematics_of(&d->m->model, 0, &pose, &rest, &k);
    return dd_study_hub_depth(d->m, &k) - d->depth;
}

dd_status dd_study_position(const dd_study_model *m, double depth, double *x, dd_error *error)
{
    descent d = {.m = m, .depth = depth};
    double low = -60.0, high = 200.0, root = NAN;
    double at_low = depth_over(low, &d), at_high = depth_over(high, &d);
    if (!(at_low < 0 && at_high > 0))
        return dd_fail(error, DD_ERROR_ARGUMENT, "start: hub depth",
                       "the rearmost hub cannot stand %.3f m under water on this ramp (%.3f m at its top, %.3f m far out)",
                       depth, at_low + depth, at_high + depth);
    dd_status status = dd_ode_locate(depth_over, &d, low, high, at_low, at_high, 1e-9, &root, error);
    *x = root;
    return status;
}

static dd_quaternion turn(double angle, double x, double y, double z)
{
    double s = sin(0.5 * angle);
    return (dd_quaternion){cos(0.5 * angle), s * x, s * y, s * z};
}

dd_status dd_study_afloat_pose(const dd_study_model *m, const dd_pose *rig, const dd_start *start, dd_pose *pose,
                               dd_error *error)
{
    dd_floating floating;
    dd_status status = dd_hull_float(m->hull, m->model.water.density, m->model.gravity, 0, 0, &floating, error);
    if (status != DD_OK) return status;
    const dd_motion rest = {{0}, {0}};
    dd_kinematics k;
    *pose = *rig;
    dd_kinematics_of(&m->model, 0, pose, &rest, &k);
    /* World attitude: turned end for end, then heading to port, trim bow down, heel port down. */
    dd_quaternion q = dd_quaternion_multiply(turn(M_PI + start->heading, 0, 0, 1), turn(floating.trim, 0, 1, 0));
    q = dd_quaternion_multiply(q, turn(-floating.heel, 1, 0, 0));
    pose->attitude = dd_quaternion_multiply(turn(-pose->rig[DD_RIG_PITCH] - pose->rig[DD_RIG_TILT], 0, 1, 0), q);
    dd_mat3 r = dd_rotation_of(pose->attitude);
    dd_vec3 eye = dd_apply(&r, dd_hull_bow_eye(m->hull));
    int rearmost = dd_study_rearmost_roller(m->rig);
    double support_x = rearmost < 0 ? 0.0 : m->rig->rollers[rearmost].centre.x;
    pose->position.x = support_x + start->bow_distance - eye.x;
    pose->position.y = -start->offset_to_port - eye.y;
    double origin_z = m->model.water.level - floating.waterplane.level, pitch = pose->rig[DD_RIG_PITCH] + pose->rig[DD_RIG_TILT];
    pose->position.z = (origin_z - k.bed.z + sin(pitch) * pose->position.x) / cos(pitch);
    return DD_OK;
}
