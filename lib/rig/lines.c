/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Safety chain and transom ties: keys. */
#include "lib/rig/lines.h"
#include <math.h>

static const double unrated_chain = 10000, unrated_tie = 5000; /* N */

double dd_chain_rigidity(const dd_chain_parameters *chain)
{
    return (isnan(chain->rating) ? unrated_chain : chain->rating) / chain->stretch_at_rating;
}

double dd_tie_rigidity(const dd_ties_parameters *ties)
{
    return (isnan(ties->rating) ? unrated_tie : ties->rating) / ties->stretch_at_rating;
}

#define QUANTITY .type = DD_KEY_QUANTITY
#define LENGTH .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH

#define FIELD(field) .offset = offsetof(dd_chain_parameters, field)
/* clang-format off */
const dd_key dd_chain_keys[] = {
    {.name = "slack at home", LENGTH, FIELD(slack_at_home), .least = 0, .most = 5, .fallback = NAN,
     .fallback_text = "no safety chain", .source = "the program", .unit = "mm",
     .help = "how much longer the chain is than the way from its post to the bow eye at the stop"},
    {.name = "above ground", LENGTH, FIELD(above_ground), .least = 0, .most = 3, .fallback = 0.7, .source = "design memory",
     .help = "where the chain is fast on the winch post, above flat ground"},
    {.name = "rating", QUANTITY, .dimension = DD_FORCE, FIELD(rating), .least = 10, .most = 1e6, .fallback = NAN,
     .fallback_text = "not checked; it stretches as one of 10 kN", .source = "line figures", .help = "working load of the chain"},
    {.name = "stretch at rating", QUANTITY, .dimension = DD_RATIO, FIELD(stretch_at_rating), .least = 1e-4, .most = 0.5,
     .fallback = 0.01, .source = "line figures", .help = "stretch of chain and post at its rating, share of its length"},
    {.name = "damping ratio", QUANTITY, .dimension = DD_RATIO, FIELD(damping_ratio), .least = 0, .most = 2, .fallback = 0.05,
     .source = "line figures", .help = "damping with the boat on it, share of critical"},
    {.name = "break strength", QUANTITY, .dimension = DD_FORCE, FIELD(break_strength), .least = 10, .most = 1e6, .fallback = NAN,
     .fallback_text = "not checked", .source = "the program", .help = "force at which the chain breaks, new"},
    {0}};
/* clang-format on */
#undef FIELD

#define FIELD(field) .offset = offsetof(dd_ties_parameters, field)
/* clang-format off */
const dd_key dd_ties_keys[] = {
    {.name = "behind coupling", LENGTH, FIELD(behind_coupling), .least = 0.1, .most = 30, .fallback = NAN,
     .fallback_text = "no transom ties", .source = "the program", .help = "where the ties are fast on the trailer, behind the coupling"},
    {.name = "half spacing", LENGTH, FIELD(half_spacing), .least = 0, .most = 2, .fallback = 0.6, .source = "line figures",
     .unit = "mm", .help = "from the trailer's centre line to each tie's end on the trailer"},
    {.name = "above ground", LENGTH, FIELD(above_ground), .least = 0, .most = 3, .fallback = 0.45, .source = "line figures",
     .help = "where the ties are fast on the trailer, above flat ground"},
    {.name = "pretension", QUANTITY, .dimension = DD_FORCE, FIELD(pretension), .least = 0, .most = 20000, .fallback = 200,
     .source = "line figures", .help = "tension of each tie with the boat lying level at home"},
    {.name = "rating", QUANTITY, .dimension = DD_FORCE, FIELD(rating), .least = 10, .most = 1e6, .fallback = NAN,
     .fallback_text = "not checked; it stretches as one of 5 kN", .source = "line figures", .help = "working load of each tie"},
    {.name = "stretch at rating", QUANTITY, .dimension = DD_RATIO, FIELD(stretch_at_rating), .least = 1e-4, .most = 0.5,
     .fallback = 0.07, .source = "webbing stretch", .help = "stretch at its rating, share of its length"},
    {.name = "damping ratio", QUANTITY, .dimension = DD_RATIO, FIELD(damping_ratio), .least = 0, .most = 2, .fallback = 0.05,
     .source = "line figures", .help = "damping with the boat on it, share of critical"},
    {.name = "break strength", QUANTITY, .dimension = DD_FORCE, FIELD(break_strength), .least = 10, .most = 1e6, .fallback = NAN,
     .fallback_text = "not checked", .source = "the program", .help = "force at which a tie breaks, new"},
    {0}};
/* clang-format on */
#undef FIELD
