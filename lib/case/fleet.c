/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of dd_fleet: what `fleet` is asked. */
#include "lib/case/case.h"

#define AT(structure, field) .offset = offsetof(structure, field)
#define QUANTITY(structure, field, dimension_, unit_, least_, most_) \
    .type = DD_KEY_QUANTITY, .dimension = dimension_, AT(structure, field), .unit = unit_, .least = least_, .most = most_
#define COUNT(structure, field, least_, most_) .type = DD_KEY_COUNT, AT(structure, field), .least = least_, .most = most_
#define TEXT(structure, field) .type = DD_KEY_TEXT, AT(structure, field), .size = sizeof(((structure *)0)->field), .fallback = NAN, .least = -INFINITY, .most = INFINITY
#define LIST(structure, field, count, rows_, capacity_) \
    .type = DD_KEY_LIST, AT(structure, field), .rows = rows_, .size = sizeof(((structure *)0)->field[0]), .count_offset = offsetof(structure, count), \
    .capacity = capacity_, .fallback = NAN, .least = -INFINITY, .most = INFINITY
#define DEFAULT(value, source_) .fallback = value, .source = source_
#define NOT_USED(words) .fallback = NAN, .fallback_text = words, .source = "the program"

/* clang-format off */
static const dd_key rig_keys[] = {
    {.name = "name", TEXT(dd_fleet_rig, name), .required = true, .help = "of the rig"},
    {.name = "launch", TEXT(dd_fleet_rig, launch), .help = "scenario file of its launch, from this file's folder or the shipped ones; its boat, trailer, vehicle, limits and procedure count"},
    {.name = "retrieve", TEXT(dd_fleet_rig, retrieve), .help = "scenario file of its retrieve, likewise"},
    {.name = "count", QUANTITY(dd_fleet_rig, count, DD_NUMBER, NULL, 1e-6, 1e6), DEFAULT(1, "the program"), .help = "how many of them, or their weight"},
    {0}};
static const dd_key sampled_keys[] = {
    {.name = "rigs", COUNT(dd_fleet_sampled, rigs, 0, DD_FLEET_MOST_SAMPLED), DEFAULT(0, "the program"), .help = "how many rigs are drawn; they take the place of those they are drawn from"},
    {.name = "seed", COUNT(dd_fleet_sampled, seed, 0, 1000000000), DEFAULT(1, "the program"), .help = "of the draw: the same rigs each time"},
    {.name = "least length", QUANTITY(dd_fleet_sampled, least_length, DD_LENGTH, "m", 2, 15), NOT_USED("the shortest of the list"), .help = "of the boats' hulls"},
    {.name = "likely length", QUANTITY(dd_fleet_sampled, likely_length, DD_LENGTH, "m", 2, 15), NOT_USED("half way"), .help = "where lengths are most frequent: a triangle"},
    {.name = "most length", QUANTITY(dd_fleet_sampled, most_length, DD_LENGTH, "m", 2, 15), NOT_USED("the longest of the list"), .help = "of the boats' hulls"},
    {.name = "mass within", QUANTITY(dd_fleet_sampled, mass_within, DD_RATIO, "%", 0, 0.5), DEFAULT(0.15, "practice"), .help = "by which boats and trailers of one length differ, either way, evenly"},
    {0}};
static const dd_key variant_keys[] = {
    {.name = "name", TEXT(dd_fleet_variant, name), .required = true, .help = "of the changed ramp"},
    {.name = "toe lower by", QUANTITY(dd_fleet_variant, toe_lower_by, DD_LENGTH, "m", -5, 5), NOT_USED("as it is"), .help = "the slab goes on at the slope of its end until its toe is so much lower"},
    {.name = "longer by", QUANTITY(dd_fleet_variant, longer_by, DD_LENGTH, "m", -50, 50), NOT_USED("as it is"), .help = "the slab goes on at the slope of its end for so far along it"},
    {.name = "slope", QUANTITY(dd_fleet_variant, slope, DD_SLOPE, "%", 0.01, 0.5), NOT_USED("as it is"), .help = "of the slab between the same levels of crest and toe; of a ramp given by its slope"},
    {0}};
static const dd_key later_keys[] = {
    {.name = "year", COUNT(dd_fleet_later, year, 1700, 2300), .required = true, .fallback = NAN, .help = "for which the rise is expected"},
    {.name = "rise", QUANTITY(dd_fleet_later, rise, DD_LENGTH, "m", -5, 5), .required = true, .fallback = NAN, .help = "of the mean sea level until then, above that of the water given"},
    {0}};

const dd_key dd_fleet_keys[] = {
    {.name = "own", QUANTITY(dd_fleet, own, DD_NUMBER, NULL, 0, 1e6), DEFAULT(1, "the program"), .help = "how many rigs as this scenario's own belong to the fleet"},
    {.name = "rigs", LIST(dd_fleet, rigs, rig_count, rig_keys, DD_FLEET_RIGS), .help = "the other rigs that use the ramp"},
    {.name = "sampled", .type = DD_KEY_BLOCK, AT(dd_fleet, sampled), .rows = sampled_keys, .fallback = NAN, .least = -INFINITY, .most = INFINITY, .help = "rigs drawn at random by length and mass, each one of the fleet's rigs scaled"},
    {.name = "variants", LIST(dd_fleet, variants, variant_count, variant_keys, DD_FLEET_VARIANTS), .help = "how the ramp could be changed"},
    {.name = "later", LIST(dd_fleet, later, later_count, later_keys, DD_FLEET_LATER), .help = "the sea in later years"},
    {.name = "share wanted", QUANTITY(dd_fleet, share_wanted, DD_RATIO, "%", 0.01, 1), DEFAULT(0.9, "practice"), .help = "of the fleet that is to be able to launch, and to retrieve: at less the ramp would be closed"},
    {.name = "lane width", QUANTITY(dd_fleet, lane_width, DD_LENGTH, "m", 1, 30), NOT_USED("not checked"), .help = "of one lane of the slab"},
    {.name = "lanes", COUNT(dd_fleet, lanes, 1, 50), DEFAULT(1, "the program"), .help = "beside each other"},
    {.name = "time on the ramp", QUANTITY(dd_fleet, time_on_ramp, DD_TIME, "s", 10, 7200), DEFAULT(120, "practice"), .help = "of one launch or retrieve: two people 90 s, one alone 120 s with all made ready before"},
    {0}};
/* clang-format on */
