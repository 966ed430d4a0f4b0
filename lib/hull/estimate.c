/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a brochure leaves out: each figure as low, likely, high with its source, or as given. */
#include <math.h>
#include <stdio.h>
#include <string.h>
#include "lib/base/error.h"
#include "lib/hull/lines.h"

static const double watts_per_horsepower = 745.69987158227022;
static const double fresh_water = 1000; /* kg/m3 */
static const double degree = 3.14159265358979323846 / 180;

/* Outboard engines by power: weight dry and running, and what comes with the boat's battery and controls.
   Source "outboard weights"; lb in the source, kg = lb * 0.45359237. */
static const struct outboard_row {
    double most_horsepower, dry, running, controls, battery; /* lb */
} outboards[] = {
    {2.0, 30, 32, 0, 0},         {3.9, 42, 44, 0, 0},         {6.9, 66, 69, 0, 0},         {10.9, 105, 110, 5, 20},
    {22.9, 127, 133, 6, 45},     {34.9, 187, 196, 9, 45},     {64.9, 286, 300, 14, 45},    {94.9, 439, 461, 22, 45},
    {104.9, 458, 481, 23, 45},   {144.9, 526, 552, 26, 45},   {194.9, 561, 589, 28, 45},   {209.9, 652, 685, 33, 45},
    {300.0, 699, 734, 35, 45},   {350.0, 884, 928, 44, 45},
};
static const double kilograms_per_pound = 0.45359237;

static dd_estimate estimate(double given, double low, double likely, double high, const char *source)
{
    if (isfinite(given))
        return (dd_estimate){given, given, given, 1, "given"};
    return (dd_estimate){low, likely, high, 0, source};
}

static dd_estimate share(double given, double of, double low, double likely, double high)
{
    return estimate(given, low * of, likely * of, high * of, "design memory");
}

double dd_brochure_length(const dd_hull_parameters *p)
{
    if (p->station_count > 0)
        return p->stations[p->station_count - 1].at - p->stations[0].at;
    return p->length_of == DD_LENGTH_OVERALL && isfinite(p->platform_length) ? p->length - p->platform_length : p->length;
}

/* Centre of a mass of water that lies level in a V bottom of the transom's deadrise, over 0.3 of the length: two thirds of its depth
   h up, h^2 / tan(deadrise) its section. */
static double bilge_height(const dd_hull_parameters *p, double mass, double length)
{
    const dd_station *s = &p->stations[0];
    const double keel = p->station_count > 0 ? s->keel_height : 0,
                 rise = p->station_count > 0 ? fmax(0.0, s->chine_height - keel) / s->chine_half_breadth : tan(p->transom_deadrise);
    return keel + 2.0 / 3 * sqrt(mass / fresh_water * rise / (0.3 * length));
}

int dd_hull_aboard(const dd_hull_parameters *p, dd_item all[DD_ABOARD + 1])
{
    const dd_water_aboard *w = &p->water_aboard;
    memcpy(all, p->items, (size_t)p->item_count * sizeof *all);
    if (!(w->mass > 0)) return p->item_count;
    const double first = p->station_count > 0 ? p->stations[0].at : 0, length = dd_brochure_length(p);
    dd_item *water = &all[p->item_count];
    dd_item_defaults(water);
    water->mass = w->mass;
    water->at_count = 3;
    water->at[1] = 0;
    water->at[0] = isnan(w->from_transom) ? first + 0.15 * length : w->from_transom;
    water->at[2] = isnan(w->height) ? bilge_height(p, w->mass, length) : w->height;
    return p->item_count + 1;
}

static double greatest_beam(const dd_hull_parameters *p)
{
    double half = 0;
    if (p->station_count <= 0)
        return p->beam;
    for (int i = 0; i < p->station_count; i++) {
        const dd_station *s = &p->stations[i];
        half = fmax(half, fmax(s->sheer_half_breadth, s->chine_half_breadth));
        for (int j = 0; j < s->strake_half_breadth_count; j++)
            half = fmax(half, s->strake_half_breadth[j]);
    }
    return 2 * half;
}

