/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/settle_parts.h"
#include "lib/base/error.h"
#include "lib/force/strap.h"
#include <stdlib.h>
#include <string.h>

static const double shortest_move = 0.001; /* m */
static const double first_slide = 0.05;    /* a boat that may slide does so where a move of this length finds no balance, m */
static const double first_move = 0.5;      /* m */
static const double longest_move = 4.0;    /* m */
static const double ends_within = 0.1;     /* what a boat takes to stand up or slide on where its balance ends, m */
static const double slip = 0.2;            /* how far a boat afloat may shift at once where its stem passes from part to part of its stop, m */
static const double least_bend = 0.05;     /* a shorter move tells nothing of how the tangent bends, m */
static const double short_of_strap = 0.006; /* within it the boat lies on the strap as it did, m */
static const double straight_on = 0.5;     /* within it the branch goes on along its tangent, m */

/* A move that finds nothing is halved down to this. */
static double shortest(const dd_settle *s) { return s->slides ? first_slide : shortest_move; }

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
    memcpy(to->stiffens, from->stiffens, sizeof to->stiffens);
    memcpy(to->by_strap, from->by_strap, sizeof to->by_strap);
    to->winds = from->winds;
    to->stride = from->stride;
    to->free = from->free;
    to->swings = from->swings;
    to->gripped = from->gripped;
    to->slides = from->slides;
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

/* Where a move leads: rig x and length of strap, and the pose that it should find. */
typedef struct move {
    double x, strap;
    bool past_end; /* the balance ends on the way: to the one that takes the boat up */
    bool asked;   /* nothing moves: the balance next to the pose, however far */
    bool downhill; /* where Newton's method does not lead there from the pose that is expected, by descent */
    const dd_pose *beside[2]; /* from where to where a branch beside this one went; NULL: along the tangent */
    const dd_stiffness_near *stiffens[2]; /* how it became stiffer there; NULL: not known */
    const double *memory; /* of that branch when it had moved; NULL: not known */
    double reach; /* the balance lies no further from the pose that was expected, or it belongs to another branch, m */
} move;

/* Half of the hull: what a turn moves its ends by. */
static double arm_of(const dd_settle *s)
{
    double first, last;
    dd_hull_extent(s->m->hull, &first, &last);
    return 0.5 * (last - first);
}

void dd_settle_move_as(dd_pose *pose, const dd_pose *from, const dd_pose *to)
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
        dd_settle_move_as(&pose, to->beside[0], to->beside[1]);
        to->reach = size * 0.004 + (winds ? 0.1 : 0.01) * way; /* branches side by side go the same way but where something sets in */
    } else if (winds) {
        for (int c = 0; c < DD_COORDINATES; c++) q[c] = s->by_strap[c] * (to->strap - strap);
        dd_pose_displace(&pose, q + DD_HULL_COORDINATE, q);
    } else if (fabs(by) <= straight_on && s->at.tangent[DD_RIG_X] > 0) {
        for (int c = 0; c < DD_COORDINATES; c++) q[c] = s->at.tangent[c] * by + 0.5 * s->bend[c] * by * by;
        dd_pose_displace(&pose, q + DD_HULL_COORDINATE, q);
    } else {
        pose = dd_study_driven(s->m, &pose, to->x);
        to->reach = size * 0.01 + 0.5 * fmin(way, longest_move); /* longer ones are along straight ground */
    }
    if (s->at.tangent[DD_RIG_X] == 0) to->reach = INFINITY; /* the pose is a first guess, on no branch yet */
    pose.rig[DD_RIG_X] = to->x;
    return pose;
}

/* A boat that had leaned over and needs no more than a nudge to stand up: the balance at a heel ends there, the boat's does not. */
static bool comes_upright(const dd_settle *s, const move *to, const dd_equilibrium *next)
{
    const dd_mat3 was = dd_rotation_of(s->at.pose.attitude), is = dd_rotation_of(next->pose.attitude);
    return dd_settle_leans(s) && (to->past_end || fabs(to->x - s->at.pose.rig[DD_RIG_X]) < 2 * shortest(s)) && next->stable && fabs(is.m[2][1]) < fabs(was.m[2][1]);
}

