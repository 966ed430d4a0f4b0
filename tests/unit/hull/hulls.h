/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hulls of simple form, tables of reference values, and checks that say their numbers. */
#ifndef DD_TESTS_HULLS_H
#define DD_TESTS_HULLS_H
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "lib/base/vector.h"
#include "lib/hull/surface.h"

#define PI 3.14159265358979323846
#define DEGREE (PI / 180)

#define CHECK_NEAR(value, expected, tolerance, label)                                                                   \
    do {                                                                                                                \
        const double check_value = (value), check_expected = (expected), check_tolerance = (tolerance);                 \
        if (!(fabs(check_value - check_expected) <= check_tolerance))                                                   \
            fail_msg("%s: %s is %.12g, expected %.12g within %.3g", label, #value, check_value, check_expected,         \
                     check_tolerance);                                                                                  \
    } while (0)

/* A CSV file: comment lines begin with #, then the names of the columns. */
typedef struct table {
    int rows, columns;
    char **cells; /* row 0: the names */
    char *text;
} table;
table table_read(const char *name); /* below tests/reference/hydro */
void table_free(table *t);
const char *table_text(const table *t, int row, const char *column); /* rows from 1 */
double table_number(const table *t, int row, const char *column);
/* Number after "name=" in a text such as "L=4.0;B=1.6"; NaN if it is not there. */
double value_in(const char *text, const char *name);

/* Parameters with the mass properties wanted: the half of the mass aboard puts the centre off the middle plane. */
void set_mass(dd_hull_parameters *p, double mass, dd_vec3 centre);
/* Something aboard of a mass; lengths: 3, or 0 for the boat's centre. */
dd_item item_of(const char *name, double mass, int lengths, dd_vec3 at);
/* Prism of constant half-section from X = first to last. */
dd_hull *prism(double first, double last, int points, const double *y, const double *z, double mass, dd_vec3 centre);
dd_hull *box(double first, double last, double breadth, double depth, double mass, dd_vec3 centre);
/* V to half-breadth 6 m. */
dd_hull *v_prism(double length, double deadrise, double mass, dd_vec3 centre);
dd_hull *create(const dd_hull_parameters *p); /* fails the test on error */
/* Round bodies by chords: `edges` edges on each half-section, 2 x `edges` bays. */
dd_hull *round_prism(double radius, double length, int edges, double mass, dd_vec3 centre);      /* lying; axis at z = radius */
dd_hull *upright_cylinder(double radius, double depth, int edges, double mass, dd_vec3 centre);  /* on its end */
dd_hull *upright_cone(double half_angle, double depth, int edges, double mass, dd_vec3 centre);  /* apex down at the origin */
dd_hull *ellipsoid(double a, double b, double c, double centre_z, int edges, double mass, dd_vec3 centre);
dd_hull *synthetic_chine(int lines, double mass, dd_vec3 centre);
void synthetic_chine_parameters(dd_hull_parameters *p);

/* Level at which a hull displaces a volume at the heel and trim. */
double level_for(const dd_hull *hull, double heel, double trim, double volume);
/* Height of the transverse (axis 1) or longitudinal (axis 0) metacentre above B when upright at a level. */
double metacentric_radius(const dd_hydrostatics *r, int axis);
#endif
