/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the best place means for vehicle, drawbar and slab. */
#include "lib/base/numbers.h"
#include "lib/study/depth_report.h"
#include <math.h>

/* Rig x at which something of the vehicle just comes to the water, by straight lines between the rows; beyond them by the slope. */
static double touches_at(const dd_depth *d, int seen)
{
    double before = d->look[0].seen.v[seen];
    const double slope = fmax(0.02, -dd_ramp_at(d->m->ramp, d->look[0].x).slope);
    if (before > 0) return d->look[0].x - before / slope;
    for (int i = 1; i < d->count; i++) {
        const double now = d->look[i].seen.v[seen];
        if (now > 0) return d->look[i - 1].x + (d->look[i].x - d->look[i - 1].x) * before / (before - now);
        before = now;
    }
    return INFINITY;
}

double dd_depth_longer_for_tyres(const dd_depth *d, double x) { return fmax(0.0, x - touches_at(d, DD_SEEN_VEHICLE_WHEEL_DEPTH)); }

double dd_depth_longer_for_exhaust(const dd_depth *d, double x)
{
    return isnan(d->m->rig->vehicle.exhaust_height) ? NAN : fmax(0.0, x - touches_at(d, DD_SEEN_EXHAUST_DEPTH));
}

static void tell_vehicle(dd_depth_answer *a)
{
    const dd_depth *d = &a->depth;
    const dd_depth_place *best = &a->band.best;
    const double wet = best->look.seen.v[DD_SEEN_VEHICLE_WHEEL_DEPTH], longer = dd_depth_longer_for_tyres(d, best->look.x);
    const double slope = fmax(0.01, -dd_ramp_at(d->m->ramp, best->look.x).slope), rope = d->m->rig->trailer.rope.length;
    if (d->way.loose) {
        dd_reporter_note(a->report, "The trailer is let down on its rope: %.1f m of rope keep the vehicle's rear tyres dry%s.", longer,
                         isnan(rope) ? "" : rope < longer ? ", more than it has" : ", which it has");
        return;
    }
    if (longer > 0) {
        char exhaust[40] = "";
        const double for_exhaust = dd_depth_longer_for_exhaust(d, best->look.x);
        if (!isnan(for_exhaust)) dd_text(exhaust, sizeof exhaust, ", %.2f m the exhaust", for_exhaust);
        dd_reporter_note(a->report, "The vehicle's rear tyres stand %.0f mm in the water: a drawbar (or a rope) %.2f m longer keeps them dry%s.", 1e3 * wet, longer, exhaust);
    } else
        dd_reporter_note(a->report, "The vehicle's rear tyres stay dry, %.2f m from the water's edge.", -wet / slope * sqrt(1 + slope * slope));
    dd_reporter_note(a->report, "The boat 50 mm lower on its trailer: %.2f m less down the ramp.", 0.05 / slope);
}

/* P244: between the shallowest and the deepest place, at this level and at the least. */
static void tell_driven(dd_depth_answer *a)
{
    const dd_depth *d = &a->depth;
    const dd_vehicle_parameters *v = &d->m->rig->vehicle;
    if (d->way.loose || !a->band.works) return;
    double up = a->band.least.look.x, down = a->band.most.look.x;
    if (v->drive != 1) up = dd_vehicle_on_profile(v, d->m->ramp, up).front_x;
    if (v->drive == 0) down = dd_vehicle_on_profile(v, d->m->ramp, down).front_x;
    const double high = dd_ramp_at(d->m->ramp, up).z, low = dd_ramp_at(d->m->ramp, down).z;
    const double fall = a->least.found ? fmax(0.0, d->level - a->least.level) : 0;
    dd_reporter_note(a->report, "Driven wheels stand %.1f to %.1f m beyond the crest, on levels of %.2f to %.2f m above %s%s: keep the slab clean of weed there.", up, down,
                     high, low, dd_depth_datum(a), fall > 0 ? " now" : "");
    if (fall > 0) dd_reporter_note(a->report, "At the least level driven wheels stand down to a level of %.2f m above %s: from there up no weed.", low - fall, dd_depth_datum(a));
}

static void tell_crest(dd_depth_answer *a)
{
    const dd_depth *d = &a->depth;
    if (isnan(d->crest_clearance)) {
        dd_reporter_note(a->report, "The frame at crest and grade breaks: not checked, its height (frame clearance) is not given.");
        return;
    }
    dd_reporter_note(a->report, "The frame clears crest and grade breaks by %.0f mm, least with the rear axle %.1f m %s the crest.", 1e3 * d->crest_clearance,
                     fabs(d->crest_x), d->crest_x < 0 ? "before" : "beyond");
    if (isfinite(d->m->rig->trailer.jockey.behind_coupling))
        dd_reporter_note(a->report, "The jockey wheel at the crest: wind it up; its height when stowed is not given.");
}

dd_status dd_depth_tell_ramp(dd_depth_answer *a, dd_error *error)
{
    dd_depth_look look;
    dd_settle branch;
    tell_vehicle(a);
    tell_driven(a);
    tell_crest(a);
    dd_status status = dd_depth_look_at(&a->depth, a->band.best.look.x, &look, &branch, error);
    if (status != DD_OK) return status;
    status = dd_settle_evaluate(&branch, DD_WANT_STIFFNESS, error);
    dd_settle_end(&branch);
    if (status != DD_OK) return status;
    a->roll = dd_roll_stiffness(a->depth.m->workspace);
    if (a->roll < 0 && a->band.works)
        dd_reporter_note(a->report, "At the best place the floating stern does not hold itself upright on the supports that are left: steady it by hand.");
    dd_reporter_assumed(a->report, "still water at the level of time 0; the boat moves straight along the trailer, in the rig's own plane");
    return DD_OK;
}
