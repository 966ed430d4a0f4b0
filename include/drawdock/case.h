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
    DD_STEP_BACK_DOWN,     /**< driver backs the rig down; ends at `until` */
    DD_STEP_STOP,          /**< stop and set a brake; ends at rest */
    DD_STEP_STRAP_OFF,     /**< let the strap off */
    DD_STEP_PUSH_OFF,      /**< a person pushes the hull seaward with `force` until it is clear */
    DD_STEP_HOOK_ON,       /**< hook the strap to the bow eye */
    DD_STEP_WIND_IN,       /**< wind the strap in at `speed` until at the stop */
    DD_STEP_PULL_OUT,      /**< drive up the ramp until `until` */
    DD_STEP_WAIT,          /**< wait `for` */
    DD_STEP_TAKE_UP_SLACK, /**< wind until the strap stands at `tension` */
    DD_STEP_PAY_OUT,       /**< let the drum run until `until`, then set the ratchet */
    DD_STEP_SPOOL_ON,      /**< let the drum run from now on */
    DD_STEP_SPOOL_OFF,     /**< set the ratchet */
    DD_STEP_CHAIN_ON,      /**< hook the safety chain to the bow eye */
    DD_STEP_CHAIN_OFF,
    DD_STEP_TIES_ON,       /**< the transom ties */
    DD_STEP_TIES_OFF,
    DD_STEP_DRIVE_ON,      /**< the skipper drives the boat onto the trailer */
    DD_STEP_DRIVE_OFF,     /**< the skipper backs the boat off the trailer */
    DD_STEP_ENGINE_DOWN,   /**< tilt the engine into the water */
    DD_STEP_ENGINE_UP,     /**< throttle off, engine tilted out of the water */
    DD_STEP_HOLD_LINE,     /**< a helper takes a line and pulls */
    DD_STEP_LET_LINE_GO,
    DD_STEP_UNCOUPLE,      /**< take the trailer off the ball */
    DD_STEP_COUPLE,        /**< put it on the ball */
    DD_STEP_ROPE_ON,       /**< rope from the vehicle to the trailer's coupling */
    DD_STEP_ROPE_OFF,
    DD_STEP_LOWER,         /**< lower the uncoupled trailer on the rope: the vehicle backs down behind it */
    DD_STEP_HAUL_OUT,      /**< haul the uncoupled trailer out by the rope */
    DD_STEP_CHOCK,         /**< put chocks at the seaward side of the wheels */
    DD_STEP_UNCHOCK,
    DD_STEP_UNLATCH,       /**< let a tilting bed turn about its hinge */
    DD_STEP_LATCH,
    DD_STEP_KIND_COUNT
};

/** When a step ends; NaN: not used. The first that comes true ends it. */
typedef struct dd_until {
    double hub_depth;          /**< depth of water over the trailer's rearmost hub, m (negative: above) */
    double rear_support_depth; /**< depth of water over the top of the rearmost support, m */
    double after;              /**< s */
    double distance_clear;     /**< of the bow eye seaward of the rearmost support, along the trailer, at least, m */
    double bow_distance;       /**< the same, at most, m */
    double water_clear;        /**< height of the rearmost hub above the water, m */
    double distance;           /**< that the rig has moved along the ramp since the step began, m */
    double trailer_distance;   /**< of an uncoupled trailer's coupling seaward of the ball, m: reached going down, or coming up */
    int afloat, at_the_stop;   /**< flags, 1: ends when true */
    int captured;              /**< the keel lies within two supports that carry load */
    int clear_of_rollers;      /**< nothing of the trailer carries the boat */
    int slack_taken_up;        /**< the strap is taut */
} dd_until;

enum { DD_BRAKE_PEDAL, DD_BRAKE_PARK, DD_BRAKE_BOTH };
enum { DD_CHOCK_VEHICLE, DD_CHOCK_TRAILER };
enum { DD_LINE_BOW_EYE, DD_LINE_PORT_CLEAT, DD_LINE_STARBOARD_CLEAT };
enum { DD_HELPER_PORT, DD_HELPER_STARBOARD };

