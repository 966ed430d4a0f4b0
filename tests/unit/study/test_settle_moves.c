/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How settle moves: each shorter way against the plain one, that it leads to the same balance and that it is the shorter. Evaluations of the
   forces are counted where the library makes them (--wrap): a way that leads nowhere is gone again by the plain one, and only the count tells. */
#include "lib/force/bow_stop.h"
#include "lib/force/roller.h"
#include "lib/force/strap.h"
#include "lib/study/asides.h"
#include "tests/property/scenarios.h"

static int evaluations, gradients;
int __real_dd_system_evaluate(dd_workspace *w, double t, const double *y, int want);
int __wrap_dd_system_evaluate(dd_workspace *w, double t, const double *y, int want);
int __wrap_dd_system_evaluate(dd_workspace *w, double t, const double *y, int want)
{
    evaluations++;
    gradients += (want & (DD_WANT_STIFFNESS | DD_WANT_GRADIENT)) != 0;
    return __real_dd_system_evaluate(w, t, y, want);
}

static dd_study_model *stand(const char *name, dd_friction_state state, double depth, dd_settle *s)
{
    dd_case *scenario = scenario_read(name, NULL);
    dd_study_model *m = NULL;
    double x = NAN;
    dd_study_make_still(scenario, NULL, false);
    MUST(dd_study_model_create(scenario, &m, error));
    MUST(dd_study_position(m, depth, &x, error));
    MUST(dd_settle_begin(m, state, x, x - DD_STUDY_APPROACH, s, error));
    free(scenario);
    return m;
}

static double x_at(const dd_study_model *m, double depth)
{
    double x = NAN;
    MUST(dd_study_position(m, depth, &x, error));
    return x;
}

/* --- straight dry ground ------------------------------------------------------------------------------------------ */

/* Inshore of its crest this ramp is level: the way of the hull's stern, and half a metre beyond it, up to where the crest's curve or the
   ramp begins is straight and all of it dry (closed form; the ground is looked at every 0.2 m). From there on no move is straight. */
static void straight_ground_ends_at_the_crest(void **state)
{
    (void)state;
    dd_settle s;
    dd_study_model *m = stand("launch", DD_FRICTION_NONE, -0.4, &s);
    const double from = -45;
    MUST(dd_settle_to(&s, from, error));
    double curve = from, first, last;
    while (dd_ramp_at(m->ramp, curve).curvature == 0 && dd_ramp_at(m->ramp, curve).slope == 0) curve += 0.001;
    dd_hull_extent(m->hull, &first, &last);
    const dd_vehicle_pose vehicle = dd_vehicle_on_profile(&m->rig->vehicle, m->ramp, from);
    const double stern = vehicle.ball.x + fmax(m->rig->trailer.rear_end_behind_coupling, s.at.pose.position.x - first) + 0.5;
    const double way = dd_study_straight_way(m, &s.at.pose, 20);
    print_message("stern at %.3f m, curve from %.3f m, straight for %.3f m\n", stern, curve, way);
    NEAR(way, curve - stern, 0.2 + 1e-3, "straight way");
    assert_true(way < curve - stern + 1e-3);
    NEAR(dd_study_straight_way(m, &s.at.pose, from - 20), 20, 1e-9, "way inshore");
    NEAR(dd_study_straight_way(m, &s.at.pose, from + 3), 3, 1e-9, "a shorter way");
    MUST(dd_settle_to(&s, from + way + 1, error));
    NEAR(dd_study_straight_way(m, &s.at.pose, 20), 0, 0, "way onto the crest");
    dd_settle_end(&s);
    dd_study_model_free(m);
}

