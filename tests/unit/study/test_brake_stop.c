/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A rig that stops, by the equations of motion, against closed forms, tables and another integrator. */
#include "lib/rig/road.h"
#include "lib/study/brake_motion.h"
#include "tests/unit/ode/cvode_stepper.h"
#include "tests/unit/study/reports.h"
#include <drawdock/rules.h>

#define G 9.81
#define MPH 0.44704

/* The worked rig of road.md C07 and C10 (derived figures, statics): vehicle 1800 kg, wheelbase 2.7 m, centre 1.25 m behind the front axle and
   0.6 m up; trailer 1500 kg with its axle 4.5 m behind the coupling, centre 0.315 m ahead of that and 1.0 m up, coupling 0.45 m up, its
   tyres and springs stiff so that the geometry stays. */
static void make_parameters(dd_vehicle_parameters *v, dd_trailer_parameters *t, double trailer_mass)
{
    dd_case_file *file = scenario_with(BARE, NULL);
    *v = dd_case_of(file)->vehicle;
    *t = dd_case_of(file)->trailer;
    dd_case_free(file);
    v->mass = 1800, v->wheelbase = 2.7, v->centre_behind_front_axle = 1.25, v->centre_height = 0.6;
    v->coupling_behind_rear_axle = 1.1, v->coupling_height = 0.45, v->rear_suspension_squash = 1e-3;
    v->braking.front_squash = 1e-3, v->braking.ride_damping = 1;
    v->braking.wheel_inertia = 1e-3, v->braking.drag_area = 0, v->braking.rise_time = 0.01;
    t->mass = trailer_mass, t->centre_behind_coupling = 4.185, t->centre_above_ground = 1.0, t->pitch_radius = 1.2;
    t->coupling_height = 0.45, t->tyre_radius = 0.3, t->tyre_squash = 5e-4, t->spring_squash = 5e-4;
    t->axle_count = 1, t->axles[0].behind_coupling = 4.5, t->axles[0].rating = 1500;
    t->rear_end_behind_coupling = 7, t->bounce_damping_ratio = 1, t->suspension = DD_SUSPENSION_SPRINGS;
    t->braking.wheel_inertia = 1e-3, t->braking.drag_area = 0;
    t->brakes.axles = 1;
}

