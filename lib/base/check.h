/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A struct held against its key rows: for handles created by a program, without a file. */
#ifndef DD_BASE_CHECK_H
#define DD_BASE_CHECK_H
#include <drawdock/status.h>
#include "lib/base/key.h"

/* Every required field set and every value in its range, in nested blocks and list elements as well. place: "dd_rig_create: trailer". */
dd_status dd_key_check(const dd_key *rows, const void *structure, const char *place, dd_error *error);
/* Fills fields that are not given (NaN, -1) with their constant defaults, in list elements as well. */
void dd_key_fill(const dd_key *rows, void *structure);
/* Every rule holds. A missing field (the message begins with "not given") is DD_ERROR_UNSET. */
dd_status dd_key_check_rules(const dd_key_rule *rules, const void *structure, const char *place, dd_error *error);
#endif
