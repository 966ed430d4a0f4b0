/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A report on the terminal: verdict and what matters on one screen, and every table. */
#include "tools/drawdock/report.h"
#include "lib/base/numbers.h"
#include "lib/record/cautions.h"
#include "lib/record/us_units.h"
#include "tools/drawdock/screen.h"
#include <drawdock/result.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { COLUMNS = 32, NARROWEST_NAME = 20, NARROWEST_US = 11 /* figures of US units are a digit wider */, NAME_INDENT = 2, HEAD_LINES = 4, NAME = 44, CHECKS = 12, FEWEST_CHECKS = 2, FEWEST_CHECKS_US = 1, LONGEST_CELL = 44, SENTENCE_LINES = 3, NOTE_LINES = 2 };

/* Rigs side by side: figures of all units stand in one column, each row with the digits that its change asks for. */
static bool is_side_by_side(const dd_report_table *table) { return strcmp(table->key, "differences") == 0; }

static double rounded(double value, int decimals)
{
    const double step = pow(10, -decimals);
    return step * round(value / step);
}

/* Two digits of the change, and the change that of the figures as they are shown. */
static void changed_text(const dd_report_table *table, const dd_report_cell *row, int column, char text[200])
{
    enum { FIRST = 2, DIGITS = 2, MOST_DECIMALS = 4 };
    const int last = table->column_count - 1;
    const double change = row[last].value;
    int decimals = change != 0 && isfinite(change) ? DIGITS - 1 - (int)floor(log10(fabs(change))) : 0;
    decimals = decimals < table->columns[column].decimals ? table->columns[column].decimals : decimals > MOST_DECIMALS ? MOST_DECIMALS : decimals;
    dd_us_number(column < last ? row[column].value : rounded(row[last - 1].value, decimals) - rounded(row[FIRST].value, decimals), decimals, text);
}

static void cell_text(const dd_report_table *table, int row, int column, char text[200])
{
    const dd_report_cell *cell = &table->cells[row * table->column_count + column];
    if (cell->text)
        dd_text(text, 200, "%s", cell->text);
    else if (isfinite(cell->value) && is_side_by_side(table))
        changed_text(table, cell - column, column, text);
    else if (isfinite(cell->value))
        dd_us_number(cell->value, table->columns[column].decimals, text);
    else
        strcpy(text, "");
}

/* Longest word of a heading. */
static int longest_word(const char *text)
{
    int longest = 0;
    for (const char *at = text; *(at += strspn(at, " "));) {
        size_t length = strcspn(at, " ");
        int width = screen_columns(at, length);
        longest = width > longest ? width : longest;
        at += length;
    }
    return longest;
}

/* Lines of a heading or a name set in a width, those after the first indented. */
static int set_lines(const char *text, int width, int indent, char lines[HEAD_LINES][64])
{
    int count = 0, column = 0;
    for (int i = 0; i < HEAD_LINES; i++) lines[i][0] = '\0';
    for (const char *at = text; *(at += strspn(at, " "));) {
        size_t length = strcspn(at, " ");
        int word = screen_columns(at, length);
        if (column > 0 && column + 1 + word > width && count + 1 < HEAD_LINES) {
            count++;
            column = 0;
            dd_text(lines[count], sizeof lines[count], "%*s", indent, "");
        }
        size_t used = strlen(lines[count]);
        dd_text(lines[count] + used, sizeof lines[count] - used, "%s%.*s", column ? " " : "", (int)length, at);
        column += word + (column ? 1 : count > 0 ? indent : 0);
        at += length;
    }
    return count + 1;
}

static void add_aligned(dd_string *out, const char *text, int width, bool right)
{
    int columns = screen_columns(text, strlen(text));
    if (columns > width) {
        screen_cell(out, text, width);
        return;
    }
    for (int i = columns; right && i < width; i++) dd_string_add(out, " ");
    dd_string_add(out, text);
    for (int i = columns; !right && i < width; i++) dd_string_add(out, " ");
}

static bool is_of_words(const dd_report_table *table, int column)
{
    for (int r = 0; r < table->row_count; r++)
        if (!table->cells[r * table->column_count + column].text && isfinite(table->cells[r * table->column_count + column].value)) return false;
    return true;
}

/* The columns from `first` on that fit the screen beside the first column; returns the one after. */
static int fitting(const int *width, int count, int first)
{
    int used = 2 + width[0], c = first;
    while (c < count && (c == first || used + 2 + width[c] <= SCREEN_WIDTH)) used += 2 + width[c++];
    return c;
}

