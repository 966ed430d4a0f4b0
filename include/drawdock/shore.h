/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file shore.h
 *  The ramp's profile and surfaces, and the water. World frame: x horizontal and seaward, y along the
 *  shore to the left of someone looking seaward, z up; z = 0 is the ramp's level datum. SI units. */
#ifndef DRAWDOCK_SHORE_H
#define DRAWDOCK_SHORE_H
#include <drawdock/status.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

enum { DD_RAMP_POINTS = 128, DD_RAMP_SURFACES = 16 };

/** A stretch of one surface. */
typedef struct dd_surface {
    char name[48];
    double from, to;       /**< x range, m, seaward of the crest point (x = 0) */
    double friction_low, friction_high; /**< tyre friction on it, band; the run uses their mean */
    double rolling_resistance;          /**< share of the wheel load */
} dd_surface;

/** Ramp by slope, crest and toe levels, or by surveyed points. Fill with dd_ramp_defaults(). */
typedef struct dd_ramp_parameters {
    size_t cookie;
    char name[96];
    double slope;          /**< angle of the slab, rad, > 0 going down seaward */
    double crest_level;    /**< z of the crest, m; x = 0 is where the slab's straight line meets the level ground */
    double toe_level;      /**< z of the end of the hard slab, m */
    double approach_slope; /**< of the ground inshore of the crest, rad, > 0 going down seaward */
    double bed_slope;      /**< of the bed beyond the toe, rad */
    double toe_step;       /**< drop at the end of the slab, m, >= 0 */
    double crest_curve, toe_curve; /**< horizontal lengths of the vertical curves, m */
    int point_count;       /**< surveyed points; 0: use the slope form */
    struct { double x, z; } points[DD_RAMP_POINTS];
    double point_curve;    /**< horizontal length of the vertical curve at each surveyed break, m */
    int surface_count;
    dd_surface surfaces[DD_RAMP_SURFACES];
} dd_ramp_parameters;

typedef struct dd_ramp dd_ramp; /**< immutable profile: z(x) twice continuously differentiable */

/** A point of the profile. */
typedef struct dd_ramp_point {
    double z, slope, curvature; /**< z(x), dz/dx, d2z/dx2 (m, -, 1/m) */
} dd_ramp_point;

enum { DD_WATER_SEA, DD_WATER_BRACKISH, DD_WATER_FRESH };

/** Still water with a steady current along the shore. Fill with dd_water_defaults(). */
typedef struct dd_water {
    size_t cookie;
    double level;       /**< z of the surface, m above the ramp's datum */
    int kind;           /**< DD_WATER_...: used when density is not given */
    double temperature; /**< K */
    double density;     /**< kg/m3; NaN: from kind and temperature */
    double viscosity;   /**< kinematic, m2/s; NaN: from kind and temperature */
    double current;     /**< along the shore, m/s, > 0 toward +y */
} dd_water;

/** Sets what has an honest default, and NaN elsewhere. Ranges of the fields: dd_case_keys(). */
DD_API void dd_ramp_defaults(dd_ramp_parameters *parameters);
/** Makes the profile; *ramp is NULL on an error. Errors: DD_ERROR_ARGUMENT, DD_ERROR_UNSET: a field out of its range, needed
 *  and not set, or at odds with another, the place names it; DD_ERROR_MEMORY. */
DD_API DD_CHECKED dd_status dd_ramp_create(const dd_ramp_parameters *parameters, dd_ramp **ramp, dd_error *error);
DD_API void dd_ramp_free(dd_ramp *ramp); /**< NULL is allowed */
/** Profile at any x (extends straight at both ends). */
DD_API dd_ramp_point dd_ramp_at(const dd_ramp *ramp, double x);
/** x of the end of the hard slab (toe), m; +INFINITY if there is none. */
DD_API double dd_ramp_toe(const dd_ramp *ramp);
/** Surface under x; never NULL (a default of concrete when none is given). */
DD_API const dd_surface *dd_ramp_surface(const dd_ramp *ramp, double x);

/** Sea water of 18 degC without a current; level, density and viscosity NaN. */
DD_API void dd_water_defaults(dd_water *water);
/** Fills density and viscosity where they are NaN. Error: an unset level, or a temperature outside 271-313 K. */
DD_API DD_CHECKED dd_status dd_water_complete(dd_water *water, dd_error *error);

#ifdef __cplusplus
}
#endif
#endif
