/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rope between the vehicle's tow point, at the ball, and the trailer's coupling. Its span is (reach, heave), so it loads no
   other coordinate: vehicle and trailer get equal and opposite pulls. */
#ifndef DD_FORCE_ROPE_H
#define DD_FORCE_ROPE_H
#include "lib/force/jet.h"
#include "lib/force/taut.h"

#define DD_ROPE_IN_HAND 1.0 /* m of rope round the bar and in the hand, that stretches as well */

typedef struct dd_rope_pull {
    dd_jet on_reach, on_heave; /* load on these coordinates, N */
    double distance, rate, stretch, stretching, tension, tension_by_length, energy, elastic;
} dd_rope_pull;

/* length: of the slack rope out, m; beyond: of what stretches beside it. */
static inline dd_rope_pull dd_rope_at(const dd_rig *rig, const dd_kinematics *k, double length, double beyond)
{
    dd_rope_pull p = {.distance = 0};
    dd_jet reach = dd_jet_of(k->pose.rig[DD_RIG_REACH]), heave = dd_jet_of(k->pose.rig[DD_RIG_HEAVE]);
    dd_jet faster = dd_jet_of(k->motion.rig[DD_RIG_REACH]), higher = dd_jet_of(k->motion.rig[DD_RIG_HEAVE]);
    reach.d[DD_RIG_REACH] = heave.d[DD_RIG_HEAVE] = 1;
    faster.d[DD_JET_RATE + DD_RIG_REACH] = higher.d[DD_JET_RATE + DD_RIG_HEAVE] = 1;
    dd_jet square = dd_jet_dot(reach, reach, heave, heave);
    p.distance = fmax(sqrt(square.v), 1e-6); /* on the ball: no direction, and slack */
    dd_jet distance = dd_jet_apply(square, p.distance, 0.5 / p.distance);
    dd_jet inverse = dd_jet_apply(distance, 1 / p.distance, -1 / (p.distance * p.distance));
    dd_jet rate = dd_jet_mul(dd_jet_dot(reach, faster, heave, higher), inverse);
    p.rate = rate.v;
    p.stretch = p.distance - length;
    const double stiffness = rig->rope_rigidity / (length + beyond), time = rig->rope_damping / stiffness;
    dd_taut t = dd_taut_at(stiffness, time, p.stretch, rate.v);
    p.stretching = length + beyond;
    p.tension = t.tension;
    p.elastic = t.elastic;
    p.energy = t.energy;
    p.tension_by_length = -t.by_stretch - (t.tension - t.by_time * time) / p.stretching;
    dd_jet tension = dd_jet_apply2(distance, rate, t.tension, t.by_stretch, t.by_rate);
    dd_jet over = dd_jet_scale(-1, dd_jet_mul(tension, inverse));
    p.on_reach = dd_jet_mul(over, reach);
    p.on_heave = dd_jet_mul(over, heave);
    return p;
}

/* The same of a rope made fast, as the vehicle's wheels see it: nothing where it is not hooked, or where a hand holds its end
   (what the hand lets out is the rope's own memory). */
static inline dd_rope_pull dd_rope_made_fast(const dd_rig *rig, const dd_kinematics *k, const dd_commands *commands)
{
    if (!commands->rope_hooked || !(rig->rope_rigidity > 0) || rig->trailer.rope.turns > 0)
        return (dd_rope_pull){.on_reach = dd_jet_of(0)};
    return dd_rope_at(rig, k, rig->trailer.rope.length, 0);
}
/* Times the hand's hold that a rope bears before it slips on the bar: exp(friction x angle). */
double dd_capstan_ratio(double turns, double friction);
#endif
