/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/unit/force/contact_fixture.h"
#include <setjmp.h>
#include <stdarg.h>
#include <stdint.h>
#include <cmocka.h>
#include <stdlib.h>
#include <string.h>

static const double degree = 0.017453292519943295;

dd_hull *fixture_wedge(double deadrise)
{
    dd_hull_parameters *p = malloc(sizeof *p);
    dd_hull *hull = NULL;
    if (!p) return NULL;
    dd_hull_defaults(p);
    p->mass = 1200;
    p->mass_of = DD_MASS_READY_TO_GO;
    p->engine_power = 0;
    p->lines = DD_LINES_STRAIGHT;
    p->bow_eye_from_transom = 5.5;
    p->bow_eye_height = 0.7;
    p->station_count = 2;
    for (int i = 0; i < 2; i++)
        p->stations[i] = (dd_station){.at = 6 * i,
                                      .keel_height = 0,
                                      .chine_half_breadth = 0.9,
                                      .chine_height = 0.9 * tan(deadrise),
                                      .sheer_half_breadth = 1,
                                      .sheer_height = 1.1};
    dd_error error;
    if (dd_hull_create(p, &hull, &error) != DD_OK) print_error("%s: %s\n", error.place, error.message);
    free(p);
    return hull;
}

dd_hull *fixture_curved(void)
{
    dd_hull_parameters *p = malloc(sizeof *p);
    dd_hull *hull = NULL;
    if (!p) return NULL;
    dd_hull_defaults(p);
    p->length = 5.2;
    p->length_of = DD_LENGTH_OF_HULL;
    p->beam = 2.1;
    p->transom_deadrise = 18 * degree;
    p->mass = 1200;
    p->mass_of = DD_MASS_READY_TO_GO;
    p->engine_power = 60e3;
    dd_error error;
    if (dd_hull_create(p, &hull, &error) != DD_OK) print_error("%s: %s\n", error.place, error.message);
    free(p);
    return hull;
}

void fixture_rig(dd_rig *rig)
{
    memset(rig, 0, sizeof *rig);
    rig->trailer.coupling_height = 0.45;
    rig->trailer.winch = (dd_winch_parameters){.behind_coupling = 0.9,
                                               .above_ground = 1.15,
                                               .strap_rating = 12000,
                                               .strap_stretch_at_rating = 0.06,
                                               .strap_length_at_home = 0.3,
                                               .strap_damping_ratio = 0.1,
                                               .pretension = 300,
                                               .drum_radius = 0.025,
                                               .strap_thickness = 0.0015,
                                               .drag_torque = 1.5,
                                               .drag_damping = 150,
                                               .gear_ratio = 5,
                                               .handle_length = 0.23,
                                               .efficiency = 0.75,
                                               .hand_force_limit = 200,
                                               .speed = 0.1,
                                               .rating = 6000};
    rig->trailer.bow_stop = (dd_bow_stop_parameters){
        .behind_coupling = 1.1, .above_ground = 1.1, .squash_at_rated_load = 0.01, .rated_load = 5000, .half_height = 0.15,
        .half_width = 0.1, .radius = 0.05};
}

dd_roller *fixture_add_roller(dd_rig *rig, int side, double behind_coupling, double half_spacing, double height, double tilt)
{
    dd_roller *r = &rig->rollers[rig->roller_count++];
    const double radius = 0.04, c = cos(tilt), s = sin(tilt);
    *r = (dd_roller){.keel = side == 0,
                     .side = side,
                     .axis = dd_vec(0, c, -side * s),
                     .radius = radius,
                     .stiffness = 2500 / (0.004 * sqrt(0.004)),
                     .damping = 6,
                     .rated_load = 2500,
                     .side_friction = 0.5,
                     .rolling_resistance = 0.05,
                     .relaxation_length = 0.015};
    r->centre = dd_sub(dd_vec(behind_coupling, -side * half_spacing, height), dd_scale(radius, dd_vec(0, side * s, c)));
    return r;
}

