/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of dd_settle share: settle.c follows a branch, settle_falls.c looks on where its balance gives way. */
#ifndef DD_STUDY_SETTLE_PARTS_H
#define DD_STUDY_SETTLE_PARTS_H
#include "lib/study/settle.h"

/* With friction at its limits K is not the slope of an energy: only the frictionless branch says where the boat falls. */
static inline bool dd_settle_pose_alone(const dd_settle *s) { return s->pose_alone || s->state != DD_FRICTION_NONE; }
bool dd_settle_leans(const dd_settle *settle);
bool dd_settle_stern_is_carried(const dd_settle *settle); /* by a support at the boat's centre or aft of it, at the workspace's evaluation */
/* The stern afloat, the bow held: a strap that pulls from aft of where the stem meets the stop pushes the boat end-on, which turns its
   stern out. It swings and does not fall; a hand on the stern keeps it straight. Changes *next then. */
void dd_settle_keep_heading(dd_settle *settle, dd_equilibrium *next);
/* Downhill from a place that holds it no longer to the next that does. */
dd_status dd_settle_slip_down(dd_settle *settle, const dd_pose *from, dd_equilibrium *next, dd_error *error);
/* The same from a balance that is not stable, *next, which it becomes: pushed off it, to the nearer side. */
dd_status dd_settle_slide_off(dd_settle *settle, dd_equilibrium *next, dd_error *error);
/* Where only the heel makes the upright pose give way, the boat leans over until something takes it up, a skid beside the keel or the
   water: onto the nearer of both sides. On plain keel rollers nothing but their grip keeps it from sliding off sideways meanwhile.
   Changes *next then. */
void dd_settle_lean_over(dd_settle *settle, dd_equilibrium *next);
/* The heel taken off a pose of a boat that leans: where the balance at a heel has ended it stands up to here. At once, or by and by with
   all else at rest. */
dd_status dd_settle_stand_up(dd_settle *settle, const dd_pose *from, dd_equilibrium *next, dd_error *error);
#endif
