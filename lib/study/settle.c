/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/settle.h"
#include "lib/base/error.h"
#include "lib/force/roller.h"
#include "lib/force/strap.h"
#include <stdlib.h>
#include <string.h>

static const double shortest_move = 0.001; /* m */
static const double first_move = 0.5;      /* m */
static const double longest_move = 4.0;    /* m */
static const double rights_within = 0.1;   /* what a boat that leans takes to stand up, m */
static const double slip = 0.2;            /* how far a boat afloat may shift at once where its stem passes from part to part of its stop, m */
static const double least_bend = 0.05;     /* a shorter move tells nothing of how the tangent bends, m */
static const double straight_on = 0.5;     /* within it the branch goes on along its tangent, m */

static const double first_lean = 0.01 / 57.295779513082320877, lean_step = 0.5 / 57.295779513082320877, most_lean = 15.0 / 57.295779513082320877; /* rad */

static int strap_memory(const dd_settle *s)
{
    const dd_system_force *strap = dd_system_find(s->m->system, &dd_force_strap);
    return strap != NULL ? strap->memory_first : -1;
}

double dd_settle_strap(const dd_settle *s)
{
    const int strap = strap_memory(s);
    return strap >= 0 ? s->memory[strap] : NAN;
}

static dd_status make(dd_study_model *m, dd_friction_state state, dd_settle *s, dd_error *error)
{
    *s = (dd_settle){.m = m, .state = state, .free = DD_FREE_ALL};
    s->memory = calloc((size_t)m->system->memory_count + 1, sizeof(double));
    if (s->memory != NULL) return DD_OK;
    return dd_fail(error, DD_ERROR_MEMORY, "dd_settle_begin", "no memory for the friction states");
}

dd_status dd_settle_begin(dd_study_model *m, dd_friction_state state, double x, double home_x, dd_settle *settle,
                          dd_error *error)
{
    dd_status status = make(m, state, settle, error);
    if (status != DD_OK) return status;
    double home = isnan(home_x) ? x : home_x;
    /* Wound home against rolling resistance, whatever the friction is supposed to do afterwards. */
    settle->held = DD_FRICTION_WOUND_IN;
    status = dd_study_home(m, home, settle->held, settle->memory, &settle->at, error);
    if (status == DD_OK) status = dd_settle_to(settle, x, error);
    if (status != DD_OK) dd_settle_end(settle);
    return status;
}

void dd_settle_copy(const dd_settle *from, dd_settle *to)
{
    to->at = from->at;
    memcpy(to->bend, from->bend, sizeof to->bend);
    to->free = from->free;
    to->swings = from->swings;
    to->gripped = from->gripped;
    to->stays_upright = from->stays_upright;
    to->lean = from->lean;
    to->held = from->held;
    memcpy(to->memory, from->memory, (size_t)from->m->system->memory_count * sizeof(double));
}

dd_status dd_settle_branch(const dd_settle *from, dd_friction_state state, dd_settle *to, dd_error *error)
{
    dd_status status = make(from->m, state, to, error);
    if (status == DD_OK) dd_settle_copy(from, to);
    return status;
}

/* With friction at its limits K is not the slope of an energy: only the frictionless branch says where the boat falls. */
static bool pose_alone(const dd_settle *s) { return s->pose_alone || s->state != DD_FRICTION_NONE; }

/* Where a move leads: rig x and length of strap, and the pose that it should find. */
typedef struct move {
    double x, strap;
    bool rights;  /* a boat that leans is to stand up on the way */
    bool asked;   /* nothing moves: the balance next to the pose, however far */
    const dd_pose *beside[2]; /* from where to where a branch beside this one went; NULL: along the tangent */
    double reach; /* the balance lies no further from the pose that was expected, or it belongs to another branch, m */
} move;

/* Half of the hull: what a turn moves its ends by. */
static double arm_of(const dd_settle *s)
{
    double first, last;
    dd_hull_extent(s->m->hull, &first, &last);
    return 0.5 * (last - first);
}

