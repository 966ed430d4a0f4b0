/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/unit/force/whole.h"
#include "lib/rig/support/support.h"

static void must(dd_status status, const dd_error *error)
{
    if (status != DD_OK)
        fail_msg("%s: %s", error->place, error->message);
}

static dd_rig *make_rig(void)
{
    static dd_vehicle_parameters v;
    static dd_trailer_parameters t;
    dd_error error;
    dd_rig *rig = NULL;
    dd_vehicle_defaults(&v);
    v.mass = 2200;
    v.wheelbase = 3;
    v.drive = 2;
    dd_trailer_defaults(&t);
    t.mass = 350;
    t.axle_count = 2;
    t.axles[0] = (dd_axle){4.0, 900, NAN};
    t.axles[1] = (dd_axle){4.7, 900, NAN};
    t.winch.behind_coupling = 1;
    t.winch.above_ground = 1.15;
    t.winch.strap_rating = 9000;
    t.bow_stop.behind_coupling = 1.35;
    t.bow_stop.above_ground = 1.05;
    t.frame_clearance = 0.35;
    t.frame_height = 0.42;
    t.cross_member_count = 1;
    t.cross_members[0] = (dd_cross_member){3.8, 0.42, 1.2};
    t.jockey.behind_coupling = 0.4;
    t.rope.length = 6;
    t.rope.turns = 1.5;
    t.tilt.hinge_behind_coupling = 4.2;
    t.tilt.bed_centre_above_ground = 0.6;
    t.chain.slack_at_home = 0.1;
    t.ties.behind_coupling = 6.2;
    t.support_count = 3;
    for (int i = 0; i < 3; i++) {
        dd_support *s = &t.supports[i];
        dd_support_defaults(s, i < 2 ? DD_SUPPORT_CRADLE : DD_SUPPORT_KEEL_ROLLER);
        s->behind_coupling = 5.2 - 1.3 * i;
        s->above_ground = 0.56;
        s->rows = 2;
        s->row_spacing = 0.3;
        s->deadrise = 15 * DEGREE;
        s->half_spacing_count = 2;
        s->half_spacings[0] = 0.25;
        s->half_spacings[1] = 0.6;
    }
    dd_support *guides = &t.supports[t.support_count++];
    dd_support_defaults(guides, DD_SUPPORT_SIDE_GUIDE);
    guides->behind_coupling = 5.6;
    guides->above_ground = 1.2;
    guides->half_spacing = 1.3;
    guides->length = 0.4;
    must(dd_rig_create(&v, &t, &rig, &error), &error);
    return rig;
}

static dd_ramp_parameters slab(void)
{
    dd_ramp_parameters ramp;
    dd_ramp_defaults(&ramp);
    ramp.slope = atan(1.0 / 8);
    ramp.crest_level = 1;
    ramp.toe_level = -1.5;
    return ramp;
}

void whole_create(whole *w, dd_hull *hull, int with_rig, double current)
{
    dd_error error;
    *w = (whole){.hull = hull};
    must(dd_strips_create(hull, 0, &w->strips, &error), &error);
    if (with_rig) {
        const dd_ramp_parameters ramp = slab();
        w->rig = make_rig();
        must(dd_ramp_create(&ramp, &w->ramp, &error), &error);
    }
    dd_water water;
    dd_water_defaults(&water);
    water.level = 0.2;
    water.current = current;
    if (with_rig && current != 0)
        water.wind = (dd_wind){8, -2.2};
    must(dd_water_complete(&water, &error), &error);
    w->model = (dd_model){.hull = w->hull, .rig = w->rig, .ramp = w->ramp, .strips = w->strips, .water = water,
                          .gravity = DD_STANDARD_GRAVITY};
}

void whole_stir(whole *w)
{
    dd_error error;
    dd_water *water = &w->model.water;
    water->rise = 0.003;
    water->surge = (dd_surge){0.1, 9};
    water->wave = (dd_wave){0.2, 4, 1.5, 0.7};
    water->current_exponent = 1.0 / 7;
    water->current_full_beyond = 30;
    water->wall_to = 2;
    water->wall_mixing = 25;
    must(dd_water_meet(water, w->ramp, w->model.gravity, &error), &error);
}