/* Over straight dry ground in one move: where short ones lead (the same balance on the same ground: 1e-9 m), in some five evaluations. */
static void straight_ground_at_once(void **state)
{
    (void)state;
    dd_settle s, plain;
    dd_study_model *m = stand("launch", DD_FRICTION_NONE, -0.4, &s);
    MUST(dd_settle_to(&s, -45, error));
    MUST(dd_settle_branch(&s, DD_FRICTION_NONE, &plain, error));
    for (double x = -45.5; x >= -75; x -= 0.5) MUST(dd_settle_to(&plain, x, error));
    evaluations = 0;
    MUST(dd_settle_to(&s, -75, error));
    print_message("30 m in %d evaluations, last move %.1f m\n", evaluations, s.stride);
    assert_true(evaluations <= 5);
    NEAR(s.at.pose.rig[DD_RIG_PITCH], plain.at.pose.rig[DD_RIG_PITCH], 1e-9, "pitch");
    NEAR(s.at.pose.rig[DD_RIG_HEAVE], plain.at.pose.rig[DD_RIG_HEAVE], 1e-9, "heave");
    NEAR(dd_pose_distance(&s.at.pose, &plain.at.pose, 2.5), 0, 1e-9, "pose");
    dd_settle_end(&s);
    dd_settle_end(&plain);
    dd_study_model_free(m);
}

/* --- side friction of keel rollers ------------------------------------------------------------------------------- */

/* Across a keel roller friction pushes to the side alone, not up or down: a boat that sinks or rises takes none of it there, and lies in the
   middle (closed form: symmetry, 1e-6 m); the skids beside the keel have it, at its limit. With its sense by rounding the boat lay up to 75 mm off. */
static void keel_rollers_have_no_side_friction(void **state)
{
    (void)state;
    for (int k = DD_FRICTION_SINKING; k <= DD_FRICTION_RISING; k++) {
        dd_settle s, none;
        dd_study_model *m = stand("rigs/five-keel-roller-stream-launch", DD_FRICTION_NONE, -0.2, &none);
        MUST(dd_settle_branch(&none, (dd_friction_state)k, &s, error));
        for (double depth = -0.19; depth < 0.2; depth += 0.05) {
            MUST(dd_settle_to(&s, x_at(m, depth), error));
            NEAR(s.at.pose.position.y, 0, 1e-6, "off the middle");
            const dd_system_force *rollers = dd_system_find(m->system, &dd_force_roller);
            int keels = 0, others = 0;
            for (int i = 0; i < m->rig->roller_count; i++) {
                const double bristle = s.memory[rollers->memory_first + DD_BRISTLES * i + DD_ACROSS];
                keels += m->rig->rollers[i].keel;
                others += !m->rig->rollers[i].keel && bristle != 0;
                if (m->rig->rollers[i].keel) NEAR(bristle, 0, 0, "side friction of a keel roller");
            }
            assert_true(keels > 1 && others > 1);
        }
        dd_settle_end(&s);
        dd_settle_end(&none);
        dd_study_model_free(m);
    }
}

/* --- a winding beside another -------------------------------------------------------------------------------------- */

/* Led by the winding 0.05 m of depth before, each place on the way home is where it is without (pulls to 1e-6 of the weight, gaps to 1e-7 m), in
   fewer evaluations. */
static void winding_beside_another(void **state)
{
    (void)state;
    dd_settle s;
    dd_study_model *m = stand("retrieve", DD_FRICTION_NONE, 0.25, &s);
    const double weight = dd_hull_mass(m->hull)->mass * m->model.gravity, level = s.at.pose.rig[DD_RIG_X] - DD_STUDY_APPROACH;
    dd_winding *w = calloc(3, sizeof *w);
    dd_winding_way *way = NULL;
    assert_non_null(w);
    MUST(dd_wind_here(&s, level, &way, &w[0], error));
    MUST(dd_settle_to(&s, x_at(m, 0.30), error));
    evaluations = 0;
    MUST(dd_wind_here(&s, level, &way, &w[1], error));
    const int led = evaluations;
    evaluations = 0;
    MUST(dd_wind_here(&s, level, NULL, &w[2], error));
    print_message("%d places: %d evaluations beside another, %d alone\n", w[1].count, led, evaluations);
    assert_int_equal(w[1].count, w[2].count);
    assert_true(w[1].count > 10);
    for (int i = 0; i < w[1].count && w[2].step[i].pull > 1e-3 * weight; i++) { /* afloat on a slack strap the boat lies anywhere within it */
        NEAR(w[1].step[i].pull, w[2].step[i].pull, 1e-6 * weight, "pull");
        NEAR(w[1].step[i].short_of_stop, w[2].step[i].short_of_stop, 1e-7, "short of the stop");
        NEAR(w[1].step[i].carried, w[2].step[i].carried, 1e-6 * weight, "carried");
    }
    NEAR(w[1].gap_after, w[2].gap_after, 1e-6, "gap after the pull-out");
    assert_true(led < 0.9 * evaluations);
    dd_winding_way_free(way);
    free(w);
    dd_settle_end(&s);
    dd_study_model_free(m);
}

