/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `settle`: every load, trim and depth as the rig goes down the ramp in still water, with the band that friction leaves open. */
#include "lib/base/error.h"
#include "lib/force/bow_stop.h"
#include "lib/force/line.h"
#include "lib/ode/ode.h"
#include "lib/study/asides.h"
#include "lib/study/picture.h"
#include "lib/study/settle.h"
#include "lib/study/verdict.h"
#include <drawdock/study.h>
#include <stdio.h>
#include <string.h>

/* What the band is given for. */
static const int banded[] = {DD_SEEN_STRAP_TENSION, DD_SEEN_REAR_LOAD, DD_SEEN_STOP_LOAD, DD_SEEN_COUPLING_LOAD, DD_SEEN_TRIM};
enum { BANDED = sizeof banded / sizeof banded[0], MOST_ROWS = 4000 };
/* Between rows, by the hub's depth, m: as close as the curves bend. */
static const double least_step = 0.01, most_step = 0.06;
static const double bend = 0.002;    /* what straight lines between rows may miss, of the weight; of a degree per degree of trim 25 */
static const double goes_on = 0.15;  /* after the boat floats, by the hub's depth, m */
static const double depths_apart = 0.1; /* where it is wound home, m */

enum { DRIVE, FRICTION, AFT, FORWARD, PULL, PULL_SHORT, HANDLE, GAP, ASIDES };
static const struct {
    const char *name, *unit, *help;
} asides[ASIDES] = {
    [DRIVE] = {"unhooked_drive_N", "N", "weight less water along the keel, seaward, on a boat that no strap holds"},
    [FRICTION] = {"unhooked_friction_N", "N", "what the supports' friction can hold along the keel"},
    [AFT] = {"unhooked_moves_aft_m_per_s2", "m/s2", "braking on the way down, or starting up, that moves the unhooked boat aft; 0: it runs"},
    [FORWARD] = {"unhooked_moves_forward_m_per_s2", "m/s2", "braking on the way up that moves it forward"},
    [PULL] = {"winding_pull_N", "N", "greatest pull of the strap while the boat is wound home here"},
    [PULL_SHORT] = {"winding_pull_short_of_stop_m", "m", "how far the stem is short of the bow stop then"},
    [HANDLE] = {"winding_handle_N", "N", "force at the winch's handle then"},
    [GAP] = {"gap_after_pull_out_m", "m", "at the bow stop on level ground, wound home here"},
};

/* What is watched for between rows. */
enum { STERN_LIFTS, AFLOAT, WHEELS_OFF, CROSSINGS };
static const char *const crossing_names[CROSSINGS] = {"stern lifts", "afloat", "trailer floats off its wheels"};
static const double unloaded = 0.02; /* of what the trailer's wheels carry at the first row */

typedef struct study {
    dd_study_model *m;
    dd_recorder *recorder;
    dd_settle branch[DD_FRICTION_STATES];
    int alive[DD_FRICTION_STATES];
    double weight, slope, step, x, first_x; /* step: to the next row, by the hub's depth */
    double before[CROSSINGS]; /* event values at the last row */
    bool tied;                /* the transom ties stay on */
    double first_axle_load, least_axle_load, least_axle_depth; /* of the trailer's wheels, N; hub's depth, m */
    double last[BANDED], last_x, slopes[BANDED]; /* of the banded at the last row, and towards it */
    int rows;
    double lean;      /* of the branch without friction at the last row */
    const char *ends; /* what ends the branch, NULL: nothing did */
    double end_depth; /* of the hub, m */
    double next_depth; /* where it is wound home next */
    double aside[ASIDES];
    bool swung;
    double crossed_at[CROSSINGS]; /* rig x, NaN: not yet */
    dd_seen crossed[CROSSINGS];
} study;

static dd_status add_columns(const study *s)
{
    dd_status status = dd_seen_columns(s->m, s->recorder);
    for (int i = 0; i < BANDED && status == DD_OK; i++)
        for (int high = 0; high < 2 && status == DD_OK; high++) {
            char name[96];
            snprintf(name, sizeof name, "%s %s", high ? "highest" : "lowest", dd_seen_name(banded[i]));
            status = dd_recorder_column(s->recorder, name, dd_seen_unit(banded[i]), "over the ways that friction may hold");
        }
    for (int i = 0; i < ASIDES && status == DD_OK; i++) {
        status = dd_recorder_column(s->recorder, asides[i].name, asides[i].unit, asides[i].help);
        dd_recorder_optional(s->recorder);
    }
    return status;
}

