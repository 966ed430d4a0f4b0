/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Water on the rig, a hole and a step under it: against closed forms. */
#include "tests/unit/force/rig_world.h"
#include "lib/force/rig_water.h"

static const double pi = 3.14159265358979323846, rim = 0.55;

/* A level ground at z = 0 and the reference rig, its water at a level. */
static world level_world(double level, const dd_vehicle_parameters *v, const dd_trailer_parameters *t)
{
    dd_ramp_parameters p = test_straight_ramp_parameters(0);
    world w = world_of(&p, v, t);
    w.model.water.level = level;
    return w;
}

static look lift_at(const world *w, const dd_pose *pose)
{
    void *lift = prepare(&dd_force_rig_buoyancy, &w->model);
    look l = look_at(&dd_force_rig_buoyancy, lift, &w->model, pose, &rest, &no_commands, no_memory);
    dd_force_rig_buoyancy.free(lift);
    return l;
}

static double lift_of(const world *w, const dd_pose *pose, const char *name)
{
    look l = lift_at(w, pose);
    return channel_of(&dd_force_rig_buoyancy, &l, 0, name);
}

/* Closed form: a disc of radius R less its rim, sunk to its hub (half), whole, and dry; the vehicle's four and the trailer's two
   tyres; 1e-9 N. Members: their metal, and the hollow inside as far as it does not flood. */
static void test_volumes(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    reference_rig(&v, &t);
    t.frame_volume = 0.05;
    t.flooded_share = 0.4;
    t.tyre_radius = v.tyre_radius = 0.32;
    const dd_pose pose = {.attitude = {0, 0, 0, 1}};
    const double disc = pi * 0.32 * 0.32 * (1 - rim * rim), width = 4 * v.tyre_width + 2 * t.tyre_width;
    const double levels[] = {-0.01, 0.32, 0.64, 5}, share[] = {0, 0.5, 1, 1};
    for (int i = 0; i < 4; i++) {
        world w = level_world(levels[i], &v, &t);
        CHECK_NEAR(lift_of(&w, &pose, "tyre_buoyancy_N"), 9810 * share[i] * disc * width, 1e-9 * 9810);
        free_world(&w);
    }
    /* members about the centre's height, 1.0 m: 0.1 m high */
    const double inside = 1500 / 7850.0 + 0.6 * 0.05, heights[] = {0.94, 0.975, 1.0, 1.06}, wet[] = {0, 0.25, 0.5, 1};
    for (int i = 0; i < 4; i++) {
        world w = level_world(heights[i], &v, &t);
        CHECK_NEAR(lift_of(&w, &pose, "frame_buoyancy_N"), 9810 * wet[i] * inside, 1e-8 * 9810);
        free_world(&w);
    }
}

/* Closed form: the body is a box of 4.32 m x 1.7 m, floor 0.3 m above the ground and 0.7 m high, a fifth of it flooded:
   on level ground rho g times breadth, length and immersion. On a slope: 200,000 columns summed, 1e-7 of the lift. */
static void test_body(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    reference_rig(&v, &t);
    v.flooded_share = 0.2;
    const dd_pose flat = {.attitude = {0, 0, 0, 1}};
    const double levels[] = {0.29, 0.4, 0.9, 1.0, 3}, immersed[] = {0, 0.1, 0.6, 0.7, 0.7};
    for (int i = 0; i < 5; i++) {
        world w = level_world(levels[i], &v, &t);
        CHECK_NEAR(lift_of(&w, &flat, "body_buoyancy_N"), 0.8 * 9810 * 1.7 * 4.32 * immersed[i], 1e-7);
        free_world(&w);
    }
    dd_ramp_parameters p = test_straight_ramp_parameters(0.15);
    world w = world_of(&p, &v, &t);
    const double slope = atan(0.15), c = cos(slope), s = sin(slope);
    for (double level = 0; level < 1.2; level += 0.17) {
        w.model.water.level = level;
        double volume = 0;
        const int columns = 200000;
        for (int i = 0; i < columns; i++) {
            double along = 1.0 - 4.32 + 4.32 * (i + 0.5) / columns, deep = (level - (0.3 * c - along * s)) / c;
            volume += 0.8 * 1.7 * 4.32 / columns * fmin(fmax(deep, 0), 0.7);
        }
        dd_pose pose = {.rig = {0, 0, slope}, .attitude = {0, 0, 0, 1}};
        CHECK_NEAR(lift_of(&w, &pose, "body_buoyancy_N"), 9810 * volume, 1e-7 * 9810 * (volume + 1e-3));
    }
    free_world(&w);
}

