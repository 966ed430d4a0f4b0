/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Events: what crosses a threshold between two looks, and when. */
#ifndef DD_STUDY_WATCH_H
#define DD_STUDY_WATCH_H
#include "lib/study/causes.h"
#include "lib/study/observe.h"
#include "lib/study/run.h"

typedef struct dd_watcher dd_watcher;

dd_status dd_watcher_create(dd_run *run, dd_recorder *recorder, dd_watcher **watcher, dd_error *error);
void dd_watcher_free(dd_watcher *watcher);
/* The drawing gets a frame at each event; it must outlive the watcher. */
void dd_watcher_draw(dd_watcher *watcher, dd_drawing *drawing);
/* First look, at the start. */
void dd_watcher_begin(dd_watcher *watcher, const dd_seen *seen);
/* Next look; crossings since the last one are placed to 0.1 ms on the run's interpolant. */
dd_status dd_watcher_look(dd_watcher *watcher, const dd_seen *seen, dd_error *error);
/* An event that somebody makes happen ("strap off"). */
dd_status dd_watcher_say(dd_watcher *watcher, const dd_seen *seen, const char *name, const char *detail);
/* What was seen, and what was so (facts.def), when an event of that name happened first; NULL: it did not. */
typedef struct dd_moment {
    double time;
    uint64_t facts;
    dd_seen seen;
} dd_moment;
const dd_moment *dd_watcher_moment(const dd_watcher *watcher, const char *name);
/* Keeps a moment under a name of its own, without an event. */
void dd_watcher_note(dd_watcher *watcher, const dd_seen *seen, const char *name);
/* How upright the boat stands matters while water and supports share it, now and then, until it has been told once that it does not: whether
   the roll stiffness is worth its gradients at this look. */
bool dd_watcher_wants_roll(const dd_watcher *watcher, const dd_seen *seen);
/* What was seen at the start. */
const dd_seen *dd_watcher_start(const dd_watcher *watcher);
/* The earliest event that decides the verdict, by its cause; NULL: none has. *time: when. */
const dd_cause *dd_watcher_decided(const dd_watcher *watcher, double *time);
/* Time from which on a run is not worth going on with, since an event decides its verdict; NaN: no such event. */
double dd_watcher_ends(const dd_watcher *watcher);
/* Why a limit was broken, from its event's first moment; NULL: not known. */
const dd_cause *dd_watcher_broke(const dd_watcher *watcher, const char *name);

#define DD_DEEP_HOLE 0.15 /* that a wheel drops into, m */
#define DD_KEEL_SQUASH 0.02 /* ground and keel give way so far, m */
#define DD_RUNS_OFF 0.5     /* faster than anybody walks a boat down its supports, m/s */
#define DD_VEHICLE_FLOATS 0.05 /* share of its weight on its rear wheels below which it does */
/* Facts (bits of facts.def) at what is seen now; the workspace is evaluated there. */
uint64_t dd_facts_of(const dd_run *run, const dd_watcher *watcher, const dd_seen *seen);
/* Time of the first event of that name; NaN: it did not happen. */
double dd_watcher_first(const dd_watcher *watcher, const char *name);
#endif
