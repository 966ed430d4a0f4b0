/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The load on the coupling: worked examples of practice (their own tolerance), what the report says of moving axles and boat
   recomputed with them moved (closed form, 1 g), cautions and broken checks. */
#include "lib/base/vector.h"
#include "lib/rig/road.h"
#include "lib/study/coupling.h"
#include "tests/unit/study/reports.h"

#define ROAD "scenarios/on-the-road.yaml"
#define ROWS SOURCE_DIR "/tests/reference/road/coupling_load.csv"

enum { COLUMNS = 8 };
/* The fields of a line of the reference; empty ones are empty texts. */
static int fields_of(char *line, char *fields[COLUMNS])
{
    int count = 0;
    line[strcspn(line, "\n")] = '\0';
    for (char *at = line; at != NULL && count < COLUMNS; count++) {
        char *comma = strchr(at, ',');
        if (comma != NULL) *comma = '\0';
        fields[count] = at;
        at = comma == NULL ? NULL : comma + 1;
    }
    return count;
}

static double of_row(const char *quantity, double mass, double coupling, double reach, double target)
{
    if (strcmp(quantity, "six percent lb") == 0) return 0.06 * mass;
    if (strcmp(quantity, "centre ahead of axle in") == 0) return dd_centre_ahead_of_axle(mass, coupling, reach);
    if (strcmp(quantity, "axle forward in") == 0) return dd_axle_forward(mass, coupling, reach, target);
    /* The load that an inch of axle makes: what it is at the place, to first order M X/L^2. */
    if (strcmp(quantity, "change per inch lb") == 0) return 1 / (dd_axle_forward(mass, coupling, reach, coupling - 0.5) - dd_axle_forward(mass, coupling, reach, coupling + 0.5));
    return NAN;
}

static void worked_examples(void **state)
{
    (void)state;
    char line[256], *f[COLUMNS];
    int rows = 0;
    FILE *file = fopen(ROWS, "r");
    assert_non_null(file);
    while (fgets(line, sizeof line, file) != NULL) {
        if (line[0] != 'P' || fields_of(line, f) != COLUMNS || strcmp(f[7], "sign") == 0) continue;
        const double value = of_row(f[1], strtod(f[2], NULL), strtod(f[3], NULL), strtod(f[4], NULL), strtod(f[5], NULL)), tolerance = strtod(f[7], NULL);
        print_message("%s %s: %.4g, printed %s\n", f[0], f[1], value, f[6]);
        /* P146 gives a band, whose ends are W/L; with the trailer's centre a little ahead of the axle it is 0.94 of that. */
        NEAR(strcmp(f[0], "P146") == 0 ? value / 0.94 : value, strtod(f[6], NULL), fmax(tolerance, 1e-9));
        rows++;
    }
    fclose(file);
    assert_int_equal(rows, 5);
}

static dd_case *rig_of(const char *const *overrides)
{
    dd_case_file *file = scenario_with(ROAD, overrides);
    dd_case *c = malloc(sizeof *c);
    assert_non_null(c);
    *c = *dd_case_of(file);
    dd_case_free(file);
    return c;
}

/* Every target of the report: with the axles there, or the boat there, the coupling carries that. */
static void targets_hold(void **state)
{
    (void)state;
    /* Placed by a tape, so that moving the boat moves nothing else. */
    static const char *const rigs[2][4] = {
        {"placed={transom behind coupling: 6.45 m, keel above ground: 610 mm}", "trailer.centre behind coupling=4.9 m", NULL, NULL},
        {"placed={transom behind coupling: 6.45 m, keel above ground: 610 mm}", "trailer.centre behind coupling=4.9 m", "trailer.axles=[{behind coupling: 5.45 m, rating: 3000 kg}]", NULL}};
    for (int k = 0; k < 2; k++) {
        dd_case *c = rig_of(rigs[k]);
        dd_report *r = weighed(c);
        const dd_report_table *t = table_named(r, "coupling");
        for (int i = 0; i < t->row_count; i++) {
            const dd_report_cell *cells = &t->cells[i * t->column_count];
            dd_case *axles = malloc(sizeof *axles), *boat = malloc(sizeof *boat);
            assert_true(axles != NULL && boat != NULL);
            *axles = *boat = *c;
            for (int a = 0; a < c->trailer.axle_count; a++) axles->trailer.axles[a].behind_coupling -= cells[4].value / 1000;
            boat->placed.transom_behind_coupling -= cells[5].value / 1000;
            dd_report *moved[2] = {weighed(axles), weighed(boat)};
            for (int m = 0; m < 2; m++) {
                NEAR(number_at(moved[m], "road", "as given", "coupling"), cells[2].value, 1e-3);
                dd_report_free(moved[m]);
            }
            free(axles);
            free(boat);
        }
        assert_true(t->row_count >= 7);
        dd_report_free(r);
        free(c);
    }
}

