/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A loaded rig made from its parameters, and its stop by the equations of brake_motion.c. */
#include "lib/base/error.h"
#include "lib/force/axles.h"
#include "lib/force/force.h"
#include "lib/study/brake_motion.h"
#include <gsl/gsl_linalg.h>
#include <stdlib.h>
#include <string.h>

#define REACH_OF_GROUND 500.0 /* m either way; beyond it the ground goes on straight */
#define AT_REST 0.05          /* m/s: the little way from there is taken at the last deceleration */
#define LOCKED 0.9            /* slip at which a wheel counts as standing */
#define LOCKED_ABOVE 1.0      /* m/s: slower wheels stand anyway */
#define ENGAGED_SHARE 0.02
enum { NEWTON = 50 };

/* Newton's steps to where lift and pitch of both bodies are in balance. */
static dd_status settle(dd_brake_rig *r, dd_brake_motion *m, dd_error *error)
{
    static const int free[3] = {DD_BRAKE_LIFT, DD_BRAKE_VEHICLE_PITCH, DD_BRAKE_TRAILER_PITCH};
    const double weight = r->rig->trailer.mass * r->model.gravity, small = 1e-6;
    dd_brake_stand here = {{0}, {0}, 0, 0}, there;
    double left = INFINITY, k[9] = {0}, load[3];
    r->rest[DD_BRAKE_TRAILER_PITCH] = dd_axles_standing_pitch(r->rig, r->ramp, 0, 0);
    for (int n = 0; n < NEWTON; n++) {
        if (dd_brake_motion_standing(m, r->rest, &here) != 0) break;
        left = 0;
        for (int i = 0; i < 3; i++) load[i] = here.load[free[i]], left += fabs(load[i]);
        if (left < 1e-11 * weight) break;
        for (int j = 0; j < 3; j++) {
            double at[DD_BRAKE_COORDINATES];
            memcpy(at, r->rest, sizeof at);
            at[free[j]] += small;
            if (dd_brake_motion_standing(m, at, &there) != 0) break;
            for (int i = 0; i < 3; i++) k[i * 3 + j] = (here.load[free[i]] - there.load[free[i]]) / small;
        }
        int sign;
        size_t order[3];
        gsl_matrix_view a = gsl_matrix_view_array(k, 3, 3);
        gsl_vector_view x = gsl_vector_view_array(load, 3);
        gsl_permutation p = {3, order};
        if (gsl_linalg_LU_decomp(&a.matrix, &p, &sign) != GSL_SUCCESS || gsl_linalg_LU_svx(&a.matrix, &p, &x.vector) != GSL_SUCCESS) break;
        for (int i = 0; i < 3; i++) r->rest[free[i]] += load[i];
    }
    memcpy(r->axle_rest, here.axle, sizeof r->axle_rest);
    r->coupling_rest = here.coupling;
    if (left < 1e-8 * weight) return DD_OK;
    return dd_fail(error, DD_ERROR_NO_EQUILIBRIUM, "dd_brake_rig_create: trailer", "it finds no rest on ball and axles; %.3g of its weight is left unbalanced", left / weight);
}

/* From the coordinates of a stop to the rig's: derivation in brake_motion.c. */
static void make_map(dd_brake_rig *r)
{
    const dd_vehicle_parameters *v = &r->rig->vehicle;
    const double tx = r->tx, tz = r->tz;
    const double along[DD_BRAKE_COORDINATES] = {[DD_BRAKE_ALONG] = 1, [DD_BRAKE_VEHICLE_PITCH] = v->coupling_height - v->tyre_radius};
    const double up[DD_BRAKE_COORDINATES] = {[DD_BRAKE_LIFT] = 1, [DD_BRAKE_VEHICLE_PITCH] = dd_vehicle_ride_arm(v, 1) - v->coupling_behind_rear_axle};
    for (int q = 0; q < DD_BRAKE_COORDINATES; q++) {
        r->map[DD_RIG_X][q] = tx * along[q] - tz * up[q];
        r->map[DD_RIG_HEAVE][q] = up[q] / tx;
    }
    r->map[DD_RIG_PITCH][DD_BRAKE_TRAILER_PITCH] = 1;
    r->map[DD_RIG_HEAVE][DD_BRAKE_SLIDE] = tz;
    r->map[DD_RIG_REACH][DD_BRAKE_SLIDE] = tx;
}

static dd_status make_ground(dd_brake_rig *r, double grade, dd_error *error)
{
    dd_ramp_parameters p;
    dd_ramp_defaults(&p);
    p.point_count = 2;
    for (int i = 0; i < 2; i++) {
        p.points[i].x = i == 0 ? -REACH_OF_GROUND : REACH_OF_GROUND;
        p.points[i].z = -tan(grade) * p.points[i].x;
    }
    r->slope = -tan(grade);
    r->steepness = sqrt(1 + r->slope * r->slope);
    r->tx = 1 / r->steepness;
    r->tz = r->slope / r->steepness;
    return dd_ramp_create(&p, &r->ramp, error);
}

