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
static const double closer = 0.5;      /* of that, while it is looked for */
static const double enough = 1e-5;     /* imbalance, of the weight */
static const double roughly = 1e-3;    /* likewise: near enough to tell whether the engine drives it, or the strap winds it */
static const double somewhere = 2e-2;  /* likewise: near enough to tell what it takes */
static const double least_share = 0.2; /* of the strap's pull, along the keel */

/* On the load of a roller's bristle. */
static const double *load_by(const dd_settle *s, const dd_system_force *rollers, int roller, int which)
{
    return s->m->workspace->load_by_value[rollers->memory_first + DD_BRISTLES * roller + which];
}

/* Side grip of the rollers under a boat that is brought on, as their bristles have it, m. */
static void read_side_grip(const dd_settle *s, double grip[DD_ROLLERS])
{
    const dd_system_force *rollers = dd_system_find(s->m->system, &dd_force_roller);
    dd_workspace *w = s->m->workspace;
    for (int i = 0; rollers != NULL && i < s->m->rig->roller_count; i++)
        grip[i] = dd_roller_drawn_over(rollers->instance, i, &w->kinematics, s->memory + rollers->memory_first, &w->load_by_value[rollers->memory_first + DD_BRISTLES * i]);
}

static double friction_along(const dd_settle *s, const double grip[DD_ROLLERS])
{
    const dd_system_force *rollers = dd_system_find(s->m->system, &dd_force_roller);
    double sum = 0;
    if (rollers == NULL) return 0;
    const dd_roller_instance *instance = rollers->instance;
    for (int i = 0; i < s->m->rig->roller_count; i++) {
        const double limit = dd_roller_friction_limit(instance, i, DD_ROLLING, s->memory + rollers->memory_first) / instance->law.stiffness;
        sum += limit * fabs(load_by(s, rollers, i, DD_ROLLING)[0]) - grip[i] * load_by(s, rollers, i, DD_ACROSS)[0];
    }
    return sum;
}

double dd_depth_friction_along(const dd_settle *s)
{
    double grip[DD_ROLLERS];
    read_side_grip(s, grip);
    return friction_along(s, grip);
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
    for (int i = 0; rollers != NULL && i < s->m->rig->roller_count; i++)
        for (int b = 0; b < DD_BRISTLES; b++) sum += s->memory[rollers->memory_first + DD_BRISTLES * i + b] * load_by(s, rollers, i, b)[0];
    return sum;
}

/* Gives the rollers that side grip. Returns by how much more or less it takes at most with it, along the keel and by what they press, N; set: false: it only
   looks. */
