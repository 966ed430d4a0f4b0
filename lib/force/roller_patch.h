/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One roller, or one place of a skid, against the hull.

   In boat axes a roller is a ball centre p and an axle direction, and everything depends on these two, on the hull's twist
   relative to the roller and on the two bristles. A hull displacement (dr, dphi) moves p by -dr - dphi x p and turns the axle
   by -dphi x axle; `dd_roller_vary` carries any such change through to load and bristle rates, so K, D and the memory's gradients
   are exact.

   Stored energy of a contact: share(p) 2/5 k d^2.5 with d the squash along the true distance of the panel from the ball, or of
   the keel line from the body of revolution about the axle. The normal force is its gradient; friction acts at the hull's surface.
   `share` is the surface's cover at p, times the part of this panel (the two panels take over from one another across the keel)
   or, for a keel roller, the fade beyond its width, where its bracket takes over. A panel ends at the keel, which is an edge to a
   ball. Where the panels stand so steep that they are the stem, a wedge about the stem line takes over from them: its cover and
   theirs add up to one. A roller met end-on is thus pressed along the stem, and set aside when the stem is past its middle. */
#ifndef DD_FORCE_ROLLER_PATCH_H
#define DD_FORCE_ROLLER_PATCH_H
#include "lib/force/contact.h"
#include "lib/force/roller.h"
#include "lib/force/smooth.h"

enum { DD_PATCHES = 4 }; /* two panels and the two sides of the stem; or the keel on a roller and on its bracket */

typedef struct dd_patch {
    /* squash and its share */
    double share, depth, push, load; /* push: force by the squash; load: along the normal, more where that leans along the axle */
    dd_vec3 share_by_p;
    double share_xx, share_xy, share_yy;
    double stiffness;
    dd_squash squash;
    int keel;
    dd_nearest nearest;   /* of a panel */
    dd_keel_contact edge; /* of the keel */
    dd_vec3 normal, at;   /* out of the hull; where its force acts */
    double slant;         /* load / push */
    /* friction */
    dd_vec3 point, velocity, across, rolling; /* contact point, hull's velocity there, directions in the tangent plane */
    double across_length, renewal, renewal_by_speed;
    int slides;                     /* both ways alike: a skid, a bracket */
    dd_bristle bristle[DD_BRISTLES]; /* of a roller */
    dd_disc disc;                    /* of what slides */
    double coefficient[DD_BRISTLES];
    dd_vec3 normal_force, share_force, friction; /* share_force acts at p; on a panel it is within the normal force */
} dd_patch;

typedef struct dd_roller_state {
    const dd_roller *roller;
    dd_vec3 p, axle, linear, angular; /* boat axes; twist relative to the roller */
    const double *value;              /* of its bristles */
    double limit[DD_BRISTLES];        /* friction */
    double near;                      /* contacts that are clear by less are patches too, of a squash below 0; m */
    double gap;                       /* a move of p by less brings it to no contact that is not a patch, m; 0: not known */
    int patch_count;
    dd_patch patches[DD_PATCHES];
    double contact[DD_PATCHES]; /* 0..1 for the bristles, by patch */
} dd_roller_state;

/* A change of a roller's surroundings, and what it does to load and bristle rates. */
typedef struct dd_variation {
    dd_vec3 p, axle, linear, angular;
    double value[DD_BRISTLES];
    double limit; /* of a skid's friction */
} dd_variation;

/* Places the roller (centre and axis in the trailer frame), and finds its squash. */
void dd_roller_press(dd_roller_state *state, const dd_roller_instance *instance, const dd_roller *roller, const dd_kinematics *k,
                     dd_vec3 centre, dd_vec3 axis, int with_gradient);
/* The same of a roller whose place in boat axes and `near` are set. */
void dd_roller_meet(dd_roller_state *state, const dd_roller_instance *instance, int with_gradient);
/* Forces at the twist in state->linear and state->angular, relative to the roller. */
void dd_roller_rub(dd_roller_state *state, const dd_bristle_law *law);
/* Change of the roller's load, and of its bristles' rates. */
void dd_roller_vary(const dd_roller_state *state, const dd_variation *change, double wrench[6], double rate[DD_BRISTLES]);
/* The same of a change of the twist alone, linear and angular, to the last digit. */
void dd_roller_vary_twist(const dd_roller_state *state, dd_vec3 linear, dd_vec3 angular, double wrench[6], double rate[DD_BRISTLES]);
/* At rest: adds to a wrench what a move of the roller and a turn of its axle do to the load. */
void dd_roller_move_at_rest(const dd_roller_state *state, dd_vec3 moved, dd_vec3 turned, double wrench[6]);
/* At rest: adds to K, but for the columns that are left out (as in dd_kinematics). */
void dd_roller_stiffen(const dd_roller_state *state, int leave_out, double K[6][6]);
/* At rest, the change by the hull's twist (bristle rates) and by the bristles (load) alone. Both are added to; rate_by_twist
   may be NULL. */
void dd_roller_vary_at_rest(const dd_roller_state *state, double (*rate_by_twist)[6], double (*load_by_value)[6]);
/* Load, heat and bristle rates. */
void dd_roller_add(const dd_roller_state *state, dd_load *load, double rate[DD_BRISTLES]);

/* Arms: lib/force/roller_arm.c; at rest roller_arm_rest.c. */
/* The rollers of one arm, with all their gradients; channels_of is called for each when channels are wanted. */
typedef void (*dd_roller_channels)(const dd_roller_instance *instance, const dd_roller_state *state, const double *memory,
                                   double *channels);
void dd_arm_evaluate(const dd_roller_instance *instance, int arm, const dd_kinematics *k, const dd_memory *memory, dd_load *load,
                     dd_gradient *gradient, double *channels, int channel_count, dd_roller_channels channels_of);
/* The same in statics: the arm is brought to rest in memory->rests. */
void dd_arm_evaluate_resting(const dd_roller_instance *instance, int arm, const dd_kinematics *k, const dd_memory *memory, dd_load *load,
                             dd_gradient *gradient, double *channels, int channel_count, dd_roller_channels channels_of);
/* Its angle at rest at this pose, friction as it stands. */
double dd_arm_at_rest(const dd_roller_instance *instance, int arm, const dd_kinematics *k, const double *memory);
void dd_arm_turn(const dd_arm *arm, double angle, dd_vec3 *centre, dd_vec3 *axis);
/* Friction of a skid's place, and its derivative by how far the skid is wet. */
dd_smooth dd_skid_friction(const dd_roller *roller, double wet);
#endif
