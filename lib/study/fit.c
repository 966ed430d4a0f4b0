/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/fit.h"
#include "lib/base/error.h"
#include "lib/force/bow_stop.h"
#include <stdio.h>

static const double steepest_strap = 60; /* above the trailer's bed, degrees: it lifts the bow rather than pulls */
static const double least_lead = 0.05;   /* of the winch before the bow eye, m */

typedef struct bed {
    int rollers, port, starboard, keel; /* that stand under the bottom */
    double first, last;                 /* behind the coupling, m */
} bed;

static bed find_bed(const dd_study_model *m, const dd_pose *pose)
{
    bed b = {.first = INFINITY, .last = -INFINITY};
    for (int i = 0; i < m->rig->roller_count; i++) {
        const dd_roller *r = &m->rig->rollers[i];
        double boat_x = pose->position.x - r->centre.x, boat_y = -r->centre.y;
        dd_bottom_point p = r->keel ? dd_hull_keel(m->hull, boat_x) : dd_hull_bottom(m->hull, boat_x, boat_y, r->side);
        if (p.cover < 0.5) continue;
        b.rollers++;
        b.keel += r->keel;
        b.port += !r->keel && boat_y > 0;
        b.starboard += !r->keel && boat_y < 0;
        b.first = fmin(b.first, r->centre.x);
        b.last = fmax(b.last, r->centre.x);
    }
    return b;
}

static dd_status misfit(dd_error *error, const char *place, const char *what)
{
    return dd_fail(error, DD_ERROR_ARGUMENT, place, "the boat does not fit this trailer: %s", what);
}

static dd_status check_bed(const dd_study_model *m, const dd_pose *pose, dd_error *error)
{
    char text[300];
    const bed b = find_bed(m, pose);
    const double centre = pose->position.x - dd_hull_mass(m->hull)->centre.x;
    if (b.rollers == 0)
        return misfit(error, "trailer: supports", "with the bow at its stop no support stands under its bottom");
    if (b.keel == 0 && (b.port == 0 || b.starboard == 0)) {
        snprintf(text, sizeof text, "with the bow at its stop no support stands under its %s side",
                 b.port == 0 ? "port" : "starboard");
        return misfit(error, "trailer: supports", text);
    }
    if (centre > b.last || centre < b.first) {
        snprintf(text, sizeof text,
                 "its centre of mass lies %.2f m %s the %s support, %.2f m behind the coupling, so that it tips over it",
                 centre > b.last ? centre - b.last : b.first - centre, centre > b.last ? "behind" : "ahead of",
                 centre > b.last ? "last" : "first", centre > b.last ? b.last : b.first);
        return misfit(error, "trailer: supports", text);
    }
    return DD_OK;
}

/* A support of which nothing stands under the boat at home. */
static dd_status check_supports(const dd_study_model *m, const dd_pose *pose, dd_error *error)
{
    double first, last;
    dd_hull_extent(m->hull, &first, &last);
    for (int s = 0; s < m->rig->trailer.support_count; s++) {
        double foremost = INFINITY;
        for (int i = 0; i < m->rig->roller_count; i++)
            if (m->rig->rollers[i].support == s) foremost = fmin(foremost, m->rig->rollers[i].centre.x);
        const double behind = foremost - (pose->position.x - first);
        if (!isfinite(foremost) || behind <= 0) continue;
        char place[120], text[160];
        snprintf(place, sizeof place, "trailer: supports[%d] %.48s: behind coupling", s + 1, m->rig->trailer.supports[s].name);
        snprintf(text, sizeof text, "with the bow at its stop this support stands %.2f m behind the transom, %.2f m behind the coupling",
                 behind, pose->position.x - first);
        return misfit(error, place, text);
    }
    return DD_OK;
}

