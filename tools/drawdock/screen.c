/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The verdict on one screen of 80 x 24: what cannot be left out first measured, then as many events as fit. */
#include "lib/base/numbers.h"
#include "lib/record/cautions.h"
#include "lib/record/events.h"
#include "lib/record/text.h"
#include "lib/record/us_units.h"
#include "tools/drawdock/command.h"
#include "tools/drawdock/screen.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

enum { MARGINS = 4, EVENTS = 8, EVENT_NAME = 26, UNCHECKED_LINES = 2, SENTENCE_LINES = 4, BANDS_LINES = 6, CAUTION_LINES = 4 };

int screen_columns(const char *text, size_t length)
{
    int columns = 0;
    for (size_t i = 0; i < length; i++) columns += ((unsigned char)text[i] & 0xC0) != 0x80;
    return columns;
}

/* Control characters could move the cursor: they become spaces. */
static void add_clean(dd_string *out, const char *text, size_t length)
{
    for (size_t i = 0; i < length; i++) {
        bool control = (unsigned char)text[i] < 0x20 || text[i] == 0x7F;
        dd_string_add_bytes(out, control ? " " : text + i, 1);
    }
}

int screen_wrap(dd_string *out, const char *first, const char *text, int most)
{
    int indent = *first ? 2 : 0, column = screen_columns(first, strlen(first)), lines = 1;
    dd_string_add(out, first);
    for (bool begins = true; *(text += strspn(text, " \n\t"));) {
        size_t length = strcspn(text, " \n\t");
        int width = screen_columns(text, length);
        int room = SCREEN_WIDTH - (lines == most && text[length] ? 4 : 0);
        if (!begins && column + 1 + width > room) {
            if (lines == most) {
                dd_string_add(out, " ...");
                break;
            }
            dd_string_add(out, "\n");
            for (int i = 0; i < indent; i++) dd_string_add(out, " ");
            column = indent;
            lines++;
            begins = true;
        }
        if (!begins) dd_string_add(out, " ");
        add_clean(out, text, length);
        column += width + !begins;
        begins = false;
        text += length;
    }
    dd_string_add(out, "\n");
    return lines;
}

void screen_cell(dd_string *out, const char *text, int width)
{
    size_t length = strlen(text);
    bool cut = screen_columns(text, length) > width;
    while (screen_columns(text, length) > (cut ? width - 3 : width) || (length && ((unsigned char)text[length] & 0xC0) == 0x80))
        length--;
    add_clean(out, text, length);
    if (cut) dd_string_add(out, "...");
    for (int i = screen_columns(text, length) + (cut ? 3 : 0); i < width; i++) dd_string_add(out, " ");
}

/* Three digits, more before the point; what is nothing on the scale of its limit is 0. */
static void short_number(double value, double limit, char text[DD_NUMBER_TEXT])
{
    if (!isfinite(value))
        strcpy(text, "?");
    else if (fabs(value) >= 1e6)
        dd_number_digits(value, 3, text);
    else if (fabs(value) >= 100)
        dd_text(text, DD_NUMBER_TEXT, "%.0f", value);
    else
        dd_number_digits(fabs(value) < 1e-4 * fabs(limit) ? 0 : value, 3, text);
}

/* "1.63 kN, most 3.3 kN": three digits, forces above 1 kN in kN. On which side the limit lies follows from whether it is broken. */
static void value_and_limit(const dd_margin *margin, char *text, size_t size)
{
    char value[DD_NUMBER_TEXT], limit[DD_NUMBER_TEXT];
    bool kilo = strcmp(margin->unit, "N") == 0 && (fabs(margin->limit) >= 1000 || fabs(margin->value) >= 1000);
    bool least = margin->broken ? margin->value < margin->limit : margin->value > margin->limit;
    double scale = kilo ? 1e-3 : 1;
    short_number(margin->value * scale, margin->limit * scale, value);
    short_number(margin->limit * scale, 0, limit);
    dd_text(text, size, "%s, %s %s %s%s", value, least ? "least" : "most", limit, kilo ? "k" : "", margin->unit);
}

