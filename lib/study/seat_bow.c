/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Winch post and bow stop: where drum and stop belong, what the strap does as the hull's pitch changes between afloat and home, how
   long it has to be. A boat afloat over a ramp lies bow down in its trailer; as it is driven out the stern comes down and the bow up:
   about the foremost support where that grips the hull, or along the stop where the hull rolls on into it. */
#include "lib/base/error.h"
#include "lib/base/numbers.h"
#include "lib/ode/ode.h"
#include "lib/force/strap.h"
#include "lib/study/seat_afloat.h"
#include <math.h>
#include <stdarg.h>

static const double level_within = 5.0;   /* degrees of the strap from level at home: "a few" */
static const double loaded = 0.005;       /* of the weight: a support that bears less carries nothing */
static const double far_off = 2.0;        /* m: no drum stands further over or under the eye */
static const int turns_left = 3;          /* on the drum with the strap all the way out */
static const char does_not_float[] = "the boat as it is loaded does not float upright";
static const double degree = 57.295779513082320877;

dd_vec3 dd_seat_swung(dd_vec3 eye, dd_vec3 fulcrum, double pitch)
{
    const dd_mat3 r = dd_rotation_y(-pitch);
    return dd_add(fulcrum, dd_apply(&r, dd_sub(eye, fulcrum)));
}

double dd_seat_tightens(dd_vec3 drum, dd_vec3 home, dd_vec3 afloat) { return dd_norm(dd_sub(drum, home)) - dd_norm(dd_sub(drum, afloat)); }

typedef struct balance {
    dd_vec3 drum, home;
    const dd_vec3 *afloat;
    int count;
} balance;

static double greatest_and_least(double z, void *context)
{
    const balance *b = context;
    double most = -INFINITY, least = INFINITY;
    for (int i = 0; i < b->count; i++) {
        const double by = dd_seat_tightens(dd_vec(b->drum.x, b->drum.y, z), b->home, b->afloat[i]);
        most = fmax(most, by);
        least = fmin(least, by);
    }
    return most + least;
}

double dd_seat_least_change(dd_vec3 drum, dd_vec3 home, const dd_vec3 *afloat, int count)
{
    balance b = {drum, home, afloat, count};
    return dd_ode_root(greatest_and_least, &b, home.z - far_off, home.z + far_off, 0);
}

double dd_seat_tension(double rigidity, double spare, double pretension, double afloat, double home)
{
    /* out: unstretched, from rigidity (afloat - out) / (out + spare) = pretension */
    const double out = (rigidity * afloat - pretension * spare) / (rigidity + pretension);
    return fmax(0, rigidity * (home - out) / (out + spare));
}

double dd_seat_turns(const dd_winch_parameters *winch, int turns)
{
    /* a strap's turns lie upon each other, those of wire and rope beside each other */
    const double t = winch->strap_thickness, layers = winch->kind == DD_LINE_OF_STRAP ? turns : 1;
    return 2 * acos(-1.0) * turns * (winch->drum_radius + 0.5 * layers * t);
}

/* --- what is there ---------------------------------------------------------------------------------------------- */

typedef struct bow {
    dd_vec3 eye, drum, stop, fulcrum; /* trailer frame, boat at home */
    char support[64];                 /* that is the fulcrum */
    double half_height;
    bool has_stop;
    int count;                        /* of slopes on which it floats; 0 or all */
    const dd_seat_afloat *afloat;
    dd_vec3 rolls[DD_SEAT_SLOPES], grips[DD_SEAT_SLOPES]; /* the eye afloat: in the stop, about the fulcrum */
    double head;                      /* of the stem afloat, lowest over the slopes (trailer Z); INFINITY: it does not float */
    double level, least;              /* heights of the drum (trailer Z): level with the eye, of least change */
} bow;

static void find_fulcrum(const dd_seat *s, bow *b)
{
    const double weight = dd_hull_mass(s->m->hull)->mass * s->gravity;
    b->fulcrum = dd_vec(INFINITY, 0, 0);
    for (int i = 0; i < s->model.contact_count; i++) {
        const dd_seat_contact *c = &s->model.contacts[i];
        const dd_vec3 at = dd_placed_point(&s->placement, c->at);
        if (c->support < 0 || !(s->level.load[i] > loaded * weight) || at.x >= b->fulcrum.x) continue;
        b->fulcrum = dd_vec(at.x, 0, at.z);
        dd_text(b->support, sizeof b->support, "%s", s->scenario->trailer.supports[c->support].name);
    }
}

