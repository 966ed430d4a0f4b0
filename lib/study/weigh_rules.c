/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Brake class by the rule set in every state of loading, what is required against what is fitted, how far the next threshold is. */
#include "lib/base/numbers.h"
#include "lib/hull/lines.h"
#include "lib/rig/rules.h"
#include "lib/study/weigh.h"
#include <math.h>
#include <string.h>

enum { WORDS = 400 };

static dd_rule_figures figures_of(const dd_weigh *w, const dd_state_of_loading *s)
{
    return dd_rule_figures_of(&w->scenario->vehicle, &w->scenario->trailer, &s->road, w->scenario->gravity);
}

static const char *word_of(const dd_rules *rules, int basis)
{
    if (basis == DD_BASIS_GTM && rules->words_gtm[0] != '\0') return rules->words_gtm;
    if (basis <= DD_BASIS_GROSS && basis != DD_BASIS_GTM && rules->words_aggregate[0] != '\0') return rules->words_aggregate;
    return dd_basis_names[basis];
}

/* How much of the mass of an item this basis feels: on the axles its share by its place, elsewhere all of it. */
static double felt(const dd_weigh *w, const dd_state_of_loading *s, int basis, const dd_item *item)
{
    const dd_trailer_parameters *t = &w->scenario->trailer;
    double mean = 0;
    if (basis != DD_BASIS_GTM) return 1;
    for (int i = 0; i < t->axle_count; i++) mean += s->road.axle[i] * t->axles[i].behind_coupling;
    mean /= s->road.axle_group;
    return dd_placed_point(&w->placement, dd_item_centre(item, w->base.centre)).x / mean;
}

/* "62 L of fuel" or "46 kg of gear": so much of the item as moves the basis by mass. */
static void amount_of(const dd_weigh *w, const dd_item *item, double mass, char text[WORDS])
{
    char amount[DD_REPORTER_TEXT];
    const double aboard = dd_item_mass(item), volume = item->volume * item->fill;
    if (volume > 0 && aboard > 0)
        dd_reporter_quantity(w->report, mass * volume / aboard, "L", 0, amount);
    else
        dd_reporter_quantity(w->report, mass, "kg", 0, amount);
    dd_text(text, WORDS, "%s of %s", amount, item->item);
}

/* The item that tips the class: over the threshold the smallest that alone takes the mass back under it, under the threshold the
   tank with the least room that fills it up past it. false: none does. */
static bool tipping(const dd_weigh *w, const dd_state_of_loading *s, int basis, double change, char text[WORDS])
{
    const dd_item *best = NULL;
    double least = INFINITY, needed = 0;
    for (int i = 0; i < s->item_count; i++) {
        const dd_item *item = &s->items[i];
        const double mass = dd_item_mass(item), share = felt(w, s, basis, item), need = fabs(change) / share;
        const double room = change < 0 ? mass : item->volume > 0 && item->fill > 0 ? mass * (1 / item->fill - 1) : 0;
        if (!(share > 0) || room < need || room >= least) continue;
        best = item;
        least = room;
        needed = need;
    }
    if (best == NULL) return false;
    amount_of(w, best, needed, text);
    return true;
}

static void distance_words(const dd_weigh *w, const dd_state_of_loading *s, int basis, double change, char text[WORDS])
{
    char item[WORDS];
    text[0] = '\0';
    if (isnan(change) || !tipping(w, s, basis, change, item)) return;
    dd_text(text, WORDS, change < 0 ? "%.120s over the class below" : "%.120s below the next class", item);
    dd_reporter_note(w->report, "%s: %s", s->name, text);
}

