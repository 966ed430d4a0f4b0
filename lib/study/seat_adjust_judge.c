/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a setting comes to. The convex problem of the supports is solved again and again about where the hull then lies, until it lies
   where it was taken to lie; the contacts are met anew each time, so rollers may be shifted by as much as they go. Bow stop and strap
   keep to the bow as the equilibrium of the run has it: the post takes the boat along, the strap is wound to its pretension again. */
#include "lib/base/error.h"
#include "lib/study/seat_adjust.h"
#include "lib/study/seat_coupling.h"
#include <math.h>
#include <stdlib.h>

enum { TIMES = 12 };
static const double settled = 2e-6;    /* m, rad: it lies where it was taken to lie */
static const double sides_least = 0.02; /* of the weight on the sides, at the worst of the tolerance: they then touch and steady it.
                                           Common practice, no published source */

/* Where the hull was taken to lie. */
typedef struct lying {
    dd_vec3 origin;
    dd_mat3 to_trailer;
    double angles[DD_ARMS];
    double post; /* how far aft the post stands of where it stood, m */
} lying;

static double post_of(const dd_adjusting *a, const dd_setting *setting)
{
    for (int i = 0; i < a->shift_count; i++)
        if (a->shifts[i].support == DD_SHIFT_POST) return setting->by[i];
    return 0;
}

static double out_of(const dd_adjusting *a, const dd_setting *setting, int support)
{
    for (int i = 0; i < a->shift_count; i++)
        if (a->shifts[i].support == support && a->shifts[i].direction == DD_SHIFT_OUT) return setting->by[i];
    return 0;
}

/* Contact and strap at the bow, as they are on the hull that lies there. */
static void add_bow(const dd_adjusting *a, const lying *l, dd_seat_model *model)
{
    const dd_seat *base = &a->base;
    for (int i = 0; i < base->model.contact_count; i++) {
        dd_seat_contact c = base->model.contacts[i];
        if (c.support >= 0 || model->contact_count >= DD_SEAT_CONTACTS) continue;
        const dd_vec3 push = dd_apply(&base->placement.to_trailer, c.push);
        const dd_vec3 before = dd_placed_point(&base->placement, c.at), now = dd_add(l->origin, dd_apply(&l->to_trailer, c.at));
        c.gap += dd_dot(push, dd_sub(now, dd_add(before, dd_vec(l->post, 0, 0))));
        c.push = dd_apply_transposed(&l->to_trailer, push);
        model->contacts[model->contact_count++] = c;
    }
    for (int i = 0; i < model->line_count; i++)
        model->lines[i].pull = dd_apply_transposed(&l->to_trailer, dd_apply(&base->placement.to_trailer, base->model.lines[i].pull));
}

static dd_mat3 turned(const dd_mat3 *r, const double turn[3])
{
    const double angle = sqrt(turn[0] * turn[0] + turn[1] * turn[1] + turn[2] * turn[2]), s = angle > 0 ? sin(0.5 * angle) / angle : 0.5;
    const dd_mat3 by = dd_rotation_of((dd_quaternion){cos(0.5 * angle), s * turn[0], s * turn[1], s * turn[2]});
    return dd_multiply(r, &by);
}

/* Takes the hull to where the solution has it; returns by how much, m or rad. */
static double lie_down(lying *l, const dd_seat_model *model, const dd_seat_solution *solution)
{
    double most = 0;
    const double *u = solution->displacement;
    for (int i = 0; i < 6; i++) most = fmax(most, fabs(u[i]));
    for (int i = 0; i < model->arm_count; i++) {
        l->angles[i] += solution->angle[i];
        most = fmax(most, fabs(solution->angle[i]));
    }
    l->origin = dd_add(l->origin, dd_apply(&l->to_trailer, dd_vec(u[0], u[1], u[2])));
    l->to_trailer = turned(&l->to_trailer, u + 3);
    return most;
}

