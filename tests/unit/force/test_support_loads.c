/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How arms, skids, flanges, cups and brackets carry a load. Grade: closed form, unless said otherwise. */
#include "tests/unit/force/support_rigs.h"
#include "lib/force/roller.h"
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>
#include <string.h>

static const double degree = 0.017453292519943295;
enum { LOAD, SIDE_FORCE, ROLLING_FORCE, SQUASH, ARM_ANGLE, WET_SHARE, ON_BRACKET, BRACKET_LOAD, CHANNELS };

static double channels[CHANNELS * DD_ROLLERS];
static double load_of(int roller) { return channels[CHANNELS * roller + LOAD]; }
static double squash_load(const dd_roller *r, double depth) { return depth > 0 ? r->stiffness * depth * sqrt(depth) : 0; }

/* A hull over the trailer with its transom at the given place, pitched (bow up > 0), rolled and moved to the boat's port. */
static fixture_state over(double transom, double height, double pitch, double roll, double port)
{
    fixture_state s;
    memset(&s, 0, sizeof s);
    dd_quaternion straight = {0, 0, 0, 1}, p = {cos(0.5 * pitch), 0, -sin(0.5 * pitch), 0}, r = {cos(0.5 * roll), sin(0.5 * roll), 0, 0};
    s.pose = (dd_pose){.position = dd_vec(transom, -port, height),
                       .attitude = dd_quaternion_multiply(straight, dd_quaternion_multiply(p, r))};
    return s;
}

static fixture_force prepare(const dd_hull *hull, const dd_rig *rig) { return fixture_prepare(&dd_force_roller, hull, rig); }

static void weightless(dd_rig *rig)
{
    for (int i = 0; i < rig->arm_count; i++) rig->arms[i].mass = 0;
}

/* Two rollers on an arm bear the same, whatever the hull's pitch, which the arm follows: 1e-6 of the load (pivot solved to
   1e-14 rad); the same rollers standing fast bear loads twice and more apart. */
static void arms_across_share_fore_and_aft(void **state)
{
    (void)state;
    dd_hull *hull = fixture_wedge(20 * degree);
    static dd_rig rig, fixed;
    fixture_rig(&rig);
    dd_support s = support_for(DD_SUPPORT_CRADLE, 20 * degree);
    fixed = rig;
    support_place(&fixed, &s);
    s.pivot = DD_PIVOT_ACROSS;
    support_place(&rig, &s);
    weightless(&rig);
    fixture_force f = prepare(hull, &rig), other = prepare(hull, &fixed);
    const double pitch = 0.02;
    fixture_state pose = over(6.5, -0.004 - 2 * tan(pitch), pitch, 0, 0);
    support_rest(&f, &pose);
    fixture_channels(&f, &pose, channels);
    assert_int_equal(rig.arm_count, 4);
    for (int a = 0; a < rig.arm_count; a++) {
        double front = load_of(rig.arms[a].first), rear = load_of(rig.arms[a].first + 1);
        assert_true(front > 1000);
        assert_near(front, rear, 1e-6 * front);
        assert_near(channels[CHANNELS * rig.arms[a].first + ARM_ANGLE], pitch / degree, 1e-6); /* bow up: rear end down */
        assert_near(fixture_evaluate(&f, &pose).rate[dd_roller_arm_first(f.instance) + a], 0, 1e-8);
    }
    fixture_channels(&other, &pose, channels);
    assert_true(load_of(0) > 2 * load_of(1) || load_of(1) > 2 * load_of(0));
    f.kind->free(f.instance);
    other.kind->free(other.instance);
    dd_hull_free(hull);
}

