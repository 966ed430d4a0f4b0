/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The load on the coupling: what is asked of it, by whom, and how far axles or boat move to get there. */
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/rig/rig.h"
#include "lib/rig/rules.h"
#include "lib/study/coupling.h"
#include "lib/study/weigh.h"
#include <math.h>
#include <stdlib.h>

#define BOATS "coupling share, boats"
static const double least_share = 0.05, wanted_share = 0.07, most_share = 0.15;
enum { STEPS = 20 };

/* Advisers disagree, so each is a line of its own. share of the whole trailer. What the law asks stands
   in the rule set. */
static const struct target {
    const char *words;
    double share;
    const char *source;
} targets[] = {
    {"5 %: boats, on two axles; least of most advice", 0.05, BOATS},
    {"6 %: boats, on one axle", 0.06, BOATS},
    {"7 %: boats, middle of the advice", 0.07, BOATS},
    {"10 %: most for boats, least for trailers in general", 0.10, "coupling share, trailers"},
    {"15 %: most for trailers in general", 0.15, "coupling share, trailers"},
};

/* A state with the axles or the boat forward of where they are, or the ball above where it is, m. */
typedef struct moved {
    double axles, boat, ball;
} moved;

/* NaN: it cannot stand like that. */
static double coupling_at(const dd_weigh *w, const dd_state_of_loading *s, moved by)
{
    dd_trailer_parameters trailer = w->scenario->trailer;
    dd_vehicle_parameters vehicle = w->scenario->vehicle;
    dd_road_loads loads;
    vehicle.coupling_height += by.ball;
    dd_trailer_complete(&trailer); /* its own centre, if estimated by the axles, is that of where they are now */
    dd_trailer_carry_axles(&trailer, -by.axles);
    dd_vec3 centre = s->centre;
    for (int i = 0; i < trailer.axle_count; i++) trailer.axles[i].behind_coupling -= by.axles;
    centre.x -= by.boat;
    if (dd_road_statics(&vehicle, &trailer, s->boat.mass, centre, w->scenario->gravity, &loads, NULL) != DD_OK) return NAN;
    return loads.coupling;
}

static double reach_of(const dd_weigh *w, const dd_state_of_loading *s)
{
    double moment = 0;
    for (int i = 0; i < w->scenario->trailer.axle_count; i++) moment += s->road.axle[i] * w->scenario->trailer.axles[i].behind_coupling;
    return moment / s->road.axle_group;
}

/* The level trailer's closed form first; springs and a nose that is not level move it by a little, found by the secant. */
static double forward_for(const dd_weigh *w, const dd_state_of_loading *s, double target, bool axles)
{
    const double g = w->scenario->gravity, reach = reach_of(w, s), aggregate = s->road.aggregate_mass * g;
    double from = 0, by = s->road.coupling - target;
    double at = axles ? dd_axle_forward(aggregate, s->road.coupling, reach, target) : dd_load_forward(s->road.coupling, reach, s->boat.mass * g, target);
    for (int i = 0; i < STEPS && isfinite(at); i++) {
        const double off = coupling_at(w, s, (moved){.axles = axles ? at : 0, .boat = axles ? 0 : at}) - target;
        if (fabs(off) < 1e-6 || fabs(at - from) < 1e-12) return at;
        const double next = at - off * (at - from) / (off - by);
        from = at;
        by = off;
        at = next;
    }
    return NAN;
}

static void add_target(const dd_weigh *w, const char *words, double load, const char *who)
{
    const dd_state_of_loading *s = &w->states[0];
    const double g = w->scenario->gravity;
    dd_reporter_words(w->report, "%s", words);
    dd_reporter_value(w->report, load / s->road.aggregate_mass);
    dd_reporter_value(w->report, load);
    dd_reporter_value(w->report, load - s->road.coupling / g);
    dd_reporter_value(w->report, forward_for(w, s, load * g, true));
    dd_reporter_value(w->report, forward_for(w, s, load * g, false));
    dd_reporter_words(w->report, "%s", who);
}

/* What the rule set asks of the coupling load of this trailer. A limit that needs a figure which is not given is a check that is not made
   (weigh_rules.c). */
static void add_law(const dd_weigh *w)
{
    const dd_rules *rules = &w->scenario->rules;
    const dd_rule *all[2 * DD_RULES];
    const int count = dd_rules_all(rules, all);
    const dd_rule_figures figures = dd_rule_figures_of(&w->scenario->vehicle, &w->scenario->trailer, &w->states[0].road, w->scenario->gravity);
    for (int i = 0; i < count; i++) {
        char missing[96], words[240];
        if (all[i]->limit_of != DD_BASIS_COUPLING || dd_rule_applies(all[i], &figures, missing, sizeof missing) != DD_RULE_APPLIES) continue;
        const double limit = dd_mass_limit_value(&all[i]->limit, &figures, missing, sizeof missing);
        dd_text(words, sizeof words, "%s, %s: at %s", rules->title, all[i]->instrument, all[i]->limit_kind == DD_LIMIT_LEAST ? "least" : "most");
        if (isfinite(limit)) add_target(w, words, limit, "law");
    }
}

