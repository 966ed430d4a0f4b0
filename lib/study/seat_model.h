/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How supports carry a hull: a convex problem. The hull, rigid or a beam that bends in its own middle plane, lies on compliant
   contacts that only push, hung in lines that only pull; what it does is where the energy of all these less the work of the loads is
   least, so the answer is one, and hundreds of them cost a second. Friction is left out. Boat axes; displacements are taken as small
   about the reference, the equilibrium that lib/motion found on level ground. */
#ifndef DD_STUDY_SEAT_MODEL_H
#define DD_STUDY_SEAT_MODEL_H
#include "lib/study/start.h"

enum { DD_SEAT_CONTACTS = DD_ROLLERS + 8, DD_SEAT_LINES = 12, DD_SEAT_MASSES = 80, DD_SEAT_NODES = 64 };

/* Presses on the hull with stiffness d^exponent, d = -gap - push.u + lever.angle + raise push.up > 0. */
typedef struct dd_seat_contact {
    char name[64];
    int support, roller; /* indices into the trailer's supports and the rig's rollers; -1: the bow stop */
    int arm;             /* 1 + index of the arm it stands on; 0: none */
    int side;            /* of the boat: 1 port, -1 starboard, 0 in the middle */
    dd_vec3 at, push;    /* where it meets the hull, and the unit direction in which it presses */
    double gap;          /* to the hull at the reference, m; < 0: squashed */
    double lever;        /* how far its arm moves it along push, m/rad */
    double stiffness, exponent; /* N/m^exponent */
} dd_seat_contact;

/* Pulls on the hull with stiffness (pretension stretch + direction's shortening), never pushes. */
typedef struct dd_seat_line {
    char name[48];
    dd_vec3 at, pull;    /* where it is fixed on the hull, and the unit direction in which it pulls */
    double stiffness, tension; /* N/m; at the reference, N */
} dd_seat_line;

/* An arm turns within its stops; beyond them it meets k angle^1.5. */
typedef struct dd_seat_arm {
    double least, most, stop_stiffness; /* rad, N m/rad^1.5, from the reference's angle */
} dd_seat_arm;

typedef struct dd_seat_mass {
    double mass; /* kg */
    dd_vec3 at;
} dd_seat_mass;

typedef struct dd_seat_model {
    int contact_count, line_count, arm_count, mass_count, node_count;
    int first_grip; /* lines from here on are the grip of supports across the trailer, of a hull that nothing else keeps there */
    dd_seat_contact contacts[DD_SEAT_CONTACTS];
    dd_seat_line lines[DD_SEAT_LINES];
    dd_seat_arm arms[DD_ARMS];
    dd_seat_mass masses[DD_SEAT_MASSES]; /* all of the hull's, for its bending and for the loads */
    double bending_stiffness;            /* E I, N m2; INFINITY: rigid */
    double nodes[DD_SEAT_NODES];         /* of the beam, X ascending; not used by a rigid hull */
    dd_vec3 up;                          /* the trailer's Z, along which a support is raised */
    double hold;                         /* N/m: a weak spring to the reference along directions that nothing holds */
} dd_seat_model;

enum { DD_SEAT_UNKNOWNS = 6 + DD_ARMS + 2 * DD_SEAT_NODES };

typedef struct dd_seat_solution {
    double load[DD_SEAT_CONTACTS];    /* N */
    double squash[DD_SEAT_CONTACTS];  /* m; < 0: so far clear of the hull */
    double tension[DD_SEAT_LINES];    /* N */
    double displacement[6];           /* of the boat's origin from the reference, m and rad; of a beam its mean line */
    double angle[DD_ARMS];            /* that each arm turns from the reference, rad */
    double bend[DD_SEAT_NODES];       /* sag of the keel from that line at each node, up > 0, m; a rigid hull: 0 */
    double moment[DD_SEAT_NODES];     /* bending moment at each node, hogging > 0, N m; by statics, so of a rigid hull too */
    double closure;                   /* largest unbalanced force over the weight */
} dd_seat_solution;

/* The model of a boat at home: m and the equilibrium that dd_study_home() found on it. linear: contacts k d with the same squash
   at the rated load instead of k d^1.5. Errors: DD_ERROR_MEMORY. */
dd_status dd_seat_model_create(const dd_study_model *m, const dd_equilibrium *home, int linear, dd_seat_model *seat, dd_error *error);
/* Puts in the contacts and arms of a rig's rollers as they meet a hull that lies there (boat axes to trailer axes, its origin in the
   trailer frame), each arm at its angle (rad; one for each arm of the rig): the reference of what is solved. Nothing else is changed;
   a contact with the bow stop is to be put in after. */
void dd_seat_meet(const dd_hull *hull, const dd_rig *rig, const double *angles, const dd_mat3 *to_trailer, dd_vec3 origin, int linear,
                  dd_seat_model *seat);
/* The beam's nodes: at the ends and at every contact, then in the middle of the widest bay until there are enough. */
void dd_seat_set_nodes(const dd_hull *hull, dd_seat_model *seat);
/* Angles of the arms in the model's memory; NULL: it has no rollers. */
const double *dd_seat_arm_angles(const dd_study_model *m);
/* Adds `by` (m) to the raise of every contact of a support on one side; side 0: of all of them. */
void dd_seat_raise(const dd_seat_model *seat, int support, int side, double by, double raise[DD_SEAT_CONTACTS]);
/* Sets the flag of every contact of a support on one side (0: of all of them). */
void dd_seat_take_away(const dd_seat_model *seat, int support, int side, int without[DD_SEAT_CONTACTS]);
/* Loads at rest under a specific force (N/kg; (0, 0, -g) level), with each contact raised by raise[contact] along the model's up (m;
   NULL: none), those in `without` (one flag a contact; NULL: none) taken away. Errors: DD_ERROR_NO_EQUILIBRIUM, DD_ERROR_MEMORY. */
dd_status dd_seat_solve(const dd_seat_model *seat, dd_vec3 specific, const double *raise, const int *without,
                        dd_seat_solution *solution, dd_error *error);

/* What can stand too high or too low by itself: a support, or each side of one that stands on both. */
typedef struct dd_seat_height {
    int support, side;
} dd_seat_height;
enum { DD_SEAT_HEIGHTS = 3 * DD_SUPPORTS };
/* All heights that carry a contact; returns how many. */
int dd_seat_heights(const dd_seat_model *seat, dd_seat_height heights[DD_SEAT_HEIGHTS]);
/* As dd_seat_solve without raises, and what each height does to each contact's load, N/m: effects[height][contact]. */
dd_status dd_seat_effects(const dd_seat_model *seat, dd_vec3 specific, const dd_seat_height *heights, int count, dd_seat_solution *solution,
                          double (*effects)[DD_SEAT_CONTACTS], dd_error *error);
/* Greatest load of one roller of each support, N, with every height within the tolerance (m) up or down, at its worst for that
   roller. Errors: as dd_seat_solve. */
dd_status dd_seat_worst(const dd_seat_model *seat, dd_vec3 specific, double tolerance, double worst[DD_SUPPORTS], dd_error *error);
#endif
