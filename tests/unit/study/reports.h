/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reports read by the name of table, column and row. */
#ifndef DD_TESTS_REPORTS_H
#define DD_TESTS_REPORTS_H
#include <drawdock/study.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "tests/unit/near.h"

/* The scenario below the source folder with overrides (ends with NULL; may be NULL); fails the test on an error. */
dd_case_file *scenario_with(const char *path, const char *const *overrides);
/* The messages of all errors of a scenario that must not be read, into text. */
void refusal_of(const char *path, const char *override, char *text, size_t size);
dd_report *weighed(const dd_case *scenario);
const dd_report_table *table_named(const dd_report *report, const char *key);
/* The cell of the row whose first cell is `row`, in the column of that name. */
const dd_report_cell *cell_at(const dd_report *report, const char *table, const char *row, const char *column);
double number_at(const dd_report *report, const char *table, const char *row, const char *column);
const dd_check *check_named(const dd_report *report, const char *name); /* NULL: none */
const dd_check *check_needed(const dd_report *report, const char *name); /* fails the test where there is none */

/* The rig that is weighed as its parts are shipped, and one that has every key. */
#define BARE "scenarios/on-the-road.yaml"
#define RATED "tests/unit/case/road.yaml"
/* The report of a scenario with overrides; of BARE without the ratings and wheels that it adds to the parts of its rig, and without its
   other states. */
dd_report *weighed_with(const char *path, const char *const *overrides);
/* What a study reports of a scenario with overrides, and what seat does. */
dd_report *reported_with(dd_status (*study)(const dd_case *, dd_report **, dd_error *), const char *path, const char *const *overrides);
dd_report *seated_with(const char *path, const char *const *overrides);
#endif
