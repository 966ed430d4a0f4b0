/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/verdict.h"
#include "lib/base/error.h"
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

void dd_extremes_add(dd_extremes *e, const dd_seen *seen)
{
    const double t = seen->v[DD_SEEN_TIME];
    for (int i = 0; i < DD_SEEN_COUNT; i++) {
        double v = seen->v[i];
        if (isnan(v)) continue;
        if (!e->any || isnan(e->least.v[i]) || v < e->least.v[i]) e->least.v[i] = v, e->least_time[i] = t;
        if (!e->any || isnan(e->most.v[i]) || v > e->most.v[i]) e->most.v[i] = v, e->most_time[i] = t;
    }
    for (int i = 0; !e->any && i < DD_SEEN_COUNT; i++)
        if (isnan(seen->v[i])) e->least.v[i] = e->most.v[i] = NAN;
    double needed = seen->v[DD_SEEN_FRICTION_NEEDED], low = seen->v[DD_SEEN_FRICTION_LOW];
    if (low > 0 && needed / low > e->grip_use)
        e->grip_use = needed / low, e->grip_needed = needed, e->grip_low = low, e->grip_time = t,
        e->grip_high = seen->v[DD_SEEN_FRICTION_HIGH];
    if (!e->any) e->first = *seen;
    e->last = *seen;
    e->any = 1;
}

static const double unsteady = 0.9; /* share of the grip there is: a margin of less than a tenth */

/* --- the words --------------------------------------------------------------------------------------------------- */

static void say(dd_result *r, int verdict, const char *word, const char *format, ...) DD_PRINTF(4, 5);
static void say(dd_result *r, int verdict, const char *word, const char *format, ...)
{
    va_list arguments;
    r->verdict = verdict;
    snprintf(r->word, sizeof r->word, "%s", word);
    va_start(arguments, format);
    vsnprintf(r->sentence, sizeof r->sentence, format, arguments);
    va_end(arguments);
}

static const dd_margin *tightest(const dd_result *r)
{
    const dd_margin *worst = NULL;
    for (int i = 0; i < r->margin_count; i++)
        if (worst == NULL || r->margins[i].share > worst->share) worst = &r->margins[i];
    return worst;
}

/* Why a limit was broken, from the event that goes with its margin. */
static const char *why_broken(const dd_watcher *w, const char *margin)
{
    static const char *const events[][2] = {{"strap against its rating", "strap over limit"},
                                            {"winch against its rating", "winch over limit"},
                                            {"hand force at the winch", "handle over limit"},
                                            {"lift on the coupling", "coupling lifts"}};
    for (size_t i = 0; i < sizeof events / sizeof events[0]; i++) {
        const dd_cause *cause = strcmp(events[i][0], margin) == 0 ? dd_watcher_broke(w, events[i][1]) : NULL;
        if (cause != NULL) return cause->why;
    }
    return "";
}

/* Of the other limits that are broken the first that has a cause. */
static const char *other_cause(const dd_result *r, const dd_watcher *w, const dd_margin **which)
{
    for (int i = 0; i < r->margin_count; i++) {
        const char *why = r->margins[i].broken ? why_broken(w, r->margins[i].name) : "";
        if (why[0] == '\0') continue;
        *which = &r->margins[i];
        return why;
    }
    return "";
}

static const char *colon(const char *why) { return why[0] != '\0' ? ": " : ""; }

static int failed_by_event(dd_result *r, const dd_watcher *w)
{
    double when;
    const dd_cause *cause = dd_watcher_decided(w, &when);
    if (cause == NULL) return 0;
    say(r, DD_VERDICT_FAILED, cause->word, "At %.1f s %s%s%s.", when, cause->what, colon(cause->why), cause->why);
    return 1;
}

/* What the people found out themselves. */
static int failed_by_people(dd_result *r, const dd_run *run)
{
    char word[32], sentence[300];
    if (!dd_procedure_reason(&run->procedure, &run->crew, word, sentence, sizeof sentence)) return 0;
    say(r, DD_VERDICT_FAILED, word, "%s", sentence);
    return 1;
}

/* Appends the cause of a failure that no event tells, if the facts at the end have one. */
static void add_why(dd_result *r, const dd_run *run, const dd_extremes *e, const dd_watcher *w)
{
    const dd_cause *cause = dd_cause_find(r->word, dd_facts_of(run, w, &e->last), false);
    size_t length = strlen(r->sentence);
    if (cause == NULL || length == 0) return;
    if (r->sentence[length - 1] == '.') length--;
    snprintf(r->sentence + length, sizeof r->sentence - length, ": %s.", cause->why);
}

