/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The effective input as YAML: every value, with where it came from as a comment. Reads back to the same bits. */
#include "lib/base/numbers.h"
#include "lib/base/sources.h"
#include "lib/base/units.h"
#include "lib/case/buffer.h"
#include "lib/case/reader.h"
#include "lib/case/show.h"
#include <stdlib.h>
#include <string.h>

enum { COMMENT_COLUMN = 44 };

typedef struct dd_show {
    dd_buffer *out;
    const dd_case_file *file;
    const dd_hull_estimates *estimates; /* NULL: none */
} dd_show;

double dd_load_double(const void *at)
{
    double value;
    memcpy(&value, at, sizeof value);
    return value;
}

int dd_load_int(const void *at)
{
    int value;
    memcpy(&value, at, sizeof value);
    return value;
}

bool dd_is_text_list(const dd_key *row)
{
    return row->type == DD_KEY_LIST && row->rows != NULL && row->rows[0].name != NULL && row->rows[0].name[0] == '\0';
}

const dd_key_variant *dd_variant_at(const dd_key *row, const void *element)
{
    int kind = row->variants == NULL ? -1 : dd_load_int((const char *)element + row->kind_offset);
    for (int i = 0; kind >= 0 && row->variants[i].name != NULL; i++)
        if (i == kind) return &row->variants[i];
    return NULL;
}

static bool any_value(const dd_key *rows, const void *structure)
{
    for (const dd_key *row = rows; row != NULL && row->name != NULL; row++)
        if (dd_has_value(row, structure)) return true;
    return false;
}

bool dd_has_value(const dd_key *row, const void *structure)
{
    const char *at = (const char *)structure + row->offset;
    /* rows so marked are those of dd_case itself */
    if (row->on_ramp && !((const dd_case *)structure)->on_ramp) return false;
    switch (row->type) {
    case DD_KEY_QUANTITY:
        return isfinite(dd_load_double(at));
    case DD_KEY_COUNT:
    case DD_KEY_CHOICE:
    case DD_KEY_FLAG:
        return dd_load_int(at) >= 0;
    case DD_KEY_TEXT:
        return at[0] != '\0';
    case DD_KEY_QUANTITIES:
    case DD_KEY_LIST:
        return dd_load_int((const char *)structure + row->count_offset) > 0;
    case DD_KEY_BLOCK:
        return dd_variant_at(row, at) != NULL || any_value(row->rows, at);
    }
    return false;
}

