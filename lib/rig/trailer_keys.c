/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keys and rules of the block `trailer`. */
#include "lib/rig/brake/brake.h"
#include "lib/rig/lines.h"
#include "lib/rig/support/support.h"
#include "lib/rig/adjust.h"
#include "lib/rig/loose.h"
#include "lib/rig/rules.h"
#include "lib/rig/section.h"
#include "lib/rig/tyres.h"
#include <stdio.h>

#define QUANTITY .type = DD_KEY_QUANTITY
#define LENGTH .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH
#define UNCHECKED .fallback = NAN, .fallback_text = "not checked", .source = "the program"

#define FIELD(field) .offset = offsetof(dd_support, field)
/* clang-format off */
const dd_key dd_support_keys[] = {
    {.name = "name", .type = DD_KEY_TEXT, FIELD(name), .size = sizeof(((dd_support *)0)->name), .fallback = NAN,
     .help = "name of the support, as in `rear cradle`"},
    {.name = "behind coupling", LENGTH, FIELD(behind_coupling), .least = 0, .most = 30, .fallback = NAN, .required = true,
     .help = "its contact, a cradle's or skid's middle, or a rocker's pivot, behind the coupling"},
    {.name = "above ground", LENGTH, FIELD(above_ground), .least = 0, .most = 3, .fallback = NAN, .required = true,
     .help = "top of the roller above flat ground, trailer level; of a cradle the V's line over the centre, of a skid its face at its middle, of a rocker its pivot, of a guide its top"},
    {.name = "damping", QUANTITY, .dimension = DD_NUMBER, FIELD(damping), .least = 0, .most = 100, .fallback = 6,
     .source = "contact damping", .help = "c of the contact force k d^1.5 (1 + c d'), in s/m"},
    {.name = "strength", .type = DD_KEY_BLOCK, FIELD(strength), .rows = dd_strength_keys, .fallback = NAN,
     .help = "sections of post, arm and cross-member and the clamp that carry it, for seat"},
    {0}};
/* clang-format on */
#undef FIELD

static const dd_key_variant support_variants[] = {
#define DD_SUPPORT(symbol, name, help) {name, help, dd_support_##symbol##_keys},
#include "lib/rig/supports.def"
#undef DD_SUPPORT
    {0}};

#define FIELD(field) .offset = offsetof(dd_axle, field)
/* clang-format off */
static const dd_key axle_keys[] = {
    {.name = "behind coupling", LENGTH, FIELD(behind_coupling), .least = 0.1, .most = 30, .fallback = NAN, .required = true,
     .help = "axle behind the coupling"},
    {.name = "rating", QUANTITY, .dimension = DD_MASS, FIELD(rating), .least = 10, .most = 20000, .fallback = NAN,
     .fallback_text = "not checked; the squash is then at 0.92 of the aggregate rating shared by the axles, or at 7500 N",
     .source = "design memory", .help = "rated mass on the axle at the ground: what hangs below its springs counts"},
    {.name = "mass", QUANTITY, .dimension = DD_MASS, FIELD(mass), .least = 1, .most = 2000, .fallback = NAN,
     .fallback_text = "nothing is known of what hangs below the springs; an axle that is shifted leaves the trailer's centre where it is",
     .source = "the program", .help = "of axle, hubs and wheels: a part of the trailer's mass, on the ground beside the springs, that goes along when the axle is shifted"},
    {0}};
/* clang-format on */
#undef FIELD

#define FIELD(field) .offset = offsetof(dd_cross_member, field)
/* clang-format off */
static const dd_key cross_member_keys[] = {
    {.name = "behind coupling", LENGTH, FIELD(behind_coupling), .least = 0.1, .most = 30, .fallback = NAN, .required = true,
     .help = "its middle behind the coupling"},
    {.name = "above ground", LENGTH, FIELD(above_ground), .least = 0, .most = 2, .fallback = NAN, .required = true, .unit = "mm",
     .help = "its top above flat ground, trailer level"},
    {.name = "length", LENGTH, FIELD(length), .least = 0.05, .most = 4, .fallback = NAN,
     .fallback_text = "from wheel to wheel: the track less a tyre's width", .source = "the program", .help = "across the trailer"},
    {0}};
/* clang-format on */
#undef FIELD

