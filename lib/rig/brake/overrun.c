/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Overrun brake (inertia, surge): the trailer's push on the coupling is levered onto its brakes.

   u is how far the coupling is pushed in. Push of the ball, elastic part: threshold S(u/1 mm) + k max(0, u - slack), S a smooth step,
   beyond the stroke and pulled out against stops; damper c du/dt. The lever takes the part k (u - slack) beyond the threshold:
       torque = lever ratio x cable efficiency x brake factor x k (u - slack),
   at rest the formula of the type approval, B R = i eta rho (push - threshold). k is such that the whole stroke takes the
   full push beyond the threshold (unless given, together a tenth of the trailer's weight: D* of the rule). The lever, cables and shoes have no mass of their own. */
#include "lib/rig/brake/brake.h"
#include <drawdock/rules.h>

#define FIELD(field) .offset = offsetof(dd_overrun_brake, field)
#define QUANTITY(field, dimension_, unit_, least_, most_) \
    .type = DD_KEY_QUANTITY, .dimension = dimension_, FIELD(field), .unit = unit_, .least = least_, .most = most_
#define FROM(value, source_) .fallback = value, .source = source_

static const char *const kinds[] = {"drum", "disc", NULL};
static const char *const reverses[] = {"none", "lock-out lever", "automatic", NULL};

/* clang-format off */
const dd_key dd_overrun_brake_keys[] = {
    {.name = "threshold", QUANTITY(threshold, DD_FORCE, "N", 0, 20000), .fallback = NAN, .fallback_text = "2 % of the loaded trailer's weight",
     .source = "overrun rules", .help = "push on the coupling below which the brakes do nothing"},
    {.name = "full push", QUANTITY(full_push, DD_FORCE, "N", 1, 50000), .fallback = NAN, .fallback_text = "8 % of the loaded trailer's weight",
     .source = "overrun rules", .help = "push beyond the threshold that takes the whole travel"},
    {.name = "stroke", QUANTITY(stroke, DD_LENGTH, "mm", 0.01, 0.3), FROM(0.08, "overrun figures"), .help = "travel of the coupling on its drawbar"},
    {.name = "slack", QUANTITY(slack, DD_LENGTH, "mm", 0, 0.2), FROM(0.015, "overrun figures"),
     .help = "of that travel, until cables are taut and shoes bear"},
    {.name = "damping", QUANTITY(damping, DD_DAMPING, NULL, 0, 1e6), FROM(8000, "overrun figures"), .help = "of the damper in the coupling"},
    {.name = "lever ratio", QUANTITY(lever_ratio, DD_NUMBER, NULL, 0.1, 100), .fallback = NAN,
     .fallback_text = "that which brakes with 49 % of the trailer's weight at a push of 10 %", .source = "overrun rules",
     .help = "pull on the cables per push beyond the threshold"},
    {.name = "cable efficiency", QUANTITY(cable_efficiency, DD_RATIO, "%", 0.05, 1), FROM(0.85, "overrun figures"),
     .help = "of the pull what reaches the brakes; rusty or kinked cables lose more"},
    {.name = "brake factor", QUANTITY(brake_factor, DD_LENGTH, "m", 0.01, 20), FROM(0.5, "overrun figures"),
     .help = "torque of all brakes together per pull on the cables, N m per N"},
    {.name = "kind", .type = DD_KEY_CHOICE, FIELD(kind), .choices = kinds, FROM(DD_BRAKE_DRUM, "practice"),
     .help = "drum or disc: a drum helps itself, so that friction lost costs it more"},
    {.name = "reverse", .type = DD_KEY_CHOICE, FIELD(reverse), .choices = reverses, FROM(DD_REVERSE_AUTOMATIC, "practice"),
     .help = "what frees the brakes when the trailer is pushed back"},
    {.name = "reverse share", QUANTITY(reverse_share, DD_RATIO, "%", 0, 1), FROM(0.1, "overrun figures"),
     .help = "of their torque that brakes which free themselves still give in reverse"},
    {.name = "park pull", QUANTITY(park_pull, DD_FORCE, "kN", 0, 50000), FROM(4000, "overrun figures"),
     .help = "pull of the park lever on the cables, drawn up by hand"},
    {.name = "hot share", QUANTITY(hot_share, DD_RATIO, "%", 0, 1), FROM(0.6, "brake friction"), .help = "of their friction when hot"},
    {.name = "wet share", QUANTITY(wet_share, DD_RATIO, "%", 0, 1), FROM(0.5, "brake friction"), .help = "of their friction after the ramp, wet"},
    {0}};
/* clang-format on */

#define SET_IN 1e-3          /* m, over which the threshold sets in */
#define STOP_STIFFNESS 5.0e5 /* N/m of either end of the travel, with rubber */
#define STOP_SOFT 1e-3       /* m, over which an end sets in */

/* Force and energy of an end of the travel passed by x. */
static double end_stop(double x, double *energy)
{
    if (x <= 0) return 0;
    if (x < STOP_SOFT) {
        *energy += STOP_STIFFNESS * x * x * x / (6 * STOP_SOFT);
        return STOP_STIFFNESS * x * x / (2 * STOP_SOFT);
    }
    const double beyond = x - STOP_SOFT;
    *energy += STOP_STIFFNESS * (STOP_SOFT * STOP_SOFT / 6 + 0.5 * STOP_SOFT * beyond + 0.5 * beyond * beyond);
    return STOP_STIFFNESS * (0.5 * STOP_SOFT + beyond);
}

static double link_stiffness(const dd_overrun_brake *o) { return o->full_push / fmax(o->stroke - o->slack, 1e-3); }

static void evaluate(const dd_trailer_braking *b, const dd_brake_input *in, const double *state, dd_brake_output *out)
{
    (void)state;
    const dd_overrun_brake *o = &b->overrun;
    const double u = in->squeeze, k = link_stiffness(o);
    *out = (dd_brake_output){0};
    const double x = fmin(fmax(u / SET_IN, 0), 1);
    out->push = o->threshold * dd_brake_smooth(x);
    out->stored = o->threshold * (SET_IN * (x * x * x - 0.5 * x * x * x * x) + fmax(0, u - SET_IN));
    const double beyond = fmin(u, o->stroke) - o->slack, pressed = fmax(0, beyond);
    out->push += k * pressed;
    out->stored += 0.5 * k * pressed * pressed + (u > o->stroke ? k * pressed * (u - o->stroke) : 0);
    out->push += end_stop(u - o->stroke, &out->stored) - end_stop(-u, &out->stored);
    out->push += o->damping * in->squeeze_rate;
    out->damped = o->damping * in->squeeze_rate * in->squeeze_rate;
    const double freed = !in->reversing ? 1 : o->reverse == DD_REVERSE_LOCK_OUT ? 0 : o->reverse == DD_REVERSE_AUTOMATIC ? o->reverse_share : 1;
    out->torque = freed * o->lever_ratio * o->cable_efficiency * o->brake_factor * k * pressed;
}

static double parked(const dd_trailer_braking *b)
{
    return b->overrun.park_pull * b->overrun.cable_efficiency * b->overrun.brake_factor;
}

#define DRUM_POWER 1.5 /* from memory: torque of a drum with a leading shoe goes as friction to about this power */
static double of_kind(const dd_trailer_braking *b, double share) { return b->overrun.kind == DD_BRAKE_DRUM ? pow(share, DRUM_POWER) : share; }
static double hot_share(const dd_trailer_braking *b) { return of_kind(b, b->overrun.hot_share); }
static double wet_share(const dd_trailer_braking *b) { return of_kind(b, b->overrun.wet_share); }

static const char *const sources[] = {"overrun rules", "overrun figures", "brake friction", NULL};

const dd_brake_kind dd_brake_overrun = {.name = "overrun",
                                        .help = "overrun brake, worked by the push on the coupling",
                                        .fitted = DD_FITTED_OVERRUN,
                                        .slides = true,
                                        .keys = dd_overrun_brake_keys,
                                        .sources = sources,
                                        .evaluate = evaluate,
                                        .parked = parked,
                                        .hot_share = hot_share,
                                        .wet_share = wet_share};
