/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The people at the ramp: the procedure's steps, one after another, each an action that ends when something comes true.
   They see only what an observer could see and act after a delay. */
#ifndef DD_CREW_PROCEDURE_H
#define DD_CREW_PROCEDURE_H
#include "lib/crew/skipper.h"
#include "lib/crew/steps.h"
#include "lib/motion/system.h"

/* What can be seen from the ramp and from the boat. */
typedef struct dd_observation {
    double time, rig_speed; /* along the ramp, m/s, > 0 seaward */
    double rig_way;         /* of the rig along the ramp, m, > 0 seaward: only differences count */
    double hub_depth, rear_support_depth;
    double distance_clear;                        /* bow eye seaward of the rearmost support, along the trailer, m */
    double stop_gap, strap_tension, handle_force; /* m, N, N */
    double winch_load;       /* of the most that hand or motor can wind, share */
    double strap_missing;    /* by how much the whole strap is too short to reach the bow eye now, m */
    double trailer_distance; /* of the coupling seaward of the ball, m */
    double trailer_height;   /* of the coupling above the ball, m */
    double bed_tilt;         /* of a tilting bed, rear end down, rad */
    double trailer_speed;    /* of the trailer along the ramp, m/s, > 0 seaward */
    double bow_offset, heading; /* bow eye to the boat's port of the trailer's centre line, m; bow to port, rad */
    double approach;         /* speed of the boat toward the winch, along the trailer, m/s */
    dd_vec3 rear_end;        /* of the trailer, world */
    int afloat;              /* nothing of the trailer has carried the hull for the time given */
    int carried, captured;   /* the trailer carries the hull; with the keel in two supports */
} dd_observation;

typedef enum dd_procedure_state {
    DD_PROCEDURE_RUNS,
    DD_PROCEDURE_DONE,
    DD_PROCEDURE_TOO_LONG,
    DD_PROCEDURE_TOO_HEAVY,
    DD_PROCEDURE_TOO_SHORT, /* the strap does not reach */
    DD_PROCEDURE_STUCK,     /* the rig does not move up */
    DD_PROCEDURE_TOO_FAR,   /* the coupling is not at the ball: lengthwise */
    DD_PROCEDURE_TOO_HIGH,  /* in height */
    DD_PROCEDURE_TILTED     /* the bed is not down where its latch meets */
} dd_procedure_state;

/* Plain data: a run saves and restores it as bytes. */
typedef struct dd_procedure {
    int step, phase; /* phase: 0 acting, 1 letting go after the end condition */
    int slowed;      /* winding: the bow nears its stop */
    double step_start, phase_start;
    double way_at_start; /* rig_way when the step began */
    double figure;       /* that goes with the state: m, rad */
    dd_procedure_state state;
    dd_skipper_state skipper;
} dd_procedure;

/* Everything about the people that stays the same in a run. */
typedef struct dd_crew {
    const dd_step *steps;
    int count;
    const dd_limits *limits;
    dd_skipper skipper; /* complete */
} dd_crew;

/* Begins the first step; the rig stands braked before it. */
void dd_procedure_begin(dd_procedure *procedure, const dd_crew *crew, const dd_observation *seen, dd_plan *plan);
/* Whether something is seen at this moment that people wait for: the run then looks for the moment within its step, so that
   what they do does not hang on where the integrator's steps end. */
bool dd_procedure_notices(const dd_procedure *procedure, const dd_crew *crew, const dd_observation *seen);
/* When the next action begins (a time no step may pass); INFINITY: not known yet. */
double dd_procedure_acts_at(const dd_procedure *procedure);
/* With what is seen within or at the end of an accepted step, which is no longer than any reaction. Returns 1 when the plan
   changed so that the forces jump (the integrator must restart), 2 when the plan changed smoothly, else 0. */
int dd_procedure_advance(dd_procedure *procedure, const dd_crew *crew, const dd_observation *seen, dd_plan *plan);
/* The skipper's moments: call with what is seen at the end of every accepted step. Returns as dd_procedure_advance. */
int dd_procedure_steer(dd_procedure *procedure, const dd_crew *crew, const dd_observation *seen, dd_plan *plan);

/* Why a procedure has ended early: the verdict's word ("stuck") and a sentence; false: it has not, or by its time alone. */
bool dd_procedure_reason(const dd_procedure *procedure, const dd_crew *crew, char word[32], char *sentence, size_t size);
#endif
