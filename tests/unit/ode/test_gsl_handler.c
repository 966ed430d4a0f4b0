/* SPDX-License-Identifier: GPL-3.0-or-later */
/* GSL's error handler ends the process by default. Each case needs a process in which nothing has touched it yet. */
#include "lib/ode/gsl.h"
#include "tests/unit/ode/checks.h"
#include "tests/unit/ode/problems.h"

#include <gsl/gsl_errno.h>
#include <sys/wait.h>
#include <unistd.h>

static void own_handler(const char *reason, const char *file, int line, int code)
{
    (void)reason, (void)file, (void)line, (void)code;
}

/* Runs `body` in a child; returns what waitpid says of it. */
static int in_child(int (*body)(void))
{
    int status = -1;
    const pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) _exit(body());
    assert_int_equal(waitpid(child, &status, 0), child);
    return status;
}

static int make_stepper(void)
{
    double absolute[2];
    const dd_ode_problem problem = problem_at(&oscillator, 1e-6, absolute, NULL);
    dd_ode *ode;
    const dd_status status = dd_ode_create(&dd_stepper_explicit, &problem, &ode, NULL);
    dd_ode_free(ode);
    return status == DD_OK ? 0 : 1;
}

static int default_is_turned_off(void)
{
    const int made = make_stepper();
    gsl_error("provoked", __FILE__, __LINE__, GSL_EINVAL); /* would abort */
    return made;
}

static int own_handler_stays(void)
{
    gsl_set_error_handler(own_handler);
    if (make_stepper() != 0) return 1;
    return gsl_set_error_handler(NULL) == own_handler ? 0 : 1;
}

static int only_once(void)
{
    dd_gsl_quiet();
    gsl_set_error_handler(own_handler); /* set later than the library's call */
    dd_gsl_quiet();
    return gsl_set_error_handler(NULL) == own_handler ? 0 : 1;
}

/* A bracket that GSL itself refuses must come back as our error. */
static double always_one(double t, void *context)
{
    (void)t, (void)context;
    return 1.0;
}

static int root_search_survives(void)
{
    double root;
    /* The function contradicts the value said for the end b: Brent's method sees only positive values inside. */
    const dd_status status = dd_ode_locate(always_one, NULL, 0.0, 1.0, 1.0, -1.0, 1e-6, &root, NULL);
    return status == DD_OK && root > 0.99 ? 0 : 1; /* the sign changes at b, by the caller's own value */
}

static void handlers(void **state)
{
    (void)state;
    assert_int_equal(in_child(default_is_turned_off), 0);
    assert_int_equal(in_child(own_handler_stays), 0);
    assert_int_equal(in_child(only_once), 0);
    assert_int_equal(in_child(root_search_survives), 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(handlers)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
