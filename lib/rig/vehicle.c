/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The vehicle: keys, rules, and its pose on the profile. */
#include "lib/rig/rig.h"
#include "lib/rig/brake/brake.h"
#include "lib/rig/tyres.h"
#include <stdio.h>

#define FIELD(field) .offset = offsetof(dd_vehicle_parameters, field)
#define UNCHECKED .fallback = NAN, .fallback_text = "not checked", .source = "the program"
#define RATED_MASS(field) .type = DD_KEY_QUANTITY, .dimension = DD_MASS, FIELD(field), .least = 10, .most = 100000, UNCHECKED
#define LENGTH .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH

static const char *const axle_names[] = {"front", "rear", "four", NULL};

/* clang-format off */
const dd_key dd_vehicle_keys[] = {
    {.name = "name", .type = DD_KEY_TEXT, FIELD(name), .size = sizeof(((dd_vehicle_parameters *)0)->name), .fallback = NAN,
     .help = "name of the vehicle"},
    {.name = "mass", .type = DD_KEY_QUANTITY, .dimension = DD_MASS, FIELD(mass), .least = 50, .most = 20000, .fallback = NAN,
     .required = true, .help = "mass with its load and people"},
    {.name = "wheelbase", LENGTH, FIELD(wheelbase), .least = 0.5, .most = 8, .fallback = NAN, .required = true,
     .help = "between front and rear axle"},
    {.name = "drive", .type = DD_KEY_CHOICE, FIELD(drive), .fallback = NAN, .required = true, .choices = axle_names,
     .help = "driven wheels"},
    {.name = "centre behind front axle", LENGTH, FIELD(centre_behind_front_axle), .least = 0, .most = 8, .fallback = NAN,
     .fallback_text = "0.45 of the wheelbase", .source = "design memory", .help = "centre of mass behind the front axle"},
    {.name = "centre height", LENGTH, FIELD(centre_height), .least = 0.05, .most = 3, .fallback = 0.65,
     .source = "design memory", .help = "centre of mass above the ground"},
    {.name = "pitch radius", LENGTH, FIELD(pitch_radius), .least = 0.1, .most = 5, .fallback = NAN,
     .fallback_text = "geometric mean of the centre's distances from the axles", .source = "design memory",
     .help = "radius of gyration in pitch"},
    {.name = "coupling behind rear axle", LENGTH, FIELD(coupling_behind_rear_axle), .least = 0, .most = 5, .fallback = 1.1,
     .source = "design memory", .help = "coupling ball behind the rear axle"},
    {.name = "coupling height", LENGTH, FIELD(coupling_height), .least = 0.1, .most = 1.5, .fallback = 0.4,
     .source = "design memory", .unit = "mm", .help = "coupling ball above level ground, without a trailer"},
    {.name = "tyre radius", LENGTH, FIELD(tyre_radius), .least = 0.1, .most = 1, .fallback = 0.35, .source = "design memory",
     .unit = "mm", .help = "loaded radius of the tyres"},
    {.name = "rear suspension squash", LENGTH, FIELD(rear_suspension_squash), .least = 1e-6, .most = 0.5, .fallback = 0.03,
     .source = "design memory", .unit = "mm", .help = "how far the ball sinks under the rated coupling load"},
    {.name = "rated coupling load", .type = DD_KEY_QUANTITY, .dimension = DD_FORCE, FIELD(rated_coupling_load), .least = 1,
     .most = 50000, .fallback = 1000, .source = "design memory", .help = "vertical load on the ball at which it sinks so far"},
    {.name = "wading depth", LENGTH, FIELD(wading_depth), .least = 0, .most = 3, .fallback = NAN,
     .fallback_text = "not checked", .source = "the program", .help = "deepest water at the rear axle, above the ground"},
    {.name = "exhaust height", LENGTH, FIELD(exhaust_height), .least = 0, .most = 4, .fallback = NAN,
     .fallback_text = "not checked", .source = "the program", .help = "exhaust above the ground, at the rear end"},
    {.name = "park lock", .type = DD_KEY_CHOICE, FIELD(park_lock), .fallback = 1, .source = "practice", .choices = axle_names,
     .help = "axle that the park lock holds, and that chocks stand at"},
    {.name = "tyre width", LENGTH, FIELD(tyre_width), .least = 0.05, .most = 0.6, .fallback = 0.2, .source = "design memory",
     .unit = "mm", .help = "width of each tyre: what it displaces under water"},
    {.name = "body length", LENGTH, FIELD(body_length), .least = 0.1, .most = 15, .fallback = NAN,
     .fallback_text = "1.6 of the wheelbase", .source = "design memory", .help = "length of the closed body"},
    {.name = "body width", LENGTH, FIELD(body_width), .least = 0.1, .most = 3, .fallback = 1.7, .source = "design memory",
     .help = "width of the closed body"},
    {.name = "rear overhang", LENGTH, FIELD(rear_overhang), .least = 0, .most = 5, .fallback = NAN,
     .fallback_text = "0.1 m less than the coupling ball's distance", .source = "design memory",
     .help = "rear end of the closed body behind the rear axle"},
    {.name = "floor height", LENGTH, FIELD(floor_height), .least = 0.05, .most = 2, .fallback = 0.3, .source = "design memory",
     .unit = "mm", .help = "underside of the closed body above the ground: deeper water lifts it"},
    {.name = "body height", LENGTH, FIELD(body_height), .least = 0.05, .most = 3, .fallback = 0.7, .source = "design memory",
     .help = "height of the closed body over its underside"},
    {.name = "flooded share", .type = DD_KEY_QUANTITY, .dimension = DD_RATIO, FIELD(flooded_share), .least = 0, .most = 1,
     .fallback = 0, .source = "the program", .help = "share of the body's volume that fills with water"},
    {.name = "kerb mass", RATED_MASS(kerb_mass), .help = "mass of the vehicle without load, as its plate or papers count it: gives the payload"},
    {.name = "gross mass rating", RATED_MASS(gross_mass_rating), .help = "rated mass of the vehicle with all it carries, the coupling load too"},
    {.name = "combination mass rating", RATED_MASS(combination_mass_rating), .help = "rated mass of vehicle and trailer together"},
    {.name = "front axle rating", RATED_MASS(front_axle_rating), .help = "rated mass on the front axle"},
    {.name = "rear axle rating", RATED_MASS(rear_axle_rating), .help = "rated mass on the rear axle"},
    {.name = "braked towing rating", RATED_MASS(towing_rating_braked), .help = "rated mass of a trailer with brakes"},
    {.name = "unbraked towing rating", RATED_MASS(towing_rating_unbraked), .help = "rated mass of a trailer without brakes"},
    {.name = "tow ball rating", RATED_MASS(tow_ball_rating), .help = "rated static vertical load on ball and tow bar"},
    {.name = "tow bar d value", .type = DD_KEY_QUANTITY, .dimension = DD_FORCE, FIELD(tow_bar_d_value), .least = 100, .most = 1e6,
     UNCHECKED, .unit = "kN", .help = "horizontal force that the tow bar is rated for"},
    {.name = "hitch class", .type = DD_KEY_COUNT, FIELD(hitch_class), .least = 1, .most = 4, UNCHECKED,
     .help = "class that tow bar and ball are marked with, where classes are used"},
    {.name = "road speed", .type = DD_KEY_QUANTITY, .dimension = DD_SPEED, FIELD(road_speed), .least = 1, .most = 60, UNCHECKED,
     .unit = "km/h", .help = "fastest that the rig is driven on the road"},
    {.name = "braking", .type = DD_KEY_BLOCK, FIELD(braking), .rows = dd_vehicle_braking_keys, .fallback = NAN,
     .help = "its brakes, what air and wheels take, and how it corners, for brake"},
    {.name = "tyres", .type = DD_KEY_BLOCK, FIELD(tyres), .rows = dd_vehicle_tyre_keys, .fallback = NAN,
     .help = "tyres of the vehicle, for weigh"},
    {.name = "other tyres", .type = DD_KEY_BLOCK, FIELD(other_tyres), .rows = dd_vehicle_tyre_keys, .fallback = NAN,
     .help = "tyres considered in their stead: weigh says what they change"},
    {0}};
