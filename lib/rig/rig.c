/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Vehicle and trailer as one immutable rig: defaults that follow from other fields, rollers placed, springs from squashes. */
#include "lib/rig/loose.h"
#include "lib/base/check.h"
#include "lib/rig/winch.h"
#include "lib/base/error.h"
#include <stdlib.h>

#define GRAVITY 9.80665            /* standard: ratings in kg are loads of that mass */
#define USUAL_AXLE_LOAD 7500.0     /* N, where neither axle nor trailer has a rating */
#define AXLE_SHARE 0.92            /* of the aggregate mass on the axles, the rest on the coupling */

void dd_trailer_defaults(dd_trailer_parameters *parameters)
{
    dd_key_clear(dd_trailer_keys, parameters);
    dd_key_defaults(dd_trailer_keys, parameters);
    parameters->cookie = sizeof *parameters;
}

void dd_support_defaults(dd_support *support, int kind)
{
    for (int i = 0; i < DD_SUPPORT_KIND_COUNT; i++) dd_key_clear(dd_support_kind_at(i)->keys, support);
    dd_key_clear(dd_support_keys, support);
    support->kind = kind;
    if (dd_support_kind_at(kind) == NULL) return;
    dd_key_defaults(dd_support_keys, support);
    dd_key_defaults(dd_support_kind_at(kind)->keys, support);
}

void dd_vehicle_complete(dd_vehicle_parameters *v)
{
    dd_key_fill(dd_vehicle_keys, v);
    if (isnan(v->centre_behind_front_axle)) v->centre_behind_front_axle = 0.45 * v->wheelbase;
    if (isnan(v->body_length)) v->body_length = 1.6 * v->wheelbase;
    if (isnan(v->rear_overhang)) v->rear_overhang = fmax(0.0, v->coupling_behind_rear_axle - 0.1);
    if (isnan(v->pitch_radius))
        v->pitch_radius = fmax(0.1, sqrt(v->centre_behind_front_axle * (v->wheelbase - v->centre_behind_front_axle)));
}

static double middle_of_axles(const dd_trailer_parameters *t)
{
    double sum = 0;
    for (int i = 0; i < t->axle_count; i++) sum += t->axles[i].behind_coupling;
    return sum / t->axle_count;
}

void dd_trailer_complete(dd_trailer_parameters *t)
{
    dd_key_fill(dd_trailer_keys, t);
    if (isnan(t->spring_squash)) t->spring_squash = t->suspension == DD_SUSPENSION_TORSION ? 0.035 : 0.05;
    if (isnan(t->track)) t->track = 1.85;
    if (isnan(t->centre_behind_coupling)) t->centre_behind_coupling = AXLE_SHARE * middle_of_axles(t);
    dd_winch_complete(&t->winch);
}

/* After the rollers stand: what depends on where the trailer ends. */
static void complete_length(struct dd_rig *rig)
{
    dd_trailer_parameters *t = &rig->trailer;
    if (isnan(t->rear_end_behind_coupling)) {
        t->rear_end_behind_coupling = t->axles[t->axle_count - 1].behind_coupling;
        for (int i = 0; i < rig->roller_count; i++)
            t->rear_end_behind_coupling = fmax(t->rear_end_behind_coupling, rig->rollers[i].centre.x);
    }
    if (isnan(t->pitch_radius)) t->pitch_radius = t->rear_end_behind_coupling / sqrt(12.0);
}

static dd_status place_supports(struct dd_rig *rig, dd_error *error)
{
    for (int i = 0; i < rig->trailer.support_count; i++) {
        const dd_support *support = &rig->trailer.supports[i];
        dd_status status = dd_support_kind_at(support->kind)->place(support, i, rig, error);
        if (status != DD_OK) return status;
    }
    return DD_OK;
}

static double damping_for(double ratio, double stiffness, double load) { return 2 * ratio * sqrt(stiffness * load / GRAVITY); }

double dd_axles_middle(const dd_trailer_parameters *t)
{
    double middle = 0;
    for (int i = 0; i < t->axle_count; i++) middle += t->axles[i].behind_coupling / t->axle_count;
    return middle;
}

double dd_axle_rated_load(const dd_trailer_parameters *t, int axle)
{
    if (!isnan(t->axles[axle].rating)) return t->axles[axle].rating * GRAVITY;
    if (!isnan(t->aggregate_mass_rating)) return AXLE_SHARE * t->aggregate_mass_rating * GRAVITY / t->axle_count;
    return USUAL_AXLE_LOAD;
}