static int failed_by_time(dd_result *r, const dd_run *run, const dd_extremes *e)
{
    if (run->procedure.state == DD_PROCEDURE_DONE) return 0;
    const dd_step *step = &run->m->scenario.steps[run->procedure.step];
    const double *last = e->last.v;
    if (run->procedure.state == DD_PROCEDURE_TOO_HEAVY)
        say(r, DD_VERDICT_FAILED, "too heavy to wind",
            "The winch could not be turned any more with the bow %.2f m short of its stop: the strap stood at %.0f N.",
            last[DD_SEEN_STOP_GAP], last[DD_SEEN_STRAP_TENSION]);
    else if (step->kind == DD_STEP_WIND_IN && run->procedure.state == DD_PROCEDURE_TOO_LONG)
        say(r, DD_VERDICT_FAILED, "short of the stop",
            "Winding in did not bring the bow to its stop in %.0f s: %.2f m short, strap at %.0f N, %.0f N at the handle.",
            step->time_limit, last[DD_SEEN_STOP_GAP], last[DD_SEEN_STRAP_TENSION], last[DD_SEEN_HANDLE_FORCE]);
    else if (step->kind == DD_STEP_PUSH_OFF && run->procedure.state == DD_PROCEDURE_TOO_LONG)
        say(r, DD_VERDICT_FAILED, "does not float off",
            "Pushing with %.0f N did not bring the boat clear in %.0f s: the supports still carry %.0f N with %.2f m of water "
            "over the hub.",
            step->force, step->time_limit, last[DD_SEEN_CARRIED], last[DD_SEEN_HUB_DEPTH]);
    else if (run->procedure.state == DD_PROCEDURE_RUNS)
        say(r, DD_VERDICT_FAILED, "too long",
            "The step \"%s\" was still going on when the whole time limit of %.0f s was over.", dd_step_name(step->kind),
            run->m->scenario.time_limit);
    else
        say(r, DD_VERDICT_FAILED, "too long", "The step \"%s\" did not end within %.0f s.", dd_step_name(step->kind),
            step->time_limit);
    return 1;
}

/* A bow that came up to its stop and fell back has an event that says so: the verdict names it. */
static void short_of_stop(dd_result *r, const dd_limits *limits, double gap, double came)
{
    if (isnan(came))
        say(r, DD_VERDICT_FAILED, "short of the stop", "The bow rests %.0f mm short of its stop.", gap);
    else
        say(r, DD_VERDICT_FAILED, "short of the stop", "The bow came up to its stop at %.1f s, but rests %.0f mm short of it at the end; %.0f mm is the limit.", came, gap,
            1e3 * limits->stop_gap);
}

static int failed_by_outcome(dd_result *r, const dd_run *run, const dd_extremes *e, const dd_watcher *w)
{
    const double *last = e->last.v;
    const dd_limits *limits = &run->m->scenario.limits;
    if (run->m->scenario.action == DD_ACTION_LAUNCH) {
        if (!isnan(dd_watcher_first(w, "afloat")) || last[DD_SEEN_CARRIED] < limits->afloat_share * run->weight) return 0;
        say(r, DD_VERDICT_FAILED, "not afloat", "The procedure ended with the boat still on its supports, which carry %.0f N.",
            last[DD_SEEN_CARRIED]);
        return 1;
    }
    double offset = fmax(fabs(last[DD_SEEN_BOW_OFFSET]), fabs(last[DD_SEEN_STERN_OFFSET]));
    const dd_cause *cause = dd_cause_find("off the line", dd_facts_of(run, w, &e->last), false);
    const char *off_line = cause != NULL ? cause->why : "";
    if (last[DD_SEEN_COUPLING_LOAD] < 0 && last[DD_SEEN_STOP_GAP] > limits->stop_gap)
        say(r, DD_VERDICT_FAILED, "too far back",
            "The boat rests %.0f mm short of its stop and lifts the coupling with %.0f N: it lies too far back on its trailer.",
            1e3 * last[DD_SEEN_STOP_GAP], -last[DD_SEEN_COUPLING_LOAD]);
    else if (last[DD_SEEN_COUPLING_LOAD] < 0)
        say(r, DD_VERDICT_FAILED, "too far back",
            "The boat rests against its stop and lifts the coupling with %.0f N: the stop stands too far back on the trailer.",
            -last[DD_SEEN_COUPLING_LOAD]);
    else if (last[DD_SEEN_WITHIN] < limits->stern_lift_share * run->weight)
        say(r, DD_VERDICT_FAILED, "not captured",
            "The boat does not lie in two supports at the end; its keel is %.0f mm off the centre line.", 1e3 * offset);
    else if (last[DD_SEEN_STOP_GAP] > limits->stop_gap)
        short_of_stop(r, limits, 1e3 * last[DD_SEEN_STOP_GAP], dd_watcher_first(w, "at the stop"));
    else if (offset > limits->offset)
        say(r, DD_VERDICT_FAILED, "off centre", "The boat rests %.0f mm off the trailer's centre line; %.0f mm is the limit%s%s.",
            1e3 * offset, 1e3 * limits->offset, colon(off_line), off_line);
    else
        return 0;
    return 1;
}

