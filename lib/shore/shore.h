/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DD_SHORE_SHORE_H
#define DD_SHORE_SHORE_H
#include <drawdock/shore.h>
#include "lib/base/key.h"
extern const dd_key dd_ramp_keys[], dd_water_keys[], dd_place_keys[];
extern const dd_key dd_surface_keys[];                      /* of dd_surface: the list `surfaces` of a ramp */
extern const dd_key_rule dd_ramp_rules[], dd_water_rules[]; /* end with holds NULL */

/* Friction and rolling resistance under a tyre at x and their derivatives by x; what the ground bears. A border between two
   surfaces is passed over the length of a tyre's contact, so that a wheel's grip has no jump. */
typedef struct dd_grip {
    double friction, friction_x, rolling_resistance, rolling_resistance_x; /* of the middle of the bands */
    double friction_low, friction_high;   /* ends of the band of friction */
    double sinkage, sinkage_x;            /* depth that a wheel sinks in at once, per wheel load, m/N */
    double sinkage_rate, sinkage_rate_x;  /* it sinks on at this speed per wheel load while it stands in the wash, m/s/N */
    double wet, weed;                     /* shares 0..1: under water or in the wash; weed on it */
} dd_grip;
/* Depth that a wheel sinks in at once, per wheel load, m/N, and its derivative by x: that of dd_grip alone. */
double dd_ramp_sinkage(const dd_ramp *ramp, double x, double *by_x);
/* Whether wheels sink in anywhere, at once or while they stand. */
bool dd_ramp_soft(const dd_ramp *ramp);
/* By surface, by whether it is wet, by weed. */
dd_grip dd_shore_grip(const dd_ramp *ramp, const dd_water *water, double x, double time);

/* The water's surface at x and time: tide, surge and waves; twice continuously differentiable in both. */
typedef struct dd_water_surface {
    double level, slope, rate;                /* z, dz/dx, dz/dt */
    double curvature, slope_rate, acceleration; /* d2z/dx2, d2z/dxdt, d2z/dt2 */
} dd_water_surface;
/* Copies what is in use: of a tide's points no more than there are, which are most of the memory. */
void dd_water_copy(dd_water *to, const dd_water *from);
dd_water_surface dd_water_surface_at(const dd_water *water, double x, double time);

/* Horizontal velocity of the water near its surface: the waves' own along x, the current along y. immersed: the current is the
   mean from the surface down to there, in water `depth` deep (0 < immersed <= depth; only with an exponent do they count). */
typedef struct dd_water_flow {
    double along_x, along_x_by_x, along_x_rate; /* m/s, 1/s, m/s2 */
    double along_y, along_y_by_x, along_y_by_immersed, along_y_by_depth;
} dd_water_flow;
dd_water_flow dd_water_flow_at(const dd_water *water, double x, double time, double immersed, double depth);
/* true: the level changes in time or place. */
static inline bool dd_water_moves(const dd_water *water)
{
    return water->rise != 0 || water->level_count > 0 || water->knot_count > 0 || water->surge.height > 0 || water->wave.height > 0;
}
/* true: the current is not the same everywhere. */
static inline bool dd_current_varies(const dd_water *water)
{
    return water->current != 0 && (water->current_exponent > 0 || water->current_full_beyond > 0 || !isnan(water->wall_to));
}

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
