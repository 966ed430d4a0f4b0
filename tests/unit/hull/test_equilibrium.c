/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where hulls with straight lines come to rest: heel, trim, plane and centre of buoyancy to the printed digits
   (1e-9 relative). Grade: closed form for boxes and prisms, formula for the synthetic hull. */
#include <drawdock/status.h>
#include "tests/unit/hull/hulls.h"

static const double gravity = 9.80665;

static double printed(double expected) { return 1e-9 * fabs(expected) + 5e-12; }

static dd_floating floating(const dd_hull *hull, double density, double heel, double trim, const char *label)
{
    dd_floating f;
    dd_error error;
    if (dd_hull_float(hull, density, gravity, heel, trim, &f, &error) != DD_OK)
        fail_msg("%s: %s", label, error.message);
    return f;
}

/* B under G, displacement kept. Tolerance: 1e-11 m. Grade: elementary mechanics. */
static void check_balance(const dd_hull *hull, const dd_floating *f, double density, const char *label)
{
    const dd_mass_properties *m = dd_hull_mass(hull);
    const dd_hydrostatics *r = &f->hydrostatics;
    CHECK_NEAR(r->volume * density, m->mass, 1e-12 * m->mass, label);
    const dd_vec3 across = dd_cross(f->waterplane.up, dd_sub(dd_scale(1 / r->volume, r->volume_moment), m->centre));
    CHECK_NEAR(dd_norm(across), 0, 1e-11, label);
}

static void check_row(const table *t, int row, const dd_hull *hull, const dd_floating *f, const char *heel, const char *trim,
                      const char *level)
{
    const char *name = table_text(t, row, "case");
    const dd_vec3 b = dd_scale(1 / f->hydrostatics.volume, f->hydrostatics.volume_moment);
    CHECK_NEAR(f->heel / DEGREE, table_number(t, row, heel), printed(table_number(t, row, heel)) + 1e-10, name);
    CHECK_NEAR(f->trim / DEGREE, table_number(t, row, trim), printed(table_number(t, row, trim)) + 1e-10, name);
    CHECK_NEAR(f->waterplane.level, table_number(t, row, level), printed(1), name);
    CHECK_NEAR(b.x, table_number(t, row, "Bx"), printed(2), name);
    CHECK_NEAR(b.y, table_number(t, row, "By"), printed(1), name);
    CHECK_NEAR(b.z, table_number(t, row, "Bz"), printed(1), name);
    check_balance(hull, f, table_number(t, row, "rho"), name);
}

static void test_free_equilibrium(void **state)
{
    (void)state;
    table t = table_read("free_equilibrium.csv");
    const double y[3] = {0, 0.85, 1.05}, z[3] = {0, 0.25, 1.05};
    for (int row = 1; row <= t.rows; row++) {
        const dd_vec3 g = {table_number(&t, row, "G_x"), table_number(&t, row, "G_y"), table_number(&t, row, "G_z")};
        const double mass = table_number(&t, row, "mass_kg");
        const char *geometry = table_text(&t, row, "geometry");
        dd_hull *hull = geometry[0] == 'b' ? box(-3, 3, 2.4, 1.2, mass, g) : prism(0, 5, 3, y, z, mass, g);
        dd_floating f = floating(hull, table_number(&t, row, "rho"), 0, 0, geometry);
        check_row(&t, row, hull, &f, "heel_deg (+y down)", "trim_deg (+x down)", "d (waterplane n.x=d)");
        dd_hull_free(hull);
    }
    assert_int_equal(t.rows, 6);
    table_free(&t);
}

static void test_synthetic_equilibrium(void **state)
{
    (void)state;
    table t = table_read("synthetic_chine_equilibrium.csv");
    const double starts[4][2] = {{0, 0}, {0.1, 0.05}, {-0.3, 0.1}, {0.5, -0.2}};
    for (int row = 1; row <= t.rows; row++) {
        const dd_vec3 g = {table_number(&t, row, "G_x"), table_number(&t, row, "G_y"), table_number(&t, row, "G_z")};
        dd_hull *hull = synthetic_chine(DD_LINES_STRAIGHT, table_number(&t, row, "mass_kg"), g);
        for (int i = 0; i < 4; i++) { /* from any start in its basin */
            dd_floating f = floating(hull, table_number(&t, row, "rho"), starts[i][0], starts[i][1], table_text(&t, row, "case"));
            check_row(&t, row, hull, &f, "heel_deg", "trim_deg (+bow down)", "d");
            const double at_transom = f.waterplane.level / f.waterplane.up.z;
            const double at_bow = (f.waterplane.level - 5.5 * f.waterplane.up.x) / f.waterplane.up.z;
            CHECK_NEAR(at_transom, table_number(&t, row, "waterline_z_at_transom_CL_m"), printed(1), "transom");
            CHECK_NEAR(at_bow, table_number(&t, row, "waterline_z_at_x5.5_CL_m"), printed(1), "bow");
        }
        dd_hull_free(hull);
    }
    assert_int_equal(t.rows, 4);
    table_free(&t);
}

/* Metacentric heights are the slopes of the righting arms (times cos trim: heel turns about the boat's own axis): by central differences of 1e-4 rad, 1e-6 m (the arm's third
   derivative times 1e-8 / 6). Grade: elementary mechanics. */
