/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The propeller as the thrust force has it, for what its wash does. */
#ifndef DD_FORCE_THRUST_H
#define DD_FORCE_THRUST_H
#include "lib/force/force.h"

typedef struct dd_propeller {
    dd_vec3 at;      /* its centre, engine down, boat axes, m */
    double diameter; /* m */
    double thrust;   /* at rest, full ahead, N */
} dd_propeller;
dd_propeller dd_thrust_propeller(const void *instance);
#endif
