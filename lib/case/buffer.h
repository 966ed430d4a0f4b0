/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A growing text. */
#ifndef DD_CASE_BUFFER_H
#define DD_CASE_BUFFER_H
#include <drawdock/status.h>
#include <stdbool.h>
#include <stddef.h>

typedef struct dd_buffer {
    char *text; /* ends with NUL; NULL while empty */
    size_t length, room;
    bool failed; /* out of memory: what follows is dropped */
} dd_buffer;

void dd_buffer_add(dd_buffer *buffer, const char *format, ...) DD_PRINTF(2, 3);
/* Spaces up to the column (from 0) of the last line; at least one. */
void dd_buffer_pad(dd_buffer *buffer, size_t column);
/* The finished text, malloc'ed; NULL when memory ran out. */
char *dd_buffer_take(dd_buffer *buffer);
#endif
