/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/observe.h"
#include "lib/force/roller.h"
#include <stdio.h>
#include <string.h>

static const double degrees = 57.295779513082320877;

static const struct {
    const char *name, *unit, *help;
} observables[DD_SEEN_COUNT] = {
#define OBSERVABLE(id, name, unit, help) {name, unit, help},
#include "lib/study/observables.def"
#undef OBSERVABLE
};

const char *dd_seen_name(int observable) { return observables[observable].name; }
const char *dd_seen_unit(int observable) { return observables[observable].unit; }

static double channel(const dd_study_model *m, const dd_force_kind *kind, int unit, const char *name)
{
    int index = dd_system_channel(m->system, kind, unit, name);
    return index >= 0 ? m->workspace->channels[index] : NAN;
}

static double or_zero(double value) { return isnan(value) ? 0.0 : value; }

/* Half of the gap between a support's rollers, or half a keel roller's width: the keel belongs inside. */
static double half_gap(const dd_rig *rig, int support)
{
    double half = INFINITY;
    for (int i = 0; i < rig->roller_count; i++)
        if (rig->rollers[i].support == support)
            half = fmin(half, rig->rollers[i].keel ? 0.5 * rig->rollers[i].width : fabs(rig->rollers[i].centre.y));
    return half;
}

static double support_x(const dd_rig *rig, int support)
{
    double sum = 0;
    int n = 0;
    for (int i = 0; i < rig->roller_count; i++)
        if (rig->rollers[i].support == support) {
            sum += rig->rollers[i].centre.x;
            n++;
        }
    return n > 0 ? sum / n : NAN;
}

/* Keel's offset to the boat's port where a support stands. */
static double keel_offset(const dd_kinematics *k, double trailer_x)
{
    dd_vec3 forward = dd_vec(k->to_trailer.m[0][0], k->to_trailer.m[1][0], k->to_trailer.m[2][0]);
    double along = fabs(forward.x) > 1e-3 ? (trailer_x - k->pose.position.x) / forward.x : 0.0;
    return -(k->pose.position.y + along * forward.y);
}

static void read_supports(const dd_study_model *m, dd_seen *s)
{
    const dd_rig *rig = m->rig;
    const dd_kinematics *k = &m->workspace->kinematics;
    double within[2] = {0, 0}, outside = 0, use = 0, total = 0, squash = 0;
    memset(s->support, 0, sizeof s->support);
    /* Looked up once: this is read at every look and row. */
    const dd_system_force *rollers = dd_system_find(m->system, &dd_force_roller);
    const int load_first = dd_system_channel(m->system, &dd_force_roller, 0, "load_N");
    const int squash_first = dd_system_channel(m->system, &dd_force_roller, 0, "squash_mm");
    for (int i = 0; rollers != NULL && i < rig->roller_count; i++) {
        const double *values = m->workspace->channels + i * rollers->channel_count;
        double load = values[load_first];
        s->support[rig->rollers[i].support] += load;
        squash = fmax(squash, 0.1 * values[squash_first] / rig->rollers[i].radius);
        total += load;
        if (rig->rollers[i].rated_load > 0) use = fmax(use, 100.0 * load / rig->rollers[i].rated_load);
    }
    int rearmost = dd_study_rearmost_roller(rig);
    for (int i = 0; i < rig->trailer.support_count; i++) {
        if (fabs(keel_offset(k, support_x(rig, i))) > half_gap(rig, i))
            outside = fmax(outside, s->support[i]);
        else if (s->support[i] > within[0])
            within[1] = within[0], within[0] = s->support[i];
        else
            within[1] = fmax(within[1], s->support[i]);
    }
    s->v[DD_SEEN_SUPPORT_LOAD] = total;
    s->v[DD_SEEN_REAR_LOAD] = rearmost >= 0 ? s->support[rig->rollers[rearmost].support] : NAN;
    s->v[DD_SEEN_ROLLER_USE] = use;
    s->v[DD_SEEN_SQUASH] = squash;
    s->v[DD_SEEN_WITHIN] = within[1];
    s->v[DD_SEEN_OUTSIDE] = outside;
}

