/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/record/reporter.h"
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/base/sources.h"
#include "lib/base/units.h"
#include "lib/record/list.h"
#include "lib/record/text.h"
#include "lib/record/us_units.h"
#include <drawdock/result.h>
#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FEW = 20 }; /* a limit below it is told with decimals */

struct dd_reporter {
    dd_report *report;
    int cell; /* column of the next cell of the last row */
    int units; /* of the finished report; until then it is metric */
    char asked[32]; /* the group of checks that answers what is asked first; "": any */
    int tables_room, checks_room, notes_room, assumed_room, sources_room, quoted_room, told_room, columns_room, cells_room;
    bool failed; /* out of memory: everything after is dropped */
};

/* Units that studies name, to which their SI values are brought here; in any other they hand a value over as it is. */
static const struct metric_unit {
    const char *name;
    dd_dimension dimension;
} metric_units[] = {
    {"kg", DD_MASS},     {"t", DD_MASS},        {"mm", DD_LENGTH},  {"cm", DD_LENGTH}, {"m", DD_LENGTH},     {"N", DD_FORCE},  {"kN", DD_FORCE},
    {"kPa", DD_PRESSURE}, {"bar", DD_PRESSURE}, {"MPa", DD_PRESSURE}, {"L", DD_VOLUME},  {"N m", DD_MOMENT},   {"kN m", DD_MOMENT}, {"km/h", DD_SPEED},
    {"m/s", DD_SPEED},   {"%", DD_RATIO},       {"deg", DD_ANGLE},  {"m/s2", DD_ACCELERATION}, {"kg/m3", DD_DENSITY}, {"min", DD_TIME}, {"h", DD_TIME},
    {"s", DD_TIME},
};

static double in_unit(const char *name, double si)
{
    const dd_unit *unit = NULL;
    for (size_t i = 0; i < sizeof metric_units / sizeof metric_units[0] && !unit; i++)
        if (strcmp(metric_units[i].name, name) == 0) unit = dd_unit_find(name, metric_units[i].dimension);
    return unit ? si * unit->denominator / unit->numerator - unit->offset : si;
}

/* Room for one more in an array; false: out of memory. */
static bool grow(dd_reporter *r, void **array, int count, int *room, size_t size)
{
    if (r->failed) return false;
    void *bigger = dd_list_room(*array, count, room, 8, size);
    if (!bigger) {
        r->failed = true;
        return false;
    }
    *array = bigger;
    return true;
}

/* grow() for a field whose type is not void *. */
#define GROW(r, field, count, room) grow_field(r, (void *)&(field), count, &(room), sizeof *(field))
static bool grow_field(dd_reporter *r, void *field, int count, int *room, size_t size)
{
    void *array;
    memcpy(&array, field, sizeof array);
    bool good = grow(r, &array, count, room, size);
    memcpy(field, &array, sizeof array);
    return good;
}

dd_reporter *dd_reporter_create(const char *title, const char *study, int units)
{
    dd_reporter *r = calloc(1, sizeof *r);
    dd_report *report = calloc(1, sizeof *report);
    if (!r || !report) {
        free(r);
        free(report);
        return NULL;
    }
    r->report = report;
    dd_text_copy(report->title, sizeof report->title, title);
    dd_text_copy(report->study, sizeof report->study, study);
    r->units = units;
    return r;
}

void dd_reporter_free(dd_reporter *r)
{
    if (!r) return;
    dd_report_free(r->report);
    free(r);
}

void dd_report_free(dd_report *report)
{
    if (!report) return;
    for (int t = 0; t < report->table_count; t++) {
        dd_report_table *table = &report->tables[t];
        for (int i = 0; i < table->row_count * table->column_count; i++) free(table->cells[i].text);
        free(table->columns);
        free(table->cells);
    }
    free(report->tables);
    free(report->checks);
    free(report->notes);
    free(report->assumed);
    free(report->sources);
    free(report->quoted);
    free(report->told);
    free(report);
}

static dd_report_table *last_table(dd_reporter *r)
{
    return !r->failed && r->report->table_count > 0 ? &r->report->tables[r->report->table_count - 1] : NULL;
}

void dd_reporter_table(dd_reporter *r, const char *key, const char *title, int brief)
{
    dd_report *report = r->report;
    if (!GROW(r, report->tables, report->table_count, r->tables_room)) return;
    dd_report_table *table = &report->tables[report->table_count++];
    *table = (dd_report_table){.brief = brief};
    dd_text_copy(table->key, sizeof table->key, key);
    dd_text_copy(table->title, sizeof table->title, title);
    r->cell = 0;
    r->columns_room = r->cells_room = 0;
}

