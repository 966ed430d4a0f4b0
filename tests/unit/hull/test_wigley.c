/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The analytic hull y = (B/2)(1 - (2x/L)^2)(1 - (z/T)^2), z = 0 at the water line, by sections of chords and lines along
   X. Chords leave an error of second order in their height; splines through the stations meet the parabolas along X
   exactly, straight lines leave a second second-order error. Grade: closed form. */
#include "tests/unit/hull/hulls.h"

static dd_hull *wigley(double length, double breadth, double draught, int bays, int edges, int lines)
{
    dd_hull_parameters *p = malloc(sizeof *p);
    assert_non_null(p);
    dd_hull_defaults(p);
    set_mass(p, 100, (dd_vec3){0, 0, 0.5 * draught});
    p->lines = lines;
    p->station_count = bays + 1;
    for (int i = 0; i <= bays; i++) {
        dd_station *s = &p->stations[i];
        const double x = length * ((double)i / bays - 0.5), plan = 0.5 * breadth * (1 - 4 * x * x / (length * length));
        *s = (dd_station){.at = x, .keel_height = 0, .sheer_height = draught, .sheer_half_breadth = fmax(plan, 0)};
        s->strake_half_breadth_count = s->strake_height_count = edges - 2;
        for (int j = 1; j < edges; j++) {
            const double up = (double)j / edges, y = fmax(plan, 0) * (1 - (1 - up) * (1 - up));
            double *to_y = j < edges - 1 ? &s->strake_half_breadth[j - 1] : &s->chine_half_breadth;
            double *to_z = j < edges - 1 ? &s->strake_height[j - 1] : &s->chine_height;
            *to_y = y;
            *to_z = up * draught;
        }
    }
    dd_hull *hull = create(p);
    free(p);
    return hull;
}

static double quantity(const dd_hydrostatics *r, const char *name, const double form[3])
{
    const double length = form[0], breadth = form[1], draught = form[2];
    const double kb = r->volume_moment.z / r->volume, bm = metacentric_radius(r, 1), bm_long = metacentric_radius(r, 0);
    if (strcmp(name, "volume") == 0) return r->volume;
    if (strcmp(name, "Cb") == 0) return r->volume / (length * breadth * draught);
    if (strcmp(name, "Cwp") == 0) return r->waterplane_area / (length * breadth);
    if (strcmp(name, "waterplane area") == 0) return r->waterplane_area;
    if (strcmp(name, "KB above keel") == 0) return kb;
    if (strcmp(name, "I_T") == 0) return bm * r->volume;
    if (strcmp(name, "I_L") == 0) return bm_long * r->volume;
    if (strcmp(name, "BM_T") == 0) return bm;
    if (strcmp(name, "BM_L") == 0) return bm_long;
    if (strcmp(name, "KM_T") == 0) return kb + bm;
    return NAN; /* coefficients of the midship section, wetted surface: not of this interface */
}

/* Mean relative error over the rows. */
static double mean_error(int bays, int edges, int lines, int *checked, double *water_plane)
{
    table t = table_read("wigley.csv");
    double sum = 0, worst = 0;
    *checked = 0;
    for (int row = 1; row <= t.rows; row++) {
        const char *name = table_text(&t, row, "case");
        const double form[3] = {value_in(name, "L"), value_in(name, "B"), value_in(name, "T")};
        dd_hull *hull = wigley(form[0], form[1], form[2], bays, edges, lines);
        dd_hydrostatics r;
        dd_hull_hydrostatics(hull, dd_waterplane_at(0, 0, form[2]), &r);
        dd_hull_free(hull);
        const double found = quantity(&r, table_text(&t, row, "quantity"), form), expected = table_number(&t, row, "expected");
        if (isnan(found))
            continue;
        (*checked)++;
        sum += fabs(found / expected - 1);
        if (strcmp(table_text(&t, row, "quantity"), "I_L") == 0 || strcmp(table_text(&t, row, "quantity"), "I_T") == 0 ||
            strcmp(table_text(&t, row, "quantity"), "waterplane area") == 0)
            worst = fmax(worst, fabs(found / expected - 1));
    }
    table_free(&t);
    *water_plane = worst;
    return sum / *checked;
}

