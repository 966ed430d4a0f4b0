/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/shapes.h"
#include "lib/force/axles.h"
#include "lib/force/roller_patch.h"
#include "lib/shore/shore.h"
#include <stdlib.h>

static const double degrees = 57.295779513082320877;
/* As drawn, m: of a skid; of a member and the gap from a tyre to it; of a roller whose width is not told. */
static const double skid_thickness = 0.05, member = 0.08, tyre_gap = 0.10, roller_width = 0.12;

enum { HULL_POINTS = 40, ROOM = 2 * HULL_POINTS + 1, GROUND_POINTS = 4000 };

/* A line as it grows. */
typedef struct line {
    dd_vec3 at[ROOM];
    int count;
} line;

static void put(line *l, double x, double y, double z) { l->at[l->count++] = dd_vec(x, y, z); }
static void put_point(line *l, dd_vec3 p) { l->at[l->count++] = p; }

static dd_drawing_line *add(dd_drawing *d, const char *shape, int axes, int view, const line *l)
{
    return dd_drawing_add(d, shape, axes, view, l->at, l->count);
}

static void add_disc(dd_drawing *d, const char *shape, int axes, dd_vec3 centre, double radius)
{
    dd_drawing_line *disc = dd_drawing_add(d, shape, axes, DD_SIDE_VIEW, &centre, 1);
    if (disc != NULL) disc->radius = radius;
}

/* A line between points of two bodies, there while a switch is on; -1: always. */
static void add_between(dd_drawing *d, const char *shape, int from, dd_vec3 a, int to, dd_vec3 b, int shown)
{
    const dd_vec3 ends[] = {a, b};
    for (int view = DD_SIDE_VIEW; view <= DD_PLAN_VIEW; view++) {
        dd_drawing_line *l = dd_drawing_add(d, shape, from, view, ends, 2);
        if (l == NULL) return;
        l->to = to;
        l->shown = shown;
    }
}

/* Seen from above, half as long and half as wide as told, at the height of its middle. */
static void add_rectangle(dd_drawing *d, const char *shape, int axes, dd_vec3 middle, double half_length, double half_width)
{
    line l = {.count = 0};
    for (int i = 0; i <= 4; i++)
        put(&l, middle.x + (i == 1 || i == 2 ? half_length : -half_length), middle.y + (i == 2 || i == 3 ? half_width : -half_width),
            middle.z);
    add(d, shape, axes, DD_PLAN_VIEW, &l);
}

/* --- vehicle ------------------------------------------------------------------------------------------------------- */

static void add_vehicle(const dd_study_model *m, dd_drawing *d)
{
    const dd_vehicle_parameters *v = &m->rig->vehicle;
    const double tail = 0.7 * v->coupling_behind_rear_axle, r = v->tyre_radius, base = v->wheelbase, half = 0.5 * v->body_width;
    /* A plain body of our own drawing: bonnet, cabin, tray. Aft of the rear axle, above the ground. */
    const double body[][2] = {{tail, r},
                              {tail, 3.0 * r},
                              {0.25 * -base, 3.0 * r},
                              {0.3 * -base, 4.8 * r},
                              {-0.75 * base, 4.8 * r},
                              {-0.95 * base, 3 * r},
                              {-1.22 * base, 2.7 * r},
                              {-1.25 * base, r},
                              {tail, r}};
    /* The ball goes with the vehicle: its place in the vehicle's axes is that on any ground. */
    const dd_vehicle_pose pose = dd_vehicle_on_profile(v, m->ramp, 0);
    const dd_mat3 turn = dd_rotation_y(pose.pitch);
    const dd_vec3 ball = dd_apply_transposed(&turn, dd_sub(pose.ball, dd_vec(0, 0, pose.rear_z)));
    line side = {.count = 0}, cabin = {.count = 0}, plan = {.count = 0}, bar = {.count = 0};
    for (size_t i = 0; i < sizeof body / sizeof body[0]; i++) put(&side, body[i][0], 0, body[i][1]);
    put_point(&side, ball); /* the bar with the ball, no area */
    add(d, "vehicle", DD_AXES_VEHICLE, DD_SIDE_VIEW, &side);
    for (int i = 0; i < 2; i++) {
        add_disc(d, "wheel", DD_AXES_VEHICLE, dd_vec(-i * base, 0, r), r);
        for (int s = -1; s <= 1; s += 2)
            add_rectangle(d, "wheel", DD_AXES_VEHICLE, dd_vec(-i * base, s * (half - 0.5 * v->tyre_width), r), r, 0.5 * v->tyre_width);
    }
    const double corner = 0.25 * half;
    const double outline[][2] = {{tail, -half}, {tail, half}, {-1.25 * base + corner, half}, {-1.25 * base, half - corner},
                                 {-1.25 * base, corner - half}, {-1.25 * base + corner, -half}, {tail, -half}};
    for (size_t i = 0; i < sizeof outline / sizeof outline[0]; i++) put(&plan, outline[i][0], outline[i][1], 3 * r);
    add(d, "vehicle", DD_AXES_VEHICLE, DD_PLAN_VIEW, &plan);
    put(&bar, tail, 0, ball.z);
    put_point(&bar, ball);
    add(d, "vehicle", DD_AXES_VEHICLE, DD_PLAN_VIEW, &bar);
    for (int i = 0; i <= 4; i++)
        put(&cabin, i == 1 || i == 2 ? -0.8 * base : -0.28 * base, (i == 2 || i == 3 ? 0.8 : -0.8) * half, 4.8 * r);
    add(d, "vehicle", DD_AXES_VEHICLE, DD_PLAN_VIEW, &cabin);
    if (m->rig->trailer.rope.length > 0) add_between(d, "rope", DD_AXES_VEHICLE, ball, DD_AXES_CHASSIS, dd_vec(0, 0, 0), DD_DRAWN_ROPED);
}

