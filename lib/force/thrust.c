/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Thrust of the outboard engine (or of several as one) at the transom.

   At rest the thrust is a share of the momentum theory's bound (2 rho A P^2)^(1/3), or the figure given; throttle takes a share
   of it, astern a lesser one. With way on, the same power gives less: momentum theory's P = T (V/2 + sqrt(V^2/4 + T/(2 rho A)))
   is, with t = T/T0 and q = V sqrt(2 rho A / T0), the cubic t^3 + q t - 1 = 0. V is the speed of the water into the propeller,
   with a cubic start over 0.1 m/s so that K and D have no corner; water that comes from behind counts as still.

   The leg turns about the top of the transom, by 70 degrees when tilted up: the propeller's place and the thrust turn with it.
   The thrust fades as the propeller's disk leaves the water, and with the tilt. The engine's work comes out as negative heat. */
#include "lib/base/error.h"
#include "lib/force/draw.h"
#include "lib/force/smooth.h"
#include "lib/force/thrust.h"
#include "lib/force/water.h"
#include <stdlib.h>

static const double start_of_way = 0.1;             /* m/s */
static const double full_tilt = 1.2217304763960306; /* 70 deg */

typedef struct coefficients {
    double static_thrust, share_of_ideal, astern_share, diameter, below_keel, behind_transom;
} coefficients;

typedef struct thrust {
    double most, astern_share, diameter;
    double disk; /* 2 rho A */
    dd_vec3 hinge, leg; /* boat axes; leg: from the hinge to the propeller, engine down */
} thrust;

/* t of t^3 + q t = 1, for q >= 0: Newton's method from above falls steadily onto the only root. */
static double share_at(double q)
{
    double t = 1;
    for (int i = 0; i < 60; i++) {
        double step = (t * t * t + q * t - 1) / (3 * t * t + q);
        t -= step;
        if (fabs(step) <= 1e-16 * t) break;
    }
    return t;
}

/* Way through the water, >= 0: nothing below 0, cubic up to start_of_way, straight beyond. */
static dd_smooth way_of(double speed)
{
    const double w = start_of_way;
    if (speed <= 0) return (dd_smooth){0, 0, 0};
    if (speed >= w) return (dd_smooth){speed, 1, 0};
    return (dd_smooth){speed * speed * (2 * w - speed) / (w * w), speed * (4 * w - 3 * speed) / (w * w), 0};
}

typedef struct working {
    dd_vec3 at, along; /* propeller's place; direction of a thrust ahead */
    double depth;      /* of its centre under water, m */
    double force, by_speed, by_depth; /* along `along`; derivatives by the water's speed along it and by the depth */
} working;

static void work(const thrust *e, const dd_kinematics *k, const dd_commands *c, working *w)
{
    const double helm = c->helm, tilt = full_tilt * c->engine_tilt, lean = cos(tilt), lift = sin(tilt);
    const dd_vec3 leg = dd_vec(e->leg.x * lean + e->leg.z * lift, 0, e->leg.z * lean - e->leg.x * lift);
    /* helm > 0: the stern goes to starboard */
    w->along = dd_vec(lean * cos(helm), -sin(helm), -lift * cos(helm));
    w->at = dd_add(e->hinge, leg);
    w->depth = k->waterplane.level - dd_dot(k->waterplane.up, w->at);
    w->force = w->by_speed = w->by_depth = 0;
    const double sense = c->throttle < 0 ? -1 : 1;
    const double at_rest = e->most * fabs(c->throttle) * (sense < 0 ? e->astern_share : 1) *
                           (1 - dd_smooth_step(c->engine_tilt).value);
    if (at_rest <= 0) return;
    const dd_vec3 linear = dd_vec(k->twist_in_water[0], k->twist_in_water[1], k->twist_in_water[2]);
    const dd_vec3 angular = dd_vec(k->twist_in_water[3], k->twist_in_water[4], k->twist_in_water[5]);
    const double speed = sense * dd_dot(w->along, dd_add(linear, dd_cross(angular, w->at)));
    const dd_smooth way = way_of(speed), wet = dd_smooth_step(w->depth / e->diameter + 0.5);
    const double scale = sqrt(e->disk / at_rest), q = way.value * scale, t = share_at(q);
    const double by_q = -t / (3 * t * t + q);
    w->force = sense * at_rest * t * wet.value;
    w->by_speed = at_rest * by_q * scale * way.slope * wet.value; /* sense twice: by the speed along `along` */
    w->by_depth = sense * at_rest * t * wet.slope / e->diameter;
}

