/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every rule set at and about every threshold (published, exact), limits that are functions (1e-9), a user's own set, and what weigh
   says of required and fitted. */
#include "tests/unit/study/reports.h"
#include "lib/rig/rules.h"
#include <glob.h>

#define ROAD "tests/unit/case/road.yaml"
#define RIG "scenarios/on-the-road.yaml"

enum { FIELDS = 16, LINE = 512 };

/* Splits a line of CSV without quotes. */
static int split(char *line, char *fields[FIELDS])
{
    int count = 0;
    line[strcspn(line, "\r\n")] = '\0';
    for (char *at = line; at != NULL && count < FIELDS;) {
        fields[count++] = at;
        if ((at = strchr(at, ',')) != NULL) *at++ = '\0';
    }
    return count;
}

static int choice(const char *const *names, const char *word)
{
    for (int i = 0; names[i] != NULL; i++)
        if (strcmp(names[i], word) == 0) return i;
    fail_msg("no choice '%s'", word);
    return -1;
}

static dd_case_file *file;
static char read_set[32];

static const dd_rules *set_named(const char *name)
{
    char text[64];
    snprintf(text, sizeof text, "rules=%s", name);
    if (strcmp(read_set, name) == 0) return &dd_case_of(file)->rules;
    dd_case_free(file);
    snprintf(read_set, sizeof read_set, "%s", name);
    file = scenario_with(RIG, (const char *[]){text, NULL});
    return &dd_case_of(file)->rules;
}

static dd_rule_figures all_of(double mass)
{
    dd_rule_figures f = {.kerb_mass = NAN, .tow_gross_rating = NAN, .speed = NAN, .axle_count = 1, .fitted = -1};
    for (int i = 0; i < DD_BASIS_COUNT; i++) f.basis[i] = mass;
    return f;
}

static const char *flag(const dd_rule *rule, int value) { return rule == NULL ? "-" : value == 1 ? "yes" : "no"; }

static void count_text(char text[8], const dd_rule *rule, int value)
{
    if (rule == NULL) snprintf(text, 8, "-");
    else snprintf(text, 8, "%d", value);
}

static void class_row(char *const *f, int line)
{
    char chains[8], chocks[8], got[LINE], expected[LINE];
    dd_required need;
    dd_rule_figures figures = all_of(atof(f[2]) * (strcmp(f[1], "lb") == 0 ? 0.45359237 : 1));
    figures.axle_count = atoi(f[3]);
    figures.fitted = choice(dd_fitted_names, f[4]);
    figures.speed = atof(f[5]) / 3.6;
    figures.kerb_mass = atof(f[6]);
    if (figures.axle_count > 1) figures.basis[DD_BASIS_AXLE] /= figures.axle_count;
    dd_rules_required(set_named(f[0]), &figures, &need);
    count_text(chains, need.chains, need.chains == NULL ? 0 : need.chains->chains);
    count_text(chocks, need.chocks, need.chocks == NULL ? 0 : need.chocks->chocks);
    snprintf(got, sizeof got, "%s,%s,%s,%s,%s,%s,%s", need.brakes == NULL ? "-" : dd_brakes_names[need.brakes->brakes],
             flag(need.overrun, need.overrun == NULL ? 0 : need.overrun->overrun), flag(need.from_seat, need.from_seat == NULL ? 0 : need.from_seat->from_seat),
             need.breakaway == NULL ? "-" : dd_breakaway_names[need.breakaway->breakaway],
             flag(need.park_brake, need.park_brake == NULL ? 0 : need.park_brake->park_brake), chains, chocks);
    snprintf(expected, sizeof expected, "%s,%s,%s,%s,%s,%s,%s", f[7], f[8], f[9], f[10], f[11], f[12], f[13]);
    if (strcmp(got, expected) != 0 || need.unsure != 0)
        fail_msg("row %d, %s at %s %s: found %s, expected %s (%d unsure: %s)", line, f[0], f[2], f[1], got, expected, need.unsure, need.missing);
}