/* --- trailer ------------------------------------------------------------------------------------------------------- */

/* Rollers as they stand on their arms; in the side view the other side's hide behind them. */
static void add_rollers(const dd_study_model *m, dd_drawing *d)
{
    for (int i = 0; i < m->rig->roller_count; i++) {
        const dd_roller *r = &m->rig->rollers[i];
        const int axes = r->arm > 0 ? DD_AXES_ARM + r->arm - 1 : DD_AXES_BED;
        const double told = r->width > 0 ? r->width : m->rig->trailer.supports[r->support].width, w = 0.5 * (told > 0 ? told : roller_width);
        line plan = {.count = 0};
        if (r->skid > 0) continue;
        if (r->side >= 0) add_disc(d, "support", axes, r->centre, r->radius);
        for (int c = 0; c <= 4; c++)
            put_point(&plan, dd_add(dd_add(r->centre, dd_scale(c == 1 || c == 2 ? w : -w, r->axis)),
                                    dd_vec(c == 2 || c == 3 ? r->radius : -r->radius, 0, 0)));
        add(d, "support", axes, DD_PLAN_VIEW, &plan);
    }
}

/* Each arm from its pivot to its first and its last roller. */
static void add_arms(const dd_study_model *m, dd_drawing *d)
{
    d->arm_count = m->rig->arm_count;
    for (int a = 0; a < m->rig->arm_count; a++) {
        const dd_arm *arm = &m->rig->arms[a];
        line shape = {.count = 0};
        d->pivot[a] = arm->pivot;
        d->axis[a] = arm->axis;
        if (arm->count < 1) continue;
        put_point(&shape, m->rig->rollers[arm->first].centre);
        put_point(&shape, arm->pivot);
        put_point(&shape, m->rig->rollers[arm->first + arm->count - 1].centre);
        if (m->rig->rollers[arm->first].side >= 0) add(d, "arm", DD_AXES_ARM + a, DD_SIDE_VIEW, &shape);
        add(d, "arm", DD_AXES_ARM + a, DD_PLAN_VIEW, &shape);
    }
}

static void add_skids(const dd_study_model *m, dd_drawing *d)
{
    for (int i = 0; i < m->rig->skid_count; i++) {
        const dd_skid *skid = &m->rig->skids[i];
        const dd_vec3 front = dd_add(skid->rear, dd_scale(skid->length, skid->along)), down = dd_vec(0, 0, -skid_thickness);
        const dd_support *s = &m->rig->trailer.supports[skid->support];
        line side = {.count = 0};
        put_point(&side, skid->rear);
        put_point(&side, front);
        put_point(&side, dd_add(front, down));
        put_point(&side, dd_add(skid->rear, down));
        put_point(&side, skid->rear);
        add(d, "support", DD_AXES_BED, DD_SIDE_VIEW, &side);
        for (int n = -1; n <= 1; n += 2) {
            const double y = s->under == DD_UNDER_KEEL ? 0 : n * s->half_spacing; /* the boat's port is -y */
            if ((s->side == DD_SIDE_PORT && n > 0) || (s->side == DD_SIDE_STARBOARD && n < 0) || (s->under == DD_UNDER_KEEL && n > 0)) continue;
            add_rectangle(d, "support", DD_AXES_BED, dd_vec(0.5 * (skid->rear.x + front.x), y, skid->rear.z), 0.5 * fabs(front.x - skid->rear.x),
                          0.5 * (s->width > 0 ? s->width : roller_width));
        }
    }
}