static int add_part(dd_string *out, const dd_report_table *table, const int *width, int first, int end)
{
    static char heads[COLUMNS][HEAD_LINES][64];
    char text[200];
    int lines = 0, chosen[COLUMNS], count = 0;
    chosen[count++] = 0;
    for (int c = first; c < end; c++) chosen[count++] = c;
    for (int i = 0; i < count; i++) {
        const dd_report_column *column = &table->columns[chosen[i]];
        dd_text(text, sizeof text, "%s%s%s", column->name, *column->unit ? " " : "", column->unit);
        int needed = set_lines(text, width[chosen[i]], 0, heads[i]);
        lines = needed > lines ? needed : lines;
    }
    for (int l = 0; l < lines; l++) {
        dd_string_add(out, "  ");
        for (int i = 0; i < count; i++) {
            if (i) dd_string_add(out, "  ");
            add_aligned(out, heads[i][l], width[chosen[i]], !is_of_words(table, chosen[i]));
        }
        dd_string_add(out, "\n");
    }
    for (int r = 0; r < table->row_count; r++) {
        char names[HEAD_LINES][64];
        cell_text(table, r, 0, text);
        const int needed = set_lines(text, width[0], NAME_INDENT, names);
        dd_string_add(out, "  ");
        add_aligned(out, names[0], width[0], !is_of_words(table, 0));
        for (int i = 1; i < count; i++) {
            dd_string_add(out, "  ");
            cell_text(table, r, chosen[i], text);
            add_aligned(out, text, width[chosen[i]], !is_of_words(table, chosen[i]));
        }
        dd_string_add(out, "\n");
        for (int l = 1; l < needed; l++) {
            dd_string_add(out, "  ");
            add_aligned(out, names[l], width[0], false);
            dd_string_add(out, "\n");
        }
        lines += needed;
    }
    return lines;
}

static int count_parts(const int *width, int count)
{
    int parts = 0;
    for (int first = 1; first < count || first == 1; parts++) first = fitting(width, count, first);
    return parts;
}

/* Sets the names in the first column in several lines where that leaves fewer parts of the table. */
static void narrow_names(const dd_report_table *table, int narrowest, int *width, int count)
{
    const int widest = width[0];
    int fewest = count_parts(width, count), best = widest;
    if (!is_of_words(table, 0)) return;
    while (--width[0] >= narrowest) {
        const int parts = count_parts(width, count);
        if (parts < fewest) fewest = parts, best = width[0];
    }
    width[0] = best;
}

static int add_table(dd_string *out, const dd_report *report, const dd_report_table *table)
{
    int width[COLUMNS] = {0}, count = table->column_count < COLUMNS ? table->column_count : COLUMNS, lines = 1;
    char text[200];
    if (table->row_count == 0) return 0;
    for (int c = 0; c < count; c++) {
        width[c] = longest_word(table->columns[c].name);
        int unit = longest_word(table->columns[c].unit);
        width[c] = unit > width[c] ? unit : width[c];
        for (int r = 0; r < table->row_count; r++) {
            cell_text(table, r, c, text);
            int columns = screen_columns(text, strlen(text));
            columns = columns > LONGEST_CELL ? LONGEST_CELL : columns;
            width[c] = columns > width[c] ? columns : width[c];
        }
    }
    narrow_names(table, report->units == DD_REPORT_US ? NARROWEST_US : NARROWEST_NAME, width, count);
    if (*table->datum) {
        dd_text(text, sizeof text, "%s; levels above %s", table->title, table->datum);
        lines = screen_wrap(out, "", text, 2);
    } else {
        dd_string_add(out, table->title);
        dd_string_add(out, "\n");
    }
    for (int first = 1; first < count || first == 1;) {
        int end = fitting(width, count, first);
        lines += add_part(out, table, width, first, end);
        if (end >= count) break;
        first = end;
    }
    if (*table->note) lines += screen_wrap(out, "  ", table->note, 4);
    return lines;
}

