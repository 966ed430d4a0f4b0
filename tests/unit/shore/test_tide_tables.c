/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tides from tables, twelfths, datums, faults of the input, against closed forms. */
#include "tests/unit/ode/checks.h"
#include <stdlib.h>
#include <string.h>
#include "lib/base/calendar.h"
#include "lib/shore/tide.h"
#include "lib/shore/tide_constituents.h"

#define HOUR 3600.0
#define DEGREE (3.14159265358979323846 / 180)

static double level_at(const dd_tide *tide, double time)
{
    dd_tide_state state = {NAN, NAN};
    dd_error error;
    CHECK_OK(dd_tide_at(tide, time, &state, &error), &error);
    return state.level;
}

static dd_tide *high_low(dd_tide_shape shape, double period, int count)
{
    dd_tide_extreme turns[64];
    dd_tide *tide;
    dd_error error;
    for (int k = 0; k < count; k++) turns[k] = (dd_tide_extreme){k * period / 2, k % 2, k % 2};
    CHECK_OK(dd_tide_high_low(turns, (size_t)count, shape, &tide, &error), &error);
    return tide;
}

/* Formula: twelfths joined by straight lines stand at most 0.0256 of the range off a half cosine, at 0.6 h from either end. */
static void test_twelfths(void **state)
{
    (void)state;
    dd_tide *cosine = high_low(DD_TIDE_COSINE, 12 * HOUR, 3), *twelfths = high_low(DD_TIDE_TWELFTHS, 12 * HOUR, 3);
    static const double reached[] = {0, 1, 3, 6, 9, 11, 12};
    double worst = 0, at = 0;
    for (int k = 0; k <= 6; k++) CHECK_NEAR(level_at(twelfths, k * HOUR), reached[k] / 12, 1e-12);
    for (int k = 0; k <= 3600; k++) {
        double gap = fabs(level_at(cosine, k * 3.0) - level_at(twelfths, k * 3.0));
        if (gap > worst) worst = gap, at = k * 3.0;
    }
    CHECK_NEAR(worst, 0.0256, 1e-4);
    CHECK_NEAR(at, 0.6 * HOUR, 0.05 * HOUR);
    dd_tide_free(cosine);
    dd_tide_free(twelfths);
}

static double hours_above(const dd_tide *tide, double level, double to)
{
    dd_tide_crossing *crossings;
    size_t count;
    dd_error error;
    CHECK_OK(dd_tide_crossings(tide, level, 0, to, &crossings, &count, &error), &error);
    double sum = 0, since = 0;
    for (size_t k = 0; k < count; k++) {
        if (crossings[k].rising) since = crossings[k].time;
        else sum += crossings[k].time - since;
    }
    free(crossings);
    return sum / HOUR;
}

/* Formula, of a sine tide: 0.095 of the range is passed for 19.2 h a day, 0.309 for 15 h, 0.5 for 12 h; two hours either side of high
   water in 12.42 h means at least 0.765. Printed to three digits. */
static void test_hours_a_day(void **state)
{
    (void)state;
    dd_tide *tide = high_low(DD_TIDE_COSINE, 12 * HOUR, 5);
    CHECK_NEAR(hours_above(tide, 0.0955, 24 * HOUR), 19.2, 0.02);
    CHECK_NEAR(hours_above(tide, 0.3087, 24 * HOUR), 15, 0.02);
    CHECK_NEAR(hours_above(tide, 0.5, 24 * HOUR), 12, 1e-4);
    dd_tide_free(tide);
    tide = high_low(DD_TIDE_COSINE, 12.42 * HOUR, 5);
    CHECK_NEAR(level_at(tide, 6.21 * HOUR + 2 * HOUR), 0.765, 5e-4);
    CHECK_NEAR(level_at(tide, 6.21 * HOUR - 2 * HOUR), 0.765, 5e-4);
    dd_tide_free(tide);
}

