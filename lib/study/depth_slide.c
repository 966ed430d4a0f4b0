/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The boat moved along its supports where the rig stands, held lengthwise by nobody's force but its own: what pushes it seaward, what
   friction holds, what a strap would take, and whether it tips. In the rig's own plane, by steps from home until it floats clear. */
#include "lib/force/roller.h"
#include "lib/force/strap.h"
#include "lib/force/thrust.h"
#include "lib/ode/ode.h"
#include "lib/rig/winch.h"
#include "lib/shore/shore.h"
#include "lib/study/asides.h"
#include "lib/study/depth.h"
#include <math.h>
#include <string.h>

enum { MOST_STEPS = 400 };
static const double shortest = 0.0125;               /* of a stride, m */
static const double long_stride = 10.0 / 3;           /* of a boat that floats, strides */
static const double enough = 1e-5;                   /* of the weight */
static const double steepest = 1;                    /* of what follows the way, m/m and rad/m */
static const double long_way = 0.12;                 /* m: a support's edge, on which no balance is found, is passed by that */
static const double close_to = 0.3;                  /* of a limit's size: what is kept by more is as it is seen at the places */
static const double worth = 0.002, narrowest = 0.01; /* of what is kept, and m: where a limit is kept least is found to these */
static const double jump = 0.05;                     /* rad: more within the shortest stride is a fall */
static const double quarter = 0.25, bears = 0.3;     /* of the weight, as the run's own watch for a runaway has it */

static const dd_depth_slide nothing_seen = {.push = -INFINITY, .skeg = INFINITY, .handle = NAN, .lost_at = NAN, .start_needed = NAN, .start_low = NAN};

typedef struct sliding {
    dd_depth *d;
    dd_settle s;
    dd_depth_slide *out;
    double way, energy;
    double stop_load, stop_eases; /* at the last place, N, and how much less of it there was than a place before, N/m */
    double resistance, work; /* of friction less drive at the last place, N; of it since home, J */
    dd_pose before;          /* a place back, and how far that was; 0: none */
    double back;
    double tangent[DD_COORDINATES], bend[DD_COORDINATES]; /* of where it lies, by how far along its keel it is moved; tangent[DD_HULL_COORDINATE] 0: not known */
    const dd_depth_path *beside[2]; /* the two slides at about this depth; NULL: not so many yet */
    dd_depth_path own;
    double ahead_drive, ahead_coupling, idle_energy; /* driven off: see turn_ahead; of a boat whose engine idles, J */
    double supported, floating; /* at the last place, N over what makes a runaway of a boat that runs: see run_at */
    double to_clear;         /* how far it is from there to where it is clear, m */
    bool held_back;          /* it would outrun its engine */
    int floats;              /* places since it is free of its supports */
    int places;              /* that were seen; the last three: */
    dd_equilibrium at[3];
    double ways[3], kept[3][DD_END_COUNT]; /* as each is by itself */
    dd_depth_hauling hauled[3]; /* by what, there */
} sliding;

static double trim_of(const dd_pose *pose) { return asin(fmax(-1.0, fmin(1.0, dd_rotation_of(pose->attitude).m[2][0]))); }

static void read_pull(const sliding *w, const dd_seen *seen, double along, dd_depth_slide *here)
{
    const dd_study_model *m = w->s.m;
    const dd_winch_parameters *winch = &m->rig->trailer.winch;
    const dd_system_force *strap = dd_system_find(m->system, &dd_force_strap);
    double distance;
    here->pull = dd_depth_pull_of(m, along, &distance);
    here->strap = seen->v[DD_SEEN_CARRIED] > m->scenario.limits.afloat_share * w->d->weight ? distance : 0;
    here->handle = winch->drive == DD_DRIVE_ELECTRIC || strap == NULL
                       ? NAN : dd_winch_handle_force(winch, here->pull, fmax(0.0, dd_strap_whole_length(strap->instance) - distance));
}

