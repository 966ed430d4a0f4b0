/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The steps by themselves: what each sets, when each ends, what it says when it cannot be done. Grade: closed form. */
#include "tests/unit/crew/people.h"

static dd_crew crew_of(const dd_step *steps, int count)
{
    return (dd_crew){.steps = steps, .count = count, .limits = &people_limits, .skipper = people_skipper(DD_SKIPPER_USUAL)};
}

/* What a step leaves in the plan ten minutes after it began, when nothing is seen. */
static dd_commands after_beginning(int kind, const dd_plan *before)
{
    dd_step step = people_step(kind);
    if (isnan(step.speed)) step.speed = 0.05; /* the winch's own */
    const dd_crew crew = crew_of(&step, 1);
    const dd_observation seen = people_nothing(0);
    dd_plan plan = *before;
    dd_procedure p;
    dd_procedure_begin(&p, &crew, &seen, &plan);
    assert_int_equal(p.state, DD_PROCEDURE_RUNS);
    return dd_plan_at(&plan, 600);
}

/* Each step changes its own command to its own value, and nothing else. Exact. */
static void each_step_sets_its_own(void **state)
{
    (void)state;
    static const struct {
        int kind;
        size_t flag; /* of an int that is switched */
        int to;
    } switches[] = {{DD_STEP_STRAP_OFF, offsetof(dd_commands, strap_hooked), 0}, {DD_STEP_HOOK_ON, offsetof(dd_commands, strap_hooked), 1},
                    {DD_STEP_PAY_OUT, offsetof(dd_commands, free_spool), 1},     {DD_STEP_SPOOL_ON, offsetof(dd_commands, free_spool), 1},
                    {DD_STEP_SPOOL_OFF, offsetof(dd_commands, free_spool), 0},   {DD_STEP_CHAIN_ON, offsetof(dd_commands, chain_hooked), 1},
                    {DD_STEP_CHAIN_OFF, offsetof(dd_commands, chain_hooked), 0}, {DD_STEP_TIES_ON, offsetof(dd_commands, ties_hooked), 1},
                    {DD_STEP_TIES_OFF, offsetof(dd_commands, ties_hooked), 0},   {DD_STEP_UNCOUPLE, offsetof(dd_commands, uncoupled), 1},
                    {DD_STEP_COUPLE, offsetof(dd_commands, uncoupled), 0},       {DD_STEP_ROPE_ON, offsetof(dd_commands, rope_hooked), 1},
                    {DD_STEP_ROPE_OFF, offsetof(dd_commands, rope_hooked), 0},   {DD_STEP_UNLATCH, offsetof(dd_commands, unlatched), 1},
                    {DD_STEP_LATCH, offsetof(dd_commands, unlatched), 0},        {DD_STEP_CHOCK, offsetof(dd_commands, vehicle_chocked), 1},
                    {DD_STEP_UNCHOCK, offsetof(dd_commands, vehicle_chocked), 0}};
    for (size_t i = 0; i < sizeof switches / sizeof switches[0]; i++) {
        dd_plan plan = {.brake = {.from = 1, .to = 1}};
        int value = !switches[i].to;
        memcpy((char *)&plan.set + switches[i].flag, &value, sizeof value);
        dd_commands expected = dd_plan_at(&plan, 600), found = after_beginning(switches[i].kind, &plan);
        memcpy((char *)&expected + switches[i].flag, &switches[i].to, sizeof value);
        if (memcmp(&expected, &found, sizeof found) != 0) fail_msg("%s sets something else", dd_step_name(switches[i].kind));
    }
    const dd_plan braked = {.brake = {.from = 1, .to = 1}};
    assert_true(after_beginning(DD_STEP_BACK_DOWN, &braked).drive_speed == 0.6 && after_beginning(DD_STEP_BACK_DOWN, &braked).brake == 0);
    assert_true(after_beginning(DD_STEP_PULL_OUT, &braked).drive_speed == -0.6);
    assert_true(after_beginning(DD_STEP_LOWER, &braked).drive_speed == 0.3 && after_beginning(DD_STEP_HAUL_OUT, &braked).drive_speed == -0.3);
    assert_true(after_beginning(DD_STEP_PUSH_OFF, &braked).push_force == 100);
    assert_true(after_beginning(DD_STEP_WIND_IN, &braked).wind_speed == 0.05 && after_beginning(DD_STEP_TAKE_UP_SLACK, &braked).wind_speed == 0.05);
    assert_true(after_beginning(DD_STEP_ENGINE_UP, &braked).engine_tilt == 1 && after_beginning(DD_STEP_ENGINE_DOWN, &braked).engine_tilt == 0);
    assert_true(after_beginning(DD_STEP_HOLD_LINE, &braked).hand_line_force == 100);
}

