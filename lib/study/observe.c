/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/observe.h"
#include "lib/force/axles.h"
#include "lib/force/coupling.h"
#include "lib/force/roller.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double degrees = 57.295779513082320877;
static const double past_end = 0.3, beams_off = 1.5; /* m ahead of the rear end, beams off the line: no guide brings it back */

static const double unevenness = 0.005; /* of the ground under the wheels, which springs and tyres level out, m */
static const double stands = 0.02;     /* m/s */

enum { SUM, MOST, LEAST, ALL = 1000 };

static const struct {
    const char *name, *unit, *help, *force, *channel; /* force NULL: computed here */
    int first, last, fold;
} observables[DD_SEEN_COUNT] = {
#define OBSERVABLE(id, name, unit, help) {name, unit, help, NULL, NULL, 0, 0, SUM},
#define OBSERVED(id, name, unit, help, force, channel, first, last, fold) {name, unit, help, force, channel, first, last, fold},
#include "lib/study/observables.def"
#undef OBSERVABLE
};

struct dd_seen_map {
    struct {
        const dd_system_force *force;
        int first, count, stride; /* within the channels */
    } of[DD_SEEN_COUNT];
};

dd_seen_map *dd_seen_map_create(const dd_system *system)
{
    dd_seen_map *map = calloc(1, sizeof *map);
    for (int i = 0; map != NULL && i < DD_SEEN_COUNT; i++) {
        if (observables[i].force == NULL) continue;
        for (int f = 0; f < system->force_count; f++) {
            const dd_system_force *force = &system->forces[f];
            if (strcmp(force->kind->name, observables[i].force) != 0) continue;
            int first = dd_system_channel(system, force->kind, observables[i].first, observables[i].channel);
            if (first < 0) continue;
            int last = observables[i].last < force->unit_count ? observables[i].last : force->unit_count - 1;
            map->of[i].force = force;
            map->of[i].first = first;
            map->of[i].count = last - observables[i].first + 1;
            map->of[i].stride = force->channel_count;
        }
    }
    return map;
}

/* Number of the unit that gives the value among those folded; -1 when the force is absent. */
static int fold(const dd_study_model *m, int i, double *value)
{
    const double *channels = m->workspace->channels + m->map->of[i].first;
    int at = -1;
    *value = NAN;
    for (int u = 0; u < m->map->of[i].count; u++) {
        double v = channels[u * m->map->of[i].stride];
        if (isnan(v)) continue;
        if (observables[i].fold == SUM)
            *value = at < 0 ? v : *value + v, at = u;
        else if (at < 0 || (observables[i].fold == MOST ? v > *value : v < *value))
            *value = v, at = u;
    }
    return at;
}

