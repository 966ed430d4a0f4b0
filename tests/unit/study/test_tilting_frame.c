/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A boat on a tilting frame and a boat too far aft, on level ground, by statics against closed forms: the bed's moment on its
   stops, where it tips, how far the rear end drops; what the coupling carries. No friction: sums of moments alone decide. */
#include "lib/study/start.h"
#include "tests/property/scenarios.h"
#include "tests/unit/force/whole.h"

/* The single-axle trailer of the evening launch with hard springs; tilting: its bed turns over the axle. */
static dd_study_model *model_of(int tilting)
{
    dd_study_model *m = NULL;
    dd_case *scenario = scenario_read("launch", NULL);
    dd_trailer_parameters *t = &scenario->trailer;
    t->tyre_squash = 1e-4;
    t->spring_squash = 1e-3;
    scenario->vehicle.rear_suspension_squash = 1e-3;
    if (tilting) {
        t->tilt.hinge_behind_coupling = t->axles[0].behind_coupling;
        t->tilt.most_tilt = 0.07; /* turned further the boat's stern stands on the ground, and the stop no longer carries it all */
    }
    MUST(dd_study_model_create(scenario, &m, error));
    free(scenario);
    return m;
}

typedef struct stand {
    dd_study_model *m;
    dd_pose from; /* the last found */
    double aft;
    dd_equilibrium at;
    double *memory;
} stand;

static void open_stand(stand *s, int tilting)
{
    dd_error error;
    double x;
    dd_equilibrium home;
    *s = (stand){.m = model_of(tilting)};
    s->memory = calloc((size_t)s->m->system->memory_count + 1, sizeof(double));
    assert_non_null(s->memory);
    assert_int_equal(dd_study_position(s->m, -0.4, &x, &error), DD_OK);
    if (dd_study_home(s->m, x - DD_STUDY_APPROACH, DD_FRICTION_NONE, s->memory, &home, &error) != DD_OK)
        fail_msg("%s: %s", error.place, error.message);
    s->from = home.pose;
    s->memory[dd_system_find(s->m->system, &dd_force_strap)->memory_first] = 20; /* slack: it is no part of this */
}

static void close_stand(stand *s)
{
    free(s->memory);
    dd_study_model_free(s->m);
}

/* The boat `aft` of home, held lengthwise as it lies, from where it was found last; tilt: where the search begins. */
static dd_status stand_at(stand *s, double aft, double tilt, dd_error *error)
{
    dd_status status = DD_OK;
    for (int last = 0; status == DD_OK && !last;) { /* its bottom rises forward: small ways */
        dd_pose from = s->from;
        const double way = fmin(0.02, aft - s->aft);
        last = way >= aft - s->aft;
        from.position.x += way;
        if (fabs(tilt - from.rig[DD_RIG_TILT]) > 0.02 || from.rig[DD_RIG_TILT] == 0) from.rig[DD_RIG_TILT] = tilt;
        status = dd_equilibrium_find(s->m->workspace, 0, &from, s->memory, DD_FREE_RIG | DD_FREE_HULL_UPRIGHT, &s->at, error);
        if (status != DD_OK) break;
        s->from = s->at.pose;
        s->aft += way;
    }
    return status;
}

static double channel(const stand *s, const dd_force_kind *kind, const char *name)
{
    int c = dd_system_channel(s->m->system, kind, 0, name);
    assert_true(c >= 0);
    return s->m->workspace->channels[c];
}

/* Moment of the boat's and the bed's weight about the hinge, > 0: rear end down. Closed form. */
static double tipping(const stand *s)
{
    const dd_kinematics *k = &s->m->workspace->kinematics;
    const dd_mass_properties *boat = dd_hull_mass(s->m->hull);
    const dd_rig_body *bed = &s->m->rig->bed;
    return s->m->model.gravity * (boat->mass * (dd_hull_point(k, boat->centre).x - k->hinge.x) +
                                  bed->mass * (dd_trailer_point(k, bed->centre).x - k->hinge.x));
}

static dd_vec3 rear_end(const stand *s)
{
    const dd_trailer_parameters *t = &s->m->rig->trailer;
    return dd_trailer_point(&s->m->workspace->kinematics, dd_vec(t->rear_end_behind_coupling, 0, 0));
}

/* P163: the frame tips when the boat's centre, with the bed's, passes the hinge; till then the front stop carries the moment, then
   the far one. Moments to 1e-6 of the boat's weight times a metre: statics are solved to 1e-9 of the weight. */