/* An arm along the trailer turns to the panel's own deadrise and shares between inner and outer line: 1e-6. */
static void arms_along_share_in_and_out(void **state)
{
    (void)state;
    dd_hull *hull = fixture_wedge(20 * degree);
    static dd_rig rig;
    fixture_rig(&rig);
    dd_support s = support_for(DD_SUPPORT_CRADLE, 17 * degree); /* 3 degrees flatter than the hull */
    s.pivot = DD_PIVOT_ALONG;
    support_place(&rig, &s);
    weightless(&rig);
    fixture_force f = prepare(hull, &rig);
    fixture_state pose = over(6.5, 0, 0, 0, 0);
    support_rest(&f, &pose);
    for (int i = 0; i < 100; i++) { /* down until 2000 N and more stand on each */
        pose.pose.position.z -= 0.0005;
        support_rest(&f, &pose);
        fixture_channels(&f, &pose, channels);
        if (load_of(0) > 2000) break;
    }
    assert_int_equal(rig.arm_count, 2);
    for (int side = 0; side < 2; side++) {
        int first = rig.arms[side].first;
        for (int row = 0; row < 2; row++) assert_near(load_of(first + row), load_of(first + 2 + row), 1e-6 * load_of(first));
        assert_near(channels[CHANNELS * first + ARM_ANGLE], 3, 1e-4); /* outer end up */
    }
    assert_true(load_of(0) > 2000);
    f.kind->free(f.instance);
    dd_hull_free(hull);
}

/* With both stops at 0 and stiff, an arm stands fast: the loads of the fixed cradle, 1e-6 of the largest. */
static void a_held_arm_is_a_fixed_one(void **state)
{
    (void)state;
    dd_hull *hull = fixture_curved();
    static dd_rig rig, fixed;
    for (int along = 0; along < 2; along++) {
        fixture_rig(&rig);
        fixed = rig;
        dd_support s = support_for(DD_SUPPORT_CRADLE, 18 * degree);
        support_place(&fixed, &s);
        s.pivot = along ? DD_PIVOT_ALONG : DD_PIVOT_ACROSS;
        s.pivot_travel = 0;
        support_place(&rig, &s);
        for (int i = 0; i < rig.arm_count; i++) rig.arms[i].stop_stiffness = 1e18;
        fixture_force f = prepare(hull, &rig), other = prepare(hull, &fixed);
        fixture_random random = {77};
        for (int draw = 0; draw < 20; draw++) {
            fixture_state pose = fixture_draw(&other, &other.kind->regimes[2], &random);
            memset(pose.twist, 0, sizeof pose.twist);
            support_rest(&f, &pose);
            fixture_result held = fixture_evaluate(&f, &pose), stands = fixture_evaluate(&other, &pose);
            for (int i = 0; i < 6; i++) assert_near(held.load.hull[i], stands.load.hull[i], 1e-6 * (1000 + fabs(stands.load.hull[2])));
        }
        f.kind->free(f.instance);
        other.kind->free(other.instance);
    }
    dd_hull_free(hull);
}

/* Moment of the rollers' loads about the rocker's pivot, by hand: each acts along the hull's normal through its axle. */
static double moment_by_hand(const dd_rig *rig, double angle, double pitch, double deadrise)
{
    double sum = 0;
    const dd_arm *arm = &rig->arms[0];
    for (int i = arm->first; i < arm->first + arm->count; i++) {
        double dx = rig->rollers[i].centre.x - arm->pivot.x, dz = rig->rollers[i].centre.z - arm->pivot.z;
        double x = dx * cos(angle) + dz * sin(angle), z = -dx * sin(angle) + dz * cos(angle);
        double fx = -sin(pitch) * cos(deadrise), fz = -cos(pitch) * cos(deadrise); /* on the roller, in the plane of the rocking */
        sum += load_of(i) * (z * fx - x * fz); /* > 0: rear end down */
    }
    return sum;
}

/* A rocker between its stops: its rollers' moment balances its own weight; past a stop the stop's moment is k (angle past)^1.5.
   1e-6 of the moment of one row. Empty, it hangs on its rear stop with the moment of its weight. */
