/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What instructors say of launching, asked of the shipped rigs. Every check here is of grade practice: an order, a sign, a trend or
   a band as people tell it, and the model is not tuned to any. Depths are of water over the trailer's rearmost hub. */
#include "lib/study/settle.h"
#include "tests/property/practice.h"

#define SEVEN "boat=boats/cabin-seven-and-a-half-metre.yaml"
#define TRAILER(name) "trailer=trailers/" name ".yaml"

/* Load of all supports but those at the front. */
static double behind_the_front(const dd_result *r, int row)
{
    double sum = 0;
    for (int c = 0; c < r->column_count; c++)
        if (strncmp(r->columns[c].name, "support ", 8) == 0 && strncmp(r->columns[c].name, "support front ", 14) != 0)
            sum += r->rows[row * r->column_count + c];
    return sum;
}

/* The depth to back down to: the stern floats and the bow still lies on its foremost supports, which alone carry (0.5 % of the
   dry load apart). */
static double advice(const dd_result *r)
{
    double before = NAN, depth_before = NAN;
    for (int i = 0; i < r->row_count; i++) {
        const double depth = cell(r, i, "hub_depth_m"),
                     others = behind_the_front(r, i) - 0.005 * cell(r, 0, "carried_N");
        if (before > 0 && others <= 0) return depth_before + (depth - depth_before) * before / (before - others);
        before = others;
        depth_before = depth;
    }
    fail_msg("the stern does not float");
    return NAN;
}

static double advice_of(const char *const *changed)
{
    dd_result *r = settled("launch", changed);
    const double depth = advice(r);
    dd_result_free(r);
    return depth;
}

static double lifts_at(const dd_result *r)
{
    const dd_event *lifts = event_of(r, "stern lifts");
    assert_non_null(lifts);
    return lifts->hub_depth;
}

/* One hull, one ramp of 12.5 %, three kinds of support: rollers in cradles need the least water, keel rollers with side skids more,
   long skids most (order; the last 0.05 m at least over the first). */
static void depth_by_kind_of_support(void **state)
{
    (void)state;
    const double cradles = advice_of(CHANGED(TRAILER("cradle-single"))), rollers = advice_of(CHANGED(TRAILER("keel-roller-five"))),
                 skids = advice_of(CHANGED(TRAILER("skid-five"))), large_cradles = advice_of(CHANGED(SEVEN, TRAILER("multi-roller-seven"))),
                 large_rollers = advice_of(CHANGED(SEVEN, TRAILER("keel-roller-seven"))),
                 large_skids = advice_of(CHANGED(SEVEN, TRAILER("skid-seven")));
    print_message("5 m: %.3f, %.3f, %.3f m; 7.5 m: %.3f, %.3f, %.3f m\n", cradles, rollers, skids, large_cradles, large_rollers, large_skids);
    assert_true(cradles < rollers && rollers < skids && cradles + 0.05 < skids);
    assert_true(large_cradles < large_rollers && large_rollers < large_skids && large_cradles + 0.05 < large_skids);
}

/* On flat ramps the vehicle's rear wheels stand in the water at that depth, on steep ones they do not. It changes near 12 % (within
   2 %), and at every step of slope the wheels come further out. */
static void rear_wheels_get_dry_as_the_slope_rises(void **state)
{
    (void)state;
    static const char *const slopes[] = {"ramp.slope=8 %", "ramp.slope=10 %", "ramp.slope=12 %", "ramp.slope=14 %", "ramp.slope=15 %"};
    static const double values[] = {8, 10, 12, 14, 15};
    double before = -INFINITY, changes_at = NAN;
    for (int i = 0; i < 5; i++) {
        dd_result *r = settled("launch", CHANGED(slopes[i], "ramp.toe level=-5 m"));
        const double dry = figure_of(r, "stern lifts", "vehicle's rear axle to the water's edge", 0);
        print_message("%.0f %%: %.2f m\n", values[i], dry);
        assert_true(dry > before);
        if (before < 0 && dry >= 0) changes_at = values[i] - (values[i] - values[i - 1]) * dry / (dry - before);
        before = dry;
        dd_result_free(r);
    }
    print_message("changes at %.1f %%\n", changes_at);
    NEAR(changes_at, 12, 2, "slope at which the wheels are dry, %");
}

/* Share of the skids' length under water, their load and that of the supports at the front, as the rig goes down. */
typedef struct wetting {
    double wet, load, front;
} wetting;

