/* SPDX-License-Identifier: GPL-3.0-or-later */
/* result.json; its fields are listed in fields.def. */
#include "lib/base/sources.h"
#include "lib/case/json_text.h"
#include "lib/force/force.h"
#include "lib/record/cautions.h"
#include "lib/record/fields.h"
#include "lib/record/json_values.h"
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
    case DD_VERDICT_UNCHECKED:
        return "unchecked";
    default:
        return "incomplete";
    }
}

static json_t *integer(long value) { return json_integer((json_int_t)value); }
static json_t *boolean(bool value) { return json_boolean(value); }

static json_t *margins_of(const dd_result *result, bool *failed)
{
    json_t *list = json_array();
    for (int i = 0; i < result->margin_count; i++) {
        const dd_margin *margin = &result->margins[i];
        json_t *row = json_object();
        dd_json_put(row, "name", dd_json_string(margin->name), failed);
        dd_json_put(row, "value", dd_json_number(margin->value), failed);
        dd_json_put(row, "limit", dd_json_number(margin->limit), failed);
        dd_json_put(row, "unit", dd_json_string(margin->unit), failed);
        dd_json_put(row, "share", dd_json_number(margin->share), failed);
        dd_json_put(row, "broken", boolean(margin->broken), failed);
        dd_json_put(row, "time_s", dd_json_number(margin->time), failed);
        dd_json_put(row, "source", dd_json_string(margin->source), failed);
        dd_json_put(row, "channel", dd_json_string(margin->channel), failed);
        dd_json_append(list, row, failed);
    }
    return list;
}

static json_t *events_of(const dd_result *result, bool *failed)
{
    json_t *list = json_array();
    for (int i = 0; i < result->event_count; i++) {
        const dd_event *event = &result->events[i];
        json_t *row = json_object();
        dd_json_put(row, "time_s", dd_json_number(event->time), failed);
        dd_json_put(row, "name", dd_json_string(event->name), failed);
        dd_json_put(row, "detail", dd_json_string(event->detail), failed);
        dd_json_put(row, "rig_x_m", dd_json_number(event->rig_x), failed);
        dd_json_put(row, "hub_depth_m", dd_json_number(event->hub_depth), failed);
        dd_json_put(row, "value", dd_json_number(event->value), failed);
        dd_json_put(row, "unit", dd_json_string(event->value_unit), failed);
        dd_json_append(list, row, failed);
    }
    return list;
}

static json_t *figures_of(const dd_result *result, bool *failed)
{
    json_t *list = json_array();
    for (int i = 0; i < result->figure_count; i++) {
        const dd_figure *figure = &result->figures[i];
        json_t *row = json_object();
        dd_json_put(row, "group", dd_json_string(figure->group), failed);
        dd_json_put(row, "name", dd_json_string(figure->name), failed);
        dd_json_put(row, "value", dd_json_number(figure->value), failed);
        dd_json_put(row, "unit", dd_json_string(figure->unit), failed);
        dd_json_put(row, "words", dd_json_string(figure->words), failed);
        dd_json_append(list, row, failed);
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
        dd_json_put(row, "name", dd_json_string(band->name), failed);
        dd_json_put(row, "unit", dd_json_string(band->unit), failed);
        dd_json_put(row, "low", dd_json_number(band->low), failed);
        dd_json_put(row, "likely", dd_json_number(band->likely), failed);
        dd_json_put(row, "high", dd_json_number(band->high), failed);
        dd_json_put(row, "verdict_low", dd_json_string(dd_verdict_name(band->verdict_low)), failed);
        dd_json_put(row, "verdict_high", dd_json_string(dd_verdict_name(band->verdict_high)), failed);
        dd_json_put(row, "word_low", dd_json_string(band->word_low), failed);
        dd_json_put(row, "word_high", dd_json_string(band->word_high), failed);
        dd_json_put(row, "share_low", dd_json_number(band->share_low), failed);
        dd_json_put(row, "share_high", dd_json_number(band->share_high), failed);
        dd_json_put(row, "effect", dd_json_number(band->effect), failed);
        dd_json_put(row, "decides", integer(band->decides), failed);
        dd_json_put(row, "how", dd_json_string(band->how), failed);
        dd_json_append(list, row, failed);
    }
    dd_json_put(bands, "outcome", dd_json_string(outcomes[result->bands]), failed);
    dd_json_put(bands, "sentence", dd_json_string(result->bands_sentence), failed);
    dd_json_put(bands, "figures", list, failed);
    return bands;
}

