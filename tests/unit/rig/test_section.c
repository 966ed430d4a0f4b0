/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Properties of cross-sections, stresses, clamps and the beam across: closed forms and published tables; tolerance at each check. */
#include "lib/rig/section.h"
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>

static const double tight = 1e-12;

static bool near(double a, double b, double share) { return fabs(a - b) <= share * fabs(b); }
static dd_member of(int section, double depth, double width, double wall)
{
    return (dd_member){.section = section, .depth = depth, .width = width, .wall = wall, .modulus = NAN, .yield = NAN, .length = NAN};
}

/* Integrated over the depth in slices: second moment about the own centroid, and the first moment of what lies above it over I t. A box,
   a channel and an angle by their widths at each height; 1e-3 for 20000 slices. Grade: independent numbers. */
static double width_at(const dd_member *m, double z)
{
    if (m->section == DD_SECTION_ANGLE) return z < m->wall ? m->width : m->wall;
    if (z < m->wall || z > m->depth - m->wall) return m->width;
    return m->section == DD_SECTION_BOX ? 2 * m->wall : m->wall;
}

static void by_slices(void **state)
{
    (void)state;
    const int kinds[] = {DD_SECTION_BOX, DD_SECTION_CHANNEL, DD_SECTION_ANGLE}, slices = 20000;
    for (int k = 0; k < 3; k++) {
        const dd_member m = of(kinds[k], 0.1, 0.06, 0.005);
        const dd_section s = dd_section_of(&m);
        double area = 0, first = 0, second = 0, above = 0;
        const double dz = m.depth / slices;
        for (int i = 0; i < slices; i++) {
            const double z = (i + 0.5) * dz;
            area += width_at(&m, z) * dz;
            first += width_at(&m, z) * z * dz;
        }
        const double centre = first / area;
        for (int i = 0; i < slices; i++) {
            const double z = (i + 0.5) * dz;
            second += width_at(&m, z) * (z - centre) * (z - centre) * dz;
            if (z > centre) above += width_at(&m, z) * (z - centre) * dz;
        }
        assert_true(near(s.area, area, 1e-3));
        assert_true(near(s.modulus, second / fmax(centre, m.depth - centre), 1e-3));
        assert_true(near(s.shear, above / (second * width_at(&m, centre)), 1e-3));
    }
}

/* A tube of 60.3 x 3.2 mm: 5.74 cm2, 7.78 cm3, torsion 15.6 cm3; as EN 10210-2 prints them, from memory; to the printed digits. A flat's
   6 / (b h^2), 1.5 V / A; a square's twist 0.208 a^3 within 0.5 % (Saint-Venant). A solid round: 4/3 V / A, pi d^3 / 16. */
static void tubes_and_flats(void **state)
{
    (void)state;
    dd_member m = of(DD_SECTION_TUBE, 0.0603, NAN, 0.0032);
    dd_section s = dd_section_of(&m);
    assert_true(fabs(s.area * 1e4 - 5.74) < 0.005 && fabs(s.modulus * 1e6 - 7.78) < 0.005 && fabs(s.torsion * 1e6 - 15.6) < 0.05);
    m = of(DD_SECTION_TUBE, 0.02, NAN, 0.01);
    s = dd_section_of(&m);
    assert_true(near(s.shear * s.area, 4.0 / 3, tight) && near(s.torsion, acos(-1.0) * 8e-6 / 16, tight));
    m = of(DD_SECTION_FLAT, 0.05, 0.01, NAN);
    s = dd_section_of(&m);
    assert_true(near(s.modulus, 0.01 * 0.0025 / 6, tight) && near(s.modulus_across, 0.05 * 1e-4 / 6, tight) && near(s.shear, 1.5 / 5e-4, tight));
    m = of(DD_SECTION_FLAT, 0.01, 0.01, NAN);
    assert_true(near(dd_section_of(&m).torsion, 0.208 * 1e-6, 5e-3));
    /* Bredt: 2 x 95 x 45 x 5 mm3 */
    m = of(DD_SECTION_BOX, 0.1, 0.05, 0.005);
    assert_true(near(dd_section_of(&m).torsion, 2 * 0.095 * 0.045 * 0.005, tight));
    /* turned by a quarter, what was along is across */
    const dd_member turned = of(DD_SECTION_BOX, 0.05, 0.1, 0.005);
    assert_true(near(dd_section_of(&m).modulus, dd_section_of(&turned).modulus_across, tight));
    m.modulus = 1e-5;
    assert_true(dd_section_of(&m).modulus == 1e-5);
}

/* A box in bending, shear and twist at once by hand; what is not given stays not given. 1e-12. */
static void stresses_meet(void **state)
{
    (void)state;
    const dd_section s = {1e-3, 2e-5, 1e-5, 1500, 2000, 4e-5};
    const dd_member_load l = {.axial = -2000, .shear = 3000, .moment = 1000, .moment_across = 200, .torque = -80};
    const dd_member_stress stress = dd_member_stress_of(&s, &l);
    const double normal = 50e6 + 20e6 + 2e6, shear = 4.5e6 + 2e6;
    assert_true(near(stress.bending, 70e6, tight) && near(stress.shear, shear, tight) && near(stress.combined, sqrt(normal * normal + 3 * shear * shear), tight));
    const dd_member bare = of(-1, NAN, NAN, NAN);
    const dd_section none = dd_section_of(&bare);
    assert_true(isnan(dd_member_stress_of(&none, &l).combined));
}

/* A clamp of two M12 at 80 N m: 33.3 kN each by T = K F d; a moment at spacing / 2; one bolt at D / 3. By hand, 1e-12. */
static void clamps_hold(void **state)
{
    (void)state;
    dd_clamp c = {.bolts = 2, .faces = 1, .bolt_diameter = 0.012, .torque = 80, .preload = NAN, .nut_factor = 0.2, .friction = 0.2, .bolt_spacing = 0.1, .face_diameter = 0.03};
    assert_true(near(dd_clamp_preload(&c), 80 / (0.2 * 0.012), tight));
    assert_true(near(dd_clamp_slip(&c, 1000, 50), 1000 + 50 / 0.05, tight));
    c.bolts = 1;
    assert_true(near(dd_clamp_slip(&c, 1000, 50), 1000 + 50 / 0.01, tight));
    c.face_diameter = NAN;
    assert_true(isnan(dd_clamp_slip(&c, 1000, 50)) && dd_clamp_slip(&c, 1000, 0) == 1000);
    c.preload = 5e3;
    assert_true(dd_clamp_preload(&c) == 5e3);
}

/* F L / 4 in the middle; F a for a pair; F a over an overhang. Closed forms, 1e-12. */
static void beam_across(void **state)
{
    (void)state;
    double moment, shear;
    dd_beam_across(1.4, 1, (const double[]){0}, (const double[]){1000}, &moment, &shear);
    assert_true(near(moment, 1000 * 1.4 / 4, tight) && near(shear, 500, tight));
    dd_beam_across(1.4, 2, (const double[]){-0.3, 0.3}, (const double[]){1000, 1000}, &moment, &shear);
    assert_true(near(moment, 1000 * 0.4, tight) && near(shear, 1000, tight));
    dd_beam_across(1, 2, (const double[]){-0.7, 0.7}, (const double[]){1000, 1000}, &moment, &shear);
    assert_true(near(moment, 1000 * 0.2, 1e-9) && near(shear, 1000, tight));
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(by_slices), cmocka_unit_test(tubes_and_flats), cmocka_unit_test(stresses_meet), cmocka_unit_test(clamps_hold),
                                       cmocka_unit_test(beam_across)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
