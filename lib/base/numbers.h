/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers as text without the locale: the decimal point is always '.', whatever setlocale() was told. */
#ifndef DD_BASE_NUMBERS_H
#define DD_BASE_NUMBERS_H
#include <drawdock/status.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

enum { DD_NUMBER_TEXT = 32 }; /* room for any double */

/* Reads a decimal number ([+-]digits[.digits][e[+-]digits]; no hexadecimal, no infinity) at the start of text.
   false: there is none, or it is too large for a double. *end: the character after it. */
bool dd_number_parse(const char *text, const char **end, double *value);
/* Fewest digits that read back to the same bits; returns text. */
char *dd_number_format(double value, char text[DD_NUMBER_TEXT]);
/* `digits` significant digits (1 to 17), trailing zeros dropped; returns text. */
char *dd_number_digits(double value, int digits, char text[DD_NUMBER_TEXT]);
/* snprintf in the "C" locale; returns what snprintf returns. */
int dd_text(char *text, size_t size, const char *format, ...) DD_PRINTF(3, 4);
int dd_text_list(char *text, size_t size, const char *format, va_list arguments) DD_PRINTF(3, 0);
#endif
