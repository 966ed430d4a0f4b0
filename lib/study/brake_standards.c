/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What published rules ask of brakes, and what the model gives: what the scenario's rule set asks of this rig (rules of `weigh`; a check each),
   then figures of other instruments, for comparison.

   An overrun brake gives B = r (push - threshold), at most r times its full push, r its torque per push over the tyre's radius: the push that
   gives a share of the weight is threshold + share W / r. Other brakes are taken at full command, hot and wet shares 1. What brakes give is at most
   the dry road's grip under the wheels that have them, standing still. */
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/rig/rules.h"
#include "lib/study/brake.h"
#include <drawdock/rules.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define USUAL_PUSH 0.10 /* of the weight: where the rule set says nothing, EU 2015/504 annex, form 5 */

typedef struct standards {
    const dd_brake *b;
    const dd_brake_kind *kind; /* fitted; NULL: not known, or fed by the vehicle */
    double weight, rate;       /* rate: overrun, force of the brakes per push beyond the threshold */
    dd_required need;
} standards;

static int decimals_of(const char *unit) { return strcmp(unit, "N") == 0 || strcmp(unit, "min") == 0 ? 0 : strcmp(unit, "%") == 0 ? 1 : 2; }

static void row(const standards *s, const char *by, const char *asked, const char *source, double limit, double value, const char *unit, bool least)
{
    dd_reporter *r = s->b->report;
    char text[DD_REPORTER_TEXT];
    dd_reporter_words(r, "%s", asked);
    dd_reporter_words(r, "%s", by);
    dd_reporter_words(r, "%s %s", least ? "least" : "most", dd_reporter_quantity(r, limit, unit, decimals_of(unit), text));
    dd_reporter_words(r, "%s", isnan(value) ? "not known" : dd_reporter_quantity(r, value, unit, decimals_of(unit), text));
    dd_reporter_value(r, limit == 0 ? NAN : fabs(value - limit) <= 1e-9 * fabs(limit) ? 0 : least ? value / limit - 1 : 1 - value / limit);
    dd_reporter_words(r, "%s", source);
}

/* A row and a check of the rule set, of stopping or of "rules" for the rest; give: the key that is missing where the value is NaN. */
static void hold(const standards *s, const dd_rule *rule, const char *group, const char *asked, double limit, double value, const char *unit, bool least, bool caution, const char *give)
{
    if (fabs(value - limit) <= 1e-9 * fabs(limit)) value = limit; /* a figure that is made from the limit meets it, whatever its last digit */
    dd_check check = dd_check_of(group, NULL, value, limit, unit, rule->instrument, "%s", asked);
    check.least = least;
    if (caution) check.outcome = DD_CHECK_CAUTION;
    if (isnan(value) || isnan(limit))
        dd_text(check.words, sizeof check.words, "%s: give %s", rule->name, give);
    else
        dd_text(check.words, sizeof check.words, "%s: by this model; confirm with the authority", rule->name);
    dd_reporter_check(s->b->report, &check);
    row(s, "rule set", asked, rule->instrument, limit, value, unit, least);
}

static double push_for(const standards *s, double share)
{
    const dd_overrun_brake *o = &s->b->rig->brakes.overrun;
    return share * s->weight / s->rate <= o->full_push * (1 + 1e-9) ? o->threshold + share * s->weight / s->rate : NAN;
}

static double overrun_force(const standards *s, double push)
{
    const dd_overrun_brake *o = &s->b->rig->brakes.overrun;
    return fmin(s->rate * fmax(0, push - o->threshold), s->rate * o->full_push);
}

/* Force of the trailer's own brakes at full command, or at the push that the rules allow; N. */
static double service_force(const standards *s)
{
    const dd_brake *b = s->b;
    const double share = s->need.push_at_most != NULL ? s->need.push_at_most->push_at_most : USUAL_PUSH;
    if (s->kind == NULL) return NAN;
    if (s->kind->fitted == DD_FITTED_NONE) return 0;
    const double force = s->kind->slides ? overrun_force(s, share * s->weight) : dd_brake_full_torque(b, s->kind) / b->loaded.tyre_radius;
    return fmin(force, dd_brake_trailer_grip(b, b->scenario->braking.dry_friction));
}

