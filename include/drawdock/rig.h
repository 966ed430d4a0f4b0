/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file rig.h
 *  Vehicle and trailer. Trailer frame: origin at the coupling, X aft, Z up, axles level when the rig stands level on flat
 *  ground. A fitter's measures: `behind_coupling` is X; `above_ground` is the height over flat ground with the trailer level
 *  (trailer Z = above_ground - coupling_height). No signed y: a pair with its half spacing, or a side. SI units. */
#ifndef DRAWDOCK_RIG_H
#define DRAWDOCK_RIG_H
#include <drawdock/brakes.h>
#include <drawdock/rules.h>
#include <drawdock/status.h>
#include <drawdock/vector.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

enum { DD_AXLES = 4, DD_SUPPORTS = 32, DD_ROLLERS = 96, DD_HALF_SPACINGS = 8, DD_HEIGHT_SETTINGS = 8, DD_CROSS_MEMBERS = 8 };

enum { DD_SEAT_CONE, DD_SEAT_BALL, DD_SEAT_FLAT };             /**< of a wheel's nuts; a cone of 60 degrees */

/** Tyres that are alike. Counts and choices that are -1, figures that are NaN: not given. */
typedef struct dd_tyre_parameters {
    int load_index, speed_symbol;      /**< the symbol's place in the table of lib/rig/tyres.def */
    double load_rating;                /**< of one tyre at its full pressure, kg, in the load index's stead */
    double pressure, full_pressure;    /**< now, and that at which it carries its rating, Pa */
    double diameter;                   /**< unloaded, m */
} dd_tyre_parameters;

/** Wheels that are alike: tyre and rim. */
typedef struct dd_wheel_parameters {
    dd_tyre_parameters tyre; /**< load index, pressure and size */
    double tyre_width;                 /**< over its sides, m */
    int car_tyre;                      /**< 1: a passenger car's tyre, that carries a tenth less on a trailer */
    int tyres_each_side;               /**< 1 or 2 at each end of an axle */
    double rim_rating;                 /**< kg */
    double rim_width, offset;          /**< of the rim between its flanges; of its middle inboard of the mounting face, m */
    double backspace;                  /**< mounting face outboard of the rim's inner edge, m: in the offset's stead */
    int stud_count, nut_seat;          /**< holes; DD_SEAT_... */
    double pitch_circle, centre_bore;  /**< diameters, m */
    double brake_room;                 /**< diameter of the drum or caliper that it clears, m */
} dd_wheel_parameters;

/** Hubs of a trailer, alike, and the room about the wheels that are on it now. */
typedef struct dd_hub_parameters {
    int stud_count, nut_seat;                         /**< studs; DD_SEAT_... of its nuts */
    double pitch_circle, spigot;                      /**< diameters of the studs' circle and of the collar that centres the wheel, m */
    double brake_diameter;                            /**< of the drum, or over the caliper about the axle, m */
    double bearing_rating;                            /**< of one hub, kg */
    double gap_to_guard, gap_to_frame, gap_over_tyre; /**< outer sidewall to guard, inner to frame or spring, tread to guard above, m */
} dd_hub_parameters;

/** The vehicle with its load and people. Fill with dd_vehicle_defaults(). */
typedef struct dd_vehicle_parameters {
    size_t cookie; /**< set by dd_vehicle_defaults() */
    char name[96]; /**< of the vehicle */
    double mass;                   /**< kg */
    double centre_behind_front_axle, centre_height, pitch_radius; /**< centre of mass, radius of gyration, m */
    double wheelbase, coupling_behind_rear_axle, coupling_height; /**< m; the ball on level ground, without a trailer */
    double tyre_radius;            /**< loaded, m */
    int drive;                     /**< 0 front, 1 rear, 2 four */
    double rear_suspension_squash; /**< how far the ball sinks under rated_coupling_load, m */
    double rated_coupling_load;    /**< N */
    double wading_depth;           /**< m above the ground at the rear axle; NaN: not checked */
    double exhaust_height;         /**< m above the ground, at the rear end; NaN: not checked */
    int park_lock;                 /**< axle that park lock and chocks hold: 0 front, 1 rear, 2 both */
    double tyre_width;             /**< m */
    double body_length, body_width, rear_overhang; /**< of the closed body; its rear end behind the rear axle, m */
    double floor_height, body_height; /**< underside of the closed body above the ground; its height over that, m */
    double flooded_share;          /**< of the body's volume that fills with water */
    double kerb_mass;              /**< empty, with the driver where the plate counts him, kg; ratings below NaN: not checked */
    double gross_mass_rating, combination_mass_rating;  /**< kg */
    double front_axle_rating, rear_axle_rating;         /**< kg */
    double towing_rating_braked, towing_rating_unbraked; /**< mass of a trailer with and without brakes, kg */
    double tow_ball_rating;        /**< static vertical load of ball and tow bar, kg */
    double tow_bar_d_value;        /**< N */
    int hitch_class;               /**< of tow bar and ball, 1 to 4; -1: not given */
    double road_speed;             /**< fastest that the rig is driven, m/s */
    dd_vehicle_braking braking;    /**< for brake */
    dd_tyre_parameters tyres, other_tyres; /**< of its wheels; those considered in their stead */
} dd_vehicle_parameters;

