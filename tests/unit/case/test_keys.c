/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The key table itself: every row is sound, is in the reference and the schema, and changes its field and no other. */
#include "tests/unit/case/cases.h"
#include "lib/base/sources.h"
#include "lib/base/units.h"
#include "lib/case/case.h"
#include "lib/case/show.h"
#include <math.h>

/* Walks all rows of the table, variants too. */
typedef void (*visit)(const dd_key *row, const char *path, void *context);
static void walk(const dd_key *rows, const char *path, visit visit_row, void *context)
{
    for (const dd_key *row = rows; row != NULL && row->name != NULL; row++) {
        char full[256];
        snprintf(full, sizeof full, "%s%s%s", path, path[0] == '\0' ? "" : ".", row->name);
        visit_row(row, full, context);
        if (row->type != DD_KEY_BLOCK && row->type != DD_KEY_LIST) continue;
        walk(row->rows, full, visit_row, context);
        for (const dd_key_variant *each = row->variants; each != NULL && each->name != NULL; each++)
            walk(each->rows, full, visit_row, context);
    }
}

static bool is_scalar(const dd_key *row)
{
    return row->type == DD_KEY_QUANTITY || row->type == DD_KEY_COUNT || row->type == DD_KEY_CHOICE || row->type == DD_KEY_FLAG;
}

static int faults;
#define FAULT(...) (print_error(__VA_ARGS__), faults++)

static void check_row(const dd_key *row, const char *path, void *context)
{
    (void)context;
    if (row->help == NULL || strlen(row->help) < 3 || strchr(row->help, '\n') != NULL) FAULT("%s: no help of one line\n", path);
    if (row->source != NULL && dd_source_find(row->source) == NULL) FAULT("%s: unknown source '%s'\n", path, row->source);
    bool has_default = !row->required && is_scalar(row) && !isnan(row->fallback);
    if ((has_default || row->fallback_text != NULL) && row->source == NULL) FAULT("%s: a default without a source\n", path);
    if (is_scalar(row) && !row->required && isnan(row->fallback) && row->fallback_text == NULL)
        FAULT("%s: neither required nor with a default in words or figures\n", path);
    if (row->unit != NULL && dd_unit_find(row->unit, row->dimension) == NULL &&
        !(row->dimension == DD_SLOPE && strcmp(row->unit, "%") == 0))
        FAULT("%s: unit '%s' is not one of its dimension\n", path, row->unit);
    bool numeric = row->type == DD_KEY_QUANTITY || row->type == DD_KEY_COUNT;
    if (numeric && !(row->least <= row->most)) FAULT("%s: empty range\n", path);
    if (numeric && has_default && !dd_is_open(row) && (row->fallback < row->least || row->fallback > row->most))
        FAULT("%s: default %g outside %g to %g\n", path, row->fallback, row->least, row->most);
    if (row->type == DD_KEY_CHOICE && (row->choices == NULL || row->choices[0] == NULL)) FAULT("%s: no choices\n", path);
    if (row->type == DD_KEY_TEXT && row->size < 2) FAULT("%s: no room for a text\n", path);
    if ((row->type == DD_KEY_LIST || row->type == DD_KEY_QUANTITIES) && row->capacity < 1)
        FAULT("%s: no room in the list\n", path);
    for (const char *at = row->name; *at != '\0'; at++)
        if (!((*at >= 'a' && *at <= 'z') || *at == ' ' || *at == '-'))
            FAULT("%s: a name of lower-case words is expected\n", path);
}

static void check_unique(const dd_key *row, const char *path, void *context)
{
    (void)context;
    for (const dd_key *a = row->rows; a != NULL && a->name != NULL; a++) {
        for (const dd_key *b = row->rows; b != a; b++)
            if (strcmp(a->name, b->name) == 0) FAULT("%s.%s: two rows\n", path, a->name);
        for (const dd_key_variant *each = row->variants; each != NULL && each->name != NULL; each++)
            if (dd_row_of(each->rows, NULL, a->name) != NULL)
                FAULT("%s.%s: in the common rows and in those of %s\n", path, a->name, each->name);
    }
}

static void rows_are_sound(void **state)
{
    (void)state;
    dd_case_table table;
    assert_true(dd_case_table_create(&table));
    faults = 0;
    walk(table.rows, "", check_row, NULL);
    walk(table.rows, "", check_unique, NULL);
    dd_case_table_free(&table);
    assert_int_equal(faults, 0);
}

