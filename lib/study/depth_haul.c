/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The boat in balance as it is wound or driven on: what pulls it and what rubs where they do, for they trim it and load the trailer elsewhere than
   at its keel. The strap pulls from drum to bow eye, the engine at its propeller, friction is at its limit where the supports touch the hull. */
#include "lib/base/error.h"
#include "lib/force/roller.h"
#include "lib/force/strap.h"
#include "lib/force/thrust.h"
#include "lib/study/asides.h"
#include "lib/study/depth.h"
#include <math.h>

enum { PASSES = 6 };
static const double close_to = 5e-4;   /* of the weight: what pulls is found to that */
static const double enough = 1e-5;     /* imbalance, of the weight */
static const double roughly = 1e-3;    /* likewise, while what pulls still changes by more than four times what it is found to */
static const double least_share = 0.2; /* of the strap's pull, along the keel */

double dd_depth_friction_along(const dd_settle *s)
{
    const dd_system_force *rollers = dd_system_find(s->m->system, &dd_force_roller);
    double sum = 0;
    if (rollers == NULL) return 0;
    const dd_roller_instance *instance = rollers->instance;
    for (int i = 0; i < s->m->rig->roller_count; i++) {
        const int bristle = DD_BRISTLES * i + DD_ROLLING;
        const double limit = dd_roller_friction_limit(instance, i, DD_ROLLING, s->memory + rollers->memory_first) / instance->law.stiffness;
        sum += limit * fabs(s->m->workspace->load_by_value[rollers->memory_first + bristle][0]);
    }
    return sum;
}

/* Of a force's load on the hull, ahead. */
static double along_keel(const dd_study_model *m, const dd_force_kind *kind)
{
    for (int f = 0; f < m->system->force_count; f++)
        if (m->system->forces[f].kind == kind) return m->workspace->loads[f].hull[0];
    return 0;
}

/* Of friction that is in memory. */
static double rubs_along(const dd_settle *s)
{
    const dd_system_force *rollers = dd_system_find(s->m->system, &dd_force_roller);
    double sum = 0;
    for (int i = 0; rollers != NULL && i < s->m->rig->roller_count; i++) {
        const int bristle = rollers->memory_first + DD_BRISTLES * i + DD_ROLLING;
        sum += s->memory[bristle] * s->m->workspace->load_by_value[bristle][0];
    }
    return sum;
}

double dd_depth_drive_along(const dd_settle *s)
{
    return dd_drive_along(s) + along_keel(s->m, &dd_force_push) + along_keel(s->m, &dd_force_strap) + rubs_along(s);
}

double dd_depth_pull_of(const dd_study_model *m, double along, double *distance)
{
    const dd_trailer_parameters *t = &m->rig->trailer;
    const dd_kinematics *k = &m->workspace->kinematics;
    const dd_vec3 eye = dd_add(k->pose.position, dd_apply(&k->to_trailer, dd_hull_bow_eye(m->hull)));
    const dd_vec3 drum = dd_vec(t->winch.behind_coupling, 0, t->winch.above_ground - t->coupling_height);
    const dd_vec3 line = dd_sub(drum, eye), ahead = dd_vec(k->to_trailer.m[0][0], k->to_trailer.m[1][0], k->to_trailer.m[2][0]);
    *distance = dd_norm(line);
    return along / fmax(least_share, dd_dot(line, ahead) / fmax(1e-6, *distance));
}

/* Friction has no energy to descend on: where that stops short of the balance, by Newton's method. */
static dd_status balance(dd_settle *s, double within, dd_error *error)
{
    dd_equilibrium found;
    const dd_status status = dd_equilibrium_descend(s->m->workspace, 0, &s->at.pose, s->memory, s->free, within, error);
    if (status != DD_ERROR_NO_EQUILIBRIUM) return status;
    if (dd_equilibrium_follow(s->m->workspace, 0, &s->at.pose, s->memory, s->free, true, &found, NULL) != DD_OK) return status;
    s->at = found;
    return DD_OK;
}

/* Of the strap, N, and of the engine, share of its thrust. */
typedef struct hauling {
    double pull, throttle;
} hauling;

/* What it takes to bring the boat on from here. The engine drives it as far as its thrust reaches, until two supports hold it; from there on the strap
   takes what the thrust that is left on does not. *driven: which of the two, settled as it is first looked at. */
static hauling asked(const dd_depth *d, const dd_settle *s, bool first, bool *driven)
{
    const dd_study_model *m = s->m;
    const dd_system_force *engine = dd_system_find(m->system, &dd_force_thrust), *strap = dd_system_find(m->system, &dd_force_strap);
    const double most = engine != NULL && d->way.engine ? dd_thrust_propeller(engine->instance).thrust : 0;
    const double takes = dd_depth_friction_along(s) + dd_depth_drive_along(s) + along_keel(m, &dd_force_thrust);
    double distance;
    if (first && most > 0) {
        dd_seen seen;
        dd_seen_read(m, 0, &seen);
        *driven = seen.v[DD_SEEN_WITHIN] < m->scenario.limits.stern_lift_share * d->weight && takes <= d->way.throttle * most;
    }
    if (*driven) return (hauling){0, fmax(0.0, takes) / most};
    return (hauling){strap != NULL ? fmax(0.0, dd_depth_pull_of(m, takes - d->way.hold * most, &distance)) : 0, most > 0 ? d->way.hold : 0};
}

/* within: how nearly it is in balance as it lies, of the weight. */
static dd_status haul(const dd_depth *d, dd_settle *s, double within, dd_error *error)
{
    dd_plan *plan = &s->m->workspace->plan;
    const dd_system_force *engine = dd_system_find(s->m->system, &dd_force_thrust);
    const double thrust = engine != NULL ? dd_thrust_propeller(engine->instance).thrust : 0;
    bool driven = false;
    dd_status status = DD_OK;
    for (int i = 0; i < PASSES && status == DD_OK && !d->way.launch; i++) {
        const bool rubs = dd_study_friction_holds(s->m, DD_FRICTION_WOUND_IN, s->memory);
        const hauling to = asked(d, s, i == 0, &driven);
        const double more = fmax(fabs(to.pull - plan->set.strap_pull), thrust * fabs(to.throttle - plan->throttle.to));
        if (rubs && more < close_to * d->weight && within <= enough) break;
        if (!rubs && dd_study_friction(s->m, &s->at.pose, DD_FRICTION_WOUND_IN, s->memory) != DD_OK)
            return dd_fail(error, DD_ERROR_MEMORY, "dd_study_depth", "no memory for the friction states");
        plan->set.strap_pull = to.pull;
        plan->throttle.from = plan->throttle.to = to.throttle;
        within = i + 1 == PASSES || (rubs && more < 4 * close_to * d->weight) ? enough : roughly;
        status = balance(s, within, error);
    }
    return status;
}

dd_status dd_depth_haul(const dd_depth *d, dd_settle *s, dd_error *error) { return haul(d, s, enough, error); }

dd_status dd_depth_lie(const dd_depth *d, dd_settle *s, dd_error *error)
{
    if (d->way.launch) return dd_equilibrium_descend(s->m->workspace, 0, &s->at.pose, s->memory, s->free, enough, error);
    const dd_status status = balance(s, roughly, error);
    return status == DD_OK ? haul(d, s, roughly, error) : status;
}
