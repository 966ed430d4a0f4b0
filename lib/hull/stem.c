/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The line of keel and stem as one curve in the middle plane: the keel line up to `turn`, a bend of about the radius `rounding` that ends
   upright at the end of the lines, and the stem straight up from there. Tangent and curvature are continuous: where the curvature jumps, a
   bow that slides along its stop comes to a place where no search finds its balance. */
#include <math.h>
#include "lib/base/vector.h"
#include "lib/hull/lines.h"
#include "lib/ode/ode.h"

static const double rounding = 0.04; /* where the keel line turns into an upright stem, m */

/* The polynomial of the fifth degree over 0 to 1 of `length` with the values, slopes and curvatures of both ends. Between keel and stem
   it bends one way everywhere, by 1.5 / rounding at most. */
static void blend(const double from[3], const double to[3], double length, double c[6])
{
    c[0] = from[0];
    c[1] = from[1] * length;
    c[2] = 0.5 * from[2] * length * length;
    const double a = to[0] - c[0] - c[1] - c[2], b = to[1] * length - c[1] - 2 * c[2], d = to[2] * length * length - 2 * c[2];
    c[3] = 10 * a - 4 * b + 0.5 * d;
    c[4] = -15 * a + 7 * b - d;
    c[5] = 6 * a - 3 * b + 0.5 * d;
}

/* How far an arc that begins at x reaches beyond the end of the lines. */
static double reaches_beyond(double x, void *hull)
{
    double first, last;
    dd_hull_extent(hull, &first, &last);
    return x + rounding * (1 - sin(atan(dd_hull_keel(hull, x).zx))) - last;
}

dd_stem_line dd_hull_stem_line(const dd_hull *hull)
{
    double first, last, y[DD_STRAKES + 3], z[DD_STRAKES + 3];
    dd_hull_extent(hull, &first, &last);
    double low = fmax(first, last - 2 * rounding);
    const double root = dd_ode_root(reaches_beyond, (void *)hull, low, last, 0); /* the arc's own reach is the rest of the length */
    if (!isnan(root)) low = root;
    dd_stem_line l = {.first = first, .turn = low, .end = last};
    const dd_bottom_point keel = dd_hull_keel(hull, low);
    const double angle = atan(keel.zx);
    l.speed = sqrt(1 + keel.zx * keel.zx);
    l.upright = low + rounding * (0.5 * M_PI - angle) / l.speed;
    const int count = dd_hull_section(hull, last, y, z);
    l.foot_of_stem = keel.z + rounding * cos(angle);
    l.head = fmax(z[count - 1], l.foot_of_stem);
    const double x[2][3] = {{l.turn, 1, 0}, {l.end, 0, 0}}, up[2][3] = {{keel.z, keel.zx, keel.zxx}, {l.foot_of_stem, l.speed, 0}};
    blend(x[0], x[1], l.upright - l.turn, l.bend_x);
    blend(up[0], up[1], l.upright - l.turn, l.bend_z);
    return l;
}

/* Value and two derivatives by u, as GSL's function for any degree reckons them: this is the innermost loop of the bow stop. */
static inline void derive(const double c[6], double u, double value[3])
{
    const double v4 = u * c[5] + c[4], v3 = u * v4 + c[3], v2 = u * v3 + c[2], v1 = u * v2 + c[1];
    const double first4 = u * c[5] + v4, first3 = u * first4 + v3, first2 = u * first3 + v2;
    value[0] = u * v1 + c[0];
    value[1] = u * first2 + v1;
    value[2] = 2 * (u * (u * (u * c[5] + first4) + first3) + first2);
}

dd_line_place dd_hull_on_stem_line(const dd_hull *hull, const dd_stem_line *l, double s)
{
    if (s <= l->turn) {
        const dd_bottom_point keel = dd_hull_keel_shape(hull, s);
        return (dd_line_place){dd_vec(s, 0, keel.z), dd_vec(1, 0, keel.zx), dd_vec(0, 0, keel.zxx)};
    }
    if (s >= l->upright) return (dd_line_place){dd_vec(l->end, 0, l->foot_of_stem + l->speed * (s - l->upright)), dd_vec(0, 0, l->speed), {0, 0, 0}};
    const double length = l->upright - l->turn, u = (s - l->turn) / length;
    double x[3], z[3];
    derive(l->bend_x, u, x);
    derive(l->bend_z, u, z);
    return (dd_line_place){dd_vec(x[0], 0, z[0]), dd_vec(x[1] / length, 0, z[1] / length),
                           dd_vec(x[2] / (length * length), 0, z[2] / (length * length))};
}

double dd_hull_stem_line_at_height(const dd_stem_line *l, double z) { return l->upright + (z - l->foot_of_stem) / l->speed; }
