/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Resistance to moving ahead or astern, along the keel line: friction on the wetted surface by the ITTC-57 line and form
   drag on the transom's immersed rectangle,  -rho/2 (S Cf + B T Cform) |u| u,  Cf = 0.075/(log10 Re - 2)^2.

   Below Re = 1e4 (2 mm/s for a 5 m hull) the line has no meaning: Re there is sqrt(Re^2 + 1e8), so that the force has a
   continuous slope at rest. The wetted surface is the keel-chine-sheer girth under water, strip by strip. */
#include "lib/base/error.h"
#include "lib/force/smooth.h"
#include "lib/force/water.h"
#include <stdlib.h>

static const double wetting = 0.02;     /* m: surfaces fade in over this depth */
static const double least_reynolds = 1e4;

typedef struct coefficients {
    double friction, form;
} coefficients;

typedef struct girth_strip {
    double x, keel_height, chine, bottom, side; /* heights over the keel: of the chine; of bottom and side, not less than fade in */
    double bottom_girth, side_girth;      /* both halves, times the strip's length, per height, m */
} girth_strip;

typedef struct resistance {
    coefficients coefficient;
    double half_density, reynolds_per_speed, breadth; /* of the transom, both sides */
    int aftmost, count;
    girth_strip strips[];
} resistance;

typedef struct wetted {
    double surface, transom;           /* m2 */
    double surface_by[6], transom_by[6];
} wetted;

static void wet(const resistance *r, const dd_kinematics *k, wetted *result)
{
    dd_keel_sum by_depth = {0, 0, 0}, transom = {0, 0, 0};
    *result = (wetted){0};
    for (int n = 0; n < r->count; n++) {
        const girth_strip *s = &r->strips[n];
        const double depth = dd_keel_depth(&k->waterplane, s->x, s->keel_height);
        if (depth <= -wetting)
            continue;
        dd_smooth keel = dd_smooth_positive(depth, wetting), bottom = dd_smooth_positive(depth - s->bottom, wetting),
                  chine = dd_smooth_positive(depth - s->chine, wetting),
                  sheer = dd_smooth_positive(depth - s->chine - s->side, wetting);
        result->surface += s->bottom_girth * (keel.value - bottom.value) + s->side_girth * (chine.value - sheer.value);
        const double slope = s->bottom_girth * (keel.slope - bottom.slope) + s->side_girth * (chine.slope - sheer.slope);
        dd_keel_sum_add(&by_depth, slope, s->x, s->keel_height);
        if (n != r->aftmost)
            continue;
        result->transom = r->breadth * (keel.value - sheer.value);
        dd_keel_sum_add(&transom, r->breadth * (keel.slope - sheer.slope), s->x, s->keel_height);
    }
    dd_keel_sum_stiffness(k, &by_depth, result->surface_by);
    dd_keel_sum_stiffness(k, &transom, result->transom_by);
}

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)commands, (void)memory;
    const resistance *r = instance;
    const double u = k->twist_in_water[0], pressure = r->half_density * fabs(u) * u;
    wetted area;
    wet(r, k, &area);
    const double reynolds = r->reynolds_per_speed * u, bounded = sqrt(reynolds * reynolds + least_reynolds * least_reynolds);
    const double decades = log10(bounded) - 2, line = 0.075 / (decades * decades), friction = r->coefficient.friction * line;
    load->hull[0] = -pressure * (friction * area.surface + r->coefficient.form * area.transom);
    load->heat = -load->hull[0] * u;
    if (channels != NULL) {
        channels[0] = load->hull[0];
        channels[1] = area.surface;
    }
    if (gradient == NULL)
        return;
    const double line_by_u = -2 * line / decades / (bounded * M_LN10) * reynolds / bounded * r->reynolds_per_speed;
    gradient->D[0][0] = 2 * r->half_density * fabs(u) * (friction * area.surface + r->coefficient.form * area.transom) +
                        pressure * r->coefficient.friction * line_by_u * area.surface;
    for (int j = 0; j < 6; j++)
        gradient->K[0][j] = pressure * (friction * area.surface_by[j] + r->coefficient.form * area.transom_by[j]);
    dd_gradient_add_current(k, gradient);
}