/* Slope (rise over run) that a park brake holds on a dry road; NaN: not known. */
static double park_slope(const standards *s)
{
    const dd_brake *b = s->b;
    const int given = b->scenario->trailer.brakes.park_brake;
    if (given == 0 || (s->kind != NULL && s->kind->fitted == DD_FITTED_NONE)) return 0;
    if (s->kind == NULL || s->kind->parked == NULL) return given == 1 ? NAN : 0; /* its lever's pull is none of the figures */
    return dd_brake_trailer_holds(b, s->kind->parked(&b->rig->brakes), b->scenario->braking.dry_friction);
}

/* The stop that the rule describes: its speed, level and dry. */
static dd_status stop_way(const standards *s, const dd_rule *rule, double *way, dd_error *error)
{
    const dd_brake *b = s->b;
    *way = NAN;
    if (s->kind == NULL || isnan(rule->stops_from)) return DD_OK;
    dd_stop_asked asked = dd_brake_asked(b, s->kind, 0);
    asked.speed = rule->stops_from;
    asked.road.grade = 0;
    dd_brake_rig *level = NULL;
    dd_stop *stop = malloc(sizeof *stop);
    if (stop == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_brake_standards", "no memory for a stop");
    dd_status status = dd_brake_rig_create(&b->scenario->vehicle, &b->loaded, 0, b->scenario->gravity, &level, error);
    if (status == DD_OK) status = dd_brake_stop(level, &asked, stop, error);
    if (status == DD_OK) *way = stop->stopped ? stop->distance : INFINITY;
    dd_brake_rig_free(level);
    free(stop);
    return status;
}

static void add_braking(const standards *s)
{
    const dd_required *n = &s->need;
    const bool slides = s->kind != NULL && s->kind->slides;
    const double force = service_force(s);
    if (n->service_braking != NULL)
        hold(s, n->service_braking, DD_BRAKE_STOPPING, slides ? "braking force at the push allowed" : "braking force of its own brakes", n->service_braking->service_braking, force / s->weight,
             "%", true, false, "trailer.brakes.fitted");
    /* An overrun brake follows the vehicle: what the clause on a deceleration of its own makes of that is the authority's to say. */
    if (n->own_deceleration != NULL)
        hold(s, n->own_deceleration, DD_BRAKE_STOPPING, "deceleration by its own brakes", n->own_deceleration->own_deceleration, force / s->b->loaded.mass, "m/s2", true, slides, "trailer.brakes.fitted");
    if (!slides) return;
    const double share = n->service_braking != NULL ? n->service_braking->service_braking : 0.49;
    if (n->push_at_most != NULL)
        hold(s, n->push_at_most, DD_BRAKE_STOPPING, "overrun push that gives the braking force", n->push_at_most->push_at_most * s->weight,
             isnan(push_for(s, share)) ? INFINITY : push_for(s, share), "N", false, false, "");
    if (n->push_from != NULL)
        hold(s, n->push_from, DD_BRAKE_STOPPING, "push at which the overrun brake starts", n->push_from->push_from * s->weight, s->b->rig->brakes.overrun.threshold, "N", true, false, "");
}

static void add_holding(const standards *s)
{
    const dd_brake *b = s->b;
    const dd_required *n = &s->need;
    if (n->park_slope != NULL)
        hold(s, n->park_slope, "rules", "slope that the trailer's park brake holds", tan(n->park_slope->park_slope), park_slope(s), "%", true, false,
             s->kind == NULL ? "trailer.brakes.fitted" : "the makers' figure: this model has none of a park brake on such brakes");
    if (n->breakaway_slope != NULL) {
        const bool none = s->kind != NULL && s->kind->fitted == DD_FITTED_NONE;
        const double holds = s->kind == NULL ? NAN : none ? 0 : dd_brake_trailer_holds(b, dd_brake_breakaway_torque(b, s->kind), b->scenario->braking.dry_friction);
        hold(s, n->breakaway_slope, "rules", "slope that its brakes hold after breaking away", tan(n->breakaway_slope->breakaway_slope), holds, "%", true, false, "trailer.brakes.fitted");
    }
    if (n->breakaway_time != NULL && s->kind != NULL && s->kind->controlled) {
        const double lasts = dd_brake_battery_lasts(b, s->kind);
        hold(s, n->breakaway_time, "rules", "breakaway keeps the brakes on by its battery", n->breakaway_time->breakaway_time, lasts, "min", true, false, "");
    }
}

static dd_status add_ruled(standards *s, dd_error *error)
{
    const dd_brake *b = s->b;
    const dd_rules *rules = &b->scenario->rules;
    if (rules->rule_count + rules->also_count == 0) return DD_OK;
    const dd_rule_figures f = dd_rule_figures_of(&b->scenario->vehicle, &b->scenario->trailer, &b->road, b->scenario->gravity);
    dd_rules_required(rules, &f, &s->need);
    if (s->need.stops_within != NULL) {
        double way;
        dd_status status = stop_way(s, s->need.stops_within, &way, error);
        if (status != DD_OK) return status;
        char asked[80], speed[DD_REPORTER_TEXT];
        dd_text(asked, sizeof asked, "the rig stops from %s", dd_reporter_quantity(b->report, s->need.stops_within->stops_from, "km/h", 0, speed));
        hold(s, s->need.stops_within, DD_BRAKE_STOPPING, asked, s->need.stops_within->stops_within, way, "m", false, false,
             isnan(s->need.stops_within->stops_from) ? "`stops from` with the rule" : "trailer.brakes.fitted");
    }
    add_braking(s);
    add_holding(s);
    if (s->need.unsure > 0)
        dd_reporter_note(b->report, "%d rule%s: whether %s not known for want of %s", s->need.unsure, s->need.unsure > 1 ? "s" : "", s->need.unsure > 1 ? "they apply is" : "it applies is",
                         s->need.missing);
    dd_reporter_note(b->report, "rules: %s; confirm with the authority", rules->title);
    return DD_OK;
}

/* Of every rig, whichever rules it is under. */
static void add_published(const standards *s, int index)
{
    static const char *const by = "elsewhere";
    const double v = 30 / 3.6;
    if (s->kind != NULL) {
        const dd_stop *dry = &s->b->stops[0][index];
        row(s, by, "the rig's mean deceleration in the stop above", "Germany, StVZO 41(4) and (12)", 5.0, dry->mean_deceleration, "m/s2", true);
        row(s, by, "the same, as a stop in 7 m from 30 km/h asks", "New Zealand, Land Transport Rule 32014, as trade pages quote it", v * v / 14, dry->mean_deceleration, "m/s2", true);
        if (s->kind->controlled) row(s, by, "deceleration by its own brakes", "Germany, StVZO 41(9)", 5.0, service_force(s) / s->b->loaded.mass, "m/s2", true);
    }
    row(s, by, "push of an overrun brake that gives 0.49 of the weight", "EU 2015/504 annex form 5: D* 0.10 of the weight, centre-axle trailer", 0.10 * s->weight, push_for(s, 0.49), "N", false);
    row(s, by, "its braking force at that push", "EU 2015/68 annex VIII 10.3.1: B 0.49 of the weight", 0.49 * s->weight, overrun_force(s, 0.10 * s->weight), "N", true);
    row(s, by, "push at which it starts", "Belgium, Royal Decree 15 March 1968, article 48: 2 % of the weight", 0.02 * s->weight, s->b->rig->brakes.overrun.threshold, "N", true);
    row(s, by, "its push at 45 % braking, single axle", "Belgium, article 48: at most 9 % of the weight", 0.09 * s->weight, push_for(s, 0.45), "N", false);
}

dd_status dd_brake_standards(dd_brake *b, dd_error *error)
{
    dd_reporter *r = b->report;
    const dd_overrun_brake *o = &b->rig->brakes.overrun;
    standards s = {.b = b, .kind = dd_brake_kind_fitted(b->scenario->trailer.brakes.fitted), .weight = b->loaded.mass * b->scenario->gravity,
                   .rate = o->lever_ratio * o->cable_efficiency * o->brake_factor / b->loaded.tyre_radius};
    int index = 0;
    while (dd_brake_kind_at(index) != NULL && dd_brake_kind_at(index) != s.kind) index++;
    dd_reporter_table(r, "standards", "What published rules ask, and what the model gives", DD_REPORT_LONG);
    dd_reporter_column(r, "what", "", 0, "is asked");
    dd_reporter_column(r, "by", "", 0, "rule set: that of this scenario; elsewhere: for comparison");
    dd_reporter_column(r, "limit", "", 0, "the rule's");
    dd_reporter_column(r, "model", "", 0, "what this rig gives");
    dd_reporter_column(r, "margin", "%", 0, "below nought: it does not");
    dd_reporter_column(r, "clause", "", 0, "instrument");
    dd_status status = add_ruled(&s, error);
    if (status != DD_OK) return status;
    add_published(&s, index);
    dd_reporter_table_note(r, "Test methods differ from a stop on the road; which of these applies is for the authority to say. Overrun figures are for such a brake whether fitted or not.");
    return DD_OK;
}
