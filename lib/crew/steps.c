/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/crew/steps.h"

static const char *const brakes[] = {"pedal", "park", "both", NULL};
static const char *const chocked[] = {"vehicle", "trailer", NULL};
static const char *const line_ends[] = {"bow eye", "port cleat", "starboard cleat", NULL};
static const char *const sides[] = {"port", "starboard", NULL};
static const char *const presets[] = {"learner", "usual", "expert", NULL};

#define CONDITION(key, field, dim, low, high, text)                                                                        \
    {.name = key, .type = DD_KEY_QUANTITY, .dimension = dim, .offset = offsetof(dd_until, field), .least = low, .most = high, \
     .fallback = NAN, .fallback_text = "not used", .source = "the program", .help = text}
#define STATE(key, field, text)                                                                                            \
    {.name = key, .type = DD_KEY_FLAG, .offset = offsetof(dd_until, field), .least = 0, .most = 1, .fallback = 0,           \
     .source = "the program", .help = text}

const dd_key dd_until_keys[] = {
    CONDITION("hub depth", hub_depth, DD_LENGTH, -20, 20, "water over the trailer's rearmost hub, at its place on the frame under rated load; negative: above the water"),
    CONDITION("rear support depth", rear_support_depth, DD_LENGTH, -20, 20, "water over the top of the rearmost support"),
    CONDITION("after", after, DD_TIME, 0, 86400, "time since the step began"),
    CONDITION("distance clear", distance_clear, DD_LENGTH, 0, 50, "bow eye seaward of the rearmost support, along the trailer"),
    CONDITION("bow distance", bow_distance, DD_LENGTH, -20, 50, "bow eye no further seaward of the rearmost support than this"),
    CONDITION("water clear", water_clear, DD_LENGTH, -20, 20, "height of the same above the water"),
    CONDITION("distance", distance, DD_LENGTH, 0, 500, "that the rig has moved along the ramp since the step began"),
    CONDITION("trailer distance", trailer_distance, DD_LENGTH, 0, 100,
              "coupling of the uncoupled trailer seaward of the ball: at least while it is lowered, else at most"),
    STATE("afloat", afloat, "nothing of the trailer carries the boat any more, for the time of limits: afloat time"),
    STATE("at the stop", at_the_stop, "the bow is home against its stop"),
    STATE("captured", captured, "the keel lies within two supports that carry load"),
    STATE("clear of rollers", clear_of_rollers, "nothing of the trailer carries the boat at this moment"),
    STATE("slack taken up", slack_taken_up, "the strap is taut"),
    {0}};

#define QUANTITY(key, field, dim, low, high, value, origin, text)                                                          \
    {.name = key, .type = DD_KEY_QUANTITY, .dimension = dim, .offset = offsetof(dd_step, field), .least = low, .most = high, \
     .fallback = value, .source = origin, .help = text}
#define OPTIONAL(key, field, dim, low, high, words, origin, text)                                                          \
    {.name = key, .type = DD_KEY_QUANTITY, .dimension = dim, .offset = offsetof(dd_step, field), .least = low, .most = high, \
     .fallback = NAN, .fallback_text = words, .source = origin, .help = text}
#define CHOICE(key, field, names, value, text)                                                                             \
    {.name = key, .type = DD_KEY_CHOICE, .offset = offsetof(dd_step, field), .choices = names, .fallback = value,           \
     .source = "the program", .help = text}
#define TIME_LIMIT QUANTITY("time limit", time_limit, DD_TIME, 0.1, 3600, 120, "the program", "the run ends with a failure when the step takes longer")
#define UNTIL                                                                                                              \
    {.name = "until", .type = DD_KEY_BLOCK, .offset = offsetof(dd_step, until), .rows = dd_until_keys, .size = sizeof(dd_until), \
     .help = "what ends the step: the first of these that comes true; none given: what the action aims at"}
