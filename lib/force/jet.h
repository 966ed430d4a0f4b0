/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A value with its exact derivatives by the rig's coordinates and rates: the rig's forces are written once in these, and
   their K and D follow without a second set of formulas. lib/force/plain.c compiles the same sources with DD_JET_PLAIN, which
   leaves every derivative zero: a right-hand side needs none, and is three times as fast without. lib/force/still.c compiles them with
   DD_JET_STILL, for a rig at rest: no derivatives by the rates. */
#ifndef DD_FORCE_JET_H
#define DD_FORCE_JET_H
#include "lib/force/force.h"

enum { DD_JET_RATE = DD_RIG_COORDINATES, DD_JET_SIZE = 2 * DD_RIG_COORDINATES };
#ifdef DD_JET_PLAIN
enum { DD_JET_TAKEN = 0, DD_JET_MOVES = 1 };
#elif defined DD_JET_STILL
enum { DD_JET_TAKEN = DD_JET_RATE, DD_JET_MOVES = 0 };
#else
enum { DD_JET_TAKEN = DD_JET_SIZE, DD_JET_MOVES = 1 };
#endif

typedef struct dd_jet {
    double v, d[DD_JET_SIZE]; /* by the rig's coordinates, then by their rates */
} dd_jet;

static inline dd_jet dd_jet_of(double v) { return (dd_jet){v, {0}}; }
/* f(a), with f and f' taken at a's value. */
static inline dd_jet dd_jet_apply(dd_jet a, double f, double slope)
{
    dd_jet r = {f, {0}};
    for (int i = 0; i < DD_JET_TAKEN; i++) r.d[i] = slope * a.d[i];
    return r;
}
static inline dd_jet dd_jet_apply2(dd_jet a, dd_jet b, double f, double by_a, double by_b)
{
    dd_jet r = {f, {0}};
    for (int i = 0; i < DD_JET_TAKEN; i++) r.d[i] = by_a * a.d[i] + by_b * b.d[i];
    return r;
}
static inline dd_jet dd_jet_scale(double s, dd_jet a) { return dd_jet_apply(a, s * a.v, s); }
static inline dd_jet dd_jet_add(dd_jet a, dd_jet b) { return dd_jet_apply2(a, b, a.v + b.v, 1, 1); }
static inline dd_jet dd_jet_sub(dd_jet a, dd_jet b) { return dd_jet_apply2(a, b, a.v - b.v, 1, -1); }
static inline dd_jet dd_jet_mul(dd_jet a, dd_jet b) { return dd_jet_apply2(a, b, a.v * b.v, b.v, a.v); }
/* a b + c d */
static inline dd_jet dd_jet_dot(dd_jet a, dd_jet b, dd_jet c, dd_jet d)
{
    return dd_jet_add(dd_jet_mul(a, b), dd_jet_mul(c, d));
}

/* A load on rig coordinate c and, on request, its row of K and D. */
static inline void dd_jet_load(dd_jet q, int c, dd_load *load, dd_gradient *gradient)
{
    load->rig[c] += q.v;
    for (int i = 0; gradient != NULL && i < DD_RIG_COORDINATES; i++) {
        gradient->rig_K[c][i] -= q.d[i];
        gradient->rig_D[c][i] -= q.d[DD_JET_RATE + i];
    }
}
#endif
