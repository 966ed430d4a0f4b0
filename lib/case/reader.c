/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Nodes into structs, as the rows say. */
#include "lib/case/reader.h"
#include "lib/base/numbers.h"
#include "lib/base/units.h"
#include <stdlib.h>
#include <string.h>

enum { NAMES = 128 };

/* The value being read: its row, where it goes and where it came from. */
typedef struct dd_target {
    dd_reading *reading;
    const dd_key *row;
    dd_case *scenario;
    size_t offset; /* of the value in dd_case */
    const dd_node *node;
    const char *path;
} dd_target;

char *dd_join_path(const char *path, const char *name, char text[DD_PATH])
{
    char joined[DD_PATH];
    dd_text(joined, sizeof joined, "%s%s%s", path, path[0] != '\0' && name[0] != '\0' ? "." : "", name);
    return strcpy(text, joined);
}

static void *address(const dd_target *target) { return (char *)target->scenario + target->offset; }

static void store_int(const dd_target *target, int value) { memcpy(address(target), &value, sizeof value); }

/* Notes where the value came from. */
static void note(const dd_target *target)
{
    dd_reading *reading = target->reading;
    if (reading->origin_count == reading->origin_capacity) {
        int capacity = reading->origin_capacity == 0 ? 256 : 2 * reading->origin_capacity;
        dd_origin *grown = realloc(reading->origins, (size_t)capacity * sizeof *grown);
        if (grown == NULL) {
            reading->out_of_memory = true;
            return;
        }
        reading->origins = grown;
        reading->origin_capacity = capacity;
    }
    const char *unit = NULL;
    /* A slope written as 1:n has no unit. */
    if (target->row->type == DD_KEY_QUANTITY &&
        (target->row->dimension != DD_SLOPE || strpbrk(target->node->text, "%d") != NULL))
        unit = dd_quantity_unit(target->node->text, target->row->dimension);
    reading->origins[reading->origin_count++] = (dd_origin){
        target->offset, target->row, dd_keep_text(reading, target->path, strlen(target->path)), unit, target->node->place};
}

const dd_origin *dd_origin_of(const dd_reading *reading, size_t offset, const dd_key *row)
{
    for (int i = 0; i < reading->origin_count; i++)
        if (reading->origins[i].offset == offset && reading->origins[i].row == row) return &reading->origins[i];
    return NULL;
}

/* Gathers the names of rows for dd_nearest. */
static int gather(const dd_key *rows, const char *names[NAMES], int count)
{
    for (const dd_key *row = rows; row != NULL && row->name != NULL && count < NAMES; row++) names[count++] = row->name;
    return count;
}

/* Block in which a key of that name stands; "" for the top; NULL: nowhere. Blocks before lists. */
static const char *home_of(const dd_key *rows, const char *name, char path[DD_PATH])
{
    char at[DD_PATH];
    strcpy(at, path);
    if (dd_row_of(rows, NULL, name) != NULL) return path;
    for (const dd_key *row = rows; row != NULL && row->name != NULL; row++) {
        dd_join_path(at, row->name, path);
        if ((row->type == DD_KEY_BLOCK || row->type == DD_KEY_LIST) && home_of(row->rows, name, path) != NULL) return path;
    }
    return NULL;
}

/* One has a letter at its end that the other lacks: written amiss, not in the wrong place. */
static bool is_slip(const char *name, const char *near)
{
    const size_t a = strlen(name), b = strlen(near);
    return (a + 1 == b || b + 1 == a) && strncmp(name, near, a < b ? a : b) == 0;
}

