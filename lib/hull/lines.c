/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines through the stations: straight between them, or C2 cubic splines whose first and last two bays share one
   cubic (not-a-knot ends), so that a line which is one cubic comes out exactly. */
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "lib/base/error.h"
#include "lib/hull/lines.h"

/* The points of a half-section at a station, from the keel out. */
static void station_points(const dd_station *station, double *y, double *z)
{
    int n = 0;
    y[n] = 0;
    z[n++] = station->keel_height;
    for (int i = 0; i < station->strake_half_breadth_count; i++) {
        y[n] = station->strake_half_breadth[i];
        z[n++] = station->strake_height[i];
    }
    y[n] = station->chine_half_breadth;
    z[n++] = station->chine_height;
    y[n] = station->sheer_half_breadth;
    z[n] = station->sheer_height;
}

/* Equations of the spline's second derivatives at the stations. */
static void spline_matrix(gsl_matrix *matrix, const double *at, int count)
{
    gsl_matrix_set_zero(matrix);
    for (int i = 1; i < count - 1; i++) {
        size_t row = (size_t)i;
        double before = at[i] - at[i - 1], after = at[i + 1] - at[i];
        gsl_matrix_set(matrix, row, row - 1, before);
        gsl_matrix_set(matrix, row, row, 2 * (before + after));
        gsl_matrix_set(matrix, row, row + 1, after);
    }
    /* The ends: third derivative continuous at the second station, and so at the last but one. */
    for (int end = 0; end < 2; end++) {
        int mid = end ? count - 2 : 1;
        size_t row = end ? (size_t)count - 1 : 0;
        if (count == 3) { /* a parabola: second derivative constant */
            gsl_matrix_set(matrix, row, row, 1);
            gsl_matrix_set(matrix, row, 1, -1);
            continue;
        }
        double before = at[mid] - at[mid - 1], after = at[mid + 1] - at[mid];
        gsl_matrix_set(matrix, row, (size_t)mid - 1, after);
        gsl_matrix_set(matrix, row, (size_t)mid, -(before + after));
        gsl_matrix_set(matrix, row, (size_t)mid + 1, before);
    }
}

/* Cubic of each bay from the values v[] and second derivatives m[] at the stations; written with a stride. */
static void bay_cubics(const double *at, const double *v, const double *m, int count, double *cubic, int stride)
{
    for (int b = 0; b < count - 1; b++, cubic += stride) {
        double h = at[b + 1] - at[b];
        cubic[0] = v[b];
        cubic[1] = (v[b + 1] - v[b]) / h - h * (2 * m[b] + m[b + 1]) / 6;
        cubic[2] = m[b] / 2;
        cubic[3] = (m[b + 1] - m[b]) / (6 * h);
    }
}

static int solve_spline(const gsl_matrix *lu, const gsl_permutation *permutation, const double *at, const double *v, int count,
                        double *m)
{
    double right[DD_STATIONS] = {0};
    for (int i = 1; i < count - 1; i++)
        right[i] = 6 * ((v[i + 1] - v[i]) / (at[i + 1] - at[i]) - (v[i] - v[i - 1]) / (at[i] - at[i - 1]));
    gsl_vector_const_view b = gsl_vector_const_view_array(right, (size_t)count);
    gsl_vector_view x = gsl_vector_view_array(m, (size_t)count);
    return gsl_linalg_LU_solve(lu, permutation, &b.vector, &x.vector);
}

/* values[(2 * line + axis) * count + station] -> coefficients; second derivatives 0 for straight lines. */
static int fill_coefficients(dd_hull *hull, const double *values)
{
    int count = hull->stations, failed = 0;
    gsl_matrix *matrix = NULL;
    gsl_permutation *permutation = NULL;
    if (!hull->straight) {
        int sign;
        matrix = gsl_matrix_alloc((size_t)count, (size_t)count);
        permutation = gsl_permutation_alloc((size_t)count);
        if (!matrix || !permutation)
            failed = GSL_ENOMEM;
        else {
            spline_matrix(matrix, hull->at, count);
            failed = gsl_linalg_LU_decomp(matrix, permutation, &sign);
        }
    }
    for (int i = 0; i < 2 * hull->points && !failed; i++) {
        double second[DD_STATIONS] = {0};
        const double *v = values + i * count;
        if (!hull->straight)
            failed = solve_spline(matrix, permutation, hull->at, v, count, second);
        bay_cubics(hull->at, v, second, count, hull->coefficients + 4 * i, 8 * hull->points);
    }
    if (permutation)
        gsl_permutation_free(permutation);
    if (matrix)
        gsl_matrix_free(matrix);
    return failed;
}

