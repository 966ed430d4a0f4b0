/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file clock.h
 *  Dates and local time. Times are seconds UTC since 1 January 1970 00:00, leap seconds not counted. The library reads no time zone
 *  database: a program hands it the zone's changes as a table. */
#ifndef DRAWDOCK_CLOCK_H
#define DRAWDOCK_CLOCK_H

#ifdef __cplusplus
extern "C" {
#endif

/** Date of the Gregorian calendar: month 1..12, day 1..31. */
typedef struct dd_date {
    int year, month, day; /**< of the Gregorian calendar; month and day from 1 */
} dd_date;

/** From a moment on local time is UTC plus an offset, s (> 0 east of Greenwich), under a short name as "CEST". */
typedef struct dd_clock_change {
    double from, offset; /**< s UTC since 1970 from which it holds; s to add to UTC */
    char name[16]; /**< abbreviation: "CEST" */
} dd_clock_change;

/** A place's local time over the span that a question is about. */
typedef struct dd_clock {
    const char *name;               /**< "Europe/London" */
    int count;                      /**< 0: UTC */
    const dd_clock_change *changes; /**< in order of time; the first holds before it too */
} dd_clock;

#ifdef __cplusplus
}
#endif
#endif