/** One step of a procedure; a field that its kind does not use is NaN, a choice -1. */
typedef struct dd_step {
    int kind;            /**< DD_STEP_... */
    double speed;        /**< of the rig along the ramp, of the strap or of the boat against the trailer, m/s */
    double acceleration; /**< m/s2 */
    double force;        /**< of a person on the bow, seaward, or on the line, N */
    double tension;      /**< of the strap, N */
    double distance;     /**< that the rig is to move along the ramp, m */
    double throttle;     /**< most that the skipper gives, 0..1 */
    double hold_throttle; /**< ahead, left on when the step has ended, 0..1 */
    double takes;        /**< s, that the action takes */
    double beside, seaward, above; /**< the helper's hand, from the middle of the trailer's rear end as it stands then, m */
    int side;            /**< DD_HELPER_...: to which side of the boat that is to be */
    int line_to;         /**< DD_LINE_... */
    int brake;           /**< DD_BRAKE_... */
    int chocked;         /**< DD_CHOCK_... */
    double time_limit;   /**< the run fails when the step takes longer, s */
    dd_until until; /**< what ends it */
} dd_step;

enum { DD_SKIPPER_LEARNER, DD_SKIPPER_USUAL, DD_SKIPPER_EXPERT };

/** The person at the helm: a model of somebody who sees where the bow points and how far it is off, and acts late. Percentages
 *  that come from it are for this model. Fields that are NaN are those of the preset. */
typedef struct dd_skipper {
    int preset;          /**< DD_SKIPPER_... */
    double delay;        /**< from seeing to acting, s */
    double gain;         /**< helm over error of heading */
    double anticipation; /**< how far ahead he reckons with the bow's swing, s */
    double look_ahead;   /**< how far before the bow he aims at the trailer's centre line, m */
    double aim_noise;    /**< standard deviation of where he aims, m */
    double helm_limit;   /**< rad */
    double helm_rate;    /**< rad/s */
    int seed;            /**< of his stream of random numbers */
} dd_skipper;

enum { DD_ACTION_LAUNCH, DD_ACTION_RETRIEVE };

enum { DD_START_UP, DD_START_DOWN };
enum { DD_START_OFF, DD_START_ON };

/** How a run starts. */
typedef struct dd_start {
    double hub_depth;        /**< water over the rearmost hub at the start, m (negative: the hub is above water) */
    double bow_distance;     /**< retrieve: bow eye seaward of the rearmost support, along the trailer, m */
    double offset_to_port;   /**< retrieve: bow eye to port of the trailer's centre line as the boat lies, m */
    double heading;          /**< retrieve: bow to port of the trailer's line, rad */
    double speed;            /**< retrieve: of the boat over the ground, ahead, m/s */
    int engine;              /**< DD_START_UP, DD_START_DOWN; -1: down if the boat drives before the engine is moved */
    int strap;               /**< DD_START_OFF, DD_START_ON; -1: on for a launch, off for a retrieve */
    int chain, ties;         /**< DD_START_OFF, DD_START_ON */
} dd_start;

/** Where the boat lies on the trailer, taken with a tape; NaN: as it comes to rest on its supports, wound to the stop. */
typedef struct dd_placed {
    double transom_behind_coupling; /**< m */
    double keel_above_ground;       /**< of the keel at the transom, trailer level, m */
    double trim;                    /**< of the keel against the trailer's frame, bow down > 0, rad */
} dd_placed;

enum { DD_LOADINGS = 8, DD_LOADING_ITEMS = 16 };

/** A state of loading for `weigh`, as what differs from the things aboard (boat.items). */
typedef struct dd_loading {
    char name[48]; /**< "full fuel" */
    int empty;           /**< 1: begins with nothing aboard */
    int left_out_count; /**< of left_out */
    char left_out[DD_LOADING_ITEMS][48]; /**< names of items that are not aboard */
    int item_count; /**< of items */
    dd_item items[DD_LOADING_ITEMS];     /**< added; one of a name aboard changes that by the fields given */
} dd_loading;

enum { DD_LAW_COMPLIANT, DD_LAW_LINEAR };

