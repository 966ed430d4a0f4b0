/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Loads of hulls on supports drawn at random against programs that share nothing with the solver but the contacts' data: linear, a
   quadratic program solved by its active sets; by power 1.5, NLopt on the energy. Tolerances and grades stand at each check. */
#include "tests/unit/study/seats_drawn.h"
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_randist.h>
#include <math.h>
#include <nlopt.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>

enum { MODELS = 60, UNKNOWNS = 7, ACTIVE_SETS = 64 };
static const double g = 9.80665;

/* On a ramp up or down and across a slope: less than would slide the hull off panels of 5 degrees. */
static dd_vec3 drawn_specific(gsl_rng *rng)
{
    return dd_vec(seat_drawn_in(rng, -1.5, 1.5), seat_drawn_in(rng, -0.1, 0.1), -g);
}

static void row_of(dd_vec3 at, dd_vec3 direction, double lever, double row[UNKNOWNS])
{
    const dd_vec3 turn = dd_cross(at, direction);
    const double values[UNKNOWNS] = {direction.x, direction.y, direction.z, turn.x, turn.y, turn.z, -lever};
    memcpy(row, values, sizeof values);
}

/* A rigid hull's contacts and lines as unilateral springs over the unknowns. */
typedef struct springs {
    int all, count; /* of springs and of unknowns */
    double row[DD_SEAT_CONTACTS + DD_SEAT_LINES][UNKNOWNS], start[DD_SEAT_CONTACTS + DD_SEAT_LINES], k[DD_SEAT_CONTACTS + DD_SEAT_LINES];
    double force[UNKNOWNS], hold;
} springs;

static springs springs_of(const dd_seat_model *s, dd_vec3 specific)
{
    springs p = {.all = s->contact_count + s->line_count, .count = 6 + s->arm_count, .hold = s->hold};
    for (int i = 0; i < s->contact_count; i++) {
        const dd_seat_contact *c = &s->contacts[i];
        row_of(c->at, c->push, c->arm > 0 ? c->lever : 0, p.row[i]);
        p.start[i] = -c->gap;
        p.k[i] = c->stiffness;
    }
    for (int i = 0; i < s->line_count; i++) {
        row_of(s->lines[i].at, s->lines[i].pull, 0, p.row[s->contact_count + i]);
        p.start[s->contact_count + i] = s->lines[i].tension / s->lines[i].stiffness;
        p.k[s->contact_count + i] = s->lines[i].stiffness;
    }
    for (int m = 0; m < s->mass_count; m++) {
        double row[UNKNOWNS];
        row_of(s->masses[m].at, dd_scale(s->masses[m].mass, specific), 0, row);
        for (int a = 0; a < p.count; a++) p.force[a] += row[a];
    }
    return p;
}

/* The place of the hull when the springs of a set, and no others, hold it both ways. false: they do not hold it. */
static bool place_on(const springs *p, const bool *active, gsl_vector *q)
{
    double K[UNKNOWNS * UNKNOWNS] = {0}, f[UNKNOWNS];
    gsl_permutation *order = gsl_permutation_alloc((size_t)p->count);
    memcpy(f, p->force, sizeof f);
    for (int a = 0; a < p->count; a++) K[a * p->count + a] = p->hold;
    for (int i = 0; i < p->all; i++)
        for (int a = 0; a < p->count && active[i]; a++) {
            f[a] += p->k[i] * p->start[i] * p->row[i][a];
            for (int b = 0; b < p->count; b++) K[a * p->count + b] += p->k[i] * p->row[i][a] * p->row[i][b];
        }
    gsl_matrix_view matrix = gsl_matrix_view_array(K, (size_t)p->count, (size_t)p->count);
    gsl_vector_view right = gsl_vector_view_array(f, (size_t)p->count);
    int sign, failed = gsl_linalg_LU_decomp(&matrix.matrix, order, &sign);
    for (int a = 0; a < p->count; a++) failed |= K[a * p->count + a] == 0;
    if (!failed) failed = gsl_linalg_LU_solve(&matrix.matrix, order, &right.vector, q);
    gsl_permutation_free(order);
    return !failed;
}

/* Least energy of linear contacts: a quadratic program. An active set solves it when exactly its springs are squashed where it puts the
   hull (the conditions of Karush, Kuhn and Tucker, one by one); sets are tried, each made of what the one before squashed, and from a
   new one drawn at random when that goes round. */
