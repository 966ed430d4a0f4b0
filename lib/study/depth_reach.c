/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far a rig reaches past the end of the slab (P242): its rearmost wheels, skeg and propeller where the engine goes down or up, and the wash of
   an engine that drives it on.

   The wash is a free jet along the axis: u(x, r) = 2.8 U0 (D0 / x) exp(-15.7 (r / x)^2), D0 = 0.71 D the contracted slipstream and U0 = sqrt(T /
   (rho pi D0^2 / 4)) its speed by momentum theory. Over ground h below the axis that is greatest where d/dx is 0: x = h sqrt(2 15.7) = 5.6 h,
   and u there = 2.8 exp(-1/2) / sqrt(2 15.7) U0 D0 / h = 0.303 U0 D0 / h. Ground, hull and surface do not bound the jet here. */
#include "lib/force/thrust.h"
#include "lib/shore/shore.h"
#include "lib/study/depth.h"
#include <math.h>

static const double contraction = 0.71, spread = 15.7, decay = 2.8;
enum { PASSES = 12 }; /* over ground that slopes: each settles a digit or so */

dd_depth_wash dd_depth_wash_of(double thrust, double diameter, double density, double x, double z, const dd_ramp *ramp)
{
    const double slipstream = contraction * diameter, along = sqrt(2 * spread);
    const double speed = sqrt(fmax(0.0, thrust) / (density * atan(1.0) * slipstream * slipstream));
    double at = x, height = NAN;
    for (int i = 0; i < PASSES; i++) {
        height = fmax(0.5 * diameter, z - dd_ramp_at(ramp, at).z);
        at = x + along * height;
    }
    return (dd_depth_wash){at, fmin(speed, decay * exp(-0.5) / along * speed * slipstream / height)};
}

dd_depth_reach dd_depth_reach_of(const dd_depth *d, const dd_depth_place *place)
{
    const double toe = dd_ramp_toe(d->m->ramp);
    dd_depth_reach r = {.level = d->level, .wheel = NAN, .skeg = NAN, .skeg_z = NAN, .clearance = NAN, .wash = {NAN, NAN}};
    if (!isfinite(toe)) return r;
    r.wheel = place->look.rolls_back - place->look.seen.v[DD_SEEN_TOE_DISTANCE];
    if (!isfinite(place->slide.skeg)) return r;
    r.skeg = place->slide.skeg_at.x - toe;
    r.skeg_z = place->slide.skeg_at.z;
    r.clearance = place->slide.skeg;
    const dd_system_force *engine = dd_system_find(d->m->system, &dd_force_thrust);
    if (engine == NULL || d->way.launch || !d->way.engine) return r;
    const dd_propeller p = dd_thrust_propeller(engine->instance);
    r.wash = dd_depth_wash_of(d->way.throttle * p.thrust, p.diameter, d->m->model.water.density, place->slide.propeller.x, place->slide.propeller.z, d->m->ramp);
    r.wash.x -= toe;
    return r;
}