/* From *pose as from one pose to another. */
static void move_as(dd_pose *pose, const dd_pose *from, const dd_pose *to)
{
    const dd_quaternion back = {from->attitude.w, -from->attitude.x, -from->attitude.y, -from->attitude.z};
    for (int c = 0; c < DD_RIG_COORDINATES; c++) pose->rig[c] += to->rig[c] - from->rig[c];
    pose->position = dd_add(pose->position, dd_sub(to->position, from->position));
    pose->attitude = dd_quaternion_multiply(pose->attitude, dd_quaternion_multiply(back, to->attitude));
}

/* Along the tangent; where the ground curves under a long move, with the trailer's pitch by geometry. */
static dd_pose expect(const dd_settle *s, move *to)
{
    const double here = s->at.pose.rig[DD_RIG_X], by = to->x - here, strap = dd_settle_strap(s);
    const bool winds = !isnan(strap) && strap != to->strap;
    const double size = fmax(1.0, arm_of(s) / 2.5), way = fabs(by) + (winds ? fabs(to->strap - strap) : 0);
    dd_pose pose = s->at.pose;
    double q[DD_COORDINATES];
    to->asked = by == 0 && !winds;
    to->reach = size * 0.004 + 0.25 * way;
    if (to->beside[0] != NULL) {
        move_as(&pose, to->beside[0], to->beside[1]);
        to->reach = size * 0.004 + 0.01 * way; /* branches side by side go the same way but where something sets in */
    } else if (winds) {
        /* the workspace holds the last equilibrium */
        memset(q, 0, sizeof q);
        memcpy(q + DD_HULL_COORDINATE, s->m->workspace->load_by_value[strap_memory(s)], 6 * sizeof(double));
        if (dd_equilibrium_yield(s->m->workspace, s->free, q)) {
            for (int c = 0; c < DD_COORDINATES; c++) q[c] *= to->strap - strap;
            dd_pose_displace(&pose, q + DD_HULL_COORDINATE, q);
        }
    } else if (fabs(by) <= straight_on && s->at.tangent[DD_RIG_X] > 0) {
        for (int c = 0; c < DD_COORDINATES; c++) q[c] = s->at.tangent[c] * by + 0.5 * s->bend[c] * by * by;
        dd_pose_displace(&pose, q + DD_HULL_COORDINATE, q);
    } else {
        pose = dd_study_driven(s->m, &pose, to->x);
        to->reach = size * 0.01 + 0.5 * way;
    }
    if (s->at.tangent[DD_RIG_X] == 0) to->reach = INFINITY; /* the pose is a first guess, on no branch yet */
    pose.rig[DD_RIG_X] = to->x;
    return pose;
}

static bool leans(const dd_settle *s)
{
    return s->lean != 0 && fabs(dd_rotation_of(s->at.pose.attitude).m[2][1]) > 1e-6;
}

/* A boat that had leaned over and needs no more than a nudge to stand up: the balance at a heel ends there, the boat's does not. */
static bool comes_upright(const dd_settle *s, const move *to, const dd_equilibrium *next)
{
    const dd_mat3 was = dd_rotation_of(s->at.pose.attitude), is = dd_rotation_of(next->pose.attitude);
    return leans(s) && (to->rights || fabs(to->x - s->at.pose.rig[DD_RIG_X]) < 2 * shortest_move) && next->stable && fabs(is.m[2][1]) < fabs(was.m[2][1]);
}

/* --- a stern that swings ---------------------------------------------------------------------------------------- */

/* Whether a support at its centre or aft of it carries the boat. */
static bool stern_is_carried(const dd_settle *s)
{
    const dd_rig *rig = s->m->rig;
    const dd_system_force *rollers = dd_system_find(s->m->system, &dd_force_roller);
    if (rig == NULL || rollers == NULL) return false;
    const dd_kinematics *k = &s->m->workspace->kinematics;
    const double centre = dd_add(k->pose.position, dd_apply(&k->to_trailer, dd_hull_mass(s->m->hull)->centre)).x;
    const double *load = s->m->workspace->channels + dd_system_channel(s->m->system, &dd_force_roller, 0, "load_N");
    for (int i = 0; i < rig->roller_count; i++)
        if (rig->rollers[i].centre.x >= centre && load[i * rollers->channel_count] > 0) return true;
    return false;
}

