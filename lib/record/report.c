/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A report as CSV and as JSON. */
#include "lib/case/json_text.h"
#include "lib/record/cautions.h"
#include "lib/record/csv.h"
#include "lib/record/fields.h"
#include "lib/record/json_values.h"
#include "lib/base/numbers.h"
#include <drawdock/report.h>
#include <drawdock/version.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const dd_result_field fields[] = {
#define DD_FIELD(path, type, help) {path, type, help},
#include "lib/record/report_fields.def"
#undef DD_FIELD
};

const dd_result_field *dd_report_field_at(int index)
{
    return index < 0 || index >= (int)(sizeof fields / sizeof fields[0]) ? NULL : &fields[index];
}

static const char *const outcomes[] = {"good", "broken", "not checked", "caution"};

/* "coupling_load_kg". */
static void add_heading(dd_string *out, const dd_report_column *column)
{
    char heading[sizeof column->name + sizeof column->unit + 1];
    dd_text(heading, sizeof heading, "%s%s%s", column->name, *column->unit ? "_" : "", column->unit);
    for (char *c = heading; *c; c++)
        if (*c == ' ') *c = '_';
    dd_csv_text(out, heading);
}

static char *checks_csv(const dd_report *report)
{
    dd_string out = {0};
    dd_string_add(&out, "group,name,state,value,least_or_most,limit,unit,use_of_limit,outcome,source,words\n");
    for (int i = 0; i < report->check_count; i++) {
        const dd_check *check = &report->checks[i];
        const char *texts[] = {check->group, check->name, check->state};
        for (int k = 0; k < 3; k++) {
            dd_csv_text(&out, texts[k]);
            dd_string_add(&out, ",");
        }
        dd_csv_number(&out, check->value);
        dd_string_add(&out, check->least ? ",least," : ",most,");
        dd_csv_number(&out, check->limit);
        dd_string_add(&out, ",");
        dd_csv_text(&out, check->unit);
        dd_string_add(&out, ",");
        dd_csv_number(&out, check->share);
        const char *rest[] = {outcomes[check->outcome], check->source, check->words};
        for (int k = 0; k < 3; k++) {
            dd_string_add(&out, ",");
            dd_csv_text(&out, rest[k]);
        }
        dd_string_add(&out, "\n");
    }
    return dd_string_take(&out);
}

static void end_row(dd_string *out, const char *datum)
{
    if (*datum) dd_string_add(out, ",");
    if (*datum) dd_csv_text(out, datum);
    dd_string_add(out, "\n");
}

static char *table_csv(const dd_report_table *table)
{
    dd_string out = {0};
    for (int c = 0; c < table->column_count; c++) {
        add_heading(&out, &table->columns[c]);
        if (c + 1 < table->column_count) dd_string_add(&out, ",");
    }
    end_row(&out, *table->datum ? "datum" : "");
    for (int i = 0; i < table->row_count * table->column_count; i++) {
        if (table->cells[i].text)
            dd_csv_text(&out, table->cells[i].text);
        else
            dd_csv_number(&out, table->cells[i].value);
        if ((i + 1) % table->column_count)
            dd_string_add(&out, ",");
        else
            end_row(&out, table->datum);
    }
    return dd_string_take(&out);
}

char *dd_report_csv(const dd_report *report, const char *key)
{
    if (strcmp(key, "checks") == 0) return checks_csv(report);
    for (int t = 0; t < report->table_count; t++)
        if (strcmp(report->tables[t].key, key) == 0) return table_csv(&report->tables[t]);
    return NULL;
}

static json_t *json_checks(const dd_report *report, bool *failed)
{
    json_t *list = json_array();
    for (int i = 0; i < report->check_count; i++) {
        const dd_check *check = &report->checks[i];
        json_t *row = json_object();
        dd_json_put(row, "group", dd_json_string(check->group), failed);
        dd_json_put(row, "name", dd_json_string(check->name), failed);
        dd_json_put(row, "state", dd_json_string(check->state), failed);
        dd_json_put(row, "value", dd_json_number(check->value), failed);
        dd_json_put(row, "limit", dd_json_number(check->limit), failed);
        dd_json_put(row, "limit_is", dd_json_string(check->least ? "least" : "most"), failed);
        dd_json_put(row, "unit", dd_json_string(check->unit), failed);
        dd_json_put(row, "share", dd_json_number(check->share), failed);
        dd_json_put(row, "outcome", dd_json_string(outcomes[check->outcome]), failed);
        dd_json_put(row, "source", dd_json_string(check->source), failed);
        dd_json_put(row, "words", dd_json_string(check->words), failed);
        dd_json_append(list, row, failed);
    }
    return list;
}

