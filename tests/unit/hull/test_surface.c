/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The contact surface: derivatives against differences, agreement with the sections buoyancy is made of, the cover. */
#include "tests/unit/hull/hulls.h"

/* The synthetic hull with one lifting strake at 0.6 of the chine's breadth, its crease 5 mm high. */
static dd_hull *with_strake(void)
{
    dd_hull_parameters *p = malloc(sizeof *p);
    assert_non_null(p);
    synthetic_chine_parameters(p);
    set_mass(p, 1200, (dd_vec3){2, 0, 0.6});
    for (int i = 0; i < p->station_count; i++) {
        dd_station *s = &p->stations[i];
        s->strake_half_breadth_count = s->strake_height_count = 1;
        s->strake_half_breadth[0] = 0.6 * s->chine_half_breadth;
        s->strake_height[0] = s->keel_height + 0.6 * (s->chine_height - s->keel_height) - 0.02 * s->chine_half_breadth;
    }
    dd_hull *hull = create(p);
    free(p);
    return hull;
}

static dd_hull *brochure(void)
{
    dd_hull_parameters *p = malloc(sizeof *p);
    assert_non_null(p);
    dd_hull_defaults(p);
    p->length = 5;
    p->length_of = DD_LENGTH_OF_HULL;
    p->beam = 2.1;
    p->transom_deadrise = 18 * DEGREE;
    p->mass = 620;
    p->mass_of = DD_MASS_OF_BARE_HULL;
    p->engine_power = 66e3;
    dd_hull *hull = create(p);
    free(p);
    return hull;
}

/* All derivatives by central differences of 1e-5 m. First derivatives: 1e-7 plus 1e-5 of the second's scale; second
   derivatives are differences of first ones, but for the jumps at the edges of the roundings, which lie within a step
   of the place in few of the points: those are passed over where one-sided differences differ. Grade: the definition. */
static int check_derivatives(const dd_hull *hull, double x, double y, int side)
{
    const double d = 1e-5;
    const dd_bottom_point p = dd_hull_bottom(hull, x, y, side), e = dd_hull_bottom(hull, x + d, y, side),
                          w = dd_hull_bottom(hull, x - d, y, side), n = dd_hull_bottom(hull, x, y + d, side),
                          s = dd_hull_bottom(hull, x, y - d, side);
    /* Beyond the ends, where the cover is 0, the rounding's third derivative (up to 2e4 times the change of slope) enters. */
    const double second = fabs(p.zxx) + fabs(p.zxy) + fabs(p.zyy) + (x < 0 ? 20 : 0);
    const double tolerance = 1e-8 * (1 + fabs(p.zx) + fabs(p.zy)) + 1e-5 * second;
    char label[80];
    snprintf(label, sizeof label, "at X = %.4f, y = %.4f", x, y);
    CHECK_NEAR(p.zx, (e.z - w.z) / (2 * d), tolerance, label);
    CHECK_NEAR(p.zy, (n.z - s.z) / (2 * d), tolerance, label);
    CHECK_NEAR(p.cover_x, (e.cover - w.cover) / (2 * d), 1e-3 * (0.01 + fabs(p.cover_x)) + 0.1, "cover_x");
    CHECK_NEAR(p.cover_y, (n.cover - s.cover) / (2 * d), 1e-3 * (0.01 + fabs(p.cover_y)) + 0.1, "cover_y");
    if (fabs(e.zxx - w.zxx) + fabs(n.zyy - s.zyy) + fabs(e.zxy - w.zxy) + fabs(n.zxy - s.zxy) > 1e-3 * (1 + second))
        return 0;
    CHECK_NEAR(p.zxx, (e.zx - w.zx) / (2 * d), 1e-6 + 1e-3 * second, "zxx");
    CHECK_NEAR(p.zxy, (n.zx - s.zx) / (2 * d), 1e-6 + 1e-3 * second, "zxy");
    CHECK_NEAR(p.zxy, (e.zy - w.zy) / (2 * d), 1e-6 + 1e-3 * second, "zyx");
    CHECK_NEAR(p.zyy, (n.zy - s.zy) / (2 * d), 1e-6 + 1e-3 * second, "zyy");
    return 1;
}

static void test_derivatives(void **state)
{
    (void)state;
    dd_hull *hulls[3] = {with_strake(), brochure(), synthetic_chine(DD_LINES_CURVED, 1200, (dd_vec3){2, 0, 0.6})};
    for (int k = 0; k < 3; k++) {
        double first, last;
        int whole = 0, all = 0;
        dd_hull_extent(hulls[k], &first, &last);
        for (double x = first - 0.0513; x < last - 0.21; x += 0.0377) {
            if (fabs(x - first) < 1e-4)
                continue;
            for (double y = -1.05; y < 1.05; y += 0.0103, all++)
                whole += check_derivatives(hulls[k], x, y, y > 0.02 ? 1 : y < -0.02 ? -1 : 0);
        }
        assert_true(whole > 0.95 * all);
        dd_hull_free(hulls[k]);
    }
}

/* One surface: between the lines the bottom is the section that buoyancy integrates, 1e-12 m away from the rounding at
   the strake, and no more than 3 D w / 16 within it (D the change of slope, w = 5 mm). Grade: derivation in surface.c. */
