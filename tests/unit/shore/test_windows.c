/* SPDX-License-Identifier: GPL-3.0-or-later */
/* When a tide stands within bands of level, and when the sun is up. */
#include "tests/unit/ode/checks.h"
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include "lib/base/calendar.h"
#include "lib/shore/sun.h"
#include "lib/shore/windows.h"

#define DEGREE (3.14159265358979323846 / 180)
#define DAY DD_SECONDS_PER_DAY
#define HOUR 3600.0

static double at(int year, int month, int day, double hour) { return (double)dd_calendar_days(year, month, day) * DAY + hour * HOUR; }

/* S2 alone is a sine of exactly 12 hours; the others are there with nothing. */
static dd_tide *tide_of(double S2, double M2, double K1, double from, double to)
{
    const dd_tide_constant constants[] = {{"M2", M2, 1.1}, {"S2", S2, 0.4}, {"K1", K1, 2.0}, {"O1", 0, 0}};
    dd_tide *tide;
    dd_error error;
    CHECK_OK(dd_tide_harmonic(constants, 4, 2.0, DD_TIDE_MID_YEAR, from, to, &tide, &error), &error);
    return tide;
}

static dd_window *windows_of(const dd_tide *tide, const dd_level_band *bands, int band_count, double from, double to, size_t *count)
{
    dd_tide_extreme *turns;
    size_t turn_count;
    dd_window *windows;
    dd_error error;
    CHECK_OK(dd_tide_extremes(tide, from, to, &turns, &turn_count, &error), &error);
    CHECK_OK(dd_windows_of_tide(tide, turns, turn_count, bands, band_count, from, to, &windows, count, &error), &error);
    free(turns);
    return windows;
}

/* Practice P282, P314: 0.095 of the range 19.2 hours a day, 0.309 15 hours, half 12; P280: two hours either side of high water 0.765,
   on a sine of 12.42 h (closed form: hours = 24 acos(2 share - 1) / pi; the printed figures have three digits). */
static void test_hours_of_a_sine(void **state)
{
    (void)state;
    static const struct {
        double share, hours;
    } rows[] = {{0.095, 19.2}, {0.309, 15.0}, {0.5, 12.0}};
    const double from = at(2026, 3, 1, 0), to = at(2026, 3, 11, 0);
    dd_tide *tide = tide_of(1.5, 0, 0, from, to);
    for (int i = 0; i < 3; i++) {
        const dd_level_band band = {0.5 + 3 * rows[i].share, INFINITY};
        size_t count;
        dd_window *windows = windows_of(tide, &band, 1, from, to, &count);
        CHECK_NEAR(dd_windows_length(windows, count, from, to) / 10 / HOUR, rows[i].hours, 0.02);
        CHECK_NEAR(dd_windows_length(windows, count, from, to) / 10 / HOUR, 24 * acos(2 * rows[i].share - 1) / acos(-1), 1e-4);
        free(windows);
    }
    dd_tide_free(tide);
    tide = tide_of(0, 1, 0, from, to);
    dd_tide_extreme *turns;
    size_t turn_count, count;
    dd_error error;
    CHECK_OK(dd_tide_extremes(tide, from, to, &turns, &turn_count, &error), &error);
    assert_true(turn_count > 4);
    const int high = turns[2].high ? 2 : 3;
    const double range = turns[high].level - turns[high - 1].level;
    const dd_level_band band = {turns[high - 1].level + 0.765 * range, INFINITY};
    dd_window *windows = windows_of(tide, &band, 1, from, to, &count);
    const dd_window *w = dd_windows_at(windows, count, turns[high].time);
    assert_non_null(w);
    CHECK_NEAR((turns[high].time - w->from) / HOUR, 2.0, 0.01);
    CHECK_NEAR((w->to - turns[high].time) / HOUR, 2.0, 0.01);
    free(windows);
    free(turns);
    dd_tide_free(tide);
}

