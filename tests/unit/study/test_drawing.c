/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The drawing of a run that moves: what is read back from its JSON, by the format's own words, against the side views and the events of the
   same run. Tolerances: lines and places are rounded to 0.5 mm, pitch to 0.005 deg (0.5 mm at 6 m), the quaternion to 5e-6 a part (0.2 mm at
   8 m): 3 mm over all; values to half of their last digit. Grade: closed form. */
#include <drawdock/study.h>
#include <jansson.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>
#include "lib/base/vector.h"

static const double millimetres = 0.003, degree = 0.017453292519943295;
static const char *const wholes[] = {"hooked", "uncoupled", "roped", "chained", "tied"};

typedef struct drawn {
    dd_case_file *file;
    dd_result *result;
    char *text;
    json_t *json;
} drawn;

static drawn draw(const char *name, const char *const *with)
{
    drawn d = {0};
    dd_error_list list = {0};
    dd_error error = {0};
    const char *const search[] = {SOURCE_DIR "/scenarios", NULL};
    char path[512];
    snprintf(path, sizeof path, SOURCE_DIR "/scenarios/%s.yaml", name);
    assert_int_equal(dd_case_read(path, with, search, &d.file, &list), DD_OK);
    assert_int_equal(dd_study_run(dd_case_of(d.file), NULL, NULL, &d.result, &error), DD_OK);
    d.text = dd_result_drawing_json(d.result);
    assert_non_null(d.text);
    d.json = json_loads(d.text, 0, NULL);
    assert_non_null(d.json);
    return d;
}

static void end(drawn *d)
{
    json_decref(d->json);
    free(d->text);
    dd_result_free(d->result);
    dd_case_free(d->file);
}

static const char *text_of(const json_t *object, const char *key) { return json_string_value(json_object_get(object, key)); }
static double number_of(const json_t *object, const char *key) { return json_number_value(json_object_get(object, key)); }

/* Value of a column in a frame; NaN: null, or no such column. */
static double value(const drawn *d, size_t frame, const char *name)
{
    size_t i, own = 0;
    json_t *column, *frames = json_object_get(d->json, "frames");
    json_array_foreach(json_object_get(d->json, "columns"), i, column)
    {
        const json_t *constant = json_object_get(column, "constant");
        const json_t *found = constant != NULL ? constant : json_array_get(json_array_get(frames, frame), own);
        own += constant == NULL;
        if (strcmp(text_of(column, "name"), name) != 0) continue;
        assert_true(json_is_integer(found) || json_is_null(found));
        return json_is_null(found) ? (double)NAN : (double)json_integer_value(found) * pow(10, -number_of(column, "decimals"));
    }
    return NAN;
}

static double turn_of(const drawn *d, size_t frame, const json_t *axes, size_t i)
{
    return value(d, frame, json_string_value(json_array_get(json_object_get(axes, "turn"), i)));
}

static dd_vec3 vector_of(const json_t *list, size_t first, double scale)
{
    return dd_vec(scale * json_number_value(json_array_get(list, first)), scale * json_number_value(json_array_get(list, first + 1)),
                  scale * json_number_value(json_array_get(list, first + 2)));
}

