/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Added mass and damping of sections against independently computed rows, and the tables over depth. Grade: formula. */
#include "lib/force/section.h"
#include "tests/unit/force/whole.h"

/* The sections of the rows: half-breadth and draught are in the rows. */
static dd_section_shape shape_of(const char *name, double half_breadth, double draught)
{
    dd_section_shape shape = {half_breadth, draught, 0, 0};
    if (name[0] == 'V')
        shape.chine_share = 1;
    else if (name[0] == 'c') { /* keel (0, 0), chine (0.85, 0.25), side to (1.05, 1.05) */
        shape.chine_share = 0.25 / draught;
        shape.flare = 0.25;
    }
    return shape;
}


/* w^2 b/g of a small hull's heave and roll: 0.7 to 1.25 in the rows of natural_periods.csv. Rows in that band are held to
   3 %, the design's figure, sway-roll coupling absolutely to the 0.0025 b^3 by which the rows' own two values differ; over
   the whole of 0.2 to 1.8 heave is held to 3 %, the rest to 12 % of the section's largest over frequency. */
static void sections_meet_the_rows(void **state)
{
    (void)state;
    table t = table_read("radiation_sections.csv");
    double heave = 0, heave_damping = 0, roll = 0, roll_damping = 0, coupling = 0, coupling_damping = 0;
    int used = 0;
    for (int row = 1; row <= t.rows; row++) {
        const double b = table_number(&t, row, "half_beam_b"), draught = table_number(&t, row, "T");
        const double number = table_number(&t, row, "K*b=w^2 b/g");
        if (number < 0.2 || number > 1.8)
            continue;
        const char *name = table_text(&t, row, "section");
        dd_section_shape shape = shape_of(name, b, draught);
        dd_section s = dd_section_radiation(&shape, number / b, number / b);
        const double half_disc = PI * b * b / 2, b3 = b * b * b, b4 = b3 * b;
        const double a33 = table_number(&t, row, "a33/(rho pi b^2/2)"), b33 = table_number(&t, row, "b33/(w rho pi b^2/2)");
        heave = fmax(heave, fabs(s.heave_mass / half_disc / a33 - 1));
        heave_damping = fmax(heave_damping, fabs(s.heave_damping / half_disc / b33 - 1));
        CHECK_NEAR(s.heave_mass / half_disc, a33, 0.03 * a33, name);
        CHECK_NEAR(s.heave_damping / half_disc, b33, 0.03 * b33, name);
        if (number < 0.7 || number > 1.3)
            continue;
        const double a44 = table_number(&t, row, "a44/(rho b^4) about waterline centre"), b44 = table_number(&t, row, "b44/(w rho b^4)");
        const double a24 = table_number(&t, row, "a24/(rho b^3)"), b24 = table_number(&t, row, "b24/(w rho b^3) signed");
        const double b22 = table_number(&t, row, "b22/(w rho pi T^2/2)") * PI * draught * draught / 2;
        roll = fmax(roll, fabs(s.roll_mass / b4 / a44 - 1));
        roll_damping = fmax(roll_damping, fabs(s.roll_wave * s.roll_wave / b4 - b44));
        coupling = fmax(coupling, fabs(s.sway_roll_mass / b3 - a24));
        coupling_damping = fmax(coupling_damping, fabs(s.sway_wave * s.roll_wave / b3 / b24 - 1));
        CHECK_NEAR(s.roll_mass / b4, a44, 0.03 * a44, name);
        CHECK_NEAR(s.sway_roll_mass / b3, a24, 0.0025, name);
        CHECK_NEAR(s.sway_wave * s.sway_wave, b22, 0.03 * b22, name);
        CHECK_NEAR(s.sway_wave * s.roll_wave / b3, b24, 0.03 * fabs(b24), name);
        CHECK_NEAR(s.roll_wave * s.roll_wave / b4, b44, 0.03 * b44 + 0.0003, name);
        used++;
    }
    print_message("heave %.2f %%, its damping %.2f %%; roll %.2f %%, damping %.5f rho b^4; coupling %.5f rho b^3, its damping %.2f %%\n",
                  100 * heave, 100 * heave_damping, 100 * roll, roll_damping, coupling, 100 * coupling_damping);
    assert_int_equal(used, 15);
    table_free(&t);
}

/* Half a circle, which no keel-chine-side section is: the octagon about it with the same breadth, draught and area comes
   near. Multipole rows, grade formula; tolerance 12 %, the difference of the shapes. */
static void semicircle_is_near(void **state)
{
    (void)state;
    table t = table_read("radiation_semicircle_heave.csv");
    int used = 0;
    for (int row = 1; row <= t.rows; row++) {
        const double number = table_number(&t, row, "Ka=w^2 a/g");
        if (number < 0.5 || number > 1.5)
            continue;
        /* keel to chine and a flared side, area pi/4 of the rectangle's: chine at (0.7, height 0.25) */
        dd_section_shape shape = {1, 1, 0.25, 0.4};
        dd_section s = dd_section_radiation(&shape, number, number);
        const double a33 = table_number(&t, row, "a33/(rho pi a^2/2)");
        CHECK_NEAR(s.heave_mass / (PI / 2), a33, 0.12 * a33, "semicircle");
        used++;
    }
    assert_true(used >= 4);
    table_free(&t);
}

