/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rig's own forces alone: statics of coupling and axles, gradients, energy, friction that holds. */
#include "tests/unit/ode/checks.h"
#include "tests/unit/rig/rigs.h"
#include "lib/force/wheels.h"
#include "lib/state/kinematics.h"
#include <stdlib.h>

typedef struct world {
    dd_model model;
    dd_ramp *ramp;
    dd_rig *rig;
} world;

static world world_of(const dd_ramp_parameters *ramp, const dd_vehicle_parameters *vehicle,
                      const dd_trailer_parameters *trailer)
{
    world w = {.ramp = test_ramp_of(ramp), .rig = test_rig_of(vehicle, trailer)};
    w.model = (dd_model){.rig = w.rig, .ramp = w.ramp, .gravity = 9.81};
    w.model.water.level = -100;
    return w;
}

static void free_world(world *w)
{
    dd_rig_free(w->rig);
    dd_ramp_free(w->ramp);
}

static void *prepare(const dd_force_kind *kind, const dd_model *model)
{
    void *instance;
    dd_error error = {0};
    CHECK_OK(kind->prepare(model, NULL, &instance, &error), &error);
    assert_non_null(instance);
    return instance;
}

enum { MEMORY = 8, UNITS = 8, CHANNELS = 4 };

typedef struct look {
    dd_load load;
    dd_gradient gradient;
    double rate[MEMORY], load_by_value[MEMORY][6], rig_by_value[MEMORY][DD_RIG_COORDINATES], rate_by_twist[MEMORY][6], rate_by_rig[MEMORY][DD_RIG_COORDINATES],
        rate_by_value[MEMORY];
    double channels[UNITS * CHANNELS];
} look;

static look look_at(const dd_force_kind *kind, const void *instance, const dd_model *model, const dd_pose *pose,
                    const dd_motion *motion, const dd_commands *commands, const double *memory)
{
    look l;
    memset(&l, 0, sizeof l);
    dd_kinematics k;
    dd_kinematics_of(model, 0, pose, motion, &k);
    dd_memory m = {.value = memory,
                   .rate = l.rate,
                   .load_by_value = l.load_by_value,
                   .rig_by_value = l.rig_by_value,
                   .rate_by_twist = l.rate_by_twist,
                   .rate_by_rig = l.rate_by_rig,
                   .rate_by_value = l.rate_by_value};
    kind->evaluate(instance, &k, commands, &m, &l.load, &l.gradient, l.channels);
    return l;
}

/* A rig whose trailer has the coupling, axle and centre of road reference C07-C09: mass 1500, coupling to axle 4.5, centre
   0.315 ahead of it and 1.0 high, coupling 0.45 high; vehicle of C10: 1800 kg, wheelbase 2.7, centre 1.25 behind the front
   axle and 0.6 high, ball 1.1 behind the rear axle. Springs next to rigid, no rolling resistance of the trailer. */
static world reference_world(double grade)
{
    dd_vehicle_parameters v = test_vehicle_parameters();
    dd_trailer_parameters t = test_trailer_parameters();
    v.mass = 1800;
    v.wheelbase = 2.7;
    v.centre_behind_front_axle = 1.25;
    v.centre_height = 0.6;
    v.coupling_behind_rear_axle = 1.1;
    v.coupling_height = t.coupling_height = 0.45;
    v.rear_suspension_squash = 1e-6;
    t.mass = 1500;
    t.axle_count = 1;
    t.axles[0] = (dd_axle){4.5, 1500};
    t.centre_behind_coupling = 4.5 - 0.315;
    t.centre_above_ground = 1.0;
    t.tyre_squash = 0;
    t.spring_squash = 1e-6;
    t.rolling_resistance = 0;
    dd_ramp_parameters p = test_straight_ramp_parameters(grade);
    return world_of(&p, &v, &t);
}

static const dd_force_kind *const statics[] = {&dd_force_rig_weight, &dd_force_coupling, &dd_force_axles};
static const double no_memory[MEMORY];
static const dd_motion rest;
static const dd_commands no_commands;

/* Heave and pitch in balance at x, by Newton's method on the forces' own K. */
static dd_pose settle(const world *w, void *const instance[3], double x)
{
    dd_pose pose = {.rig = {x, 0, dd_vehicle_on_profile(&w->rig->vehicle, w->ramp, x).pitch}, .attitude = {0, 0, 0, 1}};
    for (int i = 0; i < 200; i++) {
        double q[3] = {0}, k[3][3] = {{0}};
        for (int f = 0; f < 3; f++) {
            look l = look_at(statics[f], instance[f], &w->model, &pose, &rest, &no_commands, no_memory);
            for (int a = 1; a < 3; a++) {
                q[a] += l.load.rig[a];
                for (int b = 1; b < 3; b++) k[a][b] += l.gradient.rig_K[a][b];
            }
        }
        double determinant = k[1][1] * k[2][2] - k[1][2] * k[2][1];
        double heave = (q[1] * k[2][2] - q[2] * k[1][2]) / determinant, pitch = (q[2] * k[1][1] - q[1] * k[2][1]) / determinant;
        double most = fmax(fabs(heave) / 0.02, fabs(pitch) / 0.005), part = most > 1 ? 1 / most : 1;
        pose.rig[DD_RIG_HEAVE] += part * heave;
        pose.rig[DD_RIG_PITCH] += part * pitch;
    }
    return pose;
}

