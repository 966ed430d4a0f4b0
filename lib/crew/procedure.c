/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/crew/procedure.h"
#include "lib/crew/steps.h"

/* Hand and foot movements: how long a person takes to set or release a brake, and to stop turning a handle. */
static const double brake_movement = 0.5, handle_movement = 0.2, reaction = 0.5, hand_reaction = 0.2;
/* The last bit home is wound slowly: from this gap, at this speed. */
static const double careful_gap = 0.15, careful_speed = 0.02;
/* Over this share of the force that should not be exceeded nobody turns the handle any more (an isometric pull of about 325 N
   over 130 N; order of magnitude as in the published pulls of 222 to 400 N). */
static const double most_hand_force = 2.5;

const char *dd_step_name(int kind) { return kind >= 0 && kind < DD_STEP_KIND_COUNT ? dd_step_variants[kind].name : "?"; }

static void move_to(dd_ramped *command, double to, double start, double duration)
{
    *command = (dd_ramped){.from = dd_ramped_at(command, start), .to = to, .start = start, .duration = duration};
}

static double speed_change(const dd_step *step, double from, double to)
{
    return fmax(0.2, 1.5 * fabs(to - from) / step->acceleration); /* a smooth step is 1.5 times as steep in its middle */
}

static void drive(const dd_step *step, double speed, double time, dd_plan *plan)
{
    move_to(&plan->brake, 0.0, time, brake_movement);
    move_to(&plan->drive_speed, speed, time, speed_change(step, dd_ramped_at(&plan->drive_speed, time), speed));
}

static void halt(const dd_step *step, double time, dd_plan *plan)
{
    double duration = speed_change(step, dd_ramped_at(&plan->drive_speed, time), 0.0);
    move_to(&plan->drive_speed, 0.0, time, duration);
    plan->brake =
        (dd_ramped){.from = dd_ramped_at(&plan->brake, time), .to = 1.0, .start = time + duration, .duration = brake_movement};
}

/* Returns 1 when the forces jump, 2 for a smooth change. */
static int act(const dd_step *step, double time, dd_plan *plan)
{
    switch (step->kind) {
    case DD_STEP_BACK_DOWN:
        drive(step, step->speed, time, plan);
        return 2;
    case DD_STEP_PULL_OUT:
        drive(step, -step->speed, time, plan);
        return 2;
    case DD_STEP_STOP:
        halt(step, time, plan);
        return 2;
    case DD_STEP_STRAP_OFF:
        plan->set.strap_hooked = 0;
        return 1;
    case DD_STEP_HOOK_ON:
        plan->set.strap_hooked = 1;
        return 1;
    case DD_STEP_PUSH_OFF:
        move_to(&plan->push_force, step->force, time, 1.0);
        return 2;
    case DD_STEP_WIND_IN:
        move_to(&plan->wind_speed, step->speed, time, 1.0);
        return 2;
    default:
        return 0;
    }
}

/* What a person does once the end condition is seen; returns how long that takes, s. */
static double let_go(const dd_step *step, double time, dd_plan *plan)
{
    switch (step->kind) {
    case DD_STEP_BACK_DOWN:
    case DD_STEP_PULL_OUT:
        halt(step, time + reaction, plan);
        return plan->brake.start + plan->brake.duration - time;
    case DD_STEP_PUSH_OFF:
        move_to(&plan->push_force, 0.0, time, 0.5);
        return 0.5;
    case DD_STEP_WIND_IN:
        move_to(&plan->wind_speed, 0.0, time + hand_reaction, handle_movement);
        return hand_reaction + handle_movement;
    default:
        return hand_reaction; /* the next action begins at a time that does not hang on the integrator's steps */
    }
}