/* A figure as people read it: no more digits than mean something. */
static const char *figure(double value, const char *unit, char text[48])
{
    double size = fabs(value);
    snprintf(text, 48, "%.*f%s%s",
             size >= 100  ? 0
             : size >= 10 ? 1
             : size >= 1  ? 2
                          : 3,
             value, unit[0] != '\0' ? " " : "", unit);
    return text;
}

static void works(dd_result *r, const dd_run *run, const dd_extremes *e, const dd_watcher *w)
{
    char band[120];
    snprintf(band, sizeof band, "needs friction of at least %.2f; this surface is known as %.2f to %.2f", e->grip_needed, e->grip_low,
             e->grip_high);
    const bool launch = run->m->scenario.action == DD_ACTION_LAUNCH;
    const dd_margin *worst = tightest(r);
    char tail[200] = "nothing was checked", value[48], limit[48];
    if (worst != NULL)
        snprintf(tail, sizeof tail, "tightest is %s: %s, limit %s", worst->name, figure(worst->value, worst->unit, value),
                 figure(worst->limit, worst->unit, limit));
    const char *grip = worst != NULL && strcmp(worst->name, "friction under the wheels") == 0 ? band : "";
    if (worst != NULL && worst->broken) {
        const dd_margin *other = NULL;
        const char *why = grip[0] != '\0' ? grip : why_broken(w, worst->name);
        if (why[0] == '\0') why = other_cause(r, w, &other);
        say(r, DD_VERDICT_BROKEN, "a limit is broken", "%s, but a limit is broken: %s at %.1f s is %s, the limit %s%s%s%s%s.",
            launch ? "The boat floats off" : "The boat comes home", worst->name, worst->time,
            figure(worst->value, worst->unit, value), figure(worst->limit, worst->unit, limit), other != NULL ? "; so is " : "",
            other != NULL ? other->name : "", colon(why), why);
        return;
    }
    if (e->grip_use > unsteady * run->m->scenario.limits.grip_low) {
        say(r, DD_VERDICT_WITHIN, "unsteady",
            "%s within the limits given, but unsteadily at %.1f s: it %s; a little weed, wash or a falling tide, and the rig slides.",
            launch ? "The boat floats off" : "The boat comes home", e->grip_time, band);
        return;
    }
    double lifts = dd_watcher_first(w, "stern lifts"), afloat = dd_watcher_first(w, "afloat");
    if (launch && isnan(lifts)) /* next to nothing lay on the rearmost support from the start */
        say(r, DD_VERDICT_WITHIN, "launch works", "The boat is afloat at %.1f s, within the limits given; %s.", afloat, tail);
    else if (launch)
        say(r, DD_VERDICT_WITHIN, "launch works",
            "The stern lifts at %.1f s and the boat is afloat at %.1f s, within the limits given; %s.", lifts, afloat, tail);
    else
        say(r, DD_VERDICT_WITHIN, "retrieve works", "A clean capture within the limits given, bow at its stop at %.1f s; %s.",
            dd_watcher_first(w, "at the stop"), tail);
}

dd_status dd_verdict_of(dd_run *run, const dd_extremes *e, const dd_watcher *watcher, const dd_error *failure,
                        dd_recorder *recorder)
{
    dd_result *r = dd_recorder_result(recorder);
    dd_margins_of_loads(run->m, e, recorder);
    dd_margins_of_ramp(run, e, recorder);
    if (run->m->scenario.action == DD_ACTION_RETRIEVE) dd_margins_of_capture(run, e, recorder);
    dd_assumptions(run->m, recorder);
    dd_figures_of(run, e, watcher, recorder);
    if (failure->status != DD_OK) {
        r->failure = *failure;
        say(r, DD_VERDICT_INCOMPLETE, "could not be computed", "The computation stopped at %.2f s: %s.",
            e->last.v[DD_SEEN_TIME], failure->message);
    } else if (failed_by_event(r, watcher)) {
        return DD_OK;
    } else if (failed_by_people(r, run) || failed_by_time(r, run, e) || failed_by_outcome(r, run, e, watcher)) {
        add_why(r, run, e, watcher);
    } else {
        works(r, run, e, watcher);
    }
    return DD_OK;
}