static void rocker_between_and_at_its_stops(void **state)
{
    (void)state;
    dd_hull *hull = fixture_wedge(20 * degree);
    static dd_rig rig;
    fixture_rig(&rig);
    dd_support s = support_for(DD_SUPPORT_ROCKER, 20 * degree);
    s.behind_coupling = 4.5;
    support_place(&rig, &s);
    const dd_arm *arm = &rig.arms[0];
    fixture_force f = prepare(hull, &rig);
    const int theta = dd_roller_arm_first(f.instance);
    const double weight = 25 * DD_STANDARD_GRAVITY * 0.05;
    const double pitches[] = {0, 0.03, -0.1, 0.2, 0.3, -0.2}; /* the last two beyond its travel of 0.25 down, 0.15 up */
    for (int i = 0; i < 6; i++) {
        fixture_state pose = over(6.5, 0.5, pitches[i], 0, 0);
        for (int step = 0; step < 4000; step++) {
            pose.pose.position.z -= 0.0005;
            support_rest(&f, &pose);
            fixture_channels(&f, &pose, channels);
            double sum = 0;
            for (int r = 0; r < rig.roller_count; r++) sum += load_of(r);
            if (sum > 8000) break;
        }
        double angle = pose.memory[theta];
        double moment = moment_by_hand(&rig, angle, pitches[i], 20 * degree) + weight * cos(angle);
        double past = fmax(angle - arm->most, arm->least - angle), size = 8000 * 0.125;
        double stop = past > 0 ? copysign(arm->stop_stiffness * past * sqrt(past), -angle) : 0;
        assert_near(moment + stop, 0, 1e-6 * size);
        assert_true((past > 0) == (i >= 4));
        if (i >= 4) assert_true(fabs(stop) > 50);
    }
    fixture_state clear = over(6.5, 2, 0, 0, 0);
    support_rest(&f, &clear);
    double past = clear.memory[theta] - arm->most;
    assert_near(arm->stop_stiffness * past * sqrt(past), weight * cos(clear.memory[theta]), 1e-6 * weight);
    f.kind->free(f.instance);
    dd_hull_free(hull);
}

/* --- keel rollers ------------------------------------------------------------------------------------------------ */

static void one_keel_roller(dd_rig *rig, int shape)
{
    fixture_rig(rig);
    dd_support s = support_for(DD_SUPPORT_KEEL_ROLLER, 0);
    s.shape = shape;
    s.width = 0.12;
    support_place(rig, &s);
}

/* A keel on a straight roller is pushed across the axle, whatever the hull's heel: no side force from heel. 1e-9 of the load. */
static void heel_gives_no_side_force_on_a_roller(void **state)
{
    (void)state;
    dd_hull *hull = fixture_wedge(20 * degree);
    static dd_rig rig;
    one_keel_roller(&rig, DD_SHAPE_PLAIN);
    fixture_force f = prepare(hull, &rig);
    fixture_state pose = over(6.5, -0.004, 0, 15 * degree, 0);
    dd_vec3 force, moment;
    support_wrench(&f, &pose, &force, &moment);
    double expected = squash_load(&rig.rollers[0], 0.004);
    assert_near(force.z, expected, 1e-9 * expected);
    assert_near(force.y, 0, 1e-9 * expected);
    assert_near(moment.y, -4.5 * expected, 1e-8 * expected); /* 4.5 m behind the coupling */
    f.kind->free(f.instance);
    dd_hull_free(hull);
}

/* Keel held off the middle: on the flange (cup) the radius there is R = R0 + h (3 x^2 - 2 x^3) and its slope R'; the load across
   the axle is k (R - rho)^1.5 and the side force back to the middle that times R'. 1e-9. The most a flange gives is the load across
   times its steepest slope, 1 for a flange: beyond it the keel rides over and is pushed no more. */
static void flange_and_cup_push_back(void **state)
{
    (void)state;
    dd_hull *hull = fixture_wedge(20 * degree);
    static dd_rig rig;
    for (int shape = DD_SHAPE_FLANGED; shape <= DD_SHAPE_CUPPED; shape++) {
        one_keel_roller(&rig, shape);
        fixture_force f = prepare(hull, &rig);
        const double start = shape == DD_SHAPE_CUPPED ? 0 : 0.06, run = shape == DD_SHAPE_CUPPED ? 0.06 : 0.03, h = 0.02;
        double steepest = 0;
        for (double off = 0.001; off < start + run; off += 0.0031) {
            double x = fmax(0, (off - start) / run), rise = h * x * x * (3 - 2 * x), slope = h / run * 6 * x * (1 - x);
            fixture_state pose = over(6.5, rise - 0.004, 0, 0, off);
            dd_vec3 force, moment;
            support_wrench(&f, &pose, &force, &moment);
            double push = squash_load(&rig.rollers[0], 0.004);
            assert_near(force.z, push, 1e-9 * push);
            assert_near(force.y, slope * push, 1e-9 * push); /* off to port (the trailer's -y): pushed to +y */
            steepest = fmax(steepest, force.y / force.z);
        }
        assert_near(steepest, 1.5 * h / run, 0.02); /* 0.02: the sweep's steps; formula */
        fixture_state over_it = over(6.5, h - 0.004, 0, 0, start + run + 1e-4);
        dd_vec3 force, moment;
        support_wrench(&f, &over_it, &force, &moment);
        /* out on the edge only the fade at its end acts, which leads off */
        assert_true(force.z > 0 && force.y <= 0);
        f.kind->free(f.instance);
    }
    dd_hull_free(hull);
}

