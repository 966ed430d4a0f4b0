/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The trailer's coupling: on the ball, off it, and what it loads the ball with. */
#ifndef DD_FORCE_COUPLING_H
#define DD_FORCE_COUPLING_H
#include "lib/force/jet.h"
#include "lib/force/rope.h"
#include "lib/force/soil.h"

#define DD_COUPLING_HAND 0.1 /* m, a hand's breadth: people can lift or push the coupling so far onto the ball */

static inline bool dd_off_the_ball(const dd_rig *rig, const dd_commands *commands) { return rig->uncouples && commands->uncoupled; }
/* Whether people can close the coupling that stands so far seaward of the ball and above it (m): within a hand's breadth. */
static inline bool dd_coupling_can_close(double seaward, double above)
{
    return fabs(seaward) <= DD_COUPLING_HAND && fabs(above) <= DD_COUPLING_HAND;
}

/* How far the unloaded ball's place has sunk with the vehicle's wheels, m; 0 on firm ground. */
static inline double dd_ball_drop(const dd_model *model, const dd_kinematics *k)
{
    return dd_ramp_soft(model->ramp) ? dd_ball_sinks(model->rig, model->ramp, model->gravity, k, false).drop : 0;
}
/* Load of the coupling on the ball, at rest, N. */
static inline double dd_ball_holds(const dd_model *model, const dd_kinematics *k)
{
    return dd_ramp_soft(model->ramp) ? dd_ball_sinks(model->rig, model->ramp, model->gravity, k, true).force
                                     : -model->rig->ball_stiffness * k->pose.rig[DD_RIG_HEAVE];
}

/* What the vehicle gets from the trailer at ball and tow point, seaward and down. axles: what the trailer's wheels push the
   coupling with, seaward, while it is on the ball. sand: how the vehicle sinks; NULL on firm ground. */
static inline void dd_ball_load(const dd_rig *rig, const dd_ball_in_sand *sand, const dd_kinematics *k, const dd_commands *commands, dd_jet axles, dd_jet *seaward,
                                dd_jet *down)
{
    if (dd_off_the_ball(rig, commands)) {
        dd_rope_pull rope = dd_rope_made_fast(rig, k, commands);
        *seaward = dd_jet_scale(-1, rope.on_reach);
        *down = rope.on_heave;
        return;
    }
    *seaward = axles;
    *down = dd_jet_of(-rig->ball_stiffness * k->pose.rig[DD_RIG_HEAVE] - rig->ball_damping * k->motion.rig[DD_RIG_HEAVE]);
    down->d[DD_RIG_HEAVE] = -rig->ball_stiffness;
    if (sand != NULL) {
        down->v = sand->force - rig->ball_damping * k->motion.rig[DD_RIG_HEAVE];
        down->d[DD_RIG_HEAVE] = sand->by_heave;
        down->d[DD_RIG_X] = sand->by_x;
    }
    down->d[DD_JET_RATE + DD_RIG_HEAVE] = -rig->ball_damping;
}
#endif
