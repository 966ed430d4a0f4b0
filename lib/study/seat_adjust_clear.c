/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Clearance of supports from strakes and chine. It goes by how far they are out, and hardly by anything else that is shifted: a table
   is made once, and the search takes what lies between; what it ends with is looked at anew. */
#include "lib/study/seat_adjust.h"
#include "lib/study/seat_meet.h"
#include <math.h>

/* NaN: nothing is known of it. INFINITY: nothing comes beside it. */
static double least_clear(const dd_seat *seat, int support, double out)
{
    double strake, chine;
    dd_seat_clearance(seat, support, out, &strake, &chine);
    return isnan(strake) ? chine : isnan(chine) ? strake : fmin(strake, chine);
}

void dd_adjust_find_clear(dd_adjusting *a)
{
    for (int k = 0; k < a->trailer.support_count; k++) {
        const dd_shift *out = NULL;
        for (int i = 0; i < a->shift_count; i++)
            if (a->shifts[i].support == k && a->shifts[i].direction == DD_SHIFT_OUT) out = &a->shifts[i];
        dd_clear *c = &a->clear[k];
        *c = (dd_clear){.count = 1};
        if (out != NULL) {
            const int steps = out->most - out->least;
            c->count = steps + 1 < DD_CLEAR_PLACES ? steps + 1 : DD_CLEAR_PLACES;
            c->first = out->least * out->step;
            c->step = steps * out->step / (c->count - 1);
        }
        for (int p = 0; p < c->count; p++) c->least[p] = least_clear(&a->base, k, c->first + p * c->step);
        if (isnan(c->least[0])) c->count = 0;
    }
}

double dd_adjust_clear(const dd_adjusting *a, int support, double out)
{
    const dd_clear *c = &a->clear[support];
    if (c->count < 2) return c->count == 1 ? c->least[0] : NAN;
    const double at = fmin(fmax((out - c->first) / c->step, 0), c->count - 1);
    const int p = at >= c->count - 1 ? c->count - 2 : (int)at;
    const double share = at - p;
    /* beside a place where nothing is near it counts as the other */
    if (!isfinite(c->least[p]) || !isfinite(c->least[p + 1])) return share < 0.5 ? c->least[p] : c->least[p + 1];
    return (1 - share) * c->least[p] + share * c->least[p + 1];
}

double dd_adjust_clear_home(const dd_seat *seat, int support) { return least_clear(seat, support, 0); }