/* Where the search takes it to lie first: upright and straight, whatever side it leans to as the rig stands, so that a lean that the
   new setting does not keep is not carried on; what leans by its own load comes to lean again. */
static lying upright(const dd_adjusting *a, const dd_setting *setting)
{
    lying l = {.origin = a->base.placement.origin, .post = post_of(a, setting)};
    const dd_mat3 *r = &a->base.placement.to_trailer;
    const double trim = atan2(r->m[2][0], -r->m[0][0]); /* bow up: the hull's X leans upward, and points forward, the trailer's -X */
    const dd_quaternion lies = dd_quaternion_multiply((dd_quaternion){0, 0, 0, 1}, (dd_quaternion){cos(0.5 * trim), 0, -sin(0.5 * trim), 0});
    l.to_trailer = dd_rotation_of(lies);
    l.origin.x += l.post;
    l.origin.y = 0;
    return l;
}

/* No support stands behind the transom as a whole: lib/study/fit.c refuses that. */
static bool fits(const dd_rig *rig, const lying *l)
{
    static const double room = 0.005; /* m: with its trim the transom comes to stand that near to where it stood */
    for (int k = 0; k < rig->trailer.support_count; k++) {
        double foremost = -INFINITY;
        for (int i = 0; i < rig->roller_count; i++) {
            const double x = rig->rollers[i].centre.x;
            if (rig->rollers[i].support == k && (isinf(foremost) || x < foremost)) foremost = x;
        }
        if (foremost > l->origin.x - room) return false;
    }
    return true;
}

/* The contacts where the hull now lies. */
static void meet_anew(const dd_adjusting *a, const dd_rig *rig, const lying *l, dd_seat_model *model)
{
    dd_seat_meet(a->base.m->hull, rig, l->angles, &l->to_trailer, l->origin, a->scenario->seating.law == DD_LAW_LINEAR, model);
    add_bow(a, l, model);
    dd_seat_set_nodes(a->base.m->hull, model);
}

/* The model of the hull at rest on that rig, as dd_seat_model_create() makes it of the run's equilibrium: that is under the weight's
   direction as the rig stands, with the strap at its tension. The weak springs to the reference are made strong meanwhile: where the hull
   lies at rest they carry nothing, and what nothing but the hull's shape holds (a sway with a roll) does not overshoot.
   DD_ERROR_NO_EQUILIBRIUM: it does not come to rest. */
static dd_status lay(const dd_adjusting *a, const dd_rig *rig, lying *l, dd_seat_model *model, dd_seat_solution *solution, dd_error *error)
{
    const dd_seat *base = &a->base;
    const double weight = dd_hull_mass(base->m->hull)->mass * base->gravity;
    const dd_vec3 up = dd_apply(&base->placement.to_trailer, base->m->workspace->kinematics.up);
    *model = base->model;
    model->hold = weight;
    for (int i = 0; i < model->first_grip; i++) model->lines[i].stiffness = 1e-6 * base->model.lines[i].stiffness;
    for (int i = 0; i < TIMES; i++) {
        meet_anew(a, rig, l, model);
        dd_status status = dd_seat_solve(model, dd_apply_transposed(&l->to_trailer, dd_scale(-base->gravity, up)), NULL, NULL, solution, error);
        if (status != DD_OK) return status;
        if (lie_down(l, model, solution) < settled) break;
    }
    meet_anew(a, rig, l, model);
    model->hold = base->model.hold;
    for (int i = 0; i < model->first_grip; i++) model->lines[i].stiffness = base->model.lines[i].stiffness;
    return DD_OK;
}

/* What a load of its own is rated for: a roller, or a skid, port and starboard apart. */
typedef struct unit {
    int support, side;
    int roller; /* -1: a whole skid */
} unit;

static bool bears(const unit *u, const dd_seat_contact *c, int contact)
{
    return c->support == u->support && (u->roller < 0 ? c->side == u->side : contact == u->roller);
}

