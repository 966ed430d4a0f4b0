/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strip-wise added mass in Kirchhoff-Lagrange form.

   Each strip has heave velocity w - q X, and at its waterline's centre (height z over the boat's origin) sway velocity
   v + r X - p z. Its kinetic energy with the section's a33, a22, a44 and a24 about that centre,
     2 T = a33 (w - q X)^2 + a22 (v + r X)^2 + 2 (a24 - z a22) (v + r X) p + (a44 - 2 z a24 + z^2 a22) p^2,
   has four coefficients that depend on the depth of the strip's keel alone, and with it on the pose: A(q) is known
   exactly, and so is its derivative. Surge has none (slender body).

   No memory of past waves: heave (and pitch) take the added mass at the hull's own heave frequency, roll (with its sway
   coupling) at its own roll frequency, slow sway and yaw that of a rigid surface. See section.h and natural.c.

   Shallow water: the water that sway drives through the gap under the keel adds to a22
     2 b T s phi(T/h),  phi(x) = x (1/(1 - x + e) - 0.3 (1 - x) - 0.7 (1 - x)^2),
   T the strip's depth, h the water's depth under the boat's origin. b T^2/(h - T) is the limit of a narrow gap under a box
   (continuity); the rest is fitted to computed rows: with the section's fullness f, s = exp(-3.005 (1 - f) + 0.847 (1 - f)^2)
   and e = 0.2 (1 - f); within 5 % of the rows for h/T from 1.2 to 5 (test_added_mass.c). T/h is held from 0.9 on. */
#include "lib/force/added_mass.h"
#include "lib/base/error.h"
#include "lib/force/section.h"
#include "lib/force/smooth.h"
#include "lib/force/water.h"
#include <stdlib.h>

enum { HEAVE, SWAY, SWAY_ROLL, ROLL, SUMS, GAP = SUMS, COLUMNS };

static const double shallowest = 0.87, near_shallowest = 0.03; /* T/h is exact up to their difference */
static const double ground = 0.02;                                /* m: least depth of water */

struct dd_added_mass {
    const dd_ramp *ramp;
    dd_strip_table table;
    double *easing; /* e of each strip, wet to just below its chine */
};

typedef struct fill_context {
    double density, heave_number, roll_number;
} fill_context;

static double fullness(const dd_section_shape *shape)
{
    const double side = (1 - shape->chine_share), chine = shape->half_breadth - shape->flare * side * shape->draught;
    return (chine * shape->chine_share + (chine + shape->half_breadth) * side) / (2 * shape->half_breadth);
}

static void fill(const void *context, const dd_strip *strip, double depth, double *values)
{
    const fill_context *c = context;
    const dd_section_shape shape = dd_section_at(strip, depth);
    const dd_section s = dd_section_radiation(&shape, c->heave_number, c->roll_number);
    const double weight = c->density * strip->weight, z = strip->keel_height + shape.draught;
    values[HEAVE] = weight * s.heave_mass;
    values[SWAY] = weight * s.sway_mass;
    values[SWAY_ROLL] = weight * (s.sway_roll_mass - z * s.sway_mass);
    values[ROLL] = weight * (s.roll_mass - 2 * z * s.sway_roll_mass + z * z * s.sway_mass);
    const double hollow = 1 - fullness(&shape);
    values[GAP] = weight * 2 * shape.half_breadth * shape.draught * exp(-3.005 * hollow + 0.847 * hollow * hollow);
}

static dd_status ease(const dd_strips *strips, dd_added_mass *made, dd_error *error)
{
    const int count = dd_strips_count(strips);
    made->easing = malloc((size_t)count * sizeof *made->easing);
    if (made->easing == NULL)
        return dd_fail(error, DD_ERROR_MEMORY, "dd_added_mass_create", "no memory for %d strips", count);
    for (int i = 0; i < count; i++) {
        const dd_strip strip = dd_strips_at(strips, i);
        const dd_section_shape shape = dd_section_at(&strip, fmax(0.8 * (strip.chine_height - strip.keel_height), 0.1));
        made->easing[i] = 0.2 * (1 - fullness(&shape));
    }
    return DD_OK;
}

