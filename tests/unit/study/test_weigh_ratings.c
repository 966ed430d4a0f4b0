/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Loads on the road in the report and each against its rating: the figures by hand from the scenario's own, 1e-9 (closed form). */
#include "tests/unit/study/reports.h"
#include "lib/rig/tyres.h"

/* A load in its unit: value and limit of the check, and its outcome by them. */
static void holds(const dd_report *r, const char *name, double value, double limit)
{
    const dd_check *check = check_needed(r, name);
    NEAR(check->value, value, 1e-9 * fabs(value));
    NEAR(check->limit, limit, 1e-9 * fabs(limit));
    NEAR(check->share, value / limit, 1e-9);
    if (check->outcome != (value > limit ? DD_CHECK_BROKEN : DD_CHECK_GOOD)) fail_msg("%s: outcome %d", name, check->outcome);
}

static double axle_cell(const dd_report *r, int row, const char *column)
{
    const dd_report_table *t = table_named(r, "axles");
    for (int c = 0; c < t->column_count; c++)
        if (strcmp(t->columns[c].name, column) == 0) return t->cells[row * t->column_count + c].value;
    fail_msg("no column %s", column);
    return NAN;
}

/* Sums of the table: axles and coupling are the trailer, front and rear the vehicle with the coupling load; wheels are their axle. */
static void loads_add_up(void **state)
{
    (void)state;
    dd_report *r = weighed_with(BARE, NULL);
    const char *s = "as given";
    const double trailer = number_at(r, "road", s, "trailer"), coupling = number_at(r, "road", s, "coupling");
    NEAR(trailer, number_at(r, "states", s, "boat mass") + 680, 1e-9);
    NEAR(number_at(r, "road", s, "on axles") + coupling, trailer, 1e-9);
    NEAR(number_at(r, "road", s, "coupling share"), 100 * coupling / trailer, 1e-9);
    NEAR(number_at(r, "road", s, "vehicle front") + number_at(r, "road", s, "vehicle rear"), 2250 + coupling, 1e-9);
    NEAR(number_at(r, "road", s, "vehicle rear") * 3.1, 2250 * 0.45 * 3.1 + coupling * (3.1 + 1.25), 1e-6);
    NEAR(number_at(r, "road", s, "rig"), 2250 + trailer, 1e-9);
    NEAR(axle_cell(r, 0, "load") + axle_cell(r, 1, "load"), number_at(r, "road", s, "on axles"), 1e-9);
    for (int i = 0; i < 2; i++) NEAR(axle_cell(r, i, "port wheel") + axle_cell(r, i, "starboard wheel"), axle_cell(r, i, "load"), 1e-9);
    assert_true(r->assumed_count >= 3); /* track, centres of trailer and vehicle */
    dd_report_free(r);
}

/* Things to port load the port wheels: the moment of 400 kg half a metre aside against the track, 1e-6 kg. */
static void beside_the_middle(void **state)
{
    (void)state;
    const char *const straight[] = {"trailer.track=2 m", "placed={transom behind coupling: 6.4 m, keel above ground: 600 mm}",
                                    "aboard=[{item: ice, mass: 400 kg, at: [2 m, 0 m, 0.5 m]}]", NULL},
                *const aside[] = {"trailer.track=2 m", "placed={transom behind coupling: 6.4 m, keel above ground: 600 mm}",
                                  "aboard=[{item: ice, mass: 400 kg, at: [2 m, 0.5 m, 0.5 m]}]", NULL};
    dd_report *a = weighed_with(BARE, straight), *b = weighed_with(BARE, aside);
    double port = 0;
    for (int i = 0; i < 2; i++) {
        NEAR(axle_cell(a, i, "port wheel"), axle_cell(a, i, "starboard wheel"), 1e-6);
        port += axle_cell(b, i, "port wheel") - axle_cell(b, i, "starboard wheel");
        NEAR(axle_cell(a, i, "load"), axle_cell(b, i, "load"), 1e-6);
    }
    NEAR(port, 2 * 400 * 0.5 / 2, 1e-6);
    dd_report_free(a);
    dd_report_free(b);
}

