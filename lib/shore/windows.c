/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/shore/windows.h"
#include "lib/base/error.h"
#include <math.h>
#include <stdlib.h>

/* Appends a window, or lengthens the last where it begins at its end. */
static dd_status add(dd_window **windows, size_t *count, dd_window next, dd_error *error)
{
    if (!(next.to > next.from)) return DD_OK;
    if (*count > 0 && (*windows)[*count - 1].to >= next.from) {
        (*windows)[*count - 1].to = fmax((*windows)[*count - 1].to, next.to);
        return DD_OK;
    }
    if ((*count & (*count - 1)) == 0) {
        dd_window *grown = realloc(*windows, (*count ? 2 * *count : 1) * sizeof **windows);
        if (grown == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_windows", "no memory for the windows");
        *windows = grown;
    }
    (*windows)[(*count)++] = next;
    return DD_OK;
}

static dd_status finish(dd_status status, dd_window **windows, size_t *count)
{
    if (status == DD_OK) return DD_OK;
    free(*windows);
    *windows = NULL;
    *count = 0;
    return status;
}

static int by_time(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Every moment at which the tide passes an edge of a band, with both ends of the span. */
static dd_status edges(const dd_tide *tide, const dd_tide_extreme *turns, size_t turn_count, const dd_level_band *bands, int band_count, double from,
                       double to, double **moments, size_t *count, dd_error *error)
{
    dd_status status = DD_OK;
    double *all = malloc(2 * sizeof *all);
    if (all == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_windows", "no memory for the moments");
    all[0] = from, all[1] = to, *count = 2;
    for (int e = 0; e < 2 * band_count && status == DD_OK; e++) {
        const double level = e % 2 == 0 ? bands[e / 2].low : bands[e / 2].high;
        dd_tide_crossing *crossings;
        size_t n;
        if (!isfinite(level)) continue;
        status = dd_tide_passes(tide, turns, turn_count, level, from, to, &crossings, &n, error);
        double *grown = status == DD_OK ? realloc(all, (*count + n) * sizeof *all) : NULL;
        if (status == DD_OK && grown == NULL) status = dd_fail(error, DD_ERROR_MEMORY, "dd_windows", "no memory for the moments");
        if (grown != NULL) all = grown;
        for (size_t i = 0; i < n && status == DD_OK; i++) all[(*count)++] = crossings[i].time;
        free(crossings);
    }
    if (status != DD_OK) {
        free(all);
        return status;
    }
    qsort(all, *count, sizeof *all, by_time);
    *moments = all;
    return DD_OK;
}

dd_status dd_windows_of_tide(const dd_tide *tide, const dd_tide_extreme *turns, size_t turn_count, const dd_level_band *bands, int band_count,
                             double from, double to, dd_window **windows, size_t *count, dd_error *error)
{
    double *moments = NULL;
    size_t moment_count = 0;
    *windows = NULL;
    *count = 0;
    dd_status status = edges(tide, turns, turn_count, bands, band_count, from, to, &moments, &moment_count, error);
    for (size_t i = 0; i + 1 < moment_count && status == DD_OK; i++) {
        dd_tide_state middle;
        bool within = false;
        status = dd_tide_at(tide, 0.5 * (moments[i] + moments[i + 1]), &middle, error);
        for (int b = 0; b < band_count && status == DD_OK; b++) within |= middle.level >= bands[b].low && middle.level <= bands[b].high;
        if (status == DD_OK && within) status = add(windows, count, (dd_window){moments[i], moments[i + 1]}, error);
    }
    free(moments);
    return finish(status, windows, count);
}

dd_status dd_windows_both(const dd_window *a, size_t a_count, const dd_window *b, size_t b_count, dd_window **windows, size_t *count, dd_error *error)
{
    dd_status status = DD_OK;
    *windows = NULL;
    *count = 0;
    for (size_t i = 0, j = 0; i < a_count && j < b_count && status == DD_OK;) {
        status = add(windows, count, (dd_window){fmax(a[i].from, b[j].from), fmin(a[i].to, b[j].to)}, error);
        if (a[i].to < b[j].to)
            i++;
        else
            j++;
    }
    return finish(status, windows, count);
}

/* First window that ends at a time or after it. */
static size_t first_after(const dd_window *windows, size_t count, double time)
{
    size_t low = 0, high = count;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        if (windows[middle].to < time)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

double dd_windows_length(const dd_window *windows, size_t count, double from, double to)
{
    double sum = 0;
    for (size_t i = first_after(windows, count, from); i < count && windows[i].from < to; i++)
        sum += fmax(0, fmin(to, windows[i].to) - fmax(from, windows[i].from));
    return sum;
}

const dd_window *dd_windows_at(const dd_window *windows, size_t count, double time)
{
    const size_t i = first_after(windows, count, time);
    return i < count && windows[i].from <= time ? &windows[i] : NULL;
}
