/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Surfaces of the ramp: what lies under a tyre, dry, wet and under weed.

   Wet: below the water line at the time and up to the wash margin above it, passed smoothly over half the margin or 0.05 m.
   Weed: between its levels, passed over 0.1 m of height (less where the band is narrower): its friction then takes the
   surface's place where it is the lower one. Along the ramp heights pass with the slope, so that derivatives follow. */
#include "lib/shore/profile.h"
#include "lib/base/check.h"
#include <string.h>

/* Length over which a border between surfaces is passed: a tyre's contact and its tread's give, m. */
#define BORDER 0.3
#define WEED_BORDER 0.1 /* m, of height */
#define WASH_BORDER 0.05 /* m, of height, at least */
#define SINKAGE_LOAD 5000.0 /* N: wheel load that the keys of soft ground speak of */

const dd_surface *dd_ramp_surface(const dd_ramp *ramp, double x)
{
    for (int i = 0; i < ramp->surface_count; i++)
        if (x >= ramp->surfaces[i].from && x < ramp->surfaces[i].to) return &ramp->surfaces[i];
    return &ramp->otherwise;
}

typedef struct step {
    double share, rate;
} step;

static step smoothstep(double u, double length)
{
    if (u <= 0) return (step){0, 0};
    if (u >= 1) return (step){1, 0};
    return (step){u * u * (3 - 2 * u), 6 * u * (1 - u) / length};
}

static void columns_at(const dd_ramp *ramp, double x, double value[GRIP_COLUMNS], double by_x[GRIP_COLUMNS])
{
    memcpy(value, ramp->first, sizeof ramp->first);
    memset(by_x, 0, sizeof ramp->first);
    for (int i = 0; i < ramp->border_count; i++) {
        const border *b = &ramp->borders[i];
        double u = (x - b->x) / BORDER + 0.5;
        if (u <= 0) continue;
        step s = smoothstep(u, BORDER);
        for (int c = 0; c < GRIP_COLUMNS; c++) {
            value[c] += b->change[c] * s.share;
            by_x[c] += b->change[c] * s.rate;
        }
    }
}

double dd_ramp_sinkage(const dd_ramp *ramp, double x, double *by_x)
{
    double value = ramp->first[SINKAGE];
    *by_x = 0;
    for (int i = 0; i < ramp->border_count; i++) {
        const border *b = &ramp->borders[i];
        step s = smoothstep((x - b->x) / BORDER + 0.5, BORDER);
        value += b->change[SINKAGE] * s.share;
        *by_x += b->change[SINKAGE] * s.rate;
    }
    return value;
}

bool dd_ramp_soft(const dd_ramp *ramp) { return ramp->soft; }

static dd_grip grip_of(const double value[GRIP_COLUMNS], const double by_x[GRIP_COLUMNS])
{
    return (dd_grip){.friction = value[DRY],
                     .friction_x = by_x[DRY],
                     .friction_low = value[DRY_LOW],
                     .friction_high = value[DRY_HIGH],
                     .rolling_resistance = value[ROLLING],
                     .rolling_resistance_x = by_x[ROLLING],
                     .sinkage = value[SINKAGE],
                     .sinkage_x = by_x[SINKAGE],
                     .sinkage_rate = 0,
                     .sinkage_rate_x = 0};
}

/* Shares by height, and their derivatives by x. */
static step wet_share(const dd_ramp *ramp, const dd_water_surface *surface, const dd_ramp_point *ground)
{
    double length = fmax(WASH_BORDER, 0.5 * ramp->wash_margin);
    step s = smoothstep((surface->level + ramp->wash_margin - ground->z) / length, length);
    s.rate *= surface->slope - ground->slope;
    return s;
}

static step weed_share(const dd_weed *weed, const dd_ramp_point *ground)
{
    double length = fmin(WEED_BORDER, weed->to_level - weed->from_level);
    step up = smoothstep((ground->z - weed->from_level) / length + 0.5, length),
         down = smoothstep((weed->to_level - ground->z) / length + 0.5, length);
    return (step){up.share * down.share, (up.rate * down.share - up.share * down.rate) * ground->slope};
}

static void pass(double *value, double *by_x, double other, double other_x, step share)
{
    *by_x += share.rate * (other - *value) + share.share * (other_x - *by_x);
    *value += share.share * (other - *value);
}

