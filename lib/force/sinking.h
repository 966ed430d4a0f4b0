/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What soft ground makes of a wheel over time: resistance, creep in the wash, the rut (soil.h). Wheels sink in by the ground's own
   figure times their load at once, and while they stand in the wash by its rate (slower the nearer to half the wheel's radius), which
   distance rolled undoes over DD_ROLLED_OUT. A load that falls leaves them in their rut, until they have rolled out of it. The ground's
   resultant then acts half the contact's length ahead: rolling resistance grows by sqrt(z / 2R), rounded over a hundredth of z / 2R at 0. */
#ifndef DD_FORCE_SINKING_H
#define DD_FORCE_SINKING_H
#include "lib/force/jet.h"
#include "lib/force/smooth.h"
#include "lib/force/soil.h"

#define DD_ROLLED_OUT 0.15    /* m: half the length of a tyre's contact in soft ground */
#define DD_SUNK_ROUNDING 0.01 /* of z / 2R, under the root */
#define DD_RUT_TIME 0.1       /* s: over which a rut follows a greater load; the wheel itself sinks at once */
#define DD_CRAWL 1e-3         /* m/s: below it a wheel stands */

typedef struct dd_sinking {
    double depth;
    dd_jet resistance; /* share of the load, added to rolling resistance */
    double resistance_by_load, resistance_by_stood, resistance_by_rut;
    dd_jet stood_rate, rut_rate; /* of what is remembered, m/s */
    double stood_rate_by_stood, rut_rate_by_rut;
} dd_sinking;

/* rate: how fast it sinks on there, per load of what stands on it, m/s/N; stood, rut: as remembered, which may be a rounding below 0. */
static inline dd_sinking dd_sinking_of(const dd_soil *soil, dd_jet load, dd_jet foot, dd_jet speed, dd_jet rate, double radius, double stood, double rut)
{
    const dd_sunk z = dd_soil_at(soil, load.v);
    const dd_jet depth = dd_jet_apply2(load, foot, z.depth, z.by_load, z.by_give * soil->give_by_x);
    const double most = 0.5 * radius, u = z.depth / (2 * radius);
    const double root = sqrt(u + DD_SUNK_ROUNDING * DD_SUNK_ROUNDING), slope = 0.5 / root / (2 * radius);
    dd_sinking s = {.depth = z.depth,
                    .resistance = dd_jet_apply(depth, root - DD_SUNK_ROUNDING, slope),
                    .resistance_by_load = slope * z.by_load,
                    .resistance_by_stood = stood > 0 ? slope : 0,
                    .resistance_by_rut = rut > 0 ? slope * z.by_rut : 0};
    const double left = 1 - fmin(fmax(stood, 0) / most, 1);
    const dd_smooth rolled = dd_smooth_absolute(speed.v, DD_CRAWL);
    s.stood_rate = dd_jet_sub(dd_jet_scale(left, dd_jet_mul(rate, load)), dd_jet_apply(speed, rolled.value * stood / DD_ROLLED_OUT, rolled.slope * stood / DD_ROLLED_OUT));
    s.stood_rate_by_stood = (stood > 0 && left > 0 ? -rate.v * load.v / most : 0) - rolled.value / DD_ROLLED_OUT;
    /* The rut follows a load that it has not borne, and what is left of it when the load is less rolls out. */
    const double borne = load.v - DD_SOIL_ROUNDING, rounding = DD_SOIL_ROUNDING * soil->give, lacks = soil->give * borne - rut;
    if (lacks > 0) {
        const double share = lacks / (lacks + rounding), follows = share * (2 - share) / DD_RUT_TIME;
        const double by_give = follows * borne - share * share * DD_SOIL_ROUNDING / DD_RUT_TIME;
        s.rut_rate = dd_jet_apply2(load, foot, lacks * share / DD_RUT_TIME, follows * soil->give, by_give * soil->give_by_x);
        s.rut_rate_by_rut = -follows;
    } else {
        const dd_jet left_there = dd_jet_apply2(load, foot, lacks, soil->give, borne * soil->give_by_x);
        s.rut_rate = dd_jet_mul(dd_jet_apply(speed, rolled.value / DD_ROLLED_OUT, rolled.slope / DD_ROLLED_OUT), left_there);
        s.rut_rate_by_rut = -rolled.value / DD_ROLLED_OUT;
    }
    return s;
}
#endif
