/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two-dimensional added mass and wave damping of a keel-chine-side section, and their tables over the immersed depth
   of the keel for every strip of a hull. */
#ifndef DD_FORCE_SECTION_H
#define DD_FORCE_SECTION_H
#include "lib/state/kinematics.h"

enum { DD_SECTION_FLARES = 3, DD_SECTION_DRAUGHTS = 6, DD_SECTION_CHINES = 4, DD_SECTION_FREQUENCIES = 6 };
enum { DD_SECTION_HEAVE_MASS, DD_SECTION_HEAVE_DAMPING, DD_SECTION_ROLL_MASS, DD_SECTION_SWAY_ROLL_MASS,
       DD_SECTION_SWAY_WAVE, DD_SECTION_ROLL_WAVE, DD_SECTION_COLUMNS };
typedef struct dd_section_row {
    double column[DD_SECTION_COLUMNS][DD_SECTION_FREQUENCIES];
    double sway_mass;
} dd_section_row;
/* The computed table (section_table.c): side slope, draught over half-breadth, chine's depth over draught, w^2 b/g. */
extern const double dd_section_flare[DD_SECTION_FLARES], dd_section_draught[DD_SECTION_DRAUGHTS],
    dd_section_chine[DD_SECTION_CHINES], dd_section_frequency[DD_SECTION_FREQUENCIES];
extern const dd_section_row dd_section_rows[DD_SECTION_FLARES][DD_SECTION_DRAUGHTS][DD_SECTION_CHINES];

/* An immersed section, m. */
typedef struct dd_section_shape {
    double half_breadth; /* at the waterline */
    double draught;      /* of the keel */
    double chine_share;  /* height of the chine over the keel, share of the draught, at most 1: a V */
    double flare;        /* slope dy/dz of the side above the chine */
} dd_section_shape;

/* Per density (m2, m3, m4); damping per density and frequency. Roll about the waterline's centre, axes forward, port, up. */
typedef struct dd_section {
    double heave_mass, heave_damping;
    double sway_mass;              /* slow sway: rigid surface */
    double roll_mass, sway_roll_mass;
    double sway_wave, roll_wave;   /* wave made by sway and by roll: b22 = sway_wave^2, b24 their product, b44 = roll_wave^2 */
} dd_section;
/* heave_number, roll_number: w^2/g of the heave and the roll, 1/m. Frequencies and shapes beyond the table's range take
   its nearest end; the roll terms of sections deeper than the table's are those of one as much wider. */
dd_section dd_section_radiation(const dd_section_shape *shape, double heave_number, double roll_number);

/* The strip's section with its keel `depth` below the water: C1 in depth, the chine rounded over a fifth of its height.
   Flat bottoms wet over a depth of 6 % of the half-breadth. Above 1.2 times the sheer's height nothing changes. */
dd_section_shape dd_section_at(const dd_strip *strip, double depth);

/* Frequencies at which the hull, afloat upright on an even keel, heaves and rolls, rad/s: strip added mass at that very
   frequency; the density-weighted strip sums. A hull that has no roll stiffness gets the heave frequency for both. */
typedef struct dd_natural {
    double heave, roll;
} dd_natural;
dd_natural dd_natural_frequencies(const dd_model *model);

/* Columns of values over the keel's depth for every strip: clamped cubic splines, zero with zero slope at depth 0. */
typedef struct dd_strip_table {
    int strips, columns;
    double *x, *keel_height; /* of each strip */
    double *step;            /* of each strip's knots, m */
    double *spline;          /* strips x intervals x columns x 4 */
} dd_strip_table;
/* Values of one strip at one depth, integrated over the strip's length. */
typedef void (*dd_strip_values)(const void *context, const dd_strip *strip, double depth, double *values);
dd_status dd_strip_table_create(const dd_strips *strips, int columns, dd_strip_values fill, const void *context,
                                dd_strip_table *table, dd_error *error);
void dd_strip_table_free(dd_strip_table *table);
/* Values and slopes (columns each) at a depth; 0 when dry: the strip then has no part. */
int dd_strip_table_at(const dd_strip_table *table, int strip, double depth, double *values, double *slopes);

#endif
