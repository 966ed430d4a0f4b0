/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/property/random_rigs.h"
#include "lib/crew/steps.h"
#include "lib/hull/surface.h"
#include "lib/state/kinematics.h"
#include <gsl/gsl_rng.h>
#include <math.h>
#include <stdio.h>

typedef struct drawing {
    gsl_rng *rng;
    dd_case *c;
    dd_hull *hull;
    random_rig rig;
    double length, mass, draught, chine; /* of the hull: m, kg, m, least half breadth of the chine aft, m */
    double keel_height;                  /* of the keel above level ground on the trailer, m */
    double transom;                      /* behind the coupling, m */
} drawing;

static double between(drawing *d, double low, double high) { return low + (high - low) * gsl_rng_uniform(d->rng); }
static int one_of(drawing *d, int count) { return (int)gsl_rng_uniform_int(d->rng, (unsigned long)count); }

static void draw_boat(drawing *d)
{
    dd_hull_parameters *p = &d->c->boat;
    dd_hull_defaults(p);
    snprintf(p->name, sizeof p->name, "drawn boat");
    d->length = p->length = between(d, 3.8, 8);
    p->length_of = DD_LENGTH_OF_HULL;
    p->beam = 0.87 * sqrt(p->length) * between(d, 0.94, 1.08);
    p->transom_deadrise = between(d, 8, 23) * M_PI / 180;
    p->mass = pow(p->length, 3) * between(d, 5, 8.5);
    p->mass_of = DD_MASS_OF_HULL_AND_ENGINE;
    p->engine_power = 55 * p->mass;
    p->item_count = one_of(d, 3);
    for (int i = 0; i < p->item_count; i++) {
        dd_item *item = &p->items[i];
        snprintf(item->item, sizeof item->item, "item %d", i + 1);
        item->mass = between(d, 0.01, 0.06) * p->mass;
        item->at_count = 3;
        item->at[0] = between(d, 0.2, 0.6) * p->length;
        item->at[1] = between(d, -0.02, 0.02);
        item->at[2] = between(d, 0.2, 0.5);
    }
}

static double keel_at(const drawing *d, double x) { return dd_hull_keel(d->hull, x).z; }
static double deadrise_at(const drawing *d, double x) { return atan(dd_hull_bottom(d->hull, x, 0.3, 1).zy); }

static dd_support *add_support(drawing *d, int kind, const char *name, double boat_x)
{
    dd_trailer_parameters *t = &d->c->trailer;
    dd_support *s = &t->supports[t->support_count++];
    dd_support_defaults(s, kind);
    snprintf(s->name, sizeof s->name, "%s", name);
    s->behind_coupling = d->transom - boat_x;
    s->above_ground = d->keel_height + keel_at(d, boat_x) + between(d, -0.003, 0.003);
    s->rated_load = 3.0 * d->mass;
    d->rig.supports |= 1u << kind;
    return s;
}

static void add_cradle(drawing *d, const char *name, double boat_x, int rows)
{
    dd_support *s = add_support(d, DD_SUPPORT_CRADLE, name, boat_x);
    s->rows = rows;
    s->row_spacing = between(d, 0.3, 0.45);
    s->deadrise = deadrise_at(d, boat_x);
    s->half_spacing_count = 2;
    s->half_spacings[0] = between(d, 0.28, 0.35) * d->chine;
    s->half_spacings[1] = between(d, 0.65, 0.8) * d->chine;
}

static void add_pair(drawing *d, const char *name, double boat_x)
{
    dd_support *s = add_support(d, DD_SUPPORT_ROLLER, name, boat_x);
    s->deadrise = deadrise_at(d, boat_x);
    s->half_spacing = between(d, 0.55, 0.75) * d->chine;
    s->above_ground += s->half_spacing * tan(s->deadrise) - 0.004;
}

static void add_keel_roller(drawing *d, const char *name, double boat_x)
{
    dd_support *s = add_support(d, DD_SUPPORT_KEEL_ROLLER, name, boat_x);
    s->width = between(d, 0.1, 0.25);
}

static void draw_supports(drawing *d)
{
    const double centre = dd_hull_mass(d->hull)->centre.x, forward = between(d, 0.35, 0.6) * (0.62 * d->length - centre);
    switch (one_of(d, 3)) {
    case 0:
        add_cradle(d, "rear cradle", 0.17 * d->length, 3 + one_of(d, 3));
        add_cradle(d, "front cradle", centre + forward, 2);
        break;
    case 1:
        add_keel_roller(d, "rear keel roller", 0.03 * d->length);
        add_keel_roller(d, "second keel roller", 0.22 * d->length);
        add_keel_roller(d, "third keel roller", centre + forward);
        add_pair(d, "side rollers", between(d, 0.1, 0.3) * d->length);
        add_pair(d, "forward side rollers", centre);
        break;
    default:
        add_cradle(d, "rear cradle", 0.2 * d->length, 4);
        add_keel_roller(d, "front keel roller", centre + forward);
        break;
    }
}

