/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What `settle` says beside its curve: a boat unhooked, and the winch home. */
#include "lib/force/roller.h"
#include "lib/study/asides.h"
#include "tests/property/scenarios.h"

static dd_study_model *model_of(double resistance, dd_settle *s, double depth)
{
    dd_case *scenario = scenario_read("launch", NULL);
    dd_study_model *m = NULL;
    double x = NAN;
    make_prismatic(scenario, 18 * M_PI / 180);
    for (int i = 0; i < scenario->trailer.support_count; i++) scenario->trailer.supports[i].rolling_resistance = resistance;
    MUST(dd_study_model_create(scenario, &m, error));
    MUST(dd_study_position(m, depth, &x, error));
    MUST(dd_settle_begin(m, DD_FRICTION_NONE, x, x - DD_STUDY_APPROACH, s, error));
    free(scenario);
    return m;
}

/* Dry on 1:8 with rollers of resistance mu: W sin(keel's slope) drives, mu times the rollers' loads holds; what is left over the
   mass is the braking that moves it, g (mu / cos(deadrise) - tan) cos aft (closed form; 1e-6: the keel is straight, 1e-3: the rollers
   lie along a bottom of one deadrise but squash unevenly). mu 0.03 runs, 0.2 holds, as practice has it. */
static void unhooked_by_closed_form(void **state)
{
    (void)state;
    static const double resistances[] = {0.03, 0.2};
    for (int i = 0; i < 2; i++) {
        dd_settle s;
        dd_unhooked u;
        dd_study_model *m = model_of(resistances[i], &s, -0.4);
        MUST(dd_unhook(&s, NULL, NULL, &u, error));
        const double mass = dd_hull_mass(m->hull)->mass, weight = mass * m->model.gravity;
        const double sine = m->workspace->kinematics.waterplane.up.x, slope = asin(sine);
        NEAR(u.drive, weight * fabs(sine), 1e-6 * weight, "drive");
        NEAR(u.friction, resistances[i] * weight * cos(slope) / cos(18 * M_PI / 180), 1e-3 * weight * resistances[i], "friction");
        NEAR(u.forward, (u.friction + u.drive) / mass, 1e-12, "forward");
        NEAR(u.aft, i == 0 ? 0 : (u.friction - u.drive) / mass, 1e-12, "aft");
        assert_int_equal(u.aft > 0, i == 1);
        print_message("mu %.2f: drive %.1f N, friction %.1f N, aft %.3f, forward %.3f m/s2\n", resistances[i], u.drive, u.friction,
                      u.aft, u.forward);
        dd_settle_end(&s);
        dd_study_model_free(m);
    }
}

/* Half on the trailer and dry: at each place the strap pulls (W - buoyancy) sin + R along the keel. Pull rises all the way home
   and is greatest there (practice: the winch curve from first contact to home). At half a metre of water at the hub the stern
   floats and the pull is less than dry at the same place. */
static void pull_rises_home(void **state)
{
    (void)state;
    double dry = NAN, wet = NAN;
    for (int i = 0; i < 2; i++) {
        dd_settle s;
        dd_winding *w = calloc(1, sizeof *w);
        assert_non_null(w);
        dd_study_model *m = model_of(0.05, &s, i == 0 ? 0.2 : 0.4);
        const double x = s.at.pose.rig[DD_RIG_X];
        MUST(dd_wind_here(&s, x - DD_STUDY_APPROACH, NULL, w, error));
        assert_true(w->count > 4);
        for (int k = 1; k < w->count; k++) {
            assert_true(w->step[k].short_of_stop > w->step[k - 1].short_of_stop);
            if (i == 1) assert_true(w->step[k].pull < w->step[0].pull); /* practice: greatest near home */
        }
        *(i == 0 ? &dry : &wet) = w->step[0].pull;
        NEAR(w->step[0].short_of_stop, 0, 1e-9, "home is at the stop");
        assert_true(isfinite(w->gap_after) && w->least_transom > 0);
        print_message("hub %.1f m: pull %.0f N at home, %.0f N at most %.2f m short; %d places, gap after pull-out %.1f mm\n",
                      i == 0 ? 0.2 : 0.4, w->step[0].pull, w->greatest, w->greatest_short, w->count, 1000 * w->gap_after);
        dd_settle_end(&s);
        dd_study_model_free(m);
        free(w);
    }
    assert_true(wet < dry);
}

