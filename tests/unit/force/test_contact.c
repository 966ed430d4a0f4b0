/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rollers and bow stop: law, distance, gradients, energy, symmetry. */
#include "lib/force/contact.h"
#include "tests/unit/force/contact_fixture.h"
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>
#include <string.h>

static const double degree = 0.017453292519943295;

typedef struct bench {
    dd_hull *wedge, *curved;
    dd_rig cradle, keel_line, stop;
} bench;

static int set_up(void **state)
{
    static bench b;
    b.wedge = fixture_wedge(20 * degree);
    b.curved = fixture_curved();
    fixture_rig(&b.cradle);
    fixture_add_cradle(&b.cradle, 4, 20 * degree);
    fixture_rig(&b.keel_line);
    for (int i = 0; i < 5; i++) fixture_add_roller(&b.keel_line, 0, 2 + 0.8 * i, 0, 0, 0)->width = 0.12;
    fixture_rig(&b.stop);
    *state = &b;
    return !b.wedge || !b.curved;
}

static int tear_down(void **state)
{
    bench *b = *state;
    dd_hull_free(b->wedge);
    dd_hull_free(b->curved);
    return 0;
}

/* A hull straight over the trailer with its transom at the given place. */
static fixture_state straight(double transom, double height)
{
    fixture_state s;
    memset(&s, 0, sizeof s);
    s.pose = (dd_pose){.position = dd_vec(transom, 0, height), .attitude = {0, 0, 0, 1}};
    return s;
}

/* Squash under load: 2500 N at 4 mm, 2^1.5 times that at 8 mm; on a tilted panel across the normal. Tolerance 1e-12
   (rounding); closed form. */
static void squash_follows_its_law(void **state)
{
    bench *b = *state;
    dd_rig rig;
    fixture_rig(&rig);
    fixture_add_roller(&rig, 1, 4, 0.5, 0.5 * tan(20 * degree), 20 * degree);
    fixture_force f = fixture_prepare(&dd_force_roller, b->wedge, &rig);
    for (int i = 1; i <= 2; i++) {
        fixture_state s = straight(7, -0.004 * i / cos(20 * degree));
        double channels[8];
        fixture_channels(&f, &s, channels);
        double load = 2500 * pow(i, 1.5);
        assert_near(channels[0], load, 1e-10 * load); /* 1e-10: the panel's height cancels against the roller's */
        assert_near(channels[3], 4 * i, 1e-9);
        fixture_result r = fixture_evaluate(&f, &s);
        assert_near(r.load.hull[2], load * cos(20 * degree), 1e-10 * load);  /* boat axes: up */
        assert_near(r.load.hull[1], -load * sin(20 * degree), 1e-10 * load); /* port panel: to starboard */
        assert_near(r.load.energy, 0.4 * load * 0.004 * i, 1e-10 * load);
    }
    f.kind->free(f.instance);
}

/* Never pulls: whatever the speed, the normal load is >= 0 and at rest the damping's factor is exactly 1. */
static void squash_never_pulls(void **state)
{
    (void)state;
    for (double rate = -3; rate < 3; rate += 0.01) assert_true(dd_squash_at(1e7, 6, 0.004, rate).factor >= 0);
    assert_true(dd_squash_at(1e7, 6, 0.004, 0).factor == 1.0);
    assert_true(dd_squash_at(1e7, 6, 0.004, -0.5).factor == 0.0);
    assert_true(dd_squash_at(1e7, 6, -1e-9, 5).elastic == 0.0);
}

/* The true distance: its gradient has length 1 and is the normal; its turning is the normal's derivative.
   Five-point differences of the distance, h 1e-5: tolerance 1e-9 and 1e-6; closed form. */
