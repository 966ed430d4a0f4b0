/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Along the path: drive, brake and rolling resistance of the vehicle's axles, rolling resistance of the trailer's.

   Loads of the vehicle's axles by statics, in its own axes (aft, up) about the rear contact, with W its weight, theta its
   pitch, (b, h_b) the ball, a the centre behind the front axle, h its height, L the wheelbase:
       L N_front = W ((L - a) cos theta - h sin theta) - h_b B_aft + b B_up,   N_front + N_rear = W cos theta - B_up.
   The ball carries the coupling load downward and, seaward, what the trailer's axles push with: its level balance, sum of
   the axles' loads times their normals' level part. Inertia and the water's push along the ramp are left out of that.

   Resistance of each axle: one bristle (bristle.h) with a fixed reference limit, F = -N m coefficient / reference, where m =
   rolling resistance + brake x friction of the surface there. The limit scales the force and not the deflection, so that a
   brake let go lets go at once; at full brake on ordinary concrete the stiffness is the law's own. A braked rig stands on
   its bristles' elastic part without creep.

   Drive: the driver asks for the thrust T = (1 - brake) m_all / response (wanted - speed + correction), the correction
   growing by (wanted - speed) / correction time; the driven axles give G tanh(T / G), G = friction x load: wheels spin
   rather than give more. */
#include "lib/force/wheels.h"
#include "lib/force/axles.h"
#include "lib/force/draw.h"
#include "lib/force/smooth.h"
#include "lib/base/error.h"
#include <stdlib.h>

#define REFERENCE_LIMIT 0.6    /* friction coefficient at which the law's stiffness and damping hold as given */
#define LOAD_FADE 0.02         /* of the vehicle's weight: over which an axle's load goes to zero */
#define LARGEST_CORRECTION 2.0 /* of the driver, m/s */

enum { VEHICLE_AXLES = 2, WHEELED = VEHICLE_AXLES + DD_AXLES };

typedef struct wheels_instance {
    const dd_rig *rig;
    const dd_ramp *ramp;
    dd_wheels_parameters parameters;
    double gravity, mass; /* of everything that is driven, kg */
} wheels_instance;

/* One axle of the vehicle (0 front, 1 rear) or of the trailer. */
typedef struct wheeled {
    double foot;
    dd_jet load, speed, limit, friction; /* normal load; along the path, seaward; resistance limit and friction there */
    dd_jet column[DD_RIG_COORDINATES];   /* displacement along the path by each coordinate */
    dd_jet force;                        /* along the path, seaward */
    dd_bristle bristle;
} wheeled;

typedef struct wheels_state {
    int count;
    wheeled at[WHEELED];
    double correction_rate, correction_rate_by_speed, correction_rate_by_value;
    double thrust_by_correction[VEHICLE_AXLES];
} wheels_state;

static const dd_key wheels_keys[] = {
    DD_BRISTLE_KEYS(dd_wheels_parameters, law),
    {.name = "response time", .type = DD_KEY_QUANTITY, .dimension = DD_TIME, .offset = offsetof(dd_wheels_parameters, response_time),
     .least = 0.01, .most = 10, .fallback = 0.3, .source = "the program",
     .help = "driver: error of speed over the acceleration asked for"},
    {.name = "correction time", .type = DD_KEY_QUANTITY, .dimension = DD_TIME,
     .offset = offsetof(dd_wheels_parameters, correction_time), .least = 0.01, .most = 100, .fallback = 1.2,
     .source = "the program", .help = "driver: time over which what error is left is taken out (four response times: no overshoot)"},
    {0}};

static dd_status prepare(const dd_model *model, const void *parameters, void **instance, dd_error *error)
{
    *instance = NULL;
    if (model->rig == NULL || model->ramp == NULL)
        return DD_OK;
    wheels_instance *made = calloc(1, sizeof *made);
    if (made == NULL)
        return dd_fail(error, DD_ERROR_MEMORY, "wheels", "no memory for the wheels");
    made->rig = model->rig;
    made->ramp = model->ramp;
    if (parameters != NULL) {
        made->parameters = *(const dd_wheels_parameters *)parameters;
    } else {
        dd_key_clear(wheels_keys, &made->parameters);
        dd_key_defaults(wheels_keys, &made->parameters);
    }
    made->gravity = model->gravity;
    made->mass = model->rig->vehicle.mass + model->rig->trailer.mass;
    if (model->hull != NULL)
        made->mass += dd_hull_mass(model->hull)->mass;
    *instance = made;
    return DD_OK;
}

