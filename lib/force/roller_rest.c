/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A roller's K with the boat at rest: to the last digit what dd_roller_vary makes of the six displacements, without what falls out
   when nothing moves, the rates of squash and bristles, and without the bristles' own rates. */
#include "lib/force/roller_patch.h"

static const dd_vec3 unit[3] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};

/* What a displacement of the hull makes of a contact, for its friction. */
typedef struct moved {
    dd_vec3 normal, point;
    double load;
} moved;

static inline double push_by(const dd_patch *q, dd_vec3 dp, double depth)
{
    const dd_squash *e = &q->squash;
    return dd_dot(q->share_by_p, dp) * e->elastic * e->factor + q->share * e->elastic_by_depth * depth * e->factor;
}

static inline dd_vec3 share_by(const dd_patch *q, dd_vec3 dp)
{
    return dd_vec(q->share_xx * dp.x + q->share_xy * dp.y, q->share_xy * dp.x + q->share_yy * dp.y, 0);
}

static inline moved ball_moved(const dd_patch *q, const dd_roller_state *s, dd_vec3 dp, double wrench[6])
{
    const dd_squash *e = &q->squash;
    const dd_vec3 n = q->normal, dn = dd_apply(&q->nearest.turning, dp);
    const double depth = -dd_dot(n, dp), load = push_by(q, dp, depth);
    const dd_vec3 force = dd_add(dd_add(dd_scale(-load, n), dd_scale(-q->load, dn)),
                                 dd_add(dd_scale(e->elastic * depth, q->share_by_p), dd_scale(e->energy, share_by(q, dp))));
    dd_wrench_add(wrench, force, s->p);
    dd_wrench_move(wrench, dp, q->normal_force);
    return (moved){dn, dd_sub(dp, dd_scale(s->roller->radius, dn)), load};
}

static moved keel_moved(const dd_patch *q, const dd_roller_state *s, dd_vec3 dp, dd_vec3 da, double wrench[6])
{
    const dd_squash *e = &q->squash;
    const dd_keel_change c = dd_keel_change_by(&q->edge, dp, da);
    const double push = push_by(q, dp, c.depth);
    dd_wrench_add(wrench, dd_add(dd_scale(push, q->edge.w), dd_scale(q->push, c.w)), q->at);
    dd_wrench_move(wrench, c.at, q->normal_force);
    dd_wrench_add(wrench, dd_add(dd_scale(e->elastic * c.depth, q->share_by_p), dd_scale(e->energy, share_by(q, dp))), s->p);
    dd_wrench_move(wrench, dp, q->share_force);
    const double longer = -dd_dot(q->normal, c.w);
    return (moved){dd_scale(-1 / q->slant, dd_add(c.w, dd_scale(longer, q->normal))), c.at, push * q->slant + q->push * longer};
}

/* The friction keeps its coefficients; load, directions and place change. */
static void rub_moved(const dd_patch *q, const dd_roller_state *s, const moved *m, dd_vec3 da, double wrench[6])
{
    const dd_vec3 n = q->normal, dn = m->normal;
    const double a = q->coefficient[DD_ACROSS], r = q->coefficient[DD_ROLLING];
    const dd_vec3 tangent = dd_sub(dd_sub(da, dd_scale(dd_dot(da, n) + dd_dot(s->axle, dn), n)), dd_scale(dd_dot(s->axle, n), dn));
    const dd_vec3 across = dd_scale(1 / q->across_length, dd_sub(tangent, dd_scale(dd_dot(q->across, tangent), q->across)));
    const dd_vec3 rolling = dd_add(dd_cross(dn, q->across), dd_cross(n, across));
    const dd_vec3 sum = dd_add(dd_scale(a, q->across), dd_scale(r, q->rolling)), turned = dd_add(dd_scale(a, across), dd_scale(r, rolling));
    dd_wrench_add(wrench, dd_sub(dd_scale(-m->load, sum), dd_scale(q->load, turned)), q->point);
    dd_wrench_move(wrench, m->point, q->friction);
}

void dd_roller_move_at_rest(const dd_roller_state *s, dd_vec3 dp, dd_vec3 da, double wrench[6])
{
    moved m[DD_PATCHES];
    for (int i = 0; i < s->patch_count; i++) {
        const dd_patch *q = &s->patches[i];
        m[i] = q->keel ? keel_moved(q, s, dp, da, wrench) : ball_moved(q, s, dp, wrench);
    }
    for (int i = 0; i < s->patch_count; i++) {
        const dd_patch *q = &s->patches[i];
        if (q->coefficient[DD_ACROSS] != 0 || q->coefficient[DD_ROLLING] != 0) rub_moved(q, s, &m[i], da, wrench);
    }
}

void dd_roller_stiffen(const dd_roller_state *s, int leave_out, double K[6][6])
{
    for (int j = 0; j < 6; j++) {
        if ((leave_out & (1 << j)) != 0) continue;
        const dd_vec3 e = unit[j % 3], dp = j < 3 ? dd_scale(-1, e) : dd_cross(s->p, e);
        const dd_vec3 da = j < 3 ? dd_vec(0, 0, 0) : dd_cross(s->axle, e);
        double wrench[6] = {0};
        dd_roller_move_at_rest(s, dp, da, wrench);
        for (int i = 0; i < 6; i++) K[i][j] -= wrench[i];
    }
}

void dd_roller_vary_at_rest(const dd_roller_state *s, double (*rate_by_twist)[6], double (*load_by_value)[6])
{
    for (int i = 0; i < s->patch_count; i++) {
        const dd_patch *q = &s->patches[i];
        const dd_bristle *a = &q->bristle[DD_ACROSS], *r = &q->bristle[DD_ROLLING];
        double by_value[DD_BRISTLES][DD_BRISTLES] = {{0}}, by_speed[DD_BRISTLES][DD_BRISTLES] = {{0}};
        for (int b = 0; b < DD_BRISTLES && q->slides; b++)
            for (int c = 0; c < DD_BRISTLES; c++) {
                by_value[b][c] = q->disc.coefficient_by_value[b][c];
                by_speed[b][c] = q->disc.rate_by_velocity[b][c];
            }
        if (!q->slides) {
            by_value[DD_ACROSS][DD_ACROSS] = a->coefficient_by_value;
            by_value[DD_ROLLING][DD_ROLLING] = r->coefficient_by_value;
            by_speed[DD_ACROSS][DD_ACROSS] = a->rate_by_speed;
            by_speed[DD_ACROSS][DD_ROLLING] = a->rate_by_renewal * q->renewal_by_speed;
            by_speed[DD_ROLLING][DD_ROLLING] = r->rate_by_speed;
        }
        const dd_vec3 along[DD_BRISTLES] = {[DD_ACROSS] = q->across, [DD_ROLLING] = q->rolling};
        for (int c = 0; c < DD_BRISTLES; c++) {
            double wrench[6] = {0};
            dd_wrench_add(wrench, along[c], q->point);
            for (int b = 0; b < DD_BRISTLES; b++) {
                const double load = q->load * by_value[c][b];
                for (int j = 0; j < 6 && load != 0; j++) load_by_value[b][j] -= load * wrench[j];
                for (int j = 0; j < 6 && rate_by_twist != NULL && by_speed[b][c] != 0; j++) rate_by_twist[b][j] += by_speed[b][c] * wrench[j];
            }
        }
    }
}
