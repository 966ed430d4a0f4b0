/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tides against published predictions and Schureman's arguments. */
#include "tests/unit/ode/checks.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "lib/base/calendar.h"
#include "lib/shore/tide.h"
#include "lib/shore/tide_constituents.h"

#define REFERENCE SOURCE_DIR "/tests/reference/tide/"
#define DEGREE (3.14159265358979323846 / 180)
#define STATIONS 7
static const char *const stations[STATIONS] = {"8410140", "9447130", "9414290", "8729840", "1612340", "8443970", "8724580"};

static FILE *open_rows(const char *path)
{
    char line[512];
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    assert_non_null(fgets(line, sizeof line, file));
    assert_non_null(fgets(line, sizeof line, file));
    return file;
}

static double time_of(const char *text)
{
    int year, month, day, hour, minute;
    double second = 0;
    assert_true(sscanf(text, "%d-%d-%dT%d:%d:%lf", &year, &month, &day, &hour, &minute, &second) >= 5);
    return (double)dd_calendar_days(year, month, day) * DD_SECONDS_PER_DAY + hour * 3600 + minute * 60 + second;
}

static dd_tide *tide_of(const char *station, dd_tide_nodes nodes, int first_year, int last_year)
{
    char name[64][16], id[16];
    dd_tide_constant constants[64];
    double z, mean_level = NAN, amplitude, phase;
    size_t count = 0;
    dd_error error;
    dd_tide *tide;
    FILE *file = open_rows(REFERENCE "constants.csv");
    while (count < 64 && fscanf(file, "%15[^,],%lf,%15[^,],%lf,%lf\n", id, &z, name[count], &amplitude, &phase) == 5) {
        if (strcmp(id, station)) continue;
        mean_level = z;
        constants[count] = (dd_tide_constant){name[count], amplitude, phase * DEGREE};
        count++;
    }
    fclose(file);
    assert_int_equal(count, 37);
    CHECK_OK(dd_tide_harmonic(constants, count, mean_level, nodes, dd_calendar_new_year(first_year),
                              dd_calendar_new_year(last_year + 1), &tide, &error), &error);
    return tide;
}

/* Independent figures printed to 1e-7 deg/h, 1e-4 of f and 0.01 deg; M1's f by Schureman's short formula differs in the last digit. */
static void test_arguments(void **state)
{
    (void)state;
    FILE *file = open_rows(REFERENCE "arguments.csv");
    int year, rows = 0;
    char name[16];
    double speed, factor, argument;
    while (fscanf(file, "%d,%15[^,],%lf,%lf,%lf\n", &year, name, &speed, &factor, &argument) == 5) {
        int c = dd_tide_constituent(name);
        assert_true(c >= 0);
        dd_tide_sky sky = dd_tide_sky_at(dd_calendar_new_year(year));
        dd_tide_node node = dd_tide_node_at((double)dd_calendar_days(year, 7, 2) * DD_SECONDS_PER_DAY + 43200);
        double u, f;
        dd_tide_node_factor(c, &node, &u, &f);
        CHECK_NEAR(dd_tide_speed(c) * 3600 / DEGREE, speed, 1e-7);
        CHECK_NEAR(f, factor, 1.2e-4);
        CHECK_NEAR(remainder((dd_tide_argument(c, &sky) + u) / DEGREE - argument, 360), 0, 0.03);
        rows++;
    }
    fclose(file);
    assert_int_equal(rows, 185);
}

/* Published: 1 mm rms, 2 mm at most. */
static void test_hourly(void **state)
{
    (void)state;
    int rows = 0;
    for (int k = 0; k < STATIONS; k++) {
        dd_tide *tide = tide_of(stations[k], DD_TIDE_MID_YEAR, 2020, 2040);
        FILE *file = open_rows(REFERENCE "hourly.csv");
        char id[16], when[32];
        double level, sum = 0;
        int count = 0;
        while (fscanf(file, "%15[^,],%31[^,],%lf\n", id, when, &level) == 3) {
            dd_tide_state now;
            dd_error error;
            if (strcmp(id, stations[k])) continue;
            CHECK_OK(dd_tide_at(tide, time_of(when), &now, &error), &error);
            CHECK_NEAR(now.level, level, 2e-3);
            sum += (now.level - level) * (now.level - level);
            count++;
        }
        fclose(file);
        CHECK_AT_MOST(sqrt(sum / count), 1e-3);
        rows += count;
        dd_tide_free(tide);
    }
    assert_int_equal(rows, 3528);
}

