/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Side guides where the boat floats off on 8, 12.5 and 15 %: whether their tops stand over chine and keel there, what room they leave
   the hull, and whether a hull that lies against one still comes down on its supports. */
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/study/seat_afloat.h"
#include <math.h>

enum { ALONG = 9, FORWARD = 60 };
static const double loaded = 0.005; /* of the weight */

/* Greatest half breadth of the section at X between two heights; 0: the hull has nothing there. */
static double half_breadth(const dd_hull *hull, double x, double low, double high)
{
    double y[DD_STRAKES + 3], z[DD_STRAKES + 3], most = 0;
    const int count = dd_hull_section(hull, x, y, z);
    for (int i = 0; i < count; i++)
        if (z[i] >= low && z[i] <= high) most = fmax(most, y[i]);
    const double ends[2] = {low, high};
    for (int i = 1; i < count; i++)
        for (int e = 0; e < 2; e++) {
            const double share = (ends[e] - z[i - 1]) / (z[i] - z[i - 1]);
            if (share >= 0 && share <= 1) most = fmax(most, y[i - 1] + share * (y[i] - y[i - 1]));
        }
    return most;
}

typedef struct look {
    double chine, keel; /* height of the guide's top (trailer Z) at which it is as high as these beside it, at the worst of its length */
    double beside;      /* greatest half breadth beside its face */
    double passing;     /* the same of all that passes it from here to the bow */
} look;

static double level_with(const dd_hull *hull, const dd_placement *p, dd_vec3 at, bool chine)
{
    for (int i = 0; i < 50; i++) {
        const dd_vec3 b = dd_point_in_boat(p, at);
        const double off = (chine ? dd_hull_topside(hull, b.x, b.z).chine : dd_hull_keel(hull, b.x).z) - b.z;
        at.z += off / p->to_trailer.m[2][2];
        if (fabs(off) < 1e-12) break;
    }
    return at.z;
}

static look look_at(const dd_seat *s, const dd_guide *g, const dd_placement *p)
{
    const dd_hull *hull = s->m->hull;
    look l = {-INFINITY, -INFINITY, 0, 0};
    double first, last;
    dd_hull_extent(hull, &first, &last);
    for (int a = 0; a < ALONG; a++) {
        const dd_vec3 top = dd_add(g->top, dd_vec(g->length * ((double)a / (ALONG - 1) - 0.5), 0, g->radius));
        const dd_vec3 high = dd_point_in_boat(p, top), low = dd_point_in_boat(p, dd_sub(top, dd_vec(0, 0, g->height + 2 * g->radius)));
        if (high.x < first || high.x > last) continue;
        l.chine = fmax(l.chine, level_with(hull, p, top, true));
        l.keel = fmax(l.keel, level_with(hull, p, top, false));
        l.beside = fmax(l.beside, half_breadth(hull, high.x, low.z, high.z));
        for (int i = 0; i <= FORWARD; i++)
            l.passing = fmax(l.passing, half_breadth(hull, high.x + (last - high.x) * i / FORWARD, low.z, high.z));
    }
    return l;
}

/* How far the hull may lie to one side and still come down on what carries it. *support: what decides. */
static double reach(const dd_seat *s, const char **support)
{
    const double weight = dd_hull_mass(s->m->hull)->mass * s->gravity;
    double least = INFINITY;
    *support = "";
    for (int i = 0; i < s->model.contact_count; i++) {
        const dd_seat_contact *c = &s->model.contacts[i];
        if (c->roller < 0 || !(s->level.load[i] > loaded * weight)) continue;
        const dd_roller *r = &s->m->rig->rollers[c->roller];
        const double out = fabs(c->at.y);
        double y[DD_STRAKES + 3], z[DD_STRAKES + 3];
        const int count = dd_hull_section(s->m->hull, c->at.x, y, z);
        const double here = r->keel ? (r->width > 0 ? 0.5 * r->width : INFINITY) : fmin(out, y[count - 2] - out);
        if (here >= least) continue;
        least = here;
        *support = s->scenario->trailer.supports[c->support].name;
    }
    return least;
}

/* One guide on all slopes. */
typedef struct guide {
    double top, chine[DD_SEAT_SLOPES], keel; /* trailer Z; keel: on the steepest */
    double home, afloat, least, most;        /* gaps */
    int beside;
    const char *verdict, *decides;
} guide;

static guide judge(const dd_seat *s, const dd_guide *g, double most, const char *decides)
{
    const double inner = fabs(g->top.y) - g->radius;
    guide found = {.top = g->top.z + g->radius, .keel = -INFINITY, .afloat = INFINITY, .most = most, .decides = decides};
    const look home = look_at(s, g, &s->placement);
    found.home = inner - home.beside;
    found.beside = isfinite(home.chine);
    double passing = home.passing, chine = -INFINITY;
    for (int i = 0; i < DD_SEAT_SLOPES; i++) {
        const look l = look_at(s, g, &s->afloat[i].placement);
        found.chine[i] = l.chine;
        found.keel = fmax(found.keel, l.keel);
        found.afloat = fmin(found.afloat, inner - l.beside);
        chine = fmax(chine, l.chine);
        passing = fmax(passing, l.passing);
    }
    found.least = passing - home.beside;
    found.verdict = !found.beside ? "no hull beside it" : found.top <= found.keel ? "useless, may pierce: under the keel"
                    : found.top <= chine ? "useless, may pierce: under the chine" : inner < passing ? "too narrow"
                    : found.afloat > most ? "lets the boat beside its supports" : "holds";
    return found;
}

