/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Several reports side by side: what differs. */
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/record/reporter.h"
#include <drawdock/result.h>
#include <math.h>
#include <stdbool.h>
#include <string.h>

enum { MOST = 8 };

/* The same row label in another report's table: its value in a column of that name; NaN: not there, or a table on another datum. */
static double same_figure(const dd_report *report, const dd_report_table *like, const char *label, const char *column)
{
    for (int t = 0; t < report->table_count; t++) {
        const dd_report_table *table = &report->tables[t];
        if (strcmp(table->key, like->key) != 0 || strcmp(table->datum, like->datum) != 0) continue;
        for (int c = 1; c < table->column_count; c++) {
            if (strcmp(table->columns[c].name, column) != 0) continue;
            for (int r = 0; r < table->row_count; r++) {
                const dd_report_cell *first = &table->cells[r * table->column_count];
                if (first->text && strcmp(first->text, label) == 0) return table->cells[r * table->column_count + c].value;
            }
        }
    }
    return NAN;
}

static double same_check(const dd_report *report, const dd_check *check)
{
    for (int i = 0; i < report->check_count; i++)
        if (strcmp(report->checks[i].group, check->group) == 0 && strcmp(report->checks[i].name, check->name) == 0)
            return report->checks[i].value;
    return NAN;
}

/* One row of what all reports have, where they do not agree to nine digits. */
static void add_row(dd_reporter *out, const char *figure, const char *unit, const double *values, int count)
{
    bool differs = false, known = true;
    for (int i = 0; i < count; i++) {
        known &= isfinite(values[i]);
        differs |= isnan(values[i]) != isnan(values[0]) ||
                   fabs(values[i] - values[0]) > 1e-9 * fmax(fabs(values[i]), fabs(values[0]));
    }
    if (!differs || !known) return;
    dd_reporter_words(out, "%s", figure);
    dd_reporter_words(out, "%s", unit);
    for (int i = 0; i < count; i++) dd_reporter_value(out, values[i]);
    dd_reporter_value(out, values[count - 1] - values[0]);
}

static void compare_tables(dd_reporter *out, const dd_report *const *reports, int count)
{
    double values[MOST];
    char figure[200];
    for (int t = 0; t < reports[0]->table_count; t++) {
        const dd_report_table *table = &reports[0]->tables[t];
        if (table->brief == DD_REPORT_LONG || table->brief == DD_REPORT_DRAWN) continue;
        if (*table->datum) dd_reporter_datum(out, table->datum);
        for (int r = 0; r < table->row_count; r++)
            for (int c = 1; c < table->column_count; c++) {
                const dd_report_cell *label = &table->cells[r * table->column_count];
                if (!label->text || table->cells[r * table->column_count + c].text) continue;
                for (int i = 0; i < count; i++) values[i] = same_figure(reports[i], table, label->text, table->columns[c].name);
                dd_text(figure, sizeof figure, "%s, %s", label->text, table->columns[c].name);
                add_row(out, figure, table->columns[c].unit, values, count);
            }
    }
}

static void compare_checks(dd_reporter *out, const dd_report *const *reports, int count)
{
    double values[MOST];
    for (int k = 0; k < reports[0]->check_count; k++) {
        const dd_check *check = &reports[0]->checks[k];
        for (int i = 0; i < count; i++) values[i] = same_check(reports[i], check);
        add_row(out, check->name, check->unit, values, count);
    }
}

dd_status dd_report_compare(const dd_report *const *reports, const char *const *names, int count, dd_report **report, dd_error *error)
{
    *report = NULL;
    if (count < 2 || count > MOST)
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_report_compare: count", "found %d reports, expected 2 to %d", count, MOST);
    for (int i = 1; i < count; i++)
        if (reports[i]->units != reports[0]->units)
            return dd_fail(error, DD_ERROR_ARGUMENT, "dd_report_compare", "found reports in metric and in US units, expected one kind");
    dd_reporter *out = dd_reporter_create("Side by side", reports[0]->study, reports[0]->units);
    if (out == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_report_compare", "no memory for the report");
    dd_reporter_table(out, "differences", "What differs", DD_REPORT_WHOLE);
    dd_reporter_column(out, "figure", "", 0, "what it is");
    dd_reporter_column(out, "unit", "", 0, "of its numbers");
    for (int i = 0; i < count; i++) dd_reporter_column(out, names[i], "", 1, "that rig's");
    dd_reporter_column(out, "change", "", 1, "the last rig's less the first one's");
    compare_tables(out, reports, count);
    compare_checks(out, reports, count);
    for (int i = 0; i < count; i++)
        if (*reports[i]->headline) dd_reporter_note(out, "%s: %s", names[i], reports[i]->headline);
    dd_status status = dd_reporter_finish(out, report, error);
    if (status != DD_OK) return status;
    int broken = 0;
    for (int i = 0; i < count; i++) {
        broken += reports[i]->verdict == DD_VERDICT_BROKEN;
        size_t used = strlen((*report)->sentence);
        dd_text((*report)->sentence + used, sizeof (*report)->sentence - used, "%s%s: %s.", i ? " " : "", names[i], reports[i]->word);
    }
    (*report)->verdict = broken > 0 ? DD_VERDICT_BROKEN : DD_VERDICT_WITHIN;
    if (broken > 0)
        dd_text((*report)->word, sizeof (*report)->word, "%d of %d over a limit", broken, count);
    else
        dd_text((*report)->word, sizeof (*report)->word, "all within the limits given");
    return DD_OK;
}