/* Their faces; in the side view the nearer side's. */
static void add_guides(const dd_study_model *m, dd_drawing *d)
{
    for (int i = 0; i < m->rig->guide_count; i++) {
        const dd_guide *g = &m->rig->guides[i];
        const dd_vec3 half = dd_vec(fmax(0.5 * g->length, g->radius), 0, 0), down = dd_vec(0, 0, -g->height);
        line shape = {.count = 0};
        put_point(&shape, dd_sub(g->top, half));
        put_point(&shape, dd_add(g->top, half));
        put_point(&shape, dd_add(dd_add(g->top, half), down));
        put_point(&shape, dd_add(dd_sub(g->top, half), down));
        put_point(&shape, dd_sub(g->top, half));
        if (g->side >= 0) add(d, "guide", DD_AXES_BED, DD_SIDE_VIEW, &shape);
        add_rectangle(d, "guide", DD_AXES_BED, g->top, half.x, g->radius);
    }
}

/* Seen from above: drawbar, two members, a cross-member at each axle and at the rear end. */
static void add_frame_plan(const dd_study_model *m, dd_drawing *d)
{
    const dd_trailer_parameters *t = &m->rig->trailer;
    const double half = 0.5 * t->track - 0.5 * t->tyre_width - tyre_gap - 0.5 * member, rear = t->rear_end_behind_coupling;
    const double spread = fmin(0.35 * rear, 1.5 * half + 0.4); /* where the drawbar has become the frame */
    line outline = {.count = 0};
    put(&outline, 0, 0, 0);
    put(&outline, spread, -half, 0);
    put(&outline, rear, -half, 0);
    put(&outline, rear, half, 0);
    put(&outline, spread, half, 0);
    put(&outline, 0, 0, 0);
    add(d, "trailer", DD_AXES_CHASSIS, DD_PLAN_VIEW, &outline);
    for (int i = 0; i < t->axle_count; i++) {
        line axle = {.count = 0};
        const dd_vec3 at = m->rig->axle[i];
        put(&axle, at.x, -0.5 * t->track, at.z);
        put(&axle, at.x, 0.5 * t->track, at.z);
        add(d, "trailer", DD_AXES_CHASSIS, DD_PLAN_VIEW, &axle);
        for (int s = -1; s <= 1; s += 2)
            add_rectangle(d, "wheel", DD_AXES_CHASSIS, dd_vec(at.x, s * 0.5 * t->track, at.z), t->tyre_radius, 0.5 * t->tyre_width);
    }
}

static void add_lines(const dd_study_model *m, dd_drawing *d, dd_vec3 winch)
{
    const dd_trailer_parameters *t = &m->rig->trailer;
    double first, last, y[DD_STRAKES + 3], z[DD_STRAKES + 3];
    const dd_vec3 eye = dd_hull_bow_eye(m->hull);
    if (isfinite(t->chain.slack_at_home))
        add_between(d, "chain", DD_AXES_BED, dd_vec(winch.x, 0, t->chain.above_ground - t->coupling_height), DD_AXES_HULL, eye, DD_DRAWN_CHAINED);
    dd_hull_extent(m->hull, &first, &last);
    const int n = dd_hull_section(m->hull, first, y, z);
    for (int s = -1; s <= 1 && isfinite(t->ties.behind_coupling); s += 2) /* the boat's port is the trailer's -y */
        add_between(d, "tie", DD_AXES_BED, dd_vec(t->ties.behind_coupling, -s * t->ties.half_spacing, t->ties.above_ground - t->coupling_height),
                    DD_AXES_HULL, dd_vec(first, s * y[n - 2], z[n - 2]), DD_DRAWN_TIED);
    add_between(d, "strap", DD_AXES_BED, winch, DD_AXES_HULL, eye, DD_DRAWN_HOOKED);
}

