/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the searches for an equilibrium share: Newton's method (equilibrium.c), the slow one (trust.c), descent on the energy
   (descent.c). */
#ifndef DD_MOTION_SEARCH_H
#define DD_MOTION_SEARCH_H
#include "lib/motion/equilibrium.h"
#include <gsl/gsl_matrix.h>
#include <gsl/gsl_vector.h>

#define DD_BALANCED 1e-9     /* of the weight: an imbalance that counts as none */
#define DD_NOTHING_HOLDS 1e-13 /* share of the largest singular value: a direction in which nothing holds the boat */

typedef struct dd_search {
    dd_workspace *workspace;
    double time, weight;
    dd_pose base;      /* where the slow search counts its displacements from */
    double *y, *memory; /* state; memory with its moving parts brought to rest */
    double *began;      /* memory as the search began: where a skid gets wet on trial it does not stay so */
    int free[DD_COORDINATES], count;
    bool tell_lengthwise; /* DD_TELL_LENGTHWISE */
    bool parts;      /* some force has moving parts */
    bool no_memory;  /* a solver could not be made */
    double balanced; /* imbalance that counts as none: DD_BALANCED, or what the rounding of positions makes of stiff supports */
} dd_search;

/* A matrix of the free coordinates, factorised: by rows, or by singular values where nothing holds the boat some way. */
typedef struct dd_factor {
    int count;
    bool soft; /* by singular values */
    double u[DD_COORDINATES * DD_COORDINATES], v[DD_COORDINATES * DD_COORDINATES], sigma[DD_COORDINATES];
    size_t order[DD_COORDINATES];
} dd_factor;
bool dd_search_factorise(const dd_search *search, double K[DD_COORDINATES][DD_COORDINATES], dd_factor *factor);
/* b becomes x with matrix x = b. Directions in which nothing holds the boat are left alone. */
bool dd_search_solve(dd_factor *factor, double *b);

/* Ready to search from *start; memory NULL: all 0. On success it has to be ended. Errors: DD_ERROR_ARGUMENT: no coordinate is
   free, DD_ERROR_MEMORY. */
dd_status dd_search_begin(dd_search *search, dd_workspace *workspace, double time, const dd_pose *start, const double *memory, int free,
                          dd_error *error);
/* The pose alone is looked for: of K no more than the free coordinates ask for. */
void dd_search_narrow(dd_search *search);
void dd_search_end(dd_search *search);
/* Evaluates at a pose, moving parts at rest there; as dd_system_evaluate. */
int dd_search_evaluate(dd_search *search, const dd_pose *pose, int want);
/* Imbalance at a pose, with channels there and K; infinite where it cannot be evaluated. */
double dd_search_look(dd_search *search, const dd_pose *pose, double load[DD_COORDINATES], double K[DD_COORDINATES][DD_COORDINATES]);
/* Moves a pose by a step of the free coordinates; false: a step too long for one of Newton's. */
bool dd_search_displace(const dd_search *search, const double *step, dd_pose *pose);
/* Largest unbalanced load among the free coordinates, share of the weight; load: all of them, N and N m. */
double dd_search_left(const dd_search *search, double load[DD_COORDINATES]);
/* Sets the imbalance that counts as none, from K: what the rounding of positions makes of stiff supports. */
void dd_search_rounding(dd_search *search, double K[DD_COORDINATES][DD_COORDINATES]);
/* The equilibrium next to search->base + x (x: the free coordinates), which is left in x: Newton's method, Levenberg and Marquardt's,
   descent. Returns the share of the weight that is left. */
double dd_search_slowly(dd_search *search, gsl_vector *x);
/* What is told of an equilibrium that has been found, from the evaluation there, with stiffness, and its K; the tangent alone; and that none was. */
void dd_search_measure(dd_search *search, double left, double K[DD_COORDINATES][DD_COORDINATES], dd_equilibrium *result);
void dd_search_tangent(const dd_search *search, double K[DD_COORDINATES][DD_COORDINATES], dd_factor *factor, dd_equilibrium *result);
dd_status dd_search_refuse(const dd_search *search, double left, dd_equilibrium *result, dd_error *error);
/* Pose at x, evaluated. */
int dd_search_at(dd_search *search, const gsl_vector *x, int want, dd_pose *pose);
#endif
