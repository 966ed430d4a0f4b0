/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One YAML document into nodes. Aliases share a node; what they would expand to is counted, so a small file cannot
   grow without bound, and an alias to a node that is still open would be a cycle. */
#include "lib/case/node.h"
#include "lib/base/numbers.h"
#include <string.h>
#include <yaml.h>

typedef struct dd_anchor {
    const char *name;
    dd_node *node;
    struct dd_anchor *next;
} dd_anchor;

typedef struct dd_composer {
    dd_reading *reading;
    yaml_parser_t *parser;
    int file;
    dd_anchor *anchors;
} dd_composer;

static dd_place place_of(const dd_composer *composer, yaml_mark_t mark)
{
    return (dd_place){composer->file, (int)mark.line + 1, (int)mark.column + 1};
}

dd_node *dd_new_node(dd_reading *reading, dd_node_kind kind, dd_place place)
{
    dd_node *node = dd_take(reading, sizeof *node);
    if (node == NULL) return NULL;
    node->kind = kind;
    node->place = place;
    node->weight = 1;
    node->complete = true;
    return node;
}

dd_node *dd_new_scalar(dd_reading *reading, const char *text, dd_place place)
{
    dd_node *node = dd_new_node(reading, DD_NODE_SCALAR, place);
    if (node == NULL) return NULL;
    node->plain = true;
    node->text = dd_keep_text(reading, text, strlen(text));
    return node->text == NULL ? NULL : node;
}

bool dd_append(dd_reading *reading, dd_node *node, const char *key, dd_place place, dd_node *value)
{
    if (node->count == node->capacity) {
        int capacity = node->capacity == 0 ? 8 : 2 * node->capacity;
        dd_entry *grown = dd_take(reading, (size_t)capacity * sizeof *grown);
        if (grown == NULL) return false;
        if (node->count > 0) memcpy(grown, node->entries, (size_t)node->count * sizeof *grown);
        node->entries = grown;
        node->capacity = capacity;
    }
    node->entries[node->count++] = (dd_entry){key, place, value};
    return true;
}

dd_entry *dd_entry_of(const dd_node *node, const char *key)
{
    if (node == NULL || node->kind != DD_NODE_MAPPING) return NULL;
    for (int i = 0; i < node->count; i++)
        if (strcmp(node->entries[i].key, key) == 0) return &node->entries[i];
    return NULL;
}

bool dd_is_null(const dd_node *node)
{
    return node->kind == DD_NODE_SCALAR && node->plain &&
           (node->text[0] == '\0' || strcmp(node->text, "~") == 0 || strcmp(node->text, "null") == 0);
}

const char *dd_describe(const dd_node *node, char *text, size_t size)
{
    if (node->kind == DD_NODE_MAPPING) return "a mapping";
    if (node->kind == DD_NODE_SEQUENCE) return "a list";
    if (dd_is_null(node)) return "nothing";
    dd_text(text, size, "'%.60s'", node->text);
    return text;
}

/* The next event; false: a message was given (a syntax error ends this file). */
static bool next_event(dd_composer *composer, yaml_event_t *event)
{
    if (yaml_parser_parse(composer->parser, event)) return true;
    const yaml_parser_t *parser = composer->parser;
    if (parser->error == YAML_MEMORY_ERROR) {
        composer->reading->out_of_memory = true;
        return false;
    }
    dd_place place = place_of(composer, parser->problem_mark);
    const char *problem = parser->problem == NULL ? "unreadable" : parser->problem;
    if (parser->context != NULL)
        dd_complain(composer->reading, place, NULL, "not YAML: %s (%s that starts in line %d)", problem, parser->context,
                    (int)parser->context_mark.line + 1);
    else
        dd_complain(composer->reading, place, NULL, "not YAML: %s", problem);
    return false;
}

static void remember_anchor(dd_composer *composer, const yaml_char_t *name, dd_node *node)
{
    if (name == NULL || node == NULL) return;
    dd_anchor *entry = dd_take(composer->reading, sizeof *entry);
    if (entry == NULL) return;
    entry->name = dd_keep_text(composer->reading, (const char *)name, strlen((const char *)name));
    entry->node = node;
    entry->next = composer->anchors;
    if (entry->name != NULL) composer->anchors = entry;
}

