/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tides: the level of the water on a stated datum at a time. Levels in m above the tide's own datum, rates in m/s, times in seconds
   UTC since 1 January 1970. A tide is made for a span of time and is not changed afterwards, so threads may share it. */
#ifndef DD_SHORE_TIDE_H
#define DD_SHORE_TIDE_H
#include <drawdock/status.h>
#include <stdbool.h>
#include <stddef.h>

typedef struct dd_tide dd_tide;

/* A harmonic constant as agencies publish it: amplitude in m, phase lag on Greenwich in radians (times UTC). */
typedef struct dd_tide_constant {
    const char *name;
    double amplitude, phase;
} dd_tide_constant;
/* Node factors held at their value of 2 July 12:00 for a whole calendar year, as the NOAA does, or those of each moment. The first
   kind has a small step at each new year. The rate of the second leaves out how f and u change:
   an estimated 2e-5 of the rate of K2, 1e-3 of that of MF. */
typedef enum dd_tide_nodes { DD_TIDE_MID_YEAR, DD_TIDE_CONTINUOUS } dd_tide_nodes;
/* Between high and low waters: half a cosine, or the rule of twelfths with straight lines (for teaching). A cosine errs by up to 0.24 m
   on a range of 7 m at an open coast and by over 1 m where shallow water bends the curve; twelfths by 0.026 of the range more. */
typedef enum dd_tide_shape { DD_TIDE_COSINE, DD_TIDE_TWELFTHS } dd_tide_shape;

typedef struct dd_tide_point {
    double time, level;
} dd_tide_point;
typedef struct dd_tide_extreme {
    double time, level;
    bool high;
} dd_tide_extreme;
typedef struct dd_tide_crossing {
    double time;
    bool rising;
} dd_tide_crossing;
typedef struct dd_tide_state {
    double level, rate;
} dd_tide_state;
/* A subordinate station: its times are the reference's plus these, its heights h ratio + difference (ratio 1, difference 0: as
   the reference). Between high and low water it keeps the reference's curve, stretched in time and height. */
typedef struct dd_tide_offsets {
    double high_time, low_time;             /* s */
    double high_ratio, low_ratio;
    double high_difference, low_difference; /* m */
} dd_tide_offsets;

/* Harmonic. mean_level: of the sea above the datum. DD_ERROR_ARGUMENT: a constituent unknown, given twice or without a number; M2, S2,
   K1 or O1 not given; a date before 1700 or after 2300 (place: the function; the message names the constituent). */
dd_status dd_tide_harmonic(const dd_tide_constant *constants, size_t count, double mean_level, dd_tide_nodes nodes, double from,
                           double to, dd_tide **tide, dd_error *error);
/* Published high and low waters, at least two, times growing, high and low by turns. */
dd_status dd_tide_high_low(const dd_tide_extreme *extremes, size_t count, dd_tide_shape shape, dd_tide **tide, dd_error *error);
/* Samples, at least three, times growing; between them Steffen's interpolation, which never overshoots. One sample: a constant
   level at all times. */
dd_status dd_tide_samples(const dd_tide_point *points, size_t count, dd_tide **tide, dd_error *error);
/* The reference must reach beyond the span by a high and a low water at each end, and outlive the station. */
dd_status dd_tide_subordinate(const dd_tide *reference, const dd_tide_offsets *offsets, double from, double to, dd_tide **tide,
                              dd_error *error);
void dd_tide_free(dd_tide *tide);
/* The span that the tide is known for, s UTC; without end where the level is constant. */
void dd_tide_span(const dd_tide *tide, double *from, double *to);

/* Level and rate at a time. DD_ERROR_ARGUMENT outside the span. */
dd_status dd_tide_at(const dd_tide *tide, double time, dd_tide_state *state, dd_error *error);
/* High and low waters between two times, to 0.1 s; free(*extremes). A stand shorter than 12 minutes between two turns can be missed. */
dd_status dd_tide_extremes(const dd_tide *tide, double from, double to, dd_tide_extreme **extremes, size_t *count, dd_error *error);
/* When the level passes a height, to 0.1 s; free(*crossings). */
dd_status dd_tide_crossings(const dd_tide *tide, double level, double from, double to, dd_tide_crossing **crossings, size_t *count,
                            dd_error *error);
/* The same where the span's extremes are known already: a fiftieth of the time. */
dd_status dd_tide_passes(const dd_tide *tide, const dd_tide_extreme *turns, size_t turn_count, double level, double from, double to,
                         dd_tide_crossing **crossings, size_t *count, dd_error *error);
/* Lowest and highest level of an astronomical cycle (of the moon's node, 18.6 years) from a time: of constants that are the place's own,
   the lowest and highest astronomical tide. DD_ERROR_ARGUMENT: the tide is not known for all of it. */
#define DD_NODAL_CYCLE (18.6 * 365.2425 * 86400)
dd_status dd_tide_astronomical_range(const dd_tide *tide, double from, dd_tide_extreme *lowest, dd_tide_extreme *highest,
                                     dd_error *error);

/* Heights of the levels that heights are told on, m above any one level of the place: "LAT", "MLLW", "land datum"... */
typedef struct dd_datum {
    const char *name;
    double height;
} dd_datum;
/* A level above datum `from`, told above datum `to`. DD_ERROR_ARGUMENT: the place's table lacks one of them, or holds it twice:
   an offset between datums is never assumed. */
dd_status dd_datum_convert(const dd_datum *datums, size_t count, double level, const char *from, const char *to, double *result,
                           dd_error *error);
#endif
