/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/force/contact.h"
#include "lib/force/smooth.h"

dd_squash dd_squash_at(double stiffness, double damping, double depth, double rate)
{
    /* The clamp is rounded over this share of the elastic force; at rest the factor is exactly 1. */
    static const double rounding = 0.2;
    dd_squash s = {0};
    if (!(depth > 0)) return s;
    double root = sqrt(depth);
    s.elastic = stiffness * depth * root;
    s.elastic_by_depth = 1.5 * stiffness * root;
    s.energy = 0.4 * s.elastic * depth;
    dd_smooth factor = dd_smooth_positive(1 + damping * rate, rounding);
    s.factor = factor.value;
    s.factor_by_rate = damping * factor.slope;
    return s;
}

double dd_squash_stiffness(double rated_load, double squash) { return rated_load / (squash * sqrt(squash)); }

dd_bottom_point dd_surface_at(const dd_hull *hull, int side, double x, double y)
{
    return side == 0 ? dd_hull_keel(hull, x) : dd_hull_bottom(hull, x, y, side);
}

/* With q the surface's point at (x, y), t1 = (1, 0, zx) and t2 = (0, 1, zy): (p - q) . t = 0 is solved by Newton, whose
   matrix is G_ij = t_i . t_j - (p - q)_z z_ij. From G follows how the foot and so the normal moves with p:
   d(x, y) = G^-1 (t1 . dp, t2 . dp). */
static void newton_matrix(const dd_bottom_point *b, double height, double g[3])
{
    g[0] = 1 + b->zx * b->zx - height * b->zxx;
    g[1] = b->zx * b->zy - height * b->zxy;
    g[2] = 1 + b->zy * b->zy - height * b->zyy;
    if (g[0] < 0.1 || g[0] * g[2] - g[1] * g[1] < 0.1) { /* a hollow tighter than the roller: no unique foot; as if flat */
        g[0] = 1 + b->zx * b->zx;
        g[1] = b->zx * b->zy;
        g[2] = 1 + b->zy * b->zy;
    }
}

static void solve_symmetric(const double g[3], double a, double b, double *x, double *y)
{
    double determinant = g[0] * g[2] - g[1] * g[1];
    *x = (g[2] * a - g[1] * b) / determinant;
    *y = (g[0] * b - g[1] * a) / determinant;
}

static dd_mat3 normal_turning(const dd_bottom_point *b, dd_vec3 normal, double length, double height)
{
    const dd_vec3 unit[3] = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
    double g[3];
    newton_matrix(b, height, g);
    dd_mat3 turning;
    for (int j = 0; j < 3; j++) {
        double x, y;
        solve_symmetric(g, unit[j].x + b->zx * unit[j].z, unit[j].y + b->zy * unit[j].z, &x, &y);
        dd_vec3 slope = dd_vec(b->zxx * x + b->zxy * y, b->zxy * x + b->zyy * y, 0);
        dd_vec3 dn = dd_scale(1 / length, dd_sub(slope, dd_scale(dd_dot(normal, slope), normal)));
        turning.m[0][j] = dn.x, turning.m[1][j] = dn.y, turning.m[2][j] = dn.z;
    }
    return turning;
}

typedef void (*surface)(const dd_hull *hull, int side, double x, double y, dd_bottom_point *point);

/* close: the foot's place, m. The distance is stationary there, the normal is not. Where the foot is found to a part of what a strake's
   crease takes, the square of the distance is known to some of what Newton's step tells that it falls by. */
static inline dd_nearest nearest_on(surface at, const dd_hull *hull, int side, dd_vec3 p, const dd_bottom_point *start, double close,
                                    double turning_within, double wanted_within)
{
    static const double found = 1e-3; /* m */

    double x = p.x, y = p.y, away = (p.z - start->z) * (p.z - start->z);
    dd_bottom_point b = *start;
    for (int i = 0; i < 50; i++) { /* three or four, but where the stem bends under a roller */
        double g[3], dx, dy;
        const double over_x = p.x - x + (p.z - b.z) * b.zx, over_y = p.y - y + (p.z - b.z) * b.zy;
        newton_matrix(&b, p.z - b.z, g);
        solve_symmetric(g, over_x, over_y, &dx, &dy);
        if (fabs(dx) + fabs(dy) < close) break;
        const double least = away - 4 * (over_x * dx + over_y * dy);
        if (i > 0 && least > wanted_within * wanted_within && fabs(dx) + fabs(dy) < found && p.z < b.z)
            return (dd_nearest){.distance = sqrt(least)};
        /* The matrix leads downhill: a step that ends further away went too far. The rest is rounding. */
        for (int halvings = 0; halvings < 12; halvings++, dx *= 0.5, dy *= 0.5) {
            at(hull, side, x + dx, y + dy, &b);
            const double ahead = p.x - x - dx, beside = p.y - y - dy, over = p.z - b.z;
            const double now = ahead * ahead + beside * beside + over * over;
            if (now > away * (1 + 1e-9) + 1e-20 && halvings < 11) continue;
            away = now;
            break;
        }
        x += dx, y += dy;
    }
    dd_nearest nearest;
    double length = sqrt(1 + b.zx * b.zx + b.zy * b.zy);
    nearest.normal = dd_vec(b.zx / length, b.zy / length, -1 / length);
    nearest.distance = dd_dot(dd_vec(p.x - x, p.y - y, p.z - b.z), nearest.normal);
    if (nearest.distance < turning_within) nearest.turning = normal_turning(&b, nearest.normal, length, p.z - b.z);
    return nearest;
}

