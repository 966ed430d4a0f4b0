/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rollers, skids and arms under the hull as one force: see roller_patch.h for the contacts, roller_arm.c for arms. */
#include "lib/force/roller_patch.h"
#include "lib/base/error.h"
#include <stdlib.h>
#include <string.h>

static const double wet_blend = 0.05; /* length along a skid over which it goes from dry to wet: some 10 mm of depth on a ramp, m */
static const double wetting = 20;     /* 1/s, at which the wet end of a skid follows the water */

/* --- wet and dry ------------------------------------------------------------------------------------------------ */

dd_smooth dd_skid_friction(const dd_roller *roller, double wet)
{
    dd_smooth share = dd_smooth_step((wet - roller->behind_rear) / wet_blend);
    double change = roller->wet_friction - roller->side_friction;
    return (dd_smooth){roller->side_friction + change * share.value, change * share.slope / wet_blend, 0};
}

double dd_roller_friction_limit(const dd_roller_instance *instance, int index, int bristle, const double *memory)
{
    const dd_roller *roller = &instance->rig->rollers[index];
    if (roller->skid > 0) return dd_skid_friction(roller, memory[dd_roller_wet_first(instance) + roller->skid - 1]).value;
    return bristle == DD_ACROSS ? roller->side_friction : roller->rolling_resistance;
}

static double depth_of(const dd_roller_instance *instance, const dd_kinematics *k, dd_vec3 in_trailer)
{
    dd_vec3 at = dd_trailer_point(k, in_trailer);
    return dd_water_surface_at(&instance->water, at.x, k->time).level - at.z;
}

/* Change of that depth by the rig's coordinates. */
static void depth_by_place(const dd_roller_instance *instance, const dd_kinematics *k, dd_vec3 in_trailer, double by[DD_RIG_COORDINATES])
{
    const dd_vec3 at = dd_trailer_point(k, in_trailer), axis = dd_vec(0, 1, 0);
    const double slope = dd_water_surface_at(&instance->water, at.x, k->time).slope;
    const dd_vec3 moved[DD_RIG_COORDINATES] = {k->vehicle.ball_x, dd_vec(0, 0, 1), dd_cross(axis, dd_sub(at, k->coupling)), dd_vec(1, 0, 0),
                                               dd_cross(axis, dd_sub(at, k->hinge))};
    for (int c = 0; c < DD_RIG_COORDINATES; c++) by[c] = slope * moved[c].x - moved[c].z;
}

/* How far a skid lies under water now, from its rear end; its arm at angle 0. All of it: that much more that all is wet. */
static double under_water(const dd_roller_instance *instance, const dd_skid *skid, const dd_kinematics *k)
{
    double rear = depth_of(instance, k, skid->rear);
    double front = depth_of(instance, k, dd_add(skid->rear, dd_scale(skid->length, skid->along)));
    if (rear <= 0 && front <= 0) return 0;
    double share = rear <= 0 || front >= 0 ? 1 : rear / (rear - front);
    return share * (skid->length + wet_blend);
}

/* At a pose held for good: wet as far as the water stands or stood. */
static void soak_skids(const dd_roller_instance *instance, const dd_kinematics *k, double *memory)
{
    for (int i = 0; i < instance->rig->skid_count; i++) {
        double *wet = &memory[dd_roller_wet_first(instance) + i], now = under_water(instance, &instance->rig->skids[i], k);
        *wet = instance->rig->skids[i].stays_wet ? fmax(*wet, now) : now;
    }
}

static void wet_by_place(const dd_roller_instance *instance, const dd_skid *skid, const dd_kinematics *k, double by[DD_RIG_COORDINATES])
{
    const dd_vec3 front_end = dd_add(skid->rear, dd_scale(skid->length, skid->along));
    const double rear = depth_of(instance, k, skid->rear), front = depth_of(instance, k, front_end), over = rear - front;
    if (rear <= 0 || front >= 0) return;
    double rear_by[DD_RIG_COORDINATES], front_by[DD_RIG_COORDINATES];
    depth_by_place(instance, k, skid->rear, rear_by);
    depth_by_place(instance, k, front_end, front_by);
    for (int c = 0; c < DD_RIG_COORDINATES; c++)
        by[c] = wetting * (skid->length + wet_blend) * (rear * front_by[c] - front * rear_by[c]) / (over * over);
}

static void wet_skids(const dd_roller_instance *instance, const dd_kinematics *k, const dd_memory *memory)
{
    const int first = dd_roller_wet_first(instance);
    for (int i = 0; i < instance->rig->skid_count; i++) {
        const dd_skid *skid = &instance->rig->skids[i];
        double more = under_water(instance, skid, k) - memory->value[first + i];
        if (more < 0 && skid->stays_wet) continue;
        memory->rate[first + i] = wetting * more;
        if (memory->rate_by_value) memory->rate_by_value[first + i] = -wetting;
        if (memory->rate_by_place) wet_by_place(instance, skid, k, memory->rate_by_place[first + i]);
    }
}