static double figure_of(const dd_result *r, const char *group, const char *name)
{
    for (int i = 0; i < r->figure_count; i++)
        if (strncmp(r->figures[i].group, group, strlen(group)) == 0 && strcmp(r->figures[i].name, name) == 0) return r->figures[i].value;
    fail_msg("no figure %s: %s", group, name);
    return NAN;
}

static dd_result *settle_with(const char *scenario, const char *const *overrides)
{
    dd_case *c = scenario_read(scenario, overrides);
    dd_result *r = NULL;
    MUST(dd_study_settle(c, NULL, NULL, &r, error));
    free(c);
    return r;
}

/* A wet bilge: the stern lifts later, and at the same depth the boat is harder to wind in. Practice: both rise with the water. */
static void water_aboard_needs_depth_and_pull(void **state)
{
    (void)state;
    double lifts = 0, pull = 0;
    for (int i = 0; i < 3; i++) {
        const char *overrides[] = {(const char *[]){"boat.water aboard.mass=0 kg", "boat.water aboard.mass=300 kg",
                                                    "boat.water aboard={mass: 600 kg}"}[i], NULL};
        dd_result *r = settle_with("retrieve", overrides);
        const double now = figure_of(r, "stern lifts", "water over the hub"), greatest = figure_of(r, "wound home", "greatest pull");
        print_message("%d kg aboard: stern lifts at %.3f m, wound home at the first depth with %.0f N\n", 300 * i, now, greatest);
        if (i > 0) assert_true(now > lifts + 0.05 && greatest > 1.1 * pull);
        lifts = now;
        pull = greatest;
        assert_true(r->verdict == DD_VERDICT_WITHIN);
        dd_result_free(r);
    }
}

/* Water that rises, wash, waves, a current and wind are left out, and said: the same numbers, bit by bit (closed form). */
static void still_water_at_time_0(void **state)
{
    (void)state;
    const char *const overrides[] = {"water.current=0.4 m/s", "water.rise=0.1 mm/s", "water.surge={height: 0.1 m, period: 4 s}",
                                     "water.wave={height: 0.1 m, period: 3 s, depth: 2 m}", "water.wind={speed: 10 knot, toward: 60 deg}", NULL};
    dd_result *still = settle_with("launch", NULL), *moving = settle_with("launch", overrides);
    assert_int_equal(still->row_count, moving->row_count);
    assert_int_equal(still->column_count, moving->column_count);
    assert_memory_equal(still->rows, moving->rows, (size_t)(still->row_count * still->column_count) * sizeof(double));
    static const char said[] = "still water at the level of time 0: left out here are the scenario's current, rise or fall of the level, "
                               "surge, waves, wind";
    int count[2] = {0, 0};
    for (int i = 0; i < still->assumed_count; i++) count[0] += strstr(still->assumed[i], "left out here") != NULL;
    for (int i = 0; i < moving->assumed_count; i++) count[1] += strcmp(moving->assumed[i], said) == 0;
    assert_int_equal(count[0], 0);
    assert_int_equal(count[1], 1);
    dd_result_free(still);
    dd_result_free(moving);
}

/* A branch looked at beside stays where it is. */
static void asides_leave_the_branch(void **state)
{
    (void)state;
    dd_settle s;
    dd_unhooked u;
    dd_study_model *m = model_of(0.05, &s, 0.2);
    const dd_equilibrium before = s.at;
    const double strap = dd_settle_strap(&s);
    MUST(dd_unhook(&s, NULL, NULL, &u, error));
    dd_winding *w = calloc(1, sizeof *w);
    assert_non_null(w);
    MUST(dd_wind_here(&s, before.pose.rig[DD_RIG_X] - DD_STUDY_APPROACH, NULL, w, error));
    free(w);
    MUST(dd_settle_to(&s, before.pose.rig[DD_RIG_X], error));
    NEAR(dd_settle_strap(&s), strap, 0, "strap");
    NEAR(dd_pose_distance(&before.pose, &s.at.pose, 0), 0, 1e-10, "pose"); /* closed form: the same balance */
    assert_int_equal(m->workspace->plan.set.strap_hooked, 1);
    dd_settle_end(&s);
    dd_study_model_free(m);
}

