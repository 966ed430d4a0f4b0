/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rollers under the hull: normal load, side grip and rolling resistance of each.

   In boat axes a roller is a ball centre p and an axle direction, and everything depends on these two, on the hull's
   relative twist and on the two bristles. A hull displacement (dr, dphi) moves p by -dr - dphi x p and turns the axle
   by -dphi x axle; `vary` carries any such change through to load and bristle rates, so K, D and the memory's gradients
   are exact.

   Stored energy of a contact: share(p) 2/5 k d^2.5 with d the squash along the true distance. The normal force is its
   gradient, which passes through p; friction acts at the hull's surface, one radius up. `share` is the surface's cover
   at p, times the part of this panel (the two panels take over from one another across the keel) or, for a keel roller,
   the fade beyond its width. */
#include "lib/force/roller.h"
#include "lib/base/error.h"
#include "lib/force/contact.h"
#include "lib/force/smooth.h"
#include <stdlib.h>
#include <string.h>

enum { ACROSS, ROLLING, BRISTLES };

static const double keel_blend = 0.03;      /* half width over which one panel takes over from the other, m */
static const double width_fade = 0.02;      /* beyond a keel roller's width, m */
static const double clear_share = 0.25;     /* gap beyond which a contact is skipped, share of the radius */
static const double standing_speed = 1e-4;  /* rolling slower than this renews next to nothing, m/s */
static const double touching_squash = 5e-5; /* from which the bristles are held, m */

typedef struct patch {
    /* squash and its share */
    double share, depth, load;
    dd_vec3 share_by_p;
    double share_xx, share_xy, share_yy;
    dd_squash squash;
    dd_nearest nearest;
    /* friction */
    dd_vec3 point, velocity, across, rolling; /* contact point, hull's velocity there, directions in the tangent plane */
    double across_length, renewal, renewal_by_speed;
    dd_bristle bristle[BRISTLES];
    dd_vec3 normal_force, friction;
} patch;

typedef struct roller_state {
    const dd_roller *roller;
    dd_vec3 p, axle, linear, angular; /* boat axes */
    const double *value;              /* of its bristles */
    int patch_count;
    patch patches[2];
    double contact[2]; /* 0..1 for the bristles, by patch */
} roller_state;

/* A change of a roller's surroundings, and what it does to load and bristle rates. */
typedef struct variation {
    dd_vec3 p, axle, linear, angular;
    double value[BRISTLES];
} variation;

/* --- share ------------------------------------------------------------------------------------------------------ */

static dd_smooth panel_share(int side, double y)
{
    dd_smooth s = dd_smooth_step(0.5 + side * y / (2 * keel_blend));
    s.slope *= side / (2 * keel_blend);
    s.curvature /= 4 * keel_blend * keel_blend;
    return s;
}

static dd_smooth width_share(double width, double y)
{
    if (!(width > 0)) return (dd_smooth){1, 0, 0};
    dd_smooth s = dd_smooth_step(1 - (fabs(y) - 0.5 * width) / width_fade);
    s.slope *= (y < 0 ? 1 : -1) / width_fade;
    s.curvature /= width_fade * width_fade;
    return s;
}

/* The cover's second derivatives are taken by differences of its exact first ones: they matter only within the fade,
   and there only to K. */
static void share_curvature(patch *q, const dd_hull *hull, int side, const dd_bottom_point *b, dd_smooth lateral, double x,
                            double y)
{
    double xx = 0, xy = 0, yy = 0;
    if (b->cover < 1) {
        const double h = 1e-6;
        dd_bottom_point east = dd_surface_at(hull, side, x + h, y), west = dd_surface_at(hull, side, x - h, y);
        dd_bottom_point north = dd_surface_at(hull, side, x, y + h), south = dd_surface_at(hull, side, x, y - h);
        xx = (east.cover_x - west.cover_x) / (2 * h);
        xy = (north.cover_x - south.cover_x) / (2 * h);
        yy = (north.cover_y - south.cover_y) / (2 * h);
    }
    q->share_xx = xx * lateral.value;
    q->share_xy = xy * lateral.value + b->cover_x * lateral.slope;
    q->share_yy = yy * lateral.value + 2 * b->cover_y * lateral.slope + b->cover * lateral.curvature;
}

/* --- contact ---------------------------------------------------------------------------------------------------- */

