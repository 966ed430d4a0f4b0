/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is aboard: mass by a figure, by a tank's volume or by who it is; its keys and the rule across them. */
#include "lib/base/error.h"
#include "lib/base/vector.h"
#include "lib/hull/lines.h"
#include <math.h>
#include <stdio.h>
#include <string.h>

#define QUANTITY .type = DD_KEY_QUANTITY
#define ITEM(field) .offset = offsetof(dd_item, field)
#define LEFT_OUT(text, source_) .fallback = NAN, .fallback_text = text, .source = source_
#define MASS_WITHIN QUANTITY, .dimension = DD_MASS, .least = 0, .most = 1e6

const double dd_tank_full = 0.95;       /* "mass conventions" */
static const double guess = 0.25;       /* share either way of a mass that is an estimate */
static const double mass_of_person[] = {75, 37.5}; /* DD_ITEM_...; "mass conventions" */

static const char *const kinds[] = {"adult", "child", NULL};
static const char *const contents[] = {"petrol", "diesel", "fresh water", "sea water", "oil", "ice", "live fish in water", NULL};
/* kg/m3 of DD_CONTENTS_...: fuels in the middle of their standards' bands, waters and oil from public tables, ice in a block; a
   well of fish is taken as sea water, since fish very nearly float. */
static const struct {
    double density;
    int flows;
} stuff[] = {{747.5, 1}, {832.5, 1}, {1000, 1}, {1025, 1}, {910, 1}, {917, 0}, {1025, 1}};

const dd_key dd_item_keys[] = {
    {.name = "item", .type = DD_KEY_TEXT, ITEM(item), .size = sizeof(((dd_item *)0)->item), .fallback = NAN,
     .help = "what it is: fuel, battery, ice box, skipper"},
    {.name = "mass", MASS_WITHIN, ITEM(mass), LEFT_OUT("by volume and contents, or by kind", "mass conventions"), .help = "its mass, of each if it is several"},
    {.name = "at", .type = DD_KEY_QUANTITIES, .dimension = DD_LENGTH, ITEM(at), .least = -500, .most = 500,
     .count_offset = offsetof(dd_item, at_count), .capacity = 3, LEFT_OUT("at the boat's centre of mass", "the program"),
     .help = "where, from keel at transom: forward, to port, up"},
    {.name = "count", .type = DD_KEY_COUNT, ITEM(count), .least = 1, .most = 1000, LEFT_OUT("one", "the program"),
     .help = "how many pieces or people, all at that place"},
    {.name = "kind", .type = DD_KEY_CHOICE, ITEM(kind), .choices = kinds, LEFT_OUT("a thing", "the program"),
     .help = "a person, by the convention's mass: adult 75 kg, child 37.5 kg"},
    {.name = "volume", QUANTITY, .dimension = DD_VOLUME, ITEM(volume), .least = 0, .most = 1e3, .unit = "L",
     LEFT_OUT("by mass", "the program"), .help = "of the tank, box or well, instead of the mass of what is in it"},
    {.name = "fill", QUANTITY, .dimension = DD_RATIO, ITEM(fill), .least = 0, .most = 1, .unit = "%",
     LEFT_OUT("95 % of the volume", "mass conventions"), .help = "share of the volume that is filled; a partly filled one has a free surface"},
    {.name = "contents", .type = DD_KEY_CHOICE, ITEM(contents), .choices = contents, LEFT_OUT("needed with a volume, or the density", "the program"),
     .help = "what is in it"},
    {.name = "density", QUANTITY, .dimension = DD_DENSITY, ITEM(density), .least = 1, .most = 2e4,
     LEFT_OUT("that of the contents", "densities"), .help = "of what is in it: petrol 748, diesel 833, water 1000, sea water 1025, oil 910, ice 917 kg/m3"},
    {.name = "estimate", .type = DD_KEY_FLAG, ITEM(estimate), LEFT_OUT("no, unless mass low or high is given", "the program"),
     .help = "the mass is a guess: marked as one, within 25 % either way unless mass low and high say better"},
    {.name = "mass low", MASS_WITHIN, ITEM(mass_low), LEFT_OUT("25 % below a guess", "guess aboard"), .help = "least that it may be, of each"},
    {.name = "mass high", MASS_WITHIN, ITEM(mass_high), LEFT_OUT("25 % above a guess", "guess aboard"), .help = "most that it may be, of each"},
    {0}};