/* Every minute of 40 days: in a window when, and only when, the level is in a band, but for the minute of an edge. */
static void test_every_minute(void **state)
{
    (void)state;
    const double from = at(2026, 12, 10, 5.3), to = from + 40 * DAY;
    const dd_level_band bands[] = {{1.1, 1.9}, {2.6, 3.7}};
    dd_tide *tide = tide_of(0.5, 1.2, 0.4, from, to);
    size_t count, inside = 0;
    dd_window *windows = windows_of(tide, bands, 2, from, to, &count);
    CHECK_BETWEEN((double)count, 150, 300);
    for (size_t i = 0; i < count; i++) {
        assert_true(windows[i].to > windows[i].from);
        assert_true(i == 0 || windows[i].from > windows[i - 1].to);
    }
    double sum = 0;
    for (double t = from; t <= to; t += 60) {
        dd_tide_state now;
        dd_error error;
        CHECK_OK(dd_tide_at(tide, t, &now, &error), &error);
        bool usable = false, edge = false;
        for (int b = 0; b < 2; b++) {
            usable |= now.level >= bands[b].low && now.level <= bands[b].high;
            edge |= fabs(now.level - bands[b].low) < 2e-5 || fabs(now.level - bands[b].high) < 2e-5;
        }
        if (!edge) assert_int_equal(dd_windows_at(windows, count, t) != NULL, usable);
        inside += usable;
        if (usable) sum += 60;
    }
    assert_true(inside > 1000);
    CHECK_NEAR(dd_windows_length(windows, count, from, to) / sum, 1, 2e-3);
    free(windows);
    dd_tide_free(tide);
}

static void test_always_never_and_both(void **state)
{
    (void)state;
    const double from = at(2026, 6, 1, 0), to = from + 2 * DAY;
    dd_tide *tide = tide_of(0.5, 1.2, 0, from, to);
    const dd_level_band all = {-1, 9}, none = {8, 9};
    size_t count;
    dd_window *windows = windows_of(tide, &all, 1, from, to, &count), *both;
    assert_int_equal(count, 1);
    CHECK_NEAR(windows[0].from, from, 0);
    CHECK_NEAR(windows[0].to, to, 0);
    const dd_window days[] = {{from - HOUR, from + HOUR}, {from + 5 * HOUR, from + 6 * HOUR}, {to - HOUR, to + HOUR}};
    size_t both_count;
    dd_error error;
    CHECK_OK(dd_windows_both(windows, count, days, 3, &both, &both_count, &error), &error);
    assert_int_equal(both_count, 3);
    CHECK_NEAR(dd_windows_length(both, both_count, from, to), 3 * HOUR, 1e-6);
    CHECK_NEAR(dd_windows_length(both, both_count, from + 0.5 * HOUR, from + 5.25 * HOUR), 0.75 * HOUR, 1e-6);
    assert_null(dd_windows_at(both, both_count, from + 2 * HOUR));
    assert_non_null(dd_windows_at(both, both_count, from + 6 * HOUR));
    free(both);
    free(windows);
    windows = windows_of(tide, &none, 1, from, to, &count);
    assert_int_equal(count, 0);
    free(windows);
    dd_tide_free(tide);
}

/* Meeus, Astronomical Algorithms, example 25.a (1992 October 13, 0h): apparent longitude 199.90895, right ascension 198.38083,
   declination -7.78507 degrees; to the printed digits. */
static void test_sun_of_meeus(void **state)
{
    (void)state;
    const dd_sun sun = dd_sun_at(at(1992, 10, 13, 0));
    CHECK_NEAR(sun.longitude / DEGREE + 360, 199.90895, 2e-5);
    CHECK_NEAR(sun.declination / DEGREE, -7.78507, 2e-5);
    CHECK_NEAR(sun.right_ascension / DEGREE + 360, 198.38083, 3e-5);
}

