/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the wheels do at one state of the rig: shared by the force (wheels.c) and its formulas (wheels_look.c). */
#ifndef DD_FORCE_WHEELS_LOOK_H
#define DD_FORCE_WHEELS_LOOK_H
#include "lib/force/axles.h"
#include "lib/force/wheels.h"
#include <stdbool.h>

#define DD_WHEELS_REFERENCE_LIMIT 0.6 /* friction coefficient at which the law's stiffness and damping hold as given */

typedef struct dd_wheels_instance {
    const dd_rig *rig;
    const dd_ramp *ramp;
    const dd_water *water;
    dd_wheels_parameters parameters;
    double gravity, mass; /* of everything that is driven, kg */
    bool soft;            /* there is ground that wheels sink into: they have a sinkage to remember */
} dd_wheels_instance;

/* One axle of the vehicle (0 front, 1 rear) or of the trailer. */
typedef struct dd_wheeled {
    double foot, radius;
    dd_grip grip;
    dd_jet load, speed, limit, friction; /* normal load; along the path, seaward; resistance limit and friction there */
    dd_jet column[DD_RIG_COORDINATES];   /* displacement along the path by each coordinate */
    dd_jet force;                        /* along the path, seaward */
    dd_bristle bristle;
    double hold;                         /* share of the friction that its brakes use */
    bool chocked;
    double limit_chocked;                /* with a chock that bears */
    double limit_by_value, limit_by_load, limit_by_stood, limit_by_rut;
    double force_by_value, force_by_load, force_by_stood, force_by_rut;
    double sinkage;                         /* of its wheels, m */
    dd_soil soil;
    double stood_rate_by_stood, rut_rate_by_rut;
    dd_jet stood_rate, rut_rate;            /* of what is remembered of it, by the rig's rates */
    double sink_heat;                       /* power that the ground takes as it is pressed down, W */
} dd_wheeled;

typedef struct dd_wheels_state {
    int count;
    dd_wheeled at[DD_WHEELED];
    double correction_rate, correction_rate_by_speed, correction_rate_by_value;
    bool by_pedal;                               /* what is asked holds back: all axles of the vehicle give it, else the driven ones */
    double thrust, grip, passed;                 /* wanted of those axles, what they could give, share of the latter given */
    double thrust_by_correction[DD_VEHICLE_AXLES];
    double thrust_by_load[DD_VEHICLE_AXLES][DD_VEHICLE_AXLES]; /* force of an axle by the load of another */
    double load_by_push[DD_VEHICLE_AXLES];       /* load of the vehicle's axles by what the trailer pushes with */
    double push_by_force[DD_AXLES];              /* that by the force along the path of each trailer axle */
    double push_by_load[DD_AXLES];               /* that by its load, as far as it pushes by itself */
    /* soft ground: loads (first) by what is remembered of the sinking of each axle (second), by way of where hub and ball stand */
    double load_by_stood[DD_WHEELED][DD_WHEELED], load_by_rut[DD_WHEELED][DD_WHEELED];
} dd_wheels_state;

void dd_wheels_look(const dd_wheels_instance *w, const dd_kinematics *k, const dd_commands *commands, const double *values,
                    dd_wheels_state *s);
/* The same without derivatives. */
void dd_wheels_look_plain(const dd_wheels_instance *w, const dd_kinematics *k, const dd_commands *commands,
                          const double *values, dd_wheels_state *s);
/* The same at rest: no derivatives by the rates. */
void dd_wheels_look_still(const dd_wheels_instance *w, const dd_kinematics *k, const dd_commands *commands,
                          const double *values, dd_wheels_state *s);
#ifdef DD_JET_PLAIN
#define dd_wheels_look dd_wheels_look_plain
#elif defined DD_JET_STILL
#define dd_wheels_look dd_wheels_look_still
#endif

static inline bool dd_wheels_on(int axles, int axle) { return axles == 2 || axles == axle; }
static inline bool dd_wheels_driven(const dd_vehicle_parameters *v, int axle) { return dd_wheels_on(v->drive, axle); }
#endif
