/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of the structs that stand in drawdock/case.h: start, procedure, limits. */
#include "lib/case/case.h"
#include "lib/hull/surface.h"
#include "lib/rig/rig.h"
#include "lib/shore/shore.h"

/* The start of a row for a quantity: name, field, unit shown and range. */
#define QUANTITY(structure, field, dimension_, unit_, least_, most_) \
    .type = DD_KEY_QUANTITY, .dimension = dimension_, .offset = offsetof(structure, field), .unit = unit_, .least = least_, .most = most_
#define DEFAULT(value, source_) .fallback = value, .source = source_
#define NOT_USED(words) .fallback = NAN, .fallback_text = words, .source = "the program"
#define FLAG(structure, field) .type = DD_KEY_FLAG, .offset = offsetof(structure, field), .least = 0, .most = 1

const dd_key dd_start_keys[] = {
    {.name = "hub depth", QUANTITY(dd_start, hub_depth, DD_LENGTH, "mm", -20, 5), DEFAULT(-0.3, "the program"),
     .help = "depth of water over the rearmost hub at the start; negative: the hub is above water"},
    {.name = "bow distance", QUANTITY(dd_start, bow_distance, DD_LENGTH, "m", 0, 50),
     NOT_USED("a launch starts at the stop; a retrieve needs it"),
     .help = "retrieve: the bow eye seaward of the rearmost support, along the trailer"},
    {.name = "offset to port", QUANTITY(dd_start, offset_to_port, DD_LENGTH, "mm", -10, 10), DEFAULT(0, "the program"),
     .help = "retrieve: the bow eye beside the trailer's centre line, > 0 to the boat's port"},
    {.name = "heading", QUANTITY(dd_start, heading, DD_ANGLE, "deg", -1.5707963267948966, 1.5707963267948966),
     DEFAULT(0, "the program"), .help = "retrieve: heading of the boat against the trailer's line, > 0 bow to port"},
    {0}};

const dd_key dd_limits_keys[] = {
    {.name = "afloat share", QUANTITY(dd_limits, afloat_share, DD_RATIO, "%", 1e-5, 0.5), DEFAULT(0.005, "practice"),
     .help = "afloat: no support or stop carries more than this share of the hull's weight"},
    {.name = "afloat time", QUANTITY(dd_limits, afloat_time, DD_TIME, "s", 0, 60), DEFAULT(1, "practice"),
     .help = "afloat: for so long"},
    {.name = "stern lift share", QUANTITY(dd_limits, stern_lift_share, DD_RATIO, "%", 1e-5, 0.5), DEFAULT(0.005, "practice"),
     .help = "stern lifts: the rearmost support carries less than this share of the hull's weight"},
    {.name = "stop gap", QUANTITY(dd_limits, stop_gap, DD_LENGTH, "mm", 0, 1), DEFAULT(0.02, "practice"),
     .help = "clean capture: greatest gap between stem and bow stop"},
    {.name = "offset", QUANTITY(dd_limits, offset, DD_LENGTH, "mm", 0, 1), DEFAULT(0.025, "practice"),
     .help = "clean capture: greatest distance of the keel from the trailer's centre line"},
    {.name = "clearance", QUANTITY(dd_limits, clearance, DD_LENGTH, "mm", 0, 1), DEFAULT(0.05, "practice"),
     .help = "least clearance of the transom above the ground"},
    {.name = "skeg clearance", QUANTITY(dd_limits, skeg_clearance, DD_LENGTH, "mm", 0, 1), DEFAULT(0.05, "practice"),
     .help = "least clearance of skeg and propeller above the ground"},
    {.name = "push force", QUANTITY(dd_limits, push_force, DD_FORCE, "N", 0, 2000), DEFAULT(200, "push guideline"),
     .help = "greatest push by a person"},
    {.name = "grip share", QUANTITY(dd_limits, grip_low, DD_RATIO, "%", 0.01, 10), DEFAULT(1, "the program"),
     .help = "greatest share of the lower end of the surface's friction band that the wheels may need"},
    {0}};

