/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What rule sets ask of brakes, in brake's table and checks: limits as the instruments print them, figures by the closed forms of the brakes. */
#include "tests/unit/study/reports.h"
#include "lib/base/error.h"
#include <drawdock/rules.h>

#define G 9.80665
#define SLOW "braking.speed=10 km/h"
#define OVERRUN "trailer.brakes={fitted: overrun, axles: 2, park brake: yes}"

static dd_report *braked_under(const char *rules, const char *brakes, const char *more)
{
    char set[600];
    snprintf(set, sizeof set, "rules=%s", rules);
    const char *overrides[] = {SLOW, set, brakes, more, NULL};
    return reported_with(dd_study_brake, BARE, overrides);
}

/* Weight of the loaded trailer, as weigh has it. */
static double weight_of_it(void)
{
    dd_case_file *file = scenario_with(BARE, NULL);
    dd_report *r = weighed(dd_case_of(file));
    const double weight = number_at(r, "road", "as given", "trailer") * G;
    dd_report_free(r);
    dd_case_free(file);
    return weight;
}

/* Belgium on a tandem: push at most 6 % and from 2 % on, 49 % of the EU (more than the 45 %), park on 18 %. The brake as its figures make it, threshold 2 %
   and 49 % at 10 %, r = 0.49/0.08: 24.5 % at a push of 6 % (closed form); the park lever's 4 kN over the tyre's radius. Published limits; 1e-6. */
static void overrun_in_belgium(void **state)
{
    (void)state;
    const double weight = weight_of_it(), rate = 0.49 / 0.08;
    dd_report *r = braked_under("be", OVERRUN, NULL);
    const dd_check *braking = check_needed(r, "braking force at the push allowed"), *push = check_needed(r, "overrun push that gives the braking force");
    NEAR(braking->limit, 49, 1e-9);
    NEAR(braking->value, 100 * rate * (0.06 - 0.02), 1e-4);
    assert_int_equal(braking->outcome, DD_CHECK_BROKEN);
    NEAR(push->limit, 0.06 * weight, 1e-3 * 0.06 * weight);
    NEAR(push->value / push->limit, 0.10 / 0.06, 1e-6);
    assert_int_equal(push->outcome, DD_CHECK_BROKEN);
    assert_int_equal(check_needed(r, "push at which the overrun brake starts")->outcome, DD_CHECK_GOOD);
    const double holds = check_needed(r, "slope that the trailer's park brake holds")->value;
    const dd_check *park = check_needed(r, "slope that the trailer's park brake holds");
    NEAR(park->limit, 18, 1e-9);
    assert_int_equal(park->outcome, DD_CHECK_GOOD);
    NEAR(number_at(r, "standards", "slope that the trailer's park brake holds", "margin"), 100 * (park->value / 18 - 1), 1e-6);
    NEAR(number_at(r, "standards", "overrun push that gives the braking force", "margin"), 100 * (1 - 0.10 / 0.06), 1e-6);
    assert_string_equal(cell_at(r, "standards", "slope that the trailer's park brake holds", "clause")->text, "royal decree of 15 March 1968, art. 48");
    assert_string_equal(cell_at(r, "standards", "slope that the trailer's park brake holds", "by")->text, "rule set");
    dd_report_free(r);
    /* A lever that is pulled half as hard does not hold it. */
    r = braked_under("be", OVERRUN, "trailer.brake figures.overrun.park pull=2 kN");
    assert_int_equal(check_needed(r, "slope that the trailer's park brake holds")->outcome, DD_CHECK_BROKEN);
    NEAR(tan(asin(sin(atan(check_needed(r, "slope that the trailer's park brake holds")->value / 100)) * 2)) * 100, holds, 1e-6 * holds);
    dd_report_free(r);
}

/* The European rule alone is met by the brake whose figures are made from it: D* and B* of EU 2015/504, form 5 (1471.5 N and 7210.4 N for 1500 kg). */
static void overrun_in_europe(void **state)
{
    (void)state;
    const double weight = weight_of_it();
    dd_report *r = braked_under("eu", OVERRUN, NULL);
    const dd_check *braking = check_needed(r, "braking force at the push allowed"), *push = check_needed(r, "overrun push that gives the braking force");
    NEAR(push->limit * 1500 * 9.81 / weight, 1471.5, 1);
    NEAR(braking->limit / 100 * 1500 * 9.81, 7210.4, 0.1);
    NEAR(push->value, push->limit, 1e-9 * push->limit);
    assert_int_equal(braking->outcome, DD_CHECK_GOOD);
    dd_report_free(r);
}

/* Germany: 5 m/s2 of its own from 750 kg, 18 % after breaking away. Electric drums brake with half of their axles' load at full current: below 5 m/s2; a
   park brake on such brakes has no figure: it is said, not passed. Without brakes nothing is held. */
static void electric_in_germany(void **state)
{
    (void)state;
    dd_report *r = braked_under("de", "trailer.brakes={fitted: electric, axles: 2}", NULL);
    const dd_check *own = check_needed(r, "deceleration by its own brakes");
    NEAR(own->limit, 5, 1e-9);
    assert_true(own->value < 0.5 * G && own->value > 0.45 * G); /* half of what the axles carry */
    assert_int_equal(own->outcome, DD_CHECK_BROKEN);
    assert_int_equal(check_needed(r, "slope that its brakes hold after breaking away")->outcome, DD_CHECK_GOOD);
    NEAR(check_needed(r, "slope that the trailer's park brake holds")->value, 0, 1e-12);
    dd_report_free(r);
    r = braked_under("de", "trailer.brakes={fitted: electric-hydraulic, axles: 2, park brake: yes}", NULL);
    assert_int_equal(check_needed(r, "slope that the trailer's park brake holds")->outcome, DD_CHECK_NOT_CHECKED);
    dd_report_free(r);
}

/* New Zealand: 7 m from 30 km/h, by a stop of its own from that speed, whatever speed is asked; weak brakes do not make it. */
static void stop_in_new_zealand(void **state)
{
    (void)state;
    dd_report *r = braked_under("nz", "trailer.brakes={fitted: electric, axles: 2}", NULL);
    const dd_check *way = check_needed(r, "the rig stops from 30 km/h");
    NEAR(way->limit, 7, 1e-9);
    assert_true(way->value > 30 * 30 / (3.6 * 3.6 * 2 * 9.0) && way->value < 12);
    const double first = way->value;
    dd_report_free(r);
    r = braked_under("nz", "trailer.brakes={fitted: electric, axles: 2}", "vehicle.braking.deceleration=4 m/s2");
    assert_true(check_needed(r, "the rig stops from 30 km/h")->value > first + 3);
    assert_int_equal(check_needed(r, "the rig stops from 30 km/h")->outcome, DD_CHECK_BROKEN);
    dd_report_free(r);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(overrun_in_belgium), cmocka_unit_test(overrun_in_europe), cmocka_unit_test(electric_in_germany),
                                       cmocka_unit_test(stop_in_new_zealand)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
