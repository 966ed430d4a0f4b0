/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines of rollers each side on a V: the contact at half spacing y lies y tan(deadrise) above the V's line over the centre. */
#include "lib/rig/support/support.h"
#include <stdio.h>

/* clang-format off */
const dd_key dd_support_cradle_keys[] = {
    {.name = "rows", .type = DD_KEY_COUNT, .offset = offsetof(dd_support, rows), .least = 1, .most = 24, .fallback = 2,
     .source = "design memory", .help = "rollers along each line"},
    {.name = "row spacing", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_support, row_spacing),
     .least = 0.02, .most = 3, .fallback = 0.25, .source = "design memory", .unit = "mm", .help = "between the rollers of a line"},
    {.name = "half spacings", .type = DD_KEY_QUANTITIES, .dimension = DD_LENGTH, .offset = offsetof(dd_support, half_spacings),
     .least = 0.01, .most = 3, .fallback = NAN, .required = true, .capacity = DD_HALF_SPACINGS,
     .count_offset = offsetof(dd_support, half_spacing_count), .unit = "mm",
     .help = "from the trailer's centre line to each line of rollers"},
    {.name = "deadrise", .type = DD_KEY_QUANTITY, .dimension = DD_ANGLE, .offset = offsetof(dd_support, deadrise), .least = 0,
     .most = 1.2, .fallback = NAN, .required = true, .unit = "deg", .help = "angle of the cradle's V to the level, each side"},
    {0}};
/* clang-format on */

dd_status dd_support_cradle_place(const dd_support *support, int index, struct dd_rig *rig, dd_error *error)
{
    if (support->half_spacing_count < 1)
        return dd_support_fail(support, index, DD_ERROR_UNSET, "half spacings", "not set", error);
    if (isnan(support->deadrise)) return dd_support_fail(support, index, DD_ERROR_UNSET, "deadrise", "not set", error);
    double middle = support->above_ground - rig->trailer.coupling_height, rise = tan(support->deadrise);
    for (int side = 1; side >= -1; side -= 2)
        for (int line = 0; line < support->half_spacing_count; line++)
            for (int row = 0; row < support->rows; row++) {
                double y = support->half_spacings[line];
                double x = support->behind_coupling + (row - 0.5 * (support->rows - 1)) * support->row_spacing;
                char label[48];
                snprintf(label, sizeof label, " %s %d.%d", side > 0 ? "port" : "starboard", line + 1, row + 1);
                dd_status status = dd_support_add_side_roller(support, index, rig, side,
                                                              dd_vec(x, -side * y, middle + y * rise), label, error);
                if (status != DD_OK) return status;
            }
    return DD_OK;
}
