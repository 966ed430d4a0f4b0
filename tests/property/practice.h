/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shipped rigs asked as an instructor would: a study with keys changed, and what it found by name. For the tests of practice. */
#ifndef DD_TESTS_PRACTICE_H
#define DD_TESTS_PRACTICE_H
#include "tests/property/scenarios.h"

/* The launch or retrieve of scenarios/, by `settle` or `run`, with keys changed ("key=value", ends with NULL): never NULL. */
dd_result *settled(const char *name, const char *const *changed);
dd_result *ran(const char *name, const char *const *changed);
#define CHANGED(...) ((const char *const[]){__VA_ARGS__, NULL})

/* A value of the table; fails where there is no such column. */
double cell(const dd_result *r, int row, const char *column);
/* The same, 0 where the column is missing: a force that is not in the model. */
double cell_or_zero(const dd_result *r, int row, const char *column);
/* Largest and smallest of a column over the rows of a procedure step (from 1); 0: all rows. Rows without a value are passed over. */
double most(const dd_result *r, int step, const char *column);
double least(const dd_result *r, int step, const char *column);
/* The row whose value of a rising column is nearest. */
int row_at(const dd_result *r, const char *column, double value);

/* The first event whose name begins so; NULL: none. */
const dd_event *event_of(const dd_result *r, const char *name);
/* Whether the first happens before the first of the other; both must happen. */
int comes_before(const dd_result *r, const char *name, const char *other);
/* A figure by group and name, each by its beginning, counted from 0 among those that fit; NaN: none. */
double figure_of(const dd_result *r, const char *group, const char *name, int which);
/* Whether the word is as told; says word and sentence when it is not. */
void word_is(const dd_result *r, const char *word);
#endif
