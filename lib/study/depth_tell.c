/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The band in words and figures: where to stand, by marks that an owner sees. */
#include "lib/study/depth_report.h"
#include <math.h>
#include <stdio.h>

/* The places of the table, from shallow to deep. */
static const struct {
    const char *name;
    size_t offset;
} places[] = {{"least", offsetof(dd_depth_band, least)}, {"best", offsetof(dd_depth_band, best)}, {"most", offsetof(dd_depth_band, most)}};

static void add_columns(dd_reporter *r)
{
    dd_reporter_table(r, "band", "How deep the rig is to stand", DD_REPORT_WHOLE);
    dd_reporter_column(r, "place", "", 0, "shallowest, best and deepest place of the rig");
    dd_reporter_column(r, "hub", "mm", 0, "water over the trailer's rearmost hub, boat at home; negative: above water");
    dd_reporter_column(r, "rear support", "mm", 0, "water over the top of the rearmost support");
    dd_reporter_column(r, "on wheel", "mm", 0, "water line above the ground at the rearmost wheel: the mark on tyre and mudguard");
    dd_reporter_column(r, "rear tyre", "mm", 0, "water at the vehicle's rear wheels, over the ground; negative: dry");
    dd_reporter_column(r, "to toe", "m", 2, "from the trailer's rearmost wheels to the end of the slab");
    dd_reporter_column(r, "beyond crest", "m", 2, "vehicle's rear axle seaward of the ramp's crest");
    dd_reporter_column(r, "ends it", "", 0, "what binds there");
}

static void add_place(dd_depth_answer *a, const char *name, const dd_depth_place *place)
{
    const double *v = place->look.seen.v;
    dd_reporter_words(a->report, "%s", name);
    dd_reporter_value(a->report, v[DD_SEEN_HUB_DEPTH]);
    dd_reporter_value(a->report, v[DD_SEEN_REAR_SUPPORT_DEPTH]);
    dd_reporter_value(a->report, v[DD_SEEN_HUB_DEPTH] + a->depth.m->rig->trailer.tyre_radius);
    dd_reporter_value(a->report, v[DD_SEEN_VEHICLE_WHEEL_DEPTH]);
    dd_reporter_value(a->report, isfinite(v[DD_SEEN_TOE_DISTANCE]) ? v[DD_SEEN_TOE_DISTANCE] : NAN);
    dd_reporter_value(a->report, place->look.x);
    dd_reporter_words(a->report, "%s", place == &a->band.best ? "" : dd_depth_end_words(place->binds));
}

static void tell_level(dd_depth_answer *a)
{
    dd_reporter *r = a->report;
    const dd_depth_level *least = &a->least;
    const char *what = a->depth.way.launch ? "Launching" : "Retrieving";
    if (least->found)
        dd_reporter_headline(r, "%s works from a level of %.2f m on (%.2f m now); lower, %s, or %s.", what, least->level, a->depth.level,
                             dd_depth_end_does(least->shallow), dd_depth_end_does(least->deep));
    else if (least->everywhere)
        dd_reporter_headline(r, "%s works at any level: the ramp has no end within its description.", what);
    else
        dd_reporter_headline(r, "%s works at no level on this ramp: %s, or %s.", what, dd_depth_end_does(least->shallow), dd_depth_end_does(least->deep));
}

void dd_depth_tell_band(dd_depth_answer *a)
{
    add_columns(a->report);
    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++)
        add_place(a, places[i].name, (const dd_depth_place *)((const char *)&a->band + places[i].offset));
    tell_level(a);
    const double place = a->band.works ? 1 : 0;
    const dd_check works = dd_check_of("depth", NULL, 1 - place, 0.5, "", "elementary mechanics", "%s; %s", dd_depth_end_does(a->band.least.binds),
                                       dd_depth_end_does(a->band.most.binds));
    dd_check named = works;
    snprintf(named.name, sizeof named.name, "%s", "a place where it works at this level");
    dd_reporter_check(a->report, &named);
}