/* "1250 kg, most 1400 kg  89 %". */
static void add_check(dd_string *out, const dd_check *check)
{
    char text[160], value[DD_US_NUMBER], limit[DD_US_NUMBER];
    if (*check->unit == '\0') {
        dd_text(value, sizeof value, "%.3g", check->value);
        dd_text(limit, sizeof limit, "%.3g", check->limit);
    } else {
        dd_us_number(check->value, check->decimals, value);
        dd_us_number(check->limit, check->decimals, limit);
    }
    dd_string_add(out, "  ");
    screen_cell(out, check->name, NAME);
    dd_text(text, sizeof text, "%s, %s %s %s", value, check->least ? "least" : "most", limit, check->unit);
    dd_string_add(out, " ");
    screen_cell(out, text, 24);
    if (check->outcome == DD_CHECK_BROKEN)
        dd_string_add(out, " BROKEN");
    else if (check->outcome == DD_CHECK_CAUTION)
        dd_string_add(out, " caution");
    else {
        dd_text(text, sizeof text, " %4.0f %%", fmin(100 * check->share, 9999));
        dd_string_add(out, text);
    }
    dd_string_add(out, "\n");
}

/* Why a check is broken, where that leaves room for the other broken ones; the lines it took. */
static int add_reason(dd_string *out, const dd_report *report, int i, int room)
{
    dd_string reason = {0};
    int broken = 0;
    for (int k = i + 1; k < report->check_count; k++) broken += report->checks[k].outcome == DD_CHECK_BROKEN;
    if (report->checks[i].outcome != DD_CHECK_BROKEN || *report->checks[i].words == '\0') return 0;
    const int lines = screen_wrap(&reason, "      ", report->checks[i].words, 2);
    char *text = dd_string_take(&reason);
    const bool fits = text != NULL && lines + broken <= room;
    if (fits) dd_string_add(out, text);
    free(text);
    return fits ? lines : 0;
}

static int add_checks(dd_string *out, const dd_report *report, int most)
{
    dd_string body = {0};
    int checked = 0, shown = 0, lines = 0;
    char text[80];
    while (checked < report->check_count && report->checks[checked].outcome != DD_CHECK_NOT_CHECKED) checked++;
    if (checked == 0) {
        dd_string_add(out, "No limit was checked.\n");
        return 1;
    }
    while (shown < checked && lines < most) {
        add_check(&body, &report->checks[shown]);
        lines++;
        lines += add_reason(&body, report, shown++, most - lines);
    }
    if (shown < checked)
        dd_text(text, sizeof text, "Tightest of %d limits\n", checked);
    else
        dd_text(text, sizeof text, "Limits, tightest first\n");
    dd_string_add(out, text);
    char *all = dd_string_take(&body);
    if (all != NULL) dd_string_add(out, all);
    free(all);
    return lines + 1;
}

static int add_unchecked(dd_string *out, const dd_report *report, int most)
{
    dd_string joined = {0};
    int count = 0;
    for (int i = 0; i < report->check_count; i++) {
        if (report->checks[i].outcome != DD_CHECK_NOT_CHECKED) continue;
        if (count++) dd_string_add(&joined, "; ");
        dd_string_add(&joined, report->checks[i].name);
    }
    char *text = dd_string_take(&joined), first[48];
    dd_text(first, sizeof first, "Not checked (%d): ", count);
    int lines = text && count > 0 ? screen_wrap(out, first, text, most) : 0;
    free(text);
    if (report->assumed_count > 0) {
        char line[120];
        dd_text(line, sizeof line, "Assumed: %d %s that the scenario does not give.\n", report->assumed_count,
                report->assumed_count == 1 ? "figure" : "figures");
        dd_string_add(out, line);
        lines++;
    }
    return lines;
}

static void put(dd_string *string, FILE *out)
{
    char *text = dd_string_take(string);
    if (text) fputs(text, out);
    free(text);
}

/* Appends a part where it leaves `kept` lines of the room for others; returns the room that is left. */
static int add_if_it_fits(dd_string *out, dd_string *part, int lines, int room, int kept)
{
    char *text = dd_string_take(part);
    const bool fits = text != NULL && lines <= room - kept;
    if (fits) dd_string_add(out, text);
    free(text);
    return fits ? room - lines : room;
}

static int add_written(dd_string *out, const char *folder, const char *files)
{
    dd_string written = {0};
    dd_string_add(&written, folder);
    dd_string_add(&written, ": ");
    dd_string_add(&written, files);
    char *text = dd_string_take(&written);
    const int lines = text ? screen_wrap(out, "Written: ", text, 1) : 0;
    free(text);
    return lines;
}

/* Studies of a ramp carry its cautions, the others those of the road. */
static bool is_at_a_ramp(const dd_report *report)
{
    static const char *const studies[] = {"depth", "windows", "fleet"};
    for (size_t i = 0; i < sizeof studies / sizeof studies[0]; i++)
        if (strcmp(report->study, studies[i]) == 0) return true;
    return false;
}

