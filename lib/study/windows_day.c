/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Windows of one day, and whether one can launch at one time and come back at another. */
#include "lib/base/calendar.h"
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/study/windows.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

static const double course_step = 600; /* s */
enum { WORDS = 200 };

static double finite_or_none(double value) { return isfinite(value) ? value : NAN; }

void dd_windows_tell_levels(dd_windows *w)
{
    char words[WORDS];
    double low, high;
    dd_reporter *r = w->report;
    dd_reporter_table(r, "usable", "What water will do", DD_REPORT_BRIEF);
    dd_reporter_datum(r, w->datum);
    dd_reporter_column(r, "action", "", 0, "what the scenario does");
    dd_reporter_column(r, "from", "m", 2, "lowest level at which it works, on the ramp's datum; empty: as low as was looked");
    dd_reporter_column(r, "to", "m", 2, "highest; empty: as high as was looked");
    dd_reporter_column(r, "lower", "", 0, "what binds below it: where the rig stands deep enough, and as deep as it can");
    dd_reporter_column(r, "higher", "", 0, "what binds above it");
    for (int i = 0; i < w->rig_count; i++)
        for (int b = 0; b < w->rig[i].band_count; b++) {
            const dd_usable_band *band = &w->rig[i].band[b];
            dd_reporter_words(r, "%s", w->rig[i].name);
            dd_reporter_value(r, finite_or_none(band->low.level));
            dd_reporter_value(r, finite_or_none(band->high.level));
            dd_usable_end_words(&band->low, words, sizeof words);
            dd_reporter_words(r, "%s", words);
            dd_usable_end_words(&band->high, words, sizeof words);
            dd_reporter_words(r, "%s", words);
        }
    dd_windows_between(w, w->from, w->to, &low, &high);
    dd_reporter_table_note(r, "Looked at from %.2f to %.2f m; the tide of the %s asked for: %.2f to %.2f m.", w->rig[0].looked_low, w->rig[0].looked_high,
                           w->asked->whole_year ? "year" : "day", low, high);
}

void dd_windows_tell_windows(dd_windows *w)
{
    char text[DD_WINDOWS_CLOCK];
    dd_reporter *r = w->report;
    dd_reporter_table(r, "windows", "Every window", DD_REPORT_LONG);
    dd_reporter_column(r, "action", "", 0, "what the scenario does");
    dd_reporter_column(r, "from", "", 0, "local time with its distance from UTC, to the full minute within the window");
    dd_reporter_column(r, "to", "", 0, "end; the span looked at ends a day before and after what is asked");
    dd_reporter_column(r, "begins", "h", 3, "hours after the beginning of what is asked; negative: before");
    dd_reporter_column(r, "ends", "h", 3, "the same of the end");
    dd_reporter_column(r, "in daylight", "h", 3, "how much of it falls between sunrise and sunset; empty: no place given");
    for (int i = 0; i < w->rig_count; i++)
        for (size_t k = 0; k < w->rig[i].count; k++) {
            const dd_window *one = &w->rig[i].windows[k];
            if (!dd_windows_touches(w, one)) continue;
            dd_reporter_words(r, "%s", w->rig[i].name);
            dd_windows_stamp(w, one->from, true, text);
            dd_reporter_words(r, "%s", text);
            dd_windows_stamp(w, one->to, false, text);
            dd_reporter_words(r, "%s", text);
            dd_reporter_value(r, one->from - w->from);
            dd_reporter_value(r, one->to - w->from);
            dd_reporter_value(r, w->sun ? dd_windows_length(w->daylight, w->daylight_count, one->from, one->to) : NAN);
        }
}

