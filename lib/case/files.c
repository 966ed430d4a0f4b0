/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The files of a scenario: found, opened, composed, joined. */
#include "lib/base/numbers.h"
#include "lib/case/reader.h"
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum { FILE_NAME = 1024 };
static const char based_on[] = "based on", rules[] = "rules";
enum { DD_READ_WORD = 64 };

int dd_add_file(dd_reading *reading, const char *name, dd_place from)
{
    if (reading->file_count >= DD_READ_FILES) {
        dd_complain(reading, from, from.file < 0 ? name : NULL, "found more than %d files and overrides; expected fewer",
                    DD_READ_FILES);
        return -1;
    }
    reading->files[reading->file_count] = dd_keep_text(reading, name, strlen(name));
    return reading->files[reading->file_count] == NULL ? -1 : reading->file_count++;
}

/* Reads all of the stream; NULL: a message says why. */
static char *read_bytes(dd_reading *reading, FILE *stream, dd_place place, size_t *size)
{
    size_t capacity = 8192, used = 0;
    char *bytes = malloc(capacity);
    while (bytes != NULL) {
        used += fread(bytes + used, 1, capacity - used, stream);
        if (ferror(stream)) {
            dd_complain_as(reading, DD_ERROR_NOT_FOUND, place, NULL, "found a file that cannot be read: %s", strerror(errno));
            free(bytes);
            return NULL;
        }
        if (used < capacity) break;
        if (used > DD_READ_BYTES) {
            dd_complain(reading, place, NULL, "found a file of more than %d bytes; expected fewer", DD_READ_BYTES);
            free(bytes);
            return NULL;
        }
        capacity *= 2;
        char *grown = realloc(bytes, capacity);
        if (grown == NULL) free(bytes);
        bytes = grown;
    }
    if (bytes == NULL) reading->out_of_memory = true;
    *size = used;
    return bytes;
}

/* Length of the UTF-8 sequence at bytes; 0: it is none. Overlong forms and surrogates are refused. */
static size_t utf8_length(const unsigned char *bytes, size_t left)
{
    unsigned char first = bytes[0];
    size_t length = first < 0x80                     ? 1
                    : first >= 0xC2 && first <= 0xDF ? 2
                    : (first & 0xF0) == 0xE0         ? 3
                    : first >= 0xF0 && first <= 0xF4 ? 4
                                                     : 0;
    if (length == 0 || length > left) return 0;
    for (size_t i = 1; i < length; i++)
        if ((bytes[i] & 0xC0) != 0x80) return 0;
    bool bad = (first == 0xE0 && bytes[1] < 0xA0) || (first == 0xED && bytes[1] > 0x9F) || (first == 0xF0 && bytes[1] < 0x90) ||
               (first == 0xF4 && bytes[1] > 0x8F);
    return bad ? 0 : length;
}

bool dd_check_text(dd_reading *reading, const char *bytes, size_t size, int file)
{
    dd_place place = {file, 1, 1};
    for (size_t i = 0; i < size;) {
        const unsigned char *at = (const unsigned char *)bytes + i;
        size_t length = utf8_length(at, size - i);
        if (length == 0 || (*at < 0x20 && *at != '\n' && *at != '\r' && *at != '\t') || *at == 0x7F) {
            dd_complain(reading, place, NULL, "found the byte 0x%02X; expected text in UTF-8", (unsigned)*at);
            return false;
        }
        place.column++;
        if (*at == '\n') {
            place.line++;
            place.column = 1;
        }
        i += length;
    }
    return true;
}

/* Composes the open stream; pushes the file on the stack of open files, where a second visit is a cycle. */
static dd_node *load_stream(dd_reading *reading, FILE *stream, const char *name, dd_place from, const char *path)
{
    struct stat status;
    if (fstat(fileno(stream), &status) != 0 || S_ISDIR(status.st_mode)) {
        dd_complain_as(reading, DD_ERROR_NOT_FOUND, from, path, "found '%.120s', a folder; expected a file", name);
        return NULL;
    }
    for (int i = 0; i < reading->depth; i++)
        if (reading->stack[i].device == status.st_dev && reading->stack[i].number == status.st_ino) {
            dd_complain(reading, from, path, "found '%.120s', which is being read already; expected no cycle of files", name);
            return NULL;
        }
    if (reading->depth >= DD_READ_DEPTH) {
        dd_complain(reading, from, path, "found files that name files more than %d deep; expected fewer", DD_READ_DEPTH);
        return NULL;
    }
    int file = dd_add_file(reading, name, from);
    if (file < 0) return NULL;
    size_t size = 0;
    char *bytes = read_bytes(reading, stream, (dd_place){file, 0, 0}, &size);
    dd_node *root = bytes != NULL && dd_check_text(reading, bytes, size, file) ? dd_compose(reading, bytes, size, file) : NULL;
    free(bytes);
    if (root != NULL && root->kind != DD_NODE_MAPPING) {
        char found[96];
        if (dd_is_null(root))
            dd_complain(reading, root->place, NULL, "found an empty file; expected keys and values");
        else
            dd_complain(reading, root->place, NULL, "found %s; expected keys and values, as 'title: ...'",
                        dd_describe(root, found, sizeof found));
        root = NULL;
    }
    if (root != NULL) {
        reading->stack[reading->depth].device = status.st_dev;
        reading->stack[reading->depth++].number = status.st_ino;
    }
    return root;
}

