/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/asides.h"
#include "lib/base/error.h"
#include "lib/force/strap.h"
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double winding_step = 0.25; /* of strap, m */
static const double slack = 1e-6;        /* of the weight: less is no pull */

/* Load along the keel, seaward positive, that is left with the rollers' friction as memory says. */
static dd_status left_along(const dd_settle *s, double *left, dd_error *error)
{
    double load[DD_COORDINATES];
    const dd_status status = dd_settle_evaluate(s, 0, error);
    if (status != DD_OK) return status;
    dd_unbalanced(s->m->workspace, load);
    *left = -load[DD_HULL_COORDINATE];
    return DD_OK;
}

double dd_drive_along(const dd_settle *s)
{
    double load[DD_COORDINATES], stop = 0;
    dd_unbalanced(s->m->workspace, load);
    for (int f = 0; f < s->m->system->force_count; f++)
        if (s->m->system->forces[f].kind == &dd_force_bow_stop) stop = -s->m->workspace->loads[f].hull[0];
    return -load[DD_HULL_COORDINATE] - stop;
}

/* Friction of a hull let out, held: memory that has it at about this place. */
static dd_status let_out_here(dd_settle *s, const double *held, dd_error *error)
{
    if (held != NULL) dd_study_friction_join(s->m, DD_FRICTION_LET_OUT, held, s->memory);
    if (dd_study_friction_holds(s->m, DD_FRICTION_LET_OUT, s->memory)) return DD_OK;
    return dd_study_friction(s->m, &s->at.pose, DD_FRICTION_LET_OUT, s->memory) == DD_OK ? DD_OK : dd_fail(error, DD_ERROR_MEMORY, "settle", "no memory for the friction states");
}

/* Friction at its limit against a hull that would run aft, less none: what the supports hold. */
static dd_status measure(dd_settle *s, const double *friction, dd_unhooked *u, dd_error *error)
{
    const double mass = dd_hull_mass(s->m->hull)->mass;
    double load[DD_COORDINATES], held = NAN;
    dd_unbalanced(s->m->workspace, load);
    u->drive = dd_drive_along(s);
    dd_status status = let_out_here(s, friction, error);
    if (status == DD_OK) status = left_along(s, &held, error);
    if (status != DD_OK) return status;
    u->friction = -load[DD_HULL_COORDINATE] - held;
    u->aft = fmax(0.0, (u->friction - u->drive) / mass);
    u->forward = fmax(0.0, (u->friction + u->drive) / mass);
    return DD_OK;
}

/* Where it lies without its strap, from *at on, which is about there. */
static dd_status lie_unhooked(dd_settle *s, const dd_equilibrium *at, dd_error *error)
{
    const dd_pose from = at->pose;
    const dd_stiffness_near near = at->near;
    return dd_equilibrium_follow_by(s->m->workspace, 0, &from, s->memory, s->free, true, &near, &s->at, error);
}

/* Beside the branch as it lay before; lengthwise it is held where the branch is. */
static dd_equilibrium expect_unhooked(const dd_settle *settle, const dd_unhooked *before)
{
    dd_equilibrium at = settle->at;
    const dd_mat3 r = dd_rotation_of(at.pose.attitude);
    const dd_vec3 along = dd_apply(&r, dd_vec(1, 0, 0)), here = at.pose.position;
    dd_settle_move_as(&at.pose, &before->beside.pose, &before->at.pose);
    at.pose.position = dd_sub(at.pose.position, dd_scale(dd_dot(along, dd_sub(at.pose.position, here)), along));
    dd_stiffness_as(&at.near, &before->beside.near, &before->at.near);
    return at;
}

dd_status dd_unhook(const dd_settle *settle, const double *held, const dd_unhooked *before, dd_unhooked *result, dd_error *error)
{
    dd_settle s;
    dd_commands *set = &settle->m->workspace->plan.set;
    const int hooked = set->strap_hooked;
    *result = (dd_unhooked){NAN, NAN, NAN, NAN, {.stable = 0}, settle->at};
    dd_status status = dd_settle_branch(settle, DD_FRICTION_NONE, &s, error);
    if (status != DD_OK) return status;
    s.free = settle->free & ~DD_FREE_HULL_LENGTHWISE;
    set->strap_hooked = 0;
    status = DD_ERROR_NO_EQUILIBRIUM;
    if (before != NULL && before->at.near.free != 0) {
        const dd_equilibrium at = expect_unhooked(settle, before);
        status = lie_unhooked(&s, &at, error);
    }
    if (status == DD_ERROR_NO_EQUILIBRIUM) status = lie_unhooked(&s, &settle->at, error);
    if (status == DD_OK) result->at = s.at;
    if (status == DD_OK) status = measure(&s, held, result, error);
    set->strap_hooked = hooked;
    dd_settle_end(&s);
    return status;
}

