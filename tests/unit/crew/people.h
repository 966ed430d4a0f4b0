/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the tests of the people share. */
#ifndef DD_TESTS_CREW_PEOPLE_H
#define DD_TESTS_CREW_PEOPLE_H
#include "lib/crew/actions.h"
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <cmocka.h>

#include "tests/unit/near.h"

/* A step of a kind with the defaults of its keys. */
static inline dd_step people_step(int kind)
{
    dd_step step;
    memset(&step, 0, sizeof step);
    for (int i = 0; i < DD_STEP_KIND_COUNT; i++) dd_key_clear(dd_step_variants[i].rows, &step);
    dd_key_defaults(dd_step_variants[kind].rows, &step);
    step.kind = kind;
    return step;
}

static inline dd_skipper people_skipper(int preset)
{
    dd_skipper skipper;
    dd_key_clear(dd_skipper_keys, &skipper);
    dd_key_defaults(dd_skipper_keys, &skipper);
    skipper.preset = preset;
    return dd_skipper_complete(&skipper);
}

/* Nothing happens: the boat sits on its trailer, braked, hub dry. */
static inline dd_observation people_nothing(double time)
{
    return (dd_observation){.time = time, .hub_depth = -0.1, .rear_support_depth = -0.2, .distance_clear = -4, .stop_gap = 1, .carried = 1};
}

static const dd_limits people_limits = {.stop_gap = 0.02};
#endif
