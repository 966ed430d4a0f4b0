/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fields of a CSV row (RFC 4180). */
#ifndef DD_RECORD_CSV_H
#define DD_RECORD_CSV_H
#include "lib/record/text.h"

void dd_csv_text(dd_string *out, const char *text);
/* Nine significant digits; nothing where it is not finite. */
void dd_csv_number(dd_string *out, double value);
#endif
