/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files without errors: values, parts, what is based on what, and show, which must read back to the same bits. */
#include "tests/unit/case/cases.h"
#include "lib/case/case.h"
#include "lib/force/force.h"
#include "tests/unit/base/comma_locale.h"
#include <math.h>
#include <unistd.h>

static const char *const scenarios[] = {
    SOURCE_DIR "/scenarios/launch.yaml",         SOURCE_DIR "/scenarios/launch-cross-stream.yaml",
    SOURCE_DIR "/scenarios/retrieve.yaml",       SOURCE_DIR "/scenarios/retrieve-cross-stream.yaml",
    SOURCE_DIR "/tests/unit/case/brochure.yaml", SOURCE_DIR "/tests/unit/case/surveyed.yaml",
    SOURCE_DIR "/tests/cli/bad/part-base.yaml",  SOURCE_DIR "/scenarios/on-the-road.yaml"};
enum { SCENARIOS = sizeof scenarios / sizeof scenarios[0] };

/* Closed forms: the SI value of what the file says. */
static void values_arrive(void **state)
{
    (void)state;
    dd_case_file *file = must_read(SOURCE_DIR "/tests/unit/case/brochure.yaml", NULL);
    const dd_case *c = dd_case_of(file);
    assert_string_equal(c->title, "Every key of a rig by brochure");
    assert_true(c->format == 1 && c->action == DD_ACTION_RETRIEVE && c->cookie == sizeof *c);
    assert_true(c->boat.length == 5.2 && c->boat.length_of == DD_LENGTH_OVERALL && c->boat.engine_power == 66000);
    assert_true(fabs(c->boat.transom_deadrise - 0.31415926535897932) < 1e-16 && isnan(c->boat.chine_beam));
    assert_true(c->trailer.axle_count == 2 && c->trailer.axles[1].behind_coupling == 4.3 && c->trailer.axles[0].rating == 1000);
    assert_true(c->trailer.support_count == 3 && c->trailer.supports[0].kind == DD_SUPPORT_KEEL_ROLLER);
    assert_true(c->trailer.supports[1].kind == DD_SUPPORT_ROLLER && c->trailer.supports[1].half_spacing == 0.3);
    const dd_support *cradle = &c->trailer.supports[2];
    assert_true(cradle->kind == DD_SUPPORT_CRADLE && cradle->rows == 4 && cradle->half_spacing_count == 2 &&
                cradle->half_spacings[1] == 0.55);
    assert_true(cradle->roller_diameter == 0.075 && isnan(cradle->rated_load)); /* defaults of the rows */
    assert_true(c->vehicle.drive == 2 && c->ramp.slope == atan(1.0 / 8) && c->ramp.surface_count == 1);
    assert_true(c->boat.item_count == 2 && c->boat.items[0].at_count == 3 && c->boat.items[1].at_count == 0);
    assert_true(c->step_count == 8 && c->steps[0].kind == DD_STEP_HOOK_ON && c->steps[7].kind == DD_STEP_PULL_OUT);
    assert_true(c->steps[1].speed == 0.1 && c->steps[1].until.at_the_stop == 1 && isnan(c->steps[1].until.after));
    assert_true(c->steps[2].until.after == 5 && c->limits.push_force == 200 && c->gravity == 9.80665);
    assert_string_equal(c->without[0], "cross flow");
    dd_case_free(file);
    dd_case_free(NULL);
}

/* A rig on the road lacks action, ramp, water and procedure; one of them makes the others needed. Closed form (yes or no). */
static void road_needs_no_ramp(void **state)
{
    (void)state;
    dd_case_file *file = must_read(SOURCE_DIR "/scenarios/on-the-road.yaml", NULL);
    assert_int_equal(dd_case_of(file)->on_ramp, 0);
    dd_case_free(file);
    const char *const one[] = {"water.level=1 m", NULL};
    dd_error_list list;
    assert_int_not_equal(dd_case_read(SOURCE_DIR "/scenarios/on-the-road.yaml", one, NULL, &file, &list), DD_OK);
    assert_null(file);
    int missing = 0;
    for (int i = 0; i < list.count; i++)
        missing += strstr(list.errors[i].place, ": action") != NULL || strstr(list.errors[i].place, ": ramp") != NULL ||
                   strstr(list.errors[i].place, ": procedure") != NULL;
    assert_int_equal(missing, 3);
    dd_error_list_free(&list);
}