/* Steffen's interpolation passes its points, never overshoots, and its rate is the level's derivative. */
static void test_samples(void **state)
{
    (void)state;
    const dd_tide_point points[] = {{0, 0}, {600, 0.1}, {1200, 1.0}, {1800, 1.02}, {2400, 0.2}, {3000, 0.2}};
    dd_tide *tide;
    dd_error error;
    CHECK_OK(dd_tide_samples(points, 6, &tide, &error), &error);
    for (int k = 0; k < 6; k++) CHECK_NEAR(level_at(tide, points[k].time), points[k].level, 1e-12);
    for (int k = 0; k < 5; k++)
        for (int part = 1; part < 10; part++) {
            double time = points[k].time + part * 60, a = points[k].level, b = points[k + 1].level;
            dd_tide_state now;
            CHECK_OK(dd_tide_at(tide, time, &now, &error), &error);
            CHECK_BETWEEN(now.level, fmin(a, b) - 1e-12, fmax(a, b) + 1e-12);
            CHECK_NEAR(now.rate, (level_at(tide, time + 0.1) - level_at(tide, time - 0.1)) / 0.2, 1e-9);
        }
    assert_int_equal(dd_tide_at(tide, 3001, &(dd_tide_state){0, 0}, &error), DD_ERROR_ARGUMENT);
    dd_tide_free(tide);
    CHECK_OK(dd_tide_samples(&(dd_tide_point){NAN, 0.7}, 1, &tide, &error), &error);
    CHECK_NEAR(level_at(tide, 1e9), 0.7, 0);
    dd_tide_free(tide);
}

/* Practice rows P287 and P288: a toe 0.9 m below LAT where LAT is -1.1 m on land datum; MLLW -2.40 ft on one land datum. */
static void test_datums(void **state)
{
    (void)state;
    const dd_datum place[] = {{"land datum", 0}, {"LAT", -1.1}, {"MLLW", -2.40 * 0.3048}, {"MHHW", (4.62 - 2.40) * 0.3048}};
    double level;
    dd_error error;
    CHECK_OK(dd_datum_convert(place, 4, -0.9, "LAT", "land datum", &level, &error), &error);
    CHECK_NEAR(level, -2.0, 1e-12);
    CHECK_OK(dd_datum_convert(place, 4, -1.6, "land datum", "LAT", &level, &error), &error);
    CHECK_NEAR(level, -0.5, 1e-12);
    CHECK_OK(dd_datum_convert(place, 4, 4.62 * 0.3048, "MLLW", "MHHW", &level, &error), &error);
    CHECK_NEAR(level, 0, 1e-12);
    CHECK_OK(dd_datum_convert(NULL, 0, 1.5, "chart datum", "chart datum", &level, &error), &error);
    CHECK_NEAR(level, 1.5, 0);
    assert_int_equal(dd_datum_convert(place, 4, 1, "chart datum", "LAT", &level, &error), DD_ERROR_ARGUMENT);
    assert_non_null(strstr(error.message, "chart datum"));
    assert_true(isnan(level));
    const dd_datum twice[] = {{"LAT", 0}, {"LAT", 0.1}, {"MSL", 1}};
    assert_int_equal(dd_datum_convert(twice, 3, 1, "LAT", "MSL", &level, &error), DD_ERROR_ARGUMENT);
}

static void refuse(const dd_tide_constant *constants, size_t count, double from, double to, const char *word)
{
    dd_tide *tide;
    dd_error error;
    assert_int_equal(dd_tide_harmonic(constants, count, 0, DD_TIDE_MID_YEAR, from, to, &tide, &error), DD_ERROR_ARGUMENT);
    assert_null(tide);
    if (!strstr(error.message, word)) fail_msg("'%s' lacks '%s'", error.message, word);
}

