/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of the structs of drawdock/case.h that no folder above owns: start and limits. The steps are in lib/crew/steps.c. */
#include "lib/case/case.h"

/* The middle of a row for a quantity: field, dimension, unit shown and range. */
#define QUANTITY(structure, field, dimension_, unit_, least_, most_)                                                           \
    .type = DD_KEY_QUANTITY, .dimension = dimension_, .offset = offsetof(structure, field), .unit = unit_, .least = least_,    \
    .most = most_
#define DEFAULT(value, source_) .fallback = value, .source = source_
#define NOT_USED(words) .fallback = NAN, .fallback_text = words, .source = "the program"

static const char *const up_or_down[] = {"up", "down", NULL};
static const char *const off_or_on[] = {"off", "on", NULL};
#define SWITCH(field, names, words)                                                                                            \
    .type = DD_KEY_CHOICE, .offset = offsetof(dd_start, field), .choices = names, .fallback = NAN, .fallback_text = words,     \
    .source = "the program"

const dd_key dd_start_keys[] = {{.name = "hub depth",
                                 QUANTITY(dd_start, hub_depth, DD_LENGTH, "mm", -20, 5),
                                 DEFAULT(-0.3, "the program"),
                                 .help = "depth of water over the rearmost hub at the start; negative: the hub is above water"},
                                {.name = "bow distance",
                                 QUANTITY(dd_start, bow_distance, DD_LENGTH, "m", 0, 50),
                                 NOT_USED("a launch starts at the stop; a retrieve needs it"),
                                 .help = "retrieve: the bow eye seaward of the rearmost support, along the trailer"},
                                {.name = "offset to port",
                                 QUANTITY(dd_start, offset_to_port, DD_LENGTH, "mm", -10, 10),
                                 DEFAULT(0, "the program"),
                                 .help = "retrieve: the bow eye beside the trailer's centre line, > 0 to the boat's port"},
                                {.name = "heading",
                                 QUANTITY(dd_start, heading, DD_ANGLE, "deg", -1.5707963267948966, 1.5707963267948966),
                                 DEFAULT(0, "the program"),
                                 .help = "retrieve: heading of the boat against the trailer's line, > 0 bow to port"},
                                {.name = "speed",
                                 QUANTITY(dd_start, speed, DD_SPEED, "m/s", -3, 3),
                                 DEFAULT(0, "the program"),
                                 .help = "retrieve: of the boat over the ground, ahead"},
                                {.name = "engine",
                                 SWITCH(engine, up_or_down, "down if the boat drives before the engine is moved, else up"),
                                 .help = "whether the engine is up or down at the start"},
                                {.name = "strap",
                                 SWITCH(strap, off_or_on, "on for a launch, off for a retrieve"),
                                 .help = "whether the strap is hooked on at the start; off at home: friction alone holds the boat"},
                                {.name = "chain",
                                 SWITCH(chain, off_or_on, "off"),
                                 .help = "whether the safety chain is on at the start"},
                                {.name = "ties",
                                 SWITCH(ties, off_or_on, "off"),
                                 .help = "whether the transom ties are on at the start"},
                                {0}};

#define AS_IT_RESTS NOT_USED("as it comes to rest on the supports")
const dd_key dd_placed_keys[] = {{.name = "transom behind coupling",
                                  QUANTITY(dd_placed, transom_behind_coupling, DD_LENGTH, "m", 0, 30),
                                  AS_IT_RESTS,
                                  .help = "the hull's transom, at the keel, behind the coupling; for weigh, beside keel above ground"},
                                 {.name = "keel above ground",
                                  QUANTITY(dd_placed, keel_above_ground, DD_LENGTH, "mm", 0, 3),
                                  AS_IT_RESTS,
                                  .help = "the keel at the transom above flat ground, trailer level"},
                                 {.name = "trim",
                                  QUANTITY(dd_placed, trim, DD_ANGLE, "deg", -0.35, 0.35),
                                  NOT_USED("keel level with the trailer's frame"),
                                  .help = "of the keel against the trailer's frame, bow down > 0"},
                                 {0}};

