/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Energy of the water that the rig displaces, U = rho g times the integral of depth over the immersed volume, as a function of
   each part's place (x, z) and pitch, in closed form.

   A tyre's axle: two discs of radius R less their open rims; with u = depth of the hub / R,
       U = rho g w R^3 G(u), G = u acos(-u) + s - s^3/3, s = sqrt(1 - u^2): G' is the immersed area over R^2; pi u below.
   A box (the vehicle's closed body, or the trailer's members smeared along its length) with a bottom line from P to Q metres
   of water: columns across the bottom, closed at the height H,
       U = rho g b / (2 cos pitch) (J(P, Q) - J(P - H cos, Q - H cos)), J = integral of max(0, depth)^2 along the bottom.
   The surface is taken straight between the two ends of a box. */
#include "lib/force/rig_water.h"
#include <string.h>

#define STEEL 7850.0       /* kg/m3, of the trailer's metal */
#define RIM_SHARE 0.55     /* of the tyre's radius: the rim is open to the water */
#define MEMBER_DEPTH 0.1   /* height of the trailer's members, m */
#define MEMBER_FACE 0.16   /* their volume over the area that they show along the path, m: most run along it */
#define WHEELS 2           /* on an axle */

/* A value with its first and second derivatives by the part's x, z and pitch. The second are left out (curved false) where
   nobody asks: a right-hand side does not, and is three times as fast without. */
typedef struct plane {
    double v, g[3], h[3][3];
} plane;

static plane of_one(bool curved, const plane *a, double f, double f1, double f2)
{
    plane r = {.v = f};
    for (int i = 0; i < 3; i++) {
        r.g[i] = f1 * a->g[i];
        for (int j = 0; curved && j < 3; j++) r.h[i][j] = f1 * a->h[i][j] + f2 * a->g[i] * a->g[j];
    }
    return r;
}

static plane combine(bool curved, double s, const plane *a, double t, const plane *b)
{
    plane r = {.v = s * a->v + t * b->v};
    for (int i = 0; i < 3; i++) {
        r.g[i] = s * a->g[i] + t * b->g[i];
        for (int j = 0; curved && j < 3; j++) r.h[i][j] = s * a->h[i][j] + t * b->h[i][j];
    }
    return r;
}

static plane product(bool curved, const plane *a, const plane *b)
{
    plane r = {.v = a->v * b->v};
    for (int i = 0; i < 3; i++) {
        r.g[i] = a->v * b->g[i] + b->v * a->g[i];
        for (int j = 0; curved && j < 3; j++)
            r.h[i][j] = a->v * b->h[i][j] + b->v * a->h[i][j] + a->g[i] * b->g[j] + b->g[i] * a->g[j];
    }
    return r;
}

typedef struct reference {
    double x, z, cosine, sine;
} reference;

/* Water over a point (aft, up) of a part, and the surface's rate there. */
static plane depth_at(const dd_water *water, double time, const reference *at, double aft, double up, double *rate)
{
    double across = aft * at->cosine + up * at->sine, above = up * at->cosine - aft * at->sine;
    dd_water_surface s = dd_water_surface_at(water, at->x + across, time);
    *rate = s.rate;
    return (plane){.v = s.level - at->z - above,
                   .g = {s.slope, -1, s.slope * above + across},
                   .h = {{s.curvature, 0, s.curvature * above},
                         {0, 0, 0},
                         {s.curvature * above, 0, s.curvature * above * above + above - s.slope * across}}};
}

/* J and its derivatives by P and Q over a length. */
typedef struct squares {
    double v, p, q, pp, pq, qq;
} squares;
static squares squares_of(double p, double q, double length)
{
    if (p < q) {
        squares s = squares_of(q, p, length);
        return (squares){s.v, s.q, s.p, s.qq, s.pq, s.pp};
    }
    if (!(p > 0)) return (squares){0, 0, 0, 0, 0, 0};
    double a = length / 3;
    if (q >= 0)
        return (squares){a * (p * p + p * q + q * q), a * (2 * p + q), a * (p + 2 * q), 2 * a, a, 2 * a};
    double r = p / (p - q), rr = r * r, rrr = rr * r; /* the wet share of the bottom */
    return (squares){a * p * p * r,           a * p * (3 * r - rr), a * p * rr, a * (6 * r - 6 * rr + 2 * rrr),
                     a * (3 * rr - 2 * rrr), 2 * a * rrr};
}