/** How far a part can be shifted from where it stands, for `seat` to set it up. */
typedef struct dd_travel {
    int count;      /**< 0: it stands fast; 2: given */
    double ends[2]; /**< least (0 or less) and most (0 or more), m */
    double step;    /**< from one place that it can be fixed at to the next, m; NaN: 5 mm */
} dd_travel;
/** What can be shifted of a part, each by itself. */
typedef struct dd_adjust {
    dd_travel up, out, aft; /**< out: both sides of a pair from the centre line */
} dd_adjust;

/** Cross-section of a member: lib/rig/section.h says what follows from it. */
enum { DD_SECTION_BOX, DD_SECTION_CHANNEL, DD_SECTION_TUBE, DD_SECTION_FLAT, DD_SECTION_ANGLE };
/** A post, arm or cross-member; figures that are NaN and a section of -1: not given. */
typedef struct dd_member {
    int section;                /**< DD_SECTION_... */
    double depth, width, wall;  /**< along its load, across it, m; a tube's diameter is its depth */
    double modulus;             /**< elastic section modulus along its load, m3, in that of the sizes' stead */
    double yield;               /**< yield strength, Pa */
    double length;              /**< from its root to the load; of a cross-member between the main members, m */
    double offset;              /**< of the load beside its axis, m */
} dd_member;

/** What clamps a post to the trailer by friction. NaN and -1: not given. */
typedef struct dd_clamp {
    int bolts, faces;                       /**< friction faces */
    double bolt_diameter, torque, preload;  /**< m, N m, N each */
    double nut_factor, friction;            /**< K of torque = K preload diameter */
    double bolt_spacing, face_diameter;     /**< m */
} dd_clamp;

/** What a support's loads go through on their way to the frame. */
typedef struct dd_strength {
    int posts;               /**< that share the load of one side */
    dd_member post, arm, cross_member; /**< what the support stands on, from the hull down */
    dd_clamp clamp; /**< that holds it to the frame */
} dd_strength;

/** Kinds of support; each kind is one descriptor in lib/rig/support/. */
enum {
    DD_SUPPORT_ROLLER,
    DD_SUPPORT_KEEL_ROLLER,
    DD_SUPPORT_CRADLE,
    DD_SUPPORT_SKID,
    DD_SUPPORT_ROCKER,
    DD_SUPPORT_SIDE_GUIDE,
    DD_SUPPORT_KIND_COUNT
};
enum { DD_SHAPE_PLAIN, DD_SHAPE_FLANGED, DD_SHAPE_CUPPED };   /**< of a keel roller */
enum { DD_PIVOT_NONE, DD_PIVOT_ACROSS, DD_PIVOT_ALONG };      /**< axis of a cradle's arms */
enum { DD_UNDER_BOTTOM, DD_UNDER_KEEL };                      /**< where a skid bears */
enum { DD_SIDE_PAIR, DD_SIDE_PORT, DD_SIDE_STARBOARD };

