/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The contract of dd_ode_*: limits, restarts that share bits, dense output that changes nothing, failures said aloud. */
#include "tests/unit/ode/checks.h"
#include "tests/unit/ode/problems.h"

static const dd_stepper *const steppers[] = {&dd_stepper_bdf, &dd_stepper_explicit};

/* Integrates to past `end` without any limit, and hashes the path: every time, state and derivative, bit for bit. */
static uint64_t path_hash(dd_ode *ode, double end, int samples)
{
    uint64_t hash = 1469598103934665603u; /* FNV-1a */
    double y[MOST_COMPONENTS];
    dd_error error;
    while (dd_ode_time(ode) < end) {
        double row[1 + 2 * 5];
        unsigned char bytes[sizeof row];
        CHECK_OK(dd_ode_step(ode, INFINITY, &error), &error);
        for (int i = 0; i < samples; i++) dd_ode_interpolate(ode, dd_ode_previous_time(ode), y);
        row[0] = dd_ode_time(ode);
        memcpy(row + 1, dd_ode_state(ode), 5 * sizeof *row);
        memcpy(row + 6, dd_ode_derivative(ode), 5 * sizeof *row);
        memcpy(bytes, row, sizeof row);
        for (size_t i = 0; i < sizeof bytes; i++) hash = (hash ^ bytes[i]) * 1099511628211u;
    }
    return hash;
}

static dd_ode *new_contact(const dd_stepper *stepper, double *absolute, contact_data *data)
{
    const dd_ode_problem problem = problem_at(&contact_block, 1e-6, absolute, data);
    dd_ode *ode = NULL;
    dd_error error;
    *data = contact_usual;
    CHECK_OK(dd_ode_create(stepper, &problem, &ode, &error), &error);
    return ode;
}

/* A run that is restarted at a point, and a fresh one that starts from the state saved there, share every bit; so do
   a first run, one started again on the used integrator, and one that is sampled 100 times per step. */
static void restart_shares_bits(void **state)
{
    (void)state;
    for (size_t which = 0; which < 2; which++) {
        contact_data data;
        double absolute[MOST_COMPONENTS], saved[5], saved_time;
        dd_ode *used = new_contact(steppers[which], absolute, &data), *fresh;
        dd_error error;
        uint64_t first, again, sampled, from_saved;
        CHECK_OK(dd_ode_start(used, 0.0, contact_block.start, 0.0, &error), &error);
        first = path_hash(used, 1.0, 0);
        memcpy(saved, dd_ode_state(used), sizeof saved);
        saved_time = dd_ode_time(used);
        /* Starting from the integrator's own storage is allowed. */
        CHECK_OK(dd_ode_start(used, saved_time, dd_ode_state(used), 0.0, &error), &error);
        from_saved = path_hash(used, 2.0, 0);
        CHECK_OK(dd_ode_start(used, 0.0, contact_block.start, 0.0, &error), &error);
        again = path_hash(used, 1.0, 0);
        CHECK_OK(dd_ode_start(used, 0.0, contact_block.start, 0.0, &error), &error);
        sampled = path_hash(used, 1.0, 100);
        assert_int_equal(first, again);
        assert_int_equal(first, sampled);
        dd_ode_free(used);
        fresh = new_contact(steppers[which], absolute, &data);
        CHECK_OK(dd_ode_start(fresh, saved_time, saved, 0.0, &error), &error);
        assert_int_equal(path_hash(fresh, 2.0, 0), from_saved);
        dd_ode_free(fresh);
    }
}

