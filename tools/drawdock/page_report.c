/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A report as XML: verdict, notes, tables, checks; cells converted, sentences from the twin in US units. */
#include "lib/record/fields.h"
#include "tools/drawdock/page.h"
#include <math.h>
#include <string.h>

enum { LONGEST_TABLE = 60 }; /* rows: longer ones are curves for pictures */

static void add_sentence(page *p, xmlNodePtr parent, const char *name, const char *metric, const char *us)
{
    if (*metric) page_sentence(p, parent, name, metric, us);
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

static void add_table(page *p, xmlNodePtr parent, const dd_report_table *table)
{
    xmlNodePtr node = page_add(p, parent, "table");
    page_put(p, node, "key", "%s", table->key);
    page_put(p, node, "title", "%s", table->title);
    page_put(p, node, "brief", "%d", table->brief);
    add_columns(p, node, table);
    for (int r = 0; r < table->row_count; r++) {
        xmlNodePtr row = page_add(p, node, "row");
        for (int c = 0; c < table->column_count; c++) {
            const dd_report_cell *cell = &table->cells[r * table->column_count + c];
            if (cell->text)
                page_sentence(p, row, "cell", cell->text, NULL);
            else
                page_quantity(p, row, "cell", cell->value, table->columns[c].unit, table->columns[c].decimals);
        }
    }
    add_sentence(p, node, "note", table->note, NULL);
}

static const dd_check *twin_of(const dd_report *us, const dd_check *check)
{
    for (int i = 0; us && i < us->check_count; i++)
        if (strcmp(us->checks[i].group, check->group) == 0 && strcmp(us->checks[i].name, check->name) == 0) return &us->checks[i];
    return NULL;
}

static void add_check(page *p, xmlNodePtr parent, const dd_check *check, const dd_check *twin)
{
    static const char *const outcomes[] = {"good", "broken", "not checked", "caution"};
    xmlNodePtr node = page_add(p, parent, "check");
    page_put(p, node, "outcome", "%s", outcomes[check->outcome]);
    page_put(p, node, "group", "%s", check->group);
    page_put(p, node, "state", "%s", check->state);
    page_put(p, node, "least", "%d", check->least);
    if (isfinite(check->share) && *check->unit) page_put(p, node, "use", "%.0f %%", fmin(100 * check->share, 9999));
    page_text(p, node, "name", check->name);
    page_quantity(p, node, "value", check->value, check->unit, -1);
    page_quantity(p, node, "limit", check->limit, check->unit, -1);
    page_text(p, node, "source", check->source);
    add_sentence(p, node, "words", check->words, twin ? twin->words : NULL);
}

void page_report(page *p, xmlNodePtr parent, const dd_report *metric, const dd_report *us)
{
    xmlNodePtr node = page_add(p, parent, "report");
    page_put(p, node, "study", "%s", metric->study);
    page_put(p, node, "kind", "%s", dd_verdict_name(metric->verdict));
    page_put(p, node, "word", "%s", metric->word);
    add_sentence(p, node, "sentence", metric->sentence, us ? us->sentence : NULL);
    add_sentence(p, node, "headline", metric->headline, us ? us->headline : NULL);
    for (int t = 0; t < metric->table_count; t++)
        if (metric->tables[t].row_count > 0 && metric->tables[t].row_count <= LONGEST_TABLE) add_table(p, node, &metric->tables[t]);
    for (int i = 0; i < metric->check_count; i++) add_check(p, node, &metric->checks[i], twin_of(us, &metric->checks[i]));
    const bool paired = us && us->note_count == metric->note_count;
    for (int i = 0; i < metric->note_count; i++) add_sentence(p, node, "note", metric->notes[i], paired ? us->notes[i] : NULL);
    for (int i = 0; i < metric->assumed_count; i++) page_text(p, node, "assumed", metric->assumed[i]);
    for (int i = 0; i < metric->source_count; i++) page_text(p, node, "source", metric->sources[i]);
}
