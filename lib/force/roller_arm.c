/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rollers on a pivoting arm. The arm has no inertia: its angle is a memory,

     c d(angle)/dt = M,   M = moment of the contacts about the pivot + weight + stops.

   With e the axis and o the pivot in boat axes, L = (e x o, -e): a wrench W of the arm's rollers on the hull turns the arm by the
   moment L.W, and an arm that turns at rate q makes the hull's twist relative to its rollers greater by q L. So the contacts'
   damping and friction see the arm's motion, and their moment depends on q: the one equation c q = M(q), whose M never grows
   with q (lib/force/bristle.h), is solved by Newton's method within a bracket, and all gradients take it into account. Then power on the hull + d(energy)/dt + heat = 0 with the squash,
   the weight and the stops as energy and c q^2 beside the contacts' heat. The weight acts along the trailer's own Z: its turning
   with the ramp changes the moment of an empty arm by a hundredth. */
#include "lib/force/roller_patch.h"
#include <string.h>

/* A turn about an axis. */
typedef struct turn {
    dd_vec3 axis;
    double cosine, sine;
} turn;

static turn turn_by(dd_vec3 axis, double angle) { return (turn){axis, cos(angle), sin(angle)}; }

static dd_vec3 turned(dd_vec3 a, const turn *t)
{
    return dd_add(dd_add(dd_scale(t->cosine, a), dd_scale(t->sine, dd_cross(t->axis, a))),
                  dd_scale((1 - t->cosine) * dd_dot(t->axis, a), t->axis));
}

static void turn_roller(const dd_arm *arm, const turn *by, dd_vec3 *centre, dd_vec3 *axis)
{
    *centre = dd_add(arm->pivot, turned(dd_sub(*centre, arm->pivot), by));
    *axis = turned(*axis, by);
}

void dd_arm_turn(const dd_arm *arm, double angle, dd_vec3 *centre, dd_vec3 *axis)
{
    const turn by = turn_by(arm->axis, angle);
    turn_roller(arm, &by, centre, axis);
}

/* Weight and stops; the weight's part beside. */
typedef struct own_moment {
    double value, by_angle, energy, weight, weight_by_angle;
} own_moment;
static own_moment own_moment_at(const dd_arm *arm, const turn *by, double angle, double gravity)
{
    dd_vec3 centre = turned(arm->centre, by), rate = dd_cross(arm->axis, centre);
    own_moment m = {-arm->mass * gravity * rate.z, -arm->mass * gravity * dd_cross(arm->axis, rate).z,
                    arm->mass * gravity * centre.z, 0, 0};
    m.weight = m.value, m.weight_by_angle = m.by_angle;
    for (int end = 0; end < 2; end++) {
        dd_squash stop = dd_squash_at(arm->stop_stiffness, 0, end == 0 ? arm->least - angle : angle - arm->most, 0);
        m.value += end == 0 ? stop.elastic : -stop.elastic;
        m.by_angle -= stop.elastic_by_depth;
        m.energy += stop.energy;
    }
    return m;
}

typedef struct group {
    const dd_roller_instance *instance;
    const dd_arm *arm;
    int count;
    double angle, rate;       /* of the arm */
    dd_vec3 axis, pivot;      /* boat axes */
    dd_vec3 linear, angular;  /* L */
    own_moment own;
    dd_roller_state states[DD_ROLLERS];
} group;

static double along_lever(const group *g, const double wrench[6])
{
    return g->linear.x * wrench[0] + g->linear.y * wrench[1] + g->linear.z * wrench[2] + g->angular.x * wrench[3] +
           g->angular.y * wrench[4] + g->angular.z * wrench[5];
}

