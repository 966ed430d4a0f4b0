/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `depth`, which is statics, against the run, which is not: at the least level less 20 mm a launch or retrieve at the deepest place that is left
   fails for the reason that depth gives, at 20 mm more it works at the best place; and 20 mm of depth beyond an end of the band breaks
   that end's limit. The suite holds a few rigs to it; `make levels` holds every shipped launch and retrieve to the least level, 2 to 10 s each, and files
   given are asked for both: tests/unit/study/test_depth_run [levels] scenarios/rigs/FILE... */
#include "lib/study/depth.h"
#include "lib/study/run.h"
#include "tests/unit/study/reports.h"

static const double beside = 0.02;     /* m of level or depth */
static const double run_in = 1.0;      /* m that the rig backs down, slowly: it stops within millimetres of where it should */
static const double backing = 0.2;     /* m/s */
static const double short_of = 0.04;   /* of the toe, m: a rig that backs down overshoots by less */

static const struct {
    dd_depth_end end;
    const char *told; /* in the run's word or sentence */
} reasons[] = {{DD_END_RUNS, "ran off"}, {DD_END_PUSH, "does not float off"}, {DD_END_COUPLING_LIFT, "lift on the coupling"},
               {DD_END_ROLLER, "roller against its rating"}, {DD_END_EXHAUST, "water at the exhaust"}, {DD_END_TOE, "end of the slab"},
               {DD_END_ACTUATOR, "brake actuator"}, {DD_END_BOW_FRAME, "on the frame"}, {DD_END_WADING, "wading depth"},
               {DD_END_THRUST, "drive off"}, {DD_END_BED, "the bed"}, {DD_END_LATCH, "latch does not meet"}, {DD_END_TRANSOM, "stern came down"}, {DD_END_TIPS, "dropped"},
               {DD_END_HANDLE, "hand force at the winch"}, {DD_END_PULL_OUT, "friction under the wheels"}, {DD_END_HOLD, "friction under the wheels"}, {DD_END_FRAME, "frame clear of the ground"}};

#define MUST(call)                                                                                                                        \
    do {                                                                                                                                  \
        dd_error must_error = {.status = DD_OK}, *const error = &must_error;                                                               \
        if ((call) != DD_OK) fail_msg("%s: %s", must_error.place, must_error.message);                                                     \
    } while (0)

/* Borne out on one side only; side: the one that is not. Below, they work as well, where depth does not advise it. */
enum { BELOW = 1, ABOVE = 2 };
static const struct {
    const char *file;
    int side;
    const char *why;
} known[] = {{"four-skid-tilt-launch", BELOW, "there the bed falls by itself as it is unlatched, and the run lets it"},
             {"six-skid-launch", BELOW, "what the engine cannot drive off at once it works off the skids within the minute, by rocking"}};

/* Earlier stops on the way are left out; the strap, let off at one of them, is let off at the end of the way. */
static void order(dd_case *c)
{
    dd_step early[DD_STEPS];
    int count = 0, last = -1, held = 0;
    for (int i = 0; i < c->step_count; i++)
        if (c->steps[i].kind == DD_STEP_BACK_DOWN) last = i;
    for (int i = 0; i < c->step_count; i++) {
        const dd_step step = c->steps[i];
        if (i < last && step.kind == DD_STEP_STRAP_OFF)
            early[held++] = step;
        else if (step.kind != DD_STEP_BACK_DOWN || i == last)
            c->steps[count++] = step;
        for (int j = 0; i == last && j < held; j++) c->steps[count++] = early[j];
    }
    c->step_count = count;
}

/* The scenario's launch with the rig backed down to x, in still water. */
static dd_result *launched(const dd_case *scenario, dd_depth *d, double x)
{
    dd_case *c = malloc(sizeof *c);
    dd_result *result = NULL;
    assert_non_null(c);
    *c = *scenario;
    c->water = d->m->scenario.water;
    order(c);
    const double slope = dd_ramp_at(d->m->ramp, x).slope;
    for (int i = 0; i < c->step_count; i++)
        if (c->steps[i].kind == DD_STEP_BACK_DOWN) {
            c->steps[i].until.hub_depth = NAN;
            c->steps[i].distance = run_in * sqrt(1 + slope * slope);
            c->steps[i].speed = backing;
        }
    dd_depth_look start;
    MUST(dd_depth_look_at(d, x - run_in, &start, NULL, error));
    c->start.hub_depth = start.seen.v[DD_SEEN_HUB_DEPTH];
    MUST(dd_study_run(c, NULL, NULL, &result, error));
    free(c);
    return result;
}

