/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/picture.h"
#include "lib/force/roller_patch.h"

static const double skid_thickness = 0.05; /* as drawn, m */
static const double degrees = 57.295779513082320877;
#include "lib/shore/shore.h"

enum { HULL_POINTS = 40, RING = 24, RAMP_POINTS = 200 };

/* Points of one line; what the recorder refuses it reports at its end. */
typedef struct line {
    double xy[2 * RAMP_POINTS];
    int count;
} line;

static void put(line *l, dd_vec3 world)
{
    l->xy[2 * l->count] = world.x;
    l->xy[2 * l->count++ + 1] = world.z;
}

static dd_status draw_ground(const dd_study_model *m, const dd_kinematics *k, int event, dd_recorder *recorder)
{
    line ramp = {.count = 0}, water = {.count = 0};
    const double transom = dd_hull_point(k, dd_vec(0, 0, 0)).x;
    double first = k->pose.rig[DD_RIG_X] - 8.0, last = fmax(k->pose.rig[DD_RIG_X] + 16.0, transom + 2.0);
    const bool moves = dd_water_moves(&m->model.water);
    for (int i = 0; i < RAMP_POINTS; i++) {
        double x = first + (last - first) * i / (RAMP_POINTS - 1), z = dd_ramp_at(m->ramp, x).z;
        put(&ramp, dd_vec(x, 0, z));
        const double level = dd_water_surface_at(&m->model.water, x, k->time).level;
        if (water.count == 0 ? z < level : moves || i == RAMP_POINTS - 1) put(&water, dd_vec(x, 0, level));
    }
    dd_status status = dd_recorder_shape(recorder, "ramp", event, ramp.xy, ramp.count);
    return status == DD_OK && water.count > 0 ? dd_recorder_shape(recorder, "water", event, water.xy, water.count) : status;
}

static dd_status draw_ring(dd_vec3 centre, double radius, const char *name, int event, dd_recorder *recorder)
{
    line ring = {.count = 0};
    for (int i = 0; i <= RING; i++) {
        double angle = 2 * M_PI * i / RING;
        put(&ring, dd_vec(centre.x + radius * cos(angle), 0, centre.z + radius * sin(angle)));
    }
    return dd_recorder_shape(recorder, name, event, ring.xy, ring.count);
}

/* Keel line forward, sheer line back. */
static dd_status draw_hull(const dd_study_model *m, const dd_kinematics *k, int event, dd_recorder *recorder)
{
    line outline = {.count = 0};
    double first, last, y[DD_STRAKES + 3], z[DD_STRAKES + 3];
    dd_hull_extent(m->hull, &first, &last);
    for (int i = 0; i < 2 * HULL_POINTS + 1; i++) {
        int back = i >= HULL_POINTS, at = i == 2 * HULL_POINTS ? 0 : back ? 2 * HULL_POINTS - 1 - i : i;
        double x = first + (last - first) * at / (HULL_POINTS - 1);
        int n = dd_hull_section(m->hull, x, y, z);
        put(&outline, dd_hull_point(k, dd_vec(x, 0, back && i < 2 * HULL_POINTS ? z[n - 1] : z[0])));
    }
    return dd_recorder_shape(recorder, "hull", event, outline.xy, outline.count);
}

static dd_status draw_vehicle(const dd_study_model *m, const dd_kinematics *k, int event, dd_recorder *recorder)
{
    const dd_vehicle_parameters *v = &m->rig->vehicle;
    double tail = 0.7 * v->coupling_behind_rear_axle, r = v->tyre_radius, base = v->wheelbase;
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
    dd_mat3 turn = dd_rotation_y(k->vehicle.pitch);
    dd_vec3 rear = dd_vec(k->pose.rig[DD_RIG_X], 0, dd_ramp_at(m->ramp, k->pose.rig[DD_RIG_X]).z);
    line outline = {.count = 0};
    for (size_t i = 0; i < sizeof body / sizeof body[0]; i++)
        put(&outline, dd_add(rear, dd_apply(&turn, dd_vec(body[i][0], 0, body[i][1]))));
    put(&outline, k->vehicle.ball); /* the bar with the ball, no area */
    dd_status status = dd_recorder_shape(recorder, "vehicle", event, outline.xy, outline.count);
    for (int i = 0; i < 2 && status == DD_OK; i++)
        status = draw_ring(dd_add(rear, dd_apply(&turn, dd_vec(-i * base, 0, r))), r, "wheel", event, recorder);
    return status;
}

