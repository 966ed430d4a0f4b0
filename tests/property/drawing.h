/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the parts of a drawn rig share: chance, the hull drawn first, and the trailer's measures that follow from it. */
#ifndef DD_TESTS_DRAWING_H
#define DD_TESTS_DRAWING_H
#include "tests/property/random_rigs.h"
#include <gsl/gsl_rng.h>

typedef struct drawing {
    gsl_rng *rng;
    dd_case *c;
    dd_hull *hull;
    random_rig rig;
    double length, mass, draught, chine; /* of the hull: m, kg, m, least half breadth of the chine aft, m */
    double keel_height;                  /* of the keel above level ground on the trailer, m */
    double transom;                      /* behind the coupling, m */
    int beach, tilts;                    /* the trailer is let down on a rope; its bed tilts */
} drawing;

double between(drawing *d, double low, double high);
int one_of(drawing *d, int count);          /* 0 .. count - 1 */
int chance(drawing *d, double probability); /* 1 or 0 */

void draw_trailer(drawing *d);
void draw_shore(drawing *d);
void draw_procedure(drawing *d);
#endif