static dd_vec3 place(const drawn *d, size_t frame, int index, dd_vec3 p)
{
    const json_t *axes = json_array_get(json_object_get(d->json, "axes"), (size_t)index), *at = json_object_get(axes, "at");
    const char *name = text_of(axes, "name");
    if (strcmp(name, "world") == 0) return p;
    if (json_object_get(axes, "pivot") != NULL) {
        const dd_vec3 pivot = vector_of(json_object_get(axes, "pivot"), 0, 1e-3), axis = vector_of(json_object_get(axes, "axis"), 0, 1e-5);
        const double angle = turn_of(d, frame, axes, 0) * degree, c = cos(angle), s = sin(angle);
        const dd_vec3 arm = dd_sub(p, pivot); /* Rodrigues' formula */
        p = dd_add(dd_add(dd_scale(c, arm), dd_scale(s, dd_cross(axis, arm))), dd_scale((1 - c) * dd_dot(axis, arm), axis));
        return place(d, frame, 3, dd_add(p, pivot));
    }
    if (json_array_size(at) == 3) {
        const dd_mat3 turn = dd_rotation_of((dd_quaternion){turn_of(d, frame, axes, 0), turn_of(d, frame, axes, 1), turn_of(d, frame, axes, 2),
                                                            turn_of(d, frame, axes, 3)});
        return dd_add(dd_vec(value(d, frame, "hull_x"), value(d, frame, "hull_y"), value(d, frame, "hull_z")), dd_apply(&turn, p));
    }
    const dd_mat3 turn = dd_rotation_y(turn_of(d, frame, axes, 0) * degree);
    const dd_vec3 origin = dd_vec(value(d, frame, json_string_value(json_array_get(at, 0))), 0, value(d, frame, json_string_value(json_array_get(at, 1))));
    return dd_add(origin, dd_apply(&turn, p));
}

static dd_vec3 point_of(const drawn *d, size_t frame, const json_t *line, size_t i)
{
    const json_t *points = json_object_get(line, "points"), *to = json_object_get(line, "to");
    const bool last = 3 * (i + 1) == json_array_size(points);
    return place(d, frame, (int)json_number_value(last && to != NULL ? to : json_object_get(line, "axes")), vector_of(points, 3 * i, 1e-3));
}

static bool is_like(const drawn *d, size_t frame, const json_t *line, const dd_shape *shape)
{
    const size_t n = json_array_size(json_object_get(line, "points")) / 3;
    const double radius = number_of(line, "radius") / 1000;
    if (strcmp(text_of(line, "view"), "side") != 0 || strcmp(text_of(line, "shape"), shape->name) != 0) return false;
    if (radius > 0) { /* a ring: every point so far from the middle */
        const dd_vec3 middle = point_of(d, frame, line, 0);
        for (int i = 0; i < shape->count; i++)
            if (fabs(hypot(shape->xy[2 * i] - middle.x, shape->xy[2 * i + 1] - middle.z) - radius) > millimetres) return false;
        return true;
    }
    if ((int)n != shape->count) return false;
    for (size_t i = 0; i < n; i++) {
        const dd_vec3 p = point_of(d, frame, line, i);
        if (hypot(p.x - shape->xy[2 * i], p.z - shape->xy[2 * i + 1]) > millimetres) return false;
    }
    return true;
}

/* Every line of every side view but ground and water (drawn for another stretch) is one of the drawing's at that frame. */
static void follow_the_views(const drawn *d, int *checked)
{
    const json_t *lines = json_object_get(d->json, "lines"), *events = json_object_get(d->json, "events");
    for (int s = 0; s < d->result->shape_count; s++) {
        const dd_shape *shape = &d->result->shapes[s];
        const size_t frame = shape->event < 0 ? 0 : (size_t)number_of(json_array_get(events, (size_t)shape->event), "frame");
        bool found = strcmp(shape->name, "ramp") == 0 || strcmp(shape->name, "water") == 0;
        size_t i;
        json_t *line;
        json_array_foreach(lines, i, line) if (!found) found = is_like(d, frame, line, shape);
        if (!found) fail_msg("line %d, %s, of the view at event %d is not in the drawing", s, shape->name, shape->event);
        *checked += 1;
    }
}

/* The strap as drawn is as long as the record, which knows nothing of the drawing, says at that time; rows lie so close together that a
   straight line between them is good to 5 mm. */
