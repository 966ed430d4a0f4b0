/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/unit/motion/free_body.h"

const char *const without_damping[] = {"wave damping", "cross flow", "resistance", "push", NULL};

const period_prism period_prisms[3] = {
    {"PER1 box", 1025, 1.2, 0, 1.2, 6, 4428, 0.7, 0.8, 0.3},
    {"PER2 chine T=0.35", 1000, 0.85, 0.25, 1.05, 5, 1925, 0.55, 0.7, 0.35},
    {"PER2 chine T=0.5", 1000, 0.85, 0.25, 1.05, 5, 3265.625, 0.6, 0.7, 0.5},
};

dd_hull *period_hull(const period_prism *c)
{
    static dd_hull_parameters p;
    dd_hull_defaults(&p);
    p.mass = c->mass;
    p.mass_of = DD_MASS_READY_TO_GO;
    p.engine_power = 0;
    p.lines = DD_LINES_STRAIGHT;
    p.centre_from_transom = c->length / 2;
    p.centre_height = c->centre_height;
    p.roll_radius = c->roll_radius;
    p.station_count = 2;
    for (int i = 0; i < 2; i++)
        p.stations[i] = (dd_station){.at = i * c->length,
                                     .keel_height = 0,
                                     .chine_half_breadth = c->half_breadth,
                                     .chine_height = c->chine_height,
                                     .sheer_half_breadth = c->sheer_half_breadth,
                                     .sheer_height = 1.05};
    return create(&p);
}

static void must(dd_status status, const dd_error *error)
{
    if (status != DD_OK) fail_msg("%s: %s", error->place, error->message);
}

void free_body_create(free_body *b, dd_hull *hull, const char *const *without, double density, double gravity, double current)
{
    dd_error error;
    memset(b, 0, sizeof *b);
    whole_create(&b->w, hull, 0, current);
    if (!isnan(density)) b->w.model.water.density = density;
    if (!isnan(gravity)) b->w.model.gravity = gravity;
    must(dd_system_create(&b->w.model, without, NULL, NULL, &b->system, &error), &error);
    must(dd_workspace_create(b->system, &b->workspace, &error), &error);
    assert_true(b->system->size <= FREE_SIZE);
}

void free_body_free(free_body *b)
{
    dd_ode_free(b->ode);
    dd_workspace_free(b->workspace);
    dd_system_free(b->system);
    whole_free(&b->w);
}

dd_pose free_body_afloat(const free_body *b)
{
    dd_error error;
    dd_floating f;
    must(dd_hull_float(b->w.hull, b->w.model.water.density, b->w.model.gravity, 0, 0, &f, &error), &error);
    dd_quaternion trim = {cos(0.5 * f.trim), 0, sin(0.5 * f.trim), 0}, heel = {cos(0.5 * f.heel), -sin(0.5 * f.heel), 0, 0};
    return (dd_pose){.attitude = dd_quaternion_multiply(trim, heel),
                     .position = {0, 0, b->w.model.water.level - f.waterplane.level}};
}

void free_body_start(free_body *b, const dd_stepper *stepper, double tolerance, double largest_step, const dd_pose *pose,
                     const dd_motion *motion)
{
    dd_error error;
    dd_ode_free(b->ode);
    b->ode = NULL;
    dd_system_pack(b->system, pose, motion, NULL, b->y);
    dd_system_tolerances(b->system, tolerance, b->absolute, b->relative);
    b->problem = (dd_ode_problem){.size = (size_t)b->system->size,
                                  .derivative = b->problem.derivative != NULL ? b->problem.derivative : dd_system_derivative,
                                  .jacobian = dd_system_jacobian,
                                  .context = b->workspace,
                                  .relative_tolerance = tolerance,
                                  .absolute = b->absolute,
                                  .relative = b->relative,
                                  .largest_step = largest_step};
    must(dd_ode_create(stepper, &b->problem, &b->ode, &error), &error);
    must(dd_ode_start(b->ode, 0, b->y, 0, &error), &error);
}

void free_body_step(free_body *b)
{
    dd_error error;
    must(dd_ode_step(b->ode, INFINITY, &error), &error);
}

double free_body_energy(free_body *b)
{
    assert_int_equal(dd_system_evaluate(b->workspace, dd_ode_time(b->ode), dd_ode_state(b->ode), DD_WANT_ACCELERATION), 0);
    double energy = dd_kinetic_energy(b->workspace);
    for (int f = 0; f < b->system->force_count; f++) energy += b->workspace->loads[f].energy;
    return energy;
}