static void differentiate(const working *w, const dd_kinematics *k, dd_gradient *gradient)
{
    const dd_vec3 arm = dd_cross(w->at, w->along);
    const double column[6] = {w->along.x, w->along.y, w->along.z, arm.x, arm.y, arm.z};
    const dd_keel_sum place = {1, w->at.x, w->at.z};
    double depth[6];
    dd_keel_sum_stiffness(k, &place, depth);
    for (int i = 0; i < 6; i++)
        for (int j = 0; j < 6; j++) {
            gradient->D[i][j] = -w->by_speed * column[i] * column[j];
            gradient->K[i][j] = -w->by_depth * column[i] * depth[j];
        }
    dd_gradient_add_current(k, gradient);
}

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)memory;
    static const dd_commands idle = {0};
    working w;
    work(instance, k, commands != NULL ? commands : &idle, &w);
    if (channels != NULL) channels[0] = w.force, channels[1] = w.depth;
    if (w.force == 0) return;
    dd_wrench_add(load->hull, dd_scale(w.force, w.along), w.at);
    for (int i = 0; i < 6; i++) load->heat -= load->hull[i] * k->motion.twist[i];
    if (gradient != NULL) differentiate(&w, k, gradient);
}

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    *instance = NULL;
    if (model->hull == NULL) return DD_OK;
    const coefficients *c = parameters;
    thrust *made = malloc(sizeof *made);
    if (made == NULL) return dd_fail(error, DD_ERROR_MEMORY, "thrust force", "no memory for %zu bytes", sizeof *made);
    const dd_hull_estimates *figures = dd_hull_figures(model->hull);
    const double quarter_pi = atan(1.0), keel = dd_hull_keel(model->hull, 0).z, diameter = fmax(c->diameter, 0.01);
    const double power = dd_hull_engine_power(model->hull);
    /* the propeller's tips reach about as low as the skeg less a hand's breadth */
    const double below = isnan(c->below_keel) ? fmax(0.05, figures->skeg_depth.likely - 0.5 * diameter - 0.05) : c->below_keel;
    double y[DD_STRAKES + 3], z[DD_STRAKES + 3];
    const int points = dd_hull_section(model->hull, 0, y, z);
    const double hinge = fmax(z[points - 1] - keel - 0.15, 0.2); /* the transom is cut down a little for the engine */
    *made = (thrust){.astern_share = c->astern_share,
                     .diameter = diameter,
                     .disk = 2 * model->water.density * quarter_pi * diameter * diameter,
                     .hinge = dd_vec(0, 0, keel + hinge),
                     .leg = dd_vec(-c->behind_transom, 0, -below - hinge)};
    made->most = isnan(c->static_thrust) ? c->share_of_ideal * cbrt(made->disk * power * power) : c->static_thrust;
    *instance = made;
    return DD_OK;
}

dd_propeller dd_thrust_propeller(const void *instance)
{
    const thrust *e = instance;
    return (dd_propeller){dd_add(e->hinge, e->leg), e->diameter, e->most};
}

/* --- regimes ----------------------------------------------------------------------------------------------------- */

static void draw(const dd_model *model, double least, double most, double tilt, double (*uniform)(void *), void *random,
                 dd_pose *pose, dd_motion *motion, dd_commands *commands)
{
    dd_draw_afloat(model, 0.1, 0.05, 0.5, uniform, random, pose, motion);
    *commands = (dd_commands){.throttle = dd_draw(uniform, random, least, most),
                              .helm = dd_draw(uniform, random, -0.6, 0.6),
                              .engine_tilt = dd_draw(uniform, random, 0, tilt)};
}

