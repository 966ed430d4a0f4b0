/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rig's own forces alone: statics of coupling and axles, gradients, energy, friction that holds. */
#include "tests/unit/force/rig_world.h"
#include "lib/force/axles.h"

static double wheels_channel(const look *l, int unit, const char *name) { return channel_of(&dd_force_wheels, l, unit, name); }

/* Closed form (C07, C09: moments about the axle; C10: about the rear contact), g 9.81: loads within 0.3 N, since the table
   prints 0.1 N and the springs squash by 1e-6 m; friction needed within 1e-4 (the table's digits). */
static void test_statics_on_slopes(void **state)
{
    (void)state;
    const double grade[] = {0, 0.12, 0.15};
    for (int i = 0; i < 3; i++) {
        world w = reference_world(grade[i]);
        void *instance[STATICS], *wheels = prepare(&dd_force_wheels, &w.model);
        prepare_statics(&w, instance);
        dd_pose pose = settle(&w, instance, 5);
        look coupling = look_at(statics[1], instance[1], &w.model, &pose, &rest, &no_commands, no_memory);
        look axles = look_at(statics[2], instance[2], &w.model, &pose, &rest, &no_commands, no_memory);
        dd_commands brake = {.brake = 1};
        double memory[MEMORY] = {0}, missing;
        look held = held_at(&w, instance, wheels, &pose, &brake, memory, &missing);
        CHECK_NEAR(held.load.rig[DD_RIG_X], missing, 1e-6 * fabs(missing) + 1e-6);
        double c = 1 / sqrt(1 + grade[i] * grade[i]), s = grade[i] * c;
        /* the coupling's force is vertical load and level pull; across the slope that is N, along it T */
        double pull = axles.channels[0] * s, across = coupling.channels[0] * c - pull * s,
               along = coupling.channels[0] * s + pull * c;
        const double normal[] = {1030.05, 808.4, 751.9}, tension[] = {0, 1753.2, 2182.8};
        CHECK_NEAR(across, normal[i], 0.3);
        CHECK_NEAR(along, tension[i], 0.3);
        const double front[] = {NAN, 8326.4, 8125.9}, rear[] = {NAN, 10014.3, 10088.6}, all[] = {NAN, 0.2103, 0.2636};
        if (i > 0) {
            CHECK_NEAR(wheels_channel(&held, 1, "normal_load_N"), front[i], 0.3);
            CHECK_NEAR(wheels_channel(&held, 2, "normal_load_N"), rear[i], 0.3);
            CHECK_NEAR(wheels_channel(&held, 0, "friction_needed"), all[i], 1e-4);
            CHECK_NEAR(wheels_channel(&held, 0, "friction_needed_pedal"), all[i], 1e-4);
            CHECK_NEAR(wheels_channel(&held, 0, "friction_needed_drive"), all[i], 1e-4);
            /* front axle alone, rear axle alone: the figures of front- and rear-wheel drive */
            const double share[] = {front[i], rear[i]}, one[2][3] = {{NAN, 0.4632, 0.5910}, {NAN, 0.3852, 0.4760}};
            for (int a = 0; a < 2; a++)
                CHECK_NEAR(wheels_channel(&held, 0, "friction_needed_pedal") * (front[i] + rear[i]) / share[a], one[a][i], 1e-4);
            CHECK_NEAR(wheels_channel(&held, 0, "friction_needed_park_lock"), one[1][i], 1e-4);
        }
        /* at rest on the bristles' elastic part nothing creeps: exactly zero rates */
        for (int m = 0; m < 4; m++) assert_true(held.rate[m] == 0.0);
        free_statics(instance);
        dd_force_wheels.free(wheels);
        free_world(&w);
    }
}

/* Road references C02 to C04: the greatest slope that a parked car alone holds, nose uphill: wheelbase 2.7, centre 1.2 behind
   the front axle and 0.55 high, friction 0.6: 16.90 degrees by its rear axle, 16.54 by its front axle, 30.96 by both. The
   friction needed there is 0.6, within 5e-4 (the slopes' 0.01 degree). The trailer is off the ball. */