/* A spline may swing past the stations: no line may cross the middle plane by more than rounding. */
static dd_status check_breadths(const dd_hull *hull, dd_error *error)
{
    double y[DD_SECTION_POINTS], z[DD_SECTION_POINTS];
    for (int b = 0; b < hull->stations - 1; b++)
        for (int k = 1; k < 8; k++) {
            double t = (hull->at[b + 1] - hull->at[b]) * k / 8;
            dd_lines_section(hull, b, t, y, z);
            for (int i = 0; i < hull->points; i++)
                if (y[i] < -1e-3) {
                    dd_fail(error, DD_ERROR_ARGUMENT, "dd_hull_create: stations",
                            "the curved line %d (0 keel, then outward) swings to a half-breadth of %.4g m at X = %.4g m; "
                            "expected 0 or more",
                            i, y[i], hull->at[b] + t);
                    return dd_fail_remedy(error, DD_ERROR_ARGUMENT, "give one more station there, or lines: straight");
                }
        }
    return DD_OK;
}

static void lay_bins(dd_hull *hull)
{
    const double length = hull->at[hull->stations - 1] - hull->at[0];
    hull->bins_per_metre = DD_BAY_BINS / length;
    for (int i = 0, bay = 0; i < DD_BAY_BINS; i++) {
        while (bay < hull->stations - 2 && hull->at[0] + length * i / DD_BAY_BINS >= hull->at[bay + 1]) bay++;
        hull->bay_of[i] = (unsigned char)bay;
    }
}

dd_status dd_lines_build(dd_hull *hull, const dd_station *stations, int count, int straight, dd_error *error)
{
    hull->stations = count;
    hull->points = stations[0].strake_half_breadth_count + 3;
    hull->straight = straight || count < 3;
    hull->coefficients = calloc((size_t)(count - 1) * (size_t)hull->points * 8, sizeof(double));
    double *values = calloc((size_t)count * (size_t)hull->points * 2, sizeof(double));
    if (!hull->coefficients || !values) {
        free(values);
        return dd_fail(error, DD_ERROR_MEMORY, "dd_hull_create", "no memory for the lines of the hull");
    }
    for (int i = 0; i < count; i++) {
        double y[DD_SECTION_POINTS], z[DD_SECTION_POINTS];
        hull->at[i] = stations[i].at;
        station_points(&stations[i], y, z);
        for (int j = 0; j < hull->points; j++) {
            values[(2 * j) * count + i] = y[j];
            values[(2 * j + 1) * count + i] = z[j];
            hull->breadth = fmax(hull->breadth, hypot(y[j], z[j]));
        }
    }
    lay_bins(hull);
    int failed = fill_coefficients(hull, values);
    free(values);
    if (failed)
        return dd_fail(error, failed == GSL_ENOMEM ? DD_ERROR_MEMORY : DD_ERROR_LIBRARY, "dd_hull_create: stations",
                       "the splines through the stations could not be solved: %s", gsl_strerror(failed));
    return check_breadths(hull, error);
}

void dd_lines_section(const dd_hull *hull, int bay, double t, double *y, double *z)
{
    const double *c = hull->coefficients + (size_t)bay * (size_t)hull->points * 8;
    if (hull->straight)
        for (int j = 0; j < hull->points; j++, c += 8) {
            y[j] = c[0] + t * c[1];
            z[j] = c[4] + t * c[5];
        }
    else
        for (int j = 0; j < hull->points; j++, c += 8) {
            y[j] = c[0] + t * (c[1] + t * (c[2] + t * c[3]));
            z[j] = c[4] + t * (c[5] + t * (c[6] + t * c[7]));
        }
}