static void read_branch(study *s, dd_seen *seen)
{
    dd_seen_read(s->m, 1, seen);
    seen->v[DD_SEEN_TIME] = NAN; /* statics know no time */
    seen->v[DD_SEEN_STEP] = NAN;
    seen->v[DD_SEEN_FRICTION_NEEDED] = NAN;
}

static void add_figure(study *s, const char *group, const char *name, double value, const char *unit, const char *words)
{
    dd_figure figure = {.value = value};
    snprintf(figure.group, sizeof figure.group, "%s", group);
    snprintf(figure.name, sizeof figure.name, "%s", name);
    snprintf(figure.unit, sizeof figure.unit, "%s", unit);
    snprintf(figure.words, sizeof figure.words, "%s", words);
    (void)dd_recorder_figure(s->recorder, &figure); /* the recorder keeps its first failure */
}

/* The other ways that friction may hold: each branch goes on from its own place. */
static dd_status add_band(study *s, const dd_pose *before, double low[BANDED], double high[BANDED], dd_error *error)
{
    for (int state = DD_FRICTION_NONE + 1; state < DD_FRICTION_STATES; state++) {
        dd_seen seen;
        dd_error why;
        if (!s->alive[state]) continue;
        dd_status status = dd_settle_beside(&s->branch[state], s->x, before, &s->branch[DD_FRICTION_NONE].at.pose, &why);
        /* A branch that ends says nothing more; the frictionless one carries the study. */
        s->alive[state] = status == DD_OK;
        if (status == DD_ERROR_NO_EQUILIBRIUM) continue;
        if (status != DD_OK) {
            *error = why;
            return status;
        }
        dd_seen_read(s->m, 0, &seen);
        for (int i = 0; i < BANDED; i++) {
            low[i] = fmin(low[i], seen.v[banded[i]]);
            high[i] = fmax(high[i], seen.v[banded[i]]);
        }
    }
    return DD_OK;
}

static dd_status tell_event_at(study *s, double x, double hub_depth, const char *name, double value, const char *unit, const char *detail, int *index)
{
    dd_event event = {.time = NAN, .rig_x = x, .hub_depth = hub_depth, .value = value};
    snprintf(event.name, sizeof event.name, "%s", name);
    snprintf(event.value_unit, sizeof event.value_unit, "%s", unit);
    snprintf(event.detail, sizeof event.detail, "%.159s", detail);
    return dd_recorder_event(s->recorder, &event, index);
}
static void tell_event(study *s, const dd_seen *seen, const char *name, double value, const char *unit, const char *detail)
{
    (void)tell_event_at(s, s->x, seen->v[DD_SEEN_HUB_DEPTH], name, value, unit, detail, NULL);
}

/* Event and figures of what a boat that is not held by its strap would do at the first row. */
static void tell_unhooked(study *s, const dd_seen *seen)
{
    char detail[160];
    const bool runs = s->aside[FRICTION] <= s->aside[DRIVE];
    const char *name = runs ? "runs if unhooked" : "holds if unhooked";
    if (runs)
        snprintf(detail, sizeof detail, "%.0f N drive it aft, friction holds %.0f N", s->aside[DRIVE], s->aside[FRICTION]);
    else
        snprintf(detail, sizeof detail, "braking of %.1f m/s2 moves it aft, of %.1f m/s2 on the way up forward", s->aside[AFT], s->aside[FORWARD]);
    tell_event(s, seen, name, s->aside[AFT], "m/s2", detail);
    add_figure(s, "unhooked", name, s->aside[AFT], "m/s2", detail);
}

