/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `settle`: every load, trim and depth as the rig goes down the ramp in still water, with the band that friction leaves open. */
#include "lib/base/error.h"
#include "lib/ode/ode.h"
#include "lib/study/picture.h"
#include "lib/study/settle.h"
#include "lib/study/verdict.h"
#include <drawdock/study.h>
#include <stdio.h>
#include <string.h>

/* What the band is given for. */
static const int banded[] = {DD_SEEN_STRAP_TENSION, DD_SEEN_REAR_LOAD, DD_SEEN_STOP_LOAD, DD_SEEN_COUPLING_LOAD, DD_SEEN_TRIM};
enum { BANDED = sizeof banded / sizeof banded[0], MOST_ROWS = 4000 };
static const double depth_step = 0.01; /* between rows, by the hub's depth, m */

typedef struct study {
    dd_study_model *m;
    dd_recorder *recorder;
    dd_settle branch[DD_FRICTION_STATES];
    int alive[DD_FRICTION_STATES];
    double weight, step, x;
    double before[2]; /* event values at the last row */
    double lifts_at, afloat_at, lifts_depth, afloat_depth;
    dd_seen lifts_seen, afloat_seen;
} study;

static dd_status add_columns(const study *s)
{
    dd_status status = dd_seen_columns(s->m, s->recorder);
    for (int i = 0; i < BANDED && status == DD_OK; i++)
        for (int high = 0; high < 2 && status == DD_OK; high++) {
            char name[96];
            snprintf(name, sizeof name, "%s %s", high ? "highest" : "lowest", dd_seen_name(banded[i]));
            status = dd_recorder_column(s->recorder, name, dd_seen_unit(banded[i]), "over the ways that friction may hold");
        }
    return status;
}

static void read_branch(study *s, int state, dd_seen *seen)
{
    dd_seen_read(s->m, 1, seen);
    seen->v[DD_SEEN_TIME] = NAN; /* statics know no time */
    if (state == DD_FRICTION_NONE) seen->v[DD_SEEN_STEP] = NAN;
    seen->v[DD_SEEN_FRICTION_NEEDED] = NAN;
}

/* One row: the frictionless equilibrium, and the band over the other friction states. */
static dd_status add_row(study *s, dd_seen *middle, dd_error *error)
{
    double row[DD_SEEN_COUNT + DD_SUPPORTS + 2 * BANDED], low[BANDED], high[BANDED];
    dd_status status = dd_settle_to(&s->branch[DD_FRICTION_NONE], s->x, error);
    if (status != DD_OK) return status;
    read_branch(s, DD_FRICTION_NONE, middle);
    for (int i = 0; i < BANDED; i++) low[i] = high[i] = middle->v[banded[i]];
    for (int state = DD_FRICTION_NONE + 1; state < DD_FRICTION_STATES; state++) {
        dd_seen seen;
        if (!s->alive[state]) continue;
        dd_error why;
        status = dd_settle_to(&s->branch[state], s->x, &why);
        /* A branch that ends says nothing more; the frictionless one carries the study. */
        s->alive[state] = status == DD_OK;
        if (status == DD_ERROR_NO_EQUILIBRIUM) continue;
        if (status != DD_OK) {
            *error = why;
            return status;
        }
        read_branch(s, state, &seen);
        for (int i = 0; i < BANDED; i++) {
            low[i] = fmin(low[i], seen.v[banded[i]]);
            high[i] = fmax(high[i], seen.v[banded[i]]);
        }
    }
    const int supports = s->m->rig->trailer.support_count;
    memcpy(row, middle->v, sizeof middle->v);
    memcpy(row + DD_SEEN_COUNT, middle->support, (size_t)supports * sizeof(double));
    for (int i = 0; i < BANDED; i++) {
        row[DD_SEEN_COUNT + supports + 2 * i] = low[i];
        row[DD_SEEN_COUNT + supports + 2 * i + 1] = high[i];
    }
    return dd_recorder_row(s->recorder, row);
}

typedef struct crossing {
    study *s;
    int which;
    dd_seen seen;
    dd_status status;
    dd_error why;
} crossing;

static double event_value(const study *s, int which, const dd_seen *seen)
{
    const dd_limits *limits = &s->m->scenario.limits;
    return which == 0 ? seen->v[DD_SEEN_REAR_LOAD] - limits->stern_lift_share * s->weight
                      : seen->v[DD_SEEN_CARRIED] - limits->afloat_share * s->weight;
}

