/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The strap's length and the winch's handle, for whoever sets up a run or reads a timeline. */
#ifndef DD_FORCE_STRAP_H
#define DD_FORCE_STRAP_H
#include "lib/force/force.h"

/* Distance from the winch's drum to the bow eye, m. */
double dd_strap_distance(const dd_model *model, const dd_pose *pose);
/* Stiffness per strain, N: rating / stretch at the rating; an unrated strap counts as one of 12 kN. */
double dd_strap_rigidity(const dd_winch_parameters *winch);
/* Lever arm of the strap on the drum, m, with `wound` m of it wound on: middle of the top layer. */
double dd_winch_lever(const dd_winch_parameters *winch, double wound);
/* Force at the handle that holds or winds a tension, N: tension x lever / (gear ratio x handle x efficiency). */
double dd_winch_handle_force(const dd_winch_parameters *winch, double tension, double wound);
#endif
