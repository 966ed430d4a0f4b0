/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/shore/tide_given.h"
#include "lib/study/seat_afloat.h"
#include "lib/base/error.h"
#include "lib/force/bow_stop.h"
#include <drawdock/shore.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

const double dd_seat_slopes[DD_SEAT_SLOPES] = {0.08, 0.125, 0.15};

static const double least_upright = 0.2; /* of the push of a contact: what presses from ahead does not carry */
static const double exact = 1e-12;       /* m */

static dd_quaternion turn(double angle, double x, double y, double z)
{
    const double s = sin(0.5 * angle);
    return (dd_quaternion){cos(0.5 * angle), s * x, s * y, s * z};
}

/* What the hull has to rise by to clear one contact, its arm turned by `angle` from where it stands. */
static double need_of(const dd_seat_model *met, const dd_seat_contact *c, double angle)
{
    return (c->lever * angle - c->gap) / dd_dot(c->push, met->up);
}

static bool carries(const dd_seat_model *met, const dd_seat_contact *c) { return dd_dot(c->push, met->up) > least_upright; }

static double arm_needs(const dd_seat_model *met, int arm, double angle)
{
    double most = -INFINITY;
    for (int i = 0; i < met->contact_count; i++) {
        const dd_seat_contact *c = &met->contacts[i];
        if (c->arm == arm + 1 && carries(met, c)) most = fmax(most, need_of(met, c, angle));
    }
    return most;
}

/* The least height to which a free arm lets the hull down: it turns until two of its rollers touch, or to a stop. Each roller's need is
   a straight line over the angle, so the least of their greatest is where two cross, or at an end. */
static double arm_holds(const dd_seat_model *met, int arm, double *angle)
{
    const dd_seat_arm *a = &met->arms[arm];
    double least = arm_needs(met, arm, *angle = a->least);
    const double at_most = arm_needs(met, arm, a->most);
    if (at_most < least) least = at_most, *angle = a->most;
    for (int i = 0; i < met->contact_count; i++)
        for (int j = 0; j < i; j++) {
            const dd_seat_contact *p = &met->contacts[i], *q = &met->contacts[j];
            if (p->arm != arm + 1 || q->arm != arm + 1 || !carries(met, p) || !carries(met, q)) continue;
            const double slope = need_of(met, p, 1) - need_of(met, p, 0) - need_of(met, q, 1) + need_of(met, q, 0);
            const double cross = (need_of(met, q, 0) - need_of(met, p, 0)) / slope;
            if (!(cross > a->least && cross < a->most)) continue;
            const double here = arm_needs(met, arm, cross);
            if (here < least) least = here, *angle = cross;
        }
    return least;
}

/* By how much the hull has to rise (< 0: may sink) to touch what holds it highest; *support: that. Arms are turned to where they
   then stand. */
static double touch(const dd_seat_model *met, double *angles, int *support)
{
    double most = -INFINITY;
    for (int i = 0; i < met->contact_count; i++) {
        const dd_seat_contact *c = &met->contacts[i];
        if (c->arm != 0 || !carries(met, c) || need_of(met, c, 0) <= most) continue;
        most = need_of(met, c, 0);
        *support = c->support;
    }
    for (int a = 0; a < met->arm_count; a++) {
        double angle;
        const double held = arm_holds(met, a, &angle);
        if (!isfinite(held)) continue;
        angles[a] += angle;
        if (held <= most) continue;
        most = held;
        for (int i = 0; i < met->contact_count; i++)
            if (met->contacts[i].arm == a + 1) *support = met->contacts[i].support;
    }
    return most;
}

/* Lets the hull down at its attitude until it just touches. */
static void let_down(const dd_seat *s, dd_seat_model *met, dd_seat_afloat *a)
{
    double angles[DD_ARMS] = {0};
    const double *stand = dd_seat_arm_angles(s->m);
    if (stand != NULL) memcpy(angles, stand, (size_t)s->m->rig->arm_count * sizeof angles[0]);
    a->support = -1;
    for (int i = 0; i < 60; i++) {
        dd_seat_meet(s->m->hull, s->m->rig, angles, &a->placement.to_trailer, a->placement.origin, 0, met);
        const double by = touch(met, angles, &a->support);
        if (!isfinite(by)) return;
        a->placement.origin.z += by;
        if (fabs(by) < exact) return;
    }
}

