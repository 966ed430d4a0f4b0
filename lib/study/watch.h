/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Events: what crosses a threshold between two looks, and when. */
#ifndef DD_STUDY_WATCH_H
#define DD_STUDY_WATCH_H
#include "lib/study/observe.h"
#include "lib/study/run.h"

typedef struct dd_watcher dd_watcher;

dd_status dd_watcher_create(dd_run *run, dd_recorder *recorder, dd_watcher **watcher, dd_error *error);
void dd_watcher_free(dd_watcher *watcher);
/* First look, at the start. */
void dd_watcher_begin(dd_watcher *watcher, const dd_seen *seen);
/* Next look; crossings since the last one are placed to 0.1 ms on the run's interpolant. */
dd_status dd_watcher_look(dd_watcher *watcher, const dd_seen *seen, dd_error *error);
/* An event that somebody makes happen ("strap off"). */
dd_status dd_watcher_say(dd_watcher *watcher, const dd_seen *seen, const char *name, const char *detail);
/* Time of the first event of that name; NaN: it did not happen. */
double dd_watcher_first(const dd_watcher *watcher, const char *name);
#endif