/* No step passes the limit, one ends on it exactly, and none ends where it was not asked to. */
static void limits_are_met_exactly(void **state)
{
    (void)state;
    for (size_t which = 0; which < 2; which++) {
        contact_data data;
        double absolute[MOST_COMPONENTS], limit = 0.0;
        dd_ode *ode = new_contact(steppers[which], absolute, &data);
        dd_error error;
        CHECK_OK(dd_ode_start(ode, 0.0, contact_block.start, 0.0, &error), &error);
        for (int k = 1; k <= 100; k++) {
            limit += 0.01 * k / 50.0;
            while (dd_ode_time(ode) < limit) {
                CHECK_OK(dd_ode_step(ode, limit, &error), &error);
                assert_true(dd_ode_time(ode) <= limit);
                assert_true(dd_ode_time(ode) > dd_ode_previous_time(ode));
            }
            assert_true(dd_ode_time(ode) == limit);
        }
        /* At the limit itself there is no step to take. */
        assert_int_equal(dd_ode_step(ode, limit, &error), DD_ERROR_ARGUMENT);
        dd_ode_free(ode);
    }
}

static void longest_step_is_kept(void **state)
{
    (void)state;
    for (size_t which = 0; which < 2; which++) {
        double absolute[2];
        dd_ode_problem problem = problem_at(&oscillator, 1e-3, absolute, NULL);
        dd_ode *ode;
        dd_error error;
        problem.largest_step = 0.01;
        CHECK_OK(dd_ode_create(steppers[which], &problem, &ode, &error), &error);
        CHECK_OK(dd_ode_start(ode, 0.0, oscillator.start, 0.0, &error), &error);
        for (int i = 0; i < 200; i++) {
            CHECK_OK(dd_ode_step(ode, INFINITY, &error), &error);
            /* Closed form; one rounding of the time. */
            CHECK_AT_MOST(dd_ode_time(ode) - dd_ode_previous_time(ode), 0.01 + 1e-15);
        }
        dd_ode_free(ode);
    }
}

typedef struct counted {
    long derivatives, jacobians;
    double bad_from; /* time from which the value below comes */
    double bad_value;
    int refuse, bad_jacobian;
} counted;

static int counted_derivative(double t, const double *y, double *dydt, void *context)
{
    counted *data = context;
    data->derivatives++;
    dydt[0] = y[1];
    dydt[1] = -y[0];
    if (t > data->bad_from && data->refuse) return 1;
    if (t > data->bad_from && !data->bad_jacobian) dydt[1] = data->bad_value;
    return 0;
}

static int counted_jacobian(double t, const double *y, double *dfdy, double *dfdt, void *context)
{
    counted *data = context;
    data->jacobians++;
    oscillator.jacobian(t, y, dfdy, dfdt, NULL);
    if (data->bad_jacobian) dfdy[2] = data->bad_value;
    return 0;
}

static dd_ode *new_counted(const dd_stepper *stepper, double *absolute, counted *data)
{
    dd_ode_problem problem = problem_at(&oscillator, 1e-6, absolute, data);
    dd_ode *ode = NULL;
    dd_error error;
    problem.derivative = counted_derivative;
    problem.jacobian = counted_jacobian;
    CHECK_OK(dd_ode_create(stepper, &problem, &ode, &error), &error);
    CHECK_OK(dd_ode_start(ode, 0.0, oscillator.start, 0.0, &error), &error);
    return ode;
}

static void statistics_count(void **state)
{
    (void)state;
    for (size_t which = 0; which < 2; which++) {
        double absolute[2];
        counted data = {.bad_from = INFINITY};
        dd_ode *ode = new_counted(steppers[which], absolute, &data);
        const dd_ode_statistics *statistics = dd_ode_statistics_of(ode);
        dd_error error;
        for (int i = 0; i < 100; i++) CHECK_OK(dd_ode_step(ode, INFINITY, &error), &error);
        assert_int_equal(statistics->steps, 100);
        assert_int_equal(statistics->derivatives, data.derivatives);
        assert_int_equal(statistics->jacobians, data.jacobians);
        assert_int_equal(data.jacobians > 0, steppers[which]->needs_jacobian);
        /* The derivative at the start of a step is not computed twice: 13 stages, the first known, and one at the
           end; two for the start. */
        if (steppers[which] == &dd_stepper_explicit) {
            assert_int_equal(statistics->failed_steps, 0);
            assert_int_equal(data.derivatives, 2 + 13 * 100);
        }
        dd_ode_free(ode);
    }
}

