/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What comes in the way of each support as the hull runs off the trailer and on again: strakes that catch it, the chine that it
   leaves the bottom over and comes back under, guides whose top passes under the chine. */
#include "lib/study/seat_meet.h"
#include "lib/base/numbers.h"
#include <math.h>

enum { UP = 9, ALONG = 3 };
static const double pace = 0.01;  /* m: of looks along the run */
static const double same = 1e-6;  /* m */

/* --- guides ----------------------------------------------------------------------------------------------------- */

static dd_vec3 to_boat(const dd_seat *s, dd_vec3 p)
{
    return dd_apply_transposed(&s->placement.to_trailer, dd_sub(p, s->placement.origin));
}

static double sheer_at(const dd_hull *hull, double x)
{
    double y[DD_STRAKES + 3], z[DD_STRAKES + 3];
    return z[dd_hull_section(hull, x, y, z) - 1];
}

dd_seat_guide dd_seat_guide_at(const dd_seat *s, const dd_guide *g, double run)
{
    const dd_hull *hull = s->m->hull;
    const dd_vec3 upright = dd_apply_transposed(&s->placement.to_trailer, dd_vec(0, 0, 1));
    dd_seat_guide found = {.gap = NAN, .over_chine = INFINITY, .angle = NAN};
    double first, last, least = INFINITY;
    dd_hull_extent(hull, &first, &last);
    for (int a = 0; a < ALONG; a++)
        for (int u = 0; u < UP; u++) {
            const double along = g->length * ((double)a / (ALONG - 1) - 0.5), down = g->height * u / (UP - 1);
            dd_vec3 p = to_boat(s, dd_add(g->top, dd_vec(along, 0, -down)));
            p.x += run;
            if (p.x < first || p.x > last) continue;
            found.beside = true;
            const double over = p.z + g->radius - dd_hull_topside(hull, p.x, p.z).chine, sheer = sheer_at(hull, p.x);
            if (p.z > sheer) p = dd_sub(p, dd_scale((p.z - sheer) / upright.z, upright)); /* higher it meets no hull */
            const dd_topside_point t = dd_hull_topside(hull, p.x, p.z);
            if (u == 0 && over < found.over_chine) {
                found.over_chine = over;
                if (!isfinite(least)) found.at = p;
            }
            if (p.z < t.chine) continue;
            const double length = sqrt(1 + t.yx * t.yx + t.yz * t.yz), away = (g->side * p.y - t.y) / length - g->radius;
            if (away >= least) continue;
            const dd_vec3 out = dd_scale(1 / length, dd_vec(-t.yx, g->side, -t.yz));
            least = found.gap = away;
            found.at = dd_sub(p, dd_scale(away + g->radius, out));
            found.angle = asin(fmax(-1, fmin(1, -dd_dot(upright, out))));
        }
    return found;
}

/* --- rows ------------------------------------------------------------------------------------------------------- */

typedef struct event {
    const char *name, *obstacle, *way;
    double from_home, x, step, room, lifted;
    int bears; /* -1: of a guide */
} event;

static void put_event(const dd_seat *s, const event *e, const char *what)
{
    dd_reporter *r = s->report;
    dd_reporter_words(r, "%s", e->name);
    dd_reporter_words(r, "%s", e->obstacle);
    dd_reporter_words(r, "%s", e->way);
    dd_reporter_words(r, "%s", what);
    dd_reporter_value(r, e->from_home);
    dd_reporter_value(r, e->x);
    dd_reporter_value(r, e->step);
    dd_reporter_value(r, e->room);
    dd_reporter_value(r, e->lifted);
    dd_reporter_words(r, "%s", e->bears < 0 ? "" : e->bears ? "yes" : "no");
}

/* What the hull has risen over the band since it bore first, and whether it bears. */
static event event_at(const dd_seat *s, const dd_seat_band *b, const dd_seat_run *run, const char *way, double x)
{
    event e = {.name = b->name, .way = way, .x = x, .step = NAN, .room = NAN};
    e.from_home = fmax(0, x - (way[0] == 'r' ? b->rear : b->front));
    e.lifted = dd_seat_rise(s->m->hull, b, x) - dd_seat_rise(s->m->hull, b, run->from);
    e.bears = x <= run->bears_to + same;
    return e;
}