static dd_status find(dd_seat *s, bow *b, dd_error *error)
{
    const dd_trailer_parameters *t = &s->m->rig->trailer;
    const dd_stem_line stem = dd_hull_stem_line(s->m->hull);
    const dd_vec3 eye = dd_hull_bow_eye(s->m->hull), head = dd_vec(stem.end, 0, stem.head);
    *b = (bow){.eye = dd_placed_point(&s->placement, eye), .half_height = t->bow_stop.half_height};
    b->drum = dd_vec(t->winch.behind_coupling, 0, t->winch.above_ground - t->coupling_height);
    b->stop = dd_vec(t->bow_stop.behind_coupling, 0, t->bow_stop.above_ground - t->coupling_height);
    b->has_stop = isfinite(b->stop.x) && isfinite(b->stop.z);
    b->level = b->eye.z;
    b->least = NAN;
    b->head = INFINITY;
    find_fulcrum(s, b);
    b->afloat = s->afloat;
    dd_status status = dd_seat_float_on_slopes(s, error);
    if (status != DD_OK || s->floats < 0) return status;
    b->count = DD_SEAT_SLOPES;
    for (int i = 0; i < b->count; i++) {
        b->rolls[i] = dd_placed_point(&b->afloat[i].placement, eye);
        b->head = fmin(b->head, dd_placed_point(&b->afloat[i].placement, head).z);
        b->grips[i] = isfinite(b->fulcrum.x) ? dd_seat_swung(b->eye, b->fulcrum, b->afloat[i].pitch) : b->rolls[i];
    }
    dd_vec3 both[2 * DD_SEAT_SLOPES];
    for (int i = 0; i < DD_SEAT_SLOPES; i++) both[2 * i] = b->rolls[i], both[2 * i + 1] = b->grips[i];
    b->least = dd_seat_least_change(b->drum, b->eye, both, 2 * DD_SEAT_SLOPES);
    return DD_OK;
}

/* Greatest tension at home over the two ways, the drum at a height. */
static double tension_at(const dd_seat *s, const bow *b, int i, double height)
{
    const dd_winch_parameters *w = &s->m->rig->trailer.winch;
    const dd_vec3 drum = dd_vec(b->drum.x, 0, height);
    const double home = dd_norm(dd_sub(drum, b->eye)), rigidity = dd_strap_rigidity(w);
    const double rolls = dd_seat_tension(rigidity, w->strap_length_at_home, w->pretension, dd_norm(dd_sub(drum, b->rolls[i])), home);
    const double grips = dd_seat_tension(rigidity, w->strap_length_at_home, w->pretension, dd_norm(dd_sub(drum, b->grips[i])), home);
    return fmax(rolls, grips);
}

static double strap_angle(const bow *b, double height) { return degree * atan2(height - b->eye.z, b->eye.x - b->drum.x); }

/* --- tables ----------------------------------------------------------------------------------------------------- */

static void put_slopes(const dd_seat *s, const bow *b)
{
    dd_reporter *r = s->report;
    char text[2][DD_REPORTER_TEXT];
    dd_reporter_table(r, "bow", "From afloat to home on level ground, the strap not let off", 1);
    dd_reporter_column(r, "ramp", "", 0, "rise over run");
    dd_reporter_column(r, "pitch", "deg", 1, "by which the bow comes up in the trailer");
    dd_reporter_column(r, "hub under water", "mm", 0, "rearmost, where the boat just comes free");
    dd_reporter_column(r, "eye rises", "mm", 0, "in the trailer, boat in its stop");
    dd_reporter_column(r, "tightens, rolls", "mm", 0, "strap, where the hull rolls on into the stop; below 0: it slackens");
    dd_reporter_column(r, "tightens, grips", "mm", 0, "strap, where the foremost support grips the hull and it swings about that");
    dd_reporter_column(r, "strap", "kN", 1, "at home, the worse of the two, were post and supports rigid");
    dd_reporter_column(r, "drum level", "kN", 1, "the same with the drum level with the eye");
    dd_reporter_column(r, "least change", "kN", 1, "the same with the drum at the height of least change");
    for (int i = 0; i < b->count; i++) {
        dd_reporter_words(r, "%g %%", 100 * b->afloat[i].slope);
        dd_reporter_value(r, b->afloat[i].pitch);
        dd_reporter_value(r, b->afloat[i].hub_depth);
        dd_reporter_value(r, b->eye.z - b->rolls[i].z);
        dd_reporter_value(r, dd_seat_tightens(b->drum, b->eye, b->rolls[i]));
        dd_reporter_value(r, dd_seat_tightens(b->drum, b->eye, b->grips[i]));
        dd_reporter_value(r, tension_at(s, b, i, b->drum.z));
        dd_reporter_value(r, tension_at(s, b, i, b->level));
        dd_reporter_value(r, isfinite(b->least) ? tension_at(s, b, i, b->least) : NAN);
    }
    if (b->count == 0)
        dd_reporter_table_note(r, "not checked: the boat as it is loaded does not float upright");
    else
        dd_reporter_table_note(r, "about %s, %s behind and %s under the eye", *b->support ? b->support : "no support",
                               dd_reporter_quantity(r, b->fulcrum.x - b->eye.x, "mm", 0, text[0]),
                               dd_reporter_quantity(r, b->eye.z - b->fulcrum.z, "mm", 0, text[1]));
}