/* The hub's depth at which a run starts with the rig at x: of the rig without the boat, which floats beside it. first: the hub's there with the boat. */
static double start_depth(dd_case *c, double x, double slope, double first)
{
    double depth = first;
    for (int i = 0; i < 3; i++) {
        dd_run *run;
        c->start.hub_depth = depth;
        MUST(dd_run_create_with(c, NULL, 0, &run, error));
        depth += slope * (run->start.pose.rig[DD_RIG_X] - x);
        dd_run_free(run);
    }
    return depth;
}

/* The scenario's retrieve with the rig standing at x, in still water, the boat coming in straight: depth looks in the rig's own plane. */
static dd_result *retrieved(const dd_case *scenario, dd_depth *d, double x)
{
    dd_case *c = malloc(sizeof *c);
    dd_result *result = NULL;
    dd_depth_look home;
    assert_non_null(c);
    *c = *scenario;
    c->water = d->m->scenario.water;
    c->start.offset_to_port = c->start.heading = 0;
    MUST(dd_depth_look_at(d, x, &home, NULL, error));
    c->start.hub_depth = start_depth(c, x, dd_ramp_at(d->m->ramp, x).slope, home.seen.v[DD_SEEN_HUB_DEPTH]);
    MUST(dd_study_run(c, NULL, NULL, &result, error));
    free(c);
    return result;
}

static int column_of(const dd_result *r, const char *name)
{
    for (int i = 0; i < r->column_count; i++)
        if (strcmp(r->columns[i].name, name) == 0) return i;
    fail_msg("no column %s", name);
    return 0;
}

static dd_result *gone_through(const dd_case *scenario, dd_depth *d, double x)
{
    return scenario->action == DD_ACTION_LAUNCH ? launched(scenario, d, x) : retrieved(scenario, d, x);
}

static const char *told_of(dd_depth_end end)
{
    for (size_t i = 0; i < sizeof reasons / sizeof reasons[0]; i++)
        if (reasons[i].end == end) return reasons[i].told;
    return dd_depth_end_words(end);
}

/* Where the run should fail: whether it does, and for that end. */
static bool fails_for(const dd_case *scenario, dd_depth *d, double x, dd_depth_end end, const char *where)
{
    dd_result *r = gone_through(scenario, d, x);
    bool told = strstr(r->word, told_of(end)) != NULL || strstr(r->sentence, told_of(end)) != NULL;
    for (int i = 0; i < r->margin_count; i++) told |= r->margins[i].broken && strstr(r->margins[i].name, told_of(end)) != NULL;
    const bool fails = r->verdict != DD_VERDICT_WITHIN && told;
    print_message("  %s, level %.3f m: for want of %s; the run: %s: %s\n", where, d->level, dd_depth_end_words(end), r->word, r->sentence);
    dd_result_free(r);
    return fails;
}

static bool works(const dd_case *scenario, dd_depth *d, double x, const char *where)
{
    dd_result *r = gone_through(scenario, d, x);
    const bool within = r->verdict == DD_VERDICT_WITHIN;
    print_message("  %s, level %.3f m: the run: %s: %s\n", where, d->level, r->word, r->sentence);
    dd_result_free(r);
    return within;
}

