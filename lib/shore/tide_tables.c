/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tides from tables: high and low waters, samples, and those of a subordinate station. */
#include "lib/base/error.h"
#include "lib/shore/tide_kind.h"
#include <gsl/gsl_interp.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define DAY 86400.0
#define PI 3.14159265358979323846

typedef struct table {
    dd_tide base;
    size_t count;
    double *times, *levels;
    dd_tide_shape shape;
    gsl_interp *steffen;
    const dd_tide *reference; /* subordinate: the curve of the reference between its own turns */
    double *reference_times, *reference_levels;
} table;

/* The interval of the table that holds a time: bisection. */
static size_t interval(const table *t, double time)
{
    return gsl_interp_bsearch(t->times, time, 0, t->count - 1);
}

static dd_tide_state cosine_at(const dd_tide *tide, double time)
{
    const table *t = (const table *)tide;
    size_t k = interval(t, time);
    double length = t->times[k + 1] - t->times[k], range = t->levels[k + 1] - t->levels[k], angle = PI * (time - t->times[k]) / length;
    return (dd_tide_state){t->levels[k] + range * (1 - cos(angle)) / 2, range * PI / length * sin(angle) / 2};
}

/* One, two, three, three, two and one twelfth of the range in six equal parts of the time. */
static dd_tide_state twelfths_at(const dd_tide *tide, double time)
{
    static const double reached[] = {0, 1, 3, 6, 9, 11, 12};
    const table *t = (const table *)tide;
    size_t k = interval(t, time);
    double part = (t->times[k + 1] - t->times[k]) / 6, range = t->levels[k + 1] - t->levels[k], at = (time - t->times[k]) / part;
    int sixth = at >= 6 ? 5 : (int)at;
    double step = (reached[sixth + 1] - reached[sixth]) / 12 * range;
    return (dd_tide_state){t->levels[k] + reached[sixth] / 12 * range + step * (at - sixth), step / part};
}

static dd_tide_state samples_at(const dd_tide *tide, double time)
{
    const table *t = (const table *)tide;
    dd_tide_state state = {NAN, NAN};
    gsl_interp_eval_e(t->steffen, t->times, t->levels, time, NULL, &state.level);
    gsl_interp_eval_deriv_e(t->steffen, t->times, t->levels, time, NULL, &state.rate);
    return state;
}

static dd_tide_state constant_at(const dd_tide *tide, double time)
{
    (void)time;
    return (dd_tide_state){((const table *)tide)->levels[0], 0};
}

/* The reference's curve between two of its turns, stretched to the station's. Where the reference's two turns are equally high there
   is no curve to stretch, and a cosine stands in. */
static dd_tide_state subordinate_at(const dd_tide *tide, double time)
{
    const table *t = (const table *)tide;
    size_t k = interval(t, time);
    double stretch = (t->reference_times[k + 1] - t->reference_times[k]) / (t->times[k + 1] - t->times[k]);
    double reference_range = t->reference_levels[k + 1] - t->reference_levels[k];
    if (fabs(reference_range) < 1e-9) return cosine_at(tide, time);
    double gain = (t->levels[k + 1] - t->levels[k]) / reference_range;
    dd_tide_state state = t->reference->at(t->reference, t->reference_times[k] + stretch * (time - t->times[k]));
    return (dd_tide_state){t->levels[k] + gain * (state.level - t->reference_levels[k]), gain * stretch * state.rate};
}

static void table_free(dd_tide *tide)
{
    table *t = (table *)tide;
    free(t->times);
    free(t->levels);
    free(t->reference_times);
    free(t->reference_levels);
    gsl_interp_free(t->steffen);
    free(t);
}

static table *table_new(size_t count)
{
    table *t = calloc(1, sizeof *t);
    if (!t) return NULL;
    t->base.free = table_free;
    t->count = count;
    t->times = calloc(count, sizeof *t->times);
    t->levels = calloc(count, sizeof *t->levels);
    if (t->times && t->levels) return t;
    table_free(&t->base);
    return NULL;
}

dd_status dd_tide_high_low(const dd_tide_extreme *extremes, size_t count, dd_tide_shape shape, dd_tide **tide, dd_error *error)
{
    static const char here[] = "dd_tide_high_low";
    *tide = NULL;
    if (count < 2) return dd_fail(error, DD_ERROR_ARGUMENT, here, "a table of high and low waters needs at least two rows");
    for (size_t k = 0; k < count; k++) {
        if (!isfinite(extremes[k].time) || !isfinite(extremes[k].level))
            return dd_fail(error, DD_ERROR_ARGUMENT, here, "row %zu lacks its time or its height", k + 1);
        if (!k) continue;
        if (!(extremes[k].time > extremes[k - 1].time))
            return dd_fail(error, DD_ERROR_ARGUMENT, here, "the time of row %zu is not after that of row %zu", k + 1, k);
        if (extremes[k].high == extremes[k - 1].high)
            return dd_fail(error, DD_ERROR_ARGUMENT, here, "rows %zu and %zu are both %s waters: one between is missing", k, k + 1,
                           extremes[k].high ? "high" : "low");
        if ((extremes[k].level > extremes[k - 1].level) != extremes[k].high)
            return dd_fail(error, DD_ERROR_ARGUMENT, here, "row %zu: a %s water is not %s than the one before", k + 1,
                           extremes[k].high ? "high" : "low", extremes[k].high ? "higher" : "lower");
    }
    table *t = table_new(count);
    if (!t) return dd_fail(error, DD_ERROR_MEMORY, here, "no memory for the table");
    for (size_t k = 0; k < count; k++) {
        t->times[k] = extremes[k].time;
        t->levels[k] = extremes[k].level;
    }
    t->base.from = t->times[0];
    t->base.to = t->times[count - 1];
    t->base.at = shape == DD_TIDE_TWELFTHS ? twelfths_at : cosine_at;
    *tide = &t->base;
    return DD_OK;
}