static void every_rating(void **state)
{
    (void)state;
    const char *const overrides[] = {"loadings=[]", "measured=[]", NULL};
    dd_report *r = weighed_with(RATED, overrides);
    const char *s = "as given";
    const double trailer = number_at(r, "road", s, "trailer"), coupling = number_at(r, "road", s, "coupling");
    const double wheel = fmax(axle_cell(r, 1, "port wheel"), axle_cell(r, 0, "port wheel"));
    holds(r, "trailer's aggregate mass", trailer, 3200);
    holds(r, "trailer's axle group", number_at(r, "road", s, "on axles"), 3000);
    holds(r, "trailer's axle 1", axle_cell(r, 0, "load"), 1700);
    holds(r, "coupling's vertical load", coupling * 9.80665, 4000);
    holds(r, "coupling's trailer mass", trailer, 3500);
    holds(r, "tow ball's vertical load", coupling, 350);
    holds(r, "D value of the tow bar", dd_coupling_d_value(3050, trailer) / 1000, 17.2);
    holds(r, "D value of the coupling", dd_coupling_d_value(3050, trailer) / 1000, 17);
    holds(r, "trailer's mass by the tow bar's class", trailer, 10000 * 0.45359237);
    holds(r, "trailer's mass by the coupling's class", trailer, 10000 * 0.45359237);
    holds(r, "towing a trailer with brakes", trailer, 3500);
    holds(r, "vehicle's gross mass", 2250 + coupling, 3050);
    holds(r, "vehicle's payload with the coupling load", 200 + coupling, 1000);
    holds(r, "vehicle's front axle", number_at(r, "road", s, "vehicle front"), 1450);
    holds(r, "vehicle's rear axle", number_at(r, "road", s, "vehicle rear"), 1850);
    holds(r, "combination's mass", 2250 + trailer, 6000);
    holds(r, "trailer's most loaded tyre", wheel, 1000 * pow(380.0 / 450, 0.8));
    holds(r, "trailer's most loaded rim", wheel, 900);
    holds(r, "trailer's most loaded hub", wheel, 875);
    holds(r, "rating of axle 1 against that of its tyres", 1700, 2000);
    holds(r, "speed of the trailer's tyres", 100, 160);
    holds(r, "speed of the vehicle's tyres", 100, 190);
    holds(r, "vehicle's rear tyres", number_at(r, "road", s, "vehicle rear") / 2, 1120 * pow(220.0 / 350, 0.8));
    assert_non_null(strstr(check_needed(r, "towing a trailer with brakes")->words, "without brakes 750 kg"));
    assert_int_equal(r->verdict, 1);
    dd_report_free(r);
}

/* Pairs of tyres halve each one's load; a car's tyre carries a tenth less of itself. */
static void pairs_and_car_tyres(void **state)
{
    (void)state;
    const char *const pairs[] = {"trailer.wheels.tyres each side=2", "measured=[]", NULL}, *const car[] = {"trailer.wheels.car tyre=yes", "measured=[]", NULL},
                *const plain[] = {"measured=[]", NULL};
    dd_report *a = weighed_with(RATED, plain), *b = weighed_with(RATED, pairs), *c = weighed_with(RATED, car);
    const char *tyre = "trailer's most loaded tyre", *axle = "rating of axle 1 against that of its tyres";
    NEAR(check_needed(b, tyre)->value, check_needed(a, tyre)->value / 2, 1e-9);
    NEAR(check_needed(b, axle)->limit, 4000, 1e-9);
    NEAR(check_needed(c, tyre)->limit, check_needed(a, tyre)->limit / 1.1, 1e-9);
    NEAR(check_needed(c, axle)->limit, 2000 / 1.1, 1e-9);
    assert_string_equal(check_needed(a, tyre)->state, "as given"); /* the heaviest state is the one that is kept */
    dd_report_free(a);
    dd_report_free(b);
    dd_report_free(c);
}