static const char *const suspensions[] = {"springs", "rocking beam", "torsion", NULL};
static const char *const line_kinds[] = {"strap", "wire", "rope", NULL};
static const char *const drives[] = {"hand", "electric", NULL};
#define FIELD(field) .offset = offsetof(dd_winch_parameters, field)
/* clang-format off */
static const dd_key winch_keys[] = {
    {.name = "behind coupling", LENGTH, FIELD(behind_coupling), .least = 0, .most = 30, .fallback = NAN, .required = true,
     .help = "where the strap leaves the drum, behind the coupling"},
    {.name = "above ground", LENGTH, FIELD(above_ground), .least = 0, .most = 5, .fallback = NAN, .required = true,
     .help = "where the strap leaves the drum, above flat ground"},
    {.name = "strap rating", QUANTITY, .dimension = DD_FORCE, FIELD(strap_rating), .least = 1, .most = 1e6, UNCHECKED,
     .help = "working load limit of the strap"},
    {.name = "kind", .type = DD_KEY_CHOICE, FIELD(kind), .choices = line_kinds, .fallback = DD_LINE_OF_STRAP,
     .source = "the program", .help = "what is on the drum: a flat strap, a wire or a rope"},
    {.name = "strap stretch at rating", QUANTITY, .dimension = DD_RATIO, FIELD(strap_stretch_at_rating), .least = 1e-6,
     .most = 0.5, .fallback = NAN, .fallback_text = "strap 7 %, wire 1 %, rope 5 %", .source = "webbing stretch",
     .help = "stretch at its rating, share of its length"},
    {.name = "strap break strength", QUANTITY, .dimension = DD_FORCE, FIELD(break_strength), .least = 1, .most = 1e6, UNCHECKED,
     .help = "force at which the strap breaks, new"},
    {.name = "strap length at home", LENGTH, FIELD(strap_length_at_home), .least = 0, .most = 20, .fallback = 0.5,
     .source = "design memory", .help = "strap on the drum that stretches as well, beyond that from post to eye"},
    {.name = "strap damping ratio", QUANTITY, .dimension = DD_RATIO, FIELD(strap_damping_ratio), .least = 0, .most = 2,
     .fallback = 0.05, .source = "design memory", .help = "damping of the strap, share of critical"},
    {.name = "pretension", QUANTITY, .dimension = DD_FORCE, FIELD(pretension), .least = 0, .most = 20000, .fallback = 300,
     .source = "design memory", .help = "tension with the boat at home"},
    {.name = "drum radius", LENGTH, FIELD(drum_radius), .least = 0.005, .most = 0.5, .fallback = 0.025,
     .source = "design memory", .unit = "mm", .help = "radius of the bare drum"},
    {.name = "drum width", LENGTH, FIELD(drum_width), .least = 0.01, .most = 1, .fallback = 0.06, .source = "design memory",
     .unit = "mm", .help = "between the flanges: a wire or rope lies there turn beside turn"},
    {.name = "strap thickness", LENGTH, FIELD(strap_thickness), .least = 0, .most = 0.05, .fallback = NAN,
     .fallback_text = "strap 1.5 mm, wire 5 mm, rope 10 mm", .source = "design memory", .unit = "mm",
     .help = "thickness of one layer on the drum"},
    {.name = "drag torque", QUANTITY, .dimension = DD_MOMENT, FIELD(drag_torque), .least = 0, .most = 500, .fallback = 1.5,
     .source = "design memory", .help = "of the drum running free"},
    {.name = "drag damping", QUANTITY, .dimension = DD_DAMPING, FIELD(drag_damping), .least = 1, .most = 1e5, .fallback = 150,
     .source = "design memory", .help = "of the drum running free: pull over speed of the strap"},
    {.name = "gear ratio", QUANTITY, .dimension = DD_NUMBER, FIELD(gear_ratio), .least = 0.1, .most = 500, .fallback = 3,
     .source = "design memory", .help = "turns of the handle for one of the drum"},
    {.name = "handle length", LENGTH, FIELD(handle_length), .least = 0.01, .most = 1, .fallback = 0.23,
     .source = "design memory", .unit = "mm", .help = "from the handle's axis to the hand"},
    {.name = "efficiency", QUANTITY, .dimension = DD_RATIO, FIELD(efficiency), .least = 0.05, .most = 1, .fallback = 0.75,
     .source = "design memory", .help = "work at the strap, share of the work of the hand"},
    {.name = "hand force limit", QUANTITY, .dimension = DD_FORCE, FIELD(hand_force_limit), .least = 1, .most = 2000,
     .fallback = 130, .source = "crank guideline", .help = "force of the hand on the handle that should not be exceeded"},
    {.name = "drive", .type = DD_KEY_CHOICE, FIELD(drive), .choices = drives, .fallback = DD_DRIVE_HAND,
     .source = "the program", .help = "a handle, or a motor that slows down with the pull and stalls"},
    {.name = "speed", QUANTITY, .dimension = DD_SPEED, FIELD(speed), .least = 1e-4, .most = 2, .fallback = NAN,
     .fallback_text = "25 turns of the handle a minute; electric 80 mm/s", .source = "crank guideline",
     .help = "speed of the strap winding in; of an electric winch without load"},
    {.name = "speed at rating", QUANTITY, .dimension = DD_SPEED, FIELD(speed_at_rating), .least = 1e-4, .most = 2,
     .fallback = NAN, .fallback_text = "half the speed without load", .source = "design memory",
     .help = "of an electric winch pulling its rating"},
    {.name = "rating", QUANTITY, .dimension = DD_FORCE, FIELD(rating), .least = 1, .most = 1e6, UNCHECKED,
     .help = "rated pull of the winch"},
    {.name = "adjust", .type = DD_KEY_BLOCK, FIELD(adjust), .rows = dd_adjust_along_keys, .fallback = NAN,
     .help = "how far its post, with drum and bow stop, can be shifted from where it stands, for seat --adjust"},
    {.name = "post", .type = DD_KEY_BLOCK, FIELD(post), .rows = dd_member_keys, .fallback = NAN,
     .help = "section of its post, that the bow stop and the safety chain load as well, for seat"},
    {0}};
