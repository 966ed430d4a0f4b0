/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Jockey wheel, rope and tilting frame: keys, and springs and masses from them.

   The bed takes its share of the trailer's mass at its own centre; the chassis has the rest, so that both together have the
   trailer's mass, centre and pitch radius while the bed is latched. */
#include "lib/rig/loose.h"
#include "lib/base/error.h"
#include <stdio.h>

#define QUANTITY .type = DD_KEY_QUANTITY
#define LENGTH .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH
#define GRAVITY 9.80665

#define FIELD(field) .offset = offsetof(dd_jockey_parameters, field)
/* clang-format off */
const dd_key dd_jockey_keys[] = {
    {.name = "behind coupling", LENGTH, FIELD(behind_coupling), .least = 0, .most = 10, .fallback = NAN,
     .fallback_text = "no jockey wheel: the trailer cannot be uncoupled", .source = "the program",
     .help = "jockey wheel behind the coupling"},
    {.name = "wheel radius", LENGTH, FIELD(wheel_radius), .least = 0.03, .most = 0.6, .fallback = 0.1,
     .source = "design memory", .unit = "mm", .help = "radius of its wheel under its rated load"},
    {.name = "wheel width", LENGTH, FIELD(wheel_width), .least = 0.01, .most = 0.6, .fallback = 0.05, .source = "design memory", .unit = "mm",
     .help = "width of its wheel: the smaller that and its radius beside the trailer's tyres, the deeper it sinks into soft ground"},
    {.name = "coupling height", LENGTH, FIELD(coupling_height), .least = 0.1, .most = 1.5, .fallback = NAN,
     .fallback_text = "the trailer's coupling height", .source = "the program", .unit = "mm",
     .help = "coupling above level ground while the jockey wheel stands there under its rated load"},
    {.name = "rated load", QUANTITY, .dimension = DD_FORCE, FIELD(rated_load), .least = 10, .most = 50000, .fallback = 1500,
     .source = "design memory", .help = "load at which it has its squash"},
    {.name = "squash at rated load", LENGTH, FIELD(squash_at_rated_load), .least = 1e-6, .most = 0.1, .fallback = 0.01,
     .source = "design memory", .unit = "mm", .help = "squash of wheel and leg under its rated load"},
    {.name = "rolling resistance", QUANTITY, .dimension = DD_RATIO, FIELD(rolling_resistance), .least = 0, .most = 1,
     .fallback = NAN, .fallback_text = "the surface's", .source = "the program",
     .help = "rolling resistance of its wheel, share of its load"},
    {0}};
/* clang-format on */
#undef FIELD

#define FIELD(field) .offset = offsetof(dd_rope_parameters, field)
/* clang-format off */
const dd_key dd_rope_keys[] = {
    {.name = "length", LENGTH, FIELD(length), .least = 0.1, .most = 200, .fallback = NAN, .fallback_text = "no rope",
     .source = "the program", .help = "rope between the vehicle's tow point and the trailer's coupling, slack"},
    {.name = "rating", QUANTITY, .dimension = DD_FORCE, FIELD(rating), .least = 10, .most = 1e6, .fallback = 8000,
     .source = "design memory", .help = "working load of the rope"},
    {.name = "stretch at rating", QUANTITY, .dimension = DD_RATIO, FIELD(stretch_at_rating), .least = 1e-4, .most = 0.5,
     .fallback = 0.05, .source = "design memory", .help = "stretch at its rating, share of its length"},
    {.name = "damping ratio", QUANTITY, .dimension = DD_RATIO, FIELD(damping_ratio), .least = 0, .most = 2, .fallback = 0.05,
     .source = "design memory", .help = "damping of the rope with the empty trailer on it, share of critical"},
    {.name = "turns round the bar", QUANTITY, .dimension = DD_NUMBER, FIELD(turns), .least = 0, .most = 10, .fallback = 0,
     .source = "the program", .help = "turns that the rope takes round a bar of the vehicle, its end in a hand; 0: made fast"},
    {.name = "friction on the bar", QUANTITY, .dimension = DD_RATIO, FIELD(bar_friction), .least = 0, .most = 1,
     .fallback = 0.25, .source = "practice", .help = "friction of the rope on the bar"},
    {.name = "hand hold", QUANTITY, .dimension = DD_FORCE, FIELD(hand_hold), .least = 1, .most = 1000, .fallback = 200,
     .source = "push guideline", .help = "what the hand holds the rope's end with: beyond exp(friction x angle) of it the rope pays out"},
    {0}};
/* clang-format on */
#undef FIELD

#define FIELD(field) .offset = offsetof(dd_tilt_parameters, field)
/* clang-format off */
const dd_key dd_tilt_keys[] = {
    {.name = "hinge behind coupling", LENGTH, FIELD(hinge_behind_coupling), .least = 0.1, .most = 30, .fallback = NAN,
     .fallback_text = "the frame does not tilt", .source = "the program", .help = "hinge of the bed behind the coupling"},
    {.name = "hinge above ground", LENGTH, FIELD(hinge_above_ground), .least = 0.05, .most = 2, .fallback = 0.5,
     .source = "design memory", .help = "hinge above flat ground, trailer level"},
    {.name = "most tilt", QUANTITY, .dimension = DD_ANGLE, FIELD(most_tilt), .least = 0.001, .most = 1.2,
     .fallback = 0.26179938779914943654, .source = "design memory", .unit = "deg", .help = "angle of the bed at its far stop"},
    {.name = "stop moment", QUANTITY, .dimension = DD_MOMENT, FIELD(stop_moment), .least = 10, .most = 1e6, .fallback = 10000,
     .source = "design memory", .help = "moment about the hinge at which a stop has its squash"},
    {.name = "stop squash", QUANTITY, .dimension = DD_ANGLE, FIELD(stop_squash), .least = 1e-6, .most = 0.2,
     .fallback = 0.01745329251994329577, .source = "design memory", .unit = "deg", .help = "how far the bed turns into a stop under that moment"},
    {.name = "bed share", QUANTITY, .dimension = DD_RATIO, FIELD(bed_share), .least = 0.01, .most = 0.99, .fallback = 0.5,
     .source = "design memory", .help = "share of the empty trailer's mass that tilts"},
    {.name = "bed centre behind coupling", LENGTH, FIELD(bed_centre_behind_coupling), .least = 0, .most = 30, .fallback = NAN,
     .fallback_text = "as the trailer's", .source = "the program", .help = "centre of the bed's mass behind the coupling, latched"},
    {.name = "bed centre above ground", LENGTH, FIELD(bed_centre_above_ground), .least = 0.05, .most = 3, .fallback = NAN,
     .fallback_text = "as the trailer's", .source = "the program", .help = "centre of the bed's mass above flat ground, latched"},
    {0}};
