/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The trailer off the ball, against closed forms: on its jockey wheel, on a rope made fast and round a bar, let down and pulled
   up a beach; the tilting bed's masses and its swing. The vehicle stands braked or moves at a steady speed. */
#include "tests/unit/ode/checks.h"
#include "tests/unit/rig/rigs.h"
#include "lib/force/coupling.h"
#include "lib/force/jockey.h"
#include "lib/motion/equilibrium.h"
#include "lib/motion/ledger.h"
#include "lib/ode/ode.h"
#include <stdlib.h>

enum { SIZE = 40 };
static const double gravity = 9.80665;

typedef struct loose {
    dd_model model;
    dd_ramp *ramp;
    dd_rig *rig;
    dd_system *system;
    dd_workspace *workspace;
    dd_ledger *ledger;
    double y[SIZE], absolute[SIZE], relative[SIZE], middle[SIZE];
    dd_ode_problem problem;
    dd_ode *ode;
} loose;

/* One axle, nose on a jockey wheel, rope of 6 m; next to rigid springs so that the closed forms' levels stand. */
static dd_trailer_parameters beach_trailer(void)
{
    dd_trailer_parameters t = test_trailer_parameters();
    t.mass = 600;
    t.axle_count = 1;
    t.axles[0] = (dd_axle){4.4, 900, NAN};
    t.centre_behind_coupling = 4.0;
    t.centre_above_ground = 0.7;
    t.tyre_squash = 1e-4;
    t.spring_squash = 1e-3;
    t.rolling_resistance = 0.06;
    t.jockey.behind_coupling = 0.3;
    t.jockey.rolling_resistance = 0.09;
    t.jockey.squash_at_rated_load = 1e-3;
    t.rope.length = 6;
    t.rope.damping_ratio = 0.2;
    return t;
}

static dd_ramp_parameters beach(double grade)
{
    dd_ramp_parameters p = test_straight_ramp_parameters(grade);
    return p;
}

static void open_loose_on(loose *r, const dd_ramp_parameters *p, double level, const dd_trailer_parameters *t)
{
    dd_error error = {0};
    dd_vehicle_parameters v = test_vehicle_parameters();
    v.coupling_height = t->coupling_height;
    memset(r, 0, sizeof *r);
    r->ramp = test_ramp_of(p);
    r->rig = test_rig_of(&v, t);
    r->model = (dd_model){.rig = r->rig, .ramp = r->ramp, .gravity = gravity};
    dd_water_defaults(&r->model.water);
    r->model.water.level = level;
    CHECK_OK(dd_water_complete(&r->model.water, &error), &error);
    CHECK_OK(dd_system_create(&r->model, NULL, NULL, NULL, &r->system, &error), &error);
    CHECK_OK(dd_workspace_create(r->system, &r->workspace, &error), &error);
    CHECK_OK(dd_ledger_create(r->system, &r->ledger, &error), &error);
    assert_true(r->system->size <= SIZE);
    r->workspace->plan.set.uncoupled = 1;
    r->workspace->plan.set.rope_hooked = 1;
}

static void open_loose(loose *r, double grade, const dd_trailer_parameters *t)
{
    const dd_ramp_parameters p = beach(grade);
    open_loose_on(r, &p, -90, t);
}

static void close_loose(loose *r)
{
    dd_ode_free(r->ode);
    dd_ledger_free(r->ledger);
    dd_workspace_free(r->workspace);
    dd_system_free(r->system);
    dd_rig_free(r->rig);
    dd_ramp_free(r->ramp);
}