static double number_after(const char *text, const char *mark) { return strtod(strstr(text, mark) + strlen(mark), NULL); }

/* Slow sway: rows of added_mass_2d.csv, grade formula, 2.5 %. */
static void sway_meets_the_rows(void **state)
{
    (void)state;
    table t = table_read("added_mass_2d.csv");
    int used = 0;
    double error = 0;
    for (int row = 1; row <= t.rows; row++) {
        const char *section = table_text(&t, row, "section"), *which = table_text(&t, row, "case");
        dd_section_shape shape = {1, 1, 0, 0};
        double expected = table_number(&t, row, "expected");
        if (strstr(section, "low freq. sway") != NULL) {
            const double deadrise = number_after(which, "deadrise ") * DEGREE;
            if (tan(deadrise) < 0.1)
                continue; /* flatter than the table */
            shape = (dd_section_shape){1, tan(deadrise), 1, 0};
            expected *= PI * shape.draught * shape.draught / 2;
        } else if (strstr(which, "sway rigid surface") != NULL) {
            shape.draught = 2 / number_after(which, "B/T=");
            expected *= PI * shape.draught * shape.draught / 2;
        } else if (strstr(which, "sway rigid-surface") != NULL) {
            shape.draught = number_after(which, "T=");
            shape = shape_of("chine", 0.85 + 0.25 * (shape.draught - 0.25), shape.draught);
        } else
            continue;
        dd_section s = dd_section_radiation(&shape, 1, 1);
        error = fmax(error, fabs(s.sway_mass / expected - 1));
        CHECK_NEAR(s.sway_mass, expected, 0.025 * expected, which);
        used++;
    }
    print_message("slow sway within %.2f %%\n", 100 * error);
    assert_int_equal(used, 13);
    table_free(&t);
}

/* Quick heave without waves (phi = 0 on the surface): at a small hull's frequencies a V's added mass is less, so that the
   load of entering the water faster than that is estimated low; by how much is printed. Wave-free rows, grade formula. */
static void quick_heave_stays_below_the_wave_free_value(void **state)
{
    (void)state;
    table t = table_read("added_mass_2d.csv");
    int used = 0;
    double least = 1;
    for (int row = 1; row <= t.rows; row++) {
        const char *section = table_text(&t, row, "section"), *which = table_text(&t, row, "case");
        if (strstr(section, "phi=0") == NULL)
            continue;
        const double deadrise = number_after(which, "deadrise ") * DEGREE, wave_free = table_number(&t, row, "expected");
        if (tan(deadrise) < 0.1)
            continue;
        dd_section_shape shape = {1, tan(deadrise), 1, 0};
        dd_section s = dd_section_radiation(&shape, 1.8, 1.8);
        assert_true(s.heave_mass / (PI / 2) < wave_free);
        least = fmin(least, s.heave_mass / (PI / 2) / wave_free);
        used++;
    }
    print_message("a V's heave added mass at the table's upper frequency: %.2f of the wave-free value or more\n", least);
    assert_int_equal(used, 7);
    table_free(&t);
}

/* Below the chine a V: added mass grows as depth^2 where the frequency number is beyond the table's ends (closed form:
   similar shapes), and shapes join without a step. */
static void sections_grow_smoothly(void **state)
{
    (void)state;
    const dd_strip strip = {0, 1, 0.1, 0.85, 0.35, 1.05, 1.15};
    for (double depth = 0.02; depth < 0.19; depth *= 1.5) {
        dd_section_shape a = dd_section_at(&strip, depth), b = dd_section_at(&strip, depth / 2);
        CHECK_NEAR(a.half_breadth, 0.85 / 0.25 * depth, 1e-12, "V");
        CHECK_NEAR(dd_section_radiation(&a, 1e3, 1e3).heave_mass, 4 * dd_section_radiation(&b, 1e3, 1e3).heave_mass, 1e-12, "depth^2");
    }
    /* half-breadth at the chine's rounding and above: the true one beyond a fifth of the chine's height; 1e-12 */
    CHECK_NEAR(dd_section_at(&strip, 0.5).half_breadth, 0.85 + 0.25 * 0.25, 1e-12, "side");
    for (double depth = 0.01; depth < 1.6; depth += 0.01) {
        dd_section_shape a = dd_section_at(&strip, depth), b = dd_section_at(&strip, depth + 1e-6);
        assert_true(fabs(b.half_breadth - a.half_breadth) < 4e-6);
        assert_true(fabs(b.chine_share - a.chine_share) < 4e-6 * 4);
    }
    assert_true(dd_section_at(&strip, 5).half_breadth == dd_section_at(&strip, 6).half_breadth);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sections_meet_the_rows),
        cmocka_unit_test(semicircle_is_near),
        cmocka_unit_test(sway_meets_the_rows),
        cmocka_unit_test(quick_heave_stays_below_the_wave_free_value),
        cmocka_unit_test(sections_grow_smoothly),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
