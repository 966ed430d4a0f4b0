/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Damping by the waves that a moving hull makes, in heave, pitch and roll, and by the eddies shed in roll.

   Waves, linear, strip by strip: heave and pitch by b33 at the hull's own heave frequency on the strip's velocity
   w - q X; roll about the centre of mass by b44 at its own roll frequency (b22, b24 and b44 are one wave's, so that
   b44 about the centre is the square of roll_wave + sway_wave * height of the centre over the water). No memory of past
   waves, and none in sway: a slow drift makes no waves. Depths count as in added_mass.c; a dry strip has no part.
   Eddies: -rho/4 C b^4 |p| p per length, the drag rho/2 C (p y)^2 of a plate of half-breadth b turning about its middle. */
#include "lib/base/error.h"
#include "lib/force/section.h"
#include "lib/force/water.h"
#include <stdlib.h>

enum { HEAVE, ROLL, EDDY, COLUMNS };

typedef struct coefficients {
    double waves, eddy;
} coefficients;

typedef struct wave_damping {
    dd_strip_table table;
    bool borrowed; /* the table is the twin's */
} wave_damping;

typedef struct fill_context {
    coefficients coefficient;
    dd_natural natural;
    double density, gravity, centre_height;
} fill_context;

static void fill(const void *context, const dd_strip *strip, double depth, double *values)
{
    const fill_context *c = context;
    const dd_section_shape shape = dd_section_at(strip, depth);
    const dd_section s = dd_section_radiation(&shape, c->natural.heave * c->natural.heave / c->gravity,
                                              c->natural.roll * c->natural.roll / c->gravity);
    const double weight = c->density * strip->weight, b = shape.half_breadth;
    const double wave = s.roll_wave + (c->centre_height - strip->keel_height - shape.draught) * s.sway_wave;
    values[HEAVE] = c->coefficient.waves * c->natural.heave * weight * s.heave_damping;
    values[ROLL] = c->coefficient.waves * c->natural.roll * weight * wave * wave;
    values[EDDY] = c->coefficient.eddy * 0.25 * weight * b * b * b * b;
}

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)commands, (void)memory;
    const wave_damping *d = instance;
    const double *w = k->twist_in_water, roll = w[3], quick = fabs(roll);
    if (w[2] == 0 && w[3] == 0 && w[4] == 0 && (gradient == NULL || k->at_rest)) return; /* then K has no part of it either */
    double heave_damping[3] = {0}, roll_damping = 0, eddy_damping = 0; /* heave: by powers of X */
    dd_keel_sum force_by = {0, 0, 0}, pitch_by = {0, 0, 0}, roll_by = {0, 0, 0};
    for (int n = 0; n < d->table.strips; n++) {
        const double x = d->table.x[n], z = d->table.keel_height[n];
        double value[COLUMNS], slope[COLUMNS];
        if (!dd_strip_table_at(&d->table, n, dd_keel_depth(&k->waterplane, x, z), value, slope))
            continue;
        heave_damping[0] += value[HEAVE];
        heave_damping[1] += value[HEAVE] * x;
        heave_damping[2] += value[HEAVE] * x * x;
        roll_damping += value[ROLL];
        eddy_damping += value[EDDY];
        const double by_depth = slope[HEAVE] * (w[2] - w[4] * x);
        dd_keel_sum_add(&force_by, by_depth, x, z);
        dd_keel_sum_add(&pitch_by, -x * by_depth, x, z);
        dd_keel_sum_add(&roll_by, (slope[ROLL] + slope[EDDY] * quick) * roll, x, z);
    }
    load->hull[2] = -(heave_damping[0] * w[2] - heave_damping[1] * w[4]);
    load->hull[3] = -(roll_damping + eddy_damping * quick) * roll;
    load->hull[4] = heave_damping[1] * w[2] - heave_damping[2] * w[4];
    load->heat = -(load->hull[2] * w[2] + load->hull[3] * w[3] + load->hull[4] * w[4]);
    if (channels != NULL) {
        channels[0] = load->hull[2];
        channels[1] = load->hull[3];
    }
    if (gradient == NULL)
        return;
    dd_keel_sum_stiffness(k, &force_by, gradient->K[2]);
    dd_keel_sum_stiffness(k, &roll_by, gradient->K[3]);
    dd_keel_sum_stiffness(k, &pitch_by, gradient->K[4]);
    gradient->D[2][2] = heave_damping[0];
    gradient->D[2][4] = gradient->D[4][2] = -heave_damping[1];
    gradient->D[4][4] = heave_damping[2];
    gradient->D[3][3] = roll_damping + 2 * eddy_damping * quick;
    dd_gradient_add_current(k, gradient);
}