static void tips_over_the_hinge(void **state)
{
    (void)state;
    stand s;
    dd_error error = {0};
    open_stand(&s, 1);
    s.m->workspace->plan.set.unlatched = 1;
    const double weight = dd_hull_mass(s.m->hull)->mass * s.m->model.gravity, most = s.m->rig->trailer.tilt.most_tilt;
    const double into = 0.3 * s.m->rig->trailer.tilt.stop_squash;
    int lay = 0, tipped = 0;
    double level = 0;
    for (int i = 0; i < 11; i++) {
        const double aft = 0.1 * i;
        const int far = stand_at(&s, aft, -into, &error) != DD_OK || s.at.pose.rig[DD_RIG_TILT] > 0.5 * most;
        if (far && stand_at(&s, aft, most + into, &error) != DD_OK) fail_msg("%.1f m aft: %s", aft, error.message);
        const double moment = channel(&s, &dd_force_tilt_stops, "tilt_stop_moment_Nm");
        CHECK_NEAR(moment, -tipping(&s), 1e-6 * weight, "stop's moment");
        assert_true((moment < 0) == far);
        assert_true(far || tipped == 0); /* tipped once, it stays so further aft */
        if (!far) level = rear_end(&s).z;
        if (far && tipped == 0) {
            const double reach = s.m->rig->trailer.rear_end_behind_coupling - s.m->rig->trailer.tilt.hinge_behind_coupling;
            const double turned = s.at.pose.rig[DD_RIG_TILT];
            const double low = s.m->rig->hinge.z; /* the rear end's point lies at coupling height, so much above the hinge */
            const double drop = reach * sin(turned) - low * (1 - cos(turned));
            print_message("tips between %.1f and %.1f m aft; rear end drops %.3f m, closed form %.3f m\n", aft - 0.1, aft,
                          level - rear_end(&s).z, drop);
            /* closed form; 15 mm: the squash of the front stop before, and of the springs */
            CHECK_NEAR(level - rear_end(&s).z, drop, 0.015, "drop of the rear end");
        }
        lay += !far;
        tipped += far;
    }
    assert_true(lay >= 2 && tipped >= 2);
    close_stand(&s);
}

/* Latched, the same boat lies as on a plain trailer: the coupling's load is the same. Closed form: the same statics; 1e-6 of the
   weight (the bed's mass is a part of the trailer's). */
static void latched_is_plain(void **state)
{
    (void)state;
    double load[2];
    for (int tilting = 0; tilting < 2; tilting++) {
        stand s;
        dd_error error = {0};
        open_stand(&s, tilting);
        if (stand_at(&s, 0.5, 0, &error) != DD_OK) fail_msg("%s", error.message);
        load[tilting] = channel(&s, &dd_force_coupling, "coupling_load_N");
        close_stand(&s);
    }
    CHECK_NEAR(load[1], load[0], 1e-6 * 10000, "coupling load");
}

/* P194: with the boat 1 m aft the coupling's load falls by the boat's weight x 1 m over ball to axle, and turns negative when that
   is more than it was: a closed coupling holds both ways. Closed form; 3e-3: the trailer's nose rises as the ball's spring eases. */
static void boat_too_far_aft(void **state)
{
    (void)state;
    stand s;
    dd_error error = {0};
    open_stand(&s, 0);
    const double weight = dd_hull_mass(s.m->hull)->mass * s.m->model.gravity;
    if (stand_at(&s, 0, 0, &error) != DD_OK) fail_msg("%s", error.message);
    const double home = channel(&s, &dd_force_coupling, "coupling_load_N");
    const dd_vec3 centre = dd_hull_point(&s.m->workspace->kinematics, dd_hull_mass(s.m->hull)->centre);
    if (stand_at(&s, 1, 0, &error) != DD_OK) fail_msg("%s", error.message);
    const double aft = channel(&s, &dd_force_coupling, "coupling_load_N");
    const double moved = dd_hull_point(&s.m->workspace->kinematics, dd_hull_mass(s.m->hull)->centre).x - centre.x;
    const double fall = weight * moved / s.m->rig->trailer.axles[0].behind_coupling;
    print_message("coupling %.1f N at home, %.1f N with the boat 1 m aft: falls by %.1f N, closed form %.1f N\n", home, aft, home - aft,
                  fall);
    CHECK_NEAR(moved, 1, 0.02, "way of the boat's centre");
    CHECK_NEAR(home - aft, fall, 3e-3 * fall, "fall of the coupling's load");
    assert_true(aft < 0);
    close_stand(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(tips_over_the_hinge), cmocka_unit_test(latched_is_plain),
                                       cmocka_unit_test(boat_too_far_aft)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