void dd_reporter_column(dd_reporter *r, const char *name, const char *metric_unit, int decimals, const char *help)
{
    dd_report_table *table = last_table(r);
    if (!table || !GROW(r, table->columns, table->column_count, r->columns_room)) return;
    dd_report_column *column = &table->columns[table->column_count++];
    *column = (dd_report_column){.decimals = decimals};
    dd_text_copy(column->name, sizeof column->name, name);
    dd_text_copy(column->help, sizeof column->help, help);
    dd_text_copy(column->unit, sizeof column->unit, metric_unit);
}

void dd_reporter_datum(dd_reporter *r, const char *datum)
{
    dd_report_table *table = last_table(r);
    if (table) dd_text_copy(table->datum, sizeof table->datum, datum);
}

static dd_report_cell *next_cell(dd_reporter *r, const char **metric_unit)
{
    dd_report_table *table = last_table(r);
    if (!table || table->column_count == 0 || r->failed) return NULL;
    if (r->cell == 0) {
        /* A row begins: all its cells are there from now on, so that a short row ends empty. */
        int first = table->row_count * table->column_count;
        for (int c = 0; c < table->column_count; c++) {
            if (!GROW(r, table->cells, first + c, r->cells_room)) return NULL;
            table->cells[first + c] = (dd_report_cell){.value = NAN};
        }
        table->row_count++;
    }
    dd_report_cell *cell = &table->cells[(table->row_count - 1) * table->column_count + r->cell];
    *metric_unit = table->columns[r->cell].unit;
    r->cell = (r->cell + 1) % table->column_count;
    return cell;
}

void dd_reporter_words(dd_reporter *r, const char *format, ...)
{
    const char *unit;
    char text[400];
    va_list arguments;
    va_start(arguments, format);
    dd_text_list(text, sizeof text, format, arguments);
    va_end(arguments);
    dd_report_cell *cell = next_cell(r, &unit);
    if (!cell) return;
    cell->text = malloc(strlen(text) + 1);
    if (cell->text)
        memcpy(cell->text, text, strlen(text) + 1);
    else
        r->failed = true;
}

void dd_reporter_value(dd_reporter *r, double si)
{
    const char *unit;
    dd_report_cell *cell = next_cell(r, &unit);
    if (cell) cell->value = isfinite(si) ? in_unit(unit, si) : NAN;
}

void dd_reporter_table_note(dd_reporter *r, const char *format, ...)
{
    dd_report_table *table = last_table(r);
    if (!table) return;
    va_list arguments;
    va_start(arguments, format);
    dd_text_list(table->note, sizeof table->note, format, arguments);
    va_end(arguments);
}

/* Outcome and use of the limit, from the two figures in any one unit. */
static void judge(dd_check *check)
{
    const bool caution = check->outcome == DD_CHECK_CAUTION;
    check->share = NAN;
    if (isnan(check->value) || isnan(check->limit)) {
        check->outcome = DD_CHECK_NOT_CHECKED;
        return;
    }
    const bool counted = *check->unit == '\0'; /* so many wheels, or yes and no: met or not, there is no use of it */
    const double over = check->least ? check->limit - check->value : check->value - check->limit;
    if (counted)
        check->share = over > 0 ? INFINITY : 0;
    else if (check->least)
        check->share = check->value > 0 ? check->limit / check->value : over > 0 ? INFINITY : 0;
    else if (check->limit > 0)
        check->share = check->value / check->limit;
    else
        check->share = over > 0 ? INFINITY : 1;
    check->outcome = !(over > 0) ? DD_CHECK_GOOD : caution ? DD_CHECK_CAUTION : DD_CHECK_BROKEN;
}

/* Order in a report: broken, cautions, good by use of the limit, not checked. */
static int class_of(const dd_check *check)
{
    switch (check->outcome) {
    case DD_CHECK_BROKEN:
        return 0;
    case DD_CHECK_CAUTION:
        return 1;
    case DD_CHECK_GOOD:
        return 2;
    default:
        return 3;
    }
}

static bool tighter(const dd_check *a, const dd_check *b)
{
    int x = class_of(a), y = class_of(b);
    return x != y ? x < y : a->share > b->share;
}

