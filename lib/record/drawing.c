/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/record/drawing.h"
#include "lib/case/json_text.h"
#include "lib/record/events.h"
#include "lib/record/fields.h"
#include "lib/record/json_values.h"
#include "lib/record/list.h"
#include "lib/record/text.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FIRST_ROOM = 64 };
static const double degrees = 57.295779513082320877;

static const struct {
    const char *name;
    int decimals;
    double tolerance;
} columns[] = {
#define DD_DRAWN(id, name, decimals, tolerance) {name, decimals, tolerance},
#include "lib/record/drawing.def"
#undef DD_DRAWN
};

/* --- what is drawn ------------------------------------------------------------------------------------------------ */

dd_drawing *dd_drawing_create(void)
{
    dd_drawing *drawing = calloc(1, sizeof *drawing);
    if (drawing != NULL) drawing->toe = NAN;
    return drawing;
}

void dd_drawing_free(dd_drawing *drawing)
{
    if (drawing == NULL) return;
    for (int i = 0; i < drawing->line_count; i++) free(drawing->lines[i].points);
    free(drawing->lines);
    free(drawing->frames);
    free(drawing);
}

dd_drawing_line *dd_drawing_add(dd_drawing *drawing, const char *shape, int axes, int view, const dd_vec3 *points, int count)
{
    dd_drawing_line *lines = dd_list_room(drawing->lines, drawing->line_count, &drawing->line_room, FIRST_ROOM, sizeof *lines);
    if (lines != NULL) drawing->lines = lines;
    dd_vec3 *copy = lines != NULL ? malloc((size_t)count * sizeof *copy) : NULL;
    if (copy == NULL) {
        drawing->failed = true;
        return NULL;
    }
    memcpy(copy, points, (size_t)count * sizeof *copy);
    dd_drawing_line *line = &lines[drawing->line_count++];
    *line = (dd_drawing_line){.axes = axes, .to = -1, .view = view, .count = count, .shown = -1, .points = copy};
    dd_text_copy(line->shape, sizeof line->shape, shape);
    return line;
}

void dd_drawing_frame(dd_drawing *drawing, const double *values)
{
    const size_t size = DD_DRAWN_COUNT * sizeof(double);
    double *frames = dd_list_room(drawing->frames, drawing->frame_count, &drawing->frame_room, FIRST_ROOM, size);
    if (frames == NULL) {
        drawing->failed = true;
        return;
    }
    drawing->frames = frames;
    memcpy(frames + (size_t)drawing->frame_count++ * DD_DRAWN_COUNT, values, size);
}

/* --- fewer frames ------------------------------------------------------------------------------------------------- */

static int decimals_of(int column) { return column < DD_DRAWN_ARM ? columns[column].decimals : column < DD_DRAWN_LEVEL ? 2 : 3; }

static void name_of(int column, char name[32])
{
    if (column < DD_DRAWN_ARM)
        snprintf(name, 32, "%s", columns[column].name);
    else if (column < DD_DRAWN_LEVEL)
        snprintf(name, 32, "arm_%d", column - DD_DRAWN_ARM);
    else
        snprintf(name, 32, "level_%d", column - DD_DRAWN_LEVEL);
}

static bool is_angle(int column)
{
    return column == DD_DRAWN_VEHICLE_PITCH || column == DD_DRAWN_CHASSIS_PITCH || column == DD_DRAWN_BED_PITCH ||
           (column >= DD_DRAWN_ARM && column < DD_DRAWN_LEVEL);
}

static long long rounded(int column, double value)
{
    return llround(value * (is_angle(column) ? degrees : 1.0) * pow(10, decimals_of(column)));
}

typedef struct seen_frames {
    int count;
    const double **frame;           /* by time, the last of each time alone */
    bool *kept;
    double tolerance[DD_DRAWN_COUNT]; /* in SI; NaN: the column has no figure */
} seen_frames;

