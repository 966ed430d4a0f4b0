/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keys of the block `boat`, of its stations and of things aboard. */
#include "lib/hull/lines.h"

#define QUANTITY .type = DD_KEY_QUANTITY
#define HULL(field) .offset = offsetof(dd_hull_parameters, field)
#define STATION(field) .offset = offsetof(dd_station, field)
#define ESTIMATED(text) .fallback = NAN, .fallback_text = text, .source = "design memory"
#define LENGTH_WITHIN(low, high) QUANTITY, .dimension = DD_LENGTH, .least = low, .most = high

#define ANGLE_WITHIN QUANTITY, .dimension = DD_ANGLE, .least = 0, .most = 1.5533430342749535 /* 89 deg */, .unit = "deg"

static const char *const lengths[] = {"hull", "overall", NULL};
static const char *const masses[] = {"bare hull", "hull and engine", "ready to go", NULL};
static const char *const line_kinds[] = {"curved", "straight", NULL};

static const dd_key water_keys[] = {
    {.name = "mass", QUANTITY, .dimension = DD_MASS, .offset = offsetof(dd_water_aboard, mass), .least = 0, .most = 1e6, .fallback = 0,
     .source = "the program", .help = "mass of the water; a swamped boat holds as much as floats it at its sheer"},
    {.name = "from transom", LENGTH_WITHIN(-500, 500), .offset = offsetof(dd_water_aboard, from_transom), .fallback = NAN,
     .fallback_text = "0.15 of the length", .source = "the program", .help = "its centre, forward of the transom"},
    {.name = "height", LENGTH_WITHIN(-50, 50), .offset = offsetof(dd_water_aboard, height), .fallback = NAN,
     .fallback_text = "as it stands in a bottom of the transom's deadrise, over 0.3 of the length", .source = "the program",
     .help = "its centre, above the keel at the transom"},
    {0}};

static const dd_key station_keys[] = {
    {.name = "at", LENGTH_WITHIN(-500, 500), STATION(at), .fallback = NAN, .required = true, .help = "distance forward of the transom"},
    {.name = "keel height", LENGTH_WITHIN(-50, 50), STATION(keel_height), .fallback = NAN, .required = true,
     .help = "height of the keel above its height at the transom"},
    {.name = "strake half breadths", .type = DD_KEY_QUANTITIES, .dimension = DD_LENGTH, .least = 0, .most = 50,
     STATION(strake_half_breadth), .count_offset = offsetof(dd_station, strake_half_breadth_count), .capacity = DD_STRAKES,
     .fallback = NAN, .fallback_text = "no strakes", .source = "the program",
     .help = "half-breadths of strake edges from the keel out, the same number at all stations"},
    {.name = "strake heights", .type = DD_KEY_QUANTITIES, .dimension = DD_LENGTH, .least = -50, .most = 50, STATION(strake_height),
     .count_offset = offsetof(dd_station, strake_height_count), .capacity = DD_STRAKES, .fallback = NAN,
     .fallback_text = "no strakes", .source = "the program", .help = "their heights, in the same order"},
    {.name = "chine half breadth", LENGTH_WITHIN(0, 50), STATION(chine_half_breadth), .fallback = NAN, .required = true,
     .help = "half-breadth of the chine"},
    {.name = "chine height", LENGTH_WITHIN(-50, 50), STATION(chine_height), .fallback = NAN, .required = true,
     .help = "height of the chine"},
    {.name = "sheer half breadth", LENGTH_WITHIN(0, 50), STATION(sheer_half_breadth), .fallback = NAN, .required = true,
     .help = "half-breadth of the sheer"},
    {.name = "sheer height", LENGTH_WITHIN(-50, 50), STATION(sheer_height), .fallback = NAN, .required = true,
     .help = "height of the sheer, where the hull is taken as closed by a deck"},
    {0}};