bool dd_beam_shares(const dd_trailer_parameters *t, double share[DD_AXLES])
{
    double sum = 0;
    for (int i = 0; i < t->axle_count; i++) {
        share[i] = i == 0 ? 1 : share[i - 1] * t->beam_arm_ratio;
        sum += share[i];
    }
    for (int i = 0; i < t->axle_count; i++) share[i] /= sum;
    return t->suspension == DD_SUSPENSION_BEAM && t->axle_count > 1;
}

/* A load on the beam squashes each axle's spring by its share of it; by virtual work the beam's softness is the sum of the squares of
   the shares times those of the axles. */
static void set_beam(struct dd_rig *rig)
{
    const dd_trailer_parameters *t = &rig->trailer;
    rig->beamed = dd_beam_shares(t, rig->beam_share);
    double softness = 0;
    rig->beam_rated_load = INFINITY;
    for (int i = 0; i < t->axle_count; i++) {
        softness += rig->beam_share[i] * rig->beam_share[i] / rig->axle_stiffness[i];
        rig->beam_rated_load = fmin(rig->beam_rated_load, rig->axle_rated_load[i] / rig->beam_share[i]);
    }
    rig->beam_stiffness = 1 / softness;
    rig->beam_damping = damping_for(t->bounce_damping_ratio, rig->beam_stiffness, rig->beam_rated_load);
}

static void set_springs(struct dd_rig *rig)
{
    const dd_trailer_parameters *t = &rig->trailer;
    const dd_vehicle_parameters *v = &rig->vehicle;
    double ratio = t->bounce_damping_ratio, squash = t->tyre_squash + t->spring_squash;
    rig->ball_stiffness = v->rated_coupling_load / v->rear_suspension_squash;
    rig->ball_damping = damping_for(ratio, rig->ball_stiffness, v->rated_coupling_load);
    rig->wheel_radius = t->tyre_radius + squash;
    for (int i = 0; i < t->axle_count; i++) {
        double load = dd_axle_rated_load(t, i);
        rig->axle_rated_load[i] = load;
        rig->axle_stiffness[i] = load / squash;
        rig->axle_damping[i] = damping_for(ratio, rig->axle_stiffness[i], load);
        rig->axle[i] = dd_vec(t->axles[i].behind_coupling, 0, t->tyre_radius - t->coupling_height);
    }
    set_beam(rig);
    rig->trailer_centre = dd_vec(t->centre_behind_coupling, 0, t->centre_above_ground - t->coupling_height);
}

static dd_status check_all(const dd_vehicle_parameters *vehicle, const dd_trailer_parameters *trailer, dd_error *error)
{
    const char *of_vehicle = "dd_rig_create: vehicle", *of_trailer = "dd_rig_create: trailer";
    if (vehicle->cookie != sizeof *vehicle)
        return dd_fail(error, DD_ERROR_ARGUMENT, of_vehicle, "the struct was not filled with dd_vehicle_defaults()");
    if (trailer->cookie != sizeof *trailer)
        return dd_fail(error, DD_ERROR_ARGUMENT, of_trailer, "the struct was not filled with dd_trailer_defaults()");
    dd_status status = dd_key_check(dd_vehicle_keys, vehicle, of_vehicle, error);
    if (status == DD_OK) status = dd_key_check_rules(dd_vehicle_rules, vehicle, of_vehicle, error);
    if (status == DD_OK) status = dd_key_check(dd_trailer_keys, trailer, of_trailer, error);
    if (status == DD_OK) status = dd_key_check_rules(dd_trailer_rules, trailer, of_trailer, error);
    return status;
}

dd_status dd_rig_create(const dd_vehicle_parameters *vehicle, const dd_trailer_parameters *trailer, dd_rig **rig,
                        dd_error *error)
{
    *rig = NULL;
    dd_status status = check_all(vehicle, trailer, error);
    if (status != DD_OK) return status;
    struct dd_rig *made = calloc(1, sizeof *made);
    if (made == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_rig_create", "no memory for a rig");
    made->vehicle = *vehicle;
    made->trailer = *trailer;
    dd_vehicle_complete(&made->vehicle);
    dd_trailer_complete(&made->trailer);
    status = place_supports(made, error);
    if (status != DD_OK) {
        free(made);
        return status;
    }
    complete_length(made);
    set_springs(made);
    status = dd_loose_place(made, error);
    if (status != DD_OK) {
        free(made);
        return status;
    }
    *rig = made;
    return DD_OK;
}

void dd_rig_free(dd_rig *rig) { free(rig); }
