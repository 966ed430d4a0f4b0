/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/base/check.h"
#include "lib/base/error.h"
#include <stdio.h>
#include <string.h>

static double load_double(const void *at)
{
    double value;
    memcpy(&value, at, sizeof value);
    return value;
}

static int load_int(const void *at)
{
    int value;
    memcpy(&value, at, sizeof value);
    return value;
}

static dd_status unset(const char *place, const dd_key *row, dd_error *error)
{
    char where[256];
    snprintf(where, sizeof where, "%s: %s", place, row->name);
    return dd_fail(error, DD_ERROR_UNSET, where, "not set: %s", row->help != NULL ? row->help : row->name);
}

static dd_status check_number(const dd_key *row, double value, const char *place, dd_error *error)
{
    if (value >= row->least && value <= row->most) return DD_OK;
    char where[256];
    snprintf(where, sizeof where, "%s: %s", place, row->name);
    return dd_fail(error, DD_ERROR_ARGUMENT, where, "found %g, expected %g to %g (SI units)", value, row->least, row->most);
}

static int choice_count(const dd_key *row)
{
    int count = 0;
    while (row->choices != NULL && row->choices[count] != NULL) count++;
    return count;
}

static const dd_key *variant_rows(const dd_key *row, int kind)
{
    if (row->variants == NULL || kind < 0) return NULL;
    for (int i = 0; row->variants[i].name != NULL; i++)
        if (i == kind) return row->variants[i].rows;
    return NULL;
}

static bool kind_exists(const dd_key *row, int kind)
{
    int count = 0;
    while (row->variants[count].name != NULL) count++;
    return kind >= 0 && kind < count;
}

static dd_status check_list(const dd_key *row, const char *structure, const char *place, dd_error *error)
{
    int count = load_int(structure + row->count_offset);
    char where[256];
    snprintf(where, sizeof where, "%s: %s", place, row->name);
    if (count < 0 || count > row->capacity)
        return dd_fail(error, DD_ERROR_ARGUMENT, where, "found %d elements, expected 0 to %d", count, row->capacity);
    if (row->required && count == 0) return unset(place, row, error);
    for (int i = 0; i < count; i++) {
        const char *element = structure + row->offset + (size_t)i * row->size;
        snprintf(where, sizeof where, "%s: %s[%d]", place, row->name, i + 1); /* from 1, as in every message */
        dd_status status = dd_key_check(row->rows, element, where, error);
        if (status == DD_OK && row->variants != NULL) {
            int kind = load_int(element + row->kind_offset);
            if (!kind_exists(row, kind))
                return dd_fail(error, DD_ERROR_ARGUMENT, where, "found kind %d, which does not exist", kind);
            status = dd_key_check(variant_rows(row, kind), element, where, error);
        }
        if (status != DD_OK) return status;
    }
    return DD_OK;
}

static dd_status check_quantities(const dd_key *row, const char *structure, const char *place, dd_error *error)
{
    int count = load_int(structure + row->count_offset);
    if (count < 0 || count > row->capacity) {
        char where[256];
        snprintf(where, sizeof where, "%s: %s", place, row->name);
        return dd_fail(error, DD_ERROR_ARGUMENT, where, "found %d values, expected 0 to %d", count, row->capacity);
    }
    if (row->required && count == 0) return unset(place, row, error);
    for (int i = 0; i < count; i++) {
        dd_status status = check_number(row, load_double(structure + row->offset + (size_t)i * sizeof(double)), place, error);
        if (status != DD_OK) return status;
    }
    return DD_OK;
}

static dd_status check_int(const dd_key *row, const char *at, const char *place, dd_error *error)
{
    int value = load_int(at);
    if (value == -1 && (row->required || !isnan(row->fallback))) return row->required ? unset(place, row, error) : DD_OK;
    if (value == -1) return DD_OK;
    if (row->type == DD_KEY_COUNT) return check_number(row, value, place, error);
    int most = row->type == DD_KEY_FLAG ? 1 : choice_count(row) - 1;
    if (value >= 0 && value <= most) return DD_OK;
    char where[256];
    snprintf(where, sizeof where, "%s: %s", place, row->name);
    return dd_fail(error, DD_ERROR_ARGUMENT, where, "found %d, expected 0 to %d", value, most);
}

static dd_status check_row(const dd_key *row, const char *structure, const char *place, dd_error *error)
{
    const char *at = structure + row->offset;
    switch (row->type) {
    case DD_KEY_QUANTITY: {
        double value = load_double(at);
        if (isnan(value)) return row->required ? unset(place, row, error) : DD_OK;
        return check_number(row, value, place, error);
    }
    case DD_KEY_COUNT:
    case DD_KEY_CHOICE:
    case DD_KEY_FLAG:
        return check_int(row, at, place, error);
    case DD_KEY_TEXT:
        return row->required && at[0] == '\0' ? unset(place, row, error) : DD_OK;
    case DD_KEY_QUANTITIES:
        return check_quantities(row, structure, place, error);
    case DD_KEY_BLOCK: {
        char where[256];
        snprintf(where, sizeof where, "%s: %s", place, row->name);
        return dd_key_check(row->rows, at, where, error);
    }
    case DD_KEY_LIST:
        return check_list(row, structure, place, error);
    }
    return DD_OK;
}

dd_status dd_key_check(const dd_key *rows, const void *structure, const char *place, dd_error *error)
{
    for (const dd_key *row = rows; row != NULL && row->name != NULL; row++) {
        dd_status status = check_row(row, structure, place, error);
        if (status != DD_OK) return status;
    }
    return DD_OK;
}

static void fill_list(const dd_key *row, char *structure)
{
    int count = load_int(structure + row->count_offset);
    for (int i = 0; i < count && i < row->capacity; i++) {
        char *element = structure + row->offset + (size_t)i * row->size;
        dd_key_fill(row->rows, element);
        if (row->variants != NULL) dd_key_fill(variant_rows(row, load_int(element + row->kind_offset)), element);
    }
}

void dd_key_fill(const dd_key *rows, void *structure)
{
    for (const dd_key *row = rows; row != NULL && row->name != NULL; row++) {
        char *at = (char *)structure + row->offset;
        bool constant = !row->required && !isnan(row->fallback);
        if (row->type == DD_KEY_BLOCK) {
            dd_key_fill(row->rows, at);
        } else if (row->type == DD_KEY_LIST) {
            fill_list(row, structure);
        } else if (row->type == DD_KEY_QUANTITY && constant && isnan(load_double(at))) {
            memcpy(at, &row->fallback, sizeof row->fallback);
        } else if ((row->type == DD_KEY_COUNT || row->type == DD_KEY_CHOICE || row->type == DD_KEY_FLAG) && constant &&
                   load_int(at) == -1) {
            int value = (int)lround(row->fallback);
            memcpy(at, &value, sizeof value);
        }
    }
}

dd_status dd_key_check_rules(const dd_key_rule *rules, const void *structure, const char *place, dd_error *error)
{
    for (const dd_key_rule *rule = rules; rule->holds != NULL; rule++) {
        char message[256] = "", where[256];
        const char *key = "";
        if (rule->holds(structure, message, sizeof message, &key)) continue;
        snprintf(where, sizeof where, "%s: %s", place, key);
        bool missing = strncmp(message, "not given", 9) == 0;
        return dd_fail(error, missing ? DD_ERROR_UNSET : DD_ERROR_ARGUMENT, where, "%s", message);
    }
    return DD_OK;
}
