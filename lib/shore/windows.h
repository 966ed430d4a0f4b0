/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Windows: spans of time in which something is so, in order and apart from each other. Times in seconds UTC since 1 January 1970. */
#ifndef DD_SHORE_WINDOWS_H
#define DD_SHORE_WINDOWS_H
#include "lib/shore/tide.h"

typedef struct dd_window {
    double from, to;
} dd_window;

/* Levels that will do, m on the tide's datum: low to high, either may be infinite. */
typedef struct dd_level_band {
    double low, high;
} dd_level_band;

/* When the tide stands within one of some bands (in order, apart from each other), to 0.1 s. turns: dd_tide_extremes() of the same
   span, so that several questions share them. free(*windows). */
dd_status dd_windows_of_tide(const dd_tide *tide, const dd_tide_extreme *turns, size_t turn_count, const dd_level_band *bands, int band_count,
                             double from, double to, dd_window **windows, size_t *count, dd_error *error);
/* When both are so. free(*windows). */
dd_status dd_windows_both(const dd_window *a, size_t a_count, const dd_window *b, size_t b_count, dd_window **windows, size_t *count,
                          dd_error *error);
/* How long it is so between two times, s. */
double dd_windows_length(const dd_window *windows, size_t count, double from, double to);
/* The window that a time falls into (its end counts), or NULL. */
const dd_window *dd_windows_at(const dd_window *windows, size_t count, double time);
#endif
