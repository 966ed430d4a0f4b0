/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/base/key.h"
#include <string.h>

static void store_double(void *at, double value) { memcpy(at, &value, sizeof value); }
static void store_int(void *at, int value) { memcpy(at, &value, sizeof value); }

void dd_key_clear(const dd_key *rows, void *structure)
{
    for (const dd_key *row = rows; row != NULL && row->name != NULL; row++) {
        char *at = (char *)structure + row->offset;
        switch (row->type) {
        case DD_KEY_QUANTITY:
            store_double(at, NAN);
            break;
        case DD_KEY_COUNT:
        case DD_KEY_CHOICE:
        case DD_KEY_FLAG:
            store_int(at, -1);
            break;
        case DD_KEY_TEXT:
            memset(at, 0, row->size);
            break;
        case DD_KEY_QUANTITIES:
        case DD_KEY_LIST:
            store_int((char *)structure + row->count_offset, 0);
            break;
        case DD_KEY_BLOCK:
            if (row->variants != NULL) store_int((char *)structure + row->kind_offset, -1);
            dd_key_clear(row->rows, at);
            break;
        }
    }
}

void dd_key_defaults(const dd_key *rows, void *structure)
{
    for (const dd_key *row = rows; row != NULL && row->name != NULL; row++) {
        char *at = (char *)structure + row->offset;
        if (row->type == DD_KEY_BLOCK) {
            dd_key_defaults(row->rows, at);
            continue;
        }
        if (row->required || isnan(row->fallback)) continue;
        if (row->type == DD_KEY_QUANTITY)
            store_double(at, row->fallback);
        else if (row->type == DD_KEY_COUNT || row->type == DD_KEY_CHOICE || row->type == DD_KEY_FLAG)
            store_int(at, (int)lround(row->fallback));
    }
}
