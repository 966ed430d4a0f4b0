/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tyres by their markings, pressures, offsets and the D value, against published rows. */
#include "lib/rig/tyres.h"
#include "tests/unit/ode/checks.h"
#include <math.h>
#include <stdio.h>

#define POUND_PER_INCH2 6894.757293168361
#define KPH (1 / 3.6)

static FILE *rows_of(const char *name, char line[200])
{
    char path[300];
    snprintf(path, sizeof path, SOURCE_DIR "/tests/reference/road/%s", name);
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    while (fgets(line, 200, file) != NULL && line[0] == '#') {} /* comments and the heading */
    return file;
}

/* All 71 rows of the load index: exact. Grade: published. */
static void test_load_index(void **state)
{
    (void)state;
    char line[200];
    FILE *file = rows_of("load_index.csv", line);
    int rows = 0;
    for (int index; fgets(line, sizeof line, file) != NULL; rows++) {
        double mass;
        assert_int_equal(sscanf(line, "%d,%lf", &index, &mass), 2);
        CHECK_NEAR(dd_load_index_mass(index), mass, 0);
    }
    fclose(file);
    assert_int_equal(rows, 71);
    assert_true(isnan(dd_load_index_mass(59)) && isnan(dd_load_index_mass(131)) && isnan(dd_load_index_mass(-1)));
}

/* Every speed symbol: exact to rounding. Grade: published. */
static void test_speed_symbol(void **state)
{
    (void)state;
    char line[200], symbol[8];
    FILE *file = rows_of("speed_symbol.csv", line);
    int rows = 0;
    for (double speed; fgets(line, sizeof line, file) != NULL; rows++) {
        assert_int_equal(sscanf(line, "%7[^,],%lf", symbol, &speed), 2);
        assert_non_null(dd_speed_symbol_name(rows));
        assert_string_equal(dd_speed_symbol_name(rows), symbol);
        CHECK_NEAR(dd_speed_symbol_speed(rows), speed * KPH, 1e-12);
    }
    fclose(file);
    assert_int_equal(rows, 29);
    assert_null(dd_speed_symbol_name(rows));
    assert_true(isnan(dd_speed_symbol_speed(-1)));
}

static dd_tyre_parameters tyre_of(int index, double rating, double pressure, double full)
{
    return (dd_tyre_parameters){index, -1, rating, pressure, full, NAN};
}

/* A car's tyre of index 98 carries 681.8 kg on a trailer, two of them 1363.6: 0.1 kg. Grade: published. */
static void test_car_tyre(void **state)
{
    (void)state;
    const dd_tyre_parameters t = tyre_of(98, NAN, NAN, NAN), rated = tyre_of(98, 800, NAN, NAN), none = tyre_of(-1, NAN, NAN, NAN);
    CHECK_NEAR(dd_tyre_rating(&t, 0), 750, 0);
    CHECK_NEAR(dd_tyre_rating(&t, 1), 681.8, 0.1);
    CHECK_NEAR(2 * dd_tyre_rating(&t, 1), 1363.6, 0.1);
    CHECK_NEAR(dd_tyre_rating(&rated, 0), 800, 0);
    assert_true(isnan(dd_tyre_rating(&none, 0)) && isnan(dd_tyre_capacity(&t, 0)));
}

/* 750 kg at 50 psi: axles of 1100 and 1300 kg need 33.93 and 41.81 psi, 0.1 psi. Grade: published. Pressure and load undo each
   other: 1e-12. Grade: closed form. */
static void test_pressure(void **state)
{
    (void)state;
    dd_tyre_parameters t = tyre_of(-1, 750, NAN, 50 * POUND_PER_INCH2);
    double linear;
    CHECK_NEAR(dd_tyre_pressure_for(&t, 0, 550, &linear) / POUND_PER_INCH2, 33.93, 0.1);
    CHECK_NEAR(linear / POUND_PER_INCH2, 50 * 550 / 750.0, 1e-9);
    CHECK_NEAR(dd_tyre_pressure_for(&t, 0, 650, NULL) / POUND_PER_INCH2, 41.81, 0.1);
    for (double load = 50; load <= 750; load += 70) {
        t.pressure = dd_tyre_pressure_for(&t, 0, load, NULL);
        CHECK_NEAR(dd_tyre_capacity(&t, 0), load, 1e-9);
    }
    t.pressure = 1.3 * t.full_pressure; /* more air than it is rated for carries no more */
    CHECK_NEAR(dd_tyre_capacity(&t, 0), 750, 0);
}

/* Backspace 4.5 in of a rim 7 in wide: +25.4 mm, 1e-9. Grade: published. An offset that is given counts. */
static void test_offset(void **state)
{
    (void)state;
    dd_wheel_parameters w = {.offset = NAN, .backspace = 4.5 * 0.0254, .rim_width = 7 * 0.0254};
    CHECK_NEAR(dd_wheel_offset(&w), 0.0254, 1e-12);
    w.offset = -0.01;
    CHECK_NEAR(dd_wheel_offset(&w), -0.01, 0);
    w.offset = w.backspace = NAN;
    assert_true(isnan(dd_wheel_offset(&w)));
}

/* Every row: 1e-3 kN of the formula's column as written, 0.2 kN of what a page prints rounded. Grade: formula. */
static void test_d_value(void **state)
{
    (void)state;
    char line[200];
    FILE *file = rows_of("dvalue.csv", line);
    int rows = 0;
    for (; fgets(line, sizeof line, file) != NULL; rows++) {
        double vehicle, trailer, d, printed;
        const int found = sscanf(line, "%lf,%lf,%lf,%lf", &vehicle, &trailer, &d, &printed);
        assert_true(found >= 3);
        CHECK_NEAR(dd_coupling_d_value(1000 * vehicle, 1000 * trailer), 1000 * d, 1);
        if (found == 4) CHECK_NEAR(d, printed, 0.2);
    }
    fclose(file);
    assert_int_equal(rows, 5);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_load_index), cmocka_unit_test(test_speed_symbol), cmocka_unit_test(test_car_tyre),
        cmocka_unit_test(test_pressure),   cmocka_unit_test(test_offset),       cmocka_unit_test(test_d_value),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
