/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/base/calendar.h"
#include "lib/base/numbers.h"
#include <ctype.h>
#include <math.h>
#include <string.h>

static long floor_divide(long a, long b)
{
    return a / b - (a % b != 0 && (a < 0) != (b < 0));
}

/* Years counted from March, so that a leap day is the last of its year. */
long dd_calendar_days(int year, int month, int day)
{
    long y = year - (month <= 2), m = (month + 9) % 12;
    return 365 * y + floor_divide(y, 4) - floor_divide(y, 100) + floor_divide(y, 400) + (153 * m + 2) / 5 + day - 1 - 719468;
}

/* The same backwards, from 1 March of year 0 on: eras of 400 years, each the same number of days. */
dd_date dd_calendar_date(long days)
{
    const long since = days + 719468, era = floor_divide(since, 146097), in_era = since - era * 146097;
    const long year_of_era = (in_era - in_era / 1460 + in_era / 36524 - in_era / 146096) / 365;
    const long in_year = in_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100), m = (5 * in_year + 2) / 153;
    const int month = (int)(m < 10 ? m + 3 : m - 9);
    return (dd_date){(int)(year_of_era + 400 * era + (month <= 2)), month, (int)(in_year - (153 * m + 2) / 5 + 1)};
}

bool dd_calendar_is_date(const dd_date *date)
{
    if (date->month < 1 || date->month > 12 || date->day < 1 || date->day > 31) return false;
    const dd_date same = dd_calendar_date(dd_calendar_days(date->year, date->month, date->day));
    return same.month == date->month && same.day == date->day;
}

const char *dd_calendar_month(int month)
{
    static const char *const names[] = {"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"};
    return names[month - 1];
}

int dd_calendar_weekday(long days) { return (int)(days + 3 - 7 * floor_divide(days + 3, 7)); } /* 1 January 1970 was a Thursday */

double dd_calendar_new_year(int year)
{
    return (double)dd_calendar_days(year, 1, 1) * DD_SECONDS_PER_DAY;
}

int dd_calendar_year(double time)
{
    int year = 1970 + (int)floor(time / (365.2425 * DD_SECONDS_PER_DAY));
    while (dd_calendar_new_year(year) > time) year--;
    while (dd_calendar_new_year(year + 1) <= time) year++;
    return year;
}

/* The change that a time falls under; -1: UTC. */
static int change_at(const dd_clock *clock, double time)
{
    int low = 0, high = clock->count;
    if (clock->count == 0) return -1;
    while (high - low > 1) {
        const int middle = low + (high - low) / 2;
        if (clock->changes[middle].from <= time)
            low = middle;
        else
            high = middle;
    }
    return low;
}

static double offset_of(const dd_clock *clock, int change) { return change < 0 ? 0 : clock->changes[change].offset; }

dd_hands dd_clock_at(const dd_clock *clock, double time)
{
    const int change = change_at(clock, time);
    const double local = time + offset_of(clock, change), days = floor(local / DD_SECONDS_PER_DAY);
    return (dd_hands){(long)days, local - days * DD_SECONDS_PER_DAY, change < 0 ? "UTC" : clock->changes[change].name};
}

dd_clock_shows dd_clock_time(const dd_clock *clock, long day, double seconds, double *time)
{
    const double local = (double)day * DD_SECONDS_PER_DAY + seconds;
    const int last = clock->count > 0 ? clock->count - 1 : -1;
    int hits = 0;
    *time = local - offset_of(clock, -1);
    if (last < 0) return DD_CLOCK_ONCE;
    for (int c = change_at(clock, local - 2 * DD_SECONDS_PER_DAY); c <= last; c++) {
        const double from = c == 0 ? -INFINITY : clock->changes[c].from, to = c == last ? INFINITY : clock->changes[c + 1].from;
        const double at = local - clock->changes[c].offset;
        if (at >= from && at < to) {
            if (hits++ == 0) *time = at;
        } else if (hits == 0 && at < from) { /* put forward over it */
            *time = from;
            return DD_CLOCK_NEVER;
        }
        if (from > local + 2 * DD_SECONDS_PER_DAY) break;
    }
    return hits > 1 ? DD_CLOCK_TWICE : DD_CLOCK_ONCE;
}

