/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A trailer set up for the hull: its supports stand where the hull comes down, give or take what a fitter can measure. */
#include "lib/hull/surface.h"
#include "lib/state/kinematics.h"
#include "tests/property/drawing.h"
#include <math.h>
#include <stdio.h>

static double keel_at(const drawing *d, double x) { return dd_hull_keel(d->hull, x).z; }
static double bottom_at(const drawing *d, double x, double y) { return dd_hull_bottom(d->hull, x, y, 1).z; }
static double deadrise_at(const drawing *d, double x, double y) { return atan(dd_hull_bottom(d->hull, x, y, 1).zy); }

/* height: of the hull over its keel at the transom, where the support bears. */
static dd_support *add_support(drawing *d, int kind, const char *name, double boat_x, double height)
{
    dd_trailer_parameters *t = &d->c->trailer;
    dd_support *s = &t->supports[t->support_count++];
    dd_support_defaults(s, kind);
    snprintf(s->name, sizeof s->name, "%s", name);
    s->behind_coupling = d->transom - boat_x;
    s->above_ground = d->keel_height + height + between(d, -0.003, 0.003);
    d->rig.supports |= 1u << kind;
    return s;
}

static double rated(const drawing *d, double share) { return share * d->mass * DD_STANDARD_GRAVITY; }

/* Lines of rollers on a V that touches the hull between them; their V's height over the centre line. */
static double set_lines(drawing *d, dd_support *s, double boat_x, int rows)
{
    s->rows = rows;
    s->row_spacing = between(d, 0.3, 0.42);
    s->half_spacing_count = 2;
    s->half_spacings[0] = between(d, 0.28, 0.35) * d->chine;
    s->half_spacings[1] = between(d, 0.62, 0.75) * d->chine;
    const double y = 0.5 * (s->half_spacings[0] + s->half_spacings[1]);
    s->deadrise = deadrise_at(d, boat_x, y);
    s->rated_load = rated(d, 0.3);
    return bottom_at(d, boat_x, y) - y * tan(s->deadrise);
}

static void add_cradle(drawing *d, const char *name, double boat_x, int rows)
{
    dd_support *s = add_support(d, DD_SUPPORT_CRADLE, name, boat_x, 0);
    s->above_ground += set_lines(d, s, boat_x, rows);
    s->pivot = chance(d, 0.3) ? 1 + one_of(d, 2) : DD_PIVOT_NONE;
    s->pivot_travel = between(d, 0.08, 0.25);
}

static void add_rocker(drawing *d, double boat_x)
{
    dd_support *s = add_support(d, DD_SUPPORT_ROCKER, "rear rocker", boat_x, 0);
    const double line = set_lines(d, s, boat_x, 2 + one_of(d, 3));
    s->height_setting_count = 3;
    for (int i = 0; i < 3; i++) s->height_settings[i] = 0.08 + 0.02 * i;
    s->height_setting = 1 + one_of(d, 3);
    s->above_ground += line - s->height_settings[1];
    s->rear_down = between(d, 0.12, 0.28);
    s->rear_up = between(d, 0.08, 0.2);
    s->arm_mass = between(d, 15, 40);
}

static void add_pair(drawing *d, const char *name, double boat_x)
{
    const double y = between(d, 0.55, 0.75) * d->chine;
    dd_support *s = add_support(d, DD_SUPPORT_ROLLER, name, boat_x, bottom_at(d, boat_x, y) - 0.004);
    s->half_spacing = y;
    s->deadrise = deadrise_at(d, boat_x, y);
    s->rated_load = rated(d, 0.5);
}

static void add_keel_roller(drawing *d, const char *name, double boat_x, int shape)
{
    dd_support *s = add_support(d, DD_SUPPORT_KEEL_ROLLER, name, boat_x, keel_at(d, boat_x));
    s->width = between(d, 0.1, 0.25);
    s->shape = shape;
    s->flange_height = between(d, 0.01, 0.03);
    s->bracket_width = chance(d, 0.7) ? between(d, 0.03, 0.08) : 0;
    s->rated_load = rated(d, 0.8);
}