static int add_margins(dd_string *out, const dd_result *result)
{
    int shown = result->margin_count < MARGINS ? result->margin_count : MARGINS;
    if (shown == 0) {
        dd_string_add(out, "No limit was checked.\n");
        return 1;
    }
    char text[96];
    if (shown < result->margin_count)
        dd_text(text, sizeof text, "Tightest of %d limits\n", result->margin_count);
    else
        dd_text(text, sizeof text, "Limits, tightest first\n");
    dd_string_add(out, text);
    for (int i = 0; i < shown; i++) {
        const dd_margin *margin = &result->margins[i];
        dd_string_add(out, "  ");
        screen_cell(out, margin->name, 40);
        value_and_limit(margin, text, sizeof text);
        dd_string_add(out, " ");
        screen_cell(out, text, 24);
        if (margin->broken)
            dd_string_add(out, " BROKEN");
        else if (isfinite(margin->share)) {
            dd_text(text, sizeof text, " %4.0f %%", fmin(100 * margin->share, 9999));
            dd_string_add(out, text);
        }
        dd_string_add(out, "\n");
    }
    return shown + 1;
}

/* What was not checked, in one sentence; what was assumed, as a number. */
static int add_unchecked(dd_string *out, const dd_result *result)
{
    dd_string joined = {0};
    for (int i = 0; i < result->unchecked_count; i++) {
        if (i) dd_string_add(&joined, "; ");
        dd_string_add(&joined, result->unchecked[i]);
    }
    char *text = dd_string_take(&joined), first[48];
    int lines = 0;
    if (result->unchecked_count == 1)
        dd_text(first, sizeof first, "Not checked: ");
    else
        dd_text(first, sizeof first, "Not checked (%d): ", result->unchecked_count);
    if (text && *text) lines += screen_wrap(out, first, text, UNCHECKED_LINES);
    free(text);
    if (result->assumed_count > 0) {
        char line[120];
        dd_text(line, sizeof line, "Assumed: %d %s that the scenario does not give (drawdock show).\n", result->assumed_count,
                result->assumed_count == 1 ? "figure" : "figures");
        dd_string_add(out, line);
        lines++;
    }
    return lines;
}

int screen_cautions(dd_string *out, int where)
{
    dd_string joined = {0};
    for (int i = 0; dd_caution_at(i); i++) {
        if (!(dd_caution_at(i)->where & where)) continue;
        if (joined.length) dd_string_add(&joined, "; ");
        dd_string_add(&joined, dd_caution_at(i)->brief);
    }
    dd_string_add(&joined, ".");
    char *text = dd_string_take(&joined);
    int lines = text ? screen_wrap(out, "Take care: ", text, CAUTION_LINES) : 0;
    free(text);
    return lines;
}

/* When an event was; statics know no time: the rig's position tells where. */
static void moment_of(const dd_event *event, int units, char *text, size_t size)
{
    int decimals = 2;
    const char *unit = "m";
    double where = event->rig_x;
    if (units == DD_REPORT_US) where = dd_us_value(unit, INFINITY, where, &unit, &decimals);
    if (isfinite(event->time))
        dd_text(text, size, "  %7.2f s  ", event->time);
    else
        dd_text(text, size, "  %7.*f %s  ", decimals, where, unit);
}

/* The detail as far as there is room: its figure stands at its end, so what goes before it gives way first. */
static void add_detail(dd_string *out, const char *detail, int room)
{
    const char *from = detail, *next;
    while (screen_columns(from, strlen(from)) > room && (next = strstr(from, "; ")) != NULL) from = next + 2;
    const int width = screen_columns(from, strlen(from));
    screen_cell(out, from, width > room ? room : width);
}