static void test_parked_alone(void **state)
{
    (void)state;
    const double degrees[] = {16.54, 16.90, 30.96};
    for (int lock = 0; lock < 3; lock++) {
        dd_vehicle_parameters v = test_vehicle_parameters();
        dd_trailer_parameters t = test_trailer_parameters();
        v.mass = 1500;
        v.wheelbase = 2.7;
        v.centre_behind_front_axle = 1.2;
        v.centre_height = 0.55;
        v.park_lock = lock;
        t.jockey.behind_coupling = 0.4;
        const double slope = degrees[lock] * acos(-1.0) / 180;
        dd_ramp_parameters p = test_straight_ramp_parameters(tan(slope));
        world w = world_of(&p, &v, &t);
        void *wheels = prepare(&dd_force_wheels, &w.model);
        dd_pose pose = {.rig = {5, 0, slope}, .attitude = {0, 0, 0, 1}};
        dd_commands parked = {.park_lock = 1, .uncoupled = 1};
        double load = 0;
        look l = look_at(&dd_force_wheels, wheels, &w.model, &pose, &rest, &parked, no_memory);
        for (int a = 0; a < 2; a++)
            if (lock == 2 || lock == a) load += wheels_channel(&l, 1 + a, "normal_load_N");
        CHECK_NEAR(v.mass * 9.81 * sin(slope) / load, 0.6, 5e-4);
        dd_force_wheels.free(wheels);
        free_world(&w);
    }
}

/* Closed form: with usual springs the settled trailer carries its weight: coupling + axles = W on the level, each axle its
   stiffness times squash, coupling = ball stiffness x sink. 1e-6 N. */
static void test_level_trailer(void **state)
{
    (void)state;
    dd_vehicle_parameters v = test_vehicle_parameters();
    dd_trailer_parameters t = test_trailer_parameters();
    dd_ramp_parameters p = test_straight_ramp_parameters(0);
    world w = world_of(&p, &v, &t);
    void *instance[STATICS];
    prepare_statics(&w, instance);
    dd_pose pose = settle(&w, instance, 0);
    look coupling = look_at(statics[1], instance[1], &w.model, &pose, &rest, &no_commands, no_memory);
    look axles = look_at(statics[2], instance[2], &w.model, &pose, &rest, &no_commands, no_memory);
    CHECK_NEAR(coupling.channels[0] + axles.channels[0] + axles.channels[2], 420 * 9.81, 1e-6);
    CHECK_NEAR(coupling.channels[0], -w.rig->ball_stiffness * pose.rig[DD_RIG_HEAVE], 1e-9);
    for (int a = 0; a < 2; a++)
        CHECK_NEAR(axles.channels[2 * a], w.rig->axle_stiffness[a] * axles.channels[2 * a + 1] / 1000, 1e-6);
    free_statics(instance);
    free_world(&w);
}

/* Closed form: on the ground a hub stands the loaded radius above it, tyre_radius + tyre_squash (1 - N/R), R the rated load, and spring_squash
   (1 - N/R) off its place on the frame; off the ground it hangs spring_squash below that place. 1e-9 m. */
static void test_hubs_hang(void **state)
{
    (void)state;
    const double grade[] = {0, 0.15};
    for (int i = 0; i < 2; i++) {
        dd_vehicle_parameters v = test_vehicle_parameters();
        dd_trailer_parameters t = test_trailer_parameters();
        dd_ramp_parameters p = test_straight_ramp_parameters(grade[i]);
        world w = world_of(&p, &v, &t);
        void *instance[STATICS];
        prepare_statics(&w, instance);
        dd_pose pose = settle(&w, instance, 5);
        look axles = look_at(statics[2], instance[2], &w.model, &pose, &rest, &no_commands, no_memory);
        const dd_trailer_parameters *trailer = &w.rig->trailer;
        const double c = 1 / sqrt(1 + grade[i] * grade[i]);
        for (int a = 0; a < 2; a++) {
            dd_kinematics k;
            dd_kinematics_of(&w.model, 0, &pose, &rest, &k);
            const double light = 1 - axles.channels[2 * a] / w.rig->axle_rated_load[a];
            const dd_standing_wheel wheel = dd_axle_stands(w.rig, w.ramp, &k, a);
            assert_true(light > 0.1 && light < 0.99);
            CHECK_NEAR(c * (wheel.hub.z - dd_ramp_at(w.ramp, wheel.hub.x).z), trailer->tyre_radius + trailer->tyre_squash * light, 1e-9);
            CHECK_NEAR(dd_norm(dd_sub(wheel.hub, dd_chassis_point(&k, w.rig->axle[a]))), trailer->spring_squash * light, 1e-9);
            CHECK_NEAR(wheel.foot.z, dd_ramp_at(w.ramp, wheel.foot.x).z, 1e-12);
            dd_pose lifted = pose;
            lifted.rig[DD_RIG_HEAVE] += 1;
            dd_kinematics_of(&w.model, 0, &lifted, &rest, &k);
            CHECK_NEAR(c * (dd_chassis_point(&k, w.rig->axle[a]).z - dd_axle_stands(w.rig, w.ramp, &k, a).hub.z), c * c * trailer->spring_squash, 1e-9);
        }
        free_statics(instance);
        free_world(&w);
    }
}

