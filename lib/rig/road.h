/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statics of vehicle and loaded trailer standing on a road: what the weighbridge would show. */
#ifndef DD_RIG_ROAD_H
#define DD_RIG_ROAD_H
#include <drawdock/rig.h>
#include "lib/base/vector.h"

/* Loads on level ground. Forces in N, masses in kg. */
typedef struct dd_road_loads {
    double aggregate_mass;     /* of trailer and all it carries */
    double axle_group;         /* on the trailer's wheels when coupled */
    double coupling;           /* on the ball, down > 0 */
    double axle[DD_AXLES];     /* each axle, as its suspension shares them */
    double wheel[DD_AXLES][2]; /* port, starboard */
    double vehicle_front, vehicle_rear; /* axles of the vehicle with the coupling load on its ball */
    double vehicle_mass, combination_mass; /* of the vehicle with the coupling load on it; of vehicle and trailer */
    double coupling_height;    /* of the ball under this load, m */
    double trailer_pitch;      /* nose down > 0, rad: the trailer does not stand level on a ball that is too low */
} dd_road_loads;

/* Vehicle and trailer coupled and at rest on level ground, the load fixed in the trailer frame (X behind the coupling, y > 0 to
   starboard, Z up from the coupling with the trailer level). The ball sinks by the vehicle's rear suspension, the trailer turns about
   it until its axles carry the rest, each by its own springs or all by beams of fixed shares (DD_SUSPENSION_...), what hangs below them beside; lengthwise as the
   forces of a run take it. Crosswise the load's y stands against the track, without the shift of a centre that leans over. A coupling
   load that lifts is a result. Errors: DD_ERROR_ARGUMENT: an axle that is not behind the coupling, masses whose centre is ahead of it
   or below the ground, a load so far aside that the trailer tips; DD_ERROR_NO_EQUILIBRIUM. */
dd_status dd_road_statics(const dd_vehicle_parameters *vehicle, const dd_trailer_parameters *trailer, double load_mass,
                          dd_vec3 load_centre, double gravity, dd_road_loads *loads, dd_error *error);
/* Shifts the trailer's own centre, where it is given, by what its axles' own masses do to it when all have gone aft by `aft`, m. */
void dd_trailer_carry_axles(dd_trailer_parameters *trailer, double aft);

/* Loads on the vehicle's front and rear axles, N: it stands up a slope of `angle`, drawn back along it by `pull` at its ball and pressed down
   there, square to it, by `coupling`. v: complete. */
void dd_vehicle_axle_loads(const dd_vehicle_parameters *v, double gravity, double angle, double pull, double coupling, double load[2]);

/* Statics on a slope of a rig whose geometry is rigid (derivation in road_slope.c): N; angle > 0: the vehicle stands up the slope. */
typedef struct dd_standing {
    double front, rear, trailer; /* loads of the vehicle's axles and of the trailer's axles together */
    double coupling;             /* on the ball, square to the slope */
    double pull;                 /* of the ball on the trailer, up along the slope towards the vehicle */
    double need;                 /* what the vehicle's tyres must give, up the slope */
} dd_standing;
/* held: what the trailer's own wheels or chocks give towards the vehicle. lift NaN: the coupling carries what it does; else that load. */
dd_standing dd_stand_on(const dd_vehicle_parameters *v, const dd_trailer_parameters *loaded, double gravity, double angle, double held,
                        double lift);
#endif
