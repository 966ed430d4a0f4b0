/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The least energy of a hull on its supports, by Newton's method with Levenberg's damping: the energy is convex. */
#include "lib/study/seat_model.h"
#include "lib/base/error.h"
#include "lib/ode/gsl.h"
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { SURGE, SWAY, HEAVE, ROLL, PITCH, YAW, RIGID, STEPS = 400 };
static const double rounding = 1e-11; /* of the energy, a sum of parts that cancel */
static const double tight = 1e-12; /* unbalanced force over the weight at which it is solved */

/* The problem with its loads: contacts that are there, their gaps, and each one's row over the unknowns. */
typedef struct problem {
    const dd_seat_model *seat;
    dd_vec3 specific;
    int count, first_arm, first_node; /* of the unknowns; nodes: two each, sag and slope */
    int present[DD_SEAT_CONTACTS];
    double gap[DD_SEAT_CONTACTS];
    double *rows;      /* contacts, then lines: count values each */
    double *force;     /* work of the loads by each unknown */
    double *scale;     /* stiffness by each unknown with every contact slightly squashed: what Levenberg's damping goes by */
    gsl_matrix *hessian, *trial;
    gsl_vector *gradient, *step;
    double weight;
} problem;

static bool bends(const dd_seat_model *seat) { return isfinite(seat->bending_stiffness); }

/* Hermite's functions on the element that holds x (continued straight beyond the ends): values and slopes by sag and slope at its ends. */
static int shape_at(const dd_seat_model *seat, double x, double value[4], double slope[4])
{
    int e = 0;
    while (e + 2 < seat->node_count && x > seat->nodes[e + 1]) e++;
    const double a = seat->nodes[e], length = seat->nodes[e + 1] - a, t = fmin(fmax((x - a) / length, 0), 1), over = x - (a + t * length);
    const double v[4] = {1 + t * t * (2 * t - 3), length * t * (1 + t * (t - 2)), t * t * (3 - 2 * t), length * t * t * (t - 1)};
    const double d[4] = {6 * t * (t - 1) / length, 1 + t * (3 * t - 4), 6 * t * (1 - t) / length, t * (3 * t - 2)};
    for (int i = 0; i < 4; i++) {
        value[i] = v[i] + over * d[i];
        slope[i] = d[i];
    }
    return e;
}

/* d(direction . displacement at a point)/d(unknowns). */
static void fill_row(const problem *p, dd_vec3 at, dd_vec3 direction, double *row)
{
    const dd_vec3 d = direction, moment = dd_cross(at, d);
    memset(row, 0, (size_t)p->count * sizeof *row);
    row[SURGE] = d.x;
    row[SWAY] = d.y;
    row[ROLL] = moment.x;
    row[YAW] = moment.z;
    if (!bends(p->seat)) {
        row[HEAVE] = d.z;
        row[PITCH] = moment.y;
        return;
    }
    double value[4], slope[4];
    const int e = shape_at(p->seat, at.x, value, slope);
    for (int i = 0; i < 4; i++) row[p->first_node + 2 * e + i] = d.z * value[i] - d.x * at.z * slope[i];
}

static double dot(const double *a, const double *b, int count)
{
    double sum = 0;
    for (int i = 0; i < count; i++) sum += a[i] * b[i];
    return sum;
}

static void begin_loads(problem *p)
{
    double *row = p->rows; /* scratch: the rows of the contacts come after */
    memset(p->force, 0, (size_t)p->count * sizeof *p->force);
    p->weight = 0;
    for (int i = 0; i < p->seat->mass_count; i++) {
        const dd_seat_mass *m = &p->seat->masses[i];
        fill_row(p, m->at, dd_scale(m->mass, p->specific), row);
        for (int k = 0; k < p->count; k++) p->force[k] += row[k];
        p->weight += m->mass * dd_norm(p->specific);
    }
}

static void begin_contacts(problem *p, const double *raise, const int *without)
{
    const dd_seat_model *seat = p->seat;
    for (int i = 0; i < seat->contact_count; i++) {
        const dd_seat_contact *c = &seat->contacts[i];
        fill_row(p, c->at, c->push, p->rows + i * p->count);
        p->present[i] = without == NULL || !without[i];
        p->gap[i] = c->gap - (raise != NULL ? raise[i] * dd_dot(c->push, seat->up) : 0);
    }
    for (int i = 0; i < seat->line_count; i++)
        fill_row(p, seat->lines[i].at, seat->lines[i].pull, p->rows + (seat->contact_count + i) * p->count);
}