#define TAKES(seconds) QUANTITY("takes", takes, DD_TIME, 0, 600, seconds, "practice", "time that it takes")
#define ACCELERATION QUANTITY("acceleration", acceleration, DD_ACCELERATION, 0.01, 3, 0.4, "practice", "when it starts and stops")
#define RIG_SPEED(value) QUANTITY("speed", speed, DD_SPEED, 0.01, 5, value, "practice", "of the rig along the ramp")
#define DISTANCE OPTIONAL("distance", distance, DD_LENGTH, 0.02, 200, "not used", "the program", "how far to move the rig, stop included")

static const dd_key driving[] = {RIG_SPEED(0.6), ACCELERATION, DISTANCE, UNTIL, TIME_LIMIT, {0}};
static const dd_key roping[] = {RIG_SPEED(0.3), ACCELERATION, UNTIL, TIME_LIMIT, {0}};
static const dd_key stopping[] = {
    QUANTITY("acceleration", acceleration, DD_ACCELERATION, 0.01, 3, 0.4, "practice", "when it stops"),
    CHOICE("brake", brake, brakes, DD_BRAKE_PEDAL, "what holds the rig: the pedal on all wheels of the vehicle, the park lock on its axle, or both"),
    TIME_LIMIT, {0}};
static const dd_key plain[] = {TIME_LIMIT, {0}};
static const dd_key by_hand[] = {TAKES(3), TIME_LIMIT, {0}};
static const dd_key on_the_ball[] = {TAKES(10), TIME_LIMIT, {0}};
static const dd_key tilting_engine[] = {TAKES(8), TIME_LIMIT, {0}};
static const dd_key chocking[] = {
    CHOICE("wheels of", chocked, chocked, DD_CHOCK_VEHICLE, "whose wheels"), TAKES(3), TIME_LIMIT, {0}};
static const dd_key pushing[] = {
    QUANTITY("force", force, DD_FORCE, 1, 2000, 100, "push guideline", "a person's push on the bow, seaward"),
    UNTIL, TIME_LIMIT, {0}};
static const dd_key winding[] = {
    OPTIONAL("speed", speed, DD_SPEED, 0.005, 1, "the winch's speed", "crank guideline", "of the strap at the drum"),
    UNTIL, TIME_LIMIT, {0}};
static const dd_key taking_up[] = {
    OPTIONAL("speed", speed, DD_SPEED, 0.005, 1, "the winch's speed", "crank guideline", "of the strap at the drum"),
    QUANTITY("tension", tension, DD_FORCE, 1, 20000, 300, "design memory", "at which the strap counts as taut"),
    UNTIL, TIME_LIMIT, {0}};
static const dd_key waiting[] = {UNTIL, TIME_LIMIT, {0}};
static const dd_key boat_on[] = {
    QUANTITY("speed", speed, DD_SPEED, 0.05, 5, 0.8, "practice", "that the skipper wants against the trailer"),
    QUANTITY("throttle", throttle, DD_RATIO, 0.01, 1, 0.3, "practice", "most that he gives, share of full throttle's thrust"),
    QUANTITY("hold throttle", hold_throttle, DD_RATIO, 0, 1, 0, "the program", "left on ahead afterwards, to hold the boat"),
    UNTIL, TIME_LIMIT, {0}};
static const dd_key boat_off[] = {
    QUANTITY("speed", speed, DD_SPEED, 0.05, 5, 0.5, "practice", "that the skipper wants, astern"),
    QUANTITY("throttle", throttle, DD_RATIO, 0.01, 1, 0.3, "practice", "most that he gives, share of full astern's thrust"),
    UNTIL, TIME_LIMIT, {0}};
