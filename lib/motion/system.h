/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The forces of one model put together: state vector, equations of motion, Jacobian.

   State vector: the rig's coordinates that every rig has (3), hull position in the trailer (3), attitude (4), their rates
   (3), hull twist (6), then the memory of each force in the order of forces.def; of a rig that can be uncoupled or tilted
   then reach, tilt and their rates (dd_state_rig and dd_state_rig_rate tell where). A missing rig or hull keeps its states at
   rest, and so does a coordinate that the commands hold. */
#ifndef DD_MOTION_SYSTEM_H
#define DD_MOTION_SYSTEM_H
#include "lib/force/added_mass.h"
#include "lib/force/force.h"

enum {
    DD_STATE_RIG = 0,
    DD_STATE_POSITION = 3,
    DD_STATE_ATTITUDE = 6,
    DD_STATE_RIG_RATE = 10,
    DD_STATE_TWIST = 13,
    DD_STATE_MEMORY = 19
};

/* One force present in this model. */
typedef struct dd_system_force {
    const dd_force_kind *kind;
    void *instance;
    int memory_first, memory_count; /* within the memory part of the state */
    int parts;                      /* of that memory, how many follow the pose in statics */
    int parts_first, parts_end;     /* all of them are in between */
    int block_first;                /* of its memory_count x memory_count values in rate_by_values; -1: none */
    int unit_count, channel_count;  /* channels of one unit */
    int channel_first;              /* within all channels */
} dd_system_force;

typedef struct dd_system {
    dd_model model;
    dd_added_mass *added_mass; /* NULL without a hull */
    int force_count;
    dd_system_force *forces;
    int memory_count, channel_count, size;
    int block_size;  /* of all rate_by_values */
    int sinking, sunk_first; /* axles in soft ground, and where the memory of the first one's sinking stands; 0: firm */
    int coordinates; /* of the rig that are states: DD_RIG_ALWAYS or DD_RIG_COORDINATES */
} dd_system;

/* Where a coordinate of the rig stands in the state vector, and its rate; -1: it is none of this system's states. */
int dd_state_rig(const dd_system *system, int coordinate);
int dd_state_rig_rate(const dd_system *system, int coordinate);
/* Whether a coordinate can move under these commands. */
bool dd_rig_coordinate_free(const dd_system *system, const dd_commands *commands, int coordinate);
/* Takes the rate from the coordinates that the commands hold: at a restart. True if one of them was moving: it is struck. */
bool dd_system_hold(const dd_system *system, const dd_commands *commands, double *y);

/* Coefficients of force number `index` of forces.def; returns NULL for the kind's defaults. */
typedef const void *(*dd_force_parameters)(const void *context, int index);

/* model is copied; its hull, rig, ramp and strips must outlive the system. without: names of forces left out, ends with
   NULL, may be NULL; "added mass" is one of them. beside: a system of the same boat, water and coefficients at another level or on another
   ramp, whose tables serve here as well; must outlive this one; may be NULL. */
dd_status dd_system_create_beside(const dd_model *model, const char *const *without, dd_force_parameters parameters,
                                  const void *context, const dd_system *beside, dd_system **system, dd_error *error);
dd_status dd_system_create(const dd_model *model, const char *const *without, dd_force_parameters parameters,
                           const void *context, dd_system **system, dd_error *error);
void dd_system_free(dd_system *system);
/* NULL when the force is absent. */
const dd_system_force *dd_system_find(const dd_system *system, const dd_force_kind *kind);
/* Index among all channels of a force's unit and channel name; -1 if absent. */
int dd_system_channel(const dd_system *system, const dd_force_kind *kind, int unit, const char *name);

void dd_system_pack(const dd_system *system, const dd_pose *pose, const dd_motion *motion, const double *memory, double *y);
void dd_system_unpack(const dd_system *system, const double *y, dd_pose *pose, dd_motion *motion);
/* Absolute tolerance scales and relative shares of each component (design: atol = 0.1 rtol x scale, velocities relative
   as well, positions and angles absolute only). absolute and relative: size values each. */
void dd_system_tolerances(const dd_system *system, double relative_tolerance, double *absolute, double *relative);

/* A command that goes from one value to another by a smooth step. */
typedef struct dd_ramped {
    double from, to, start, duration;                                 /* s */
    double earlier_from, earlier_to, earlier_start, earlier_duration; /* what goes on until start; no duration: from stands */
} dd_ramped;
double dd_ramped_at(const dd_ramped *ramped, double t);
/* From `start` on it goes to another value; until then what goes on goes on, so that nothing jumps where a hand takes time. */
void dd_ramped_move(dd_ramped *ramped, double to, double start, double duration);

