/* SPDX-License-Identifier: GPL-3.0-or-later */
/* result.json; its fields are listed in fields.def. */
#include "lib/base/sources.h"
#include "lib/case/json_text.h"
#include "lib/force/force.h"
#include "lib/record/cautions.h"
#include "lib/record/fields.h"
#include <drawdock/result.h>
#include <drawdock/version.h>
#include <jansson.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

static const dd_result_field fields[] = {
#define DD_FIELD(path, type, help) {path, type, help},
#include "lib/record/fields.def"
#undef DD_FIELD
};

const dd_result_field *dd_result_field_at(int index)
{
    if (index < 0 || index >= (int)(sizeof fields / sizeof fields[0])) return NULL;
    return &fields[index];
}

const char *dd_verdict_name(int verdict)
{
    switch (verdict) {
    case DD_VERDICT_WITHIN:
        return "within";
    case DD_VERDICT_BROKEN:
        return "broken";
    case DD_VERDICT_FAILED:
        return "failed";
    default:
        return "incomplete";
    }
}

/* NULL, which makes the whole text fail, only when memory runs out. */
static json_t *number(double value) { return isfinite(value) ? json_real(value) : json_null(); }

/* Text that is not UTF-8 keeps its ASCII part. */
static json_t *string(const char *text)
{
    json_error_t why = {0};
    json_t *value = json_pack_ex(&why, 0, "s", text);
    if (value || json_error_code(&why) != json_error_invalid_utf8) return value;
    size_t length = strlen(text);
    char *plain = malloc(length + 1);
    if (!plain) return NULL;
    for (size_t i = 0; i <= length; i++) plain[i] = (unsigned char)text[i] < 0x80 ? text[i] : '?';
    value = json_string(plain);
    free(plain);
    return value;
}

static json_t *integer(long value) { return json_integer((json_int_t)value); }
static json_t *boolean(bool value) { return json_boolean(value); }

/* Sets a field; a NULL value (memory ran out) sets *failed. */
static void put(json_t *object, const char *key, json_t *value, bool *failed)
{
    if (json_object_set_new_nocheck(object, key, value) != 0) *failed = true;
}

static void append(json_t *list, json_t *value, bool *failed)
{
    if (json_array_append_new(list, value) != 0) *failed = true;
}

static json_t *margins_of(const dd_result *result, bool *failed)
{
    json_t *list = json_array();
    for (int i = 0; i < result->margin_count; i++) {
        const dd_margin *margin = &result->margins[i];
        json_t *row = json_object();
        put(row, "name", string(margin->name), failed);
        put(row, "value", number(margin->value), failed);
        put(row, "limit", number(margin->limit), failed);
        put(row, "unit", string(margin->unit), failed);
        put(row, "share", number(margin->share), failed);
        put(row, "broken", boolean(margin->broken), failed);
        put(row, "time_s", number(margin->time), failed);
        put(row, "source", string(margin->source), failed);
        put(row, "channel", string(margin->channel), failed);
        append(list, row, failed);
    }
    return list;
}

static json_t *events_of(const dd_result *result, bool *failed)
{
    json_t *list = json_array();
    for (int i = 0; i < result->event_count; i++) {
        const dd_event *event = &result->events[i];
        json_t *row = json_object();
        put(row, "time_s", number(event->time), failed);
        put(row, "name", string(event->name), failed);
        put(row, "detail", string(event->detail), failed);
        put(row, "rig_x_m", number(event->rig_x), failed);
        put(row, "hub_depth_m", number(event->hub_depth), failed);
        put(row, "value", number(event->value), failed);
        put(row, "unit", string(event->value_unit), failed);
        append(list, row, failed);
    }
    return list;
}

static json_t *figures_of(const dd_result *result, bool *failed)
{
    json_t *list = json_array();
    for (int i = 0; i < result->figure_count; i++) {
        const dd_figure *figure = &result->figures[i];
        json_t *row = json_object();
        put(row, "group", string(figure->group), failed);
        put(row, "name", string(figure->name), failed);
        put(row, "value", number(figure->value), failed);
        put(row, "unit", string(figure->unit), failed);
        put(row, "words", string(figure->words), failed);
        append(list, row, failed);
    }
    return list;
}

static json_t *bands_of(const dd_result *result, bool *failed)
{
    static const char *const outcomes[] = {"not run", "hold", "decide"};
    json_t *bands = json_object(), *list = json_array();
    for (int i = 0; i < result->band_count; i++) {
        const dd_band *band = &result->band[i];
        json_t *row = json_object();
        put(row, "name", string(band->name), failed);
        put(row, "unit", string(band->unit), failed);
        put(row, "low", number(band->low), failed);
        put(row, "likely", number(band->likely), failed);
        put(row, "high", number(band->high), failed);
        put(row, "verdict_low", string(dd_verdict_name(band->verdict_low)), failed);
        put(row, "verdict_high", string(dd_verdict_name(band->verdict_high)), failed);
        put(row, "word_low", string(band->word_low), failed);
        put(row, "word_high", string(band->word_high), failed);
        put(row, "share_low", number(band->share_low), failed);
        put(row, "share_high", number(band->share_high), failed);
        put(row, "effect", number(band->effect), failed);
        put(row, "decides", integer(band->decides), failed);
        put(row, "how", string(band->how), failed);
        append(list, row, failed);
    }
    put(bands, "outcome", string(outcomes[result->bands]), failed);
    put(bands, "sentence", string(result->bands_sentence), failed);
    put(bands, "figures", list, failed);
    return bands;
}

