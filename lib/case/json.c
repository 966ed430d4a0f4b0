/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The effective input as JSON, in the shape that the JSON Schema of the keys describes. */
#include "lib/base/units.h"
#include "lib/case/json_text.h"
#include "lib/case/show.h"
#include <jansson.h>

static json_t *rows_of(const dd_key *rows, const void *structure, json_t *into);

static json_t *quantity(double value, const dd_key *row)
{
    if (row->dimension == DD_NUMBER || row->dimension == DD_RATIO) return json_real(value);
    char text[DD_QUANTITY_TEXT];
    return json_string(dd_quantity_format(value, row->dimension, row->unit, text));
}

/* The list with one more; NULL, and nothing kept, when memory runs out. */
static json_t *with(json_t *list, json_t *value)
{
    if (list != NULL && value != NULL && json_array_append_new(list, value) == 0) return list;
    if (list == NULL) json_decref(value);
    json_decref(list);
    return NULL;
}

static json_t *quantities(const dd_key *row, const void *structure)
{
    const char *at = (const char *)structure + row->offset;
    int count = dd_load_int((const char *)structure + row->count_offset);
    json_t *list = json_array();
    for (int i = 0; i < count; i++) list = with(list, quantity(dd_load_double(at + (size_t)i * sizeof(double)), row));
    return list;
}

/* The object with one more key; NULL, and nothing kept, when memory runs out. */
static json_t *with_key(json_t *object, const char *key, json_t *value)
{
    if (object != NULL && value != NULL && json_object_set_new(object, key, value) == 0) return object;
    if (object == NULL) json_decref(value);
    json_decref(object);
    return NULL;
}

static json_t *element(const dd_key *row, const void *structure)
{
    const dd_key_variant *variant = dd_variant_at(row, structure);
    json_t *object = json_object();
    if (variant != NULL && !row->variant_is_step) object = with_key(object, "kind", json_string(variant->name));
    object = rows_of(row->rows, structure, object);
    if (variant != NULL) object = rows_of(variant->rows, structure, object);
    return variant == NULL || !row->variant_is_step ? object : with_key(json_object(), variant->name, object);
}

static json_t *list_of(const dd_key *row, const void *structure)
{
    const char *at = (const char *)structure + row->offset;
    int count = dd_load_int((const char *)structure + row->count_offset);
    json_t *list = json_array();
    for (int i = 0; i < count; i++) {
        const char *each = at + (size_t)i * row->size;
        list = with(list, dd_is_text_list(row) ? json_string(each) : element(row, each));
    }
    return list;
}

static json_t *value_of(const dd_key *row, const void *structure)
{
    const char *at = (const char *)structure + row->offset;
    switch (row->type) {
    case DD_KEY_QUANTITY:
        return quantity(dd_load_double(at), row);
    case DD_KEY_COUNT:
        return json_integer(dd_load_int(at));
    case DD_KEY_CHOICE:
        return json_string(row->choices[dd_load_int(at)]);
    case DD_KEY_FLAG:
        return json_boolean(dd_load_int(at) > 0);
    case DD_KEY_TEXT:
        return json_string(at);
    case DD_KEY_QUANTITIES:
        return quantities(row, structure);
    case DD_KEY_LIST:
        return list_of(row, structure);
    case DD_KEY_BLOCK:
        return element(row, at);
    }
    return NULL;
}

static json_t *rows_of(const dd_key *rows, const void *structure, json_t *into)
{
    for (const dd_key *row = rows; into != NULL && row != NULL && row->name != NULL; row++)
        if (dd_has_value(row, structure)) into = with_key(into, row->name, value_of(row, structure));
    return into;
}

char *dd_case_json(const dd_case *scenario, const dd_key *rows)
{
    json_t *root = json_object();
    root = rows_of(rows, scenario, root);
    if (root == NULL) return NULL;
    char *text = dd_json_text(root, 2, 0);
    json_decref(root);
    return text;
}
