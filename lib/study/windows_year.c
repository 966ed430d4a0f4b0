/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A year of windows: each day, months, the worst days, springs and neaps apart. */
#include "lib/base/calendar.h"
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/study/windows.h"
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { WORST = 5 };
static const char *const day_names[] = {"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};

typedef struct day {
    int number;                     /* within the year, from 0 */
    double range, light;            /* m; s of daylight */
    double usable[DD_WINDOWS_RIGS]; /* s */
    double lit[DD_WINDOWS_RIGS];    /* s by daylight */
    double sure[DD_WINDOWS_RIGS];   /* s whatever the set-up; NaN: no band of it */
    double sure_lit[DD_WINDOWS_RIGS]; /* of that by daylight */
    double least;                   /* of the rigs: by daylight, or at all where no place is given */
} day;

static dd_date date_of(const dd_windows *w, int number) { return dd_calendar_date(w->first_day + number); }

static day *read_days(const dd_windows *w)
{
    day *days = calloc((size_t)w->day_count, sizeof *days);
    for (int d = 0; d < w->day_count && days != NULL; d++) {
        const double from = w->day[d], to = w->day[d + 1];
        days[d] = (day){.number = d, .range = dd_windows_range(w, d), .light = dd_windows_length(w->daylight, w->daylight_count, from, to), .least = INFINITY};
        for (int r = 0; r < w->rig_count; r++) {
            days[d].usable[r] = dd_windows_length(w->rig[r].windows, w->rig[r].count, from, to);
            days[d].lit[r] = dd_windows_length(w->rig[r].light, w->rig[r].light_count, from, to);
            days[d].sure[r] = w->within > 0 ? dd_windows_length(w->rig[r].sure, w->rig[r].sure_count, from, to) : NAN;
            days[d].sure_lit[r] = w->within > 0 && w->sun ? dd_windows_length(w->rig[r].sure_light, w->rig[r].sure_light_count, from, to) : NAN;
            days[d].least = fmin(days[d].least, w->sun ? days[d].lit[r] : days[d].usable[r]);
        }
    }
    return days;
}

/* Of means there is the share of the daylight, of single days what is sure of it. */
static void rig_columns(dd_windows *w, const char *help, bool means)
{
    char name[48];
    for (int r = 0; r < w->rig_count; r++) {
        dd_reporter_column(w->report, w->rig[r].name, "h", 1, help);
        dd_text(name, sizeof name, "%s by daylight", w->rig[r].name);
        dd_reporter_column(w->report, name, "h", 1, "of it between sunrise and sunset; empty: no place given");
        dd_text(name, sizeof name, "%s sure", w->rig[r].name);
        dd_reporter_column(w->report, name, "h", 1, "of all of them, by day and by night, what holds with the water off either way by its set-up; empty: that has no band");
        dd_text(name, sizeof name, means ? "%s of daylight" : "%s sure by daylight", w->rig[r].name);
        if (means)
            dd_reporter_column(w->report, name, "%", 0, "share of the daylight");
        else
            dd_reporter_column(w->report, name, "h", 1, "of what is sure between sunrise and sunset; empty: no place given, or no band of the set-up");
    }
}

/* Means a day over some days. */
static void put_means(dd_windows *w, const day *days, int count)
{
    double light = 0;
    for (int d = 0; d < count; d++) light += days[d].light;
    for (int r = 0; r < w->rig_count; r++) {
        double usable = 0, lit = 0, sure = 0;
        for (int d = 0; d < count; d++) usable += days[d].usable[r], lit += days[d].lit[r], sure += days[d].sure[r];
        dd_reporter_value(w->report, usable / count);
        dd_reporter_value(w->report, w->sun ? lit / count : NAN);
        dd_reporter_value(w->report, sure / count);
        dd_reporter_value(w->report, light > 0 ? lit / light : NAN);
    }
}

static void tell_days(dd_windows *w, const day *days)
{
    dd_reporter *r = w->report;
    dd_reporter_table(r, "days", "Day by day", DD_REPORT_LONG);
    dd_reporter_column(r, "date", "", 0, "local");
    dd_reporter_column(r, "weekday", "", 0, "its name");
    dd_reporter_column(r, "month", "", 0, "1 to 12");
    dd_reporter_column(r, "day", "", 0, "of the month");
    dd_reporter_column(r, "length", "h", 1, "23 or 25 where the clocks change");
    dd_reporter_column(r, "range", "m", 2, "highest less lowest water of the day");
    dd_reporter_column(r, "daylight", "h", 2, "between sunrise and sunset; empty: no place given");
    rig_columns(w, "usable", false);
    for (int d = 0; d < w->day_count; d++) {
        const dd_date date = date_of(w, d);
        dd_reporter_words(r, "%04d-%02d-%02d", date.year, date.month, date.day);
        dd_reporter_words(r, "%s", day_names[dd_calendar_weekday(w->first_day + d)]);
        dd_reporter_value(r, date.month);
        dd_reporter_value(r, date.day);
        dd_reporter_value(r, w->day[d + 1] - w->day[d]);
        dd_reporter_value(r, days[d].range);
        dd_reporter_value(r, w->sun ? days[d].light : NAN);
        for (int i = 0; i < w->rig_count; i++) {
            dd_reporter_value(r, days[d].usable[i]);
            dd_reporter_value(r, w->sun ? days[d].lit[i] : NAN);
            dd_reporter_value(r, days[d].sure[i]);
            dd_reporter_value(r, days[d].sure_lit[i]);
        }
    }
}

static void tell_months(dd_windows *w, const day *days)
{
    dd_reporter_table(w->report, "months", "Usable hours a day, month by month", w->rig_count <= 2 ? DD_REPORT_WHOLE : DD_REPORT_LONG);
    dd_reporter_column(w->report, "month", "", 0, "its name");
    rig_columns(w, "usable a day, mean", true);
    dd_reporter_column(w->report, w->sun ? "worst day by daylight" : "worst day", "h", 1, "least usable of a day, of any of the actions");
    for (int from = 0, to; from < w->day_count; from = to) {
        const int month = date_of(w, from).month;
        double least = INFINITY;
        for (to = from; to < w->day_count && date_of(w, to).month == month; to++) least = fmin(least, days[to].least);
        dd_reporter_words(w->report, "%s", dd_calendar_month(month));
        put_means(w, days + from, to - from);
        dd_reporter_value(w->report, least);
    }
}

static int by_range(const void *a, const void *b)
{
    const day *x = a, *y = b;
    return x->range > y->range ? -1 : x->range < y->range ? 1 : x->number - y->number;
}

static int by_least(const void *a, const void *b)
{
    const day *x = a, *y = b;
    return x->least < y->least ? -1 : x->least > y->least ? 1 : x->number - y->number;
}

/* The quarter of the days with the greatest range, and that with the least: days is sorted here. */
static void tell_springs(dd_windows *w, day *days)
{
    const int quarter = w->day_count / 4;
    dd_reporter_table(w->report, "springs", "Springs and neaps apart: usable hours a day", DD_REPORT_BRIEF);
    dd_reporter_column(w->report, "days", "", 0, "the quarter of the days with the greatest range, and with the least");
    dd_reporter_column(w->report, "range", "m", 2, "mean of the day's range");
    rig_columns(w, "usable a day, mean", true);
    qsort(days, (size_t)w->day_count, sizeof *days, by_range);
    const struct {
        const char *name;
        int from, count;
    } parts[] = {{"springs", 0, quarter}, {"neaps", w->day_count - quarter, quarter}, {"all", 0, w->day_count}};
    for (int p = 0; p < 3; p++) {
        double range = 0;
        for (int d = 0; d < parts[p].count; d++) range += days[parts[p].from + d].range;
        dd_reporter_words(w->report, "%s", parts[p].name);
        dd_reporter_value(w->report, range / parts[p].count);
        put_means(w, days + parts[p].from, parts[p].count);
    }
}

static void tell_worst(dd_windows *w, day *days)
{
    dd_reporter_table(w->report, "worst", w->sun ? "Worst days: fewest usable hours of daylight" : "Worst days: fewest usable hours", DD_REPORT_BRIEF);
    dd_reporter_column(w->report, "date", "", 0, "local");
    dd_reporter_column(w->report, "range", "m", 2, "of the day");
    rig_columns(w, "usable on that day", false);
    qsort(days, (size_t)w->day_count, sizeof *days, by_least);
    for (int d = 0; d < WORST; d++) {
        const dd_date date = date_of(w, days[d].number);
        dd_reporter_words(w->report, "%04d-%02d-%02d", date.year, date.month, date.day);
        dd_reporter_value(w->report, days[d].range);
        for (int i = 0; i < w->rig_count; i++) {
            dd_reporter_value(w->report, days[d].usable[i]);
            dd_reporter_value(w->report, w->sun ? days[d].lit[i] : NAN);
            dd_reporter_value(w->report, days[d].sure[i]);
            dd_reporter_value(w->report, days[d].sure_lit[i]);
        }
    }
}

static void tell_whole(dd_windows *w, const day *days)
{
    char line[380] = "";
    size_t used = 0;
    int dark = 0;
    for (int d = 0; d < w->day_count; d++) dark += w->sun && !(days[d].light > 0);
    for (int i = 0; i < w->rig_count; i++) {
        double usable = 0, lit = 0, light = 0;
        int none = 0;
        for (int d = 0; d < w->day_count; d++) {
            usable += days[d].usable[i], lit += days[d].lit[i], light += days[d].light;
            none += !((w->sun ? days[d].lit[i] : days[d].usable[i]) > 0);
        }
        const double a_day = usable / w->day_count / 3600;
        if (used + 100 < sizeof line) {
            used += (size_t)dd_text(line + used, sizeof line - used, "%s%c%s: %.1f h a day", i == 0 ? "" : " ", w->rig[i].name[0] - 'a' + 'A', w->rig[i].name + 1, a_day);
            if (w->sun && light > 0) used += (size_t)dd_text(line + used, sizeof line - used, ", %.0f %% of the daylight", 100 * lit / light);
            used += (size_t)dd_text(line + used, sizeof line - used, "%s", ".");
        }
        dd_windows_tell_open(w, &w->rig[i], "in this year", usable / w->day_count, "a day");
        if (none > 0)
            dd_reporter_note(w->report, "%s: %d of %d days have no usable hour%s.", w->rig[i].name, none, w->day_count, w->sun ? " by daylight" : "");
    }
    if (dark > 0) dd_reporter_note(w->report, "On %d days the sun does not rise.", dark);
    dd_reporter_headline(w->report, "%s", line);
}

dd_status dd_windows_tell_year(dd_windows *w, dd_error *error)
{
    day *days = read_days(w);
    if (days == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_windows", "no memory for the days");
    tell_whole(w, days);
    tell_months(w, days);
    tell_days(w, days);
    tell_springs(w, days);
    tell_worst(w, days);
    free(days);
    return DD_OK;
}