static int memory_count(const void *instance)
{
    return DD_WHEELS_TRAILER + ((const wheels_instance *)instance)->rig->trailer.axle_count;
}

static double memory_scale(const void *instance, int index)
{
    (void)instance;
    return index == DD_WHEELS_DRIVER ? 1.0 : 0.5;
}

/* A wheel's path: column of x alone. slope_by: derivative of the contact's abscissa by x, and again. */
static void ride(const dd_kinematics *k, dd_ramp_point ground, double by_x, double by_xx, wheeled *at)
{
    double w = sqrt(1 + ground.slope * ground.slope);
    dd_jet rate = {k->motion.rig[DD_RIG_X], {0}};
    rate.d[DD_JET_RATE + DD_RIG_X] = 1;
    for (int i = 0; i < DD_RIG_COORDINATES; i++)
        at->column[i] = dd_jet_of(0);
    at->column[DD_RIG_X].v = w * by_x;
    at->column[DD_RIG_X].d[DD_RIG_X] = ground.slope * ground.curvature / w * by_x * by_x + w * by_xx;
    at->speed = dd_jet_mul(at->column[DD_RIG_X], rate);
}

static void grip(const wheels_instance *w, dd_jet foot, double rolling_resistance, double brake, wheeled *at)
{
    dd_grip g = dd_ramp_grip(w->ramp, foot.v);
    at->foot = foot.v;
    at->friction = dd_jet_apply(foot, g.friction, g.friction_x);
    dd_jet rolling = isnan(rolling_resistance) ? dd_jet_apply(foot, g.rolling_resistance, g.rolling_resistance_x)
                                               : dd_jet_of(rolling_resistance);
    at->limit = dd_jet_add(rolling, dd_jet_scale(brake, at->friction));
}

/* The trailer's axles; returns what they push the coupling with, seaward. */
static dd_jet trailer_axles(const wheels_instance *w, const dd_kinematics *k, wheels_state *s)
{
    dd_jet push = dd_jet_of(0);
    for (int a = 0; a < w->rig->trailer.axle_count; a++) {
        wheeled *at = &s->at[VEHICLE_AXLES + a];
        dd_axle_contact c;
        dd_axle_contact_at(w->rig, w->ramp, k, a, &c);
        at->load = c.load;
        for (int i = 0; i < DD_RIG_COORDINATES; i++)
            at->column[i] = dd_jet_sub(dd_jet_mul(c.normal_z, c.column_x[i]), dd_jet_mul(c.normal_x, c.column_z[i]));
        at->speed = dd_jet_sub(dd_jet_mul(c.normal_z, c.velocity_x), dd_jet_mul(c.normal_x, c.velocity_z));
        grip(w, c.foot_x, w->rig->trailer.rolling_resistance, 0, at);
        push = dd_jet_add(push, dd_jet_mul(c.load, c.normal_x));
    }
    return push;
}

static dd_jet coupling_load(const wheels_instance *w, const dd_kinematics *k)
{
    dd_jet load = {-w->rig->ball_stiffness * k->pose.rig[DD_RIG_HEAVE] - w->rig->ball_damping * k->motion.rig[DD_RIG_HEAVE], {0}};
    load.d[DD_RIG_HEAVE] = -w->rig->ball_stiffness;
    load.d[DD_JET_RATE + DD_RIG_HEAVE] = -w->rig->ball_damping;
    return load;
}

static void vehicle_loads(const wheels_instance *w, const dd_kinematics *k, dd_jet push, wheels_state *s)
{
    const dd_vehicle_parameters *v = &w->rig->vehicle;
    double weight = v->mass * w->gravity, c = cos(k->vehicle.pitch), sn = sin(k->vehicle.pitch);
    dd_jet cosine = {c, {-sn * k->vehicle.pitch_x}}, sine = {sn, {c * k->vehicle.pitch_x}};
    dd_jet down = coupling_load(w, k);
    dd_jet aft = dd_jet_dot(push, cosine, down, sine); /* (push, -down) along (cos, -sin) and (sin, cos) */
    dd_jet up = dd_jet_sub(dd_jet_mul(push, sine), dd_jet_mul(down, cosine));
    dd_jet own = dd_jet_sub(dd_jet_scale(weight * (v->wheelbase - v->centre_behind_front_axle), cosine),
                            dd_jet_scale(weight * v->centre_height, sine));
    dd_jet ball = dd_jet_sub(dd_jet_scale(v->coupling_behind_rear_axle, up), dd_jet_scale(v->coupling_height, aft));
    dd_jet front = dd_jet_scale(1 / v->wheelbase, dd_jet_add(own, ball));
    dd_jet rear = dd_jet_sub(dd_jet_sub(dd_jet_scale(weight, cosine), up), front);
    dd_smooth f = dd_smooth_positive(front.v, LOAD_FADE * weight), r = dd_smooth_positive(rear.v, LOAD_FADE * weight);
    s->at[0].load = dd_jet_apply(front, f.value, f.slope);
    s->at[1].load = dd_jet_apply(rear, r.value, r.slope);
}

