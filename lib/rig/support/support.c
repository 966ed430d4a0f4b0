/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/rig/support/support.h"
#include <stdio.h>
#include <string.h>

static const dd_support_kind kinds[] = {
#define DD_SUPPORT(symbol, name, help) {name, help, dd_support_##symbol##_keys, dd_support_##symbol##_place},
#include "lib/rig/supports.def"
#undef DD_SUPPORT
};

const dd_support_kind *dd_support_kind_at(int kind)
{
    return kind >= 0 && kind < (int)(sizeof kinds / sizeof kinds[0]) ? &kinds[kind] : NULL;
}

dd_status dd_support_fail(const dd_support *support, int index, dd_status status, const char *field, const char *text,
                          dd_error *error)
{
    char place[160];
    snprintf(place, sizeof place, "dd_rig_create: trailer: supports[%d] %s: %s", index, support->name, field);
    return dd_fail(error, status, place, "%s", text);
}

dd_status dd_support_add(const dd_support *support, int index, struct dd_rig *rig, dd_roller *roller, const char *label,
                         dd_error *error)
{
    if (rig->roller_count >= DD_ROLLERS) {
        char text[64];
        snprintf(text, sizeof text, "the trailer has more than %d rollers", DD_ROLLERS);
        return dd_support_fail(support, index, DD_ERROR_ARGUMENT, "rollers", text, error);
    }
    double rated = isnan(support->rated_load) ? DD_USUAL_ROLLER_LOAD : support->rated_load;
    if (support->name[0] != '\0')
        snprintf(roller->name, sizeof roller->name, "%.40s%s", support->name, label);
    else
        snprintf(roller->name, sizeof roller->name, "support %d%s", index + 1, label);
    roller->support = index;
    roller->radius = support->roller_diameter / 2;
    /* N = k d^1.5 meets the rated load at its squash. */
    roller->stiffness = rated / pow(support->squash_at_rated_load, 1.5);
    roller->damping = support->damping;
    roller->rated_load = support->rated_load;
    roller->side_friction = support->side_friction;
    roller->rolling_resistance = support->rolling_resistance;
    roller->relaxation_length = support->relaxation_length;
    rig->rollers[rig->roller_count++] = *roller;
    return DD_OK;
}

dd_status dd_support_add_side_roller(const dd_support *support, int index, struct dd_rig *rig, int side, dd_vec3 contact,
                                     const char *label, dd_error *error)
{
    double c = cos(support->deadrise), s = sin(support->deadrise), radius = support->roller_diameter / 2;
    /* The boat's port (side +1) is the trailer's -y. The panel's normal leans to the centre line as the panel rises outwards;
       the axle lies in the panel, across the trailer, and points to the trailer's +y on both sides. */
    dd_vec3 normal = dd_vec(0, side * s, c);
    dd_roller roller = {.keel = 0, .side = side, .axis = dd_vec(0, c, -side * s)};
    roller.centre = dd_sub(contact, dd_scale(radius, normal));
    return dd_support_add(support, index, rig, &roller, label, error);
}
