/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Vehicle and trailer on a weighbridge, against moments by hand. Unless a check says otherwise: closed form, 1e-9 of the trailer's
   weight (the balance is found to 1e-14, stiff springs round off by 1e-10). */
#include "tests/unit/ode/checks.h"
#include "lib/rig/road.h"
#include "lib/rig/rig.h"
#include "tests/unit/rig/rigs.h"

#define G 9.80665
#define POUND 0.45359237
#define INCH 0.0254

static dd_road_loads stand_with(const dd_vehicle_parameters *v, const dd_trailer_parameters *t, double mass, dd_vec3 at, double gravity)
{
    dd_road_loads loads;
    dd_error error = {0};
    CHECK_OK(dd_road_statics(v, t, mass, at, gravity, &loads, &error), &error);
    return loads;
}

static dd_road_loads stand(const dd_vehicle_parameters *v, const dd_trailer_parameters *t, double mass, dd_vec3 at)
{
    return stand_with(v, t, mass, at, G);
}

/* Vertical forces and moments about the coupling, from the loads and the pitch alone. */
static void check_closure(const dd_trailer_parameters *t, double mass, dd_vec3 at, const dd_road_loads *r)
{
    const double c = cos(r->trailer_pitch), n = -sin(r->trailer_pitch), weight = (t->mass + mass) * G;
    const double trailer_x = isnan(t->centre_behind_coupling) ? 0 : t->centre_behind_coupling;
    const double track = isnan(t->track) ? 1.85 : t->track;
    double up = r->coupling, moment = 0, wheels = 0, aside = 0;
    for (int i = 0; i < t->axle_count; i++) {
        up += r->axle[i];
        wheels += r->wheel[i][0] + r->wheel[i][1];
        moment += r->axle[i] * (t->axles[i].behind_coupling * c + (t->tyre_radius - t->coupling_height) * n);
        aside += (r->wheel[i][1] - r->wheel[i][0]) * track / 2;
    }
    moment -= t->mass * G * (trailer_x * c + (t->centre_above_ground - t->coupling_height) * n) + mass * G * (at.x * c + at.z * n);
    CHECK_NEAR(up / weight, 1, 1e-9);
    CHECK_NEAR(wheels / weight, r->axle_group / weight, 1e-9);
    CHECK_NEAR(moment / weight, 0, 1e-9);
    CHECK_NEAR(aside / weight, mass * at.y * G / weight, 1e-9);
}

/* Forces of one axle are those of moments alone; references C07 (1030.05 N, 0.01 N) and the vehicle's axles by hand. */
static void test_one_axle(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    reference_rig(&v, &t);
    dd_road_loads r = stand_with(&v, &t, 0, dd_vec(0, 0, 0), 9.81);
    CHECK_NEAR(r.coupling, 1030.05, 0.01);
    CHECK_NEAR(r.axle_group, 1500 * 9.81 - 1030.05, 0.01);
    CHECK_NEAR(r.wheel[0][0], r.axle_group / 2, 0.01);
    CHECK_NEAR(r.vehicle_front, 1800 * 9.81 * 1.45 / 2.7 - 1030.05 * 1.1 / 2.7, 0.01);
    CHECK_NEAR(r.vehicle_rear, 1800 * 9.81 * 1.25 / 2.7 + 1030.05 * 3.8 / 2.7, 0.01);
    CHECK_NEAR(r.vehicle_mass, 1800 + 105, 0.001);
    CHECK_NEAR(r.combination_mass, 3300, 1e-9);
    CHECK_NEAR(r.trailer_pitch, 0, 1e-6);
    CHECK_NEAR(r.coupling_height, 0.45, 1e-5);
}

/* Reference R30: the axles carry the aggregate less the coupling load, 1e-4 kg (springs next to rigid). */
static void test_axles_carry_the_rest(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    reference_rig(&v, &t);
    t.centre_behind_coupling = 4.5 * (1 - 120.0 / 1500);
    CHECK_NEAR(stand(&v, &t, 0, dd_vec(0, 0, 0)).axle_group / G, 1380, 1e-3);
    t.mass = 480;
    t.centre_behind_coupling = 4;
    const double at = (4.5 * (2080 - 100) - 480 * 4) / 1600;
    dd_road_loads r = stand(&v, &t, 1600, dd_vec(at, 0, 0.6));
    CHECK_NEAR(r.axle_group / G, 1980, 1e-3);
    CHECK_NEAR(r.aggregate_mass, 2080, 1e-9);
    check_closure(&t, 1600, dd_vec(at, 0, 0.6), &r);
}

