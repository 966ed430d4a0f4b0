/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the rollers' files share. */
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
    dd_water water;
    double gravity;
    dd_bristle_law law, arm_law; /* the latter for rollers on an arm that turns: it has no inertia */
    dd_stem stem;
    double first, last; /* X of the ends of the hull's lines: no panel is before or beyond */
} dd_roller_instance;

/* Memory: DD_BRISTLES deflections of each roller or place of a skid (m), then of each skid how far it is wet from its rear end
   (m), then the angle of each arm (rad). */
enum { DD_ACROSS, DD_ROLLING, DD_BRISTLES };
static inline int dd_roller_wet_first(const dd_roller_instance *instance) { return DD_BRISTLES * instance->rig->roller_count; }
static inline int dd_roller_arm_first(const dd_roller_instance *instance)
{
    return dd_roller_wet_first(instance) + instance->rig->skid_count;
}
/* Friction limit of that bristle as memory has it: a skid's goes from dry to wet. memory: the force's own. */
double dd_roller_friction_limit(const dd_roller_instance *instance, int roller, int bristle, const double *memory);
/* Where the side grip of a roller comes to under a hull that is drawn ahead along its keel, m: a V that rises ahead slides along an axle that leans. Rolling
   renews it within a roller's width, so that it is the steady one. Of skids and keel rollers: 0. memory: the force's own; by: load_by_value of its two bristles,
   evaluated here. */
double dd_roller_drawn_over(const dd_roller_instance *instance, int roller, const dd_kinematics *kinematics, const double *memory, double (*by)[6]);
/* Centre and axle of a roller in the trailer frame with its arm at the angle in memory; without memory, at angle 0. */
void dd_roller_stands(const dd_roller_instance *instance, int roller, const double *memory, dd_vec3 *centre, dd_vec3 *axis);

extern const dd_regime dd_roller_regimes[];
#endif
