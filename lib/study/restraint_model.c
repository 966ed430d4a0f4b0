/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The model of a boat tied down on its trailer, made from that of its supports at home. */
#include "lib/study/restraint.h"
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/force/contact.h"
#include "lib/force/strap.h"
#include "lib/force/taut.h"
#include "lib/rig/lines.h"
#include <math.h>
#include <stdlib.h>

static const double met = 0.5; /* cover of the surface from which on a guide meets it */
enum { UP = 8, SETTLING = 40 };

static dd_vec3 in_boat(const dd_study_model *m, const dd_mat3 *to_trailer, const dd_equilibrium *home, dd_vec3 in_trailer)
{
    (void)m;
    return dd_apply_transposed(to_trailer, dd_sub(in_trailer, home->pose.position));
}

/* A line from a point of the trailer to a point of the hull, both in boat axes. length: of it all, slack, m. */
static dd_seat_line line_between(const char *name, dd_vec3 trailer, dd_vec3 hull, double rigidity, double length, double tension)
{
    dd_seat_line l = {.at = hull, .stiffness = rigidity / length, .tension = tension};
    const dd_vec3 way = dd_sub(trailer, hull);
    l.pull = dd_scale(1 / fmax(dd_norm(way), 1e-6), way);
    dd_text(l.name, sizeof l.name, "%s", name);
    return l;
}

static void add_line(dd_restraint *r, int kind, dd_seat_line line)
{
    r->line[kind] = r->model.line_count;
    r->model.lines[r->model.line_count++] = line;
}

static double channel(const dd_study_model *m, const dd_force_kind *kind, const char *name)
{
    const int index = dd_system_channel(m->system, kind, 0, name);
    return index >= 0 ? m->workspace->channels[index] : NAN;
}

static void add_lines(const dd_study_model *m, const dd_equilibrium *home, dd_restraint *r)
{
    const dd_trailer_parameters *t = &m->rig->trailer;
    const dd_vec3 eye = dd_hull_bow_eye(m->hull);
    for (int i = 0; i < DD_LINE_KINDS; i++) r->line[i] = -1;
    r->model.line_count = r->model.first_grip; /* here grip is told as what it takes */
    if (r->model.line_count > 0)
        r->line[DD_LINE_STRAP] = 0; /* that of the supports' model */
    else { /* a strap without pretension hangs just straight */
        const dd_vec3 drum = in_boat(m, &r->to_trailer, home, dd_vec(t->winch.behind_coupling, 0, t->winch.above_ground - t->coupling_height));
        add_line(r, DD_LINE_STRAP, line_between("winch strap", drum, eye, dd_strap_rigidity(&t->winch),
                                                dd_norm(dd_sub(drum, eye)) + t->winch.strap_length_at_home, 0));
    }
    if (!isnan(t->chain.slack_at_home)) {
        const dd_vec3 post = in_boat(m, &r->to_trailer, home, dd_vec(t->winch.behind_coupling, 0, t->chain.above_ground - t->coupling_height));
        const double slack = fmax(0, channel(m, &dd_force_chain, "chain_slack_m")), length = dd_norm(dd_sub(post, eye)) + slack;
        const double rigidity = dd_chain_rigidity(&t->chain);
        add_line(r, DD_LINE_CHAIN, line_between("safety chain", post, eye, rigidity, length, -rigidity / length * slack));
    }
    if (isnan(t->ties.behind_coupling)) return;
    double first, last, y[DD_STRAKES + 3], z[DD_STRAKES + 3];
    dd_hull_extent(m->hull, &first, &last);
    const int chine = dd_hull_section(m->hull, first, y, z) - 2;
    for (int side = 1; side >= -1; side -= 2) {
        const dd_vec3 corner = dd_vec(first, side * y[chine], z[chine]);
        const dd_vec3 end = in_boat(m, &r->to_trailer, home, dd_vec(t->ties.behind_coupling, -side * t->ties.half_spacing, t->ties.above_ground - t->coupling_height));
        const double rigidity = dd_tie_rigidity(&t->ties), length = dd_norm(dd_sub(end, corner)) / (1 + t->ties.pretension / rigidity);
        add_line(r, side > 0 ? DD_LINE_TIE_PORT : DD_LINE_TIE_STARBOARD,
                 line_between(side > 0 ? "tie port" : "tie starboard", end, corner, rigidity, fmax(0.05, length), t->ties.pretension));
    }
}

/* A stop that the stem does not touch yet. */
static void add_stop(const dd_study_model *m, int linear, dd_restraint *r)
{
    const dd_bow_stop_parameters *stop = &m->rig->trailer.bow_stop;
    const double gap = channel(m, &dd_force_bow_stop, "stop_gap_m");
    for (int i = 0; i < r->model.contact_count; i++)
        if (r->model.contacts[i].support < 0) return;
    if (!isfinite(gap) || r->model.contact_count >= DD_SEAT_CONTACTS) return;
    dd_seat_contact c = {.support = -1, .roller = -1, .at = dd_hull_bow_eye(m->hull), .push = dd_apply_transposed(&r->to_trailer, dd_vec(1, 0, 0)),
                         .gap = fmax(0, gap), .exponent = linear ? 1 : 1.5};
    c.stiffness = linear ? stop->rated_load / stop->squash_at_rated_load : dd_squash_stiffness(stop->rated_load, stop->squash_at_rated_load);
    dd_text(c.name, sizeof c.name, "bow stop");
    r->model.contacts[r->model.contact_count++] = c;
}

