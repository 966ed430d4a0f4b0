/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Water on the rigid parts of the rig: shared by the rig's buoyancy, its drag and the loads under the vehicle's wheels. */
#ifndef DD_FORCE_RIG_WATER_H
#define DD_FORCE_RIG_WATER_H
#include "lib/state/kinematics.h"
#include <stdbool.h>

/* A part's reference point: the vehicle's rear contact for the first two, the trailer's coupling for the others. */
enum { DD_WET_BODY, DD_WET_VEHICLE_TYRES, DD_WET_TRAILER_TYRES, DD_WET_FRAME, DD_WET_PARTS };
enum { DD_WET_X, DD_WET_Z, DD_WET_PITCH, DD_WET_COORDINATES }; /* world place of that point, and the part's pitch */

/* Energy of the displaced water, its gradient and second derivatives: the force on the part is minus the gradient. */
typedef struct dd_wet {
    double energy, gradient[DD_WET_COORDINATES], curvature[DD_WET_COORDINATES][DD_WET_COORDINATES];
    double energy_rate;                                /* by the water's own motion, the part at rest, W */
    double area, area_gradient[DD_WET_COORDINATES];    /* facing along the path, wetted, m2 */
} dd_wet;

/* Adds one part's water; false, and nothing added, while it is dry. curved: with the curvature and the area's gradient. */
bool dd_rig_wet_add(const dd_rig *rig, const dd_water *water, double gravity, const dd_kinematics *kinematics, int part,
                    bool curved, dd_wet *wet);
static inline bool dd_wet_part_of_vehicle(int part) { return part <= DD_WET_VEHICLE_TYRES; }
/* Displacement of a part's reference point by a rig coordinate, and the second derivative by the rig's x (of column x only). */
void dd_wet_columns(const dd_kinematics *kinematics, bool of_vehicle, double column[DD_RIG_COORDINATES][DD_WET_COORDINATES],
                    double second[DD_WET_COORDINATES]);
#endif
