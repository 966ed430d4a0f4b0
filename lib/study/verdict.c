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
        e->grip_use = needed / low, e->grip_needed = needed, e->grip_low = low, e->grip_time = t;
    if (!e->any) e->first = *seen;
    e->last = *seen;
    e->any = 1;
}

typedef struct check {
    const char *name, *unit, *source, *missing;
    double value, limit, time;
    int at_least; /* the value must stay above the limit */
    const char *channel;
} check;

static void add_check(dd_recorder *recorder, const check *c)
{
    if (isnan(c->limit) || isnan(c->value)) {
        (void)dd_recorder_unchecked(recorder, "%s: %s", c->name, c->missing);
        return;
    }
    dd_margin margin = {.value = c->value, .limit = c->limit, .time = c->time};
    snprintf(margin.name, sizeof margin.name, "%s", c->name);
    snprintf(margin.unit, sizeof margin.unit, "%s", c->unit);
    snprintf(margin.source, sizeof margin.source, "%s", c->source);
    snprintf(margin.channel, sizeof margin.channel, "%s", c->channel);
    margin.broken = c->at_least ? c->value < c->limit : c->value > c->limit;
    if (c->at_least)
        margin.share = c->value > 0 && c->limit > 0 ? c->limit / c->value : (margin.broken ? 2.0 : 0.0);
    else
        margin.share = c->limit > 0 ? c->value / c->limit : (margin.broken ? 2.0 : 0.0);
    margin.share = fmax(0.0, margin.share);
    (void)dd_recorder_margin(recorder, &margin); /* the recorder keeps its first failure and dd_recorder_finish returns it */
}

void dd_margins_of_loads(const dd_study_model *m, const dd_extremes *e, dd_recorder *recorder)
{
    const dd_trailer_parameters *t = &m->rig->trailer;
    const char *plate = "maker's plate";
#define MOST(id) .value = e->most.v[DD_SEEN_##id], .time = e->most_time[DD_SEEN_##id]
    const check checks[] = {
        {"strap against its rating", "N", plate, "the strap's rating is not given", MOST(STRAP_TENSION),
         .limit = t->winch.strap_rating, .channel = "strap_tension_N"},
        {"winch against its rating", "N", plate, "the winch's rating is not given", MOST(STRAP_TENSION),
         .limit = t->winch.rating, .channel = "strap_tension_N"},
        {"hand force at the winch", "N", "crank guideline", "no hand force limit is given", MOST(HANDLE_FORCE),
         .limit = t->winch.hand_force_limit, .channel = "handle_force_N"},
        {"roller against its rating", "%", plate, "no roller's rated load is given",
         .value = e->most.v[DD_SEEN_ROLLER_USE] > 0 ? e->most.v[DD_SEEN_ROLLER_USE] : NAN,
         .time = e->most_time[DD_SEEN_ROLLER_USE], .limit = 100.0, .channel = "largest_roller_use_percent"},
        {"coupling load against its rating", "N", plate, "the coupling's rating is not given", MOST(COUPLING_LOAD),
         .limit = t->coupling_rating, .channel = "coupling_load_N"},
        {"push on the bow", "N", "push guideline", "", MOST(PUSH), .limit = m->scenario.limits.push_force,
         .channel = "push_force_N"},
    };
    for (size_t i = 0; i < sizeof checks / sizeof checks[0]; i++)
        if (checks[i].value > 0 || isnan(checks[i].value) || isnan(checks[i].limit)) add_check(recorder, &checks[i]);
    check lift = {"coupling load, not lifting",
                  "N",
                  "elementary mechanics",
                  "",
                  .value = e->least.v[DD_SEEN_COUPLING_LOAD],
                  .time = e->least_time[DD_SEEN_COUPLING_LOAD],
                  .limit = 0.0,
                  .at_least = 1,
                  .channel = ""};
    add_check(recorder, &lift);
}