/* Standing at x with the coupling `reach` from the ball, heave and pitch in balance; then in time. */
static void start_loose(loose *r, double x, double reach)
{
    dd_error error = {0};
    dd_vehicle_pose vehicle = dd_vehicle_on_profile(&r->rig->vehicle, r->ramp, x);
    dd_pose pose = {.rig = {x, reach * tan(-vehicle.pitch), vehicle.pitch, reach}, .attitude = {0, 0, 0, 1}};
    double memory[SIZE] = {0};
    const int leg = dd_system_find(r->system, &dd_force_jockey)->memory_first + DD_JOCKEY_LEG;
    if (r->workspace->plan.set.uncoupled) memory[leg] = DD_JOCKEY_STOWED;
    const dd_motion rest = {{0}, {0}};
    dd_equilibrium e;
    CHECK_OK(dd_equilibrium_find(r->workspace, 0, &pose, memory, DD_FREE_HEAVE | DD_FREE_PITCH, &e, &error), &error);
    dd_system_pack(r->system, &e.pose, &rest, memory, r->y);
    dd_system_tolerances(r->system, 1e-6, r->absolute, r->relative);
    r->problem = (dd_ode_problem){.size = (size_t)r->system->size,
                                  .derivative = dd_system_derivative,
                                  .jacobian = dd_system_jacobian,
                                  .context = r->workspace,
                                  .relative_tolerance = 1e-6,
                                  .absolute = r->absolute,
                                  .relative = r->relative};
    CHECK_OK(dd_ode_create(&dd_stepper_bdf, &r->problem, &r->ode, &error), &error);
    CHECK_OK(dd_ode_start(r->ode, 0, r->y, 0, &error), &error);
    assert_int_equal(dd_system_evaluate(r->workspace, 0, r->y, DD_WANT_ACCELERATION | DD_WANT_CHANNELS), 0);
    dd_ledger_open(r->ledger, r->workspace);
}

static void run_loose(loose *r, double t)
{
    dd_error error = {0};
    while (dd_ode_time(r->ode) < t) {
        CHECK_OK(dd_ode_step(r->ode, t, &error), &error);
        const double before = dd_ode_previous_time(r->ode), now = dd_ode_time(r->ode);
        dd_ode_interpolate(r->ode, 0.5 * (before + now), r->middle);
        assert_int_equal(dd_system_evaluate(r->workspace, 0.5 * (before + now), r->middle, DD_WANT_ACCELERATION), 0);
        dd_ledger_middle(r->ledger, r->workspace);
        assert_int_equal(dd_system_evaluate(r->workspace, now, dd_ode_state(r->ode), DD_WANT_ACCELERATION | DD_WANT_CHANNELS), 0);
        dd_ledger_close(r->ledger, r->workspace, now - before);
    }
    memcpy(r->y, dd_ode_state(r->ode), (size_t)r->system->size * sizeof(double));
}

static double channel(const loose *r, const dd_force_kind *kind, int unit, const char *name)
{
    int c = dd_system_channel(r->system, kind, unit, name);
    assert_true(c >= 0);
    return r->workspace->channels[c];
}

static double state_of(const loose *r, int coordinate) { return r->y[dd_state_rig(r->system, coordinate)]; }

/* Closed form: level, at rest: moments about the axle. 1e-3 of it: the nose stands a millimetre off level. */
static void test_jockey_load(void **state)
{
    (void)state;
    dd_trailer_parameters t = beach_trailer();
    loose r;
    open_loose(&r, 0, &t);
    start_loose(&r, 0, 3);
    double expected = t.mass * gravity * (4.4 - 4.0) / (4.4 - 0.3);
    CHECK_NEAR(channel(&r, &dd_force_jockey, 0, "jockey_load_N"), expected, 1e-3 * expected);
    CHECK_NEAR(channel(&r, &dd_force_axles, 0, "axle_load_N"), t.mass * gravity - expected, 1e-3 * expected);
    CHECK_NEAR(channel(&r, &dd_force_coupling, 0, "coupling_load_N"), 0, 0);
    CHECK_NEAR(channel(&r, &dd_force_rope, 0, "rope_tension_N"), 0, 0);
    run_loose(&r, 20); /* and stays */
    CHECK_NEAR(state_of(&r, DD_RIG_REACH), 3, 1e-5);
    close_loose(&r);
}

/* Pull along the slope that moves the trailer up (way -1) or lets it down (way +1) steadily: W sin a -+ sum of m N, with the jockey
   wheel's load by moments about the axle's hub, the rope at coupling height; wheels that roll freely resist at their hubs. Closed
   form. */
static double steady_pull(const dd_trailer_parameters *t, double grade, int way)
{
    double a = atan(grade), w = t->mass * gravity, nose = t->axles[0].behind_coupling - t->jockey.behind_coupling;
    double m = t->rolling_resistance, mj = t->jockey.rolling_resistance;
    double pull = w * sin(a), load = 0, hub = t->tyre_radius, lower = hub - t->jockey.wheel_radius;
    for (int i = 0; i < 50; i++) {
        load = (w * cos(a) * (t->axles[0].behind_coupling - t->centre_behind_coupling) -
                w * sin(a) * (t->centre_above_ground - hub) + pull * (t->coupling_height - hub)) /
               (nose + way * mj * lower);
        pull = w * sin(a) - way * (m * (w * cos(a) - load) + mj * load);
    }
    return pull;
}