/* Lets it down and slides it along to the stop, by turns: supports are nearly level and a stem is nearly upright, so that each turn moves it
   by much less than the last. */
static void lay(const dd_seat *s, dd_seat_model *met, dd_quaternion attitude, dd_seat_afloat *a)
{
    const double home_x = a->placement.origin.x;
    let_down(s, met, a);
    for (int i = 0; i < 60; i++) {
        const dd_pose pose = {.position = a->placement.origin, .attitude = attitude};
        const dd_at_stop at = dd_bow_stop_touch(&s->m->model, &pose);
        a->passed = dd_bow_stop_passed(&at);
        const double by = (a->passed == 0 && isfinite(at.x) ? at.x : home_x) - a->placement.origin.x;
        a->placement.origin.x += by;
        if (fabs(by) > 0) let_down(s, met, a);
        if (fabs(by) < exact) return;
    }
}

dd_status dd_seat_float(const dd_seat *s, double slope, dd_seat_afloat *a, dd_error *error)
{
    dd_water water = s->scenario->water;
    dd_floating floating;
    *a = (dd_seat_afloat){.slope = slope, .support = -1};
    dd_water_stand_at(&water, "", isnan(water.level) ? 0 : water.level); /* how the boat floats does not depend on it */
    dd_status status = dd_water_complete(&water, error);
    if (status == DD_OK) status = dd_hull_float(s->m->hull, water.density, s->gravity, 0, 0, &floating, error);
    if (status != DD_OK) return status;
    dd_seat_model *met = calloc(1, sizeof *met);
    if (met == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_seat", "no memory for the supports");
    const double tail_down = s->home.pose.rig[DD_RIG_PITCH] + atan(slope);
    dd_quaternion q = dd_quaternion_multiply(turn(acos(-1.0), 0, 0, 1), turn(floating.trim, 0, 1, 0));
    q = dd_quaternion_multiply(turn(-tail_down, 0, 1, 0), dd_quaternion_multiply(q, turn(-floating.heel, 1, 0, 0)));
    const dd_mat3 *home = &s->placement.to_trailer, upright = dd_rotation_y(-tail_down);
    const dd_vec3 eye = dd_hull_bow_eye(s->m->hull);
    a->placement = (dd_placement){.origin = s->placement.origin, .to_trailer = dd_rotation_of(q)};
    a->placement.origin.x += dd_placed_point(&s->placement, eye).x - dd_placed_point(&a->placement, eye).x;
    a->up = dd_apply(&upright, dd_vec(0, 0, 1));
    a->seaward = dd_apply(&upright, dd_vec(1, 0, 0));
    lay(s, met, q, a);
    free(met);
    /* of the keel, which points forward: the trailer's -X */
    const dd_mat3 *now = &a->placement.to_trailer;
    a->pitch = atan2(home->m[2][0], -home->m[0][0]) - atan2(now->m[2][0], -now->m[0][0]);
    a->water = floating.waterplane;
    const dd_vec3 hub = dd_point_in_boat(&a->placement, dd_study_rearmost_hub(s->m->rig));
    a->hub_depth = a->water.level - dd_dot(a->water.up, hub);
    return DD_OK;
}

dd_status dd_seat_float_on_slopes(dd_seat *s, dd_error *error)
{
    dd_error why;
    dd_status status = DD_OK;
    if (s->floats != 0) return DD_OK;
    for (int i = 0; i < DD_SEAT_SLOPES && status == DD_OK; i++) status = dd_seat_float(s, dd_seat_slopes[i], &s->afloat[i], &why);
    if (status == DD_OK || status == DD_ERROR_NO_EQUILIBRIUM) {
        s->floats = status == DD_OK ? 1 : -1;
        return DD_OK;
    }
    if (error != NULL) *error = why;
    return status;
}
