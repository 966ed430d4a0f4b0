/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The whole table of dd_case: the rows of the folders above joined with those of keys.c and of every force. */
#include "lib/case/case.h"
#include "lib/case/loading.h"
#include "lib/case/measured.h"
#include "lib/crew/steps.h"
#include "lib/force/force.h"
#include "lib/hull/surface.h"
#include "lib/rig/rig.h"
#include "lib/rig/rules.h"
#include "lib/shore/shore.h"
#include <stdlib.h>
#include <string.h>

static const char *const action_names[] = {"launch", "retrieve", NULL};
static const char *const tolerance_names[] = {"standard", "fine", NULL};

#define OPEN .least = -INFINITY, .most = INFINITY
#define PART(name_, field, rows_, on_ramp_, help_)                                                                                      \
    {                                                                                                                          \
        .name = name_, .type = DD_KEY_BLOCK, .offset = offsetof(dd_case, field), .rows = rows_, .file = true,                  \
        .required = true, .on_ramp = on_ramp_, .fallback = NAN, OPEN, .help = help_                                                                \
    }
#define BLOCK(name_, field, rows_, help_)                                                                                      \
    {                                                                                                                          \
        .name = name_, .type = DD_KEY_BLOCK, .offset = offsetof(dd_case, field), .rows = rows_, .fallback = NAN, OPEN,         \
        .help = help_                                                                                                          \
    }

/* Names of forces are an array of texts: one unnamed text in each element. */
static const dd_key without_rows[] = {{.name = "",
                                       .type = DD_KEY_TEXT,
                                       .offset = 0,
                                       .size = sizeof(((dd_case *)0)->without[0]),
                                       .fallback = NAN,
                                       OPEN,
                                       .help = "name of a force"},
                                      {0}};