/* What is not given is said, never passed: every check of the rated rig is there, with what to give. */
static void missing_ratings(void **state)
{
    (void)state;
    const char *const plain[] = {"measured=[]", NULL};
    dd_report *rated = weighed_with(RATED, plain), *bare = weighed_with(BARE, NULL);
    int missing = 0;
    for (int i = 0; i < rated->check_count; i++) {
        const dd_check *check = &rated->checks[i];
        if (strcmp(check->group, "ratings") != 0) continue;
        if (check->outcome == DD_CHECK_NOT_CHECKED) fail_msg("%s: not checked with every rating given", check->name);
        const dd_check *other = check_needed(bare, check->name);
        if (other->outcome != DD_CHECK_NOT_CHECKED) continue;
        if (strstr(other->words, "give ") == NULL) fail_msg("%s: %s", other->name, other->words);
        missing++;
    }
    assert_int_equal(missing, 24);
    dd_report_free(rated);
    dd_report_free(bare);
}

/* Classes as printed (tests/reference/road/hitch_classes.csv, exact): just at and just above each class's trailer, and the chain each asks;
   a chain of 1.5 times the loaded trailer's weight (P154) is no caution, one a little weaker is. */
static void classes_and_chains(void **state)
{
    (void)state;
    char line[200], classes[2][64], rating[64], chain[64];
    FILE *file = fopen(SOURCE_DIR "/tests/reference/road/hitch_classes.csv", "r");
    assert_non_null(file);
    int rows = 0;
    while (fgets(line, sizeof line, file) != NULL) {
        int number;
        double mass, breaks;
        if (sscanf(line, "%d,%lf,%lf", &number, &mass, &breaks) < 2) continue;
        if (number == 4) breaks = 3000 / 0.45359237; /* printed: the trailer's rating */
        snprintf(classes[0], 64, "vehicle.hitch class=%d", number);
        snprintf(classes[1], 64, "trailer.coupling class=%d", number == 4 ? 4 : number + 1);
        for (int over = 0; over < 2; over++) {
            snprintf(rating, sizeof rating, "trailer.aggregate mass rating=3000 kg");
            snprintf(chain, sizeof chain, "trailer.brakes={chain break strength: %.6f kN}", breaks * 0.45359237e-3 * 9.80665 + (over ? -1e-4 : 1e-4));
            dd_case_file *rig = scenario_with(BARE, (const char *[]){classes[0], classes[1], rating, chain, "loadings=[]", NULL});
            dd_case *moved = malloc(sizeof *moved);
            dd_error error;
            dd_report *r;
            assert_non_null(moved);
            *moved = *dd_case_of(rig);
            assert_int_equal(dd_study_weigh(moved, &r, &error), DD_OK);
            const double now = number_at(r, "road", "as given", "trailer"), want = mass * 0.45359237 + (over ? 1e-3 : -1e-3);
            dd_report_free(r);
            moved->trailer.mass += want - now;
            if (moved->trailer.mass > 50) {
                assert_int_equal(dd_study_weigh(moved, &r, &error), DD_OK);
                assert_int_equal(check_needed(r, "trailer's mass by the tow bar's class")->outcome, over ? DD_CHECK_BROKEN : DD_CHECK_GOOD);
                assert_int_equal(check_needed(r, "trailer's mass by the coupling's class")->outcome, over && number == 4 ? DD_CHECK_BROKEN : DD_CHECK_GOOD);
                assert_int_equal(check_needed(r, "strength of each safety chain by the class")->outcome, over ? DD_CHECK_BROKEN : DD_CHECK_GOOD);
                dd_report_free(r);
            }
            free(moved);
            dd_case_free(rig);
            rows++;
        }
    }
    fclose(file);
    assert_int_equal(rows, 8);
    dd_report *r = weighed_with(BARE, NULL);
    const double weight = number_at(r, "road", "as given", "trailer") * 9.80665e-3;
    assert_int_equal(check_needed(r, "strength of each safety chain as advised")->outcome, DD_CHECK_NOT_CHECKED);
    assert_int_equal(check_needed(r, "strength of each safety chain by the class")->outcome, DD_CHECK_NOT_CHECKED);
    dd_report_free(r);
    for (int weak = 0; weak < 2; weak++) {
        snprintf(chain, sizeof chain, "trailer.brakes={chain break strength: %.6f kN}", 1.5 * weight + (weak ? -1e-3 : 1e-3));
        r = weighed_with(BARE, (const char *[]){chain, NULL});
        assert_int_equal(check_needed(r, "strength of each safety chain as advised")->outcome, weak ? DD_CHECK_CAUTION : DD_CHECK_GOOD);
        dd_report_free(r);
    }
}