/* The stern afloat, the bow held: a strap that pulls from aft of where the stem meets the stop pushes the boat end-on, which turns its
   stern out. It swings and does not fall; a hand on the stern keeps it straight. Changes *next then. */
static void keep_heading(dd_settle *s, dd_equilibrium *next)
{
    dd_equilibrium at;
    if (dd_equilibrium_follow(s->m->workspace, 0, &next->pose, s->memory, s->free & ~DD_FREE_HULL_HEADING, false, &at, NULL) != DD_OK || !at.stable ||
        stern_is_carried(s))
        return;
    *next = at;
    s->swings = true;
    s->free &= ~DD_FREE_HULL_HEADING;
}

/* The stern afloat, the stem shifts from one part of its stop to the next: to the balance beside the one that has ended. */
static bool slips(const dd_settle *s, const move *to, const dd_equilibrium *next, double off)
{
    return off < slip && next->stable && fabs(to->x - s->at.pose.rig[DD_RIG_X]) < 2 * shortest_move && !stern_is_carried(s);
}

/* Downhill from a place that holds it no longer to the next that does. */
static dd_status slip_down(dd_settle *s, const dd_pose *from, dd_equilibrium *next, dd_error *error)
{
    dd_pose pose = *from;
    if (stern_is_carried(s)) return DD_ERROR_NO_EQUILIBRIUM;
    dd_status status = dd_equilibrium_descend(s->m->workspace, 0, &pose, s->memory, s->free, 1e-7, error);
    return status != DD_OK ? status : dd_equilibrium_follow(s->m->workspace, 0, &pose, s->memory, s->free, pose_alone(s), next, error);
}

static dd_status check(const dd_settle *s, const move *to, const dd_pose *expected, const dd_equilibrium *next, dd_error *error)
{
    const double off = dd_pose_distance(expected, &next->pose, arm_of(s));
    if (!pose_alone(s) && !next->stable)
        return dd_fail(error, DD_ERROR_NO_EQUILIBRIUM, "settle",
                       "the boat falls here (rig x %.3f m): its equilibrium is not stable, smallest stiffness %.4g N/m", to->x,
                       next->smallest_stiffness);
    if (!to->asked && off > to->reach && !comes_upright(s, to, next) && !slips(s, to, next, off))
        return dd_fail(error, DD_ERROR_NO_EQUILIBRIUM, "settle", "the next place where it lies still is %.3f m off", off);
    return DD_OK;
}

/* --- the balance beside an upright one that does not hold --------------------------------------------------------- */

/* Other coordinates at rest with the heel held, from *pose. Returns the moment that heels on, N m; NaN: nothing holds it there. */
static double held_at_heel(dd_settle *s, dd_pose *pose)
{
    dd_equilibrium at;
    double load[DD_COORDINATES];
    const int others = s->free & ~DD_FREE_HULL_HEEL;
    dd_status status = dd_equilibrium_follow(s->m->workspace, 0, pose, s->memory, others, true, &at, NULL);
    if (status == DD_ERROR_NO_EQUILIBRIUM) status = dd_equilibrium_creep(s->m->workspace, 0, pose, s->memory, others, &at, NULL);
    if (status != DD_OK) return NAN;
    *pose = at.pose;
    dd_unbalanced(s->m->workspace, load);
    return load[DD_HULL_COORDINATE + 3];
}

/* From where the moment still heels on, by `moment` at `before`, and a pose `more` further where it turns back, by `back`: nearer to
   the balance by false position, and let go there. */
