/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A rear rocker picks up a hull that floats low and off centre, at each of its height settings: the hull is brought on by hand, in
   small steps without friction, and everything else comes to rest. Grade: practice (what a rocker is for), and closed forms. */
#include "lib/force/roller.h"
#include "lib/motion/equilibrium.h"
#include "lib/study/model.h"
#include "lib/study/start.h"
#include "tests/property/scenarios.h"
#include <drawdock/study.h>

enum { SETTINGS = 3, SWAY = 2 << DD_HULL_COORDINATE };
static const double settings[SETTINGS] = {0.080, 0.110, 0.140};

static dd_study_model *model_with(int setting)
{
    static const char *rest[] = {"water.level=1.2 m", "water.current=0 m/s",  "start.offset to port=0 mm",
                                 "aboard=[{item: fuel, mass: 60 kg, at: [0.9 m, 0 m, 0.3 m]}]", NULL};
    char supports[700];
    const char *overrides[8] = {supports};
    snprintf(supports, sizeof supports,
             "trailer.supports=[{kind: rocker, name: rear rocker, behind coupling: 5.3 m, above ground: 460 mm, rows: 4, row spacing: "
             "300 mm, half spacings: [280 mm, 620 mm], deadrise: 18.5 deg, height settings: [80 mm, 110 mm, 140 mm], height setting: "
             "%d, rated load: 3500 N}, {kind: cradle, name: front cradle, behind coupling: 3.3 m, above ground: 566 mm, deadrise: "
             "22.5 deg, rows: 2, row spacing: 420 mm, half spacings: [280 mm, 560 mm]}]",
             setting);
    for (int i = 0; rest[i] != NULL; i++) overrides[i + 1] = rest[i];
    dd_study_model *m = NULL;
    dd_case *scenario = scenario_read("retrieve", overrides);
    MUST(dd_study_model_create(scenario, &m, error));
    free(scenario);
    return m;
}

/* What a pose shows. */
typedef struct seen {
    double load, angle, offset; /* on the rocker, N; of it, rad; of the transom to port, m */
    double keel_height, level;  /* of the keel over the rocker's pivot; of the hull's centre in the world, m */
} seen;
static seen look(const dd_study_model *m, const dd_equilibrium *at, const double *memory)
{
    const dd_system_force *rollers = dd_system_find(m->system, &dd_force_roller);
    const dd_roller_instance *instance = rollers->instance;
    const dd_arm *arm = &m->rig->arms[0];
    seen s = {.angle = memory[rollers->memory_first + dd_roller_arm_first(instance)], .offset = -at->pose.position.y};
    int load = dd_system_channel(m->system, &dd_force_roller, 0, "load_N");
    for (int i = arm->first; i < arm->first + arm->count; i++) s.load += m->workspace->channels[load + i * rollers->channel_count];
    double boat_x = at->pose.position.x - arm->pivot.x; /* nearly level: closely enough for a few mm */
    dd_vec3 forward = dd_vec(m->workspace->kinematics.to_trailer.m[0][0], 0, m->workspace->kinematics.to_trailer.m[2][0]);
    s.keel_height = at->pose.position.z + forward.z * boat_x + dd_hull_keel(m->hull, boat_x).z - arm->pivot.z;
    s.level = dd_hull_point(&m->workspace->kinematics, dd_hull_mass(m->hull)->centre).z;
    return s;
}

typedef struct pickup {
    seen afloat, first, last; /* before the rocker, at its first touch, and well on */
    double most_angle_change; /* how far the hull turned it, rad */
} pickup;