static void limit_row(char *const *f, int line)
{
    const dd_rule *all[2 * DD_RULES], *rule = NULL;
    const dd_rules *set = set_named(f[0]);
    const int count = dd_rules_all(set, all);
    char missing[96];
    dd_rule_figures figures = all_of(atof(f[5]));
    figures.basis[DD_BASIS_MAXIMUM] = figures.basis[DD_BASIS_GROSS_RATING] = atof(f[6]);
    figures.fitted = choice(dd_fitted_names, f[2]);
    figures.kerb_mass = atof(f[3]);
    figures.tow_gross_rating = atof(f[4]);
    for (int i = 0; i < count; i++)
        if (strcmp(all[i]->name, f[1]) == 0) rule = all[i];
    if (rule == NULL) fail_msg("row %d: %s has no rule %s", line, f[0], f[1]);
    if (dd_rule_applies(rule, &figures, missing, sizeof missing) != DD_RULE_APPLIES) fail_msg("row %d: %s does not apply", line, f[1]);
    NEAR(dd_mass_limit_value(&rule->limit, &figures, missing, sizeof missing), atof(f[7]), 1e-9);
    assert_int_equal(rule->limit_kind == DD_LIMIT_LEAST, atoi(f[8]));
    figures.kerb_mass = figures.tow_gross_rating = NAN;
    if (isnan(rule->limit.kerb_share) && isnan(rule->limit.tow_rating_share)) return;
    assert_true(isnan(dd_mass_limit_value(&rule->limit, &figures, missing, sizeof missing)));
    assert_non_null(strstr(missing, "vehicle."));
}

static int each_row(const char *name, int columns, void (*row)(char *const *, int))
{
    char path[LINE], line[LINE], *fields[FIELDS];
    int number = 0, rows = 0;
    snprintf(path, sizeof path, SOURCE_DIR "/tests/reference/road/%s", name);
    FILE *stream = fopen(path, "r");
    assert_non_null(stream);
    while (fgets(line, sizeof line, stream) != NULL) {
        number++;
        if (line[0] == '#' || number == 2) continue;
        assert_int_equal(split(line, fields), columns);
        row(fields, number);
        rows++;
    }
    fclose(stream);
    return rows;
}

static void classes(void **state)
{
    (void)state;
    assert_true(each_row("rule_classes.csv", 14, class_row) > 100);
}

static void limits(void **state)
{
    (void)state;
    assert_true(each_row("rule_limits.csv", 9, limit_row) > 20);
}

enum { BELOW = 1, AT = 2, ABOVE = 4, EVERY = 7 };
static double bound_sought;
static const char *set_sought;
static int sides_found;

static void mark_side(char *const *f, int line)
{
    (void)line;
    const double unit = strcmp(f[1], "lb") == 0 ? 0.45359237 : 1, mass = atof(f[2]) * unit;
    if (strcmp(f[0], set_sought) != 0 || fabs(mass - bound_sought) > 1.001 * unit) return;
    sides_found |= fabs(mass - bound_sought) < 1e-6 ? AT : mass < bound_sought ? BELOW : ABOVE;
}

/* Every threshold of every shipped set stands in the table of its own with a mass just below, at and just above it: a threshold that is
   moved, or a set without a table, fails here even where another rule would ask the same. Thresholds of the coupling load: exact. */
static void every_threshold_is_tried(void **state)
{
    (void)state;
    glob_t sets;
    int bounds = 0;
    assert_int_equal(glob(SOURCE_DIR "/scenarios/rules/*.yaml", 0, NULL, &sets), 0);
    for (size_t i = 0; i < sets.gl_pathc; i++) {
        char name[32];
        const char *base = strrchr(sets.gl_pathv[i], '/') + 1;
        snprintf(name, sizeof name, "%.*s", (int)strcspn(base, "."), base);
        const dd_rule *all[2 * DD_RULES];
        const int count = dd_rules_all(set_named(name), all);
        set_sought = name;
        for (int k = 0; k < count; k++) {
            const double each[] = {all[k]->above, all[k]->from, all[k]->up_to, all[k]->below};
            for (int b = 0; b < 4 && all[k]->basis != DD_BASIS_COUPLING; b++) {
                if (!isfinite(each[b])) continue;
                bound_sought = each[b];
                sides_found = 0;
                each_row("rule_classes.csv", 14, mark_side);
                if (sides_found != EVERY) fail_msg("%s: rule %s: the table lacks a mass below, at or above %g kg (found %d)", name, all[k]->name, each[b], sides_found);
                bounds++;
            }
        }
    }
    print_message("%zu sets, %d thresholds\n", sets.gl_pathc, bounds);
    assert_true(sets.gl_pathc == 17 && bounds > 50);
    globfree(&sets);
    for (int over = 0; over < 2; over++) {
        const dd_rule *all[2 * DD_RULES];
        const int count = dd_rules_all(set_named("de"), all);
        char missing[96];
        dd_rule_figures f = all_of(over ? 50.001 : 50);
        int found = 0;
        for (int k = 0; k < count; k++)
            found += all[k]->basis == DD_BASIS_COUPLING && dd_rule_applies(all[k], &f, missing, sizeof missing) == DD_RULE_APPLIES;
        assert_int_equal(found, over);
    }
}

