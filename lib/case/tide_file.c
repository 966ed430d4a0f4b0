/* SPDX-License-Identifier: GPL-3.0-or-later */
/* CSV files of agencies into nodes of the tide, so that what is wrong in them is told with file, line and column. */
#include "lib/base/calendar.h"
#include "lib/base/numbers.h"
#include "lib/case/reader.h"
#include "lib/shore/tide_given.h"
#include <csv.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { COLUMNS = 64, WANTED = 3 };

/* A column that the scenario asks for. */
typedef struct wanted {
    const char *key, *given, *what;
    int column; /* from 1; 0: not asked for */
} wanted;

/* One file being read. */
typedef struct sheet {
    dd_reading *reading;
    const dd_table_file *how;
    dd_node *read, *tide, *list;
    bool constants, failed, found; /* found: the columns */
    wanted columns[WANTED]; /* name, amplitude, phase; or date, time, level */
    const char *header[COLUMNS], *fields[COLUMNS];
    int header_count, count;
    const char *line; /* the line being read, what of it has been looked through, and its end */
    size_t seen, length;
    dd_place place, places[COLUMNS];
} sheet;

static const char block[] = "water.tide.read";

/* Where a field begins, for messages: the parser does not say. */
static dd_place place_of_field(sheet *s, const char *text)
{
    dd_place place = s->place;
    const size_t size = strlen(text);
    size_t at = s->seen;
    while (at + size <= s->length && memcmp(s->line + at, text, size) != 0) at++;
    if (at + size > s->length) return place;
    place.column = (int)at + 1;
    s->seen = at + size;
    return place;
}

static void on_field(void *text, size_t length, void *context)
{
    sheet *s = context;
    if (s->count < COLUMNS) {
        s->fields[s->count] = dd_keep_text(s->reading, text == NULL ? "" : text, text == NULL ? 0 : length);
        if (s->fields[s->count] != NULL) s->places[s->count] = place_of_field(s, s->fields[s->count]);
    }
    s->count++;
}

/* "column 'amplitude_m'", or its number where the file names none. */
static const char *column_words(const sheet *s, int column, char text[100])
{
    if (column <= s->header_count && s->header[column - 1][0] != '\0') dd_text(text, 100, "the column '%.60s'", s->header[column - 1]);
    else dd_text(text, 100, "column %d", column);
    return text;
}

/* The field of a column; NULL: a message was given. */
static const char *field(sheet *s, const wanted *w)
{
    char where[100];
    if (w->column <= s->count && w->column <= COLUMNS && s->fields[w->column - 1] != NULL && s->fields[w->column - 1][0] != '\0') return s->fields[w->column - 1];
    if (!s->reading->out_of_memory)
        dd_complain(s->reading, s->place, block, "found nothing in %s of a row of %d column%s; expected %s", column_words(s, w->column, where), s->count,
                    s->count == 1 ? "" : "s", w->what);
    return NULL;
}

static bool put(sheet *s, dd_node *row, const char *name, const char *text, int column)
{
    const dd_place place = s->places[column - 1];
    dd_node *value = dd_new_scalar(s->reading, text, place);
    return value != NULL && dd_append(s->reading, row, name, place, value);
}

/* A field that is a number, with a unit; a decimal comma counts as a point where columns are not parted by commas. */
static bool put_number(sheet *s, dd_node *row, const char *name, const wanted *w, const char *unit)
{
    const char *text = field(s, w), *end;
    char plain[64], whole[80], where[100];
    double value;
    if (text == NULL) return false;
    dd_text(plain, sizeof plain, "%s", text);
    char *comma = s->how->separator > DD_TABLE_COMMA ? strchr(plain, ',') : NULL;
    if (comma != NULL && strchr(plain, '.') == NULL) *comma = '.';
    if (strlen(text) >= sizeof plain || !dd_number_parse(plain, &end, &value) || *end != '\0') {
        dd_complain(s->reading, s->places[w->column - 1], block, "found '%.60s' in %s; expected %s, a number alone", text, column_words(s, w->column, where), w->what);
        return false;
    }
    dd_text(whole, sizeof whole, "%s %s", plain, unit);
    return put(s, row, name, whole, w->column);
}

