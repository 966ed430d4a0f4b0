/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lib/study/restraint.h"
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { SURGE, SWAY, HEAVE, ROLL, PITCH, YAW };
static const double runs = 0.3;       /* m along the trailer beyond which it is not held: the bow rides up its stop, or lines give too much */
static const double slides = 0.1;     /* m across it: the keel has left its rollers */
static const double tips = 0.3;       /* rad of heel */
static const double unloaded = 1e-6;  /* of the weight: a support with less has none on it */
static const double grips_within = 2e-3; /* m that a support that grips gives way under the weight */

static const dd_road_case cases[DD_ROAD_CASES] = {
    [DD_ROAD_STANDING] = {"standing", "standing", 0, 0, 0, 0, 0},
    [DD_ROAD_FORWARD] = {"braking 0.8 g", "braking at 0.8 g", 0.8, 0, 0, 1, 0},
    [DD_ROAD_FORWARD_WORK] = {"braking 0.435 g", "braking at 0.435 g", 0.435, 0, 0, 0, 1},
    [DD_ROAD_REARWARD] = {"rearward 0.5 g", "pushed aft at 0.5 g", -0.5, 0, 0, 1, 1},
    [DD_ROAD_PORT] = {"to port 0.5 g", "pushed to port at 0.5 g", 0, 0.5, 0, 1, 0},
    [DD_ROAD_STARBOARD] = {"to starboard 0.5 g", "pushed to starboard at 0.5 g", 0, -0.5, 0, 1, 0},
    [DD_ROAD_PORT_WORK] = {"to port 0.25 g", "pushed to port at 0.25 g", 0, 0.25, 0, 0, 1},
    [DD_ROAD_STARBOARD_WORK] = {"to starboard 0.25 g", "pushed to starboard at 0.25 g", 0, -0.25, 0, 0, 1},
    [DD_ROAD_UP] = {"up 0.2 g", "thrown up at 0.2 g", 0, 0, 0.2, 1, 1},
};
const dd_road_case *dd_road_case_at(int which) { return &cases[which]; }

dd_vec3 dd_road_specific(const dd_road_case *road, double gravity)
{
    return dd_vec(-road->forward * gravity, -road->port * gravity, (road->up - 1) * gravity);
}

/* Lateral movement of the hull across the trailer at a point, by the mean line of the hull. */
static dd_vec3 movement(const dd_seat_solution *s, dd_vec3 at)
{
    const double *d = s->displacement;
    return dd_add(dd_vec(d[SURGE], d[SWAY], d[HEAVE]), dd_cross(dd_vec(d[ROLL], d[PITCH], d[YAW]), at));
}

/* Sums, and what each support and line bears. */
static void read(const dd_restraint *r, const dd_seat_solution *s, int support_count, dd_held_loads *l)
{
    const dd_seat_model *model = &r->model;
    l->stop = l->normal = 0;
    for (int k = 0; k < support_count; k++) l->support[k] = l->roller[k] = 0;
    for (int i = 0; i < model->contact_count; i++) {
        const int k = model->contacts[i].support;
        if (k < 0) {
            l->stop += s->load[i];
            continue;
        }
        l->support[k] += s->load[i];
        l->roller[k] = fmax(l->roller[k], s->load[i]);
        l->normal += s->load[i];
    }
    for (int i = 0; i < DD_LINE_KINDS; i++) l->tension[i] = r->line[i] >= 0 ? s->tension[r->line[i]] : 0;
    l->closure = s->closure;
}

static void look_where(const dd_restraint *r, const dd_rig *rig, const dd_seat_solution *s, dd_held_loads *l)
{
    const dd_seat_model *model = &r->model;
    double along = 0, across = 0;
    l->climbs = 0;
    for (int i = 0; i < model->contact_count; i++) {
        const dd_seat_contact *c = &model->contacts[i];
        const dd_vec3 by = movement(s, c->at);
        along = fmax(along, fabs(by.x));
        across = fmax(across, fabs(by.y));
        if (c->roller < 0 || rig == NULL) continue;
        const dd_roller *roller = &rig->rollers[c->roller];
        if (roller->profile_height > 0) l->climbs = fmax(l->climbs, fabs(by.y) / (roller->profile_start + 0.5 * roller->profile_length));
    }
    l->moved = fmax(along, across);
    l->hold = fabs(s->displacement[ROLL]) > tips ? DD_HOLD_TIPS : along > runs ? DD_HOLD_RUNS : across > slides || l->climbs > 1 ? DD_HOLD_FRICTION : DD_HOLD_HELD;
}

