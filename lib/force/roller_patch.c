/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/force/roller_patch.h"
#include <string.h>

static const double keel_blend = 0.03;      /* half width over which one panel takes over from the other, m */
static const double width_fade = 0.02;      /* beyond a keel roller's width, m */
static const double clear_share = 0.25;     /* gap beyond which a contact is skipped, share of the radius */
static const double standing_speed = 1e-4;  /* rolling slower than this renews next to nothing, m/s */
static const double touching_squash = 5e-5; /* from which the bristles are held, m */
static const double bracket_friction = 0.5; /* bare metal and rubber under a keel: from memory */

/* --- share ------------------------------------------------------------------------------------------------------ */

static inline dd_smooth panel_share(int side, double y)
{
    dd_smooth s = dd_smooth_step(0.5 + side * y / (2 * keel_blend));
    s.slope *= side / (2 * keel_blend);
    s.curvature /= 4 * keel_blend * keel_blend;
    return s;
}

/* 1 within half of the width, 0 beyond the fade. */
static dd_smooth width_share(double half, double y)
{
    dd_smooth s = dd_smooth_step(1 - (fabs(y) - half) / width_fade);
    s.slope *= (y < 0 ? 1 : -1) / width_fade;
    s.curvature /= width_fade * width_fade;
    return s;
}

static double half_width(const dd_roller *r)
{
    return r->profile_height > 0 ? r->profile_start + r->profile_length : 0.5 * r->width;
}

static dd_smooth roller_share(const dd_roller *r, double y)
{
    return r->width > 0 ? width_share(half_width(r), y) : (dd_smooth){1, 0, 0};
}

static dd_smooth bracket_share(const dd_roller *r, double y)
{
    const double half = half_width(r);
    if (!(r->bracket_width > 0) || fabs(y) <= half) return (dd_smooth){0, 0, 0};
    dd_smooth in = width_share(half, y), out = width_share(half + width_fade + r->bracket_width, y);
    in = (dd_smooth){1 - in.value, -in.slope, -in.curvature};
    return (dd_smooth){in.value * out.value, in.slope * out.value + in.value * out.slope,
                       in.curvature * out.value + 2 * in.slope * out.slope + in.value * out.curvature};
}

/* The cover's second derivatives are taken by differences of its exact first ones: they matter only within the fade,
   and there only to K. */
static void share_curvature(dd_patch *q, const dd_hull *hull, int side, const dd_bottom_point *b, dd_smooth lateral, double x,
                            double y)
{
    double xx = 0, xy = 0, yy = 0;
    if (b->cover < 1) {
        const double h = 1e-6;
        dd_bottom_point east = dd_surface_at(hull, side, x + h, y), west = dd_surface_at(hull, side, x - h, y);
        dd_bottom_point north = dd_surface_at(hull, side, x, y + h), south = dd_surface_at(hull, side, x, y - h);
        xx = (east.cover_x - west.cover_x) / (2 * h);
        xy = (north.cover_x - south.cover_x) / (2 * h);
        yy = (north.cover_y - south.cover_y) / (2 * h);
    }
    q->share_xx = xx * lateral.value;
    q->share_xy = xy * lateral.value + b->cover_x * lateral.slope;
    q->share_yy = yy * lateral.value + 2 * b->cover_y * lateral.slope + b->cover * lateral.curvature;
}

static void set_share(dd_patch *q, const dd_hull *hull, const dd_roller_state *s, int side, const dd_bottom_point *b,
                      dd_smooth lateral, int with_gradient)
{
    q->share = b->cover * lateral.value;
    q->share_by_p = dd_vec(b->cover_x * lateral.value, b->cover_y * lateral.value + b->cover * lateral.slope, 0);
    if (with_gradient) share_curvature(q, hull, side, b, lateral, s->p.x, s->p.y);
}

/* --- contact ---------------------------------------------------------------------------------------------------- */

/* Clear by that much, m. */
static inline int leave_clear(dd_roller_state *s, double gap)
{
    if (gap < s->gap) s->gap = gap;
    return 0;
}

static int press_ball(dd_patch *q, dd_roller_state *s)
{
    const dd_roller *roller = s->roller;
    q->depth = roller->radius - q->nearest.distance;
    if (q->depth <= -s->near) return leave_clear(s, -q->depth);
    q->keel = 0;
    q->slides = roller->skid > 0;
    q->stiffness = roller->stiffness;
    q->normal = q->nearest.normal;
    q->at = s->p;
    q->slant = 1;
    q->point = dd_sub(s->p, dd_scale(roller->radius, q->normal));
    return 1;
}

