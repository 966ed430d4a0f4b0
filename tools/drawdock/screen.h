/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Setting text on a terminal's screen. */
#ifndef DRAWDOCK_SCREEN_H
#define DRAWDOCK_SCREEN_H
#include "lib/record/text.h"
#include <stdbool.h>
#include <stdio.h>

enum { SCREEN_WIDTH = 79, SCREEN_LINES = 23 };

/* Columns of a UTF-8 text: bytes that start a character. */
int screen_columns(const char *text, size_t length);
/* Sets words in lines, the first of which begins with `first`, the others with two spaces; at most `most` lines, the last ends with
   "..." when words are left over. Returns the number of lines. */
int screen_wrap(dd_string *out, const char *first, const char *text, int most);
/* Cuts or pads a text to a width and adds it. */
void screen_cell(dd_string *out, const char *text, int width);
/* The brief cautions of a place (DD_CAUTION_...). Returns the number of lines. */
int screen_cautions(dd_string *out, int where);
/* Starts a colour for good or bad, only on a terminal that wants it; NULL: none. The words say the same. */
const char *screen_colour(bool good, FILE *out);
#define SCREEN_COLOUR_ENDS "\033[0m"
#endif