void dd_item_defaults(dd_item *item)
{
    memset(item, 0, sizeof *item);
    dd_key_clear(dd_item_keys, item);
}

static double mass_of_each(const dd_item *item)
{
    if (isfinite(item->mass)) return item->mass;
    if (item->kind == DD_ITEM_ADULT || item->kind == DD_ITEM_CHILD) return mass_of_person[item->kind];
    const double density = isnan(item->density) && item->contents >= 0 ? stuff[item->contents].density : item->density;
    return item->volume * (isnan(item->fill) ? dd_tank_full : item->fill) * density;
}

static double of_all(const dd_item *item, double each) { return item->count > 1 ? item->count * each : each; }

double dd_item_mass(const dd_item *item) { return of_all(item, mass_of_each(item)); }

double dd_item_mass_filled(const dd_item *tank, double fill)
{
    dd_item other = *tank;
    other.fill = fill;
    return dd_item_mass(&other);
}

dd_estimate dd_item_estimate(const dd_item *item)
{
    const double each = mass_of_each(item), likely = of_all(item, each);
    const int guessed = item->estimate == 1;
    if (!guessed && isnan(item->mass_low) && isnan(item->mass_high)) return (dd_estimate){likely, likely, likely, 1, "given"};
    const double other_end = guessed ? guess : 0;
    return (dd_estimate){.low = of_all(item, isnan(item->mass_low) ? (1 - other_end) * each : item->mass_low),
                         .likely = likely,
                         .high = of_all(item, isnan(item->mass_high) ? (1 + other_end) * each : item->mass_high),
                         .source = "guess aboard"};
}

dd_vec3 dd_item_centre(const dd_item *item, dd_vec3 boat_centre)
{
    return item->at_count == 3 ? dd_vec(item->at[0], item->at[1], item->at[2]) : boat_centre;
}

int dd_item_free_surface(const dd_item *item)
{
    const int flows = item->contents >= 0 ? stuff[item->contents].flows : isfinite(item->density);
    return isfinite(item->volume) && flows && item->fill > 0 && item->fill < dd_tank_full; /* not given: full, and false */
}

static bool is_of_one_kind(const dd_item *item, char *message, size_t size)
{
    const bool mass = isfinite(item->mass), volume = isfinite(item->volume), person = item->kind >= 0,
               matter = item->contents >= 0 || isfinite(item->density);
    if (!mass && !volume && !person)
        snprintf(message, size, "no mass given, expected mass, or volume with contents, or kind: adult or child");
    else if (volume && (mass || person))
        snprintf(message, size, "found a volume and a %s, expected one of the two: the mass follows from the volume", mass ? "mass" : "kind");
    else if (volume && !matter)
        snprintf(message, size, "found a volume without contents, expected contents or density");
    else if (!volume && (matter || isfinite(item->fill)))
        snprintf(message, size, "found %s without a volume, expected the volume of the tank", matter ? "contents" : "fill");
    else
        return true;
    return false;
}

bool dd_item_check(const dd_item *item, char *message, size_t size)
{
    if (item->at_count != 0 && item->at_count != 3) {
        snprintf(message, size, "found %d lengths under `at`, expected 3: forward, to port, up", item->at_count);
        return false;
    }
    if (!is_of_one_kind(item, message, size)) return false;
    const double each = mass_of_each(item);
    if (item->mass_low > each || item->mass_high < each) {
        snprintf(message, size, "found %g kg outside its band, expected mass low <= mass <= mass high", each);
        return false;
    }
    if (item->estimate != 0 || (isnan(item->mass_low) && isnan(item->mass_high))) return true;
    snprintf(message, size, "found mass low or high and estimate: no, expected one of the two");
    return false;
}