#define UNTIL_ROWS \
    {.name = "hub depth", QUANTITY(dd_until, hub_depth, DD_LENGTH, "mm", -20, 5), NOT_USED("not used"), \
     .help = "ends when so much water is over the rearmost hub (backing) or less than it (pulling out); negative: the hub is above water"}, \
    {.name = "rear support depth", QUANTITY(dd_until, rear_support_depth, DD_LENGTH, "mm", -20, 5), NOT_USED("not used"), \
     .help = "ends when so much water is over the top of the rearmost support"}, \
    {.name = "distance clear", QUANTITY(dd_until, distance_clear, DD_LENGTH, "m", -20, 50), NOT_USED("not used"), \
     .help = "ends when the bow eye is so far seaward of the rearmost support, along the trailer"}, \
    {.name = "water clear", QUANTITY(dd_until, water_clear, DD_LENGTH, "mm", -5, 20), NOT_USED("not used"), \
     .help = "ends when the rearmost hub is so far above the water"}, \
    {.name = "afloat", FLAG(dd_until, afloat), NOT_USED("not used"), .help = "yes: ends when the hull is afloat"}, \
    {.name = "at the stop", FLAG(dd_until, at_the_stop), NOT_USED("not used"), \
     .help = "yes: ends when the stem is at the bow stop, within the limit 'stop gap'"}

const dd_key dd_until_keys[] = {
    UNTIL_ROWS,
    {.name = "after", QUANTITY(dd_until, after, DD_TIME, "s", 0, 3600), NOT_USED("not used"), .help = "ends after so long"},
    {0}};
/* `wait` has its time as a key of its own: `- wait: {for: 10 s}`. */
static const dd_key wait_until_keys[] = {UNTIL_ROWS, {0}};

#define UNTIL(rows_) \
    {.name = "until", .type = DD_KEY_BLOCK, .offset = offsetof(dd_step, until), .rows = rows_, .fallback = NAN, \
     .help = "when the step ends: the first that comes true"}

/* Common to all steps. */
const dd_key dd_step_keys[] = {
    {.name = "time limit", QUANTITY(dd_step, time_limit, DD_TIME, "s", 0.1, 3600), DEFAULT(180, "the program"),
     .help = "the run ends as failed when the step takes longer"},
    {0}};

static const dd_key back_down_keys[] = {
    {.name = "speed", QUANTITY(dd_step, speed, DD_SPEED, "m/s", 0.01, 5), DEFAULT(0.5, "design memory"), .help = "of the rig down the ramp"},
    {.name = "acceleration", QUANTITY(dd_step, acceleration, DD_ACCELERATION, "m/s2", 0.02, 5), DEFAULT(0.3, "design memory"),
     .help = "with which the driver reaches that speed and stops"},
    UNTIL(dd_until_keys),
    {0}};
static const dd_key stop_keys[] = {
    {.name = "acceleration", QUANTITY(dd_step, acceleration, DD_ACCELERATION, "m/s2", 0.02, 8), DEFAULT(1, "design memory"),
     .help = "with which the driver stops the rig"},
    {0}};
static const dd_key push_off_keys[] = {
    {.name = "force", QUANTITY(dd_step, force, DD_FORCE, "N", 0, 2000), DEFAULT(150, "push guideline"), .help = "of a person at the bow, seaward"},
    UNTIL(dd_until_keys),
    {0}};
static const dd_key wind_in_keys[] = {
    {.name = "speed", QUANTITY(dd_step, speed, DD_SPEED, "mm/s", 0.001, 2), .fallback = NAN, .fallback_text = "the winch's speed",
     .source = "the program", .help = "of the strap winding in"},
    UNTIL(dd_until_keys),
    {0}};
static const dd_key pull_out_keys[] = {
    {.name = "speed", QUANTITY(dd_step, speed, DD_SPEED, "m/s", 0.01, 5), DEFAULT(0.5, "design memory"), .help = "of the rig up the ramp"},
    {.name = "acceleration", QUANTITY(dd_step, acceleration, DD_ACCELERATION, "m/s2", 0.02, 5), DEFAULT(0.3, "design memory"),
     .help = "with which the driver reaches that speed and stops"},
    UNTIL(dd_until_keys),
    {0}};
static const dd_key wait_keys[] = {
    {.name = "for", QUANTITY(dd_step, until.after, DD_TIME, "s", 0, 3600), NOT_USED("not used"), .help = "how long"},
    UNTIL(wait_until_keys),
    {0}};

/* In the order of DD_STEP_... */
const dd_key_variant dd_step_kinds[] = {
    {"back down", "the driver backs the rig down the ramp", back_down_keys},
    {"stop", "the driver stops the rig and sets the brake; ends at rest", stop_keys},
    {"let strap off", "the strap is let off the bow eye", NULL},
    {"push off", "a person pushes the hull seaward until it is clear", push_off_keys},
    {"hook on", "the strap is hooked to the bow eye", NULL},
    {"wind in", "the strap is wound in; ends at the stop if nothing else is said", wind_in_keys},
    {"pull out", "the driver pulls the rig up the ramp", pull_out_keys},
    {"wait", "nothing is done", wait_keys},
    {0}};