static void test_metacentric_heights(void **state)
{
    (void)state;
    dd_hull *hull = synthetic_chine(DD_LINES_CURVED, 1200, (dd_vec3){2, 0, 0.6});
    dd_floating f = floating(hull, 1025, 0.05, 0, "curved");
    double a, b;
    dd_error error;
    CHECK_NEAR(f.heel, 0, 1e-11, "heel");
    assert_int_equal(dd_hull_righting_arm(hull, 1025, 1e-4, f.trim, 0, &a, &error), DD_OK);
    assert_int_equal(dd_hull_righting_arm(hull, 1025, -1e-4, f.trim, 0, &b, &error), DD_OK);
    CHECK_NEAR((a - b) / 2e-4, f.metacentric_height_transverse * cos(f.trim), 1e-6, "transverse");
    assert_true(f.metacentric_height_longitudinal > 3);
    check_balance(hull, &f, 1025, "curved");
    dd_hull_free(hull);
}

/* Free trim lowers the energy: the arm at free trim is the slope of a curve that lies below the one at fixed trim; the
   trim moment there vanishes (checked by the balance of a hull that rests at a heel by a weight aboard). */
static void test_free_trim(void **state)
{
    (void)state;
    dd_error error;
    dd_hull *listed = synthetic_chine(DD_LINES_STRAIGHT, 1200, (dd_vec3){2, 0.06, 0.6});
    dd_floating f = floating(listed, 1025, 0, 0, "listed");
    double arm;
    assert_int_equal(dd_hull_righting_arm(listed, 1025, f.heel, 0, 1, &arm, &error), DD_OK);
    CHECK_NEAR(arm, 0, 1e-11, "at rest there is no arm");
    dd_hull_free(listed);
    dd_hull *hull = synthetic_chine(DD_LINES_STRAIGHT, 1200, (dd_vec3){2, 0, 0.6});
    for (int heel = 0; heel <= 180; heel += 5) {
        double port, starboard;
        assert_int_equal(dd_hull_righting_arm(hull, 1025, heel * DEGREE, 0, 1, &port, &error), DD_OK);
        assert_int_equal(dd_hull_righting_arm(hull, 1025, -heel * DEGREE, 0, 1, &starboard, &error), DD_OK);
        CHECK_NEAR(port, -starboard, 1e-11, "mirrored");
    }
    dd_hull_free(hull);
}

/* A weight to the other side gives the mirrored attitude: 1e-12. */
static void test_mirrored(void **state)
{
    (void)state;
    dd_hull *port = synthetic_chine(DD_LINES_CURVED, 1200, (dd_vec3){2.1, 0.04, 0.6});
    dd_hull *starboard = synthetic_chine(DD_LINES_CURVED, 1200, (dd_vec3){2.1, -0.04, 0.6});
    dd_floating a = floating(port, 1025, 0, 0, "port"), b = floating(starboard, 1025, 0, 0, "starboard");
    CHECK_NEAR(a.heel, -b.heel, 1e-12, "heel");
    CHECK_NEAR(a.trim, b.trim, 1e-12, "trim");
    CHECK_NEAR(a.waterplane.level, b.waterplane.level, 1e-12, "level");
    assert_true(a.heel > 0.01); /* the weight's side goes down */
    dd_hull_free(port);
    dd_hull_free(starboard);
}

static void test_errors(void **state)
{
    (void)state;
    dd_floating f;
    dd_error error;
    double arm;
    dd_hull *heavy = box(0, 4, 2, 1, 8001, (dd_vec3){2, 0, 0.5}), *tender = box(0, 10, 1, 1, 5000, (dd_vec3){5, 0, 0.6});
    assert_int_equal(dd_hull_float(heavy, 1000, gravity, 0, 0, &f, &error), DD_ERROR_NO_EQUILIBRIUM);
    assert_non_null(strstr(error.message, "does not float"));
    assert_int_equal(dd_hull_righting_arm(heavy, 1000, 0.1, 0, 0, &arm, &error), DD_ERROR_NO_EQUILIBRIUM);
    assert_int_equal(dd_hull_float(tender, 1000, gravity, 0, 0, &f, &error), DD_ERROR_NO_EQUILIBRIUM);
    assert_non_null(strstr(error.message, "unstable"));
    assert_int_equal(dd_hull_float(tender, 1000, gravity, 0.05, 0, &f, &error), DD_OK); /* it lolls on */
    assert_int_equal(dd_hull_float(tender, 0, gravity, 0, 0, &f, NULL), DD_ERROR_ARGUMENT);
    assert_int_equal(dd_hull_float(tender, 1000, NAN, 0, 0, &f, NULL), DD_ERROR_ARGUMENT);
    assert_int_equal(dd_hull_float(tender, 1000, gravity, NAN, 0, &f, NULL), DD_ERROR_ARGUMENT);
    assert_int_equal(dd_hull_righting_arm(tender, NAN, 0.1, 0, 0, &arm, NULL), DD_ERROR_ARGUMENT);
    assert_int_equal(dd_hull_righting_arm(tender, 1000, INFINITY, 0, 0, &arm, NULL), DD_ERROR_ARGUMENT);
    dd_hull_free(heavy);
    dd_hull_free(tender);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_free_equilibrium), cmocka_unit_test(test_synthetic_equilibrium), cmocka_unit_test(test_metacentric_heights),
        cmocka_unit_test(test_free_trim),        cmocka_unit_test(test_mirrored),              cmocka_unit_test(test_errors),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
