/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of dd_step: the procedure's actions and their end conditions. */
#ifndef DD_CREW_STEPS_H
#define DD_CREW_STEPS_H
#include "lib/base/key.h"
#include <drawdock/case.h>

extern const dd_key_variant dd_step_variants[]; /* in the order of DD_STEP_...; ends with name NULL */
extern const dd_key dd_until_keys[];
#endif
