/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stops, holds and pushes back a rig. lib/study/brake.c makes the loaded rig and calls the parts in order; each adds its tables and
   checks to the report. */
#ifndef DD_STUDY_BRAKE_H
#define DD_STUDY_BRAKE_H
#include "lib/record/reporter.h"
#include "lib/rig/road.h"
#include "lib/study/brake_motion.h"
#include "lib/study/yard.h"
#include <drawdock/case.h>

#define DD_BRAKE_STOPPING "stopping" /* group of the checks that answer what the study is asked first */
enum { DD_BRAKE_KINDS = 4, DD_ROADS = 2 }; /* dry, wet */

typedef struct dd_brake {
    const dd_case *scenario;
    dd_trailer_parameters loaded; /* the trailer with the boat as its mass */
    double boat_mass;
    dd_vec3 boat_centre;          /* trailer frame */
    dd_placement placement;       /* of the boat at home */
    dd_road_loads road;           /* of the rig as given, standing on level ground */
    dd_brake_rig *rig;            /* on the grade asked */
    dd_stop stops[DD_ROADS][DD_BRAKE_KINDS];
    dd_reporter *report;
} dd_brake;

/* The road of a stop: dry (0) or wet (1). */
dd_brake_road dd_brake_road_of(const dd_braking *asked, int wet);
/* A stop as the scenario asks it, with that system, cold and dry brakes. */
dd_stop_asked dd_brake_asked(const dd_brake *b, const dd_brake_kind *kind, int wet);
/* Whether that system is the one on the trailer. */
bool dd_brake_is_fitted(const dd_brake *b, const dd_brake_kind *kind);

/* Friction that axles (0 front, 1 rear, 2 both) of the vehicle need for that. */
double dd_friction_needed(const dd_standing *standing, int axles);

/* Swing in a straight line: the rig as two bodies on tyres without roll (derivation in brake_swing.c). */
typedef struct dd_swing_rig {
    double mass, inertia, front, rear, ball;      /* of the vehicle; axles ahead of and behind its centre, ball behind it, m */
    double front_stiffness, rear_stiffness;       /* N/rad */
    double trailer_mass, trailer_inertia, centre; /* centre behind the ball, m */
    int axle_count;
    double axle[DD_AXLES], stiffness[DD_AXLES];
    double yaw_damping;
} dd_swing_rig;
/* The least damped swing at a speed: damping ratio (1 where nothing swings) and frequency, rad/s. DD_ERROR_LIBRARY. */
dd_status dd_swing_mode(const dd_swing_rig *rig, double speed, double *damping, double *frequency, dd_error *error);
/* Speed at which it no longer dies away, m/s; INFINITY above 100 m/s. */
dd_status dd_swing_critical(const dd_swing_rig *rig, double *speed, dd_error *error);

/* Temperature of one brake (K) that takes up a power for a time, by the lumped balance; closed form. */
double dd_brake_warm(const dd_brake_heat *heat, double power, double speed, double air, double from, double time);

/* Of the trailer alone, uncoupled or broken away: grip of the wheels that have brakes, N; slope (rise over run) that a torque of all brakes holds, at most that
   grip, its nose on a support that rolls; torque of all brakes at full command and after breaking away (a cable then pulls a park lever), N m; how long
   the breakaway's battery feeds them, s (NaN: no current is needed). */
double dd_brake_trailer_grip(const dd_brake *b, double friction);
double dd_brake_trailer_holds(const dd_brake *b, double torque, double friction);
double dd_brake_full_torque(const dd_brake *b, const dd_brake_kind *kind);
double dd_brake_breakaway_torque(const dd_brake *b, const dd_brake_kind *kind);
double dd_brake_battery_lasts(const dd_brake *b, const dd_brake_kind *kind);

/* The parts, in the order of the report; listed in brake.c. */
dd_status dd_brake_stops(dd_brake *brake, dd_error *error);
dd_status dd_brake_gain(dd_brake *brake, dd_error *error);
dd_status dd_brake_hills(dd_brake *brake, dd_error *error);
dd_status dd_brake_hold(dd_brake *brake, dd_error *error);
dd_status dd_brake_pull_out(dd_brake *brake, dd_error *error);
dd_status dd_brake_descent(dd_brake *brake, dd_error *error);
dd_status dd_brake_swing(dd_brake *brake, dd_error *error);
dd_status dd_brake_standards(dd_brake *brake, dd_error *error);
#endif
