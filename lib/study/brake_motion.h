/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A rig that stops on an even grade: vehicle and loaded trailer coupled at the ball, wheel by wheel.

   Bodies, suspension and coupling are those of a run (lib/rig, lib/motion, the forces "rig weight" and "axles"), but that the vehicle's body
   nods and lifts on its own springs, with the trailer on its ball; the boat is fast on its trailer and counts as its mass. An overrun
   coupling slides along the grade. Each axle has a wheel speed. Beside these: the build-up of the vehicle's brakes, the deceleration that a
   controller feels, the states of the brake system, and the sums of what took the energy. */
#ifndef DD_STUDY_BRAKE_MOTION_H
#define DD_STUDY_BRAKE_MOTION_H
#include "lib/ode/ode.h"
#include "lib/rig/brake/brake.h"
#include "lib/rig/ride.h"
#include "lib/state/kinematics.h"

enum { DD_BRAKE_AXLES = 2 + DD_AXLES }; /* of the vehicle front and rear, then of the trailer */

/* Grip of a tyre: mu(slip) = peak f(slip / peak slip), f = 2 x / (1 + x^2) up to the peak, then down to the share `slide` where the
   wheel stands: once differentiable. */
typedef struct dd_brake_road {
    double grade; /* angle, rad, > 0 up in the direction of travel */
    double friction, slide, peak_slip, rolling_resistance;
} dd_brake_road;
double dd_slip_friction(const dd_brake_road *road, double slip);

/* Coordinates of a stop: way of the vehicle's wheels along the ground (aft > 0), lift of its body at its centre off the ground, its pitch and the
   trailer's (tail down > 0; of the trailer against the level), slide of the coupling on its drawbar (aft > 0). */
enum { DD_BRAKE_ALONG, DD_BRAKE_LIFT, DD_BRAKE_VEHICLE_PITCH, DD_BRAKE_TRAILER_PITCH, DD_BRAKE_SLIDE, DD_BRAKE_COORDINATES };

/* The rig, loaded and complete, on an even slope. */
typedef struct dd_brake_rig {
    dd_rig *rig;
    dd_ramp *ramp;
    dd_model model;
    dd_trailer_braking brakes; /* complete */
    int braked_axles;          /* of the trailer, counted from the front */
    double slope, steepness;   /* dz/dx of the ground; sqrt(1 + slope^2) */
    double tx, tz;             /* unit vector aft along it */
    dd_vehicle_ride ride;
    double map[DD_RIG_COORDINATES][DD_BRAKE_COORDINATES]; /* from these coordinates to the rig's */
    double rest[DD_BRAKE_COORDINATES]; /* standing still */
    double axle_rest[DD_BRAKE_AXLES]; /* loads then, held by nothing but the vehicle, N */
    double coupling_rest;      /* load on the ball then, N */
} dd_brake_rig;

/* trailer: with mass, centre and pitch radius of all it carries. Errors: those of dd_rig_create(), DD_ERROR_ARGUMENT: grade beyond
   30 %, DD_ERROR_NO_EQUILIBRIUM, DD_ERROR_MEMORY. */
dd_status dd_brake_rig_create(const dd_vehicle_parameters *vehicle, const dd_trailer_parameters *trailer, double grade, double gravity,
                              dd_brake_rig **rig, dd_error *error);
void dd_brake_rig_free(dd_brake_rig *rig); /* NULL is allowed */

typedef struct dd_stop_asked {
    const dd_brake_kind *system;
    double speed;          /* m/s */
    double pedal;          /* share of full braking of the vehicle, 0: the trailer's brakes alone */
    double vehicle_share, trailer_share; /* of the friction of their brakes: 1 cold and dry */
    double lever;          /* NaN: the controller works electric brakes; else the command of its lever by hand */
    dd_brake_road road;
    const dd_stepper *stepper; /* NULL: our implicit stepper */
    double tolerance;      /* relative; 0: 5e-7 */
    bool way_alone;        /* no sums of heat: `heat` and `residual` are NaN */
    bool until_trailer_stands; /* the stop is given up, not stopped, once a wheel of the trailer stands: its moment is all that is asked */
} dd_stop_asked;

enum { DD_STOP_SAMPLES = 400 };
typedef struct dd_stop_sample {
    double time, distance, speed, deceleration; /* since the brakes came on */
    double push, coupling_load; /* of the trailer on the ball, forward along the path > 0, down > 0, N */
    double squeeze, command;
    double nose_down, ball_rises; /* of the vehicle's body against standing still, rad; of the ball off the ground, m */
    double slip[DD_BRAKE_AXLES], load[DD_BRAKE_AXLES], force[DD_BRAKE_AXLES], torque[DD_BRAKE_AXLES];
} dd_stop_sample;