void dd_reporter_check(dd_reporter *r, const dd_check *given)
{
    dd_report *report = r->report;
    dd_check check = *given;
    judge(&check);
    check.value = isnan(check.value) ? NAN : in_unit(check.unit, check.value);
    check.limit = isnan(check.limit) ? NAN : in_unit(check.unit, check.limit);
    check.decimals = fabs(check.limit) < FEW ? 2 : 0;
    for (int i = 0; i < report->check_count; i++) {
        dd_check *other = &report->checks[i];
        if (strcmp(other->group, check.group) != 0 || strcmp(other->name, check.name) != 0) continue;
        if (tighter(&check, other)) *other = check;
        return;
    }
    if (*check.source) dd_reporter_source(r, check.source);
    if (!GROW(r, report->checks, report->check_count, r->checks_room)) return;
    report->checks[report->check_count++] = check;
}

/* true: the line is among them already. */
static bool has_line(const char *lines, int count, size_t size, const char *line)
{
    for (int i = 0; i < count; i++)
        if (strcmp(lines + (size_t)i * size, line) == 0) return true;
    return false;
}

/* Appends a line to one of the report's lists of lines. */
#define ADD_LINE(r, lines, count, room, line)                                                                                  \
    do {                                                                                                                       \
        if ((count) > 0 && has_line((lines)[0], count, sizeof (lines)[0], line)) break;                                        \
        if (GROW(r, lines, count, room)) dd_text((lines)[(count)++], sizeof (lines)[0], "%s", line);                           \
    } while (0)

void dd_reporter_note(dd_reporter *r, const char *format, ...)
{
    char line[sizeof r->report->notes[0]];
    va_list arguments;
    va_start(arguments, format);
    dd_text_list(line, sizeof line, format, arguments);
    va_end(arguments);
    ADD_LINE(r, r->report->notes, r->report->note_count, r->notes_room, line);
}

void dd_reporter_headline(dd_reporter *r, const char *format, ...)
{
    if (*r->report->headline) return;
    va_list arguments;
    va_start(arguments, format);
    dd_text_list(r->report->headline, sizeof r->report->headline, format, arguments);
    va_end(arguments);
}

void dd_reporter_assumed(dd_reporter *r, const char *format, ...)
{
    char line[sizeof r->report->assumed[0]];
    va_list arguments;
    va_start(arguments, format);
    dd_text_list(line, sizeof line, format, arguments);
    va_end(arguments);
    ADD_LINE(r, r->report->assumed, r->report->assumed_count, r->assumed_room, line);
}

void dd_reporter_source(dd_reporter *r, const char *key_or_text)
{
    char line[sizeof r->report->sources[0]];
    const dd_source *source = dd_source_find(key_or_text);
    if (source)
        dd_text(line, sizeof line, "%s (%s): %s", source->key, source->grade, source->text);
    else
        dd_text(line, sizeof line, "%s", key_or_text);
    ADD_LINE(r, r->report->sources, r->report->source_count, r->sources_room, line);
}

void dd_reporter_asked(dd_reporter *r, const char *group) { dd_text_copy(r->asked, sizeof r->asked, group); }

dd_check dd_check_of(const char *group, const char *state, double value, double limit, const char *unit, const char *source, const char *format, ...)
{
    dd_check check = {.value = value, .limit = limit};
    va_list arguments;
    va_start(arguments, format);
    dd_text_list(check.name, sizeof check.name, format, arguments);
    va_end(arguments);
    dd_text_copy(check.group, sizeof check.group, group);
    dd_text_copy(check.state, sizeof check.state, state != NULL ? state : "");
    dd_text_copy(check.unit, sizeof check.unit, unit);
    dd_text_copy(check.source, sizeof check.source, source);
    return check;
}

void dd_reporter_quoted(dd_reporter *r, const char *text)
{
    if (text[strcspn(text, "0123456789")] == '\0') return; /* no figure in it that could be turned */
    ADD_LINE(r, r->report->quoted, r->report->quoted_count, r->quoted_room, text);
}

char *dd_reporter_quantity(dd_reporter *r, double si, const char *metric_unit, int decimals, char text[DD_REPORTER_TEXT])
{
    dd_told told = {.value = in_unit(metric_unit, si) + 0.0};
    dd_text(text, DD_REPORTER_TEXT, "%.*f%s%s", decimals, told.value, *metric_unit ? " " : "", metric_unit);
    dd_text_copy(told.unit, sizeof told.unit, metric_unit);
    if (GROW(r, r->report->told, r->report->told_count, r->told_room)) r->report->told[r->report->told_count++] = told;
    return text;
}

/* Which of two equal checks stands first is the order in which they came. */
static void sort_checks(dd_report *report)
{
    for (int i = 1; i < report->check_count; i++) {
        dd_check moving = report->checks[i];
        int at = i;
        for (; at > 0 && tighter(&moving, &report->checks[at - 1]); at--) report->checks[at] = report->checks[at - 1];
        report->checks[at] = moving;
    }
}

