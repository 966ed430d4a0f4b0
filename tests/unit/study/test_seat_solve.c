/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Loads of a hull on its supports, against beams on three supports and against balance. Tolerances and grades stand at each check. */
#include "lib/study/seat_model.h"
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

enum { PIECES = 64 };
static const double g = 9.80665, length = 6, mass = 1200;

/* An even beam along X from 0 to `length` on upright contacts at x[i]. */
static void beam_on(dd_seat_model *s, const double *x, int count, double stiffness, double exponent, double bending_stiffness)
{
    *s = (dd_seat_model){.contact_count = count, .bending_stiffness = bending_stiffness, .up = {0, 0, 1}, .hold = 1e-9};
    for (int i = 0; i < count; i++)
        s->contacts[i] = (dd_seat_contact){.support = i, .at = {x[i], 0, 0}, .push = {0, 0, 1}, .stiffness = stiffness, .exponent = exponent};
    for (int i = 0; i < PIECES; i++) s->masses[s->mass_count++] = (dd_seat_mass){mass / PIECES, {(i + 0.5) * length / PIECES, 0, 0}};
    s->node_count = 49;
    for (int n = 0; n < s->node_count; n++) s->nodes[n] = n * length / (s->node_count - 1);
}

static dd_seat_solution solved(const dd_seat_model *s, const double *raise, const int *without)
{
    dd_seat_solution solution;
    assert_int_equal(dd_seat_solve(s, dd_vec(0, 0, -g), raise, without, &solution, NULL), DD_OK);
    return solution;
}

/* Rigid on three linear springs: equal loads when even; raised by h in the middle: k h (1, -2, 1) / 6 taken from (ends, middle).
   Closed form; tolerance 1e-9 of the weight. */
static void rigid_on_three(void **state)
{
    (void)state;
    const double x[] = {0.5, 3, 5.5}, k = 2e5, raise[] = {0, 0.003, 0}, weight = mass * g;
    dd_seat_model *s = malloc(sizeof *s);
    beam_on(s, x, 3, k, 1, INFINITY);
    dd_seat_solution even = solved(s, NULL, NULL), raised = solved(s, raise, NULL);
    for (int i = 0; i < 3; i++) assert_true(fabs(even.load[i] - weight / 3) < 1e-9 * weight);
    const double change = k * 0.003 / 6;
    assert_true(fabs(raised.load[0] - (weight / 3 - 2 * change)) < 1e-9 * weight);
    assert_true(fabs(raised.load[1] - (weight / 3 + 4 * change)) < 1e-9 * weight);
    assert_true(fabs(raised.load[2] - raised.load[0]) < 1e-9 * weight && even.closure < 1e-9);
    free(s);
}

/* A bending beam on three stiff supports at its ends and middle: 3/16, 10/16, 3/16 of the weight (Euler, handbook of beams);
   moment over the middle w l^2 / 8 of each span, hogging. Weight in 64 lumps and supports of 1e12 N/m: tolerance 3e-4. */
static void bending_on_three(void **state)
{
    (void)state;
    const double x[] = {0, 3, 6}, weight = mass * g;
    dd_seat_model *s = malloc(sizeof *s);
    beam_on(s, x, 3, 1e12, 1, 2e5);
    dd_seat_solution bent = solved(s, NULL, NULL);
    assert_true(fabs(bent.load[0] / weight - 3.0 / 16) < 3e-4);
    assert_true(fabs(bent.load[1] / weight - 10.0 / 16) < 3e-4);
    assert_true(fabs(bent.load[2] / weight - 3.0 / 16) < 3e-4);
    assert_true(fabs(bent.moment[24] - weight / length * 9 / 8) < 3e-4 * weight * length / 8);
    /* Without the middle one: half each, sagging by w L^2 / 8 and 5 w L^4 / (384 E I). */
    const int without[] = {0, 1, 0};
    dd_seat_solution simple = solved(s, NULL, without);
    assert_true(fabs(simple.load[0] - weight / 2) < 1e-9 * weight && simple.load[1] == 0);
    assert_true(fabs(simple.moment[24] + weight * length / 8) < 3e-4 * weight * length / 8);
    const double sag = 5 * weight * length * length * length / (384 * 2e5);
    assert_true(fabs(simple.bend[24] + sag) < 5e-4 * sag);
    free(s);
}

