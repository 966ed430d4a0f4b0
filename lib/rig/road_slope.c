/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one statics of a rig on a slope whose geometry is rigid: holding, pulling out, swing; the vehicle's part also of the rig that stands level
   on its springs (road.c) and of the vehicle alone on its own (ride.c). A stop stands by its own forces (lib/study/brake_motion.c).

   Trailer, axles as one at their middle, L_t behind the coupling; centre d ahead of them and h_t up, coupling h_h up, S what its own wheels
   or chocks give up the slope; along the slope and about the axles' contact:
       pull = W_t sin - S,   coupling L_t = W_t cos d - W_t sin h_t + pull h_h.
   Vehicle, as Gillespie's axle loads with hitch forces (from memory) and road statics:
       L N_front = W cos (L - a1) - W sin h - coupling e - pull h_h,   N_rear = W cos + coupling - N_front,   need = W sin + pull. */
#include "lib/rig/road.h"
#include "lib/rig/rig.h"
#include <math.h>

void dd_vehicle_axle_loads(const dd_vehicle_parameters *v, double gravity, double angle, double pull, double coupling, double load[2])
{
    const double own = v->mass * gravity, c = cos(angle), s = sin(angle);
    load[0] = (own * c * (v->wheelbase - v->centre_behind_front_axle) - own * s * v->centre_height - coupling * v->coupling_behind_rear_axle -
               pull * v->coupling_height) / v->wheelbase;
    load[1] = own * c + coupling - load[0];
}

dd_standing dd_stand_on(const dd_vehicle_parameters *given, const dd_trailer_parameters *t, double g, double angle, double held, double lift)
{
    dd_vehicle_parameters v = *given;
    dd_vehicle_complete(&v);
    double load[2];
    const double axles = dd_axles_middle(t), w = t->mass * g, c = cos(angle), s = sin(angle);
    dd_standing z = {.pull = w * s - held};
    z.coupling = (w * c * (axles - t->centre_behind_coupling) - w * s * t->centre_above_ground + z.pull * v.coupling_height) / axles;
    if (!isnan(lift)) z.coupling = lift;
    z.trailer = w * c - z.coupling;
    dd_vehicle_axle_loads(&v, g, angle, z.pull, z.coupling, load);
    z.front = load[0];
    z.rear = load[1];
    z.need = v.mass * g * s + z.pull;
    return z;
}
