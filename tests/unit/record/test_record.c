/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The recorder, and a result as CSV and JSON. Tolerances: CSV has 9 significant digits, so a value reads back within 5e-9 of
   itself (formula: half a unit of the last digit); JSON reads back to the same bits (0). Everything else is compared exactly. */
#include "lib/base/numbers.h"
#include "lib/record/cautions.h"
#include "lib/record/events.h"
#include "lib/record/fields.h"
#include "lib/record/recorder.h"
#include "tests/unit/record/made_up.h"
#include <locale.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>
#include <jansson.h>

/* Reads one field of RFC 4180 text, without its quotes; *at moves behind its separator. Returns that separator. */
static char read_field(const char **at, char *field, size_t size)
{
    size_t length = 0;
    bool quoted = **at == '"';
    if (quoted) (*at)++;
    for (;; (*at)++) {
        if (quoted && **at == '"' && (*at)[1] == '"')
            (*at)++;
        else if (quoted && **at == '"') {
            (*at)++;
            break;
        } else if (!quoted && (**at == ',' || **at == '\n'))
            break;
        assert_true(**at != '\0' && length + 1 < size);
        field[length++] = **at;
    }
    field[length] = '\0';
    return *(*at)++;
}

static void timeline_reads_back(void **state)
{
    (void)state;
    dd_result *result = made_up_result();
    char *text = dd_result_timeline_csv(result), field[256];
    assert_non_null(text);
    const char *at = text, *end;
    for (int c = 0; c < result->column_count; c++) {
        char separator = read_field(&at, field, sizeof field);
        assert_string_equal(field, result->columns[c].name);
        assert_int_equal(separator, c + 1 < result->column_count ? ',' : '\n');
    }
    for (int i = 0; i < result->row_count * result->column_count; i++) {
        double value = 0;
        char separator = read_field(&at, field, sizeof field);
        assert_int_equal(separator, (i + 1) % result->column_count ? ',' : '\n');
        if (isfinite(result->rows[i])) {
            assert_true(dd_number_parse(field, &end, &value) && *end == '\0');
            assert_true(fabs(value - result->rows[i]) <= 5e-9 * fabs(result->rows[i]));
        } else {
            assert_string_equal(field, "");
        }
        assert_null(strstr(field, "-0,")); /* zero has no sign */
        if (result->rows[i] == 0) assert_string_equal(field, "0");
    }
    assert_int_equal(*at, '\0');
    free(text);
    dd_result_free(result);
}

static void events_read_back_by_time(void **state)
{
    (void)state;
    static const char *const order[] = {"step: back down", "hub wet", "afloat", "support lost"};
    static const char *const marks[] = {"1", "2", "3", ""};
    dd_result *result = made_up_result();
    char *text = dd_result_events_csv(result), field[256];
    const char *at = strchr(text, '\n') + 1;
    assert_int_equal(strncmp(text, "time_s,name,detail,rig_x_m,hub_depth_m,value,unit,mark\n", (size_t)(at - text)), 0);
    for (int i = 0; i < 4; i++) {
        assert_string_equal(result->events[i].name, order[i]);
        for (int f = 0; f < 8; f++) {
            char separator = read_field(&at, field, sizeof field);
            assert_int_equal(separator, f < 7 ? ',' : '\n');
            if (f == 1) assert_string_equal(field, order[i]);
            if (f == 2) assert_string_equal(field, result->events[i].detail);
            if (f == 5 && i == 1) assert_string_equal(field, "");
            if (f == 7) assert_string_equal(field, marks[i]);
        }
    }
    assert_int_equal(*at, '\0');
    free(text);
    dd_result_free(result);
}

static void shapes_follow_their_events(void **state)
{
    (void)state;
    dd_result *result = made_up_result();
    assert_string_equal(result->shapes[0].name, "water");
    assert_int_equal(result->shapes[0].event, -1);
    assert_string_equal(result->events[result->shapes[1].event].name, "hub wet");
    assert_string_equal(result->shapes[1].name, "ramp");
    assert_string_equal(result->events[result->shapes[2].event].name, "afloat");
    char *text = dd_result_side_csv(result);
    assert_string_equal(text, "view,time_s,event,mark,line,shape,x_m,z_m\n"
                              "0,0,start,,0,water,0,0\n"
                              "1,2.25,hub wet,2,1,ramp,0,0\n1,2.25,hub wet,2,1,ramp,1,-0.125\n"
                              "2,7.5,afloat,3,2,hull,0,0\n2,7.5,afloat,3,2,hull,1,-0.125\n2,7.5,afloat,3,2,hull,2,-0.25\n");
    free(text);
    dd_result_free(result);
}

