/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Electric-over-hydraulic disc brakes: an actuator on the trailer pumps until the pressure is what the controller asks for.
   State 0 is the volume v pumped, as a share of what full pressure takes; pressure p = full max(0, v - v0)/(1 - v0), v0 the share
   that fills the gaps; dv/dt = flow tanh((asked - p)/(5 % of full)) per that volume, after the delay. Torque of a wheel:
   2 x pad friction x p x piston area x effective radius (two faces). */
#include "lib/rig/brake/brake.h"
#include <drawdock/rules.h>

#define FIELD(field) .offset = offsetof(dd_electric_hydraulic_brake, field)
#define QUANTITY(field, dimension_, unit_, least_, most_) \
    .type = DD_KEY_QUANTITY, .dimension = dimension_, FIELD(field), .unit = unit_, .least = least_, .most = most_
#define FROM(value, source_) .fallback = value, .source = source_

/* clang-format off */
const dd_key dd_electric_hydraulic_brake_keys[] = {
    {.name = "pressure", QUANTITY(pressure, DD_PRESSURE, "bar", 1e5, 3e7), FROM(1.1e7, "electric-hydraulic brake figures"),
     .help = "of the actuator at full command"},
    {.name = "delay", QUANTITY(delay, DD_TIME, "s", 0, 3), FROM(0.1, "electric-hydraulic brake figures"), .help = "until the actuator begins to pump"},
    {.name = "flow", QUANTITY(flow, DD_VOLUME, "L", 1e-7, 1e-3), FROM(3e-5, "electric-hydraulic brake figures"), .help = "that it pumps in a second"},
    {.name = "current", QUANTITY(current, DD_NUMBER, NULL, 0.1, 100), FROM(6, "electric-hydraulic brake figures"), .help = "that the actuator draws while it holds full pressure, in A"},
    {.name = "fill volume", QUANTITY(fill_volume, DD_VOLUME, "L", 0, 1e-4), FROM(1.5e-6, "electric-hydraulic brake figures"),
     .help = "of each wheel until the pads bear"},
    {.name = "line volume", QUANTITY(line_volume, DD_VOLUME, "L", 1e-7, 1e-4), FROM(2.5e-6, "electric-hydraulic brake figures"),
     .help = "of each wheel from there to full pressure: hoses and calipers give"},
    {.name = "piston area", QUANTITY(piston_area, DD_AREA, "cm2", 1e-5, 0.02), FROM(1.1e-3, "electric-hydraulic brake figures"),
     .help = "of one side of each caliper"},
    {.name = "effective radius", QUANTITY(effective_radius, DD_LENGTH, "mm", 0.03, 0.4), FROM(0.11, "electric-hydraulic brake figures"),
     .help = "at which the pads rub on the disc"},
    {.name = "pad friction", QUANTITY(pad_friction, DD_RATIO, NULL, 0.05, 1), FROM(0.38, "brake friction"), .help = "of the pads, cold and dry"},
    {.name = "hot share", QUANTITY(hot_share, DD_RATIO, "%", 0, 1), FROM(0.75, "brake friction"), .help = "of that friction when hot"},
    {.name = "wet share", QUANTITY(wet_share, DD_RATIO, "%", 0, 1), FROM(0.7, "brake friction"), .help = "of that friction after the ramp, wet"},
    {0}};
/* clang-format on */

static void evaluate(const dd_trailer_braking *b, const dd_brake_input *in, const double *state, dd_brake_output *out)
{
    const dd_electric_hydraulic_brake *e = &b->electric_hydraulic;
    const int wheels = 2 * in->braked_axles;
    const double gaps = e->fill_volume / (e->fill_volume + e->line_volume), whole = wheels * (e->fill_volume + e->line_volume);
    const double pressure = e->pressure * fmax(0, state[0] - gaps) / (1 - gaps);
    const double awake = dd_brake_smooth((in->time - e->delay) / 0.01);
    const double asked = in->command * e->pressure;
    const double error = tanh((asked - pressure) / (0.05 * e->pressure));
    *out = (dd_brake_output){.torque = wheels * 2 * e->pad_friction * pressure * e->piston_area * e->effective_radius,
                             .rate = {awake * e->flow / whole * error}};
}

static double current(const dd_trailer_braking *b, int braked_axles)
{
    (void)braked_axles; /* one actuator */
    return b->electric_hydraulic.current;
}
static double hot_share(const dd_trailer_braking *b) { return b->electric_hydraulic.hot_share; }
static double wet_share(const dd_trailer_braking *b) { return b->electric_hydraulic.wet_share; }

static const char *const sources[] = {"electric-hydraulic brake figures", "brake friction", NULL};

const dd_brake_kind dd_brake_electric_hydraulic = {.name = "electric-hydraulic",
                                                   .help = "electric-over-hydraulic disc brakes, worked by a controller at the driver's seat",
                                                   .fitted = DD_FITTED_ELECTRIC_HYDRAULIC,
                                                   .controlled = true,
                                                   .state_count = 1,
                                                   .keys = dd_electric_hydraulic_brake_keys,
                                                   .sources = sources,
                                                   .evaluate = evaluate,
                                                   .current = current,
                                                   .hot_share = hot_share,
                                                   .wet_share = wet_share};
