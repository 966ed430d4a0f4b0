/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/record/icalendar.h"
#include "lib/base/calendar.h"
#include "lib/base/numbers.h"
#include "lib/record/text.h"
#include <ctype.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

enum { LINE = 75 }; /* bytes, RFC 5545 section 3.1 */

struct dd_icalendar {
    dd_string text;
    double now;
};

/* A content line, folded between characters. */
static void add_line(dd_string *out, const char *name, const char *value)
{
    dd_string whole = {0};
    dd_string_add(&whole, name);
    dd_string_add(&whole, ":");
    dd_string_add(&whole, value);
    char *line = dd_string_take(&whole);
    if (line == NULL) {
        out->failed = true;
        return;
    }
    size_t left = strlen(line), room = LINE;
    for (const char *at = line; left > 0;) {
        size_t take = left < room ? left : room;
        while (take < left && take > 1 && ((unsigned char)at[take] & 0xC0) == 0x80) take--;
        if (at != line) dd_string_add(out, "\r\n ");
        dd_string_add_bytes(out, at, take);
        at += take, left -= take;
        room = LINE - 1;
    }
    dd_string_add(out, "\r\n");
    free(line);
}

/* Text (section 3.3.11): backslash, semicolon, comma and line break stand behind a backslash. */
static void add_text(dd_string *out, const char *name, const char *text)
{
    dd_string escaped = {0};
    dd_string_add(&escaped, "");
    for (; *text; text++) {
        if (*text == '\\' || *text == ';' || *text == ',') dd_string_add(&escaped, "\\");
        if (*text == '\n')
            dd_string_add(&escaped, "\\n");
        else if ((unsigned char)*text >= ' ')
            dd_string_add_bytes(&escaped, text, 1);
    }
    char *value = dd_string_take(&escaped);
    if (value == NULL)
        out->failed = true;
    else
        add_line(out, name, value);
    free(value);
}

static void stamp(double time, char text[40])
{
    const dd_hands hands = dd_clock_at(&(dd_clock){.name = "UTC"}, time);
    const dd_date date = dd_calendar_date(hands.day);
    const int s = (int)hands.seconds;
    dd_text(text, 40, "%04d%02d%02dT%02d%02d%02dZ", date.year, date.month, date.day, s / 3600, s / 60 % 60, s % 60);
}

dd_icalendar *dd_icalendar_create(double now)
{
    dd_icalendar *file = calloc(1, sizeof *file);
    if (file == NULL) return NULL;
    file->now = now;
    add_line(&file->text, "BEGIN", "VCALENDAR");
    add_line(&file->text, "VERSION", "2.0");
    add_line(&file->text, "PRODID", "-//drawdock//ramp windows//EN");
    return file;
}

enum { OF = 500 }; /* bytes of a UID; a reader must take any length */

/* Small letters and figures, a hyphen for whatever is between. */
static void add_slug(char *text, size_t size, const char *words)
{
    size_t used = strlen(text);
    for (; *words && used + 2 < size; words++) {
        const unsigned char c = (unsigned char)*words;
        const bool kept = isalnum(c) || c >= 0x80;
        if (!kept && (used == 0 || text[used - 1] == '-')) continue;
        text[used++] = kept ? (char)tolower(c) : '-';
        text[used] = '\0';
    }
    dd_text_end(text);
    used = strlen(text);
    if (used > 0 && text[used - 1] == '-') text[used - 1] = '\0';
}

void dd_icalendar_add(dd_icalendar *file, const dd_icalendar_event *event)
{
    const double from = 60 * ceil(event->from / 60 - 1e-6), to = 60 * floor(event->to / 60 + 1e-6);
    char text[40], line[OF + 120], word[40] = "", of[OF] = "";
    if (!(to > from)) return;
    for (size_t i = 0, n = 0; event->kind[i] && n + 1 < sizeof word; i++)
        if (event->kind[i] != ' ') word[n++] = event->kind[i];
    add_slug(of, sizeof of, event->of);
    stamp(from, text);
    add_line(&file->text, "BEGIN", "VEVENT");
    dd_text(line, sizeof line, "%s-%s%s%s@drawdock", text, word, *of ? "-" : "", of);
    add_line(&file->text, "UID", line);
    add_line(&file->text, "DTSTART", text);
    stamp(to, text);
    add_line(&file->text, "DTEND", text);
    stamp(file->now, text);
    add_line(&file->text, "DTSTAMP", text);
    add_text(&file->text, "SUMMARY", event->summary);
    add_text(&file->text, "DESCRIPTION", event->description);
    if (!isnan(event->latitude) && !isnan(event->longitude)) {
        dd_text(line, sizeof line, "%.6f;%.6f", event->latitude * 45 / atan(1), event->longitude * 45 / atan(1));
        add_line(&file->text, "GEO", line);
    }
    add_line(&file->text, "TRANSP", "TRANSPARENT"); /* the ramp is free, its user is not busy */
    add_line(&file->text, "END", "VEVENT");
}

char *dd_icalendar_take(dd_icalendar *file)
{
    add_line(&file->text, "END", "VCALENDAR");
    char *text = dd_string_take(&file->text);
    free(file);
    return text;
}