static void distance_is_a_true_one(void **state)
{
    bench *b = *state;
    for (int i = 0; i < 40; i++) {
        int side = i % 3 - 1;
        dd_vec3 p = dd_vec(0.3 + 0.1 * i, side * 0.4, 0);
        p.z = dd_surface_at(b->curved, side, p.x, p.y).z - 0.05;
        dd_nearest n = dd_nearest_at(b->curved, side, p, dd_surface_at(b->curved, side, p.x, p.y), 1);
        const double normal[3] = {n.normal.x, n.normal.y, n.normal.z}, h = 1e-5;
        assert_near(dd_norm(n.normal), 1, 1e-14);
        for (int j = 0; j < 3; j++) {
            dd_vec3 e = dd_vec(j == 0, j == 1, j == 2);
            dd_nearest at[4];
            for (int m = 0; m < 4; m++) {
                dd_vec3 q = dd_add(p, dd_scale((m < 2 ? h : 2 * h) * (m % 2 == 0 ? 1 : -1), e));
                at[m] = dd_nearest_at(b->curved, side, q, dd_surface_at(b->curved, side, q.x, q.y), 0);
            }
            double slope = (8 * (at[0].distance - at[1].distance) - (at[2].distance - at[3].distance)) / (12 * h);
            assert_near(slope, normal[j], 1e-9);
            dd_vec3 turn = dd_scale(
                1 / (12 * h), dd_sub(dd_scale(8, dd_sub(at[0].normal, at[1].normal)), dd_sub(at[2].normal, at[3].normal)));
            assert_near(turn.x, n.turning.m[0][j], 1e-6);
            assert_near(turn.y, n.turning.m[1][j], 1e-6);
            assert_near(turn.z, n.turning.m[2][j], 1e-6);
        }
    }
}

typedef double check(const fixture_force *force, const fixture_state *state);

static void over_regimes(const dd_force_kind *kind, const dd_hull *hull, const dd_rig *rig, check *measure, int draws,
                         double tolerance)
{
    fixture_force f = fixture_prepare(kind, hull, rig);
    fixture_random random = {12345};
    for (const dd_regime *regime = kind->regimes; regime->name; regime++) {
        double worst = 0, most_energy = 0;
        for (int i = 0; i < draws; i++) {
            fixture_state s = fixture_draw(&f, regime, &random);
            double error = measure(&f, &s);
            assert_true(isfinite(error));
            worst = fmax(worst, error);
            most_energy = fmax(most_energy, fixture_evaluate(&f, &s).load.energy);
        }
        print_message("    %s, %s: %.2g\n", kind->name, regime->name, worst);
        assert_true(worst < tolerance);
        int idle = strcmp(regime->name, "open") == 0 || strcmp(regime->name, "clear") == 0;
        assert_true(idle == (most_energy == 0)); /* each regime is what its name says */
    }
    f.kind->free(f.instance);
}

/* K, D and the memory's gradients against five-point differences: 1e-7 of the largest entry, closed form. The differences'
   own error: (h / d)^4 with h 1e-6 m at squashes d of 5e-5 m and more. */
static void gradients_are_exact(void **state)
{
    bench *b = *state;
    over_regimes(&dd_force_roller, b->wedge, &b->cradle, fixture_gradient_error, 40, 1e-7);
    over_regimes(&dd_force_roller, b->curved, &b->cradle, fixture_gradient_error, 40, 1e-7);
    over_regimes(&dd_force_roller, b->curved, &b->keel_line, fixture_gradient_error, 40, 1e-7);
    over_regimes(&dd_force_bow_stop, b->curved, &b->stop, fixture_gradient_error, 40, 1e-7);
}

static double energy_without_bristles(const fixture_force *force, const fixture_state *state)
{
    fixture_state s = *state;
    memset(s.memory, 0, sizeof s.memory);
    return fixture_energy_error(force, &s);
}

