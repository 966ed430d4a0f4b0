/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From what a scenario states to a tide, a level and its course during a run. */
#include "lib/shore/tide_given.h"
#include "lib/base/calendar.h"
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/shore/tide_kind.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A tide that owns the reference which it is made from. */
typedef struct owner {
    dd_tide base;
    dd_tide *own, *reference;
} owner;

static dd_tide_state owner_at(const dd_tide *tide, double time)
{
    const owner *o = (const owner *)tide;
    return o->own->at(o->own, time);
}

static void owner_free(dd_tide *tide)
{
    owner *o = (owner *)tide;
    dd_tide_free(o->own);
    dd_tide_free(o->reference);
    free(o);
}

const char *dd_tide_datum(const dd_water *w)
{
    const dd_tide_parameters *t = &w->tide;
    return t->kind < 0 ? "" : t->subordinate.datum[0] != '\0' ? t->subordinate.datum : t->datum;
}

const char *dd_datum_words(const char *datum) { return datum != NULL && datum[0] != '\0' ? datum : "the ramp's zero"; }

dd_status dd_water_datum_shift(const dd_water *w, const char *ramp_datum, double *shift, dd_error *error)
{
    const char *from = w->tide.kind >= 0 ? dd_tide_datum(w) : w->datum, *key = w->tide.kind >= 0 ? "water.tide.datum" : "water.datum";
    dd_datum datums[DD_DATUMS];
    dd_error why;
    *shift = 0;
    if (strcmp(from, ramp_datum) == 0) return DD_OK;
    if (from[0] == '\0' || ramp_datum[0] == '\0')
        return dd_fail(error, DD_ERROR_ARGUMENT, from[0] == '\0' ? key : "ramp.datum",
                       "levels above what? The %s is told above '%s', here no datum is named; expected its name, and the heights of both in water.datums",
                       from[0] == '\0' ? "ramp" : "water", from[0] == '\0' ? ramp_datum : from);
    for (int i = 0; i < w->datum_count; i++) datums[i] = (dd_datum){w->datums[i].name, w->datums[i].height};
    if (dd_datum_convert(datums, (size_t)w->datum_count, 0, from, ramp_datum, shift, &why) == DD_OK) return DD_OK;
    return dd_fail(error, DD_ERROR_ARGUMENT, "water.datums", "%s", why.message);
}

bool dd_tide_is_subordinate(const dd_tide_differences *d)
{
    return d->station[0] != '\0' || d->datum[0] != '\0' || isfinite(d->high_later) || isfinite(d->low_later) || isfinite(d->high_ratio) ||
           isfinite(d->low_ratio) || isfinite(d->high_higher) || isfinite(d->low_higher);
}

static dd_status harmonic(const dd_tide_parameters *t, double shift, double from, double to, dd_tide **tide, dd_error *error)
{
    dd_tide_constant constants[DD_TIDE_CONSTANTS];
    for (int i = 0; i < t->constant_count; i++)
        constants[i] = (dd_tide_constant){t->constants[i].name, t->constants[i].amplitude, t->constants[i].phase};
    return dd_tide_harmonic(constants, (size_t)t->constant_count, t->mean_level + shift, t->nodes == 1 ? DD_TIDE_CONTINUOUS : DD_TIDE_MID_YEAR,
                            from, to, tide, error);
}

/* A row of a table of high and low waters is high when the row after it, or else before it, is lower. */
static dd_status table(const dd_tide_parameters *t, double shift, dd_tide **tide, dd_error *error)
{
    const size_t count = (size_t)t->point_count;
    dd_tide_extreme *turns = calloc(count + 1, sizeof *turns);
    dd_tide_point *points = calloc(count + 1, sizeof *points);
    dd_status status = turns != NULL && points != NULL ? DD_OK : dd_fail(error, DD_ERROR_MEMORY, "water.tide.points", "no memory for the table");
    for (int i = 0; i < t->point_count && status == DD_OK; i++) {
        const int other = i + 1 < t->point_count ? i + 1 : i > 0 ? i - 1 : i;
        points[i] = (dd_tide_point){t->points[i].at, t->points[i].level + shift};
        turns[i] = (dd_tide_extreme){points[i].time, points[i].level, t->points[i].level > t->points[other].level};
    }
    if (status == DD_OK && t->kind == DD_TIDE_SAMPLED) status = dd_tide_samples(points, count, tide, error);
    else if (status == DD_OK)
        status = dd_tide_high_low(turns, count, t->kind == DD_TIDE_RULE_OF_TWELFTHS ? DD_TIDE_TWELFTHS : DD_TIDE_COSINE, tide, error);
    free(turns);
    free(points);
    return status;
}

/* The span that a subordinate station of a table has: from its second turn to the last but one. */
static dd_status narrow(const dd_tide *reference, const dd_tide_offsets *o, double *from, double *to, dd_error *error)
{
    dd_tide_extreme *turns;
    size_t count;
    dd_status status = dd_tide_extremes(reference, fmax(reference->from, *from - 3 * DD_SECONDS_PER_DAY), fmin(reference->to, *to + 3 * DD_SECONDS_PER_DAY), &turns, &count, error);
    if (status != DD_OK) return status;
    if (count >= 2) {
        *from = fmax(*from, turns[0].time + (turns[0].high ? o->high_time : o->low_time));
        *to = fmin(*to, turns[count - 1].time + (turns[count - 1].high ? o->high_time : o->low_time));
    }
    free(turns);
    return DD_OK;
}

static double or_else(double value, double otherwise) { return isnan(value) ? otherwise : value; }

