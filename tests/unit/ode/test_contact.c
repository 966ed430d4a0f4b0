/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the stepper is for: stiff contacts k d^1.5 with elasto-plastic friction, whose second derivatives jump, against
   CVODE on the same right-hand side. */
#include "tests/unit/ode/checks.h"
#include "tests/unit/ode/cvode_stepper.h"
#include "tests/unit/ode/problems.h"

#define BLOCKS 9
#define SIZE (5 * BLOCKS)

/* Nine blocks, each with another mass, stiffness and drop, so that their contacts come and go at different times: a
   dense system of 45, the size of a boat on its trailer. */
typedef struct cradle {
    contact_data blocks[BLOCKS];
    double start[SIZE], absolute[SIZE], largest_speed[BLOCKS];
} cradle;

static int cradle_derivative(double t, const double *y, double *dydt, void *context)
{
    cradle *data = context;
    for (int b = 0; b < BLOCKS; b++) contact_block.derivative(t, y + 5 * b, dydt + 5 * b, &data->blocks[b]);
    return 0;
}

static int cradle_jacobian(double t, const double *y, double *dfdy, double *dfdt, void *context)
{
    cradle *data = context;
    double block[25];
    memset(dfdy, 0, SIZE * SIZE * sizeof *dfdy);
    memset(dfdt, 0, SIZE * sizeof *dfdt);
    for (int b = 0; b < BLOCKS; b++) {
        double unused[5];
        contact_block.jacobian(t, y + 5 * b, block, unused, &data->blocks[b]);
        for (int i = 0; i < 5; i++) memcpy(dfdy + (5 * b + i) * SIZE + 5 * b, block + 5 * i, 5 * sizeof *block);
    }
    return 0;
}

static dd_ode_problem cradle_problem(cradle *data, double tolerance)
{
    for (int b = 0; b < BLOCKS; b++) {
        data->blocks[b] = contact_usual;
        data->blocks[b].mass *= 1.0 + 0.3 * b;
        data->blocks[b].stiffness *= 1.0 + 0.17 * b;
        memcpy(data->start + 5 * b, contact_block.start, 5 * sizeof *data->start);
        data->start[5 * b] *= 1.0 + 0.1 * b;
        for (int i = 0; i < 5; i++) data->absolute[5 * b + i] = tolerance * contact_block.scale[i];
    }
    return (dd_ode_problem){.size = SIZE,
                            .derivative = cradle_derivative,
                            .jacobian = cradle_jacobian,
                            .context = data,
                            .relative_tolerance = tolerance,
                            .absolute = data->absolute};
}

/* Normal force of a block. */
static double normal_force(const contact_data *data, const double *y)
{
    const double depth = y[0] < 0.0 ? -y[0] : 0.0;
    return fmax(0.0, data->stiffness * depth * sqrt(depth) * (1.0 - data->damping * y[1]));
}

typedef struct outcome {
    double y[SIZE], peak[BLOCKS];
    dd_ode_statistics statistics;
} outcome;

/* Runs two seconds and keeps the peak force of each block, looked for at 20 points of the dense output of each step. */
static void run_cradle(const dd_stepper *stepper, double tolerance, outcome *out)
{
    cradle data;
    const dd_ode_problem problem = cradle_problem(&data, tolerance);
    double y[SIZE];
    dd_ode *ode;
    dd_error error;
    memset(out, 0, sizeof *out);
    CHECK_OK(dd_ode_create(stepper, &problem, &ode, &error), &error);
    CHECK_OK(dd_ode_start(ode, 0.0, data.start, 0.0, &error), &error);
    while (dd_ode_time(ode) < 2.0) {
        const double from = dd_ode_time(ode);
        CHECK_OK(dd_ode_step(ode, 2.0, &error), &error);
        for (int i = 1; i <= 20; i++) {
            dd_ode_interpolate(ode, from + (dd_ode_time(ode) - from) * i / 20.0, y);
            for (int b = 0; b < BLOCKS; b++) out->peak[b] = fmax(out->peak[b], normal_force(&data.blocks[b], y + 5 * b));
        }
    }
    memcpy(out->y, dd_ode_state(ode), sizeof out->y);
    out->statistics = *dd_ode_statistics_of(ode);
    dd_ode_free(ode);
}

/* The analytic Jacobian of the test problem itself against central differences, in flight, sticking and sliding;
   1e-5 of the largest entry of the row. Grade: formula. */