/* Where the boat's transom stands against the last roller: what moving it forward uses up. NaN: no rollers, or none that can be
   placed: the boat's place was then given. */
static dd_status overhang(const dd_weigh *w, double *past, dd_error *error)
{
    dd_rig *rig = NULL;
    dd_error why = {.status = DD_OK};
    double last = -INFINITY;
    *past = NAN;
    if (dd_rig_create(&w->scenario->vehicle, &w->scenario->trailer, &rig, &why) == DD_ERROR_MEMORY)
        return dd_fail(error, DD_ERROR_MEMORY, why.place, "%s", why.message);
    if (rig == NULL) return DD_OK;
    for (int i = 0; i < rig->roller_count; i++) last = fmax(last, rig->rollers[i].centre.x);
    dd_rig_free(rig);
    if (isfinite(last)) *past = w->placement.origin.x - last;
    return DD_OK;
}

static dd_status add_targets(const dd_weigh *w, dd_error *error)
{
    dd_reporter *r = w->report;
    const dd_state_of_loading *s = &w->states[0];
    const dd_trailer_parameters *t = &w->scenario->trailer;
    dd_reporter_table(r, "coupling", "What is asked of the coupling load, and what reaches it", 0);
    dd_reporter_column(r, "target", "", 0, "advice, law and ratings disagree: each is a line");
    dd_reporter_column(r, "share", "%", 1, "of the whole trailer");
    dd_reporter_column(r, "load", "kg", 0, "on the coupling");
    dd_reporter_column(r, "to go", "kg", 0, "above the present load; below 0: less is asked");
    dd_reporter_column(r, "axles forward", "mm", 0, "by so much with the boat left where it is; below 0: aft");
    dd_reporter_column(r, "boat and post forward", "mm", 0, "by so much with the axles left; below 0: aft");
    dd_reporter_column(r, "grade", "", 0, "what the line rests on");
    if (isnan(t->axles[0].mass))
        dd_reporter_assumed(r, "axles that are shifted leave the trailer's centre where it is: give their own mass (trailer.axles.mass)");
    for (size_t i = 0; i < sizeof targets / sizeof targets[0]; i++) {
        add_target(w, targets[i].words, targets[i].share * s->road.aggregate_mass, "advice");
        dd_reporter_source(r, targets[i].source);
    }
    add_law(w);
    if (isfinite(t->coupling_rating)) add_target(w, "coupling's rating: at most", t->coupling_rating / w->scenario->gravity, "plate");
    if (isfinite(w->scenario->vehicle.tow_ball_rating)) add_target(w, "tow ball's rating: at most", w->scenario->vehicle.tow_ball_rating, "plate");
    double past;
    char text[DD_REPORTER_TEXT];
    dd_status status = overhang(w, &past, error);
    if (isfinite(past))
        dd_reporter_table_note(r, "State: %s. The transom stands %s %s the last roller's middle; a transom that hangs over is bent by its engine.", s->name,
                               dd_reporter_quantity(r, fabs(past), "mm", 0, text), past > 0 ? "behind" : "ahead of");
    return status;
}

static void add_move(const dd_weigh *w, const char *words, double mass, double load)
{
    const dd_state_of_loading *s = &w->states[0];
    const double g = w->scenario->gravity;
    dd_reporter_words(w->report, "%s", words);
    dd_reporter_value(w->report, load / g);
    dd_reporter_value(w->report, (load - s->road.coupling) / g);
    dd_reporter_value(w->report, load / (g * (w->scenario->trailer.mass + mass)));
}

/* A tank filled to another share. */
static void add_tank(const dd_weigh *w, const dd_item *tank, double fill)
{
    const dd_state_of_loading *s = &w->states[0];
    dd_state_of_loading changed = *s;
    char words[96];
    const double more = dd_item_mass_filled(tank, fill) - dd_item_mass(tank);
    const dd_vec3 at = dd_placed_point(&w->placement, dd_item_centre(tank, w->base.centre));
    changed.boat.mass = s->boat.mass + more;
    changed.centre = dd_scale(1 / changed.boat.mass, dd_add(dd_scale(s->boat.mass, s->centre), dd_scale(more, at)));
    dd_text(words, sizeof words, "%s: %s", tank->item, fill > 0 ? "full" : "empty");
    add_move(w, words, changed.boat.mass, coupling_at(w, &changed, (moved){0}));
}

