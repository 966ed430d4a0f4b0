/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reports and results in US customary units. */
#include "lib/base/numbers.h"
#include "lib/record/text.h"
#include "lib/record/us_units.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_DECIMALS = 3 }; /* thousandths of an inch */

/* A sentence in its room. */
static bool turn_text(char *text, size_t size, const dd_report *report)
{
    if (!*text) return true;
    char *turned = dd_us_sentence(text, report);
    if (!turned) return false;
    dd_text_copy(text, size, turned);
    free(turned);
    return true;
}

#define TURN(field, report) turn_text(field, sizeof(field), report)

static void turn_unit(char *unit, size_t size, const char *us)
{
    if (us != unit) dd_text_copy(unit, size, us);
}

/* Figures that share a unit, which is turned with them. decimals: as in dd_us_value(). */
static void turn_quantity(double *const *values, int count, char *unit, size_t size, int *decimals)
{
    const char *us = unit;
    double largest = 0;
    for (int i = 0; i < count; i++) largest = fmax(largest, fabs(*values[i])); /* of which some may be NaN */
    for (int i = 0; i < count; i++) *values[i] = dd_us_value(unit, largest, *values[i], &us, i == 0 ? decimals : NULL);
    turn_unit(unit, size, us);
}

static bool is_words(const dd_report_cell *cell) { return cell->text != NULL; }

/* A table that names the unit of each row (several rigs side by side) has its numbers turned row by row. */
static int column_of_units(const dd_report_table *table)
{
    for (int c = 0; c < table->column_count; c++)
        if (strcmp(table->columns[c].name, "unit") == 0 && table->row_count > 0 && is_words(&table->cells[c])) return c;
    return -1;
}

static bool turn_cells_of_rows(dd_report_table *table, int unit_column)
{
    for (int r = 0; r < table->row_count; r++) {
        dd_report_cell *cells = &table->cells[r * table->column_count], *unit = &cells[unit_column];
        double largest = 0;
        const char *us = unit->text;
        for (int c = 0; c < table->column_count; c++)
            if (isfinite(cells[c].value)) largest = fmax(largest, fabs(cells[c].value));
        for (int c = 0; unit->text && c < table->column_count; c++)
            if (isfinite(cells[c].value)) cells[c].value = dd_us_value(unit->text, largest, cells[c].value, &us, NULL);
        if (us == unit->text) continue;
        char *copy = malloc(strlen(us) + 1);
        if (!copy) return false;
        strcpy(copy, us);
        free(unit->text);
        unit->text = copy;
    }
    return true;
}

double dd_us_largest(const dd_report_table *table, const char *unit)
{
    double largest = 0;
    for (int i = 0; i < table->row_count * table->column_count; i++)
        if (isfinite(table->cells[i].value) && strcmp(table->columns[i % table->column_count].unit, unit) == 0)
            largest = fmax(largest, fabs(table->cells[i].value));
    return largest;
}

static void turn_column(dd_report_table *table, int c, double metres)
{
    dd_report_column *column = &table->columns[c];
    const char *us = column->unit;
    dd_us_value(column->unit, metres, 0, &us, &column->decimals);
    for (int r = 0; r < table->row_count; r++) {
        dd_report_cell *cell = &table->cells[r * table->column_count + c];
        if (isfinite(cell->value)) cell->value = dd_us_value(column->unit, metres, cell->value, &us, NULL);
    }
    turn_unit(column->unit, sizeof column->unit, us);
}

static bool turn_words_of_table(dd_report *report, dd_report_table *table)
{
    for (int i = 0; i < table->row_count * table->column_count; i++) {
        if (!is_words(&table->cells[i])) continue;
        char *turned = dd_us_sentence(table->cells[i].text, report);
        if (!turned) return false;
        free(table->cells[i].text);
        table->cells[i].text = turned;
    }
    return TURN(table->title, report) && TURN(table->note, report);
}

static bool turn_figures_of_table(dd_report_table *table)
{
    const int unit_column = column_of_units(table);
    if (unit_column >= 0) return turn_cells_of_rows(table, unit_column);
    const double metres = dd_us_largest(table, "m");
    for (int c = 0; c < table->column_count; c++) turn_column(table, c, metres);
    return true;
}

