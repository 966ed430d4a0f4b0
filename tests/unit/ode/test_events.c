/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Location of events: the root search alone, and bounces placed on the dense output of both steppers. */
#include "tests/unit/ode/checks.h"
#include "tests/unit/ode/problems.h"

static double cosine(double t, void *context)
{
    (*(int *)context)++;
    return cos(t);
}

static double cube(double t, void *context)
{
    (void)context;
    return t * t * t;
}

static double jump(double t, void *context) { return t < *(double *)context ? -1.0 : 1.0; }

static double broken(double t, void *context)
{
    (void)context;
    return t > 0.2 && t < 0.8 ? NAN : t - 0.5;
}

/* Grade: closed form; tolerance as asked of the search. */
static void roots_are_found(void **state)
{
    int calls = 0;
    double root = NAN, place = 0.3;
    dd_error error;
    (void)state;
    CHECK_OK(dd_ode_locate(cosine, &calls, 1.0, 2.0, cos(1.0), cos(2.0), 1e-12, &root, &error), &error);
    CHECK_NEAR(root, 1.5707963267948966, 1e-12);
    assert_true(calls < 12);
    /* From the other side, and with the root at an end. */
    CHECK_OK(dd_ode_locate(cosine, &calls, 4.0, 5.0, cos(4.0), cos(5.0), 1e-6, &root, &error), &error);
    CHECK_NEAR(root, 4.71238898038469, 1e-6);
    CHECK_OK(dd_ode_locate(cube, NULL, 0.0, 1.0, 0.0, 1.0, 1e-6, &root, &error), &error);
    assert_true(root == 0.0);
    CHECK_OK(dd_ode_locate(cube, NULL, -1.0, 0.0, -1.0, 0.0, 1e-6, &root, &error), &error);
    assert_true(root == 0.0);
    /* A triple root and a jump: no slope to go by. */
    CHECK_OK(dd_ode_locate(cube, NULL, -1.0, 2.0, -1.0, 8.0, 1e-6, &root, &error), &error);
    CHECK_NEAR(root, 0.0, 1e-6);
    CHECK_OK(dd_ode_locate(jump, &place, 0.0, 1.0, -1.0, 1.0, 1e-9, &root, &error), &error);
    CHECK_NEAR(root, 0.3, 1e-9);
    /* A tolerance that no number can meet ends all the same. */
    place = 1e6 + 0.3;
    CHECK_OK(dd_ode_locate(jump, &place, 1e6, 1e6 + 1.0, -1.0, 1.0, 0.0, &root, &error), &error);
    CHECK_NEAR(root, place, 1e-9);
    /* The caller's values at the ends count, even where the function, called again, would not agree by a rounding. */
    CHECK_OK(dd_ode_locate(cube, NULL, 0.0, 1.0, -1e-30, 1.0, 1e-9, &root, &error), &error);
    CHECK_NEAR(root, 0.0, 1e-9);
}

static double knee(double t, void *calls)
{
    ++*(int *)calls;
    return fmin(1.0, 100 * (0.9 - t));
}

static double foot_of_knee(void *calls)
{
    (void)calls;
    return 0.9;
}

static double bent(double t, void *calls)
{
    ++*(int *)calls;
    return t * t * t * t - 1;
}

/* Both ends closer than the tolerance, of different sense, and the root between them; a smooth one in 6 looks at most, a jump by halving. Closed form. */
static void roots_are_enclosed(void **state)
{
    (void)state;
    dd_error error;
    double a = 1, b = 2, ga = cos(1), gb = cos(2), place = 0.371;
    int calls = 0;
    CHECK_OK(dd_ode_enclose(cosine, NULL, &calls, &a, &b, &ga, &gb, 1e-3, &error), &error);
    assert_true(b - a <= 1e-3 && a <= acos(0) && acos(0) <= b && ga == cos(a) && gb == cos(b) && calls <= 6);
    for (double from = -1; from < 0.3; from += 0.13) {
        a = from, b = 1, ga = -1, gb = 1;
        CHECK_OK(dd_ode_enclose(jump, NULL, &place, &a, &b, &ga, &gb, 1e-6, &error), &error);
        assert_true(b - a <= 1e-6 && a <= place && place <= b && ga < 0 && gb >= 0);
    }
    a = -1, b = 2, ga = -1, gb = 8;
    CHECK_OK(dd_ode_enclose(cube, NULL, NULL, &a, &b, &ga, &gb, 1e-6, &error), &error);
    assert_true(b - a <= 1e-6 && a <= 0 && 0 <= b);
    /* Level and then steep: a straight line creeps and halving takes 20 looks; one who knows the steep part finds it at once. */
    calls = 0, a = 0, b = 1, ga = knee(0, &calls), gb = knee(1, &calls);
    CHECK_OK(dd_ode_enclose(knee, NULL, &calls, &a, &b, &ga, &gb, 1e-6, &error), &error);
    assert_true(b - a <= 1e-6 && a <= 0.9 && 0.9 <= b && calls <= 30);
    calls = 0, a = 0, b = 1, ga = knee(0, &calls), gb = knee(1, &calls);
    CHECK_OK(dd_ode_enclose(knee, foot_of_knee, &calls, &a, &b, &ga, &gb, 1e-6, &error), &error);
    assert_true(b - a <= 1e-6 && a <= 0.9 && 0.9 <= b && calls <= 5);
    /* Bent all the way: a straight line from the one side alone would take some hundred looks. */
    calls = 0, a = 0, b = 3, ga = bent(0, &calls), gb = bent(3, &calls);
    CHECK_OK(dd_ode_enclose(bent, NULL, &calls, &a, &b, &ga, &gb, 1e-6, &error), &error);
    assert_true(b - a <= 1e-6 && a <= 1 && 1 <= b && calls <= 16);
    a = 1, b = 2, ga = 1, gb = 8;
    assert_int_equal(dd_ode_enclose(cube, NULL, NULL, &a, &b, &ga, &gb, 1e-6, &error), DD_ERROR_ARGUMENT);
    a = -1, b = 2, ga = -1, gb = NAN;
    assert_int_equal(dd_ode_enclose(cube, NULL, NULL, &a, &b, &ga, &gb, 1e-6, &error), DD_ERROR_ARGUMENT);
}

