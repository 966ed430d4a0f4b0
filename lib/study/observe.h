/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One table of what can be seen of a rig and hull at an instant: columns, events and margins all read it. */
#ifndef DD_STUDY_OBSERVE_H
#define DD_STUDY_OBSERVE_H
#include "lib/record/recorder.h"
#include "lib/study/model.h"

enum {
#define OBSERVABLE(id, name, unit, help) DD_SEEN_##id,
#include "lib/study/observables.def"
#undef OBSERVABLE
    DD_SEEN_COUNT
};

typedef struct dd_seen {
    double v[DD_SEEN_COUNT];
    double support[DD_SUPPORTS]; /* load of each support, N */
} dd_seen;

/* Looked up once for a system, since this is read at every look; free() ends it. NULL: out of memory. */
typedef struct dd_seen_map dd_seen_map;
dd_seen_map *dd_seen_map_create(const dd_system *system);
/* Name of the unit ("port guide") with the largest or smallest value of an observable that is folded; NULL: none, or only one. */
const char *dd_seen_unit_name(const dd_study_model *model, int observable);

/* Reads the workspace's evaluation (with channels; the roll stiffness only if with gradient, else it is NaN). */
void dd_seen_read(const dd_study_model *model, int with_gradient, dd_seen *seen);
/* What supports and stop carry, N. A strap that is never let off holds the bow to its stop also when water carries the whole boat: what
   the stop carries counts as far as water does not. */
double dd_seen_still_carried(const dd_seen *seen, double weight);
/* Adds the columns to a recorder, and a row. */
dd_status dd_seen_columns(const dd_study_model *model, dd_recorder *recorder);
dd_status dd_seen_row(const dd_study_model *model, const dd_seen *seen, dd_recorder *recorder);
/* Column name of an observable. */
const char *dd_seen_name(int observable);
const char *dd_seen_unit(int observable);
#endif
