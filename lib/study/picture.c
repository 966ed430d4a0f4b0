/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/picture.h"
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
    double first = k->pose.rig[DD_RIG_X] - 8.0, last = k->pose.rig[DD_RIG_X] + 16.0;
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
    put(&outline, k->coupling); /* the bar with the ball, no area */
    dd_status status = dd_recorder_shape(recorder, "vehicle", event, outline.xy, outline.count);
    for (int i = 0; i < 2 && status == DD_OK; i++)
        status = draw_ring(dd_add(rear, dd_apply(&turn, dd_vec(-i * base, 0, r))), r, "wheel", event, recorder);
    return status;
}

static dd_status draw_trailer(const dd_study_model *m, const dd_kinematics *k, int hooked, int event, dd_recorder *recorder)
{
    const dd_trailer_parameters *t = &m->rig->trailer;
    line frame = {.count = 0}, post = {.count = 0}, strap = {.count = 0};
    put(&frame, k->coupling);
    put(&frame, dd_trailer_point(k, dd_vec(t->rear_end_behind_coupling, 0, 0)));
    double winch_height = t->winch.above_ground - t->coupling_height,
           stop_height = t->bow_stop.above_ground - t->coupling_height;
    dd_vec3 winch = dd_vec(t->winch.behind_coupling, 0, winch_height),
            stop = dd_vec(t->bow_stop.behind_coupling, 0, stop_height);
    put(&post, dd_trailer_point(k, dd_vec(winch.x, 0, 0)));
    put(&post, dd_trailer_point(k, winch));
    put(&post, dd_trailer_point(k, stop));
    put(&strap, dd_trailer_point(k, winch));
    put(&strap, dd_hull_point(k, dd_hull_bow_eye(m->hull)));
    dd_status status = dd_recorder_shape(recorder, "trailer", event, frame.xy, frame.count);
    if (status == DD_OK) status = dd_recorder_shape(recorder, "trailer", event, post.xy, post.count);
    for (int i = 0; i < t->axle_count && status == DD_OK; i++)
        status = draw_ring(dd_chassis_point(k, m->rig->axle[i]), t->tyre_radius, "wheel", event, recorder);
    for (int i = 0; i < m->rig->roller_count && status == DD_OK; i++)
        if (m->rig->rollers[i].side >= 0)
            status = draw_ring(dd_trailer_point(k, m->rig->rollers[i].centre), m->rig->rollers[i].radius, "support", event,
                               recorder);
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
