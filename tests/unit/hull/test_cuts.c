/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any water plane through hulls with straight lines: 1e-9 of the printed value, and half a unit of its last digit. */
#include "tests/unit/hull/hulls.h"

static const dd_vec3 middle = {1, 0, 0.3};

/* 1e-9 relative; 5e-10 of a value of order one is the rounding of ten printed digits. */
static double printed(double expected) { return 1e-9 * fabs(expected) + 5e-12; }

static void check_cut(const dd_hull *hull, dd_waterplane w, const double expected[4], const char *label)
{
    dd_hydrostatics r;
    dd_hull_hydrostatics(hull, w, &r);
    const double found[4] = {r.volume, r.volume_moment.x / r.volume, r.volume_moment.y / r.volume, r.volume_moment.z / r.volume};
    for (int i = 0; i < 4; i++)
        CHECK_NEAR(found[i], expected[i], printed(expected[i]), label);
}

/* Grade: closed form. Box and chine prism: 1e-9. The normals are printed to ten digits: made afresh from the angles. */
static void test_oblique_planes(void **state)
{
    (void)state;
    table t = table_read("oblique_plane_cuts.csv");
    const double y[3] = {0, 0.85, 1.05}, z[3] = {0, 0.25, 1.05};
    int checked = 0;
    for (int row = 1; row <= t.rows; row++) {
        const char *name = table_text(&t, row, "case");
        const char *attitude = table_text(&t, row, "attitude");
        if (strncmp(name, "OBX", 3) != 0 && strncmp(name, "CHN", 3) != 0)
            continue;
        dd_hull *hull = name[0] == 'O' ? box(-2, 2, 1.6, 0.8, 1000, middle) : prism(0, 5, 3, y, z, 1000, middle);
        dd_waterplane w = dd_waterplane_at(value_in(attitude, "heel") * DEGREE, value_in(attitude, "trim") * DEGREE,
                                           table_number(&t, row, "d (immersed: n.x<=d)"));
        CHECK_NEAR(w.up.x, table_number(&t, row, "n_x"), 1e-10, name);
        CHECK_NEAR(w.up.y, table_number(&t, row, "n_y"), 1e-10, name);
        CHECK_NEAR(w.up.z, table_number(&t, row, "n_z"), 1e-10, name);
        const double expected[4] = {table_number(&t, row, "volume_m3"), table_number(&t, row, "Bx_m"), table_number(&t, row, "By_m"),
                                    table_number(&t, row, "Bz_m")};
        check_cut(hull, w, expected, name);
        dd_hull_free(hull);
        checked++;
    }
    assert_int_equal(checked, 12);
    table_free(&t);
}

/* Grade: formula (an independent program's slices). 1e-9 relative, printed digits. */
static void test_synthetic_cuts(void **state)
{
    (void)state;
    table t = table_read("synthetic_chine_cuts.csv");
    dd_hull *hull = synthetic_chine(DD_LINES_STRAIGHT, 1200, middle);
    for (int row = 1; row <= t.rows; row++) {
        dd_waterplane w = dd_waterplane_at(table_number(&t, row, "heel_deg") * DEGREE, table_number(&t, row, "trim_deg") * DEGREE,
                                           table_number(&t, row, "d"));
        const double expected[4] = {table_number(&t, row, "volume_m3"), table_number(&t, row, "Bx"), table_number(&t, row, "By"),
                                    table_number(&t, row, "Bz")};
        check_cut(hull, w, expected, table_text(&t, row, "heel_deg"));
    }
    assert_int_equal(t.rows, 10);
    dd_hull_free(hull);
    table_free(&t);
}

/* Volume and its centre to 1e-9 (grade formula); the water plane against QUADPACK with breaks, 1e-11 (grade library).
   The slices of the first table straddle the breaks of the breadth: its water plane columns are good to 2e-8 only,
   which the second table shows, and are held to that. */