enum { DD_HEAT_FRONT, DD_HEAT_REAR, DD_HEAT_TRAILER, DD_HEAT_SLIP, DD_HEAT_ROLLING, DD_HEAT_AIR, DD_HEAT_DAMPERS, DD_HEATS };

typedef struct dd_stop {
    int axle_count, sample_count;
    dd_stop_sample samples[DD_STOP_SAMPLES];
    double time, distance;       /* from the brakes to rest */
    double mean_deceleration;    /* v^2 / (2 distance) */
    double most_deceleration, most_push, most_pull, most_coupling, least_coupling, most_squeeze, most_nose_down;
    double engaged;              /* when the trailer's brakes first gave 2 % of the weight it brakes; NaN: never */
    double locked[DD_BRAKE_AXLES]; /* when each axle's wheels first stood, s; NaN: never */
    double used[DD_BRAKE_AXLES]; /* greatest share of the tyres' grip used */
    double heat[DD_HEATS];       /* J */
    double lost, residual;       /* kinetic and potential energy lost; that less all heat and what springs hold, share of lost */
    bool bottomed;               /* an overrun coupling went to the end of its travel */
    bool stopped;                /* false: its brakes do not slow it on this grade; times and distances are then NaN */
    bool lifted;                 /* a vehicle's axle came off the ground: beyond the model */
    long steps;
} dd_stop;

/* The equations of motion; for the integration (lib/study/brake_stop.c) and its tests. */
enum {
    DD_BRAKE_RATES = DD_BRAKE_COORDINATES,                      /* of the coordinates */
    DD_BRAKE_BUILT = DD_BRAKE_RATES + DD_BRAKE_COORDINATES,     /* share of the pedal's braking that has built up */
    DD_BRAKE_FELT,                                              /* deceleration that the controller feels */
    DD_BRAKE_SYSTEM,                                            /* states of the brake system */
    DD_BRAKE_SPINS = DD_BRAKE_SYSTEM + DD_BRAKE_STATES,         /* wheel speeds of the axles that there are, rad/s; then heat, J */
    DD_BRAKE_SIZE = DD_BRAKE_SPINS + DD_BRAKE_AXLES + DD_HEATS  /* at most */
};
typedef struct dd_brake_motion {
    const dd_brake_rig *rig;
    const dd_stop_asked *asked;
    int fed, size;         /* states that the equations depend on; these and the sums of heat */
    void *weight; /* instance of the force "rig weight" */
    struct dd_brake_geometry *geometry; /* of the last evaluation */
    /* of the last evaluation */
    dd_stop_sample seen;
    double power[DD_HEATS], stored, kinetic;
    bool lifted;
} dd_brake_motion;
dd_status dd_brake_motion_begin(dd_brake_motion *motion, const dd_brake_rig *rig, const dd_stop_asked *asked, dd_error *error);
void dd_brake_motion_end(dd_brake_motion *motion);
/* Standing still there, held by the vehicle's wheels: loads that are left over by each coordinate, axle loads, load on the ball, what the wheels
   hold up the path, N. Non-zero: the masses are no good. */
typedef struct dd_brake_stand {
    double load[DD_BRAKE_COORDINATES], axle[DD_BRAKE_AXLES], coupling, held;
} dd_brake_stand;
int dd_brake_motion_standing(dd_brake_motion *motion, const double *coordinates, dd_brake_stand *stand);
/* Height of the ball over where it is on level ground without a trailer, square to the ground, m. */
double dd_brake_ball_up(const dd_brake_rig *rig, const double *coordinates);
void dd_brake_motion_start(const dd_brake_motion *motion, double *y);
int dd_brake_motion_derivative(double t, const double *y, double *dydt, void *motion);
int dd_brake_motion_jacobian(double t, const double *y, double *dfdy, double *dfdt, void *motion); /* by differences */

/* *stop is filled by a stop to rest. Errors: DD_ERROR_ARGUMENT: speed above 130 km/h; those of the integrator; DD_ERROR_MEMORY. That it does not
   come to rest is a result. */
/* Whether a wheel of the trailer stood in it. */
bool dd_stop_trailer_stands(const dd_stop *stop);
dd_status dd_brake_stop(const dd_brake_rig *rig, const dd_stop_asked *asked, dd_stop *stop, dd_error *error);
#endif
