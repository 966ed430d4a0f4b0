/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Winding the boat home: the strap in by turns until the bow is at its stop with the strap's pretension. */
#include "lib/base/error.h"
#include "lib/force/strap.h"
#include "lib/ode/ode.h"
#include "lib/study/fit.h"
#include "lib/study/settle.h"
#include <string.h>

enum { MOST_TURNS = 100 };
static const double turn_length = 0.005; /* of strap, m */

typedef struct winding {
    dd_settle s;
    int strap;
    bool lies; /* a balance has been found */
    double pretension;
    dd_status status; /* of the last search */
    dd_error why;
} winding;

/* A shorter strap may pull the boat on to another balance; a longer one that does not hold it where it lay holds it no more. */
static dd_status wind_to(winding *w, double length)
{
    const double x = w->s.at.pose.rig[DD_RIG_X], before = dd_settle_strap(&w->s);
    if (w->lies) {
        dd_status status = dd_settle_strap_to(&w->s, length, &w->why);
        if (status != DD_ERROR_NO_EQUILIBRIUM || length > before) return status;
    }
    w->s.memory[w->strap] = length;
    dd_status status = dd_settle_to(&w->s, x, &w->why);
    w->lies |= status == DD_OK;
    return status;
}

/* > 0 once the bow is at its stop and the strap has its pretension: the lesser of tension beyond it (N) and squash of the
   stop (as a force, to be of one size with it). */
static double home_at(double length, void *context)
{
    static const double stop_scale = 1e5; /* N/m */
    static const double not_held = -1e6;  /* N: too long to hold the boat at all */
    winding *w = context;
    const dd_study_model *m = w->s.m;
    w->status = wind_to(w, length);
    if (w->status != DD_OK) return w->status == DD_ERROR_NO_EQUILIBRIUM ? not_held : NAN;
    const double *channels = m->workspace->channels;
    double tension = channels[dd_system_channel(m->system, &dd_force_strap, 0, "strap_tension_N")];
    int gap = dd_system_channel(m->system, &dd_force_bow_stop, 0, "stop_gap_m");
    return fmin(tension - w->pretension, gap >= 0 ? -stop_scale * channels[gap] : INFINITY);
}

dd_status dd_study_home(dd_study_model *m, double x, dd_friction_state state, double *memory, dd_equilibrium *home,
                        dd_error *error)
{
    const dd_system_force *strap = dd_system_find(m->system, &dd_force_strap);
    memset(memory, 0, (size_t)m->system->memory_count * sizeof(double));
    m->workspace->plan.set.strap_hooked = 1;
    home->pose = dd_study_home_pose(m, x);
    if (strap == NULL)
        return dd_fail(error, DD_ERROR_ARGUMENT, "without: strap", "the boat cannot be held at home without the strap");
    winding w = {.s = {.m = m, .state = state, .held = state, .memory = memory, .free = DD_FREE_ALL, .at.pose = home->pose},
                 .strap = strap->memory_first,
                 .pretension = m->rig->trailer.winch.pretension};
    double length = dd_strap_distance(&m->model, &home->pose), before = length, value = home_at(length, &w),
           value_before = value, root;
    for (int i = 0; i < MOST_TURNS && !isnan(value) && value < 0; i++) {
        before = length;
        value_before = value;
        length -= turn_length;
        value = length > 0.05 ? home_at(length, &w) : NAN;
    }
    for (int i = 0; i < MOST_TURNS && !isnan(value) && value_before > 0; i++) {
        before += turn_length;
        value_before = home_at(before, &w);
    }
    dd_status status = w.status == DD_ERROR_NO_EQUILIBRIUM && value >= 0 ? DD_OK : w.status;
    if (status == DD_OK && (value < 0 || value_before > 0))
        status = dd_fail(&w.why, DD_ERROR_NO_EQUILIBRIUM, "start: home",
                         "the strap could not be wound to its pretension of %.4g N with the bow at its stop", w.pretension);
    dd_error located = {.status = DD_OK};
    if (status == DD_OK) status = dd_ode_locate(home_at, &w, length, before, value, value_before, 1e-10, &root, &located);
    /* Where a longer strap does not hold the boat at all, the shortest that was tried is what winding ends with. */
    if (status == DD_OK && home_at(root, &w) < 0 && w.status == DD_ERROR_NO_EQUILIBRIUM) (void)home_at(length, &w);
    *home = w.s.at;
    if (w.status != DD_OK)
        status = w.status; /* the search's own reason, not that its value is missing */
    else if (located.status != DD_OK)
        w.why = located;
    if (status == DD_OK) return dd_study_fit_stop(m, &home->pose, error);
    if (status != DD_ERROR_MEMORY) {
        const dd_pose laid = dd_study_home_pose(m, x);
        dd_status fit = dd_study_fit(m, &laid, error);
        if (fit != DD_OK) return fit;
    }
    if (error != NULL) *error = w.why;
    return status;
}