/* Skeg and propeller here. */
static void read_engine(const sliding *w, double clearance, dd_depth_slide *o)
{
    const dd_study_model *m = w->s.m;
    const dd_kinematics *k = &m->workspace->kinematics;
    const dd_system_force *engine = dd_system_find(m->system, &dd_force_thrust);
    o->skeg = clearance;
    o->skeg_at = o->propeller = dd_hull_point(k, dd_vec(0, 0, dd_hull_keel(m->hull, 0).z - dd_hull_figures(m->hull)->skeg_depth.likely));
    if (engine != NULL) o->propeller = dd_hull_point(k, dd_thrust_propeller(engine->instance).at);
}

static void keep_place(sliding *w)
{
    dd_depth_path *p = &w->own;
    const dd_pose *pose = &w->s.at.pose;
    if (p->count == DD_DEPTH_PLACES) return;
    p->place[p->count].way = w->way;
    p->place[p->count].height = pose->position.z;
    p->place[p->count].trim = trim_of(pose);
    memcpy(p->place[p->count].rig, pose->rig, sizeof pose->rig);
    p->count++;
}

/* The boat is held lengthwise where it is looked at, at its keel, and the trailer with it; while it moves the trailer feels friction alone. What
   that takes from the coupling's load: the difference, at the keel's height over the coupling, over the distance to the axles. */
static double of_motion(const sliding *w, double drive, double friction)
{
    const dd_trailer_parameters *t = &w->s.m->rig->trailer;
    double to_axles = 0;
    for (int i = 0; i < t->axle_count; i++) to_axles += t->axles[i].behind_coupling / t->axle_count;
    return (drive - friction) * w->s.at.pose.position.z / to_axles;
}

/* The engine turned ahead, with which a skipper holds back a boat that runs: what that takes from the drive and from the coupling's load, found
   once, at home: it hangs on the heights of propeller and coupling, and hardly on the place. */
static dd_status turn_ahead(sliding *w, dd_error *error)
{
    dd_ramped *throttle = &w->s.m->workspace->plan.throttle;
    const dd_equilibrium before = w->s.at;
    dd_seen astern, ahead;
    dd_seen_read(w->s.m, 0, &astern);
    const double drive = dd_drive_along(&w->s);
    throttle->from = throttle->to = w->d->way.throttle;
    dd_status status = dd_depth_balance(&w->s, error);
    if (status == DD_OK) {
        dd_seen_read(w->s.m, 0, &ahead);
        w->ahead_drive = dd_drive_along(&w->s) - drive;
        w->ahead_coupling = ahead.v[DD_SEEN_COUPLING_LOAD] - astern.v[DD_SEEN_COUPLING_LOAD];
    }
    throttle->from = throttle->to = -w->d->way.throttle;
    w->s.at = before;
    return status == DD_OK ? dd_depth_balance(&w->s, error) : status;
}

/* Of the coupling's load while the boat moves: as it is pushed or driven off, or held back where it would outrun its engine. */
static void read_coupling(const sliding *w, dd_seen *seen, double drive, double friction)
{
    double *load = &seen->v[DD_SEEN_COUPLING_LOAD];
    const double standing = *load;
    *load += of_motion(w, drive, friction);
    if (w->held_back) *load = fmin(*load, standing + w->ahead_coupling + of_motion(w, drive + w->ahead_drive, friction));
}

/* With its engine idle, `by` further: whether it comes to run faster than it is to be driven. */
static void let_idle(sliding *w, double by, double resistance)
{
    const double mass = dd_hull_mass(w->s.m->hull)->mass, wanted = 0.5 * mass * w->d->way.speed * w->d->way.speed;
    w->idle_energy = fmax(wanted, w->idle_energy + (0.5 * w->ahead_drive - resistance) * by);
    w->held_back = w->idle_energy > wanted;
}