/* A place where the hull is gripped: the supports that stand foremost or rearmost of those with a load. */
typedef struct grip {
    dd_vec3 at;
    int support, first_line;
    double load;
} grip;

/* Foremost (way 1) or rearmost (-1) support with a load while standing, and the middle of its contacts. */
static bool find_grip(const dd_restraint *r, const dd_held_loads *standing, int way, grip *g)
{
    double best = -INFINITY;
    g->support = -1;
    for (int i = 0; i < r->model.contact_count; i++) {
        const dd_seat_contact *c = &r->model.contacts[i];
        if (c->support < 0 || c->roller < 0 || standing->support[c->support] <= unloaded * r->weight || way * c->at.x <= best) continue;
        best = way * c->at.x;
        g->support = c->support;
    }
    if (g->support < 0) return false;
    int count = 0;
    g->at = dd_vec(0, 0, 0);
    for (int i = 0; i < r->model.contact_count; i++)
        if (r->model.contacts[i].support == g->support && r->model.contacts[i].roller >= 0) g->at = dd_add(g->at, r->model.contacts[i].at), count++;
    g->at = dd_scale(1.0 / count, g->at);
    g->at.y = 0;
    return true;
}

/* Two lines that pull against each other across the trailer, so taut that neither ever falls slack: a support that grips. */
static bool add_grip(dd_restraint *r, grip *g)
{
    const dd_vec3 across = dd_apply_transposed(&r->to_trailer, dd_vec(0, 1, 0));
    if (r->model.line_count + 2 > DD_SEAT_LINES) return false;
    g->first_line = r->model.line_count;
    for (int i = 0; i < 2; i++)
        r->model.lines[r->model.line_count++] = (dd_seat_line){.name = "friction", .at = g->at, .pull = dd_scale(i == 0 ? 1 : -1, across),
                                                               .stiffness = 0.5 * r->weight / grips_within, .tension = 10 * r->weight};
    return true;
}

/* The same case with the foremost and the rearmost support gripping: how much friction that takes. */
static dd_status with_friction(const dd_restraint *restraint, const dd_rig *rig, int support_count, dd_vec3 specific, const dd_held_loads *standing,
                               dd_held_loads *l, dd_error *error)
{
    grip grips[2];
    int count = 0;
    dd_error apart = {.status = DD_OK};
    dd_restraint *r = malloc(sizeof *r);
    dd_seat_solution *s = malloc(sizeof *s);
    dd_status status = r != NULL && s != NULL ? DD_OK : dd_fail(error, DD_ERROR_MEMORY, "dd_restraint_loads", "no memory for the boat's restraint");
    if (status == DD_OK) {
        *r = *restraint;
        for (int way = 1; way >= -1; way -= 2)
            if (find_grip(restraint, standing, way, &grips[count]) && (count == 0 || grips[0].support != grips[1].support)) count += add_grip(r, &grips[count]);
        status = dd_seat_solve(&r->model, specific, NULL, NULL, s, &apart);
    }
    if (status == DD_ERROR_NO_EQUILIBRIUM) { /* gripped as it is it goes over */
        l->hold = DD_HOLD_TIPS;
        status = DD_OK;
    } else if (status != DD_OK) {
        if (error != NULL && apart.status != DD_OK) *error = apart;
    } else {
        double held = 0, most = 0;
        read(r, s, support_count, l);
        look_where(r, rig, s, l);
        for (int i = 0; i < count; i++) {
            const double load = fabs(s->tension[grips[i].first_line] - s->tension[grips[i].first_line + 1]);
            const double borne = l->support[grips[i].support], share = borne > 0 ? load / borne : INFINITY;
            held += load;
            if (share > most) most = share, l->slides_first = grips[i].support;
        }
        l->friction = l->normal > 0 ? held / l->normal : INFINITY;
        if (l->hold == DD_HOLD_HELD) l->hold = DD_HOLD_FRICTION;
    }
    free(s);
    free(r);
    return status;
}

