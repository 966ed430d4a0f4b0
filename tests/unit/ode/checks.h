/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cmocka with checks that say their numbers. */
#ifndef DD_TESTS_ODE_CHECKS_H
#define DD_TESTS_ODE_CHECKS_H
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include <drawdock/status.h>

/* A NaN fails each of them. */
#define CHECK_AT_MOST(value, limit)                                                                                            \
    do {                                                                                                                       \
        const double check_value = (value), check_limit = (limit);                                                             \
        if (!(check_value <= check_limit)) fail_msg("%s is %.9g, expected at most %.9g", #value, check_value, check_limit);    \
    } while (0)
#define CHECK_BETWEEN(value, low, high)                                                                                        \
    do {                                                                                                                       \
        const double check_value = (value), check_low = (low), check_high = (high);                                            \
        if (!(check_low <= check_value && check_value <= check_high))                                                          \
            fail_msg("%s is %.9g, expected %.9g to %.9g", #value, check_value, check_low, check_high);                         \
    } while (0)
#define CHECK_NEAR(value, expected, tolerance)                                                                                 \
    do {                                                                                                                       \
        const double check_value = (value), check_expected = (expected), check_tolerance = (tolerance);                        \
        if (!(fabs(check_value - check_expected) <= check_tolerance))                                                          \
            fail_msg("%s is %.15g, expected %.15g within %.3g", #value, check_value, check_expected, check_tolerance);         \
    } while (0)
#define CHECK_OK(call, error)                                                                                                  \
    do {                                                                                                                       \
        const dd_status check_status = (call);                                                                                 \
        if (check_status != DD_OK) fail_msg("%s: %s: %s", #call, (error)->place, (error)->message);                            \
    } while (0)
#endif
