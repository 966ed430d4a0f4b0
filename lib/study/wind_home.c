/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Winding the boat home: the strap in by turns until the bow is at its stop with the strap's pretension. */
#include "lib/base/error.h"
#include "lib/force/strap.h"
#include "lib/ode/ode.h"
#include "lib/study/fit.h"
#include "lib/study/settle.h"
#include <string.h>

enum { MOST_TURNS = 100 };
static const double far_off = 1.0; /* of the hull's origin from where it was laid, m */
static const double not_held = -1e6;  /* N: too long to hold the boat at all */
static const double turn_length = 0.005, longest_turn = 0.05; /* of strap, m */

typedef struct winding {
    dd_settle s;
    int strap;
    bool lies; /* a balance has been found */
    bool evaluated; /* the workspace stands where it lies */
    double last, at_last, before, at_before; /* of home_at(): the last two lengths, m, and values, N */
    double per_length; /* how home_at() changes with the strap's length, N/m, as far as that is known, else 0 */
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
    const dd_pose laid = w->s.at.pose;
    w->s.memory[w->strap] = length;
    dd_status status = dd_settle_to(&w->s, x, &w->why);
    const double off = status == DD_OK ? dd_pose_distance(&laid, &w->s.at.pose, 0) : 0;
    if (!w->lies && off > far_off) { /* hanging by the strap under the trailer, say */
        w->s.at = (dd_equilibrium){.pose = laid};
        return dd_fail(&w->why, DD_ERROR_NO_EQUILIBRIUM, "start: home",
                       "nothing holds the boat on its supports: it lies still only %.2f m from where it was laid", off);
    }
    w->lies |= status == DD_OK;
    return status;
}

/* > 0 once the bow is at its stop and the strap has its pretension: the lesser of tension beyond it (N) and squash of the
   stop (as a force, to be of one size with it). */
static double home_at(double length, winding *w)
{
    static const double stop_scale = 1e5; /* N/m */
    const dd_study_model *m = w->s.m;
    w->status = w->evaluated && length == dd_settle_strap(&w->s) ? DD_OK : wind_to(w, length);
    w->evaluated = w->status == DD_OK;
    if (w->status != DD_OK) return w->status == DD_ERROR_NO_EQUILIBRIUM ? not_held : NAN;
    const double *channels = m->workspace->channels;
    double tension = channels[dd_system_channel(m->system, &dd_force_strap, 0, "strap_tension_N")];
    int gap = dd_system_channel(m->system, &dd_force_bow_stop, 0, "stop_gap_m");
    return fmin(tension - w->pretension, gap >= 0 ? -stop_scale * channels[gap] : INFINITY);
}

/* Two lengths of strap between which home lies: *in with the bow at its stop and tension enough, *out short of it. */
static dd_status bracket(winding *w, double length, double *in, double *at_in, double *out, double *at_out)
{
    static const double past = 1.2, least_turn = 1e-7; /* of the way that is expected; m */
    *in = *out = length;
    *at_in = *at_out = home_at(length, w);
    const double expected = past * fabs(*at_in / w->per_length);
    double turn = w->per_length < 0 && expected < turn_length ? fmax(least_turn, expected) : turn_length;
    for (int i = 0; i < MOST_TURNS && !isnan(*at_in) && *at_in < 0; i++, turn = fmax(turn_length, fmin(1.5 * turn, longest_turn))) {
        *out = *in;
        *at_out = *at_in;
        *in -= turn;
        *at_in = *in > 0.05 ? home_at(*in, w) : NAN;
    }
    for (int i = 0; i < MOST_TURNS && !isnan(*at_in) && *at_out > 0; i++, turn = fmax(turn_length, fmin(1.5 * turn, longest_turn))) {
        *out += turn;
        *at_out = home_at(*out, w);
    }
    if (w->status != DD_OK && !(w->status == DD_ERROR_NO_EQUILIBRIUM && *at_in >= 0)) return w->status;
    if (*at_in >= 0 && *at_out <= 0) return DD_OK;
    return dd_fail(&w->why, DD_ERROR_NO_EQUILIBRIUM, "start: home",
                   "the strap could not be wound to its pretension of %.4g N with the bow at its stop", w->pretension);
}

/* Home by the line through the last two lengths, which lie on one side of any kink after a while. */
static double home_by_last_two(void *context)
{
    const winding *w = context;
    return w->last - w->at_last * (w->last - w->before) / (w->at_last - w->at_before);
}

static double home_within(double length, void *context)
{
    winding *w = context;
    w->before = w->last, w->at_before = w->at_last;
    w->last = length, w->at_last = home_at(length, w);
    return w->at_last;
}

static dd_status wind_home(winding *w, double from)
{
    static const double near = 1e-10; /* m of strap */
    double in, out, at_in, at_out;
    dd_status status = bracket(w, from, &in, &at_in, &out, &at_out);
    if (status == DD_OK && at_out > not_held && in < out) w->per_length = (at_out - at_in) / (out - in);
    if (status == DD_OK && at_in > 0 && at_out < 0) {
        w->last = in, w->at_last = at_in, w->before = out, w->at_before = at_out;
        status = dd_ode_enclose(home_within, home_by_last_two, w, &in, &out, &at_in, &at_out, near, NULL);
    }
    if (status == DD_OK && at_in > 0 && at_out == 0) in = out;
    /* It ends with the shorter one: a longer one may not hold the boat at all. */
    if (status == DD_OK && dd_settle_strap(&w->s) != in) (void)home_at(in, w);
    if (w->status != DD_OK) return w->status; /* the search's own reason, not that its value is missing */
    return status;
}

dd_status dd_settle_home(dd_settle *s, bool evaluated, double *per_length, dd_error *error)
{
    const dd_system_force *strap = dd_system_find(s->m->system, &dd_force_strap);
    if (strap == NULL)
        return dd_fail(error, DD_ERROR_ARGUMENT, "without: strap", "the boat cannot be held at home without the strap");
    winding w = {.s = *s, .strap = strap->memory_first, .lies = true, .evaluated = evaluated, .per_length = *per_length, .pretension = s->m->rig->trailer.winch.pretension};
    const dd_status status = wind_home(&w, dd_settle_strap(s));
    *s = w.s;
    *per_length = w.per_length;
    if (status != DD_OK && error != NULL) *error = w.why;
    return status;
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
    const dd_status status = wind_home(&w, dd_strap_distance(&m->model, &home->pose));
    *home = w.s.at;
    if (status == DD_OK) return dd_study_fit_home(m, &home->pose, error);
    if (status != DD_ERROR_MEMORY) {
        const dd_pose laid = dd_study_home_pose(m, x);
        dd_status fit = dd_study_fit(m, &laid, error);
        if (fit != DD_OK) return fit;
    }
    if (error != NULL) *error = w.why;
    return status;
}
