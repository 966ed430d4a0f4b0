/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rolling renews the side grip: relaxation of a single roller, self-centring of a cradle, work over a cycle. */
#include "tests/unit/force/contact_fixture.h"
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>
#include <string.h>

static const double degree = 0.017453292519943295;

static fixture_state straight(double transom, double height)
{
    fixture_state s;
    memset(&s, 0, sizeof s);
    s.pose = (dd_pose){.position = dd_vec(transom, 0, height), .attitude = {0, 0, 0, 1}};
    return s;
}

/* A side deflection under a hull that only rolls decays as exp(-x / l), at any speed. 0.3 % of the exponent: rolling slower
   than 0.1 mm/s does not count, which is 0.1 % and 0.2 % of the speeds here; closed form. */
static void deflection_decays_over_the_relaxation_length(void **state)
{
    (void)state;
    dd_hull *hull = fixture_wedge(0);
    assert_non_null(hull);
    dd_rig rig;
    fixture_rig(&rig);
    fixture_add_roller(&rig, 1, 4, 0.4, 0, 0);
    fixture_force f = fixture_prepare(&dd_force_roller, hull, &rig);
    for (int sign = -1; sign <= 1; sign++) {
        double speed = sign == 0 ? 0 : sign * (sign < 0 ? 0.1 : 0.05), path = 0.03;
        fixture_state s = straight(6, -0.004);
        s.memory[0] = 3e-4;
        s.twist[0] = speed;
        double duration = sign == 0 ? 10 : path / fabs(speed), h = duration / 2000;
        for (int i = 0; i < 2000; i++) { /* midpoint rule, the prismatic hull stays where it is */
            fixture_state half = s;
            double rate = fixture_evaluate(&f, &s).rate[0];
            half.memory[0] += 0.5 * h * rate;
            s.memory[0] += h * fixture_evaluate(&f, &half).rate[0];
        }
        double expected = sign == 0 ? 0 : path / 0.015;
        assert_near(-log(s.memory[0] / 3e-4), expected, sign == 0 ? 1e-12 : 3e-3 * expected);
    }
    f.kind->free(f.instance);
    dd_hull_free(hull);
}

/* Steady side creep under a side load: v = |u| z / l, so F = N stiffness l v / |u|. 0.2 % (as above); closed form. */
static void side_loaded_roller_creeps_with_distance(void **state)
{
    (void)state;
    dd_hull *hull = fixture_wedge(0);
    assert_non_null(hull);
    dd_rig rig;
    fixture_rig(&rig);
    fixture_add_roller(&rig, 1, 4, 0.4, 0, 0);
    fixture_force f = fixture_prepare(&dd_force_roller, hull, &rig);
    fixture_state s = straight(6, -0.004);
    s.twist[0] = 0.2, s.twist[1] = 0.002; /* 1 % creep to port */
    for (int i = 0; i < 20000; i++) s.memory[0] += 1e-4 * fixture_evaluate(&f, &s).rate[0];
    double expected = 2500 * 500 * 0.015 * 0.01;
    assert_near(fixture_evaluate(&f, &s).load.hull[1], -expected, 2e-3 * expected);
    f.kind->free(f.instance);
    dd_hull_free(hull);
}

/* --- self-centring ---------------------------------------------------------------------------------------------- */

/* Offset left after rolling a distance at a speed; sideways motion without inertia: the side speed is the one that
   balances the side forces, which are linear in it. */
static double offset_after(const fixture_force *f, double offset, double speed, double distance)
{
    fixture_state s = straight(6.5, -0.004);
    s.pose.position.y = -offset; /* boat axes: to port */
    s.twist[0] = speed;
    /* standing still first: the bristles take up the load without rolling. z = y balances N stiffness z = K (y0 - z) */
    double pull = fixture_evaluate(f, &s).load.hull[1];
    double by_value[FIXTURE_MEMORY][6], by_twist[FIXTURE_MEMORY][6], value[FIXTURE_MEMORY], grip = 0;
    fixture_gradient(f, &s, by_value, by_twist, value);
    for (int m = 0; m < f->memory_count; m += 2) grip += by_value[m][1] * copysign(1, by_twist[m][1]);
    for (int m = 0; m < f->memory_count; m += 2) s.memory[m] = -pull / grip * copysign(1, by_twist[m][1]);
    const long steps = 4000;
    const double h = distance / speed / (double)steps;
    for (long i = 0; i < steps; i++) {
        fixture_state half = s;
        for (int stage = 0; stage < 2; stage++) { /* midpoint rule */
            fixture_state *at = stage == 0 ? &s : &half;
            at->twist[1] = 0;
            double force = fixture_evaluate(f, at).load.hull[1];
            dd_gradient g = fixture_gradient(f, at, NULL, NULL, NULL);
            at->twist[1] = force / g.D[1][1];
            fixture_result r = fixture_evaluate(f, at);
            double side = at->twist[1];
            fixture_state next = s;
            next.pose.position.y -= (stage == 0 ? 0.5 : 1) * h * side; /* boat's port is the trailer's -y */
            for (int m = 0; m < f->memory_count; m++) next.memory[m] += (stage == 0 ? 0.5 : 1) * h * r.rate[m];
            if (stage == 0)
                half = next;
            else
                s = next;
        }
    }
    return -s.pose.position.y;
}