/* --- K that is guessed --------------------------------------------------------------------------------------------- */

static dd_equilibrium followed(const dd_study_model *m, const dd_settle *s, const dd_pose *from, bool alone, const dd_stiffness_near *near)
{
    dd_equilibrium at;
    evaluations = gradients = 0;
    MUST(dd_equilibrium_follow_by(m->workspace, 0, from, s->memory, s->free, alone, near, &at, error));
    return at;
}

/* Begun by the K of a row 0.03 m of depth before, the search comes to the balance that K evaluated there leads to (1e-8 m by the balance's own
   tolerance), a pose alone without one evaluation of K, and says so; by a K that is wrong by a third too, and by one that lacks a coordinate it
   does not begin at all. What is measured at the balance is measured by its own K. */
static void guessed_stiffness_leads_to_the_same(void **state)
{
    (void)state;
    dd_settle s;
    dd_study_model *m = stand("launch", DD_FRICTION_NONE, 0.2, &s);
    const dd_stiffness_near before = s.at.near;
    dd_stiffness_near wrong = before, lacks = before;
    dd_pose from = s.at.pose;
    const double by = x_at(m, 0.23) - from.rig[DD_RIG_X];
    double q[DD_COORDINATES];
    for (int r = 0; r < DD_COORDINATES; r++)
        for (int c = 0; c < DD_COORDINATES; c++) wrong.K[r][c] *= 1.5;
    lacks.free &= ~DD_FREE_HULL_TRIM;
    for (int c = 0; c < DD_COORDINATES; c++) q[c] = by * s.at.tangent[c];
    dd_pose_displace(&from, q + DD_HULL_COORDINATE, q);
    assert_true((before.free & s.free) == s.free);
    const dd_equilibrium plain = followed(m, &s, &from, false, NULL);
    const int plainly = gradients;
    const struct {
        const char *what;
        bool alone;
        const dd_stiffness_near *near;
        int least, most; /* evaluations with K */
    } guesses[] = {{"guessed", false, &before, 1, 1}, {"guessed, pose alone", true, &before, 0, 0}, {"wrong by a third", false, &wrong, 1, 3}, {"not complete", true, &lacks, 1, 3}};
    for (size_t i = 0; i < sizeof guesses / sizeof guesses[0]; i++) {
        const dd_equilibrium at = followed(m, &s, &from, guesses[i].alone, guesses[i].near);
        print_message("%s: %d evaluations, %d with K (plainly %d)\n", guesses[i].what, evaluations, gradients, plainly);
        NEAR(dd_pose_distance(&plain.pose, &at.pose, 2.5), 0, guesses[i].alone ? 1e-7 : 1e-8, guesses[i].what);
        assert_true(gradients >= guesses[i].least && gradients <= guesses[i].most);
        assert_int_equal(at.near.guessed, gradients == 0);
        if (!guesses[i].alone) NEAR(at.roll_stiffness, plain.roll_stiffness, 1e-6 * plain.roll_stiffness, "roll stiffness");
        for (int c = 0; c < DD_COORDINATES && !guesses[i].alone; c++) NEAR(at.tangent[c], plain.tangent[c], 1e-6, "tangent");
    }
    assert_true(plainly > 1);
    dd_settle_end(&s);
    dd_study_model_free(m);
}

