/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The matrix of Newton's method for an implicit step, 1 - c J, factored and solved by its structure. */
#ifndef DD_ODE_NEWTON_H
#define DD_ODE_NEWTON_H
#include <drawdock/status.h>
#include <stdbool.h>
#include <stddef.h>

/* Components first..first + count - 1 are eliminated ahead of the others: of those, only what J couples stands in one block, and
   the rest (the border) is a dense matrix of its own, Schur's complement. count 0: one dense matrix. */
typedef struct dd_newton dd_newton;

dd_status dd_newton_create(size_t size, size_t first, size_t count, dd_newton **newton, dd_error *error);
void dd_newton_free(dd_newton *newton);
/* Row-major size x size, for the caller to fill; dd_newton_look then finds its structure. */
double *dd_newton_jacobian(dd_newton *newton);
void dd_newton_look(dd_newton *newton);
/* Factors 1 - c J; false when it is singular. */
bool dd_newton_factor(dd_newton *newton, double c);
/* x: the right-hand side in, (1 - c J)^-1 x out. */
void dd_newton_solve(dd_newton *newton, double *x);
#endif
