/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The reference of every key, as text. */
#include "lib/base/numbers.h"
#include "lib/base/sources.h"
#include "lib/base/units.h"
#include "lib/case/buffer.h"
#include "lib/case/show.h"
#include <string.h>

enum { PATH = 192 };

static void add_table(dd_buffer *out, const dd_key *rows, const char *path);

static void add_choices(dd_buffer *out, const char *const *choices)
{
    for (int i = 0; choices[i] != NULL; i++) dd_buffer_add(out, "%s%s", i == 0 ? "" : ", ", choices[i]);
}

/* What may stand for the key. */
static void add_kind(dd_buffer *out, const dd_key *row)
{
    char text[256];
    switch (row->type) {
    case DD_KEY_QUANTITY:
    case DD_KEY_QUANTITIES:
        dd_buffer_add(out, "%s%s", row->type == DD_KEY_QUANTITIES ? "list, each " : "", dd_dimension_name(row->dimension));
        if (dd_dimension_choices(row->dimension, text, sizeof text)[0] != '\0') dd_buffer_add(out, " in %s", text);
        break;
    case DD_KEY_COUNT:
        dd_buffer_add(out, "a whole number");
        break;
    case DD_KEY_TEXT:
        dd_buffer_add(out, "a text of at most %d bytes", (int)row->size - 1);
        break;
    case DD_KEY_CHOICE:
        add_choices(out, row->choices);
        break;
    case DD_KEY_FLAG:
        dd_buffer_add(out, "yes or no");
        break;
    case DD_KEY_BLOCK:
        dd_buffer_add(out, row->file ? "a block of keys, or the name of a file that holds them" : "a block of keys");
        break;
    case DD_KEY_LIST:
        dd_buffer_add(out, "a list of at most %d", row->capacity);
        break;
    }
}

static void add_range(dd_buffer *out, const dd_key *row)
{
    char least[DD_QUANTITY_TEXT], most[DD_QUANTITY_TEXT];
    bool numeric = row->type == DD_KEY_QUANTITY || row->type == DD_KEY_QUANTITIES || row->type == DD_KEY_COUNT;
    if (!numeric || dd_is_open(row)) return;
    dd_dimension dimension = row->type == DD_KEY_COUNT ? DD_NUMBER : row->dimension;
    dd_quantity_round(row->least, dimension, row->unit, 6, least);
    dd_quantity_round(row->most, dimension, row->unit, 6, most);
    if (isinf(row->most))
        dd_buffer_add(out, "; at least %s", least);
    else if (isinf(row->least))
        dd_buffer_add(out, "; at most %s", most);
    else if (row->least == row->most)
        dd_buffer_add(out, "; %s", least);
    else
        dd_buffer_add(out, "; %s to %s", least, most);
}

static void add_default(dd_buffer *out, const dd_key *row)
{
    char text[DD_QUANTITY_TEXT];
    const dd_source *source = dd_source_find(row->source);
    if (row->required) {
        dd_buffer_add(out, "      required%s\n", row->on_ramp ? " where boat and trailer go down a ramp" : "");
        return;
    }
    bool scalar =
        row->type == DD_KEY_QUANTITY || row->type == DD_KEY_COUNT || row->type == DD_KEY_CHOICE || row->type == DD_KEY_FLAG;
    if (scalar && !isnan(row->fallback)) {
        dd_buffer_add(out, "      default ");
        if (row->type == DD_KEY_QUANTITY)
            dd_buffer_add(out, "%s", dd_quantity_format(row->fallback, row->dimension, row->unit, text));
        else if (row->type == DD_KEY_CHOICE)
            dd_buffer_add(out, "%s", row->choices[lround(row->fallback)]);
        else if (row->type == DD_KEY_FLAG)
            dd_buffer_add(out, "%s", row->fallback > 0 ? "yes" : "no");
        else
            dd_buffer_add(out, "%d", (int)lround(row->fallback));
    } else if (row->fallback_text != NULL) {
        dd_buffer_add(out, "      if not given: %s", row->fallback_text);
    } else {
        return;
    }
    if (source != NULL) dd_buffer_add(out, " (%s: %s)", source->grade, source->text);
    dd_buffer_add(out, "\n");
}

static void add_row(dd_buffer *out, const dd_key *row)
{
    dd_buffer_add(out, "  %s\n      %s\n      ", row->name[0] == '\0' ? "(each)" : row->name,
                  row->help == NULL ? "" : row->help);
    add_kind(out, row);
    add_range(out, row);
    dd_buffer_add(out, "\n");
    add_default(out, row);
}

static void add_variants(dd_buffer *out, const dd_key *row, const char *path)
{
    char full[PATH];
    for (const dd_key_variant *each = row->variants; each != NULL && each->name != NULL; each++) {
        dd_text(full, sizeof full, row->variant_is_step ? "%s: %s" : "%s: kind: %s", path, each->name);
        dd_buffer_add(out, "\n%s\n  %s\n", full, each->help == NULL ? "" : each->help);
        add_table(out, each->rows, full);
    }
}

/* The rows of one struct under their path, then the structs inside it. */
static void add_table(dd_buffer *out, const dd_key *rows, const char *path)
{
    for (const dd_key *row = rows; row != NULL && row->name != NULL; row++) add_row(out, row);
    for (const dd_key *row = rows; row != NULL && row->name != NULL; row++) {
        char full[PATH];
        if ((row->type != DD_KEY_BLOCK && row->type != DD_KEY_LIST) || dd_is_text_list(row)) continue;
        dd_text(full, sizeof full, "%s%s%s%s", path, path[0] == '\0' ? "" : ".", row->name,
                row->type == DD_KEY_LIST ? "[]" : "");
        if (row->rows != NULL) {
            dd_buffer_add(out, "\n%s\n", full);
            add_table(out, row->rows, full);
        }
        add_variants(out, row, full);
    }
}

char *dd_case_keys(int as_schema)
{
    dd_case_table table;
    if (!dd_case_table_create(&table)) return NULL;
    char *text = NULL;
    if (as_schema) {
        text = dd_schema_text(table.rows);
    } else {
        dd_buffer out = {0};
        dd_buffer_add(&out, "Keys of a scenario file. A file named for a part, and a part itself, may also hold 'based on': "
                            "the name of a file\n"
                            "whose keys it takes where it has none of its own.\n\n");
        add_table(&out, table.rows, "");
        text = dd_buffer_take(&out);
    }
    dd_case_table_free(&table);
    return text;
}
