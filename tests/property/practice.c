/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/property/practice.h"

static dd_result *studied(dd_study study, const char *name, const char *const *changed)
{
    dd_case *scenario = scenario_read(name, changed);
    dd_result *r = NULL;
    dd_error error = {.status = DD_OK};
    dd_status status = study(scenario, NULL, NULL, &r, &error);
    free(scenario);
    /* that the boat falls somewhere on the way is a result */
    if (r == NULL) fail_msg("%s: %d %s: %s", name, (int)status, error.place, error.message);
    if (r->verdict == DD_VERDICT_INCOMPLETE) fail_msg("%s: %s: %s", name, r->failure.place, r->failure.message);
    return r;
}

dd_result *settled(const char *name, const char *const *changed)
{
    return studied(dd_study_settle, name, changed);
}

dd_result *ran(const char *name, const char *const *changed)
{
    return studied(dd_study_run, name, changed);
}

static int column_of(const dd_result *r, const char *column)
{
    for (int c = 0; c < r->column_count; c++)
        if (strcmp(r->columns[c].name, column) == 0) return c;
    return -1;
}

double cell_or_zero(const dd_result *r, int row, const char *column)
{
    const int c = column_of(r, column);
    assert_in_range(row, 0, r->row_count - 1);
    return c < 0 ? 0 : r->rows[row * r->column_count + c];
}

double cell(const dd_result *r, int row, const char *column)
{
    if (column_of(r, column) < 0) fail_msg("no column '%s'", column);
    return cell_or_zero(r, row, column);
}

static double extreme(const dd_result *r, int step, const char *column, double sign)
{
    double worst = -INFINITY;
    for (int i = 0; i < r->row_count; i++) {
        const double value = sign * cell(r, i, column);
        if ((step == 0 || (int)cell(r, i, "step") == step) && value > worst) worst = value;
    }
    return sign * worst;
}

double most(const dd_result *r, int step, const char *column)
{
    return extreme(r, step, column, 1);
}

double least(const dd_result *r, int step, const char *column)
{
    return extreme(r, step, column, -1);
}

int row_at(const dd_result *r, const char *column, double value)
{
    int nearest = 0;
    for (int i = 1; i < r->row_count; i++)
        if (fabs(cell(r, i, column) - value) < fabs(cell(r, nearest, column) - value)) nearest = i;
    return nearest;
}

static int begins(const char *text, const char *beginning)
{
    return strncmp(text, beginning, strlen(beginning)) == 0;
}

const dd_event *event_of(const dd_result *r, const char *name)
{
    for (int i = 0; i < r->event_count; i++)
        if (begins(r->events[i].name, name)) return &r->events[i];
    return NULL;
}

int comes_before(const dd_result *r, const char *name, const char *other)
{
    const dd_event *first = event_of(r, name), *second = event_of(r, other);
    if (first == NULL || second == NULL) fail_msg("'%s' did not happen", first == NULL ? name : other);
    return first < second; /* events stand in the order of time */
}

double figure_of(const dd_result *r, const char *group, const char *name, int which)
{
    for (int i = 0; i < r->figure_count; i++)
        if (begins(r->figures[i].group, group) && begins(r->figures[i].name, name) && which-- == 0) return r->figures[i].value;
    return NAN;
}

void word_is(const dd_result *r, const char *word)
{
    if (strcmp(r->word, word) != 0) fail_msg("'%s' (%s), expected '%s'", r->word, r->sentence, word);
}
