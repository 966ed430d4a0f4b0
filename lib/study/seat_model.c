/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The convex model made from the equilibrium of a boat at home: contacts where they are, masses where they lie. */
#include "lib/study/seat_model.h"
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/force/contact.h"
#include "lib/force/roller.h"
#include "lib/force/roller_patch.h"
#include "lib/force/strap.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { PIECES = 40, REGULAR = 25 };
static const double met = 0.5;      /* cover of the surface from which on a roller meets it */
static const double apart = 0.02;  /* m: contacts closer lengthwise share a node of the beam */
static const double grips_within = 2e-3; /* m that a support that grips gives way under the weight */
static const double weak = 1e-6;    /* of the weight per metre: holds what nothing else does */

static const dd_system_force *force_of(const dd_study_model *m, const dd_force_kind *kind) { return dd_system_find(m->system, kind); }

/* Load of one force on the hull at the workspace's evaluation, boat axes. */
static const double *load_of(const dd_study_model *m, const dd_force_kind *kind)
{
    const dd_system_force *force = force_of(m, kind);
    return force == NULL ? NULL : m->workspace->loads[force - m->system->forces].hull;
}

/* Nearest point of the hull to a roller: false where it has nothing over it. */
static bool meet_hull(const dd_hull *hull, const dd_roller *r, dd_vec3 p, dd_vec3 axle, dd_seat_contact *c)
{
    if (r->keel) {
        const dd_profile profile = {r->radius, r->profile_start, r->profile_length, r->profile_height};
        dd_keel_contact edge;
        if (dd_hull_keel(hull, p.x).cover < met || !dd_keel_on_axle(hull, &profile, p, axle, &edge)) return false;
        c->push = dd_scale(1 / dd_norm(edge.w), edge.w);
        c->at = edge.at;
        c->gap = -edge.depth;
        return true;
    }
    const int side = r->side != 0 ? r->side : p.y >= 0 ? 1 : -1;
    const dd_bottom_point start = dd_surface_at(hull, side, p.x, p.y);
    if (start.cover < met) return false;
    const dd_nearest nearest = dd_nearest_bottom(hull, side, p, &start, 0);
    c->push = dd_scale(-1, nearest.normal);
    c->at = dd_sub(p, dd_scale(nearest.distance, nearest.normal));
    c->gap = nearest.distance - r->radius;
    return true;
}

void dd_seat_meet(const dd_hull *hull, const dd_rig *rig, const double *angles, const dd_mat3 *to_trailer, dd_vec3 origin, int linear,
                  dd_seat_model *seat)
{
    seat->contact_count = 0;
    for (int i = 0; i < rig->roller_count; i++) {
        const dd_roller *r = &rig->rollers[i];
        dd_vec3 centre = r->centre, axis = r->axis;
        if (r->arm > 0) dd_arm_turn(&rig->arms[r->arm - 1], angles[r->arm - 1], &centre, &axis);
        dd_seat_contact c = {.support = r->support, .roller = i, .arm = r->arm, .side = r->side, .exponent = linear ? 1 : 1.5};
        if (!meet_hull(hull, r, dd_apply_transposed(to_trailer, dd_sub(centre, origin)), dd_apply_transposed(to_trailer, axis), &c)) continue;
        dd_text(c.name, sizeof c.name, "%s", r->name);
        const double squash = rig->trailer.supports[r->support].squash_at_rated_load;
        c.stiffness = linear ? r->stiffness * sqrt(squash) : r->stiffness;
        if (r->arm > 0) {
            const dd_arm *arm = &rig->arms[r->arm - 1];
            const dd_vec3 moves = dd_cross(arm->axis, dd_sub(centre, arm->pivot));
            c.lever = dd_dot(c.push, dd_apply_transposed(to_trailer, moves));
        }
        if (seat->contact_count < DD_SEAT_CONTACTS) seat->contacts[seat->contact_count++] = c;
    }
    seat->arm_count = rig->arm_count;
    for (int i = 0; i < seat->arm_count; i++) {
        const dd_arm *arm = &rig->arms[i];
        seat->arms[i] = (dd_seat_arm){arm->least - angles[i], arm->most - angles[i], arm->stop_stiffness};
    }
    seat->up = dd_apply_transposed(to_trailer, dd_vec(0, 0, 1));
}

const double *dd_seat_arm_angles(const dd_study_model *m)
{
    const dd_system_force *force = force_of(m, &dd_force_roller);
    return force == NULL ? NULL : m->memory + force->memory_first + dd_roller_arm_first(force->instance);
}