static void place(group *g, const dd_roller_instance *instance, int arm, const dd_kinematics *k, const double *memory, double angle,
                  int with_gradient)
{
    g->instance = instance;
    g->arm = &instance->rig->arms[arm];
    const turn by = turn_by(g->arm->axis, angle);
    g->count = g->arm->count;
    g->angle = angle;
    g->axis = dd_apply_transposed(&k->to_trailer, g->arm->axis);
    g->pivot = dd_apply_transposed(&k->to_trailer, dd_sub(g->arm->pivot, k->pose.position));
    g->linear = dd_cross(g->axis, g->pivot);
    g->angular = dd_scale(-1, g->axis);
    g->own = own_moment_at(g->arm, &by, angle, instance->gravity);
    for (int i = 0; i < g->count; i++) {
        const int index = g->arm->first + i;
        const dd_roller *roller = &instance->rig->rollers[index];
        dd_vec3 centre = roller->centre, axle = roller->axis;
        turn_roller(g->arm, &by, &centre, &axle);
        dd_roller_press(&g->states[i], instance, roller, k, centre, axle, with_gradient);
        g->states[i].value = memory + DD_BRISTLES * index;
        for (int b = 0; b < DD_BRISTLES; b++) g->states[i].limit[b] = dd_roller_friction_limit(instance, index, b, memory);
    }
}

/* Forces with the arm turning at a rate; returns its moment less what the pivot resists. */
static double move(group *g, const double twist[6], double rate)
{
    double sum = g->own.value - g->arm->damping * rate;
    g->rate = rate;
    for (int i = 0; i < g->count; i++) {
        dd_roller_state *s = &g->states[i];
        s->linear = dd_add(dd_vec(twist[0], twist[1], twist[2]), dd_scale(rate, g->linear));
        s->angular = dd_add(dd_vec(twist[3], twist[4], twist[5]), dd_scale(rate, g->angular));
        if (s->patch_count == 0) continue;
        dd_load load = {0};
        double ignored[DD_BRISTLES] = {0};
        dd_roller_rub(s, &g->instance->arm_law);
        dd_roller_add(s, &load, ignored);
        sum += along_lever(g, load.hull);
    }
    return sum;
}

/* What the arm's own turning rate does to one roller. */
static void by_rate(const group *g, int i, double wrench[6], double rate[DD_BRISTLES])
{
    const dd_variation turning = {.linear = g->linear, .angular = g->angular};
    dd_roller_vary(&g->states[i], &turning, wrench, rate);
}

/* d(moment less the pivot's resistance)/d(rate), below 0. */
static double moment_by_rate(const group *g)
{
    double sum = -g->arm->damping, wrench[6], rate[DD_BRISTLES];
    for (int i = 0; i < g->count; i++) {
        if (g->states[i].patch_count == 0) continue;
        by_rate(g, i, wrench, rate);
        sum += along_lever(g, wrench);
    }
    return sum;
}

/* Newton's method within a bracket; halved where a step is not half of the last but one, since M's bends let Newton's steps go to and
   fro between two rates for ever. */
static void solve_rate(group *g, const double twist[6])
{
    static const double small = 1e-15; /* rad/s */
    double rate = 0, low = -INFINITY, high = INFINITY, before = INFINITY, last = INFINITY;
    for (int i = 0; i < 200; i++) {
        double left = move(g, twist, rate);
        if (left > 0)
            low = rate;
        else
            high = rate;
        double next = rate + left / fmax(-moment_by_rate(g), 0.05 * g->arm->damping);
        if (isfinite(low) && isfinite(high) && !(next > low && next < high && fabs(next - rate) <= 0.5 * before)) next = 0.5 * (low + high);
        if (left == 0 || fabs(next - rate) <= 1e-14 * fabs(rate) + small) return;
        before = last;
        last = fabs(next - rate);
        rate = next;
    }
}

/* Moments on the arm held at an angle with the hull still: sums of those that turn it up and of those that turn it down, and about how
   fast the one falls and the other grows with the angle: the surface's bend and the friction left out, which the contacts' stiffness
   outweighs. Each grows about as the squash to the power of 1.5, so that balance is looked for between their powers of 2/3, which are
   all but straight: where the weight of an arm holds a roller to the hull, Newton's method by the moment itself takes a score of steps. */
typedef struct held_at {
    double angle, moment;
    double up, down, up_falls, down_grows;
    bool touches;      /* rollers or a stop bear: off is by the powers, else the weight's moment */
    double off, slope; /* what is 0 at balance, and about how fast it falls with the angle */
} held_at;

static void add_moment(held_at *at, double moment, double slope)
{
    at->moment += moment;
    if (moment > 0)
        at->up += moment, at->up_falls += slope;
    else
        at->down -= moment, at->down_grows += slope;
}

