/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A trailer set up for the hull of the answers: its supports touch the hull where it lies level with its stem at the bow stop, its axles stand
   where the coupling gets its share. Proportions are those of common trailers, from memory; what depends on the hull is computed from it. */
#include "lib/base/error.h"
#include "lib/hull/surface.h"
#include "lib/state/kinematics.h"
#include "lib/study/begin.h"
#include <math.h>
#include <stdio.h>

#define COUPLING_SHARE 0.08 /* of the laden trailer's mass: between the 5 and 10 % of common practice */
#define TRAILER_CENTRE 0.92 /* of the trailer's own mass, share of the way to the middle of the axles: as lib/rig takes it */
#define AXLE_SPACING 2.6    /* of tandem axles, tyre radii */
#define ROCKER_SHARE 0.05   /* of a rocker's mass in its trailer's */
#define GAP 0.15            /* from the last support to the end of the frame, m */
#define LAST 0.05           /* from the transom to the last roller, m: within the 0.1 m that practice lets a bottom hang over */
#define HAND_WINDS 55        /* kg that a hand winds straight up for each turn of the gear */
#define STOP_OVER_EYE 0.03  /* m: a strap that pulls under the stop's middle holds the bow down on it */
#define RISEN 0.001         /* m: so far the keel has risen where it is no longer straight */
#define COUPLING_SPARE 1.15 /* of its rating over what the ramp puts on it, by a rig that stands still: a start or a stop adds to that */

typedef struct setting {
    const dd_hull *hull;
    dd_begin_placed *p;
    double length, chine; /* of the hull; its half-breadth at the chine at 0.3 of the length, m */
    double row_spacing;   /* of lines of rollers, m */
    double raise;         /* of skids, m */
    int kind;             /* of trailer: DD_BEGIN_CRADLES and so on */
} setting;

static double to_step(double value, double step) { return step * ceil(value / step - 1e-9); }
static double keel_at(const setting *s, double x) { return dd_hull_keel(s->hull, x).z; }
static double bottom_at(const setting *s, double x, double y) { return dd_hull_bottom(s->hull, x, y, 1).z; }
static double deadrise_at(const setting *s, double x, double y) { return atan(dd_hull_bottom(s->hull, x, y, 1).zy); }

/* height: of the hull there, over its keel at the transom; share: of the boat's weight that one of it is rated for. */
static dd_support *add(setting *s, int kind, const char *name, double boat_x, double height, double share)
{
    dd_trailer_parameters *t = &s->p->trailer;
    dd_support *support = &t->supports[t->support_count++];
    dd_support_defaults(support, kind);
    snprintf(support->name, sizeof support->name, "%s", name);
    support->behind_coupling = s->p->transom - boat_x;
    support->above_ground = s->p->keel_height + height;
    support->rated_load = to_step(share * s->p->boat * DD_STANDARD_GRAVITY, 500);
    return support;
}

/* Lines of rollers on a V that touches the bottom between them; the V's height over the keel at the transom. */
static double set_lines(const setting *s, dd_support *support, double boat_x, int lines)
{
    support->rows = lines;
    support->row_spacing = s->row_spacing;
    support->half_spacing_count = 2;
    support->half_spacings[0] = to_step(0.31 * s->chine, 0.01);
    support->half_spacings[1] = to_step(0.68 * s->chine, 0.01);
    const double y = 0.5 * (support->half_spacings[0] + support->half_spacings[1]);
    support->deadrise = deadrise_at(s, boat_x, y);
    return bottom_at(s, boat_x, y) - y * tan(support->deadrise);
}

/* From the transom to the middle of lines whose last rollers stand by it. */
static double rear_middle(const setting *s, int lines) { return LAST + 0.5 * (lines - 1) * s->row_spacing; }

static void add_cradle(setting *s, const char *name, double boat_x, int lines)
{
    dd_support *support = add(s, DD_SUPPORT_CRADLE, name, boat_x, 0, 0.3);
    support->pivot = DD_PIVOT_ACROSS;
    support->above_ground += set_lines(s, support, boat_x, lines);
}

