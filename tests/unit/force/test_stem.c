/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The stem as an edge to a roller met end-on. */
#include "tests/unit/force/contact_fixture.h"
#include "lib/force/contact.h"
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>
#include <string.h>

static const double degree = 0.017453292519943295;

/* Distance of p from the keel line found by looking along it, each 20 um, then halving: closed form but for that. */
static double looked_up(const dd_hull *hull, dd_vec3 p, double from, double to)
{
    double best = INFINITY;
    for (double x = from; x <= to; x += 2e-5) {
        const dd_bottom_point k = dd_hull_stem(hull, x);
        best = fmin(best, hypot(hypot(p.x - x, p.y), p.z - k.z));
    }
    return best;
}

/* Ahead of the stem the distance is that of its nearest place, also where it turns upright. 1e-8 m: of a distance d that is looked up
   every h the error is h^2 / 8 d. Grade: closed form. */
static void distance_is_that_of_the_nearest_place(void **state)
{
    (void)state;
    dd_hull *hull = fixture_curved();
    const dd_stem stem = dd_hull_stem_figures(hull);
    fixture_random random = {7};
    double first, last, worst = 0;
    dd_hull_extent(hull, &first, &last);
    assert_true(stem.from > 0.5 * last && stem.from < last);
    for (int i = 0; i < 60; i++) {
        const double x = stem.from + (last + 0.05 - stem.from) * fixture_uniform(&random), ahead = 0.01 + 0.03 * fixture_uniform(&random);
        const dd_bottom_point k = dd_hull_stem(hull, x);
        const double length = sqrt(1 + k.zx * k.zx), y = 0.5 * ahead * (2 * fixture_uniform(&random) - 1) / tan(stem.half_angle);
        const dd_vec3 p = dd_vec(x + ahead * k.zx / length, y, k.z - ahead / length);
        for (int side = -1; side <= 1; side += 2) {
            dd_nearest n = dd_nearest_stem(hull, side, p, stem.half_angle, 0);
            worst = fmax(worst, fabs(n.distance - looked_up(hull, p, x - 0.05, x + 0.05)));
            assert_true(fabs(dd_norm(n.normal) - 1) < 1e-12);
        }
    }
    print_message("distance from the stem line: %.2g m\n", worst);
    assert_true(worst < 1e-8);
    dd_hull_free(hull);
}

/* On the keel of a V the roller has the keel's distance, not that of a panel carried on under it: at the edge of a steep V that is
   less by 1 - cos(deadrise). 1e-12 of it. Grade: closed form. */
static void keel_is_an_edge_to_a_ball(void **state)
{
    (void)state;
    dd_hull *hull = fixture_wedge(50 * degree);
    const dd_vec3 below = dd_vec(3, 0, -0.03), beside = dd_vec(3, 0.02, -0.01);
    for (int side = -1; side <= 1; side += 2) {
        const dd_bottom_point start = dd_hull_bottom(hull, below.x, below.y, side);
        dd_nearest n = dd_nearest_bottom(hull, side, below, &start, 0);
        assert_true(fabs(n.distance - 0.03) < 1e-12 * 0.03);
    }
    /* beside the keel, within the panel's own reach: the plane's distance */
    const dd_bottom_point start = dd_hull_bottom(hull, beside.x, beside.y, 1);
    dd_nearest n = dd_nearest_bottom(hull, 1, beside, &start, 0);
    assert_true(fabs(n.distance - (0.02 * sin(50 * degree) + 0.01 * cos(50 * degree))) < 1e-12);
    dd_hull_free(hull);
}

/* K, D and the memory's gradients, the energy's gradient and the power on a cradle: 2e-6 of the largest, as for every force. Every
   kind of support met end-on is in test_supports by the rollers' regimes. Grade: closed form. */
static void end_on_gradients_are_exact(void **state)
{
    (void)state;
    static dd_rig rig;
    dd_hull *hull = fixture_curved();
    fixture_rig(&rig);
    fixture_add_cradle(&rig, 3, 20 * degree);
    fixture_force force = fixture_prepare(&dd_force_roller, hull, &rig);
    const dd_regime *regime = dd_force_roller.regimes;
    while (regime->name && strcmp(regime->name, "end-on") != 0) regime++;
    assert_non_null(regime->name);
    fixture_random random = {11};
    double gradient = 0, energy = 0, power = 0;
    int loaded = 0; /* where the stem's cover begins there is next to none */
    for (int i = 0; i < 40; i++) {
        fixture_state drawn = fixture_draw(&force, regime, &random);
        fixture_result result = fixture_evaluate(&force, &drawn);
        loaded += hypot(result.load.hull[0], result.load.hull[2]) > 1;
        gradient = fmax(gradient, fixture_gradient_error(&force, &drawn));
        power = fmax(power, fixture_power_error(&force, &drawn));
        memset(drawn.memory, 0, sizeof drawn.memory);
        energy = fmax(energy, fixture_energy_error(&force, &drawn));
    }
    print_message("%d loaded; K, D %.2g; energy %.2g; power %.2g\n", loaded, gradient, energy, power);
    assert_true(loaded >= 35);
    assert_true(gradient < 2e-6 && energy < 2e-6 && power < 2e-6);
    force.kind->free(force.instance);
    dd_hull_free(hull);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(distance_is_that_of_the_nearest_place),
        cmocka_unit_test(keel_is_an_edge_to_a_ball),
        cmocka_unit_test(end_on_gradients_are_exact),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