/* The brake that `stop` sets: pedal, park lock, or both; the pedal is released only when the lock holds. Exact. */
static void stop_sets_the_brake_that_is_named(void **state)
{
    (void)state;
    for (int brake = DD_BRAKE_PEDAL; brake <= DD_BRAKE_BOTH; brake++) {
        dd_step step = people_step(DD_STEP_STOP);
        step.brake = brake;
        const dd_crew crew = crew_of(&step, 1);
        const dd_observation seen = people_nothing(0);
        dd_plan plan = {.brake = {.from = 1, .to = 1}};
        dd_procedure p;
        dd_procedure_begin(&p, &crew, &seen, &plan);
        for (double t = 0; t < 5; t += 0.01) {
            const dd_commands c = dd_plan_at(&plan, t);
            assert_true(fmax(c.brake, c.park_lock) > 0.999 || t > 5);
        }
        const dd_commands c = dd_plan_at(&plan, 60);
        assert_true(c.brake == (brake != DD_BRAKE_PARK) && c.park_lock == (brake != DD_BRAKE_PEDAL));
    }
}

/* The helper stands where the step says, on the boat's port (world -y with the bow inshore) or starboard. 1e-15 m. */
static void helper_stands_beside_the_trailer(void **state)
{
    (void)state;
    for (int side = DD_HELPER_PORT; side <= DD_HELPER_STARBOARD; side++) {
        dd_step step = people_step(DD_STEP_HOLD_LINE);
        step.side = side, step.beside = 4, step.seaward = -1.5, step.above = 0.5, step.line_to = DD_LINE_PORT_CLEAT;
        const dd_crew crew = crew_of(&step, 1);
        dd_observation seen = people_nothing(0);
        seen.rear_end = dd_vec(10, 0.25, 0.75);
        dd_plan plan = {0};
        dd_procedure p;
        dd_procedure_begin(&p, &crew, &seen, &plan);
        NEAR(plan.set.hand_line_at[0], 8.5, 1e-15);
        NEAR(plan.set.hand_line_at[1], side == DD_HELPER_PORT ? -3.75 : 4.25, 1e-15);
        NEAR(plan.set.hand_line_at[2], 1.25, 1e-15);
        assert_int_equal(plan.set.hand_line_to, DD_LINE_TO_PORT_CLEAT);
    }
}

/* Every end condition: false for nothing, true for what it names. */
static void each_condition_ends_a_step(void **state)
{
    (void)state;
    const struct {
        dd_until until;
        dd_observation seen;
        int kind;
    } rows[] = {
        {{.hub_depth = 0.3}, {.hub_depth = 0.3}, DD_STEP_BACK_DOWN},
        {{.hub_depth = -0.2}, {.hub_depth = -0.21}, DD_STEP_PULL_OUT},
        {{.rear_support_depth = 0.1}, {.rear_support_depth = 0.1}, DD_STEP_BACK_DOWN},
        {{.distance_clear = 0.5}, {.distance_clear = 0.5}, DD_STEP_WAIT},
        {{.bow_distance = -5}, {.distance_clear = -5.1}, DD_STEP_WAIT},
        {{.water_clear = 0.3}, {.hub_depth = -0.3}, DD_STEP_PULL_OUT},
        {{.distance = 2}, {.rig_way = -2}, DD_STEP_PULL_OUT},
        {{.trailer_distance = 3}, {.trailer_distance = 3}, DD_STEP_LOWER},
        {{.trailer_distance = 0.5}, {.trailer_distance = 0.4}, DD_STEP_HAUL_OUT},
        {{.afloat = 1}, {.afloat = 1}, DD_STEP_WAIT},
        {{.at_the_stop = 1}, {.stop_gap = 0.005}, DD_STEP_WAIT},
        {{.captured = 1}, {.captured = 1}, DD_STEP_DRIVE_ON},
        {{.clear_of_rollers = 1}, {.carried = 0}, DD_STEP_WAIT},
        {{.slack_taken_up = 1}, {.strap_tension = 50}, DD_STEP_TAKE_UP_SLACK},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        dd_step step = people_step(rows[i].kind);
        const double *given = (const double *)&rows[i].until;
        double *until = (double *)&step.until;
        for (size_t k = 0; k < offsetof(dd_until, afloat) / sizeof(double); k++)
            if (given[k] != 0) until[k] = given[k];
        memcpy(&step.until.afloat, &rows[i].until.afloat, sizeof(dd_until) - offsetof(dd_until, afloat));
        const dd_crew crew = crew_of(&step, 1);
        const dd_procedure p = {0};
        dd_observation nothing = people_nothing(1), seen = rows[i].seen;
        nothing.trailer_distance = rows[i].kind == DD_STEP_HAUL_OUT ? 2 : 0;
        if (rows[i].until.clear_of_rollers != 1) seen.carried = 1;
        if (rows[i].until.at_the_stop != 1) seen.stop_gap = 1;
        seen.time = 1;
        if (dd_step_reached(&step, &crew, &nothing, &p)) fail_msg("row %zu ends at once", i);
        if (!dd_step_reached(&step, &crew, &seen, &p)) fail_msg("row %zu does not end", i);
    }
}

