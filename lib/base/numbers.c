/* SPDX-License-Identifier: GPL-3.0-or-later */
#define _GNU_SOURCE /* strtod_l, uselocale */
#include "lib/base/numbers.h"
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* The "C" locale needs no memory in glibc, so it is asked for where it is used and no global is kept. */
static locale_t plain(void) { return newlocale(LC_ALL_MASK, "C", (locale_t)0); }

int dd_text_list(char *text, size_t size, const char *format, va_list arguments)
{
    locale_t c = plain();
    locale_t before = c == (locale_t)0 ? (locale_t)0 : uselocale(c);
    int length = vsnprintf(text, size, format, arguments);
    if (c != (locale_t)0) {
        uselocale(before);
        freelocale(c);
    }
    return length;
}

int dd_text(char *text, size_t size, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    int length = dd_text_list(text, size, format, arguments);
    va_end(arguments);
    return length;
}

static const char *skip_digits(const char *text)
{
    while (*text >= '0' && *text <= '9') text++;
    return text;
}

/* End of the decimal number at text; text itself if there is none. An 'e' without digits is not part of it. */
static const char *number_end(const char *text)
{
    const char *at = text + (*text == '+' || *text == '-');
    const char *whole = skip_digits(at);
    const char *end = whole;
    if (*whole == '.') {
        end = skip_digits(whole + 1);
        if (whole == at && end == whole + 1) return text;
    } else if (whole == at) {
        return text;
    }
    if (*end == 'e' || *end == 'E') {
        const char *exponent = end + 1 + (end[1] == '+' || end[1] == '-');
        const char *last = skip_digits(exponent);
        if (last != exponent) end = last;
    }
    return end;
}

bool dd_number_parse(const char *text, const char **end, double *value)
{
    *end = number_end(text);
    if (*end == text) return false;
    locale_t c = plain();
    if (c == (locale_t)0) return false;
    char *stop = NULL;
    *value = strtod_l(text, &stop, c);
    freelocale(c);
    return stop == *end && isfinite(*value);
}

char *dd_number_digits(double value, int digits, char text[DD_NUMBER_TEXT])
{
    dd_text(text, DD_NUMBER_TEXT, "%.*g", digits, value);
    return text;
}

char *dd_number_format(double value, char text[DD_NUMBER_TEXT])
{
    /* %g drops trailing zeros, so 15 digits already give every shorter text. */
    for (int digits = 15; digits <= 17; digits++) {
        const char *end;
        double back;
        dd_number_digits(value, digits, text);
        if (!isfinite(value) || (dd_number_parse(text, &end, &back) && back == value)) break;
    }
    return text;
}
