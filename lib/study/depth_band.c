/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Both ends of the band of positions at one level, and the best place within it. */
#include "lib/base/error.h"
#include "lib/ode/ode.h"
#include "lib/study/depth.h"
#include <math.h>
#include <string.h>

static const double near = 0.008;    /* of a position along the ramp, m */
static const double reserve = 0.05;  /* that the best place keeps from both ends where the band is wide enough, by depth, m */
static const double narrow = 0.5;    /* of the band's width, where it is not: its middle */
/* Where a place that keeps every limit is looked for, shares of the way down to where the limits at home end. */
static const double shares[] = {0.85, 0.7, 0.55, 0.4, 0.2};

static const double gap_near = 0.03, worth = 1e-3; /* m along the ramp, and of what is kept: where a limit is kept least between places is found to these */

/* Of one limit, or of all: the places looked at last on either side of the root. */
typedef struct search {
    dd_depth *d;
    dd_depth_end end;
    int side;
    dd_depth_place at, good, bad;
    dd_status status;
    dd_error why;
} search;

static double depth_of(const dd_depth_place *place) { return place->look.seen.v[DD_SEEN_HUB_DEPTH]; }

/* How far one limit is kept at a place; NaN: not checked, or no depth's doing. */
static double kept_of(const dd_depth *d, dd_depth_end end, const dd_depth_place *place)
{
    return d->broken[end] ? NAN : fmin(dd_depth_kept_home(d, end, &place->look), dd_depth_kept_slide(d, end, &place->slide));
}

static double least_kept(const dd_depth *d, const dd_depth_place *place)
{
    double least = INFINITY;
    for (int e = 0; e < DD_END_COUNT; e++) least = fmin(least, kept_of(d, (dd_depth_end)e, place));
    return least;
}

dd_status dd_depth_judge(dd_depth *d, double x, int side, dd_depth_place *place, double *kept, dd_error *error)
{
    double of_side = INFINITY;
    dd_status status = dd_depth_slide_at(d, x, &place->look, &place->slide, error);
    *kept = INFINITY;
    for (int e = 0; e < DD_END_COUNT && status == DD_OK; e++) {
        const dd_depth_end end = (dd_depth_end)e;
        const double here = kept_of(d, end, place);
        if (here < *kept) *kept = here, place->binds = end;
        if (here < of_side && (side == 0 || (dd_depth_end_side(end) & side) != 0)) of_side = here;
    }
    if (*kept >= 0 && isfinite(of_side)) *kept = of_side;
    return status;
}

static double home_at(double x, void *context)
{
    search *s = context;
    s->status = dd_depth_look_at(s->d, x, &s->at.look, NULL, &s->why);
    return s->status == DD_OK ? dd_depth_kept_home(s->d, s->end, &s->at.look) : NAN;
}

static double all_at(double x, void *context)
{
    search *s = context;
    double kept;
    s->status = dd_depth_judge(s->d, x, s->side, &s->at, &kept, &s->why);
    if (s->status != DD_OK) return NAN;
    *(kept >= 0 ? &s->good : &s->bad) = s->at;
    return kept;
}

/* Where the first of the limits that are broken at the bad place is lost on the way there from the good one, each by its own straight line: the least
   of all of them is level and then steep. */
static double first_lost(void *context)
{
    const search *s = context;
    double share = INFINITY;
    for (int e = 0; e < DD_END_COUNT; e++) {
        const double good = kept_of(s->d, (dd_depth_end)e, &s->good), bad = kept_of(s->d, (dd_depth_end)e, &s->bad);
        if (good >= 0 && bad < 0) share = fmin(share, good / (good - bad));
    }
    return isfinite(share) ? s->good.look.x + share * (s->bad.look.x - s->good.look.x) : NAN;
}

static dd_status failed(const search *s, dd_error *error)
{
    if (error != NULL) *error = s->why;
    return s->status;
}

