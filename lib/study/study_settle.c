/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `settle`: every load, trim and depth as the rig goes down the ramp in still water, with the band that friction leaves open. */
#include "lib/base/error.h"
#include "lib/force/bow_stop.h"
#include "lib/force/line.h"
#include "lib/ode/ode.h"
#include "lib/study/picture.h"
#include "lib/study/settle_study.h"
#include <drawdock/study.h>
#include <stdio.h>
#include <string.h>

/* What the band is given for. */
static const int banded[BANDED] = {DD_SEEN_STRAP_TENSION, DD_SEEN_REAR_LOAD, DD_SEEN_STOP_LOAD, DD_SEEN_COUPLING_LOAD, DD_SEEN_TRIM};
enum { MOST_ROWS = 4000 };
/* Between rows, by the hub's depth, m: as close as the curves bend. */
static const double least_step = 0.01, most_step = 0.06;
static const double bend = 0.002;    /* what straight lines between rows may miss, of the weight; of a degree per degree of trim 25 */
static const double goes_on = 0.15;  /* after the boat floats, by the hub's depth, m */
static const double depths_apart = 0.1; /* where it is wound home, m */

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

static const char *const crossing_names[CROSSINGS] = {"stern lifts", "afloat", "trailer floats off its wheels"};
static const double unloaded = 0.02; /* of what the trailer's wheels carry at the first row */

static dd_status add_columns(const dd_settle_study *s)
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

static void read_branch(dd_settle_study *s, dd_seen *seen)
{
    dd_seen_read(s->m, 1, seen);
    seen->v[DD_SEEN_TIME] = NAN; /* statics know no time */
    seen->v[DD_SEEN_STEP] = NAN;
    seen->v[DD_SEEN_FRICTION_NEEDED] = NAN;
}

/* No support carries, and the branch lay where the one without friction did: it still does. */
static bool goes_along(const dd_settle_study *s, const dd_settle *branch, const dd_equilibrium *before, const dd_seen *middle)
{
    static const double with = 1e-7; /* m */
    return middle->v[DD_SEEN_SUPPORT_LOAD] == 0 && dd_pose_distance(&before->pose, &branch->at.pose, s->arm) < with;
}

static dd_status beside(dd_settle_study *s, dd_settle *branch, const dd_equilibrium *before, dd_error *error)
{
    const bool moves = branch->held == branch->state && s->x != before->pose.rig[DD_RIG_X];
    return moves ? dd_settle_along(branch, s->x, dd_settle_strap(branch), before, &s->branch[DD_FRICTION_NONE].at, NULL, error)
                 : dd_settle_to(branch, s->x, error);
}

