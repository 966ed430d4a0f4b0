/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Are the strakes on this hull? Their points, and whether they lie between keel and chine. */
#include <math.h>
#include <stdio.h>
#include "lib/base/error.h"
#include "lib/hull/lines.h"

static const double slip = 1e-3; /* m: a tape's */

double dd_rail_middle(const dd_rail *rail, double x)
{
    const int last = rail->at_count - 1;
    if (!(x >= rail->at[0] && x <= rail->at[last])) return NAN;
    int i = 0;
    while (i < last - 1 && x > rail->at[i + 1]) i++;
    const double share = (x - rail->at[i]) / (rail->at[i + 1] - rail->at[i]);
    return rail->half_breadth[i] + share * (rail->half_breadth[i + 1] - rail->half_breadth[i]);
}

static bool rail_is_sound(const dd_rail *r, int number, char *message, size_t size)
{
    if (r->at_count < 2 || r->at_count != r->half_breadth_count) {
        snprintf(message, size, "strake %d (%s): %d points along it with %d half breadths, expected 2 or more of both, as many", number, r->name,
                 r->at_count, r->half_breadth_count);
        return false;
    }
    for (int i = 0; i < r->at_count; i++) {
        if (i > 0 && !(r->at[i] > r->at[i - 1])) {
            snprintf(message, size, "strake %d (%s): point %d at %g m, expected forward of point %d at %g m", number, r->name, i + 1, r->at[i], i,
                     r->at[i - 1]);
            return false;
        }
        if (r->half_breadth[i] < 0.5 * r->width) {
            snprintf(message, size, "strake %d (%s): half breadth %g m at %g m, %g m wide, expected its inner edge outside the keel", number,
                     r->name, r->half_breadth[i], r->at[i], r->width);
            return false;
        }
    }
    return true;
}

/* Two straight pieces are nearest, or cross, where one of them has a point. */
static bool rails_are_apart(const dd_rail *a, const dd_rail *b, char *message, size_t size)
{
    double before = 0;
    for (int i = 0; i < a->at_count + b->at_count; i++) {
        const double x = i < a->at_count ? a->at[i] : b->at[i - a->at_count];
        const double off = dd_rail_middle(a, x) - dd_rail_middle(b, x);
        if (isnan(off)) continue;
        if (fabs(off) < 0.5 * (a->width + b->width) || off * before < 0) {
            snprintf(message, size, "strakes %s and %s overlap at %g m, expected one beside the other", a->name, b->name, x);
            return false;
        }
        before = off;
    }
    return true;
}

bool dd_rails_check(const dd_rail *rails, int count, char *message, size_t size)
{
    for (int i = 0; i < count; i++)
        if (!rail_is_sound(&rails[i], i + 1, message, size)) return false;
    for (int i = 0; i < count; i++)
        for (int j = 0; j < i; j++)
            if (!rails_are_apart(&rails[j], &rails[i], message, size)) return false;
    return true;
}

/* Where its outer edge would lie beyond the chine: at its points, at the stations, and between them. */
static dd_status check_chine(const dd_hull *hull, const dd_rail *rail, int number, dd_error *error)
{
    enum { BETWEEN = 100 };
    const double from = rail->at[0], to = rail->at[rail->at_count - 1];
    for (int i = 0; i < rail->at_count + hull->stations + BETWEEN; i++) {
        const int station = i - rail->at_count, between = station - hull->stations;
        const double x = station < 0 ? rail->at[i] : between < 0 ? hull->at[station] : from + (to - from) * (between + 0.5) / BETWEEN;
        const double middle = dd_rail_middle(rail, x), edge = middle + 0.5 * rail->width;
        if (isnan(middle)) continue;
        double y[DD_SECTION_POINTS], z[DD_SECTION_POINTS];
        const double chine = y[dd_hull_section(hull, x, y, z) - 2];
        if (edge <= chine + slip) continue;
        char place[128];
        snprintf(place, sizeof place, "dd_hull_create: strakes[%d] %s: half breadths", number, rail->name);
        dd_fail(error, DD_ERROR_ARGUMENT, place, "its outer edge lies %.4g m from the middle at %.4g m, expected inside the chine at %.4g m",
                edge, x, chine);
        return dd_fail_remedy(error, DD_ERROR_ARGUMENT, "end it further aft, or give the hull's chine beam or stations");
    }
    return DD_OK;
}

dd_status dd_rails_fit(const dd_hull *hull, const dd_rail *rails, int count, dd_error *error)
{
    const double first = hull->at[0], last = hull->at[hull->stations - 1];
    for (int i = 0; i < count; i++) {
        const dd_rail *r = &rails[i];
        const double ends[2] = {r->at[0], r->at[r->at_count - 1]};
        for (int e = 0; e < 2; e++) {
            if (ends[e] >= first - slip && ends[e] <= last + slip) continue;
            char place[128];
            snprintf(place, sizeof place, "dd_hull_create: strakes[%d] %s: at", i + 1, r->name);
            return dd_fail(error, DD_ERROR_ARGUMENT, place, "found %.4g m, expected within the hull, %.4g to %.4g m", ends[e], first, last);
        }
        dd_status status = check_chine(hull, r, i + 1, error);
        if (status != DD_OK) return status;
    }
    return DD_OK;
}