static void margins_are_tightest_first(void **state)
{
    (void)state;
    static const char *const order[] = {"margin 2", "margin 0", "margin 3", "margin 1"}; /* equal ones as given, unknown last */
    dd_result *result = made_up_result();
    for (int i = 0; i < 4; i++) assert_string_equal(result->margins[i].name, order[i]);
    char *text = dd_result_limits_csv(result);
    assert_string_equal(text, "name,value,limit,unit,share,broken,time_s,channel,source\n"
                              "margin 2,200.1,250,N,1.2,1,3.5,,push guideline\n"
                              "margin 0,0.1,250,N,0.4,0,3.5,strap_tension_N,practice\n"
                              "margin 3,300.1,250,N,0.4,0,3.5,,practice\n"
                              "margin 1,100.1,250,N,,0,3.5,,no such source\n");
    free(text);
    dd_result_free(result);
}

static void json_keeps_bits(void **state)
{
    (void)state;
    uint64_t random = 88172645463325252u;
    dd_result *result = made_up_result();
    for (int i = 0; i < 2000; i++) {
        double value = 0;
        do {
            random ^= random << 13;
            random ^= random >> 7;
            random ^= random << 17;
            memcpy(&value, &random, sizeof value);
        } while (!isfinite(value));
        result->ledger_residual = value;
        char *text = dd_result_json(result);
        json_t *root = json_loads(text, JSON_REJECT_DUPLICATES, NULL);
        double back = json_real_value(json_object_get(json_object_get(root, "ledger"), "residual"));
        assert_memory_equal(&back, &value, sizeof value);
        json_decref(root);
        free(text);
    }
    dd_result_free(result);
}

static void json_says_what_the_result_says(void **state)
{
    (void)state;
    dd_result *result = made_up_result();
    char *text = dd_result_json(result);
    json_t *root = json_loads(text, JSON_REJECT_DUPLICATES, NULL);
    assert_non_null(root);
    assert_string_equal(json_string_value(json_object_get(root, "title")), result->title);
    assert_string_equal(json_string_value(json_object_get(root, "verdict")), "incomplete");
    assert_true(json_is_false(json_object_get(root, "complete")));
    json_t *events = json_object_get(root, "events"), *margins = json_object_get(root, "margins");
    assert_int_equal(json_array_size(events), 4);
    assert_true(json_is_null(json_object_get(json_array_get(events, 1), "value")));
    assert_string_equal(json_string_value(json_object_get(json_array_get(events, 2), "detail")), result->events[2].detail);
    assert_true(json_is_true(json_object_get(json_array_get(margins, 0), "broken")));
    assert_true(json_is_null(json_object_get(json_array_get(margins, 3), "share")));
    assert_int_equal(json_array_size(json_object_get(root, "unchecked")), 1);
    assert_int_equal(json_array_size(json_object_get(root, "assumed")), 1);
    assert_int_equal(json_array_size(json_object_get(root, "sources")), 4); /* two of the limits, two of the strap */
    json_t *strap = json_array_get(json_object_get(json_object_get(root, "ledger"), "forces"), 0);
    assert_true(json_real_value(json_object_get(strap, "largest_force_N")) == 2743.25); /* exact */
    assert_int_equal(json_integer_value(json_object_get(root, "rows")), 100);
    json_decref(root);
    free(text);
    for (int verdict = DD_VERDICT_WITHIN; verdict <= DD_VERDICT_UNCHECKED; verdict++) {
        static const char *const names[] = {"within", "broken", "failed", "incomplete", "unchecked"};
        assert_string_equal(dd_verdict_name(verdict), names[verdict]);
    }
    result->failure.status = DD_OK;
    text = dd_result_json(result);
    assert_non_null(strstr(text, "\"failure\": null"));
    free(text);
    dd_result_free(result);
}