static void tow(double grade, double speed, double tolerance)
{
    dd_trailer_parameters t = beach_trailer();
    loose r;
    open_loose(&r, grade, &t);
    r.workspace->plan.drive_speed = (dd_ramped){.from = 0, .to = speed, .start = 0, .duration = 1};
    start_loose(&r, 0, 5.98 * cos(atan(grade)));
    run_loose(&r, 25);
    double expected = steady_pull(&t, grade, speed > 0 ? 1 : -1);
    double tension = channel(&r, &dd_force_rope, 0, "rope_tension_N");
    print_message("1:%.0f at %.2f m/s: rope %.2f N, closed form %.2f N\n", 1 / grade, speed, tension, expected);
    CHECK_NEAR(tension, expected, tolerance * expected);
    CHECK_NEAR(channel(&r, &dd_force_rope, 0, "rope_hand_force_N"), tension, 0); /* made fast */
    dd_ledger_balance b = dd_ledger_balance_of(r.ledger);
    print_message("ledger: energy %.1e\n", b.energy_residual);
    assert_true(b.energy_residual < 2e-5);
    close_loose(&r);
}

/* P137: rope pull = W sin + rolling, and less rolling on the way down. 1e-3: the rope's slope by the springs' squash. */
static void test_rope_pull(void **state)
{
    (void)state;
    tow(1.0 / 8, -0.3, 1e-3);
    tow(1.0 / 14, -0.3, 1e-3);
    tow(1.0 / 14, 0.3, 1e-3);
}

/* Let down 1:20 the trailer's own rolling resistance holds it: the rope stays slack; on 1:8 it comes up against the rope. */
static void test_stands_by_itself(void **state)
{
    (void)state;
    dd_trailer_parameters t = beach_trailer();
    assert_true(steady_pull(&t, 1.0 / 20, 1) < 0); /* closed form */
    loose r;
    open_loose(&r, 1.0 / 20, &t);
    r.workspace->plan.brake = (dd_ramped){.from = 1, .to = 1, .start = 0, .duration = 0};
    start_loose(&r, 0, 3);
    run_loose(&r, 30);
    CHECK_BETWEEN(state_of(&r, DD_RIG_REACH), 3, 3.002); /* the bristles' deflection */
    CHECK_NEAR(channel(&r, &dd_force_rope, 0, "rope_tension_N"), 0, 0);
    close_loose(&r);
    open_loose(&r, 1.0 / 8, &t);
    r.workspace->plan.brake = (dd_ramped){.from = 1, .to = 1, .start = 0, .duration = 0};
    start_loose(&r, 0, 5);
    run_loose(&r, 60);
    CHECK_BETWEEN(channel(&r, &dd_force_rope, 0, "rope_tension_N"), steady_pull(&t, 1.0 / 8, 1), steady_pull(&t, 1.0 / 8, -1));
    CHECK_NEAR(r.y[dd_state_rig_rate(r.system, DD_RIG_REACH)], 0, 1e-4);
    close_loose(&r);
}

/* Two turns at 0.25 hold 23 times the hand's force (formula: exp(mu angle)). A hand that holds enough keeps the rope; one that holds
   less lets the trailer run at (W sin - T) / m. */
