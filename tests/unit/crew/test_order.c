/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which procedures people can do, and which are refused at which step. Grade: closed form. */
#include "tests/unit/crew/people.h"

static dd_case scenario_of(int action, int count, const int *kinds)
{
    static dd_case scenario;
    dd_case_defaults(&scenario);
    scenario.action = action;
    scenario.boat.engine_power = 50e3;
    scenario.trailer.jockey.behind_coupling = 0.3;
    scenario.trailer.rope.length = 10;
    scenario.trailer.chain.slack_at_home = 0.05;
    scenario.trailer.ties.behind_coupling = 6;
    scenario.trailer.tilt.hinge_behind_coupling = 3;
    scenario.step_count = count;
    for (int i = 0; i < count; i++) scenario.steps[i] = people_step(kinds[i]);
    return scenario;
}

enum { B = DD_STEP_BACK_DOWN, P = DD_STEP_PULL_OUT, ON = DD_STEP_HOOK_ON, OFF = DD_STEP_STRAP_OFF, W = DD_STEP_WIND_IN, END = -1 };

static void check(int action, int fault, const int *kinds)
{
    int count = 0;
    while (kinds[count] != END) count++;
    static dd_case scenario;
    scenario = scenario_of(action, count, kinds);
    const dd_order_fault found = dd_order_check(&scenario);
    if (found.step != fault) fail_msg("starting with %s: fault at %d (%s), expected %d", dd_step_name(kinds[0]), found.step, found.text, fault);
}
#define GOOD(action, ...) check(action, -1, (const int[]){__VA_ARGS__, END})
#define FAULT(action, at, ...) check(action, at, (const int[]){__VA_ARGS__, END})

static void orders_that_people_can_do(void **state)
{
    (void)state;
    GOOD(DD_ACTION_LAUNCH, B, OFF, DD_STEP_PUSH_OFF);
    GOOD(DD_ACTION_LAUNCH, DD_STEP_SPOOL_ON, B, DD_STEP_SPOOL_OFF, W, OFF);
    GOOD(DD_ACTION_LAUNCH, DD_STEP_PAY_OUT, OFF, DD_STEP_ENGINE_DOWN, DD_STEP_DRIVE_OFF);
    GOOD(DD_ACTION_RETRIEVE, DD_STEP_DRIVE_ON, ON, W, DD_STEP_CHAIN_ON, DD_STEP_ENGINE_UP, P, DD_STEP_TAKE_UP_SLACK, P);
    GOOD(DD_ACTION_RETRIEVE, DD_STEP_ROPE_ON, DD_STEP_UNCOUPLE, DD_STEP_LOWER, ON, W, DD_STEP_HAUL_OUT, DD_STEP_COUPLE, DD_STEP_ROPE_OFF, P);
    GOOD(DD_ACTION_LAUNCH, DD_STEP_UNLATCH, OFF, DD_STEP_LATCH);
    GOOD(DD_ACTION_RETRIEVE, DD_STEP_HOLD_LINE, DD_STEP_HOLD_LINE, DD_STEP_LET_LINE_GO, DD_STEP_CHOCK, DD_STEP_UNCHOCK, P);
}

