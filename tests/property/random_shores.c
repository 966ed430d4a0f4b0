/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ramp, water and wind: most days are kind ones. */
#include "tests/property/drawing.h"
#include <math.h>
#include <stdio.h>

static void draw_surfaces(drawing *d)
{
    dd_ramp_parameters *r = &d->c->ramp;
    dd_surface *dry = &r->surfaces[0], *low = &r->surfaces[1];
    r->surface_count = 2;
    *dry = (dd_surface){.name = "upper ramp", .to = between(d, 6, 10), .friction_low = 0.55, .friction_high = 0.75,
                        .wet_friction_low = NAN, .wet_friction_high = NAN, .rolling_resistance = 0.015};
    dry->from = NAN;
    *low = (dd_surface){.name = "lower ramp", .from = dry->to, .to = NAN, .friction_low = between(d, 0.35, 0.5), .wet_friction_low = NAN,
                        .wet_friction_high = NAN, .rolling_resistance = between(d, 0.012, 0.03)};
    low->friction_high = low->friction_low + 0.15;
    if (chance(d, 0.4)) { /* slimier below the water line */
        low->wet_friction_low = 0.8 * low->friction_low;
        low->wet_friction_high = 0.8 * low->friction_high;
    }
    if (chance(d, 0.12) || d->beach) { /* sand */
        low->rolling_resistance = between(d, 0.04, 0.08);
        low->sinkage = between(d, 0.005, 0.03);
        low->sinkage_rate = chance(d, 0.5) ? between(d, 0, 0.0005) : 0;
    }
}

static void draw_ramp(drawing *d)
{
    dd_ramp_parameters *r = &d->c->ramp;
    dd_ramp_defaults(r);
    snprintf(r->name, sizeof r->name, "drawn ramp");
    const double steepness = 1 / between(d, 6.5, 11);
    if (chance(d, 0.2)) { /* surveyed: two slopes and the ground before them */
        static const double x[] = {-30, 0, 14, 26, 60};
        const double z[] = {3, 3, 3 - 14 * between(d, 0.85, 1) * steepness, 3 - 26 * steepness, 3 - 26 * steepness - 34 * between(d, 0.07, 0.1)};
        r->point_count = 5;
        for (int i = 0; i < 5; i++) {
            r->points[i].x = x[i];
            r->points[i].z = z[i];
        }
        r->point_curve = between(d, 2, 4);
    } else {
        r->slope = atan(steepness);
        r->crest_level = 3;
        if (chance(d, 0.5)) {
            r->toe_level = between(d, -1.5, -0.8);
            r->toe_step = chance(d, 0.4) ? between(d, 0.02, 0.08) : 0;
            r->bed_slope = atan(1 / between(d, 9, 14));
            if (chance(d, 0.3)) r->scour = (dd_scour){.depth = between(d, 0.1, 0.4), .length = 5, .mound_height = between(d, 0, 0.3), .mound_length = 5};
        }
    }
    draw_surfaces(d);
    if (chance(d, 0.15)) r->weed = (dd_weed){.from_level = -0.5, .to_level = between(d, 0.4, 1), .friction_low = 0.15, .friction_high = 0.35};
}

static void draw_water(drawing *d)
{
    dd_water *w = &d->c->water;
    dd_water_defaults(w);
    w->level = between(d, 0.8, 1.6);
    w->kind = one_of(d, 3);
    w->temperature = between(d, 277, 301);
    if (chance(d, 0.15)) w->rise = between(d, -0.0008, 0.0008);
    if (chance(d, 0.1) && !(fabs(w->rise) > 0)) {
        w->level_count = 1;
        w->levels[0].at = 60;
        w->levels[0].level = w->level + between(d, -0.05, 0.05);
    }
    if (chance(d, 0.07)) w->surge = (dd_surge){.height = between(d, 0.01, 0.06), .period = between(d, 6, 12)};
    if (chance(d, 0.07)) w->wave = (dd_wave){.height = between(d, 0.01, 0.06), .period = between(d, 3, 6), .depth = NAN, .reflection = between(d, 0.2, 1)};
    if (chance(d, 0.25)) {
        w->current = between(d, -0.2, 0.2);
        if (chance(d, 0.5)) w->current_exponent = 0.14;
        if (chance(d, 0.5)) w->current_full_beyond = between(d, 2, 8);
        if (chance(d, 0.3)) w->wall_to = between(d, 15, 25);
    }
    if (chance(d, 0.25)) w->wind = (dd_wind){.speed = between(d, 1, 6), .toward = between(d, -3.14, 3.14)};
}

void draw_shore(drawing *d)
{
    draw_ramp(d);
    draw_water(d);
}
