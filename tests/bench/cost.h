/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a piece of work costs: user CPU, the least of several, and how often the forces are evaluated, counted where the library does it
   (link with --wrap=dd_system_evaluate). */
#ifndef DD_BENCH_COST_H
#define DD_BENCH_COST_H
#include "lib/motion/system.h"
#include <drawdock/case.h>

typedef struct cost {
    double seconds;
    int evaluations, with_K;
} cost;

double cost_user_seconds(void);
void cost_begin(cost *began);
/* least: of the repeats so far; zeros: none yet. */
void cost_end(const cost *began, cost *least);
/* Ends the program where something failed. */
void cost_must(dd_status status, const char *what, const dd_error *error);
/* The scenario root/name.yaml, its parts in root/scenarios; or ends the program. */
dd_case_file *cost_read(const char *root, const char *name);
#endif
