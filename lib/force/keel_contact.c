/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The keel line on a roller: see contact.h. Everything is written with u turning in the plane across the axle, and nothing divides
   by rho, so that a keel pressed as deep as the axle itself is nothing special. */
#include "lib/force/contact.h"
#include "lib/force/smooth.h"

static const double least_crossing = 0.12; /* square of the sine of the least angle between keel and axle */
static const double steepest = 0.9;        /* sine of the most that u leans along the keel */

static dd_smooth radius_at(const dd_profile *profile, double t)
{
    if (!(profile->height > 0)) return (dd_smooth){profile->radius, 0, 0};
    dd_smooth rise = dd_smooth_step((fabs(t) - profile->start) / profile->length);
    return (dd_smooth){profile->radius + profile->height * rise.value,
                       copysign(profile->height * rise.slope / profile->length, t),
                       profile->height * rise.curvature / (profile->length * profile->length)};
}

static dd_line_place on_keel(const dd_hull *hull, double s)
{
    dd_bottom_point b = dd_hull_keel_shape(hull, s);
    return (dd_line_place){dd_vec(s, 0, b.z), dd_vec(1, 0, b.zx), dd_vec(0, 0, b.zxx)};
}

/* All at one place of the line; returns how far r is off u, which is 0 at the least gap. */
static double look(dd_line_place line, const dd_profile *profile, dd_vec3 p, dd_keel_contact *c)
{
    c->at = line.at;
    c->tangent = line.tangent;
    c->bend = line.bend;
    dd_vec3 r = dd_sub(c->at, p);
    c->t = dd_dot(r, c->axle);
    dd_smooth radius = radius_at(profile, c->t);
    c->slope = radius.slope;
    c->curvature = radius.curvature;
    const double along = dd_dot(c->axle, c->tangent);
    dd_vec3 across = dd_sub(c->tangent, dd_scale(along, c->axle));
    const double length = dd_norm(across);
    dd_vec3 v = dd_scale(1 / length, across), n = dd_cross(v, c->axle);
    if (c->axle.y < 0) n = dd_scale(-1, n); /* up, and aft from an upright stem */
    if (radius.slope == 0) {
        c->u = c->w = n;
        c->turning = v;
    } else {
        const double lean = fmax(-steepest, fmin(steepest, radius.slope * along / length)), upright = sqrt(1 - lean * lean);
        c->u = dd_add(dd_scale(upright, n), dd_scale(lean, v));
        c->turning = dd_sub(dd_scale(upright, v), dd_scale(lean, n));
        c->w = dd_sub(c->u, dd_scale(radius.slope, c->axle));
    }
    c->rho = dd_dot(r, c->u);
    c->depth = radius.value - c->rho;
    const double crossing = dd_dot(c->turning, c->tangent);
    c->turning_by_s = (c->curvature * along * along - dd_dot(c->w, c->bend)) / crossing;
    c->by_s = crossing - c->rho * c->turning_by_s;
    if (c->by_s < 0.2 * crossing) c->by_s = crossing; /* a hollow tighter than the keel's bend: no one place; as if straight */
    return dd_dot(r, c->turning);
}

int dd_keel_on_axle(const dd_hull *hull, const dd_profile *profile, dd_vec3 p, dd_vec3 axle, dd_keel_contact *c)
{
    if (axle.y * axle.y < least_crossing) return 0;
    c->axle = axle;
    double s = p.x - p.y / axle.y * axle.x; /* where the axle goes through the keel's plane */
    double off = look(on_keel(hull, s), profile, p, c);
    for (int i = 0; i < 12 && fabs(off) > 1e-11; i++) {
        s -= off / c->by_s;
        off = look(on_keel(hull, s), profile, p, c);
    }
    return 1;
}

/* Outside a line that bends to one side `off` rises along it, so that its root is between the ends or is one of them. */
int dd_stem_on_axle(const dd_hull *hull, const dd_stem_line *stem, const dd_profile *profile, dd_vec3 p, dd_vec3 axle, dd_keel_contact *c)
{
    static const double beyond = 1; /* over the stem head, where the line goes on, m */
    if (axle.y * axle.y < least_crossing) return 0;
    c->axle = axle;
    const dd_vec3 middle = dd_sub(p, dd_scale(p.y / axle.y, axle)); /* of the axle, in the hull's middle plane */
    double low = stem->first, high = dd_hull_stem_line_at_height(stem, fmax(stem->head, middle.z) + beyond);
    double s = middle.x < stem->turn ? middle.x : dd_hull_stem_line_at_height(stem, middle.z);
    if (middle.x >= stem->turn && s < stem->upright) s = 0.5 * (stem->turn + stem->upright);
    s = fmax(low, s);
    for (int i = 0; i < 60; i++) {
        const double off = look(dd_hull_on_stem_line(hull, stem, s), profile, p, c);
        if (fabs(off) <= 1e-11) break;
        if (off > 0)
            high = s;
        else
            low = s;
        const double next = s - off / c->by_s;
        s = next > low && next < high ? next : 0.5 * (low + high);
    }
    return 1;
}

dd_keel_change dd_keel_change_by(const dd_keel_contact *c, dd_vec3 dp, dd_vec3 da)
{
    const double along = dd_dot(c->axle, c->tangent), crossing = dd_dot(c->turning, c->tangent), swing = dd_dot(c->u, da);
    /* at one place of the keel first: of t and of u's turning */
    const double dt = c->rho * swing - dd_dot(dp, c->axle);
    const double turned = (swing * along + c->curvature * dt * along + c->slope * dd_dot(da, c->tangent)) / crossing;
    const double off = -dd_dot(dp, c->turning) - c->t * dd_dot(c->turning, da) - c->rho * turned;
    const double ds = -off / c->by_s, t_all = dt + along * ds;
    dd_vec3 du = dd_sub(dd_scale(turned + c->turning_by_s * ds, c->turning), dd_scale(swing, c->axle));
    return (dd_keel_change){
        .w = dd_sub(dd_sub(du, dd_scale(c->curvature * t_all, c->axle)), dd_scale(c->slope, da)),
        .at = dd_scale(ds, c->tangent),
        .depth = dd_dot(c->w, dp) + (c->t + c->slope * c->rho) * swing,
    };
}