static double patch_moment(const group *g, const dd_roller_state *s, const dd_patch *q)
{
    double wrench[6] = {0};
    dd_wrench_add(wrench, q->normal_force, q->at);
    if (q->keel) dd_wrench_add(wrench, q->share_force, s->p);
    dd_wrench_add(wrench, q->friction, q->point);
    return along_lever(g, wrench);
}

static held_at held(group *g, const dd_roller_instance *instance, int arm, const dd_kinematics *k, const double *memory, double angle)
{
    place(g, instance, arm, k, memory, angle, 0);
    held_at at = {.angle = angle};
    add_moment(&at, g->own.weight, -g->own.weight_by_angle);
    add_moment(&at, g->own.value - g->own.weight, g->own.weight_by_angle - g->own.by_angle);
    at.touches = g->own.value != g->own.weight;
    for (int i = 0; i < g->count; i++) {
        dd_roller_state *s = &g->states[i];
        if (s->patch_count == 0) continue;
        at.touches = true;
        s->linear = s->angular = dd_vec(0, 0, 0);
        dd_roller_rub(s, &instance->arm_law);
        const dd_vec3 moved = dd_cross(g->axis, dd_sub(s->p, g->pivot));
        for (int j = 0; j < s->patch_count; j++) {
            const dd_patch *q = &s->patches[j];
            const double depth = q->slant * dd_dot(q->normal, moved);
            add_moment(&at, patch_moment(g, s, q), q->share * q->squash.elastic_by_depth * depth * depth);
        }
    }
    const double up = cbrt(at.up), down = cbrt(at.down);
    at.off = at.touches ? up * up - down * down : at.moment;
    at.slope = at.touches ? ((up > 0 ? at.up_falls / up : 0) + (down > 0 ? at.down_grows / down : 0)) / 1.5 : at.up_falls + at.down_grows;
    return at;
}

static double step_from(const held_at *at) { return at->off / at->slope; }

/* By the slope since another place, unless something has set in or let go between them. */
static void straighten(held_at *at, const held_at *other)
{
    const double secant = other->touches == at->touches ? (other->off - at->off) / (at->angle - other->angle) : NAN;
    if (secant > 0.5 * at->slope && secant < 2 * at->slope) at->slope = secant;
}

/* Between two angles, the moment turning it up at the one and down at the other: from the nearer of both (from where it touches, if it
   does not at the other) by what its slope tells, or halfway. */
static double between(const held_at *low, const held_at *high, bool halve)
{
    const bool lower = low->touches != high->touches ? low->touches : fabs(step_from(low)) < fabs(step_from(high));
    const held_at *near = lower ? low : high;
    const double next = near->angle + step_from(near);
    return !halve && next > low->angle && next < high->angle ? next : 0.5 * (low->angle + high->angle);
}

/* The moment falls as the angle grows: Newton's method within a bracket that opens from where the arm stands, from the second step on
   by the slope between the last two, and by halving where that does not come nearer. */
double dd_arm_at_rest(const dd_roller_instance *instance, int arm, const dd_kinematics *k, const double *memory)
{
    static const double beyond = 0.1, slow = 1e-10; /* rad past a stop: no load turns it further; rad/s: it rests */
    static const double first_step = 2e-3;          /* rad */
    const dd_arm *a = &instance->rig->arms[arm];
    group g;
    const double least = a->least - beyond, most = a->most + beyond;
    double step = first_step, way = INFINITY;
    held_at low = {.angle = least}, high = {.angle = most}; /* between these it rests */
    held_at at = held(&g, instance, arm, k, memory, fmax(least, fmin(most, memory[dd_roller_arm_first(instance) + arm]))), best = at;
    bool from_below = false, from_above = false; /* whether the moment has been seen on that side */
    for (int i = 0; i < 200 && fabs(at.moment) > slow * a->damping; i++) {
        *(at.moment > 0 ? &low : &high) = at;
        *(at.moment > 0 ? &from_below : &from_above) = true;
        if (!(high.angle - low.angle > 1e-15 * fmax(fabs(low.angle), fabs(high.angle)) + 1e-18)) break;
        double next = at.angle + step_from(&at);
        if (from_below && from_above) {
            const double now = low.touches != high.touches ? fabs(step_from(low.touches ? &low : &high)) : fmin(fabs(step_from(&low)), fabs(step_from(&high)));
            const bool stalled = now > 0.5 * way;
            next = between(&low, &high, stalled);
            way = stalled ? INFINITY : now;
        } else if (!(fabs(next - at.angle) <= step)) {
            next = at.angle + copysign(step, at.moment), step *= 8;
        }
        const held_at before = at;
        at = held(&g, instance, arm, k, memory, fmax(least, fmin(most, next)));
        straighten(&at, &before);
        if (fabs(at.moment) < fabs(best.moment)) best = at;
    }
    return best.angle;
}