static double sum_on(const dd_seat_model *model, const unit *u, const double *values)
{
    double sum = 0;
    for (int i = 0; i < model->contact_count; i++)
        if (bears(u, &model->contacts[i], i)) sum += values[i];
    return sum;
}

/* The units of a support; returns how many. */
static int units_of(const dd_rig *rig, const dd_seat_model *model, int support, unit units[DD_SEAT_CONTACTS])
{
    int count = 0;
    const bool skid = rig->trailer.supports[support].kind == DD_SUPPORT_SKID;
    for (int i = 0; i < model->contact_count; i++) {
        const dd_seat_contact *c = &model->contacts[i];
        if (c->support != support) continue;
        bool known = false;
        for (int u = 0; u < count && skid; u++) known |= units[u].side == c->side;
        if (!known) units[count++] = (unit){support, c->side, skid ? -1 : i};
    }
    return count;
}

static double most_on(const dd_seat_model *model, const unit *units, int count, const double *load)
{
    double most = 0;
    for (int u = 0; u < count; u++) most = fmax(most, sum_on(model, &units[u], load));
    return most;
}

static double most_point(const dd_seat_model *model, int support, const double *load)
{
    double most = 0;
    for (int i = 0; i < model->contact_count; i++)
        if (model->contacts[i].support == support) most = fmax(most, load[i]);
    return most;
}

static double keel_share(const dd_seat_model *model, const dd_rig *rig, const double *load)
{
    double keel = 0, all = 0;
    for (int i = 0; i < model->contact_count; i++) {
        const dd_seat_contact *c = &model->contacts[i];
        if (c->roller < 0) continue;
        all += load[i] * c->push.z;
        if (rig->rollers[c->roller].keel) keel += load[i] * c->push.z;
    }
    return all > 0 ? keel / all : 0;
}

/* Solutions at ends of tolerances, each where the heights' effects alone point. */
typedef struct worst_ends {
    dd_adjusting *a;
    const dd_seat_model *model;
    const dd_rig *rig;
    dd_vec3 down;
    int count;
    dd_seat_height heights[DD_SEAT_HEIGHTS];
    double effects[DD_SEAT_HEIGHTS][DD_SEAT_CONTACTS];
    dd_seat_solution solution;
} worst_ends;

static dd_status at_end(worst_ends *w, const double *way, double sign, dd_error *error)
{
    double raise[DD_SEAT_CONTACTS] = {0};
    for (int h = 0; h < w->count; h++)
        dd_seat_raise(w->model, w->heights[h].support, w->heights[h].side, (way[h] >= 0 ? sign : -sign) * w->a->tolerance, raise);
    return dd_seat_solve(w->model, w->down, raise, NULL, &w->solution, error);
}

static dd_status worst_of_support(worst_ends *w, const double *level, int support, dd_seat_outcome *o, dd_error *error)
{
    unit units[DD_SEAT_CONTACTS];
    const int count = units_of(w->rig, w->model, support, units);
    double most = -INFINITY, way[DD_SEAT_HEIGHTS];
    const unit *loaded = NULL;
    for (int u = 0; u < count; u++) {
        double reach = sum_on(w->model, &units[u], level);
        for (int h = 0; h < w->count; h++) reach += w->a->tolerance * fabs(sum_on(w->model, &units[u], w->effects[h]));
        if (reach > most) most = reach, loaded = &units[u];
    }
    o->most[support] = o->worst[support] = most_on(w->model, units, count, level);
    o->point[support] = most_point(w->model, support, level);
    if (loaded == NULL || w->a->likely) return DD_OK;
    for (int look = 0; look < 2; look++) { /* where the effects point; and it alone high, which others that lift off may leave to bear more */
        for (int h = 0; h < w->count; h++) {
            const bool own = w->heights[h].support == support && w->heights[h].side == loaded->side;
            way[h] = look == 0 ? sum_on(w->model, loaded, w->effects[h]) : own ? 1 : -1;
        }
        dd_status status = at_end(w, way, 1, error);
        if (status != DD_OK) return status;
        o->worst[support] = fmax(o->worst[support], most_on(w->model, units, count, w->solution.load));
        o->point[support] = fmax(o->point[support], most_point(w->model, support, w->solution.load));
    }
    return DD_OK;
}