static bool let_go(dd_settle *s, dd_pose before, double moment, double back, double more, dd_equilibrium *found)
{
    dd_pose pose = before;
    for (int i = 0; i < 12; i++) {
        const double way = more * moment / (moment - back), on[6] = {0, 0, 0, way, 0, 0};
        pose = before;
        dd_pose_displace(&pose, on, NULL);
        const double now = held_at_heel(s, &pose);
        if (isnan(now)) return false;
        if (dd_equilibrium_follow(s->m->workspace, 0, &pose, s->memory, s->free, false, found, NULL) == DD_OK && found->stable) return true;
        if (now * moment > 0)
            before = pose, moment = now, more -= way, back *= 0.5; /* the Illinois rule: from both sides */
        else
            back = now, more = way, moment *= 0.5;
    }
    return dd_equilibrium_creep(s->m->workspace, 0, &pose, s->memory, s->free, found, NULL) == DD_OK && found->stable;
}

/* To one side of the upright pose: heeled on by steps until the moment turns back. side: of the turn about the hull's long axis.
   Returns the heel, rad; NaN: nothing takes the boat up. */
static double lean_to(dd_settle *s, const dd_pose *upright, int side, dd_equilibrium *found)
{
    dd_pose pose = *upright;
    double before = 0, step = first_lean;
    for (double heel = step; heel <= most_lean; heel += step) {
        const double on[6] = {0, 0, 0, side * step, 0, 0};
        const dd_pose last = pose;
        dd_pose_displace(&pose, on, NULL);
        const double moment = held_at_heel(s, &pose);
        if (isnan(moment) || (before == 0 && moment * side <= 0)) return NAN;
        if (moment * side <= 0) return let_go(s, last, before, moment, side * step, found) ? heel : NAN;
        before = moment;
        step = fmin(2 * step, lean_step);
    }
    return NAN;
}

/* Whether the friction of what carries holds the side force and the turning moment that are left at the workspace's evaluation: a part of
   each limit the force, a part, growing with the distance from their middle, the moment. */
static bool grips(const dd_settle *s)
{
    const dd_system_force *rollers = dd_system_find(s->m->system, &dd_force_roller);
    const dd_kinematics *k = &s->m->workspace->kinematics;
    double load[DD_COORDINATES], limit[DD_ROLLERS], x[DD_ROLLERS], sum = 0, moment = 0, far = 0, turning = 0;
    if (rollers == NULL) return false;
    const double *channels = s->m->workspace->channels + dd_system_channel(s->m->system, &dd_force_roller, 0, "load_N");
    for (int i = 0; i < s->m->rig->roller_count; i++) {
        const dd_vec3 at = dd_apply_transposed(&k->to_trailer, dd_sub(s->m->rig->rollers[i].centre, k->pose.position));
        limit[i] = dd_roller_friction_limit(rollers->instance, i, DD_ACROSS, s->memory + rollers->memory_first) * channels[i * rollers->channel_count];
        x[i] = at.x;
        sum += limit[i];
        moment += limit[i] * at.x;
    }
    if (!(sum > 0)) return false;
    const double middle = moment / sum;
    for (int i = 0; i < s->m->rig->roller_count; i++)
        if (limit[i] > 0) far = fmax(far, fabs(x[i] - middle));
    for (int i = 0; i < s->m->rig->roller_count && far > 0; i++) turning += limit[i] * (x[i] - middle) * (x[i] - middle) / far;
    dd_unbalanced(s->m->workspace, load);
    const double side = load[DD_HULL_COORDINATE + 1], turn = load[DD_HULL_COORDINATE + 5] - middle * side;
    return fabs(side) * turning + fabs(turn) * sum <= sum * turning;
}

/* To the nearer of both sides, with the coordinates that are free. */
static bool lean_either(dd_settle *s, const dd_pose *upright, dd_equilibrium *found)
{
    dd_equilibrium side[2];
    double heel[2];
    for (int i = 0; i < 2; i++) heel[i] = lean_to(s, upright, i == 0 ? -1 : 1, &side[i]);
    if (isnan(heel[0]) && isnan(heel[1])) return false;
    const int to = isnan(heel[0]) || heel[1] < heel[0] ? 1 : 0;
    return dd_equilibrium_follow(s->m->workspace, 0, &side[to].pose, s->memory, s->free, false, found, NULL) == DD_OK && found->stable;
}

