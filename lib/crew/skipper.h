/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The person at the helm. He looks ten times in two seconds, sees heading and offset of the bow, the way to go and the speed over
   the trailer, acts on what he saw a delay ago, and aims at a point of the trailer's centre line a look-ahead before the bow,
   beside it by a slow noise of his own. */
#ifndef DD_CREW_SKIPPER_H
#define DD_CREW_SKIPPER_H
#include "lib/motion/system.h"
#include <drawdock/case.h>
#include <stdint.h>

enum { DD_SKIPPER_VIEWS = 20 };
static const double dd_skipper_period = 0.2; /* between two looks, s */

typedef struct dd_skipper_view {
    double heading, offset, to_go, approach; /* to_go: of the stem to the stop, m */
} dd_skipper_view;

/* Plain data. */
typedef struct dd_skipper_state {
    int sense;   /* 1 driving on, -1 backing off, 0 not at the helm */
    int views;   /* taken so far, the newest at (views - 1) % DD_SKIPPER_VIEWS */
    dd_skipper_view seen[DD_SKIPPER_VIEWS];
    double next; /* time of his next look, s */
    double noise, trim; /* beside the point he aims at, m; throttle that he has found to be needed */
    uint64_t random;
} dd_skipper_state;

/* Takes the helm at a time; the random stream goes on where it was. */
void dd_skipper_begin(dd_skipper_state *state, int sense, double time);
/* One look; sets helm and throttle of the plan from now on. speed and most_throttle: of the step. */
void dd_skipper_look(dd_skipper_state *state, const dd_skipper *skipper, const dd_skipper_view *view, double time, double speed,
                     double most_throttle, dd_plan *plan);
/* Gives the helm up: throttle to what is to be held, helm amidships. */
void dd_skipper_end(dd_skipper_state *state, const dd_skipper *skipper, double time, double hold_throttle, dd_plan *plan);
/* Uniform in (0, 1), and standard normal, from the state's stream. */
double dd_skipper_uniform(uint64_t *random);
double dd_skipper_normal(uint64_t *random);
#endif
