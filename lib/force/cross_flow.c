/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drag of the water crossing the hull: strip by strip, with the strip's own velocity across the boat at half its immersed
   depth, v = sway + yaw X - roll z:  force -rho/2 C T |v| v per length.

   Shallow water under the keel raises the coefficient: C = C0 + (C1 - C0) (T/d)^2, d the depth of the water under the
   boat's origin, T the strip's immersed depth; T/d is held at 1 from there on. |v| v has a continuous slope at rest. */
#include "lib/base/error.h"
#include "lib/force/smooth.h"
#include "lib/force/water.h"
#include "lib/shore/shore.h"
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
    const dd_water *water;
    int varies; /* the current, from place to place */
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

/* Sums over the strips. A strip's unit force has the wrench (0, 1, 0, -z, 0, X), which is also dv/d(twist). */
typedef struct cross_sums {
    double force, force_z, force_x;
    double damping, damping_z, damping_x, damping_zz, damping_zx, damping_xx; /* -d(force)/dv, times the arms */
    double heat;
    double own[3][6];                                                        /* K by the strips' own currents, rows of sway, roll, yaw */
    double water, water_z, water_x;                                          /* d(force)/d(water's depth), times the arms */
    dd_keel_sum keel, keel_z, keel_x;                                        /* d(force)/d(keel's depth), times the arms */
} cross_sums;

/* A strip's own stream across the boat, less that at the hull's middle, and its derivatives by the hull's displacement. */
static double own_stream(const cross_flow *c, const cross_strip *s, double immersed, double slope,
                         const dd_kinematics *k, double by[6])
{
    const double *row = k->to_world.m[0], *across = k->to_world.m[1], water = fmax(k->water_depth, ground);
    const dd_vec3 keel = dd_vec(s->x, 0, s->keel_height), along = dd_vec(row[0], row[1], row[2]), turn = dd_cross(keel, along);
    const double place[6] = {row[0], row[1], row[2], turn.x, turn.y, turn.z};
    const dd_water_flow f = dd_water_flow_at(c->water, k->origin.x + dd_dot(along, keel), k->time, fmin(immersed, water), water);
    const double difference = f.along_y - k->moving.current;
    const dd_keel_sum one = {1, s->x, s->keel_height};
    double keel_by[6], water_by[6];
    dd_keel_sum_stiffness(k, &one, keel_by);
    dd_water_depth_stiffness(c->ramp, k, water_by);
    const double by_immersed = immersed < water ? f.along_y_by_immersed * slope : 0;
    const double by_water = c->ramp != NULL && k->water_depth > ground ? f.along_y_by_depth + (immersed < water ? 0 : f.along_y_by_immersed) : 0;
    for (int j = 0; j < 6; j++)
        by[j] = -across[1] * (f.along_y_by_x * place[j] + by_immersed * keel_by[j] + by_water * water_by[j] - k->moving.velocity_by[1][j]);
    by[3] -= difference * across[2];
    by[5] += difference * across[0];
    return -across[1] * difference;
}

