/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Jacobian of the equations of motion against differences of the right-hand side, at states along shipped scenarios. */
#include "tests/property/scenarios.h"
#include <gsl/gsl_linalg.h>

/* The size that a state has in a run: m and m/s, rad and rad/s, bristles by their limit. Entries are compared as J_ij size_j / size_i
   relative to the largest of their row, so that metres and radians count alike. */
static double size_of(int state) { return state < DD_STATE_MEMORY ? (state >= DD_STATE_RIG_RATE ? 0.1 : 0.01) : 3e-4; }

/* A coordinate of the rig that the commands hold stays as it is: nothing asks what it would do. */
static int is_held(const dd_workspace *w, int state)
{
    for (int c = DD_RIG_ALWAYS; c < w->system->coordinates; c++)
        if (state == dd_state_rig(w->system, c) || state == dd_state_rig_rate(w->system, c))
            return !dd_rig_coordinate_free(w->system, &w->commands, c);
    return 0;
}

static void differences(dd_workspace *w, double t, const double *y, double *out, int n)
{
    double *at = malloc(5 * (size_t)n * sizeof *at);
    for (int j = 0; j < n; j++) {
        const double h = 1e-6 * size_of(j) * 10;
        const double steps[4] = {h, -h, 2 * h, -2 * h};
        for (int s = 0; s < 4; s++) {
            memcpy(at, y, (size_t)n * sizeof *at);
            at[j] += steps[s];
            assert_int_equal(dd_system_derivative(t, at, at + (s + 1) * n, w), 0);
        }
        for (int i = 0; i < n; i++)
            out[i * n + j] = is_held(w, j) ? 0 : (8 * (at[n + i] - at[2 * n + i]) - (at[3 * n + i] - at[4 * n + i])) / (12 * h);
    }
    free(at);
}

/* What Newton's iteration makes of what is left out: the largest row sum of |(1 - h J)^-1 h (J_differences - J)| in sizes. Below 1 it
   converges, and it shrinks an error by this factor at least. */
static double newton_factor(const double *jacobian, const double *reference, int n, double h)
{
    gsl_matrix *m = gsl_matrix_alloc((size_t)n, (size_t)n);
    gsl_permutation *p = gsl_permutation_alloc((size_t)n);
    gsl_vector *column = gsl_vector_alloc((size_t)n);
    double *sums = calloc((size_t)n, sizeof *sums), most = 0;
    int sign;
    for (int i = 0; i < n; i++)
        for (int j = 0; j < n; j++)
            gsl_matrix_set(m, (size_t)i, (size_t)j, (i == j) - h * jacobian[i * n + j] * size_of(j) / size_of(i));
    assert_int_equal(gsl_linalg_LU_decomp(m, p, &sign), 0);
    for (int j = 0; j < n; j++) {
        for (int i = 0; i < n; i++)
            gsl_vector_set(column, (size_t)i, h * (reference[i * n + j] - jacobian[i * n + j]) * size_of(j) / size_of(i));
        assert_int_equal(gsl_linalg_LU_svx(m, p, column), 0);
        for (int i = 0; i < n; i++) sums[i] += fabs(gsl_vector_get(column, (size_t)i));
    }
    for (int i = 0; i < n; i++) most = fmax(most, sums[i]);
    free(sums);
    gsl_vector_free(column);
    gsl_permutation_free(p);
    gsl_matrix_free(m);
    return most;
}

/* Largest miss among the dominant entries: those of at least a third of their row's largest, in rows that count for Newton at all: h times
   the largest above 1/4 at the longest step of 0.05 s. */
static double dominant_miss(const double *jacobian, const double *reference, int n, int first, int last, int *count)
{
    double worst = 0;
    for (int i = first; i < last; i++) {
        double largest = 0;
        for (int j = 0; j < n; j++) largest = fmax(largest, fabs(reference[i * n + j]) * size_of(j));
        for (int j = 0; j < n; j++)
            if (0.05 * largest / size_of(i) > 0.25 && fabs(reference[i * n + j]) > 0 && fabs(reference[i * n + j]) * size_of(j) > largest / 3) {
                (*count)++;
                worst = fmax(worst, fabs(jacobian[i * n + j] / reference[i * n + j] - 1));
            }
    }
    return worst;
}