/* Squash of the roller against one surface; 0 if it is clear. */
static int press(patch *q, const dd_hull *hull, const roller_state *s, int side, int with_gradient)
{
    const dd_roller *roller = s->roller;
    dd_smooth lateral = side == 0 ? width_share(roller->width, s->p.y) : panel_share(side, s->p.y);
    if (lateral.value <= 0) return 0;
    dd_bottom_point b = dd_surface_at(hull, side, s->p.x, s->p.y);
    double first_order = (b.z - s->p.z) / sqrt(1 + b.zx * b.zx + b.zy * b.zy) - roller->radius;
    if (b.cover <= 0 || first_order > clear_share * roller->radius) return 0;
    q->nearest = dd_nearest_at(hull, side, s->p, b, with_gradient);
    q->depth = roller->radius - q->nearest.distance;
    if (q->depth <= 0) return 0;
    q->share = b.cover * lateral.value;
    q->share_by_p = dd_vec(b.cover_x * lateral.value, b.cover_y * lateral.value + b.cover * lateral.slope, 0);
    if (with_gradient) share_curvature(q, hull, side, &b, lateral, s->p.x, s->p.y);
    double rate = dd_dot(q->nearest.normal, dd_add(s->linear, dd_cross(s->angular, s->p)));
    q->squash = dd_squash_at(roller->stiffness, roller->damping, q->depth, rate);
    q->load = q->share * q->squash.elastic * q->squash.factor;
    q->normal_force = dd_add(dd_scale(-q->load, q->nearest.normal), dd_scale(q->squash.energy, q->share_by_p));
    return 1;
}

static void rub(patch *q, const roller_state *s, const dd_bristle_law *law, double contact)
{
    const dd_roller *roller = s->roller;
    const dd_vec3 n = q->nearest.normal;
    dd_vec3 tangent = dd_sub(s->axle, dd_scale(dd_dot(s->axle, n), n));
    q->across_length = fmax(dd_norm(tangent), 1e-6); /* an axle along the normal has no direction across */
    q->across = dd_scale(1 / q->across_length, tangent);
    q->rolling = dd_cross(n, q->across);
    q->point = dd_sub(s->p, dd_scale(roller->radius, n));
    q->velocity = dd_add(s->linear, dd_cross(s->angular, q->point));
    double along = dd_dot(q->rolling, q->velocity);
    dd_smooth speed = dd_smooth_absolute(along, standing_speed);
    q->renewal = speed.value / roller->relaxation_length;
    q->renewal_by_speed = speed.slope / roller->relaxation_length;
    q->bristle[ACROSS] =
        dd_bristle_at(law, roller->side_friction, s->value[ACROSS], dd_dot(q->across, q->velocity), q->renewal, contact);
    q->bristle[ROLLING] = dd_bristle_at(law, roller->rolling_resistance, s->value[ROLLING], along, 0, contact);
    q->friction = dd_scale(-q->load, dd_add(dd_scale(q->bristle[ACROSS].coefficient, q->across),
                                            dd_scale(q->bristle[ROLLING].coefficient, q->rolling)));
}

static void meet(roller_state *s, const dd_roller_instance *instance, const dd_roller *roller, const dd_kinematics *k,
                 const double *value, int with_gradient)
{
    const double *twist = k->relative_twist;
    s->roller = roller;
    s->patch_count = 0;
    s->value = value;
    s->p = dd_apply_transposed(&k->to_trailer, dd_sub(roller->centre, k->pose.position));
    s->axle = dd_apply_transposed(&k->to_trailer, roller->axis);
    s->linear = dd_vec(twist[0], twist[1], twist[2]);
    s->angular = dd_vec(twist[3], twist[4], twist[5]);
    for (int side = roller->keel ? 0 : -1; side <= (roller->keel ? 0 : 1); side += 2)
        s->patch_count += press(&s->patches[s->patch_count], instance->hull, s, side, with_gradient);
    /* The bristles are held from the elastic load alone, so that how well they are held does not depend on the rates. */
    double least = roller->stiffness * touching_squash * sqrt(touching_squash), sum = 0;
    for (int i = 0; i < s->patch_count; i++) sum += s->patches[i].share * s->patches[i].squash.elastic;
    for (int i = 0; i < s->patch_count; i++) {
        double elastic = s->patches[i].share * s->patches[i].squash.elastic;
        s->contact[i] = sum > 0 ? dd_smooth_step(sum / least).value * elastic / sum : 0;
        rub(&s->patches[i], s, &instance->law, s->contact[i]);
    }
}