/* Exactly `digits` digits at *at, which then stands behind them. */
static bool take_number(const char **at, int digits, int least, int most, int *value)
{
    *value = 0;
    for (int i = 0; i < digits; i++, (*at)++) {
        if (!isdigit((unsigned char)**at)) return false;
        *value = 10 * *value + (**at - '0');
    }
    return *value >= least && *value <= most;
}

static bool take_sign(const char **at, char sign)
{
    if (**at != sign) return false;
    (*at)++;
    return true;
}

/* "Z", "+10:00", "-0330", "+10"; seconds east of Greenwich. */
static bool take_offset(const char *at, int *seconds)
{
    int hours, minutes = 0, sign = *at == '-' ? -1 : 1;
    *seconds = 0;
    if (strcmp(at, "Z") == 0 || strcmp(at, "UTC") == 0) return true;
    if (*at != '+' && *at != '-') return false;
    at++;
    if (!take_number(&at, 2, 0, 14, &hours)) return false;
    if (*at != '\0') {
        (void)take_sign(&at, ':');
        if (!take_number(&at, 2, 0, 59, &minutes)) return false;
    }
    *seconds = sign * (3600 * hours + 60 * minutes);
    return *at == '\0';
}

bool dd_calendar_parse(const char *text, double *time)
{
    dd_date date;
    int hour, minute, second = 0, offset;
    const char *at = text;
    if (!take_number(&at, 4, 0, 9999, &date.year) || !take_sign(&at, '-') || !take_number(&at, 2, 1, 12, &date.month) ||
        !take_sign(&at, '-') || !take_number(&at, 2, 1, 31, &date.day) || !dd_calendar_is_date(&date))
        return false;
    if (!take_sign(&at, ' ') && !take_sign(&at, 'T')) return false;
    if (!take_number(&at, 2, 0, 23, &hour) || !take_sign(&at, ':') || !take_number(&at, 2, 0, 59, &minute)) return false;
    if (take_sign(&at, ':') && !take_number(&at, 2, 0, 59, &second)) return false;
    (void)take_sign(&at, ' ');
    if (!take_offset(at, &offset)) return false;
    *time = (double)dd_calendar_days(date.year, date.month, date.day) * DD_SECONDS_PER_DAY + 3600.0 * hour + 60.0 * minute + second - offset;
    return true;
}

dd_span dd_calendar_span(const dd_date *date, bool whole_year)
{
    if (!whole_year) return (dd_span){dd_calendar_days(date->year, date->month, date->day), 1};
    const long first = dd_calendar_days(date->year, 1, 1);
    return (dd_span){first, (int)(dd_calendar_days(date->year + 1, 1, 1) - first)};
}

void dd_calendar_span_times(dd_span span, int beside, double *from, double *to)
{
    *from = (double)(span.first - beside) * DD_SECONDS_PER_DAY;
    *to = (double)(span.first + span.days + beside) * DD_SECONDS_PER_DAY;
}

char *dd_calendar_text(double time, char *text, size_t size)
{
    if (!(fabs(time) < 1e12)) {
        dd_text(text, size, "no date");
        return text;
    }
    const double whole = round(time), days = floor(whole / DD_SECONDS_PER_DAY);
    const dd_date date = dd_calendar_date((long)days);
    const int second = (int)(whole - days * DD_SECONDS_PER_DAY);
    char seconds[16] = "";
    if (second % 60 != 0) dd_text(seconds, sizeof seconds, ":%02d", second % 60);
    dd_text(text, size, "%04d-%02d-%02d %02d:%02d%s Z", date.year, date.month, date.day, second / 3600, second / 60 % 60, seconds);
    return text;
}