static void add_rocker(setting *s)
{
    const double boat_x = rear_middle(s, 4);
    dd_support *support = add(s, DD_SUPPORT_ROCKER, "rear rocker", boat_x, 0, 0.3);
    const double line = set_lines(s, support, boat_x, 4);
    support->height_setting_count = 3;
    for (int i = 0; i < 3; i++) support->height_settings[i] = 0.08 + 0.02 * i;
    support->height_setting = 2;
    support->above_ground += line - support->height_settings[1];
    support->arm_mass = to_step(ROCKER_SHARE * s->p->trailer.mass, 1);
}

static void add_keel_roller(setting *s, const char *name, double boat_x)
{
    dd_support *support = add(s, DD_SUPPORT_KEEL_ROLLER, name, boat_x, keel_at(s, boat_x), 1.2);
    support->width = s->length < 5.5 ? 0.2 : s->length < 6.8 ? 0.25 : 0.3;
    support->shape = DD_SHAPE_CUPPED;
}

/* A pair of faces under the bottom that give way by 15 mm. */
static void add_skids(setting *s, const char *name, double from, double to, double y, double share)
{
    const double rear = bottom_at(s, from, y), front = bottom_at(s, to, y), middle = 0.5 * (from + to);
    dd_support *support = add(s, DD_SUPPORT_SKID, name, middle, 0.5 * (rear + front) + s->raise, share);
    support->slope = atan2(front - rear, to - from);
    support->length = hypot(front - rear, to - from);
    support->half_spacing = y;
    support->deadrise = deadrise_at(s, middle, y);
    support->squash_at_rated_load = 0.015;
}

static void add_guides(setting *s, double beam)
{
    dd_support *support = add(s, DD_SUPPORT_SIDE_GUIDE, "guide posts", 0.12 * s->length, fmin(1.2, 0.8 + 0.05 * s->length), 0.2);
    /* a boat that lies against one still comes down on her keel rollers: a long hull is afloat further up in its flare */
    support->half_spacing = 0.5 * beam + (s->length < 6.4 ? 0.05 : 0.02);
    support->foot_above_ground = s->p->keel_height - 0.1;
}

static void add_supports(setting *s, int kind, double beam)
{
    static const char *const keel_names[] = {"rear keel roller", "second keel roller", "third keel roller", "fourth keel roller",
                                             "fifth keel roller", "sixth keel roller", "seventh keel roller"};
    const double length = s->length, front = s->p->front;
    const int lines = length < 4.5 ? 3 : 4, count = 1 + (int)ceil((front - LAST) / 1.05);
    switch (kind) {
    case DD_BEGIN_CRADLES:
        add_cradle(s, "rear cradle", rear_middle(s, lines), lines);
        add_cradle(s, "front cradle", front, 2);
        break;
    case DD_BEGIN_KEEL_ROLLERS:
        for (int i = 0; i < count && i < 7; i++) add_keel_roller(s, i == count - 1 ? "front keel roller" : keel_names[i], LAST + (front - LAST) * i / (count - 1));
        add_skids(s, "side skids", 0.1 * length, 0.32 * length, 0.6 * s->chine, 0.5);
        add_guides(s, beam);
        break;
    case DD_BEGIN_SKIDS:
        add_skids(s, "skids", LAST, front - 0.04 * length, 0.55 * s->chine, 1);
        add_keel_roller(s, "front keel roller", front);
        add_guides(s, beam);
        break;
    default:
        add_rocker(s);
        add_cradle(s, "front cradle", front, 2);
        break;
    }
}

/* The foremost support stands under a straight keel, and ahead of the boat's centre. */
static void set_front(setting *s, double wanted)
{
    double straight = s->p->centre, risen = s->length;
    for (int i = 0; i < 20; i++) {
        const double x = 0.5 * (straight + risen);
        *(keel_at(s, x) < RISEN ? &straight : &risen) = x;
    }
    const bool lines = s->kind == DD_BEGIN_CRADLES || s->kind == DD_BEGIN_ROCKER;
    s->p->front_least = s->p->centre + 0.08 * s->length;
    s->p->front_most = fmax(s->p->front_least, straight - (lines ? 0.5 * s->row_spacing : 0));
    s->p->front = wanted > 0 ? fmin(s->p->front_most, fmax(s->p->front_least, wanted)) : s->p->front_most;
}