/* clang-format on */
#undef FIELD

#define FIELD(field) .offset = offsetof(dd_bow_stop_parameters, field)
/* clang-format off */
static const dd_key bow_stop_keys[] = {
    {.name = "behind coupling", LENGTH, FIELD(behind_coupling), .least = 0, .most = 30, .fallback = NAN, .required = true,
     .help = "face of the stop in its middle, behind the coupling"},
    {.name = "above ground", LENGTH, FIELD(above_ground), .least = 0, .most = 5, .fallback = NAN, .required = true,
     .help = "middle of the stop, above flat ground"},
    {.name = "squash at rated load", LENGTH, FIELD(squash_at_rated_load), .least = 1e-6, .most = 0.2, .fallback = 0.006,
     .source = "design memory", .unit = "mm", .help = "squash of the stop under its rated load, borne over its whole height"},
    {.name = "rated load", QUANTITY, .dimension = DD_FORCE, FIELD(rated_load), .least = 1, .most = 1e5, .fallback = 2500,
     .source = "design memory", .help = "load at which the stop has that squash"},
    {.name = "half height", LENGTH, FIELD(half_height), .least = 0.01, .most = 1, .fallback = 0.1, .source = "design memory",
     .unit = "mm", .help = "half the height of the stop"},
    {.name = "half width", LENGTH, FIELD(half_width), .least = 0.01, .most = 0.5, .fallback = 0.1, .source = "design memory",
     .unit = "mm", .help = "half the width of the stop: a stem further aside misses it"},
    {.name = "radius", LENGTH, FIELD(radius), .least = 0.005, .most = 0.3, .fallback = 0.05, .source = "design memory", .unit = "mm",
     .help = "of a roller, or of the edges of a block; more than its half height counts as that"},
    {.name = "hollow", LENGTH, FIELD(hollow), .least = 0, .most = 0.2, .fallback = 0, .source = "the program", .unit = "mm",
     .fallback_text = "0: a plain face", .help = "how much its face rises from the middle to its sides, to centre the stem"},
    {0}};
/* clang-format on */
#undef FIELD

