/* SPDX-License-Identifier: GPL-3.0-or-later */
/* |found - expected| <= tolerance, all three said when not. For tests that include <math.h> and <cmocka.h> before. */
#ifndef DD_TESTS_NEAR_H
#define DD_TESTS_NEAR_H

#define NEAR(found, expected, tolerance)                                                                                       \
    do {                                                                                                                       \
        const double found_ = (found), expected_ = (expected);                                                                 \
        if (!(fabs(found_ - expected_) <= (tolerance)))                                                                        \
            fail_msg("%s is %.12g, expected %.12g within %.3g", #found, found_, expected_, (double)(tolerance));               \
    } while (0)

#endif
