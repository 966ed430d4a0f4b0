/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A report as XML: verdict, notes, tables, checks. */
#include "lib/record/fields.h"
#include "lib/record/us_units.h"
#include "tools/drawdock/page.h"
#include <math.h>
#include <string.h>

enum { LONGEST_TABLE = 60 }; /* rows: longer ones are curves for pictures */

static void add_sentence(page *p, xmlNodePtr parent, const char *name, const char *text, const dd_report *report)
{
    if (*text) page_sentence(p, parent, name, text, report);
}

static void add_columns(page *p, xmlNodePtr parent, const dd_report_table *table)
{
    for (int c = 0; c < table->column_count; c++) {
        const dd_report_column *column = &table->columns[c];
        bool words = true;
        for (int r = 0; r < table->row_count && words; r++) {
            const dd_report_cell *cell = &table->cells[r * table->column_count + c];
            words = cell->text != NULL || !isfinite(cell->value);
        }
        xmlNodePtr node = page_add(p, parent, "column");
        page_put(p, node, "name", "%s", column->name);
        page_put(p, node, "help", "%s", column->help);
        if (words) page_put(p, node, "words", "1");
    }
}

static void add_table(page *p, xmlNodePtr parent, const dd_report *report, const dd_report_table *table)
{
    xmlNodePtr node = page_add(p, parent, "table");
    page_put(p, node, "key", "%s", table->key);
    page_put(p, node, "title", *table->datum ? "%s; levels above %s" : "%s", table->title, table->datum);
    page_put(p, node, "brief", "%d", table->brief);
    add_columns(p, node, table);
    const double metres = dd_us_largest(table, "m");
    for (int r = 0; r < table->row_count; r++) {
        xmlNodePtr row = page_add(p, node, "row");
        for (int c = 0; c < table->column_count; c++) {
            const dd_report_cell *cell = &table->cells[r * table->column_count + c];
            if (cell->text)
                page_sentence(p, row, "cell", cell->text, report);
            else
                page_figure(p, row, "cell", cell->value, metres, table->columns[c].unit, table->columns[c].decimals);
        }
    }
    add_sentence(p, node, "note", table->note, report);
}

static void add_check(page *p, xmlNodePtr parent, const dd_report *report, const dd_check *check)
{
    static const char *const outcomes[] = {"good", "broken", "not checked", "caution"};
    xmlNodePtr node = page_add(p, parent, "check");
    page_put(p, node, "outcome", "%s", outcomes[check->outcome]);
    page_put(p, node, "group", "%s", check->group);
    page_put(p, node, "state", "%s", check->state);
    page_put(p, node, "least", "%d", check->least);
    if (isfinite(check->share) && *check->unit) page_put(p, node, "use", "%.0f %%", fmin(100 * check->share, 9999));
    page_sentence(p, node, "name", check->name, report);
    const double largest = fmax(fabs(check->value), fabs(check->limit)); /* of two of which one may be NaN */
    page_figure(p, node, "value", check->value, largest, check->unit, PAGE_THREE_DIGITS);
    page_figure(p, node, "limit", check->limit, largest, check->unit, PAGE_THREE_DIGITS);
    page_text(p, node, "source", check->source);
    add_sentence(p, node, "words", check->words, report);
}

void page_report(page *p, xmlNodePtr parent, const dd_report *report)
{
    xmlNodePtr node = page_add(p, parent, "report");
    page_put(p, node, "study", "%s", report->study);
    page_put(p, node, "kind", "%s", dd_verdict_name(report->verdict));
    page_put(p, node, "word", "%s", report->word);
    add_sentence(p, node, "sentence", report->sentence, report);
    add_sentence(p, node, "headline", report->headline, report);
    for (int t = 0; t < report->table_count; t++)
        if (report->tables[t].row_count > 0 && report->tables[t].row_count <= LONGEST_TABLE) add_table(p, node, report, &report->tables[t]);
    for (int i = 0; i < report->check_count; i++) add_check(p, node, report, &report->checks[i]);
    for (int i = 0; i < report->note_count; i++) add_sentence(p, node, "note", report->notes[i], report);
    for (int i = 0; i < report->assumed_count; i++) page_sentence(p, node, "assumed", report->assumed[i], report);
    for (int i = 0; i < report->source_count; i++) page_text(p, node, "source", report->sources[i]);
}
