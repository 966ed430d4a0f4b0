/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/record/events.h"
#include <stdlib.h>
#include <string.h>

static const struct {
    int rank;
    const char *beginning;
} ranks[] = {
#define DD_EVENT_RANK(rank, beginning) {rank, beginning},
#include "lib/record/events.def"
#undef DD_EVENT_RANK
};

enum { RANK_COUNT = sizeof ranks / sizeof ranks[0], RANK_OF_OTHERS = 3, LAST_RANK = 5 };

int dd_event_rank(const char *name)
{
    for (int i = 0; i < RANK_COUNT; i++)
        if (strncmp(name, ranks[i].beginning, strlen(ranks[i].beginning)) == 0) return ranks[i].rank;
    return RANK_OF_OTHERS;
}

/* 1 when an earlier event has the same name. */
static int is_repeat(const dd_result *result, int index)
{
    for (int i = 0; i < index; i++)
        if (strcmp(result->events[i].name, result->events[index].name) == 0) return 1;
    return 0;
}

static int ascending(const void *left, const void *right)
{
    const int *a = left, *b = right;
    return (*a > *b) - (*a < *b);
}

int dd_events_choose(const dd_result *result, int most, int *chosen)
{
    int count = 0;
    for (int repeat = 0; repeat <= 1; repeat++)
        for (int rank = 1; rank <= LAST_RANK; rank++)
            for (int i = 0; i < result->event_count && count < most; i++)
                if (dd_event_rank(result->events[i].name) == rank && is_repeat(result, i) == repeat) chosen[count++] = i;
    qsort(chosen, (size_t)count, sizeof *chosen, ascending);
    return count;
}

int *dd_events_mark(const dd_result *result)
{
    int chosen[DD_EVENT_MARKS];
    int *marks = calloc((size_t)result->event_count + 1, sizeof *marks);
    if (!marks) return NULL;
    int count = dd_events_choose(result, DD_EVENT_MARKS, chosen), number = 0;
    for (int i = 0; i < count; i++)
        if (dd_event_rank(result->events[chosen[i]].name) < LAST_RANK && !is_repeat(result, chosen[i]))
            marks[chosen[i]] = ++number;
    return marks;
}