void whole_soften(whole *w)
{
    dd_error error;
    dd_ramp_parameters ramp = slab();
    dd_ramp_free(w->ramp);
    w->ramp = NULL;
    ramp.surface_count = 1;
    ramp.surfaces[0] = (dd_surface){.from = NAN, .to = NAN, .friction_low = 0.5, .friction_high = 0.7, .wet_friction_low = NAN,
                                    .wet_friction_high = NAN, .rolling_resistance = 0.06, .sinkage = 0.02, .sinkage_rate = 0.002};
    must(dd_ramp_create(&ramp, &w->ramp, &error), &error);
    w->model.ramp = w->ramp;
}

void whole_free(whole *w)
{
    dd_strips_free(w->strips);
    dd_hull_free(w->hull);
    dd_rig_free(w->rig);
    dd_ramp_free(w->ramp);
}

dd_hull *whole_hull(void) { return synthetic_chine(DD_LINES_CURVED, 1200, dd_vec(2, 0.03, 0.6)); }

whole_force whole_prepare(const dd_force_kind *kind, const dd_model *model, int zero)
{
    whole_force force = {.kind = kind, .model = model};
    _Alignas(16) unsigned char parameters[512] = {0};
    dd_error error;
    assert_true(kind->parameters_size <= sizeof parameters);
    dd_key_clear(kind->keys, parameters);
    dd_key_defaults(kind->keys, parameters);
    for (const dd_key *key = kind->keys; zero && key != NULL && key->name != NULL; key++)
        if (key->type == DD_KEY_QUANTITY)
            memset(parameters + key->offset, 0, sizeof(double));
    for (const dd_key *key = kind->keys; !zero && key != NULL && key->name != NULL; key++)
        if (strcmp(key->name, "static thrust") == 0) /* the test's hulls have no engine */
            memcpy(parameters + key->offset, &(double){2500}, sizeof(double));
    must(kind->prepare(model, parameters, &force.instance, &error), &error);
    if (force.instance != NULL && kind->memory_count != NULL)
        force.memory_count = kind->memory_count(force.instance);
    assert_true(force.memory_count <= WHOLE_MEMORY);
    return force;
}

void whole_release(whole_force *force)
{
    if (force->kind->free != NULL)
        force->kind->free(force->instance);
    force->instance = NULL;
}

whole_result whole_evaluate(const whole_force *force, const whole_state *state)
{
    whole_result result;
    dd_kinematics k;
    memset(&result, 0, sizeof result);
    dd_kinematics_of(force->model, force->time, &state->pose, &state->motion, &k);
    dd_memory memory = {.value = state->memory, .rate = result.rate};
    force->kind->evaluate(force->instance, &k, &state->commands, &memory, &result.load, NULL, NULL);
    return result;
}

void whole_displace(whole_state *state, const double displacement[6], double amount)
{
    dd_mat3 turn = dd_rotation_of(state->pose.attitude);
    dd_vec3 shift = dd_scale(amount, dd_vec(displacement[0], displacement[1], displacement[2]));
    dd_vec3 angle = dd_scale(amount, dd_vec(displacement[3], displacement[4], displacement[5]));
    double size = dd_norm(angle), s = size > 0 ? sin(0.5 * size) / size : 0;
    state->pose.position = dd_add(state->pose.position, dd_apply(&turn, shift));
    state->pose.attitude =
        dd_quaternion_multiply(state->pose.attitude, (dd_quaternion){cos(0.5 * size), s * angle.x, s * angle.y, s * angle.z});
}

double whole_uniform(void *random)
{
    /* 64-bit linear congruential generator, top 53 bits */
    uint64_t *state = random;
    *state = *state * 6364136223846793005ULL + 1442695040888963407ULL;
    return (double)(*state >> 11) / 9007199254740992.0;
}

whole_state whole_draw(const whole_force *force, const dd_regime *regime, uint64_t *random)
{
    whole_state state;
    memset(&state, 0, sizeof state);
    regime->draw(force->instance, force->model, whole_uniform, random, &state.pose, &state.motion, state.memory, &state.commands);
    if (force->kind->acts_on != DD_ACTS_ON_RIG) /* the rig at rest: relative and absolute twist then agree */
        memset(state.motion.rig, 0, sizeof state.motion.rig);
    return state;
}
