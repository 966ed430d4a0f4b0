/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rules across fields of dd_case, and the list of every folder's rules. */
#include "lib/rig/brake/brake.h"
#include "lib/base/numbers.h"
#include "lib/case/case.h"
#include "lib/case/loading.h"
#include "lib/case/measured.h"
#include "lib/crew/steps.h"
#include "lib/force/force.h"
#include "lib/hull/surface.h"
#include "lib/rig/rig.h"
#include "lib/shore/shore.h"
#include "lib/shore/tide_given.h"
#include <string.h>

static bool retrieve_has_start(const void *structure, char *message, size_t size, const char **key)
{
    const dd_case *scenario = structure;
    *key = "start.bow distance";
    if (scenario->action != DD_ACTION_RETRIEVE || !isnan(scenario->start.bow_distance)) return true;
    dd_text(message, size, "not given; expected a length, since a retrieve starts with the boat off the trailer");
    return false;
}

static bool levels_are_on_datums(const void *structure, char *message, size_t size, const char **key)
{
    const dd_case *scenario = structure;
    const dd_water *w = &scenario->water;
    double shift;
    dd_error error;
    *key = "water.datums";
    for (int i = 0; i < w->datum_count; i++)
        for (int k = 0; k < i; k++)
            if (strcmp(w->datums[i].name, w->datums[k].name) == 0) {
                dd_text(message, size, "found the datum '%s' twice; expected it once", w->datums[i].name);
                return false;
            }
    if (dd_water_datum_shift(w, scenario->ramp.datum, &shift, &error) == DD_OK) return true;
    static const char *const others[] = {"ramp.datum", "water.datum", "water.tide.datum"};
    for (int i = 0; i < 3; i++)
        if (strcmp(error.place, others[i]) == 0) *key = others[i];
    dd_text(message, size, "%s", error.message);
    return false;
}

static const char *const step_keys[DD_STEPS] = {
#define STEP(n) "procedure[" #n "]"
    STEP(1),  STEP(2),  STEP(3),  STEP(4),  STEP(5),  STEP(6),  STEP(7),  STEP(8),  STEP(9),  STEP(10), STEP(11),
    STEP(12), STEP(13), STEP(14), STEP(15), STEP(16), STEP(17), STEP(18), STEP(19), STEP(20), STEP(21), STEP(22),
    STEP(23), STEP(24), STEP(25), STEP(26), STEP(27), STEP(28), STEP(29), STEP(30), STEP(31), STEP(32), STEP(33),
    STEP(34), STEP(35), STEP(36), STEP(37), STEP(38), STEP(39), STEP(40), STEP(41), STEP(42), STEP(43), STEP(44),
    STEP(45), STEP(46), STEP(47), STEP(48), STEP(49), STEP(50), STEP(51), STEP(52), STEP(53), STEP(54), STEP(55),
    STEP(56), STEP(57), STEP(58), STEP(59), STEP(60), STEP(61), STEP(62), STEP(63), STEP(64)};

static bool steps_are_in_order(const void *structure, char *message, size_t size, const char **key)
{
    const dd_order_fault fault = dd_order_check(structure);
    if (fault.step < 0) return true;
    *key = step_keys[fault.step];
    dd_text(message, size, "%s", fault.text);
    return false;
}

static bool record_fits(const void *structure, char *message, size_t size, const char **key)
{
    const dd_case *scenario = structure;
    *key = "record interval";
    if (scenario->record_interval < scenario->time_limit) return true;
    dd_text(message, size, "found %g s; expected less than the time limit of %g s", scenario->record_interval,
            scenario->time_limit);
    return false;
}

static bool loadings_are_whole(const void *structure, char *message, size_t size, const char **key)
{
    const dd_case *scenario = structure;
    *key = "loadings";
    for (int i = 0; i < scenario->loading_count; i++) {
        dd_item items[DD_ABOARD];
        dd_error error;
        int count;
        if (dd_loading_items(&scenario->boat, &scenario->loadings[i], items, &count, &error) == DD_OK) continue;
        dd_text(message, size, "%s: %s", error.place, error.message);
        return false;
    }
    return true;
}

static bool placed_is_whole(const void *structure, char *message, size_t size, const char **key)
{
    const dd_placed *p = structure;
    *key = isnan(p->transom_behind_coupling) ? "transom behind coupling" : "keel above ground";
    if (isnan(p->transom_behind_coupling) == isnan(p->keel_above_ground) &&
        (isnan(p->trim) || isfinite(p->transom_behind_coupling)))
        return true;
    dd_text(message, size, "not given, expected transom behind coupling and keel above ground together");
    return false;
}

static bool place_is_whole(const void *structure, char *message, size_t size, const char **key)
{
    const dd_site *p = structure;
    if (isnan(p->latitude) == isnan(p->longitude)) return true;
    *key = isnan(p->latitude) ? "longitude" : "latitude";
    dd_text(message, size, "found one of latitude and longitude, expected both or neither");
    return false;
}

static const dd_key_rule place_rules[] = {{"latitude and longitude, or neither", place_is_whole}, {0}};
static const dd_key_rule placed_rules[] = {{"both measures of the place, or neither", placed_is_whole}, {0}};

static const dd_key_rule seating_rules[] = {{"zones without rollers run from the rear forward and from inside out", dd_requirement_holds}, {0}};

static const dd_key_rule measured_rules[] = {{"readings are of axles, sides and states that there are", dd_measured_are_whole}, {0}};
static const dd_key_rule loading_rules[] = {{"states of loading change and leave out what is aboard", loadings_are_whole}, {0}};

const dd_key_rule dd_case_rules[] = {{"a retrieve says where the boat starts (start: bow distance)", retrieve_has_start},
                                     {"the steps can be done in their order, with what boat and trailer have", steps_are_in_order},
                                     {"levels on different datums are put together by stated heights", levels_are_on_datums},
                                     {"the record interval is shorter than the time limit", record_fits},
                                     {0}};

const dd_rule_set dd_rule_sets[] = {{"boat", offsetof(dd_case, boat), dd_hull_rules, false},
                                    {"trailer", offsetof(dd_case, trailer), dd_trailer_rules, false},
                                    {"trailer", offsetof(dd_case, trailer), dd_trailer_braking_rules, false},
                                    {"vehicle", offsetof(dd_case, vehicle), dd_vehicle_rules, false},
                                    {"place", offsetof(dd_case, place), place_rules, false},
                                    {"placed", offsetof(dd_case, placed), placed_rules, false},
                                    {"seating", offsetof(dd_case, seating), seating_rules, false},
                                    {"", 0, loading_rules, false},
                                    {"", 0, measured_rules, false},
                                    {"ramp", offsetof(dd_case, ramp), dd_ramp_rules, true},
                                    {"water", offsetof(dd_case, water), dd_water_rules, true},
                                    {"", 0, dd_case_rules, true},
                                    {0}};
