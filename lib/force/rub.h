/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A loaded place of the hull that rubs, both ways along the tangent plane, with one pair of bristles for several places.

   Directions: the boat's X laid into the plane across the normal, and the normal times that. Each place has the friction
   N c(z, v) of bristle.h along both; the pair's deflections z are shared by the places and follow the mean of their sliding,
   each place with its share of the load. All in boat axes. */
#ifndef DD_FORCE_RUB_H
#define DD_FORCE_RUB_H
#include "lib/force/bristle.h"
#include "lib/force/force.h"

enum { DD_RUB_WAYS = 2 };

typedef struct dd_rub {
    dd_vec3 point, normal, velocity; /* normal: a unit vector, either way; velocity of the hull there */
    double load;                     /* N */
    dd_vec3 direction[DD_RUB_WAYS];
    double length; /* of the X axis within the plane */
    dd_bristle bristle[DD_RUB_WAYS];
    dd_vec3 force; /* on the hull */
} dd_rub;

/* value: the pair's deflections; contact: 0..1, this place's share of the holding. point, normal, velocity, load are filled. */
void dd_rub_at(dd_rub *rub, const dd_bristle_law *law, double friction, const double value[DD_RUB_WAYS], double contact);

/* A change of what stands in dd_rub, of the load and of the deflections. */
typedef struct dd_rub_change {
    dd_vec3 point, normal, velocity;
    double load, value[DD_RUB_WAYS];
} dd_rub_change;
/* Adds the change of the wrench on the hull, and of the bristles' rates by the sliding. */
void dd_rub_vary(const dd_rub *rub, const dd_rub_change *change, double wrench[6], double rate[DD_RUB_WAYS]);

/* Change of a place's wrench and of its bristles' rates, by how well they are held too, by a unit displacement (moved) or a unit of twist, component 0..5. */
typedef void (*dd_rub_column)(const void *place, int component, int moved, double wrench[6], double rate[DD_RUB_WAYS]);
/* Adds what `place`, which rubs, does to the gradient and to the slopes of its pair of bristles, the memory's `first` and next. */
void dd_rub_differentiate(const dd_rub *rub, dd_rub_column column, const void *place, int first, dd_gradient *gradient,
                          const dd_memory *memory);
#endif
