/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file vector.h A point or vector of three components; the frame and unit stand where it is used. */
#ifndef DRAWDOCK_VECTOR_H
#define DRAWDOCK_VECTOR_H
/** Three components along the axes of the frame that is named where it is used. */
typedef struct dd_vec3 {
    double x, y, z; /**< in the unit that is named there */
} dd_vec3;
#endif