/* "folder of file" "/" name. */
static void beside(const char *file, const char *name, char text[FILE_NAME])
{
    const char *slash = strrchr(file, '/');
    dd_text(text, FILE_NAME, "%.*s%s", slash == NULL ? 0 : (int)(slash - file + 1), file, name);
}

/* Opens the file that `name` means: beside the file that names it, beside the scenario, in the folders to search. */
static FILE *open_part(const dd_reading *reading, const char *name, dd_place from, char opened[FILE_NAME])
{
    if (name[0] == '/') {
        dd_text(opened, FILE_NAME, "%s", name);
        return fopen(name, "rb");
    }
    FILE *stream = NULL;
    const char *holder = from.file >= 0 && from.line > 0 ? reading->files[from.file] : "";
    if (holder[0] != '\0') {
        beside(holder, name, opened);
        stream = fopen(opened, "rb");
    }
    if (stream == NULL) {
        beside(reading->files[0], name, opened);
        stream = fopen(opened, "rb");
    }
    for (const char *const *folder = reading->search; stream == NULL && folder != NULL && *folder != NULL; folder++) {
        dd_text(opened, FILE_NAME, "%s/%s", *folder, name);
        stream = fopen(opened, "rb");
    }
    return stream;
}

/* The mapping with `based on: file`. */
static dd_node *on_file(dd_reading *reading, const dd_node *mapping, dd_node *file)
{
    dd_node *copy = dd_new_node(reading, DD_NODE_MAPPING, mapping->place);
    for (int i = 0; copy != NULL && i < mapping->count; i++)
        if (!dd_append(reading, copy, mapping->entries[i].key, mapping->entries[i].place, mapping->entries[i].value))
            return NULL;
    return copy != NULL && dd_append(reading, copy, based_on, file->place, file) ? copy : NULL;
}

/* over's keys, and what it lacks from base. Mappings on both sides are joined, unless over's says itself what it is based on;
   over a file's name a mapping becomes one that is based on that file. inside: in such a mapping. */
static dd_node *join(dd_reading *reading, const dd_node *over, const dd_node *base, bool inside)
{
    dd_node *joined = dd_new_node(reading, DD_NODE_MAPPING, over->place);
    for (int i = 0; joined != NULL && i < over->count; i++) {
        const dd_entry *mine = &over->entries[i], *other = dd_entry_of(base, mine->key);
        dd_node *value = mine->value;
        if (other != NULL && value->kind == DD_NODE_MAPPING && dd_entry_of(value, based_on) == NULL) {
            if (other->value->kind == DD_NODE_MAPPING)
                value = join(reading, value, other->value, true);
            else if (!inside && other->value->kind == DD_NODE_SCALAR && !dd_is_null(other->value))
                value = on_file(reading, value, other->value);
        }
        bool done = !inside && strcmp(mine->key, based_on) == 0;
        if (!done && (value == NULL || !dd_append(reading, joined, mine->key, mine->place, value))) return NULL;
    }
    for (int i = 0; joined != NULL && i < base->count; i++) {
        const dd_entry *other = &base->entries[i];
        if (dd_entry_of(over, other->key) == NULL && !dd_append(reading, joined, other->key, other->place, other->value))
            return NULL;
    }
    return joined;
}

/* The same; NULL: a message says why. */
static FILE *open_named(dd_reading *reading, const char *name, dd_place from, const char *path, char opened[FILE_NAME])
{
    FILE *stream = open_part(reading, name, from, opened);
    if (stream == NULL)
        dd_complain_as(reading, DD_ERROR_NOT_FOUND, from, path, "found '%.120s', which %s; expected the name of a file beside this one%s", name,
                       errno == ENOENT || errno == ENOTDIR ? "does not exist" : "cannot be opened",
                       reading->search != NULL && reading->search[0] != NULL ? " or in the shipped data" : "");
    return stream;
}

