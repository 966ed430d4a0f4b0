/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines of rollers each side on a V. With a pivot across the trailer each line is an arm of its own and shares its load fore and
   aft; with a pivot along it each side is one arm and shares between its inner and outer lines. */
#include "lib/rig/support/support.h"

static const char *const pivots[] = {"none", "across", "along", NULL};

/* clang-format off */
const dd_key dd_support_cradle_keys[] = {
    DD_LINES_ROWS(2),
    {.name = "pivot", .type = DD_KEY_CHOICE, .offset = offsetof(dd_support, pivot), .fallback = DD_PIVOT_NONE,
     .source = "the program", .choices = pivots,
     .help = "none: a fixed frame; across: each line rocks fore and aft; along: each side swings between inner and outer lines"},
    {.name = "pivot travel", .type = DD_KEY_QUANTITY, .dimension = DD_ANGLE, .offset = offsetof(dd_support, pivot_travel),
     .least = 0, .most = 1, .fallback = 0.2, .source = "design memory", .unit = "deg", .help = "of each arm, each way to its stop"},
    DD_PIVOT_DAMPING_ROW,
    DD_ROLLER_WIDTH_ROW,
    DD_ROLLER_ROWS,
    DD_ADJUST_ROW,
    {0}};
/* clang-format on */

#define ARM_MASS_PER_ROLLER 2.0 /* kg */
#define HANGS_BELOW 0.03        /* the arm's centre of mass below its pivot, so that an empty arm comes back level, m */

static double mean_spacing(const dd_support *s)
{
    double sum = 0;
    for (int i = 0; i < s->half_spacing_count; i++) sum += s->half_spacings[i];
    return sum / s->half_spacing_count;
}

/* The pivot lies on the line through the rollers' axles' middles. */
static dd_vec3 pivot_at(const dd_support *s, dd_support_lines lines, int side, double half_spacing)
{
    double radius = 0.5 * s->roller_diameter;
    return dd_vec(lines.x, -side * (half_spacing + radius * sin(s->deadrise)),
                  lines.height + half_spacing * tan(s->deadrise) - radius * cos(s->deadrise));
}

static dd_status open_arm(const dd_support *s, int index, struct dd_rig *rig, dd_support_lines lines, int side, int line,
                          dd_error *error)
{
    const bool across = s->pivot == DD_PIVOT_ACROSS;
    dd_vec3 pivot = pivot_at(s, lines, side, across ? s->half_spacings[line] : mean_spacing(s));
    return dd_support_open_arm(s, index, rig, pivot, across ? dd_vec(0, 1, 0) : dd_vec(-side, 0, 0), -s->pivot_travel,
                               s->pivot_travel, error);
}

dd_status dd_support_cradle_place(const dd_support *support, int index, struct dd_rig *rig, dd_error *error)
{
    dd_status status = dd_support_check_lines(support, index, error);
    const dd_support_lines lines = {support->behind_coupling, support->above_ground - rig->trailer.coupling_height};
    for (int side = 1; side >= -1; side -= 2)
        for (int line = 0; line < support->half_spacing_count; line++) {
            const bool first = support->pivot == DD_PIVOT_ACROSS || (support->pivot == DD_PIVOT_ALONG && line == 0);
            const bool last = support->pivot == DD_PIVOT_ACROSS ||
                              (support->pivot == DD_PIVOT_ALONG && line == support->half_spacing_count - 1);
            if (status == DD_OK && first) status = open_arm(support, index, rig, lines, side, line, error);
            if (status == DD_OK) status = dd_support_add_line(support, index, rig, lines, side, line, error);
            if (status == DD_OK && last) {
                int rollers = rig->roller_count - rig->arms[rig->arm_count - 1].first;
                dd_support_close_arm(rig, ARM_MASS_PER_ROLLER * rollers, dd_vec(0, 0, -HANGS_BELOW));
            }
        }
    return status;
}
