/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statics: rig and hull at rest under the same forces as the run, by Levenberg and Marquardt's method (GSL) on the sum of
   forces with the forces' own stiffness; no integrator takes part. */
#ifndef DD_MOTION_EQUILIBRIUM_H
#define DD_MOTION_EQUILIBRIUM_H
#include "lib/motion/system.h"

/* Coordinates of statics: those of the rig, then the hull's displacement against the trailer, boat axes. */
enum { DD_HULL_COORDINATE = DD_RIG_COORDINATES, DD_COORDINATES = DD_HULL_COORDINATE + 6 };
enum {
    DD_FREE_HEAVE = 1 << DD_RIG_HEAVE,
    DD_FREE_PITCH = 1 << DD_RIG_PITCH,
    DD_FREE_REACH = 1 << DD_RIG_REACH, /* these two only while the commands leave them free */
    DD_FREE_TILT = 1 << DD_RIG_TILT,
    DD_FREE_RIG = DD_FREE_HEAVE | DD_FREE_PITCH | DD_FREE_REACH | DD_FREE_TILT,
    DD_FREE_HULL_LENGTHWISE = 1 << DD_HULL_COORDINATE,
    DD_FREE_HULL_SIDEWAYS = 2 << DD_HULL_COORDINATE,
    DD_FREE_HULL_SINKAGE = 4 << DD_HULL_COORDINATE,
    DD_FREE_HULL_HEEL = 8 << DD_HULL_COORDINATE,
    DD_FREE_HULL_TRIM = 16 << DD_HULL_COORDINATE,
    DD_FREE_HULL_HEADING = 32 << DD_HULL_COORDINATE,
    DD_FREE_HULL = 63 << DD_HULL_COORDINATE, /* all six */
    /* a hull afloat with nothing to hold it */
    DD_FREE_HULL_UPRIGHT = DD_FREE_HULL_SINKAGE | DD_FREE_HULL_HEEL | DD_FREE_HULL_TRIM,
    DD_FREE_ALL = DD_FREE_RIG | DD_FREE_HULL,
    /* beside these, of a hull that is held lengthwise where the pose alone is asked for: K tells what moving it lengthwise does */
    DD_TELL_LENGTHWISE = 64 << DD_HULL_COORDINATE
};

/* Stiffness by the coordinates of statics close to a place; complete for the coordinates that are free in DD_FREE_..., 0: not known. */
typedef struct dd_stiffness_near {
    int free;
    bool guessed; /* by what led here: the workspace's gradients are not of here */
    double K[DD_COORDINATES][DD_COORDINATES];
} dd_stiffness_near;

typedef struct dd_equilibrium {
    dd_pose pose;
    double imbalance;          /* largest unbalanced force over the hull's weight (or the rig's without a hull) */
    double smallest_stiffness; /* where it is not stable: smallest eigenvalue of K over the free coordinates, N/m and N m scaled by
                                  1 m; NaN elsewhere */
    double gives_way[DD_COORDINATES]; /* where it is not stable: that eigenvalue's direction, of length 1; 0 elsewhere */
    double tangent[DD_COORDINATES]; /* d(coordinates)/d(rig x) along the branch, memory as it stands; directions in which
                                       nothing holds the boat are left alone */
    double roll_stiffness;     /* about the hull's long axis through its centre, sway and yaw about the vertical
                                    condensed where they are held, N m/rad; a keel line that no shape holds
                                    sideways is held by the grip of its rollers */
    int gripped;               /* it leans, and the grip of its supports alone keeps it sideways and in its heading */
    dd_stiffness_near near;    /* there or close by */
    int stable;                /* smallest_stiffness not below -1e-6 of the weight per metre */
} dd_equilibrium;

/* Starts from *start; rig x is kept. memory: the forces' memory, held fixed (friction as it stands) but for parts that move by
   themselves: those are brought to rest at each pose, and left so in memory. free: which coordinates move (reach and tilt only
   while the commands leave them free). Errors: DD_ERROR_NO_EQUILIBRIUM with the force or moment short. On success workspace
   holds the evaluation with channels and stiffness at the equilibrium. */
