/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a ramp is made of; private to lib/shore. */
#ifndef DD_SHORE_PROFILE_H
#define DD_SHORE_PROFILE_H
#include "lib/shore/shore.h"

typedef struct curve {
    double x, z, slope;    /* where the vertical curve begins, on the line before it */
    double change, length; /* of the slope, along the curve */
} curve;

/* What a surface does to a wheel: the columns of dd_shore_grip. */
enum { DRY, DRY_LOW, DRY_HIGH, WET, WET_LOW, WET_HIGH, ROLLING, SINKAGE, SINKAGE_RATE, GRIP_COLUMNS };

typedef struct border {
    double x, change[GRIP_COLUMNS];
} border;

struct dd_ramp {
    int curve_count;
    curve curves[DD_RAMP_POINTS];
    double line_x, line_z, line_slope; /* the line inshore of the first curve */
    double toe;
    double step_x, step_height, step_length; /* step_height 0: none */
    dd_scour scour; /* depth and mound height 0: none */
    double scour_x;
    int surface_count;
    dd_surface surfaces[DD_RAMP_SURFACES];
    dd_surface otherwise; /* where none is given */
    int border_count;
    border borders[2 * DD_RAMP_SURFACES];
    double first[GRIP_COLUMNS];
    bool wet_differs; /* a surface has wet friction of its own */
    bool soft;        /* wheels sink into one of them */
    dd_weed weed;     /* from_level NaN: none */
    double wash_margin;
};

/* Surfaces, weed and wash of a ramp whose profile is made. */
void dd_ramp_set_surfaces(const dd_ramp_parameters *parameters, dd_ramp *ramp);
#endif