static void begin_scale(problem *p)
{
    static const double slight = 1e-3; /* m */
    for (int k = 0; k < p->count; k++) p->scale[k] = p->seat->hold;
    for (int i = 0; i < p->seat->contact_count; i++) {
        const dd_seat_contact *c = &p->seat->contacts[i];
        const double stiffness = c->exponent * c->stiffness * pow(slight, c->exponent - 1), *row = p->rows + i * p->count;
        for (int k = 0; k < p->count; k++) p->scale[k] += stiffness * row[k] * row[k];
        if (c->arm > 0) p->scale[p->first_arm + c->arm - 1] += stiffness * c->lever * c->lever;
    }
    double mean = 0; /* what no contact touches is damped as the others are */
    for (int k = 0; k < p->count; k++) mean += p->scale[k] / p->count;
    for (int k = 0; k < p->count; k++) p->scale[k] += 1e-3 * mean;
}

/* Adds s (row + lever at the arm) (row + lever at the arm)^T to the Hessian. */
static void add_square(problem *p, const double *row, int arm, double lever, double s)
{
    int index[16], used = 0;
    double value[16];
    for (int k = 0; k < p->count && used < 15; k++)
        if (row[k] != 0) index[used] = k, value[used++] = row[k];
    if (arm >= 0) index[used] = arm, value[used++] = lever;
    for (int a = 0; a < used; a++) { /* not by gsl_matrix_ptr, whose calls would take as long as all the rest */
        double *line = p->hessian->data + (size_t)index[a] * p->hessian->tda;
        const double each = s * value[a];
        for (int b = 0; b < used; b++) line[index[b]] += each * value[b];
    }
}

static double of_contacts(problem *p, const double *q, bool with_slopes)
{
    double energy = 0;
    for (int i = 0; i < p->seat->contact_count; i++) {
        const dd_seat_contact *c = &p->seat->contacts[i];
        const double *row = p->rows + i * p->count;
        const int arm = c->arm > 0 ? p->first_arm + c->arm - 1 : -1;
        const double d = -p->gap[i] - dot(row, q, p->count) + (arm >= 0 ? c->lever * q[arm] : 0);
        if (!p->present[i] || d <= 0) continue;
        const double load = c->stiffness * pow(d, c->exponent);
        energy += load * d / (c->exponent + 1);
        if (!with_slopes) continue;
        for (int k = 0; k < p->count; k++) p->gradient->data[k] -= load * row[k];
        if (arm >= 0) p->gradient->data[arm] += load * c->lever;
        add_square(p, row, arm, -c->lever, c->exponent * load / d);
    }
    return energy;
}

static double of_lines(problem *p, const double *q, bool with_slopes)
{
    double energy = 0;
    for (int i = 0; i < p->seat->line_count; i++) {
        const dd_seat_line *l = &p->seat->lines[i];
        const double *row = p->rows + (p->seat->contact_count + i) * p->count;
        const double tension = l->tension - l->stiffness * dot(row, q, p->count);
        if (tension <= 0) continue;
        energy += 0.5 * tension * tension / l->stiffness;
        if (!with_slopes) continue;
        for (int k = 0; k < p->count; k++) p->gradient->data[k] -= tension * row[k];
        add_square(p, row, -1, 0, l->stiffness);
    }
    return energy;
}

static double of_arms(problem *p, const double *q, bool with_slopes)
{
    double energy = 0;
    for (int i = 0; i < p->seat->arm_count; i++) {
        const dd_seat_arm *a = &p->seat->arms[i];
        const int at = p->first_arm + i;
        const double over = q[at] > a->most ? q[at] - a->most : q[at] < a->least ? q[at] - a->least : 0;
        if (over == 0) continue;
        const double moment = a->stop_stiffness * pow(fabs(over), 1.5);
        energy += 0.4 * moment * fabs(over);
        if (!with_slopes) continue;
        p->gradient->data[at] += copysign(moment, over);
        *gsl_matrix_ptr(p->hessian, (size_t)at, (size_t)at) += 1.5 * moment / fabs(over);
    }
    return energy;
}

