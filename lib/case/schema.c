/* SPDX-License-Identifier: GPL-3.0-or-later */
/* JSON Schema, draft 2020-12, from the key table: for editors, and for the tests. */
#include "lib/base/numbers.h"
#include "lib/base/units.h"
#include "lib/case/buffer.h"
#include "lib/case/json_text.h"
#include "lib/case/show.h"
#include <jansson.h>
#include <stdlib.h>
#include <string.h>

#define NUMBER "[-+]?([0-9]+\\.?[0-9]*|\\.[0-9]+)([eE][-+]?[0-9]+)?"
#define UNSIGNED "([0-9]+\\.?[0-9]*|\\.[0-9]+)([eE][-+]?[0-9]+)?"

/* The text that is being made; failed: out of memory somewhere, so that it would be incomplete. */
typedef struct dd_schema {
    bool failed;
} dd_schema;

static json_t *object_of(dd_schema *schema, const dd_key *rows, const dd_key *more, const char *kind);

static json_t *keep(dd_schema *schema, json_t *value)
{
    schema->failed = schema->failed || value == NULL;
    return value;
}

static void put(dd_schema *schema, json_t *object, const char *key, json_t *value)
{
    if (value == NULL || json_object_set_new(object, key, value) != 0) schema->failed = true;
}

static void append(dd_schema *schema, json_t *list, json_t *value)
{
    if (value == NULL || json_array_append_new(list, value) != 0) schema->failed = true;
}

static json_t *any_of(dd_schema *schema, json_t *first, json_t *second)
{
    return keep(schema, json_pack("{s:[o, o]}", "anyOf", first, second));
}

/* Regular expression of a quantity with its unit (a bare number has none); false: out of memory. */
static bool pattern_of(dd_dimension dimension, dd_buffer *out)
{
    int count = 0;
    dd_buffer units = {0};
    if (dimension == DD_DATE) {
        dd_buffer_add(out, "^[0-9]{4}-[0-9]{2}-[0-9]{2}[ T][0-9]{2}:[0-9]{2}(:[0-9]{2})? ?(Z|UTC|[-+][0-9]{2}(:?[0-9]{2})?)$");
        return true;
    }
    for (int i = 0; dd_unit_at(i) != NULL; i++) {
        const dd_unit *unit = dd_unit_at(i);
        if (unit->dimension != dimension || unit->spelling[0] == '\0') continue;
        dd_buffer_add(&units, "%s", count++ == 0 ? "" : "|");
        for (const char *at = unit->spelling; *at != '\0'; at++)
            dd_buffer_add(&units, "%s%c", strchr("^.$()[]|*+?{}\\", *at) != NULL ? "\\" : "", *at);
    }
    char *list = dd_buffer_take(&units);
    if (list == NULL) return false;
    if (dimension == DD_SLOPE)
        dd_buffer_add(out, "^(" NUMBER " *(%%|%s)|[-+]?" UNSIGNED " *(:|in ) *" UNSIGNED ")$", list);
    else if (dimension == DD_RATIO)
        dd_buffer_add(out, "^" NUMBER "( *%%)?$");
    else
        dd_buffer_add(out, "^" NUMBER " *(%s)( +" UNSIGNED " *(%s))*$", list, list);
    free(list);
    return true;
}

static json_t *written(dd_schema *schema, dd_dimension dimension)
{
    dd_buffer pattern = {0};
    bool is_whole = pattern_of(dimension, &pattern);
    char *text = dd_buffer_take(&pattern);
    json_t *value = is_whole && text != NULL ? json_pack("{s:s, s:s}", "type", "string", "pattern", text) : NULL;
    free(text);
    return keep(schema, value);
}