static bool quadratic_program(gsl_rng *rng, const dd_seat_model *s, dd_vec3 specific, double *load)
{
    const springs p = springs_of(s, specific);
    bool active[DD_SEAT_CONTACTS + DD_SEAT_LINES], settled = false;
    gsl_vector *q = gsl_vector_alloc((size_t)p.count);
    for (int tries = 0; tries < ACTIVE_SETS && !settled; tries++) {
        for (int i = 0; tries % 32 == 0 && i < p.all; i++) active[i] = tries == 0 || gsl_rng_uniform(rng) < 0.7;
        settled = place_on(&p, active, q);
        for (int i = 0; i < p.all; i++) {
            double squash = p.start[i];
            for (int a = 0; a < p.count; a++) squash -= p.row[i][a] * q->data[a];
            settled = settled && active[i] == (squash > 0);
            active[i] = squash > 0;
            load[i] = active[i] ? p.k[i] * squash : 0;
        }
    }
    gsl_vector_free(q);
    return settled;
}

/* Both solve linear algebra of the same condition, about 1e4: tolerance 1e-9 of the weight. Grade: library (GSL's LU). */
static void quadratic(void **state)
{
    (void)state;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    dd_seat_model *s = malloc(sizeof *s);
    double worst = 0;
    for (int i = 0; i < MODELS; i++) {
        const seat_drawn wanted = {.keels = i % 6, .pairs = 2 + i % 11, .linear = 1, .with_arm = i % 3 == 2};
        seat_draw(rng, &wanted, s);
        if (s->arm_count > 0) s->arms[0].least = -1, s->arms[0].most = 1; /* stops out of reach: they are not linear */
        const dd_vec3 specific = drawn_specific(rng);
        double load[DD_SEAT_CONTACTS + DD_SEAT_LINES];
        dd_seat_solution solution;
        assert_int_equal(dd_seat_solve(s, specific, NULL, NULL, &solution, NULL), DD_OK);
        if (!quadratic_program(rng, s, specific, load)) fail_msg("model %d: no active set found", i);
        for (int c = 0; c < s->contact_count; c++) worst = fmax(worst, fabs(load[c] - solution.load[c]) / seat_weight(s, specific));
        for (int l = 0; l < s->line_count; l++)
            worst = fmax(worst, fabs(load[s->contact_count + l] - solution.tension[l]) / seat_weight(s, specific));
    }
    print_message("worst difference from the quadratic program: %.3g of the weight\n", worst);
    assert_true(worst < 1e-9);
    free(s);
    gsl_rng_free(rng);
}

/* Energy of contacts, lines and arm by the data of the model, less the work of the loads; unknowns in mm and mrad. */
typedef struct energy {
    const dd_seat_model *s;
    dd_vec3 specific;
} energy;

static double spent(unsigned count, const double *x, double *slope, void *context)
{
    const energy *e = context;
    const dd_seat_model *s = e->s;
    const springs p = springs_of(s, e->specific);
    double sum = 0, gradient[UNKNOWNS] = {0}, q[UNKNOWNS] = {0};
    for (unsigned a = 0; a < count; a++) {
        q[a] = 1e-3 * x[a];
        sum -= p.force[a] * q[a];
        gradient[a] -= p.force[a];
    }
    for (int i = 0; i < p.all; i++) {
        const double power = i < s->contact_count ? s->contacts[i].exponent : 1;
        double d = p.start[i];
        for (unsigned a = 0; a < count; a++) d -= p.row[i][a] * q[a];
        if (d <= 0) continue;
        sum += p.k[i] * pow(d, power + 1) / (power + 1);
        for (unsigned a = 0; a < count; a++) gradient[a] -= p.k[i] * pow(d, power) * p.row[i][a];
    }
    for (int i = 0; i < s->arm_count; i++) {
        const double over = fmax(0, fmax(q[6 + i] - s->arms[i].most, s->arms[i].least - q[6 + i]));
        sum += 0.4 * s->arms[i].stop_stiffness * pow(over, 2.5);
        gradient[6 + i] += (q[6 + i] > 0 ? 1 : -1) * s->arms[i].stop_stiffness * pow(over, 1.5);
    }
    for (unsigned a = 0; a < count && slope != NULL; a++) slope[a] = 1e-3 * gradient[a];
    return sum;
}

