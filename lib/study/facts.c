/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is so at a moment of a run, for the causes (facts.def says what each means). */
#include "lib/study/watch.h"
#include <string.h>

static const double hand_width = 0.3;   /* short of the stop: the boat lies aft, m */
static const double nearly = 0.8;       /* of the draft afloat: a cradle that deep holds nothing as the boat comes over it */
static const double stood = 3.0;        /* after the strap came off: what does not run then is held by friction, s */
static const double some_stream = 0.05; /* m/s */
static const double some_fall = 0.05;   /* m */
static const double some_wind = 2.0;    /* m/s */
static const double outrun = 0.2;       /* m/s: a driver who has hold keeps his speed nearer than this */
static const double bearing = 0.5;      /* of the load at the start: rear wheels with so much do not float yet */

static uint64_t fact(int which, bool holds) { return holds ? UINT64_C(1) << which : 0; }

static uint64_t facts_of_people(const dd_run *run)
{
    const dd_commands *c = &run->m->workspace->commands;
    const int step = run->m->scenario.steps[run->procedure.step].kind;
    return fact(DD_FACT_STRAP_OFF, !c->strap_hooked) | fact(DD_FACT_TIES_ON, c->ties_hooked) |
           fact(DD_FACT_CHAIN_ON, c->chain_hooked) | fact(DD_FACT_PARK_LOCK_ONLY, c->park_lock > 0.5 && c->brake < 0.5) |
           fact(DD_FACT_CHOCKED, c->vehicle_chocked || c->trailer_chocked) | fact(DD_FACT_UNCOUPLED, c->uncoupled) |
           fact(DD_FACT_UNDER_POWER, fabs(c->throttle) > 0.02) |
           fact(DD_FACT_WINDING, c->wind_speed > 1e-3) | fact(DD_FACT_BACKING, c->drive_speed > 0.01) |
           fact(DD_FACT_PULLING_OUT, step == DD_STEP_PULL_OUT || step == DD_STEP_HAUL_OUT);
}

/* The hold went first: a tail that floats takes it as well, and then the depth is to blame. */
static bool outruns(const dd_run *run, const dd_watcher *w, const dd_seen *seen)
{
    const dd_moment *slipped = dd_watcher_moment(w, "wheel slips");
    return slipped != NULL && seen->v[DD_SEEN_RIG_SPEED] - run->m->workspace->commands.drive_speed > outrun &&
           slipped->seen.v[DD_SEEN_REAR_WHEELS] > bearing * dd_watcher_start(w)->v[DD_SEEN_REAR_WHEELS];
}

static uint64_t facts_of_loads(const dd_run *run, const dd_watcher *w, const dd_seen *seen)
{
    const dd_seen *start = dd_watcher_start(w);
    const double *v = seen->v, *first = start->v, weight = run->weight;
    const dd_moment *home = dd_watcher_moment(w, "at the stop"), *out = dd_watcher_moment(w, "pull-out begins");
    const dd_moment *before = out != NULL ? out : home;
    return fact(DD_FACT_COUPLING_LIGHT, v[DD_SEEN_COUPLING_LOAD] < fmax(0.0, 0.2 * first[DD_SEEN_COUPLING_LOAD])) |
           fact(DD_FACT_BOAT_AFT, v[DD_SEEN_STOP_GAP] > hand_width && v[DD_SEEN_SUPPORT_LOAD] > 0.2 * weight) |
           fact(DD_FACT_HALF_AFLOAT, v[DD_SEEN_BUOYANCY] > 0.5 * weight) |
           fact(DD_FACT_DEEP, (before != NULL && before->seen.v[DD_SEEN_SUPPORT_LOAD] < 0.1 * weight) ||
                                  v[DD_SEEN_REAR_SUPPORT_DEPTH] > nearly * first[DD_SEEN_TRANSOM_DRAFT]) |
           fact(DD_FACT_SHALLOW, v[DD_SEEN_SUPPORT_LOAD] > 0.5 * weight) |
           fact(DD_FACT_ON_GROUND, v[DD_SEEN_GROUND_LOAD] > 0.01 * weight) |
           fact(DD_FACT_TAIL_FLOATS,
                v[DD_SEEN_REAR_WHEELS] < 0.5 * first[DD_SEEN_REAR_WHEELS] && v[DD_SEEN_VEHICLE_WHEEL_DEPTH] > 0) |
           fact(DD_FACT_SPINS, v[DD_SEEN_SLIP] > 0.1) | fact(DD_FACT_OUTRUNS, outruns(run, w, seen)) |
           fact(DD_FACT_HOLE, v[DD_SEEN_HOLE] > DD_DEEP_HOLE) | fact(DD_FACT_PAST_TOE, v[DD_SEEN_TOE_DISTANCE] < 0) |
           fact(DD_FACT_DRY, v[DD_SEEN_REAR_SUPPORT_DEPTH] < 0);
}

