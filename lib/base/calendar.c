/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/base/calendar.h"
#include <math.h>

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