/* A force at the bow, by its own load at the reference: where its line of action passes the eye's X. */
static bool line_of(const double *load, dd_vec3 eye, dd_vec3 *at, dd_vec3 *direction, double *size)
{
    if (load == NULL) return false;
    const dd_vec3 f = dd_vec(load[0], load[1], load[2]), moment = dd_vec(load[3], load[4], load[5]);
    *size = dd_norm(f);
    if (!(*size > 0)) return false;
    *direction = dd_scale(1 / *size, f);
    const dd_vec3 near = dd_scale(1 / (*size * *size), dd_cross(f, moment));
    *at = fabs(direction->x) > 0.1 ? dd_add(near, dd_scale((eye.x - near.x) / direction->x, *direction)) : near;
    return true;
}

static void add_bow(const dd_study_model *m, const dd_equilibrium *home, int linear, dd_seat_model *seat)
{
    const dd_trailer_parameters *trailer = &m->rig->trailer;
    const dd_vec3 eye = dd_hull_bow_eye(m->hull);
    dd_vec3 at, direction;
    double size;
    if (line_of(load_of(m, &dd_force_bow_stop), eye, &at, &direction, &size)) {
        const dd_bow_stop_parameters *stop = &trailer->bow_stop;
        dd_seat_contact c = {.support = -1, .roller = -1, .at = at, .push = direction, .exponent = linear ? 1 : 1.5};
        /* a stem that bears on part of the stop's height squashes it more than one that bears on all of it */
        const double squash = -m->workspace->channels[dd_system_channel(m->system, &dd_force_bow_stop, 0, "stop_gap_m")];
        const double whole = dd_squash_stiffness(stop->rated_load, stop->squash_at_rated_load), here = size / (squash * sqrt(squash));
        c.stiffness = linear ? here / whole * stop->rated_load / stop->squash_at_rated_load : here;
        c.gap = -pow(size / c.stiffness, 1 / c.exponent);
        dd_text(c.name, sizeof c.name, "bow stop");
        seat->contacts[seat->contact_count++] = c;
    }
    if (line_of(load_of(m, &dd_force_strap), eye, &at, &direction, &size)) {
        dd_seat_line *l = &seat->lines[seat->line_count++];
        *l = (dd_seat_line){.at = at, .pull = direction, .tension = size};
        l->stiffness = dd_strap_rigidity(&trailer->winch) / (dd_strap_distance(&m->model, &home->pose) + trailer->winch.strap_length_at_home);
        dd_text(l->name, sizeof l->name, "winch strap");
    }
}

/* Two lines that pull against each other across the trailer, so taut that neither ever falls slack, at the foremost and at the rearmost
   contact that bears: the grip that keeps a leaning hull there. */
static void add_grips(dd_seat_model *seat, const dd_mat3 *to_trailer, double weight)
{
    const dd_vec3 across = dd_apply_transposed(to_trailer, dd_vec(0, 1, 0));
    for (int way = 1; way >= -1; way -= 2) {
        int end = -1;
        for (int i = 0; i < seat->contact_count; i++)
            if (seat->contacts[i].roller >= 0 && seat->contacts[i].gap < 0 && (end < 0 || way * seat->contacts[i].at.x > way * seat->contacts[end].at.x)) end = i;
        for (int i = 0; i < 2 && end >= 0 && seat->line_count < DD_SEAT_LINES; i++)
            seat->lines[seat->line_count++] = (dd_seat_line){.name = "grip", .at = seat->contacts[end].at, .pull = dd_scale(i == 0 ? 1 : -1, across),
                                                             .stiffness = 0.5 * weight / grips_within, .tension = 10 * weight};
    }
}

static void add_mass(dd_seat_model *seat, double mass, dd_vec3 at)
{
    if (mass > 0 && seat->mass_count < DD_SEAT_MASSES) seat->masses[seat->mass_count++] = (dd_seat_mass){mass, at};
}

/* The hull's own mass over its length, thicker toward one end so that its centre comes right; what is left of the whole. */
static void spread_hull(dd_seat_model *seat, double mass, dd_vec3 centre, double first, double last)
{
    double half = 0.5 * (last - first), middle = 0.5 * (first + last), lean = 3 * (centre.x - middle) / half;
    if (fabs(lean) > 1) { /* its centre stands outside the middle third: an even load about it */
        half = fmin(centre.x - first, last - centre.x);
        middle = centre.x;
        lean = 0;
    }
    if (!(half > 0)) {
        add_mass(seat, mass, centre);
        return;
    }
    const double step = 2 * half / PIECES;
    double sum = 0, moment = 0;
    const int begin = seat->mass_count;
    for (int i = 0; i < PIECES; i++) {
        const double x = middle - half + (i + 0.5) * step;
        const double piece = mass / PIECES * (1 + lean * (x - middle) / half);
        add_mass(seat, piece, dd_vec(x, centre.y, centre.z));
        sum += piece;
        moment += piece * x;
    }
    for (int i = begin; i < seat->mass_count; i++) seat->masses[i].at.x += centre.x - moment / sum;
}

