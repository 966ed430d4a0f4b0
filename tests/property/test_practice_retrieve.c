/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What instructors say of loading, asked of the shipped rigs; grade of every check: practice (see test_practice_launch). That a rear
   rocker lifts a low hull off centre at each of its height settings stands in unit/motion/test_rocker. */
#include "lib/study/settle.h"
#include "tests/property/practice.h"

#define TRAILER(name) "trailer=trailers/" name ".yaml"
#define STRAIGHT "start.offset to port=0 mm", "start.heading=0 deg"

/* 0.35 m deeper than the best depth the bow comes to its stop before anything carries the boat; coming in askew it is not held
   sideways and lands beside the rollers. The gap at the stop after levelling is nothing at the best depth and grows beyond it. */
static void too_deep(void **state)
{
    (void)state;
    dd_result *r = ran("retrieve", CHANGED("start.hub depth=750 mm", STRAIGHT));
    assert_true(comes_before(r, "at the stop", "first contact"));
    dd_result_free(r);
    r = ran("retrieve", CHANGED("start.hub depth=750 mm", "start.offset to port=100 mm"));
    word_is(r, "off centre");
    assert_non_null(event_of(r, "landed outside"));
    assert_null(event_of(r, "captured"));
    dd_result_free(r);
    static const char *const depths[] = {"start.hub depth=400 mm", "start.hub depth=500 mm", "start.hub depth=600 mm"};
    double gap[3];
    for (int i = 0; i < 3; i++) {
        r = settled("retrieve", CHANGED(depths[i]));
        gap[i] = figure_of(r, "wound home", "gap at the bow stop after pull-out", 0);
        dd_result_free(r);
    }
    print_message("gap after pull-out at 0.4, 0.5, 0.6 m: %.3f, %.3f, %.3f m\n", gap[0], gap[1], gap[2]);
    assert_true(gap[0] < 0.005 && gap[1] > 0.01 && gap[2] > gap[1] + 0.01);
}

/* 0.3 m shallower than where the stern lifts, on skids that are dry: the pull is above half the winch's rating; at that depth it is not. */
static void too_shallow_on_dry_skids(void **state)
{
    (void)state;
    dd_case *scenario = scenario_read("retrieve", CHANGED(TRAILER("skid-five")));
    const double half = scenario->trailer.winch.rating / 2;
    static const char *const depths[] = {"start.hub depth=230 mm", "start.hub depth=530 mm"};
    for (int i = 0; i < 2; i++) {
        dd_result *r = settled("retrieve", CHANGED(TRAILER("skid-five"), "trailer.supports[skids].stays wet=no", depths[i]));
        const double pull = figure_of(r, "wound home", "greatest pull", 0);
        print_message("%s: pull %.0f N, half the rating %.0f N\n", depths[i], pull, half);
        assert_int_equal(pull > half, i == 0);
        dd_result_free(r);
    }
    free(scenario);
}

/* Dry skids of 0.25 on 12.5 %: at home the strap pulls 0.37 of the boat's weight (within 0.01), so that a winch rated at 0.75 of the weight
   just has twice the pull, as the other rule wants (2 to 2.1). */
static void pull_on_skids_of_a_quarter(void **state)
{
    (void)state;
    static const char *const changed[] = {TRAILER("skid-five"), "trailer.supports[skids].dry friction=0.25", "trailer.supports[skids].wet friction=0.25",
                                          "procedure[1].until.hub depth=-0.35 m", "trailer.winch.pretension=10 N", NULL};
    dd_case *scenario = scenario_read("launch", changed);
    dd_study_model *m = NULL;
    MUST(dd_study_model_create(scenario, &m, error));
    const double weight = dd_hull_mass(m->hull)->mass * m->model.gravity;
    dd_result *r = settled("launch", changed);
    const double pull = figure_of(r, "wound home", "pull 0.00 m short of the stop", 0);
    print_message("pull at home %.3f of the weight\n", pull / weight);
    NEAR(pull / weight, 0.37, 0.01, "pull at home over the weight");
    assert_true(0.75 * weight / pull >= 2 && 0.75 * weight / pull < 2.1);
    dd_result_free(r);
    dd_study_model_free(m);
    free(scenario);
}

/* From first contact the pull of the strap rises towards home and is greatest within the last 0.6 m: in cradles at home itself, on skids
   a little short of it, since there the bow comes onto a roller that resists less. */