/* thorough: of rollers as seat has it. */
static dd_status worst_of_supports(worst_ends *w, const double *level, bool thorough, dd_seat_outcome *o, dd_error *error)
{
    dd_status status = DD_OK;
    for (int k = 0; k < w->a->trailer.support_count && status == DD_OK; k++) status = worst_of_support(w, level, k, o, error);
    if (!thorough || status != DD_OK) return status;
    double worst[DD_SUPPORTS];
    status = dd_seat_worst(w->model, w->down, w->a->tolerance, worst, error);
    for (int k = 0; k < w->a->trailer.support_count && status == DD_OK; k++) {
        o->point[k] = fmax(o->point[k], worst[k]);
        if (w->rig->trailer.supports[k].kind != DD_SUPPORT_SKID) o->worst[k] = fmax(o->worst[k], worst[k]);
    }
    return status;
}

/* Least and greatest share of the keel over the tolerance. */
static dd_status range_of_keel(worst_ends *w, const double *level, dd_seat_outcome *o, dd_error *error)
{
    double way[DD_SEAT_HEIGHTS], raised[DD_SEAT_CONTACTS];
    o->keel = o->keel_least = o->keel_most = keel_share(w->model, w->rig, level);
    for (int h = 0; h < w->count; h++) {
        const double little = 1e-3 * w->a->tolerance;
        for (int i = 0; i < w->model->contact_count; i++) raised[i] = fmax(0, level[i] + little * w->effects[h][i]);
        way[h] = keel_share(w->model, w->rig, raised) - o->keel;
    }
    dd_status status = DD_OK;
    for (int sign = -1; sign <= 1 && status == DD_OK; sign += 2) {
        status = at_end(w, way, sign, error);
        const double share = status == DD_OK ? keel_share(w->model, w->rig, w->solution.load) : o->keel;
        o->keel_least = fmin(o->keel_least, share);
        o->keel_most = fmax(o->keel_most, share);
    }
    return status;
}

/* The load at which a roller, or a whole skid, has its squash: the rated one where it is given. */
static double usual_load(const dd_rig *rig, const dd_seat_model *model, int support)
{
    const dd_support *k = &rig->trailer.supports[support];
    for (int i = 0; i < model->contact_count; i++) {
        const dd_seat_contact *c = &model->contacts[i];
        if (c->support == support)
            return rig->rollers[c->roller].stiffness * pow(k->squash_at_rated_load, 1.5) * (k->kind == DD_SUPPORT_SKID ? k->points : 1);
    }
    return INFINITY;
}

static void find_uses(const dd_adjusting *a, const dd_rig *rig, const dd_seat_model *model, dd_seat_outcome *o)
{
    double sum = 0, squares = 0;
    int count = 0;
    for (int k = 0; k < a->trailer.support_count; k++) {
        const double usual = usual_load(rig, model, k);
        if (!isfinite(usual)) continue;
        o->use[k] = o->worst[k] / usual;
        o->greatest = fmax(o->greatest, o->use[k]);
        sum += o->most[k] / usual;
        squares += o->most[k] * o->most[k] / (usual * usual);
        count++;
    }
    const double mean = count > 0 ? sum / count : 0;
    o->uneven = mean > 0 ? sqrt(fmax(0, squares / count - mean * mean)) / mean : 0;
}

static double over(double share, double reserve) { return fmax(0, share / (1 - reserve) - 1); }
static double short_of(double value, double least, double reserve) { return least > 0 ? fmax(0, 1 - value / (least * (1 + reserve))) : 0; }

