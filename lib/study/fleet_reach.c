/* SPDX-License-Identifier: GPL-3.0-or-later */
/* P242: where wheels, skegs and wash reach past the toe. Each rig stands at its own least level, which is as far out as it ever goes on this ramp. */
#include "lib/base/error.h"
#include "lib/base/sources.h"
#include "lib/shore/shore.h"
#include "lib/study/fleet.h"
#include <math.h>

static const char *const actions[] = {"launch", "retrieve"};
static const double inshore = 4.0, beyond = 2.0, step = 0.1; /* of the ground drawn, m: before the toe, and after what reaches furthest */

/* Furthest out, and the rig that it is; NaN: nothing. */
typedef struct furthest {
    double x;
    const char *rig;
} furthest;

static void further(furthest *f, double x, const char *rig)
{
    if (isnan(x) || x <= f->x) return;
    *f = (furthest){x, rig};
}

static void tell_ground(dd_fleet_work *w, double to)
{
    dd_ramp *ramp;
    dd_error ignored;
    dd_reporter *r = w->report;
    dd_fleet_table(w, "ground", "The ground about the slab's end", DD_REPORT_LONG);
    dd_reporter_column(r, "x", "m", 2, "seaward of the slab's end");
    dd_reporter_column(r, "z", "m", 3, "on the ramp's datum");
    if (dd_ramp_create(&w->ramp[0], &ramp, &ignored) != DD_OK) return; /* it was made for every answer */
    const double toe = dd_ramp_toe(ramp);
    for (int i = 0; isfinite(toe) && -inshore + i * step <= to + beyond; i++) {
        const double x = -inshore + i * step;
        dd_reporter_value(r, x);
        dd_reporter_value(r, dd_ramp_at(ramp, toe + x).z);
    }
    dd_ramp_free(ramp);
}

static void tell_furthest(dd_fleet_work *w, const furthest *wheel, const furthest *skeg, const furthest *wash, double lowest, double fastest)
{
    dd_reporter *r = w->report;
    if (wheel->rig == NULL) return;
    dd_reporter_note(r, "At its own least level each rig reaches furthest out. Wheels: %.2f m %s the slab's end (%s).", fabs(wheel->x), wheel->x > 0 ? "past" : "before", wheel->rig);
    if (skeg->rig != NULL)
        dd_reporter_note(r, "Skegs, engine down: %.2f m %s it (%s); the lowest clears the ground by %.0f mm.", fabs(skeg->x), skeg->x > 0 ? "past" : "before", skeg->rig, 1e3 * lowest);
    if (wash->rig != NULL)
        dd_reporter_note(r, "Wash of those driven on: strongest on the ground up to %.1f m %s it (%s), up to %.1f m/s: the ground is dug and thrown up there unless it is armoured.",
                         fabs(wash->x), wash->x > 0 ? "past" : "before", wash->rig, fastest);
}

void dd_fleet_tell_reach(dd_fleet_work *w)
{
    dd_reporter *r = w->report;
    furthest wheel = {-INFINITY, NULL}, skeg = wheel, wash = wheel;
    double lowest = INFINITY, fastest = 0, far = 0;
    bool driven = false;
    dd_fleet_table(w, "reach", "Past the slab's end, each rig at its least level", DD_REPORT_LONG);
    dd_reporter_column(r, "rig", "", 0, "its name");
    dd_reporter_column(r, "action", "", 0, "launch or retrieve");
    dd_reporter_column(r, "count", "", 2, "how many");
    dd_reporter_column(r, "level", "m", 3, "of the water, at which it just works");
    dd_reporter_column(r, "wheels", "m", 2, "the trailer's rearmost, seaward of the slab's end; negative: before it");
    dd_reporter_column(r, "skeg", "m", 2, "likewise, where the engine goes down or up");
    dd_reporter_column(r, "skeg z", "m", 3, "its height, on the ramp's datum");
    dd_reporter_column(r, "clearance", "mm", 0, "of the skeg over the ground");
    dd_reporter_column(r, "wash", "m", 2, "where the wash is strongest along the ground, seaward of the slab's end; empty: no engine drives it on");
    dd_reporter_column(r, "wash speed", "m/s", 2, "of the wash there");
    for (int i = 0; i < w->count; i++)
        for (int a = 0; a < DD_FLEET_ACTIONS; a++) {
            const dd_fleet_answer *known = dd_fleet_known(w, 0, i, a, NULL);
            if (known == NULL || isnan(known->reach.level) || isnan(known->reach.wheel)) continue;
            const dd_depth_reach *reach = &known->reach;
            dd_reporter_words(r, "%s", w->rigs[i].name);
            dd_reporter_words(r, "%s", actions[a]);
            dd_reporter_value(r, w->rigs[i].count);
            dd_reporter_value(r, reach->level);
            dd_reporter_value(r, reach->wheel);
            dd_reporter_value(r, reach->skeg);
            dd_reporter_value(r, reach->skeg_z);
            dd_reporter_value(r, reach->clearance);
            dd_reporter_value(r, reach->wash.x);
            dd_reporter_value(r, reach->wash.speed);
            further(&wheel, reach->wheel, w->rigs[i].name);
            further(&skeg, reach->skeg, w->rigs[i].name);
            further(&wash, reach->wash.x, w->rigs[i].name);
            lowest = fmin(lowest, reach->clearance);
            if (!isnan(reach->wash.speed)) fastest = fmax(fastest, reach->wash.speed), driven = true;
        }
    if (driven) dd_reporter_source(r, "screw wash");
    far = fmax(fmax(wheel.x, skeg.x), fmax(wash.x, 0.0));
    if (wheel.rig != NULL) tell_ground(w, far);
    tell_furthest(w, &wheel, &skeg, &wash, lowest, fastest);
}
