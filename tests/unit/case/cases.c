/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/unit/case/cases.h"
#include <unistd.h>

char *read_messages(const char *path, const char *const *overrides, const char *const *search)
{
    dd_case_file *file = (dd_case_file *)1;
    dd_error_list list;
    dd_status status = dd_case_read(path, overrides, search, &file, &list);
    size_t size = 1;
    for (int i = 0; i < list.count; i++) size += strlen(list.errors[i].place) + strlen(list.errors[i].message) + 4;
    char *text = calloc(1, size);
    assert_non_null(text);
    for (int i = 0; i < list.count; i++) {
        const dd_error *error = &list.errors[i];
        assert_true(error->place[0] != '\0' && error->message[0] != '\0' && error->remedy[0] != '\0');
        snprintf(text + strlen(text), size - strlen(text), "%s: %s\n", error->place, error->message);
    }
    if (status == DD_OK) {
        assert_non_null(file);
        assert_int_equal(list.count, 0);
        dd_case_free(file);
    } else {
        assert_null(file);
        assert_true(list.count > 0);
        assert_int_equal(list.errors[0].status, status);
    }
    dd_error_list_free(&list);
    return text;
}

dd_case_file *must_read(const char *path, const char *const *overrides)
{
    dd_case_file *file = NULL;
    dd_error_list list;
    if (dd_case_read(path, overrides, NULL, &file, &list) != DD_OK)
        fail_msg("%s: %s", list.errors[0].place, list.errors[0].message);
    return file;
}

void make_folder(char folder[64])
{
    strcpy(folder, "/tmp/drawdock-test-XXXXXX");
    assert_non_null(mkdtemp(folder));
}

void remove_folder(const char *folder)
{
    char command[128];
    snprintf(command, sizeof command, "rm -rf '%s'", folder);
    assert_int_equal(system(command), 0);
}

void write_file(const char *folder, const char *name, const char *bytes, size_t size, char path[256])
{
    snprintf(path, 256, "%s/%s", folder, name);
    FILE *stream = fopen(path, "wb");
    assert_non_null(stream);
    assert_int_equal(fwrite(bytes, 1, size, stream), size);
    assert_int_equal(fclose(stream), 0);
}

char *file_text(const char *path, size_t *size)
{
    FILE *stream = fopen(path, "rb");
    if (stream == NULL) fail_msg("cannot open %s", path);
    char *text = calloc(1, 1 << 20);
    assert_non_null(text);
    *size = fread(text, 1, (1 << 20) - 1, stream);
    fclose(stream);
    return text;
}