/* Which clock, and where it changes within what is asked. */
void dd_windows_tell_clock(dd_windows *w)
{
    const dd_clock *clock = &w->asked->clock;
    dd_reporter_note(w->report, "Clock times are those of %s, inwards to the full minute; the tide is the predicted one: pressure and wind shift it.", clock->name);
    for (int i = 1; i < clock->count; i++) {
        const dd_clock_change *change = &clock->changes[i];
        char at[DD_WINDOWS_CLOCK];
        if (change->from < w->from || change->from >= w->to) continue;
        dd_windows_stamp(w, change->from, true, at);
        dd_reporter_note(w->report, "The clocks change: %s from %s on.", change->name, at);
    }
    if (!w->sun) dd_reporter_note(w->report, "No daylight is told: the place's latitude and longitude are not given.");
}

/* Of a window's end: what binds there. */
static void end_words(const dd_windows *w, const dd_usable *u, double time, char words[WORDS])
{
    const double level = dd_windows_level(w, time);
    double nearest = INFINITY;
    words[0] = '\0';
    if (time <= w->wide_from || time >= w->wide_to) return;
    for (int e = 0; e < 2 * u->band_count; e++) {
        const dd_usable_end *end = e % 2 == 0 ? &u->band[e / 2].low : &u->band[e / 2].high;
        if (fabs(end->level - level) >= nearest) continue;
        nearest = fabs(end->level - level);
        dd_usable_end_words(end, words, WORDS);
    }
}

/* In the rows' order, of the table before. */
static void note_sure(dd_windows *w)
{
    char line[WORDS] = "";
    size_t used = 0;
    if (!(w->within > 0)) return;
    for (int i = 0; i < w->rig_count; i++)
        for (size_t k = 0; k < w->rig[i].count && used + 12 < sizeof line; k++) {
            const dd_window *one = &w->rig[i].windows[k];
            if (!dd_windows_touches(w, one)) continue;
            const double sure = dd_windows_length(w->rig[i].sure, w->rig[i].sure_count, one->from, one->to);
            used += (size_t)dd_text(line + used, sizeof line - used, "%s%.1f", used > 0 ? ", " : "", sure / 3600);
        }
    if (used > 0) dd_reporter_table_note(w->report, "Sure with the water %.2f m off either way: %s h.", w->within, line);
}

static void tell_times(dd_windows *w)
{
    dd_reporter *r = w->report;
    char title[120];
    dd_text(title, sizeof title, "When it can be used, by the clock of %s", w->asked->clock.name);
    dd_reporter_table(r, "times", title, DD_REPORT_WHOLE);
    dd_reporter_column(r, "action", "", 0, "what the scenario does");
    dd_reporter_column(r, "from", "", 0, "local time; earlier: open since more than a day");
    dd_reporter_column(r, "to", "", 0, "local time; later: for more than a day");
    dd_reporter_column(r, "lasts", "h", 1, "the whole window, also what falls into the next day; empty: of no known end");
    dd_reporter_column(r, "daylight", "h", 1, "of it between sunrise and sunset");
    dd_reporter_column(r, "ends it", "", 0, "what binds beyond its end");
    for (int i = 0; i < w->rig_count; i++)
        for (size_t k = 0; k < w->rig[i].count; k++) {
            const dd_window *one = &w->rig[i].windows[k];
            char text[DD_WINDOWS_CLOCK], words[WORDS];
            if (!dd_windows_touches(w, one)) continue;
            dd_reporter_words(r, "%s", w->rig[i].name);
            dd_windows_clock(w, one->from, true, w->from, text);
            dd_reporter_words(r, "%s", one->from <= w->wide_from ? "earlier" : text);
            dd_windows_clock(w, one->to, false, w->from, text);
            dd_reporter_words(r, "%s", one->to >= w->wide_to ? "later" : text);
            const bool open = one->from <= w->wide_from || one->to >= w->wide_to;
            dd_reporter_value(r, open ? NAN : one->to - one->from);
            dd_reporter_value(r, w->sun && !open ? dd_windows_length(w->daylight, w->daylight_count, one->from, one->to) : NAN);
            end_words(w, &w->rig[i], one->to, words);
            dd_reporter_words(r, "%s", words);
        }
    note_sure(w);
}

