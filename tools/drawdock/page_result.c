/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A run as XML. */
#include "lib/base/numbers.h"
#include "lib/base/sources.h"
#include "lib/record/fields.h"
#include "lib/record/text.h"
#include "tools/drawdock/page.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Half of a pixel on a wide screen; and how much stays free round rig and boat. */
static const double grain = 0.01, margin_beside = 0.6, margin_above = 0.4, margin_below = 0.5;

typedef struct box {
    double left, right, low, high;
} box;

static bool reaches_far(const char *name) { return strcmp(name, "ramp") == 0 || strcmp(name, "water") == 0; }

/* What rig and boat span at one moment; false: nothing of them is drawn then. */
static bool span(const dd_result *result, int event, box *b)
{
    *b = (box){INFINITY, -INFINITY, INFINITY, -INFINITY};
    for (int i = 0; i < result->shape_count; i++) {
        const dd_shape *shape = &result->shapes[i];
        if (shape->event != event || reaches_far(shape->name)) continue;
        for (int k = 0; k < shape->count; k++) {
            b->left = fmin(b->left, shape->xy[2 * k]);
            b->right = fmax(b->right, shape->xy[2 * k]);
            b->low = fmin(b->low, shape->xy[2 * k + 1]);
            b->high = fmax(b->high, shape->xy[2 * k + 1]);
        }
    }
    return b->right > b->left;
}

/* Hundredths of a metre from the view's upper left corner; points that lie far outside or do not move on are left out. */
static void add_shape(page *p, xmlNodePtr view, const dd_shape *shape, double left, double top, double width)
{
    dd_string points = {0};
    char text[48];
    long last_x = 0, last_y = 0;
    bool any = false;
    for (int k = 0; k < shape->count; k++) {
        const double x = shape->xy[2 * k] - left;
        const bool next_in = k + 1 < shape->count && shape->xy[2 * k + 2] - left > -1;
        const bool last_in = k > 0 && shape->xy[2 * k - 2] - left < width + 1;
        if ((x < -1 && !next_in) || (x > width + 1 && !last_in)) continue;
        const long px = lround(x / grain), py = lround((top - shape->xy[2 * k + 1]) / grain);
        if (any && px == last_x && py == last_y) continue;
        snprintf(text, sizeof text, "%s%ld,%ld", any ? " " : "", px, py);
        dd_string_add(&points, text);
        last_x = px;
        last_y = py;
        any = true;
    }
    char *all = dd_string_take(&points);
    if (!all)
        p->failed = true;
    else if (any) {
        xmlNodePtr node = page_text(p, view, "shape", all);
        page_put(p, node, "name", "%s", shape->name);
    }
    free(all);
}

static void add_view(page *p, xmlNodePtr views, const dd_result *result, int event, const box *at, double width, double height)
{
    const double left = (at->left + at->right - width) / 2, top = at->high + margin_above;
    const dd_event *moment = event >= 0 ? &result->events[event] : NULL;
    xmlNodePtr view = page_add(p, views, "view");
    page_put(p, view, "box", "0 0 %ld %ld", lround(width / grain), lround(height / grain));
    page_put(p, view, "event", "%s", moment ? moment->name : "start");
    if (moment) {
        page_put(p, view, "mark", "%d", event + 1);
        page_quantity(p, view, "hub", moment->hub_depth, "m", 2);
        page_sentence(p, view, "detail", moment->detail, NULL);
    }
    page_quantity(p, view, "time", moment ? moment->time : 0, "s", 1);
    /* What lies behind comes first: water, ground, vehicle, hull, the rest. */
    static const char *const order[] = {"water", "ramp", "vehicle", "trailer", "hull", "support", "wheel"};
    enum { ORDER = sizeof order / sizeof order[0] };
    for (int pass = 0; pass <= ORDER; pass++)
        for (int i = 0; i < result->shape_count; i++) {
            int rank = 0;
            while (rank < ORDER && strcmp(order[rank], result->shapes[i].name) != 0) rank++;
            if (result->shapes[i].event == event && rank == pass) add_shape(p, view, &result->shapes[i], left, top, width);
        }
}