static uint64_t facts_of_shore(const dd_run *run, const dd_seen *seen)
{
    const dd_study_model *m = run->m;
    const double x = seen->v[DD_SEEN_RIG_X], time = seen->v[DD_SEEN_TIME];
    const double fallen = dd_water_surface_at(&m->model.water, x, 0).level - dd_water_surface_at(&m->model.water, x, time).level;
    const double weed = dd_shore_grip(m->ramp, &m->model.water, x, time).weed;
    return fact(DD_FACT_FALLING, fallen > some_fall) | fact(DD_FACT_WEED, weed > 0.5);
}

/* The keel, at the guide's place along the trailer, has not passed outside its face. */
static bool keel_inside_guide(const dd_run *run, const dd_seen *seen)
{
    const dd_rig *rig = run->m->rig;
    const double *v = seen->v, to_port = v[DD_SEEN_BOW_OFFSET];
    for (int i = 0; i < rig->guide_count; i++)
        if (rig->guides[i].side * to_port > 0 && fabs(to_port) < fabs(rig->guides[i].top.y) - rig->guides[i].radius)
            return v[DD_SEEN_OUTSIDE] > 0;
    return false;
}

static bool is_pushed(const dd_run *run, const dd_watcher *w, const dd_seen *seen)
{
    const int step = run->m->scenario.steps[run->procedure.step].kind;
    const dd_moment *off = dd_watcher_moment(w, "strap off");
    return (step == DD_STEP_PUSH_OFF || step == DD_STEP_DRIVE_OFF) && off != NULL &&
           seen->v[DD_SEEN_TIME] - off->seen.v[DD_SEEN_TIME] > stood;
}

uint64_t dd_facts_of(const dd_run *run, const dd_watcher *w, const dd_seen *seen)
{
    const dd_case *scenario = &run->m->scenario;
    const bool launch = scenario->action == DD_ACTION_LAUNCH;
    const double afloat = dd_watcher_first(w, "afloat");
    const dd_water *water = &scenario->water;
    return fact(DD_FACT_LAUNCH, launch) | fact(DD_FACT_RETRIEVE, !launch) | fact(DD_FACT_AFLOAT, !launch || !isnan(afloat)) |
           fact(DD_FACT_LET_OFF, launch && isnan(afloat) && !run->m->workspace->commands.strap_hooked) |
           fact(DD_FACT_STREAM, fabs(water->current) > some_stream) | fact(DD_FACT_WIND, water->wind.speed > some_wind) |
           fact(DD_FACT_WAVES, water->wave.height > 0.02 || water->surge.height > 0.02) | facts_of_people(run) |
           fact(DD_FACT_PUSHED, is_pushed(run, w, seen)) |
           fact(DD_FACT_INSIDE_GUIDE, keel_inside_guide(run, seen)) | facts_of_shore(run, seen) | facts_of_loads(run, w, seen);
}
