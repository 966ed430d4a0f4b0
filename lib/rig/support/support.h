/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the support kinds share. */
#ifndef DD_RIG_SUPPORT_SUPPORT_H
#define DD_RIG_SUPPORT_SUPPORT_H
#include "lib/base/error.h"
#include "lib/rig/rig.h"

/* Load at which a roller of no given rating has its squash, N; of a skid. */
#define DD_USUAL_ROLLER_LOAD 2500.0
#define DD_USUAL_SKID_LOAD 6000.0

/* How it can be shifted: of what stands in pairs, and of what stands in the middle. */
/* clang-format off */
#define DD_ADJUST_ROW                                                                                                          \
    {.name = "adjust", .type = DD_KEY_BLOCK, .offset = offsetof(dd_support, adjust), .rows = dd_adjust_keys, .fallback = NAN,      \
     .help = "how far it can be shifted from where it stands, for seat --adjust"}
#define DD_ADJUST_MIDDLE_ROW                                                                                                   \
    {.name = "adjust", .type = DD_KEY_BLOCK, .offset = offsetof(dd_support, adjust), .rows = dd_adjust_middle_keys,               \
     .fallback = NAN, .help = "how far it can be shifted from where it stands, for seat --adjust"}
/* clang-format on */

/* Rows that every kind with rollers has. */
/* clang-format off */
#define DD_ROLLER_ROWS                                                                                                         \
    {.name = "roller diameter", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH,                                               \
     .offset = offsetof(dd_support, roller_diameter), .least = 0.01, .most = 0.5, .fallback = 0.075,                           \
     .source = "roller rolling resistance", .unit = "mm", .help = "diameter of each roller"},                                  \
    {.name = "squash at rated load", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH,                                          \
     .offset = offsetof(dd_support, squash_at_rated_load), .least = 1e-6, .most = 0.1, .fallback = 0.004,                      \
     .source = "design memory", .unit = "mm", .help = "how far hull and roller approach under its rated load"},                \
    {.name = "rated load", .type = DD_KEY_QUANTITY, .dimension = DD_FORCE, .offset = offsetof(dd_support, rated_load),         \
     .least = 1, .most = 1e5, .fallback = NAN, .fallback_text = "not checked; the squash is then taken at 2500 N",             \
     .source = "design memory", .help = "rated load of each roller"},                                                          \
    {.name = "side friction", .type = DD_KEY_QUANTITY, .dimension = DD_RATIO, .offset = offsetof(dd_support, side_friction),   \
     .least = 0, .most = 2, .fallback = 0.5, .source = "design memory",                                                        \
     .help = "friction along the roller's axle, share of its load"},                                                           \
    {.name = "rolling resistance", .type = DD_KEY_QUANTITY, .dimension = DD_RATIO,                                             \
     .offset = offsetof(dd_support, rolling_resistance), .least = 0, .most = 1, .fallback = 0.08,                              \
     .source = "roller rolling resistance", .help = "resistance to rolling, share of its load"},                               \
    {.name = "relaxation length", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH,                                             \
     .offset = offsetof(dd_support, relaxation_length), .least = 1e-4, .most = 1, .fallback = 0.015,                           \
     .source = "design memory", .unit = "mm", .help = "distance rolled that renews the side grip: half the contact's length"}, \
    {.name = "durometer", .type = DD_KEY_QUANTITY, .dimension = DD_NUMBER, .offset = offsetof(dd_support, durometer),          \
     .least = 20, .most = 98, .fallback = NAN, .fallback_text = "peak pressure not checked", .source = "the program",          \
     .help = "Shore A hardness of the rollers, for their pressure on the hull"},                                               \
    {.name = "contact width", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_support, contact_width),  \
     .least = 1e-3, .most = 1, .fallback = NAN, .fallback_text = "peak pressure not checked", .source = "the program",         \
     .unit = "mm", .help = "of each roller that bears on the hull, along its axle"}