static wetting wetting_at(const dd_study_model *m)
{
    const dd_kinematics *k = &m->workspace->kinematics;
    wetting w = {0};
    double rear = -INFINITY, front = INFINITY;
    dd_seen seen;
    dd_seen_read(m, 0, &seen);
    for (int i = 0; i < m->rig->trailer.support_count; i++) {
        const char *name = m->rig->trailer.supports[i].name;
        if (strstr(name, "skids") != NULL) w.load += seen.support[i];
        if (strstr(name, "front") != NULL) w.front += seen.support[i];
    }
    for (int i = 0; i < m->rig->skid_count; i++) {
        const dd_skid *skid = &m->rig->skids[i];
        rear = fmax(rear, dd_study_depth(m, k, dd_trailer_point(k, skid->rear)));
        front = fmin(front, dd_study_depth(m, k, dd_trailer_point(k, dd_add(skid->rear, dd_scale(skid->length, skid->along)))));
    }
    w.wet = rear / (rear - front);
    return w;
}

/* Straight between two steps. */
static double load_at(const wetting *before, const wetting *now, double wet)
{
    return before->load + (wet - before->wet) / (now->wet - before->wet) * (now->load - before->load);
}

/* Practice: back down until half to seven tenths of the skids are wet: the stern is lifting, the bow borne. So it is: between there
   the skids have lost a third of their dry load at least and carry something yet, and what stands in front carries more than dry.
   WHERE WE DIFFER: with the water there the stern has not lifted: that takes 0.8 to 0.95 of their length on the shipped rigs. The
   term is the static lift on the hull: until the skids are free the water must carry the moment of nearly the whole hull about the
   bow's support, which takes a third of a metre at the transom, and skids under the panels lie 0.15 m over the keel's line. Hull
   and skids' length decide that, no coefficient does. */
static void skids_half_to_seven_tenths_wet(void **state)
{
    (void)state;
    static const char *const trailers[] = {TRAILER("skid-four"), TRAILER("skid-five"), TRAILER("skid-seven")};
    static const char *const boats[] = {"boat=boats/aluminium-four-metre.yaml", "boat=boats/open-five-metre.yaml", SEVEN};
    for (int i = 0; i < 3; i++) {
        dd_case *scenario = scenario_read("launch", CHANGED(trailers[i], boats[i]));
        dd_study_model *m = NULL;
        dd_settle s;
        wetting dry = {0}, now = {0};
        double x = NAN, half = NAN, seven_tenths = NAN;
        MUST(dd_study_model_create(scenario, &m, error));
        for (int step = 0; step < 60 && (step == 0 || now.load > 0.005 * dry.load); step++) {
            MUST(dd_study_position(m, -0.3 + 0.03 * step, &x, error));
            if (step == 0) MUST(dd_settle_begin(m, DD_FRICTION_NONE, x, x - DD_STUDY_APPROACH, &s, error));
            MUST(dd_settle_to(&s, x, error));
            const wetting before = now;
            now = wetting_at(m);
            if (step == 0) dry = now;
            if (before.wet < 0.5 && now.wet >= 0.5) half = load_at(&before, &now, 0.5) / dry.load;
            if (before.wet < 0.7 && now.wet >= 0.7) seven_tenths = load_at(&before, &now, 0.7) / dry.load;
            if (now.wet >= 0.5 && now.wet <= 0.7) assert_true(now.front > 1.1 * dry.front);
        }
        print_message("%s: load %.2f, %.2f of dry at 0.5 and 0.7 wet; lifted at %.2f\n", trailers[i], half, seven_tenths, now.wet);
        assert_true(half < 0.67 && seven_tenths < half && seven_tenths > 0.005);
        assert_true(now.wet > 0.7 && now.wet < 1.03);
        dd_settle_end(&s);
        dd_study_model_free(m);
        free(scenario);
    }
}

/* Before the stern lifts, the bow's supports and the coupling take more than on the road (coupling a quarter), the rear less than a
   third; and only much deeper does the boat float off: on cradles and on skids. */