static void put_place(const dd_seat *s, const char *name, dd_vec3 now, double belongs)
{
    const double ground = s->scenario->trailer.coupling_height;
    dd_reporter_words(s->report, "%s", name);
    dd_reporter_value(s->report, now.x);
    dd_reporter_value(s->report, now.z + ground);
    dd_reporter_value(s->report, belongs + ground);
    dd_reporter_value(s->report, belongs - now.z);
}

/* The stop's middle: no lower than the eye at home, and otherwise low enough to stand in the stem's way afloat. */
static double stop_belongs(const bow *b)
{
    return fmax(b->eye.z, fmin(b->stop.z, b->head + b->half_height));
}

static void put_post(const dd_seat *s, const bow *b)
{
    dd_reporter *r = s->report;
    dd_reporter_table(r, "post", "Winch post: where drum and stop stand and belong", 0);
    dd_reporter_column(r, "part", "", 0, "of the bow's end");
    dd_reporter_column(r, "behind coupling", "m", 3, "now");
    dd_reporter_column(r, "above ground", "m", 3, "now, trailer level");
    dd_reporter_column(r, "belongs above ground", "m", 3, "for this hull");
    dd_reporter_column(r, "raise", "mm", 0, "by so much; below 0: lower it");
    put_place(s, "bow eye with the boat home", b->eye, b->eye.z);
    put_place(s, "drum level with the eye", b->drum, b->level);
    put_place(s, "drum at least change of strap", b->drum, b->least);
    if (b->has_stop) put_place(s, "bow stop over eye and under stem head", b->stop, stop_belongs(b));
}

static const char *way(double by) { return by < 0 ? "Lower" : "Raise"; }

static void say_change(const dd_seat *s, const bow *b)
{
    char text[2][DD_REPORTER_TEXT];
    double least = INFINITY, most = -INFINITY;
    for (int i = 0; i < b->count; i++) {
        const double rolls = dd_seat_tightens(b->drum, b->eye, b->rolls[i]), grips = dd_seat_tightens(b->drum, b->eye, b->grips[i]);
        least = fmin(least, fmin(rolls, grips));
        most = fmax(most, fmax(rolls, grips));
    }
    if (least < 0)
        dd_reporter_note(s->report, "As the stern comes down on 8 to 15 %% the strap slackens by up to %s: wind it home again on level ground before you drive off.",
                         dd_reporter_quantity(s->report, -least, "mm", 0, text[0]));
    if (most > 0)
        dd_reporter_note(s->report, "As the stern comes down on 8 to 15 %% the strap tightens by up to %s: let it off a little before.",
                         dd_reporter_quantity(s->report, most, "mm", 0, text[1]));
}

static void say_post(const dd_seat *s, const bow *b)
{
    dd_reporter *r = s->report;
    char text[2][DD_REPORTER_TEXT];
    const double by = b->level - b->drum.z, stop = b->has_stop ? stop_belongs(b) - b->stop.z : 0;
    dd_reporter_quantity(r, fabs(by), "mm", 0, text[0]);
    dd_reporter_quantity(r, b->level + s->scenario->trailer.coupling_height, "mm", 0, text[1]);
    if (fabs(strap_angle(b, b->drum.z)) <= level_within)
        dd_reporter_note(r, "The drum is level with the bow eye within %.0f degrees (%s): leave it.", level_within, text[0]);
    else
        dd_reporter_note(r, "%s the drum %s, to %s above the ground: it then pulls level with the bow eye.", way(by), text[0], text[1]);
    say_change(s, b);
    if (!b->has_stop)
        dd_reporter_note(r, "A bow stop is not given.");
    else if (fabs(stop) > 5e-4)
        dd_reporter_note(r, "%s the bow stop %s: %s.", way(stop), dd_reporter_quantity(r, fabs(stop), "mm", 0, text[0]),
                         stop > 0 ? "its middle is then no lower than the eye, and the strap holds the bow down under it"
                                  : "afloat on a steep ramp the stem head then no longer passes under it");
}

/* --- checks ----------------------------------------------------------------------------------------------------- */