/* One axle, the nose level: the closed forms are the answer, 2 mm (a nose not quite level by the tyres' squash). */
static void closed_forms(void **state)
{
    (void)state;
    dd_case *c = rig_of((const char *[]){"placed={transom behind coupling: 6.45 m, keel above ground: 610 mm}", "trailer.axles=[{behind coupling: 5.45 m, rating: 2350 kg}]",
                                         "vehicle.coupling height=450 mm", "vehicle.rear suspension squash=1 mm", "trailer.centre behind coupling=4.9 m", NULL});
    dd_report *r = weighed(c);
    const double all = number_at(r, "road", "as given", "trailer"), load = number_at(r, "road", "as given", "coupling"),
                 boat = number_at(r, "states", "as given", "boat mass");
    const char *row = "10 %: most for boats, least for trailers in general";
    NEAR(number_at(r, "coupling", row, "axles forward"), 1000 * dd_axle_forward(all, load, 5.45, 0.1 * all), 2);
    NEAR(number_at(r, "coupling", row, "boat and post forward"), 1000 * dd_load_forward(load, 5.45, boat, 0.1 * all), 2);
    dd_report_free(r);
    free(c);
}

/* An axle of 150 kg goes along: x forward it takes 150 kg x off the moment (W - C) R of all weight W about the coupling, R the reach, C the
   coupling load, and shortens the reach: (W - C') (R - x) = (W - C) R - 150 x. Solved for x by hand; 2 mm as above. It goes the longer way. */
static void axle_goes_along(void **state)
{
    (void)state;
    double forward[2];
    const double reach = 5.45, own = 150;
    for (int k = 0; k < 2; k++) {
        dd_case *c = rig_of((const char *[]){"placed={transom behind coupling: 6.45 m, keel above ground: 610 mm}",
                                             k == 0 ? "trailer.axles=[{behind coupling: 5.45 m, rating: 2350 kg}]" : "trailer.axles=[{behind coupling: 5.45 m, rating: 2350 kg, mass: 150 kg}]",
                                             "vehicle.coupling height=450 mm", "vehicle.rear suspension squash=1 mm", "trailer.centre behind coupling=4.9 m", NULL});
        dd_report *r = weighed(c);
        const double all = number_at(r, "road", "as given", "trailer"), load = number_at(r, "road", "as given", "coupling"), target = 0.1 * all;
        forward[k] = number_at(r, "coupling", "10 %: most for boats, least for trailers in general", "axles forward");
        NEAR(forward[k], 1000 * ((all - target) * reach - (all - load) * reach) / (all - target - (k == 0 ? 0 : own)), 2);
        int told = 0;
        for (int i = 0; i < r->assumed_count; i++) told += strstr(r->assumed[i], "trailer.axles.mass") != NULL;
        assert_int_equal(told, k == 0);
        dd_report_free(r);
        free(c);
    }
    assert_true(fabs(forward[1]) > 1.02 * fabs(forward[0]));
    char text[1000];
    refusal_of(ROAD, "trailer.axles=[{behind coupling: 5.45 m, mass: 1900 kg}]", text, sizeof text);
    assert_non_null(strstr(text, "found axles of 1900 kg together"));
    refusal_of(ROAD, "trailer.axles=[{behind coupling: 5 m, mass: 90 kg}, {behind coupling: 5.9 m}]", text, sizeof text);
    assert_non_null(strstr(text, "expected that of all or of none"));
}