/* Where only the heel makes the upright pose give way, the boat leans over until something takes it up, a skid beside the keel or the
   water: onto the nearer of both sides. On plain keel rollers nothing but their grip keeps it from sliding off sideways meanwhile.
   Changes *next then. */
static void lean_over(dd_settle *s, dd_equilibrium *next)
{
    const dd_pose upright = next->pose;
    dd_equilibrium at;
    const int sideways = DD_FREE_HULL_SIDEWAYS | DD_FREE_HULL_HEADING; /* they go with the heel */
    const int others = s->free & ~(DD_FREE_HULL_HEEL | sideways);
    if (dd_equilibrium_follow(s->m->workspace, 0, &upright, s->memory, others, false, &at, NULL) != DD_OK || !at.stable) return;
    if (!lean_either(s, &upright, &at)) {
        const int free = s->free;
        s->free &= ~sideways;
        s->gripped = lean_either(s, &upright, &at) && grips(s);
        if (!s->gripped) {
            s->free = free;
            return;
        }
    }
    *next = at;
    double trim, heading;
    dd_attitude(&s->m->workspace->kinematics, &s->lean, &trim, &heading);
}

/* Friction at the balance that was found: of rollers that have come to carry since, and of skids that are wet now. */
static dd_status take_hold(dd_settle *s, dd_equilibrium *next, dd_error *error)
{
    if (s->state == DD_FRICTION_NONE) return DD_OK;
    const int count = s->m->system->memory_count;
    double *before = calloc((size_t)count + 1, sizeof *before);
    if (before == NULL) return dd_fail(error, DD_ERROR_MEMORY, "settle", "no memory for the friction states");
    dd_status status = DD_OK;
    bool changed = true;
    for (int i = 0; i < 3 && changed && status == DD_OK; i++) {
        memcpy(before, s->memory, (size_t)count * sizeof(double));
        dd_study_friction_here(s->m, s->state, s->memory);
        changed = false;
        for (int m = 0; m < count; m++) changed |= fabs(s->memory[m] - before[m]) > 1e-3 * fabs(before[m]);
        if (changed) status = dd_equilibrium_follow(s->m->workspace, 0, &next->pose, s->memory, s->free, pose_alone(s), next, error);
    }
    free(before);
    return status;
}

/* Here now; how the tangent bends tells where the next move leads. */
static void stand(dd_settle *s, const dd_equilibrium *next)
{
    const double by = next->pose.rig[DD_RIG_X] - s->at.pose.rig[DD_RIG_X];
    const bool bends = fabs(by) >= least_bend && fabs(by) <= straight_on && s->at.tangent[DD_RIG_X] > 0 && next->tangent[DD_RIG_X] > 0;
    for (int c = 0; c < DD_COORDINATES; c++) s->bend[c] = bends ? (next->tangent[c] - s->at.tangent[c]) / by : 0;
    s->at = *next;
    s->at.gripped = s->gripped;
}

/* The heel taken off a pose of a boat that leans: where the balance at a heel has ended it stands up to here. At once, or by and by with
   all else at rest. */
static dd_status stand_up(dd_settle *s, const dd_pose *from, dd_equilibrium *next, dd_error *error)
{
    dd_status status = DD_ERROR_NO_EQUILIBRIUM;
    const dd_mat3 r = dd_rotation_of(from->attitude);
    for (int parts = 1; parts <= 8 && status == DD_ERROR_NO_EQUILIBRIUM; parts += 7) {
        const double off[6] = {0, 0, 0, -atan2(r.m[2][1], r.m[2][2]) / parts, 0, 0};
        dd_pose pose = *from;
        for (int i = 0; i < parts; i++) {
            dd_pose_displace(&pose, off, NULL);
            if (parts > 1 && isnan(held_at_heel(s, &pose))) break;
        }
        status = dd_equilibrium_creep(s->m->workspace, 0, &pose, s->memory, s->free, next, error);
    }
    return status;
}

