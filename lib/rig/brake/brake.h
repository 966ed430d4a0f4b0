/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Brake systems of a trailer. Each is one file with one constant dd_brake_kind, listed in lib/rig/brakes.def. */
#ifndef DD_RIG_BRAKE_BRAKE_H
#define DD_RIG_BRAKE_BRAKE_H
#include "lib/base/key.h"
#include <drawdock/rig.h>
#include <math.h>
#include <stdbool.h>

/* Beyond these the model of a stop is not held to anything. */
#define DD_BRAKE_FASTEST (130 / 3.6) /* m/s */
#define DD_BRAKE_STEEPEST 0.3        /* rise over run, up or down */
#define DD_BRAKE_STEEPEST_ANGLE 0.29145679447786709 /* the same, rad */

enum { DD_BRAKE_STATES = 2 };

/* What a system feels at one moment. */
typedef struct dd_brake_input {
    double time;                   /* since the brake lamps came on, s */
    double command;                /* of the controller or lever, 0..1 */
    double squeeze, squeeze_rate;  /* how far the coupling is pushed in, m, m/s; of a system that does not slide 0 */
    double deceleration;           /* of the vehicle, m/s2 */
    bool reversing;
    int braked_axles;
} dd_brake_input;

typedef struct dd_brake_output {
    double torque;                 /* of all brakes together with their friction as given, N m */
    double push;                   /* of a system that slides: of the ball on the trailer, N, > 0 holds it back */
    double damped, stored;         /* power into its damper, W; energy in its springs, J */
    double rate[DD_BRAKE_STATES];
} dd_brake_output;

typedef struct dd_brake_kind {
    const char *name, *help;
    int fitted;                    /* DD_FITTED_... */
    bool slides;                   /* the coupling moves on its drawbar */
    bool controlled;               /* from the driver's seat */
    int state_count;
    const dd_key *keys;            /* rows of its struct in dd_trailer_braking; NULL: none */
    const char *const *sources;    /* ends with NULL */
    /* b is complete (dd_brakes_complete). */
    void (*evaluate)(const dd_trailer_braking *b, const dd_brake_input *input, const double *state, dd_brake_output *output);
    /* Torque of the park lever alone, N m; NULL: it has none. */
    double (*parked)(const dd_trailer_braking *b);
    /* Current that holds them on, A, and of how many axles; NULL: they need none. */
    double (*current)(const dd_trailer_braking *b, int braked_axles);
    double (*hot_share)(const dd_trailer_braking *b); /* NULL: nothing to fade */
    double (*wet_share)(const dd_trailer_braking *b);
} dd_brake_kind;

const dd_brake_kind *dd_brake_kind_at(int index); /* NULL past the end */
const dd_brake_kind *dd_brake_kind_fitted(int fitted); /* NULL: no figures for that one, or not known */

extern const dd_key dd_overrun_brake_keys[], dd_electric_brake_keys[], dd_electric_hydraulic_brake_keys[];
extern const dd_key dd_brake_controller_keys[], dd_brake_heat_keys[], dd_vehicle_braking_keys[], dd_trailer_braking_keys[];
extern const dd_key_rule dd_trailer_braking_rules[]; /* of dd_trailer_parameters; ends with holds NULL */

/* Fills what is computed from the loaded trailer: weight of all it carries and load on its braked axles (N), radius of its tyres. */
void dd_brakes_complete(dd_trailer_braking *b, double weight, double braked_load, int braked_axles, double radius);

/* Command of the controller, 0..1, at a time after the brake lamps for a sensed deceleration (m/s2). */
double dd_controller_command(const dd_brake_controller *controller, double time, double deceleration, double gravity);

/* Friction of a brake at a temperature (K), share of its cold one, between 1 and hot_share. */
double dd_brake_fade(const dd_brake_heat *heat, double hot_share, double temperature);

static inline double dd_brake_smooth(double x)
{
    return x <= 0 ? 0 : x >= 1 ? 1 : x * x * (3 - 2 * x);
}
#endif