static const char *const laws[] = {"compliant", "linear", NULL};
const dd_key dd_seating_keys[] = {{.name = "law",
                                   .type = DD_KEY_CHOICE,
                                   .offset = offsetof(dd_seating, law),
                                   .choices = laws,
                                   .fallback = DD_LAW_COMPLIANT,
                                   .source = "the program",
                                   .help = "of a support's load over its squash: compliant as in a run (power 1.5), or linear"},
                                  {.name = "least keel share",
                                   QUANTITY(dd_seating, least_keel_share, DD_RATIO, "%", 0, 1),
                                   NOT_USED("not checked"),
                                   .help = "share of the boat that the keel is to carry, as its maker asks"},
                                  {.name = "greatest load of a roller",
                                   QUANTITY(dd_seating, greatest_roller_load, DD_FORCE, "kN", 1, 1e6),
                                   NOT_USED("not checked"),
                                   .help = "greatest load of one roller on the hull, as its maker asks"},
                                  {.name = "source",
                                   .type = DD_KEY_TEXT,
                                   .offset = offsetof(dd_seating, source),
                                   .size = sizeof(((dd_seating *)0)->source),
                                   .fallback = NAN,
                                   .help = "who asks it: a handbook and its page"},
                                  {0}};

const dd_key dd_limits_keys[] = {
    {.name = "afloat share",
     QUANTITY(dd_limits, afloat_share, DD_RATIO, "%", 1e-5, 0.5),
     DEFAULT(0.005, "practice"),
     .help = "afloat: no support or stop carries more than this share of the hull's weight"},
    {.name = "afloat time",
     QUANTITY(dd_limits, afloat_time, DD_TIME, "s", 0, 60),
     DEFAULT(1, "practice"),
     .help = "afloat: for so long"},
    {.name = "stern lift share",
     QUANTITY(dd_limits, stern_lift_share, DD_RATIO, "%", 1e-5, 0.5),
     DEFAULT(0.005, "practice"),
     .help = "stern lifts: the rearmost support carries less than this share of the hull's weight"},
    {.name = "stop gap",
     QUANTITY(dd_limits, stop_gap, DD_LENGTH, "mm", 0, 1),
     DEFAULT(0.02, "practice"),
     .help = "clean capture: greatest gap between stem and bow stop"},
    {.name = "offset",
     QUANTITY(dd_limits, offset, DD_LENGTH, "mm", 0, 1),
     DEFAULT(0.025, "practice"),
     .help = "clean capture: greatest distance of the keel from the trailer's centre line"},
    {.name = "clearance",
     QUANTITY(dd_limits, clearance, DD_LENGTH, "mm", 0, 1),
     DEFAULT(0.05, "practice"),
     .help = "least clearance of the transom above the ground"},
    {.name = "skeg clearance",
     QUANTITY(dd_limits, skeg_clearance, DD_LENGTH, "mm", 0, 1),
     DEFAULT(0.05, "practice"),
     .help = "least clearance of skeg and propeller above the ground"},
    {.name = "coupling lift",
     QUANTITY(dd_limits, coupling_lift, DD_FORCE, "N", 0, 1e5),
     DEFAULT(1500, "practice"),
     .help = "greatest lift of the trailer on the coupling, whose latch holds it; what it takes from the rear tyres counts in their grip"},
    {.name = "height tolerance",
     QUANTITY(dd_limits, height_tolerance, DD_LENGTH, "mm", 0, 0.5),
     DEFAULT(0.01, "design memory"),
     .help = "how far off the height of a support may be, either way, when bands are run"},
    {.name = "push force",
     QUANTITY(dd_limits, push_force, DD_FORCE, "N", 0, 2000),
     DEFAULT(200, "push guideline"),
     .help = "greatest push by a person"},
    {.name = "grip share",
     QUANTITY(dd_limits, grip_low, DD_RATIO, "%", 0.01, 10),
     DEFAULT(1, "the program"),
     .help = "greatest share of the lower end of the surface's friction band that the wheels may need"},
    {0}};