static int count_of(const dd_report *report, int outcome, const dd_check **first)
{
    int count = 0;
    for (int i = report->check_count - 1; i >= 0; i--)
        if (report->checks[i].outcome == outcome) count++, *first = &report->checks[i];
    return count;
}

static void go_on(dd_report *report, const char *format, ...) DD_PRINTF(2, 3);
static void go_on(dd_report *report, const char *format, ...)
{
    const size_t used = strlen(report->sentence);
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(report->sentence + used, sizeof report->sentence - used, format, arguments);
    va_end(arguments);
}

/* Name and state of a check. */
static void name_check(dd_report *report, const dd_check *check)
{
    go_on(report, "%s%s%s%s", check->name, *check->state ? " (" : "", check->state, *check->state ? ")" : "");
}

/* What is only advised and missed neither breaks a limit nor holds: it is told beside them. */
static void word_sentence(dd_report *report, int broken, int good, int cautions, const dd_check *first_broken, const dd_check *first_good, const dd_check *caution)
{
    const int checked = broken + good + cautions;
    if (broken > 0) {
        go_on(report, "%d of %d limits %s broken, first: ", broken, checked, broken == 1 ? "is" : "are");
        name_check(report, first_broken);
    } else if (good > 0) {
        if (cautions > 0)
            go_on(report, "%d of %d limits %s, the tightest is ", good, checked, good == 1 ? "holds" : "hold");
        else
            go_on(report, good == 1 ? "%d limit holds, " : "%d limits hold, the tightest is ", good);
        name_check(report, first_good);
    }
    if (cautions > 0) {
        go_on(report, "%s", *report->sentence ? "; " : "No limit is broken; ");
        if (broken > 0)
            go_on(report, cautions == 1 ? "%d asks for caution" : "%d ask for caution", cautions);
        else {
            go_on(report, cautions == 1 ? "%d asks for caution: " : "%d ask for caution, first: ", cautions);
            name_check(report, caution);
        }
    }
    if (*report->sentence) go_on(report, ".");
}

/* Whether a check of that group was judged; any check where nothing in particular is asked. */
static bool is_answered(const dd_report *report, const char *group)
{
    for (int i = 0; i < report->check_count; i++)
        if (report->checks[i].outcome != DD_CHECK_NOT_CHECKED && (!*group || strcmp(report->checks[i].group, group) == 0)) return true;
    return false;
}

static void word_verdict(dd_report *report, const char *asked)
{
    const dd_check *first_broken = NULL, *first_good = NULL, *caution = NULL, *first_unchecked = NULL;
    const int broken = count_of(report, DD_CHECK_BROKEN, &first_broken), good = count_of(report, DD_CHECK_GOOD, &first_good);
    const int cautions = count_of(report, DD_CHECK_CAUTION, &caution), unchecked = count_of(report, DD_CHECK_NOT_CHECKED, &first_unchecked);
    const bool answered = is_answered(report, asked);
    report->verdict = broken > 0 ? DD_VERDICT_BROKEN : answered ? DD_VERDICT_WITHIN : DD_VERDICT_UNCHECKED;
    if (!*report->word) {
        if (broken > 0 || answered)
            dd_text_copy(report->word, sizeof report->word, broken > 0 ? "a limit is broken" : "within the limits given");
        else
            dd_text(report->word, sizeof report->word, good + cautions > 0 ? "%s was not checked" : "nothing was checked", asked);
    }
    if (*report->sentence) return;
    word_sentence(report, broken, good, cautions, first_broken, first_good, caution);
    if (!answered && broken + good + cautions > 0) go_on(report, " None of them is about %s.", asked);
    if (unchecked > 0 && *report->sentence) go_on(report, " %d could not be checked for want of a figure.", unchecked);
}

static dd_status no_memory(dd_error *error) { return dd_fail(error, DD_ERROR_MEMORY, "dd_reporter_finish", "no memory for the report"); }

dd_status dd_reporter_finish(dd_reporter *r, dd_report **report, dd_error *error)
{
    *report = NULL;
    if (r->failed) {
        dd_reporter_free(r);
        return no_memory(error);
    }
    sort_checks(r->report);
    word_verdict(r->report, r->asked);
    if (r->units == DD_REPORT_US && !dd_report_to_us(r->report)) {
        dd_reporter_free(r);
        return no_memory(error);
    }
    *report = r->report;
    free(r);
    return DD_OK;
}
