/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A made-up result for tests of the record: every field filled, awkward texts and numbers among them. */
#ifndef TESTS_UNIT_RECORD_MADE_UP_H
#define TESTS_UNIT_RECORD_MADE_UP_H
#include <drawdock/result.h>

/* Never NULL: a failure ends the test. */
dd_result *made_up_result(void);
#endif
