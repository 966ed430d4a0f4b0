/* SPDX-License-Identifier: GPL-3.0-or-later */
/* --figures: what stands beside the verdict in result.json, as tables with units; of `settle` also the loads by depth. */
#include "lib/base/numbers.h"
#include "lib/record/text.h"
#include "tools/drawdock/command.h"
#include <math.h>
#include <string.h>

enum { NAME = 40, VALUE = 10, UNIT = 5, WIDTH = 79, DEPTHS = 14 };

/* Three digits, more before the point. */
static void number(double value, char text[DD_NUMBER_TEXT])
{
    if (!isfinite(value))
        strcpy(text, "-");
    else if (fabs(value) >= 100 && fabs(value) < 1e6)
        dd_text(text, DD_NUMBER_TEXT, "%.0f", value);
    else
        dd_number_digits(fabs(value) < 5e-5 ? 0 : value, 3, text);
}

/* Control characters could move the cursor: they become spaces. */
static void put(const char *text, size_t length, FILE *out)
{
    for (size_t i = 0; i < length; i++) putc((unsigned char)text[i] < 0x20 || text[i] == 0x7F ? ' ' : text[i], out);
}

/* Words below their figure, within the screen's width. */
static void put_words(const char *words, FILE *out)
{
    size_t column = 0;
    for (const char *at = words + strspn(words, " "); *at != '\0';) {
        const size_t length = strcspn(at, " ");
        if (column > 0 && column + 1 + length > WIDTH) {
            putc('\n', out);
            column = 0;
        }
        if (column == 0)
            column = (size_t)fprintf(out, "      ");
        else
            putc(' ', out), column++;
        put(at, length, out);
        column += length;
        at += length;
        at += strspn(at, " ");
    }
    if (column > 0) putc('\n', out);
}

static void put_figure(const dd_figure *figure, FILE *out)
{
    char value[DD_NUMBER_TEXT];
    number(figure->value, value);
    fputs("  ", out);
    put(figure->name, strlen(figure->name), out);
    for (size_t i = strlen(figure->name); i < NAME; i++) putc(' ', out);
    fprintf(out, " %*s %s\n", VALUE, value, figure->unit);
    put_words(figure->words, out);
}

/* The loads as the rig goes down: rows nearest to evenly spaced depths. */
static const struct {
    const char *column, *head;
} loads[] = {{"hub_depth_m", "hub"},
             {"support_load_N", "supports"},
             {"rear_support_load_N", "rear one"},
             {"strap_tension_N", "strap"},
             {"ties_tension_N", "ties"},
             {"coupling_load_N", "coupling"},
             {"axle_load_N", "wheels"},
             {"trim_bow_down_deg", "trim"}};
enum { LOADS = sizeof loads / sizeof loads[0] };

static int column_of(const dd_result *r, const char *name)
{
    for (int c = 0; c < r->column_count; c++)
        if (strcmp(r->columns[c].name, name) == 0) return c;
    return -1;
}

static int row_at(const dd_result *r, int column, double depth)
{
    int nearest = 0;
    for (int i = 1; i < r->row_count; i++)
        if (fabs(r->rows[i * r->column_count + column] - depth) < fabs(r->rows[nearest * r->column_count + column] - depth)) nearest = i;
    return nearest;
}

static void put_loads(const dd_result *r, FILE *out)
{
    int column[LOADS], last = -1;
    char text[DD_NUMBER_TEXT];
    for (int i = 0; i < LOADS; i++) column[i] = column_of(r, loads[i].column);
    if (column[0] < 0 || r->row_count < 2) return;
    const double first = r->rows[column[0]], end = r->rows[(r->row_count - 1) * r->column_count + column[0]];
    fputs("\nloads as the rig goes down, hub under water\n ", out);
    for (int i = 0; i < LOADS; i++)
        if (column[i] >= 0) fprintf(out, " %8s", loads[i].head);
    fputs("\n ", out);
    for (int i = 0; i < LOADS; i++)
        if (column[i] >= 0) fprintf(out, " %8s", r->columns[column[i]].unit);
    putc('\n', out);
    for (int k = 0; k <= DEPTHS; k++) {
        const int row = row_at(r, column[0], first + (end - first) * k / DEPTHS);
        if (row == last) continue;
        last = row;
        putc(' ', out);
        for (int i = 0; i < LOADS; i++) {
            if (column[i] < 0) continue;
            number(r->rows[row * r->column_count + column[i]], text);
            fprintf(out, " %8s", text);
        }
        putc('\n', out);
    }
}

void figures_print(const dd_result *result, FILE *out)
{
    const char *group = "";
    if (result->figure_count == 0) fputs("\nNo figures beside the verdict.\n", out);
    for (int i = 0; i < result->figure_count; i++) {
        if (strcmp(group, result->figures[i].group) != 0) {
            group = result->figures[i].group;
            putc('\n', out);
            put(group, strlen(group), out);
            putc('\n', out);
        }
        put_figure(&result->figures[i], out);
    }
    if (strcmp(result->study, "settle") == 0) put_loads(result, out);
}
