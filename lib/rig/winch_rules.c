/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The published rules for a winch's rating side by side. They disagree; a page that shows one shows all. */
#include "lib/rig/winch.h"
#include <math.h>

static const dd_winch_rule rules[] = {
    {"rating at least 75 % of the loaded boat's weight", "winch to boat: three quarters", 0.75, 0, 0},
    {"rating at least twice the largest pull", "winch to boat: three quarters", 0, 2, 0},
    {"strap breaks at no less than 1.5 times the winch's rating", "winch to boat: three quarters", 0, 0, 1.5},
    {"rating at least two thirds of the loaded boat's weight", "winch to boat: two thirds", 2.0 / 3.0, 0, 0},
    {"rating three quarters of the loaded boat's weight, for steep ramps", "winch to boat: two thirds", 0.75, 0, 0},
    {"rating at least the boat's weight", "winch to boat: whole weight", 1, 0, 0},
    {"rating at least 1.5 times the boat's weight", "winch to boat: whole weight", 1.5, 0, 0},
};

int dd_winch_rule_count(void) { return (int)(sizeof rules / sizeof rules[0]); }

const dd_winch_rule *dd_winch_rule_at(int index) { return index >= 0 && index < dd_winch_rule_count() ? &rules[index] : NULL; }

int dd_winch_rule_check(const dd_winch_rule *rule, const dd_winch_parameters *winch, double boat_weight, double largest_pull,
                        double *required, double *given)
{
    const double slip = 1e-12; /* of what is required: rounding where a rule is met exactly */
    if (rule->strap_of_rating > 0) {
        *required = rule->strap_of_rating * winch->rating;
        *given = winch->break_strength;
    } else {
        *required = rule->of_weight > 0 ? rule->of_weight * boat_weight : rule->of_pull * largest_pull;
        *given = winch->rating;
    }
    if (isnan(*required) || isnan(*given)) return -1;
    return *given >= *required * (1 - slip);
}