static double grip_sideways(const dd_settle *s, const double grip[DD_ROLLERS], bool set)
{
    const dd_system_force *rollers = dd_system_find(s->m->system, &dd_force_roller);
    double more = 0;
    for (int i = 0; rollers != NULL && i < s->m->rig->roller_count; i++) {
        const double *by = load_by(s, rollers, i, DD_ACROSS);
        double *has = &s->memory[rollers->memory_first + DD_BRISTLES * i + DD_ACROSS];
        more += fabs(grip[i] - *has) * (fabs(by[0]) + s->m->rig->rollers[i].rolling_resistance * fabs(by[2]));
        if (set) *has = grip[i];
    }
    return more;
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

dd_depth_hauling dd_depth_hauling_now(const dd_settle *s)
{
    const dd_plan *plan = &s->m->workspace->plan;
    return (dd_depth_hauling){plan->set.strap_pull, plan->throttle.to};
}

static void haul_by(dd_settle *s, dd_depth_hauling by)
{
    dd_plan *plan = &s->m->workspace->plan;
    plan->set.strap_pull = by.pull;
    plan->throttle.from = plan->throttle.to = by.throttle;
}

dd_depth_hauling dd_depth_hauling_at(const double way[3], const dd_depth_hauling hauling[3], double at)
{
    dd_depth_hauling sum = {0, 0};
    for (int i = 0; i < 3; i++) {
        const int j = (i + 1) % 3, k = (i + 2) % 3;
        const double share = (at - way[j]) * (at - way[k]) / ((way[i] - way[j]) * (way[i] - way[k]));
        sum.pull += share * hauling[i].pull, sum.throttle += share * hauling[i].throttle;
    }
    return (dd_depth_hauling){fmax(0.0, sum.pull), fmax(0.0, sum.throttle)};
}

/* What it takes to bring the boat on from here, against so much friction. The engine drives it as far as its thrust reaches, until two supports hold it; from there on the strap
   takes what the thrust that is left on does not. *driven: which of the two, settled as it is first looked at. */
static dd_depth_hauling asked(const dd_depth *d, const dd_settle *s, double friction, bool first, bool *driven)
{
    const dd_study_model *m = s->m;
    const dd_system_force *engine = dd_system_find(m->system, &dd_force_thrust), *strap = dd_system_find(m->system, &dd_force_strap);
    const double most = engine != NULL && d->way.engine ? dd_thrust_propeller(engine->instance).thrust : 0;
    const double takes = friction + dd_depth_drive_along(s) + along_keel(m, &dd_force_thrust);
    double distance;
    if (first && most > 0) {
        dd_seen seen;
        dd_seen_read(m, 0, &seen);
        *driven = seen.v[DD_SEEN_WITHIN] < m->scenario.limits.stern_lift_share * d->weight && takes <= d->way.throttle * most;
    }
    if (*driven) return (dd_depth_hauling){0, fmax(0.0, takes) / most};
    return (dd_depth_hauling){strap != NULL ? fmax(0.0, dd_depth_pull_of(m, takes - d->way.hold * most, &distance)) : 0, most > 0 ? d->way.hold : 0};
}

/* A boat that lies here, as it is hauled. */
typedef struct hauled {
    const dd_depth *d;
    dd_settle *s;
    double thrust; /* of the engine, N */
    bool first, driven;
    double pull, more; /* of the strap where it was asked last, and how much more it took there, N; NaN: not known */
} hauled;

/* By how much more or less it takes than what hauls it, N. */
static double off_by(const hauled *h, dd_depth_hauling to)
{
    const dd_depth_hauling now = dd_depth_hauling_now(h->s);
    return fmax(fabs(to.pull - now.pull), h->thrust * fabs(to.throttle - now.throttle));
}

/* A load that goes with what is given of it. */
static void scale_load(const dd_study_model *m, const dd_force_kind *kind, double was, double is)
{
    for (int f = 0; f < m->system->force_count; f++) {
        if (m->system->forces[f].kind != kind || !(was > 0)) continue;
        dd_load *load = &m->workspace->loads[f];
        for (int i = 0; i < 6; i++) load->hull[i] *= is / was;
        load->energy *= is / was;
    }
}

/* What the strap takes hangs on what it pulls, on a bed that tilts by a third of that: by the line through the last two. */
static double led_on(hauled *h, double pull, double asked)
{
    static const double least = 0.3, most = 3; /* of the change that is asked */
    const double more = asked - pull, fell = (h->more - more) / (pull - h->pull);
    const double led = pull + more / fell;
    h->pull = pull, h->more = more;
    return fell > 1 / most && fell < 1 / least ? fmax(0.0, led) : asked;
}

/* At a place of the search for its balance: hauled by what it takes there, so that both are found at once. */
static dd_wanted_change haul_as_asked(double left, void *context)
{
    hauled *h = context;
    if (left > (h->thrust > 0 ? roughly : somewhere)) return DD_WANTED_LITTLE;
    dd_depth_hauling to = asked(h->d, h->s, dd_depth_friction_along(h->s), h->first, &h->driven);
    const dd_depth_hauling was = dd_depth_hauling_now(h->s);
    h->first = false;
    if (off_by(h, to) < closer * close_to * h->d->weight) return DD_WANTED_LITTLE;
    to.pull = led_on(h, was.pull, to.pull);
    haul_by(h->s, to);
    if ((was.pull == 0 && to.pull > 0) || (was.throttle == 0 && to.throttle > 0)) return DD_WANTED_ANEW;
    scale_load(h->s->m, &dd_force_strap, was.pull, to.pull);
    scale_load(h->s->m, &dd_force_thrust, was.throttle, to.throttle);
    return DD_WANTED_SCALED;
}

/* Friction has no energy to descend on: where that stops short of the balance, by Newton's method. */
static dd_status balance(hauled *h, dd_error *error)
{
    dd_settle *s = h->s;
    dd_equilibrium found;
    const dd_wanted wanted = {haul_as_asked, h};
    const dd_depth_hauling began = dd_depth_hauling_now(s);
    h->pull = h->more = NAN;
    const dd_status status = dd_equilibrium_descend_as(s->m->workspace, 0, &s->at.pose, s->memory, s->free, enough, &wanted, error);
    if (status != DD_ERROR_NO_EQUILIBRIUM) return status;
    haul_by(s, began);
    if (dd_equilibrium_follow(s->m->workspace, 0, &s->at.pose, s->memory, s->free, true, &found, NULL) != DD_OK) return status;
    s->at = found;
    return DD_OK;
}

static hauled begin_to_haul(const dd_depth *d, dd_settle *s)
{
    const dd_system_force *engine = dd_system_find(s->m->system, &dd_force_thrust);
    return (hauled){.d = d, .s = s, .thrust = engine != NULL && d->way.engine ? dd_thrust_propeller(engine->instance).thrust : 0, .first = true};
}

/* From a balance on, until what hauls it is what it takes, friction at its limit. */
static dd_status haul(hauled *h, dd_error *error)
{
    dd_settle *s = h->s;
    dd_status status = DD_OK;
    for (int i = 0; i < PASSES && status == DD_OK; i++) {
        const bool rubs = dd_study_friction_holds(s->m, DD_FRICTION_WOUND_IN, s->memory);
        double grip[DD_ROLLERS];
        read_side_grip(s, grip);
        const dd_depth_hauling to = asked(h->d, s, friction_along(s, grip), h->first, &h->driven);
        h->first = false;
        if (rubs && fmax(off_by(h, to), grip_sideways(s, grip, false)) < close_to * h->d->weight) break;
        if (!rubs && dd_study_friction(s->m, &s->at.pose, DD_FRICTION_WOUND_IN, s->memory) != DD_OK)
            return dd_fail(error, DD_ERROR_MEMORY, "dd_study_depth", "no memory for the friction states");
        (void)grip_sideways(s, grip, true);
        haul_by(s, to);
        status = balance(h, error);
    }
    return status;
}

dd_status dd_depth_balance(dd_settle *s, dd_error *error)
{
    dd_equilibrium found;
    const dd_status status = dd_equilibrium_descend(s->m->workspace, 0, &s->at.pose, s->memory, s->free, enough, error);
    if (status != DD_ERROR_NO_EQUILIBRIUM) return status;
    if (dd_equilibrium_follow(s->m->workspace, 0, &s->at.pose, s->memory, s->free, true, &found, NULL) != DD_OK) return status;
    s->at = found;
    return DD_OK;
}

dd_status dd_depth_haul(const dd_depth *d, dd_settle *s, dd_error *error)
{
    hauled h = begin_to_haul(d, s);
    return d->way.launch ? DD_OK : haul(&h, error);
}

dd_status dd_depth_lie(const dd_depth *d, dd_settle *s, const dd_depth_hauling *expected, dd_error *error)
{
    if (d->way.launch) return d->way.engine ? dd_depth_balance(s, error) : dd_equilibrium_descend(s->m->workspace, 0, &s->at.pose, s->memory, s->free, enough, error);
    hauled h = begin_to_haul(d, s);
    if (expected != NULL) haul_by(s, *expected);
    const dd_status status = balance(&h, error);
    return status == DD_OK ? haul(&h, error) : status;
}