static const dd_key holding[] = {
    QUANTITY("force", force, DD_FORCE, 1, 2000, 100, "push guideline", "the helper's pull"),
    CHOICE("to", line_to, line_ends, DD_LINE_BOW_EYE, "where the line is made fast on the boat"),
    CHOICE("side", side, sides, DD_HELPER_PORT, "on which side of the trailer the helper stands: the boat's port or starboard, bow inshore"),
    QUANTITY("beside", beside, DD_LENGTH, 0, 50, 3, "the program", "helper beside the trailer's centre line"),
    QUANTITY("seaward", seaward, DD_LENGTH, -50, 50, 0, "the program", "helper seaward of the trailer's rear end, as it stands when he takes the line"),
    QUANTITY("above", above, DD_LENGTH, -5, 10, 1, "the program", "helper's hand above the trailer's rear end"),
    UNTIL, TIME_LIMIT, {0}};

const dd_key_variant dd_step_variants[] = {
    [DD_STEP_BACK_DOWN] = {"back down", "drive the rig down the ramp, then stop it and set the brake", driving},
    [DD_STEP_STOP] = {"stop", "stop the rig and set the brake", stopping},
    [DD_STEP_STRAP_OFF] = {"let strap off", "unhook the strap from the bow eye", plain},
    [DD_STEP_PUSH_OFF] = {"push off", "a person pushes the boat off, seaward", pushing},
    [DD_STEP_HOOK_ON] = {"hook on", "hook the strap to the bow eye", plain},
    [DD_STEP_WIND_IN] = {"wind in", "wind the boat in with the winch", winding},
    [DD_STEP_PULL_OUT] = {"pull out", "drive the rig up the ramp, then stop it and set the brake", driving},
    [DD_STEP_WAIT] = {"wait", "do nothing", waiting},
    [DD_STEP_TAKE_UP_SLACK] = {"take up slack", "wind until the strap is taut", taking_up},
    [DD_STEP_PAY_OUT] = {"pay out", "let the winch's drum run, and set the ratchet in the end", waiting},
    [DD_STEP_SPOOL_ON] = {"free spool on", "let the winch's drum run from now on", plain},
    [DD_STEP_SPOOL_OFF] = {"free spool off", "set the winch's ratchet", plain},
    [DD_STEP_CHAIN_ON] = {"chain on", "hook the safety chain to the bow eye", by_hand},
    [DD_STEP_CHAIN_OFF] = {"chain off", "unhook the safety chain", by_hand},
    [DD_STEP_TIES_ON] = {"ties on", "tie the transom down", by_hand},
    [DD_STEP_TIES_OFF] = {"ties off", "take the transom ties off", by_hand},
    [DD_STEP_DRIVE_ON] = {"drive on", "the skipper drives the boat onto the trailer", boat_on},
    [DD_STEP_DRIVE_OFF] = {"drive off", "the skipper backs the boat off the trailer", boat_off},
    [DD_STEP_ENGINE_DOWN] = {"engine down", "tilt the engine into the water", tilting_engine},
    [DD_STEP_ENGINE_UP] = {"engine up", "throttle off, tilt the engine out of the water", tilting_engine},
    [DD_STEP_HOLD_LINE] = {"hold line", "a helper takes a line to the boat and pulls", holding},
    [DD_STEP_LET_LINE_GO] = {"let line go", "the helper lets the line go", plain},
    [DD_STEP_UNCOUPLE] = {"uncouple", "take the trailer off the ball, onto its jockey wheel", on_the_ball},
    [DD_STEP_COUPLE] = {"couple", "put the trailer on the ball", on_the_ball},
    [DD_STEP_ROPE_ON] = {"rope on", "fasten the rope from the vehicle to the trailer", by_hand},
    [DD_STEP_ROPE_OFF] = {"rope off", "take the rope off", by_hand},
    [DD_STEP_LOWER] = {"lower on the rope", "let the uncoupled trailer down on the rope, the vehicle backing after it", roping},
    [DD_STEP_HAUL_OUT] = {"haul out by the rope", "pull the uncoupled trailer out by the rope", roping},
    [DD_STEP_CHOCK] = {"chock", "put chocks on the seaward side of the wheels", chocking},
    [DD_STEP_UNCHOCK] = {"unchock", "take the chocks away", chocking},
    [DD_STEP_UNLATCH] = {"unlatch", "let the tilting bed turn about its hinge", by_hand},
    [DD_STEP_LATCH] = {"latch", "fasten the tilting bed, which its latch meets while it lies level", by_hand},
    {0}};

