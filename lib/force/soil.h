/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Soft ground under an axle, or under the jockey wheel: how deep its wheels stand in it under a load.

   Depth z(N) = stood + rut + p(b N - rut): b the ground's own figure (per load of the axle, two wheels, or of the jockey wheel), stood what they sank by standing
   in the wash, rut the deepest b N that the place remembers, p(x) = max(x, 0) rounded over what SINKS_OVER makes. Under a load never
   borne there it is stood + b N; a load that falls leaves the wheels in their rut, for sand does not spring back. Tyre and ground
   are two springs in series. Work that is stored above the rut, load times depth less the co-energy Z = integral of z over N, is
   lost as the rut follows: dE/d(rut) = -dZ/d(rut), and so for stood, and for b as the wheel rolls onto other ground (lib/force/
   wheels.c and jockey.c count all three as heat). */
#ifndef DD_FORCE_SOIL_H
#define DD_FORCE_SOIL_H
#include "lib/state/kinematics.h"

#define DD_SOIL_ROUNDING 50.0 /* N: load over which the ground gives way where a rut ends */

typedef struct dd_soil {
    double give, give_by_x; /* b, m/N, and its derivative by the wheel's abscissa */
    double stood, rut;      /* m */
} dd_soil;

typedef struct dd_sunk {
    double depth, by_load, by_rut, by_give;  /* z and its derivatives; by stood: 1 */
    double work, work_by_rut, work_by_give;  /* Z, integral of z from 0 to N; by stood: N */
} dd_sunk;

#define DD_SINKS_AXLE 0.5 /* of an axle's load on two wheels */
/* Under what presses on the ground at x `sinks` times as hard as one road wheel with its load; stood and rut as remembered. */
dd_soil dd_soil_of(const dd_ramp *ramp, double x, double sinks, double stood, double rut);
/* Under axle `wheeled` (as in dd_kinematics) with its contact at x. */
dd_soil dd_soil_under(const dd_ramp *ramp, const dd_kinematics *kinematics, double x, int wheeled);
dd_sunk dd_soil_at(const dd_soil *soil, double load);

/* The vehicle's wheels in soft ground, and the spring over its rear axle that carries the ball: F = -k (heave + drop), the drop what the
   ball's place has sunk by, sum over front and rear of lever_a z_a(own_a + lever_a F). own_a: load by the vehicle's weight alone. The pull
   along the path, the brake's and the water's lift are left out of these loads, and the body is not taken as deeper in the water. */
typedef struct dd_ball_in_sand {
    double force, by_heave, by_x;        /* F, N; without damping */
    double drop, energy;                 /* m; J, stored in spring and ground by F */
    double by_stood[DD_VEHICLE_AXLES], by_rut[DD_VEHICLE_AXLES]; /* dF */
    double press[DD_VEHICLE_AXLES], press_rut[DD_VEHICLE_AXLES]; /* -dE/d(stood), -dE/d(rut) */
    double press_x;                      /* -dE/dx at fixed heave */
} dd_ball_in_sand;
/* carries: false off the ball; F is then 0. */
dd_ball_in_sand dd_ball_sinks(const dd_rig *rig, const dd_ramp *ramp, double gravity, const dd_kinematics *kinematics, bool carries);
#endif