/* Resistance to the boat's way from the last place here at a speed: what it turns to waves and heat, over the speed; supports not, whose friction
   is counted by itself. */
static dd_status take_by_water(const sliding *w, double by, double speed, double *resistance, dd_error *error)
{
    const dd_study_model *m = w->s.m;
    const dd_motion rest = {{0}, {0}};
    dd_motion motion = rest;
    dd_kinematics before, here;
    *resistance = 0;
    if (w->back <= 0 || speed < 1e-3) return DD_OK;
    dd_kinematics_of(&m->model, 0, &w->before, &rest, &before);
    dd_kinematics_of(&m->model, 0, &w->s.at.pose, &rest, &here);
    const dd_vec3 along = dd_apply_transposed(&here.to_world, dd_scale(speed / by, dd_sub(here.origin, before.origin)));
    motion.twist[0] = along.x, motion.twist[1] = along.y, motion.twist[2] = along.z;
    motion.twist[4] = -speed / by * (asin(here.to_world.m[2][0]) - asin(before.to_world.m[2][0]));
    for (int c = 0; c < DD_RIG_COORDINATES; c++) motion.rig[c] = speed / by * (w->s.at.pose.rig[c] - w->before.rig[c]);
    double heat;
    const dd_status status = dd_settle_heat(&w->s, &motion, &dd_force_roller, &heat, error);
    if (status == DD_OK) *resistance = heat / speed;
    return status;
}

/* The boat that runs here with `energy`, `before` at the last place: how fast, where the supports bear it and water does not yet; between the
   two where one of them ends. */
static void run_at(sliding *w, const dd_seen *seen, double before, double mass)
{
    const double supported = seen->v[DD_SEEN_SUPPORT_LOAD] - bears * w->d->weight, floating = seen->v[DD_SEEN_BUOYANCY] - quarter * w->d->weight;
    const bool runs = supported > 0 && floating < 0, ran = w->supported > 0 && w->floating < 0;
    double on = 1; /* share of the way from the last place as far as it counts */
    if (ran && !runs) {
        if (supported <= 0) on = fmin(on, w->supported / (w->supported - supported));
        if (floating >= 0) on = fmin(on, w->floating / (w->floating - floating));
    }
    if (runs || ran) w->out->speed = fmax(w->out->speed, sqrt(2 * (before + on * (w->energy - before)) / mass));
    w->supported = supported, w->floating = floating;
}

/* Greatest mean of the resistance since home on a stride from `way` on, the work so far and the resistance at both ends of the stride given, between them by
   a straight line: where it is its own mean. */
static double greatest_mean(double way, double by, double work, double before, double after)
{
    const double half = 0.5 * (after - before) / by, end = (work + (before + half * by) * by) / (way + by), rises = before * way - work;
    if (half >= 0 || rises <= 0) return end;
    const double on = fmin(by, sqrt(way * way - rises / half) - way);
    return (work + (before + half * on) * on) / (way + on);
}

/* What is seen at one place alone, `way` from home. */
static void see_place(const sliding *w, double way, double friction, double drive, dd_seen *seen, dd_depth_slide *here)
{
    *here = nothing_seen;
    here->way = way;
    read_pull(w, seen, friction + drive, here);
    if (w->d->way.launch) read_coupling(w, seen, drive, friction);
    here->least = here->most = *seen;
    read_engine(w, seen->v[DD_SEEN_SKEG_CLEARANCE], here);
}

/* Into what is told of the whole slide. Of a boat that sticks nothing that would come further on comes to pass. */
static void fold_place(sliding *w, const dd_depth_slide *here)
{
    dd_depth_slide *o = w->out;
    o->strap = fmax(o->strap, here->strap);
    o->pull = fmax(o->pull, here->pull);
    o->handle = fmax(o->handle, here->handle);
    if (o->sticks) return;
    for (int i = 0; i < DD_SEEN_COUNT; i++) {
        o->least.v[i] = fmin(o->least.v[i], here->least.v[i]); /* a NaN says nothing */
        o->most.v[i] = fmax(o->most.v[i], here->most.v[i]);
    }
    if (w->d->way.engine ? here->skeg < o->skeg : here->way == w->way) o->skeg = here->skeg, o->skeg_at = here->skeg_at, o->propeller = here->propeller;
}