static void test_synthetic_upright(void **state)
{
    (void)state;
    table t = table_read("synthetic_chine_hydrostatics.csv"), exact = table_read("synthetic_chine_waterplane.csv");
    dd_hull *hull = synthetic_chine(DD_LINES_STRAIGHT, 1200, middle);
    assert_int_equal(t.rows, 5);
    assert_int_equal(exact.rows, t.rows);
    for (int row = 1; row <= t.rows; row++) {
        const char *label = table_text(&t, row, "draught_above_baseline_m");
        dd_hydrostatics r;
        dd_hull_hydrostatics(hull, dd_waterplane_at(0, 0, table_number(&t, row, "draught_above_baseline_m")), &r);
        const double lcf = r.waterplane_moment.x / r.waterplane_area, kb = r.volume_moment.z / r.volume;
        const double radius_t = metacentric_radius(&r, 1), radius_l = metacentric_radius(&r, 0);
        CHECK_NEAR(r.volume, table_number(&t, row, "volume_m3"), printed(r.volume), label);
        CHECK_NEAR(r.volume_moment.x / r.volume, table_number(&t, row, "LCB_from_transom_m"), printed(2), label);
        CHECK_NEAR(kb, table_number(&t, row, "KB_m"), printed(kb), label);
        CHECK_NEAR(r.waterplane_area, table_number(&exact, row, "Aw_m2"), 1e-11 * r.waterplane_area, label);
        CHECK_NEAR(lcf, table_number(&exact, row, "LCF_m"), 1e-11 * lcf, label);
        CHECK_NEAR(radius_t * r.volume, table_number(&exact, row, "I_T_m4"), 1e-11 * radius_t * r.volume, label);
        CHECK_NEAR(radius_l * r.volume, table_number(&exact, row, "I_L_m4"), 1e-11 * radius_l * r.volume, label);
        CHECK_NEAR(r.waterplane_area, table_number(&t, row, "Aw_m2"), 2e-8 * r.waterplane_area, label);
        CHECK_NEAR(lcf, table_number(&t, row, "LCF_m"), 2e-8 * lcf, label);
        CHECK_NEAR(kb + radius_t, table_number(&t, row, "KM_T_m"), 2e-8 * 2, label);
        CHECK_NEAR(kb + radius_l, table_number(&t, row, "KM_L_m"), 2e-8 * 20, label);
    }
    dd_hull_free(hull);
    table_free(&t);
    table_free(&exact);
}

/* Righting arms to 180 degrees, 1e-9 of the printed digits. Grade: closed form (polygon clip). */
static void test_righting_arms(void **state)
{
    (void)state;
    table t = table_read("gz_prismatic_sections.csv");
    const double density = 1000, length = 5;
    for (int row = 1; row <= t.rows; row++) {
        const char *name = table_text(&t, row, "section (closed deck)");
        const double box_y[3] = {0, 1.2, 1.2}, box_z[3] = {0, 0, 1.2};
        const double v_y[3] = {0, 1, 1}, v_z[3] = {0, tan(20 * DEGREE), 1.1};
        const double chine_y[3] = {0, 0.85, 1.05}, chine_z[3] = {0, 0.25, 1.05};
        const double *y = name[0] == 'B' ? box_y : name[0] == 'V' ? v_y : chine_y;
        const double *z = name[0] == 'B' ? box_z : name[0] == 'V' ? v_z : chine_z;
        const double area = table_number(&t, row, "area_m2"), heel = table_number(&t, row, "heel_deg") * DEGREE;
        const double kg = table_number(&t, row, "KG_m");
        /* The area is printed to ten digits, the arm depends on it: made afresh from the draught it belongs to. */
        dd_hull *hull = prism(0, length, 3, y, z, 1000, middle);
        dd_hydrostatics r;
        dd_hull_hydrostatics(hull, dd_waterplane_at(0, 0, table_number(&t, row, "upright_draught_m")), &r);
        CHECK_NEAR(r.volume / length, area, printed(area), name);
        CHECK_NEAR(r.volume_moment.z / r.volume, table_number(&t, row, "KB_m"), printed(1), name);
        CHECK_NEAR(metacentric_radius(&r, 1), table_number(&t, row, "BM_m"), printed(1), name);
        dd_hull_free(hull);
        const double mass = density * r.volume, volume = r.volume;
        hull = prism(0, length, 3, y, z, mass, (dd_vec3){length / 2, 0, kg});
        double arm = NAN, free_arm = NAN;
        dd_error error;
        assert_int_equal(dd_hull_righting_arm(hull, density, heel, 0, 0, &arm, &error), DD_OK);
        const double expected = table_number(&t, row, "GZ_m");
        CHECK_NEAR(arm, expected, printed(expected), name);
        const double level = level_for(hull, heel, 0, volume);
        dd_hull_hydrostatics(hull, dd_waterplane_at(heel, 0, level), &r);
        CHECK_NEAR(level, table_number(&t, row, "keel_point_depth_below_waterplane_m"), printed(1), name);
        CHECK_NEAR(r.volume_moment.y / r.volume, table_number(&t, row, "B_y_m (body)"), printed(1), name);
        CHECK_NEAR(r.volume_moment.z / r.volume, table_number(&t, row, "B_z_m (body)"), printed(1), name);
        /* A prism with its centre amidships has no cause to trim. */
        if (dd_hull_righting_arm(hull, density, heel, 0, 1, &free_arm, &error) == DD_OK)
            CHECK_NEAR(free_arm, arm, 1e-12, name);
        else
            fail_msg("%s: %s", name, error.message);
        dd_hull_free(hull);
    }
    assert_int_equal(t.rows, 164);
    table_free(&t);
}

/* Second moments of an oblique cut of a box against its polygon. Grade: closed form; 1e-12. At heel 30, trim 0 the
   water plane of a box that it crosses from side to side is a rectangle of length L and breadth B / cos 30. */