/** One support. Fill with dd_support_defaults(). */
typedef struct dd_support {
    char name[48]; /**< "second cradle" */
    int kind;                 /**< DD_SUPPORT_... */
    double behind_coupling;   /**< of the contact, of a cradle's or skid's middle, or of a rocker's pivot, m */
    double above_ground;      /**< top of the roller; for a cradle its V line over the trailer's centre line; for a skid its
                                   face at its middle; for a rocker its pivot, m */
    int side;                 /**< DD_SIDE_..., for a roller and a skid */
    double half_spacing;      /**< of a pair of rollers or skids, m */
    double width;             /**< of a keel roller between its flanges (0: not limited), of another roller along its axle, or of a
                                   skid's face, m */
    int shape;                /**< DD_SHAPE_..., of a keel roller */
    double flange_height;     /**< of its flanges, or of its cup's edge over the middle, m */
    double bracket_width, bracket_drop; /**< of its bracket: beyond the roller on each side, below its top, m */
    int rows;                 /**< of a cradle or rocker: rollers along each line */
    double row_spacing;       /**< between the rollers of a line, m */
    int half_spacing_count;   /**< of a cradle or rocker: its lines of rollers each side */
    double half_spacings[DD_HALF_SPACINGS]; /**< m */
    double deadrise;          /**< angle of the V, or tilt of a side roller, rad */
    int pivot;                /**< DD_PIVOT_..., of a cradle's arms */
    double pivot_travel;      /**< of a cradle's arms and of a swinging skid, each way, rad; 0: a skid stands fast */
    double pivot_damping;     /**< of each arm, N m s/rad */
    double rear_down, rear_up; /**< travel of a rocker's rear end, rad */
    int height_setting_count, height_setting; /**< of a rocker; the one that is used, from 1 */
    double height_settings[DD_HEIGHT_SETTINGS]; /**< V line over the centre line above the pivot, m */
    double arm_mass, arm_centre; /**< of a rocker: kg; its centre behind the pivot, m */
    double length, slope;     /**< of a skid: m; rear end down > 0, rad; length also of a side guide, 0: a post */
    double foot_above_ground; /**< of a side guide: where its face begins, m; above_ground is its top */
    int under, points;        /**< of a skid: DD_UNDER_...; places along it where it bears */
    double dry_friction, wet_friction; /**< of a skid, shares of its load */
    int stays_wet;            /**< 1: what has been under water stays wet */
    double durometer, contact_width; /**< of rollers: Shore A; bearing on the hull along the axle, m; NaN: not given */
    double roller_diameter, squash_at_rated_load; /**< each roller; squash also of a skid, m */
    double rated_load;        /**< each roller or skid, N; NaN: not checked */
    double side_friction, rolling_resistance; /**< shares of the roller's load */
    double relaxation_length; /**< distance rolled that renews the side grip, m */
    double damping;           /**< c of the contact force k d^1.5 (1 + c d'), s/m */
    dd_adjust adjust;         /**< how a fitter can shift it */
    dd_strength strength;     /**< sections of what it stands on, for seat */
} dd_support;

/** One axle of the trailer with the wheels on it. */
typedef struct dd_axle {
    double behind_coupling, rating; /**< m; kg for the axle at the ground, NaN: not checked */
    double mass;                    /**< of axle, hubs and wheels below the springs, a part of the trailer's, kg; NaN: not given */
} dd_axle;

/** A straight member across the frame that a keel can come down on. */
typedef struct dd_cross_member {
    double behind_coupling, above_ground; /**< its middle; its top, m */
    double length;                        /**< across the trailer, m; NaN: from wheel to wheel */
} dd_cross_member;

enum { DD_LINE_OF_STRAP, DD_LINE_OF_WIRE, DD_LINE_OF_ROPE };
enum { DD_DRIVE_HAND, DD_DRIVE_ELECTRIC };

/** Winch, strap and post. */
typedef struct dd_winch_parameters {
    double behind_coupling, above_ground;  /**< where the strap leaves the drum, m */
    double strap_rating;                   /**< working load limit, N; NaN: not checked */
    double strap_stretch_at_rating;        /**< share of its length */
    double strap_length_at_home;           /**< free length beyond post to eye, m, that stretches as well (on the drum) */
    double strap_damping_ratio;            /**< share of critical */
    double pretension;                     /**< at home, N */
    double drum_radius, strap_thickness;   /**< m */
    double gear_ratio;                     /**< turns of the handle for one of the drum */
    double handle_length;                  /**< m */
    double efficiency;                     /**< work at the strap, share of the work of the hand */
    double hand_force_limit;               /**< N */
    double speed;                          /**< of the strap winding in, m/s; of an electric winch without load */
    double rating;                         /**< rated pull, N; NaN: not checked */
    int kind;                              /**< DD_LINE_OF_...: what is on the drum */
    int drive;                             /**< DD_DRIVE_... */
    double drum_width;                     /**< between the flanges, m: turns of a wire or rope lie beside each other */
    double drag_torque;                    /**< of the drum running free, N m */
    double drag_damping;                   /**< of the drum running free, at the strap, N s/m */
    double speed_at_rating;                /**< of an electric winch pulling its rating, m/s */
    double break_strength;                 /**< of the strap, N; NaN: not checked */
    dd_adjust adjust;                      /**< of its post with the bow stop: aft alone */
    dd_member post;                        /**< from its foot up to the drum */
} dd_winch_parameters;

