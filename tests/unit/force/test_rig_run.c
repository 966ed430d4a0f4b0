/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rig alone in time: held by its brakes, driven at a speed, sliding where the friction is too low. */
#include "tests/unit/ode/checks.h"
#include "tests/unit/rig/rigs.h"
#include "lib/force/soil.h"
#include "lib/force/wheels.h"
#include "lib/motion/equilibrium.h"
#include "lib/motion/system.h"
#include "lib/ode/ode.h"
#include <stdlib.h>

enum { SIZE = 64 };

typedef struct rig_run {
    dd_model model;
    dd_ramp *ramp;
    dd_rig *rig;
    dd_system *system;
    dd_workspace *workspace;
    double y[SIZE], absolute[SIZE], relative[SIZE];
    const dd_wheels_parameters *wheels; /* NULL: defaults */
    double level;                      /* of the water; 0: far below */
    dd_ode_problem problem;
    dd_ode *ode;
} rig_run;

static const void *parameters_of(const void *context, int index)
{
    return dd_force_at(index) == &dd_force_wheels ? ((const rig_run *)context)->wheels : NULL;
}

/* r: zero but for wheels and level. */
static void open_with(rig_run *r, const dd_ramp_parameters *ramp, const dd_vehicle_parameters *v, const dd_trailer_parameters *t)
{
    dd_error error = {0};
    r->ramp = test_ramp_of(ramp);
    r->rig = test_rig_of(v, t);
    r->model = (dd_model){.rig = r->rig, .ramp = r->ramp, .gravity = 9.80665};
    dd_water_defaults(&r->model.water);
    r->model.water.level = r->level != 0 ? r->level : -50;
    CHECK_OK(dd_water_complete(&r->model.water, &error), &error);
    CHECK_OK(dd_system_create(&r->model, NULL, parameters_of, r, &r->system, &error), &error);
    CHECK_OK(dd_workspace_create(r->system, &r->workspace, &error), &error);
    assert_true(r->system->size <= SIZE);
}

static void open_run(rig_run *r, const dd_ramp_parameters *ramp, const dd_vehicle_parameters *v, const dd_trailer_parameters *t)
{
    memset(r, 0, sizeof *r);
    open_with(r, ramp, v, t);
}