void dd_complain_unknown(dd_reading *reading, dd_place place, const char *path, const char *name, const dd_key *rows,
                         const dd_key *more)
{
    const char *names[NAMES];
    int count = gather(more, names, gather(rows, names, 0));
    const char *near = dd_nearest(name, names, count);
    char home[DD_PATH] = "", elsewhere[DD_PATH + 64] = "";
    if ((near == NULL || !is_slip(name, near)) && home_of(reading->table, name, home) != NULL)
        dd_text(elsewhere, sizeof elsewhere, " ('%.60s' is a key of %s)", name, home[0] == '\0' ? "the scenario itself" : home);
    if (near != NULL) {
        dd_complain(reading, place, path, "found the unknown key '%.60s'; nearest known key: '%s'%s", name, near, elsewhere);
        return;
    }
    char list[256] = "";
    for (int i = 0; i < count && strlen(list) < 200; i++) {
        size_t used = strlen(list);
        dd_text(list + used, sizeof list - used, "%s%s", i == 0 ? "" : ", ", names[i]);
    }
    dd_complain(reading, place, path, "found the unknown key '%.60s'; expected one of: %s%s%s", name, list,
                strlen(list) >= 200 ? ", ..." : "", elsewhere);
}

/* Scalars -------------------------------------------------------------------------------------------------------- */

/* The node's text, or NULL after a message that says what was expected. */
static const char *scalar_text(const dd_target *target, const char *expected)
{
    char found[96];
    const dd_node *node = target->node;
    if (node->kind == DD_NODE_SCALAR && !dd_is_null(node)) return node->text;
    dd_complain(target->reading, node->place, target->path, "found %s; expected %s", dd_describe(node, found, sizeof found),
                expected);
    return NULL;
}

/* The unit for a range: the user's, unless its numbers are odd there (a record interval in hours). */
static const char *readable_unit(const dd_key *row, const char *unit)
{
    const dd_unit *in = unit == NULL ? NULL : dd_unit_find(unit, row->dimension);
    if (in == NULL) return unit;
    for (int end = 0; end < 2; end++) {
        double size = fabs((end == 0 ? row->least : row->most) * in->denominator / in->numerator);
        if (isfinite(size) && size > 0 && (size < 1e-4 || size > 1e6)) return row->unit;
    }
    return unit;
}

/* One quantity in its range, into *value. */
static bool read_quantity(const dd_target *target, double *value)
{
    char message[400], expected[320], choices[256];
    const dd_key *row = target->row;
    dd_dimension_choices(row->dimension, choices, sizeof choices);
    dd_text(expected, sizeof expected, "%s%s%s", dd_dimension_name(row->dimension), choices[0] == '\0' ? "" : " in ", choices);
    const char *text = scalar_text(target, expected);
    if (text == NULL) return false;
    if (!dd_quantity_parse(text, row->dimension, value, message, sizeof message)) {
        dd_complain(target->reading, target->node->place, target->path, "%s", message);
        return false;
    }
    if (dd_is_open(row) || (*value >= row->least && *value <= row->most)) return true;
    const char *unit = readable_unit(row, dd_quantity_unit(text, row->dimension));
    char least[DD_QUANTITY_TEXT], most[DD_QUANTITY_TEXT];
    dd_quantity_round(row->least, row->dimension, unit, 6, least);
    dd_quantity_round(row->most, row->dimension, unit, 6, most);
    if (isinf(row->most))
        dd_complain(target->reading, target->node->place, target->path, "found '%.60s'; expected at least %s", text, least);
    else if (isinf(row->least))
        dd_complain(target->reading, target->node->place, target->path, "found '%.60s'; expected at most %s", text, most);
    else
        dd_complain(target->reading, target->node->place, target->path, "found '%.60s'; expected %s to %s", text, least, most);
    return false;
}

static void read_count(const dd_target *target)
{
    const dd_key *row = target->row;
    bool open = dd_is_open(row);
    int least = open || row->least < 0 ? 0 : (int)row->least, most = open || row->most > 1e6 ? 1000000 : (int)row->most;
    char expected[80];
    if (least == most)
        dd_text(expected, sizeof expected, "%d", least);
    else
        dd_text(expected, sizeof expected, "a whole number from %d to %d", least, most);
    const char *text = scalar_text(target, expected);
    if (text == NULL) return;
    char *end;
    long value = strtol(text, &end, 10);
    if (*end != '\0' || end == text || text[0] == ' ' || value < least || value > most) {
        dd_complain(target->reading, target->node->place, target->path, "found '%.60s'; expected %s", text, expected);
        return;
    }
    store_int(target, (int)value);
    note(target);
}