/* Both sides of the least level. Returns which of the two the run does not bear out. */
static int beside_least_level(const dd_case *scenario)
{
    static dd_depth here, d;
    static dd_depth_band band;
    static dd_depth_candidate c;
    dd_depth_level least;
    int wrong = 0;
    MUST(dd_depth_open(scenario, scenario->water.level, NULL, &here, error));
    MUST(dd_depth_find(&here, &band, error));
    MUST(dd_depth_least_level(scenario, &here, &band, &least, error));
    if (!least.found) {
        print_message("  no least level: %s, %s\n", dd_depth_end_words(least.shallow), dd_depth_end_words(least.deep));
        dd_depth_close(&here);
        return 0;
    }
    MUST(dd_depth_open(scenario, least.level - beside, &here, &d, error));
    MUST(dd_depth_try(&d, &c, error));
    assert_false(c.good);
    wrong |= fails_for(scenario, &d, c.place.look.x - (scenario->action == DD_ACTION_LAUNCH ? short_of : 0), c.place.binds, "least level less 20 mm") ? 0 : BELOW;
    dd_depth_close(&d);
    MUST(dd_depth_open(scenario, least.level + beside, &here, &d, error));
    MUST(dd_depth_find(&d, &band, error));
    assert_true(band.works);
    wrong |= works(scenario, &d, band.best.look.x, "least level and 20 mm more") ? 0 : ABOVE;
    dd_depth_close(&d);
    dd_depth_close(&here);
    return wrong;
}

/* Rig x at which the hub stands so much deeper, boat at home. */
static double deeper(dd_depth *d, const dd_depth_place *from, double by)
{
    const dd_depth_look *first = &d->look[0], *here = &from->look;
    return here->x + by * (here->x - first->x) / (here->seen.v[DD_SEEN_HUB_DEPTH] - first->seen.v[DD_SEEN_HUB_DEPTH]);
}

/* 20 mm beyond both ends of the band, and at the best place. */
static int beside_band(const dd_case *scenario, bool both)
{
    static dd_depth d;
    static dd_depth_band band;
    int wrong = 0;
    MUST(dd_depth_open(scenario, scenario->water.level, NULL, &d, error));
    MUST(dd_depth_find(&d, &band, error));
    if (band.works && both) {
        wrong += !fails_for(scenario, &d, deeper(&d, &band.least, -beside), band.least.binds, "20 mm shallower than the least");
        wrong += !works(scenario, &d, band.best.look.x, "best");
    }
    if (band.works && band.most.binds != DD_END_ENOUGH)
        wrong += !fails_for(scenario, &d, deeper(&d, &band.most, beside), band.most.binds, "20 mm deeper than the most");
    dd_depth_close(&d);
    return wrong;
}

static void bears_out(const char *path)
{
    dd_case_file *file = scenario_with(path, NULL);
    assert_int_equal(beside_least_level(dd_case_of(file)), 0);
    dd_case_free(file);
}

static void the_run_bears_out_the_least_level(void **state)
{
    (void)state;
    bears_out("scenarios/launch.yaml");
}

/* A push against friction, not a boat that runs; the skids get wet on the way, and what the water takes from the run-up decides. */
static void and_on_skids(void **state)
{
    (void)state;
    bears_out("scenarios/rigs/five-skid-launch.yaml");
}

/* A front-driven car whose driver holds it back by its brakes, all four wheels, on the slippery end of the slab. */
static void and_behind_a_front_driven_car(void **state)
{
    (void)state;
    bears_out("scenarios/rigs/four-multi-roller-launch.yaml");
}

/* The load of a roller under a moving boat. */
static void and_on_keel_rollers(void **state)
{
    (void)state;
    bears_out("scenarios/rigs/five-keel-roller-stream-launch.yaml");
}

/* Driven on: the coupling is lifted as the stern still floats. */
static void and_as_it_is_driven_on(void **state)
{
    (void)state;
    bears_out("scenarios/rigs/six-rocker-drive-on-retrieve.yaml");
}

/* Wound on, next to the toe. */
static void and_as_it_is_wound_on(void **state)
{
    (void)state;
    bears_out("scenarios/rigs/six-keel-roller-retrieve-in-steps.yaml");
}

/* Next to the toe; what ends it is the coupling's lift, which the rocker has before the rig goes off the slab. */
static void and_on_a_rocker(void **state)
{
    (void)state;
    bears_out("scenarios/rigs/five-rocker-stream-retrieve.yaml");
}

/* Skids rub where they touch, well above the keel, and so hold the stern down against the water. */
static void and_as_it_is_wound_onto_skids(void **state)
{
    (void)state;
    bears_out("scenarios/rigs/six-skid-retrieve.yaml");
}

