/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The winch by itself: drum, handle, motor, and the published rules for its rating. */
#include "lib/base/sources.h"
#include "lib/rig/winch.h"
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <cmocka.h>

#include "tests/unit/near.h"

static dd_winch_parameters winch_of(int kind, int drive)
{
    dd_winch_parameters w;
    memset(&w, 0, sizeof w);
    dd_trailer_parameters t;
    dd_trailer_defaults(&t);
    w = t.winch;
    w.kind = kind, w.drive = drive;
    dd_winch_complete(&w);
    return w;
}

/* 2000 N on a drum of 25 mm, layers of 1.5 mm, 5:1, handle 0.23 m, efficiency 0.75: 59.710 N on the first layer and 91.014 N on the
   tenth, ten layers hold 2.04204 m. To the printed digits; closed form. */
static void layers_build_up(void **state)
{
    (void)state;
    dd_winch_parameters w = winch_of(DD_LINE_OF_STRAP, DD_DRIVE_HAND);
    w.drum_radius = 0.025, w.strap_thickness = 0.0015, w.gear_ratio = 5, w.handle_length = 0.23, w.efficiency = 0.75;
    NEAR(dd_winch_handle_force(&w, 2000, 0), 59.710, 5e-4);
    NEAR(dd_winch_handle_force(&w, 2000, 2.04204), 91.014, 1e-3); /* printed cut off */
    NEAR(dd_winch_lever(&w, 2.04204) / dd_winch_lever(&w, 0), 1.52427, 5e-6);
    /* the slope, by differences: 1e-8 of it */
    for (double wound = 0.3; wound < 3; wound += 0.3) {
        const double h = 1e-5, slope = (dd_winch_lever(&w, wound + h) - dd_winch_lever(&w, wound - h)) / (2 * h);
        NEAR(dd_winch_lever_slope(&w, wound), slope, 1e-8 * slope);
    }
    assert_true(dd_winch_lever_slope(&w, 0.01) == 0 && dd_winch_lever_slope(&w, -1) == 0);
}

/* A deck winch: handle 8 in, drum 2 in, gear 7:1, 30 lb at the handle: 840 lb, no loss. 1e-12; published, practice of sailors'
   magazine. The bare drum: a line without thickness. */
static void deck_winch_multiplies(void **state)
{
    (void)state;
    dd_winch_parameters w = winch_of(DD_LINE_OF_ROPE, DD_DRIVE_HAND);
    w.drum_radius = 2 * 0.0254, w.strap_thickness = 0, w.gear_ratio = 7, w.handle_length = 8 * 0.0254, w.efficiency = 1;
    NEAR(dd_winch_handle_force(&w, 840, 0), 30, 30e-12);
}

/* A retailer's ratings by layer (lb): the lever law with one thickness over radius for each winch stays within 8 % of the first
   layer's rating of every row. It cannot be closer: the retailer's figures fall along a straight line (about 10 % a layer), a
   lever's rating falls ever more slowly. Published. */
static void ratings_fall_by_layer(void **state)
{
    (void)state;
    static const double rows[3][6] = {{600, 540, 480, 420, 360, 300}, {900, 810, 750, 690, 600, 510}, {1200, 1000, 960, 840, 720, 600}};
    for (int k = 0; k < 3; k++) {
        double best = INFINITY;
        for (double ratio = 0.02; ratio < 0.5; ratio += 0.005) {
            dd_winch_parameters w = winch_of(DD_LINE_OF_STRAP, DD_DRIVE_HAND);
            w.drum_radius = 0.025, w.strap_thickness = ratio * 0.025;
            double worst = 0;
            for (int n = 1; n <= 6; n++) {
                const double outer = w.drum_radius + n * w.strap_thickness;
                const double wound = acos(-1.0) * (outer * outer - w.drum_radius * w.drum_radius) / w.strap_thickness;
                const double share = dd_winch_lever(&w, 0) / dd_winch_lever(&w, wound);
                worst = fmax(worst, fabs(share - rows[k][n - 1] / rows[k][0]));
            }
            best = fmin(best, worst);
        }
        NEAR(best, 0, 0.08);
    }
}

