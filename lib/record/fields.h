/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The fields of result.json, for help and tests. */
#ifndef DD_RECORD_FIELDS_H
#define DD_RECORD_FIELDS_H

enum { DD_RESULT_FORMAT = 1 };

typedef struct dd_result_field {
    const char *path, *type, *help;
} dd_result_field;

/* NULL past the end. The second: of a report. */
const dd_result_field *dd_result_field_at(int index);
const dd_result_field *dd_report_field_at(int index);
/* "within", "broken", "failed", "incomplete"; as result.json has it. */
const char *dd_verdict_name(int verdict);
#endif