dd_status dd_brake_rig_create(const dd_vehicle_parameters *vehicle, const dd_trailer_parameters *trailer, double grade, double gravity,
                              dd_brake_rig **made, dd_error *error)
{
    *made = NULL;
    if (!(fabs(tan(grade)) <= DD_BRAKE_STEEPEST + 1e-9))
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_brake_rig_create: grade", "found %.1f %%, expected at most 30 %% up or down: the model is for roads and ramps",
                       100 * tan(grade));
    dd_brake_rig *r = calloc(1, sizeof *r);
    if (r == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_brake_rig_create", "no memory for the rig");
    dd_brake_motion m = {0};
    const dd_stop_asked nothing = {0}; /* m keeps it */
    dd_status status = make_ground(r, grade, error);
    if (status == DD_OK) status = dd_rig_create(vehicle, trailer, &r->rig, error);
    if (status == DD_OK) {
        dd_water_defaults(&r->model.water);
        r->model.water.level = -1e6;
        r->model.rig = r->rig;
        r->model.ramp = r->ramp;
        r->model.gravity = gravity;
        r->ride = dd_vehicle_ride_of(&r->rig->vehicle, gravity);
        make_map(r);
        status = dd_brake_motion_begin(&m, r, &nothing, error);
    }
    if (status == DD_OK) status = settle(r, &m, error);
    dd_brake_motion_end(&m);
    if (status != DD_OK) {
        dd_brake_rig_free(r);
        return status;
    }
    r->brakes = trailer->braking;
    const dd_trailer_parameters *t = &r->rig->trailer;
    r->braked_axles = t->brakes.axles > 0 && t->brakes.axles < t->axle_count ? t->brakes.axles : t->axle_count;
    double braked = 0;
    for (int i = 0; i < r->braked_axles; i++) braked += r->axle_rest[2 + i];
    dd_brakes_complete(&r->brakes, t->mass * gravity, braked, r->braked_axles, t->tyre_radius);
    *made = r;
    return DD_OK;
}

void dd_brake_rig_free(dd_brake_rig *r)
{
    if (r == NULL) return;
    dd_rig_free(r->rig);
    dd_ramp_free(r->ramp);
    free(r);
}

static void set_tolerances(double relative, const dd_brake_motion *m, double *absolute, double *share)
{
    const double energy = 1e4 * (1 + m->rig->rig->vehicle.mass / 1000);
    for (int i = 0; i < m->size; i++) {
        absolute[i] = relative; /* m, m/s, rad: 0.06 N of a spring */
        share[i] = i < DD_BRAKE_RATES ? 0 : 1;
        if (i >= m->fed) absolute[i] = relative * energy;
    }
}

static void note(const dd_brake_motion *m, dd_stop *stop)
{
    const dd_stop_sample *s = &m->seen;
    stop->most_deceleration = fmax(stop->most_deceleration, s->deceleration);
    stop->most_push = fmax(stop->most_push, s->push);
    stop->most_pull = fmax(stop->most_pull, -s->push);
    stop->most_coupling = fmax(stop->most_coupling, s->coupling_load);
    stop->least_coupling = fmin(stop->least_coupling, s->coupling_load);
    stop->most_squeeze = fmax(stop->most_squeeze, s->squeeze);
    stop->most_nose_down = fmax(stop->most_nose_down, s->nose_down);
    stop->lifted = stop->lifted || m->lifted;
    double braking = 0;
    for (int i = 0; i < stop->axle_count; i++) {
        if (s->load[i] > 1) stop->used[i] = fmax(stop->used[i], fabs(s->force[i]) / (s->load[i] * m->asked->road.friction));
        if (isnan(stop->locked[i]) && s->slip[i] > LOCKED && s->speed > LOCKED_ABOVE) stop->locked[i] = s->time;
        if (i >= 2) braking += s->torque[i];
    }
    const dd_trailer_parameters *t = &m->rig->rig->trailer;
    if (isnan(stop->engaged) && braking > ENGAGED_SHARE * t->mass * m->rig->model.gravity * t->tyre_radius) stop->engaged = s->time;
}

/* Keeps at most DD_STOP_SAMPLES, evenly over time: every second one goes when the room is full. */
static void keep(const dd_stop_sample *seen, dd_stop *stop, double *interval)
{
    const dd_stop_sample *last = stop->sample_count > 0 ? &stop->samples[stop->sample_count - 1] : NULL;
    if (last != NULL && seen->time < last->time + *interval) return;
    if (stop->sample_count == DD_STOP_SAMPLES) {
        stop->sample_count /= 2;
        for (int i = 1; i < stop->sample_count; i++) stop->samples[i] = stop->samples[2 * i];
        *interval *= 2;
    }
    stop->samples[stop->sample_count++] = *seen;
}