static void read_water(const dd_study_model *m, dd_seen *s)
{
    const dd_kinematics *k = &m->workspace->kinematics;
    const dd_trailer_parameters *trailer = &m->rig->trailer;
    double level = m->model.water.level, x = k->pose.rig[DD_RIG_X];
    s->v[DD_SEEN_HUB_DEPTH] = dd_study_hub_depth(m, k);
    s->v[DD_SEEN_REAR_SUPPORT_DEPTH] = dd_study_rear_support_depth(m, k);
    s->v[DD_SEEN_VEHICLE_WHEEL_DEPTH] = level - dd_ramp_at(m->ramp, x).z;
    const dd_vehicle_parameters *vehicle = &m->rig->vehicle;
    const dd_mat3 turn = dd_rotation_y(k->vehicle.pitch);
    dd_vec3 exhaust = dd_apply(&turn, dd_vec(vehicle->coupling_behind_rear_axle, 0, vehicle->exhaust_height));
    s->v[DD_SEEN_EXHAUST_DEPTH] = level - dd_ramp_at(m->ramp, x).z - exhaust.z;
    dd_vec3 lamp = dd_vec(trailer->rear_end_behind_coupling, 0, trailer->lamp_height - trailer->coupling_height);
    s->v[DD_SEEN_LAMP_DEPTH] = level - dd_trailer_point(k, lamp).z;
    s->v[DD_SEEN_TOE_DISTANCE] = dd_ramp_toe(m->ramp) - dd_trailer_point(k, dd_study_rearmost_hub(m->rig)).x;
    dd_vec3 transom = dd_hull_point(k, dd_vec(0, 0, dd_hull_keel(m->hull, 0).z));
    s->v[DD_SEEN_TRANSOM_CLEARANCE] = transom.z - dd_ramp_at(m->ramp, transom.x).z;
    dd_vec3 skeg = dd_hull_point(k, dd_vec(0, 0, dd_hull_keel(m->hull, 0).z - dd_hull_figures(m->hull)->skeg_depth.likely));
    s->v[DD_SEEN_SKEG_CLEARANCE] = skeg.z - dd_ramp_at(m->ramp, skeg.x).z;
    s->v[DD_SEEN_KEEL_CLEARANCE] = dd_study_keel_clearance(m, k);
    dd_vec3 eye = dd_hull_point(k, dd_hull_bow_eye(m->hull)),
            rear = dd_trailer_point(k, dd_vec(trailer->rear_end_behind_coupling, 0, 0));
    s->v[DD_SEEN_BOAT_DISTANCE] = hypot(eye.x - rear.x, eye.y - rear.y);
    double lowest = INFINITY;
    for (int i = 0; i < dd_strips_count(m->strips); i++) {
        dd_strip strip = dd_strips_at(m->strips, i);
        for (int side = -1; side <= 1; side += 2) {
            dd_vec3 sheer = dd_vec(strip.x, side * strip.sheer_half_breadth, strip.sheer_height);
            lowest = fmin(lowest, dd_dot(k->waterplane.up, sheer) - k->waterplane.level);
        }
    }
    s->v[DD_SEEN_FREEBOARD] = lowest;
}

static double sum_units(const dd_study_model *m, const dd_force_kind *kind, const char *name)
{
    const dd_system_force *force = dd_system_find(m->system, kind);
    double sum = 0;
    for (int u = 0; force != NULL && u < force->unit_count; u++) sum += or_zero(channel(m, kind, u, name));
    return sum;
}

static void read_hull(const dd_study_model *m, dd_seen *s)
{
    const dd_kinematics *k = &m->workspace->kinematics;
    double heel, trim, heading;
    const double *r = k->relative_twist;
    dd_attitude(k, &heel, &trim, &heading);
    s->v[DD_SEEN_HULL_X] = k->pose.position.x;
    s->v[DD_SEEN_HULL_Y] = k->pose.position.y;
    s->v[DD_SEEN_HULL_Z] = k->pose.position.z;
    dd_vec3 eye = dd_add(k->pose.position, dd_apply(&k->to_trailer, dd_hull_bow_eye(m->hull)));
    s->v[DD_SEEN_BOW_OFFSET] = -eye.y;
    s->v[DD_SEEN_STERN_OFFSET] = -k->pose.position.y;
    s->v[DD_SEEN_HEADING] = heading * degrees;
    s->v[DD_SEEN_HEEL] = heel * degrees;
    s->v[DD_SEEN_TRIM] = trim * degrees;
    s->v[DD_SEEN_HULL_SPEED] = sqrt(r[0] * r[0] + r[1] * r[1] + r[2] * r[2]);
    s->v[DD_SEEN_BUOYANCY] = or_zero(channel(m, &dd_force_buoyancy, 0, "buoyancy_N"));
}