/* --- kinks --------------------------------------------------------------------------------------------------------- */

static int carrying(const dd_study_model *m)
{
    const double *load = m->workspace->channels + dd_system_channel(m->system, &dd_force_roller, 0, "load_N");
    const int stride = dd_system_find(m->system, &dd_force_roller)->channel_count;
    int count = 0;
    for (int i = 0; i < m->rig->roller_count; i++) count += load[i * stride] > 0;
    return count;
}

/* The strap let out 0.25 m at a time, the boat comes off its rollers, and the imbalance rises on the way to where one lets go: the move goes there at
   once, and leads where twenty-five short ones lead (1e-7 m). Crept up to by moves halved again and again, the kinks take
   half as many evaluations more. */
static void kinks_are_gone_to(void **state)
{
    (void)state;
    dd_settle s, plain;
    dd_study_model *m = stand("rigs/seven-multi-roller-drive-on-retrieve", DD_FRICTION_NONE, 0.6, &s);
    int all = 0;
    MUST(dd_settle_to(&s, x_at(m, 0.95), error));
    MUST(dd_settle_branch(&s, DD_FRICTION_NONE, &plain, error));
    const int first = carrying(m);
    for (int i = 0; i < 8; i++) {
        const double from = dd_settle_strap(&s);
        for (int k = 1; k <= 25; k++) MUST(dd_settle_strap_to(&plain, from + 0.01 * k, error));
        evaluations = 0;
        MUST(dd_settle_strap_to(&s, from + 0.25, error));
        all += i > 0 ? evaluations : 0; /* the first move leaves the bow stop */
        print_message("strap of %.2f m: %d evaluations, %d rollers carry\n", from + 0.25, evaluations, carrying(m));
        NEAR(dd_pose_distance(&s.at.pose, &plain.at.pose, 2.5), 0, 1e-7, "pose");
    }
    print_message("%d evaluations in seven moves; %d rollers carry at first, %d at last\n", all, first, carrying(m));
    assert_true(all <= 160);
    dd_settle_end(&s);
    dd_settle_end(&plain);
    dd_study_model_free(m);
}

/* Afloat the boat comes off strap and stop, which pull and push by the square of what they are strained: where the balance is to just touch one,
   Newton's method leaves a quarter of the imbalance each time (closed form), fifteen steps to 1e-9 of the weight. Nearly twice the step goes
   nearly all of the way: the boat is balanced, strap and stop bear next to nothing, in few evaluations. */
static void touching_is_gone_to(void **state)
{
    (void)state;
    dd_settle s;
    dd_study_model *m = stand("rigs/five-rocker-launch", DD_FRICTION_NONE, -0.2, &s);
    const int load = dd_system_channel(m->system, &dd_force_bow_stop, 0, "stop_load_N"), tension = dd_system_channel(m->system, &dd_force_strap, 0, "strap_tension_N");
    int places = 0, all = 0;
    for (double depth = 0; depth < 1.25; depth += 0.05) {
        evaluations = 0;
        MUST(dd_settle_to(&s, x_at(m, depth), error));
        const double borne = fmax(m->workspace->channels[load], m->workspace->channels[tension]);
        if (depth > 0.9) print_message("hub %.2f m: %d evaluations, strap or stop bear %.2e N\n", depth, evaluations, borne);
        if (!(borne < 1e-3)) continue;
        places++;
        all += evaluations;
        assert_true(s.at.imbalance < 1e-9);
    }
    print_message("%d evaluations to %d places where it just touches\n", all, places);
    assert_true(places > 1 && all <= 38);
    dd_settle_end(&s);
    dd_study_model_free(m);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(straight_ground_ends_at_the_crest), cmocka_unit_test(straight_ground_at_once),
                                       cmocka_unit_test(keel_rollers_have_no_side_friction), cmocka_unit_test(winding_beside_another),
                                       cmocka_unit_test(guessed_stiffness_leads_to_the_same), cmocka_unit_test(kinks_are_gone_to),
                                       cmocka_unit_test(touching_is_gone_to)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
