/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lines that pictures of a rig and its boat are made of, in the axes that they are rigid in, and where these stand. */
#ifndef DD_STUDY_SHAPES_H
#define DD_STUDY_SHAPES_H
#include "lib/record/drawing.h"
#include "lib/study/model.h"

/* Adds vehicle, trailer, lines and hull, from back to front; side views have the near side alone, as boat and rig are seen from port. The
   ground is not among them. A failure is in drawing->failed. */
void dd_shapes_add(const dd_study_model *model, dd_drawing *drawing);
/* Values of a frame as the workspace's evaluation has them (with channels); what is told beside the picture is left NaN. */
void dd_shapes_frame(const dd_study_model *model, const dd_kinematics *kinematics, bool hooked, double values[DD_DRAWN_COUNT]);
/* A point of axes, in the world, by a frame. */
dd_vec3 dd_shapes_point(const dd_drawing *drawing, const double values[DD_DRAWN_COUNT], int axes, dd_vec3 point);
/* Adds the ground between two places. */
void dd_shapes_ground(const dd_study_model *model, double from, double to, dd_drawing *drawing);
#endif
