/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A floating body of given displacement rests where its potential energy, volume times the height of G above B, is
   least over all directions of the vertical. With the volume kept (the level solved inside), on the unit sphere of
   the vertical n, with a, b among the unit tangents e_heel, e_trim:
       gradient  e_a . (V G - M),  M the volume moment
       curvature e_a . (S - m m^T / A) . e_b - delta_ab n . (V G - M),  A, m, S the water plane's moments.
   Newton steps with the curvature's eigenvalues taken positive always descend, so what is found is stable, or is a
   level ridge on which the start stood exactly; the curvature there says which. */
#include <gsl/gsl_math.h>
#include <math.h>
#include <string.h>
#include "lib/base/error.h"
#include "lib/base/vector.h"
#include "lib/hull/lines.h"

enum { MOST_STEPS = 200, MOST_LEVEL_STEPS = 200 };
static const double step_done = 1e-13; /* rad */
static const double step_most = 0.05;  /* rad: short, so as not to leap over a ridge into another basin */

/* The hull at one attitude, displacement kept. */
typedef struct attitude {
    double heel, trim;
    dd_waterplane waterplane;
    dd_hydrostatics hydrostatics;
    double energy;                     /* V n . (G - B), m4 */
    double gradient[2], curvature[3];  /* heel, trim; heel-heel, heel-trim, trim-trim */
} attitude;

/* Level at which the hull displaces a volume: Newton on the volume, kept in a bracket. */
static dd_status solve_level(const dd_hull *hull, double volume, attitude *a, dd_error *error)
{
    const dd_vec3 n = a->waterplane.up;
    const double reach = 1.5 * hull->breadth, xa = n.x * hull->at[0], xb = n.x * hull->at[hull->stations - 1];
    double low = fmin(xa, xb) - reach, high = fmax(xa, xb) + reach, level = a->waterplane.level;
    if (!(level > low && level < high))
        level = 0.5 * (low + high);
    for (int i = 0; i < MOST_LEVEL_STEPS; i++) {
        a->waterplane.level = level;
        dd_hull_hydrostatics(hull, a->waterplane, &a->hydrostatics);
        double excess = a->hydrostatics.volume - volume;
        if (excess > 0)
            high = level;
        else
            low = level;
        double next = level - excess / a->hydrostatics.waterplane_area;
        if (!(next > low && next < high))
            next = 0.5 * (low + high);
        if (fabs(excess) <= 4e-15 * volume || next == level || !(high - low > 1e-16 * reach))
            return DD_OK;
        level = next;
    }
    return dd_fail(error, DD_ERROR_NO_EQUILIBRIUM, "dd_hull_float", "the level for a displacement of %.6g m3 was not found", volume);
}

static void differentiate(const dd_hull *hull, double volume, attitude *a)
{
    const double sh = sin(a->heel), ch = cos(a->heel), st = sin(a->trim), ct = cos(a->trim);
    const double tangent[2][3] = {{0, -ch, -sh}, {-ct, st * sh, -st * ch}};
    const dd_hydrostatics *w = &a->hydrostatics;
    const dd_vec3 lever = dd_sub(dd_scale(volume, hull->mass.centre), w->volume_moment);
    const double m[3] = {w->waterplane_moment.x, w->waterplane_moment.y, w->waterplane_moment.z};
    const double area = w->waterplane_area > 0 ? w->waterplane_area : INFINITY;
    a->energy = dd_dot(a->waterplane.up, lever);
    double ma[2] = {0, 0}, s[3] = {0, 0, 0};
    for (int i = 0; i < 3; i++) {
        ma[0] += m[i] * tangent[0][i];
        ma[1] += m[i] * tangent[1][i];
        for (int j = 0; j < 3; j++) {
            s[0] += tangent[0][i] * w->waterplane_second[i][j] * tangent[0][j];
            s[1] += tangent[0][i] * w->waterplane_second[i][j] * tangent[1][j];
            s[2] += tangent[1][i] * w->waterplane_second[i][j] * tangent[1][j];
        }
    }
    for (int k = 0; k < 2; k++)
        a->gradient[k] = tangent[k][0] * lever.x + tangent[k][1] * lever.y + tangent[k][2] * lever.z;
    a->curvature[0] = s[0] - ma[0] * ma[0] / area - a->energy;
    a->curvature[1] = s[1] - ma[0] * ma[1] / area;
    a->curvature[2] = s[2] - ma[1] * ma[1] / area - a->energy;
}