static void release(void *instance)
{
    wave_damping *d = instance;
    if (d != NULL && !d->borrowed)
        dd_strip_table_free(&d->table);
    free(d);
}

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    *instance = NULL;
    if (model->hull == NULL || model->strips == NULL || !(model->gravity > 0))
        return DD_OK; /* without gravity there are no waves */
    wave_damping *made = calloc(1, sizeof *made);
    if (made == NULL)
        return dd_fail(error, DD_ERROR_MEMORY, "wave damping force", "no memory for %zu bytes", sizeof *made);
    const wave_damping *twin = model->twin;
    if (twin != NULL) {
        *made = (wave_damping){.table = twin->table, .borrowed = true};
        *instance = made;
        return DD_OK;
    }
    const fill_context context = {.coefficient = *(const coefficients *)parameters,
                                  .natural = dd_natural_frequencies(model),
                                  .density = model->water.density,
                                  .gravity = model->gravity,
                                  .centre_height = dd_hull_mass(model->hull)->centre.z};
    dd_status status = dd_strip_table_create(model->strips, COLUMNS, fill, &context, &made->table, error);
    if (status != DD_OK) {
        release(made);
        return status;
    }
    *instance = made;
    return DD_OK;
}

static const dd_key keys[] = {
    {.name = "waves", .type = DD_KEY_QUANTITY, .dimension = DD_NUMBER, .offset = offsetof(coefficients, waves), .least = 0, .most = 10,
     .fallback = 1, .source = "section radiation", .help = "factor on the computed wave damping"},
    {.name = "eddy coefficient", .type = DD_KEY_QUANTITY, .dimension = DD_NUMBER, .offset = offsetof(coefficients, eddy), .least = 0,
     .most = 10, .fallback = 1, .source = "eddy roll damping",
     .help = "drag coefficient of the bottom turning about the keel line, as of a plate with water on one face"},
    {0}};
static const char *const sources[] = {"section radiation", "eddy roll damping", NULL};
static const dd_channel damping_channels[] = {{"wave_damping_heave_N", "N", "damping force, up in boat axes"},
                                              {"wave_damping_roll_Nm", "Nm", "damping moment of waves and eddies about the boat's X, > 0 lifts the port side"},
                                              {NULL, NULL, NULL}};

const dd_force_kind dd_force_wave_damping = {
    .name = "wave damping",
    .help = "waves made in heave, pitch and roll, and eddies in roll",
    .formula = "strip by strip: heave and pitch -b33(w_n) (w - q X), roll by b44(w_n) about the centre of mass; eddies in roll -rho/4 C b^4 |p| p per length",
    .valid = "small motions about the hull's own periods; no memory of past waves, none in sway",
    .covered_by = "tests/unit/force/test_section.c",
    .acts_on = DD_ACTS_ON_HULL,
    .passive = 1,
    .parameters_size = sizeof(coefficients),
    .keys = keys,
    .sources = sources,
    .channels = damping_channels,
    .prepare = prepare,
    .free = release,
    .evaluate = evaluate,
    .regimes = dd_water_regimes,
};