/* A guide that would stand within the hull at home: nearer to the middle than the chine, and higher than the bottom there. */
static dd_status check_guides(const dd_study_model *m, const dd_pose *pose, dd_error *error)
{
    for (int i = 0; i < m->rig->guide_count; i++) {
        const dd_guide *g = &m->rig->guides[i];
        double y[DD_STRAKES + 3], z[DD_STRAKES + 3], first, last;
        const double x = pose->position.x - g->top.x, inner = fabs(g->top.y) - g->radius;
        dd_hull_extent(m->hull, &first, &last);
        if (x < first || x > last) continue;
        const double chine = y[dd_hull_section(m->hull, x, y, z) - 2];
        const double top = g->top.z + g->radius - pose->position.z;
        if (inner >= chine || top <= dd_hull_bottom(m->hull, x, inner, 1).z) continue;
        char place[120], text[160];
        snprintf(place, sizeof place, "trailer: supports[%d] %.48s: half spacing", g->support + 1, g->name);
        snprintf(text, sizeof text, "its chine is %.0f mm off the centre line at this guide, whose inner face stands at %.0f mm",
                 1e3 * chine, 1e3 * inner);
        return misfit(error, place, text);
    }
    return DD_OK;
}

dd_status dd_study_fit_home(const dd_study_model *m, const dd_pose *pose, dd_error *error)
{
    char text[300];
    const dd_trailer_parameters *t = &m->rig->trailer;
    dd_status status = check_supports(m, pose, error);
    if (status == DD_OK) status = check_guides(m, pose, error);
    if (status != DD_OK) return status;
    if (dd_system_find(m->system, &dd_force_bow_stop) == NULL) return DD_OK;
    const dd_at_stop at = dd_bow_stop_touch(&m->model, pose);
    const int passed = dd_bow_stop_passed(&at);
    if (passed == 0) return DD_OK;
    dd_mat3 turn = dd_rotation_of(pose->attitude);
    dd_vec3 eye = dd_add(pose->position, dd_apply(&turn, dd_hull_bow_eye(m->hull)));
    snprintf(text, sizeof text,
             "its bow eye comes to %.2f m above the ground and its stem passes %s the bow stop, whose middle is at %.2f m and half "
             "height %.2f m",
             eye.z + t->coupling_height, passed > 0 ? "over" : "under", t->bow_stop.above_ground, t->bow_stop.half_height);
    return misfit(error, "trailer: bow stop", text);
}

dd_status dd_study_fit(const dd_study_model *m, const dd_pose *pose, dd_error *error)
{
    char text[300];
    const dd_trailer_parameters *t = &m->rig->trailer;
    dd_status status = check_bed(m, pose, error);
    if (status == DD_OK) status = dd_study_fit_home(m, pose, error);
    if (status != DD_OK) return status;
    dd_mat3 turn = dd_rotation_of(pose->attitude);
    dd_vec3 eye = dd_add(pose->position, dd_apply(&turn, dd_hull_bow_eye(m->hull)));
    const double eye_height = eye.z + t->coupling_height;
    const double lead = eye.x - t->winch.behind_coupling, rise = t->winch.above_ground - eye_height;
    if (lead < least_lead) {
        snprintf(text, sizeof text,
                 "with the bow at its stop, %.2f m behind the coupling, the winch at %.2f m is not ahead of the bow eye and "
                 "cannot pull it home",
                 t->bow_stop.behind_coupling, t->winch.behind_coupling);
        return misfit(error, "trailer: winch", text);
    }
    if (fabs(atan2(rise, lead)) > steepest_strap * M_PI / 180) {
        snprintf(text, sizeof text,
                 "with the bow at its stop the strap would pull %s at %.0f deg, from the bow eye at %.2f m above the ground to "
                 "the winch at %.2f m",
                 rise > 0 ? "up" : "down", fabs(atan2(rise, lead)) * 180 / M_PI, eye_height, t->winch.above_ground);
        return misfit(error, "trailer: winch", text);
    }
    return DD_OK;
}