/* Between two places, `share` of the way from one to the other. */
static dd_pose pose_between(const dd_pose *a, const dd_pose *b, double share)
{
    dd_pose pose = *a;
    double turn[6] = {0}, rig[DD_RIG_COORDINATES];
    pose.position = dd_add(a->position, dd_scale(share, dd_sub(b->position, a->position)));
    turn[4] = -share * (trim_of(b) - trim_of(a));
    for (int c = 0; c < DD_RIG_COORDINATES; c++) rig[c] = share * (b->rig[c] - a->rig[c]);
    dd_pose_displace(&pose, turn, rig);
    return pose;
}

enum { MOST_KNOWN = 16 };

/* Looks at places of the last two strides. known: where it lies at those that have been looked at, by way. */
typedef struct between {
    sliding *w;
    dd_depth_end end;
    dd_status status;
    dd_error *error;
    int count;
    double ways[MOST_KNOWN];
    dd_pose known[MOST_KNOWN];
} between;

static void keep_known(between *b, double way, const dd_pose *pose)
{
    int i = b->count;
    if (i == MOST_KNOWN) return;
    for (b->count++; i > 0 && b->ways[i - 1] > way; i--) b->ways[i] = b->ways[i - 1], b->known[i] = b->known[i - 1];
    b->ways[i] = way, b->known[i] = *pose;
}

/* How far the limit is kept by what is seen there. */
static double kept_at(double way, void *context)
{
    between *b = context;
    sliding *w = b->w;
    int i = 0;
    dd_seen seen;
    dd_depth_slide here;
    while (i + 2 < b->count && b->ways[i + 1] < way) i++;
    w->s.at.pose = pose_between(&b->known[i], &b->known[i + 1], (way - b->ways[i]) / (b->ways[i + 1] - b->ways[i]));
    const dd_depth_hauling hauled = dd_depth_hauling_at(w->ways, w->hauled, way);
    b->status = dd_depth_lie(w->d, &w->s, &hauled, b->error);
    if (b->status != DD_OK) return NAN;
    keep_known(b, way, &w->s.at.pose);
    dd_seen_read(w->s.m, 0, &seen);
    see_place(w, way, dd_depth_friction_along(&w->s), dd_depth_drive_along(&w->s), &seen, &here);
    fold_place(w, &here);
    return dd_depth_kept_slide(w->d, b->end, &here);
}

/* A limit may be kept least between places: where supports let go, or take hold, is narrower than a stride. Where it was kept less at the last place but
   one than at those beside it, it is looked for. */
static dd_status look_between(sliding *w, const dd_depth_slide *here, dd_error *error)
{
    for (int e = 0; e < DD_END_COUNT; e++) w->kept[2][e] = e == DD_END_SKEG && !w->d->way.engine ? NAN : dd_depth_kept_slide(w->d, (dd_depth_end)e, here);
    if (++w->places < 3) return DD_OK;
    dd_status status = DD_OK;
    for (int e = 0; e < DD_END_COUNT && status == DD_OK; e++) {
        const double kept[3] = {w->kept[0][e], w->kept[1][e], w->kept[2][e]};
        if (!(dd_ode_promised(w->ways, kept) < fmin(close_to, dd_depth_kept_slide(w->d, (dd_depth_end)e, w->out) - worth))) continue;
        between b = {.w = w, .end = (dd_depth_end)e, .error = error};
        for (int i = 0; i < 3; i++) keep_known(&b, w->ways[i], &w->at[i].pose);
        double at, least;
        status = dd_ode_least(kept_at, &b, w->ways, kept, narrowest, worth, &at, &least, error);
        if (b.status != DD_OK) status = b.status == DD_ERROR_NO_EQUILIBRIUM ? DD_OK : b.status; /* it falls there */
    }
    w->s.at = w->at[2];
    return status;
}

