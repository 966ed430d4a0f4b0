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
    char name[48]; /**< "weedy concrete" */
    double from, to;       /**< x range, m, seaward of the crest point (x = 0) */
    double friction_low, friction_high; /**< tyre friction on it, band; the run uses their mean */
    double rolling_resistance;          /**< share of the wheel load */
    double wet_friction_low, wet_friction_high; /**< the same below the water line and in the wash; NaN or 0: as dry */
    double sinkage;                     /**< how deep a wheel under 5 kN sinks in at once, m */
    double sinkage_rate;                /**< how fast such a wheel sinks on while it stands in the wash, m/s */
} dd_surface;

/** What the propellers of boats driven on and off have dug beyond the toe: a hole, and the mound seaward of it. */
typedef struct dd_scour {
    double depth, length;              /**< of the hole, m: from the toe seaward, deepest in its middle; depth 0: none */
    double mound_height, mound_length; /**< of the mound, m: from the hole's end seaward */
} dd_scour;

/** Weed on whatever lies between two levels. */
typedef struct dd_weed {
    double from_level, to_level;        /**< z, m; NaN: no weed */
    double friction_low, friction_high; /**< tyre friction on it, band */
} dd_weed;

/** Ramp by slope, crest and toe levels, or by surveyed points. Fill with dd_ramp_defaults(). */
typedef struct dd_ramp_parameters {
    size_t cookie; /**< set by dd_ramp_defaults() */
    char name[96]; /**< of the ramp */
    char datum[48];        /**< what its levels are above: "LAT", "land datum"; empty: a level of its own, that of the water's too */
    double slope;          /**< angle of the slab, rad, > 0 going down seaward */
    double crest_level;    /**< z of the crest, m; x = 0 is where the slab's straight line meets the level ground */
    double toe_level;      /**< z of the end of the hard slab, m */
    double approach_slope; /**< of the ground inshore of the crest, rad, > 0 going down seaward */
    double bed_slope;      /**< of the bed beyond the toe, rad */
    double toe_step;       /**< drop at the end of the slab, m, >= 0 */
    dd_scour scour;        /**< beyond the toe */
    dd_weed weed; /**< band that the tide keeps wet */
    double wash_margin;    /**< height above the water line up to which the ground is wet, m */
    double crest_curve, toe_curve; /**< horizontal lengths of the vertical curves, m */
    int point_count;       /**< surveyed points; 0: use the slope form */
    struct { double x, z; } points[DD_RAMP_POINTS]; /**< surveyed profile, seaward order: m from the crest, m above the datum */
    double point_curve;    /**< horizontal length of the vertical curve at each surveyed break, m */
    int surface_count; /**< of surfaces */
    dd_surface surfaces[DD_RAMP_SURFACES]; /**< from the crest down */
} dd_ramp_parameters;

typedef struct dd_ramp dd_ramp; /**< immutable profile: z(x) twice continuously differentiable */

/** A point of the profile. */
typedef struct dd_ramp_point {
    double z, slope, curvature; /**< z(x), dz/dx, d2z/dx2 (m, -, 1/m) */
} dd_ramp_point;

/** Where the ramp is: for the sun and the clock. */
typedef struct dd_site {
    double latitude, longitude; /**< rad, > 0 north and east; NaN: not given, and no daylight told */
    char time_zone[48];         /**< name in the time zone database, "Europe/London"; empty: UTC */
} dd_site;

enum { DD_WATER_SEA, DD_WATER_BRACKISH, DD_WATER_FRESH };

enum { DD_WATER_LEVELS = 24, DD_WATER_KNOTS = 25 };

/** Level that rises and falls as a whole: wash that runs up and down the ramp. */
typedef struct dd_surge {
    double height, period; /**< from lowest to highest, m; s */
} dd_surge;

/** Small long waves that run straight at the shore. */
typedef struct dd_wave {
    double height, period; /**< of the waves that come in, trough to crest, m; s */
    double depth;          /**< of the water they come over, m; NaN: dd_water_meet() takes it from the ramp */
    double reflection;     /**< height of the waves that run out again over that of those coming in, 0..1 */
} dd_wave;

/** Steady wind. */
typedef struct dd_wind {
    double speed;  /**< m/s */
    double toward; /**< where it blows to, rad: 0 seaward, > 0 to the left of someone looking seaward */
} dd_wind;

enum { DD_TIDE_CONSTANTS = 128, DD_TIDE_POINTS = 9000, DD_DATUMS = 12 };
enum { DD_TIDE_HARMONIC_CONSTANTS, DD_TIDE_HIGH_LOW, DD_TIDE_RULE_OF_TWELFTHS, DD_TIDE_SAMPLED };

/** A level that heights at a place are told on. */
typedef struct dd_datum_given {
    char name[48]; /**< "LAT", "land datum" */
    double height;    /**< above any one level of the place, the same for all of them, m */
    char source[96];  /**< who says so */
} dd_datum_given;

/** How a station differs from the reference station whose tide is given; NaN: not at all. */
typedef struct dd_tide_differences {
    char station[64], datum[48];      /**< the station's own datum */
    double high_later, low_later;     /**< times of its high and low waters after the reference's, s */
    double high_ratio, low_ratio;     /**< its heights over the reference's, each above its own datum ... */
    double high_higher, low_higher;   /**< ... plus this, m */
} dd_tide_differences;

enum { DD_TABLE_COMMA, DD_TABLE_SEMICOLON, DD_TABLE_TAB };
enum { DD_TABLE_M, DD_TABLE_CM, DD_TABLE_MM, DD_TABLE_FT };

/** A CSV file and where in it constants or points stand: taken up while a scenario is read, empty in the scenario that results.
    Columns by their name in the file or by their number from 1. */
