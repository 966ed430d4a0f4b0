/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each edge of the section spans a triangle with the point s = 0 of the water line. The signed triangles of the
   immersed parts of the edges add up to the immersed area, because the closing edges lie on the water line and so
   span nothing. That holds for sections of any shape, with the water line in one piece or several. */
#include <math.h>
#include <string.h>
#include "lib/hull/section.h"

/* Below this |(ny, nz)| the water plane is taken as parallel to the sections. */
static const double parallel_limit = 1e-8;

dd_section_plane dd_section_plane_of(dd_waterplane waterplane)
{
    dd_vec3 n = waterplane.up;
    double h = sqrt(n.y * n.y + n.z * n.z);
    if (!(h > parallel_limit))
        return (dd_section_plane){n.x, waterplane.level, 0, 0, 1};
    return (dd_section_plane){n.x, waterplane.level, h, n.y / h, n.z / h};
}

/* Sums of one section: twice the area, six times the moments; signed powers of s at the crossings. */
typedef struct edge_sums {
    double area2, moment_s6, moment_f6, chord, chord_s2, chord_ss3;
} edge_sums;

/* Edge from (s, f) to (t, g), f and g the depths below the water line of its ends. Traversed with the section on the
   left in (y, z), so depths give negative areas: the sign is turned here. */
static inline void add_edge(double s, double f, double t, double g, bool moments, edge_sums *e)
{
    if (f <= 0 && g <= 0)
        return;
    if (f < 0 || g < 0) {
        double c = (s * g - t * f) / (g - f); /* s where the edge crosses the water line */
        double sign = f > 0 ? 1 : -1;         /* leaving the water: the far end of the chord */
        e->chord += sign * c;
        if (moments) {
            e->chord_s2 += sign * c * c;
            e->chord_ss3 += sign * c * c * c;
        }
        if (f < 0) {
            s = c;
            f = 0;
        } else {
            t = c;
            g = 0;
        }
    } else if (f == 0 || g == 0) { /* an end on the water line: a crossing for the edge that is wet */
        double c = f == 0 ? s : t, sign = f > 0 ? 1 : -1;
        e->chord += sign * c;
        if (moments) {
            e->chord_s2 += sign * c * c;
            e->chord_ss3 += sign * c * c * c;
        }
    }
    double cross = t * f - s * g;
    e->area2 += cross;
    e->moment_s6 += cross * (s + t);
    e->moment_f6 += cross * (f + g);
}

static inline void add_section(const dd_section_plane *plane, int points, const double *y, const double *z, double x, double weight, bool moments,
                               dd_section_sums *sums)
{
    const double sine = plane->sine, cosine = plane->cosine;
    const double q = (plane->level - plane->nx * x) / plane->h;
    edge_sums e = {0, 0, 0, 0, 0, 0};
    double port_s = cosine * y[0] - sine * z[0], port_f = q - sine * y[0] - cosine * z[0];
    double star_s = -cosine * y[0] - sine * z[0], star_f = q + sine * y[0] - cosine * z[0];
    add_edge(star_s, star_f, port_s, port_f, moments, &e); /* a flat keel of some breadth */
    for (int i = 1; i < points; i++) {
        double a = cosine * y[i], b = sine * z[i], c = sine * y[i], d = q - cosine * z[i];
        double ps = a - b, pf = d - c, ss = -a - b, sf = d + c;
        add_edge(port_s, port_f, ps, pf, moments, &e);
        add_edge(ss, sf, star_s, star_f, moments, &e);
        port_s = ps, port_f = pf, star_s = ss, star_f = sf;
    }
    add_edge(port_s, port_f, star_s, star_f, moments, &e); /* the deck */
    double area = 0.5 * weight * e.area2, chord = weight * e.chord, chord_s = 0.5 * weight * e.chord_s2;
    sums->area += area;
    sums->area_x += area * x;
    sums->moment_s += weight * e.moment_s6 / 6;
    sums->moment_r += area * q - weight * e.moment_f6 / 6;
    sums->chord += chord;
    if (!moments) return;
    sums->chord_x += chord * x;
    sums->chord_q += chord * q;
    sums->chord_s += chord_s;
    sums->chord_xx += chord * x * x;
    sums->chord_xq += chord * x * q;
    sums->chord_qq += chord * q * q;
    sums->chord_sx += chord_s * x;
    sums->chord_sq += chord_s * q;
    sums->chord_ss += weight * e.chord_ss3 / 3;
}

