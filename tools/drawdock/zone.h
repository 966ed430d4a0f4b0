/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A time zone of the system's database, as the table that the library takes. */
#ifndef DRAWDOCK_TOOL_ZONE_H
#define DRAWDOCK_TOOL_ZONE_H
#include <drawdock/case.h>
#include <drawdock/clock.h>
#include <drawdock/status.h>

enum { ZONE_CHANGES = 64 };
typedef struct local_zone {
    char name[64];
    dd_clock_change changes[ZONE_CHANGES];
    dd_clock clock; /* into the two above */
} local_zone;

/* name: "Europe/London"; empty: UTC. from, to: the span that is asked about, s UTC. It sets TZ for as long as it runs: for a program that has
   no threads then. DD_ERROR_NOT_FOUND: the database has no such zone, or is not there. */
DD_CHECKED dd_status zone_read(const char *name, double from, double to, local_zone *zone, dd_error *error);
/* That of a scenario's place about its water's time; UTC where none is given, or no tide asks for one. */
DD_CHECKED dd_status zone_of(const dd_case *scenario, local_zone *zone, dd_error *error);
#endif
