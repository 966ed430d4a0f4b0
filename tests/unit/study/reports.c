/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/unit/study/reports.h"

static const char *const search[] = {SOURCE_DIR "/scenarios", NULL}; /* where shipped parts are */

dd_case_file *scenario_with(const char *path, const char *const *overrides)
{
    char full[512];
    dd_case_file *file = NULL;
    dd_error_list list;
    snprintf(full, sizeof full, SOURCE_DIR "/%s", path);
    if (dd_case_read(full, overrides, search, &file, &list) != DD_OK) fail_msg("%s: %s", list.errors[0].place, list.errors[0].message);
    return file;
}

void refusal_of(const char *path, const char *override, char *text, size_t size)
{
    char full[512];
    const char *overrides[] = {override, NULL};
    dd_case_file *file = NULL;
    dd_error_list list;
    snprintf(full, sizeof full, SOURCE_DIR "/%s", path);
    if (dd_case_read(full, overrides, search, &file, &list) == DD_OK) fail_msg("read in spite of %s", override);
    text[0] = '\0';
    for (int i = 0; i < list.count; i++) snprintf(text + strlen(text), size - strlen(text), "%s\n", list.errors[i].message);
    dd_error_list_free(&list);
}

dd_report *weighed(const dd_case *scenario)
{
    dd_report *report = NULL;
    dd_error error = {.status = DD_OK};
    if (dd_study_weigh(scenario, &report, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
    return report;
}

const dd_report_table *table_named(const dd_report *report, const char *key)
{
    for (int i = 0; i < report->table_count; i++)
        if (strcmp(report->tables[i].key, key) == 0) return &report->tables[i];
    fail_msg("no table %s", key);
    return NULL;
}

const dd_report_cell *cell_at(const dd_report *report, const char *key, const char *row, const char *column)
{
    const dd_report_table *table = table_named(report, key);
    int at = 0;
    while (at < table->column_count && strcmp(table->columns[at].name, column) != 0) at++;
    if (at == table->column_count) fail_msg("table %s has no column %s", key, column);
    for (int i = 0; i < table->row_count; i++) {
        const dd_report_cell *cells = &table->cells[i * table->column_count];
        if (cells[0].text != NULL && strcmp(cells[0].text, row) == 0) return &cells[at];
    }
    fail_msg("table %s has no row %s", key, row);
    return NULL;
}

double number_at(const dd_report *report, const char *table, const char *row, const char *column)
{
    return cell_at(report, table, row, column)->value;
}

const dd_check *check_named(const dd_report *report, const char *name)
{
    for (int i = 0; i < report->check_count; i++)
        if (strcmp(report->checks[i].name, name) == 0) return &report->checks[i];
    return NULL;
}

dd_report *weighed_with(const char *path, const char *const *overrides)
{
    const char *with[10] = {"trailer=trailers/rocker-six.yaml", "vehicle=vehicles/utility-4wd.yaml", "loadings=[]"};
    for (int i = 0; overrides != NULL && overrides[i] != NULL; i++) with[3 + i] = overrides[i];
    dd_case_file *file = scenario_with(path, strcmp(path, BARE) == 0 ? with : overrides);
    dd_report *report = weighed(dd_case_of(file));
    dd_case_free(file);
    return report;
}

const dd_check *check_needed(const dd_report *r, const char *name)
{
    const dd_check *check = check_named(r, name);
    if (check == NULL) fail_msg("no check %s", name);
    return check;
}

dd_report *reported_with(dd_status (*study)(const dd_case *, dd_report **, dd_error *), const char *path, const char *const *overrides)
{
    dd_report *report = NULL;
    dd_error error = {.status = DD_OK};
    dd_case_file *file = scenario_with(path, overrides);
    if (study(dd_case_of(file), &report, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
    dd_case_free(file);
    return report;
}

dd_report *seated_with(const char *path, const char *const *overrides) { return reported_with(dd_study_seat, path, overrides); }