static double at_x(double x, void *context)
{
    crossing *c = context;
    dd_settle *branch = &c->s->branch[DD_FRICTION_NONE];
    dd_settle saved = *branch;
    c->status = dd_settle_to(branch, x, &c->why);
    if (c->status != DD_OK) {
        branch->at = saved.at;
        return NAN;
    }
    read_branch(c->s, DD_FRICTION_NONE, &c->seen);
    return event_value(c->s, c->which, &c->seen);
}

static dd_status find_crossing(study *s, int which, double from, double now, dd_error *error)
{
    static const char *const names[] = {"stern lifts", "afloat"};
    crossing c = {.s = s, .which = which};
    double root = s->x;
    dd_status status = dd_ode_locate(at_x, &c, from, s->x, s->before[which], now, 1e-7, &root, error);
    if (status == DD_OK) (void)at_x(root, &c);
    if (c.status != DD_OK) {
        *error = c.why;
        return c.status;
    }
    if (status != DD_OK) return status;
    dd_event event = {
        .time = NAN, .rig_x = root, .hub_depth = c.seen.v[DD_SEEN_HUB_DEPTH], .value = event_value(s, which, &c.seen)};
    snprintf(event.name, sizeof event.name, "%s", names[which]);
    snprintf(event.detail, sizeof event.detail, "hub %.3f m and rear support %.3f m under water, strap %.0f N",
             c.seen.v[DD_SEEN_HUB_DEPTH], c.seen.v[DD_SEEN_REAR_SUPPORT_DEPTH], c.seen.v[DD_SEEN_STRAP_TENSION]);
    snprintf(event.value_unit, sizeof event.value_unit, "N");
    *(which == 0 ? &s->lifts_seen : &s->afloat_seen) = c.seen;
    *(which == 0 ? &s->lifts_at : &s->afloat_at) = root;
    int index = -1;
    status = dd_recorder_event(s->recorder, &event, &index);
    return status == DD_OK ? dd_picture_draw(s->m, &s->m->workspace->kinematics, 1, index, s->recorder) : status;
}

static dd_status walk_down(study *s, dd_extremes *extremes, dd_progress progress, void *context, dd_error *error)
{
    dd_seen seen;
    dd_status status = DD_OK;
    double after = 0;
    for (int i = 0; i < MOST_ROWS && status == DD_OK && after < 0.15; i++) {
        double from = s->x - s->step;
        if (progress != NULL && progress((double)i / MOST_ROWS, 0, context) != 0)
            return dd_fail(error, DD_ERROR_CANCELLED, "settle", "cancelled at rig x %.2f m", s->x);
        status = add_row(s, &seen, error);
        if (status != DD_OK) break;
        dd_extremes_add(extremes, &seen);
        for (int which = 0; which < 2 && status == DD_OK; which++) {
            double now = event_value(s, which, &seen);
            if (i > 0 && s->before[which] > 0 && now <= 0) status = find_crossing(s, which, from, now, error);
            s->before[which] = now;
        }
        if (!isnan(s->afloat_at)) after += depth_step;
        s->x += s->step;
    }
    return status;
}

static void conclude(study *s, const dd_extremes *extremes, const dd_error *failure)
{
    dd_result *r = dd_recorder_result(s->recorder);
    if (extremes->any) dd_margins_of_loads(s->m, extremes, s->recorder);
    dd_assumptions(s->m, s->recorder);
    (void)dd_recorder_unchecked(
        s->recorder,
        "wading depth, exhaust, end of the slab: the rig goes down here until the boat floats; its depths are in the curve");
    (void)dd_recorder_assumed(s->recorder, "nothing moves: loads are those of rest, with the band that friction leaves open");
    if (!isnan(s->afloat_at) && (failure->status == DD_OK || failure->status == DD_ERROR_NO_EQUILIBRIUM)) {
        bool broken = false;
        for (int i = 0; i < r->margin_count; i++) broken |= r->margins[i].broken != 0;
        r->verdict = broken ? DD_VERDICT_BROKEN : DD_VERDICT_WITHIN;
        char lifts[80] = "The rearmost support carries next to nothing from the start and";
        if (!isnan(s->lifts_at))
            snprintf(lifts, sizeof lifts, "The stern lifts with the hub %.2f m under water and",
                     s->lifts_seen.v[DD_SEEN_HUB_DEPTH]);
        snprintf(r->word, sizeof r->word, "floats off");
        snprintf(r->sentence, sizeof r->sentence,
                 "%s the boat is afloat%s at %.2f m; the strap holds at most "
                 "%.0f N, the coupling carries up to %.0f N.",
                 lifts, isnan(s->lifts_at) ? " with the hub" : "", s->afloat_seen.v[DD_SEEN_HUB_DEPTH],
                 extremes->most.v[DD_SEEN_STRAP_TENSION], extremes->most.v[DD_SEEN_COUPLING_LOAD]);
        return;
    }
    r->verdict =
        failure->status == DD_ERROR_NO_EQUILIBRIUM || failure->status == DD_OK ? DD_VERDICT_FAILED : DD_VERDICT_INCOMPLETE;
    snprintf(r->word, sizeof r->word, "%s",
             failure->status == DD_ERROR_NO_EQUILIBRIUM ? "falls"
             : failure->status == DD_OK                 ? "not afloat"
                                                        : "could not be computed");
    snprintf(r->sentence, sizeof r->sentence, "%.390s.",
             failure->status != DD_OK ? failure->message : "The boat does not float off within this ramp");
    r->failure = *failure;
}