static void tell_hours(dd_windows *w)
{
    dd_reporter *r = w->report;
    const double whole = w->to - w->from, light = w->sun ? dd_windows_length(w->daylight, w->daylight_count, w->from, w->to) : NAN;
    dd_reporter_table(r, "hours", "Hours of the day", DD_REPORT_BRIEF);
    dd_reporter_column(r, "action", "", 0, "what the scenario does");
    dd_reporter_column(r, "usable", "h", 1, "of this day");
    dd_reporter_column(r, "share", "%", 0, "of its hours");
    dd_reporter_column(r, "by daylight", "h", 1, "of this day, between sunrise and sunset");
    dd_reporter_column(r, "of daylight", "%", 0, "share of the daylight; empty: none, or no place given");
    for (int i = 0; i < w->rig_count; i++) {
        const dd_usable *u = &w->rig[i];
        const double hours = dd_windows_length(u->windows, u->count, w->from, w->to), lit = dd_windows_length(u->light, u->light_count, w->from, w->to);
        dd_reporter_words(r, "%s", u->name);
        dd_reporter_value(r, hours);
        dd_reporter_value(r, hours / whole);
        dd_reporter_value(r, w->sun ? lit : NAN);
        dd_reporter_value(r, light > 0 ? lit / light : NAN);
    }
    if (!w->sun) return;
    char rise[DD_WINDOWS_CLOCK] = "", set[DD_WINDOWS_CLOCK] = "";
    for (size_t k = 0; k < w->daylight_count; k++) {
        const dd_window *day = &w->daylight[k];
        if (day->from >= w->from && day->from < w->to) dd_windows_clock(w, day->from, true, NAN, rise);
        if (day->to > w->from && day->to <= w->to && day->to < w->wide_to) dd_windows_clock(w, day->to, false, NAN, set);
    }
    if (!*rise && !*set)
        dd_reporter_note(r, light > 0 ? "The sun does not set." : "The sun does not rise.");
    else
        dd_reporter_note(r, "Sunrise %s, sunset %s: %.1f h of daylight.", *rise ? rise : "none", *set ? set : "none", light / 3600);
}

static void tell_tide(dd_windows *w)
{
    dd_reporter *r = w->report;
    char text[DD_WINDOWS_CLOCK];
    dd_reporter_table(r, "waters", "High and low waters", DD_REPORT_BRIEF);
    dd_reporter_datum(r, w->datum);
    dd_reporter_column(r, "water", "", 0, "high or low");
    dd_reporter_column(r, "at", "", 0, "local time");
    dd_reporter_column(r, "level", "m", 2, "on the ramp's datum");
    for (size_t k = 0; k < w->turn_count; k++) {
        if (w->turns[k].time < w->from || w->turns[k].time >= w->to) continue;
        dd_reporter_words(r, "%s", w->turns[k].high ? "high" : "low");
        dd_windows_clock(w, w->turns[k].time + 30, false, NAN, text);
        dd_reporter_words(r, "%s", text);
        dd_reporter_value(r, w->turns[k].level + w->offset);
    }
    dd_reporter_table(r, "course", "The level over the day", DD_REPORT_DRAWN);
    dd_reporter_datum(r, w->datum);
    dd_reporter_column(r, "hours", "h", 3, "after the beginning of the day");
    dd_reporter_column(r, "clock", "", 0, "local time");
    dd_reporter_column(r, "level", "m", 3, "on the ramp's datum");
    dd_reporter_column(r, "sun", "", 0, "1: between sunrise and sunset; empty: no place given");
    for (double time = w->from; time <= w->to + 1; time += course_step) {
        const double now = fmin(time, w->to);
        dd_reporter_value(r, now - w->from);
        dd_windows_clock(w, now, false, NAN, text);
        dd_reporter_words(r, "%s", text);
        dd_reporter_value(r, dd_windows_level(w, now));
        dd_reporter_value(r, w->sun ? (dd_windows_at(w->daylight, w->daylight_count, now) != NULL) : NAN);
    }
}

