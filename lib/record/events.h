/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which of a run's events a reader wants to see first. */
#ifndef DD_RECORD_EVENTS_H
#define DD_RECORD_EVENTS_H
#include <drawdock/result.h>

enum { DD_EVENT_MARKS = 12 }; /* events numbered in the plots */

/* How much an event matters, 1 the most, by its name (events.def); 3 for a name that is not listed. */
int dd_event_rank(const char *name);
/* Chooses at most `most` events: the first of each name before repeats, then by rank, then the earlier. Writes their indices in the
   order of time to chosen[most]; returns how many. */
int dd_events_choose(const dd_result *result, int most, int *chosen);
/* For each event its number in the plots (1..DD_EVENT_MARKS in the order of time) or 0: repeats and the least of events have
   none. malloc'ed; NULL: out of memory. */
int *dd_events_mark(const dd_result *result);
#endif
