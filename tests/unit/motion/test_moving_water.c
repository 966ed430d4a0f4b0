/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A hull alone in water and wind that move it. */
#include "lib/shore/shore.h"
#include "tests/unit/motion/free_body.h"

static const dd_motion at_rest = {{0}, {0}};

/* A wide low box of great moment of inertia in roll: it is taken along without rolling. */
static dd_hull *raft(void)
{
    static const period_prism wide = {"raft", 0, 1.5, 0, 1.5, 6, 3000, 0.25, 15, 0};
    return period_hull(&wide);
}
static const double sheer = 1.05; /* m, of period_hull */

static void begin(free_body *b, const char *const *without, double current, const dd_wind *wind)
{
    dd_error error;
    memset(b, 0, sizeof *b);
    whole_create(&b->w, raft(), 0, current);
    if (wind != NULL) b->w.model.water.wind = *wind;
    assert_int_equal(dd_system_create(&b->w.model, without, NULL, NULL, &b->system, &error), DD_OK);
    assert_int_equal(dd_workspace_create(b->system, &b->workspace, &error), DD_OK);
    assert_true(b->system->size <= FREE_SIZE);
}

static double sway(const free_body *b) { return dd_ode_state(b->ode)[DD_STATE_TWIST + 1]; }

/* v/U = k t/(1 + k t), k = rho C L T U/(2 (m + a22)): closed form of (m + a22) dv/dt = rho/2 C L T (U - v)^2. The boat lies as
   free_body puts it, port toward +y. 0.3 % of U: water that runs past draws the box down by a quarter of a millimetre. */
static void a_hull_drifts_with_the_stream(void **state)
{
    (void)state;
    const double speed = 0.2;
    static const char *const without[] = {"wave damping", "resistance", "push", NULL};
    free_body b;
    begin(&b, without, speed, NULL);
    dd_pose pose = free_body_afloat(&b);
    free_body_start(&b, &dd_stepper_bdf, 1e-9, 0.05, &pose, &at_rest);
    const double draught = 3000 / (b.w.model.water.density * 18);
    dd_system_evaluate(b.workspace, 0, dd_ode_state(b.ode), DD_WANT_ACCELERATION);
    const double added = b.workspace->added.A[1][1];
    const double k = b.w.model.water.density * 0.9 * 6 * draught * speed / (2 * (3000 + added));
    double worst = 0;
    while (dd_ode_time(b.ode) < 240) {
        free_body_step(&b);
        const double t = dd_ode_time(b.ode), expected = k * t / (1 + k * t);
        worst = fmax(worst, fabs(sway(&b) / speed - expected));
    }
    print_message("drift in a stream: a22/m %.3f, k %.4f /s, off by at most %.2e of U\n", added / 3000, k, worst);
    CHECK_NEAR(worst, 0, 3e-3, "drift");
    free_body_free(&b);
}

/* Wind from port against a current to port: it drifts at v where both drags are equal, v = (U + s W)/(1 + s),
   s = sqrt(rho_a C_a h / (rho C T)) (closed form), and heels by F (z_wind - z_water)/(W GM), metacentric height of the box
   B^2/(12 T) + T/2 - KG (closed form), at the draught that it floats at: water running past a keel draws it down. Speed 1e-3 of it,
   as heel changes the height shown; heel 3 %, since that suction has a moment of 2 % of the wind's. */
static void wind_and_current_balance(void **state)
{
    (void)state;
    static const char *const without[] = {"push", NULL};
    const dd_wind wind = {5, -PI / 2};
    free_body b;
    begin(&b, without, 0.1, &wind);
    dd_pose pose = free_body_afloat(&b);
    free_body_start(&b, &dd_stepper_bdf, 1e-8, 0.5, &pose, &at_rest);
    while (dd_ode_time(b.ode) < 600) free_body_step(&b);
    dd_system_evaluate(b.workspace, 600, dd_ode_state(b.ode), DD_WANT_ACCELERATION);
    const double rho = b.w.model.water.density, draught = b.workspace->kinematics.waterplane.level, shown = sheer - draught;
    const double s = sqrt(1.221 * 0.9 * shown / (rho * 0.9 * draught)), expected = (0.1 - s * wind.speed) / (1 + s);
    double heel, trim, heading;
    dd_attitude(&b.workspace->kinematics, &heel, &trim, &heading);
    const double air = -wind.speed - expected, force = 0.5 * 1.221 * 0.9 * shown * 6 * air * fabs(air);
    const double metacentric = 9.0 / (12 * draught) + draught / 2 - 0.25;
    const double lever = draught + shown / 2 - draught / 2, expected_heel = force * lever / (3000 * DD_STANDARD_GRAVITY * metacentric);
    print_message("wind against current: drifts at %.4f m/s, expected %.4f; heels %.4f deg to port, expected %.4f\n", sway(&b), expected,
                  heel / DEGREE, expected_heel / DEGREE);
    CHECK_NEAR(sway(&b), expected, 1e-3 * fabs(expected), "drift");
    CHECK_NEAR(heel, expected_heel, 0.03 * fabs(expected_heel), "heel");
    free_body_free(&b);
}

typedef struct books {
    const char *name;
    double rise;
    dd_surge surge;
    dd_wave wave;
    double current, exponent, full_beyond, wall_to;
} books;

/* Work and energy over 40 s of a hull afloat in moving water, all forces in, its stern seaward and it askew. Closed form (the
   right residual is 0): bound 2e-5, that of `fine`; and without the added mass's part of the water's work it must not close. */
