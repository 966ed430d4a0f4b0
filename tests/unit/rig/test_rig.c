/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Vehicle on the profile, rollers placed, springs from squashes, errors. */
#include "tests/unit/ode/checks.h"
#include "lib/rig/rig.h"
#include "tests/unit/rig/rigs.h"

/* Closed form on level ground and on a straight slope, 1e-12 m: the chord is the slope itself, so the pitch is its angle and
   ball and centre move as one body along it. */
static void test_vehicle_on_a_straight_line(void **state)
{
    (void)state;
    dd_vehicle_parameters v = test_vehicle_parameters();
    dd_trailer_parameters t = test_trailer_parameters();
    dd_rig *rig = test_rig_of(&v, &t);
    const double grades[] = {0, 0.125, -0.06};
    for (int i = 0; i < 3; i++) {
        dd_ramp_parameters p = test_straight_ramp_parameters(grades[i]);
        dd_ramp *ramp = test_ramp_of(&p);
        dd_vehicle_pose pose = dd_vehicle_on_profile(&rig->vehicle, ramp, 3);
        double angle = atan(grades[i]), c = cos(angle), s = sin(angle);
        CHECK_NEAR(pose.pitch, angle, 1e-12); /* going down seaward: tail down */
        CHECK_NEAR(pose.front_x, 3 - 2.9 * c, 1e-12);
        CHECK_NEAR(pose.ball.x, 3 + 1.1 * c + 0.4 * s, 1e-12);
        CHECK_NEAR(pose.ball.z, -3 * grades[i] - 1.1 * s + 0.4 * c, 1e-12);
        CHECK_NEAR(pose.centre.x, 3 - 0.55 * 2.9 * c + 0.65 * s, 1e-12); /* default: 0.45 of the wheelbase from the front */
        CHECK_NEAR(pose.ball_x.x, 1, 1e-12);
        CHECK_NEAR(pose.ball_x.z, -grades[i], 1e-12);
        CHECK_NEAR(pose.centre_x.z, -grades[i], 1e-12);
        CHECK_NEAR(pose.ball_xx.x, 0, 1e-12);
        CHECK_NEAR(pose.pitch_x, 0, 1e-12);
        dd_ramp_free(ramp);
    }
    dd_rig_free(rig);
}

/* Closed form: derivatives by central differences, h = 1e-4 and 1e-5, over level, crest, slab, toe, step and bed; 1e-7 of a
   first derivative, 1e-5 of a second one; both contacts on the profile, one wheelbase apart, 1e-12 m. */
static void test_vehicle_derivatives(void **state)
{
    (void)state;
    dd_vehicle_parameters v = test_vehicle_parameters();
    dd_trailer_parameters t = test_trailer_parameters();
    dd_rig *rig = test_rig_of(&v, &t);
    dd_ramp_parameters p = test_ramp_parameters();
    dd_ramp *ramp = test_ramp_of(&p);
    const double h = 1e-5;
    for (double x = -10; x < 36; x += 0.0213) {
        dd_vehicle_pose m = dd_vehicle_on_profile(&rig->vehicle, ramp, x),
                        a = dd_vehicle_on_profile(&rig->vehicle, ramp, x - h),
                        b = dd_vehicle_on_profile(&rig->vehicle, ramp, x + h);
        CHECK_NEAR(hypot(x - m.front_x, dd_ramp_at(ramp, x).z - dd_ramp_at(ramp, m.front_x).z), 2.9, 1e-12);
        CHECK_NEAR((b.front_x - a.front_x) / (2 * h), m.front_x_x, 1e-8);
        CHECK_NEAR((b.pitch - a.pitch) / (2 * h), m.pitch_x, 1e-8);
        CHECK_NEAR((b.ball.x - a.ball.x) / (2 * h), m.ball_x.x, 1e-8);
        CHECK_NEAR((b.ball.z - a.ball.z) / (2 * h), m.ball_x.z, 1e-8);
        CHECK_NEAR((b.centre.x - a.centre.x) / (2 * h), m.centre_x.x, 1e-8);
        CHECK_NEAR((b.centre.z - a.centre.z) / (2 * h), m.centre_x.z, 1e-8);
        /* second derivatives: across a joint the third one jumps by up to 30 /m2 at the step */
        CHECK_NEAR((b.front_x_x - a.front_x_x) / (2 * h), m.front_x_xx, 1e-4);
        CHECK_NEAR((b.pitch_x - a.pitch_x) / (2 * h), m.pitch_xx, 1e-4);
        CHECK_NEAR((b.ball_x.x - a.ball_x.x) / (2 * h), m.ball_xx.x, 1e-4);
        CHECK_NEAR((b.ball_x.z - a.ball_x.z) / (2 * h), m.ball_xx.z, 2e-4);
        CHECK_NEAR((b.centre_x.x - a.centre_x.x) / (2 * h), m.centre_xx.x, 1e-4);
        CHECK_NEAR((b.centre_x.z - a.centre_x.z) / (2 * h), m.centre_xx.z, 2e-4);
    }
    dd_ramp_free(ramp);
    dd_rig_free(rig);
}

