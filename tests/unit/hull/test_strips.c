/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The strips of the run: exact gradient of their own potential, and close to the exact integration. */
#include "tests/unit/hull/hulls.h"

static const dd_vec3 centre = {2, 0, 0.6};

static dd_strips *strips_of(const dd_hull *hull, int per_bay)
{
    dd_strips *strips = NULL;
    dd_error error;
    if (dd_strips_create(hull, per_bay, &strips, &error) != DD_OK)
        fail_msg("%s", error.message);
    return strips;
}

/* Volume and moment with any direction of up, also not of unit length. */
static dd_hydrostatics at(const dd_strips *strips, const double w[4])
{
    dd_hydrostatics r;
    const dd_waterplane plane = {{w[0], w[1], w[2]}, w[3]};
    dd_strips_hydrostatics(strips, plane, &r);
    return r;
}

/* The derivatives of volume and moment with respect to level and up are the moments of the water plane: dV = A dlevel -
   m . dup. Central differences of 1e-6: 1e-7 relative to the size of the matrix, since no strip has a break. Where an
   edge of some strip stands at the surface within the step the second difference jumps: heels are chosen off those.
   The symmetry of these derivatives is what makes a potential exist. Grade: derivation in strips.c. */
static void test_gradient(void **state)
{
    (void)state;
    dd_hull *hull = synthetic_chine(DD_LINES_CURVED, 1200, centre);
    dd_strips *strips = strips_of(hull, 0);
    for (int heel = -175; heel <= 180; heel += 37)
        for (int trim = -9; trim <= 9; trim += 4) {
            const dd_waterplane plane = dd_waterplane_at(heel * DEGREE, trim * DEGREE, 0.31 * cos(heel * DEGREE));
            const double w[4] = {plane.up.x, plane.up.y, plane.up.z, plane.level}, step = 1e-6;
            const dd_hydrostatics r = at(strips, w);
            const double m[3] = {r.waterplane_moment.x, r.waterplane_moment.y, r.waterplane_moment.z};
            for (int k = 0; k < 4; k++) {
                double a[4] = {w[0], w[1], w[2], w[3]}, b[4] = {w[0], w[1], w[2], w[3]};
                a[k] -= step;
                b[k] += step;
                const dd_hydrostatics low = at(strips, a), high = at(strips, b);
                const dd_vec3 dm = dd_scale(0.5 / step, dd_sub(high.volume_moment, low.volume_moment));
                const double slope = (high.volume - low.volume) / (2 * step), found[3] = {dm.x, dm.y, dm.z};
                CHECK_NEAR(slope, k < 3 ? -m[k] : r.waterplane_area, 1e-7 * 30, "volume");
                for (int i = 0; i < 3; i++)
                    CHECK_NEAR(found[i], k < 3 ? -r.waterplane_second[i][k] : m[i], 1e-7 * 60, "moment");
            }
        }
    dd_strips_free(strips);
    dd_hull_free(hull);
}

/* Round trip: the work of buoyancy along a closed path of attitudes is nothing but the quadrature's error. By the
   trapezium rule in a smooth periodic path it falls to 1e-10 of the energies on the way. */
static void test_closed_path(void **state)
{
    (void)state;
    dd_hull *hull = synthetic_chine(DD_LINES_CURVED, 1200, centre);
    dd_strips *strips = strips_of(hull, 0);
    double work[2] = {0, 0}, scale = 0;
    for (int k = 0; k < 2; k++) {
        const int steps = 4000 << k;
        for (int i = 0; i < steps; i++) {
            const double t = 2 * PI * i / steps, dt = 2 * PI / steps;
            const double heel = 0.2 * cos(t), dheel = -0.2 * sin(t), trim = 0.05 * sin(2 * t), dtrim = 0.1 * cos(2 * t);
            const double level = 0.3 + 0.1 * sin(t), dlevel = 0.1 * cos(t);
            const dd_waterplane w = dd_waterplane_at(heel, trim, level);
            const dd_vec3 dup = {-cos(trim) * dtrim, sin(trim) * sin(heel) * dtrim - cos(trim) * cos(heel) * dheel,
                                 -sin(trim) * cos(heel) * dtrim - cos(trim) * sin(heel) * dheel};
            dd_hydrostatics r;
            dd_strips_hydrostatics(strips, w, &r);
            work[k] += (r.volume * dlevel - dd_dot(r.volume_moment, dup)) * dt;
            scale = fmax(scale, r.volume * 0.1);
        }
    }
    print_message("closed path: work %.3g, %.3g of %.3g\n", work[0], work[1], scale);
    CHECK_NEAR(work[1] / scale, 0, 1e-10, "work");
    dd_strips_free(strips);
    dd_hull_free(hull);
}

/* Largest relative difference of volume and of its moment from the exact integration over attitudes afloat. */
static double difference(const dd_hull *hull, int per_bay, int *count)
{
    dd_strips *strips = strips_of(hull, per_bay);
    double worst = 0;
    *count = dd_strips_count(strips);
    for (int heel = -20; heel <= 20; heel += 5)
        for (int trim = -8; trim <= 8; trim += 2) {
            dd_hydrostatics a, b;
            const dd_waterplane w = dd_waterplane_at(heel * DEGREE, trim * DEGREE, 0.3 + 2 * sin(-trim * DEGREE));
            dd_hull_hydrostatics(hull, w, &a);
            dd_strips_hydrostatics(strips, w, &b);
            worst = fmax(worst, fabs(b.volume / a.volume - 1));
            worst = fmax(worst, dd_norm(dd_sub(a.volume_moment, b.volume_moment)) / dd_norm(a.volume_moment));
        }
    dd_strips_free(strips);
    return worst;
}