static dd_status add_unhooked(study *s, const dd_seen *seen, dd_error *error)
{
    dd_unhooked u;
    dd_error why;
    if (s->tied || !(seen->v[DD_SEEN_SUPPORT_LOAD] > s->m->scenario.limits.afloat_share * s->weight)) return DD_OK;
    dd_status status = dd_unhook(&s->branch[DD_FRICTION_NONE], &u, &why);
    if (status == DD_ERROR_NO_EQUILIBRIUM) return DD_OK; /* it tips, held lengthwise or not: nothing to say */
    if (status != DD_OK) {
        *error = why;
        return status;
    }
    s->aside[DRIVE] = u.drive;
    s->aside[FRICTION] = u.friction;
    s->aside[AFT] = u.aft;
    s->aside[FORWARD] = u.forward;
    if (s->rows == 0) tell_unhooked(s, seen);
    return DD_OK;
}

static void tell_winding(study *s, const dd_seen *seen, const dd_winding *w)
{
    char group[32], name[64], words[240];
    snprintf(group, sizeof group, "wound home at hub %.2f m", seen->v[DD_SEEN_HUB_DEPTH]);
    for (int i = w->count - 1; i >= 0; i--) {
        const dd_winding_step *step = &w->step[i];
        snprintf(name, sizeof name, "pull %.2f m short of the stop", step->short_of_stop);
        char handle[32] = "wound by a motor";
        if (!isnan(step->handle)) snprintf(handle, sizeof handle, "handle %.0f N", step->handle);
        snprintf(words, sizeof words, "strap %.0f deg, eye above the drum; %s; trailer carries %.0f N", step->angle, handle, step->carried);
        add_figure(s, group, name, step->pull, "N", words);
    }
    snprintf(words, sizeof words, "%.2f m short of the stop; %s%.160s", w->greatest_short,
             w->ends[0] ? "further out it is not held: " : "from the rearmost support on", w->ends);
    add_figure(s, group, "greatest pull", w->greatest, "N", words);
    add_figure(s, group, "gap at the bow stop after pull-out", w->gap_after, "m",
               isnan(w->gap_after) ? "the boat does not lie still all the way to level ground" : "on level ground, the strap as wound here");
    add_figure(s, group, "least clearance of the transom", w->least_transom, "m", "over the ground, between there and home");
    add_figure(s, group, "least clearance of the skeg", w->least_skeg, "m", "over the ground, were the engine down");
}

/* A retrieve at depths a step apart; a launch where the rig is to stop. */
static dd_status add_winding(study *s, const dd_seen *seen, dd_error *error)
{
    dd_winding w = {0};
    dd_error why;
    if (s->tied || !(seen->v[DD_SEEN_HUB_DEPTH] >= s->next_depth - 1e-9)) return DD_OK;
    s->next_depth = s->m->scenario.action == DD_ACTION_RETRIEVE ? s->next_depth + depths_apart : INFINITY;
    dd_status status = dd_wind_here(&s->branch[DD_FRICTION_NONE], s->first_x - DD_STUDY_APPROACH, &w, &why);
    if (status == DD_ERROR_NO_EQUILIBRIUM) return DD_OK; /* it cannot be wound home here */
    if (status != DD_OK) {
        *error = why;
        return status;
    }
    s->aside[PULL] = w.greatest;
    s->aside[PULL_SHORT] = w.greatest_short;
    s->aside[HANDLE] = w.greatest_handle;
    s->aside[GAP] = w.gap_after;
    tell_winding(s, seen, &w);
    return DD_OK;
}

/* The next row comes sooner where the curves bend: straight lines between rows miss e h / 4 (h + h before). */
static void choose_step(study *s, const dd_seen *seen)
{
    double worst = 0;
    const double by = s->x - s->last_x;
    for (int i = 0; i < BANDED; i++) {
        const double size = banded[i] == DD_SEEN_TRIM ? 25 : s->weight, now = seen->v[banded[i]];
        const double slope = s->rows > 0 ? (now - s->last[i]) / by : NAN;
        if (s->rows > 1) worst = fmax(worst, fabs(slope - s->slopes[i]) * by / 8 / size);
        s->slopes[i] = slope;
        s->last[i] = now;
    }
    s->last_x = s->x;
    s->rows++;
    if (s->rows > 2) s->step *= fmax(0.3, fmin(2.0, 0.9 * sqrt(bend / fmax(worst, 1e-9))));
    s->step = fmax(least_step, fmin(most_step, s->step));
}

