/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether people can do the steps in this order, with what boat and trailer have. */
#include "lib/base/numbers.h"
#include "lib/crew/steps.h"

static bool moves_engine(int kind) { return kind == DD_STEP_ENGINE_DOWN || kind == DD_STEP_ENGINE_UP; }
static bool drives_boat(int kind) { return kind == DD_STEP_DRIVE_ON || kind == DD_STEP_DRIVE_OFF; }

bool dd_case_starts_with_engine_down(const dd_case *scenario)
{
    if (scenario->start.engine >= 0) return scenario->start.engine == DD_START_DOWN;
    for (int i = 0; i < scenario->step_count && !moves_engine(scenario->steps[i].kind); i++)
        if (drives_boat(scenario->steps[i].kind)) return true;
    return false;
}

bool dd_case_starts_hooked(const dd_case *scenario)
{
    if (scenario->start.strap >= 0) return scenario->start.strap == DD_START_ON;
    return scenario->action == DD_ACTION_LAUNCH;
}

bool dd_case_uses_engine(const dd_case *scenario)
{
    for (int i = 0; i < scenario->step_count; i++)
        if (drives_boat(scenario->steps[i].kind)) return true;
    return false;
}

bool dd_case_uses_hand_line(const dd_case *scenario)
{
    for (int i = 0; i < scenario->step_count; i++)
        if (scenario->steps[i].kind == DD_STEP_HOLD_LINE) return true;
    return false;
}

/* What is on or off between the steps. */
typedef struct standing {
    bool strap, chain, ties, engine_down, line, uncoupled, rope, spool, unlatched, chocked[2];
} standing;

/* One step that needs something to be on (or off) and turns it off (or on). */
#define SWITCH(field, wanted, fault_text)                                                                                      \
    do {                                                                                                                       \
        if (s->field != (wanted)) return fault_text;                                                                           \
        s->field = !(wanted);                                                                                                  \
        return NULL;                                                                                                           \
    } while (0)
#define NEED(condition, fault_text)                                                                                            \
    do {                                                                                                                       \
        if (!(condition)) return fault_text;                                                                                   \
    } while (0)

static const char *rig_step(const dd_step *step, standing *s)
{
    switch (step->kind) {
    case DD_STEP_UNCOUPLE:
        SWITCH(uncoupled, false, "the trailer is off the ball already");
    case DD_STEP_COUPLE:
        SWITCH(uncoupled, true, "the trailer is on the ball already");
    case DD_STEP_ROPE_ON:
        SWITCH(rope, false, "the rope is on already");
    case DD_STEP_ROPE_OFF:
        SWITCH(rope, true, "the rope is not on here");
    case DD_STEP_LOWER:
    case DD_STEP_HAUL_OUT:
        NEED(s->uncoupled, "the trailer is on the ball here");
        NEED(s->rope, "the rope is not on here");
        NEED(!s->chocked[1], "the trailer's wheels are chocked here");
        return NULL;
    case DD_STEP_CHOCK:
        SWITCH(chocked[step->chocked == DD_CHOCK_TRAILER], false, "these wheels are chocked already");
    case DD_STEP_UNCHOCK:
        SWITCH(chocked[step->chocked == DD_CHOCK_TRAILER], true, "these wheels are not chocked here");
    case DD_STEP_UNLATCH:
        SWITCH(unlatched, false, "the bed is unlatched already");
    case DD_STEP_LATCH:
        SWITCH(unlatched, true, "the bed is latched already");
    case DD_STEP_BACK_DOWN:
    case DD_STEP_PULL_OUT:
        NEED(!s->chocked[0], "the vehicle's wheels are chocked here");
        NEED(s->uncoupled || !s->chocked[1], "the trailer's wheels are chocked here");
        return NULL;
    default:
        return NULL;
    }
}