/** What the bow comes to lie against: a roller or a block on the winch post. */
typedef struct dd_bow_stop_parameters {
    double behind_coupling, above_ground; /**< its face in the middle, m */
    double squash_at_rated_load, rated_load; /**< m, N */
    double half_height, half_width;       /**< m */
    double radius;                        /**< of a roller, or of a block's edges, m; more than half_height counts as that */
    double hollow;                        /**< how much its face rises from the middle to its sides, m */
} dd_bow_stop_parameters;

/** What the trailer's nose stands on when it is off the ball. */
typedef struct dd_jockey_parameters {
    double behind_coupling;                  /**< m; NaN: none, the trailer cannot be uncoupled */
    double wheel_radius, coupling_height;    /**< under rated load; of the coupling above level ground then, NaN: the trailer's; m */
    double wheel_width;                      /**< m; on soft ground it sinks by its load over width times radius, as the trailer's tyres do */
    double rated_load, squash_at_rated_load; /**< N, m */
    double rolling_resistance;               /**< share of its load, NaN: the surface's */
} dd_jockey_parameters;

/** Rope from the vehicle's tow point to the trailer's coupling. */
typedef struct dd_rope_parameters {
    double length, rating, stretch_at_rating; /**< slack, m, NaN: none; N; share of its length */
    double damping_ratio;                     /**< share of critical with the empty trailer on it */
    double turns, bar_friction, hand_hold;    /**< round a bar of the vehicle, 0: made fast; N at the rope's end */
} dd_rope_parameters;

/** A bed, with supports, winch and bow stop, that turns about a hinge on the chassis when it is unlatched. */
typedef struct dd_tilt_parameters {
    double hinge_behind_coupling, hinge_above_ground; /**< m; NaN: none */
    double most_tilt, stop_moment, stop_squash;       /**< rad; N m about the hinge and how far the bed turns into a stop under it */
    double bed_share;                                 /**< share of the trailer's mass that tilts */
    double bed_centre_behind_coupling, bed_centre_above_ground; /**< of its mass, latched, m; NaN: as the trailer's */
} dd_tilt_parameters;

/** Safety chain from the winch post to the bow eye. */
typedef struct dd_chain_parameters {
    double slack_at_home, above_ground;              /**< m, NaN: none; of its end on the winch post, m */
    double rating, stretch_at_rating, damping_ratio; /**< N; share of its length; share of critical */
    double break_strength;                           /**< N; NaN: not checked */
} dd_chain_parameters;

/** A tie each side from the trailer to the transom's corner at the chine. */
typedef struct dd_ties_parameters {
    double behind_coupling, half_spacing, above_ground; /**< of its end on the trailer, m; NaN: none */
    double pretension;                                  /**< of each, boat lying level at home, N */
    double rating, stretch_at_rating, damping_ratio;    /**< N; share of its length; share of critical */
    double break_strength;                              /**< of each, N; NaN: not checked */
} dd_ties_parameters;

/** How the axles of a trailer share its load. */
enum {
    DD_SUSPENSION_SPRINGS, /**< each axle its own: the softness of tyre and spring and the trailer's pitch decide */
    DD_SUSPENSION_BEAM,    /**< rocking beams, or leaf springs with equalisers: shares fixed by the beam's arms */
    DD_SUSPENSION_TORSION  /**< rubber torsion axles: each its own, stiffer */
};