static const dd_key case_rows[] = {
    {.name = "drawdock",
     .type = DD_KEY_COUNT,
     .offset = offsetof(dd_case, format),
     .least = 1,
     .most = 1,
     .fallback = 1,
     .required = true,
     .help = "version of the format of scenario files: 1"},
    {.name = "title",
     .type = DD_KEY_TEXT,
     .offset = offsetof(dd_case, title),
     .size = sizeof(((dd_case *)0)->title),
     .fallback = NAN,
     OPEN,
     .help = "one line for the head of the results"},
    {.name = "action",
     .type = DD_KEY_CHOICE,
     .offset = offsetof(dd_case, action),
     .choices = action_names,
     .fallback = NAN,
     OPEN,
     .required = true,
     .on_ramp = true,
     .help = "what the procedure does"},
    PART("boat", boat, dd_hull_keys, false, "the hull, by brochure figures or by measured stations"),
    PART("trailer", trailer, dd_trailer_keys, false, "the trailer with its supports, winch and bow stop"),
    PART("vehicle", vehicle, dd_vehicle_keys, false, "the vehicle that tows"),
    PART("ramp", ramp, dd_ramp_keys, true, "profile and surfaces of the ramp"),
    {.name = "water",
     .type = DD_KEY_BLOCK,
     .offset = offsetof(dd_case, water),
     .rows = dd_water_keys,
     .required = true,
     .on_ramp = true,
     .fallback = NAN,
     OPEN,
     .help = "level, kind and current"},
    {.name = "rules",
     .type = DD_KEY_BLOCK,
     .offset = offsetof(dd_case, rules),
     .rows = dd_rules_keys,
     .file = true,
     .fallback = NAN,
     OPEN,
     .help = "rules of the road, for weigh: a file, a set that comes with the program by its bare name (au: rules/au.yaml), or none"},
    {.name = "aboard",
     .type = DD_KEY_LIST,
     .offset = offsetof(dd_case, boat.items),
     .rows = dd_item_keys,
     .size = sizeof(dd_item),
     .count_offset = offsetof(dd_case, boat.item_count),
     .capacity = DD_ABOARD,
     .fallback = NAN,
     OPEN,
     .help = "what is aboard beside the boat's stated mass"},
    {.name = "loadings",
     .type = DD_KEY_LIST,
     .offset = offsetof(dd_case, loadings),
     .rows = dd_loading_keys,
     .size = sizeof(dd_loading),
     .count_offset = offsetof(dd_case, loading_count),
     .capacity = DD_LOADINGS,
     .fallback = NAN,
     OPEN,
     .help = "named states of loading that weigh shows beside the one given, each by what differs from aboard"},
    {.name = "measured",
     .type = DD_KEY_LIST,
     .offset = offsetof(dd_case, measured),
     .rows = dd_measured_keys,
     .variants = dd_measured_variants,
     .size = sizeof(dd_measured),
     .count_offset = offsetof(dd_case, measured_count),
     .kind_offset = offsetof(dd_measured, what),
     .capacity = DD_MEASURED,
     .fallback = NAN,
     OPEN,
     .help = "readings of scale and tape, from which weigh corrects the boat's mass and centre"},
    {.name = "trailer mass within",
     .type = DD_KEY_QUANTITY,
     .dimension = DD_MASS,
     .offset = offsetof(dd_case, trailer_mass_within),
     .least = 0,
     .most = 5000,
     .fallback = 0,
     .source = "the program",
     .help = "how far off the trailer's empty mass may be, either way, when the readings under measured are solved; 0: it is right"},
    BLOCK("place", place, dd_place_keys, "where the ramp is, for daylight and clock times"),
    BLOCK("start", start, dd_start_keys, "where rig and boat are at the start"),
    BLOCK("placed", placed, dd_placed_keys, "where the boat lies on the trailer, taken with a tape, for weigh"),
    BLOCK("seating", seating, dd_seating_keys, "what seat asks of the supports"),
    BLOCK("braking", braking, dd_braking_keys, "the stop, the slopes and the descent that brake computes"),
    BLOCK("skipper", skipper, dd_skipper_keys, "the person at the helm while the boat is driven on or off"),
    {.name = "procedure",
     .type = DD_KEY_LIST,
     .offset = offsetof(dd_case, steps),
     .variants = dd_step_variants,
     .variant_is_step = true,
     .size = sizeof(dd_step),
     .count_offset = offsetof(dd_case, step_count),
     .kind_offset = offsetof(dd_step, kind),
     .capacity = DD_STEPS,
     .required = true,
     .on_ramp = true,
     .fallback = NAN,
     OPEN,
     .help = "what people do, step by step"},
    BLOCK("fleet", fleet, dd_fleet_keys, "what fleet is asked: the rigs that use a ramp, and how the ramp could be changed"),
    BLOCK("limits", limits, dd_limits_keys, "thresholds of the verdict's words and of the events"),
    {.name = "gravity",
     .type = DD_KEY_QUANTITY,
     .dimension = DD_ACCELERATION,
     .offset = offsetof(dd_case, gravity),
     .least = 9,
     .most = 10,
     .fallback = 9.80665,
     .source = "standard gravity",
     .help = "acceleration of free fall"},
    {.name = "time limit",
     .type = DD_KEY_QUANTITY,
     .dimension = DD_TIME,
     .offset = offsetof(dd_case, time_limit),
     .least = 1,
     .most = 7200,
     .fallback = 600,
     .source = "the program",
     .help = "the run ends as failed when it takes longer"},
    {.name = "record interval",
     .type = DD_KEY_QUANTITY,
     .dimension = DD_TIME,
     .offset = offsetof(dd_case, record_interval),
     .least = 0.001,
     .most = 10,
     .fallback = 0.05,
     .source = "the program",
     .unit = "ms",
     .help = "between rows of the timeline"},
    {.name = "tolerance",
     .type = DD_KEY_CHOICE,
     .offset = offsetof(dd_case, tolerance),
     .choices = tolerance_names,
     .fallback = DD_TOLERANCE_STANDARD,
     .source = "the program",
     OPEN,
     .help = "of the integration"},
    {.name = "without",
     .type = DD_KEY_LIST,
     .offset = offsetof(dd_case, without),
     .rows = without_rows,
     .size = sizeof(((dd_case *)0)->without[0]),
     .count_offset = offsetof(dd_case, without_count),
     .capacity = DD_WITHOUT,
     .fallback = NAN,
     OPEN,
     .help = "forces switched off, by name, to see what they do"},
    /* the last: its rows are put in by dd_case_table_create */
    BLOCK("forces", forces, NULL, "coefficients of the forces")};
enum { CASE_ROWS = sizeof case_rows / sizeof case_rows[0] };

/* Offset of force k's coefficients in dd_case.forces; *end: of the byte after the last. */
static size_t force_offset(int force_index, size_t *end)
{
    size_t offset = 0, mine = 0;
    for (int i = 0; i < dd_force_count(); i++) {
        if (i == force_index) mine = offset;
        offset += (dd_force_at(i)->parameters_size + 15) / 16 * 16;
    }
    *end = offset;
    return mine;
}

const void *dd_case_force_parameters(const dd_case *scenario, int force_index)
{
    const dd_force_kind *kind = dd_force_at(force_index);
    if (kind == NULL || kind->parameters_size == 0) return NULL;
    size_t end, offset = force_offset(force_index, &end);
    return end <= DD_FORCE_BYTES ? scenario->forces + offset : NULL;
}

