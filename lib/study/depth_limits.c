/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far each limit of the band is kept. */
#include "lib/force/strap.h"
#include "lib/study/depth.h"
#include "lib/study/watch.h"
#include <math.h>

static const struct {
    int side;
    const char *words, *does;
} ends[DD_END_COUNT] = {
#define DD_DEPTH_END(id, side, words, does) {DD_END_##side, words, does},
#include "lib/study/depth_ends.def"
#undef DD_DEPTH_END
};
static const double length = 0.1;       /* m: what clearances and depths are measured by */
/* Of the loads of a boat that moves along its supports: what comes on gently counts 1.05-fold (EN 1991-3:2006, 2.6: phi2 min of hoisting class
   HC1, from memory). */
static const double moving = 1.05;

int dd_depth_end_side(dd_depth_end end) { return ends[end].side; }
const char *dd_depth_end_words(dd_depth_end end) { return ends[end].words; }
const char *dd_depth_end_does(dd_depth_end end) { return ends[end].does; }

static double of(double kept, double size) { return kept / (size > 0 ? size : 1); }

/* What depends on what is seen alone: least and most are one look, or a slide's extremes. */
static double by_sight(const dd_depth *d, dd_depth_end end, const double *least, const double *most)
{
    const dd_study_model *m = d->m;
    const dd_vehicle_parameters *vehicle = &m->rig->vehicle;
    const dd_trailer_parameters *t = &m->rig->trailer;
    const dd_limits *limits = &m->scenario.limits;
    const double coupled = d->way.loose ? NAN : 1; /* off the ball the vehicle stays ashore */
    switch (end) {
    case DD_END_WADING: return coupled * of(vehicle->wading_depth - most[DD_SEEN_VEHICLE_WHEEL_DEPTH], length);
    case DD_END_EXHAUST: return isnan(vehicle->exhaust_height) ? NAN : coupled * of(-most[DD_SEEN_EXHAUST_DEPTH], length);
    case DD_END_ACTUATOR: return isnan(t->actuator_height) ? NAN : of(-most[DD_SEEN_ACTUATOR_DEPTH], length);
    case DD_END_PLUG: return isnan(t->plug_height) ? NAN : of(-most[DD_SEEN_PLUG_DEPTH], length);
    case DD_END_HOT_HUB: return of(-most[DD_SEEN_HOT_HUB_DEPTH], length);
    case DD_END_TOE: return isfinite(least[DD_SEEN_TOE_DISTANCE]) ? of(least[DD_SEEN_TOE_DISTANCE], length) : NAN;
    case DD_END_HOLE: return of(DD_DEEP_HOLE - most[DD_SEEN_HOLE], length);
    case DD_END_FRAME: return of(least[DD_SEEN_FRAME_CLEARANCE], length);
    case DD_END_BOW_FRAME: return of(least[DD_SEEN_BOW_OVER_FRAME], length);
    case DD_END_LIFT: return coupled * of(limits->coupling_lift + least[DD_SEEN_COUPLING_LOAD], limits->coupling_lift);
    case DD_END_COUPLING: return coupled * of(t->coupling_rating - most[DD_SEEN_COUPLING_LOAD], t->coupling_rating);
    case DD_END_ROLLER: return of(100 - most[DD_SEEN_ROLLER_USE], 100);
    case DD_END_AXLES: return of(100 - most[DD_SEEN_AXLE_USE], 100);
    case DD_END_SHEER: return of(least[DD_SEEN_FREEBOARD], length);
    case DD_END_VEHICLE_FLOATS: return coupled * of(least[DD_SEEN_REAR_WHEELS] - DD_VEHICLE_FLOATS * vehicle->mass * m->model.gravity, vehicle->mass * m->model.gravity);
    default: return NAN;
    }
}

