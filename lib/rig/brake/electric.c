/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Electric drum brakes: the controller's current draws a magnet against the drum, which turns the shoes out. The pull follows the
   current with a lag: state 0 is the share of the full current that works, d(share)/dt = (command - share)/lag. */
#include "lib/rig/brake/brake.h"
#include <drawdock/rules.h>

#define FIELD(field) .offset = offsetof(dd_electric_brake, field)
#define QUANTITY(field, dimension_, unit_, least_, most_) \
    .type = DD_KEY_QUANTITY, .dimension = dimension_, FIELD(field), .unit = unit_, .least = least_, .most = most_
#define FROM(value, source_) .fallback = value, .source = source_

/* clang-format off */
const dd_key dd_electric_brake_keys[] = {
    {.name = "torque", QUANTITY(torque, DD_MOMENT, "N m", 1, 50000), .fallback = NAN, .fallback_text = "that which brakes with half of the axle's load",
     .source = "electric brake figures", .help = "of each braked axle at full current"},
    {.name = "current", QUANTITY(current, DD_NUMBER, NULL, 0.1, 50), FROM(3, "electric brake figures"), .help = "full current of each magnet, in A"},
    {.name = "lag", QUANTITY(lag, DD_TIME, "s", 0.005, 5), FROM(0.2, "electric brake figures"), .help = "time constant with which magnet and shoes follow"},
    {.name = "hot share", QUANTITY(hot_share, DD_RATIO, "%", 0, 1), FROM(0.6, "brake friction"), .help = "of their friction when hot"},
    {.name = "wet share", QUANTITY(wet_share, DD_RATIO, "%", 0, 1), FROM(0.5, "brake friction"), .help = "of their friction after the ramp, wet"},
    {0}};
/* clang-format on */

static void evaluate(const dd_trailer_braking *b, const dd_brake_input *in, const double *state, dd_brake_output *out)
{
    *out = (dd_brake_output){.torque = b->electric.torque * in->braked_axles * state[0],
                             .rate = {(in->command - state[0]) / b->electric.lag}};
}

static double current(const dd_trailer_braking *b, int braked_axles) { return 2 * braked_axles * b->electric.current; }
static double hot_share(const dd_trailer_braking *b) { return pow(b->electric.hot_share, 1.5); } /* drums, as overrun.c */
static double wet_share(const dd_trailer_braking *b) { return pow(b->electric.wet_share, 1.5); }

static const char *const sources[] = {"electric brake figures", "brake friction", NULL};

const dd_brake_kind dd_brake_electric = {.name = "electric",
                                         .help = "electric drum brakes, worked by a controller at the driver's seat",
                                         .fitted = DD_FITTED_ELECTRIC,
                                         .controlled = true,
                                         .state_count = 1,
                                         .keys = dd_electric_brake_keys,
                                         .sources = sources,
                                         .evaluate = evaluate,
                                         .current = current,
                                         .hot_share = hot_share,
                                         .wet_share = wet_share};