static void turn_figures_of_check(dd_check *check)
{
    turn_quantity((double *[]){&check->value, &check->limit}, 2, check->unit, sizeof check->unit, &check->decimals);
    if (check->decimals > MOST_DECIMALS) check->decimals = MOST_DECIMALS;
}

/* Sentences first: their figures are looked up among the metric ones. */
bool dd_report_to_us(dd_report *report)
{
    if (report->units == DD_REPORT_US) return true;
    report->units = DD_REPORT_US;
    bool good = TURN(report->sentence, report) && TURN(report->headline, report);
    for (int t = 0; t < report->table_count && good; t++) good = turn_words_of_table(report, &report->tables[t]);
    for (int i = 0; i < report->check_count && good; i++) good = TURN(report->checks[i].name, report) && TURN(report->checks[i].words, report);
    for (int i = 0; i < report->note_count && good; i++) good = TURN(report->notes[i], report);
    for (int i = 0; i < report->assumed_count && good; i++) good = TURN(report->assumed[i], report);
    for (int t = 0; t < report->table_count && good; t++) good = turn_figures_of_table(&report->tables[t]);
    for (int i = 0; i < report->check_count && good; i++) turn_figures_of_check(&report->checks[i]);
    return good;
}

/* A run or settle ------------------------------------------------------------------------------------------------- */

static void turn_rows(dd_result *result)
{
    for (int c = 0; c < result->column_count; c++) {
        double largest = 0;
        const char *unit = result->columns[c].unit, *us = unit;
        for (int r = 0; r < result->row_count; r++) {
            const double value = result->rows[r * result->column_count + c];
            if (isfinite(value)) largest = fmax(largest, fabs(value));
        }
        dd_us_value(unit, largest, 0, &us, NULL);
        if (us == unit) continue;
        for (int r = 0; r < result->row_count; r++) {
            double *value = &result->rows[r * result->column_count + c];
            *value = dd_us_value(unit, largest, *value, &us, NULL);
        }
        dd_text_copy(result->columns[c].unit, sizeof result->columns[c].unit, us);
    }
}

static bool turn_events(dd_result *result)
{
    bool good = true;
    for (int i = 0; i < result->event_count && good; i++) {
        dd_event *event = &result->events[i];
        turn_quantity((double *[]){&event->value}, 1, event->value_unit, sizeof event->value_unit, NULL);
        good = TURN(event->detail, NULL);
    }
    return good;
}

static void turn_margins(dd_result *result)
{
    for (int i = 0; i < result->margin_count; i++) {
        dd_margin *margin = &result->margins[i];
        turn_quantity((double *[]){&margin->value, &margin->limit}, 2, margin->unit, sizeof margin->unit, NULL);
    }
}

static bool turn_figures(dd_result *result)
{
    bool good = true;
    for (int i = 0; i < result->figure_count && good; i++) {
        dd_figure *figure = &result->figures[i];
        turn_quantity((double *[]){&figure->value}, 1, figure->unit, sizeof figure->unit, NULL);
        good = TURN(figure->group, NULL) && TURN(figure->name, NULL) && TURN(figure->words, NULL);
    }
    return good;
}

static bool turn_bands(dd_result *result)
{
    bool good = TURN(result->bands_sentence, NULL);
    for (int i = 0; i < result->band_count && good; i++) {
        dd_band *band = &result->band[i];
        turn_quantity((double *[]){&band->low, &band->likely, &band->high}, 3, band->unit, sizeof band->unit, NULL);
        good = TURN(band->name, NULL) && TURN(band->how, NULL);
    }
    return good;
}

bool dd_result_to_us(dd_result *result)
{
    bool good = TURN(result->sentence, NULL) && turn_events(result) && turn_figures(result) && turn_bands(result);
    turn_rows(result);
    turn_margins(result);
    for (int i = 0; i < result->unchecked_count && good; i++) good = TURN(result->unchecked[i], NULL);
    for (int i = 0; i < result->assumed_count && good; i++) good = TURN(result->assumed[i], NULL);
    return good;
}