static const char *unit_of(const dd_table_file *how)
{
    static const char *const units[] = {"m", "cm", "mm", "ft"};
    return units[how->unit < 0 ? DD_TABLE_M : how->unit];
}

/* Some agencies list the mean level among the constants. */
static void take_mean_level(sheet *s)
{
    const dd_entry *given = dd_entry_of(s->tide, "mean level");
    if (given == NULL)
        (void)put_number(s, s->tide, "mean level", &s->columns[1], unit_of(s->how));
    else
        dd_complain(s->reading, s->place, "water.tide.mean level", "found it here too, as Z0; expected it once: leave it out of the scenario");
}

static void add_constant(sheet *s, dd_node *row)
{
    const char *name = field(s, &s->columns[0]);
    if (name == NULL) return;
    if (strcmp(name, "Z0") == 0) take_mean_level(s);
    else if (put(s, row, "name", name, s->columns[0].column) && put_number(s, row, "amplitude", &s->columns[1], unit_of(s->how)) &&
             put_number(s, row, "phase", &s->columns[2], "deg"))
        (void)dd_append(s->reading, s->list, NULL, s->place, row);
}

/* "2026-07-14 08:30" by the format, as the text that every date of a scenario is; false: a message was given. */
static bool put_date(sheet *s, dd_node *row, const char *text, int column)
{
    const char *format = s->how->date_format[0] != '\0' ? s->how->date_format : "%Y-%m-%d %H:%M";
    char written[64], where[100];
    struct tm tm = {.tm_year = -1, .tm_mon = -1, .tm_mday = -1};
    const char *end = strptime(text, format, &tm);
    const dd_date date = {tm.tm_year + 1900, tm.tm_mon + 1, tm.tm_mday};
    if (end == NULL || *end != '\0' || tm.tm_mday < 0 || tm.tm_mon < 0 || !dd_calendar_is_date(&date)) {
        dd_complain(s->reading, s->places[column - 1], block, "found '%.60s' in %s; expected a date and time as '%s' has it (date format)", text,
                    column_words(s, column, where), format);
        return false;
    }
    const double offset = isnan(s->how->utc_offset) ? 0 : s->how->utc_offset;
    dd_calendar_text((double)dd_calendar_days(date.year, date.month, date.day) * DD_SECONDS_PER_DAY + 3600.0 * tm.tm_hour + 60.0 * tm.tm_min + tm.tm_sec - offset,
                     written, sizeof written);
    return put(s, row, "at", written, column);
}

static void add_point(sheet *s, dd_node *row)
{
    const bool two = s->columns[0].column > 0;
    const char *date = two ? field(s, &s->columns[0]) : "";
    const char *time = date == NULL ? NULL : field(s, &s->columns[1]);
    char both[160];
    if (time == NULL) return;
    dd_text(both, sizeof both, "%.70s%s%.70s", date, two ? " " : "", time);
    if (put_date(s, row, both, s->columns[two ? 0 : 1].column) && put_number(s, row, "level", &s->columns[2], unit_of(s->how)))
        (void)dd_append(s->reading, s->list, NULL, s->place, row);
}

/* The number of the column that is asked for by name or number; false: a message was given. */
static bool find_column(sheet *s, wanted *w)
{
    char path[DD_PATH], list[300] = "";
    const dd_entry *entry = dd_entry_of(s->read, w->key);
    if (entry == NULL) return true;
    for (int i = 0; i < s->header_count && w->column == 0; i++)
        if (strcmp(s->header[i], w->given) == 0) w->column = i + 1;
    char *end;
    const long number = strtol(w->given, &end, 10);
    if (w->column == 0 && *end == '\0' && number >= 1 && number <= COLUMNS) w->column = (int)number;
    if (w->column > 0) return true;
    for (int i = 0; i < s->header_count && strlen(list) < 200; i++) dd_text(list + strlen(list), sizeof list - strlen(list), "%s%.40s", i == 0 ? "" : ", ", s->header[i]);
    const char *near = dd_nearest(w->given, s->header, s->header_count);
    dd_join_path(block, w->key, path);
    if (s->header_count == 0)
        dd_complain(s->reading, entry->value->place, path, "found '%.60s'; expected a column's number, since the file has no header lines", w->given);
    else
        dd_complain(s->reading, entry->value->place, path, "found '%.60s'; expected the number or the name of a column, as line %d of '%.100s' has them: %s%s%s%s",
                    w->given, s->place.line, s->how->file, list, near == NULL ? "" : "; nearest: '", near == NULL ? "" : near, near == NULL ? "" : "'");
    return false;
}