char *dd_load_bytes(dd_reading *reading, const char *name, dd_place from, const char *path, int *file, size_t *size)
{
    char opened[FILE_NAME];
    struct stat status;
    FILE *stream = open_named(reading, name, from, path, opened);
    if (stream == NULL) return NULL;
    char *bytes = NULL;
    if (fstat(fileno(stream), &status) != 0 || S_ISDIR(status.st_mode))
        dd_complain_as(reading, DD_ERROR_NOT_FOUND, from, path, "found '%.120s', a folder; expected a file", name);
    else if ((*file = dd_add_file(reading, opened, from)) >= 0)
        bytes = read_bytes(reading, stream, (dd_place){*file, 0, 0}, size);
    fclose(stream);
    if (bytes == NULL || dd_check_text(reading, bytes, *size, *file)) return bytes;
    free(bytes);
    return NULL;
}

static dd_node *load_named(dd_reading *reading, const dd_node *name, const char *path);

/* node with what it is based on. */
static dd_node *with_base(dd_reading *reading, dd_node *node, const char *path)
{
    const dd_entry *base = dd_entry_of(node, based_on);
    if (base == NULL) return node;
    char full[DD_PATH];
    dd_node *other = load_named(reading, base->value, dd_join_path(path, based_on, full));
    /* Without its base the mapping would only raise messages about missing keys. */
    return other == NULL ? NULL : join(reading, node, other, false);
}

/* The file that a scalar names; NULL: a message says why. */
static dd_node *load_named(dd_reading *reading, const dd_node *name, const char *path)
{
    char found[96], opened[FILE_NAME] = "";
    if (name->kind != DD_NODE_SCALAR || dd_is_null(name) || name->text[0] == '\0') {
        dd_complain(reading, name->place, path, "found %s; expected the name of a file",
                    dd_describe(name, found, sizeof found));
        return NULL;
    }
    if (strlen(name->text) > FILE_NAME / 4) {
        dd_complain(reading, name->place, path, "found a file name of %d characters; expected at most %d",
                    (int)strlen(name->text), FILE_NAME / 4);
        return NULL;
    }
    FILE *stream = open_named(reading, name->text, name->place, path, opened);
    if (stream == NULL) return NULL;
    int depth = reading->depth;
    dd_node *root = load_stream(reading, stream, opened, name->place, path);
    fclose(stream);
    if (root != NULL) root = with_base(reading, root, path);
    reading->depth = depth;
    return root;
}

dd_node *dd_load_scenario(dd_reading *reading, const char *path)
{
    dd_place none = {-1, 0, 0};
    bool is_standard = strcmp(path, "-") == 0;
    FILE *stream = is_standard ? stdin : fopen(path, "rb");
    if (stream == NULL) {
        dd_complain_as(reading, DD_ERROR_NOT_FOUND, none, path, "%s: %s; expected the name of a scenario file",
                       errno == ENOENT || errno == ENOTDIR ? "does not exist" : "cannot be opened", strerror(errno));
        return NULL;
    }
    dd_node *root = load_stream(reading, stream, path, none, path);
    if (!is_standard) fclose(stream);
    return root == NULL ? NULL : with_base(reading, root, "");
}

/* A bare word among the rules means the set of that name, "none" an empty one. */
static dd_node *rule_set(dd_reading *reading, dd_node *node)
{
    if (node->kind != DD_NODE_SCALAR || dd_is_null(node) || strpbrk(node->text, "./") != NULL || strlen(node->text) > DD_READ_WORD) return node;
    if (strcmp(node->text, "none") == 0) return dd_new_node(reading, DD_NODE_MAPPING, node->place);
    char name[DD_READ_WORD + sizeof "rules/.yaml"];
    dd_text(name, sizeof name, "rules/%s.yaml", node->text);
    return dd_new_scalar(reading, name, node->place);
}

void dd_load_part(dd_reading *reading, dd_entry *entry, const char *path)
{
    dd_node *node = entry->value, *whole = NULL;
    if (node->failed) return;
    if (strcmp(path, rules) == 0 && (node = rule_set(reading, node)) == NULL) return;
    entry->value = node;
    if (node->kind == DD_NODE_SCALAR && !dd_is_null(node))
        whole = load_named(reading, node, path);
    else if (node->kind == DD_NODE_MAPPING)
        whole = with_base(reading, node, path);
    else
        return; /* the reader says what is wrong with it */
    if (whole == NULL && (whole = dd_new_scalar(reading, "", node->place)) != NULL) whole->failed = true;
    if (whole != NULL) entry->value = whole;
}
