/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strips: the sections at the nodes of a Gauss-Legendre rule in each bay, stored once. Volume and volume moment
   are then exactly the derivatives of sum(weight * integral of (level - up . X) over the immersed section) with
   respect to level and -up, so the run makes no energy however few strips there are. */
#include <math.h>
#include <stdlib.h>
#include "lib/base/error.h"
#include "lib/hull/lines.h"
#include "lib/hull/section.h"
#include "lib/ode/gsl.h"

enum { USUAL_STRIPS = 40, LEAST_PER_BAY = 2, MOST_PER_BAY = 256 };

/* One strip with what decides at a glance whether it is dry or wholly wet. */
typedef struct strip_node {
    double x, weight;
    double low, high, breadth; /* least and greatest height, greatest half-breadth */
    double area, moment_z;     /* of the whole section */
} strip_node;

struct dd_strips {
    int count, points, chine;
    strip_node *nodes;
    double *y, *z; /* count rows of `points` */
};

void dd_strips_free(dd_strips *strips)
{
    if (!strips)
        return;
    free(strips->nodes);
    free(strips->y);
    free(strips->z);
    free(strips);
}

static void fill_node(const dd_hull *hull, dd_strips *strips, int index, int bay, double t, double weight)
{
    strip_node *node = &strips->nodes[index];
    double *y = strips->y + index * strips->points, *z = strips->z + index * strips->points;
    dd_lines_section(hull, bay, t, y, z);
    *node = (strip_node){.x = hull->at[bay] + t, .weight = weight, .low = z[0], .high = z[0]};
    for (int i = 0; i < strips->points; i++) {
        node->low = fmin(node->low, z[i]);
        node->high = fmax(node->high, z[i]);
        node->breadth = fmax(node->breadth, fabs(y[i]));
    }
    dd_section_whole(strips->points, y, z, &node->area, &node->moment_z);
}

dd_status dd_strips_create(const dd_hull *hull, int per_bay, dd_strips **result, dd_error *error)
{
    int bays = hull->stations - 1;
    *result = NULL;
    dd_gsl_quiet();
    if (per_bay == 0)
        per_bay = bays * 4 > USUAL_STRIPS ? 4 : (USUAL_STRIPS + bays - 1) / bays;
    if (per_bay < LEAST_PER_BAY || per_bay > MOST_PER_BAY)
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_strips_create: per_bay", "%d strips in each bay, expected %d to %d, or 0 for the usual",
                       per_bay, LEAST_PER_BAY, MOST_PER_BAY);
    gsl_integration_glfixed_table *rule = gsl_integration_glfixed_table_alloc((size_t)per_bay);
    dd_strips *strips = calloc(1, sizeof *strips);
    if (strips) {
        size_t count = (size_t)(bays * per_bay);
        strips->count = bays * per_bay;
        strips->points = hull->points;
        strips->chine = hull->points - 2;
        strips->nodes = calloc(count, sizeof *strips->nodes);
        strips->y = calloc(count * (size_t)hull->points, sizeof *strips->y);
        strips->z = calloc(count * (size_t)hull->points, sizeof *strips->z);
    }
    if (!rule || !strips || !strips->nodes || !strips->y || !strips->z) {
        if (rule)
            gsl_integration_glfixed_table_free(rule);
        dd_strips_free(strips);
        return dd_fail(error, DD_ERROR_MEMORY, "dd_strips_create", "no memory for the strips of the hull");
    }
    for (int bay = 0, index = 0; bay < bays; bay++)
        for (int i = 0; i < per_bay; i++, index++) {
            double t, weight;
            gsl_integration_glfixed_point(0, hull->at[bay + 1] - hull->at[bay], (size_t)i, &t, &weight, rule);
            fill_node(hull, strips, index, bay, t, weight);
        }
    gsl_integration_glfixed_table_free(rule);
    *result = strips;
    return DD_OK;
}

/* Water plane parallel to the sections: each strip is wet or dry. */
static void parallel_sums(const dd_strips *strips, const dd_section_plane *plane, dd_section_sums *sums)
{
    for (int i = 0; i < strips->count; i++) {
        const strip_node *node = &strips->nodes[i];
        if (plane->nx * node->x > plane->level)
            continue;
        sums->area += node->weight * node->area;
        sums->area_x += node->weight * node->area * node->x;
        sums->moment_r += node->weight * node->moment_z;
    }
}

static void integrate(const dd_strips *strips, dd_waterplane waterplane, bool moments, dd_hydrostatics *result)
{
    const dd_section_plane plane = dd_section_plane_of(waterplane);
    dd_section_sums sums = {0};
    if (plane.h <= 0) {
        parallel_sums(strips, &plane, &sums);
        dd_section_finish(&plane, &sums, moments, result);
        return;
    }
    const double q0 = plane.level / plane.h, q1 = -plane.nx / plane.h, sine = fabs(plane.sine);
    for (int i = 0; i < strips->count; i++) {
        const strip_node *node = &strips->nodes[i];
        const double q = q0 + q1 * node->x, a = plane.cosine * node->low, b = plane.cosine * node->high, c = sine * node->breadth;
        if (q <= (a < b ? a : b) - c)
            continue;
        if (q < (a < b ? b : a) + c) {
            dd_section_add(&plane, strips->points, strips->y + i * strips->points, strips->z + i * strips->points, node->x, node->weight,
                           moments, &sums);
            continue;
        }
        const double area = node->weight * node->area, moment = node->weight * node->moment_z;
        sums.area += area;
        sums.area_x += area * node->x;
        sums.moment_s -= plane.sine * moment;
        sums.moment_r += plane.cosine * moment;
    }
    dd_section_finish(&plane, &sums, moments, result);
}

void dd_strips_hydrostatics(const dd_strips *strips, dd_waterplane waterplane, dd_hydrostatics *result)
{
    integrate(strips, waterplane, true, result);
}

void dd_strips_immersed(const dd_strips *strips, dd_waterplane waterplane, dd_hydrostatics *result)
{
    integrate(strips, waterplane, false, result);
}

int dd_strips_count(const dd_strips *strips) { return strips->count; }

dd_strip dd_strips_at(const dd_strips *strips, int index)
{
    const strip_node *node = &strips->nodes[index];
    const double *y = strips->y + index * strips->points, *z = strips->z + index * strips->points;
    const int chine = strips->chine;
    return (dd_strip){node->x, node->weight, z[0], y[chine], z[chine], y[chine + 1], z[chine + 1]};
}
