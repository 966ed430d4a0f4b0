/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/crew/actions.h"
#include "lib/force/coupling.h"

static const double engine_stops = 0.4;   /* s: throttle off */
static const double latch_play = 3.5e-3;  /* rad, 0.2 degrees: where the record calls a bed level; a pin's play, 8 mm at 2.3 m from the hinge: from memory */

double dd_speed_change(double acceleration, double from, double to)
{
    return fmax(0.2, 1.5 * fabs(to - from) / acceleration); /* a smooth step is 1.5 times as steep in its middle */
}

/* The speed that a short way allows: 0.75 v^2/a each to start and to stop. */
double dd_step_speed(const dd_step *step)
{
    if (!(step->distance > 0)) return step->speed;
    return fmin(step->speed, sqrt(step->distance * step->acceleration / 1.5));
}

static void drive(const dd_step *step, double speed, double time, dd_plan *plan)
{
    dd_ramped_move(&plan->brake, 0.0, time, dd_brake_movement);
    if (dd_ramped_at(&plan->park_lock, time) != 0 || plan->park_lock.to != 0)
        dd_ramped_move(&plan->park_lock, 0.0, time, dd_brake_movement);
    dd_ramped_move(&plan->drive_speed, speed, time,
                   dd_speed_change(step->acceleration, dd_ramped_at(&plan->drive_speed, time), speed));
}

/* Returns when the brake is set. */
static double halt(const dd_step *step, int brake, double time, dd_plan *plan)
{
    const double duration = dd_speed_change(step->acceleration, dd_ramped_at(&plan->drive_speed, time), 0.0);
    dd_ramped_move(&plan->drive_speed, 0.0, time, duration);
    const double set = time + duration + dd_brake_movement;
    if (brake == DD_BRAKE_PEDAL || brake == DD_BRAKE_BOTH)
        dd_ramped_move(&plan->brake, 1.0, time + duration, dd_brake_movement);
    if (brake == DD_BRAKE_PARK || brake == DD_BRAKE_BOTH)
        dd_ramped_move(&plan->park_lock, 1.0, time + duration, dd_brake_movement);
    if (brake != DD_BRAKE_PARK) return set;
    /* the foot comes off the pedal once the lock holds */
    dd_ramped_move(&plan->brake, 0.0, set, dd_brake_movement);
    return set + dd_brake_movement;
}

static void take_line(const dd_step *step, const dd_observation *seen, dd_plan *plan)
{
    /* the boat's port is at the trailer's -y, and so at the world's -y */
    plan->set.hand_line_to = step->line_to;
    plan->set.hand_line_at[0] = seen->rear_end.x + step->seaward;
    plan->set.hand_line_at[1] = seen->rear_end.y + (step->side == DD_HELPER_PORT ? -step->beside : step->beside);
    plan->set.hand_line_at[2] = seen->rear_end.z + step->above;
    plan->hand_line_force = (dd_ramped){.from = 0, .to = step->force, .start = seen->time, .duration = 1.0};
}

static int fails(dd_procedure *p, dd_procedure_state state, double figure)
{
    p->state = state;
    p->figure = figure;
    return 0;
}

/* What is switched by a hand: the forces jump. */
static int switch_by_hand(const dd_step *step, dd_commands *set)
{
    switch (step->kind) {
    case DD_STEP_STRAP_OFF: set->strap_hooked = 0; break;
    case DD_STEP_HOOK_ON: set->strap_hooked = 1; break;
    case DD_STEP_PAY_OUT:
    case DD_STEP_SPOOL_ON: set->free_spool = 1; break;
    case DD_STEP_SPOOL_OFF: set->free_spool = 0; break;
    case DD_STEP_CHAIN_ON: set->chain_hooked = 1; break;
    case DD_STEP_CHAIN_OFF: set->chain_hooked = 0; break;
    case DD_STEP_TIES_ON: set->ties_hooked = 1; break;
    case DD_STEP_TIES_OFF: set->ties_hooked = 0; break;
    case DD_STEP_UNCOUPLE: set->uncoupled = 1; break;
    case DD_STEP_COUPLE: set->uncoupled = 0; break;
    case DD_STEP_ROPE_ON: set->rope_hooked = 1; break;
    case DD_STEP_ROPE_OFF: set->rope_hooked = 0; break;
    case DD_STEP_UNLATCH: set->unlatched = 1; break;
    case DD_STEP_LATCH: set->unlatched = 0; break;
    case DD_STEP_CHOCK:
    case DD_STEP_UNCHOCK:
        *(step->chocked == DD_CHOCK_TRAILER ? &set->trailer_chocked : &set->vehicle_chocked) = step->kind == DD_STEP_CHOCK;
        break;
    default: return 0;
    }
    return 1;
}

