/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A long support that the hull slides on: a face under a bottom panel each side, or one under the keel. It bears at some places
   along its face, alternately toward either edge, so that its width counts in roll as that of an even pressure. */
#include "lib/rig/support/support.h"
#include <stdio.h>

static const char *const sides[] = {"pair", "port", "starboard", NULL};
static const char *const faces[] = {"bottom", "keel", NULL};

/* clang-format off */
const dd_key dd_support_skid_keys[] = {
    {.name = "length", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_support, length), .least = 0.05,
     .most = 15, .fallback = NAN, .required = true, .help = "of its face, along the trailer"},
    {.name = "slope", .type = DD_KEY_QUANTITY, .dimension = DD_ANGLE, .offset = offsetof(dd_support, slope), .least = -0.5,
     .most = 0.5, .fallback = 0, .source = "the program", .unit = "deg", .help = "of its face along the trailer, > 0: rear end down"},
    {.name = "width", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_support, width), .least = 0, .most = 1,
     .fallback = 0.09, .source = "design memory", .unit = "mm", .help = "of its face; a keel further off the middle than half of it misses"},
    {.name = "under", .type = DD_KEY_CHOICE, .offset = offsetof(dd_support, under), .fallback = DD_UNDER_BOTTOM,
     .source = "the program", .choices = faces, .help = "under a bottom panel, or one under the keel"},
    {.name = "side", .type = DD_KEY_CHOICE, .offset = offsetof(dd_support, side), .fallback = DD_SIDE_PAIR,
     .source = "the program", .choices = sides, .help = "under the bottom: one each side, or one on the boat's port or starboard side"},
    {.name = "half spacing", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_support, half_spacing),
     .least = 0.01, .most = 3, .fallback = NAN, .fallback_text = "needed under the bottom, not used under the keel",
     .source = "the program", .unit = "mm", .help = "from the trailer's centre line to the middle of its face"},
    {.name = "deadrise", .type = DD_KEY_QUANTITY, .dimension = DD_ANGLE, .offset = offsetof(dd_support, deadrise), .least = 0,
     .most = 1.2, .fallback = 0, .source = "the program", .unit = "deg", .help = "tilt of its face, outer edge up"},
    {.name = "points", .type = DD_KEY_COUNT, .offset = offsetof(dd_support, points), .least = 2, .most = 32, .fallback = 8,
     .source = "the program", .help = "places along it where the hull is borne"},
    {.name = "swing", .type = DD_KEY_QUANTITY, .dimension = DD_ANGLE, .offset = offsetof(dd_support, pivot_travel), .least = 0,
     .most = 1, .fallback = 0, .source = "the program", .unit = "deg",
     .help = "how far it swings each way about a pivot across the trailer at its middle; 0: it stands fast"},
    DD_PIVOT_DAMPING_ROW,
    {.name = "dry friction", .type = DD_KEY_QUANTITY, .dimension = DD_RATIO, .offset = offsetof(dd_support, dry_friction),
     .least = 0, .most = 2, .fallback = 0.35, .source = "design memory", .help = "friction of the dry face, share of its load"},
    {.name = "wet friction", .type = DD_KEY_QUANTITY, .dimension = DD_RATIO, .offset = offsetof(dd_support, wet_friction),
     .least = 0, .most = 2, .fallback = 0.2, .source = "design memory", .help = "friction of the wet face, share of its load"},
    {.name = "stays wet", .type = DD_KEY_FLAG, .offset = offsetof(dd_support, stays_wet), .fallback = 1, .source = "practice",
     .help = "what has been under water stays wet"},
    {.name = "squash at rated load", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH,
     .offset = offsetof(dd_support, squash_at_rated_load), .least = 1e-6, .most = 0.1, .fallback = 0.006, .source = "design memory",
     .unit = "mm", .help = "how far hull and skid approach under its rated load spread evenly"},
    {.name = "rated load", .type = DD_KEY_QUANTITY, .dimension = DD_FORCE, .offset = offsetof(dd_support, rated_load), .least = 1,
     .most = 2e5, .fallback = NAN, .fallback_text = "not checked; the squash is then taken at 6000 N", .source = "design memory",
     .help = "rated load of each skid"},
    DD_ADJUST_ROW,
    {0}};