/* --- where they stand ------------------------------------------------------------------------------------------- */

void dd_roller_stands(const dd_roller_instance *instance, int index, const double *memory, dd_vec3 *centre, dd_vec3 *axis)
{
    const dd_roller *roller = &instance->rig->rollers[index];
    *centre = roller->centre;
    *axis = roller->axis;
    if (roller->arm > 0 && memory != NULL)
        dd_arm_turn(&instance->rig->arms[roller->arm - 1], memory[dd_roller_arm_first(instance) + roller->arm - 1], centre, axis);
}

/* Its slip across, m/m, as the hull slides over it where they touch, in the plane of the hull's keel: that alone gives the way, whatever the hull sinks and
   trims by. across, rolling: directions in the plane of contact, of any one length. */
static double slip_of(dd_vec3 across, dd_vec3 rolling)
{
    const dd_vec3 normal = dd_cross(across, rolling), way = dd_vec(-normal.z, 0, normal.x);
    const double rolls = fabs(dd_dot(rolling, way));
    return rolls > 0 ? dd_dot(across, way) / rolls : 0;
}

/* The loads of an arm's rollers have the arm's turning in them: there the contacts are looked at. */
static double slip_on_arm(const dd_roller_instance *instance, int index, const dd_kinematics *k, const double *memory)
{
    dd_roller_state s = {.value = memory + DD_BRISTLES * index};
    dd_vec3 centre, axis;
    double sum = 0, slip = 0;
    dd_roller_stands(instance, index, memory, &centre, &axis);
    dd_roller_press(&s, instance, &instance->rig->rollers[index], k, centre, axis, 0);
    for (int b = 0; b < DD_BRISTLES; b++) s.limit[b] = dd_roller_friction_limit(instance, index, b, memory);
    dd_roller_rub(&s, &instance->law);
    for (int i = 0; i < s.patch_count; i++) sum += s.patches[i].load, slip += s.patches[i].load * slip_of(s.patches[i].across, s.patches[i].rolling);
    return sum > 0 ? slip / sum : 0;
}

double dd_roller_drawn_over(const dd_roller_instance *instance, int index, const dd_kinematics *k, const double *memory, double (*by)[6])
{
    const dd_roller *roller = &instance->rig->rollers[index];
    const dd_vec3 across = dd_vec(by[DD_ACROSS][0], by[DD_ACROSS][1], by[DD_ACROSS][2]), rolling = dd_vec(by[DD_ROLLING][0], by[DD_ROLLING][1], by[DD_ROLLING][2]);
    if (roller->keel || roller->skid > 0 || !(dd_norm(across) > 0)) return 0;
    const double slip = roller->arm > 0 ? slip_on_arm(instance, index, k, memory) : slip_of(dd_scale(-1, across), dd_scale(-1, rolling));
    return copysign(dd_bristle_steady(&instance->law, dd_roller_friction_limit(instance, index, DD_ACROSS, memory), fabs(slip), roller->relaxation_length), slip);
}

/* --- gradient of what stands fast ------------------------------------------------------------------------------- */

static void by_memory(const dd_roller_state *s, const dd_memory *memory, int first, int wet, int count)
{
    double load[6], rate[DD_BRISTLES];
    for (int m = 0; m < DD_BRISTLES + (wet >= 0); m++) {
        dd_variation change = {.value = {m == DD_ACROSS, m == DD_ROLLING}};
        if (m == DD_BRISTLES) change.limit = dd_skid_friction(s->roller, memory->value[wet]).slope;
        const int column = m < DD_BRISTLES ? first + m : wet;
        dd_roller_vary(s, &change, load, rate);
        for (int i = 0; i < 6 && memory->load_by_value; i++) memory->load_by_value[column][i] += load[i];
        for (int b = 0; b < DD_BRISTLES; b++) {
            if (b == m && memory->rate_by_value) memory->rate_by_value[first + b] = rate[b];
            if (b != m && memory->rate_by_values) memory->rate_by_values[(first + b) * count + column] = rate[b];
        }
    }
}