/* Of side rollers; a keel roller has a row of its own. */
#define DD_ROLLER_WIDTH_ROW                                                                                                    \
    {.name = "roller width", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_support, width),             \
     .least = 1e-3, .most = 1, .fallback = 0.07, .source = "design memory", .unit = "mm",                                       \
     .help = "of each roller along its axle, for what seat says of strakes and chine beside it"}

/* Rows of rollers in lines each side on a V. */
#define DD_LINES_ROWS(rows_default)                                                                                            \
    {.name = "rows", .type = DD_KEY_COUNT, .offset = offsetof(dd_support, rows), .least = 1, .most = 24,                       \
     .fallback = rows_default, .source = "design memory", .help = "rollers along each line"},                                  \
    {.name = "row spacing", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_support, row_spacing),      \
     .least = 0.02, .most = 3, .fallback = 0.25, .source = "design memory", .unit = "mm",                                      \
     .help = "between the rollers of a line"},                                                                                 \
    {.name = "half spacings", .type = DD_KEY_QUANTITIES, .dimension = DD_LENGTH,                                               \
     .offset = offsetof(dd_support, half_spacings), .least = 0.01, .most = 3, .fallback = NAN, .required = true,               \
     .capacity = DD_HALF_SPACINGS, .count_offset = offsetof(dd_support, half_spacing_count), .unit = "mm",                     \
     .help = "from the trailer's centre line to each line of rollers"},                                                        \
    {.name = "deadrise", .type = DD_KEY_QUANTITY, .dimension = DD_ANGLE, .offset = offsetof(dd_support, deadrise),             \
     .least = 0, .most = 1.2, .fallback = NAN, .required = true, .unit = "deg",                                                \
     .help = "angle of the V to the level, each side"}

#define DD_PIVOT_DAMPING_ROW                                                                                                   \
    {.name = "pivot damping", .type = DD_KEY_QUANTITY, .dimension = DD_ROLL_DAMPING,                                           \
     .offset = offsetof(dd_support, pivot_damping), .least = 1, .most = 1e5, .fallback = 150, .source = "design memory",       \
     .help = "resistance of each arm's pivot to turning"}
/* clang-format on */

#define DD_SUPPORT(symbol, name, help)                                                                                         \
    extern const dd_key dd_support_##symbol##_keys[];                                                                          \
    dd_status dd_support_##symbol##_place(const dd_support *support, int index, struct dd_rig *rig, dd_error *error);
#include "lib/rig/supports.def"
#undef DD_SUPPORT

/* Appends a roller that touches a bottom panel at trailer point (x, y, z); the panel rises outwards by the support's deadrise. */
dd_status dd_support_add_side_roller(const dd_support *support, int index, struct dd_rig *rig, int side, dd_vec3 contact,
                                     const char *label, dd_error *error);
/* Appends a roller; its centre, axis, side and keel stand in *roller. */
dd_status dd_support_add(const dd_support *support, int index, struct dd_rig *rig, dd_roller *roller, const char *label,
                         dd_error *error);
/* Starts an arm: rollers added until it is closed stand on it. least and most: its stops. */
dd_status dd_support_open_arm(const dd_support *support, int index, struct dd_rig *rig, dd_vec3 pivot, dd_vec3 axis, double least,
                              double most, dd_error *error);
/* Gives it its mass and, from its rollers' rated loads and levers, its stops' stiffness. */
void dd_support_close_arm(struct dd_rig *rig, double mass, dd_vec3 centre);
/* Lines of rollers each side on a V, `height` the V's line over the centre line, about the middle at X. */
typedef struct dd_support_lines {
    double x, height;
} dd_support_lines;
dd_status dd_support_check_lines(const dd_support *support, int index, dd_error *error);
dd_status dd_support_add_line(const dd_support *support, int index, struct dd_rig *rig, dd_support_lines lines, int side, int line,
                              dd_error *error);
/* An error that names the support and the field. */
dd_status dd_support_fail(const dd_support *support, int index, dd_status status, const char *field, const char *text,
                          dd_error *error);
#endif
