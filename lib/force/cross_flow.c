/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drag of the water crossing the hull: strip by strip, with the strip's own velocity across the boat at half its immersed
   depth, v = sway + yaw X - roll z:  force -rho/2 C T |v| v per length.

   Shallow water under the keel raises the coefficient: C = C0 + (C1 - C0) (T/d)^2, d the depth of the water under the
   boat's origin, T the strip's immersed depth; T/d is held at 1 from there on. |v| v has a continuous slope at rest. */
#include "lib/base/error.h"
#include "lib/force/smooth.h"
#include "lib/force/water.h"
#include <stdlib.h>

static const double wetting = 0.02; /* m: a strip's drag fades in over this depth of its keel */
static const double ground = 0.02;  /* m: least depth of water in T/d */
static const double near_one = 0.03; /* T/d is exact up to 1 less this, and held at 1 from 1 plus this */

typedef struct coefficients {
    double deep, shallow;
} coefficients;

typedef struct cross_strip {
    double x, keel_height, side, half_density; /* side: keel to sheer; half_density: rho/2 times the strip's length */
} cross_strip;

typedef struct cross_flow {
    const dd_ramp *ramp;
    coefficients coefficient;
    int count;
    cross_strip strips[];
} cross_flow;

/* C and its slopes by the immersed depth and by the water's depth. */
static double drag_coefficient(const cross_flow *c, double immersed, double water, double *by_immersed, double *by_water)
{
    const double rise = c->coefficient.shallow - c->coefficient.deep;
    *by_immersed = *by_water = 0;
    if (!isfinite(water))
        return c->coefficient.deep;
    dd_smooth d = dd_smooth_positive(water - ground, ground);
    d.value += ground;
    const double ratio = immersed / d.value;
    dd_smooth over = dd_smooth_positive(ratio - 1, near_one);
    const double s = ratio - over.value, slope = 2 * rise * s * (1 - over.slope);
    *by_immersed = slope / d.value;
    *by_water = -slope * ratio / d.value * d.slope;
    return c->coefficient.deep + rise * s * s;
}

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)commands, (void)memory;
    const cross_flow *c = instance;
    const double *w = k->twist_in_water;
    double water[6] = {0};
    if (gradient != NULL)
        dd_water_depth_gradient(c->ramp, k, water);
    for (int n = 0; n < c->count; n++) {
        const cross_strip *s = &c->strips[n];
        const double depth = dd_keel_depth(&k->waterplane, s->x, s->keel_height);
        if (depth <= -wetting)
            continue;
        dd_smooth in = dd_smooth_positive(depth, wetting), over = dd_smooth_positive(depth - s->side, wetting);
        const double immersed = in.value - over.value, slope = in.slope - over.slope;
        double by_immersed, by_water;
        const double drag = drag_coefficient(c, immersed, k->water_depth, &by_immersed, &by_water);
        const double z = s->keel_height + 0.5 * immersed, v = w[1] + w[5] * s->x - w[3] * z;
        const double speed = fabs(v), force = -s->half_density * drag * immersed * speed * v;
        const double arm[6] = {0, 1, 0, -z, 0, s->x}; /* both the wrench of a unit force and dv/dw */
        for (int i = 0; i < 6; i++)
            load->hull[i] += force * arm[i];
        load->heat -= force * v;
        if (gradient == NULL)
            continue;
        double keel[6];
        dd_keel_depth_gradient(&k->waterplane, s->x, s->keel_height, keel);
        const double by_v = -2 * s->half_density * drag * immersed * speed;
        const double by_depth = (-s->half_density * speed * v * (drag + by_immersed * immersed) - 0.5 * by_v * w[3]) * slope;
        const double by_ground = -s->half_density * speed * v * immersed * by_water;
        for (int j = 0; j < 6; j++) {
            const double moved = by_depth * keel[j] + by_ground * water[j];
            for (int i = 0; i < 6; i++) {
                gradient->K[i][j] -= moved * arm[i];
                gradient->D[i][j] -= by_v * arm[j] * arm[i];
            }
            gradient->K[3][j] += force * 0.5 * slope * keel[j];
        }
    }
    if (gradient != NULL)
        dd_gradient_add_current(k, gradient);
    if (channels != NULL)
        channels[0] = load->hull[1];
}

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    *instance = NULL;
    if (model->hull == NULL || model->strips == NULL)
        return DD_OK;
    const int count = dd_strips_count(model->strips);
    cross_flow *made = malloc(sizeof *made + (size_t)count * sizeof made->strips[0]);
    if (made == NULL)
        return dd_fail(error, DD_ERROR_MEMORY, "cross flow force", "no memory for %d strips", count);
    made->ramp = model->ramp;
    made->coefficient = *(const coefficients *)parameters;
    made->count = count;
    for (int i = 0; i < count; i++) {
        dd_strip strip = dd_strips_at(model->strips, i);
        made->strips[i] = (cross_strip){strip.x, strip.keel_height, fmax(strip.sheer_height - strip.keel_height, 0),
                                        0.5 * model->water.density * strip.weight};
    }
    *instance = made;
    return DD_OK;
}

static const dd_key keys[] = {
    {.name = "coefficient", .type = DD_KEY_QUANTITY, .dimension = DD_NUMBER, .offset = offsetof(coefficients, deep), .least = 0,
     .most = 5, .fallback = 0.9, .source = "cross flow coefficient",
     .help = "drag coefficient of the water crossing the hull in deep water, on length times immersed depth"},
    {.name = "shallow coefficient", .type = DD_KEY_QUANTITY, .dimension = DD_NUMBER, .offset = offsetof(coefficients, shallow), .least = 0,
     .most = 10, .fallback = 3.2, .source = "transverse current", .help = "the same where the keel all but touches the ground"},
    {0}};
static const char *const sources[] = {"transverse current", "cross flow coefficient", NULL};
static const dd_channel flow_channels[] = {{"cross_flow_N", "N", "drag of the water crossing the hull, toward port"}, {NULL, NULL, NULL}};

const dd_force_kind dd_force_cross_flow = {
    .name = "cross flow",
    .help = "drag of the water crossing the hull",
    .acts_on = DD_ACTS_ON_HULL,
    .passive = 1,
    .parameters_size = sizeof(coefficients),
    .keys = keys,
    .sources = sources,
    .channels = flow_channels,
    .prepare = prepare,
    .free = free,
    .evaluate = evaluate,
    .regimes = dd_water_regimes,
};
