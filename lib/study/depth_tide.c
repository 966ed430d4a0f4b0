/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the level comes from: the tide of the day, its high and low waters, its datum, and how sure the level is. */
#include "lib/base/calendar.h"
#include "lib/base/numbers.h"
#include "lib/shore/tide_given.h"
#include "lib/study/depth_report.h"
#include <math.h>
#include <stdlib.h>

#define HALF_DAY 43200.0
#define STEP 600.0 /* s, of the curve */

static bool is_local(const dd_depth_answer *a) { return a->clock != NULL && a->clock->count > 0; }

static void add_time(const dd_depth_answer *a, double time)
{
    char text[64];
    const double minute = 60 * round(time / 60);
    if (!is_local(a)) {
        dd_reporter_words(a->report, "%s", dd_calendar_text(minute, text, sizeof text));
        return;
    }
    const dd_hands hands = dd_clock_at(a->clock, minute);
    const dd_date date = dd_calendar_date(hands.day);
    const int minutes = (int)floor(hands.seconds / 60 + 0.5);
    dd_reporter_words(a->report, "%04d-%02d-%02d %02d:%02d %s", date.year, date.month, date.day, minutes / 60, minutes % 60, hands.zone);
}

static void add_row(const dd_depth_answer *a, const char *what, double time, double level, double on_datum)
{
    dd_reporter_words(a->report, "%s", what);
    add_time(a, time);
    dd_reporter_value(a->report, (time - a->scenario->water.time) / 3600);
    dd_reporter_value(a->report, level);
    dd_reporter_value(a->report, on_datum);
    dd_reporter_words(a->report, "%s", dd_tide_datum(&a->scenario->water));
}

/* shift: of the ramp's levels over the tide's, set-up left out. */
static dd_status add_turns(dd_depth_answer *a, const dd_tide *tide, double now, double from, double to, double shift, dd_error *error)
{
    dd_reporter *r = a->report;
    dd_tide_extreme *turns;
    size_t count;
    dd_tide_state state;
    dd_status status = dd_tide_at(tide, now, &state, error);
    if (status == DD_OK) status = dd_tide_extremes(tide, from, to, &turns, &count, error);
    if (status != DD_OK) return status;
    char title[120];
    dd_text(title, sizeof title, "The tide of the day, half a day either way; times %s%s", is_local(a) ? "by the clock of " : "UTC", is_local(a) ? a->clock->name : "");
    dd_reporter_table(r, "tide", title, DD_REPORT_WHOLE);
    dd_reporter_datum(r, dd_depth_datum(a));
    dd_reporter_column(r, "water", "", 0, "high, low, or that of the scenario's time");
    dd_reporter_column(r, "time", "", 0, "of the place, with the name that its clock then has; UTC: Z");
    dd_reporter_column(r, "hours", "", 2, "after the scenario's time");
    dd_reporter_column(r, "level", "m", 2, "above the ramp's datum, with the set-up");
    dd_reporter_column(r, "tide", "m", 2, "above the tide's datum, without the set-up, as a tide table has it");
    dd_reporter_column(r, "above", "", 0, "the tide's datum");
    bool told = false;
    for (size_t k = 0; k <= count; k++) {
        if (!told && (k == count || turns[k].time > now)) {
            add_row(a, "now", now, state.level, state.level - shift);
            told = true;
        }
        if (k < count) add_row(a, turns[k].high ? "high" : "low", turns[k].time, turns[k].level, turns[k].level - shift);
    }
    free(turns);
    dd_reporter_table_note(r, "The water %s by %.0f mm an hour at that time.", state.rate < 0 ? "falls" : "rises", 3.6e6 * fabs(state.rate));
    return DD_OK;
}

