/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/record/recorder.h"
#include "lib/record/list.h"
#include "lib/record/text.h"
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include <limits.h>
#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

struct dd_recorder {
    dd_result *result;
    int columns_room, rows_room, events_room, margins_room, shapes_room, unchecked_room, assumed_room, figures_room;
    dd_error error; /* the first failure */
};

dd_recorder *dd_recorder_create(const char *title, const char *study)
{
    dd_recorder *recorder = calloc(1, sizeof *recorder);
    dd_result *result = calloc(1, sizeof *result);
    if (!recorder || !result) {
        free(recorder);
        free(result);
        return NULL;
    }
    recorder->result = result;
    dd_text_copy(result->title, sizeof result->title, title);
    dd_text_copy(result->study, sizeof result->study, study);
    result->verdict = DD_VERDICT_INCOMPLETE;
    return recorder;
}

void dd_recorder_free(dd_recorder *recorder)
{
    if (!recorder) return;
    dd_result_free(recorder->result);
    free(recorder);
}

void dd_result_free(dd_result *result)
{
    if (!result) return;
    for (int i = 0; i < result->shape_count; i++) free(result->shapes[i].xy);
    dd_drawing_free(result->drawing);
    free(result->shapes);
    free(result->columns);
    free(result->rows);
    free(result->events);
    free(result->margins);
    free(result->unchecked);
    free(result->figures);
    free(result->band);
    free(result->assumed);
    free(result);
}

static dd_status fail(dd_recorder *recorder, dd_status status, const char *place, const char *what)
{
    return dd_fail(&recorder->error, status, place, "%s", what);
}

/* Makes room for one more element in a list: doubles it when it is full. */
static dd_status grow(dd_recorder *recorder, void **list, int count, int *room, size_t size)
{
    if (count < *room) return DD_OK;
    if (*room > INT_MAX / 2) return fail(recorder, DD_ERROR_MEMORY, "dd_recorder", "the record has too many entries");
    if (2 * (size_t)*room > SIZE_MAX / size) return fail(recorder, DD_ERROR_MEMORY, "dd_recorder", "the record is too large");
    void *larger = dd_list_room(*list, count, room, 16, size);
    if (!larger) return fail(recorder, DD_ERROR_MEMORY, "dd_recorder", "no memory for the record");
    *list = larger;
    return DD_OK;
}

/* grow() for a list of any type: `list` is copied through a void pointer, since a pointer to a typed pointer is not one to void. */
#define GROW(recorder, list, count, room)                                                                                      \
    do {                                                                                                                       \
        if ((recorder)->error.status != DD_OK) return (recorder)->error.status;                                                \
        void *grown_ = (list);                                                                                                 \
        dd_status status_ = grow((recorder), &grown_, (count), &(room), sizeof *(list));                                       \
        if (status_ != DD_OK) return status_;                                                                                  \
        (list) = grown_;                                                                                                       \
    } while (0)

dd_status dd_recorder_column(dd_recorder *recorder, const char *name, const char *unit, const char *help)
{
    dd_result *result = recorder->result;
    if (recorder->error.status == DD_OK && result->row_count > 0)
        return fail(recorder, DD_ERROR_ARGUMENT, "dd_recorder_column", "a column was added after the first row");
    GROW(recorder, result->columns, result->column_count, recorder->columns_room);
    dd_column *column = &result->columns[result->column_count++];
    memset(column, 0, sizeof *column);
    dd_text_copy(column->name, sizeof column->name, name);
    dd_text_copy(column->unit, sizeof column->unit, unit);
    dd_text_copy(column->help, sizeof column->help, help);
    return DD_OK;
}

void dd_recorder_optional(dd_recorder *recorder)
{
    if (recorder->error.status == DD_OK && recorder->result->column_count > 0)
        recorder->result->columns[recorder->result->column_count - 1].optional = 1;
}