static pickup bring_on(int setting)
{
    static const double offset = 0.06, step = 0.02;
    dd_study_model *m = model_with(setting);
    dd_error error;
    double x, *memory = calloc((size_t)m->system->memory_count + 1, sizeof *memory);
    assert_non_null(memory);
    assert_int_equal(dd_study_position(m, 0.25, &x, &error), DD_OK);
    dd_pose home = dd_study_home_pose(m, x), pose = home;
    pose.position.x += 6.5;
    pose.position.y = -offset;
    pickup p = {.most_angle_change = 0};
    int touched = 0;
    for (double away = 6.5; away > 1.0; away -= step) {
        dd_equilibrium at;
        int free = DD_FREE_HEAVE | DD_FREE_PITCH | DD_FREE_HULL_UPRIGHT | (p.last.load > 500 ? SWAY : 0);
        if (dd_equilibrium_find(m->workspace, 0, &pose, memory, free, &at, &error) != DD_OK)
            fail_msg("setting %d, %.2f m from home: %s: %s", setting, away, error.place, error.message);
        seen s = look(m, &at, memory);
        if (away == 6.5) p.afloat = s;
        if (!touched && s.load > 20) p.first = s, touched = 1;
        if (touched) p.most_angle_change = fmax(p.most_angle_change, p.first.angle - s.angle);
        p.last = s;
        pose = at.pose;
        pose.position.x -= step;
    }
    free(memory);
    dd_study_model_free(m);
    return p;
}

/* Empty it hangs on its rear stop (0.25 rad down); the bow finds it there, off centre and lower than the rollers will carry it. Brought
   on, the hull turns the rocker level, stands on it above where it floated, and is back in the middle: less than a third of
   the 60 mm, practice. Keel heights differ as the settings do: 30 mm, within 10 mm for squash, trim and springs. */
static void a_low_hull_off_centre_is_lifted_and_centred(void **state)
{
    (void)state;
    pickup p[SETTINGS];
    for (int i = 0; i < SETTINGS; i++) {
        p[i] = bring_on(i + 1);
        print_message("setting %.0f mm: lifted %.1f mm, keel %.1f mm over the pivot, load %.0f N, rocker %.3f then %.3f rad, offset %.1f mm\n",
                      1e3 * settings[i], 1e3 * (p[i].last.level - p[i].afloat.level), 1e3 * p[i].last.keel_height, p[i].last.load, p[i].first.angle,
                      p[i].last.angle, 1e3 * p[i].last.offset);
        assert_true(p[i].afloat.load == 0);
        assert_true(p[i].afloat.angle > 0.25 && p[i].afloat.angle < 0.26);
        assert_true(p[i].first.load > 0);
        assert_true(p[i].most_angle_change > 0.05);
        assert_true(p[i].last.load > 1000);
        assert_true(p[i].last.level > p[i].afloat.level + 0.05);
        assert_true(fabs(p[i].last.offset) < 0.02);
        if (i > 0) assert_true(p[i].last.keel_height > p[i - 1].last.keel_height + 0.02 && p[i].last.keel_height < p[i - 1].last.keel_height + 0.04);
    }
}

/* The arm's rate was searched to and fro between two values and not found, so that it jumped and the steps collapsed: 9,454 Jacobians
   and 7,409 steps for this second, 10 and 445 since. Grade: closed form (an arm has one rate). */
static void an_arms_rate_is_found(void **state)
{
    (void)state;
    const char *overrides[] = {"time limit=1 s", "record interval=200 ms", NULL};
    dd_case_file *file = NULL;
    dd_error_list list;
    dd_result *result = NULL;
    assert_int_equal(dd_case_read(SOURCE_DIR "/tests/unit/case/supports.yaml", overrides, NULL, &file, &list), DD_OK);
    dd_error_list_free(&list);
    MUST(dd_study_run(dd_case_of(file), NULL, NULL, &result, error));
    print_message("%ld derivatives, %ld Jacobians, %ld steps\n", result->derivatives, result->jacobians, result->steps);
    assert_true(result->steps > 0 && result->jacobians < 200);
    dd_result_free(result);
    dd_case_free(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_low_hull_off_centre_is_lifted_and_centred), cmocka_unit_test(an_arms_rate_is_found)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