static double difference_of_cover(const dd_hull *hull, double x)
{
    const double h = 1e-6;
    return (dd_hull_stem(hull, x + h).cover_x - dd_hull_stem(hull, x - h).cover_x) / (2 * h);
}

/* Squash of the roller against one panel; 0 if it is clear. */
static int press_panel(dd_patch *q, const dd_hull *hull, dd_roller_state *s, int side, int with_gradient)
{
    const dd_roller *roller = s->roller;
    dd_smooth lateral = panel_share(side, s->p.y);
    if (lateral.value <= 0) return leave_clear(s, 0);
    dd_bottom_point b;
    dd_hull_bottom_shape(hull, s->p.x, s->p.y, side, &b);
    double first_order = (b.z - s->p.z) / sqrt(1 + b.zx * b.zx + b.zy * b.zy) - roller->radius;
    if (first_order > clear_share * roller->radius) return leave_clear(s, 0.5 * first_order);
    q->nearest = dd_nearest_bottom_within(hull, side, s->p, &b, roller->radius + s->near, with_gradient);
    if (!press_ball(q, s)) return 0;
    dd_hull_bottom_cover(hull, s->p.x, s->p.y, side, &b);
    if (b.cover <= 0) return leave_clear(s, 0);
    set_share(q, hull, s, side, &b, lateral, with_gradient);
    return 1;
}

/* Squash of the roller against one side of the stem, or its edge. */
static int press_stem(dd_patch *q, const dd_roller_instance *instance, dd_roller_state *s, int side, int with_gradient)
{
    const dd_hull *hull = instance->hull;
    const double x = s->p.x, radius = s->roller->radius;
    dd_smooth lateral = panel_share(side, s->p.y);
    if (lateral.value <= 0) return leave_clear(s, 0);
    dd_bottom_point b = dd_hull_stem(hull, x);
    const double below = (b.z - s->p.z) / sqrt(1 + b.zx * b.zx), aside = side * s->p.y;
    if (b.cover <= 0) return leave_clear(s, 0);
    const double off = aside * cos(instance->stem.half_angle) + below * sin(instance->stem.half_angle);
    if (off > (1 + clear_share) * radius) return leave_clear(s, 0.5 * (off - radius));
    q->nearest = dd_nearest_stem(hull, side, s->p, instance->stem.half_angle, with_gradient);
    if (!press_ball(q, s)) return 0;
    q->share = b.cover * lateral.value;
    q->share_by_p = dd_vec(b.cover_x * lateral.value, b.cover * lateral.slope, 0);
    q->share_xx = 0;
    if (with_gradient) q->share_xx = difference_of_cover(hull, x) * lateral.value;
    q->share_xy = b.cover_x * lateral.slope;
    q->share_yy = b.cover * lateral.curvature;
    return 1;
}

/* Squash of the keel against the roller, or against the bracket beside it. */
static int press_keel(dd_patch *q, const dd_hull *hull, dd_roller_state *s, int bracket, int with_gradient)
{
    const dd_roller *roller = s->roller;
    dd_smooth lateral = bracket ? bracket_share(roller, s->p.y) : roller_share(roller, s->p.y);
    if (lateral.value <= 0) return leave_clear(s, 0);
    dd_bottom_point b = dd_hull_keel(hull, s->p.x);
    double most = roller->radius + roller->profile_height;
    double axle_height = s->p.z - (fabs(s->axle.y) > 0.3 ? s->p.y * s->axle.z / s->axle.y : 0);
    double first_order = (b.z - axle_height) * fabs(s->axle.y) / sqrt(1 + b.zx * b.zx) - most;
    if (b.cover <= 0 || first_order > clear_share * roller->radius) return leave_clear(s, 0);
    const dd_profile profile = {bracket ? roller->radius - roller->bracket_drop : roller->radius, roller->profile_start,
                                roller->profile_length, bracket ? 0 : roller->profile_height};
    if (!dd_keel_on_axle(hull, &profile, s->p, s->axle, &q->edge)) return leave_clear(s, 0);
    q->depth = q->edge.depth;
    if (q->depth <= -s->near) return leave_clear(s, 0);
    q->keel = 1;
    q->slides = bracket || roller->skid > 0;
    q->stiffness = bracket ? roller->bracket_stiffness : roller->stiffness;
    q->slant = dd_norm(q->edge.w);
    q->normal = dd_scale(-1 / q->slant, q->edge.w);
    q->at = q->point = q->edge.at;
    set_share(q, hull, s, 0, &b, lateral, with_gradient);
    return 1;
}