static void stern_lifts_first_and_the_bow_carries_more(void **state)
{
    (void)state;
    static const char *const trailers[] = {TRAILER("cradle-single"), TRAILER("skid-five")};
    static const char *const fronts[] = {"support front cradle_N", "support front keel roller_N"};
    for (int i = 0; i < 2; i++) {
        dd_result *r = settled("launch", CHANGED(trailers[i]));
        int row = 0; /* the last before the stern lifts */
        while (cell(r, row + 1, "hub_depth_m") < lifts_at(r)) row++;
        assert_true(cell(r, row, fronts[i]) > cell(r, 0, fronts[i]));
        assert_true(cell(r, row, "coupling_load_N") > 1.25 * cell(r, 0, "coupling_load_N"));
        assert_true(cell(r, row, "rear_support_load_N") < 0.3 * cell(r, 0, "rear_support_load_N"));
        assert_true(cell(r, row, "carried_N") > 0.2 * cell(r, 0, "carried_N"));
        if (i == 0) assert_true(comes_before(r, "stern lifts", "afloat"));
        dd_result_free(r);
    }
}

/* Rollers hold no boat on this slope: without friction the strap pulls (W - B) sin (2 %: it runs a little out of the slope's line); wound
   in it pulls what rolling resists more (5 %); let out, with the stop's load off, less. On skids friction could hold the boat alone,
   dry twice over. All down to where the stern begins to float. */
static void strap_on_rollers_friction_on_skids(void **state)
{
    (void)state;
    dd_result *rollers = settled("launch", CHANGED(TRAILER("cradle-single"))), *skids = settled("launch", CHANGED(TRAILER("skid-five")));
    double worst = 0, worst_wound = 0;
    for (int i = 0; i < rollers->row_count && cell(rollers, i, "hub_depth_m") < lifts_at(rollers) - 0.15; i++) {
        const double drive = cell(rollers, i, "unhooked_drive_N"), friction = cell(rollers, i, "unhooked_friction_N");
        assert_true(drive > friction && friction > 0.2 * drive);
        worst = fmax(worst, fabs(cell(rollers, i, "strap_tension_N") / drive - 1));
        worst_wound = fmax(worst_wound, fabs(cell(rollers, i, "highest strap_tension_N") / (drive + friction) - 1));
        assert_true(cell(rollers, i, "lowest strap_tension_N") - cell(rollers, i, "highest stop_load_N") < 0.8 * drive);
    }
    print_message("strap on rollers against (W - B) sin: %.1f %%, wound in %.1f %%\n", 100 * worst, 100 * worst_wound);
    assert_true(worst < 0.02 && worst_wound < 0.05);
    for (int i = 0; i < skids->row_count && cell(skids, i, "hub_depth_m") < lifts_at(skids) - 0.15; i++)
        assert_true(cell(skids, i, "unhooked_friction_N") > (cell(skids, i, "hub_depth_m") < 0 ? 2 : 1) * cell(skids, i, "unhooked_drive_N"));
    assert_non_null(event_of(rollers, "runs if unhooked"));
    assert_non_null(event_of(skids, "holds if unhooked"));
    dd_result_free(rollers);
    dd_result_free(skids);
}

/* Low water on the slab that ends 0.5 m under it: the wheels pass its end before the boat would float. */
static void wheels_pass_the_end_of_the_slab_first(void **state)
{
    (void)state;
    dd_result *r = ran("launch", CHANGED("water.level=-0.4 m", "procedure[1].until.hub depth=0.7 m"));
    word_is(r, "off the toe");
    assert_non_null(event_of(r, "wheel over the toe"));
    assert_null(event_of(r, "afloat"));
    dd_result_free(r);
}

/* A ramp of 2.1 % and a boat of four metres: where its stern floats even the vehicle's front wheels stand in the water. */
static void two_per_cent_is_too_flat(void **state)
{
    (void)state;
    static const char *const trailers[] = {TRAILER("multi-roller-four"), TRAILER("skid-four")};
    for (int i = 0; i < 2; i++) {
        dd_result *r = settled("launch", CHANGED("boat=boats/aluminium-four-metre.yaml", "vehicle=vehicles/wagon-front-drive.yaml", trailers[i],
                                                 "aboard=[{item: fuel, mass: 20 kg, at: [0.6 m, 0 m, 0.3 m]}]", "ramp.slope=2.1 %",
                                                 "ramp.bed slope=2.1 %", "ramp.toe level=-3 m", "start.hub depth=-0.2 m"));
        const double wet = figure_of(r, "stern lifts", "water at the vehicle's rear wheels", 0);
        print_message("%.2f m of water at the rear wheels\n", wet);
        assert_true(wet - 0.021 * 2.75 > 0);
        dd_result_free(r);
    }
}

