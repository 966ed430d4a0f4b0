/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is common to the brake systems: the list, controller, fade, and figures that follow from the loaded trailer. */
#include "lib/rig/brake/brake.h"
#include "lib/base/numbers.h"
#include <drawdock/rules.h>

#define DD_BRAKE(symbol) extern const dd_brake_kind dd_brake_##symbol;
#include "lib/rig/brakes.def"
#undef DD_BRAKE

static const dd_brake_kind *const kinds[] = {
#define DD_BRAKE(symbol) &dd_brake_##symbol,
#include "lib/rig/brakes.def"
#undef DD_BRAKE
};
enum { KINDS = sizeof kinds / sizeof kinds[0] };

const dd_brake_kind *dd_brake_kind_at(int index) { return index < 0 || index >= KINDS ? NULL : kinds[index]; }

const dd_brake_kind *dd_brake_kind_fitted(int fitted)
{
    for (int i = 0; i < KINDS; i++)
        if (kinds[i]->fitted == fitted) return kinds[i];
    return NULL;
}

static void fill(double *value, double with)
{
    if (isnan(*value)) *value = with;
}

#define THRESHOLD_SHARE 0.02 /* of the weight: push at which the brake may start (Belgium, Royal Decree of 15 March 1968, article 48) */
#define MOST_PUSH_SHARE 0.10 /* D*, and B by the brakes themselves: EU 2015/504 annex, form 5 */
#define BRAKED_SHARE 0.49
#define ELECTRIC_SHARE 0.5   /* of the braked axles' load at full current */

void dd_brakes_complete(dd_trailer_braking *b, double weight, double braked_load, int braked_axles, double radius)
{
    dd_overrun_brake *o = &b->overrun;
    fill(&o->threshold, THRESHOLD_SHARE * weight);
    fill(&o->full_push, (MOST_PUSH_SHARE - THRESHOLD_SHARE) * weight);
    fill(&o->lever_ratio, BRAKED_SHARE / (MOST_PUSH_SHARE - THRESHOLD_SHARE) * radius / (o->cable_efficiency * o->brake_factor));
    fill(&b->electric.torque, braked_axles > 0 ? ELECTRIC_SHARE * braked_load * radius / braked_axles : 0);
    if (b->controller.kind < 0) b->controller.kind = DD_CONTROL_PROPORTIONAL;
}

double dd_controller_command(const dd_brake_controller *c, double time, double deceleration, double gravity)
{
    double command = 1;
    if (c->kind == DD_CONTROL_RAMPED) command = c->gain * fmin(1, fmax(0, time) / c->ramp_time);
    if (c->kind == DD_CONTROL_PROPORTIONAL) command = c->boost + c->gain * fmax(0, deceleration) / gravity;
    return fmin(1, fmax(0, command));
}

double dd_brake_fade(const dd_brake_heat *heat, double hot_share, double temperature)
{
    return 1 - (1 - hot_share) * dd_brake_smooth((temperature - heat->fades_from) / (heat->fades_to - heat->fades_from));
}

#define QUANTITY(structure, field, dimension_, unit_, least_, most_) \
    .type = DD_KEY_QUANTITY, .dimension = dimension_, .offset = offsetof(structure, field), .unit = unit_, .least = least_, .most = most_
#define FROM(value, source_) .fallback = value, .source = source_
#define BLOCK(structure, field, rows_) .type = DD_KEY_BLOCK, .offset = offsetof(structure, field), .rows = rows_, .fallback = NAN
#define KELVIN 273.15

static const char *const controls[] = {"proportional", "time ramped", "full", NULL};

