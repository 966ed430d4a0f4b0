/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Overrides: the same units, checks and messages as in a file. */
#include "tests/unit/case/cases.h"
#include <math.h>

static const char base[] = SOURCE_DIR "/tests/cli/bad/part-base.yaml";

static const dd_case *read_with(const char *override, dd_case_file **file)
{
    const char *overrides[] = {override, NULL};
    *file = must_read(base, overrides);
    return dd_case_of(*file);
}

#define CHECK(override, condition)                                                                                             \
    do {                                                                                                                       \
        dd_case_file *file;                                                                                                    \
        const dd_case *c = read_with(override, &file);                                                                         \
        assert_true(condition);                                                                                                \
        dd_case_free(file);                                                                                                    \
    } while (0)

/* Values are closed forms: the SI value of the text. */
static void paths_reach_every_kind_of_value(void **state)
{
    (void)state;
    CHECK("water.level=0.5m", c->water.level == 0.5);
    CHECK(" water . level = 50 cm ", c->water.level == 0.5);
    CHECK("tolerance=fine", c->tolerance == DD_TOLERANCE_FINE);
    CHECK("title=Evening: a retrieve", strcmp(c->title, "Evening: a retrieve") == 0);
    CHECK("boat.chine beam=1.6 m", c->boat.chine_beam == 1.6);
    CHECK("trailer.winch.strap rating=9 kN", c->trailer.winch.strap_rating == 9000);
    CHECK("aboard[fuel].mass=40 kg", c->boat.items[0].mass == 40);
    CHECK("aboard[ice box].mass=4 kg", c->boat.items[1].mass == 4);
    CHECK("aboard[2].mass=3 kg", c->boat.items[1].mass == 3);
    CHECK("aboard[fuel].at=[1 m, 2 m, 3 m]", c->boat.items[0].at[1] == 2 && c->boat.items[0].at_count == 3);
    CHECK("aboard[fuel].at[2]=4 m", c->boat.items[0].at[1] == 4 && c->boat.items[0].at[0] == 0.9);
    CHECK("aboard=[]", c->boat.item_count == 0);
    CHECK("trailer.supports[rear cradle].above ground=0.45 m", c->trailer.supports[1].above_ground == 0.45);
    CHECK("procedure[2].speed=0.2 m/s", c->steps[1].speed == 0.2);
    CHECK("procedure[wind in].until.after=5 s", c->steps[1].until.after == 5);
    CHECK("procedure[1].time limit=7 s", c->steps[0].time_limit == 7); /* `- hook on` alone becomes a mapping */
    CHECK("procedure[3]={stop: {acceleration: 1 m/s2}}", c->steps[2].kind == DD_STEP_STOP && c->steps[2].acceleration == 1);
    CHECK("limits.offset=30 mm", c->limits.offset == 0.03);
    CHECK("without=[buoyancy]", c->without_count == 1 && strcmp(c->without[0], "buoyancy") == 0);
    CHECK("ramp={slope: 12.5 %, crest level: 2 m}", c->ramp.crest_level == 2 && fabs(tan(c->ramp.slope) - 0.125) < 1e-15);
    CHECK("ramp.surfaces=[{name: weed, friction low: 0.2}]",
          c->ramp.surface_count == 1 && c->ramp.surfaces[0].friction_low == 0.2);
}

static void later_overrides_win(void **state)
{
    (void)state;
    const char *overrides[] = {"water.level=1 m", "water.level=2 m", "aboard=[{item: dog, mass: 20 kg}]",
                               "aboard[dog].mass=25 kg", NULL};
    dd_case_file *file = must_read(base, overrides);
    assert_true(dd_case_of(file)->water.level == 2 && dd_case_of(file)->boat.item_count == 1 &&
                dd_case_of(file)->boat.items[0].mass == 25);
    dd_case_free(file);
}

/* An override in one place of an alias leaves the others as they are. */
static void aliases_stay_apart(void **state)
{
    (void)state;
    char folder[64], path[256], text[600];
    make_folder(folder);
    snprintf(text, sizeof text, "based on: %s\naboard: [&one {item: a, mass: 1 kg}, {<<: *one, item: b}, *one]\n", base);
    write_file(folder, "alias.yaml", text, strlen(text), path);
    const char *overrides[] = {"aboard[1].mass=9 kg", NULL};
    dd_case_file *file = must_read(path, overrides);
    const dd_case *c = dd_case_of(file);
    assert_true(c->boat.items[0].mass == 9 && c->boat.items[1].mass == 1 && c->boat.items[2].mass == 1);
    assert_string_equal(c->boat.items[1].item, "b");
    dd_case_free(file);
    remove_folder(folder);
}

