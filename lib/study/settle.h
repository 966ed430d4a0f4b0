/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The equilibrium followed down the ramp and along the strap: for `settle`, and for tests that hold it against closed forms. */
#ifndef DD_STUDY_SETTLE_H
#define DD_STUDY_SETTLE_H
#include "lib/study/observe.h"
#include "lib/study/start.h"

/* One branch of equilibria: a friction state and the last pose found on it. */
typedef struct dd_settle {
    dd_study_model *m;
    dd_friction_state state;
    double *memory;
    dd_equilibrium at; /* the last equilibrium */
    double bend[DD_COORDINATES]; /* d(tangent)/d(rig x) over the last move down or up the ramp; 0 after any other */
    double stiffens[DD_COORDINATES][DD_COORDINATES]; /* d(stiffness)/d(rig x), likewise */
    double by_strap[DD_COORDINATES]; /* d(coordinates)/d(strap's length); known while it winds */
    bool winds;        /* that is known */
    double stride;     /* how long the last move down or up the ramp was, m; 0: it made none */
    int free;          /* DD_FREE_... */
    dd_friction_state held; /* that it was found with */
    bool pose_alone;        /* whether it is stable is not asked */
    bool swings;            /* its stern afloat nothing holds it sideways: its heading is kept as by a hand, until supports there carry again */
    bool gripped;           /* it leans, and the grip of its supports alone keeps it sideways and in its heading: until it stands up again */
    bool slides;            /* where its balance ends it goes on downhill to the next, however far that is, in place of ending there */
    bool stays_upright;     /* no balance at a heel is looked for where the upright one gives way: the branch ends there */
    double lean;            /* by which it last fell over onto a balance beside the upright one, rad, port side down > 0; 0: it has not */
} dd_settle;

/* Starts at rig x with the boat wound home there (or, home_x not NaN, wound home at home_x and then driven). */
dd_status dd_settle_begin(dd_study_model *model, dd_friction_state state, double x, double home_x, dd_settle *settle,
                          dd_error *error);
/* A second branch from the place of the first, under another friction state; that one takes effect with the next move. */
dd_status dd_settle_branch(const dd_settle *from, dd_friction_state state, dd_settle *to, dd_error *error);
/* Puts a branch where another stands (of the same model): pose, strap, friction. */
void dd_settle_copy(const dd_settle *from, dd_settle *to);
/* Moves to rig x from the last equilibrium and leaves the workspace evaluated there with channels and stiffness. Error
   DD_ERROR_NO_EQUILIBRIUM where the stable branch ends, and no balance at a heel of up to 15 degrees takes the boat up; settle then keeps its last equilibrium. At the present x: the balance
   next to settle->at.pose, for a pose, strap or level that the caller has changed. */
dd_status dd_settle_to(dd_settle *settle, double x, dd_error *error);
/* As dd_settle_to(), where another branch beside this one went from pose *from to pose *to on the way: the balance is expected where the
   same move leads to. */
dd_status dd_settle_beside(dd_settle *settle, double x, const dd_pose *from, const dd_pose *to, dd_error *error);
/* The same to rig x or to a length of strap (both as they are: another friction takes hold, or a pose that is expected), beside a branch that
   went from one equilibrium to another, whose stiffness is known: this one's then is guessed. memory: of that branch when it had got there;
   NULL: not known. */
dd_status dd_settle_along(dd_settle *settle, double x, double strap, const dd_equilibrium *from, const dd_equilibrium *to, const double *memory,
                          dd_error *error);
/* Winds the strap in or lets it out to an unstretched length, m, the rig standing; as dd_settle_to. */
dd_status dd_settle_strap_to(dd_settle *settle, double length, dd_error *error);
/* Winds the strap until the bow is at its stop with the strap's pretension, from where the branch stands. evaluated: the workspace stands there,
   under the branch's friction. *per_length: how what is wanted of the strap changes with its length, N/m, as far as it is known, else 0; becomes what
   it was near home. */
dd_status dd_settle_home(dd_settle *settle, bool evaluated, double *per_length, dd_error *error);
/* Evaluates where the branch stands, with its memory as it is. want: DD_WANT_... */
dd_status dd_settle_evaluate(const dd_settle *settle, int want, dd_error *error);
/* dd_system_heat() where it lies, moving. */
dd_status dd_settle_heat(const dd_settle *settle, const dd_motion *motion, const dd_force_kind *but, double *heat, dd_error *error);
void dd_settle_move_as(dd_pose *pose, const dd_pose *from, const dd_pose *to); /* *pose goes on as from one pose to another */
double dd_settle_strap(const dd_settle *settle); /* unstretched length let out, m; NaN without a strap */
void dd_settle_end(dd_settle *settle);
#endif
