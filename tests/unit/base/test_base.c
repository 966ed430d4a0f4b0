/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers without the locale, errors, status texts, sources, clearing and defaults by rows. */
#include "lib/base/error.h"
#include "lib/base/key.h"
#include "lib/base/numbers.h"
#include "lib/base/sources.h"
#include "lib/base/units.h"
#include "tests/unit/base/comma_locale.h"
#include <drawdock/version.h>
#include <limits.h>
#include <locale.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include <cmocka.h>

/* Any double, by its bits: text and back. Closed form: 17 digits always suffice. */
static void numbers_read_back(void **state)
{
    (void)state;
    uint64_t bits = 1;
    int finite = 0;
    for (int i = 0; i < 200000; i++) {
        bits = bits * 6364136223846793005u + 1442695040888963407u;
        double value, back;
        memcpy(&value, &bits, sizeof value);
        if (!isfinite(value)) continue;
        finite++;
        char text[DD_NUMBER_TEXT];
        const char *end;
        assert_true(dd_number_parse(dd_number_format(value, text), &end, &back));
        assert_int_equal(*end, '\0');
        assert_memory_equal(&value, &back, sizeof value);
    }
    assert_true(finite > 190000);
}

static void numbers_are_short(void **state)
{
    (void)state;
    const struct {
        double value;
        const char *text;
    } rows[] = {
        {0.1, "0.1"},   {1.0 / 3, "0.3333333333333333"},  {0.1 + 0.2, "0.30000000000000004"}, {1e23, "1e+23"}, {-0.0, "-0"},
        {1650, "1650"}, {5e-324, "4.94065645841247e-324"}};
    char text[DD_NUMBER_TEXT];
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        assert_string_equal(dd_number_format(rows[i].value, text), rows[i].text);
    assert_string_equal(dd_number_digits(3.14159265, 4, text), "3.142");
}

static void only_decimals_are_numbers(void **state)
{
    (void)state;
    const struct {
        const char *text;
        int used;
    } rows[] = {{"1.5x", 3}, {"1e5", 3}, {"1e", 1},  {"1e+", 1}, {"5 e", 1},  {".5", 2},  {"5.", 2},    {".", 0},
                {"", 0},     {"-", 0},   {"nan", 0}, {"inf", 0}, {"0x10", 0}, {"- 1", 0}, {"1e999", 0}, {"1,5", 1}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const char *end;
        double value;
        bool is_number = dd_number_parse(rows[i].text, &end, &value);
        assert_int_equal(is_number, rows[i].used > 0);
        if (is_number) assert_int_equal(end - rows[i].text, rows[i].used);
    }
}

static void the_locale_changes_nothing(void **state)
{
    (void)state;
    if (!set_comma_locale()) fail_msg("no locale with a decimal comma could be set or made: install the package locales");
    char text[DD_QUANTITY_TEXT], message[256];
    assert_true(comma_is_written());
    double value;
    assert_true(dd_quantity_parse("0.5 m", DD_LENGTH, &value, message, sizeof message));
    assert_true(value == 0.5);
    assert_false(dd_quantity_parse("0,5 m", DD_LENGTH, &value, message, sizeof message));
    assert_string_equal(dd_quantity_format(0.5, DD_LENGTH, NULL, text), "0.5 m");
    dd_error error;
    assert_int_equal(dd_fail(&error, DD_ERROR_INPUT, "place", "%g m", 0.5), DD_ERROR_INPUT);
    assert_string_equal(error.message, "0.5 m");
    assert_non_null(setlocale(LC_ALL, "C"));
}

static void status_codes_have_text(void **state)
{
    (void)state;
    for (int code = 0; code < DD_STATUS_COUNT; code++) {
        assert_true(strlen(dd_status_text((dd_status)code)) > 3);
        assert_non_null(dd_status_remedy((dd_status)code));
        int exit_status = dd_status_exit((dd_status)code);
        assert_true(exit_status == (code == DD_OK ? 0 : exit_status) &&
                    (exit_status == 0 || exit_status == 2 || exit_status == 3 || exit_status == 130));
    }
    const int odd[] = {-1, DD_STATUS_COUNT, INT_MAX, INT_MIN};
    for (size_t i = 0; i < sizeof odd / sizeof odd[0]; i++) {
        assert_string_equal(dd_status_text((dd_status)odd[i]), "unknown status code");
        assert_int_equal(dd_status_exit((dd_status)odd[i]), 3);
    }
    assert_int_equal(sscanf(dd_version(), "%d.%d.%d", &(int){0}, &(int){0}, &(int){0}), 3);
}