/* Engine, and in *outfit what stands aboard with it (controls, battery). Above the table: several engines. */
static dd_estimate engine_estimate(const dd_hull_parameters *p, double *outfit)
{
    double power = p->engine_power / watts_per_horsepower, engines = 1;
    const size_t rows = sizeof outboards / sizeof outboards[0];
    *outfit = 0;
    if (!(power > 0))
        return estimate(p->engine_mass, 0, 0, 0, "outboard weights");
    engines = ceil(power / outboards[rows - 1].most_horsepower);
    power /= engines;
    size_t i = 0;
    /* The classes leave gaps of 0.1 hp: a power in a gap belongs to the class above. */
    while (i + 1 < rows && power > outboards[i].most_horsepower)
        i++;
    double scale = engines * kilograms_per_pound;
    *outfit = scale * (outboards[i].controls + outboards[i].battery);
    return estimate(p->engine_mass, scale * outboards[i].dry, scale * outboards[i].running, 1.15 * scale * outboards[i].running,
                    "outboard weights");
}

static void mass_estimates(const dd_hull_parameters *p, dd_hull_estimates *e)
{
    double outfit, aboard = 0, less = 0, more = 0; /* less, more: by guesses of what is aboard */
    e->engine_mass = engine_estimate(p, &outfit);
    dd_item items[DD_ABOARD + 1];
    const int count = dd_hull_aboard(p, items);
    for (int i = 0; i < count; i++) {
        const dd_estimate item = dd_item_estimate(&items[i]);
        aboard += item.likely;
        less += item.likely - item.low;
        more += item.high - item.likely;
    }
    double base = p->mass + aboard;
    switch (p->mass_of) {
    case DD_MASS_OF_BARE_HULL:
        e->total_mass = (dd_estimate){base + e->engine_mass.low, base + e->engine_mass.likely + outfit,
                                      base + e->engine_mass.high + 2 * outfit, 0, "outboard weights"};
        break;
    case DD_MASS_OF_HULL_AND_ENGINE:
        e->total_mass = (dd_estimate){base, base + outfit, base + 2 * outfit, 0, "outboard weights"};
        break;
    default:
        e->total_mass = (dd_estimate){base, base, base, 1, "given"};
    }
    if (less + more > 0) {
        e->total_mass.low -= less;
        e->total_mass.high += more;
        if (e->total_mass.given) e->total_mass.source = "guess aboard";
        e->total_mass.given = 0;
    }
}

/* Figures of the form that a boat without stations needs. */
static void form_estimates(const dd_hull_parameters *p, dd_hull_estimates *e)
{
    const double length = dd_brochure_length(p), d = p->transom_deadrise, steep = 60 * degree;
    e->chine_beam = share(p->chine_beam, p->beam, 0.80, 0.82, 0.86);
    e->midships_deadrise = estimate(p->midships_deadrise, fmin(d + 1 * degree, steep), fmin(d + 3 * degree, steep),
                                    fmin(d + 6 * degree, steep), "design memory");
    double mid = e->midships_deadrise.likely;
    e->bow_deadrise = estimate(p->bow_deadrise, fmin(mid + 8 * degree, fmax(steep, mid)), fmin(mid + 15 * degree, fmax(steep, mid)),
                               fmin(mid + 22 * degree, fmax(steep, mid)), "design memory");
    /* Sheer: from the length, but never less than some side above the chine. */
    const double at_transom = 0.5 * e->chine_beam.likely * tan(d) + 0.15, at_mid = 0.5 * e->chine_beam.likely * tan(mid) + 0.20;
    e->transom_sheer_height = estimate(p->transom_sheer_height, fmax(0.130 * length, at_transom), fmax(0.155 * length, at_transom + 0.05),
                                       fmax(0.185 * length, at_transom + 0.10), "design memory");
    e->midships_sheer_height = estimate(p->midships_sheer_height, fmax(0.145 * length, at_mid), fmax(0.170 * length, at_mid + 0.05),
                                        fmax(0.200 * length, at_mid + 0.10), "design memory");
    const double sheer = e->midships_sheer_height.likely;
    e->bow_sheer_height = share(p->bow_sheer_height, sheer, 1.15, 1.25, 1.40);
    e->keel_rise = share(p->keel_rise, e->bow_sheer_height.likely, 0.45, 0.55, 0.70);
}

