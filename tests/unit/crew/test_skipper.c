/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The skipper's law by itself. Grade: closed form, but for the random stream. */
#include "tests/unit/crew/people.h"

static dd_skipper_state at_the_helm(uint64_t random)
{
    dd_skipper_state s = {.random = random};
    dd_skipper_begin(&s, 1, 0);
    return s;
}

/* Helm after `looks` looks at one view. */
static double helm_for(const dd_skipper *skipper, dd_skipper_view view, int sense, int looks)
{
    dd_skipper_state s = at_the_helm(1);
    dd_plan plan = {0};
    s.sense = sense;
    for (int i = 0; i < looks; i++) dd_skipper_look(&s, skipper, &view, s.next, 0.8, 0.3, &plan);
    return plan.helm.to;
}

/* Steady view, no noise: helm = gain (wanted - heading), wanted = -atan(offset / look-ahead); 1e-15 rad. Ahead it turns the bow
   back to the line; the mirrored view has the mirrored helm, exactly. */
static void steers_back_to_the_line(void **state)
{
    (void)state;
    dd_skipper skipper = people_skipper(DD_SKIPPER_USUAL);
    skipper.aim_noise = 0;
    const dd_skipper_view port = {.heading = 0.05, .offset = 0.2, .to_go = 5, .approach = 0.5};
    const dd_skipper_view starboard = {.heading = -0.05, .offset = -0.2, .to_go = 5, .approach = 0.5};
    const double helm = helm_for(&skipper, port, 1, 20);
    NEAR(helm, skipper.gain * (-atan(0.2 / skipper.look_ahead) - 0.05), 1e-15);
    assert_true(helm < 0); /* to starboard */
    assert_true(helm_for(&skipper, starboard, 1, 20) == -helm);
    /* going astern (the approach negative, throttle astern) the stern leads */
    const dd_skipper_view astern = {.heading = 0, .offset = 0.2, .to_go = 1, .approach = 0};
    NEAR(helm_for(&skipper, astern, -1, 20), -skipper.gain * atan(0.2 / skipper.look_ahead), 1e-15);
    /* never beyond the limit */
    const dd_skipper_view far = {.heading = 1.2, .offset = 3, .to_go = 5, .approach = 0.5};
    NEAR(helm_for(&skipper, far, 1, 60), -skipper.helm_limit, 1e-15);
}

/* Nothing of a change is acted on before the delay, and the helm turns no faster than its rate. Exact; 1e-15 rad. */
static void acts_after_his_delay(void **state)
{
    (void)state;
    dd_skipper skipper = people_skipper(DD_SKIPPER_USUAL);
    skipper.aim_noise = skipper.anticipation = 0;
    skipper.delay = 1.0;
    dd_skipper_state s = at_the_helm(1);
    dd_plan plan = {0};
    const dd_skipper_view straight = {.to_go = 5, .approach = 0.8}, aside = {.offset = 1, .to_go = 5, .approach = 0.8};
    for (int i = 0; i < 10; i++) dd_skipper_look(&s, &skipper, &straight, s.next, 0.8, 0.3, &plan);
    for (int i = 0; i < 20; i++) {
        const double before = plan.helm.to;
        dd_skipper_look(&s, &skipper, &aside, s.next, 0.8, 0.3, &plan);
        if (i < 5) assert_true(plan.helm.to == 0); /* 1 s is five looks */
        if (i == 5) assert_true(plan.helm.to < 0);
        assert_true(fabs(plan.helm.to - before) <= skipper.helm_rate * dd_skipper_period + 1e-15);
        assert_true(plan.helm.duration == dd_skipper_period);
    }
}

/* Throttle: within what the step allows, ahead while too slow, less near home. */
static void gives_throttle_for_the_speed(void **state)
{
    (void)state;
    dd_skipper skipper = people_skipper(DD_SKIPPER_EXPERT);
    const dd_skipper_view slow = {.to_go = 5}, fast = {.to_go = 5, .approach = 2}, home = {.to_go = 0.1, .approach = 0.3};
    dd_skipper_state s = at_the_helm(1);
    dd_plan plan = {0};
    for (int i = 0; i < 200; i++) dd_skipper_look(&s, &skipper, &slow, s.next, 0.8, 0.3, &plan);
    NEAR(plan.throttle.to, 0.3, 1e-15);
    s = at_the_helm(1);
    for (int i = 0; i < 200; i++) dd_skipper_look(&s, &skipper, &fast, s.next, 0.8, 0.3, &plan);
    NEAR(plan.throttle.to, -0.3, 1e-15);
    s = at_the_helm(1);
    for (int i = 0; i < 5; i++) dd_skipper_look(&s, &skipper, &home, s.next, 0.8, 0.3, &plan);
    assert_true(plan.throttle.to < 0); /* 0.3 m/s is more than he wants there */
    dd_skipper_end(&s, &skipper, s.next, 0.1, &plan);
    assert_true(s.sense == 0 && plan.throttle.to == 0.1 && plan.helm.to == 0);
}