static void vehicle_axles(const wheels_instance *w, const dd_kinematics *k, double brake, wheels_state *s)
{
    const dd_vehicle_pose *v = &k->vehicle;
    double x = k->pose.rig[DD_RIG_X];
    ride(k, dd_ramp_at(w->ramp, v->front_x), v->front_x_x, v->front_x_xx, &s->at[0]);
    ride(k, dd_ramp_at(w->ramp, x), 1, 0, &s->at[1]);
    grip(w, (dd_jet){v->front_x, {v->front_x_x}}, NAN, brake, &s->at[0]);
    grip(w, (dd_jet){x, {1}}, NAN, brake, &s->at[1]);
}

static void resist(const wheels_instance *w, const double *values, wheels_state *s)
{
    for (int a = 0; a < s->count; a++) {
        wheeled *at = &s->at[a];
        at->bristle = dd_bristle_at(&w->parameters.law, REFERENCE_LIMIT, values[DD_WHEELS_FRONT + a], at->speed.v, 0, 1);
        dd_jet coefficient = dd_jet_apply(at->speed, -at->bristle.coefficient / REFERENCE_LIMIT,
                                          -at->bristle.coefficient_by_speed / REFERENCE_LIMIT);
        at->force = dd_jet_mul(dd_jet_mul(at->load, at->limit), coefficient);
    }
}

static bool is_driven(const dd_vehicle_parameters *v, int axle) { return v->drive == 2 || v->drive == axle; }

/* G tanh(T / G). */
static dd_jet saturate(dd_jet thrust, dd_jet most, double *by_thrust)
{
    if (!(most.v > 0)) {
        *by_thrust = 0;
        return dd_jet_of(0);
    }
    double ratio = thrust.v / most.v, t = tanh(ratio), rate = 1 - t * t;
    *by_thrust = rate;
    return dd_jet_apply2(thrust, most, most.v * t, rate, t - ratio * rate);
}

static void drive(const wheels_instance *w, const dd_commands *commands, double correction, wheels_state *s)
{
    const dd_wheels_parameters *p = &w->parameters;
    double off = 1 - commands->brake, gain = off * w->mass / p->response_time;
    dd_jet speed = s->at[1].speed;
    dd_jet thrust = dd_jet_apply(speed, gain * (commands->drive_speed - speed.v + correction), -gain);
    double share = w->rig->vehicle.drive == 2 ? 0.5 : 1.0;
    for (int a = 0; a < VEHICLE_AXLES; a++) {
        if (!is_driven(&w->rig->vehicle, a))
            continue;
        double by_thrust;
        dd_jet most = dd_jet_mul(s->at[a].friction, s->at[a].load);
        s->at[a].force = dd_jet_add(s->at[a].force, saturate(dd_jet_scale(share, thrust), most, &by_thrust));
        s->thrust_by_correction[a] = by_thrust * share * gain;
    }
    /* Correction, forgotten under the brake and beyond its largest size. */
    dd_smooth over = dd_smooth_positive(fabs(correction) - LARGEST_CORRECTION, 0.1);
    double forget = 1 / p->response_time;
    s->correction_rate = off * (commands->drive_speed - speed.v) / p->correction_time - commands->brake * correction * forget -
                         copysign(over.value, correction) * forget;
    s->correction_rate_by_speed = -off / p->correction_time;
    s->correction_rate_by_value = -(commands->brake + over.slope) * forget;
}

static void look(const wheels_instance *w, const dd_kinematics *k, const dd_commands *commands, const double *values,
                 wheels_state *s)
{
    s->count = VEHICLE_AXLES + w->rig->trailer.axle_count;
    s->thrust_by_correction[0] = s->thrust_by_correction[1] = 0;
    dd_jet push = trailer_axles(w, k, s);
    vehicle_axles(w, k, commands->brake, s);
    vehicle_loads(w, k, push, s);
    resist(w, values, s);
    drive(w, commands, values[DD_WHEELS_DRIVER], s);
}

