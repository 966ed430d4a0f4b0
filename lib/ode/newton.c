/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Block elimination: with the eliminated components e in blocks E_k = (1 - c J)_kk that J does not couple to one another, border b,
     S = (1 - c J)_bb - sum c^2 J_bk E_k^-1 J_kb,  S x_b = r_b + sum c J_bk E_k^-1 r_k,  E_k x_k = r_k + c J_kb x_b
   (Golub and Van Loan, Matrix Computations, block LU). Where J is zero is looked up in J itself, once for each Jacobian. */
#include "lib/ode/newton.h"

#include "lib/base/error.h"
#include "lib/ode/gsl.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* One block: its components and the border's that it feels and that feel it, as ranges of the lists. */
typedef struct block {
    size_t first, count, row_first, row_count, column_first, column_count, values_first;
} block;

struct dd_newton {
    size_t size, inner_first, inner_count, border_count, block_count;
    double c;
    double *jacobian, *schur, *values, *work;      /* values: the blocks' factors, one after another */
    size_t *border, *place, *inner, *rows, *columns, *swaps, *schur_swaps, *leader; /* place: of a component in the border */
    block *blocks;
};

dd_status dd_newton_create(size_t size, size_t first, size_t count, dd_newton **result, dd_error *error)
{
    *result = NULL;
    dd_gsl_quiet();
    dd_newton *self = calloc(1, sizeof *self);
    if (self != NULL) {
        const size_t border = size - count;
        self->size = size;
        self->inner_first = first;
        self->inner_count = count;
        self->border_count = border;
        self->jacobian = calloc(size * size + border * border + count * count + 2 * size + count * (border + 1), sizeof(double));
        self->border = calloc(7 * size + 2 * count * border + 1, sizeof(size_t));
        self->blocks = calloc(count + 1, sizeof *self->blocks);
    }
    if (self == NULL || self->jacobian == NULL || self->border == NULL || self->blocks == NULL) {
        dd_newton_free(self);
        return dd_fail(error, DD_ERROR_MEMORY, "dd_newton_create", "no memory for a Newton matrix of %zu components", size);
    }
    self->schur = self->jacobian + size * size;
    self->values = self->schur + self->border_count * self->border_count;
    self->work = self->values + count * count;
    self->place = self->border + size;
    self->inner = self->place + size;
    self->swaps = self->inner + size;
    self->schur_swaps = self->swaps + size;
    self->leader = self->schur_swaps + size;
    self->rows = self->leader + size;
    self->columns = self->rows + count * self->border_count;
    for (size_t i = 0, b = 0; i < size; i++)
        if (i < first || i >= first + count) {
            self->place[i] = b;
            self->border[b++] = i;
        }
    *result = self;
    return DD_OK;
}

void dd_newton_free(dd_newton *self)
{
    if (self == NULL) return;
    free(self->jacobian);
    free(self->border);
    free(self->blocks);
    free(self);
}

double *dd_newton_jacobian(dd_newton *self) { return self->jacobian; }

static size_t leader_of(const dd_newton *self, size_t i)
{
    while (self->leader[i] != i) i = self->leader[i];
    return i;
}

/* Components that J couples get one leader, the first of them. */
static void group(dd_newton *self)
{
    const size_t n = self->size, from = self->inner_first, to = from + self->inner_count;
    for (size_t i = from; i < to; i++) self->leader[i] = i;
    for (size_t i = from; i < to; i++)
        for (size_t j = from; j < to; j++) {
            if (i == j || !(fabs(self->jacobian[i * n + j]) > 0)) continue;
            const size_t a = leader_of(self, i), b = leader_of(self, j);
            self->leader[a < b ? b : a] = a < b ? a : b;
        }
}

/* The border's components that one block meets: by its columns of their rows, or by its rows. */
static size_t meets(const dd_newton *self, const block *k, bool by_row, size_t *list)
{
    const size_t n = self->size;
    size_t count = 0;
    for (size_t b = 0; b < self->border_count; b++) {
        bool found = false;
        for (size_t l = 0; l < k->count && !found; l++) {
            const size_t i = self->inner[k->first + l], j = self->border[b];
            found = fabs(by_row ? self->jacobian[i * n + j] : self->jacobian[j * n + i]) > 0;
        }
        if (found) list[count++] = b;
    }
    return count;
}