static void add_moves(const dd_weigh *w)
{
    dd_reporter *r = w->report;
    const dd_state_of_loading *s = &w->states[0];
    const double g = w->scenario->gravity;
    char one[DD_REPORTER_TEXT], all[DD_REPORTER_TEXT], cost[DD_REPORTER_TEXT], words[96];
    dd_reporter_table(r, "moves", "What moves the coupling load", 0);
    dd_reporter_column(r, "change", "", 0, "of the first state of loading");
    dd_reporter_column(r, "coupling", "kg", 0, "load on the coupling then");
    dd_reporter_column(r, "change of load", "kg", 1, "against the load as it is");
    dd_reporter_column(r, "share", "%", 1, "of the whole trailer");
    add_move(w, "as it is", s->boat.mass, s->road.coupling);
    for (int i = 0; i < s->item_count; i++) {
        if (!isfinite(s->items[i].volume)) continue;
        add_tank(w, &s->items[i], 0);
        add_tank(w, &s->items[i], dd_tank_full);
    }
    for (int i = 1; i <= 2; i++) {
        dd_text(words, sizeof words, "boat %s short of home", dd_reporter_quantity(r, 0.1 * i, "mm", 0, one));
        add_move(w, words, s->boat.mass, coupling_at(w, s, (moved){.boat = -0.1 * i}));
    }
    dd_text(words, sizeof words, "ball %s lower", dd_reporter_quantity(r, 0.1, "mm", 0, one));
    add_move(w, words, s->boat.mass, coupling_at(w, s, (moved){.ball = -0.1}));
    const double nothing = -forward_for(w, s, 0, false);
    if (s->road.coupling > 0 && isfinite(nothing))
        dd_reporter_table_note(r, "%s short of home nothing is left on the coupling; each %s costs %s.",
                               dd_reporter_quantity(r, nothing, "mm", 0, all), dd_reporter_quantity(r, 0.01, "mm", 0, one),
                               dd_reporter_quantity(r, 0.01 * s->road.coupling / (g * nothing), "kg", 1, cost));
}

static void add_check(const dd_weigh *w, const dd_state_of_loading *s, const char *name, double value, double limit, const char *unit, int least,
                      int outcome, const char *words)
{
    const char *source = outcome == DD_CHECK_CAUTION ? (least ? BOATS : "coupling share, trailers") : "elementary mechanics";
    dd_check check = dd_check_of("coupling", s->name, value, limit, unit, source, "%s", name);
    check.least = least;
    check.outcome = outcome;
    if (least ? value < limit : value > limit) dd_text(check.words, sizeof check.words, "%s", words);
    dd_reporter_check(w->report, &check);
}

/* "axles 120 mm forward, or boat and post 90 mm forward" */
static void say_remedy(const dd_weigh *w, const dd_state_of_loading *s, double share, char *text, size_t size)
{
    const double g = w->scenario->gravity, target = share * s->road.aggregate_mass * g, axles = forward_for(w, s, target, true),
                 boat = forward_for(w, s, target, false);
    char by[2][DD_REPORTER_TEXT];
    text[0] = '\0';
    if (!isfinite(axles) || !isfinite(boat)) return;
    dd_text(text, size, "for %.0f %%: axles %s %s, or boat and post %s %s, or things aboard moved", 100 * share,
            dd_reporter_quantity(w->report, fabs(axles), "mm", 0, by[0]), axles > 0 ? "forward" : "aft",
            dd_reporter_quantity(w->report, fabs(boat), "mm", 0, by[1]), boat > 0 ? "forward" : "aft");
}

static void add_checks(const dd_weigh *w)
{
    const double g = w->scenario->gravity;
    for (int i = 0; i < w->state_count; i++) {
        const dd_state_of_loading *s = &w->states[i];
        const double share = s->road.coupling / (s->road.aggregate_mass * g);
        char remedy[200], words[400];
        say_remedy(w, s, wanted_share, remedy, sizeof remedy);
        dd_text(words, sizeof words, "the drawbar lifts: the trailer takes weight off the vehicle's driven or steered end and swings; %s", remedy);
        add_check(w, s, "load on the coupling", s->road.coupling / g, 0, "kg", 1, 0, words);
        dd_text(words, sizeof words, "a trailer with so little on its coupling may swing at speed; %s", remedy);
        add_check(w, s, "coupling share against swinging", share, least_share, "%", 1, DD_CHECK_CAUTION, words);
        dd_text(words, sizeof words, "more than any advice: the vehicle's front end grows light; %s", remedy);
        add_check(w, s, "coupling share", share, most_share, "%", 0, DD_CHECK_CAUTION, words);
    }
}

dd_status dd_weigh_coupling(dd_weigh *w, dd_error *error)
{
    dd_status status = add_targets(w, error);
    if (status != DD_OK) return status;
    add_moves(w);
    add_checks(w);
    return DD_OK;
}