static int by_time(const void *left, const void *right)
{
    const double *const *a = left, *const *b = right;
    if ((*a)[DD_DRAWN_TIME] != (*b)[DD_DRAWN_TIME]) return (*a)[DD_DRAWN_TIME] < (*b)[DD_DRAWN_TIME] ? -1 : 1;
    return (*a > *b) - (*a < *b); /* as they came */
}

static void take_tolerances(seen_frames *s)
{
    for (int c = 0; c < DD_DRAWN_COUNT; c++) {
        double least = INFINITY, most = -INFINITY, t = c < DD_DRAWN_ARM ? columns[c].tolerance : c < DD_DRAWN_LEVEL ? 0.2 : 0.003;
        for (int i = 0; i < s->count; i++)
            if (isfinite(s->frame[i][c])) least = fmin(least, s->frame[i][c]), most = fmax(most, s->frame[i][c]);
        if (is_angle(c)) t /= degrees;
        if (t < 0) t = fmax(0.5, -t * (most - least));
        if (t == 0) t = 1e-9;
        s->tolerance[c] = most > least ? t : NAN; /* what does not change asks for no frame */
    }
}

/* Frame between two kept ones that lies farthest off the straight line between them, in tolerances; 0: none. */
static double farthest(const seen_frames *s, int from, int to, int *at)
{
    double worst = 0;
    const double *a = s->frame[from], *b = s->frame[to], span = b[DD_DRAWN_TIME] - a[DD_DRAWN_TIME];
    for (int i = from + 1; i < to; i++) {
        const double share = (s->frame[i][DD_DRAWN_TIME] - a[DD_DRAWN_TIME]) / span;
        for (int c = DD_DRAWN_TIME + 1; c < DD_DRAWN_COUNT; c++) {
            if (isnan(s->tolerance[c])) continue;
            const double off = fabs(a[c] + share * (b[c] - a[c]) - s->frame[i][c]) / s->tolerance[c];
            if (off > worst) worst = off, *at = i;
        }
    }
    return worst;
}

typedef struct stretch {
    int to, at;
    double off; /* of the frame `at`, tolerances */
} stretch;

/* Keeps the first, the last and those at events, then time and again the frame that lies farthest off. */
static void keep_the_telling(seen_frames *s, stretch *after, int most)
{
    int kept = 0, last = -1;
    for (int i = 0; i < s->count; i++) {
        if (!s->kept[i]) continue;
        if (last >= 0) {
            after[last].to = i;
            after[last].off = farthest(s, last, i, &after[last].at);
        }
        last = i;
        kept++;
    }
    while (kept < most) {
        int worst = -1;
        for (int i = 0; i < last; i = after[i].to)
            if (after[i].off > 1 && (worst < 0 || after[i].off > after[worst].off)) worst = i;
        if (worst < 0) break;
        const int at = after[worst].at, to = after[worst].to;
        s->kept[at] = true;
        kept++;
        after[worst] = (stretch){.to = at};
        after[at] = (stretch){.to = to};
        after[worst].off = farthest(s, worst, at, &after[worst].at);
        after[at].off = farthest(s, at, to, &after[at].at);
    }
}

static bool look_through(const dd_drawing *drawing, const dd_result *result, seen_frames *s)
{
    const size_t n = (size_t)drawing->frame_count;
    s->frame = calloc(n + 1, sizeof *s->frame);
    s->kept = calloc(n + 1, sizeof *s->kept);
    stretch *after = calloc(n + 1, sizeof *after);
    const bool ok = s->frame != NULL && s->kept != NULL && after != NULL;
    for (size_t i = 0; ok && i < n; i++) s->frame[i] = drawing->frames + i * DD_DRAWN_COUNT;
    if (ok && n > 0) {
        qsort(s->frame, n, sizeof *s->frame, by_time);
        for (size_t i = 0; i < n; i++)
            if (i + 1 == n || s->frame[i + 1][DD_DRAWN_TIME] > s->frame[i][DD_DRAWN_TIME]) s->frame[s->count++] = s->frame[i];
        s->kept[0] = s->kept[s->count - 1] = true;
        for (int i = 0, e = 0; i < s->count; i++) {
            while (e < result->event_count && result->events[e].time < s->frame[i][DD_DRAWN_TIME]) e++;
            if (e < result->event_count && result->events[e].time == s->frame[i][DD_DRAWN_TIME]) s->kept[i] = true;
        }
        take_tolerances(s);
        keep_the_telling(s, after, DD_DRAWING_FRAMES);
    }
    free(after);
    return ok;
}

