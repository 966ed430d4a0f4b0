/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The hull's lines (keel, strakes, chine, sheer as functions of X) and the hull that holds them. */
#ifndef DD_HULL_LINES_H
#define DD_HULL_LINES_H
#include <gsl/gsl_integration.h>
#include "lib/hull/surface.h"

enum { DD_SECTION_POINTS = DD_STRAKES + 3, DD_BAY_BINS = 128 };

/* Value and derivatives of one line with respect to X. */
typedef struct dd_line_point {
    double y, yx, yxx, z, zx, zxx;
} dd_line_point;

/* In bay b (between stations b and b + 1), line j is two cubics in t = X - at[b]:
   coefficients[(b * points + j) * 8 + 0..3] for y, + 4..7 for z. */
struct dd_hull {
    int stations, points; /* points of a half-section: keel, strakes, chine, sheer */
    int straight;         /* 1: lines straight between stations */
    double at[DD_STATIONS];
    double bins_per_metre;            /* of equal bins between the first station and the last */
    unsigned char bay_of[DD_BAY_BINS]; /* that holds the bin's aft end */
    double *coefficients;
    gsl_integration_glfixed_table *rule; /* Gauss-Legendre rule of the exact integration */
    double breadth;  /* largest distance of a point from the X axis, m: the scale of rounding errors */
    double volume;   /* of the closed hull, m3 */
    dd_mass_properties mass;
    dd_vec3 bow_eye;
    double engine_power; /* W */
    dd_hull_estimates figures;
};

/* Builds coefficients from stations that have been checked. */
dd_status dd_lines_build(dd_hull *hull, const dd_station *stations, int count, int straight, dd_error *error);
/* Bay that holds X; the first or the last for an X outside. */
static inline int dd_lines_bay(const dd_hull *hull, double x)
{
    const double bin = (x - hull->at[0]) * hull->bins_per_metre;
    int bay = hull->bay_of[bin > 0 ? bin < DD_BAY_BINS ? (int)bin : DD_BAY_BINS - 1 : 0];
    while (bay < hull->stations - 2 && x >= hull->at[bay + 1]) bay++;
    while (bay > 0 && x < hull->at[bay]) bay--; /* by rounding */
    return bay;
}
/* Half-section at t = X - at[bay]. */
void dd_lines_section(const dd_hull *hull, int bay, double t, double *y, double *z);
static inline dd_line_point dd_lines_point(const dd_hull *hull, int bay, int line, double t)
{
    const double *c = hull->coefficients + ((size_t)bay * (size_t)hull->points + (size_t)line) * 8;
    return (dd_line_point){c[0] + t * (c[1] + t * (c[2] + t * c[3])), c[1] + t * (2 * c[2] + 3 * t * c[3]), 2 * c[2] + 6 * t * c[3],
                           c[4] + t * (c[5] + t * (c[6] + t * c[7])), c[5] + t * (2 * c[6] + 3 * t * c[7]), 2 * c[6] + 6 * t * c[7]};
}

/* All fields present, in range and in agreement. */
dd_status dd_brochure_check(const dd_hull_parameters *parameters, dd_error *error);
/* Stations of a boat without; their number, 0 out of memory. */
int dd_brochure_stations(const dd_hull_parameters *parameters, const dd_hull_estimates *figures, dd_station *stations);
/* X on the stem, from the aft end, at a height. */
double dd_brochure_stem(const dd_hull_parameters *parameters, const dd_hull_estimates *figures, double height);
/* What is aboard beside the brochure's mass: the items, and the water as a last one with its place; their number. */
int dd_hull_aboard(const dd_hull_parameters *parameters, dd_item all[DD_ABOARD + 1]);
/* Whether an item says its mass in one way and its place whole; else what was found and expected. */
bool dd_item_check(const dd_item *item, char *message, size_t size);
/* Mass, centre and inertia with the items and the water aboard. */
dd_mass_properties dd_brochure_mass(const dd_hull_parameters *parameters, const dd_hull_estimates *figures);
/* Hull length, m: of the lines, without a pod. */
double dd_brochure_length(const dd_hull_parameters *parameters);
/* Stations in order, with as many strakes each, sections that do not cross themselves; else the message says. */
bool dd_stations_check(const dd_station *stations, int count, char *message, size_t size);
/* Strakes with points in order, clear of the keel and of each other; else the message says. */
bool dd_rails_check(const dd_rail *rails, int count, char *message, size_t size);
/* Strakes within the lines' length and inside the chine. Error: DD_ERROR_ARGUMENT. */
dd_status dd_rails_fit(const dd_hull *hull, const dd_rail *rails, int count, dd_error *error);
#endif