/* The place of a guide, at one station along it, that stands nearest to the hull's side. */
static bool meet_side(const dd_study_model *m, const dd_equilibrium *home, const dd_restraint *r, const dd_guide *g, double along, dd_seat_contact *c)
{
    double first, last;
    bool found = false;
    dd_hull_extent(m->hull, &first, &last);
    for (int u = 0; u < UP; u++) {
        const dd_vec3 p = in_boat(m, &r->to_trailer, home, dd_vec(g->top.x + along, g->top.y, g->top.z - g->height * u / (UP - 1)));
        if (p.x <= first || p.x >= last || dd_hull_topside(m->hull, p.x, p.z).cover < met) continue;
        const dd_nearest nearest = dd_nearest_topside(m->hull, g->side, p, 0);
        if (found && nearest.distance - g->radius >= c->gap) continue;
        found = true;
        c->gap = nearest.distance - g->radius;
        c->push = dd_scale(-1, nearest.normal);
        c->at = dd_sub(p, dd_scale(nearest.distance, nearest.normal));
    }
    return found;
}

static void add_guides(const dd_study_model *m, const dd_equilibrium *home, int linear, dd_restraint *r)
{
    for (int i = 0; i < m->rig->guide_count; i++) {
        const dd_guide *g = &m->rig->guides[i];
        const double squash = m->rig->trailer.supports[g->support].squash_at_rated_load;
        for (int end = g->length > 0 ? -1 : 0; end <= (g->length > 0 ? 1 : 0); end += 2) {
            dd_seat_contact c = {.support = g->support, .roller = -1, .side = g->side, .exponent = linear ? 1 : 1.5,
                                 .stiffness = linear ? g->stiffness * sqrt(squash) : g->stiffness};
            dd_text(c.name, sizeof c.name, "%s", g->name);
            if (r->model.contact_count < DD_SEAT_CONTACTS && meet_side(m, home, r, g, 0.5 * end * g->length, &c)) r->model.contacts[r->model.contact_count++] = c;
        }
    }
}

/* Flanges and cups: the plane through a profile's steepest place, 1.5 height / length steep in its middle, where it is at its half
   height. What the roller's own law says of the distance across its axle is told of that along the plane's normal: with s the slope
   d_across = sqrt(1 + s^2) d and the force along the normal is as much more than that across. */
static void add_flanges(const dd_study_model *m, dd_restraint *r)
{
    const int count = r->model.contact_count;
    const dd_vec3 across = dd_apply_transposed(&r->to_trailer, dd_vec(0, -1, 0)); /* to the boat's port */
    for (int i = 0; i < count; i++) {
        const dd_seat_contact flat = r->model.contacts[i];
        if (flat.roller < 0 || !(m->rig->rollers[flat.roller].profile_height > 0)) continue;
        const dd_roller *roller = &m->rig->rollers[flat.roller];
        const double slope = 1.5 * roller->profile_height / roller->profile_length, root = sqrt(1 + slope * slope);
        const double start = roller->profile_start + roller->profile_length / 6; /* where the plane leaves the flat of the roller */
        for (int side = 1; side >= -1 && r->model.contact_count < DD_SEAT_CONTACTS; side -= 2) {
            dd_seat_contact c = flat;
            c.push = dd_scale(1 / root, dd_add(flat.push, dd_scale(-side * slope, across)));
            c.gap = (slope * start + flat.gap) / root;
            c.side = side;
            c.stiffness = flat.stiffness * pow(root, flat.exponent + 1);
            dd_text(c.name, sizeof c.name, "%.45s flange %s", flat.name, side > 0 ? "port" : "starboard");
            r->model.contacts[r->model.contact_count++] = c;
        }
    }
}

/* Who makes ties fast pulls them to their pretension where the boat then stands. */
static dd_status pull_ties(dd_restraint *r, double pretension, double gravity, dd_error *error)
{
    if (r->line[DD_LINE_TIE_PORT] < 0) return DD_OK;
    const dd_vec3 down = dd_apply_transposed(&r->to_trailer, dd_vec(0, 0, -gravity));
    dd_seat_solution *s = malloc(sizeof *s);
    dd_status status = s != NULL ? DD_OK : dd_fail(error, DD_ERROR_MEMORY, "dd_restraint_create", "no memory for the boat's restraint");
    for (int i = 0; i < SETTLING && status == DD_OK; i++) {
        double off = 0;
        status = dd_seat_solve(&r->model, down, NULL, NULL, s, error);
        for (int k = DD_LINE_TIE_PORT; k <= DD_LINE_TIE_STARBOARD && status == DD_OK; k++) {
            const double short_of = pretension - s->tension[r->line[k]];
            r->model.lines[r->line[k]].tension += short_of;
            off = fmax(off, fabs(short_of));
        }
        if (off <= 1e-9 * r->weight) break;
    }
    free(s);
    return status;
}

dd_status dd_restraint_create(const dd_study_model *m, const dd_equilibrium *home, const dd_seat_model *home_model, dd_restraint *r, dd_error *error)
{
    const int linear = m->scenario.seating.law == DD_LAW_LINEAR;
    *r = (dd_restraint){.model = *home_model, .to_trailer = dd_rotation_of(home->pose.attitude)};
    for (int i = 0; i < r->model.mass_count; i++) r->weight += r->model.masses[i].mass * m->model.gravity;
    add_flanges(m, r);
    add_guides(m, home, linear, r);
    add_stop(m, linear, r);
    add_lines(m, home, r);
    return pull_ties(r, m->rig->trailer.ties.pretension, m->model.gravity, error);
}