/* clang-format on */
#undef FIELD

bool dd_loose_parts_fit(const void *structure, char *message, size_t size, const char **key)
{
    const dd_trailer_parameters *t = structure;
    *key = "jockey wheel";
    for (int i = 0; i < t->axle_count && !isnan(t->jockey.behind_coupling); i++)
        if (t->jockey.behind_coupling >= t->axles[i].behind_coupling) {
            snprintf(message, size, "found %g m behind the coupling, expected ahead of the axle at %g m",
                     t->jockey.behind_coupling, t->axles[i].behind_coupling);
            return false;
        }
    *key = "rope";
    if (!isnan(t->rope.length) && isnan(t->jockey.behind_coupling)) {
        snprintf(message, size, "found a rope, expected a jockey wheel beside it: without one the trailer cannot be uncoupled");
        return false;
    }
    return true;
}

static double damping_for(double ratio, double stiffness, double load) { return 2 * ratio * sqrt(stiffness * load / GRAVITY); }

static void place_jockey(dd_rig *rig)
{
    const dd_jockey_parameters *j = &rig->trailer.jockey;
    rig->uncouples = !isnan(j->behind_coupling);
    if (!rig->uncouples) return;
    double height = isnan(j->coupling_height) ? rig->trailer.coupling_height : j->coupling_height;
    rig->jockey = (dd_ground_wheel){.hub = dd_vec(j->behind_coupling, 0, j->wheel_radius - height),
                                    .radius = j->wheel_radius + j->squash_at_rated_load,
                                    .stiffness = j->rated_load / j->squash_at_rated_load,
                                    .rated_load = j->rated_load,
                                    .sinks = rig->trailer.tyre_width * rig->trailer.tyre_radius / (j->wheel_width * j->wheel_radius)};
    rig->jockey.damping = damping_for(rig->trailer.bounce_damping_ratio, rig->jockey.stiffness, j->rated_load);
}

static dd_status place_bed(dd_rig *rig, dd_error *error)
{
    const dd_trailer_parameters *t = &rig->trailer;
    const dd_tilt_parameters *tilt = &t->tilt;
    const double inertia = t->mass * t->pitch_radius * t->pitch_radius;
    rig->chassis = (dd_rig_body){t->mass, inertia, rig->trailer_centre};
    rig->bed = (dd_rig_body){0, 0, rig->trailer_centre};
    rig->hinge = dd_vec(t->axles[0].behind_coupling, 0, 0);
    rig->tilts = !isnan(tilt->hinge_behind_coupling);
    if (!rig->tilts) return DD_OK;
    rig->hinge = dd_vec(tilt->hinge_behind_coupling, 0, tilt->hinge_above_ground - t->coupling_height);
    rig->bed.mass = tilt->bed_share * t->mass;
    if (!isnan(tilt->bed_centre_behind_coupling)) rig->bed.centre.x = tilt->bed_centre_behind_coupling;
    if (!isnan(tilt->bed_centre_above_ground)) rig->bed.centre.z = tilt->bed_centre_above_ground - t->coupling_height;
    rig->chassis.mass = t->mass - rig->bed.mass;
    dd_vec3 moment = dd_sub(dd_scale(t->mass, rig->trailer_centre), dd_scale(rig->bed.mass, rig->bed.centre));
    rig->chassis.centre = dd_scale(1 / rig->chassis.mass, moment);
    double apart = dd_norm(dd_sub(rig->bed.centre, rig->chassis.centre));
    double left = inertia - rig->bed.mass * rig->chassis.mass / t->mass * apart * apart;
    if (!(left > 0.01 * inertia))
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_rig_create: trailer: tilting frame",
                       "found the centres of bed and chassis %.2f m apart, expected nearer: the trailer's pitch radius is %.2f m",
                       apart, t->pitch_radius);
    rig->bed.inertia = tilt->bed_share * left;
    rig->chassis.inertia = left - rig->bed.inertia;
    rig->stop_stiffness = tilt->stop_moment / tilt->stop_squash;
    rig->stop_damping = damping_for(t->bounce_damping_ratio, rig->stop_stiffness, tilt->stop_moment);
    return DD_OK;
}

dd_status dd_loose_place(dd_rig *rig, dd_error *error)
{
    const dd_rope_parameters *rope = &rig->trailer.rope;
    place_jockey(rig);
    if (!isnan(rope->length)) {
        rig->rope_rigidity = rope->rating / rope->stretch_at_rating;
        rig->rope_damping = 2 * rope->damping_ratio * sqrt(rig->rope_rigidity / rope->length * rig->trailer.mass);
    }
    return place_bed(rig, error);
}