static double arm_angle(const dd_study_model *m, const dd_arm *arm)
{
    int index = dd_system_channel(m->system, &dd_force_roller, arm->first, "arm_angle_deg");
    return index >= 0 ? m->workspace->channels[index] / degrees : 0.0;
}

/* Rollers as they stand on their arms; the other side's hide behind them. */
static dd_status draw_rollers(const dd_study_model *m, const dd_kinematics *k, int event, dd_recorder *recorder)
{
    dd_status status = DD_OK;
    for (int i = 0; i < m->rig->roller_count && status == DD_OK; i++) {
        const dd_roller *r = &m->rig->rollers[i];
        dd_vec3 centre = r->centre, axis = r->axis;
        if (r->side < 0 || r->skid > 0) continue;
        if (r->arm > 0) dd_arm_turn(&m->rig->arms[r->arm - 1], arm_angle(m, &m->rig->arms[r->arm - 1]), &centre, &axis);
        status = draw_ring(dd_trailer_point(k, centre), r->radius, "support", event, recorder);
    }
    return status;
}

/* Each arm from its pivot to its first and its last roller. */
static dd_status draw_arms(const dd_study_model *m, const dd_kinematics *k, int event, dd_recorder *recorder)
{
    dd_status status = DD_OK;
    for (int a = 0; a < m->rig->arm_count && status == DD_OK; a++) {
        const dd_arm *arm = &m->rig->arms[a];
        line shape = {.count = 0};
        if (arm->count < 1 || m->rig->rollers[arm->first].side < 0) continue;
        dd_vec3 axis = dd_vec(0, 1, 0), first = m->rig->rollers[arm->first].centre,
                last = m->rig->rollers[arm->first + arm->count - 1].centre;
        dd_arm_turn(arm, arm_angle(m, arm), &first, &axis);
        dd_arm_turn(arm, arm_angle(m, arm), &last, &axis);
        put(&shape, dd_trailer_point(k, first));
        put(&shape, dd_trailer_point(k, arm->pivot));
        put(&shape, dd_trailer_point(k, last));
        status = dd_recorder_shape(recorder, "arm", event, shape.xy, shape.count);
    }
    return status;
}

static dd_status draw_skids(const dd_study_model *m, const dd_kinematics *k, int event, dd_recorder *recorder)
{
    dd_status status = DD_OK;
    for (int i = 0; i < m->rig->skid_count && status == DD_OK; i++) {
        const dd_skid *skid = &m->rig->skids[i];
        const dd_vec3 front = dd_add(skid->rear, dd_scale(skid->length, skid->along)), down = dd_vec(0, 0, -skid_thickness);
        line shape = {.count = 0};
        put(&shape, dd_trailer_point(k, skid->rear));
        put(&shape, dd_trailer_point(k, front));
        put(&shape, dd_trailer_point(k, dd_add(front, down)));
        put(&shape, dd_trailer_point(k, dd_add(skid->rear, down)));
        put(&shape, dd_trailer_point(k, skid->rear));
        status = dd_recorder_shape(recorder, "support", event, shape.xy, shape.count);
    }
    return status;
}

/* The nearer side's guides: their faces. */
static dd_status draw_guides(const dd_study_model *m, const dd_kinematics *k, int event, dd_recorder *recorder)
{
    dd_status status = DD_OK;
    for (int i = 0; i < m->rig->guide_count && status == DD_OK; i++) {
        const dd_guide *g = &m->rig->guides[i];
        const dd_vec3 half = dd_vec(fmax(0.5 * g->length, g->radius), 0, 0), down = dd_vec(0, 0, -g->height);
        line shape = {.count = 0};
        if (g->side < 0) continue;
        put(&shape, dd_trailer_point(k, dd_sub(g->top, half)));
        put(&shape, dd_trailer_point(k, dd_add(g->top, half)));
        put(&shape, dd_trailer_point(k, dd_add(dd_add(g->top, half), down)));
        put(&shape, dd_trailer_point(k, dd_add(dd_sub(g->top, half), down)));
        put(&shape, dd_trailer_point(k, dd_sub(g->top, half)));
        status = dd_recorder_shape(recorder, "guide", event, shape.xy, shape.count);
    }
    return status;
}

