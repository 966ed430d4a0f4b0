/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file brakes.h
 *  What stops and holds a rig: brakes of the vehicle, brake systems of a trailer, what `brake` is asked. SI units; NaN, -1: not
 *  given. A trailer has figures for every system, so that they can be set side by side whichever is fitted. */
#ifndef DRAWDOCK_BRAKES_H
#define DRAWDOCK_BRAKES_H
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/** Heat that brakes take up: one lumped temperature for each axle's drums or discs. */
typedef struct dd_brake_heat {
    double iron;                     /**< mass of drum or disc that warms up, each wheel, kg */
    double cooling, cooling_by_speed; /**< each wheel: W/K standing, and W/K more per m/s */
    double fades_from, fades_to;     /**< temperatures between which the friction falls to the hot one, K */
} dd_brake_heat;

/** The vehicle's brakes, air drag and how it turns. */
typedef struct dd_vehicle_braking {
    double deceleration;             /**< of the vehicle alone that its full brakes give where tyres grip, m/s2 */
    double front_share;              /**< of that on the front axle */
    double rise_time;                /**< time constant with which full braking builds up, s */
    int anti_lock;                   /**< 1: keeps its wheels near the slip of most grip */
    double park_deceleration;        /**< park brake on its axle, as the deceleration of the vehicle alone, m/s2 */
    double hot_share, wet_share;     /**< of its brakes' friction, hot and under water */
    double wheel_inertia;            /**< each wheel, kg m2 */
    double front_squash;             /**< how far its front springs and tyres give under what they carry without a trailer, m */
    double ride_damping;             /**< of each axle's springs, share of critical */
    double drag_area;                /**< drag coefficient times frontal area, m2 */
    double track;                    /**< m */
    double yaw_radius;               /**< of gyration in yaw, m */
    double front_cornering, rear_cornering; /**< side force per load and angle, 1/rad */
    dd_brake_heat heat; /**< temperatures and cooling of the wheels' brakes */
} dd_vehicle_braking;

enum { DD_BRAKE_DRUM, DD_BRAKE_DISC };
enum { DD_REVERSE_NONE, DD_REVERSE_LOCK_OUT, DD_REVERSE_AUTOMATIC };

/** Overrun brake: the push on the coupling works it. */
typedef struct dd_overrun_brake {
    double threshold;                /**< push below which it does nothing, N */
    double stroke, slack;            /**< of the coupling; of that until the shoes bear, m */
    double damping;                  /**< of its damper, N s/m */
    double lever_ratio;              /**< pull on the cables per push beyond the threshold */
    double cable_efficiency; /**< share of a cable's pull that arrives at the shoes */
    double brake_factor;             /**< torque of all brakes together per pull on the cables, N m/N */
    int kind;                        /**< DD_BRAKE_... */
    int reverse;                     /**< DD_REVERSE_...: what frees it in reverse */
    double reverse_share;            /**< of the brake factor left when it frees itself */
    double full_push;                /**< beyond the threshold, that takes the whole stroke, N */
    double park_pull;                /**< that the park lever puts on the cables, N */
    double hot_share, wet_share;     /**< of its friction */
} dd_overrun_brake;

/** Electric drum brakes: magnets that the controller feeds. */
typedef struct dd_electric_brake {
    double torque, current;          /**< each axle at full current, N m; each magnet, A */
    double lag;                      /**< time constant of the magnets, s */
    double hot_share, wet_share;     /**< of its friction */
} dd_electric_brake;

/** Electric-over-hydraulic disc brakes: an actuator on the trailer that the controller works. */
typedef struct dd_electric_hydraulic_brake {
    double pressure;                 /**< of the actuator at full command, Pa */
    double delay;                    /**< until the actuator moves, s */
    double flow;                     /**< m3/s */
    double current;                  /**< that holds full pressure, A */
    double fill_volume, line_volume; /**< each wheel: until the pads bear; more until full pressure, m3 */
    double piston_area, effective_radius; /**< each wheel, m2, m */
    double pad_friction, hot_share, wet_share; /**< of the pads; shares of it that are left hot and wet */
} dd_electric_hydraulic_brake;

enum { DD_CONTROL_PROPORTIONAL, DD_CONTROL_RAMPED, DD_CONTROL_FULL };

/** What works electric brakes from the driver's seat. */
typedef struct dd_brake_controller {
    int kind;                        /**< DD_CONTROL_...; -1: proportional */
    double gain;                     /**< command per deceleration in g, of a proportional one; greatest command of a ramped one */
    double boost;                    /**< command at once with the brake lamps */
    double ramp_time;                /**< s */
    double sensor_lag;               /**< of what senses the deceleration, s */
} dd_brake_controller;

/** What is the same for every system of a trailer. */
typedef struct dd_trailer_braking {
    dd_overrun_brake overrun; /**< figures of the system, where it is fitted */
    dd_electric_brake electric; /**< figures of the system, where it is fitted */
    dd_electric_hydraulic_brake electric_hydraulic; /**< figures of the system, where it is fitted */
    dd_brake_controller controller; /**< in the vehicle, for electric and electric-hydraulic brakes */
    double battery;                  /**< of the breakaway, A h */
    double breakaway_delay;          /**< from the pull of its cable to the command, s */
    double breakaway_cable, chain_slack; /**< drawbar's travel that pulls the switch; until the chains are taut, m */
    double wheel_inertia;            /**< each wheel, kg m2 */
    double drag_area;                /**< beyond the vehicle's wake, m2 */
    double yaw_radius;               /**< of the loaded trailer about its centre, m */
    double cornering;                /**< side force per load and angle, 1/rad */
    double yaw_damping;              /**< of a stabiliser at the coupling, N m s/rad */
    dd_brake_heat heat; /**< temperatures and cooling of the wheels' brakes */
} dd_trailer_braking;

/** What `brake` is asked. */
typedef struct dd_braking {
    double speed, reaction_time;     /**< m/s, s */
    double grade;                    /**< angle, rad, > 0 up */
    double pedal;                    /**< share of full braking that the driver asks for */
    double dry_friction, wet_friction; /**< greatest, of tyres on the road */
    double dry_slide, wet_slide;     /**< sliding tyre's share of those */
    double peak_slip;                /**< slip of the greatest grip */
    double rolling_resistance;       /**< share of load */
    double hold_grade;               /**< angle of the ramp it is held on, rad */
    double hold_friction_front, hold_friction_rear, hold_friction_trailer; /**< under these wheels there */
    double chock_angle, chock_friction; /**< wedge's face against the ground, rad; of the chock on the ground */
    double reverse_grade;            /**< up which it is pushed back, rad */
    double reverse_friction;         /**< under the wheels there */
    double descent_grade, descent_length, descent_speed; /**< rad, m, m/s */
    double descent_coasting;         /**< deceleration that the engine takes on its own, m/s2 */
    double air_temperature;          /**< K */
    double recovery;                 /**< work per braked wheel after which a wet brake is dry again, J */
    double cornering_within;         /**< share by which the cornering figures may be off */
    double bend;                     /**< sideways acceleration of the bend that the rig is driven, m/s2 */
} dd_braking;

#ifdef __cplusplus
}
#endif
#endif