static json_t *quantity(dd_schema *schema, const dd_key *row)
{
    if (row->dimension != DD_NUMBER && row->dimension != DD_RATIO) return written(schema, row->dimension);
    json_t *number = keep(schema, json_pack("{s:s}", "type", "number"));
    if (!dd_is_open(row) && isfinite(row->least)) put(schema, number, "minimum", json_real(row->least));
    if (!dd_is_open(row) && isfinite(row->most)) put(schema, number, "maximum", json_real(row->most));
    return row->dimension == DD_NUMBER ? number : any_of(schema, number, written(schema, DD_RATIO));
}

static json_t *choices(dd_schema *schema, const dd_key *row)
{
    json_t *list = json_array();
    for (int i = 0; row->choices[i] != NULL; i++) append(schema, list, json_string(row->choices[i]));
    return keep(schema, json_pack("{s:o}", "enum", list));
}

static json_t *count(dd_schema *schema, const dd_key *row)
{
    json_t *whole = keep(schema, json_pack("{s:s}", "type", "integer"));
    if (!dd_is_open(row) && isfinite(row->least)) put(schema, whole, "minimum", json_integer((json_int_t)row->least));
    if (!dd_is_open(row) && isfinite(row->most)) put(schema, whole, "maximum", json_integer((json_int_t)row->most));
    return whole;
}

/* One step: its word alone, or a mapping with that one key. */
static json_t *step(dd_schema *schema, const dd_key *row, const dd_key_variant *variant)
{
    bool needs = false;
    for (const dd_key *each = variant->rows; each != NULL && each->name != NULL; each++) needs = needs || each->required;
    json_t *inner = object_of(schema, row->rows, variant->rows, NULL);
    if (!needs) inner = any_of(schema, inner, json_pack("{s:s}", "type", "null"));
    json_t *mapping = keep(schema, json_pack("{s:s, s:{s:o}, s:[s], s:b}", "type", "object", "properties", variant->name, inner,
                                             "required", variant->name, "additionalProperties", 0));
    if (variant->help != NULL) put(schema, mapping, "description", json_string(variant->help));
    return needs ? mapping : any_of(schema, mapping, json_pack("{s:s}", "const", variant->name));
}

static json_t *variants(dd_schema *schema, const dd_key *row)
{
    json_t *list = json_array();
    for (const dd_key_variant *each = row->variants; each->name != NULL; each++)
        append(schema, list,
               row->variant_is_step ? step(schema, row, each) : object_of(schema, row->rows, each->rows, each->name));
    return keep(schema, json_pack("{s:o}", "anyOf", list));
}

/* A block of keys, or for a part the name of a file. */
static json_t *block(dd_schema *schema, const dd_key *row)
{
    json_t *inner = row->variants != NULL ? variants(schema, row) : object_of(schema, row->rows, NULL, NULL);
    return row->file ? any_of(schema, json_pack("{s:s}", "type", "string"), inner) : inner;
}

static json_t *value_of(dd_schema *schema, const dd_key *row)
{
    switch (row->type) {
    case DD_KEY_QUANTITY:
        return quantity(schema, row);
    case DD_KEY_COUNT:
        return count(schema, row);
    case DD_KEY_TEXT:
        return json_pack("{s:[s, s], s:i, s:i}", "type", "string", "number", "minLength", 1, "maxLength", (int)row->size - 1);
    case DD_KEY_CHOICE:
        return choices(schema, row);
    case DD_KEY_FLAG:
        return json_pack("{s:[b, b, s, s]}", "enum", 1, 0, "yes", "no");
    case DD_KEY_QUANTITIES:
        return json_pack("{s:s, s:i, s:o}", "type", "array", "maxItems", row->capacity, "items", quantity(schema, row));
    case DD_KEY_LIST:
        return json_pack("{s:s, s:i, s:i, s:o}", "type", "array", "minItems", row->required ? 1 : 0, "maxItems", row->capacity,
                         "items",
                         dd_is_text_list(row)    ? value_of(schema, row->rows)
                         : row->variants != NULL ? variants(schema, row)
                                                 : object_of(schema, row->rows, NULL, NULL));
    case DD_KEY_BLOCK:
        return block(schema, row);
    }
    return NULL;
}