/* The eye over the rearmost support, the boat afloat at the depth where it floats off: where the strap is hooked on. */
static double farthest(const dd_seat *s, const bow *b, int i)
{
    const int rearmost = dd_study_rearmost_roller(s->m->rig);
    if (rearmost < 0) return NAN;
    const double way_aft = (s->m->rig->rollers[rearmost].centre.x - b->rolls[i].x) / b->afloat[i].seaward.x;
    return dd_norm(dd_sub(b->drum, dd_add(b->rolls[i], dd_scale(way_aft, b->afloat[i].seaward))));
}

static void add_check(const dd_seat *s, const char *name, double value, double limit, const char *unit, int least, const char *format, ...)
{
    dd_check check = dd_check_of("bow", NULL, value, limit, unit, "practice", "%s", name);
    va_list arguments;
    va_start(arguments, format);
    dd_text_list(check.words, sizeof check.words, format, arguments);
    va_end(arguments);
    check.least = least;
    check.outcome = DD_CHECK_CAUTION;
    dd_reporter_check(s->report, &check);
}

static void check_strap(const dd_seat *s, const bow *b)
{
    const dd_system_force *strap = dd_system_find(s->m->system, &dd_force_strap);
    dd_reporter *r = s->report;
    char text[2][DD_REPORTER_TEXT], words[200];
    double most = NAN, tension = b->count > 0 ? 0 : NAN;
    for (int i = 0; i < b->count; i++) most = fmax(most, farthest(s, b, i));
    for (int i = 0; i < b->count; i++) tension = fmax(tension, tension_at(s, b, i, b->drum.z));
    const double turns = dd_seat_turns(&s->m->rig->trailer.winch, turns_left);
    const double whole = strap != NULL ? dd_strap_whole_length(strap->instance) : NAN;
    dd_text(words, sizeof words, "%s from the drum to the eye over the rearmost support and %d turns left on the drum (%s)",
            dd_reporter_quantity(r, most, "mm", 0, text[0]), turns_left, dd_reporter_quantity(r, turns, "mm", 0, text[1]));
    dd_reporter_note(r, "Strap from drum to eye at home: %s; mark it there.",
                     dd_reporter_quantity(r, dd_norm(dd_sub(b->drum, b->eye)), "mm", 0, text[0]));
    add_check(s, "strap long enough to hook on afloat", whole, most + turns, "mm", 1, "%s", isfinite(most) ? words : does_not_float);
    dd_reporter_assumed(r, "Length of the strap: of the key forces: strap: strap length, whose default is a guess");
    add_check(s, "strap as the stern comes down", tension, s->scenario->trailer.winch.strap_rating, "kN", 0, "%s",
              b->count == 0 ? does_not_float : isnan(s->scenario->trailer.winch.strap_rating) ? "give winch.strap rating"
              : "were post and supports rigid: let the strap off a little before the stern comes down, and wind it home again on level ground");
}

static void check_post(const dd_seat *s, const bow *b)
{
    const double angle = strap_angle(b, b->drum.z);
    add_check(s, "drum level with the bow eye", fabs(angle) / degree, level_within / degree, "deg", 0,
              "the strap pulls %s at home; level with the eye the drum pulls straight", angle > 0 ? "up" : "down");
    add_check(s, "bow stop above the bow eye", b->has_stop ? b->stop.z - b->eye.z : NAN, 0, "mm", 1, "%s",
              !b->has_stop ? "a bow stop is not given" : "with its eye above the stop's middle the strap pulls the bow over the stop in a hard stop of the vehicle");
    add_check(s, "stem head afloat over the stop's lower edge", b->has_stop && b->count > 0 ? b->head - (b->stop.z - b->half_height) : NAN, 0, "mm", 1, "%s",
              !b->has_stop ? "a bow stop is not given" : b->count == 0 ? does_not_float
              : "afloat on a steep ramp the bow lies low in the trailer: a stem head under the stop's lower edge passes beneath it");
}

dd_status dd_seat_bow(dd_seat *s, dd_error *error)
{
    bow b;
    if (!isfinite(s->scenario->trailer.winch.behind_coupling) || !isfinite(s->scenario->trailer.winch.above_ground)) {
        dd_reporter_note(s->report, "Winch post: where the drum stands is not given.");
        return DD_OK;
    }
    dd_status status = find(s, &b, error);
    if (status != DD_OK) return status;
    put_slopes(s, &b);
    put_post(s, &b);
    say_post(s, &b);
    check_post(s, &b);
    check_strap(s, &b);
    dd_reporter_assumed(s->report, "Afloat: the boat free, its stem at the stop, the hull just clear of its supports, the trailer standing on the ramp as it does at home");
    return DD_OK;
}
