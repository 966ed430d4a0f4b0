/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each limit of the band as a figure at the best place. */
#include "lib/base/numbers.h"
#include "lib/force/strap.h"
#include "lib/study/depth_report.h"
#include <math.h>

#define FIGURE(v, l, u, s, least) (*f = (dd_depth_figure){.value = (v), .limit = (l), .unit = (u), .source = (s), .at_least = (least), .missing = ""}, true)
#define GIVEN(v, l, u, what) (*f = (dd_depth_figure){.value = (v), .limit = (l), .unit = (u), .source = "maker's plate", .missing = what " is not given"}, true)

static double least_of(const dd_depth_place *p, int seen) { return fmin(p->look.seen.v[seen], p->slide.least.v[seen]); }
static double most_of(const dd_depth_place *p, int seen) { return fmax(p->look.seen.v[seen], p->slide.most.v[seen]); }

/* Nothing was read where the boat lies in no balance once it is let go; what comes further on, not where friction holds it short of that. */
static const char not_followed[] = "the boat could not be followed along its supports so far";

static bool figure_of_slide(const dd_depth *d, dd_depth_end end, const dd_depth_place *p, dd_depth_figure *f)
{
    const dd_winch_parameters *winch = &d->m->rig->trailer.winch;
    const dd_limits *limits = &d->m->scenario.limits;
    const dd_system_force *strap = dd_system_find(d->m->system, &dd_force_strap);
    const bool launch = d->way.launch;
    switch (end) {
    case DD_END_PUSH: return launch && !d->way.engine && FIGURE(fmax(0, p->slide.push), d->way.push, "N", "push guideline", false);
    case DD_END_RUNS: return launch && !d->way.engine && FIGURE(p->slide.speed, 0.5, "m/s", "practice", false);
    case DD_END_TRANSOM: return FIGURE(p->slide.least.v[DD_SEEN_TRANSOM_CLEARANCE], limits->clearance, "mm", "practice", true);
    case DD_END_SKEG: return FIGURE(p->slide.skeg, limits->skeg_clearance, "mm", "practice", true);
    case DD_END_COUPLING_LIFT: return !d->way.loose && FIGURE(fmax(0, -least_of(p, DD_SEEN_COUPLING_LOAD)), limits->coupling_lift, "kN", "practice", false);
    case DD_END_STRAP: return !launch && GIVEN(p->slide.pull, winch->strap_rating, "kN", "the strap's rating");
    case DD_END_WINCH: return !launch && GIVEN(p->slide.pull, winch->rating, "kN", "the winch's rating");
    case DD_END_HANDLE: return !launch && winch->drive != DD_DRIVE_ELECTRIC && FIGURE(p->slide.handle, winch->hand_force_limit, "N", "crank guideline", false);
    case DD_END_STRAP_LENGTH: return !launch && strap != NULL && FIGURE(p->slide.strap, dd_strap_whole_length(strap->instance), "m", "strap figures", false);
    default: return false;
    }
}

bool dd_depth_figure_of(const dd_depth *d, dd_depth_end end, const dd_depth_place *p, dd_depth_figure *f)
{
    const dd_vehicle_parameters *v = &d->m->rig->vehicle;
    const dd_trailer_parameters *t = &d->m->rig->trailer;
    const dd_limits *limits = &d->m->scenario.limits;
    const bool coupled = !d->way.loose, ends = isfinite(p->look.seen.v[DD_SEEN_TOE_DISTANCE]);
    switch (end) {
    case DD_END_WADING: return coupled && GIVEN(most_of(p, DD_SEEN_VEHICLE_WHEEL_DEPTH), v->wading_depth, "mm", "the vehicle's wading depth");
    case DD_END_EXHAUST: return coupled && GIVEN(most_of(p, DD_SEEN_EXHAUST_DEPTH) + v->exhaust_height, v->exhaust_height, "mm", "the exhaust's height");
    case DD_END_TOE: return ends && FIGURE(least_of(p, DD_SEEN_TOE_DISTANCE), p->look.rolls_back, "m", "elementary mechanics", true);
    case DD_END_FRAME:
        (void)FIGURE(fmin(d->crest_clearance, least_of(p, DD_SEEN_FRAME_CLEARANCE)), 0, "mm", "elementary mechanics", true);
        if (isnan(t->frame_clearance)) f->missing = "the frame's clearance is not given";
        return true;
    case DD_END_BOW_FRAME: return !isnan(p->look.seen.v[DD_SEEN_BOW_OVER_FRAME]) && FIGURE(least_of(p, DD_SEEN_BOW_OVER_FRAME), 0, "mm", "elementary mechanics", true);
    case DD_END_ROLLER: return FIGURE(0.01 * most_of(p, DD_SEEN_ROLLER_USE), 1, "%", "maker's plate", false);
    case DD_END_COUPLING: return coupled && GIVEN(most_of(p, DD_SEEN_COUPLING_LOAD), t->coupling_rating, "kN", "the coupling's rating");
    case DD_END_AXLES: return GIVEN(0.01 * most_of(p, DD_SEEN_AXLE_USE), 1, "%", "an axle's rating");
    case DD_END_HOLD: return coupled && FIGURE(p->look.hold_needed, limits->grip_low * p->look.hold_low, "", "tyre friction", false);
    case DD_END_PULL_OUT: return coupled && !d->way.launch && FIGURE(fmax(p->look.drive_needed, p->look.start_needed), limits->grip_low * p->look.drive_low, "", "tyre friction", false);
    default:
        if (!figure_of_slide(d, end, p, f)) return false;
        if (isnan(f->limit) || (isfinite(p->slide.push) && isfinite(f->value))) return true;
        f->value = NAN;
        f->missing = not_followed;
        return true;
    }
}

/* The sentence of a limit that holds must not read as if it were broken. */
static void word_limit(const dd_depth_figure *f, const char *does, char *words, size_t size)
{
    const bool broken = f->at_least ? f->value < f->limit : f->value > f->limit;
    if (isnan(f->limit) || isnan(f->value))
        dd_text(words, size, "%s", f->missing);
    else
        dd_text(words, size, "%s%s", broken ? "" : "past it, ", does);
}

dd_status dd_depth_tell_limits(dd_depth_answer *a, dd_error *error)
{
    (void)error;
    const dd_depth_place *best = &a->band.best;
    dd_check works = dd_check_of("depth", NULL, a->band.works ? 1 : 0, 1, "", "elementary mechanics", "a place that keeps every limit");
    works.least = 1;
    dd_text(works.words, sizeof works.words, a->band.works ? "shallower, %s; deeper, %s" : "%s; %s", dd_depth_end_does(a->band.least.binds),
            dd_depth_end_does(a->band.most.binds));
    dd_reporter_check(a->report, &works);
    for (int e = 0; e < DD_END_COUNT; e++) {
        const dd_depth_end end = (dd_depth_end)e;
        dd_depth_figure f;
        if (!dd_depth_figure_of(&a->depth, end, best, &f)) continue;
        dd_check check = dd_check_of("depth", "at the best place", f.value, f.limit, f.unit, f.source, "%s", dd_depth_end_words(end));
        check.least = f.at_least;
        word_limit(&f, dd_depth_end_does(end), check.words, sizeof check.words);
        dd_reporter_check(a->report, &check);
    }
    return DD_OK;
}
