/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/unit/ode/problems.h"

#include <math.h>
#include <string.h>

/* Robertson (1966), as in Hairer and Wanner, Solving Ordinary Differential Equations II, section IV.1. */
static int robertson_derivative(double t, const double *y, double *dydt, void *context)
{
    (void)t, (void)context;
    dydt[0] = -0.04 * y[0] + 1e4 * y[1] * y[2];
    dydt[2] = 3e7 * y[1] * y[1];
    dydt[1] = -dydt[0] - dydt[2];
    return 0;
}

static int robertson_jacobian(double t, const double *y, double *dfdy, double *dfdt, void *context)
{
    const double matrix[9] = {-0.04, 1e4 * y[2], 1e4 * y[1], 0.04, -1e4 * y[2] - 6e7 * y[1], -1e4 * y[1], 0.0, 6e7 * y[1], 0.0};
    (void)t, (void)context;
    memcpy(dfdy, matrix, sizeof matrix);
    memset(dfdt, 0, 3 * sizeof *dfdt);
    return 0;
}

const standard_problem robertson = {
    .name = "Robertson",
    .size = 3,
    .derivative = robertson_derivative,
    .jacobian = robertson_jacobian,
    .start = {1.0, 0.0, 0.0},
    .scale = {1e-2, 1e-6, 1e-2},
    .end = 4e5,
};

static const double mu = 1000.0;

static int van_der_pol_derivative(double t, const double *y, double *dydt, void *context)
{
    (void)t, (void)context;
    dydt[0] = y[1];
    dydt[1] = mu * (1.0 - y[0] * y[0]) * y[1] - y[0];
    return 0;
}

static int van_der_pol_jacobian(double t, const double *y, double *dfdy, double *dfdt, void *context)
{
    (void)t, (void)context;
    dfdy[0] = 0.0;
    dfdy[1] = 1.0;
    dfdy[2] = -2.0 * mu * y[0] * y[1] - 1.0;
    dfdy[3] = mu * (1.0 - y[0] * y[0]);
    dfdt[0] = dfdt[1] = 0.0;
    return 0;
}

const standard_problem van_der_pol = {
    .name = "Van der Pol",
    .size = 2,
    .derivative = van_der_pol_derivative,
    .jacobian = van_der_pol_jacobian,
    .start = {2.0, 0.0},
    .scale = {1.0, 1.0},
    .end = 2000.0,
};

/* High irradiance response, Schaefer (1975), as in Hairer and Wanner II, section IV.10. */
static int hires_derivative(double t, const double *y, double *dydt, void *context)
{
    const double coupled = 280.0 * y[5] * y[7];
    (void)t, (void)context;
    dydt[0] = -1.71 * y[0] + 0.43 * y[1] + 8.32 * y[2] + 0.0007;
    dydt[1] = 1.71 * y[0] - 8.75 * y[1];
    dydt[2] = -10.03 * y[2] + 0.43 * y[3] + 0.035 * y[4];
    dydt[3] = 8.32 * y[1] + 1.71 * y[2] - 1.12 * y[3];
    dydt[4] = -1.745 * y[4] + 0.43 * y[5] + 0.43 * y[6];
    dydt[5] = -coupled + 0.69 * y[3] + 1.71 * y[4] - 0.43 * y[5] + 0.69 * y[6];
    dydt[6] = coupled - 1.81 * y[6];
    dydt[7] = -dydt[6];
    return 0;
}

static int hires_jacobian(double t, const double *y, double *dfdy, double *dfdt, void *context)
{
    static const double linear[8][8] = {{-1.71, 0.43, 8.32, 0, 0, 0, 0, 0},   {1.71, -8.75, 0, 0, 0, 0, 0, 0},
                                        {0, 0, -10.03, 0.43, 0.035, 0, 0, 0}, {0, 8.32, 1.71, -1.12, 0, 0, 0, 0},
                                        {0, 0, 0, 0, -1.745, 0.43, 0.43, 0},  {0, 0, 0, 0.69, 1.71, -0.43, 0.69, 0},
                                        {0, 0, 0, 0, 0, 0, -1.81, 0},         {0, 0, 0, 0, 0, 0, 1.81, 0}};
    (void)t, (void)context;
    memcpy(dfdy, linear, sizeof linear);
    for (int row = 5; row < 8; row++) {
        const double sign = row == 6 ? 1.0 : -1.0;
        dfdy[row * 8 + 5] += sign * 280.0 * y[7];
        dfdy[row * 8 + 7] += sign * 280.0 * y[5];
    }
    memset(dfdt, 0, 8 * sizeof *dfdt);
    return 0;
}

