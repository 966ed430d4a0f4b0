/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The elasto-plastic bristle alone, and under a block on a slope. */
#include "lib/force/bristle.h"
#include "lib/force/smooth.h"
#include "tests/unit/force/contact_fixture.h"
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>

static const dd_bristle_law law = {500, 20, 0.7, 0}, never_falls = {500, 20, 0.7, 1};
static const double gravity = DD_STANDARD_GRAVITY;

/* Derivatives against five-point differences at random states: 1e-7 of each one's scale; closed form. Draws that straddle
   a kink (v = 0 at a yielding bristle) cannot come up: |v| stays above the step. */
static void derivatives_are_exact(void **state)
{
    (void)state;
    fixture_random random = {7};
    const double h[4] = {1e-8, 1e-7, 1e-5, 1e-6};
    for (int i = 0; i < 2000; i++) {
        double limit = 0.03 + 0.6 * fixture_uniform(&random), z_limit = limit / law.stiffness;
        double x[4] = {(2.4 * fixture_uniform(&random) - 1.2) * z_limit, 0.3 * (2 * fixture_uniform(&random) - 1),
                       20 * fixture_uniform(&random), fixture_uniform(&random)};
        if (fabs(x[1]) < 1e-5) continue;
        dd_bristle b = dd_bristle_at(i % 2 ? &never_falls : &law, limit, x[0], x[1], x[2], x[3]);
        const double rate[4] = {b.rate_by_value, b.rate_by_speed, b.rate_by_renewal, b.rate_by_contact};
        const double share[4] = {b.coefficient_by_value, b.coefficient_by_speed, b.coefficient_by_renewal, 0};
        for (int j = 0; j < 4; j++) {
            dd_bristle at[4];
            for (int m = 0; m < 4; m++) {
                double y[4] = {x[0], x[1], x[2], x[3]};
                y[j] += (m < 2 ? h[j] : 2 * h[j]) * (m % 2 == 0 ? 1 : -1);
                at[m] = dd_bristle_at(i % 2 ? &never_falls : &law, limit, y[0], y[1], y[2], y[3]);
            }
            double r = (8 * (at[0].rate - at[1].rate) - (at[2].rate - at[3].rate)) / (12 * h[j]);
            double c = (8 * (at[0].coefficient - at[1].coefficient) - (at[2].coefficient - at[3].coefficient)) / (12 * h[j]);
            /* the smooth step's own curvature jumps: within a step of that a difference is off by h times the jump */
            double jump = j == 0 ? h[0] * 6 * fabs(x[1]) / (0.09 * z_limit * z_limit) : 0;
            assert_near(rate[j], r, 1e-6 * fmax(1, fabs(r)) + 2 * jump);
            assert_near(share[j], c, 1e-6 * fmax(1, fabs(c)) + 2 * law.damping * jump);
        }
    }
}

/* Friction keeps or burns energy, never makes it: heat >= 0 at any deflection, speed and renewal; no tolerance but rounding. */
static void bristle_is_passive(void **state)
{
    (void)state;
    fixture_random random = {8};
    for (int i = 0; i < 200000; i++) {
        double limit = 0.01 + 0.9 * fixture_uniform(&random), z_limit = limit / law.stiffness;
        double z = (2.4 * fixture_uniform(&random) - 1.2) * z_limit, v = 3 * (2 * fixture_uniform(&random) - 1);
        double renewal = 400 * fixture_uniform(&random) * fixture_uniform(&random);
        dd_bristle b = dd_bristle_at(i % 2 ? &never_falls : &law, limit, z, v * fixture_uniform(&random), renewal, 1);
        assert_true(b.heat >= -1e-15);
    }
}

/* An arm without inertia has one rate under one moment only if its friction never falls as the speed grows, at any deflection
   that its limit holds; no tolerance but rounding. The plain law does fall: at z = 0 by 0.1 (1/2 - 2/5) from 5 to 10 mm/s (formula, 1e-12). */
static void friction_of_an_arm_never_falls(void **state)
{
    (void)state;
    fixture_random random = {9};
    for (int i = 0; i < 20000; i++) {
        double limit = 0.01 + 0.9 * fixture_uniform(&random), z_limit = limit / law.stiffness;
        double z = (2 * fixture_uniform(&random) - 1) * z_limit;
        double v = 1 * (2 * fixture_uniform(&random) - 1), faster = v + 0.1 * fixture_uniform(&random) * fixture_uniform(&random);
        assert_true(dd_bristle_at(&never_falls, limit, z, faster, 0, 1).coefficient >=
                    dd_bristle_at(&never_falls, limit, z, v, 0, 1).coefficient - 1e-14);
    }
    double slow = dd_bristle_at(&law, 0.1, 0, 0.005, 0, 1).coefficient, fast = dd_bristle_at(&law, 0.1, 0, 0.01, 0, 1).coefficient;
    assert_near(slow - fast, 0.1 / 2 - 0.2 / 5, 1e-12);
}

