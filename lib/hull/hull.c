/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "lib/base/error.h"
#include "lib/base/vector.h"
#include "lib/hull/lines.h"
#include "lib/hull/section.h"
#include "lib/ode/gsl.h"

enum { EXACT_NODES = 8 };

void dd_hull_defaults(dd_hull_parameters *parameters)
{
    memset(parameters, 0, sizeof *parameters);
    dd_key_clear(dd_hull_keys, parameters);
    dd_key_defaults(dd_hull_keys, parameters);
    parameters->cookie = sizeof *parameters;
}

void dd_hull_free(dd_hull *hull)
{
    if (!hull)
        return;
    if (hull->rule)
        gsl_integration_glfixed_table_free(hull->rule);
    free(hull->coefficients);
    free(hull);
}

/* Adds a body's inertia about its own centre (diagonal) carried to a point: parallel axes. */
static void add_inertia(dd_mass_properties *all, double mass, dd_vec3 centre, const double own[3])
{
    const dd_vec3 r = dd_sub(centre, all->centre);
    const double v[3] = {r.x, r.y, r.z}, square = dd_dot(r, r);
    for (int i = 0; i < 3; i++)
        for (int j = 0; j < 3; j++)
            all->inertia[i][j] += mass * ((i == j ? square : 0) - v[i] * v[j]) + (i == j ? own[i] : 0);
}

dd_mass_properties dd_brochure_mass(const dd_hull_parameters *parameters, const dd_hull_estimates *figures)
{
    dd_mass_properties all = {.mass = figures->total_mass.likely};
    const dd_vec3 boat_centre = dd_vec(figures->centre_from_transom.likely, parameters->centre_to_port, figures->centre_height.likely);
    double boat_mass = all.mass;
    dd_item items[DD_ABOARD + 1];
    dd_vec3 places[DD_ABOARD + 1], moment;
    const int count = dd_hull_aboard(parameters, items);
    for (int i = 0; i < count; i++)
        boat_mass -= dd_item_mass(&items[i]);
    moment = dd_scale(boat_mass, boat_centre);
    for (int i = 0; i < count; i++) {
        places[i] = dd_item_centre(&items[i], boat_centre);
        moment = dd_add(moment, dd_scale(dd_item_mass(&items[i]), places[i]));
    }
    all.centre = dd_scale(1 / all.mass, moment);
    const double radii[3] = {figures->roll_radius.likely, figures->pitch_radius.likely, figures->yaw_radius.likely};
    const double boat[3] = {boat_mass * radii[0] * radii[0], boat_mass * radii[1] * radii[1], boat_mass * radii[2] * radii[2]};
    const double point[3] = {0, 0, 0};
    add_inertia(&all, boat_mass, boat_centre, boat);
    for (int i = 0; i < count; i++)
        add_inertia(&all, dd_item_mass(&items[i]), places[i], point);
    return all;
}

/* Figures given and estimated must make one hull. */
static dd_status check_form(const dd_hull_parameters *p, const dd_hull_estimates *e, dd_error *error)
{
    const double half = 0.5 * e->chine_beam.likely;
    const struct {
        const char *place;
        double sheer, below;
    } pairs[] = {
        {"dd_hull_create: transom sheer height", e->transom_sheer_height.likely, half * tan(p->transom_deadrise)},
        {"dd_hull_create: midships sheer height", e->midships_sheer_height.likely, half * tan(e->midships_deadrise.likely)},
        {"dd_hull_create: bow sheer height", e->bow_sheer_height.likely, e->keel_rise.likely},
    };
    for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++)
        if (!(pairs[i].sheer > pairs[i].below))
            return dd_fail(error, DD_ERROR_ARGUMENT, pairs[i].place,
                           "the sheer stands at %.4g m, expected above the %s at %.4g m", pairs[i].sheer,
                           i == 2 ? "end of the keel line" : "chine", pairs[i].below);
    return DD_OK;
}

/* Stations given, or made from the brochure figures. */
static dd_status build_lines(const dd_hull_parameters *p, dd_hull *hull, dd_error *error)
{
    if (p->station_count > 0)
        return dd_lines_build(hull, p->stations, p->station_count, p->lines == DD_LINES_STRAIGHT, error);
    dd_status status = check_form(p, &hull->figures, error);
    if (status)
        return status;
    dd_station *stations = calloc(DD_STATIONS, sizeof *stations);
    int count = stations ? dd_brochure_stations(p, &hull->figures, stations) : 0;
    char message[256];
    if (count == 0)
        status = dd_fail(error, DD_ERROR_MEMORY, "dd_hull_create", "no memory for the form of the hull");
    else if (!dd_stations_check(stations, count, message, sizeof message)) {
        status = dd_fail(error, DD_ERROR_ARGUMENT, "dd_hull_create", "the figures make no hull: %s", message);
        dd_fail_remedy(error, status, "check deadrise, sheer heights and keel rise against each other, or give measured stations");
    } else
        status = dd_lines_build(hull, stations, count, p->lines == DD_LINES_STRAIGHT, error);
    free(stations);
    return status;
}

dd_status dd_hull_create(const dd_hull_parameters *parameters, dd_hull **result, dd_error *error)
{
    *result = NULL;
    dd_gsl_quiet();
    dd_hull *hull = calloc(1, sizeof *hull);
    if (!hull)
        return dd_fail(error, DD_ERROR_MEMORY, "dd_hull_create", "no memory for a hull");
    dd_status status = dd_hull_estimate(parameters, &hull->figures, error);
    if (!status)
        status = build_lines(parameters, hull, error);
    if (!status)
        status = dd_rails_fit(hull, parameters->rails, parameters->rail_count, error);
    if (!status && !(hull->rule = gsl_integration_glfixed_table_alloc(EXACT_NODES)))
        status = dd_fail(error, DD_ERROR_MEMORY, "dd_hull_create", "no memory for the rule of integration");
    if (status) {
        dd_hull_free(hull);
        return status;
    }
    hull->mass = dd_brochure_mass(parameters, &hull->figures);
    hull->engine_power = parameters->engine_power;
    hull->bow_eye = dd_vec(hull->figures.bow_eye_from_transom.likely, 0, hull->figures.bow_eye_height.likely);
    dd_hydrostatics whole;
    dd_waterplane above = {{0, 0, 1}, 2 * hull->breadth + 1};
    dd_hull_hydrostatics(hull, above, &whole);
    hull->volume = whole.volume;
    *result = hull;
    return DD_OK;
}

const dd_mass_properties *dd_hull_mass(const dd_hull *hull) { return &hull->mass; }
double dd_hull_engine_power(const dd_hull *hull)
{
    return hull->engine_power;
}

dd_vec3 dd_hull_bow_eye(const dd_hull *hull) { return hull->bow_eye; }
double dd_hull_length(const dd_hull *hull) { return hull->at[hull->stations - 1]; }
const dd_hull_estimates *dd_hull_figures(const dd_hull *hull) { return &hull->figures; }
