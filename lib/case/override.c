/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Overrides: "aboard[fuel].mass=40 kg" put into the nodes before they are read, so that checks and messages are the same. */
#include "lib/base/numbers.h"
#include "lib/case/reader.h"
#include <stdlib.h>
#include <string.h>

/* One part of a key path: name, and what stands in brackets after it. */
typedef struct dd_segment {
    char name[DD_PATH], selector[DD_PATH];
    bool has_selector;
} dd_segment;

typedef struct dd_path_walk {
    dd_reading *reading;
    dd_place place;
    const char *path; /* as written, for messages */
} dd_path_walk;

static void trim(char *text)
{
    size_t length = strlen(text), start = strspn(text, " \t");
    while (length > start && (text[length - 1] == ' ' || text[length - 1] == '\t')) length--;
    memmove(text, text + start, length - start);
    text[length - start] = '\0';
}

/* Takes the next segment from *at; false: it is not of the form name or name[selector]. */
static bool next_segment(const char **at, dd_segment *segment)
{
    size_t length = strcspn(*at, ".[");
    if (length >= DD_PATH) return false;
    memcpy(segment->name, *at, length);
    segment->name[length] = '\0';
    trim(segment->name);
    *at += length;
    segment->has_selector = **at == '[';
    if (segment->has_selector) {
        length = strcspn(*at + 1, "]");
        if ((*at)[length + 1] != ']' || length >= DD_PATH) return false;
        memcpy(segment->selector, *at + 1, length);
        segment->selector[length] = '\0';
        trim(segment->selector);
        *at += length + 2;
    }
    bool more = **at == '.';
    if (more) (*at)++;
    return segment->name[0] != '\0' && (**at == '\0' ? !more : more);
}

/* A copy of the node behind *value, one level deep: an alias elsewhere must not change with it. */
static dd_node *own(dd_path_walk *walk, dd_node **value)
{
    dd_node *copy = dd_new_node(walk->reading, (*value)->kind, (*value)->place);
    if (copy == NULL) return NULL;
    *copy = **value;
    copy->entries = NULL;
    copy->count = copy->capacity = 0;
    for (int i = 0; i < (*value)->count; i++) {
        const dd_entry *entry = &(*value)->entries[i];
        if (!dd_append(walk->reading, copy, entry->key, entry->place, entry->value)) return NULL;
    }
    return *value = copy;
}

/* *value as a mapping that may be changed; an empty value becomes one. NULL: it is something else, or no memory. */
static dd_node *own_mapping(dd_path_walk *walk, dd_node **value)
{
    if (dd_is_null(*value)) return *value = dd_new_node(walk->reading, DD_NODE_MAPPING, walk->place);
    return (*value)->kind == DD_NODE_MAPPING ? own(walk, value) : NULL;
}

static bool names_element(const dd_node *element, const dd_key *row, const char *selector)
{
    const dd_key *naming = dd_naming_row(row->rows);
    if (row->variant_is_step) {
        if (element->kind == DD_NODE_SCALAR) return strcmp(element->text, selector) == 0;
        return element->kind == DD_NODE_MAPPING && element->count == 1 && strcmp(element->entries[0].key, selector) == 0;
    }
    const dd_entry *entry = naming == NULL ? NULL : dd_entry_of(element, naming->name);
    return entry != NULL && entry->value->kind == DD_NODE_SCALAR && strcmp(entry->value->text, selector) == 0;
}

/* The element that the selector means, by name or by number from 1; -1: a message was given. */
static int select_element(dd_path_walk *walk, const dd_node *list, const dd_key *row, const char *selector)
{
    int found = -1, times = 0;
    for (int i = 0; i < list->count; i++)
        if (names_element(list->entries[i].value, row, selector)) {
            found = i;
            times++;
        }
    if (times == 1) return found;
    if (times > 1) {
        dd_complain(walk->reading, walk->place, walk->path, "found %d elements named '%.60s'; expected a number from 1 to %d",
                    times, selector, list->count);
        return -1;
    }
    char *end;
    long number = strtol(selector, &end, 10);
    if (selector[0] != '\0' && *end == '\0' && number >= 1 && number <= list->count) return (int)number - 1;
    const char *names[DD_STEPS + DD_ABOARD];
    int count = 0;
    for (int i = 0; i < list->count && count < DD_STEPS + DD_ABOARD; i++) {
        const dd_node *element = list->entries[i].value;
        const dd_key *naming = dd_naming_row(row->rows);
        const dd_entry *name = naming == NULL ? NULL : dd_entry_of(element, naming->name);
        if (row->variant_is_step && element->kind == DD_NODE_MAPPING && element->count == 1)
            names[count++] = element->entries[0].key;
        else if (name != NULL && name->value->kind == DD_NODE_SCALAR)
            names[count++] = name->value->text;
    }
    const char *near = dd_nearest(selector, names, count);
    dd_complain(walk->reading, walk->place, walk->path,
                "found no element '%.60s'; expected a name in the list or a number from 1 to %d%s%s%s", selector, list->count,
                near == NULL ? "" : "; nearest: '", near == NULL ? "" : near, near == NULL ? "" : "'");
    return -1;
}

/* Any variant's row of that name: which one it is shows when the element is read. */
static const dd_key *row_in_variants(const dd_key *row, const char *name)
{
    const dd_key *found = dd_row_of(row->rows, NULL, name);
    for (const dd_key_variant *each = row->variants; found == NULL && each != NULL && each->name != NULL; each++)
        found = dd_row_of(each->rows, NULL, name);
    return found;
}