static double channel(const rig_run *r, const dd_force_kind *kind, int unit, const char *name)
{
    assert_int_equal(dd_system_evaluate(r->workspace, dd_ode_time(r->ode), r->y, DD_WANT_CHANNELS), 0);
    return r->workspace->channels[dd_system_channel(r->system, kind, unit, name)];
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
    r.workspace->plan.brake = (dd_ramped){.from = 1, .to = 1, .start = 0, .duration = 0};
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
    r.workspace->plan.brake = (dd_ramped){.from = 1, .to = 1, .start = 0, .duration = 0};
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
        r.workspace->plan.brake = (dd_ramped){.from = 1, .to = 0, .start = 0, .duration = 1};
        r.workspace->plan.drive_speed = (dd_ramped){.from = 0, .to = direction * 0.6, .start = 0, .duration = 2};
        start_at_rest(&r, 12);
        run_until(&r, 15);
        double speed = r.y[DD_STATE_RIG_RATE + DD_RIG_X] * sqrt(1 + 1.0 / 64);
        CHECK_NEAR(speed, direction * 0.6, 1e-3);
        /* stop again and set the brake: stands */
        r.workspace->plan.brake = (dd_ramped){.from = 0, .to = 1, .start = 15, .duration = 2};
        r.workspace->plan.drive_speed = (dd_ramped){.from = direction * 0.6, .to = 0, .start = 15, .duration = 2};
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
    r.workspace->plan.brake = (dd_ramped){.from = 1, .to = 1, .start = 0, .duration = 0};
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

static dd_surface surface_of(double from, double to, double friction, double rolling_resistance)
{
    return (dd_surface){.from = from,
                        .to = to,
                        .friction_low = friction,
                        .friction_high = friction,
                        .wet_friction_low = NAN,
                        .wet_friction_high = NAN,
                        .rolling_resistance = rolling_resistance};
}

/* Sliding, and holding again: locked by its rear axle on a band of weed the rig slides; once that axle stands on clean concrete
   beyond, it stops. Closed form between: a = g sin - (rear load x limit + the others' rolling) / mass, loads as the channels say;
   1 % of g sin. With the pedal on all wheels, the front ones on concrete, it does not slide at all: 1e-6 m. */
static void test_slides_until_grip_returns(void **state)
{
    (void)state;
    for (int pedal = 0; pedal < 2; pedal++) {
        dd_vehicle_parameters v = test_vehicle_parameters();
        dd_trailer_parameters t = test_trailer_parameters();
        dd_ramp_parameters p = test_straight_ramp_parameters(0.125);
        p.surface_count = 2;
        p.surfaces[0] = surface_of(11, 13.5, 0.08, 0.01);
        p.surfaces[1] = surface_of(13.5, NAN, 0.55, 0.01);
        rig_run r;
        open_run(&r, &p, &v, &t);
        if (pedal)
            r.workspace->plan.brake = (dd_ramped){.from = 1, .to = 1, .start = 0, .duration = 0};
        else
            r.workspace->plan.park_lock = (dd_ramped){.from = 1, .to = 1, .start = 0, .duration = 0};
        start_at_rest(&r, 12);
        const double c = 1 / sqrt(1 + 1.0 / 64), s = c / 8;
        if (!pedal) {
            run_until(&r, 0.6);
            double before = r.y[DD_STATE_RIG_RATE + DD_RIG_X], resistance = 0;
            assert_true(channel(&r, &dd_force_wheels, 0, "friction_needed_park_lock") > 0.08);
            for (int unit = 1; unit <= 4; unit++)
                resistance += channel(&r, &dd_force_wheels, unit, "normal_load_N") * (unit == 2 ? 0.09 : unit == 1 ? 0.015 : 0.01);
            run_until(&r, 0.9);
            double expected = 9.80665 * s - resistance / (v.mass + t.mass);
            assert_true(expected > 0.5);
            CHECK_NEAR((r.y[DD_STATE_RIG_RATE + DD_RIG_X] - before) / c / 0.3, expected, 0.01 * 9.80665 * s);
        }
        run_until(&r, 20);
        double x = r.y[DD_STATE_RIG + DD_RIG_X];
        run_until(&r, 60);
        CHECK_NEAR(r.y[DD_STATE_RIG + DD_RIG_X], x, 1e-6);
        if (pedal)
            CHECK_NEAR(x, 12, 1e-6);
        else
            CHECK_BETWEEN(x, 13.4, 16); /* the axle on concrete, and what braking takes */
        close_run(&r);
    }
}

/* Chocks alone hold the rig (needed about 0.18 of 0.44), and let it go up the ramp. */
static void test_chocks_hold_one_way(void **state)
{
    (void)state;
    dd_vehicle_parameters v = test_vehicle_parameters();
    dd_trailer_parameters t = test_trailer_parameters();
    dd_ramp_parameters p = test_straight_ramp_parameters(0.125);
    rig_run r;
    open_run(&r, &p, &v, &t);
    r.workspace->plan.set.vehicle_chocked = 1;
    /* nobody at the wheel: no thrust, no lock worth its name */
    r.workspace->plan.park_lock = (dd_ramped){.from = 1e-9, .to = 1e-9, .start = 0, .duration = 0};
    r.workspace->plan.drive_speed = (dd_ramped){.from = 0, .to = 0, .start = 0, .duration = 0};
    start_at_rest(&r, 12);
    run_until(&r, 60);
    CHECK_NEAR(r.y[DD_STATE_RIG + DD_RIG_X], 12, 1e-3);
    r.workspace->plan.drive_speed = (dd_ramped){.from = 0, .to = -0.5, .start = 60, .duration = 2};
    dd_error error = {0};
    CHECK_OK(dd_ode_start(r.ode, 60, r.y, 0, &error), &error);
    run_until(&r, 70);
    CHECK_NEAR(r.y[DD_STATE_RIG_RATE + DD_RIG_X] * sqrt(1 + 1.0 / 64), -0.5, 2e-3);
    close_run(&r);
}

/* How far up the ramp a rig gets in 20 s that shall drive at 0.5 m/s, m; slip: the largest after the start. */
static double pulled_out(int drive, double friction, double spinning_share, double *slip)
{
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    reference_rig(&v, &t);
    v.rear_suspension_squash = t.spring_squash = 0.02;
    v.drive = drive;
    dd_ramp_parameters p = test_straight_ramp_parameters(0.15);
    p.surface_count = 1;
    p.surfaces[0] = surface_of(NAN, NAN, friction, 0);
    const dd_wheels_parameters wheels = {{500, 20, 0.7, 0}, 0.3, 1.2, spinning_share, 0.8};
    rig_run r = {.wheels = &wheels};
    open_with(&r, &p, &v, &t);
    r.workspace->plan.brake = (dd_ramped){.from = 1, .to = 0, .start = 1, .duration = 2};
    r.workspace->plan.drive_speed = (dd_ramped){.from = 0, .to = -0.5, .start = 1, .duration = 4};
    start_at_rest(&r, 12);
    *slip = 0;
    for (double time = 1; time <= 20; time += 0.5) {
        run_until(&r, time);
        if (time > 4) *slip = fmax(*slip, channel(&r, &dd_force_wheels, 0, "wheel_slip"));
    }
    double way = 12 - r.y[DD_STATE_RIG + DD_RIG_X];
    close_run(&r);
    return way;
}

/* Road reference F05 (with C10: friction needed on 15 % 0.591, 0.476, 0.264 by front, rear and four wheels): on wet concrete of
   0.60 front-wheel drive just climbs (with the grip of the row's statics: spinning costs nothing); on 0.35 only four wheels do; on 0.20
   none. A pull-out that fails shows as slip. */
static void test_pull_out_by_drive(void **state)
{
    (void)state;
    double slip;
    assert_true(pulled_out(0, 0.60, 1, &slip) > 1);
    assert_true(pulled_out(1, 0.60, 0.8, &slip) > 5);
    CHECK_NEAR(slip, 0, 1e-12);
    for (int drive = 0; drive < 2; drive++) {
        assert_true(pulled_out(drive, 0.35, 0.8, &slip) < 0);
        assert_true(slip > 0.3);
    }
    assert_true(pulled_out(2, 0.35, 0.8, &slip) > 5);
    for (int drive = 0; drive < 3; drive++) {
        assert_true(pulled_out(drive, 0.20, 0.8, &slip) < 0);
        assert_true(slip > 0.3);
    }
}

/* Soft sand in the wash. Closed forms: a wheel that bore N/2 at most stands b N/2 deep at once and sinks on as most (1 - exp(-c I / (2 most)))
   (most: half its radius; b, c the ground's figures per load; I the load's sum over time, which shifts between the axles of a
   trailer as they sink); the resistance of an axle is N (rolling + sqrt(z / 2R + e^2) - e). */
static void test_sinks_while_it_stands(void **state)
{
    (void)state;
    double way[2];
    for (int wait = 0; wait < 2; wait++) {
        dd_vehicle_parameters v = test_vehicle_parameters();
        dd_trailer_parameters t = test_trailer_parameters();
        v.drive = 2;
        t.mass = 900;
        dd_ramp_parameters p = test_straight_ramp_parameters(1.0 / 14);
        p.wash_margin = 3;
        p.surface_count = 1;
        p.surfaces[0] = surface_of(NAN, NAN, 0.45, 0.03);
        p.surfaces[0].sinkage = 0.004;
        p.surfaces[0].sinkage_rate = 0.0004;
        rig_run r = {.level = -1.5};
        open_with(&r, &p, &v, &t);
        double start = wait ? 120 : 1;
        r.workspace->plan.brake = (dd_ramped){.from = 1, .to = 0, .start = start, .duration = 1};
        r.workspace->plan.drive_speed = (dd_ramped){.from = 0, .to = -0.5, .start = start, .duration = 3};
        start_at_rest(&r, 12);
        double borne[4] = {0}, before[4] = {0}, heaviest[4] = {0};
        for (int i = 0; i <= 120; i++) { /* trapezia, 1 s or 1/120 s each */
            if (i > 0) run_until(&r, start * i / 120);
            for (int a = 0; a < 4; a++) {
                const double load = channel(&r, &dd_force_wheels, 1 + a, "normal_load_N");
                if (i > 0) borne[a] += 0.5 * (before[a] + load) * start / 120;
                before[a] = load;
                heaviest[a] = fmax(heaviest[a], load);
            }
        }
        for (int a = 0; a < 4; a++) {
            double radius = a < 2 ? v.tyre_radius : t.tyre_radius, load = channel(&r, &dd_force_wheels, 1 + a, "normal_load_N"),
                   force = channel(&r, &dd_force_wheels, 1 + a, "longitudinal_force_N"), most = 0.5 * radius,
                   depth = channel(&r, &dd_force_wheels, 1 + a, "sinkage_m"), value = r.y[DD_STATE_MEMORY + wheels_memory(&r) + 1 + a];
            /* a load that falls leaves the wheel in its rut, which is rounded over 50 N; else 1e-3 */
            CHECK_NEAR(depth, 0.004 / 5000 * heaviest[a] / 2 + most * (1 - exp(-0.0004 / 5000 * borne[a] / 2 / most)),
                       1e-3 * depth + DD_SOIL_ROUNDING * 0.004 / 5000 / 2);
            double limit = 0.03 + sqrt(depth / (2 * radius) + 1e-4) - 0.01 + (a < 2 ? 0.45 : 0);
            CHECK_NEAR(force, -load * limit * 500 * value / 0.6, 1e-3 * fabs(force) + 1e-4 * load); /* it gives way a little as it sinks */
        }
        run_until(&r, start + 20);
        way[wait] = 12 - r.y[DD_STATE_RIG + DD_RIG_X];
        close_run(&r);
    }
    assert_true(way[0] > 5);
    assert_true(way[1] < 0.1);
}

/* P198, P205: the trailer's wheels beyond a slab's edge, over ground 0.9 m lower: they hang, and the frame lies on the edge.
   Closed form: at rest the ground's load on the frame, with the coupling's, carries the trailer's weight: 1 N. Pulling out then
   drags the frame over the edge: its friction, 0.5 of its load, comes on top. */
static void test_frame_lies_on_the_edge(void **state)
{
    (void)state;
    dd_vehicle_parameters v = test_vehicle_parameters();
    dd_trailer_parameters t = test_trailer_parameters();
    t.frame_clearance = 0.35;
    dd_ramp_parameters p = test_straight_ramp_parameters(0.1);
    p.point_count = 4;
    p.points[1].x = 15.9;
    p.points[1].z = -1.59;
    p.points[2].x = 16.5;
    p.points[2].z = -2.55;
    p.points[3].x = 40;
    p.points[3].z = -4.9;
    p.point_curve = 0.4;
    rig_run r;
    open_run(&r, &p, &v, &t);
    /* backs down from where all wheels stand until the axles hang */
    r.workspace->plan.brake = (dd_ramped){.from = 1, .to = 0, .start = 0, .duration = 1};
    r.workspace->plan.drive_speed = (dd_ramped){.from = 0, .to = 0.3, .start = 0, .duration = 2};
    start_at_rest(&r, 9.5);
    while (r.y[DD_STATE_RIG + DD_RIG_X] < 12) run_until(&r, dd_ode_time(r.ode) + 0.1);
    const double stop = dd_ode_time(r.ode);
    r.workspace->plan.drive_speed = (dd_ramped){.from = 0.3, .to = 0, .start = stop, .duration = 1};
    r.workspace->plan.brake = (dd_ramped){.from = 0, .to = 1, .start = stop + 1, .duration = 0.5};
    dd_error error = {0};
    CHECK_OK(dd_ode_start(r.ode, stop, r.y, 0, &error), &error);
    run_until(&r, stop + 10);
    double frame = channel(&r, &dd_force_frame_contact, 0, "frame_load_N");
    double coupling = channel(&r, &dd_force_coupling, 0, "coupling_load_N");
    double axles = channel(&r, &dd_force_axles, 0, "axle_load_N") + channel(&r, &dd_force_axles, 1, "axle_load_N");
    const double pitch = r.y[DD_STATE_RIG + DD_RIG_PITCH], held = channel(&r, &dd_force_frame_contact, 0, "frame_friction_N");
    assert_true(frame > 1000 && axles == 0);
    CHECK_NEAR(frame * cos(pitch) - held * sin(pitch) + coupling, t.mass * 9.80665, 1);
    r.workspace->plan.brake = (dd_ramped){.from = 1, .to = 0, .start = stop + 10, .duration = 1};
    r.workspace->plan.drive_speed = (dd_ramped){.from = 0, .to = -0.2, .start = stop + 10, .duration = 2};
    CHECK_OK(dd_ode_start(r.ode, stop + 10, r.y, 0, &error), &error);
    run_until(&r, stop + 20);
    double friction = channel(&r, &dd_force_frame_contact, 0, "frame_friction_N");
    frame = channel(&r, &dd_force_frame_contact, 0, "frame_load_N");
    CHECK_NEAR(friction, 0.5 * frame, 1e-3 * frame);
    const double alone = (v.mass + t.mass) * 9.80665 * sin(atan(0.1)); /* what a rig on its wheels needs there */
    assert_true(-channel(&r, &dd_force_wheels, 0, "longitudinal_force_N") > alone + 0.9 * friction);
    close_run(&r);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_braked_rig_does_not_creep),
        cmocka_unit_test(test_brake_takes_hold_within_a_millimetre),
        cmocka_unit_test(test_driven_at_a_speed),
        cmocka_unit_test(test_slides_on_weed),
        cmocka_unit_test(test_slides_until_grip_returns),
        cmocka_unit_test(test_chocks_hold_one_way),
        cmocka_unit_test(test_pull_out_by_drive),
        cmocka_unit_test(test_sinks_while_it_stands),
        cmocka_unit_test(test_frame_lies_on_the_edge),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