/* clang-format off */
const dd_key dd_brake_controller_keys[] = {
    {.name = "kind", .type = DD_KEY_CHOICE, .offset = offsetof(dd_brake_controller, kind), .choices = controls, .fallback = NAN,
     .fallback_text = "proportional to the deceleration", .source = "practice", .help = "how it answers the pedal; full: its lever pushed home"},
    {.name = "gain", QUANTITY(dd_brake_controller, gain, DD_NUMBER, NULL, 0, 20), FROM(1.5, "controller figures"),
     .help = "command per g of deceleration (1.5: full at two thirds of a g); of a time-ramped one its greatest command"},
    {.name = "boost", QUANTITY(dd_brake_controller, boost, DD_RATIO, "%", 0, 1), FROM(0.1, "controller figures"), .help = "command at once with the brake lamps"},
    {.name = "ramp time", QUANTITY(dd_brake_controller, ramp_time, DD_TIME, "s", 0.05, 20), FROM(2, "controller figures"), .help = "of a time-ramped one"},
    {.name = "sensor lag", QUANTITY(dd_brake_controller, sensor_lag, DD_TIME, "s", 0.01, 5), FROM(0.1, "controller figures"),
     .help = "time constant with which it feels the deceleration"},
    {0}};

const dd_key dd_brake_heat_keys[] = {
    {.name = "iron", QUANTITY(dd_brake_heat, iron, DD_MASS, "kg", 0.2, 100), FROM(6, "brake heat"), .help = "mass of each wheel's drum or disc"},
    {.name = "cooling", QUANTITY(dd_brake_heat, cooling, DD_NUMBER, NULL, 0, 1000), FROM(5, "brake heat"), .help = "of each wheel's brake standing, W/K"},
    {.name = "cooling by speed", QUANTITY(dd_brake_heat, cooling_by_speed, DD_NUMBER, NULL, 0, 100), FROM(0.6, "brake heat"),
     .help = "that much more per m/s, W s/(K m)"},
    {.name = "fades from", QUANTITY(dd_brake_heat, fades_from, DD_TEMPERATURE, "degC", 300, 1300), FROM(250 + KELVIN, "brake heat"),
     .help = "temperature at which friction begins to fall"},
    {.name = "fades to", QUANTITY(dd_brake_heat, fades_to, DD_TEMPERATURE, "degC", 310, 1500), FROM(450 + KELVIN, "brake heat"),
     .help = "temperature at which it has fallen to its hot share"},
    {0}};

