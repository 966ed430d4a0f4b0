/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/record/text.h"
#include <stdlib.h>
#include <string.h>

void dd_string_add_bytes(dd_string *string, const char *bytes, size_t count)
{
    if (string->failed) return;
    if (string->room - string->length <= count) {
        size_t room = string->room ? string->room : 1024;
        while (room - string->length <= count) room *= 2;
        char *larger = realloc(string->text, room);
        if (!larger) {
            string->failed = true;
            return;
        }
        string->text = larger;
        string->room = room;
    }
    memcpy(string->text + string->length, bytes, count);
    string->length += count;
    string->text[string->length] = '\0';
}

void dd_string_add(dd_string *string, const char *text) { dd_string_add_bytes(string, text, strlen(text)); }

char *dd_string_take(dd_string *string)
{
    dd_string_add_bytes(string, "", 0);
    char *text = string->text;
    if (string->failed) {
        free(text);
        text = NULL;
    }
    *string = (dd_string){0};
    return text;
}

void dd_text_end(char *text)
{
    size_t length = strlen(text), start = length;
    while (start > 0 && ((unsigned char)text[start - 1] & 0xC0) == 0x80) start--;
    if (start == 0) return;
    unsigned char lead = (unsigned char)text[start - 1];
    size_t needed = lead < 0x80 ? 1 : lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
    if (length - (start - 1) < needed) text[start - 1] = '\0';
}

void dd_text_copy(char *to, size_t size, const char *from)
{
    size_t length = strlen(from);
    if (length >= size) length = size - 1;
    memcpy(to, from, length);
    to[length] = '\0';
    if (from[length]) dd_text_end(to);
}