/* What is not known is said, never passed over. */
static void cannot_say(void **state)
{
    (void)state;
    dd_required need;
    dd_rule_figures f = all_of(7000);
    dd_rules_required(set_named("us-tx"), &f, &need);
    assert_int_equal(need.unsure, 0); /* 15 000 lb and more: no speed asked */
    f = all_of(3000);
    dd_rules_required(set_named("us-tx"), &f, &need);
    assert_int_equal(need.unsure, 1);
    assert_string_equal(need.missing, "vehicle.road speed");
    dd_rules_required(set_named("nz"), &f, &need);
    assert_string_equal(need.missing, "trailer.brakes.fitted");
}

static void user_set(void **state)
{
    (void)state;
    const char *const with[] = {"rules={title: Club, seen: today, units: us, rules: [{name: light, instrument: by-law 1, up to: 5000 lb, brakes: none}, "
                                "{name: heavy, instrument: by-law 2, above: 5000 lb, brakes: all wheels, chains: 2, chain rating: 2 t}], "
                                "also: [{name: heavy, instrument: by-law 3, above: 5000 lb, brakes: one axle, chains: 1}]}",
                                "trailer.brakes={fitted: overrun, axles: 1, chains: 0}", "measured=[]", NULL};
    char text[LINE];
    dd_case_file *own = scenario_with(ROAD, with);
    dd_report *r = weighed(dd_case_of(own));
    const dd_check *chains = check_named(r, "safety chains of the drawbar"), *wheels = check_named(r, "wheels with brakes");
    assert_string_equal(cell_at(r, "rules", "as given", "brakes")->text, "one axle");
    assert_string_equal(cell_at(r, "rules", "as given", "rule")->text, "heavy");
    NEAR(number_at(r, "rules", "as given", "mass") - number_at(r, "rules", "as given", "over the last"), 5000, 1e-6);
    assert_true(chains != NULL && chains->outcome == DD_CHECK_BROKEN && wheels != NULL && wheels->outcome == DD_CHECK_GOOD);
    assert_string_equal(chains->source, "by-law 3");
    assert_non_null(strstr(table_named(r, "rules")->note, "confirm with the authority"));
    assert_int_equal(r->units, DD_REPORT_US);
    dd_report_free(r);
    dd_case_free(own);
    refusal_of(ROAD, "rules={rules: [{name: light, instrument: x, brakes: some}]}", text, sizeof text);
    assert_non_null(strstr(text, "some"));
    refusal_of(ROAD, "rules=nowhere", text, sizeof text);
    assert_non_null(strstr(text, "rules/nowhere.yaml"));
    refusal_of(ROAD, "rules={rules: [{instrument: x}]}", text, sizeof text);
    assert_non_null(strstr(text, "missing"));
}

/* The tank that tips the class: litres by hand from the distance, the density and the axles' share of a tank's place. */
static void tips(void **state)
{
    (void)state;
    const char *const with[] = {"rules={rules: [{name: low, instrument: x, up to: 2.4 t, brakes: none}, {name: high, instrument: x, above: 2.4 t, brakes: one axle}]}",
                                "aboard=[{item: fuel, volume: 400 L, fill: 50 %, contents: petrol, density: 750 kg/m3, at: [1.6 m, 0 m, 0.25 m]}]", "loadings=[]", NULL};
    dd_case_file *own = scenario_with(RIG, with);
    dd_report *r = weighed(dd_case_of(own));
    const double mass = number_at(r, "rules", "as given", "mass"), over = mass - 2400;
    char expected[LINE];
    NEAR(number_at(r, "rules", "as given", "over the last"), over, 1e-9);
    snprintf(expected, sizeof expected, "%.0f L of fuel over the class below", over / 0.75);
    const char *words = cell_at(r, "rules", "as given", "what tips it")->text;
    if (over > 150 || over < 0) assert_null(strstr(words, "over the class"));
    else assert_non_null(strstr(words, expected));
    dd_report_free(r);
    dd_case_free(own);
    own = scenario_with(RIG, (const char *[]){"rules={rules: [{name: low, instrument: x, up to: 2800 kg, brakes: none}]}", with[1], "loadings=[]", NULL});
    r = weighed(dd_case_of(own));
    const double room = 2800 - number_at(r, "rules", "as given", "mass");
    snprintf(expected, sizeof expected, "%.0f L of fuel below the next class", room / 0.75);
    assert_true(room > 0 && room < 150);
    assert_non_null(strstr(cell_at(r, "rules", "as given", "what tips it")->text, expected));
    dd_report_free(r);
    dd_case_free(own);
}