static void test_capstan(void **state)
{
    (void)state;
    CHECK_NEAR(dd_capstan_ratio(2, 0.25), 23.1407, 1e-3);
    dd_trailer_parameters t = beach_trailer();
    t.rolling_resistance = t.jockey.rolling_resistance = 0;
    t.rope.turns = 2;
    const double grade = 1.0 / 8, weight = t.mass * gravity * sin(atan(grade));
    for (int holds = 0; holds < 2; holds++) {
        t.rope.hand_hold = (holds ? 1.2 : 0.8) * weight / dd_capstan_ratio(2, 0.25);
        loose r;
        open_loose(&r, grade, &t);
        r.workspace->plan.brake = (dd_ramped){.from = 1, .to = 1, .start = 0, .duration = 0};
        start_loose(&r, 0, 6.15 * cos(atan(grade)));
        run_loose(&r, holds ? 40 : 1);
        const double before = r.y[dd_state_rig_rate(r.system, DD_RIG_REACH)] / cos(atan(grade));
        const double tension = channel(&r, &dd_force_rope, 0, "rope_tension_N");
        if (holds) {
            CHECK_NEAR(tension, weight, 2e-3 * weight);
            CHECK_NEAR(channel(&r, &dd_force_rope, 0, "rope_hand_force_N"), weight / 23.1407, 2e-3 * weight);
        } else {
            run_loose(&r, 2);
            const double after = r.y[dd_state_rig_rate(r.system, DD_RIG_REACH)] / cos(atan(grade));
            /* closed form; the rope holds a tenth more at each m/s, and its onset a little: 3 % of what accelerates */
            const double expected = (1 - 0.8 * (1 + 0.1 * 0.5 * (before + after))) * weight / t.mass;
            print_message("hand too weak: slips at %.3f m/s, %.4f m/s2, closed form %.4f\n", after, after - before, expected);
            CHECK_NEAR(after - before, expected, 0.03 * expected);
            assert_true(channel(&r, &dd_force_rope, 0, "rope_paid_out_m") > 0.1);
        }
        dd_ledger_balance b = dd_ledger_balance_of(r.ledger);
        print_message("ledger: energy %.1e\n", b.energy_residual);
        assert_true(b.energy_residual < 2e-5);
        close_loose(&r);
    }
}

static bool can_close(const loose *r)
{
    const double *rig = r->workspace->kinematics.pose.rig;
    return dd_coupling_can_close(rig[DD_RIG_REACH], rig[DD_RIG_HEAVE]);
}

/* Off the ball and on again: coordinates go on where they were, what is held has no rate, and the coupling closes only within a
   hand's breadth. */
static void test_uncouple_and_couple(void **state)
{
    (void)state;
    dd_trailer_parameters t = beach_trailer();
    loose r;
    dd_error error = {0};
    open_loose(&r, 0, &t);
    r.workspace->plan.set.uncoupled = r.workspace->plan.set.rope_hooked = 0;
    r.workspace->plan.brake = (dd_ramped){.from = 1, .to = 1, .start = 0, .duration = 0};
    start_loose(&r, 0, 0);
    run_loose(&r, 5);
    /* closed form: moments about the axle's hub with the nose as low as the ball's spring lets it */
    const double c = cos(state_of(&r, DD_RIG_PITCH)), s = sin(state_of(&r, DD_RIG_PITCH));
    const double low = t.tyre_radius - t.coupling_height, above = t.tyre_radius - t.centre_above_ground;
    CHECK_NEAR(channel(&r, &dd_force_coupling, 0, "coupling_load_N"),
               t.mass * gravity * (0.4 * c + above * s) / (4.4 * c + low * s), 0.05);
    assert_true(can_close(&r));
    r.workspace->plan.set.uncoupled = 1;
    dd_commands now = dd_plan_at(&r.workspace->plan, 5);
    assert_false(dd_system_hold(r.system, &now, r.y));
    const double heave = state_of(&r, DD_RIG_HEAVE), load = channel(&r, &dd_force_coupling, 0, "coupling_load_N");
    const dd_system_force *jockey = dd_system_find(r.system, &dd_force_jockey);
    dd_jockey_stand(jockey->instance, &r.workspace->kinematics, load, r.y + DD_STATE_MEMORY + jockey->memory_first);
    CHECK_OK(dd_ode_start(r.ode, 5, r.y, 0, &error), &error);
    assert_int_equal(dd_system_evaluate(r.workspace, 5, r.y, DD_WANT_ACCELERATION | DD_WANT_CHANNELS), 0);
    /* without a blow: closed form, by moments about the axle */
    CHECK_NEAR(channel(&r, &dd_force_jockey, 0, "jockey_load_N"), load, 1e-6 * load);
    assert_true(fabs(r.workspace->rig_acceleration[DD_RIG_HEAVE]) < 1.0);
    dd_ledger_open(r.ledger, r.workspace);
    CHECK_NEAR(r.workspace->kinematics.pose.rig[DD_RIG_HEAVE], heave, 0);
    run_loose(&r, 20);
    /* closed form: as above, now about the jockey wheel's hub; the two rolling resistances may strain
       against each other, at most by the jockey wheel's, and bear on the nose by the difference of the hubs' heights */
    const double turn = state_of(&r, DD_RIG_PITCH), stands = t.tyre_radius - t.jockey.wheel_radius;
    print_message("on its wheel: %.3f N\n", channel(&r, &dd_force_jockey, 0, "jockey_load_N"));
    CHECK_NEAR(channel(&r, &dd_force_jockey, 0, "jockey_load_N"),
               t.mass * gravity * (0.4 * cos(turn) + above * sin(turn)) / (4.1 * cos(turn) + stands * sin(turn)), 0.09 * load * stands / 4.1);
    /* rolling: struck by the coupling, the trailer stands, and the ledger knows what that took */
    r.y[dd_state_rig_rate(r.system, DD_RIG_REACH)] = 0.05;
    CHECK_OK(dd_ode_start(r.ode, 20, r.y, 0, &error), &error);
    assert_int_equal(dd_system_evaluate(r.workspace, 20, r.y, DD_WANT_ACCELERATION), 0);
    dd_ledger_strike(r.ledger, r.workspace);
    dd_ledger_open(r.ledger, r.workspace);
    run_loose(&r, 20.2);
    assert_true(can_close(&r));
    r.workspace->plan.set.uncoupled = 0;
    now = dd_plan_at(&r.workspace->plan, 20.2);
    assert_true(dd_system_hold(r.system, &now, r.y));
    const double reach = state_of(&r, DD_RIG_REACH);
    CHECK_OK(dd_ode_start(r.ode, 20.2, r.y, 0, &error), &error);
    assert_int_equal(dd_system_evaluate(r.workspace, 20.2, r.y, DD_WANT_ACCELERATION), 0);
    dd_ledger_open(r.ledger, r.workspace);
    dd_ledger_strike(r.ledger, r.workspace);
    run_loose(&r, 30);
    CHECK_NEAR(state_of(&r, DD_RIG_REACH), reach, 0);
    dd_ledger_balance b = dd_ledger_balance_of(r.ledger);
    print_message("coupled, uncoupled, coupled: reach %.4f m, ledger %.1e\n", reach, b.energy_residual);
    assert_true(b.energy_residual < 2e-5);
    assert_false(dd_coupling_can_close(0.11, 0));
    assert_false(dd_coupling_can_close(0.05, -0.11));
    close_loose(&r);
}