/* The share that came of the first place tells how far the boat's weight is from where its lines alone have it. The coupling is one that bears what the ramp
   puts on it: as the stern lifts the boat lies on its foremost support. */
static void set_running_gear(dd_begin_placed *p, double rating, const dd_begin_found *f)
{
    const double found = f->coupling_share;
    dd_trailer_parameters *t = &p->trailer;
    const double weight = p->boat + t->mass;
    /* Moments about the coupling: the axles carry what the coupling does not. */
    const double own = t->mass * TRAILER_CENTRE, first = p->boat * (p->transom - p->centre) / (weight * (1 - COUPLING_SHARE) - own);
    const double middle = found > 0 ? first * (weight * (1 - found) - own) / (weight * (1 - COUPLING_SHARE) - own) : first;
    t->axle_count = rating <= 1700 ? 1 : rating <= 3700 ? 2 : 3;
    t->suspension = t->axle_count > 1 ? DD_SUSPENSION_BEAM : DD_SUSPENSION_SPRINGS;
    const double spacing = AXLE_SPACING * t->tyre_radius;
    for (int i = 0; i < t->axle_count; i++)
        t->axles[i] = (dd_axle){.behind_coupling = middle + spacing * (i - 0.5 * (t->axle_count - 1)),
                                .rating = to_step(1.06 * rating / t->axle_count, 50), .mass = NAN};
    t->coupling_rating = to_step(fmax(1.5 * COUPLING_SHARE * fmax(weight, rating) * DD_STANDARD_GRAVITY, COUPLING_SPARE * f->coupling_most), 500);
    p->coupling_load = COUPLING_SHARE * weight * DD_STANDARD_GRAVITY;
}

/* Winches are made with gears of these; a hand is to turn it with some 110 N, on drum and handle of usual size. The pull is what the slope takes and what the
   supports hold by friction and rolling (from memory; what `depth` then finds is checked against a hand's limit). */
static double gear_for(const dd_begin *a, double boat)
{
    static const double gears[] = {4, 6, 10, 12, 15, 20}, pulls[] = {[DD_BEGIN_CRADLES] = 0.13, [DD_BEGIN_KEEL_ROLLERS] = 0.17, [DD_BEGIN_SKIDS] = 0.32, [DD_BEGIN_ROCKER] = 0.13};
    const double needed = boat * (tan(a->value[DD_BEGIN_SLOPE]) + pulls[(int)a->value[DD_BEGIN_KIND]]) / HAND_WINDS;
    size_t i = 0;
    while (i + 1 < sizeof gears / sizeof gears[0] && gears[i] < needed) i++;
    return gears[i];
}

static void set_bow(const dd_begin *a, dd_begin_placed *p, double stop, double eye_height)
{
    dd_winch_parameters *w = &p->trailer.winch;
    w->behind_coupling = stop - 0.25;
    w->above_ground = p->keel_height + eye_height;
    w->strap_rating = fmax(6000, to_step(9 * p->boat, 500));
    w->rating = fmax(4500, to_step(7 * p->boat, 500));
    w->gear_ratio = gear_for(a, p->boat);
    w->handle_length = 0.3;
    w->pretension = 400;
    if (p->boat > 2000) {
        w->drive = DD_DRIVE_ELECTRIC;
        w->speed = 0.09;
        w->speed_at_rating = 0.045;
    }
    p->trailer.bow_stop.behind_coupling = stop;
    p->trailer.bow_stop.above_ground = p->keel_height + eye_height + STOP_OVER_EYE;
    p->trailer.bow_stop.half_height = 0.15;
}