double dd_depth_kept_home(const dd_depth *d, dd_depth_end end, const dd_depth_look *look)
{
    const dd_study_model *m = d->m;
    const dd_trailer_parameters *t = &m->rig->trailer;
    const dd_limits *limits = &m->scenario.limits;
    const double *v = look->seen.v, coupled = d->way.loose ? NAN : 1, retrieve = d->way.launch ? NAN : 1;
    switch (end) {
    case DD_END_TOE: return by_sight(d, end, v, v) - of(look->rolls_back, length);
    case DD_END_HOLD: return coupled * of(limits->grip_low * look->hold_low - look->hold_needed, look->hold_low);
    case DD_END_PULL_OUT: return retrieve * coupled * of(limits->grip_low * look->drive_low - look->drive_needed, look->drive_low);
    case DD_END_TRAILER_FLOATS: return of(v[DD_SEEN_AXLE_LOAD] - 0.01 * t->mass * m->model.gravity, t->mass * m->model.gravity);
    case DD_END_FLOAT_OFF: return retrieve * of(v[DD_SEEN_WITHIN] - limits->stern_lift_share * d->weight, d->weight);
    default: return by_sight(d, end, v, v);
    }
}

double dd_depth_kept_slide(const dd_depth *d, dd_depth_end end, const dd_depth_slide *s)
{
    const dd_study_model *m = d->m;
    const dd_trailer_parameters *t = &m->rig->trailer;
    const dd_limits *limits = &m->scenario.limits;
    const double launch = d->way.launch ? 1 : NAN, retrieve = d->way.launch ? NAN : 1, size = 0.01 * d->weight, *least = s->least.v;
    const dd_system_force *strap = dd_system_find(m->system, &dd_force_strap);
    switch (end) {
    case DD_END_PUSH: return launch * of(d->way.push - s->push, d->way.push);
    case DD_END_THRUST: return d->way.engine ? launch * of(-s->push, size) : NAN;
    case DD_END_NOT_AFLOAT: return isnan(s->lost_at) && !s->sticks ? of(limits->afloat_share * d->weight - s->left, size) : NAN;
    case DD_END_TIPS: return isnan(s->lost_at) || s->sticks ? 1 : -1;
    case DD_END_BED: return launch * of(-s->bed, length * d->weight);
    case DD_END_LATCH: return retrieve * of(-s->bed, length * d->weight);
    case DD_END_RUNS: return d->way.engine ? NAN : launch * of(DD_RUNS_OFF - s->speed, DD_RUNS_OFF);
    case DD_END_TRANSOM: return of(least[DD_SEEN_TRANSOM_CLEARANCE] - limits->clearance, length);
    case DD_END_KEEL: return of(least[DD_SEEN_KEEL_CLEARANCE] + DD_KEEL_SQUASH, length);
    case DD_END_SKEG: return isnan(s->lost_at) && !s->sticks ? of(s->skeg - limits->skeg_clearance, length) : NAN;
    case DD_END_COUPLING_LIFT: return by_sight(d, DD_END_LIFT, least, s->most.v);
    case DD_END_ROLLER: return of(100 - (d->way.launch ? moving : 1) * s->most.v[DD_SEEN_ROLLER_USE], 100); /* a strap lets nothing run */
    case DD_END_SHEER_SLIDING: return of(least[DD_SEEN_FREEBOARD], length);
    case DD_END_PULL_OUT: return d->way.loose ? NAN : retrieve * of(limits->grip_low * s->start_low - s->start_needed, s->start_low);
    case DD_END_STRAP: return retrieve * of(t->winch.strap_rating - s->pull, t->winch.strap_rating);
    case DD_END_WINCH: return retrieve * of(t->winch.rating - s->pull, t->winch.rating);
    case DD_END_HANDLE: return retrieve * of(t->winch.hand_force_limit - s->handle, t->winch.hand_force_limit);
    case DD_END_STRAP_LENGTH: return strap == NULL || d->way.engine ? NAN : retrieve * of(dd_strap_whole_length(strap->instance) - s->strap, length);
    case DD_END_LIFT:  /* the boat's weight aft does that: the end before */
    case DD_END_SHEER: /* likewise */
        return NAN;
    default: return by_sight(d, end, least, s->most.v);
    }
}
