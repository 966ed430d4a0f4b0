/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dd_equilibrium_find and dd_stiffness on a shipped scenario, without a reference number: the potential energy is least at a stable
   equilibrium, K is its second derivative, and what cannot rest is refused. */
#include "lib/study/settle.h"
#include "tests/unit/force/whole.h"

static dd_study_model *model_from(const char *path, int frictionless)
{
    static const char *const search[] = {SOURCE_DIR "/scenarios", NULL};
    dd_case_file *file = NULL;
    dd_error_list list = {0};
    dd_error error;
    dd_study_model *m = NULL;
    if (dd_case_read(path, NULL, search, &file, &list) != DD_OK)
        fail_msg("%s: %s", list.errors[0].place, list.errors[0].message);
    dd_case *scenario = malloc(sizeof *scenario);
    assert_non_null(scenario);
    *scenario = *dd_case_of(file);
    for (int i = 0; frictionless && i < scenario->trailer.support_count; i++)
        scenario->trailer.supports[i].side_friction = scenario->trailer.supports[i].rolling_resistance = 0;
    if (dd_study_model_create(scenario, &m, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
    free(scenario);
    dd_case_free(file);
    dd_error_list_free(&list);
    return m;
}

static dd_study_model *model_of(int frictionless) { return model_from(SOURCE_DIR "/scenarios/launch.yaml", frictionless); }

/* Hub 0.3 m under water, the stern still on its cradle: every force but the bow stop's works. */
static void settle_at(dd_study_model *m, dd_friction_state state, double depth, dd_settle *settle)
{
    dd_error error;
    double x, home;
    assert_int_equal(dd_study_position(m, -0.4, &home, &error), DD_OK);
    assert_int_equal(dd_study_position(m, depth, &x, &error), DD_OK);
    if (dd_settle_begin(m, state, x, home, settle, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
}

static void loads_at(dd_study_model *m, const dd_settle *settle, const double q[DD_COORDINATES], double load[DD_COORDINATES],
                     double *energy)
{
    const dd_motion rest = {{0}, {0}};
    dd_workspace *w = m->workspace;
    dd_pose pose = settle->at.pose;
    double *y = calloc((size_t)m->system->size, sizeof *y);
    assert_non_null(y);
    dd_pose_displace(&pose, q + DD_HULL_COORDINATE, q);
    dd_system_pack(m->system, &pose, &rest, settle->memory, y);
    assert_int_equal(dd_system_evaluate(w, 0, y, 0), 0);
    free(y);
    memset(load, 0, DD_COORDINATES * sizeof(double));
    *energy = 0;
    for (int f = 0; f < m->system->force_count; f++) {
        const dd_load *l = &w->loads[f];
        *energy += l->energy;
        for (int i = 0; i < 6; i++) {
            load[DD_HULL_COORDINATE + i] += l->hull[i];
            for (int c = 0; c < DD_RIG_COORDINATES; c++)
                if (m->system->forces[f].kind->acts_on == DD_ACTS_ON_HULL) load[c] += w->kinematics.carry[i][c] * l->hull[i];
        }
        for (int c = 0; c < DD_RIG_COORDINATES; c++) load[c] += l->rig[c];
    }
}

static int same(const void *a, const void *b, size_t count)
{
    const double *x = a, *y = b;
    for (size_t i = 0; i < count; i++)
        if (x[i] != y[i]) return 0;
    return 1;
}

/* K as statics ask for it, on a workspace that has seen other states, against all gradients and against nothing but loads, each on one
   that has seen none: the same to the last digit. bent: bristles that are not straight. */
static void same_at_rest(const dd_study_model *m, const dd_settle *settle, bool bent)
{
    enum { STATICS, ALL, PLAIN, WAYS };
    static const int want[WAYS] = {DD_WANT_STIFFNESS | DD_WANT_CHANNELS, DD_WANT_GRADIENT | DD_WANT_CHANNELS, 0};
    const dd_motion rest = {{0}, {0}};
    const double shift[6] = {0, 2e-4, -1e-3, 1e-3, -5e-4, 2e-4};
    dd_error error;
    dd_workspace *w[WAYS] = {m->workspace};
    dd_pose pose = settle->at.pose;
    double *y = calloc((size_t)m->system->size, sizeof *y);
    assert_non_null(y);
    dd_pose_displace(&pose, shift, NULL);
    dd_system_pack(m->system, &pose, &rest, settle->memory, y);
    for (int i = 0; bent && i < m->system->memory_count; i++) y[DD_STATE_MEMORY + i] += 1e-5 * (i % 7 - 3);
    for (int i = 0; i < WAYS; i++) {
        if (i > 0) assert_int_equal(dd_workspace_create(m->system, &w[i], &error), DD_OK);
        w[i]->plan = m->workspace->plan;
        assert_int_equal(dd_system_evaluate(w[i], 0, y, want[i]), 0);
    }
    for (int i = ALL; i < WAYS; i++)
        for (int f = 0; f < m->system->force_count; f++) {
            const char *name = m->system->forces[f].kind->name;
            if (!same(w[i]->loads[f].hull, w[STATICS]->loads[f].hull, 6) || !same(w[i]->loads[f].rig, w[STATICS]->loads[f].rig, DD_RIG_COORDINATES) ||
                w[i]->loads[f].energy != w[STATICS]->loads[f].energy)
                fail_msg("load of %s", name);
        }
    for (int c = 0; c < m->system->channel_count; c++) CHECK_NEAR(w[STATICS]->channels[c], w[ALL]->channels[c], 0, "channel");
    assert_true(same(w[STATICS]->hull_gradient.K, w[ALL]->hull_gradient.K, 36));
    assert_true(same(w[STATICS]->between_gradient.K, w[ALL]->between_gradient.K, 36));
    assert_true(same(w[STATICS]->rig_gradient.rig_K, w[ALL]->rig_gradient.rig_K, DD_RIG_COORDINATES * DD_RIG_COORDINATES));
    for (int i = ALL; i < WAYS; i++) dd_workspace_free(w[i]);
    free(y);
}

/* On rollers, keel rollers and skids, with their friction as it stands and without, dry and with the stern in the water; where the boat
   falls there is nothing to compare. */
static void statics_leave_out_nothing(void **state)
{
    (void)state;
    static const char *const files[] = {"launch.yaml", "rigs/six-keel-roller-launch.yaml", "rigs/six-skid-launch.yaml"};
    for (int i = 0; i < 3; i++) {
        int compared = 0;
        char path[500];
        snprintf(path, sizeof path, "%s/scenarios/%s", SOURCE_DIR, files[i]);
        dd_study_model *m = model_from(path, 0);
        for (int friction = 0; friction < DD_FRICTION_STATES; friction++)
            for (int wet = 0; wet < 2; wet++) {
                dd_settle s;
                dd_error error;
                double x, home;
                assert_int_equal(dd_study_position(m, -0.4, &home, &error), DD_OK);
                assert_int_equal(dd_study_position(m, wet ? 0.25 : -0.4, &x, &error), DD_OK);
                if (dd_settle_begin(m, (dd_friction_state)friction, x, home, &s, &error) != DD_OK) continue;
                same_at_rest(m, &s, false);
                same_at_rest(m, &s, true);
                dd_settle_end(&s);
                compared++;
            }
        print_message("%s: %d of %d\n", files[i], compared, 2 * DD_FRICTION_STATES);
        assert_true(compared >= DD_FRICTION_STATES);
        dd_study_model_free(m);
    }
}

/* The rig's brakes and rolling resistance have no potential: x stays. */
enum { FIRST = DD_RIG_HEAVE };
/* The shipped rig has neither reach nor tilt. */
static int moves(int coordinate) { return coordinate < DD_RIG_ALWAYS || coordinate >= DD_HULL_COORDINATE; }

static void symmetric_stays_upright(void **state)
{
    (void)state;
    for (int frictionless = 0; frictionless < 2; frictionless++) {
        dd_study_model *m = model_of(frictionless);
        dd_settle s;
        settle_at(m, DD_FRICTION_NONE, 0.3, &s);
        double heel, trim, heading;
        dd_attitude(&m->workspace->kinematics, &heel, &trim, &heading);
        CHECK_NEAR(heel, 0, 1e-12, "heel"); /* closed form: symmetry */
        CHECK_NEAR(heading, 0, 1e-12, "heading");
        CHECK_NEAR(s.at.pose.position.y, 0, 1e-12, "sway");
        assert_true(s.at.stable);
        assert_true(s.at.imbalance < 1e-9);
        dd_settle_end(&s);
        dd_study_model_free(m);
    }
}

/* Energy of displaced states against that at rest: above it (closed form: stable), by 1/2 q K q to third order. */
static void energy_is_least(void **state)
{
    (void)state;
    dd_study_model *m = model_of(1);
    dd_settle s;
    settle_at(m, DD_FRICTION_NONE, 0.3, &s);
    double K[DD_COORDINATES][DD_COORDINATES], load[DD_COORDINATES], rest_energy, energy, zero[DD_COORDINATES] = {0};
    dd_stiffness(m->workspace, K);
    loads_at(m, &s, zero, load, &rest_energy);
    uint64_t random = 20;
    double worst = 0;
    for (int n = 0; n < 200; n++) {
        double q[DD_COORDINATES] = {0}, quadratic = 0;
        for (int c = FIRST; c < DD_COORDINATES; c++) q[c] = moves(c) ? 2e-4 * (whole_uniform(&random) - 0.5) : 0;
        for (int i = 0; i < DD_COORDINATES; i++)
            for (int j = 0; j < DD_COORDINATES; j++) quadratic += 0.5 * q[i] * K[i][j] * q[j];
        loads_at(m, &s, q, load, &energy);
        assert_true(energy > rest_energy);
        worst = fmax(worst, fabs(energy - rest_energy - quadratic) / (energy - rest_energy));
    }
    print_message("energy against half q K q: %.1e\n", worst);
    assert_true(worst < 0.1); /* closed form: the third-order term, 0.1 mm on squashes of millimetres */
    dd_settle_end(&s);
    dd_study_model_free(m);
}

/* Slopes of the loads by differences of fourth order. */
static void slopes_at(dd_study_model *m, const dd_settle *s, double by[DD_COORDINATES][DD_COORDINATES])
{
    static const double steps[4] = {1, -1, 2, -2}, h = 2e-6;
    for (int c = 0; c < DD_COORDINATES; c++) {
        double q[DD_COORDINATES] = {0}, load[4][DD_COORDINATES], energy;
        for (int k = 0; k < 4; k++) {
            q[c] = h * steps[k];
            loads_at(m, s, q, load[k], &energy);
        }
        for (int r = 0; r < DD_COORDINATES; r++)
            by[r][c] = -(8 * (load[0][r] - load[1][r]) - (load[2][r] - load[3][r])) / (12 * h);
    }
}

/* K against differences of the loads, each entry by the size of its row and column: 1e-8, what differences of the loads give. */
static void stiffness_is_the_slope(void **state)
{
    (void)state;
    dd_study_model *m = model_of(1);
    dd_settle s;
    settle_at(m, DD_FRICTION_NONE, 0.3, &s);
    double K[DD_COORDINATES][DD_COORDINATES], by[DD_COORDINATES][DD_COORDINATES];
    dd_stiffness(m->workspace, K);
    slopes_at(m, &s, by);
    double worst = 0, skew = 0;
    for (int r = 0; r < DD_COORDINATES; r++)
        for (int c = 0; c < DD_COORDINATES; c++) {
            if (!moves(r) || !moves(c)) continue;
            double size = sqrt(fabs(K[r][r] * K[c][c])), off = fabs(by[r][c] - K[r][c]) / size;
            worst = fmax(worst, off);
            if (r >= FIRST && c >= FIRST) /* the rig's rolling along x has no potential */
                skew = fmax(skew, fabs(K[r][c] - K[c][r]) / size);
        }
    print_message("K against differences %.1e, skew part %.1e\n", worst, skew);
    assert_true(worst < 1e-8); /* formula: slopes by differences of fourth order */
    assert_true(skew < 1e-9);  /* closed form: a potential's second derivative */
    dd_settle_end(&s);
    dd_study_model_free(m);
}

/* The same of a rig off the ball, its bed tilted: reach and tilt are coordinates like the others. Not at an equilibrium: nothing need
   hold still for a slope. */
static void stiffness_with_reach_and_tilt(void **state)
{
    (void)state;
    dd_study_model *plain = model_of(1), *m = NULL;
    dd_settle s;
    dd_error error;
    dd_case *scenario = malloc(sizeof *scenario);
    assert_non_null(scenario);
    *scenario = plain->scenario;
    scenario->trailer.jockey.behind_coupling = 0.3;
    scenario->trailer.tilt.hinge_behind_coupling = scenario->trailer.axles[0].behind_coupling;
    assert_int_equal(dd_study_model_create(scenario, &m, &error), DD_OK);
    free(scenario);
    dd_study_model_free(plain);
    settle_at(m, DD_FRICTION_NONE, 0.3, &s);
    s.at.pose.rig[DD_RIG_REACH] = 0.4;
    s.at.pose.rig[DD_RIG_TILT] = 0.05;
    m->workspace->plan.set.uncoupled = m->workspace->plan.set.unlatched = 1;
    const dd_motion rest = {{0}, {0}};
    double *y = calloc((size_t)m->system->size, sizeof *y), worst = 0;
    double K[DD_COORDINATES][DD_COORDINATES], by[DD_COORDINATES][DD_COORDINATES];
    assert_non_null(y);
    dd_system_pack(m->system, &s.at.pose, &rest, s.memory, y);
    assert_int_equal(dd_system_evaluate(m->workspace, 0, y, DD_WANT_GRADIENT), 0);
    free(y);
    dd_stiffness(m->workspace, K);
    slopes_at(m, &s, by);
    for (int r = 0; r < DD_COORDINATES; r++)
        for (int c = 0; c < DD_COORDINATES; c++)
            worst = fmax(worst, fabs(by[r][c] - K[r][c]) / fmax(1e4, sqrt(fabs(K[r][r] * K[c][c]))));
    print_message("K against differences, off the ball and tilted: %.1e\n", worst);
    assert_true(worst < 1e-7); /* formula: slopes by differences of fourth order */
    dd_settle_end(&s);
    dd_study_model_free(m);
}

static void top_heavy_is_not_stable(void **state)
{
    (void)state;
    static const double heights[2] = {0.5, 2.2}; /* KM of this box is 0.15 + 1.6: stable and not */
    for (int i = 0; i < 2; i++) {
        whole w;
        dd_system *system;
        dd_workspace *workspace;
        dd_error error;
        dd_equilibrium found;
        static const char *const without[] = {"added mass", NULL};
        const double height = heights[i];
        whole_create(&w, box(0, 6, 2.4, 2.4, 0.3 * 6 * 2.4 * 1025, dd_vec(3, 0, height)), 0, 0);
        assert_int_equal(dd_system_create(&w.model, without, NULL, NULL, &system, &error), DD_OK);
        assert_int_equal(dd_workspace_create(system, &workspace, &error), DD_OK);
        dd_pose pose = {.attitude = {0, 0, 0, 1}};
        pose.position.z = w.model.water.level - 0.2;
        assert_int_equal(dd_equilibrium_find(workspace, 0, &pose, NULL, DD_FREE_HULL_UPRIGHT, &found, &error), DD_OK);
        /* KM = T / 2 + B^2 / (12 T), closed form, 1e-9 */
        double draught = 0.3 * 1025 / w.model.water.density, weight = dd_hull_mass(w.hull)->mass * DD_STANDARD_GRAVITY;
        double metacentric = draught / 2 + 2.4 * 2.4 / 12 / draught - height;
        CHECK_NEAR(found.roll_stiffness, weight * metacentric, 1e-9 * weight, "roll stiffness");
        assert_int_equal(found.stable, metacentric > 0);
        /* It is the heel alone that gives way, by that stiffness (closed form; heel does not couple with sinkage and trim). */
        CHECK_NEAR(fabs(found.gives_way[DD_HULL_COORDINATE + 3]), metacentric > 0 ? 0 : 1, 1e-12, "direction that gives way");
        if (!found.stable) CHECK_NEAR(found.smallest_stiffness, weight * metacentric, 1e-9 * weight, "smallest stiffness");
        dd_workspace_free(workspace);
        dd_system_free(system);
        whole_free(&w);
    }
}

/* --- a moving part in a force's memory ---------------------------------------------------------------------------- */

/* A massless slider under the hull's origin, its height its memory: a spring to the hull, a spring to the ground. */
static const double to_hull = 3e4, to_ground = 2e4, slowness = 100;

static void slider_evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                            dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)instance, (void)commands, (void)channels;
    const double theta = memory->value[0], z = k->origin.z;
    load->hull[2] = to_hull * (theta - z);
    memory->rate[0] = (to_hull * (z - theta) - to_ground * theta) / slowness;
    if (gradient == NULL) return;
    gradient->K[2][2] = to_hull; /* of a slider that stands still */
    memory->load_by_value[0][2] = to_hull;
    memory->rate_by_value[0] = -(to_hull + to_ground) / slowness;
    memory->rate_by_pose[0][2] = to_hull / slowness;
}

static void slider_rest(const void *instance, const dd_kinematics *k, const dd_commands *commands, double *memory)
{
    (void)instance, (void)commands;
    memory[0] = to_hull * k->origin.z / (to_hull + to_ground);
}

static int slider_follows(const void *instance, int index)
{
    (void)instance;
    return index == 0;
}

/* Two springs in a row carry what the water does not: z = (buoyancy's excess) / (rho g A + k), k = k1 k2 / (k1 + k2), and that sum is the
   stiffness (closed form, 1e-9). Held fixed the slider would count as k1. */
static void moving_part_is_condensed(void **state)
{
    (void)state;
    static const char *const without[] = {"added mass", NULL};
    static const dd_force_kind slider = {.name = "slider", .acts_on = DD_ACTS_ON_HULL, .evaluate = slider_evaluate,
                                         .rest = slider_rest, .follows = slider_follows};
    whole w;
    dd_system *system;
    dd_workspace *workspace;
    dd_error error;
    dd_equilibrium found;
    double K[DD_COORDINATES][DD_COORDINATES], memory[1] = {0};
    whole_create(&w, box(0, 6, 2.4, 2.4, 0.3 * 6 * 2.4 * 1025, dd_vec(3, 0, 0.5)), 0, 0);
    assert_int_equal(dd_system_create(&w.model, without, NULL, NULL, &system, &error), DD_OK);
    assert_int_equal(system->memory_count, 0);
    assert_true(system->force_count < dd_force_count());
    system->forces[system->force_count++] = (dd_system_force){.kind = &slider, .memory_count = 1, .parts = 1, .parts_end = 1, .block_first = -1, .unit_count = 1};
    system->memory_count = 1;
    system->size++;
    assert_int_equal(dd_workspace_create(system, &workspace, &error), DD_OK);
    const double area = 6 * 2.4 * w.model.water.density * DD_STANDARD_GRAVITY, row = to_hull * to_ground / (to_hull + to_ground),
                 floats = w.model.water.level - 0.3 * 1025 / w.model.water.density;
    dd_pose pose = {.attitude = {0, 0, 0, 1}};
    pose.position.z = floats + 0.05;
    assert_int_equal(dd_equilibrium_find(workspace, 0, &pose, memory, DD_FREE_HULL_SINKAGE, &found, &error), DD_OK);
    dd_stiffness(workspace, K);
    CHECK_NEAR(found.pose.position.z, area * floats / (area + row), 1e-9, "height");
    CHECK_NEAR(memory[0], to_hull * found.pose.position.z / (to_hull + to_ground), 1e-12, "slider");
    CHECK_NEAR(K[DD_HULL_COORDINATE + 2][DD_HULL_COORDINATE + 2], area + row, 1e-9 * area, "stiffness");
    dd_workspace_free(workspace);
    dd_system_free(system);
    whole_free(&w);
}

/* Unhooked on rollers without resistance on 1:8, dry: nothing holds it, and the message says what is short. */
static void loose_boat_is_refused(void **state)
{
    (void)state;
    dd_study_model *m = model_of(1);
    dd_settle s;
    dd_error error;
    settle_at(m, DD_FRICTION_NONE, -0.4, &s);
    m->workspace->plan.set.strap_hooked = 0;
    dd_equilibrium found;
    assert_int_equal(dd_equilibrium_find(m->workspace, 0, &s.at.pose, s.memory, DD_FREE_ALL, &found, &error),
                     DD_ERROR_NO_EQUILIBRIUM);
    assert_non_null(strstr(error.message, "short"));
    print_message("%s\n", error.message);
    dd_settle_end(&s);
    dd_study_model_free(m);
}

/* Wound in, the strap holds rolling resistance besides; let out, less by it. Sinking and rising, the side grip carries or hangs. */
static void friction_brackets(void **state)
{
    (void)state;
    double strap[DD_FRICTION_STATES], buoyancy[DD_FRICTION_STATES];
    for (int i = 0; i < DD_FRICTION_STATES; i++) {
        dd_study_model *m = model_of(0);
        dd_settle s;
        dd_seen seen;
        settle_at(m, (dd_friction_state)i, 0.3, &s);
        dd_seen_read(m, 1, &seen);
        strap[i] = seen.v[DD_SEEN_STRAP_TENSION];
        buoyancy[i] = seen.v[DD_SEEN_BUOYANCY];
        dd_settle_end(&s);
        dd_study_model_free(m);
    }
    print_message("strap: none %.1f N, wound in %.1f N, let out %.1f N\n", strap[0], strap[1], strap[2]);
    assert_true(strap[DD_FRICTION_LET_OUT] < strap[DD_FRICTION_NONE] && strap[DD_FRICTION_NONE] < strap[DD_FRICTION_WOUND_IN]);
    assert_true(buoyancy[DD_FRICTION_SINKING] < buoyancy[DD_FRICTION_NONE] &&
                buoyancy[DD_FRICTION_NONE] < buoyancy[DD_FRICTION_RISING]);
}

/* The outer roller of one side that carries most. */
static int most_loaded(const dd_study_model *m, int side)
{
    int found = -1;
    double most = 0;
    for (int i = 0; i < m->rig->roller_count; i++) {
        double load = m->workspace->channels[dd_system_channel(m->system, &dd_force_roller, i, "load_N")];
        if (m->rig->rollers[i].side == side && fabs(m->rig->rollers[i].centre.y) > 0.4 && load > most) most = load, found = i;
    }
    assert_true(found >= 0);
    return found;
}

/* A port roller set 10 mm high lifts the port side: heel (port down > 0) below 0, and the mirror of it on the other side. */
static void one_roller_high(void **state)
{
    (void)state;
    double heels[2], sways[2], place = NAN;
    for (int n = 0; n < 2; n++) {
        dd_study_model *m = model_of(1);
        dd_settle s;
        double trim, heading;
        settle_at(m, DD_FRICTION_NONE, -0.4, &s);
        dd_settle_end(&s);
        int raised = most_loaded(m, n == 0 ? 1 : -1);
        if (n == 0) place = m->rig->rollers[raised].centre.x;
        assert_true(m->rig->rollers[raised].centre.x == place); /* the mirrored one */
        m->rig->rollers[raised].centre.z += 0.01;
        settle_at(m, DD_FRICTION_NONE, -0.4, &s);
        dd_attitude(&m->workspace->kinematics, &heels[n], &trim, &heading);
        sways[n] = s.at.pose.position.y;
        assert_true(s.at.stable);
        dd_settle_end(&s);
        dd_study_model_free(m);
    }
    print_message("heel %.4f deg, to the side %.2f mm\n", heels[0] / DEGREE, 1000 * sways[0]);
    assert_true(heels[0] < -1e-4);
    CHECK_NEAR(heels[1], -heels[0], 1e-9, "mirrored heel"); /* closed form: mirror, by the imbalance left */
    CHECK_NEAR(sways[1], -sways[0], 1e-9, "mirrored sway");
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(symmetric_stays_upright), cmocka_unit_test(energy_is_least),
                                       cmocka_unit_test(statics_leave_out_nothing), cmocka_unit_test(stiffness_is_the_slope), cmocka_unit_test(stiffness_with_reach_and_tilt),  cmocka_unit_test(top_heavy_is_not_stable),
                                       cmocka_unit_test(loose_boat_is_refused),   cmocka_unit_test(friction_brackets),
                                       cmocka_unit_test(one_roller_high),
                                       cmocka_unit_test(moving_part_is_condensed)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
