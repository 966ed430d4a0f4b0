/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Newton's matrix by blocks against GSL's dense LU of the whole. Grade: library. */
#include "lib/ode/newton.h"
#include "tests/unit/ode/checks.h"

#include <gsl/gsl_linalg.h>

enum { SIZE = 23, FIRST = 9, INNER = 11 };

static double next(unsigned long *random)
{
    *random = *random * 6364136223846793005ul + 1442695040888963407ul;
    return 2.0 * (double)(*random >> 11) / 9007199254740992.0 - 1.0;
}

/* Border and inner components couple at random, inner ones within `block` neighbours, so that blocks of 1 to `block` arise. */
static void fill(double *jacobian, size_t block, unsigned long *random)
{
    for (size_t i = 0; i < SIZE; i++)
        for (size_t j = 0; j < SIZE; j++) {
            const int inner_i = i >= FIRST && i < FIRST + INNER, inner_j = j >= FIRST && j < FIRST + INNER;
            const int apart = inner_i && inner_j && i != j && (i - FIRST) / block != (j - FIRST) / block;
            const double value = 30.0 * next(random);
            jacobian[i * SIZE + j] = apart || next(random) > 0.4 ? 0.0 : value;
        }
}

static void solve_whole(const double *jacobian, double c, double *x)
{
    gsl_matrix *m = gsl_matrix_alloc(SIZE, SIZE);
    gsl_permutation *p = gsl_permutation_alloc(SIZE);
    gsl_vector_view v = gsl_vector_view_array(x, SIZE);
    int sign;
    for (size_t i = 0; i < SIZE; i++)
        for (size_t j = 0; j < SIZE; j++) gsl_matrix_set(m, i, j, (i == j) - c * jacobian[i * SIZE + j]);
    assert_int_equal(gsl_linalg_LU_decomp(m, p, &sign), 0);
    assert_int_equal(gsl_linalg_LU_svx(m, p, &v.vector), 0);
    gsl_permutation_free(p);
    gsl_matrix_free(m);
}

/* 1e-9 of the largest: the rounding of two eliminations in different orders of matrices of condition up to 1e5. */
static void blocks_solve_as_the_whole(void **state)
{
    unsigned long random = 7;
    (void)state;
    for (size_t block = 1; block <= INNER; block++)
        for (int dense = 0; dense < 2; dense++) {
            dd_newton *newton;
            dd_error error;
            CHECK_OK(dd_newton_create(SIZE, FIRST, dense ? 0 : INNER, &newton, &error), &error);
            for (int draw = 0; draw < 40; draw++) {
                double x[SIZE], expected[SIZE], largest = 0.0;
                const double c = pow(10.0, -3.0 * fabs(next(&random)));
                fill(dd_newton_jacobian(newton), block, &random);
                for (size_t i = 0; i < SIZE; i++) x[i] = expected[i] = next(&random);
                solve_whole(dd_newton_jacobian(newton), c, expected);
                dd_newton_look(newton);
                assert_true(dd_newton_factor(newton, c));
                dd_newton_solve(newton, x);
                for (size_t i = 0; i < SIZE; i++) largest = fmax(largest, fabs(expected[i]));
                for (size_t i = 0; i < SIZE; i++) CHECK_NEAR(x[i], expected[i], 1e-9 * largest);
            }
            dd_newton_free(newton);
        }
}

static void singular_is_told(void **state)
{
    dd_newton *newton;
    dd_error error;
    (void)state;
    CHECK_OK(dd_newton_create(3, 1, 1, &newton, &error), &error);
    double *jacobian = dd_newton_jacobian(newton);
    jacobian[0] = jacobian[8] = -1.0;
    jacobian[4] = 2.0; /* 1 - c 2 is 0 */
    dd_newton_look(newton);
    assert_false(dd_newton_factor(newton, 0.5));
    assert_true(dd_newton_factor(newton, 0.25));
    dd_newton_free(newton);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(blocks_solve_as_the_whole), cmocka_unit_test(singular_is_told)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
