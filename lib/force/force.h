/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one interface of every force. A force is one file with one constant dd_force_kind; forces.def lists it. */
#ifndef DD_FORCE_FORCE_H
#define DD_FORCE_FORCE_H
#include "lib/base/key.h"
#include "lib/state/kinematics.h"

typedef enum dd_acts_on {
    DD_ACTS_ON_HULL,      /* world or water against hull: load->hull, gradients by the hull's pose and twist over the ground */
    DD_ACTS_BETWEEN,      /* trailer against hull: load->hull is the wrench on the hull, gradients by the RELATIVE pose and
                             twist; lib/motion forms the reaction on the rig: -carry^T wrench */
    DD_ACTS_ON_RIG        /* world against rig: load->rig, gradients by the rig's coordinates and rates */
} dd_acts_on;

enum { DD_LINE_TO_BOW, DD_LINE_TO_PORT_CLEAT, DD_LINE_TO_STARBOARD_CLEAT, DD_LINE_ENDS };

/* What people do to the rig and hull, set by lib/crew between steps; forces read it. */
typedef struct dd_commands {
    int strap_hooked;           /* 1: strap from winch to bow eye */
    double strap_pull;          /* N, > 0: with that, whatever its length, it pulls, hooked to no drum: statics of a boat that is wound */
    int free_spool;             /* 1: the drum turns freely and pays the strap out against its drag alone */
    int chain_hooked;           /* 1: safety chain from the winch post to the bow eye */
    int ties_hooked;            /* 1: transom ties */
    int rope_hooked;            /* 1: rope from the vehicle to the trailer's coupling */
    int uncoupled;              /* 1: the coupling is off the ball */
    int unlatched;              /* 1: a tilting frame may turn about its hinge */
    int vehicle_chocked, trailer_chocked; /* 1: chocks on the seaward side of the wheels */
    double wind_speed;          /* of the strap at the drum, m/s, > 0 winding in */
    double drive_speed;         /* speed over the ground the driver wants, m/s, > 0 seaward */
    double brake;               /* 0..1, share of full brake by the pedal, all wheels of the vehicle */
    double park_lock;           /* 0..1, of the park lock, on its own axle */
    double push_force;          /* a person pushing the hull seaward at the bow, N */
    double throttle;            /* -1..1: share of the engine's static thrust, > 0 ahead */
    double helm;                /* rad: of the engine, > 0 turns the bow to port when going ahead */
    double engine_tilt;         /* 0 down, 1 clear of the water */
    double hand_line_force;     /* a helper's pull on the hand line, N, >= 0 */
    int hand_line_to;           /* DD_LINE_TO_... */
    double hand_line_at[3];     /* the helper's hand, world, m */
} dd_commands;

/* Force on the hull: boat axes, moments about the boat's origin: (F, M). */
typedef struct dd_load {
    double hull[6];
    double rig[DD_RIG_COORDINATES];
    double energy;  /* stored, J (gravity, buoyancy, springs); 0 where none is */
    double heat;    /* power turned to heat or carried off by waves, W, >= 0 for a passive force */
} dd_load;

/* Stiffness K = -d(load)/d(displacement), damping D = -d(load)/d(velocity). Hull displacement: (dr, dphi) of the boat,
   boat axes: its origin moves by dr, its axes turn by dphi. The load's components are those in the turned boat axes.
   When the pose varies, the twist COMPONENTS in boat axes (relative_twist or twist, as acts_on says) stay constant. */
typedef struct dd_gradient {
    double K[6][6], D[6][6];
    double rig_K[DD_RIG_COORDINATES][DD_RIG_COORDINATES], rig_D[DD_RIG_COORDINATES][DD_RIG_COORDINATES];
} dd_gradient;

/* Memory of a force (friction bristles): m states of its own. */
typedef struct dd_memory {
    const double *value; /* m, in */
    double *rate;        /* m, out: d(value)/dt */
    double *rests;       /* in statics, of a kind that rests as it is evaluated: value itself, whose moving parts are brought to rest; else NULL */
    /* on request (NULL otherwise; at rest load_by_value and rate_by_twist alone where no part follows the pose), out; zeroed by the caller: */
    double (*load_by_value)[6];      /* d(hull load)/d(value k) */
    double (*rig_by_value)[DD_RIG_COORDINATES];
    double (*rate_by_twist)[6];      /* d(rate k)/d(relative twist) */
    double (*rate_by_rig)[DD_RIG_COORDINATES];  /* d(rate k)/d(rig rates) */
    double *rate_by_value;           /* d(rate k)/d(value k) */
    double (*rate_by_pose)[6];       /* d(rate k)/d(displacement of the hull, as acts_on says) */
    double (*rate_by_place)[DD_RIG_COORDINATES]; /* d(rate k)/d(rig coordinates), the hull's pose in the trailer held */
    double (*rest_by_pose)[6];       /* with rests: d(value k at rest)/d(displacement of the hull), near enough to expect the next rest by */
    double (*rig_by_sunk)[DD_RIG_COORDINATES]; /* d(rig load)/d(kinematics' stood of each axle), then /d(its rut): added to; NULL on firm ground */
    double *rate_by_values;          /* m x m, row-major, off-diagonal d(rate k)/d(value l); only for a kind with coupled_memory */
} dd_memory;

