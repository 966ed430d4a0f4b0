/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hulls on supports drawn at random, for what must hold for any of them; and their balance, taken from the contacts' data alone. */
#ifndef DD_TESTS_SEATS_DRAWN_H
#define DD_TESTS_SEATS_DRAWN_H
#include "lib/study/seat_model.h"
#include <gsl/gsl_rng.h>

/* A rigid hull of 0.4 to 3 t on keel rollers and pairs of side rollers under panels of 5 to 25 degrees, against a bow stop, between posts, in a
   strap; heights off by 3 mm either way. Each roller is a support of its own side of a pair. with_arm: the rollers of the last pair of
   supports each side stand on one arm that turns freely. */
typedef struct seat_drawn {
    int keels, pairs, linear, with_arm;
} seat_drawn;
void seat_draw(gsl_rng *rng, const seat_drawn *wanted, dd_seat_model *s);
double seat_drawn_in(gsl_rng *rng, double least, double most);
double seat_weight(const dd_seat_model *s, dd_vec3 specific);
/* How far a contact is squashed (< 0: clear of the hull) when the hull moves by u and turns by the small angles `turn`, and its arms
   by `angles` (NULL: none). */
double seat_squash(const dd_seat_model *s, int contact, dd_vec3 u, dd_vec3 turn, const double *angles);
/* Sum of all forces on the hull over its weight, and of all moments about the origin over its weight times 1 m: the greater. */
double seat_unbalanced(const dd_seat_model *s, dd_vec3 specific, const double *load, const double *tension);
#endif
