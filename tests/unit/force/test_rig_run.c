/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rig alone in time: held by its brakes, driven at a speed, sliding where the friction is too low. */
#include "tests/unit/ode/checks.h"
#include "tests/unit/rig/rigs.h"
#include "lib/force/wheels.h"
#include "lib/motion/equilibrium.h"
#include "lib/motion/system.h"
#include "lib/ode/ode.h"
#include <stdlib.h>

enum { SIZE = 32 };

typedef struct rig_run {
    dd_model model;
    dd_ramp *ramp;
    dd_rig *rig;
    dd_system *system;
    dd_workspace *workspace;
    double y[SIZE], absolute[SIZE], relative[SIZE];
    dd_ode_problem problem;
    dd_ode *ode;
} rig_run;

static void open_run(rig_run *r, const dd_ramp_parameters *ramp, const dd_vehicle_parameters *v, const dd_trailer_parameters *t)
{
    dd_error error = {0};
    memset(r, 0, sizeof *r);
    r->ramp = test_ramp_of(ramp);
    r->rig = test_rig_of(v, t);
    r->model = (dd_model){.rig = r->rig, .ramp = r->ramp, .gravity = 9.80665};
    dd_water_defaults(&r->model.water);
    r->model.water.level = -50;
    CHECK_OK(dd_water_complete(&r->model.water, &error), &error);
    CHECK_OK(dd_system_create(&r->model, NULL, NULL, NULL, &r->system, &error), &error);
    CHECK_OK(dd_workspace_create(r->system, &r->workspace, &error), &error);
    assert_true(r->system->size <= SIZE);
}

static int wheels_memory(const rig_run *r) { return dd_system_find(r->system, &dd_force_wheels)->memory_first; }

/* At rest at x: heave and pitch in balance, the bristles wound up by the brake when it is on. */
static void start_at_rest(rig_run *r, double x)
{
    dd_error error = {0};
    double memory[SIZE] = {0}, pitch = dd_vehicle_on_profile(&r->rig->vehicle, r->ramp, x).pitch;
    dd_pose pose = {.rig = {x, 0, pitch}, .attitude = {0, 0, 0, 1}};
    dd_equilibrium e;
    CHECK_OK(dd_equilibrium_find(r->workspace, 0, &pose, memory, DD_FREE_RIG, &e, &error), &error);
    const dd_motion rest = {{0}, {0}};
    for (int i = 0; i < 3; i++) {
        dd_system_pack(r->system, &e.pose, &rest, memory, r->y);
        assert_int_equal(dd_system_evaluate(r->workspace, 0, r->y, DD_WANT_GRADIENT), 0);
        dd_wheels_hold(dd_system_find(r->system, &dd_force_wheels)->instance, &r->workspace->kinematics,
                       &r->workspace->commands, -r->workspace->rig_load[DD_RIG_X], memory + wheels_memory(r));
    }
    dd_system_pack(r->system, &e.pose, &rest, memory, r->y);
    dd_system_tolerances(r->system, 1e-5, r->absolute, r->relative);
    r->problem = (dd_ode_problem){.size = (size_t)r->system->size,
                                  .derivative = dd_system_derivative,
                                  .jacobian = dd_system_jacobian,
                                  .context = r->workspace,
                                  .relative_tolerance = 1e-5,
                                  .absolute = r->absolute,
                                  .relative = r->relative};
    CHECK_OK(dd_ode_create(&dd_stepper_bdf, &r->problem, &r->ode, &error), &error);
    CHECK_OK(dd_ode_start(r->ode, 0, r->y, 0, &error), &error);
}

static void run_until(rig_run *r, double t)
{
    dd_error error = {0};
    while (dd_ode_time(r->ode) < t) CHECK_OK(dd_ode_step(r->ode, t, &error), &error);
    memcpy(r->y, dd_ode_state(r->ode), (size_t)r->system->size * sizeof(double));
}

static void close_run(rig_run *r)
{
    dd_ode_free(r->ode);
    dd_workspace_free(r->workspace);
    dd_system_free(r->system);
    dd_rig_free(r->rig);
    dd_ramp_free(r->ramp);
}

/* Closed form: below the break-away share (needed 0.17 of 0.565, share 0.3) the bristle is elastic and nothing creeps; the
   issue asks for less than 1 mm in 10 minutes, elastic theory for none: 1e-6 m for the integrator's tolerance. */
static void test_braked_rig_does_not_creep(void **state)
{
    (void)state;
    dd_vehicle_parameters v = test_vehicle_parameters();
    dd_trailer_parameters t = test_trailer_parameters();
    dd_ramp_parameters p = test_ramp_parameters();
    rig_run r;
    open_run(&r, &p, &v, &t);
    r.workspace->plan.brake = (dd_ramped){1, 1, 0, 0};
    start_at_rest(&r, 12);
    run_until(&r, 600);
    CHECK_NEAR(r.y[DD_STATE_RIG + DD_RIG_X], 12, 1e-6);
    close_run(&r);
}

/* Without winding up first the rig sinks into its bristles by the elastic deflection needed / (stiffness x limit / reference)
   and stays: closed form z = T / (sum N m) 0.6 / 500, here within 5 % of the static part for what the swing yields. */