/* The search without an error: the root, or NaN where there is none to be found. Grade: closed form. */
static void roots_without_an_error(void **state)
{
    (void)state;
    int calls = 0;
    CHECK_NEAR(dd_ode_root(cosine, &calls, 1.0, 2.0, 0.0), acos(0.0), 1e-15);
    assert_true(calls < 15);
    assert_true(dd_ode_root(cube, NULL, 0.0, 1.0, 0.0) == 0.0);
    assert_true(isnan(dd_ode_root(cube, NULL, 1.0, 2.0, 0.0)));
    assert_true(isnan(dd_ode_root(cube, NULL, 2.0, -1.0, 0.0)));
    assert_true(isnan(dd_ode_root(broken, NULL, 0.0, 1.0, 0.0)));
}

static double valley(double t, void *context)
{
    (*(int *)context)++;
    return fabs(t - 0.3);
}

/* Grade: closed form; tolerances as asked of the search. */
static void leasts_are_found(void **state)
{
    static const double t[] = {-1, 0, 1}, around_pi[] = {2, 3, 5};
    int calls = 0;
    double at = NAN, least = NAN;
    dd_error error;
    (void)state;
    CHECK_OK(dd_ode_least(cosine, &calls, around_pi, (double[]){cos(2), cos(3), cos(5)}, 1e-6, 0, &at, &least, &error), &error);
    assert_true(fabs(at - acos(-1)) < 1e-6 && fabs(least + 1) < 1e-12);
    calls = 0; /* a valley with straight sides, and by its value alone */
    CHECK_OK(dd_ode_least(valley, &calls, t, (double[]){1.3, 0.3, 0.7}, 1e-9, 1e-3, &at, &least, &error), &error);
    assert_true(fabs(at - 0.3) < 1e-3 && least == fabs(at - 0.3));
    assert_true(calls < 30);
    assert_true(dd_ode_promised(t, (double[]){1.3, 0.3, 0.7}) == 0.3 - 1 && isinf(dd_ode_promised(t, (double[]){0.3, 0.3, 0.7})));
    assert_true(fabs(dd_ode_promised((double[]){-1, 0, 4}, (double[]){1.3, 0.3, 0.7}) - (0.3 - 4)) < 1e-15); /* as steeply over the longer span */
    assert_int_equal(dd_ode_least(valley, &calls, t, (double[]){0.3, 0.3, 0.7}, 1e-3, 0, &at, &least, &error), DD_ERROR_ARGUMENT);
    assert_int_equal(dd_ode_least(broken, NULL, (double[]){0.1, 0.5, 0.9}, (double[]){1, 0, 1}, 1e-3, 0, &at, &least, &error), DD_ERROR_NOT_FINITE);
}

static void bad_brackets_are_refused(void **state)
{
    double root = NAN;
    dd_error error;
    (void)state;
    assert_int_equal(dd_ode_locate(cube, NULL, 1.0, 2.0, 1.0, 8.0, 1e-6, &root, &error), DD_ERROR_ARGUMENT);
    assert_int_equal(dd_ode_locate(cube, NULL, 2.0, -1.0, 8.0, -1.0, 1e-6, &root, &error), DD_ERROR_ARGUMENT);
    assert_int_equal(dd_ode_locate(cube, NULL, -1.0, 2.0, -1.0, 8.0, -1e-6, &root, &error), DD_ERROR_ARGUMENT);
    assert_int_equal(dd_ode_locate(cube, NULL, -1.0, 2.0, -1.0, NAN, 1e-6, &root, &error), DD_ERROR_NOT_FINITE);
    assert_int_equal(dd_ode_locate(broken, NULL, 0.0, 1.0, -0.5, 0.5, 1e-6, &root, &error), DD_ERROR_NOT_FINITE);
    assert_true(isnan(root)); /* nothing written on error */
}