/* A wire lies turn beside turn: a layer of it holds 2 pi r times the turns that fit; 1e-12, closed form. */
static void wire_lies_turn_beside_turn(void **state)
{
    (void)state;
    dd_winch_parameters w = winch_of(DD_LINE_OF_WIRE, DD_DRIVE_HAND);
    assert_true(w.strap_thickness == 0.005 && w.strap_stretch_at_rating == 0.01);
    const double turns = w.drum_width / w.strap_thickness, pi = acos(-1.0);
    double wound = 0;
    for (int n = 1; n <= 4; n++) {
        const double middle = w.drum_radius + (n - 0.5) * w.strap_thickness;
        wound += 2 * pi * middle * turns;
        NEAR(dd_winch_lever(&w, wound), middle, 1e-12);
    }
    dd_winch_parameters rope = winch_of(DD_LINE_OF_ROPE, DD_DRIVE_HAND), strap = winch_of(DD_LINE_OF_STRAP, DD_DRIVE_HAND);
    assert_true(rope.strap_thickness == 0.010 && rope.strap_stretch_at_rating == 0.05);
    assert_true(strap.strap_thickness == 0.0015 && strap.strap_stretch_at_rating == 0.07);
}

/* An electric winch: half the speed at its rating, so it stands at twice the rating. Exact. */
static void motor_stalls(void **state)
{
    (void)state;
    dd_winch_parameters w = winch_of(DD_LINE_OF_STRAP, DD_DRIVE_ELECTRIC);
    w.rating = 9000;
    NEAR(dd_winch_stall_pull(&w), 18000, 1e-9);
    w.speed = 0.1, w.speed_at_rating = 0.08;
    NEAR(dd_winch_stall_pull(&w), 45000, 1e-8);
    assert_true(dd_winch_load_share(&w, 44000, 0) < 1 && dd_winch_load_share(&w, 44200, 0) > 1);
}

/* Every rule has words and a source; each holds from its own figure on. W 20 kN, pull 7.5 kN: 0.375 W. Exact. */
static void rules_stand_side_by_side(void **state)
{
    (void)state;
    static const double of_rating[] = {15000, 15000, NAN, 40000.0 / 3, 15000, 20000, 30000};
    assert_int_equal(dd_winch_rule_count(), 7);
    assert_null(dd_winch_rule_at(7));
    for (int i = 0; i < 7; i++) {
        const dd_winch_rule *rule = dd_winch_rule_at(i);
        double required, given;
        dd_winch_parameters w = winch_of(DD_LINE_OF_STRAP, DD_DRIVE_HAND);
        assert_non_null(dd_source_find(rule->source));
        assert_int_equal(dd_winch_rule_check(rule, &w, 20000, 7500, &required, &given), -1); /* no rating given */
        w.rating = 10000;
        if (isnan(of_rating[i])) {
            assert_int_equal(dd_winch_rule_check(rule, &w, 20000, 7500, &required, &given), -1);
            w.break_strength = 15000;
            assert_int_equal(dd_winch_rule_check(rule, &w, 20000, 7500, &required, &given), 1);
            w.break_strength = 14999;
            assert_int_equal(dd_winch_rule_check(rule, &w, 20000, 7500, &required, &given), 0);
            NEAR(required, 15000, 0);
            continue;
        }
        w.rating = of_rating[i];
        assert_int_equal(dd_winch_rule_check(rule, &w, 20000, 7500, &required, &given), 1);
        NEAR(required, of_rating[i], 1e-9);
        w.rating = of_rating[i] - 1;
        assert_int_equal(dd_winch_rule_check(rule, &w, 20000, 7500, &required, &given), 0);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(layers_build_up),         cmocka_unit_test(deck_winch_multiplies),
        cmocka_unit_test(ratings_fall_by_layer),   cmocka_unit_test(wire_lies_turn_beside_turn),
        cmocka_unit_test(motor_stalls),            cmocka_unit_test(rules_stand_side_by_side),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
