/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include <stdio.h>
#include <string.h>

static void copy(char *target, size_t size, const char *text)
{
    size_t length = strlen(text);
    if (length >= size) length = size - 1;
    memcpy(target, text, length);
    target[length] = '\0';
}

dd_status dd_fail(dd_error *error, dd_status status, const char *place, const char *format, ...)
{
    if (error == NULL) return status;
    error->status = status;
    copy(error->place, sizeof error->place, place == NULL ? "" : place);
    copy(error->remedy, sizeof error->remedy, dd_status_remedy(status));
    va_list arguments;
    va_start(arguments, format);
    dd_text_list(error->message, sizeof error->message, format, arguments);
    va_end(arguments);
    return status;
}

dd_status dd_fail_remedy(dd_error *error, dd_status status, const char *format, ...)
{
    if (error == NULL) return status;
    va_list arguments;
    va_start(arguments, format);
    dd_text_list(error->remedy, sizeof error->remedy, format, arguments);
    va_end(arguments);
    return error->status = status;
}
