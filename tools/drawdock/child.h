/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Another program, run to its end: gnuplot, a browser. */
#ifndef DRAWDOCK_CHILD_H
#define DRAWDOCK_CHILD_H
#include <stddef.h>

typedef enum child_outcome { CHILD_GOOD, CHILD_MISSING /* not in PATH */, CHILD_FAILED } child_outcome;

/* Runs arguments[0] in `folder` with nothing to read and its output thrown away. line: the last line with a text that it told on stderr.
   An interrupt of ours ends it too. */
child_outcome child_run(const char *folder, char **arguments, char *line, size_t size);
#endif
