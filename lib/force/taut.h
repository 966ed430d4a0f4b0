/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What strap, chain and ties share: the tension of a line that pulls only, and the line between trailer and hull.

   Tension T = T_s (1 + r), never negative: T_s = k S(x) with x the stretch, S a parabola over |x| < 0.5 mm and x beyond;
   r = time x' g / S with g a smooth step over the same toe, so the damping acts only on a taut line and starts with a
   finite share of T_s. Energy k times the integral of S. */
#ifndef DD_FORCE_TAUT_H
#define DD_FORCE_TAUT_H
#include "lib/force/force.h"
#include "lib/force/smooth.h"

typedef struct dd_taut {
    double stretch, integral;     /* S, and its integral from slack: m, m2 */
    double energy;                /* k integral */
    double elastic, factor;       /* T_s, 1 + r */
    double tension, by_stretch, by_rate, by_time; /* at constant stiffness */
} dd_taut;
/* time: damping over stiffness, s. All zero for a slack line. */
dd_taut dd_taut_at(double stiffness, double time, double stretch, double rate);

/* A straight line from a point of the trailer to a point of the hull, boat axes. */
typedef struct dd_span {
    dd_vec3 hull, trailer, along, linear, angular; /* along: unit vector from the trailer's point to the hull's */
    double distance, rate;                         /* m, m/s */
} dd_span;
dd_span dd_span_of(const dd_kinematics *kinematics, dd_vec3 hull_point, dd_vec3 trailer_point);
/* Adds the pull of a tension on the hull, and its K and D for a tension that changes with the span's distance and rate. */
void dd_span_pull(const dd_span *span, double tension, double wrench[6]);
void dd_span_gradient(const dd_span *span, double tension, double by_distance, double by_rate, dd_gradient *gradient);
#endif
