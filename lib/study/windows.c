/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/windows.h"
#include "lib/base/calendar.h"
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/record/icalendar.h"
#include "lib/shore/tide_given.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double below_tide = 1.0, above_tide = 0.5; /* levels looked at beyond the tide's own, m: for the margins */
static const double least_water = 0.1;                   /* over the toe, m: with less no wheel gets wet */

/* What the place's clock shows at the full minute before (after, with up) a time. */
typedef struct shown {
    double minute; /* that time, s UTC */
    dd_hands hands;
    dd_date date;
    int hours, minutes;
} shown;

static shown show(const dd_windows *w, double time, bool up)
{
    const double minute = 60 * (up ? ceil(time / 60 - 1e-6) : floor(time / 60 + 1e-6));
    const dd_hands hands = dd_clock_at(&w->asked->clock, minute);
    const int minutes = (int)floor(hands.seconds / 60 + 0.5);
    return (shown){minute, hands, dd_calendar_date(hands.day), minutes / 60, minutes % 60};
}

void dd_windows_clock(const dd_windows *w, double time, bool up, double day_start, char text[DD_WINDOWS_CLOCK])
{
    const shown s = show(w, time, up);
    const bool named = !isnan(day_start) && dd_clock_at(&w->asked->clock, day_start).day != s.hands.day;
    if (named)
        dd_text(text, DD_WINDOWS_CLOCK, "%02d:%02d on %d %.3s", s.hours, s.minutes, s.date.day, dd_calendar_month(s.date.month));
    else
        dd_text(text, DD_WINDOWS_CLOCK, "%02d:%02d", s.hours, s.minutes);
}

void dd_windows_stamp(const dd_windows *w, double time, bool up, char text[DD_WINDOWS_CLOCK])
{
    const shown s = show(w, time, up);
    const double local = (double)s.hands.day * DD_SECONDS_PER_DAY + s.hands.seconds;
    const int offset = (int)floor((local - s.minute) / 60 + 0.5), size = abs(offset);
    dd_text(text, DD_WINDOWS_CLOCK, "%04d-%02d-%02dT%02d:%02d%c%02d:%02d", s.date.year, s.date.month, s.date.day, s.hours, s.minutes,
            offset < 0 ? '-' : '+', size / 60, size % 60);
}

bool dd_windows_touches(const dd_windows *w, const dd_window *one) { return one->to > w->from && one->from < w->to; }

void dd_windows_tell_open(dd_windows *w, const dd_usable *u, const char *state, double seconds, const char *each)
{
    dd_check check = dd_check_of("windows", state, seconds > 0 ? 1 : 0, 1, "", "elementary mechanics", "a window to %s", u->name);
    check.least = 1;
    dd_text(check.words, sizeof check.words, "%.1f h %s", seconds / 3600, each);
    dd_reporter_check(w->report, &check);
}

double dd_windows_level(const dd_windows *w, double time)
{
    dd_tide_state state = {NAN, NAN};
    return dd_tide_at(w->tide, time, &state, NULL) == DD_OK ? state.level + w->offset : NAN;
}

static void widen(double *low, double *high, double level)
{
    *low = fmin(*low, level);
    *high = fmax(*high, level);
}

void dd_windows_between(const dd_windows *w, double from, double to, double *low, double *high)
{
    *low = INFINITY, *high = -INFINITY;
    widen(low, high, dd_windows_level(w, from));
    widen(low, high, dd_windows_level(w, to));
    size_t first = 0, last = w->turn_count;
    while (first < last) {
        const size_t middle = first + (last - first) / 2;
        if (w->turns[middle].time < from)
            first = middle + 1;
        else
            last = middle;
    }
    for (; first < w->turn_count && w->turns[first].time <= to; first++) widen(low, high, w->turns[first].level + w->offset);
}

double dd_windows_range(const dd_windows *w, int day)
{
    double low, high;
    dd_windows_between(w, w->day[day], w->day[day + 1], &low, &high);
    return high - low;
}