static plane of_squares(bool curved, const squares *s, const plane *p, const plane *q)
{
    plane r = {.v = s->v};
    for (int i = 0; i < 3; i++) {
        r.g[i] = s->p * p->g[i] + s->q * q->g[i];
        for (int j = 0; curved && j < 3; j++)
            r.h[i][j] = s->p * p->h[i][j] + s->q * q->h[i][j] + s->pp * p->g[i] * p->g[j] + s->qq * q->g[i] * q->g[j] +
                        s->pq * (p->g[i] * q->g[j] + q->g[i] * p->g[j]);
    }
    return r;
}

/* weight: rho g; facing: area along the path for each m3 of the shape, 1/m. */
static void add(bool curved, const plane *u, double rate, double weight, double share, double facing, dd_wet *wet)
{
    wet->energy += share * u->v;
    wet->energy_rate += share * rate;
    wet->area -= u->g[DD_WET_Z] / weight * facing;
    for (int i = 0; i < 3; i++) {
        wet->gradient[i] += share * u->g[i];
        wet->area_gradient[i] -= u->h[DD_WET_Z][i] / weight * facing;
        for (int j = 0; curved && j < 3; j++) wet->curvature[i][j] += share * u->h[i][j];
    }
}

typedef struct box {
    double front, rear, bottom; /* aft of and above the reference point, along the part's own axes */
    double breadth, height, share, facing;
} box;

static bool add_box(bool curved, const dd_water *water, double time, double gravity, const reference *at, const box *b, dd_wet *wet)
{
    double weight = water->density * gravity, rate_p, rate_q;
    plane p = depth_at(water, time, at, b->front, b->bottom, &rate_p);
    plane q = depth_at(water, time, at, b->rear, b->bottom, &rate_q);
    if (p.v <= 0 && q.v <= 0) return false;
    plane cosine = {.v = at->cosine, .g = {0, 0, -at->sine}, .h = {[2] = {[2] = -at->cosine}}};
    plane high_p = combine(curved, 1, &p, -b->height, &cosine), high_q = combine(curved, 1, &q, -b->height, &cosine);
    squares low = squares_of(p.v, q.v, b->rear - b->front), high = squares_of(high_p.v, high_q.v, b->rear - b->front);
    plane below = of_squares(curved, &low, &p, &q), over = of_squares(curved, &high, &high_p, &high_q), sum = combine(curved, 1, &below, -1, &over);
    double c = at->cosine, f = 0.5 * weight * b->breadth / c;
    plane factor = of_one(curved, &cosine, f, -f / c, 2 * f / (c * c)), u = product(curved, &factor, &sum);
    add(curved, &u, f * ((low.p - high.p) * rate_p + (low.q - high.q) * rate_q), weight, b->share, b->facing, wet);
    return true;
}

/* R^3 G and its derivatives by the depth. */
static void disc(double depth, double radius, double w[3])
{
    double u = depth / radius, r2 = radius * radius;
    if (u <= -1) {
        w[0] = w[1] = w[2] = 0;
        return;
    }
    const double pi = 3.14159265358979323846;
    if (u >= 1) {
        w[0] = pi * u * r2 * radius, w[1] = pi * r2, w[2] = 0;
        return;
    }
    double s = sqrt((1 - u) * (1 + u)), angle = acos(-u);
    w[0] = r2 * radius * (u * angle + s - s * s * s / 3);
    w[1] = r2 * (angle + u * s);
    w[2] = 2 * radius * s;
}