/** The empty trailer and what it carries the hull with. Fill with dd_trailer_defaults(). */
typedef struct dd_trailer_parameters {
    size_t cookie; /**< set by dd_trailer_defaults() */
    char name[96]; /**< of the trailer */
    double mass;                          /**< empty, kg */
    double centre_behind_coupling, centre_above_ground, pitch_radius; /**< centre of mass, radius of gyration about it, m */
    double coupling_height;               /**< above level ground, trailer level, m */
    double coupling_rating;               /**< static vertical, N; NaN: not checked */
    double tyre_radius, tyre_squash, spring_squash; /**< loaded radius; squash at the axle's rated load, m */
    double bounce_damping_ratio;          /**< of the suspension, share of critical */
    double aggregate_mass_rating;         /**< ATM, kg; NaN: not checked */
    double lamp_height;                   /**< above ground, at the rear end, m; NaN: not checked */
    double actuator_height, plug_height;  /**< of the brake actuator and of the lamps' plug, above ground, at the coupling, m; NaN: not checked */
    double hubs_hot_until;                /**< time since the start until which the hubs are hot from the road, s */
    double rear_end_behind_coupling;      /**< end of the frame, m */
    double planned_coupling_load;         /**< with the boat at home, rig level, N; NaN: not compared */
    double frame_clearance, frame_height; /**< underside and top of the frame above level ground, trailer level, m; NaN: not checked */
    double drawbar_width;                 /**< of its top, from the coupling to the foremost support, m */
    int cross_member_count;               /**< of cross_members */
    dd_cross_member cross_members[DD_CROSS_MEMBERS]; /**< beside one under each keel roller as high as the frame */
    double rolling_resistance;            /**< of the wheels, share of load, NaN: the surface's */
    double tyre_width;                    /**< m */
    double frame_volume, flooded_share;   /**< hollow inside of the members, m3; share of it that fills with water */
    int suspension;                       /**< DD_SUSPENSION_... */
    double beam_arm_ratio;                /**< front arm of a rocking beam over its rear arm; each axle carries so many times the one before */
    double track;                         /**< between the middles of an axle's tyres, or pairs of tyres, m */
    double axle_group_rating;             /**< GTM: of all axles together, kg; NaN: not checked */
    double coupling_aggregate_rating;     /**< of the coupling: mass of the loaded trailer, kg; NaN: not checked */
    double coupling_d_value;              /**< of the coupling, N; NaN: not checked */
    int coupling_class;                   /**< 1 to 4; -1: not given */
    dd_wheel_parameters wheels, other_wheels; /**< that are on it; that are considered in their stead */
    dd_hub_parameters hubs; /**< studs, spigot and gaps about the wheels */
    dd_brakes_fitted brakes; /**< what brakes, chains and chocks it has */
    dd_trailer_braking braking;           /**< figures of every brake system, for brake */
    dd_adjust axle_adjust;                /**< of all axles together: aft alone */
    int axle_count; /**< of axles */
    dd_axle axles[DD_AXLES]; /**< front first */
    int support_count; /**< of supports */
    dd_support supports[DD_SUPPORTS]; /**< of the hull */
    dd_winch_parameters winch; /**< with strap and post */
    dd_bow_stop_parameters bow_stop; /**< at the winch post */
    dd_jockey_parameters jockey; /**< under the nose */
    dd_rope_parameters rope; /**< to the vehicle, uncoupled */
    dd_tilt_parameters tilt; /**< of the frame, where it tilts */
    dd_chain_parameters chain; /**< from post to bow eye */
    dd_ties_parameters ties; /**< at the transom */
} dd_trailer_parameters;

/** Set what has an honest default, and NaN elsewhere. Ranges of the fields: dd_case_keys(). */
DD_API void dd_vehicle_defaults(dd_vehicle_parameters *parameters);
/** Sets what has an honest default, and NaN elsewhere. Ranges of the fields: dd_case_keys(). */
DD_API void dd_trailer_defaults(dd_trailer_parameters *parameters);
/** One support of a kind (DD_SUPPORT_...) with its defaults; an unknown kind leaves every field not given. */
DD_API void dd_support_defaults(dd_support *support, int kind);

typedef struct dd_rig dd_rig; /**< immutable: vehicle and trailer with every roller placed */

/** Checks both, fills what is not given and places every roller; *rig is NULL on an error. Errors: DD_ERROR_ARGUMENT,
 *  DD_ERROR_UNSET: a field out of its range, needed and not set, or at odds with another, the place names it;
 *  DD_ERROR_MEMORY. */
DD_API DD_CHECKED dd_status dd_rig_create(const dd_vehicle_parameters *vehicle, const dd_trailer_parameters *trailer,
                                          dd_rig **rig, dd_error *error);
DD_API void dd_rig_free(dd_rig *rig); /**< NULL is allowed */

#ifdef __cplusplus
}
#endif
#endif