/* slowly: with the search that creeps up to supports which only just touch. */
static dd_status go(dd_settle *s, move *to, bool slowly, dd_error *error)
{
    dd_equilibrium next;
    if (s->swings && stern_is_carried(s)) s->swings = false, s->free |= DD_FREE_HULL_HEADING;
    if (s->gripped && !leans(s)) s->gripped = false, s->free |= DD_FREE_HULL_SIDEWAYS | DD_FREE_HULL_HEADING;
    const dd_pose from = expect(s, to);
    const int strap = strap_memory(s);
    const double before = dd_settle_strap(s);
    if (strap >= 0) s->memory[strap] = to->strap;
    if (to->asked && dd_study_friction(s->m, &from, s->state, s->memory) != DD_OK)
        return dd_fail(error, DD_ERROR_MEMORY, "settle", "no memory for the friction states");
    dd_status status = slowly ? DD_ERROR_NO_EQUILIBRIUM
                              : dd_equilibrium_follow(s->m->workspace, 0, &from, s->memory, s->free, pose_alone(s), &next, error);
    if (status == DD_ERROR_NO_EQUILIBRIUM && (slowly || to->asked))
        status = (isinf(to->reach) || to->asked ? dd_equilibrium_find : dd_equilibrium_creep)(s->m->workspace, 0, &from, s->memory, s->free, &next, error);
    if (status == DD_ERROR_NO_EQUILIBRIUM && slowly && leans(s)) status = stand_up(s, &from, &next, error);
    if (status == DD_ERROR_NO_EQUILIBRIUM && slowly && !leans(s)) status = slip_down(s, &from, &next, error);
    if (status == DD_OK) status = take_hold(s, &next, error);
    if (status == DD_OK && !pose_alone(s) && !next.stable) keep_heading(s, &next);
    const bool upright = status != DD_OK || pose_alone(s) || next.stable;
    if (!upright && !s->stays_upright) lean_over(s, &next);
    if (status == DD_OK) status = check(s, to, upright || !next.stable ? &from : &next.pose, &next, error);
    if (status == DD_OK)
        stand(s, &next);
    else if (strap >= 0)
        s->memory[strap] = before;
    return status;
}

/* Says that the branch ends, with what is short just beyond its end. */
static dd_status fall(dd_error *error, double x)
{
    if (error == NULL || strncmp(error->message, "the boat falls here", 19) == 0) return DD_ERROR_NO_EQUILIBRIUM;
    const dd_error beyond = *error;
    return dd_fail(error, DD_ERROR_NO_EQUILIBRIUM, "settle", "the boat falls here (rig x %.3f m); just beyond, %.200s", x,
                   beyond.message);
}

/* Back to where the workspace has to stand for the next expectation. */
static dd_status stand_again(dd_settle *s, dd_error *error)
{
    dd_equilibrium again;
    dd_status status = dd_equilibrium_follow(s->m->workspace, 0, &s->at.pose, s->memory, s->free, true, &again, error);
    return status == DD_ERROR_NO_EQUILIBRIUM ? DD_OK : status; /* found with more pains: the evaluation stands near enough */
}

/* Where the balance at a heel ends: little further on it stands upright, if it stands at all. */
static bool rights_itself(dd_settle *s, double left, dd_error *error)
{
    const double here = s->at.pose.rig[DD_RIG_X];
    for (double way = 0.1 * rights_within; leans(s) && way <= 1.01 * rights_within && way < fabs(left); way += 0.1 * rights_within) {
        move to = {.x = here + copysign(way, left), .strap = dd_settle_strap(s), .rights = true};
        if (go(s, &to, true, error) == DD_OK) return true;
    }
    return false;
}