/* Two equal axles on springs behind a rigid ball. With hubs and centre level with the coupling the arms all shorten by cos pitch,
   and sin pitch = (M / k - d0 (x1 + x2)) / (x1^2 + x2^2), M moment of the weight with the trailer level. */
static void test_two_axles_on_springs(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    reference_rig(&v, &t);
    t.axle_count = 2;
    t.axles[0] = (dd_axle){4.1, 900, NAN};
    t.axles[1] = (dd_axle){4.9, 900, NAN};
    t.tyre_radius = t.coupling_height = t.centre_above_ground = 0.4;
    t.tyre_squash = 0.02;
    t.spring_squash = 0.05;
    const double k = 900 * 9.80665 / 0.07, heights[] = {0.3, 0.4, 0.45};
    for (int i = 0; i < 3; i++) {
        v.coupling_height = heights[i];
        const double d0 = 0.07 + 0.4 - heights[i], moment = 1500 * G * t.centre_behind_coupling;
        const double pitch = (moment / k - d0 * 9.0) / (4.1 * 4.1 + 4.9 * 4.9);
        const double first = k * (d0 + 4.1 * pitch), second = k * (d0 + 4.9 * pitch), ball = 1500 * G - first - second;
        dd_road_loads r = stand(&v, &t, 0, dd_vec(0, 0, 0));
        /* 1e-4 of the load: the ball sinks by a few thousandths of a millimetre */
        CHECK_NEAR(sin(-r.trailer_pitch), pitch, 1e-5);
        CHECK_NEAR(r.axle[0], first, 2);
        CHECK_NEAR(r.axle[1], second, 2);
        CHECK_NEAR(r.coupling, ball, 2);
        /* exact for the pitch and the height that came out */
        CHECK_NEAR((r.axle[1] - r.axle[0]) / (1500 * G), k * 0.8 * sin(-r.trailer_pitch) / (1500 * G), 1e-9);
        check_closure(&t, 0, dd_vec(0, 0, 0), &r);
    }
    assert_true(stand(&v, &t, 0, dd_vec(0, 0, 0)).axle[1] > stand(&v, &t, 0, dd_vec(0, 0, 0)).axle[0]); /* ball 50 mm high */
}

/* A beam's shares are those of its arms whatever the pitch; with them the coupling load follows from moments. */
static void test_rocking_beam(void **state)
{
    (void)state;
    dd_vehicle_parameters v = test_vehicle_parameters();
    dd_trailer_parameters t = test_trailer_parameters();
    t.centre_behind_coupling = 4;
    t.suspension = DD_SUSPENSION_BEAM;
    const dd_vec3 at = dd_vec(4.3, 0.05, 0.5);
    double coupling[3];
    for (int i = 0; i < 3; i++) {
        v.coupling_height = 0.3 + 0.15 * i;
        dd_road_loads r = stand(&v, &t, 1000, at);
        CHECK_NEAR(r.axle[0] / r.axle[1], 1, 1e-12);
        check_closure(&t, 1000, at, &r);
        coupling[i] = r.coupling;
    }
    assert_true(coupling[0] > coupling[1] && coupling[1] > coupling[2]); /* a centre above the hubs leans forward, nose down */
    for (int axles = 2; axles <= 4; axles++) {
        t.axle_count = axles;
        t.beam_arm_ratio = 1.25;
        for (int i = 0; i < axles; i++) t.axles[i] = (dd_axle){3.8 + 0.7 * i, 800, NAN};
        dd_road_loads r = stand(&v, &t, 1000, at);
        for (int i = 1; i < axles; i++) CHECK_NEAR(r.axle[i] / r.axle[i - 1], 1.25, 1e-12);
        check_closure(&t, 1000, at, &r);
    }
}

/* What hangs below the springs stands on the ground beside the beam: the shares are those of the rest, forces and moments close, and the
   beam's squash is the sum of shares times squashes of the axles under all they carry. Equal axles on equal arms: as without. */
