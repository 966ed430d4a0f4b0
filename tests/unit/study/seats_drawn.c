/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/unit/study/seats_drawn.h"
#include <math.h>

double seat_drawn_in(gsl_rng *rng, double least, double most) { return least + (most - least) * gsl_rng_uniform(rng); }

static void add_contact(gsl_rng *rng, const seat_drawn *wanted, dd_seat_model *s, int support, int side, dd_vec3 at, dd_vec3 push)
{
    const double rated = seat_drawn_in(rng, 2e3, 8e3), squash = seat_drawn_in(rng, 0.003, 0.010);
    dd_seat_contact c = {.support = support, .roller = s->contact_count, .side = side, .at = at, .push = push};
    c.gap = seat_drawn_in(rng, -0.003, 0.003);
    c.exponent = wanted->linear ? 1 : 1.5;
    c.stiffness = rated / pow(squash, c.exponent);
    s->contacts[s->contact_count++] = c;
}

static void add_bow(gsl_rng *rng, const seat_drawn *wanted, dd_seat_model *s)
{
    const dd_vec3 eye = dd_vec(5.6, 0, 0.7), down = dd_vec(0.9, 0, -0.4);
    add_contact(rng, wanted, s, -1, 0, eye, dd_vec(-1, 0, 0));
    s->lines[s->line_count++] = (dd_seat_line){.at = eye, .pull = dd_scale(1 / dd_norm(down), down), .stiffness = seat_drawn_in(rng, 5e4, 3e5),
                                               .tension = seat_drawn_in(rng, 200, 2000)};
}

/* Posts beside the hull, clear of it: what else would hold it sideways is friction, which the model leaves out. */
static void add_posts(gsl_rng *rng, const seat_drawn *wanted, dd_seat_model *s)
{
    for (int side = 1; side >= -1; side -= 2)
        for (int i = 0; i < 2; i++) {
            add_contact(rng, wanted, s, -1, 0, dd_vec(0.3 + 3 * i, side, 0.9), dd_vec(0, -side, 0));
            s->contacts[s->contact_count - 1].gap = seat_drawn_in(rng, 0.002, 0.010);
        }
}

void seat_draw(gsl_rng *rng, const seat_drawn *wanted, dd_seat_model *s)
{
    const double mass = seat_drawn_in(rng, 400, 3000), centre = seat_drawn_in(rng, 1.6, 2.8), deadrise = seat_drawn_in(rng, 0.09, 0.44);
    *s = (dd_seat_model){.bending_stiffness = INFINITY, .up = {0, 0, 1}, .hold = 1e-9};
    for (int i = 0; i < wanted->keels; i++) {
        const double lean = seat_drawn_in(rng, -0.03, 0.03);
        add_contact(rng, wanted, s, s->contact_count, 0, dd_vec(seat_drawn_in(rng, 0.1, 5), 0, 0), dd_vec(sin(lean), 0, cos(lean)));
    }
    for (int i = 0; i < wanted->pairs; i++) {
        const double y = seat_drawn_in(rng, 0.25, 0.85);
        const double x = i == 0 ? seat_drawn_in(rng, 0.1, 0.9) : i == 1 ? seat_drawn_in(rng, 3.2, 4.2) : seat_drawn_in(rng, 0.1, 4.2);
        const dd_vec3 at = dd_vec(x, y, y * tan(deadrise)); /* the first two on either side of the weight */
        const int support = s->contact_count;
        for (int side = 1; side >= -1; side -= 2)
            add_contact(rng, wanted, s, support, side, dd_vec(at.x, side * at.y, at.z), dd_vec(0, -side * sin(deadrise), cos(deadrise)));
    }
    if (wanted->with_arm) {
        s->arm_count = 1;
        s->arms[0] = (dd_seat_arm){.least = -seat_drawn_in(rng, 0.002, 0.3), .most = seat_drawn_in(rng, 0.002, 0.3), .stop_stiffness = 1e6};
        for (int i = s->contact_count - 4; i < s->contact_count; i++) {
            s->contacts[i].arm = 1;
            s->contacts[i].lever = s->contacts[i].push.z * (i < s->contact_count - 2 ? 1 : -1) * seat_drawn_in(rng, 0.15, 0.3);
        }
    }
    add_bow(rng, wanted, s);
    add_posts(rng, wanted, s);
    for (int i = 0; i < 12; i++)
        s->masses[s->mass_count++] = (dd_seat_mass){mass / 12, {centre + seat_drawn_in(rng, -1.5, 1.5), seat_drawn_in(rng, -0.15, 0.15), seat_drawn_in(rng, 0, 1)}};
    s->node_count = 2;
    s->nodes[1] = 6;
}

double seat_weight(const dd_seat_model *s, dd_vec3 specific)
{
    double mass = 0;
    for (int i = 0; i < s->mass_count; i++) mass += s->masses[i].mass;
    return mass * dd_norm(specific);
}

double seat_squash(const dd_seat_model *s, int contact, dd_vec3 u, dd_vec3 turn, const double *angles)
{
    const dd_seat_contact *c = &s->contacts[contact];
    return -c->gap - dd_dot(c->push, dd_add(u, dd_cross(turn, c->at))) + (c->arm > 0 && angles != NULL ? c->lever * angles[c->arm - 1] : 0);
}

double seat_unbalanced(const dd_seat_model *s, dd_vec3 specific, const double *load, const double *tension)
{
    dd_vec3 force = dd_vec(0, 0, 0), moment = force;
    for (int i = 0; i < s->contact_count + s->line_count + s->mass_count; i++) {
        const int line = i - s->contact_count, mass = line - s->line_count;
        const dd_vec3 f = line < 0 ? dd_scale(load[i], s->contacts[i].push) : mass < 0 ? dd_scale(tension[line], s->lines[line].pull)
                                                                                      : dd_scale(s->masses[mass].mass, specific);
        force = dd_add(force, f);
        moment = dd_add(moment, dd_cross(line < 0 ? s->contacts[i].at : mass < 0 ? s->lines[line].at : s->masses[mass].at, f));
    }
    return fmax(dd_norm(force), dd_norm(moment)) / seat_weight(s, specific);
}
