/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Quantities as people write them: "2.05 m", "18 ft 4 in", "1:8", "12.5 %". The spellings are units.def. */
#ifndef DD_BASE_UNITS_H
#define DD_BASE_UNITS_H
#include "lib/base/key.h"

/* SI value = (written value + offset) * numerator / denominator. Two factors, since 350 * 1 / 1000 is rounded once
   and so is 0.35, while 350 * 0.001 is not. */
typedef struct dd_unit {
    const char *spelling;
    dd_dimension dimension;
    double numerator, denominator, offset;
    const char *source;  /* key in sources.def */
    const char *udunits; /* the same unit in UDUNITS-2, the oracle of the tests */
} dd_unit;

enum { DD_QUANTITY_TEXT = 64 };

/* In the order of units.def; NULL past the end. */
const dd_unit *dd_unit_at(int index);
/* NULL: that dimension has no such spelling. */
const dd_unit *dd_unit_find(const char *spelling, dd_dimension dimension);
/* "a length", "a slope"; and the SI unit inside ("m"; "" for bare numbers). */
const char *dd_dimension_name(dd_dimension dimension);
const char *dd_dimension_unit(dd_dimension dimension);
/* "m, mm, cm, km, ft or in". Returns text. */
char *dd_dimension_choices(dd_dimension dimension, char *text, size_t size);

/* Reads the whole of text as a quantity. false: message says what was found and what was expected. */
bool dd_quantity_parse(const char *text, dd_dimension dimension, double *si, char *message, size_t size);
/* The unit in which a text that dd_quantity_parse can read is written: its first, "%" or "deg" for slopes; NULL: the SI unit. */
const char *dd_quantity_unit(const char *text, dd_dimension dimension);
/* Text that dd_quantity_parse reads back to the same bits: in `unit` (NULL: the SI unit, for a slope 1:n or degrees) where that can be done,
   else in the SI unit. value must be finite. Returns text. */
char *dd_quantity_format(double si, dd_dimension dimension, const char *unit, char text[DD_QUANTITY_TEXT]);
/* For people, not for reading back: `digits` significant digits in unit. */
char *dd_quantity_round(double si, dd_dimension dimension, const char *unit, int digits, char text[DD_QUANTITY_TEXT]);
#endif