/* Help, unit and default as the description. */
static void describe(dd_schema *schema, json_t *value, const dd_key *row)
{
    char text[600], shown[DD_QUANTITY_TEXT];
    dd_text(text, sizeof text, "%s", row->help == NULL ? row->name : row->help);
    size_t used = strlen(text);
    if (row->type == DD_KEY_QUANTITY && !row->required && !isnan(row->fallback))
        dd_text(text + used, sizeof text - used, " (default %s)",
                dd_quantity_format(row->fallback, row->dimension, row->unit, shown));
    else if (row->fallback_text != NULL)
        dd_text(text + used, sizeof text - used, " (if not given: %s)", row->fallback_text);
    put(schema, value, "description", json_string(text));
}

/* An object with the keys of rows and more; kind: its `kind` must be this (NULL: it has none). */
static json_t *object_of(dd_schema *schema, const dd_key *rows, const dd_key *more, const char *kind)
{
    json_t *properties = json_object(), *required = json_array();
    if (kind != NULL) {
        put(schema, properties, "kind", json_pack("{s:s}", "const", kind));
        append(schema, required, json_string("kind"));
    }
    for (int table = 0; table < 2; table++)
        for (const dd_key *row = table == 0 ? rows : more; row != NULL && row->name != NULL; row++) {
            json_t *value = keep(schema, value_of(schema, row));
            describe(schema, value, row);
            put(schema, properties, row->name, value);
            if (row->required && !row->on_ramp) append(schema, required, json_string(row->name));
        }
    return keep(schema, json_pack("{s:s, s:o, s:o, s:b}", "type", "object", "properties", properties, "required", required,
                                  "additionalProperties", 0));
}

/* Each of the rows on the ramp needs the others. */
static json_t *needs_of(dd_schema *schema, const dd_key *rows)
{
    json_t *needs = json_object();
    for (const dd_key *row = rows; row->name != NULL; row++) {
        if (!row->on_ramp) continue;
        json_t *others = json_array();
        for (const dd_key *other = rows; other->name != NULL; other++)
            if (other->on_ramp && other != row) append(schema, others, json_string(other->name));
        put(schema, needs, row->name, others);
    }
    return keep(schema, needs);
}

/* A scenario or a part may hold `based on` and then lack keys: which ones, only the reader knows. */
static void allow_base(dd_schema *schema, json_t *object)
{
    json_t *required = json_incref(json_object_get(object, "required"));
    json_object_del(object, "required");
    put(schema, json_object_get(object, "properties"), "based on",
        json_pack("{s:s, s:s}", "type", "string", "description", "name of a file whose keys are taken where this has none"));
    put(schema, object, "anyOf", json_pack("[{s:[s]}, {s:o}]", "required", "based on", "required", required));
}

char *dd_schema_text(const dd_key *rows)
{
    dd_schema schema = {false};
    json_t *whole =
        json_pack("{s:s, s:s}", "$schema", "https://json-schema.org/draft/2020-12/schema", "title", "drawdock scenario");
    json_t *root = object_of(&schema, rows, NULL, NULL);
    json_t *properties = json_object_get(root, "properties");
    for (const dd_key *row = rows; row->name != NULL && !schema.failed; row++)
        if (row->file) /* string or object */
            allow_base(&schema, json_array_get(json_object_get(json_object_get(properties, row->name), "anyOf"), 1));
    if (!schema.failed) allow_base(&schema, root);
    if (!schema.failed)
        put(&schema, json_array_get(json_object_get(root, "anyOf"), 1), "dependentRequired", needs_of(&schema, rows));
    bool is_whole = !schema.failed && whole != NULL && json_object_update(whole, root) == 0;
    json_decref(root);
    char *text = is_whole ? dd_json_text(whole, 2, 0) : NULL;
    json_decref(whole);
    return text;
}
