/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The trailer's frame on the ground: at an edge when its wheels stand in a hole, at a crest, at the rear end in a hollow.

   PLACES points along the underside. Depth d of each below the profile, along the normal n at the closest point; load
       N = k g(d) P(1 + beta d'),   g = w (u^3 - u^4/2) up to u = d/w = 1, d - w/2 beyond,   P: max(0, .), rounded,
   never a pull, and (N - k g) d' >= 0. Along the ground a bristle (bristle.h) with the friction of metal on it. */
#include "lib/force/axles.h"
#include "lib/force/bristle.h"
#include "lib/force/draw.h"
#include "lib/force/smooth.h"
#include "lib/base/error.h"
#include <stdlib.h>

enum { PLACES = 8 };
#define SETS_IN 0.002    /* w, m */
#define FIRST_SHARE 0.3  /* of the first axle's distance: where the underside begins */

typedef struct frame_parameters {
    dd_bristle_law law;
    double stiffness, rebound, friction;
} frame_parameters;

typedef struct frame_instance {
    const dd_ramp *ramp;
    dd_vec3 place[PLACES]; /* chassis frame */
    frame_parameters parameters;
} frame_instance;

/* clang-format off */
static const dd_key keys[] = {
    DD_BRISTLE_KEYS(frame_parameters, law),
    {.name = "stiffness", .type = DD_KEY_QUANTITY, .dimension = DD_STIFFNESS, .offset = offsetof(frame_parameters, stiffness),
     .least = 1e4, .most = 1e8, .fallback = 2e6, .source = "design memory", .help = "of frame and ground at one place"},
    {.name = "damping", .type = DD_KEY_QUANTITY, .dimension = DD_NUMBER, .offset = offsetof(frame_parameters, rebound),
     .least = 0, .most = 100, .fallback = 3, .source = "contact damping figure",
     .help = "beta of the contact force k d (1 + beta d'), in s/m"},
    {.name = "friction", .type = DD_KEY_QUANTITY, .dimension = DD_RATIO, .offset = offsetof(frame_parameters, friction),
     .least = 0, .most = 2, .fallback = 0.5, .source = "metal on concrete", .help = "of the frame on the ground"},
    {0}};
/* clang-format on */

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    *instance = NULL;
    if (model->rig == NULL || model->ramp == NULL || isnan(model->rig->trailer.frame_clearance)) return DD_OK;
    const dd_trailer_parameters *t = &model->rig->trailer;
    frame_instance *made = malloc(sizeof *made);
    if (made == NULL) return dd_fail(error, DD_ERROR_MEMORY, "frame contact", "no memory for the frame's contact");
    made->ramp = model->ramp;
    if (parameters != NULL) {
        made->parameters = *(const frame_parameters *)parameters;
    } else {
        dd_key_clear(keys, &made->parameters);
        dd_key_defaults(keys, &made->parameters);
    }
    const double first = FIRST_SHARE * t->axles[0].behind_coupling, last = t->rear_end_behind_coupling;
    for (int i = 0; i < PLACES; i++)
        made->place[i] = dd_vec(first + (last - first) * i / (PLACES - 1), 0, t->frame_clearance - t->coupling_height);
    *instance = made;
    return DD_OK;
}

static int memory_count(const void *instance)
{
    (void)instance;
    return PLACES;
}

/* One place: its displacements, depth, load and the ground's tangent, seaward. */
typedef struct place {
    dd_jet column_x[DD_RIG_COORDINATES], column_z[DD_RIG_COORDINATES], tangent_x, tangent_z;
    dd_jet depth, depth_rate, load, slide;
    double elastic, energy;
} place;

static void set_columns(const dd_kinematics *k, dd_vec3 arm, place *p)
{
    const dd_vehicle_pose *v = &k->vehicle;
    for (int i = 0; i < DD_RIG_COORDINATES; i++) p->column_x[i] = p->column_z[i] = dd_jet_of(0);
    p->column_x[DD_RIG_X] = (dd_jet){v->ball_x.x, {v->ball_xx.x}};
    p->column_z[DD_RIG_X] = (dd_jet){v->ball_x.z, {v->ball_xx.z}};
    p->column_z[DD_RIG_HEAVE].v = p->column_x[DD_RIG_REACH].v = 1;
    p->column_x[DD_RIG_PITCH].v = arm.z;
    p->column_x[DD_RIG_PITCH].d[DD_RIG_PITCH] = p->column_z[DD_RIG_PITCH].v = -arm.x;
    p->column_z[DD_RIG_PITCH].d[DD_RIG_PITCH] = -arm.z;
}