static void read_text(const dd_target *target)
{
    char expected[64];
    dd_text(expected, sizeof expected, "a text of at most %d bytes", (int)target->row->size - 1);
    const char *text = scalar_text(target, expected);
    if (text == NULL) return;
    size_t length = strlen(text);
    bool one_line = true;
    for (size_t i = 0; i < length; i++) one_line = one_line && (unsigned char)text[i] >= 0x20 && text[i] != 0x7F;
    if (length == 0 || length >= target->row->size)
        dd_complain(target->reading, target->node->place, target->path, "found a text of %d bytes; expected 1 to %d",
                    (int)length, (int)target->row->size - 1);
    else if (!one_line)
        dd_complain(target->reading, target->node->place, target->path,
                    "found a text of several lines or with control characters; expected one line");
    else {
        memcpy(address(target), text, length + 1);
        note(target);
    }
}

/* "front, rear or four" */
static void list_choices(const char *const *choices, int count, char *text, size_t size)
{
    text[0] = '\0';
    for (int i = 0; i < count; i++) {
        size_t used = strlen(text);
        dd_text(text + used, size - used, "%s%s", i == 0 ? "" : i == count - 1 ? " or " : ", ", choices[i]);
    }
}

/* Index of text in choices, or -1 after a message. */
static int choose(const dd_target *target, const char *const *choices, int count)
{
    char expected[400];
    list_choices(choices, count, expected, sizeof expected);
    const char *text = scalar_text(target, expected);
    if (text == NULL) return -1;
    for (int i = 0; i < count; i++)
        if (strcmp(text, choices[i]) == 0) return i;
    const char *near = dd_nearest(text, choices, count);
    dd_complain(target->reading, target->node->place, target->path, "found '%.60s'; expected %s%s%s%s", text, expected,
                near == NULL ? "" : "; nearest: '", near == NULL ? "" : near, near == NULL ? "" : "'");
    return -1;
}

static void read_choice(const dd_target *target)
{
    int count = 0;
    while (target->row->choices[count] != NULL) count++;
    int index = choose(target, target->row->choices, count);
    if (index < 0) return;
    store_int(target, index);
    note(target);
}

static void read_flag(const dd_target *target)
{
    const char *text = scalar_text(target, "yes or no");
    if (text == NULL) return;
    bool yes = strcmp(text, "yes") == 0 || strcmp(text, "true") == 0;
    if (!yes && strcmp(text, "no") != 0 && strcmp(text, "false") != 0) {
        dd_complain(target->reading, target->node->place, target->path, "found '%.60s'; expected yes or no", text);
        return;
    }
    store_int(target, yes ? 1 : 0);
    note(target);
}

/* Lists and blocks ----------------------------------------------------------------------------------------------- */

static bool is_list(const dd_target *target, const char *example)
{
    char found[96];
    const dd_node *node = target->node;
    if (node->kind != DD_NODE_SEQUENCE) {
        dd_complain(target->reading, node->place, target->path, "found %s; expected a list, as %s",
                    dd_describe(node, found, sizeof found), example);
        return false;
    }
    if (node->count > target->row->capacity) {
        dd_complain(target->reading, node->place, target->path, "found %d elements; expected at most %d", node->count,
                    target->row->capacity);
        return false;
    }
    return true;
}

static void store_count(const dd_target *target, size_t structure, int count)
{
    memcpy((char *)target->scenario + structure + target->row->count_offset, &count, sizeof count);
}

static void read_quantities(const dd_target *target, size_t structure)
{
    const char *unit = dd_dimension_unit(target->row->dimension);
    char example[64];
    dd_text(example, sizeof example, "[1%s%s, 2%s%s]", unit[0] == '\0' ? "" : " ", unit, unit[0] == '\0' ? "" : " ", unit);
    if (!is_list(target, example)) return;
    double *values = address(target);
    for (int i = 0; i < target->node->count; i++) {
        char path[DD_PATH];
        dd_text(path, sizeof path, "%s[%d]", target->path, i + 1);
        dd_target one = *target;
        one.node = target->node->entries[i].value;
        one.path = path;
        double value;
        if (read_quantity(&one, &value)) values[i] = value;
    }
    store_count(target, structure, target->node->count);
    note(target);
}