const char *dd_step_name(int kind) { return kind >= 0 && kind < DD_STEP_KIND_COUNT ? dd_step_variants[kind].name : "?"; }

/* --- the skipper ------------------------------------------------------------------------------------------------- */

#define SKILL(key, field, dim, shown, low, high, text)                                                                     \
    {.name = key, .type = DD_KEY_QUANTITY, .dimension = dim, .offset = offsetof(dd_skipper, field), .least = low, .most = high, \
     .unit = shown, .fallback = NAN, .fallback_text = "by preset", .source = "skipper figures", .help = text}

const dd_key dd_skipper_keys[] = {
    {.name = "preset", .type = DD_KEY_CHOICE, .offset = offsetof(dd_skipper, preset), .choices = presets, .fallback = DD_SKIPPER_USUAL,
     .source = "the program", .help = "how practised the skipper is"},
    SKILL("delay", delay, DD_TIME, NULL, 0, 3, "from seeing to acting"),
    SKILL("gain", gain, DD_RATIO, NULL, 0, 20, "helm over the error of heading"),
    SKILL("anticipation", anticipation, DD_TIME, NULL, 0, 10, "how far ahead he reckons with the swing of the bow"),
    SKILL("look ahead", look_ahead, DD_LENGTH, NULL, 0.2, 50, "how far before the bow he aims at the trailer's centre line"),
    SKILL("aim noise", aim_noise, DD_LENGTH, "mm", 0, 2, "standard deviation of the point he aims at, across the trailer"),
    SKILL("helm limit", helm_limit, DD_ANGLE, "deg", 0, 1, "greatest angle of the engine"),
    SKILL("helm rate", helm_rate, DD_ANGULAR_SPEED, NULL, 0.01, 10, "how fast he turns it"),
    {.name = "seed", .type = DD_KEY_COUNT, .offset = offsetof(dd_skipper, seed), .least = 0, .most = 2147483647, .fallback = 1,
     .source = "the program", .help = "of the stream of random numbers behind the aim noise"},
    {0}};

dd_skipper dd_skipper_complete(const dd_skipper *given)
{
    static const dd_skipper skill[] = {
        [DD_SKIPPER_LEARNER] = {.delay = 1.0, .gain = 2.0, .anticipation = 0.2, .look_ahead = 2.0, .aim_noise = 0.30, .helm_limit = 0.52, .helm_rate = 0.35},
        [DD_SKIPPER_USUAL] = {.delay = 0.7, .gain = 1.5, .anticipation = 0.8, .look_ahead = 3.0, .aim_noise = 0.12, .helm_limit = 0.52, .helm_rate = 0.52},
        [DD_SKIPPER_EXPERT] = {.delay = 0.5, .gain = 1.2, .anticipation = 1.2, .look_ahead = 4.0, .aim_noise = 0.04, .helm_limit = 0.52, .helm_rate = 0.79}};
    const int preset = given->preset >= 0 && given->preset <= DD_SKIPPER_EXPERT ? given->preset : DD_SKIPPER_USUAL;
    dd_skipper s = *given;
    const dd_skipper *own = &skill[preset];
    s.preset = preset;
    if (isnan(s.delay)) s.delay = own->delay;
    if (isnan(s.gain)) s.gain = own->gain;
    if (isnan(s.anticipation)) s.anticipation = own->anticipation;
    if (isnan(s.look_ahead)) s.look_ahead = own->look_ahead;
    if (isnan(s.aim_noise)) s.aim_noise = own->aim_noise;
    if (isnan(s.helm_limit)) s.helm_limit = own->helm_limit;
    if (isnan(s.helm_rate)) s.helm_rate = own->helm_rate;
    return s;
}