/* It fell over to a skid or the water beside it: with friction it goes along. */
static void tell_lean(study *s, const dd_seen *seen)
{
    s->lean = s->branch[DD_FRICTION_NONE].lean;
    for (int i = DD_FRICTION_NONE + 1; i < DD_FRICTION_STATES; i++) dd_settle_copy(&s->branch[DD_FRICTION_NONE], &s->branch[i]);
    tell_event(s, seen, "leans over", seen->v[DD_SEEN_HEEL], "deg",
               "nothing holds it upright; at this heel, port side down positive, something takes it up");
}

/* One row: the frictionless equilibrium, the band over the other friction states, and what is asked beside. */
static dd_status add_row(study *s, dd_seen *middle, dd_error *error)
{
    double row[DD_SEEN_COUNT + DD_SUPPORTS + 2 * BANDED + ASIDES], low[BANDED], high[BANDED];
    const dd_pose before = s->branch[DD_FRICTION_NONE].at.pose;
    dd_status status = dd_settle_to(&s->branch[DD_FRICTION_NONE], s->x, error);
    if (status != DD_OK) return status;
    read_branch(s, middle);
    if (s->branch[DD_FRICTION_NONE].lean != s->lean) tell_lean(s, middle);
    if (s->branch[DD_FRICTION_NONE].swings && !s->swung)
        tell_event(s, middle, "stern swings free", middle->v[DD_SEEN_STRAP_TENSION], "N",
                   "afloat there, and strap and stop turn it aside: a line on the stern keeps it straight");
    s->swung |= s->branch[DD_FRICTION_NONE].swings;
    for (int i = 0; i < BANDED; i++) low[i] = high[i] = middle->v[banded[i]];
    for (int i = 0; i < ASIDES; i++) s->aside[i] = NAN;
    status = add_band(s, &before, low, high, error);
    if (status == DD_OK) status = add_unhooked(s, middle, error);
    if (status == DD_OK) status = add_winding(s, middle, error);
    if (status != DD_OK) return status;
    const int supports = s->m->rig->trailer.support_count;
    double *at = row + DD_SEEN_COUNT + supports;
    memcpy(row, middle->v, sizeof middle->v);
    memcpy(row + DD_SEEN_COUNT, middle->support, (size_t)supports * sizeof(double));
    for (int i = 0; i < BANDED; i++) at[2 * i] = low[i], at[2 * i + 1] = high[i];
    memcpy(at + 2 * BANDED, s->aside, sizeof s->aside);
    choose_step(s, middle);
    return dd_recorder_row(s->recorder, row);
}

typedef struct crossing {
    study *s;
    dd_settle branch; /* of its own: the study's stays at its row */
    int which;
    dd_seen seen;
    dd_status status;
    dd_error why;
} crossing;

static double event_value(const study *s, int which, const dd_seen *seen)
{
    const dd_limits *limits = &s->m->scenario.limits;
    const double *v = seen->v;
    if (which == WHEELS_OFF) return v[DD_SEEN_AXLE_LOAD] - unloaded * s->first_axle_load;
    if (which == STERN_LIFTS) return v[DD_SEEN_REAR_LOAD] - limits->stern_lift_share * s->weight;
    return dd_seen_still_carried(seen, s->weight) - limits->afloat_share * s->weight;
}

static double at_x(double x, void *context)
{
    crossing *c = context;
    c->status = dd_settle_to(&c->branch, x, &c->why);
    if (c->status != DD_OK) return NAN;
    read_branch(c->s, &c->seen);
    return event_value(c->s, c->which, &c->seen);
}