/* s: NULL: by the plates. */
static void add_class(const dd_weigh *w, const dd_state_of_loading *s, const dd_rule_figures *f, const dd_required *need)
{
    dd_reporter *r = w->report;
    const dd_rules *rules = &w->scenario->rules;
    const dd_rule *rule = need->brakes;
    const int basis = rule == NULL ? DD_BASIS_LADEN : rule->basis;
    double next, last;
    char words[WORDS], under[WORDS];
    dd_rules_thresholds(rules, f, basis, &next, &last);
    const bool plate = s == NULL || (basis == DD_BASIS_MAXIMUM && !isnan(w->scenario->trailer.aggregate_mass_rating));
    dd_reporter_words(r, "%s", s == NULL ? "by its plates" : s->name);
    dd_reporter_words(r, "%s", rule == NULL ? "not said" : dd_brakes_names[rule->brakes]);
    dd_reporter_words(r, "%s", rule == NULL ? "" : rule->name);
    dd_reporter_words(r, "%s%s", word_of(rules, basis), plate ? " (plate)" : "");
    dd_reporter_value(r, f->basis[basis]);
    dd_reporter_value(r, next - f->basis[basis]);
    dd_reporter_value(r, f->basis[basis] - last);
    if (rule != NULL)
        dd_reporter_headline(r, "Brakes by %s: %s (rule \"%s\", %s %s); confirm with the authority.", rules->title, dd_brakes_names[rule->brakes],
                             rule->name, word_of(rules, basis), dd_reporter_quantity(r, f->basis[basis], "kg", 0, words));
    words[0] = under[0] = '\0';
    if (s != NULL && !plate) {
        distance_words(w, s, basis, next - f->basis[basis], words);
        distance_words(w, s, basis, last - f->basis[basis], under);
    }
    dd_reporter_words(r, "%s%s%s", words, words[0] != '\0' && under[0] != '\0' ? "; " : "", under);
}

/* The class of the trailer loaded to its plates, where it has them: that may count more than how it is loaded today. */
static void add_plates(const dd_weigh *w)
{
    const dd_trailer_parameters *t = &w->scenario->trailer;
    dd_required need;
    dd_rule_figures f = figures_of(w, &w->states[0]);
    if (isnan(t->aggregate_mass_rating) || isnan(t->axle_group_rating)) return;
    f.basis[DD_BASIS_GTM] = t->axle_group_rating;
    f.basis[DD_BASIS_AGGREGATE] = f.basis[DD_BASIS_LADEN] = f.basis[DD_BASIS_GROSS] = t->aggregate_mass_rating;
    dd_rules_required(&w->scenario->rules, &f, &need);
    add_class(w, NULL, &f, &need);
}

static void add_classes(const dd_weigh *w)
{
    dd_reporter *r = w->report;
    const dd_rules *rules = &w->scenario->rules;
    dd_reporter_table(r, "rules", "Brake class by the rule set", 1);
    dd_reporter_column(r, "state", "", 0, "of loading");
    dd_reporter_column(r, "brakes", "", 0, "wheels that must have brakes");
    dd_reporter_column(r, "rule", "", 0, "that decided");
    dd_reporter_column(r, "basis", "", 0, "mass to which it was applied");
    dd_reporter_column(r, "mass", "kg", 0, "that mass");
    dd_reporter_column(r, "to the next", "kg", 0, "up to the next threshold");
    dd_reporter_column(r, "over the last", "kg", 0, "above the threshold below");
    dd_reporter_column(r, "what tips it", "", 0, "distance in things aboard");
    for (int i = 0; i < w->state_count; i++) {
        dd_required need;
        const dd_rule_figures f = figures_of(w, &w->states[i]);
        dd_rules_required(rules, &f, &need);
        add_class(w, &w->states[i], &f, &need);
    }
    add_plates(w);
    dd_reporter_table_note(r, "%s%s%s%s%s: %s", rules->title, rules->seen[0] != '\0' ? ", seen " : "", rules->seen, rules->authority[0] != '\0' ? ", " : "",
                           rules->authority, rules->note[0] != '\0' ? rules->note : "confirm with the authority");
}

/* One requirement against what is fitted; NaN where that is not known. */
static void hold(const dd_weigh *w, const dd_state_of_loading *s, const dd_rule *rule, const char *name, double fitted, double limit,
                 const char *unit, int least, const char *key)
{
    if (rule == NULL) return;
    dd_check check = dd_check_of("rules", s->name, fitted, limit, unit, rule->instrument, "%s", name);
    check.least = least;
    if (isnan(fitted) || isnan(limit))
        dd_text(check.words, sizeof check.words, "%s: give %s", rule->name, key);
    else
        dd_text(check.words, sizeof check.words, "%s: confirm with the authority", rule->name);
    dd_reporter_check(w->report, &check);
}

