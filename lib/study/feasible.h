/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef DD_STUDY_FEASIBLE_H
#define DD_STUDY_FEASIBLE_H
#include "lib/study/model.h"

/* Refuses, with the key and the figure, what can never come in this model: a hub deeper than the ramp has water, a strap that is
   shorter than the way to the bow eye with the boat at home (strap_length: whole, m; 0: no strap). */
dd_status dd_study_feasible(const dd_study_model *model, double strap_length, dd_error *error);
#endif