/* The heat of forces evaluated alone against their part of an evaluation of all (the other path), to the bit. */
static void heat_is_a_part(dd_workspace *w, double t, const double *y)
{
    double sum = 0;
    assert_int_equal(dd_system_evaluate(w, t, y, 0), 0);
    for (int f = 0; f < w->system->force_count; f++)
        if (w->system->forces[f].kind->passive && w->system->forces[f].kind != &dd_force_roller) sum += w->loads[f].heat;
    assert_true(fabs(sum) > 0);
    const double alone = dd_system_heat(w, t, y, &dd_force_roller);
    assert_memory_equal(&alone, &sum, sizeof sum);
}

typedef struct outcome {
    double rates, memory, newton;
    int dominant;
} outcome;

static outcome check_at(dd_run *run, const char *name)
{
    const int n = run->m->system->size;
    const double t = dd_ode_time(run->ode), h = fmin(dd_ode_step_proposal(run->ode), 0.05);
    double *y = malloc((2 * (size_t)n + 2 * (size_t)n * (size_t)n) * sizeof *y), *jacobian = y + n,
           *reference = jacobian + n * n, *dfdt = reference + n * n;
    assert_non_null(y);
    memcpy(y, dd_ode_state(run->ode), (size_t)n * sizeof *y);
    assert_int_equal(dd_system_jacobian(t, y, jacobian, dfdt, run->m->workspace), 0);
    differences(run->m->workspace, t, y, reference, n);
    heat_is_a_part(run->m->workspace, t, y);
    outcome o = {.newton = newton_factor(jacobian, reference, n, h)};
    o.rates = dominant_miss(jacobian, reference, n, DD_STATE_RIG_RATE, DD_STATE_MEMORY, &o.dominant);
    o.memory = dominant_miss(jacobian, reference, n, DD_STATE_MEMORY, n, &o.dominant);
    print_message("%s at %4.1f s: dominant entries of rates %.1e, of memory %.1e; Newton's factor %.1e at a step of %.1f ms\n",
                  name, t, o.rates, o.memory, o.newton, 1000 * h);
    free(y);
    return o;
}

/* Closed form (the derivative itself, by differences of fourth order). What each force does is held to its own differences, every kind
   of forces.def, in unit/force/test_force_gradients; here what is made of them, on every state, in rigs that slide on skids, are carried by
   pivoting arms and a rocker between guides, roll on a jockey wheel by a rope, or tilt. Dominant entries to a thousandth, and Newton's
   factor, with all that is left, below a hundredth. The moments lie away from where the boat stands on the trailer to 1 um/s: there the
   bristles' yielding has its kink, and differences across it are neither side's slope. */
static void jacobian_is_complete(void **state)
{
    (void)state;
    const struct {
        const char *name;
        double time;
    } moments[] = {{"launch-cross-stream", 4},
                   {"launch-cross-stream", 8},
                   {"launch-cross-stream", 12.5},
                   {"launch-cross-stream", 17},
                   {"launch-cross-stream", 20.5},
                   {"retrieve-cross-stream", 20},
                   {"retrieve-cross-stream", 60},
                   {"rigs/five-skid-launch", 8},
                   {"../tests/property/rocker-stream-launch", 14},
                   {"../tests/property/rocker-stream-launch", 18},
                   {"rigs/four-keel-roller-beach-launch", 40},
                   {"rigs/four-skid-tilt-launch", 10},
                   {"rigs/four-skid-tilt-launch", 20}};
    int dominant = 0;
    dd_case *scenario = NULL;
    dd_run *run = NULL;
    for (size_t i = 0; i < sizeof moments / sizeof moments[0]; i++) {
        if (i == 0 || strcmp(moments[i].name, moments[i - 1].name) != 0) {
            dd_run_free(run);
            free(scenario);
            scenario = scenario_read(moments[i].name, NULL);
            MUST(dd_run_create(scenario, &run, error));
        }
        MUST(run_until(run, moments[i].time, error));
        const outcome o = check_at(run, moments[i].name);
        assert_true(o.rates < 1e-3);
        assert_true(o.memory < 1e-3);
        assert_true(o.newton < 1e-2);
        dominant += o.dominant;
    }
    assert_true(dominant > 400);
    dd_run_free(run);
    free(scenario);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(jacobian_is_complete)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