void fixture_add_cradle(dd_rig *rig, int rows, double deadrise)
{
    const double spacing[2] = {0.3, 0.55};
    for (int row = 0; row < rows; row++)
        for (int line = 0; line < 2; line++)
            for (int side = 1; side >= -1; side -= 2)
                fixture_add_roller(rig, side, 3.4 + 0.5 * row, spacing[line], spacing[line] * tan(deadrise), deadrise);
}

fixture_force fixture_prepare(const dd_force_kind *kind, const dd_hull *hull, const dd_rig *rig)
{
    fixture_force force = {.kind = kind, .model = {.hull = hull, .rig = rig, .gravity = DD_STANDARD_GRAVITY}};
    _Alignas(16) unsigned char parameters[256] = {0};
    assert_true(kind->parameters_size <= sizeof parameters);
    dd_key_clear(kind->keys, parameters);
    dd_key_defaults(kind->keys, parameters);
    dd_error error;
    assert_int_equal(kind->prepare(&force.model, parameters, &force.instance, &error), DD_OK);
    assert_non_null(force.instance);
    force.memory_count = kind->memory_count ? kind->memory_count(force.instance) : 0;
    assert_true(force.memory_count <= FIXTURE_MEMORY);
    return force;
}

/* With the rig left out of the kinematics the relative twist is the given one. */
static dd_kinematics kinematics_of(const fixture_force *force, const fixture_state *state)
{
    dd_model still = force->model;
    still.rig = NULL;
    dd_motion motion = {{0}, {0}};
    memcpy(motion.twist, state->twist, sizeof motion.twist);
    dd_kinematics k;
    dd_kinematics_of(&still, 0, &state->pose, &motion, &k);
    return k;
}

fixture_result fixture_evaluate(const fixture_force *force, const fixture_state *state)
{
    fixture_result result;
    memset(&result, 0, sizeof result);
    dd_kinematics k = kinematics_of(force, state);
    dd_memory memory = {.value = state->memory, .rate = result.rate};
    force->kind->evaluate(force->instance, &k, &state->commands, &memory, &result.load, NULL, NULL);
    return result;
}

dd_gradient fixture_gradient(const fixture_force *force, const fixture_state *state, double (*load_by_value)[6],
                             double (*rate_by_twist)[6], double *rate_by_value)
{
    dd_gradient gradient;
    memset(&gradient, 0, sizeof gradient);
    fixture_result result;
    memset(&result, 0, sizeof result);
    for (int m = 0; m < force->memory_count; m++) {
        if (load_by_value) memset(load_by_value[m], 0, sizeof load_by_value[m]);
        if (rate_by_twist) memset(rate_by_twist[m], 0, sizeof rate_by_twist[m]);
        if (rate_by_value) rate_by_value[m] = 0;
    }
    dd_kinematics k = kinematics_of(force, state);
    dd_memory memory = {.value = state->memory,
                        .rate = result.rate,
                        .load_by_value = load_by_value,
                        .rate_by_twist = rate_by_twist,
                        .rate_by_value = rate_by_value};
    force->kind->evaluate(force->instance, &k, &state->commands, &memory, &result.load, &gradient, NULL);
    return gradient;
}

void fixture_channels(const fixture_force *force, const fixture_state *state, double *channels)
{
    fixture_result result;
    memset(&result, 0, sizeof result);
    dd_kinematics k = kinematics_of(force, state);
    dd_memory memory = {.value = state->memory, .rate = result.rate};
    force->kind->evaluate(force->instance, &k, &state->commands, &memory, &result.load, NULL, channels);
}

void fixture_displace(fixture_state *state, const double displacement[6], double amount)
{
    dd_mat3 turn = dd_rotation_of(state->pose.attitude);
    dd_vec3 shift = dd_scale(amount, dd_vec(displacement[0], displacement[1], displacement[2]));
    dd_vec3 angle = dd_scale(amount, dd_vec(displacement[3], displacement[4], displacement[5]));
    state->pose.position = dd_add(state->pose.position, dd_apply(&turn, shift));
    double a = dd_norm(angle), s = a > 0 ? sin(0.5 * a) / a : 0;
    dd_quaternion step = {cos(0.5 * a), s * angle.x, s * angle.y, s * angle.z};
    state->pose.attitude = dd_quaternion_multiply(state->pose.attitude, step);
}