/* Downhill to the balance beside the one that has ended: a boat that may slide, or, the stern afloat, one whose stem shifts from one part of its stop
   to the next. */
static bool may_slip(const dd_settle *s) { return s->slides || !dd_settle_stern_is_carried(s); }

static bool slips(const dd_settle *s, const move *to, const dd_equilibrium *next, double off)
{
    const bool little = to->past_end || fabs(to->x - s->at.pose.rig[DD_RIG_X]) < 2 * shortest(s);
    return little && (s->slides || off < slip) && next->stable && may_slip(s);
}

static dd_status check(const dd_settle *s, const move *to, const dd_pose *expected, const dd_equilibrium *next, dd_error *error)
{
    const double off = dd_pose_distance(expected, &next->pose, arm_of(s));
    if (!dd_settle_pose_alone(s) && !next->stable)
        return dd_fail(error, DD_ERROR_NO_EQUILIBRIUM, "settle",
                       "the boat falls here (rig x %.3f m): its equilibrium is not stable, smallest stiffness %.4g N/m", to->x,
                       next->smallest_stiffness);
    if ((!to->asked || to->beside[0] != NULL) && off > to->reach && !comes_upright(s, to, next) && !slips(s, to, next, off))
        return dd_fail(error, DD_ERROR_NO_EQUILIBRIUM, "settle", "the next place where it lies still is %.3f m off", off);
    return DD_OK;
}

/* Friction at the balance that was found: of rollers that have come to carry since, and of skids that are wet now. */
static dd_status take_hold(dd_settle *s, dd_equilibrium *next, dd_error *error)
{
    dd_status status = DD_OK;
    for (int i = 0; i < 3 && status == DD_OK && s->state != DD_FRICTION_NONE && !dd_study_friction_holds(s->m, s->state, s->memory); i++) {
        if (dd_study_friction(s->m, &next->pose, s->state, s->memory) != DD_OK)
            return dd_fail(error, DD_ERROR_MEMORY, "settle", "no memory for the friction states");
        status = dd_equilibrium_follow_by(s->m->workspace, 0, &next->pose, s->memory, s->free, dd_settle_pose_alone(s), &next->near, next, error);
    }
    return status;
}

/* Where the strap leads from the workspace's evaluation; all 0: nothing is known of it. */
static void find_by_strap(dd_settle *s)
{
    memset(s->by_strap, 0, sizeof s->by_strap);
    memcpy(s->by_strap + DD_HULL_COORDINATE, s->m->workspace->load_by_value[strap_memory(s)], 6 * sizeof(double));
    if (!dd_equilibrium_yield(s->m->workspace, s->free, s->by_strap)) memset(s->by_strap, 0, sizeof s->by_strap);
}

/* Here now; how the tangent bends tells where the next move leads. */
static void stand(dd_settle *s, const dd_equilibrium *next)
{
    const double by = next->pose.rig[DD_RIG_X] - s->at.pose.rig[DD_RIG_X];
    const bool bends = fabs(by) >= least_bend && fabs(by) <= straight_on && s->at.tangent[DD_RIG_X] > 0 && next->tangent[DD_RIG_X] > 0;
    const bool stiffens = bends && next->near.free != 0 && next->near.free == s->at.near.free;
    for (int c = 0; c < DD_COORDINATES; c++) s->bend[c] = bends ? (next->tangent[c] - s->at.tangent[c]) / by : 0;
    for (int r = 0; r < DD_COORDINATES; r++)
        for (int c = 0; c < DD_COORDINATES; c++) s->stiffens[r][c] = stiffens ? (next->near.K[r][c] - s->at.near.K[r][c]) / by : 0;
    s->at = *next;
    s->at.gripped = s->gripped;
}

