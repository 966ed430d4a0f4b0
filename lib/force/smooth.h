/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Once continuously differentiable steps and ramps, each with its slope, so that K and D of a force stay exact. */
#ifndef DD_FORCE_SMOOTH_H
#define DD_FORCE_SMOOTH_H
#include <math.h>

typedef struct dd_smooth {
    double value, slope, curvature;
} dd_smooth;

/* 0 for x <= 0, 1 for x >= 1, the cubic 3 x^2 - 2 x^3 between. */
static inline dd_smooth dd_smooth_step(double x)
{
    if (x <= 0) return (dd_smooth){0, 0, 0};
    if (x >= 1) return (dd_smooth){1, 0, 0};
    return (dd_smooth){x * x * (3 - 2 * x), 6 * x * (1 - x), 6 - 12 * x};
}

/* max(x, 0) with a parabola over |x| < width: exact beyond. */
static inline dd_smooth dd_smooth_positive(double x, double width)
{
    if (x >= width) return (dd_smooth){x, 1, 0};
    if (x <= -width) return (dd_smooth){0, 0, 0};
    return (dd_smooth){(x + width) * (x + width) / (4 * width), (x + width) / (2 * width), 1 / (2 * width)};
}

/* |x| less at most width: zero, with zero slope, at x = 0. */
static inline dd_smooth dd_smooth_absolute(double x, double width)
{
    double root = sqrt(x * x + width * width);
    return (dd_smooth){x * x / (root + width), x / root, width * width / (root * root * root)};
}

/* 1 up to over = 0, 0 from over = width; sign: of the slope of `over` by what is varied. */
static inline dd_smooth dd_smooth_fade(double over, double sign, double width)
{
    dd_smooth s = dd_smooth_step(1 - over / width);
    s.slope *= -sign / width;
    s.curvature /= width * width;
    return s;
}

/* Change of step(sum / least) part / sum, what one part holds of what all hold that share `sum`, by changes of both. */
static inline double dd_smooth_share_change(double sum, double least, double part, double sum_change, double part_change)
{
    const dd_smooth held = dd_smooth_step(sum / least);
    if (!(sum > 0)) return 0;
    return held.slope * sum_change / least * part / sum + held.value * (part_change - part * sum_change / sum) / sum;
}
#endif