/* How far a side's panel is from reaching over the keel to it, or the hull's part from being over it: what is beyond is clear. */
static inline bool reaches(dd_roller_state *s, double by) { return by > 0 || leave_clear(s, -by); }

void dd_roller_meet(dd_roller_state *s, const dd_roller_instance *instance, int with_gradient)
{
    s->patch_count = 0;
    s->gap = INFINITY;
    if (s->roller->keel) {
        for (int bracket = 0; bracket < 2; bracket++)
            s->patch_count += press_keel(&s->patches[s->patch_count], instance->hull, s, bracket, with_gradient);
        return;
    }
    const bool under = reaches(s, s->p.x - instance->first) && reaches(s, instance->last - s->p.x);
    const bool before = reaches(s, s->p.x - instance->stem.from);
    for (int side = -1; side <= 1 && under; side += 2)
        if (reaches(s, side * s->p.y + keel_blend)) s->patch_count += press_panel(&s->patches[s->patch_count], instance->hull, s, side, with_gradient);
    for (int side = -1; side <= 1 && before; side += 2)
        if (reaches(s, side * s->p.y + keel_blend)) s->patch_count += press_stem(&s->patches[s->patch_count], instance, s, side, with_gradient);
}

void dd_roller_press(dd_roller_state *s, const dd_roller_instance *instance, const dd_roller *roller, const dd_kinematics *k,
                     dd_vec3 centre, dd_vec3 axis, int with_gradient)
{
    s->roller = roller;
    s->near = 0;
    s->p = dd_apply_transposed(&k->to_trailer, dd_sub(centre, k->pose.position));
    s->axle = dd_apply_transposed(&k->to_trailer, axis);
    dd_roller_meet(s, instance, with_gradient);
}

/* --- motion ----------------------------------------------------------------------------------------------------- */

/* Elastic load from which the bristles are held whole. */
static double least_elastic(const dd_roller *roller) { return roller->stiffness * touching_squash * sqrt(touching_squash); }

static void squeeze(dd_patch *q, const dd_roller_state *s)
{
    double rate = q->slant * dd_dot(q->normal, dd_add(s->linear, dd_cross(s->angular, q->at)));
    q->squash = dd_squash_at(q->stiffness, s->roller->damping, q->depth, rate);
    q->push = q->share * q->squash.elastic * q->squash.factor;
    q->load = q->push * q->slant;
    dd_vec3 share = dd_scale(q->squash.energy, q->share_by_p);
    q->normal_force = dd_scale(-q->load, q->normal);
    q->share_force = dd_vec(0, 0, 0);
    if (q->keel)
        q->share_force = share;
    else
        q->normal_force = dd_add(q->normal_force, share);
}

static void rub(dd_patch *q, const dd_roller_state *s, const dd_bristle_law *law, double contact)
{
    const dd_vec3 n = q->normal;
    dd_vec3 tangent = dd_sub(s->axle, dd_scale(dd_dot(s->axle, n), n));
    q->across_length = fmax(dd_norm(tangent), 1e-6); /* an axle along the normal has no direction across */
    q->across = dd_scale(1 / q->across_length, tangent);
    q->rolling = dd_cross(n, q->across);
    q->velocity = dd_add(s->linear, dd_cross(s->angular, q->point));
    double along = dd_dot(q->rolling, q->velocity), side = dd_dot(q->across, q->velocity);
    if (q->slides) {
        const double velocity[2] = {side, along};
        q->disc = dd_disc_at(law, s->roller->skid ? s->limit[0] : bracket_friction, s->value, velocity, contact);
        for (int b = 0; b < DD_BRISTLES; b++) q->coefficient[b] = q->disc.coefficient[b];
    } else {
        dd_smooth speed = dd_smooth_absolute(along, standing_speed);
        q->renewal = speed.value / s->roller->relaxation_length;
        q->renewal_by_speed = speed.slope / s->roller->relaxation_length;
        q->bristle[DD_ACROSS] = dd_bristle_at(law, s->limit[DD_ACROSS], s->value[DD_ACROSS], side, q->renewal, contact);
        q->bristle[DD_ROLLING] = dd_bristle_at(law, s->limit[DD_ROLLING], s->value[DD_ROLLING], along, 0, contact);
        for (int b = 0; b < DD_BRISTLES; b++) q->coefficient[b] = q->bristle[b].coefficient;
    }
    q->friction = dd_scale(-q->load, dd_add(dd_scale(q->coefficient[DD_ACROSS], q->across),
                                            dd_scale(q->coefficient[DD_ROLLING], q->rolling)));
}

