/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where every roller, skid and guide meets the hull at home, and how far it then lies from strakes, chine, keel and the edge of its
   panel; checks of the clearances at home and over the run. */
#include "lib/study/seat_meet.h"
#include "lib/base/numbers.h"
#include "lib/force/contact.h"
#include <math.h>

enum { SECTION = DD_STRAKES + 3 };
static const double flat = 0.17; /* rad: an outer panel that rises less, and less than the one inside it, is a chine flat */

/* --- one contact ------------------------------------------------------------------------------------------------ */

typedef struct panel {
    const char *name;
    double inner, outer; /* half breadths of its edges, m */
} panel;

/* The panel of the bottom at a half breadth. Panels lie between the lines of the section: keel, station strakes, chine. */
static panel panel_at(const dd_hull *hull, double x, double half_breadth)
{
    double y[SECTION], z[SECTION];
    const int chine = dd_hull_section(hull, x, y, z) - 2;
    if (half_breadth > y[chine]) return (panel){"outside the chine", y[chine], INFINITY};
    int j = 0;
    while (j < chine - 1 && half_breadth > y[j + 1]) j++;
    panel p = {j == 0 ? "bottom" : "outer bottom", y[j], y[j + 1]};
    if (j > 0 && j == chine - 1) {
        const double own = atan2(z[j + 1] - z[j], y[j + 1] - y[j]), inside = atan2(z[j] - z[j - 1], y[j] - y[j - 1]);
        if (own < flat && own < inside) p.name = "chine flat";
    }
    return p;
}

/* The contact of a roller at home, NULL: the hull does not lie over it. */
static const dd_seat_contact *contact_of(const dd_seat *s, int roller)
{
    for (int i = 0; i < s->model.contact_count; i++)
        if (s->model.contacts[i].roller == roller) return &s->model.contacts[i];
    return NULL;
}

static void put_row(const dd_seat *s, const dd_seat_band *b, const char *part, dd_vec3 at, dd_vec3 push, double gap)
{
    const dd_hull *hull = s->m->hull;
    const dd_hull_parameters *boat = &s->m->scenario.boat;
    dd_reporter *r = s->report;
    double inner, outer;
    dd_seat_reach(b, &inner, &outer);
    const bool keel = b->side == 0;
    const panel p = keel ? (panel){"keel", NAN, NAN} : panel_at(hull, at.x, b->side * at.y);
    dd_reporter_words(r, "%s%s", b->name, part);
    dd_reporter_words(r, "%s", p.name);
    dd_reporter_value(r, at.x);
    dd_reporter_value(r, at.y);
    dd_reporter_value(r, at.z);
    dd_reporter_value(r, gap);
    dd_reporter_value(r, asin(fmax(-1, fmin(1, dd_dot(b->across, push)))));
    dd_reporter_value(r, keel ? NAN : inner);
    dd_reporter_value(r, keel ? NAN : dd_seat_chine(hull, at.x) - outer);
    dd_reporter_value(r, keel ? NAN : fmin(inner - p.inner, p.outer - outer));
    for (int k = 0; k < boat->rail_count; k++) {
        const double away = dd_seat_strake_clearance(hull, b, &boat->rails[k], at.x, at.x, NULL);
        dd_reporter_value(r, isfinite(away) ? away : NAN);
    }
}

/* A roller that does not lie under the hull at home. */
static void put_clear(const dd_seat *s, const dd_seat_band *b)
{
    dd_reporter *r = s->report;
    dd_reporter_words(r, "%s", b->name);
    dd_reporter_words(r, "not under the hull");
    dd_reporter_value(r, b->middle.x);
    dd_reporter_value(r, b->middle.y);
    for (int c = 0; c < 6 + s->m->scenario.boat.rail_count; c++) dd_reporter_value(r, NAN);
}

