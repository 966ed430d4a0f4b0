/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A fleet on a ramp: closed forms with levels that are given, a fleet of one against depth's own answer, threads, drawn rigs, ramps changed. */
#include "lib/base/error.h"
#include "lib/study/fleet.h"
#include "lib/shore/shore.h"
#include "tests/unit/study/reports.h"

enum { GIVEN = 5 };

/* Least levels 0.1, 0.2, 0.2, none and not computed, with counts 1, 2, 3, 4 and 5; launches alone. */
static dd_fleet_made made[GIVEN];
static dd_fleet_answer given[2 * GIVEN];
static dd_case plain;
static dd_fleet_work known(void)
{
    static const double levels[GIVEN] = {0.1, 0.2, 0.2, INFINITY, NAN};
    dd_case_defaults(&plain);
    for (int i = 0; i < GIVEN; i++) {
        made[i] = (dd_fleet_made){.name = "rig", .count = i + 1, .length = 4.5 + i, .scale = 1, .mass = 1, .track = 1.8};
        given[2 * i] = (dd_fleet_answer){.asked = true, .level = levels[i], .now = i < 3, .tyres = i == 0 ? -0.1 : 0.1};
        given[2 * i + 1] = (dd_fleet_answer){.asked = false};
    }
    given[8].status = dd_fail(&given[8].why, DD_ERROR_NO_EQUILIBRIUM, "boat", "it tips");
    return (dd_fleet_work){.scenario = &plain, .count = GIVEN, .ramp_count = 1, .rigs = made, .answers = given, .level = 0.15, .toe = {-1}};
}

/* Closed form: counts below a level over the counts computed, 10. */
static void shares_of_known_levels(void **state)
{
    (void)state;
    dd_fleet_work w = known();
    static const double rows[][2] = {{0.05, 0}, {0.1, 0.1}, {0.15, 0.1}, {0.2, 0.6}, {9, 0.6}};
    for (int i = 0; i < 5; i++) NEAR(dd_fleet_share(&w, 0, DD_FLEET_LAUNCH, NULL, rows[i][0]), rows[i][1], 1e-15);
    assert_true(isnan(dd_fleet_share(&w, 0, DD_FLEET_RETRIEVE, NULL, 1)));
    NEAR(dd_fleet_level(&w, 0, DD_FLEET_LAUNCH, NULL, 0.1), 0.1, 0);
    NEAR(dd_fleet_level(&w, 0, DD_FLEET_LAUNCH, NULL, 0.11), 0.2, 0);
    NEAR(dd_fleet_level(&w, 0, DD_FLEET_LAUNCH, NULL, 0.6), 0.2, 0);
    assert_true(dd_fleet_level(&w, 0, DD_FLEET_LAUNCH, NULL, 0.61) == INFINITY);
    const dd_fleet_class short_ones = {4, 6};
    NEAR(dd_fleet_share(&w, 0, DD_FLEET_LAUNCH, &short_ones, 0.15), 1.0 / 3, 1e-15);
    NEAR(dd_fleet_dry(&w, 0, DD_FLEET_LAUNCH), 1.0 / 6, 1e-15);
    double failed;
    NEAR(dd_fleet_asked(&w, 0, DD_FLEET_LAUNCH, NULL, &failed), 15, 0);
    NEAR(failed, 5, 0);
    for (double level = -1, before = 0; level < 1; level += 0.01) { /* monotone */
        const double now = dd_fleet_share(&w, 0, DD_FLEET_LAUNCH, NULL, level);
        assert_true(now >= before);
        before = now;
    }
    double tide[4] = {0, 0.1, 0.2, 0.3};
    w.levels = tide, w.level_count = 4;
    NEAR(dd_fleet_time(&w, 0.2, 0), 0.5, 0);
    NEAR(dd_fleet_time(&w, 0.2, 0.15), 0.75, 0); /* 0.15, 0.25, 0.35, 0.45 */
    NEAR(dd_fleet_time(&w, INFINITY, 0), 0, 0);
    NEAR(dd_fleet_time(&w, -INFINITY, 0), 1, 0);
}

