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
    double vehicle_mass, combination_mass;
    double coupling_height;    /* of the ball under this load, m */
    double trailer_pitch;      /* nose down > 0, rad: the trailer does not stand level on a ball that is too low */
} dd_road_loads;
#endif