/* A rig that does what its driver wants comes to rest where it was told to: at 0.02 mm, one step of this loop; short and long
   ways, of which the short do not reach their speed. */
static void pulled_out_by_a_distance(void **state)
{
    (void)state;
    static const double ways[] = {0.1, 0.3, 1, 6};
    for (size_t i = 0; i < sizeof ways / sizeof ways[0]; i++) {
        dd_step steps[2] = {people_step(DD_STEP_PULL_OUT), people_step(DD_STEP_WAIT)};
        steps[0].distance = ways[i];
        const dd_crew crew = crew_of(steps, 2);
        dd_observation seen = people_nothing(0);
        dd_plan plan = {.brake = {.from = 1, .to = 1}};
        dd_procedure p;
        const double h = 2e-5;
        double way = 0, t = 0;
        dd_procedure_begin(&p, &crew, &seen, &plan);
        for (; p.step == 0 && t < 60; t += h) {
            const double speed = dd_plan_at(&plan, t + 0.5 * h).drive_speed;
            way += h * speed;
            seen.time = t + h, seen.rig_speed = dd_plan_at(&plan, t + h).drive_speed, seen.rig_way = way;
            dd_procedure_advance(&p, &crew, &seen, &plan);
        }
        NEAR(-way, ways[i], 2e-5);
        assert_true(dd_plan_at(&plan, t).brake == 1);
        assert_true(p.state == DD_PROCEDURE_RUNS && p.step == 1);
    }
}

/* What cannot be done is said with its figure, and numbered from 1. */
static void reasons_have_figures(void **state)
{
    (void)state;
    char word[32], sentence[300];
    dd_step steps[2] = {people_step(DD_STEP_WAIT), people_step(DD_STEP_HOOK_ON)};
    const dd_crew crew = crew_of(steps, 2);
    dd_observation seen = people_nothing(0);
    dd_plan plan = {0};
    dd_procedure p;
    seen.strap_missing = 0.37;
    dd_procedure_begin(&p, &crew, &seen, &plan);
    for (double t = 0; t < 8 && p.state == DD_PROCEDURE_RUNS; t += 0.05) seen.time = t, dd_procedure_advance(&p, &crew, &seen, &plan);
    assert_int_equal(p.state, DD_PROCEDURE_TOO_SHORT);
    assert_true(plan.set.strap_hooked == 0);
    assert_true(dd_procedure_reason(&p, &crew, word, sentence, sizeof sentence));
    assert_string_equal(sentence, "Step 2, \"hook on\": the strap does not reach the bow eye; it lacks 0.37 m.");

    dd_step couple = people_step(DD_STEP_COUPLE);
    const dd_crew alone = crew_of(&couple, 1);
    seen = people_nothing(0);
    seen.trailer_distance = 2.5;
    dd_procedure_begin(&p, &alone, &seen, &plan);
    assert_true(dd_procedure_reason(&p, &alone, word, sentence, sizeof sentence));
    assert_string_equal(sentence, "Step 1, \"couple\": the coupling stands 2.50 m seaward of the ball.");
    seen.trailer_distance = 0.05, seen.trailer_height = -0.12; /* within a hand's breadth lengthwise, beyond it in height */
    dd_procedure_begin(&p, &alone, &seen, &plan);
    assert_true(dd_procedure_reason(&p, &alone, word, sentence, sizeof sentence));
    assert_string_equal(sentence, "Step 1, \"couple\": the coupling stands 0.12 m below the ball.");
    seen.trailer_height = -0.08;
    dd_procedure_begin(&p, &alone, &seen, &plan);
    assert_false(dd_procedure_reason(&p, &alone, word, sentence, sizeof sentence));

    dd_step latch = people_step(DD_STEP_LATCH);
    const dd_crew bed = crew_of(&latch, 1);
    seen = people_nothing(0);
    plan.set.unlatched = 1;
    seen.bed_tilt = 0.05; /* a pin does not find its hole */
    dd_procedure_begin(&p, &bed, &seen, &plan);
    assert_int_equal(plan.set.unlatched, 1);
    assert_true(dd_procedure_reason(&p, &bed, word, sentence, sizeof sentence));
    assert_string_equal(sentence, "Step 1, \"latch\": the bed stands tilted by 2.9 degrees, and its latch does not meet.");
    seen.bed_tilt = 0.003;
    dd_procedure_begin(&p, &bed, &seen, &plan);
    assert_int_equal(plan.set.unlatched, 0);
    assert_false(dd_procedure_reason(&p, &bed, word, sentence, sizeof sentence));
}