/* What could not be computed is counted and named; P206: the lane less the track; P257: so many an hour; P243: the level to close at. */
static void the_report_tells(void **state)
{
    (void)state;
    dd_fleet_work w = known();
    dd_report *report;
    dd_error error;
    plain.fleet.share_wanted = 0.6;
    plain.fleet.lane_width = 3;
    plain.fleet.lanes = 2;
    plain.fleet.time_on_ramp = 90;
    w.report = dd_reporter_create("fleet", "fleet", DD_REPORT_METRIC);
    dd_fleet_tell(&w);
    assert_int_equal(dd_reporter_finish(w.report, &report, &error), DD_OK);
    NEAR(number_at(report, "fleet", "launch", "wanted at"), 0.2, 0);
    NEAR(number_at(report, "fleet", "launch", "over toe"), 1.2, 1e-15);
    assert_true(isnan(number_at(report, "fleet", "launch", "all at")));
    assert_int_equal(check_needed(report, "share that can launch now")->outcome, DD_CHECK_BROKEN);
    NEAR(check_needed(report, "lane less track")->value, 1.2, 1e-12);
    const dd_check *failed = check_needed(report, "answers that could not be computed");
    NEAR(failed->value, 5, 0);
    assert_int_equal(failed->outcome, DD_CHECK_CAUTION);
    assert_non_null(strstr(report->headline, "close: 60 % of the fleet need a level of 0.20 m"));
    bool named = false, hourly = false;
    for (int i = 0; i < report->note_count; i++) {
        named = named || strstr(report->notes[i], "it tips") != NULL;
        hourly = hourly || strstr(report->notes[i], "80 launches") != NULL;
    }
    assert_true(named && hourly);
    dd_report_free(report);
}

/* Bit for bit. */
static void a_fleet_of_one_is_depths_answer(void **state)
{
    (void)state;
    static dd_depth d;
    static dd_depth_band band;
    dd_depth_level least;
    dd_report *report;
    dd_error error;
    const char *const with[] = {"fleet.own=1", NULL};
    dd_case_file *file = scenario_with("scenarios/rigs/five-skid-launch.yaml", with);
    assert_int_equal(dd_study_fleet(dd_case_of(file), NULL, 1, NULL, NULL, &report, &error), DD_OK);
    assert_int_equal(dd_depth_open(dd_case_of(file), dd_case_of(file)->water.level, NULL, &d, &error), DD_OK);
    assert_int_equal(dd_depth_find(&d, &band, &error), DD_OK);
    assert_int_equal(dd_depth_least_level(dd_case_of(file), &d, &band, &least, &error), DD_OK);
    dd_depth_close(&d);
    assert_true(least.found);
    NEAR(number_at(report, "rigs", "own", "least level"), least.level, 0);
    dd_report_free(report);
    dd_case_free(file);
}

/* P242. Formula: the jet of the wash looked through along level ground, by 5 mm, for where it is fastest; by thrust and by height as the formula's
   factors. */
