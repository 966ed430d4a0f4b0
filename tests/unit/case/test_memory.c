/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation of a read, of show and of the keys made to fail in turn: an error and no leak (which the sanitizer sees).
   Linked with --wrap for malloc, calloc and realloc; Jansson is told to use the same functions. */
#include "tests/unit/case/cases.h"
#include <jansson.h>

void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *block, size_t size);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *block, size_t size);

static long left = -1; /* allocations before the one that fails; -1: none fails */
static bool failed;

static bool fails_now(void)
{
    if (left < 0) return false;
    if (left-- > 0) return false;
    failed = true;
    return true; /* left is -1 now: one failure only */
}

void *__wrap_malloc(size_t size) { return fails_now() ? NULL : __real_malloc(size); }
void *__wrap_calloc(size_t count, size_t size) { return fails_now() ? NULL : __real_calloc(count, size); }
void *__wrap_realloc(void *block, size_t size) { return fails_now() ? NULL : __real_realloc(block, size); }
static void *json_malloc(size_t size) { return fails_now() ? NULL : __real_malloc(size); }

static void begin(long before)
{
    failed = false;
    left = before;
}

static void reading_survives(void **state)
{
    (void)state;
    const char *overrides[] = {"aboard[fuel].mass=3 kg", "without=[buoyancy]", NULL};
    static const char *const files[] = {SOURCE_DIR "/scenarios/retrieve.yaml", SOURCE_DIR "/tests/unit/case/surveyed.yaml",
                                        SOURCE_DIR "/tests/cli/bad/129-many-errors.yaml",
                                        SOURCE_DIR "/tests/unit/case/tide-file.yaml"};
    for (int f = 0; f < 4; f++)
        for (long before = 0;; before += before < 40 ? 1 : 7) {
            dd_case_file *file = NULL;
            dd_error_list list = {0, NULL};
            begin(before);
            dd_status status = dd_case_read(files[f], f >= 2 ? NULL : overrides, NULL, &file, &list);
            bool was_hit = failed;
            begin(-1);
            if (was_hit && status == DD_OK) /* stdio may go on without its buffer */
                assert_non_null(file);
            else if (was_hit)
                assert_true((status == DD_ERROR_MEMORY || status == DD_ERROR_NOT_FOUND) && file == NULL);
            dd_error_list_free(&list);
            dd_case_free(file);
            if (!was_hit) {
                assert_int_equal(status, f == 2 ? DD_ERROR_INPUT : DD_OK);
                assert_true(before > 100);
                break;
            }
        }
}

static void texts_are_whole_or_nothing(void **state)
{
    (void)state;
    json_set_alloc_funcs(json_malloc, free);
    dd_case_file *file = must_read(SOURCE_DIR "/tests/unit/case/brochure.yaml", NULL);
    for (int kind = 0; kind < 4; kind++) {
        char *whole = kind < 2 ? dd_case_show(file, kind) : dd_case_keys(kind - 2);
        assert_non_null(whole);
        for (long before = 0;; before += before < 40 ? 1 : 29) {
            begin(before);
            char *text = kind < 2 ? dd_case_show(file, kind) : dd_case_keys(kind - 2);
            bool was_hit = failed;
            begin(-1);
            if (text != NULL && strcmp(text, whole) != 0)
                fail_msg("text %d is incomplete when allocation %ld fails", kind, before);
            if (!was_hit) assert_non_null(text);
            free(text);
            if (!was_hit) break;
        }
        free(whole);
    }
    dd_case_free(file);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(reading_survives), cmocka_unit_test(texts_are_whole_or_nothing)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