static double given(int value) { return value < 0 ? (double)NAN : (double)value; }

/* Wheels that must have brakes, of those there are. */
static double wheels_required(const dd_rule *rule, int axles)
{
    if (rule == NULL || rule->brakes == DD_BRAKES_NONE) return 0;
    return rule->brakes == DD_BRAKES_ALL ? 2 * axles : 2;
}

static void check_brakes(const dd_weigh *w, const dd_state_of_loading *s, const dd_required *need)
{
    const dd_trailer_parameters *t = &w->scenario->trailer;
    const dd_brakes_fitted *b = &t->brakes;
    const double required = wheels_required(need->brakes, t->axle_count);
    const double wheels = b->fitted == DD_FITTED_NONE ? 0 : b->fitted < 0 ? NAN : 2 * given(b->axles);
    if (required > 0) hold(w, s, need->brakes, "wheels with brakes", wheels, required, "", 1,
                           b->fitted < 0 ? "trailer.brakes.fitted and axles" : "trailer.brakes.axles");
    if (b->fitted < 0) {
        if (required > 0 && need->overrun != NULL && need->overrun->overrun == 0)
            hold(w, s, need->overrun, "overrun brakes (not allowed)", NAN, NAN, "", 0, "trailer.brakes.fitted");
        return;
    }
    const double overrun = b->fitted == DD_FITTED_OVERRUN;
    if (need->overrun != NULL && need->overrun->overrun == 0) hold(w, s, need->overrun, "overrun brakes (not allowed)", overrun, 0, "", 0, "");
    if (need->from_seat != NULL && need->from_seat->from_seat == 1)
        hold(w, s, need->from_seat, "brakes worked from the driver's seat", b->fitted > DD_FITTED_OVERRUN, 1, "", 1, "");
}

/* What needs a stop or a slope to say. */
static void say_for_brake(const dd_weigh *w, const dd_rule *rule, const char *asked, double value, const char *unit)
{
    dd_reporter_note(w->report, "%s (%s): %s %.4g %s: not checked here, `brake` works it out", rule->name, rule->instrument, asked, value, unit);
}

static void say_all_for_brake(const dd_weigh *w, const dd_required *need)
{
    const dd_rule *r;
    const int fitted = w->scenario->trailer.brakes.fitted;
    if ((r = need->breakaway_slope) != NULL) say_for_brake(w, r, "after breaking away the brakes must hold on", 100 * tan(r->breakaway_slope), "%");
    if ((r = need->park_slope) != NULL) say_for_brake(w, r, "the park brake must hold on", 100 * tan(r->park_slope), "%");
    if ((r = need->service_braking) != NULL) say_for_brake(w, r, "its own brakes must give a share of its weight of", 100 * r->service_braking, "%");
    if ((r = need->stops_within) != NULL)
        dd_reporter_note(w->report, "%s (%s): the rig must stop from %.0f km/h within %.1f m: not checked here, `brake` works it out", r->name, r->instrument,
                         3.6 * r->stops_from, r->stops_within);
    if ((r = need->own_deceleration) != NULL) say_for_brake(w, r, "its own brakes must slow it by", r->own_deceleration, "m/s2");
    if (fitted != DD_FITTED_OVERRUN && fitted >= 0) return;
    if ((r = need->push_at_most) != NULL) say_for_brake(w, r, "overrun push, a share of its weight of at most", 100 * r->push_at_most, "%");
    if ((r = need->push_from) != NULL) say_for_brake(w, r, "an overrun brake may start at a push, share of its weight, of", 100 * r->push_from, "%");
}