/* A keel under a steady side load comes to rest where the flange's slope is side load over weight. Newton along y and z on the
   force itself against R'^-1 by hand: 1e-6 m. */
static void flange_holds_a_side_load(void **state)
{
    (void)state;
    dd_hull *hull = fixture_wedge(20 * degree);
    static dd_rig rig;
    one_keel_roller(&rig, DD_SHAPE_FLANGED);
    fixture_force f = prepare(hull, &rig);
    const double weight = 3000, side = 1200;
    fixture_state pose = over(6.5, 0, 0, 0, 0.068);
    for (int i = 0; i < 60; i++) {
        dd_vec3 force, moment;
        support_wrench(&f, &pose, &force, &moment);
        dd_gradient g = fixture_gradient(&f, &pose, NULL, NULL, NULL);
        /* boat axes: y and z; the trailer's y is the boat's -y */
        double fy = -force.y + side, fz = force.z - weight, det = g.K[1][1] * g.K[2][2] - g.K[1][2] * g.K[2][1];
        double y = (g.K[2][2] * fy - g.K[1][2] * fz) / det, z = (g.K[1][1] * fz - g.K[2][1] * fy) / det;
        double scale = fmin(1, 0.001 / fmax(fabs(y), fabs(z)));
        pose.pose.position.y -= scale * y;
        pose.pose.position.z += scale * z;
    }
    double off = -pose.pose.position.y, x = 0.5 * (1 - sqrt(1 - 4 * (side / weight) * 0.03 / 0.02 / 6));
    assert_near(off, 0.06 + 0.03 * x, 1e-6);
    f.kind->free(f.instance);
    dd_hull_free(hull);
}

/* A keel that comes down beside the roller lies on the bracket, as much lower as the bracket is, on 20 times the stiffness; nearer
   than half of the width nothing of it is felt; beyond the bracket nothing at all. 1e-9; the drift limit is practice: half of the
   roller's width. */
static void a_keel_beside_the_roller_lies_on_the_bracket(void **state)
{
    (void)state;
    dd_hull *hull = fixture_wedge(20 * degree);
    static dd_rig rig;
    one_keel_roller(&rig, DD_SHAPE_PLAIN);
    fixture_force f = prepare(hull, &rig);
    fixture_state pose = over(6.5, -0.015 - 0.0005, 0, 0, 0.06 + 0.02 + 0.03);
    fixture_channels(&f, &pose, channels);
    double expected = 20 * squash_load(&rig.rollers[0], 0.0005);
    assert_near(channels[LOAD], expected, 1e-9 * expected);
    assert_near(channels[BRACKET_LOAD], expected, 1e-9 * expected);
    assert_near(channels[ON_BRACKET], 1, 1e-12);
    pose = over(6.5, -0.004, 0, 0, 0.0599);
    fixture_channels(&f, &pose, channels);
    assert_true(channels[BRACKET_LOAD] == 0 && channels[ON_BRACKET] == 0 && channels[LOAD] > 1000);
    pose = over(6.5, -0.02, 0, 0, 0.06 + 0.02 + 0.06 + 0.021);
    fixture_channels(&f, &pose, channels);
    assert_true(channels[LOAD] == 0);
    f.kind->free(f.instance);
    dd_hull_free(hull);
}