/* --- gradient --------------------------------------------------------------------------------------------------- */

/* Answer of all the arm's rollers to one change. */
typedef struct answer {
    double wrench[6], rate[DD_ROLLERS][DD_BRISTLES], arm_rate;
} answer;

static void add_answer(const group *g, int i, const dd_variation *change, answer *a)
{
    double wrench[6];
    dd_roller_vary(&g->states[i], change, wrench, a->rate[i]);
    for (int c = 0; c < 6; c++) a->wrench[c] += wrench[c];
}

/* The arm's rate changes so that its moments stay balanced: by the wrench's change and by `direct`, a change of moment beside it. */
static void close_answer(const group *g, const answer *turning, double direct, answer *a)
{
    a->arm_rate = (along_lever(g, a->wrench) + direct) / (g->arm->damping - along_lever(g, turning->wrench));
    for (int c = 0; c < 6; c++) a->wrench[c] += a->arm_rate * turning->wrench[c];
    for (int i = 0; i < g->count; i++)
        for (int b = 0; b < DD_BRISTLES; b++) a->rate[i][b] += a->arm_rate * turning->rate[i][b];
}

static void answer_to_pose(const group *g, const double wrench[6], const answer *turning, int j, answer *a)
{
    const dd_vec3 zero = {0, 0, 0}, e = dd_vec(j % 3 == 0, j % 3 == 1, j % 3 == 2);
    const int turns = j >= 3;
    dd_vec3 axis = turns ? dd_cross(g->axis, e) : zero, pivot = turns ? dd_cross(g->pivot, e) : dd_scale(-1, e);
    dd_vec3 linear = dd_add(dd_cross(axis, g->pivot), dd_cross(g->axis, pivot));
    memset(a, 0, sizeof *a);
    for (int i = 0; i < g->count; i++) {
        const dd_roller_state *s = &g->states[i];
        const dd_variation moved = {.p = turns ? dd_cross(s->p, e) : dd_scale(-1, e), .axle = turns ? dd_cross(s->axle, e) : zero,
                                    .linear = dd_scale(g->rate, linear), .angular = dd_scale(-g->rate, axis)};
        add_answer(g, i, &moved, a);
    }
    double direct = linear.x * wrench[0] + linear.y * wrench[1] + linear.z * wrench[2] - axis.x * wrench[3] - axis.y * wrench[4] -
                    axis.z * wrench[5];
    close_answer(g, turning, direct, a);
}

static void answer_to_twist(const group *g, const answer *turning, int j, answer *a)
{
    const dd_vec3 zero = {0, 0, 0}, e = dd_vec(j % 3 == 0, j % 3 == 1, j % 3 == 2);
    const dd_variation faster = {.linear = j < 3 ? e : zero, .angular = j < 3 ? zero : e};
    memset(a, 0, sizeof *a);
    for (int i = 0; i < g->count; i++) add_answer(g, i, &faster, a);
    close_answer(g, turning, 0, a);
}

static void answer_to_angle(const group *g, const answer *turning, answer *a)
{
    memset(a, 0, sizeof *a);
    for (int i = 0; i < g->count; i++) {
        const dd_roller_state *s = &g->states[i];
        const dd_variation moved = {.p = dd_cross(g->axis, dd_sub(s->p, g->pivot)), .axle = dd_cross(g->axis, s->axle)};
        add_answer(g, i, &moved, a);
    }
    close_answer(g, turning, g->own.by_angle, a);
}

/* Into the rows of the rates and the column of one memory. */
static void store_memory(const group *g, const answer *a, const dd_memory *memory, int column, int theta, int count)
{
    if (memory->load_by_value)
        for (int c = 0; c < 6; c++) memory->load_by_value[column][c] += a->wrench[c];
    const int first = DD_BRISTLES * g->arm->first;
    for (int m = 0; m <= DD_BRISTLES * g->count; m++) {
        const int row = m < DD_BRISTLES * g->count ? first + m : theta;
        const double value = row == theta ? a->arm_rate : a->rate[m / DD_BRISTLES][m % DD_BRISTLES];
        if (row != column && memory->rate_by_values) memory->rate_by_values[row * count + column] = value;
        if (row == column && memory->rate_by_value) memory->rate_by_value[row] = value;
    }
}