/* A skid's front end, middle and rear end. */
static void put_face(const dd_seat *s, const dd_seat_band *b)
{
    static const char *const parts[] = {" front end", " middle", " rear end"};
    const double places[] = {b->front, b->middle.x, b->rear};
    double first, last;
    dd_hull_extent(s->m->hull, &first, &last);
    for (int i = 0; i < 3; i++) {
        const double x = places[i];
        if (x < first || x > last) continue;
        const dd_bottom_point p = b->side == 0 ? dd_hull_keel(s->m->hull, x) : dd_hull_bottom(s->m->hull, x, b->middle.y, b->side);
        const double length = sqrt(1 + p.zx * p.zx + p.zy * p.zy);
        /* The face runs on along its own slope; what it is under at its ends is taken straight above. */
        put_row(s, b, parts[i], dd_vec(x, b->side == 0 ? 0 : b->middle.y, p.z), dd_vec(-p.zx / length, -p.zy / length, 1 / length), NAN);
    }
}

static void put_bands(const dd_seat *s)
{
    dd_seat_band bands[DD_SEAT_BANDS];
    const int count = dd_seat_bands(s, -1, 0, bands);
    for (int i = 0; i < count; i++) {
        const dd_seat_band *b = &bands[i];
        if (s->m->rig->rollers[b->roller].skid > 0) {
            put_face(s, b);
            continue;
        }
        const dd_seat_contact *c = contact_of(s, b->roller);
        if (c != NULL)
            put_row(s, b, "", c->at, c->push, c->gap);
        else
            put_clear(s, b);
    }
}

/* A guide at home: the place of its face that comes nearest to the side of the hull. */
static void put_guide(const dd_seat *s, const dd_guide *g)
{
    dd_reporter *r = s->report;
    const dd_seat_guide at = dd_seat_guide_at(s, g, 0);
    if (!at.beside) return;
    dd_reporter_words(r, "%s", g->name);
    dd_reporter_words(r, "%s", at.over_chine > 0 ? "side" : "under the chine");
    dd_reporter_value(r, at.at.x);
    dd_reporter_value(r, at.at.y);
    dd_reporter_value(r, at.at.z);
    dd_reporter_value(r, at.gap);
    dd_reporter_value(r, at.angle);
    dd_reporter_value(r, NAN);
    dd_reporter_value(r, at.over_chine);
    dd_reporter_value(r, NAN);
    for (int k = 0; k < s->m->scenario.boat.rail_count; k++) dd_reporter_value(r, NAN);
}

static void put_contacts(const dd_seat *s)
{
    const dd_hull_parameters *boat = &s->m->scenario.boat;
    dd_reporter *r = s->report;
    dd_reporter_table(r, "contacts", "Where the supports meet the hull, boat home", DD_REPORT_LONG);
    dd_reporter_column(r, "roller", "", 0, "roller, end or middle of a skid, or guide");
    dd_reporter_column(r, "panel", "", 0, "of the hull that it lies on");
    dd_reporter_column(r, "from transom", "m", 3, "where it meets the hull");
    dd_reporter_column(r, "to port", "m", 4, "of the same");
    dd_reporter_column(r, "height", "m", 4, "of the same, above the keel at the transom");
    dd_reporter_column(r, "gap", "mm", 1, "between them, negative: it is squashed");
    dd_reporter_column(r, "angle to panel", "deg", 1, "of its axle, or of a guide upright; > 0: its outer or upper end comes nearer to the hull");
    dd_reporter_column(r, "to keel", "mm", 0, "from its inner edge, across the boat");
    dd_reporter_column(r, "to chine", "mm", 0, "from its outer edge, across the boat; of a guide: its top above the chine");
    dd_reporter_column(r, "to panel edge", "mm", 0, "from its edge to the nearer edge of the panel, across the boat; negative: over it");
    for (int k = 0; k < boat->rail_count; k++) {
        char name[48], help[160];
        dd_text(name, sizeof name, "to strake %d", k + 1);
        dd_text(help, sizeof help, "%s: between nearest edges, across the boat; negative: it lies on it", boat->rails[k].name);
        dd_reporter_column(r, name, "mm", 0, help);
    }
    put_bands(s);
    for (int i = 0; i < s->m->rig->guide_count; i++) put_guide(s, &s->m->rig->guides[i]);
}

/* --- checks ----------------------------------------------------------------------------------------------------- */

typedef struct worst {
    double clearance, x;
    char band[64];
    const char *strake;
    double from_home;
} worst;