/* P197: a floating tail takes load off the rear wheels. Closed form on level ground: lift F of body and tyres with its centre d
   ahead of the rear axle takes F (L - d) / L off the rear and F d / L off the front axle; 1e-6 N. */
static void test_tail_floats(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    reference_rig(&v, &t);
    const dd_pose pose = {.attitude = {0, 0, 0, 1}};
    const dd_commands alone = {.uncoupled = 1};
    double before[2] = {0}, after[2];
    for (int i = 0; i < 2; i++) {
        world w = level_world(i == 0 ? -1 : 0.36, &v, &t);
        void *wheels = prepare(&dd_force_wheels, &w.model);
        look l = look_at(&dd_force_wheels, wheels, &w.model, &pose, &rest, &alone, no_memory);
        for (int a = 0; a < 2; a++)
            (i == 0 ? before : after)[a] = channel_of(&dd_force_wheels, &l, 1 + a, "normal_load_N");
        dd_force_wheels.free(wheels);
        free_world(&w);
    }
    const double body = 9810 * 1.7 * 4.32 * 0.06, ahead = 4.32 / 2 - 1.0; /* rear overhang 1.0 */
    double u = (0.36 - 0.35) / 0.35, r = 0.35, m = (0.36 - 0.35) / (rim * 0.35), q = rim * 0.35;
    const double outer = r * r * (acos(-u) + u * sqrt(1 - u * u)), inner = q * q * (acos(-m) + m * sqrt(1 - m * m));
    const double axle = 9810 * 2 * v.tyre_width * (outer - inner);
    CHECK_NEAR(before[1] - after[1], body * (2.7 - ahead) / 2.7 + axle, 1e-6);
    CHECK_NEAR(before[0] - after[0], body * ahead / 2.7 + axle, 1e-6);
}

/* P232: an empty trailer under water. Closed form, level: moments about the coupling give the axle's load
   (W x_c - tyres x_a - members x_m) / x_a until it would pull; then it floats off its wheels. Springs are next to rigid, so the
   pose is level to 1e-5 rad: 0.5 N. With hollow members twice its volume it floats: no axle load, moments of weight and lift
   about the coupling in balance, 1e-6 of the weight's. */
static void test_trailer_floats(void **state)
{
    (void)state;
    for (int hollow = 0; hollow < 2; hollow++) {
        dd_vehicle_parameters v;
        dd_trailer_parameters t;
        reference_rig(&v, &t);
        t.mass = 400;
        t.axles[0].rating = 1500;
        t.centre_above_ground = 0.45;
        t.frame_volume = hollow ? 0.5 : 0.1;
        t.rear_end_behind_coupling = 6.4;
        world w = level_world(0.9, &v, &t);
        void *instance[STATICS];
        prepare_statics(&w, instance);
        dd_pose pose = settle(&w, instance, 0);
        look axle = look_at(&dd_force_axles, instance[2], &w.model, &pose, &rest, &no_commands, no_memory);
        const double weight = 400 * 9.81, members = 9810 * (400 / 7850.0 + t.frame_volume),
                     tyres = 9810 * 2 * t.tyre_width * pi * 0.29 * 0.29 * (1 - rim * rim);
        if (!hollow) {
            double load = (weight * t.centre_behind_coupling - tyres * 4.5 - members * 3.2) / 4.5;
            assert_true(load > 100);
            CHECK_NEAR(axle.channels[0], load, 0.5);
        } else {
            assert_true(axle.channels[0] == 0);
            look lift = lift_at(&w, &pose);
            look mass = look_at(&dd_force_rig_weight, instance[0], &w.model, &pose, &rest, &no_commands, no_memory);
            CHECK_NEAR(lift.load.rig[DD_RIG_PITCH], -mass.load.rig[DD_RIG_PITCH], 1e-6 * weight * 4);
            assert_true(pose.rig[DD_RIG_PITCH] < -0.02); /* tail up */
        }
        free_statics(instance);
        free_world(&w);
    }
}

/* Moving water: the energy's own rate at a standing rig comes out as negative heat. Central difference over 2 ms in time;
   1e-6 of it: truncation. */
static void test_moving_water(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    reference_rig(&v, &t);
    world w = level_world(0.5, &v, &t);
    w.model.water.surge.height = 0.2;
    w.model.water.surge.period = 6;
    const dd_pose pose = {.attitude = {0, 0, 0, 1}};
    void *lift = prepare(&dd_force_rig_buoyancy, &w.model);
    for (double time = 0.3; time < 6; time += 0.7) {
        double energy[3], heat = 0;
        for (int i = 0; i < 3; i++) {
            dd_kinematics k;
            dd_load load = {0};
            dd_memory none = {0};
            dd_kinematics_of(&w.model, time + (i - 1) * 1e-3, &pose, &rest, &k);
            dd_force_rig_buoyancy.evaluate(lift, &k, &no_commands, &none, &load, NULL, NULL);
            energy[i] = load.energy;
            if (i == 1) heat = load.heat;
        }
        CHECK_NEAR(-heat, (energy[2] - energy[0]) / 2e-3, 1e-6 * (fabs(heat) + 1e3));
    }
    dd_force_rig_buoyancy.free(lift);
    free_world(&w);
}