#define RAIL(field) .offset = offsetof(dd_rail, field)
static const dd_key rail_keys[] = {
    {.name = "name", .type = DD_KEY_TEXT, RAIL(name), .size = sizeof(((dd_rail *)0)->name), .fallback = NAN, .required = true,
     .help = "name of the strake"},
    {.name = "at", .type = DD_KEY_QUANTITIES, .dimension = DD_LENGTH, .least = -500, .most = 500, RAIL(at),
     .count_offset = offsetof(dd_rail, at_count), .capacity = DD_RAIL_POINTS, .fallback = NAN, .required = true,
     .help = "points along it, forward of the transom, from its aft end to its fore end"},
    {.name = "half breadths", .type = DD_KEY_QUANTITIES, .dimension = DD_LENGTH, .least = 0, .most = 50, RAIL(half_breadth),
     .count_offset = offsetof(dd_rail, half_breadth_count), .capacity = DD_RAIL_POINTS, .fallback = NAN, .required = true, .unit = "mm",
     .help = "of its middle at each of these points, level from the middle plane; straight between them"},
    {.name = "width", LENGTH_WITHIN(1e-4, 1), RAIL(width), .fallback = NAN, .required = true, .unit = "mm", .help = "across the boat, level"},
    {.name = "height", LENGTH_WITHIN(1e-4, 0.5), RAIL(height), .fallback = NAN,
     .fallback_text = "unknown: whatever comes under it is caught", .source = "the program", .unit = "mm", .help = "that it stands out of the bottom"},
    {0}};