/* Load = -d(energy)/d(displacement): 1e-7 of the largest load (differences at h 1e-6: rounding, (h/d)^4); closed form. */
static void load_is_the_energys_gradient(void **state)
{
    bench *b = *state;
    over_regimes(&dd_force_roller, b->wedge, &b->cradle, energy_without_bristles, 40, 1e-7);
    over_regimes(&dd_force_roller, b->curved, &b->cradle, energy_without_bristles, 40, 1e-7);
    over_regimes(&dd_force_roller, b->curved, &b->keel_line, energy_without_bristles, 40, 1e-7);
    over_regimes(&dd_force_bow_stop, b->curved, &b->stop, energy_without_bristles, 40, 1e-7);
}

/* Power + d(energy)/dt + heat = 0: 1e-6 of the largest part; closed form. */
static void power_balances(void **state)
{
    bench *b = *state;
    over_regimes(&dd_force_roller, b->curved, &b->cradle, fixture_power_error, 40, 1e-6);
    over_regimes(&dd_force_roller, b->curved, &b->keel_line, fixture_power_error, 40, 1e-6);
    over_regimes(&dd_force_bow_stop, b->curved, &b->stop, fixture_power_error, 40, 1e-6);
}

static double negative_heat(const fixture_force *force, const fixture_state *state)
{
    return fmax(0, -fixture_evaluate(force, state).load.heat);
}

/* Roller whose bristles are at rest in the pose they have: the heat of squash and of sliding from z = 0 is never
   negative, nor is the bow stop's ever. Tolerance: none. */
static double negative_heat_from_rest(const fixture_force *force, const fixture_state *state)
{
    fixture_state s = *state;
    memset(s.memory, 0, sizeof s.memory);
    return negative_heat(force, &s);
}
static void contacts_are_passive(void **state)
{
    bench *b = *state;
    over_regimes(&dd_force_bow_stop, b->curved, &b->stop, negative_heat, 200, 1e-300);
    over_regimes(&dd_force_roller, b->curved, &b->cradle, negative_heat_from_rest, 100, 1e-300);
}

static dd_vec3 mirror(dd_vec3 a) { return dd_vec(a.x, -a.y, a.z); }

/* The mirrored state bears the mirrored load: 1e-12 of the largest (rounding of sums in another order); closed form. */
static void port_and_starboard_are_alike(void **state)
{
    bench *b = *state;
    const dd_force_kind *kinds[] = {&dd_force_roller, &dd_force_roller, &dd_force_bow_stop};
    const dd_rig *rigs[] = {&b->cradle, &b->keel_line, &b->stop};
    fixture_random random = {99};
    for (int which = 0; which < 3; which++) {
        fixture_force f = fixture_prepare(kinds[which], b->curved, rigs[which]);
        for (const dd_regime *regime = kinds[which]->regimes; regime->name; regime++)
            for (int draw = 0; draw < 20; draw++) {
                fixture_state s = fixture_draw(&f, regime, &random), m = s;
                m.pose.position = mirror(s.pose.position);
                m.pose.attitude.x = -s.pose.attitude.x, m.pose.attitude.z = -s.pose.attitude.z; /* axis is an axial vector */
                m.pose.attitude.y = s.pose.attitude.y, m.pose.attitude.w = s.pose.attitude.w;
                const double sign[6] = {1, -1, 1, -1, 1, -1};
                for (int i = 0; i < 6; i++) m.twist[i] = sign[i] * s.twist[i];
                for (int i = 0; i < rigs[which]->roller_count; i++) {
                    int other = rigs[which] == &b->cradle ? i ^ 1 : i; /* pairs stand next to one another */
                    m.memory[2 * other] = -s.memory[2 * i];            /* every axle points to the trailer's +y */
                    m.memory[2 * other + 1] = s.memory[2 * i + 1];
                }
                fixture_result a = fixture_evaluate(&f, &s), c = fixture_evaluate(&f, &m);
                double size = 1;
                for (int i = 0; i < 6; i++) size = fmax(size, fabs(a.load.hull[i]));
                for (int i = 0; i < 6; i++) assert_near(c.load.hull[i], sign[i] * a.load.hull[i], 1e-12 * size);
            }
        f.kind->free(f.instance);
    }
}

