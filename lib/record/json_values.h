/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Values of JSON text that a result or report is made of. A value is NULL only when memory runs out; put and append then set *failed. */
#ifndef DD_RECORD_JSON_VALUES_H
#define DD_RECORD_JSON_VALUES_H
#include <jansson.h>
#include <stdbool.h>

json_t *dd_json_number(double value);     /* null where it is not finite */
json_t *dd_json_string(const char *text); /* text that is not UTF-8 keeps its ASCII part */
void dd_json_put(json_t *object, const char *key, json_t *value, bool *failed);
void dd_json_append(json_t *list, json_t *value, bool *failed);
#endif
