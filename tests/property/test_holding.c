/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A boat held on the ramp stays; unhooked it stays or runs as its rollers' resistance says. */
#include "tests/property/scenarios.h"
#include "lib/crew/steps.h"

static dd_case *waiting(double rolling_resistance, int unhook, double time)
{
    dd_case *scenario = scenario_read("launch", NULL);
    dd_step off = {.kind = DD_STEP_STRAP_OFF, .time_limit = 10}, wait = {.kind = DD_STEP_WAIT, .time_limit = 2 * time};
    dd_key_clear(dd_until_keys, &off.until);
    wait.until = off.until;
    wait.until.after = time;
    scenario->step_count = 0;
    if (unhook) scenario->steps[scenario->step_count++] = off;
    scenario->steps[scenario->step_count++] = wait;
    scenario->time_limit = 2 * time;
    for (int i = 0; i < scenario->trailer.support_count && !isnan(rolling_resistance); i++)
        scenario->trailer.supports[i].rolling_resistance = rolling_resistance;
    return scenario;
}

static dd_run_view view_of(const dd_run *run)
{
    dd_run_view view;
    dd_run_state(run, &view);
    return view;
}

/* Largest distance of hull and rig between a time and the end. */
static double creep_after(dd_run *run, double from)
{
    double most = 0;
    MUST(run_until(run, from, error));
    const dd_run_view start = view_of(run);
    while (!run_finished(run)) {
        MUST(dd_run_step(run, error));
        const dd_run_view now = view_of(run);
        most = fmax(most, dd_norm(dd_sub(now.hull_in_trailer, start.hull_in_trailer)) + fabs(now.rig_x - start.rig_x));
    }
    return most;
}

/* Strapped and braked on 1:8: less than 1 mm in 10 minutes (the issue's), held to a tenth of it here: by elastic theory there is none,
   but wound in by hand its rollers stand at their limit, where each tolerance's worth of noise (1e-6 m) may nudge them. */
static void held_boat_stays(void **state)
{
    (void)state;
    dd_case *scenario = waiting(NAN, 0, 600);
    dd_run *run = NULL;
    MUST(dd_run_create(scenario, &run, error));
    const double creep = creep_after(run, 0);
    print_message("held boat: %.2e mm in %.0f s, %ld steps\n", 1000 * creep, dd_ode_time(run->ode),
                  dd_ode_statistics_of(run->ode)->steps);
    assert_true(dd_ode_time(run->ode) > 599);
    NEAR(creep, 0, 1e-4, "creep");
    dd_run_free(run);
    free(scenario);
}

/* Unhooked on 1:8 = 0.124 of the weight along the ramp: rollers of 0.15 hold it for 10 minutes under 1 mm (the issue's), once it has
   sprung back from strap and stop (10 s; that is their elastic way and no creep). */
static void unhooked_boat_stays_on_stiff_rollers(void **state)
{
    (void)state;
    dd_case *scenario = waiting(0.15, 1, 600);
    dd_run *run = NULL;
    MUST(dd_run_create(scenario, &run, error));
    const dd_run_view home = view_of(run);
    const double creep = creep_after(run, 10);
    const dd_run_view end = view_of(run);
    print_message("unhooked on 0.15: springs back %.1f mm, then creeps %.2e mm in %.0f s\n",
                  1000 * dd_norm(dd_sub(end.hull_in_trailer, home.hull_in_trailer)), 1000 * creep, dd_ode_time(run->ode) - 10);
    assert_true(dd_ode_time(run->ode) > 599);
    assert_true(end.strap_tension == 0);
    NEAR(creep, 0, 1e-3, "creep");
    dd_run_free(run);
    free(scenario);
}

/* On rollers of 0.05 it runs, as a body on an inclined plane: a = g (sin - 0.05 cos / cos(deadrise)) along the keel of a straight V, whose
   rollers carry W cos / cos(deadrise) (closed form). 2 %: trailer and tyres give a little as the load moves. */
static void unhooked_boat_runs_on_easy_rollers(void **state)
{
    (void)state;
    const double deadrise = 18 * M_PI / 180;
    dd_case *scenario = waiting(0.05, 1, 6);
    scenario->water.level = -3; /* dry all the way */
    scenario->start.hub_depth = -4.5;
    make_prismatic(scenario, deadrise);
    dd_run *run = NULL;
    MUST(dd_run_create(scenario, &run, error));
    double t[2] = {0}, x[2] = {0}, trim = 0, v = 0, v1 = 0;
    const dd_run_view home = view_of(run);
    for (int i = 0; i < 2; i++) {
        MUST(run_until(run, 0.6 + 0.4 * i, error));
        const dd_run_view now = view_of(run);
        t[i] = dd_ode_time(run->ode);
        x[i] = now.hull_in_trailer.x - home.hull_in_trailer.x;
        trim += 0.5 * now.trim;
        v1 = v;
        v = -run->m->workspace->kinematics.relative_twist[0];
    }
    const double expected = 9.80665 * (sin(-trim) - 0.05 * cos(trim) / cos(deadrise));
    const double measured = (v - v1) / (t[1] - t[0]);
    print_message("unhooked on 0.05: %.2f m after %.1f s, %.3f m/s2, expected %.3f (bow up %.2f deg)\n", x[1], t[1], measured,
                  expected, -trim * 180 / M_PI);
    assert_true(x[1] > 0.2 && x[1] < 0.6); /* the centre is still between the cradles */
    NEAR(measured, expected, 0.02 * expected, "acceleration");
    dd_run_free(run);
    free(scenario);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(held_boat_stays),
        cmocka_unit_test(unhooked_boat_stays_on_stiff_rollers),
        cmocka_unit_test(unhooked_boat_runs_on_easy_rollers),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