/* The nearest extreme of the kind to a published one: 2 mm and 2 minutes. */
static void check_extreme(const dd_tide *tide, double time, double level, bool high)
{
    dd_tide_extreme *turns, best = {INFINITY, NAN, high};
    size_t count;
    dd_error error;
    CHECK_OK(dd_tide_extremes(tide, time - 10800, time + 10800, &turns, &count, &error), &error);
    for (size_t k = 0; k < count; k++)
        if (turns[k].high == high && fabs(turns[k].time - time) < fabs(best.time - time)) best = turns[k];
    free(turns);
    CHECK_NEAR(best.time, time, 120);
    CHECK_NEAR(best.level, level, 2e-3);
}

static void test_high_and_low_waters(void **state)
{
    (void)state;
    int rows = 0;
    for (int k = 0; k < STATIONS; k++) {
        dd_tide *tide = tide_of(stations[k], DD_TIDE_MID_YEAR, 2020, 2040);
        FILE *file = open_rows(REFERENCE "high_low.csv");
        char id[16], when[32], type[4];
        double level;
        while (fscanf(file, "%15[^,],%31[^,],%lf,%3s\n", id, when, &level, type) == 4)
            if (!strcmp(id, stations[k])) {
                check_extreme(tide, time_of(when), level, type[0] == 'H');
                rows++;
            }
        fclose(file);
        dd_tide_free(tide);
    }
    CHECK_BETWEEN(rows, 220, 235);
}

static void test_subordinate(void **state)
{
    (void)state;
    FILE *file = open_rows(REFERENCE "subordinate.csv");
    char id[16], reference_id[16], mode[16], when[32], type[4];
    double z, high, low, high_time, low_time, level;
    int rows = 0;
    while (fscanf(file, "%15[^,],%15[^,],%lf,%15[^,],%lf,%lf,%lf,%lf,%31[^,],%lf,%3s\n", id, reference_id, &z, mode, &high,
                  &low, &high_time, &low_time, when, &level, type) == 11) {
        bool ratio = !strcmp(mode, "ratio");
        dd_tide_offsets offsets = {high_time * 60, low_time * 60, ratio ? high : 1, ratio ? low : 1, ratio ? 0 : high, ratio ? 0 : low};
        dd_tide *reference = tide_of(reference_id, DD_TIDE_MID_YEAR, 2025, 2027), *station;
        dd_error error;
        CHECK_OK(dd_tide_subordinate(reference, &offsets, time_of(when) - 86400, time_of(when) + 86400, &station, &error), &error);
        check_extreme(station, time_of(when), level, type[0] == 'H');
        dd_tide_free(station);
        dd_tide_free(reference);
        rows++;
    }
    fclose(file);
    assert_int_equal(rows, 24);
}

/* Computed independently with a moon's longitude 0.001 degrees apart: 5 s where the level is steep, which these are. */
static void test_crossings(void **state)
{
    (void)state;
    FILE *file = open_rows(REFERENCE "crossings.csv");
    char id[16], when[32], way[8];
    double level;
    int rows = 0;
    while (fscanf(file, "%15[^,],%lf,%31[^,],%7s\n", id, &level, when, way) == 4) {
        dd_tide *tide = tide_of(id, DD_TIDE_MID_YEAR, 2026, 2027);
        dd_tide_crossing *crossings;
        dd_error error;
        size_t count;
        double best = INFINITY;
        CHECK_OK(dd_tide_crossings(tide, level, time_of(when) - 7200, time_of(when) + 7200, &crossings, &count, &error), &error);
        for (size_t k = 0; k < count; k++)
            if (crossings[k].rising == !strcmp(way, "up")) best = fmin(best, fabs(crossings[k].time - time_of(when)));
        CHECK_AT_MOST(best, 5);
        free(crossings);
        dd_tide_free(tide);
        rows++;
    }
    fclose(file);
    assert_int_equal(rows, 57);
}