/* The Astronomical Almanac's low-precision formulas for the sun (0.01 degree from 1950 to 2050) and Greenwich sidereal time; grade: memory. */
static double almanac_altitude(double latitude, double longitude, double time)
{
    const double n = (time - at(2000, 1, 1, 12)) / DAY, g = (357.528 + 0.9856003 * n) * DEGREE;
    const double along = (280.460 + 0.9856474 * n + 1.915 * sin(g) + 0.020 * sin(2 * g)) * DEGREE, oblique = (23.439 - 0.0000004 * n) * DEGREE;
    const double d = asin(sin(oblique) * sin(along)), right = atan2(cos(oblique) * sin(along), cos(along));
    const double hour = (18.697374558 + 24.06570982441908 * n) * 15 * DEGREE + longitude - right;
    return asin(sin(latitude) * sin(d) + cos(latitude) * cos(d) * cos(hour)) / DEGREE;
}

/* A day's daylight begins and ends with the sun's upper edge at the refracted horizon, by other formulas; the longest and the shortest day. */
static void test_daylight(void **state)
{
    (void)state;
    static const double latitudes[] = {-54, -33.9, 0, 27.5, 51.5, 60};
    for (int year = 2024; year <= 2027; year++)
        for (int i = 0; i < 6; i++)
            for (int yearday = 1; yearday <= 365; yearday += 13) {
                const double latitude = latitudes[i] * DEGREE, longitude = 7.5 * DEGREE, from = at(year, 1, 1, 24.0 * (yearday - 1)) - 0.5 * HOUR;
                dd_window *days;
                size_t count;
                dd_error error;
                CHECK_OK(dd_sun_daylight(latitude, longitude, from, from + DAY, &days, &count, &error), &error);
                assert_int_equal(count, 1);
                CHECK_NEAR(almanac_altitude(latitude, longitude, days[0].from), -0.833, 0.013);
                CHECK_NEAR(almanac_altitude(latitude, longitude, days[0].to), -0.833, 0.013);
                assert_true(almanac_altitude(latitude, longitude, days[0].from + 600) > -0.833);
                assert_true(almanac_altitude(latitude, longitude, days[0].to - 600) > -0.833);
                free(days);
            }
}

/* Over 69.65 degrees north the sun stays up from May to July and away from November to January. */
static void test_polar(void **state)
{
    (void)state;
    const double latitude = 69.65 * DEGREE, longitude = 18.96 * DEGREE;
    dd_window *days;
    size_t count;
    dd_error error;
    CHECK_OK(dd_sun_daylight(latitude, longitude, at(2026, 6, 1, 0), at(2026, 6, 30, 0), &days, &count, &error), &error);
    assert_int_equal(count, 1);
    CHECK_NEAR(dd_windows_length(days, count, at(2026, 6, 1, 0), at(2026, 6, 30, 0)), 29 * DAY, 1e-3);
    free(days);
    CHECK_OK(dd_sun_daylight(latitude, longitude, at(2026, 12, 1, 0), at(2027, 1, 10, 0), &days, &count, &error), &error);
    assert_int_equal(count, 0);
    CHECK_OK(dd_sun_daylight(latitude, longitude, at(2026, 1, 1, 0), at(2027, 1, 1, 0), &days, &count, &error), &error);
    CHECK_BETWEEN((double)count, 230, 260);
    for (size_t i = 0; i < count; i++) assert_true(days[i].to > days[i].from && (i == 0 || days[i].from > days[i - 1].to));
    CHECK_BETWEEN(days[0].from, at(2026, 1, 12, 0), at(2026, 1, 18, 0));
    free(days);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_hours_of_a_sine), cmocka_unit_test(test_every_minute), cmocka_unit_test(test_always_never_and_both),
        cmocka_unit_test(test_sun_of_meeus),    cmocka_unit_test(test_daylight),     cmocka_unit_test(test_polar),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
