/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tables as CSV: RFC 4180 quoting, a header row, lines that end with LF. */
#include "lib/base/numbers.h"
#include "lib/record/csv.h"
#include "lib/record/events.h"
#include <drawdock/result.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { CSV_DIGITS = 9 };

void dd_csv_text(dd_string *out, const char *text)
{
    if (!strpbrk(text, ",\"\r\n")) {
        dd_string_add(out, text);
        return;
    }
    dd_string_add(out, "\"");
    for (; *text; text++) {
        if (*text == '"') dd_string_add(out, "\"");
        dd_string_add_bytes(out, text, 1);
    }
    dd_string_add(out, "\"");
}

void dd_csv_number(dd_string *out, double value)
{
    char text[DD_NUMBER_TEXT];
    if (!isfinite(value)) return;
    /* -0 and 0 are the same to a reader; adding +0 turns the one into the other. */
    dd_string_add(out, dd_number_digits(value + 0.0, CSV_DIGITS, text));
}

static void add_integer(dd_string *out, int value)
{
    char text[DD_NUMBER_TEXT];
    dd_text(text, sizeof text, "%d", value);
    dd_string_add(out, text);
}

/* Separator after each field but the last. */
static void next(dd_string *out) { dd_string_add(out, ","); }

char *dd_result_timeline_csv(const dd_result *result)
{
    dd_string out = {0};
    int columns = result->column_count;
    for (int c = 0; c < columns; c++) {
        dd_csv_text(&out, result->columns[c].name);
        dd_string_add(&out, c + 1 < columns ? "," : "\n");
    }
    for (int r = 0; r < result->row_count; r++)
        for (int c = 0; c < columns; c++) {
            dd_csv_number(&out, result->rows[(size_t)r * (size_t)columns + (size_t)c]);
            dd_string_add(&out, c + 1 < columns ? "," : "\n");
        }
    return dd_string_take(&out);
}

char *dd_result_events_csv(const dd_result *result)
{
    int *marks = dd_events_mark(result);
    if (!marks) return NULL;
    dd_string out = {0};
    dd_string_add(&out, "time_s,name,detail,rig_x_m,hub_depth_m,value,unit,mark\n");
    for (int i = 0; i < result->event_count; i++) {
        const dd_event *event = &result->events[i];
        dd_csv_number(&out, event->time);
        next(&out);
        dd_csv_text(&out, event->name);
        next(&out);
        dd_csv_text(&out, event->detail);
        next(&out);
        dd_csv_number(&out, event->rig_x);
        next(&out);
        dd_csv_number(&out, event->hub_depth);
        next(&out);
        dd_csv_number(&out, event->value);
        next(&out);
        dd_csv_text(&out, event->value_unit);
        next(&out);
        if (marks[i]) add_integer(&out, marks[i]);
        dd_string_add(&out, "\n");
    }
    free(marks);
    return dd_string_take(&out);
}

char *dd_result_limits_csv(const dd_result *result)
{
    dd_string out = {0};
    dd_string_add(&out, "name,value,limit,unit,share,broken,time_s,channel,source\n");
    for (int i = 0; i < result->margin_count; i++) {
        const dd_margin *margin = &result->margins[i];
        dd_csv_text(&out, margin->name);
        next(&out);
        dd_csv_number(&out, margin->value);
        next(&out);
        dd_csv_number(&out, margin->limit);
        next(&out);
        dd_csv_text(&out, margin->unit);
        next(&out);
        dd_csv_number(&out, margin->share);
        next(&out);
        add_integer(&out, margin->broken != 0);
        next(&out);
        dd_csv_number(&out, margin->time);
        next(&out);
        dd_csv_text(&out, margin->channel);
        next(&out);
        dd_csv_text(&out, margin->source);
        dd_string_add(&out, "\n");
    }
    return dd_string_take(&out);
}

char *dd_result_bands_csv(const dd_result *result)
{
    dd_string out = {0};
    dd_string_add(&out, "name,unit,low,likely,high,word_low,word_high,share_low,share_high,effect,decides,how\n");
    for (int i = 0; i < result->band_count; i++) {
        const dd_band *band = &result->band[i];
        const double values[] = {band->low, band->likely, band->high}, shares[] = {band->share_low, band->share_high, band->effect};
        dd_csv_text(&out, band->name);
        next(&out);
        dd_csv_text(&out, band->unit);
        for (int k = 0; k < 3; k++) {
            next(&out);
            dd_csv_number(&out, values[k]);
        }
        next(&out);
        dd_csv_text(&out, band->word_low);
        next(&out);
        dd_csv_text(&out, band->word_high);
        for (int k = 0; k < 3; k++) {
            next(&out);
            dd_csv_number(&out, shares[k]);
        }
        next(&out);
        add_integer(&out, band->decides);
        next(&out);
        dd_csv_text(&out, band->how);
        dd_string_add(&out, "\n");
    }
    return dd_string_take(&out);
}

/* view: moments in order from 0; line: shapes in order from 0, over all views; a wanted moment that is not an event is the start. */
char *dd_result_side_csv(const dd_result *result)
{
    int *marks = dd_events_mark(result);
    if (!marks) return NULL;
    dd_string out = {0};
    dd_string_add(&out, "view,time_s,event,mark,line,shape,x_m,z_m\n");
    int view = -1;
    for (int s = 0; s < result->shape_count; s++) {
        const dd_shape *shape = &result->shapes[s];
        if (s == 0 || shape->event != result->shapes[s - 1].event) view++;
        bool at_event = shape->event >= 0 && shape->event < result->event_count;
        for (int p = 0; p < shape->count; p++) {
            add_integer(&out, view);
            next(&out);
            if (at_event)
                dd_csv_number(&out, result->events[shape->event].time);
            else if (result->row_count > 0)
                dd_csv_number(&out, result->rows[0]);
            next(&out);
            dd_csv_text(&out, at_event ? result->events[shape->event].name : "start");
            next(&out);
            if (at_event && marks[shape->event]) add_integer(&out, marks[shape->event]);
            next(&out);
            add_integer(&out, s);
            next(&out);
            dd_csv_text(&out, shape->name);
            next(&out);
            dd_csv_number(&out, shape->xy[2 * p]);
            next(&out);
            dd_csv_number(&out, shape->xy[2 * p + 1]);
            dd_string_add(&out, "\n");
        }
    }
    free(marks);
    return dd_string_take(&out);
}