static void put_strake(const dd_seat *s, const dd_seat_band *b, const dd_seat_run *run, const dd_rail *rail)
{
    dd_seat_crossing crossings[DD_SEAT_CROSSINGS];
    const int count = dd_seat_crossings(s->m->hull, b, rail, run->from, run->to, crossings);
    for (int i = 0; i < count; i++) {
        const dd_seat_crossing *c = &crossings[i];
        const bool home = c->from < b->front + same, past_bow = c->to > run->to - same;
        event e = event_at(s, b, run, home ? "home" : "launching", c->from);
        e.obstacle = rail->name;
        e.step = c->step_from;
        put_event(s, &e, home ? "lies on the strake" : c->from < rail->at[0] + same ? "meets its aft end" : "the strake comes across");
        if (past_bow) continue;
        e = event_at(s, b, run, "retrieving", c->to);
        e.obstacle = rail->name;
        e.step = c->step_to;
        put_event(s, &e, c->to > rail->at[rail->at_count - 1] - same ? "meets its fore end" : "the strake comes across");
    }
}

/* Where the chine comes to a half breadth: between two looks it passes it. */
static double chine_at(const dd_hull *hull, double half_breadth, double from, double to)
{
    const bool narrows = dd_seat_chine(hull, from) > half_breadth;
    for (int halvings = 0; halvings < 50; halvings++) {
        const double middle = 0.5 * (from + to);
        if ((dd_seat_chine(hull, middle) > half_breadth) == narrows)
            from = middle;
        else
            to = middle;
    }
    return 0.5 * (from + to);
}

/* The roller stands outside the chine from here on: a hull that is wound on comes over it, or against it where it stands higher. */
static void put_chine_edge(const dd_seat *s, const dd_seat_band *b, const dd_seat_run *run, double half_breadth, bool inner, bool narrows, double x)
{
    double y[DD_STRAKES + 3], z[DD_STRAKES + 3];
    const double room = z[dd_hull_section(s->m->hull, x, y, z) - 2] - dd_seat_band_height(b, half_breadth);
    event e = event_at(s, b, run, narrows ? "launching" : "retrieving", x);
    e.obstacle = "chine";
    e.room = room;
    if (inner) e.lifted = NAN; /* at the very edge of the bottom; the room says it */
    put_event(s, &e, inner ? "leaves the bottom" : "its outer edge comes out from under");
    if (!inner) return;
    e = event_at(s, b, run, narrows ? "retrieving" : "launching", x);
    e.obstacle = "chine";
    e.lifted = NAN;
    e.room = room > 0 ? room : NAN;
    e.step = room > 0 ? NAN : -room;
    put_event(s, &e, room > 0 ? "the chine passes over it" : "the chine comes against it");
}

static void put_chine(const dd_seat *s, const dd_seat_band *b, const dd_seat_run *run)
{
    double edges[2];
    dd_seat_reach(b, &edges[0], &edges[1]);
    const int looks = (int)ceil((run->to - run->from) / pace);
    for (int e = 1; e >= 0; e--) {
        double before = run->from;
        if (dd_seat_chine(s->m->hull, before) < edges[e]) {
            event over = event_at(s, b, run, before < b->front + same ? "home" : "launching", before);
            over.obstacle = "chine";
            put_event(s, &over, e == 1 ? "its outer edge stands outside" : "stands outside");
        }
        for (int i = 1; i <= looks; i++) {
            const double x = run->from + (run->to - run->from) * i / looks;
            const bool was = dd_seat_chine(s->m->hull, before) > edges[e], is = dd_seat_chine(s->m->hull, x) > edges[e];
            if (was != is) put_chine_edge(s, b, run, edges[e], e == 0, was, chine_at(s->m->hull, edges[e], before, x));
            before = x;
        }
    }
}

/* --- guides over the run ---------------------------------------------------------------------------------------- */

