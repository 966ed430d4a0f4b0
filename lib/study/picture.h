/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures of the rig: side views at one moment, as lines in world x and z, and the frames of the drawing that moves. */
#ifndef DD_STUDY_PICTURE_H
#define DD_STUDY_PICTURE_H
#include "lib/record/recorder.h"
#include "lib/study/model.h"
#include "lib/study/observe.h"

/* Adds the view to the recorder; event: index of the event it shows, -1: the start. hooked: the strap is drawn. */
dd_status dd_picture_draw(const dd_study_model *model, const dd_kinematics *kinematics, int hooked, int event,
                          dd_recorder *recorder);
/* Adds a frame of what is seen, by the workspace's evaluation. */
void dd_drawing_see(const dd_study_model *model, const dd_kinematics *kinematics, const dd_seen *seen, dd_drawing *drawing);
/* Adds the ground that comes into view. */
void dd_drawing_end(const dd_study_model *model, dd_drawing *drawing);
#endif
