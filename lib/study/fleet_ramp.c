/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A ramp with its toe lower, its slab longer or of another slope. */
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/shore/shore.h"
#include "lib/study/fleet.h"
#include <math.h>

/* Half the curve in which the slab ends. */
static double half_curve(const dd_ramp_parameters *ramp) { return 1e-3 + 0.5 * (ramp->point_count > 0 ? ramp->point_curve : ramp->toe_curve); }

static dd_status toe_of(const dd_ramp_parameters *ramp, const char *place, double *x, dd_ramp_point *at, dd_error *error)
{
    dd_ramp *made;
    dd_error why;
    const dd_status status = dd_ramp_create(ramp, &made, &why);
    if (status != DD_OK) return dd_fail(error, status, place, "%s", why.message);
    *x = dd_ramp_toe(made);
    /* Inshore of it, where the slab has its own slope. */
    if (isfinite(*x)) *at = dd_ramp_at(made, *x - 2 * half_curve(ramp));
    dd_ramp_free(made);
    return DD_OK;
}

dd_status dd_fleet_change(const dd_ramp_parameters *ramp, const dd_fleet_variant *v, int number, dd_ramp_parameters *changed, double *toe, dd_error *error)
{
    char place[64];
    double x = NAN, now = NAN;
    dd_ramp_point at = {NAN, NAN, NAN};
    dd_text(place, sizeof place, number > 0 ? "fleet.variants[%d]" : "ramp", number);
    *changed = *ramp;
    *toe = ramp->toe_level;
    dd_status status = toe_of(ramp, place, &x, &at, error);
    if (status != DD_OK || v == NULL) return status;
    if (!isfinite(x)) return dd_fail(error, DD_ERROR_ARGUMENT, place, "the ramp has no end: give ramp.toe level, or leave the variant out");
    if (!isnan(v->slope)) {
        if (ramp->point_count > 0) return dd_fail(error, DD_ERROR_ARGUMENT, place, "a ramp of surveyed points has no one slope to change: change its points, or give toe lower by");
        changed->slope = v->slope;
        at.slope = -tan(v->slope);
    }
    const double steep = -at.slope;
    if (!(steep > 0)) return dd_fail(error, DD_ERROR_ARGUMENT, place, "the slab does not fall at its end: it cannot go on from there");
    const double lower = (isnan(v->toe_lower_by) ? 0 : v->toe_lower_by) + (isnan(v->longer_by) ? 0 : v->longer_by * steep / sqrt(1 + steep * steep));
    *toe = changed->toe_level = ramp->toe_level - lower;
    /* Points beyond the end go along with it, so that the slab keeps its slope and the ground beyond its own. */
    for (int i = 0; i < changed->point_count; i++)
        if (changed->points[i].x > x - half_curve(ramp)) changed->points[i].x += lower / steep, changed->points[i].z -= lower;
    status = toe_of(changed, place, &now, &at, error);
    for (int i = 0; i < changed->surface_count && status == DD_OK; i++) {
        dd_surface *s = &changed->surfaces[i];
        if (s->from > x - 0.05) s->from += now - x;
        if (s->to > x - 0.05) s->to += now - x;
    }
    return status;
}
