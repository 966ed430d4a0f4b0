/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cautions that go with every result, one list for the terminal, the page and the card. */
#ifndef DD_RECORD_CAUTIONS_H
#define DD_RECORD_CAUTIONS_H

/* Where it belongs. */
enum { DD_CAUTION_RAMP = 1, DD_CAUTION_ROAD = 2 };

typedef struct dd_caution {
    int where;         /* DD_CAUTION_... */
    const char *brief; /* a few words, for a list in one sentence */
    const char *text;  /* a sentence or two */
} dd_caution;

/* In the order of the list; NULL past the end. */
const dd_caution *dd_caution_at(int index);
#endif