/* Shorter moves where a longer one finds nothing: only where even the shortest does not, the branch has ended. */
static dd_status follow(dd_settle *s, double x, double strap, dd_error *error)
{
    double step = s->at.tangent[DD_RIG_X] > 0 ? first_move : 0.5 * first_move;
    if (s->held != s->state) { /* the other friction takes hold where the boat lies: that is no move along a branch */
        move to = {.x = s->at.pose.rig[DD_RIG_X], .strap = dd_settle_strap(s)};
        dd_status status = go(s, &to, false, error);
        if (status != DD_OK) return status == DD_ERROR_NO_EQUILIBRIUM ? fall(error, to.x) : status;
        s->held = s->state;
    }
    for (;;) {
        const double here = s->at.pose.rig[DD_RIG_X], out = dd_settle_strap(s);
        const bool winds = !isnan(out) && strap != out;
        const double left = winds ? strap - out : x - here;
        const bool last = fabs(left) <= step;
        move to = {.x = winds ? here : last ? x : here + copysign(step, left),
                   .strap = winds && !last ? out + copysign(step, left) : strap};
        const double way = fmin(step, fabs(left));
        dd_status status = go(s, &to, false, error);
        if (status == DD_ERROR_NO_EQUILIBRIUM && way < shortest_move && !to.asked) status = go(s, &to, true, error);
        if (status == DD_OK && last) {
            if (error != NULL) error->status = DD_OK; /* a longer move may have failed on the way */
            return DD_OK;
        }
        if (status == DD_OK) {
            step = fmin(2 * step, longest_move);
            continue;
        }
        if (status != DD_ERROR_NO_EQUILIBRIUM) return status;
        if (way < shortest_move && !winds && !to.asked && rights_itself(s, left, error)) continue;
        if (way < shortest_move || to.asked) return fall(error, here);
        if (winds && (status = stand_again(s, error)) != DD_OK) return status;
        memset(s->bend, 0, sizeof s->bend); /* something sets in here: what was before tells nothing */
        step = 0.5 * way;
    }
}

dd_status dd_settle_to(dd_settle *s, double x, dd_error *error) { return follow(s, x, dd_settle_strap(s), error); }

dd_status dd_settle_beside(dd_settle *s, double x, const dd_pose *from, const dd_pose *to, dd_error *error)
{
    move as = {.x = x, .strap = dd_settle_strap(s), .beside = {from, to}};
    const size_t size = (size_t)s->m->system->memory_count * sizeof(double);
    if (s->held != s->state || x == s->at.pose.rig[DD_RIG_X] || fabs(x - s->at.pose.rig[DD_RIG_X]) > straight_on) return dd_settle_to(s, x, error);
    double *before = malloc(size + 1);
    if (before == NULL) return dd_fail(error, DD_ERROR_MEMORY, "settle", "no memory for the friction states");
    memcpy(before, s->memory, size);
    const dd_status status = go(s, &as, false, error);
    if (status == DD_OK && error != NULL) error->status = DD_OK;
    if (status == DD_ERROR_NO_EQUILIBRIUM) memcpy(s->memory, before, size); /* friction takes hold of a try too */
    free(before);
    return status == DD_ERROR_NO_EQUILIBRIUM ? dd_settle_to(s, x, error) : status;
}

dd_status dd_settle_strap_to(dd_settle *s, double length, dd_error *error)
{
    dd_status status = stand_again(s, error);
    return status != DD_OK ? status : follow(s, s->at.pose.rig[DD_RIG_X], length, error);
}

dd_status dd_settle_evaluate(const dd_settle *s, int want, dd_error *error)
{
    const dd_motion rest = {{0}, {0}};
    return dd_settle_evaluate_moving(s, &rest, want, error);
}

dd_status dd_settle_evaluate_moving(const dd_settle *s, const dd_motion *motion, int want, dd_error *error)
{
    double *y = calloc((size_t)s->m->system->size, sizeof *y);
    if (y == NULL) return dd_fail(error, DD_ERROR_MEMORY, "settle", "no memory for the state");
    dd_system_pack(s->m->system, &s->at.pose, motion, s->memory, y);
    const int code = dd_system_evaluate(s->m->workspace, 0, y, want);
    free(y);
    return code == 0 ? DD_OK : dd_fail(error, DD_ERROR_NOT_FINITE, "settle", "a force gives a value that is not finite where the boat lies");
}

void dd_settle_end(dd_settle *s)
{
    free(s->memory);
    s->memory = NULL;
}