static void errors_are_cut_not_overrun(void **state)
{
    (void)state;
    char text[2000];
    memset(text, 'x', sizeof text - 1);
    text[sizeof text - 1] = '\0';
    dd_error error;
    assert_int_equal(dd_fail(&error, DD_ERROR_STEP, text, "%s", text), DD_ERROR_STEP);
    assert_int_equal(strlen(error.place), sizeof error.place - 1);
    assert_int_equal(strlen(error.message), sizeof error.message - 1);
    assert_string_equal(error.remedy, dd_status_remedy(DD_ERROR_STEP));
    assert_int_equal(dd_fail_remedy(&error, DD_ERROR_STEP, "do %d", 3), DD_ERROR_STEP);
    assert_string_equal(error.remedy, "do 3");
    assert_int_equal(dd_fail(NULL, DD_ERROR_MEMORY, "p", "m"), DD_ERROR_MEMORY);
}

static void sources_are_unique(void **state)
{
    (void)state;
    int count = 0;
    for (; dd_source_at(count) != NULL; count++) {
        const dd_source *source = dd_source_at(count);
        assert_ptr_equal(dd_source_find(source->key), source);
        assert_true(strlen(source->text) > 10);
    }
    assert_true(count > 10);
    assert_null(dd_source_find("no such source"));
    assert_null(dd_source_find(NULL));
    assert_null(dd_source_at(-1));
}

typedef struct inner {
    double length;
} inner;
typedef struct outer {
    char name[8];
    double mass, needed;
    int count, choice, flag;
    int value_count;
    double values[3];
    inner block;
} outer;

static void rows_clear_and_default(void **state)
{
    (void)state;
    static const char *const choices[] = {"a", "b", NULL};
    static const dd_key inner_rows[] = {
        {.name = "length", .type = DD_KEY_QUANTITY, .offset = offsetof(inner, length), .fallback = 3}, {0}};
    static const dd_key rows[] = {
        {.name = "name", .type = DD_KEY_TEXT, .offset = offsetof(outer, name), .size = 8, .fallback = NAN},
        {.name = "mass", .type = DD_KEY_QUANTITY, .offset = offsetof(outer, mass), .fallback = 2.5},
        {.name = "needed", .type = DD_KEY_QUANTITY, .offset = offsetof(outer, needed), .required = true},
        {.name = "count", .type = DD_KEY_COUNT, .offset = offsetof(outer, count), .fallback = 4},
        {.name = "choice", .type = DD_KEY_CHOICE, .offset = offsetof(outer, choice), .choices = choices, .fallback = 1},
        {.name = "flag", .type = DD_KEY_FLAG, .offset = offsetof(outer, flag), .fallback = NAN},
        {.name = "values",
         .type = DD_KEY_QUANTITIES,
         .offset = offsetof(outer, values),
         .count_offset = offsetof(outer, value_count),
         .capacity = 3,
         .fallback = NAN},
        {.name = "block", .type = DD_KEY_BLOCK, .offset = offsetof(outer, block), .rows = inner_rows},
        {0}};
    outer it;
    memset(&it, 0x55, sizeof it);
    dd_key_clear(rows, &it);
    assert_true(it.name[0] == '\0' && isnan(it.mass) && isnan(it.needed) && isnan(it.block.length));
    assert_true(it.count == -1 && it.choice == -1 && it.flag == -1 && it.value_count == 0);
    dd_key_defaults(rows, &it);
    assert_true(it.mass == 2.5 && isnan(it.needed) && it.block.length == 3);
    assert_true(it.count == 4 && it.choice == 1 && it.flag == -1);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_read_back),         cmocka_unit_test(numbers_are_short),
        cmocka_unit_test(only_decimals_are_numbers), cmocka_unit_test(the_locale_changes_nothing),
        cmocka_unit_test(status_codes_have_text),    cmocka_unit_test(errors_are_cut_not_overrun),
        cmocka_unit_test(sources_are_unique),        cmocka_unit_test(rows_clear_and_default)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
