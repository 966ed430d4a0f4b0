/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strip-wise added mass in Kirchhoff-Lagrange form.

   Each strip has heave velocity w - q X, and at its waterline's centre (height z over the boat's origin) sway velocity
   v + r X - p z. Its kinetic energy with the section's a33, a22, a44 and a24 about that centre,
     2 T = a33 (w - q X)^2 + a22 (v + r X)^2 + 2 (a24 - z a22) (v + r X) p + (a44 - 2 z a24 + z^2 a22) p^2,
   has four coefficients that depend on the depth of the strip's keel alone, and with it on the pose: A(q) is known
   exactly, and so is its derivative. Surge has none (slender body).

   No memory of past waves: heave (and pitch) take the added mass at the hull's own heave frequency, roll (with its sway
   coupling) at its own roll frequency, slow sway and yaw that of a rigid surface. See section.h and natural.c. */
#include "lib/force/added_mass.h"
#include "lib/base/error.h"
#include "lib/force/section.h"
#include "lib/force/water.h"
#include <stdlib.h>

enum { HEAVE, SWAY, SWAY_ROLL, ROLL, COLUMNS };

struct dd_added_mass {
    dd_strip_table table;
};

typedef struct fill_context {
    double density, heave_number, roll_number;
} fill_context;

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
    dd_status status = dd_strip_table_create(model->strips, COLUMNS, fill, &context, &made->table, error);
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
    free(added);
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

static void fill_matrix(const strip_sum sum[COLUMNS], double a[6][6])
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

void dd_added_mass_evaluate(const dd_added_mass *added, const dd_kinematics *k, dd_added_mass_result *result)
{
    const double *w = k->twist_in_water, *ground = k->motion.twist;
    strip_sum sum[COLUMNS] = {{{0}}}, rate[COLUMNS] = {{{0}}};
    double by_pose[6] = {0}, rates[6][6] = {{0}};
    *result = (dd_added_mass_result){0};
    for (int n = 0; n < added->table.strips; n++) {
        const double x = added->table.x[n], z = added->table.keel_height[n];
        const double depth = dd_keel_depth(&k->waterplane, x, z);
        double value[COLUMNS], slope[COLUMNS], keel[6], sinking = 0;
        if (!dd_strip_table_at(&added->table, n, depth, value, slope))
            continue;
        dd_keel_depth_gradient(&k->waterplane, x, z, keel);
        for (int i = 0; i < 6; i++)
            sinking += keel[i] * ground[i];
        for (int c = 0; c < COLUMNS; c++) {
            add(&sum[c], value[c], x);
            add(&rate[c], slope[c] * sinking, x);
        }
        const double heave = w[2] - w[4] * x, sway = w[1] + w[5] * x, roll = w[3];
        const double energy_slope = 0.5 * (slope[HEAVE] * heave * heave + slope[SWAY] * sway * sway + slope[ROLL] * roll * roll) +
                                    slope[SWAY_ROLL] * sway * roll;
        for (int i = 0; i < 6; i++)
            by_pose[i] += energy_slope * keel[i];
    }
    fill_matrix(sum, result->A);
    fill_matrix(rate, rates);
    for (int i = 0; i < 6; i++) {
        double momentum_rate = 0;
        for (int j = 0; j < 6; j++) {
            result->momentum[i] += result->A[i][j] * w[j];
            momentum_rate += rates[i][j] * w[j];
        }
        result->energy += 0.5 * result->momentum[i] * w[i];
        result->bias[i] = by_pose[i] - momentum_rate;
    }
    const double *m = result->momentum;
    const dd_vec3 v = dd_vec(w[0], w[1], w[2]), omega = dd_vec(w[3], w[4], w[5]), p = dd_vec(m[0], m[1], m[2]), l = dd_vec(m[3], m[4], m[5]);
    const dd_vec3 linear = dd_cross(omega, p), angular = dd_add(dd_cross(omega, l), dd_cross(v, p));
    const double turning[6] = {linear.x, linear.y, linear.z, angular.x, angular.y, angular.z};
    for (int i = 0; i < 6; i++)
        result->bias[i] -= turning[i];
}
