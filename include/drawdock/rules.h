/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file rules.h
 *  Rules of the road for trailers as data: by mass, which brakes and what else is required. A set is a file under rules/ or a
 *  user's own; the authority's text governs. */
#ifndef DRAWDOCK_RULES_H
#define DRAWDOCK_RULES_H
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

enum { DD_RULES = 24 };
/** Which mass a rule goes by. */
enum {
    DD_BASIS_GTM,          /**< on the trailer's axles, coupled and loaded */
    DD_BASIS_AGGREGATE,    /**< of trailer and load, uncoupled (ATM) */
    DD_BASIS_MAXIMUM,      /**< the plate's greatest mass; that of trailer and load where there is no plate */
    DD_BASIS_LADEN,        /**< of trailer and load */
    DD_BASIS_GROSS,        /**< of trailer and load, by the word of US rules */
    DD_BASIS_GROSS_RATING, /**< the plate's greatest mass alone (GVWR of the trailer) */
    DD_BASIS_COUPLING,     /**< coupling load as a mass */
    DD_BASIS_AXLE,         /**< load of the most loaded axle as a mass */
    DD_BASIS_COUNT
};
/** Which trailers a rule is for. */
enum {
    DD_FOR_ANY,
    DD_FOR_UNBRAKED,
    DD_FOR_BRAKED,
    DD_FOR_OVERRUN,     /**< also called surge brake */
    DD_FOR_SINGLE_AXLE,
    DD_FOR_CAMP         /**< living quarters: never a boat trailer */
};
/** Brakes, the stricter the later. */
enum { DD_BRAKES_NONE, DD_BRAKES_SERVICE /**< which wheels is not said */, DD_BRAKES_TWO_WHEELS, DD_BRAKES_ONE_AXLE, DD_BRAKES_ALL };
enum { DD_BREAKAWAY_NONE, DD_BREAKAWAY_CHAIN_OR_AUTOMATIC, DD_BREAKAWAY_AUTOMATIC };
enum { DD_LIMIT_MOST, DD_LIMIT_LEAST };

/** The least of what is given; NaN: not given. Of the vehicle that tows: shares of (its kerb mass + kerb_added) and of its gross mass
 *  rating; of the trailer: shares of its maximum and of its laden mass. */
typedef struct dd_mass_limit {
    double mass;                   /**< kg */
    double kerb_share, kerb_added; /**< -, kg */
    double tow_rating_share, trailer_share, laden_share; /**< of what, see above; NaN: not asked */
} dd_mass_limit;

/** One rule: whom it is for, between which masses, and what it requires. NaN, -1 and "": says nothing of it. */
typedef struct dd_rule {
    char name[64], instrument[64], seen[64], status[48]; /**< seen: date and kind of page */
    int basis, applies_to; /**< DD_MASS_... that is compared; DD_RULE_... whom it binds */
    double above, from, up_to, below; /**< > , >=, <=, <: kg */
    dd_mass_limit up_to_least;        /**< a bound (<=) that is a function */
    double speed_at_most;             /**< only for rigs driven no faster, m/s */
    int waives;                       /**< 1: what it says takes the place of what other rules say */
    int brakes, overrun, from_seat;   /**< DD_BRAKES_...; overrun brakes allowed; worked from the driver's seat */
    int breakaway;                    /**< DD_BREAKAWAY_... */
    double breakaway_time;            /**< brakes stay on so long, s */
    double breakaway_slope, park_slope; /**< that they hold on, rise over run as an angle, rad */
    int park_brake, chains, chocks;   /**< 1: asked; how many, as chocks */
    double chain_rating;              /**< each chain's designation at least, kg */
    double service_braking;           /**< force of its own brakes at least, share of its weight */
    double own_deceleration;          /**< that its own brakes give it at least, m/s2 */
    double stops_from, stops_within;  /**< the rig stops from this speed, m/s, within this way, m */
    double push_at_most, push_from;   /**< overrun push that gives the service braking; that at which the brake may start; shares of its weight */
    int limit_of, limit_kind;         /**< DD_BASIS_..., DD_LIMIT_... of the limit below */
    dd_mass_limit limit; /**< when it holds */
    char words[200];                  /**< what else it says */
} dd_rule;

/** A set of rules. Empty (no rule): nothing is asked. */
typedef struct dd_rules {
    char title[96], authority[96], seen[48], note[96]; /**< of the set; who made the rules; when they were read; what else to know */
    int units;                       /**< DD_REPORT_METRIC or _US */
    char words_gtm[32], words_aggregate[32]; /**< what the jurisdiction calls them */
    int rule_count, also_count; /**< of rules; of also */
    dd_rule rules[DD_RULES]; /**< of the set itself */
    dd_rule also[DD_RULES];          /**< added to the rules of the set it is based on; one of the same name takes its place */
} dd_rules;

/** Kinds of brake on a trailer. */
enum { DD_FITTED_NONE, DD_FITTED_OVERRUN, DD_FITTED_ELECTRIC, DD_FITTED_ELECTRIC_HYDRAULIC, DD_FITTED_FROM_VEHICLE };

/** What of brakes, breakaway and chains is on a trailer. -1, NaN: not known. */
typedef struct dd_brakes_fitted {
    int fitted;         /**< DD_FITTED_... */
    int axles;          /**< with brakes */
    int park_brake;     /**< 1: fitted */
    int breakaway;      /**< DD_BREAKAWAY_... */
    double breakaway_time; /**< s */
    int chains;         /**< how many */
    double chain_rating;   /**< of each, kg */
    double chain_break;    /**< breaking strength of each, N */
    int chocks;         /**< how many are carried */
} dd_brakes_fitted;

#ifdef __cplusplus
}
#endif
#endif