static dd_brake_rig *rig_of(const dd_vehicle_parameters *v, const dd_trailer_parameters *t, double grade)
{
    dd_brake_rig *rig = NULL;
    dd_error error = {.status = DD_OK};
    if (dd_brake_rig_create(v, t, atan(grade), G, &rig, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
    return rig;
}

static dd_stop_asked asked_of(int fitted, double speed, double grade)
{
    return (dd_stop_asked){.system = dd_brake_kind_fitted(fitted), .speed = speed, .pedal = 1, .vehicle_share = 1, .trailer_share = 1, .lever = NAN,
                           .road = {.grade = atan(grade), .friction = 1.2, .slide = 0.9, .peak_slip = 0.1, .rolling_resistance = 0}};
}

static void stop_it(const dd_brake_rig *rig, const dd_stop_asked *asked, dd_stop *stop)
{
    dd_error error = {.status = DD_OK};
    if (dd_brake_stop(rig, asked, stop, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
    assert_true(stop->stopped);
}

/* Loads standing still against the textbook closed forms of road.md C07, C09 and C10 (grade: formula, derived), to the stiffness of
   the springs (0.5 N: 1 mm of sinkage at 4.5 m). */
static void standing(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    const struct {
        double grade, coupling, pull, front, rear;
    } rows[] = {{0, 1030.05, 0, NAN, NAN}, {0.12, 808.4, 1753.2, 8326.4, 10014.3}, {0.15, 751.9, 2182.8, 8125.9, 10088.6}};
    make_parameters(&v, &t, 1500);
    for (int i = 0; i < 3; i++) {
        dd_brake_rig *rig = rig_of(&v, &t, rows[i].grade);
        NEAR(rig->coupling_rest, rows[i].coupling, 3);
        if (!isnan(rows[i].front)) {
            NEAR(rig->axle_rest[0], rows[i].front, 4);
            NEAR(rig->axle_rest[1], rows[i].rear, 4);
        }
        /* By its own springs as by the statics of holding, and level as by the statics of weigh (the other paths). */
        const dd_standing z = dd_stand_on(&v, &t, G, atan(rows[i].grade), 0, NAN);
        NEAR(rig->axle_rest[0], z.front, 4);
        NEAR(rig->axle_rest[1], z.rear, 4);
        NEAR(rig->axle_rest[2], z.trailer, 4);
        NEAR(rig->coupling_rest, z.coupling, 3);
        dd_road_loads level;
        dd_error error;
        dd_trailer_parameters empty = t;
        empty.mass = 1000; /* the rest as its load, at the same place */
        assert_int_equal(dd_road_statics(&v, &empty, 500, dd_vec(4.185, 0, 0.55), G, &level, &error), DD_OK);
        if (i == 0) {
            NEAR(level.vehicle_front, z.front, 4);
            NEAR(level.vehicle_rear, z.rear, 4);
            NEAR(level.axle_group, z.trailer, 4);
        }
        dd_brake_rig_free(rig);
    }
}

/* Load transfer in a steady stop, braked by the vehicle alone: C08's coupling load 1929.3 N and push 7357.5 N at 0.5 g (grade: formula,
   derived); tolerance 0.6 % for the springs that give. */
static void load_transfer(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    make_parameters(&v, &t, 1500);
    v.braking.deceleration = 0.5 * G * 3300 / 1800;
    dd_brake_rig *rig = rig_of(&v, &t, 0);
    dd_stop_asked asked = asked_of(DD_FITTED_NONE, 20, 0);
    dd_stop *stop = malloc(sizeof *stop);
    stop_it(rig, &asked, stop);
    const dd_stop_sample *s = &stop->samples[stop->sample_count / 2];
    NEAR(s->deceleration, 0.5 * G, 0.01);
    NEAR(s->push, 7357.5, 10);
    NEAR(s->coupling_load, 1929.3, 12);
    /* Of the vehicle, by its own balance: L N_front = W (L - a) + m a h + push h_b - coupling b. */
    NEAR(s->load[0], (1800 * G * 1.45 + 1800 * s->deceleration * 0.6 + s->push * 0.45 - s->coupling_load * 1.1) / 2.7, 5);
    NEAR(s->load[0] + s->load[1], 1800 * G + s->coupling_load, 1e-6 * 1800 * G);
    NEAR(stop->residual, 0, 1e-6);
    free(stop);
    dd_brake_rig_free(rig);
}

/* On springs as a car has them (estimated ones), braked steadily: once the nodding has died away the loads are the closed form's
   (0.2 %), the body stands on its springs as those loads say (closed form, 0.2 %), and before that it
   has nodded further. Grade: closed form. */
static void nodding(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    make_parameters(&v, &t, 1500);
    v.rear_suspension_squash = 0.03, v.braking.front_squash = 0.15, v.braking.ride_damping = 0.3, v.braking.rise_time = 0.05;
    v.braking.deceleration = 0.5 * G * 3300 / 1800;
    dd_brake_rig *rig = rig_of(&v, &t, 0);
    dd_stop_asked asked = asked_of(DD_FITTED_NONE, 30, 0);
    dd_stop *stop = malloc(sizeof *stop);
    stop_it(rig, &asked, stop);
    const dd_stop_sample *s = &stop->samples[stop->sample_count * 4 / 5];
    NEAR(s->deceleration, 0.5 * G, 0.01);
    NEAR(s->load[0], (1800 * G * 1.45 + 1800 * s->deceleration * 0.6 + s->push * 0.45 - s->coupling_load * 1.1) / 2.7, 0.002 * s->load[0]);
    NEAR(s->load[0] + s->load[1], 1800 * G + s->coupling_load, 0.001 * 1800 * G);
    const double front = (s->load[0] - rig->axle_rest[0]) / rig->ride.stiffness[0], rear = (s->load[1] - rig->axle_rest[1]) / rig->ride.stiffness[1];
    NEAR(s->nose_down, (front - rear) / 2.7, 0.002 * s->nose_down);
    assert_true(s->nose_down > 0.015 && s->nose_down < 0.06);
    assert_true(stop->most_nose_down > 1.1 * s->nose_down);
    NEAR(stop->residual, 0, 1e-6);
    /* Springs of the front as its squash says, the ball sinks by what the rear's says. */
    NEAR(rig->ride.stiffness[0] * 0.15, 1800 * G * 1.45 / 2.7, 1e-9 * 1800 * G);
    NEAR((3.8 * 3.8 / rig->ride.stiffness[1] + 1.1 * 1.1 / rig->ride.stiffness[0]) / (2.7 * 2.7) * v.rated_coupling_load, 0.03, 1e-12);
    free(stop);
    dd_brake_rig_free(rig);
}

/* On a grade an overrun coupling slides along it: in a steady stop down 12 % the push is what the trailer's own balance along the road asks, and
   the brake's torque is that of the push (closed forms, 0.1 %: sliding level would miss by 0.7 %). */
static void overrun_on_a_grade(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    make_parameters(&v, &t, 1500);
    const double w = 1500 * G, sine = -sin(atan(-0.12));
    t.braking.overrun.full_push = 0.12 * w;
    v.braking.deceleration = 3.5;
    dd_brake_rig *rig = rig_of(&v, &t, -0.12);
    dd_stop_asked asked = asked_of(DD_FITTED_OVERRUN, 30, -0.12);
    dd_stop *stop = malloc(sizeof *stop);
    stop_it(rig, &asked, stop);
    const dd_stop_sample *s = &stop->samples[0];
    for (int i = 0; i < stop->sample_count; i++)
        if (stop->samples[i].time < 0.8 * stop->time) s = &stop->samples[i];
    NEAR(s->push, 1500 * s->deceleration + w * sine - s->torque[2] / 0.3, 0.001 * s->push);
    NEAR(s->torque[2] / 0.3, 6.125 * (s->push - 0.02 * w), 0.001 * 6.125 * s->push);
    NEAR(stop->residual, 0, 1e-6);
    free(stop);
    dd_brake_rig_free(rig);
}

/* Level: the book's own formula, 1.47 V t and 1.075 V2 / a, to the printed digit; reaction and braking of the stop against the printed sum (0.6 %:
   the rest of the vehicle, and half a foot: 1.47 and 1.075 are rounded by 0.2 %); a/g = 0.35 on a grade against the formula column (0.6 %:
   sin for tan). The vehicle alone, its trailer 10 kg. */
static void stopping_sight_distance(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    char path[256], line[256], unit[16];
    const double feet = 0.3048;
    dd_stop *stop = malloc(sizeof *stop);
    make_parameters(&v, &t, 10);
    v.braking.deceleration = 11.2 * feet * (1810.0 / 1800);
    snprintf(path, sizeof path, SOURCE_DIR "/tests/reference/road/aashto_ssd_level.csv");
    FILE *file = fopen(path, "r");
    assert_non_null(file);
    int rows = 0;
    dd_brake_rig *rig = rig_of(&v, &t, 0);
    while (fgets(line, sizeof line, file)) {
        double mph, reaction, braking, sum;
        if (sscanf(line, "%lf,%lf,%lf,%lf", &mph, &reaction, &braking, &sum) != 4) continue;
        NEAR(1.47 * mph * 2.5, reaction, 0.0501);
        NEAR(1.075 * mph * mph / 11.2, braking, 0.0501);
        dd_stop_asked asked = asked_of(DD_FITTED_NONE, mph * MPH, 0);
        stop_it(rig, &asked, stop);
        const double found = (stop->distance + 2.5 * mph * MPH) / feet;
        NEAR(found, sum, 0.006 * sum + 0.5);
        rows++;
    }
    dd_brake_rig_free(rig);
    fclose(file);
    assert_int_equal(rows, 14);
    snprintf(path, sizeof path, SOURCE_DIR "/tests/reference/road/aashto_ssd_grade.csv");
    file = fopen(path, "r");
    assert_non_null(file);
    rows = 0;
    double before = 1e9;
    rig = NULL;
    v.braking.deceleration = 3.4 * (1810.0 / 1800);
    while (fgets(line, sizeof line, file)) {
        double speed, percent, expected;
        if (sscanf(line, "%15[^,],%lf,%lf,%lf", unit, &speed, &percent, &expected) != 4 || strcmp(unit, "SI_kmh_m") != 0 || speed < 50) continue;
        if (percent != before) {
            dd_brake_rig_free(rig);
            rig = rig_of(&v, &t, percent / 100);
            before = percent;
        }
        dd_stop_asked asked = asked_of(DD_FITTED_NONE, speed / 3.6, percent / 100);
        stop_it(rig, &asked, stop);
        NEAR(stop->distance + 2.5 * speed / 3.6, expected, 0.006 * expected);
        rows++;
    }
    fclose(file);
    print_message("%d rows on grades\n", rows);
    assert_true(rows > 40);
    dd_brake_rig_free(rig);
    free(stop);
}

/* Overrun at a steady deceleration against the worked trailer (1 %: half of it the approach to the steady state within the stop). */
static void overrun_equilibrium(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    char line[256];
    int rows = 0;
    dd_stop *stop = malloc(sizeof *stop);
    make_parameters(&v, &t, 1500);
    t.braking.overrun.full_push = 0.12 * 1500 * G; /* so that the coupling does not come to the end of its travel at 0.10 of the weight */
    FILE *file = fopen(SOURCE_DIR "/tests/reference/road/overrun_worked.csv", "r");
    assert_non_null(file);
    while (fgets(line, sizeof line, file)) {
        double z, push, ratio;
        if (sscanf(line, "%lf,%lf,%lf", &z, &push, &ratio) != 3) continue;
        v.braking.deceleration = (1800 * z * G + push) / 1800 - 0.01 * G;
        dd_brake_rig *rig = rig_of(&v, &t, 0);
        dd_stop_asked asked = asked_of(DD_FITTED_OVERRUN, 30, 0);
        asked.road.rolling_resistance = 0.01;
        stop_it(rig, &asked, stop);
        const dd_stop_sample *s = &stop->samples[0];
        for (int i = 0; i < stop->sample_count; i++)
            if (stop->samples[i].time < 0.7 * stop->time) s = &stop->samples[i];
        NEAR(s->deceleration / G, z, 0.01 * z);
        NEAR(s->push, push, 0.01 * push);
        /* With the wheels' rolling, which goes by their load and not by the whole weight. */
        NEAR(s->torque[2] / 0.3 / (1500 * G) + 0.01 * s->load[2] / (1500 * G), ratio + 0.01, 0.01 * (ratio + 0.01));
        NEAR(s->torque[2] / 0.3, 6.125 * (s->push - 0.02 * 1500 * G), 0.01 * 6.125 * s->push);
        NEAR(stop->residual, 0, 1e-6);
        dd_brake_rig_free(rig);
        rows++;
    }
    fclose(file);
    assert_int_equal(rows, 4);
    free(stop);
}

/* A system outside the list: it brakes exactly what its own trailer needs. */
static double ideal_mass;
static void ideal_evaluate(const dd_trailer_braking *b, const dd_brake_input *in, const double *state, dd_brake_output *out)
{
    (void)b, (void)state;
    *out = (dd_brake_output){.torque = ideal_mass * in->deceleration * 0.3};
}
static const dd_brake_kind ideal = {.name = "ideal", .help = "", .fitted = -1, .evaluate = ideal_evaluate};

/* Brakes that take just their trailer's share leave no force along at the coupling (1 % of the push without brakes: the felt deceleration
   lags), and the stop is that of the vehicle alone (0.5 %). */
static void ideal_brakes(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    dd_stop *stop = malloc(sizeof *stop), *alone = malloc(sizeof *alone);
    make_parameters(&v, &t, 1500);
    v.braking.deceleration = 5;
    t.braking.controller.sensor_lag = 0.01;
    ideal_mass = 1500;
    dd_brake_rig *rig = rig_of(&v, &t, 0);
    dd_stop_asked asked = asked_of(DD_FITTED_NONE, 25, 0);
    asked.system = &ideal;
    stop_it(rig, &asked, stop);
    NEAR(stop->samples[stop->sample_count / 2].push, 0, 0.01 * 7500);
    dd_brake_rig_free(rig);
    make_parameters(&v, &t, 10);
    v.braking.deceleration = 5;
    rig = rig_of(&v, &t, 0);
    asked = asked_of(DD_FITTED_NONE, 25, 0);
    stop_it(rig, &asked, alone);
    NEAR(alone->distance, 25 * 25 / (2 * 5.0) * 1810 / 1800 + 25 * 0.01, 0.003 * alone->distance);
    NEAR(stop->distance, alone->distance, 0.006 * alone->distance);
    dd_brake_rig_free(rig);
    free(stop);
    free(alone);
}

/* With the trailer's mass going to nothing (10 kg of 1810) the rig becomes the car alone, whatever brakes the trailer has: v^2/(2 a) and what the
   build-up of the brakes takes, longer at most by the trailer's share of the mass, shorter at most
   by all its tyres' grip (closed forms, 0.1 %). */
static void car_alone(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    dd_stop *stop = malloc(sizeof *stop);
    make_parameters(&v, &t, 10);
    v.braking.deceleration = 6;
    dd_brake_rig *rig = rig_of(&v, &t, 0);
    const double braked = 25 * 25 / (2 * 6.0), built = 25 * 0.01;
    for (int i = 0; dd_brake_kind_at(i) != NULL; i++) {
        dd_stop_asked asked = asked_of(DD_FITTED_NONE, 25, 0);
        asked.system = dd_brake_kind_at(i);
        stop_it(rig, &asked, stop);
        assert_true(stop->distance > 0.999 * (braked * 1810 * 6 / (1800 * 6 + 1.2 * 10 * G) + built));
        assert_true(stop->distance < 1.001 * (braked * 1810 / 1800 + built));
        NEAR(stop->most_push, 0, 70); /* 10 kg, 6 m/s2 */
    }
    dd_brake_rig_free(rig);
    free(stop);
}

/* our implicit stepper against CVODE on the same equations, with every system: distance 1e-4, greatest push 0.5 %. Grade: library. */
static void cvode_agrees(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    dd_stop *one = malloc(sizeof *one), *other = malloc(sizeof *other);
    make_parameters(&v, &t, 1500);
    v.rear_suspension_squash = 0.03, v.braking.front_squash = 0.15, v.braking.ride_damping = 0.3, t.tyre_squash = 0.02, t.spring_squash = 0.04;
    v.braking.wheel_inertia = 1.2, t.braking.wheel_inertia = 0.8, v.braking.drag_area = 0.9, t.bounce_damping_ratio = 0.2;
    dd_brake_rig *rig = rig_of(&v, &t, -0.05);
    for (int i = 0; dd_brake_kind_at(i) != NULL; i++) {
        dd_stop_asked asked = asked_of(DD_FITTED_NONE, 22, -0.05);
        asked.system = dd_brake_kind_at(i);
        asked.road.friction = 0.5;
        asked.road.rolling_resistance = 0.012;
        stop_it(rig, &asked, one);
        asked.stepper = &dd_stepper_cvode;
        stop_it(rig, &asked, other);
        print_message("%-20s %.4f m and %.4f m, push %.1f and %.1f N, energy to %.2g and %.2g, %ld steps\n", asked.system->name, one->distance,
                      other->distance, one->most_push, other->most_push, one->residual, other->residual, one->steps);
        NEAR(one->distance, other->distance, 1e-4 * one->distance);
        NEAR(one->most_push, other->most_push, 0.005 * fmax(one->most_push, 100));
        NEAR(one->residual, 0, 1e-6);
    }
    dd_brake_rig_free(rig);
    free(one);
    free(other);
}

/* A solver that gives up, at its first step or in the middle of a stop, ends the stop with its error: nothing is told as stopped. */
static int steps_left;
static dd_status failing_step(void *self, double *t, double t_end, double *h, double *y, double *dydt, dd_error *error)
{
    if (steps_left-- > 0) return dd_stepper_bdf.step(self, t, t_end, h, y, dydt, error);
    *error = (dd_error){.status = DD_ERROR_STEP, .place = "the solver", .message = "gave up"};
    return DD_ERROR_STEP;
}

static void solver_gives_up(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    dd_stop *stop = malloc(sizeof *stop);
    dd_stepper failing = dd_stepper_bdf;
    failing.step = failing_step;
    make_parameters(&v, &t, 1500);
    dd_brake_rig *rig = rig_of(&v, &t, 0);
    dd_stop_asked asked = asked_of(DD_FITTED_OVERRUN, 20, 0);
    asked.stepper = &failing;
    for (int i = 0; i < 2; i++) {
        dd_error error = {.status = DD_OK};
        steps_left = i * 50;
        assert_int_equal(dd_brake_stop(rig, &asked, stop, &error), DD_ERROR_STEP);
        assert_non_null(strstr(error.message, "gave up"));
        assert_false(stop->stopped);
        assert_true(isnan(stop->distance));
    }
    dd_brake_rig_free(rig);
    free(stop);
}

static void refusals(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    dd_brake_rig *rig = NULL;
    dd_error error = {.status = DD_OK};
    dd_stop *stop = malloc(sizeof *stop);
    make_parameters(&v, &t, 1500);
    assert_int_equal(dd_brake_rig_create(&v, &t, atan(0.31), G, &rig, &error), DD_ERROR_ARGUMENT);
    assert_non_null(strstr(error.message, "30 %"));
    rig = rig_of(&v, &t, 0);
    dd_stop_asked asked = asked_of(DD_FITTED_NONE, 131 / 3.6, 0);
    assert_int_equal(dd_brake_stop(rig, &asked, stop, &error), DD_ERROR_ARGUMENT);
    assert_non_null(strstr(error.message, "130 km/h"));
    /* Equations that cannot be evaluated where the stop begins are an error, never a stop. */
    asked = asked_of(DD_FITTED_NONE, 20, 0);
    rig->rig->chassis.mass = -1e6;
    error = (dd_error){.status = DD_OK};
    assert_int_not_equal(dd_brake_stop(rig, &asked, stop, &error), DD_OK);
    assert_non_null(strstr(error.message, "cannot be"));
    dd_brake_rig_free(rig);
    free(stop);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(standing),     cmocka_unit_test(load_transfer), cmocka_unit_test(nodding), cmocka_unit_test(stopping_sight_distance),
                                       cmocka_unit_test(overrun_equilibrium), cmocka_unit_test(overrun_on_a_grade), cmocka_unit_test(ideal_brakes),  cmocka_unit_test(cvode_agrees),
                                       cmocka_unit_test(car_alone), cmocka_unit_test(solver_gives_up), cmocka_unit_test(refusals)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
