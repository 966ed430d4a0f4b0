/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Integrals over the immersed part of one section, in closed form per edge. */
#ifndef DD_HULL_SECTION_H
#define DD_HULL_SECTION_H
#include "lib/hull/surface.h"

/* The water plane as sections see it. In a section the water line is r = q with q = (level - nx X) / h,
   r = (ny y + nz z) / h up and s = (nz y - ny z) / h along the water line; h = sqrt(ny^2 + nz^2). */
typedef struct dd_section_plane {
    double nx, level, h;
    double sine, cosine; /* ny / h, nz / h */
} dd_section_plane;

/* What one section adds to the integrals along X; every member is multiplied by the weight of the section. */
typedef struct dd_section_sums {
    double area, area_x;               /* A, A X */
    double moment_s, moment_r;         /* integrals of s and r over the immersed part */
    double chord, chord_x, chord_q, chord_s; /* integrals of 1, X, r = q, s along the water line */
    double chord_xx, chord_xq, chord_qq, chord_sx, chord_sq, chord_ss; /* and of their products */
} dd_section_sums;

/* Plane of sections; h is 0 when the water plane stands parallel to the sections. */
dd_section_plane dd_section_plane_of(dd_waterplane waterplane);
/* Adds weight times the integrals of the section at x with `points` points (y >= 0, z), closed by a deck. moments: those of the water
   line too, else of these `chord` alone. */
void dd_section_add(const dd_section_plane *plane, int points, const double *y, const double *z, double x, double weight, bool moments,
                    dd_section_sums *sums);
/* Area and height moment of the whole section. */
void dd_section_whole(int points, const double *y, const double *z, double *area, double *moment_z);
/* Integrals of y^2 and z^2 over the whole section. */
void dd_section_second(int points, const double *y, const double *z, double *second_y, double *second_z);
/* Integrals along X turned into boat axes; the chords count 1 / h. */
void dd_section_finish(const dd_section_plane *plane, const dd_section_sums *sums, bool moments, dd_hydrostatics *result);
#endif
