/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Both ends of the band of positions at one level, and the best place within it. */
#include "lib/base/error.h"
#include "lib/ode/ode.h"
#include "lib/study/depth.h"
#include <math.h>

static const double near = 0.008;    /* of a position along the ramp, m */
static const double reserve = 0.05;  /* that the best place keeps from both ends where the band is wide enough, by depth, m */
static const double narrow = 0.25;   /* of the band's width, where it is not */
/* Where a place that keeps every limit is looked for, shares of the way down to where the limits at home end. */
static const double shares[] = {0.85, 0.7, 0.55, 0.4, 0.2};

enum { apart = 2 }; /* rows, between places that are tried */

typedef struct search {
    dd_depth *d;
    dd_depth_end end;
    dd_depth_place at;
    dd_status status;
    dd_error why;
} search;

static double depth_of(const dd_depth_place *place) { return place->look.seen.v[DD_SEEN_HUB_DEPTH]; }

dd_status dd_depth_judge(dd_depth *d, double x, dd_depth_place *place, double *kept, dd_error *error)
{
    dd_status status = dd_depth_slide_at(d, x, &place->look, &place->slide, error);
    *kept = INFINITY;
    for (int e = 0; e < DD_END_COUNT && status == DD_OK; e++) {
        const dd_depth_end end = (dd_depth_end)e;
        const double here = d->broken[e] ? NAN : fmin(dd_depth_kept_home(d, end, &place->look), dd_depth_kept_slide(d, end, &place->slide));
        if (here < *kept) *kept = here, place->binds = end;
    }
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
    s->status = dd_depth_judge(s->d, x, &s->at, &kept, &s->why);
    return s->status == DD_OK ? kept : NAN;
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

dd_status dd_depth_try(dd_depth *d, dd_depth_candidate *c, dd_error *error)
{
    double x, kept;
    dd_depth_end end;
    dd_depth_place place;
    dd_status status = find_deepest(d, &x, &end, error);
    if (status == DD_OK) status = dd_depth_judge(d, fmax(d->look[0].x, x - near), &place, &kept, error);
    if (status != DD_OK) return status;
    *c = (dd_depth_candidate){.good = kept >= 0, .place = place, .deepest = place, .kept = kept};
    c->deepest.binds = end;
    /* Too little water where it is deepest: less is no better. */
    if (c->good || dd_depth_end_side(place.binds) == DD_END_SHALLOW) return DD_OK;
    c->deepest.binds = place.binds;
    const double first = d->look[0].x;
    for (size_t i = 0; i < sizeof shares / sizeof shares[0] && !c->good; i++) {
        status = dd_depth_judge(d, first + shares[i] * (x - first), &place, &kept, error);
        if (status != DD_OK) return status;
        if (kept > c->kept || kept >= 0) c->place = place, c->kept = kept;
        c->good = kept >= 0;
    }
    return DD_OK;
}

/* From a place that keeps every limit towards one that does not: the last that does. What binds is what is broken just beyond. */
static dd_status find_end(dd_depth *d, double good, double kept_good, double bad, double kept_bad, dd_depth_place *place, dd_error *error)
{
    search s = {.d = d};
    double root = good, kept;
    const double inward = bad < good ? near : -near;
    const dd_status located = dd_ode_locate(all_at, &s, fmin(good, bad), fmax(good, bad), bad < good ? kept_bad : kept_good,
                                            bad < good ? kept_good : kept_bad, near, &root, error);
    if (s.status != DD_OK) return failed(&s, error);
    if (located != DD_OK) return located;
    dd_status status = dd_depth_judge(d, root - inward, place, &kept, error);
    const dd_depth_end binds = place->binds;
    if (status == DD_OK) status = dd_depth_judge(d, root + inward, place, &kept, error);
    place->binds = binds;
    return status;
}

/* From a good place along the rows to the first that is not: between the two lies the end. Beyond the last row there is none. */
static dd_status find_edge(dd_depth *d, const dd_depth_candidate *c, bool deeper, dd_depth_place *edge, dd_error *error)
{
    double good = c->place.look.x, kept_good = c->kept, kept;
    const double stop = deeper ? c->deepest.look.x : d->look[0].x;
    dd_depth_place place;
    *edge = c->place;
    while (deeper ? good < stop - near : good > stop + near) {
        int i = 0;
        while (i + 1 < d->count && d->look[i + 1].x < good - 1e-9) i++;
        const int beside = deeper ? i + 1 + apart : i + 1 - apart;
        const double x = beside < 0 ? stop : beside >= d->count ? stop : deeper ? fmin(stop, d->look[beside].x) : d->look[beside].x;
        dd_status status = dd_depth_judge(d, x, &place, &kept, error);
        if (status != DD_OK) return status;
        if (kept < 0) return find_end(d, good, kept_good, x, kept, edge, error);
        good = x;
        kept_good = kept;
        *edge = place;
    }
    return DD_OK;
}

/* Where the stern has just lifted and the bow still lies on, as practice has it (P50), but not nearer to an end than the reserve. */
static dd_status find_best(dd_depth *d, dd_depth_band *band, dd_error *error)
{
    double kept;
    const double width = band->most.look.x - band->least.look.x;
    const double by_depth = band->width > 0 ? width / band->width : 0, keep = fmin(reserve * by_depth, narrow * width);
    const double wanted = isnan(d->stern_lifts) ? band->least.look.x + keep : d->stern_lifts;
    const double x = fmax(band->least.look.x + keep, fmin(band->most.look.x - keep, wanted));
    return dd_depth_judge(d, x, &band->best, &kept, error);
}

dd_status dd_depth_find(dd_depth *d, dd_depth_band *band, dd_error *error)
{
    dd_depth_candidate c;
    *band = (dd_depth_band){.width = NAN};
    dd_status status = dd_depth_try(d, &c, error);
    if (status != DD_OK) return status;
    band->works = c.good;
    band->least = band->best = c.place;
    band->most = c.deepest;
    if (!c.good) return DD_OK;
    status = find_edge(d, &c, false, &band->least, error);
    if (status == DD_OK && c.place.look.x < c.deepest.look.x) status = find_edge(d, &c, true, &band->most, error);
    band->width = depth_of(&band->most) - depth_of(&band->least);
    return status == DD_OK ? find_best(d, band, error) : status;
}
