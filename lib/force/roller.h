/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the rollers' two files share. */
#ifndef DD_FORCE_ROLLER_H
#define DD_FORCE_ROLLER_H
#include "lib/force/bristle.h"
#include "lib/force/force.h"

typedef struct dd_roller_coefficients {
    dd_bristle_law law;
} dd_roller_coefficients;

typedef struct dd_roller_instance {
    const dd_hull *hull;
    const dd_rig *rig;
    dd_bristle_law law;
} dd_roller_instance;

extern const dd_regime dd_roller_regimes[];
#endif