static void wash_is_strongest_where_the_jet_is(void **state)
{
    (void)state;
    dd_ramp_parameters level;
    dd_ramp *ramp;
    dd_error error;
    dd_case_defaults(&plain);
    level = plain.ramp;
    level.slope = atan(0.125), level.crest_level = 1, level.toe_level = 0, level.bed_slope = 0;
    if (dd_ramp_create(&level, &ramp, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
    const double x = dd_ramp_toe(ramp) + 2, bed = dd_ramp_at(ramp, x + 20).z, height = 0.8, thrust = 900, diameter = 0.33, density = 1025;
    const dd_depth_wash wash = dd_depth_wash_of(thrust, diameter, density, x, bed + height, ramp);
    const double slipstream = 0.71 * diameter, speed = sqrt(thrust / (density * M_PI / 4 * slipstream * slipstream));
    double fastest = 0, at = 0;
    for (double by = 0.5; by < 15; by += 0.005) {
        const double u = 2.8 * speed * slipstream / by * exp(-15.7 * pow(height / by, 2));
        if (u > fastest) fastest = u, at = by;
    }
    NEAR(wash.x - x, at, 0.01);
    NEAR(wash.speed, fastest, 1e-4 * fastest);
    NEAR(dd_depth_wash_of(4 * thrust, diameter, density, x, bed + height, ramp).speed, 2 * fastest, 1e-4 * fastest);
    NEAR(dd_depth_wash_of(thrust, diameter, density, x, bed + 2 * height, ramp).speed, fastest / 2, 1e-4 * fastest);
    dd_ramp_free(ramp);
}

/* P242: at its least level a rig that the toe binds has its wheels at the toe as it rolls back; its skeg is past it and clears the ground by what the limits ask; an
   engine that drives it on washes seaward of that. */
static void reaches_past_the_toe(void **state)
{
    (void)state;
    dd_report *report;
    dd_error error;
    const char *const with[] = {"fleet.own=1", NULL};
    dd_case_file *file = scenario_with("scenarios/rigs/five-skid-drive-on-retrieve.yaml", with);
    assert_int_equal(dd_study_fleet(dd_case_of(file), NULL, 1, NULL, NULL, &report, &error), DD_OK);
    NEAR(number_at(report, "reach", "own", "level"), number_at(report, "rigs", "own", "least level"), 0.012);
    NEAR(number_at(report, "reach", "own", "wheels"), 0, 0.02);
    const double skeg = number_at(report, "reach", "own", "skeg"), wash = number_at(report, "reach", "own", "wash");
    assert_true(skeg > 0 && 1e-3 * number_at(report, "reach", "own", "clearance") >= dd_case_of(file)->limits.skeg_clearance);
    assert_true(wash > skeg + 1 && number_at(report, "reach", "own", "wash speed") > 0.05);
    /* the skeg's height less its clearance is the ground there */
    const dd_report_table *ground = table_named(report, "ground");
    double z = NAN;
    for (int r = 1; r < ground->row_count; r++) {
        const dd_report_cell *now = ground->cells + r * ground->column_count, *before = now - ground->column_count;
        if (before[0].value <= skeg && skeg < now[0].value) z = before[1].value + (skeg - before[0].value) / (now[0].value - before[0].value) * (now[1].value - before[1].value);
    }
    NEAR(number_at(report, "reach", "own", "skeg z") - 1e-3 * number_at(report, "reach", "own", "clearance"), z, 0.01);
    dd_report_free(report);
    dd_case_free(file);
}

/* Drawn rigs, on 1, 2 and 3 threads the same text; another seed other rigs; lengths and masses within what is asked. */
static void threads_do_not_matter(void **state)
{
    (void)state;
    char *first = NULL;
    const char *with[] = {"fleet.sampled={rigs: 2, least length: 4.6 m, likely length: 5 m, most length: 5.6 m, mass within: 10 %}", NULL, NULL};
    for (int i = 0; i < 3; i++) {
        dd_report *report;
        dd_error error;
        dd_case_file *file = scenario_with("scenarios/rigs/five-skid-launch.yaml", with);
        const dd_status status = dd_study_fleet(dd_case_of(file), NULL, i + 1, NULL, NULL, &report, &error);
        if (status != DD_OK) fail_msg("%s: %s", error.place, error.message);
        const dd_report_table *rigs = table_named(report, "rigs");
        assert_int_equal(rigs->row_count, 2);
        for (int r = 0; r < 2; r++) {
            const double length = rigs->cells[r * rigs->column_count + 3].value, mass = rigs->cells[r * rigs->column_count + 5].value;
            assert_true(length >= 4.6 && length <= 5.6 && mass >= 0.9 && mass <= 1.1);
        }
        char *text = dd_report_json(report);
        assert_non_null(text);
        if (i == 0) first = text;
        else {
            assert_string_equal(text, first);
            free(text);
        }
        dd_report_free(report);
        dd_case_free(file);
    }
    free(first);
    dd_fleet_work drawn[2];
    for (int i = 0; i < 2; i++) {
        dd_error error;
        with[1] = i == 0 ? "fleet.sampled.seed=1" : "fleet.sampled.seed=8";
        dd_case_file *file = scenario_with("scenarios/rigs/five-skid-launch.yaml", with);
        drawn[i] = (dd_fleet_work){.scenario = dd_case_of(file), .report = dd_reporter_create("fleet", "fleet", DD_REPORT_METRIC)};
        assert_int_equal(dd_fleet_make(&drawn[i], NULL, &error), DD_OK);
        dd_reporter_free(drawn[i].report);
        dd_case_free(file);
    }
    assert_true(fabs(drawn[0].rigs[0].length - drawn[1].rigs[0].length) > 1e-3);
    dd_fleet_end(&drawn[0]);
    dd_fleet_end(&drawn[1]);
}

/* Similarity about the coupling: lengths by the scale, masses by its cube; what stands on the ground stays, so do people. */
static void a_rig_scaled(void **state)
{
    (void)state;
    static dd_case c;
    dd_case_file *file = scenario_with("tests/unit/case/supports.yaml", NULL);
    const dd_case *was = dd_case_of(file);
    c = *was;
    dd_fleet_scale(&c, 1.2, 1.1);
    const double cube = 1.2 * 1.2 * 1.2 * 1.1;
    NEAR(c.boat.length, 1.2 * was->boat.length, 1e-12);
    NEAR(c.boat.mass, cube * was->boat.mass, 1e-9);
    NEAR(c.trailer.mass, cube * was->trailer.mass, 1e-9);
    NEAR(c.trailer.tyre_radius, was->trailer.tyre_radius, 0);
    NEAR(c.trailer.coupling_height, was->trailer.coupling_height, 0);
    NEAR(c.vehicle.mass, was->vehicle.mass, 0);
    /* the hand at the handle: cube times the pull on a drum 1.2 times as wide, by the same handle */
    const dd_winch_parameters *winch = &c.trailer.winch, *before = &was->trailer.winch;
    NEAR(cube * winch->drum_radius / (winch->gear_ratio * winch->handle_length), before->drum_radius / (before->gear_ratio * before->handle_length), 1e-12);
    NEAR(winch->handle_length, before->handle_length, 0);
    NEAR(winch->hand_force_limit, before->hand_force_limit, 0);
    for (int i = 0; i < was->trailer.support_count; i++) {
        NEAR(c.trailer.supports[i].behind_coupling, 1.2 * was->trailer.supports[i].behind_coupling, 1e-12);
        NEAR(c.trailer.supports[i].above_ground - c.trailer.coupling_height, 1.2 * (was->trailer.supports[i].above_ground - was->trailer.coupling_height), 1e-12);
        if (!isnan(was->trailer.supports[i].deadrise)) NEAR(c.trailer.supports[i].deadrise, was->trailer.supports[i].deadrise, 0);
        if (was->trailer.supports[i].kind == DD_SUPPORT_SKID) NEAR(c.trailer.supports[i].length, 1.2 * was->trailer.supports[i].length, 1e-12);
    }
    dd_case_free(file);
}

/* The slab goes on at its slope; on a plane ramp the least level falls as much as the toe, to twice what a level is found to. */
static void a_ramp_changed(void **state)
{
    (void)state;
    dd_ramp_parameters now;
    dd_error error;
    double toe;
    dd_fleet_variant v = {.name = "lower", .toe_lower_by = 0.3, .longer_by = NAN, .slope = NAN};
    dd_case_file *file = scenario_with("scenarios/rigs/six-skid-launch.yaml", NULL);
    const dd_ramp_parameters *slab = &dd_case_of(file)->ramp;
    assert_int_equal(dd_fleet_change(slab, &v, 1, &now, &toe, &error), DD_OK);
    NEAR(toe, slab->toe_level - 0.3, 1e-12);
    v = (dd_fleet_variant){.name = "longer", .toe_lower_by = NAN, .longer_by = 4, .slope = 0.1};
    assert_int_equal(dd_fleet_change(slab, &v, 1, &now, &toe, &error), DD_OK);
    NEAR(toe, slab->toe_level - 4 * sin(0.1), 1e-9);
    dd_case_free(file);
    const char *const surveyed[] = {"ramp=ramps/two-slope-lake.yaml", NULL};
    file = scenario_with("scenarios/rigs/six-skid-launch.yaml", surveyed);
    v = (dd_fleet_variant){.name = "lower", .toe_lower_by = 0.3, .longer_by = NAN, .slope = NAN};
    assert_int_equal(dd_fleet_change(&dd_case_of(file)->ramp, &v, 1, &now, &toe, &error), DD_OK);
    NEAR(now.points[3].x, 26, 1e-6); /* 15 % */
    NEAR(now.points[3].z, -1.54, 1e-12);
    NEAR(now.points[4].z, -4.3, 1e-12);
    NEAR(now.points[2].x, 12, 0);
    v.slope = 0.1;
    assert_int_equal(dd_fleet_change(&dd_case_of(file)->ramp, &v, 1, &now, &toe, &error), DD_ERROR_ARGUMENT);
    assert_non_null(strstr(error.place, "fleet.variants[1]"));
    dd_case_free(file);
    const char *const with[] = {"fleet.variants=[{name: lower, toe lower by: 0.3 m}]", NULL};
    file = scenario_with("scenarios/rigs/five-skid-launch.yaml", with);
    dd_report *report;
    assert_int_equal(dd_study_fleet(dd_case_of(file), NULL, 1, NULL, NULL, &report, &error), DD_OK);
    const double fall = number_at(report, "variants", "as it is", "launch at") - number_at(report, "variants", "lower", "launch at");
    print_message("toe 0.3 m lower: the least level falls by %.4f m\n", fall);
    NEAR(fall, 0.3, 0.004);
    dd_report_free(report);
    dd_case_free(file);
}

static int stop(double share, double time, void *context)
{
    (void)share, (void)time, (void)context;
    return 1;
}

static void what_cannot_be_is_refused(void **state)
{
    (void)state;
    dd_report *report;
    dd_error error;
    static const struct {
        const char *with, *says;
        dd_status status;
    } rows[] = {{"fleet.own=0", "has no rig", DD_ERROR_UNSET},
                {"fleet.rigs=[{name: other}]", "neither its launch", DD_ERROR_UNSET},
                {"fleet.sampled={rigs: 2, least length: 6 m, most length: 5 m}", "in that order", DD_ERROR_ARGUMENT}};
    for (int i = 0; i < 3; i++) {
        const char *const with[] = {rows[i].with, NULL};
        dd_case_file *file = scenario_with("scenarios/rigs/five-skid-launch.yaml", with);
        assert_int_equal(dd_study_fleet(dd_case_of(file), NULL, 1, NULL, NULL, &report, &error), rows[i].status);
        if (strstr(error.message, rows[i].says) == NULL) fail_msg("%s", error.message);
        assert_null(report);
        dd_case_free(file);
    }
    dd_case_file *file = scenario_with("scenarios/rigs/five-skid-launch.yaml", NULL);
    assert_int_equal(dd_study_fleet(dd_case_of(file), NULL, 2, stop, NULL, &report, &error), DD_ERROR_CANCELLED);
    dd_case_free(file);
    file = scenario_with("scenarios/on-the-road.yaml", NULL);
    assert_int_equal(dd_study_fleet(dd_case_of(file), NULL, 1, NULL, NULL, &report, &error), DD_ERROR_UNSET);
    dd_case_free(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(shares_of_known_levels), cmocka_unit_test(the_report_tells), cmocka_unit_test(a_fleet_of_one_is_depths_answer),
        cmocka_unit_test(wash_is_strongest_where_the_jet_is), cmocka_unit_test(reaches_past_the_toe), cmocka_unit_test(threads_do_not_matter),  cmocka_unit_test(a_rig_scaled),     cmocka_unit_test(a_ramp_changed),
        cmocka_unit_test(what_cannot_be_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