const dd_key dd_vehicle_braking_keys[] = {
    {.name = "deceleration", QUANTITY(dd_vehicle_braking, deceleration, DD_ACCELERATION, NULL, 0.5, 20), FROM(9, "vehicle brakes"),
     .help = "that its full brakes give the vehicle alone, where its tyres grip"},
    {.name = "front share", QUANTITY(dd_vehicle_braking, front_share, DD_RATIO, "%", 0, 1), FROM(0.68, "vehicle brakes"), .help = "of its braking on the front axle"},
    {.name = "rise time", QUANTITY(dd_vehicle_braking, rise_time, DD_TIME, "s", 0.005, 2), FROM(0.1, "vehicle brakes"), .help = "time constant of full braking"},
    {.name = "anti-lock", .type = DD_KEY_FLAG, .offset = offsetof(dd_vehicle_braking, anti_lock), FROM(1, "practice"), .help = "keeps its wheels from locking"},
    {.name = "park deceleration", QUANTITY(dd_vehicle_braking, park_deceleration, DD_ACCELERATION, NULL, 0, 10), FROM(2.5, "vehicle brakes"),
     .help = "that its park brake can give the vehicle alone where its tyres grip: what it holds"},
    {.name = "hot share", QUANTITY(dd_vehicle_braking, hot_share, DD_RATIO, "%", 0, 1), FROM(0.75, "brake friction"), .help = "of its brakes' friction when hot"},
    {.name = "wet share", QUANTITY(dd_vehicle_braking, wet_share, DD_RATIO, "%", 0, 1), FROM(0.9, "brake friction"), .help = "of its brakes' friction after the ramp, wet"},
    {.name = "wheel inertia", QUANTITY(dd_vehicle_braking, wheel_inertia, DD_INERTIA, NULL, 1e-4, 20), FROM(1.2, "design memory"), .help = "of each wheel about its axle"},
    {.name = "front squash", QUANTITY(dd_vehicle_braking, front_squash, DD_LENGTH, "mm", 1e-4, 0.5), FROM(0.15, "ride figures"),
     .help = "how far its front springs and tyres give under what they carry without a trailer: how it nods"},
    {.name = "ride damping", QUANTITY(dd_vehicle_braking, ride_damping, DD_RATIO, "%", 0, 2), FROM(0.3, "ride figures"), .help = "of its springs, share of critical"},
    {.name = "drag area", QUANTITY(dd_vehicle_braking, drag_area, DD_AREA, NULL, 0, 20), FROM(0.9, "design memory"), .help = "drag coefficient times frontal area"},
    {.name = "track", QUANTITY(dd_vehicle_braking, track, DD_LENGTH, NULL, 0.5, 3), FROM(1.55, "design memory"), .help = "between the middles of its tyres"},
    {.name = "yaw radius", QUANTITY(dd_vehicle_braking, yaw_radius, DD_LENGTH, NULL, 0.3, 5), .fallback = NAN, .fallback_text = "as the pitch radius",
     .source = "design memory", .help = "radius of gyration in yaw"},
    {.name = "front cornering", QUANTITY(dd_vehicle_braking, front_cornering, DD_NUMBER, NULL, 1, 40), FROM(10, "cornering figures"),
     .help = "side force of the front tyres per their load and slip angle, 1/rad"},
    {.name = "rear cornering", QUANTITY(dd_vehicle_braking, rear_cornering, DD_NUMBER, NULL, 1, 40), FROM(12, "cornering figures"),
     .help = "of the rear tyres, 1/rad"},
    {.name = "heat", BLOCK(dd_vehicle_braking, heat, dd_brake_heat_keys), .help = "what its front brakes take up"},
    {0}};

const dd_key dd_trailer_braking_keys[] = {
    {.name = "overrun", BLOCK(dd_trailer_braking, overrun, dd_overrun_brake_keys), .help = "of an overrun brake"},
    {.name = "electric", BLOCK(dd_trailer_braking, electric, dd_electric_brake_keys), .help = "of electric drum brakes"},
    {.name = "electric-hydraulic", BLOCK(dd_trailer_braking, electric_hydraulic, dd_electric_hydraulic_brake_keys), .help = "of electric-over-hydraulic disc brakes"},
    {.name = "controller", BLOCK(dd_trailer_braking, controller, dd_brake_controller_keys), .help = "at the driver's seat, of electric brakes"},
    {.name = "battery", QUANTITY(dd_trailer_braking, battery, DD_NUMBER, NULL, 0, 500), FROM(5, "breakaway figures"),
     .help = "of the breakaway, charge in A h"},
    {.name = "breakaway delay", QUANTITY(dd_trailer_braking, breakaway_delay, DD_TIME, "s", 0, 5), FROM(0.1, "breakaway figures"),
     .help = "from the pull on its cable until the brakes are commanded"},
    {.name = "breakaway cable", QUANTITY(dd_trailer_braking, breakaway_cable, DD_LENGTH, "mm", 0, 5), FROM(0.4, "breakaway figures"),
     .help = "how far the drawbar parts until the cable pulls the switch"},
    {.name = "chain slack", QUANTITY(dd_trailer_braking, chain_slack, DD_LENGTH, "mm", 0, 5), FROM(0.5, "breakaway figures"),
     .help = "how far the drawbar parts until its safety chains are taut"},
    {.name = "wheel inertia", QUANTITY(dd_trailer_braking, wheel_inertia, DD_INERTIA, NULL, 1e-4, 20), FROM(0.8, "design memory"), .help = "of each wheel about its axle"},
    {.name = "drag area", QUANTITY(dd_trailer_braking, drag_area, DD_AREA, NULL, 0, 20), FROM(0.5, "design memory"),
     .help = "drag coefficient times area of boat and trailer that stand out of the vehicle's wake"},
    {.name = "yaw radius", QUANTITY(dd_trailer_braking, yaw_radius, DD_LENGTH, NULL, 0.3, 8), .fallback = NAN, .fallback_text = "as in pitch, with the boat",
     .source = "design memory", .help = "radius of gyration of the loaded trailer in yaw"},
    {.name = "cornering", QUANTITY(dd_trailer_braking, cornering, DD_NUMBER, NULL, 1, 40), FROM(10, "cornering figures"),
     .help = "side force of its tyres per their load and slip angle, 1/rad"},
    {.name = "yaw damping", QUANTITY(dd_trailer_braking, yaw_damping, DD_ROLL_DAMPING, NULL, 0, 1e6), FROM(0, "the program"),
     .help = "of a stabiliser at the coupling"},
    {.name = "heat", BLOCK(dd_trailer_braking, heat, dd_brake_heat_keys), .help = "what its brakes take up"},
    {0}};
