/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far parts of a trailer can be shifted, as a fitter does it. */
#include "lib/rig/adjust.h"
#include <stdio.h>

static const double usual_step = 0.005; /* m: what is set by a tape */

#define TRAVEL(field, name_, words)                                                                                            \
    {.name = name_, .type = DD_KEY_QUANTITIES, .dimension = DD_LENGTH, .offset = offsetof(dd_adjust, field.ends), .least = -3,   \
     .most = 3, .fallback = NAN, .fallback_text = "it stands fast", .source = "the program", .capacity = 2,                       \
     .count_offset = offsetof(dd_adjust, field.count), .unit = "mm", .help = words ": least (0 or less) and most"},             \
    {.name = name_ " step", .type = DD_KEY_QUANTITY, .dimension = DD_LENGTH, .offset = offsetof(dd_adjust, field.step),          \
     .least = 0.001, .most = 1, .fallback = NAN, .fallback_text = "5 mm", .source = "the program", .unit = "mm",                \
     .help = "from one place that it can be fixed at to the next"}

/* clang-format off */
const dd_key dd_adjust_keys[] = {
    TRAVEL(up, "up", "how far it goes up from where it stands"),
    TRAVEL(out, "out", "how far each side goes out from the centre line from where it stands"),
    TRAVEL(aft, "aft", "how far it goes aft from where it stands"),
    {0}};
const dd_key dd_adjust_middle_keys[] = {
    TRAVEL(up, "up", "how far it goes up from where it stands"),
    TRAVEL(aft, "aft", "how far it goes aft from where it stands"),
    {0}};
const dd_key dd_adjust_along_keys[] = {
    TRAVEL(aft, "aft", "how far it goes aft from where it stands"),
    {0}};
/* clang-format on */

double dd_travel_step(const dd_travel *travel) { return travel->step > 0 ? travel->step : usual_step; }

static bool holds(const dd_travel *t, const char *what, const char *direction, char *message, size_t size)
{
    if (t->count == 0) return true;
    if (t->count == 2 && t->ends[0] <= 0 && t->ends[1] >= 0) return true;
    if (t->count != 2)
        snprintf(message, size, "%s, adjust: %s: found %d %s, expected two ends such as [-20 mm, 40 mm]", what, direction, t->count,
                 t->count == 1 ? "value" : "values");
    else
        snprintf(message, size, "%s, adjust: %s: found %g mm to %g mm, expected two ends about where it stands: 0 or less, 0 or more", what,
                 direction, 1e3 * t->ends[0], 1e3 * t->ends[1]);
    return false;
}

static bool support_holds(const dd_support *s, int index, char *message, size_t size)
{
    char what[80];
    snprintf(what, sizeof what, "supports[%d] %s", index + 1, s->name);
    if (!holds(&s->adjust.up, what, "up", message, size) || !holds(&s->adjust.out, what, "out", message, size) ||
        !holds(&s->adjust.aft, what, "aft", message, size))
        return false;
    if (s->kind != DD_SUPPORT_SKID || s->under != DD_UNDER_KEEL || s->adjust.out.count == 0) return true;
    snprintf(message, size, "%s, adjust: out: found on a skid under the keel, expected none: it stands in the middle", what);
    return false;
}

bool dd_travels_hold(const void *structure, char *message, size_t size, const char **key)
{
    const dd_trailer_parameters *t = structure;
    *key = "winch.adjust.aft";
    if (!holds(&t->winch.adjust.aft, "winch", "aft", message, size)) return false;
    *key = "axle adjust.aft";
    if (!holds(&t->axle_adjust.aft, "axles", "aft", message, size)) return false;
    *key = "supports";
    for (int i = 0; i < t->support_count; i++)
        if (!support_holds(&t->supports[i], i, message, size)) return false;
    return true;
}
