/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The load list and the states of loading: sums by hand (closed form, 1e-9), the conventions' masses (published, exact), units. */
#include "tests/unit/study/reports.h"

#define ROAD "tests/unit/case/road.yaml"

/* Every mass of the file by hand: 120 L at 60 % of 745 kg/m3, two adults, a guess; then the trip home. */
static void masses_and_centres(void **state)
{
    (void)state;
    dd_case_file *file = scenario_with(ROAD, (const char *[]){"measured=[]", NULL});
    dd_report *r = weighed(dd_case_of(file));
    const char *given = "mass as given", *home = "mass trip home";
    NEAR(number_at(r, "loads", "fuel", given), 0.12 * 0.6 * 745, 1e-9);
    NEAR(number_at(r, "loads", "crew", given), 150, 1e-9);
    NEAR(number_at(r, "loads", "gear", "least"), 25, 1e-9);
    NEAR(number_at(r, "loads", "gear", "most"), 60, 1e-9);
    NEAR(number_at(r, "loads", "fuel", home), 0.12 * 0.2 * 745, 1e-9);
    NEAR(number_at(r, "loads", "catch", home), 0.08 * 0.9 * 917, 1e-9);
    assert_true(isnan(number_at(r, "loads", "crew", home)) && isnan(number_at(r, "loads", "fuel", "mass bare")));
    assert_non_null(strstr(cell_at(r, "loads", "fuel", "note")->text, "free surface"));
    assert_non_null(strstr(cell_at(r, "loads", "gear", "note")->text, "estimate"));
    const double m[] = {number_at(r, "loads", "boat and engine", given), 53.64, 150, 40};
    const double bx = number_at(r, "loads", "boat and engine", "from transom"), bz = number_at(r, "loads", "boat and engine", "height");
    const double total = m[0] + m[1] + m[2] + m[3];
    NEAR(number_at(r, "loads", "total", given), total, 1e-9);
    NEAR(number_at(r, "states", "as given", "from transom"), (m[0] * bx + m[1] * 1.6 + m[2] * 2.2 + m[3] * bx) / total, 1e-9);
    NEAR(number_at(r, "states", "as given", "to port"), m[2] * 0.3 / total, 1e-9);
    NEAR(number_at(r, "states", "as given", "height"), (m[0] * bz + m[1] * 0.25 + m[2] * 0.6 + m[3] * bz) / total, 1e-9);
    NEAR(number_at(r, "states", "bare", "boat mass"), m[0], 1e-9);
    NEAR(number_at(r, "states", "trip home", "aboard"), 17.88 + 40 + 66.024, 1e-9);
    dd_report_free(r);
    dd_case_free(file);
}

/* Five adults and a tank of 120 L by the conventions, 745 kg/m3: 459.93 kg (published rows), within their 0.005 kg. */
static void conventions(void **state)
{
    (void)state;
    const char *overrides[] = {"aboard=[{item: crew, kind: adult, count: 5}, {item: fuel, volume: 120 L, contents: petrol, density: 745 kg/m3}]",
                               "loadings=[{name: children, leave out: [fuel], aboard: [{item: crew, kind: child}]}, "
                               "{name: full, aboard: [{item: fuel, fill: 100 %}]}]",
                               "measured=[]", NULL};
    dd_case_file *file = scenario_with(ROAD, overrides);
    dd_report *r = weighed(dd_case_of(file));
    NEAR(number_at(r, "states", "as given", "aboard"), 459.93, 0.005);
    NEAR(number_at(r, "states", "children", "aboard"), 5 * 37.5, 1e-9);
    NEAR(number_at(r, "states", "full", "aboard"), 375 + 0.12 * 745, 1e-9);
    assert_null(strstr(cell_at(r, "loads", "fuel", "note")->text, "free surface"));
    dd_report_free(r);
    dd_case_free(file);
}

/* A list in pounds, inches and gallons is the list in kilograms, metres and litres: 1e-9. Moving an item moves the centre. */
static void units_and_moves(void **state)
{
    (void)state;
    const char *metric[] = {"aboard=[{item: a, mass: 45.359237 kg, at: [1.27 m, 0.254 m, 0.508 m]}, {item: b, volume: 75.70823568 L, contents: diesel}]", NULL},
               *us[] = {"aboard=[{item: a, mass: 100 lb, at: [50 in, 10 in, 20 in]}, {item: b, volume: 20 US gal, contents: diesel}]", NULL},
               *moved[] = {"aboard=[{item: a, mass: 100 lb, at: [70 in, 10 in, 20 in]}, {item: b, volume: 20 US gal, contents: diesel}]", NULL};
    const char *const *each[] = {metric, us, moved};
    double mass[3], x[3], z[3];
    for (int i = 0; i < 3; i++) {
        dd_case_file *file = scenario_with(ROAD, (const char *[]){each[i][0], "loadings=[]", "measured=[]", NULL});
        dd_report *r = weighed(dd_case_of(file));
        mass[i] = number_at(r, "states", "as given", "boat mass");
        x[i] = number_at(r, "states", "as given", "from transom");
        z[i] = number_at(r, "states", "as given", "height");
        dd_report_free(r);
        dd_case_free(file);
    }
    NEAR(mass[1], mass[0], 1e-9);
    NEAR(x[1], x[0], 1e-9);
    NEAR(z[1], z[0], 1e-9);
    NEAR(x[2] - x[1], 45.359237 * 0.508 / mass[1], 1e-9);
}

static void refusals(void **state)
{
    (void)state;
    static const struct {
        const char *override, *message;
    } cases[] = {
        {"loadings=[{name: s, leave out: [feul]}]", "'feul': found under leave out, expected an item that is aboard; nearest: 'fuel'"},
        {"loadings=[{name: s, aboard: [{item: feul, fill: 20 %}]}]", "'feul': no mass given"},
        {"loadings=[{name: s, aboard: [{item: gear, fill: 20 %}]}]", "'gear': found fill without a volume"},
        {"aboard=[{item: a, volume: 10 L}]", "found a volume without contents"},
        {"aboard=[{item: a, volume: 10 L, contents: ice, mass: 4 kg}]", "found a volume and a mass"},
        {"aboard=[{item: a, mass: 4 kg, mass low: 5 kg}]", "outside its band"},
        {"aboard=[{item: a, mass: 4 kg, at: [1 m, 2 m]}]", "found 2 lengths"},
        {"measured=[{kind: axle, axle: 3, reading: 100 kg}]", "reading 1: found axle 3, expected 1 to 2"},
        {"measured=[{kind: boat, reading: 100 kg, loading: bear}]", "found the state of loading 'bear'"},
        {"measured=[{kind: freeboard, reading: 100 kg, side: port}]", "a length"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char message[1024];
        refusal_of(ROAD, cases[i].override, message, sizeof message);
        if (strstr(message, cases[i].message) == NULL) fail_msg("%s: %s", cases[i].override, message);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(masses_and_centres), cmocka_unit_test(conventions), cmocka_unit_test(units_and_moves),
                                       cmocka_unit_test(refusals)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