/* How far a level stands within the nearest band, m; negative: outside; infinite: no end is near. */
static double margin(const dd_usable *u, double level, const dd_usable_end **nearest)
{
    double best = -INFINITY;
    *nearest = NULL;
    for (int b = 0; b < u->band_count; b++) {
        const double above = level - u->band[b].low.level, below = u->band[b].high.level - level, kept = fmin(above, below);
        if (kept <= best && *nearest != NULL) continue;
        best = kept;
        *nearest = above < below ? &u->band[b].low : &u->band[b].high;
    }
    return best;
}

/* ", sure until 14:10" and the like: what the set-up's band leaves of an answer; "" where the set-up is sure. */
static void tell_sure(const dd_windows *w, const dd_usable *u, double time, bool open, double kept, char *text, size_t size)
{
    char clock[DD_WINDOWS_CLOCK];
    text[0] = '\0';
    if (!(w->within > 0)) return;
    const dd_window *sure = open ? dd_windows_at(u->sure, u->sure_count, time) : NULL;
    if (sure != NULL && sure->to < w->wide_to) {
        dd_windows_clock(w, sure->to, false, w->from, clock);
        dd_text(text, size, ", sure until %s", clock);
    } else if (sure != NULL)
        dd_text(text, size, ", and sure");
    else if (open)
        dd_text(text, size, ", but NOT SURE: it hangs on the set-up");
    else if (kept > -w->within)
        dd_text(text, size, ", though with the set-up off by %.2f m it might", -kept);
}

static void tell_time(dd_windows *w, const dd_usable *u, double time, const char *clock)
{
    const dd_window *in = dd_windows_at(u->windows, u->count, time);
    const dd_usable_end *end;
    const double level = dd_windows_level(w, time), kept = margin(u, level, &end);
    char open[WORDS] = "", sure[WORDS], text[DD_WINDOWS_CLOCK], bound[WORDS] = "";
    if (in != NULL && in->to < w->wide_to) {
        dd_windows_clock(w, in->to, false, w->from, text);
        dd_text(open, sizeof open, "open until %s, %.0f min later", text, floor((in->to - time) / 60));
    } else if (in != NULL) {
        dd_text(open, sizeof open, "open for more than a day");
    } else {
        size_t next = 0;
        while (next < u->count && u->windows[next].from < time) next++;
        dd_windows_clock(w, next < u->count ? u->windows[next].from : time, true, w->from, text);
        if (next < u->count)
            dd_text(open, sizeof open, "opens at %s, %.0f min later", text, ceil((u->windows[next].from - time) / 60));
        else
            dd_text(open, sizeof open, "does not open within a day");
    }
    tell_sure(w, u, time, in != NULL, kept, sure, sizeof sure);
    if (end != NULL && isfinite(end->level)) {
        char words[WORDS];
        dd_usable_end_words(end, words, sizeof words);
        dd_text(bound, sizeof bound, "%.2f m %s the end of what works (%s)", fabs(kept), level > end->level ? "above" : "below", words);
    } else
        dd_text(bound, sizeof bound, end == NULL ? "no level that was looked at works" : "no end of what works is near");
    dd_check check = dd_check_of("times", "by the clock", in != NULL ? 1 : 0, 1, "", "elementary mechanics", "%s at %s", u->name, clock);
    check.least = 1;
    dd_text(check.words, sizeof check.words, "level %.2f m above %s, %s; %s%s", level, w->datum, bound, open, sure);
    dd_reporter_check(w->report, &check);
    const size_t used = strlen(w->answers);
    dd_text(w->answers + used, sizeof w->answers - used, "%s%s at %s: %s, %s%s.", used > 0 ? " " : "", u->launch ? "Launch" : "Back", clock, in != NULL ? "yes" : "NO", open, sure);
    dd_reporter_note(w->report, "%s at %s: %s. Level %.2f m above %s, %s; %s%s.", u->launch ? "Launch" : "Back", clock, in != NULL ? "yes" : "NO", level,
                     w->datum, bound, open, sure);
}

