/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/asides.h"
#include "lib/base/error.h"
#include "lib/force/strap.h"
#include <stdio.h>
#include <string.h>

static const double winding_step = 0.25; /* of strap, m */

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

/* Friction at its limit against a hull that would run aft, less none: what the supports hold. */
static dd_status measure(dd_settle *s, dd_unhooked *u, dd_error *error)
{
    const double mass = dd_hull_mass(s->m->hull)->mass;
    double load[DD_COORDINATES], held = NAN;
    dd_unbalanced(s->m->workspace, load);
    u->drive = dd_drive_along(s);
    dd_study_friction_here(s->m, DD_FRICTION_LET_OUT, s->memory);
    dd_status status = left_along(s, &held, error);
    if (status != DD_OK) return status;
    u->friction = -load[DD_HULL_COORDINATE] - held;
    u->aft = fmax(0.0, (u->friction - u->drive) / mass);
    u->forward = fmax(0.0, (u->friction + u->drive) / mass);
    return DD_OK;
}

dd_status dd_unhook(const dd_settle *settle, dd_unhooked *result, dd_error *error)
{
    dd_settle s;
    dd_commands *set = &settle->m->workspace->plan.set;
    const int hooked = set->strap_hooked;
    *result = (dd_unhooked){NAN, NAN, NAN, NAN};
    dd_status status = dd_settle_branch(settle, DD_FRICTION_NONE, &s, error);
    if (status != DD_OK) return status;
    s.free = settle->free & ~DD_FREE_HULL_LENGTHWISE;
    set->strap_hooked = 0;
    status = dd_equilibrium_follow(s.m->workspace, 0, &s.at.pose, s.memory, s.free, true, &s.at, error);
    if (status == DD_OK) status = measure(&s, result, error);
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

static dd_status let_out(dd_settle *s, dd_winding *w, dd_error *error)
{
    const double afloat = s->m->scenario.limits.afloat_share, weight = dd_hull_mass(s->m->hull)->mass * s->m->model.gravity;
    double to_support = INFINITY;
    dd_status status = DD_OK;
    for (int i = 0; i < DD_WINDING_STEPS && to_support > 0; i++) {
        dd_error why;
        if (i > 0 && w->step[i - 1].pull <= 0 && w->step[i - 1].carried < afloat * weight) return DD_OK;
        if (i > 0) status = dd_settle_strap_to(s, dd_settle_strap(s) + winding_step, &why);
        if (status == DD_ERROR_NO_EQUILIBRIUM) {
            snprintf(w->ends, sizeof w->ends, "%.239s", why.message);
            return DD_OK;
        }
        if (status != DD_OK) {
            if (error != NULL) *error = why;
            return status;
        }
        read_step(s->m, w, &to_support);
    }
    return DD_OK;
}

static dd_status pull_out(dd_settle *s, double level_x, dd_winding *w, dd_error *error)
{
    dd_error why;
    s->state = DD_FRICTION_NONE; /* it may hold the hull back or forward: between the two */
    dd_status status = dd_settle_to(s, level_x, &why);
    w->gap_after = status == DD_OK ? channel(s->m, &dd_force_bow_stop, "stop_gap_m") : NAN;
    if (status == DD_OK || status == DD_ERROR_NO_EQUILIBRIUM) return DD_OK;
    if (error != NULL) *error = why;
    return status;
}

dd_status dd_wind_here(const dd_settle *settle, double level_x, dd_winding *w, dd_error *error)
{
    dd_settle home, out;
    memset(w, 0, sizeof *w);
    w->gap_after = NAN;
    w->least_transom = w->least_skeg = INFINITY;
    dd_status status = dd_settle_branch(settle, DD_FRICTION_WOUND_IN, &home, error);
    if (status != DD_OK) return status;
    status = dd_settle_home(&home, error);
    if (status == DD_OK) status = dd_settle_branch(&home, DD_FRICTION_WOUND_IN, &out, error);
    if (status == DD_OK) {
        status = let_out(&out, w, error);
        dd_settle_end(&out);
    }
    if (status == DD_OK) status = pull_out(&home, level_x, w, error);
    dd_settle_end(&home);
    return status;
}