static double channel(const dd_study_model *m, const dd_force_kind *kind, const char *name)
{
    const int index = dd_system_channel(m->system, kind, 0, name);
    return index >= 0 ? m->workspace->channels[index] : NAN;
}

/* Of somebody who winds: the channel tells of a hand only while it does. */
static double handle_of(const dd_study_model *m, double tension)
{
    const dd_winch_parameters *winch = &m->rig->trailer.winch;
    const dd_system_force *strap = dd_system_find(m->system, &dd_force_strap);
    if (strap == NULL || winch->drive == DD_DRIVE_ELECTRIC) return NAN;
    const double out = channel(m, &dd_force_strap, "strap_length_m");
    return dd_winch_handle_force(winch, tension, dd_strap_whole_length(strap->instance) - out);
}

static void read_step(const dd_study_model *m, dd_winding *w, double *to_support)
{
    dd_seen seen;
    dd_seen_read(m, 0, &seen);
    const double *v = seen.v, handle = handle_of(m, v[DD_SEEN_STRAP_TENSION]);
    const dd_winding_step step = {.short_of_stop = fmax(0.0, v[DD_SEEN_STOP_GAP]),
                                  .pull = v[DD_SEEN_STRAP_TENSION],
                                  .angle = channel(m, &dd_force_strap, "strap_angle_deg"),
                                  .handle = handle,
                                  .carried = v[DD_SEEN_CARRIED]};
    if (step.pull > w->greatest || w->count == 0)
        w->greatest = step.pull, w->greatest_short = step.short_of_stop, w->greatest_handle = handle;
    w->least_transom = fmin(w->least_transom, v[DD_SEEN_TRANSOM_CLEARANCE]);
    w->least_skeg = fmin(w->least_skeg, v[DD_SEEN_SKEG_CLEARANCE]);
    w->step[w->count++] = step;
    *to_support = -dd_study_distance_clear(m, &m->workspace->kinematics);
}

struct dd_winding_way {
    dd_settle row, home; /* the branch that it began from; at home */
    double per_length;   /* of dd_settle_home() */
    int steps;
    dd_settle step[DD_WINDING_STEPS]; /* from home outward */
};

void dd_winding_way_free(dd_winding_way *way)
{
    if (way == NULL) return;
    dd_settle_end(&way->row);
    dd_settle_end(&way->home);
    for (int i = 0; i < way->steps; i++) dd_settle_end(&way->step[i]);
    free(way);
}

/* One winding on its way. */
typedef struct winding {
    const dd_winding_way *before; /* NULL: nothing leads it */
    dd_winding_way *now;          /* NULL: it is not kept */
    dd_winding *w;
} winding;

static dd_status next_step(const winding *one, dd_settle *s, int i, dd_error *error)
{
    const double length = dd_settle_strap(s) + winding_step;
    const dd_winding_way *before = one->before;
    if (before == NULL || i >= before->steps) return dd_settle_strap_to(s, length, error);
    return dd_settle_along(s, s->at.pose.rig[DD_RIG_X], length, &before->step[i - 1].at, &before->step[i].at, before->step[i].memory, error);
}

