/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a hull meets its bow stop, for those that lay it there. */
#ifndef DD_FORCE_BOW_STOP_H
#define DD_FORCE_BOW_STOP_H
#include "lib/force/force.h"

#define DD_BOW_STOP_HOLDS 0.34 /* least part of the push along the trailer by which a stop holds: of a keel that rises by 20 degrees */

/* A hull slid along its trailer until it just touches the stop. */
typedef struct dd_at_stop {
    double x;      /* of its origin in the trailer then, m; NaN: it passes the stop */
    double aft;    /* part of the push along the trailer, aft: 1 on an upright stem, 0 under a level keel */
    double height; /* of the touching place over the trailer's origin, m */
    int past;      /* with x NaN: 1: it passes over the stop, -1: under it */
} dd_at_stop;
/* 1: it passes over the stop, or lies on it by a keel that rises too little to be held; -1: under it; 0: the stop holds it. */
static inline int dd_bow_stop_passed(const dd_at_stop *at) { return isnan(at->x) ? at->past : at->aft < DD_BOW_STOP_HOLDS; }
/* At the pose's height and attitude; all NaN where the trailer has no stop. */
dd_at_stop dd_bow_stop_touch(const dd_model *model, const dd_pose *pose);
/* The bow eye of a level hull that touches the stop with its eye at the middle of the stop's height, trailer frame; NaN without a
   stop. Passing it, the eye counts as at its face. */
dd_vec3 dd_bow_stop_eye(const dd_model *model);
#endif