static void add_strip(const cross_flow *c, const cross_strip *s, double depth, const dd_kinematics *k, cross_sums *sums)
{
    const double *w = k->twist_in_water, x = s->x;
    dd_smooth in = dd_smooth_positive(depth, wetting), over = dd_smooth_positive(depth - s->side, wetting);
    const double immersed = in.value - over.value, slope = in.slope - over.slope;
    double by_immersed, by_water;
    const double drag = drag_coefficient(c, immersed, k->water_depth, &by_immersed, &by_water);
    const double z = s->keel_height + 0.5 * immersed;
    double own_by[6], v = w[1] + w[5] * x - w[3] * z;
    if (c->varies)
        v += own_stream(c, s, immersed, slope, k, own_by);
    const double square = s->half_density * fabs(v) * v;
    const double force = -square * drag * immersed, damping = 2 * s->half_density * drag * immersed * fabs(v);
    sums->force += force;
    sums->force_z += force * z;
    sums->force_x += force * x;
    sums->damping += damping;
    sums->damping_z += damping * z;
    sums->damping_x += damping * x;
    sums->damping_zz += damping * z * z;
    sums->damping_zx += damping * z * x;
    sums->damping_xx += damping * x * x;
    sums->heat -= force * v;
    for (int j = 0; j < 6 && c->varies; j++) {
        sums->own[0][j] += damping * own_by[j];
        sums->own[1][j] -= damping * own_by[j] * z;
        sums->own[2][j] += damping * own_by[j] * x;
    }
    const double water = -square * immersed * by_water;
    sums->water += water;
    sums->water_z += water * z;
    sums->water_x += water * x;
    /* z moves by half the slope: it changes v, and the arm of the force */
    const double by_depth = (-square * (drag + by_immersed * immersed) + 0.5 * damping * w[3]) * slope;
    dd_keel_sum_add(&sums->keel, by_depth, x, s->keel_height);
    dd_keel_sum_add(&sums->keel_z, by_depth * z + force * 0.5 * slope, x, s->keel_height);
    dd_keel_sum_add(&sums->keel_x, by_depth * x, x, s->keel_height);
}

static void differentiate(const cross_flow *c, const cross_sums *s, const dd_kinematics *k, dd_gradient *gradient)
{
    double water[6], keel[6], keel_z[6], keel_x[6];
    dd_water_depth_stiffness(c->ramp, k, water);
    dd_keel_sum_stiffness(k, &s->keel, keel);
    dd_keel_sum_stiffness(k, &s->keel_z, keel_z);
    dd_keel_sum_stiffness(k, &s->keel_x, keel_x);
    for (int j = 0; j < 6; j++) {
        gradient->K[1][j] = -keel[j] - s->water * water[j];
        gradient->K[3][j] = keel_z[j] + s->water_z * water[j];
        gradient->K[5][j] = -keel_x[j] - s->water_x * water[j];
    }
    gradient->D[1][1] = s->damping;
    gradient->D[1][3] = gradient->D[3][1] = -s->damping_z;
    gradient->D[1][5] = gradient->D[5][1] = s->damping_x;
    gradient->D[3][3] = s->damping_zz;
    gradient->D[3][5] = gradient->D[5][3] = -s->damping_zx;
    gradient->D[5][5] = s->damping_xx;
    dd_gradient_add_current(k, gradient);
    for (int j = 0; j < 6 && c->varies; j++) {
        gradient->K[1][j] += s->own[0][j];
        gradient->K[3][j] += s->own[1][j];
        gradient->K[5][j] += s->own[2][j];
    }
}

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)commands, (void)memory;
    const cross_flow *c = instance;
    cross_sums sums = {0};
    for (int n = 0; n < c->count; n++) {
        const cross_strip *s = &c->strips[n];
        const double depth = dd_keel_depth(&k->waterplane, s->x, s->keel_height);
        if (depth > -wetting)
            add_strip(c, s, depth, k, &sums);
    }
    load->hull[1] = sums.force;
    load->hull[3] = -sums.force_z;
    load->hull[5] = sums.force_x;
    const double *w = k->twist_in_water;
    load->heat = c->varies ? sums.heat : -(load->hull[1] * w[1] + load->hull[3] * w[3] + load->hull[5] * w[5]);
    if (gradient != NULL)
        differentiate(c, &sums, k, gradient);
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
    made->water = &model->water;
    made->varies = dd_current_varies(&model->water);
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
    .formula = "strip by strip -rho/2 C T |v| v per length, v = sway + yaw X - roll z; C = C0 + (C1 - C0) (T/d)^2 over shallow ground",
    .valid = "a stream or a drift across the hull; T/d from 0 to 1",
    .covered_by = "tests/unit/force/test_water_forces.c",
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