static void test_difference(void **state)
{
    (void)state;
    for (int lines = DD_LINES_CURVED; lines <= DD_LINES_STRAIGHT; lines++) {
        dd_hull *hull = synthetic_chine(lines, 1200, centre);
        int count[5];
        double d[5];
        const int per_bay[5] = {2, 0, 12, 24, 48};
        for (int k = 0; k < 5; k++) {
            d[k] = difference(hull, per_bay[k], &count[k]);
            print_message("%s lines, %d strips: largest difference %.3g\n", lines ? "straight" : "curved", count[k], d[k]);
        }
        assert_true(count[1] >= 36 && count[1] <= 48);
        assert_true(d[1] < 1e-3); /* stated */
        for (int k = 1; k < 5; k++) /* falls: at least with the square root of the strips' number */
            assert_true(d[k] < d[k - 1] * sqrt((double)count[k - 1] / count[k]));
        dd_hull_free(hull);
    }
}

/* Prisms are integrated exactly by strips as long as no line crosses the surface along the hull: 1e-13. */
static void test_prism(void **state)
{
    (void)state;
    const double y[3] = {0, 0.85, 1.05}, z[3] = {0, 0.25, 1.05};
    dd_hull *hull = prism(0, 5, 3, y, z, 1000, centre);
    dd_strips *strips = strips_of(hull, 2);
    for (int heel = -15; heel <= 15; heel += 5) {
        dd_hydrostatics a, b;
        const dd_waterplane w = dd_waterplane_at(heel * DEGREE, 0, 0.5);
        dd_hull_hydrostatics(hull, w, &a);
        dd_strips_hydrostatics(strips, w, &b);
        CHECK_NEAR(b.volume, a.volume, 1e-13 * a.volume, "volume");
        CHECK_NEAR(dd_norm(dd_sub(a.volume_moment, b.volume_moment)), 0, 1e-12, "moment");
        CHECK_NEAR(b.waterplane_area, a.waterplane_area, 1e-12, "area");
        for (int i = 0; i < 3; i++)
            for (int j = 0; j < 3; j++)
                CHECK_NEAR(b.waterplane_second[i][j], a.waterplane_second[i][j], 1e-11, "second moments");
    }
    dd_strips_free(strips);
    dd_hull_free(hull);
}

/* Weights sum to the length; dry, wholly wet and parallel planes. */
static void test_strips(void **state)
{
    (void)state;
    dd_hull *hull = synthetic_chine(DD_LINES_CURVED, 1200, centre);
    dd_strips *strips = strips_of(hull, 5);
    double length = 0;
    assert_int_equal(dd_strips_count(strips), 35);
    for (int i = 0; i < dd_strips_count(strips); i++) {
        const dd_strip s = dd_strips_at(strips, i);
        double y[DD_STRAKES + 3], z[DD_STRAKES + 3];
        length += s.weight;
        dd_hull_section(hull, s.x, y, z);
        CHECK_NEAR(s.keel_height, z[0], 1e-15, "keel");
        CHECK_NEAR(s.chine_half_breadth, y[1], 1e-15, "chine");
        CHECK_NEAR(s.chine_height, z[1], 1e-15, "chine");
        CHECK_NEAR(s.sheer_half_breadth, y[2], 1e-15, "sheer");
        CHECK_NEAR(s.sheer_height, z[2], 1e-15, "sheer");
    }
    CHECK_NEAR(length, 5.5, 1e-14, "length");
    dd_hydrostatics all, none, aft, fore, whole;
    dd_strips_hydrostatics(strips, (dd_waterplane){{0, 0, 1}, 5}, &all);
    dd_strips_hydrostatics(strips, (dd_waterplane){{0, 0, 1}, -1}, &none);
    dd_strips_hydrostatics(strips, (dd_waterplane){{1, 0, 0}, 2.3}, &aft);
    dd_strips_hydrostatics(strips, (dd_waterplane){{-1, 0, 0}, -2.3}, &fore);
    dd_hull_hydrostatics(hull, (dd_waterplane){{0, 0, 1}, 5}, &whole);
    CHECK_NEAR(all.volume, whole.volume, 1e-13 * whole.volume, "closed hull"); /* a rule of order 10 on cubics times cubics */
    CHECK_NEAR(none.volume, 0, 0, "dry");
    CHECK_NEAR(none.waterplane_area, 0, 0, "dry");
    CHECK_NEAR(aft.volume + fore.volume, all.volume, 1e-14 * all.volume, "two parts");
    CHECK_NEAR(all.waterplane_area, 0, 0, "under water");
    dd_strips_free(strips);
    dd_strips *bad = (dd_strips *)1;
    dd_error error;
    assert_int_equal(dd_strips_create(hull, -1, &bad, &error), DD_ERROR_ARGUMENT);
    assert_null(bad);
    assert_int_equal(dd_strips_create(hull, 1000, &bad, &error), DD_ERROR_ARGUMENT);
    dd_strips_free(NULL);
    dd_hull_free(hull);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_gradient), cmocka_unit_test(test_closed_path), cmocka_unit_test(test_difference),
        cmocka_unit_test(test_prism),    cmocka_unit_test(test_strips),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