#define FIELD(field) .offset = offsetof(dd_trailer_parameters, field)
/* clang-format off */
const dd_key dd_trailer_keys[] = {
    {.name = "name", .type = DD_KEY_TEXT, FIELD(name), .size = sizeof(((dd_trailer_parameters *)0)->name), .fallback = NAN,
     .help = "name of the trailer"},
    {.name = "mass", QUANTITY, .dimension = DD_MASS, FIELD(mass), .least = 10, .most = 20000, .fallback = NAN, .required = true,
     .help = "mass of the empty trailer"},
    {.name = "centre behind coupling", LENGTH, FIELD(centre_behind_coupling), .least = 0, .most = 30, .fallback = NAN,
     .fallback_text = "0.92 of the distance to the middle of the axles: 8 % of the weight on the coupling",
     .source = "design memory", .help = "centre of the empty trailer's mass behind the coupling"},
    {.name = "centre above ground", LENGTH, FIELD(centre_above_ground), .least = 0.05, .most = 2, .fallback = 0.45,
     .source = "design memory", .help = "centre of the empty trailer's mass above flat ground"},
    {.name = "pitch radius", LENGTH, FIELD(pitch_radius), .least = 0.05, .most = 10, .fallback = NAN,
     .fallback_text = "a bar from the coupling to the rear end: its length / sqrt 12", .source = "elementary mechanics",
     .help = "radius of gyration in pitch about its centre"},
    {.name = "coupling height", LENGTH, FIELD(coupling_height), .least = 0.1, .most = 1.5, .fallback = 0.4,
     .source = "design memory", .unit = "mm", .help = "coupling above flat ground, trailer level"},
    {.name = "coupling rating", QUANTITY, .dimension = DD_FORCE, FIELD(coupling_rating), .least = 1, .most = 1e5, UNCHECKED,
     .help = "static vertical rating of the coupling"},
    {.name = "tyre radius", LENGTH, FIELD(tyre_radius), .least = 0.05, .most = 1, .fallback = 0.29, .source = "design memory",
     .unit = "mm", .help = "loaded radius of the tyres"},
    {.name = "tyre squash", LENGTH, FIELD(tyre_squash), .least = 0, .most = 0.2, .fallback = 0.022, .source = "design memory",
     .unit = "mm", .help = "squash of the tyres at the axle's rated load"},
    {.name = "spring squash", LENGTH, FIELD(spring_squash), .least = 1e-6, .most = 0.4, .fallback = NAN,
     .fallback_text = "50 mm; of torsion axles 35 mm", .source = "design memory", .unit = "mm", .help = "squash of the springs at the axle's rated load"},
    {.name = "suspension", .type = DD_KEY_CHOICE, FIELD(suspension), .choices = suspensions, .fallback = DD_SUSPENSION_SPRINGS,
     .source = "the program",
     .help = "how axles share the load: each by its own springs or torsion axles, or by rocking beams or equalisers"},
    {.name = "beam arm ratio", QUANTITY, .dimension = DD_NUMBER, FIELD(beam_arm_ratio), .least = 0.2, .most = 5, .fallback = 1,
     .source = "the program",
     .help = "front arm of a rocking beam over its rear arm: an axle carries so many times the load of the one before it"},
    {.name = "track", LENGTH, FIELD(track), .least = 0.5, .most = 3.5, .fallback = NAN, .fallback_text = "1.85 m",
     .source = "design memory", .help = "between the middles of an axle's tyres, or pairs of tyres"},
    {.name = "axle group rating", QUANTITY, .dimension = DD_MASS, FIELD(axle_group_rating), .least = 10, .most = 50000, UNCHECKED,
     .help = "rated mass on all axles together with the trailer coupled"},
    {.name = "coupling aggregate rating", QUANTITY, .dimension = DD_MASS, FIELD(coupling_aggregate_rating), .least = 10,
     .most = 50000, UNCHECKED, .help = "mass of the loaded trailer that the coupling is rated for"},
    {.name = "coupling d value", QUANTITY, .dimension = DD_FORCE, FIELD(coupling_d_value), .least = 100, .most = 1e6, UNCHECKED,
     .unit = "kN", .help = "horizontal force that the coupling is rated for"},
    {.name = "coupling class", .type = DD_KEY_COUNT, FIELD(coupling_class), .least = 1, .most = 4, UNCHECKED,
     .help = "class that the coupling is marked with, where classes are used"},
    {.name = "bounce damping ratio", QUANTITY, .dimension = DD_RATIO, FIELD(bounce_damping_ratio), .least = 0, .most = 2,
     .fallback = 0.2, .source = "design memory", .help = "damping of the suspension, share of critical"},
    {.name = "aggregate mass rating", QUANTITY, .dimension = DD_MASS, FIELD(aggregate_mass_rating), .least = 10, .most = 50000,
     UNCHECKED, .help = "rated mass of trailer and load"},
    {.name = "actuator height", LENGTH, FIELD(actuator_height), .least = 0, .most = 3, UNCHECKED, .unit = "mm",
     .help = "brake actuator and breakaway battery above flat ground, at the coupling"},
    {.name = "plug height", LENGTH, FIELD(plug_height), .least = 0, .most = 3, UNCHECKED, .unit = "mm",
     .help = "plug of the lamps above flat ground, at the coupling"},
    {.name = "hubs hot until", QUANTITY, .dimension = DD_TIME, FIELD(hubs_hot_until), .least = 0, .most = 7200, .fallback = 0,
     .source = "the program", .help = "time since the start until which the hubs are hot from the road and must stay dry"},
    {.name = "lamp height", LENGTH, FIELD(lamp_height), .least = 0, .most = 3, UNCHECKED,
     .help = "lamps above flat ground, at the rear end"},
    {.name = "rear end behind coupling", LENGTH, FIELD(rear_end_behind_coupling), .least = 0.5, .most = 30, .fallback = NAN,
     .fallback_text = "the rearmost roller or axle", .source = "the program", .help = "rear end of the frame behind the coupling"},
    {.name = "planned coupling load", QUANTITY, .dimension = DD_FORCE, FIELD(planned_coupling_load), .least = 1, .most = 1e5,
     .fallback = NAN, .fallback_text = "not compared", .source = "the program",
     .help = "load on the ball that the trailer was set up for with the boat at home, on level ground"},
    {.name = "frame clearance", LENGTH, FIELD(frame_clearance), .least = 0, .most = 2, UNCHECKED, .unit = "mm",
     .help = "underside of the frame above flat ground, trailer level"},
    {.name = "frame height", LENGTH, FIELD(frame_height), .least = 0, .most = 2, UNCHECKED, .unit = "mm",
     .help = "top of the frame above flat ground, trailer level: what the bow can come down on"},
    {.name = "drawbar width", LENGTH, FIELD(drawbar_width), .least = 0.02, .most = 1, .fallback = 0.1, .source = "design memory",
     .unit = "mm", .help = "top of the drawbar, from the coupling to the foremost support: a keel further off the middle than half of it misses it"},
    {.name = "cross members", .type = DD_KEY_LIST, FIELD(cross_members), .rows = cross_member_keys, .size = sizeof(dd_cross_member),
     .fallback = NAN, .count_offset = offsetof(dd_trailer_parameters, cross_member_count), .capacity = DD_CROSS_MEMBERS,
     .fallback_text = "one as high as the frame under each keel roller; others are taken to be let down where the keel passes",
     .source = "the program", .help = "straight members across the frame that the keel can come down on, beside those under keel rollers"},
    {.name = "rolling resistance", QUANTITY, .dimension = DD_RATIO, FIELD(rolling_resistance), .least = 0, .most = 1,
     .fallback = NAN, .fallback_text = "the surface's", .source = "the program",
     .help = "rolling resistance of the wheels, share of their load"},
    {.name = "tyre width", LENGTH, FIELD(tyre_width), .least = 0.02, .most = 0.6, .fallback = 0.165, .source = "design memory",
     .unit = "mm", .help = "width of each tyre: what it displaces under water"},
    {.name = "frame volume", QUANTITY, .dimension = DD_VOLUME, FIELD(frame_volume), .least = 0, .most = 5, .fallback = 0,
     .source = "the program", .help = "hollow inside of the trailer's members, beside the metal itself"},
    {.name = "flooded share", QUANTITY, .dimension = DD_RATIO, FIELD(flooded_share), .least = 0, .most = 1, .fallback = 0,
     .source = "the program", .help = "share of the hollow inside that fills with water"},
    {.name = "axles", .type = DD_KEY_LIST, FIELD(axles), .rows = axle_keys, .size = sizeof(dd_axle), .fallback = NAN,
     .count_offset = offsetof(dd_trailer_parameters, axle_count), .capacity = DD_AXLES, .required = true,
     .help = "axles from the front"},
    {.name = "axle adjust", .type = DD_KEY_BLOCK, FIELD(axle_adjust), .rows = dd_adjust_along_keys, .fallback = NAN,
     .help = "how far all axles together can be shifted from where they stand, for seat --adjust"},
    {.name = "supports", .type = DD_KEY_LIST, FIELD(supports), .rows = dd_support_keys, .variants = support_variants,
     .kind_offset = offsetof(dd_support, kind), .size = sizeof(dd_support), .fallback = NAN,
     .count_offset = offsetof(dd_trailer_parameters, support_count), .capacity = DD_SUPPORTS, .required = true,
     .help = "what carries the hull, from the front"},
    {.name = "winch", .type = DD_KEY_BLOCK, FIELD(winch), .rows = winch_keys, .fallback = NAN, .required = true,
     .help = "winch, strap and post"},
    {.name = "bow stop", .type = DD_KEY_BLOCK, FIELD(bow_stop), .rows = bow_stop_keys, .fallback = NAN, .required = true,
     .help = "roller or block at the winch post that the stem meets"},
    {.name = "jockey wheel", .type = DD_KEY_BLOCK, FIELD(jockey), .rows = dd_jockey_keys, .fallback = NAN,
     .help = "wheel that the trailer's nose stands on when it is uncoupled"},
    {.name = "rope", .type = DD_KEY_BLOCK, FIELD(rope), .rows = dd_rope_keys, .fallback = NAN,
     .help = "rope between the vehicle and the uncoupled trailer"},
    {.name = "tilting frame", .type = DD_KEY_BLOCK, FIELD(tilt), .rows = dd_tilt_keys, .fallback = NAN,
     .help = "bed that turns about a hinge on the chassis"},
    {.name = "safety chain", .type = DD_KEY_BLOCK, FIELD(chain), .rows = dd_chain_keys, .fallback = NAN,
     .help = "chain from the winch post to the bow eye"},
    {.name = "wheels", .type = DD_KEY_BLOCK, FIELD(wheels), .rows = dd_wheel_keys, .fallback = NAN,
     .help = "tyres and rims that are on it, for weigh"},
    {.name = "other wheels", .type = DD_KEY_BLOCK, FIELD(other_wheels), .rows = dd_wheel_keys, .fallback = NAN,
     .help = "tyres and rims considered in their stead: weigh says what they change and whether they fit"},
    {.name = "hubs", .type = DD_KEY_BLOCK, FIELD(hubs), .rows = dd_hub_keys, .fallback = NAN,
     .help = "studs, collar, brake and bearings of each hub, and the room about the wheels on it now"},
    {.name = "brakes", .type = DD_KEY_BLOCK, FIELD(brakes), .rows = dd_brakes_fitted_keys, .fallback = NAN,
     .help = "brakes, breakaway, safety chains of the drawbar and chocks that are on it, for weigh"},
    {.name = "brake figures", .type = DD_KEY_BLOCK, FIELD(braking), .rows = dd_trailer_braking_keys, .fallback = NAN,
     .help = "figures of every brake system, fitted or not, of the breakaway and of how it follows, for brake"},
    {.name = "transom ties", .type = DD_KEY_BLOCK, FIELD(ties), .rows = dd_ties_keys, .fallback = NAN,
     .help = "a tie each side from the trailer to the transom"},
    {0}};