static void defaults_are_whole(void **state)
{
    (void)state;
    dd_case *c = malloc(sizeof *c), *again = malloc(sizeof *again);
    assert_true(c != NULL && again != NULL);
    memset(c, 0x55, sizeof *c);
    memset(again, 0xAA, sizeof *again);
    dd_case_defaults(c);
    dd_case_defaults(again);
    assert_memory_equal(c, again, sizeof *c); /* every byte is set */
    assert_true(c->cookie == sizeof *c && c->boat.cookie == sizeof c->boat && c->trailer.cookie == sizeof c->trailer);
    assert_true(c->vehicle.cookie == sizeof c->vehicle && c->ramp.cookie == sizeof c->ramp &&
                c->water.cookie == sizeof c->water);
    assert_true(isnan(c->water.level) && isnan(c->boat.mass) && c->action == -1 && c->step_count == 0);
    assert_true(c->limits.afloat_share == 0.005 && c->limits.stop_gap == 0.02 && c->limits.offset == 0.025 &&
                c->start.hub_depth == -0.3);
    free(c);
    free(again);
}

/* Each force finds its own coefficients, aligned, with their defaults. */
static void forces_have_their_coefficients(void **state)
{
    (void)state;
    dd_case *c = malloc(sizeof *c);
    assert_non_null(c);
    dd_case_defaults(c);
    const unsigned char *end = c->forces;
    int with = 0;
    for (int i = 0; i < dd_force_count(); i++) {
        const dd_force_kind *kind = dd_force_at(i);
        const unsigned char *at = dd_case_force_parameters(c, i);
        assert_int_equal(at != NULL, kind->parameters_size > 0);
        if (at == NULL) continue;
        with++;
        assert_true(((uintptr_t)at & 15) == 0 && at >= end && at + kind->parameters_size <= c->forces + DD_FORCE_BYTES);
        end = at + kind->parameters_size;
        for (const dd_key *row = kind->keys; row != NULL && row->name != NULL; row++) {
            double value;
            memcpy(&value, at + row->offset, sizeof value);
            if (row->type == DD_KEY_QUANTITY && !row->required && !isnan(row->fallback)) assert_true(value == row->fallback);
        }
    }
    assert_true(with > 0);
    assert_null(dd_case_force_parameters(c, -1));
    assert_null(dd_case_force_parameters(c, dd_force_count()));
    free(c);
}

/* Lines without their comments: these name the file that was read. */
static char *without_comments(const char *text)
{
    char *plain = malloc(strlen(text) + 2), *out = plain;
    assert_non_null(plain);
    while (*text != '\0') {
        size_t line = strcspn(text, "\n"), keep = 0;
        for (bool quoted = false; keep < line && (quoted || text[keep] != '#'); keep++)
            quoted = text[keep] == '"' ? !quoted : quoted;
        while (keep > 0 && text[keep - 1] == ' ') keep--;
        memcpy(out, text, keep);
        out += keep;
        if (keep > 0) *out++ = '\n';
        text += line + (text[line] == '\n');
    }
    *out = '\0';
    return plain;
}

/* The case's bytes but the title's padding and such are all set, so equal means equal everywhere. */
static void show_reads_back(void **state)
{
    (void)state;
    char folder[64], path[256];
    make_folder(folder);
    for (int i = 0; i < SCENARIOS; i++)
        for (int as_json = 0; as_json < 2; as_json++) {
            dd_case_file *file = must_read(scenarios[i], NULL);
            char *first = dd_case_show(file, as_json);
            assert_non_null(first);
            write_file(folder, as_json ? "shown.json" : "shown.yaml", first, strlen(first), path);
            dd_case_file *again = must_read(path, NULL);
            if (memcmp(dd_case_of(file), dd_case_of(again), sizeof(dd_case)) != 0)
                fail_msg("%s: does not read back to the same bits", scenarios[i]);
            char *second = dd_case_show(again, as_json);
            assert_non_null(second);
            char *a = without_comments(first), *b = without_comments(second);
            assert_string_equal(a, b);
            /* shown, read and shown again from the same file: every byte */
            write_file(folder, as_json ? "shown.json" : "shown.yaml", second, strlen(second), path);
            dd_case_file *last = must_read(path, NULL);
            char *third = dd_case_show(last, as_json);
            assert_string_equal(second, third);
            free(first), free(second), free(third), free(a), free(b);
            dd_case_free(file), dd_case_free(again), dd_case_free(last);
        }
    remove_folder(folder);
}

