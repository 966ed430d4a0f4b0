/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Values over the depth of each strip's keel, as clamped cubic splines in power form: the evaluation is a few
   multiplications, and value and slope belong to one twice differentiable function. */
#include "lib/base/error.h"
#include "lib/force/section.h"
#include <stdlib.h>
#include <string.h>

enum { INTERVALS = 24 };

void dd_strip_table_free(dd_strip_table *table)
{
    free(table->x);
    free(table->keel_height);
    free(table->step);
    free(table->spline);
    *table = (dd_strip_table){0};
}

/* Slopes at the knots of the spline through them, zero at both ends. */
static void knot_slopes(const double value[INTERVALS + 1], double step, double slope[INTERVALS + 1])
{
    double upper[INTERVALS + 1];
    slope[0] = upper[0] = 0;
    for (int i = 1; i < INTERVALS; i++) {
        const double pivot = 4 - upper[i - 1];
        upper[i] = 1 / pivot;
        slope[i] = (3 * (value[i + 1] - value[i - 1]) / step - slope[i - 1]) / pivot;
    }
    slope[INTERVALS] = 0;
    for (int i = INTERVALS - 1; i > 0; i--)
        slope[i] -= upper[i] * slope[i + 1];
}

static void fit_strip(dd_strip_table *table, int strip, const double *values)
{
    const int columns = table->columns;
    const double step = table->step[strip];
    double *spline = table->spline + (size_t)strip * INTERVALS * (size_t)columns * 4;
    for (int c = 0; c < columns; c++) {
        double value[INTERVALS + 1], slope[INTERVALS + 1];
        for (int i = 0; i <= INTERVALS; i++)
            value[i] = values[i * columns + c];
        knot_slopes(value, step, slope);
        for (int i = 0; i < INTERVALS; i++) {
            double *p = spline + (size_t)(i * columns + c) * 4;
            const double chord = (value[i + 1] - value[i]) / step;
            p[0] = value[i];
            p[1] = slope[i];
            p[2] = (3 * chord - 2 * slope[i] - slope[i + 1]) / step;
            p[3] = (slope[i] + slope[i + 1] - 2 * chord) / (step * step);
        }
    }
}

dd_status dd_strip_table_create(const dd_strips *strips, int columns, dd_strip_values fill, const void *context,
                                dd_strip_table *table, dd_error *error)
{
    const int count = dd_strips_count(strips);
    const size_t size = (size_t)count * sizeof(double);
    double *values = malloc((size_t)((INTERVALS + 1) * columns) * sizeof(double));
    *table = (dd_strip_table){.strips = count, .columns = columns, .x = malloc(size), .keel_height = malloc(size), .step = malloc(size),
                              .spline = malloc(size * INTERVALS * (size_t)columns * 4)};
    if (values == NULL || table->x == NULL || table->keel_height == NULL || table->step == NULL || table->spline == NULL) {
        free(values);
        dd_strip_table_free(table);
        return dd_fail(error, DD_ERROR_MEMORY, "dd_strip_table_create", "no memory for %d strips", count);
    }
    for (int s = 0; s < count; s++) {
        const dd_strip strip = dd_strips_at(strips, s);
        table->x[s] = strip.x;
        table->keel_height[s] = strip.keel_height;
        table->step[s] = 1.35 * fmax(strip.sheer_height - strip.keel_height, 0.02) / INTERVALS;
        memset(values, 0, (size_t)columns * sizeof(double));
        for (int i = 1; i <= INTERVALS; i++)
            fill(context, &strip, i * table->step[s], values + i * columns);
        fit_strip(table, s, values);
    }
    free(values);
    return DD_OK;
}

int dd_strip_table_at(const dd_strip_table *table, int strip, double depth, double *values, double *slopes)
{
    if (!(depth > 0))
        return 0;
    const double step = table->step[strip], most = step * INTERVALS;
    if (depth > most)
        depth = most;
    int interval = (int)(depth / step);
    if (interval > INTERVALS - 1)
        interval = INTERVALS - 1;
    const double t = depth - interval * step;
    const double *p = table->spline + ((size_t)strip * INTERVALS + (size_t)interval) * (size_t)table->columns * 4;
    for (int c = 0; c < table->columns; c++, p += 4) {
        values[c] = p[0] + t * (p[1] + t * (p[2] + t * p[3]));
        slopes[c] = p[1] + t * (2 * p[2] + t * 3 * p[3]);
    }
    return 1;
}