void dd_newton_look(dd_newton *self)
{
    const size_t from = self->inner_first, to = from + self->inner_count;
    size_t inner = 0, rows = 0, columns = 0, values = 0;
    self->block_count = 0;
    group(self);
    for (size_t i = from; i < to; i++) {
        if (self->leader[i] != i) continue;
        block *k = &self->blocks[self->block_count++];
        *k = (block){.first = inner, .row_first = rows, .column_first = columns, .values_first = values};
        for (size_t j = i; j < to; j++)
            if (leader_of(self, j) == i) self->inner[inner++] = j;
        k->count = inner - k->first;
        values += k->count * k->count;
        rows += k->row_count = meets(self, k, false, self->rows + rows);
        columns += k->column_count = meets(self, k, true, self->columns + columns);
    }
}

static bool factor(double *a, size_t n, size_t *swaps)
{
    gsl_matrix_view m = gsl_matrix_view_array(a, n, n);
    gsl_permutation p = {n, swaps};
    int sign;
    if (gsl_linalg_LU_decomp(&m.matrix, &p, &sign) != GSL_SUCCESS) return false;
    for (size_t i = 0; i < n; i++)
        if (!(fabs(a[i * n + i]) > 0)) return false;
    return true;
}

/* Fails for a singular matrix only, which factor() refuses. */
static void back(double *a, size_t n, size_t *swaps, double *x)
{
    gsl_matrix_view m = gsl_matrix_view_array(a, n, n);
    gsl_vector_view v = gsl_vector_view_array(x, n);
    gsl_permutation p = {n, swaps};
    gsl_linalg_LU_svx(&m.matrix, &p, &v.vector);
}

static bool eliminate(dd_newton *self, const block *k)
{
    const size_t n = self->size, m = k->count, nb = self->border_count;
    double *e = self->values + k->values_first, *column = self->work;
    const size_t *inner = self->inner + k->first, *rows = self->rows + k->row_first, *columns = self->columns + k->column_first;
    for (size_t i = 0; i < m; i++)
        for (size_t j = 0; j < m; j++) e[i * m + j] = (i == j) - self->c * self->jacobian[inner[i] * n + inner[j]];
    if (!factor(e, m, self->swaps + k->first)) return false;
    for (size_t q = 0; q < k->column_count; q++) {
        for (size_t i = 0; i < m; i++) column[i] = self->c * self->c * self->jacobian[inner[i] * n + self->border[columns[q]]];
        back(e, m, self->swaps + k->first, column);
        for (size_t r = 0; r < k->row_count; r++) {
            const double *row = self->jacobian + self->border[rows[r]] * n;
            double sum = 0;
            for (size_t i = 0; i < m; i++) sum += row[inner[i]] * column[i];
            self->schur[rows[r] * nb + columns[q]] -= sum;
        }
    }
    return true;
}

bool dd_newton_factor(dd_newton *self, double c)
{
    const size_t nb = self->border_count, n = self->size;
    self->c = c;
    for (size_t i = 0; i < nb; i++)
        for (size_t j = 0; j < nb; j++) self->schur[i * nb + j] = (i == j) - c * self->jacobian[self->border[i] * n + self->border[j]];
    for (size_t k = 0; k < self->block_count; k++)
        if (!eliminate(self, &self->blocks[k])) return false;
    return factor(self->schur, nb, self->schur_swaps);
}

void dd_newton_solve(dd_newton *self, double *x)
{
    const size_t n = self->size, nb = self->border_count;
    double *border = self->work, *part = self->work + nb;
    for (size_t b = 0; b < nb; b++) border[b] = x[self->border[b]];
    for (size_t q = 0; q < self->block_count; q++) {
        const block *k = &self->blocks[q];
        const size_t *inner = self->inner + k->first, *rows = self->rows + k->row_first;
        if (k->row_count == 0) continue;
        for (size_t i = 0; i < k->count; i++) part[i] = x[inner[i]];
        back(self->values + k->values_first, k->count, self->swaps + k->first, part);
        for (size_t r = 0; r < k->row_count; r++)
            for (size_t i = 0; i < k->count; i++)
                border[rows[r]] += self->c * self->jacobian[self->border[rows[r]] * n + inner[i]] * part[i];
    }
    back(self->schur, nb, self->schur_swaps, border);
    for (size_t q = 0; q < self->block_count; q++) {
        const block *k = &self->blocks[q];
        const size_t *inner = self->inner + k->first, *columns = self->columns + k->column_first;
        for (size_t i = 0; i < k->count; i++) {
            part[i] = x[inner[i]];
            for (size_t p = 0; p < k->column_count; p++)
                part[i] += self->c * self->jacobian[inner[i] * n + self->border[columns[p]]] * border[columns[p]];
        }
        back(self->values + k->values_first, k->count, self->swaps + k->first, part);
        for (size_t i = 0; i < k->count; i++) x[inner[i]] = part[i];
    }
    for (size_t b = 0; b < nb; b++) x[self->border[b]] = border[b];
}
