/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The winch by itself: its drum, its handle or motor, and what makers and advisers say its rating should be. */
#ifndef DD_RIG_WINCH_H
#define DD_RIG_WINCH_H
#include <drawdock/rig.h>

/* Fills what is not given and follows from the kind of line and of drive. */
void dd_winch_complete(dd_winch_parameters *winch);
/* Lever arm of the line on the drum, m, with `wound` m of it wound on: middle of the top layer; and its slope by `wound`. */
double dd_winch_lever(const dd_winch_parameters *winch, double wound);
double dd_winch_lever_slope(const dd_winch_parameters *winch, double wound);
/* Force at the handle that holds or winds a tension, N: tension x lever / (gear ratio x handle x efficiency). */
double dd_winch_handle_force(const dd_winch_parameters *winch, double tension, double wound);
/* Pull at which an electric winch stands still, N: on the line through its speeds without load and at its rating. */
double dd_winch_stall_pull(const dd_winch_parameters *winch);
/* Share of the most that hand or motor can wind: over 1 nobody turns it any more. */
double dd_winch_load_share(const dd_winch_parameters *winch, double tension, double wound);

/* Rules for a winch's rating, as different people publish them: none is law. */
typedef struct dd_winch_rule {
    const char *text, *source; /* the rule in words; a key of sources.def */
    double of_weight, of_pull; /* the rating is to be at least this share of the boat's weight, of the largest pull */
    double strap_of_rating;    /* the strap is to break at no less than this many times the winch's rating; 0: no such rule */
} dd_winch_rule;
int dd_winch_rule_count(void);
const dd_winch_rule *dd_winch_rule_at(int index);
/* What a rule asks for, N (of the winch's rating, or of the strap's strength), and what is there (NaN: not known). Returns 1
   when the rule holds, 0 when it does not, -1 when it cannot be told. */
int dd_winch_rule_check(const dd_winch_rule *rule, const dd_winch_parameters *winch, double boat_weight, double largest_pull,
                        double *required, double *given);
#endif