/* One port roller set 10 mm high heels the hull to starboard: moment about +X, which lifts the port side. */
static void a_high_port_roller_heels_to_starboard(void **state)
{
    bench *b = *state;
    dd_rig rig = b->cradle;
    fixture_force even = fixture_prepare(&dd_force_roller, b->wedge, &rig);
    fixture_state s = straight(6, -0.005);
    double level = fixture_evaluate(&even, &s).load.hull[3];
    assert_near(level, 0, 1e-8); /* rounding of 16 x 2500 N x 0.5 m */
    even.kind->free(even.instance);
    assert_int_equal(rig.rollers[2].side, 1);
    rig.rollers[2].centre.z += 0.010;
    fixture_force high = fixture_prepare(&dd_force_roller, b->wedge, &rig);
    fixture_result r = fixture_evaluate(&high, &s);
    /* squash 5 mm and 15 mm, upright, times cos: load 2500 N (d / 4 mm)^1.5; lever: the centre's place along the panel */
    double c = cos(20 * degree), lean = sin(20 * degree);
    double port = 2500 * pow(15 * c / 4, 1.5) * (0.55 / c + 0.015 * lean);
    double starboard = 2500 * pow(5 * c / 4, 1.5) * (0.55 / c + 0.005 * lean);
    assert_near(r.load.hull[3], port - starboard, 1e-9 * port);
    assert_true(r.load.hull[3] > 0);
    high.kind->free(high.instance);
}

/* A keel that lies further off than half the roller's width misses it; a hull crossing over the other panel is carried by
   that panel. Tolerance: none, and rounding. */
static void contact_is_where_the_hull_is(void **state)
{
    bench *b = *state;
    fixture_force keel = fixture_prepare(&dd_force_roller, b->wedge, &b->keel_line);
    fixture_state on = straight(6.5, -0.004), off = on;
    off.pose.position.y = 0.09;
    assert_true(fixture_evaluate(&keel, &on).load.hull[2] > 1000);
    assert_true(fixture_evaluate(&keel, &off).load.hull[2] == 0);
    keel.kind->free(keel.instance);

    dd_rig rig;
    fixture_rig(&rig);
    fixture_add_roller(&rig, 1, 4, 0.3, 0.3 * tan(20 * degree), 20 * degree);
    fixture_force one = fixture_prepare(&dd_force_roller, b->wedge, &rig);
    /* the trailer's -y is the boat's port: a hull shifted to -0.5 has this port roller 0.2 m on its starboard side */
    fixture_state crossed = straight(6.5, 0);
    crossed.pose.position.y = -0.5;
    dd_vec3 p = dd_vec(2.5, rig.rollers[0].centre.y * -1 - 0.5, rig.rollers[0].centre.z);
    assert_true(p.y < -0.15);
    double surface = -p.y * tan(20 * degree);                                    /* starboard panel over the roller's centre */
    crossed.pose.position.z = p.z - surface + (0.04 - 0.002) / cos(20 * degree); /* squash 2 mm */
    fixture_result r = fixture_evaluate(&one, &crossed);
    assert_near(r.load.hull[1], 2500 * pow(0.5, 1.5) * sin(20 * degree), 1e-6); /* towards port */
    one.kind->free(one.instance);
}

/* Force and its first derivatives go through zero at touch and at the panels' change: over a sweep in 1 um steps no step
   of the load exceeds what the largest stiffness explains; closed form. */