/* Steps until it fails; checks that the last good step stays whole; returns the status. */
static dd_status run_into_failure(dd_ode *ode, dd_error *error)
{
    double before[2], after[2], time, middle;
    dd_status status;
    do {
        time = dd_ode_time(ode);
        middle = 0.5 * (time + dd_ode_previous_time(ode));
        dd_ode_interpolate(ode, middle, before);
        status = dd_ode_step(ode, INFINITY, error);
    } while (status == DD_OK && dd_ode_time(ode) < 100.0);
    dd_ode_interpolate(ode, middle, after);
    assert_true(dd_ode_time(ode) == time);
    assert_memory_equal(before, after, sizeof before);
    return status;
}

static void failures_are_said_aloud(void **state)
{
    (void)state;
    for (size_t which = 0; which < 2; which++) {
        double absolute[2];
        const double bad_values[] = {NAN, INFINITY, -INFINITY};
        dd_error error;
        dd_ode *ode;
        for (int i = 0; i < 3; i++) {
            counted data = {.bad_from = 1.5, .bad_value = bad_values[i]};
            ode = new_counted(steppers[which], absolute, &data);
            assert_int_equal(run_into_failure(ode, &error), DD_ERROR_NOT_FINITE);
            assert_non_null(strstr(error.message, "derivative of component 1"));
            assert_non_null(strstr(error.message, "t = 1.5"));
            CHECK_AT_MOST(dd_ode_time(ode), 1.5); /* it went up to the fault and not beyond */
            CHECK_BETWEEN(dd_ode_time(ode), 1.49, 1.5);
            assert_true(data.derivatives < 3000);
            dd_ode_free(ode);
        }
        counted refusing = {.bad_from = 1.5, .refuse = 1};
        ode = new_counted(steppers[which], absolute, &refusing);
        assert_int_equal(run_into_failure(ode, &error), DD_ERROR_STEP);
        assert_non_null(strstr(error.message, "derivative cannot be computed"));
        dd_ode_free(ode);
    }
}

static void bad_jacobian_is_said_aloud(void **state)
{
    double absolute[2];
    counted data = {.bad_from = INFINITY, .bad_value = NAN, .bad_jacobian = 1};
    dd_error error;
    dd_ode *ode = new_counted(&dd_stepper_bdf, absolute, &data);
    (void)state;
    assert_int_equal(run_into_failure(ode, &error), DD_ERROR_NOT_FINITE);
    assert_non_null(strstr(error.message, "Jacobian of component 1"));
    dd_ode_free(ode);
}

static int blow_up_derivative(double t, const double *y, double *dydt, void *context)
{
    (void)t, (void)context;
    dydt[0] = 1.0;
    dydt[1] = y[1] * y[1];
    return 0;
}

static int blow_up_jacobian(double t, const double *y, double *dfdy, double *dfdt, void *context)
{
    (void)t, (void)context;
    dfdy[0] = dfdy[1] = dfdy[2] = 0.0;
    dfdy[3] = 2.0 * y[1];
    dfdt[0] = dfdt[1] = 0.0;
    return 0;
}

/* y = 1 / (1 - t) has no value at t = 1: the step falls below what time can resolve, and the message says which
   component and when. Grade: closed form. */