dd_status dd_equilibrium_find(dd_workspace *workspace, double time, const dd_pose *start, double *memory, int free,
                              dd_equilibrium *result, dd_error *error);
/* The same without letting the hull slide lengthwise until something holds it: it belongs where it lies. */
dd_status dd_equilibrium_creep(dd_workspace *workspace, double time, const dd_pose *start, double *memory, int free,
                               dd_equilibrium *result, dd_error *error);
/* The same from a pose that is nearly it, by Newton's method alone: quick, and gives up where that does not lead there at once.
   pose_alone: stability and roll stiffness are not asked for (stable 1, NaN), and the gradients and the tangent are those of a pose
   close by. */
dd_status dd_equilibrium_follow(dd_workspace *workspace, double time, const dd_pose *start, double *memory, int free,
                                bool pose_alone, dd_equilibrium *result, dd_error *error);
/* Adds to K what it became more between two other places; known where all three are. */
void dd_stiffness_as(dd_stiffness_near *near, const dd_stiffness_near *from, const dd_stiffness_near *to);
/* The same, begun by what K is guessed to be at *start; NULL, or not known for what is free: it is evaluated. */
dd_status dd_equilibrium_follow_by(dd_workspace *workspace, double time, const dd_pose *start, double *memory, int free, bool pose_alone,
                                   const dd_stiffness_near *near, dd_equilibrium *result, dd_error *error);
/* The balance below *pose, which it becomes, by descent on the energy: sure where supports only just touch, for poses without friction.
   enough: imbalance that counts as none, of the weight. The workspace holds the evaluation with channels and stiffness there. Errors:
   DD_ERROR_NO_EQUILIBRIUM, DD_ERROR_MEMORY; *pose and memory then stay. */
dd_status dd_equilibrium_descend(dd_workspace *workspace, double time, dd_pose *pose, double *memory, int free, double enough, dd_error *error);
/* The same where what pulls is wanted by where the boat lies. set: at a place of the search, the workspace evaluated there and `left` of the weight unbalanced, puts
   the plan as it is wanted: by little that counts; the workspace's loads with it, by scale; or where there was nothing to scale, to be evaluated anew. */
typedef enum dd_wanted_change { DD_WANTED_LITTLE, DD_WANTED_SCALED, DD_WANTED_ANEW } dd_wanted_change;
typedef struct dd_wanted {
    dd_wanted_change (*set)(double left, void *context);
    void *context;
} dd_wanted;
dd_status dd_equilibrium_descend_as(dd_workspace *workspace, double time, dd_pose *pose, double *memory, int free, double enough, const dd_wanted *wanted, dd_error *error);
/* What the free coordinates yield by under small loads on them, at the workspace's evaluation (with stiffness): loads in *q become
   displacements; coordinates that are not free stand still. Directions in which nothing holds the boat are left alone. false: no
   solution, *q spoilt. */
bool dd_equilibrium_yield(dd_workspace *workspace, int free, double q[DD_COORDINATES]);
/* How far the hull stands from where it stood, against the trailer: shift plus turn times arm, m. */
double dd_pose_distance(const dd_pose *a, const dd_pose *b, double arm);
/* Unbalanced loads by the coordinates of statics at the workspace's evaluation. The rig's coordinates carry the hull along, so world
   forces on the hull load them too. */
void dd_unbalanced(const dd_workspace *workspace, double load[DD_COORDINATES]);
/* Stiffness by the coordinates of statics at the workspace's evaluation (with gradient or stiffness); moving parts follow. */
void dd_stiffness(const dd_workspace *workspace, double K[DD_COORDINATES][DD_COORDINATES]);
/* Roll stiffness as in dd_equilibrium at the workspace's evaluation (with gradient), N m/rad. */
double dd_roll_stiffness(const dd_workspace *workspace);
#endif
