/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Boat and vehicle, and the whole rig. */
#include "lib/hull/surface.h"
#include "lib/state/kinematics.h"
#include "tests/property/drawing.h"
#include <math.h>
#include <stdio.h>

double between(drawing *d, double low, double high) { return low + (high - low) * gsl_rng_uniform(d->rng); }
int one_of(drawing *d, int count) { return (int)gsl_rng_uniform_int(d->rng, (unsigned long)count); }
int chance(drawing *d, double probability) { return gsl_rng_uniform(d->rng) < probability; }

static void draw_boat(drawing *d)
{
    dd_hull_parameters *p = &d->c->boat;
    dd_hull_defaults(p);
    snprintf(p->name, sizeof p->name, "drawn boat");
    d->length = p->length = between(d, 3.9, 7.5);
    p->length_of = DD_LENGTH_OF_HULL;
    p->beam = 0.87 * sqrt(p->length) * between(d, 0.94, 1.08);
    p->transom_deadrise = between(d, 8, 23) * M_PI / 180;
    p->mass = pow(p->length, 3) * between(d, 5, 8.5);
    p->mass_of = DD_MASS_OF_HULL_AND_ENGINE;
    p->engine_power = 55 * p->mass;
    p->item_count = one_of(d, 3);
    for (int i = 0; i < p->item_count; i++) {
        dd_item *item = &p->items[i];
        dd_item_defaults(item);
        snprintf(item->item, sizeof item->item, "item %d", i + 1);
        item->mass = between(d, 0.01, 0.06) * p->mass;
        item->at_count = 3;
        item->at[0] = between(d, 0.2, 0.6) * p->length;
        item->at[1] = between(d, -0.02, 0.02);
        item->at[2] = between(d, 0.2, 0.5);
    }
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
    v->park_lock = one_of(d, 3);
    v->floor_height = between(d, 0.25, 0.45);
    v->flooded_share = chance(d, 0.3) ? between(d, 0, 0.8) : 0;
    v->wading_depth = 0.6;
    v->exhaust_height = 0.4;
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
            scenario->record_interval = 0.2; /* beside the rows at events */
            d.rig.fits = 1;
        }
        dd_hull_free(d.hull);
    }
    gsl_rng_free(d.rng);
    return d.rig;
}