/* coupling: its load across the slope. Practice references P131, P132 and P194 (statics): car 2000 kg, 55/45, wheelbase 2.8, rig 1500 kg, centre 0.6 high, hitch 1.1
   behind the axle at 0.45. centre: of the rig's mass behind the coupling, axle 4.5 m behind it. */
static look parked_rig(double grade, double centre, const dd_commands *commands, double *coupling)
{
    dd_vehicle_parameters v = test_vehicle_parameters();
    dd_trailer_parameters t = test_trailer_parameters();
    v.mass = 2000;
    v.wheelbase = 2.8;
    v.rear_suspension_squash = t.spring_squash = 1e-6;
    t.tyre_squash = 0;
    v.centre_height = 0.6;
    v.coupling_height = t.coupling_height = 0.45;
    t.mass = 1500;
    t.axle_count = 1;
    t.axles[0] = (dd_axle){4.5, 1500, NAN};
    t.centre_behind_coupling = centre;
    t.centre_above_ground = 0.45;
    dd_ramp_parameters p = test_straight_ramp_parameters(grade);
    p.surface_count = 1; /* no rolling resistance: the rows have none */
    p.surfaces[0] = (dd_surface){.name = "smooth", .from = NAN, .to = NAN, .friction_low = 0.7, .friction_high = 0.9,
                                 .wet_friction_low = NAN, .wet_friction_high = NAN, .rolling_resistance = 0};
    world w = world_of(&p, &v, &t);
    void *instance[STATICS], *wheels = prepare(&dd_force_wheels, &w.model);
    prepare_statics(&w, instance);
    dd_pose pose = settle(&w, instance, 5);
    const double c = 1 / sqrt(1 + grade * grade), sine = grade * c;
    *coupling = look_at(statics[1], instance[1], &w.model, &pose, &rest, commands, no_memory).channels[0] * c -
                look_at(statics[2], instance[2], &w.model, &pose, &rest, commands, no_memory).channels[0] * sine * sine;
    double memory[MEMORY] = {0}, missing;
    look held = held_at(&w, instance, wheels, &pose, commands, memory, &missing);
    free_statics(instance);
    dd_force_wheels.free(wheels);
    free_world(&w);
    return held;
}

/* P131: by the rear axle 0.39 and 0.46, by four wheels 0.21 and 0.25 on 12.5 % and 15 %; P132: rear axle 0.44 and 0.52 without a
   ball load, 0.52 and 0.61 with 100 kg of lift, the trailer's weight unchanged. Within the rows' 0.02. */
static void test_holding_friction(void **state)
{
    (void)state;
    const double grade[] = {0.125, 0.15};
    const struct {
        double centre, ball, rear[2], all[2];
    } rows[] = {{4.2, 100, {0.39, 0.46}, {0.21, 0.25}}, {4.5, 0, {0.44, 0.52}, {NAN, NAN}}, {4.8, -100, {0.52, 0.61}, {NAN, NAN}}};
    for (int i = 0; i < 2; i++)
        for (int r = 0; r < 3; r++) {
            const dd_commands pedal = {.brake = 1}, lock = {.park_lock = 1};
            double ball;
            look held = parked_rig(grade[i], rows[r].centre, &lock, &ball);
            CHECK_NEAR(wheels_channel(&held, 0, "friction_needed_park_lock"), rows[r].rear[i], 0.02);
            CHECK_NEAR(wheels_channel(&held, 0, "friction_needed"), wheels_channel(&held, 0, "friction_needed_park_lock"), 1e-12);
            CHECK_NEAR(ball, rows[r].ball * 9.81 / sqrt(1 + grade[i] * grade[i]), 1);
            CHECK_NEAR(wheels_channel(&held, 0, "friction_available_low"), 0.7, 1e-12);
            CHECK_NEAR(wheels_channel(&held, 0, "friction_available_high"), 0.9, 1e-12);
            if (r > 0) continue;
            held = parked_rig(grade[i], rows[r].centre, &pedal, &ball);
            CHECK_NEAR(wheels_channel(&held, 0, "friction_needed"), rows[r].all[i], 0.02);
        }
}