/* clang-format on */

static bool centre_between_axles(const void *structure, char *message, size_t size, const char **key)
{
    const dd_vehicle_parameters *v = structure;
    *key = "centre behind front axle";
    if (isnan(v->centre_behind_front_axle) || isnan(v->wheelbase) || v->centre_behind_front_axle < v->wheelbase) return true;
    snprintf(message, size, "found %g m, expected less than the wheelbase of %g m", v->centre_behind_front_axle, v->wheelbase);
    return false;
}

const dd_key_rule dd_vehicle_rules[] = {{"the vehicle's centre of mass lies between its axles", centre_between_axles}, {0}};

void dd_vehicle_defaults(dd_vehicle_parameters *parameters)
{
    dd_key_clear(dd_vehicle_keys, parameters);
    dd_key_defaults(dd_vehicle_keys, parameters);
    parameters->cookie = sizeof *parameters;
}

/* The front axle's contact: on the profile, one wheelbase (a chord) inshore of the rear axle's. */
static double find_front(const dd_ramp *ramp, double x, double rear_z, double wheelbase, dd_ramp_point *front)
{
    double f = x - wheelbase;
    for (int i = 0; i < 30; i++) {
        *front = dd_ramp_at(ramp, f);
        double d = x - f, e = rear_z - front->z, chord = hypot(d, e);
        /* Newton on chord - wheelbase; its derivative by f is -(d + e z') / chord. */
        double move = (chord - wheelbase) * chord / fmax(d + e * front->slope, 0.1 * chord);
        if (fabs(move) <= 1e-14 * (1 + fabs(f))) break;
        f += move;
    }
    return f;
}

