/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures drawn by gnuplot from the tables of a result folder. */
#ifndef DRAWDOCK_PLOT_H
#define DRAWDOCK_PLOT_H
#include <drawdock/status.h>
#include <stddef.h>

typedef enum plot_outcome { PLOT_DRAWN, PLOT_MISSING /* gnuplot or the script is not there */, PLOT_FAILED } plot_outcome;

/* Draws plots/NAME.gnuplot of the shipped data into NAME.svg in `folder`. The error tells what is missing or went wrong. */
plot_outcome plot_draw(const char *folder, const char *name, const char *title, dd_error *error);
#endif
