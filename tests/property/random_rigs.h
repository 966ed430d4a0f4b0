/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rigs drawn at random that a fitter could have put together: a hull, a trailer set up for it, a vehicle, a ramp, water, and
   a launch or a retrieve with what people do in it. The same seed gives the same rig. */
#ifndef DD_TESTS_RANDOM_RIGS_H
#define DD_TESTS_RANDOM_RIGS_H
#include <drawdock/case.h>

/* What a rig has: bit 1 << DD_SUPPORT_... for each kind of support. */
typedef struct random_rig {
    unsigned supports;
    int fits; /* 0: the hull drawn is none */
} random_rig;

random_rig draw_rig(unsigned long seed, dd_case *scenario);
#endif
