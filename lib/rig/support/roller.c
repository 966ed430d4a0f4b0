/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A side roller on one side, or a pair. */
#include "lib/rig/support/support.h"

static const char *const side_names[] = {"pair", "port", "starboard", NULL};

/* clang-format off */
const dd_key dd_support_roller_keys[] = {
    {.name = "side", .type = DD_KEY_CHOICE, .offset = offsetof(dd_support, side), .fallback = DD_SIDE_PAIR,
     .source = "the program", .choices = side_names, .help = "one each side, or one on the boat's port or starboard side"},
    {.name = "half spacing", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_support, half_spacing),
     .least = 0.01, .most = 3, .fallback = NAN, .required = true, .unit = "mm",
     .help = "from the trailer's centre line to the middle of the roller"},
    {.name = "deadrise", .type = DD_KEY_QUANTITY, .dimension = DD_ANGLE, .offset = offsetof(dd_support, deadrise), .least = 0,
     .most = 1.2, .fallback = 0, .source = "the program", .unit = "deg", .help = "tilt of the roller's axle, outer end up"},
    DD_ROLLER_WIDTH_ROW,
    DD_ROLLER_ROWS,
    DD_ADJUST_ROW,
    {0}};
/* clang-format on */

dd_status dd_support_roller_place(const dd_support *support, int index, struct dd_rig *rig, dd_error *error)
{
    if (!(support->half_spacing > 0)) return dd_support_fail(support, index, DD_ERROR_UNSET, "half spacing", "not set", error);
    double z = support->above_ground - rig->trailer.coupling_height;
    for (int side = 1; side >= -1; side -= 2) {
        if (support->side == (side > 0 ? DD_SIDE_STARBOARD : DD_SIDE_PORT)) continue;
        dd_vec3 contact = dd_vec(support->behind_coupling, -side * support->half_spacing, z);
        dd_status status =
            dd_support_add_side_roller(support, index, rig, side, contact, side > 0 ? " port" : " starboard", error);
        if (status != DD_OK) return status;
    }
    return DD_OK;
}
