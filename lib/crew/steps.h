/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of dd_step, its end conditions and the skipper. */
#ifndef DD_CREW_STEPS_H
#define DD_CREW_STEPS_H
#include "lib/base/key.h"
#include <drawdock/case.h>

extern const dd_key_variant dd_step_variants[]; /* in the order of DD_STEP_...; ends with name NULL */
extern const dd_key dd_until_keys[], dd_skipper_keys[];

/* Name of a step's action, as it is written in a file. */
const char *dd_step_name(int kind);
/* The skipper with what is not given taken from his preset. */
dd_skipper dd_skipper_complete(const dd_skipper *given);

/* What a procedure needs and in which order: whether people can do it at all. */
typedef struct dd_order_fault {
    int step;       /* 0-based; -1: none found */
    char text[240]; /* what was found and expected */
} dd_order_fault;
dd_order_fault dd_order_check(const dd_case *scenario);
/* Whether the procedure or the start uses the engine, the hand line: else those forces are left out. */
bool dd_case_uses_engine(const dd_case *scenario);
bool dd_case_uses_hand_line(const dd_case *scenario);
/* Whether the engine is down, the strap hooked on at the start. */
bool dd_case_starts_with_engine_down(const dd_case *scenario);
bool dd_case_starts_hooked(const dd_case *scenario);
#endif