static void find_in_texts(const dd_key *row, const char *path, void *context)
{
    char *const *texts = context;
    char in_reference[128], in_schema[128];
    if (row->name[0] == '\0') return;
    snprintf(in_reference, sizeof in_reference, "\n  %s\n      %s", row->name, row->help);
    snprintf(in_schema, sizeof in_schema, "\"%s\": {", row->name);
    in_reference[sizeof in_reference - 1] = '\0';
    if (strstr(texts[0], in_reference) == NULL) FAULT("%s: not in the reference\n", path);
    if (strstr(texts[1], in_schema) == NULL) FAULT("%s: not in the schema\n", path);
}

static void reference_and_schema_have_every_row(void **state)
{
    (void)state;
    dd_case_table table;
    assert_true(dd_case_table_create(&table));
    char *texts[2] = {dd_case_keys(0), dd_case_keys(1)};
    assert_true(texts[0] != NULL && texts[1] != NULL);
    faults = 0;
    walk(table.rows, "", find_in_texts, texts);
    free(texts[0]);
    free(texts[1]);
    dd_case_table_free(&table);
    assert_int_equal(faults, 0);
}

/* Changing a key ------------------------------------------------------------------------------------------------------ */

enum { ROWS = 1024, TRIES = 8 };
typedef struct walker {
    const char *file;
    const dd_case *before;
    const dd_key *seen[ROWS]; /* rows that changed their field */
    int seen_count;
} walker;

static bool is_seen(const walker *w, const dd_key *row)
{
    for (int i = 0; i < w->seen_count; i++)
        if (w->seen[i] == row) return true;
    return false;
}

static void see(walker *w, const dd_key *row)
{
    assert_true(w->seen_count < ROWS);
    if (!is_seen(w, row)) w->seen[w->seen_count++] = row;
}

static size_t width_of(const dd_key *row)
{
    return row->type == DD_KEY_QUANTITY     ? sizeof(double)
           : row->type == DD_KEY_TEXT       ? row->size
           : row->type == DD_KEY_QUANTITIES ? (size_t)row->capacity * sizeof(double)
                                            : sizeof(int);
}

/* A value that might do, other than the present one: try 0, 1, ...; false: no more. */
static bool candidate(const dd_key *row, const void *structure, int attempt, char *text, size_t size)
{
    const char *at = (const char *)structure + row->offset;
    char quantity[DD_QUANTITY_TEXT];
    double least = fmax(row->least, -50), most = fmin(row->most, 50), now, value;
    if (dd_is_open(row)) {
        least = -50;
        most = 50;
    }
    switch (row->type) {
    case DD_KEY_QUANTITY:
        now = dd_load_double(at);
        value = attempt == 0 ? now * 1.01 : attempt == 1 ? now * 0.99 : least + (most - least) * (0.001 + 0.14 * (attempt - 2));
        if (now == 0 && attempt < 2) value = attempt == 0 ? 0.01 : -0.01;
        if (row->dimension == DD_TEMPERATURE) value = row->least + (row->most - row->least) * 0.1 * (attempt + 1);
        if (!isfinite(value)) value = fmax(row->least, fmin(row->most, 1.0 + attempt));
        snprintf(text, size, "%s", dd_quantity_format(value, row->dimension, NULL, quantity));
        return attempt < TRIES;
    case DD_KEY_COUNT:
        snprintf(text, size, "%d", dd_load_int(at) + (attempt == 0 ? 1 : -1));
        return attempt < 2;
    case DD_KEY_TEXT:
        snprintf(text, size, attempt == 0 ? "other" : "N2"); /* N2: of a tide's constituents */
        return attempt < 2;
    case DD_KEY_CHOICE:
        while (row->choices[attempt] != NULL && attempt == dd_load_int(at)) attempt++;
        if (row->choices[attempt] != NULL) snprintf(text, size, "%s", row->choices[attempt]);
        return row->choices[attempt] != NULL;
    case DD_KEY_FLAG:
        snprintf(text, size, dd_load_int(at) == 1 ? "no" : "yes");
        return attempt < 1;
    case DD_KEY_QUANTITIES: {
        int count = dd_load_int((const char *)structure + row->count_offset);
        snprintf(text, size, "[");
        for (int i = 0; i < count; i++) {
            double each =
                dd_load_double(at + (size_t)i * sizeof(double)) * (1 + 0.01 * (attempt + 1)) + (attempt > 2 ? 0.001 : 0);
            snprintf(text + strlen(text), size - strlen(text), "%s%s", i == 0 ? "" : ", ",
                     dd_quantity_format(each, row->dimension, NULL, quantity));
        }
        snprintf(text + strlen(text), size - strlen(text), "]");
        return attempt < 4 && count > 0;
    }
    case DD_KEY_BLOCK:
    case DD_KEY_LIST:
        break;
    }
    return false;
}