/* false: clear of the ground. */
static bool touch(const frame_instance *f, const dd_kinematics *k, int index, place *p)
{
    dd_vec3 arm = dd_apply(&k->chassis_to_world, f->place[index]), at = dd_add(k->coupling, arm);
    dd_ramp_point ground = dd_ramp_at(f->ramp, at.x);
    if (at.z - ground.z > 0.05) return false; /* the closest point is nearer, but not so much */
    double foot = dd_ramp_foot(f->ramp, at.x, at.z, &ground), w = sqrt(1 + ground.slope * ground.slope);
    double tx = 1 / w, tz = ground.slope / w, depth = (at.x - foot) * tz - (at.z - ground.z) * tx;
    if (depth <= 0) return false;
    set_columns(k, arm, p);
    dd_jet vx = dd_jet_of(0), vz = dd_jet_of(0), foot_x = dd_jet_of(foot);
    p->depth = dd_jet_of(depth);
    for (int i = 0; i < DD_RIG_COORDINATES; i++) {
        dd_jet rate = {k->motion.rig[i], {0}};
        rate.d[DD_JET_RATE + i] = 1;
        vx = dd_jet_add(vx, dd_jet_mul(p->column_x[i], rate));
        vz = dd_jet_add(vz, dd_jet_mul(p->column_z[i], rate));
        double along = tx * p->column_x[i].v + tz * p->column_z[i].v;
        foot_x.d[i] = along / (w * fmax(1 + ground.curvature / (w * w * w) * depth, 0.2));
        p->depth.d[i] = tz * p->column_x[i].v - tx * p->column_z[i].v;
    }
    double turn = ground.curvature / (w * w);
    p->tangent_x = dd_jet_apply(foot_x, tx, -tz * turn);
    p->tangent_z = dd_jet_apply(foot_x, tz, tx * turn);
    p->slide = dd_jet_dot(p->tangent_x, vx, p->tangent_z, vz);
    p->depth_rate = dd_jet_sub(dd_jet_mul(p->tangent_z, vx), dd_jet_mul(p->tangent_x, vz));
    const double stiffness = f->parameters.stiffness, beta = f->parameters.rebound;
    const bool in = depth >= SETS_IN;
    const double u = depth / SETS_IN, w2 = SETS_IN * SETS_IN;
    double g = in ? depth - SETS_IN / 2 : SETS_IN * u * u * u * (1 - u / 2), slope = in ? 1 : u * u * (3 - 2 * u);
    dd_smooth damped = dd_smooth_positive(1 + beta * p->depth_rate.v, 0.1);
    p->elastic = stiffness * g;
    p->energy = stiffness * (in ? (depth * depth - SETS_IN * depth + 0.3 * w2) / 2 : w2 * u * u * u * u * (0.25 - u / 10));
    p->load = dd_jet_apply2(p->depth, p->depth_rate, p->elastic * damped.value, stiffness * slope * damped.value,
                            p->elastic * damped.slope * beta);
    return true;
}

enum { LOAD, FRICTION, CHANNELS };
static const dd_channel channels_of[] = {{"frame_load_N", "N", "load of the ground on the frame, all places"},
                                         {"frame_friction_N", "N", "friction of the ground on the frame along the path, > 0 seaward"},
                                         {0}};