const standard_problem hires = {
    .name = "HIRES",
    .size = 8,
    .derivative = hires_derivative,
    .jacobian = hires_jacobian,
    .start = {1.0, 0, 0, 0, 0, 0, 0, 0.0057},
    .scale = {1e-2, 1e-2, 1e-2, 1e-2, 1e-2, 1e-2, 1e-2, 1e-2},
    .end = 321.8122,
};

static int oscillator_derivative(double t, const double *y, double *dydt, void *context)
{
    (void)t, (void)context;
    dydt[0] = y[1];
    dydt[1] = -y[0];
    return 0;
}

static int oscillator_jacobian(double t, const double *y, double *dfdy, double *dfdt, void *context)
{
    (void)t, (void)y, (void)context;
    dfdy[0] = dfdy[3] = 0.0;
    dfdy[1] = 1.0;
    dfdy[2] = -1.0;
    dfdt[0] = dfdt[1] = 0.0;
    return 0;
}

const standard_problem oscillator = {
    .name = "oscillator",
    .size = 2,
    .derivative = oscillator_derivative,
    .jacobian = oscillator_jacobian,
    .start = {1.0, 0.0},
    .scale = {1.0, 1.0},
    .end = 62.83185307179586, /* ten periods */
};

static int kepler_derivative(double t, const double *y, double *dydt, void *context)
{
    const double r2 = y[0] * y[0] + y[1] * y[1], r3 = r2 * sqrt(r2);
    (void)t, (void)context;
    dydt[0] = y[2];
    dydt[1] = y[3];
    dydt[2] = -y[0] / r3;
    dydt[3] = -y[1] / r3;
    return 0;
}

static int kepler_jacobian(double t, const double *y, double *dfdy, double *dfdt, void *context)
{
    const double r2 = y[0] * y[0] + y[1] * y[1], r5 = r2 * r2 * sqrt(r2);
    (void)t, (void)context;
    memset(dfdy, 0, 16 * sizeof *dfdy);
    memset(dfdt, 0, 4 * sizeof *dfdt);
    dfdy[2] = dfdy[7] = 1.0;
    dfdy[8] = (3.0 * y[0] * y[0] - r2) / r5;
    dfdy[9] = dfdy[12] = 3.0 * y[0] * y[1] / r5;
    dfdy[13] = (3.0 * y[1] * y[1] - r2) / r5;
    return 0;
}

/* Eccentricity e, semi-major axis 1, from pericentre: x = 1 - e, y' = sqrt((1 + e) / (1 - e)). */
const standard_problem kepler = {
    .name = "Kepler",
    .size = 4,
    .derivative = kepler_derivative,
    .jacobian = kepler_jacobian,
    .start = {0.4, 0.0, 0.0, 2.0},
    .scale = {1.0, 1.0, 1.0, 1.0},
    .end = 6.283185307179586,
};

const contact_data contact_usual = {.stiffness = 2e6,
                                    .damping = 1.5,
                                    .mass = 100.0,
                                    .gravity = 9.81,
                                    .friction = 0.3,
                                    .bristle = 500.0,
                                    .breakaway = 0.7,
                                    .bristle_damping = 20.0};

/* Share of the slip that the bristle yields to (elasto-plastic: none below the break-away deflection, all at the
   steady one, a half cosine between), and its derivative by the deflection z. */
static double yielding(double z, double speed, double steady, double breakaway, double *slope)
{
    const double size = fabs(z), from = breakaway * steady;
    *slope = 0.0;
    if (z * speed <= 0.0 || size <= from) return 0.0;
    if (size >= steady) return 1.0;
    *slope = 0.5 * 3.14159265358979323846 / (steady - from) * sin(3.14159265358979323846 * (size - from) / (steady - from)) *
             (z > 0.0 ? 1.0 : -1.0);
    return 0.5 - 0.5 * cos(3.14159265358979323846 * (size - from) / (steady - from));
}

