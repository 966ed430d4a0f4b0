/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What instructors say of things done wrong, asked of the shipped rigs; grade of every check: practice (see test_practice_launch). Two
   more rows of practice stand in unit tests: the friction that holds the rig on rear wheels or on all four
   (unit/force/test_rig_forces: test_holding_friction), a boat a metre aft on its rollers (test_boat_aft_lightens_the_rear). */
#include "lib/study/observe.h"
#include "tests/property/practice.h"

#define TRAILER(name) "trailer=trailers/" name ".yaml"

/* Unhooked at the top of the ramp on easy rollers (0.03) it runs, tips over the last support and its transom strikes, all before
   anything floats. */
static void unhooked_at_the_crest(void **state)
{
    (void)state;
    dd_result *r = ran("launch", CHANGED("start.hub depth=-1.2 m", "trailer.supports[rear cradle].rolling resistance=0.03",
                                         "trailer.supports[front cradle].rolling resistance=0.03",
                                         "procedure=[{back down: {until: {hub depth: -1.1 m}}}, {let strap off: {}}, "
                                         "{back down: {until: {hub depth: 380 mm}}}]"));
    word_is(r, "ran off");
    assert_true(comes_before(r, "runs off", "support lost: front cradle"));
    assert_true(comes_before(r, "support lost: front cradle", "transom touches the ground"));
    assert_null(event_of(r, "afloat"));
    dd_result_free(r);
}

/* 0.3 m shallower than where the stern lifts, pushed off: on rollers it runs and drops; where it lifts it floats off. */
static void pushed_off_too_shallow(void **state)
{
    (void)state;
    static const char *const depths[] = {"procedure[1].until.hub depth=50 mm", "procedure[1].until.hub depth=350 mm"};
    for (int i = 0; i < 2; i++) {
        dd_result *r = ran("launch", CHANGED(depths[i]));
        word_is(r, i == 0 ? "ran off" : "launch works");
        dd_result_free(r);
    }
}

typedef struct tied {
    double home, bearing, least_coupling; /* coupling's load dry, last while the wheels bear, least, N */
    double least_axle, most_ties, friction, tail;
} tied;

/* The launch with or without its ties, backed on until the vehicle's tail is half a metre in, then held there. */
static tied back_down(const char *ties)
{
    dd_case *scenario = scenario_read("launch", CHANGED("trailer.transom ties={behind coupling: 5.6 m, half spacing: 500 mm, above ground: 500 mm, rating: 5 kN}",
                                                        ties, "ramp.slope=15 %",
                                                        "procedure=[{back down: {speed: 0.6 m/s, until: {distance: 9 m}}}, {wait: {until: {after: 2 s}}}]"));
    tied t = {.least_axle = INFINITY, .least_coupling = INFINITY};
    dd_run *run = NULL;
    dd_seen seen = {0};
    MUST(dd_run_create(scenario, &run, error));
    while (!run_finished(run)) {
        MUST(dd_run_step(run, error));
        if (dd_run_evaluate(run, dd_ode_time(run->ode), DD_WANT_CHANNELS) != 0) fail_msg("not finite");
        dd_seen_read(run->m, 0, &seen);
        if (t.home == 0) t.home = seen.v[DD_SEEN_COUPLING_LOAD];
        t.least_axle = fmin(t.least_axle, seen.v[DD_SEEN_AXLE_LOAD]);
        if (seen.v[DD_SEEN_AXLE_LOAD] > 0.1 * run->weight) t.bearing = seen.v[DD_SEEN_COUPLING_LOAD];
        t.least_coupling = fmin(t.least_coupling, seen.v[DD_SEEN_COUPLING_LOAD]);
        if (isfinite(seen.v[DD_SEEN_TIES])) t.most_ties = fmax(t.most_ties, seen.v[DD_SEEN_TIES]);
    }
    t.friction = seen.v[DD_SEEN_FRICTION_NEEDED];
    t.tail = seen.v[DD_SEEN_VEHICLE_WHEEL_DEPTH];
    dd_run_free(run);
    free(scenario);
    return t;
}

/* Ties left on: the boat lifts the trailer off its wheels; without them the wheels bear throughout.
   WHERE WE DIFFER: practice has the coupling's load fall through zero and the friction needed rise by a third. Here the coupling stays
   loaded, by twice as much as dry while the wheels bear. The term is the balance of moments of the trailer: ties at its tail
   pull up behind the axle, which presses the coupling down as long as the wheels bear, and once they do not, the ball carries the share
   (1 - centre / ties) of the trailer's weight, 1.2 kN here, and the bow's load besides. Only what lifts ahead of the trailer's centre
   could lift the coupling. */
