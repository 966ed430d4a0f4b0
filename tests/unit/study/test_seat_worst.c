/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The worst load over the tolerance of all heights, against every corner of their box and places inside it. Tolerances and grades
   stand at each check. */
#include "tests/unit/study/seats_drawn.h"
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

enum { MODELS = 40, INSIDE = 400 };
static const double g = 9.80665, tolerance = 0.003;

static void raise_all(const dd_seat_model *s, const dd_seat_height *heights, const double *by, int count, double *raise)
{
    for (int i = 0; i < s->contact_count; i++) raise[i] = 0;
    for (int h = 0; h < count; h++) dd_seat_raise(s, heights[h].support, heights[h].side, by[h], raise);
}

/* Greatest load of one roller of each support with heights raised so, where it is greater than what stands in most[]. */
static void take_greater(const dd_seat_model *s, const dd_seat_height *heights, const double *by, int count, double most[DD_SUPPORTS])
{
    double raise[DD_SEAT_CONTACTS];
    dd_seat_solution solution;
    raise_all(s, heights, by, count, raise);
    assert_int_equal(dd_seat_solve(s, dd_vec(0, 0, -g), raise, NULL, &solution, NULL), DD_OK);
    for (int i = 0; i < s->contact_count; i++)
        if (s->contacts[i].support >= 0) most[s->contacts[i].support] = fmax(most[s->contacts[i].support], solution.load[i]);
}

/* Of 2^heights corners none loads a roller more than what is told, on hulls of up to nine heights, and no place inside the box does
   by more than 1e-9 of the weight. Grade: the program's own equilibrium, every corner of it. */
static void no_corner_is_worse(void **state)
{
    (void)state;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    dd_seat_model *s = malloc(sizeof *s);
    int missed = 0, inside_worse = 0, all = 0;
    double by_corner = 0, by_inside = 0;
    for (int i = 0; i < MODELS; i++) {
        const seat_drawn wanted = {.keels = i % 4, .pairs = 2 + i % 2, .linear = i % 5 == 4, .with_arm = i % 3 == 2};
        seat_draw(rng, &wanted, s);
        dd_seat_height heights[DD_SEAT_HEIGHTS];
        const int count = dd_seat_heights(s, heights);
        const double weight = seat_weight(s, dd_vec(0, 0, -g));
        assert_int_equal(count, wanted.keels + 2 * wanted.pairs);
        double told[DD_SUPPORTS], corners[DD_SUPPORTS] = {0}, inside[DD_SUPPORTS] = {0}, by[DD_SEAT_HEIGHTS];
        assert_int_equal(dd_seat_worst(s, dd_vec(0, 0, -g), tolerance, told, NULL), DD_OK);
        for (int corner = 0; corner < 1 << count; corner++) {
            for (int h = 0; h < count; h++) by[h] = corner >> h & 1 ? tolerance : -tolerance;
            take_greater(s, heights, by, count, corners);
        }
        for (int j = 0; j < INSIDE; j++) {
            for (int h = 0; h < count; h++) by[h] = seat_drawn_in(rng, -tolerance, tolerance);
            take_greater(s, heights, by, count, inside);
        }
        for (int k = 0; k < DD_SUPPORTS; k++) {
            if (corners[k] == 0) continue;
            all++;
            inside_worse += inside[k] > corners[k] + 1e-9 * weight;
            by_corner = fmax(by_corner, fabs(corners[k] - told[k]) / weight);
            by_inside = fmax(by_inside, (inside[k] - corners[k]) / weight);
            missed += fabs(told[k] - corners[k]) > 1e-9 * weight;
        }
    }
    print_message("%d supports: %d missed the worst corner (by up to %.3g of the weight); inside worse %d (%.3g)\n", all, missed, by_corner, inside_worse, by_inside);
    assert_in_range(all, 100, 1000);
    assert_int_equal(missed, 0);
    assert_int_equal(inside_worse, 0);
    free(s);
    gsl_rng_free(rng);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(no_corner_is_worse)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