static void differentiate_moving(const dd_roller_state *s, dd_gradient *gradient, const dd_memory *memory, int first, int wet, int count)
{
    const dd_vec3 zero = {0, 0, 0};
    double wrench[6], rate[DD_BRISTLES];
    for (int j = 0; j < 6; j++) {
        dd_vec3 e = dd_vec(j % 3 == 0, j % 3 == 1, j % 3 == 2);
        dd_variation moved = {.p = j < 3 ? dd_scale(-1, e) : dd_cross(s->p, e), .axle = j < 3 ? zero : dd_cross(s->axle, e)};
        dd_roller_vary(s, &moved, wrench, rate);
        for (int i = 0; i < 6; i++) gradient->K[i][j] -= wrench[i];
        for (int b = 0; b < DD_BRISTLES && memory->rate_by_pose; b++) memory->rate_by_pose[first + b][j] = rate[b];
        dd_roller_vary_twist(s, j < 3 ? e : zero, j < 3 ? zero : e, wrench, rate);
        for (int i = 0; i < 6; i++) gradient->D[i][j] -= wrench[i];
        if (memory->rate_by_twist)
            for (int b = 0; b < DD_BRISTLES; b++) memory->rate_by_twist[first + b][j] += rate[b];
    }
    by_memory(s, memory, first, wet, count);
}

static int memory_count(const void *instance_)
{
    const dd_roller_instance *instance = instance_;
    return dd_roller_arm_first(instance) + instance->rig->arm_count;
}

static void differentiate(const dd_roller_state *s, const dd_roller_instance *instance, int index, const dd_kinematics *k,
                          dd_gradient *gradient, const dd_memory *memory)
{
    const int first = DD_BRISTLES * index, skid = s->roller->skid;
    if (!k->at_rest) {
        differentiate_moving(s, gradient, memory, first, skid > 0 ? dd_roller_wet_first(instance) + skid - 1 : -1, memory_count(instance));
        return;
    }
    const bool grip = memory->rate_by_twist != NULL && (k->leave_out & DD_LEAVE_OUT_GRIP) == 0;
    dd_roller_stiffen(s, k->leave_out, gradient->K);
    if (memory->load_by_value != NULL)
        dd_roller_vary_at_rest(s, grip ? memory->rate_by_twist + first : NULL, memory->load_by_value + first);
}

/* --- the force -------------------------------------------------------------------------------------------------- */

static int roller_count(const void *instance) { return ((const dd_roller_instance *)instance)->rig->roller_count; }
enum { LOAD, SIDE_FORCE, ROLLING_FORCE, SQUASH, ARM_ANGLE, WET_SHARE, ON_BRACKET, BRACKET_LOAD, CHANNELS };
static const dd_channel channels_of_roller[CHANNELS + 1] = {
    [LOAD] = {"load_N", "N", "force between roller and hull along the hull's normal"},
    [SIDE_FORCE] = {"side_force_to_port_N", "N", "grip along the roller's axle, on the hull, to the boat's port"},
    [ROLLING_FORCE] = {"rolling_force_forward_N", "N", "rolling resistance on the hull, towards the bow"},
    [SQUASH] = {"squash_mm", "mm", "squash of the roller"},
    [ARM_ANGLE] = {"arm_angle_deg", "deg", "angle of the arm that it stands on, rear or outer end down or up as the arm turns"},
    [WET_SHARE] = {"wet_share", "", "how far a skid is wet there, 0 to 1"},
    [ON_BRACKET] = {"on_bracket", "", "share of the load that the bracket beside the roller bears, 0 to 1"},
    [BRACKET_LOAD] = {"bracket_load_N", "N", "part of the load that the bracket beside the roller bears"},
};

static void fill_channels(const dd_roller_instance *instance, const dd_roller_state *s, const double *memory, double *channels)
{
    const dd_roller *roller = s->roller;
    memset(channels, 0, CHANNELS * sizeof(double));
    for (int i = 0; i < s->patch_count; i++) {
        const dd_patch *q = &s->patches[i];
        channels[LOAD] += q->load;
        if (q->slides && roller->skid == 0) channels[BRACKET_LOAD] += q->load;
        channels[SIDE_FORCE] -= copysign(q->load, q->across.y) * q->coefficient[DD_ACROSS];
        channels[ROLLING_FORCE] -= copysign(q->load, q->rolling.x) * q->coefficient[DD_ROLLING];
        if (q->share > 0) channels[SQUASH] = fmax(channels[SQUASH], 1e3 * q->depth);
    }
    if (channels[LOAD] > 0) channels[ON_BRACKET] = channels[BRACKET_LOAD] / channels[LOAD];
    if (roller->arm > 0) channels[ARM_ANGLE] = memory[dd_roller_arm_first(instance) + roller->arm - 1] * (180 / acos(-1.0));
    if (roller->skid > 0)
        channels[WET_SHARE] =
            dd_smooth_step((memory[dd_roller_wet_first(instance) + roller->skid - 1] - roller->behind_rear) / wet_blend).value;
}

