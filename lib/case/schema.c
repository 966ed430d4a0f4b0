/* SPDX-License-Identifier: GPL-3.0-or-later */
/* JSON Schema, draft 2020-12, from the key table: for editors, and for the tests. */
#include "lib/base/numbers.h"
#include "lib/base/units.h"
#include "lib/case/buffer.h"
#include "lib/case/show.h"
#include <jansson.h>
#include <stdlib.h>
#include <string.h>

#define NUMBER "[-+]?([0-9]+\\.?[0-9]*|\\.[0-9]+)([eE][-+]?[0-9]+)?"
#define UNSIGNED "([0-9]+\\.?[0-9]*|\\.[0-9]+)([eE][-+]?[0-9]+)?"

static json_t *object_of(const dd_key *rows, const dd_key *more, const char *kind);

static json_t *text_of(const char *pattern) { return json_pack("{s:s, s:s}", "type", "string", "pattern", pattern); }

static json_t *any_of(json_t *first, json_t *second) { return json_pack("{s:[o, o]}", "anyOf", first, second); }

/* Regular expression of a quantity with its unit; false: bare numbers have none. */
static bool pattern_of(dd_dimension dimension, dd_buffer *out)
{
    int count = 0;
    dd_buffer units = {0};
    for (int i = 0; dd_unit_at(i) != NULL; i++) {
        const dd_unit *unit = dd_unit_at(i);
        if (unit->dimension != dimension || unit->spelling[0] == '\0')
            continue;
        dd_buffer_add(&units, "%s", count++ == 0 ? "" : "|");
        for (const char *at = unit->spelling; *at != '\0'; at++)
            dd_buffer_add(&units, "%s%c", strchr("^.$()[]|*+?{}\\", *at) != NULL ? "\\" : "", *at);
    }
    char *list = dd_buffer_take(&units);
    if (list == NULL)
        return false;
    if (dimension == DD_SLOPE)
        dd_buffer_add(out, "^(" NUMBER " *(%%|%s)|[-+]?" UNSIGNED " *(:|in ) *" UNSIGNED ")$", list);
    else if (dimension == DD_RATIO)
        dd_buffer_add(out, "^" NUMBER "( *%%)?$");
    else
        dd_buffer_add(out, "^" NUMBER " *(%s)( +" UNSIGNED " *(%s))*$", list, list);
    free(list);
    return true;
}

static json_t *quantity(const dd_key *row)
{
    dd_buffer pattern = {0};
    bool has_pattern = pattern_of(row->dimension, &pattern);
    char *text = dd_buffer_take(&pattern);
    json_t *written = has_pattern && text != NULL ? text_of(text) : NULL;
    free(text);
    if (row->dimension != DD_NUMBER && row->dimension != DD_RATIO)
        return written;
    json_t *number = json_pack("{s:s}", "type", "number");
    if (!dd_is_open(row) && isfinite(row->least))
        json_object_set_new(number, "minimum", json_real(row->least));
    if (!dd_is_open(row) && isfinite(row->most))
        json_object_set_new(number, "maximum", json_real(row->most));
    return written == NULL ? number : any_of(number, written);
}

static json_t *choices(const dd_key *row)
{
    json_t *list = json_array();
    for (int i = 0; row->choices[i] != NULL; i++)
        json_array_append_new(list, json_string(row->choices[i]));
    return json_pack("{s:o}", "enum", list);
}

static json_t *count(const dd_key *row)
{
    json_t *whole = json_pack("{s:s}", "type", "integer");
    if (!dd_is_open(row) && isfinite(row->least))
        json_object_set_new(whole, "minimum", json_integer((json_int_t)row->least));
    if (!dd_is_open(row) && isfinite(row->most))
        json_object_set_new(whole, "maximum", json_integer((json_int_t)row->most));
    return whole;
}

/* One step: its word alone, or a mapping with that one key. */
static json_t *step(const dd_key *row, const dd_key_variant *variant)
{
    bool needs = false;
    for (const dd_key *each = variant->rows; each != NULL && each->name != NULL; each++)
        needs = needs || each->required;
    json_t *inner = object_of(row->rows, variant->rows, NULL);
    if (!needs)
        inner = any_of(inner, json_pack("{s:s}", "type", "null"));
    json_t *mapping = json_pack("{s:s, s:{s:o}, s:[s], s:b}", "type", "object", "properties", variant->name, inner, "required", variant->name,
                                "additionalProperties", 0);
    if (variant->help != NULL)
        json_object_set_new(mapping, "description", json_string(variant->help));
    return needs ? mapping : any_of(mapping, json_pack("{s:s}", "const", variant->name));
}

