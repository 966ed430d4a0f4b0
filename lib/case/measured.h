/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Readings of scale and tape: keys and rule. */
#ifndef DD_CASE_MEASURED_H
#define DD_CASE_MEASURED_H
#include "lib/base/key.h"
#include <drawdock/case.h>

extern const dd_key dd_measured_keys[];             /* common rows of dd_measured */
extern const dd_key_variant dd_measured_variants[]; /* by DD_READ_... */

/* The state of loading of that name, -1: the things aboard as given (no name), -2: there is none. */
int dd_loading_named(const dd_case *scenario, const char *name);
/* A rule: see dd_key_rule. */
bool dd_measured_are_whole(const void *structure, char *message, size_t size, const char **key);
#endif