static void bottom_of_side(const dd_hull *hull, int side, double x, double y, dd_bottom_point *b) { dd_hull_bottom_shape(hull, x, y, side, b); }
static void keel_line(const dd_hull *hull, int side, double x, double y, dd_bottom_point *b)
{
    (void)side, (void)y;
    *b = dd_hull_keel_shape(hull, x);
}

static dd_nearest nearest_keel(const dd_hull *hull, dd_vec3 p, const dd_bottom_point *start, double turning_within)
{
    return nearest_on(keel_line, hull, 0, p, start, 1e-10, turning_within, INFINITY);
}

dd_nearest dd_nearest_at(const dd_hull *hull, int side, dd_vec3 p, dd_bottom_point start, int with_turning)
{
    const double within = with_turning ? INFINITY : -INFINITY;
    return side == 0 ? nearest_keel(hull, p, &start, within) : nearest_on(bottom_of_side, hull, side, p, &start, 1e-10, within, INFINITY);
}

/* From the keel as an edge. keel: of the keel line as a surface that goes on straight to both sides. */
static dd_nearest from_edge(const dd_nearest *keel, double y, int with_turning)
{
    static const double least = 1e-9; /* m: on the very edge any normal will do */
    const double s = keel->distance;
    dd_nearest edge = {.distance = fmax(hypot(s, y), least)};
    const dd_vec3 g = keel->normal, n = dd_scale(1 / edge.distance, dd_vec(s * g.x, y, s * g.z));
    edge.normal = n;
    if (!with_turning) return edge;
    const double from_keel[3] = {g.x, g.y, g.z}, normal[3] = {n.x, n.y, n.z};
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
            edge.turning.m[i][j] = (from_keel[i] * from_keel[j] + s * keel->turning.m[i][j] + (i == 1 && j == 1) - normal[i] * normal[j]) /
                                   edge.distance;
    return edge;
}

static dd_nearest nearest_bottom(const dd_hull *hull, int side, dd_vec3 p, const dd_bottom_point *start, double turning_within, double wanted_within)
{
    const dd_nearest panel = nearest_on(bottom_of_side, hull, side, p, start, 1e-10, turning_within, wanted_within);
    if (panel.distance > wanted_within || side * (p.y - panel.distance * panel.normal.y) >= 0) return panel;
    const dd_bottom_point below = dd_hull_keel_shape(hull, p.x);
    const dd_nearest keel = nearest_keel(hull, p, &below, turning_within > 0 ? INFINITY : -INFINITY);
    return from_edge(&keel, p.y, turning_within > 0);
}

dd_nearest dd_nearest_bottom(const dd_hull *hull, int side, dd_vec3 p, const dd_bottom_point *start, double turning_within)
{
    return nearest_bottom(hull, side, p, start, turning_within, INFINITY);
}

dd_nearest dd_nearest_bottom_within(const dd_hull *hull, int side, dd_vec3 p, const dd_bottom_point *start, double radius, int with_turning)
{
    return nearest_bottom(hull, side, p, start, with_turning ? radius : 0, radius);
}

static void stem_line(const dd_hull *hull, int side, double x, double y, dd_bottom_point *b)
{
    (void)side, (void)y;
    *b = dd_hull_stem(hull, x);
}

dd_nearest dd_nearest_stem(const dd_hull *hull, int side, dd_vec3 p, double half_angle, int with_turning)
{
    const dd_bottom_point start = dd_hull_stem(hull, p.x);
    const dd_nearest keel = nearest_on(stem_line, hull, side, p, &start, 1e-14, with_turning ? INFINITY : -INFINITY, INFINITY);
    const double c = cos(half_angle), s = sin(half_angle), aside = side * p.y;
    if (aside * s <= keel.distance * c) return from_edge(&keel, p.y, with_turning);
    dd_nearest face = {.distance = aside * c + keel.distance * s};
    face.normal = dd_add(dd_scale(s, keel.normal), dd_vec(0, side * c, 0));
    for (int i = 0; i < 3 && with_turning; i++)
        for (int j = 0; j < 3; j++) face.turning.m[i][j] = s * keel.turning.m[i][j];
    return face;
}

/* The topside laid down: its axes are X, Z and inward, so that outside is below as it is for the bottom. */
static void laid_down(const dd_hull *hull, int side, double x, double z, dd_bottom_point *b)
{
    (void)side; /* both sides are alike */
    dd_topside_point t = dd_hull_topside(hull, x, z);
    *b = (dd_bottom_point){.z = -t.y, .zx = -t.yx, .zy = -t.yz, .zxx = -t.yxx, .zxy = -t.yxz};
}

static dd_vec3 stand_up(int side, dd_vec3 v) { return dd_vec(v.x, -side * v.z, v.y); }

dd_nearest dd_nearest_topside(const dd_hull *hull, int side, dd_vec3 p, int with_turning)
{
    const dd_vec3 laid = dd_vec(p.x, p.z, -side * p.y);
    dd_bottom_point start;
    laid_down(hull, side, laid.x, laid.y, &start);
    dd_nearest n = nearest_on(laid_down, hull, side, laid, &start, 1e-10, with_turning ? INFINITY : -INFINITY, INFINITY);
    n.normal = stand_up(side, n.normal);
    if (!with_turning) return n;
    const dd_mat3 t = n.turning;
    const int row[3] = {0, 2, 1};
    const double sign[3] = {1, -side, 1};
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++) n.turning.m[i][j] = sign[i] * sign[j] * t.m[row[i]][row[j]];
    return n;
}
