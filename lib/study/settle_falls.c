/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the balance that a branch of equilibria is at gives way: a stern that swings, a boat that leans over, stands up or slips on. */
#include "lib/study/settle_parts.h"
#include "lib/force/roller.h"

static const double first_lean = 0.01 / 57.295779513082320877, lean_step = 0.5 / 57.295779513082320877, most_lean = 15.0 / 57.295779513082320877; /* rad */

bool dd_settle_leans(const dd_settle *s)
{
    return s->lean != 0 && fabs(dd_rotation_of(s->at.pose.attitude).m[2][1]) > 1e-6;
}

/* --- a stern that swings ---------------------------------------------------------------------------------------- */

/* Whether a support at its centre or aft of it carries the boat. */
bool dd_settle_stern_is_carried(const dd_settle *s)
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

void dd_settle_keep_heading(dd_settle *s, dd_equilibrium *next)
{
    dd_equilibrium at;
    if (dd_equilibrium_follow(s->m->workspace, 0, &next->pose, s->memory, s->free & ~DD_FREE_HULL_HEADING, false, &at, NULL) != DD_OK || !at.stable ||
        (dd_settle_stern_is_carried(s) && !s->slides))
        return;
    *next = at;
    s->swings = true;
    s->free &= ~DD_FREE_HULL_HEADING;
}

dd_status dd_settle_slip_down(dd_settle *s, const dd_pose *from, dd_equilibrium *next, dd_error *error)
{
    static const double balance = 1e-9; /* of the weight */
    dd_pose pose = *from;
    dd_status status = dd_equilibrium_descend(s->m->workspace, 0, &pose, s->memory, s->free, balance, error);
    return status != DD_OK ? status : dd_equilibrium_follow(s->m->workspace, 0, &pose, s->memory, s->free, dd_settle_pose_alone(s), next, error);
}

dd_status dd_settle_slide_off(dd_settle *s, dd_equilibrium *next, dd_error *error)
{
    static const double push = 0.01; /* m, rad */
    const dd_equilibrium top = *next;
    dd_status status = DD_ERROR_NO_EQUILIBRIUM;
    for (int side = -1; side <= 1; side += 2) {
        dd_pose pose = top.pose;
        dd_equilibrium found;
        double q[DD_COORDINATES];
        for (int c = 0; c < DD_COORDINATES; c++) q[c] = side * push * top.gives_way[c];
        dd_pose_displace(&pose, q + DD_HULL_COORDINATE, q);
        const dd_status here = dd_settle_slip_down(s, &pose, &found, error);
        if (here == DD_ERROR_MEMORY) return here;
        if (here != DD_OK || (status == DD_OK && dd_pose_distance(&top.pose, &next->pose, 1) <= dd_pose_distance(&top.pose, &found.pose, 1))) continue;
        *next = found;
        status = DD_OK;
    }
    return status;
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

void dd_settle_lean_over(dd_settle *s, dd_equilibrium *next)
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

dd_status dd_settle_stand_up(dd_settle *s, const dd_pose *from, dd_equilibrium *next, dd_error *error)
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