static void pull_rises_towards_home(void **state)
{
    (void)state;
    static const char *const trailers[] = {TRAILER("cradle-single"), TRAILER("skid-five")};
    for (int i = 0; i < 2; i++) {
        dd_result *r = settled("retrieve", CHANGED(trailers[i]));
        double greatest = 0, most_short = NAN, last = NAN;
        int steps = 0;
        for (int k = 0; k < r->figure_count && strncmp(r->figures[k].group, "wound home", 10) != 0; k++) steps = k + 1;
        const char *group = r->figures[steps].group;
        for (int k = steps; k < r->figure_count && strcmp(r->figures[k].group, group) == 0; k++) {
            double short_of_stop = NAN;
            if (sscanf(r->figures[k].name, "pull %lf m short", &short_of_stop) != 1) continue;
            last = r->figures[k].value;
            assert_true(last > greatest - 1 || short_of_stop <= 0.6); /* 1 N */
            if (last > greatest) greatest = last, most_short = short_of_stop;
        }
        print_message("%s: greatest %.0f N at %.2f m, at home %.0f N\n", trailers[i], greatest, most_short, last);
        assert_true(greatest > 500 && most_short <= 0.6 && last > 0.8 * greatest);
        dd_result_free(r);
    }
}

/* Tension of the strap wound home in the water on 15 %, and its change by pulling out to level ground; how high the drum stands over the eye. */
static double change_by_pull_out(double winch_height, double *above)
{
    char winch[64];
    snprintf(winch, sizeof winch, "trailer.winch.above ground=%.3f m", winch_height);
    dd_result *r = ran("retrieve", CHANGED(TRAILER("skid-five"), "ramp.slope=15 %", winch, STRAIGHT));
    int first = 0;
    while (first < r->row_count - 1 && (int)cell(r, first, "step") < 3) first++;
    const double change = cell(r, r->row_count - 1, "strap_tension_N") - cell(r, first, "strap_tension_N");
    *above = cell(r, first, "drum_above_eye_m");
    print_message("drum %.2f m over the eye: pitch changes by %.2f deg, tension by %.0f N\n", *above,
                  cell(r, r->row_count - 1, "pitch_in_trailer_bow_down_deg") - cell(r, first, "pitch_in_trailer_bow_down_deg"), change);
    dd_result_free(r);
    return change;
}

/* Pulled out, the bow rises against the trailer: with the drum 0.2 m over the eye the strap slackens, 0.2 m under it tightens, and with a
   level drum it changes least. */
static void strap_changes_by_pitch_times_height(void **state)
{
    (void)state;
    double above[3], change[3];
    static const double heights[] = {1.26, 1.07, 0.86};
    for (int i = 0; i < 3; i++) change[i] = change_by_pull_out(heights[i], &above[i]);
    assert_true(above[0] > 0.15 && fabs(above[1]) < 0.05 && above[2] < -0.15);
    assert_true(change[0] < 0 && change[2] > 0);
    assert_true(fabs(change[1]) < fabs(change[0]) && fabs(change[1]) < fabs(change[2]));
}

/* A best depth between too shallow and too deep, and not the same for rollers in cradles and for long skids. */
static void best_depth_by_trailer(void **state)
{
    (void)state;
    static const struct {
        const char *trailer, *depth, *word;
    } cases[] = {{TRAILER("cradle-single"), "start.hub depth=200 mm", "a limit is broken"},
                 {TRAILER("cradle-single"), "start.hub depth=400 mm", "retrieve works"},
                 {TRAILER("cradle-single"), "start.hub depth=550 mm", "short of the stop"},
                 {TRAILER("skid-five"), "start.hub depth=300 mm", "a limit is broken"},
                 {TRAILER("skid-five"), "start.hub depth=500 mm", "retrieve works"},
                 {TRAILER("skid-five"), "start.hub depth=700 mm", "short of the stop"}};
    double handle_before = INFINITY;
    for (int i = 0; i < 6; i++) {
        dd_result *r = ran("retrieve", CHANGED(cases[i].trailer, cases[i].depth, STRAIGHT));
        const double handle = most(r, 2, "handle_force_N");
        print_message("%s %s: %s, handle %.0f N\n", cases[i].trailer, cases[i].depth, r->word, handle);
        word_is(r, cases[i].word);
        if (i % 3 == 1) assert_true(handle < handle_before);
        handle_before = handle;
        dd_result_free(r);
    }
}

/* A rear rocker at its lowest and highest setting takes the boat in 0.1 m shallower than is best for the cradle that stands fast
   in its place: there its rollers go over their rating. Set higher it needs less hand force. */
