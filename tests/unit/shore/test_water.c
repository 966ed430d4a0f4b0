/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Density and viscosity of water against published tables and independently computed formulas. */
#include "tests/unit/ode/checks.h"
#include <stdio.h>
#include <string.h>
#include "lib/shore/shore.h"

#define REFERENCE SOURCE_DIR "/tests/reference/hydro/"

static dd_water water_of(int kind, double temperature)
{
    dd_water water;
    dd_error error;
    dd_water_defaults(&water);
    water.level = 0;
    water.kind = kind;
    water.temperature = temperature + 273.15;
    assert_int_equal(dd_water_complete(&water, &error), DD_OK);
    return water;
}

/* Closed form (a copy is a copy): all but the points that are not in use. */
static void a_copy_takes_what_is_in_use(void **state)
{
    (void)state;
    static dd_water from, to;
    memset(&from, 0, sizeof from);
    dd_water_defaults(&from);
    from.level = 1.25;
    from.tide.point_count = 2;
    from.tide.points[1].level = 3;
    from.set_up.within = 0.4;
    from.datum_count = 1;
    dd_water_copy(&to, &from);
    assert_memory_equal(&to, &from, sizeof from);
    from.tide.points[2].level = 7;
    dd_water_copy(&to, &from);
    assert_true(to.tide.points[2].level == 0);
    from.tide.points[2].level = 0;
    assert_memory_equal(&to, &from, sizeof from);
}

/* Opens a table and skips its two heading lines. */
static FILE *open_rows(const char *path)
{
    char line[512];
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    assert_non_null(fgets(line, sizeof line, file));
    assert_non_null(fgets(line, sizeof line, file));
    return file;
}

/* Published: tolerance 1e-5 kg/m3, the last digit printed. */
static void test_sea_density_published(void **state)
{
    (void)state;
    FILE *file = open_rows(REFERENCE "water_eos80.csv");
    double salinity, t, density, tolerance;
    int rows = 0;
    while (fscanf(file, "%lf,%lf,%lf,%lf", &salinity, &t, &density, &tolerance) == 4) {
        CHECK_NEAR(dd_sea_density(salinity, t), density, tolerance);
        rows++;
    }
    fclose(file);
    assert_int_equal(rows, 4);
}

/* Formula: the values carry ten digits; 1e-6 kg/m3, 1e-9 of a viscosity. */
static void test_properties_by_formula(void **state)
{
    (void)state;
    FILE *file = open_rows(REFERENCE "water_properties.csv");
    double t, fresh, fresh_viscosity, sea, sea_viscosity;
    int rows = 0;
    while (fscanf(file, "%lf,%lf,%lf,%lf,%lf", &t, &fresh, &fresh_viscosity, &sea, &sea_viscosity) == 5) {
        dd_water f = water_of(DD_WATER_FRESH, t), s = water_of(DD_WATER_SEA, t), b = water_of(DD_WATER_BRACKISH, t);
        CHECK_NEAR(f.density, fresh, 1e-6);
        CHECK_NEAR(s.density, sea, 1e-6);
        CHECK_NEAR(f.viscosity / fresh_viscosity, 1, 2e-9);
        CHECK_NEAR(s.viscosity / sea_viscosity, 1, 1e-6); /* their salt is 35.165 g/kg, rounded */
        /* definition: halfway */
        CHECK_NEAR(b.density, (f.density + s.density) / 2, 1e-9);
        CHECK_NEAR(b.viscosity, (f.viscosity + s.viscosity) / 2, 1e-18);
        rows++;
    }
    fclose(file);
    assert_int_equal(rows, 13);
}

/* Published tables; each row carries its tolerance. */
static void test_published_tables(void **state)
{
    (void)state;
    FILE *file = open_rows(REFERENCE "water_table.csv");
    char quantity[32];
    double t, value, tolerance;
    int rows = 0;
    while (fscanf(file, " %31[^,],%lf,%lf,%lf", quantity, &t, &value, &tolerance) == 4) {
        dd_water fresh = water_of(DD_WATER_FRESH, t), sea = water_of(DD_WATER_SEA, t);
        double found = strcmp(quantity, "fresh density") == 0     ? fresh.density
                       : strcmp(quantity, "fresh viscosity") == 0 ? fresh.viscosity
                                                                  : sea.viscosity;
        CHECK_NEAR(found, value, tolerance);
        rows++;
    }
    fclose(file);
    assert_int_equal(rows, 15);
}

static void test_given_values_stay(void **state)
{
    (void)state;
    dd_water water;
    dd_error error;
    dd_water_defaults(&water);
    water.level = 1.5;
    water.density = 1010;
    water.viscosity = 1e-6;
    assert_int_equal(dd_water_complete(&water, &error), DD_OK);
    assert_true(water.density == 1010 && water.viscosity == 1e-6 && water.level == 1.5);
}

static void test_errors(void **state)
{
    (void)state;
    dd_water water;
    dd_error error;
    dd_water_defaults(&water);
    assert_int_equal(dd_water_complete(&water, &error), DD_ERROR_UNSET);
    assert_non_null(strstr(error.place, "level"));
    water.level = 0;
    water.temperature = 271;
    assert_int_equal(dd_water_complete(&water, &error), DD_ERROR_ARGUMENT);
    assert_non_null(strstr(error.place, "temperature"));
    memset(&water, 0, sizeof water);
    assert_int_equal(dd_water_complete(&water, NULL), DD_ERROR_ARGUMENT);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_copy_takes_what_is_in_use),
        cmocka_unit_test(test_sea_density_published),
        cmocka_unit_test(test_properties_by_formula),
        cmocka_unit_test(test_published_tables),
        cmocka_unit_test(test_given_values_stay),
        cmocka_unit_test(test_errors),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