static void take(worst *w, double clearance, double x, const dd_seat_band *b, const char *strake)
{
    if (!(clearance < w->clearance - 1e-9)) return; /* port and starboard alike: the first of them */
    w->clearance = clearance;
    w->x = x;
    w->strake = strake;
    w->from_home = fmax(0, x - b->front);
    dd_text(w->band, sizeof w->band, "%s", b->name);
}

static void find_worst(const dd_seat *s, worst *strake, worst *chine)
{
    const dd_hull_parameters *boat = &s->m->scenario.boat;
    dd_seat_band bands[DD_SEAT_BANDS];
    const int count = dd_seat_bands(s, -1, 0, bands);
    *strake = *chine = (worst){.clearance = INFINITY};
    for (int i = 0; i < count; i++) {
        const dd_seat_run run = dd_seat_run_of(s->m->hull, &bands[i]);
        double x = run.from;
        const double to_chine = dd_seat_chine_clearance(s->m->hull, &bands[i], run.from, run.bears_to, &x);
        take(chine, to_chine, x, &bands[i], "");
        for (int k = 0; k < boat->rail_count; k++) {
            const double away = dd_seat_strake_clearance(s->m->hull, &bands[i], &boat->rails[k], run.from, run.bears_to, &x);
            take(strake, away, x, &bands[i], boat->rails[k].name);
        }
    }
}

static void place_of(const dd_seat *s, const worst *w, char *text, size_t size)
{
    char from_home[DD_REPORTER_TEXT], from_transom[DD_REPORTER_TEXT];
    dd_reporter_quantity(s->report, w->from_home, "m", 2, from_home);
    dd_reporter_quantity(s->report, w->x, "m", 2, from_transom);
    if (w->from_home > 0.001)
        dd_text(text, size, "when the hull has run %s from home, %s from the transom", from_home, from_transom);
    else
        dd_text(text, size, "at home, %s from the transom", from_transom);
}

/* Keel rollers without a width cannot be told from what stands beside them; *count: of all bands. */
static int count_unlimited(const dd_seat *s, int *count)
{
    dd_seat_band bands[DD_SEAT_BANDS];
    int unlimited = 0;
    *count = dd_seat_bands(s, -1, 0, bands);
    for (int i = 0; i < *count; i++) unlimited += !isfinite(bands[i].half);
    return unlimited;
}

static void put_strake_check(const dd_seat *s, const worst *strake)
{
    char where[160];
    int count;
    const int unlimited = count_unlimited(s, &count);
    dd_check check = dd_check_of("supports", NULL, isfinite(strake->clearance) ? strake->clearance : NAN, s->scenario->seating.clearance, "mm",
                                 "practice", "clearance to strakes");
    check.least = 1;
    if (isfinite(strake->clearance)) {
        place_of(s, strake, where, sizeof where);
        dd_text(check.words, sizeof check.words, "%s beside the strake %s, %s", strake->band, strake->strake, where);
    } else if (s->m->scenario.boat.rail_count == 0) {
        dd_text(check.words, sizeof check.words, "strakes are not given (boat.strakes)");
    } else if (unlimited == count) {
        dd_text(check.words, sizeof check.words, "the width of no support is given");
    } else {
        dd_reporter_note(s->report, "No strake comes beside a support while it bears.");
    }
    if (unlimited > 0 && s->m->scenario.boat.rail_count > 0)
        dd_reporter_note(s->report, "Not checked: strakes beside %d keel roller%s without a width.", unlimited, unlimited == 1 ? "" : "s");
    if (check.words[0] != '\0') dd_reporter_check(s->report, &check);
}

static void put_checks(const dd_seat *s)
{
    worst strake, chine;
    char where[160];
    find_worst(s, &strake, &chine);
    put_strake_check(s, &strake);
    if (!isfinite(chine.clearance)) return;
    dd_check check = dd_check_of("supports", NULL, chine.clearance, s->scenario->seating.clearance, "mm", "practice", "clearance to chine");
    check.least = 1;
    place_of(s, &chine, where, sizeof where);
    dd_text(check.words, sizeof check.words, "%s, %s", chine.band, where);
    dd_reporter_check(s->report, &check);
}

dd_status dd_seat_contacts(dd_seat *s, dd_error *error)
{
    (void)error;
    put_contacts(s);
    put_checks(s);
    dd_seat_put_travel(s);
    return DD_OK;
}