/* Text that any YAML reader takes as a string. */
static void add_text(dd_buffer *out, const char *text)
{
    static const char plain[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";
    static const char inner[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 _()/.+-";
    static const char *const words[] = {"yes", "no", "true", "false", "null", "on", "off", "y", "n"};
    size_t length = strlen(text);
    bool is_plain = length > 0 && strchr(plain, text[0]) != NULL && strspn(text, inner) == length && text[length - 1] != ' ';
    for (size_t i = 0; is_plain && i < sizeof words / sizeof words[0]; i++) is_plain = strcmp(text, words[i]) != 0;
    if (is_plain) {
        dd_buffer_add(out, "%s", text);
        return;
    }
    dd_buffer_add(out, "\"");
    for (const char *at = text; *at != '\0'; at++) dd_buffer_add(out, "%s%c", *at == '"' || *at == '\\' ? "\\" : "", *at);
    dd_buffer_add(out, "\"");
}

static void add_quantities(dd_buffer *out, const dd_key *row, const void *structure)
{
    char text[DD_QUANTITY_TEXT];
    const char *at = (const char *)structure + row->offset;
    int count = dd_load_int((const char *)structure + row->count_offset);
    dd_buffer_add(out, "[");
    for (int i = 0; i < count; i++)
        dd_buffer_add(out, "%s%s", i == 0 ? "" : ", ",
                      dd_quantity_format(dd_load_double(at + (size_t)i * sizeof(double)), row->dimension, row->unit, text));
    dd_buffer_add(out, "]");
}

static size_t offset_of(const dd_show *show, const dd_key *row, const void *structure)
{
    return (size_t)((const char *)structure - (const char *)&show->file->scenario) + row->offset;
}

/* A value that stands on the key's line: a quantity in the unit in which it was given, if that keeps its bits. */
static void add_value(const dd_show *show, const dd_key *row, const void *structure)
{
    char text[DD_QUANTITY_TEXT];
    dd_buffer *out = show->out;
    const dd_origin *origin = dd_origin_of(&show->file->reading, offset_of(show, row, structure), row);
    const char *unit = origin != NULL && origin->unit != NULL ? origin->unit : row->unit;
    const char *at = (const char *)structure + row->offset;
    switch (row->type) {
    case DD_KEY_QUANTITY:
        dd_buffer_add(out, "%s", dd_quantity_format(dd_load_double(at), row->dimension, unit, text));
        break;
    case DD_KEY_COUNT:
        dd_buffer_add(out, "%d", dd_load_int(at));
        break;
    case DD_KEY_CHOICE:
        dd_buffer_add(out, "%s", row->choices[dd_load_int(at)]);
        break;
    case DD_KEY_FLAG:
        dd_buffer_add(out, "%s", dd_load_int(at) > 0 ? "yes" : "no");
        break;
    case DD_KEY_TEXT:
        add_text(out, at);
        break;
    case DD_KEY_QUANTITIES:
        add_quantities(out, row, structure);
        break;
    case DD_KEY_BLOCK:
    case DD_KEY_LIST:
        break;
    }
}

/* Comments --------------------------------------------------------------------------------------------------------- */

/* Text in a comment: one line, whatever a file is called. */
static void add_comment(dd_buffer *out, const char *text)
{
    for (const char *at = text; *at != '\0'; at++)
        dd_buffer_add(out, "%c", (unsigned char)*at < 0x20 || *at == 0x7F ? '?' : *at);
}

static const char *source_text(const char *key)
{
    const dd_source *source = dd_source_find(key);
    return source == NULL ? "" : source->text;
}

/* "# given: file:line" or "# default: source", at the end of the line. */
static void add_provenance(const dd_show *show, const dd_key *row, const void *structure)
{
    const dd_origin *origin = dd_origin_of(&show->file->reading, offset_of(show, row, structure), row);
    dd_buffer_pad(show->out, COMMENT_COLUMN);
    if (origin != NULL) {
        const char *name = show->file->reading.files[origin->place.file];
        dd_buffer_add(show->out, "# given: ");
        add_comment(show->out, name);
        if (origin->place.line > 0 && strncmp(name, "--with ", 7) != 0) dd_buffer_add(show->out, ":%d", origin->place.line);
    } else {
        dd_buffer_add(show->out, "# default: %s", source_text(row->source));
    }
    dd_buffer_add(show->out, "\n");
}

/* Estimates of the fields of the boat that may be left out. */
static const struct {
    size_t field, estimate;
} estimated[] = {
#define PAIR(name)                                                                                                             \
    {                                                                                                                          \
        offsetof(dd_case, boat.name), offsetof(dd_hull_estimates, name)                                                        \
    }
    PAIR(chine_beam),       PAIR(midships_deadrise),    PAIR(bow_deadrise),
    PAIR(keel_rise),        PAIR(transom_sheer_height), PAIR(midships_sheer_height),
    PAIR(bow_sheer_height), PAIR(engine_mass),          PAIR(centre_from_transom),
    PAIR(centre_height),    PAIR(roll_radius),          PAIR(pitch_radius),
    PAIR(yaw_radius),       PAIR(bow_eye_from_transom), PAIR(bow_eye_height),
    PAIR(skeg_depth)
#undef PAIR
};

static const dd_estimate *estimate_of(const dd_show *show, const dd_key *row, const void *structure)
{
    size_t offset = offset_of(show, row, structure);
    for (size_t i = 0; show->estimates != NULL && row->type == DD_KEY_QUANTITY && i < sizeof estimated / sizeof estimated[0];
         i++)
        if (estimated[i].field == offset) return (const void *)((const char *)show->estimates + estimated[i].estimate);
    return NULL;
}

static void add_estimate(dd_buffer *out, const char *name, const dd_estimate *estimate, const dd_key *row)
{
    char likely[DD_QUANTITY_TEXT], low[DD_QUANTITY_TEXT], high[DD_QUANTITY_TEXT];
    dd_quantity_round(estimate->likely, row->dimension, row->unit, 4, likely);
    dd_quantity_round(estimate->low, row->dimension, row->unit, 4, low);
    dd_quantity_round(estimate->high, row->dimension, row->unit, 4, high);
    dd_buffer_add(out, "# %s: estimate %s (%s to %s)%s%s: %s\n", name, likely, low, high,
                  row->fallback_text == NULL ? "" : ", ", row->fallback_text == NULL ? "" : row->fallback_text,
                  source_text(estimate->source));
}

/* A key that has no value: what stands for it. */
static void add_absent(const dd_show *show, const dd_key *row, const void *structure, int indent)
{
    const dd_estimate *estimate = estimate_of(show, row, structure);
    if (estimate == NULL && row->fallback_text == NULL) return;
    dd_buffer_add(show->out, "%*s", indent, "");
    if (estimate != NULL && isfinite(estimate->likely))
        add_estimate(show->out, row->name, estimate, row);
    else
        dd_buffer_add(show->out, "# %s: not given: %s\n", row->name, row->fallback_text == NULL ? "" : row->fallback_text);
}

/* Blocks and lists --------------------------------------------------------------------------------------------------- */

static void add_rows(const dd_show *show, const dd_key *rows, const void *structure, int indent);

/* "- " over the first two of the spaces that begin at start. */
static void add_dash(const dd_show *show, size_t start, int indent)
{
    if (!show->out->failed && start + (size_t)indent < show->out->length) show->out->text[start + (size_t)indent - 2] = '-';
}

static void add_element(const dd_show *show, const dd_key *row, const void *element, int indent)
{
    const dd_key_variant *variant = dd_variant_at(row, element);
    size_t start = show->out->length;
    if (row->variant_is_step && variant != NULL) {
        bool any = any_value(row->rows, element) || any_value(variant->rows, element);
        dd_buffer_add(show->out, "%*s%s%s\n", indent + 2, "", variant->name, any ? ":" : "");
        add_dash(show, start, indent + 2);
        add_rows(show, variant->rows, element, indent + 4);
        add_rows(show, row->rows, element, indent + 4);
        return;
    }
    if (variant != NULL) dd_buffer_add(show->out, "%*skind: %s\n", indent + 2, "", variant->name);
    add_rows(show, row->rows, element, indent + 2);
    if (variant != NULL) add_rows(show, variant->rows, element, indent + 2);
    add_dash(show, start, indent + 2);
}

static void add_list(const dd_show *show, const dd_key *row, const void *structure, int indent)
{
    const char *at = (const char *)structure + row->offset;
    int count = dd_load_int((const char *)structure + row->count_offset);
    if (dd_is_text_list(row)) {
        dd_buffer_add(show->out, "%*s%s: [", indent, "", row->name);
        for (int i = 0; i < count; i++) {
            dd_buffer_add(show->out, "%s", i == 0 ? "" : ", ");
            add_text(show->out, at + (size_t)i * row->size);
        }
        dd_buffer_add(show->out, "]");
        add_provenance(show, row, structure);
        return;
    }
    dd_buffer_add(show->out, "%*s%s:\n", indent, "", row->name);
    for (int i = 0; i < count; i++) add_element(show, row, at + (size_t)i * row->size, indent);
}

static void add_block(const dd_show *show, const dd_key *row, const void *structure, int indent)
{
    const char *at = (const char *)structure + row->offset;
    const dd_key_variant *variant = dd_variant_at(row, at);
    dd_buffer_add(show->out, "%*s%s:\n", indent, "", row->name);
    if (variant != NULL) dd_buffer_add(show->out, "%*skind: %s\n", indent + 2, "", variant->name);
    add_rows(show, row->rows, at, indent + 2);
    if (variant != NULL) add_rows(show, variant->rows, at, indent + 2);
}

static void add_rows(const dd_show *show, const dd_key *rows, const void *structure, int indent)
{
    for (const dd_key *row = rows; row != NULL && row->name != NULL; row++) {
        bool nested = row->type == DD_KEY_BLOCK || row->type == DD_KEY_LIST;
        if (!dd_has_value(row, structure)) {
            if (!row->on_ramp) add_absent(show, row, structure, indent);
            continue;
        }
        if (indent == 0 && nested) dd_buffer_add(show->out, "\n");
        if (row->type == DD_KEY_BLOCK) {
            add_block(show, row, structure, indent);
        } else if (row->type == DD_KEY_LIST) {
            add_list(show, row, structure, indent);
        } else {
            dd_buffer_add(show->out, "%*s%s: ", indent, "", row->name);
            add_value(show, row, structure);
            add_provenance(show, row, structure);
        }
    }
}

/* The whole mass, which is an estimate when the brochure counts less. */
static void add_total_mass(const dd_show *show)
{
    const dd_key mass = {.name = "total mass", .type = DD_KEY_QUANTITY, .dimension = DD_MASS};
    if (show->estimates == NULL || show->estimates->total_mass.given) return;
    dd_buffer_add(show->out, "\n");
    add_estimate(show->out, "boat: mass of all that is not in the list aboard", &show->estimates->total_mass, &mass);
}

char *dd_case_show(const dd_case_file *file, int as_json)
{
    if (as_json) return dd_case_json(&file->scenario, file->table.rows);
    dd_hull_estimates estimates;
    dd_buffer out = {0};
    dd_show show = {&out, file, NULL};
    if (dd_hull_estimate(&file->scenario.boat, &estimates, NULL) == DD_OK) show.estimates = &estimates;
    dd_buffer_add(&out, "# The effective input of ");
    add_comment(&out, file->reading.files[0]);
    dd_buffer_add(&out, ": every value that is used, and where it comes from.\n");
    add_rows(&show, file->table.rows, &file->scenario, 0);
    add_total_mass(&show);
    return dd_buffer_take(&out);
}