static dd_status add_curve(dd_depth_answer *a, const dd_tide *tide, double now, double from, double to, dd_error *error)
{
    dd_status status = DD_OK;
    dd_reporter_table(a->report, "tide_curve", "The tide over the day", DD_REPORT_DRAWN);
    dd_reporter_datum(a->report, dd_depth_datum(a));
    dd_reporter_column(a->report, "hours", "", 2, "after the scenario's time");
    dd_reporter_column(a->report, "level", "m", 3, "above the ramp's datum, with the set-up");
    dd_reporter_column(a->report, "least", "m", 3, "least level at which the rig works; empty: none was found");
    for (double after = -HALF_DAY; after <= HALF_DAY && status == DD_OK; after += STEP) {
        dd_tide_state state;
        if (now + after < from || now + after > to) continue;
        status = dd_tide_at(tide, now + after, &state, error);
        if (status != DD_OK) break;
        dd_reporter_value(a->report, after / 3600);
        dd_reporter_value(a->report, state.level);
        dd_reporter_value(a->report, a->least.found ? a->least.level : NAN);
    }
    return status;
}

static void add_datums(dd_depth_answer *a)
{
    const dd_water *w = &a->scenario->water;
    if (a->scenario->ramp.datum[0] != '\0') dd_reporter_assumed(a->report, "levels are above the ramp's datum, %s", a->scenario->ramp.datum);
    for (int i = 0; i < w->datum_count; i++)
        dd_reporter_assumed(a->report, "datum %s: height %.3f m%s%s", w->datums[i].name, w->datums[i].height, w->datums[i].source[0] != '\0' ? ", " : ", no source given",
                            w->datums[i].source);
    if (w->set_up.offset != 0 || w->set_up.within > 0)
        dd_reporter_assumed(a->report, "the water stands %.2f m %s its tide or gauge by pressure and wind, within %.2f m either way: now %.2f to %.2f m above %s", fabs(w->set_up.offset),
                            w->set_up.offset < 0 ? "below" : "above", w->set_up.within, a->depth.level - w->set_up.within, a->depth.level + w->set_up.within, dd_depth_datum(a));
    if (w->set_up.within > 0 && a->least.found && a->depth.level - w->set_up.within < a->least.level)
        dd_reporter_note(a->report, "The level may be %.2f m lower than reckoned, which is below the least at which it works.", w->set_up.within);
}

dd_status dd_depth_tell_tide(dd_depth_answer *a, dd_error *error)
{
    const dd_water *w = &a->scenario->water;
    const char *ramp_datum = a->scenario->ramp.datum;
    static const char *const shapes[] = {NULL, "half a cosine between high and low waters, which errs by up to 0.24 m on a range of 7 m at an open coast and by over 1 m where shallow water bends the curve",
                                         "the rule of twelfths between high and low waters, for teaching: off a cosine by 0.026 of the range, which itself errs", NULL};
    add_datums(a);
    if (w->tide.kind < 0) return DD_OK;
    double shift, from = w->time - HALF_DAY, to = w->time + HALF_DAY;
    dd_tide *tide;
    dd_status status = dd_water_datum_shift(w, ramp_datum, &shift, error);
    if (status == DD_OK) status = dd_water_tide(w, ramp_datum, from, to, &tide, error);
    if (status != DD_OK) return status;
    dd_tide_span(tide, &from, &to);
    from = fmax(from, w->time - HALF_DAY);
    to = fmin(to, w->time + HALF_DAY);
    const char *station = w->tide.subordinate.station[0] != '\0' ? w->tide.subordinate.station : w->tide.station;
    dd_reporter_assumed(a->report, "tide of %s, above %s", station[0] != '\0' ? station : "an unnamed station", dd_tide_datum(w));
    if (station != w->tide.station && w->tide.station[0] != '\0') dd_reporter_assumed(a->report, "by differences from %s, above %s", w->tide.station, w->tide.datum);
    if (shapes[w->tide.kind] != NULL) dd_reporter_assumed(a->report, "%s", shapes[w->tide.kind]);
    status = add_turns(a, tide, w->time, from, to, shift + w->set_up.offset, error);
    if (status == DD_OK) status = add_curve(a, tide, w->time, from, to, error);
    dd_tide_free(tide);
    return status;
}