/* A point fixed to the vehicle, (aft of, above) the rear axle's contact, and its derivatives by x. */
static void place_point(double x, const dd_ramp_point *rear, const dd_vehicle_pose *pose, double aft, double up, dd_vec3 at[3])
{
    double c = pose->cosine, s = pose->sine, t = pose->pitch_x, tt = pose->pitch_xx;
    double across = aft * c + up * s, above = up * c - aft * s;
    at[0] = dd_vec(x + across, 0, rear->z + above);
    at[1] = dd_vec(1 + t * above, 0, rear->slope - t * across);
    at[2] = dd_vec(tt * above - t * t * across, 0, rear->curvature - tt * across - t * t * above);
}

/* With d and e the front-to-rear differences of x and z, d^2 + e^2 = L^2. Differentiated once and twice by the rear x:
     f'  = (d + e z_r') / (d + e z_f'),
     f'' = ((1 - f')^2 + (z_r' - z_f' f')^2 + e (z_r'' - z_f'' f'^2)) / (d + e z_f');
   and pitch = atan2(-e, d): pitch' = (e d' - e' d) / L^2, pitch'' = (e d'' - e'' d) / L^2. */
dd_vehicle_pose dd_vehicle_on_profile(const dd_vehicle_parameters *v, const dd_ramp *ramp, double x)
{
    dd_vehicle_pose pose;
    dd_ramp_point rear = dd_ramp_at(ramp, x), front;
    double f = find_front(ramp, x, rear.z, v->wheelbase, &front);
    double d = x - f, e = rear.z - front.z, base = d + e * front.slope, l2 = d * d + e * e;
    double f1 = (d + e * rear.slope) / base;
    double d1 = 1 - f1, e1 = rear.slope - front.slope * f1;
    double f2 = (d1 * d1 + e1 * e1 + e * (rear.curvature - front.curvature * f1 * f1)) / base;
    double d2 = -f2, e2 = rear.curvature - front.curvature * f1 * f1 - front.slope * f2;
    pose.front_x = f;
    pose.front_x_x = f1;
    pose.front_x_xx = f2;
    pose.rear_z = rear.z;
    pose.rear_z_x = rear.slope;
    pose.rear_z_xx = rear.curvature;
    pose.pitch = atan2(-e, d);
    pose.cosine = cos(pose.pitch);
    pose.sine = sin(pose.pitch);
    pose.pitch_x = (e * d1 - e1 * d) / l2;
    pose.pitch_xx = (e * d2 - e2 * d) / l2;
    dd_vec3 ball[3], centre[3];
    place_point(x, &rear, &pose, v->coupling_behind_rear_axle, v->coupling_height, ball);
    place_point(x, &rear, &pose, v->centre_behind_front_axle - v->wheelbase, v->centre_height, centre);
    pose.ball = ball[0];
    pose.ball_x = ball[1];
    pose.ball_xx = ball[2];
    pose.centre = centre[0];
    pose.centre_x = centre[1];
    pose.centre_xx = centre[2];
    return pose;
}
