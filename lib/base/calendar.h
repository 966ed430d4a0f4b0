/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Days and years of the Gregorian calendar; times are seconds UTC since 1 January 1970 00:00, leap seconds not counted. */
#ifndef DD_BASE_CALENDAR_H
#define DD_BASE_CALENDAR_H
#define DD_SECONDS_PER_DAY 86400.0

/* Days from 1 January 1970 to a date; month 1..12, day 1..31 (not checked). */
long dd_calendar_days(int year, int month, int day);
/* The year that a time falls into. */
int dd_calendar_year(double time);
/* Seconds UTC of 1 January 00:00 of a year. */
double dd_calendar_new_year(int year);
#endif