/* clang-format on */

#define FACE_RADIUS 0.05          /* of the rounded body that stands for a place where it bears, m */
#define EVEN_PRESSURE 0.288675134 /* 1 / sqrt 12: two edges this share of the width off the middle turn as an even pressure does */

static dd_status place_face(const dd_support *s, int index, struct dd_rig *rig, int side, dd_error *error)
{
    const double c = cos(s->deadrise), t = side * sin(s->deadrise), z = s->above_ground - rig->trailer.coupling_height;
    const dd_vec3 axis = dd_vec(0, c, -t), along = dd_vec(cos(s->slope), 0, -sin(s->slope));
    const dd_vec3 middle = dd_vec(s->behind_coupling, -side * s->half_spacing, z);
    const dd_vec3 below = dd_scale(-FACE_RADIUS, dd_cross(along, axis));
    if (s->pivot_travel > 0) {
        dd_status status = dd_support_open_arm(s, index, rig, middle, dd_vec(0, 1, 0), -s->pivot_travel, s->pivot_travel, error);
        if (status != DD_OK) return status;
    }
    for (int i = 0; i < s->points; i++) {
        dd_roller roller = {.keel = side == 0, .side = side, .axis = axis, .radius = FACE_RADIUS, .skid = rig->skid_count,
                            .width = side == 0 ? s->width : 0, .wet_friction = s->wet_friction};
        double from_middle = ((i + 0.5) / s->points - 0.5) * s->length; /* aft */
        double across = side == 0 ? 0 : (i % 2 == 0 ? 1 : -1) * side * EVEN_PRESSURE * s->width;
        roller.behind_rear = 0.5 * s->length - from_middle;
        roller.centre = dd_add(dd_add(middle, below), dd_add(dd_scale(from_middle, along), dd_scale(across, axis)));
        char label[48];
        snprintf(label, sizeof label, "%s %d", side > 0 ? " port" : side < 0 ? " starboard" : "", i + 1);
        dd_status status = dd_support_add(s, index, rig, &roller, label, error);
        if (status != DD_OK) return status;
    }
    if (s->pivot_travel > 0) /* as heavy as a wet plank; hung a little below its pivot */
        dd_support_close_arm(rig, 6 * s->length, dd_vec(0, 0, -0.03));
    return DD_OK;
}

dd_status dd_support_skid_place(const dd_support *support, int index, struct dd_rig *rig, dd_error *error)
{
    const double z = support->above_ground - rig->trailer.coupling_height, half = 0.5 * support->length;
    dd_skid *skid = &rig->skids[rig->skid_count++];
    *skid = (dd_skid){.support = index, .stays_wet = support->stays_wet, .length = support->length};
    skid->along = dd_vec(-cos(support->slope), 0, sin(support->slope));
    skid->rear = dd_sub(dd_vec(support->behind_coupling, 0, z), dd_scale(half, skid->along));
    if (support->under == DD_UNDER_KEEL) {
        dd_support flat = *support;
        flat.deadrise = flat.half_spacing = 0;
        return place_face(&flat, index, rig, 0, error);
    }
    if (!(support->half_spacing > 0)) return dd_support_fail(support, index, DD_ERROR_UNSET, "half spacing", "not set", error);
    for (int side = 1; side >= -1; side -= 2) {
        if (support->side == (side > 0 ? DD_SIDE_STARBOARD : DD_SIDE_PORT)) continue;
        dd_status status = place_face(support, index, rig, side, error);
        if (status != DD_OK) return status;
    }
    return DD_OK;
}
