/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The vehicle's body on the springs and dampers of its two axles, front and rear. */
#ifndef DD_RIG_RIDE_H
#define DD_RIG_RIDE_H
#include <drawdock/rig.h>

typedef struct dd_vehicle_ride {
    double stiffness[2], damping[2]; /* springs and tyres of each axle together, N/m; N s/m */
    double standing[2];              /* loads of the axles on level ground without a trailer, N */
} dd_vehicle_ride;

/* v: complete. The front by its own squash; the rear so that the ball sinks as far as "rear suspension squash" says: a load P on the ball, b
   behind the rear axle, sinks it by P ((l + b)^2/k_rear + b^2/k_front)/l^2. Where the front alone would take more than half of that it is
   made as stiff as half asks. */
dd_vehicle_ride dd_vehicle_ride_of(const dd_vehicle_parameters *vehicle, double gravity);

/* An axle (0 front, 1 rear) ahead of the centre of mass, m. */
static inline double dd_vehicle_ride_arm(const dd_vehicle_parameters *v, int axle)
{
    return axle == 0 ? v->centre_behind_front_axle : v->centre_behind_front_axle - v->wheelbase;
}
#endif