dd_status dd_tide_samples(const dd_tide_point *points, size_t count, dd_tide **tide, dd_error *error)
{
    static const char here[] = "dd_tide_samples";
    *tide = NULL;
    if (count != 1 && count < 3) return dd_fail(error, DD_ERROR_ARGUMENT, here, "a table of levels needs one row or at least three");
    for (size_t k = 0; k < count; k++) {
        if (!isfinite(points[k].level) || (count > 1 && !isfinite(points[k].time)))
            return dd_fail(error, DD_ERROR_ARGUMENT, here, "row %zu lacks its time or its level", k + 1);
        if (k && !(points[k].time > points[k - 1].time))
            return dd_fail(error, DD_ERROR_ARGUMENT, here, "the time of row %zu is not after that of row %zu", k + 1, k);
    }
    table *t = table_new(count);
    if (t && count > 1) t->steffen = gsl_interp_alloc(gsl_interp_steffen, count);
    if (!t || (count > 1 && !t->steffen)) {
        if (t) table_free(&t->base);
        return dd_fail(error, DD_ERROR_MEMORY, here, "no memory for the table");
    }
    for (size_t k = 0; k < count; k++) {
        t->times[k] = points[k].time;
        t->levels[k] = points[k].level;
    }
    t->base.from = count > 1 ? t->times[0] : -INFINITY;
    t->base.to = count > 1 ? t->times[count - 1] : INFINITY;
    t->base.at = count > 1 ? samples_at : constant_at;
    if (count > 1 && gsl_interp_init(t->steffen, t->times, t->levels, count)) {
        table_free(&t->base);
        return dd_fail(error, DD_ERROR_LIBRARY, here, "interpolation of the table");
    }
    *tide = &t->base;
    return DD_OK;
}

static dd_status stretch(const dd_tide_extreme *turns, const dd_tide_offsets *offsets, table *t, dd_error *error)
{
    for (size_t k = 0; k < t->count; k++) {
        bool high = turns[k].high;
        t->reference_times[k] = turns[k].time;
        t->reference_levels[k] = turns[k].level;
        t->times[k] = turns[k].time + (high ? offsets->high_time : offsets->low_time);
        t->levels[k] = turns[k].level * (high ? offsets->high_ratio : offsets->low_ratio) +
                       (high ? offsets->high_difference : offsets->low_difference);
        if (k && !(t->times[k] > t->times[k - 1]))
            return dd_fail(error, DD_ERROR_ARGUMENT, "dd_tide_subordinate",
                           "the time offsets put a low water before the high water that it follows");
    }
    return DD_OK;
}

dd_status dd_tide_subordinate(const dd_tide *reference, const dd_tide_offsets *offsets, double from, double to, dd_tide **tide,
                              dd_error *error)
{
    static const char here[] = "dd_tide_subordinate";
    dd_tide_extreme *turns;
    size_t count;
    *tide = NULL;
    const double numbers[] = {offsets->high_time,  offsets->low_time,        offsets->high_ratio,
                              offsets->low_ratio, offsets->high_difference, offsets->low_difference};
    for (size_t k = 0; k < sizeof numbers / sizeof *numbers; k++)
        if (!isfinite(numbers[k])) return dd_fail(error, DD_ERROR_ARGUMENT, here, "an offset in time or height is not given");
    /* Turns can be a day and more apart where there is one tide a day. */
    double first = fmax(reference->from, from - 3 * DAY), last = fmin(reference->to, to + 3 * DAY);
    dd_status status = dd_tide_extremes(reference, first, last, &turns, &count, error);
    if (status != DD_OK) return status;
    table *t = count < 2 ? NULL : table_new(count);
    if (t) {
        t->reference_times = calloc(count, sizeof *t->reference_times);
        t->reference_levels = calloc(count, sizeof *t->reference_levels);
    }
    if (count < 2) status = dd_fail(error, DD_ERROR_ARGUMENT, here, "the reference has no high and low water in the span");
    else if (!t || !t->reference_times || !t->reference_levels)
        status = dd_fail(error, DD_ERROR_MEMORY, here, "no memory for the station");
    else status = stretch(turns, offsets, t, error);
    free(turns);
    if (status == DD_OK && (t->times[0] > from || t->times[count - 1] < to))
        status = dd_fail(error, DD_ERROR_ARGUMENT, here, "the reference must reach beyond the span by a high and a low water at each end");
    if (status != DD_OK) {
        if (t) table_free(&t->base);
        return status;
    }
    t->reference = reference;
    t->base.from = from;
    t->base.to = to;
    t->base.at = subordinate_at;
    *tide = &t->base;
    return DD_OK;
}
