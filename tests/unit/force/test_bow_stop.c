/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bow stop against the line of keel and stem: squash energy and rebound of a boat that comes in, slanted stems, bows that pass
   over, under and beside it, and where a hull is laid against it. */
#include "tests/unit/force/contact_fixture.h"
#include "lib/force/bow_stop.h"
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>
#include <stdlib.h>
#include <string.h>

enum { LOAD, GAP, LIFT, PAST, CHANNELS };
static const double face = 1.1, middle = 0.65; /* of the stop, over the coupling, m: fixture_rig */
static const double whole = 5000 / (0.01 * 0.1); /* its stiffness, N/m^1.5 */

/* A V 6 m long whose keel rises by slope over its last metre; 0: an upright stem. */
static dd_hull *hull_rising(double slope)
{
    dd_hull_parameters *p = malloc(sizeof *p);
    dd_hull *hull = NULL;
    dd_error error;
    assert_non_null(p);
    dd_hull_defaults(p);
    p->mass = 1500;
    p->mass_of = DD_MASS_READY_TO_GO;
    p->engine_power = 0;
    p->lines = DD_LINES_STRAIGHT;
    p->bow_eye_from_transom = 5.5;
    p->bow_eye_height = 0.5 * slope;
    p->station_count = 3;
    const double at[3] = {0, 5, 6};
    for (int i = 0; i < 3; i++)
        p->stations[i] = (dd_station){.at = at[i],
                                      .keel_height = i == 2 ? slope : 0,
                                      .chine_half_breadth = i == 2 ? 0.5 : 0.9,
                                      .chine_height = 0.3 + (i == 2 ? slope : 0),
                                      .sheer_half_breadth = i == 2 ? 0.6 : 1,
                                      .sheer_height = 1.4 + 0.2 * i};
    if (dd_hull_create(p, &hull, &error) != DD_OK) fail_msg("%s: %s", error.place, error.message);
    free(p);
    return hull;
}

typedef struct stand {
    dd_hull *hull;
    dd_rig rig;
    fixture_force force;
} stand;

static void open_stand(stand *s, double slope, double half_height, double damping)
{
    memset(s, 0, sizeof *s);
    s->hull = hull_rising(slope);
    fixture_rig(&s->rig);
    s->rig.trailer.bow_stop.half_height = half_height;
    s->force = fixture_prepare(&dd_force_bow_stop, s->hull, &s->rig);
    if (damping >= 0) { /* with its own coefficient */
        dd_error error;
        s->force.kind->free(s->force.instance);
        assert_int_equal(dd_force_bow_stop.prepare(&s->force.model, &damping, &s->force.instance, &error), DD_OK);
    }
}

static void close_stand(stand *s)
{
    s->force.kind->free(s->force.instance);
    dd_hull_free(s->hull);
}

static fixture_state lying(double x, double offset, double z)
{
    fixture_state s;
    memset(&s, 0, sizeof s);
    s.pose = (dd_pose){.position = dd_vec(x, -offset, z), .attitude = {0, 0, 0, 1}};
    return s;
}

typedef struct blow {
    double deepest, peak, energy, speed, at_end;
} blow;

/* A boat that is free along the trailer only comes in at that speed: Runge and Kutta's rule, until it is clear again. */
static blow comes_in(stand *s, double mass, double speed, double step)
{
    const double start = face + 6;
    blow b = {0};
    double x = start, v = -speed;
    for (int i = 0; i < 2000000 && x <= start; i++) {
        double dx[4], dv[4];
        for (int k = 0; k < 4; k++) {
            const double part = k == 0 ? 0 : k == 3 ? step : 0.5 * step, now = v + (k ? part * dv[k - 1] : 0);
            fixture_state at = lying(x + (k ? part * dx[k - 1] : 0), 0, 0);
            at.twist[0] = -now; /* the boat's +X is the trailer's -X */
            const fixture_result r = fixture_evaluate(&s->force, &at);
            dx[k] = now;
            dv[k] = -r.load.hull[0] / mass;
            b.peak = fmax(b.peak, -r.load.hull[0]);
            b.energy = fmax(b.energy, r.load.energy);
        }
        x += step * (dx[0] + 2 * dx[1] + 2 * dx[2] + dx[3]) / 6;
        v += step * (dv[0] + 2 * dv[1] + 2 * dv[2] + dv[3]) / 6;
        b.deepest = fmax(b.deepest, start - x);
    }
    b.speed = v;
    return b;
}

