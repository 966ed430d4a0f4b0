/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Level at a time, high and low waters, crossings, astronomical range, datums. */
#include "lib/base/error.h"
#include "lib/shore/tide_kind.h"
#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define STEP 720.0     /* s: an extreme is bracketed by the rate's sign at this distance */
#define LOCATED 0.05   /* s */
#define COARSE 3600.0  /* s: the same for the highest of many, where a stand between two turns does not matter */

void dd_tide_free(dd_tide *tide)
{
    if (tide) tide->free(tide);
}

void dd_tide_span(const dd_tide *tide, double *from, double *to)
{
    *from = tide->from;
    *to = tide->to;
}

static dd_status check_span(const dd_tide *tide, double from, double to, const char *place, dd_error *error)
{
    if (from >= tide->from && to <= tide->to && from <= to) return DD_OK;
    return dd_fail(error, DD_ERROR_ARGUMENT, place, "a time lies outside the span that the tide is known for");
}

dd_status dd_tide_at(const dd_tide *tide, double time, dd_tide_state *state, dd_error *error)
{
    dd_status status = check_span(tide, time, time, "dd_tide_at", error);
    if (status == DD_OK) *state = tide->at(tide, time);
    return status;
}

typedef struct wanted {
    const dd_tide *tide;
    double level;
} wanted;

static double rate_at(double time, void *data)
{
    const wanted *w = data;
    return w->tide->at(w->tide, time).rate;
}

static double above_at(double time, void *data)
{
    const wanted *w = data;
    return w->tide->at(w->tide, time).level - w->level;
}

/* Where a function changes sign between two times. */
static dd_status locate(double (*function)(double, void *), wanted *w, double low, double high, double *root, dd_error *error)
{
    gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
    if (!solver) return dd_fail(error, DD_ERROR_MEMORY, "tide", "no memory to find a root");
    gsl_function f = {function, w};
    int code = gsl_root_fsolver_set(solver, &f, low, high);
    for (int k = 0; k < 200 && code == GSL_SUCCESS; k++) {
        code = gsl_root_fsolver_iterate(solver);
        if (code != GSL_SUCCESS || gsl_root_fsolver_x_upper(solver) - gsl_root_fsolver_x_lower(solver) < LOCATED) break;
    }
    *root = gsl_root_fsolver_root(solver);
    gsl_root_fsolver_free(solver);
    return code == GSL_SUCCESS ? DD_OK : dd_fail(error, DD_ERROR_LIBRARY, "tide", "root finding: %s", gsl_strerror(code));
}

/* A list that grows: room for one more of `size` bytes. */
static void *more(void *list, size_t count, size_t size)
{
    if (count & (count - 1)) return list;
    return realloc(list, (count ? 2 * count : 1) * size);
}

dd_status dd_tide_extremes(const dd_tide *tide, double from, double to, dd_tide_extreme **extremes, size_t *count, dd_error *error)
{
    *extremes = NULL;
    *count = 0;
    dd_status status = check_span(tide, from, to, "dd_tide_extremes", error);
    wanted w = {tide, 0};
    double last = 0, last_time = from;
    for (double time = from; status == DD_OK; time = fmin(time + STEP, to)) {
        double rate = tide->at(tide, time).rate, root;
        if (last * rate < 0 && (status = locate(rate_at, &w, last_time, time, &root, error)) == DD_OK) {
            dd_tide_extreme *grown = more(*extremes, *count, sizeof **extremes);
            if (!grown) status = dd_fail(error, DD_ERROR_MEMORY, "dd_tide_extremes", "no memory for high and low waters");
            else {
                *extremes = grown;
                grown[(*count)++] = (dd_tide_extreme){root, tide->at(tide, root).level, last > 0};
            }
        }
        if (rate != 0) {
            last = rate;
            last_time = time;
        }
        if (time >= to) break;
    }
    if (status == DD_OK) return DD_OK;
    free(*extremes);
    *extremes = NULL;
    *count = 0;
    return status;
}

