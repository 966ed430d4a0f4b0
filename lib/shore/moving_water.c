/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The water's surface in place and time, and its flow.

   Level = level(t) + surge + waves. A tide is a cubic from each of its knots to the next. From one level of the table to the next by the quintic smoothstep 10 u^3 - 15 u^4 + 6 u^5,
   whose rate and acceleration vanish at its ends. Surge: height/2 sin(w t). Waves of height H = 2a that come in from
   seaward, X the distance seaward of the water's edge, r the share that the shore throws back:
       z = a (sin(w t + k X) + r sin(w t - k X)),   w^2 = g k tanh(k h)   (linear theory, depth h throughout);
   r = 1 is a standing wave of twice the height at the edge. Near the surface the water flows along x at
       u = g k/w a (-sin(w t + k X) + r sin(w t - k X)),   du/dt = -g dz/dx.
   Surge and waves grow from calm water over their first period by the same smoothstep: a run begins at rest.

   Current: speed at the surface times (height above the ground / depth)^m; its mean over the upper s T/d of the depth is
   (1 - (1 - s)^(m+1)) / ((m+1) s). Seaward it grows from none at the water's edge (at the start) by the smoothstep, and again
   beyond the end of a wall. */
#include "lib/base/error.h"
#include "lib/ode/ode.h"
#include "lib/shore/shore.h"

static const double seaward_of_edge = 10; /* m: where the waves' depth is taken on a ramp without a toe */

/* Value, first and second derivative by u. */
typedef struct smooth {
    double value, slope, curvature;
} smooth;

static smooth smoothstep(double u)
{
    if (u <= 0) return (smooth){0, 0, 0};
    if (u >= 1) return (smooth){1, 0, 0};
    double v = u * (1 - u);
    return (smooth){u * u * u * (10 + u * (6 * u - 15)), 30 * v * v, 60 * v * (1 - 2 * u)};
}

static void add_levels(const dd_water *w, double time, dd_water_surface *s)
{
    double from = w->level, start = 0;
    for (int i = 0; i < w->level_count && time > start; i++) {
        double length = w->levels[i].at - start, change = w->levels[i].level - from;
        smooth step = smoothstep((time - start) / length);
        s->level += change * step.value;
        s->rate += change / length * step.slope;
        s->acceleration += change / (length * length) * step.curvature;
        from = w->levels[i].level;
        start = w->levels[i].at;
    }
}

/* The tide: a cubic between two knots with their levels and rates; before the first and after the last it stands still. */
static void add_tide(const dd_water *w, double time, dd_water_surface *s)
{
    const double h = w->knot_step, all = h * (w->knot_count - 1);
    s->level += w->knots[0].level - w->level;
    if (time >= all) s->level += w->knots[w->knot_count - 1].level - w->knots[0].level;
    if (time < 0 || time >= all) return;
    const int k = (int)fmin(time / h, w->knot_count - 2);
    const double u = time / h - k, change = w->knots[k + 1].level - w->knots[k].level;
    const double a = h * w->knots[k].rate, b = h * w->knots[k + 1].rate, c2 = 3 * change - 2 * a - b, c3 = a + b - 2 * change;
    s->level += w->knots[k].level - w->knots[0].level + u * (a + u * (c2 + u * c3));
    s->rate += (a + u * (2 * c2 + 3 * u * c3)) / h;
    s->acceleration += (2 * c2 + 6 * u * c3) / (h * h);
}

/* A function of time with its derivatives, grown from nothing over the first period. */
static smooth grown(double period, double time, double value, double frequency, double quarter_later)
{
    smooth e = smoothstep(time / period);
    e.slope /= period;
    e.curvature /= period * period;
    double rate = frequency * quarter_later, acceleration = -frequency * frequency * value;
    return (smooth){e.value * value, e.slope * value + e.value * rate,
                    e.curvature * value + 2 * e.slope * rate + e.value * acceleration};
}

/* Of the waves at x: z = p sin(w t) + q cos(w t). */
typedef struct waves {
    double frequency, sine, cosine;
    double p, q, p_x, q_x, p_xx, q_xx;
} waves;

static waves waves_at(const dd_water *w, double x, double time)
{
    const double a = 0.5 * w->wave.height, r = w->wave.reflection, k = w->wave_number;
    waves v = {.frequency = 2 * M_PI / w->wave.period};
    double in = a * (1 + r), out = a * (1 - r), c = cos(k * (x - w->edge)), s = sin(k * (x - w->edge));
    v.sine = sin(v.frequency * time);
    v.cosine = cos(v.frequency * time);
    v.p = in * c, v.p_x = -in * k * s, v.p_xx = -in * k * k * c;
    v.q = out * s, v.q_x = out * k * c, v.q_xx = -out * k * k * s;
    return v;
}

static smooth in_time(const dd_water *w, const waves *v, double time, double p, double q)
{
    return grown(w->wave.period, time, p * v->sine + q * v->cosine, v->frequency, p * v->cosine - q * v->sine);
}

dd_water_surface dd_water_surface_at(const dd_water *w, double x, double time)
{
    dd_water_surface s = {.level = w->level};
    if (!dd_water_moves(w)) return s;
    s.level += w->rise * fmax(time, 0);
    s.rate = w->rise;
    add_levels(w, time, &s);
    if (w->knot_count > 1) add_tide(w, time, &s);
    if (w->surge.height > 0) {
        double frequency = 2 * M_PI / w->surge.period, a = 0.5 * w->surge.height;
        smooth z = grown(w->surge.period, time, a * sin(frequency * time), frequency, a * cos(frequency * time));
        s.level += z.value, s.rate += z.slope, s.acceleration += z.curvature;
    }
    if (w->wave.height > 0) {
        waves v = waves_at(w, x, time);
        smooth z = in_time(w, &v, time, v.p, v.q), z_x = in_time(w, &v, time, v.p_x, v.q_x);
        s.level += z.value, s.rate += z.slope, s.acceleration += z.curvature;
        s.slope = z_x.value, s.slope_rate = z_x.slope;
        s.curvature = in_time(w, &v, time, v.p_xx, v.q_xx).value;
    }
    return s;
}