/* A roller that no arm carries. */
static void evaluate_fixed(const dd_roller_instance *instance, int index, const dd_kinematics *k, const dd_memory *memory, dd_load *load,
                           dd_gradient *gradient, double *channels)
{
    const dd_roller *roller = &instance->rig->rollers[index];
    const double *twist = k->relative_twist;
    const int first = DD_BRISTLES * index;
    dd_roller_state s;
    dd_roller_press(&s, instance, roller, k, roller->centre, roller->axis, gradient != NULL);
    if (s.patch_count > 0) {
        s.value = memory->value + first;
        s.linear = dd_vec(twist[0], twist[1], twist[2]);
        s.angular = dd_vec(twist[3], twist[4], twist[5]);
        for (int b = 0; b < DD_BRISTLES; b++) s.limit[b] = dd_roller_friction_limit(instance, index, b, memory->value);
        dd_roller_rub(&s, &instance->law);
        dd_roller_add(&s, load, memory->rate + first);
        if (gradient) differentiate(&s, instance, index, k, gradient, memory);
    }
    if (channels) fill_channels(instance, &s, memory->value, channels + CHANNELS * index);
}

static int couples(const void *instance_)
{
    const dd_roller_instance *instance = instance_;
    return instance->rig->skid_count > 0 || instance->rig->arm_count > 0;
}

static void evaluate(const void *instance_, const dd_kinematics *kinematics, const dd_commands *commands,
                     const dd_memory *memory, dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)commands;
    const dd_roller_instance *instance = instance_;
    if (memory->rests != NULL) soak_skids(instance, kinematics, memory->rests);
    dd_bristles_release(DD_BRISTLES * instance->rig->roller_count, memory->value, memory->rate, memory->rate_by_value);
    for (int i = 0; i < instance->rig->roller_count; i++)
        if (instance->rig->rollers[i].arm == 0) evaluate_fixed(instance, i, kinematics, memory, load, gradient, channels);
    for (int arm = 0; arm < instance->rig->arm_count; arm++)
        (memory->rests != NULL ? dd_arm_evaluate_resting : dd_arm_evaluate)(instance, arm, kinematics, memory, load, gradient, channels, CHANNELS,
                                                                            fill_channels);
    wet_skids(instance, kinematics, memory);
}

/* At a pose held for good: arms where their moments balance, skids wet as far as the water stands or stood. */
static void rest(const void *instance_, const dd_kinematics *kinematics, const dd_commands *commands, double *memory)
{
    (void)commands;
    const dd_roller_instance *instance = instance_;
    soak_skids(instance, kinematics, memory);
    for (int arm = 0; arm < instance->rig->arm_count; arm++)
        memory[dd_roller_arm_first(instance) + arm] = dd_arm_at_rest(instance, arm, kinematics, memory);
}

static int follows(const void *instance, int index) { return index >= dd_roller_arm_first(instance); }

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
    dd_roller_instance *made = calloc(1, sizeof *made);
    if (!made) return dd_fail(error, DD_ERROR_MEMORY, "roller force", "no memory for %zu bytes", sizeof *made);
    dd_water_copy(&made->water, &model->water);
    made->hull = model->hull;
    made->rig = model->rig;
    made->gravity = model->gravity;
    made->law = ((const dd_roller_coefficients *)parameters)->law;
    made->stem = dd_hull_stem_figures(model->hull);
    dd_hull_extent(model->hull, &made->first, &made->last);
    made->arm_law = made->law;
    made->arm_law.never_falls = 1;
    *instance = made;
    return DD_OK;
}

/* Deflection at the limit: the size that a tolerance is measured by. */
static double memory_scale(const void *instance_, int index)
{
    const dd_roller_instance *instance = instance_;
    if (index >= dd_roller_arm_first(instance)) return 1e-2; /* rad */
    if (index >= dd_roller_wet_first(instance)) return 0.1;  /* m */
    const dd_roller *roller = &instance->rig->rollers[index / DD_BRISTLES];
    double limit = index % DD_BRISTLES == DD_ACROSS ? roller->side_friction : roller->rolling_resistance;
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
    .help = "rollers and skids under the hull and the arms they stand on: normal load, side grip, rolling resistance, sliding",
    .formula = "normal load k d^1.5 (1 + c d') by the squash d; rolling resistance and side grip by a bristle each, side grip renewed over the relaxation length; skids: sliding friction, wet or dry; arms share their rollers' loads about their pivot",
    .valid = "squash small against the roller; hull panels are stiff beside it",
    .covered_by = "tests/unit/force/test_contact.c",
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
    .coupled_memory = 1,
    .couples = couples,
    .rest = rest,
    .follows = follows,
    .rests = couples,
    .rests_as_evaluated = 1,
    .unit_count = roller_count,
    .unit_name = unit_name,
    .evaluate = evaluate,
    .regimes = dd_roller_regimes,
};
