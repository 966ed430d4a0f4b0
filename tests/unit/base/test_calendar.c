/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Dates against the C library's, and clocks that are put forward and back. */
#include "tests/unit/ode/checks.h"
#include <time.h>
#include "lib/base/calendar.h"

#define DAY DD_SECONDS_PER_DAY

static void test_dates(void **state)
{
    (void)state;
    for (long day = -98700; day < 121000; day += 17) {
        const time_t time = (time_t)day * 86400;
        struct tm expected;
        assert_non_null(gmtime_r(&time, &expected));
        const dd_date date = dd_calendar_date(day);
        assert_int_equal(date.year, expected.tm_year + 1900);
        assert_int_equal(date.month, expected.tm_mon + 1);
        assert_int_equal(date.day, expected.tm_mday);
        assert_int_equal(dd_calendar_weekday(day), (expected.tm_wday + 6) % 7);
        assert_int_equal(dd_calendar_days(date.year, date.month, date.day), day);
        assert_true(dd_calendar_is_date(&date));
    }
    static const dd_date wrong[] = {{2026, 2, 29}, {2100, 2, 29}, {2026, 4, 31}, {2026, 13, 1}, {2026, 0, 1}, {2026, 1, 0}};
    for (int i = 0; i < 6; i++) assert_false(dd_calendar_is_date(&wrong[i]));
    assert_true(dd_calendar_is_date(&(dd_date){2028, 2, 29}));
    assert_true(dd_calendar_is_date(&(dd_date){2000, 2, 29}));
}

static const dd_clock_change changes[] = {
    {0, 0, "GMT"}, {1774746000, 3600, "BST"}, {1792890000, 0, "GMT"}}; /* 29 March and 25 October 2026, 01:00 UTC */
static const dd_clock london = {"Europe/London", 3, changes};

static void check_shown(double time, int month, int day, double hours, const char *zone)
{
    const dd_hands hands = dd_clock_at(&london, time);
    assert_int_equal(hands.day, dd_calendar_days(2026, month, day));
    CHECK_NEAR(hands.seconds, hours * 3600, 1e-6);
    assert_string_equal(hands.zone, zone);
}

static void test_clock(void **state)
{
    (void)state;
    double time;
    const long spring = dd_calendar_days(2026, 3, 29), autumn = dd_calendar_days(2026, 10, 25);
    check_shown(changes[1].from - 1, 3, 29, 1 - 1.0 / 3600, "GMT");
    check_shown(changes[1].from, 3, 29, 2, "BST");
    check_shown(changes[2].from - 1, 10, 25, 2 - 1.0 / 3600, "BST");
    check_shown(changes[2].from, 10, 25, 1, "GMT");
    check_shown((double)dd_calendar_days(2026, 7, 1) * DAY - 1800, 7, 1, 0.5, "BST");
    assert_int_equal(dd_clock_time(&london, spring, 0.5 * 3600, &time), DD_CLOCK_ONCE);
    CHECK_NEAR(time, (double)spring * DAY + 1800, 0);
    assert_int_equal(dd_clock_time(&london, spring, 1.5 * 3600, &time), DD_CLOCK_NEVER);
    CHECK_NEAR(time, changes[1].from, 0);
    assert_int_equal(dd_clock_time(&london, spring, 2 * 3600, &time), DD_CLOCK_ONCE);
    CHECK_NEAR(time, changes[1].from, 0);
    assert_int_equal(dd_clock_time(&london, autumn, 1.5 * 3600, &time), DD_CLOCK_TWICE);
    CHECK_NEAR(time, changes[2].from - 1800, 0);
    assert_int_equal(dd_clock_time(&london, autumn, 2 * 3600, &time), DD_CLOCK_ONCE);
    CHECK_NEAR(time, changes[2].from + 3600, 0);
    /* days of 23 and 25 hours */
    double start, end;
    dd_clock_time(&london, spring, 0, &start);
    dd_clock_time(&london, spring + 1, 0, &end);
    CHECK_NEAR(end - start, 23 * 3600, 0);
    dd_clock_time(&london, autumn, 0, &start);
    dd_clock_time(&london, autumn + 1, 0, &end);
    CHECK_NEAR(end - start, 25 * 3600, 0);
    const dd_clock utc = {"UTC", 0, NULL};
    assert_int_equal(dd_clock_time(&utc, spring, 1.5 * 3600, &time), DD_CLOCK_ONCE);
    CHECK_NEAR(time, (double)spring * DAY + 5400, 0);
    assert_string_equal(dd_clock_at(&utc, time).zone, "UTC");
}

/* Every half hour of a year comes back to itself, but for the hour that is shown twice. */
static void test_there_and_back(void **state)
{
    (void)state;
    for (double t = (double)dd_calendar_days(2026, 1, 1) * DAY; t < (double)dd_calendar_days(2027, 1, 1) * DAY; t += 1800) {
        const dd_hands hands = dd_clock_at(&london, t);
        double back;
        const dd_clock_shows shows = dd_clock_time(&london, hands.day, hands.seconds, &back);
        assert_true(shows != DD_CLOCK_NEVER);
        CHECK_NEAR(back, shows == DD_CLOCK_TWICE && t >= changes[2].from ? t - 3600 : t, 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_dates), cmocka_unit_test(test_clock), cmocka_unit_test(test_there_and_back)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