static void jacobian_of_the_test(void **state)
{
    const double points[][5] = {{0.01, -0.3, 0.0, 0.4, 1e-3},      {-0.004, -0.2, 0.1, 0.4, 1.7e-3},
                                {-0.006, 0.1, 0.1, -0.2, -1.8e-3}, {-0.003, 0.0, 0.1, 0.1, 0.5e-3},
                                {-0.003, 0.0, 0.1, 0.1, -1.5e-3},  {-0.003, 0.0, 0.1, 0.3, 2.0001e-3}};
    contact_data data = contact_usual;
    (void)state;
    for (size_t p = 0; p < sizeof points / sizeof *points; p++) {
        double exact[25], unused[5];
        contact_block.jacobian(0.0, points[p], exact, unused, &data);
        for (int j = 0; j < 5; j++) {
            const double step = 1e-8;
            double low[5], high[5], y[5];
            memcpy(y, points[p], sizeof y);
            y[j] += step;
            contact_block.derivative(0.0, y, high, &data);
            y[j] -= 2.0 * step;
            contact_block.derivative(0.0, y, low, &data);
            for (int i = 0; i < 5; i++) {
                double largest = 1.0;
                for (int k = 0; k < 5; k++) largest = fmax(largest, fabs(exact[5 * i + k]));
                CHECK_NEAR(exact[5 * i + j], (high[i] - low[i]) / (2.0 * step), 1e-5 * largest);
            }
        }
    }
}

/* At the tolerances that a run may have, the peaks agree with CVODE's at 1e-9 to 0.5 % and the resting places to 1 mm:
   the bounds asked of the whole model. Grade: library. */
static void peaks_and_places_as_cvode(void **state)
{
    outcome reference, ours;
    (void)state;
    run_cradle(&dd_stepper_cvode, 1e-9, &reference);
    for (double tolerance = 1e-5; tolerance > 5e-9; tolerance /= 10.0) {
        run_cradle(&dd_stepper_bdf, tolerance, &ours);
        for (int b = 0; b < BLOCKS; b++) {
            /* A real blow: without damping, 0.4 k d^2.5 = m g (drop + d) gives 5.3 times the weight of the first. */
            assert_true(reference.peak[b] > 3.0 * (1.0 + 0.3 * b) * contact_usual.mass * contact_usual.gravity);
            CHECK_NEAR(ours.peak[b], reference.peak[b], 0.005 * reference.peak[b]);
            CHECK_NEAR(ours.y[5 * b], reference.y[5 * b], 1e-3);
            CHECK_NEAR(ours.y[5 * b + 2], reference.y[5 * b + 2], 1e-3);
        }
    }
}

/* The error at the end falls with the tolerance from 1e-4 to 1e-10, never rises by more than a factor 2, and is at
   most 50 tolerances of |y| + scale; the work stays near CVODE's: within 1.5 times its steps, and no method that fails
   more than a fifth of its steps. Grade: library (CVODE at 1e-12). */
static void converges_on_contacts(void **state)
{
    outcome reference, ours, theirs;
    double scale[SIZE], last = INFINITY, tolerance = 1e-4;
    (void)state;
    run_cradle(&dd_stepper_cvode, 1e-12, &reference);
    for (int i = 0; i < SIZE; i++) scale[i] = fabs(reference.y[i]) + contact_block.scale[i % 5];
    for (int decade = 0; decade <= 6; decade++, tolerance /= 10.0) {
        double difference;
        run_cradle(&dd_stepper_bdf, tolerance, &ours);
        run_cradle(&dd_stepper_cvode, tolerance, &theirs);
        difference = largest_difference(ours.y, reference.y, scale, SIZE);
        CHECK_AT_MOST(difference, 50.0 * tolerance);
        CHECK_AT_MOST(difference, 2.0 * last);
        CHECK_AT_MOST((double)ours.statistics.steps, 1.5 * (double)theirs.statistics.steps);
        CHECK_AT_MOST((double)ours.statistics.failed_steps, 0.2 * (double)ours.statistics.steps);
        last = difference;
    }
}

/* A block that has come to rest stays: friction that holds does not creep. Over 600 s, on its bristle, it moves less
   than a hundredth of a millimetre. Grade: closed form (rest is a solution). */
static void rest_is_kept(void **state)
{
    double absolute[MOST_COMPONENTS], rested[5], later[5];
    contact_data data = contact_usual;
    const dd_ode_problem problem = problem_at(&contact_block, 1e-5, absolute, &data);
    dd_error error;
    dd_ode_statistics statistics;
    (void)state;
    CHECK_OK(integrate(&dd_stepper_bdf, &problem, contact_block.start, 3.0, rested, NULL, &error), &error);
    CHECK_OK(integrate(&dd_stepper_bdf, &problem, rested, 600.0, later, &statistics, &error), &error);
    CHECK_NEAR(later[2], rested[2], 1e-5);
    /* m g = k d^1.5: closed form. */
    CHECK_NEAR(later[0], -pow(data.mass * data.gravity / data.stiffness, 2.0 / 3.0), 1e-6);
    assert_true(statistics.steps < 500);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(jacobian_of_the_test),
        cmocka_unit_test(peaks_and_places_as_cvode),
        cmocka_unit_test(converges_on_contacts),
        cmocka_unit_test(rest_is_kept),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
