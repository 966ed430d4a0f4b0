/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is asked of where supports bear and how hard, on a V whose supports stand where geometry says. */
#include "lib/study/seat_pressure.h"
#include "tests/unit/study/reports.h"

#define VEE "tests/unit/study/vee-on-rollers.yaml"
#define ASKED "seating.requirements=[" /* with who asks */

/* All of its supports bear: the side rollers 5 mm lower than there. */
static dd_report *seat_of(const char *const *overrides)
{
    const char *all[16] = {"trailer.supports[side rollers].above ground=740 mm"};
    for (int i = 0; overrides != NULL && overrides[i] != NULL; i++) all[i + 1] = overrides[i];
    return seated_with(VEE, all);
}

/* Along the keel from the transom, of a support that stands so far behind the coupling: the pictures' own lines say where the hull lies. */
static double home_of(const dd_report *r, const char *support) { return number_at(r, "contacts", support, "from transom"); }

/* Distances to transom, bulkheads and zones, and the overhang, against the places that the contacts have; what breaks by 1 mm is broken,
   what holds by 1 mm is good; each names its own source. 0.1 mm. Grade: closed form. */
static void places(void **state)
{
    (void)state;
    dd_report *plain = seat_of(NULL);
    const double rear = home_of(plain, "rear keel roller"), side = home_of(plain, "side rollers port"), front = home_of(plain, "front keel roller");
    assert_true(rear > 0.1 && side > rear + 0.5 && front > side + 0.5);
    const dd_check *over = check_needed(plain, "transom past the last support"); /* nothing is asked: a caution beyond 0.1 m */
    NEAR(over->value, 1e3 * rear, 0.1);
    assert_int_equal(over->outcome, DD_CHECK_CAUTION);
    NEAR(over->limit, 100, 1e-9);
    for (int sign = -1; sign <= 1; sign += 2) { /* 1 mm too near or too far, and 1 mm right */
        char text[900];
        const double mm = 1e-3 * sign, half = 0.5 + 0.035 * cos(17 * acos(-1) / 180); /* the side roller's outer edge */
        snprintf(text, sizeof text,
                 ASKED "{kind: transom, within: %.6f m, source: page 1}, {kind: bulkhead, name: middle, at: %.6f m, within: %.6f m, source: page 2}, "
                       "{kind: overhang, within: %.6f m, source: page 3}, {kind: no rollers, name: ahead of it, from: %.6f m, to: %.6f m, source: page 4}, "
                       "{kind: no rollers, name: beside it, from: %.6f m, to: %.6f m, inner: %.6f m, outer: 0.9 m, source: page 5}]",
                 rear + mm, side + 0.3, 0.3 + mm, rear + mm, side + mm, side + 0.3, side - 0.2, side + 0.2, half + mm);
        dd_report *r = seat_of((const char *[]){text, NULL});
        static const char *const names[] = {"transom to the nearest support", "nearest support to middle", "transom past the last support",
                                            "no rollers on ahead of it", "no rollers on beside it"};
        const double values[] = {1e3 * rear, 300, 1e3 * rear, sign, sign};
        for (int i = 0; i < 5; i++) {
            const dd_check *c = check_needed(r, names[i]);
            char source[16];
            snprintf(source, sizeof source, "page %d", i + 1);
            if (c->outcome != (sign > 0 ? DD_CHECK_GOOD : DD_CHECK_BROKEN)) fail_msg("%s %+d mm: %g, limit %g", names[i], sign, c->value, c->limit);
            NEAR(c->value, values[i], 0.1);
            assert_string_equal(c->source, source);
            assert_non_null(strstr(c->words, i == 0 || i == 2 ? "rear keel roller" : "side rollers port"));
        }
        dd_report_free(r);
    }
    dd_report_free(plain);
}

/* Half length b, peak p of the contact of a roller of radius R under N over the width w, E* = E/(1 - 1/4): the pressure p sqrt(1 - (x/b)^2)
   sums up to the load; and p = E* b / 2R (both to 1e-9). E of Shore A 50 and 70: 2.5 and 5.5 MPa as tables print it (memory; 3 %).
   Practice P153: 24 rollers of 3 in show half an inch of contact: soft ones (50 to 65) of 60 to 90 mm do under boats of half a tonne to a tonne. */
