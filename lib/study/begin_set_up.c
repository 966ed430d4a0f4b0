/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A trailer set up for its boat as an outfitter does it, by the loads that `seat` finds: the transom by the last support, no support that bears
   more than its neighbours need to, a keel that is borne as the kind of trailer has it; then the axles by `weigh`, and where `depth` lets the rig
   stand. */
#include "lib/base/error.h"
#include "lib/case/case.h"
#include "lib/shore/tide_given.h"
#include "lib/study/begin.h"
#include "lib/study/depth.h"
#include "lib/study/seat.h"
#include <drawdock/study.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define PLACES 9     /* tried for the foremost support */
#define RAISE 0.03   /* m: so far skids are raised or let down at most */
#define HALVINGS 12
#define SETTLED 1e-3 /* m */
#define SHALLOWER 0.05 /* than best, m: over her trailer the boat is to rest, not to float, or wind and wake move her (practice) */
enum { PASSES = 4 };

/* Makers of hulls ask for a keel that bears most of it, up to 95 %; a trailer of skids bears it on the sides, and its roller leads the bow.
   Share of the boat's weight; NaN: lines of rollers leave the keel free. */
static double keel_asked(int kind) { return kind == DD_BEGIN_KEEL_ROLLERS ? 0.8 : kind == DD_BEGIN_SKIDS ? 0.2 : NAN; }

typedef struct work {
    const dd_begin *answers;
    dd_begin_found *found;
    dd_case scenario;
    dd_begin_placed placed;
    dd_seat seat;
    dd_seat_solution solution;
} work;

/* The boat home on the trailer as found so far; seat's model is the caller's to free, also after an error. */
static dd_status lay(work *w, dd_error *error)
{
    dd_study_model_free(w->seat.m);
    w->seat = (dd_seat){.scenario = NULL};
    dd_status status = dd_begin_place(w->answers, w->found, &w->placed, error);
    w->scenario.boat = w->placed.hull;
    w->scenario.trailer = w->placed.trailer;
    return status == DD_OK ? dd_seat_begin(&w->scenario, &w->seat, error) : status;
}

/* The greatest share of the boat that one support bears; skids are made to bear it all. */
static double greatest_share(const work *w)
{
    double loads[DD_SUPPORTS], sum = 0, most = 0;
    dd_seat_by_support(&w->seat, &w->seat.level, loads, NULL, NULL);
    for (int k = 0; k < w->scenario.trailer.support_count; k++) {
        sum += loads[k];
        if (w->scenario.trailer.supports[k].kind != DD_SUPPORT_SKID) most = fmax(most, loads[k]);
    }
    return most / sum;
}

/* From as far forward as it can stand backwards, until the boat lies less evenly again. Where it does not lie at all the next place is tried: the last
   error stands when none will do. */
static dd_status find_front(work *w, dd_error *error)
{
    double best = INFINITY, front = 0;
    dd_status status = DD_OK;
    for (int i = 0; i < PLACES; i++) {
        if (i > 0) w->found->front = w->placed.front_most + (w->placed.front_least - w->placed.front_most) * i / (PLACES - 1);
        status = lay(w, error);
        if (status == DD_ERROR_MEMORY) return status;
        const double share = status == DD_OK ? greatest_share(w) : INFINITY;
        if (share >= best && front > 0) break;
        if (share < best) best = share, front = w->placed.front;
    }
    w->found->front = front;
    return front > 0 ? DD_OK : status;
}

static int skids_of(const dd_trailer_parameters *trailer)
{
    for (int k = 0; k < trailer->support_count; k++)
        if (trailer->supports[k].kind == DD_SUPPORT_SKID) return k;
    return -1;
}

