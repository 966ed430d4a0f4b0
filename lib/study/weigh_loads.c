/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The load list: what is aboard in each state of loading, and what it comes to. */
#include "lib/base/numbers.h"
#include "lib/hull/lines.h"
#include "lib/study/weigh.h"
#include <math.h>
#include <string.h>

enum { ROWS = 64 };

/* A line of the list: the same thing in every state that has it. */
typedef struct line {
    char name[48];
    int occurrence;                 /* of that name within a state, from 0 */
    const dd_item *items[DD_STATES]; /* NULL: not aboard */
} line;

static int occurrence_of(const dd_state_of_loading *state, int index)
{
    int count = 0;
    for (int i = 0; i < index; i++) count += strcmp(state->items[i].item, state->items[index].item) == 0;
    return count;
}

static int gather_lines(const dd_weigh *w, line lines[ROWS])
{
    int count = 0;
    for (int s = 0; s < w->state_count; s++)
        for (int i = 0; i < w->states[s].item_count; i++) {
            const dd_item *item = &w->states[s].items[i];
            const int occurrence = occurrence_of(&w->states[s], i);
            int at = 0;
            while (at < count && (strcmp(lines[at].name, item->item) != 0 || lines[at].occurrence != occurrence)) at++;
            if (at == ROWS) continue; /* the totals have it all the same */
            if (at == count) {
                lines[count] = (line){.occurrence = occurrence};
                dd_text(lines[count++].name, sizeof lines[at].name, "%s", item->item);
            }
            lines[at].items[s] = item;
        }
    return count;
}

static void add_headings(const dd_weigh *w)
{
    dd_reporter *r = w->report;
    dd_reporter_table(r, "loads", "Load list", 0);
    dd_reporter_column(r, "item", "", 0, "what it is");
    char name[64];
    dd_text(name, sizeof name, "mass %s", w->states[0].name);
    dd_reporter_column(r, name, "kg", 1, "mass in the first state of loading");
    dd_reporter_column(r, "from transom", "m", 2, "centre, forward of the transom at the keel");
    dd_reporter_column(r, "to port", "m", 2, "centre, to port of the middle");
    dd_reporter_column(r, "height", "m", 2, "centre, above the keel at the transom");
    dd_reporter_column(r, "share", "%", 1, "share of the whole boat's mass in the first state");
    dd_reporter_column(r, "least", "kg", 1, "where the mass is an estimate: the least it may be");
    dd_reporter_column(r, "most", "kg", 1, "where the mass is an estimate: the most it may be");
    dd_reporter_column(r, "note", "", 0, "whether it is an estimate, flows, or has no place given");
    for (int s = 1; s < w->state_count; s++) {
        dd_text(name, sizeof name, "mass %s", w->states[s].name);
        dd_reporter_column(r, name, "kg", 1, "mass in this state of loading; nothing: not aboard");
    }
}

static void add_place(dd_reporter *r, dd_vec3 centre)
{
    dd_reporter_value(r, centre.x);
    dd_reporter_value(r, centre.y);
    dd_reporter_value(r, centre.z);
}

static void add_band(dd_reporter *r, const dd_estimate *band)
{
    dd_reporter_value(r, band->given ? NAN : band->low);
    dd_reporter_value(r, band->given ? NAN : band->high);
}

static void add_line(const dd_weigh *w, const line *l)
{
    dd_reporter *r = w->report;
    const dd_item *first = l->items[0], *any = NULL;
    for (int s = 0; s < w->state_count; s++) any = any == NULL ? l->items[s] : any;
    const dd_estimate mass = dd_item_estimate(first != NULL ? first : any);
    int flows = 0;
    for (int s = 0; s < w->state_count; s++) flows = flows || (l->items[s] != NULL && dd_item_free_surface(l->items[s]));
    dd_reporter_words(r, "%s", l->name[0] != '\0' ? l->name : "item without a name");
    dd_reporter_value(r, first != NULL ? mass.likely : NAN);
    add_place(r, dd_item_centre(first != NULL ? first : any, w->base.centre));
    dd_reporter_value(r, first != NULL ? mass.likely / w->states[0].boat.mass : NAN);
    add_band(r, &mass);
    dd_reporter_words(r, "%s%s%s%s%s", mass.given ? "" : "estimate", !mass.given && (flows || any->at_count == 0) ? ", " : "",
                      flows ? "free surface" : "", flows && any->at_count == 0 ? ", " : "",
                      any->at_count == 0 ? "no place given: at the boat's centre" : "");
    for (int s = 1; s < w->state_count; s++) dd_reporter_value(r, l->items[s] != NULL ? dd_item_mass(l->items[s]) : NAN);
}