dd_grip dd_shore_grip(const dd_ramp *ramp, const dd_water *water, double x, double time)
{
    double value[GRIP_COLUMNS], by_x[GRIP_COLUMNS];
    columns_at(ramp, x, value, by_x);
    const bool soft = value[SINKAGE_RATE] > 0, weedy = !isnan(ramp->weed.from_level);
    if (!(ramp->wet_differs || soft || weedy)) return grip_of(value, by_x);
    const dd_ramp_point ground = dd_ramp_at(ramp, x);
    const dd_water_surface surface = dd_water_surface_at(water, x, time);
    step wet = wet_share(ramp, &surface, &ground), weed = {0, 0};
    for (int c = DRY; c <= DRY_HIGH && wet.share > 0; c++) {
        const int other = c + WET - DRY;
        pass(&value[c], &by_x[c], value[other], by_x[other], wet);
    }
    if (weedy) {
        weed = weed_share(&ramp->weed, &ground);
        const double low = ramp->weed.friction_low, high = ramp->weed.friction_high, on_weed[3] = {(low + high) / 2, low, high};
        for (int c = DRY; c <= DRY_HIGH; c++)
            if (on_weed[c] < value[c]) pass(&value[c], &by_x[c], on_weed[c], 0, weed);
    }
    dd_grip grip = grip_of(value, by_x);
    grip.wet = wet.share;
    grip.weed = weed.share;
    grip.sinkage_rate = value[SINKAGE_RATE] * wet.share;
    grip.sinkage_rate_x = by_x[SINKAGE_RATE] * wet.share + value[SINKAGE_RATE] * wet.rate;
    return grip;
}

static void fill_columns(const dd_surface *s, double value[GRIP_COLUMNS])
{
    const bool low = s->wet_friction_low > 0, high = s->wet_friction_high > 0;
    value[DRY_LOW] = s->friction_low;
    value[DRY_HIGH] = s->friction_high;
    value[WET_LOW] = low ? s->wet_friction_low : high ? fmin(s->friction_low, s->wet_friction_high) : s->friction_low;
    value[WET_HIGH] = high ? s->wet_friction_high : low ? s->wet_friction_low : s->friction_high;
    value[DRY] = (value[DRY_LOW] + value[DRY_HIGH]) / 2;
    value[WET] = (value[WET_LOW] + value[WET_HIGH]) / 2;
    value[ROLLING] = s->rolling_resistance;
    value[SINKAGE] = s->sinkage / SINKAGE_LOAD;
    value[SINKAGE_RATE] = s->sinkage_rate / SINKAGE_LOAD;
}

void dd_ramp_set_surfaces(const dd_ramp_parameters *parameters, dd_ramp *ramp)
{
    double otherwise[GRIP_COLUMNS], value[GRIP_COLUMNS];
    dd_key_clear(dd_surface_keys, &ramp->otherwise);
    dd_key_defaults(dd_surface_keys, &ramp->otherwise);
    strcpy(ramp->otherwise.name, "wet concrete");
    ramp->otherwise.from = -INFINITY;
    ramp->otherwise.to = INFINITY;
    ramp->weed = parameters->weed;
    ramp->wash_margin = parameters->wash_margin;
    ramp->surface_count = parameters->surface_count;
    memcpy(ramp->surfaces, parameters->surfaces, sizeof ramp->surfaces);
    const dd_surface *first = &ramp->otherwise;
    for (int i = 0; i < ramp->surface_count; i++) {
        dd_surface *s = &ramp->surfaces[i];
        dd_key_fill(dd_surface_keys, s);
        s->from = isnan(s->from) ? -INFINITY : s->from;
        s->to = isnan(s->to) ? INFINITY : s->to;
        if (!isfinite(s->from)) first = s;
        if (s->wet_friction_low > 0 || s->wet_friction_high > 0) ramp->wet_differs = true;
        if (s->sinkage > 0 || s->sinkage_rate > 0) ramp->soft = true;
    }
    fill_columns(first, ramp->first);
    fill_columns(&ramp->otherwise, otherwise);
    /* Each end of a stretch changes from what is on its one side to what is on its other. */
    for (int i = 0; i < ramp->surface_count; i++) {
        const dd_surface *s = &ramp->surfaces[i];
        fill_columns(s, value);
        border from = {.x = s->from}, to = {.x = s->to};
        for (int c = 0; c < GRIP_COLUMNS; c++) {
            from.change[c] = value[c] - otherwise[c];
            to.change[c] = -from.change[c];
        }
        if (isfinite(s->from)) ramp->borders[ramp->border_count++] = from;
        if (isfinite(s->to)) ramp->borders[ramp->border_count++] = to;
    }
}
