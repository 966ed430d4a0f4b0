/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bottom as a graph z(X, y) for contact: the panels between keel, strakes and chine, the same lines as for
   buoyancy. Two small departures, so that a support sees no jump: the crease at a strake is rounded over 2 x 5 mm,
   and a panel narrower than 2 mm is widened (a vertical strake face becomes a steep one, the stem a blunt one). */
#include <math.h>
#include "lib/hull/lines.h"

static const double crease = 5e-3;      /* half the breadth of the rounding at a strake, m */
static const double narrow = 1e-3;      /* least breadth of a panel, m; from twice that on it is as drawn */
static const double fade_ends = 25e-3;  /* cover fades over this at transom and stem, m */
static const double fade_chine = 15e-3; /* and this to both sides of the chine, m */
/* Half breadth at which the bottom has become the stem: its panels stand upright there, and no point of theirs is the
   nearest one of a roller under the boat. Cover fades from twice that breadth on; the keel line goes on. */
static const double stem = 0.1; /* m */
static const double upright = 0.04; /* radius over which the stem turns upright beyond the end of the lines, m */

/* A quantity that depends on X, with its derivatives. */
typedef struct along {
    double v, x, xx;
} along;

static inline along along_sub(along a, along b) { return (along){a.v - b.v, a.x - b.x, a.xx - b.xx}; }
static inline along along_ratio(along a, along b)
{
    along r;
    r.v = a.v / b.v;
    r.x = (a.x - r.v * b.x) / b.v;
    r.xx = (a.xx - 2 * r.x * b.x - r.v * b.xx) / b.v;
    return r;
}

/* Breadth of a panel, kept above `narrow`: C1. */
static inline along panel_breadth(along d)
{
    if (d.v >= 2 * narrow)
        return d;
    if (d.v <= 0)
        return (along){narrow, 0, 0};
    double slope = d.v / (2 * narrow);
    return (along){narrow + d.v * d.v / (4 * narrow), slope * d.x, slope * d.xx + d.x * d.x / (2 * narrow)};
}

/* Smooth step from 0 at -half to 1 at half. */
static inline double step(double q, double half, double *slope)
{
    double t = 0.5 * (q / half + 1);
    *slope = 0;
    if (t <= 0)
        return 0;
    if (t >= 1)
        return 1;
    *slope = 3 * t * (1 - t) / half;
    return t * t * (3 - 2 * t);
}

/* Cover along X: 0 at the ends, 1 from fade_ends inside. */
static double end_cover(const dd_hull *hull, double x, double *slope)
{
    double half = 0.5 * fade_ends, first = hull->at[0], last = hull->at[hull->stations - 1], sa, sb;
    double a = step(x - first - half, half, &sa), b = step(last - x - half, half, &sb);
    *slope = sa * b - a * sb;
    return a * b;
}

static inline double clamp_to_lines(const dd_hull *hull, double x)
{
    const double first = hull->at[0], last = hull->at[hull->stations - 1];
    return x < first ? first : x > last ? last : x;
}

static inline void add_crease(dd_bottom_point *p, along change, along at, double y)
{
    double q = y - at.v, ramp, first, second;
    if (q <= -crease)
        return;
    if (q < crease) {
        const double u = q / crease, square = u * u; /* C2: second derivative a parabola that ends at 0 */
        ramp = crease * (3 + 8 * u + 6 * square - square * square) / 16;
        first = (2 + 3 * u - u * square) / 4;
        second = 3 * (1 - square) / (4 * crease);
    } else {
        ramp = q;
        first = 1;
        second = 0;
    }
    p->z += change.v * ramp;
    p->zx += change.x * ramp - change.v * first * at.x;
    p->zy += change.v * first;
    p->zxx += change.xx * ramp - 2 * change.x * first * at.x - change.v * first * at.xx + change.v * second * at.x * at.x;
    p->zxy += change.x * first - change.v * second * at.x;
    p->zyy += change.v * second;
}