static double of_beam(problem *p, const double *q, bool with_slopes)
{
    double energy = 0;
    const dd_seat_model *seat = p->seat;
    for (int e = 0; bends(seat) && e + 1 < seat->node_count; e++) {
        const double l = seat->nodes[e + 1] - seat->nodes[e], s = seat->bending_stiffness / (l * l * l);
        const double K[4][4] = {{12, 6 * l, -12, 6 * l}, {6 * l, 4 * l * l, -6 * l, 2 * l * l}, {-12, -6 * l, 12, -6 * l}, {6 * l, 2 * l * l, -6 * l, 4 * l * l}};
        const int first = p->first_node + 2 * e;
        for (int a = 0; a < 4; a++) {
            double moment = 0;
            for (int b = 0; b < 4; b++) moment += s * K[a][b] * q[first + b];
            energy += 0.5 * moment * q[first + a];
            if (!with_slopes) continue;
            p->gradient->data[first + a] += moment;
            for (int b = 0; b < 4; b++) *gsl_matrix_ptr(p->hessian, (size_t)(first + a), (size_t)(first + b)) += s * K[a][b];
        }
    }
    return energy;
}

static double energy_of(problem *p, const double *q, bool with_slopes)
{
    if (with_slopes) {
        gsl_matrix_set_zero(p->hessian);
        gsl_vector_set_zero(p->gradient);
    }
    double energy = of_contacts(p, q, with_slopes) + of_lines(p, q, with_slopes) + of_arms(p, q, with_slopes) + of_beam(p, q, with_slopes);
    for (int k = 0; k < p->count; k++) {
        energy += 0.5 * p->seat->hold * q[k] * q[k] - p->force[k] * q[k];
        if (!with_slopes) continue;
        p->gradient->data[k] += p->seat->hold * q[k] - p->force[k];
        *gsl_matrix_ptr(p->hessian, (size_t)k, (size_t)k) += p->seat->hold;
    }
    return energy;
}

static double largest(const gsl_vector *v)
{
    double most = 0;
    for (size_t k = 0; k < v->size; k++) most = fmax(most, fabs(v->data[k]));
    return most;
}

/* Newton's step damped by lambda times the scale. false: no step. */
static bool step_of(problem *p, double lambda)
{
    gsl_matrix_memcpy(p->trial, p->hessian);
    for (int k = 0; k < p->count; k++) *gsl_matrix_ptr(p->trial, (size_t)k, (size_t)k) += lambda * p->scale[k];
    if (gsl_linalg_cholesky_decomp1(p->trial) != 0) return false;
    if (gsl_linalg_cholesky_solve(p->trial, p->gradient, p->step) != 0) return false;
    for (int k = 0; k < p->count; k++)
        if (!isfinite(p->step->data[k])) return false;
    return true;
}

/* *closure: the unbalanced force left, over the weight. Where rounding hides whether the energy falls, that force decides. */
static void descend(problem *p, double *q, double *next, double *closure)
{
    double lambda = 0, energy = energy_of(p, q, true);
    *closure = largest(p->gradient) / p->weight;
    for (int i = 0; i < STEPS && *closure > tight; i++) {
        bool better = false;
        if (step_of(p, lambda)) {
            for (int k = 0; k < p->count; k++) next[k] = q[k] - p->step->data[k];
            const double there = energy_of(p, next, true), left = largest(p->gradient) / p->weight;
            better = there <= energy + 1e-15 * fabs(energy) || (there <= energy + rounding * fabs(energy) && left < *closure);
            if (better) {
                memcpy(q, next, (size_t)p->count * sizeof *q);
                energy = there;
                *closure = left;
            } else {
                energy = energy_of(p, q, true);
            }
        }
        lambda = better ? lambda * 0.1 : fmax(10 * lambda, 1e-6);
        if (better && lambda < 1e-8) lambda = 0;
        if (lambda > 1e9) return;
    }
}