/* A bed that is heavy behind its hinge, let go: 1/2 I w^2 = m g x the fall of its centre (closed form; 2e-3: the chassis on its
   hard springs gives a little), on to its far stop, where it comes to rest with the moment of its weight. */
static void test_bed_swings(void **state)
{
    (void)state;
    dd_trailer_parameters t = beach_trailer();
    t.tilt.hinge_behind_coupling = 4.4;
    t.tilt.hinge_above_ground = 0.55;
    t.tilt.bed_share = 0.3;
    t.tilt.bed_centre_behind_coupling = 4.9;
    t.tilt.bed_centre_above_ground = 0.75;
    t.pitch_radius = 1.5;
    t.bounce_damping_ratio = 0.5;
    loose r;
    open_loose(&r, 0, &t);
    r.workspace->plan.set = (dd_commands){0};
    r.workspace->plan.brake = (dd_ramped){.from = 1, .to = 1, .start = 0, .duration = 0};
    start_loose(&r, 0, 0);
    run_loose(&r, 2);
    CHECK_NEAR(state_of(&r, DD_RIG_TILT), 0, 0); /* latched */
    r.workspace->plan.set.unlatched = 1;
    dd_error error = {0};
    CHECK_OK(dd_ode_start(r.ode, 2, r.y, 0, &error), &error);
    assert_int_equal(dd_system_evaluate(r.workspace, 2, r.y, DD_WANT_ACCELERATION), 0);
    dd_ledger_open(r.ledger, r.workspace);
    const dd_vec3 arm = dd_vec(4.9 - 4.4, 0, 0.75 - 0.55);
    const double m = r.rig->bed.mass, inertia = r.rig->bed.inertia + m * dd_dot(arm, arm), start = state_of(&r, DD_RIG_PITCH);
    CHECK_NEAR(m, 0.3 * t.mass, 1e-12);
    for (double now = 2; state_of(&r, DD_RIG_TILT) < 0.2; now += 0.01) run_loose(&r, now);
    const double turn = start + state_of(&r, DD_RIG_TILT) + state_of(&r, DD_RIG_PITCH) - start;
    const double fall = (arm.z * cos(start) - arm.x * sin(start)) - (arm.z * cos(turn) - arm.x * sin(turn));
    const double rate = r.y[dd_state_rig_rate(r.system, DD_RIG_TILT)], expected = sqrt(2 * m * gravity * fall / inertia);
    print_message("at %.3f rad: %.4f rad/s, closed form %.4f\n", state_of(&r, DD_RIG_TILT), rate, expected);
    CHECK_NEAR(rate, expected, 5e-3 * expected);
    run_loose(&r, 15);
    const double rest = state_of(&r, DD_RIG_TILT) + state_of(&r, DD_RIG_PITCH);
    const double moment = m * gravity * (arm.x * cos(rest) + arm.z * sin(rest));
    CHECK_BETWEEN(state_of(&r, DD_RIG_TILT), t.tilt.most_tilt, t.tilt.most_tilt + t.tilt.stop_squash);
    CHECK_NEAR(channel(&r, &dd_force_tilt_stops, 0, "tilt_stop_moment_Nm"), -moment, 1e-4 * moment);
    dd_ledger_balance b = dd_ledger_balance_of(r.ledger);
    print_message("ledger: energy %.1e\n", b.energy_residual);
    assert_true(b.energy_residual < 2e-5);
    close_loose(&r);
}

