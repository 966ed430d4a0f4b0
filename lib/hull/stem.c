/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The line of keel and stem as one curve in the middle plane: the keel line up to `turn`, an arc of radius `rounding` that ends
   upright at the end of the lines, and the stem straight up from there. The tangent is continuous, its length too. */
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

dd_line_place dd_hull_on_stem_line(const dd_hull *hull, const dd_stem_line *l, double s)
{
    if (s <= l->turn) {
        const dd_bottom_point keel = dd_hull_keel(hull, s);
        return (dd_line_place){dd_vec(s, 0, keel.z), dd_vec(1, 0, keel.zx), dd_vec(0, 0, keel.zxx)};
    }
    if (s >= l->upright) return (dd_line_place){dd_vec(l->end, 0, l->foot_of_stem + l->speed * (s - l->upright)), dd_vec(0, 0, l->speed), {0, 0, 0}};
    const double turning = l->speed / rounding, angle = l->angle + turning * (s - l->turn), c = cos(angle), n = sin(angle);
    return (dd_line_place){dd_vec(l->end - rounding * (1 - n), 0, l->foot_of_stem - rounding * c), dd_vec(l->speed * c, 0, l->speed * n),
                           dd_scale(l->speed * turning, dd_vec(-n, 0, c))};
}

double dd_hull_stem_line_at_height(const dd_stem_line *l, double z) { return l->upright + (z - l->foot_of_stem) / l->speed; }