static void test_axles_of_their_own_mass(void **state)
{
    (void)state;
    static const double own[4] = {120, 70, 150, 90};
    dd_vehicle_parameters v = test_vehicle_parameters();
    dd_trailer_parameters t = test_trailer_parameters();
    const dd_vec3 at = dd_vec(4.3, 0.05, 0.5);
    t.centre_behind_coupling = 4;
    t.mass = 700;
    t.tyre_squash = 0.02;
    t.spring_squash = 0.05;
    t.suspension = DD_SUSPENSION_BEAM;
    for (int axles = 2; axles <= 4; axles++) {
        t.axle_count = axles;
        t.beam_arm_ratio = 1.25;
        double share[DD_AXLES], sum = 0, squash = 0, mean = 0;
        for (int i = 0; i < axles; i++) {
            t.axles[i] = (dd_axle){3.8 + 0.7 * i, 800, own[i]};
            share[i] = pow(1.25, i);
            sum += share[i];
        }
        dd_road_loads r = stand(&v, &t, 1000, at);
        check_closure(&t, 1000, at, &r);
        for (int i = 1; i < axles; i++) CHECK_NEAR((r.axle[i] - own[i] * G) / (r.axle[i - 1] - own[i - 1] * G), 1.25, 1e-12);
        for (int i = 0; i < axles; i++) {
            squash += share[i] / sum * r.axle[i] / dd_axle_rated_load(&t, i) * 0.07;
            mean += share[i] / sum * t.axles[i].behind_coupling;
        }
        const double hub = r.coupling_height + mean * sin(r.trailer_pitch) + (t.tyre_radius - t.coupling_height) * cos(r.trailer_pitch);
        CHECK_NEAR(t.tyre_radius + 0.07 - hub, squash, 1e-9);
    }
    t.axle_count = 2;
    t.beam_arm_ratio = 1;
    t.axles[0].mass = t.axles[1].mass = 100;
    dd_road_loads with = stand(&v, &t, 1000, at);
    t.axles[0].mass = t.axles[1].mass = NAN;
    dd_road_loads without = stand(&v, &t, 1000, at);
    for (int i = 0; i < 2; i++) CHECK_NEAR(with.axle[i] / without.axle[i], 1, 1e-12);
    CHECK_NEAR(with.trailer_pitch, without.trailer_pitch, 1e-12);
}

/* Springs under three and four axles: squash differs by place times sine of the pitch, each wheel by its own spring. */
static void test_many_axles(void **state)
{
    (void)state;
    dd_vehicle_parameters v = test_vehicle_parameters();
    dd_trailer_parameters t = test_trailer_parameters();
    t.centre_behind_coupling = 4;
    const dd_vec3 at = dd_vec(4.6, -0.04, 0.5);
    for (int axles = 1; axles <= 4; axles++) {
        t.axle_count = axles;
        for (int i = 0; i < axles; i++) t.axles[i] = (dd_axle){4.0 + 0.7 * i, 700 + 100 * i, NAN};
        dd_road_loads r = stand(&v, &t, 1500, at);
        check_closure(&t, 1500, at, &r);
        for (int i = 1; i < axles; i++) {
            double squash[2];
            for (int j = 0; j < 2; j++)
                squash[j] = r.axle[i - 1 + j] / (dd_axle_rated_load(&t, i - 1 + j)) * 0.072;
            CHECK_NEAR(squash[1] - squash[0], 0.7 * sin(-r.trailer_pitch), 1e-12);
        }
    }
}

static void test_torsion_axles_are_stiffer(void **state)
{
    (void)state;
    dd_vehicle_parameters v = test_vehicle_parameters();
    dd_trailer_parameters t = test_trailer_parameters();
    v.coupling_height = 0.45;
    t.centre_behind_coupling = 4;
    const dd_vec3 at = dd_vec(4.4, 0, 0.5);
    dd_road_loads soft = stand(&v, &t, 1000, at);
    t.suspension = DD_SUSPENSION_TORSION;
    dd_road_loads torsion = stand(&v, &t, 1000, at);
    assert_true(torsion.axle[1] - torsion.axle[0] > 1.1 * (soft.axle[1] - soft.axle[0]));
    t.suspension = DD_SUSPENSION_SPRINGS;
    t.spring_squash = 0.035;
    dd_road_loads as_given = stand(&v, &t, 1000, at);
    CHECK_NEAR(as_given.axle[1], torsion.axle[1], 1e-9);
}

/* A ball so low that the rear axle hangs: the front one then carries what a single axle would. */
static void test_an_axle_hangs(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    reference_rig(&v, &t);
    t.axle_count = 2;
    t.axles[0] = (dd_axle){4.0, 2000, NAN};
    t.axles[1] = (dd_axle){5.0, 2000, NAN};
    t.spring_squash = 0.01;
    t.centre_behind_coupling = 3.6;
    v.coupling_height = 0.2;
    dd_road_loads r = stand(&v, &t, 0, dd_vec(0, 0, 0));
    assert_true(r.axle[1] == 0 && r.trailer_pitch > 0);
    check_closure(&t, 0, dd_vec(0, 0, 0), &r);
}