/* Steady sliding carries exactly the limit, both ways; 1e-12; closed form. */
static void sliding_carries_the_limit(void **state)
{
    (void)state;
    for (int sign = -1; sign <= 1; sign += 2) {
        double z = 0, h = 1e-5;
        for (int i = 0; i < 200000; i++) z += h * dd_bristle_at(&law, 0.4, z, sign * 0.05, 0, 1).rate;
        assert_near(dd_bristle_at(&law, 0.4, z, sign * 0.05, 0, 1).coefficient, sign * 0.4, 1e-12);
        assert_near(z, sign * 0.4 / 500, 1e-15);
    }
}

/* Of a body that rolls with a side slip, against its own rate over fifty relaxation lengths: 1e-6 of the limit; below the break-away share the length times
   the slip, and never beyond the limit (closed forms). */
static void a_slip_comes_to_its_steady_grip(void **state)
{
    (void)state;
    static const double slips[] = {0, 1e-3, 0.03, 0.05, 0.06, 0.08, 0.3, 3};
    const double limit = 0.5, length = 0.015, speed = 0.1, h = 1e-4;
    for (size_t i = 0; i < sizeof slips / sizeof slips[0]; i++) {
        double z = 0;
        for (double t = 0; t < 50 * length / speed; t += h) z += h * dd_bristle_at(&law, limit, z, slips[i] * speed, speed / length, 1).rate;
        const double steady = dd_bristle_steady(&law, limit, slips[i], length);
        assert_near(steady, z, 1e-6 * limit / law.stiffness);
        assert_true(steady < limit / law.stiffness);
        if (slips[i] * length < 0.7 * limit / law.stiffness) assert_near(steady, slips[i] * length, 1e-15);
    }
    assert_near(dd_bristle_steady(&law, 0, 0.1, length), 0, 0);
}

static void without_friction_nothing_is_left(void **state)
{
    (void)state;
    dd_bristle b = dd_bristle_at(&law, 0, 1e-4, 0.3, 5, 1);
    assert_true(b.coefficient == 0 && b.coefficient_by_speed == 0 && b.coefficient_by_value == 0);
    assert_near(b.rate, -20 * 1e-4, 1e-18);
}

/* --- a block on a slope ----------------------------------------------------------------------------------------- */

typedef struct block {
    double x, v, z;
} block;

/* Pull along the slope per mass, load per mass, time -> rates. */
typedef struct slope {
    double limit, load, pull, shake, frequency;
} slope;

static block rates(const slope *s, double t, const block *y)
{
    dd_bristle b = dd_bristle_at(&law, s->limit, y->z, y->v, 0, 1);
    double pull = s->pull + s->shake * sin(2 * acos(-1.0) * s->frequency * t);
    return (block){y->v, pull - s->load * b.coefficient, b.rate};
}

static block add(const block *a, double h, const block *b)
{
    return (block){a->x + h * b->x, a->v + h * b->v, a->z + h * b->z};
}

/* Classical Runge-Kutta; the bristle's stiffest rate is damping x load, 200 /s, so 2 ms is well inside its stability. */
static block slide(const slope *s, block y, double from, double to, double h)
{
    long steps = lround((to - from) / h);
    for (long i = 0; i < steps; i++) {
        double t = from + h * (double)i;
        block k1 = rates(s, t, &y), y2 = add(&y, h / 2, &k1);
        block k2 = rates(s, t + h / 2, &y2), y3 = add(&y, h / 2, &k2);
        block k3 = rates(s, t + h / 2, &y3), y4 = add(&y, h, &k3);
        block k4 = rates(s, t + h, &y4);
        y = add(&y, h / 6, &k1), y = add(&y, h / 3, &k2), y = add(&y, h / 3, &k3), y = add(&y, h / 6, &k4);
    }
    return y;
}

static slope ramp(double limit)
{
    double angle = atan(1.0 / 8);
    return (slope){limit, gravity * cos(angle), gravity * sin(angle), 0, 1};
}

/* Below the break-away share nothing creeps: 600 s under a constant load, < 1e-9 m after the first 10 s; closed form
   (a bristle below its share is a spring). The same under a 1 Hz shake that stays below it. */