void dd_section_add(const dd_section_plane *plane, int points, const double *y, const double *z, double x, double weight, bool moments,
                    dd_section_sums *sums)
{
    if (moments)
        add_section(plane, points, y, z, x, weight, true, sums);
    else
        add_section(plane, points, y, z, x, weight, false, sums);
}

void dd_section_whole(int points, const double *y, const double *z, double *area, double *moment_z)
{
    double a = 0, m = 0;
    for (int i = 0; i <= points; i++) { /* keel to sheer, then the deck to the middle, then the middle line back */
        double y0 = i == 0 ? 0 : y[i - 1], z0 = i == 0 ? z[0] : z[i - 1];
        double y1 = i == points ? 0 : y[i], z1 = i == points ? z[points - 1] : z[i];
        double cross = y0 * z1 - y1 * z0;
        a += cross;
        m += cross * (z0 + z1);
    }
    *area = a; /* half of it on each side */
    *moment_z = m / 3;
}

void dd_section_second(int points, const double *y, const double *z, double *second_y, double *second_z)
{
    double sy = 0, sz = 0;
    for (int i = 0; i <= points; i++) {
        double y0 = i == 0 ? 0 : y[i - 1], z0 = i == 0 ? z[0] : z[i - 1];
        double y1 = i == points ? 0 : y[i], z1 = i == points ? z[points - 1] : z[i];
        double cross = y0 * z1 - y1 * z0;
        sy += cross * (y0 * y0 + y0 * y1 + y1 * y1);
        sz += cross * (z0 * z0 + z0 * z1 + z1 * z1);
    }
    *second_y = sy / 6; /* both sides */
    *second_z = sz / 6;
}

void dd_section_finish(const dd_section_plane *plane, const dd_section_sums *sums, bool moments, dd_hydrostatics *result)
{
    const double sine = plane->sine, cosine = plane->cosine;
    memset(result, 0, sizeof *result);
    result->volume = sums->area;
    result->volume_moment.x = sums->area_x;
    result->volume_moment.y = cosine * sums->moment_s + sine * sums->moment_r;
    result->volume_moment.z = -sine * sums->moment_s + cosine * sums->moment_r;
    if (plane->h <= 0)
        return;
    /* A point of the water plane is X along the boat, q up and s across the section; area element dX ds / h. */
    const double ih = 1 / plane->h;
    result->waterplane_area = ih * sums->chord;
    if (!moments)
        return;
    const double first[3] = {sums->chord_x, sums->chord_q, sums->chord_s};
    const double second[3][3] = {{sums->chord_xx, sums->chord_xq, sums->chord_sx},
                                 {sums->chord_xq, sums->chord_qq, sums->chord_sq},
                                 {sums->chord_sx, sums->chord_sq, sums->chord_ss}};
    const double axes[3][3] = {{1, 0, 0}, {0, sine, cosine}, {0, cosine, -sine}};
    double moment[3] = {0, 0, 0};
    for (int a = 0; a < 3; a++)
        for (int i = a > 0; i < (a > 0 ? 3 : 1); i++) { /* along the boat and across it do not mix */
            moment[i] += ih * first[a] * axes[a][i];
            for (int b = 0; b < 3; b++)
                for (int j = b > 0; j < (b > 0 ? 3 : 1); j++)
                    result->waterplane_second[i][j] += ih * second[a][b] * axes[a][i] * axes[b][j];
        }
    result->waterplane_moment = (dd_vec3){moment[0], moment[1], moment[2]};
}