static bool reached(const dd_step *step, const dd_limits *limits, const dd_observation *seen, double since)
{
    const dd_until *until = &step->until;
    bool any = false, met = false;
#define CONDITION(given, holds)                                                                                                \
    do {                                                                                                                       \
        if (given) {                                                                                                           \
            any = true;                                                                                                        \
            met |= (holds);                                                                                                    \
        }                                                                                                                      \
    } while (0)
    CONDITION(!isnan(until->hub_depth),
              step->kind == DD_STEP_PULL_OUT ? seen->hub_depth <= until->hub_depth : seen->hub_depth >= until->hub_depth);
    CONDITION(!isnan(until->rear_support_depth), step->kind == DD_STEP_PULL_OUT
                                                     ? seen->rear_support_depth <= until->rear_support_depth
                                                     : seen->rear_support_depth >= until->rear_support_depth);
    CONDITION(!isnan(until->after), since >= until->after);
    CONDITION(!isnan(until->distance_clear), seen->distance_clear >= until->distance_clear);
    CONDITION(!isnan(until->water_clear), -seen->hub_depth >= until->water_clear);
    CONDITION(until->afloat == 1, seen->afloat != 0);
    CONDITION(until->at_the_stop == 1, seen->stop_gap <= 0.25 * limits->stop_gap);
#undef CONDITION
    if (any) return met;
    switch (step->kind) { /* what the action itself aims at */
    case DD_STEP_STOP:
        return since > 1.0 && fabs(seen->rig_speed) < 1e-3;
    case DD_STEP_PUSH_OFF:
        return seen->afloat && seen->distance_clear > 0.5;
    case DD_STEP_WIND_IN:
        return seen->stop_gap <= 0.25 * limits->stop_gap;
    case DD_STEP_BACK_DOWN:
        return seen->afloat != 0;
    case DD_STEP_PULL_OUT:
        return seen->hub_depth < -0.3;
    case DD_STEP_WAIT:
        return since >= 5.0;
    default:
        return true;
    }
}

void dd_procedure_begin(dd_procedure *procedure, const dd_step *steps, int count, double time, dd_plan *plan)
{
    *procedure = (dd_procedure){.step_start = time, .phase_start = time};
    procedure->state = count > 0 ? DD_PROCEDURE_RUNS : DD_PROCEDURE_DONE;
    if (count > 0) act(&steps[0], time, plan);
}

static bool too_heavy(const dd_step *step, const dd_observation *seen, double hand_force_limit)
{
    return step->kind == DD_STEP_WIND_IN && seen->handle_force > most_hand_force * hand_force_limit;
}

static bool near_home(const dd_procedure *p, const dd_step *step, const dd_observation *seen)
{
    return step->kind == DD_STEP_WIND_IN && !p->slowed && seen->stop_gap <= careful_gap;
}

bool dd_procedure_notices(const dd_procedure *p, const dd_step *steps, const dd_limits *limits, const dd_observation *seen,
                          double hand_force_limit)
{
    if (p->state != DD_PROCEDURE_RUNS || p->phase != 0) return false;
    const dd_step *step = &steps[p->step];
    const double since = seen->time - p->step_start;
    return since > step->time_limit || reached(step, limits, seen, since) || too_heavy(step, seen, hand_force_limit) ||
           near_home(p, step, seen);
}

double dd_procedure_acts_at(const dd_procedure *p)
{
    return p->state == DD_PROCEDURE_RUNS && p->phase == 1 ? p->phase_start : INFINITY;
}

/* The winder's eye on the gap and hand on the handle. Returns 2 when the plan changed. */
static int wind_with_care(dd_procedure *p, const dd_step *step, const dd_observation *seen, double hand_force_limit,
                          dd_plan *plan)
{
    if (too_heavy(step, seen, hand_force_limit)) {
        move_to(&plan->wind_speed, 0.0, seen->time + hand_reaction, handle_movement);
        p->state = DD_PROCEDURE_TOO_HEAVY;
        return 2;
    }
    if (!near_home(p, step, seen)) return 0;
    p->slowed = 1;
    move_to(&plan->wind_speed, fmin(step->speed, careful_speed), seen->time + hand_reaction, 1.0);
    return 2;
}

int dd_procedure_advance(dd_procedure *p, const dd_step *steps, int count, const dd_limits *limits, const dd_observation *seen,
                         double hand_force_limit, dd_plan *plan)
{
    if (p->state != DD_PROCEDURE_RUNS) return 0;
    const dd_step *step = &steps[p->step];
    if (p->phase == 0) {
        if (!reached(step, limits, seen, seen->time - p->step_start)) {
            if (seen->time - p->step_start > step->time_limit) p->state = DD_PROCEDURE_TOO_LONG;
            return step->kind == DD_STEP_WIND_IN ? wind_with_care(p, step, seen, hand_force_limit, plan) : 0;
        }
        p->phase = 1;
        double taken = let_go(step, seen->time, plan);
        p->phase_start = seen->time + taken;
        if (taken > 0) return 2;
    }
    if (seen->time < p->phase_start) return 0;
    if (p->step + 1 >= count) {
        p->state = DD_PROCEDURE_DONE;
        return 0;
    }
    p->step++;
    p->phase = p->slowed = 0;
    p->step_start = seen->time;
    return act(&steps[p->step], seen->time, plan);
}