typedef struct dd_table_file {
    char file[160];              /**< its name; empty: none */
    int header_lines, separator; /**< lines before the rows, -1: 1; DD_TABLE_COMMA, ..., -1: comma */
    char name_column[64], amplitude_column[64], phase_column[64], date_column[64], time_column[64], level_column[64]; /**< empty: none */
    int unit;                    /**< of amplitudes and levels, DD_TABLE_M, ...; -1: m */
    char date_format[48];        /**< as of strptime */
    double utc_offset;           /**< of its times, s, > 0 east of Greenwich; NaN: 0 */
} dd_table_file;

/** The tide of a place. Times are s UTC since 1970. */
typedef struct dd_tide_parameters {
    int kind;             /**< DD_TIDE_HARMONIC_CONSTANTS, ...; -1: no tide */
    char station[64], datum[48]; /**< name of the place; what its levels are above */
    double mean_level;    /**< harmonic: of the sea above the datum, m */
    int nodes;            /**< harmonic: 0 node factors of the year's middle, 1 of each moment; -1: as 0 */
    int constant_count; /**< of constants */
    struct { char name[16]; double amplitude, phase; } constants[DD_TIDE_CONSTANTS]; /**< m; lag on Greenwich, rad */
    dd_tide_differences subordinate; /**< from a standard port to this place */
    dd_table_file read;   /**< a file that the figures come from; empty: none */
    int point_count;      /**< of points */
    struct { double at, level; } points[DD_TIDE_POINTS]; /**< high and low waters, or samples: s UTC, m */
} dd_tide_parameters;

/** Pressure and wind set-up: how far the water stands off its tide or gauge. */
typedef struct dd_set_up {
    double offset, within; /**< m, > 0 higher; how far off the offset may be, either way, m */
} dd_set_up;

/** The water and the wind over it. Fill with dd_water_defaults(). */
typedef struct dd_water {
    size_t cookie; /**< set by dd_water_defaults() */
    double level;       /**< z of the surface at time 0, m above `datum`; NaN: the tide's */
    int kind;           /**< DD_WATER_...: used when density is not given */
    double temperature; /**< K */
    double density;     /**< kg/m3; NaN: from kind and temperature */
    double viscosity;   /**< kinematic, m2/s; NaN: from kind and temperature */
    double current;     /**< of the surface along the shore, m/s, > 0 toward +y */
    double current_exponent;    /**< 0: the same at every depth; else the speed goes as height above the ground to this power */
    double current_full_beyond; /**< distance seaward of the water's edge from which the current has its full speed, m */
    double wall_to;             /**< x to which a wall beside the ramp keeps the current off, m; NaN: no wall */
    double wall_mixing;         /**< length over which the current comes up to its speed seaward of the wall's end, m */
    double rise;                /**< speed of the level, m/s, > 0 rising */
    int level_count;            /**< later levels; 0: none */
    struct { double at, level; } levels[DD_WATER_LEVELS]; /**< time, s, > 0 and rising; z of the surface then, m */
    dd_surge surge; /**< slow rise and fall of the level */
    dd_wave wave; /**< waves along the ramp */
    dd_wind wind; /**< over the topsides */
    double edge, wave_number;   /**< set by dd_water_meet(): x of the water's edge at time 0, m; 1/m */
    int knot_count;             /**< set by dd_water_take_tide(): the tide from time 0 on, at even steps; 0: no tide, or held */
    int held;                   /**< set by studies at rest: the tide stands at its level of time 0 */
    double knot_step;           /**< s */
    struct { double level, rate; } knots[DD_WATER_KNOTS]; /**< m above the ramp's datum, m/s */
    double time;                /**< of time 0, s UTC since 1970; NaN: not given */
    char datum[48];             /**< what level and levels are above; empty: the ramp's datum, which then has no name either */
    int datum_count; /**< of datums */
    dd_datum_given datums[DD_DATUMS]; /**< what each datum is above the water's own */
    dd_set_up set_up; /**< of the level by wind and pressure */
    dd_tide_parameters tide; /**< where the level is a tide's */
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
/** Puts level and levels of the water on the ramp's datum (its name, or ""), with the set-up, and takes them from the tide where
 *  there is one: at the water's time, and its course for `duration` seconds from then (0: the level alone). The water has no datum
 *  and no tide of its own afterwards. Errors: DD_ERROR_UNSET: a tide and no time; DD_ERROR_ARGUMENT: a datum without a stated height,
 *  a time outside the tide's table or outside 1700 to 2300, constants or tables at odds with themselves; DD_ERROR_MEMORY. */
DD_API DD_CHECKED dd_status dd_water_take_tide(dd_water *water, const char *ramp_datum, double duration, dd_error *error);
/** Fills density and viscosity where they are NaN. Error: an unset level, or a temperature outside 271-313 K. */
DD_API DD_CHECKED dd_status dd_water_complete(dd_water *water, dd_error *error);
/** Finds where completed water meets the ramp, and the length of its waves (gravity in m/s2). Without a ramp (NULL) the edge
 *  is at x = 0. Errors: DD_ERROR_UNSET: waves, and no depth given or found; DD_ERROR_LIBRARY. */
DD_API DD_CHECKED dd_status dd_water_meet(dd_water *water, const dd_ramp *ramp, double gravity, dd_error *error);
/** Height above the still water line, m, to which regular waves of the height and period (m, s) run up a smooth even slope
 *  (rad): Hunt's R = H xi, xi = tan(slope)/sqrt(H/L0), L0 = gravity period^2/(2 pi); waves that surge (xi > 2.3) reach 2.3 H. */
DD_API double dd_wave_run_up(double height, double period, double slope, double gravity);

#ifdef __cplusplus
}
#endif
#endif