/* The stream: the same seed the same looks, to the bit; another seed others. Mean 0 and deviation 1 of 40000 draws within four
   standard errors (0.02 and 0.0141); the aim's deviation is the one asked for, within 5 % over 40000 looks (correlated over 2 s,
   ten looks: 2.2 % is one standard error). */
static void random_stream_is_his_own(void **state)
{
    (void)state;
    uint64_t random = 7;
    double sum = 0, squares = 0;
    enum { DRAWS = 40000 };
    for (int i = 0; i < DRAWS; i++) {
        const double x = dd_skipper_normal(&random);
        sum += x, squares += x * x;
    }
    NEAR(sum / DRAWS, 0, 4 / sqrt(DRAWS));
    NEAR(sqrt(squares / DRAWS), 1, 4 / sqrt(2.0 * DRAWS));
    const dd_skipper skipper = people_skipper(DD_SKIPPER_LEARNER);
    const dd_skipper_view view = {.to_go = 5, .approach = 0.8};
    dd_skipper_state a = at_the_helm(3), b = at_the_helm(3), c = at_the_helm(4);
    dd_plan plan = {0}, other = {0}, third = {0};
    double wander = 0;
    for (int i = 0; i < DRAWS; i++) {
        dd_skipper_look(&a, &skipper, &view, a.next, 0.8, 0.3, &plan);
        dd_skipper_look(&b, &skipper, &view, b.next, 0.8, 0.3, &other);
        dd_skipper_look(&c, &skipper, &view, c.next, 0.8, 0.3, &third);
        wander += a.noise * a.noise;
    }
    assert_memory_equal(&a, &b, sizeof a);
    assert_memory_equal(&plan, &other, sizeof plan);
    assert_true(plan.helm.to != third.helm.to);
    NEAR(sqrt(wander / DRAWS), skipper.aim_noise, 0.05 * skipper.aim_noise);
}

/* The presets are in order: who is practised acts sooner, wanders less, looks further. A figure given is kept. */
static void presets_are_in_order(void **state)
{
    (void)state;
    const dd_skipper learner = people_skipper(DD_SKIPPER_LEARNER), usual = people_skipper(DD_SKIPPER_USUAL),
                     expert = people_skipper(DD_SKIPPER_EXPERT);
    assert_true(learner.delay > usual.delay && usual.delay > expert.delay && expert.delay >= 0.5 && learner.delay <= 1);
    assert_true(learner.aim_noise > usual.aim_noise && usual.aim_noise > expert.aim_noise);
    assert_true(learner.look_ahead < usual.look_ahead && usual.look_ahead < expert.look_ahead);
    dd_skipper own = {.preset = DD_SKIPPER_EXPERT, .delay = 0.9, .gain = NAN, .anticipation = NAN, .look_ahead = NAN, .aim_noise = NAN,
                      .helm_limit = NAN, .helm_rate = NAN, .seed = 5};
    own = dd_skipper_complete(&own);
    assert_true(own.delay == 0.9 && own.gain == expert.gain && own.seed == 5);
}

/* A move that begins later lets the one before it go on: smooth steps of slope 1.5 (to - from) / duration at most have no jump at
   the moment of either move; closed form, 1e-15. A second one before the first began lets the same go on. Guards against a helm
   that jumped to the end of its move the moment the skipper decided to leave off. */
static void what_goes_on_goes_on_until_a_later_move(void **state)
{
    (void)state;
    dd_ramped helm = {.from = 0.1, .to = 0.4, .start = 1, .duration = 0.6};
    const dd_ramped before = helm;
    dd_ramped_move(&helm, -0.2, 1.3, 0.5);
    for (double t = 1; t < 1.3; t += 0.01) NEAR(dd_ramped_at(&helm, t), dd_ramped_at(&before, t), 1e-15);
    NEAR(dd_ramped_at(&helm, 1.3), 0.25, 1e-15);
    NEAR(dd_ramped_at(&helm, 1.55), 0.025, 1e-15);
    NEAR(dd_ramped_at(&helm, 1.8), -0.2, 1e-15);
    dd_ramped_move(&helm, 0.9, 1.2, 1);
    for (double t = 1; t < 1.2; t += 0.01) NEAR(dd_ramped_at(&helm, t), dd_ramped_at(&before, t), 1e-15);
    NEAR(dd_ramped_at(&helm, 1.2), dd_ramped_at(&before, 1.2), 1e-15);
    NEAR(dd_ramped_at(&helm, 2.2), 0.9, 1e-15);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(steers_back_to_the_line), cmocka_unit_test(acts_after_his_delay),
                                       cmocka_unit_test(gives_throttle_for_the_speed), cmocka_unit_test(random_stream_is_his_own),
                                       cmocka_unit_test(presets_are_in_order),
                                       cmocka_unit_test(what_goes_on_goes_on_until_a_later_move)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
