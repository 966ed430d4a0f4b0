/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What published rules ask of brakes, what the model gives: figures for every rig, and what the scenario's rule set asks. */
#include "lib/base/numbers.h"
#include "lib/rig/rules.h"
#include "lib/study/brake.h"
#include <drawdock/rules.h>
#include <math.h>
#include <string.h>

#define DEMANDED_DECELERATION 5.0 /* m/s2 */

typedef struct standards {
    const dd_brake *b;
    const dd_brake_kind *kind;
    double weight;
} standards;

static void row(const standards *s, const char *asked, const char *source, double limit, double value, const char *unit, bool least)
{
    dd_reporter *r = s->b->report;
    char text[DD_REPORTER_TEXT];
    const int decimals = strcmp(unit, "N") == 0 || strcmp(unit, "min") == 0 ? 0 : 2;
    dd_reporter_words(r, "%s", asked);
    dd_reporter_words(r, "%s %s", least ? "least" : "most", dd_reporter_quantity(r, limit, unit, decimals, text));
    dd_reporter_words(r, "%s", isnan(value) ? "not known" : dd_reporter_quantity(r, value, unit, decimals, text));
    dd_reporter_value(r, least ? value / limit - 1 : 1 - value / limit);
    dd_reporter_words(r, "%s", source);
}

/* The overrun device by its own statics: push at which the brakes give B*, and what they give at D*. */
static void add_overrun(const standards *s)
{
    const dd_overrun_brake *o = &s->b->rig->brakes.overrun;
    const double rate = o->lever_ratio * o->cable_efficiency * o->brake_factor / s->b->loaded.tyre_radius, asked = 0.49 * s->weight;
    const double most = 0.10 * s->weight; /* axles close together are a centre-axle trailer all the same */
    const double push = asked / rate <= o->full_push * (1 + 1e-9) ? o->threshold + asked / rate : NAN;
    row(s, "overrun push that gives the braking force", "EU 2015/504 annex form 5: D* 0.10 of the weight, centre-axle trailer", most, push, "N", false);
    row(s, "braking force at that push", "EU 2015/68 annex VIII 10.3.1: B 0.49 of the weight", asked, fmin(rate * fmax(0, most - o->threshold), rate * o->full_push), "N", true);
    row(s, "push at which the brake may start", "Belgium, Royal Decree 15 March 1968, article 48: 2 % of the weight", 0.02 * s->weight, o->threshold, "N", true);
    row(s, "overrun push, single-axle trailer", "Belgium, article 48: at most 9 % of the weight at 45 % braking", 0.09 * s->weight,
        0.45 * s->weight / rate <= o->full_push * (1 + 1e-9) ? o->threshold + 0.45 * s->weight / rate : NAN, "N", false);
}

static void add_published(const standards *s, int index)
{
    const dd_stop *dry = &s->b->stops[0][index];
    const double v = 30 / 3.6;
    row(s, "the rig's mean deceleration", "Germany, StVZO 41(4) and (12)", DEMANDED_DECELERATION, dry->mean_deceleration, "m/s2", true);
    row(s, "the rig stops in 7 m from 30 km/h", "New Zealand, Land Transport Rule 32014, as trade pages quote it", v * v / 14, dry->mean_deceleration, "m/s2", true);
    const double own = s->kind->fitted == DD_FITTED_NONE ? 0 : dry->heat[DD_HEAT_TRAILER] / dry->distance / s->b->loaded.mass;
    if (s->kind->controlled) row(s, "the trailer's own braking in that stop", "Germany, StVZO 41(9)", DEMANDED_DECELERATION, own, "m/s2", true);
}

static double park_slope(const standards *s)
{
    if (s->kind->parked == NULL || s->b->scenario->trailer.brakes.park_brake == 0) return 0;
    const double share = s->kind->parked(&s->b->rig->brakes) / (s->b->loaded.tyre_radius * s->weight);
    return share < 1 ? asin(share) : atan(1);
}

/* What the scenario's rules ask: a check each, and a row. */
static void add_ruled(const standards *s)
{
    const dd_brake *b = s->b;
    const dd_rules *rules = &b->scenario->rules;
    if (rules->rule_count + rules->also_count == 0) return;
    dd_required need;
    const dd_rule_figures f = dd_rule_figures_of(&b->scenario->vehicle, &b->scenario->trailer, &b->road, b->scenario->gravity);
    dd_rules_required(rules, &f, &need);
    if (need.park_slope != NULL && s->kind != NULL) {
        const double holds = tan(park_slope(s)), asked = tan(need.park_slope->park_slope);
        dd_check check = dd_check_of("rules", NULL, holds, asked, "%", need.park_slope->instrument, "trailer's park brake holds the slope");
        check.least = 1;
        row(s, "slope that the trailer's park brake holds", need.park_slope->instrument, asked, holds, "%", true);
        dd_reporter_check(b->report, &check);
    }
    if (need.breakaway_time != NULL && s->kind != NULL && s->kind->fitted == DD_FITTED_ELECTRIC) {
        const dd_trailer_braking *k = &b->rig->brakes;
        const double lasts = 3600 * k->battery / (k->electric.current * 2 * b->rig->braked_axles), asked = need.breakaway_time->breakaway_time;
        dd_check check = dd_check_of("rules", NULL, lasts, asked, "min", need.breakaway_time->instrument, "breakaway battery at full current");
        check.least = 1;
        row(s, "breakaway keeps the brakes on", need.breakaway_time->instrument, asked, lasts, "min", true);
        dd_reporter_check(b->report, &check);
    }
    dd_reporter_note(b->report, "rules: %s; confirm with the authority", rules->title);
}

dd_status dd_brake_standards(dd_brake *b, dd_error *error)
{
    (void)error;
    dd_reporter *r = b->report;
    const int fitted = b->scenario->trailer.brakes.fitted;
    standards s = {b, dd_brake_kind_fitted(fitted), b->loaded.mass * b->scenario->gravity};
    int index = 0;
    while (dd_brake_kind_at(index) != NULL && dd_brake_kind_at(index) != s.kind) index++;
    dd_reporter_table(r, "standards", "What published rules ask, and what the model gives", DD_REPORT_LONG);
    dd_reporter_column(r, "what", "", 0, "is asked");
    dd_reporter_column(r, "limit", "", 0, "the rule's");
    dd_reporter_column(r, "model", "", 0, "what this rig gives");
    dd_reporter_column(r, "margin", "%", 0, "below nought: it does not");
    dd_reporter_column(r, "clause", "", 0, "instrument");
    if (s.kind != NULL) add_published(&s, index);
    add_overrun(&s);
    add_ruled(&s);
    dd_reporter_table_note(r, "Test methods differ from a stop on the road; which of these applies is for the authority to say. Overrun figures are for such a brake whether fitted or not.");
    return DD_OK;
}