static void remember(const wheels_state *s, const dd_memory *memory)
{
    memory->rate[DD_WHEELS_DRIVER] = s->correction_rate;
    for (int a = 0; a < s->count; a++)
        memory->rate[DD_WHEELS_FRONT + a] = s->at[a].bristle.rate;
    if (memory->rate_by_value == NULL)
        return;
    memory->rate_by_value[DD_WHEELS_DRIVER] = s->correction_rate_by_value;
    for (int c = 0; c < DD_RIG_COORDINATES; c++) {
        memory->rate_by_rig[DD_WHEELS_DRIVER][c] = s->correction_rate_by_speed * s->at[1].speed.d[DD_JET_RATE + c];
        for (int a = 0; a < VEHICLE_AXLES; a++)
            memory->rig_by_value[DD_WHEELS_DRIVER][c] += s->thrust_by_correction[a] * s->at[a].column[c].v;
    }
    for (int a = 0; a < s->count; a++) {
        const wheeled *at = &s->at[a];
        double by_value = -at->load.v * at->limit.v * at->bristle.coefficient_by_value / REFERENCE_LIMIT;
        memory->rate_by_value[DD_WHEELS_FRONT + a] = at->bristle.rate_by_value;
        for (int c = 0; c < DD_RIG_COORDINATES; c++) {
            memory->rig_by_value[DD_WHEELS_FRONT + a][c] = by_value * at->column[c].v;
            memory->rate_by_rig[DD_WHEELS_FRONT + a][c] = at->bristle.rate_by_speed * at->speed.d[DD_JET_RATE + c];
        }
    }
}

/* --- channels --------------------------------------------------------------------------------------------------- */

enum { NORMAL, ALONG, NEEDED, AVAILABLE, CHANNELS };
static const dd_channel channels_of[] = {
    {"normal_load_N", "N", "load of the wheels on the ground"},
    {"longitudinal_force_N", "N", "force of the ground on the wheels along the path, > 0 seaward"},
    {"friction_needed", "", "share of their load that the wheels pass to the ground; of the vehicle: its braked, else its driven wheels"},
    {"friction_available_low", "", "lower end of the friction band of the surface under these wheels"},
    {0}};

static int unit_count(const void *instance) { return 1 + VEHICLE_AXLES + ((const wheels_instance *)instance)->rig->trailer.axle_count; }

static const char *unit_name(const void *instance, int unit)
{
    static const char *const names[1 + WHEELED] = {"vehicle",        "front axle",     "rear axle",     "trailer axle 1",
                                                   "trailer axle 2", "trailer axle 3", "trailer axle 4"};
    (void)instance;
    return names[unit];
}

static double needed(double force, double load) { return load > 1 ? fabs(force) / load : 0; }

static void report(const wheels_instance *w, const dd_commands *commands, const wheels_state *s, double *channels)
{
    double load = 0, force = 0, low = 0;
    for (int a = 0; a < s->count; a++) {
        double *row = channels + (1 + a) * CHANNELS;
        const wheeled *at = &s->at[a];
        row[NORMAL] = at->load.v;
        row[ALONG] = at->force.v;
        row[NEEDED] = needed(at->force.v, at->load.v);
        row[AVAILABLE] = dd_ramp_surface(w->ramp, at->foot)->friction_low;
        bool counts = a < VEHICLE_AXLES && (commands->brake > 0.5 || is_driven(&w->rig->vehicle, a));
        load += counts ? at->load.v : 0;
        force += counts ? at->force.v : 0;
        low += counts ? at->load.v * row[AVAILABLE] : 0;
    }
    channels[NORMAL] = s->at[0].load.v + s->at[1].load.v;
    channels[ALONG] = s->at[0].force.v + s->at[1].force.v;
    channels[NEEDED] = needed(force, load);
    channels[AVAILABLE] = load > 1 ? low / load : dd_ramp_surface(w->ramp, s->at[1].foot)->friction_low;
}

static void evaluate(const void *instance, const dd_kinematics *k, const dd_commands *commands, const dd_memory *memory,
                     dd_load *load, dd_gradient *gradient, double *channels)
{
    const wheels_instance *w = instance;
    wheels_state s;
    look(w, k, commands, memory->value, &s);
    double power = 0;
    for (int a = 0; a < s.count; a++) {
        for (int c = 0; c < DD_RIG_COORDINATES; c++)
            dd_jet_load(dd_jet_mul(s.at[a].force, s.at[a].column[c]), c, load, gradient);
        power += s.at[a].force.v * s.at[a].speed.v;
    }
    load->heat = -power; /* the engine's work comes out as negative heat; the bristles store next to nothing */
    remember(&s, memory);
    if (channels != NULL)
        report(w, commands, &s, channels);
}