static void test_one_surface(void **state)
{
    (void)state;
    dd_hull *hull = with_strake();
    for (double x = 0.01; x < 4.9; x += 0.0713) {
        double y[DD_STRAKES + 3], z[DD_STRAKES + 3];
        assert_int_equal(dd_hull_section(hull, x, y, z), 4);
        const double inner = (z[1] - z[0]) / y[1], outer = (z[2] - z[1]) / (y[2] - y[1]);
        for (double share = 0; share < 1; share += 0.03) {
            const double across = share * y[2];
            const double exact = across < y[1] ? z[0] + inner * across : z[1] + outer * (across - y[1]);
            const double tolerance = fabs(across - y[1]) < 5e-3 ? fabs(outer - inner) * 5e-3 * 3 / 16 + 1e-12 : 1e-12;
            CHECK_NEAR(dd_hull_bottom(hull, x, across, 1).z, exact, tolerance, "port");
            CHECK_NEAR(dd_hull_bottom(hull, x, -across, -1).z, exact, tolerance, "starboard");
            CHECK_NEAR(dd_hull_bottom(hull, x, -across, 0).z, exact, tolerance, "by its sign");
        }
        CHECK_NEAR(dd_hull_bottom(hull, x, -0.05, 1).z, z[0] - 0.05 * inner, 1e-12, "continued across the keel");
        CHECK_NEAR(dd_hull_keel(hull, x).z, z[0], 0, "keel");
    }
    dd_hull_free(hull);
}

/* Port and starboard mirror each other bit for bit. */
static void test_mirrored(void **state)
{
    (void)state;
    dd_hull *hull = with_strake();
    for (double x = -0.02; x < 5.6; x += 0.0931)
        for (double y = 0.001; y < 1; y += 0.0377) {
            const dd_bottom_point p = dd_hull_bottom(hull, x, y, 1), s = dd_hull_bottom(hull, x, -y, -1);
            assert_true(p.z == s.z && p.zx == s.zx && p.zy == -s.zy && p.zxx == s.zxx && p.zxy == -s.zxy && p.zyy == s.zyy);
            assert_true(p.cover == s.cover && p.cover_x == s.cover_x && p.cover_y == -s.cover_y);
        }
    dd_hull_free(hull);
}

static void test_cover(void **state)
{
    (void)state;
    dd_hull *hull = brochure();
    double y[DD_STRAKES + 3], z[DD_STRAKES + 3];
    dd_hull_section(hull, 2, y, z);
    CHECK_NEAR(dd_hull_bottom(hull, 2, 0.1, 1).cover, 1, 0, "inside");
    CHECK_NEAR(dd_hull_bottom(hull, 2, y[1], 1).cover, 0.5, 1e-12, "at the chine");
    CHECK_NEAR(dd_hull_bottom(hull, 2, y[1] - 0.0151, 1).cover, 1, 0, "15 mm inside the chine");
    CHECK_NEAR(dd_hull_bottom(hull, 2, y[1] + 0.0151, 1).cover, 0, 0, "15 mm outside the chine");
    CHECK_NEAR(dd_hull_bottom(hull, 0, 0.1, 1).cover, 0, 0, "at the transom");
    CHECK_NEAR(dd_hull_bottom(hull, 0.0125, 0.1, 1).cover, 0.5, 1e-12, "half way");
    CHECK_NEAR(dd_hull_bottom(hull, 0.0251, 0.1, 1).cover, 1, 0, "25 mm inside");
    CHECK_NEAR(dd_hull_bottom(hull, -0.1, 0.1, 1).cover, 0, 0, "abaft the transom");
    CHECK_NEAR(dd_hull_keel(hull, 5).cover, 0, 0, "keel at the stem head");
    CHECK_NEAR(dd_hull_keel(hull, 4.9).cover, 1, 0, "keel below the stem head");
    CHECK_NEAR(dd_hull_keel(hull, 5.3).cover, 0, 0, "ahead");
    CHECK_NEAR(dd_hull_length(hull), 5, 0, "length");
    /* Finite everywhere, also where the stem closes. */
    for (double x = 4.9; x <= 5.2; x += 0.001)
        for (double across = -0.3; across < 0.3; across += 0.01) {
            const dd_bottom_point p = dd_hull_bottom(hull, x, across, 1);
            assert_true(isfinite(p.z + p.zx + p.zy + p.zxx + p.zxy + p.zyy + p.cover_x + p.cover_y));
            assert_true(p.cover >= 0 && p.cover <= 1);
        }
    dd_hull_free(hull);
}

/* The keel line's derivatives by differences of 1e-5 m: 1e-8 + 1e-5 of the second. */
static void test_keel(void **state)
{
    (void)state;
    dd_hull *hull = brochure();
    const double d = 1e-5;
    for (double x = -0.0301; x < 5.05; x += 0.0171) {
        const dd_bottom_point p = dd_hull_keel(hull, x), a = dd_hull_keel(hull, x - d), b = dd_hull_keel(hull, x + d);
        if (fabs(x) < 2 * d || fabs(x - 5) < 2 * d)
            continue;
        CHECK_NEAR(p.zx, (b.z - a.z) / (2 * d), 1e-9, "zx");
        CHECK_NEAR(p.zxx, (b.zx - a.zx) / (2 * d), 1e-6 + 1e-4 * fabs(p.zxx), "zxx");
        assert_true(p.zy == 0 && p.zxy == 0 && p.zyy == 0 && p.cover_y == 0);
    }
    dd_hull_free(hull);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_derivatives), cmocka_unit_test(test_one_surface), cmocka_unit_test(test_mirrored),
        cmocka_unit_test(test_cover),       cmocka_unit_test(test_keel),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