const char *dd_seen_unit_name(const dd_study_model *m, int i)
{
    double value;
    if (observables[i].force == NULL || observables[i].fold == SUM || m->map->of[i].count < 2) return NULL;
    const int unit = fold(m, i, &value);
    const dd_system_force *force = m->map->of[i].force;
    if (unit < 0 || force->kind->unit_name == NULL) return NULL;
    return force->kind->unit_name(force->instance, observables[i].first + unit);
}

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
    double within[2] = {0, 0}, outside = 0, use = 0, total = 0, squash = 0, face = 0, rated = 0;
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
        /* A skid is rated as a whole: its places, one after another, share load and rating. */
        const dd_roller *roller = &rig->rollers[i], *before = i > 0 ? roller - 1 : NULL;
        const bool same = roller->skid > 0 && before != NULL && before->skid == roller->skid && before->side == roller->side;
        face = same ? face + load : load;
        rated = same ? rated + roller->rated_load : roller->rated_load;
        const bool last = roller->skid == 0 || i + 1 == rig->roller_count || roller[1].skid != roller->skid || roller[1].side != roller->side;
        if (last && rated > 0) use = fmax(use, 100.0 * face / rated);
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
    double x = k->pose.rig[DD_RIG_X], in_ground = dd_ramp_soft(m->ramp) ? or_zero(channel(m, &dd_force_wheels, 2, "sinkage_m")) : 0;
    s->v[DD_SEEN_HUB_DEPTH] = dd_study_hub_depth(m, k);
    const dd_standing_wheel wheel = dd_axle_stands(m->rig, m->ramp, k, dd_study_rearmost_axle(m->rig));
    s->v[DD_SEEN_HANGING_HUB_DEPTH] = dd_study_depth(m, k, wheel.hub);
    s->v[DD_SEEN_WHEEL_DEPTH] = dd_study_depth(m, k, wheel.foot);
    s->v[DD_SEEN_REAR_SUPPORT_DEPTH] = dd_study_rear_support_depth(m, k);
    s->v[DD_SEEN_VEHICLE_WHEEL_DEPTH] = dd_study_depth(m, k, dd_vec(x, 0, dd_ramp_at(m->ramp, x).z)) + in_ground;
    const dd_vehicle_parameters *vehicle = &m->rig->vehicle;
    const dd_mat3 turn = dd_rotation_y(k->vehicle.pitch);
    dd_vec3 exhaust = dd_apply(&turn, dd_vec(vehicle->coupling_behind_rear_axle, 0, vehicle->exhaust_height));
    s->v[DD_SEEN_EXHAUST_DEPTH] = dd_study_depth(m, k, dd_add(dd_vec(x, 0, dd_ramp_at(m->ramp, x).z), exhaust)) + dd_ball_drop(&m->model, k);
    dd_vec3 lamp = dd_vec(trailer->rear_end_behind_coupling, 0, trailer->lamp_height - trailer->coupling_height);
    s->v[DD_SEEN_LAMP_DEPTH] = dd_study_depth(m, k, dd_trailer_point(k, lamp));
    s->v[DD_SEEN_ACTUATOR_DEPTH] =
        dd_study_depth(m, k, dd_chassis_point(k, dd_vec(0, 0, trailer->actuator_height - trailer->coupling_height)));
    s->v[DD_SEEN_PLUG_DEPTH] =
        dd_study_depth(m, k, dd_chassis_point(k, dd_vec(0, 0, trailer->plug_height - trailer->coupling_height)));
    s->v[DD_SEEN_HOT_HUB_DEPTH] = k->time < trailer->hubs_hot_until ? s->v[DD_SEEN_HANGING_HUB_DEPTH] : NAN;
    s->v[DD_SEEN_TOE_DISTANCE] = dd_ramp_toe(m->ramp) - dd_chassis_point(k, dd_study_rearmost_hub(m->rig)).x;
    dd_vec3 transom = dd_hull_point(k, dd_vec(0, 0, dd_hull_keel(m->hull, 0).z));
    s->v[DD_SEEN_TRANSOM_CLEARANCE] = transom.z - dd_ramp_at(m->ramp, transom.x).z;
    s->v[DD_SEEN_TRANSOM_DRAFT] = dd_study_depth(m, k, transom);
    dd_vec3 skeg = dd_hull_point(k, dd_vec(0, 0, dd_hull_keel(m->hull, 0).z - dd_hull_figures(m->hull)->skeg_depth.likely));
    s->v[DD_SEEN_SKEG_CLEARANCE] = skeg.z - dd_ramp_at(m->ramp, skeg.x).z;
    s->v[DD_SEEN_ENGINE_CLEARANCE] = m->workspace->commands.engine_tilt < 0.5 ? s->v[DD_SEEN_SKEG_CLEARANCE] : NAN;
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

/* Lowest point of the frame over the ground. The drawbar's front end rises to the coupling and is left out. */
static double frame_clearance(const dd_study_model *m, const dd_kinematics *k)
{
    enum { PLACES = 13 };
    const dd_trailer_parameters *t = &m->rig->trailer;
    const double first = 0.3 * t->axles[0].behind_coupling, last = t->rear_end_behind_coupling;
    double least = INFINITY;
    if (isnan(t->frame_clearance)) return NAN;
    for (int i = 0; i < PLACES; i++) {
        dd_vec3 low = dd_vec(first + (last - first) * i / (PLACES - 1), 0, t->frame_clearance - t->coupling_height);
        dd_vec3 world = dd_chassis_point(k, low);
        least = fmin(least, world.z - dd_ramp_at(m->ramp, world.x).z);
    }
    return least;
}

/* The foremost point of the keel line in the trailer, and how much of it lies ahead of the rearmost support. */
static void read_bow(const dd_study_model *m, const dd_kinematics *k, dd_seen *s)
{
    enum { PLACES = 25 };
    const int rearmost = dd_study_rearmost_roller(m->rig);
    double first, last, foremost = INFINITY;
    int on = 0;
    dd_hull_extent(m->hull, &first, &last);
    for (int i = 0; i < PLACES; i++) {
        const double x = first + (last - first) * i / (PLACES - 1);
        dd_vec3 at = dd_add(k->pose.position, dd_apply(&k->to_trailer, dd_vec(x, 0, dd_hull_keel(m->hull, x).z)));
        foremost = fmin(foremost, at.x);
        on += rearmost >= 0 && at.x < m->rig->rollers[rearmost].centre.x;
    }
    s->v[DD_SEEN_BOW_REACH] = foremost;
    s->v[DD_SEEN_ON_TRAILER] = 100.0 * on / PLACES;
    if (isnan(s->v[DD_SEEN_BOW_OVER_FRAME]) && !isnan(m->rig->trailer.frame_height)) s->v[DD_SEEN_BOW_OVER_FRAME] = 10.0;
}

