/* SPDX-License-Identifier: GPL-3.0-or-later */
/* When a step's end has come: what `until` names, or what the action itself aims at. */
#include "lib/crew/actions.h"

static const double taut = 50.0; /* N: a strap with less hangs through */

/* How far the rig goes on once its driver begins to stop: half of what the smooth stop takes. */
static double stopping_way(const dd_step *step, double speed)
{
    return fabs(speed) * 0.5 * fmax(0.2, 1.5 * fabs(speed) / step->acceleration);
}

static bool has_moved(const dd_step *step, const dd_observation *seen, const dd_procedure *p)
{
    return fabs(seen->rig_way - p->way_at_start) + stopping_way(step, seen->rig_speed) >= step->distance;
}

/* What the action itself aims at. */
static bool aim_reached(const dd_step *step, const dd_crew *crew, const dd_observation *seen, const dd_procedure *p)
{
    const double since = seen->time - p->step_start;
    switch (step->kind) {
    case DD_STEP_STOP: return since > 1.0 && fabs(seen->rig_speed) < 1e-3;
    case DD_STEP_PUSH_OFF: return seen->afloat && seen->distance_clear > 0.5;
    case DD_STEP_WIND_IN:
    case DD_STEP_DRIVE_ON: return seen->stop_gap <= 0.25 * crew->limits->stop_gap;
    case DD_STEP_DRIVE_OFF: return seen->distance_clear > 2.0;
    case DD_STEP_TAKE_UP_SLACK: return seen->strap_tension >= step->tension;
    case DD_STEP_BACK_DOWN:
    case DD_STEP_LOWER:
    case DD_STEP_PAY_OUT: return seen->afloat != 0;
    case DD_STEP_PULL_OUT:
    case DD_STEP_HAUL_OUT: return seen->hub_depth < -0.3;
    case DD_STEP_WAIT: return since >= 5.0;
    case DD_STEP_HOLD_LINE: return since >= 1.0;
    case DD_STEP_ENGINE_UP: return since >= step->takes + 0.4;
    default: return isnan(step->takes) || since >= step->takes;
    }
}

bool dd_step_reached(const dd_step *step, const dd_crew *crew, const dd_observation *seen, const dd_procedure *p)
{
    const dd_until *until = &step->until;
    const bool out = step->kind == DD_STEP_PULL_OUT || step->kind == DD_STEP_HAUL_OUT;
    bool any = false, met = false;
#define CONDITION(given, holds)                                                                                                \
    do {                                                                                                                       \
        if (given) {                                                                                                           \
            any = true;                                                                                                        \
            met |= (holds);                                                                                                    \
        }                                                                                                                      \
    } while (0)
    CONDITION(!isnan(until->hub_depth), out ? seen->hub_depth <= until->hub_depth : seen->hub_depth >= until->hub_depth);
    CONDITION(!isnan(until->rear_support_depth), out ? seen->rear_support_depth <= until->rear_support_depth
                                                     : seen->rear_support_depth >= until->rear_support_depth);
    CONDITION(!isnan(until->after), seen->time - p->step_start >= until->after);
    CONDITION(!isnan(until->distance_clear), seen->distance_clear >= until->distance_clear);
    CONDITION(!isnan(until->bow_distance), seen->distance_clear <= until->bow_distance);
    CONDITION(!isnan(until->water_clear), -seen->hub_depth >= until->water_clear);
    CONDITION(!isnan(until->distance), fabs(seen->rig_way - p->way_at_start) >= until->distance);
    CONDITION(!isnan(until->trailer_distance), step->kind == DD_STEP_LOWER ? seen->trailer_distance >= until->trailer_distance
                                                                           : seen->trailer_distance <= until->trailer_distance);
    CONDITION(step->distance > 0, has_moved(step, seen, p));
    CONDITION(until->afloat == 1, seen->afloat != 0);
    CONDITION(until->at_the_stop == 1, seen->stop_gap <= 0.25 * crew->limits->stop_gap);
    CONDITION(until->captured == 1, seen->captured != 0);
    CONDITION(until->clear_of_rollers == 1, seen->carried == 0);
    CONDITION(until->slack_taken_up == 1, seen->strap_tension >= taut);
#undef CONDITION
    return any ? met : aim_reached(step, crew, seen, p);
}