/* Boat and engine as the brochure counts them; the band is what the brochure leaves open. */
static void add_boat(const dd_weigh *w, const dd_hull_estimates *estimates)
{
    dd_reporter *r = w->report;
    const double mass = w->base.mass;
    const dd_estimate band = estimates->total_mass;
    dd_reporter_words(r, "boat and engine");
    dd_reporter_value(r, mass);
    add_place(r, w->base.centre);
    dd_reporter_value(r, mass / w->states[0].boat.mass);
    add_band(r, &band);
    dd_reporter_words(r, "%s%s%s%s", w->solved.reading_count > 0 ? "by the readings" : "", band.given ? "" : "estimate", band.given || estimates->centre_from_transom.given ? "" : ", ",
                      estimates->centre_from_transom.given ? "" : "centre estimated");
    for (int s = 1; s < w->state_count; s++) dd_reporter_value(r, w->base.mass);
    if (estimates->engine_mass.likely > 0) {
        char text[DD_REPORTER_TEXT];
        dd_reporter_table_note(r, "The engine is in the boat's mass: %s, %s.",
                               dd_reporter_quantity(r, estimates->engine_mass.likely, "kg", 0, text),
                               estimates->engine_mass.given ? "as given" : "estimated by its power");
    }
}

static void add_bilge_water(const dd_weigh *w)
{
    dd_item all[DD_ABOARD + 1];
    dd_hull_parameters boat = w->scenario->boat;
    boat.item_count = 0;
    if (dd_hull_aboard(&boat, all) == 0) return;
    dd_reporter_words(w->report, "water in the bilge");
    dd_reporter_value(w->report, dd_item_mass(&all[0]));
    add_place(w->report, dd_item_centre(&all[0], w->base.centre));
    dd_reporter_value(w->report, dd_item_mass(&all[0]) / w->states[0].boat.mass);
    add_band(w->report, &(dd_estimate){.given = 1});
    dd_reporter_words(w->report, "free surface");
    for (int s = 1; s < w->state_count; s++) dd_reporter_value(w->report, dd_item_mass(&all[0]));
}

static void add_total(const dd_weigh *w)
{
    dd_reporter_words(w->report, "total");
    dd_reporter_value(w->report, w->states[0].boat.mass);
    add_place(w->report, w->states[0].boat.centre);
    dd_reporter_value(w->report, 1);
    add_band(w->report, &(dd_estimate){.given = 1});
    dd_reporter_words(w->report, "%s", "");
    for (int s = 1; s < w->state_count; s++) dd_reporter_value(w->report, w->states[s].boat.mass);
}

static void add_states(const dd_weigh *w)
{
    dd_reporter *r = w->report;
    dd_reporter_table(r, "states", "The boat in each state of loading", 0);
    dd_reporter_column(r, "state", "", 0, "as given, or the name of a loading");
    dd_reporter_column(r, "boat mass", "kg", 0, "boat, engine and all that is aboard");
    dd_reporter_column(r, "aboard", "kg", 0, "of that, what is aboard beside boat and engine");
    dd_reporter_column(r, "from transom", "m", 3, "centre of the whole, forward of the transom at the keel");
    dd_reporter_column(r, "to port", "m", 3, "centre of the whole, to port of the middle");
    dd_reporter_column(r, "height", "m", 3, "centre of the whole, above the keel at the transom");
    for (int s = 0; s < w->state_count; s++) {
        const dd_state_of_loading *state = &w->states[s];
        dd_reporter_words(r, "%s", state->name);
        dd_reporter_value(r, state->boat.mass);
        dd_reporter_value(r, state->boat.mass - w->base.mass);
        add_place(r, state->boat.centre);
    }
}

dd_status dd_weigh_loads(dd_weigh *w, dd_error *error)
{
    line lines[ROWS];
    dd_hull_estimates estimates; /* of the boat alone */
    dd_hull_parameters boat = w->scenario->boat;
    boat.item_count = 0;
    boat.water_aboard.mass = 0;
    dd_status status = dd_hull_estimate(&boat, &estimates, error);
    if (status != DD_OK) return status;
    const int count = gather_lines(w, lines);
    add_headings(w);
    add_boat(w, &estimates);
    int guesses = !estimates.total_mass.given;
    for (int i = 0; i < count; i++) {
        add_line(w, &lines[i]);
        for (int s = 0; s < w->state_count; s++) guesses = guesses || (lines[i].items[s] != NULL && !dd_item_estimate(lines[i].items[s]).given);
    }
    add_bilge_water(w);
    add_total(w);
    add_states(w);
    if (guesses)
        dd_reporter_note(w->report, "Masses marked as estimates are guesses: weigh the finished rig on a public weighbridge and give the "
                                    "readings under measured.");
    for (int i = 0; i < count; i++)
        for (int s = 0; s < w->state_count; s++)
            if (lines[i].items[s] != NULL && lines[i].items[s]->kind >= 0 && isnan(lines[i].items[s]->mass))
                dd_reporter_source(w->report, "mass conventions");
            else if (lines[i].items[s] != NULL && lines[i].items[s]->contents >= 0 && isnan(lines[i].items[s]->density))
                dd_reporter_source(w->report, "densities");
    return DD_OK;
}