/* y: height z, speed, drift x, drift speed, bristle deflection. The ground is at height 0. */
static int contact_derivative(double t, const double *y, double *dydt, void *context)
{
    const contact_data *data = context;
    const double depth = y[0] < 0.0 ? -y[0] : 0.0, slip = y[3], steady = 1.0 / data->bristle;
    double normal = data->stiffness * depth * sqrt(depth) * (1.0 - data->damping * y[1]), slope, rate;
    (void)t;
    if (normal < 0.0) normal = 0.0;
    rate = slip * (1.0 - yielding(y[4], slip, steady, data->breakaway, &slope) * y[4] / steady * (slip < 0.0 ? -1.0 : 1.0));
    dydt[0] = y[1];
    dydt[1] = normal / data->mass - data->gravity;
    dydt[2] = y[3];
    dydt[3] = -data->friction * normal / data->mass * (data->bristle * y[4] + data->bristle_damping * rate);
    dydt[4] = rate;
    return 0;
}

static int contact_jacobian(double t, const double *y, double *dfdy, double *dfdt, void *context)
{
    const contact_data *data = context;
    const double depth = y[0] < 0.0 ? -y[0] : 0.0, slip = y[3], steady = 1.0 / data->bristle;
    const double sign = slip < 0.0 ? -1.0 : 1.0, share = data->friction / data->mass;
    const double damping = 1.0 - data->damping * y[1], elastic = data->stiffness * depth * sqrt(depth);
    const int loaded = elastic * damping > 0.0;
    const double normal = loaded ? elastic * damping : 0.0;
    const double by_height = loaded ? -1.5 * data->stiffness * sqrt(depth) * damping : 0.0;
    const double by_speed = loaded ? -elastic * data->damping : 0.0;
    double slope;
    const double alpha = yielding(y[4], slip, steady, data->breakaway, &slope);
    const double rate_by_slip = 1.0 - alpha * y[4] / steady * sign;
    const double rate_by_bristle = -fabs(slip) * (alpha + slope * y[4]) / steady;
    const double grip = data->bristle * y[4] + data->bristle_damping * slip * rate_by_slip;
    (void)t;
    memset(dfdy, 0, 25 * sizeof *dfdy);
    memset(dfdt, 0, 5 * sizeof *dfdt);
    dfdy[1] = dfdy[13] = 1.0;
    dfdy[5] = by_height / data->mass;
    dfdy[6] = by_speed / data->mass;
    dfdy[15] = -share * by_height * grip;
    dfdy[16] = -share * by_speed * grip;
    dfdy[18] = -share * normal * data->bristle_damping * rate_by_slip;
    dfdy[19] = -share * normal * (data->bristle + data->bristle_damping * rate_by_bristle);
    dfdy[23] = rate_by_slip;
    dfdy[24] = rate_by_bristle;
    return 0;
}

const standard_problem contact_block = {
    .name = "contact",
    .size = 5,
    .derivative = contact_derivative,
    .jacobian = contact_jacobian,
    .start = {0.02, 0.0, 0.0, 0.5, 0.0},
    .scale = {0.1, 0.1, 0.1, 0.1, 0.05},
    .end = 2.0,
};

dd_ode_problem problem_at(const standard_problem *standard, double tolerance, double *absolute, void *context)
{
    dd_ode_problem problem = {.size = standard->size,
                              .derivative = standard->derivative,
                              .jacobian = standard->jacobian,
                              .context = context,
                              .relative_tolerance = tolerance,
                              .absolute = absolute};
    for (size_t i = 0; i < standard->size; i++) absolute[i] = tolerance * standard->scale[i];
    return problem;
}

dd_status integrate(const dd_stepper *stepper, const dd_ode_problem *problem, const double *start, double end, double *y,
                    dd_ode_statistics *statistics, dd_error *error)
{
    dd_ode *ode;
    dd_status status = dd_ode_create(stepper, problem, &ode, error);
    if (status != DD_OK) return status;
    status = dd_ode_start(ode, 0.0, start, 0.0, error);
    while (status == DD_OK && dd_ode_time(ode) < end) status = dd_ode_step(ode, end, error);
    memcpy(y, dd_ode_state(ode), problem->size * sizeof *y);
    if (statistics != NULL) *statistics = *dd_ode_statistics_of(ode);
    dd_ode_free(ode);
    return status;
}

double largest_difference(const double *a, const double *b, const double *scale, size_t size)
{
    double largest = 0.0;
    for (size_t i = 0; i < size; i++) largest = fmax(largest, fabs(a[i] - b[i]) / (scale != NULL ? scale[i] : 1.0));
    return largest;
}