static void check_ramp(const dd_run *run, const dd_extremes *e, dd_recorder *recorder)
{
    const dd_vehicle_parameters *v = &run->m->rig->vehicle;
    const dd_limits *limits = &run->m->scenario.limits;
    double toe = dd_ramp_toe(run->m->ramp);
#define LEAST(id) .value = e->least.v[DD_SEEN_##id], .time = e->least_time[DD_SEEN_##id], .at_least = 1
    const bool launch = run->m->scenario.action == DD_ACTION_LAUNCH;
    const check checks[] = {
        {launch ? "skeg clear once engine goes down" : "skeg clear until engine goes up", "m", "practice", "",
         .value = (launch ? e->last : e->first).v[DD_SEEN_SKEG_CLEARANCE],
         .time = (launch ? e->last : e->first).v[DD_SEEN_TIME], .limit = limits->skeg_clearance, .at_least = 1, .channel = ""},
        {"vehicle's wading depth", "m", "maker's plate", "the vehicle's wading depth is not given", MOST(VEHICLE_WHEEL_DEPTH),
         .limit = v->wading_depth, .channel = "vehicle_rear_wheel_depth_m"},
        {"water at the exhaust", "m", "maker's plate", "the exhaust's height is not given",
         .value = e->most.v[DD_SEEN_EXHAUST_DEPTH] + v->exhaust_height, .time = e->most_time[DD_SEEN_EXHAUST_DEPTH],
         .limit = v->exhaust_height, .channel = ""},
        {"wheels to the end of the slab", "m", "elementary mechanics", "the ramp has no end within its description",
         LEAST(TOE_DISTANCE), .limit = isfinite(toe) ? 0.0 : NAN, .channel = "toe_distance_m"},
        {"transom clear of the ground", "m", "practice", "", LEAST(TRANSOM_CLEARANCE), .limit = limits->clearance,
         .channel = "transom_clearance_m"},
        {"sheer above water", "m", "elementary mechanics", "", LEAST(FREEBOARD), .limit = 0.0, .channel = "sheer_freeboard_m"},
        {"friction under the wheels", "", "tyre friction", "friction of the surface is not known",
         .value = e->grip_use > 0 ? e->grip_needed : NAN, .time = e->grip_time,
         .limit = run->m->scenario.limits.grip_low * e->grip_low, .channel = "friction_needed"},
    };
    for (size_t i = 0; i < sizeof checks / sizeof checks[0]; i++) add_check(recorder, &checks[i]);
}

static void check_capture(const dd_run *run, const dd_extremes *e, dd_recorder *recorder)
{
    const dd_limits *limits = &run->m->scenario.limits;
    double offset = fmax(fabs(e->last.v[DD_SEEN_BOW_OFFSET]), fabs(e->last.v[DD_SEEN_STERN_OFFSET]));
    const check checks[] = {
        {"gap left at the bow stop", "m", "practice", "", .value = fmax(0.0, e->last.v[DD_SEEN_STOP_GAP]),
         .limit = limits->stop_gap, .time = e->last.v[DD_SEEN_TIME], .channel = "stop_gap_m"},
        {"offset left on the supports", "m", "practice", "", .value = offset, .limit = limits->offset,
         .time = e->last.v[DD_SEEN_TIME], .channel = ""},
    };
    for (size_t i = 0; i < sizeof checks / sizeof checks[0]; i++) add_check(recorder, &checks[i]);
}

static void assume(dd_recorder *recorder, const char *what, const dd_estimate *e, double factor, const char *unit)
{
    if (!e->given)
        (void)dd_recorder_assumed(recorder, "%s %.4g %s (estimate, %.4g to %.4g; %s)", what, factor * e->likely, unit,
                                  factor * e->low, factor * e->high, e->source);
}

void dd_assumptions(const dd_study_model *m, dd_recorder *recorder)
{
    dd_hull_estimates e;
    if (dd_hull_estimate(&m->scenario.boat, &e, NULL) == DD_OK) {
        assume(recorder, "total mass", &e.total_mass, 1, "kg");
        assume(recorder, "centre of mass from the transom", &e.centre_from_transom, 1, "m");
        assume(recorder, "centre of mass above the keel", &e.centre_height, 1, "m");
        assume(recorder, "chine beam", &e.chine_beam, 1, "m");
        assume(recorder, "deadrise amidships", &e.midships_deadrise, 57.29577951308232, "deg");
        assume(recorder, "keel rise at the bow", &e.keel_rise, 1, "m");
        assume(recorder, "sheer height amidships", &e.midships_sheer_height, 1, "m");
        assume(recorder, "bow eye from the transom", &e.bow_eye_from_transom, 1, "m");
        assume(recorder, "bow eye above the keel", &e.bow_eye_height, 1, "m");
    }
    (void)dd_recorder_assumed(recorder, "engine tilted up while the boat is on or over the trailer, bung in, transom ties off, "
                                        "nobody aboard but what is listed");
    (void)dd_recorder_assumed(recorder, "port and starboard wheels of the trailer share its load; the trailer does not roll");
    (void)dd_recorder_assumed(recorder, "still water with a steady current along the shore; no waves, no wind");
    (void)dd_recorder_unchecked(recorder, "masses and tyre, axle and tow ratings on the road");
}

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

/* Events that decide a verdict, whatever comes later. */
typedef struct cause {
    const char *event, *word, *reason;
    double moment; /* that the run still goes on to show what follows, s */
} cause;

