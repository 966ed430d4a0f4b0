/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How sure the windows are: what holds over the set-up's band, and how far the tide itself reaches in 18.6 years. */
#include "lib/base/calendar.h"
#include "lib/base/error.h"
#include "lib/shore/tide_given.h"
#include "lib/study/windows.h"
#include <math.h>
#include <stdlib.h>

/* What is sure of one window, row by row; a row of words where nothing is. */
static void tell_of_window(dd_windows *w, const dd_usable *u, const dd_window *one)
{
    dd_reporter *r = w->report;
    char text[DD_WINDOWS_CLOCK];
    int told = 0;
    for (size_t k = 0; k < u->sure_count; k++) {
        const dd_window *sure = &u->sure[k];
        if (sure->to <= one->from || sure->from >= one->to || !dd_windows_touches(w, sure)) continue;
        told++;
        dd_reporter_words(r, "%s", u->name);
        dd_windows_stamp(w, sure->from, true, text);
        dd_reporter_words(r, "%s", sure->from <= w->wide_from ? "earlier" : text);
        dd_windows_stamp(w, sure->to, false, text);
        dd_reporter_words(r, "%s", sure->to >= w->wide_to ? "later" : text);
        dd_reporter_value(r, sure->from - one->from);
        dd_reporter_value(r, one->to - sure->to);
        dd_reporter_value(r, sure->to - sure->from);
    }
    if (told > 0) return;
    dd_reporter_words(r, "%s", u->name);
    dd_windows_stamp(w, one->from, true, text);
    dd_reporter_words(r, "not sure: %s", text);
    dd_windows_stamp(w, one->to, false, text);
    dd_reporter_words(r, "%s", text);
    dd_reporter_value(r, NAN);
    dd_reporter_value(r, NAN);
    dd_reporter_value(r, 0);
}

void dd_windows_tell_sure(dd_windows *w)
{
    dd_reporter *r = w->report;
    if (!(w->within > 0)) return;
    dd_reporter_table(r, "sure", "What of each window holds whatever the set-up", w->asked->whole_year ? DD_REPORT_LONG : DD_REPORT_BRIEF);
    dd_reporter_column(r, "action", "", 0, "what the scenario does");
    dd_reporter_column(r, "from", "", 0, "local time; \"not sure\": the whole window, from and to, hangs on the set-up");
    dd_reporter_column(r, "to", "", 0, "its end");
    dd_reporter_column(r, "later", "min", 0, "than the likely window begins");
    dd_reporter_column(r, "sooner", "min", 0, "than the likely window ends");
    dd_reporter_column(r, "lasts", "h", 1, "what is sure");
    for (int i = 0; i < w->rig_count; i++)
        for (size_t k = 0; k < w->rig[i].count; k++)
            if (dd_windows_touches(w, &w->rig[i].windows[k])) tell_of_window(w, &w->rig[i], &w->rig[i].windows[k]);
    for (int i = 0; i < w->rig_count; i++) {
        const dd_usable *u = &w->rig[i];
        dd_reporter_note(r, "%s: with the water %.2f m higher or lower than reckoned %.1f h a day are sure, of %.1f h likely.", u->name, w->within,
                         dd_windows_length(u->sure, u->sure_count, w->from, w->to) / 3600 / w->day_count,
                         dd_windows_length(u->windows, u->count, w->from, w->to) / 3600 / w->day_count);
    }
}

static void tell_extreme(dd_windows *w, const char *name, const dd_tide_extreme *e)
{
    char text[64];
    dd_reporter_words(w->report, "%s", name);
    dd_reporter_value(w->report, e->level);
    dd_reporter_words(w->report, "%s", dd_calendar_text(60 * round(e->time / 60), text, sizeof text));
}

dd_status dd_windows_tell_astronomical(dd_windows *w, const dd_case *scenario, dd_error *error)
{
    const double from = fmin(w->from, DD_LAST_DATE - DD_NODAL_CYCLE - 60);
    dd_tide_extreme lowest, highest;
    dd_tide *tide;
    if (scenario->water.tide.kind < 0) return DD_OK;
    if (scenario->water.tide.kind != DD_TIDE_HARMONIC_CONSTANTS || dd_tide_is_subordinate(&scenario->water.tide.subordinate)) {
        dd_reporter_note(w->report, "Highest and lowest astronomical tide are not told: they need harmonic constants of the place itself.");
        return DD_OK;
    }
    dd_water *water = malloc(sizeof *water);
    if (water == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_windows", "no memory for the water");
    *water = scenario->water;
    water->set_up.offset = 0;
    dd_status status = dd_water_tide(water, scenario->ramp.datum, from, from + DD_NODAL_CYCLE, &tide, error);
    free(water);
    if (status != DD_OK) return status;
    status = dd_tide_astronomical_range(tide, from, &lowest, &highest, error);
    dd_tide_free(tide);
    if (status != DD_OK) return status;
    dd_reporter_table(w->report, "astronomical", "Highest and lowest astronomical tide of 18.6 years", DD_REPORT_BRIEF);
    dd_reporter_datum(w->report, w->datum);
    dd_reporter_column(w->report, "water", "", 0, "which");
    dd_reporter_column(w->report, "level", "m", 2, "on the ramp's datum, without set-up");
    dd_reporter_column(w->report, "time", "", 0, "UTC");
    tell_extreme(w, "highest", &highest);
    tell_extreme(w, "lowest", &lowest);
    dd_reporter_table_note(w->report, "By the constants that are given, from this year on; pressure, wind and a rising sea come on top.");
    return DD_OK;
}