/* Closed form, 1e-12 m: contact point one radius from the centre along the panel's normal; port mirrors starboard. */
static void test_rollers_placed(void **state)
{
    (void)state;
    dd_vehicle_parameters v = test_vehicle_parameters();
    dd_trailer_parameters t = test_trailer_parameters();
    dd_support *pair = &t.supports[t.support_count++];
    dd_support_defaults(pair, DD_SUPPORT_ROLLER);
    pair->behind_coupling = 5;
    pair->above_ground = 0.7;
    pair->half_spacing = 0.8;
    pair->deadrise = 0.2;
    pair->side = DD_SIDE_PORT;
    dd_rig *rig = test_rig_of(&v, &t);
    assert_int_equal(rig->roller_count, 1 + 12 + 12 + 1);
    const dd_roller *keel = &rig->rollers[0];
    assert_true(keel->keel && keel->side == 0);
    assert_string_equal(keel->name, "front keel roller");
    CHECK_NEAR(keel->centre.z, 0.62 - 0.4 - 0.0375, 1e-12);
    CHECK_NEAR(keel->axis.y, 1, 0);
    for (int i = 1; i < 25; i += 12)
        for (int j = 0; j < 6; j++) {
            const dd_roller *port = &rig->rollers[i + j], *starboard = &rig->rollers[i + 6 + j];
            assert_true(port->side == 1 && starboard->side == -1 && port->centre.y < 0);
            CHECK_NEAR(port->centre.x, starboard->centre.x, 0);
            CHECK_NEAR(port->centre.y, -starboard->centre.y, 0);
            CHECK_NEAR(port->centre.z, starboard->centre.z, 0);
            CHECK_NEAR(port->axis.y, starboard->axis.y, 0);
            CHECK_NEAR(port->axis.z, -starboard->axis.z, 0);
            CHECK_NEAR(dd_norm(port->axis), 1, 1e-15);
            double half = 0.3 + 0.2 * (j / 3);
            dd_vec3 normal = dd_vec(0, sin(0.3), cos(0.3)), touch = dd_add(port->centre, dd_scale(port->radius, normal));
            CHECK_NEAR(touch.y, -half, 1e-12);
            CHECK_NEAR(touch.z, 0.5 - 0.4 + half * tan(0.3), 1e-12);
            CHECK_NEAR(dd_dot(normal, port->axis), 0, 1e-15);
            CHECK_NEAR(touch.x, (i == 1 ? 4.0 : 6.0) + (j % 3 - 1) * 0.25, 1e-12);
        }
    assert_string_equal(rig->rollers[13].name, "rear cradle port 1.1");
    assert_string_equal(rig->rollers[24].name, "rear cradle starboard 2.3");
    const dd_roller *single = &rig->rollers[25];
    assert_true(single->side == 1 && single->centre.y < 0);
    assert_string_equal(single->name, "support 4 port");
    dd_rig_free(rig);
}

/* Closed form: rated load at the rated squash, 1e-9; damping 2 ratio sqrt(k m). */
static void test_springs(void **state)
{
    (void)state;
    dd_vehicle_parameters v = test_vehicle_parameters();
    dd_trailer_parameters t = test_trailer_parameters();
    t.supports[0].rated_load = 3000;
    dd_rig *rig = test_rig_of(&v, &t);
    CHECK_NEAR(rig->rollers[0].stiffness * pow(0.004, 1.5), 3000, 1e-9);
    CHECK_NEAR(rig->rollers[1].stiffness * pow(0.004, 1.5), 2500, 1e-9);
    assert_true(isnan(rig->rollers[1].rated_load));
    CHECK_NEAR(rig->axle_stiffness[1] * 0.072, 900 * 9.80665, 1e-9);
    CHECK_NEAR(rig->axle_damping[1], 2 * 0.2 * sqrt(rig->axle_stiffness[1] * 900), 1e-9);
    CHECK_NEAR(rig->ball_stiffness * 0.03, 1000, 1e-9);
    CHECK_NEAR(rig->axle[0].z, 0.29 - 0.4, 1e-15);
    CHECK_NEAR(rig->wheel_radius, 0.29 + 0.072, 1e-15);
    CHECK_NEAR(rig->trailer_centre.x, 0.92 * 4.475, 1e-12);
    CHECK_NEAR(rig->trailer.rear_end_behind_coupling, 6.25, 1e-12);
    CHECK_NEAR(rig->trailer.pitch_radius, 6.25 / sqrt(12), 1e-12);
    CHECK_NEAR(rig->trailer.winch.speed, 2 * acos(-1.0) * 0.025 * 25 / 60 / 3, 1e-12);
    dd_rig_free(rig);
    t.axles[0].rating = t.axles[1].rating = NAN;
    rig = test_rig_of(&v, &t);
    CHECK_NEAR(rig->axle_rated_load[0], 7500, 0);
    dd_rig_free(rig);
    t.aggregate_mass_rating = 2000;
    rig = test_rig_of(&v, &t);
    CHECK_NEAR(rig->axle_rated_load[0], 0.46 * 2000 * 9.80665, 1e-9);
    dd_rig_free(rig);
}