static json_t *columns_of(const dd_result *result, bool *failed)
{
    json_t *list = json_array();
    for (int i = 0; i < result->column_count; i++) {
        json_t *row = json_object();
        put(row, "name", string(result->columns[i].name), failed);
        put(row, "unit", string(result->columns[i].unit), failed);
        put(row, "help", string(result->columns[i].help), failed);
        append(list, row, failed);
    }
    return list;
}

/* A source, once, if the list of sources has it. */
static void add_source(json_t *list, const char *key, bool *failed)
{
    const dd_source *source = dd_source_find(key);
    if (!source) return;
    for (size_t i = 0; i < json_array_size(list); i++) {
        const char *there = json_string_value(json_object_get(json_array_get(list, i), "key"));
        if (there && strcmp(there, source->key) == 0) return;
    }
    json_t *row = json_object();
    put(row, "key", string(source->key), failed);
    put(row, "grade", string(source->grade), failed);
    put(row, "text", string(source->text), failed);
    append(list, row, failed);
}

/* What the limits and the forces of this run rest on. */
static json_t *sources_of(const dd_result *result, bool *failed)
{
    json_t *list = json_array();
    for (int i = 0; i < result->margin_count; i++) add_source(list, result->margins[i].source, failed);
    for (int i = 0; i < result->force_count; i++)
        for (int f = 0; f < dd_force_count(); f++) {
            const dd_force_kind *kind = dd_force_at(f);
            if (strcmp(kind->name, result->forces[i].name) != 0) continue;
            for (int k = 0; kind->sources && kind->sources[k]; k++) add_source(list, kind->sources[k], failed);
        }
    return list;
}

static json_t *forces_of(const dd_result *result, bool *failed)
{
    json_t *list = json_array();
    for (int i = 0; i < result->force_count; i++) {
        const dd_force_figures *force = &result->forces[i];
        json_t *row = json_object();
        put(row, "name", string(force->name), failed);
        put(row, "work_J", number(force->work), failed);
        put(row, "largest_force_N", number(force->largest_force), failed);
        put(row, "largest_time_s", number(force->largest_time), failed);
        append(list, row, failed);
    }
    return list;
}

static json_t *failure_of(const dd_result *result, bool *failed)
{
    const dd_error *failure = &result->failure;
    if (failure->status == DD_OK) return json_null();
    json_t *object = json_object();
    put(object, "what", string(dd_status_text(failure->status)), failed);
    put(object, "message", string(failure->message), failed);
    put(object, "place", string(failure->place), failed);
    put(object, "remedy", string(failure->remedy), failed);
    return object;
}

static void put_head(json_t *root, const dd_result *result, bool *failed)
{
    put(root, "drawdock", integer(DD_RESULT_FORMAT), failed);
    put(root, "version", string(dd_version()), failed);
    put(root, "title", string(result->title), failed);
    put(root, "study", string(result->study), failed);
    put(root, "complete", boolean(result->verdict != DD_VERDICT_INCOMPLETE), failed);
    put(root, "verdict", string(dd_verdict_name(result->verdict)), failed);
    put(root, "word", string(result->word), failed);
    put(root, "sentence", string(result->sentence), failed);
}

static void put_lines(json_t *root, const dd_result *result, bool *failed)
{
    json_t *list = json_array();
    for (int i = 0; i < result->unchecked_count; i++) append(list, string(result->unchecked[i]), failed);
    put(root, "unchecked", list, failed);
    list = json_array();
    for (int i = 0; i < result->assumed_count; i++) append(list, string(result->assumed[i]), failed);
    put(root, "assumed", list, failed);
    list = json_array();
    for (int i = 0; dd_caution_at(i); i++) append(list, string(dd_caution_at(i)->text), failed);
    put(root, "cautions", list, failed);
}

static void put_numbers(json_t *root, const dd_result *result, bool *failed)
{
    json_t *ledger = json_object();
    put(ledger, "residual", number(result->ledger_residual), failed);
    put(ledger, "bound", number(result->ledger_bound), failed);
    put(ledger, "energy_exchanged_J", number(result->energy_exchanged), failed);
    put(ledger, "forces", forces_of(result, failed), failed);
    put(root, "ledger", ledger, failed);
    json_t *statistics = json_object();
    put(statistics, "derivatives", integer(result->derivatives), failed);
    put(statistics, "jacobians", integer(result->jacobians), failed);
    put(statistics, "steps", integer(result->steps), failed);
    put(root, "statistics", statistics, failed);
}

char *dd_result_json(const dd_result *result)
{
    bool failed = false;
    json_t *root = json_object();
    put_head(root, result, &failed);
    put(root, "margins", margins_of(result, &failed), &failed);
    put(root, "events", events_of(result, &failed), &failed);
    put(root, "figures", figures_of(result, &failed), &failed);
    put(root, "bands", bands_of(result, &failed), &failed);
    put_lines(root, result, &failed);
    put_numbers(root, result, &failed);
    put(root, "failure", failure_of(result, &failed), &failed);
    put(root, "columns", columns_of(result, &failed), &failed);
    put(root, "rows", integer(result->row_count), &failed);
    put(root, "sources", sources_of(result, &failed), &failed);
    char *text = failed ? NULL : dd_json_text(root, 1, 1);
    json_decref(root);
    if (text) memcpy(text + strlen(text), "\n", 2); /* the file ends with a line's end */
    return text;
}