static void release(const dd_memory *memory, int index)
{
    memory->rate[index] = -DD_BRISTLE_RELEASE * memory->value[index];
    if (memory->rate_by_value != NULL) memory->rate_by_value[index] = -DD_BRISTLE_RELEASE;
}

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    (void)commands;
    const frame_instance *f = instance;
    for (int i = 0; i < PLACES; i++) {
        place p;
        if (!touch(f, k, i, &p)) {
            release(memory, i);
            continue;
        }
        dd_smooth contact = dd_smooth_step(p.depth.v / SETS_IN);
        dd_bristle b = dd_bristle_at(&f->parameters.law, f->parameters.friction, memory->value[i], p.slide.v, 0, contact.value);
        dd_jet drag = dd_jet_mul(p.load, dd_jet_apply(p.slide, -b.coefficient, -b.coefficient_by_speed));
        for (int c = 0; c < DD_RIG_COORDINATES; c++) {
            /* normal (-tangent_z, tangent_x) */
            dd_jet lift = dd_jet_sub(dd_jet_mul(p.tangent_x, p.column_z[c]), dd_jet_mul(p.tangent_z, p.column_x[c]));
            dd_jet along = dd_jet_dot(p.tangent_x, p.column_x[c], p.tangent_z, p.column_z[c]);
            dd_jet_load(dd_jet_dot(p.load, lift, drag, along), c, load, gradient);
            if (memory->rate_by_value == NULL) continue;
            memory->rig_by_value[i][c] = -p.load.v * b.coefficient_by_value * along.v;
            memory->rate_by_rig[i][c] = b.rate_by_speed * p.slide.d[DD_JET_RATE + c];
        }
        load->energy += p.energy;
        load->heat += (p.load.v - p.elastic) * p.depth_rate.v - drag.v * p.slide.v;
        memory->rate[i] = b.rate;
        if (memory->rate_by_value != NULL) memory->rate_by_value[i] = b.rate_by_value;
        if (channels == NULL) continue;
        channels[LOAD] += p.load.v;
        channels[FRICTION] += drag.v;
    }
}

/* A state whose frame's rear end lies in the ground. */
static void draw_aground(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                         dd_motion *motion, double *memory, dd_commands *commands)
{
    const frame_instance *f = instance;
    const double x = dd_draw(uniform, random, -12, 25), depth = dd_draw(uniform, random, 0.0005, 0.006);
    dd_vehicle_pose v = dd_vehicle_on_profile(&model->rig->vehicle, model->ramp, x);
    double pitch = v.pitch, heave = dd_draw(uniform, random, -0.03, 0.01);
    for (int i = 0; i < 40; i++) {
        dd_mat3 turn = dd_rotation_y(pitch);
        dd_vec3 at = dd_add(dd_add(v.ball, dd_vec(0, 0, heave)), dd_apply(&turn, f->place[PLACES - 1]));
        dd_ramp_point ground;
        double foot = dd_ramp_foot(model->ramp, at.x, at.z, &ground);
        double over = copysign(hypot(at.x - foot, at.z - ground.z), at.z - ground.z) + depth;
        pitch += over / f->place[PLACES - 1].x;
    }
    *pose = (dd_pose){.rig = {x, heave, pitch}, .attitude = {0, 0, 0, 1}};
    *motion = (dd_motion){{dd_draw(uniform, random, -0.5, 0.5), dd_draw(uniform, random, -0.05, 0.05),
                           dd_draw(uniform, random, -0.02, 0.02)},
                          {0}};
    *commands = (dd_commands){0};
    const double limit = f->parameters.law.stiffness > 0 ? f->parameters.friction / f->parameters.law.stiffness : 0;
    for (int i = 0; i < PLACES; i++) memory[i] = limit * dd_draw(uniform, random, -0.95, 0.95);
}

static const dd_regime regimes[] = {{"aground", draw_aground}, {0}};
static const char *const sources[] = {"elementary mechanics", "elasto-plastic friction", "metal on concrete", NULL};

const dd_force_kind dd_force_frame_contact = {.name = "frame contact",
                                              .help = "the trailer's frame on the ground",
                                              .acts_on = DD_ACTS_ON_RIG,
                                              .passive = 0, /* bristles give back what little they store */
                                              .parameters_size = sizeof(frame_parameters),
                                              .keys = keys,
                                              .sources = sources,
                                              .channels = channels_of,
                                              .prepare = prepare,
                                              .free = free,
                                              .memory_count = memory_count,
                                              .evaluate = evaluate,
                                              .regimes = regimes};