/* Published highest and lowest astronomical tide of the epoch 1983-2001 against predictions over it: 20 mm, since the datums were
   reckoned with constants of their day. At 8729840, on a nearly diurnal coast, the published ones lie 49 and 57 mm further out than any
   hour predicted by today's constants, a scan below shows: there the figures differ in the constants, not in the search; told apart. */
static void test_astronomical_range(void **state)
{
    (void)state;
    char id[16];
    double lowest, mllw, highest;
    int stations_met = 0;
    FILE *file = open_rows(REFERENCE "datums.csv");
    while (fscanf(file, "%15[^,],%lf,%lf,%lf\n", id, &lowest, &mllw, &highest) == 4) {
        const bool diurnal = !strcmp(id, "8729840");
        dd_tide *tide = tide_of(id, DD_TIDE_MID_YEAR, 1983, 2001);
        dd_tide_extreme low, high;
        dd_tide_state state_then;
        dd_error error;
        const double from = dd_calendar_new_year(1983);
        CHECK_OK(dd_tide_astronomical_range(tide, from, &low, &high, &error), &error);
        if (!diurnal) {
            CHECK_NEAR(low.level, lowest - mllw, 0.02);
            CHECK_NEAR(high.level, highest - mllw, 0.02);
        }
        CHECK_OK(dd_tide_at(tide, high.time, &state_then, &error), &error);
        CHECK_NEAR(state_then.level, high.level, 1e-6);
        double least = INFINITY, most = -INFINITY; /* by hours: no more than the range, and hardly less */
        for (double time = from; diurnal && time < from + DD_NODAL_CYCLE; time += 3600) {
            CHECK_OK(dd_tide_at(tide, time, &state_then, &error), &error);
            least = fmin(least, state_then.level);
            most = fmax(most, state_then.level);
        }
        if (diurnal) {
            assert_true(least >= low.level && most <= high.level);
            CHECK_NEAR(least, low.level, 0.003);
            CHECK_NEAR(most, high.level, 0.003);
        }
        dd_tide_free(tide);
        stations_met++;
    }
    fclose(file);
    assert_int_equal(stations_met, STATIONS);
}

/* Of M2 and S2 alone: the sum of the amplitudes, M2's times its greatest node factor, less at most what high water and spring miss each
   other by; below the mean as far as above. A tide known for less than the cycle is refused. */
static void test_range_of_two(void **state)
{
    (void)state;
    const dd_tide_constant constants[] = {{"M2", 1, 0}, {"S2", 0.4, 0}, {"K1", 0, 0}, {"O1", 0, 0}};
    dd_tide *tide;
    dd_tide_extreme low, high;
    dd_error error;
    double factor = 0;
    for (int year = 2020; year <= 2038; year++) {
        double u, f;
        dd_tide_node node = dd_tide_node_at((double)dd_calendar_days(year, 7, 2) * DD_SECONDS_PER_DAY + 43200);
        dd_tide_node_factor(dd_tide_constituent("M2"), &node, &u, &f);
        factor = fmax(factor, f);
    }
    CHECK_NEAR(factor, 1.0376, 5e-4); /* 1 + 0.037, of the node at 180 degrees: from memory */
    CHECK_OK(dd_tide_harmonic(constants, 4, 3, DD_TIDE_MID_YEAR, dd_calendar_new_year(2020), dd_calendar_new_year(2039), &tide, &error), &error);
    CHECK_OK(dd_tide_astronomical_range(tide, dd_calendar_new_year(2020), &low, &high, &error), &error);
    CHECK_NEAR(high.level, 3 + factor + 0.4, 1e-3);
    CHECK_NEAR(low.level, 3 - factor - 0.4, 1e-3);
    assert_true(high.level <= 3 + factor + 0.4 && low.level >= 3 - factor - 0.4);
    assert_int_equal(dd_tide_astronomical_range(tide, dd_calendar_new_year(2030), &low, &high, &error), DD_ERROR_ARGUMENT);
    dd_tide_free(tide);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_arguments),   cmocka_unit_test(test_hourly),    cmocka_unit_test(test_high_and_low_waters),
        cmocka_unit_test(test_subordinate), cmocka_unit_test(test_crossings), cmocka_unit_test(test_astronomical_range), cmocka_unit_test(test_range_of_two),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