/* A face from one place of the hull to another; under its keel with y = 0. */
static dd_support *add_skid(drawing *d, const char *name, double from, double to, double y)
{
    const double rear = y > 0 ? bottom_at(d, from, y) : keel_at(d, from), front = y > 0 ? bottom_at(d, to, y) : keel_at(d, to);
    dd_support *s = add_support(d, DD_SUPPORT_SKID, name, 0.5 * (from + to), 0.5 * (rear + front) - (y > 0 ? 0.004 : 0));
    s->slope = atan2(front - rear, to - from);
    s->length = hypot(front - rear, to - from);
    s->under = y > 0 ? DD_UNDER_BOTTOM : DD_UNDER_KEEL;
    if (y > 0) {
        s->half_spacing = y;
        s->deadrise = deadrise_at(d, 0.5 * (from + to), y);
    }
    s->points = 4 + 2 * one_of(d, 3);
    s->pivot_travel = chance(d, 0.2) ? between(d, 0.05, 0.2) : 0;
    s->dry_friction = between(d, 0.15, 0.4); /* slick plastic to carpet */
    s->wet_friction = between(d, 0.4, 0.9) * s->dry_friction;
    s->stays_wet = chance(d, 0.6);
    s->squash_at_rated_load = between(d, 0.006, 0.015);
    s->rated_load = rated(d, 1);
    return s;
}

static void add_guides(drawing *d)
{
    const double x = between(d, 0.1, 0.35) * d->length;
    const dd_hull_parameters *boat = &d->c->boat;
    dd_support *s = add_support(d, DD_SUPPORT_SIDE_GUIDE, "guides", x, between(d, 0.8, 1.1));
    s->half_spacing = 0.5 * boat->beam + between(d, 0.02, 0.09);
    s->foot_above_ground = d->keel_height - 0.1;
    s->length = chance(d, 0.5) ? between(d, 0.4, 1.4) : 0;
    s->rated_load = between(d, 600, 2000);
    s->dry_friction = between(d, 0.1, 0.4);
}

static void draw_supports(drawing *d)
{
    const double centre = dd_hull_mass(d->hull)->centre.x, forward = between(d, 0.35, 0.6) * (0.62 * d->length - centre);
    const double ahead = centre + forward, length = d->length;
    const int shape = one_of(d, 3);
    switch (one_of(d, 7)) {
    case 0:
        add_cradle(d, "rear cradle", 0.17 * length, 2 + one_of(d, 3));
        add_cradle(d, "front cradle", ahead, 2);
        break;
    case 1:
        add_keel_roller(d, "rear keel roller", 0.03 * length, shape);
        add_keel_roller(d, "second keel roller", 0.22 * length, shape);
        add_keel_roller(d, "third keel roller", ahead, shape);
        add_pair(d, "side rollers", between(d, 0.1, 0.25) * length);
        add_pair(d, "forward side rollers", centre);
        break;
    case 2:
        add_keel_roller(d, "rear keel roller", 0.04 * length, shape);
        add_keel_roller(d, "middle keel roller", 0.25 * length, shape);
        add_keel_roller(d, "front keel roller", ahead, shape);
        add_skid(d, "side skids", 0.1 * length, 0.3 * length, between(d, 0.5, 0.7) * d->chine);
        break;
    case 3:
        add_skid(d, "skids", between(d, 0.03, 0.08) * length, centre + 0.12 * length, between(d, 0.4, 0.7) * d->chine);
        add_keel_roller(d, "front keel roller", ahead + 0.1, shape);
        break;
    case 4:
    case 5:
        add_rocker(d, 0.16 * length);
        add_cradle(d, "front cradle", ahead, 2);
        break;
    default:
        if (chance(d, 0.5)) {
            add_cradle(d, "rear cradle", 0.2 * length, 3);
            add_keel_roller(d, "front keel roller", ahead, shape);
        } else {
            add_skid(d, "keel skid", 0.05 * length, ahead, 0)->width = between(d, 0.15, 0.3);
            add_pair(d, "side rollers", 0.15 * length);
            add_pair(d, "forward side rollers", centre);
        }
        break;
    }
    if (chance(d, 0.3)) add_guides(d);
}

static void draw_winch(drawing *d, double stop, double eye_height)
{
    dd_winch_parameters *w = &d->c->trailer.winch;
    w->behind_coupling = stop - 0.35;
    w->above_ground = d->keel_height + eye_height + between(d, -0.05, 0.15);
    w->kind = one_of(d, 3);
    w->strap_rating = 8 * d->mass;
    w->rating = 7 * d->mass;
    w->gear_ratio = d->mass > 1500 ? 12 : 5;
    w->pretension = rated(d, between(d, 0.02, 0.05));
    if (chance(d, 0.3)) {
        w->drive = DD_DRIVE_ELECTRIC;
        w->speed = between(d, 0.1, 0.18);
        w->speed_at_rating = 0.5 * w->speed;
    }
}