/* What a trailer off the ball stands and hangs on. */
static dd_status draw_loose(const dd_study_model *m, const dd_kinematics *k, int event, dd_recorder *recorder)
{
    const dd_jockey_parameters *jockey = &m->rig->trailer.jockey;
    const dd_commands *commands = &m->workspace->commands;
    dd_status status = DD_OK;
    if (commands->uncoupled && isfinite(jockey->behind_coupling)) {
        const double r = isfinite(jockey->wheel_radius) ? jockey->wheel_radius : 0.1;
        const dd_vec3 at = dd_chassis_point(k, dd_vec(jockey->behind_coupling, 0, 0));
        line leg = {.count = 0};
        const dd_vec3 foot = dd_vec(at.x, 0, dd_ramp_at(m->ramp, at.x).z + r);
        put(&leg, at);
        put(&leg, foot);
        status = dd_recorder_shape(recorder, "trailer", event, leg.xy, leg.count);
        if (status == DD_OK) status = draw_ring(foot, r, "wheel", event, recorder);
    }
    if (status != DD_OK || !commands->rope_hooked) return status;
    line rope = {.count = 0};
    put(&rope, k->vehicle.ball);
    put(&rope, k->coupling);
    return dd_recorder_shape(recorder, "rope", event, rope.xy, rope.count);
}

static dd_status draw_trailer(const dd_study_model *m, const dd_kinematics *k, int hooked, int event, dd_recorder *recorder)
{
    const dd_trailer_parameters *t = &m->rig->trailer;
    line frame = {.count = 0}, post = {.count = 0}, strap = {.count = 0};
    put(&frame, k->coupling);
    if (m->rig->tilts) put(&frame, k->hinge);
    put(&frame, dd_trailer_point(k, dd_vec(t->rear_end_behind_coupling, 0, 0)));
    double winch_height = t->winch.above_ground - t->coupling_height,
           stop_height = t->bow_stop.above_ground - t->coupling_height;
    dd_vec3 winch = dd_vec(t->winch.behind_coupling, 0, winch_height),
            stop = dd_vec(t->bow_stop.behind_coupling, 0, stop_height);
    if (m->rig->tilts) put(&post, k->hinge); /* the bed's fore part, which rises as it tips */
    put(&post, dd_trailer_point(k, dd_vec(winch.x, 0, 0)));
    put(&post, dd_trailer_point(k, winch));
    put(&post, dd_trailer_point(k, stop));
    put(&strap, dd_trailer_point(k, winch));
    put(&strap, dd_hull_point(k, dd_hull_bow_eye(m->hull)));
    dd_status status = dd_recorder_shape(recorder, "trailer", event, frame.xy, frame.count);
    if (status == DD_OK) status = dd_recorder_shape(recorder, "trailer", event, post.xy, post.count);
    for (int i = 0; i < t->axle_count && status == DD_OK; i++)
        status = draw_ring(dd_chassis_point(k, m->rig->axle[i]), t->tyre_radius, "wheel", event, recorder);
    if (status == DD_OK) status = draw_arms(m, k, event, recorder);
    if (status == DD_OK) status = draw_skids(m, k, event, recorder);
    if (status == DD_OK) status = draw_rollers(m, k, event, recorder);
    if (status == DD_OK) status = draw_guides(m, k, event, recorder);
    if (status == DD_OK) status = draw_loose(m, k, event, recorder);
    if (status == DD_OK)
        status = draw_ring(dd_trailer_point(k, dd_sub(stop, dd_vec(0.03, 0, 0))), 0.03, "stop", event, recorder);
    return status == DD_OK && hooked ? dd_recorder_shape(recorder, "strap", event, strap.xy, strap.count) : status;
}

dd_status dd_picture_draw(const dd_study_model *m, const dd_kinematics *k, int hooked, int event, dd_recorder *recorder)
{
    dd_status status = draw_ground(m, k, event, recorder);
    if (status == DD_OK) status = draw_vehicle(m, k, event, recorder);
    if (status == DD_OK) status = draw_trailer(m, k, hooked, event, recorder);
    return status == DD_OK ? draw_hull(m, k, event, recorder) : status;
}