static void find_missed(const dd_adjusting *a, double reserve, dd_seat_outcome *o)
{
    const dd_seating *asked = &a->scenario->seating;
    const dd_trailer_parameters *t = &a->trailer;
    for (int i = 0; i < DD_ASK_KINDS; i++) o->miss[i] = 0;
    for (int k = 0; k < t->support_count; k++) {
        const double rated = t->supports[k].rated_load;
        if (!isnan(rated)) o->miss[DD_ASK_RATED] += over(o->worst[k] / rated, reserve);
        if (a->asked[DD_ASK_HULL]) o->miss[DD_ASK_HULL] += over(o->point[k] / asked->greatest_roller_load, reserve);
    }
    if (a->asked[DD_ASK_KEEL]) o->miss[DD_ASK_KEEL] = short_of(o->keel_least, asked->least_keel_share, fmin(reserve, 1 / asked->least_keel_share - 1));
    if (a->asked[DD_ASK_SIDES]) o->miss[DD_ASK_SIDES] = short_of(1 - o->keel_most, sides_least, reserve);
    if (a->asked[DD_ASK_CLEAR] && o->clearance < asked->clearance) o->miss[DD_ASK_CLEAR] = (asked->clearance - o->clearance) / asked->clearance;
    if (!a->asked[DD_ASK_COUPLING]) return;
    if (!isnan(asked->least_coupling_share)) o->miss[DD_ASK_COUPLING] += short_of(o->coupling, asked->least_coupling_share, reserve);
    if (!isnan(asked->greatest_coupling_share)) o->miss[DD_ASK_COUPLING] += over(o->coupling / asked->greatest_coupling_share, reserve);
    if (!isnan(t->coupling_rating)) o->miss[DD_ASK_COUPLING] += over(o->coupling_load / t->coupling_rating, reserve);
    const double ball = a->scenario->vehicle.tow_ball_rating * a->base.gravity;
    if (!isnan(ball)) o->miss[DD_ASK_COUPLING] += over(o->coupling_load / ball, reserve);
}

static void take_clearance(dd_seat_outcome *o, double clearance)
{
    if (!isnan(clearance) && !(o->clearance <= clearance)) o->clearance = clearance;
}