/* The engine is left on ahead while the boat is wound the rest of the way. */
static void and_with_what_the_engine_takes_off_the_winch(void **state)
{
    (void)state;
    bears_out("scenarios/rigs/five-skid-drive-on-retrieve.yaml");
}

/* Rollers that stand askew to the bottom grip sideways as it runs over them, and press on it: what the strap takes at each place is the run's, which has the
   boat come up on them in time (the other path; what pulls is found to, 5e-4 of the weight, in the mean over the last 1.5 m, 8 N without that grip: where a support lets go the run is behind by some
   8 N, farther out the boat still surges on its strap, and over the last 0.2 m the winder slows down). */
static void and_what_it_takes_at_each_place(void **state)
{
    (void)state;
    static dd_depth d;
    static dd_depth_band band;
    dd_case_file *file = scenario_with("scenarios/retrieve.yaml", NULL);
    MUST(dd_depth_open(dd_case_of(file), dd_case_of(file)->water.level, NULL, &d, error));
    MUST(dd_depth_find(&d, &band, error));
    dd_case *closely = malloc(sizeof *closely);
    assert_non_null(closely);
    *closely = *dd_case_of(file);
    closely->record_interval = 0.1; /* s: 6 mm, where supports let go the pull breaks off */
    dd_result *r = retrieved(closely, &d, band.best.look.x);
    free(closely);
    const int gap = column_of(r, "stop_gap_m"), pull = column_of(r, "strap_tension_N"), handle = column_of(r, "handle_force_N");
    dd_depth_look look;
    dd_settle s;
    MUST(dd_depth_look_at(&d, band.best.look.x, &look, &s, error));
    s.free = (DD_FREE_RIG & ~DD_FREE_REACH) | DD_FREE_HULL_SINKAGE | DD_FREE_HULL_TRIM;
    d.m->workspace->plan.set.strap_hooked = 0;
    double worst = 0, mean = 0;
    int places = 0;
    for (double way = 0; way < 1.52; way += 0.05) {
        double distance, of_run = NAN;
        s.at.pose.position.x += way > 0 ? 0.05 : 0;
        MUST(dd_depth_lie(&d, &s, NULL, error));
        dd_seen seen;
        dd_seen_read(d.m, 0, &seen);
        for (int row = 1; row < r->row_count && way >= 0.2; row++) {
            const double *now = r->rows + (size_t)row * (size_t)r->column_count, *before = now - r->column_count;
            if (!(now[handle] > 0 && before[handle] > 0 && before[gap] >= seen.v[DD_SEEN_STOP_GAP] && now[gap] < seen.v[DD_SEEN_STOP_GAP])) continue;
            of_run = now[pull] + (before[pull] - now[pull]) * (seen.v[DD_SEEN_STOP_GAP] - now[gap]) / (before[gap] - now[gap]);
        }
        if (isnan(of_run)) continue;
        const double off = fabs(dd_depth_pull_of(d.m, dd_depth_friction_along(&s) + dd_depth_drive_along(&s), &distance) - of_run);
        worst = fmax(worst, off), mean += off;
        places++;
    }
    print_message("  %d places: the strap's pull within %.1f N in the mean, %.1f N at worst, of %.0f N\n", places, mean / places, worst, band.best.slide.pull);
    assert_true(places > 20);
    assert_true(mean / places < 5e-4 * d.weight && worst < 1e-3 * d.weight);
    dd_settle_end(&s);
    dd_result_free(r);
    dd_depth_close(&d);
    dd_case_free(file);
}

/* A latch meets where the bed is level: less water leaves it tilted. */
static void and_where_the_bed_comes_level(void **state)
{
    (void)state;
    bears_out("scenarios/rigs/four-skid-tilt-retrieve.yaml");
}