static void messages_name_the_override(void **state)
{
    (void)state;
    const struct {
        const char *override, *message;
    } rows[] = {
        {"water.level=0.5", "water.level: found '0.5' without a unit; expected a length in m, mm, cm, km, ft, in or nmi"},
        {"water.levl=1 m", "water.levl: found the unknown key 'levl'; nearest known key: 'level'"},
        {"watr.level=1 m", "watr.level: found the unknown key 'watr'; nearest known key: 'water'"},
        {"water=1", "water: found '1'; expected keys and values, as 'level: ...'"},
        {"water.level.x=3", "water.level.x: 'level' is a value; expected no key below it"},
        {"aboard.mass=3 kg", "aboard.mass: 'aboard' is a list; expected an element, as aboard[1]"},
        {"aboard[fuell].mass=4 kg",
         "aboard[fuell].mass: found no element 'fuell'; expected a name in the list or a number from 1 to 2; nearest: 'fuel'"},
        {"aboard[3].mass=4 kg", "aboard[3].mass: found no element '3'; expected a name in the list or a number from 1 to 2"},
        {"aboard[0].mass=4 kg", "aboard[0].mass: found no element '0'; expected a name in the list or a number from 1 to 2"},
        {"procedure[back down].speed=1 m/s",
         "procedure[back down].speed: found no element 'back down'; expected a name in the list or a number from 1 to 3"},
        {"ramp.surfaces[1].from=1 m",
         "ramp.surfaces[1].from: found '[1]'; expected it after the name of a list that the scenario gives"},
        {"level", "found 'level'; expected KEY=VALUE, as water.level=0.4m"},
        {"=3", "found '=3'; expected KEY=VALUE, as water.level=0.4m"},
        {"water..level=1m", "found 'water..level'; expected a key path such as water.level or aboard[fuel].mass"},
        {"water.=1m", "found 'water.'; expected a key path such as water.level or aboard[fuel].mass"},
        {"aboard[fuel.mass=1 kg", "found 'aboard[fuel.mass'; expected a key path such as water.level or aboard[fuel].mass"},
        {"water.level=", "water.level: found nothing after '='; expected a value"},
        {"water.level=~", "water.level: found nothing after '='; expected a value"},
        {"water.level=200 m", "water.level: found '200 m'; expected -100 m to 100 m"},
        {"vehicle=nofile.yaml",
         "vehicle: found 'nofile.yaml', which does not exist; expected the name of a file beside this one"},
        {"without=[", "not YAML: did not find expected node content (while parsing a flow node that starts in line 2)"},
        {"title=\xff", "found the byte 0xFF; expected text in UTF-8"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char expected[700];
        const char *overrides[] = {rows[i].override, NULL};
        snprintf(expected, sizeof expected, "--with %s: %s\n", rows[i].override, rows[i].message);
        char *found = read_messages(base, overrides, NULL);
        assert_string_equal(found, expected);
        free(found);
    }
}

static void two_of_one_name_need_a_number(void **state)
{
    (void)state;
    const char *overrides[] = {"aboard=[{item: gear, mass: 1 kg}, {item: gear, mass: 2 kg}]", "aboard[gear].mass=3 kg", NULL};
    char *found = read_messages(base, overrides, NULL);
    assert_string_equal(
        found,
        "--with aboard[gear].mass=3 kg: aboard[gear].mass: found 2 elements named 'gear'; expected a number from 1 to 2\n");
    free(found);
}

static void too_many_overrides(void **state)
{
    (void)state;
    const char *overrides[101];
    for (int i = 0; i < 100; i++) overrides[i] = "water.level=1 m";
    overrides[100] = NULL;
    char *found = read_messages(base, overrides, NULL);
    assert_non_null(strstr(found, "more than 64 files and overrides"));
    free(found);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(paths_reach_every_kind_of_value),
                                       cmocka_unit_test(later_overrides_win),
                                       cmocka_unit_test(aliases_stay_apart),
                                       cmocka_unit_test(messages_name_the_override),
                                       cmocka_unit_test(two_of_one_name_need_a_number),
                                       cmocka_unit_test(too_many_overrides)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