/* How deep and how far out that is, for vehicle, trailer and slab. */
static void tell_crossing(study *s, const char *name, const dd_seen *seen)
{
    static const struct {
        int seen;
        const char *name, *words;
    } told[] = {{DD_SEEN_HUB_DEPTH, "water over the hub", "the trailer's rearmost"},
                {DD_SEEN_RIG_X, "vehicle's rear axle beyond the crest", "seaward"},
                {DD_SEEN_VEHICLE_WHEEL_DEPTH, "water at the vehicle's rear wheels", "over the ground; negative: dry"},
                {DD_SEEN_EXHAUST_DEPTH, "water over the exhaust", "negative: above water"},
                {DD_SEEN_TOE_DISTANCE, "trailer's wheels to the end of the slab", "negative: past it"},
                {DD_SEEN_COUPLING_LOAD, "load of the coupling", "downward"},
                {DD_SEEN_AXLE_LOAD, "load of the trailer's wheels", "sum of all"},
                {DD_SEEN_TYRE_LIFT, "lift of the tyres", "vehicle's and trailer's"},
                {DD_SEEN_TIES, "tension of the transom ties", "sum of both"},
                {DD_SEEN_TRANSOM_CLEARANCE, "clearance of the transom", "over the ground"},
                {DD_SEEN_SKEG_CLEARANCE, "clearance of the skeg", "over the ground, were the engine down"}};
    for (size_t i = 0; i < sizeof told / sizeof told[0]; i++)
        if (!isnan(seen->v[told[i].seen])) add_figure(s, name, told[i].name, seen->v[told[i].seen], dd_seen_unit(told[i].seen), told[i].words);
    const dd_ramp_point ground = dd_ramp_at(s->m->ramp, seen->v[DD_SEEN_RIG_X]);
    add_figure(s, name, "vehicle's rear axle to the water's edge", seen->v[DD_SEEN_VEHICLE_WHEEL_DEPTH] / fmin(-0.01, ground.slope) *
               sqrt(1 + ground.slope * ground.slope), "m", "along the ramp, by its slope there; negative: beyond the edge");
}

static dd_status find_crossing(study *s, int which, double from, double now, dd_error *error)
{
    crossing c = {.s = s, .which = which};
    double root = s->x;
    dd_status status = dd_settle_branch(&s->branch[DD_FRICTION_NONE], DD_FRICTION_NONE, &c.branch, error);
    if (status != DD_OK) return status;
    c.branch.pose_alone = true; /* while it is looked for */
    status = dd_ode_locate(at_x, &c, from, s->last_x, s->before[which], now, 1e-7, &root, error);
    c.branch.pose_alone = false;
    if (status == DD_OK) (void)at_x(root, &c);
    dd_settle_end(&c.branch);
    if (c.status != DD_OK) *error = c.why;
    if (c.status != DD_OK || status != DD_OK) return c.status != DD_OK ? c.status : status;
    const double *v = c.seen.v;
    char detail[160];
    int index = -1;
    if (which == WHEELS_OFF)
        snprintf(detail, sizeof detail, "hub %.3f m under water; wheels %.0f N, tyres lift %.0f N, coupling %.0f N%s", v[DD_SEEN_HUB_DEPTH],
                 v[DD_SEEN_AXLE_LOAD], fmax(0.0, v[DD_SEEN_TYRE_LIFT]), v[DD_SEEN_COUPLING_LOAD], s->tied ? ", ties on" : "");
    else
        snprintf(detail, sizeof detail, "hub %.3f m and rear support %.3f m under water, strap %.0f N", v[DD_SEEN_HUB_DEPTH],
                 v[DD_SEEN_REAR_SUPPORT_DEPTH], v[DD_SEEN_STRAP_TENSION]);
    s->crossed[which] = c.seen;
    s->crossed_at[which] = root;
    tell_crossing(s, crossing_names[which], &c.seen);
    status = tell_event_at(s, root, v[DD_SEEN_HUB_DEPTH], crossing_names[which], event_value(s, which, &c.seen), "N", detail, &index);
    return status == DD_OK ? dd_picture_draw(s->m, &s->m->workspace->kinematics, 1, index, s->recorder) : status;
}

/* That the branch ends where the boat already floats is no fall: strap and stop hold it no further, mostly because the bow floats up
   over its stop. No curve goes on from there either. */
static void tell_end(study *s, const dd_error *failure)
{
    const dd_motion rest = {{0}, {0}};
    const dd_pose *pose = &s->branch[DD_FRICTION_NONE].at.pose;
    dd_kinematics k;
    dd_kinematics_of(&s->m->model, 0, pose, &rest, &k);
    const dd_at_stop at = dd_bow_stop_touch(&s->m->model, pose);
    const int afloat = !isnan(s->crossed_at[AFLOAT]), over = dd_bow_stop_passed(&at) > 0;
    s->end_depth = dd_study_hub_depth(s->m, &k);
    s->ends = !afloat ? "falls here" : over ? "bow floats over its stop" : "nothing holds it further";
    (void)tell_event_at(s, pose->rig[DD_RIG_X], s->end_depth, s->ends, NAN, "",
                        afloat && over ? "afloat, the keel over the stop's upper edge: the boat goes over it" : failure->message, NULL);
}