static void strap_is_as_long_as_recorded(const drawn *d)
{
    const dd_result *r = d->result;
    const json_t *line = NULL, *lines = json_object_get(d->json, "lines");
    int column = -1, row = 0, compared = 0;
    for (size_t i = 0; i < json_array_size(lines); i++)
        if (strcmp(text_of(json_array_get(lines, i), "shape"), "strap") == 0) line = json_array_get(lines, i);
    for (int c = 0; c < r->column_count; c++)
        if (strcmp(r->columns[c].name, "drum_to_eye_m") == 0) column = c;
    assert_true(line != NULL && column >= 0);
    for (size_t f = 0; f < json_array_size(json_object_get(d->json, "frames")); f++) {
        const double t = value(d, f, "time");
        while (row + 2 < r->row_count && r->rows[(row + 1) * r->column_count] < t) row++;
        const double *a = &r->rows[row * r->column_count], *b = a + r->column_count, share = (t - a[0]) / (b[0] - a[0]);
        if (share > 1) continue; /* after the last row */
        const double told = a[column] + share * (b[column] - a[column]);
        assert_true(fabs(dd_norm(dd_sub(point_of(d, f, line, 0), point_of(d, f, line, 1))) - told) < 0.005 + 2 * millimetres);
        compared++;
    }
    assert_true(compared > 20);
}

/* Wheels stand on the ground: no gap, and no deeper than their tyres can be squashed; 6 mm: a frame lies within 3 mm of either. */
static void wheels_touch_the_ground(const drawn *d)
{
    const json_t *lines = json_object_get(d->json, "lines"), *ramp = NULL;
    const double squash = dd_case_of(d->file)->trailer.tyre_squash, frames = (double)json_array_size(json_object_get(d->json, "frames"));
    int wheels = 0;
    size_t i, at;
    json_t *line;
    json_array_foreach(lines, i, line) if (strcmp(text_of(line, "shape"), "ramp") == 0) ramp = line;
    assert_non_null(ramp);
    json_array_foreach(lines, i, line)
    {
        const char *axes = text_of(json_array_get(json_object_get(d->json, "axes"), (size_t)number_of(line, "axes")), "name");
        if (strcmp(text_of(line, "shape"), "wheel") != 0 || strncmp(axes, "axle_", 5) != 0) continue;
        wheels++;
        for (at = 0; at < (size_t)frames; at++) {
            const dd_vec3 hub = point_of(d, at, line, 0);
            double nearest = INFINITY;
            for (size_t p = 0; 3 * (p + 2) <= json_array_size(json_object_get(ramp, "points")); p++) {
                const dd_vec3 a = point_of(d, at, ramp, p), along = dd_sub(point_of(d, at, ramp, p + 1), a), to = dd_sub(hub, a);
                const double share = fmax(0, fmin(1, dd_dot(to, along) / dd_dot(along, along)));
                nearest = fmin(nearest, dd_norm(dd_sub(to, dd_scale(share, along))));
            }
            const double gap = nearest - number_of(line, "radius") / 1000;
            if (!(gap < 0.006 && gap > -1.5 * squash - 0.006)) fail_msg("a wheel %.0f mm off the ground", 1000 * gap);
        }
    }
    assert_true(wheels > 0);
}

static void frames_reproduce_the_side_views(void **state)
{
    (void)state;
    /* A hull that turns across the stream, a bed that tips, arms that pivot; each as far as that. */
    static const struct {
        const char *name, *with[2], *moves;
        int lines; /* of one view: more are checked */
    } runs[] = {{"teaching/swept-past", {NULL}, "hull_y", 30},
                {"rigs/four-skid-tilt-launch", {"time limit=13 s", NULL}, "bed_z", 14},
                {"rigs/four-multi-roller-launch", {"time limit=14 s", NULL}, "arm_0", 26}};
    for (size_t i = 0; i < sizeof runs / sizeof runs[0]; i++) {
        int checked = 0;
        drawn d = draw(runs[i].name, runs[i].with);
        const size_t last = json_array_size(json_object_get(d.json, "frames")) - 1;
        follow_the_views(&d, &checked);
        strap_is_as_long_as_recorded(&d);
        wheels_touch_the_ground(&d);
        assert_true(checked > runs[i].lines);
        assert_true(value(&d, last, runs[i].moves) != value(&d, 0, runs[i].moves));
        end(&d);
    }
}

