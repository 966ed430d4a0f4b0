/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/causes.h"
#include <math.h>
#include <stddef.h>
#include <string.h>

#define DECIDES(seconds) (seconds)
#define BREAKS NAN
static const dd_cause causes[] = {
#define DD_CAUSE(event, facts, ends, word, what, why) {event, facts, ends, word, what, why},
#include "lib/study/causes.def"
#undef DD_CAUSE
};
enum { CAUSES = sizeof causes / sizeof causes[0] };

const dd_cause *dd_cause_at(int index) { return index >= 0 && index < CAUSES ? &causes[index] : NULL; }

const dd_cause *dd_cause_find(const char *event, uint64_t facts, bool deciding)
{
    for (int i = 0; i < CAUSES; i++)
        if (strncmp(event, causes[i].event, strlen(causes[i].event)) == 0 && (causes[i].facts & ~facts) == 0 &&
            !isnan(causes[i].moment) == deciding)
            return &causes[i];
    return NULL;
}