static double wheel_in_hole(const dd_study_model *m, const dd_kinematics *k)
{
    const double reach = 1.0, x = dd_chassis_point(k, dd_study_rearmost_hub(m->rig)).x;
    return fmax(0.0, 0.5 * (dd_ramp_at(m->ramp, x - reach).z + dd_ramp_at(m->ramp, x + reach).z) - dd_ramp_at(m->ramp, x).z);
}

/* What can touch what, beside the forces. */
static void read_clearances(const dd_study_model *m, dd_seen *s)
{
    const dd_kinematics *k = &m->workspace->kinematics;
    const dd_trailer_parameters *t = &m->rig->trailer;
    const dd_vec3 speed = dd_apply(&k->to_trailer, dd_vec(k->relative_twist[0], k->relative_twist[1], k->relative_twist[2]));
    const int rearmost = dd_study_rearmost_roller(m->rig);
    s->v[DD_SEEN_FRAME_CLEARANCE] = frame_clearance(m, k);
    read_bow(m, k, s);
    s->v[DD_SEEN_HOLE] = wheel_in_hole(m, k);
    s->v[DD_SEEN_AFT_SPEED] = speed.x;
    const dd_vec3 bow_eye = dd_add(k->pose.position, dd_apply(&k->to_trailer, dd_hull_bow_eye(m->hull)));
    const dd_vec3 drum = dd_vec(t->winch.behind_coupling, 0, t->winch.above_ground - t->coupling_height);
    s->v[DD_SEEN_DRUM_TO_EYE] = dd_norm(dd_sub(drum, bow_eye));
    s->v[DD_SEEN_DRUM_ABOVE_EYE] = drum.z - bow_eye.z;
    s->v[DD_SEEN_PITCH_IN_TRAILER] = -degrees * asin(fmax(-1.0, fmin(1.0, k->to_trailer.m[2][0])));
    const dd_commands *commands = &m->workspace->commands;
    const double weight = dd_hull_mass(m->hull)->mass * m->model.gravity;
    s->v[DD_SEEN_RUNAWAY] =
        !commands->strap_hooked && fabs(commands->throttle) < 0.02 && s->v[DD_SEEN_SUPPORT_LOAD] > 0.3 * weight &&
                s->v[DD_SEEN_BUOYANCY] < 0.25 * weight
            ? fmax(0, speed.x) : 0;
    s->v[DD_SEEN_BOW_HELD] = s->v[DD_SEEN_STRAP_TENSION] + s->v[DD_SEEN_STOP_LOAD] + or_zero(s->v[DD_SEEN_CHAIN]);
    /* Outside the trailer: the whole beam beside its rearmost axle's middle. */
    const double beam = dd_hull_figures(m->hull)->chine_beam.likely, off = fabs(s->v[DD_SEEN_BOW_OFFSET]);
    const double beside = off - 0.5 * beam, far_off = off - beams_off * beam;
    const double eye = k->pose.position.x + dd_apply(&k->to_trailer, dd_hull_bow_eye(m->hull)).x;
    const double ahead = (rearmost >= 0 ? m->rig->rollers[rearmost].centre.x : t->rear_end_behind_coupling) - eye;
    s->v[DD_SEEN_PASSED] = fmax(fmin(ahead - past_end, beside), far_off);
}

/* A rocker's arms turn between stops. */
static double rocker_left(const dd_study_model *m)
{
    double least = INFINITY;
    for (int a = 0; a < m->rig->arm_count; a++) {
        const dd_arm *arm = &m->rig->arms[a];
        if (m->rig->trailer.supports[arm->support].kind != DD_SUPPORT_ROCKER) continue;
        const double angle = channel(m, &dd_force_roller, arm->first, "arm_angle_deg");
        least = fmin(least, fmin(degrees * arm->most - angle, angle - degrees * arm->least));
    }
    return isfinite(least) ? least : NAN;
}

static const double bears = 20.0; /* N */

