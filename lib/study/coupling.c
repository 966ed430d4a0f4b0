/* SPDX-License-Identifier: GPL-3.0-or-later */
/* M the whole, L the reach, X its centre behind the ball, C the load on it: C L = M (L - X). */
#include "lib/study/coupling.h"

double dd_centre_ahead_of_axle(double aggregate, double coupling, double reach) { return coupling * reach / aggregate; }

/* X stays: T L' = M (L' - X), so L' = M X/(M - T). */
double dd_axle_forward(double aggregate, double coupling, double reach, double target)
{
    const double centre = reach - dd_centre_ahead_of_axle(aggregate, coupling, reach);
    return reach - aggregate * centre / (aggregate - target);
}

/* M X falls by m y. */
double dd_load_forward(double coupling, double reach, double load, double target) { return (target - coupling) * reach / load; }
