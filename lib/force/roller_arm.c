/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rollers on a pivoting arm. The arm has no inertia: its angle is a memory,

     c d(angle)/dt = M,   M = moment of the contacts about the pivot + weight + stops.

   With e the axis and o the pivot in boat axes, L = (e x o, -e): a wrench W of the arm's rollers on the hull turns the arm by the
   moment L.W, and an arm that turns at rate q makes the hull's twist relative to its rollers greater by q L. So the contacts'
   damping and friction see the arm's motion, and their moment depends on q: the one equation c q = M(q), whose M never grows
   with q (lib/force/bristle.h), is solved by Newton's method within a bracket, and all gradients take it into account. Then power on the hull + d(energy)/dt + heat = 0 with the squash,
   the weight and the stops as energy and c q^2 beside the contacts' heat. The weight acts along the trailer's own Z: its turning
   with the ramp changes the moment of an empty arm by a hundredth. */
#include "lib/force/roller_arm.h"
#include <string.h>

static void turn_roller(const dd_arm *arm, const dd_turn *by, dd_vec3 *centre, dd_vec3 *axis)
{
    *centre = dd_add(arm->pivot, dd_turned(dd_sub(*centre, arm->pivot), by));
    *axis = dd_turned(*axis, by);
}

void dd_arm_turn(const dd_arm *arm, double angle, dd_vec3 *centre, dd_vec3 *axis)
{
    const dd_turn by = dd_turn_by(arm->axis, angle);
    turn_roller(arm, &by, centre, axis);
}

void dd_arm_add_stops(const dd_arm *arm, double angle, dd_own_moment *m)
{
    for (int end = 0; end < 2; end++) {
        dd_squash stop = dd_squash_at(arm->stop_stiffness, 0, end == 0 ? arm->least - angle : angle - arm->most, 0);
        m->value += end == 0 ? stop.elastic : -stop.elastic;
        m->by_angle -= stop.elastic_by_depth;
        m->energy += stop.energy;
    }
}

dd_own_moment dd_arm_own_moment(const dd_arm *arm, const dd_turn *by, double angle, double gravity)
{
    dd_vec3 centre = dd_turned(arm->centre, by), rate = dd_cross(arm->axis, centre);
    dd_own_moment m = {-arm->mass * gravity * rate.z, -arm->mass * gravity * dd_cross(arm->axis, rate).z,
                       arm->mass * gravity * centre.z, 0, 0};
    m.weight = m.value, m.weight_by_angle = m.by_angle;
    dd_arm_add_stops(arm, angle, &m);
    return m;
}

typedef struct group {
    const dd_roller_instance *instance;
    const dd_arm *arm;
    int count;
    double angle, rate;       /* of the arm */
    dd_vec3 axis, pivot;      /* boat axes */
    dd_vec3 linear, angular;  /* L */
    dd_own_moment own;
    dd_roller_state states[DD_ROLLERS];
} group;

static double along_lever(const group *g, const double wrench[6])
{
    return g->linear.x * wrench[0] + g->linear.y * wrench[1] + g->linear.z * wrench[2] + g->angular.x * wrench[3] +
           g->angular.y * wrench[4] + g->angular.z * wrench[5];
}

static dd_turn mount(group *g, const dd_roller_instance *instance, int arm, const dd_kinematics *k, double angle)
{
    g->instance = instance;
    g->arm = &instance->rig->arms[arm];
    const dd_turn by = dd_turn_by(g->arm->axis, angle);
    g->count = g->arm->count;
    g->angle = angle;
    g->axis = dd_apply_transposed(&k->to_trailer, g->arm->axis);
    g->pivot = dd_apply_transposed(&k->to_trailer, dd_sub(g->arm->pivot, k->pose.position));
    g->linear = dd_cross(g->axis, g->pivot);
    g->angular = dd_scale(-1, g->axis);
    g->own = dd_arm_own_moment(g->arm, &by, angle, instance->gravity);
    return by;
}

static void set_limits(group *g, const double *memory)
{
    for (int i = 0; i < g->count; i++) {
        dd_roller_state *s = &g->states[i];
        const int index = g->arm->first + i;
        s->value = memory + DD_BRISTLES * index;
        for (int b = 0; b < DD_BRISTLES && s->patch_count > 0; b++) s->limit[b] = dd_roller_friction_limit(g->instance, index, b, memory);
    }
}

