/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/crew/skipper.h"
#include "lib/base/vector.h"
#include <math.h>

static const double noise_time = 2.0;      /* s: over which the point that he aims at wanders */
static const double turn_seen_over = 0.4;  /* s: over which he sees the bow swing */
static const double slow_gap = 1.5;        /* m: nearer than this he goes slower ... */
static const double slowest = 0.25;        /* m/s ... down to this */
static const double throttle_by_speed = 0.35, throttle_rate = 0.15; /* share of throttle a m/s, and a m/s s */
static const double throttle_time = 0.4;   /* s: throttle off */

double dd_skipper_uniform(uint64_t *random)
{
    /* 64-bit linear congruential generator, its top 53 bits, never 0 */
    *random = *random * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return ((double)(*random >> 11) + 0.5) * (1.0 / 9007199254740992.0);
}

double dd_skipper_normal(uint64_t *random)
{
    const double size = sqrt(-2 * log(dd_skipper_uniform(random)));
    return size * cos(8 * atan(1.0) * dd_skipper_uniform(random));
}

void dd_skipper_begin(dd_skipper_state *s, int sense, double time)
{
    s->sense = sense;
    s->views = 0;
    s->next = time;
    s->noise = s->trim = 0;
}

/* What he saw a delay ago, between two looks; what he saw first before that. */
static dd_skipper_view remembered(const dd_skipper_state *s, double delay)
{
    const double back = fmin(delay / dd_skipper_period, DD_SKIPPER_VIEWS - 2.0);
    const int whole = (int)back, newest = s->views - 1;
    const double part = back - whole;
    const dd_skipper_view *a = &s->seen[(newest - whole > 0 ? newest - whole : 0) % DD_SKIPPER_VIEWS];
    const dd_skipper_view *b = &s->seen[(newest - whole - 1 > 0 ? newest - whole - 1 : 0) % DD_SKIPPER_VIEWS];
    return (dd_skipper_view){.heading = a->heading + part * (b->heading - a->heading),
                             .offset = a->offset + part * (b->offset - a->offset),
                             .to_go = a->to_go + part * (b->to_go - a->to_go),
                             .approach = a->approach + part * (b->approach - a->approach)};
}

/* Throttle for the speed he wants: by the error, and by what he has found to be needed. */
static double throttle_for(dd_skipper_state *s, const dd_skipper_view *v, double speed, double most)
{
    double wanted = speed;
    if (s->sense > 0 && v->to_go < slow_gap) wanted = fmin(speed, fmax(slowest, speed * v->to_go / slow_gap));
    const double error = s->sense * wanted - v->approach; /* ahead */
    s->trim = fmax(-most, fmin(most, s->trim + throttle_rate * dd_skipper_period * error));
    return fmax(-most, fmin(most, s->trim + throttle_by_speed * error));
}

void dd_skipper_look(dd_skipper_state *s, const dd_skipper *skipper, const dd_skipper_view *view, double time, double speed,
                     double most_throttle, dd_plan *plan)
{
    const double kept = exp(-dd_skipper_period / noise_time);
    s->seen[s->views % DD_SKIPPER_VIEWS] = *view;
    s->views++;
    s->noise = kept * s->noise + sqrt(1 - kept * kept) * skipper->aim_noise * dd_skipper_normal(&s->random);
    s->next = time + dd_skipper_period;
    const dd_skipper_view v = remembered(s, skipper->delay);
    const double throttle = throttle_for(s, &v, speed, most_throttle);
    /* A bow to port of where he aims has to turn to starboard going ahead, to port going astern. */
    const double wanted = -s->sense * atan2(v.offset - s->noise, skipper->look_ahead), now = dd_ramped_at(&plan->helm, time);
    const dd_skipper_view before = remembered(s, skipper->delay + turn_seen_over);
    const double turn = (v.heading - before.heading) / turn_seen_over;
    double helm = skipper->gain * (wanted - v.heading - skipper->anticipation * turn);
    if (throttle < 0) helm = -helm; /* the propeller pulls the stern where it pushed it */
    helm = fmax(-skipper->helm_limit, fmin(skipper->helm_limit, helm));
    const double most = skipper->helm_rate * dd_skipper_period;
    helm = fmax(now - most, fmin(now + most, helm));
    dd_ramped_move(&plan->helm, helm, time, dd_skipper_period);
    dd_ramped_move(&plan->throttle, throttle, time, dd_skipper_period);
}

void dd_skipper_end(dd_skipper_state *s, const dd_skipper *skipper, double time, double hold_throttle, dd_plan *plan)
{
    s->sense = 0;
    dd_ramped_move(&plan->throttle, hold_throttle, time, throttle_time);
    const double helm = dd_ramped_at(&plan->helm, time);
    dd_ramped_move(&plan->helm, 0, time, fmax(throttle_time, 1.5 * fabs(helm) / fmax(skipper->helm_rate, 0.01)));
}