/* What people put on for the road, or only some trailers have. */
static void draw_fittings(drawing *d, double axle)
{
    dd_trailer_parameters *t = &d->c->trailer;
    if (chance(d, 0.4)) t->chain.slack_at_home = between(d, 0.05, 0.3);
    if (chance(d, 0.3)) {
        t->ties.behind_coupling = d->transom - between(d, 0.05, 0.2);
        t->ties.half_spacing = between(d, 0.5, 0.8) * d->chine;
        t->ties.pretension = between(d, 100, 300);
    }
    t->frame_volume = chance(d, 0.3) ? 0.04 : 0;
    t->frame_clearance = chance(d, 0.5) ? between(d, 0.3, 0.36) : NAN;
    d->tilts = chance(d, 0.05);
    if (d->tilts) {
        t->tilt.hinge_behind_coupling = axle - between(d, 0.3, 0.8);
        t->tilt.hinge_above_ground = 0.42;
        t->tilt.most_tilt = between(d, 0.1, 0.2);
    }
    d->beach = !d->tilts && d->mass < 900 && chance(d, 0.25);
    if (d->beach) {
        t->jockey.behind_coupling = between(d, 0.3, 0.5);
        t->rope.length = between(d, 2, 4);
        t->rope.turns = chance(d, 0.5) ? 2 : 0;
    }
}

/* What the keel can come down on, by chance of its own: all else of a seed's rig is as without it. */
static void draw_frame(drawing *d)
{
    dd_trailer_parameters *t = &d->c->trailer;
    gsl_rng *all = d->rng, *own = gsl_rng_clone(all);
    if (own == NULL) return;
    gsl_rng_set(own, gsl_rng_get(own));
    d->rng = own;
    if (chance(d, 0.5)) {
        t->frame_height = d->keel_height - (chance(d, 0.3) ? between(d, 0.06, 0.16) : between(d, 0.16, 0.26)); /* few let the bow ride on it */
        t->drawbar_width = between(d, 0.06, 0.2);
    }
    if (chance(d, 0.2))
        t->cross_members[t->cross_member_count++] = (dd_cross_member){t->axles[0].behind_coupling * between(d, 0.4, 0.9),
                                                                      d->keel_height - between(d, 0.08, 0.24), between(d, 0.8, 1.6)};
    d->rng = all;
    gsl_rng_free(own);
}

void draw_trailer(drawing *d)
{
    dd_trailer_parameters *t = &d->c->trailer;
    dd_trailer_defaults(t);
    snprintf(t->name, sizeof t->name, "drawn trailer");
    const dd_vec3 eye = dd_hull_bow_eye(d->hull);
    const double boat = dd_hull_mass(d->hull)->mass, stop = between(d, 1.2, 1.7);
    t->mass = between(d, 0.28, 0.4) * boat;
    t->coupling_height = between(d, 0.38, 0.48);
    t->tyre_radius = between(d, 0.27, 0.34);
    t->coupling_rating = rated(d, 0.25);
    t->aggregate_mass_rating = 1.25 * (boat + t->mass);
    t->lamp_height = 0.5;
    d->keel_height = between(d, 0.46, 0.54) + 0.015 * d->length;
    d->transom = stop + eye.x;
    const double centre = d->transom - dd_hull_mass(d->hull)->centre.x, axle = centre * between(d, 1.05, 1.1);
    t->axle_count = boat > 1600 ? 2 : 1;
    for (int i = 0; i < t->axle_count; i++)
        t->axles[i] = (dd_axle){.mass = NAN, .behind_coupling = axle + (t->axle_count == 2 ? 0.85 * (i - 0.5) : 0),
                                .rating = 1.2 * t->aggregate_mass_rating / t->axle_count};
    t->bow_stop.behind_coupling = stop;
    t->bow_stop.above_ground = d->keel_height + eye.z;
    t->bow_stop.half_height = between(d, 0.12, 0.25);
    draw_winch(d, stop, eye.z);
    draw_fittings(d, axle);
    draw_supports(d);
    draw_frame(d);
}
