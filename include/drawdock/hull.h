/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file hull.h
 *  The hull: lines, one surface for buoyancy and contact, mass, hydrostatics. Boat frame: origin where the keel
 *  meets the transom, X forward, Y to port, Z up. heel > 0: port side down; trim > 0: bow down. SI units, radians. */
#ifndef DRAWDOCK_HULL_H
#define DRAWDOCK_HULL_H
#include <drawdock/status.h>
#include <drawdock/vector.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

enum { DD_STATIONS = 64, DD_STRAKES = 24, DD_ABOARD = 32, DD_RAILS = 12, DD_RAIL_POINTS = 16 };

/** Half-section at one station: keel, strakes from the keel out, chine, sheer. Heights above the boat's origin. */
typedef struct dd_station {
    double at;                    /**< X, m from the transom */
    double keel_height;           /**< m, as all lengths here */
    int strake_half_breadth_count, strake_height_count; /**< how many of each are given */
    double strake_half_breadth[DD_STRAKES], strake_height[DD_STRAKES]; /**< from the centre line; height, m */
    double chine_half_breadth, chine_height, sheer_half_breadth, sheer_height; /**< m */
} dd_station;

/** A strake: a rail on each side of the bottom, straight between its points as seen from below, that stands out of the panel. It
 *  changes neither buoyancy nor loads; `seat` finds what it catches. Strakes that are lines of the sections: dd_station. */
typedef struct dd_rail {
    char name[48]; /**< "inner strake" */
    int at_count, half_breadth_count;      /**< 2 or more, as many of both */
    double at[DD_RAIL_POINTS];             /**< X of its points from aft forward, m */
    double half_breadth[DD_RAIL_POINTS];   /**< of its middle from the middle plane, m */
    double width;                          /**< across the boat, m */
    double height;                         /**< that it stands out of the panel, m; NaN: not given */
} dd_rail;

enum { DD_LENGTH_OF_HULL, DD_LENGTH_OVERALL };
enum { DD_MASS_OF_BARE_HULL, DD_MASS_OF_HULL_AND_ENGINE, DD_MASS_READY_TO_GO };
enum { DD_LINES_CURVED, DD_LINES_STRAIGHT };

enum { DD_ITEM_ADULT, DD_ITEM_CHILD };
enum {
    DD_CONTENTS_PETROL,
    DD_CONTENTS_DIESEL,
    DD_CONTENTS_FRESH_WATER,
    DD_CONTENTS_SEA_WATER,
    DD_CONTENTS_OIL,
    DD_CONTENTS_ICE,
    DD_CONTENTS_FISH_IN_WATER
};

/** Something aboard: its mass, or a tank's volume, or a person. Fill with dd_item_defaults(): NaN and -1 are "not given". */
typedef struct dd_item {
    char item[48]; /**< "fuel", "people" */
    double mass;     /**< of each, kg */
    int at_count;    /**< 3, or 0: at the boat's centre of mass */
    double at[3];    /**< boat frame, m */
    int count;       /**< pieces or people; -1, 0: one */
    int kind;        /**< DD_ITEM_...: a person of the usual mass */
    double volume;   /**< of the tank, box or well, m3 */
    double fill;     /**< share of the volume; NaN: 0.95 */
    int contents;    /**< DD_CONTENTS_... */
    double density;  /**< kg/m3; NaN: that of the contents */
    int estimate;    /**< 1: the mass is a guess, by a quarter either way unless mass_low and mass_high say better */
    double mass_low, mass_high; /**< of each, kg */
} dd_item;

/** Water in the bilge, or a swamped boat: a mass that does not flow (its free surface is neglected). */
typedef struct dd_water_aboard {
    double mass;         /**< kg; 0: dry */
    double from_transom; /**< its centre forward of the transom, m; NaN: 0.15 of the hull's length */
    double height;       /**< its centre above the keel at the transom, m; NaN: as it stands in the aft third's V */
} dd_water_aboard;

