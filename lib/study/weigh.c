/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/weigh.h"
#include "lib/study/quote.h"
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/case/loading.h"
#include "lib/hull/surface.h"
#include <drawdock/study.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The parts of the report, in its order. */
static dd_status (*const parts[])(dd_weigh *, dd_error *) = {dd_weigh_loads, dd_weigh_measured, dd_weigh_road, dd_weigh_ratings, dd_weigh_wheels, dd_weigh_coupling,
                                                              dd_weigh_rules};

/* Mass and centre of the boat with these things aboard. */
static dd_status mass_of(const dd_hull_parameters *boat, dd_mass_properties *mass, dd_error *error)
{
    dd_hull *hull;
    dd_status status = dd_hull_create(boat, &hull, error);
    if (status != DD_OK) return status;
    *mass = *dd_hull_mass(hull);
    dd_hull_free(hull);
    return DD_OK;
}

static dd_status fill_state(dd_weigh *w, dd_state_of_loading *state, dd_hull_parameters *boat, dd_error *error)
{
    boat->item_count = state->item_count;
    memcpy(boat->items, state->items, sizeof boat->items);
    dd_status status = mass_of(boat, &state->boat, error);
    if (status == DD_OK) state->centre = dd_placed_point(&w->placement, state->boat.centre);
    return status;
}

double dd_weigh_heaviest_wheel(const dd_weigh *w, const dd_state_of_loading *state)
{
    double most = 0;
    for (int i = 0; i < w->scenario->trailer.axle_count; i++)
        for (int side = 0; side < 2; side++) most = fmax(most, state->road.wheel[i][side]);
    return most;
}

static dd_status fill_states(dd_weigh *w, dd_error *error)
{
    dd_hull_parameters *boat = malloc(sizeof *boat);
    if (boat == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_weigh", "no memory for the boat");
    dd_status status = DD_OK;
    w->state_count = 1;
    dd_text(w->states[0].name, sizeof w->states[0].name, "as given");
    w->states[0].item_count = w->scenario->boat.item_count;
    memcpy(w->states[0].items, w->scenario->boat.items, sizeof w->states[0].items);
    for (int i = 0; i < w->scenario->loading_count && status == DD_OK; i++) {
        dd_state_of_loading *state = &w->states[w->state_count++];
        dd_text(state->name, sizeof state->name, "%s", w->scenario->loadings[i].name);
        status = dd_loading_items(&w->scenario->boat, &w->scenario->loadings[i], state->items, &state->item_count, error);
    }
    *boat = w->scenario->boat;
    for (int i = 0; i < w->state_count && status == DD_OK; i++) status = fill_state(w, &w->states[i], boat, error);
    boat->item_count = 0;
    boat->water_aboard.mass = 0;
    if (status == DD_OK) status = mass_of(boat, &w->base, error);
    free(boat);
    return status;
}

dd_status dd_study_weigh(const dd_case *scenario, dd_report **report, dd_error *error)
{
    *report = NULL;
    if (scenario->cookie != sizeof *scenario)
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_case: cookie", "the scenario was not filled by dd_case_defaults of this version");
    dd_weigh *w = calloc(1, sizeof *w);
    if (w == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_weigh", "no memory for the states of loading");
    w->scenario = scenario;
    w->report = dd_reporter_create(scenario->title, "weigh", scenario->rules.units == DD_REPORT_US ? DD_REPORT_US : DD_REPORT_METRIC);
    if (w->report != NULL) dd_quote(w->report, scenario);
    dd_case *corrected = scenario->measured_count > 0 ? malloc(sizeof *corrected) : NULL;
    dd_status status = w->report != NULL && (corrected != NULL || scenario->measured_count == 0)
                           ? DD_OK
                           : dd_fail(error, DD_ERROR_MEMORY, "dd_study_weigh", "no memory for the report");
    if (status == DD_OK && corrected != NULL) {
        status = dd_measured_solve(scenario, corrected, &w->solved, error);
        w->scenario = corrected;
    }
    if (status == DD_OK) status = dd_yard_place(w->scenario, &w->placement, error);
    if (status == DD_OK) status = fill_states(w, error);
    for (size_t i = 0; i < sizeof parts / sizeof parts[0] && status == DD_OK; i++)
        status = parts[i](w, error);
    if (status == DD_OK) {
        status = dd_reporter_finish(w->report, report, error);
        w->report = NULL;
    }
    dd_reporter_free(w->report);
    free(corrected);
    free(w);
    return status;
}