/* clang-format on */
#undef FIELD

/* Foremost and rearmost roller behind the coupling. */
static void extent_of(const dd_support *s, double *front, double *rear)
{
    bool rows = (s->kind == DD_SUPPORT_CRADLE || s->kind == DD_SUPPORT_ROCKER) && s->rows > 1 && !isnan(s->row_spacing);
    double half = rows ? 0.5 * (s->rows - 1) * s->row_spacing : 0;
    if (s->kind == DD_SUPPORT_SKID && !isnan(s->length)) half = 0.5 * s->length * cos(isnan(s->slope) ? 0 : s->slope);
    *front = s->behind_coupling - half;
    *rear = s->behind_coupling + half;
}

static bool stop_is_ahead(const void *structure, char *message, size_t size, const char **key)
{
    const dd_trailer_parameters *t = structure;
    *key = "bow stop";
    for (int i = 0; i < t->support_count; i++) {
        double front, rear;
        extent_of(&t->supports[i], &front, &rear);
        if (t->bow_stop.behind_coupling >= front) {
            snprintf(message, size, "found %g m behind the coupling, expected ahead of the support at %g m",
                     t->bow_stop.behind_coupling, front);
            return false;
        }
    }
    return true;
}

static bool winch_is_ahead(const void *structure, char *message, size_t size, const char **key)
{
    const dd_trailer_parameters *t = structure;
    *key = "winch";
    for (int i = 0; i < t->support_count; i++)
        if (t->winch.behind_coupling >= t->supports[i].behind_coupling) {
            snprintf(message, size, "found %g m behind the coupling, expected ahead of the support at %g m",
                     t->winch.behind_coupling, t->supports[i].behind_coupling);
            return false;
        }
    return true;
}

