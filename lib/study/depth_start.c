/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rig started on the slope, in time: the brake is let off, and the driver drives it up (the law of lib/force/wheels_look.c). Until the wheels give what
   the slope wants it rolls back, and to catch it they give more. Brake and rolling resistance hold it, or rub against its way: where it sets off and where it
   stops, the equations change. */
#include "lib/base/error.h"
#include "lib/crew/actions.h"
#include "lib/force/smooth.h"
#include "lib/force/wheels_look.h"
#include "lib/ode/ode.h"
#include "lib/study/depth.h"
#include <math.h>
#include <stdlib.h>

static const double goes_on = 1.5;     /* after the speed wanted is reached, s */
static const double first_step = 0.01; /* after each change, s: shorter than any rolling back that counts */
static const double close_to = 1e-6;   /* of a time, s */

enum { WAY, SPEED, CORRECTION, SIZE }; /* seaward, m and m/s */
static const double absolute[SIZE] = {1e-8, 1e-8, 1e-8};

struct dd_depth_starting {
    dd_ode *ode;
    const dd_wheels_parameters *driver;
    double mass, along, rolling, brake; /* of one start */
    double out_speed, takes;            /* m/s; s */
    int slides;                         /* 1 seaward, -1 up the slope, 0: it stands */
};

/* Of the brake let off, of the speed wanted: share and its rate. */
static dd_smooth let_off(double t)
{
    dd_smooth s = dd_smooth_step(t / dd_brake_movement);
    s.slope /= dd_brake_movement;
    return s;
}

static dd_smooth wanted_at(const dd_depth_starting *s, double t)
{
    const dd_smooth share = dd_smooth_step(t / s->takes);
    return (dd_smooth){-s->out_speed * share.value, -s->out_speed * share.slope / s->takes, 0};
}

/* By the wheels, seaward, N. */
static double given_at(const dd_depth_starting *s, double t, const double *y)
{
    return s->mass * let_off(t).value / s->driver->response_time * (wanted_at(s, t).value - y[SPEED] + y[CORRECTION]);
}

static double holds_at(const dd_depth_starting *s, double t) { return (1 - let_off(t).value) * s->brake + s->rolling; }

static int derivative(double t, const double *y, double *dydt, void *context)
{
    const dd_depth_starting *s = context;
    const double off = let_off(t).value, left = wanted_at(s, t).value - y[SPEED];
    dydt[WAY] = y[SPEED];
    dydt[SPEED] = s->slides == 0 ? 0 : (s->along + given_at(s, t, y) - s->slides * holds_at(s, t)) / s->mass;
    dydt[CORRECTION] = off * left / s->driver->correction_time - (1 - off) * y[CORRECTION] / s->driver->response_time;
    return 0;
}

/* Positive as long as it goes on as it does: that it stands, that it slides. */
static double goes_on_by(const dd_depth_starting *s, double t, const double *y)
{
    return s->slides == 0 ? holds_at(s, t) - fabs(s->along + given_at(s, t, y)) : s->slides * y[SPEED];
}

static double goes_on_at(double t, void *context)
{
    const dd_depth_starting *s = context;
    double y[SIZE];
    dd_ode_interpolate(s->ode, t, y);
    return goes_on_by(s, t, y);
}

/* How fast what the wheels give changes, N/s. */
static double given_changes_at(double t, void *context)
{
    const dd_depth_starting *s = context;
    const dd_smooth off = let_off(t), wanted = wanted_at(s, t);
    double y[SIZE], rate[SIZE];
    dd_ode_interpolate(s->ode, t, y);
    (void)derivative(t, y, rate, context);
    return s->mass / s->driver->response_time * (off.slope * (wanted.value - y[SPEED] + y[CORRECTION]) + off.value * (wanted.slope - rate[SPEED] + rate[CORRECTION]));
}

static void read_start(const dd_depth_starting *s, double t, dd_depth_start *start)
{
    double y[SIZE];
    dd_ode_interpolate(s->ode, t, y);
    start->most = fmax(start->most, -given_at(s, t, y));
    start->rolls = fmax(start->rolls, y[WAY]);
}

/* The last step, as far as it goes on as it did: how far it has come, and the most that the wheels gave. */
static dd_status read_step(dd_depth_starting *s, dd_depth_start *start, dd_error *error)
{
    const double from = dd_ode_previous_time(s->ode), to = dd_ode_time(s->ode);
    const double before = goes_on_at(from, s), after = goes_on_at(to, s);
    double end = to, peak, y[SIZE];
    const bool changes = after < 0;
    dd_status status = DD_OK;
    if (changes && before > 0) status = dd_ode_locate(goes_on_at, s, from, to, before, after, close_to, &end, error);
    if (status != DD_OK) return status;
    const double grows = given_changes_at(from, s), falls = given_changes_at(end, s);
    if (grows < 0 && falls > 0) {
        status = dd_ode_locate(given_changes_at, s, from, end, grows, falls, close_to, &peak, error);
        if (status != DD_OK) return status;
        read_start(s, peak, start);
    }
    read_start(s, end, start);
    if (!changes) return DD_OK;
    dd_ode_interpolate(s->ode, end, y);
    const double free = s->along + given_at(s, end, y);
    s->slides = s->slides != 0 && fabs(free) <= holds_at(s, end) ? 0 : free > 0 ? 1 : -1;
    y[SPEED] = 0;
    return dd_ode_start(s->ode, end, y, first_step, error);
}

dd_status dd_depth_start_up(const dd_depth *d, double mass, double along, double rolling, double brake, dd_depth_start *start, dd_error *error)
{
    static const double standing[SIZE] = {0};
    const dd_system_force *wheels = dd_system_find(d->m->system, &dd_force_wheels);
    dd_depth_starting *s = d->starting;
    *start = (dd_depth_start){.rolls = 0, .most = along + rolling};
    if (wheels == NULL || !(d->way.out_speed > 0)) return DD_OK;
    s->driver = &((const dd_wheels_instance *)wheels->instance)->parameters;
    s->mass = mass, s->along = along, s->rolling = rolling, s->brake = brake;
    s->out_speed = d->way.out_speed, s->takes = dd_speed_change(d->way.acceleration, 0, d->way.out_speed);
    s->slides = fabs(along) > brake + rolling ? (along > 0 ? 1 : -1) : 0;
    /* Where a movement of foot or hand ends a step does too. */
    const double last = fmax(s->takes, dd_brake_movement), ends[] = {fmin(s->takes, dd_brake_movement), last, last + goes_on};
    dd_status status = dd_ode_start(s->ode, 0, standing, first_step, error);
    for (size_t i = 0; i < sizeof ends / sizeof ends[0]; i++)
        while (status == DD_OK && dd_ode_time(s->ode) < ends[i]) {
            status = dd_ode_step(s->ode, ends[i], error);
            if (status == DD_OK) status = read_step(s, start, error);
        }
    return status;
}

dd_status dd_depth_starting_create(dd_depth_starting **starting, dd_error *error)
{
    dd_depth_starting *s = calloc(1, sizeof *s);
    *starting = s;
    if (s == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_ramp_depth", "no memory for the start up the slope");
    const dd_ode_problem problem = {.size = SIZE, .derivative = derivative, .context = s, .relative_tolerance = 1e-8, .absolute = absolute};
    return dd_ode_create(&dd_stepper_explicit, &problem, &s->ode, error);
}

void dd_depth_starting_free(dd_depth_starting *s)
{
    if (s == NULL) return;
    dd_ode_free(s->ode);
    free(s);
}