/* 1500 kg at 1 m/s against an upright stem: all of m v^2 / 2 = 750 J is squashed, so that d = (5 E / 2 k)^(2/5) and the peak is
   k d^1.5; without damping it leaves as fast as it came. 1e-4 of each: the step. Grade: closed form. */
static void squash_takes_the_boats_energy(void **state)
{
    (void)state;
    const double heights[2] = {0.15, 0.05}; /* a block of five bars, a roller */
    for (int h = 0; h < 2; h++) {
        stand s;
        open_stand(&s, 0, heights[h], 0);
        const double energy = 750, depth = pow(2.5 * energy / whole, 0.4), peak = whole * depth * sqrt(depth);
        const blow b = comes_in(&s, 1500, 1, 1e-5);
        print_message("%.2f J, %.2f mm, %.0f N, back at %.6f m/s\n", b.energy, 1e3 * b.deepest, b.peak, b.speed);
        assert_near(b.energy, energy, 1e-4 * energy);
        assert_near(b.deepest, depth, 1e-4 * depth);
        assert_near(b.peak, peak, 1e-4 * peak);
        assert_near(b.speed, 1, 1e-4);
        close_stand(&s);
    }
}

/* With the damping factor 1 + c d', v dv / (1 + c v) = -(k / m) d^1.5 dd: F(v) = v / c - log(1 + c v) / c^2 is the same coming and
   going, F(v0) = F(-v1). 1e-4 of the speeds. Grade: closed form (Hunt and Crossley's law integrated). */
static void rebound_is_damped(void **state)
{
    (void)state;
    const double c = 0.5, v0 = 1, at = v0 / c - log(1 + c * v0) / (c * c);
    double low = 0, high = v0;
    for (int i = 0; i < 80; i++) {
        const double v = 0.5 * (low + high);
        if (-v / c - log(1 - c * v) / (c * c) < at)
            low = v;
        else
            high = v;
    }
    stand s;
    open_stand(&s, 0, 0.15, c);
    const blow b = comes_in(&s, 1500, v0, 1e-5);
    print_message("back at %.6f m/s, closed form %.6f\n", b.speed, low);
    assert_true(low < 0.8 * v0);
    assert_near(b.speed, low, 1e-4 * low);
    assert_near(b.deepest, pow(2.5 * 1500 * at / whole, 0.4), 1e-4 * b.deepest);
    close_stand(&s);
}

/* A roller on a stem that rises at a slope: it pushes at right angles to the stem, by k d^1.5 of the depth across it; the gap is the
   distance across it. 1e-9 of the load, 1e-10 m. Grade: closed form. */
static void a_slanted_stem_is_lifted(void **state)
{
    (void)state;
    for (double slope = 0.5; slope < 1.3; slope += 0.25) {
        stand s;
        double channels[CHANNELS];
        const double length = sqrt(1 + slope * slope), radius = 0.05, d = 0.008;
        open_stand(&s, slope, radius, -1);
        /* the roller's middle under the keel's line at X = 5.5, height slope / 2 */
        const double out = radius - d, p_x = 5.5 + out * slope / length, p_z = 0.5 * slope - out / length;
        fixture_state at = lying(face - radius + p_x, 0, middle - p_z);
        fixture_result r = fixture_evaluate(&s.force, &at);
        const double load = whole * d * sqrt(d);
        fixture_channels(&s.force, &at, channels);
        assert_near(r.load.hull[0], -load * slope / length, 1e-9 * load);
        assert_near(r.load.hull[2], load / length, 1e-9 * load);
        assert_near(r.load.hull[4], 0.5 * slope * r.load.hull[0] - 5.5 * r.load.hull[2], 1e-8 * load);
        assert_near(channels[LOAD], load, 1e-9 * load);
        assert_near(channels[LIFT], load / length, 1e-9 * load);
        assert_near(channels[GAP], -d, 1e-10);
        at.pose.position.x += 0.1; /* seaward along the bed */
        fixture_channels(&s.force, &at, channels);
        assert_near(channels[GAP], 0.1 * slope / length - d, 1e-10);
        close_stand(&s);
    }
}

