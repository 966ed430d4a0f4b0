/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/case/loading.h"
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/case/node.h"
#include "lib/hull/lines.h"
#include <string.h>

#define OPEN .least = -INFINITY, .most = INFINITY

static const dd_key names_left_out[] = {{.name = "",
                                         .type = DD_KEY_TEXT,
                                         .offset = 0,
                                         .size = sizeof(((dd_loading *)0)->left_out[0]),
                                         .fallback = NAN,
                                         OPEN,
                                         .help = "name of an item of the list aboard"},
                                        {0}};

const dd_key dd_loading_keys[] = {{.name = "name",
                                   .type = DD_KEY_TEXT,
                                   .offset = offsetof(dd_loading, name),
                                   .size = sizeof(((dd_loading *)0)->name),
                                   .required = true,
                                   .fallback = NAN,
                                   OPEN,
                                   .help = "of this state: bare, as delivered, full fuel, trip home with a catch"},
                                  {.name = "empty",
                                   .type = DD_KEY_FLAG,
                                   .offset = offsetof(dd_loading, empty),
                                   .fallback = 0,
                                   .source = "the program",
                                   OPEN,
                                   .help = "yes: begins with nothing aboard, not with the scenario's list"},
                                  {.name = "leave out",
                                   .type = DD_KEY_LIST,
                                   .offset = offsetof(dd_loading, left_out),
                                   .rows = names_left_out,
                                   .size = sizeof(((dd_loading *)0)->left_out[0]),
                                   .count_offset = offsetof(dd_loading, left_out_count),
                                   .capacity = DD_LOADING_ITEMS,
                                   .fallback = NAN,
                                   OPEN,
                                   .help = "items of the scenario's list that are not aboard"},
                                  {.name = "aboard",
                                   .type = DD_KEY_LIST,
                                   .offset = offsetof(dd_loading, items),
                                   .rows = dd_item_keys,
                                   .size = sizeof(dd_item),
                                   .count_offset = offsetof(dd_loading, item_count),
                                   .capacity = DD_LOADING_ITEMS,
                                   .fallback = NAN,
                                   OPEN,
                                   .help = "items added; one of a name in the list changes that by the keys given"},
                                  {0}};

static int index_of(const dd_item *items, int count, const char *name)
{
    for (int i = 0; i < count; i++)
        if (strcmp(items[i].item, name) == 0) return i;
    return -1;
}

static void take(double *value, double change)
{
    if (isfinite(change)) *value = change;
}

static void take_int(int *value, int change)
{
    if (change >= 0) *value = change;
}

/* The way in which the change says the mass takes the place of the item's own way. */
static void change_item(dd_item *item, const dd_item *change)
{
    const bool mass = isfinite(change->mass), person = change->kind >= 0, volume = isfinite(change->volume);
    if (mass || person || volume) {
        if (!person) item->kind = -1;
        if (!mass) item->mass = NAN;
        if (!volume) item->volume = item->fill = item->density = NAN;
        if (!volume) item->contents = -1;
        item->mass_low = item->mass_high = NAN;
        item->estimate = -1;
    }
    if (change->contents >= 0) item->density = NAN;
    take(&item->mass, change->mass);
    take(&item->volume, change->volume);
    take(&item->fill, change->fill);
    take(&item->density, change->density);
    take(&item->mass_low, change->mass_low);
    take(&item->mass_high, change->mass_high);
    take_int(&item->kind, change->kind);
    take_int(&item->contents, change->contents);
    take_int(&item->count, change->count);
    take_int(&item->estimate, change->estimate);
    if (change->at_count == 0) return;
    item->at_count = change->at_count;
    memcpy(item->at, change->at, sizeof item->at);
}

static dd_status refuse(const dd_loading *loading, const char *text, const char *name, const dd_item *items, int count,
                        dd_error *error)
{
    char place[96];
    const char *names[DD_ABOARD];
    for (int i = 0; i < count; i++) names[i] = items[i].item;
    const char *near = dd_nearest(name, names, count);
    dd_text(place, sizeof place, "loadings[%s]", loading->name);
    return dd_fail(error, DD_ERROR_ARGUMENT, place, "'%s': %s%s%s%s", name, text, near == NULL || strcmp(near, name) == 0 ? "" : "; nearest: '",
                   near == NULL || strcmp(near, name) == 0 ? "" : near, near == NULL || strcmp(near, name) == 0 ? "" : "'");
}

dd_status dd_loading_items(const dd_hull_parameters *boat, const dd_loading *loading, dd_item items[DD_ABOARD], int *count,
                           dd_error *error)
{
    char message[256];
    *count = loading->empty == 1 ? 0 : boat->item_count;
    memcpy(items, boat->items, (size_t)*count * sizeof *items);
    for (int i = 0; i < loading->left_out_count; i++) {
        const int at = index_of(items, *count, loading->left_out[i]);
        if (at < 0)
            return refuse(loading, "found under leave out, expected an item that is aboard", loading->left_out[i], items, *count, error);
        (*count)--;
        memmove(&items[at], &items[at + 1], (size_t)(*count - at) * sizeof *items);
    }
    for (int i = 0; i < loading->item_count; i++) {
        const dd_item *change = &loading->items[i];
        /* Of a state that begins empty the scenario's item is meant all the same: its tank, its place. */
        const int known = index_of(boat->items, boat->item_count, change->item);
        int at = index_of(items, *count, change->item);
        if (at < 0) {
            if (*count == DD_ABOARD) return refuse(loading, "no room for it in the list", change->item, items, *count, error);
            at = (*count)++;
            items[at] = known >= 0 ? boat->items[known] : *change;
        }
        change_item(&items[at], change);
        if (!dd_item_check(&items[at], message, sizeof message)) return refuse(loading, message, change->item, items, *count - 1, error);
    }
    return DD_OK;
}
