/* SPDX-License-Identifier: GPL-3.0-or-later */
/* depth with --date or --year: when the ramp can be used. */
#include "lib/base/calendar.h"
#include "lib/base/error.h"
#include "tools/drawdock/command.h"
#include "tools/drawdock/output.h"
#include "tools/drawdock/zone.h"
#include <drawdock/study.h>
#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { MOST_RIGS = 8, BESIDE = 3 /* days, of the clock beside what is asked */ };

static int wrong(const char *option, const char *found, const char *expected)
{
    fprintf(stderr, "drawdock: --%s: found '%s', expected %s\n", option, found, expected);
    return STATUS_INPUT;
}

/* "####-##-##" and the like: # a digit. */
static bool looks_like(const char *text, const char *form)
{
    for (; *form; form++, text++)
        if (*form == '#' ? !isdigit((unsigned char)*text) : *form != *text) return false;
    return *text == '\0';
}

static int read_clock(const char *option, const char *text, double *seconds)
{
    *seconds = NAN;
    if (text == NULL) return STATUS_WITHIN;
    if (!looks_like(text, "##:##") && !looks_like(text, "#:##")) return wrong(option, text, "a time by the clock, as 08:00");
    const int hour = atoi(text), minute = atoi(strchr(text, ':') + 1);
    if (hour > 23 || minute > 59) return wrong(option, text, "00:00 to 23:59");
    *seconds = 3600.0 * hour + 60.0 * minute;
    return STATUS_WITHIN;
}

/* The date by the place's clock; "today" asks it. */
static int read_date(const options *given, const char *zone_name, double now, dd_date *date, dd_error *error)
{
    if (strcmp(given->date, "today") == 0) {
        local_zone here;
        if (zone_read(zone_name, now - BESIDE * DD_SECONDS_PER_DAY, now + BESIDE * DD_SECONDS_PER_DAY, &here, error) != DD_OK) return output_give_up(error);
        *date = dd_calendar_date(dd_clock_at(&here.clock, now).day);
        return STATUS_WITHIN;
    }
    if (!looks_like(given->date, "####-##-##")) return wrong("date", given->date, "year-month-day, as 2026-07-14, or today");
    *date = (dd_date){atoi(given->date), atoi(given->date + 5), atoi(given->date + 8)};
    if (!dd_calendar_is_date(date)) return wrong("date", given->date, "a day that there is");
    return STATUS_WITHIN;
}

static int read_asked(const options *given, const char *zone_name, dd_windows_asked *asked, local_zone *zone, dd_error *error)
{
    const char *epoch = getenv("SOURCE_DATE_EPOCH"); /* files that are the same when made again */
    asked->now = epoch != NULL && *epoch ? strtod(epoch, NULL) : (double)time(NULL);
    int status = read_clock("launch-at", given->launch_at, &asked->launch_at);
    if (status == STATUS_WITHIN) status = read_clock("back-at", given->back_at, &asked->back_at);
    if (status != STATUS_WITHIN) return status;
    if (given->year != NULL && given->date != NULL) return wrong("year", given->year, "--date or --year, not both");
    if (given->year != NULL) {
        if (!looks_like(given->year, "####")) return wrong("year", given->year, "a year, as 2026");
        asked->whole_year = 1;
        asked->date = (dd_date){atoi(given->year), 1, 1};
    } else {
        status = read_date(given, zone_name, asked->now, &asked->date, error);
        if (status != STATUS_WITHIN) return status;
    }
    double from, to;
    dd_calendar_span_times(dd_calendar_span(&asked->date, asked->whole_year), BESIDE, &from, &to);
    if (zone_read(zone_name, from, to, zone, error) != DD_OK) return output_give_up(error);
    asked->clock = zone->clock;
    return STATUS_WITHIN;
}

int windows_compute(const options *given, const dd_case *const *scenarios, int count, dd_report **report, char **calendar)
{
    dd_windows_asked asked = {0};
    local_zone place;
    dd_error error = {0};
    *report = NULL;
    const int status = read_asked(given, scenarios[0]->place.time_zone, &asked, &place, &error);
    if (status != STATUS_WITHIN) return status;
    return dd_study_windows(scenarios, count, &asked, report, calendar, &error) == DD_OK ? STATUS_WITHIN : output_give_up(&error);
}

int ramp_windows(const options *given)
{
    dd_case_file *files[MOST_RIGS] = {NULL};
    const dd_case *scenarios[MOST_RIGS];
    dd_report *report = NULL;
    char *calendar = NULL;
    int exit_status = STATUS_WITHIN, count = 0;
    for (; count < given->operand_count && exit_status == STATUS_WITHIN; count++) {
        files[count] = read_scenario(given, given->operands[count], &exit_status);
        if (files[count] == NULL) break;
        scenarios[count] = dd_case_of(files[count]);
    }
    if (exit_status == STATUS_WITHIN) exit_status = windows_compute(given, scenarios, count, &report, given->output ? &calendar : NULL);
    if (report) exit_status = report_command(given, report, calendar != NULL ? "windows.ics" : NULL, calendar);
    free(calendar);
    dd_report_free(report);
    for (int i = 0; i < MOST_RIGS; i++) dd_case_free(files[i]);
    return exit_status;
}