/* The kind of an element by its key `kind`; NULL: a message was given. */
static const dd_key_variant *kind_of(const dd_target *target, int *index)
{
    const char *names[NAMES];
    int count = 0;
    for (const dd_key_variant *each = target->row->variants; each->name != NULL && count < NAMES; each++)
        names[count++] = each->name;
    char path[DD_PATH], expected[400];
    const dd_entry *entry = dd_entry_of(target->node, "kind");
    if (entry == NULL) {
        list_choices(names, count, expected, sizeof expected);
        dd_complain(target->reading, target->node->place, dd_join_path(target->path, "kind", path), "missing; expected %s",
                    expected);
        return NULL;
    }
    dd_target kind = *target;
    kind.node = entry->value;
    kind.path = dd_join_path(target->path, "kind", path);
    *index = choose(&kind, names, count);
    return *index < 0 ? NULL : &target->row->variants[*index];
}

/* A step: the one key of a mapping, or that key alone; *inner is what stands under it (NULL: nothing). */
static const dd_key_variant *step_of(const dd_target *target, int *index, const dd_node **inner)
{
    const char *names[NAMES];
    int count = 0;
    for (const dd_key_variant *each = target->row->variants; each->name != NULL && count < NAMES; each++)
        names[count++] = each->name;
    const dd_node *node = target->node;
    dd_node word = *node;
    *inner = NULL;
    if (node->kind == DD_NODE_MAPPING && node->count == 1) {
        word.kind = DD_NODE_SCALAR;
        word.plain = false;
        word.text = node->entries[0].key;
        word.place = node->entries[0].place;
        if (!dd_is_null(node->entries[0].value)) *inner = node->entries[0].value;
    } else if (node->kind == DD_NODE_MAPPING) {
        dd_complain(target->reading, node->place, target->path,
                    "found a step with %d keys; expected one, as '- %s: {...}' (indent what belongs to it)", node->count,
                    names[0]);
        return NULL;
    }
    dd_target name = *target;
    name.node = &word;
    *index = choose(&name, names, count);
    return *index < 0 ? NULL : &target->row->variants[*index];
}

/* A list element or block whose rows depend on its kind. target.offset: of the element. */
static void read_variant(const dd_target *target)
{
    int index = -1;
    const dd_node *inner = target->node;
    const dd_key_variant *variant = target->row->variant_is_step ? step_of(target, &index, &inner) : kind_of(target, &index);
    dd_element_defaults(target->row, variant, address(target));
    if (variant == NULL) return;
    memcpy((char *)address(target) + target->row->kind_offset, &index, sizeof index);
    dd_node empty = {.kind = DD_NODE_MAPPING, .place = target->node->place};
    dd_read_mapping(target->reading, target->row->rows, variant->rows, target->scenario, target->offset,
                    inner == NULL ? &empty : inner, target->path);
}

static void read_list(const dd_target *target, size_t structure)
{
    const dd_key *row = target->row;
    const dd_key *naming = dd_naming_row(row->rows);
    bool of_texts = row->rows != NULL && row->rows[0].name != NULL && row->rows[0].name[0] == '\0';
    if (!is_list(target, of_texts               ? "[name, name]"
                         : row->variant_is_step ? "'- back down: {...}'"
                                                : "'- name: ...' on lines of its own"))
        return;
    note(target);
    for (int i = 0; i < target->node->count; i++) {
        dd_node *element = target->node->entries[i].value;
        const dd_entry *name = naming == NULL ? NULL : dd_entry_of(element, naming->name);
        char path[DD_PATH];
        if (name != NULL && name->value->kind == DD_NODE_SCALAR && name->value->text[0] != '\0')
            dd_text(path, sizeof path, "%s[%.60s]", target->path, name->value->text);
        else
            dd_text(path, sizeof path, "%s[%d]", target->path, i + 1);
        dd_target one = *target;
        one.node = element;
        one.path = path;
        one.offset = target->offset + (size_t)i * row->size;
        note(&one);
        if (of_texts) {
            one.row = row->rows;
            read_text(&one);
        } else if (row->variants != NULL && (row->variant_is_step || element->kind == DD_NODE_MAPPING)) {
            read_variant(&one);
        } else {
            dd_element_defaults(row, NULL, address(&one));
            dd_read_mapping(target->reading, row->rows, NULL, target->scenario, one.offset, element, path);
        }
    }
    store_count(target, structure, target->node->count);
    if (row->required && target->node->count == 0)
        dd_complain(target->reading, target->node->place, target->path, "found an empty list; expected at least one element");
}