/* Marks each field met as used; one that is not listed fails. */
static void walk(json_t *value, const char *path, bool *used)
{
    const dd_result_field *field;
    const char *key;
    json_t *child;
    if (*path) {
        int i = 0;
        while ((field = dd_result_field_at(i)) != NULL && strcmp(field->path, path) != 0) i++;
        if (!field) fail_msg("result.json has '%s', which fields.def does not list", path);
        used[i] = true;
        static const char *const types[] = {
            [JSON_OBJECT] = "object", [JSON_ARRAY] = "list",   [JSON_STRING] = "string", [JSON_INTEGER] = "integer",
            [JSON_REAL] = "number",   [JSON_TRUE] = "boolean", [JSON_FALSE] = "boolean", [JSON_NULL] = "number"};
        if (!strstr(path, "[]") || strstr(path, "[].")) assert_string_equal(field->type, types[json_typeof(value)]);
    }
    json_object_foreach(value, key, child)
    {
        char below[256];
        snprintf(below, sizeof below, "%s%s%s%s", path, *path ? "." : "", key, json_is_array(child) ? "[]" : "");
        walk(child, below, used);
        for (size_t i = 0; i < json_array_size(child); i++)
            if (json_is_object(json_array_get(child, i))) {
                const char *inner;
                json_t *element;
                json_object_foreach(json_array_get(child, i), inner, element)
                {
                    char deep[512];
                    snprintf(deep, sizeof deep, "%s.%s", below, inner);
                    walk(element, deep, used);
                }
            }
    }
}

static void fields_are_listed_and_written(void **state)
{
    (void)state;
    bool used[128] = {false};
    dd_result *result = made_up_result();
    char *text = dd_result_json(result);
    json_t *root = json_loads(text, 0, NULL);
    walk(root, "", used);
    for (int i = 0; dd_result_field_at(i); i++) {
        assert_true(i < 128);
        if (!used[i]) fail_msg("fields.def lists '%s', which result.json does not have", dd_result_field_at(i)->path);
        assert_true(strlen(dd_result_field_at(i)->help) > 0);
    }
    json_decref(root);
    free(text);
    dd_result_free(result);
}

static char *all_texts(const dd_result *result)
{
    char *(*const writers[])(const dd_result *) = {dd_result_timeline_csv, dd_result_events_csv, dd_result_limits_csv,
                                                   dd_result_side_csv, dd_result_bands_csv, dd_result_json};
    size_t length = 0;
    char *all = calloc(1, 1);
    for (size_t i = 0; i < sizeof writers / sizeof writers[0]; i++) {
        char *text = writers[i](result);
        assert_non_null(text);
        all = realloc(all, length + strlen(text) + 1);
        assert_non_null(all);
        strcpy(all + length, text);
        length += strlen(text);
        free(text);
    }
    return all;
}