/* Guides that bear on the hull: how high they reach; and a hull that has come down outside of one. */
static void read_guides(const dd_study_model *m, dd_seen *s)
{
    const dd_system_force *guides = dd_system_find(m->system, &dd_force_guide);
    const double weight = dd_hull_mass(m->hull)->mass * m->model.gravity;
    s->v[DD_SEEN_GUIDE_TOP] = s->v[DD_SEEN_OUTSIDE_GUIDE] = s->v[DD_SEEN_GUIDE_USE] = NAN;
    if (guides == NULL) return;
    s->v[DD_SEEN_OUTSIDE_GUIDE] = s->v[DD_SEEN_SUPPORT_LOAD] > 0.05 * weight ? fmax(0.0, -s->v[DD_SEEN_GUIDE_GAP]) : 0.0;
    const int load_at = dd_system_channel(m->system, &dd_force_guide, 0, "load_N"),
              place_at = dd_system_channel(m->system, &dd_force_guide, 0, "place_load_N"),
              top_at = dd_system_channel(m->system, &dd_force_guide, 0, "top_above_chine_m");
    for (int u = 0; u < m->rig->guide_count; u++) {
        const double *channels = m->workspace->channels + u * guides->channel_count;
        const int support = m->rig->guides[u].support;
        s->support[support] += channels[load_at];
        s->v[DD_SEEN_GUIDE_USE] = fmax(s->v[DD_SEEN_GUIDE_USE], 100 * channels[place_at] / m->rig->trailer.supports[support].rated_load);
        if (channels[load_at] > bears) s->v[DD_SEEN_GUIDE_TOP] = fmin(s->v[DD_SEEN_GUIDE_TOP], channels[top_at]);
    }
}

static double axle_load(const dd_study_model *m)
{
    const dd_system_force *axles = dd_system_find(m->system, &dd_force_axles);
    const int first = dd_system_channel(m->system, &dd_force_axles, 0, "axle_load_N");
    double sum = 0;
    for (int u = 0; axles != NULL && u < axles->unit_count; u++) sum += m->workspace->channels[first + u * axles->channel_count];
    return sum;
}

/* Of all axles together: a plate is for level ground, where the axles of a real group share their load; over a crest, sprung one by
   one as they are here, each in turn bears more. NaN: not every axle has a rating. */
static double axle_use(const dd_study_model *m, double load)
{
    double rated = 0;
    for (int i = 0; i < m->rig->trailer.axle_count; i++) rated += m->rig->trailer.axles[i].rating * m->model.gravity;
    return 100 * load / rated;
}

/* The ground under every wheel of vehicle and trailer lies on one line. */
static bool on_even_ground(const dd_study_model *m, const dd_kinematics *k)
{
    const dd_trailer_parameters *t = &m->rig->trailer;
    const double rear = k->pose.rig[DD_RIG_X], first = rear - m->rig->vehicle.wheelbase, last = dd_chassis_point(k, dd_study_rearmost_hub(m->rig)).x;
    const double low = dd_ramp_at(m->ramp, first).z, rise = (dd_ramp_at(m->ramp, last).z - low) / (last - first);
    bool even = fabs(dd_ramp_at(m->ramp, rear).z - low - rise * (rear - first)) < unevenness;
    for (int i = 0; i < t->axle_count; i++) {
        const double x = dd_chassis_point(k, m->rig->axle[i]).x;
        even &= fabs(dd_ramp_at(m->ramp, x).z - low - rise * (x - first)) < unevenness;
    }
    return even;
}

/* Each axle of a group by itself, which its plate is for: only as it would stand on a weighbridge. NaN: it does not, there is one
   axle only, or no rating. */
