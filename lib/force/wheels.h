/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DD_FORCE_WHEELS_H
#define DD_FORCE_WHEELS_H
#include "lib/force/bristle.h"
#include "lib/force/force.h"

/* Coefficients, read from `forces: {wheels: {...}}`. */
typedef struct dd_wheels_parameters {
    dd_bristle_law law;
    double response_time;   /* of the driver: speed error over acceleration, s */
    double correction_time; /* over which the driver takes out what error is left, s */
    double spinning_share;  /* friction of wheels that spin, share of what they have before */
    double chock_share;     /* grip of a chocked wheel, share of the friction under it */
} dd_wheels_parameters;

/* Memory: [0] the driver's correction (m/s), [1] front and [2] rear axle's bristle, [3...] the trailer's axles' (m); with soft
   ground then for each of these axles what it sank by standing, then for each its rut (m). */
enum { DD_WHEELS_DRIVER, DD_WHEELS_FRONT, DD_WHEELS_REAR, DD_WHEELS_TRAILER };
/* Axles that sink in: the count of each of the latter two; 0 on firm ground. */
int dd_wheels_sinking(const void *instance);

/* Winds up the bristles of a rig at rest by one common deflection so that the wheels' load on the rig's x grows by `missing`
   (N, generalised): called with what is left unbalanced, it lets brakes hold from the first instant. At most 0.95 of each
   wheel's limit. */
void dd_wheels_hold(const void *instance, const dd_kinematics *kinematics, const dd_commands *commands, double missing,
                    double *memory);
#endif