static void add_trailer(const dd_study_model *m, dd_drawing *d)
{
    const dd_trailer_parameters *t = &m->rig->trailer;
    line frame = {.count = 0}, post = {.count = 0}, block = {.count = 0}, drum = {.count = 0};
    const dd_vec3 winch = dd_vec(t->winch.behind_coupling, 0, t->winch.above_ground - t->coupling_height),
                  stop = dd_vec(t->bow_stop.behind_coupling, 0, t->bow_stop.above_ground - t->coupling_height);
    put(&frame, 0, 0, 0);
    put(&frame, m->rig->tilts ? m->rig->hinge.x : t->rear_end_behind_coupling, 0, m->rig->tilts ? m->rig->hinge.z : 0);
    add(d, "trailer", DD_AXES_CHASSIS, DD_SIDE_VIEW, &frame);
    if (m->rig->tilts) { /* the bed from its hinge to its end, and its fore part, which rises as it tips */
        line bed = {.count = 0};
        put_point(&bed, m->rig->hinge);
        put(&bed, t->rear_end_behind_coupling, 0, 0);
        add(d, "trailer", DD_AXES_BED, DD_SIDE_VIEW, &bed);
        put_point(&post, m->rig->hinge);
    }
    put(&post, winch.x, 0, 0);
    put_point(&post, winch);
    put_point(&post, stop);
    add(d, "trailer", DD_AXES_BED, DD_SIDE_VIEW, &post);
    for (int i = 0; i < t->axle_count; i++) add_disc(d, "wheel", DD_AXES_AXLE + i, dd_vec(0, 0, 0), t->tyre_radius + t->tyre_squash);
    add_frame_plan(m, d);
    add_arms(m, d);
    add_skids(m, d);
    add_rollers(m, d);
    add_guides(m, d);
    const dd_jockey_parameters *jockey = &t->jockey;
    if (m->rig->uncouples && isfinite(jockey->behind_coupling)) { /* its foot is where the frame says */
        const double r = isfinite(jockey->wheel_radius) ? jockey->wheel_radius : 0.1;
        const dd_vec3 ends[] = {dd_vec(jockey->behind_coupling, 0, 0), dd_vec(0, 0, 0)};
        dd_drawing_line *leg = dd_drawing_add(d, "jockey", DD_AXES_CHASSIS, DD_SIDE_VIEW, ends, 2);
        if (leg != NULL) leg->shown = DD_DRAWN_UNCOUPLED, leg->radius = r;
    }
    add_disc(d, "stop", DD_AXES_BED, dd_sub(stop, dd_vec(0.03, 0, 0)), 0.03);
    const double half = isfinite(t->bow_stop.half_width) && t->bow_stop.half_width > 0 ? t->bow_stop.half_width : 0.08;
    put(&block, stop.x, -half, stop.z);
    put(&block, stop.x, half, stop.z);
    add(d, "stop", DD_AXES_BED, DD_PLAN_VIEW, &block);
    put(&drum, winch.x, 0, winch.z);
    put_point(&drum, stop);
    add(d, "trailer", DD_AXES_BED, DD_PLAN_VIEW, &drum);
    add_lines(m, d, winch);
}

/* --- hull ---------------------------------------------------------------------------------------------------------- */

static void add_hull(const dd_study_model *m, dd_drawing *d)
{
    line side = {.count = 0}, plan = {.count = 0}, keel = {.count = 0}, chines[2] = {{.count = 0}, {.count = 0}};
    double first, last, y[DD_STRAKES + 3], z[DD_STRAKES + 3];
    dd_hull_extent(m->hull, &first, &last);
    for (int i = 0; i < 2 * HULL_POINTS + 1; i++) {
        const int back = i >= HULL_POINTS, at = i == 2 * HULL_POINTS ? 0 : back ? 2 * HULL_POINTS - 1 - i : i;
        const double x = first + (last - first) * at / (HULL_POINTS - 1);
        const int n = dd_hull_section(m->hull, x, y, z);
        put(&side, x, 0, back && i < 2 * HULL_POINTS ? z[n - 1] : z[0]);
        put(&plan, x, back && i < 2 * HULL_POINTS ? -y[n - 1] : y[n - 1], z[n - 1]);
        if (back) continue;
        put(&chines[0], x, y[n - 2], z[n - 2]);
        put(&chines[1], x, -y[n - 2], z[n - 2]);
    }
    put(&keel, first, 0, 0);
    put(&keel, last, 0, 0);
    add(d, "hull", DD_AXES_HULL, DD_PLAN_VIEW, &plan);
    for (int i = 0; i < 2; i++) add(d, "chine", DD_AXES_HULL, DD_PLAN_VIEW, &chines[i]);
    add(d, "keel", DD_AXES_HULL, DD_PLAN_VIEW, &keel);
    add(d, "hull", DD_AXES_HULL, DD_SIDE_VIEW, &side);
    add(d, "chine", DD_AXES_HULL, DD_SIDE_VIEW, &chines[0]);
}