/* The other ways that friction may hold: each branch goes on from its own place. */
static dd_status add_band(dd_settle_study *s, const dd_equilibrium *before, const dd_seen *middle, double low[BANDED], double high[BANDED], dd_error *error)
{
    for (int state = DD_FRICTION_NONE + 1; state < DD_FRICTION_STATES; state++) {
        dd_seen seen;
        dd_error why;
        if (!s->alive[state]) continue;
        if (goes_along(s, &s->branch[state], before, middle)) {
            dd_settle_copy(&s->branch[DD_FRICTION_NONE], &s->branch[state]);
            continue;
        }
        dd_status status = beside(s, &s->branch[state], before, &why);
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

static dd_status tell_event_at(dd_settle_study *s, double x, double hub_depth, const char *name, double value, const char *unit, const char *detail, int *index)
{
    dd_event event = {.time = NAN, .rig_x = x, .hub_depth = hub_depth, .value = value};
    snprintf(event.name, sizeof event.name, "%s", name);
    snprintf(event.value_unit, sizeof event.value_unit, "%s", unit);
    snprintf(event.detail, sizeof event.detail, "%.159s", detail);
    return dd_recorder_event(s->recorder, &event, index);
}
static void tell_event(dd_settle_study *s, const dd_seen *seen, const char *name, double value, const char *unit, const char *detail)
{
    (void)tell_event_at(s, s->x, seen->v[DD_SEEN_HUB_DEPTH], name, value, unit, detail, NULL);
}

/* Event and figures of what a boat that is not held by its strap would do at the first row. */
static void tell_unhooked(dd_settle_study *s, const dd_seen *seen)
{
    char detail[160];
    const bool runs = s->aside[FRICTION] <= s->aside[DRIVE];
    const char *name = runs ? "runs if unhooked" : "holds if unhooked";
    if (runs)
        snprintf(detail, sizeof detail, "%.0f N drive it aft, friction holds %.0f N", s->aside[DRIVE], s->aside[FRICTION]);
    else
        snprintf(detail, sizeof detail, "braking of %.1f m/s2 moves it aft, of %.1f m/s2 on the way up forward", s->aside[AFT], s->aside[FORWARD]);
    /* What runs needs no braking to move it: its figure is the force that nothing holds. */
    const double value = runs ? s->aside[DRIVE] - s->aside[FRICTION] : s->aside[AFT];
    const char *unit = runs ? "N" : "m/s2";
    tell_event(s, seen, name, value, unit, detail);
    dd_settle_figure(s, "unhooked", name, value, unit, detail);
}

static dd_status add_unhooked(dd_settle_study *s, const dd_seen *seen, dd_error *error)
{
    dd_unhooked u;
    dd_error why;
    const bool led = s->rows > 0 && s->unhooked.at.near.free != 0, held = s->alive[DD_FRICTION_LET_OUT] != 0;
    if (s->tied || !(seen->v[DD_SEEN_SUPPORT_LOAD] > s->m->scenario.limits.afloat_share * s->weight)) return DD_OK;
    dd_status status = dd_unhook(&s->branch[DD_FRICTION_NONE], held ? s->branch[DD_FRICTION_LET_OUT].memory : NULL, led ? &s->unhooked : NULL, &u, &why);
    s->unhooked = u;
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

static void tell_winding(dd_settle_study *s, const dd_seen *seen, const dd_winding *w)
{
    char group[32], name[64], words[240];
    snprintf(group, sizeof group, "wound home at hub %.2f m", seen->v[DD_SEEN_HUB_DEPTH]);
    for (int i = w->count - 1; i >= 0; i--) {
        const dd_winding_step *step = &w->step[i];
        snprintf(name, sizeof name, "pull %.2f m short of the stop", step->short_of_stop);
        char handle[32] = "wound by a motor";
        if (!isnan(step->handle)) snprintf(handle, sizeof handle, "handle %.0f N", step->handle);
        snprintf(words, sizeof words, "strap %.0f deg, eye above the drum; %s; trailer carries %.0f N", step->angle, handle, step->carried);
        dd_settle_figure(s, group, name, step->pull, "N", words);
    }
    snprintf(words, sizeof words, "%.2f m short of the stop; %s%.160s", w->greatest_short,
             w->ends[0] ? "further out it is not held: " : "from the rearmost support on", w->ends);
    dd_settle_figure(s, group, "greatest pull", w->greatest, "N", words);
    dd_settle_figure(s, group, "gap at the bow stop after pull-out", w->gap_after, "m",
               isnan(w->gap_after) ? "the boat does not lie still all the way to level ground" : "on level ground, the strap as wound here");
    dd_settle_figure(s, group, "least clearance of the transom", w->least_transom, "m", "over the ground, between there and home");
    dd_settle_figure(s, group, "least clearance of the skeg", w->least_skeg, "m", "over the ground, were the engine down");
}

/* A retrieve at depths a step apart; a launch where the rig is to stop. */
static dd_status add_winding(dd_settle_study *s, const dd_seen *seen, dd_error *error)
{
    dd_winding w = {0};
    dd_error why;
    if (s->tied || !(seen->v[DD_SEEN_HUB_DEPTH] >= s->next_depth - 1e-9)) return DD_OK;
    s->next_depth = s->m->scenario.action == DD_ACTION_RETRIEVE ? s->next_depth + depths_apart : INFINITY;
    dd_status status = dd_wind_here(&s->branch[DD_FRICTION_NONE], s->first_x - DD_STUDY_APPROACH, isinf(s->next_depth) ? NULL : &s->way, &w, &why);
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
static void choose_step(dd_settle_study *s, const dd_seen *seen)
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
static void tell_lean(dd_settle_study *s, const dd_seen *seen)
{
    s->lean = s->branch[DD_FRICTION_NONE].lean;
    for (int i = DD_FRICTION_NONE + 1; i < DD_FRICTION_STATES; i++) dd_settle_copy(&s->branch[DD_FRICTION_NONE], &s->branch[i]);
    tell_event(s, seen, "leans over", seen->v[DD_SEEN_HEEL], "deg",
               "nothing holds it upright; at this heel, port side down positive, something takes it up");
}

/* One row: the frictionless equilibrium, the band over the other friction states, and what is asked beside. */
static dd_status add_row(dd_settle_study *s, dd_seen *middle, dd_error *error)
{
    double row[DD_SEEN_COUNT + DD_SUPPORTS + 2 * BANDED + ASIDES], low[BANDED], high[BANDED];
    const dd_equilibrium before = s->branch[DD_FRICTION_NONE].at;
    dd_settle_copy(&s->branch[DD_FRICTION_NONE], &s->row_before);
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
    status = add_band(s, &before, middle, low, high, error);
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
    dd_settle_study *s;
    dd_settle branch[2]; /* of its own, from the last row and from this: the study's stays there */
    int which;
    dd_seen seen;
    dd_status status;
    dd_error why;
} crossing;

static double event_value(const dd_settle_study *s, int which, const dd_seen *seen)
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
    const double off[2] = {fabs(c->branch[0].at.pose.rig[DD_RIG_X] - x), fabs(c->branch[1].at.pose.rig[DD_RIG_X] - x)};
    c->status = dd_settle_to(&c->branch[off[1] < off[0]], x, &c->why);
    if (c->status != DD_OK) return NAN;
    read_branch(c->s, &c->seen);
    return event_value(c->s, c->which, &c->seen);
}

/* How deep and how far out that is, for vehicle, trailer and slab. */
static void tell_crossing(dd_settle_study *s, const char *name, const dd_seen *seen)
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
        if (!isnan(seen->v[told[i].seen])) dd_settle_figure(s, name, told[i].name, seen->v[told[i].seen], dd_seen_unit(told[i].seen), told[i].words);
    const dd_ramp_point ground = dd_ramp_at(s->m->ramp, seen->v[DD_SEEN_RIG_X]);
    dd_settle_figure(s, name, "vehicle's rear axle to the water's edge", seen->v[DD_SEEN_VEHICLE_WHEEL_DEPTH] / fmin(-0.01, ground.slope) *
               sqrt(1 + ground.slope * ground.slope), "m", "along the ramp, by its slope there; negative: beyond the edge");
}

static dd_status find_crossing(dd_settle_study *s, int which, double from, double now, dd_error *error)
{
    crossing c = {.s = s, .which = which};
    double root = s->x;
    dd_status status = dd_settle_branch(&s->row_before, DD_FRICTION_NONE, &c.branch[0], error);
    if (status == DD_OK) status = dd_settle_branch(&s->branch[DD_FRICTION_NONE], DD_FRICTION_NONE, &c.branch[1], error);
    c.branch[0].pose_alone = c.branch[1].pose_alone = true; /* while it is looked for */
    if (status == DD_OK) status = dd_ode_locate(at_x, &c, from, s->last_x, s->before[which], now, 1e-7, &root, error);
    c.branch[0].pose_alone = c.branch[1].pose_alone = false;
    if (status == DD_OK) (void)at_x(root, &c);
    for (int i = 0; i < 2; i++) dd_settle_end(&c.branch[i]);
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
static void tell_end(dd_settle_study *s, const dd_error *failure)
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
static void note_wheels(dd_settle_study *s, const dd_seen *seen)
{
    const double load = seen->v[DD_SEEN_AXLE_LOAD];
    if (isnan(s->first_axle_load)) s->first_axle_load = load;
    if (s->least_axle_load <= load) return;
    s->least_axle_load = load;
    s->least_axle_depth = seen->v[DD_SEEN_HUB_DEPTH];
}

static dd_status walk_down(dd_settle_study *s, dd_extremes *extremes, dd_progress progress, void *context, dd_error *error)
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
static dd_status fasten(dd_settle_study *s, dd_error *error)
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

static dd_status begin(dd_settle_study *s, dd_error *error)
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
    status = dd_settle_branch(&s->branch[DD_FRICTION_NONE], DD_FRICTION_NONE, &s->row_before, error);
    for (int state = DD_FRICTION_NONE + 1; state < DD_FRICTION_STATES && status == DD_OK; state++) {
        status = dd_settle_branch(&s->branch[DD_FRICTION_NONE], (dd_friction_state)state, &s->branch[state], error);
        s->alive[state] = status == DD_OK;
    }
    double fore, aft;
    dd_hull_extent(m->hull, &aft, &fore);
    s->arm = 0.5 * (fore - aft);
    s->x = s->first_x = s->last_x = first;
    s->slope = fmax(0.02, -dd_ramp_at(m->ramp, first + 6).slope);
    s->step = least_step;
    s->next_depth = first_depth(m);
    return status;
}

dd_status dd_study_settle(const dd_case *scenario, dd_progress progress, void *context, dd_result **result, dd_error *error)
{
    dd_settle_study s = {.crossed_at = {NAN, NAN, NAN}, .first_axle_load = NAN, .least_axle_load = INFINITY};
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
        dd_settle_conclude(&s, &extremes, &scenario->water, &failure);
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
    dd_winding_way_free(s.way);
    dd_settle_end(&s.row_before);
    dd_study_model_free(s.m);
    return status;
}