/* --- skids ------------------------------------------------------------------------------------------------------- */

static void a_pair_of_skids(dd_rig *rig, double dry, double wet)
{
    fixture_rig(rig);
    dd_support s = support_for(DD_SUPPORT_SKID, 0);
    s.dry_friction = dry;
    s.wet_friction = wet;
    s.width = 0;
    support_place(rig, &s);
}

/* Slides a block of 1200 kg with the skids' own friction down a slope for a time; returns the distance. Its squash is the one its
   weight gives; the hull is flat, so nothing else changes. */
static double slide(const fixture_force *f, double slope, double weight, double duration, double start_speed, double *share)
{
    const double per_place = weight * cos(slope) / 16, k = 6000.0 / 8 / pow(0.006, 1.5), h = 2e-4;
    fixture_state s = over(6.5, -pow(per_place / k, 2.0 / 3), 0, 0, 0);
    double speed = start_speed, path = 0, sum = 0;
    s.twist[0] = -speed; /* seaward: astern */
    for (double t = 0; t < duration; t += h) {
        fixture_result r = fixture_evaluate(f, &s);
        for (int m = 0; m < f->memory_count; m++) s.memory[m] += h * r.rate[m];
        speed += h * (DD_STANDARD_GRAVITY * sin(slope) - r.load.hull[0] / weight * DD_STANDARD_GRAVITY);
        if (start_speed < 0) speed = start_speed;
        path += h * speed;
        s.twist[0] = -speed;
        sum = r.load.hull[0];
    }
    if (share) *share = sum / weight;
    return path;
}

/* A hull on skids holds where the slope is below the friction and slides where it is above: 0.125 on 1:8 (practice P102, exact).
   Held: less than the bristle's 0.25 mm and a bit; sliding at slope tan 0.13: (sin - mu cos) g t^2 / 2 within 4 %
   (the bristle's run-in). */
static void slides_when_the_slope_exceeds_the_friction(void **state)
{
    (void)state;
    dd_hull *hull = fixture_wedge(0);
    static dd_rig rig;
    a_pair_of_skids(&rig, 0.125, 0.125);
    fixture_force f = prepare(hull, &rig);
    const double weight = 1200 * DD_STANDARD_GRAVITY, above = atan(0.14);
    assert_true(slide(&f, atan(0.12), weight, 4, 0, NULL) < 5e-4);
    double expected = 0.5 * DD_STANDARD_GRAVITY * (sin(above) - 0.125 * cos(above)) * 16;
    assert_near(slide(&f, above, weight, 4, 0, NULL), expected, 0.04 * expected);
    f.kind->free(f.instance);
    dd_hull_free(hull);
}

/* Wound up a slope of 12.5 % on skids of 0.25 a hull needs sin + mu cos = 0.372 of its weight (practice P108 and P306: 0.37,
   0.375 +- 0.01); 1e-4 of the formula. */
static void winch_pull_on_skids(void **state)
{
    (void)state;
    dd_hull *hull = fixture_wedge(0);
    static dd_rig rig;
    a_pair_of_skids(&rig, 0.25, 0.25);
    fixture_force f = prepare(hull, &rig);
    double friction, slope = atan(0.125);
    slide(&f, slope, 1200 * DD_STANDARD_GRAVITY, 1, -0.1, &friction);
    assert_near(-friction + sin(slope), sin(slope) + 0.25 * cos(slope), 1e-4);
    assert_near(-friction + sin(slope), 0.375, 0.01);
    f.kind->free(f.instance);
    dd_hull_free(hull);
}

/* Sliding along takes away the grip across: with both at once the friction keeps within the circle, and a side deflection is gone
   within 10 mm of path (some z limits, 0.6 mm here). 1e-3 of the limit. Standing still it stays. */
