/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wind on the topsides: strip by strip across the boat, on the side from the water (or the keel) up to the sheer, with the
   strip's own velocity against the air at the middle of that height, a = wind - (sway + yaw X - roll z):
       force rho/2 C h |a| a per length;
   along the boat the same on the breadth of the widest strip times the height that it shows; and both on a cabin or canopy above
   the sheer, given by its areas and its centre. The wind is the same at every height. Without wind there is no such force. */
#include "lib/base/error.h"
#include "lib/force/draw.h"
#include "lib/force/smooth.h"
#include "lib/force/water.h"
#include "lib/shore/shore.h"
#include <stdlib.h>

static const double wetting = 0.02; /* m: the shown height ends softly at keel and sheer */

typedef struct coefficients {
    double density, side, front;
    double cabin_side, cabin_front, cabin_from_transom, cabin_height; /* m2, m2, m, m */
} coefficients;

/* A plate upright in the air; height 0: a cabin, whose area stands in `area` and does not change. */
typedef struct plate {
    double x, keel_height, height, sheer_height;
    double area; /* per height: rho/2 C times the strip's length or the breadth; of a cabin rho/2 C times its area */
    int axis;    /* 0: shows its face along the boat, 1: across */
} plate;

typedef struct wind {
    dd_vec3 velocity; /* world */
    int count;
    plate plates[];
} wind;

/* Force, its change with the air's speed (all of it along the plate's axis), and by the keel's depth. */
static void blow(const wind *w, const plate *p, const dd_kinematics *k, dd_vec3 air, dd_load *load, dd_gradient *gradient)
{
    (void)w;
    double shown = 1, shown_by_depth = 0, z = p->sheer_height;
    if (p->height > 0) {
        const double depth = dd_keel_depth(&k->waterplane, p->x, p->keel_height);
        const dd_smooth wet = dd_smooth_positive(depth, wetting), over = dd_smooth_positive(depth - p->height, wetting);
        shown = p->height - (wet.value - over.value);
        shown_by_depth = -(wet.slope - over.slope);
        z -= 0.5 * shown;
    }
    if (!(shown > 0))
        return;
    const double *v = k->motion.twist;
    /* the plate's velocity along its axis is unit . twist; the load's direction is unit too */
    const double unit[6] = {p->axis == 0, p->axis == 1, 0, p->axis == 1 ? -z : 0, p->axis == 0 ? z : 0, p->axis == 1 ? p->x : 0};
    double speed = p->axis == 0 ? air.x : air.y;
    for (int i = 0; i < 6; i++)
        speed -= unit[i] * v[i];
    const double force = p->area * shown * fabs(speed) * speed, damping = 2 * p->area * shown * fabs(speed);
    for (int i = 0; i < 6; i++)
        load->hull[i] += unit[i] * force;
    if (gradient == NULL)
        return;
    const int arm = p->axis == 0 ? 4 : 3; /* the moment that z makes */
    const double arm_by_z = p->axis == 0 ? 1 : -1, z_by_depth = -0.5 * shown_by_depth;
    const double by_depth = p->area * shown_by_depth * fabs(speed) * speed - damping * arm_by_z * v[arm] * z_by_depth;
    double depth_by[6] = {0};
    const dd_keel_sum one = {1, p->x, p->keel_height};
    if (p->height > 0)
        dd_keel_sum_stiffness(k, &one, depth_by);
    /* the boat turns under the wind: d(air) = air x dphi */
    const dd_mat3 turned = dd_cross_matrix(air);
    for (int i = 0; i < 6; i++)
        for (int j = 0; j < 6; j++) {
            gradient->D[i][j] += unit[i] * damping * unit[j];
            const double speed_by = j < 3 ? 0 : turned.m[p->axis][j - 3];
            gradient->K[i][j] -= unit[i] * (by_depth * depth_by[j] + damping * speed_by);
            if (i == arm)
                gradient->K[i][j] -= arm_by_z * z_by_depth * force * depth_by[j];
        }
}

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)commands, (void)memory;
    const wind *w = instance;
    const dd_vec3 air = dd_apply_transposed(&k->to_world, w->velocity);
    for (int i = 0; i < w->count; i++)
        blow(w, &w->plates[i], k, air, load, gradient);
    load->heat = 0;
    for (int i = 0; i < 6; i++) /* what the wind feeds in; the air behind is not followed */
        load->heat -= load->hull[i] * k->motion.twist[i];
    if (channels != NULL) {
        channels[0] = load->hull[0];
        channels[1] = load->hull[1];
    }
}

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    *instance = NULL;
    if (model->hull == NULL || model->strips == NULL || !(model->water.wind.speed > 0))
        return DD_OK;
    const coefficients *c = parameters;
    const int strips = dd_strips_count(model->strips);
    wind *made = malloc(sizeof *made + ((size_t)strips + 3) * sizeof made->plates[0]);
    if (made == NULL)
        return dd_fail(error, DD_ERROR_MEMORY, "wind force", "no memory for %d strips", strips);
    const dd_wind *blowing = &model->water.wind;
    made->velocity = dd_vec(blowing->speed * cos(blowing->toward), blowing->speed * sin(blowing->toward), 0);
    made->count = 0;
    const double side = 0.5 * c->density * c->side, front = 0.5 * c->density * c->front;
    dd_strip widest = dd_strips_at(model->strips, 0);
    for (int i = 0; i < strips; i++) {
        const dd_strip s = dd_strips_at(model->strips, i);
        if (s.sheer_half_breadth > widest.sheer_half_breadth)
            widest = s;
        if (s.sheer_height - s.keel_height > wetting)
            made->plates[made->count++] =
                (plate){s.x, s.keel_height, s.sheer_height - s.keel_height, s.sheer_height, side * s.weight, 1};
    }
    made->plates[made->count++] = (plate){widest.x, widest.keel_height, fmax(widest.sheer_height - widest.keel_height, wetting),
                                          widest.sheer_height, front * 2 * widest.sheer_half_breadth, 0};
    const double at = isnan(c->cabin_from_transom) ? dd_hull_mass(model->hull)->centre.x : c->cabin_from_transom,
                 high = isnan(c->cabin_height) ? widest.sheer_height : c->cabin_height;
    if (c->cabin_side > 0)
        made->plates[made->count++] = (plate){at, 0, 0, high, side * c->cabin_side, 1};
    if (c->cabin_front > 0)
        made->plates[made->count++] = (plate){at, 0, 0, high, front * c->cabin_front, 0};
    *instance = made;
    return DD_OK;
}

