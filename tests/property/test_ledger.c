/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The ledger closes where the path obeys the equations of motion, and only there. */
#include "lib/study/observe.h"
#include "tests/property/scenarios.h"

static double residual_of(const dd_run *run)
{
    dd_ledger_balance b = dd_ledger_balance_of(run->ledger);
    return fmax(b.energy_residual, b.momentum_residual);
}

/* Within the bound that the run itself checks, at `fine` (cli/cases.py: at the default, for each scenario shipped). Grade: closed form
   (Newton, and work and energy; the right residual is 0). */
static void shipped_scenarios_close(void **state)
{
    (void)state;
    for (int i = 0; i < 6; i++) {
        const char *name = i < 4 ? shipped_scenarios[i] : richest_scenarios[i - 4];
        dd_case *scenario = scenario_read(name, NULL);
        scenario->tolerance = DD_TOLERANCE_FINE;
        dd_run *run = NULL;
        MUST(dd_run_create(scenario, &run, error));
        MUST(run_until(run, scenario->time_limit, error));
        dd_ledger_balance b = dd_ledger_balance_of(run->ledger);
        print_message("%-22s energy %.1e of %.0f J, momentum %.1e; bound %.1e\n", name, b.energy_residual,
                      b.energy_exchanged, b.momentum_residual, run->ledger_bound);
        assert_true(run_finished(run) && run->procedure.state == DD_PROCEDURE_DONE);
        assert_true(b.energy_exchanged > 1e4);
        assert_true(residual_of(run) <= run->ledger_bound);
        dd_run_free(run);
        free(scenario);
    }
}

/* The same in water that moves and a wind: waves, wash, a tide and an uneven stream work on the hull (the P239: half afloat
   in waves of 0.2 m, the rear support is loaded and unloaded by more than a tenth of the boat's weight). */
static void moving_water_closes(void **state)
{
    (void)state;
    const char *overrides[] = {"water.wave={height: 0.2 m, period: 4 s, reflection: 0.3}", "water.surge={height: 50 mm, period: 7 s}",
                               "water.rise=1 mm/s", "water.current=0.4 m/s", "water.current exponent=0.14", "water.current full beyond=20 m",
                               "water.wind={speed: 6 m/s, toward: 57 deg}", "start.hub depth=250 mm",
                               "procedure=[{wait: {until: {after: 60 s}}}]", NULL};
    dd_case *scenario = scenario_read("launch", overrides);
    dd_run *run = NULL;
    MUST(dd_run_create(scenario, &run, error));
    double lowest = INFINITY, highest = 0;
    for (double t = 8; t < 20; t += 0.25) {
        MUST(run_until(run, t, error));
        dd_seen seen;
        assert_int_equal(dd_system_evaluate(run->m->workspace, dd_ode_time(run->ode), dd_ode_state(run->ode), DD_WANT_CHANNELS), 0);
        dd_seen_read(run->m, 0, &seen);
        lowest = fmin(lowest, seen.v[DD_SEEN_REAR_LOAD]);
        highest = fmax(highest, seen.v[DD_SEEN_REAR_LOAD]);
    }
    const double weight = dd_hull_mass(run->m->hull)->mass * run->m->model.gravity;
    dd_ledger_balance b = dd_ledger_balance_of(run->ledger);
    print_message("moving water           energy %.1e of %.0f J, momentum %.1e; bound %.1e; rear support %.0f to %.0f N\n", b.energy_residual,
                  b.energy_exchanged, b.momentum_residual, run->ledger_bound, lowest, highest);
    assert_true(residual_of(run) <= run->ledger_bound && b.energy_exchanged > 100);
    assert_true(highest - lowest > 0.1 * weight);
    dd_run_free(run);
    free(scenario);
}

