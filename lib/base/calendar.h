/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Days and years of the Gregorian calendar, and clocks; times are seconds UTC since 1 January 1970 00:00, leap seconds not counted. */
#ifndef DD_BASE_CALENDAR_H
#define DD_BASE_CALENDAR_H
#include <drawdock/clock.h>
#include <stdbool.h>
#include <stddef.h>
#define DD_SECONDS_PER_DAY 86400.0

/* Days from 1 January 1970 to a date; month 1..12, day 1..31 (not checked). */
long dd_calendar_days(int year, int month, int day);
/* The date so many days after 1 January 1970. */
dd_date dd_calendar_date(long days);
/* Whether there is such a day: not 31 April, nor 29 February of 2100. */
bool dd_calendar_is_date(const dd_date *date);
/* "January" of 1. */
const char *dd_calendar_month(int month);
/* Day of the week, 0 Monday. */
int dd_calendar_weekday(long days);
/* The year that a time falls into. */
int dd_calendar_year(double time);
/* Seconds UTC of 1 January 00:00 of a year. */
double dd_calendar_new_year(int year);

/* A date, or the whole year that it lies in: its first day, and how many days it has. */
typedef struct dd_span {
    long first;
    int days;
} dd_span;
dd_span dd_calendar_span(const dd_date *date, bool whole_year);
/* From its first midnight to its last by UTC, and `beside` days further either way, s UTC. */
void dd_calendar_span_times(dd_span span, int beside, double *from, double *to);

/* What a clock shows: the date as days since 1 January 1970, and seconds since its midnight by the hands. */
typedef struct dd_hands {
    long day;
    double seconds;
    const char *zone; /* "CEST" */
} dd_hands;
dd_hands dd_clock_at(const dd_clock *clock, double time);
/* When a clock shows a day and seconds after midnight: once; never, when the clock is put forward over it (the moment at which that
   happens); or twice (the first time). */
typedef enum dd_clock_shows { DD_CLOCK_ONCE, DD_CLOCK_NEVER, DD_CLOCK_TWICE } dd_clock_shows;
dd_clock_shows dd_clock_time(const dd_clock *clock, long day, double seconds, double *time);
/* "2026-07-14 08:30 +10:00", "2026-07-14T08:30:15Z": a date and a time of day to the second with its offset from UTC (ISO 8601, a
   blank allowed for T and before the offset). false: it is none. */
bool dd_calendar_parse(const char *text, double *time);
/* "2026-07-13 22:30 Z", with seconds where they are not 0; to the whole second. Returns text. */
char *dd_calendar_text(double time, char *text, size_t size);
#endif
