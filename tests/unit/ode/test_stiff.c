/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The stiff stepper on standard stiff problems: reference values, convergence with the tolerance, cost. */
#include "tests/unit/ode/checks.h"
#include "tests/unit/ode/cvode_stepper.h"
#include "tests/unit/ode/problems.h"

/* Error relative to |reference| + the scale of the absolute tolerance. */
static double error_at(const standard_problem *standard, const dd_stepper *stepper, double tolerance, const double *reference,
                       dd_ode_statistics *statistics)
{
    double absolute[MOST_COMPONENTS], y[MOST_COMPONENTS], scale[MOST_COMPONENTS];
    const dd_ode_problem problem = problem_at(standard, tolerance, absolute, NULL);
    dd_error error;
    CHECK_OK(integrate(stepper, &problem, standard->start, standard->end, y, statistics, &error), &error);
    for (size_t i = 0; i < standard->size; i++) scale[i] = fabs(reference[i]) + standard->scale[i];
    return largest_difference(y, reference, scale, standard->size);
}

/* The error over tolerances 1e-4 to 1e-10 never rises by more than a factor 2 from decade to decade (the sequence of
   steps is not a smooth function of the tolerance), falls by at least 10^3 over the six, and stays within `most`
   tolerances. 10^3: with the local error held at the tolerance, the global one goes as its power p / (p + 1), and an
   order p of 1 is the worst that the method uses. The steps needed stay within twice CVODE's. */
static void check_convergence(const standard_problem *standard, const double *reference, double most)
{
    double first = 0.0, last = INFINITY, tolerance = 1e-4;
    for (int decade = 0; decade <= 6; decade++, tolerance /= 10.0) {
        dd_ode_statistics ours, theirs;
        const double error = error_at(standard, &dd_stepper_bdf, tolerance, reference, &ours);
        error_at(standard, &dd_stepper_cvode, tolerance, reference, &theirs);
        CHECK_AT_MOST(error, most * tolerance);
        CHECK_AT_MOST(error, 2.0 * last);
        CHECK_AT_MOST((double)ours.steps, 2.0 * (double)theirs.steps);
        if (decade == 0) first = error;
        last = error;
    }
    CHECK_AT_MOST(last, 1e-3 * first);
}

/* Source: Mazzia and Magherini, Test Set for Initial Value Problem Solvers, release 2.4 (2008), problem VDPOL, solution
   at the end of the interval; there in the time scaled by mu (eps = 1e-6), here y' unscaled. Grade: published. */
static void van_der_pol_published(void **state)
{
    const double reference[2] = {1.706167732170483, -0.8928097010247975e-3};
    (void)state;
    check_convergence(&van_der_pol, reference, 1000.0);
}

/* Same source, problem HIRES. Grade: published. */
static void hires_published(void **state)
{
    const double reference[8] = {0.7371312573325668e-3, 0.1442485726316185e-3, 0.5888729740967575e-4, 0.1175651343283149e-2,
                                 0.2386356198831331e-2, 0.6238968252742796e-2, 0.2849998395185769e-2, 0.2850001604814231e-2};
    (void)state;
    check_convergence(&hires, reference, 500.0);
}

/* Reference by CVODE at tolerance 1e-12. Grade: library. */
static void robertson_against_cvode(void **state)
{
    double absolute[MOST_COMPONENTS], reference[3];
    const dd_ode_problem problem = problem_at(&robertson, 1e-12, absolute, NULL);
    dd_error error;
    (void)state;
    CHECK_OK(integrate(&dd_stepper_cvode, &problem, robertson.start, robertson.end, reference, NULL, &error), &error);
    /* Hairer and Wanner II print no figure; the SUNDIALS example cvRoberts_dns prints these for t = 4e5. Tolerance:
       half a unit of the last digit printed and their tolerance of 1e-4. Grade: published. */
    CHECK_NEAR(reference[0], 4.938e-3, 0.01e-3);
    CHECK_NEAR(reference[2], 0.99506, 1e-5);
    check_convergence(&robertson, reference, 100.0);
}

/* Conserved: the sum of the three is 1; each BDF step is linear in the derivatives, so it holds to rounding. */
static void robertson_keeps_its_sum(void **state)
{
    double absolute[MOST_COMPONENTS], y[3];
    const dd_ode_problem problem = problem_at(&robertson, 1e-5, absolute, NULL);
    dd_error error;
    (void)state;
    CHECK_OK(integrate(&dd_stepper_bdf, &problem, robertson.start, robertson.end, y, NULL, &error), &error);
    CHECK_NEAR(y[0] + y[1] + y[2], 1.0, 1e-11); /* closed form; a few thousand roundings */
}

/* A step count that an explicit method could not have: stiffness is what the stepper is for. Over t = 4e5 the fastest
   rate of Robertson's problem is about 1e4 /s, so that stability alone would cost 1e9 steps. */
static void stiff_steps_are_long(void **state)
{
    double absolute[MOST_COMPONENTS], y[3];
    const dd_ode_problem problem = problem_at(&robertson, 1e-5, absolute, NULL);
    dd_ode_statistics statistics;
    dd_error error;
    (void)state;
    CHECK_OK(integrate(&dd_stepper_bdf, &problem, robertson.start, robertson.end, y, &statistics, &error), &error);
    assert_true(statistics.steps < 2000);
    assert_true(statistics.jacobians < statistics.steps / 10);
    assert_true(statistics.derivatives < 5 * (statistics.steps + statistics.failed_steps));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(van_der_pol_published),   cmocka_unit_test(hires_published),
        cmocka_unit_test(robertson_against_cvode), cmocka_unit_test(robertson_keeps_its_sum),
        cmocka_unit_test(stiff_steps_are_long),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