/* --- soft ground ------------------------------------------------------------------------------------------------- */

static const double sinkage = 0.02, jockey_width = 0.06; /* of a road wheel under 5 kN, m */

/* Sand that a wheel sinks into, from there seaward. */
static dd_ramp_parameters soft_beach(double grade, double from)
{
    dd_ramp_parameters p = test_straight_ramp_parameters(grade);
    p.surface_count = 1;
    p.surfaces[0] = (dd_surface){.from = from, .to = NAN, .friction_low = 0.5, .friction_high = 0.7, .wet_friction_low = NAN, .wet_friction_high = NAN,
                                 .rolling_resistance = 0.06, .sinkage = sinkage};
    return p;
}

static dd_trailer_parameters sand_trailer(void)
{
    dd_trailer_parameters t = beach_trailer();
    t.jockey.wheel_width = jockey_width;
    return t;
}

/* Depth per load of the axle's two wheels and of the jockey wheel, m/N. */
static double axle_give(void) { return 0.5 * sinkage / 5000; }
static double jockey_give(const dd_trailer_parameters *t)
{
    return sinkage / 5000 * (t->tyre_width * t->tyre_radius) / (jockey_width * t->jockey.wheel_radius);
}

static double over_level_ground(const loose *r, dd_vec3 hub) { return dd_chassis_point(&r->workspace->kinematics, hub).z; }

/* Closed forms, level, at rest. The jockey wheel stands b N deep, b by its width and radius beside the tyres', its hub its free radius less
   squash less that over the ground: 1e-9 m. So the coupling stands lower than on firm ground, by levers about the axle: 1e-5 m, for the
   coupling goes down on an arc. */
static void test_jockey_sinks(void **state)
{
    (void)state;
    const dd_trailer_parameters t = sand_trailer();
    double heave[2];
    for (int soft = 0; soft < 2; soft++) {
        const dd_ramp_parameters p = soft ? soft_beach(0, -100) : beach(0);
        loose r;
        open_loose_on(&r, &p, -90, &t);
        start_loose(&r, 0, 3);
        const double load = channel(&r, &dd_force_jockey, 0, "jockey_load_N"), axle = channel(&r, &dd_force_axles, 0, "axle_load_N");
        const double deep = soft ? jockey_give(&t) * load : 0, deep_axle = soft ? axle_give() * axle : 0;
        CHECK_NEAR(channel(&r, &dd_force_jockey, 0, "jockey_sinkage_m"), deep, 1e-9);
        CHECK_NEAR(over_level_ground(&r, r.rig->jockey.hub), r.rig->jockey.radius - load / r.rig->jockey.stiffness - deep, 1e-9);
        heave[soft] = r.workspace->kinematics.pose.rig[DD_RIG_HEAVE];
        if (soft) {
            print_message("jockey wheel under %.0f N: %.1f mm deep; coupling %.1f mm lower\n", load, 1000 * deep, 1000 * (heave[0] - heave[1]));
            assert_true(deep > 0.01);
            CHECK_NEAR(heave[0] - heave[1], (deep * 4.4 - deep_axle * 0.3) / 4.1, 1e-5);
        }
        close_loose(&r);
    }
}