static event guide_event(const dd_guide *g, const dd_seat_guide *at, const char *way, double run)
{
    return (event){.name = g->name, .obstacle = "chine", .way = way, .from_home = run, .x = at->at.x, .step = NAN, .room = at->gap, .lifted = NAN, .bears = -1};
}

static double passes_at(const dd_seat *s, const dd_guide *g, double from, double to)
{
    const bool over = dd_seat_guide_at(s, g, from).over_chine > 0;
    for (int halvings = 0; halvings < 50; halvings++) {
        const double middle = 0.5 * (from + to);
        if ((dd_seat_guide_at(s, g, middle).over_chine > 0) == over)
            from = middle;
        else
            to = middle;
    }
    return to;
}

static void put_guide(const dd_seat *s, const dd_guide *g)
{
    double first, last, narrowest = INFINITY, narrowest_at = 0;
    dd_hull_extent(s->m->hull, &first, &last);
    const double x = to_boat(s, g->top).x, from = fmax(0, first - x), to = last - x;
    const int looks = (int)ceil(fmax(to - from, 0) / pace);
    dd_seat_guide before = {.beside = false};
    for (int i = 0; i <= looks && to > from; i++) {
        const double run = from + (to - from) * i / looks;
        const dd_seat_guide now = dd_seat_guide_at(s, g, run);
        if (!now.beside) continue;
        if (now.gap < narrowest) narrowest = now.gap, narrowest_at = run;
        if (before.beside && (now.over_chine > 0) != (before.over_chine > 0)) {
            const double at = passes_at(s, g, run - (to - from) / looks, run);
            const dd_seat_guide there = dd_seat_guide_at(s, g, at);
            event e = guide_event(g, &there, "launching", at);
            put_event(s, &e, now.over_chine > 0 ? "its top comes above the chine" : "its top goes under the chine");
        }
        before = now;
    }
    if (!isfinite(narrowest)) return;
    const dd_seat_guide there = dd_seat_guide_at(s, g, narrowest_at);
    event e = guide_event(g, &there, narrowest_at > from ? "launching" : "home", narrowest_at);
    e.obstacle = "side";
    put_event(s, &e, "narrowest");
}

void dd_seat_put_travel(const dd_seat *s)
{
    const dd_hull_parameters *boat = &s->m->scenario.boat;
    dd_seat_band bands[DD_SEAT_BANDS];
    dd_reporter *r = s->report;
    dd_reporter_table(r, "travel", "What comes in the way of the supports while the hull runs off and on", DD_REPORT_LONG);
    dd_reporter_column(r, "support", "", 0, "roller, skid or guide");
    dd_reporter_column(r, "meets", "", 0, "the strake, the chine or the side");
    dd_reporter_column(r, "when", "", 0, "home, launching (the hull goes aft) or retrieving");
    dd_reporter_column(r, "what", "", 0, "what happens there");
    dd_reporter_column(r, "from home", "m", 3, "how far the hull has then run aft from home");
    dd_reporter_column(r, "from transom", "m", 3, "place on the hull");
    dd_reporter_column(r, "step", "mm", 0, "height that catches the roller");
    dd_reporter_column(r, "room", "mm", 0, "left between it and the chine over it; of a guide across to the side");
    dd_reporter_column(r, "lifted", "mm", 0, "how much higher the bottom then stands over the support than at home, the hull kept parallel");
    dd_reporter_column(r, "bears", "", 0, "whether the bottom still bears on it: it has risen by less than 50 mm");
    const int count = dd_seat_bands(s, -1, 0, bands);
    for (int i = 0; i < count; i++) {
        const dd_seat_run run = dd_seat_run_of(s->m->hull, &bands[i]);
        for (int k = 0; k < boat->rail_count; k++) put_strake(s, &bands[i], &run, &boat->rails[k]);
        if (bands[i].side != 0) put_chine(s, &bands[i], &run);
    }
    for (int i = 0; i < s->m->rig->guide_count; i++) put_guide(s, &s->m->rig->guides[i]);
    dd_reporter_table_note(r, "the hull runs straight along the trailer, parallel to how it lies at home");
}