/* P194: 1000 kg of the 1500 moved 1 m aft take 1000 x 1 / 4.5 kg off the ball (closed form; the level's within 1 N), and the rear
   axle then needs more to hold. */
static void test_boat_aft_lightens_the_rear(void **state)
{
    (void)state;
    const dd_commands lock = {.park_lock = 1};
    double home, aft;
    parked_rig(0, 4.2, &lock, &home);
    parked_rig(0, 4.2 + 1000.0 / 1500, &lock, &aft);
    CHECK_NEAR(home - aft, 1000 * 9.81 / 4.5, 1);
    look before = parked_rig(0.125, 4.2, &lock, &home), after = parked_rig(0.125, 4.2 + 1000.0 / 1500, &lock, &aft);
    assert_true(aft < 0);
    assert_true(wheels_channel(&after, 0, "friction_needed_park_lock") >
                1.3 * wheels_channel(&before, 0, "friction_needed_park_lock"));
}

/* Chocked wheels of one friction share their load's friction alike, whatever the axle (closed form of one common deflection,
   1e-9: their rolling resistance is the same); a chocked trailer then needs less of the vehicle. */
static void test_chocks(void **state)
{
    (void)state;
    const dd_commands chocked = {.vehicle_chocked = 1, .trailer_chocked = 1}, lock = {.park_lock = 1};
    double ball;
    look l = parked_rig(0.125, 4.2, &chocked, &ball), locked = parked_rig(0.125, 4.2, &lock, &ball);
    double rear = wheels_channel(&l, 2, "longitudinal_force_N") / wheels_channel(&l, 2, "normal_load_N"),
           trailer = wheels_channel(&l, 3, "longitudinal_force_N") / wheels_channel(&l, 3, "normal_load_N");
    CHECK_NEAR(rear / trailer, 1, 1e-9);
    assert_true(rear < -0.1 && wheels_channel(&l, 1, "longitudinal_force_N") == 0);
    assert_true(wheels_channel(&l, 0, "friction_needed") < 0.75 * wheels_channel(&locked, 0, "friction_needed"));
}

/* --- gradients and energy at random states ------------------------------------------------------------------------ */

enum { COORDINATES = DD_RIG_COORDINATES };
static double *coordinate(dd_pose *pose, dd_motion *motion, int i)
{
    return i < COORDINATES ? &pose->rig[i] : &motion->rig[i - COORDINATES];
}

typedef struct random_state {
    const dd_force_kind *kind;
    const void *instance;
    const dd_model *model;
    dd_pose pose;
    dd_motion motion;
    dd_commands commands;
    double memory[MEMORY];
} random_state;

static look look_here(const random_state *s)
{
    return look_at(s->kind, s->instance, s->model, &s->pose, &s->motion, &s->commands, s->memory);
}

/* Closed form: central differences of the loads with h = 1e-6; 1e-5 of the largest entry of the row: truncation and, at the
   joints of the profile and of smooth steps, half a jump of the second derivative times h. */
static void check_gradients(const random_state *s)
{
    const double h = 1e-6;
    look here = look_here(s);
    const int memory = s->kind->memory_count != NULL ? s->kind->memory_count(s->instance) : 0;
    for (int i = 0; i < 2 * COORDINATES; i++) {
        random_state a = *s, b = *s;
        *coordinate(&a.pose, &a.motion, i) -= h;
        *coordinate(&b.pose, &b.motion, i) += h;
        look low = look_here(&a), high = look_here(&b);
        for (int c = 0; c < COORDINATES; c++) {
            double exact = -(i < COORDINATES ? here.gradient.rig_K[c][i] : here.gradient.rig_D[c][i - COORDINATES]), scale = 1e5;
            for (int j = 0; j < COORDINATES; j++)
                scale = fmax(scale, fmax(fabs(here.gradient.rig_K[c][j]), fabs(here.gradient.rig_D[c][j])));
            CHECK_NEAR((high.load.rig[c] - low.load.rig[c]) / (2 * h), exact, 1e-5 * scale);
        }
        for (int m = 0; i >= COORDINATES && m < memory; m++)
            CHECK_NEAR((high.rate[m] - low.rate[m]) / (2 * h), here.rate_by_rig[m][i - COORDINATES], 1e-5);
    }
    for (int m = 0; m < memory; m++) {
        const double step = 1e-9;
        random_state a = *s, b = *s;
        a.memory[m] -= step;
        b.memory[m] += step;
        look low = look_here(&a), high = look_here(&b);
        for (int c = 0; c < COORDINATES; c++)
            CHECK_NEAR((high.load.rig[c] - low.load.rig[c]) / (2 * step), here.rig_by_value[m][c],
                       1e-4 * fabs(here.rig_by_value[m][c]) + 50);
        CHECK_NEAR((high.rate[m] - low.rate[m]) / (2 * step), here.rate_by_value[m], 1e-4 * fabs(here.rate_by_value[m]) + 1e-3);
    }
}