/** Boat by brochure figures, or by stations. NaN: not given, estimated. Fill with dd_hull_defaults(). */
typedef struct dd_hull_parameters {
    size_t cookie; /**< set by dd_hull_defaults() */
    char name[96]; /**< of the boat */
    double length;            /**< as in the brochure, m */
    int length_of;            /**< DD_LENGTH_... */
    double platform_length;   /**< pod or platform counted in an overall length, m */
    double beam;              /**< greatest, at the sheer, m */
    double transom_deadrise;  /**< rad */
    double mass;              /**< as in the brochure, kg */
    int mass_of;              /**< DD_MASS_... */
    double engine_power;      /**< W */
    double engine_mass;       /**< running, kg */
    double chine_beam;        /**< greatest beam at the chine, m */
    double midships_deadrise, bow_deadrise; /**< at half length and at 0.8 of it, rad */
    double keel_rise;         /**< height to which the keel line rises at the stem, m */
    double transom_sheer_height, midships_sheer_height, bow_sheer_height; /**< above the keel at the transom, m */
    double centre_from_transom, centre_height; /**< centre of the whole mass, m */
    double centre_to_port;    /**< of that centre from the middle, m */
    double roll_radius, pitch_radius, yaw_radius; /**< radii of gyration about the centre, m */
    double bow_eye_from_transom, bow_eye_height; /**< m */
    double skeg_depth;        /**< lowest point of skeg or propeller, engine down, below the keel line, m */
    double bending_stiffness; /**< E I of the hull in its middle plane, N m2; NaN: rigid */
    int lines;                /**< DD_LINES_CURVED: splines through the stations; DD_LINES_STRAIGHT: straight between them */
    int station_count; /**< of stations */
    dd_station stations[DD_STATIONS]; /**< measured sections; none: drawn from the brochure figures */
    int rail_count; /**< of rails */
    dd_rail rails[DD_RAILS];  /**< strakes: the key `strakes` */
    int item_count; /**< of items */
    dd_item items[DD_ABOARD]; /**< aboard beside the mass above */
    dd_water_aboard water_aboard; /**< as well */
} dd_hull_parameters;

/** An estimate with its band, in the unit of the field, and where it comes from (a key of the source list). */
typedef struct dd_estimate {
    double low, likely, high; /**< ends and middle of the band, in the field's unit */
    int given;          /**< 1: the user's figure, all three equal */
    const char *source; /**< where the estimate comes from: a key of the source list */
} dd_estimate;

/** All estimated or given figures of a boat, in the order of the fields above. */
typedef struct dd_hull_estimates {
    dd_estimate chine_beam, midships_deadrise, bow_deadrise, keel_rise, transom_sheer_height, midships_sheer_height,
        bow_sheer_height, total_mass, engine_mass, centre_from_transom, centre_height, roll_radius, pitch_radius, yaw_radius,
        bow_eye_from_transom, bow_eye_height, skeg_depth; /**< of the field of the same name of dd_hull_parameters */
} dd_hull_estimates;

typedef struct dd_hull dd_hull; /**< immutable */

/** Mass, centre and inertia tensor about the centre, boat axes. */
typedef struct dd_mass_properties {
    double mass;          /**< kg */
    dd_vec3 centre;       /**< boat frame, m */
    double inertia[3][3]; /**< kg m2, about the centre; off-diagonals are minus the products of inertia */
} dd_mass_properties;

/** Where the water stands: the water plane is up . X = level in boat axes, up the unit vector to the sky. */
typedef struct dd_waterplane {
    dd_vec3 up; /**< unit vector to the sky, boat axes */
    double level; /**< height of the water surface above the boat's origin along up, m */
} dd_waterplane;

/** Immersed volume and waterplane, boat axes. Moments are about the boat's origin. */
typedef struct dd_hydrostatics {
    double volume;              /**< m3 */
    dd_vec3 volume_moment;      /**< integral of X dV, m4; centre of buoyancy = volume_moment / volume */
    double waterplane_area;     /**< m2, area in the water plane itself */
    dd_vec3 waterplane_moment;  /**< integral of X dA, m3 */
    double waterplane_second[3][3]; /**< integral of X X^T dA, m4 */
} dd_hydrostatics;