/* Awkward numbers and texts. */
static void odd_values_read_back(void **state)
{
    (void)state;
    char folder[64], path[256];
    make_folder(folder);
    const char *overrides[] = {
        "water.level=0.1 ft",
        "water.current=0.1234567890123456789 mph",
        "water.temperature=61.7 degF",
        "ramp.slope=1:7.3",
        "boat.mass=1999.99 lb",
        "boat.engine power=77 metric hp",
        "boat.length=17 ft 3 in",
        "limits.afloat share=0.77 %",
        "start.heading=-3.3 deg",
        "title=\"quotes\" # and \\ a colon: - yes",
        "aboard=[{item: 'no', mass: 1 kg}, {item: \"12 # 3\", mass: 2 oz}, {item: 'Bj\xc3\xb6rn', mass: 80 kg}]",
        "forces.cross flow.coefficient=0.333333333333333333",
        NULL};
    dd_case_file *file = must_read(scenarios[4], overrides);
    for (int as_json = 0; as_json < 2; as_json++) {
        char *shown = dd_case_show(file, as_json);
        assert_non_null(shown);
        write_file(folder, "odd.yaml", shown, strlen(shown), path);
        dd_case_file *again = must_read(path, NULL);
        assert_memory_equal(dd_case_of(file), dd_case_of(again), sizeof(dd_case));
        dd_case_free(again);
        free(shown);
    }
    assert_string_equal(dd_case_of(file)->title, "\"quotes\" # and \\ a colon: - yes");
    dd_case_free(file);
    remove_folder(folder);
}

static void show_names_origins(void **state)
{
    (void)state;
    const char *overrides[] = {"water.current=0.2 knot", NULL};
    dd_case_file *file = must_read(SOURCE_DIR "/tests/unit/case/surveyed.yaml", overrides);
    char *shown = dd_case_show(file, 0);
    assert_non_null(shown);
    static const char *const wanted[] = {
        "title: Every key of a rig by survey         # given: " SOURCE_DIR "/tests/unit/case/surveyed.yaml:4\n",
        "  mass: 900 kg                              # given: " SOURCE_DIR "/tests/unit/case/invented-stations.yaml:4\n",
        "  level: 0.4 m                              # given: " SOURCE_DIR "/tests/unit/case/brochure.yaml:41\n",
        "  current: 0.2 knot                         # given: --with water.current=0.2 knot\n",
        "gravity: 9.80665 m/s2                       # default: CGPM 1901, resolution 2: 9.80665 m/s2\n"};
    for (size_t i = 0; i < sizeof wanted / sizeof wanted[0]; i++)
        if (strstr(shown, wanted[i]) == NULL) fail_msg("not shown: %s", wanted[i]);
    free(shown);
    dd_case_free(file);
    /* what is estimated is said, with its band */
    file = must_read(scenarios[4], NULL);
    shown = dd_case_show(file, 0);
    assert_non_null(strstr(shown, "  # chine beam: estimate "));
    assert_non_null(strstr(shown, "# boat: mass of all that is not in the list aboard: estimate "));
    free(shown);
    dd_case_free(file);
}

static const char whole[] = "based on: " SOURCE_DIR "/tests/cli/bad/part-base.yaml\n";

static void parts_are_found_and_joined(void **state)
{
    (void)state;
    char data[64], mine[64], path[256], text[600];
    make_folder(data);
    make_folder(mine);
    write_file(data, "shipped.yaml", "slope: 1:10\ncrest level: 2 m\nname: shipped\n", 43, path);
    write_file(data, "twice.yaml", "slope: 1:11\ncrest level: 2 m\n", 29, path);
    write_file(mine, "twice.yaml", "slope: 1:12\ncrest level: 2 m\n", 29, path);
    const char *const search[] = {"/no/such/folder", data, NULL};
    const struct {
        const char *ramp;
        double run;
    } rows[] = {{"ramp: shipped.yaml", 10}, {"ramp: twice.yaml", 12}, {"ramp: {based on: shipped.yaml, slope: 1:9}", 9}};
    for (int i = 0; i < 3; i++) {
        snprintf(text, sizeof text, "%s%s\n", whole, rows[i].ramp);
        write_file(mine, "scenario.yaml", text, strlen(text), path);
        dd_case_file *file;
        dd_error_list list;
        assert_int_equal(dd_case_read(path, NULL, search, &file, &list), DD_OK);
        assert_true(dd_case_of(file)->ramp.slope == atan(1 / rows[i].run) && dd_case_of(file)->ramp.crest_level == 2);
        if (i == 2) assert_string_equal(dd_case_of(file)->ramp.name, "shipped");
        dd_case_free(file);
    }
    /* a part's own base is looked up beside the part */
    write_file(data, "derived.yaml", "based on: shipped.yaml\nslope: 1:7\n", 34, path);
    snprintf(text, sizeof text, "%sramp: %s/derived.yaml\n", whole, data);
    write_file(mine, "scenario.yaml", text, strlen(text), path);
    dd_case_file *file = must_read(path, NULL);
    assert_true(dd_case_of(file)->ramp.slope == atan(1.0 / 7));
    dd_case_free(file);
    /* over a part that the base names by file, a mapping changes that part */
    snprintf(text, sizeof text, "based on: %s\nramp: %s/shipped.yaml\n", SOURCE_DIR "/tests/cli/bad/part-base.yaml", data);
    write_file(data, "base.yaml", text, strlen(text), path);
    snprintf(text, sizeof text, "based on: %s/base.yaml\nramp: {slope: 1:6}\n", data);
    write_file(mine, "scenario.yaml", text, strlen(text), path);
    file = must_read(path, NULL);
    assert_true(dd_case_of(file)->ramp.slope == atan(1.0 / 6) && dd_case_of(file)->ramp.crest_level == 2);
    dd_case_free(file);
    remove_folder(data);
    remove_folder(mine);
}

