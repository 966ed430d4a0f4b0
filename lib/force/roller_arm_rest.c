/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An arm brought to rest: the angle at which the moments about its pivot balance, hull and friction held.

   With o the pivot and e the axis in boat axes, a turn by d moves a roller at p by p' = e x (p - o) a radian, and p' by p'' = e x p'.
   The squash of each of its contacts is taken as a parabola in d (a panel's by the turning of its normal), and so is its share. The
   force k squash^1.5 is then exact, and with it how a contact sets in and lets go, which no slope of the moment tells; the stops are
   exact, the weight is to the second order. The root of the sum takes no look at the hull and is off by d^3. Friction keeps its coefficients
   and grows with the load.

   Statics bring arms to rest at every pose that is tried, mostly next to where they rested: one look then tells root and loads, for its
   contacts are turned by d as they were told to turn. */
#include "lib/force/roller_arm.h"

static const double near = 2e-3; /* rollers that are clear by less may come to bear in the turn that is looked for, m */
static const double nearly_sure = 2e-4; /* what a look tells of a turn by less leaves out 1e-7 of the loads at most, rad */

/* By the turn: value, slope, curvature. */
typedef struct touch {
    double stiffness;
    double squash[3], share[3];
    double lever[2]; /* moment of the friction over the load, N m/N, > 0 turns it down */
} touch;

/* A roller of the arm. */
typedef struct rider {
    const dd_roller *roller;
    dd_vec3 centre, axle;  /* boat axes, from the pivot, arm at angle 0 */
    double reach;          /* from the pivot, m */
    double looked_at, gap; /* angle, and how far it was clear there, m */
} rider;

typedef struct pivot {
    const dd_roller_instance *instance;
    const dd_arm *arm;
    const double *memory;
    dd_vec3 at, axis; /* boat axes */
    rider riders[DD_ROLLERS];
    dd_roller_state *states; /* of the riders, as they were looked at last */
} pivot;

/* The arm held at an angle. */
typedef struct look {
    double angle, moment, falls; /* moment > 0 turns it up; falls: how fast it falls with the angle */
    double weight, weight_by_angle;
    bool whole;     /* off by d^3: no friction and no keel, whose bend is left out */
    bool keel;      /* bears, or nearly */
    bool touches;   /* rollers or a stop bear */
    double gap;     /* a turn by less brings nothing else to bear, rad */
    int count;      /* with those nearly touching */
    touch contacts[DD_PATCHES * DD_ROLLERS];
} look;

static void mount(pivot *p, const dd_roller_instance *instance, int arm, const dd_kinematics *k, const double *memory, dd_roller_state *states)
{
    p->instance = instance;
    p->states = states;
    p->arm = &instance->rig->arms[arm];
    p->memory = memory;
    p->axis = dd_apply_transposed(&k->to_trailer, p->arm->axis);
    p->at = dd_apply_transposed(&k->to_trailer, dd_sub(p->arm->pivot, k->pose.position));
    for (int i = 0; i < p->arm->count; i++) {
        const dd_roller *roller = &instance->rig->rollers[p->arm->first + i];
        const dd_vec3 centre = dd_apply_transposed(&k->to_trailer, dd_sub(roller->centre, p->arm->pivot));
        p->riders[i] = (rider){roller, centre, dd_apply_transposed(&k->to_trailer, roller->axis), dd_norm(centre), 0, 0};
        states[i].roller = roller;
        states[i].near = near;
    }
}

/* --- the moment by the turn from where it was looked at ----------------------------------------------------------- */

/* By the energy share 2/5 k squash^2.5, and the friction. */
static double contact_moment(const touch *t, double d, double *falls)
{
    const double squash = t->squash[0] + d * (t->squash[1] + 0.5 * d * t->squash[2]);
    if (!(squash > 0)) return 0;
    const double by = t->squash[1] + d * t->squash[2], arm = by + t->lever[0] + d * t->lever[1];
    const double share = t->share[0] + d * (t->share[1] + 0.5 * d * t->share[2]), share_by = t->share[1] + d * t->share[2];
    const double stiffness = t->stiffness * sqrt(squash), force = stiffness * squash;
    *falls += share * (1.5 * stiffness * by * arm + force * (t->squash[2] + t->lever[1])) + force * share_by * (by + arm) + 0.4 * force * squash * t->share[2];
    return -force * (share * arm + 0.4 * squash * share_by);
}

static double moment_after(const pivot *p, const look *l, double d, double *falls)
{
    const double angle = l->angle + d;
    dd_own_moment stops = {0};
    if (angle < p->arm->least || angle > p->arm->most) dd_arm_add_stops(p->arm, angle, &stops);
    *falls = l->weight * d - l->weight_by_angle - stops.by_angle;
    double sum = stops.value + l->weight + d * (l->weight_by_angle - 0.5 * l->weight * d);
    for (int i = 0; i < l->count; i++) sum += contact_moment(&l->contacts[i], d, falls);
    return sum;
}

/* Where it is 0 between two angles, by Newton's method within a bracket; the end that it points to, if it is not. */
static double balance_after(const pivot *p, const look *l, double low, double high, double rests)
{
    low -= l->angle, high -= l->angle;
    double falls = l->falls, d = 0, moment = l->moment;
    const double end = moment > 0 ? high : low;
    if (!(falls > 0 && fabs(moment) < 0.1 * falls * fabs(end))) {
        double ignored;
        if (moment_after(p, l, end, &ignored) * moment > 0) return l->angle + end;
    }
    for (int i = 0; i < 100 && fabs(moment) > 0.01 * rests; i++) {
        *(moment > 0 ? &low : &high) = d;
        const double newton = d + moment / falls, next = i < 50 && newton > low && newton < high ? newton : 0.5 * (low + high);
        if (next == d) break;
        d = next;
        moment = moment_after(p, l, d, &falls);
    }
    return l->angle + d;
}

/* --- looks -------------------------------------------------------------------------------------------------------- */

/* Of a panel's or the stem's contact; the keel's squash is not followed as the axle's turning bends it. */
static touch touch_of(const dd_patch *q, dd_vec3 by, dd_vec3 bend, dd_vec3 axle)
{
    touch t = {.stiffness = q->stiffness, .squash = {q->depth}, .share = {q->share, dd_dot(q->share_by_p, by)}};
    t.share[2] = q->share_xx * by.x * by.x + 2 * q->share_xy * by.x * by.y + q->share_yy * by.y * by.y + dd_dot(q->share_by_p, bend);
    if (q->keel) {
        const dd_keel_change c = dd_keel_change_by(&q->edge, by, axle);
        t.squash[1] = c.depth;
        t.squash[2] = dd_dot(c.w, by) + dd_dot(q->edge.w, bend);
    } else {
        t.squash[1] = -dd_dot(q->normal, by);
        t.squash[2] = -dd_dot(dd_apply(&q->nearest.turning, by), by) - dd_dot(q->normal, bend);
    }
    return t;
}

static double about(const pivot *p, const double wrench[6])
{
    const dd_vec3 force = dd_vec(wrench[0], wrench[1], wrench[2]), moment = dd_vec(wrench[3], wrench[4], wrench[5]);
    return dd_dot(p->axis, dd_sub(dd_cross(p->at, force), moment));
}

/* Friction of one roller's contacts; its turning, and of a keel what was left out, by the slope of all. */
static void add_friction(const pivot *p, look *l, dd_roller_state *s, const rider *r, int index, dd_vec3 by, dd_vec3 axle)
{
    double wrench[6], ignored[DD_BRISTLES], told = 0, push = 0;
    touch *contacts = &l->contacts[l->count - s->patch_count];
    s->linear = s->angular = dd_vec(0, 0, 0);
    for (int b = 0; b < DD_BRISTLES; b++) s->limit[b] = dd_roller_friction_limit(p->instance, index, b, p->memory);
    dd_roller_rub(s, &p->instance->arm_law);
    for (int i = 0; i < s->patch_count; i++) {
        double friction[6] = {0};
        const double clear = -s->patches[i].depth; /* whose friction is not known yet */
        if (clear >= 0 && clear < l->gap * r->reach) l->gap = clear / r->reach;
        dd_wrench_add(friction, s->patches[i].friction, s->patches[i].point);
        if (s->patches[i].push > 0) contacts[i].lever[0] = -about(p, friction) / s->patches[i].push;
        (void)contact_moment(&contacts[i], 0, &told);
        push += s->patches[i].push;
    }
    l->whole = false;
    if (!(push > 0)) return;
    const dd_variation turned = {.p = by, .axle = axle};
    dd_roller_vary(s, &turned, wrench, ignored);
    for (int i = 0; i < s->patch_count; i++) contacts[i].lever[1] = -(about(p, wrench) + told) / push;
}

static void look_at(pivot *p, double angle, look *l)
{
    const dd_turn turn = dd_turn_by(p->axis, angle), in_trailer = {p->arm->axis, turn.cosine, turn.sine};
    const dd_own_moment own = dd_arm_own_moment(p->arm, &in_trailer, angle, p->instance->gravity);
    l->angle = angle;
    l->weight = own.weight, l->weight_by_angle = own.weight_by_angle;
    l->touches = own.value != own.weight;
    l->whole = true, l->keel = false, l->gap = INFINITY, l->count = 0;
    for (int i = 0; i < p->arm->count; i++) {
        rider *r = &p->riders[i];
        dd_roller_state *s = &p->states[i];
        const double moved = fabs(angle - r->looked_at) * r->reach;
        if (moved < r->gap) {
            s->patch_count = 0;
            if (r->gap - moved < l->gap * r->reach) l->gap = (r->gap - moved) / r->reach;
            continue;
        }
        const dd_vec3 lever = dd_turned(r->centre, &turn);
        s->p = dd_add(p->at, lever);
        s->axle = dd_turned(r->axle, &turn);
        dd_roller_meet(s, p->instance, 1);
        r->looked_at = angle, r->gap = s->gap;
        if (s->gap < l->gap * r->reach) l->gap = s->gap / r->reach;
        for (int j = 0; j < s->patch_count; j++) r->gap = fmin(r->gap, fmax(0, -s->patches[j].depth));
        if (s->patch_count == 0) continue;
        const dd_vec3 by = dd_cross(p->axis, lever), bend = dd_cross(p->axis, by), axle = dd_cross(p->axis, s->axle);
        for (int j = 0; j < s->patch_count; j++) {
            l->contacts[l->count++] = touch_of(&s->patches[j], by, bend, axle);
            l->touches |= s->patches[j].depth > 0;
        }
        l->keel |= r->roller->keel != 0;
        s->value = p->memory + DD_BRISTLES * (p->arm->first + i);
        if (s->value[DD_ACROSS] != 0 || s->value[DD_ROLLING] != 0 || r->roller->keel) add_friction(p, l, s, r, p->arm->first + i, by, axle);
    }
    l->moment = moment_after(p, l, 0, &l->falls);
}

/* --- turned from where they were looked at --------------------------------------------------------------------------- */

/* A roller's contacts, none the keel's, as the look tells them after a turn by d: squash and share to the second order, normals to the first. */
static void turn_roller(const pivot *p, dd_roller_state *s, const touch *contacts, double d)
{
    const dd_vec3 by = dd_cross(p->axis, dd_sub(s->p, p->at)), axle = dd_cross(p->axis, s->axle);
    const dd_vec3 moved = dd_add(dd_scale(d, by), dd_scale(0.5 * d * d, dd_cross(p->axis, by)));
    s->p = dd_add(s->p, moved);
    s->axle = dd_add(s->axle, dd_add(dd_scale(d, axle), dd_scale(0.5 * d * d, dd_cross(p->axis, axle))));
    for (int i = 0; i < s->patch_count; i++) {
        dd_patch *q = &s->patches[i];
        const touch *t = &contacts[i];
        const dd_vec3 normal = dd_add(q->normal, dd_apply(&q->nearest.turning, moved));
        q->depth = t->squash[0] + d * (t->squash[1] + 0.5 * d * t->squash[2]);
        q->share = fmax(0, t->share[0] + d * (t->share[1] + 0.5 * d * t->share[2]));
        q->share_by_p.x += q->share_xx * moved.x + q->share_xy * moved.y;
        q->share_by_p.y += q->share_xy * moved.x + q->share_yy * moved.y;
        q->normal = dd_scale(1 / dd_norm(normal), normal);
        q->at = s->p;
        q->point = dd_sub(s->p, dd_scale(s->roller->radius, q->normal));
    }
}

/* Leaves the contacts that bear, as a look would that asks for no more. */
static void leave_bearing(dd_roller_state *s)
{
    int count = 0;
    for (int i = 0; i < s->patch_count; i++) {
        if (!(s->patches[i].depth > 0)) continue;
        if (count < i) s->patches[count] = s->patches[i];
        count++;
    }
    s->patch_count = count;
}

/* All of the arm's, looked at last in *at, at an angle close by. */
static void turn_all(pivot *p, look *at, double angle)
{
    if (angle != at->angle && at->keel) look_at(p, angle, at);
    const touch *contacts = at->contacts;
    const double d = angle - at->angle;
    for (int i = 0; i < p->arm->count; i++) {
        dd_roller_state *s = &p->states[i];
        const int count = s->patch_count;
        if (count > 0 && d != 0) turn_roller(p, s, contacts, d);
        leave_bearing(s);
        contacts += count;
    }
}

/* --- the search --------------------------------------------------------------------------------------------------- */

/* Whether the root that a look points to needs no look of its own. before: the turn that led to it by a look's root, rad; 0: none did.
   What is left of the moment there tells how far off such roots are; where none did, a crease of the bottom is allowed for. nearly: what
   is left of the third order does not matter. */
static bool is_sure(const look *at, double turn, double before, double rests, bool nearly)
{
    static const double sure = 5e-7, sure_with_friction = 1e-8; /* rad */
    if (!(fabs(turn) < at->gap)) return false;
    if (fabs(turn) <= (nearly && !at->keel ? nearly_sure : at->whole ? sure : sure_with_friction)) return true;
    const double off = fabs(at->moment) * (turn / before) * (turn / before);
    return before != 0 && fabs(turn) <= 0.01 * fabs(before) && off <= 0.1 * rests;
}

/* From where the arm stands, by looks' roots within a bracket that opens from there; by halving where the bracket and the moment do not
   come down. *last: what was looked at last. */
static double search(pivot *p, double from_angle, bool nearly, look looks[3], look **seen)
{
    static const double beyond = 0.1, first_step = 0.04; /* past a stop: no load turns it further; rad */
    look *at = &looks[0], *low = NULL, *high = NULL; /* low, high: where the moment has been seen on that side */
    const double rests = dd_arm_rests_at * p->arm->damping;
    double least = p->arm->least - beyond, most = p->arm->most + beyond, step = first_step, before = 0, last = INFINITY, width = INFINITY;
    double angle = fmax(least, fmin(most, from_angle)), best = angle, best_moment = INFINITY;
    for (int i = 0; i < 200; i++) {
        look_at(p, angle, at);
        *seen = at;
        const double moment = fabs(at->moment);
        if (moment < best_moment) best = angle, best_moment = moment;
        if (moment <= rests) break;
        *(at->moment > 0 ? &least : &most) = angle;
        *(at->moment > 0 ? &low : &high) = at;
        if (!(most - least > 1e-15 * fmax(fabs(least), fabs(most)) + 1e-18)) break;
        const bool between = low != NULL && high != NULL, slow = between && moment > 0.5 * last && most - least > 0.5 * width;
        const look *from = between && low->touches != high->touches ? (low->touches ? low : high) : at;
        const double first = between ? least : fmax(least, from->angle - step), end = between ? most : fmin(most, from->angle + step);
        double next = balance_after(p, from, first, end, rests);
        const bool inside = next > first && next < end && !slow;
        if (inside && from == at && is_sure(at, next - angle, before, rests, nearly)) return next;
        if (between && !inside) next = 0.5 * (least + most);
        if (!between && !inside) step *= 8;
        before = inside && from == at ? next - angle : 0;
        last = slow ? INFINITY : moment, width = most - least;
        angle = next;
        for (int j = 0; j < 3; j++)
            if (&looks[j] != low && &looks[j] != high) at = &looks[j];
    }
    return best;
}

double dd_arm_at_rest(const dd_roller_instance *instance, int arm, const dd_kinematics *k, const double *memory)
{
    pivot p;
    dd_roller_state states[DD_ROLLERS];
    look looks[3], *seen;
    mount(&p, instance, arm, k, memory, states);
    return search(&p, memory[dd_roller_arm_first(instance) + arm], false, looks, &seen);
}

double dd_arm_settle(const dd_roller_instance *instance, int arm, const dd_kinematics *k, const double *memory, bool nearly, dd_roller_state *states)
{
    pivot p;
    look looks[3], *seen;
    mount(&p, instance, arm, k, memory, states);
    const double angle = search(&p, memory[dd_roller_arm_first(instance) + arm], nearly, looks, &seen);
    if (fabs(angle - seen->angle) > nearly_sure) look_at(&p, angle, seen);
    turn_all(&p, seen, angle);
    return angle;
}