static void add_current(const dd_water *w, double x, double immersed, double depth, dd_water_flow *f)
{
    smooth out = {1, 0, 0}, wall = {1, 0, 0};
    double mean = 1, by_share = 0, share = 0;
    if (w->current_full_beyond > 0) {
        out = smoothstep((x - w->edge) / w->current_full_beyond);
        out.slope /= w->current_full_beyond;
    }
    if (!isnan(w->wall_to)) {
        wall = smoothstep((x - w->wall_to) / w->wall_mixing);
        wall.slope /= w->wall_mixing;
    }
    if (w->current_exponent > 0 && isfinite(depth)) {
        const double m = w->current_exponent;
        share = immersed / depth;
        const double rest = pow(1 - share, m);
        if (share > 1e-5) {
            mean = (1 - (1 - share) * rest) / ((m + 1) * share);
            by_share = (rest - mean) / share;
        } else {
            mean = 1 - 0.5 * m * share;
            by_share = -0.5 * m;
        }
    }
    f->along_y = w->current * out.value * wall.value * mean;
    f->along_y_by_x = w->current * (out.slope * wall.value + out.value * wall.slope) * mean;
    if (by_share == 0) return;
    const double by = w->current * out.value * wall.value * by_share / depth;
    f->along_y_by_immersed = by;
    f->along_y_by_depth = -by * share;
}

dd_water_flow dd_water_flow_at(const dd_water *w, double x, double time, double immersed, double depth)
{
    dd_water_flow f = {.along_y = w->current};
    if (dd_current_varies(w)) add_current(w, x, immersed, depth, &f);
    if (!(w->wave.height > 0)) return f;
    waves v = waves_at(w, x, time);
    /* u = g/w (p_x cos(w t) - q_x sin(w t)), with g/w = w / (k tanh(k h)) */
    const double scale = v.frequency / (w->wave_number * tanh(w->wave_number * w->wave.depth));
    smooth u = in_time(w, &v, time, -v.q_x * scale, v.p_x * scale);
    f.along_x = u.value, f.along_x_rate = u.slope;
    f.along_x_by_x = in_time(w, &v, time, -v.q_xx * scale, v.p_xx * scale).value;
    return f;
}

typedef struct dispersion {
    double deep, depth; /* w^2/g */
} dispersion;

static double dispersion_rest(double k, void *context)
{
    const dispersion *d = context;
    return k * tanh(k * d->depth) - d->deep;
}

typedef struct edge_search {
    const dd_ramp *ramp;
    double level;
} edge_search;

static double above_water(double x, void *context)
{
    const edge_search *s = context;
    return dd_ramp_at(s->ramp, x).z - s->level;
}

/* The first place, from the land seaward, where the ground goes under water. */
static dd_status find_edge(dd_water *w, const dd_ramp *ramp, dd_error *error)
{
    enum { STEPS = 4000 };
    const double first = -200, step = 0.1; /* m */
    edge_search search = {ramp, w->level};
    double before = above_water(first, &search);
    w->edge = first;
    for (int i = 1; before > 0 && i <= STEPS; i++) {
        double x = first + i * step, now = above_water(x, &search);
        if (now <= 0) return dd_ode_locate(above_water, &search, x - step, x, before, now, 1e-12, &w->edge, error);
        before = now;
        w->edge = x;
    }
    return DD_OK; /* dry all the way, or wet: the current is then where the user's figures put it */
}

dd_status dd_water_meet(dd_water *w, const dd_ramp *ramp, double gravity, dd_error *error)
{
    w->edge = w->wave_number = 0;
    dd_status status = ramp != NULL ? find_edge(w, ramp, error) : DD_OK;
    if (status != DD_OK || !(w->wave.height > 0)) return status;
    if (isnan(w->wave.depth) && ramp != NULL) {
        double toe = dd_ramp_toe(ramp);
        w->wave.depth = w->level - dd_ramp_at(ramp, isfinite(toe) && toe > w->edge ? toe : w->edge + seaward_of_edge).z;
    }
    if (!(w->wave.depth > 0) || !(gravity > 0))
        return dd_fail(error, DD_ERROR_UNSET, "water.wave.depth",
                       "not given, and there is no water at the ramp's toe; expected the depth that the waves come over");
    const double deep = 4 * M_PI * M_PI / (w->wave.period * w->wave.period * gravity);
    dispersion d = {deep, w->wave.depth};
    /* tanh(x) < 1 and tanh(x) < x: k lies above both limits, deep and shallow; and below their sum */
    const double low = fmax(deep, sqrt(deep / d.depth)), high = deep + sqrt(deep / d.depth);
    return dd_ode_locate(dispersion_rest, &d, low, high, dispersion_rest(low, &d), dispersion_rest(high, &d), 1e-14 * high,
                         &w->wave_number, error);
}

double dd_wave_run_up(double height, double period, double slope, double gravity)
{
    if (!(height > 0)) return 0;
    const double length = gravity * period * period / (2 * M_PI), xi = tan(slope) / sqrt(height / length);
    return height * fmin(xi, 2.3);
}
