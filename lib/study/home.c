/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures beside the columns: how the boat came onto its trailer, and how it lies when the trailer is out. */
#include "lib/rig/winch.h"
#include "lib/study/verdict.h"
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static void add(dd_recorder *recorder, const char *group, const char *name, double value, const char *unit, const char *format,
                ...) DD_PRINTF(6, 7);
static void add(dd_recorder *recorder, const char *group, const char *name, double value, const char *unit, const char *format,
                ...)
{
    dd_figure figure = {.value = value};
    va_list arguments;
    snprintf(figure.group, sizeof figure.group, "%s", group);
    snprintf(figure.name, sizeof figure.name, "%s", name);
    snprintf(figure.unit, sizeof figure.unit, "%s", unit);
    va_start(arguments, format);
    vsnprintf(figure.words, sizeof figure.words, format, arguments);
    va_end(arguments);
    (void)dd_recorder_figure(recorder, &figure); /* the recorder keeps its first failure */
}

static void first_contact(const dd_watcher *w, dd_recorder *recorder)
{
    const dd_moment *contact = dd_watcher_moment(w, "first contact");
    if (contact == NULL) return;
    const double *v = contact->seen.v;
    add(recorder, "first contact", "boat's length on the trailer", v[DD_SEEN_ON_TRAILER], "%",
        "at %.1f s with the hub %.2f m under water; the bow %.0f mm, the stern %.0f mm off the line, to port", contact->time,
        v[DD_SEEN_HUB_DEPTH], 1e3 * v[DD_SEEN_BOW_OFFSET], 1e3 * v[DD_SEEN_STERN_OFFSET]);
}

/* The strap from where the pull-out began to its end: the pitch of the hull in its trailer changes its load. */
static void strap_at_home(const dd_run *run, const dd_watcher *w, const double *last, dd_recorder *recorder)
{
    const dd_moment *begins = dd_watcher_moment(w, "pull-out begins");
    const double above = last[DD_SEEN_DRUM_ABOVE_EYE];
    add(recorder, "home", "strap from drum to eye", last[DD_SEEN_DRUM_TO_EYE], "m",
        "mark it there: the boat is home when the mark comes to the drum");
    add(recorder, "home", "drum above the eye", above, "m", "%s",
        fabs(above) < 0.05 ? "level with it: the strap changes least as the hull's pitch does"
        : above > 0        ? "the bow that falls in the pull-out tightens the strap, one that rises slackens it"
                           : "the bow that rises in the pull-out tightens the strap, one that falls slackens it");
    if (begins == NULL || !run->m->workspace->plan.set.strap_hooked) return;
    const double *first = begins->seen.v;
    add(recorder, "home", "strap's tension, change", last[DD_SEEN_STRAP_TENSION] - first[DD_SEEN_STRAP_TENSION], "N",
        "%.0f N when the pull-out began, %.0f N at its end; drum to eye %+.0f mm", first[DD_SEEN_STRAP_TENSION],
        last[DD_SEEN_STRAP_TENSION], 1e3 * (last[DD_SEEN_DRUM_TO_EYE] - first[DD_SEEN_DRUM_TO_EYE]));
    add(recorder, "home", "hull's pitch in its trailer, change", last[DD_SEEN_PITCH_IN_TRAILER] - first[DD_SEEN_PITCH_IN_TRAILER],
        "deg", "bow down positive, from where the pull-out began");
}

static void coupling_at_home(const dd_run *run, const double *last, dd_recorder *recorder)
{
    const dd_study_model *m = run->m;
    const double slope = dd_ramp_at(m->ramp, last[DD_SEEN_RIG_X]).slope, load = last[DD_SEEN_COUPLING_LOAD];
    const double both = run->weight + m->rig->trailer.mass * m->model.gravity, planned = m->rig->trailer.planned_coupling_load;
    char plan[64] = "";
    if (planned > 0) snprintf(plan, sizeof plan, "; planned %.0f N: %+.0f %%", planned, 100 * (load / planned - 1));
    add(recorder, "home", "coupling load", load, "N", "%.1f %% of trailer and boat; vehicle on a slope of %.1f %%%s",
        100 * load / both, -100 * slope, plan);
}

/* What makers and advisers ask of the winch and its strap, side by side: none of it is law. */
static void winch_rules(const dd_run *run, const dd_extremes *e, dd_recorder *recorder)
{
    const double pull = e->most.v[DD_SEEN_STRAP_TENSION];
    for (int i = 0; i < dd_winch_rule_count(); i++) {
        const dd_winch_rule *rule = dd_winch_rule_at(i);
        double required, given;
        char name[32], there[48] = "that is not given";
        const int holds = dd_winch_rule_check(rule, &run->m->rig->trailer.winch, run->weight, pull, &required, &given);
        if (!isnan(given)) snprintf(there, sizeof there, "given %.0f N: %s", given, holds == 1 ? "holds" : "does not hold");
        snprintf(name, sizeof name, "rule %d", i + 1);
        add(recorder, "winch rules", name, required, "N", "%.130s; %s", rule->text, there);
    }
}

void dd_figures_of(const dd_run *run, const dd_extremes *e, const dd_watcher *w, dd_recorder *recorder)
{
    const dd_case *scenario = &run->m->scenario;
    const double *last = e->last.v;
    first_contact(w, recorder);
    if (e->most.v[DD_SEEN_STRAP_TENSION] > 0) winch_rules(run, e, recorder);
    if (scenario->action != DD_ACTION_RETRIEVE || run->procedure.state != DD_PROCEDURE_DONE) return;
    const dd_moment *begins = dd_watcher_moment(w, "pull-out begins");
    const double gap = last[DD_SEEN_STOP_GAP], before = begins != NULL ? begins->seen.v[DD_SEEN_STOP_GAP] : gap;
    add(recorder, "home", "gap at the bow stop", gap, "m", "%.0f mm when the pull-out began; limit %.0f mm", 1e3 * before,
        1e3 * scenario->limits.stop_gap);
    add(recorder, "home", "bow off the line, to port", last[DD_SEEN_BOW_OFFSET], "m", "limit %.0f mm",
        1e3 * scenario->limits.offset);
    add(recorder, "home", "stern off the line, to port", last[DD_SEEN_STERN_OFFSET], "m", "limit %.0f mm",
        1e3 * scenario->limits.offset);
    coupling_at_home(run, last, recorder);
    strap_at_home(run, w, last, recorder);
}
