/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cost of `settle`: the frictionless curve alone (the boat wound home and driven to the first row, and the rows down the ramp that the study has),
   one row of it, one evaluation of the forces at rest, and the whole study. User CPU, the least of several; evaluations of the forces are counted where
   the library makes them (--wrap). */
#include "lib/study/settle.h"
#include "tests/bench/cost.h"
#include <drawdock/study.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { REPEATS = 20, CALLS = 2000, MOST_ROWS = 400 };

static int rows_of(const dd_result *r, double x[MOST_ROWS])
{
    int column = 0, count = r->row_count < MOST_ROWS ? r->row_count : MOST_ROWS;
    while (column < r->column_count && strcmp(r->columns[column].name, "rig_x_m") != 0) column++;
    if (column == r->column_count) exit(EXIT_FAILURE);
    for (int i = 0; i < count; i++) x[i] = r->rows[(size_t)i * (size_t)r->column_count + (size_t)column];
    return count;
}

/* The curve on a model that stands: its beginning and its rows. */
static void time_curve(dd_study_model *m, const double *x, int count, cost *home, cost *rows)
{
    for (int i = 0; i < REPEATS; i++) {
        dd_settle s;
        dd_error error;
        cost began;
        cost_begin(&began);
        cost_must(dd_settle_begin(m, DD_FRICTION_NONE, x[0], x[0] - DD_STUDY_APPROACH, &s, &error), "home", &error);
        cost_end(&began, home);
        cost_begin(&began);
        for (int k = 0; k < count; k++) cost_must(dd_settle_to(&s, x[k], &error), "a row", &error);
        cost_end(&began, rows);
        dd_settle_end(&s);
    }
}

/* At the first row, the rig and the hull moved to and fro by 1 um so that nothing stands where it stood. */
static double time_evaluation(dd_study_model *m, double x, int want)
{
    dd_settle s;
    dd_error error;
    double least = INFINITY;
    const dd_motion rest = {{0}, {0}};
    cost_must(dd_settle_begin(m, DD_FRICTION_NONE, x, x - DD_STUDY_APPROACH, &s, &error), "home", &error);
    double *y = calloc((size_t)m->system->size, sizeof *y);
    if (y == NULL) exit(EXIT_FAILURE);
    for (int i = 0; i < REPEATS / 2; i++) {
        const double before = cost_user_seconds();
        for (int k = 0; k < CALLS; k++) {
            dd_pose pose = s.at.pose;
            pose.position.z += (k % 2) * 1e-6;
            pose.rig[DD_RIG_PITCH] += (k % 2) * 1e-6;
            dd_system_pack(m->system, &pose, &rest, s.memory, y);
            if (dd_system_evaluate(m->workspace, 0, y, want) != 0) exit(EXIT_FAILURE);
        }
        least = fmin(least, (cost_user_seconds() - before) / CALLS);
    }
    free(y);
    dd_settle_end(&s);
    return least;
}

static void time_scenario(const char *root, const char *name)
{
    dd_error error;
    dd_result *result = NULL;
    dd_study_model *m;
    double x[MOST_ROWS];
    cost home = {0}, rows = {0}, whole = {0};
    dd_case_file *file = cost_read(root, name);
    for (int i = 0; i < REPEATS / 2; i++) {
        cost began;
        dd_result_free(result);
        cost_begin(&began);
        cost_must(dd_study_settle(dd_case_of(file), NULL, NULL, &result, &error), name, &error);
        cost_end(&began, &whole);
    }
    const int count = rows_of(result, x);
    dd_case *still = malloc(sizeof *still);
    if (still == NULL) exit(EXIT_FAILURE);
    *still = *dd_case_of(file);
    dd_study_make_still(still, NULL, false);
    cost_must(dd_study_model_create(still, &m, &error), name, &error);
    time_curve(m, x, count, &home, &rows);
    printf("%s: %d rows, the curve %.2f ms (home %.2f ms, %d evaluations, %d with K; rows %.2f ms, %d, %d with K), a row %.0f us, %.1f evaluations\n", name, count,
           1e3 * (home.seconds + rows.seconds), 1e3 * home.seconds, home.evaluations, home.with_K, 1e3 * rows.seconds, rows.evaluations, rows.with_K, 1e6 * rows.seconds / count,
           (double)rows.evaluations / count);
    const double plain = time_evaluation(m, x[0], DD_WANT_CHANNELS), full = time_evaluation(m, x[0], DD_WANT_CHANNELS | DD_WANT_STIFFNESS);
    printf("    an evaluation %.1f us, with K %.1f us; the whole study %.1f ms, %d evaluations, %d with K\n", 1e6 * plain, 1e6 * full, 1e3 * whole.seconds,
           whole.evaluations, whole.with_K);
    dd_study_model_free(m);
    free(still);
    dd_result_free(result);
    dd_case_free(file);
}

int main(int argc, char **argv)
{
    static const char *const names[] = {"scenarios/launch", "scenarios/retrieve", "scenarios/rigs/five-rocker-launch", "tests/property/rocker-stream-retrieve"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) time_scenario(argc > 1 ? argv[1] : SOURCE_DIR, names[i]);
    return EXIT_SUCCESS;
}
