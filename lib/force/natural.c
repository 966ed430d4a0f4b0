/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Heave and roll frequencies of the hull afloat, upright on an even keel, about its centre of mass:
     heave w^2 = rho g A / (m + A33(w)),   roll w^2 = m g GM / (I + A44(w)),
   solved by repeated substitution, which contracts as added mass changes slowly with frequency. */
#include "lib/force/section.h"

enum { HALVINGS = 60, SUBSTITUTIONS = 30 };

/* Level over the boat's origin at which the hull displaces its mass; the highest sheer when it cannot. */
static double floating_level(const dd_model *model, double mass, dd_hydrostatics *wet)
{
    double low = INFINITY, high = -INFINITY;
    for (int i = 0; i < dd_strips_count(model->strips); i++) {
        dd_strip strip = dd_strips_at(model->strips, i);
        low = fmin(low, strip.keel_height);
        high = fmax(high, strip.sheer_height);
    }
    for (int i = 0; i < HALVINGS; i++) {
        double middle = 0.5 * (low + high);
        dd_strips_hydrostatics(model->strips, (dd_waterplane){{0, 0, 1}, middle}, wet);
        if (model->water.density * wet->volume < mass)
            low = middle;
        else
            high = middle;
    }
    return 0.5 * (low + high);
}

/* Added mass in heave, and in roll about an axis at the centre's height, with the strips' frequency numbers. */
static void strip_sums(const dd_model *model, double level, double centre, double heave_number, double roll_number, double *heave,
                       double *roll)
{
    *heave = *roll = 0;
    for (int i = 0; i < dd_strips_count(model->strips); i++) {
        dd_strip strip = dd_strips_at(model->strips, i);
        if (level <= strip.keel_height)
            continue;
        dd_section_shape shape = dd_section_at(&strip, level - strip.keel_height);
        dd_section section = dd_section_radiation(&shape, heave_number, roll_number);
        const double over = centre - level, weight = model->water.density * strip.weight;
        *heave += weight * section.heave_mass;
        *roll += weight * (section.roll_mass + 2 * over * section.sway_roll_mass + over * over * section.sway_mass);
    }
}

dd_natural dd_natural_frequencies(const dd_model *model)
{
    const dd_mass_properties *body = dd_hull_mass(model->hull);
    dd_hydrostatics wet;
    const double level = floating_level(model, body->mass, &wet), g = model->gravity;
    dd_natural natural = {0, 0};
    if (!(g > 0 && wet.volume > 0 && wet.waterplane_area > 0))
        return natural;
    const double metacentric_height = (wet.volume_moment.z + wet.waterplane_second[1][1]) / wet.volume - body->centre.z;
    double heave_number = 1, roll_number = 1, heave, roll, before = 0;
    for (int i = 0; i < SUBSTITUTIONS && fabs(heave_number + roll_number - before) > 1e-9 * before; i++) {
        before = heave_number + roll_number;
        strip_sums(model, level, body->centre.z, heave_number, roll_number, &heave, &roll);
        heave_number = model->water.density * wet.waterplane_area / (body->mass + heave);
        roll_number = metacentric_height > 0 ? body->mass * metacentric_height / (body->inertia[0][0] + roll) : heave_number;
    }
    natural.heave = sqrt(g * heave_number);
    natural.roll = sqrt(g * roll_number);
    return natural;
}