dd_status dd_added_mass_create(const dd_model *model, dd_added_mass **result, dd_error *error)
{
    *result = NULL;
    if (model->hull == NULL || model->strips == NULL)
        return dd_fail(error, DD_ERROR_ARGUMENT, "dd_added_mass_create: model", "no hull or no strips, expected both");
    dd_added_mass *made = calloc(1, sizeof *made);
    if (made == NULL)
        return dd_fail(error, DD_ERROR_MEMORY, "dd_added_mass_create", "no memory for %zu bytes", sizeof *made);
    const dd_natural natural = dd_natural_frequencies(model);
    const double g = model->gravity > 0 ? model->gravity : DD_STANDARD_GRAVITY;
    const fill_context context = {model->water.density, natural.heave * natural.heave / g, natural.roll * natural.roll / g};
    made->ramp = model->ramp;
    dd_status status = dd_strip_table_create(model->strips, COLUMNS, fill, &context, &made->table, error);
    if (status == DD_OK)
        status = ease(model->strips, made, error);
    if (status != DD_OK) {
        dd_added_mass_free(made);
        return status;
    }
    *result = made;
    return DD_OK;
}

void dd_added_mass_free(dd_added_mass *added)
{
    if (added == NULL)
        return;
    dd_strip_table_free(&added->table);
    free(added->easing);
    free(added);
}

/* Water under the boat's origin, never less than `ground`; slope by its true depth. */
static dd_smooth floored(double water_depth)
{
    dd_smooth water = dd_smooth_positive(water_depth - ground, ground);
    water.value += ground;
    return water;
}

/* Adds the gap's part to a strip's sway coefficient and to its slope by the keel's depth; returns its slope by the water's. */
static double add_gap(double depth, const dd_smooth *water, double easing, double *value, double *slope)
{
    const double ratio = depth / water->value;
    const dd_smooth over = dd_smooth_positive(ratio - shallowest, near_shallowest);
    const double x = ratio - over.value, u = 1 - x, inverse = 1 / (u + easing);
    const double phi = x * (inverse - u * (0.3 + 0.7 * u));
    const double by_x = inverse - u * (0.3 + 0.7 * u) + x * (inverse * inverse + 0.3 + 1.4 * u);
    const double by_ratio = by_x * (1 - over.slope);
    const double gap = value[GAP];
    value[SWAY] += gap * phi;
    slope[SWAY] += slope[GAP] * phi + gap * by_ratio / water->value;
    return -gap * by_ratio * ratio / water->value * water->slope;
}

/* Sums of one coefficient over the strips, by powers of X. */
typedef struct strip_sum {
    double by_x[3];
} strip_sum;

static void add(strip_sum *sum, double value, double x)
{
    sum->by_x[0] += value;
    sum->by_x[1] += value * x;
    sum->by_x[2] += value * x * x;
}

static void fill_matrix(const strip_sum sum[SUMS], double a[6][6])
{
    a[1][1] = sum[SWAY].by_x[0];
    a[1][5] = a[5][1] = sum[SWAY].by_x[1];
    a[5][5] = sum[SWAY].by_x[2];
    a[1][3] = a[3][1] = sum[SWAY_ROLL].by_x[0];
    a[3][5] = a[5][3] = sum[SWAY_ROLL].by_x[1];
    a[3][3] = sum[ROLL].by_x[0];
    a[2][2] = sum[HEAVE].by_x[0];
    a[2][4] = a[4][2] = -sum[HEAVE].by_x[1];
    a[4][4] = sum[HEAVE].by_x[2];
}

/* What the strips give: sums of the coefficients and of their rates, and dT by the depths of keel and water. */
typedef struct strips_total {
    strip_sum sum[SUMS], rate[SUMS];
    dd_keel_sum energy;
    double energy_by_water;
} strips_total;