/* Closed form (C07, C09: moments about the axle; C10: about the rear contact), g 9.81: loads within 0.3 N, since the table
   prints 0.1 N and the springs squash by 1e-6 m; friction needed within 1e-4. */
static void test_statics_on_slopes(void **state)
{
    (void)state;
    const double grade[] = {0, 0.12, 0.15};
    for (int i = 0; i < 3; i++) {
        world w = reference_world(grade[i]);
        void *instance[3], *wheels = prepare(&dd_force_wheels, &w.model);
        for (int f = 0; f < 3; f++) instance[f] = prepare(statics[f], &w.model);
        dd_pose pose = settle(&w, instance, 5);
        look coupling = look_at(statics[1], instance[1], &w.model, &pose, &rest, &no_commands, no_memory);
        look axles = look_at(statics[2], instance[2], &w.model, &pose, &rest, &no_commands, no_memory);
        dd_commands brake = {.brake = 1};
        double memory[MEMORY] = {0}, missing = 0;
        for (int f = 0; f < 3; f++)
            missing -= look_at(statics[f], instance[f], &w.model, &pose, &rest, &no_commands, no_memory).load.rig[DD_RIG_X];
        dd_kinematics k;
        dd_kinematics_of(&w.model, 0, &pose, &rest, &k);
        dd_wheels_hold(wheels, &k, &brake, missing, memory);
        look held = look_at(&dd_force_wheels, wheels, &w.model, &pose, &rest, &brake, memory);
        CHECK_NEAR(held.load.rig[DD_RIG_X], missing, 1e-6 * fabs(missing) + 1e-6);
        double c = 1 / sqrt(1 + grade[i] * grade[i]), s = grade[i] * c;
        /* the coupling's force is vertical load and level pull; across the slope that is N, along it T */
        double pull = axles.channels[0] * s, across = coupling.channels[0] * c - pull * s,
               along = coupling.channels[0] * s + pull * c;
        const double normal[] = {1030.05, 808.4, 751.9}, tension[] = {0, 1753.2, 2182.8};
        CHECK_NEAR(across, normal[i], 0.3);
        CHECK_NEAR(along, tension[i], 0.3);
        const double front[] = {NAN, 8326.4, 8125.9}, rear[] = {NAN, 10014.3, 10088.6}, four[] = {NAN, 0.2103, 0.2636};
        if (i > 0) {
            CHECK_NEAR(held.channels[1 * CHANNELS], front[i], 0.3);
            CHECK_NEAR(held.channels[2 * CHANNELS], rear[i], 0.3);
            CHECK_NEAR(held.channels[2], four[i], 1e-4);
        }
        /* at rest on the bristles' elastic part nothing creeps: exactly zero rates */
        for (int m = 0; m < 4; m++) assert_true(held.rate[m] == 0.0);
        for (int f = 0; f < 3; f++) statics[f]->free(instance[f]);
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
    void *instance[3];
    for (int f = 0; f < 3; f++) instance[f] = prepare(statics[f], &w.model);
    dd_pose pose = settle(&w, instance, 0);
    look coupling = look_at(statics[1], instance[1], &w.model, &pose, &rest, &no_commands, no_memory);
    look axles = look_at(statics[2], instance[2], &w.model, &pose, &rest, &no_commands, no_memory);
    CHECK_NEAR(coupling.channels[0] + axles.channels[0] + axles.channels[2], 420 * 9.81, 1e-6);
    CHECK_NEAR(coupling.channels[0], -w.rig->ball_stiffness * pose.rig[DD_RIG_HEAVE], 1e-9);
    for (int a = 0; a < 2; a++)
        CHECK_NEAR(axles.channels[2 * a], w.rig->axle_stiffness[a] * axles.channels[2 * a + 1] / 1000, 1e-6);
    for (int f = 0; f < 3; f++) statics[f]->free(instance[f]);
    free_world(&w);
}

/* Practice reference P131 (statics): car 2000 kg, 55/45, wheelbase 2.8, rig 1500 kg, ball load 100 kg, centre 0.6 high, hitch
   1.1 behind the axle at 0.45: four wheels hold at 0.21 on 12.5 % and 0.25 on 15 %, within 0.02. */
static void test_holding_friction(void **state)
{
    (void)state;
    const double grade[] = {0.125, 0.15}, four[] = {0.21, 0.25};
    for (int i = 0; i < 2; i++) {
        dd_vehicle_parameters v = test_vehicle_parameters();
        dd_trailer_parameters t = test_trailer_parameters();
        v.mass = 2000;
        v.wheelbase = 2.8;
        v.centre_height = 0.6;
        v.coupling_height = t.coupling_height = 0.45;
        t.mass = 1500;
        t.axle_count = 1;
        t.axles[0] = (dd_axle){4.5, 1500};
        t.centre_behind_coupling = 4.2;
        t.centre_above_ground = 0.5;
        dd_ramp_parameters p = test_straight_ramp_parameters(grade[i]);
        world w = world_of(&p, &v, &t);
        void *instance[3], *wheels = prepare(&dd_force_wheels, &w.model);
        for (int f = 0; f < 3; f++) instance[f] = prepare(statics[f], &w.model);
        dd_pose pose = settle(&w, instance, 5);
        double missing = 0, memory[MEMORY] = {0};
        for (int f = 0; f < 3; f++)
            missing -= look_at(statics[f], instance[f], &w.model, &pose, &rest, &no_commands, no_memory).load.rig[DD_RIG_X];
        dd_commands brake = {.brake = 1};
        dd_kinematics k;
        dd_kinematics_of(&w.model, 0, &pose, &rest, &k);
        dd_wheels_hold(wheels, &k, &brake, missing, memory);
        look held = look_at(&dd_force_wheels, wheels, &w.model, &pose, &rest, &brake, memory);
        CHECK_NEAR(held.channels[2], four[i], 0.02);
        CHECK_NEAR(held.channels[3], 0.5, 1e-12);
        for (int f = 0; f < 3; f++) statics[f]->free(instance[f]);
        dd_force_wheels.free(wheels);
        free_world(&w);
    }
}

/* --- gradients and energy at random states ------------------------------------------------------------------------ */

static double uniform(void *context)
{
    unsigned long long *s = context;
    *s = *s * 6364136223846793005ULL + 1442695040888963407ULL;
    return (double)(*s >> 11) / 9007199254740992.0;
}

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

static void test_random_states(void **state)
{
    (void)state;
    const dd_force_kind *const kinds[] = {&dd_force_rig_weight, &dd_force_coupling, &dd_force_axles, &dd_force_wheels};
    dd_vehicle_parameters v = test_vehicle_parameters();
    dd_trailer_parameters t = test_trailer_parameters();
    dd_ramp_parameters p = test_ramp_parameters();
    p.surface_count = 1;
    p.surfaces[0] = (dd_surface){.name = "weed", .from = 10, .to = 28, .friction_low = 0.1, .friction_high = 0.25, .rolling_resistance = NAN};
    world w = world_of(&p, &v, &t);
    unsigned long long seed = 20251125;
    for (int f = 0; f < 4; f++) {
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
            assert_true(loaded >= 90);
        }
        kinds[f]->free(instance);
    }
    free_world(&w);
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

/* Limit: thrust of spinning wheels is their friction times their load (asymptote of the saturation, 1e-6), and brakes slide
   at limit times load (closed form of the bristle in steady sliding, exact but for the speed's own damping term). */
static void test_grip_limits(void **state)
{
    (void)state;
    world w = reference_world(0.12);
    void *wheels = prepare(&dd_force_wheels, &w.model);
    dd_pose pose = {.rig = {5, -0.0005e-3, atan(0.12)}, .attitude = {0, 0, 0, 1}};
    dd_commands drive = {.drive_speed = -100};
    look l = look_at(&dd_force_wheels, wheels, &w.model, &pose, &rest, &drive, no_memory);
    for (int a = 1; a < 3; a++)
        CHECK_NEAR(l.channels[a * CHANNELS + 1], -0.55 * l.channels[a * CHANNELS], 1e-6 * l.channels[a * CHANNELS]);
    dd_commands brake = {.brake = 1};
    double memory[MEMORY] = {0, 0.6 / 500, 0.6 / 500, 0.6 / 500};
    dd_motion sliding = {{0.5, 0, 0}, {0}};
    l = look_at(&dd_force_wheels, wheels, &w.model, &pose, &sliding, &brake, memory);
    for (int a = 1; a < 3; a++)
        CHECK_NEAR(l.channels[a * CHANNELS + 1], -(0.55 + 0.015) * l.channels[a * CHANNELS], 1e-9 * l.channels[a * CHANNELS]);
    for (int m = 1; m < 4; m++) CHECK_NEAR(l.rate[m], 0, 1e-15);
    dd_force_wheels.free(wheels);
    free_world(&w);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_statics_on_slopes), cmocka_unit_test(test_level_trailer),
        cmocka_unit_test(test_holding_friction),  cmocka_unit_test(test_random_states),
        cmocka_unit_test(test_axles_never_pull),  cmocka_unit_test(test_grip_limits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