static void refuse(const dd_vehicle_parameters *v, const dd_trailer_parameters *t, dd_status status, const char *place)
{
    dd_rig *rig;
    dd_error error = {0};
    assert_int_equal(dd_rig_create(v, t, &rig, &error), status);
    assert_null(rig);
    if (strstr(error.place, place) == NULL) fail_msg("place is %s, expected to name %s", error.place, place);
}

static void test_errors(void **state)
{
    (void)state;
    dd_vehicle_parameters v = test_vehicle_parameters();
    const dd_trailer_parameters good = test_trailer_parameters();
    dd_trailer_parameters t = good;
    v.mass = NAN;
    refuse(&v, &t, DD_ERROR_UNSET, "vehicle: mass");
    v = test_vehicle_parameters();
    v.drive = -1;
    refuse(&v, &t, DD_ERROR_UNSET, "vehicle: drive");
    v = test_vehicle_parameters();
    v.drive = 3;
    refuse(&v, &t, DD_ERROR_ARGUMENT, "vehicle: drive");
    v = test_vehicle_parameters();
    v.centre_behind_front_axle = 3;
    refuse(&v, &t, DD_ERROR_ARGUMENT, "centre behind front axle");
    v = test_vehicle_parameters();
    v.cookie = 1;
    refuse(&v, &t, DD_ERROR_ARGUMENT, "vehicle");
    v = test_vehicle_parameters();
    t.winch.above_ground = NAN;
    refuse(&v, &t, DD_ERROR_UNSET, "trailer: winch: above ground");
    t = good;
    t.axle_count = 0;
    refuse(&v, &t, DD_ERROR_UNSET, "axles");
    t = good;
    t.axles[1].behind_coupling = 4;
    refuse(&v, &t, DD_ERROR_ARGUMENT, "axles");
    t = good;
    t.supports[1].deadrise = NAN;
    refuse(&v, &t, DD_ERROR_UNSET, "supports[2]: deadrise");
    t = good;
    t.supports[2].kind = 9;
    refuse(&v, &t, DD_ERROR_ARGUMENT, "supports[3]");
    t = good;
    t.supports[2].rows = 24;
    refuse(&v, &t, DD_ERROR_ARGUMENT, "supports");
    t = good;
    t.bow_stop.behind_coupling = 2.5;
    refuse(&v, &t, DD_ERROR_ARGUMENT, "bow stop");
    t = good;
    t.winch.behind_coupling = 2.5;
    refuse(&v, &t, DD_ERROR_ARGUMENT, "winch");
    t = good;
    t.rear_end_behind_coupling = 4.5;
    refuse(&v, &t, DD_ERROR_ARGUMENT, "rear end behind coupling");
    t = good;
    t.mass = -1;
    refuse(&v, &t, DD_ERROR_ARGUMENT, "trailer: mass");
}

/* Each kind of the list has a name, a help and keys with help and, where they have a default, its source. */
static void test_kinds_are_whole(void **state)
{
    (void)state;
    int count = 0;
    for (const dd_support_kind *kind; (kind = dd_support_kind_at(count)) != NULL; count++) {
        assert_non_null(kind->name);
        assert_non_null(kind->help);
        assert_non_null(kind->place);
        for (const dd_key *row = kind->keys; row->name != NULL; row++) {
            assert_non_null(row->help);
            assert_true(row->source != NULL || isnan(row->fallback));
        }
    }
    assert_int_equal(count, DD_SUPPORT_KIND_COUNT);
    assert_null(dd_support_kind_at(-1));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_vehicle_on_a_straight_line),
        cmocka_unit_test(test_vehicle_derivatives),
        cmocka_unit_test(test_rollers_placed),
        cmocka_unit_test(test_springs),
        cmocka_unit_test(test_errors),
        cmocka_unit_test(test_kinds_are_whole),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