/* Between neighbouring extremes the level passes a height at most once. */
dd_status dd_tide_passes(const dd_tide *tide, const dd_tide_extreme *turns, size_t turn_count, double level, double from, double to,
                         dd_tide_crossing **crossings, size_t *count, dd_error *error)
{
    *crossings = NULL;
    *count = 0;
    dd_status status = check_span(tide, from, to, "dd_tide_crossings", error);
    wanted w = {tide, level};
    double low = from;
    for (size_t k = 0; k <= turn_count && status == DD_OK; k++) {
        double high = k < turn_count ? turns[k].time : to, root;
        double before = above_at(low, &w), after = above_at(high, &w), start = low;
        low = high;
        if ((before >= 0) == (after >= 0)) continue;
        status = locate(above_at, &w, start, high, &root, error);
        if (status != DD_OK) break;
        dd_tide_crossing *grown = more(*crossings, *count, sizeof **crossings);
        if (!grown) status = dd_fail(error, DD_ERROR_MEMORY, "dd_tide_crossings", "no memory for the crossings");
        else {
            *crossings = grown;
            grown[(*count)++] = (dd_tide_crossing){root, after > before};
        }
    }
    if (status == DD_OK) return DD_OK;
    free(*crossings);
    *crossings = NULL;
    *count = 0;
    return status;
}

dd_status dd_tide_crossings(const dd_tide *tide, double level, double from, double to, dd_tide_crossing **crossings, size_t *count,
                            dd_error *error)
{
    dd_tide_extreme *turns;
    size_t turn_count;
    *crossings = NULL;
    *count = 0;
    dd_status status = dd_tide_extremes(tide, from, to, &turns, &turn_count, error);
    if (status == DD_OK) status = dd_tide_passes(tide, turns, turn_count, level, from, to, crossings, count, error);
    free(turns);
    return status;
}

/* Between a rise and a fall the curve lies below its tangents: only a turn that can beat the best is located. */
static dd_status keep_best(wanted *w, double from, double to, dd_tide_state a, dd_tide_state b, dd_tide_extreme *best, dd_error *error)
{
    const double sign = best->high ? 1 : -1, meet = (b.level - a.level - b.rate * (to - from)) / (a.rate - b.rate);
    double root;
    if (sign * (a.level + a.rate * meet) <= sign * best->level) return DD_OK;
    dd_status status = locate(rate_at, w, from, to, &root, error);
    if (status != DD_OK) return status;
    const double level = w->tide->at(w->tide, root).level;
    if (sign * level > sign * best->level) *best = (dd_tide_extreme){root, level, best->high};
    return DD_OK;
}

dd_status dd_tide_astronomical_range(const dd_tide *tide, double from, dd_tide_extreme *lowest, dd_tide_extreme *highest,
                                     dd_error *error)
{
    const double to = from + DD_NODAL_CYCLE;
    dd_status status = check_span(tide, from, to, "dd_tide_astronomical_range", error);
    if (status != DD_OK) return status;
    wanted w = {tide, 0};
    dd_tide_state last = tide->at(tide, from);
    double last_time = from;
    *lowest = (dd_tide_extreme){from, INFINITY, false};
    *highest = (dd_tide_extreme){from, -INFINITY, true};
    for (double time = from + COARSE; time <= to && status == DD_OK; time += COARSE) {
        const dd_tide_state state = tide->at(tide, time);
        if (state.rate == 0) continue;
        if (last.rate * state.rate < 0)
            status = keep_best(&w, last_time, time, last, state, last.rate > 0 ? highest : lowest, error);
        last = state;
        last_time = time;
    }
    if (status != DD_OK || (isfinite(lowest->level) && isfinite(highest->level))) return status;
    return dd_fail(error, DD_ERROR_ARGUMENT, "dd_tide_astronomical_range", "the level never turns");
}

static dd_status datum_height(const dd_datum *datums, size_t count, const char *name, double *height, dd_error *error)
{
    *height = NAN;
    for (size_t k = 0; k < count; k++) {
        if (strcmp(datums[k].name, name)) continue;
        if (!isnan(*height)) return dd_fail(error, DD_ERROR_ARGUMENT, "dd_datum_convert", "datum '%s' is given twice", name);
        *height = datums[k].height;
    }
    if (isfinite(*height)) return DD_OK;
    return dd_fail(error, DD_ERROR_ARGUMENT, "dd_datum_convert",
                   "a level is told on datum '%s', whose height at this place is not given: state it, it is never assumed", name);
}

dd_status dd_datum_convert(const dd_datum *datums, size_t count, double level, const char *from, const char *to, double *result,
                           dd_error *error)
{
    double on_from, on_to;
    *result = level;
    if (!strcmp(from, to)) return DD_OK;
    dd_status status = datum_height(datums, count, from, &on_from, error);
    if (status == DD_OK) status = datum_height(datums, count, to, &on_to, error);
    *result = status == DD_OK ? level + on_from - on_to : NAN;
    return status;
}
