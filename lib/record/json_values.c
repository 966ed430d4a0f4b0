/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/record/json_values.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

json_t *dd_json_number(double value) { return isfinite(value) ? json_real(value) : json_null(); }

json_t *dd_json_string(const char *text)
{
    json_error_t why = {0};
    json_t *value = json_pack_ex(&why, 0, "s", text);
    if (value || json_error_code(&why) != json_error_invalid_utf8) return value;
    size_t length = strlen(text);
    char *plain = malloc(length + 1);
    if (!plain) return NULL;
    for (size_t i = 0; i <= length; i++) plain[i] = (unsigned char)text[i] < 0x80 ? text[i] : '?';
    value = json_string(plain);
    free(plain);
    return value;
}

void dd_json_put(json_t *object, const char *key, json_t *value, bool *failed)
{
    if (json_object_set_new_nocheck(object, key, value) != 0) *failed = true;
}

void dd_json_append(json_t *list, json_t *value, bool *failed)
{
    if (json_array_append_new(list, value) != 0) *failed = true;
}
