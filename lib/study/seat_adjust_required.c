/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What of the hull maker's requirements a setting meets: as lib/study/seat_required.c checks them, and by how much it misses them, so
   that a search goes toward what meets them. */
#include "lib/study/seat_adjust.h"
#include "lib/study/seat_required.h"
#include <math.h>

static const double far = 0.1;    /* m: by so much out of place counts as by the whole of a limit */
static const double room = 0.001; /* m: left by the search, since the hull computed in full lies a little elsewhere */

static const int kinds[] = {[DD_REQUIRE_NO_ROLLERS] = DD_ASK_ZONES, [DD_REQUIRE_TRANSOM] = DD_ASK_TRANSOM, [DD_REQUIRE_BULKHEAD] = DD_ASK_BULKHEADS,
                            [DD_REQUIRE_OVERHANG] = DD_ASK_OVERHANG, [DD_REQUIRE_PRESSURE] = DD_ASK_PRESSURE};

int dd_adjust_kind_of(const dd_requirement *q) { return kinds[q->kind]; }

/* Greatest peak under any roller that bears; NaN: none is known. */
static double greatest_peak(const dd_adjusting *a, const dd_seat_outcome *o)
{
    double most = NAN;
    for (int k = 0; k < a->trailer.support_count; k++) {
        if (!(o->most[k] > 0) || a->trailer.supports[k].kind == DD_SUPPORT_SKID) continue;
        const double peak = dd_seat_peak_pressure(&a->trailer.supports[k], o->point[k]);
        if (!isnan(peak) && !(peak <= most)) most = peak;
    }
    return most;
}

/* Of every band in the zone: how deep it lies in it, and what it bears of the boat's weight: less of either is nearer to none. */
static double miss_of_zone(const dd_requirement *q, const dd_seat_band *bands, const double *borne, int count, double weight, double margin)
{
    double miss = 0;
    for (int i = 0; i < count; i++) {
        const double apart = dd_seat_apart_from_zone(&bands[i], q);
        if (apart < margin) miss += (margin - apart) / far + borne[i] / weight;
    }
    return miss;
}

void dd_adjust_required(const dd_adjusting *a, const dd_seat_laid *laid, const dd_seat_model *model, const double *load, double reserve, dd_seat_outcome *o)
{
    const dd_seating *asked = &a->scenario->seating;
    const double weight = dd_hull_mass(a->base.m->hull)->mass * a->base.gravity, left = reserve > 0 ? room : 0;
    dd_seat_band bands[DD_SEAT_BANDS];
    double borne[DD_SEAT_BANDS];
    if (asked->requirement_count == 0) return;
    const int count = dd_seat_bearing_bands(laid, model, load, bands, borne);
    for (int i = 0; i < asked->requirement_count; i++) {
        const dd_requirement *q = &asked->requirements[i];
        double *miss = &o->miss[kinds[q->kind]];
        int which;
        if (q->kind == DD_REQUIRE_PRESSURE) {
            o->reached[i] = greatest_peak(a, o);
            if (!isnan(o->reached[i])) *miss += fmax(0, o->reached[i] / (q->most * (1 - reserve)) - 1);
            continue;
        }
        o->reached[i] = dd_seat_least_apart(bands, count, q, &which);
        if (q->kind == DD_REQUIRE_NO_ROLLERS)
            *miss += miss_of_zone(q, bands, borne, count, weight, left);
        else if (which >= 0)
            *miss += fmax(0, o->reached[i] - (q->within - fmin(left, 0.1 * q->within))) / far;
    }
}