static void add_masses(const dd_study_model *m, dd_seat_model *seat)
{
    const dd_mass_properties *whole = dd_hull_mass(m->hull);
    const dd_hull_parameters *boat = &m->scenario.boat;
    double first, last, left = whole->mass;
    dd_vec3 moment = dd_scale(whole->mass, whole->centre);
    dd_hull_extent(m->hull, &first, &last);
    for (int i = 0; i < boat->item_count; i++) {
        const dd_item *item = &boat->items[i];
        if (item->at_count != 3) continue;
        const double mass = dd_item_mass(item);
        const dd_vec3 at = dd_vec(item->at[0], item->at[1], item->at[2]);
        add_mass(seat, mass, at);
        left -= mass;
        moment = dd_sub(moment, dd_scale(mass, at));
    }
    const double engine = dd_hull_figures(m->hull)->engine_mass.likely;
    if (engine > 0 && engine < left && boat->mass_of != DD_MASS_READY_TO_GO) {
        const dd_vec3 at = dd_vec(first, 0, dd_hull_figures(m->hull)->transom_sheer_height.likely);
        add_mass(seat, engine, at);
        left -= engine;
        moment = dd_sub(moment, dd_scale(engine, at));
    }
    if (left > 0) spread_hull(seat, left, dd_scale(1 / left, moment), first, last);
}

static int by_value(const void *a, const void *b)
{
    double x, y;
    memcpy(&x, a, sizeof x);
    memcpy(&y, b, sizeof y);
    return (x > y) - (x < y);
}

void dd_seat_set_nodes(const dd_hull *hull, dd_seat_model *seat)
{
    double at[DD_SEAT_CONTACTS + 2], first, last;
    int count = 0;
    seat->node_count = 0;
    dd_hull_extent(hull, &first, &last);
    at[count++] = first;
    at[count++] = last;
    for (int i = 0; i < seat->contact_count; i++) at[count++] = fmin(fmax(seat->contacts[i].at.x, first), last);
    qsort(at, (size_t)count, sizeof at[0], by_value);
    for (int i = 0; i < count; i++)
        if (seat->node_count == 0 || at[i] - seat->nodes[seat->node_count - 1] > apart)
            if (seat->node_count < DD_SEAT_NODES) seat->nodes[seat->node_count++] = at[i];
    while (seat->node_count < REGULAR) {
        int widest = 0;
        for (int i = 1; i + 1 < seat->node_count; i++)
            if (seat->nodes[i + 1] - seat->nodes[i] > seat->nodes[widest + 1] - seat->nodes[widest]) widest = i;
        const double middle = 0.5 * (seat->nodes[widest] + seat->nodes[widest + 1]);
        memmove(seat->nodes + widest + 2, seat->nodes + widest + 1, (size_t)(seat->node_count - widest - 1) * sizeof(double));
        seat->nodes[widest + 1] = middle;
        seat->node_count++;
    }
}

dd_status dd_seat_model_create(const dd_study_model *m, const dd_equilibrium *home, int linear, dd_seat_model *seat, dd_error *error)
{
    const dd_motion rest = {{0}, {0}};
    double *y = calloc((size_t)m->system->size, sizeof *y);
    *seat = (dd_seat_model){0};
    if (y == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_seat_model_create", "no memory for the pose");
    dd_system_pack(m->system, &home->pose, &rest, m->memory, y);
    const int failed = dd_system_evaluate(m->workspace, 0, y, DD_WANT_STIFFNESS);
    free(y);
    if (failed != 0) return dd_fail(error, DD_ERROR_NO_EQUILIBRIUM, "supports", "the boat at home cannot be evaluated");
    const dd_mat3 to_trailer = dd_rotation_of(home->pose.attitude);
    if (dd_seat_arm_angles(m) != NULL) dd_seat_meet(m->hull, m->rig, dd_seat_arm_angles(m), &to_trailer, home->pose.position, linear, seat);
    add_bow(m, home, linear, seat);
    seat->first_grip = seat->line_count;
    if (home->gripped) add_grips(seat, &to_trailer, dd_hull_mass(m->hull)->mass * m->model.gravity);
    add_masses(m, seat);
    dd_seat_set_nodes(m->hull, seat);
    seat->bending_stiffness = isnan(m->scenario.boat.bending_stiffness) ? INFINITY : m->scenario.boat.bending_stiffness;
    seat->up = dd_apply_transposed(&to_trailer, dd_vec(0, 0, 1));
    seat->hold = weak * dd_hull_mass(m->hull)->mass * m->model.gravity;
    return DD_OK;
}