void dd_roller_rub(dd_roller_state *s, const dd_bristle_law *law)
{
    if (s->patch_count == 0) return;
    /* The bristles are held from the elastic load alone, so that how well they are held does not depend on the rates. */
    const double least = least_elastic(s->roller);
    double sum = 0;
    for (int i = 0; i < s->patch_count; i++) {
        squeeze(&s->patches[i], s);
        sum += s->patches[i].share * s->patches[i].squash.elastic;
    }
    for (int i = 0; i < s->patch_count; i++) {
        double elastic = s->patches[i].share * s->patches[i].squash.elastic;
        s->contact[i] = sum > 0 ? dd_smooth_step(sum / least).value * elastic / sum : 0;
        rub(&s->patches[i], s, law, s->contact[i]);
    }
}

/* The heat is the power that the bristles take less what the squash stores: bristles that spring back return a little, so it may
   be negative for an instant, never over a cycle at a steady load. */
void dd_roller_add(const dd_roller_state *s, dd_load *load, double rate[DD_BRISTLES])
{
    for (int i = 0; i < s->patch_count; i++) {
        const dd_patch *q = &s->patches[i];
        dd_wrench_add(load->hull, q->normal_force, q->at);
        if (q->keel) dd_wrench_add(load->hull, q->share_force, s->p);
        dd_wrench_add(load->hull, q->friction, q->point);
        load->energy += q->share * q->squash.energy;
        dd_vec3 u = dd_add(s->linear, dd_cross(s->angular, q->at));
        load->heat += (q->push - q->share * q->squash.elastic) * q->slant * dd_dot(q->normal, u) - dd_dot(q->friction, q->velocity);
        for (int b = 0; b < DD_BRISTLES; b++)
            rate[b] += (q->slides ? q->disc.rate[b] : q->bristle[b].rate) + DD_BRISTLE_RELEASE * s->value[b];
    }
}

/* --- gradient --------------------------------------------------------------------------------------------------- */

/* What a variation does to the patch's normal, load along it and contact point, for the friction, and to its elastic load. */
typedef struct moved {
    dd_vec3 normal, point;
    double load, elastic;
} moved;

/* The rate of squash by the change of what lies along the normal (m = slant x normal) and by what moves. */
static double vary_push(const dd_patch *q, const dd_roller_state *s, const dd_variation *d, double depth, dd_vec3 dm, dd_vec3 dat)
{
    const dd_squash *e = &q->squash;
    dd_vec3 u = dd_add(s->linear, dd_cross(s->angular, q->at));
    dd_vec3 du = dd_add(dd_add(d->linear, dd_cross(d->angular, q->at)), dd_cross(s->angular, dat));
    double rate = dd_dot(dm, u) + q->slant * dd_dot(q->normal, du), share = dd_dot(q->share_by_p, d->p);
    return share * e->elastic * e->factor + q->share * e->elastic_by_depth * depth * e->factor +
           q->share * e->elastic * e->factor_by_rate * rate;
}

static double vary_elastic(const dd_patch *q, const dd_variation *d, double depth)
{
    return dd_dot(q->share_by_p, d->p) * q->squash.elastic + q->share * q->squash.elastic_by_depth * depth;
}

