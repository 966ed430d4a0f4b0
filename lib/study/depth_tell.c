/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The band in words and figures: where to stand, by marks that an owner sees. */
#include "lib/study/depth_report.h"
#include "lib/base/numbers.h"
#include <math.h>
#include <stddef.h>
#include <stdio.h>

/* The places of the table, from shallow to deep. */
static const struct {
    const char *name;
    size_t offset;
} places[] = {{"least", offsetof(dd_depth_band, least)}, {"best", offsetof(dd_depth_band, best)}, {"most", offsetof(dd_depth_band, most)}};

static void add_table(dd_reporter *r, const char *key, const char *title, int brief)
{
    dd_reporter_table(r, key, title, brief);
    dd_reporter_column(r, "place", "", 0, "shallowest, best and deepest place of the rig; where the stern lifts and where the boat floats off by itself");
    dd_reporter_column(r, "hub", "mm", 0, "water over the trailer's rearmost hub at its place on the frame under rated load, boat at home: the mark on the mudguard, above the hub; negative: below");
    dd_reporter_column(r, "support", "mm", 0, "water over the top of the rearmost support");
    dd_reporter_column(r, "wheel", "mm", 0, "water at the trailer's rearmost wheels, over the ground; negative: dry");
    dd_reporter_column(r, "tyre", "mm", 0, "water at the vehicle's rear wheels, over the ground; negative: dry");
    dd_reporter_column(r, "toe", "m", 2, "from the trailer's rearmost wheels to the end of the slab");
    dd_reporter_column(r, "crest", "m", 2, "vehicle's rear axle seaward of the ramp's crest");
    dd_reporter_column(r, "ends it", "", 0, "what binds there");
}

static void add_place(dd_depth_answer *a, const char *name, const dd_depth_look *look, const char *ends)
{
    const double *v = look->seen.v;
    dd_reporter_words(a->report, "%s", name);
    dd_reporter_value(a->report, v[DD_SEEN_HUB_DEPTH]);
    dd_reporter_value(a->report, v[DD_SEEN_REAR_SUPPORT_DEPTH]);
    dd_reporter_value(a->report, v[DD_SEEN_WHEEL_DEPTH]);
    dd_reporter_value(a->report, v[DD_SEEN_VEHICLE_WHEEL_DEPTH]);
    dd_reporter_value(a->report, isfinite(v[DD_SEEN_TOE_DISTANCE]) ? v[DD_SEEN_TOE_DISTANCE] : NAN);
    dd_reporter_value(a->report, look->x);
    dd_reporter_words(a->report, "%s", ends);
}

static dd_status add_moment(dd_depth_answer *a, const char *name, double x, dd_error *error)
{
    dd_depth_look look;
    if (isnan(x)) return DD_OK;
    dd_status status = dd_depth_look_at(&a->depth, x, &look, NULL, error);
    if (status == DD_OK) add_place(a, name, &look, "");
    return status;
}

static double hub(const dd_depth_place *place) { return 1e3 * place->look.seen.v[DD_SEEN_HUB_DEPTH]; }

/* The first lines that anybody reads: where to stand, and what level it takes. */
static void tell_headline(dd_depth_answer *a)
{
    const dd_depth_level *least = &a->least;
    const char *what = a->depth.way.launch ? "Launch" : "Retrieve";
    char stand[160] = "", level[240];
    if (a->band.works)
        dd_text(stand, sizeof stand, "%s with the hub %.0f mm under water (%.0f to %.0f). ", what, hub(&a->band.best), hub(&a->band.least), hub(&a->band.most));
    if (least->found)
        dd_text(level, sizeof level, "Works from a level of %.2f m above %s on (now %.2f m); lower: %s, %s.", least->level, dd_depth_datum(a), a->depth.level,
                dd_depth_end_words(least->shallow), dd_depth_end_words(least->deep));
    else if (least->everywhere)
        dd_text(level, sizeof level, "Works at any level: the ramp has no end within its description.");
    else if (a->band.works)
        dd_text(level, sizeof level, "The least level was not found.");
    else
        dd_text(level, sizeof level, "No level that was tried works: %s, %s.", dd_depth_end_words(least->shallow), dd_depth_end_words(least->deep));
    dd_reporter_headline(a->report, "%s%s", stand, level);
}

/* What rigs side by side are held against each other by. */
static void tell_level(dd_depth_answer *a)
{
    const dd_depth_level *least = &a->least;
    dd_reporter *r = a->report;
    dd_reporter_table(r, "least_level", "The water that it takes", DD_REPORT_BRIEF);
    dd_reporter_datum(r, dd_depth_datum(a));
    dd_reporter_column(r, "water", "", 0, "that of the scenario's time");
    dd_reporter_column(r, "level", "m", 2, "of the water");
    dd_reporter_column(r, "least level", "m", 2, "at which there is a place that keeps every limit; empty: any does, or none was found");
    dd_reporter_column(r, "to spare", "m", 2, "of the level over the least; negative: it lacks so much");
    dd_reporter_column(r, "too shallow", "", 0, "what binds below the least level where the rig stands too shallow");
    dd_reporter_column(r, "too deep", "", 0, "what binds below it where the rig stands too deep");
    dd_reporter_words(r, "water");
    dd_reporter_value(r, a->depth.level);
    dd_reporter_value(r, least->found ? least->level : NAN);
    dd_reporter_value(r, least->found ? a->depth.level - least->level : NAN);
    dd_reporter_words(r, "%s", least->everywhere ? "" : dd_depth_end_words(least->shallow));
    dd_reporter_words(r, "%s", least->everywhere ? "" : dd_depth_end_words(least->deep));
}

static void tell_ends(dd_depth_answer *a)
{
    const dd_depth_band *b = &a->band;
    if (!b->works) {
        dd_reporter_note(a->report, "At this level no place works: %s; %s.", dd_depth_end_does(b->least.binds), dd_depth_end_does(b->most.binds));
        return;
    }
    dd_reporter_note(a->report, "Shallower, %s; deeper, %s.", dd_depth_end_does(b->least.binds), dd_depth_end_does(b->most.binds));
    dd_reporter_note(a->report, "Mark the mudguard %.0f mm above the hub, trailer loaded and level: the water stands there when the rig stands right, boat at home. The mark is "
                                "for this slope.", hub(&b->best));
    const double hanging = 1e3 * b->least.look.seen.v[DD_SEEN_HANGING_HUB_DEPTH]; /* the wheels of a rig that rides light hang lower */
    const bool dry = hanging <= 0;
    dd_reporter_note(a->report, dry ? "Dry hubs: it works with the hubs above the water as well." : "Dry hubs: no, they come %.0f mm under water at least: let them cool first.", hanging);
}

dd_status dd_depth_tell_band(dd_depth_answer *a, dd_error *error)
{
    add_table(a->report, "band", "Where to stand: water at hub, rear support, wheel, vehicle's tyre; toe, crest", DD_REPORT_WHOLE);
    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++) {
        const dd_depth_place *place = (const void *)((const char *)&a->band + places[i].offset);
        if (a->band.works || i == 2) add_place(a, a->band.works ? places[i].name : "nearest", &place->look, place == &a->band.best ? "" : dd_depth_end_words(place->binds));
    }
    add_table(a->report, "moments", "What the boat does at home on the way down", DD_REPORT_BRIEF);
    dd_status status = add_moment(a, "stern lifts", a->depth.stern_lifts, error);
    if (status == DD_OK) status = add_moment(a, "afloat", a->depth.afloat, error);
    tell_level(a);
    tell_headline(a);
    tell_ends(a);
    return status;
}
