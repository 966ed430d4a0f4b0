/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The line of keel and stem as one curve in the middle plane: the keel line up to `turn`, a bend of about the radius `rounding` that ends
   upright at the end of the lines, and the stem straight up from there. Tangent and curvature are continuous: where the curvature jumps, a
   bow that slides along its stop comes to a place where no search finds its balance. */
#include <math.h>
#include "lib/base/vector.h"
#include "lib/hull/lines.h"

static const double rounding = 0.04; /* where the keel line turns into an upright stem, m */

dd_stem_line dd_hull_stem_line(const dd_hull *hull)
{
    double first, last, y[DD_STRAKES + 3], z[DD_STRAKES + 3];
    dd_hull_extent(hull, &first, &last);
    double low = fmax(first, last - 2 * rounding), high = last;
    for (int i = 0; i < 60; i++) { /* the arc's own reach is the rest of the length; it falls short of it at `low` */
        const double middle = 0.5 * (low + high);
        if (middle + rounding * (1 - sin(atan(dd_hull_keel(hull, middle).zx))) < last)
            low = middle;
        else
            high = middle;
    }
    dd_stem_line l = {.first = first, .turn = low, .end = last};
    const dd_bottom_point keel = dd_hull_keel(hull, low);
    l.angle = atan(keel.zx);
    l.speed = sqrt(1 + keel.zx * keel.zx);
    l.upright = low + rounding * (0.5 * M_PI - l.angle) / l.speed;
    const int count = dd_hull_section(hull, last, y, z);
    l.foot_of_stem = keel.z + rounding * cos(l.angle);
    l.head = fmax(z[count - 1], l.foot_of_stem);
    return l;
}

typedef struct along {
    double value, slope, curvature;
} along;

/* The polynomial of the fifth degree with the values, slopes and curvatures of both ends, at u from 0 to 1 of their distance. Between keel
   and stem it bends one way everywhere, by 1.5 / rounding at most. */
static along blend(along from, along to, double length, double u)
{
    const double c1 = from.slope * length, c2 = 0.5 * from.curvature * length * length;
    const double a = to.value - from.value - c1 - c2, b = to.slope * length - c1 - 2 * c2, c = to.curvature * length * length - 2 * c2;
    const double c3 = 10 * a - 4 * b + 0.5 * c, c4 = -15 * a + 7 * b - c, c5 = 6 * a - 3 * b + 0.5 * c;
    return (along){from.value + u * (c1 + u * (c2 + u * (c3 + u * (c4 + u * c5)))),
                   (c1 + u * (2 * c2 + u * (3 * c3 + u * (4 * c4 + u * 5 * c5)))) / length,
                   (2 * c2 + u * (6 * c3 + u * (12 * c4 + u * 20 * c5))) / (length * length)};
}

dd_line_place dd_hull_on_stem_line(const dd_hull *hull, const dd_stem_line *l, double s)
{
    if (s <= l->turn) {
        const dd_bottom_point keel = dd_hull_keel(hull, s);
        return (dd_line_place){dd_vec(s, 0, keel.z), dd_vec(1, 0, keel.zx), dd_vec(0, 0, keel.zxx)};
    }
    if (s >= l->upright) return (dd_line_place){dd_vec(l->end, 0, l->foot_of_stem + l->speed * (s - l->upright)), dd_vec(0, 0, l->speed), {0, 0, 0}};
    const dd_bottom_point keel = dd_hull_keel(hull, l->turn);
    const double length = l->upright - l->turn, u = (s - l->turn) / length;
    const along x = blend((along){l->turn, 1, 0}, (along){l->end, 0, 0}, length, u);
    const along z = blend((along){keel.z, keel.zx, keel.zxx}, (along){l->foot_of_stem, l->speed, 0}, length, u);
    return (dd_line_place){dd_vec(x.value, 0, z.value), dd_vec(x.slope, 0, z.slope), dd_vec(x.curvature, 0, z.curvature)};
}

double dd_hull_stem_line_at_height(const dd_stem_line *l, double z) { return l->upright + (z - l->foot_of_stem) / l->speed; }