static void find_columns(sheet *s)
{
    s->found = true;
    for (int i = 0; i < WANTED; i++) s->failed = !find_column(s, &s->columns[i]) || s->failed;
}

static void on_row(int last, void *context)
{
    sheet *s = context;
    (void)last;
    const int header_lines = s->how->header_lines;
    if (s->reading->out_of_memory || s->failed) return;
    if (s->place.line <= header_lines) {
        s->header_count = s->count < COLUMNS ? s->count : COLUMNS;
        memcpy(s->header, s->fields, sizeof s->header);
        find_columns(s);
    } else {
        if (!s->found) find_columns(s);
        dd_node *row = s->failed ? NULL : dd_new_node(s->reading, DD_NODE_MAPPING, s->place);
        if (row != NULL && s->constants) add_constant(s, row);
        else if (row != NULL) add_point(s, row);
    }
    s->count = 0;
}

static void complain_of_csv(sheet *s, struct csv_parser *parser)
{
    if (csv_error(parser) == CSV_ENOMEM) s->reading->out_of_memory = true;
    else dd_complain(s->reading, s->place, block, "found a quotation mark amiss, in this line or before it; expected CSV");
    s->failed = true;
}

/* Line by line, so that each row has its line. Of the header lines the last is read, for the names in it. */
static void parse(sheet *s, const char *bytes, size_t size)
{
    static const unsigned char separators[] = {CSV_COMMA, ';', CSV_TAB};
    struct csv_parser parser;
    if (csv_init(&parser, CSV_APPEND_NULL | CSV_STRICT | CSV_STRICT_FINI) != 0) {
        s->reading->out_of_memory = true;
        return;
    }
    csv_set_realloc_func(&parser, realloc);
    csv_set_free_func(&parser, free);
    csv_set_delim(&parser, separators[s->how->separator < 0 ? DD_TABLE_COMMA : s->how->separator]);
    const size_t mark = size >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0; /* of UTF-8, as spreadsheets write it */
    for (size_t at = mark; at < size && !s->reading->out_of_memory && !s->failed; at += s->length) {
        const char *end = memchr(bytes + at, '\n', size - at);
        s->line = bytes + at;
        s->length = end == NULL ? size - at : (size_t)(end - bytes) + 1 - at;
        s->seen = 0;
        s->place.line++;
        if (s->place.line < s->how->header_lines || bytes[at] == '#') continue;
        if (csv_parse(&parser, s->line, s->length, on_field, on_row, s) != s->length) complain_of_csv(s, &parser);
    }
    if (!s->failed && csv_fini(&parser, on_field, on_row, s) != 0) complain_of_csv(s, &parser);
    if (!s->failed && !s->reading->out_of_memory && s->list->count == 0 && s->reading->message_count == 0)
        dd_complain(s->reading, s->place, block, "found no row behind %d header line%s; expected some", s->how->header_lines, s->how->header_lines == 1 ? "" : "s");
    csv_free(&parser);
}

static const char *const letters_refused[] = {"%s", "%z", "%Z", "%c", "%x", "%X"};