static json_t *variants(const dd_key *row)
{
    json_t *list = json_array();
    for (const dd_key_variant *each = row->variants; each->name != NULL; each++)
        json_array_append_new(list, row->variant_is_step ? step(row, each) : object_of(row->rows, each->rows, each->name));
    return json_pack("{s:o}", "anyOf", list);
}

/* A block that may be left empty in the middle of a part needs none of its keys when the part has a base. */
static json_t *block(const dd_key *row)
{
    json_t *inner = row->variants != NULL ? variants(row) : object_of(row->rows, NULL, NULL);
    return row->file ? any_of(json_pack("{s:s}", "type", "string"), inner) : inner;
}

static json_t *value_of(const dd_key *row)
{
    switch (row->type) {
    case DD_KEY_QUANTITY: return quantity(row);
    case DD_KEY_COUNT: return count(row);
    case DD_KEY_TEXT: return json_pack("{s:[s, s], s:i, s:i}", "type", "string", "number", "minLength", 1, "maxLength", (int)row->size - 1);
    case DD_KEY_CHOICE: return choices(row);
    case DD_KEY_FLAG: return json_pack("{s:[b, b, s, s]}", "enum", 1, 0, "yes", "no");
    case DD_KEY_QUANTITIES: return json_pack("{s:s, s:i, s:o}", "type", "array", "maxItems", row->capacity, "items", quantity(row));
    case DD_KEY_LIST:
        return json_pack("{s:s, s:i, s:i, s:o}", "type", "array", "minItems", row->required ? 1 : 0, "maxItems", row->capacity, "items",
                         dd_is_text_list(row) ? value_of(row->rows) : row->variants != NULL ? variants(row) : object_of(row->rows, NULL, NULL));
    case DD_KEY_BLOCK: return block(row);
    }
    return NULL;
}

/* Help, unit and default as the description. */
static void describe(json_t *schema, const dd_key *row)
{
    char text[600], shown[DD_QUANTITY_TEXT];
    dd_text(text, sizeof text, "%s", row->help == NULL ? row->name : row->help);
    size_t used = strlen(text);
    if (row->type == DD_KEY_QUANTITY && !row->required && !isnan(row->fallback))
        dd_text(text + used, sizeof text - used, " (default %s)", dd_quantity_format(row->fallback, row->dimension, row->unit, shown));
    else if (row->fallback_text != NULL)
        dd_text(text + used, sizeof text - used, " (if not given: %s)", row->fallback_text);
    json_object_set_new(schema, "description", json_string(text));
}

/* An object with the keys of rows and more; kind: its `kind` must be this (NULL: it has none). */
static json_t *object_of(const dd_key *rows, const dd_key *more, const char *kind)
{
    json_t *properties = json_object(), *required = json_array();
    if (kind != NULL) {
        json_object_set_new(properties, "kind", json_pack("{s:s}", "const", kind));
        json_array_append_new(required, json_string("kind"));
    }
    for (int table = 0; table < 2; table++)
        for (const dd_key *row = table == 0 ? rows : more; row != NULL && row->name != NULL; row++) {
            json_t *value = value_of(row);
            describe(value, row);
            json_object_set_new(properties, row->name, value);
            if (row->required)
                json_array_append_new(required, json_string(row->name));
        }
    return json_pack("{s:s, s:o, s:o, s:b}", "type", "object", "properties", properties, "required", required, "additionalProperties", 0);
}

/* A scenario or a part may hold `based on` and then lack keys: which ones, only the reader knows. */
static void allow_base(json_t *object)
{
    json_t *required = json_incref(json_object_get(object, "required"));
    json_object_del(object, "required");
    json_object_set_new(json_object_get(object, "properties"), "based on",
                        json_pack("{s:s, s:s}", "type", "string", "description", "name of a file whose keys are taken where this has none"));
    json_object_set_new(object, "anyOf", json_pack("[{s:[s]}, {s:o}]", "required", "based on", "required", required));
}

char *dd_schema_text(const dd_key *rows)
{
    json_t *schema = json_pack("{s:s, s:s}", "$schema", "https://json-schema.org/draft/2020-12/schema", "title", "drawdock scenario");
    json_t *root = object_of(rows, NULL, NULL);
    json_t *properties = json_object_get(root, "properties");
    for (const dd_key *row = rows; row->name != NULL && properties != NULL; row++)
        if (row->file) /* string or object */
            allow_base(json_array_get(json_object_get(json_object_get(properties, row->name), "anyOf"), 1));
    allow_base(root);
    json_object_update(schema, root);
    json_decref(root);
    char *text = schema == NULL ? NULL : json_dumps(schema, JSON_INDENT(2) | JSON_REAL_PRECISION(17));
    json_decref(schema);
    return text;
}