/* A skid that stays wet gets wet as far as water stands where the boat comes to rest, not as far as it stood at poses that the search
   tried: from a guess 0.1 m deeper at the tail the same balance and the same wetness (closed form: none; the same pose to 1e-7 m). */
static void skids_wet_where_the_boat_lies(void **state)
{
    (void)state;
    dd_case *scenario = scenario_read("rigs/five-skid-launch", NULL);
    dd_study_model *m = NULL;
    dd_settle s, tried;
    double x = NAN;
    MUST(dd_study_model_create(scenario, &m, error));
    MUST(dd_study_position(m, 0.3, &x, error));
    MUST(dd_settle_begin(m, DD_FRICTION_NONE, x, x - DD_STUDY_APPROACH, &s, error));
    MUST(dd_settle_branch(&s, DD_FRICTION_NONE, &tried, error));
    const dd_system_force *rollers = dd_system_find(m->system, &dd_force_roller);
    const int wet = rollers->memory_first + dd_roller_wet_first(rollers->instance);
    dd_pose pose = s.at.pose;
    pose.rig[DD_RIG_PITCH] += 0.02;
    MUST(dd_equilibrium_find(m->workspace, 0, &pose, tried.memory, DD_FREE_ALL, &tried.at, error));
    print_message("%d skids, the first wet over %.4f m, from a guess 0.1 m deeper %.4f m\n", m->rig->skid_count, s.memory[wet], tried.memory[wet]);
    assert_true(m->rig->skid_count > 0 && m->rig->skids[0].stays_wet && s.memory[wet] > 0.1);
    NEAR(dd_pose_distance(&s.at.pose, &tried.at.pose, 0), 0, 1e-7, "pose");
    for (int i = 0; i < m->rig->skid_count; i++) NEAR(tried.memory[wet + i], s.memory[wet + i], 1e-6, "wet");
    dd_settle_end(&s);
    dd_settle_end(&tried);
    dd_study_model_free(m);
    free(scenario);
}

/* Afloat, its bow held by strap and stop: it heels as one that nothing holds (formula: the whole of its displacement's, by the same
   statics without strap and stop), but for what the two press at the bow eye, times a lever of no more than 0.5 m from eye to axis of roll; it
   turns about the bow for nothing, which is no heel. */
static void held_by_the_bow_alone(void **state)
{
    (void)state;
    dd_case *scenario = scenario_read("launch", NULL);
    dd_study_model *m = NULL, *loose = NULL;
    dd_settle s;
    double x = NAN;
    MUST(dd_study_model_create(scenario, &m, error));
    scenario->without_count = 2;
    strcpy(scenario->without[0], "strap");
    strcpy(scenario->without[1], "bow stop");
    MUST(dd_study_model_create(scenario, &loose, error));
    MUST(dd_study_position(m, scenario->start.hub_depth, &x, error));
    MUST(dd_settle_begin(m, DD_FRICTION_NONE, x, x - DD_STUDY_APPROACH, &s, error));
    for (double depth = 1.04; depth < 1.12; depth += 0.02) {
        dd_equilibrium afloat;
        MUST(dd_study_position(m, depth, &x, error));
        MUST(dd_settle_to(&s, x, error));
        MUST(dd_equilibrium_find(loose->workspace, 0, &s.at.pose, loose->memory, DD_FREE_RIG | DD_FREE_HULL_UPRIGHT, &afloat, error));
        print_message("hub %.2f m: roll stiffness %.1f N m/rad held by the bow, %.1f loose\n", depth, s.at.roll_stiffness, afloat.roll_stiffness);
        const double *channels = m->workspace->channels;
        const double pressed = channels[dd_system_channel(m->system, &dd_force_strap, 0, "strap_tension_N")] +
                               channels[dd_system_channel(m->system, &dd_force_bow_stop, 0, "stop_load_N")];
        NEAR(s.at.roll_stiffness, afloat.roll_stiffness, pressed * 0.5, "roll stiffness"); /* formula */
        assert_true(pressed * 0.5 < 0.2 * afloat.roll_stiffness);
    }
    dd_settle_end(&s);
    dd_study_model_free(m);
    dd_study_model_free(loose);
    free(scenario);
}

/* A boat whose strap is never let off floats at the stop with its stem against it: no fall on the way to float-off, nor where its stern
   comes off the supports and swings, which is told once, between the stern's lift and float-off. With skids too, where the stem shifts
   from one part of the stop to the next. (Yes or no; grade: elementary mechanics: a boat pushed end-on has no heading of its own.) */