/* Over it, under it and beside it nothing is held and `past` says so; before it and at it, it does not. Grade: definition. */
static void a_bow_may_miss_its_stop(void **state)
{
    (void)state;
    stand s;
    double channels[CHANNELS];
    open_stand(&s, 1, 0.1, -1);
    const struct {
        double x, offset, z;
        int past;
    } places[] = {
        {face + 6.5, 0, middle - 0.5, 0},         /* afloat before it */
        {face + 5.5, 0, middle - 0.5, 0},         /* at it, by the slant */
        {face + 4.5, 0, middle + 0.2, 1},         /* over it */
        {face + 5.0, 0, middle - 0.1 - 1.9, 1},   /* under it: the stem head stands at 1.8 m */
        {face + 5.5, 0.2, middle - 0.5, 1},       /* beside it */
        {face + 5.5, -0.2, middle - 0.5, 1},
    };
    for (size_t i = 0; i < sizeof places / sizeof places[0]; i++) {
        fixture_state at = lying(places[i].x, places[i].offset, places[i].z);
        const fixture_result r = fixture_evaluate(&s.force, &at);
        fixture_channels(&s.force, &at, channels);
        assert_int_equal(channels[PAST] > 0, places[i].past);
        assert_int_equal(channels[LOAD] > 0, i == 1);
        assert_int_equal(r.load.energy > 0, i == 1);
    }
    /* ridden up it lies on the stop by its keel and is pushed up alone */
    fixture_state on = lying(face + 4, 0, middle + 0.1 - 0.004);
    const fixture_result r = fixture_evaluate(&s.force, &on);
    assert_near(r.load.hull[0], 0, 1e-9);
    assert_true(r.load.hull[2] > 100);
    close_stand(&s);
}

/* Mirrored states give mirrored loads to the last digits; a hollow face pushes a stem off its middle back, a plain one does not. */
static void hollow_centres_the_stem(void **state)
{
    (void)state;
    for (int hollow = 0; hollow < 2; hollow++) {
        stand s;
        open_stand(&s, 1, 0.05, -1);
        s.force.kind->free(s.force.instance);
        s.rig.trailer.bow_stop.hollow = hollow ? 0.03 : 0;
        s.force = fixture_prepare(&dd_force_bow_stop, s.hull, &s.rig);
        fixture_state port = lying(face - 0.05 + 5.55, 0.04, middle - 0.5), starboard = lying(face - 0.05 + 5.55, -0.04, middle - 0.5);
        const fixture_result a = fixture_evaluate(&s.force, &port), b = fixture_evaluate(&s.force, &starboard);
        const double load = fabs(a.load.hull[0]);
        assert_true(load > 100);
        for (int i = 0; i < 6; i++) assert_near(a.load.hull[i], (i == 1 || i == 3 || i == 5 ? -1 : 1) * b.load.hull[i], 1e-12 * load);
        assert_int_equal(a.load.hull[1] < -0.05 * load, hollow); /* to starboard again */
        close_stand(&s);
    }
}

/* Laid against it the gap is none, upright or slanted, level or trimmed; what passes is told. 1e-9 m. Grade: definition. */
static void laid_against_it_the_stem_touches(void **state)
{
    (void)state;
    for (int i = 0; i < 6; i++) {
        stand s;
        double channels[CHANNELS];
        open_stand(&s, 0.4 * (i % 3), 0.12, -1);
        fixture_state at = lying(9, 0, middle - 0.3);
        at.pose.attitude = (dd_quaternion){0, i < 3 ? 0 : 0.02, 0, 1};
        const dd_at_stop touch = dd_bow_stop_touch(&s.force.model, &at.pose);
        assert_true(isfinite(touch.x) && dd_bow_stop_passed(&touch) == 0);
        at.pose.position.x = touch.x;
        fixture_channels(&s.force, &at, channels);
        assert_near(channels[GAP], 0, 1e-9);
        at.pose.position.z = middle + 0.5;
        const dd_at_stop over = dd_bow_stop_touch(&s.force.model, &at.pose);
        assert_int_equal(dd_bow_stop_passed(&over), 1);
        at.pose.position.z = middle - 2.5;
        const dd_at_stop under = dd_bow_stop_touch(&s.force.model, &at.pose);
        assert_int_equal(dd_bow_stop_passed(&under), -1);
        close_stand(&s);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(squash_takes_the_boats_energy),   cmocka_unit_test(rebound_is_damped),
        cmocka_unit_test(a_slanted_stem_is_lifted),        cmocka_unit_test(a_bow_may_miss_its_stop),
        cmocka_unit_test(hollow_centres_the_stem),         cmocka_unit_test(laid_against_it_the_stem_touches),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