static const char *boat_step(const dd_step *step, standing *s)
{
    switch (step->kind) {
    case DD_STEP_STRAP_OFF:
        SWITCH(strap, true, "the strap is not hooked on here");
    case DD_STEP_HOOK_ON:
        SWITCH(strap, false, "the strap is hooked on already");
    case DD_STEP_WIND_IN:
    case DD_STEP_TAKE_UP_SLACK:
        NEED(s->strap, "the strap is not hooked on here");
        NEED(!s->spool, "the drum runs free here");
        return NULL;
    case DD_STEP_PAY_OUT:
        NEED(s->strap, "the strap is not hooked on here");
        NEED(!s->spool, "the drum runs free already");
        return NULL;
    case DD_STEP_SPOOL_ON:
        SWITCH(spool, false, "the drum runs free already");
    case DD_STEP_SPOOL_OFF:
        SWITCH(spool, true, "the ratchet holds already");
    case DD_STEP_CHAIN_ON:
        SWITCH(chain, false, "the chain is on already");
    case DD_STEP_CHAIN_OFF:
        SWITCH(chain, true, "the chain is not on here");
    case DD_STEP_TIES_ON:
        SWITCH(ties, false, "the ties are on already");
    case DD_STEP_TIES_OFF:
        SWITCH(ties, true, "the ties are not on here");
    case DD_STEP_DRIVE_ON:
    case DD_STEP_DRIVE_OFF:
        NEED(s->engine_down, "the engine is tilted up here");
        return NULL;
    case DD_STEP_ENGINE_DOWN:
        SWITCH(engine_down, false, "the engine is down already");
    case DD_STEP_ENGINE_UP:
        SWITCH(engine_down, true, "the engine is up already");
    case DD_STEP_HOLD_LINE:
        s->line = true; /* taken anew from another place */
        return NULL;
    case DD_STEP_LET_LINE_GO:
        SWITCH(line, true, "nobody holds a line here");
    default:
        return rig_step(step, s);
    }
}
#undef SWITCH
#undef NEED

/* What boat and trailer lack for a step. */
static const char *lacking(const dd_case *scenario, const dd_step *step)
{
    const bool engine = drives_boat(step->kind) || moves_engine(step->kind);
    if (engine && scenario->boat.engine_power <= 0) return "boat: engine power is 0";
    switch (step->kind) {
    case DD_STEP_UNCOUPLE:
    case DD_STEP_COUPLE:
        if (isnan(scenario->trailer.jockey.behind_coupling)) return "the trailer has no jockey wheel";
        break;
    case DD_STEP_ROPE_ON:
    case DD_STEP_ROPE_OFF:
        if (isnan(scenario->trailer.rope.length)) return "the trailer has no rope (rope: length)";
        break;
    case DD_STEP_CHAIN_ON:
    case DD_STEP_CHAIN_OFF:
        if (isnan(scenario->trailer.chain.slack_at_home)) return "the trailer has no safety chain";
        break;
    case DD_STEP_TIES_ON:
    case DD_STEP_TIES_OFF:
        if (isnan(scenario->trailer.ties.behind_coupling)) return "the trailer has no transom ties";
        break;
    case DD_STEP_UNLATCH:
    case DD_STEP_LATCH:
        if (isnan(scenario->trailer.tilt.hinge_behind_coupling)) return "the trailer has no tilting frame";
        break;
    default: break;
    }
    return NULL;
}

/* A condition that this step cannot bring about. */
static const char *unreachable(const dd_step *step, const standing *s)
{
    const dd_until *u = &step->until;
    if (u->slack_taken_up == 1 && !s->strap) return "slack taken up, but the strap is not hooked on";
    if (!isnan(u->trailer_distance) && !s->uncoupled) return "trailer distance, but the trailer is on the ball";
    return NULL;
}

dd_order_fault dd_order_check(const dd_case *scenario)
{
    const dd_start *start = &scenario->start;
    standing s = {.strap = dd_case_starts_hooked(scenario),
                  .chain = start->chain == DD_START_ON,
                  .ties = start->ties == DD_START_ON,
                  .engine_down = dd_case_starts_with_engine_down(scenario)};
    dd_order_fault fault = {.step = -1};
    for (int i = 0; i < scenario->step_count && fault.step < 0; i++) {
        const dd_step *step = &scenario->steps[i];
        const char *name = dd_step_name(step->kind), *why = lacking(scenario, step);
        if (why != NULL) {
            fault.step = i;
            dd_text(fault.text, sizeof fault.text, "found '%s', but %s; expected steps that boat and trailer are equipped for",
                    name, why);
            continue;
        }
        why = boat_step(step, &s);
        if (why == NULL) why = unreachable(step, &s);
        if (why == NULL) continue;
        fault.step = i;
        dd_text(fault.text, sizeof fault.text, "found '%s', but %s; expected the steps in an order that people can do", name,
                why);
    }
    return fault;
}