static void read_loads(const problem *p, const double *q, dd_seat_solution *s)
{
    const dd_seat_model *seat = p->seat;
    for (int i = 0; i < seat->contact_count; i++) {
        const dd_seat_contact *c = &seat->contacts[i];
        const double d = -p->gap[i] - dot(p->rows + i * p->count, q, p->count) + (c->arm > 0 ? c->lever * q[p->first_arm + c->arm - 1] : 0);
        s->squash[i] = d;
        s->load[i] = p->present[i] && d > 0 ? c->stiffness * pow(d, c->exponent) : 0;
    }
    for (int i = 0; i < seat->line_count; i++)
        s->tension[i] = fmax(0, seat->lines[i].tension -
                                    seat->lines[i].stiffness * dot(p->rows + (seat->contact_count + i) * p->count, q, p->count));
}

/* Hogging moment at x of all forces forward of it. */
static double moment_at(const problem *p, const dd_seat_solution *s, double x)
{
    const dd_seat_model *seat = p->seat;
    double moment = 0;
    for (int i = 0; i < seat->mass_count; i++) {
        const dd_vec3 at = seat->masses[i].at, f = dd_scale(seat->masses[i].mass, p->specific);
        if (at.x > x) moment += at.z * f.x - (at.x - x) * f.z;
    }
    for (int i = 0; i < seat->contact_count; i++) {
        const dd_vec3 at = seat->contacts[i].at, f = dd_scale(s->load[i], seat->contacts[i].push);
        if (at.x > x) moment += at.z * f.x - (at.x - x) * f.z;
    }
    for (int i = 0; i < seat->line_count; i++) {
        const dd_vec3 at = seat->lines[i].at, f = dd_scale(s->tension[i], seat->lines[i].pull);
        if (at.x > x) moment += at.z * f.x - (at.x - x) * f.z;
    }
    return moment;
}

static void read_shape(const problem *p, const double *q, dd_seat_solution *s)
{
    const dd_seat_model *seat = p->seat;
    for (int k = 0; k < RIGID; k++) s->displacement[k] = q[k];
    for (int i = 0; i < seat->arm_count; i++) s->angle[i] = q[p->first_arm + i];
    if (bends(seat)) { /* the line through the ends of the beam */
        const double *first = q + p->first_node, *last = first + 2 * (seat->node_count - 1), a = seat->nodes[0],
                     length = seat->nodes[seat->node_count - 1] - a, slope = (last[0] - first[0]) / length;
        s->displacement[HEAVE] = first[0] - slope * a;
        s->displacement[PITCH] = -slope;
        for (int n = 0; n < seat->node_count; n++) s->bend[n] = first[2 * n] - (first[0] + slope * (seat->nodes[n] - a));
    }
    for (int n = 0; n < seat->node_count; n++) s->moment[n] = moment_at(p, s, seat->nodes[n]);
}

static void end(problem *p, double *q)
{
    gsl_matrix_free(p->hessian);
    gsl_matrix_free(p->trial);
    gsl_vector_free(p->gradient);
    gsl_vector_free(p->step);
    free(p->rows);
    free(p->force);
    free(p->scale);
    free(q);
}

static bool stands_on(const dd_seat_contact *c, int support, int side) { return c->support == support && (side == 0 || c->side == side); }

void dd_seat_raise(const dd_seat_model *seat, int support, int side, double by, double raise[DD_SEAT_CONTACTS])
{
    for (int i = 0; i < seat->contact_count; i++)
        if (stands_on(&seat->contacts[i], support, side)) raise[i] += by;
}

void dd_seat_take_away(const dd_seat_model *seat, int support, int side, int without[DD_SEAT_CONTACTS])
{
    for (int i = 0; i < seat->contact_count; i++)
        if (stands_on(&seat->contacts[i], support, side)) without[i] = 1;
}