/* --- gradient --------------------------------------------------------------------------------------------------- */

static void vary_normal(const patch *q, const roller_state *s, const variation *d, dd_vec3 *dn, double *dload, double wrench[6])
{
    const dd_squash *e = &q->squash;
    const dd_vec3 n = q->nearest.normal;
    dd_vec3 u = dd_add(s->linear, dd_cross(s->angular, s->p));
    dd_vec3 du = dd_add(dd_add(d->linear, dd_cross(d->angular, s->p)), dd_cross(s->angular, d->p));
    *dn = dd_apply(&q->nearest.turning, d->p);
    double depth = -dd_dot(n, d->p), rate = dd_dot(*dn, u) + dd_dot(n, du), share = dd_dot(q->share_by_p, d->p);
    *dload = share * e->elastic * e->factor + q->share * e->elastic_by_depth * depth * e->factor +
             q->share * e->elastic * e->factor_by_rate * rate;
    dd_vec3 dshare = dd_vec(q->share_xx * d->p.x + q->share_xy * d->p.y, q->share_xy * d->p.x + q->share_yy * d->p.y, 0);
    dd_vec3 force = dd_add(dd_add(dd_scale(-*dload, n), dd_scale(-q->load, *dn)),
                           dd_add(dd_scale(e->elastic * depth, q->share_by_p), dd_scale(e->energy, dshare)));
    dd_wrench_add(wrench, force, s->p);
    dd_vec3 moved = dd_cross(d->p, q->normal_force);
    wrench[3] += moved.x, wrench[4] += moved.y, wrench[5] += moved.z;
}

static void vary_friction(const patch *q, const roller_state *s, const variation *d, dd_vec3 dn, double dload, double wrench[6],
                          double rate[BRISTLES])
{
    const dd_vec3 n = q->nearest.normal;
    const dd_bristle *a = &q->bristle[ACROSS], *r = &q->bristle[ROLLING];
    dd_vec3 point = dd_sub(d->p, dd_scale(s->roller->radius, dn));
    dd_vec3 velocity = dd_add(dd_add(d->linear, dd_cross(d->angular, q->point)), dd_cross(s->angular, point));
    dd_vec3 tangent =
        dd_sub(dd_sub(d->axle, dd_scale(dd_dot(d->axle, n) + dd_dot(s->axle, dn), n)), dd_scale(dd_dot(s->axle, n), dn));
    dd_vec3 across = dd_scale(1 / q->across_length, dd_sub(tangent, dd_scale(dd_dot(q->across, tangent), q->across)));
    dd_vec3 rolling = dd_add(dd_cross(dn, q->across), dd_cross(n, across));
    double side = dd_dot(across, q->velocity) + dd_dot(q->across, velocity);
    double along = dd_dot(rolling, q->velocity) + dd_dot(q->rolling, velocity);
    double renewal = q->renewal_by_speed * along;
    double da =
        a->coefficient_by_value * d->value[ACROSS] + a->coefficient_by_speed * side + a->coefficient_by_renewal * renewal;
    double dr = r->coefficient_by_value * d->value[ROLLING] + r->coefficient_by_speed * along;
    rate[ACROSS] += a->rate_by_speed * side + a->rate_by_renewal * renewal;
    rate[ROLLING] += r->rate_by_speed * along;
    dd_vec3 sum = dd_add(dd_scale(a->coefficient, q->across), dd_scale(r->coefficient, q->rolling));
    dd_vec3 dsum = dd_add(dd_add(dd_scale(da, q->across), dd_scale(a->coefficient, across)),
                          dd_add(dd_scale(dr, q->rolling), dd_scale(r->coefficient, rolling)));
    dd_wrench_add(wrench, dd_sub(dd_scale(-dload, sum), dd_scale(q->load, dsum)), q->point);
    dd_vec3 moved = dd_cross(point, q->friction);
    wrench[3] += moved.x, wrench[4] += moved.y, wrench[5] += moved.z;
}

