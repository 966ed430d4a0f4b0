/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A rocker at the rear: lines of rollers on one frame that turns about a pivot across the trailer. Empty, its own weight holds its
   rear end down on the stop, below the chine of a hull that comes on. */
#include "lib/rig/support/support.h"
#include <stdio.h>

/* clang-format off */
const dd_key dd_support_rocker_keys[] = {
    DD_LINES_ROWS(2),
    {.name = "rear end down", .type = DD_KEY_QUANTITY, .dimension = DD_ANGLE, .offset = offsetof(dd_support, rear_down),
     .least = 0, .most = 1, .fallback = 0.25, .source = "design memory", .unit = "deg", .help = "how far its rear end sinks to its stop"},
    {.name = "rear end up", .type = DD_KEY_QUANTITY, .dimension = DD_ANGLE, .offset = offsetof(dd_support, rear_up), .least = 0,
     .most = 1, .fallback = 0.15, .source = "design memory", .unit = "deg", .help = "how far its rear end rises to its stop"},
    {.name = "height settings", .type = DD_KEY_QUANTITIES, .dimension = DD_LENGTH, .offset = offsetof(dd_support, height_settings),
     .least = 0, .most = 1, .fallback = NAN, .required = true, .capacity = DD_HEIGHT_SETTINGS,
     .count_offset = offsetof(dd_support, height_setting_count), .unit = "mm",
     .help = "heights of the V's line over the centre above the pivot that it can be bolted at"},
    {.name = "height setting", .type = DD_KEY_COUNT, .offset = offsetof(dd_support, height_setting), .least = 1,
     .most = DD_HEIGHT_SETTINGS, .fallback = 1, .source = "the program", .help = "which of them is used, from 1"},
    {.name = "rocker mass", .type = DD_KEY_QUANTITY, .dimension = DD_MASS, .offset = offsetof(dd_support, arm_mass), .least = 0,
     .most = 500, .fallback = 25, .source = "design memory", .help = "of what turns, part of the trailer's mass"},
    {.name = "centre behind pivot", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_support, arm_centre),
     .least = -1, .most = 1, .fallback = 0.05, .source = "design memory", .unit = "mm",
     .help = "centre of the rocker's mass behind its pivot"},
    DD_PIVOT_DAMPING_ROW,
    DD_ROLLER_WIDTH_ROW,
    DD_ROLLER_ROWS,
    DD_ADJUST_ROW,
    {0}};
/* clang-format on */

dd_status dd_support_rocker_place(const dd_support *support, int index, struct dd_rig *rig, dd_error *error)
{
    dd_status status = dd_support_check_lines(support, index, error);
    if (status != DD_OK) return status;
    if (support->height_setting_count < 1)
        return dd_support_fail(support, index, DD_ERROR_UNSET, "height settings", "not set", error);
    if (support->height_setting > support->height_setting_count) {
        char text[80];
        snprintf(text, sizeof text, "found %d, expected 1 to %d, one of the height settings", support->height_setting,
                 support->height_setting_count);
        return dd_support_fail(support, index, DD_ERROR_ARGUMENT, "height setting", text, error);
    }
    const dd_vec3 pivot = dd_vec(support->behind_coupling, 0, support->above_ground - rig->trailer.coupling_height);
    const dd_support_lines lines = {pivot.x, pivot.z + support->height_settings[support->height_setting - 1]};
    status = dd_support_open_arm(support, index, rig, pivot, dd_vec(0, 1, 0), -support->rear_up, support->rear_down, error);
    for (int side = 1; side >= -1; side -= 2)
        for (int line = 0; line < support->half_spacing_count && status == DD_OK; line++)
            status = dd_support_add_line(support, index, rig, lines, side, line, error);
    if (status == DD_OK) dd_support_close_arm(rig, support->arm_mass, dd_vec(support->arm_centre, 0, 0));
    return status;
}
