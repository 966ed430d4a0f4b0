/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/case/buffer.h"
#include "lib/base/numbers.h"
#include <stdlib.h>

static bool make_room(dd_buffer *buffer, size_t more)
{
    if (buffer->length + more < buffer->room) return true;
    size_t room = 2 * (buffer->length + more) + 256;
    char *grown = buffer->failed ? NULL : realloc(buffer->text, room);
    if (grown == NULL) {
        buffer->failed = true;
        return false;
    }
    buffer->text = grown;
    buffer->room = room;
    return true;
}

void dd_buffer_add(dd_buffer *buffer, const char *format, ...)
{
    for (int attempt = 0; attempt < 2 && make_room(buffer, 1); attempt++) {
        va_list arguments;
        va_start(arguments, format);
        int length = dd_text_list(buffer->text + buffer->length, buffer->room - buffer->length, format, arguments);
        va_end(arguments);
        if (length < 0) {
            buffer->failed = true;
            return;
        }
        if ((size_t)length < buffer->room - buffer->length) {
            buffer->length += (size_t)length;
            return;
        }
        if (!make_room(buffer, (size_t)length + 1)) return;
    }
}

void dd_buffer_pad(dd_buffer *buffer, size_t column)
{
    size_t start = buffer->length;
    while (start > 0 && buffer->text[start - 1] != '\n') start--;
    size_t used = buffer->length - start;
    dd_buffer_add(buffer, "%*s", used < column ? (int)(column - used) : 1, "");
}

char *dd_buffer_take(dd_buffer *buffer)
{
    char *text = buffer->text;
    if (buffer->failed) {
        free(text);
        text = NULL;
    }
    *buffer = (dd_buffer){0};
    return text;
}
