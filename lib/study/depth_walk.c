/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rig going down the ramp with the boat at home: rows that the ends of the band are looked for between. */
#include "lib/shore/tide_given.h"
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/case/case.h"
#include "lib/crew/actions.h"
#include "lib/crew/steps.h"
#include "lib/force/jockey.h"
#include "lib/ode/ode.h"
#include "lib/shore/shore.h"
#include "lib/study/asides.h"
#include "lib/study/depth.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double first_depth = -0.3; /* of the hub, m: the wheels are hardly wet */
static const double row_apart = 0.05;   /* by the hub's depth, m */
static const double goes_on = 0.15;     /* after the boat floats, by the hub's depth, m */
static const double past_toe = 0.6;     /* as far as rows go beyond it, m */
static const double enough = 1e-7;       /* imbalance, of the weight */
static const double sinks_by = 0.005, most_sunk = 0.6; /* m */
static const double usual_stride = 0.12; /* m */
static const double least_near = 0.02, least_enough = 1e-3; /* m along the ramp, and of what is kept: where a limit is kept least is found to these */
static const double usual_push = 200;   /* N */
static const double usual_clear = 0.5;  /* m */

static void read_way(const dd_case *scenario, dd_depth_way *way)
{
    *way = (dd_depth_way){.launch = scenario->action == DD_ACTION_LAUNCH, .push = fmin(usual_push, scenario->limits.push_force),
                          .throttle = NAN, .acceleration = 0, .clear = usual_clear};
    double left_on = 0;
    for (int i = 0; i < scenario->step_count; i++) {
        const dd_step *step = &scenario->steps[i];
        if (step->kind == DD_STEP_UNCOUPLE) way->loose = true;
        if (step->kind == DD_STEP_UNLATCH) way->tilts = true;
        if (step->kind == DD_STEP_PUSH_OFF) way->push = fmin(step->force, scenario->limits.push_force);
        if (step->kind == DD_STEP_DRIVE_OFF || step->kind == DD_STEP_DRIVE_ON) way->engine = true, way->throttle = step->throttle, way->speed = step->speed;
        if (step->kind == DD_STEP_DRIVE_ON) left_on = step->hold_throttle;
        if (step->kind == DD_STEP_ENGINE_UP) left_on = 0;
        if (step->kind == DD_STEP_WIND_IN) way->hold = left_on;
        if (step->kind == DD_STEP_BACK_DOWN) way->stopping = step->acceleration;
        if (step->kind == DD_STEP_PULL_OUT) way->acceleration = step->acceleration, way->out_speed = dd_step_speed(step);
        if (step->kind == DD_STEP_STOP) way->park = step->brake == DD_BRAKE_PARK;
        if ((step->kind == DD_STEP_PUSH_OFF || step->kind == DD_STEP_DRIVE_OFF) && !isnan(step->until.distance_clear))
            way->clear = fmax(way->clear, step->until.distance_clear);
    }
    if (way->engine) way->push = NAN;
}

/* Unlatched where the boat lies at home, strap on: what turns the bed, its stops not counted, which carry nothing at no tilt. */
static dd_status read_bed(const dd_depth *d, const dd_settle *s, dd_depth_look *look, dd_error *error)
{
    dd_workspace *w = d->m->workspace;
    double load[DD_COORDINATES];
    look->bed = NAN;
    if (!d->way.tilts) return DD_OK;
    w->plan.set.unlatched = 1;
    const dd_status status = dd_settle_evaluate(s, 0, error);
    w->plan.set.unlatched = 0;
    if (status != DD_OK) return status;
    dd_unbalanced(w, load);
    look->bed = load[DD_RIG_TILT];
    return DD_OK;
}

static dd_status read_look(const dd_depth *d, const dd_settle *s, double x, dd_depth_look *look, dd_error *error)
{
    look->x = x;
    dd_seen_read(d->m, 0, &look->seen);
    const dd_status status = dd_depth_read_grip(d, look, error);
    return status == DD_OK ? read_bed(d, s, look, error) : status;
}

/* Along the branch (from and to given: as another went, at another level), or down the energy to the next balance where it only just
   touches something. */