static void put_columns(dd_reporter *r)
{
    dd_reporter_table(r, "guides", "Side guides where the boat floats off", 1);
    dd_reporter_column(r, "guide", "", 0, "and its side of the boat");
    dd_reporter_column(r, "top", "mm", 0, "above ground, trailer level");
    dd_reporter_column(r, "needed 8 %", "mm", 0, "least height of its top: level with the chine beside it on that ramp");
    dd_reporter_column(r, "needed 12.5 %", "mm", 0, "the same");
    dd_reporter_column(r, "needed 15 %", "mm", 0, "the same");
    dd_reporter_column(r, "keel", "mm", 0, "level with the keel on the steepest: lower, and the boat comes down on it");
    dd_reporter_column(r, "gap home", "mm", 0, "from its face to the hull");
    dd_reporter_column(r, "gap afloat", "mm", 0, "the same, least over the slopes");
    dd_reporter_column(r, "least gap", "mm", 0, "at home, for the widest beam to pass");
    dd_reporter_column(r, "most gap", "mm", 0, "afloat, for the boat to land on its supports");
    dd_reporter_column(r, "verdict", "", 0, "what it is good for");
}

static void put(const dd_seat *s, const dd_guide *g, const guide *found)
{
    dd_reporter *r = s->report;
    const double ground = s->scenario->trailer.coupling_height;
    dd_reporter_words(r, "%s", g->name);
    dd_reporter_value(r, found->top + ground);
    for (int i = 0; i < DD_SEAT_SLOPES; i++) dd_reporter_value(r, found->beside ? found->chine[i] + ground : NAN);
    dd_reporter_value(r, found->beside ? found->keel + ground : NAN);
    dd_reporter_value(r, found->beside ? found->home : NAN);
    dd_reporter_value(r, found->beside ? found->afloat : NAN);
    dd_reporter_value(r, found->beside ? found->least : NAN);
    dd_reporter_value(r, isfinite(found->most) ? found->most : NAN);
    dd_reporter_words(r, "%s", found->verdict);
}

static void add_check(const dd_seat *s, const dd_guide *g, const char *what, double value, double limit, int least, const char *words)
{
    dd_check check = dd_check_of("guides", NULL, value, limit, "mm", "practice", "%s: %s", g->name, what);
    dd_text(check.words, sizeof check.words, "%s", words);
    check.least = least;
    check.outcome = DD_CHECK_CAUTION;
    dd_reporter_check(s->report, &check);
}

static const char over_chine[] = "top over the chine afloat", widest[] = "gap for the widest beam", landing[] = "gap to land on the supports";

static void not_checked(const dd_seat *s, const dd_guide *g, const char *why)
{
    add_check(s, g, over_chine, NAN, 0, 1, why);
    add_check(s, g, widest, NAN, NAN, 1, why);
    add_check(s, g, landing, NAN, NAN, 0, why);
}

static void check(const dd_seat *s, const dd_guide *g, const guide *found)
{
    char words[200], text[DD_REPORTER_TEXT];
    double chine = -INFINITY;
    if (!found->beside) {
        not_checked(s, g, "with the boat home its hull does not reach to this guide");
        return;
    }
    for (int i = 0; i < DD_SEAT_SLOPES; i++) chine = fmax(chine, found->chine[i]);
    dd_text(words, sizeof words, "guide useless, may pierce: the boat floats over it and comes down on its top; raise it to %s above the ground",
            dd_reporter_quantity(s->report, chine + s->scenario->trailer.coupling_height, "mm", 0, text));
    add_check(s, g, over_chine, found->top - chine, 0, 1, found->top > chine ? "" : words);
    add_check(s, g, widest, found->home, found->least, 1, "the widest beam has to pass it on the way home");
    if (isfinite(found->most))
        dd_text(words, sizeof words, "a boat against it comes down beside %s", found->decides);
    else
        dd_text(words, sizeof words, "no support that carries the boat is limited in width");
    add_check(s, g, landing, found->afloat, isfinite(found->most) ? found->most : NAN, 0, words);
}

dd_status dd_seat_guides(dd_seat *s, dd_error *error)
{
    const dd_rig *rig = s->m->rig;
    const char *decides;
    if (rig->guide_count == 0) {
        dd_reporter_note(s->report, "Side guides are not given.");
        return DD_OK;
    }
    dd_status status = dd_seat_float_on_slopes(s, error);
    if (status != DD_OK) return status;
    if (s->floats < 0) {
        for (int i = 0; i < rig->guide_count; i++) not_checked(s, &rig->guides[i], "the boat as it is loaded does not float upright");
        return DD_OK;
    }
    const double most = reach(s, &decides);
    put_columns(s->report);
    guide found[DD_GUIDES];
    for (int i = 0; i < rig->guide_count; i++) {
        found[i] = judge(s, &rig->guides[i], most, decides);
        put(s, &rig->guides[i], &found[i]);
    }
    for (int i = 0; i < rig->guide_count; i++) check(s, &rig->guides[i], &found[i]);
    return DD_OK;
}