/* A cradle brings a hull back with distance rolled. Without inertia K y = N_sum stiffness z across the rollers and
   dz/dt = dy/dt - |u| z / l give y = y0 exp(-x / lambda), lambda = N stiffness l / K + l with N the load on the rollers
   counted by the square of their axles' lean: the grip by deflection is sum N stiffness cos(deadrise)^2... taken here
   from the force's own gradients. The design's figure, N stiffness l / K, leaves out the + l. 1 %: the load changes
   with the offset in second order, and creep below 0.1 mm/s; closed form. */
static void cradle_centres_with_distance(void **state)
{
    (void)state;
    dd_hull *hull = fixture_wedge(20 * degree);
    assert_non_null(hull);
    dd_rig rig;
    fixture_rig(&rig);
    fixture_add_cradle(&rig, 3, 20 * degree);
    for (int i = 0; i < rig.roller_count; i++) rig.rollers[i].rolling_resistance = 0;
    fixture_force f = fixture_prepare(&dd_force_roller, hull, &rig);
    fixture_state s = straight(6.5, -0.004);
    dd_gradient g = fixture_gradient(&f, &s, NULL, NULL, NULL);
    double load = 12 * 2500 * pow(cos(20 * degree), 1.5), stiffness = g.K[1][1];
    /* side deflection of a level move y is y cos(deadrise), and its force counts by another cosine */
    double grip = load * 500 * pow(cos(20 * degree), 2);
    double lambda = grip * 0.015 / stiffness + 0.015;
    for (int fast = 0; fast < 2; fast++) {
        double speed = fast ? 0.3 : 0.1, y0 = 1e-4, path = 1.5 * lambda;
        double start = offset_after(&f, y0, speed, 1e-9), end = offset_after(&f, y0, speed, path);
        assert_near(start, y0, 1e-3 * y0);
        assert_near(-log(end / start) * lambda, path, 0.01 * path);
    }
    f.kind->free(f.instance);
    dd_hull_free(hull);
}

/* Standing still a hull off centre stays: its bristles hold, < 1e-9 m in 60 s. */
static void standing_cradle_does_not_centre(void **state)
{
    (void)state;
    dd_hull *hull = fixture_wedge(20 * degree);
    assert_non_null(hull);
    dd_rig rig;
    fixture_rig(&rig);
    fixture_add_cradle(&rig, 3, 20 * degree);
    fixture_force f = fixture_prepare(&dd_force_roller, hull, &rig);
    double start = offset_after(&f, 1e-4, 1e-12, 1e-21), end = offset_after(&f, 1e-4, 1e-12, 60e-12);
    assert_near(end, start, 1e-9);
    f.kind->free(f.instance);
    dd_hull_free(hull);
}

/* --- work over a cycle ------------------------------------------------------------------------------------------ */

/* A hull led round a closed path over the rollers, to and fro, sideways and up and down, always takes work: bristles and
   squash included, from the second cycle on (when every state repeats). */
static void closed_path_takes_work(void **state)
{
    (void)state;
    dd_hull *hull = fixture_curved();
    assert_non_null(hull);
    dd_rig rig;
    fixture_rig(&rig);
    fixture_add_cradle(&rig, 3, 14 * degree);
    fixture_force f = fixture_prepare(&dd_force_roller, hull, &rig);
    for (int phase = 0; phase < 8; phase++) {
        fixture_state s = straight(6, 0);
        const double period = 2, omega = acos(-1.0), h = 1e-4; /* 2 pi / period */
        /* pressed about 4 mm at the foremost */
        double least = INFINITY;
        for (int i = 0; i < rig.roller_count; i++) {
            dd_vec3 p = dd_vec(6 - rig.rollers[i].centre.x, -rig.rollers[i].centre.y, rig.rollers[i].centre.z);
            dd_bottom_point b = dd_hull_bottom(hull, p.x, p.y, rig.rollers[i].side);
            least = fmin(least, b.z - p.z - 0.04 * sqrt(1 + b.zx * b.zx + b.zy * b.zy));
        }
        double height = -least - 0.004, work = 0, taken = 0;
        for (double t = 0; t < 2 * period; t += h) {
            double a = omega * t, b = a + 0.25 * acos(-1.0) * phase;
            s.pose.position = dd_vec(6 - 0.02 * sin(a), -0.003 * sin(b), height + 0.002 * cos(a + 2 * b));
            s.twist[0] = 0.02 * omega * cos(a);
            s.twist[1] = 0.003 * omega * cos(b);
            s.twist[2] = -0.002 * omega * 3 * sin(a + 2 * b);
            fixture_result r = fixture_evaluate(&f, &s);
            for (int m = 0; m < f.memory_count; m++) s.memory[m] += h * r.rate[m];
            double power = 0;
            for (int i = 0; i < 6; i++) power += r.load.hull[i] * s.twist[i];
            if (t >= period) {
                work += h * power;
                taken += h * fabs(power);
            }
        }
        assert_true(taken > 0.1);
        assert_true(work < -0.01 * taken);
    }
    f.kind->free(f.instance);
    dd_hull_free(hull);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(deflection_decays_over_the_relaxation_length),
        cmocka_unit_test(side_loaded_roller_creeps_with_distance),
        cmocka_unit_test(cradle_centres_with_distance),
        cmocka_unit_test(standing_cradle_does_not_centre),
        cmocka_unit_test(closed_path_takes_work),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