bool dd_stop_trailer_stands(const dd_stop *stop)
{
    for (int a = 2; a < stop->axle_count; a++)
        if (!isnan(stop->locked[a])) return true;
    return false;
}

static void begin_stop(const dd_brake_motion *m, dd_stop *stop)
{
    memset(stop, 0, sizeof *stop);
    stop->axle_count = 2 + m->rig->rig->trailer.axle_count;
    stop->least_coupling = INFINITY;
    stop->engaged = stop->time = stop->distance = stop->mean_deceleration = NAN;
    for (int i = 0; i < DD_BRAKE_AXLES; i++) stop->locked[i] = NAN;
}

/* From the slowest speed computed the last few centimetres are taken at the last deceleration. */
static void end_stop(const dd_brake_motion *m, double begun, const double *y, dd_stop *stop)
{
    const dd_stop_sample *s = &m->seen;
    double heat = 0;
    for (int i = 0; i < DD_HEATS; i++) {
        stop->heat[i] = m->size > m->fed ? y[m->fed + i] : NAN;
        heat += stop->heat[i];
    }
    const double ended = m->kinetic + m->stored, scale = 0.5 * (m->rig->rig->vehicle.mass + m->rig->rig->trailer.mass) * m->asked->speed * m->asked->speed;
    stop->lost = begun - ended;
    stop->residual = fabs(stop->lost - heat) / fmax(scale, 1);
    if (!stop->stopped) return;
    stop->time = s->time + s->speed / fmax(s->deceleration, 0.1);
    stop->distance = s->distance + s->speed * s->speed / (2 * fmax(s->deceleration, 0.1));
    stop->mean_deceleration = m->asked->speed * m->asked->speed / (2 * stop->distance);
    stop->bottomed = m->asked->system->slides && stop->most_squeeze > m->rig->brakes.overrun.stroke;
}

static dd_status integrate(dd_brake_motion *m, dd_ode *ode, dd_stop *stop, dd_error *error)
{
    double y[DD_BRAKE_SIZE], dydt[DD_BRAKE_SIZE], interval = 0.005;
    const double most = 60; /* s: a rig that is still moving then is not being stopped */
    dd_brake_motion_start(m, y);
    dd_status status = dd_ode_start(ode, 0, y, 1e-5, error);
    if (status != DD_OK) return status;
    if (dd_brake_motion_derivative(0, y, dydt, m) != 0)
        return dd_fail(error, DD_ERROR_NOT_FINITE, "dd_brake_stop", "the equations of motion cannot be evaluated at the start of the stop");
    const double begun = m->kinetic + m->stored; /* told only with the sums */
    note(m, stop);
    keep(&m->seen, stop, &interval);
    while (status == DD_OK && !stop->stopped && dd_ode_time(ode) < most) {
        status = dd_ode_step(ode, INFINITY, error);
        if (status != DD_OK) break;
        if (dd_brake_motion_derivative(dd_ode_time(ode), dd_ode_state(ode), dydt, m) != 0)
            return dd_fail(error, DD_ERROR_NOT_FINITE, "dd_brake_stop", "the equations of motion cannot be evaluated at %.3f s", dd_ode_time(ode));
        note(m, stop);
        stop->stopped = m->seen.speed <= AT_REST;
        keep(&m->seen, stop, &interval);
        stop->steps++;
        if (m->asked->until_trailer_stands && dd_stop_trailer_stands(stop)) return DD_OK;
    }
    if (status == DD_OK) end_stop(m, begun, dd_ode_state(ode), stop);
    return status;
}

dd_status dd_brake_stop(const dd_brake_rig *rig, const dd_stop_asked *asked, dd_stop *stop, dd_error *error)
{
    if (!(asked->speed > 0) || !(asked->speed <= DD_BRAKE_FASTEST + 1e-9))
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_brake_stop: speed", "found %.0f km/h, expected above 0 and at most 130 km/h: the model is for roads", 3.6 * asked->speed);
    double absolute[DD_BRAKE_SIZE], relative[DD_BRAKE_SIZE];
    const double tolerance = asked->tolerance > 0 ? asked->tolerance : 5e-7;
    dd_brake_motion m;
    dd_status status = dd_brake_motion_begin(&m, rig, asked, error);
    if (status != DD_OK) return status;
    set_tolerances(tolerance, &m, absolute, relative);
    const dd_ode_problem problem = {.size = (size_t)m.size, .derivative = dd_brake_motion_derivative, .jacobian = dd_brake_motion_jacobian, .context = &m,
                                    .relative_tolerance = tolerance, .absolute = absolute, .relative = relative, .largest_step = 0.05};
    dd_ode *ode = NULL;
    begin_stop(&m, stop);
    status = dd_ode_create(asked->stepper != NULL ? asked->stepper : &dd_stepper_bdf, &problem, &ode, error);
    if (status == DD_OK) status = integrate(&m, ode, stop, error);
    dd_ode_free(ode);
    dd_brake_motion_end(&m);
    return status;
}