/* From the vehicle's rear axle seaward. */
static double level_at(int i) { return -8.0 + 1.6 * i; }

void dd_shapes_add(const dd_study_model *m, dd_drawing *d)
{
    add_vehicle(m, d);
    add_trailer(m, d);
    add_hull(m, d);
    d->level_count = m->model.water.wave.height > 0 ? DD_DRAWING_LEVELS : 0;
    for (int i = 0; i < d->level_count; i++) d->level_at[i] = level_at(i);
    const double toe = dd_ramp_toe(m->ramp);
    if (isfinite(toe)) d->toe = toe;
}

void dd_shapes_ground(const dd_study_model *m, double from, double to, dd_drawing *d)
{
    const double step = fmax(0.1, (to - from) / (GROUND_POINTS - 2)), straight = 1e-7; /* m */
    dd_vec3 *points = malloc(GROUND_POINTS * sizeof *points);
    int count = 0;
    if (points == NULL) {
        d->failed = true;
        return;
    }
    for (double x = from; x < to + step; x += step) {
        const dd_vec3 here = dd_vec(x, 0, dd_ramp_at(m->ramp, x).z);
        if (count > 1) { /* a straight stretch keeps its ends */
            const dd_vec3 to_last = dd_sub(points[count - 1], points[count - 2]), on = dd_sub(here, points[count - 1]);
            if (fabs(on.z * to_last.x - to_last.z * on.x) < straight) count--;
        }
        points[count++] = here;
    }
    dd_drawing_add(d, "ramp", DD_AXES_WORLD, DD_SIDE_VIEW, points, count);
    free(points);
}

/* --- where they stand ---------------------------------------------------------------------------------------------- */

static double arm_angle(const dd_study_model *m, const dd_arm *arm)
{
    const int index = dd_system_channel(m->system, &dd_force_roller, arm->first, "arm_angle_deg");
    return index >= 0 ? m->workspace->channels[index] / degrees : 0.0;
}

static void frame_water(const dd_study_model *m, const dd_kinematics *k, double *v)
{
    const dd_water *water = &m->model.water;
    const double x = dd_hull_point(k, dd_vec(0, 0, 0)).x;
    const dd_water_surface surface = dd_water_surface_at(water, x, k->time);
    v[DD_DRAWN_WATER] = surface.level;
    for (int i = 0; water->wave.height > 0 && i < DD_DRAWING_LEVELS; i++)
        v[DD_DRAWN_LEVEL + i] = dd_water_surface_at(water, v[DD_DRAWN_VEHICLE_X] + level_at(i), k->time).level;
    const double depth = surface.level - dd_ramp_at(m->ramp, x).z;
    if (depth <= 0) return;
    v[DD_DRAWN_STREAM] = dd_water_flow_at(water, x, k->time, fmin(depth, 0.2), depth).along_y;
}