static void place(group *g, const dd_roller_instance *instance, int arm, const dd_kinematics *k, const double *memory, double angle,
                  int with_gradient)
{
    const dd_turn by = mount(g, instance, arm, k, angle);
    for (int i = 0; i < g->count; i++) {
        const int index = g->arm->first + i;
        const dd_roller *roller = &instance->rig->rollers[index];
        dd_vec3 centre = roller->centre, axle = roller->axis;
        turn_roller(g->arm, &by, &centre, &axle);
        dd_roller_press(&g->states[i], instance, roller, k, centre, axle, with_gradient);
    }
    set_limits(g, memory);
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
    dd_roller_vary_twist(&g->states[i], g->linear, g->angular, wrench, rate);
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

static bool is_still(const double twist[6])
{
    for (int c = 0; c < 6; c++)
        if (twist[c] != 0) return false;
    return true;
}

/* Newton's method within a bracket; halved where a step is not half of the last but one, since M's bends let Newton's steps go to and
   fro between two rates for ever. With the hull still, an arm rests at what dd_arm_at_rest leaves. */
static void solve_rate(group *g, const double twist[6])
{
    static const double small = 1e-15; /* rad/s */
    double rate = 0, low = -INFINITY, high = INFINITY, before = INFINITY, last = INFINITY;
    for (int i = 0; i < 200; i++) {
        double left = move(g, twist, rate);
        if (i == 0 && fabs(left) <= dd_arm_rests_at * g->arm->damping && is_still(twist)) return;
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

/* --- gradient --------------------------------------------------------------------------------------------------- */

/* Answer of all the arm's rollers to one change. */
typedef struct answer {
    double wrench[6], rate[DD_ROLLERS][DD_BRISTLES], arm_rate;
} answer;

static void clear_answer(const group *g, answer *a)
{
    memset(a->wrench, 0, sizeof a->wrench);
    memset(a->rate, 0, (size_t)g->count * sizeof a->rate[0]);
}

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

/* What a displacement of the hull makes of axis and pivot, and of L. */
typedef struct moved_lever {
    dd_vec3 axis, linear;
} moved_lever;
static moved_lever move_lever(const group *g, int j)
{
    const dd_vec3 e = dd_vec(j % 3 == 0, j % 3 == 1, j % 3 == 2);
    const int turns = j >= 3;
    const dd_vec3 axis = turns ? dd_cross(g->axis, e) : dd_vec(0, 0, 0), pivot = turns ? dd_cross(g->pivot, e) : dd_scale(-1, e);
    return (moved_lever){axis, dd_add(dd_cross(axis, g->pivot), dd_cross(g->axis, pivot))};
}

/* Change of the moment of that wrench by L's. */
static double moment_by_lever(const group *g, int j, const double wrench[6])
{
    const moved_lever l = move_lever(g, j);
    return l.linear.x * wrench[0] + l.linear.y * wrench[1] + l.linear.z * wrench[2] - l.axis.x * wrench[3] - l.axis.y * wrench[4] -
           l.axis.z * wrench[5];
}

static void answer_to_pose(const group *g, const double wrench[6], const answer *turning, int j, answer *a)
{
    const dd_vec3 zero = {0, 0, 0}, e = dd_vec(j % 3 == 0, j % 3 == 1, j % 3 == 2);
    const int turns = j >= 3;
    const moved_lever l = move_lever(g, j);
    clear_answer(g, a);
    for (int i = 0; i < g->count; i++) {
        const dd_roller_state *s = &g->states[i];
        const dd_variation moved = {.p = turns ? dd_cross(s->p, e) : dd_scale(-1, e), .axle = turns ? dd_cross(s->axle, e) : zero,
                                    .linear = dd_scale(g->rate, l.linear), .angular = dd_scale(-g->rate, l.axis)};
        add_answer(g, i, &moved, a);
    }
    close_answer(g, turning, moment_by_lever(g, j, wrench), a);
}

static void answer_to_twist(const group *g, const answer *turning, int j, answer *a)
{
    const dd_vec3 zero = {0, 0, 0}, e = dd_vec(j % 3 == 0, j % 3 == 1, j % 3 == 2);
    clear_answer(g, a);
    for (int i = 0; i < g->count; i++) {
        double wrench[6];
        dd_roller_vary_twist(&g->states[i], j < 3 ? e : zero, j < 3 ? zero : e, wrench, a->rate[i]);
        for (int c = 0; c < 6; c++) a->wrench[c] += wrench[c];
    }
    close_answer(g, turning, 0, a);
}

static void answer_to_angle(const group *g, const answer *turning, answer *a)
{
    clear_answer(g, a);
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
    answer turning, a;
    clear_answer(g, &turning);
    turning.arm_rate = 1;
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
        clear_answer(g, &a);
        add_answer(g, m / DD_BRISTLES, &bent, &a);
        close_answer(g, &turning, 0, &a);
        store_memory(g, &a, memory, first + m, theta, count);
    }
    if (g->count == 0 || g->states[0].roller->skid == 0) return;
    const int skid = g->states[0].roller->skid - 1;
    clear_answer(g, &a);
    for (int i = 0; i < g->count; i++) {
        const dd_variation wetter = {.limit = dd_skid_friction(g->states[i].roller, memory->value[wet_first + skid]).slope};
        add_answer(g, i, &wetter, &a);
    }
    close_answer(g, &turning, 0, &a);
    store_memory(g, &a, memory, wet_first + skid, theta, count);
}

/* A change of moment at rest, over what resists the arm's turning: its rate. */
static double rate_at_rest(const group *g, const double wrench[6], double direct, double resists)
{
    return (along_lever(g, wrench) + direct) / resists;
}

/* Of the hull's twist, what the arm's turning makes of the bristles' rates beside their own. */
static void add_turning(const group *g, double resists, const double (*turning_rate)[DD_BRISTLES], double (*rate_by_twist)[6])
{
    const dd_vec3 zero = {0, 0, 0};
    for (int j = 0; j < 6; j++) {
        const dd_vec3 e = dd_vec(j % 3 == 0, j % 3 == 1, j % 3 == 2);
        double w[6], sum[6] = {0}, ignored[DD_BRISTLES];
        for (int i = 0; i < g->count; i++) {
            if (g->states[i].patch_count == 0) continue;
            dd_roller_vary_twist(&g->states[i], j < 3 ? e : zero, j < 3 ? zero : e, w, ignored);
            for (int c = 0; c < 6; c++) sum[c] += w[c];
        }
        const double rate = along_lever(g, sum) / resists;
        for (int i = 0; i < g->count; i++)
            for (int b = 0; b < DD_BRISTLES && g->states[i].patch_count > 0; b++) rate_by_twist[DD_BRISTLES * i + b][j] += rate * turning_rate[i][b];
    }
}

/* The same at rest, as far as statics read it: K, the angle's rate, loads by angle and bristles, and for the grip the bristles' rates by the twist. */
static void differentiate_at_rest(const group *g, int leave_out, const double wrench[6], dd_gradient *gradient, const dd_memory *memory, int theta)
{
    double K[6][6] = {{0}}, turning[6] = {0}, turned[6] = {0}, w[6], turning_rate[DD_ROLLERS][DD_BRISTLES];
    double(*by_bristle)[6] = memory->load_by_value + DD_BRISTLES * g->arm->first, (*by_twist)[6] = NULL;
    if ((leave_out & DD_LEAVE_OUT_GRIP) == 0 && memory->rate_by_twist != NULL) by_twist = memory->rate_by_twist + DD_BRISTLES * g->arm->first;
    for (int i = 0; i < g->count; i++) {
        const dd_roller_state *s = &g->states[i];
        if (s->patch_count == 0) continue;
        dd_roller_stiffen(s, leave_out, K);
        dd_roller_vary_at_rest(s, by_twist != NULL ? by_twist + DD_BRISTLES * i : NULL, by_bristle + DD_BRISTLES * i);
        by_rate(g, i, w, turning_rate[i]);
        for (int c = 0; c < 6; c++) turning[c] += w[c];
        dd_roller_move_at_rest(s, dd_cross(g->axis, dd_sub(s->p, g->pivot)), dd_cross(g->axis, s->axle), turned);
    }
    const double resists = g->arm->damping - along_lever(g, turning), falls = -along_lever(g, turned) - g->own.by_angle;
    /* What the angle does to the loads a displacement does to the moment. */
    for (int j = 0; j < 6 && memory->rest_by_pose != NULL; j++) memory->rest_by_pose[theta][j] = falls > 0 ? turned[j] / falls : 0;
    for (int j = 0; j < 6; j++) {
        if ((leave_out & (1 << j)) != 0) continue;
        for (int c = 0; c < 6; c++) w[c] = -K[c][j];
        const double rate = rate_at_rest(g, w, moment_by_lever(g, j, wrench), resists);
        for (int c = 0; c < 6; c++) gradient->K[c][j] += K[c][j] - rate * turning[c];
        memory->rate_by_pose[theta][j] = rate;
    }
    memory->rate_by_value[theta] = rate_at_rest(g, turned, g->own.by_angle, resists);
    for (int c = 0; c < 6; c++) memory->load_by_value[theta][c] = turned[c] + memory->rate_by_value[theta] * turning[c];
    for (int m = 0; m < DD_BRISTLES * g->count; m++) {
        if (g->states[m / DD_BRISTLES].patch_count == 0) continue;
        const double rate = rate_at_rest(g, by_bristle[m], 0, resists);
        for (int c = 0; c < 6; c++) by_bristle[m][c] += rate * turning[c];
    }
    if (by_twist != NULL) add_turning(g, resists, (const double(*)[DD_BRISTLES])turning_rate, by_twist);
}

/* Loads, rates and channels of an arm whose rollers' forces are known, and its gradients. */
static void tell(const group *g, int theta, const dd_kinematics *k, const dd_memory *memory, dd_load *load, dd_gradient *gradient, double *channels,
                 int channel_count, dd_roller_channels channels_of)
{
    dd_load own = {0};
    for (int i = 0; i < g->count; i++) {
        const int index = g->arm->first + i;
        if (g->states[i].patch_count > 0) dd_roller_add(&g->states[i], &own, memory->rate + DD_BRISTLES * index);
        if (channels) channels_of(g->instance, &g->states[i], memory->value, channels + channel_count * index);
    }
    memory->rate[theta] = g->rate;
    for (int c = 0; c < 6; c++) load->hull[c] += own.hull[c];
    load->energy += own.energy + g->own.energy;
    load->heat += own.heat + g->arm->damping * g->rate * g->rate;
    if (!gradient) return;
    if (k->at_rest && g->rate == 0)
        differentiate_at_rest(g, k->leave_out, own.hull, gradient, memory, theta);
    else
        differentiate(g, k, own.hull, gradient, memory, theta);
}

void dd_arm_evaluate(const dd_roller_instance *instance, int arm, const dd_kinematics *k, const dd_memory *memory, dd_load *load,
                     dd_gradient *gradient, double *channels, int channel_count, dd_roller_channels channels_of)
{
    const int theta = dd_roller_arm_first(instance) + arm;
    group g;
    place(&g, instance, arm, k, memory->value, memory->value[theta], gradient != NULL);
    solve_rate(&g, k->relative_twist);
    tell(&g, theta, k, memory, load, gradient, channels, channel_count, channels_of);
}

void dd_arm_evaluate_resting(const dd_roller_instance *instance, int arm, const dd_kinematics *k, const dd_memory *memory, dd_load *load,
                             dd_gradient *gradient, double *channels, int channel_count, dd_roller_channels channels_of)
{
    const int theta = dd_roller_arm_first(instance) + arm;
    group g;
    memory->rests[theta] = dd_arm_settle(instance, arm, k, memory->value, (k->leave_out & DD_LEAVE_OUT_GRIP) != 0, g.states);
    (void)mount(&g, instance, arm, k, memory->rests[theta]);
    set_limits(&g, memory->value);
    g.rate = 0;
    for (int i = 0; i < g.count; i++) {
        g.states[i].linear = g.states[i].angular = dd_vec(0, 0, 0);
        dd_roller_rub(&g.states[i], &instance->arm_law);
    }
    tell(&g, theta, k, memory, load, gradient, channels, channel_count, channels_of);
}