static bool add_wheels(bool curved, const dd_water *water, double time, double gravity, const reference *at, double aft, double up,
                       double radius, double width, dd_wet *wet)
{
    double rate, outer[3], rim[3], weight = water->density * gravity, f = WHEELS * weight * width;
    plane depth = depth_at(water, time, at, aft, up, &rate);
    if (depth.v <= -radius) return false;
    disc(depth.v, radius, outer);
    disc(depth.v, RIM_SHARE * radius, rim);
    plane u = of_one(curved, &depth, f * (outer[0] - rim[0]), f * (outer[1] - rim[1]), f * (outer[2] - rim[2]));
    /* the mean length of a disc along the path is pi R / 2; its rim's opening faces across */
    add(curved, &u, u.g[DD_WET_Z] * -rate, weight, 1, 2 / (3.14159265358979323846 * radius), wet);
    return true;
}

bool dd_rig_wet_add(const dd_rig *rig, const dd_water *water, double gravity, const dd_kinematics *k, int part,
                    bool curved, dd_wet *wet)
{
    const dd_vehicle_parameters *v = &rig->vehicle;
    const dd_trailer_parameters *t = &rig->trailer;
    bool any = false;
    if (dd_wet_part_of_vehicle(part)) {
        const double x = k->pose.rig[DD_RIG_X];
        const reference at = {x, k->vehicle.rear_z, k->vehicle.cosine, k->vehicle.sine};
        if (part == DD_WET_BODY) {
            const box body = {v->rear_overhang - v->body_length, v->rear_overhang, v->floor_height, v->body_width,
                              v->body_height, 1 - v->flooded_share, 1 / v->body_length};
            return add_box(curved, water, k->time, gravity, &at, &body, wet);
        }
        for (int axle = 0; axle < 2; axle++)
            any |= add_wheels(curved, water, k->time, gravity, &at, axle == 0 ? -v->wheelbase : 0, v->tyre_radius, v->tyre_radius,
                              v->tyre_width, wet);
        return any;
    }
    const reference at = {k->coupling.x, k->coupling.z, k->chassis_to_world.m[0][0], k->chassis_to_world.m[0][2]};
    if (part == DD_WET_TRAILER_TYRES) {
        for (int axle = 0; axle < t->axle_count; axle++)
            any |= add_wheels(curved, water, k->time, gravity, &at, rig->axle[axle].x, rig->axle[axle].z,
                              t->tyre_radius + t->tyre_squash, t->tyre_width, wet);
        return any;
    }
    double metal = t->mass / STEEL, outside = metal + t->frame_volume, closed = metal + t->frame_volume * (1 - t->flooded_share);
    const double length = t->rear_end_behind_coupling;
    const box frame = {0, length, rig->trailer_centre.z - 0.5 * MEMBER_DEPTH, outside / (length * MEMBER_DEPTH), MEMBER_DEPTH,
                       closed / outside, 1 / MEMBER_FACE};
    return add_box(curved, water, k->time, gravity, &at, &frame, wet);
}

void dd_wet_columns(const dd_kinematics *k, bool of_vehicle, double column[DD_RIG_COORDINATES][DD_WET_COORDINATES],
                    double second[DD_WET_COORDINATES])
{
    memset(column, 0, sizeof(double) * DD_RIG_COORDINATES * DD_WET_COORDINATES);
    const dd_vehicle_pose *v = &k->vehicle;
    if (of_vehicle) {
        const double first[] = {1, v->rear_z_x, v->pitch_x}, again[] = {0, v->rear_z_xx, v->pitch_xx};
        memcpy(column[DD_RIG_X], first, sizeof first);
        memcpy(second, again, sizeof again);
        return;
    }
    column[DD_RIG_X][DD_WET_X] = v->ball_x.x;
    column[DD_RIG_X][DD_WET_Z] = v->ball_x.z;
    column[DD_RIG_HEAVE][DD_WET_Z] = 1;
    column[DD_RIG_PITCH][DD_WET_PITCH] = 1;
    column[DD_RIG_REACH][DD_WET_X] = 1;
    second[DD_WET_X] = v->ball_xx.x;
    second[DD_WET_Z] = v->ball_xx.z;
    second[DD_WET_PITCH] = 0;
}