/** Free-floating attitude. */
typedef struct dd_floating {
    double heel, trim;        /**< rad */
    dd_waterplane waterplane; /**< where the water stands */
    dd_hydrostatics hydrostatics; /**< what is immersed */
    double metacentric_height_transverse, metacentric_height_longitudinal; /**< m, above the centre of mass */
} dd_floating;

/** Nothing given, of a name without one. */
DD_API void dd_item_defaults(dd_item *item);
/** Mass of all its pieces, kg; NaN: neither mass, volume with contents or density, nor kind is given. */
DD_API double dd_item_mass(const dd_item *item);
/** The same as low, likely, high; given: 1 unless it is a guess. */
DD_API dd_estimate dd_item_estimate(const dd_item *item);
/** Its centre; boat_centre is that of the boat without what is aboard. Boat frame, m. */
DD_API dd_vec3 dd_item_centre(const dd_item *item, dd_vec3 boat_centre);
/** 1: a tank, box or well with a liquid in it that is neither empty nor as full as a tank is filled: it flows as the boat leans. */
DD_API int dd_item_free_surface(const dd_item *item);
/** Sets what has an honest default, and NaN elsewhere. Ranges of the fields: dd_case_keys(). */
DD_API void dd_hull_defaults(dd_hull_parameters *parameters);
/** The figures that dd_hull_create() would use. Errors: DD_ERROR_ARGUMENT, DD_ERROR_UNSET: a field out of its range, needed and
 *  not set, or at odds with another; the place names it. */
DD_API DD_CHECKED dd_status dd_hull_estimate(const dd_hull_parameters *parameters, dd_hull_estimates *estimates,
                                             dd_error *error);
/** Makes a hull; *hull is NULL on an error. Errors: those of dd_hull_estimate(), figures that make no hull, DD_ERROR_MEMORY.
 *  End it with dd_hull_free(). */
DD_API DD_CHECKED dd_status dd_hull_create(const dd_hull_parameters *parameters, dd_hull **hull, dd_error *error);
DD_API void dd_hull_free(dd_hull *hull); /**< NULL is allowed */
/** Mass of boat, engine and all that is aboard; lives as long as the hull. */
DD_API const dd_mass_properties *dd_hull_mass(const dd_hull *hull);
/** Where the strap is hooked on, boat frame, m. */
DD_API dd_vec3 dd_hull_bow_eye(const dd_hull *hull);
/** X of the foremost point of the lines, m (the transom is X = 0 unless the stations start elsewhere). */
DD_API double dd_hull_length(const dd_hull *hull);

/** Water plane from heel, trim (rad) and the height of the water above the boat's origin, m. */
DD_API dd_waterplane dd_waterplane_at(double heel, double trim, double level);
/** Immersed volume and waterplane, integrated with breaks where the water plane crosses a line:
 *  1e-9 relative for straight lines, 1e-6 for curved. The hull is closed by a deck at the sheer. */
DD_API void dd_hull_hydrostatics(const dd_hull *hull, dd_waterplane waterplane, dd_hydrostatics *result);
/** Equilibrium afloat in water of the given density (kg/m3), gravity (m/s2), started from heel and trim. Error:
 *  DD_ERROR_NO_EQUILIBRIUM when the hull does not float or the attitude found is unstable. */
DD_API DD_CHECKED dd_status dd_hull_float(const dd_hull *hull, double density, double gravity, double heel, double trim,
                                          dd_floating *result, dd_error *error);
/** Righting arm GZ (m, > 0 brings the hull upright from heel > 0) at a heel; the trim stays as given when free_trim is 0,
 *  else the hull trims to equilibrium; displacement is kept. density in kg/m3; any finite heel and trim, rad. Errors:
 *  DD_ERROR_ARGUMENT, DD_ERROR_NO_EQUILIBRIUM when the hull cannot carry its mass or no trim was found. */
DD_API DD_CHECKED dd_status dd_hull_righting_arm(const dd_hull *hull, double density, double heel, double trim, int free_trim,
                                                 double *righting_arm, dd_error *error);

#ifdef __cplusplus
}
#endif
#endif