/* Counts nodes of the whole reading; false and one message when there are too many. */
static bool count_nodes(dd_composer *composer, long weight, dd_place place)
{
    dd_reading *reading = composer->reading;
    reading->weight += weight;
    if (reading->weight <= DD_READ_NODES) return true;
    if (!reading->too_heavy)
        dd_complain(reading, place, NULL,
                    "found more than %d values and keys (an alias counts with all that it stands for); expected fewer",
                    DD_READ_NODES);
    reading->too_heavy = true;
    return false;
}

static dd_node *compose_alias(dd_composer *composer, const yaml_event_t *event)
{
    dd_place place = place_of(composer, event->start_mark);
    const char *name = (const char *)event->data.alias.anchor;
    for (dd_anchor *at = composer->anchors; at != NULL; at = at->next) {
        if (strcmp(at->name, name) != 0) continue;
        if (!at->node->complete) {
            dd_complain(composer->reading, place, NULL, "found the alias '*%.60s' inside what it stands for; expected no cycle",
                        name);
            return NULL;
        }
        return count_nodes(composer, at->node->weight, place) ? at->node : NULL;
    }
    dd_complain(composer->reading, place, NULL, "found the alias '*%.60s'; expected an anchor '&%.60s' before it", name, name);
    return NULL;
}

static dd_node *compose_node(dd_composer *composer, yaml_event_t *event, int nesting);

/* `<<: *other` adds the keys that the mapping does not have. */
static bool merge_into(dd_composer *composer, dd_node *node, const dd_node *other, dd_place place)
{
    if (other->kind == DD_NODE_SEQUENCE) {
        for (int i = 0; i < other->count; i++)
            if (!merge_into(composer, node, other->entries[i].value, place)) return false;
        return true;
    }
    if (other->kind != DD_NODE_MAPPING) {
        dd_complain(composer->reading, place, "<<", "found a value; expected an alias of a mapping");
        return false;
    }
    for (int i = 0; i < other->count; i++)
        if (dd_entry_of(node, other->entries[i].key) == NULL &&
            !dd_append(composer->reading, node, other->entries[i].key, other->entries[i].place, other->entries[i].value))
            return false;
    return true;
}

/* Checks the key and stands for it as text; NULL: a message was given. */
static const char *compose_key(dd_composer *composer, const dd_node *node, yaml_event_t *event)
{
    dd_place place = place_of(composer, event->start_mark);
    if (event->type != YAML_SCALAR_EVENT) {
        dd_complain(composer->reading, place, NULL, "found a key that is not a plain word; expected a key such as 'title'");
        return NULL;
    }
    if (node->count >= DD_READ_KEYS) {
        dd_complain(composer->reading, place, NULL, "found more than %d keys in one mapping; expected fewer", DD_READ_KEYS);
        return NULL;
    }
    const char *text = (const char *)event->data.scalar.value;
    const dd_entry *twice = dd_entry_of(node, text);
    if (twice != NULL) /* the rest of the file is still read, for its own errors */
        dd_complain(composer->reading, place, text, "found this key twice (first in line %d); expected it once",
                    twice->place.line);
    return dd_keep_text(composer->reading, text, event->data.scalar.length);
}

static bool compose_children(dd_composer *composer, dd_node *node, int nesting)
{
    const yaml_event_type_t end = node->kind == DD_NODE_MAPPING ? YAML_MAPPING_END_EVENT : YAML_SEQUENCE_END_EVENT;
    const dd_node *merged = NULL;
    dd_place merge_place = node->place;
    for (;;) {
        yaml_event_t event;
        if (!next_event(composer, &event)) return false;
        bool is_end = event.type == end;
        dd_place place = place_of(composer, event.start_mark);
        const char *key = NULL;
        if (!is_end && node->kind == DD_NODE_MAPPING) {
            key = compose_key(composer, node, &event);
            yaml_event_delete(&event);
            if (key == NULL || !next_event(composer, &event)) return false;
        }
        dd_node *child = is_end ? NULL : compose_node(composer, &event, nesting + 1);
        yaml_event_delete(&event);
        if (is_end) break;
        if (child == NULL) return false;
        node->weight += child->weight;
        if (key != NULL && strcmp(key, "<<") == 0 && merged == NULL) {
            merged = child;
            merge_place = place;
        } else if (key == NULL || dd_entry_of(node, key) == NULL) {
            if (!dd_append(composer->reading, node, key, place, child)) return false;
        }
    }
    return merged == NULL || merge_into(composer, node, merged, merge_place);
}