static json_t *columns_of(const dd_result *result, bool *failed)
{
    json_t *list = json_array();
    for (int i = 0; i < result->column_count; i++) {
        json_t *row = json_object();
        dd_json_put(row, "name", dd_json_string(result->columns[i].name), failed);
        dd_json_put(row, "unit", dd_json_string(result->columns[i].unit), failed);
        dd_json_put(row, "help", dd_json_string(result->columns[i].help), failed);
        dd_json_append(list, row, failed);
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
    dd_json_put(row, "key", dd_json_string(source->key), failed);
    dd_json_put(row, "grade", dd_json_string(source->grade), failed);
    dd_json_put(row, "text", dd_json_string(source->text), failed);
    dd_json_append(list, row, failed);
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
        dd_json_put(row, "name", dd_json_string(force->name), failed);
        dd_json_put(row, "work_J", dd_json_number(force->work), failed);
        dd_json_put(row, "largest_force_N", dd_json_number(force->largest_force), failed);
        dd_json_put(row, "largest_time_s", dd_json_number(force->largest_time), failed);
        dd_json_append(list, row, failed);
    }
    return list;
}

static json_t *failure_of(const dd_result *result, bool *failed)
{
    const dd_error *failure = &result->failure;
    if (failure->status == DD_OK) return json_null();
    json_t *object = json_object();
    dd_json_put(object, "what", dd_json_string(dd_status_text(failure->status)), failed);
    dd_json_put(object, "message", dd_json_string(failure->message), failed);
    dd_json_put(object, "place", dd_json_string(failure->place), failed);
    dd_json_put(object, "remedy", dd_json_string(failure->remedy), failed);
    return object;
}

static void put_head(json_t *root, const dd_result *result, bool *failed)
{
    dd_json_put(root, "drawdock", integer(DD_RESULT_FORMAT), failed);
    dd_json_put(root, "version", dd_json_string(dd_version()), failed);
    dd_json_put(root, "title", dd_json_string(result->title), failed);
    dd_json_put(root, "study", dd_json_string(result->study), failed);
    dd_json_put(root, "complete", boolean(result->verdict != DD_VERDICT_INCOMPLETE), failed);
    dd_json_put(root, "verdict", dd_json_string(dd_verdict_name(result->verdict)), failed);
    dd_json_put(root, "word", dd_json_string(result->word), failed);
    dd_json_put(root, "sentence", dd_json_string(result->sentence), failed);
}

static void put_lines(json_t *root, const dd_result *result, bool *failed)
{
    json_t *list = json_array();
    for (int i = 0; i < result->unchecked_count; i++) dd_json_append(list, dd_json_string(result->unchecked[i]), failed);
    dd_json_put(root, "unchecked", list, failed);
    list = json_array();
    for (int i = 0; i < result->assumed_count; i++) dd_json_append(list, dd_json_string(result->assumed[i]), failed);
    dd_json_put(root, "assumed", list, failed);
    list = json_array();
    for (int i = 0; dd_caution_at(i); i++)
        if (dd_caution_at(i)->where & DD_CAUTION_RAMP) dd_json_append(list, dd_json_string(dd_caution_at(i)->text), failed);
    dd_json_put(root, "cautions", list, failed);
}

static void put_numbers(json_t *root, const dd_result *result, bool *failed)
{
    json_t *ledger = json_object();
    dd_json_put(ledger, "residual", dd_json_number(result->ledger_residual), failed);
    dd_json_put(ledger, "bound", dd_json_number(result->ledger_bound), failed);
    dd_json_put(ledger, "energy_exchanged_J", dd_json_number(result->energy_exchanged), failed);
    dd_json_put(ledger, "forces", forces_of(result, failed), failed);
    dd_json_put(root, "ledger", ledger, failed);
    json_t *statistics = json_object();
    dd_json_put(statistics, "derivatives", integer(result->derivatives), failed);
    dd_json_put(statistics, "jacobians", integer(result->jacobians), failed);
    dd_json_put(statistics, "steps", integer(result->steps), failed);
    dd_json_put(root, "statistics", statistics, failed);
}

char *dd_result_json(const dd_result *result)
{
    bool failed = false;
    json_t *root = json_object();
    put_head(root, result, &failed);
    dd_json_put(root, "margins", margins_of(result, &failed), &failed);
    dd_json_put(root, "events", events_of(result, &failed), &failed);
    dd_json_put(root, "figures", figures_of(result, &failed), &failed);
    dd_json_put(root, "bands", bands_of(result, &failed), &failed);
    put_lines(root, result, &failed);
    put_numbers(root, result, &failed);
    dd_json_put(root, "failure", failure_of(result, &failed), &failed);
    dd_json_put(root, "columns", columns_of(result, &failed), &failed);
    dd_json_put(root, "rows", integer(result->row_count), &failed);
    dd_json_put(root, "sources", sources_of(result, &failed), &failed);
    char *text = failed ? NULL : dd_json_text(root, 1, 1);
    json_decref(root);
    if (text) memcpy(text + strlen(text), "\n", 2); /* the file ends with a line's end */
    return text;
}