/* Spinning wheels: the driver gives up after 8 s in which the rig has not come up 50 mm; a rig that comes up does not. */
static void spinning_wheels_are_given_up(void **state)
{
    (void)state;
    for (int creeps = 0; creeps < 2; creeps++) {
        dd_step step = people_step(DD_STEP_PULL_OUT);
        const dd_crew crew = crew_of(&step, 1);
        dd_observation seen = people_nothing(0);
        dd_plan plan = {.brake = {.from = 1, .to = 1}};
        dd_procedure p;
        dd_procedure_begin(&p, &crew, &seen, &plan);
        for (double t = 0; t < 20 && p.state == DD_PROCEDURE_RUNS; t += 0.05) {
            seen.time = t, seen.rig_way = creeps ? -0.01 * t : 0.02 * t; /* slides back */
            dd_procedure_advance(&p, &crew, &seen, &plan);
        }
        assert_int_equal(p.state, creeps ? DD_PROCEDURE_RUNS : DD_PROCEDURE_STUCK);
        if (!creeps) NEAR(seen.time, 8, 0.051);
    }
}

/* A handle or motor that cannot be turned, and a step that takes too long, end the procedure. */
static void limits_end_the_procedure(void **state)
{
    (void)state;
    dd_step step = people_step(DD_STEP_TAKE_UP_SLACK);
    step.speed = 0.05;
    const dd_crew crew = crew_of(&step, 1);
    dd_observation seen = people_nothing(0);
    dd_plan plan = {0};
    dd_procedure p;
    dd_procedure_begin(&p, &crew, &seen, &plan);
    seen.time = 1, seen.winch_load = 0.99;
    assert_false(dd_procedure_notices(&p, &crew, &seen));
    seen.winch_load = 1.01;
    assert_true(dd_procedure_notices(&p, &crew, &seen));
    assert_int_equal(dd_procedure_advance(&p, &crew, &seen, &plan), 2);
    assert_int_equal(p.state, DD_PROCEDURE_TOO_HEAVY);
    assert_true(dd_plan_at(&plan, 5).wind_speed == 0);
    dd_procedure_begin(&p, &crew, &seen, &plan);
    seen = people_nothing(1 + 120.01);
    assert_true(dd_procedure_notices(&p, &crew, &seen));
    dd_procedure_advance(&p, &crew, &seen, &plan);
    assert_int_equal(p.state, DD_PROCEDURE_TOO_LONG);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_step_sets_its_own),      cmocka_unit_test(stop_sets_the_brake_that_is_named),
        cmocka_unit_test(helper_stands_beside_the_trailer), cmocka_unit_test(each_condition_ends_a_step),
        cmocka_unit_test(pulled_out_by_a_distance),    cmocka_unit_test(reasons_have_figures),
        cmocka_unit_test(spinning_wheels_are_given_up), cmocka_unit_test(limits_end_the_procedure),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