static dd_status move_as(dd_settle *s, double x, const dd_pose *from, const dd_pose *to, dd_error *error)
{
    dd_error why;
    dd_status status = from != NULL ? dd_settle_beside(s, x, from, to, &why) : dd_settle_to(s, x, &why);
    if (status == DD_ERROR_NO_EQUILIBRIUM) {
        dd_pose pose = dd_study_driven(s->m, &s->at.pose, x);
        status = dd_equilibrium_descend(s->m->workspace, 0, &pose, s->memory, s->free, enough, &why);
        if (status == DD_OK) s->at = (dd_equilibrium){.pose = pose, .stable = 1};
    }
    if (status != DD_OK && error != NULL) *error = why;
    return status;
}

static dd_status move(dd_settle *s, double x, dd_error *error) { return move_as(s, x, NULL, NULL, error); }

static int row_before(const dd_depth *d, double x)
{
    int i = d->count - 1;
    while (i > 0 && d->look[i].x > x) i--;
    return i;
}

dd_status dd_depth_look_at(dd_depth *d, double x, dd_depth_look *look, dd_settle *branch, dd_error *error)
{
    dd_settle own;
    const dd_settle *from = &d->row[row_before(d, x)];
    dd_status status = dd_settle_branch(from, DD_FRICTION_NONE, &own, error);
    if (status != DD_OK) return status;
    own.pose_alone = from->pose_alone;
    d->m->workspace->plan.set.strap_hooked = 1;
    d->m->workspace->plan.set.unlatched = 0;
    status = move(&own, x, error);
    if (status == DD_OK) status = read_look(d, &own, x, look, error);
    if (status == DD_OK && branch != NULL)
        *branch = own;
    else
        dd_settle_end(&own);
    return status;
}

/* Of the frame over the ground on the way: where it is least by geometry, and there with the loads' squash. */
static dd_status pass_crest(dd_depth *d, dd_settle *s, double from, double to, dd_error *error)
{
    const double step = 0.1;
    double least = INFINITY;
    const dd_trailer_parameters *t = &d->m->rig->trailer;
    const dd_motion rest = {{0}, {0}};
    d->crest_clearance = d->crest_x = NAN;
    if (isnan(t->frame_clearance)) return DD_OK;
    for (double x = from; x < to; x += step) {
        dd_kinematics k;
        const dd_pose pose = dd_study_rig_pose(d->m, x);
        dd_kinematics_of(&d->m->model, 0, &pose, &rest, &k);
        for (int i = 0; i <= 12; i++) {
            const double behind = t->axles[0].behind_coupling * 0.3 + (t->rear_end_behind_coupling - 0.3 * t->axles[0].behind_coupling) * i / 12;
            const dd_vec3 low = dd_chassis_point(&k, dd_vec(behind, 0, t->frame_clearance - t->coupling_height));
            const double over = low.z - dd_ramp_at(d->m->ramp, low.x).z;
            if (over < least - 1e-6) least = over, d->crest_x = x;
        }
    }
    if (isnan(d->crest_x)) return DD_OK;
    dd_status status = move(s, d->crest_x, error);
    dd_seen seen;
    if (status != DD_OK) return status;
    dd_seen_read(d->m, 0, &seen);
    d->crest_clearance = seen.v[DD_SEEN_FRAME_CLEARANCE];
    return DD_OK;
}

static double still_carried(const dd_depth *d, const dd_seen *seen)
{
    return dd_seen_still_carried(seen, d->weight) - d->m->scenario.limits.afloat_share * d->weight;
}

static double stern_load(const dd_depth *d, const dd_seen *seen) { return seen->v[DD_SEEN_REAR_LOAD] - d->m->scenario.limits.stern_lift_share * d->weight; }

/* Where a value of the rows passes through zero, by straight lines between them: rows lie 50 mm of depth apart. */
static double crossing(const dd_depth *d, double (*value)(const dd_depth *, const dd_seen *))
{
    for (int i = 1; i < d->count; i++) {
        const double before = value(d, &d->look[i - 1].seen), now = value(d, &d->look[i].seen);
        if (before > 0 && now <= 0) return d->look[i - 1].x + (d->look[i].x - d->look[i - 1].x) * before / (before - now);
    }
    return NAN;
}

static dd_status keep_row(dd_depth *d, const dd_settle *s, double x, dd_error *error)
{
    dd_settle *row = &d->row[d->count];
    dd_status status = dd_settle_branch(s, DD_FRICTION_NONE, row, error);
    if (status != DD_OK) return status;
    row->pose_alone = s->pose_alone;
    status = read_look(d, row, x, &d->look[d->count], error);
    d->count++;
    return status;
}

/* The row that the walk made as its `number`th; -1: it made none, or there is no such level. */
static int row_of_walk(const dd_depth *d, int number)
{
    int made = 0;
    for (int i = 0; d != NULL && i < d->count; i++)
        if (d->row_for[i] == DD_ROW_WALK && made++ == number) return i;
    return -1;
}