/* Before the events of a row: they are told by the first. */
static void note_wheels(study *s, const dd_seen *seen)
{
    const double load = seen->v[DD_SEEN_AXLE_LOAD];
    if (isnan(s->first_axle_load)) s->first_axle_load = load;
    if (s->least_axle_load <= load) return;
    s->least_axle_load = load;
    s->least_axle_depth = seen->v[DD_SEEN_HUB_DEPTH];
}

static dd_status walk_down(study *s, dd_extremes *extremes, dd_progress progress, void *context, dd_error *error)
{
    dd_seen seen;
    dd_status status = DD_OK;
    double end = INFINITY;
    for (int i = 0; i < MOST_ROWS && status == DD_OK && s->x < end; i++) {
        const double from = s->last_x;
        if (progress != NULL && progress((double)i / MOST_ROWS, 0, context) != 0)
            return dd_fail(error, DD_ERROR_CANCELLED, "settle", "cancelled at rig x %.2f m", s->x);
        status = add_row(s, &seen, error);
        if (status == DD_ERROR_NO_EQUILIBRIUM) tell_end(s, error);
        if (status != DD_OK) break;
        dd_extremes_add(extremes, &seen);
        note_wheels(s, &seen);
        for (int which = 0; which < CROSSINGS && status == DD_OK; which++) {
            double now = event_value(s, which, &seen);
            if (i > 0 && s->before[which] > 0 && now <= 0 && isnan(s->crossed_at[which])) status = find_crossing(s, which, from, now, error);
            s->before[which] = now;
        }
        const int last = s->tied ? WHEELS_OFF : AFLOAT; /* a boat tied down never floats off */
        if (!isnan(s->crossed_at[last])) end = fmin(end, s->crossed_at[last] + goes_on / s->slope);
        s->x += s->step / s->slope;
    }
    return status;
}

/* P232: when the trailer's own wheels unload. */
static void tell_wheels(study *s)
{
    char words[120];
    snprintf(words, sizeof words, "%.0f N at the first row; least with the hub %.2f m under water%s", s->first_axle_load, s->least_axle_depth,
             isnan(s->crossed_at[WHEELS_OFF]) ? "" : ": it floats off them");
    add_figure(s, "trailer's wheels", "least load", s->least_axle_load, "N", words);
}

/* What the scenario has that a boat at rest in still water does not feel. */
static void tell_left_out(study *s, const dd_water *w)
{
    const struct {
        bool there;
        const char *what;
    } left[] = {{w->current != 0, "current"}, {w->rise != 0 || w->level_count > 0 || w->tide.kind >= 0, "rise or fall of the level"},
                {w->surge.height > 0, "surge"}, {w->wave.height > 0, "waves"}, {w->wind.speed > 0, "wind"}};
    char all[120] = "";
    for (size_t i = 0; i < sizeof left / sizeof left[0]; i++)
        if (left[i].there) snprintf(all + strlen(all), sizeof all - strlen(all), "%s%s", all[0] != '\0' ? ", " : "", left[i].what);
    if (all[0] != '\0')
        (void)dd_recorder_assumed(s->recorder, "still water at the level of time 0: left out here are the scenario's %s", all);
}

static void conclude_tied(const study *s, dd_result *r)
{
    r->verdict = DD_VERDICT_FAILED;
    snprintf(r->word, sizeof r->word, "lifted");
    snprintf(r->sentence, sizeof r->sentence,
             "The transom ties are on: the boat lifts the trailer off its wheels with the hub %.2f m under water; take the ties off before "
             "the rig goes down.", s->crossed[WHEELS_OFF].v[DD_SEEN_HUB_DEPTH]);
}