static void set_boat(const dd_begin *a, dd_hull_parameters *boat)
{
    static const char *const names[] = {"fuel", "gear"};
    const double *v = a->value, length = v[DD_BEGIN_LENGTH];
    dd_hull_defaults(boat);
    boat->length = length;
    boat->length_of = DD_LENGTH_OF_HULL;
    boat->beam = v[DD_BEGIN_BEAM];
    boat->transom_deadrise = v[DD_BEGIN_DEADRISE];
    boat->mass = v[DD_BEGIN_BOAT_MASS];
    boat->mass_of = DD_MASS_OF_BARE_HULL;
    boat->engine_power = v[DD_BEGIN_POWER];
    boat->engine_mass = v[DD_BEGIN_ENGINE_MASS];
    boat->item_count = 2;
    for (int i = 0; i < 2; i++) {
        dd_item *item = &boat->items[i];
        dd_item_defaults(item);
        snprintf(item->item, sizeof item->item, "%s", names[i]);
        item->at_count = 3;
        item->at[0] = (i == 0 ? 0.25 : 0.45) * length;
        item->at[1] = 0;
        item->at[2] = i == 0 ? 0.25 : 0.4;
    }
    boat->items[0].volume = v[DD_BEGIN_FUEL];
    boat->items[0].contents = DD_CONTENTS_PETROL;
    boat->items[1].mass = v[DD_BEGIN_GEAR];
}

static void place(const dd_begin *a, const dd_begin_found *found, setting *s)
{
    const double *v = a->value;
    dd_begin_placed *p = s->p;
    dd_trailer_parameters *t = &p->trailer;
    const dd_vec3 eye = dd_hull_bow_eye(s->hull);
    const double stop = 0.7 + 0.11 * s->length;
    dd_trailer_defaults(t);
    t->mass = v[DD_BEGIN_TRAILER_MASS];
    t->aggregate_mass_rating = v[DD_BEGIN_RATING];
    t->coupling_height = to_step(0.32 + 0.02 * s->length, 0.01);
    t->tyre_radius = to_step(fmin(0.34, 0.215 + 0.0165 * s->length), 0.005);
    p->keel_height = 0.33 + 0.045 * s->length;
    const dd_stem_line stem = dd_hull_stem_line(s->hull);
    p->transom = stop + dd_hull_on_stem_line(s->hull, &stem, dd_hull_stem_line_at_height(&stem, eye.z)).at.x - found->stern_ahead;
    set_running_gear(p, t->aggregate_mass_rating, found);
    set_bow(a, p, stop, eye.z);
    set_front(s, found->front);
    add_supports(s, s->kind, v[DD_BEGIN_BEAM]);
    t->rear_end_behind_coupling = 0;
    for (int i = 0; i < t->support_count; i++) {
        const dd_support *each = &t->supports[i];
        double half = each->kind == DD_SUPPORT_SKID ? 0.5 * each->length : each->kind == DD_SUPPORT_CRADLE || each->kind == DD_SUPPORT_ROCKER ? 0.5 * (each->rows - 1) * each->row_spacing : 0;
        t->rear_end_behind_coupling = fmax(t->rear_end_behind_coupling, each->behind_coupling + half + GAP);
    }
    t->rear_end_behind_coupling = fmax(t->rear_end_behind_coupling, t->axles[t->axle_count - 1].behind_coupling + t->tyre_radius + GAP);
}

dd_status dd_begin_place(const dd_begin *answers, const dd_begin_found *found, dd_begin_placed *placed, dd_error *error)
{
    dd_hull *hull;
    dd_floating floating;
    *placed = (dd_begin_placed){0};
    set_boat(answers, &placed->hull);
    dd_status status = dd_hull_create(&placed->hull, &hull, error);
    if (status != DD_OK) return status;
    const double density = answers->value[DD_BEGIN_WATER] > 0 ? 1000 : 1025;
    status = dd_hull_float(hull, density, DD_STANDARD_GRAVITY, 0, 0, &floating, error);
    if (status == DD_OK) {
        double y[DD_STRAKES + 3], z[DD_STRAKES + 3];
        setting s = {.hull = hull, .p = placed, .length = answers->value[DD_BEGIN_LENGTH], .raise = found->raise, .kind = (int)answers->value[DD_BEGIN_KIND]};
        const int count = dd_hull_section(hull, 0.3 * s.length, y, z);
        s.chine = y[count - 2];
        s.row_spacing = s.length < 4.5 ? 0.35 : 0.42;
        placed->boat = dd_hull_mass(hull)->mass;
        placed->centre = dd_hull_mass(hull)->centre.x;
        placed->draught = floating.waterplane.level;
        place(answers, found, &s);
    }
    dd_hull_free(hull);
    return status;
}