/* Figures of the form read off measured stations: transom, the station nearest midships, bow. */
static void station_figures(const dd_hull_parameters *p, dd_hull_estimates *e)
{
    const dd_station *first = &p->stations[0], *last = &p->stations[p->station_count - 1], *mid = first;
    const double middle = 0.5 * (first->at + last->at), length = last->at - first->at, four_fifths = first->at + 0.8 * length;
    const dd_station *forward = first;
    double chine = 0;
    for (int i = 0; i < p->station_count; i++) {
        const dd_station *s = &p->stations[i];
        mid = fabs(s->at - middle) < fabs(mid->at - middle) ? s : mid;
        forward = fabs(s->at - four_fifths) < fabs(forward->at - four_fifths) ? s : forward;
        chine = fmax(chine, 2 * s->chine_half_breadth);
    }
    const char *given = "given";
    double m = atan2(mid->chine_height - mid->keel_height, mid->chine_half_breadth);
    double b = atan2(forward->chine_height - forward->keel_height, forward->chine_half_breadth);
    e->chine_beam = estimate(chine, 0, 0, 0, given);
    e->midships_deadrise = estimate(m, 0, 0, 0, given);
    e->bow_deadrise = estimate(b, 0, 0, 0, given);
    e->keel_rise = estimate(last->keel_height, 0, 0, 0, given);
    e->transom_sheer_height = estimate(first->sheer_height, 0, 0, 0, given);
    e->midships_sheer_height = estimate(mid->sheer_height, 0, 0, 0, given);
    e->bow_sheer_height = estimate(last->sheer_height, 0, 0, 0, given);
}

/* Bow eye: on the stem where it stands at a share of the keel's rise; on the middle of an upright bow. */
static void bow_eye_estimates(const dd_hull_parameters *p, dd_hull_estimates *e)
{
    const double length = dd_brochure_length(p), first = p->station_count > 0 ? p->stations[0].at : 0;
    const double keel = p->station_count > 0 ? p->stations[0].keel_height : 0, rise = e->keel_rise.likely - keel;
    if (rise > 0.1 * (e->bow_sheer_height.likely - keel)) {
        e->bow_eye_height = estimate(p->bow_eye_height, keel + 0.65 * rise, keel + 0.85 * rise, keel + rise, "design memory");
        e->bow_eye_from_transom =
            estimate(p->bow_eye_from_transom, first + 0.93 * length, first + dd_brochure_stem(p, e, e->bow_eye_height.likely),
                     first + length, "design memory");
    } else {
        double bottom = e->keel_rise.likely, side = e->bow_sheer_height.likely - bottom;
        e->bow_eye_height = estimate(p->bow_eye_height, bottom + 0.4 * side, bottom + 0.5 * side, bottom + 0.7 * side, "design memory");
        e->bow_eye_from_transom = estimate(p->bow_eye_from_transom, first + 0.98 * length, first + length, first + length, "design memory");
    }
    if (!e->bow_eye_from_transom.given) { /* keep the order where the stem is unusual */
        e->bow_eye_from_transom.low = fmin(e->bow_eye_from_transom.low, e->bow_eye_from_transom.likely);
        e->bow_eye_from_transom.high = fmax(e->bow_eye_from_transom.high, e->bow_eye_from_transom.likely);
    }
}

dd_status dd_hull_estimate(const dd_hull_parameters *p, dd_hull_estimates *e, dd_error *error)
{
    dd_status status = dd_brochure_check(p, error);
    if (status)
        return status;
    memset(e, 0, sizeof *e);
    const double length = dd_brochure_length(p), beam = greatest_beam(p);
    const double first = p->station_count > 0 ? p->stations[0].at : 0;
    if (p->station_count > 0)
        station_figures(p, e);
    else
        form_estimates(p, e);
    mass_estimates(p, e);
    e->centre_from_transom = estimate(p->centre_from_transom, first + 0.38 * length, first + 0.40 * length, first + 0.42 * length, "design memory");
    e->centre_height = share(p->centre_height, e->midships_sheer_height.likely, 0.42, 0.50, 0.60);
    e->roll_radius = share(p->roll_radius, beam, 0.30, 0.35, 0.40);
    e->pitch_radius = share(p->pitch_radius, length, 0.22, 0.25, 0.28);
    e->yaw_radius = share(p->yaw_radius, length, 0.22, 0.25, 0.28);
    bow_eye_estimates(p, e);
    if (p->engine_power > 0)
        e->skeg_depth = estimate(p->skeg_depth, 0.25, 0.32, 0.42, "design memory");
    else
        e->skeg_depth = estimate(p->skeg_depth, 0, 0, 0, "design memory");
    return DD_OK;
}
