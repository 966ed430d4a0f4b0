/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pulling out up the ramp by front, rear and four driven wheels.

   Where the scenario has a ramp, loads of coupling and wheels, and what pulls along the path, are those of `depth` with the boat at home,
   for every place from the advised one up: the floating stern takes load off the coupling and so off the rear wheels. The moment
   told is the one at which the grip leaves least. Without a ramp: statics on the grade asked for, out of the water. */
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/shore/tide_given.h"
#include "lib/study/brake.h"
#include "lib/study/depth.h"
#include <math.h>
#include <stdlib.h>

enum { FRONT, REAR, BOTH, DRIVES };

/* The moment of a drive at which the grip leaves least. */
typedef struct moment {
    double needed, likely, least, coupling, hub, begins;
} moment;

static double left(const dd_depth_grip *g) { return g->needed > 0 ? g->likely / g->needed : INFINITY; }

static void keep_least(const dd_depth_look *look, int drive, moment *p)
{
    const dd_depth_grip g = dd_depth_grip_of(look, drive), before = {p->needed, p->likely, p->least};
    if (!isnan(p->needed) && !isnan(g.likely) && left(&g) >= left(&before)) return;
    p->needed = g.needed, p->likely = g.likely, p->least = g.least;
    p->coupling = look->seen.v[DD_SEEN_COUPLING_LOAD];
    p->hub = look->seen.v[DD_SEEN_HUB_DEPTH];
}

/* Where the pull-out begins: the place advised, else where the stern has just lifted (P50), else the deepest that was looked at. */
static dd_status begins_at(dd_depth *d, const dd_depth_band *band, dd_depth_look *from, dd_error *error)
{
    *from = band->best.look;
    if (band->works) return DD_OK;
    *from = d->look[d->count - 1];
    return isnan(d->stern_lifts) ? DD_OK : dd_depth_look_at(d, d->stern_lifts, from, NULL, error);
}

