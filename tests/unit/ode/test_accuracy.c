/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Orders of accuracy, smooth problems with closed forms, dense output, numerical damping. */
#include "tests/unit/ode/checks.h"
#include "tests/unit/ode/problems.h"

static const double two_pi = 6.283185307179586;

/* Integrates the oscillator over one period with `count` equal steps (tolerances so wide that they never bind) and
   returns the error at the end; *between gets the largest error of the dense output within the steps. */
static double fixed_step_error(const dd_stepper *stepper, int count, double *between)
{
    double absolute[2] = {1e6, 1e6}, y[2], largest = 0.0;
    dd_ode_problem problem = problem_at(&oscillator, 1.0, absolute, NULL);
    const double step = two_pi / count;
    dd_ode *ode;
    dd_error error;
    absolute[0] = absolute[1] = 1e6;
    problem.largest_step = step;
    CHECK_OK(dd_ode_create(stepper, &problem, &ode, &error), &error);
    CHECK_OK(dd_ode_start(ode, 0.0, oscillator.start, step, &error), &error);
    while (dd_ode_time(ode) < two_pi) {
        CHECK_OK(dd_ode_step(ode, two_pi, &error), &error);
        for (int i = 0; i <= 10; i++) {
            const double from = dd_ode_previous_time(ode), t = from + 0.1 * i * (dd_ode_time(ode) - from);
            dd_ode_interpolate(ode, t, y);
            largest = fmax(largest, fabs(y[0] - cos(t)));
        }
    }
    assert_int_equal(dd_ode_statistics_of(ode)->steps, count);
    if (between != NULL) *between = largest;
    largest = hypot(dd_ode_state(ode)[0] - 1.0, dd_ode_state(ode)[1]);
    dd_ode_free(ode);
    return largest;
}

/* rk8pd is of order 8: halving the step divides the error by 2^8 or more (its constants at order 8 are made small, so
   that 8.9 is seen before rounding ends it). Grade: closed form; 0.3 of an order for what is left of higher ones. */
static void explicit_order(void **state)
{
    const double coarse = fixed_step_error(&dd_stepper_explicit, 10, NULL);
    const double fine = fixed_step_error(&dd_stepper_explicit, 20, NULL);
    (void)state;
    CHECK_BETWEEN(log2(coarse / fine), 7.7, INFINITY);
    assert_true(fine > 1e-13); /* not yet rounding */
}

/* With tolerances that never bind, BDF has no reason to leave order 1: backward Euler, whose error halves with the step.
   Free, it uses its orders up to 5: the error falls with the number of steps at a power between 4 and 6. Grade: closed
   form (first part, 0.1 of an order), memory of what such codes do (second). */
static void bdf_orders(void **state)
{
    const double coarse = fixed_step_error(&dd_stepper_bdf, 160, NULL);
    const double fine = fixed_step_error(&dd_stepper_bdf, 320, NULL);
    double absolute[4], y[4], differences[2];
    dd_ode_statistics statistics[2];
    (void)state;
    CHECK_BETWEEN(log2(coarse / fine), 0.9, 1.1);
    for (int i = 0; i < 2; i++) {
        const dd_ode_problem problem = problem_at(&kepler, i == 0 ? 1e-6 : 1e-10, absolute, NULL);
        dd_error error;
        CHECK_OK(integrate(&dd_stepper_bdf, &problem, kepler.start, two_pi, y, &statistics[i], &error), &error);
        differences[i] = largest_difference(y, kepler.start, NULL, 4);
    }
    CHECK_BETWEEN(log(differences[0] / differences[1]) / log((double)statistics[1].steps / (double)statistics[0].steps), 4.0,
                  6.0);
}

/* Hermite's error on a step h is h^4 |y''''| / 384 at its middle, |y''''| <= 1 here. Grade: closed form; 1 % for the
   other orders; order 4 within 0.05. */
static void hermite_order_and_constant(void **state)
{
    double coarse, fine;
    const double step = two_pi / 80;
    (void)state;
    fixed_step_error(&dd_stepper_explicit, 40, &coarse);
    fixed_step_error(&dd_stepper_explicit, 80, &fine);
    CHECK_BETWEEN(log2(coarse / fine), 3.95, 4.05);
    CHECK_BETWEEN(fine / (pow(step, 4.0) / 384.0), 0.98, 1.01);
}

