/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Messages of a reading, each with its place, and the nearest known name. */
#include "lib/base/numbers.h"
#include "lib/case/node.h"
#include <stdlib.h>
#include <string.h>

void dd_error_list_free(dd_error_list *list)
{
    if (list == NULL) return;
    free(list->errors);
    list->errors = NULL;
    list->count = 0;
}

void dd_place_text(const dd_reading *reading, dd_place place, const char *path, char *text, size_t size)
{
    const char *file = place.file >= 0 && place.file < reading->file_count ? reading->files[place.file] : "";
    bool has_path = path != NULL && path[0] != '\0';
    if (place.file < 0)
        dd_text(text, size, "%s", has_path ? path : "");
    else if (place.line > 0 && strncmp(file, "--with ", 7) != 0)
        dd_text(text, size, "%s:%d:%d%s%s", file, place.line, place.column, has_path ? ": " : "", has_path ? path : "");
    else
        dd_text(text, size, "%s%s%s", file, has_path ? ": " : "", has_path ? path : "");
}

static dd_message *new_message(dd_reading *reading)
{
    if (reading->message_count >= DD_READ_MESSAGES) return NULL;
    if (reading->message_count == reading->message_capacity) {
        int capacity = reading->message_capacity == 0 ? 8 : 2 * reading->message_capacity;
        dd_message *grown = realloc(reading->messages, (size_t)capacity * sizeof *grown);
        if (grown == NULL) {
            reading->out_of_memory = true;
            return NULL;
        }
        reading->messages = grown;
        reading->message_capacity = capacity;
    }
    dd_message *message = &reading->messages[reading->message_count++];
    memset(message, 0, sizeof *message);
    return message;
}

static void complain(dd_reading *reading, dd_status status, dd_place place, const char *path, const char *format,
                     va_list arguments)
{
    dd_message *message = new_message(reading);
    if (message == NULL) return;
    message->place = place;
    message->error.status = status;
    dd_place_text(reading, place, path, message->error.place, sizeof message->error.place);
    dd_text_list(message->error.message, sizeof message->error.message, format, arguments);
    dd_text(message->error.remedy, sizeof message->error.remedy, "%s", dd_status_remedy(status));
}

void dd_complain_as(dd_reading *reading, dd_status status, dd_place place, const char *path, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    complain(reading, status, place, path, format, arguments);
    va_end(arguments);
}

void dd_complain(dd_reading *reading, dd_place place, const char *path, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    complain(reading, DD_ERROR_INPUT, place, path, format, arguments);
    va_end(arguments);
}

static bool comes_before(const dd_place *a, const dd_place *b)
{
    if (a->file != b->file) return a->file < b->file;
    return a->line != b->line ? a->line < b->line : a->column < b->column;
}

dd_status dd_messages_give(dd_reading *reading, dd_error_list *list)
{
    /* Insertion sort: stable, and there are few. */
    for (int i = 1; i < reading->message_count; i++) {
        dd_message moved = reading->messages[i];
        int at = i;
        for (; at > 0 && comes_before(&moved.place, &reading->messages[at - 1].place); at--)
            reading->messages[at] = reading->messages[at - 1];
        reading->messages[at] = moved;
    }
    dd_status status = reading->out_of_memory       ? DD_ERROR_MEMORY
                       : reading->message_count > 0 ? reading->messages[0].error.status
                                                    : DD_OK;
    if (list == NULL || status == DD_OK) return status;
    int extra = reading->out_of_memory ? 1 : 0;
    list->errors = calloc((size_t)(reading->message_count + extra), sizeof *list->errors);
    if (list->errors == NULL) return DD_ERROR_MEMORY;
    list->count = reading->message_count + extra;
    for (int i = 0; i < reading->message_count; i++) list->errors[i] = reading->messages[i].error;
    if (extra > 0) {
        dd_error *last = &list->errors[reading->message_count];
        last->status = DD_ERROR_MEMORY;
        dd_text(last->message, sizeof last->message, "%s", dd_status_text(DD_ERROR_MEMORY));
        dd_text(last->remedy, sizeof last->remedy, "%s", dd_status_remedy(DD_ERROR_MEMORY));
    }
    return status;
}

/* Nearest name --------------------------------------------------------------------------------------------------- */

enum { LONGEST = 48 };

static int least_of(int a, int b) { return a < b ? a : b; }

/* Edits (insert, drop, change, swap of neighbours) from a to b. */
static int edit_distance(const char *a, const char *b)
{
    int rows[3][LONGEST + 1];
    int m = (int)strlen(a), n = (int)strlen(b);
    if (m > LONGEST || n > LONGEST) return LONGEST;
    for (int j = 0; j <= n; j++) rows[0][j] = j;
    for (int i = 1; i <= m; i++) {
        int *now = rows[i % 3], *above = rows[(i + 2) % 3], *two_above = rows[(i + 1) % 3];
        now[0] = i;
        for (int j = 1; j <= n; j++) {
            now[j] = least_of(least_of(above[j] + 1, now[j - 1] + 1), above[j - 1] + (a[i - 1] != b[j - 1]));
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) now[j] = least_of(now[j], two_above[j - 2] + 1);
        }
    }
    return rows[m % 3][n];
}

/* Lower case, with '_' and '-' as spaces, so that another style of name finds its key. */
static void plain_name(const char *text, char *plain, size_t size)
{
    size_t i = 0;
    for (; text[i] != '\0' && i + 1 < size; i++) {
        char c = text[i];
        plain[i] = c == '_' || c == '-' ? ' ' : c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
    }
    plain[i] = '\0';
}

const char *dd_nearest(const char *text, const char *const *names, int count)
{
    char wanted[LONGEST + 2];
    plain_name(text, wanted, sizeof wanted);
    size_t length = strlen(wanted);
    const char *best = NULL;
    int best_distance = (int)(length < 4 ? 1 : length / 3 + 1);
    for (int i = 0; i < count; i++) {
        int distance = edit_distance(wanted, names[i]);
        /* A name that only lacks a word ("deadrise" for "transom deadrise") is near too. */
        if (distance > best_distance && length >= 3 && strstr(names[i], wanted) != NULL) distance = best_distance;
        if (distance < best_distance || (distance == best_distance && best == NULL)) {
            best = names[i];
            best_distance = distance;
        }
    }
    return best;
}