/* Closed form: a passive force's power is -(rate of its stored energy) - heat, heat >= 0. Rate of energy by differences along
   the motion, 1e-6 s: 1e-5 of the exchanged power. */
static void check_energy(const random_state *s)
{
    const double h = 1e-6;
    look here = look_here(s);
    random_state a = *s, b = *s;
    double power = 0, size = 1;
    for (int c = 0; c < COORDINATES; c++) {
        a.pose.rig[c] -= h * s->motion.rig[c];
        b.pose.rig[c] += h * s->motion.rig[c];
        power += here.load.rig[c] * s->motion.rig[c];
        size += fabs(here.load.rig[c] * s->motion.rig[c]);
    }
    double storing = (look_here(&b).load.energy - look_here(&a).load.energy) / (2 * h);
    CHECK_NEAR(power, -storing - here.load.heat, 1e-5 * size + 1e-3);
    if (s->kind->passive) assert_true(here.load.heat >= -1e-9 * size);
}

/* The right-hand side takes the path without derivatives: the same bits. */
static void check_plain(const random_state *s)
{
    look here = look_here(s);
    dd_kinematics k;
    dd_kinematics_of(s->model, 0, &s->pose, &s->motion, &k);
    double rate[MEMORY] = {0};
    dd_memory memory = {.value = s->memory, .rate = rate};
    dd_load load;
    memset(&load, 0, sizeof load);
    s->kind->evaluate(s->instance, &k, &s->commands, &memory, &load, NULL, NULL);
    for (int c = 0; c < 3; c++) assert_true(load.rig[c] == here.load.rig[c]);
    for (int m = 0; m < MEMORY; m++) assert_true(rate[m] == here.rate[m]);
    assert_true(load.energy == here.load.energy && load.heat == here.load.heat);
}

static void check_random_states(int suspension)
{
    const dd_force_kind *const kinds[] = {&dd_force_rig_weight,   &dd_force_coupling, &dd_force_axles,        &dd_force_wheels,
                                          &dd_force_rig_buoyancy, &dd_force_rig_drag};
    dd_vehicle_parameters v = test_vehicle_parameters();
    dd_trailer_parameters t = test_trailer_parameters();
    dd_ramp_parameters p = test_ramp_parameters();
    t.suspension = suspension;
    t.beam_arm_ratio = 1.2;
    p.surface_count = 1;
    p.surfaces[0] = (dd_surface){.name = "weed", .from = 10, .to = 28, .friction_low = 0.1, .friction_high = 0.25, .rolling_resistance = NAN};
    world w = world_of(&p, &v, &t);
    w.model.water.level = 0.4;
    unsigned long long seed = 20251125;
    for (int f = 0; f < 6; f++) {
        void *instance = prepare(kinds[f], &w.model);
        for (const dd_regime *r = kinds[f]->regimes; r->name != NULL; r++) {
            int loaded = 0;
            for (int i = 0; i < 100; i++) {
                random_state s = {.kind = kinds[f], .instance = instance, .model = &w.model};
                r->draw(instance, &w.model, uniform, &seed, &s.pose, &s.motion, s.memory, &s.commands);
                look l = look_here(&s);
                loaded += l.load.rig[0] != 0 || l.load.rig[1] != 0 || l.load.rig[2] != 0;
                check_gradients(&s);
                check_energy(&s);
                check_plain(&s);
            }
            if (loaded < 90) fail_msg("%s, %s: %d loaded", kinds[f]->name, r->name, loaded);
        }
        kinds[f]->free(instance);
    }
    free_world(&w);
}

