/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Profile of the ramp: straight lines, and at each grade break a vertical curve along which the slope goes from one line's
   to the next by a cubic smoothstep, S(u) = 3 u^2 - 2 u^3. With Phi(u) = u^3 - u^4/2 the integral of S and u counted from
   the curve's beginning over its length l,
       z = z0 + s0 (x - x0) + change l Phi(u),   z' = s0 + change S(u),   z'' = change / l 6 u (1 - u),
   and Phi(1) = 1/2: the lines meet at the curve's middle, where the profile lies 3/32 change l beside them. z'' is
   continuous. A drop at the toe is a quintic smoothstep, whose first and second derivatives vanish at its ends. So do those of
   the scour hole and its mound, height times 64 (u (1 - u))^3, greatest curvature 24 height/length^2 at the top (in the hole a
   hollow) and 19.2 height/length^2 beside it. A wheel touches the ground at one point only: a rule in ramp_keys.c refuses
   hollows sharper than 1.65 /m. */
#include "lib/shore/profile.h"
#include "lib/base/check.h"
#include "lib/base/error.h"
#include <stdlib.h>

void dd_ramp_defaults(dd_ramp_parameters *parameters)
{
    dd_key_clear(dd_ramp_keys, parameters);
    dd_key_defaults(dd_ramp_keys, parameters);
    parameters->cookie = sizeof *parameters;
}

static void add_step(const dd_ramp *ramp, double x, dd_ramp_point *p)
{
    double u = (x - ramp->step_x) / ramp->step_length;
    if (u <= 0) return;
    if (u >= 1) {
        p->z -= ramp->step_height;
        return;
    }
    double h = ramp->step_height, l = ramp->step_length, v = u * (1 - u);
    p->z -= h * u * u * u * (10 + u * (6 * u - 15));
    p->slope -= h / l * 30 * v * v;
    p->curvature -= h / (l * l) * 60 * v * (1 - 2 * u);
}

/* height * 64 (u (1 - u))^3 over one length from `begin` on */
static void add_bump(double begin, double length, double height, double x, dd_ramp_point *p)
{
    double u = (x - begin) / length;
    if (u <= 0 || u >= 1) return;
    double q = u * (1 - u), q_u = 1 - 2 * u;
    p->z += height * 64 * q * q * q;
    p->slope += height / length * 192 * q * q * q_u;
    p->curvature += height / (length * length) * 384 * q * (1 - 5 * q);
}

dd_ramp_point dd_ramp_at(const dd_ramp *ramp, double x)
{
    int low = 0, high = ramp->curve_count; /* curves before low begin at or before x */
    while (low < high) {
        int middle = (low + high) / 2;
        if (ramp->curves[middle].x <= x)
            low = middle + 1;
        else
            high = middle;
    }
    dd_ramp_point p;
    if (low == 0) {
        p = (dd_ramp_point){ramp->line_z + ramp->line_slope * (x - ramp->line_x), ramp->line_slope, 0};
    } else {
        const curve *c = &ramp->curves[low - 1];
        double d = x - c->x, u = d / c->length;
        if (u < 1) {
            p.z = c->z + c->slope * d + c->change * c->length * u * u * u * (1 - u / 2);
            p.slope = c->slope + c->change * u * u * (3 - 2 * u);
            p.curvature = c->change / c->length * 6 * u * (1 - u);
        } else {
            double slope = c->slope + c->change;
            p = (dd_ramp_point){c->z + c->slope * c->length / 2 + slope * (d - c->length / 2), slope, 0};
        }
    }
    if (ramp->step_height > 0) add_step(ramp, x, &p);
    if (ramp->scour.depth > 0) add_bump(ramp->scour_x, ramp->scour.length, -ramp->scour.depth, x, &p);
    if (ramp->scour.mound_height > 0)
        add_bump(ramp->scour_x + ramp->scour.length, ramp->scour.mound_length, ramp->scour.mound_height, x, &p);
    return p;
}

double dd_ramp_foot(const dd_ramp *ramp, double x, double z, dd_ramp_point *at_foot)
{
    dd_ramp_point p = dd_ramp_at(ramp, x);
    double foot = x + p.slope * (z - p.z) / (1 + p.slope * p.slope);
    /* Newton on (x - foot) + (z - z(foot)) z'(foot) = 0: exact at once on a straight line. */
    for (int i = 0; i < 20; i++) {
        p = dd_ramp_at(ramp, foot);
        double w2 = 1 + p.slope * p.slope;
        double rest = x - foot + (z - p.z) * p.slope;
        double descent = fmax(w2 - (z - p.z) * p.curvature, 0.2 * w2);
        double move = rest / descent;
        if (fabs(move) <= 1e-14 * (1 + fabs(foot))) break;
        foot += move;
    }
    *at_foot = p;
    return foot;
}