static dd_node *compose_scalar(dd_composer *composer, const yaml_event_t *event)
{
    dd_node *node = dd_new_node(composer->reading, DD_NODE_SCALAR, place_of(composer, event->start_mark));
    if (node == NULL) return NULL;
    node->plain = event->data.scalar.style == YAML_PLAIN_SCALAR_STYLE;
    node->text = dd_keep_text(composer->reading, (const char *)event->data.scalar.value, event->data.scalar.length);
    if (node->text == NULL) return NULL;
    if (strlen(node->text) != event->data.scalar.length) {
        dd_complain(composer->reading, node->place, NULL, "found a NUL character; expected text");
        return NULL;
    }
    return node;
}

static dd_node *compose_node(dd_composer *composer, yaml_event_t *event, int nesting)
{
    dd_place place = place_of(composer, event->start_mark);
    if (event->type == YAML_ALIAS_EVENT) return compose_alias(composer, event);
    const yaml_char_t *tag = event->type == YAML_SCALAR_EVENT          ? event->data.scalar.tag
                             : event->type == YAML_MAPPING_START_EVENT ? event->data.mapping_start.tag
                                                                       : event->data.sequence_start.tag;
    if (tag != NULL) {
        dd_complain(composer->reading, place, NULL, "found the tag '%.60s'; expected a value without a tag", (const char *)tag);
        return NULL;
    }
    if (nesting > DD_READ_NESTING) {
        dd_complain(composer->reading, place, NULL, "found more than %d levels of lists and mappings; expected fewer",
                    DD_READ_NESTING);
        return NULL;
    }
    if (!count_nodes(composer, 1, place)) return NULL;
    if (event->type == YAML_SCALAR_EVENT) {
        dd_node *node = compose_scalar(composer, event);
        remember_anchor(composer, event->data.scalar.anchor, node);
        return node;
    }
    bool is_mapping = event->type == YAML_MAPPING_START_EVENT;
    dd_node *node = dd_new_node(composer->reading, is_mapping ? DD_NODE_MAPPING : DD_NODE_SEQUENCE, place);
    if (node == NULL) return NULL;
    node->complete = false;
    remember_anchor(composer, is_mapping ? event->data.mapping_start.anchor : event->data.sequence_start.anchor, node);
    if (!compose_children(composer, node, nesting)) return NULL;
    node->complete = true;
    return node;
}

/* The one document of the stream. */
static dd_node *compose_stream(dd_composer *composer)
{
    dd_node *root = NULL;
    for (;;) {
        yaml_event_t event;
        if (!next_event(composer, &event)) return NULL;
        yaml_event_type_t type = event.type;
        dd_place place = place_of(composer, event.start_mark);
        bool is_content = type == YAML_SCALAR_EVENT || type == YAML_MAPPING_START_EVENT || type == YAML_SEQUENCE_START_EVENT ||
                          type == YAML_ALIAS_EVENT;
        if (type == YAML_DOCUMENT_START_EVENT && root != NULL) {
            yaml_event_delete(&event);
            dd_complain(composer->reading, place, NULL, "found a second document ('---'); expected one in a file");
            return NULL;
        }
        dd_node *node = is_content ? compose_node(composer, &event, 0) : NULL;
        yaml_event_delete(&event);
        if (is_content && node == NULL) return NULL;
        if (node != NULL) root = node;
        if (type == YAML_STREAM_END_EVENT) break;
    }
    if (root == NULL)
        dd_complain(composer->reading, (dd_place){composer->file, 1, 1}, NULL, "found an empty file; expected keys and values");
    return root;
}

dd_node *dd_compose(dd_reading *reading, const char *bytes, size_t size, int file)
{
    yaml_parser_t parser;
    if (!yaml_parser_initialize(&parser)) {
        reading->out_of_memory = true;
        return NULL;
    }
    yaml_parser_set_input_string(&parser, (const unsigned char *)bytes, size);
    dd_composer composer = {.reading = reading, .parser = &parser, .file = file};
    dd_node *root = compose_stream(&composer);
    yaml_parser_delete(&parser);
    return root;
}
