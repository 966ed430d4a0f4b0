/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rules of the road applied to figures of a rig. */
#ifndef DD_RIG_RULES_H
#define DD_RIG_RULES_H
#include "lib/base/key.h"
#include "lib/rig/road.h"
#include <drawdock/rules.h>
#include <stdbool.h>

extern const dd_key dd_rules_keys[], dd_brakes_fitted_keys[];
extern const char *const dd_basis_names[], *const dd_brakes_names[], *const dd_breakaway_names[], *const dd_fitted_names[];

/* What rules are applied to; NaN: not known. Masses in kg. */
typedef struct dd_rule_figures {
    double basis[DD_BASIS_COUNT];
    double kerb_mass, tow_gross_rating;
    double speed; /* m/s */
    int axle_count, fitted; /* DD_FITTED_..., -1: not known */
} dd_rule_figures;

/* Of a rig as it stands on the road; vehicle and trailer as given, figures that are not given stay unknown. */
dd_rule_figures dd_rule_figures_of(const dd_vehicle_parameters *vehicle, const dd_trailer_parameters *trailer, const dd_road_loads *road,
                                   double gravity);

enum { DD_RULE_APPLIES, DD_RULE_OTHER, DD_RULE_CANNOT_SAY };

/* Whether the rule is in force for these figures; missing: the figure that is needed to say ("" else). */
int dd_rule_applies(const dd_rule *rule, const dd_rule_figures *figures, char *missing, size_t size);
/* The least of the limit's terms, kg; NaN: one that is given cannot be worked out, missing says why, or none is given. */
double dd_mass_limit_value(const dd_mass_limit *limit, const dd_rule_figures *figures, char *missing, size_t size);

/* All rules of the set, those of `also` in their place; returns how many (at most 2 DD_RULES). */
int dd_rules_all(const dd_rules *rules, const dd_rule *all[2 * DD_RULES]);

/* What the rules in force require together: the strictest, but what a rule that waives says stands. Each NULL: nothing said. */
typedef struct dd_required {
    const dd_rule *brakes, *overrun, *from_seat, *breakaway, *breakaway_time, *breakaway_slope, *park_brake, *park_slope, *chains,
        *chain_rating, *chocks, *service_braking, *own_deceleration, *stops_within, *push_at_most, *push_from;
    int unsure; /* rules that nobody can say of */
    char missing[160];
} dd_required;
void dd_rules_required(const dd_rules *rules, const dd_rule_figures *figures, dd_required *required);

/* Nearest thresholds of the brake rules for these trailers on this basis: above (value <= it), below (value > it); NaN: none. */
void dd_rules_thresholds(const dd_rules *rules, const dd_rule_figures *figures, int basis, double *next, double *last);
#endif