static int only_keel_rollers(const dd_rig *rig)
{
    int others = 0;
    for (int i = 0; i < rig->roller_count; i++) others += !rig->rollers[i].keel;
    return others == 0;
}

static dd_status begin(study *s, dd_error *error)
{
    dd_study_model *m = s->m;
    double first = 0;
    dd_status status = dd_study_position(m, m->scenario.start.hub_depth, &first, error);
    if (status == DD_OK && (status = add_columns(s)) != DD_OK)
        return dd_fail(error, status, "settle", "%s", dd_status_text(status));
    for (int state = 0; state < DD_FRICTION_STATES && status == DD_OK; state++) {
        dd_error why;
        status = dd_settle_begin(m, (dd_friction_state)state, first, first - DD_STUDY_APPROACH, &s->branch[state], &why);
        s->alive[state] = status == DD_OK;
        if (status == DD_ERROR_NO_EQUILIBRIUM && state != DD_FRICTION_NONE)
            status = DD_OK;
        else if (status == DD_ERROR_NO_EQUILIBRIUM)
            (void)dd_fail(error, status, "settle", "Without friction the boat does not lie still at home: %.200s%s",
                          why.message,
                          only_keel_rollers(m->rig) ? "; only keel rollers stand under it, and nothing holds it upright" : "");
        else if (status != DD_OK && error != NULL)
            *error = why;
    }
    if (status != DD_OK) return status;
    s->x = first;
    s->step = depth_step / fmax(0.02, -dd_ramp_at(m->ramp, first + 6).slope);
    return DD_OK;
}

dd_status dd_study_settle(const dd_case *scenario, dd_progress progress, void *context, dd_result **result, dd_error *error)
{
    study s = {.lifts_at = NAN, .afloat_at = NAN};
    dd_extremes extremes = {0};
    dd_error failure = {.status = DD_OK};
    *result = NULL;
    dd_case still = *scenario;
    still.water.current = 0;
    dd_status status = dd_study_model_create(&still, &s.m, error);
    if (status != DD_OK) return status;
    s.weight = dd_hull_mass(s.m->hull)->mass * s.m->model.gravity;
    s.recorder = dd_recorder_create(scenario->title, "settle");
    status = s.recorder != NULL ? begin(&s, &failure)
                                : dd_fail(&failure, DD_ERROR_MEMORY, "dd_study_settle", "no memory for the record");
    if (status == DD_OK || status == DD_ERROR_NO_EQUILIBRIUM) {
        if (status == DD_OK) status = walk_down(&s, &extremes, progress, context, &failure);
        if (status != DD_OK && failure.status == DD_OK) /* the record's own failures come without words */
            (void)dd_fail(&failure, status, "settle", "%s", dd_status_text(status));
        conclude(&s, &extremes, &failure);
        dd_status finished = dd_recorder_finish(s.recorder, result, error);
        s.recorder = NULL;
        if (status == DD_OK || status == DD_ERROR_NO_EQUILIBRIUM)
            status = finished; /* that the boat falls is an answer */
        else if (status != DD_OK && error != NULL)
            *error = failure;
    } else if (error != NULL) {
        *error = failure;
    }
    dd_recorder_free(s.recorder);
    for (int state = 0; state < DD_FRICTION_STATES; state++) dd_settle_end(&s.branch[state]);
    dd_study_model_free(s.m);
    return status;
}