static dd_status set_attitude(const dd_hull *hull, double volume, double heel, double trim, attitude *a, dd_error *error)
{
    a->heel = heel;
    a->trim = trim;
    a->waterplane.up = dd_waterplane_at(heel, trim, 0).up;
    dd_status status = solve_level(hull, volume, a, error);
    if (!status)
        differentiate(hull, volume, a);
    return status;
}

/* Eigenvalues (ascending) and the unit vector of the first, of the curvature. */
static void principal(const double c[3], double value[2], double vector[2])
{
    double mean = 0.5 * (c[0] + c[2]), half = 0.5 * (c[0] - c[2]), radius = hypot(half, c[1]);
    double angle = 0.5 * atan2(c[1], half) + M_PI_2;
    value[0] = mean - radius;
    value[1] = mean + radius;
    vector[0] = cos(angle);
    vector[1] = sin(angle);
}

/* Descending Newton step; trim alone when heel is held. */
static void newton_step(const attitude *a, double volume, double breadth, int hold_heel, double step[2])
{
    const double least = 1e-9 * volume * breadth;
    if (hold_heel) {
        step[0] = 0;
        step[1] = -a->gradient[1] / fmax(fabs(a->curvature[2]), least);
    } else {
        double value[2], v[2];
        principal(a->curvature, value, v);
        double along = -(v[0] * a->gradient[0] + v[1] * a->gradient[1]) / fmax(fabs(value[0]), least);
        double across = -(v[0] * a->gradient[1] - v[1] * a->gradient[0]) / fmax(fabs(value[1]), least);
        step[0] = along * v[0] - across * v[1];
        step[1] = along * v[1] + across * v[0];
    }
    double size = hypot(step[0], step[1]);
    if (size > step_most) {
        step[0] *= step_most / size;
        step[1] *= step_most / size;
    }
}

/* Descends from a's heel and trim. */
static dd_status descend(const dd_hull *hull, double volume, int hold_heel, attitude *a, dd_error *error)
{
    dd_status status = set_attitude(hull, volume, a->heel, a->trim, a, error);
    for (int i = 0; i < MOST_STEPS && !status; i++) {
        double step[2], size;
        newton_step(a, volume, hull->breadth, hold_heel, step);
        size = hypot(step[0], step[1]);
        if (size <= step_done)
            return DD_OK;
        double down = a->gradient[0] * step[0] + a->gradient[1] * step[1];
        const double rounding = 1e-14 * volume * hull->breadth;
        double pace = fmax(fabs(cos(a->trim)), 0.05);
        attitude trial = *a;
        double share = 1;
        for (int halved = 0; halved < 40; halved++, share *= 0.5) {
            trial.waterplane.level = a->waterplane.level;
            status = set_attitude(hull, volume, a->heel + share * step[0] / pace, a->trim + share * step[1], &trial, error);
            if (status || trial.energy <= a->energy + 1e-4 * share * down + rounding)
                break;
        }
        /* Below 1e-10 rad the energy no longer tells; stop when the gradient no longer falls. */
        if (!status && size < 1e-10 && hypot(trial.gradient[0] * !hold_heel, trial.gradient[1]) >=
                                           hypot(a->gradient[0] * !hold_heel, a->gradient[1]))
            return DD_OK;
        *a = trial;
    }
    return status ? status
                  : dd_fail(error, DD_ERROR_NO_EQUILIBRIUM, "dd_hull_float", "no equilibrium near heel %.4g deg, trim %.4g deg: the search did not end",
                            a->heel * 180 / M_PI, a->trim * 180 / M_PI);
}