/* Among the last three places. */
static void remember(sliding *w)
{
    for (int i = 0; i < 2; i++) {
        w->ways[i] = w->ways[i + 1], w->at[i] = w->at[i + 1], w->hauled[i] = w->hauled[i + 1];
        memcpy(w->kept[i], w->kept[i + 1], sizeof w->kept[i]);
    }
    w->ways[2] = w->way, w->at[2] = w->s.at, w->hauled[2] = dd_depth_hauling_now(&w->s);
}

/* Whether supports carry next to nothing of it. */
static bool free_of_supports(const sliding *w) { return w->out->left < 1e-3 * w->d->weight; }

/* The boat at this place, `by` further than the last. A push as great as the mean of what resists since home, with what the water takes
   at the speed that it gives, carries the boat over here: what it had to spare before takes it over a hump. */
static dd_status read_place(sliding *w, double by, dd_error *error)
{
    dd_seen seen;
    dd_depth_slide *o = w->out;
    dd_seen_read(w->s.m, 0, &seen);
    const double pushed = isnan(w->d->way.push) ? 0 : w->d->way.push;
    const double *v = seen.v, friction = dd_depth_friction_along(&w->s), drive = dd_depth_drive_along(&w->s), resistance = friction - drive;
    const double mass = dd_hull_mass(w->s.m->hull)->mass, mean = 0.5 * (resistance + w->resistance);
    const double without = fmax(0.0, w->energy + (by > 0 ? (pushed - mean) * by : 0));
    const double energy = w->energy;
    double water = 0;
    /* On its way off the stop the bow falls, and the stop's push, which is not counted, pays for what the water takes. */
    if (by > 0 && w->d->way.launch && w->stop_load <= 0) {
        const dd_status status = take_by_water(w, by, sqrt((w->energy + without) / mass), &water, error);
        if (status != DD_OK) return status;
    }
    o->push = fmax(o->push, by > 0 ? greatest_mean(w->way - by, by, w->work, w->resistance + water, resistance + water) : resistance);
    w->work += by > 0 ? (mean + water) * by : 0;
    w->energy = fmax(0.0, without - water * by);
    w->resistance = resistance;
    w->stop_eases = by > 0 ? (w->stop_load - v[DD_SEEN_STOP_LOAD]) / by : 0;
    w->stop_load = v[DD_SEEN_STOP_LOAD];
    keep_place(w);
    remember(w);
    o->left = v[DD_SEEN_CARRIED];
    w->floats = free_of_supports(w) ? w->floats + 1 : 0;
    o->way = w->way;
    w->to_clear = w->d->way.clear - dd_study_distance_clear(w->s.m, &w->s.m->workspace->kinematics);
    o->sticks = w->d->way.launch && o->push > pushed;
    if (w->d->way.launch && w->d->way.engine) let_idle(w, by, resistance);
    if (!o->sticks) run_at(w, &seen, energy, mass);
    dd_depth_slide here;
    see_place(w, w->way, friction, drive, &seen, &here);
    fold_place(w, &here);
    return o->sticks ? DD_OK : look_between(w, &here, error);
}

/* The nearest by depth of those that were kept, not at the depth of `but`. */
static const dd_depth_path *path_beside(const dd_depth_paths *paths, double depth, const dd_depth_path *but)
{
    static const double same = 1e-4; /* m */
    const dd_depth_path *nearest = NULL;
    for (int i = 0; i < paths->count && i < DD_DEPTH_PATHS; i++) {
        const dd_depth_path *p = &paths->path[i];
        if (but != NULL && fabs(p->depth - but->depth) < same) continue;
        if (nearest == NULL || fabs(p->depth - depth) < fabs(nearest->depth - depth)) nearest = p;
    }
    return nearest;
}