/* One limit with the boat at home: where the rows lose it first, if that is before *x. */
static dd_status end_of(dd_depth *d, dd_depth_end end, double *x, dd_depth_end *binds, dd_error *error)
{
    search s = {.d = d, .end = end};
    double before = dd_depth_kept_home(d, end, &d->look[0]);
    /* Ratings that are broken ashore are told as such; where there is no grip no depth will do. */
    const bool grip = end == DD_END_HOLD || end == DD_END_PULL_OUT;
    d->broken[end] = before < 0 && !grip;
    if (before < 0 && grip) *x = d->look[0].x, *binds = end;
    for (int i = 1; i < d->count && d->look[i - 1].x < *x && before >= 0; i++) {
        const double now = dd_depth_kept_home(d, end, &d->look[i]);
        double root = d->look[i - 1].x;
        if (now < 0) {
            const dd_status located = dd_ode_locate(home_at, &s, d->look[i - 1].x, d->look[i].x, before, now, near, &root, error);
            if (s.status != DD_OK) return failed(&s, error);
            if (located != DD_OK) return located;
            if (root < *x) *x = root, *binds = end;
            return DD_OK;
        }
        before = now;
    }
    return DD_OK;
}

/* As far down as the limits with the boat at home let the rig go. */
static dd_status find_deepest(dd_depth *d, double *x, dd_depth_end *end, dd_error *error)
{
    dd_status status = DD_OK;
    *x = d->look[d->count - 1].x;
    *end = isnan(d->afloat) ? DD_END_ROWS : DD_END_ENOUGH;
    for (int e = 0; e < DD_END_COUNT && status == DD_OK; e++) status = end_of(d, (dd_depth_end)e, x, end, error);
    return status;
}

/* How far limits with the boat at home are kept where each is kept least on the way to x, short of its own end: a slippery stretch that the rig
   passes. */
static double kept_on_the_way(const dd_depth *d, double x)
{
    double least = INFINITY;
    for (int e = 0; e < DD_END_COUNT; e++) {
        const dd_depth_end end = (dd_depth_end)e;
        for (int i = 1; i + 1 < d->count && d->look[i + 1].x <= x && !d->broken[e]; i++) {
            const double here = dd_depth_kept_home(d, end, &d->look[i]);
            if (here < dd_depth_kept_home(d, end, &d->look[i - 1]) && here <= dd_depth_kept_home(d, end, &d->look[i + 1])) least = fmin(least, here);
        }
    }
    return least;
}

/* The limit that ends the way down at x, if it is kept again further on where the others still are: how far it is at the worst between. -INFINITY: it
   is not. */
static double kept_at_hump(const dd_depth *d, double x, dd_depth_end end)
{
    double least = INFINITY;
    for (int i = 0; i < d->count && end < DD_END_ROWS; i++) {
        if (d->look[i].x <= x) continue;
        const double here = dd_depth_kept_home(d, end, &d->look[i]);
        for (int e = 0; e < DD_END_COUNT; e++)
            if (e != (int)end && !d->broken[e] && dd_depth_kept_home(d, (dd_depth_end)e, &d->look[i]) < 0) return -INFINITY;
        if (!(here < 0)) return least < 0 ? least : -INFINITY;
        least = fmin(least, here);
    }
    return -INFINITY;
}

dd_status dd_depth_try(dd_depth *d, dd_depth_candidate *c, dd_error *error)
{
    double x, kept;
    dd_depth_end end;
    dd_depth_place place;
    dd_status status = find_deepest(d, &x, &end, error);
    const double on_the_way = kept_on_the_way(d, x), hump = kept_at_hump(d, x, end);
    if (status == DD_OK) status = dd_depth_judge(d, fmax(d->look[0].x, x - near), DD_END_SHALLOW, &place, &kept, error);
    if (status != DD_OK) return status;
    *c = (dd_depth_candidate){.good = kept >= 0, .place = place, .deepest = place, .kept = kept, .kept_deepest = kept, .on_the_way = on_the_way, .hump = hump};
    c->deepest.binds = end;
    /* Too little water where it is deepest: less is no better. */
    if (c->good || dd_depth_end_side(place.binds) == DD_END_SHALLOW) return DD_OK;
    c->deepest.binds = place.binds;
    const double first = d->look[0].x;
    for (size_t i = 0; i < sizeof shares / sizeof shares[0] && !c->good; i++) {
        status = dd_depth_judge(d, first + shares[i] * (x - first), DD_END_SHALLOW, &place, &kept, error);
        if (status != DD_OK) return status;
        const bool worse = kept < c->kept && place.binds == c->place.binds, shallow = dd_depth_end_side(place.binds) == DD_END_SHALLOW;
        if (kept > c->kept || kept >= 0) c->place = place, c->kept = kept;
        c->good = kept >= 0;
        if (!c->good && (worse || shallow)) break; /* what binds is less kept still where it is shallower */
    }
    return DD_OK;
}

