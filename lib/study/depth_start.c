/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rig started on the slope, in time: the brake is let off, and the driver drives it up (the law of lib/force/wheels_look.c). Until the wheels give what
   the slope wants it rolls back, and to catch it they give more. */
#include "lib/crew/actions.h"
#include "lib/force/smooth.h"
#include "lib/force/wheels_look.h"
#include "lib/study/depth.h"
#include <math.h>

static const double step = 2e-3, goes_on = 1.5; /* s; the latter: after the speed wanted is reached */

dd_depth_start dd_depth_start_up(const dd_depth *d, double mass, double along, double rolling, double brake)
{
    const dd_system_force *wheels = dd_system_find(d->m->system, &dd_force_wheels);
    dd_depth_start start = {.rolls = 0, .most = along + rolling};
    if (wheels == NULL || !(d->way.out_speed > 0)) return start;
    const dd_wheels_parameters *driver = &((const dd_wheels_instance *)wheels->instance)->parameters;
    const double takes = dd_speed_change(d->way.acceleration, 0, d->way.out_speed);
    double way = 0, speed = 0, correction = 0; /* seaward */
    for (int i = 0; i * step < fmax(takes, dd_brake_movement) + goes_on; i++) {
        const double t = i * step, off = dd_smooth_step(t / dd_brake_movement).value;
        const double wanted = -d->way.out_speed * dd_smooth_step(t / takes).value;
        const double given = mass * off / driver->response_time * (wanted - speed + correction), free = along + given, holds = (1 - off) * brake + rolling;
        correction += step * (off * (wanted - speed) / driver->correction_time - (1 - off) * correction / driver->response_time);
        start.most = fmax(start.most, -given);
        if (speed == 0 && fabs(free) <= holds) continue;
        const double next = speed + step / mass * (free - copysign(holds, speed != 0 ? speed : free));
        speed = next * speed < 0 ? 0 : next; /* friction turns no way round */
        way += step * speed;
        start.rolls = fmax(start.rolls, way);
    }
    return start;
}
