/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files with errors: tests/cli/bad/NNN-name.yaml against NNN-name.expected, every message in full; and files that cannot be
   kept in a repository. */
#include "tests/unit/case/cases.h"
#include <dirent.h>
#include <sys/stat.h>
#include <unistd.h>

static int is_bad_file(const struct dirent *entry)
{
    size_t length = strlen(entry->d_name);
    return entry->d_name[0] >= '0' && entry->d_name[0] <= '9' && length > 5 && strcmp(entry->d_name + length - 5, ".yaml") == 0;
}

static void messages_are_exact(void **state)
{
    (void)state;
    char before[512];
    assert_non_null(getcwd(before, sizeof before));
    assert_int_equal(chdir(SOURCE_DIR "/tests/cli/bad"), 0);
    struct dirent **entries;
    int count = scandir(".", &entries, is_bad_file, alphasort), wrong = 0;
    for (int i = 0; i < count; i++) {
        char name[300];
        size_t size;
        snprintf(name, sizeof name, "%.*s.expected", (int)strlen(entries[i]->d_name) - 5, entries[i]->d_name);
        char *expected = file_text(name, &size), *found = read_messages(entries[i]->d_name, NULL, NULL);
        if (size == 0 || strcmp(expected, found) != 0) {
            print_error("%s\n  found:\n%s  expected:\n%s", entries[i]->d_name, found, expected);
            wrong++;
        }
        free(expected);
        free(found);
        free(entries[i]);
    }
    free(entries);
    assert_int_equal(chdir(before), 0);
    assert_true(count >= 80);
    assert_int_equal(wrong, 0);
}

static void check_bytes(const char *bytes, size_t size, const char *expected)
{
    char folder[64], path[256], full[600];
    make_folder(folder);
    write_file(folder, "file.yaml", bytes, size, path);
    char *found = read_messages(path, NULL, NULL);
    snprintf(full, sizeof full, "%s%s\n", path, expected);
    assert_string_equal(found, full);
    free(found);
    remove_folder(folder);
}

static void odd_bytes_are_refused(void **state)
{
    (void)state;
    check_bytes("", 0, ":1:1: found an empty file; expected keys and values");
    check_bytes("~\n", 2, ":1:1: found an empty file; expected keys and values");
    check_bytes("title: a\0b\n", 11, ":1:9: found the byte 0x00; expected text in UTF-8");
    check_bytes("title: x\nwater: \xff\n", 18, ":2:8: found the byte 0xFF; expected text in UTF-8");
    check_bytes("title: \xc0\xaf\n", 10, ":1:8: found the byte 0xC0; expected text in UTF-8");     /* overlong */
    check_bytes("title: \xed\xa0\x80\n", 11, ":1:8: found the byte 0xED; expected text in UTF-8"); /* surrogate */
    check_bytes("title: \xe2\x82", 9, ":1:8: found the byte 0xE2; expected text in UTF-8");        /* cut */
    check_bytes("title: \x1b[31m\n", 13, ":1:8: found the byte 0x1B; expected text in UTF-8");
    check_bytes("\x7f"
                "ELF\x02\x01",
                6, ":1:1: found the byte 0x7F; expected text in UTF-8");
    check_bytes("\xff\xfet\0i\0", 6, ":1:1: found the byte 0xFF; expected text in UTF-8"); /* UTF-16 */
}

static void large_files_are_refused(void **state)
{
    (void)state;
    size_t size = 3u << 20;
    char *bytes = malloc(size);
    assert_non_null(bytes);
    memset(bytes, '#', size);
    check_bytes(bytes, size, ": found a file of more than 1048576 bytes; expected fewer");
    free(bytes);
}

static void missing_files_and_folders(void **state)
{
    (void)state;
    char folder[64], expected[300];
    make_folder(folder);
    snprintf(expected, sizeof expected, "%s: found '%s', a folder; expected a file\n", folder, folder);
    char *found = read_messages(folder, NULL, NULL);
    assert_string_equal(found, expected);
    free(found);
    remove_folder(folder);
    found = read_messages("no/such.yaml", NULL, NULL);
    assert_string_equal(found,
                        "no/such.yaml: does not exist: No such file or directory; expected the name of a scenario file\n");
    free(found);
    dd_case_file *file;
    dd_error_list list;
    assert_int_equal(dd_case_read("no/such.yaml", NULL, NULL, &file, &list), DD_ERROR_NOT_FOUND);
    dd_error_list_free(&list);
    assert_int_equal(dd_case_read("no/such.yaml", NULL, NULL, &file, NULL), DD_ERROR_NOT_FOUND); /* no list wanted */
}

/* Work that grows with the size of the file only: ten levels of ten aliases, many nested brackets, a long key. */
static void bombs_are_cheap(void **state)
{
    (void)state;
    size_t size = 200000;
    char *bytes = malloc(size + 1);
    assert_non_null(bytes);
    memset(bytes, '[', size);
    bytes[size] = '\0';
    char folder[64], path[256];
    make_folder(folder);
    write_file(folder, "brackets.yaml", bytes, size, path);
    char *found = read_messages(path, NULL, NULL);
    assert_non_null(strstr(found, "more than 24 levels"));
    free(found);
    memset(bytes, 'k', size);
    memcpy(bytes + size - 4, ": 1\n", 4);
    write_file(folder, "key.yaml", bytes, size, path);
    found = read_messages(path, NULL, NULL);
    assert_non_null(strstr(found, "not YAML"));
    free(found);
    /* 30,000 keys in one mapping */
    size_t used = 0;
    for (int i = 0; used + 16 < size; i++) used += (size_t)snprintf(bytes + used, 16, "k%d: 1\n", i);
    write_file(folder, "keys.yaml", bytes, used, path);
    found = read_messages(path, NULL, NULL);
    assert_non_null(strstr(found, "more than 1000 keys in one mapping"));
    free(found);
    free(bytes);
    remove_folder(folder);
}

/* All errors of a file, up to the cap. */
static void many_errors_are_capped(void **state)
{
    (void)state;
    char bytes[20000] = "";
    for (int i = 0; i < 500; i++) snprintf(bytes + strlen(bytes), sizeof bytes - strlen(bytes), "no such key %d: 1\n", i);
    char folder[64], path[256];
    make_folder(folder);
    write_file(folder, "many.yaml", bytes, strlen(bytes), path);
    dd_case_file *file;
    dd_error_list list;
    assert_int_equal(dd_case_read(path, NULL, NULL, &file, &list), DD_ERROR_INPUT);
    assert_int_equal(list.count, 200);
    dd_error_list_free(&list);
    dd_error_list_free(&list); /* twice is harmless */
    dd_error_list_free(NULL);
    remove_folder(folder);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(messages_are_exact),      cmocka_unit_test(odd_bytes_are_refused),
                                       cmocka_unit_test(large_files_are_refused), cmocka_unit_test(missing_files_and_folders),
                                       cmocka_unit_test(bombs_are_cheap),         cmocka_unit_test(many_errors_are_capped)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