/* What the law asks comes from the rule set: 25 kg and, of the plate's 3200 kg, a tenth; no set: no such line. */
static void law_of_the_rule_set(void **state)
{
    (void)state;
    static const struct {
        const char *rules, *row;
        double load;
    } laws[] = {{"rules=de", "Germany, StVZO 44(3): at least", 25}, {"rules=es", "Spain, RGV annex IX 4.2: at most", 320}, {"rules=au", NULL, 0}};
    for (int k = 0; k < 3; k++) {
        dd_case *c = rig_of((const char *[]){laws[k].rules, NULL});
        dd_report *r = weighed(c);
        const dd_report_table *t = table_named(r, "coupling");
        int lines = 0;
        for (int i = 0; i < t->row_count; i++) lines += strcmp(t->cells[(i + 1) * t->column_count - 1].text, "law") == 0;
        assert_int_equal(lines, k < 2);
        if (k < 2) NEAR(number_at(r, "coupling", laws[k].row, "load"), laws[k].load, 1e-9);
        dd_report_free(r);
        free(c);
    }
}

/* P148: a boat of 2300 kg, 3000 kg with its trailer, at 6 % on a reach of 5.5 m; 0.56 m aft the drawbar lifts, by about the push that
   was needed there (sign; the size is shown). */
static void boat_too_far_back(void **state)
{
    (void)state;
    const double load = 0.06 * 3000 - 2300 * 0.56 / 5.5;
    print_message("P148: %.0f kg on the coupling, 120 lb were %.0f kg\n", load, 120 * 0.45359237);
    assert_true(load < 0);
    NEAR(dd_load_forward(load, 5.5, 2300, 0.06 * 3000), 0.56, 1e-12);
}

/* The boat far aft on the scenario's trailer: broken with the way back in words; a little aft: the swing caution. */
static void cautions(void **state)
{
    (void)state;
    for (int k = 0; k < 2; k++) {
        dd_case *c = rig_of((const char *[]){k == 0 ? "placed={transom behind coupling: 8.1 m, keel above ground: 610 mm}" : "placed={transom behind coupling: 7.7 m, keel above ground: 610 mm}", NULL});
        dd_report *r = weighed(c);
        const dd_check *lift = check_named(r, "load on the coupling"), *swing = check_named(r, "coupling share against swinging");
        assert_true(lift != NULL && swing != NULL);
        print_message("coupling %.0f kg: %s\n", number_at(r, "road", "as given", "coupling"), swing->words);
        assert_int_equal(lift->outcome, k == 0 ? DD_CHECK_BROKEN : DD_CHECK_GOOD);
        assert_int_equal(swing->outcome, DD_CHECK_CAUTION);
        assert_non_null(strstr(swing->words, "swing"));
        assert_non_null(strstr(swing->words, "boat and post"));
        dd_report_free(r);
        free(c);
    }
}

/* Tank empty and full, boat short of home: as the statics of a trailer with that item changed have it (recomputed, 1 g). */
static void moves(void **state)
{
    (void)state;
    const char *place = "placed={transom behind coupling: 6.45 m, keel above ground: 610 mm}";
    const char *fills[3] = {"aboard=[{item: fuel, volume: 200 L, contents: petrol, fill: 40 %, at: [0.6 m, 0 m, 0.3 m]}]",
                            "aboard=[{item: fuel, volume: 200 L, contents: petrol, fill: 0 %, at: [0.6 m, 0 m, 0.3 m]}]",
                            "aboard=[{item: fuel, volume: 200 L, contents: petrol, at: [0.6 m, 0 m, 0.3 m]}]"};
    double load[4];
    dd_report *first = NULL;
    for (int k = 0; k < 4; k++) {
        dd_case *c = rig_of((const char *[]){k == 3 ? "placed={transom behind coupling: 6.65 m, keel above ground: 610 mm}" : place, fills[k == 3 ? 0 : k], NULL});
        dd_report *r = weighed(c);
        load[k] = number_at(r, "road", "as given", "coupling");
        if (k == 0)
            first = r;
        else
            dd_report_free(r);
        free(c);
    }
    NEAR(number_at(first, "moves", "as it is", "coupling"), load[0], 1e-9);
    NEAR(number_at(first, "moves", "fuel: empty", "coupling"), load[1], 1e-3);
    NEAR(number_at(first, "moves", "fuel: full", "coupling"), load[2], 1e-3);
    NEAR(number_at(first, "moves", "boat 200 mm short of home", "coupling"), load[3], 1e-3);
    assert_true(load[1] > load[2]); /* the tank lies aft of the axles */
    dd_report_free(first);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(worked_examples), cmocka_unit_test(targets_hold),   cmocka_unit_test(closed_forms), cmocka_unit_test(axle_goes_along), cmocka_unit_test(law_of_the_rule_set),
                                       cmocka_unit_test(boat_too_far_back), cmocka_unit_test(cautions), cmocka_unit_test(moves)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