static bool winds_little(const dd_settle *s, const move *to)
{
    return to->x == s->at.pose.rig[DD_RIG_X] && fabs(to->strap - dd_settle_strap(s)) < short_of_strap;
}

/* K where a move is expected to lead: as a branch beside this one became stiffer, or by what it was here. */
static void guess_stiffness(const dd_settle *s, const move *to, dd_stiffness_near *near)
{
    const double by = to->x - s->at.pose.rig[DD_RIG_X];
    const bool beside = to->stiffens[0] != NULL, along = s->state == DD_FRICTION_NONE && dd_settle_strap(s) == to->strap;
    *near = s->at.near;
    if (beside) dd_stiffness_as(near, to->stiffens[0], to->stiffens[1]);
    if (!beside && (to->asked || to->beside[0] != NULL || !(along || winds_little(s, to)))) near->free = 0;
    for (int r = 0; r < DD_COORDINATES && near->free != 0 && !beside && fabs(by) <= straight_on; r++)
        for (int c = 0; c < DD_COORDINATES; c++) near->K[r][c] += s->stiffens[r][c] * by;
}

/* Friction where a move leads to: rollers that carry on the branch beside this one will here. */
static dd_status expect_friction(dd_settle *s, const move *to, const dd_pose *expected)
{
    if (to->asked && (to->beside[0] == NULL || s->state == DD_FRICTION_NONE)) return dd_study_friction(s->m, expected, s->state, s->memory);
    if (to->memory != NULL) dd_study_friction_join(s->m, s->state, to->memory, s->memory);
    return DD_OK;
}

/* What is known of the strap's way stays known where it is wound by little. */
static void keep_by_strap(dd_settle *s, const dd_equilibrium *next, bool little)
{
    if (s->winds && !next->near.guessed)
        find_by_strap(s);
    else if (!little)
        s->winds = false;
}