/* How far it rolls back before its wheels have caught it, and the friction that they need for that. */
static void and_how_a_rig_starts_up(void **state)
{
    (void)state;
    static const char *const paths[] = {"scenarios/rigs/five-rocker-stream-retrieve.yaml", "scenarios/rigs/four-multi-roller-retrieve.yaml"};
    for (size_t i = 0; i < sizeof paths / sizeof paths[0]; i++) {
        static dd_depth d;
        static dd_depth_band band;
        dd_case_file *file = scenario_with(paths[i], NULL);
        MUST(dd_depth_open(dd_case_of(file), dd_case_of(file)->water.level, NULL, &d, error));
        MUST(dd_depth_find(&d, &band, error));
        dd_result *r = retrieved(dd_case_of(file), &d, band.best.look.x);
        const int x = column_of(r, "rig_x_m"), step = column_of(r, "step"), needed = column_of(r, "friction_needed"), n = r->column_count;
        double from = NAN, furthest = -INFINITY, most = 0;
        for (int row = 0; row < r->row_count; row++) {
            const double *v = r->rows + (size_t)row * (size_t)n;
            if (v[step] < r->rows[(size_t)(r->row_count - 1) * (size_t)n + (size_t)step]) continue;
            if (isnan(from)) from = v[x];
            furthest = fmax(furthest, v[x]);
            most = fmax(most, v[needed]);
        }
        print_message("  %s: rolls back %.4f m, the run %.4f m; wants friction of %.3f, the run %.3f\n", paths[i], band.best.look.rolls_back, furthest - from,
                      band.best.look.start_needed, most);
        assert_true(band.best.look.rolls_back > 0.05);
        NEAR(furthest - from, band.best.look.rolls_back, 0.03 * band.best.look.rolls_back);
        NEAR(most, band.best.look.start_needed, 0.025 * most);
        dd_result_free(r);
        dd_depth_close(&d);
        dd_case_free(file);
    }
}

static void the_run_bears_out_the_band(void **state)
{
    (void)state;
    dd_case_file *file = scenario_with("scenarios/launch.yaml", NULL);
    assert_int_equal(beside_band(dd_case_of(file), true), 0);
    dd_case_free(file);
}

/* Of a file whether the run bears depth out, less what is known of it. */
static int ask(const char *path, bool band)
{
    dd_case_file *file = NULL;
    dd_error_list list = {0};
    const char *const search[] = {SOURCE_DIR "/scenarios", NULL}, *why = NULL;
    if (dd_case_read(path, NULL, search, &file, &list) != DD_OK) {
        fprintf(stderr, "%s: %s\n", path, list.errors[0].message);
        dd_error_list_free(&list);
        return 1;
    }
    print_message("%s\n", path);
    int wrong = 0, side = 0;
    const int sides = beside_least_level(dd_case_of(file));
    for (size_t i = 0; i < sizeof known / sizeof known[0]; i++)
        if (strstr(path, known[i].file) != NULL) why = known[i].why, side = known[i].side;
    if (why != NULL) print_message("  known to %s: %s\n", side == BELOW ? "work 20 mm below" : "fail 20 mm above", why);
    wrong = sides != side;
    if (wrong) print_message("  NOT BORNE OUT\n");
    if (band) wrong += beside_band(dd_case_of(file), true);
    dd_case_free(file);
    return wrong;
}

int main(int argc, char **argv)
{
    int wrong = 0;
    const bool levels = argc > 1 && strcmp(argv[1], "levels") == 0;
    for (int i = levels ? 2 : 1; i < argc; i++) wrong += ask(argv[i], !levels);
    if (argc > 1) {
        print_message("%d not borne out\n", wrong);
        return wrong > 0;
    }
    const struct CMUnitTest tests[] = {cmocka_unit_test(the_run_bears_out_the_least_level),
                                       cmocka_unit_test(and_on_skids),
                                       cmocka_unit_test(and_behind_a_front_driven_car),
                                       cmocka_unit_test(and_on_keel_rollers),
                                       cmocka_unit_test(and_as_it_is_driven_on),
                                       cmocka_unit_test(and_as_it_is_wound_on),
                                       cmocka_unit_test(and_on_a_rocker),
                                       cmocka_unit_test(and_as_it_is_wound_onto_skids),
                                       cmocka_unit_test(and_with_what_the_engine_takes_off_the_winch),
                                       cmocka_unit_test(and_what_it_takes_at_each_place),
                                       cmocka_unit_test(and_where_the_bed_comes_level),
                                       cmocka_unit_test(and_how_a_rig_starts_up),
                                       cmocka_unit_test(the_run_bears_out_the_band)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