static json_t *json_table(const dd_report_table *table, bool *failed)
{
    json_t *object = json_object(), *columns = json_array(), *rows = json_array(), *row = NULL;
    for (int c = 0; c < table->column_count; c++) {
        const dd_report_column *column = &table->columns[c];
        json_t *one = json_object();
        dd_json_put(one, "name", dd_json_string(column->name), failed);
        dd_json_put(one, "unit", dd_json_string(column->unit), failed);
        dd_json_put(one, "help", dd_json_string(column->help), failed);
        dd_json_append(columns, one, failed);
    }
    for (int i = 0; i < table->row_count * table->column_count; i++) {
        const dd_report_cell *cell = &table->cells[i];
        if (i % table->column_count == 0) {
            row = json_array();
            dd_json_append(rows, row, failed);
            if (*failed) break;
        }
        dd_json_append(row, cell->text ? dd_json_string(cell->text) : dd_json_number(cell->value), failed);
    }
    dd_json_put(object, "key", dd_json_string(table->key), failed);
    dd_json_put(object, "title", dd_json_string(table->title), failed);
    dd_json_put(object, "datum", dd_json_string(table->datum), failed);
    dd_json_put(object, "columns", columns, failed);
    dd_json_put(object, "rows", rows, failed);
    dd_json_put(object, "note", dd_json_string(table->note), failed);
    return object;
}

char *dd_report_json(const dd_report *report)
{
    bool failed = false;
    json_t *root = json_object(), *tables = json_array(), *notes = json_array(), *assumed = json_array(), *sources = json_array(),
           *cautions = json_array();
    for (int i = 0; i < report->table_count; i++) dd_json_append(tables, json_table(&report->tables[i], &failed), &failed);
    for (int i = 0; i < report->note_count; i++) dd_json_append(notes, dd_json_string(report->notes[i]), &failed);
    for (int i = 0; i < report->assumed_count; i++) dd_json_append(assumed, dd_json_string(report->assumed[i]), &failed);
    for (int i = 0; i < report->source_count; i++) dd_json_append(sources, dd_json_string(report->sources[i]), &failed);
    for (int i = 0; dd_caution_at(i); i++)
        if (dd_caution_at(i)->where & DD_CAUTION_ROAD) dd_json_append(cautions, dd_json_string(dd_caution_at(i)->text), &failed);
    dd_json_put(root, "drawdock", json_integer(DD_RESULT_FORMAT), &failed);
    dd_json_put(root, "version", dd_json_string(dd_version()), &failed);
    dd_json_put(root, "title", dd_json_string(report->title), &failed);
    dd_json_put(root, "study", dd_json_string(report->study), &failed);
    dd_json_put(root, "complete", json_true(), &failed);
    dd_json_put(root, "units", dd_json_string(report->units == DD_REPORT_US ? "us" : "metric"), &failed);
    dd_json_put(root, "verdict", dd_json_string(dd_verdict_name(report->verdict)), &failed);
    dd_json_put(root, "word", dd_json_string(report->word), &failed);
    dd_json_put(root, "sentence", dd_json_string(report->sentence), &failed);
    dd_json_put(root, "headline", dd_json_string(report->headline), &failed);
    dd_json_put(root, "checks", json_checks(report, &failed), &failed);
    dd_json_put(root, "tables", tables, &failed);
    dd_json_put(root, "notes", notes, &failed);
    dd_json_put(root, "assumed", assumed, &failed);
    dd_json_put(root, "sources", sources, &failed);
    dd_json_put(root, "cautions", cautions, &failed);
    char *text = failed ? NULL : dd_json_text(root, 1, 1);
    json_decref(root);
    if (text) memcpy(text + strlen(text), "\n", 2);
    return text;
}
