/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From files to dd_case. */
#ifndef DD_CASE_READER_H
#define DD_CASE_READER_H
#include "lib/case/case.h"
#include "lib/case/node.h"

/* The root mapping of the scenario at path, with what it is `based on`; NULL: a message says why. */
dd_node *dd_load_scenario(dd_reading *reading, const char *path);
/* Replaces the file name in entry (a row with file = true) by that file's mapping, with what it is `based on`. scenario: the
   file beside which names are looked up after the folder of the file that holds the name. */
void dd_load_part(dd_reading *reading, dd_entry *entry, const char *path);
/* All of the text file that the scalar names, which the caller frees; *file is its index in files[]. NULL: a message says why. */
char *dd_load_bytes(dd_reading *reading, const char *name, dd_place from, const char *path, int *file, size_t *size);
/* Puts what the CSV file of `water: tide: read` has into the tide's constants or points. */
void dd_load_tide_file(dd_reading *reading, dd_case *scenario, dd_node *root);
/* Puts the value of "water.level=0.4 m" into the nodes. */
void dd_apply_override(dd_reading *reading, const dd_key *rows, dd_node *root, const char *override);
/* Reads a mapping into a struct at `offset` in scenario. */
void dd_read_mapping(dd_reading *reading, const dd_key *rows, const dd_key *more, dd_case *scenario, size_t offset,
                     const dd_node *node, const char *path);
/* true: one of the rows marked on_ramp stands in the mapping. */
bool dd_is_on_ramp(const dd_key *rows, const dd_node *node);
/* "unknown key; nearest known key: 'level'": table is the whole table, searched for the name elsewhere. */
void dd_complain_unknown(dd_reading *reading, dd_place place, const char *path, const char *name, const dd_key *rows,
                         const dd_key *more);
/* path "." name, or path where one is empty. Returns text. */
char *dd_join_path(const char *path, const char *name, char text[DD_PATH]);

struct dd_case_file {
    dd_case scenario;
    dd_case_table table;
    dd_reading reading; /* keeps files and origins for dd_case_show */
};
/* Origin of the value of row at offset, or NULL: it was not given. */
const dd_origin *dd_origin_of(const dd_reading *reading, size_t offset, const dd_key *row);
#endif
