/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DD_FORCE_LINE_H
#define DD_FORCE_LINE_H
#include "lib/force/force.h"
/* Makes ties, or a chain, fast where the hull is: their memory becomes their free lengths. */
void dd_lines_fasten(const void *instance, const dd_kinematics *kinematics, double *memory);
#endif