static void test_brake_takes_hold_within_a_millimetre(void **state)
{
    (void)state;
    dd_vehicle_parameters v = test_vehicle_parameters();
    dd_trailer_parameters t = test_trailer_parameters();
    dd_ramp_parameters p = test_ramp_parameters();
    rig_run r;
    open_run(&r, &p, &v, &t);
    r.workspace->plan.brake = (dd_ramped){1, 1, 0, 0};
    start_at_rest(&r, 12);
    double wound = r.y[DD_STATE_MEMORY + wheels_memory(&r) + DD_WHEELS_REAR];
    for (int i = DD_WHEELS_FRONT; i < DD_WHEELS_TRAILER + 2; i++) r.y[DD_STATE_MEMORY + wheels_memory(&r) + i] = 0;
    dd_error error = {0};
    CHECK_OK(dd_ode_start(r.ode, 0, r.y, 0, &error), &error);
    run_until(&r, 20);
    double slid = (r.y[DD_STATE_RIG + DD_RIG_X] - 12) * sqrt(1 + 1.0 / 64);
    CHECK_BETWEEN(wound, 1e-4, 6e-4);
    CHECK_NEAR(slid, wound, 0.05 * wound);
    CHECK_NEAR(r.y[DD_STATE_RIG_RATE + DD_RIG_X], 0, 1e-8);
    close_run(&r);
}

/* The driver holds his speed down the slab and then up it: no lasting error, closed form of the correction. 1 mm/s after
   15 s (over ten response times). */
static void test_driven_at_a_speed(void **state)
{
    (void)state;
    dd_vehicle_parameters v = test_vehicle_parameters();
    dd_trailer_parameters t = test_trailer_parameters();
    dd_ramp_parameters p = test_straight_ramp_parameters(0.125);
    for (int direction = -1; direction <= 1; direction += 2) {
        rig_run r;
        open_run(&r, &p, &v, &t);
        r.workspace->plan.brake = (dd_ramped){1, 0, 0, 1};
        r.workspace->plan.drive_speed = (dd_ramped){0, direction * 0.6, 0, 2};
        start_at_rest(&r, 12);
        run_until(&r, 15);
        double speed = r.y[DD_STATE_RIG_RATE + DD_RIG_X] * sqrt(1 + 1.0 / 64);
        CHECK_NEAR(speed, direction * 0.6, 1e-3);
        /* stop again and set the brake: stands */
        r.workspace->plan.brake = (dd_ramped){0, 1, 15, 2};
        r.workspace->plan.drive_speed = (dd_ramped){direction * 0.6, 0, 15, 2};
        dd_error error = {0};
        CHECK_OK(dd_ode_start(r.ode, 15, r.y, 0, &error), &error);
        run_until(&r, 20);
        double x = r.y[DD_STATE_RIG + DD_RIG_X];
        run_until(&r, 620);
        CHECK_NEAR(r.y[DD_STATE_RIG + DD_RIG_X], x, 1e-4);
        close_run(&r);
    }
}

/* Closed form: with friction 0.1 all round on 1:8 four braked wheels slide, and the rig gains
   a = g sin - (sum of limit x load) / mass along the slope; loads as the channels report. 0.5 % of g sin. */
static void test_slides_on_weed(void **state)
{
    (void)state;
    dd_vehicle_parameters v = test_vehicle_parameters();
    dd_trailer_parameters t = test_trailer_parameters();
    dd_ramp_parameters p = test_straight_ramp_parameters(0.125);
    p.surface_count = 1;
    p.surfaces[0] = (dd_surface){.name = "weed", .from = NAN, .to = NAN, .friction_low = 0.08, .friction_high = 0.08, .rolling_resistance = 0.01};
    rig_run r;
    open_run(&r, &p, &v, &t);
    r.workspace->plan.brake = (dd_ramped){1, 1, 0, 0};
    start_at_rest(&r, 12);
    run_until(&r, 3);
    double v1 = r.y[DD_STATE_RIG_RATE + DD_RIG_X];
    run_until(&r, 4);
    double v2 = r.y[DD_STATE_RIG_RATE + DD_RIG_X], c = 1 / sqrt(1 + 1.0 / 64), s = c / 8;
    assert_int_equal(dd_system_evaluate(r.workspace, 4, r.y, DD_WANT_CHANNELS), 0);
    double resistance = 0;
    for (int unit = 1; unit <= 4; unit++) {
        double load = r.workspace->channels[dd_system_channel(r.system, &dd_force_wheels, unit, "normal_load_N")];
        resistance += load * (unit <= 2 ? 0.09 : 0.01);
    }
    double expected = 9.80665 * s - resistance / (v.mass + t.mass);
    assert_true(expected > 0.2);
    CHECK_NEAR((v2 - v1) / c, expected, 0.005 * 9.80665 * s);
    close_run(&r);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_braked_rig_does_not_creep),
        cmocka_unit_test(test_brake_takes_hold_within_a_millimetre),
        cmocka_unit_test(test_driven_at_a_speed),
        cmocka_unit_test(test_slides_on_weed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
