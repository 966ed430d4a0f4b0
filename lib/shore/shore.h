/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DD_SHORE_SHORE_H
#define DD_SHORE_SHORE_H
#include <drawdock/shore.h>
#include "lib/base/key.h"
extern const dd_key dd_ramp_keys[], dd_water_keys[];
extern const dd_key dd_surface_keys[];                      /* of dd_surface: the list `surfaces` of a ramp */
extern const dd_key_rule dd_ramp_rules[], dd_water_rules[]; /* end with holds NULL */

/* Mean friction and rolling resistance under a tyre at x, and their derivatives by x. A border between two surfaces is
   passed over the length of a tyre's contact, so that a wheel's grip has no jump. */
typedef struct dd_grip {
    double friction, friction_x, rolling_resistance, rolling_resistance_x;
} dd_grip;
dd_grip dd_ramp_grip(const dd_ramp *ramp, double x);

/* The water's surface at x and time: level, its slope dz/dx and its rate dz/dt (tide, surge and waves). */
typedef struct dd_water_surface {
    double level, slope, rate;
} dd_water_surface;
dd_water_surface dd_water_surface_at(const dd_water *water, double x, double time);

/* Friction and rolling resistance under a tyre at x and time: by surface, by whether it is wet, by weed. */
dd_grip dd_shore_grip(const dd_ramp *ramp, const dd_water *water, double x, double time);

/* Closest point of the profile to (x, z): its abscissa. Unique where the radius of a hollow exceeds the distance. */
double dd_ramp_foot(const dd_ramp *ramp, double x, double z, dd_ramp_point *at_foot);

/* Sea water at one atmosphere, kg/m3: practical salinity, temperature in deg C (IPTS-68). */
double dd_sea_density(double salinity, double temperature);
/* Fresh water at one atmosphere, kg/m3, temperature in deg C (ITS-90). */
double dd_fresh_density(double temperature);
/* Dynamic viscosity, Pa s, of fresh water and of sea water of a salinity in kg/kg; temperature in deg C. */
double dd_fresh_viscosity(double temperature);
double dd_sea_viscosity(double salinity, double temperature);
#endif