#define COEFFICIENT(field) .type = DD_KEY_QUANTITY, .offset = offsetof(coefficients, field)
static const dd_key keys[] = {
    {.name = "air density", COEFFICIENT(density), .dimension = DD_DENSITY, .least = 0, .most = 2, .fallback = 1.221,
     .source = "air density", .help = "density of the air"},
    {.name = "side coefficient", COEFFICIENT(side), .dimension = DD_NUMBER, .least = 0, .most = 5, .fallback = 0.9,
     .source = "wind coefficient", .help = "drag coefficient of the topsides to wind from the side, on their height above water"},
    {.name = "front coefficient", COEFFICIENT(front), .dimension = DD_NUMBER, .least = 0, .most = 5, .fallback = 0.7,
     .source = "wind coefficient", .help = "drag coefficient to wind from ahead or astern, on breadth times height above water"},
    {.name = "cabin side area", COEFFICIENT(cabin_side), .dimension = DD_AREA, .least = 0, .most = 50, .fallback = 0,
     .source = "the program", .help = "area above the sheer that the boat shows from the side: cabin, canopy, people"},
    {.name = "cabin front area", COEFFICIENT(cabin_front), .dimension = DD_AREA, .least = 0, .most = 50, .fallback = 0,
     .source = "the program", .help = "the same from ahead"},
    {.name = "cabin from transom", COEFFICIENT(cabin_from_transom), .dimension = DD_LENGTH, .least = -5, .most = 30, .fallback = NAN,
     .fallback_text = "at the boat's centre of mass", .source = "the program", .help = "middle of that area forward of the transom"},
    {.name = "cabin height", COEFFICIENT(cabin_height), .dimension = DD_LENGTH, .least = 0, .most = 10, .fallback = NAN,
     .fallback_text = "the sheer's where the boat is widest", .source = "the program",
     .help = "middle of that area above the keel at the transom"},
    {0}};
static const char *const sources[] = {"air density", "wind coefficient", NULL};
static const dd_channel wind_channels[] = {{"wind_ahead_N", "N", "force of the wind along the boat, > 0 forward"},
                                           {"wind_to_port_N", "N", "force of the wind across the boat, > 0 toward port"},
                                           {NULL, NULL, NULL}};

const dd_force_kind dd_force_wind = {
    .name = "wind",
    .help = "wind on the topsides",
    .formula = "strip by strip rho/2 C h |a| a across, the same along the boat and on a cabin's areas; a: the air's velocity against the strip",
    .valid = "a steady wind, the same at every height; no gusts, no shelter",
    .covered_by = "tests/unit/motion/test_moving_water.c",
    .acts_on = DD_ACTS_ON_HULL,
    .passive = 0,
    .parameters_size = sizeof(coefficients),
    .keys = keys,
    .sources = sources,
    .channels = wind_channels,
    .prepare = prepare,
    .free = free,
    .evaluate = evaluate,
    .regimes = dd_water_regimes,
};