static void sliding_takes_away_the_grip_across(void **state)
{
    (void)state;
    dd_hull *hull = fixture_wedge(0);
    static dd_rig rig;
    a_pair_of_skids(&rig, 0.3, 0.3);
    fixture_force f = prepare(hull, &rig);
    fixture_state s = over(6.5, -0.006, 0, 0, 0);
    for (int i = 0; i < 32; i += 2) s.memory[i] = 0.9 * 0.3 / 500;
    fixture_state still = s;
    const double weight = 12000;
    for (int i = 0; i < 2000; i++) {
        fixture_result r = fixture_evaluate(&f, &still);
        for (int m = 0; m < f.memory_count; m++) still.memory[m] += 1e-3 * r.rate[m];
    }
    assert_near(fabs(fixture_evaluate(&f, &still).load.hull[1]), 0.9 * 0.3 * weight, 1e-6 * weight);
    s.twist[0] = -0.05;
    for (int i = 0; i < 2000; i++) {
        fixture_result r = fixture_evaluate(&f, &s);
        for (int m = 0; m < f.memory_count; m++) s.memory[m] += 1e-4 * r.rate[m];
        assert_true(hypot(r.load.hull[0], r.load.hull[1]) < 1.02 * 0.3 * weight);
    }
    fixture_result r = fixture_evaluate(&f, &s);
    assert_near(r.load.hull[0], 0.3 * weight, 1e-3 * weight);
    assert_near(r.load.hull[1], 0, 1e-3 * weight);
    f.kind->free(f.instance);
    dd_hull_free(hull);
}

/* A skid that dips gets wet as far as the water comes and stays wet; one that dries at once does not. The places' friction goes
   from dry to wet. 1 mm of length; friction exact at both ends. */
static void skids_get_wet_and_stay_wet(void **state)
{
    (void)state;
    dd_hull *hull = fixture_wedge(0);
    static dd_rig rig;
    for (int stays = 0; stays < 2; stays++) {
        a_pair_of_skids(&rig, 0.4, 0.2);
        rig.trailer.supports[0].stays_wet = rig.skids[0].stays_wet = stays;
        rig.skids[0].rear.z = -0.2, rig.skids[0].along = dd_vec(-cos(0.1), 0, sin(0.1)); /* as on a ramp */
        fixture_force f = prepare(hull, &rig);
        dd_roller_instance *instance = f.instance;
        const int wet = dd_roller_wet_first(instance);
        fixture_state s = over(6.5, -0.006, 0, 0, 0);
        instance->water.level = -0.3;
        fixture_result r = fixture_evaluate(&f, &s);
        assert_true(r.rate[wet] == 0);
        assert_near(dd_roller_friction_limit(instance, 0, DD_ACROSS, s.memory), 0.4, 0);
        instance->water.level = -0.2 + 1.0 * sin(0.1); /* to its middle: 1 m of 2 m */
        for (int i = 0; i < 2000; i++) s.memory[wet] += 1e-3 * fixture_evaluate(&f, &s).rate[wet];
        assert_near(s.memory[wet], 1.0 * (2 + 0.05) / 2, 1e-3);
        assert_near(dd_roller_friction_limit(instance, 0, DD_ACROSS, s.memory), 0.4, 0);  /* foremost */
        assert_near(dd_roller_friction_limit(instance, 7, DD_ROLLING, s.memory), 0.2, 0); /* rearmost */
        instance->water.level = -0.3;
        for (int i = 0; i < 2000; i++) s.memory[wet] += 1e-3 * fixture_evaluate(&f, &s).rate[wet];
        assert_near(s.memory[wet], stays ? 1.0 * (2 + 0.05) / 2 : 0, 1e-3);
        f.kind->free(f.instance);
    }
    dd_hull_free(hull);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(arms_across_share_fore_and_aft),
        cmocka_unit_test(arms_along_share_in_and_out),
        cmocka_unit_test(a_held_arm_is_a_fixed_one),
        cmocka_unit_test(rocker_between_and_at_its_stops),
        cmocka_unit_test(heel_gives_no_side_force_on_a_roller),
        cmocka_unit_test(flange_and_cup_push_back),
        cmocka_unit_test(flange_holds_a_side_load),
        cmocka_unit_test(a_keel_beside_the_roller_lies_on_the_bracket),
        cmocka_unit_test(slides_when_the_slope_exceeds_the_friction),
        cmocka_unit_test(winch_pull_on_skids),
        cmocka_unit_test(sliding_takes_away_the_grip_across),
        cmocka_unit_test(skids_get_wet_and_stay_wet),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