/* A ball falls from a height and leaves each bounce with a share of its speed. */
static int fall_derivative(double t, const double *y, double *dydt, void *context)
{
    (void)t, (void)context;
    dydt[0] = y[1];
    dydt[1] = -9.81;
    return 0;
}

static int fall_jacobian(double t, const double *y, double *dfdy, double *dfdt, void *context)
{
    (void)t, (void)y, (void)context;
    dfdy[0] = dfdy[2] = dfdy[3] = 0.0;
    dfdy[1] = 1.0;
    dfdt[0] = dfdt[1] = 0.0;
    return 0;
}

static double height(double t, void *context)
{
    double y[MOST_COMPONENTS];
    dd_ode_interpolate(context, t, y);
    return y[0];
}

/* Steps freely to the next fall through height 0; *time and y are those of the event. */
static void to_next_contact(dd_ode *ode, double *time, double *y)
{
    dd_error error;
    double before, after;
    do {
        before = dd_ode_state(ode)[0];
        CHECK_OK(dd_ode_step(ode, INFINITY, &error), &error);
        after = dd_ode_state(ode)[0];
    } while (!(before > 0.0 && after <= 0.0));
    CHECK_OK(dd_ode_locate(height, ode, dd_ode_previous_time(ode), dd_ode_time(ode), before, after, 1e-10, time, &error),
             &error);
    dd_ode_interpolate(ode, *time, y);
}

/* Bounce k comes at sqrt(2 h / g) (1 + 2 (e + e^2 + ... + e^k)). Required: 1e-4 s over eight bounces at the default
   tolerance. Grade: closed form. A parabola is exact on a cubic, so what is seen is the stepper's error alone. */
static void bouncing_ball(void **state)
{
    const dd_stepper *const steppers[] = {&dd_stepper_bdf, &dd_stepper_explicit};
    const double restitution = 0.8, drop = 1.0;
    (void)state;
    for (int which = 0; which < 2; which++) {
        const double absolute[2] = {1e-6, 1e-6};
        const dd_ode_problem problem = {.size = 2, .derivative = fall_derivative, .jacobian = fall_jacobian, .relative_tolerance = 1e-5, .absolute = absolute};
        const double first = sqrt(2.0 * drop / 9.81);
        double expected = first, share = 1.0, time = 0.0, y[MOST_COMPONENTS] = {drop, 0.0};
        dd_ode *ode;
        dd_error error;
        CHECK_OK(dd_ode_create(steppers[which], &problem, &ode, &error), &error);
        for (int bounce = 0; bounce < 8; bounce++) {
            CHECK_OK(dd_ode_start(ode, time, y, 0.0, &error), &error);
            to_next_contact(ode, &time, y);
            CHECK_NEAR(time, expected, 1e-4);
            CHECK_NEAR(y[1], -share * first * 9.81, 1e-3);
            share *= restitution;
            expected += 2.0 * share * first;
            y[0] = fmax(y[0], 1e-12); /* above the ground, to be able to fall through it again */
            y[1] *= -restitution;
        }
        dd_ode_free(ode);
    }
}

/* An event of the oscillator, located on the dense output: y passes 0 at pi / 2 + 2 k pi. Its error is that of the
   path, not of the search, and falls with the tolerance. Grade: closed form. */
static void event_error_falls_with_the_tolerance(void **state)
{
    double last = INFINITY, absolute[MOST_COMPONENTS], y[MOST_COMPONENTS], time = NAN;
    (void)state;
    for (double tolerance = 1e-4; tolerance > 5e-9; tolerance /= 10.0) {
        const dd_ode_problem problem = problem_at(&oscillator, tolerance, absolute, NULL);
        dd_ode *ode;
        dd_error error;
        CHECK_OK(dd_ode_create(&dd_stepper_bdf, &problem, &ode, &error), &error);
        CHECK_OK(dd_ode_start(ode, 0.0, oscillator.start, 0.0, &error), &error);
        for (int k = 0; k < 3; k++) to_next_contact(ode, &time, y);
        time = fabs(time - 2.5 * 6.283185307179586 + 0.25 * 6.283185307179586);
        CHECK_AT_MOST(time, 1000.0 * tolerance);
        CHECK_AT_MOST(time, 2.0 * last);
        last = time;
        dd_ode_free(ode);
    }
    CHECK_AT_MOST(last, 1e-6);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(roots_are_found),
        cmocka_unit_test(roots_are_enclosed),
        cmocka_unit_test(leasts_are_found),
        cmocka_unit_test(bad_brackets_are_refused),
        cmocka_unit_test(roots_without_an_error),
        cmocka_unit_test(bouncing_ball),
        cmocka_unit_test(event_error_falls_with_the_tolerance),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
