/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keys of safety chain and transom ties. */
#ifndef DD_RIG_LINES_H
#define DD_RIG_LINES_H
#include "lib/rig/rig.h"
extern const dd_key dd_chain_keys[], dd_ties_keys[];
/* Stiffness per strain, N: rating / stretch at the rating; an unrated chain counts as one of 10 kN, an unrated tie as one of 5 kN, and
   neither is then checked against them. */
double dd_chain_rigidity(const dd_chain_parameters *chain);
double dd_tie_rigidity(const dd_ties_parameters *ties);
#endif