/* Reads with path=value; the field must differ and nothing else in dd_case. */
static bool changes(const walker *w, const dd_key *row, const void *structure, const char *path, const char *value)
{
    char override[700];
    snprintf(override, sizeof override, "%s=%s", path, value);
    const char *overrides[] = {override, NULL};
    dd_case_file *file;
    dd_error_list list;
    if (dd_case_read(w->file, overrides, NULL, &file, &list) != DD_OK) {
        dd_error_list_free(&list);
        return false; /* a range or a rule: another value may do */
    }
    size_t offset = (size_t)((const char *)structure - (const char *)w->before) + row->offset, width = width_of(row);
    const char *before = (const char *)w->before, *after = (const char *)dd_case_of(file);
    bool differs = memcmp(before + offset, after + offset, width) != 0;
    bool others_same = memcmp(before, after, offset) == 0 &&
                       memcmp(before + offset + width, after + offset + width, sizeof(dd_case) - offset - width) == 0;
    if (differs && !others_same) FAULT("%s: changes another field too\n", override);
    dd_case_free(file);
    return differs;
}

static void change_rows(walker *w, const dd_key *rows, const char *structure, const char *path)
{
    for (const dd_key *row = rows; row != NULL && row->name != NULL; row++) {
        char full[300], value[300];
        snprintf(full, sizeof full, "%s%s%s", path, path[0] == '\0' ? "" : ".", row->name);
        if (row->type == DD_KEY_BLOCK) {
            see(w, row);
            change_rows(w, row->rows, structure + row->offset, full);
        } else if (row->type == DD_KEY_LIST) {
            int count = dd_load_int(structure + row->count_offset);
            if (count > 0) see(w, row);
            for (int i = 0; i < count && !dd_is_text_list(row); i++) {
                const char *element = structure + row->offset + (size_t)i * row->size;
                const dd_key_variant *variant = dd_variant_at(row, element);
                snprintf(full, sizeof full, "%s%s%s[%d]", path, path[0] == '\0' ? "" : ".", row->name, i + 1);
                change_rows(w, row->rows, element, full);
                if (variant != NULL) change_rows(w, variant->rows, element, full);
            }
        } else if (!is_seen(w, row)) {
            for (int attempt = 0; candidate(row, structure, attempt, value, sizeof value); attempt++)
                if (changes(w, row, structure, full, value)) {
                    see(w, row);
                    break;
                }
        }
    }
}

static void miss(const dd_key *row, const char *path, void *context)
{
    const walker *w = context;
    /* an element of `without`; the version has one value; what says where constants are read from is gone once they are (test_tide_file) */
    if (row->name[0] == '\0' || strcmp(path, "drawdock") == 0 || strncmp(path, "water.tide.read.", 16) == 0) return;
    if (!is_seen(w, row)) FAULT("%s: no change of it was seen in its field\n", path);
}

static void every_key_changes_its_field(void **state)
{
    (void)state;
    static const char *const files[] = {SOURCE_DIR "/tests/unit/case/brochure.yaml", SOURCE_DIR "/tests/unit/case/people.yaml", SOURCE_DIR "/tests/unit/case/supports.yaml",
                                        SOURCE_DIR "/tests/unit/case/surveyed.yaml",
                                        SOURCE_DIR "/tests/unit/case/moving-water.yaml", SOURCE_DIR "/tests/unit/case/road.yaml", SOURCE_DIR "/tests/unit/case/ruled.yaml",
                                        SOURCE_DIR "/tests/unit/case/adjusted.yaml", SOURCE_DIR "/tests/unit/case/braked.yaml", SOURCE_DIR "/tests/unit/case/tide.yaml",
                                        SOURCE_DIR "/tests/unit/case/tide-table.yaml",
                                        SOURCE_DIR "/tests/unit/case/fleet.yaml"};
    walker w = {0};
    faults = 0;
    enum { FILES = sizeof files / sizeof files[0] };
    dd_case_file *open[FILES];
    dd_case_table table;
    assert_true(dd_case_table_create(&table));
    for (int i = 0; i < FILES; i++) {
        w.file = files[i];
        open[i] = must_read(files[i], NULL);
        w.before = dd_case_of(open[i]);
        /* rows that dd_case_table_create makes differ from table to table: walk one table */
        change_rows(&w, table.rows, (const char *)w.before, "");
    }
    walk(table.rows, "", miss, &w);
    print_message("%d rows changed their field\n", w.seen_count);
    for (int i = 0; i < FILES; i++) dd_case_free(open[i]);
    dd_case_table_free(&table);
    assert_int_equal(faults, 0);
    assert_true(w.seen_count > 150);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(rows_are_sound), cmocka_unit_test(reference_and_schema_have_every_row),
                                       cmocka_unit_test(every_key_changes_its_field)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