/* clang-format on */

static bool controller_fits(const void *structure, char *message, size_t size, const char **key)
{
    const dd_trailer_parameters *t = structure;
    *key = "brake figures.controller.kind";
    if (t->brakes.fitted != DD_FITTED_OVERRUN || t->braking.controller.kind < 0) return true;
    dd_text(message, size, "found a controller on an overrun brake, expected none: the push on the coupling works it, no lever or pedal of the driver does");
    return false;
}

static bool park_brake_fits(const void *structure, char *message, size_t size, const char **key)
{
    const dd_trailer_parameters *t = structure;
    *key = "brakes.park brake";
    if (t->brakes.park_brake != 1 || (t->brakes.fitted != DD_FITTED_NONE && t->brakes.fitted != DD_FITTED_ELECTRIC)) return true;
    if (t->brakes.fitted == DD_FITTED_NONE)
        dd_text(message, size, "found a park brake on a trailer without brakes, expected no");
    else
        dd_text(message, size, "found a park brake on electric drum brakes, expected no: their magnets hold only while current flows; carry chocks");
    return false;
}

static bool axles_fit(const void *structure, char *message, size_t size, const char **key)
{
    const dd_trailer_parameters *t = structure;
    *key = "brakes.axles";
    if (t->brakes.fitted == DD_FITTED_NONE && t->brakes.axles > 0) {
        dd_text(message, size, "found %d axles with brakes on a trailer without brakes, expected 0", t->brakes.axles);
        return false;
    }
    return true;
}

static bool travel_fits(const void *structure, char *message, size_t size, const char **key)
{
    const dd_trailer_parameters *t = structure;
    const dd_overrun_brake *o = &t->braking.overrun;
    *key = "brake figures.overrun.slack";
    if (o->slack < o->stroke) return true;
    dd_text(message, size, "found %g mm, expected less than the stroke of %g mm: the shoes would never bear", 1000 * o->slack, 1000 * o->stroke);
    return false;
}

static bool fade_fits(const void *structure, char *message, size_t size, const char **key)
{
    const dd_trailer_parameters *t = structure;
    *key = "brake figures.heat.fades to";
    if (t->braking.heat.fades_to > t->braking.heat.fades_from) return true;
    dd_text(message, size, "found a temperature not above that at which they begin to fade, expected above");
    return false;
}

const dd_key_rule dd_trailer_braking_rules[] = {{"an overrun brake has no controller", controller_fits},
                                                {"a park brake needs brakes that hold by themselves", park_brake_fits},
                                                {"no axle has brakes on a trailer without brakes", axles_fit},
                                                {"the slack of an overrun brake is less than its stroke", travel_fits},
                                                {"brakes fade over a range of temperatures", fade_fits},
                                                {0}};
