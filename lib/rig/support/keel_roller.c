/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A roller across the trailer that carries the keel line, and the bracket that it stands in: plain, with a flange at each end, or
   cupped, its radius growing all the way from the middle. */
#include "lib/rig/support/support.h"

static const char *const shapes[] = {"plain", "flanged", "cupped", NULL};

/* clang-format off */
const dd_key dd_support_keel_roller_keys[] = {
    {.name = "width", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_support, width), .least = 0,
     .most = 2, .fallback = 0.2, .source = "design memory", .unit = "mm",
     .help = "between its flanges: a keel further off the middle than half of it misses; 0: not limited"},
    {.name = "shape", .type = DD_KEY_CHOICE, .offset = offsetof(dd_support, shape), .fallback = DD_SHAPE_PLAIN,
     .source = "the program", .choices = shapes, .help = "plain; flanged: a flange at each end; cupped: lowest in its middle"},
    {.name = "flange height", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_support, flange_height),
     .least = 0, .most = 0.1, .fallback = 0.02, .source = "design memory", .unit = "mm",
     .help = "of flanges or of a cup's edge over the middle: higher, a keel rides over it"},
    {.name = "bracket width", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_support, bracket_width),
     .least = 0, .most = 1, .fallback = 0.06, .source = "design memory", .unit = "mm",
     .help = "of the bracket on each side beyond the roller, that a keel comes down on which misses the roller; 0: none"},
    {.name = "bracket drop", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_support, bracket_drop),
     .least = 0, .most = 0.2, .fallback = 0.015, .source = "design memory", .unit = "mm", .help = "bracket below the roller's top"},
    DD_ROLLER_ROWS,
    DD_ADJUST_MIDDLE_ROW,
    {0}};
/* clang-format on */

#define FLANGE_RUN 1.5    /* its rise takes this share of its height across: 45 degrees at its steepest */
#define BRACKET_HARDER 20 /* than the roller */

dd_status dd_support_keel_roller_place(const dd_support *support, int index, struct dd_rig *rig, dd_error *error)
{
    double top = support->above_ground - rig->trailer.coupling_height;
    dd_roller roller = {.keel = 1, .side = 0, .axis = dd_vec(0, 1, 0), .width = isnan(support->width) ? 0 : support->width};
    roller.centre = dd_vec(support->behind_coupling, 0, top - support->roller_diameter / 2);
    if (support->shape != DD_SHAPE_PLAIN && support->flange_height > 0) {
        if (!(roller.width > 0))
            return dd_support_fail(support, index, DD_ERROR_ARGUMENT, "width", "found 0, expected the width between the flanges",
                                   error);
        const bool cup = support->shape == DD_SHAPE_CUPPED;
        roller.profile_height = support->flange_height;
        roller.profile_start = cup ? 0 : 0.5 * roller.width;
        roller.profile_length = cup ? 0.5 * roller.width : FLANGE_RUN * support->flange_height;
    }
    if (support->bracket_width > 0 && roller.width > 0) {
        if (support->bracket_drop >= 0.5 * support->roller_diameter)
            return dd_support_fail(support, index, DD_ERROR_ARGUMENT, "bracket drop",
                                   "expected less than the roller's radius", error);
        roller.bracket_width = support->bracket_width;
        roller.bracket_drop = support->bracket_drop;
    }
    dd_status status = dd_support_add(support, index, rig, &roller, "", error);
    if (status == DD_OK) rig->rollers[rig->roller_count - 1].bracket_stiffness = BRACKET_HARDER * rig->rollers[rig->roller_count - 1].stiffness;
    return status;
}