static bool motor_is_rated(const void *structure, char *message, size_t size, const char **key)
{
    const dd_winch_parameters *w = &((const dd_trailer_parameters *)structure)->winch;
    *key = "winch";
    if (w->drive != DD_DRIVE_ELECTRIC) return true;
    if (isnan(w->rating)) {
        snprintf(message, size, "found an electric drive without its rating, expected the pull it is rated for (winch: rating)");
        return false;
    }
    if (isnan(w->speed) || isnan(w->speed_at_rating) || w->speed_at_rating < w->speed) return true;
    snprintf(message, size, "found a speed of %g m/s at its rating, expected less than the %g m/s without load", w->speed_at_rating,
             w->speed);
    return false;
}

static bool rear_end_is_last(const void *structure, char *message, size_t size, const char **key)
{
    const dd_trailer_parameters *t = structure;
    *key = "rear end behind coupling";
    double last = 0;
    for (int i = 0; i < t->axle_count; i++) last = fmax(last, t->axles[i].behind_coupling);
    if (isnan(t->rear_end_behind_coupling) || t->rear_end_behind_coupling >= last) return true;
    snprintf(message, size, "found %g m, expected behind the last axle at %g m", t->rear_end_behind_coupling, last);
    return false;
}

static bool axles_in_order(const void *structure, char *message, size_t size, const char **key)
{
    const dd_trailer_parameters *t = structure;
    *key = "axles";
    for (int i = 1; i < t->axle_count; i++)
        if (!(t->axles[i].behind_coupling > t->axles[i - 1].behind_coupling)) {
            snprintf(message, size, "axle %d at %g m, expected behind the axle before at %g m", i + 1,
                     t->axles[i].behind_coupling, t->axles[i - 1].behind_coupling);
            return false;
        }
    return true;
}

