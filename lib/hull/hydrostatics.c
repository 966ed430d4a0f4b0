/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Immersed volume and water plane of the lines as they are: integrals along X between breaks, a break wherever the
   water plane crosses a line. Between breaks each section is cut through the same edges, so the integrand is smooth
   (a polynomial for prisms, rational else) and Gauss-Legendre converges; halves are compared until they agree. */
#include <math.h>
#include <string.h>
#include "lib/hull/lines.h"
#include "lib/hull/section.h"

enum { MOST_BREAKS = 6 * DD_SECTION_POINTS + 2, MOST_HALVINGS = 7 };

/* Root of a cubic on [a, b] where it changes sign from fa to fb. */
static double bracketed_root(const double c[4], double a, double b, double fa)
{
    double x = 0.5 * (a + b);
    for (int i = 0; i < 100; i++) {
        double f = c[0] + x * (c[1] + x * (c[2] + x * c[3])), slope = c[1] + x * (2 * c[2] + 3 * x * c[3]);
        if ((f < 0) == (fa < 0))
            a = x;
        else
            b = x;
        double next = x - f / slope;
        if (!(next > a && next < b)) /* Newton leaves the bracket, or is not a number: halve */
            next = 0.5 * (a + b);
        if (fabs(next - x) <= 1e-15 * (fabs(x) + b - a) || next == a || next == b)
            return next;
        x = next;
    }
    return x;
}

/* Adds the roots of a cubic in (0, h) where it changes sign. */
static int add_roots(const double c[4], double h, double *roots, int count)
{
    double ends[4] = {0, 0, 0, 0};
    int pieces = 1;
    double qa = 3 * c[3], qb = c[2], qc = c[1]; /* slope: qa t^2 + 2 qb t + qc; its roots part the bay */
    double discriminant = qb * qb - qa * qc;
    if ((qa != 0 || qb != 0) && discriminant > 0) {
        double q = -(qb + copysign(sqrt(discriminant), qb));
        double first = qa != 0 ? q / qa : NAN, second = q != 0 ? qc / q : NAN;
        if (second < first || !(first == first)) {
            double swap = first;
            first = second;
            second = swap;
        }
        if (first > 0 && first < h)
            ends[pieces++] = first;
        if (second > 0 && second < h)
            ends[pieces++] = second;
    }
    ends[pieces] = h;
    double f0 = c[0];
    for (int i = 1; i <= pieces; i++) {
        double t = ends[i], f1 = c[0] + t * (c[1] + t * (c[2] + t * c[3]));
        if ((f0 < 0) != (f1 < 0))
            roots[count++] = c[2] == 0 && c[3] == 0 ? -c[0] / c[1] : bracketed_root(c, ends[i - 1], t, f0);
        f0 = f1;
    }
    return count;
}

static void sort_ascending(double *v, int count)
{
    for (int i = 1; i < count; i++) {
        double x = v[i];
        int j = i;
        for (; j > 0 && v[j - 1] > x; j--)
            v[j] = v[j - 1];
        v[j] = x;
    }
}

/* Breaks of a bay in t, with 0 and its length. */
static int bay_breaks(const dd_hull *hull, const dd_section_plane *plane, int bay, double *breaks)
{
    double h = hull->at[bay + 1] - hull->at[bay];
    int count = 0;
    breaks[count++] = 0;
    const double *c = hull->coefficients + (size_t)bay * (size_t)hull->points * 8;
    const double q0 = (plane->level - plane->nx * hull->at[bay]) / plane->h, q1 = -plane->nx / plane->h;
    for (int j = 0; j < hull->points; j++, c += 8)
        for (int side = 1; side >= -1; side -= 2) {
            double f[4], a = -side * plane->sine, b = -plane->cosine;
            if (side < 0 && (j == 0 || plane->sine == 0))
                continue; /* the same as on port */
            for (int k = 0; k < 4; k++)
                f[k] = a * c[k] + b * c[4 + k];
            f[0] += q0;
            f[1] += q1;
            count = add_roots(f, h, breaks, count);
        }
    breaks[count++] = h;
    sort_ascending(breaks, count);
    return count;
}

static void gauss(const dd_hull *hull, const dd_section_plane *plane, int bay, double a, double b, dd_section_sums *sums)
{
    double y[DD_SECTION_POINTS], z[DD_SECTION_POINTS];
    memset(sums, 0, sizeof *sums);
    for (size_t i = 0; i < hull->rule->n; i++) {
        double t, weight;
        gsl_integration_glfixed_point(a, b, i, &t, &weight, hull->rule);
        dd_lines_section(hull, bay, t, y, z);
        dd_section_add(plane, hull->points, y, z, hull->at[bay] + t, weight, true, sums);
    }
}

static void add_sums(dd_section_sums *a, const dd_section_sums *b)
{
    a->area += b->area;
    a->area_x += b->area_x;
    a->moment_s += b->moment_s;
    a->moment_r += b->moment_r;
    a->chord += b->chord;
    a->chord_x += b->chord_x;
    a->chord_q += b->chord_q;
    a->chord_s += b->chord_s;
    a->chord_xx += b->chord_xx;
    a->chord_xq += b->chord_xq;
    a->chord_qq += b->chord_qq;
    a->chord_sx += b->chord_sx;
    a->chord_sq += b->chord_sq;
    a->chord_ss += b->chord_ss;
}