static dd_status let_out(const winding *one, dd_settle *s, dd_error *error)
{
    const double afloat = s->m->scenario.limits.afloat_share, weight = dd_hull_mass(s->m->hull)->mass * s->m->model.gravity;
    dd_winding *w = one->w;
    double to_support = INFINITY;
    dd_status status = DD_OK;
    for (int i = 0; i < DD_WINDING_STEPS && to_support > 0; i++) {
        dd_error why;
        if (i > 0 && w->step[i - 1].pull <= slack * weight && w->step[i - 1].carried < afloat * weight) return DD_OK;
        if (i > 0) status = next_step(one, s, i, &why);
        if (status == DD_ERROR_NO_EQUILIBRIUM) {
            snprintf(w->ends, sizeof w->ends, "%.239s", why.message);
            return DD_OK;
        }
        if (status != DD_OK) {
            if (error != NULL) *error = why;
            return status;
        }
        read_step(s->m, w, &to_support);
        if (one->now == NULL) continue;
        status = dd_settle_branch(s, s->state, &one->now->step[i], error);
        if (status != DD_OK) return status;
        one->now->steps = i + 1;
    }
    return DD_OK;
}

static dd_status pull_out(dd_settle *s, double level_x, dd_winding *w, dd_error *error)
{
    dd_error why;
    s->state = DD_FRICTION_NONE; /* it may hold the hull back or forward: between the two */
    s->slides = true;            /* where the bed turns level the boat leaves its strap and runs up to its stop */
    dd_status status = dd_settle_to(s, level_x, &why);
    w->gap_after = status == DD_OK ? channel(s->m, &dd_force_bow_stop, "stop_gap_m") : NAN;
    if (status == DD_OK || status == DD_ERROR_NO_EQUILIBRIUM) return DD_OK;
    if (error != NULL) *error = why;
    return status;
}

/* Home as the way before has it, moved as the rows have since. false: it does not lie there. */
static bool begin_beside(const winding *one, const dd_settle *settle, dd_settle *home)
{
    const dd_winding_way *before = one->before;
    if (before == NULL) return false;
    home->at = before->home.at;
    home->held = before->home.held;
    const dd_system_force *strap = dd_system_find(home->m->system, &dd_force_strap);
    if (strap != NULL) home->memory[strap->memory_first] = dd_settle_strap(&before->home);
    dd_study_friction_join(home->m, DD_FRICTION_WOUND_IN, before->home.memory, home->memory);
    dd_settle_move_as(&home->at.pose, &before->row.at.pose, &settle->at.pose);
    if (dd_settle_along(home, settle->at.pose.rig[DD_RIG_X], dd_settle_strap(home), &before->row.at, &settle->at, NULL, NULL) == DD_OK) return true;
    dd_settle_copy(settle, home);
    return false;
}

static dd_status wind(const winding *one, const dd_settle *settle, double level_x, dd_settle *home, dd_error *error)
{
    dd_settle out;
    double per_length = one->before != NULL ? one->before->per_length : 0;
    const bool evaluated = begin_beside(one, settle, home);
    dd_status status = dd_settle_home(home, evaluated, &per_length, error);
    if (status == DD_OK && one->now != NULL) status = dd_settle_branch(settle, settle->state, &one->now->row, error);
    if (status == DD_OK && one->now != NULL) status = dd_settle_branch(home, home->state, &one->now->home, error);
    if (status == DD_OK && one->now != NULL) one->now->per_length = per_length;
    if (status == DD_OK) status = dd_settle_branch(home, DD_FRICTION_WOUND_IN, &out, error);
    if (status != DD_OK) return status;
    status = let_out(one, &out, error);
    dd_settle_end(&out);
    return status == DD_OK ? pull_out(home, level_x, one->w, error) : status;
}

dd_status dd_wind_here(const dd_settle *settle, double level_x, dd_winding_way **way, dd_winding *w, dd_error *error)
{
    dd_settle home;
    winding one = {.before = way != NULL ? *way : NULL, .now = way != NULL ? calloc(1, sizeof **way) : NULL, .w = w};
    memset(w, 0, sizeof *w);
    w->gap_after = NAN;
    w->least_transom = w->least_skeg = INFINITY;
    if (way != NULL && one.now == NULL) return dd_fail(error, DD_ERROR_MEMORY, "settle", "no memory for the winch's way");
    dd_status status = dd_settle_branch(settle, DD_FRICTION_WOUND_IN, &home, error);
    if (status == DD_OK) {
        status = wind(&one, settle, level_x, &home, error);
        dd_settle_end(&home);
    }
    if (status == DD_OK && way != NULL) {
        dd_winding_way_free(*way);
        *way = one.now;
    } else {
        dd_winding_way_free(one.now);
    }
    return status;
}