/* On a beach, boats of 5 and 6 m on rollers: 0.35 to 0.45 m of water over the keel at the transom are enough for the stern to float,
   and 0.3 m are not. */
static void water_at_the_stern_on_a_beach(void **state)
{
    (void)state;
    static const char *const trailers[] = {TRAILER("cradle-single"), TRAILER("rocker-six")};
    static const char *const boats[] = {"boat=boats/open-five-metre.yaml", "boat=boats/half-cabin-six-metre.yaml"};
    for (int i = 0; i < 2; i++) {
        dd_result *r = settled("launch", CHANGED(boats[i], trailers[i], "ramp=ramps/sand-beach.yaml"));
        const int row = row_at(r, "hub_depth_m", lifts_at(r));
        const double water = cell(r, row, "transom_draft_m");
        print_message("%.3f m at the transom\n", water);
        assert_true(water > 0.3 && water < 0.45);
        dd_result_free(r);
    }
}

/* A skeg 0.8 m under water: over a mound with 0.76 m of water it strikes, where the ground is even it does not. */
static void skeg_strikes_a_mound(void **state)
{
    (void)state;
    static const char *const mounds[] = {"ramp.scour.mound height=1 mm", "ramp.scour.mound height=200 mm"};
    for (int i = 0; i < 2; i++) {
        dd_result *r = ran("launch", CHANGED("water.level=0.05 m", "ramp.toe step=0 m", "ramp.bed slope=1 %", "ramp.scour.depth=1 mm", "ramp.scour.length=1 m",
                                             mounds[i], "ramp.scour.mound length=4 m", "boat.skeg depth=510 mm",
                                             "procedure=[{back down: {speed: 0.3 m/s, until: {hub depth: 420 mm}}}, {let strap off: {}}, {engine down: {takes: 2 s}}, "
                                             "{push off: {force: 100 N, until: {distance clear: 4 m}, time limit: 60 s}}]"));
        print_message("%s: %s; least skeg clearance %.3f m\n", mounds[i], r->sentence, least(r, 0, "skeg_clearance_m"));
        assert_int_equal(event_of(r, "skeg touches") != NULL, i);
        dd_result_free(r);
    }
}

/* The stream turns the floating stern about the bow that still lies on its cradle: long before the boat is afloat the stern is off the
   line and the bow eye, ahead of where it pivots, off the other way. Without a stream it stays where it is. */
static void stream_swings_the_stern_about_the_held_bow(void **state)
{
    (void)state;
    static const char *const currents[] = {"water.current=0 knot", "water.current=0.5 knot", "water.current=1 knot"};
    double before = 0;
    for (int i = 0; i < 3; i++) {
        dd_result *r = ran("launch-cross-stream",
                           CHANGED(currents[i], "procedure=[{back down: {speed: 0.6 m/s, until: {hub depth: 400 mm}}}, {let strap off: {}}, "
                                                "{wait: {until: {after: 8 s}}}]"));
        int row = r->row_count - 1;
        while (row > 0 && cell(r, row, "support_load_N") < 0.25 * cell(r, 0, "support_load_N")) row--;
        const double stern = fabs(cell(r, row, "stern_offset_to_port_m")), bow = cell(r, row, "bow_offset_to_port_m");
        print_message("%s: stern %.3f m, bow %.3f m at %.1f s\n", currents[i], stern, bow, cell(r, row, "time_s"));
        if (i == 0) assert_true(stern < 0.005);
        else assert_true(stern > 0.1 && stern > before && bow * cell(r, row, "stern_offset_to_port_m") < 0);
        assert_true(comes_before(r, "stern lifts", "afloat"));
        before = stern;
        dd_result_free(r);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(depth_by_kind_of_support),
        cmocka_unit_test(rear_wheels_get_dry_as_the_slope_rises),
        cmocka_unit_test(skids_half_to_seven_tenths_wet),
        cmocka_unit_test(stern_lifts_first_and_the_bow_carries_more),
        cmocka_unit_test(strap_on_rollers_friction_on_skids),
        cmocka_unit_test(wheels_pass_the_end_of_the_slab_first),
        cmocka_unit_test(two_per_cent_is_too_flat),
        cmocka_unit_test(water_at_the_stern_on_a_beach),
        cmocka_unit_test(skeg_strikes_a_mound),
        cmocka_unit_test(stream_swings_the_stern_about_the_held_bow),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