static void test_random_states(void **state)
{
    (void)state;
    check_random_states(DD_SUSPENSION_SPRINGS);
}

static void test_random_states_on_beams(void **state)
{
    (void)state;
    check_random_states(DD_SUSPENSION_BEAM);
}

/* Greatest slope of load by squash: 4/3 of S, times stiffness and damping setting in (3/2 over a fifth of 72 mm). */
static double steepest(const dd_rig *rig, double rate)
{
    return 4.0 / 3 * (rig->axle_stiffness[0] + 1.5 / (0.2 * 0.072) * rig->axle_damping[0] * rate);
}

/* Axles never pull: the load is never below zero, zero with the wheels clear of the ground; the step of load has no jump. */
static void test_axles_never_pull(void **state)
{
    (void)state;
    dd_vehicle_parameters v = test_vehicle_parameters();
    dd_trailer_parameters t = test_trailer_parameters();
    dd_ramp_parameters p = test_straight_ramp_parameters(0.125);
    world w = world_of(&p, &v, &t);
    void *axles = prepare(&dd_force_axles, &w.model);
    double before = 0;
    for (double rate = -0.5; rate < 0.6; rate += 0.25)
        for (double lift = 0.2; lift > -0.1; lift -= 1e-4) {
            dd_pose pose = {.rig = {5, lift, atan(0.125)}, .attitude = {0, 0, 0, 1}};
            dd_motion motion = {{0, rate, 0}, {0}};
            look l = look_at(&dd_force_axles, axles, &w.model, &pose, &motion, &no_commands, no_memory);
            assert_true(l.channels[0] >= 0);
            if (l.channels[1] < 0) assert_true(l.channels[0] == 0);
            if (lift < 0.2 - 1e-9) CHECK_NEAR(l.channels[0], before, 1e-4 * steepest(w.rig, fabs(rate)));
            before = l.channels[0];
        }
    dd_force_axles.free(axles);
    free_world(&w);
}

/* Limit: thrust of spinning wheels is the spinning share of friction times load (1e-6), and brakes slide
   at limit times load (closed form of the bristle in steady sliding, exact but for the speed's own damping term). */
static void test_grip_limits(void **state)
{
    (void)state;
    world w = reference_world(0.12);
    void *wheels = prepare(&dd_force_wheels, &w.model);
    dd_pose pose = {.rig = {5, -0.0005e-3, atan(0.12)}, .attitude = {0, 0, 0, 1}};
    dd_commands drive = {.drive_speed = -100};
    look l = look_at(&dd_force_wheels, wheels, &w.model, &pose, &rest, &drive, no_memory);
    for (int a = 1; a < 3; a++) {
        double load = wheels_channel(&l, a, "normal_load_N");
        CHECK_NEAR(wheels_channel(&l, a, "longitudinal_force_N"), -0.8 * 0.55 * load, 1e-6 * load);
    }
    CHECK_BETWEEN(wheels_channel(&l, 0, "wheel_slip"), 0.9, 1);
    dd_commands brake = {.brake = 1};
    double memory[MEMORY] = {0, 0.6 / 500, 0.6 / 500, 0.6 / 500};
    dd_motion sliding = {{0.5, 0, 0}, {0}};
    l = look_at(&dd_force_wheels, wheels, &w.model, &pose, &sliding, &brake, memory);
    for (int a = 1; a < 3; a++)
        CHECK_NEAR(wheels_channel(&l, a, "longitudinal_force_N"), -(0.55 + 0.015) * wheels_channel(&l, a, "normal_load_N"),
                   1e-9 * wheels_channel(&l, a, "normal_load_N"));
    for (int m = 1; m < 4; m++) CHECK_NEAR(l.rate[m], 0, 1e-15);
    dd_force_wheels.free(wheels);
    free_world(&w);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_statics_on_slopes), cmocka_unit_test(test_level_trailer),
        cmocka_unit_test(test_parked_alone),      cmocka_unit_test(test_boat_aft_lightens_the_rear),
        cmocka_unit_test(test_chocks),            cmocka_unit_test(test_holding_friction),
        cmocka_unit_test(test_random_states),    cmocka_unit_test(test_random_states_on_beams),
        cmocka_unit_test(test_axles_never_pull),  cmocka_unit_test(test_grip_limits),
        cmocka_unit_test(test_hubs_hang),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
