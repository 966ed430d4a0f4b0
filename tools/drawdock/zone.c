/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The C library reads the database and knows its rules for years to come; it tells of one zone at a time, by TZ. */
#include "tools/drawdock/zone.h"
#include "lib/base/calendar.h"
#include "lib/base/error.h"
#include <limits.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static const double step = 6 * 3600.0; /* no zone changes twice within it */

/* glibc takes an unknown name for UTC without a word. */
static bool is_zone(const char *name)
{
    char path[PATH_MAX], magic[5] = "";
    const char *folder = getenv("TZDIR");
    if (*name == '/' || *name == '.' || strstr(name, "..") != NULL) return false;
    const int length = snprintf(path, sizeof path, "%s/%s", folder != NULL && *folder ? folder : "/usr/share/zoneinfo", name);
    FILE *file = length < (int)sizeof path ? fopen(path, "rb") : NULL;
    if (file == NULL) return false;
    const bool good = fread(magic, 1, 4, file) == 4 && strcmp(magic, "TZif") == 0;
    fclose(file);
    return good;
}

static dd_clock_change local_at(double time)
{
    dd_clock_change now = {.from = time};
    const time_t whole = (time_t)time;
    struct tm local;
    if (localtime_r(&whole, &local) == NULL) return now;
    now.offset = (double)dd_calendar_days(local.tm_year + 1900, local.tm_mon + 1, local.tm_mday) * DD_SECONDS_PER_DAY + local.tm_hour * 3600.0 + local.tm_min * 60.0 +
                 local.tm_sec - (double)whole;
    if (strftime(now.name, sizeof now.name, "%Z", &local) == 0) now.name[0] = '\0';
    return now;
}

static bool same(const dd_clock_change *a, const dd_clock_change *b) { return a->offset == b->offset && strcmp(a->name, b->name) == 0; }

static void read_changes(double from, double to, local_zone *zone)
{
    zone->changes[0] = local_at(floor(from));
    int count = 1;
    for (double time = floor(from); time < to && count < ZONE_CHANGES; time += step) {
        const dd_clock_change before = zone->changes[count - 1], after = local_at(time + step);
        double low = time, high = time + step;
        if (same(&before, &after)) continue;
        while (high - low > 1) {
            const double middle = floor(0.5 * (low + high));
            const dd_clock_change there = local_at(middle);
            if (same(&there, &before))
                low = middle;
            else
                high = middle;
        }
        zone->changes[count] = after;
        zone->changes[count++].from = high;
    }
    zone->clock = (dd_clock){zone->name, count, zone->changes};
}

dd_status zone_read(const char *name, double from, double to, local_zone *zone, dd_error *error)
{
    const char *set = getenv("TZ");
    char *kept = set != NULL ? strdup(set) : NULL;
    memset(zone, 0, sizeof *zone);
    snprintf(zone->name, sizeof zone->name, "%s", *name ? name : "UTC");
    zone->clock = (dd_clock){.name = zone->name};
    if (*name == '\0') {
        free(kept);
        return DD_OK;
    }
    if (!is_zone(name)) {
        free(kept);
        return dd_fail(error, DD_ERROR_NOT_FOUND, "place.time zone", "found '%s', which the system's time zone database does not have; expected a name as Europe/London",
                       name);
    }
    char value[72];
    snprintf(value, sizeof value, ":%s", name);
    const bool failed = (set != NULL && kept == NULL) || setenv("TZ", value, 1) != 0;
    if (!failed) {
        tzset();
        read_changes(from, to, zone);
    }
    if (kept != NULL)
        (void)setenv("TZ", kept, 1);
    else if (set == NULL)
        (void)unsetenv("TZ");
    tzset();
    free(kept);
    return failed ? dd_fail(error, DD_ERROR_MEMORY, "place.time zone", "no memory for the zone") : DD_OK;
}

dd_status zone_of(const dd_case *scenario, local_zone *zone, dd_error *error)
{
    const double beside = 2 * 86400.0; /* s: a tide's half day and a clock's distance from UTC */
    const bool tidal = scenario->water.tide.kind >= 0;
    return zone_read(tidal ? scenario->place.time_zone : "", scenario->water.time - beside, scenario->water.time + beside, zone, error);
}