static void load_is_continuous(void **state)
{
    bench *b = *state;
    dd_rig rig;
    fixture_rig(&rig);
    fixture_add_roller(&rig, 1, 4, 0.3, 0.3 * tan(20 * degree), 20 * degree);
    fixture_add_roller(&rig, 0, 4.5, 0, 0, 0)->width = 0.1;
    fixture_force f = fixture_prepare(&dd_force_roller, b->curved, &rig);
    const double h = 1e-5;
    fixture_state s = straight(6, -0.1);
    s.memory[0] = 4e-4;
    double previous[6] = {0}, slope = 0, most = 0;
    for (int i = 0; i < 60000; i++) {
        s.pose.position.y = -0.35 + h * i;
        dd_vec3 p = dd_vec(2, rig.rollers[0].centre.y * -1 + s.pose.position.y, 0);
        s.pose.position.z = rig.rollers[0].centre.z - dd_surface_at(b->curved, p.y < 0 ? -1 : 1, p.x, p.y).z + 0.038;
        fixture_result r = fixture_evaluate(&f, &s);
        dd_gradient g = fixture_gradient(&f, &s, NULL, NULL, NULL);
        for (int j = 0; j < 6; j++) {
            if (i > 0) slope = fmax(slope, fabs(r.load.hull[j] - previous[j]));
            previous[j] = r.load.hull[j];
            for (int m = 0; m < 3; m++) most = fmax(most, fabs(g.K[j][m]));
        }
    }
    assert_true(most > 1e5);
    assert_true(slope < 2 * most * h);
    f.kind->free(f.instance);
}

/* Clear of all rollers a bristle springs back at 20 /s; nothing else acts. */
static void clear_rollers_forget(void **state)
{
    bench *b = *state;
    fixture_force f = fixture_prepare(&dd_force_roller, b->curved, &b->cradle);
    fixture_state s = straight(6, 1);
    s.twist[0] = 0.5, s.twist[1] = 0.2;
    for (int m = 0; m < f.memory_count; m++) s.memory[m] = 1e-4 * (m + 1);
    fixture_result r = fixture_evaluate(&f, &s);
    for (int i = 0; i < 6; i++) assert_true(r.load.hull[i] == 0);
    for (int m = 0; m < f.memory_count; m++) assert_near(r.rate[m], -20 * s.memory[m], 1e-15);
    f.kind->free(f.instance);
}

/* The stop pushes an upright stem aft along the trailer (the boat's -X), by its law, only when the stem is inshore of its face and
   the boat not over it; 1e-9; closed form. */
static void stop_pushes_aft(void **state)
{
    bench *b = *state;
    fixture_force f = fixture_prepare(&dd_force_bow_stop, b->wedge, &b->stop);
    double channels[4];
    fixture_state s = straight(1.1 + 6 - 0.010, 1.1 - 0.45 - 0.7);
    fixture_result r = fixture_evaluate(&f, &s);
    assert_near(r.load.hull[0], -5000, 1e-7); /* 1e-11 of the load */
    assert_near(r.load.hull[4], -5000 * 0.7, 1e-7);
    fixture_channels(&f, &s, channels);
    assert_near(channels[0], 5000, 1e-7);
    assert_near(channels[1], -0.010, 1e-12);
    s.pose.position.x += 0.011;
    assert_true(fixture_evaluate(&f, &s).load.hull[0] == 0);
    s.pose.position.x -= 0.011;
    s.pose.position.z += 0.90;
    assert_true(fixture_evaluate(&f, &s).load.hull[0] == 0);
    f.kind->free(f.instance);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(squash_follows_its_law),
        cmocka_unit_test(squash_never_pulls),
        cmocka_unit_test(distance_is_a_true_one),
        cmocka_unit_test(gradients_are_exact),
        cmocka_unit_test(load_is_the_energys_gradient),
        cmocka_unit_test(power_balances),
        cmocka_unit_test(contacts_are_passive),
        cmocka_unit_test(port_and_starboard_are_alike),
        cmocka_unit_test(a_high_port_roller_heels_to_starboard),
        cmocka_unit_test(contact_is_where_the_hull_is),
        cmocka_unit_test(load_is_continuous),
        cmocka_unit_test(clear_rollers_forget),
        cmocka_unit_test(stop_pushes_aft),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