static const cause causes[] = {
    {"wheel over the toe", "off the toe", "the trailer's wheels passed the end of the slab", 1.0},
    {"rig slides", "slid", "the rig slid with its brake on: the wheels lacked grip", 1.0},
    {"sheer under water", "swamped", "the water came over the sheer", 1.0},
    {"transom touches the ground", "dropped", "the stern came down on the ramp", 1.0},
    {"keel on the ground", "aground", "the keel came down on the ground", 0.0},
    {"falls over to port", "dropped", "the boat fell over to port", 0.0},
    {"falls over to starboard", "dropped", "the boat fell over to starboard", 0.0},
    {"adrift", "adrift", "the boat had drifted away from the trailer and nobody held it", 0.0},
    {"hull strikes a roller", "beside the roller", "the hull came onto a roller end-on, where no roller carries it", 0.0},
    {"landed outside", "off centre", "the boat came down beside the rollers", 1.0},
};
enum { CAUSES = sizeof causes / sizeof causes[0] };

/* A boat pushed off may drift: whoever launched it is aboard or holds its line. */
static int is_pushed_off(const dd_run *run)
{
    int last = -1;
    for (int i = 0; i < run->m->scenario.step_count; i++)
        if (run->m->scenario.steps[i].kind == DD_STEP_PUSH_OFF) last = i;
    return run->m->scenario.action == DD_ACTION_LAUNCH &&
           (run->procedure.step > last || run->procedure.state == DD_PROCEDURE_DONE);
}

static double time_of(const dd_run *run, const dd_watcher *w, const cause *one)
{
    return strcmp(one->event, "adrift") == 0 && is_pushed_off(run) ? NAN : dd_watcher_first(w, one->event);
}

double dd_verdict_decided(const dd_run *run, const dd_watcher *w)
{
    double from = NAN;
    for (int i = 0; i < CAUSES; i++)
        from = fmin(from, time_of(run, w, &causes[i]) + causes[i].moment); /* fmin passes over NaN */
    return from;
}

static int failed_by_event(dd_result *r, const dd_run *run, const dd_watcher *w)
{
    const cause *first = NULL;
    double when = INFINITY;
    for (int i = 0; i < CAUSES; i++) {
        double t = time_of(run, w, &causes[i]);
        if (t < when) first = &causes[i], when = t;
    }
    if (first == NULL) return 0;
    /* A loose boat that comes down behind a trailer has run off it. */
    if (strcmp(first->word, "dropped") == 0 && run->m->scenario.action == DD_ACTION_LAUNCH &&
        !run->m->workspace->plan.set.strap_hooked)
        say(r, DD_VERDICT_FAILED, "ran off", "At %.1f s %s: it had run off the supports with the strap let off.", when,
            first->reason);
    else
        say(r, DD_VERDICT_FAILED, first->word, "At %.1f s %s.", when, first->reason);
    return 1;
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
    if (last[DD_SEEN_WITHIN] < limits->stern_lift_share * run->weight)
        say(r, DD_VERDICT_FAILED, "not captured",
            "The boat does not lie in two supports at the end; its keel is %.0f mm off the centre line.", 1e3 * offset);
    else if (last[DD_SEEN_STOP_GAP] > limits->stop_gap)
        say(r, DD_VERDICT_FAILED, "short of the stop", "The bow rests %.0f mm short of its stop.",
            1e3 * last[DD_SEEN_STOP_GAP]);
    else if (offset > limits->offset)
        say(r, DD_VERDICT_FAILED, "off centre", "The boat rests %.0f mm off the trailer's centre line; %.0f mm is the limit.",
            1e3 * offset, 1e3 * limits->offset);
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

static void works(dd_result *r, const dd_run *run, const dd_watcher *w)
{
    const bool launch = run->m->scenario.action == DD_ACTION_LAUNCH;
    const dd_margin *worst = tightest(r);
    char tail[200] = "nothing was checked", value[48], limit[48];
    if (worst != NULL)
        snprintf(tail, sizeof tail, "tightest is %s: %s, limit %s", worst->name, figure(worst->value, worst->unit, value),
                 figure(worst->limit, worst->unit, limit));
    if (worst != NULL && worst->broken) {
        say(r, DD_VERDICT_BROKEN, "a limit is broken", "%s, but a limit is broken: %s at %.1f s is %s, the limit %s.",
            launch ? "The boat floats off" : "The boat comes home", worst->name, worst->time,
            figure(worst->value, worst->unit, value), figure(worst->limit, worst->unit, limit));
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
    check_ramp(run, e, recorder);
    if (run->m->scenario.action == DD_ACTION_RETRIEVE) check_capture(run, e, recorder);
    dd_assumptions(run->m, recorder);
    if (failure->status != DD_OK) {
        r->failure = *failure;
        say(r, DD_VERDICT_INCOMPLETE, "could not be computed", "The computation stopped at %.2f s: %s.",
            e->last.v[DD_SEEN_TIME], failure->message);
    } else if (!failed_by_event(r, run, watcher) && !failed_by_time(r, run, e) && !failed_by_outcome(r, run, e, watcher)) {
        works(r, run, watcher);
    }
    return DD_OK;
}