#define REGIME(function, least, most, tilt)                                                                                    \
    static void function(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,  \
                         dd_motion *motion, double *memory, dd_commands *commands)                                             \
    {                                                                                                                          \
        (void)instance, (void)memory;                                                                                          \
        draw(model, least, most, tilt, uniform, random, pose, motion, commands);                                               \
    }
REGIME(draw_ahead, 0.1, 1, 0)
REGIME(draw_astern, -1, -0.1, 0)
REGIME(draw_tilting, 0.3, 1, 0.9)
#undef REGIME
static const dd_regime regimes[] = {{"ahead", draw_ahead}, {"astern", draw_astern}, {"tilting", draw_tilting}, {NULL, NULL}};

#define FIELD(field) .type = DD_KEY_QUANTITY, .offset = offsetof(coefficients, field)
/* clang-format off */
static const dd_key keys[] = {
    {.name = "static thrust", FIELD(static_thrust), .dimension = DD_FORCE, .least = 0, .most = 1e5, .fallback = NAN,
     .fallback_text = "by the engine's power and the propeller's diameter", .source = "propeller momentum",
     .help = "thrust of the engine or engines together, full ahead, boat held fast"},
    {.name = "share of ideal", FIELD(share_of_ideal), .dimension = DD_RATIO, .least = 0, .most = 1, .fallback = 0.45,
     .source = "thrust figures", .help = "thrust at rest, share of momentum theory's bound (2 rho A P^2)^(1/3)"},
    {.name = "astern share", FIELD(astern_share), .dimension = DD_RATIO, .least = 0, .most = 1, .fallback = 0.6,
     .source = "thrust figures", .help = "full astern, share of full ahead"},
    {.name = "propeller diameter", FIELD(diameter), .dimension = DD_LENGTH, .least = 0.05, .most = 1, .fallback = 0.33,
     .source = "thrust figures", .unit = "mm", .help = "of the propeller; of several engines that of one with the same disk"},
    {.name = "propeller below keel", FIELD(below_keel), .dimension = DD_LENGTH, .least = -1, .most = 2, .fallback = NAN,
     .fallback_text = "the skeg's depth less half a diameter and 50 mm, at least 50 mm", .source = "design memory", .unit = "mm",
     .help = "centre of the propeller below the keel at the transom, engine down"},
    {.name = "propeller behind transom", FIELD(behind_transom), .dimension = DD_LENGTH, .least = -1, .most = 3, .fallback = 0.35,
     .source = "design memory", .unit = "mm", .help = "centre of the propeller behind the transom, engine down"},
    {0}};
/* clang-format on */
#undef FIELD
static const char *const sources[] = {"propeller momentum", "thrust figures", NULL};
static const dd_channel thrust_channels[] = {{"thrust_N", "N", "thrust of the engine, astern negative"},
                                             {"propeller_depth_m", "m", "centre of the propeller under water"},
                                             {NULL, NULL, NULL}};

const dd_force_kind dd_force_thrust = {
    .name = "thrust",
    .help = "the outboard engine's thrust: throttle, helm, tilt, less with way on",
    .formula = "T = t T0 at the propeller, t^3 + q t - 1 = 0, q = V sqrt(2 rho A / T0); T0 a share of (2 rho A P^2)^(1/3); fades with the disk's way out of the water and the tilt",
    .valid = "an outboard at manoeuvring speed; no cavitation, no lift of the leg",
    .covered_by = "tests/unit/force/test_thrust.c",
    .acts_on = DD_ACTS_ON_HULL,
    .parameters_size = sizeof(coefficients),
    .keys = keys,
    .sources = sources,
    .channels = thrust_channels,
    .prepare = prepare,
    .free = free,
    .evaluate = evaluate,
    .regimes = regimes,
};