enum { DD_REQUIREMENTS = 16 };
/** What a hull's maker, or whoever sets it up, asks beside shares and loads: kinds of a requirement. */
enum { DD_REQUIRE_NO_ROLLERS, DD_REQUIRE_TRANSOM, DD_REQUIRE_BULKHEAD, DD_REQUIRE_OVERHANG, DD_REQUIRE_PRESSURE, DD_REQUIRE_KINDS };
/** One of them; which fields count follows from its kind. Along the keel from the transom, and half breadths, m. */
typedef struct dd_requirement {
    int kind;            /**< DD_REQUIRE_... */
    char name[48];       /**< of the zone or bulkhead; may be empty */
    double from, to;     /**< zone without rollers, along the keel */
    double inner, outer; /**< the same across, each side alike */
    double at;           /**< of a bulkhead */
    double within;       /**< of transom or bulkhead to the nearest support, or the transom past the last one, at most */
    double most;         /**< peak pressure of a roller, Pa */
    char source[96];     /**< who asks it */
} dd_requirement;

/** What `seat` asks of the supports. */
typedef struct dd_seating {
    int law;                 /**< DD_LAW_...: of a support's load over its squash */
    double least_keel_share; /**< of the boat's weight that the keel is to carry; NaN: not asked */
    double greatest_roller_load; /**< that the hull bears on one roller, N; NaN: not asked */
    double least_coupling_share, greatest_coupling_share; /**< of the whole trailer's weight on the coupling; NaN: not asked */
    double height_tolerance; /**< how far off a support's height may be, either way, m */
    double clearance;        /**< least, of supports from strakes and chine, across the boat, m */
    double road_factor;      /**< of loads standing still, for the strength of posts and arms */
    char source[64];         /**< who asks it, where a figure has no line of its own below */
    char keel_source[96], roller_source[96], coupling_source[96]; /**< who asks the keel's share, the load of a roller, the coupling's share */
    int requirement_count; /**< of requirements */
    dd_requirement requirements[DD_REQUIREMENTS]; /**< what hull and fitter ask of the supports */
} dd_seating;

enum { DD_MEASURED = 24 };
/** What was put on a scale, or taken with a tape: kinds of a reading. */
enum {
    DD_READ_BOAT,           /**< the boat in slings or on a stand */
    DD_READ_UNCOUPLED,      /**< the trailer with the boat, off the vehicle, all wheels and the jockey wheel on the scale */
    DD_READ_AXLE_GROUP,     /**< all wheels of the trailer, coupled */
    DD_READ_COUPLING,       /**< the load at the coupling, at the height at which it then stood */
    DD_READ_AXLE,           /**< one axle of the trailer, coupled */
    DD_READ_WHEEL,          /**< one wheel of the trailer, coupled */
    DD_READ_VEHICLE_FRONT,  /**< the vehicle's front axle, coupled */
    DD_READ_VEHICLE_REAR,   /**< the vehicle's rear axle, coupled */
    DD_READ_COMBINATION,    /**< vehicle and trailer, all wheels */
    DD_READ_FREEBOARD,      /**< sheer above the water, afloat */
    DD_READ_KIND_COUNT
};

enum { DD_READ_PORT, DD_READ_STARBOARD };

/** One reading. */
typedef struct dd_measured {
    int what;                /**< DD_READ_... */
    char loading[48];        /**< the state of loading at the time; empty: as given aboard */
    double mass, scale_step; /**< as the scale showed it, the scale's step, kg */
    double coupling_height;  /**< of the ball or the scale under it, above the ground, m; NaN: as coupled */
    int axle, side;          /**< number from 1, front first; DD_READ_PORT, DD_READ_STARBOARD */
    double from_transom;     /**< where the freeboard was taken, m */
    double freeboard, tape_step, water_density; /**< m, m, kg/m3 */
} dd_measured;

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
    double coupling_lift;    /**< greatest lift of the trailer on the coupling, N */
} dd_limits;