static void differentiate(const group *g, const dd_kinematics *k, const double wrench[6], dd_gradient *gradient, const dd_memory *memory, int theta)
{
    const int first = DD_BRISTLES * g->arm->first, wet_first = dd_roller_wet_first(g->instance);
    const int count = dd_roller_arm_first(g->instance) + g->instance->rig->arm_count;
    answer turning = {.arm_rate = 1}, a;
    for (int i = 0; i < g->count; i++) {
        double w[6];
        by_rate(g, i, w, turning.rate[i]);
        for (int c = 0; c < 6; c++) turning.wrench[c] += w[c];
    }
    for (int j = 0; j < 6; j++) {
        if ((k->leave_out & (1 << j)) != 0) continue;
        answer_to_pose(g, wrench, &turning, j, &a);
        for (int c = 0; c < 6; c++) gradient->K[c][j] -= a.wrench[c];
        if (memory->rate_by_pose) memory->rate_by_pose[theta][j] = a.arm_rate;
        if ((k->leave_out & DD_LEAVE_OUT_GRIP) != 0) continue;
        for (int m = 0; m < DD_BRISTLES * g->count && memory->rate_by_pose; m++)
            memory->rate_by_pose[first + m][j] = a.rate[m / DD_BRISTLES][m % DD_BRISTLES];
        answer_to_twist(g, &turning, j, &a);
        for (int c = 0; c < 6; c++) gradient->D[c][j] -= a.wrench[c];
        if (!memory->rate_by_twist) continue;
        memory->rate_by_twist[theta][j] = a.arm_rate;
        for (int m = 0; m < DD_BRISTLES * g->count; m++)
            memory->rate_by_twist[first + m][j] = a.rate[m / DD_BRISTLES][m % DD_BRISTLES];
    }
    answer_to_angle(g, &turning, &a);
    store_memory(g, &a, memory, theta, theta, count);
    for (int m = 0; m < DD_BRISTLES * g->count; m++) {
        const dd_variation bent = {.value = {m % DD_BRISTLES == DD_ACROSS, m % DD_BRISTLES == DD_ROLLING}};
        memset(&a, 0, sizeof a);
        add_answer(g, m / DD_BRISTLES, &bent, &a);
        close_answer(g, &turning, 0, &a);
        store_memory(g, &a, memory, first + m, theta, count);
    }
    if (g->count == 0 || g->states[0].roller->skid == 0) return;
    const int skid = g->states[0].roller->skid - 1;
    memset(&a, 0, sizeof a);
    for (int i = 0; i < g->count; i++) {
        const dd_variation wetter = {.limit = dd_skid_friction(g->states[i].roller, memory->value[wet_first + skid]).slope};
        add_answer(g, i, &wetter, &a);
    }
    close_answer(g, &turning, 0, &a);
    store_memory(g, &a, memory, wet_first + skid, theta, count);
}

void dd_arm_evaluate(const dd_roller_instance *instance, int arm, const dd_kinematics *k, const dd_memory *memory, dd_load *load,
                     dd_gradient *gradient, double *channels, int channel_count, dd_roller_channels channels_of)
{
    const int theta = dd_roller_arm_first(instance) + arm;
    group g;
    dd_load own = {0};
    place(&g, instance, arm, k, memory->value, memory->value[theta], gradient != NULL);
    solve_rate(&g, k->relative_twist);
    for (int i = 0; i < g.count; i++) {
        const int index = g.arm->first + i;
        dd_roller_add(&g.states[i], &own, memory->rate + DD_BRISTLES * index);
        if (channels) channels_of(instance, &g.states[i], memory->value, channels + channel_count * index);
    }
    memory->rate[theta] = g.rate;
    for (int c = 0; c < 6; c++) load->hull[c] += own.hull[c];
    load->energy += own.energy + g.own.energy;
    load->heat += own.heat + g.arm->damping * g.rate * g.rate;
    if (gradient) differentiate(&g, k, own.hull, gradient, memory, theta);
}
