/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The strap's length and the winch's handle, for whoever sets up a run or reads a timeline. */
#ifndef DD_FORCE_STRAP_H
#define DD_FORCE_STRAP_H
#include "lib/force/force.h"
#include "lib/rig/winch.h"

/* Distance from the winch's drum to the bow eye, m. */
double dd_strap_distance(const dd_model *model, const dd_pose *pose);
/* Stiffness per strain, N: rating / stretch at the rating; an unrated strap counts as one of 12 kN. */
double dd_strap_rigidity(const dd_winch_parameters *winch);
/* Whole length of the strap of an instance, m. */
double dd_strap_whole_length(const void *instance);
#endif
