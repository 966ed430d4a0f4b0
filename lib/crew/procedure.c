/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/crew/actions.h"
#include "lib/base/numbers.h"

/* The last bit home is wound slowly: from this gap, at this speed. */
static const double careful_gap = 0.15, careful_speed = 0.02;
/* A rig that was to be pulled up and has not gone so far in so long does not move. */
static const double stuck_time = 8.0, stuck_way = 0.05;

static bool winds(const dd_step *step) { return step->kind == DD_STEP_WIND_IN || step->kind == DD_STEP_TAKE_UP_SLACK; }

/* Begins the step that p stands at. */
static int begin_step(dd_procedure *p, const dd_crew *crew, const dd_observation *seen, dd_plan *plan)
{
    p->phase = p->slowed = 0;
    p->step_start = seen->time;
    p->way_at_start = seen->rig_way;
    return dd_step_begin(&crew->steps[p->step], crew, seen, p, plan);
}

void dd_procedure_begin(dd_procedure *p, const dd_crew *crew, const dd_observation *seen, dd_plan *plan)
{
    *p = (dd_procedure){.step_start = seen->time, .phase_start = seen->time};
    p->skipper.random = (uint64_t)crew->skipper.seed * UINT64_C(0x9E3779B97F4A7C15) + 1;
    p->state = crew->count > 0 ? DD_PROCEDURE_RUNS : DD_PROCEDURE_DONE;
    if (crew->count > 0) begin_step(p, crew, seen, plan);
}

static bool too_heavy(const dd_step *step, const dd_observation *seen) { return winds(step) && seen->winch_load > 1; }

static bool near_home(const dd_procedure *p, const dd_step *step, const dd_observation *seen)
{
    return step->kind == DD_STEP_WIND_IN && !p->slowed && seen->stop_gap <= careful_gap;
}

/* Wheels that spin or a rope that drags nothing: what was to come up has not. */
static bool stuck(const dd_procedure *p, const dd_step *step, const dd_observation *seen)
{
    if (step->kind != DD_STEP_PULL_OUT && step->kind != DD_STEP_HAUL_OUT) return false;
    return seen->time - p->step_start >= stuck_time && p->way_at_start - seen->rig_way < stuck_way &&
           (!(step->distance > 0) || step->distance > 2 * stuck_way);
}

bool dd_procedure_notices(const dd_procedure *p, const dd_crew *crew, const dd_observation *seen)
{
    if (p->state != DD_PROCEDURE_RUNS || p->phase != 0) return false;
    const dd_step *step = &crew->steps[p->step];
    return seen->time - p->step_start > step->time_limit || dd_step_reached(step, crew, seen, p) || too_heavy(step, seen) ||
           near_home(p, step, seen) || stuck(p, step, seen);
}

double dd_procedure_acts_at(const dd_procedure *p)
{
    if (p->state != DD_PROCEDURE_RUNS) return INFINITY;
    return p->phase == 1 ? p->phase_start : p->skipper.sense != 0 ? p->skipper.next : INFINITY;
}

/* The winder's eye on the gap and hand on the handle. Returns 2 when the plan changed. */
static int wind_with_care(dd_procedure *p, const dd_step *step, const dd_observation *seen, dd_plan *plan)
{
    if (too_heavy(step, seen)) {
        dd_ramped_move(&plan->wind_speed, 0.0, seen->time + dd_hand_reaction, dd_handle_movement);
        p->state = DD_PROCEDURE_TOO_HEAVY;
        return 2;
    }
    if (!near_home(p, step, seen)) return 0;
    p->slowed = 1;
    dd_ramped_move(&plan->wind_speed, fmin(step->speed, careful_speed), seen->time + dd_hand_reaction, 1.0);
    return 2;
}

/* While the end has not come. */
static int go_on(dd_procedure *p, const dd_step *step, const dd_observation *seen, dd_plan *plan)
{
    if (seen->time - p->step_start > step->time_limit) p->state = DD_PROCEDURE_TOO_LONG;
    if (stuck(p, step, seen)) {
        p->state = DD_PROCEDURE_STUCK;
        p->figure = p->way_at_start - seen->rig_way;
    }
    return winds(step) ? wind_with_care(p, step, seen, plan) : 0;
}

int dd_procedure_advance(dd_procedure *p, const dd_crew *crew, const dd_observation *seen, dd_plan *plan)
{
    if (p->state != DD_PROCEDURE_RUNS) return 0;
    const dd_step *step = &crew->steps[p->step];
    if (p->phase == 0) {
        if (!dd_step_reached(step, crew, seen, p)) return go_on(p, step, seen, plan);
        p->phase = 1;
        double taken = dd_step_end(step, crew, seen->time, p, plan);
        p->phase_start = seen->time + taken;
        if (taken > 0) return 2;
    }
    if (seen->time < p->phase_start) return 0;
    const int after = dd_step_after(step, plan);
    if (p->step + 1 >= crew->count) {
        p->state = DD_PROCEDURE_DONE;
        return after;
    }
    p->step++;
    const int begun = begin_step(p, crew, seen, plan);
    return after == 1 ? 1 : begun;
}

int dd_procedure_steer(dd_procedure *p, const dd_crew *crew, const dd_observation *seen, dd_plan *plan)
{
    if (p->state != DD_PROCEDURE_RUNS || p->phase != 0 || p->skipper.sense == 0 || seen->time < p->skipper.next) return 0;
    const dd_step *step = &crew->steps[p->step];
    const dd_skipper_view view = {.heading = seen->heading, .offset = seen->bow_offset, .to_go = seen->stop_gap, .approach = seen->approach};
    dd_skipper_look(&p->skipper, &crew->skipper, &view, seen->time, step->speed, step->throttle, plan);
    return 2;
}

bool dd_procedure_reason(const dd_procedure *p, const dd_crew *crew, char word[32], char *sentence, size_t size)
{
    const char *name = p->step < crew->count ? dd_step_name(crew->steps[p->step].kind) : "";
    switch (p->state) {
    case DD_PROCEDURE_TOO_SHORT:
        dd_text(word, 32, "strap too short");
        dd_text(sentence, size, "Step %d, \"%s\": the strap does not reach the bow eye; it lacks %.2f m.", p->step + 1, name, p->figure);
        return true;
    case DD_PROCEDURE_STUCK:
        dd_text(word, 32, "stuck");
        dd_text(sentence, size, "Step %d, \"%s\": the rig does not move up the ramp: after %.0f s it has %s %.2f m.", p->step + 1,
                name, stuck_time, p->figure < 0 ? "slid back" : "come up", fabs(p->figure));
        return true;
    case DD_PROCEDURE_TOO_FAR:
        dd_text(word, 32, "not at the ball");
        dd_text(sentence, size, "Step %d, \"%s\": the coupling stands %.2f m %s of the ball.", p->step + 1, name, fabs(p->figure),
                p->figure < 0 ? "inshore" : "seaward");
        return true;
    case DD_PROCEDURE_TOO_HIGH:
        dd_text(word, 32, "not at the ball");
        dd_text(sentence, size, "Step %d, \"%s\": the coupling stands %.2f m %s the ball.", p->step + 1, name, fabs(p->figure),
                p->figure < 0 ? "below" : "above");
        return true;
    case DD_PROCEDURE_TILTED:
        dd_text(word, 32, "bed not level");
        dd_text(sentence, size, "Step %d, \"%s\": the bed stands tilted by %.1f degrees, and its latch does not meet.", p->step + 1, name,
                p->figure * 180 / acos(-1.0));
        return true;
    default:
        return false;
    }
}
