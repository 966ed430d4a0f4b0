/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/rig/ride.h"
#include "lib/rig/road.h"
#include <math.h>

dd_vehicle_ride dd_vehicle_ride_of(const dd_vehicle_parameters *v, double gravity)
{
    dd_vehicle_ride ride;
    const double l = v->wheelbase, b = v->coupling_behind_rear_axle, sinks = v->rear_suspension_squash / v->rated_coupling_load;
    dd_vehicle_axle_loads(v, gravity, 0, 0, 0, ride.standing);
    ride.stiffness[0] = fmax(ride.standing[0] / v->braking.front_squash, 2 * b * b / (l * l * sinks));
    ride.stiffness[1] = (l + b) * (l + b) / (l * l * sinks - b * b / ride.stiffness[0]);
    for (int i = 0; i < 2; i++) ride.damping[i] = 2 * v->braking.ride_damping * sqrt(ride.stiffness[i] * ride.standing[i] / gravity);
    return ride;
}