static bool rollers_fit(const void *structure, char *message, size_t size, const char **key)
{
    const dd_trailer_parameters *t = structure;
    *key = "supports";
    int rollers = 0;
    for (int i = 0; i < t->support_count; i++) {
        const dd_support *s = &t->supports[i];
        if (s->kind == DD_SUPPORT_SKID)
            rollers += (s->points > 0 ? s->points : 8) * (s->under != DD_UNDER_KEEL && s->side == DD_SIDE_PAIR ? 2 : 1);
        else if (s->kind == DD_SUPPORT_CRADLE || s->kind == DD_SUPPORT_ROCKER)
            rollers += 2 * s->half_spacing_count * (s->rows > 0 ? s->rows : 2);
        else
            rollers += s->kind == DD_SUPPORT_ROLLER && s->side == DD_SIDE_PAIR ? 2 : 1;
    }
    if (rollers <= DD_ROLLERS) return true;
    snprintf(message, size, "found %d rollers and places of skids, expected at most %d", rollers, DD_ROLLERS);
    return false;
}

static bool axles_are_a_part(const void *structure, char *message, size_t size, const char **key)
{
    const dd_trailer_parameters *t = structure;
    double sum = 0;
    int given = 0;
    *key = "axles";
    for (int i = 0; i < t->axle_count; i++)
        if (!isnan(t->axles[i].mass)) sum += t->axles[i].mass, given++;
    if (given > 0 && given < t->axle_count) {
        snprintf(message, size, "found the mass of %d of %d axles, expected that of all or of none", given, t->axle_count);
        return false;
    }
    if (!(sum >= t->mass)) return true;
    snprintf(message, size, "found axles of %g kg together, expected less than the trailer's mass of %g kg, of which they are a part", sum, t->mass);
    return false;
}

const dd_key_rule dd_trailer_rules[] = {{"the bow stop lies ahead of every support", stop_is_ahead},
                                        {"the winch lies ahead of every support", winch_is_ahead},
                                        {"an electric winch has a rating and slows down with the pull", motor_is_rated},
                                        {"the frame reaches at least to the last axle", rear_end_is_last},
                                        {"axles stand in order from the front", axles_in_order},
                                        {"the axles weigh less than the trailer", axles_are_a_part},
                                        {"jockey wheel and rope go together, ahead of the axles", dd_loose_parts_fit},
                                        {"what can be shifted stands within its travel", dd_travels_hold},
                                        {"walls fit into their sections", dd_sections_hold},
                                        {"a trailer has at most 96 rollers and places of skids", rollers_fit},
                                        {0}};