double fixture_uniform(void *random)
{
    /* 64-bit linear congruential generator, top 53 bits */
    fixture_random *r = random;
    r->state = r->state * 6364136223846793005ULL + 1442695040888963407ULL;
    return (double)(r->state >> 11) / 9007199254740992.0;
}

fixture_state fixture_draw(const fixture_force *force, const dd_regime *regime, fixture_random *random)
{
    fixture_state state;
    memset(&state, 0, sizeof state);
    dd_motion motion;
    regime->draw(force->instance, &force->model, fixture_uniform, random, &state.pose, &motion, state.memory, &state.commands);
    memcpy(state.twist, motion.twist, sizeof state.twist);
    return state;
}

/* --- differences ------------------------------------------------------------------------------------------------ */

enum { BY_DISPLACEMENT, BY_TWIST, BY_VALUE };

static fixture_result at(const fixture_force *force, fixture_state state, int what, int index, double amount)
{
    double unit[6] = {0};
    if (what == BY_DISPLACEMENT) {
        unit[index] = 1;
        fixture_displace(&state, unit, amount);
    } else if (what == BY_TWIST)
        state.twist[index] += amount;
    else
        state.memory[index] += amount;
    return fixture_evaluate(force, &state);
}

/* Five-point derivative of load and rates. */
static fixture_result difference(const fixture_force *force, const fixture_state *state, int what, int index, double h)
{
    fixture_result p1 = at(force, *state, what, index, h), m1 = at(force, *state, what, index, -h);
    fixture_result p2 = at(force, *state, what, index, 2 * h), m2 = at(force, *state, what, index, -2 * h);
    fixture_result d;
    memset(&d, 0, sizeof d);
    for (int i = 0; i < 6; i++)
        d.load.hull[i] = (8 * (p1.load.hull[i] - m1.load.hull[i]) - (p2.load.hull[i] - m2.load.hull[i])) / (12 * h);
    for (int m = 0; m < force->memory_count; m++)
        d.rate[m] = (8 * (p1.rate[m] - m1.rate[m]) - (p2.rate[m] - m2.rate[m])) / (12 * h);
    return d;
}

typedef struct worst {
    double error, size;
} worst;
static void compare(worst *w, double found, double expected)
{
    w->error = fmax(w->error, fabs(found - expected));
    w->size = fmax(w->size, fabs(expected));
}
static double relative(worst w, double least) { return w.error / fmax(w.size, least); }

/* Gradients of the memory's rates among themselves, and of those that stand for moving parts by the pose. */
static double coupling_error(const fixture_force *force, const fixture_state *state)
{
    static double values[FIXTURE_MEMORY * FIXTURE_MEMORY], by_pose[FIXTURE_MEMORY][6];
    const int n = force->memory_count;
    double own[FIXTURE_MEMORY] = {0};
    fixture_result result;
    dd_gradient gradient;
    memset(&result, 0, sizeof result);
    memset(&gradient, 0, sizeof gradient);
    memset(values, 0, sizeof values);
    memset(by_pose, 0, sizeof by_pose);
    dd_kinematics k = kinematics_of(force, state);
    dd_memory memory = {.value = state->memory, .rate = result.rate, .rate_by_value = own, .rate_by_pose = by_pose, .rate_by_values = values};
    force->kind->evaluate(force->instance, &k, &state->commands, &memory, &result.load, &gradient, NULL);
    worst v = {0}, p = {0};
    for (int m = 0; m < n; m++) {
        const int moving = force->kind->follows && force->kind->follows(force->instance, m);
        fixture_result bent = difference(force, state, BY_VALUE, m, moving ? 1e-7 : 1e-8);
        for (int row = 0; row < n; row++) /* how a moving part changes the hold of bristles is left out */
            if (!moving || force->kind->follows(force->instance, row))
                compare(&v, row == m ? own[m] : values[row * n + m], bent.rate[row]);
    }
    for (int j = 0; j < 6; j++) {
        fixture_result moved = difference(force, state, BY_DISPLACEMENT, j, j < 3 ? 1e-6 : 2e-7);
        for (int m = 0; m < n; m++)
            if (force->kind->follows && force->kind->follows(force->instance, m)) compare(&p, by_pose[m][j], moved.rate[m]);
    }
    /* 20 /s is the slowest rate there is; a moving part's rate is solved to rounding, which differences over 1e-8 m see as 1e-5 /s */
    return fmax(relative(v, 20), relative(p, 1e-3));
}