static void rocker_widens_the_band(void **state)
{
    (void)state;
    static const char fast[] =
        "trailer.supports[rear rocker]={kind: cradle, name: rear cradle, behind coupling: 5.49 m, above ground: 560 mm, deadrise: 18.5 deg, "
        "rows: 4, row spacing: 400 mm, half spacings: [280 mm, 620 mm], rated load: 3.5 kN}";
    const char *const rears[] = {"trailer.supports[rear rocker].height setting=1", "trailer.supports[rear rocker].height setting=3", fast};
    double handle[3], use[3];
    for (int i = 0; i < 3; i++) {
        dd_result *r = ran("retrieve", CHANGED(TRAILER("rocker-five"), rears[i], "start.hub depth=300 mm", STRAIGHT, "procedure[3].until.water clear=-0.25 m"));
        handle[i] = most(r, 2, "handle_force_N");
        use[i] = most(r, 2, "largest_roller_use_percent");
        print_message("%.48s: %s handle %.0f N, rollers %.0f %%\n", rears[i], r->word, handle[i], use[i]);
        dd_result_free(r);
    }
    assert_true(use[0] < 100 && use[1] < 100 && use[2] > 100);
    assert_true(handle[1] < handle[0]);
}

/* Driven on to where it lies on the trailer, throttle left on, then the helm put hard over: how far bow eye and stern end up off the line,
   and the heading between the last two seconds. */
static double helm_hard_over(const char *const *changed, double *heading)
{
    dd_case *scenario = scenario_read("retrieve", changed);
    dd_run *run = NULL;
    dd_seen seen;
    MUST(dd_run_create(scenario, &run, error));
    MUST(run_until(run, 11, error));
    run->m->workspace->plan.helm = (dd_ramped){.from = 0, .to = 0.5, .start = dd_ode_time(run->ode), .duration = 1};
    MUST(run_until(run, 20, error));
    if (dd_run_evaluate(run, dd_ode_time(run->ode), DD_WANT_CHANNELS) != 0) fail_msg("not finite");
    dd_seen_read(run->m, 0, &seen);
    assert_true(seen.v[DD_SEEN_THRUST] > 500 && seen.v[DD_SEEN_SUPPORT_LOAD] > 0.2 * run->weight);
    *heading = fabs(seen.v[DD_SEEN_HEADING]);
    const double off = fmax(fabs(seen.v[DD_SEEN_BOW_OFFSET]), fabs(seen.v[DD_SEEN_STERN_OFFSET]));
    dd_run_free(run);
    free(scenario);
    return off;
}

/* At loading thrust with the helm hard over, rollers in cradles keep the boat within 25 mm and half a degree; keel rollers without guides do
   not. */
static void cradle_holds_against_the_helm(void **state)
{
    (void)state;
    double on_cradles, on_keel_rollers;
#define DRIVEN                                                                                                                         \
    STRAIGHT, "start.hub depth=380 mm", "start.bow distance=300 mm", "start.engine=down",                                              \
        "procedure=[{drive on: {speed: 0.8 m/s, throttle: 30 %, hold throttle: 30 %, until: {after: 10 s}}}, {wait: {until: {after: 15 s}}}]"
    const double cradles = helm_hard_over(CHANGED(TRAILER("cradle-single"), DRIVEN), &on_cradles),
                 keel_rollers = helm_hard_over(CHANGED(TRAILER("keel-roller-five"), "trailer.supports[guide posts].half spacing=2.5 m", DRIVEN), &on_keel_rollers);
#undef DRIVEN
    print_message("cradles: %.3f m, %.2f deg; keel rollers: %.3f m, %.2f deg\n", cradles, on_cradles, keel_rollers, on_keel_rollers);
    assert_true(cradles < 0.025 && on_cradles < 0.5);
    assert_true(keel_rollers > 0.025 && keel_rollers > 2 * cradles && on_keel_rollers > on_cradles);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(too_deep),
        cmocka_unit_test(too_shallow_on_dry_skids),
        cmocka_unit_test(pull_on_skids_of_a_quarter),
        cmocka_unit_test(pull_rises_towards_home),
        cmocka_unit_test(strap_changes_by_pitch_times_height),
        cmocka_unit_test(best_depth_by_trailer),
        cmocka_unit_test(rocker_widens_the_band),
        cmocka_unit_test(cradle_holds_against_the_helm),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
