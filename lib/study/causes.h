/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From an event and what was so at its moment to a verdict's word and its cause (facts.def, causes.def). */
#ifndef DD_STUDY_CAUSES_H
#define DD_STUDY_CAUSES_H
#include <stdbool.h>
#include <stdint.h>

enum {
#define DD_FACT(name, meaning) DD_FACT_##name,
#include "lib/study/facts.def"
#undef DD_FACT
    DD_FACT_COUNT
};
_Static_assert(DD_FACT_COUNT <= 64, "facts are the bits of an uint64_t");
#define DD_HAS(name) (UINT64_C(1) << DD_FACT_##name)

typedef struct dd_cause {
    const char *event; /* an event's name, or its beginning ("falls over") */
    uint64_t facts;    /* that must all be so */
    double moment;     /* that the run still goes on to show what follows, s; NaN: it decides nothing, and says why a limit broke */
    const char *word, *what, *why;
} dd_cause;

/* NULL past the end. */
const dd_cause *dd_cause_at(int index);
/* The first row of this event whose facts are all among those given; NULL: none. deciding: only rows that decide, else only
   rows that say why a limit broke. */
const dd_cause *dd_cause_find(const char *event, uint64_t facts, bool deciding);
#endif
