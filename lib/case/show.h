/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Values of dd_case as text. */
#ifndef DD_CASE_SHOW_H
#define DD_CASE_SHOW_H
#include "lib/case/case.h"
#include <stddef.h>

double dd_load_double(const void *at);
int dd_load_int(const void *at);
/* Whether the row's value is given at all (not NaN, -1, empty); for a block: any value in it. structure: the struct that holds the row. */
bool dd_has_value(const dd_key *row, const void *structure);
/* The variant of a list's element or block; NULL: none. */
const dd_key_variant *dd_variant_at(const dd_key *row, const void *element);
/* A list of bare texts, as `without`. */
bool dd_is_text_list(const dd_key *row);
/* The effective input as a JSON document; malloc'ed, or NULL. */
char *dd_case_json(const dd_case *scenario, const dd_key *rows);
/* The JSON Schema of a scenario, draft 2020-12; malloc'ed, or NULL. */
char *dd_schema_text(const dd_key *rows);
#endif
