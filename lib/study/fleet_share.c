/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shares of a fleet by level, levels by share, and the time that a tide stands there. */
#include "lib/base/calendar.h"
#include "lib/base/error.h"
#include "lib/shore/tide_given.h"
#include "lib/study/fleet.h"
#include <math.h>
#include <stdlib.h>

#define TIDE_STEP 600.0 /* s */
static const double rounding = 1e-12; /* of shares that are sums */

static bool belongs(const dd_fleet_class *of, double length) { return of == NULL || (length >= of->from && length < of->to); }

const dd_fleet_answer *dd_fleet_known(const dd_fleet_work *w, int ramp, int rig, int action, const dd_fleet_class *of)
{
    const dd_fleet_answer *a = dd_fleet_answer_of(w, ramp, rig, action);
    return a->asked && a->status == DD_OK && belongs(of, w->rigs[rig].length) ? a : NULL;
}

double dd_fleet_asked(const dd_fleet_work *w, int ramp, int action, const dd_fleet_class *of, double *failed)
{
    double sum = 0;
    *failed = 0;
    for (int i = 0; i < w->count; i++) {
        const dd_fleet_answer *a = dd_fleet_answer_of(w, ramp, i, action);
        if (!a->asked || !belongs(of, w->rigs[i].length)) continue;
        sum += w->rigs[i].count;
        if (a->status != DD_OK) *failed += w->rigs[i].count;
    }
    return sum;
}

double dd_fleet_share(const dd_fleet_work *w, int ramp, int action, const dd_fleet_class *of, double level)
{
    double sum = 0, can = 0;
    for (int i = 0; i < w->count; i++) {
        const dd_fleet_answer *a = dd_fleet_known(w, ramp, i, action, of);
        if (a == NULL) continue;
        sum += w->rigs[i].count;
        if (a->level <= level) can += w->rigs[i].count;
    }
    return sum > 0 ? can / sum : NAN;
}

/* The least of the rigs' own levels at which the share is reached: it only changes there. */
double dd_fleet_level(const dd_fleet_work *w, int ramp, int action, const dd_fleet_class *of, double share)
{
    double from = -INFINITY;
    if (isnan(dd_fleet_share(w, ramp, action, of, 0))) return NAN;
    if (dd_fleet_share(w, ramp, action, of, from) >= share - rounding) return from;
    for (;;) {
        double next = INFINITY;
        for (int i = 0; i < w->count; i++) {
            const dd_fleet_answer *a = dd_fleet_known(w, ramp, i, action, of);
            if (a != NULL && a->level > from && a->level < next) next = a->level;
        }
        if (isinf(next)) return INFINITY;
        if (dd_fleet_share(w, ramp, action, of, next) >= share - rounding) return next;
        from = next;
    }
}

double dd_fleet_dry(const dd_fleet_work *w, int ramp, int action)
{
    double sum = 0, dry = 0;
    for (int i = 0; i < w->count; i++) {
        const dd_fleet_answer *a = dd_fleet_known(w, ramp, i, action, NULL);
        if (a == NULL || !a->now) continue;
        sum += w->rigs[i].count;
        if (a->tyres <= 0) dry += w->rigs[i].count;
    }
    return sum > 0 ? dry / sum : NAN;
}

static int by_value(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

dd_status dd_fleet_tide(dd_fleet_work *w, dd_error *error)
{
    const dd_water *water = &w->scenario->water;
    if (water->tide.kind < 0) return DD_OK;
    const dd_date date = dd_calendar_date((long)floor(water->time / DD_SECONDS_PER_DAY));
    double from = dd_calendar_new_year(date.year), to = dd_calendar_new_year(date.year + 1), first, last;
    dd_tide *tide;
    dd_status status = dd_water_tide(water, w->scenario->ramp.datum, from, to, &tide, error);
    if (status != DD_OK) return status;
    dd_tide_span(tide, &first, &last);
    from = fmax(from, first);
    to = fmin(to, last);
    const int count = (int)floor((to - from) / TIDE_STEP);
    w->levels = count > 0 ? malloc((size_t)count * sizeof *w->levels) : NULL;
    if (count > 0 && w->levels == NULL) status = dd_fail(error, DD_ERROR_MEMORY, "dd_study_fleet", "no memory for the tide");
    for (int i = 0; i < count && status == DD_OK; i++) {
        dd_tide_state state;
        status = dd_tide_at(tide, from + (i + 0.5) * TIDE_STEP, &state, error);
        w->levels[i] = state.level;
    }
    dd_tide_free(tide);
    if (status != DD_OK) return status;
    w->level_count = count;
    if (count > 0) qsort(w->levels, (size_t)count, sizeof *w->levels, by_value);
    if (count > 0 && count < 365 * DD_SECONDS_PER_DAY / TIDE_STEP)
        dd_reporter_assumed(w->report, "hours a day: over the %.1f days of %d that the tide is known for, every ten minutes", count * TIDE_STEP / DD_SECONDS_PER_DAY, date.year);
    else if (count > 0)
        dd_reporter_assumed(w->report, "hours a day: over the whole of %d, every ten minutes", date.year);
    return DD_OK;
}

double dd_fleet_time(const dd_fleet_work *w, double level, double rise)
{
    int low = 0, high = w->level_count;
    if (w->levels == NULL || isnan(level)) return NAN;
    while (low < high) {
        const int middle = (low + high) / 2;
        if (w->levels[middle] + rise < level) low = middle + 1;
        else high = middle;
    }
    return (double)(w->level_count - low) / w->level_count;
}