static void conclude_afloat(const study *s, const dd_extremes *extremes, dd_result *r)
{
    bool broken = false;
    for (int i = 0; i < r->margin_count; i++) broken |= r->margins[i].broken != 0;
    r->verdict = broken ? DD_VERDICT_BROKEN : DD_VERDICT_WITHIN;
    char lifts[80] = "The rearmost support carries next to nothing from the start and";
    const bool stern = !isnan(s->crossed_at[STERN_LIFTS]);
    if (stern)
        snprintf(lifts, sizeof lifts, "The stern lifts with the hub %.2f m under water and", s->crossed[STERN_LIFTS].v[DD_SEEN_HUB_DEPTH]);
    snprintf(r->word, sizeof r->word, "floats off");
    snprintf(r->sentence, sizeof r->sentence,
             "%s the boat is afloat%s at %.2f m; the strap holds at most "
             "%.0f N, the coupling carries up to %.0f N.",
             lifts, stern ? "" : " with the hub", s->crossed[AFLOAT].v[DD_SEEN_HUB_DEPTH], extremes->most.v[DD_SEEN_STRAP_TENSION],
             extremes->most.v[DD_SEEN_COUPLING_LOAD]);
    const size_t said = strlen(r->sentence);
    if (s->ends != NULL) snprintf(r->sentence + said, sizeof r->sentence - said, " At %.2f m: %s.", s->end_depth, s->ends);
}

static void conclude(study *s, const dd_extremes *extremes, const dd_water *water, const dd_error *failure)
{
    dd_result *r = dd_recorder_result(s->recorder);
    const bool answered = failure->status == DD_OK || failure->status == DD_ERROR_NO_EQUILIBRIUM;
    if (extremes->any) dd_margins_of_loads(s->m, extremes, s->recorder);
    if (extremes->any) tell_wheels(s);
    dd_assumptions(s->m, s->recorder);
    (void)dd_recorder_unchecked(
        s->recorder,
        "wading depth, exhaust, end of the slab: the rig goes down here until the boat floats; its depths are in the curve");
    if (s->tied)
        (void)dd_recorder_unchecked(s->recorder, "the boat unhooked and the winch home: the transom ties stay on");
    (void)dd_recorder_assumed(s->recorder, "nothing moves: loads are those of rest, with the band that friction leaves open");
    tell_left_out(s, water);
    if (answered && s->tied && !isnan(s->crossed_at[WHEELS_OFF])) {
        conclude_tied(s, r);
        return;
    }
    if (answered && !s->tied && !isnan(s->crossed_at[AFLOAT])) {
        conclude_afloat(s, extremes, r);
        return;
    }
    r->verdict = answered ? DD_VERDICT_FAILED : DD_VERDICT_INCOMPLETE;
    snprintf(r->word, sizeof r->word, "%s",
             failure->status == DD_ERROR_NO_EQUILIBRIUM ? "falls"
             : failure->status == DD_OK                 ? "not afloat"
                                                        : "could not be computed");
    snprintf(r->sentence, sizeof r->sentence, "%.390s.",
             failure->status != DD_OK ? failure->message : "The boat does not float off within this ramp");
    r->failure = *failure;
}

static int only_keel_rollers(const dd_rig *rig)
{
    int others = 0;
    for (int i = 0; i < rig->roller_count; i++) others += !rig->rollers[i].keel;
    return others == 0;
}

/* Where it is wound home first: a retrieve as soon as the hub is wet, a launch at the depth that its first step goes to. */
static double first_depth(const dd_study_model *m)
{
    if (m->scenario.action == DD_ACTION_RETRIEVE) return fmax(0.0, m->scenario.start.hub_depth);
    const double wanted = m->scenario.step_count > 0 ? m->scenario.steps[0].until.hub_depth : NAN;
    return isnan(wanted) ? INFINITY : wanted;
}

