/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/picture.h"
#include "lib/shore/shore.h"
#include "lib/study/shapes.h"
#include <string.h>

enum { RING = 24, RAMP_POINTS = 200 };

/* Points of one line; what the recorder refuses it reports at its end. */
typedef struct line {
    double xy[2 * RAMP_POINTS];
    int count;
} line;

static void put(line *l, double x, double z)
{
    l->xy[2 * l->count] = x;
    l->xy[2 * l->count++ + 1] = z;
}

static dd_status draw_ground(const dd_study_model *m, const dd_kinematics *k, int event, dd_recorder *recorder)
{
    line ramp = {.count = 0}, water = {.count = 0};
    const double transom = dd_hull_point(k, dd_vec(0, 0, 0)).x;
    double first = k->pose.rig[DD_RIG_X] - 8.0, last = fmax(k->pose.rig[DD_RIG_X] + 16.0, transom + 2.0);
    const bool moves = dd_water_moves(&m->model.water);
    for (int i = 0; i < RAMP_POINTS; i++) {
        double x = first + (last - first) * i / (RAMP_POINTS - 1), z = dd_ramp_at(m->ramp, x).z;
        put(&ramp, x, z);
        const double level = dd_water_surface_at(&m->model.water, x, k->time).level;
        if (water.count == 0 ? z < level : moves || i == RAMP_POINTS - 1) put(&water, x, level);
    }
    dd_status status = dd_recorder_shape(recorder, "ramp", event, ramp.xy, ramp.count);
    return status == DD_OK && water.count > 0 ? dd_recorder_shape(recorder, "water", event, water.xy, water.count) : status;
}

static dd_status draw_ring(dd_vec3 centre, double radius, const char *name, int event, dd_recorder *recorder)
{
    line ring = {.count = 0};
    for (int i = 0; i <= RING; i++) {
        double angle = 2 * M_PI * i / RING;
        put(&ring, centre.x + radius * cos(angle), centre.z + radius * sin(angle));
    }
    return dd_recorder_shape(recorder, name, event, ring.xy, ring.count);
}

/* What a trailer off the ball stands on. */
static dd_status draw_jockey(dd_vec3 at, double foot, double radius, int event, dd_recorder *recorder)
{
    line leg = {.count = 0};
    put(&leg, at.x, at.z);
    put(&leg, at.x, foot);
    dd_status status = dd_recorder_shape(recorder, "trailer", event, leg.xy, leg.count);
    return status == DD_OK ? draw_ring(dd_vec(at.x, 0, foot), radius, "wheel", event, recorder) : status;
}

static dd_status draw_line(const dd_drawing *d, const dd_drawing_line *l, const double *frame, int event, dd_recorder *recorder)
{
    line out = {.count = 0};
    const dd_vec3 first = dd_shapes_point(d, frame, l->axes, l->points[0]);
    if (strcmp(l->shape, "jockey") == 0) return draw_jockey(first, frame[DD_DRAWN_FOOT], l->radius, event, recorder);
    if (l->radius > 0) return draw_ring(first, l->radius, l->shape, event, recorder);
    for (int i = 0; i < l->count && i < RAMP_POINTS; i++) {
        const dd_vec3 p = dd_shapes_point(d, frame, l->to >= 0 && i == l->count - 1 ? l->to : l->axes, l->points[i]);
        put(&out, p.x, p.z);
    }
    return dd_recorder_shape(recorder, l->shape, event, out.xy, out.count);
}

dd_status dd_picture_draw(const dd_study_model *m, const dd_kinematics *k, int hooked, int event, dd_recorder *recorder)
{
    double frame[DD_DRAWN_COUNT];
    dd_drawing *d = dd_drawing_create();
    if (d == NULL) return dd_recorder_no_memory(recorder);
    dd_shapes_add(m, d);
    dd_shapes_frame(m, k, hooked != 0, frame);
    dd_status status = d->failed ? dd_recorder_no_memory(recorder) : draw_ground(m, k, event, recorder);
    for (int i = 0; i < d->line_count && status == DD_OK; i++) {
        const dd_drawing_line *l = &d->lines[i];
        const bool strip = strcmp(l->shape, "chine") != 0 && strcmp(l->shape, "chain") != 0 && strcmp(l->shape, "tie") != 0;
        if (l->view == DD_SIDE_VIEW && strip && (l->shown < 0 || frame[l->shown] != 0))
            status = draw_line(d, l, frame, event, recorder);
    }
    dd_drawing_free(d);
    return status;
}

void dd_drawing_see(const dd_study_model *m, const dd_kinematics *k, const dd_seen *seen, dd_drawing *drawing)
{
    double frame[DD_DRAWN_COUNT];
    dd_shapes_frame(m, k, m->workspace->plan.set.strap_hooked, frame);
    frame[DD_DRAWN_TIME] = seen->v[DD_SEEN_TIME];
    frame[DD_DRAWN_STRAP] = seen->v[DD_SEEN_STRAP_TENSION];
    frame[DD_DRAWN_DEPTH] = seen->v[DD_SEEN_HUB_DEPTH];
    frame[DD_DRAWN_OFFSET] = seen->v[DD_SEEN_BOW_OFFSET];
    frame[DD_DRAWN_TRIM] = seen->v[DD_SEEN_TRIM];
    dd_drawing_frame(drawing, frame);
}

void dd_drawing_end(const dd_study_model *m, dd_drawing *drawing)
{
    double first = INFINITY, last = -INFINITY;
    for (int i = 0; i < drawing->frame_count; i++) {
        const double *frame = drawing->frames + (size_t)i * DD_DRAWN_COUNT;
        first = fmin(first, frame[DD_DRAWN_VEHICLE_X]);
        last = fmax(last, fmax(frame[DD_DRAWN_VEHICLE_X] + 12.0, frame[DD_DRAWN_HULL_X]));
    }
    if (first <= last) dd_shapes_ground(m, first - 12.0, last + 12.0, drawing);
}