/* A row at x, before the one that is the `i`th now. *put: whether there is one now. */
static dd_status put_row(dd_depth *d, int i, double x, dd_depth_row_for what, bool *put, dd_error *error)
{
    dd_settle row;
    dd_depth_look look;
    *put = false;
    if (d->count == DD_DEPTH_ROWS) return DD_OK;
    const dd_status status = dd_depth_look_at(d, x, &look, &row, error);
    if (status != DD_OK) return status == DD_ERROR_NO_EQUILIBRIUM ? DD_OK : status;
    const size_t after = (size_t)(d->count++ - i);
    memmove(&d->row[i + 1], &d->row[i], after * sizeof d->row[0]);
    memmove(&d->look[i + 1], &d->look[i], after * sizeof d->look[0]);
    memmove(&d->row_for[i + 1], &d->row_for[i], after * sizeof d->row_for[0]);
    d->row[i] = row, d->look[i] = look, d->row_for[i] = what, *put = true;
    return DD_OK;
}

/* Where friction under the wheels is least between two rows, a row: a border of the ramp's surfaces is shorter than the rows are apart. */
static dd_status look_where_it_slips(dd_depth *d, dd_error *error)
{
    for (int i = 1; i < d->count; i++) {
        bool put;
        const double x = dd_depth_slips_at(d, &d->look[i - 1], &d->look[i]);
        if (isnan(x)) continue;
        const dd_status status = put_row(d, i, x, DD_ROW_SLIPS, &put, error);
        if (status != DD_OK) return status;
        i += put; /* and on from the row that stood here */
    }
    return DD_OK;
}

typedef struct at_home {
    dd_depth *d;
    dd_depth_end end;
    dd_status status;
    dd_error why;
} at_home;

static double kept_at(double x, void *context)
{
    at_home *h = context;
    dd_depth_look look;
    h->status = dd_depth_look_at(h->d, x, &look, NULL, &h->why);
    return h->status == DD_OK ? dd_depth_kept_home(h->d, h->end, &look) : NAN;
}

/* The row was put where this limit of grip is kept least already. */
static bool slips_most(const dd_depth *d, int row, dd_depth_end end)
{
    const double hold = dd_depth_kept_home(d, DD_END_HOLD, &d->look[row]), pull_out = dd_depth_kept_home(d, DD_END_PULL_OUT, &d->look[row]);
    return d->row_for[row] == DD_ROW_SLIPS && ((end == DD_END_HOLD && !(pull_out < hold)) || (end == DD_END_PULL_OUT && !(hold < pull_out)));
}

/* Where a limit is kept less at a row than at those beside it, and may be broken between, a row where it is kept least: supports that let go or take
   hold turn it round within less than the rows are apart. */
static dd_status look_where_least(dd_depth *d, dd_depth_end end, dd_error *error)
{
    for (int i = 1; i + 1 < d->count; i++) {
        const double x[3] = {d->look[i - 1].x, d->look[i].x, d->look[i + 1].x};
        double kept[3], least, at;
        bool put;
        for (int j = 0; j < 3; j++) kept[j] = dd_depth_kept_home(d, end, &d->look[i - 1 + j]);
        if (!(dd_ode_promised(x, kept) < 0) || kept[1] < 0 || slips_most(d, i, end)) continue;
        at_home h = {.d = d, .end = end};
        dd_status status = dd_ode_least(kept_at, &h, x, kept, least_near, least_enough, &at, &least, error);
        if (h.status == DD_ERROR_NO_EQUILIBRIUM) continue;
        if (h.status != DD_OK && error != NULL) *error = h.why;
        if (h.status != DD_OK || status != DD_OK) return h.status != DD_OK ? h.status : status;
        if (at == x[1]) continue;
        status = put_row(d, at < x[1] ? i : i + 1, at, DD_ROW_LEAST, &put, error);
        if (status != DD_OK) return status;
        i += put;
    }
    return DD_OK;
}