/* Displaced volume, m3, or an error when the hull sinks. */
static dd_status displaced(const dd_hull *hull, double density, const char *place, double *volume, dd_error *error)
{
    if (!(density > 0) || !isfinite(density))
        return dd_fail(error, DD_ERROR_ARGUMENT, place, "density %g kg/m3, expected more than 0", density);
    *volume = hull->mass.mass / density;
    if (*volume < hull->volume * (1 - 1e-12))
        return DD_OK;
    dd_fail(error, DD_ERROR_NO_EQUILIBRIUM, place, "the hull does not float: its mass of %.6g kg needs %.6g m3 of water, closed at the sheer it has %.6g m3",
            hull->mass.mass, *volume, hull->volume);
    return dd_fail_remedy(error, DD_ERROR_NO_EQUILIBRIUM, "check the mass, and the heights of the sheer");
}

static double principal_angle(double angle)
{
    return gsl_isnan(angle) ? angle : remainder(angle, 2 * M_PI);
}

dd_status dd_hull_float(const dd_hull *hull, double density, double gravity, double heel, double trim, dd_floating *result,
                        dd_error *error)
{
    double volume, value[2], vector[2];
    if (!(gravity > 0) || !isfinite(gravity) || !isfinite(heel) || !isfinite(trim))
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_hull_float", "gravity %g m/s2, heel %g rad, trim %g rad, expected finite numbers and gravity above 0",
                       gravity, heel, trim);
    dd_status status = displaced(hull, density, "dd_hull_float", &volume, error);
    if (status)
        return status;
    const double starts[4][2] = {{heel, trim}, {heel, 0}, {heel, 0.1}, {heel, -0.1}};
    attitude a;
    for (int i = 0; i < 4; i++) {
        memset(&a, 0, sizeof a);
        a.heel = starts[i][0];
        a.trim = starts[i][1];
        status = descend(hull, volume, 0, &a, error);
        if (!status)
            break;
    }
    if (status)
        return status;
    result->heel = principal_angle(a.heel);
    result->trim = principal_angle(a.trim);
    result->waterplane = a.waterplane;
    result->hydrostatics = a.hydrostatics;
    result->metacentric_height_transverse = a.curvature[0] / volume;
    result->metacentric_height_longitudinal = a.curvature[2] / volume;
    principal(a.curvature, value, vector);
    if (value[0] >= -1e-9 * volume * hull->breadth)
        return DD_OK;
    dd_fail(error, DD_ERROR_NO_EQUILIBRIUM, "dd_hull_float",
            "the equilibrium at heel %.4g deg, trim %.4g deg is unstable: metacentric heights %.4g m transverse, %.4g m longitudinal",
            result->heel * 180 / M_PI, result->trim * 180 / M_PI, result->metacentric_height_transverse,
            result->metacentric_height_longitudinal);
    return dd_fail_remedy(error, DD_ERROR_NO_EQUILIBRIUM, "start from a small heel to find the angle of loll, or lower the centre of mass");
}

dd_status dd_hull_float_with(const dd_hull *hull, const dd_mass_properties *mass, double density, double gravity, double heel, double trim,
                             dd_floating *result, dd_error *error)
{
    dd_hull other = *hull; /* its lines are the hull's own */
    other.mass = *mass;
    return dd_hull_float(&other, density, gravity, heel, trim, result, error);
}

dd_status dd_hull_righting_arm(const dd_hull *hull, double density, double heel, double trim, int free_trim, double *righting_arm,
                               dd_error *error)
{
    double volume;
    if (!isfinite(heel) || !isfinite(trim))
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_hull_righting_arm", "heel %g rad, trim %g rad, expected finite numbers", heel, trim);
    dd_status status = displaced(hull, density, "dd_hull_righting_arm", &volume, error);
    if (status)
        return status;
    attitude a;
    memset(&a, 0, sizeof a);
    a.heel = heel;
    a.trim = trim;
    status = free_trim ? descend(hull, volume, 1, &a, error) : set_attitude(hull, volume, heel, trim, &a, error);
    if (!status) /* gradient over heel: V GZ, GZ counted along the horizontal to port; to port the righting side for heel > 0 */
        *righting_arm = a.gradient[0] / volume;
    return status;
}