double fixture_gradient_error(const fixture_force *force, const fixture_state *state)
{
    double by_value[FIXTURE_MEMORY][6], by_twist[FIXTURE_MEMORY][6], value[FIXTURE_MEMORY];
    dd_gradient gradient = fixture_gradient(force, state, by_value, by_twist, value);
    worst k = {0}, d = {0}, v = {0}, t = {0};
    for (int j = 0; j < 6; j++) {
        fixture_result moved = difference(force, state, BY_DISPLACEMENT, j, j < 3 ? 1e-6 : 2e-7);
        fixture_result faster = difference(force, state, BY_TWIST, j, 1e-6);
        for (int i = 0; i < 6; i++) {
            compare(&k, gradient.K[i][j], -moved.load.hull[i]);
            compare(&d, gradient.D[i][j], -faster.load.hull[i]);
        }
        for (int m = 0; m < force->memory_count; m++) compare(&t, by_twist[m][j], faster.rate[m]);
    }
    for (int m = 0; m < force->memory_count; m++) {
        fixture_result bent = difference(force, state, BY_VALUE, m, 1e-8);
        for (int i = 0; i < 6; i++) compare(&v, by_value[m][i], bent.load.hull[i]);
    }
    /* the floors are small beside any loaded contact's: 1 N/m, 1 N s/m, 1 N/m, 1e-3, 1 /s */
    double worst_of_load = fmax(fmax(relative(k, 1), relative(d, 1)), fmax(relative(v, 1), relative(t, 1e-3)));
    return fmax(worst_of_load, coupling_error(force, state));
}

double fixture_power_error(const fixture_force *force, const fixture_state *state)
{
    const double h = 1e-6;
    fixture_result now = fixture_evaluate(force, state);
    double energy[4], power = 0, size = 1e-3;
    for (int i = 0; i < 4; i++) {
        const double step = (i < 2 ? h : 2 * h) * (i % 2 == 0 ? 1 : -1);
        fixture_state other = *state;
        fixture_displace(&other, state->twist, step);
        for (int m = 0; m < force->memory_count; m++) other.memory[m] += step * now.rate[m];
        energy[i] = fixture_evaluate(force, &other).load.energy;
    }
    double stored = (8 * (energy[0] - energy[1]) - (energy[2] - energy[3])) / (12 * h);
    for (int i = 0; i < 6; i++) {
        power += now.load.hull[i] * state->twist[i];
        size = fmax(size, fabs(now.load.hull[i] * state->twist[i]));
    }
    return fabs(power + stored + now.load.heat) / fmax(size, fabs(stored));
}

double fixture_energy_error(const fixture_force *force, const fixture_state *state)
{
    fixture_state still = *state;
    memset(still.twist, 0, sizeof still.twist);
    fixture_result now = fixture_evaluate(force, &still);
    worst w = {0};
    for (int j = 0; j < 6; j++) {
        const double h = j < 3 ? 1e-6 : 2e-7; /* a turn moves a point 5 m away as far */
        double p1 = at(force, still, BY_DISPLACEMENT, j, h).load.energy,
               m1 = at(force, still, BY_DISPLACEMENT, j, -h).load.energy;
        double p2 = at(force, still, BY_DISPLACEMENT, j, 2 * h).load.energy,
               m2 = at(force, still, BY_DISPLACEMENT, j, -2 * h).load.energy;
        compare(&w, now.load.hull[j], -(8 * (p1 - m1) - (p2 - m2)) / (12 * h));
    }
    return relative(w, 1);
}
