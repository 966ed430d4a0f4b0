/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A roller across the trailer that carries the keel line. */
#include "lib/rig/support/support.h"

/* clang-format off */
const dd_key dd_support_keel_roller_keys[] = {
    {.name = "width", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_support, width), .least = 0,
     .most = 2, .fallback = 0.2, .source = "design memory", .unit = "mm",
     .help = "between its flanges: a keel further off the middle than half of it misses; 0: not limited"},
    {0}};
/* clang-format on */

dd_status dd_support_keel_roller_place(const dd_support *support, int index, struct dd_rig *rig, dd_error *error)
{
    double top = support->above_ground - rig->trailer.coupling_height;
    dd_roller roller = {.keel = 1, .side = 0, .axis = dd_vec(0, 1, 0), .width = isnan(support->width) ? 0 : support->width};
    roller.centre = dd_vec(support->behind_coupling, 0, top - support->roller_diameter / 2);
    return dd_support_add(support, index, rig, &roller, "", error);
}
