/* SPDX-License-Identifier: GPL-3.0-or-later */
/* State layout, frames and what every force needs to know of the motion.

   Rig coordinates: x of the vehicle's rear axle along the profile (world, horizontal), heave of the coupling above
   the ball, pitch of the trailer's chassis about the coupling (> 0: tail down), reach of the coupling seaward of the ball
   (horizontal; held while coupled), tilt of the bed against the chassis about its hinge (> 0: tail down; held while latched).
   A held coordinate has no rate. The trailer frame is the BED's: supports, winch and bow stop stand in it; axles, jockey wheel
   and coupling stand in the chassis frame. Both have their axes through the same points while the tilt is 0. Hull pose:
   position of its origin in the trailer frame, unit quaternion from boat to trailer axes (0,0,0,1 for a hull lying straight,
   bow inshore).
   Twists (6): linear velocity of the boat's origin, then angular velocity, both in boat axes. */
#ifndef DD_STATE_KINEMATICS_H
#define DD_STATE_KINEMATICS_H
#include "lib/base/vector.h"
#include "lib/rig/rig.h"
#include "lib/hull/surface.h"
#include <drawdock/shore.h>

#define DD_STANDARD_GRAVITY 9.80665

enum { DD_RIG_X, DD_RIG_HEAVE, DD_RIG_PITCH, DD_RIG_REACH, DD_RIG_TILT, DD_RIG_COORDINATES };
enum { DD_VEHICLE_AXLES = 2, DD_WHEELED = DD_VEHICLE_AXLES + DD_AXLES }; /* axles: the vehicle's front and rear, then the trailer's */
enum { DD_RIG_ALWAYS = DD_RIG_REACH }; /* coordinates that every rig moves in; the others only a rig that can be uncoupled or tilted */

typedef struct dd_pose {
    double rig[DD_RIG_COORDINATES];
    dd_vec3 position;       /* of the boat's origin, trailer frame, m */
    dd_quaternion attitude; /* boat axes to trailer axes */
} dd_pose;

typedef struct dd_motion {
    double rig[DD_RIG_COORDINATES]; /* rates of the rig's coordinates */
    double twist[6];                /* of the hull over the ground, boat axes, at the boat's origin */
} dd_motion;

/* Water whose level or stream changes in time or place (lib/state/moving_water.c). The middle is the keel at half the hull's
   length; depths of points of the boat are linear in X and z where y = 0: one + by_x X + by_z z. */
typedef struct dd_moving_water {
    int present;               /* 0: still level, the same stream everywhere; all else is zero, and steepness 1 */
    double steepness;          /* sqrt(1 + slope^2): vertical depth over depth across the water plane */
    double level_rate;         /* dz/dt of the surface at the middle */
    double slope_rate;         /* of the water plane's slope, seen from the middle as it moves */
    double curvature;          /* d2z/dx2 at the middle */
    double middle_x;           /* world x of the middle less that of the boat's origin */
    double middle_by[6];       /* d(world x of the middle)/d(displacement of the hull, boat axes) */
    double rise[3];            /* rate of the depth of a point that stands still: one, by_x, by_z */
    double tilt[3];            /* d(depth)/d(world x of the middle): the plane tilts as the hull moves along: one, by_x, by_z */
    double depth_rise;         /* rate of the water's depth under the boat's origin by the water's motion */
    double depth_tilt;         /* d(that depth)/d(world x of the middle) by the plane's tilting */
    double depth_slope;        /* slope of the water plane along world x */
    dd_vec3 acceleration;      /* of the water at the middle, following the hull, boat axes */
    double velocity_by[3][6];  /* d(velocity of the water at the middle, world)/d(displacement of the hull) */
    double current;            /* along the shore, at the middle, m/s */
} dd_moving_water;

enum { DD_LEAVE_OUT_GRIP = 1 << 6 }; /* what a twist of the hull would do to the forces' memory */

typedef struct dd_kinematics {
    double time;
    dd_pose pose;
    dd_motion motion;
    /* hull against trailer */
    dd_mat3 to_trailer;       /* boat axes -> trailer axes */
    double relative_twist[6]; /* of the hull against the trailer, boat axes, at the boat's origin */
    /* hull against world and water */
    dd_mat3 to_world;         /* boat axes -> world axes */
    dd_vec3 origin;           /* boat's origin, world, m */
    dd_vec3 up;               /* the world's, boat axes */
    dd_waterplane waterplane; /* the water's surface in boat axes: its tangent plane at the hull's middle */
    double twist_in_water[6]; /* hull's twist less the velocity of the water at the hull's middle, boat axes */
    double water_depth;       /* from the water surface to the ground under the boat's origin, m */
    dd_moving_water moving;   /* where the level or the stream changes in time or place */
    /* rig */
    dd_vehicle_pose vehicle;
    bool on_profile;          /* vehicle is set */
    dd_mat3 chassis_to_world;
    dd_mat3 trailer_to_world; /* of the bed */
    dd_vec3 coupling;         /* trailer's coupling, world: origin of the chassis frame */
    dd_vec3 hinge;            /* of the bed on the chassis, world */
    dd_vec3 bed;              /* origin of the trailer frame, world: the coupling while the tilt is 0 */
    /* relative twist = hull twist - carry . rig rates: the hull's twist if it stood fast on the trailer */
    double carry[6][DD_RIG_COORDINATES];
    /* on soft ground, of each axle: what the wheels' memory has of its sinking (lib/force/soil.h), m; else 0 */
    double stood[DD_WHEELED], rut[DD_WHEELED];
    bool at_rest; /* the motion is none and will stay so: a force may leave out D and what its memory does over time */
    int leave_out; /* at rest, what of K nobody asks for: bit i the column of the hull's displacement i; DD_LEAVE_OUT_GRIP */
} dd_kinematics;

/* Everything immutable that a run refers to. rig or hull may be NULL in tests: their coordinates then stand still. */
typedef struct dd_model {
    const dd_hull *hull;
    const dd_rig *rig;
    const dd_ramp *ramp;
    const dd_strips *strips;
    dd_water water; /* completed */
    double gravity; /* m/s2 */
    const void *twin; /* while a force is prepared: its instance in a system of the same boat and coefficients that outlives this one; NULL: none */
} dd_model;

/* Fills *kinematics from pose, motion and time; of the pose's quaternion only the direction counts. */
void dd_kinematics_of(const dd_model *model, double time, const dd_pose *pose, const dd_motion *motion,
                      dd_kinematics *kinematics);
/* The same, to the bit, where *kinematics holds another state of the same model, or zeros: a vehicle that has not moved is not placed again. */
void dd_kinematics_again(const dd_model *model, double time, const dd_pose *pose, const dd_motion *motion,
                         dd_kinematics *kinematics);
/* The part of dd_kinematics_of that water which moves or varies needs: sets water plane, depth and `moving`; the water's velocity
   at the middle, world axes. */
void dd_meet_moving_water(const dd_model *model, dd_kinematics *kinematics, dd_vec3 *velocity);
/* World position of a point of the trailer's bed, and of its chassis. */
dd_vec3 dd_trailer_point(const dd_kinematics *kinematics, dd_vec3 in_trailer);
dd_vec3 dd_chassis_point(const dd_kinematics *kinematics, dd_vec3 in_chassis);
/* World position of a point of the boat. */
dd_vec3 dd_hull_point(const dd_kinematics *kinematics, dd_vec3 in_boat);
/* heel (port down), trim (bow down) and heading against the trailer's line (bow to port of it > 0), rad. */
void dd_attitude(const dd_kinematics *kinematics, double *heel, double *trim, double *heading);
#endif