const dd_key dd_hull_keys[] = {
    {.name = "name", .type = DD_KEY_TEXT, HULL(name), .size = sizeof(((dd_hull_parameters *)0)->name), .fallback = NAN,
     .help = "name of the boat"},
    {.name = "length", LENGTH_WITHIN(1, 500), HULL(length), .fallback = NAN, .fallback_text = "from the stations; needed without them",
     .source = "the program", .help = "length as in the brochure"},
    {.name = "length of", .type = DD_KEY_CHOICE, HULL(length_of), .fallback = NAN, .fallback_text = "needed with length",
     .source = "the program", .choices = lengths, .help = "what the length measures: the hull, or overall with pod or platform"},
    {.name = "platform length", LENGTH_WITHIN(0, 50), HULL(platform_length), .fallback = 0, .source = "the program",
     .help = "pod, platform or bowsprit counted in an overall length"},
    {.name = "beam", LENGTH_WITHIN(0.3, 100), HULL(beam), .fallback = NAN, .fallback_text = "from the stations; needed without them",
     .source = "the program", .help = "greatest beam, at the sheer"},
    {.name = "transom deadrise", ANGLE_WITHIN, HULL(transom_deadrise), .fallback = NAN,
     .fallback_text = "from the stations; needed without them", .source = "the program", .help = "rise of the bottom at the transom"},
    {.name = "mass", QUANTITY, .dimension = DD_MASS, HULL(mass), .least = 1, .most = 1e8, .fallback = NAN, .required = true,
     .help = "mass as in the brochure"},
    {.name = "mass of", .type = DD_KEY_CHOICE, HULL(mass_of), .fallback = NAN, .required = true, .choices = masses,
     .help = "what the mass counts: bare hull, hull and engine, or ready to go"},
    {.name = "engine power", QUANTITY, .dimension = DD_POWER, HULL(engine_power), .least = 0, .most = 1e7, .fallback = NAN,
     .required = true, .unit = "kW", .help = "power of the outboard engine or engines together; 0 for none"},
    {.name = "engine mass", QUANTITY, .dimension = DD_MASS, HULL(engine_mass), .least = 0, .most = 1e6, .fallback = NAN,
     .fallback_text = "by power", .source = "outboard weights", .help = "mass of the engine or engines, running"},
    {.name = "chine beam", LENGTH_WITHIN(0.1, 100), HULL(chine_beam), ESTIMATED("0.82 of the beam"), .help = "greatest beam at the chine"},
    {.name = "midships deadrise", ANGLE_WITHIN, HULL(midships_deadrise), ESTIMATED("transom deadrise + 3 deg"),
     .help = "rise of the bottom at half length"},
    {.name = "bow deadrise", ANGLE_WITHIN, HULL(bow_deadrise), ESTIMATED("midships deadrise + 15 deg"),
     .help = "rise of the bottom at 0.8 of the length"},
    {.name = "keel rise", LENGTH_WITHIN(0, 50), HULL(keel_rise), ESTIMATED("0.55 of the bow sheer height"),
     .help = "height to which the keel line rises at the stem"},
    {.name = "transom sheer height", LENGTH_WITHIN(0.01, 50), HULL(transom_sheer_height), ESTIMATED("0.155 of the length"),
     .help = "height of the sheer at the transom above the keel"},
    {.name = "midships sheer height", LENGTH_WITHIN(0.01, 50), HULL(midships_sheer_height), ESTIMATED("0.17 of the length"),
     .help = "height of the sheer at half length above the keel at the transom"},
    {.name = "bow sheer height", LENGTH_WITHIN(0.01, 50), HULL(bow_sheer_height), ESTIMATED("1.25 of the midships sheer height"),
     .help = "height of the sheer at the bow above the keel at the transom"},
    {.name = "centre from transom", LENGTH_WITHIN(-500, 500), HULL(centre_from_transom), ESTIMATED("0.40 of the length"),
     .help = "centre of the whole mass, forward of the transom"},
    {.name = "centre height", LENGTH_WITHIN(-50, 50), HULL(centre_height), ESTIMATED("half the midships sheer height"),
     .help = "centre of the whole mass, above the keel at the transom"},
    {.name = "centre to port", LENGTH_WITHIN(-5, 5), HULL(centre_to_port), .fallback = 0, .source = "the program", .unit = "mm",
     .help = "centre of the whole mass, to port of the middle"},
    {.name = "roll radius", LENGTH_WITHIN(0.01, 100), HULL(roll_radius), ESTIMATED("0.35 of the beam"),
     .help = "radius of gyration in roll, about the centre"},
    {.name = "pitch radius", LENGTH_WITHIN(0.01, 500), HULL(pitch_radius), ESTIMATED("0.25 of the length"),
     .help = "radius of gyration in pitch, about the centre"},
    {.name = "yaw radius", LENGTH_WITHIN(0.01, 500), HULL(yaw_radius), ESTIMATED("0.25 of the length"),
     .help = "radius of gyration in yaw, about the centre"},
    {.name = "bow eye from transom", LENGTH_WITHIN(-500, 500), HULL(bow_eye_from_transom), ESTIMATED("on the stem at the bow eye's height"),
     .help = "bow eye, forward of the transom"},
    {.name = "bow eye height", LENGTH_WITHIN(-50, 50), HULL(bow_eye_height), ESTIMATED("0.85 of the keel rise"),
     .help = "bow eye, above the keel at the transom"},
    {.name = "skeg depth", LENGTH_WITHIN(0, 5), HULL(skeg_depth), ESTIMATED("320 mm with an engine"),
     .help = "lowest point of skeg or propeller below the keel line, engine down"},
    {.name = "bending stiffness", QUANTITY, .dimension = DD_BENDING_STIFFNESS, HULL(bending_stiffness), .least = 1, .most = 1e12, .fallback = NAN,
     .fallback_text = "rigid", .source = "the program", .unit = "kN m2", .help = "of the hull as a beam (E I), for the loads that seat finds; runs take it as rigid"},
    {.name = "lines", .type = DD_KEY_CHOICE, HULL(lines), .fallback = DD_LINES_CURVED, .source = "the program", .choices = line_kinds,
     .help = "curved: splines through the stations; straight: straight between them"},
    {.name = "stations", .type = DD_KEY_LIST, HULL(stations), .rows = station_keys, .size = sizeof(dd_station), .fallback = NAN,
     .count_offset = offsetof(dd_hull_parameters, station_count), .capacity = DD_STATIONS, .fallback_text = "made from the brochure figures",
     .source = "the program", .help = "measured sections from the transom forward, instead of the brochure's form"},
    {.name = "strakes", .type = DD_KEY_LIST, HULL(rails), .rows = rail_keys, .size = sizeof(dd_rail), .fallback = NAN,
     .count_offset = offsetof(dd_hull_parameters, rail_count), .capacity = DD_RAILS, .fallback_text = "not given: what they catch is not checked",
     .source = "the program", .help = "rails on the bottom, alike on both sides, for what seat says of the supports beside them"},
    {.name = "items", .type = DD_KEY_LIST, HULL(items), .rows = dd_item_keys, .size = sizeof(dd_item), .fallback = NAN,
     .count_offset = offsetof(dd_hull_parameters, item_count), .capacity = DD_ABOARD, .fallback_text = "nothing", .source = "the program",
     .help = "things aboard that the mass does not count"},
    {.name = "water aboard", .type = DD_KEY_BLOCK, HULL(water_aboard), .rows = water_keys, .fallback = NAN,
     .help = "water in the bilge or a swamped boat, as a mass that does not flow: its free surface is neglected"},
    {0}};
