/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What `settle` says beside its curve: a boat unhooked, and the winch home. */
#include "lib/force/bow_stop.h"
#include "lib/force/roller.h"
#include "lib/study/asides.h"
#include "lib/study/settle_parts.h"
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

/* Set upright again it is in balance and not stable; pushed off that balance it slides down to where it leant (the other way, which heels it on in
   steps: 1e-6 rad), or to the same on the other side. */
static void pushed_off_to_the_same_lean(dd_settle *s)
{
    dd_equilibrium next;
    double heel, trim, heading, back, leant;
    dd_attitude(&s->m->workspace->kinematics, &leant, &trim, &heading);
    const double upright[6] = {0, 0, 0, -asin(dd_rotation_of(s->at.pose.attitude).m[2][1]), 0, 0};
    dd_pose pose = s->at.pose;
    dd_pose_displace(&pose, upright, NULL);
    MUST(dd_equilibrium_creep(s->m->workspace, 0, &pose, s->memory, s->free & ~DD_FREE_HULL_HEEL, &next, error));
    MUST(dd_equilibrium_creep(s->m->workspace, 0, &next.pose, s->memory, s->free, &next, error));
    dd_attitude(&s->m->workspace->kinematics, &back, &trim, &heading);
    assert_true(!next.stable && fabs(back) < 0.2 * fabs(leant));
    MUST(dd_settle_slide_off(s, &next, error));
    dd_attitude(&s->m->workspace->kinematics, &heel, &trim, &heading);
    print_message("upright %.3f deg, pushed off %.4f deg, leant %.4f deg\n", back * 180 / M_PI, heel * 180 / M_PI, leant * 180 / M_PI);
    assert_true(next.stable);
    NEAR(fabs(heel), fabs(leant), 1e-6, "heel");
    MUST(dd_settle_to(s, s->at.pose.rig[DD_RIG_X], error));
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
    pushed_off_to_the_same_lean(&s);
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

/* Gap at the stop on level ground, wound home where the branch stands and then driven in moves of `by`, m. */
static double gap_by_moves(const dd_settle *s, double level_x, double by)
{
    dd_settle home;
    double per_length = 0;
    MUST(dd_settle_branch(s, DD_FRICTION_WOUND_IN, &home, error));
    MUST(dd_settle_home(&home, false, &per_length, error));
    home.state = DD_FRICTION_NONE;
    home.slides = true;
    for (double x = home.at.pose.rig[DD_RIG_X] - by; x > -16; x -= by) MUST(dd_settle_to(&home, x, error));
    MUST(dd_settle_to(&home, level_x, error));
    const double gap = s->m->workspace->channels[dd_system_channel(s->m->system, &dd_force_bow_stop, 0, "stop_gap_m")];
    dd_settle_end(&home);
    return gap;
}

/* Pulled out of the water with friction in the middle of its range, the boat leaves its strap where the bed turns level and runs up to its stop:
   no branch of balances leads there. It does so on every rig and from every depth, by whatever moves the rig is driven (the same statics, by moves of
   0.1 m, to 1e-6 m); and on the strap of six metres on keel rollers, which hangs slack then, it lies where it lay from elsewhere (closed form: level
   ground does not know the strap's length; balance to 1e-9 of the weight on a stop of 1e5 N/m: 1e-7 m). The depths are those at which the search used
   to give up: kinks where the boat runs up to its stop, comes down on its supports, or leans and stands up again. */
static void runs_up_to_its_stop_on_level_ground(void **state)
{
    (void)state;
    static const struct {
        const char *scenario;
        double depth;
        bool slack;
    } places[] = {{"rigs/six-keel-roller-retrieve-in-steps", 0.80, true}, {"rigs/six-keel-roller-retrieve-in-steps", 1.18, true},
                  {"rigs/six-keel-roller-retrieve-in-steps", 1.30, true}, {"rigs/seven-skid-drive-on-retrieve", 1.23, false},
                  {"rigs/six-rocker-drive-on-retrieve", 1.32, false},      {"teaching/on-a-bracket", 0.71, false},
                  {"teaching/hooked-up-tight-remedy", 1.09, false}};
    double first = NAN;
    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++) {
        dd_case *scenario = scenario_read(places[i].scenario, NULL);
        dd_study_model *m = NULL;
        dd_settle s;
        dd_winding *w = calloc(1, sizeof *w);
        double x = NAN, from = NAN;
        assert_non_null(w);
        dd_study_make_still(scenario, NULL, false);
        MUST(dd_study_model_create(scenario, &m, error));
        MUST(dd_study_position(m, scenario->start.hub_depth, &from, error));
        MUST(dd_study_position(m, places[i].depth, &x, error));
        MUST(dd_settle_begin(m, DD_FRICTION_NONE, from, from - DD_STUDY_APPROACH, &s, error));
        MUST(dd_settle_to(&s, x, error));
        MUST(dd_wind_here(&s, from - DD_STUDY_APPROACH, NULL, w, error));
        const double plain = gap_by_moves(&s, from - DD_STUDY_APPROACH, 0.1);
        print_message("%s, wound home at %.2f m: gap %.4f mm, by short moves %.4f mm\n", places[i].scenario, places[i].depth, 1e3 * w->gap_after, 1e3 * plain);
        NEAR(w->gap_after, plain, 1e-6, "gap after the pull-out");
        if (places[i].slack && isnan(first)) first = w->gap_after;
        if (places[i].slack) NEAR(w->gap_after, first, 1e-7, "gap against that from another depth");
        dd_settle_end(&s);
        dd_study_model_free(m);
        free(scenario);
        free(w);
    }
}

/* No row of a settle goes without its gap. (Yes or no.) */
static void every_row_has_its_gap(void **state)
{
    (void)state;
    static const char *const scenarios[] = {"rigs/six-keel-roller-retrieve-in-steps", "rigs/seven-keel-roller-retrieve", "rigs/seven-skid-drive-on-retrieve",
                                            "teaching/on-a-bracket"};
    for (size_t k = 0; k < sizeof scenarios / sizeof scenarios[0]; k++) {
        dd_result *r = settle_with(scenarios[k], NULL);
        int gaps = 0;
        for (int i = 0; i < r->figure_count; i++) {
            if (strcmp(r->figures[i].name, "gap at the bow stop after pull-out") != 0) continue;
            gaps++;
            assert_true(isfinite(r->figures[i].value));
        }
        print_message("%s: %d gaps\n", scenarios[k], gaps);
        assert_true(gaps > 7);
        dd_result_free(r);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(leans_over_onto_a_skid), cmocka_unit_test(afloat_is_no_fall), cmocka_unit_test(skids_wet_where_the_boat_lies), cmocka_unit_test(held_by_the_bow_alone),
                                       cmocka_unit_test(unhooked_by_closed_form), cmocka_unit_test(pull_rises_home),
                                       cmocka_unit_test(water_aboard_needs_depth_and_pull), cmocka_unit_test(still_water_at_time_0),
                                       cmocka_unit_test(asides_leave_the_branch), cmocka_unit_test(runs_up_to_its_stop_on_level_ground),
                                       cmocka_unit_test(every_row_has_its_gap)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
