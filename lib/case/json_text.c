/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/case/json_text.h"
#include <stdlib.h>

/* Not json_dumps: where its buffer cannot grow inside a key, it leaves the key out and reports nothing (Jansson 2.14).
   json_dumpb writes into room that is already there; it says 0 when it fails. */
char *dd_json_text(const json_t *root, size_t indent, size_t spare)
{
    const size_t flags = JSON_INDENT(indent) | JSON_REAL_PRECISION(17);
    size_t length = json_dumpb(root, NULL, 0, flags);
    char *text = length > 0 ? malloc(length + 1 + spare) : NULL;
    if (text == NULL) return NULL;
    if (json_dumpb(root, text, length, flags) != length) {
        free(text);
        return NULL;
    }
    text[length] = '\0';
    return text;
}