/* The residual falls with the tolerance, by at least 1000 over six decades (closed form: the exact path's is 0). */
static void residual_falls_with_the_tolerance(void **state)
{
    (void)state;
    dd_case *scenario = scenario_read("launch", NULL);
    double residual[4];
    for (int i = 0; i < 4; i++) {
        dd_run *run = NULL;
        MUST(dd_run_create_with(scenario, NULL, pow(10, -4 - 2 * i), &run, error));
        run->ledger_bound = INFINITY;
        MUST(run_until(run, 12, error));
        residual[i] = residual_of(run);
        print_message("launch, 12 s at 1e-%02d: residual %.2e\n", 4 + 2 * i, residual[i]);
        assert_true(i == 0 || residual[i] < 0.5 * residual[i - 1]);
        dd_run_free(run);
    }
    assert_true(residual[3] < 1e-3 * residual[0]);
    free(scenario);
}

/* An integrator whose right-hand side has an acceleration that no force causes. */
static dd_ode_problem honest, falsified;
static double spurious;

static int false_derivative(double t, const double *y, double *dydt, void *context)
{
    int refused = honest.derivative(t, y, dydt, context);
    dydt[DD_STATE_TWIST + 1] += spurious;
    return refused;
}

static dd_status false_create(const dd_ode_problem *problem, void **state, dd_error *error)
{
    honest = falsified = *problem;
    falsified.derivative = false_derivative;
    return dd_stepper_bdf.create(&falsified, state, error);
}

/* 0.1 m/s2 across, a hundredth of gravity, that no force of the model gives: the run ends with the ledger's error. */
static void a_false_path_is_found(void **state)
{
    (void)state;
    dd_case *scenario = scenario_read("launch", NULL);
    dd_stepper stepper = dd_stepper_bdf;
    stepper.create = false_create;
    for (int wrong = 0; wrong < 2; wrong++) {
        dd_run *run = NULL;
        dd_error failure = {.status = DD_OK};
        spurious = wrong ? 0.1 : 0.0;
        MUST(dd_run_create_with(scenario, &stepper, 0, &run, error));
        dd_status status = run_until(run, scenario->time_limit, &failure);
        if (wrong) print_message("%s\n", failure.message);
        assert_int_equal(status, wrong ? DD_ERROR_LEDGER : DD_OK);
        assert_int_equal(failure.status, status);
        dd_run_free(run);
    }
    free(scenario);
}

/* A force built outside the tree that tells the ledger another load than it gives the integrator: 1 % of the weight. */
static double lie;

static void lying_evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                           dd_load *load, dd_gradient *gradient, double *channels)
{
    dd_force_hull_weight.evaluate(instance, k, commands, memory, load, gradient, channels);
    for (int i = 0; i < 6 && channels != NULL; i++) load->hull[i] *= 1 + lie;
}

static void a_lying_force_is_found(void **state)
{
    (void)state;
    dd_case *scenario = scenario_read("launch", NULL);
    dd_force_kind liar = dd_force_hull_weight;
    liar.evaluate = lying_evaluate;
    for (int lies = 0; lies < 2; lies++) {
        dd_run *run = NULL;
        dd_error failure = {.status = DD_OK};
        lie = lies ? 0.01 : 0.0;
        MUST(dd_run_create(scenario, &run, error));
        for (int f = 0; f < run->m->system->force_count; f++)
            if (run->m->system->forces[f].kind == &dd_force_hull_weight) run->m->system->forces[f].kind = &liar;
        dd_status status = run_until(run, scenario->time_limit, &failure);
        if (lies) print_message("%s\n", failure.message);
        assert_int_equal(status, lies ? DD_ERROR_LEDGER : DD_OK);
        dd_run_free(run);
    }
    free(scenario);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(shipped_scenarios_close), cmocka_unit_test(moving_water_closes),
        cmocka_unit_test(residual_falls_with_the_tolerance),
        cmocka_unit_test(a_false_path_is_found),
        cmocka_unit_test(a_lying_force_is_found),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
