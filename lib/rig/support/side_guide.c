/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A post, or a skid along the trailer, that the hull's side meets: one each side, or one on one side. It carries no weight. */
#include "lib/rig/support/support.h"
#include <stdio.h>

static const char *const sides[] = {"pair", "port", "starboard", NULL};

/* clang-format off */
const dd_key dd_support_side_guide_keys[] = {
    {.name = "side", .type = DD_KEY_CHOICE, .offset = offsetof(dd_support, side), .fallback = DD_SIDE_PAIR,
     .source = "the program", .choices = sides, .help = "one each side, or one on the boat's port or starboard side"},
    {.name = "half spacing", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_support, half_spacing),
     .least = 0.05, .most = 3, .fallback = NAN, .required = true, .unit = "mm",
     .help = "from the trailer's centre line to its inner face"},
    {.name = "foot above ground", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_support, foot_above_ground),
     .least = 0, .most = 3, .fallback = 0.4, .source = "guide figures", .help = "where its face begins above flat ground; `above ground` is its top"},
    {.name = "length", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_support, length), .least = 0,
     .most = 8, .fallback = 0, .source = "the program", .help = "of its face along the trailer; 0: a post"},
    {.name = "diameter", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_support, roller_diameter),
     .least = 0.01, .most = 0.3, .fallback = 0.06, .source = "guide figures", .unit = "mm", .help = "of the post's or face's round"},
    {.name = "squash at rated load", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH,
     .offset = offsetof(dd_support, squash_at_rated_load), .least = 1e-6, .most = 0.3, .fallback = 0.03, .source = "guide figures",
     .unit = "mm", .help = "how far one place of it gives way under its rated load"},
    {.name = "rated load", .type = DD_KEY_QUANTITY, .dimension = DD_FORCE, .offset = offsetof(dd_support, rated_load), .least = 1,
     .most = 1e5, .fallback = 800, .source = "guide figures", .help = "rated load across the trailer"},
    {.name = "friction", .type = DD_KEY_QUANTITY, .dimension = DD_RATIO, .offset = offsetof(dd_support, dry_friction), .least = 0,
     .most = 2, .fallback = 0.25, .source = "guide figures", .help = "friction of the hull on it, share of its load"},
    {0}};
/* clang-format on */

dd_status dd_support_side_guide_place(const dd_support *support, int index, struct dd_rig *rig, dd_error *error)
{
    if (!(support->half_spacing > 0)) return dd_support_fail(support, index, DD_ERROR_UNSET, "half spacing", "not set", error);
    char text[96];
    if (!(support->foot_above_ground < support->above_ground)) {
        snprintf(text, sizeof text, "found %g m, expected below its top at %g m", support->foot_above_ground, support->above_ground);
        return dd_support_fail(support, index, DD_ERROR_ARGUMENT, "foot above ground", text, error);
    }
    for (int side = 1; side >= -1; side -= 2) {
        if (support->side == (side > 0 ? DD_SIDE_STARBOARD : DD_SIDE_PORT)) continue;
        if (rig->guide_count >= DD_GUIDES) {
            snprintf(text, sizeof text, "the trailer has more than %d guides", DD_GUIDES);
            return dd_support_fail(support, index, DD_ERROR_ARGUMENT, "guides", text, error);
        }
        dd_guide *g = &rig->guides[rig->guide_count++];
        const char *label = side > 0 ? "port" : "starboard";
        if (support->name[0] != '\0')
            snprintf(g->name, sizeof g->name, "%.40s %s", support->name, label);
        else
            snprintf(g->name, sizeof g->name, "guide %d %s", index + 1, label);
        g->support = index;
        g->side = side;
        g->radius = support->roller_diameter / 2;
        g->top = dd_vec(support->behind_coupling, -side * (support->half_spacing + g->radius),
                        support->above_ground - g->radius - rig->trailer.coupling_height);
        g->height = fmax(0, support->above_ground - support->foot_above_ground - 2 * g->radius);
        g->length = support->length;
        g->stiffness = support->rated_load / pow(support->squash_at_rated_load, 1.5);
        g->damping = support->damping;
        g->friction = support->dry_friction;
    }
    return DD_OK;
}