/* --- the text ----------------------------------------------------------------------------------------------------- */

static json_t *whole(double value) { return isfinite(value) ? json_integer((json_int_t)llround(value)) : json_null(); }
static json_t *millimetres(double metres) { return whole(1000 * metres); }

static json_t *vector(dd_vec3 v, double scale, bool *failed)
{
    json_t *list = json_array();
    dd_json_append(list, whole(scale * v.x), failed);
    dd_json_append(list, whole(scale * v.y), failed);
    dd_json_append(list, whole(scale * v.z), failed);
    return list;
}

static json_t *names_of(const char *const *names, int count, bool *failed)
{
    json_t *list = json_array();
    for (int i = 0; i < count; i++) dd_json_append(list, dd_json_string(names[i]), failed);
    return list;
}

static json_t *axes_of(const dd_drawing *drawing, bool *failed)
{
    static const struct {
        const char *name, *at[3], *turn[4];
        int at_count, turn_count;
    } axes[] = {{"world", {NULL}, {NULL}, 0, 0},
                {"vehicle", {"vehicle_x", "vehicle_z"}, {"vehicle_pitch"}, 2, 1},
                {"chassis", {"chassis_x", "chassis_z"}, {"chassis_pitch"}, 2, 1},
                {"bed", {"bed_x", "bed_z"}, {"bed_pitch"}, 2, 1},
                {"hull", {"hull_x", "hull_y", "hull_z"}, {"hull_w", "hull_i", "hull_j", "hull_k"}, 3, 4},
                {"axle_0", {"axle_0_x", "axle_0_z"}, {"chassis_pitch"}, 2, 1},
                {"axle_1", {"axle_1_x", "axle_1_z"}, {"chassis_pitch"}, 2, 1},
                {"axle_2", {"axle_2_x", "axle_2_z"}, {"chassis_pitch"}, 2, 1},
                {"axle_3", {"axle_3_x", "axle_3_z"}, {"chassis_pitch"}, 2, 1}};
    json_t *list = json_array();
    for (int i = 0; i < DD_AXES_ARM; i++) {
        json_t *row = json_object();
        dd_json_put(row, "name", dd_json_string(axes[i].name), failed);
        dd_json_put(row, "at", names_of(axes[i].at, axes[i].at_count, failed), failed);
        dd_json_put(row, "turn", names_of(axes[i].turn, axes[i].turn_count, failed), failed);
        dd_json_append(list, row, failed);
    }
    for (int i = 0; i < drawing->arm_count; i++) {
        char name[32];
        const char *turn = name;
        json_t *row = json_object();
        name_of(DD_DRAWN_ARM + i, name);
        dd_json_put(row, "name", dd_json_string(name), failed);
        dd_json_put(row, "pivot", vector(drawing->pivot[i], 1e3, failed), failed);
        dd_json_put(row, "axis", vector(drawing->axis[i], 1e5, failed), failed);
        dd_json_put(row, "turn", names_of(&turn, 1, failed), failed);
        dd_json_append(list, row, failed);
    }
    return list;
}

