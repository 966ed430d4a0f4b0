/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A boat tied down on its trailer, as the road pushes it about: the convex model of lib/study/seat_model.h with every line hooked and
   with what only then bears: side guides, flanges and cups of keel rollers. Friction counts only where nothing else holds the hull
   sideways: then as much of it as is needed is found, and said. */
#ifndef DD_STUDY_RESTRAINT_H
#define DD_STUDY_RESTRAINT_H
#include "lib/study/seat_model.h"

/* Accelerations at which restraint is judged, in the order of the report. */
enum {
    DD_ROAD_STANDING,
    DD_ROAD_FORWARD,       /* braking, 0.8 g, by breaking strength */
    DD_ROAD_FORWARD_WORK,  /* 0.435 g, by working load limit */
    DD_ROAD_REARWARD,      /* 0.5 g, by both */
    DD_ROAD_PORT,          /* 0.5 g to the boat's port, by breaking strength */
    DD_ROAD_STARBOARD,
    DD_ROAD_PORT_WORK,     /* 0.25 g, by working load limit */
    DD_ROAD_STARBOARD_WORK,
    DD_ROAD_UP,            /* 0.2 g up */
    DD_ROAD_CASES
};
typedef struct dd_road_case {
    const char *name, *words;  /* "braking", as in a sentence */
    double forward, port, up;  /* how the boat is pushed against its trailer, shares of g, beside its weight */
    int breaking, working;     /* 1: held against breaking strength, against working load limits */
} dd_road_case;
const dd_road_case *dd_road_case_at(int which);
/* Specific force of a case in the trailer frame (X aft, Z up; the boat's port is -y), N/kg. */
dd_vec3 dd_road_specific(const dd_road_case *road, double gravity);

/* Lines of a dd_restraint, in its model's order. */
enum { DD_LINE_STRAP, DD_LINE_CHAIN, DD_LINE_TIE_PORT, DD_LINE_TIE_STARBOARD, DD_LINE_KINDS };

typedef struct dd_restraint {
    dd_seat_model model;
    int line[DD_LINE_KINDS]; /* index into the model's lines; -1: it has none */
    dd_mat3 to_trailer;      /* boat axes to trailer axes */
    double weight;           /* N */
} dd_restraint;

typedef enum dd_hold {
    DD_HOLD_HELD,     /* by lines, stop, guides and the supports' shape */
    DD_HOLD_FRICTION, /* sideways by friction alone */
    DD_HOLD_RUNS,     /* nothing holds it along the trailer */
    DD_HOLD_TIPS      /* nothing holds it upright */
} dd_hold;

typedef struct dd_held_loads {
    dd_hold hold;
    double friction;                /* coefficient that is needed; 0: none */
    int slides_first;               /* support whose share of it is the most of its load, -1: none */
    double moved;                   /* furthest that the hull moves along or across the trailer at its ends, m */
    double tension[DD_LINE_KINDS];  /* N; 0 where there is no such line */
    double stop, support[DD_SUPPORTS], roller[DD_SUPPORTS]; /* of the bow stop, of each support in all, its most loaded contact, N */
    double normal;                  /* sum of the supports' loads, N */
    int lifted[DD_SUPPORTS];        /* 1: it bears standing and bears nothing here */
    int lifts_off, all_off;         /* how many do; 1: all of them */
    double climbs;                  /* furthest that a keel moves across a flanged or cupped roller, share of the way to its steepest place */
    double closure;                 /* largest unbalanced force over the weight */
} dd_held_loads;

/* The model of a boat at home with its lines hooked: strap and chain as the equilibrium has them, ties pulled to their pretension where
   it stands. home_model: of the supports, made from the equilibrium that m's workspace stands at. Errors: as dd_seat_solve. */
dd_status dd_restraint_create(const dd_study_model *m, const dd_equilibrium *home, const dd_seat_model *home_model, dd_restraint *restraint,
                              dd_error *error);
/* Loads in a case; standing: those of DD_ROAD_STANDING, NULL for that case itself. rig: NULL: no flanged rollers. */
dd_status dd_restraint_loads(const dd_restraint *restraint, const dd_rig *rig, int support_count, const dd_road_case *road, double gravity,
                             const dd_held_loads *standing, dd_held_loads *loads, dd_error *error);
/* The hardest braking, share of g up to `most`, at which the hull is still held without friction; 0: it is not while standing. */
dd_status dd_restraint_held_to(const dd_restraint *restraint, const dd_rig *rig, int support_count, double most, double gravity,
                               const dd_held_loads *standing, double *braking, dd_error *error);
/* Part of the bow stop's push that lifts the bow: 0 on an upright stem; NaN without a stop. */
double dd_restraint_stop_lift(const dd_restraint *restraint);
/* Least number of tie-downs of an article, by its length (m) and mass (kg): 49 CFR 393.110(b), not blocked against moving forward. */
int dd_least_tie_downs(double length, double mass);
#endif