static void the_books_close(void **state)
{
    (void)state;
    static const books all[] = {
        {.name = "rising", .rise = 0.01, .wall_to = NAN},
        {.name = "surge", .surge = {0.3, 5}, .wall_to = NAN},
        {.name = "wave", .wave = {0.2, 4, 2, 1}, .wall_to = NAN},
        {.name = "waves and tide", .rise = -0.005, .wave = {0.3, 3, 1.5, 0.4}, .current = 0.5, .wall_to = NAN},
        {.name = "shear", .current = 1, .exponent = 0.2, .full_beyond = 8, .wall_to = 0},
    };
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        free_body b;
        dd_error error;
        dd_ledger *ledger;
        memset(&b, 0, sizeof b);
        whole_create(&b.w, whole_hull(), 0, all[i].current);
        dd_water *water = &b.w.model.water;
        water->rise = all[i].rise, water->surge = all[i].surge, water->wave = all[i].wave;
        water->current_exponent = all[i].exponent, water->current_full_beyond = all[i].full_beyond, water->wall_to = all[i].wall_to;
        assert_int_equal(dd_water_meet(water, NULL, DD_STANDARD_GRAVITY, &error), DD_OK);
        assert_int_equal(dd_system_create(&b.w.model, NULL, NULL, NULL, &b.system, &error), DD_OK);
        assert_int_equal(dd_workspace_create(b.system, &b.workspace, &error), DD_OK);
        assert_int_equal(dd_ledger_create(b.system, &ledger, &error), DD_OK);
        dd_pose pose = free_body_afloat(&b);
        pose.position.x = 3;
        pose.attitude = dd_quaternion_multiply((dd_quaternion){cos(0.2), 0, 0, sin(0.2)}, pose.attitude);
        free_body_start(&b, &dd_stepper_bdf, 1e-8, 0.05, &pose, &(dd_motion){{0}, {0.3, 0, 0, 0, 0, 0.05}});
        double y[FREE_SIZE], water_work = 0;
        dd_system_evaluate(b.workspace, 0, dd_ode_state(b.ode), DD_WANT_ACCELERATION);
        dd_ledger_open(ledger, b.workspace);
        while (dd_ode_time(b.ode) < 40) {
            free_body_step(&b);
            const double t0 = dd_ode_previous_time(b.ode), t = dd_ode_time(b.ode);
            dd_ode_interpolate(b.ode, 0.5 * (t0 + t), y);
            dd_system_evaluate(b.workspace, 0.5 * (t0 + t), y, DD_WANT_ACCELERATION);
            dd_ledger_middle(ledger, b.workspace);
            water_work += fabs(b.workspace->added.water_power) * (t - t0);
            dd_system_evaluate(b.workspace, t, dd_ode_state(b.ode), DD_WANT_ACCELERATION);
            dd_ledger_close(ledger, b.workspace, t - t0);
        }
        const dd_ledger_balance balance = dd_ledger_balance_of(ledger);
        print_message("%-15s energy %.1e of %.0f J, momentum %.1e; the water's work through the added mass %.0f J\n", all[i].name,
                      balance.energy_residual, balance.energy_exchanged, balance.momentum_residual, water_work);
        CHECK_NEAR(balance.energy_residual, 0, 2e-5, all[i].name);
        CHECK_NEAR(balance.momentum_residual, 0, 2e-5, all[i].name);
        assert_true(water_work > 1e-3 * balance.energy_exchanged || i == 0); /* it is not so by having nothing to close */
        dd_ledger_free(ledger);
        free_body_free(&b);
    }
}

/* A long low surge carries a hull up and down with it: its height over the water stays within 5 % of the surge (closed form of
   a follower far below its own period, (T_own/T)^2 = 0.2 %, and 2 % damping); at rest it has the level's. */
static void a_slow_surge_carries_the_hull(void **state)
{
    (void)state;
    free_body b;
    dd_error error;
    memset(&b, 0, sizeof b);
    whole_create(&b.w, whole_hull(), 0, 0);
    b.w.model.water.surge = (dd_surge){0.2, 40};
    assert_int_equal(dd_system_create(&b.w.model, NULL, NULL, NULL, &b.system, &error), DD_OK);
    assert_int_equal(dd_workspace_create(b.system, &b.workspace, &error), DD_OK);
    dd_pose pose = free_body_afloat(&b);
    const double start = pose.position.z;
    free_body_start(&b, &dd_stepper_bdf, 1e-8, 0.5, &pose, &at_rest);
    double worst = 0, highest = 0;
    while (dd_ode_time(b.ode) < 120) {
        free_body_step(&b);
        const double level = dd_water_surface_at(&b.w.model.water, 0, dd_ode_time(b.ode)).level - b.w.model.water.level;
        const double lift = dd_ode_state(b.ode)[DD_STATE_POSITION + 2] - start;
        worst = fmax(worst, fabs(lift - level));
        highest = fmax(highest, lift);
    }
    print_message("surge of 0.2 m in 40 s: lifts by %.4f m, off the level by at most %.4f m\n", highest, worst);
    CHECK_NEAR(highest, 0.1, 0.002, "lift");
    CHECK_NEAR(worst, 0, 0.005, "follows");
    free_body_free(&b);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_hull_drifts_with_the_stream),
        cmocka_unit_test(wind_and_current_balance),
        cmocka_unit_test(the_books_close),
        cmocka_unit_test(a_slow_surge_carries_the_hull),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