static void orders_that_are_refused(void **state)
{
    (void)state;
    FAULT(DD_ACTION_RETRIEVE, 0, W);
    FAULT(DD_ACTION_RETRIEVE, 1, ON, ON);
    FAULT(DD_ACTION_LAUNCH, 0, ON);
    FAULT(DD_ACTION_LAUNCH, 1, OFF, DD_STEP_PAY_OUT);
    FAULT(DD_ACTION_LAUNCH, 1, DD_STEP_SPOOL_ON, W);
    FAULT(DD_ACTION_LAUNCH, 0, DD_STEP_CHAIN_OFF);
    FAULT(DD_ACTION_LAUNCH, 0, DD_STEP_TIES_OFF);
    FAULT(DD_ACTION_LAUNCH, 1, DD_STEP_ENGINE_DOWN, DD_STEP_ENGINE_DOWN);
    FAULT(DD_ACTION_RETRIEVE, 2, DD_STEP_DRIVE_ON, DD_STEP_ENGINE_UP, DD_STEP_DRIVE_OFF);
    FAULT(DD_ACTION_LAUNCH, 0, DD_STEP_LET_LINE_GO);
    FAULT(DD_ACTION_LAUNCH, 0, DD_STEP_LOWER);
    FAULT(DD_ACTION_LAUNCH, 1, DD_STEP_UNCOUPLE, DD_STEP_HAUL_OUT);
    FAULT(DD_ACTION_LAUNCH, 0, DD_STEP_COUPLE);
    FAULT(DD_ACTION_LAUNCH, 0, DD_STEP_LATCH);
    FAULT(DD_ACTION_LAUNCH, 1, DD_STEP_CHOCK, B);
    FAULT(DD_ACTION_LAUNCH, 0, DD_STEP_UNCHOCK);
}

/* What boat and trailer lack, and conditions that cannot come. */
static void what_is_missing_is_named(void **state)
{
    (void)state;
    static dd_case c;
    static const struct {
        int kind;
        const char *text;
    } rows[] = {{DD_STEP_DRIVE_ON, "engine power"}, {DD_STEP_CHAIN_ON, "safety chain"}, {DD_STEP_TIES_ON, "transom ties"}, {DD_STEP_UNCOUPLE, "jockey wheel"}, {DD_STEP_ROPE_ON, "rope"}, {DD_STEP_UNLATCH, "tilting frame"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        c = scenario_of(DD_ACTION_RETRIEVE, 1, &rows[i].kind);
        assert_int_equal(dd_order_check(&c).step, -1);
        c.boat.engine_power = 0;
        c.trailer.chain.slack_at_home = c.trailer.ties.behind_coupling = c.trailer.jockey.behind_coupling = c.trailer.rope.length = c.trailer.tilt.hinge_behind_coupling = NAN;
        const dd_order_fault fault = dd_order_check(&c);
        assert_int_equal(fault.step, 0);
        assert_non_null(strstr(fault.text, rows[i].text));
    }
    const int wait = DD_STEP_WAIT;
    c = scenario_of(DD_ACTION_RETRIEVE, 1, &wait);
    c.steps[0].until.slack_taken_up = 1;
    assert_int_equal(dd_order_check(&c).step, 0);
    c.start.strap = DD_START_ON;
    assert_int_equal(dd_order_check(&c).step, -1);
    c.steps[0].until.trailer_distance = 1;
    assert_int_equal(dd_order_check(&c).step, 0);
}

/* How a case starts: the engine is down where the boat drives first, the strap on for a launch; a key given wins. */
static void starts_are_as_people_stand(void **state)
{
    (void)state;
    static dd_case c;
    const int on[] = {DD_STEP_DRIVE_ON}, down[] = {DD_STEP_ENGINE_DOWN, DD_STEP_DRIVE_ON};
    c = scenario_of(DD_ACTION_RETRIEVE, 1, on);
    assert_true(dd_case_starts_with_engine_down(&c) && dd_case_uses_engine(&c) && !dd_case_starts_hooked(&c));
    c.start.engine = DD_START_UP;
    assert_false(dd_case_starts_with_engine_down(&c));
    c = scenario_of(DD_ACTION_LAUNCH, 2, down);
    assert_true(!dd_case_starts_with_engine_down(&c) && dd_case_starts_hooked(&c) && !dd_case_uses_hand_line(&c));
    c.start.strap = DD_START_OFF;
    assert_false(dd_case_starts_hooked(&c));
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(orders_that_people_can_do), cmocka_unit_test(orders_that_are_refused),
                                       cmocka_unit_test(what_is_missing_is_named), cmocka_unit_test(starts_are_as_people_stand)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