/* Whole and halves agree to 1e-11 of the piece, or to 1e-13 of the hull. */
static int sums_agree(const dd_hull *hull, const dd_section_sums *a, const dd_section_sums *b)
{
    const double w = hull->breadth, length = hull->at[hull->stations - 1] - hull->at[0];
    const double area = fmax(1e-11 * fabs(b->area), 1e-14 * length * w * w);
    const double chord = fmax(1e-11 * fabs(b->chord), 1e-13 * length * w);
    return fabs(a->area - b->area) <= area && fabs(a->moment_s - b->moment_s) <= area * w &&
           fabs(a->moment_r - b->moment_r) <= area * w && fabs(a->chord - b->chord) <= chord &&
           fabs(a->chord_s - b->chord_s) <= chord * w && fabs(a->chord_ss - b->chord_ss) <= chord * w * w;
}

static void integrate(const dd_hull *hull, const dd_section_plane *plane, int bay, double a, double b, const dd_section_sums *whole,
                      int halvings, dd_section_sums *sums)
{
    dd_section_sums left, right, both;
    double mid = 0.5 * (a + b);
    gauss(hull, plane, bay, a, mid, &left);
    gauss(hull, plane, bay, mid, b, &right);
    both = left;
    add_sums(&both, &right);
    if (halvings == 0 || sums_agree(hull, whole, &both)) {
        add_sums(sums, &both);
        return;
    }
    integrate(hull, plane, bay, a, mid, &left, halvings - 1, sums);
    integrate(hull, plane, bay, mid, b, &right, halvings - 1, sums);
}

static void integrate_bays(const dd_hull *hull, const dd_section_plane *plane, dd_section_sums *sums)
{
    double breaks[MOST_BREAKS];
    for (int bay = 0; bay < hull->stations - 1; bay++) {
        int count = bay_breaks(hull, plane, bay, breaks);
        for (int i = 1; i < count; i++) {
            double a = breaks[i - 1], b = breaks[i];
            if (!(b - a > 1e-14 * hull->breadth))
                continue;
            dd_section_sums whole;
            gauss(hull, plane, bay, a, b, &whole);
            if (whole.area == 0 && whole.chord == 0)
                continue; /* dry */
            integrate(hull, plane, bay, a, b, &whole, MOST_HALVINGS, sums);
        }
    }
}

/* Water plane parallel to the sections: whole sections on its wet side, and the cut itself is one section. */
static void integrate_parallel(const dd_hull *hull, const dd_section_plane *plane, dd_hydrostatics *result)
{
    dd_section_sums sums = {0};
    double y[DD_SECTION_POINTS], z[DD_SECTION_POINTS], cut = plane->level / plane->nx;
    for (int bay = 0; bay < hull->stations - 1; bay++) {
        double h = hull->at[bay + 1] - hull->at[bay], x = fmin(fmax(cut - hull->at[bay], 0), h);
        double a = plane->nx > 0 ? 0 : x, b = plane->nx > 0 ? x : h;
        for (size_t i = 0; i < hull->rule->n && b > a; i++) {
            double t, weight, area, moment;
            gsl_integration_glfixed_point(a, b, i, &t, &weight, hull->rule);
            dd_lines_section(hull, bay, t, y, z);
            dd_section_whole(hull->points, y, z, &area, &moment);
            sums.area += weight * area;
            sums.area_x += weight * area * (hull->at[bay] + t);
            sums.moment_r += weight * moment;
        }
    }
    dd_section_finish(plane, &sums, true, result);
    if (!(cut >= hull->at[0] && cut <= hull->at[hull->stations - 1]))
        return;
    double area, moment, second_y, second_z;
    int bay = dd_lines_bay(hull, cut);
    dd_lines_section(hull, bay, cut - hull->at[bay], y, z);
    dd_section_whole(hull->points, y, z, &area, &moment);
    dd_section_second(hull->points, y, z, &second_y, &second_z);
    result->waterplane_area = area;
    result->waterplane_moment = (dd_vec3){cut * area, 0, moment};
    result->waterplane_second[0][0] = cut * cut * area;
    result->waterplane_second[0][2] = result->waterplane_second[2][0] = cut * moment;
    result->waterplane_second[1][1] = second_y;
    result->waterplane_second[2][2] = second_z;
}

void dd_hull_hydrostatics(const dd_hull *hull, dd_waterplane waterplane, dd_hydrostatics *result)
{
    dd_section_plane plane = dd_section_plane_of(waterplane);
    if (plane.h > 0) {
        dd_section_sums sums = {0};
        integrate_bays(hull, &plane, &sums);
        dd_section_finish(&plane, &sums, true, result);
    } else
        integrate_parallel(hull, &plane, result);
}

dd_waterplane dd_waterplane_at(double heel, double trim, double level)
{
    dd_waterplane w = {{-sin(trim), -cos(trim) * sin(heel), cos(trim) * cos(heel)}, level};
    return w;
}