static void see_lifted(const dd_restraint *r, int support_count, const dd_held_loads *standing, dd_held_loads *l)
{
    int bore = 0;
    l->lifts_off = 0;
    for (int k = 0; k < support_count; k++) {
        const bool bears = standing->support[k] > unloaded * r->weight;
        bore += bears;
        l->lifted[k] = bears && l->support[k] <= unloaded * r->weight;
        l->lifts_off += l->lifted[k];
    }
    l->all_off = bore > 0 && l->lifts_off == bore;
}

dd_status dd_restraint_loads(const dd_restraint *r, const dd_rig *rig, int support_count, const dd_road_case *road, double gravity,
                             const dd_held_loads *standing, dd_held_loads *l, dd_error *error)
{
    const dd_vec3 specific = dd_apply_transposed(&r->to_trailer, dd_road_specific(road, gravity));
    dd_seat_solution *s = malloc(sizeof *s);
    *l = (dd_held_loads){.slides_first = -1};
    if (s == NULL) return dd_fail(error, DD_ERROR_MEMORY, "dd_restraint_loads", "no memory for the boat's restraint");
    dd_error apart = {.status = DD_OK};
    dd_status status = dd_seat_solve(&r->model, specific, NULL, NULL, s, &apart);
    if (status == DD_OK) {
        read(r, s, support_count, l);
        look_where(r, rig, s, l);
    } else if (status == DD_ERROR_NO_EQUILIBRIUM && standing != NULL) { /* far off on the weak spring: nothing holds it */
        l->hold = road->port != 0 ? DD_HOLD_FRICTION : DD_HOLD_RUNS;
        status = DD_OK;
    } else if (error != NULL)
        *error = apart;
    free(s);
    if (status == DD_OK && standing != NULL && road->port != 0 && l->hold != DD_HOLD_HELD)
        status = with_friction(r, rig, support_count, specific, standing, l, error);
    if (status == DD_OK) see_lifted(r, support_count, standing != NULL ? standing : l, l);
    return status;
}

dd_status dd_restraint_held_to(const dd_restraint *r, const dd_rig *rig, int support_count, double most, double gravity,
                               const dd_held_loads *standing, double *braking, dd_error *error)
{
    enum { HALVINGS = 12 };
    double held = 0, gone = most;
    for (int i = 0; i < HALVINGS; i++) {
        dd_held_loads l;
        dd_road_case road = cases[DD_ROAD_FORWARD];
        road.forward = 0.5 * (held + gone);
        dd_status status = dd_restraint_loads(r, rig, support_count, &road, gravity, standing, &l, error);
        if (status != DD_OK) return status;
        if (l.hold == DD_HOLD_RUNS || l.hold == DD_HOLD_TIPS)
            gone = road.forward;
        else
            held = road.forward;
    }
    *braking = held;
    return DD_OK;
}

double dd_restraint_stop_lift(const dd_restraint *r)
{
    for (int i = 0; i < r->model.contact_count; i++) {
        const dd_seat_contact *c = &r->model.contacts[i];
        const dd_vec3 push = dd_apply(&r->to_trailer, c->push);
        if (c->support < 0 && push.x > 0) return push.z / dd_norm(push);
    }
    return NAN;
}

int dd_least_tie_downs(double length, double mass)
{
    static const double foot = 0.3048, pound = 0.45359237, rounding = 1e-9;
    if (length <= 5 * foot + rounding) return mass <= 1100 * pound + rounding ? 1 : 2;
    if (length <= 10 * foot + rounding) return 2;
    return 2 + (int)ceil((length - 10 * foot) / (10 * foot) - rounding);
}