static int add_events(dd_string *out, const dd_result *result, int units, int room)
{
    int chosen[EVENTS];
    int most = room - 1 < EVENTS ? room - 1 : EVENTS;
    if (most < 1 || result->event_count == 0) return 0;
    int count = dd_events_choose(result, most, chosen), widest = 0;
    char text[64];
    for (int i = 0; i < count; i++) {
        const int width = screen_columns(result->events[chosen[i]].name, strlen(result->events[chosen[i]].name));
        if (width > widest) widest = width < EVENT_NAME ? width : EVENT_NAME;
    }
    if (count < result->event_count)
        dd_text(text, sizeof text, "Events (%d of %d)\n", count, result->event_count);
    else
        dd_text(text, sizeof text, "Events\n");
    dd_string_add(out, text);
    for (int i = 0; i < count; i++) {
        const dd_event *event = &result->events[chosen[i]];
        moment_of(event, units, text, sizeof text);
        dd_string_add(out, text);
        screen_cell(out, event->name, widest);
        dd_string_add(out, "  ");
        add_detail(out, event->detail, SCREEN_WIDTH - screen_columns(text, strlen(text)) - widest - 2);
        dd_string_add(out, "\n");
    }
    return count + 1;
}

static const char *in_words(int verdict)
{
    switch (verdict) {
    case DD_VERDICT_WITHIN:
        return "within the limits given";
    case DD_VERDICT_BROKEN:
        return "a limit is broken";
    case DD_VERDICT_FAILED:
        return "it fails";
    default:
        return "INCOMPLETE, no verdict";
    }
}

const char *screen_colour(bool good, FILE *out)
{
    const char *refused = getenv("NO_COLOR"), *terminal = getenv("TERM");
    if ((refused && *refused) || !terminal || strcmp(terminal, "dumb") == 0 || !isatty(fileno(out))) return NULL;
    return good ? "\033[1;32m" : "\033[1;31m";
}

static int add_head(dd_string *out, const dd_result *result, FILE *file)
{
    const char *colour = screen_colour(result->verdict == DD_VERDICT_WITHIN, file);
    if (colour) dd_string_add(out, colour);
    /* A word that says no more than what follows is not said twice. */
    if (*result->word && strcmp(result->word, in_words(result->verdict)) != 0) {
        dd_string_add(out, result->word);
        dd_string_add(out, ": ");
    }
    dd_string_add(out, in_words(result->verdict));
    if (colour) dd_string_add(out, SCREEN_COLOUR_ENDS);
    dd_string_add(out, "\n");
    int lines = 1 + screen_wrap(out, "", result->title, 1);
    if (*result->sentence) lines += screen_wrap(out, "  ", result->sentence, SENTENCE_LINES);
    if (result->bands != DD_BANDS_NOT_RUN) lines += screen_wrap(out, "  ", result->bands_sentence, BANDS_LINES);
    return lines;
}

void screen_print(const dd_result *result, int units, const char *folder, const char *files, FILE *out)
{
    dd_string head = {0}, events = {0}, tail = {0};
    int lines = add_head(&head, result, out);
    lines += add_margins(&head, result);
    lines += add_unchecked(&tail, result);
    lines += screen_cautions(&tail, DD_CAUTION_RAMP);
    if (folder) {
        dd_string written = {0};
        dd_string_add(&written, folder);
        dd_string_add(&written, ": ");
        dd_string_add(&written, files);
        char *text = dd_string_take(&written);
        if (text) lines += screen_wrap(&tail, "Written: ", text, 1);
        free(text);
    }
    add_events(&events, result, units, SCREEN_LINES - lines);
    char *parts[] = {dd_string_take(&head), dd_string_take(&events), dd_string_take(&tail)};
    for (int i = 0; i < 3; i++) {
        if (parts[i]) fputs(parts[i], out);
        free(parts[i]);
    }
}