/* By the ramp study. *on_ramp stays false where it cannot tell: why is then in `why`. */
static dd_status by_ramp(const dd_brake *b, moment pulled[DRIVES], bool *on_ramp, char *why, size_t size, dd_error *error)
{
    const dd_case *c = b->scenario;
    double level;
    dd_error found = {.status = DD_OK};
    dd_depth *d = calloc(1, sizeof *d);
    dd_depth_band band;
    dd_depth_look from;
    if (d == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_brake_pull_out", "no memory for the places on the ramp");
    dd_status status = dd_water_level_now(&c->water, c->ramp.datum, &level, &found);
    if (status == DD_OK) status = dd_depth_open(c, level, NULL, d, &found);
    const bool loose = d->way.loose;
    if (status == DD_OK && !loose) status = dd_depth_find(d, &band, &found);
    if (status == DD_OK && !loose) status = begins_at(d, &band, &from, &found);
    *on_ramp = status == DD_OK && !loose;
    if (*on_ramp) dd_text(why, size, "Loads of wheels and coupling are those of depth with the boat home, from %s up the ramp", band.works ? "the place it advises" :
                          isnan(d->stern_lifts) ? "the deepest place it looks at" : "where the stern has just lifted (no place keeps every limit)");
    for (int drive = 0; drive < DRIVES && *on_ramp; drive++) {
        pulled[drive].needed = NAN;
        keep_least(&from, drive, &pulled[drive]);
        pulled[drive].begins = pulled[drive].needed;
        for (int i = 0; i < d->count; i++)
            if (d->look[i].x < from.x) keep_least(&d->look[i], drive, &pulled[drive]);
    }
    if (loose)
        dd_text(why, size, "The trailer is let down on its rope: loads are those of the rig coupled again, out of the water, on the grade asked for");
    else if (status != DD_OK)
        dd_text(why, size, "The ramp study has no answer (%s: %s): loads are those out of the water on the grade asked for", found.place, found.message);
    dd_depth_close(d);
    free(d);
    if (status != DD_ERROR_MEMORY) return DD_OK;
    if (error != NULL) *error = found;
    return status;
}

static void by_statics(const dd_brake *b, moment pulled[DRIVES])
{
    const dd_braking *k = &b->scenario->braking;
    const dd_standing z = dd_stand_on(&b->scenario->vehicle, &b->loaded, b->scenario->gravity, k->hold_grade, 0, NAN);
    const double rolling = k->rolling_resistance * (z.front + z.rear + z.trailer);
    for (int d = 0; d < DRIVES; d++) {
        const double load = d == BOTH ? z.front + z.rear : d == FRONT ? z.front : z.rear;
        const double grip = (d != REAR ? k->hold_friction_front * z.front : 0) + (d != FRONT ? k->hold_friction_rear * z.rear : 0);
        pulled[d] = (moment){.needed = (z.need + rolling) / load, .likely = grip / load, .least = NAN, .coupling = z.coupling, .hub = NAN, .begins = NAN};
    }
}

static const char *climbs(double needed, double likely, double least)
{
    return !(needed <= likely) ? "no" : isnan(least) || needed <= least ? "yes" : "perhaps";
}

/* The same by surfaces, whatever lies on this ramp; their bands from the sources beside them. */
static void add_surfaces(const dd_brake *b, const moment pulled[DRIVES])
{
    static const struct {
        const char *name;
        double low, high;
    } surfaces[] = {{"asphalt dry", 0.65, 0.8}, {"asphalt wet", 0.45, 0.55}, {"concrete wet", 0.5, 0.6}, {"weed", 0.1, 0.25}};
    dd_reporter *r = b->report;
    dd_reporter_table(r, "pull_out_surfaces", "Whether it climbs, by surface", DD_REPORT_LONG);
    dd_reporter_column(r, "surface", "", 0, "under the driven wheels");
    dd_reporter_column(r, "friction low", "", 2, "lower end of its band");
    dd_reporter_column(r, "friction high", "", 2, "upper end");
    dd_reporter_column(r, "front", "", 0, "front wheels driven; perhaps: the need lies within the band");
    dd_reporter_column(r, "rear", "", 0, "rear wheels driven");
    dd_reporter_column(r, "four", "", 0, "all wheels driven");
    for (size_t i = 0; i < sizeof surfaces / sizeof surfaces[0]; i++) {
        dd_reporter_words(r, "%s", surfaces[i].name);
        dd_reporter_value(r, surfaces[i].low);
        dd_reporter_value(r, surfaces[i].high);
        for (int d = 0; d < DRIVES; d++) dd_reporter_words(r, "%s", climbs(pulled[d].needed, surfaces[i].high, surfaces[i].low));
    }
    dd_reporter_source(r, "tyre friction");
    dd_reporter_source(r, "road friction");
    dd_reporter_source(r, "weed on a ramp");
}

dd_status dd_brake_pull_out(dd_brake *b, dd_error *error)
{
    static const char *const drives[] = {"front", "rear", "four"};
    dd_reporter *r = b->report;
    moment pulled[DRIVES];
    char why[400] = "Loads out of the water on the grade asked for: with a ramp in the scenario, those of depth";
    bool on_ramp = false;
    if (b->scenario->on_ramp) {
        dd_status status = by_ramp(b, pulled, &on_ramp, why, sizeof why, error);
        if (status != DD_OK) return status;
    }
    if (!on_ramp) by_statics(b, pulled);
    const dd_standing lifted = dd_stand_on(&b->scenario->vehicle, &b->loaded, b->scenario->gravity, b->scenario->braking.hold_grade, 0, 0);
    dd_reporter_table(r, "pull_out", "Pulling out up the ramp", DD_REPORT_LONG);
    dd_reporter_column(r, "driven wheels", "", 0, "of the vehicle");
    dd_reporter_column(r, "friction needed", "", 3, "boat home, rolling resistance included; on a ramp at the moment that leaves least grip");
    dd_reporter_column(r, "available", "", 3, "under these wheels then, mean by load");
    dd_reporter_column(r, "at least", "", 3, "lower end of the surface's band");
    dd_reporter_column(r, "coupling", "N", 0, "load on the ball then, below zero where the stern's lift raises it");
    dd_reporter_column(r, "hub", "mm", 0, "under water then");
    dd_reporter_column(r, "as it begins", "", 3, "friction needed where the boat was brought home");
    dd_reporter_column(r, "nothing on ball", "", 3, "friction needed out of the water on the grade asked for, the coupling lifted");
    dd_reporter_column(r, "climbs", "", 0, "perhaps: by the middle of the surface's band, not by its lower end");
    for (int d = 0; d < DRIVES; d++) {
        const moment *p = &pulled[d];
        const double bare = d == BOTH ? lifted.front + lifted.rear : d == FRONT ? lifted.front : lifted.rear;
        const double rolling = b->scenario->braking.rolling_resistance * (lifted.front + lifted.rear + lifted.trailer);
        dd_reporter_words(r, "%s%s", drives[d], b->scenario->vehicle.drive == d ? " (fitted)" : "");
        const double values[] = {p->needed, p->likely, p->least, p->coupling, p->hub, p->begins, (lifted.need + rolling) / bare};
        for (size_t i = 0; i < sizeof values / sizeof values[0]; i++) dd_reporter_value(r, values[i]);
        dd_reporter_words(r, "%s", climbs(p->needed, p->likely, p->least));
    }
    dd_reporter_table_note(r, "%s.", why);
    if (b->scenario->on_ramp && !on_ramp) dd_reporter_note(r, "Pull-out: loads not from the ramp study. %s.", why);
    add_surfaces(b, pulled);
    return DD_OK;
}