/* What people are doing, over time; lib/crew changes it between steps. */
typedef struct dd_plan {
    dd_commands set; /* what is on or off; its continuous fields are not used */
    dd_ramped drive_speed, brake, park_lock, push_force, wind_speed, throttle, helm, engine_tilt, hand_line_force;
} dd_plan;
dd_commands dd_plan_at(const dd_plan *plan, double t);

/* Private to one run or one thread. */
typedef struct dd_workspace {
    const dd_system *system;
    dd_plan plan;
    dd_commands commands; /* the plan at the time of the evaluation */
    int free_rig[DD_RIG_COORDINATES], free_rig_count; /* the rig's coordinates that these leave free */
    int leave_out; /* of K at rest: as in dd_kinematics */
    dd_kinematics kinematics;
    dd_added_mass_result added;
    dd_load *loads;      /* one per force, rig reactions of BETWEEN forces not in it */
    double *memory_rate; /* memory_count */
    double *channels;    /* channel_count */
    double *scratch;     /* three states, for the Jacobian */
    /* gradients, by class of force */
    dd_gradient hull_gradient, between_gradient, rig_gradient;
    double (*load_by_value)[6], (*rig_by_value)[DD_RIG_COORDINATES], (*rate_by_twist)[6], (*rate_by_rig)[DD_RIG_COORDINATES],
        (*rate_by_place)[DD_RIG_COORDINATES], (*rest_by_pose)[6], *rate_by_value, (*rate_by_pose)[6], *rate_by_values, /* rate_by_values: the forces' blocks one after another */
        rig_by_sunk[2 * DD_WHEELED][DD_RIG_COORDINATES];
    double *rested;    /* memory whose moving parts were brought to rest (DD_WANT_REST) */
    dd_pose rested_at; /* where a search did so last; rest_by_pose leads on from there */
    bool rested_there; /* it has */
    double hull_mass[6][6], hull_inertia[6][6]; /* the latter: rigid body only */
    double rig_mass[DD_RIG_COORDINATES][DD_RIG_COORDINATES];
    double hull_acceleration[6], rig_acceleration[DD_RIG_COORDINATES];
    double hull_load[6], rig_load[DD_RIG_COORDINATES]; /* sums, reactions included */
    const dd_force_kind *bad;                          /* force that gave a value that is not finite; NULL */
} dd_workspace;

dd_status dd_workspace_create(const dd_system *system, dd_workspace **workspace, dd_error *error);
void dd_workspace_free(dd_workspace *workspace);

/* STIFFNESS: at rest, the K of the forces and what their memory adds to it, no D; GRADIENT: all gradients, with accelerations and
   added mass besides. REST: at rest; what moves by itself in a force that rests as it is evaluated is brought to rest from where y has it: the memory
   then is what the workspace has in `rested`. */
enum { DD_WANT_GRADIENT = 1, DD_WANT_CHANNELS = 2, DD_WANT_ACCELERATION = 4, DD_WANT_STIFFNESS = 8, DD_WANT_REST = 16 };
/* Evaluates every force at time t and state y. Returns 0, or non-zero when a value is not finite (bad then names the force). */
int dd_system_evaluate(dd_workspace *workspace, double t, const double *y, int want);

/* What dampers, friction and water turn to heat at a state, W: of every passive force but `but`. Of the workspace it changes kinematics, loads and
   memory's rates of these alone. */
double dd_system_heat(dd_workspace *workspace, double t, const double *y, const dd_force_kind *but);

/* Its parts for the Jacobian. Commands, free coordinates and kinematics at y, no forces: */
void dd_system_place(dd_workspace *workspace, double t, const double *y);
/* Accelerations by the loads in the workspace; non-zero when a mass matrix is none. */
int dd_system_accelerate(dd_workspace *workspace);
/* Rates of all states but the forces' memory, into dydt of all states. */
void dd_system_rates(const dd_workspace *workspace, double *dydt);

/* Lagrange's equations of vehicle and trailer, mass q'' = load: fills the mass matrix by all coordinates, and takes the terms of the
   rates from load. */
void dd_rig_inertia(const dd_rig *rig, const dd_kinematics *kinematics, double mass[DD_RIG_COORDINATES][DD_RIG_COORDINATES],
                    double load[DD_RIG_COORDINATES]);

/* Right-hand side and Jacobian for lib/ode; context is a dd_workspace. */
int dd_system_derivative(double t, const double *y, double *dydt, void *workspace);
int dd_system_jacobian(double t, const double *y, double *dfdy, double *dfdt, void *workspace);

/* Wrench on the hull (boat axes) and load on the rig by one force, reaction included. */
void dd_system_force_load(const dd_workspace *workspace, int force, double hull[6], double rig[DD_RIG_COORDINATES]);
/* Displaces a pose by a twist of the hull against the trailer (boat axes) and by rig coordinates; both may be NULL. */
void dd_pose_displace(dd_pose *pose, const double hull[6], const double rig[DD_RIG_COORDINATES]);
#endif
