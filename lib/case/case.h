/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The key table of a scenario and what the folders below lib/case need of it. */
#ifndef DD_CASE_CASE_H
#define DD_CASE_CASE_H
#include "lib/base/key.h"
#include <drawdock/case.h>
#include <stdint.h>

/* Coefficients of the force that dd_force_at(force_index) gives, inside scenario->forces; NULL: it has none. */
const void *dd_case_force_parameters(const dd_case *scenario, int force_index);

/* Copies what is in use, as dd_water_copy(). */
void dd_case_copy(dd_case *to, const dd_case *from);

/* All rows of dd_case. The rows that follow the list of forces are put together here. */
typedef struct dd_case_table {
    dd_key *rows;   /* ends with name NULL */
    dd_key *boat;   /* of the boat, without what is aboard */
    dd_key *forces; /* rows of the block `forces`, one for each force with coefficients */
} dd_case_table;
/* false: out of memory. */
bool dd_case_table_create(dd_case_table *table);
void dd_case_table_free(dd_case_table *table);

/* Tells scenarios apart by all their values; false: out of memory. */
bool dd_case_fingerprint(const dd_case *scenario, uint64_t *fingerprint);

/* The fields of dd_case that are not in other folders' tables. */
extern const dd_key_variant dd_requirement_variants[];
bool dd_requirement_holds(const void *seating, char *message, size_t size, const char **key); /* a dd_key_rule */
extern const dd_key dd_requirement_keys[], dd_start_keys[], dd_placed_keys[], dd_seating_keys[], dd_braking_keys[], dd_limits_keys[], dd_fleet_keys[];

/* Rules across fields, each with the block whose struct it sees ("" is dd_case itself). */
typedef struct dd_rule_set {
    const char *block;
    size_t offset;
    const dd_key_rule *rules; /* ends with holds NULL */
    bool on_ramp;             /* about what a rig on the road has not */
} dd_rule_set;
extern const dd_rule_set dd_rule_sets[]; /* ends with rules NULL */
extern const dd_key_rule dd_case_rules[];

/* Walking the table ---------------------------------------------------------------------------------------------- */

/* Row by name among rows and, if not there, more (either may be NULL); NULL: none. */
const dd_key *dd_row_of(const dd_key *rows, const dd_key *more, const char *name);
/* The row whose text names a list's element in key paths ("name" or "item"); NULL: elements go by number. */
const dd_key *dd_naming_row(const dd_key *rows);
/* Fills one element of a list (or a block with variants) with "not given", then with defaults of the common rows and
   of the variant (NULL: none). */
void dd_element_defaults(const dd_key *row, const dd_key_variant *variant, void *element);
/* true: least and most say nothing (also where a row leaves both out). */
bool dd_is_open(const dd_key *row);
#endif
