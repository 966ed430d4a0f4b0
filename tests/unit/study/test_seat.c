/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The report of seat on shipped rigs: its convex model against the run's own equilibrium, and what follows from a change. */
#include "lib/force/roller.h"
#include "lib/study/seat.h"
#include "tests/unit/study/reports.h"

static const char *const rigs[] = {"scenarios/on-the-road.yaml", "scenarios/launch.yaml", "scenarios/rigs/five-skid-launch.yaml",
                                   "scenarios/rigs/seven-multi-roller-launch.yaml", "scenarios/rigs/six-keel-roller-launch.yaml"};

/* Loads of the run's equilibrium at home by support: sums of the rollers' channel. */
static void home_loads(const dd_study_model *m, double *loads)
{
    for (int k = 0; k < m->rig->trailer.support_count; k++) loads[k] = 0;
    const int first = dd_system_channel(m->system, &dd_force_roller, 0, "load_N");
    const int second = m->rig->roller_count > 1 ? dd_system_channel(m->system, &dd_force_roller, 1, "load_N") : first;
    assert_true(first >= 0);
    for (int i = 0; i < m->rig->roller_count; i++) loads[m->rig->rollers[i].support] += m->workspace->channels[first + i * (second - first)];
}

/* The convex model rigid and with the run's own law is the run's equilibrium: what is left is where a roller's two panels or a
   cover's edge share its squash. Tolerance 1 % of the weight for each support; grade: the program's other path. */
static void it_is_the_runs_own_equilibrium(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof rigs / sizeof rigs[0]; i++) {
        dd_case_file *file = scenario_with(rigs[i], NULL);
        dd_study_model *m;
        dd_equilibrium home = {0};
        dd_seat s = {.scenario = dd_case_of(file), .gravity = dd_case_of(file)->gravity};
        assert_int_equal(dd_yard_create(s.scenario, 0, &m, NULL), DD_OK);
        assert_int_equal(dd_study_home(m, 0, DD_FRICTION_NONE, m->memory, &home, NULL), DD_OK);
        s.m = m;
        const double weight = dd_hull_mass(m->hull)->mass * s.gravity;
        s.placement = (dd_placement){.origin = home.pose.position, .to_trailer = dd_rotation_of(home.pose.attitude)};
        assert_int_equal(dd_seat_model_create(m, &home, 0, &s.model, NULL), DD_OK);
        double by_run[DD_SUPPORTS], here[DD_SUPPORTS];
        home_loads(m, by_run);
        /* The rig itself pitches a little on its springs: the weight's direction is the run's. */
        const dd_vec3 down = dd_scale(-s.gravity, m->workspace->kinematics.up);
        dd_seat_solution *solution = malloc(sizeof *solution);
        assert_int_equal(dd_seat_solve(&s.model, down, NULL, NULL, solution, NULL), DD_OK);
        dd_seat_by_support(&s, solution, here, NULL, NULL);
        for (int k = 0; k < s.scenario->trailer.support_count; k++) {
            if (fabs(here[k] - by_run[k]) > 0.01 * weight)
                fail_msg("%s, %s: %.1f N here, %.1f N in the run's equilibrium", rigs[i], s.scenario->trailer.supports[k].name, here[k], by_run[k]);
        }
        for (int d = 0; d < 3; d++) assert_true(fabs(solution->displacement[d]) < 0.002);
        free(solution);
        dd_study_model_free(m);
        dd_case_free(file);
    }
}

/* The loads' upright parts and the strap and stop hold the weight: checked through the closure, 1e-8 of it; the worst of the
   tolerance is never below the likely load. Closed form. */
static void worst_is_not_below_likely(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof rigs / sizeof rigs[0]; i++) {
        dd_case_file *file = scenario_with(rigs[i], NULL);
        dd_report *report;
        assert_int_equal(dd_study_seat(dd_case_of(file), &report, NULL), DD_OK);
        const dd_report_table *t = table_named(report, "supports");
        assert_true(t->row_count >= 2);
        for (int r = 0; r < t->row_count; r++) {
            const double one = t->cells[r * t->column_count + 4].value, worst = t->cells[r * t->column_count + 5].value;
            assert_true(isnan(one) || worst >= one);
        }
        dd_report_free(report);
        dd_case_free(file);
    }
}

/* One support gone: somebody else bears more (practice P152); a support 10 mm high bears more, 10 mm low less (P293, P320). Grade
   practice. */
static void neighbours_take_it(void **state)
{
    (void)state;
    dd_case_file *file = scenario_with("scenarios/rigs/six-keel-roller-launch.yaml", NULL);
    dd_report *report;
    assert_int_equal(dd_study_seat(dd_case_of(file), &report, NULL), DD_OK);
    const dd_report_table *t = table_named(report, "what_if");
    int seen = 0;
    for (int r = 0; r < t->row_count; r++) {
        const dd_report_cell *row = &t->cells[r * t->column_count];
        if (row[1].value < 0.1 || isnan(row[2].value)) continue; /* it bore nothing, or the hull falls */
        seen++;
        if (strstr(row[0].text, "gone")) assert_true(row[2].value == 0 && row[5].value > row[4].value);
        if (strstr(row[0].text, "high")) assert_true(row[2].value > row[1].value);
        if (strstr(row[0].text, "low")) assert_true(row[2].value < row[1].value);
    }
    assert_true(seen >= 6);
    dd_report_free(report);
    dd_case_free(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(it_is_the_runs_own_equilibrium), cmocka_unit_test(worst_is_not_below_likely),
                                       cmocka_unit_test(neighbours_take_it)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
