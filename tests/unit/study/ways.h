/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A hull on one pivot and one rear support, both frictionless points, for statics against closed forms.

   The pivot and the rear support are keel rollers of a micrometre's radius; the strap's drum stands at the pivot and its eye
   on the keel line abaft it, so that the strap runs along the keel line through the pivot and has no moment about it.
   Contact is with a straight-keeled carrier that reaches beyond the hull's ends (a support at the very corner of the hull then
   carries in full); buoyancy is that of the hull itself. Rollers, tyres, springs and ball yield by `yielding` under the hull's
   weight: all deflections are proportional to it. */
#ifndef DD_TESTS_WAYS_H
#define DD_TESTS_WAYS_H
#include "lib/study/settle.h"
#include "tests/unit/hull/hulls.h"

typedef struct ways_spec {
    dd_hull *hull;                 /* taken over */
    double length, density, slope; /* m, kg/m3, rad */
    double pivot, rear;            /* of the supports forward of the transom, m; pivot NaN: no pivot and no strap */
    double yielding;               /* m */
    double side_friction;          /* of the rollers; the statics leave it at rest */
    int free;                      /* DD_FREE_... */
} ways_spec;

typedef struct ways {
    dd_study_model m;
    dd_hull *hull, *carrier;
    ways_spec spec;
    double weight, strap; /* N; strap from drum to eye, m */
    dd_settle settle;
} ways;

enum { WAYS_PIVOT, WAYS_REAR };
enum { WAYS_PLANE = DD_FREE_HULL_LENGTHWISE | DD_FREE_HULL_SINKAGE | DD_FREE_HULL_TRIM }; /* the hull in its middle plane */

/* Prism of many bays: the strips' rule then resolves where the water's edge cuts the keel. */
dd_hull *ways_prism(double length, int bays, int points, const double *y, const double *z, double mass, dd_vec3 centre);
/* The hull of the reference tables, with stations put in between. */
dd_hull *ways_chine(int parts, double mass, dd_vec3 centre);

/* At rest with the keel line immersed over the length s. */
void ways_create(ways *w, const ways_spec *spec, int strips_per_bay, double s);
void ways_free(ways *w);
/* On level ground; the water stands as ways_fall says. No strap pulls. */
void ways_dock(ways *w, const ways_spec *spec, int strips_per_bay);
/* Afloat well clear of the supports. */
void ways_float(ways *w);
/* Water to a depth of the keel over the rear support; the strap is not touched. */
dd_status ways_fall(ways *w, double depth, dd_error *error);
double ways_depth(const ways *w);
/* Goes to s; the strap is wound so that the pivot stands where it should. Fails the test without an equilibrium. */
void ways_to(ways *w, double s);
dd_status ways_try(ways *w, double s, dd_error *error);
/* s at which a support comes clear, from the present s in steps. */
double ways_lift(ways *w, int support, double step);

double ways_length(const ways *w);            /* s: length of the ways' line under water, from the depth of the pivot */
double ways_angle(const ways *w);             /* of the keel, stern down, rad */
double ways_buoyancy(const ways *w);          /* N */
double ways_load(const ways *w, int support); /* N */
double ways_gap(const ways *w, int support);  /* between keel and roller, m; negative: squash */
#endif