static dd_status walk(dd_depth *d, dd_settle *s, double first, dd_error *error)
{
    double x = first, end = INFINITY;
    dd_error why;
    while (d->count < DD_DEPTH_ROWS && x <= end) {
        /* At the same depth of the hub the boat lies as it did at the other level, where the ramp slopes alike. */
        const int beside = d->count > 0 ? row_of_walk(d->other, d->count) : -1;
        dd_status status = beside < 0 ? move(s, x, &why) : move_as(s, x, &d->other->row[row_of_walk(d->other, d->count - 1)].at.pose, &d->other->row[beside].at.pose, &why);
        if (status == DD_ERROR_NO_EQUILIBRIUM && d->count > 1) return DD_OK; /* as far as it lies */
        if (status != DD_OK) {
            if (error != NULL) *error = why;
            return status;
        }
        status = keep_row(d, s, x, error);
        if (status != DD_OK) return status;
        const double slope = fmax(0.02, -dd_ramp_at(d->m->ramp, dd_chassis_point(&d->m->workspace->kinematics, dd_study_rearmost_hub(d->m->rig)).x).slope);
        const dd_seen *seen = &d->look[d->count - 1].seen;
        if (isinf(end) && still_carried(d, seen) <= 0) end = x + goes_on / slope;
        if (seen->v[DD_SEEN_TOE_DISTANCE] < 0) end = fmin(end, x + past_toe);
        x += row_apart / slope;
    }
    return DD_OK;
}

/* Wound home far inshore, or as another level's model lies there. */
static dd_status lie_home(dd_depth *d, const dd_depth *other, double home, dd_error *error)
{
    dd_settle *s = &d->home;
    if (other == NULL) return dd_settle_begin(d->m, DD_FRICTION_NONE, home, home, s, error);
    dd_settle as = other->home;
    as.m = d->m;
    dd_status status = dd_settle_branch(&as, DD_FRICTION_NONE, s, error);
    if (status != DD_OK) return status;
    d->m->workspace->plan.set.strap_hooked = 1;
    s->at.pose = dd_study_driven(d->m, &s->at.pose, home);
    return dd_settle_to(s, home, error);
}

/* Off the ball on level ground: the coupling sinks until the jockey wheel bears. */
static dd_status uncouple(dd_depth *d, dd_settle *s, dd_error *error)
{
    dd_workspace *w = d->m->workspace;
    double load[DD_COORDINATES] = {0};
    const dd_system_force *jockey = dd_system_find(d->m->system, &dd_force_jockey);
    w->plan.set.uncoupled = 1;
    if (jockey != NULL) s->memory[jockey->memory_first + DD_JOCKEY_LEG] = DD_JOCKEY_STOWED; /* wound out to the coupling's height */
    for (double sunk = 0; sunk < most_sunk; sunk += sinks_by) {
        s->at.pose.rig[DD_RIG_HEAVE] -= sinks_by;
        dd_status status = dd_equilibrium_descend(w, 0, &s->at.pose, s->memory, s->free & ~DD_FREE_HEAVE, enough, error);
        if (status != DD_OK) return status;
        dd_unbalanced(w, load);
        if (load[DD_RIG_HEAVE] < 0) continue;
        memset(s->at.tangent, 0, sizeof s->at.tangent);
        return dd_equilibrium_descend(w, 0, &s->at.pose, s->memory, s->free, enough, error);
    }
    return dd_fail(error, DD_ERROR_NO_EQUILIBRIUM, "trailer.jockey wheel", "off the ball the trailer does not stand on its jockey wheel: the boat lies too far back on it");
}

/* At home, free as it is now. */
static void go_home(const dd_depth *d, dd_settle *s)
{
    const int free = s->free;
    dd_settle_copy(&d->home, s);
    s->free = free;
}

/* At the first row the boat lies as at the other level's: no need to follow it all the way from home. false: it does not lie next to there. */
static bool begin_beside(dd_depth *d, const dd_depth *other, double first, dd_settle *s)
{
    static const double next_to = 0.02; /* m */
    if (other == NULL || other->count == 0 || d->way.loose) return false;
    const dd_settle *row = &other->row[0];
    const dd_pose expected = dd_study_driven(d->m, &row->at.pose, first);
    double first_x, last_x;
    dd_equilibrium found;
    dd_settle_copy(row, s);
    dd_hull_extent(d->m->hull, &first_x, &last_x);
    if (dd_equilibrium_follow(d->m->workspace, 0, &expected, s->memory, s->free, true, &found, NULL) == DD_OK &&
        dd_pose_distance(&expected, &found.pose, 0.5 * (last_x - first_x)) < next_to) {
        s->at = found;
        return true;
    }
    go_home(d, s);
    return false;
}