dd_status dd_recorder_row(dd_recorder *recorder, const double *values)
{
    dd_result *result = recorder->result;
    if (recorder->error.status != DD_OK) return recorder->error.status;
    if (result->column_count == 0) return fail(recorder, DD_ERROR_ARGUMENT, "dd_recorder_row", "the record has no columns");
    void *rows = result->rows;
    size_t columns = (size_t)result->column_count;
    dd_status status = grow(recorder, &rows, result->row_count, &recorder->rows_room, columns * sizeof(double));
    if (status != DD_OK) return status;
    result->rows = rows;
    memcpy(result->rows + (size_t)result->row_count * columns, values, columns * sizeof(double));
    result->row_count++;
    return DD_OK;
}

dd_status dd_recorder_event(dd_recorder *recorder, const dd_event *event, int *index)
{
    dd_result *result = recorder->result;
    GROW(recorder, result->events, result->event_count, recorder->events_room);
    if (index) *index = result->event_count;
    result->events[result->event_count++] = *event;
    return DD_OK;
}

dd_status dd_recorder_margin(dd_recorder *recorder, const dd_margin *margin)
{
    dd_result *result = recorder->result;
    GROW(recorder, result->margins, result->margin_count, recorder->margins_room);
    result->margins[result->margin_count++] = *margin;
    return DD_OK;
}

dd_status dd_recorder_figure(dd_recorder *recorder, const dd_figure *figure)
{
    dd_result *result = recorder->result;
    GROW(recorder, result->figures, result->figure_count, recorder->figures_room);
    result->figures[result->figure_count++] = *figure;
    return DD_OK;
}

dd_status dd_recorder_unchecked(dd_recorder *recorder, const char *format, ...)
{
    dd_result *result = recorder->result;
    GROW(recorder, result->unchecked, result->unchecked_count, recorder->unchecked_room);
    char *line = result->unchecked[result->unchecked_count];
    va_list arguments;
    va_start(arguments, format);
    dd_text_list(line, sizeof result->unchecked[0], format, arguments);
    va_end(arguments);
    dd_text_end(line);
    for (int i = 0; i < result->unchecked_count; i++)
        if (strcmp(result->unchecked[i], line) == 0) return DD_OK;
    result->unchecked_count++;
    return DD_OK;
}

dd_status dd_recorder_assumed(dd_recorder *recorder, const char *format, ...)
{
    dd_result *result = recorder->result;
    GROW(recorder, result->assumed, result->assumed_count, recorder->assumed_room);
    char *line = result->assumed[result->assumed_count];
    va_list arguments;
    va_start(arguments, format);
    dd_text_list(line, sizeof result->assumed[0], format, arguments);
    va_end(arguments);
    dd_text_end(line);
    for (int i = 0; i < result->assumed_count; i++)
        if (strcmp(result->assumed[i], line) == 0) return DD_OK;
    result->assumed_count++;
    return DD_OK;
}

dd_status dd_recorder_shape(dd_recorder *recorder, const char *name, int event, const double *xy, int count)
{
    dd_result *result = recorder->result;
    if (recorder->error.status == DD_OK && (count < 1 || event < -1 || event >= result->event_count))
        return fail(recorder, DD_ERROR_ARGUMENT, "dd_recorder_shape",
                    "a shape needs points and an event already recorded, or -1");
    GROW(recorder, result->shapes, result->shape_count, recorder->shapes_room);
    size_t bytes = 2 * (size_t)count * sizeof(double);
    double *copy = malloc(bytes);
    if (!copy) return fail(recorder, DD_ERROR_MEMORY, "dd_recorder", "no memory for the record");
    memcpy(copy, xy, bytes);
    dd_shape *shape = &result->shapes[result->shape_count++];
    memset(shape, 0, sizeof *shape);
    dd_text_copy(shape->name, sizeof shape->name, name);
    shape->event = event;
    shape->count = count;
    shape->xy = copy;
    return DD_OK;
}

void dd_recorder_drawing(dd_recorder *recorder, dd_drawing *drawing)
{
    dd_drawing_free(recorder->result->drawing);
    recorder->result->drawing = drawing;
}

dd_status dd_recorder_no_memory(dd_recorder *recorder)
{
    return fail(recorder, DD_ERROR_MEMORY, "dd_recorder", "no memory for the pictures");
}

dd_result *dd_recorder_result(dd_recorder *recorder) { return recorder->result; }