static void ties_left_on(void **state)
{
    (void)state;
    const tied on = back_down("start.ties=on"), off = back_down("start.ties=off");
    print_message("ties on: axle %.0f N, coupling %.0f N while it bears, least %.0f N, friction %.2f; off: %.0f, %.0f, %.0f N, %.2f; tail %.2f m in\n",
                  on.least_axle, on.bearing, on.least_coupling, on.friction, off.least_axle, off.bearing, off.least_coupling,
                  off.friction, on.tail);
    assert_true(on.most_ties > 3000 && off.most_ties == 0);
    assert_true(on.least_axle < 1 && off.least_axle > 1500);
    assert_true(on.bearing > 1.5 * on.home);
    assert_true(on.least_coupling > 0);
}

/* Loads of the keel rollers of a trailer at home, level, without friction. */
static void keel_roller_loads(const char *change, double loads[3])
{
    static const char *const rollers[] = {"support rear keel roller_N", "support middle keel roller_N", "support front keel roller_N"};
    dd_result *r = settled("launch", CHANGED("boat=boats/aluminium-four-metre.yaml", TRAILER("keel-roller-four"), change,
                                             "aboard=[{item: fuel, mass: 20 kg, at: [0.6 m, 0 m, 0.3 m]}]"));
    assert_true(r->row_count > 0);
    for (int i = 0; i < 3; i++) loads[i] = cell(r, 0, rollers[i]);
    dd_result_free(r);
}

/* The middle of three keel rollers 25 mm low carries nothing; taken away, its neighbours take its load and the result
   is the same; 2 mm high, its load rises by half or
   more and its neighbours' falls; 10 mm high the boat rocks on it, clear of its side skids. The keel roller ahead of long skids, which
   hold the boat upright, takes half as much again or more when it stands 10 mm high. */
static void one_keel_roller_low_gone_or_high(void **state)
{
    (void)state;
    dd_case *scenario = scenario_read("launch", CHANGED(TRAILER("keel-roller-four")));
    char low[96], high[96], away[96];
    double as_is[3], lowered[3], gone[3], raised[3];
    double height = NAN;
    for (int i = 0; i < scenario->trailer.support_count; i++)
        if (strcmp(scenario->trailer.supports[i].name, "middle keel roller") == 0) height = scenario->trailer.supports[i].above_ground;
    free(scenario);
    snprintf(low, sizeof low, "trailer.supports[middle keel roller].above ground=%.17g m", height - 0.025);
    snprintf(away, sizeof away, "trailer.supports[middle keel roller].above ground=%.17g m", height - 0.3);
    snprintf(high, sizeof high, "trailer.supports[middle keel roller].above ground=%.17g m", height + 0.002);
    keel_roller_loads("title=as it is", as_is);
    keel_roller_loads(low, lowered);
    keel_roller_loads(away, gone);
    keel_roller_loads(high, raised);
    print_message("middle roller %.0f N, low %.0f, high %.0f; neighbours %.0f and %.0f N, low %.0f and %.0f, high %.0f and %.0f\n", as_is[1],
                  lowered[1], raised[1], as_is[0], as_is[2], lowered[0], lowered[2], raised[0], raised[2]);
    assert_true(lowered[1] == 0 && gone[1] == 0);
    assert_true(lowered[0] > 1.1 * as_is[0] && lowered[2] > 1.1 * as_is[2]);
    for (int i = 0; i < 3; i++) NEAR(lowered[i], gone[i], 1e-3 * as_is[1], "load of a roller");
    assert_true(raised[1] > 1.5 * as_is[1] && raised[0] < as_is[0] && raised[2] < as_is[2]);
    dd_result *r = settled("launch", CHANGED(TRAILER("skid-five"), "trailer.supports[front keel roller].above ground=570 mm")),
              *higher = settled("launch", CHANGED(TRAILER("skid-five"), "trailer.supports[front keel roller].above ground=580 mm"));
    const double before = cell(r, 0, "support front keel roller_N"), after = cell(higher, 0, "support front keel roller_N");
    print_message("ahead of skids %.0f N, 10 mm high %.0f N\n", before, after);
    assert_true(after > 1.5 * before && cell(higher, 0, "support skids_N") < cell(r, 0, "support skids_N"));
    dd_result_free(r);
    dd_result_free(higher);
}

