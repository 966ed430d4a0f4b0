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
    snprintf(place, sizeof place, "dd_rig_create: trailer: supports[%d] %s: %s", index + 1, support->name, field);
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
    const bool skid = support->kind == DD_SUPPORT_SKID;
    const double share = skid ? 1.0 / support->points : 1.0, usual = skid ? DD_USUAL_SKID_LOAD : DD_USUAL_ROLLER_LOAD;
    double rated = share * (isnan(support->rated_load) ? usual : support->rated_load);
    if (support->name[0] != '\0')
        snprintf(roller->name, sizeof roller->name, "%.40s%s", support->name, label);
    else
        snprintf(roller->name, sizeof roller->name, "support %d%s", index + 1, label);
    roller->support = index;
    if (!skid) roller->radius = support->roller_diameter / 2;
    /* N = k d^1.5 meets the rated load at its squash. */
    roller->stiffness = rated / pow(support->squash_at_rated_load, 1.5);
    roller->damping = support->damping;
    roller->rated_load = share * support->rated_load;
    roller->side_friction = skid ? support->dry_friction : support->side_friction;
    roller->rolling_resistance = skid ? support->dry_friction : support->rolling_resistance;
    roller->relaxation_length = skid ? INFINITY : support->relaxation_length;
    if (rig->arm_count > 0 && rig->arms[rig->arm_count - 1].count < 0) roller->arm = rig->arm_count;
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

dd_status dd_support_open_arm(const dd_support *support, int index, struct dd_rig *rig, dd_vec3 pivot, dd_vec3 axis, double least,
                              double most, dd_error *error)
{
    if (rig->arm_count >= DD_ARMS) {
        char text[64];
        snprintf(text, sizeof text, "the trailer has more than %d arms", DD_ARMS);
        return dd_support_fail(support, index, DD_ERROR_ARGUMENT, "arms", text, error);
    }
    rig->arms[rig->arm_count++] = (dd_arm){.support = index, .first = rig->roller_count, .count = -1, .pivot = pivot, .axis = axis,
                                           .least = least, .most = most, .damping = support->pivot_damping};
    return DD_OK;
}

void dd_support_close_arm(struct dd_rig *rig, double mass, dd_vec3 centre)
{
    static const double stop_squash = 0.005; /* rad, under the rated load of every roller on one side of the pivot */
    dd_arm *arm = &rig->arms[rig->arm_count - 1];
    arm->count = rig->roller_count - arm->first;
    arm->mass = mass;
    arm->centre = centre;
    double moment = 1;
    for (int i = arm->first; i < rig->roller_count; i++) {
        const dd_roller *r = &rig->rollers[i];
        double rated = r->stiffness * pow(rig->trailer.supports[arm->support].squash_at_rated_load, 1.5);
        moment += 0.5 * rated * fabs(dd_cross(arm->axis, dd_sub(r->centre, arm->pivot)).z);
    }
    arm->stop_stiffness = moment / pow(stop_squash, 1.5);
}

dd_status dd_support_check_lines(const dd_support *support, int index, dd_error *error)
{
    if (support->half_spacing_count < 1)
        return dd_support_fail(support, index, DD_ERROR_UNSET, "half spacings", "not set", error);
    if (isnan(support->deadrise)) return dd_support_fail(support, index, DD_ERROR_UNSET, "deadrise", "not set", error);
    return DD_OK;
}

/* The contact at half spacing y lies y tan(deadrise) above the V's line over the centre. */
dd_status dd_support_add_line(const dd_support *support, int index, struct dd_rig *rig, dd_support_lines lines, int side, int line,
                              dd_error *error)
{
    double y = support->half_spacings[line], rise = tan(support->deadrise);
    for (int row = 0; row < support->rows; row++) {
        double x = lines.x + (row - 0.5 * (support->rows - 1)) * support->row_spacing;
        char label[48];
        snprintf(label, sizeof label, " %s %d.%d", side > 0 ? "port" : "starboard", line + 1, row + 1);
        dd_status status = dd_support_add_side_roller(support, index, rig, side, dd_vec(x, -side * y, lines.height + y * rise),
                                                      label, error);
        if (status != DD_OK) return status;
    }
    return DD_OK;
}