static dd_status tell_asked(dd_windows *w, bool launch, double seconds, dd_error *error)
{
    double time;
    char clock[DD_WINDOWS_CLOCK];
    int asked = 0;
    if (isnan(seconds)) return DD_OK;
    dd_text(clock, sizeof clock, "%02d:%02d", (int)(seconds / 3600), (int)(seconds / 60) % 60);
    const dd_clock_shows shows = dd_clock_time(&w->asked->clock, w->first_day, seconds, &time);
    if (shows == DD_CLOCK_NEVER)
        return dd_fail(error, DD_ERROR_ARGUMENT, "time", "%s does not come on that day: the clocks are put forward over it", clock);
    if (shows == DD_CLOCK_TWICE) dd_reporter_note(w->report, "%s comes twice on that day: the first is meant.", clock);
    for (int i = 0; i < w->rig_count; i++) {
        if (w->rig[i].launch != launch) continue;
        tell_time(w, &w->rig[i], time, clock);
        asked++;
    }
    if (asked == 0)
        return dd_fail(error, DD_ERROR_UNSET, launch ? "launch-at" : "back-at", "a time to %s is asked for, and no scenario does that; add a %s scenario",
                       launch ? "launch" : "come back", launch ? "launch" : "retrieve");
    return DD_OK;
}

/* Nobody reads a wall clock in UTC. */
static const char *without_zone(const dd_windows *w) { return w->asked->clock.count > 0 ? "" : " Times are UTC: no time zone is given (place)."; }

/* "launch 06:12 to 10:40, 18:31 to 23:02". */
static void headline(dd_windows *w)
{
    char line[380] = "";
    size_t used = 0;
    for (int i = 0; i < w->rig_count; i++) {
        const dd_usable *u = &w->rig[i];
        int shown = 0;
        used += (size_t)dd_text(line + used, sizeof line - used, "%s%c%s", i == 0 ? "" : " ", u->name[0] - 'a' + 'A', u->name + 1);
        for (size_t k = 0; k < u->count && used + 100 < sizeof line; k++) {
            char from[DD_WINDOWS_CLOCK], to[DD_WINDOWS_CLOCK];
            if (!dd_windows_touches(w, &u->windows[k])) continue;
            if (u->windows[k].from <= w->from && u->windows[k].to >= w->to) {
                used += (size_t)dd_text(line + used, sizeof line - used, " at any time of this day");
                shown = 1;
                break;
            }
            dd_windows_clock(w, u->windows[k].from, true, w->from, from);
            dd_windows_clock(w, u->windows[k].to, false, w->from, to);
            used += (size_t)dd_text(line + used, sizeof line - used, "%s %s to %s", shown++ ? "," : "", u->windows[k].from <= w->wide_from ? "earlier" : from,
                                    u->windows[k].to >= w->wide_to ? "later" : to);
        }
        used += (size_t)dd_text(line + used, sizeof line - used, shown ? "." : ": not on this day.");
        if (used + 140 >= sizeof line) break;
    }
    dd_reporter_headline(w->report, "%s%s", line, without_zone(w));
}

dd_status dd_windows_tell_day(dd_windows *w, dd_error *error)
{
    tell_times(w);
    tell_hours(w);
    tell_tide(w);
    for (int i = 0; i < w->rig_count; i++) {
        const dd_usable *u = &w->rig[i];
        dd_windows_tell_open(w, u, "on this day", dd_windows_length(u->windows, u->count, w->from, w->to), "of the day");
    }
    dd_status status = tell_asked(w, true, w->asked->launch_at, error);
    if (status == DD_OK) status = tell_asked(w, false, w->asked->back_at, error);
    if (*w->answers)
        dd_reporter_headline(w->report, "%s%s", w->answers, without_zone(w));
    else
        headline(w);
    return status;
}