/* Adds `share` of how the boat lay on that path at a way, by straight lines between its places. false: it was not followed so far. */
static bool add_from_path(const dd_depth_path *p, double way, double share, double *height, double *trim, double rig[DD_RIG_COORDINATES])
{
    int i = 0;
    while (i + 2 < p->count && p->place[i + 1].way < way) i++;
    if (p->count < 2 || way > p->place[i + 1].way + 1e-9) return false;
    const double on = (way - p->place[i].way) / (p->place[i + 1].way - p->place[i].way);
    for (int j = 0; j < 2; j++) {
        const double part = share * (j == 0 ? 1 - on : on);
        *height += part * p->place[i + j].height;
        *trim += part * p->place[i + j].trim;
        for (int c = 0; c < DD_RIG_COORDINATES; c++) rig[c] += part * p->place[i + j].rig[c];
    }
    return true;
}

/* As the slides beside it went on from here, in proportion to the depth. */
static bool expect_as_beside(const sliding *w, double by, dd_pose *pose)
{
    static const double furthest = 1; /* beyond both, of what is between them */
    const dd_depth_path *const *p = w->beside;
    double height = 0, turn[6] = {0}, rig[DD_RIG_COORDINATES] = {0}, share = 0;
    if (p[0] == NULL || fabs(w->own.depth - p[0]->depth) > 0.03) return false;
    if (p[1] != NULL) share = fmax(-furthest, fmin(1.0, (w->own.depth - p[0]->depth) / (p[1]->depth - p[0]->depth)));
    for (int i = 0; i < 2; i++) {
        const double part = i == 0 ? 1 - share : share;
        if (part != 0 && (p[i] == NULL || !add_from_path(p[i], w->way, -part, &height, &turn[4], rig) ||
                          !add_from_path(p[i], w->way + by, part, &height, &turn[4], rig)))
            return false;
    }
    rig[DD_RIG_X] = 0;
    turn[4] = -turn[4];
    pose->position.z += height;
    dd_pose_displace(pose, turn, rig);
    return true;
}

/* As the last three places lead on, by a parabola. */
static dd_pose expect_as_before(const sliding *w, double by)
{
    const dd_pose *p[3] = {&w->at[0].pose, &w->at[1].pose, &w->at[2].pose};
    const double x[3] = {p[0]->position.x, p[1]->position.x, p[2]->position.x}, to = x[2] + by;
    dd_pose pose = *p[2];
    double turn[6] = {0}, rig[DD_RIG_COORDINATES] = {0};
    for (int i = 0; i < 2; i++) {
        const double share = (to - x[2]) * (to - x[1 - i]) / ((x[i] - x[2]) * (x[i] - x[1 - i]));
        pose.position.z += share * (p[i]->position.z - p[2]->position.z);
        turn[4] -= share * (trim_of(p[i]) - trim_of(p[2]));
        for (int c = 0; c < DD_RIG_COORDINATES; c++) rig[c] += share * (p[i]->rig[c] - p[2]->rig[c]);
    }
    pose.position.x = to;
    dd_pose_displace(&pose, turn, rig);
    return pose;
}

/* As it went on where it floats; as slides beside it went; or as K leads on from the last place. */
static dd_pose expect(const sliding *w, double by)
{
    const dd_pose *last = &w->s.at.pose;
    dd_pose pose = *last;
    if (w->floats >= 3) return expect_as_before(w, by);
    pose.position.x += by;
    if (expect_as_beside(w, by, &pose) || w->tangent[DD_HULL_COORDINATE] >= 0) return pose;
    double q[DD_COORDINATES], along = by;
    for (int i = 0; i < 2; i++) { /* its keel is not level: so much further along it */
        for (int c = 0; c < DD_COORDINATES; c++) q[c] = along * (w->tangent[c] + 0.5 * along * w->bend[c]);
        pose = *last;
        dd_pose_displace(&pose, q + DD_HULL_COORDINATE, q);
        along *= by / (pose.position.x - last->position.x);
    }
    pose.position.x = last->position.x + by;
    return pose;
}