/* What a wheel that has sunk that deep resists with besides, share of its load: half the length of its contact over its radius. */
static double ploughs(double depth, double radius)
{
    const double rounded = 0.01; /* lib/force/sinking.h */
    return sqrt(depth / (2 * radius) + rounded * rounded) - rounded;
}

/* Rope pull in sand, up and down, in closed form as on firm ground with what each wheel ploughs besides; 2e-3: the nose stands lower than
   the axle's own sinking, which turns the trailer by a few thousandths. Work and heat close, also over the border from firm ground. */
static void test_rope_pull_in_sand(void **state)
{
    (void)state;
    const double begins[] = {-100, 2};
    for (int i = 0; i < 4; i++) {
        const int way = i % 2 ? 1 : -1;
        const double grade = way < 0 ? 1.0 / 14 : 1.0 / 4;
        dd_trailer_parameters t = sand_trailer();
        const dd_ramp_parameters p = soft_beach(grade, begins[i / 2]);
        loose r;
        open_loose_on(&r, &p, -90, &t);
        r.workspace->plan.drive_speed = (dd_ramped){.from = 0, .to = 0.3 * way, .start = 0, .duration = 1};
        start_loose(&r, way > 0 ? -9 : 0, 5.98 * cos(atan(grade)));
        run_loose(&r, 25);
        const double load = channel(&r, &dd_force_jockey, 0, "jockey_load_N"), axle = channel(&r, &dd_force_axles, 0, "axle_load_N");
        const double deep = channel(&r, &dd_force_jockey, 0, "jockey_sinkage_m"), tension = channel(&r, &dd_force_rope, 0, "rope_tension_N");
        if (i / 2 == 0) {
            CHECK_NEAR(deep, jockey_give(&t) * load, 1e-5);
            t.rolling_resistance += ploughs(axle_give() * axle, t.tyre_radius);
            t.jockey.rolling_resistance += ploughs(jockey_give(&t) * load, t.jockey.wheel_radius);
            const double expected = steady_pull(&t, grade, way);
            print_message("sand, %s at 0.3 m/s: jockey wheel %.1f mm deep, rope %.2f N, closed form %.2f N\n", way < 0 ? "up" : "down", 1000 * deep, tension, expected);
            CHECK_NEAR(tension, expected, 2e-3 * expected);
        }
        dd_ledger_balance b = dd_ledger_balance_of(r.ledger);
        print_message("ledger: energy %.1e\n", b.energy_residual);
        assert_true(b.energy_residual < 2e-5);
        close_loose(&r);
    }
}

/* Standing in the wash it sinks on, by s' = a N (1 - s / most), most half its radius: s = most (1 - exp(-a N t / most)). 1e-4 m: the
   trailer turns as it does, and the rut that it had is borne on. Wound onto the ground from the ball it takes the ball's load at once. */
static void test_jockey_creeps_in_the_wash(void **state)
{
    (void)state;
    const dd_trailer_parameters t = sand_trailer();
    dd_ramp_parameters p = soft_beach(0, -100);
    p.wash_margin = 1;
    p.surfaces[0].sinkage_rate = 0.4e-3;
    loose r;
    open_loose_on(&r, &p, -0.5, &t);
    r.workspace->plan.brake = (dd_ramped){.from = 1, .to = 1, .start = 0, .duration = 0};
    start_loose(&r, 0, 3);
    const double load = channel(&r, &dd_force_jockey, 0, "jockey_load_N"), most = 0.5 * t.jockey.wheel_radius, time = 60;
    double memory[DD_JOCKEY_MEMORY] = {0, DD_JOCKEY_STOWED - 0.2, 0, 0};
    const dd_system_force *jockey = dd_system_find(r.system, &dd_force_jockey);
    run_loose(&r, time);
    const double now = channel(&r, &dd_force_jockey, 0, "jockey_load_N"), deep = channel(&r, &dd_force_jockey, 0, "jockey_sinkage_m");
    const double rate = 0.4e-3 * jockey_give(&t) / sinkage * load, crept = most * (1 - exp(-rate * time / most));
    print_message("60 s in the wash: %.2f mm deep, closed form %.2f mm\n", 1000 * deep, 1000 * (crept + jockey_give(&t) * now));
    assert_true(crept > 0.01);
    CHECK_NEAR(deep, crept + jockey_give(&t) * now, 1e-4);
    dd_ledger_balance b = dd_ledger_balance_of(r.ledger);
    print_message("ledger: energy %.1e\n", b.energy_residual);
    assert_true(b.energy_residual < 2e-5);
    dd_jockey_stand(jockey->instance, &r.workspace->kinematics, 700, memory);
    dd_memory remembered = {.value = memory, .rate = (double[DD_JOCKEY_MEMORY]){0}};
    double channels[8];
    dd_load wrench = {.heat = 0};
    dd_kinematics still = r.workspace->kinematics;
    still.motion = (dd_motion){{0}, {0}};
    jockey->kind->evaluate(jockey->instance, &still, &r.workspace->commands, &remembered, &wrench, NULL, channels);
    CHECK_NEAR(channels[0], 700, 1e-6);
    close_loose(&r);
}