/* By how much skids are to be raised so that the keel bears what is asked; the higher they are, the less it bears. */
static dd_status find_raise(work *w, double asked, dd_error *error)
{
    const dd_seat *s = &w->seat;
    const int skids = skids_of(&w->scenario.trailer);
    double low = -RAISE - w->found->raise, high = RAISE - w->found->raise;
    for (int i = 0; i < HALVINGS; i++) {
        const double by = 0.5 * (low + high);
        double raise[DD_SEAT_CONTACTS] = {0};
        dd_seat_raise(&s->model, skids, 0, by, raise);
        dd_status status = dd_seat_solve(&s->model, dd_seat_standing(s, 0), raise, NULL, &w->solution, error);
        if (status != DD_OK) return status;
        *(dd_seat_keel_share(s, &w->solution) > asked ? &low : &high) = by;
    }
    w->found->raise += 0.5 * (low + high);
    return DD_OK;
}

/* Until the last support stands by the transom where the hull then lies, and the skids bear their share: each moves the other a little. */
static dd_status settle(work *w, dd_error *error)
{
    const double asked = keel_asked((int)w->answers->value[DD_BEGIN_KIND]);
    dd_status status = DD_OK;
    for (int i = 0; i < PASSES && status == DD_OK; i++) {
        const double raised = w->found->raise;
        status = lay(w, error);
        if (status != DD_OK) break;
        const double ahead = w->placed.transom - w->seat.placement.origin.x;
        w->found->stern_ahead += ahead;
        if (!isnan(asked)) status = find_raise(w, asked, error);
        if (fabs(ahead) < SETTLED && fabs(w->found->raise - raised) < SETTLED) break;
    }
    return status;
}

static dd_status find_share(work *w, dd_error *error)
{
    dd_report *report;
    dd_status status = lay(w, error);
    if (status == DD_OK) status = dd_study_weigh(&w->scenario, &report, error);
    if (status != DD_OK) return status;
    for (int i = 0; i < report->check_count; i++)
        if (strcmp(report->checks[i].name, "coupling share") == 0) w->found->coupling_share = 0.01 * report->checks[i].value;
    dd_report_free(report);
    return DD_OK;
}

dd_status dd_begin_set_up(const dd_case *scenario, const dd_begin *answers, dd_begin_found *found, dd_error *error)
{
    work *w = calloc(1, sizeof *w);
    if (w == NULL) return dd_fail(error, DD_ERROR_MEMORY, "begin", "no memory for the supports");
    w->answers = answers;
    w->found = found;
    dd_case_copy(&w->scenario, scenario);
    dd_status status = find_front(w, error);
    if (status == DD_OK) status = settle(w, error);
    if (status == DD_OK) status = find_share(w, error);
    dd_study_model_free(w->seat.m);
    free(w);
    return status;
}

static void take_most(double *most, const dd_seen *seen) { *most = fmax(*most, seen->v[DD_SEEN_COUPLING_LOAD]); }

dd_status dd_begin_best_depth(const dd_case *scenario, double *depth, double *room, bool *works, double *coupling_most, dd_error *error)
{
    double level;
    dd_depth_band band;
    dd_depth *d = calloc(1, sizeof *d);
    if (d == NULL) return dd_fail(error, DD_ERROR_MEMORY, "begin", "no memory for the positions");
    dd_status status = dd_water_level_now(&scenario->water, scenario->ramp.datum, &level, error);
    if (status == DD_OK) status = dd_depth_open(scenario, level, NULL, d, error);
    if (status == DD_OK) status = dd_depth_find(d, &band, error);
    if (status == DD_OK) {
        *depth = band.best.look.seen.v[DD_SEEN_HUB_DEPTH];
        *works = band.works;
        *room = band.works ? band.most.look.seen.v[DD_SEEN_HUB_DEPTH] - *depth : 0;
        if (band.works && !d->way.launch) *depth -= fmin(SHALLOWER, (*depth - band.least.look.seen.v[DD_SEEN_HUB_DEPTH]) / 3);
        for (int i = 0; i < d->count && d->look[i].x < band.best.look.x; i++) take_most(coupling_most, &d->look[i].seen);
        take_most(coupling_most, &band.best.look.seen);
        take_most(coupling_most, &band.best.slide.most);
    }
    dd_depth_close(d);
    free(d);
    return status;
}