static double axle_own_use(const dd_study_model *m, const dd_seen *s)
{
    const dd_trailer_parameters *t = &m->rig->trailer;
    const dd_system_force *axles = dd_system_find(m->system, &dd_force_axles);
    const int first = dd_system_channel(m->system, &dd_force_axles, 0, "axle_load_N");
    double most = NAN;
    if (axles == NULL || t->axle_count < 2 || m->workspace->commands.uncoupled || fabs(s->v[DD_SEEN_RIG_SPEED]) > stands ||
        !(fabs(s->v[DD_SEEN_STOP_GAP]) < m->scenario.limits.stop_gap) || !on_even_ground(m, &m->workspace->kinematics))
        return NAN;
    for (int i = 0; i < t->axle_count; i++)
        most = fmax(most, 100 * m->workspace->channels[first + i * axles->channel_count] / (t->axles[i].rating * m->model.gravity));
    return most;
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
    const bool held = m->workspace->commands.brake > 0.999 || m->workspace->commands.park_lock > 0.999;
    s->v[DD_SEEN_SLIDE_SPEED] = held ? fabs(s->v[DD_SEEN_RIG_SPEED]) : 0.0;
    s->v[DD_SEEN_STRAP_TENSION] = or_zero(channel(m, &dd_force_strap, 0, "strap_tension_N"));
    s->v[DD_SEEN_STRAP_LENGTH] = channel(m, &dd_force_strap, 0, "strap_length_m");
    /* The ratchet holds the strap; the hand feels it only while it winds. */
    s->v[DD_SEEN_HANDLE_FORCE] =
        m->workspace->commands.wind_speed > 0 ? or_zero(channel(m, &dd_force_strap, 0, "handle_force_N")) : 0.0;
    s->v[DD_SEEN_STOP_LOAD] = or_zero(channel(m, &dd_force_bow_stop, 0, "stop_load_N"));
    s->v[DD_SEEN_STOP_GAP] = channel(m, &dd_force_bow_stop, 0, "stop_gap_m");
    s->v[DD_SEEN_COUPLING_LOAD] = channel(m, &dd_force_coupling, 0, "coupling_load_N");
    s->v[DD_SEEN_AXLE_LOAD] = axle_load(m);
    s->v[DD_SEEN_AXLE_USE] = axle_use(m, s->v[DD_SEEN_AXLE_LOAD]);
    s->v[DD_SEEN_AXLE_OWN_USE] = axle_own_use(m, s);
    s->v[DD_SEEN_FRICTION_NEEDED] = channel(m, &dd_force_wheels, 0, "friction_needed");
    s->v[DD_SEEN_FRICTION_LOW] = channel(m, &dd_force_wheels, 0, "friction_available_low");
    s->v[DD_SEEN_PUSH] = m->workspace->commands.push_force;
    for (int i = 0; i < DD_SEEN_COUNT; i++)
        if (observables[i].force != NULL) (void)fold(m, i, &s->v[i]);
    s->v[DD_SEEN_GRIP_USE] = s->v[DD_SEEN_FRICTION_LOW] > 0 ? 100 * s->v[DD_SEEN_FRICTION_NEEDED] / s->v[DD_SEEN_FRICTION_LOW] : NAN;
    read_supports(m, s);
    read_water(m, s);
    read_hull(m, s);
    read_guides(m, s);
    s->v[DD_SEEN_ROCKER_LEFT] = rocker_left(m);
    read_clearances(m, s);
    s->v[DD_SEEN_CARRIED] = s->v[DD_SEEN_SUPPORT_LOAD] + s->v[DD_SEEN_STOP_LOAD] + or_zero(s->v[DD_SEEN_ON_FRAME]);
    s->v[DD_SEEN_ROLL_STIFFNESS] = with_gradient ? dd_roll_stiffness(m->workspace) : NAN;
}

/* Columns that are left out when there is nothing in them. */
static int is_optional(int i)
{
    static const int optional[] = {DD_SEEN_ROCKER_LEFT,    DD_SEEN_ENGINE_CLEARANCE, DD_SEEN_FRAME_CLEARANCE,
                                   DD_SEEN_ACTUATOR_DEPTH, DD_SEEN_PLUG_DEPTH,       DD_SEEN_HOT_HUB_DEPTH,
                                   DD_SEEN_GUIDE_TOP,      DD_SEEN_OUTSIDE_GUIDE,
                                   DD_SEEN_AXLE_USE,       DD_SEEN_GUIDE_USE,        DD_SEEN_AXLE_OWN_USE};
    int found = observables[i].force != NULL;
    for (size_t k = 0; k < sizeof optional / sizeof optional[0]; k++) found |= optional[k] == i;
    return found;
}

double dd_seen_still_carried(const dd_seen *seen, double weight)
{
    const double *v = seen->v;
    return v[DD_SEEN_CARRIED] - v[DD_SEEN_STOP_LOAD] + fmin(v[DD_SEEN_STOP_LOAD], fmax(0.0, weight - v[DD_SEEN_BUOYANCY]));
}

dd_status dd_seen_columns(const dd_study_model *m, dd_recorder *recorder)
{
    dd_status status = DD_OK;
    for (int i = 0; i < DD_SEEN_COUNT && status == DD_OK; i++) {
        status = dd_recorder_column(recorder, observables[i].name, observables[i].unit, observables[i].help);
        if (is_optional(i)) dd_recorder_optional(recorder);
    }
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
