/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Added mass and damping of one section: polynomials through the computed table (section_table.c). The interpolation is
   within 3 % of independently computed sections (test_section.c states by how much, column by column). */
#include "lib/force/section.h"
#include "lib/force/smooth.h"

/* Weights of the polynomial through all nodes; x is held within them. */
static void weights_at(double x, const double *nodes, int count, int logarithmic, double *weights)
{
    double at[DD_SECTION_FREQUENCIES];
    x = fmax(nodes[0], fmin(nodes[count - 1], x));
    for (int i = 0; i < count; i++)
        at[i] = logarithmic ? log(nodes[i]) : nodes[i];
    if (logarithmic)
        x = log(x);
    for (int i = 0; i < count; i++) {
        weights[i] = 1;
        for (int j = 0; j < count; j++)
            if (j != i)
                weights[i] *= (x - at[j]) / (at[i] - at[j]);
    }
}

typedef struct shape_weights {
    double flare[DD_SECTION_FLARES], draught[DD_SECTION_DRAUGHTS], chine[DD_SECTION_CHINES];
} shape_weights;

/* Columns first..last of the table, each at its own frequency, and sway's slow mass. */
static void blend(const shape_weights *w, const double frequency[2][DD_SECTION_FREQUENCIES], double column[DD_SECTION_COLUMNS],
                  double *sway_mass)
{
    for (int c = 0; c < DD_SECTION_COLUMNS; c++)
        column[c] = 0;
    *sway_mass = 0;
    for (int f = 0; f < DD_SECTION_FLARES; f++)
        for (int d = 0; d < DD_SECTION_DRAUGHTS; d++)
            for (int h = 0; h < DD_SECTION_CHINES; h++) {
                const double share = w->flare[f] * w->draught[d] * w->chine[h];
                if (share == 0)
                    continue;
                const dd_section_row *row = &dd_section_rows[f][d][h];
                *sway_mass += share * row->sway_mass;
                for (int c = 0; c < DD_SECTION_COLUMNS; c++) {
                    const double *at = frequency[c > DD_SECTION_HEAVE_DAMPING];
                    double sum = 0;
                    for (int k = 0; k < DD_SECTION_FREQUENCIES; k++)
                        sum += at[k] * row->column[c][k];
                    column[c] += share * sum;
                }
            }
}

dd_section dd_section_radiation(const dd_section_shape *shape, double heave_number, double roll_number)
{
    const double b = shape->half_breadth, t = shape->draught, deepest = dd_section_draught[DD_SECTION_DRAUGHTS - 1];
    if (!(b > 0 && t > 0))
        return (dd_section){0};
    const double wide = fmax(b, t / deepest); /* the breadth that the roll terms scale with */
    shape_weights w;
    double frequency[2][DD_SECTION_FREQUENCIES], column[DD_SECTION_COLUMNS], sway;
    weights_at(shape->flare, dd_section_flare, DD_SECTION_FLARES, 0, w.flare);
    weights_at(t / b, dd_section_draught, DD_SECTION_DRAUGHTS, 1, w.draught);
    weights_at(shape->chine_share, dd_section_chine, DD_SECTION_CHINES, 0, w.chine);
    weights_at(heave_number * b, dd_section_frequency, DD_SECTION_FREQUENCIES, 1, frequency[0]);
    weights_at(roll_number * b, dd_section_frequency, DD_SECTION_FREQUENCIES, 1, frequency[1]);
    blend(&w, (const double(*)[DD_SECTION_FREQUENCIES])frequency, column, &sway);
    return (dd_section){
        .heave_mass = b * b * column[DD_SECTION_HEAVE_MASS],
        .heave_damping = b * b * exp(column[DD_SECTION_HEAVE_DAMPING]),
        .sway_mass = t * t * sway,
        .roll_mass = wide * wide * wide * wide * column[DD_SECTION_ROLL_MASS],
        .sway_roll_mass = wide * wide * wide * column[DD_SECTION_SWAY_ROLL_MASS],
        .sway_wave = wide * column[DD_SECTION_SWAY_WAVE],
        .roll_wave = wide * wide * column[DD_SECTION_ROLL_WAVE],
    };
}

dd_section_shape dd_section_at(const dd_strip *strip, double depth)
{
    const double chine = fmax(strip->chine_height - strip->keel_height, 0), breadth = fmax(strip->chine_half_breadth, 1e-3);
    const double sheer = fmax(strip->sheer_height - strip->keel_height, 0.02);
    const double rise = fmax(fmax(chine, 0.06 * breadth), 1e-3), fillet = 0.2 * rise;
    const double side = fmax(strip->sheer_height - strip->chine_height, 0.02);
    const double flare = fmin(fmax((strip->sheer_half_breadth - strip->chine_half_breadth) / side, 0), breadth / rise);
    depth -= dd_smooth_positive(depth - 1.2 * sheer, 0.1 * sheer).value;
    const double over = dd_smooth_positive(depth - rise, fillet).value;
    const double above = dd_smooth_positive(depth - chine, fillet).value;
    return (dd_section_shape){.half_breadth = breadth / rise * depth - (breadth / rise - flare) * over,
                              .draught = depth,
                              .chine_share = chine / (chine + above + 1e-12),
                              .flare = flare};
}