static void add_views(page *p, xmlNodePtr run, const dd_result *result)
{
    double width = 0, height = 0;
    box b;
    for (int event = -1; event < result->event_count; event++)
        if (span(result, event, &b)) {
            width = fmax(width, b.right - b.left + 2 * margin_beside);
            height = fmax(height, b.high - b.low + margin_above + margin_below);
        }
    if (width <= 0) return;
    xmlNodePtr views = page_add(p, run, "views");
    for (int event = -1; event < result->event_count; event++)
        if (span(result, event, &b)) add_view(p, views, result, event, &b, width, height);
}

static void add_margins(page *p, xmlNodePtr run, const dd_result *result)
{
    for (int i = 0; i < result->margin_count; i++) {
        const dd_margin *margin = &result->margins[i];
        xmlNodePtr node = page_add(p, run, "margin");
        page_put(p, node, "outcome", margin->broken ? "broken" : "good");
        if (isfinite(margin->share)) page_put(p, node, "use", "%.0f %%", fmin(100 * margin->share, 9999));
        page_text(p, node, "name", margin->name);
        const double largest = fmax(fabs(margin->value), fabs(margin->limit));
        page_figure(p, node, "value", margin->value, largest, margin->unit, PAGE_THREE_DIGITS);
        page_figure(p, node, "limit", margin->limit, largest, margin->unit, PAGE_THREE_DIGITS);
        if (isfinite(margin->time)) page_quantity(p, node, "time", margin->time, "s", 1);
        page_text(p, node, "source", margin->source);
    }
}

static void add_events(page *p, xmlNodePtr run, const dd_result *result)
{
    for (int i = 0; i < result->event_count; i++) {
        const dd_event *event = &result->events[i];
        xmlNodePtr node = page_add(p, run, "event");
        page_put(p, node, "mark", "%d", i + 1);
        page_put(p, node, "name", "%s", event->name);
        page_quantity(p, node, "time", event->time, "s", 1);
        page_quantity(p, node, "hub", event->hub_depth, "m", 2);
        page_sentence(p, node, "detail", event->detail, NULL);
    }
}

/* Where the limits come from; the sources that the reports have beside are put together by the template. */
static void add_sources(page *p, xmlNodePtr run, const dd_result *result)
{
    char text[320];
    for (int i = 0; i < result->margin_count; i++) {
        const dd_source *source = dd_source_find(result->margins[i].source);
        if (!source) continue;
        dd_text(text, sizeof text, "%s (%s): %s", source->key, source->grade, source->text);
        page_text(p, run, "source", text);
    }
}

void page_result(page *p, xmlNodePtr run, const dd_result *result)
{
    page_put(p, run, "kind", "%s", dd_verdict_name(result->verdict));
    page_put(p, run, "word", "%s", result->word);
    page_sentence(p, run, "sentence", result->sentence, NULL);
    if (result->failure.status != DD_OK) page_text(p, run, "failure", result->failure.message);
    add_views(p, run, result);
    add_margins(p, run, result);
    add_events(p, run, result);
    for (int i = 0; i < result->figure_count; i++) {
        const dd_figure *figure = &result->figures[i];
        if (!isfinite(figure->value)) continue;
        xmlNodePtr node = page_add(p, run, "figure");
        page_put(p, node, "group", "%s", figure->group);
        page_text(p, node, "name", figure->name);
        page_quantity(p, node, "value", figure->value, figure->unit, PAGE_THREE_DIGITS);
        page_sentence(p, node, "words", figure->words, NULL);
    }
    for (int i = 0; i < result->unchecked_count; i++) page_sentence(p, run, "unchecked", result->unchecked[i], NULL);
    for (int i = 0; i < result->assumed_count; i++) page_sentence(p, run, "assumed", result->assumed[i], NULL);
    add_sources(p, run, result);
}