static void add_strips(const dd_added_mass *added, const dd_kinematics *k, double deepening, strips_total *total)
{
    const double *w = k->twist_in_water, *g = k->motion.twist;
    const dd_vec3 up = k->waterplane.up;
    const int shallow = isfinite(k->water_depth);
    const dd_smooth water = shallow ? floored(k->water_depth) : (dd_smooth){0, 0, 0};
    /* the keel at (X, 0, z) sinks by -up . (v + omega x r) = sinking[0] + sinking[1] X + sinking[2] z */
    double sinking[3] = {-(up.x * g[0] + up.y * g[1] + up.z * g[2]), -(up.y * g[5] - up.z * g[4]), -(up.x * g[4] - up.y * g[3])};
    for (int i = 0; i < 3 && k->moving.present; i++)
        sinking[i] += k->moving.rise[i];
    for (int n = 0; n < added->table.strips; n++) {
        const double x = added->table.x[n], z = added->table.keel_height[n];
        const double depth = dd_keel_depth(&k->waterplane, x, z);
        double value[COLUMNS], slope[COLUMNS];
        if (!dd_strip_table_at(&added->table, n, depth, value, slope))
            continue;
        const double by_water = shallow ? add_gap(depth, &water, added->easing[n], value, slope) : 0;
        const double sinks = sinking[0] + sinking[1] * x + sinking[2] * z;
        for (int c = 0; c < SUMS; c++) {
            add(&total->sum[c], value[c], x);
            add(&total->rate[c], slope[c] * sinks, x);
        }
        add(&total->rate[SWAY], by_water * deepening, x);
        const double heave = w[2] - w[4] * x, sway = w[1] + w[5] * x, roll = w[3];
        const double energy_slope = 0.5 * (slope[HEAVE] * heave * heave + slope[SWAY] * sway * sway + slope[ROLL] * roll * roll) +
                                    slope[SWAY_ROLL] * sway * roll;
        dd_keel_sum_add(&total->energy, energy_slope, x, z);
        total->energy_by_water += 0.5 * by_water * sway * sway;
    }
}

void dd_added_mass_evaluate(const dd_added_mass *added, const dd_kinematics *k, dd_added_mass_result *result)
{
    const double *w = k->twist_in_water;
    double by_pose[6], rates[6][6] = {{0}}, bottom[6] = {0}, deepening = 0;
    strips_total total = {.energy_by_water = 0};
    *result = (dd_added_mass_result){0};
    if (isfinite(k->water_depth))
        dd_water_depth_gradient(added->ramp, k, bottom);
    for (int i = 0; i < 6; i++)
        deepening += bottom[i] * k->motion.twist[i];
    add_strips(added, k, deepening + k->moving.depth_rise, &total);
    dd_keel_sum_gradient(&k->waterplane, &total.energy, by_pose);
    fill_matrix(total.sum, result->A);
    fill_matrix(total.rate, rates);
    for (int i = 0; i < 6; i++) {
        double momentum_rate = 0;
        for (int j = 0; j < 6; j++) {
            result->momentum[i] += result->A[i][j] * w[j];
            momentum_rate += rates[i][j] * w[j];
        }
        result->energy += 0.5 * result->momentum[i] * w[i];
        result->bias[i] = by_pose[i] + total.energy_by_water * bottom[i] - momentum_rate;
    }
    const double *m = result->momentum;
    if (k->moving.present)
        result->water_power = dd_dot(dd_vec(m[0], m[1], m[2]), k->moving.acceleration) - total.energy.one * k->moving.rise[0] -
                              total.energy.x * k->moving.rise[1] - total.energy.z * k->moving.rise[2] -
                              total.energy_by_water * k->moving.depth_rise;
    const dd_vec3 v = dd_vec(w[0], w[1], w[2]), omega = dd_vec(w[3], w[4], w[5]), p = dd_vec(m[0], m[1], m[2]), l = dd_vec(m[3], m[4], m[5]);
    const dd_vec3 linear = dd_cross(omega, p), angular = dd_add(dd_cross(omega, l), dd_cross(v, p));
    const double turning[6] = {linear.x, linear.y, linear.z, angular.x, angular.y, angular.z};
    for (int i = 0; i < 6; i++)
        result->bias[i] -= turning[i];
}