static void events_and_values_are_the_results(void **state)
{
    (void)state;
    drawn d = draw("teaching/past-the-toe", NULL);
    const json_t *events = json_object_get(d.json, "events");
    assert_int_equal(json_array_size(events), d.result->event_count);
    assert_true(d.result->event_count > 3);
    for (int e = 0; e < d.result->event_count; e++) {
        const json_t *event = json_array_get(events, (size_t)e);
        const size_t frame = (size_t)number_of(event, "frame");
        assert_string_equal(text_of(event, "name"), d.result->events[e].name);
        assert_true(fabs(value(&d, frame, "time") - d.result->events[e].time) <= 0.51e-6);
        assert_true(fabs(value(&d, frame, "hub_depth_m") - d.result->events[e].hub_depth) <= 0.51e-3);
        assert_true(fabs(value(&d, frame, "vehicle_x") - d.result->events[e].rig_x) <= 0.51e-3);
    }
    const dd_result *r = d.result;
    int strap = -1, trim = -1;
    for (int c = 0; c < r->column_count; c++) {
        if (strcmp(r->columns[c].name, "strap_tension_N") == 0) strap = c;
        if (strcmp(r->columns[c].name, "trim_bow_down_deg") == 0) trim = c;
    }
    assert_true(strap >= 0 && trim >= 0);
    assert_true(fabs(value(&d, 0, "strap_tension_N") - r->rows[strap]) <= 0.51);
    assert_true(fabs(value(&d, 0, "trim_bow_down_deg") - r->rows[trim]) <= 0.0051);
    end(&d);
}

static void text_is_small_finite_safe_and_loses_no_peak(void **state)
{
    (void)state;
    const char *const with[] = {"title=<script>&amp;</script>", "water.wave.height=40 mm", "water.wave.period=4 s", NULL};
    drawn d = draw("teaching/tail-floats", with);
    const size_t frames = json_array_size(json_object_get(d.json, "frames")), levels = json_array_size(json_object_get(d.json, "levels"));
    double least = INFINITY, most = -INFINITY, strap = 0, margin = 0;
    assert_true(strlen(d.text) < 150000);
    assert_true(frames > 20 && frames <= 300 + json_array_size(json_object_get(d.json, "events")));
    assert_null(strpbrk(d.text, "<>&"));
    assert_string_equal(text_of(d.json, "title"), "<script>&amp;</script>");
    for (size_t f = 0; f < frames; f++) {
        assert_true(f == 0 || value(&d, f, "time") > value(&d, f - 1, "time"));
        assert_true(isfinite(value(&d, f, "hull_x")) && isfinite(value(&d, f, "water")) && isfinite(value(&d, f, "level_3")));
        least = fmin(least, value(&d, f, "level_3")), most = fmax(most, value(&d, f, "level_3"));
        strap = fmax(strap, value(&d, f, "strap_tension_N"));
        for (size_t s = 0; s < sizeof wholes / sizeof wholes[0]; s++) {
            const double on = value(&d, f, wholes[s]);
            assert_true(on == 0 || on == 1);
        }
    }
    assert_int_equal(levels, 16);
    assert_true(most - least > 0.02); /* the wave runs through it */
    for (int m = 0; m < d.result->margin_count; m++)
        if (strcmp(d.result->margins[m].channel, "strap_tension_N") == 0) margin = d.result->margins[m].value;
    assert_true(margin > 1000);
    assert_true(fabs(strap - margin) <= 0.004 * margin); /* frames are chosen so that no peak is lost */
    end(&d);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(frames_reproduce_the_side_views), cmocka_unit_test(events_and_values_are_the_results),
                                       cmocka_unit_test(text_is_small_finite_safe_and_loses_no_peak)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
