/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/quote.h"

static void quote_rules(dd_reporter *r, const dd_rule *rules, int count)
{
    for (int i = 0; i < count; i++) {
        dd_reporter_quoted(r, rules[i].name);
        dd_reporter_quoted(r, rules[i].instrument);
        dd_reporter_quoted(r, rules[i].words);
    }
}

void dd_quote(dd_reporter *r, const dd_case *scenario)
{
    const dd_rules *rules = &scenario->rules;
    dd_reporter_quoted(r, rules->title);
    dd_reporter_quoted(r, rules->note);
    quote_rules(r, rules->rules, rules->rule_count);
    quote_rules(r, rules->also, rules->also_count);
    for (int i = 0; i < scenario->loading_count; i++) dd_reporter_quoted(r, scenario->loadings[i].name);
    for (int i = 0; i < scenario->fleet.variant_count; i++) dd_reporter_quoted(r, scenario->fleet.variants[i].name);
    for (int i = 0; i < scenario->fleet.rig_count; i++) dd_reporter_quoted(r, scenario->fleet.rigs[i].name);
    for (int i = 0; i < scenario->boat.item_count; i++) dd_reporter_quoted(r, scenario->boat.items[i].item);
}