enum { DD_FLEET_RIGS = 24, DD_FLEET_VARIANTS = 8, DD_FLEET_LATER = 4, DD_FLEET_MOST_SAMPLED = 5000 };
/** A rig of a fleet: the scenarios that say how it is launched and retrieved, each read by whoever asks; ramp and water are the fleet's. */
typedef struct dd_fleet_rig {
    char name[48], launch[96], retrieve[96]; /**< names of files; empty: not asked */
    double count;                            /**< how many of them, or their weight */
} dd_fleet_rig;
/** Rigs drawn at random: one of the fleet's is scaled to each length and mass. */
typedef struct dd_fleet_sampled {
    int rigs, seed;                                     /**< how many; 0: none */
    double least_length, likely_length, most_length;    /**< of the boats, a triangle, m */
    double mass_within;                                 /**< either way, evenly, of the scaled mass; a share */
} dd_fleet_sampled;
/** The ramp changed; NaN: not. */
typedef struct dd_fleet_variant {
    char name[48]; /**< "toe 0.5 m lower" */
    double toe_lower_by, longer_by, slope; /**< m down; m along the slab; rad */
} dd_fleet_variant;
/** The sea risen, for a later year. */
typedef struct dd_fleet_later {
    int year; /**< of the calendar */
    double rise; /**< m */
} dd_fleet_later;
/** What a ramp's owner asks for the rigs that use it. */
typedef struct dd_fleet {
    double own;                 /**< how many of the scenario's own rig */
    int rig_count; /**< of rigs */
    dd_fleet_rig rigs[DD_FLEET_RIGS]; /**< rigs that are named */
    dd_fleet_sampled sampled; /**< rigs that are drawn at random */
    int variant_count; /**< of variants */
    dd_fleet_variant variants[DD_FLEET_VARIANTS]; /**< changed ramps */
    int later_count; /**< of later */
    dd_fleet_later later[DD_FLEET_LATER]; /**< later years with a risen sea */
    double share_wanted;        /**< that is to be able to launch and to retrieve: below it the owner would close */
    double lane_width;          /**< m; NaN: not given */
    int lanes; /**< lanes of the ramp */
    double time_on_ramp;        /**< of one launch or retrieve, s */
} dd_fleet;

enum { DD_TOLERANCE_STANDARD, DD_TOLERANCE_FINE };

/** A whole scenario. Fill with dd_case_defaults(). */
typedef struct dd_case {
    size_t cookie; /**< set by dd_case_defaults() */
    int format;              /**< version of the format: 1 */
    char title[160]; /**< one line for the head of the results */
    int action;              /**< DD_ACTION_... */
    dd_hull_parameters boat; /**< the hull */
    dd_trailer_parameters trailer; /**< the trailer with supports, winch and bow stop */
    dd_vehicle_parameters vehicle; /**< the vehicle that tows */
    dd_ramp_parameters ramp; /**< profile and surfaces of the ramp */
    dd_water water; /**< level, kind, current, waves, wind */
    dd_site place; /**< where on Earth, for tide, sun and clock */
    dd_start start; /**< where the run begins */
    dd_placed placed; /**< how the boat lies when it is not at home */
    dd_seating seating; /**< what seat is asked */
    dd_braking braking;      /**< what brake is asked */
    dd_rules rules;          /**< of the road, for weigh; empty: none */
    int loading_count; /**< of loadings */
    dd_loading loadings[DD_LOADINGS]; /**< states of loading */
    int measured_count; /**< of measured */
    dd_measured measured[DD_MEASURED]; /**< readings of scales and tapes */
    double trailer_mass_within;  /**< the trailer's empty mass may be off by so much, either way, when readings are solved, kg */
    dd_skipper skipper; /**< who steers when the boat is driven on */
    int step_count; /**< of steps */
    dd_step steps[DD_STEPS]; /**< the procedure */
    dd_limits limits; /**< what the run is held against */
    dd_fleet fleet;          /**< what fleet is asked */
    double gravity;          /**< m/s2 */
    double time_limit;       /**< of the whole run, s */
    double record_interval;  /**< s */
    int on_ramp;             /**< 1: action, ramp, water and procedure stand; 0: a rig on the road, for weigh and seat alone */
    int tolerance;           /**< DD_TOLERANCE_... */
    int without_count; /**< of without */
    char without[DD_WITHOUT][48];           /**< forces switched off, by name */
    DD_ALIGNED(16) unsigned char forces[DD_FORCE_BYTES]; /**< coefficients of the forces, laid out by the library */
} dd_case;

/** Every default; figures without an honest default are NaN. */
DD_API void dd_case_defaults(dd_case *scenario);

/** A scenario read from a file, with the place and origin of each value. */
typedef struct dd_case_file dd_case_file;

/** All that was wrong with a file; each has a place. */
typedef struct dd_error_list {
    int count; /**< of errors */
    dd_error *errors; /**< in the order in which they were found */
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
