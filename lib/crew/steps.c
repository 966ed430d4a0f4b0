/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/crew/steps.h"

#define CONDITION(key, field, dim, low, high, text)                                                                        \
    {.name = key, .type = DD_KEY_QUANTITY, .dimension = dim, .offset = offsetof(dd_until, field), .least = low, .most = high, \
     .fallback = NAN, .fallback_text = "not used", .source = "the program", .help = text}

const dd_key dd_until_keys[] = {
    CONDITION("hub depth", hub_depth, DD_LENGTH, -20, 20, "water over the trailer's rearmost hub; negative: above the water"),
    CONDITION("rear support depth", rear_support_depth, DD_LENGTH, -20, 20, "water over the top of the rearmost support"),
    CONDITION("after", after, DD_TIME, 0, 86400, "time since the step began"),
    CONDITION("distance clear", distance_clear, DD_LENGTH, 0, 50, "bow eye seaward of the rearmost support, along the trailer"),
    CONDITION("water clear", water_clear, DD_LENGTH, -20, 20, "height of the rearmost hub above the water"),
    {.name = "afloat", .type = DD_KEY_FLAG, .offset = offsetof(dd_until, afloat), .least = 0, .most = 1, .fallback = 0,
     .source = "the program", .help = "nothing of the trailer carries the boat any more"},
    {.name = "at the stop", .type = DD_KEY_FLAG, .offset = offsetof(dd_until, at_the_stop), .least = 0, .most = 1, .fallback = 0,
     .source = "the program", .help = "the bow is home against its stop"},
    {0}};

#define TIME_LIMIT                                                                                                         \
    {.name = "time limit", .type = DD_KEY_QUANTITY, .dimension = DD_TIME, .offset = offsetof(dd_step, time_limit), .least = 0.1, \
     .most = 3600, .fallback = 120, .source = "the program", .help = "the run ends with a failure when the step takes longer"}
#define UNTIL                                                                                                              \
    {.name = "until", .type = DD_KEY_BLOCK, .offset = offsetof(dd_step, until), .rows = dd_until_keys, .size = sizeof(dd_until), \
     .help = "what ends the step: the first of these that comes true; none given: what the action aims at"}
#define QUANTITY(key, field, dim, low, high, value, origin, text)                                                          \
    {.name = key, .type = DD_KEY_QUANTITY, .dimension = dim, .offset = offsetof(dd_step, field), .least = low, .most = high, \
     .fallback = value, .source = origin, .help = text}

static const dd_key driving[] = {
    QUANTITY("speed", speed, DD_SPEED, 0.01, 5, 0.6, "practice", "of the rig along the ramp"),
    QUANTITY("acceleration", acceleration, DD_ACCELERATION, 0.01, 3, 0.4, "practice", "when it starts and stops"),
    UNTIL, TIME_LIMIT, {0}};
static const dd_key stopping[] = {
    QUANTITY("acceleration", acceleration, DD_ACCELERATION, 0.01, 3, 0.4, "practice", "when it stops"),
    TIME_LIMIT, {0}};
static const dd_key plain[] = {TIME_LIMIT, {0}};
static const dd_key pushing[] = {
    QUANTITY("force", force, DD_FORCE, 1, 2000, 100, "push guideline", "a person's push on the bow, seaward"),
    UNTIL, TIME_LIMIT, {0}};
static const dd_key winding[] = {
    {.name = "speed", .type = DD_KEY_QUANTITY, .dimension = DD_SPEED, .offset = offsetof(dd_step, speed), .least = 0.005,
     .most = 1, .fallback = NAN, .fallback_text = "the winch's speed", .source = "crank guideline",
     .help = "of the strap at the drum"},
    UNTIL, TIME_LIMIT, {0}};
static const dd_key waiting[] = {UNTIL, TIME_LIMIT, {0}};

const dd_key_variant dd_step_variants[] = {
    [DD_STEP_BACK_DOWN] = {"back down", "drive the rig down the ramp, then stop it and set the brake", driving},
    [DD_STEP_STOP] = {"stop", "stop the rig and set the brake", stopping},
    [DD_STEP_STRAP_OFF] = {"let strap off", "unhook the strap from the bow eye", plain},
    [DD_STEP_PUSH_OFF] = {"push off", "a person pushes the boat off, seaward", pushing},
    [DD_STEP_HOOK_ON] = {"hook on", "hook the strap to the bow eye", plain},
    [DD_STEP_WIND_IN] = {"wind in", "wind the boat in with the winch", winding},
    [DD_STEP_PULL_OUT] = {"pull out", "drive the rig up the ramp, then stop it and set the brake", driving},
    [DD_STEP_WAIT] = {"wait", "do nothing", waiting},
    {0}};