static void patch_by_hertz(void **state)
{
    (void)state;
    NEAR(dd_rubber_modulus(50) / 1e6, 2.5, 0.075);
    NEAR(dd_rubber_modulus(70) / 1e6, 5.5, 0.165);
    for (double shore = 40; shore <= 90; shore += 10) {
        const double load = 900, width = 0.06, radius = 0.04;
        const dd_patch p = dd_roller_patch_of(load, width, radius, shore);
        const int places = 20000;
        double sum = 0;
        for (int i = 0; i < places; i++) { /* by angle: x = b sin a */
            const double a = (i + 0.5) / places * acos(-1) - 0.5 * acos(-1);
            sum += p.peak * cos(a) * cos(a) * 0.5 * p.length * acos(-1) / places;
        }
        NEAR(sum * width / load, 1, 1e-9);
        NEAR(p.peak / (dd_rubber_modulus(shore) / 0.75 * 0.5 * p.length / (2 * radius)), 1, 1e-9);
    }
    NEAR(dd_roller_patch_of(0, 0.06, 0.04, 60).peak, 0, 0);
    const double light = dd_roller_patch_of(500 * 9.8 / 24, 0.0762, 0.03, 65).length, heavy = dd_roller_patch_of(1000 * 9.8 / 24, 0.0762, 0.045, 50).length;
    print_message("24 rollers of 3 in: contact %.1f to %.1f mm\n", 1e3 * light, 1e3 * heavy);
    assert_true(light < 0.0127 && heavy > 0.0127);
}

/* In the report: the peak of the most loaded roller at its worst load, against what is asked; without hardness or width it is not checked. */
static void pressure_is_checked(void **state)
{
    (void)state;
    const char *const given[] = {ASKED "{kind: pressure, most: 400 kPa, source: page 6}]", "trailer.supports[side rollers].durometer=60",
                                 "trailer.supports[side rollers].contact width=70 mm", "trailer.supports[side rollers].roller diameter=90 mm", NULL};
    dd_report *r = seat_of(given);
    const dd_check *c = check_needed(r, "pressure under side rollers"), *keel = check_needed(r, "pressure under rear keel roller");
    const double worst = number_at(r, "supports", "side rollers", "at worst");
    NEAR(c->value, 1e-3 * dd_roller_patch_of(1e3 * worst, 0.07, 0.045, 60).peak, 1e-6 * c->value);
    NEAR(number_at(r, "pressure", "side rollers", "peak at worst"), c->value, 1e-6 * c->value);
    assert_true(number_at(r, "pressure", "side rollers", "peak") < c->value);
    assert_int_equal(c->outcome, c->value > 400 ? DD_CHECK_BROKEN : DD_CHECK_GOOD);
    assert_string_equal(c->source, "page 6");
    assert_int_equal(keel->outcome, DD_CHECK_NOT_CHECKED);
    assert_int_equal(table_named(r, "pressure")->row_count, 1);
    dd_report_free(r);
}

/* Each figure that is asked names who asks it, its own before the common one; a zone that ends before it begins is refused. */
static void each_has_its_source(void **state)
{
    (void)state;
    const char *const asked[] = {"seating.source=all", "seating.least keel share=10 %", "seating.keel share source=keel book", "seating.greatest load of a roller=50 kN", NULL};
    char text[1000];
    dd_report *r = seat_of(asked);
    assert_string_equal(check_needed(r, "keel share")->source, "keel book");
    assert_string_equal(check_needed(r, "hull over one roller of side rollers")->source, "all");
    dd_report_free(r);
    refusal_of(VEE, ASKED "{kind: no rollers, from: 2 m, to: 1 m, source: s}]", text, sizeof text);
    assert_non_null(strstr(text, "found a zone from 2 m to 1 m"));
    refusal_of(VEE, ASKED "{kind: overhang, within: 100 mm}]", text, sizeof text);
    assert_non_null(strstr(text, "who asks it"));
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(places), cmocka_unit_test(patch_by_hertz), cmocka_unit_test(pressure_is_checked),
                                       cmocka_unit_test(each_has_its_source)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