/* A step's element as mapping {name: {...}}: the inner slot. NULL: message given or no memory. */
static dd_node **step_slot(dd_path_walk *walk, dd_node **element)
{
    if ((*element)->kind == DD_NODE_SCALAR) {
        dd_node *wrapped = dd_new_node(walk->reading, DD_NODE_MAPPING, (*element)->place);
        dd_node *inner = dd_new_node(walk->reading, DD_NODE_MAPPING, (*element)->place);
        if (wrapped == NULL || inner == NULL || !dd_append(walk->reading, wrapped, (*element)->text, (*element)->place, inner))
            return NULL;
        *element = wrapped;
    }
    if ((*element)->kind != DD_NODE_MAPPING || (*element)->count != 1 || own(walk, element) == NULL) return NULL;
    return &(*element)->entries[0].value;
}

/* The slot of the list's element that the selector means. */
static dd_node **element_slot(dd_path_walk *walk, dd_node **slot, const dd_key *row, const char *selector, bool last)
{
    if ((*slot)->kind != DD_NODE_SEQUENCE || (row->type != DD_KEY_LIST && row->type != DD_KEY_QUANTITIES)) {
        dd_complain(walk->reading, walk->place, walk->path,
                    "found '[%.60s]'; expected it after the name of a list that the scenario gives", selector);
        return NULL;
    }
    int index = select_element(walk, *slot, row, selector);
    if (index < 0 || own(walk, slot) == NULL) return NULL;
    dd_node **element = &(*slot)->entries[index].value;
    return row->variant_is_step && !last ? step_slot(walk, element) : element;
}

/* Sets the value at the end of the path; messages say what does not fit. */
static void walk_path(dd_path_walk *walk, const dd_key *rows, dd_node *root, dd_node *value)
{
    const char *at = walk->path;
    char done[DD_PATH] = "";
    dd_node **slot = &root;
    const dd_key *within = NULL;
    while (*at != '\0') {
        dd_segment segment;
        if (!next_segment(&at, &segment)) {
            dd_complain(walk->reading, walk->place, NULL,
                        "found '%.120s'; expected a key path such as water.level or aboard[fuel].mass", walk->path);
            return;
        }
        const dd_key *row = within == NULL ? dd_row_of(rows, NULL, segment.name) : row_in_variants(within, segment.name);
        if (row == NULL) {
            dd_complain_unknown(walk->reading, walk->place, walk->path, segment.name, within == NULL ? rows : within->rows,
                                within != NULL && within->variants != NULL ? within->variants[0].rows : NULL);
            return;
        }
        dd_node *mapping = walk->reading->out_of_memory ? NULL : slot == &root ? root : own_mapping(walk, slot);
        if (mapping == NULL) {
            dd_complain(walk->reading, walk->place, walk->path,
                        "found '%.60s', which is below a value that is not a mapping; expected a key path", segment.name);
            return;
        }
        dd_join_path(done, segment.name, done);
        dd_entry *entry = dd_entry_of(mapping, segment.name);
        if (entry == NULL) {
            dd_node *empty = dd_new_scalar(walk->reading, "", walk->place);
            if (empty == NULL || !dd_append(walk->reading, mapping, row->name, walk->place, empty)) return;
            empty->failed = true; /* until the value is there: a path that fails further on says so once */
            entry = &mapping->entries[mapping->count - 1];
        } else if (row->file && *at != '\0') {
            dd_load_part(walk->reading, entry, done);
        }
        slot = &entry->value;
        bool last = *at == '\0';
        if (segment.has_selector && (slot = element_slot(walk, slot, row, segment.selector, last)) == NULL) return;
        if (last) break;
        if (row->type != DD_KEY_BLOCK && !(row->type == DD_KEY_LIST && segment.has_selector)) {
            dd_complain(walk->reading, walk->place, walk->path,
                        row->type == DD_KEY_LIST ? "'%.60s' is a list; expected an element, as %.60s[1]"
                                                 : "'%.60s' is a value; expected no key below it%.0s",
                        segment.name, segment.name);
            return;
        }
        within = row;
    }
    *slot = value;
}

void dd_apply_override(dd_reading *reading, const dd_key *rows, dd_node *root, const char *override)
{
    char shown[DD_PATH], path[DD_PATH];
    dd_text(shown, sizeof shown, "--with %s", override);
    int file = dd_add_file(reading, shown, (dd_place){-1, 0, 0});
    if (file < 0) return;
    dd_place place = {file, 0, 0};
    if (!dd_check_text(reading, override, strlen(override), file)) return;
    const char *equals = strchr(override, '=');
    if (equals == NULL || equals == override || (size_t)(equals - override) >= sizeof path) {
        dd_complain(reading, place, NULL, "found '%.120s'; expected KEY=VALUE, as water.level=0.4m", override);
        return;
    }
    dd_text(path, sizeof path, "%.*s", (int)(equals - override), override);
    trim(path);
    const char *text = equals + 1 + strspn(equals + 1, " \t");
    dd_node *value = NULL;
    if (text[0] == '[' || text[0] == '{') {
        value = dd_compose(reading, text, strlen(text), file);
    } else {
        char *copy = dd_take(reading, strlen(text) + 1);
        if (copy != NULL) {
            strcpy(copy, text);
            trim(copy);
            value = dd_new_scalar(reading, copy, place);
        }
    }
    if (value == NULL) return;
    if (dd_is_null(value)) {
        dd_complain(reading, place, path, "found nothing after '='; expected a value");
        return;
    }
    dd_path_walk walk = {reading, place, path};
    walk_path(&walk, rows, root, value);
}