/* YAML that people's editors write: a byte-order mark, CRLF, quotes, flow and block style, anchors, merges, upper limits. */
static void styles_of_yaml(void **state)
{
    (void)state;
    char folder[64], path[256], text[900];
    make_folder(folder);
    static const char *const styles[] = {"water: {level: 0.5 m}",
                                         "water:\n  level: 0.5 m",
                                         "water:\r\n  level: 0.5 m\r",
                                         "water: {\"level\": '0.5 m'}",
                                         "'water':\n    level: \"0.5 m\"",
                                         "water: {level: 0.5m} # a comment",
                                         "water:\n  level: >-\n    0.5\n    m",
                                         "start: &s {hub depth: 100 mm, bow distance: 2 m}\nwater: {level: 50 cm}"};
    for (size_t i = 0; i < sizeof styles / sizeof styles[0]; i++) {
        snprintf(text, sizeof text, "%s%s%s\n", i == 1 ? "\xEF\xBB\xBF" : "", whole, styles[i]);
        write_file(folder, "style.yaml", text, strlen(text), path);
        dd_case_file *file = must_read(path, NULL);
        assert_true(dd_case_of(file)->water.level == 0.5);
        dd_case_free(file);
    }
    remove_folder(folder);
}

/* Read, shown and reported as ever where a decimal comma is the custom. */
static void the_locale_changes_nothing(void **state)
{
    (void)state;
    static const char bad[] = SOURCE_DIR "/tests/cli/bad/129-many-errors.yaml";
    char *texts[2][5];
    dd_case *values[2];
    for (int comma = 0; comma < 2; comma++) {
        if (comma && (!set_comma_locale() || !comma_is_written()))
            fail_msg("no locale with a decimal comma could be set or made: install the package locales");
        dd_case_file *file = must_read(scenarios[4], NULL);
        values[comma] = malloc(sizeof(dd_case));
        assert_non_null(values[comma]);
        memcpy(values[comma], dd_case_of(file), sizeof(dd_case));
        for (int kind = 0; kind < 4; kind++) texts[comma][kind] = kind < 2 ? dd_case_show(file, kind) : dd_case_keys(kind - 2);
        texts[comma][4] = read_messages(bad, NULL, NULL);
        dd_case_free(file);
    }
    assert_non_null(setlocale(LC_ALL, "C"));
    assert_memory_equal(values[0], values[1], sizeof(dd_case));
    for (int kind = 0; kind < 5; kind++) {
        assert_string_equal(texts[0][kind], texts[1][kind]);
        free(texts[0][kind]);
        free(texts[1][kind]);
    }
    free(values[0]);
    free(values[1]);
}

static void standard_input_is_read(void **state)
{
    (void)state;
    assert_non_null(freopen(scenarios[4], "rb", stdin));
    dd_case_file *file = must_read("-", NULL);
    assert_true(dd_case_of(file)->boat.length == 5.2);
    dd_case_free(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(values_arrive),
                                       cmocka_unit_test(road_needs_no_ramp), cmocka_unit_test(defaults_are_whole),
                                       cmocka_unit_test(forces_have_their_coefficients),
                                       cmocka_unit_test(show_reads_back),
                                       cmocka_unit_test(odd_values_read_back),
                                       cmocka_unit_test(show_names_origins),
                                       cmocka_unit_test(parts_are_found_and_joined),
                                       cmocka_unit_test(styles_of_yaml),
                                       cmocka_unit_test(the_locale_changes_nothing),
                                       cmocka_unit_test(standard_input_is_read)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