static dd_status check_asked(const dd_windows_asked *asked, dd_error *error)
{
    const dd_date first = asked->whole_year ? (dd_date){asked->date.year, 1, 1} : asked->date;
    const bool times = !isnan(asked->launch_at) || !isnan(asked->back_at);
    if (!dd_calendar_is_date(&first)) return dd_fail(error, DD_ERROR_ARGUMENT, "date", "there is no %d-%02d-%02d", first.year, first.month, first.day);
    if (asked->whole_year && times) return dd_fail(error, DD_ERROR_ARGUMENT, "date", "clock times are asked of a date, not of a whole year");
    if (asked->launch_at >= DD_SECONDS_PER_DAY || asked->launch_at < 0 || asked->back_at >= DD_SECONDS_PER_DAY || asked->back_at < 0)
        return dd_fail(error, DD_ERROR_ARGUMENT, "time", "a clock time lies outside 00:00 to 23:59");
    return DD_OK;
}

dd_status dd_windows_span(dd_windows *w, dd_error *error)
{
    const dd_windows_asked *asked = w->asked;
    double known_from, known_to;
    dd_status status = check_asked(asked, error);
    if (status != DD_OK) return status;
    const dd_span span = dd_calendar_span(&asked->date, asked->whole_year);
    w->first_day = span.first, w->day_count = span.days;
    w->day = calloc((size_t)w->day_count + 1, sizeof *w->day);
    if (w->day == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_windows", "no memory for the days");
    for (int i = 0; i <= w->day_count; i++) (void)dd_clock_time(&asked->clock, w->first_day + i, 0, &w->day[i]);
    w->from = w->day[0], w->to = w->day[w->day_count];
    dd_tide_span(w->tide, &known_from, &known_to);
    if (w->from < known_from || w->to > known_to)
        return dd_fail(error, DD_ERROR_ARGUMENT, "date", "the tide is not known for all of what is asked");
    w->wide_from = fmax(known_from, w->from - DD_SECONDS_PER_DAY);
    w->wide_to = fmin(known_to, w->to + DD_SECONDS_PER_DAY);
    status = dd_tide_extremes(w->tide, w->wide_from, w->wide_to, &w->turns, &w->turn_count, error);
    if (status == DD_OK) dd_windows_between(w, w->wide_from, w->wide_to, &w->lowest, &w->highest);
    return status;
}

dd_status dd_windows_find(dd_windows *w, dd_error *error)
{
    dd_status status = DD_OK;
    if (w->sun) status = dd_sun_daylight(w->latitude, w->longitude, w->wide_from, w->wide_to, &w->daylight, &w->daylight_count, error);
    for (int r = 0; r < w->rig_count && status == DD_OK; r++) {
        dd_usable *u = &w->rig[r];
        dd_level_band bands[DD_USABLE_BANDS];
        for (int b = 0; b < u->band_count; b++) bands[b] = (dd_level_band){u->band[b].low.level - w->offset, u->band[b].high.level - w->offset};
        status = dd_windows_of_tide(w->tide, w->turns, w->turn_count, bands, u->band_count, w->wide_from, w->wide_to, &u->windows, &u->count, error);
        if (status == DD_OK && w->within > 0) {
            for (int b = 0; b < u->band_count; b++) bands[b].low += w->within, bands[b].high -= w->within;
            status = dd_windows_of_tide(w->tide, w->turns, w->turn_count, bands, u->band_count, w->wide_from, w->wide_to, &u->sure, &u->sure_count, error);
        }
        if (status == DD_OK && w->sun)
            status = dd_windows_both(u->windows, u->count, w->daylight, w->daylight_count, &u->light, &u->light_count, error);
        if (status == DD_OK && w->sun && w->within > 0)
            status = dd_windows_both(u->sure, u->sure_count, w->daylight, w->daylight_count, &u->sure_light, &u->sure_light_count, error);
    }
    return status;
}

void dd_windows_close(dd_windows *w)
{
    for (int r = 0; r < w->rig_count; r++) {
        free(w->rig[r].windows);
        free(w->rig[r].light);
        free(w->rig[r].sure);
        free(w->rig[r].sure_light);
    }
    free(w->day);
    free(w->turns);
    free(w->daylight);
    dd_reporter_free(w->report);
}

static void name_rigs(dd_windows *w)
{
    for (int r = 0; r < w->rig_count; r++) {
        int same = 0, before = 0;
        for (int o = 0; o < w->rig_count; o++) {
            same += w->rig[o].launch == w->rig[r].launch;
            before += o < r && w->rig[o].launch == w->rig[r].launch;
        }
        const char *what = w->rig[r].launch ? "launch" : "retrieve";
        if (same > 1)
            snprintf(w->rig[r].name, sizeof w->rig[r].name, "%s %d", what, before + 1);
        else
            snprintf(w->rig[r].name, sizeof w->rig[r].name, "%s", what);
    }
}

/* "Sure whatever the set-up: 08:30 to 11:10. ": what the set-up's band leaves of a window; "" where the set-up is sure. */
static void sure_words(const dd_windows *w, const dd_usable *u, const dd_window *one, char *text, size_t size)
{
    char from[DD_WINDOWS_CLOCK], to[DD_WINDOWS_CLOCK];
    size_t used = 0;
    text[0] = '\0';
    if (!(w->within > 0)) return;
    for (size_t k = 0; k < u->sure_count; k++) {
        if (u->sure[k].to <= one->from || u->sure[k].from >= one->to) continue;
        dd_windows_clock(w, u->sure[k].from, true, NAN, from);
        dd_windows_clock(w, u->sure[k].to, false, NAN, to);
        if (used == 0) used = (size_t)dd_text(text, size, "Sure with the water %.2f m off either way: ", w->within);
        else used += (size_t)dd_text(text + used, size - used, ", ");
        used += (size_t)dd_text(text + used, size - used, "%s to %s", from, to);
        if (used + 100 > size) break;
    }
    if (used == 0)
        dd_text(text, size, "Not sure: with the water %.2f m off none of it holds. ", w->within);
    else
        dd_text(text + used, size - used, ". ");
}

/* What tells the events of two ramps or rigs apart. */
static void name_of(const dd_case *scenario, char *text, size_t size)
{
    dd_text(text, size, "%s, %s, %s, %s", scenario->ramp.name, scenario->boat.name, scenario->trailer.name, scenario->title);
}

/* One event a window that begins or ends within what was asked. */
static dd_status write_calendar(const dd_windows *w, char **calendar, dd_error *error)
{
    dd_icalendar *file = dd_icalendar_create(w->asked->now);
    for (int r = 0; r < w->rig_count && file != NULL; r++) {
        const dd_usable *u = &w->rig[r];
        for (size_t i = 0; i < u->count; i++) {
            char summary[400], words[800], sure[300], name[500], clock[2][DD_WINDOWS_CLOCK];
            const char *ramp = u->scenario->ramp.name;
            if (!dd_windows_touches(w, &u->windows[i])) continue;
            dd_windows_clock(w, u->windows[i].from, true, NAN, clock[0]);
            dd_windows_clock(w, u->windows[i].to, false, NAN, clock[1]);
            sure_words(w, u, &u->windows[i], sure, sizeof sure);
            name_of(u->scenario, name, sizeof name);
            dd_text(summary, sizeof summary, "%s: %s %s to %s, %s", ramp[0] != '\0' ? ramp : "Ramp", u->name, clock[0], clock[1], u->scenario->title);
            dd_text(words, sizeof words, "%s. Level %.2f m at the start, %.2f m at the end, above %s, of the tide as predicted: pressure and wind shift it. %sLook at water and toe first; "
                    "signs, plates and local law come first.", u->scenario->title, dd_windows_level(w, u->windows[i].from), dd_windows_level(w, u->windows[i].to),
                    w->datum, sure);
            dd_icalendar_add(file, &(dd_icalendar_event){.from = u->windows[i].from, .to = u->windows[i].to, .kind = u->name, .of = name, .summary = summary, .description = words,
                                                         .latitude = w->latitude, .longitude = w->longitude});
        }
    }
    *calendar = file != NULL ? dd_icalendar_take(file) : NULL;
    return *calendar != NULL ? DD_OK : dd_fail(error, DD_ERROR_MEMORY, "dd_study_windows", "no memory for the calendar");
}

static dd_status find_levels(dd_windows *w, dd_error *error)
{
    for (int r = 0; r < w->rig_count; r++) {
        dd_usable *u = &w->rig[r];
        dd_ramp *ramp;
        dd_status status = dd_ramp_create(&u->scenario->ramp, &ramp, error);
        if (status != DD_OK) return status;
        const double toe_x = dd_ramp_toe(ramp), toe = isfinite(toe_x) ? dd_ramp_at(ramp, toe_x).z : -INFINITY;
        dd_ramp_free(ramp);
        if (toe + least_water > w->highest)
            return dd_fail(error, DD_ERROR_ARGUMENT, "ramp", "it ends at %.2f m above %s, and the highest water of the time asked for stands at %.2f m", toe, w->datum, w->highest);
        status = dd_usable_levels(u->scenario, fmax(w->lowest - below_tide - w->within, toe), w->highest + above_tide + w->within, u, error);
        if (status != DD_OK) return status;
    }
    return DD_OK;
}

dd_status dd_windows_report(dd_windows *w, dd_report **report, char **calendar, dd_error *error)
{
    dd_status status = dd_windows_find(w, error);
    if (status != DD_OK) return status;
    dd_windows_tell_levels(w);
    status = w->asked->whole_year ? dd_windows_tell_year(w, error) : dd_windows_tell_day(w, error);
    dd_windows_tell_sure(w);
    dd_windows_tell_windows(w);
    dd_windows_tell_clock(w);
    if (status == DD_OK && w->asked->whole_year) status = dd_windows_tell_astronomical(w, w->rig[0].scenario, error);
    if (status == DD_OK && calendar != NULL) status = write_calendar(w, calendar, error);
    if (status != DD_OK) return status;
    status = dd_reporter_finish(w->report, report, error);
    w->report = NULL;
    if (status != DD_OK && calendar != NULL) {
        free(*calendar);
        *calendar = NULL;
    }
    return status;
}

dd_status dd_windows_answer(const dd_case *const *scenarios, int count, const dd_windows_asked *asked, const dd_tide *tide, double offset, dd_report **report,
                            char **calendar, dd_error *error)
{
    *report = NULL;
    if (calendar != NULL) *calendar = NULL;
    dd_windows *w = calloc(1, sizeof *w);
    if (w == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_windows", "no memory for the windows");
    *w = (dd_windows){.asked = asked, .tide = tide, .datum = dd_datum_words(scenarios[0]->ramp.datum), .offset = offset, .within = scenarios[0]->water.set_up.within, .rig_count = count, .latitude = scenarios[0]->place.latitude, .longitude = scenarios[0]->place.longitude};
    w->sun = !isnan(w->latitude) && !isnan(w->longitude);
    for (int r = 0; r < count; r++) w->rig[r].scenario = scenarios[r], w->rig[r].launch = scenarios[r]->action == DD_ACTION_LAUNCH;
    name_rigs(w);
    w->report = dd_reporter_create(scenarios[0]->title, "windows", DD_REPORT_METRIC);
    dd_status status = w->report != NULL ? dd_windows_span(w, error) : dd_fail(error, DD_ERROR_MEMORY, "dd_study_windows", "no memory for the report");
    if (status == DD_OK) status = find_levels(w, error);
    if (status == DD_OK) status = dd_windows_report(w, report, calendar, error);
    dd_windows_close(w);
    free(w);
    return status;
}