void dd_seen_read(const dd_study_model *m, int with_gradient, dd_seen *s)
{
    const dd_kinematics *k = &m->workspace->kinematics;
    double slope = dd_ramp_at(m->ramp, k->pose.rig[DD_RIG_X]).slope;
    memset(s, 0, sizeof *s);
    s->v[DD_SEEN_TIME] = k->time;
    s->v[DD_SEEN_RIG_X] = k->pose.rig[DD_RIG_X];
    s->v[DD_SEEN_RIG_SPEED] = k->motion.rig[DD_RIG_X] * sqrt(1 + slope * slope);
    s->v[DD_SEEN_SLIDE_SPEED] = m->workspace->commands.brake > 0.999 ? fabs(s->v[DD_SEEN_RIG_SPEED]) : 0.0;
    s->v[DD_SEEN_STRAP_TENSION] = or_zero(channel(m, &dd_force_strap, 0, "strap_tension_N"));
    s->v[DD_SEEN_STRAP_LENGTH] = channel(m, &dd_force_strap, 0, "strap_length_m");
    /* The ratchet holds the strap; the hand feels it only while it winds. */
    s->v[DD_SEEN_HANDLE_FORCE] =
        m->workspace->commands.wind_speed > 0 ? or_zero(channel(m, &dd_force_strap, 0, "handle_force_N")) : 0.0;
    s->v[DD_SEEN_STOP_LOAD] = or_zero(channel(m, &dd_force_bow_stop, 0, "stop_load_N"));
    s->v[DD_SEEN_STOP_GAP] = channel(m, &dd_force_bow_stop, 0, "stop_gap_m");
    s->v[DD_SEEN_COUPLING_LOAD] = channel(m, &dd_force_coupling, 0, "coupling_load_N");
    s->v[DD_SEEN_AXLE_LOAD] = sum_units(m, &dd_force_axles, "axle_load_N");
    s->v[DD_SEEN_FRICTION_NEEDED] = channel(m, &dd_force_wheels, 0, "friction_needed");
    s->v[DD_SEEN_FRICTION_LOW] = channel(m, &dd_force_wheels, 0, "friction_available_low");
    s->v[DD_SEEN_PUSH] = m->workspace->commands.push_force;
    read_supports(m, s);
    read_water(m, s);
    read_hull(m, s);
    s->v[DD_SEEN_CARRIED] = s->v[DD_SEEN_SUPPORT_LOAD] + s->v[DD_SEEN_STOP_LOAD];
    s->v[DD_SEEN_ROLL_STIFFNESS] = with_gradient ? dd_roll_stiffness(m->workspace) : NAN;
}

dd_status dd_seen_columns(const dd_study_model *m, dd_recorder *recorder)
{
    dd_status status = DD_OK;
    for (int i = 0; i < DD_SEEN_COUNT && status == DD_OK; i++)
        status = dd_recorder_column(recorder, observables[i].name, observables[i].unit, observables[i].help);
    for (int i = 0; i < m->rig->trailer.support_count && status == DD_OK; i++) {
        char name[96];
        snprintf(name, sizeof name, "support %s_N", m->rig->trailer.supports[i].name);
        status = dd_recorder_column(recorder, name, "N", "sum of the loads of this support's rollers");
    }
    return status;
}

dd_status dd_seen_row(const dd_study_model *m, const dd_seen *s, dd_recorder *recorder)
{
    double row[DD_SEEN_COUNT + DD_SUPPORTS];
    memcpy(row, s->v, sizeof s->v);
    memcpy(row + DD_SEEN_COUNT, s->support, (size_t)m->rig->trailer.support_count * sizeof(double));
    return dd_recorder_row(recorder, row);
}