void report_print(const dd_report *report, const char *folder, const char *files, FILE *out)
{
    dd_string head = {0}, part = {0}, notes = {0}, tail = {0};
    const char *colour = report->verdict == DD_VERDICT_UNCHECKED ? NULL : screen_colour(report->verdict == DD_VERDICT_WITHIN, out);
    if (colour) dd_string_add(&head, colour);
    dd_string_add(&head, report->word);
    if (colour) dd_string_add(&head, SCREEN_COLOUR_ENDS);
    dd_string_add(&head, "\n");
    int lines = 1 + screen_wrap(&head, "", report->title, 1) + screen_wrap(&head, "  ", report->sentence, SENTENCE_LINES);
    if (*report->headline) lines += screen_wrap(&head, "  ", report->headline, 2);
    const bool several = report->table_count > 0 && is_side_by_side(&report->tables[0]);
    for (int i = 0; i < report->note_count && several; i++) lines += screen_wrap(&head, "  ", report->notes[i], SENTENCE_LINES);
    lines += add_unchecked(&tail, report, 2) + screen_cautions(&tail, is_at_a_ramp(report) ? DD_CAUTION_RAMP : DD_CAUTION_ROAD);
    if (folder) lines += add_written(&tail, folder, files);
    int room = SCREEN_LINES - lines, checked = 0;
    const int fewest = report->units == DD_REPORT_US ? FEWEST_CHECKS_US : FEWEST_CHECKS; /* a name set in two lines costs one */
    for (int i = 0; i < report->check_count; i++) checked += report->checks[i].outcome != DD_CHECK_NOT_CHECKED;
    for (int t = 0; t < report->table_count; t++) {
        if (report->tables[t].brief != DD_REPORT_BRIEF && report->tables[t].brief != DD_REPORT_WHOLE) continue;
        lines = add_table(&part, report, &report->tables[t]);
        if (report->tables[t].brief == DD_REPORT_WHOLE)
            room = add_if_it_fits(&head, &part, lines, lines, 0);
        else
            room = add_if_it_fits(&head, &part, lines, room, 1 + (checked < fewest ? checked : fewest));
    }
    int most = room - 1 < CHECKS ? room - 1 : CHECKS;
    if (room < 0) most = FEWEST_CHECKS; /* whole tables run over the screen anyway */
    if (report->check_count > 0 && most > 0) room -= add_checks(&head, report, most);
    for (int i = 0; i < report->note_count && !several; i++) {
        lines = screen_wrap(&part, "- ", report->notes[i], NOTE_LINES);
        room = add_if_it_fits(&notes, &part, lines, room, 0);
    }
    put(&head, out);
    put(&notes, out);
    put(&tail, out);
}

void report_print_tables(const dd_report *report, FILE *out)
{
    dd_string text = {0};
    for (int t = 0; t < report->table_count; t++) {
        if (report->tables[t].row_count == 0 || report->tables[t].brief == DD_REPORT_DRAWN) continue;
        dd_string_add(&text, "\n");
        add_table(&text, report, &report->tables[t]);
    }
    dd_string_add(&text, "\nEvery check\n");
    for (int i = 0; i < report->check_count; i++) {
        const dd_check *check = &report->checks[i];
        if (check->outcome != DD_CHECK_NOT_CHECKED)
            add_check(&text, check);
        else {
            dd_string_add(&text, "  ");
            screen_cell(&text, check->name, NAME);
            dd_string_add(&text, " not checked\n");
        }
        if (*check->words) screen_wrap(&text, "      ", check->words, 6);
    }
    const struct {
        const char *title;
        int count;
        const char *first;
        size_t size;
    } lists[] = {{"\nNotes\n", report->note_count, report->notes ? report->notes[0] : NULL, sizeof report->notes[0]},
                 {"\nAssumed\n", report->assumed_count, report->assumed ? report->assumed[0] : NULL, sizeof report->assumed[0]},
                 {"\nSources\n", report->source_count, report->sources ? report->sources[0] : NULL, sizeof report->sources[0]}};
    for (int l = 0; l < 3; l++) {
        if (lists[l].count > 0) dd_string_add(&text, lists[l].title);
        for (int i = 0; i < lists[l].count; i++) screen_wrap(&text, "  ", lists[l].first + (size_t)i * lists[l].size, 8);
    }
    put(&text, out);
}