/* Keel rollers without guides in a light stream: where the keel comes down on a bracket it is more than half a roller's width off. */
static void beside_the_roller_on_a_bracket(void **state)
{
    (void)state;
    dd_result *r = ran("retrieve-cross-stream", CHANGED(TRAILER("keel-roller-five"), "trailer.supports[guide posts].half spacing=2 m",
                                                        "start.hub depth=600 mm", "water.current=0.1 knot"));
    const dd_event *landed = event_of(r, "on a bracket");
    word_is(r, "on a bracket");
    assert_non_null(landed);
    const int row = row_at(r, "time_s", landed->time);
    const double off = fmax(fabs(cell(r, row, "bow_offset_to_port_m")), fabs(cell(r, row, "stern_offset_to_port_m")));
    print_message("%s, off by up to %.3f m\n", landed->detail, off);
    assert_true(off > 0.07);
    dd_result_free(r);
}

/* On a steep ramp, over a high drawbar, with the roller ahead of the cradles too low: the bow comes down on the drawbar as it is wound
   in, and the drawbar bears it. With frame and friction out of the way it would be nearer home by then. */
static void bow_rides_on_the_drawbar(void **state)
{
    (void)state;
    dd_result *r = ran("teaching/bow-on-the-frame", CHANGED("title=as it is")), *free_of_it = ran("teaching/bow-on-the-frame", CHANGED("without=[bow on frame]"));
    const dd_event *rides = event_of(r, "rides on the frame");
    word_is(r, "bow on the frame");
    assert_non_null(rides);
    assert_true(comes_before(r, "bow scrapes the frame", "rides on the frame"));
    const int last = r->row_count - 1, then = row_at(free_of_it, "time_s", cell(r, last, "time_s"));
    print_message("%.0f N on the drawbar, %.1f mm deep; gap at the stop %.3f m, without the frame %.3f m\n", most(r, 0, "hull_on_frame_N"),
                  -1e3 * least(r, 0, "bow_over_frame_m"), cell(r, last, "stop_gap_m"), cell(free_of_it, then, "stop_gap_m"));
    assert_true(most(r, 0, "hull_on_frame_N") > 200 && least(r, 0, "bow_over_frame_m") > -0.01);
    assert_null(event_of(free_of_it, "bow scrapes the frame"));
    assert_true(cell(free_of_it, then, "stop_gap_m") < cell(r, last, "stop_gap_m"));
    dd_result_free(r);
    dd_result_free(free_of_it);
}

/* A stream across and long skids set deep: guides reach over the chine and bring the boat home; with their tops under it they do
   nothing, and with none the boat is swept past as with those. */
static void guides_under_the_chine_are_useless(void **state)
{
    (void)state;
    static const char *const guides[] = {"trailer.supports[side guides].above ground=1600 mm", "trailer.supports[side guides].above ground=700 mm"};
    for (int i = 0; i < 2; i++) {
        dd_result *r = ran("retrieve-cross-stream", CHANGED(TRAILER("skid-five"), guides[i], "start.hub depth=500 mm", "water.current=0.4 knot",
                                                            "procedure[3].until.water clear=-0.45 m"));
        print_message("%s: %s\n", guides[i], r->sentence);
        if (i == 0) assert_true(event_of(r, "guide touched") != NULL && event_of(r, "captured") != NULL && event_of(r, "swept past") == NULL);
        else word_is(r, "swept past");
        dd_result_free(r);
    }
}

/* On weed of 0.15 the same vehicle pulls the boat out on four wheels and spins on two. */
static void four_wheels_pull_out_on_weed(void **state)
{
    (void)state;
    static const char *const drives[] = {"vehicle.drive=four", "vehicle.drive=rear"};
    for (int i = 0; i < 2; i++) {
        dd_result *r = ran("retrieve", CHANGED(drives[i], "ramp.weed.from level=-2 m", "ramp.weed.to level=1.4 m",
                                               "ramp.weed.friction low=0.15", "ramp.weed.friction high=0.15"));
        if (i == 0) word_is(r, "retrieve works");
        assert_int_equal(event_of(r, "wheel slips") != NULL, i);
        assert_int_equal(event_of(r, "hub clear of the water") == NULL, i);
        dd_result_free(r);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(unhooked_at_the_crest),
        cmocka_unit_test(pushed_off_too_shallow),
        cmocka_unit_test(ties_left_on),
        cmocka_unit_test(one_keel_roller_low_gone_or_high),
        cmocka_unit_test(beside_the_roller_on_a_bracket), cmocka_unit_test(bow_rides_on_the_drawbar),
        cmocka_unit_test(guides_under_the_chine_are_useless),
        cmocka_unit_test(four_wheels_pull_out_on_weed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