/* What is wrong with the mapping itself. */
static bool is_at_odds(sheet *s, bool is_harmonic)
{
    char path[DD_PATH];
    const int before = s->reading->message_count;
    for (int i = 0; i < WANTED; i++)
        if (s->columns[i].given[0] == '\0' && (is_harmonic || i > 0))
            dd_complain(s->reading, s->read->place, dd_join_path(block, s->columns[i].key, path), "missing; expected the name or number of the column of %s", s->columns[i].what);
    const struct {
        bool wrong;
        const char *key, *message;
    } faults[] = {
        {s->how->file[0] == '\0', "file", "missing; expected the name of a CSV file"},
        {is_harmonic && !isnan(s->how->utc_offset), "utc offset", "found one for constants; expected phases on Greenwich, for times UTC"},
        {is_harmonic && s->how->date_format[0] != '\0', "date format", "found one for constants; expected none"},
        {dd_entry_of(s->tide, "constants") != NULL || dd_entry_of(s->tide, "points") != NULL, "file",
         "found constants or points in the scenario as well; expected one of them"},
    };
    for (size_t i = 0; i < sizeof faults / sizeof faults[0]; i++)
        if (faults[i].wrong) dd_complain(s->reading, s->read->place, dd_join_path(block, faults[i].key, path), "%s", faults[i].message);
    for (size_t i = 0; i < sizeof letters_refused / sizeof letters_refused[0]; i++)
        if (strstr(s->how->date_format, letters_refused[i]) != NULL)
            dd_complain(s->reading, s->read->place, dd_join_path(block, "date format", path),
                        "found %s, which means another thing on another machine; expected letters as %%Y, %%m, %%d, %%b, %%H, %%I, %%p and %%M", letters_refused[i]);
    return s->reading->message_count > before;
}

void dd_load_tide_file(dd_reading *reading, dd_case *scenario, dd_node *root)
{
    const dd_entry *water = dd_entry_of(root, "water"), *tide = water == NULL ? NULL : dd_entry_of(water->value, "tide");
    dd_entry *read = tide == NULL ? NULL : dd_entry_of(tide->value, "read");
    const dd_entry *kind = tide == NULL ? NULL : dd_entry_of(tide->value, "kind");
    if (read == NULL || read->value->failed) return;
    dd_table_file how;
    const int before = reading->message_count;
    dd_read_mapping(reading, dd_table_file_keys, NULL, scenario, offsetof(dd_case, water.tide.read), read->value, block);
    how = scenario->water.tide.read;
    dd_key_clear(dd_table_file_keys, &scenario->water.tide.read); /* the scenario has what the file says, not where it stood */
    sheet s = {.reading = reading, .how = &how, .read = read->value, .tide = tide->value, .place = {-1, 0, 1}};
    s.constants = kind == NULL || kind->value->kind != DD_NODE_SCALAR ? how.name_column[0] != '\0' : strcmp(kind->value->text, "harmonic") == 0;
    if (how.header_lines < 0) how.header_lines = 1;
    const wanted of_constants[WANTED] = {{"name column", how.name_column, "a constituent's name", 0}, {"amplitude column", how.amplitude_column, "an amplitude", 0},
                                         {"phase column", how.phase_column, "a phase lag in degrees", 0}};
    const wanted of_points[WANTED] = {{"date column", how.date_column, "a date", 0}, {"time column", how.time_column, "a time", 0}, {"level column", how.level_column, "a level", 0}};
    memcpy(s.columns, s.constants ? of_constants : of_points, sizeof s.columns);
    const bool usable = reading->message_count == before && !reading->out_of_memory && !is_at_odds(&s, s.constants);
    read->value->failed = true; /* what there was to say of it has been said */
    size_t size = 0;
    char *bytes = usable ? dd_load_bytes(reading, how.file, dd_entry_of(s.read, "file")->value->place, "water.tide.read.file", &s.place.file, &size) : NULL;
    s.list = bytes == NULL ? NULL : dd_new_node(reading, DD_NODE_SEQUENCE, (dd_place){s.place.file, 1, 1});
    if (s.list != NULL) parse(&s, bytes, size);
    free(bytes);
    if (s.list != NULL && s.list->count > 0) (void)dd_append(reading, tide->value, s.constants ? "constants" : "points", s.list->place, s.list);
}