/* The outcome of a hull at rest on a rig; its clearance stands in *o. */
static dd_status judge(dd_adjusting *a, const dd_seat_laid *laid, const dd_seat_model *model, bool thorough, double reserve, dd_seat_outcome *o, dd_error *error)
{
    const dd_rig *rig = laid->rig;
    const dd_placement *placement = &laid->placement;
    worst_ends *w = malloc(sizeof *w);
    if (w == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_adjust", "no memory for the supports' loads");
    *w = (worst_ends){.a = a, .model = model, .rig = rig, .down = dd_apply_transposed(&placement->to_trailer, dd_vec(0, 0, -a->base.gravity))};
    double level[DD_SEAT_CONTACTS];
    w->count = dd_seat_heights(model, w->heights);
    *o = (dd_seat_outcome){.stands = true, .clearance = o->clearance};
    dd_status status = dd_seat_effects(model, w->down, w->heights, w->count, &w->solution, w->effects, error);
    for (int i = 0; i < model->contact_count; i++) level[i] = w->solution.load[i];
    for (int i = 0; i < model->contact_count; i++)
        if (model->contacts[i].support >= 0) o->load[model->contacts[i].support] += level[i];
    if (status == DD_OK) status = worst_of_supports(w, level, thorough, o, error);
    if (status == DD_OK && !a->likely) status = range_of_keel(w, level, o, error);
    free(w);
    if (status != DD_OK) return status;
    find_uses(a, rig, model, o);
    const dd_mass_properties *boat = dd_hull_mass(a->base.m->hull);
    status = dd_seat_coupling_load(a->scenario, &rig->trailer, boat->mass, dd_placed_point(placement, boat->centre), &o->coupling_load, &o->coupling, error);
    if (status != DD_OK) return status;
    find_missed(a, reserve, o);
    dd_adjust_required(a, laid, model, level, reserve, o);
    return DD_OK;
}

/* What cannot be built or does not stand is an outcome; that memory ran out is not. */
static bool is_outcome(dd_adjusting *a, dd_status status, dd_seat_outcome *o)
{
    if (status == DD_OK) return true;
    o->stands = false;
    if (status == DD_ERROR_MEMORY) a->status = status;
    return status != DD_ERROR_MEMORY;
}

bool dd_adjust_judge(dd_adjusting *a, const dd_setting *setting, bool thorough, dd_seat_outcome *outcome)
{
    dd_trailer_parameters *trailer = malloc(sizeof *trailer);
    dd_seat_model *model = malloc(sizeof *model);
    dd_seat_solution *solution = malloc(sizeof *solution);
    dd_rig *rig = NULL;
    *outcome = (dd_seat_outcome){.clearance = NAN};
    dd_status status = trailer != NULL && model != NULL && solution != NULL ? DD_OK : DD_ERROR_MEMORY;
    if (status == DD_OK) {
        dd_adjust_apply(a, setting, trailer);
        status = dd_rig_create(&a->scenario->vehicle, trailer, &rig, NULL);
    }
    if (status == DD_OK) {
        lying l = upright(a, setting);
        const double *angles = dd_seat_arm_angles(a->base.m);
        for (int i = 0; i < rig->arm_count && angles != NULL; i++) l.angles[i] = angles[i];
        status = fits(rig, &l) ? lay(a, rig, &l, model, solution, NULL) : DD_ERROR_NO_EQUILIBRIUM;
        const dd_seat_laid laid = {rig, l.angles, {l.origin, l.to_trailer}};
        for (int k = 0; k < trailer->support_count; k++) take_clearance(outcome, dd_adjust_clear(a, k, out_of(a, setting, k)));
        if (status == DD_OK) status = judge(a, &laid, model, thorough, a->reserve, outcome, NULL);
    }
    dd_rig_free(rig);
    free(trailer);
    free(model);
    free(solution);
    a->judged++;
    return is_outcome(a, status, outcome);
}

dd_status dd_adjust_judge_home(const dd_adjusting *a, const dd_seat *seat, dd_seat_outcome *outcome, dd_error *error)
{
    dd_adjusting *same = malloc(sizeof *same);
    if (same == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_study_adjust", "no memory for the supports' loads");
    *same = *a;
    const dd_seat_laid laid = {seat->m->rig, dd_seat_arm_angles(seat->m), seat->placement};
    *outcome = (dd_seat_outcome){.clearance = NAN};
    for (int k = 0; k < a->trailer.support_count; k++) take_clearance(outcome, dd_adjust_clear_home(seat, k));
    dd_status status = judge(same, &laid, &seat->model, true, 0, outcome, error);
    free(same);
    return status;
}

double dd_adjust_strain(const dd_seat_outcome *outcome) { return outcome->greatest + 3 * outcome->uneven; }

double dd_adjust_missed(const dd_adjusting *a, const dd_seat_outcome *outcome)
{
    double sum = 0;
    for (int i = 0; i < DD_ASK_KINDS; i++)
        if (i != a->dropped) sum += outcome->miss[i];
    return outcome->stands ? sum : INFINITY;
}

double dd_adjust_cost(const dd_adjusting *a, const dd_setting *setting, const dd_seat_outcome *outcome)
{
    static const double any_missed = 10, of_missed = 100, of_dropped = 3, of_shift = 0.05 /* per metre */, fallen = 1000;
    if (!outcome->stands) return fallen;
    double shifted = 0;
    for (int i = 0; i < a->shift_count; i++) shifted += fabs(setting->by[i]);
    const double dropped = a->dropped >= 0 ? outcome->miss[a->dropped] : 0;
    if (a->likely) return outcome->uneven + of_shift * shifted;
    const double missed = dd_adjust_missed(a, outcome);
    return (missed > 0 ? any_missed : 0) + of_missed * missed + of_dropped * dropped + dd_adjust_strain(outcome) + of_shift * shifted;
}