/* Cover of the side y >= 0 and its continuation: fades at the chine of either side. */
static void chine_cover(dd_bottom_point *p, along chine, double y, double along_x, double along_slope)
{
    double sa, sb, sc, a = step(chine.v - y, fade_chine, &sa), b = step(chine.v + y, fade_chine, &sb);
    const double before_stem = step(chine.v - 1.5 * stem, 0.5 * stem, &sc);
    along_slope = along_slope * before_stem + along_x * sc * chine.x;
    along_x *= before_stem;
    p->cover = along_x * a * b;
    p->cover_x = along_slope * a * b + along_x * (sa * b + a * sb) * chine.x;
    p->cover_y = along_x * (a * sb - sa * b);
}

/* +1 or -1: the side that is meant. */
static inline double sign_of(double y, int side) { return side > 0 || (side == 0 && y >= 0) ? 1 : -1; }

void dd_hull_bottom_shape(const dd_hull *hull, double x, double y, int side, dd_bottom_point *p)
{
    const double inside = clamp_to_lines(hull, x), sign = sign_of(y, side);
    const int bay = dd_lines_bay(hull, inside), chine = hull->points - 2;
    const double t = inside - hull->at[bay], across = sign * y;
    const dd_line_point keel = dd_lines_point(hull, bay, 0, t);
    dd_line_point l = dd_lines_point(hull, bay, 1, t);
    along line_y = {l.y, l.yx, l.yxx}, line_z = {l.z, l.zx, l.zxx};
    along knot = panel_breadth(along_sub(line_y, (along){keel.y, keel.yx, keel.yxx}));
    along slope = along_ratio(along_sub(line_z, (along){keel.z, keel.zx, keel.zxx}), knot);
    /* the panel at the keel runs on straight, to both sides */
    *p = (dd_bottom_point){.z = keel.z + slope.v * across, .zx = keel.zx + slope.x * across, .zxx = keel.zxx + slope.xx * across,
                           .zy = slope.v, .zxy = slope.x};
    for (int j = 2; j <= chine && across - knot.v > -crease; j++) { /* panels further out do not reach here */
        l = dd_lines_point(hull, bay, j, t);
        const along next_y = {l.y, l.yx, l.yxx}, next_z = {l.z, l.zx, l.zxx};
        const along breadth = panel_breadth(along_sub(next_y, line_y)), next_slope = along_ratio(along_sub(next_z, line_z), breadth);
        add_crease(p, along_sub(next_slope, slope), knot, across);
        knot = (along){knot.v + breadth.v, knot.x + breadth.x, knot.xx + breadth.xx};
        slope = next_slope;
        line_y = next_y;
        line_z = next_z;
    }
    if (x != inside) { /* straight on beyond the ends */
        p->z += p->zx * (x - inside);
        p->zy += p->zxy * (x - inside);
        p->zxx = 0;
    }
    p->zy *= sign;
    p->zxy *= sign;
}

void dd_hull_bottom_cover(const dd_hull *hull, double x, double y, int side, dd_bottom_point *p)
{
    const double inside = clamp_to_lines(hull, x), sign = sign_of(y, side);
    const int bay = dd_lines_bay(hull, inside);
    const double t = inside - hull->at[bay];
    along line = {0, 0, 0}, knot = {0, 0, 0};
    for (int j = 0; j <= hull->points - 2; j++) {
        const dd_line_point l = dd_lines_point(hull, bay, j, t);
        const along next = {l.y, l.yx, 0}, breadth = panel_breadth(along_sub(next, line));
        if (j > 0) knot = (along){knot.v + breadth.v, knot.x + breadth.x, 0};
        line = next;
    }
    double along_slope, along_x = end_cover(hull, x, &along_slope);
    chine_cover(p, knot, sign * y, along_x, along_slope);
    p->cover_y *= sign;
}

dd_bottom_point dd_hull_bottom(const dd_hull *hull, double x, double y, int side)
{
    dd_bottom_point p;
    dd_hull_bottom_shape(hull, x, y, side, &p);
    dd_hull_bottom_cover(hull, x, y, side, &p);
    return p;
}

dd_bottom_point dd_hull_keel_shape(const dd_hull *hull, double x)
{
    const double inside = clamp_to_lines(hull, x);
    const int bay = dd_lines_bay(hull, inside);
    dd_line_point l = dd_lines_point(hull, bay, 0, inside - hull->at[bay]);
    dd_bottom_point p = {.z = l.z, .zx = l.zx, .zxx = l.zxx};
    if (x != inside) {
        p.z += p.zx * (x - inside);
        p.zxx = 0;
    }
    return p;
}