/* *left: what the minimiser leaves unbalanced over the weight (moments over the weight times 1 m). */
static void least_energy(const dd_seat_model *s, dd_vec3 specific, double *load, double *left)
{
    energy e = {s, specific};
    const unsigned count = 6 + (unsigned)s->arm_count;
    double x[UNKNOWNS] = {0}, slope[UNKNOWNS], value;
    for (int again = 0; again < 8; again++) { /* from where it stopped, with its memory of the curvature gone */
        nlopt_opt o = nlopt_create(again % 2 == 0 ? NLOPT_LD_LBFGS : NLOPT_LD_SLSQP, count);
        assert_non_null(o);
        nlopt_set_min_objective(o, spent, &e);
        nlopt_set_xtol_rel(o, 1e-15);
        nlopt_set_maxeval(o, 4000);
        nlopt_optimize(o, x, &value); /* its word on why it stopped is not asked: *left is */
        nlopt_destroy(o);
    }
    spent(count, x, slope, &e);
    *left = 0;
    for (unsigned a = 0; a < count; a++) *left = fmax(*left, 1e3 * fabs(slope[a]) / seat_weight(s, specific));
    const dd_vec3 u = dd_vec(1e-3 * x[0], 1e-3 * x[1], 1e-3 * x[2]), turn = dd_vec(1e-3 * x[3], 1e-3 * x[4], 1e-3 * x[5]);
    const double angle = count > 6 ? 1e-3 * x[6] : 0;
    for (int i = 0; i < s->contact_count; i++)
        load[i] = s->contacts[i].stiffness * pow(fmax(0, seat_squash(s, i, u, turn, &angle)), s->contacts[i].exponent);
}

/* What the minimiser leaves unbalanced is at most 1e-6 of the weight, and loads differ by no more than ten times that and 1e-9: a wrench
   spreads over the contacts with levers of at most a few metres over the least spacing. Grade: library (NLopt). */
static void power(void **state)
{
    (void)state;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    dd_seat_model *s = malloc(sizeof *s);
    double worst = 0, unbalanced = 0;
    for (int i = 0; i < MODELS; i++) {
        const seat_drawn wanted = {.keels = i % 6, .pairs = 2 + i % 11, .with_arm = i % 3 == 2};
        seat_draw(rng, &wanted, s);
        const dd_vec3 specific = drawn_specific(rng);
        double load[DD_SEAT_CONTACTS], left, off = 0;
        dd_seat_solution solution;
        assert_int_equal(dd_seat_solve(s, specific, NULL, NULL, &solution, NULL), DD_OK);
        least_energy(s, specific, load, &left);
        for (int c = 0; c < s->contact_count; c++) off = fmax(off, fabs(load[c] - solution.load[c]) / seat_weight(s, specific));
        if (!(left < 1e-6) || !(off < 10 * left + 1e-9)) fail_msg("model %d: %.3g of the weight off, the minimiser leaves %.3g", i, off, left);
        worst = fmax(worst, off);
        unbalanced = fmax(unbalanced, left);
    }
    print_message("worst difference from the least energy: %.3g of the weight; the minimiser leaves %.3g unbalanced\n", worst, unbalanced);
    free(s);
    gsl_rng_free(rng);
}

/* Forces and moments of any drawn hull close to 1e-9 of the weight; its contacts written in another order bear the same (1e-9). Closed
   form. */
static void closes_in_any_order(void **state)
{
    (void)state;
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    dd_seat_model *s = malloc(sizeof *s);
    double worst = 0, moved = 0;
    for (int i = 0; i < 2 * MODELS; i++) {
        const seat_drawn wanted = {.keels = i % 6, .pairs = 2 + i % 11, .linear = i % 2, .with_arm = i % 3 == 2};
        seat_draw(rng, &wanted, s);
        const dd_vec3 specific = drawn_specific(rng);
        const double weight = seat_weight(s, specific);
        double raise[DD_SEAT_CONTACTS], swapped[DD_SEAT_CONTACTS];
        int without[DD_SEAT_CONTACTS] = {0}, gone[DD_SEAT_CONTACTS], order[DD_SEAT_CONTACTS];
        dd_seat_solution first, second;
        for (int c = 0; c < s->contact_count; c++) {
            order[c] = c;
            raise[c] = seat_drawn_in(rng, -0.002, 0.002);
        }
        if (wanted.keels > 0) without[0] = 1;
        assert_int_equal(dd_seat_solve(s, specific, raise, without, &first, NULL), DD_OK);
        worst = fmax(worst, seat_unbalanced(s, specific, first.load, first.tension));
        assert_true(wanted.keels == 0 || first.load[0] == 0);
        gsl_ran_shuffle(rng, order, (size_t)s->contact_count, sizeof order[0]);
        const dd_seat_model was = *s;
        for (int c = 0; c < s->contact_count; c++) {
            s->contacts[c] = was.contacts[order[c]];
            swapped[c] = raise[order[c]];
            gone[c] = without[order[c]];
        }
        assert_int_equal(dd_seat_solve(s, specific, swapped, gone, &second, NULL), DD_OK);
        for (int c = 0; c < s->contact_count; c++) moved = fmax(moved, fabs(second.load[c] - first.load[order[c]]) / weight);
    }
    print_message("worst unbalanced %.3g of the weight, moved by another order %.3g\n", worst, moved);
    assert_true(worst < 1e-9 && moved < 1e-9);
    free(s);
    gsl_rng_free(rng);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(quadratic), cmocka_unit_test(power), cmocka_unit_test(closes_in_any_order)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