/* Ties and chain that are on at the start are made fast there, and the boat is brought to rest with them. */
static dd_status fasten(study *s, dd_error *error)
{
    const dd_start *start = &s->m->scenario.start;
    dd_commands *set = &s->m->workspace->plan.set;
    const struct {
        const dd_force_kind *kind;
        int on, *set;
    } lines[] = {{&dd_force_ties, start->ties == DD_START_ON, &set->ties_hooked}, {&dd_force_chain, start->chain == DD_START_ON, &set->chain_hooked}};
    dd_settle *home = &s->branch[DD_FRICTION_NONE];
    bool any = false;
    for (int i = 0; i < 2; i++) {
        const dd_system_force *force = dd_system_find(s->m->system, lines[i].kind);
        if (force == NULL || !lines[i].on) continue;
        dd_lines_fasten(force->instance, &s->m->workspace->kinematics, home->memory + force->memory_first);
        *lines[i].set = 1;
        any = true;
    }
    s->tied = set->ties_hooked;
    return any ? dd_settle_to(home, home->at.pose.rig[DD_RIG_X], error) : DD_OK;
}

static dd_status begin(study *s, dd_error *error)
{
    dd_study_model *m = s->m;
    double first = 0;
    dd_status status = dd_study_position(m, m->scenario.start.hub_depth, &first, error);
    if (status == DD_OK && (status = add_columns(s)) != DD_OK)
        return dd_fail(error, status, "settle", "%s", dd_status_text(status));
    if (status != DD_OK) return status;
    dd_error why;
    status = dd_settle_begin(m, DD_FRICTION_NONE, first, first - DD_STUDY_APPROACH, &s->branch[DD_FRICTION_NONE], &why);
    if (status == DD_ERROR_NO_EQUILIBRIUM)
        return dd_fail(error, status, "settle", "Without friction the boat does not lie still at home: %.200s%s", why.message,
                       only_keel_rollers(m->rig) ? "; only keel rollers stand under it, and nothing holds it upright" : "");
    if (status == DD_OK) status = fasten(s, &why);
    if (status != DD_OK) {
        if (error != NULL) *error = why;
        return status;
    }
    s->alive[DD_FRICTION_NONE] = 1;
    for (int state = DD_FRICTION_NONE + 1; state < DD_FRICTION_STATES && status == DD_OK; state++) {
        status = dd_settle_branch(&s->branch[DD_FRICTION_NONE], (dd_friction_state)state, &s->branch[state], error);
        s->alive[state] = status == DD_OK;
    }
    s->x = s->first_x = s->last_x = first;
    s->slope = fmax(0.02, -dd_ramp_at(m->ramp, first + 6).slope);
    s->step = least_step;
    s->next_depth = first_depth(m);
    return status;
}

dd_status dd_study_settle(const dd_case *scenario, dd_progress progress, void *context, dd_result **result, dd_error *error)
{
    study s = {.crossed_at = {NAN, NAN, NAN}, .first_axle_load = NAN, .least_axle_load = INFINITY};
    dd_extremes extremes = {0};
    dd_error failure = {.status = DD_OK};
    *result = NULL;
    dd_case still = *scenario;
    dd_study_make_still(&still, NULL, false);
    dd_status status = dd_study_model_create(&still, &s.m, error);
    if (status != DD_OK) return status;
    s.weight = dd_hull_mass(s.m->hull)->mass * s.m->model.gravity;
    s.recorder = dd_recorder_create(scenario->title, "settle");
    status = s.recorder != NULL ? begin(&s, &failure) : dd_fail(&failure, DD_ERROR_MEMORY, "dd_study_settle", "no memory for the record");
    if (status == DD_OK || status == DD_ERROR_NO_EQUILIBRIUM) {
        if (status == DD_OK) status = walk_down(&s, &extremes, progress, context, &failure);
        if (status != DD_OK && failure.status == DD_OK) /* the record's own failures come without words */
            (void)dd_fail(&failure, status, "settle", "%s", dd_status_text(status));
        conclude(&s, &extremes, &scenario->water, &failure);
        dd_status finished = dd_recorder_finish(s.recorder, result, error);
        s.recorder = NULL;
        if (status == DD_OK || status == DD_ERROR_NO_EQUILIBRIUM)
            status = finished; /* that the boat falls is an answer */
        else if (status != DD_OK && error != NULL)
            *error = failure;
    } else if (error != NULL) {
        *error = failure;
    }
    dd_recorder_free(s.recorder);
    for (int state = 0; state < DD_FRICTION_STATES; state++) dd_settle_end(&s.branch[state]);
    dd_study_model_free(s.m);
    return status;
}
