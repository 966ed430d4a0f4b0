/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A long descent at one speed, and what hot or wet brakes do to a stop.

   Each brake is one lump of iron, m c dT/dt = q - (h0 + h1 v)(T - T_air); with q steady over a short way
       T = T_air + q/h + (T0 - T_air - q/h) exp(-h t/(m c)).
   On the way the brakes take what gravity gives less rolling, air and engine. The trailer's take: overrun, at rest in its travel,
   r (W' - threshold)/(1 + r), W' what the trailer pushes with unbraked and r its torque per push over the tyre's radius; electric ones
   what the controller commands, which feels the slope as a deceleration; the vehicle's take the rest. */
#include "lib/study/brake.h"
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include <drawdock/rules.h>
#include <math.h>
#include <stdlib.h>

#define IRON 480.0        /* J/(kg K), cast iron, engineering tables */
#define KELVIN 273.15
#define AIR_DENSITY 1.225 /* kg/m3, ICAO standard atmosphere at sea level */
enum { WAYS = 120 };

double dd_brake_warm(const dd_brake_heat *heat, double power, double speed, double air, double from, double time)
{
    const double h = heat->cooling + heat->cooling_by_speed * speed, capacity = heat->iron * IRON;
    if (!(h > 0)) return from + power * time / capacity;
    return air + power / h + (from - air - power / h) * exp(-h * time / capacity);
}

typedef struct descent {
    double trailer[WAYS + 1], vehicle[WAYS + 1]; /* temperatures, K */
    double taken;                                /* by the trailer's brakes at the start, N */
    double all;                                  /* by all brakes */
} descent;

static double trailer_force(const dd_brake *b, const dd_brake_kind *kind, double angle, double spare, double friction)
{
    const dd_trailer_braking *f = &b->rig->brakes;
    const double radius = b->loaded.tyre_radius;
    if (kind->slides) {
        const double r = friction * f->overrun.lever_ratio * f->overrun.cable_efficiency * f->overrun.brake_factor / radius;
        return fmin(fmax(0, r * (spare - f->overrun.threshold) / (1 + r)), r * f->overrun.full_push);
    }
    if (!kind->controlled) return 0;
    dd_brake_input in = {.command = 1, .braked_axles = b->rig->braked_axles, .time = 100};
    const double full[DD_BRAKE_STATES] = {1, 1};
    dd_brake_output out;
    kind->evaluate(f, &in, full, &out);
    const double command = dd_controller_command(&f->controller, 100, b->scenario->gravity * sin(angle), b->scenario->gravity);
    return friction * command * out.torque / radius;
}

static void go_down(const dd_brake *b, const dd_brake_kind *kind, descent *d)
{
    const dd_braking *k = &b->scenario->braking;
    const dd_vehicle_parameters *v = &b->scenario->vehicle;
    const double g = b->scenario->gravity, v0 = k->descent_speed, s = sin(k->descent_grade), c = k->rolling_resistance * cos(k->descent_grade);
    const double air = 0.5 * AIR_DENSITY * v0 * v0, step = k->descent_length / WAYS / v0;
    const double spare = b->loaded.mass * g * (s - c) - air * b->loaded.braking.drag_area;
    d->all = fmax(0, spare + v->mass * (g * (s - c) - k->descent_coasting) - air * v->braking.drag_area);
    d->trailer[0] = d->vehicle[0] = k->air_temperature;
    for (int i = 0; i < WAYS; i++) {
        const double hot = kind->hot_share != NULL ? kind->hot_share(&b->rig->brakes) : 1;
        const double force = fmin(d->all, fmax(0, trailer_force(b, kind, k->descent_grade, spare, dd_brake_fade(&b->loaded.braking.heat, hot, d->trailer[i]))));
        if (i == 0) d->taken = force;
        d->trailer[i + 1] = dd_brake_warm(&b->loaded.braking.heat, force * v0 / (2 * b->rig->braked_axles), v0, k->air_temperature, d->trailer[i], step);
        d->vehicle[i + 1] = dd_brake_warm(&v->braking.heat, (d->all - force) * v->braking.front_share * v0 / 2, v0, k->air_temperature, d->vehicle[i], step);
    }
}

/* The dry stop with brakes of these shares of their friction. */
static dd_status stop_with(const dd_brake *b, const dd_brake_kind *kind, double vehicle, double trailer, dd_stop *stop, dd_error *error)
{
    dd_stop_asked asked = dd_brake_asked(b, kind, 0);
    asked.vehicle_share = vehicle;
    asked.trailer_share = trailer;
    asked.tolerance = 1e-4; /* the distance is told, to a few mm, and how warm the brakes get */
    return dd_brake_stop(b->rig, &asked, stop, error);
}

/* Stops of this kind until a wet brake of that heat is dry again. */
static double stops_to_dry(const dd_brake *b, double heat, int brakes)
{
    return heat > 0 && brakes > 0 ? ceil(1000 * b->scenario->braking.recovery / (heat / brakes)) : NAN;
}

static dd_status add_row(const dd_brake *b, const dd_brake_kind *kind, const dd_stop *cold, const descent *d, dd_stop *stop, dd_error *error)
{
    dd_reporter *r = b->report;
    const dd_vehicle_braking *v = &b->scenario->vehicle.braking;
    const dd_trailer_braking *f = &b->rig->brakes;
    const double hot = dd_brake_fade(&v->heat, v->hot_share, d->vehicle[WAYS]);
    const double hot_trailer = dd_brake_fade(&b->loaded.braking.heat, kind->hot_share != NULL ? kind->hot_share(f) : 1, d->trailer[WAYS]);
    const double wet_trailer = kind->wet_share != NULL ? kind->wet_share(f) : 1;
    dd_reporter_words(r, "%s%s", kind->name, dd_brake_is_fitted(b, kind) ? " *" : "");
    dd_reporter_value(r, d->all > 0 ? d->taken / d->all : 0);
    dd_reporter_value(r, d->vehicle[WAYS] - KELVIN);
    dd_reporter_value(r, kind->fitted == DD_FITTED_NONE ? NAN : d->trailer[WAYS] - KELVIN);
    dd_reporter_value(r, cold->distance);
    dd_status status = stop_with(b, kind, hot, hot_trailer, stop, error);
    if (status != DD_OK) return status;
    dd_reporter_value(r, stop->distance);
    status = stop_with(b, kind, v->wet_share, wet_trailer, stop, error);
    if (status != DD_OK) return status;
    dd_reporter_value(r, stop->distance);
    dd_reporter_value(r, stops_to_dry(b, stop->heat[DD_HEAT_TRAILER], 2 * b->rig->braked_axles));
    if (dd_brake_is_fitted(b, kind)) {
        dd_check check = dd_check_of("heat", NULL, fmax(d->vehicle[WAYS], d->trailer[WAYS]) - KELVIN, fmin(v->heat.fades_from, b->loaded.braking.heat.fades_from) - KELVIN, "degC",
                                     "brake heat", "brakes after the descent");
        check.outcome = DD_CHECK_CAUTION;
        dd_reporter_check(r, &check);
    }
    return DD_OK;
}

static void add_course(const dd_brake *b, const descent *d, int count)
{
    dd_reporter *r = b->report;
    char name[48];
    dd_reporter_table(r, "descent_course", "Temperatures on the descent", DD_REPORT_DRAWN);
    dd_reporter_column(r, "way", "m", 0, "down the descent");
    for (int i = 0; i < count; i++) {
        dd_text(name, sizeof name, "vehicle %s", dd_brake_kind_at(i)->name);
        dd_reporter_column(r, name, "degC", 1, "front brakes of the vehicle");
        if (i == 0) continue;
        dd_text(name, sizeof name, "trailer %s", dd_brake_kind_at(i)->name);
        dd_reporter_column(r, name, "degC", 1, "brakes of the trailer");
    }
    for (int w = 0; w <= WAYS; w += 2) {
        dd_reporter_value(r, b->scenario->braking.descent_length * w / WAYS);
        for (int i = 0; i < count; i++) {
            dd_reporter_value(r, d[i].vehicle[w] - KELVIN);
            if (i > 0) dd_reporter_value(r, d[i].trailer[w] - KELVIN);
        }
    }
}

static dd_status add_all(dd_brake *b, descent *d, dd_stop *stop, dd_error *error)
{
    dd_reporter *r = b->report;
    const dd_braking *k = &b->scenario->braking;
    char speed[DD_REPORTER_TEXT];
    int count = 0;
    for (; dd_brake_kind_at(count) != NULL && count < DD_BRAKE_KINDS; count++) go_down(b, dd_brake_kind_at(count), &d[count]);
    add_course(b, d, count);
    dd_reporter_table(r, "descent", "A long descent, and hot and wet brakes", DD_REPORT_LONG);
    dd_reporter_column(r, "trailer brakes", "", 0, "system");
    dd_reporter_column(r, "trailer takes", "%", 0, "of the braking down the descent, brakes cold");
    dd_reporter_column(r, "vehicle at the end", "degC", 0, "its front brakes");
    dd_reporter_column(r, "trailer at the end", "degC", 0, "its brakes");
    dd_reporter_column(r, "cold stop", "m", 1, "dry road, from the brakes to rest");
    dd_reporter_column(r, "hot stop", "m", 1, "the same with the brakes as hot as at the end");
    dd_reporter_column(r, "wet stop", "m", 1, "dry road, brakes wet from the ramp");
    dd_reporter_column(r, "stops to dry", "", 0, "such stops until the trailer's brakes are dry again");
    dd_status status = DD_OK;
    for (int i = 0; i < count && status == DD_OK; i++) status = add_row(b, dd_brake_kind_at(i), &b->stops[0][i], &d[i], stop, error);
    dd_reporter_table_note(r, "%.1f %% down for %.1f km at %s, engine holding back by %.2f m/s2", 100 * tan(k->descent_grade), k->descent_length / 1000,
                           dd_reporter_quantity(r, k->descent_speed, "km/h", 0, speed), k->descent_coasting);
    return status;
}

dd_status dd_brake_descent(dd_brake *b, dd_error *error)
{
    descent *d = malloc(DD_BRAKE_KINDS * sizeof *d);
    dd_stop *stop = malloc(sizeof *stop);
    dd_status status = d != NULL && stop != NULL ? add_all(b, d, stop, error) : dd_fail(error, DD_ERROR_MEMORY, "dd_brake_descent", "no memory for the descent");
    free(d);
    free(stop);
    dd_reporter_source(b->report, "brake heat");
    dd_reporter_source(b->report, "engine braking");
    dd_reporter_source(b->report, "wet brakes");
    return status;
}