static void step_below_limit_is_said_aloud(void **state)
{
    const double absolute[2] = {1e-7, 1e-7}, start[2] = {0.0, 1.0};
    (void)state;
    for (size_t which = 0; which < 2; which++) {
        const dd_ode_problem problem = {.size = 2, .derivative = blow_up_derivative, .jacobian = blow_up_jacobian, .relative_tolerance = 1e-6, .absolute = absolute};
        dd_ode *ode;
        dd_error error;
        CHECK_OK(dd_ode_create(steppers[which], &problem, &ode, &error), &error);
        CHECK_OK(dd_ode_start(ode, 0.0, start, 0.0, &error), &error);
        assert_int_equal(run_into_failure(ode, &error), DD_ERROR_STEP);
        assert_non_null(strstr(error.message, "component 1 changes fastest"));
        CHECK_NEAR(dd_ode_time(ode), 1.0, 1e-4);
        dd_ode_free(ode);
    }
}

static void arguments_are_checked(void **state)
{
    double absolute[2] = {1e-6, 1e-6}, relative[2] = {1.0, 1.0}, start[2] = {1.0, 0.0};
    dd_ode_problem good = problem_at(&oscillator, 1e-6, absolute, NULL), bad;
    dd_ode *ode = NULL;
    dd_error error;
    (void)state;
    good.relative = relative;
    bad = good;
    bad.jacobian = NULL;
    assert_int_equal(dd_ode_create(&dd_stepper_bdf, &bad, &ode, &error), DD_ERROR_UNSET);
    assert_null(ode);
    CHECK_OK(dd_ode_create(&dd_stepper_explicit, &bad, &ode, &error), &error);
    assert_int_equal(dd_ode_step(ode, 1.0, &error), DD_ERROR_ARGUMENT); /* not started */
    start[1] = NAN;
    assert_int_equal(dd_ode_start(ode, 0.0, start, 0.0, &error), DD_ERROR_NOT_FINITE);
    start[1] = 0.0;
    assert_int_equal(dd_ode_start(ode, NAN, start, 0.0, &error), DD_ERROR_ARGUMENT);
    assert_int_equal(dd_ode_start(ode, 0.0, start, -1.0, &error), DD_ERROR_ARGUMENT);
    assert_int_equal(dd_ode_start(ode, 0.0, start, -1.0, NULL), DD_ERROR_ARGUMENT);
    dd_ode_free(ode);
    for (int what = 0; what < 8; what++) {
        bad = good;
        absolute[1] = what == 0 ? INFINITY : what == 1 ? 0.0 : what == 2 ? NAN : 1e-6;
        relative[0] = what == 3 ? -1.0 : what == 4 ? NAN : 1.0;
        bad.relative_tolerance = what == 5 ? NAN : 1e-6;
        bad.largest_step = what == 6 ? -1.0 : 0.0;
        bad.size = what == 7 ? 0 : 2;
        assert_int_equal(dd_ode_create(&dd_stepper_bdf, &bad, &ode, &error), what == 7 ? DD_ERROR_UNSET : DD_ERROR_ARGUMENT);
        assert_null(ode);
    }
    dd_ode_free(NULL);
}

/* relative[i] = 0 leaves the absolute tolerance alone: a large offset of a component then costs no accuracy. */
static void weights_are_by_component(void **state)
{
    const double absolute[2] = {2.0, 3.0}, relative[2] = {0.0, 0.5};
    const dd_ode_problem problem = {.size = 2, .relative_tolerance = 0.1, .absolute = absolute, .relative = relative};
    (void)state;
    CHECK_NEAR(dd_ode_error_weight(&problem, 0, 1000.0), 2.0, 0.0);
    CHECK_NEAR(dd_ode_error_weight(&problem, 1, -1000.0), 53.0, 1e-12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(restart_shares_bits),      cmocka_unit_test(limits_are_met_exactly),
        cmocka_unit_test(longest_step_is_kept),     cmocka_unit_test(statistics_count),
        cmocka_unit_test(failures_are_said_aloud),  cmocka_unit_test(bad_jacobian_is_said_aloud),
        cmocka_unit_test(arguments_are_checked),    cmocka_unit_test(step_below_limit_is_said_aloud),
        cmocka_unit_test(weights_are_by_component),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
