/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/force/taut.h"

static const double toe = 5e-4;           /* half width, m */
static const double clamp_rounding = 0.2; /* of the tension's clamp at zero, share of T_s */

/* g / S: share of the damping over the smooth stretch, and its slope. */
static dd_smooth damping_over_stretch(double x)
{
    if (x < toe) return (dd_smooth){(3 - (x + toe) / toe) / toe, -1 / (toe * toe), 0};
    return (dd_smooth){1 / x, -1 / (x * x), 0};
}

dd_taut dd_taut_at(double stiffness, double time, double x, double rate)
{
    dd_taut t = {0};
    dd_smooth smooth = dd_smooth_positive(x, toe);
    if (smooth.value <= 0) return t;
    t.stretch = smooth.value;
    t.integral = x < toe ? (x + toe) * (x + toe) * (x + toe) / (12 * toe) : 0.5 * x * x + toe * toe / 6;
    t.energy = stiffness * t.integral;
    t.elastic = stiffness * smooth.value;
    dd_smooth share = damping_over_stretch(x);
    dd_smooth factor = dd_smooth_positive(1 + time * rate * share.value, clamp_rounding);
    t.factor = factor.value;
    t.tension = t.elastic * factor.value;
    t.by_stretch = stiffness * smooth.slope * factor.value + t.elastic * factor.slope * time * rate * share.slope;
    t.by_rate = t.elastic * factor.slope * time * share.value;
    t.by_time = t.elastic * factor.slope * rate * share.value;
    return t;
}

dd_span dd_span_of(const dd_kinematics *k, dd_vec3 hull_point, dd_vec3 trailer_point)
{
    const double *twist = k->relative_twist;
    dd_span s = {.hull = hull_point};
    s.linear = dd_vec(twist[0], twist[1], twist[2]);
    s.angular = dd_vec(twist[3], twist[4], twist[5]);
    s.trailer = dd_apply_transposed(&k->to_trailer, dd_sub(trailer_point, k->pose.position));
    dd_vec3 line = dd_sub(s.hull, s.trailer);
    s.distance = fmax(dd_norm(line), 1e-6); /* both ends in one place: no direction */
    s.along = dd_scale(1 / s.distance, line);
    s.rate = dd_dot(s.along, dd_add(s.linear, dd_cross(s.angular, s.hull)));
    return s;
}

void dd_span_pull(const dd_span *span, double tension, double wrench[6])
{
    dd_wrench_add(wrench, dd_scale(-tension, span->along), span->hull);
}

/* Change of the force on the hull by a change of the trailer's point and of the twist. */
static dd_vec3 vary(const dd_span *s, double tension, double by_distance, double by_rate, dd_vec3 moved, dd_vec3 linear,
                    dd_vec3 angular)
{
    dd_vec3 line = dd_scale(-1, moved);
    double distance = dd_dot(s->along, line);
    dd_vec3 along = dd_scale(1 / s->distance, dd_sub(line, dd_scale(distance, s->along)));
    dd_vec3 u = dd_add(s->linear, dd_cross(s->angular, s->hull)), du = dd_add(linear, dd_cross(angular, s->hull));
    double rate = dd_dot(along, u) + dd_dot(s->along, du);
    double change = by_distance * distance + by_rate * rate;
    return dd_sub(dd_scale(-change, s->along), dd_scale(tension, along));
}

void dd_span_gradient(const dd_span *s, double tension, double by_distance, double by_rate, dd_gradient *gradient)
{
    const dd_vec3 zero = {0, 0, 0};
    for (int j = 0; j < 6; j++) {
        dd_vec3 e = dd_vec(j % 3 == 0, j % 3 == 1, j % 3 == 2);
        dd_vec3 shift = j < 3 ? dd_scale(-1, e) : dd_cross(s->trailer, e);
        double moved[6] = {0}, faster[6] = {0};
        dd_wrench_add(moved, vary(s, tension, by_distance, by_rate, shift, zero, zero), s->hull);
        dd_wrench_add(faster, vary(s, tension, by_distance, by_rate, zero, j < 3 ? e : zero, j < 3 ? zero : e), s->hull);
        for (int i = 0; i < 6; i++) {
            gradient->K[i][j] -= moved[i];
            gradient->D[i][j] -= faster[i];
        }
    }
}
