/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the wheels do at one state of the rig: shared by the force (wheels.c) and its formulas (wheels_look.c). */
#ifndef DD_FORCE_WHEELS_LOOK_H
#define DD_FORCE_WHEELS_LOOK_H
#include "lib/force/axles.h"
#include "lib/force/wheels.h"

#define DD_WHEELS_REFERENCE_LIMIT 0.6 /* friction coefficient at which the law's stiffness and damping hold as given */

enum { DD_VEHICLE_AXLES = 2, DD_WHEELED = DD_VEHICLE_AXLES + DD_AXLES };

typedef struct dd_wheels_instance {
    const dd_rig *rig;
    const dd_ramp *ramp;
    dd_wheels_parameters parameters;
    double gravity, mass; /* of everything that is driven, kg */
} dd_wheels_instance;

/* One axle of the vehicle (0 front, 1 rear) or of the trailer. */
typedef struct dd_wheeled {
    double foot;
    dd_jet load, speed, limit, friction; /* normal load; along the path, seaward; resistance limit and friction there */
    dd_jet column[DD_RIG_COORDINATES];   /* displacement along the path by each coordinate */
    dd_jet force;                        /* along the path, seaward */
    dd_bristle bristle;
} dd_wheeled;

typedef struct dd_wheels_state {
    int count;
    dd_wheeled at[DD_WHEELED];
    double correction_rate, correction_rate_by_speed, correction_rate_by_value;
    double thrust_by_correction[DD_VEHICLE_AXLES];
} dd_wheels_state;

void dd_wheels_look(const dd_wheels_instance *w, const dd_kinematics *k, const dd_commands *commands, const double *values,
                    dd_wheels_state *s);
/* The same without derivatives. */
void dd_wheels_look_plain(const dd_wheels_instance *w, const dd_kinematics *k, const dd_commands *commands,
                          const double *values, dd_wheels_state *s);
#ifdef DD_JET_PLAIN
#define dd_wheels_look dd_wheels_look_plain
#endif

static inline bool dd_wheels_driven(const dd_vehicle_parameters *v, int axle) { return v->drive == 2 || v->drive == axle; }
#endif
