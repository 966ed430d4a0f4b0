/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A calendar file (RFC 5545, iCalendar) of events in UTC, which a phone shows in its own time zone. */
#ifndef DD_RECORD_ICALENDAR_H
#define DD_RECORD_ICALENDAR_H

typedef struct dd_icalendar dd_icalendar;
typedef struct dd_icalendar_event {
    double from, to;             /* s UTC since 1970; written to whole minutes within them */
    const char *kind, *of;       /* "launch", "Ramp at the mill, open boat": with `from` they tell events apart, of several files too */
    const char *summary, *description;
    double latitude, longitude;  /* rad; NaN: not told */
} dd_icalendar_event;

/* now: when the file is made, s UTC. NULL: out of memory. */
dd_icalendar *dd_icalendar_create(double now);
/* An event shorter than a minute is left out. */
void dd_icalendar_add(dd_icalendar *file, const dd_icalendar_event *event);
/* The text, malloc'ed; NULL: out of memory. Ends the file. */
char *dd_icalendar_take(dd_icalendar *file);
#endif