static girth_strip strip_of(const dd_strip *s)
{
    const double bottom = fmax(s->chine_height - s->keel_height, 0), side = fmax(s->sheer_height - s->chine_height, 0);
    girth_strip made = {.x = s->x, .keel_height = s->keel_height, .chine = bottom, .bottom = fmax(bottom, wetting), .side = fmax(side, wetting)};
    made.bottom_girth = 2 * s->weight * hypot(s->chine_half_breadth, bottom) / made.bottom;
    made.side_girth = 2 * s->weight * hypot(s->sheer_half_breadth - s->chine_half_breadth, side) / made.side;
    return made;
}

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    *instance = NULL;
    if (model->hull == NULL || model->strips == NULL)
        return DD_OK;
    const int count = dd_strips_count(model->strips);
    if (!(model->water.viscosity > 0))
        return dd_fail(error, DD_ERROR_ARGUMENT, "resistance force", "viscosity %g m2/s, expected above 0", model->water.viscosity);
    resistance *made = malloc(sizeof *made + (size_t)count * sizeof made->strips[0]);
    if (made == NULL)
        return dd_fail(error, DD_ERROR_MEMORY, "resistance force", "no memory for %d strips", count);
    *made = (resistance){.coefficient = *(const coefficients *)parameters,
                         .half_density = 0.5 * model->water.density,
                         .reynolds_per_speed = dd_hull_length(model->hull) / model->water.viscosity,
                         .count = count};
    for (int i = 0; i < count; i++) {
        dd_strip strip = dd_strips_at(model->strips, i);
        made->strips[i] = strip_of(&strip);
        if (strip.x <= made->strips[made->aftmost].x) {
            made->aftmost = i;
            made->breadth = 2 * strip.chine_half_breadth;
        }
    }
    *instance = made;
    return DD_OK;
}

static const dd_key keys[] = {
    {.name = "friction", .type = DD_KEY_QUANTITY, .dimension = DD_NUMBER, .offset = offsetof(coefficients, friction), .least = 0,
     .most = 10, .fallback = 1, .source = "friction line", .help = "factor on the ITTC-57 friction line: above 1 for a fouled bottom"},
    {.name = "form coefficient", .type = DD_KEY_QUANTITY, .dimension = DD_NUMBER, .offset = offsetof(coefficients, form), .least = 0,
     .most = 5, .fallback = 0.1, .source = "longitudinal current", .help = "form drag coefficient on the transom's breadth times its immersed depth"},
    {0}};
static const char *const sources[] = {"friction line", "longitudinal current", "water viscosity", NULL};
static const dd_channel resistance_channels[] = {{"resistance_N", "N", "resistance of the water along the hull, > 0 forward"},
                                                 {"wetted_surface_m2", "m2", "wetted surface of bottom and sides"},
                                                 {NULL, NULL, NULL}};

const dd_force_kind dd_force_resistance = {
    .name = "resistance",
    .help = "resistance of the water to moving ahead or astern",
    .formula = "-rho/2 (S Cf + B T Cform) |u| u, Cf = 0.075/(log10 Re - 2)^2",
    .valid = "a boat that moves slowly along its keel; no waves of its own: below a Froude number of about 0.3",
    .covered_by = "tests/unit/force/test_water_forces.c",
    .acts_on = DD_ACTS_ON_HULL,
    .passive = 1,
    .parameters_size = sizeof(coefficients),
    .keys = keys,
    .sources = sources,
    .channels = resistance_channels,
    .prepare = prepare,
    .free = free,
    .evaluate = evaluate,
    .regimes = dd_water_regimes,
};