/* Of the jockey wheel at drawn states, in sand and at its border: power + d(energy)/dt + heat = 0, its energy by differences along the
   motion, the leg being wound and the ground being pressed down. 1e-5 W. Closed form: conservation. */
static void test_work_and_heat_in_sand(void **state)
{
    (void)state;
    const dd_trailer_parameters t = sand_trailer();
    double worst = 0, ground = 0;
    for (int border = 0; border < 2; border++) {
        dd_ramp_parameters p = soft_beach(1.0 / 14, border ? 4.52 : -100);
        p.wash_margin = 1;
        p.surfaces[0].sinkage_rate = 2e-3;
        loose r;
        open_loose_on(&r, &p, -0.5, &t);
        start_loose(&r, 0, 3);
        const dd_system_force *jockey = dd_system_find(r.system, &dd_force_jockey);
        const int at = (int)(jockey - r.system->forces), memory = DD_STATE_MEMORY + jockey->memory_first;
        const double stands = r.y[memory + DD_JOCKEY_LEG];
        assert_true(r.workspace->loads[at].energy > 0);
        for (int draw = 0; draw < 24; draw++) {
            double y[SIZE], moved[SIZE], rate[SIZE], energy[2];
            const double h = 1e-5;
            memcpy(y, r.y, sizeof y);
            for (int c = 0; c < DD_RIG_TILT; c++) y[dd_state_rig_rate(r.system, c)] = (c == DD_RIG_PITCH ? 0.02 : 0.1) * ((draw + 2 * c) % 5 - 2);
            y[memory + DD_JOCKEY_LEG] = stands + 0.002 * (draw % 4) + 0.004;
            y[memory + DD_JOCKEY_STOOD] = 0.001 + 0.002 * (draw % 3);
            y[memory + DD_JOCKEY_RUT] = 0.001 + 0.004 * (draw % 5);
            assert_int_equal(dd_system_derivative(0, y, rate, r.workspace), 0);
            const dd_load *load = &r.workspace->loads[at];
            double sum = load->heat;
            for (int c = 0; c < DD_RIG_TILT; c++) sum += load->rig[c] * r.workspace->kinematics.motion.rig[c];
            for (int side = 0; side < 2; side++) {
                for (int i = 0; i < r.system->size; i++) moved[i] = y[i] + (side ? -h : h) * rate[i];
                assert_int_equal(dd_system_evaluate(r.workspace, 0, moved, 0), 0);
                energy[side] = r.workspace->loads[at].energy;
            }
            worst = fmax(worst, fabs(sum + (energy[0] - energy[1]) / (2 * h)));
            ground = fmax(ground, fabs(sum));
        }
        close_loose(&r);
    }
    print_message("jockey wheel in sand: %.1e of %.0f W left\n", worst, ground);
    assert_true(worst < 1e-5 && ground > 1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_jockey_load), cmocka_unit_test(test_rope_pull),
                                       cmocka_unit_test(test_stands_by_itself), cmocka_unit_test(test_capstan),
                                       cmocka_unit_test(test_uncouple_and_couple), cmocka_unit_test(test_bed_swings),
                                       cmocka_unit_test(test_jockey_sinks), cmocka_unit_test(test_rope_pull_in_sand),
                                       cmocka_unit_test(test_jockey_creeps_in_the_wash), cmocka_unit_test(test_work_and_heat_in_sand)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
