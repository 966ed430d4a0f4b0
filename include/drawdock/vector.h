/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file vector.h A point or vector of three components; the frame and unit stand where it is used. */
#ifndef DRAWDOCK_VECTOR_H
#define DRAWDOCK_VECTOR_H
typedef struct dd_vec3 {
    double x, y, z;
} dd_vec3;
#endif
