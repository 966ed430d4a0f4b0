/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The text of a JSON value, for the scenario, the schema and the result. */
#ifndef DD_CASE_JSON_TEXT_H
#define DD_CASE_JSON_TEXT_H
#include <jansson.h>

/* With room for `spare` bytes more and ended by NUL; malloc'ed, NULL: out of memory. Doubles keep their bits. */
char *dd_json_text(const json_t *root, size_t indent, size_t spare);
#endif