/* Required against fitted: nothing known is not checked, too little is broken, enough is good; none: nothing is asked. */
static void required_and_fitted(void **state)
{
    (void)state;
    const char *const blank[] = {"rules=au", "trailer.brakes={}", NULL}, *const poor[] = {"rules=au", "trailer.brakes={fitted: overrun, axles: 2, breakaway: none, chains: 1}", NULL},
               *const good[] = {"rules=au", "trailer.brakes={fitted: electric-hydraulic, axles: 2, breakaway: automatic, breakaway holds for: 15 min, chains: 2}", NULL},
               *const none[] = {"rules=none", NULL}, *const *const all[] = {blank, poor, good, none};
    static const int outcome[] = {DD_CHECK_NOT_CHECKED, DD_CHECK_BROKEN, DD_CHECK_GOOD};
    for (int i = 0; i < 4; i++) {
        dd_case_file *own = scenario_with(RIG, all[i]);
        dd_report *r = weighed(dd_case_of(own));
        const dd_check *breakaway = check_named(r, "breakaway: automatic"), *overrun = check_named(r, "overrun brakes (not allowed)");
        assert_true(i == 3 ? breakaway == NULL && overrun == NULL : breakaway != NULL && overrun != NULL);
        if (i < 3) assert_int_equal(breakaway->outcome, outcome[i]);
        if (i < 3) assert_int_equal(overrun->outcome, outcome[i]);
        dd_report_free(r);
        dd_case_free(own);
    }
}

/* Two trailers of one frame and a third that the boat does not fit: the smaller passes until the reserve asked is more than its margin. */
static void which_trailer(void **state)
{
    (void)state;
    dd_case_file *own = scenario_with(RIG, (const char *[]){"loadings=[]", NULL});
    const dd_case *scenario = dd_case_of(own);
    dd_trailer_parameters small = scenario->trailer, large = scenario->trailer, bare = scenario->trailer;
    snprintf(small.name, sizeof small.name, "small");
    snprintf(large.name, sizeof large.name, "large");
    snprintf(bare.name, sizeof bare.name, "without supports");
    small.aggregate_mass_rating = 2800;
    large.aggregate_mass_rating = 3400;
    bare.aggregate_mass_rating = 4000;
    bare.support_count = 0;
    const dd_trailer_parameters *const trailers[] = {&bare, &large, &small};
    dd_error error;
    dd_report *r;
    assert_int_equal(dd_study_which_trailer(scenario, trailers, 3, 0, &r, &error), DD_OK);
    const char *const order[] = {"small", "large", "without supports"};
    const dd_report_table *t = table_named(r, "trailers");
    for (int i = 0; i < 3; i++) assert_string_equal(t->cells[i * t->column_count].text, order[i]);
    assert_string_equal(cell_at(r, "trailers", "small", "passes")->text, "yes");
    assert_string_equal(cell_at(r, "trailers", "without supports", "passes")->text, "no");
    assert_true(r->note_count > 0 && strstr(r->notes[r->note_count - 1], ": small") != NULL);
    dd_report_free(r);
    assert_int_equal(dd_study_which_trailer(scenario, trailers, 3, 0.04, &r, &error), DD_OK);
    assert_string_equal(cell_at(r, "trailers", "small", "passes")->text, "no");
    assert_string_equal(cell_at(r, "trailers", "small", "decides")->text, "trailer's aggregate mass");
    assert_true(number_at(r, "trailers", "small", "use") > 96 && number_at(r, "trailers", "small", "use") <= 100);
    assert_string_equal(cell_at(r, "trailers", "large", "passes")->text, "yes");
    dd_report_free(r);
    assert_int_equal(dd_study_which_trailer(scenario, trailers, 0, 0, &r, &error), DD_ERROR_ARGUMENT);
    dd_case_free(own);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(classes),  cmocka_unit_test(limits), cmocka_unit_test(every_threshold_is_tried), cmocka_unit_test(cannot_say),
                                       cmocka_unit_test(user_set), cmocka_unit_test(tips),   cmocka_unit_test(required_and_fitted),
                                       cmocka_unit_test(which_trailer)};
    const int failed = cmocka_run_group_tests(tests, NULL, NULL);
    dd_case_free(file);
    return failed;
}