static void check_fittings(const dd_weigh *w, const dd_state_of_loading *s, const dd_required *need)
{
    const dd_brakes_fitted *b = &w->scenario->trailer.brakes;
    if (need->breakaway != NULL && need->breakaway->breakaway > 0) {
        char name[96];
        dd_text(name, sizeof name, "breakaway: %s", dd_breakaway_names[need->breakaway->breakaway]);
        hold(w, s, need->breakaway, name, given(b->breakaway), need->breakaway->breakaway, "", 1, "trailer.brakes.breakaway");
    }
    if (need->breakaway_time != NULL)
        hold(w, s, need->breakaway_time, "breakaway keeps the brakes on", b->breakaway_time, need->breakaway_time->breakaway_time, "min", 1,
             "trailer.brakes.breakaway holds for");
    if (need->park_brake != NULL && need->park_brake->park_brake == 1)
        hold(w, s, need->park_brake, "park brake", given(b->park_brake), 1, "", 1, "trailer.brakes.park brake");
    if (need->chains != NULL && need->chains->chains > 0)
        hold(w, s, need->chains, "safety chains of the drawbar", given(b->chains), need->chains->chains, "", 1, "trailer.brakes.chains");
    if (need->chain_rating != NULL)
        hold(w, s, need->chain_rating, "each safety chain's rating", b->chain_rating, need->chain_rating->chain_rating, "kg", 1,
             "trailer.brakes.chain rating");
    if (need->chocks != NULL) hold(w, s, need->chocks, "chocks", given(b->chocks), need->chocks->chocks, "", 1, "trailer.brakes.chocks");
    say_all_for_brake(w, need);
}

/* Limits of masses, and what the rules in force say in words. */
static void check_each(const dd_weigh *w, const dd_state_of_loading *s, const dd_rule_figures *f)
{
    const dd_rules *rules = &w->scenario->rules;
    const dd_rule *all[2 * DD_RULES];
    const int count = dd_rules_all(rules, all);
    for (int i = 0; i < count; i++) {
        char missing[96], name[96];
        const int applies = dd_rule_applies(all[i], f, missing, sizeof missing);
        if (applies == DD_RULE_OTHER) continue;
        if (applies == DD_RULE_CANNOT_SAY) {
            dd_text(name, sizeof name, "%s: whether it applies", all[i]->name);
            hold(w, s, all[i], name, NAN, NAN, "", 0, missing);
            continue;
        }
        if (all[i]->limit_of >= 0) {
            const double limit = dd_mass_limit_value(&all[i]->limit, f, missing, sizeof missing);
            dd_text(name, sizeof name, "%s: %s", all[i]->name, word_of(rules, all[i]->limit_of));
            hold(w, s, all[i], name, f->basis[all[i]->limit_of], limit, "kg", all[i]->limit_kind == DD_LIMIT_LEAST,
                 missing[0] != '\0' ? missing : "trailer.aggregate mass rating");
        }
        if (all[i]->words[0] != '\0')
            dd_reporter_note(w->report, "%s (%s, %s): %s", all[i]->name, all[i]->instrument, all[i]->status, all[i]->words);
        char source[320];
        dd_text(source, sizeof source, "%s: %s%s%s (%s)", all[i]->name, all[i]->instrument, all[i]->seen[0] != '\0' ? ", " : "", all[i]->seen,
                all[i]->status);
        dd_reporter_source(w->report, source);
    }
}

dd_status dd_weigh_rules(dd_weigh *w, dd_error *error)
{
    (void)error;
    const dd_rules *rules = &w->scenario->rules;
    if (rules->rule_count + rules->also_count == 0) return DD_OK;
    add_classes(w);
    for (int i = 0; i < w->state_count; i++) {
        const dd_state_of_loading *s = &w->states[i];
        dd_required need;
        const dd_rule_figures f = figures_of(w, s);
        dd_rules_required(rules, &f, &need);
        check_brakes(w, s, &need);
        check_fittings(w, s, &need);
        check_each(w, s, &f);
    }
    dd_reporter_note(w->report, "rules: %s%s%s; confirm with the authority", rules->title, rules->seen[0] != '\0' ? ", seen " : "", rules->seen);
    return DD_OK;
}
