/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file case.h
 *  A scenario: boat, trailer, vehicle, ramp, water, procedure, as read from a file or filled by a program. */
#ifndef DRAWDOCK_CASE_H
#define DRAWDOCK_CASE_H
#include <drawdock/hull.h>
#include <drawdock/rig.h>
#include <drawdock/shore.h>

#ifdef __cplusplus
extern "C" {
#endif

enum { DD_STEPS = 64, DD_FORCE_BYTES = 4096, DD_WITHOUT = 16 };

/** Actions of a procedure; each is a mapping with this one key, e.g. `- back down: {speed: 0.6 m/s}`. */
enum {
    DD_STEP_BACK_DOWN,  /**< driver backs the rig down; ends at `until` */
    DD_STEP_STOP,       /**< stop and set the brake; ends at rest */
    DD_STEP_STRAP_OFF,  /**< let the strap off */
    DD_STEP_PUSH_OFF,   /**< a person pushes the hull seaward with `force` until it is clear */
    DD_STEP_HOOK_ON,    /**< hook the strap to the bow eye */
    DD_STEP_WIND_IN,    /**< wind the strap in at `speed` until at the stop */
    DD_STEP_PULL_OUT,   /**< drive up the ramp until `until` */
    DD_STEP_WAIT,       /**< wait `for` */
    DD_STEP_KIND_COUNT
};

/** When a step ends; NaN: not used. The first that comes true ends it. */
typedef struct dd_until {
    double hub_depth;          /**< depth of water over the trailer's rearmost hub, m (negative: above) */
    double rear_support_depth; /**< depth of water over the top of the rearmost support, m */
    double after;              /**< s */
    double distance_clear;     /**< of the bow eye seaward of the rearmost support, along the trailer, m */
    double water_clear;        /**< height of the rearmost hub above the water, m */
    int afloat, at_the_stop;   /**< flags, 1: ends when true */
} dd_until;

/** One step of a procedure; a field that its kind does not use is NaN. */
typedef struct dd_step {
    int kind;            /**< DD_STEP_... */
    double speed;        /**< of the rig along the ramp or of the strap, m/s */
    double acceleration; /**< m/s2 */
    double force;        /**< of a person on the bow, seaward, N */
    double time_limit;   /**< the run fails when the step takes longer, s */
    dd_until until;
} dd_step;

enum { DD_ACTION_LAUNCH, DD_ACTION_RETRIEVE };

/** How a run starts. */
typedef struct dd_start {
    double hub_depth;        /**< water over the rearmost hub at the start, m (negative: the hub is above water) */
    double bow_distance;     /**< retrieve: bow eye seaward of the rearmost support, along the trailer, m */
    double offset_to_port;   /**< retrieve: bow eye to port of the trailer's centre line as the boat lies, m */
    double heading;          /**< retrieve: bow to port of the trailer's line, rad */
} dd_start;

/** Thresholds of the verdict's words and the events. */
typedef struct dd_limits {
    double afloat_share;     /**< afloat: no support or stop carries more than this share of the hull's weight ... */
    double afloat_time;      /**< ... for so long, s */
    double stern_lift_share; /**< stern lifts: the rearmost support carries less than this share of the hull's weight */
    double stop_gap, offset; /**< clean capture: stem to bow stop, keel to the trailer's centre line, m */
    double clearance;        /**< of the transom above the ground, least, m */
    double push_force;       /**< of a person, greatest, N */
    double grip_low;         /**< greatest share of the lower end of the surface's friction band that the wheels may need */
    double height_tolerance; /**< of a support that nobody measured, either way, for the bands, m */
    double skeg_clearance;   /**< of skeg and propeller above the ground, least, m */
} dd_limits;

enum { DD_TOLERANCE_STANDARD, DD_TOLERANCE_FINE };

/** A whole scenario. Fill with dd_case_defaults(). */
typedef struct dd_case {
    size_t cookie;
    int format;              /**< version of the format: 1 */
    char title[160];
    int action;              /**< DD_ACTION_... */
    dd_hull_parameters boat;
    dd_trailer_parameters trailer;
    dd_vehicle_parameters vehicle;
    dd_ramp_parameters ramp;
    dd_water water;
    dd_start start;
    int step_count;
    dd_step steps[DD_STEPS];
    dd_limits limits;
    double gravity;          /**< m/s2 */
    double time_limit;       /**< of the whole run, s */
    double record_interval;  /**< s */
    int tolerance;           /**< DD_TOLERANCE_... */
    int without_count;
    char without[DD_WITHOUT][48];           /**< forces switched off, by name */
    DD_ALIGNED(16) unsigned char forces[DD_FORCE_BYTES]; /**< coefficients of the forces, laid out by the library */
} dd_case;

/** Every default; figures without an honest default are NaN. */
DD_API void dd_case_defaults(dd_case *scenario);

/** A scenario read from a file, with the place and origin of each value. */
typedef struct dd_case_file dd_case_file;

/** All that was wrong with a file; each has a place. */
typedef struct dd_error_list {
    int count;
    dd_error *errors;
} dd_error_list;
/** Frees the errors and empties the list, which stays the caller's. */
DD_API void dd_error_list_free(dd_error_list *list);

/** Reads a scenario and applies overrides ("water.level=0.4 m"). search: folders for named files after the scenario's own,
 *  ends with NULL; may be NULL. path "-": standard input. On any error *file is NULL and *list holds every message of every
 *  file read. */
DD_API DD_CHECKED dd_status dd_case_read(const char *path, const char *const *overrides, const char *const *search,
                                         dd_case_file **file, dd_error_list *list);
DD_API void dd_case_free(dd_case_file *file); /**< NULL is allowed */
/** The scenario itself; lives as long as the file. */
DD_API const dd_case *dd_case_of(const dd_case_file *file);
/** Effective input as YAML with every default and its source as a comment; reads back to the same bits. malloc'ed, or NULL. */
DD_API char *dd_case_show(const dd_case_file *file, int as_json);
/** Reference of every key, or (as_schema) a JSON Schema, draft 2020-12. malloc'ed, or NULL. */
DD_API char *dd_case_keys(int as_schema);

#ifdef __cplusplus
}
#endif
#endif
