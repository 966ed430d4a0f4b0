/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A side view of the rig at one moment, as lines in world x and z. */
#ifndef DD_STUDY_PICTURE_H
#define DD_STUDY_PICTURE_H
#include "lib/record/recorder.h"
#include "lib/study/model.h"

/* Adds the view to the recorder; event: index of the event it shows, -1: the start. hooked: the strap is drawn. */
dd_status dd_picture_draw(const dd_study_model *model, const dd_kinematics *kinematics, int hooked, int event,
                          dd_recorder *recorder);
#endif