/* The boat's rows but the list of what is aboard, which a scenario has beside the boat. */
static dd_key *boat_rows(void)
{
    size_t count = 0, used = 0;
    while (dd_hull_keys[count].name != NULL) count++;
    dd_key *rows = calloc(count + 1, sizeof *rows);
    for (size_t i = 0; rows != NULL && i < count; i++)
        if (dd_hull_keys[i].offset != offsetof(dd_hull_parameters, items)) rows[used++] = dd_hull_keys[i];
    return rows;
}

bool dd_case_table_create(dd_case_table *table)
{
    int forces = dd_force_count(), used = 0;
    size_t end;
    table->rows = calloc(CASE_ROWS + 1, sizeof *table->rows);
    table->forces = calloc((size_t)forces + 1, sizeof *table->forces);
    table->boat = boat_rows();
    if (table->rows == NULL || table->forces == NULL || table->boat == NULL) {
        dd_case_table_free(table);
        return false;
    }
    memcpy(table->rows, case_rows, sizeof case_rows);
    for (int i = 0; i < forces; i++) {
        const dd_force_kind *kind = dd_force_at(i);
        size_t offset = force_offset(i, &end);
        if (kind->keys == NULL || end > DD_FORCE_BYTES) continue;
        table->forces[used++] = (dd_key){.name = kind->name,
                                         .type = DD_KEY_BLOCK,
                                         .offset = offset,
                                         .rows = kind->keys,
                                         .fallback = NAN,
                                         OPEN,
                                         .help = kind->help};
    }
    table->rows[CASE_ROWS - 1].rows = table->forces;
    for (int i = 0; i < CASE_ROWS; i++)
        if (table->rows[i].rows == dd_hull_keys) table->rows[i].rows = table->boat;
    return true;
}

void dd_case_table_free(dd_case_table *table)
{
    free(table->rows);
    free(table->forces);
    free(table->boat);
    *table = (dd_case_table){0};
}

void dd_case_copy(dd_case *to, const dd_case *from)
{
    const size_t water = offsetof(dd_case, water), after = water + sizeof from->water;
    memcpy(to, from, water);
    dd_water_copy(&to->water, &from->water);
    memcpy((char *)to + after, (const char *)from + after, sizeof *from - after);
}

void dd_case_defaults(dd_case *scenario)
{
    /* Every byte, so that equal scenarios compare equal byte by byte. */
    memset(scenario, 0, sizeof *scenario);
    dd_hull_defaults(&scenario->boat);
    dd_trailer_defaults(&scenario->trailer);
    dd_vehicle_defaults(&scenario->vehicle);
    dd_ramp_defaults(&scenario->ramp);
    dd_water_defaults(&scenario->water);
    for (int i = 0; i < CASE_ROWS; i++) {
        dd_key alone[2] = {case_rows[i], {0}};
        if ((alone[0].file && alone[0].rows != dd_rules_keys) || alone[0].rows == dd_water_keys) continue;
        dd_key_clear(alone, scenario);
        dd_key_defaults(alone, scenario);
    }
    scenario->format = 1;
    scenario->on_ramp = 1;
    for (int i = 0; i < dd_force_count(); i++) {
        void *parameters = (void *)(size_t)dd_case_force_parameters(scenario, i);
        if (parameters == NULL) continue;
        dd_key_clear(dd_force_at(i)->keys, parameters);
        dd_key_defaults(dd_force_at(i)->keys, parameters);
    }
    scenario->cookie = sizeof *scenario;
}

/* Walking -------------------------------------------------------------------------------------------------------- */

const dd_key *dd_row_of(const dd_key *rows, const dd_key *more, const char *name)
{
    for (int table = 0; table < 2; table++)
        for (const dd_key *row = table == 0 ? rows : more; row != NULL && row->name != NULL; row++)
            if (strcmp(row->name, name) == 0) return row;
    return NULL;
}

const dd_key *dd_naming_row(const dd_key *rows)
{
    for (const dd_key *row = rows; row != NULL && row->name != NULL; row++)
        if (row->type == DD_KEY_TEXT && (strcmp(row->name, "name") == 0 || strcmp(row->name, "item") == 0)) return row;
    return NULL;
}

void dd_element_defaults(const dd_key *row, const dd_key_variant *variant, void *element)
{
    dd_key_clear(row->rows, element);
    for (const dd_key_variant *each = row->variants; each != NULL && each->name != NULL; each++)
        dd_key_clear(each->rows, element);
    dd_key_defaults(row->rows, element);
    if (variant != NULL) dd_key_defaults(variant->rows, element);
}

bool dd_is_open(const dd_key *row) { return (row->least == 0 && row->most == 0) || (isinf(row->least) && isinf(row->most)); }