static moved vary_normal(const dd_patch *q, const dd_roller_state *s, const dd_variation *d, double wrench[6])
{
    const dd_squash *e = &q->squash;
    const dd_vec3 n = q->normal;
    dd_vec3 dshare = dd_vec(q->share_xx * d->p.x + q->share_xy * d->p.y, q->share_xy * d->p.x + q->share_yy * d->p.y, 0);
    if (!q->keel) {
        dd_vec3 dn = dd_apply(&q->nearest.turning, d->p);
        double depth = -dd_dot(n, d->p), dload = vary_push(q, s, d, depth, dn, d->p);
        dd_vec3 force = dd_add(dd_add(dd_scale(-dload, n), dd_scale(-q->load, dn)),
                               dd_add(dd_scale(e->elastic * depth, q->share_by_p), dd_scale(e->energy, dshare)));
        dd_wrench_add(wrench, force, s->p);
        dd_wrench_move(wrench, d->p, q->normal_force);
        return (moved){dn, dd_sub(d->p, dd_scale(s->roller->radius, dn)), dload, vary_elastic(q, d, depth)};
    }
    dd_keel_change c = dd_keel_change_by(&q->edge, d->p, d->axle);
    double dpush = vary_push(q, s, d, c.depth, dd_scale(-1, c.w), c.at);
    dd_wrench_add(wrench, dd_add(dd_scale(dpush, q->edge.w), dd_scale(q->push, c.w)), q->at);
    dd_wrench_move(wrench, c.at, q->normal_force);
    dd_wrench_add(wrench, dd_add(dd_scale(e->elastic * c.depth, q->share_by_p), dd_scale(e->energy, dshare)), s->p);
    dd_wrench_move(wrench, d->p, q->share_force);
    double longer = -dd_dot(n, c.w);
    return (moved){dd_scale(-1 / q->slant, dd_add(c.w, dd_scale(longer, n))), c.at, dpush * q->slant + q->push * longer,
                   vary_elastic(q, d, c.depth)};
}

/* How well the bristles are held by each patch (dd_roller_rub) changes with the elastic loads of all. */
static void vary_contact(const dd_roller_state *s, const moved m[DD_PATCHES], double contact[DD_PATCHES])
{
    double elastic[DD_PATCHES], sum = 0, dsum = 0;
    for (int i = 0; i < s->patch_count; i++) {
        sum += elastic[i] = s->patches[i].share * s->patches[i].squash.elastic;
        dsum += m[i].elastic;
    }
    for (int i = 0; i < s->patch_count; i++)
        contact[i] = dd_smooth_share_change(sum, least_elastic(s->roller), elastic[i], dsum, m[i].elastic);
}

/* Changes of the two coefficients and of the bristles' rates by the speeds across and along. */
static void vary_bristles(const dd_patch *q, const dd_variation *d, const double speed[2], double coefficient[DD_BRISTLES],
                          double rate[DD_BRISTLES])
{
    if (q->slides) {
        for (int b = 0; b < DD_BRISTLES; b++) {
            coefficient[b] = q->disc.coefficient_by_limit[b] * d->limit;
            rate[b] += q->disc.rate_by_limit[b] * d->limit;
            for (int c = 0; c < DD_BRISTLES; c++) {
                coefficient[b] += q->disc.coefficient_by_value[b][c] * d->value[c] + q->disc.coefficient_by_velocity[b][c] * speed[c];
                rate[b] += q->disc.rate_by_value[b][c] * d->value[c] + q->disc.rate_by_velocity[b][c] * speed[c];
            }
            rate[b] += DD_BRISTLE_RELEASE * d->value[b];
        }
        return;
    }
    const dd_bristle *a = &q->bristle[DD_ACROSS], *r = &q->bristle[DD_ROLLING];
    double renewal = q->renewal_by_speed * speed[1];
    coefficient[DD_ACROSS] = a->coefficient_by_value * d->value[DD_ACROSS] + a->coefficient_by_speed * speed[0] +
                             a->coefficient_by_renewal * renewal;
    coefficient[DD_ROLLING] = r->coefficient_by_value * d->value[DD_ROLLING] + r->coefficient_by_speed * speed[1];
    rate[DD_ACROSS] += a->rate_by_speed * speed[0] + a->rate_by_renewal * renewal;
    rate[DD_ROLLING] += r->rate_by_speed * speed[1];
    for (int b = 0; b < DD_BRISTLES; b++) rate[b] += (q->bristle[b].rate_by_value + DD_BRISTLE_RELEASE) * d->value[b];
}