void dd_wheels_hold(const void *instance, const dd_kinematics *k, const dd_commands *commands, double missing, double *memory)
{
    const wheels_instance *w = instance;
    wheels_state s;
    look(w, k, commands, memory, &s);
    double by_deflection = 0, stiffness = w->parameters.law.stiffness;
    for (int a = 0; a < s.count; a++)
        by_deflection -= s.at[a].load.v * s.at[a].limit.v * stiffness / REFERENCE_LIMIT * s.at[a].column[DD_RIG_X].v;
    if (by_deflection >= 0)
        return;
    double most = 0.95 * REFERENCE_LIMIT / stiffness;
    for (int a = 0; a < s.count; a++) {
        double *value = &memory[DD_WHEELS_FRONT + a];
        *value = fmax(-most, fmin(most, *value + missing / by_deflection));
    }
}

/* --- regimes ---------------------------------------------------------------------------------------------------- */

static void draw_state(const dd_model *model, double (*uniform)(void *), void *random, double speed, dd_pose *pose,
                       dd_motion *motion, dd_commands *commands)
{
    *pose = (dd_pose){.attitude = {0, 0, 0, 1}};
    *motion = (dd_motion){{0}, {0}};
    *commands = (dd_commands){.drive_speed = dd_draw(uniform, random, -1, 1)};
    const double x = dd_draw(uniform, random, -12, 20);
    pose->rig[DD_RIG_X] = x;
    pose->rig[DD_RIG_HEAVE] = dd_draw(uniform, random, -0.04, 0.01);
    pose->rig[DD_RIG_PITCH] = dd_axles_standing_pitch(model->rig, model->ramp, x, 0.01) + dd_draw(uniform, random, -0.004, 0.004);
    motion->rig[DD_RIG_X] = dd_draw(uniform, random, -speed, speed);
    motion->rig[DD_RIG_HEAVE] = dd_draw(uniform, random, -0.05, 0.05);
    motion->rig[DD_RIG_PITCH] = dd_draw(uniform, random, -0.02, 0.02);
}

/* share: bristle deflections between these shares of their limit, of either sign. */
static void draw_memory(const wheels_instance *w, double (*uniform)(void *), void *random, double least, double most, double *memory)
{
    double limit = REFERENCE_LIMIT / w->parameters.law.stiffness;
    memory[DD_WHEELS_DRIVER] = dd_draw(uniform, random, -0.5, 0.5);
    for (int i = DD_WHEELS_FRONT; i < memory_count(w); i++)
        memory[i] = copysign(limit * dd_draw(uniform, random, least, most), uniform(random) - 0.5);
}

static void draw_driving(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                         dd_motion *motion, double *memory, dd_commands *commands)
{
    draw_state(model, uniform, random, 1.5, pose, motion, commands);
    draw_memory(instance, uniform, random, 0.75, 0.98, memory);
}

static void draw_braking(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                         dd_motion *motion, double *memory, dd_commands *commands)
{
    draw_state(model, uniform, random, 1.5, pose, motion, commands);
    draw_memory(instance, uniform, random, 0.75, 0.98, memory);
    commands->brake = dd_draw(uniform, random, 0.2, 1.0);
}

static void draw_held(const void *instance, const dd_model *model, double (*uniform)(void *), void *random, dd_pose *pose,
                      dd_motion *motion, double *memory, dd_commands *commands)
{
    draw_state(model, uniform, random, 0.005, pose, motion, commands);
    draw_memory(instance, uniform, random, 0.05, 0.65, memory);
    commands->brake = 1;
    commands->drive_speed = 0;
}

static const dd_regime regimes[] = {{"driving", draw_driving}, {"braking", draw_braking}, {"held", draw_held}, {0}};
static const char *const sources[] = {"elementary mechanics", "elasto-plastic friction", "bristle figures", "tyre friction",
                                      "tyre rolling resistance", NULL};

const dd_force_kind dd_force_wheels = {.name = "wheels",
                                       .help = "drive, brakes and rolling resistance of vehicle and trailer",
                                       .acts_on = DD_ACTS_ON_RIG,
                                       .passive = 0,
                                       .parameters_size = sizeof(dd_wheels_parameters),
                                       .keys = wheels_keys,
                                       .sources = sources,
                                       .channels = channels_of,
                                       .prepare = prepare,
                                       .free = free,
                                       .memory_count = memory_count,
                                       .memory_scale = memory_scale,
                                       .unit_count = unit_count,
                                       .unit_name = unit_name,
                                       .evaluate = evaluate,
                                       .regimes = regimes};