static dd_status subordinate(const dd_water *w, double shift, double from, double to, dd_tide **tide, dd_error *error)
{
    const dd_tide_differences *d = &w->tide.subordinate;
    const dd_tide_offsets o = {or_else(d->high_later, 0), or_else(d->low_later, 0), or_else(d->high_ratio, 1), or_else(d->low_ratio, 1),
                               or_else(d->high_higher, 0) + shift, or_else(d->low_higher, 0) + shift};
    owner *made = calloc(1, sizeof *made);
    if (made == NULL) return dd_fail(error, DD_ERROR_MEMORY, "water.tide", "no memory for the station");
    made->base.at = owner_at;
    made->base.free = owner_free;
    dd_status status = w->tide.kind == DD_TIDE_HARMONIC_CONSTANTS ? harmonic(&w->tide, 0, from - 4 * DD_SECONDS_PER_DAY, to + 4 * DD_SECONDS_PER_DAY, &made->reference, error)
                                                                  : table(&w->tide, 0, &made->reference, error);
    if (status == DD_OK) status = narrow(made->reference, &o, &from, &to, error);
    if (status == DD_OK && !(from < to)) status = dd_fail(error, DD_ERROR_ARGUMENT, "water.tide.points", "the reference's table does not reach over the time asked for by a high and a low water at each end");
    if (status == DD_OK) status = dd_tide_subordinate(made->reference, &o, from, to, &made->own, error);
    made->base.from = from;
    made->base.to = to;
    if (status == DD_OK) *tide = &made->base;
    else owner_free(&made->base);
    return status;
}

dd_status dd_water_tide(const dd_water *w, const char *ramp_datum, double from, double to, dd_tide **tide, dd_error *error)
{
    double shift;
    *tide = NULL;
    const bool has_tide = w->tide.kind >= 0;
    dd_status status = dd_water_datum_shift(w, ramp_datum, &shift, error);
    if (status != DD_OK) return status;
    shift += or_else(w->set_up.offset, 0);
    if (!has_tide && isnan(w->level)) return dd_fail(error, DD_ERROR_UNSET, "water.level", "neither a level nor a tide is given");
    if (!has_tide && (w->rise != 0 || w->level_count > 0))
        return dd_fail(error, DD_ERROR_ARGUMENT, "water", "the level rises by 'rise' or 'levels', which say nothing of other days; expected a tide");
    if (!has_tide) return dd_tide_samples(&(dd_tide_point){0, w->level + shift}, 1, tide, error);
    dd_error why = {0};
    if (dd_tide_is_subordinate(&w->tide.subordinate)) status = subordinate(w, shift, from, to, tide, &why);
    else if (w->tide.kind == DD_TIDE_HARMONIC_CONSTANTS) status = harmonic(&w->tide, shift, from, to, tide, &why);
    else status = table(&w->tide, shift, tide, &why);
    return status == DD_OK ? DD_OK : dd_fail(error, status, strncmp(why.place, "water", 5) == 0 ? why.place : "water.tide", "%s", why.message);
}

dd_status dd_water_take_tide(dd_water *w, const char *ramp_datum, double duration, dd_error *error)
{
    if (w->tide.kind < 0) {
        double shift;
        dd_status status = dd_water_datum_shift(w, ramp_datum, &shift, error);
        if (status != DD_OK) return status;
        shift += or_else(w->set_up.offset, 0);
        for (int i = 0; i < w->level_count; i++) w->levels[i].level += shift;
        dd_water_stand_at(w, ramp_datum, w->level + shift);
        return DD_OK;
    }
    if (isnan(w->time)) return dd_fail(error, DD_ERROR_UNSET, "water.time", "not given; expected the date and time at which the tide is taken");
    dd_tide *tide;
    dd_tide_state state = {NAN, NAN};
    dd_status status = dd_water_tide(w, ramp_datum, w->time, w->time + fmax(duration, 1), &tide, error);
    if (status != DD_OK) return status;
    const int knots = duration > 0 ? DD_WATER_KNOTS : 1;
    w->knot_step = duration / (DD_WATER_KNOTS - 1);
    for (int i = 0; i < knots && status == DD_OK; i++) {
        status = dd_tide_at(tide, w->time + i * w->knot_step, &state, NULL);
        w->knots[i].level = state.level;
        w->knots[i].rate = state.rate;
    }
    dd_tide_free(tide);
    if (status != DD_OK) {
        char text[64];
        return dd_fail(error, DD_ERROR_ARGUMENT, "water.time", "the tide's table does not hold %s and the %g s after it", dd_calendar_text(w->time, text, sizeof text), duration);
    }
    dd_water_stand_at(w, ramp_datum, w->knots[0].level);
    w->knot_count = duration > 0 ? knots : 0;
    return DD_OK;
}

dd_status dd_water_level_now(const dd_water *water, const char *ramp_datum, double *level, dd_error *error)
{
    *level = NAN;
    dd_water *now = malloc(sizeof *now);
    if (now == NULL) return dd_fail(error, DD_ERROR_MEMORY, "water", "no memory for the water");
    *now = *water;
    dd_status status = dd_water_take_tide(now, ramp_datum, 0, error);
    if (status == DD_OK) *level = now->level;
    free(now);
    return status;
}

void dd_water_stand_at(dd_water *w, const char *ramp_datum, double level)
{
    w->level = level;
    w->tide.kind = -1;
    w->tide.constant_count = w->tide.point_count = 0; /* nobody checks or copies them any more */
    w->knot_count = 0;
    w->set_up.offset = w->set_up.within = 0;
    dd_text(w->datum, sizeof w->datum, "%s", ramp_datum);
}
