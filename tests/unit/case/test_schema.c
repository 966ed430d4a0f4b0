/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The JSON Schema of the keys, given with `show` of every scenario to an independent validator (grade: library). */
#include "tests/unit/case/cases.h"
#include <dirent.h>

static int is_scenario(const struct dirent *entry)
{
    size_t length = strlen(entry->d_name);
    return length > 5 && strcmp(entry->d_name + length - 5, ".yaml") == 0;
}

/* Writes the file's effective input as JSON and adds its name to the command. */
static void add_document(const char *folder, const char *scenario, int number, char *command, size_t size)
{
    char name[32], path[256];
    dd_case_file *file = must_read(scenario, NULL);
    char *text = dd_case_show(file, 1);
    assert_non_null(text);
    snprintf(name, sizeof name, "%d.json", number);
    write_file(folder, name, text, strlen(text), path);
    snprintf(command + strlen(command), size - strlen(command), " '%s'", path);
    free(text);
    dd_case_free(file);
}

static void the_schema_agrees_with_the_reader(void **state)
{
    (void)state;
    char folder[64], path[256], command[4000];
    make_folder(folder);
    char *schema = dd_case_keys(1);
    assert_non_null(schema);
    write_file(folder, "schema.json", schema, strlen(schema), path);
    free(schema);
    const char *python = getenv("PYTHON");
    snprintf(command, sizeof command, "'%s' '%s/tests/unit/case/validate_schema.py' '%s'",
             python == NULL ? "/usr/bin/python3" : python, SOURCE_DIR, path);
    struct dirent **entries;
    int count = scandir(SOURCE_DIR "/scenarios", &entries, is_scenario, alphasort);
    assert_true(count >= 1);
    for (int i = 0; i < count; i++) {
        char scenario[600];
        snprintf(scenario, sizeof scenario, "%s/scenarios/%s", SOURCE_DIR, entries[i]->d_name);
        add_document(folder, scenario, i, command, sizeof command);
        free(entries[i]);
    }
    free(entries);
    add_document(folder, SOURCE_DIR "/tests/unit/case/brochure.yaml", count, command, sizeof command);
    add_document(folder, SOURCE_DIR "/tests/unit/case/surveyed.yaml", count + 1, command, sizeof command);
    add_document(folder, SOURCE_DIR "/tests/unit/case/people.yaml", count + 3, command, sizeof command);
    add_document(folder, SOURCE_DIR "/tests/unit/case/supports.yaml", count + 2, command, sizeof command);
    add_document(folder, SOURCE_DIR "/tests/unit/case/road.yaml", count + 4, command, sizeof command);
    add_document(folder, SOURCE_DIR "/tests/unit/case/ruled.yaml", count + 5, command, sizeof command);
    add_document(folder, SOURCE_DIR "/tests/unit/case/adjusted.yaml", count + 6, command, sizeof command);
    add_document(folder, SOURCE_DIR "/tests/unit/case/braked.yaml", count + 7, command, sizeof command);
    add_document(folder, SOURCE_DIR "/tests/unit/case/fleet.yaml", count + 8, command, sizeof command);
    assert_int_equal(system(command), 0);
    remove_folder(folder);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(the_schema_agrees_with_the_reader)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