/* Change of the roller's load, and of its bristles' rates by twist. */
static void vary(const roller_state *s, const variation *d, double wrench[6], double rate[BRISTLES])
{
    memset(wrench, 0, 6 * sizeof(double));
    memset(rate, 0, BRISTLES * sizeof(double));
    for (int i = 0; i < s->patch_count; i++) {
        dd_vec3 dn;
        double dload;
        vary_normal(&s->patches[i], s, d, &dn, &dload, wrench);
        vary_friction(&s->patches[i], s, d, dn, dload, wrench, rate);
    }
}

static void differentiate(const roller_state *s, dd_gradient *gradient, dd_memory *memory, int first)
{
    const dd_vec3 zero = {0, 0, 0};
    double wrench[6], rate[BRISTLES];
    for (int j = 0; j < 6; j++) {
        dd_vec3 e = dd_vec(j % 3 == 0, j % 3 == 1, j % 3 == 2);
        variation moved = {.p = j < 3 ? dd_scale(-1, e) : dd_cross(s->p, e), .axle = j < 3 ? zero : dd_cross(s->axle, e)};
        vary(s, &moved, wrench, rate);
        for (int i = 0; i < 6; i++) gradient->K[i][j] -= wrench[i];
        variation faster = {.linear = j < 3 ? e : zero, .angular = j < 3 ? zero : e};
        vary(s, &faster, wrench, rate);
        for (int i = 0; i < 6; i++) gradient->D[i][j] -= wrench[i];
        if (memory->rate_by_twist)
            for (int b = 0; b < BRISTLES; b++) memory->rate_by_twist[first + b][j] += rate[b];
    }
    if (memory->load_by_value)
        for (int b = 0; b < BRISTLES; b++) {
            variation bent = {.value = {b == ACROSS, b == ROLLING}};
            vary(s, &bent, memory->load_by_value[first + b], rate);
        }
}

/* --- the force -------------------------------------------------------------------------------------------------- */

/* Load, heat and bristle rates of one roller. The heat is the power that the bristles take less what the squash stores:
   bristles that spring back return a little, so it may be negative for an instant, never over a cycle at a steady load. */
static void add_roller(const roller_state *s, dd_load *load, dd_memory *memory, int first)
{
    for (int b = 0; b < BRISTLES; b++) memory->rate[first + b] = -DD_BRISTLE_RELEASE * s->value[b];
    for (int i = 0; i < s->patch_count; i++) {
        const patch *q = &s->patches[i];
        dd_wrench_add(load->hull, q->normal_force, s->p);
        dd_wrench_add(load->hull, q->friction, q->point);
        load->energy += q->share * q->squash.energy;
        dd_vec3 u = dd_add(s->linear, dd_cross(s->angular, s->p));
        load->heat +=
            (q->load - q->share * q->squash.elastic) * dd_dot(q->nearest.normal, u) - dd_dot(q->friction, q->velocity);
        for (int b = 0; b < BRISTLES; b++) memory->rate[first + b] += q->bristle[b].rate + DD_BRISTLE_RELEASE * s->value[b];
    }
}

static void clear_memory(dd_memory *memory, int count)
{
    for (int m = 0; m < count; m++) {
        if (memory->load_by_value) memset(memory->load_by_value[m], 0, sizeof memory->load_by_value[m]);
        if (memory->rig_by_value) memset(memory->rig_by_value[m], 0, sizeof memory->rig_by_value[m]);
        if (memory->rate_by_twist) memset(memory->rate_by_twist[m], 0, sizeof memory->rate_by_twist[m]);
        if (memory->rate_by_rig) memset(memory->rate_by_rig[m], 0, sizeof memory->rate_by_rig[m]);
        if (memory->rate_by_value) memory->rate_by_value[m] = -DD_BRISTLE_RELEASE;
    }
}

enum { LOAD, SIDE_FORCE, ROLLING_FORCE, SQUASH, CHANNELS };
static const dd_channel channels_of_roller[CHANNELS + 1] = {
    [LOAD] = {"load_N", "N", "force between roller and hull along the hull's normal"},
    [SIDE_FORCE] = {"side_force_to_port_N", "N", "grip along the roller's axle, on the hull, to the boat's port"},
    [ROLLING_FORCE] = {"rolling_force_forward_N", "N", "rolling resistance on the hull, towards the bow"},
    [SQUASH] = {"squash_mm", "mm", "squash of the roller"},
};

