/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/settle.h"
#include "lib/base/error.h"
#include <stdlib.h>
#include <string.h>

static const double shortest_move = 0.001; /* m */
static const double longest_move = 0.25;   /* of the rig between two equilibria, m: the trailer's pitch follows by geometry */

dd_status dd_settle_begin(dd_study_model *m, dd_friction_state state, double x, double home_x, dd_settle *settle,
                          dd_error *error)
{
    *settle = (dd_settle){.m = m, .state = state, .free = DD_FREE_ALL};
    settle->memory = calloc((size_t)m->system->memory_count + 1, sizeof(double));
    if (settle->memory == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_settle_begin", "no memory for the friction states");
    double home = isnan(home_x) ? x : home_x;
    /* Wound home against rolling resistance, whatever the friction is supposed to do afterwards. */
    dd_status status = dd_study_home(m, home, DD_FRICTION_WOUND_IN, settle->memory, &settle->at, error);
    if (status == DD_OK) status = dd_settle_to(settle, x, error);
    if (status != DD_OK) dd_settle_end(settle);
    return status;
}

static dd_status move(dd_settle *s, double x, dd_error *error)
{
    dd_equilibrium next = {.pose = s->at.pose};
    const dd_pose from = dd_study_driven(s->m, &s->at.pose, x);
    dd_study_friction(s->m, &from, s->state, s->memory);
    dd_status status = dd_equilibrium_find(s->m->workspace, 0, &from, s->memory, s->free, &next, error);
    /* With friction at its limits K is not the slope of an energy: only the frictionless branch says where the boat falls. */
    if (status == DD_OK && s->state == DD_FRICTION_NONE && !next.stable)
        status = dd_fail(error, DD_ERROR_NO_EQUILIBRIUM, "settle",
                         "the boat falls here (rig x %.3f m): its equilibrium is not stable, smallest stiffness %.4g N/m", x,
                         next.smallest_stiffness);
    if (status == DD_OK) s->at = next;
    return status;
}

/* Says that the branch ends, with what is short just beyond its end. */
static dd_status fall(dd_error *error, double x)
{
    if (error == NULL || strncmp(error->message, "the boat falls here", 19) == 0) return DD_ERROR_NO_EQUILIBRIUM;
    const dd_error beyond = *error;
    return dd_fail(error, DD_ERROR_NO_EQUILIBRIUM, "settle", "the boat falls here (rig x %.3f m); just beyond, %.200s", x,
                   beyond.message);
}

/* Shorter moves where a longer one finds nothing: only where even the shortest does not, the branch has ended. */
dd_status dd_settle_to(dd_settle *s, double x, dd_error *error)
{
    double step = longest_move;
    for (;;) {
        const double here = s->at.pose.rig[DD_RIG_X], left = x - here;
        const bool last = fabs(left) <= step;
        dd_status status = move(s, last ? x : here + copysign(step, left), error);
        if (status == DD_OK && last) return DD_OK;
        if (status == DD_OK)
            step = fmin(2 * step, longest_move);
        else if (status != DD_ERROR_NO_EQUILIBRIUM)
            return status;
        else if (fmin(step, fabs(left)) < shortest_move)
            return fall(error, here);
        else
            step = 0.5 * fmin(step, fabs(left));
    }
}

void dd_settle_end(dd_settle *s)
{
    free(s->memory);
    s->memory = NULL;
}