/* Between a place that keeps every limit and one that does not: the last that does. What binds is what is broken just beyond. */
static dd_status find_end(search *s, double good, double kept_good, double bad, double kept_bad, dd_depth_place *place, dd_error *error)
{
    const bool up = good < bad;
    double low = up ? good : bad, high = up ? bad : good, at_low = up ? kept_good : kept_bad, at_high = up ? kept_bad : kept_good;
    const dd_status enclosed = dd_ode_enclose(all_at, first_lost, s, &low, &high, &at_low, &at_high, near, error);
    if (s->status != DD_OK) return failed(s, error);
    if (enclosed != DD_OK) return enclosed;
    *place = s->good;
    place->binds = s->bad.binds;
    return DD_OK;
}

/* The places of a walk along the rows tried last, with how far each limit is kept there by the slide: rows stand where one at home is kept least. */
typedef struct tried {
    int count;
    double x[3], kept[3][DD_END_COUNT];
    dd_depth_place place[3];
} tried;

static void keep_tried(const dd_depth *d, const dd_depth_place *place, tried *t)
{
    memmove(&t->x[0], &t->x[1], 2 * sizeof t->x[0]);
    memmove(&t->kept[0], &t->kept[1], 2 * sizeof t->kept[0]);
    memmove(&t->place[0], &t->place[1], 2 * sizeof t->place[0]);
    t->count++;
    t->x[2] = place->look.x;
    t->place[2] = *place;
    for (int e = 0; e < DD_END_COUNT; e++) t->kept[2][e] = d->broken[e] ? NAN : dd_depth_kept_slide(d, (dd_depth_end)e, &place->slide);
}

/* NaN also where it is broken: the search is over, and s->bad is that place. */
static double one_at(double x, void *context)
{
    search *s = context;
    const double all = all_at(x, s);
    if (isnan(all)) return NAN;
    const double kept = dd_depth_kept_slide(s->d, s->end, all >= 0 ? &s->good.slide : &s->bad.slide);
    return kept >= 0 ? kept : NAN;
}

/* Between the last three places, each of which is good, whether a limit that turns round is broken: *found, between s->good and s->bad then. */
static dd_status look_between(search *s, const tried *t, bool *found, dd_error *error)
{
    *found = false;
    for (int e = 0; e < DD_END_COUNT && t->count >= 3; e++) {
        const bool up = t->x[0] < t->x[2];
        const double x[3] = {t->x[up ? 0 : 2], t->x[1], t->x[up ? 2 : 0]}, kept[3] = {t->kept[up ? 0 : 2][e], t->kept[1][e], t->kept[up ? 2 : 0][e]};
        if (!(dd_ode_promised(x, kept) < 0)) continue;
        double at, least;
        s->end = (dd_depth_end)e;
        const dd_status status = dd_ode_least(one_at, s, x, kept, gap_near, worth, &at, &least, error);
        if (s->status != DD_OK) return failed(s, error);
        if (status == DD_OK) continue;
        if (status != DD_ERROR_NOT_FINITE) return status;
        s->good = t->place[(s->bad.look.x > t->x[1]) == up ? 1 : 0];
        *found = true;
        return DD_OK;
    }
    return DD_OK;
}