double dd_ramp_toe(const dd_ramp *ramp) { return ramp->toe; }

static void add_break(dd_ramp *ramp, double x, double z, double before, double after, double length)
{
    ramp->curves[ramp->curve_count++] = (curve){x - length / 2, z - before * length / 2, before, after - before, length};
}

static void shape_by_slope(const dd_ramp_parameters *p, dd_ramp *ramp)
{
    double approach = -tan(p->approach_slope), slab = -tan(p->slope);
    ramp->line_z = p->crest_level;
    ramp->line_slope = approach;
    add_break(ramp, 0, p->crest_level, approach, slab, p->crest_curve);
    if (isnan(p->toe_level)) return;
    ramp->toe = (p->toe_level - p->crest_level) / slab;
    add_break(ramp, ramp->toe, p->toe_level, slab, isnan(p->bed_slope) ? slab : -tan(p->bed_slope), p->toe_curve);
}

static double slope_between(const dd_ramp_parameters *p, int i)
{
    return (p->points[i + 1].z - p->points[i].z) / (p->points[i + 1].x - p->points[i].x);
}

/* The first abscissa, going seaward, where the profile falls to the toe's level. */
static double find_toe(const dd_ramp_parameters *p, const dd_ramp *ramp)
{
    for (int i = 1; i < p->point_count; i++) {
        double inshore = p->points[i - 1].x, seaward = p->points[i].x;
        if (dd_ramp_at(ramp, inshore).z < p->toe_level || dd_ramp_at(ramp, seaward).z > p->toe_level) continue;
        for (int k = 0; k < 80; k++) {
            double middle = (inshore + seaward) / 2;
            if (dd_ramp_at(ramp, middle).z > p->toe_level)
                inshore = middle;
            else
                seaward = middle;
        }
        return seaward;
    }
    return INFINITY;
}

static void shape_by_points(const dd_ramp_parameters *p, dd_ramp *ramp)
{
    ramp->line_x = p->points[0].x;
    ramp->line_z = p->points[0].z;
    ramp->line_slope = slope_between(p, 0);
    for (int i = 1; i + 1 < p->point_count; i++) {
        double before = p->points[i].x - p->points[i - 1].x, after = p->points[i + 1].x - p->points[i].x;
        add_break(ramp, p->points[i].x, p->points[i].z, slope_between(p, i - 1), slope_between(p, i),
                  fmin(p->point_curve, fmin(before, after)));
    }
    if (!isnan(p->toe_level)) ramp->toe = find_toe(p, ramp);
}

/* A wheel rolls over a sharp drop on a rounded path, and the hollow at its foot must be wider than a wheel (dd_ramp_foot):
   greatest curvature 5.78 h / l^2 = 1.65 /m. */
static void set_step(const dd_ramp_parameters *p, dd_ramp *ramp)
{
    if (!(p->toe_step > 0) || !isfinite(ramp->toe)) return;
    ramp->step_x = ramp->toe;
    ramp->step_height = p->toe_step;
    ramp->step_length = sqrt(3.5 * p->toe_step);
}

dd_status dd_ramp_create(const dd_ramp_parameters *parameters, dd_ramp **ramp, dd_error *error)
{
    *ramp = NULL;
    if (parameters->cookie != sizeof *parameters)
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_ramp_create", "the struct was not filled with dd_ramp_defaults()");
    dd_status status = dd_key_check(dd_ramp_keys, parameters, "dd_ramp_create", error);
    if (status == DD_OK) status = dd_key_check_rules(dd_ramp_rules, parameters, "dd_ramp_create", error);
    if (status != DD_OK) return status;
    dd_ramp_parameters *filled = malloc(sizeof *filled);
    dd_ramp *made = calloc(1, sizeof *made);
    if (filled == NULL || made == NULL) {
        free(filled);
        free(made);
        return dd_fail(error, DD_ERROR_MEMORY, "dd_ramp_create", "no memory for a ramp");
    }
    *filled = *parameters;
    dd_key_fill(dd_ramp_keys, filled);
    made->toe = INFINITY;
    if (filled->point_count > 0)
        shape_by_points(filled, made);
    else
        shape_by_slope(filled, made);
    set_step(filled, made);
    made->scour = filled->scour;
    made->scour_x = made->toe + made->step_length;
    dd_ramp_set_surfaces(filled, made);
    free(filled);
    *ramp = made;
    return DD_OK;
}

void dd_ramp_free(dd_ramp *ramp) { free(ramp); }