/* Both ends of the step come out of the interpolation with the bits of the states, its slope there is the derivative. */
static void hermite_meets_the_ends(void **state)
{
    double absolute[4], y[4], aside[4];
    const dd_ode_problem problem = problem_at(&kepler, 1e-6, absolute, NULL);
    dd_ode *ode;
    dd_error error;
    (void)state;
    CHECK_OK(dd_ode_create(&dd_stepper_bdf, &problem, &ode, &error), &error);
    CHECK_OK(dd_ode_start(ode, 0.0, kepler.start, 0.0, &error), &error);
    memcpy(aside, dd_ode_state(ode), sizeof aside);
    for (int step = 0; step < 50; step++) {
        double h, near;
        CHECK_OK(dd_ode_step(ode, INFINITY, &error), &error);
        dd_ode_interpolate(ode, dd_ode_previous_time(ode), y);
        assert_memory_equal(y, aside, sizeof y);
        dd_ode_interpolate(ode, dd_ode_time(ode), y);
        assert_memory_equal(y, dd_ode_state(ode), sizeof y);
        memcpy(aside, y, sizeof y);
        h = dd_ode_time(ode) - dd_ode_previous_time(ode);
        near = dd_ode_time(ode) - 1e-4 * h;
        dd_ode_interpolate(ode, near, y);
        /* Difference quotient over 1e-4 of a step: truncation 1e-4 of the change of slope. */
        for (int i = 0; i < 4; i++) CHECK_NEAR((aside[i] - y[i]) / (dd_ode_time(ode) - near), dd_ode_derivative(ode)[i], 2e-3);
    }
    dd_ode_free(ode);
}

/* After one revolution the body is where it began. Grade: closed form. The factors on the tolerance are those of the
   problem (an error in the period grows along the orbit): CVODE has 600 to 7000 on it. */
static void kepler_returns(void **state)
{
    const dd_stepper *const steppers[] = {&dd_stepper_explicit, &dd_stepper_bdf};
    const double most[] = {50.0, 8000.0};
    (void)state;
    for (int which = 0; which < 2; which++) {
        double last = INFINITY, tolerance = 1e-4;
        for (int decade = 0; decade <= 6; decade++, tolerance /= 10.0) {
            double absolute[4], y[4], difference;
            const dd_ode_problem problem = problem_at(&kepler, tolerance, absolute, NULL);
            dd_error error;
            CHECK_OK(integrate(steppers[which], &problem, kepler.start, two_pi, y, NULL, &error), &error);
            difference = largest_difference(y, kepler.start, NULL, 4);
            CHECK_AT_MOST(difference, most[which] * tolerance);
            CHECK_AT_MOST(difference, 2.0 * last);
            last = difference;
        }
    }
}

/* Largest relative change of the amplitude of an oscillator of 2.1 s over `duration` s. */
static double amplitude_change(const dd_stepper *stepper, double tolerance, double duration)
{
    double absolute[2], y[2];
    /* In the oscillator's own time the period is 2 pi. An amplitude of 0.1 m stands for a boat's heave. */
    const double end = duration * two_pi / 2.1, start[2] = {0.1, 0.0}, amplitude = 0.1;
    dd_ode_problem problem = problem_at(&oscillator, tolerance, absolute, NULL);
    dd_error error;
    absolute[0] = absolute[1] = 0.1 * tolerance;
    CHECK_OK(integrate(stepper, &problem, start, end, y, NULL, &error), &error);
    return fabs(hypot(y[0], y[1]) / amplitude - 1.0);
}

/* BDF damps or grows; how much is the tolerance's doing. Over 120 s at the default tolerance 1e-5 the change of
   amplitude is below 1 % (measured 0.4 %), that is a damping ratio of 3e-5, against 0.02 and more of a boat afloat.
   It falls with the tolerance. Grade: closed form. */
static void bdf_damps_little(void **state)
{
    double last = INFINITY;
    (void)state;
    CHECK_AT_MOST(amplitude_change(&dd_stepper_bdf, 1e-5, 120.0), 1e-2);
    for (double tolerance = 1e-4; tolerance > 1e-9; tolerance /= 10.0) {
        const double change = amplitude_change(&dd_stepper_bdf, tolerance, 120.0);
        CHECK_AT_MOST(change, 2.0 * last);
        last = change;
    }
    CHECK_AT_MOST(amplitude_change(&dd_stepper_bdf, 1e-9, 1000.0), 3e-4);
}

/* An undamped motion keeps its energy to 1e-6 over 1000 s with the explicit method at tolerance 1e-10. */
static void explicit_keeps_energy(void **state)
{
    (void)state;
    CHECK_AT_MOST(amplitude_change(&dd_stepper_explicit, 1e-10, 1000.0), 0.5e-6); /* energy goes as its square */
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(explicit_order),
        cmocka_unit_test(bdf_orders),
        cmocka_unit_test(hermite_order_and_constant),
        cmocka_unit_test(hermite_meets_the_ends),
        cmocka_unit_test(kepler_returns),
        cmocka_unit_test(bdf_damps_little),
        cmocka_unit_test(explicit_keeps_energy),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