/* Drag: rho/2 Cd A u^2 against the motion; A of the sunk tyres their volume over pi R / 2 (closed form; 1e-9). */
static void test_drag(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    reference_rig(&v, &t);
    t.tyre_radius = v.tyre_radius = 0.14;
    world w = level_world(0.29, &v, &t);
    void *drag = prepare(&dd_force_rig_drag, &w.model);
    const dd_pose pose = {.attitude = {0, 0, 0, 1}};
    const double area = pi * 0.14 * 0.14 * (1 - rim * rim) * (4 * v.tyre_width + 2 * t.tyre_width) / (pi * 0.14 / 2);
    for (double speed = -2; speed <= 2; speed += 0.5) {
        dd_motion motion = {{speed}, {0}};
        look l = look_at(&dd_force_rig_drag, drag, &w.model, &pose, &motion, &no_commands, no_memory);
        CHECK_NEAR(l.load.rig[DD_RIG_X], -500 * 1.1 * area * speed * fabs(speed), 1e-9);
        CHECK_NEAR(l.load.heat, 500 * 1.1 * area * fabs(speed * speed * speed), 1e-9);
    }
    dd_force_rig_drag.free(drag);
    free_world(&w);
}

/* Pull along x that keeps a settled rig where it is. */
static double pull_at(const world *w, void *const instance[STATICS], double x, double *axle_load, dd_vec3 *hub)
{
    dd_pose pose = settle(w, instance, x);
    dd_kinematics k;
    dd_kinematics_of(&w->model, 0, &pose, &rest, &k);
    double force = 0;
    for (int f = 0; f < STATICS; f++)
        force += look_at(statics[f], instance[f], &w->model, &pose, &rest, &no_commands, no_memory).load.rig[DD_RIG_X];
    *axle_load = look_at(&dd_force_axles, instance[2], &w->model, &pose, &rest, &no_commands, no_memory).channels[0];
    *hub = dd_chassis_point(&k, w->rig->axle[0]);
    return force;
}

/* A trailer's wheel that climbs a step of 50 mm, the vehicle on the flat ahead of it. Closed form: with the profile's slope s
   under it the ground's load N across the slope has the level part N sin(atan s), which the ball must carry: the greatest pull is
   that at the steepest place of the rounded step, 15/8 h / l with l = sqrt(3.5 h). 1 % for the places tried and the springs. */
static void test_step_needs_the_pull_of_statics(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    reference_rig(&v, &t);
    t.spring_squash = 0.02;
    v.rear_suspension_squash = 0.01;
    dd_ramp_parameters p;
    dd_ramp_defaults(&p);
    p.slope = 1e-3;
    p.approach_slope = p.bed_slope = 1e-3;
    p.crest_level = 0.03;
    p.toe_level = 0;
    p.toe_step = 0.05;
    p.toe_curve = 0.5;
    world w = world_of(&p, &v, &t);
    void *instance[STATICS];
    prepare_statics(&w, instance);
    const double steepest = 15.0 / 8 * 0.05 / sqrt(3.5 * 0.05), toe = dd_ramp_toe(w.ramp);
    double most = 0, worst = 0;
    for (double x = toe - 5.8; x < toe - 5.0; x += 0.01) {
        dd_vec3 hub;
        double load, pull = pull_at(&w, instance, x, &load, &hub);
        dd_ramp_point ground;
        dd_ramp_foot(w.ramp, hub.x, hub.z, &ground);
        /* the level part of the load, and the vehicle's own weight on its slope of 1e-3 */
        double level = load * -ground.slope / sqrt(1 + ground.slope * ground.slope);
        worst = fmax(worst, fabs(pull - level - 1e-3 * 1800 * 9.81) / load);
        most = fmax(most, pull / load);
    }
    CHECK_NEAR(most, sin(atan(steepest)), 0.01 * steepest + 1.5e-3);
    assert_true(worst < 2e-3);
    free_statics(instance);
    free_world(&w);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_volumes),        cmocka_unit_test(test_body),         cmocka_unit_test(test_tail_floats),
        cmocka_unit_test(test_trailer_floats), cmocka_unit_test(test_moving_water), cmocka_unit_test(test_drag),
        cmocka_unit_test(test_step_needs_the_pull_of_statics),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
