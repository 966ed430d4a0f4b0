/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether a boat and a trailer go together at all, by geometry alone. */
#ifndef DD_STUDY_FIT_H
#define DD_STUDY_FIT_H
#include "lib/study/model.h"

/* Why the boat, laid straight on its supports with the bow at its stop (pose), cannot be wound home and stay there: an error
   of the input with the first cause found. DD_OK: geometry shows none. */
dd_status dd_study_fit_home(const dd_study_model *model, const dd_pose *pose,
                            dd_error *error); /* with the boat at home: stop, supports and guides */
dd_status dd_study_fit(const dd_study_model *model, const dd_pose *pose, dd_error *error);
#endif