static void no_creep_below_breakaway(void **state)
{
    (void)state;
    slope s = ramp(0.125 / 0.6); /* the slope takes 0.6 of the limit */
    block at_rest = slide(&s, (block){0, 0, 0}, 0, 10, 2e-3), later = slide(&s, at_rest, 10, 610, 2e-3);
    assert_near(later.x, at_rest.x, 1e-9);
    assert_near(later.x, 0.125 / 500, 1e-9); /* the spring's stretch */
    s.shake = 0.05 * s.limit * s.load;
    at_rest = slide(&s, (block){0.125 / 500, 0, 0.125 / 500}, 0, 10, 2e-3);
    later = slide(&s, at_rest, 10, 610, 2e-3);
    assert_near(later.x, at_rest.x, 1e-9);
}

/* Between the share and the limit it yields a little and holds: resistance 0.15 on 1:8 keeps a block within 1 mm for 10
   minutes, and still within 1e-9 m over the last 5; 0.05 lets it run: from the first second on, when the bristle slides
   steadily, the path is a sliding block's to 1e-6 m; closed form. */
static void rolling_resistance_holds_or_runs(void **state)
{
    (void)state;
    slope holds = ramp(0.15), runs = ramp(0.05);
    block half = slide(&holds, (block){0, 0, 0}, 0, 300, 2e-3), end = slide(&holds, half, 300, 600, 2e-3);
    assert_true(fabs(end.x) < 1e-3);
    assert_near(end.x, half.x, 1e-9);
    block going = slide(&runs, (block){0, 0, 0}, 0, 1, 1e-5),
          gone = slide(&runs, going, 1, 5, 1e-5); /* yielding at speed is stiff */
    double acceleration = runs.pull - 0.05 * runs.load;
    assert_near(gone.x, going.x + 4 * going.v + 0.5 * acceleration * 16, 1e-6);
    assert_near(going.x, 0.5 * acceleration, 0.02); /* the bristle's first 0.1 mm yield less than the limit */
}

/* Breaks away at the limit: 0.999 of it holds, 1.001 runs with the excess, 1e-6 m/s over 20 s; closed form. */
static void breaks_away_at_the_limit(void **state)
{
    (void)state;
    slope s = ramp(0.125 / 0.999);
    block a = slide(&s, (block){0, 0, 0}, 0, 60, 1e-3), b = slide(&s, a, 60, 120, 1e-3);
    assert_near(b.x, a.x, 1e-6);
    s = ramp(0.125 / 1.001);
    a = slide(&s, (block){0, 0, 0}, 0, 40, 1e-4), b = slide(&s, a, 40, 60, 1e-4);
    assert_near(b.v - a.v, 20 * (s.pull - s.limit * s.load), 1e-6);
    assert_true(b.v > 0.02);
}

/* The slopes of bristle.h's functions: 1e-6; closed form. */
static void steps_are_smooth(void **state)
{
    (void)state;
    for (double x = -0.3; x < 1.3; x += 0.0107) {
        const double h = 1e-6;
        assert_near(dd_smooth_step(x).slope, (dd_smooth_step(x + h).value - dd_smooth_step(x - h).value) / (2 * h), 1e-5);
        assert_near(dd_smooth_positive(x, 0.1).slope,
                    (dd_smooth_positive(x + h, 0.1).value - dd_smooth_positive(x - h, 0.1).value) / (2 * h), 1e-5);
        assert_near(dd_smooth_absolute(x, 0.1).slope,
                    (dd_smooth_absolute(x + h, 0.1).value - dd_smooth_absolute(x - h, 0.1).value) / (2 * h), 1e-6);
        assert_near(dd_smooth_absolute(x, 0.1).curvature,
                    (dd_smooth_absolute(x + h, 0.1).slope - dd_smooth_absolute(x - h, 0.1).slope) / (2 * h), 1e-6);
    }
    assert_true(dd_smooth_absolute(0, 0.1).value == 0 && dd_smooth_absolute(0, 0.1).slope == 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(derivatives_are_exact),     cmocka_unit_test(bristle_is_passive),
        cmocka_unit_test(friction_of_an_arm_never_falls),
        cmocka_unit_test(sliding_carries_the_limit), cmocka_unit_test(a_slip_comes_to_its_steady_grip), cmocka_unit_test(without_friction_nothing_is_left),
        cmocka_unit_test(no_creep_below_breakaway),  cmocka_unit_test(rolling_resistance_holds_or_runs),
        cmocka_unit_test(breaks_away_at_the_limit),  cmocka_unit_test(steps_are_smooth),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