/* Takes memory and finds the least energy; *q is to be freed by end(), also on an error. */
static dd_status solve(problem *p, const double *raise, const int *without, double **q, dd_seat_solution *solution, dd_error *error)
{
    const dd_seat_model *seat = p->seat;
    p->first_arm = RIGID;
    p->first_node = RIGID + seat->arm_count;
    p->count = p->first_node + (bends(seat) ? 2 * seat->node_count : 0);
    const size_t count = (size_t)p->count;
    *solution = (dd_seat_solution){.closure = INFINITY};
    dd_gsl_quiet();
    p->rows = calloc((size_t)(seat->contact_count + seat->line_count + 1) * count, sizeof *p->rows);
    p->force = calloc(count, sizeof *p->force);
    p->scale = calloc(count, sizeof *p->scale);
    p->hessian = gsl_matrix_alloc(count, count);
    p->trial = gsl_matrix_alloc(count, count);
    p->gradient = gsl_vector_alloc(count);
    p->step = gsl_vector_alloc(count);
    *q = calloc(2 * count, sizeof **q);
    if (!p->rows || !p->force || !p->scale || !p->hessian || !p->trial || !p->gradient || !p->step || !*q)
        return dd_fail(error, DD_ERROR_MEMORY, "dd_seat_solve", "no memory for the supports' loads");
    begin_loads(p);
    begin_contacts(p, raise, without);
    begin_scale(p);
    descend(p, *q, *q + count, &solution->closure);
    read_loads(p, *q, solution);
    read_shape(p, *q, solution);
    if (solution->closure > 1e-8)
        return dd_fail(error, DD_ERROR_NO_EQUILIBRIUM, "supports",
                       "the hull does not come to rest on them: %.3g of its weight is left unbalanced", solution->closure);
    return DD_OK;
}

dd_status dd_seat_solve(const dd_seat_model *seat, dd_vec3 specific, const double *raise, const int *without, dd_seat_solution *solution,
                        dd_error *error)
{
    problem p = {.seat = seat, .specific = specific};
    double *q = NULL;
    const dd_status status = solve(&p, raise, without, &q, solution, error);
    end(&p, q);
    return status;
}

/* Load by squash of each contact, N/m, and what the least energy's place does when a height rises, by the Hessian there. */
static void effects_of(problem *p, const dd_seat_height *height, const double *slope, double *effect)
{
    const dd_seat_model *seat = p->seat;
    gsl_vector_set_zero(p->gradient);
    for (int i = 0; i < seat->contact_count; i++) {
        const dd_seat_contact *c = &seat->contacts[i];
        if (slope[i] == 0 || !stands_on(c, height->support, height->side)) continue;
        const double s = slope[i] * dd_dot(c->push, seat->up), *row = p->rows + i * p->count;
        for (int k = 0; k < p->count; k++) p->gradient->data[k] += s * row[k];
        if (c->arm > 0) p->gradient->data[p->first_arm + c->arm - 1] -= s * c->lever;
    }
    gsl_linalg_cholesky_solve(p->trial, p->gradient, p->step);
    for (int i = 0; i < seat->contact_count; i++) {
        const dd_seat_contact *c = &seat->contacts[i];
        const double own = stands_on(c, height->support, height->side) ? dd_dot(c->push, seat->up) : 0;
        const double *moved = p->step->data;
        effect[i] = slope[i] * (own - dot(p->rows + i * p->count, moved, p->count) + (c->arm > 0 ? c->lever * moved[p->first_arm + c->arm - 1] : 0));
    }
}

dd_status dd_seat_effects(const dd_seat_model *seat, dd_vec3 specific, const dd_seat_height *heights, int count, dd_seat_solution *solution,
                          double (*effects)[DD_SEAT_CONTACTS], dd_error *error)
{
    problem p = {.seat = seat, .specific = specific};
    double *q = NULL, slope[DD_SEAT_CONTACTS] = {0};
    dd_status status = solve(&p, NULL, NULL, &q, solution, error);
    if (status == DD_OK) {
        (void)energy_of(&p, q, true);
        for (int i = 0; i < seat->contact_count; i++) {
            const dd_seat_contact *c = &seat->contacts[i];
            if (solution->load[i] > 0) slope[i] = c->exponent * solution->load[i] / pow(solution->load[i] / c->stiffness, 1 / c->exponent);
        }
        for (double lambda = 0; !step_of(&p, lambda) && lambda < 1; lambda = fmax(10 * lambda, 1e-9)) continue; /* leaves the factor in trial */
        for (int h = 0; h < count; h++) effects_of(&p, &heights[h], slope, effects[h]);
    }
    end(&p, q);
    return status;
}