/* Earlier first; what is not a number last. Equal keys keep their order (insertion order breaks the tie). */
typedef struct sort_key {
    double value;
    int index;
} sort_key;

static int by_value(const void *left, const void *right)
{
    const sort_key *a = left, *b = right;
    if (isnan(a->value) != isnan(b->value)) return isnan(a->value) ? 1 : -1;
    if (a->value < b->value) return -1;
    if (a->value > b->value) return 1;
    return (a->index > b->index) - (a->index < b->index);
}

/* Reorders count elements of a list by keys; the keys end up sorted. */
static dd_status reorder(dd_recorder *recorder, void *list, int count, size_t size, sort_key *keys)
{
    if (count == 0) return DD_OK;
    char *copy = malloc((size_t)count * size);
    if (!copy) return fail(recorder, DD_ERROR_MEMORY, "dd_recorder_finish", "no memory to sort the record");
    memcpy(copy, list, (size_t)count * size);
    qsort(keys, (size_t)count, sizeof *keys, by_value);
    for (int i = 0; i < count; i++) memcpy((char *)list + (size_t)i * size, copy + (size_t)keys[i].index * size, size);
    free(copy);
    return DD_OK;
}

static dd_status sort_result(dd_recorder *recorder, sort_key *keys)
{
    dd_result *result = recorder->result;
    for (int i = 0; i < result->event_count; i++) keys[i] = (sort_key){result->events[i].time, i};
    dd_status status = reorder(recorder, result->events, result->event_count, sizeof *result->events, keys);
    if (status != DD_OK) return status;
    /* Shapes name events by their old index. */
    for (int s = 0; s < result->shape_count; s++)
        for (int i = 0; i < result->event_count; i++)
            if (keys[i].index == result->shapes[s].event) {
                result->shapes[s].event = i;
                break;
            }
    for (int i = 0; i < result->shape_count; i++) keys[i] = (sort_key){result->shapes[i].event, i};
    status = reorder(recorder, result->shapes, result->shape_count, sizeof *result->shapes, keys);
    if (status != DD_OK) return status;
    for (int i = 0; i < result->margin_count; i++) keys[i] = (sort_key){-result->margins[i].share, i};
    return reorder(recorder, result->margins, result->margin_count, sizeof *result->margins, keys);
}

/* Closes the ranks of the columns, in place: a row only ever moves towards the front. */
static void drop_empty_columns(dd_result *result)
{
    int kept = 0, columns = result->column_count;
    for (int c = 0; c < columns; c++) {
        bool any = !result->columns[c].optional;
        for (int r = 0; r < result->row_count && !any; r++)
            any = isfinite(result->rows[(size_t)r * (size_t)columns + (size_t)c]) != 0;
        result->columns[c].optional = !any;
        kept += any;
    }
    double *to = result->rows;
    for (int r = 0; r < result->row_count && kept < columns; r++)
        for (int c = 0; c < columns; c++)
            if (!result->columns[c].optional) *to++ = result->rows[(size_t)r * (size_t)columns + (size_t)c];
    for (int c = 0, n = 0; c < columns; c++)
        if (!result->columns[c].optional) result->columns[n++] = result->columns[c];
    result->column_count = kept;
}

dd_status dd_recorder_finish(dd_recorder *recorder, dd_result **result, dd_error *error)
{
    *result = NULL;
    dd_status status = recorder->error.status;
    if (status == DD_OK) {
        int longest = recorder->result->event_count;
        if (recorder->result->margin_count > longest) longest = recorder->result->margin_count;
        if (recorder->result->shape_count > longest) longest = recorder->result->shape_count;
        sort_key *keys = calloc((size_t)longest + 1, sizeof *keys);
        status = keys ? sort_result(recorder, keys)
                      : fail(recorder, DD_ERROR_MEMORY, "dd_recorder_finish", "no memory to sort the record");
        free(keys);
    }
    if (status == DD_OK) {
        drop_empty_columns(recorder->result);
        *result = recorder->result;
        recorder->result = NULL;
    } else if (error) {
        *error = recorder->error;
    }
    dd_recorder_free(recorder);
    return status;
}