static void draw_trailer(drawing *d)
{
    dd_trailer_parameters *t = &d->c->trailer;
    dd_trailer_defaults(t);
    snprintf(t->name, sizeof t->name, "drawn trailer");
    const dd_vec3 eye = dd_hull_bow_eye(d->hull);
    const double boat = dd_hull_mass(d->hull)->mass, stop = between(d, 1.2, 1.7);
    t->mass = between(d, 0.28, 0.4) * boat;
    t->coupling_height = between(d, 0.38, 0.48);
    t->tyre_radius = between(d, 0.27, 0.34);
    t->coupling_rating = 0.25 * boat * DD_STANDARD_GRAVITY;
    t->aggregate_mass_rating = 1.25 * (boat + t->mass);
    t->lamp_height = 0.5;
    d->keel_height = between(d, 0.48, 0.56) + 0.02 * d->length;
    d->transom = stop + eye.x;
    const double centre = d->transom - dd_hull_mass(d->hull)->centre.x, axle = centre * between(d, 1.05, 1.1);
    t->axle_count = boat > 1600 ? 2 : 1;
    for (int i = 0; i < t->axle_count; i++)
        t->axles[i] = (dd_axle){.behind_coupling = axle + (t->axle_count == 2 ? 0.85 * (i - 0.5) : 0),
                                .rating = 1.2 * t->aggregate_mass_rating / t->axle_count};
    t->bow_stop.behind_coupling = stop;
    t->bow_stop.above_ground = d->keel_height + eye.z;
    t->winch.behind_coupling = stop - 0.35;
    t->winch.above_ground = d->keel_height + eye.z + between(d, -0.05, 0.15);
    t->winch.strap_rating = 8 * boat;
    t->winch.rating = 7 * boat;
    t->winch.gear_ratio = boat > 1500 ? 12 : 5;
    t->winch.pretension = between(d, 0.02, 0.05) * boat * DD_STANDARD_GRAVITY;
    draw_supports(d);
}

static void draw_vehicle(drawing *d)
{
    dd_vehicle_parameters *v = &d->c->vehicle;
    dd_vehicle_defaults(v);
    snprintf(v->name, sizeof v->name, "drawn vehicle");
    v->mass = between(d, 1.1, 1.8) * dd_hull_mass(d->hull)->mass + 1000;
    v->wheelbase = between(d, 2.6, 3.3);
    v->coupling_behind_rear_axle = between(d, 1.0, 1.3);
    v->coupling_height = d->c->trailer.coupling_height + between(d, -0.03, 0.03);
    v->drive = one_of(d, 3);
    v->wading_depth = 0.6;
    v->exhaust_height = 0.4;
}

static void draw_shore(drawing *d)
{
    dd_ramp_parameters *r = &d->c->ramp;
    dd_ramp_defaults(r);
    snprintf(r->name, sizeof r->name, "drawn ramp");
    r->slope = atan(1 / between(d, 6.5, 11));
    r->crest_level = 3;
    if (one_of(d, 2)) {
        r->toe_level = between(d, -1.5, -0.8);
        r->toe_step = one_of(d, 2) ? 0.05 : 0;
        r->bed_slope = atan(1 / between(d, 9, 14));
    }
    dd_water *w = &d->c->water;
    dd_water_defaults(w);
    w->level = between(d, 0.8, 1.6);
    w->kind = one_of(d, 2) ? DD_WATER_SEA : DD_WATER_FRESH;
    if (one_of(d, 3) == 0) w->current = between(d, -0.25, 0.25);
}

static dd_step *add_step(drawing *d, int kind, double limit)
{
    dd_step *s = &d->c->steps[d->c->step_count++];
    for (int i = 0; dd_step_variants[i].name != NULL; i++) dd_key_clear(dd_step_variants[i].rows, s);
    dd_key_defaults(dd_step_variants[kind].rows, s);
    s->kind = kind;
    s->time_limit = limit;
    return s;
}

static void draw_procedure(drawing *d)
{
    dd_case *c = d->c;
    const double deep = d->keel_height - c->trailer.tyre_radius + d->draught;
    c->action = one_of(d, 2) ? DD_ACTION_LAUNCH : DD_ACTION_RETRIEVE;
    if (c->action == DD_ACTION_LAUNCH) {
        c->start.hub_depth = -0.15;
        add_step(d, DD_STEP_BACK_DOWN, 60)->until.hub_depth = between(d, 0.9, 1.5) * deep;
        add_step(d, DD_STEP_STRAP_OFF, 10);
        dd_step *push = add_step(d, DD_STEP_PUSH_OFF, 40);
        push->force = between(d, 80, 200);
        push->until.distance_clear = 0.5;
        return;
    }
    c->start.hub_depth = between(d, 0.8, 1.2) * deep;
    c->start.bow_distance = between(d, 0.1, 0.5);
    c->start.offset_to_port = between(d, -0.06, 0.06);
    c->start.heading = between(d, -3, 3) * M_PI / 180;
    add_step(d, DD_STEP_HOOK_ON, 10);
    add_step(d, DD_STEP_WIND_IN, 240)->speed = between(d, 0.06, 0.12);
    add_step(d, DD_STEP_PULL_OUT, 60)->until.water_clear = 0.1;
}

random_rig draw_rig(unsigned long seed, dd_case *scenario)
{
    drawing d = {.rng = gsl_rng_alloc(gsl_rng_mt19937), .c = scenario};
    dd_floating floating;
    if (d.rng == NULL) return d.rig;
    gsl_rng_set(d.rng, seed);
    dd_case_defaults(scenario);
    snprintf(scenario->title, sizeof scenario->title, "drawn with seed %lu", seed);
    draw_boat(&d);
    if (dd_hull_create(&scenario->boat, &d.hull, NULL) == DD_OK) {
        if (dd_hull_float(d.hull, 1020, DD_STANDARD_GRAVITY, 0, 0, &floating, NULL) == DD_OK) {
            double y[DD_STRAKES + 3], z[DD_STRAKES + 3];
            int count = dd_hull_section(d.hull, 0.3 * d.length, y, z);
            d.chine = y[count - 2];
            d.draught = floating.waterplane.level;
            d.mass = dd_hull_mass(d.hull)->mass;
            draw_trailer(&d);
            draw_vehicle(&d);
            draw_shore(&d);
            draw_procedure(&d);
            d.rig.fits = 1;
        }
        dd_hull_free(d.hull);
    }
    gsl_rng_free(d.rng);
    return d.rig;
}