/* How the boat goes on from the balance that the workspace stands at. Where nothing rubs K is symmetric, so that the row of what moves it along its keel,
   which the search has, is the column that it has left out. */
static void look_ahead(sliding *w)
{
    double K[DD_COORDINATES][DD_COORDINATES], q[DD_COORDINATES], before[DD_COORDINATES];
    memcpy(before, w->tangent, sizeof before);
    memset(w->bend, 0, sizeof w->bend);
    memset(w->tangent, 0, sizeof w->tangent);
    dd_stiffness(w->s.m->workspace, K);
    const bool told = (w->s.free & DD_TELL_LENGTHWISE) != 0;
    for (int c = 0; c < DD_COORDINATES; c++) q[c] = told ? K[c][DD_HULL_COORDINATE] : K[DD_HULL_COORDINATE][c];
    if (!dd_equilibrium_yield(w->s.m->workspace, w->s.free, q)) return;
    for (int c = 0; c < DD_COORDINATES; c++)
        if (!(fabs(q[c]) < steepest)) return; /* next to nothing holds it there */
    memcpy(w->tangent, q, sizeof q);
    w->tangent[DD_HULL_COORDINATE] = -1;
    for (int c = 0; c < DD_COORDINATES && before[DD_HULL_COORDINATE] < 0 && w->back > 0; c++) w->bend[c] = (q[c] - before[c]) / w->back;
    w->bend[DD_HULL_COORDINATE] = 0;
}

/* Further aft by `by`; DD_ERROR_NO_EQUILIBRIUM where it falls, the boat then lies where it lay. */
static dd_status shift(sliding *w, double by, dd_error *error)
{
    const dd_equilibrium before = w->s.at;
    const double trim = trim_of(&before.pose);
    w->s.at.pose = expect(w, by);
    const bool led = w->places >= 3;
    const dd_depth_hauling hauled = led ? dd_depth_hauling_at(w->ways, w->hauled, w->way + by) : (dd_depth_hauling){0, 0};
    dd_status status = dd_depth_lie(w->d, &w->s, led ? &hauled : NULL, error);
    if (status == DD_OK && fabs(trim_of(&w->s.at.pose) - trim) > jump) status = DD_ERROR_NO_EQUILIBRIUM;
    if (status == DD_OK) {
        w->before = before.pose, w->back = by;
        look_ahead(w);
    } else {
        w->s.at = before, w->back = 0;
    }
    return status;
}

/* At home, held by its own friction no more: by Newton's method where the descent stops short of the balance next to which it lies. */
static dd_status lie_free(sliding *w, dd_error *error)
{
    dd_equilibrium found;
    const dd_pose before = w->s.at.pose;
    const dd_status status = dd_equilibrium_descend(w->s.m->workspace, 0, &w->s.at.pose, w->s.memory, w->s.free, enough, error);
    if (status != DD_ERROR_NO_EQUILIBRIUM) return status;
    if (dd_equilibrium_follow(w->s.m->workspace, 0, &before, w->s.memory, w->s.free, true, &found, NULL) != DD_OK || fabs(trim_of(&found.pose) - trim_of(&before)) > jump) return status;
    w->s.at = found;
    return DD_OK;
}

/* So far at once: to where it is clear, and off the stop, which pushes it, no further than to where that ends. */
static double no_further(const sliding *w, double by)
{
    const double off = w->stop_load <= 0 ? INFINITY : w->stop_eases > 0 ? fmax(shortest, w->stop_load / w->stop_eases) : shortest;
    if (free_of_supports(w) && w->d->way.launch && !w->d->way.engine) by = fmax(by, long_stride * w->d->stride);
    return fmin(fmin(by, off), w->to_clear);
}