int dd_step_begin(const dd_step *step, const dd_crew *crew, const dd_observation *seen, dd_procedure *p, dd_plan *plan)
{
    const double time = seen->time;
    (void)crew;
    switch (step->kind) {
    case DD_STEP_BACK_DOWN:
    case DD_STEP_LOWER:
        drive(step, dd_step_speed(step), time, plan);
        return 2;
    case DD_STEP_PULL_OUT:
    case DD_STEP_HAUL_OUT:
        drive(step, -dd_step_speed(step), time, plan);
        return 2;
    case DD_STEP_STOP:
        halt(step, step->brake, time, plan);
        return 2;
    case DD_STEP_HOOK_ON:
        if (seen->strap_missing > 0) return fails(p, DD_PROCEDURE_TOO_SHORT, seen->strap_missing);
        break;
    case DD_STEP_COUPLE:
        if (dd_coupling_can_close(seen->trailer_distance, seen->trailer_height)) break;
        if (!dd_coupling_can_close(seen->trailer_distance, 0)) return fails(p, DD_PROCEDURE_TOO_FAR, seen->trailer_distance);
        return fails(p, DD_PROCEDURE_TOO_HIGH, seen->trailer_height);
    case DD_STEP_LATCH:
        if (seen->bed_tilt > latch_play) return fails(p, DD_PROCEDURE_TILTED, seen->bed_tilt);
        break;
    case DD_STEP_PUSH_OFF:
        dd_ramped_move(&plan->push_force, step->force, time, 1.0);
        return 2;
    case DD_STEP_WIND_IN:
    case DD_STEP_TAKE_UP_SLACK:
        dd_ramped_move(&plan->wind_speed, step->speed, time, 1.0);
        return 2;
    case DD_STEP_DRIVE_ON:
    case DD_STEP_DRIVE_OFF:
        dd_skipper_begin(&p->skipper, step->kind == DD_STEP_DRIVE_ON ? 1 : -1, time);
        return 2;
    case DD_STEP_ENGINE_DOWN:
        dd_ramped_move(&plan->engine_tilt, 0, time, fmax(step->takes, 0.5));
        return 2;
    case DD_STEP_ENGINE_UP:
        dd_ramped_move(&plan->throttle, 0, time, engine_stops);
        dd_ramped_move(&plan->engine_tilt, 1, time + engine_stops, fmax(step->takes, 0.5));
        return 2;
    case DD_STEP_HOLD_LINE:
        take_line(step, seen, plan);
        return 1;
    case DD_STEP_LET_LINE_GO:
        dd_ramped_move(&plan->hand_line_force, 0, time, 0.2);
        return 2;
    default: break;
    }
    return switch_by_hand(step, &plan->set);
}

double dd_step_end(const dd_step *step, const dd_crew *crew, double time, dd_procedure *p, dd_plan *plan)
{
    double set;
    switch (step->kind) {
    case DD_STEP_BACK_DOWN:
    case DD_STEP_PULL_OUT:
        /* a way that was to be driven is watched to its end, the rest is seen when it comes */
        set = halt(step, DD_BRAKE_PEDAL, time + (step->distance > 0 ? 0 : dd_reaction), plan);
        return set - time;
    case DD_STEP_LOWER:
    case DD_STEP_HAUL_OUT:
        set = halt(step, DD_BRAKE_PEDAL, time + dd_reaction, plan);
        return set - time;
    case DD_STEP_PUSH_OFF:
        dd_ramped_move(&plan->push_force, 0.0, time, 0.5);
        return 0.5;
    case DD_STEP_WIND_IN:
    case DD_STEP_TAKE_UP_SLACK:
        dd_ramped_move(&plan->wind_speed, 0.0, time + dd_hand_reaction, dd_handle_movement);
        return dd_hand_reaction + dd_handle_movement;
    case DD_STEP_DRIVE_ON:
    case DD_STEP_DRIVE_OFF:
        dd_skipper_end(&p->skipper, &crew->skipper, time + crew->skipper.delay,
                       step->kind == DD_STEP_DRIVE_ON ? step->hold_throttle : 0, plan);
        return crew->skipper.delay + 0.5;
    default:
        return dd_hand_reaction; /* the next action begins at a time that does not hang on the integrator's steps */
    }
}

int dd_step_after(const dd_step *step, dd_plan *plan)
{
    if (step->kind != DD_STEP_PAY_OUT) return 0;
    plan->set.free_spool = 0;
    return 1;
}
