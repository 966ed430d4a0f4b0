/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/force/soil.h"

enum { FREE_STEPS = 25, MOST_STEPS = 200 };

dd_soil dd_soil_of(const dd_ramp *ramp, double x, double sinks, double stood, double rut)
{
    dd_soil soil = {.stood = fmax(0, stood), .rut = fmax(0, rut)};
    soil.give = sinks * dd_ramp_sinkage(ramp, x, &soil.give_by_x);
    soil.give_by_x *= sinks;
    return soil;
}

dd_soil dd_soil_under(const dd_ramp *ramp, const dd_kinematics *k, double x, int wheeled)
{
    return dd_soil_of(ramp, x, DD_SINKS_AXLE, k->stood[wheeled], k->rut[wheeled]);
}

dd_sunk dd_soil_at(const dd_soil *soil, double load)
{
    const double b = soil->give, w = b * DD_SOIL_ROUNDING, x = b * load - soil->rut, held = soil->stood + soil->rut;
    dd_sunk s = {.depth = held, .by_rut = 1, .work = held * load, .work_by_rut = load};
    if (x <= -w || b <= 0) return s;
    /* p, its integral and their derivatives by x and by w: a parabola between -w and w */
    double p = x, slope = 1, by_w = 0, integral = 0.5 * x * x + w * w / 6, integral_by_w = w / 3;
    if (x < w) {
        const double u = x + w;
        p = u * u / (4 * w), slope = u / (2 * w), by_w = u * (w - x) / (4 * w * w);
        integral = u * u * u / (12 * w), integral_by_w = u * u * (2 * w - x) / (12 * w * w);
    }
    s.depth += p;
    s.by_load = slope * b;
    s.by_rut -= slope;
    s.by_give = slope * load + by_w * DD_SOIL_ROUNDING;
    s.work += integral / b;
    s.work_by_rut -= p / b;
    s.work_by_give = (p * load + integral_by_w * DD_SOIL_ROUNDING) / b - integral / (b * b);
    return s;
}

typedef struct under {
    dd_soil soil;
    double own, own_x, lever, lever_x, along; /* along: d(contact's abscissa)/dx */
} under;

static void stand(const dd_rig *rig, const dd_ramp *ramp, double gravity, const dd_kinematics *k, under at[DD_VEHICLE_AXLES])
{
    const dd_vehicle_parameters *v = &rig->vehicle;
    const double c = k->vehicle.cosine, s = k->vehicle.sine, turn = k->vehicle.pitch_x, weight = v->mass * gravity / v->wheelbase;
    const double behind = v->wheelbase - v->centre_behind_front_axle, ball = v->coupling_behind_rear_axle / v->wheelbase,
                 high = v->coupling_height / v->wheelbase;
    at[0] = (under){dd_soil_under(ramp, k, k->vehicle.front_x, 0), weight * (behind * c - v->centre_height * s),
                    -weight * (behind * s + v->centre_height * c) * turn, -high * s - ball * c, (ball * s - high * c) * turn, k->vehicle.front_x_x};
    at[1] = (under){dd_soil_under(ramp, k, k->pose.rig[DD_RIG_X], 1), weight * v->wheelbase * c - at[0].own,
                    -weight * v->wheelbase * s * turn - at[0].own_x, c - at[0].lever, -s * turn - at[0].lever_x, 1};
}

dd_ball_in_sand dd_ball_sinks(const dd_rig *rig, const dd_ramp *ramp, double gravity, const dd_kinematics *k, bool carries)
{
    under at[DD_VEHICLE_AXLES];
    dd_sunk z[DD_VEHICLE_AXLES];
    stand(rig, ramp, gravity, k, at);
    const double stiffness = rig->ball_stiffness, heave = k->pose.rig[DD_RIG_HEAVE];
    double most = 1, slope = 1;
    for (int a = 0; a < DD_VEHICLE_AXLES; a++) most += stiffness * at[a].lever * at[a].lever * at[a].soil.give;
    dd_ball_in_sand b = {.force = carries ? -stiffness * heave : 0};
    /* The left side rises with F by 1 to `most`: Newton's step, and in the end the one that cannot overshoot. */
    for (int i = 0; i < MOST_STEPS; i++) {
        b.drop = 0;
        slope = 1;
        for (int a = 0; a < DD_VEHICLE_AXLES; a++) {
            z[a] = dd_soil_at(&at[a].soil, at[a].own + at[a].lever * b.force);
            b.drop += at[a].lever * z[a].depth;
            slope += stiffness * at[a].lever * at[a].lever * z[a].by_load;
        }
        if (!carries) return b;
        const double step = (b.force + stiffness * (heave + b.drop)) / (i < FREE_STEPS ? slope : most);
        if (fabs(step) <= 1e-13 * (1 + fabs(b.force))) break;
        b.force -= step;
    }
    const double f = b.force;
    b.by_heave = -stiffness / slope;
    b.energy = -f * heave - 0.5 * f * f / stiffness;
    for (int a = 0; a < DD_VEHICLE_AXLES; a++) {
        const under *u = &at[a];
        const dd_sunk alone = dd_soil_at(&u->soil, u->own);
        const double more = u->own_x + u->lever_x * f, give_x = u->soil.give_by_x * u->along;
        b.by_x -= stiffness / slope * (u->lever_x * z[a].depth + u->lever * (z[a].by_load * more + z[a].by_give * give_x));
        b.by_stood[a] = -stiffness / slope * u->lever;
        b.by_rut[a] = b.by_stood[a] * z[a].by_rut;
        b.energy -= z[a].work - alone.work;
        b.press[a] = u->lever * f;
        b.press_rut[a] = z[a].work_by_rut - alone.work_by_rut;
        b.press_x += z[a].depth * more - alone.depth * u->own_x + (z[a].work_by_give - alone.work_by_give) * give_x;
    }
    return b;
}