static json_t *lines_of(const dd_drawing *drawing, bool *failed)
{
    json_t *list = json_array();
    for (int i = 0; i < drawing->line_count; i++) {
        const dd_drawing_line *line = &drawing->lines[i];
        json_t *row = json_object(), *points = json_array();
        for (int p = 0; p < line->count; p++) {
            dd_json_append(points, millimetres(line->points[p].x), failed);
            dd_json_append(points, millimetres(line->points[p].y), failed);
            dd_json_append(points, millimetres(line->points[p].z), failed);
        }
        dd_json_put(row, "shape", dd_json_string(line->shape), failed);
        dd_json_put(row, "axes", json_integer(line->axes), failed);
        dd_json_put(row, "view", dd_json_string(line->view == DD_SIDE_VIEW ? "side" : "plan"), failed);
        if (line->radius > 0) dd_json_put(row, "radius", millimetres(line->radius), failed);
        if (line->to >= 0) dd_json_put(row, "to", json_integer(line->to), failed);
        if (line->shown >= 0) dd_json_put(row, "shown", dd_json_string(columns[line->shown].name), failed);
        dd_json_put(row, "points", points, failed);
        dd_json_append(list, row, failed);
    }
    return list;
}

static bool is_there(const dd_drawing *drawing, int column)
{
    return column < DD_DRAWN_ARM || (column < DD_DRAWN_LEVEL ? column - DD_DRAWN_ARM < drawing->arm_count
                                                             : column - DD_DRAWN_LEVEL < drawing->level_count);
}

/* A column whose written values are all the same is told once. */
static bool changes(const seen_frames *s, int column)
{
    const double first = s->count > 0 ? s->frame[0][column] : NAN;
    for (int i = 1; i < s->count; i++) {
        const double value = s->frame[i][column];
        if (!s->kept[i]) continue;
        if (isfinite(value) != isfinite(first) || (isfinite(value) && rounded(column, value) != rounded(column, first))) return true;
    }
    return false;
}

static json_t *written(int column, double value) { return isfinite(value) ? json_integer((json_int_t)rounded(column, value)) : json_null(); }

static void put_frames(json_t *root, const dd_drawing *drawing, const seen_frames *s, bool *failed)
{
    bool in_frames[DD_DRAWN_COUNT] = {false};
    json_t *heads = json_array(), *frames = json_array();
    for (int c = 0; c < DD_DRAWN_COUNT; c++) {
        char name[32];
        if (!is_there(drawing, c)) continue;
        json_t *row = json_object();
        name_of(c, name);
        in_frames[c] = c == DD_DRAWN_TIME || changes(s, c);
        dd_json_put(row, "name", dd_json_string(name), failed);
        dd_json_put(row, "decimals", json_integer(decimals_of(c)), failed);
        if (!in_frames[c]) dd_json_put(row, "constant", s->count > 0 ? written(c, s->frame[0][c]) : json_null(), failed);
        dd_json_append(heads, row, failed);
    }
    for (int i = 0; i < s->count; i++) {
        if (!s->kept[i]) continue;
        json_t *row = json_array();
        for (int c = 0; c < DD_DRAWN_COUNT; c++)
            if (in_frames[c]) dd_json_append(row, written(c, s->frame[i][c]), failed);
        dd_json_append(frames, row, failed);
    }
    dd_json_put(root, "columns", heads, failed);
    dd_json_put(root, "frames", frames, failed);
}

static json_t *events_of(const dd_result *result, const seen_frames *s, bool *failed)
{
    json_t *list = json_array();
    int *marks = dd_events_mark(result), frame = -1, i = 0;
    if (marks == NULL) *failed = true;
    for (int e = 0; marks != NULL && e < result->event_count; e++) {
        const dd_event *event = &result->events[e];
        json_t *row = json_object();
        for (; i < s->count && s->frame[i][DD_DRAWN_TIME] <= event->time; i++) frame += s->kept[i];
        dd_json_put(row, "name", dd_json_string(event->name), failed);
        dd_json_put(row, "detail", dd_json_string(event->detail), failed);
        dd_json_put(row, "mark", json_integer(marks[e]), failed);
        dd_json_put(row, "rank", json_integer(dd_event_rank(event->name)), failed);
        dd_json_put(row, "frame", json_integer(frame < 0 ? 0 : frame), failed);
        dd_json_append(list, row, failed);
    }
    free(marks);
    return list;
}