static void fill_channels(const roller_state *s, double *channels)
{
    memset(channels, 0, CHANNELS * sizeof(double));
    for (int i = 0; i < s->patch_count; i++) {
        const patch *q = &s->patches[i];
        channels[LOAD] += q->load;
        channels[SIDE_FORCE] -= copysign(q->load, q->across.y) * q->bristle[ACROSS].coefficient;
        channels[ROLLING_FORCE] -= copysign(q->load, q->rolling.x) * q->bristle[ROLLING].coefficient;
        if (q->share > 0) channels[SQUASH] = fmax(channels[SQUASH], 1e3 * q->depth);
    }
}

static void evaluate(const void *instance_, const dd_kinematics *kinematics, const dd_commands *commands,
                     const dd_memory *memory_, dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)commands;
    const dd_roller_instance *instance = instance_;
    dd_memory memory = *memory_;
    if (gradient) clear_memory(&memory, BRISTLES * instance->rig->roller_count);
    for (int i = 0; i < instance->rig->roller_count; i++) {
        roller_state s;
        int first = BRISTLES * i;
        meet(&s, instance, &instance->rig->rollers[i], kinematics, memory.value + first, gradient != NULL);
        add_roller(&s, load, &memory, first);
        if (gradient && s.patch_count > 0) {
            differentiate(&s, gradient, &memory, first);
            if (memory.rate_by_value)
                for (int q = 0; q < s.patch_count; q++)
                    for (int b = 0; b < BRISTLES; b++)
                        memory.rate_by_value[first + b] += s.patches[q].bristle[b].rate_by_value + DD_BRISTLE_RELEASE;
        }
        if (channels) fill_channels(&s, channels + CHANNELS * i);
    }
}

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    *instance = NULL;
    if (!model->hull || !model->rig || model->rig->roller_count == 0) return DD_OK;
    for (int i = 0; i < model->rig->roller_count; i++) {
        const dd_roller *roller = &model->rig->rollers[i];
        if (!(roller->stiffness > 0 && roller->radius > 0 && roller->relaxation_length > 0))
            return dd_fail(error, DD_ERROR_ARGUMENT, "roller force",
                           "%s: stiffness %g, radius %g m and relaxation length %g m must be above 0", roller->name,
                           roller->stiffness, roller->radius, roller->relaxation_length);
    }
    dd_roller_instance *made = malloc(sizeof *made);
    if (!made) return dd_fail(error, DD_ERROR_MEMORY, "roller force", "no memory for %zu bytes", sizeof *made);
    *made =
        (dd_roller_instance){.hull = model->hull, .rig = model->rig, .law = ((const dd_roller_coefficients *)parameters)->law};
    *instance = made;
    return DD_OK;
}

static int roller_count(const void *instance) { return ((const dd_roller_instance *)instance)->rig->roller_count; }
static int memory_count(const void *instance) { return BRISTLES * roller_count(instance); }
/* Deflection at the limit: the size that a tolerance is measured by. */
static double memory_scale(const void *instance_, int index)
{
    const dd_roller_instance *instance = instance_;
    const dd_roller *roller = &instance->rig->rollers[index / BRISTLES];
    double limit = index % BRISTLES == ACROSS ? roller->side_friction : roller->rolling_resistance;
    return fmax(limit, 0.01) / instance->law.stiffness;
}
static const char *unit_name(const void *instance, int unit)
{
    return ((const dd_roller_instance *)instance)->rig->rollers[unit].name;
}

static const dd_key keys[] = {DD_BRISTLE_KEYS(dd_roller_coefficients, law), {0}};
static const char *const sources[] = {"bristle figures", "elasto-plastic friction", "relaxation length",
                                      "contact damping", "elementary mechanics",    NULL};

const dd_force_kind dd_force_roller = {
    .name = "roller",
    .help = "rollers under the hull: normal load, side grip, rolling resistance",
    .acts_on = DD_ACTS_BETWEEN,
    .passive = 0, /* bristles return energy that they took at a lighter load */
    .parameters_size = sizeof(dd_roller_coefficients),
    .keys = keys,
    .sources = sources,
    .channels = channels_of_roller,
    .prepare = prepare,
    .free = free,
    .memory_count = memory_count,
    .memory_scale = memory_scale,
    .unit_count = roller_count,
    .unit_name = unit_name,
    .evaluate = evaluate,
    .regimes = dd_roller_regimes,
};
