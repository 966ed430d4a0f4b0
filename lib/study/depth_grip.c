/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The vehicle's wheels on the ramp: what they need to hold the rig and to pull it out, and where the ramp gives least. */
#include "lib/shore/shore.h"
#include "lib/study/asides.h"
#include "lib/study/depth.h"
#include <math.h>

dd_depth_grip dd_depth_grip_of(const dd_depth_look *look, int drive)
{
    const double load[2] = {look->seen.v[DD_SEEN_FRONT_WHEELS], look->seen.v[DD_SEEN_REAR_WHEELS]};
    double driven = 0, likely = 0, least = 0;
    for (int i = 0; i < 2; i++)
        if (drive == 2 || drive == i) driven += load[i], likely += look->friction[i] * load[i], least += look->friction_low[i] * load[i];
    if (!(driven > 1)) return (dd_depth_grip){INFINITY, NAN, NAN};
    return (dd_depth_grip){look->pull / driven, likely / driven, least / driven};
}

/* The vehicle on its wheels: force along the path that its wheels pass on, over the load of those that brake, or that drive. */
dd_status dd_depth_read_grip(const dd_depth *d, dd_depth_look *look, dd_error *error)
{
    const dd_study_model *m = d->m;
    const dd_vehicle_parameters *v = &m->rig->vehicle;
    const double x = look->x, slope = dd_ramp_at(m->ramp, x).slope;
    const double at[2] = {dd_vehicle_on_profile(v, m->ramp, x).front_x, x}, load[2] = {look->seen.v[DD_SEEN_FRONT_WHEELS], look->seen.v[DD_SEEN_REAR_WHEELS]};
    double unbalanced[DD_COORDINATES], rolling = 0, own_rolling = 0, held = 0, held_low = 0;
    dd_unbalanced(m->workspace, unbalanced);
    const double along = unbalanced[DD_RIG_X] / sqrt(1 + slope * slope);
    for (int i = 0; i < 2; i++) {
        const dd_grip grip = dd_shore_grip(m->ramp, &m->model.water, at[i], 0);
        const bool holds = !d->way.park || v->park_lock == 2 || v->park_lock == i;
        look->friction[i] = grip.friction, look->friction_low[i] = grip.friction_low;
        rolling += grip.rolling_resistance * load[i];
        if (v->drive == 2 || v->drive == i) own_rolling += grip.rolling_resistance * load[i]; /* that takes torque, not grip */
        if (holds) held += load[i], held_low += grip.friction_low * load[i];
    }
    const double own = m->rig->trailer.rolling_resistance, hub = dd_chassis_point(&m->workspace->kinematics, dd_study_rearmost_hub(m->rig)).x;
    rolling += look->seen.v[DD_SEEN_AXLE_LOAD] * (isnan(own) ? dd_shore_grip(m->ramp, &m->model.water, hub, 0).rolling_resistance : own);
    const double mass = v->mass + m->rig->trailer.mass + dd_hull_mass(m->hull)->mass;
    look->hold_needed = held > 1 ? fabs(along + mass * d->way.stopping) / held : INFINITY;
    look->hold_low = held > 1 ? held_low / held : NAN;
    look->pull = along + rolling + mass * d->way.acceleration;
    const dd_depth_grip own_drive = dd_depth_grip_of(look, v->drive);
    look->drive_needed = own_drive.needed;
    look->drive_low = own_drive.least;
    look->rolls_back = 0, look->start_needed = NAN;
    if (d->way.launch || d->way.loose) return DD_OK;
    dd_depth_start start;
    const dd_status status = dd_depth_start_up(d, mass, along, rolling, look->friction[0] * load[0] + look->friction[1] * load[1], &start, error);
    if (status != DD_OK) return status;
    look->rolls_back = start.rolls;
    look->start_needed = (start.most - own_rolling) * own_drive.needed / look->pull;
    return DD_OK;
}

/* How far the limits of grip are kept, the lesser, at a share of the way between two looks, all but friction and where the front wheels stand by
   straight lines. */
static double kept_between(const dd_depth *d, const dd_depth_look *a, const dd_depth_look *b, const double front[2], double on)
{
    const dd_study_model *m = d->m;
    const double at[2] = {front[0] + on * (front[1] - front[0]), a->x + on * (b->x - a->x)};
    dd_depth_look look = *b;
    double held[2] = {0, 0}, held_low = 0, holds = 0;
    for (int i = 0; i < 2; i++) {
        const int seen = i == 0 ? DD_SEEN_FRONT_WHEELS : DD_SEEN_REAR_WHEELS;
        const double load[2] = {a->seen.v[seen], b->seen.v[seen]};
        look.friction_low[i] = dd_shore_grip(m->ramp, &m->model.water, at[i], 0).friction_low;
        look.seen.v[seen] = load[0] + on * (load[1] - load[0]);
        if (d->way.park && m->rig->vehicle.park_lock != 2 && m->rig->vehicle.park_lock != i) continue;
        held[0] += load[0], held[1] += load[1], holds += look.seen.v[seen], held_low += look.friction_low[i] * look.seen.v[seen];
    }
    const double force[2] = {a->hold_needed * held[0], b->hold_needed * held[1]};
    look.hold_needed = (force[0] + on * (force[1] - force[0])) / holds;
    look.hold_low = held_low / holds;
    look.pull = a->pull + on * (b->pull - a->pull);
    const dd_depth_grip drive = dd_depth_grip_of(&look, m->rig->vehicle.drive);
    look.drive_needed = drive.needed, look.drive_low = drive.least;
    return fmin(dd_depth_kept_home(d, DD_END_HOLD, &look), dd_depth_kept_home(d, DD_END_PULL_OUT, &look));
}

double dd_depth_slips_at(const dd_depth *d, const dd_depth_look *a, const dd_depth_look *b)
{
    enum { PARTS = 20 };
    static const double less = 1e-3; /* of what is kept: a row more is worth its while */
    const dd_vehicle_parameters *v = &d->m->rig->vehicle;
    const double front[2] = {dd_vehicle_on_profile(v, d->m->ramp, a->x).front_x, dd_vehicle_on_profile(v, d->m->ramp, b->x).front_x};
    double least = fmin(kept_between(d, a, b, front, 0), kept_between(d, a, b, front, 1)) - less, x = NAN;
    for (int i = 1; i < PARTS; i++) {
        const double on = (double)i / PARTS, kept = kept_between(d, a, b, front, on);
        if (kept < least) least = kept, x = a->x + on * (b->x - a->x);
    }
    return x;
}