typedef struct dd_channel {
    const char *name, *unit, *help; /* name with its unit as the last word: "strap_tension_N" */
} dd_channel;

typedef struct dd_force_kind {
    const char *name;        /* "strap" */
    const char *help;        /* what it is, in one line */
    const char *formula, *valid; /* in one sentence each, for the reference: the law, and where it may be trusted */
    const char *covered_by;  /* file of the test that holds it against what is known, from the source's top */
    dd_acts_on acts_on;
    int passive;             /* 1: never adds energy (heat >= 0) */
    size_t parameters_size;  /* of its own coefficients, read from `forces: {name: {...}}`; 0: none */
    const dd_key *keys;      /* their rows; NULL: none */
    const char *const *sources; /* keys of sources.def, ends with NULL */
    const dd_channel *channels; /* ends with name NULL; one value each per unit (see units); may be NULL */
    /* parameters: parameters_size bytes with defaults filled, or NULL. *instance NULL: not present in this model. */
    dd_status (*prepare)(const dd_model *model, const void *parameters, void **instance, dd_error *error);
    void (*free)(void *instance);
    int (*memory_count)(const void *instance);                    /* NULL: 0 */
    double (*memory_scale)(const void *instance, int index);      /* size of that state, for tolerances; NULL: 1e-3 */
    int coupled_memory;                                           /* 1: fills rate_by_values */
    int (*couples)(const void *instance);                         /* with coupled_memory: whether this instance does; NULL: yes */
    /* Statics: brings the memory that stands for moving parts (pivots) to rest at this pose; NULL: none. follows tells
       which those are; lib/motion condenses them out of K. */
    void (*rest)(const void *instance, const dd_kinematics *kinematics, const dd_commands *commands, double *memory);
    int (*follows)(const void *instance, int index);
    int (*rests)(const void *instance);                           /* with rest: whether this instance has such memory; NULL: yes */
    int rests_as_evaluated;                                       /* 1: with memory->rests, evaluate does what rest does, too */
    int (*unit_count)(const void *instance);                      /* sets of channels, e.g. one per roller; NULL: 1 */
    const char *(*unit_name)(const void *instance, int unit);     /* NULL: the kind's name */
    /* gradient NULL: not wanted. channels NULL: not wanted; else units x channels values, unit-major. Adds nothing:
       fills *load (zeroed by the caller), *gradient (zeroed by the caller). */
    void (*evaluate)(const void *instance, const dd_kinematics *kinematics, const dd_commands *commands,
                     const dd_memory *memory, dd_load *load, dd_gradient *gradient, double *channels);
    /* regimes of the random-state test: each fills pose, motion, memory and commands with a random state of that regime;
       uniform() gives 0..1. NULL name ends the list. */
    const struct dd_regime *regimes;
} dd_force_kind;

typedef struct dd_regime {
    const char *name; /* "open", "touching", "slipping", "taut", ... */
    void (*draw)(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                 dd_motion *motion, double *memory, dd_commands *commands);
} dd_regime;

#define DD_FORCE(kind) extern const dd_force_kind kind;
#include "lib/force/forces.def"
#undef DD_FORCE
/* The list of forces.def; NULL past the end. */
const dd_force_kind *dd_force_at(int index);
int dd_force_count(void);

/* A force at a point of the boat (boat axes) into a wrench. */
static inline void dd_wrench_add(double wrench[6], dd_vec3 force, dd_vec3 at)
{
    dd_vec3 m = dd_cross(at, force);
    wrench[0] += force.x; wrench[1] += force.y; wrench[2] += force.z;
    wrench[3] += m.x; wrench[4] += m.y; wrench[5] += m.z;
}

/* What a force that is in the wrench already adds to it by its point being moved. */
static inline void dd_wrench_move(double wrench[6], dd_vec3 by, dd_vec3 force)
{
    dd_vec3 m = dd_cross(by, force);
    wrench[3] += m.x; wrench[4] += m.y; wrench[5] += m.z;
}
#endif