/* Chords in both directions: second order. Observed order within 0.1 of 2. */
static void test_straight_lines(void **state)
{
    (void)state;
    double error[3], water_plane;
    int checked;
    for (int k = 0; k < 3; k++)
        error[k] = mean_error(12 << k, 6 << k, DD_LINES_STRAIGHT, &checked, &water_plane);
    assert_int_equal(checked, 30);
    const double order = log(error[1] / error[2]) / log(2);
    print_message("straight lines: %.3g, %.3g, %.3g; order %.3f\n", error[0], error[1], error[2], order);
    CHECK_NEAR(order, 2, 0.1, "order");
}

/* Splines: the water plane, whose line is one parabola, comes out to the printed digits (5e-10) with four bays; the rest keeps
   the second order of the sections' chords, whatever the number of stations. */
static void test_curved_lines(void **state)
{
    (void)state;
    double error[3], water_plane;
    int checked;
    for (int k = 0; k < 3; k++) {
        error[k] = mean_error(4, 6 << k, DD_LINES_CURVED, &checked, &water_plane);
        CHECK_NEAR(water_plane, 0, 5e-10, "water plane");
    }
    assert_int_equal(checked, 30);
    const double order = log(error[1] / error[2]) / log(2);
    print_message("curved lines: %.3g, %.3g, %.3g; order %.3f\n", error[0], error[1], error[2], order);
    CHECK_NEAR(order, 2, 0.1, "order");
}

/* Splines through a line that is no cubic: half-breadth cos(pi x / L), area of the water plane 4 L / pi. The errors are
   those of SciPy's CubicSpline with not-a-knot ends (grade library, 1e-10); fourth order, at least 3.7 seen. */
static void test_spline_order(void **state)
{
    (void)state;
    const int all_bays[3] = {16, 32, 63};
    const double library[3] = {-1.2409764574738889e-06, -1.1609160766035131e-07, -8.365896086992564e-09};
    double error[3];
    for (int k = 0; k < 3; k++) {
        const int bays = all_bays[k];
        dd_hull_parameters *p = malloc(sizeof *p);
        assert_non_null(p);
        dd_hull_defaults(p);
        set_mass(p, 100, (dd_vec3){0, 0, 0.5});
        p->station_count = bays + 1;
        for (int i = 0; i <= bays; i++) {
            const double x = 4 * ((double)i / bays - 0.5), y = fmax(0, cos(PI * x / 4));
            p->stations[i] = (dd_station){.at = x, .chine_half_breadth = i % bays ? y : 0, .chine_height = 0,
                                          .sheer_half_breadth = i % bays ? y : 0, .sheer_height = 1};
        }
        dd_hull *hull = create(p);
        dd_hydrostatics r;
        dd_hull_hydrostatics(hull, dd_waterplane_at(0, 0, 0.5), &r);
        error[k] = r.waterplane_area / (16 / PI) - 1;
        CHECK_NEAR(error[k], library[k], 1e-10, "spline");
        dd_hull_free(hull);
        free(p);
    }
    const double order = log(error[1] / error[2]) / log(63.0 / 32);
    print_message("splines: %.3g, %.3g, %.3g; order %.3f\n", error[0], error[1], error[2], order);
    assert_true(order >= 3.7);
}

/* Curved lines, any plane: the integration against the same integrals by strips so many that their rule has converged.
   Stated accuracy 1e-6 relative. Grade: an independent rule (256 nodes in each bay, no breaks: error about 1e-7). */
static void test_curved_accuracy(void **state)
{
    (void)state;
    dd_hull *hull = synthetic_chine(DD_LINES_CURVED, 1200, (dd_vec3){2, 0, 0.6});
    dd_strips *strips = NULL;
    dd_error error;
    assert_int_equal(dd_strips_create(hull, 256, &strips, &error), DD_OK);
    for (int heel = -170; heel <= 180; heel += 35)
        for (int trim = -6; trim <= 6; trim += 3) {
            dd_hydrostatics a, b;
            dd_waterplane w = dd_waterplane_at(heel * DEGREE, trim * DEGREE, 0.3 * cos(heel * DEGREE));
            dd_hull_hydrostatics(hull, w, &a);
            dd_strips_hydrostatics(strips, w, &b);
            CHECK_NEAR(a.volume, b.volume, 1e-6 * b.volume, "volume");
            CHECK_NEAR(dd_norm(dd_sub(a.volume_moment, b.volume_moment)), 0, 1e-6 * dd_norm(b.volume_moment), "moment");
        }
    dd_strips_free(strips);
    dd_hull_free(hull);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_straight_lines),
        cmocka_unit_test(test_curved_lines),
        cmocka_unit_test(test_spline_order),
        cmocka_unit_test(test_curved_accuracy),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
