/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/force/ball.h"
#include "lib/force/smooth.h"

static const double blend = 0.03; /* half width over which one side takes over from the other, m */

/* The face where the ball is, on one side. */
typedef struct under {
    dd_topside_point topside;
    dd_bottom_point bottom;
} under;

/* Cover and its slope by (X, y, z), this side's part in it; *here is set where that part is not 0. */
static double share_at(const dd_hull *hull, dd_face face, int side, dd_vec3 p, dd_vec3 *by_p, under *here)
{
    dd_smooth part = dd_smooth_step(0.5 + side * p.y / (2 * blend));
    *by_p = dd_vec(0, 0, 0);
    if (part.value <= 0) return 0; /* the other side's, and no lines to look up */
    part.slope *= side / (2 * blend);
    if (face == DD_FACE_TOPSIDE) {
        const dd_topside_point t = here->topside = dd_hull_topside(hull, p.x, p.z);
        *by_p = dd_vec(t.cover_x * part.value, t.cover * part.slope, t.cover_z * part.value);
        return t.cover * part.value;
    }
    const dd_bottom_point b = here->bottom = dd_hull_bottom(hull, p.x, p.y, side);
    *by_p = dd_vec(b.cover_x * part.value, b.cover_y * part.value + b.cover * part.slope, 0);
    return b.cover * part.value;
}

/* By differences of the exact first derivatives: they matter only within the fades, and there only to K. */
static void turn_share(dd_ball *ball, const dd_hull *hull, dd_face face, int side)
{
    const double h = 1e-6;
    for (int j = 0; j < 3; j++) {
        const dd_vec3 e = dd_vec(j == 0 ? h : 0, j == 1 ? h : 0, j == 2 ? h : 0);
        dd_vec3 more, less;
        under unused;
        (void)share_at(hull, face, side, dd_add(ball->p, e), &more, &unused);
        (void)share_at(hull, face, side, dd_sub(ball->p, e), &less, &unused);
        dd_vec3 d = dd_scale(0.5 / h, dd_sub(more, less));
        ball->share_turning.m[0][j] = d.x, ball->share_turning.m[1][j] = d.y, ball->share_turning.m[2][j] = d.z;
    }
}

int dd_ball_press(dd_ball *b, const dd_hull *hull, dd_face face, int side, int with_gradient)
{
    const double far = 2 * b->radius; /* a first look: the true distance is less, but not by half on any hull's side */
    under here;
    b->share = share_at(hull, face, side, b->p, &b->share_by_p, &here);
    if (b->share <= 0) return 0;
    if (face == DD_FACE_TOPSIDE) {
        const dd_topside_point t = here.topside;
        if (side * b->p.y - t.y > far * sqrt(1 + t.yx * t.yx + t.yz * t.yz)) return 0;
        b->nearest = dd_nearest_topside(hull, side, b->p, with_gradient);
    } else {
        const dd_bottom_point start = here.bottom;
        if (b->p.z >= start.z) return 0; /* beside the hull, over its bottom: the topside's ball */
        if (start.z - b->p.z > far * sqrt(1 + start.zx * start.zx + start.zy * start.zy)) return 0;
        b->nearest = dd_nearest_at(hull, side, b->p, start, with_gradient);
    }
    const double depth = b->radius - b->nearest.distance;
    if (depth <= 0) return 0;
    const dd_vec3 u = dd_add(b->linear, dd_cross(b->angular, b->p));
    b->squash = dd_squash_at(b->stiffness, b->damping, depth, dd_dot(b->nearest.normal, u));
    b->load = b->share * b->squash.elastic * b->squash.factor;
    b->force = dd_add(dd_scale(-b->load, b->nearest.normal), dd_scale(b->squash.energy, b->share_by_p));
    if (with_gradient) turn_share(b, hull, face, side);
    return 1;
}

void dd_ball_vary(const dd_ball *b, dd_vec3 p, dd_vec3 linear, dd_vec3 angular, dd_vec3 *normal, double *load, double wrench[6])
{
    const dd_squash *e = &b->squash;
    const dd_vec3 n = b->nearest.normal, u = dd_add(b->linear, dd_cross(b->angular, b->p));
    const dd_vec3 du = dd_add(dd_add(linear, dd_cross(angular, b->p)), dd_cross(b->angular, p));
    *normal = dd_apply(&b->nearest.turning, p);
    const double depth = -dd_dot(n, p), rate = dd_dot(*normal, u) + dd_dot(n, du), share = dd_dot(b->share_by_p, p);
    *load = share * e->elastic * e->factor + b->share * e->elastic_by_depth * depth * e->factor +
            b->share * e->elastic * e->factor_by_rate * rate;
    dd_vec3 force = dd_add(dd_add(dd_scale(-*load, n), dd_scale(-b->load, *normal)),
                           dd_add(dd_scale(e->elastic * depth, b->share_by_p),
                                  dd_scale(e->energy, dd_apply(&b->share_turning, p))));
    dd_wrench_add(wrench, force, b->p);
    dd_vec3 moved = dd_cross(p, b->force);
    wrench[3] += moved.x, wrench[4] += moved.y, wrench[5] += moved.z;
}
