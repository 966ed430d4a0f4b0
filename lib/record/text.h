/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A growing string. */
#ifndef DD_RECORD_TEXT_H
#define DD_RECORD_TEXT_H
#include <stdbool.h>
#include <stddef.h>

typedef struct dd_string {
    char *text; /* NUL-terminated; NULL while empty */
    size_t length, room;
    bool failed; /* out of memory: everything after is dropped */
} dd_string;

void dd_string_add(dd_string *string, const char *text);
void dd_string_add_bytes(dd_string *string, const char *bytes, size_t count);
/* The finished string (malloc'ed, never NULL but when memory ran out); *string is empty again. */
char *dd_string_take(dd_string *string);
/* Cuts a text that did not fit its room back to the end of a whole UTF-8 character. */
void dd_text_end(char *text);
/* Copies as much as fits, cut at a character's end. */
void dd_text_copy(char *to, size_t size, const char *from);
#endif