/* From a good place along the rows to the first that is not: between the two lies the end. Beyond the last row there is none. */
static dd_status find_edge(dd_depth *d, const dd_depth_candidate *c, bool deeper, dd_depth_place *edge, dd_error *error)
{
    search s = {.d = d, .side = deeper ? DD_END_DEEP : DD_END_SHALLOW, .good = c->place};
    tried t = {.count = 0};
    double good = c->place.look.x, kept_good = c->kept;
    const double stop = deeper ? c->deepest.look.x : d->look[0].x;
    keep_tried(d, &c->place, &t);
    *edge = c->place;
    while (deeper ? good < stop - near : good > stop + near) {
        int i = 0;
        while (i + 1 < d->count && d->look[i + 1].x < good - 1e-9) i++;
        const int beside = deeper ? i + 2 : i;
        const double x = beside >= d->count ? stop : deeper ? fmin(stop, d->look[beside].x) : d->look[beside].x;
        const bool known = deeper && x == c->deepest.look.x; /* it was tried first, and is no good */
        if (known) s.bad = c->deepest;
        const double kept = known ? c->kept_deepest : all_at(x, &s);
        if (s.status != DD_OK) return failed(&s, error);
        const bool ends = kept < 0;
        dd_status status = ends ? find_end(&s, good, kept_good, x, kept, edge, error) : DD_OK;
        if (!ends) *edge = s.good;
        keep_tried(d, edge, &t);
        bool broken = false;
        if (status == DD_OK) status = look_between(&s, &t, &broken, error);
        if (status == DD_OK && broken) return find_end(&s, s.good.look.x, least_kept(d, &s.good), s.bad.look.x, least_kept(d, &s.bad), edge, error);
        if (status != DD_OK || ends) return status;
        good = x;
        kept_good = kept;
        s.good = *edge;
    }
    return DD_OK;
}

static double stern_load(const dd_depth *d, const dd_depth_look *look)
{
    return look->seen.v[DD_SEEN_REAR_LOAD] - d->m->scenario.limits.stern_lift_share * d->weight;
}

static double stern_at(double x, void *context)
{
    search *s = context;
    s->status = dd_depth_look_at(s->d, x, &s->at.look, NULL, &s->why);
    return s->status == DD_OK ? stern_load(s->d, &s->at.look) : NAN;
}

/* Where the stern lifts, between the two rows between which it does: its load falls by no straight line, but where nothing is found between them. */
static dd_status find_lift(dd_depth *d, dd_error *error)
{
    search s = {.d = d};
    int i = 1;
    while (i < d->count && !(stern_load(d, &d->look[i - 1]) > 0 && stern_load(d, &d->look[i]) <= 0)) i++;
    if (i == d->count) return DD_OK;
    double x = d->stern_lifts;
    const dd_status status = dd_ode_locate(stern_at, &s, d->look[i - 1].x, d->look[i].x, stern_load(d, &d->look[i - 1]), stern_load(d, &d->look[i]), near, &x, error);
    if (s.status == DD_ERROR_NO_EQUILIBRIUM) return DD_OK;
    if (s.status != DD_OK) return failed(&s, error);
    d->stern_lifts = x;
    return status;
}

dd_status dd_depth_find_best(dd_depth *d, const dd_depth_candidate *c, double wanted, dd_depth_band *band, dd_error *error)
{
    double kept;
    const double width = band->most.look.x - band->least.look.x;
    const double by_depth = band->width > 0 ? width / band->width : 0, keep = fmin(reserve * by_depth, narrow * width);
    const double x = fmax(band->least.look.x + keep, fmin(band->most.look.x - keep, isnan(wanted) ? -INFINITY : wanted));
    const dd_status status = dd_depth_judge(d, x, 0, &band->best, &kept, error);
    if (status != DD_OK || kept >= 0) return status;
    search s = {.d = d, .good = c->place, .bad = band->best};
    return find_end(&s, c->place.look.x, least_kept(d, &c->place), x, kept, &band->best, error);
}

static dd_status find_shallow(dd_depth *d, dd_depth_band *band, dd_depth_candidate *c, dd_error *error)
{
    *band = (dd_depth_band){.width = NAN};
    dd_status status = dd_depth_try(d, c, error);
    if (status != DD_OK) return status;
    band->works = c->good;
    band->least = band->best = c->place;
    band->most = c->deepest;
    return c->good ? find_edge(d, c, false, &band->least, error) : DD_OK;
}

dd_status dd_depth_find_least(dd_depth *d, dd_depth_band *band, dd_error *error)
{
    dd_depth_candidate c;
    return find_shallow(d, band, &c, error);
}

dd_status dd_depth_find(dd_depth *d, dd_depth_band *band, dd_error *error)
{
    dd_depth_candidate c;
    dd_status status = find_lift(d, error);
    if (status == DD_OK) status = find_shallow(d, band, &c, error);
    if (status != DD_OK || !band->works) return status;
    if (c.place.look.x < c.deepest.look.x) status = find_edge(d, &c, true, &band->most, error);
    band->width = depth_of(&band->most) - depth_of(&band->least);
    return status == DD_OK ? dd_depth_find_best(d, &c, d->stern_lifts, band, error) : status;
}