/* A pitch that is off, an axle that hangs, a trailer that tips. */
static void the_ball_is_too_low(void **state)
{
    (void)state;
    const char *const low[] = {"vehicle.coupling height=150 mm", "trailer.spring squash=5 mm", NULL};
    dd_report *r = weighed_with(BARE, low);
    int said = 0;
    for (int i = 0; i < r->note_count; i++) said += strstr(r->notes[i], "axle 2 is off the ground: the ball is too low") != NULL;
    assert_int_equal(said, 1);
    dd_report_free(r);
}

/* The ball that sets the trailer level, as the note says, does: level within 0.02 degrees (the note rounds to millimetres), and the
   note is gone. Errors of an axle ahead of the coupling and of a load that tips name their keys. */
static void level_and_impossible(void **state)
{
    (void)state;
    dd_report *r = weighed_with(BARE, NULL);
    const char *note = NULL;
    for (int i = 0; i < r->note_count; i++)
        if (strncmp(r->notes[i], "The trailer stands", 18) == 0) note = r->notes[i];
    assert_non_null(note);
    double pitch, rise;
    assert_int_equal(sscanf(note, "The trailer stands %lf degrees nose down. A ball %lf mm higher", &pitch, &rise), 2);
    NEAR(axle_cell(r, 0, "nose up"), -pitch, 0.05001);
    char ball[64];
    snprintf(ball, sizeof ball, "vehicle.coupling height=%g mm", 420 + rise);
    const char *const with[] = {ball, NULL};
    dd_report_free(r);
    r = weighed_with(BARE, with);
    NEAR(axle_cell(r, 0, "nose up"), 0, 0.02);
    for (int i = 0; i < r->note_count; i++) assert_true(strncmp(r->notes[i], "The trailer stands", 18) != 0);
    dd_report_free(r);

    const char *const ahead[] = {"trailer.axles[1].behind coupling=-1 m", NULL};
    dd_case_file *none = NULL;
    dd_error_list list;
    assert_int_not_equal(dd_case_read(SOURCE_DIR "/" BARE, ahead, NULL, &none, &list), DD_OK);
    assert_non_null(strstr(list.errors[0].place, "axles[1].behind coupling"));
    dd_error_list_free(&list);
    const char *const tips[] = {"aboard=[{item: stone, mass: 9 t, at: [2 m, 1.3 m, 0.5 m]}]", "placed={transom behind coupling: 6.4 m, keel above ground: 600 mm}",
                                "loadings=[]", NULL};
    dd_case_file *file = scenario_with(BARE, tips);
    dd_error error = {.status = DD_OK};
    r = NULL;
    assert_int_equal(dd_study_weigh(dd_case_of(file), &r, &error), DD_ERROR_ARGUMENT);
    assert_non_null(strstr(error.place, "trailer: track"));
    assert_null(r);
    dd_case_free(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(loads_add_up),        cmocka_unit_test(beside_the_middle), cmocka_unit_test(every_rating),
                                       cmocka_unit_test(pairs_and_car_tyres), cmocka_unit_test(missing_ratings), cmocka_unit_test(classes_and_chains),   cmocka_unit_test(the_ball_is_too_low),
                                       cmocka_unit_test(level_and_impossible)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
