/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of dd_braking: what `brake` is asked. */
#include "lib/case/case.h"
#include "lib/rig/brake/brake.h"

#define QUANTITY(field, dimension_, unit_, least_, most_) \
    .type = DD_KEY_QUANTITY, .dimension = dimension_, .offset = offsetof(dd_braking, field), .unit = unit_, .least = least_, .most = most_
#define DEFAULT(value, source_) .fallback = value, .source = source_

/* clang-format off */
const dd_key dd_braking_keys[] = {
    {.name = "speed", QUANTITY(speed, DD_SPEED, "km/h", 1, DD_BRAKE_FASTEST), DEFAULT(80 / 3.6, "practice"), .help = "from which the rig is stopped; the model ends at 130 km/h"},
    {.name = "reaction time", QUANTITY(reaction_time, DD_TIME, "s", 0, 10), DEFAULT(2.5, "stopping sight distance"), .help = "of the driver, at the full speed"},
    {.name = "grade", QUANTITY(grade, DD_SLOPE, "%", -DD_BRAKE_STEEPEST_ANGLE, DD_BRAKE_STEEPEST_ANGLE), DEFAULT(0, "the program"), .help = "of the road it is stopped on, > 0 up; the model ends at 30 %"},
    {.name = "pedal", QUANTITY(pedal, DD_RATIO, "%", 0.05, 1), DEFAULT(1, "practice"), .help = "share of the vehicle's full braking that the driver asks for"},
    {.name = "dry friction", QUANTITY(dry_friction, DD_RATIO, NULL, 0.05, 1.5), DEFAULT(0.75, "road friction"), .help = "greatest grip of tyres on the dry road"},
    {.name = "wet friction", QUANTITY(wet_friction, DD_RATIO, NULL, 0.05, 1.5), DEFAULT(0.5, "road friction"), .help = "greatest grip of tyres on the wet road"},
    {.name = "dry slide", QUANTITY(dry_slide, DD_RATIO, "%", 0.2, 1), DEFAULT(0.85, "sliding tyre"), .help = "a standing wheel's share of that, dry"},
    {.name = "wet slide", QUANTITY(wet_slide, DD_RATIO, "%", 0.2, 1), DEFAULT(0.75, "sliding tyre"), .help = "a standing wheel's share of that, wet"},
    {.name = "peak slip", QUANTITY(peak_slip, DD_RATIO, "%", 0.02, 0.5), DEFAULT(0.12, "slip curve"), .help = "slip at which a tyre grips most"},
    {.name = "rolling resistance", QUANTITY(rolling_resistance, DD_RATIO, NULL, 0, 0.2), DEFAULT(0.012, "tyre rolling resistance"), .help = "of all wheels, share of their load"},
    {.name = "hold grade", QUANTITY(hold_grade, DD_SLOPE, "%", 0, DD_BRAKE_STEEPEST_ANGLE), DEFAULT(0.12435499454676144, "practice"), .help = "of the ramp on which the rig is held, trailer down the slope"},
    {.name = "hold friction front", QUANTITY(hold_friction_front, DD_RATIO, NULL, 0.01, 1.5), DEFAULT(0.6, "tyre friction"), .help = "under the vehicle's front wheels there"},
    {.name = "hold friction rear", QUANTITY(hold_friction_rear, DD_RATIO, NULL, 0.01, 1.5), DEFAULT(0.5, "tyre friction"), .help = "under its rear wheels there"},
    {.name = "hold friction trailer", QUANTITY(hold_friction_trailer, DD_RATIO, NULL, 0.01, 1.5), DEFAULT(0.25, "weed on a ramp"), .help = "under the trailer's wheels there"},
    {.name = "chock angle", QUANTITY(chock_angle, DD_ANGLE, "deg", 0.1, 1.5), DEFAULT(0.6108652381980153, "chock figures"), .help = "of a chock's face against the ground under it"},
    {.name = "chock friction", QUANTITY(chock_friction, DD_RATIO, NULL, 0.01, 1.5), DEFAULT(0.5, "chock figures"), .help = "of a chock on the ground"},
    {.name = "reverse grade", QUANTITY(reverse_grade, DD_SLOPE, "%", 0, DD_BRAKE_STEEPEST_ANGLE), DEFAULT(0.0996686524911620, "practice"), .help = "of the drive up which the trailer is pushed back"},
    {.name = "reverse friction", QUANTITY(reverse_friction, DD_RATIO, NULL, 0.05, 1.5), DEFAULT(0.6, "tyre friction"), .help = "under the wheels there"},
    {.name = "descent grade", QUANTITY(descent_grade, DD_SLOPE, "%", 0, DD_BRAKE_STEEPEST_ANGLE), DEFAULT(0.0798300, "practice"), .help = "of a long descent, going down"},
    {.name = "descent length", QUANTITY(descent_length, DD_LENGTH, "m", 10, 100000), DEFAULT(6000, "practice"), .help = "of that descent along the road"},
    {.name = "descent speed", QUANTITY(descent_speed, DD_SPEED, "km/h", 1, DD_BRAKE_FASTEST), DEFAULT(60 / 3.6, "practice"), .help = "held by the brakes all the way"},
    {.name = "descent coasting", QUANTITY(descent_coasting, DD_ACCELERATION, NULL, 0, 3), DEFAULT(0.3, "engine braking"), .help = "deceleration of the vehicle alone by its engine in the gear used"},
    {.name = "air temperature", QUANTITY(air_temperature, DD_TEMPERATURE, "degC", 220, 330), DEFAULT(293.15, "the program"), .help = "at the descent"},
    {.name = "recovery", QUANTITY(recovery, DD_NUMBER, NULL, 0.1, 10000), DEFAULT(40, "wet brakes"), .help = "work of each wet brake after which it is dry again, kJ"},
    {.name = "cornering within", QUANTITY(cornering_within, DD_RATIO, "%", 0, 0.8), DEFAULT(0.2, "cornering figures"), .help = "share by which the cornering figures may be off, either way"},
    {.name = "bend", QUANTITY(bend, DD_ACCELERATION, NULL, 0, 10), DEFAULT(3, "practice"), .help = "sideways acceleration of a bend taken briskly"},
    {0}};
/* clang-format on */