void dd_shapes_frame(const dd_study_model *m, const dd_kinematics *k, bool hooked, double v[DD_DRAWN_COUNT])
{
    const dd_commands *commands = &m->workspace->commands;
    const double chassis = k->pose.rig[DD_RIG_PITCH], bed = chassis + k->pose.rig[DD_RIG_TILT], half = 0.5 * bed;
    for (int c = 0; c < DD_DRAWN_COUNT; c++) v[c] = NAN;
    v[DD_DRAWN_TIME] = k->time;
    v[DD_DRAWN_VEHICLE_X] = k->pose.rig[DD_RIG_X];
    v[DD_DRAWN_VEHICLE_Z] = k->vehicle.rear_z;
    v[DD_DRAWN_VEHICLE_PITCH] = k->vehicle.pitch;
    v[DD_DRAWN_CHASSIS_X] = k->coupling.x, v[DD_DRAWN_CHASSIS_Z] = k->coupling.z;
    v[DD_DRAWN_CHASSIS_PITCH] = chassis;
    for (int i = 0; i < m->rig->trailer.axle_count; i++) {
        const dd_vec3 hub = dd_axle_stands(m->rig, m->ramp, k, i).hub;
        v[DD_DRAWN_AXLE_0_X + 2 * i] = hub.x, v[DD_DRAWN_AXLE_0_Z + 2 * i] = hub.z;
    }
    v[DD_DRAWN_BED_X] = k->bed.x, v[DD_DRAWN_BED_Z] = k->bed.z;
    v[DD_DRAWN_BED_PITCH] = bed;
    v[DD_DRAWN_HULL_X] = k->origin.x, v[DD_DRAWN_HULL_Y] = k->origin.y, v[DD_DRAWN_HULL_Z] = k->origin.z;
    const dd_quaternion a = k->pose.attitude, q = dd_quaternion_multiply((dd_quaternion){cos(half), 0, sin(half), 0}, a);
    const double size = sqrt(q.w * q.w + q.x * q.x + q.y * q.y + q.z * q.z);
    v[DD_DRAWN_HULL_W] = q.w / size, v[DD_DRAWN_HULL_I] = q.x / size, v[DD_DRAWN_HULL_J] = q.y / size, v[DD_DRAWN_HULL_K] = q.z / size;
    v[DD_DRAWN_HOOKED] = hooked, v[DD_DRAWN_UNCOUPLED] = commands->uncoupled, v[DD_DRAWN_ROPED] = commands->rope_hooked;
    v[DD_DRAWN_CHAINED] = commands->chain_hooked, v[DD_DRAWN_TIED] = commands->ties_hooked;
    const dd_jockey_parameters *jockey = &m->rig->trailer.jockey;
    if (m->rig->uncouples && isfinite(jockey->behind_coupling))
        v[DD_DRAWN_FOOT] = dd_ramp_at(m->ramp, dd_chassis_point(k, dd_vec(jockey->behind_coupling, 0, 0)).x).z +
                           (isfinite(jockey->wheel_radius) ? jockey->wheel_radius : 0.1);
    for (int i = 0; i < m->rig->arm_count; i++) v[DD_DRAWN_ARM + i] = arm_angle(m, &m->rig->arms[i]);
    frame_water(m, k, v);
}

dd_vec3 dd_shapes_point(const dd_drawing *d, const double v[DD_DRAWN_COUNT], int axes, dd_vec3 p)
{
    static const int first[] = {0, DD_DRAWN_VEHICLE_X, DD_DRAWN_CHASSIS_X, DD_DRAWN_BED_X};
    _Static_assert((int)DD_DRAWING_AXLES == (int)DD_AXLES, "each axle has its axes");
    if (axes == DD_AXES_WORLD) return p;
    if (axes >= DD_AXES_ARM) {
        const dd_arm arm = {.pivot = d->pivot[axes - DD_AXES_ARM], .axis = d->axis[axes - DD_AXES_ARM]};
        dd_vec3 axle = dd_vec(0, 1, 0);
        dd_arm_turn(&arm, v[DD_DRAWN_ARM + axes - DD_AXES_ARM], &p, &axle);
        axes = DD_AXES_BED;
    }
    if (axes == DD_AXES_HULL) {
        const dd_mat3 turn = dd_rotation_of((dd_quaternion){v[DD_DRAWN_HULL_W], v[DD_DRAWN_HULL_I], v[DD_DRAWN_HULL_J], v[DD_DRAWN_HULL_K]});
        return dd_add(dd_vec(v[DD_DRAWN_HULL_X], v[DD_DRAWN_HULL_Y], v[DD_DRAWN_HULL_Z]), dd_apply(&turn, p));
    }
    const bool axle = axes >= DD_AXES_AXLE;
    const int at = axle ? DD_DRAWN_AXLE_0_X + 2 * (axes - DD_AXES_AXLE) : first[axes];
    const dd_mat3 turn = dd_rotation_y(v[axle ? DD_DRAWN_CHASSIS_PITCH : at + 2]);
    return dd_add(dd_vec(v[at], 0, v[at + 1]), dd_apply(&turn, p));
}