/* One axle, level: a mass moved by dx moves the coupling load by m g dx / L, all of it stays on ball and axle; beside the centre line
   it loads one wheel by m g y / track more. */
static void test_moving_a_mass(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    reference_rig(&v, &t);
    dd_road_loads a = stand(&v, &t, 200, dd_vec(4, 0, 0.3)), b = stand(&v, &t, 200, dd_vec(4.5, 0.1, 0.3));
    CHECK_NEAR(a.coupling - b.coupling, 200 * G * 0.5 / 4.5, 0.01);
    CHECK_NEAR(b.axle_group - a.axle_group, 200 * G * 0.5 / 4.5, 0.01);
    CHECK_NEAR(b.wheel[0][1] - b.wheel[0][0], 2 * 200 * G * 0.1 / 1.85, 1e-5);
    CHECK_NEAR(a.wheel[0][1], a.wheel[0][0], 1e-9 * a.axle_group);
}

/* Practice rows: 3100 lb with 280 lb on the ball 180 in ahead of the axle has its centre 16.3 in ahead of it; 160 lb by the axle 7.4 in
   further forward, within 0.2 in (3.4 lb). A boat 22 in too far back lifts the ball; lifting is a result. Grade: practice. */
static void test_ball_weights_of_practice(void **state)
{
    (void)state;
    dd_vehicle_parameters v;
    dd_trailer_parameters t;
    reference_rig(&v, &t);
    t.mass = 3100 * POUND;
    t.axles[0].behind_coupling = 180 * INCH;
    t.centre_behind_coupling = (180 - 16.3) * INCH;
    CHECK_NEAR(stand(&v, &t, 0, dd_vec(0, 0, 0)).coupling / G / POUND, 280, 0.2 / 180 * 3100);
    t.axles[0].behind_coupling = (180 - 7.4) * INCH;
    CHECK_NEAR(stand(&v, &t, 0, dd_vec(0, 0, 0)).coupling / G / POUND, 160, 3.4);
    t = test_trailer_parameters();
    const double behind = 4.3;
    assert_true(stand(&v, &t, 2000, dd_vec(behind, 0, 0.6)).coupling > 0);
    assert_true(stand(&v, &t, 2000, dd_vec(behind + 22 * INCH, 0, 0.6)).coupling < 0);
}

static void refuse(const dd_trailer_parameters *t, double mass, dd_vec3 at, const char *place)
{
    dd_vehicle_parameters v = test_vehicle_parameters();
    dd_road_loads loads;
    dd_error error = {0};
    assert_int_equal(dd_road_statics(&v, t, mass, at, G, &loads, &error), DD_ERROR_ARGUMENT);
    if (strstr(error.place, place) == NULL) fail_msg("%s: %s; expected %s", error.place, error.message, place);
}

static void test_impossible_rigs(void **state)
{
    (void)state;
    dd_trailer_parameters t = test_trailer_parameters(), ahead = t;
    ahead.axles[0].behind_coupling = -0.2;
    refuse(&ahead, 500, dd_vec(4, 0, 0.4), "axles");
    refuse(&t, 3000, dd_vec(-2, 0, 0.4), "centre behind coupling");
    refuse(&t, 3000, dd_vec(4, 1.2, 0.4), "track");
    refuse(&t, 3000, dd_vec(4, 0, -0.6), "load centre");
    refuse(&t, -1, dd_vec(4, 0, 0.4), "load mass");
    refuse(&t, NAN, dd_vec(4, 0, 0.4), "load mass");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_one_axle),
        cmocka_unit_test(test_axles_carry_the_rest),
        cmocka_unit_test(test_two_axles_on_springs),
        cmocka_unit_test(test_rocking_beam),
        cmocka_unit_test(test_axles_of_their_own_mass),
        cmocka_unit_test(test_many_axles),
        cmocka_unit_test(test_torsion_axles_are_stiffer),
        cmocka_unit_test(test_an_axle_hangs),
        cmocka_unit_test(test_moving_a_mass),
        cmocka_unit_test(test_ball_weights_of_practice),
        cmocka_unit_test(test_impossible_rigs),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