static void vary_friction(const dd_patch *q, const dd_roller_state *s, const dd_variation *d, const moved *m, double wrench[6],
                          double rate[DD_BRISTLES])
{
    const dd_vec3 n = q->normal, dn = m->normal;
    dd_vec3 velocity = dd_add(dd_add(d->linear, dd_cross(d->angular, q->point)), dd_cross(s->angular, m->point));
    dd_vec3 tangent =
        dd_sub(dd_sub(d->axle, dd_scale(dd_dot(d->axle, n) + dd_dot(s->axle, dn), n)), dd_scale(dd_dot(s->axle, n), dn));
    dd_vec3 across = dd_scale(1 / q->across_length, dd_sub(tangent, dd_scale(dd_dot(q->across, tangent), q->across)));
    dd_vec3 rolling = dd_add(dd_cross(dn, q->across), dd_cross(n, across));
    const double speed[2] = {dd_dot(across, q->velocity) + dd_dot(q->across, velocity),
                             dd_dot(rolling, q->velocity) + dd_dot(q->rolling, velocity)};
    double c[DD_BRISTLES];
    vary_bristles(q, d, speed, c, rate);
    dd_vec3 sum = dd_add(dd_scale(q->coefficient[DD_ACROSS], q->across), dd_scale(q->coefficient[DD_ROLLING], q->rolling));
    dd_vec3 dsum = dd_add(dd_add(dd_scale(c[DD_ACROSS], q->across), dd_scale(q->coefficient[DD_ACROSS], across)),
                          dd_add(dd_scale(c[DD_ROLLING], q->rolling), dd_scale(q->coefficient[DD_ROLLING], rolling)));
    dd_wrench_add(wrench, dd_sub(dd_scale(-m->load, sum), dd_scale(q->load, dsum)), q->point);
    dd_wrench_move(wrench, m->point, q->friction);
}

void dd_roller_vary(const dd_roller_state *s, const dd_variation *d, double wrench[6], double rate[DD_BRISTLES])
{
    memset(wrench, 0, 6 * sizeof(double));
    for (int b = 0; b < DD_BRISTLES; b++) rate[b] = -DD_BRISTLE_RELEASE * d->value[b];
    moved m[DD_PATCHES];
    double contact[DD_PATCHES];
    for (int i = 0; i < s->patch_count; i++) m[i] = vary_normal(&s->patches[i], s, d, wrench);
    vary_contact(s, m, contact);
    for (int i = 0; i < s->patch_count; i++) {
        const dd_patch *q = &s->patches[i];
        vary_friction(q, s, d, &m[i], wrench, rate);
        for (int b = 0; b < DD_BRISTLES; b++)
            rate[b] += (q->slides ? q->disc.rate_by_contact[b] : q->bristle[b].rate_by_contact) * contact[i];
    }
}

void dd_roller_vary_twist(const dd_roller_state *s, dd_vec3 linear, dd_vec3 angular, double wrench[6], double rate[DD_BRISTLES])
{
    const dd_variation none = {.limit = 0};
    memset(wrench, 0, 6 * sizeof(double));
    for (int b = 0; b < DD_BRISTLES; b++) rate[b] = 0;
    double load[DD_PATCHES];
    for (int i = 0; i < s->patch_count; i++) {
        const dd_patch *q = &s->patches[i];
        const double push = q->share * q->squash.elastic * q->squash.factor_by_rate *
                            (q->slant * dd_dot(q->normal, dd_add(linear, dd_cross(angular, q->at))));
        load[i] = push * q->slant;
        dd_wrench_add(wrench, q->keel ? dd_scale(push, q->edge.w) : dd_scale(-push, q->normal), q->at);
    }
    for (int i = 0; i < s->patch_count; i++) {
        const dd_patch *q = &s->patches[i];
        const dd_vec3 velocity = dd_add(linear, dd_cross(angular, q->point));
        const double speed[2] = {dd_dot(q->across, velocity), dd_dot(q->rolling, velocity)};
        double c[DD_BRISTLES];
        vary_bristles(q, &none, speed, c, rate);
        const dd_vec3 sum = dd_add(dd_scale(q->coefficient[DD_ACROSS], q->across), dd_scale(q->coefficient[DD_ROLLING], q->rolling));
        const dd_vec3 dsum = dd_add(dd_scale(c[DD_ACROSS], q->across), dd_scale(c[DD_ROLLING], q->rolling));
        dd_wrench_add(wrench, dd_sub(dd_scale(-load[i], sum), dd_scale(q->load, dsum)), q->point);
    }
}