/* Where the rig comes to the water. Where it nowhere does, what is at odds is the level, not the depth that is looked for. */
static dd_status find_first(const dd_depth *d, double *first, dd_error *error)
{
    static const double inshore = -60, far_out = 200; /* m: as far as dd_study_position() looks */
    const double before = dd_ramp_at(d->m->ramp, inshore).z, beyond = dd_ramp_at(d->m->ramp, far_out).z;
    dd_error why = {0};
    const dd_status status = dd_study_position(d->m, first_depth, first, &why);
    if (status != DD_ERROR_ARGUMENT) {
        if (status != DD_OK && error != NULL) *error = why;
        return status;
    }
    if (d->level > 0.5 * (before + beyond))
        return dd_fail(error, status, "water", "its level, %.3f m, drowns the ramp: the ground before the crest stands at %.3f m, and the rig is in the water already there",
                       d->level, before);
    return dd_fail(error, status, "water", "its level, %.3f m, leaves the ramp dry: the ground that it leads to stands at %.3f m", d->level, beyond);
}

static dd_status descend(dd_depth *d, const dd_depth *other, dd_error *error)
{
    double first = 0;
    dd_settle s = {0};
    dd_status status = find_first(d, &first, error);
    if (status != DD_OK) return status;
    const double home = first - DD_STUDY_APPROACH;
    status = lie_home(d, other, home, error);
    if (status == DD_OK) status = dd_settle_branch(&d->home, DD_FRICTION_NONE, &s, error);
    if (status != DD_OK) return status;
    /* In the rig's own plane: whether the floating stern holds upright is told beside it. */
    s.free = (DD_FREE_RIG & ~DD_FREE_REACH) | DD_FREE_HULL_LENGTHWISE | DD_FREE_HULL_SINKAGE | DD_FREE_HULL_TRIM;
    s.pose_alone = true;
    if (other == NULL) status = pass_crest(d, &s, home, first, error);
    if (status == DD_OK && d->way.loose) {
        go_home(d, &s);
        status = uncouple(d, &s, error);
    }
    if (status == DD_OK && !begin_beside(d, other, first, &s)) status = move(&s, first, error);
    if (status == DD_OK) status = walk(d, &s, first, error);
    if (status == DD_OK && !d->way.loose) status = look_where_it_slips(d, error);
    for (int e = 0; e < DD_END_COUNT && status == DD_OK; e++) status = look_where_least(d, (dd_depth_end)e, error);
    dd_settle_end(&s);
    d->stern_lifts = crossing(d, stern_load);
    d->afloat = crossing(d, still_carried);
    return status;
}

dd_status dd_depth_open(const dd_case *scenario, double level, const dd_depth *other, dd_depth *d, dd_error *error)
{
    memset(d, 0, sizeof *d);
    d->level = level;
    d->still = other != NULL ? other->still : malloc(sizeof *d->still);
    d->other = other;
    d->stride = other != NULL ? other->stride : usual_stride;
    d->paths = other != NULL ? other->paths : calloc(1, sizeof *d->paths);
    if (other != NULL) d->starting = other->starting;
    const dd_status started = other == NULL ? dd_depth_starting_create(&d->starting, error) : DD_OK;
    if (started != DD_OK) return started;
    if (d->still == NULL || d->paths == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_ramp_depth", "no memory for the scenario");
    /* Side guides and the ground push nothing in the rig's own plane: what comes near them is told. */
    static const char *const idle[] = {"guide", "ground", NULL};
    if (other == NULL) {
        dd_case_copy(d->still, scenario);
        dd_study_make_still(d->still, idle, scenario->action == DD_ACTION_LAUNCH);
    }
    dd_water_stand_at(&d->still->water, d->still->ramp.datum, level);
    read_way(scenario, &d->way);
    dd_status status = dd_study_model_create_beside(d->still, other != NULL ? other->m : NULL, &d->m, error);
    if (status != DD_OK) return status;
    d->weight = dd_hull_mass(d->m->hull)->mass * d->m->model.gravity;
    d->m->workspace->plan.engine_tilt.from = d->m->workspace->plan.engine_tilt.to = 1;
    return descend(d, other, error);
}

void dd_depth_close(dd_depth *d)
{
    for (int i = 0; i < d->count; i++) dd_settle_end(&d->row[i]);
    d->count = 0;
    dd_settle_end(&d->home);
    dd_study_model_free(d->m);
    d->m = NULL;
    if (d->other == NULL) {
        free(d->still);
        free(d->paths);
        dd_depth_starting_free(d->starting);
    }
    d->still = NULL;
    d->paths = NULL;
    d->starting = NULL;
}
