/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DD_FORCE_LINE_H
#define DD_FORCE_LINE_H
#include "lib/force/force.h"
/* Makes the ties fast where the hull is: their memory becomes the lengths that have the pretension. */
void dd_ties_fasten(const void *instance, const dd_kinematics *kinematics, double *memory);
#endif