static dd_status slide(sliding *w, dd_error *error)
{
    dd_error why;
    double by = w->d->stride;
    bool across = false; /* tried, after the shortest stride failed */
    dd_status status = lie_free(w, &why);
    if (status == DD_OK) status = dd_depth_haul(w->d, &w->s, &why);
    if (status == DD_OK && w->d->way.launch && w->d->way.engine) status = turn_ahead(w, &why);
    if (status == DD_OK) look_ahead(w);
    if (status == DD_OK) status = read_place(w, 0, &why);
    for (int i = 0; status == DD_OK && i < MOST_STEPS; i++) {
        if (w->to_clear <= 1e-6) return DD_OK;
        const double now = no_further(w, by);
        status = shift(w, now, &why);
        if (status == DD_ERROR_NO_EQUILIBRIUM && !across) {
            across = now <= shortest;
            by = across ? long_way : 0.5 * now;
            status = DD_OK;
            continue;
        }
        if (status != DD_OK) break;
        const double moved = w->s.at.pose.position.x - w->before.position.x;
        w->way += moved;
        status = read_place(w, moved, &why);
        by = fmin(2 * by, w->d->stride);
        across = false;
    }
    if (status == DD_ERROR_NO_EQUILIBRIUM) {
        w->out->lost_at = w->way;
        return DD_OK;
    }
    if (status != DD_OK && error != NULL) *error = why;
    return status;
}

dd_status dd_depth_slide_at(dd_depth *d, double x, dd_depth_look *look, dd_depth_slide *out, dd_error *error)
{
    sliding w = {.d = d, .out = out};
    dd_workspace *workspace = d->m->workspace;
    dd_commands *set = &workspace->plan.set;
    *out = nothing_seen;
    out->x = x;
    for (int i = 0; i < DD_SEEN_COUNT; i++) out->least.v[i] = out->most.v[i] = NAN;
    dd_status status = dd_depth_look_at(d, x, look, &w.s, error);
    if (status != DD_OK) return status;
    if (d->way.launch) w.s.at.pose.position.x += fmax(0.0, -look->seen.v[DD_SEEN_STOP_GAP]); /* the stop springs back as the strap is let off */
    w.s.free = (DD_FREE_RIG & ~DD_FREE_REACH) | DD_FREE_HULL_SINKAGE | DD_FREE_HULL_TRIM;
    if (!d->way.launch) w.s.free |= DD_TELL_LENGTHWISE;
    set->strap_hooked = 0;
    set->unlatched = d->way.tilts;
    if (d->way.launch && !d->way.engine) workspace->plan.push_force.from = workspace->plan.push_force.to = d->way.push;
    if (d->way.engine) {
        workspace->plan.engine_tilt.from = workspace->plan.engine_tilt.to = 0;
        if (d->way.launch) workspace->plan.throttle.from = workspace->plan.throttle.to = -d->way.throttle;
    }
    w.own.depth = look->seen.v[DD_SEEN_HUB_DEPTH];
    w.beside[0] = path_beside(d->paths, w.own.depth, NULL);
    w.beside[1] = w.beside[0] != NULL ? path_beside(d->paths, w.own.depth, w.beside[0]) : NULL;
    out->bed = look->bed;
    out->start_needed = look->start_needed, out->start_low = look->drive_low;
    status = slide(&w, error);
    d->paths->path[d->paths->count++ % DD_DEPTH_PATHS] = w.own;
    workspace->plan.engine_tilt.from = workspace->plan.engine_tilt.to = 1;
    workspace->plan.throttle.from = workspace->plan.throttle.to = 0;
    workspace->plan.push_force.from = workspace->plan.push_force.to = 0;
    set->strap_pull = 0;
    set->strap_hooked = 1;
    set->unlatched = 0;
    dd_settle_end(&w.s);
    return status;
}