/* A locale with a decimal comma, made for this test where the system has none (needs the package `locales`). */
static bool set_comma_locale(void)
{
    static const char *const names[] = {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        if (setlocale(LC_ALL, names[i])) return true;
    char folder[] = "/tmp/drawdock-locale-XXXXXX", command[256];
    if (!mkdtemp(folder)) return false;
    snprintf(command, sizeof command, "localedef -i de_DE -f UTF-8 %s/de_DE.UTF-8 >/dev/null 2>&1", folder);
    bool made = system(command) >= 0 && setenv("LOCPATH", folder, 1) == 0 && setlocale(LC_ALL, "de_DE.UTF-8") != NULL;
    snprintf(command, sizeof command, "rm -r %s", folder);
    return system(command) == 0 && made;
}

static void the_locale_changes_nothing(void **state)
{
    (void)state;
    dd_result *result = made_up_result();
    char *before = all_texts(result), *again = all_texts(result);
    assert_string_equal(before, again); /* the same bytes twice */
    if (!set_comma_locale()) fail_msg("%s", "no locale with a decimal comma, and localedef cannot make one: install locales");
    char number[16];
    snprintf(number, sizeof number, "%.1f", 0.5);
    assert_string_equal(number, "0,5");
    dd_result *other = made_up_result();
    char *after = all_texts(other);
    setlocale(LC_ALL, "C");
    assert_string_equal(before, after);
    free(before);
    free(again);
    free(after);
    dd_result_free(result);
    dd_result_free(other);
}

static void misuse_is_told_at_the_end(void **state)
{
    (void)state;
    double line[] = {0, 0}, row[] = {1};
    dd_result *result;
    for (int kind = 0; kind < 4; kind++) {
        dd_error error = {0};
        dd_recorder *recorder = dd_recorder_create("", "run");
        dd_status status = DD_OK;
        if (kind == 0) status = dd_recorder_row(recorder, row); /* no columns */
        if (kind == 1) {
            assert_int_equal(dd_recorder_column(recorder, "a", "", ""), DD_OK);
            assert_int_equal(dd_recorder_row(recorder, row), DD_OK);
            status = dd_recorder_column(recorder, "b", "", ""); /* too late */
        }
        if (kind == 2) status = dd_recorder_shape(recorder, "hull", 0, line, 1); /* no such event */
        if (kind == 3) status = dd_recorder_shape(recorder, "hull", -1, line, 0);
        assert_int_equal(status, DD_ERROR_ARGUMENT);
        assert_int_equal(dd_recorder_unchecked(recorder, "%s", "x"), DD_ERROR_ARGUMENT); /* it stays failed */
        assert_int_equal(dd_recorder_finish(recorder, &result, &error), DD_ERROR_ARGUMENT);
        assert_null(result);
        assert_int_equal(error.status, DD_ERROR_ARGUMENT);
        assert_true(strncmp(error.place, "dd_recorder_", 12) == 0);
    }
}

static void long_texts_end_at_a_character(void **state)
{
    (void)state;
    dd_recorder *recorder = dd_recorder_create("", "run");
    /* 159 bytes of room: 158 of the first text and one byte of its two-byte letter would fit. */
    char text[400] = "";
    for (int i = 0; i < 158; i++) strcat(text, "x");
    strcat(text, "é and more");
    assert_int_equal(dd_recorder_unchecked(recorder, "%s", text), DD_OK);
    assert_int_equal(strlen(dd_recorder_result(recorder)->unchecked[0]), 158);
    text[157] = '\0';
    strcat(text, "é and more");
    assert_int_equal(dd_recorder_unchecked(recorder, "%s", text), DD_OK);
    assert_int_equal(strlen(dd_recorder_result(recorder)->unchecked[1]), 159);
    dd_recorder_free(recorder);
}

static void important_events_are_chosen(void **state)
{
    (void)state;
    dd_recorder *recorder = dd_recorder_create("", "run");
    for (int i = 0; i < 40; i++) {
        dd_event event = {.time = i};
        strcpy(event.name, i == 33 ? "afloat" : i == 21 ? "stern lifts" : i == 5 ? "unheard of" : "support lost");
        assert_int_equal(dd_recorder_event(recorder, &event, NULL), DD_OK);
    }
    int chosen[4];
    assert_int_equal(dd_events_choose(dd_recorder_result(recorder), 4, chosen), 4);
    /* "support lost" comes last by rank, once: its first. */
    static const int expected[] = {0, 5, 21, 33};
    assert_memory_equal(chosen, expected, sizeof expected);
    /* Numbers go to all but "support lost", whose rank is the last, and to the first of a name only. */
    dd_event again = {.time = 50, .name = "afloat"};
    assert_int_equal(dd_recorder_event(recorder, &again, NULL), DD_OK);
    int *marks = dd_events_mark(dd_recorder_result(recorder));
    for (int i = 0; i < 41; i++) assert_int_equal(marks[i], i == 5 ? 1 : i == 21 ? 2 : i == 33 ? 3 : 0);
    free(marks);
    dd_recorder_free(recorder);
}

static void cautions_are_complete(void **state)
{
    (void)state;
    int count = 0;
    for (; dd_caution_at(count); count++) {
        assert_true(strlen(dd_caution_at(count)->brief) > 0 && strlen(dd_caution_at(count)->brief) <= 48);
        assert_true(strlen(dd_caution_at(count)->text) > strlen(dd_caution_at(count)->brief));
        assert_true(dd_caution_at(count)->where & (DD_CAUTION_RAMP | DD_CAUTION_ROAD));
    }
    assert_true(count >= 12);
    assert_null(dd_caution_at(-1));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(timeline_reads_back),
        cmocka_unit_test(events_read_back_by_time),
        cmocka_unit_test(shapes_follow_their_events),
        cmocka_unit_test(margins_are_tightest_first),
        cmocka_unit_test(json_keeps_bits),
        cmocka_unit_test(json_says_what_the_result_says),
        cmocka_unit_test(fields_are_listed_and_written),
        cmocka_unit_test(the_locale_changes_nothing),
        cmocka_unit_test(misuse_is_told_at_the_end),
        cmocka_unit_test(long_texts_end_at_a_character),
        cmocka_unit_test(important_events_are_chosen),
        cmocka_unit_test(cautions_are_complete),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
