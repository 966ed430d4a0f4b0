/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/force/bar.h"

const double dd_bar_fade = 0.03;

static void set_share(const dd_stem_line *stem, double half_width, dd_bar *b)
{
    b->across = dd_smooth_fade(fabs(b->p.y) - half_width, b->p.y < 0 ? -1 : 1, dd_bar_fade);
    b->up = dd_smooth_fade(b->p.z - stem->head, 1, dd_bar_fade);
    b->along = dd_smooth_fade(stem->first + dd_bar_fade - b->p.x, -1, dd_bar_fade);
    b->share = b->across.value * b->up.value * b->along.value;
    b->share_by_p = dd_vec(b->across.value * b->up.value * b->along.slope, b->across.slope * b->up.value * b->along.value,
                           b->across.value * b->up.slope * b->along.value);
}

static dd_vec3 share_turning(const dd_bar *b, dd_vec3 d)
{
    const dd_smooth *x = &b->along, *y = &b->across, *z = &b->up;
    const double xy = x->slope * y->slope * z->value, xz = x->slope * y->value * z->slope, yz = x->value * y->slope * z->slope;
    return dd_vec(x->curvature * y->value * z->value * d.x + xy * d.y + xz * d.z,
                  xy * d.x + x->value * y->curvature * z->value * d.y + yz * d.z,
                  xz * d.x + yz * d.y + x->value * y->value * z->curvature * d.z);
}

dd_bar_frame dd_bar_frame_of(const dd_kinematics *k)
{
    const double *twist = k->relative_twist;
    /* the boat lies end for end: its port is the trailer's -Y */
    return (dd_bar_frame){dd_vec(-k->to_trailer.m[1][0], -k->to_trailer.m[1][1], -k->to_trailer.m[1][2]),
                          dd_vec(twist[0], twist[1], twist[2]), dd_vec(twist[3], twist[4], twist[5])};
}

/* Clear for sure: ahead of the stem, or further under the keel's slope than it is thick. A convex line lies over its tangents. */
static bool is_clear(const dd_bars *bars, dd_vec3 p)
{
    const double thick = bars->profile.radius + bars->profile.height;
    if (p.x > bars->stem.end + thick) return true;
    if (p.x >= bars->stem.turn) return false;
    const dd_bottom_point keel = dd_hull_keel_shape(bars->hull, p.x);
    return (keel.z - p.z) / sqrt(1 + keel.zx * keel.zx) > 1.25 * thick;
}

bool dd_bar_press(const dd_bars *bars, const dd_bar_frame *frame, double half_width, dd_vec3 p, dd_bar *b)
{
    b->p = p;
    b->met = false;
    set_share(&bars->stem, half_width, b);
    if (b->share <= 0 || is_clear(bars, p)) return false;
    b->met = dd_stem_on_axle(bars->hull, &bars->stem, &bars->profile, p, frame->axle, &b->edge);
    if (!b->met || b->edge.depth <= 0) return false;
    const dd_vec3 u = dd_add(frame->linear, dd_cross(frame->angular, b->edge.at));
    b->squash = dd_squash_at(bars->stiffness, bars->damping, b->edge.depth, -dd_dot(b->edge.w, u));
    b->push = b->share * b->squash.elastic * b->squash.factor;
    return true;
}

void dd_bar_add(const dd_bar *b, const dd_bar_frame *frame, dd_load *load)
{
    const dd_vec3 u = dd_add(frame->linear, dd_cross(frame->angular, b->edge.at));
    dd_wrench_add(load->hull, dd_scale(b->push, b->edge.w), b->edge.at);
    dd_wrench_add(load->hull, dd_scale(b->squash.energy, b->share_by_p), b->p);
    load->energy += b->share * b->squash.energy;
    load->heat -= (b->push - b->share * b->squash.elastic) * dd_dot(b->edge.w, u);
}

dd_bar_change dd_bar_vary(const dd_bar *b, const dd_bar_frame *frame, int j, bool moved, double wrench[6])
{
    const dd_vec3 e = dd_vec(j % 3 == 0, j % 3 == 1, j % 3 == 2), zero = {0, 0, 0};
    const bool turns = j >= 3;
    const dd_vec3 dp = !moved ? zero : turns ? dd_cross(b->p, e) : dd_scale(-1, e), da = moved && turns ? dd_cross(frame->axle, e) : zero;
    const dd_vec3 linear = moved || turns ? zero : e, angular = !moved && turns ? e : zero;
    const dd_squash *s = &b->squash;
    const dd_keel_change c = dd_keel_change_by(&b->edge, dp, da);
    const dd_vec3 u = dd_add(frame->linear, dd_cross(frame->angular, b->edge.at));
    const dd_vec3 du = dd_add(dd_add(linear, dd_cross(angular, b->edge.at)), dd_cross(frame->angular, c.at));
    const double rate = -dd_dot(c.w, u) - dd_dot(b->edge.w, du), shared = dd_dot(b->share_by_p, dp);
    const double push = shared * s->elastic * s->factor +
                        b->share * (s->elastic_by_depth * c.depth * s->factor + s->elastic * s->factor_by_rate * rate);
    dd_wrench_add(wrench, dd_add(dd_scale(push, b->edge.w), dd_scale(b->push, c.w)), b->edge.at);
    dd_wrench_move(wrench, c.at, dd_scale(b->push, b->edge.w));
    dd_wrench_add(wrench, dd_add(dd_scale(s->elastic * c.depth, b->share_by_p), dd_scale(s->energy, share_turning(b, dp))), b->p);
    dd_wrench_move(wrench, dp, dd_scale(s->energy, b->share_by_p));
    return (dd_bar_change){c.w, c.at, du, push, shared * s->elastic + b->share * s->elastic_by_depth * c.depth};
}
