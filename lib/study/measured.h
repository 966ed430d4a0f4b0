/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What scale and tape say of the boat: weighted least squares of the readings and of what was estimated before. */
#ifndef DD_STUDY_MEASURED_H
#define DD_STUDY_MEASURED_H
#include "lib/study/yard.h"

enum { DD_SOLVED_GUESSES = 8, DD_SOLVED = 5 + DD_SOLVED_GUESSES };
#define DD_NORMAL_95 1.959963984540054

/* A figure with its standard deviation before and after, SI. */
typedef struct dd_solved_figure {
    char name[64];
    int is_length; /* 1: m, 0: kg */
    double before, before_deviation, after, after_deviation;
} dd_solved_figure;

typedef struct dd_solved_reading {
    char name[96];
    int is_length;                           /* 1: m, 0: kg */
    double reading, deviation, before, after; /* standard deviation by step and kind; calculated with the figures before and after */
    double disagreement; /* reading less after, in standard deviations of that difference; NaN: this reading alone decides a figure */
} dd_solved_reading;

typedef struct dd_measured_solution {
    int figure_count, reading_count;
    dd_solved_figure figures[DD_SOLVED];
    dd_solved_reading readings[DD_MEASURED];
} dd_measured_solution;

/* Solves scenario->measured. *adjusted (may be NULL) is the scenario with the boat's mass and centre, the trailer's mass and the guessed
   masses aboard as they came out: for every study. Errors: those of dd_yard_place(), dd_road_statics(), dd_hull_float() at a reading,
   the place is that of the reading; DD_ERROR_NO_EQUILIBRIUM: the search did not end. */
dd_status dd_measured_solve(const dd_case *scenario, dd_case *adjusted, dd_measured_solution *solution, dd_error *error);
#endif
