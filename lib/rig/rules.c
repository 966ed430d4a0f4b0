/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/rig/rules.h"
#include "lib/base/numbers.h"
#include <math.h>
#include <string.h>

static void say(char *missing, size_t size, const char *what)
{
    if (size > 0) dd_text(missing, size, "%s", what);
}

dd_rule_figures dd_rule_figures_of(const dd_vehicle_parameters *v, const dd_trailer_parameters *t, const dd_road_loads *road, double g)
{
    const double laden = road->aggregate_mass, plate = t->aggregate_mass_rating;
    dd_rule_figures f = {.kerb_mass = v->kerb_mass,
                         .tow_gross_rating = v->gross_mass_rating,
                         .speed = v->road_speed,
                         .axle_count = t->axle_count,
                         .fitted = t->brakes.fitted};
    f.basis[DD_BASIS_GTM] = road->axle_group / g;
    f.basis[DD_BASIS_AGGREGATE] = f.basis[DD_BASIS_LADEN] = f.basis[DD_BASIS_GROSS] = laden;
    f.basis[DD_BASIS_MAXIMUM] = isnan(plate) ? laden : plate;
    f.basis[DD_BASIS_GROSS_RATING] = plate;
    f.basis[DD_BASIS_COUPLING] = road->coupling / g;
    for (int i = 0; i < t->axle_count; i++) f.basis[DD_BASIS_AXLE] = fmax(f.basis[DD_BASIS_AXLE], road->axle[i] / g);
    return f;
}

static const char *const basis_missing[] = {"mass on the axles", "mass of trailer and load", "trailer.aggregate mass rating", "mass of trailer and load",
                                            "mass of trailer and load", "trailer.aggregate mass rating", "coupling load", "axle load"};

double dd_mass_limit_value(const dd_mass_limit *limit, const dd_rule_figures *figures, char *missing, size_t size)
{
    const struct {
        double share, of;
        const char *key;
    } terms[] = {{limit->kerb_share, figures->kerb_mass + (isnan(limit->kerb_added) ? 0 : limit->kerb_added), "vehicle.kerb mass"},
                 {limit->tow_rating_share, figures->tow_gross_rating, "vehicle.gross mass rating"},
                 {limit->trailer_share, figures->basis[DD_BASIS_MAXIMUM], "trailer.aggregate mass rating"},
                 {limit->laden_share, figures->basis[DD_BASIS_LADEN], "mass of trailer and load"}};
    double least = limit->mass;
    say(missing, size, "");
    for (size_t i = 0; i < sizeof terms / sizeof terms[0]; i++) {
        if (isnan(terms[i].share)) continue;
        if (isnan(terms[i].of)) {
            say(missing, size, terms[i].key);
            return NAN;
        }
        least = fmin(least, terms[i].share * terms[i].of); /* fmin passes over NaN */
    }
    return least;
}

static bool is_given(const dd_mass_limit *limit)
{
    return !isnan(limit->mass) || !isnan(limit->kerb_share) || !isnan(limit->tow_rating_share) || !isnan(limit->trailer_share) || !isnan(limit->laden_share);
}

/* By kind of trailer and speed alone. */
static int for_these(const dd_rule *rule, const dd_rule_figures *f, char *missing, size_t size)
{
    bool is = true;
    const bool by_brakes = rule->applies_to >= DD_FOR_UNBRAKED && rule->applies_to <= DD_FOR_OVERRUN;
    if (by_brakes && f->fitted < 0) {
        say(missing, size, "trailer.brakes.fitted");
        return DD_RULE_CANNOT_SAY;
    }
    if (rule->applies_to == DD_FOR_UNBRAKED) is = f->fitted == DD_FITTED_NONE;
    if (rule->applies_to == DD_FOR_BRAKED) is = f->fitted != DD_FITTED_NONE;
    if (rule->applies_to == DD_FOR_OVERRUN) is = f->fitted == DD_FITTED_OVERRUN;
    if (rule->applies_to == DD_FOR_SINGLE_AXLE) is = f->axle_count == 1;
    if (rule->applies_to == DD_FOR_CAMP) is = false;
    if (!is) return DD_RULE_OTHER;
    if (!isnan(rule->speed_at_most) && isnan(f->speed)) {
        say(missing, size, "vehicle.road speed");
        return DD_RULE_CANNOT_SAY;
    }
    return !isnan(rule->speed_at_most) && f->speed > rule->speed_at_most * (1 + 1e-12) ? DD_RULE_OTHER : DD_RULE_APPLIES;
}

/* By mass alone. */
static int within_bounds(const dd_rule *rule, const dd_rule_figures *f, char *missing, size_t size)
{
    const double value = rule->basis >= 0 ? f->basis[rule->basis] : 0;
    const bool functional = is_given(&rule->up_to_least);
    if (isnan(rule->above) && isnan(rule->from) && isnan(rule->up_to) && isnan(rule->below) && !functional) return DD_RULE_APPLIES;
    if (isnan(value)) {
        say(missing, size, basis_missing[rule->basis]);
        return DD_RULE_CANNOT_SAY;
    }
    /* Comparisons with NaN are false: a bound that is not given bars nobody. */
    if (value <= rule->above || value < rule->from || value > rule->up_to || value >= rule->below) return DD_RULE_OTHER;
    if (!functional) return DD_RULE_APPLIES;
    const double most = dd_mass_limit_value(&rule->up_to_least, f, missing, size);
    if (isnan(most)) return value > rule->up_to_least.mass ? DD_RULE_OTHER : DD_RULE_CANNOT_SAY;
    return value > most ? DD_RULE_OTHER : DD_RULE_APPLIES;
}