static void afloat_is_no_fall(void **state)
{
    (void)state;
    static const char *const scenarios[] = {"launch", "rigs/six-skid-launch", "rigs/five-keel-roller-stream-launch"};
    for (size_t k = 0; k < sizeof scenarios / sizeof scenarios[0]; k++) {
        dd_result *r = settle_with(scenarios[k], NULL);
        double lifts = NAN, swings = NAN, afloat = NAN;
        for (int i = 0; i < r->event_count; i++) {
            const dd_event *e = &r->events[i];
            assert_string_not_equal(e->name, "falls here");
            if (strcmp(e->name, "stern lifts") == 0) lifts = e->hub_depth;
            if (strcmp(e->name, "afloat") == 0) afloat = e->hub_depth;
            if (strcmp(e->name, "stern swings free") != 0) continue;
            assert_true(isnan(swings));
            swings = e->hub_depth;
        }
        print_message("%s: stern lifts at %.3f m, swings at %.3f m, afloat at %.3f m\n", scenarios[k], lifts, swings, afloat);
        assert_true(swings > lifts && afloat > swings);
        assert_string_equal(r->word, "floats off");
        dd_result_free(r);
    }
}

/* A keel roller set high lifts the keel off its neighbours' cups: upright nothing holds the boat, and it leans over until a side skid
   beside the keel takes it up. That balance is stable, carried on that side only, and followed down to float-off, where the boat stands
   up again. (Signs and bounds; grade: elementary mechanics.) */
static void leans_over_onto_a_skid(void **state)
{
    (void)state;
    dd_case *scenario = scenario_read("rigs/five-keel-roller-stream-launch", NULL);
    dd_study_model *m = NULL;
    dd_settle s;
    double x = NAN, carried[2] = {0, 0};
    for (int i = 0, keel = 0; i < scenario->trailer.support_count; i++)
        if (scenario->trailer.supports[i].kind == DD_SUPPORT_KEEL_ROLLER && keel++ == 1) scenario->trailer.supports[i].above_ground += 0.008;
    MUST(dd_study_model_create(scenario, &m, error));
    MUST(dd_study_position(m, -0.4, &x, error));
    MUST(dd_settle_begin(m, DD_FRICTION_NONE, x, x - DD_STUDY_APPROACH, &s, error));
    assert_true(s.at.stable && s.at.imbalance < 1e-8);
    const int load = dd_system_channel(m->system, &dd_force_roller, 0, "load_N"), stride = dd_system_find(m->system, &dd_force_roller)->channel_count;
    for (int i = 0; i < m->rig->roller_count; i++)
        if (!m->rig->rollers[i].keel) carried[m->rig->rollers[i].centre.y > 0] += m->workspace->channels[load + i * stride];
    print_message("heel %.2f deg, skids carry %.1f and %.1f N\n", s.lean * 180 / M_PI, carried[0], carried[1]);
    assert_true(fabs(s.lean) > 0.1 * M_PI / 180 && fabs(s.lean) < 3 * M_PI / 180);
    assert_true(fmin(carried[0], carried[1]) == 0 && fmax(carried[0], carried[1]) > 10);
    double heel = 0, trim, heading;
    for (double depth = -0.3; depth < 1.1; depth += 0.1) {
        MUST(dd_study_position(m, depth, &x, error));
        MUST(dd_settle_to(&s, x, error));
        assert_true(s.at.stable);
        dd_attitude(&m->workspace->kinematics, &heel, &trim, &heading);
    }
    /* No friction holds it across its rollers: it need not lie in their middle. */
    NEAR(heel, 0, 0.1 * M_PI / 180, "heel afloat");
    dd_settle_end(&s);
    dd_study_model_free(m);
    free(scenario);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(leans_over_onto_a_skid), cmocka_unit_test(afloat_is_no_fall), cmocka_unit_test(skids_wet_where_the_boat_lies), cmocka_unit_test(held_by_the_bow_alone),
                                       cmocka_unit_test(unhooked_by_closed_form), cmocka_unit_test(pull_rises_home),
                                       cmocka_unit_test(water_aboard_needs_depth_and_pull), cmocka_unit_test(still_water_at_time_0),
                                       cmocka_unit_test(asides_leave_the_branch)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