/* Between: on springs of k the middle reaction of an even beam with the supports at ends and middle is
   (5/4 w l^4 / (6 EI) ... ) solved by hand: R2 = W (5/384 L^3/EI + 1/(2k)) / (L^3/(48 EI) + 3/(2k)). Closed form; lumps: 3e-4. */
static void springs_and_bending(void **state)
{
    (void)state;
    const double x[] = {0, 3, 6}, weight = mass * g, k = 3e5, EI = 2e5;
    dd_seat_model *s = malloc(sizeof *s);
    beam_on(s, x, 3, k, 1, EI);
    dd_seat_solution bent = solved(s, NULL, NULL);
    const double cube = length * length * length / EI;
    const double middle = weight * (5.0 / 384 * cube + 0.5 / k) / (cube / 48 + 1.5 / k);
    assert_true(fabs(bent.load[1] - middle) < 3e-4 * weight);
    free(s);
}

/* The 1.5 law: a rigid hull on two supports an eighth and the rest apart obeys statics whatever the law; a lifted stern support
   carries nothing; force and moment close to 1e-9. Closed form. */
static void never_pulls_and_closes(void **state)
{
    (void)state;
    const double x[] = {0.2, 2.5, 2.9, 3.4}, weight = mass * g;
    dd_seat_model *s = malloc(sizeof *s);
    beam_on(s, x, 4, 3e6, 1.5, INFINITY);
    const double raise[] = {-0.05, 0.01, 0, 0.01};
    dd_seat_solution lies = solved(s, raise, NULL);
    double force = 0, moment = 0;
    for (int i = 0; i < 4; i++) {
        assert_true(lies.load[i] >= 0);
        force += lies.load[i];
        moment += lies.load[i] * x[i];
    }
    assert_true(lies.load[0] == 0);
    assert_true(fabs(force - weight) < 1e-9 * weight && fabs(moment - weight * 3) < 1e-9 * weight * length);
    for (int n = 0; n < s->node_count; n += s->node_count - 1) assert_true(fabs(lies.moment[n]) < 1e-9 * weight * length);
    free(s);
}

/* Two rollers on one arm that turns freely share as its levers say. Closed form; 1e-9. */
static void an_arm_shares(void **state)
{
    (void)state;
    const double x[] = {1, 4.4, 5.2}, weight = mass * g;
    dd_seat_model *s = malloc(sizeof *s);
    beam_on(s, x, 3, 3e6, 1.5, INFINITY);
    s->arm_count = 1;
    s->arms[0] = (dd_seat_arm){.least = -0.5, .most = 0.5, .stop_stiffness = 1e5};
    s->contacts[1].arm = s->contacts[2].arm = 1;
    s->contacts[1].lever = -0.3; /* pivot at 4.7 m */
    s->contacts[2].lever = 0.5;
    dd_seat_solution lies = solved(s, NULL, NULL);
    const double front = weight * (3 - 1) / (4.7 - 1);
    assert_true(fabs(lies.load[0] - (weight - front)) < 1e-9 * weight);
    assert_true(fabs(lies.load[1] - front * 0.5 / 0.8) < 1e-9 * weight && fabs(lies.load[2] - front * 0.3 / 0.8) < 1e-9 * weight);
    free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(rigid_on_three), cmocka_unit_test(bending_on_three), cmocka_unit_test(springs_and_bending),
                                       cmocka_unit_test(never_pulls_and_closes), cmocka_unit_test(an_arm_shares)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