static json_t *values_of(const dd_result *result, bool *failed)
{
    static const struct {
        int column;
        const char *words, *unit, *positive, *negative;
    } values[] = {{DD_DRAWN_STRAP, "strap tension", "N", "", ""},
                  {DD_DRAWN_DEPTH, "rear hub", "m", "under water", "above water"},
                  {DD_DRAWN_OFFSET, "bow off the centre line", "m", "to port", "to starboard"},
                  {DD_DRAWN_TRIM, "trim", "deg", "bow down", "bow up"}};
    json_t *list = json_array();
    for (size_t i = 0; i < sizeof values / sizeof values[0]; i++) {
        const dd_margin *limit = NULL;
        json_t *row = json_object();
        const char *name = columns[values[i].column].name;
        for (int m = 0; m < result->margin_count; m++) /* of several limits the one that is used most */
            if (strcmp(result->margins[m].channel, name) == 0 && limit == NULL) limit = &result->margins[m];
        dd_json_put(row, "column", dd_json_string(name), failed);
        dd_json_put(row, "words", dd_json_string(values[i].words), failed);
        dd_json_put(row, "unit", dd_json_string(values[i].unit), failed);
        dd_json_put(row, "positive", dd_json_string(values[i].positive), failed);
        dd_json_put(row, "negative", dd_json_string(values[i].negative), failed);
        dd_json_put(row, "limit", limit != NULL ? dd_json_number(limit->limit) : json_null(), failed);
        dd_json_put(row, "limit_words", dd_json_string(limit != NULL ? limit->name : ""), failed);
        dd_json_append(list, row, failed);
    }
    return list;
}

/* Without what means something to a page; only text within quotes has such characters. */
static char *for_a_page(char *text)
{
    dd_string out = {0};
    char escape[16];
    if (text == NULL) return NULL;
    for (const unsigned char *c = (const unsigned char *)text; *c != '\0'; c++) {
        if (*c == '<' || *c == '>' || *c == '&') {
            snprintf(escape, sizeof escape, "\\u%04x", *c);
            dd_string_add(&out, escape);
        } else {
            dd_string_add_bytes(&out, (const char *)c, 1);
        }
    }
    free(text);
    return dd_string_take(&out);
}

char *dd_result_drawing_json(const dd_result *result)
{
    const dd_drawing *drawing = result->drawing;
    seen_frames s = {0};
    char *text = NULL;
    bool failed = drawing == NULL || drawing->failed || !look_through(drawing, result, &s);
    if (!failed) {
        json_t *root = json_object();
        dd_json_put(root, "drawing", json_integer(1), &failed);
        dd_json_put(root, "title", dd_json_string(result->title), &failed);
        dd_json_put(root, "verdict", dd_json_string(dd_verdict_name(result->verdict)), &failed);
        dd_json_put(root, "word", dd_json_string(result->word), &failed);
        dd_json_put(root, "sentence", dd_json_string(result->sentence), &failed);
        dd_json_put(root, "axes", axes_of(drawing, &failed), &failed);
        dd_json_put(root, "lines", lines_of(drawing, &failed), &failed);
        put_frames(root, drawing, &s, &failed);
        if (isfinite(drawing->toe)) dd_json_put(root, "toe", millimetres(drawing->toe), &failed);
        if (drawing->level_count > 0) {
            json_t *levels = json_array();
            for (int i = 0; i < drawing->level_count; i++) dd_json_append(levels, millimetres(drawing->level_at[i]), &failed);
            dd_json_put(root, "levels", levels, &failed);
        }
        dd_json_put(root, "events", events_of(result, &s, &failed), &failed);
        dd_json_put(root, "values", values_of(result, &failed), &failed);
        text = failed ? NULL : for_a_page(dd_json_text(root, 0, 0));
        json_decref(root);
    }
    free(s.frame);
    free(s.kept);
    return text;
}