static void test_oblique_waterplane(void **state)
{
    (void)state;
    const double heel = 30 * DEGREE, b = 1.6 / cos(heel), length = 4;
    dd_hull *hull = box(-2, 2, 1.6, 2.0, 1000, middle);
    dd_hydrostatics r;
    dd_hull_hydrostatics(hull, dd_waterplane_at(heel, 0, cos(heel)), &r); /* crosses the middle plane at z = 1 */
    const double area = length * b, across = length * b * b * b / 12; /* about the middle line */
    CHECK_NEAR(r.waterplane_area, area, 1e-12 * area, "area");
    CHECK_NEAR(r.waterplane_moment.x, 0, 1e-12, "mx");
    CHECK_NEAR(r.waterplane_moment.y, 0, 1e-12, "my");
    CHECK_NEAR(r.waterplane_moment.z, area, 1e-12 * area, "mz");
    CHECK_NEAR(r.waterplane_second[0][0], area * length * length / 12, 1e-11, "xx");
    CHECK_NEAR(r.waterplane_second[1][1], across * cos(heel) * cos(heel), 1e-11, "yy");
    CHECK_NEAR(r.waterplane_second[1][2], across * cos(heel) * sin(heel), 1e-11, "yz");
    CHECK_NEAR(r.waterplane_second[2][2], across * sin(heel) * sin(heel) + area, 1e-11, "zz");
    dd_hull_free(hull);
}

/* A water plane parallel to the sections, of either sign, and its limit from nearby planes. Grade: closed form. */
static void test_vertical_plane(void **state)
{
    (void)state;
    dd_hull *hull = synthetic_chine(DD_LINES_STRAIGHT, 1200, middle);
    dd_hydrostatics a, b, all, near_by;
    dd_hull_hydrostatics(hull, (dd_waterplane){{1, 0, 0}, 2.3}, &a);
    dd_hull_hydrostatics(hull, (dd_waterplane){{-1, 0, 0}, -2.3}, &b);
    dd_hull_hydrostatics(hull, (dd_waterplane){{0, 0, 1}, 5}, &all);
    CHECK_NEAR(a.volume + b.volume, all.volume, 1e-12 * all.volume, "two parts");
    CHECK_NEAR(a.volume_moment.x + b.volume_moment.x, all.volume_moment.x, 1e-12 * all.volume_moment.x, "two parts");
    CHECK_NEAR(a.waterplane_area, b.waterplane_area, 0, "one cut");
    double tilt = 1e-6;
    dd_hull_hydrostatics(hull, (dd_waterplane){{cos(tilt), 0, sin(tilt)}, 2.3 * cos(tilt) + 0.5 * sin(tilt)}, &near_by);
    /* The cut turns about a point within the section: the difference is of first order in the tilt. */
    CHECK_NEAR(near_by.volume, a.volume, 2 * tilt * all.volume, "near by");
    CHECK_NEAR(near_by.waterplane_area, a.waterplane_area, 2 * tilt, "near by");
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
            CHECK_NEAR(near_by.waterplane_second[i][j], a.waterplane_second[i][j], 1e-5, "near by");
    dd_hull_free(hull);
}

/* A tunnel hull: the section is concave and the water line comes in two pieces. Grade: closed form, 1e-12. */
static void test_two_pieces(void **state)
{
    (void)state;
    /* Tunnel roof at z = 0.5 to y = 0.4, then down to a sponson of breadth 0.6 at z = 0, then up the side. */
    const double y[5] = {0, 0.4, 0.4, 1.0, 1.0}, z[5] = {0.5, 0.5, 0, 0, 1.2};
    dd_hull *hull = prism(0, 3, 5, y, z, 500, middle);
    dd_hydrostatics r;
    dd_hull_hydrostatics(hull, dd_waterplane_at(0, 0, 0.3), &r);
    CHECK_NEAR(r.volume, 3 * 2 * 0.6 * 0.3, 1e-12, "volume");
    CHECK_NEAR(r.waterplane_area, 3 * 2 * 0.6, 1e-12, "area");
    CHECK_NEAR(r.waterplane_second[1][1], 3 * 2 * (1 - 0.064) / 3, 1e-12, "second moment");
    CHECK_NEAR(r.volume_moment.z, r.volume * 0.15, 1e-12, "height of B");
    dd_hull_hydrostatics(hull, dd_waterplane_at(0, 0, 0.7), &r);
    CHECK_NEAR(r.volume, 3 * (2 * 0.7 - 0.8 * 0.5), 1e-12, "volume above the tunnel");
    CHECK_NEAR(r.waterplane_area, 3 * 2, 1e-12, "area above the tunnel");
    dd_hull_free(hull);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_oblique_planes),    cmocka_unit_test(test_synthetic_cuts),  cmocka_unit_test(test_synthetic_upright),
        cmocka_unit_test(test_righting_arms),     cmocka_unit_test(test_oblique_waterplane), cmocka_unit_test(test_vertical_plane),
        cmocka_unit_test(test_two_pieces),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
