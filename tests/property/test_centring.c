/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A hull off the middle of its cradle comes back as it rolls along, not as time goes by. */
#include "tests/property/scenarios.h"

/* A straight V of 20 degrees on cradles of 20 degrees with side friction 0.5, dry and level enough; only the hull's sway is free, and it
   rolls along its keel at a set speed. */
typedef struct centring {
    dd_study_model *m;
    dd_ode_problem problem;
    dd_ode *ode;
    double *y, *absolute, *relative;
    double load, stiffness, relaxation_length, bristle_stiffness; /* sum of rollers, N; of the cradle across, N/m; m; 1/m */
} centring;

static int only_sway(double t, const double *y, double *dydt, void *context)
{
    if (dd_system_derivative(t, y, dydt, context) != 0) return 1;
    for (int i = 0; i < DD_RIG_COORDINATES; i++) dydt[DD_STATE_RIG_RATE + i] = 0;
    const dd_workspace *w = context;
    for (int i = 0; i < 6; i++) dydt[DD_STATE_TWIST + i] = 0;
    dydt[DD_STATE_TWIST + 1] = w->hull_load[1] / dd_hull_mass(w->system->model.hull)->mass;
    return 0;
}

static const double deadrise = 20 * M_PI / 180;

static void centring_create(centring *c)
{
    dd_case *scenario = scenario_read("launch", NULL);
    make_prismatic(scenario, deadrise);
    scenario->water.level = -3;
    for (int i = 0; i < scenario->trailer.support_count; i++) {
        dd_support *support = &scenario->trailer.supports[i];
        support->side_friction = 0.5;
        support->squash_at_rated_load = 0.03; /* 8 mm under this boat: 5 mm across is then little */
    }
    *c = (centring){.relaxation_length = scenario->trailer.supports[0].relaxation_length, .bristle_stiffness = 500};
    assert_true(scenario->trailer.supports[1].relaxation_length == c->relaxation_length);
    MUST(dd_study_model_create(scenario, &c->m, error));
    free(scenario);
    dd_equilibrium home;
    MUST(dd_study_home(c->m, 0, DD_FRICTION_NONE, c->m->memory, &home, error));
    const size_t n = (size_t)c->m->system->size;
    c->y = calloc(3 * n, sizeof(double));
    c->absolute = c->y + n;
    c->relative = c->y + 2 * n;
    c->m->workspace->plan.set.strap_hooked = 0;
    home.pose.position.x += 0.2; /* off the bow stop */
    const dd_motion rest = {{0}, {0}};
    dd_system_pack(c->m->system, &home.pose, &rest, c->m->memory, c->y);
    assert_int_equal(dd_system_evaluate(c->m->workspace, 0, c->y, DD_WANT_GRADIENT | DD_WANT_CHANNELS), 0);
    const dd_system_force *rollers = dd_system_find(c->m->system, &dd_force_roller);
    int load = dd_system_channel(c->m->system, &dd_force_roller, 0, "load_N");
    for (int i = 0; i < rollers->unit_count; i++) c->load += c->m->workspace->channels[load + i * rollers->channel_count];
    c->stiffness = c->m->workspace->between_gradient.K[1][1];
}

static void centring_free(centring *c)
{
    dd_ode_free(c->ode);
    free(c->y);
    dd_study_model_free(c->m);
}

static double offset(const centring *c) { return dd_ode_state(c->ode)[DD_STATE_POSITION + 1]; }

/* Sets the hull 5 mm off at rest, lets it come to rest, then rolls it at a speed (> 0: astern) from there. */
static void start(centring *c)
{
    dd_ode_free(c->ode);
    c->ode = NULL;
    dd_system_tolerances(c->m->system, 1e-8, c->absolute, c->relative);
    c->problem = (dd_ode_problem){.size = (size_t)c->m->system->size,
                                  .derivative = only_sway,
                                  .context = c->m->workspace,
                                  .relative_tolerance = 1e-8,
                                  .absolute = c->absolute,
                                  .relative = c->relative,
                                  .largest_step = 0.05};
    double *y = c->y;
    y[DD_STATE_POSITION + 1] = 0.005;
    MUST(dd_ode_create(&dd_stepper_explicit, &c->problem, &c->ode, error));
    MUST(dd_ode_start(c->ode, 0, y, 0, error));
    y[DD_STATE_POSITION + 1] = 0;
}

static void advance(centring *c, double until)
{
    while (dd_ode_time(c->ode) < until) MUST(dd_ode_step(c->ode, until, error));
}

static void roll(centring *c, double speed)
{
    const size_t n = (size_t)c->m->system->size;
    double *y = calloc(n, sizeof *y);
    memcpy(y, dd_ode_state(c->ode), n * sizeof *y);
    y[DD_STATE_TWIST] = -speed;
    MUST(dd_ode_start(c->ode, dd_ode_time(c->ode), y, 0, error));
    free(y);
}

/* Standing still it stays: what it springs back is elastic, S/(S + K) of the 5 mm with S = N sigma0 cos^2(deadrise) (closed form, 3 %: the
   contact is stiffer on the side it leans on), and in a minute after that not 1e-7 m. */
static void standing_still_it_stays(void **state)
{
    (void)state;
    centring c;
    centring_create(&c);
    const double s = c.load * c.bristle_stiffness * cos(deadrise) * cos(deadrise);
    start(&c);
    advance(&c, 5);
    const double rest = offset(&c), expected = 0.005 * s / (s + c.stiffness);
    print_message("standing: springs back to %.4f mm, expected %.4f (S %.3g, K %.3g N/m)\n", 1000 * rest, 1000 * expected, s,
                  c.stiffness);
    NEAR(rest, expected, 0.03 * expected, "elastic way");
    advance(&c, 65);
    NEAR(offset(&c), rest, 1e-7, "stays");
    centring_free(&c);
}

/* Rolled along slowly the bristles z hold K y = S z; fresh surface renews them, z' = y' - z / l, so y = y0 exp(-x / lambda) with lambda =
   S l / K + l, S = N sigma0 cos^2(deadrise) (closed form, design 6). 3 %: contact as above. By distance and not by time: the same at five times the speed
   to 1 %, both ways. */
static void rolling_along_it_comes_back(void **state)
{
    (void)state;
    centring c;
    centring_create(&c);
    const double s = c.load * c.bristle_stiffness * cos(deadrise) * cos(deadrise);
    const double lambda = (s / c.stiffness + 1) * c.relaxation_length;
    const double speeds[] = {0.02, 0.1, -0.02};
    double left[3][3];
    for (int v = 0; v < 3; v++) {
        start(&c);
        advance(&c, 5);
        const double from = dd_ode_time(c.ode), rest = offset(&c);
        roll(&c, speeds[v]);
        for (int i = 0; i < 3; i++) {
            const double distance = 0.1 * (i + 1);
            advance(&c, from + distance / fabs(speeds[v]));
            left[v][i] = offset(&c) / rest;
            print_message("rolled %+.2f m at %.2f m/s: %.4f of the offset left, expected %.4f (lambda %.3f m)\n",
                          copysign(distance, speeds[v]), fabs(speeds[v]), left[v][i], exp(-distance / lambda), lambda);
            NEAR(-distance / log(left[v][i]), lambda, 0.03 * lambda, "lambda");
            NEAR(left[v][i], left[0][i], 0.01, "by distance, not by time");
        }
    }
    centring_free(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(standing_still_it_stays),
                                       cmocka_unit_test(rolling_along_it_comes_back)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