static void test_faults_of_constants(void **state)
{
    (void)state;
    const double a = dd_calendar_new_year(2026), b = dd_calendar_new_year(2027);
    const dd_tide_constant good[] = {{"M2", 1, 0}, {"S2", 0.3, 0}, {"K1", 0.1, 0}, {"O1", 0.1, 0}, {"rho", 0.1, 0}, {"RHO1", 0.1, 0}};
    refuse(good, 3, a, b, "'O1' is missing");
    refuse(good, 6, a, b, "'RHO1' is given twice");
    refuse((dd_tide_constant[]){good[0], good[1], good[2], good[3], {"QX7", 1, 0}}, 5, a, b, "'QX7' is not known");
    refuse((dd_tide_constant[]){good[0], good[1], good[2], {"O1", 0.1, NAN}}, 4, a, b, "'O1' needs");
    refuse(good, 4, dd_calendar_new_year(1700) - 1, b, "1700 to 2300");
    refuse(good, 4, a, dd_calendar_new_year(2301) + 1, "1700 to 2300");
    refuse(good, 4, b, a, "ends before");
}

static void test_faults_of_tables(void **state)
{
    (void)state;
    dd_tide *tide;
    dd_error error;
    const dd_tide_point back[] = {{0, 0}, {60, 1}, {60, 2}};
    assert_int_equal(dd_tide_samples(back, 3, &tide, &error), DD_ERROR_ARGUMENT);
    assert_non_null(strstr(error.message, "row 3"));
    const dd_tide_extreme twice[] = {{0, 0, false}, {100, 2, true}, {200, 3, true}};
    assert_int_equal(dd_tide_high_low(twice, 3, DD_TIDE_COSINE, &tide, &error), DD_ERROR_ARGUMENT);
    assert_non_null(strstr(error.message, "both high"));
    const dd_tide_extreme swapped[] = {{0, 1, false}, {100, 0.5, true}};
    assert_int_equal(dd_tide_high_low(swapped, 2, DD_TIDE_COSINE, &tide, &error), DD_ERROR_ARGUMENT);
    const dd_tide_extreme backwards[] = {{100, 0, false}, {0, 1, true}};
    assert_int_equal(dd_tide_high_low(backwards, 2, DD_TIDE_COSINE, &tide, &error), DD_ERROR_ARGUMENT);
}

/* At mid-year both ways of the node are one, but for M1, whose perigee has then gone 20 degrees on (0.35 of its 0.05 m); at the new year
   they part by what f and u change in half a year, below 4 %. The rate leaves out how f and u change. */
static void test_continuous_nodes(void **state)
{
    (void)state;
    const dd_tide_constant some[] = {{"M2", 1, 0.3}, {"S2", 0.3, 1}, {"K1", 0.2, 2}, {"O1", 0.1, 3}, {"M1", 0.05, 1}, {"MK3", 0.02, 4}};
    dd_tide *held, *moving;
    dd_error error;
    const double from = dd_calendar_new_year(2026), to = dd_calendar_new_year(2027), middle = (from + to) / 2;
    CHECK_OK(dd_tide_harmonic(some, 6, 0, DD_TIDE_MID_YEAR, from, to, &held, &error), &error);
    CHECK_OK(dd_tide_harmonic(some, 6, 0, DD_TIDE_CONTINUOUS, from, to, &moving, &error), &error);
    double worst = 0;
    for (int k = 0; k < 26; k++) {
        CHECK_NEAR(level_at(moving, middle + k * HOUR), level_at(held, middle + k * HOUR), 1e-3 + 0.05 * 1.6 * 0.35);
        worst = fmax(worst, fabs(level_at(moving, from + k * HOUR) - level_at(held, from + k * HOUR)));
        dd_tide_state now;
        CHECK_OK(dd_tide_at(moving, middle + k * HOUR, &now, &error), &error);
        CHECK_NEAR(now.rate, (level_at(moving, middle + k * HOUR + 10) - level_at(moving, middle + k * HOUR - 10)) / 20, 1e-7);
    }
    CHECK_BETWEEN(worst, 1e-3, 0.04 * 1.67);
    dd_tide_free(held);
    dd_tide_free(moving);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_twelfths),         cmocka_unit_test(test_hours_a_day),
        cmocka_unit_test(test_samples),          cmocka_unit_test(test_datums),
        cmocka_unit_test(test_faults_of_constants), cmocka_unit_test(test_faults_of_tables),
        cmocka_unit_test(test_continuous_nodes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