static void read_value(const dd_target *target, size_t structure)
{
    double value;
    switch (target->row->type) {
    case DD_KEY_QUANTITY:
        if (read_quantity(target, &value)) {
            memcpy(address(target), &value, sizeof value);
            note(target);
        }
        break;
    case DD_KEY_COUNT:
        read_count(target);
        break;
    case DD_KEY_TEXT:
        read_text(target);
        break;
    case DD_KEY_CHOICE:
        read_choice(target);
        break;
    case DD_KEY_FLAG:
        read_flag(target);
        break;
    case DD_KEY_QUANTITIES:
        read_quantities(target, structure);
        break;
    case DD_KEY_LIST:
        read_list(target, structure);
        break;
    case DD_KEY_BLOCK:
        note(target);
        if (target->row->variants != NULL && target->node->kind == DD_NODE_MAPPING)
            read_variant(target);
        else
            dd_read_mapping(target->reading, target->row->rows, NULL, target->scenario, target->offset, target->node,
                            target->path);
        break;
    }
}

bool dd_is_on_ramp(const dd_key *rows, const dd_node *node)
{
    for (const dd_key *row = rows; row != NULL && row->name != NULL; row++)
        if (row->on_ramp && dd_entry_of(node, row->name) != NULL) return true;
    return false;
}

/* Messages for required keys that are not there, in this block and in blocks that were left out as a whole. */
static void check_required(dd_reading *reading, const dd_key *rows, const dd_node *node, const char *path)
{
    const bool on_ramp = dd_is_on_ramp(rows, node);
    for (const dd_key *row = rows; row != NULL && row->name != NULL; row++) {
        const dd_entry *entry = dd_entry_of(node, row->name);
        char full[DD_PATH];
        if (entry != NULL || (row->on_ramp && !on_ramp)) continue;
        dd_join_path(path, row->name, full);
        if (row->required)
            dd_complain(reading, node->place, full, "missing; expected %s", row->help);
        else if (row->type == DD_KEY_BLOCK && row->variants == NULL && row->rows != NULL) {
            dd_node empty = {.kind = DD_NODE_MAPPING, .place = node->place};
            check_required(reading, row->rows, &empty, full);
        }
    }
}

void dd_read_mapping(dd_reading *reading, const dd_key *rows, const dd_key *more, dd_case *scenario, size_t offset,
                     const dd_node *node, const char *path)
{
    char found[96];
    if (node->failed) return;
    if (node->kind != DD_NODE_MAPPING) {
        const char *first = rows != NULL && rows->name != NULL   ? rows->name
                            : more != NULL && more->name != NULL ? more->name
                                                                 : "key";
        dd_complain(reading, node->place, path, "found %s; expected keys and values, as '%s: ...'",
                    dd_describe(node, found, sizeof found), first);
        return;
    }
    bool has_kind = dd_row_of(rows, more, "kind") != NULL;
    for (int i = 0; i < node->count; i++) {
        const dd_entry *entry = &node->entries[i];
        if (entry->value->failed) continue;
        char full[DD_PATH];
        dd_join_path(path, entry->key, full);
        const dd_key *row = dd_row_of(rows, more, entry->key);
        if (row == NULL && strcmp(entry->key, "kind") == 0 && !has_kind && more != NULL) continue; /* read by kind_of */
        if (row == NULL) {
            dd_complain_unknown(reading, entry->place, full, entry->key, rows, more);
            continue;
        }
        dd_target target = {reading, row, scenario, offset + row->offset, entry->value, full};
        read_value(&target, offset);
    }
    check_required(reading, rows, node, path);
    check_required(reading, more, node, path);
}
