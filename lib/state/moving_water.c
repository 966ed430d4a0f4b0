/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a hull meets in water that rises, runs in waves, or streams faster here than there.

   Level. The hull feels the plane tangent to the surface over its middle. With slope s, vertical depth below that plane is
   n = sqrt(1 + s^2) times the depth across it, and pressure goes with the vertical depth: waves of the length of the hull or
   shorter are outside this. At a place fixed in the world the plane rises by z_t + s' (x - x_m), s' the slope's rate seen from
   the middle (the plane's touching point moves with the hull, its height there does not matter: the plane is tangent).
   Velocity. The water's velocity U at the middle (waves' and current's, and z_t upward) is taken for all of the hull; cross flow
   takes the current strip by strip. The slope's rate damps no pitch. Books: with w the twist in the water, P and T momentum and
   energy of the added mass, d(T + U.P)/dt = -(its reaction).v + P.dU/dt - dT/dt|water, where dU/dt follows the hull and the last
   term is the change of T by the water's own rise (derivation in lib/motion/ledger.c). A steady shear makes dU/dt = U_x x_m': the
   added mass takes the velocity where it is. */
#include "lib/state/kinematics.h"
#include "lib/shore/shore.h"

static const double least_depth = 0.02; /* m, of water, in the current's profile */

/* d(depth of a point of the keel)/d(displacement), the water plane held, then tilting along. */
static void keel_depth_by(const dd_kinematics *k, dd_vec3 keel, double by[6])
{
    const dd_vec3 turn = dd_cross(keel, k->waterplane.up);
    const double fixed[6] = {-k->waterplane.up.x, -k->waterplane.up.y, -k->waterplane.up.z, -turn.x, -turn.y, -turn.z};
    const double *t = k->moving.tilt, tilt = t[0] + t[1] * keel.x + t[2] * keel.z;
    for (int j = 0; j < 6; j++) by[j] = fixed[j] + tilt * k->moving.middle_by[j];
}

/* An angle of the plane growing at `slope_rate` about the middle while it rises at `level_rate` there. */
static void depth_rates(const dd_kinematics *k, const dd_water_surface *s, double level_rate, double slope_rate, double out[3])
{
    const double n = k->moving.steepness, shrink = s->slope * slope_rate / (n * n), *row = k->to_world.m[0];
    out[0] = (level_rate - slope_rate * k->moving.middle_x) / n - shrink * k->waterplane.level;
    out[1] = slope_rate * row[0] / n + shrink * k->waterplane.up.x;
    out[2] = slope_rate * row[2] / n + shrink * k->waterplane.up.z;
}

/* The current at the middle with its derivatives by the displacement and its rate following the hull. */
static double set_current(const dd_model *model, dd_kinematics *k, const dd_water_flow *f, dd_vec3 keel, double ground_slope,
                          double middle_speed)
{
    dd_moving_water *m = &k->moving;
    double by_keel[6], rate = f->along_y_by_x * middle_speed;
    const double *v = k->motion.twist, *row = k->to_world.m[0];
    keel_depth_by(k, keel, by_keel);
    m->current = f->along_y;
    for (int j = 0; j < 6; j++) {
        double by_depth = (j < 3 ? (m->depth_slope - ground_slope) * row[j] : 0) + m->depth_tilt * m->middle_by[j];
        if (model->ramp == NULL) by_depth = 0;
        m->velocity_by[1][j] = f->along_y_by_x * m->middle_by[j] + f->along_y_by_immersed * by_keel[j] + f->along_y_by_depth * by_depth;
        rate += (f->along_y_by_immersed * (by_keel[j] - m->middle_by[j] * (m->tilt[0] + m->tilt[1] * keel.x + m->tilt[2] * keel.z)) +
                 f->along_y_by_depth * (by_depth - m->depth_tilt * m->middle_by[j])) * v[j];
    }
    rate += f->along_y_by_immersed * (m->rise[0] + m->rise[1] * keel.x + m->rise[2] * keel.z);
    return rate + (model->ramp != NULL ? f->along_y_by_depth * m->depth_rise : 0);
}

static dd_water_flow flow_at_middle(const dd_model *model, const dd_kinematics *k, double x, dd_vec3 keel)
{
    const double depth = fmax(k->water_depth, least_depth);
    double immersed = k->waterplane.level - k->waterplane.up.x * keel.x - k->waterplane.up.z * keel.z;
    const bool dry = !(immersed > 0), aground = !(immersed < depth), shallow = depth > k->water_depth;
    immersed = fmin(fmax(immersed, 0), depth);
    dd_water_flow f = dd_water_flow_at(&model->water, x, k->time, immersed, depth);
    if (aground) f.along_y_by_depth += f.along_y_by_immersed; /* immersed to the ground */
    if (dry || aground) f.along_y_by_immersed = 0;
    if (shallow) f.along_y_by_depth = 0;
    return f;
}

void dd_meet_moving_water(const dd_model *model, dd_kinematics *k, dd_vec3 *velocity)
{
    dd_moving_water *m = &k->moving;
    const double *row = k->to_world.m[0], *v = k->motion.twist;
    double first = 0, last = 0;
    dd_vec3 keel = dd_vec(0, 0, 0);
    m->present = 1;
    if (model->hull != NULL) {
        dd_hull_extent(model->hull, &first, &last);
        keel = dd_vec(0.5 * (first + last), 0, dd_hull_keel(model->hull, 0.5 * (first + last)).z);
    }
    const dd_vec3 along = dd_vec(row[0], row[1], row[2]), turn = dd_cross(keel, along);
    m->middle_x = dd_dot(along, keel);
    const double by[6] = {row[0], row[1], row[2], turn.x, turn.y, turn.z}, x = k->origin.x + m->middle_x;
    double middle_speed = 0, ground_slope = 0;
    for (int j = 0; j < 6; j++) {
        m->middle_by[j] = by[j];
        middle_speed += by[j] * v[j];
    }
    const dd_water_surface s = dd_water_surface_at(&model->water, x, k->time);
    m->steepness = sqrt(1 + s.slope * s.slope);
    k->waterplane.up = dd_scale(1 / m->steepness, dd_apply_transposed(&k->to_world, dd_vec(-s.slope, 0, 1)));
    k->waterplane.level = (s.level - k->origin.z - s.slope * m->middle_x) / m->steepness;
    m->level_rate = s.rate;
    m->slope_rate = s.slope_rate + s.curvature * middle_speed;
    m->curvature = s.curvature;
    m->depth_slope = s.slope;
    depth_rates(k, &s, s.rate, m->slope_rate, m->rise);
    depth_rates(k, &s, 0, s.curvature, m->tilt);
    if (model->ramp != NULL) {
        dd_ramp_point ground = dd_ramp_at(model->ramp, k->origin.x);
        ground_slope = ground.slope;
        k->water_depth = s.level - s.slope * m->middle_x - ground.z;
        m->depth_rise = s.rate - m->slope_rate * m->middle_x;
        m->depth_tilt = -s.curvature * m->middle_x;
    }
    const dd_water_flow f = flow_at_middle(model, k, x, keel);
    for (int j = 0; j < 6; j++) {
        m->velocity_by[0][j] = f.along_x_by_x * by[j];
        m->velocity_by[2][j] = s.slope_rate * by[j];
    }
    const double current_rate = set_current(model, k, &f, keel, ground_slope, middle_speed);
    *velocity = dd_vec(f.along_x, f.along_y, s.rate);
    m->acceleration = dd_apply_transposed(&k->to_world, dd_vec(f.along_x_rate + f.along_x_by_x * middle_speed, current_rate,
                                                               s.acceleration + s.slope_rate * middle_speed));
}
