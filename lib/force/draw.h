/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Random states near home, for the tests that walk the list of forces. */
#ifndef DD_FORCE_DRAW_H
#define DD_FORCE_DRAW_H
#include "lib/force/force.h"

/* Uniform in [least, most]. */
double dd_draw(double (*uniform)(void *), void *random, double least, double most);
/* A hull near home, up to `reach` m seaward of it, lying nearly straight; a rig at rest near the water; twist up to
   `speed` m/s and rad/s. */
void dd_draw_near_home(const dd_model *model, double reach, double speed, double (*uniform)(void *), void *random,
                       dd_pose *pose, dd_motion *motion);
/* Puts the bow eye at a place in the trailer frame by moving the hull. */
void dd_draw_eye_at(const dd_model *model, dd_vec3 in_trailer, dd_pose *pose);
#endif
