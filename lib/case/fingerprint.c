/* SPDX-License-Identifier: GPL-3.0-or-later */
/* FNV-1a over every value of a scenario in the order of its keys: bytes between the fields, and text past its end, do not count. */
#include "lib/case/show.h"
#include <string.h>

static const uint64_t start = 14695981039346656037ULL, prime = 1099511628211ULL;

static void add(uint64_t *hash, const void *bytes, size_t size)
{
    const unsigned char *byte = bytes;
    for (size_t i = 0; i < size; i++) *hash = (*hash ^ byte[i]) * prime;
}

static void add_double(uint64_t *hash, double value)
{
    if (isnan(value)) value = NAN; /* not given, whatever its bits */
    add(hash, &value, sizeof value);
}

static void add_rows(uint64_t *hash, const dd_key *rows, const char *structure);

static void add_element(uint64_t *hash, const dd_key *row, const char *element)
{
    const dd_key_variant *variant = dd_variant_at(row, element);
    if (variant != NULL) add(hash, variant->name, strlen(variant->name) + 1);
    add_rows(hash, row->rows, element);
    if (variant != NULL) add_rows(hash, variant->rows, element);
}

static void add_list(uint64_t *hash, const dd_key *row, const char *structure)
{
    const int count = dd_load_int(structure + row->count_offset);
    add(hash, &count, sizeof count);
    for (int i = 0; i < count; i++) {
        const char *each = structure + row->offset + (size_t)i * row->size;
        if (dd_is_text_list(row))
            add(hash, each, strlen(each) + 1);
        else
            add_element(hash, row, each);
    }
}

static void add_value(uint64_t *hash, const dd_key *row, const char *structure)
{
    const char *at = structure + row->offset;
    int number = 0;
    switch (row->type) {
    case DD_KEY_QUANTITY:
        add_double(hash, dd_load_double(at));
        return;
    case DD_KEY_COUNT:
    case DD_KEY_CHOICE:
    case DD_KEY_FLAG:
        number = dd_load_int(at);
        add(hash, &number, sizeof number);
        return;
    case DD_KEY_TEXT:
        add(hash, at, strlen(at) + 1);
        return;
    case DD_KEY_QUANTITIES:
        number = dd_load_int(structure + row->count_offset);
        add(hash, &number, sizeof number);
        for (int i = 0; i < number; i++) add_double(hash, dd_load_double(at + (size_t)i * sizeof(double)));
        return;
    case DD_KEY_LIST:
        add_list(hash, row, structure);
        return;
    case DD_KEY_BLOCK:
        add_element(hash, row, at);
        return;
    }
}

static void add_rows(uint64_t *hash, const dd_key *rows, const char *structure)
{
    for (const dd_key *row = rows; row != NULL && row->name != NULL; row++) add_value(hash, row, structure);
}

bool dd_case_fingerprint(const dd_case *scenario, uint64_t *fingerprint)
{
    dd_case_table table;
    if (!dd_case_table_create(&table)) return false;
    *fingerprint = start;
    add_rows(fingerprint, table.rows, (const char *)scenario);
    dd_case_table_free(&table);
    return true;
}