/* slowly: with the search that creeps up to supports which only just touch. */
static dd_status go(dd_settle *s, move *to, bool slowly, dd_error *error)
{
    dd_equilibrium next;
    if (s->swings && dd_settle_stern_is_carried(s)) s->swings = false, s->free |= DD_FREE_HULL_HEADING;
    if (s->gripped && !dd_settle_leans(s)) s->gripped = false, s->free |= DD_FREE_HULL_SIDEWAYS | DD_FREE_HULL_HEADING;
    const dd_pose from = expect(s, to);
    const int strap = strap_memory(s);
    const double before = dd_settle_strap(s);
    const bool little = winds_little(s, to);
    dd_stiffness_near near;
    guess_stiffness(s, to, &near);
    if (strap >= 0) s->memory[strap] = to->strap;
    if (expect_friction(s, to, &from) != DD_OK)
        return dd_fail(error, DD_ERROR_MEMORY, "settle", "no memory for the friction states");
    dd_status status = slowly ? DD_ERROR_NO_EQUILIBRIUM
                              : dd_equilibrium_follow_by(s->m->workspace, 0, &from, s->memory, s->free, dd_settle_pose_alone(s), &near, &next, error);
    if (status == DD_ERROR_NO_EQUILIBRIUM && to->downhill) status = dd_settle_slip_down(s, &from, &next, error);
    if (status == DD_ERROR_NO_EQUILIBRIUM && ((slowly && !s->slides) || (to->asked && to->beside[0] == NULL)))
        status = (isinf(to->reach) || to->asked ? dd_equilibrium_find : dd_equilibrium_creep)(s->m->workspace, 0, &from, s->memory, s->free, &next, error);
    if (status == DD_ERROR_NO_EQUILIBRIUM && slowly && !s->slides && dd_settle_leans(s)) status = dd_settle_stand_up(s, &from, &next, error);
    if (status == DD_ERROR_NO_EQUILIBRIUM && slowly && (s->slides || (!dd_settle_leans(s) && may_slip(s)))) status = dd_settle_slip_down(s, &from, &next, error);
    if (status == DD_OK) status = take_hold(s, &next, error);
    if (status == DD_OK && !dd_settle_pose_alone(s) && !next.stable) dd_settle_keep_heading(s, &next);
    if (status == DD_OK && slowly && s->slides && !dd_settle_pose_alone(s) && !next.stable) status = dd_settle_slide_off(s, &next, error);
    const bool upright = status != DD_OK || dd_settle_pose_alone(s) || next.stable;
    if (!upright && !s->stays_upright) dd_settle_lean_over(s, &next);
    if (status == DD_OK) status = check(s, to, upright || !next.stable ? &from : &next.pose, &next, error);
    if (status == DD_OK) {
        stand(s, &next);
        keep_by_strap(s, &next, little);
    } else if (strap >= 0) {
        s->memory[strap] = before;
    }
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

/* Looks where the strap leads from here. */
static dd_status begin_to_wind(dd_settle *s, dd_error *error)
{
    dd_status status = s->winds || strap_memory(s) < 0 ? DD_OK : dd_settle_evaluate(s, DD_WANT_STIFFNESS, error);
    if (status != DD_OK || s->winds || strap_memory(s) < 0) return status;
    s->winds = true;
    find_by_strap(s);
    return DD_OK;
}

/* Where the balance ends: little further on a boat that leaned stands upright, if it stands at all, and one that may slide is driven by more than
   rounding. */
static bool goes_on(dd_settle *s, double left, dd_error *error)
{
    const double here = s->at.pose.rig[DD_RIG_X];
    for (double way = 0.1 * ends_within; (s->slides || dd_settle_leans(s)) && way <= 1.01 * ends_within && way < fabs(left); way += 0.1 * ends_within) {
        move to = {.x = here + copysign(way, left), .strap = dd_settle_strap(s), .past_end = true};
        if (go(s, &to, true, error) == DD_OK) return true;
    }
    return false;
}

/* Shorter moves where a longer one finds nothing: only where even the shortest does not, the branch has ended. */
static dd_status follow(dd_settle *s, double x, double strap, dd_error *error)
{
    double step = s->at.tangent[DD_RIG_X] > 0 ? fmax(first_move, s->stride) : 0.5 * first_move;
    if (s->held != s->state) { /* the other friction takes hold where the boat lies: that is no move along a branch */
        move to = {.x = s->at.pose.rig[DD_RIG_X], .strap = dd_settle_strap(s)};
        dd_status status = go(s, &to, false, error);
        if (status != DD_OK) return status == DD_ERROR_NO_EQUILIBRIUM ? fall(error, to.x) : status;
        s->held = s->state;
    }
    bool downhill = s->pose_alone && s->state == DD_FRICTION_NONE; /* once: where something just touches shorter moves find no more */
    for (;;) {
        const double here = s->at.pose.rig[DD_RIG_X], out = dd_settle_strap(s);
        const bool winds = !isnan(out) && strap != out;
        const double left = winds ? strap - out : x - here;
        const double straight = winds || fabs(left) <= step ? 0 : dd_study_straight_way(s->m, &s->at.pose, x);
        if (straight > step) step = straight;
        const bool last = fabs(left) <= step;
        move to = {.x = winds ? here : last ? x : here + copysign(step, left),
                   .strap = winds && !last ? out + copysign(step, left) : strap,
                   .downhill = downhill && last};
        downhill &= !last;
        const double way = fmin(step, fabs(left));
        dd_status status = go(s, &to, false, error);
        if (status == DD_ERROR_NO_EQUILIBRIUM && way < shortest(s) && !to.asked) status = go(s, &to, true, error);
        if (status == DD_OK) s->stride = winds ? 0 : fmin(step, longest_move);
        if (status == DD_OK && last) {
            if (error != NULL) error->status = DD_OK; /* a longer move may have failed on the way */
            return DD_OK;
        }
        if (status == DD_OK) {
            step = fmin(2 * step, longest_move);
            continue;
        }
        if (status != DD_ERROR_NO_EQUILIBRIUM) return status;
        if (way < shortest(s) && !winds && !to.asked && goes_on(s, left, error)) continue;
        if (way < shortest(s) || to.asked) return fall(error, here);
        memset(s->stiffens, 0, sizeof s->stiffens);
        memset(s->bend, 0, sizeof s->bend); /* something sets in here: what was before tells nothing */
        step = 0.5 * way;
    }
}

dd_status dd_settle_to(dd_settle *s, double x, dd_error *error) { return follow(s, x, dd_settle_strap(s), error); }

/* Beside another branch, else by itself. */
static dd_status follow_as(dd_settle *s, const move *as, dd_error *error)
{
    move to = *as;
    const size_t size = (size_t)s->m->system->memory_count * sizeof(double);
    double *before = malloc(size + 1);
    if (before == NULL) return dd_fail(error, DD_ERROR_MEMORY, "settle", "no memory for the friction states");
    memcpy(before, s->memory, size);
    const dd_status status = go(s, &to, false, error);
    if (status == DD_OK && error != NULL) error->status = DD_OK;
    if (status == DD_OK) s->held = s->state;
    if (status == DD_ERROR_NO_EQUILIBRIUM) memcpy(s->memory, before, size); /* friction takes hold of a try too */
    free(before);
    if (status != DD_ERROR_NO_EQUILIBRIUM) return status;
    return isnan(to.strap) || to.strap == dd_settle_strap(s) ? dd_settle_to(s, to.x, error) : dd_settle_strap_to(s, to.strap, error);
}

dd_status dd_settle_beside(dd_settle *s, double x, const dd_pose *from, const dd_pose *to, dd_error *error)
{
    const move as = {.x = x, .strap = dd_settle_strap(s), .beside = {from, to}};
    const double by = fabs(x - s->at.pose.rig[DD_RIG_X]);
    return s->held != s->state || by == 0 || by > straight_on ? dd_settle_to(s, x, error) : follow_as(s, &as, error);
}

dd_status dd_settle_along(dd_settle *s, double x, double strap, const dd_equilibrium *from, const dd_equilibrium *to, const double *memory, dd_error *error)
{
    const move as = {.x = x, .strap = strap, .beside = {&from->pose, &to->pose}, .stiffens = {&from->near, &to->near}, .memory = memory};
    return follow_as(s, &as, error);
}

dd_status dd_settle_strap_to(dd_settle *s, double length, dd_error *error)
{
    dd_status status = begin_to_wind(s, error);
    return status != DD_OK ? status : follow(s, s->at.pose.rig[DD_RIG_X], length, error);
}

static dd_status state_of(const dd_settle *s, const dd_motion *motion, double **y, dd_error *error)
{
    *y = calloc((size_t)s->m->system->size, sizeof **y);
    if (*y == NULL) return dd_fail(error, DD_ERROR_MEMORY, "settle", "no memory for the state");
    dd_system_pack(s->m->system, &s->at.pose, motion, s->memory, *y);
    return DD_OK;
}

static dd_status not_finite(dd_error *error)
{
    return dd_fail(error, DD_ERROR_NOT_FINITE, "settle", "a force gives a value that is not finite where the boat lies");
}

dd_status dd_settle_evaluate(const dd_settle *s, int want, dd_error *error)
{
    const dd_motion rest = {{0}, {0}};
    double *y;
    const dd_status status = state_of(s, &rest, &y, error);
    if (status != DD_OK) return status;
    const int code = dd_system_evaluate(s->m->workspace, 0, y, want);
    free(y);
    return code == 0 ? DD_OK : not_finite(error);
}

dd_status dd_settle_heat(const dd_settle *s, const dd_motion *motion, const dd_force_kind *but, double *heat, dd_error *error)
{
    double *y;
    const dd_status status = state_of(s, motion, &y, error);
    if (status != DD_OK) return status;
    *heat = dd_system_heat(s->m->workspace, 0, y, but);
    free(y);
    return isfinite(*heat) ? DD_OK : not_finite(error);
}

void dd_settle_end(dd_settle *s)
{
    free(s->memory);
    s->memory = NULL;
}
