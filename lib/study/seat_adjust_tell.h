/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What an adjustment comes to, in words and tables. */
#ifndef DD_STUDY_SEAT_ADJUST_TELL_H
#define DD_STUDY_SEAT_ADJUST_TELL_H
#include "lib/study/seat_adjust.h"

/* All else with one group of what is asked dropped. */
typedef struct dd_dropped {
    bool asked, helps;       /* whether that group was missed; whether all else is then met */
    dd_seat_outcome outcome; /* of the best setting without it */
} dd_dropped;

typedef struct dd_adjusted {
    dd_setting setting;
    dd_seat_outcome before, now; /* computed as seat computes a rig */
    dd_seat_outcome searched;    /* as the search had it */
    dd_dropped dropped[DD_ASK_KINDS];
} dd_adjusted;

extern const char *const dd_asked_names[DD_ASK_KINDS]; /* "the least keel share" */
/* Headline, the list, loads and what is asked before and after, and why something is not met. */
void dd_adjust_tell(const dd_adjusting *a, const dd_adjusted *found, const dd_case *adjusted, dd_reporter *reporter);
/* One "KEY=VALUE" a line: the overrides that make the adjusted scenario of the given one, to the same bits. malloc'ed; NULL: no memory. */
char *dd_adjust_changes(const dd_adjusting *a, const dd_case *adjusted);
#endif