dd_bottom_point dd_hull_keel(const dd_hull *hull, double x)
{
    dd_bottom_point p = dd_hull_keel_shape(hull, x);
    p.cover = end_cover(hull, x, &p.cover_x);
    return p;
}

static dd_line_point chine_at(const dd_hull *hull, double x)
{
    const double inside = clamp_to_lines(hull, x);
    const int bay = dd_lines_bay(hull, inside);
    dd_line_point chine = dd_lines_point(hull, bay, hull->points - 2, inside - hull->at[bay]);
    if (x != inside) chine.yx = chine.yxx = 0;
    return chine;
}

dd_bottom_point dd_hull_stem(const dd_hull *hull, double x)
{
    dd_bottom_point p = dd_hull_keel(hull, x);
    const double beyond = x - hull->at[hull->stations - 1];
    if (beyond > 0) {
        p.z += beyond * beyond / (2 * upright);
        p.zx += beyond / upright;
        p.zxx = 1 / upright;
    }
    const dd_line_point chine = chine_at(hull, x);
    double slope;
    p.cover = 1 - step(chine.y - 1.5 * stem, 0.5 * stem, &slope);
    p.cover_x = -slope * chine.yx;
    return p;
}

dd_stem dd_hull_stem_figures(const dd_hull *hull)
{
    enum { PLACES = 400 };
    static const double least = 0.1, most = 1.4; /* rad */
    const double first = hull->at[0], last = hull->at[hull->stations - 1];
    dd_stem found = {-INFINITY, NAN};
    for (int i = PLACES; i >= 0 && found.from < first; i--) {
        const double x = first + (last - first) * i / PLACES;
        const dd_line_point chine = chine_at(hull, x);
        if (isnan(found.half_angle) && (chine.y >= 1.5 * stem || i == 0)) {
            const dd_bottom_point keel = dd_hull_keel(hull, x);
            found.half_angle = fmin(fmax(atan2(chine.y * sqrt(1 + keel.zx * keel.zx), chine.z - keel.z), least), most);
        }
        if (chine.y >= 2 * stem) found.from = x;
    }
    return found;
}

dd_topside_point dd_hull_topside(const dd_hull *hull, double x, double z)
{
    const double inside = clamp_to_lines(hull, x);
    const int bay = dd_lines_bay(hull, inside);
    const double t = inside - hull->at[bay];
    const dd_line_point c = dd_lines_point(hull, bay, hull->points - 2, t), s = dd_lines_point(hull, bay, hull->points - 1, t);
    const along breadth = {s.y - c.y, s.yx - c.yx, s.yxx - c.yxx};
    const along height = panel_breadth((along){s.z - c.z, s.zx - c.zx, s.zxx - c.zxx}), lean = along_ratio(breadth, height);
    const double up = z - c.z;
    dd_topside_point p = {.y = c.y + up * lean.v, .yz = lean.v, .yxz = lean.x, .chine = c.z};
    p.yx = c.yx - c.zx * lean.v + up * lean.x;
    p.yxx = c.yxx - c.zxx * lean.v - 2 * c.zx * lean.x + up * lean.xx;
    double sa, sb, along_slope, along_x = end_cover(hull, x, &along_slope);
    const double a = step(up, fade_chine, &sa), b = step(s.z - z, fade_chine, &sb);
    if (x != inside) { /* straight on beyond the ends */
        p.y += p.yx * (x - inside);
        p.yz += p.yxz * (x - inside);
        p.yxx = 0;
    }
    p.cover = along_x * a * b;
    p.cover_x = along_slope * a * b + along_x * (a * sb * s.zx - sa * b * c.zx);
    p.cover_z = along_x * (sa * b - a * sb);
    return p;
}

int dd_hull_section(const dd_hull *hull, double x, double y[DD_STRAKES + 3], double z[DD_STRAKES + 3])
{
    const double inside = clamp_to_lines(hull, x);
    const int bay = dd_lines_bay(hull, inside);
    dd_lines_section(hull, bay, inside - hull->at[bay], y, z);
    return hull->points;
}

void dd_hull_extent(const dd_hull *hull, double *first, double *last)
{
    *first = hull->at[0];
    *last = hull->at[hull->stations - 1];
}