int dd_rule_applies(const dd_rule *rule, const dd_rule_figures *f, char *missing, size_t size)
{
    say(missing, size, "");
    const int mass = within_bounds(rule, f, missing, size);
    if (mass == DD_RULE_OTHER) return mass;
    /* A figure that is missing matters only where the other condition holds. */
    const int kind = for_these(rule, f, missing, size);
    return kind != DD_RULE_APPLIES ? kind : mass;
}

int dd_rules_all(const dd_rules *rules, const dd_rule *all[2 * DD_RULES])
{
    int count = 0;
    for (int i = 0; i < rules->rule_count; i++) all[count++] = &rules->rules[i];
    for (int i = 0; i < rules->also_count; i++) {
        int at = 0;
        while (at < count && strcmp(all[at]->name, rules->also[i].name) != 0) at++;
        all[at] = &rules->also[i];
        if (at == count) count++;
    }
    return count;
}

/* Keeps the rule in *place if it says more than the one there; sign: -1 where less is stricter. */
static void stricter(const dd_rule **place, const dd_rule *rule, double now, double before, bool given)
{
    if (!given || (*place != NULL && (*place)->waives == 1)) return;
    if (*place == NULL || rule->waives == 1 || now > before) *place = rule;
}

#define BY_INT(field) stricter(&r->field, rule, rule->field, r->field == NULL ? -1 : r->field->field, rule->field >= 0)
#define BY_VALUE(field) stricter(&r->field, rule, rule->field, r->field == NULL ? 0 : r->field->field, !isnan(rule->field))

/* Mean deceleration that the way asks for; a speed that is not given: any. */
static double slows_by(const dd_rule *rule) { return isnan(rule->stops_from) ? 0 : rule->stops_from * rule->stops_from / (2 * rule->stops_within); }

static void take(dd_required *r, const dd_rule *rule)
{
    BY_INT(brakes);
    stricter(&r->overrun, rule, -rule->overrun, r->overrun == NULL ? -2 : -r->overrun->overrun, rule->overrun >= 0);
    BY_INT(from_seat);
    BY_INT(breakaway);
    BY_VALUE(breakaway_time);
    BY_VALUE(breakaway_slope);
    BY_INT(park_brake);
    BY_VALUE(park_slope);
    BY_INT(chains);
    BY_VALUE(chain_rating);
    BY_INT(chocks);
    BY_VALUE(service_braking);
    BY_VALUE(own_deceleration);
    const double slows = slows_by(rule);
    stricter(&r->stops_within, rule, slows, r->stops_within == NULL ? 0 : slows_by(r->stops_within), !isnan(rule->stops_within));
    stricter(&r->push_at_most, rule, -rule->push_at_most, r->push_at_most == NULL ? -2 : -r->push_at_most->push_at_most, !isnan(rule->push_at_most));
    BY_VALUE(push_from);
}

void dd_rules_required(const dd_rules *rules, const dd_rule_figures *figures, dd_required *required)
{
    const dd_rule *all[2 * DD_RULES];
    const int count = dd_rules_all(rules, all);
    memset(required, 0, sizeof *required);
    for (int i = 0; i < count; i++) {
        char missing[sizeof required->missing];
        const int applies = dd_rule_applies(all[i], figures, missing, sizeof missing);
        if (applies == DD_RULE_APPLIES) take(required, all[i]);
        if (applies != DD_RULE_CANNOT_SAY) continue;
        required->unsure++;
        memcpy(required->missing, missing, sizeof missing);
    }
}

/* A bound: the value at or below it is on its one side, above on the other. */
static void look(double bound, double value, double *next, double *last)
{
    if (isnan(bound)) return;
    if (value <= bound) *next = isnan(*next) ? bound : fmin(*next, bound);
    else *last = isnan(*last) ? bound : fmax(*last, bound);
}

void dd_rules_thresholds(const dd_rules *rules, const dd_rule_figures *figures, int basis, double *next, double *last)
{
    const dd_rule *all[2 * DD_RULES];
    const int count = dd_rules_all(rules, all);
    const double value = figures->basis[basis];
    *next = *last = NAN;
    for (int i = 0; i < count; i++) {
        const dd_rule *rule = all[i];
        if (rule->basis != basis || rule->brakes < 0 || for_these(rule, figures, NULL, 0) != DD_RULE_APPLIES) continue;
        const double bounds[] = {rule->above, rule->from, rule->up_to, rule->below, dd_mass_limit_value(&rule->up_to_least, figures, NULL, 0)};
        for (size_t k = 0; k < sizeof bounds / sizeof bounds[0]; k++)
            if (bounds[k] > 0) look(bounds[k], value, next, last);
    }
}
